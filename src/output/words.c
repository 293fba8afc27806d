/*
 * The words of each row are set in blank letters of a font of our own: one letter a word, whose
 * text is the stitch's abbreviation. The ink stays as it is; a reader of text finds
 * "Row 3, wrong side: dc dc FPdc2tog".
 *
 * Readers differ in the order they give: some follow the file, some the structure tags, others sort
 * by place, left to right and top to bottom. So that all agree, a row's words stand in working
 * order from left to right at the height of the row, also where the row is worked right to left;
 * and letters and the spaces between them fill the row, since a wide gap would be taken for one
 * between two columns of print. The row's title is read with its first word. Words of rows worked
 * left to right lie just under their stitches. Rounds share one middle: their words stand in lines
 * down the page instead.
 */
#include "output/words.h"

#include "output/paint.h"

#include <math.h>
#include <string.h>

/* Widths of the blank letters, in steps: a word, and the space after it, which fills the step. */
#define WORD_WIDTH 0.7
#define SPACE_WIDTH 0.3

#define SPACE_LETTER 1u
#define FIRST_WORD 2u

/* The step where no row has two stitches to take it from. */
#define PLAIN_STEP_MM 4.0

/* Longer text than this is no title of a row. */
#define TITLE_LETTERS 100

/* Cairo gathers the letters of one call in memory several times over. */
#define LETTERS_A_CALL 1000

typedef struct {
	guint first, end; /* marks of the group, its own not included */
	guint words;
	double left, right; /* of the stitches with words */
	double y;
	guint window;
} word_line;

/* What a picture's words must stay in: the page, or the window it shows in. */
typedef struct {
	double x, y, width, height;
	guint first, end; /* lines */
	double step;      /* from word to word, mm; the font's size too */
} word_window;

struct tb_words {
	const tb_drawing *drawing;
	GArray *lines;       /* word_line */
	GHashTable *by_mark; /* number of the group's mark to number of the line plus 1 */
	GHashTable *letters; /* text to letter */
	GArray *windows;     /* word_window */
	cairo_font_face_t *face;
};

static word_line *get_line(const tb_words *words, guint i)
{
	return &g_array_index(words->lines, word_line, i);
}

static cairo_status_t begin_font(cairo_scaled_font_t *font, cairo_t *cr,
	cairo_font_extents_t *extents)
{
	extents->ascent = 0.8;
	extents->descent = 0.2;
	extents->height = 1;
	extents->max_x_advance = WORD_WIDTH;
	return CAIRO_STATUS_SUCCESS;
}

/* Blank, but not without size: a letter of no extent is left out of the file. */
static cairo_status_t show_letter(cairo_scaled_font_t *font, unsigned long letter, cairo_t *cr,
	cairo_text_extents_t *extents)
{
	double width = letter == SPACE_LETTER ? SPACE_WIDTH : WORD_WIDTH;
	extents->x_advance = width;
	extents->width = width;
	extents->y_bearing = -0.8;
	extents->height = 0.8;
	return CAIRO_STATUS_SUCCESS;
}

static bool has_word(const tb_mark *mark)
{
	return mark->kind == TB_MARK_SHAPE && mark->word != NULL && *mark->word != '\0';
}

/* The line of the group whose mark is number GROUP; *end becomes the mark that ends it. */
static word_line read_line(const tb_drawing *drawing, guint group, guint *end)
{
	const tb_mark *marks = (const tb_mark *)(void *)drawing->marks->data;
	word_line line = {
		.first = group + 1,
		.left = INFINITY,
		.right = -INFINITY,
	};
	unsigned open = 1;
	guint i;

	for (i = group + 1; i < drawing->marks->len; i++) {
		open += marks[i].kind == TB_MARK_GROUP;
		open -= marks[i].kind == TB_MARK_END;
		if (open == 0)
			break;
		if (!has_word(&marks[i]))
			continue;
		line.left = fmin(line.left, marks[i].x);
		line.right = fmax(line.right, marks[i].x);
		line.words++;
		line.y += (marks[i].y - line.y) / line.words;
	}
	line.end = *end = i;
	return line;
}

static int compare_doubles(gconstpointer a, gconstpointer b)
{
	double first = *(const double *)a, second = *(const double *)b;
	return (first > second) - (first < second);
}

/* The middle one of the rows' mean steps. */
static double find_step(const tb_words *words, const word_window *window)
{
	g_autoptr(GArray) steps = g_array_new(FALSE, FALSE, sizeof(double));

	for (guint i = window->first; i < window->end; i++) {
		const word_line *line = get_line(words, i);
		double step = line->words < 2 ? 0 : (line->right - line->left) / (line->words - 1);
		if (step > 0)
			g_array_append_val(steps, step);
	}
	if (steps->len == 0)
		return PLAIN_STEP_MM;
	g_array_sort(steps, compare_doubles);
	return g_array_index(steps, double, steps->len / 2);
}

/* The least distance between two lines, one above the other. */
static double find_distance(const tb_words *words, const word_window *window)
{
	g_autoptr(GArray) heights = g_array_new(FALSE, FALSE, sizeof(double));
	double least = INFINITY;

	for (guint i = window->first; i < window->end; i++)
		g_array_append_val(heights, get_line(words, i)->y);
	g_array_sort(heights, compare_doubles);
	for (guint i = 1; i < heights->len; i++) {
		double *at = &g_array_index(heights, double, i);
		least = fmin(least, at[0] - at[-1]);
	}
	return least;
}

/* Lines that would lie on each other are spread down the page in the order they are worked. */
static void spread_lines(tb_words *words, word_window *window)
{
	double distance = window->height / (window->end - window->first);

	for (guint i = window->first; i < window->end; i++)
		get_line(words, i)->y = window->y + (i - window->first + 1) * distance;
	window->step = fmin(window->step, distance);
}

static void arrange(tb_words *words, word_window *window)
{
	window->step = find_step(words, window);
	double distance = find_distance(words, window);
	if (distance < window->step / 4)
		spread_lines(words, window);
	else
		window->step = fmin(window->step, distance);
	/* What lies off the page is not read. */
	for (guint i = window->first; i < window->end; i++)
		window->step = fmin(window->step, window->width / get_line(words, i)->words);
}

static word_window *get_window(const tb_words *words, guint i)
{
	return &g_array_index(words->windows, word_window, i);
}

/* From here on lines belong to a window, until the next begins. */
static void open_window(tb_words *words, double x, double y, double width, double height)
{
	word_window window = {.x = x, .y = y, .width = width, .height = height,
		.first = words->lines->len, .end = words->lines->len};
	g_array_append_val(words->windows, window);
}

tb_words *tb_words_create(const tb_drawing *drawing)
{
	tb_words *words = g_new0(tb_words, 1);
	words->drawing = drawing;
	words->lines = g_array_new(FALSE, FALSE, sizeof(word_line));
	words->windows = g_array_new(FALSE, FALSE, sizeof(word_window));
	words->by_mark = g_hash_table_new(NULL, NULL);
	words->letters = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);
	words->face = cairo_user_font_face_create();
	cairo_user_font_face_set_init_func(words->face, begin_font);
	cairo_user_font_face_set_render_glyph_func(words->face, show_letter);

	open_window(words, 0, 0, drawing->width_mm, drawing->height_mm);
	for (guint i = 0; i < drawing->marks->len; i++) {
		const tb_mark *mark = &g_array_index(drawing->marks, tb_mark, i);
		if (mark->kind == TB_MARK_CLIP)
			open_window(words, mark->x, mark->y, mark->width_mm, mark->height_mm);
		else if (mark->kind == TB_MARK_UNCLIP)
			open_window(words, 0, 0, drawing->width_mm, drawing->height_mm);
		if (mark->kind != TB_MARK_GROUP)
			continue;
		guint group = i;
		word_line line = read_line(drawing, group, &i);
		if (line.words == 0)
			continue;
		line.window = words->windows->len - 1;
		g_array_append_val(words->lines, line);
		get_window(words, line.window)->end = words->lines->len;
		g_hash_table_insert(words->by_mark, GUINT_TO_POINTER(group),
			GUINT_TO_POINTER(words->lines->len));
	}
	for (guint i = 0; i < words->windows->len; i++) {
		word_window *window = get_window(words, i);
		if (window->end > window->first)
			arrange(words, window);
	}
	return words;
}

void tb_words_destroy(tb_words *words)
{
	if (words == NULL)
		return;
	cairo_font_face_destroy(words->face);
	g_hash_table_unref(words->letters);
	g_hash_table_unref(words->by_mark);
	g_array_unref(words->windows);
	g_array_unref(words->lines);
	g_free(words);
}

/* "Row 3, wrong side: ", or nothing. */
static char *make_title(const tb_words *words, const word_line *line)
{
	const char *text = g_array_index(words->drawing->marks, tb_mark, line->first - 1).text;
	g_autofree char *clean = tb_output_clean(text);
	glong length = MIN(g_utf8_strlen(clean, -1), TITLE_LETTERS);
	g_autofree char *title = g_utf8_substring(clean, 0, length);
	return length == 0 ? g_strdup("") : g_strconcat(title, ": ", NULL);
}

/* The letter that stands for a word. */
static unsigned long find_letter(tb_words *words, const char *word)
{
	gpointer letter = g_hash_table_lookup(words->letters, word);
	if (letter == NULL) {
		letter = GUINT_TO_POINTER(g_hash_table_size(words->letters) + FIRST_WORD);
		g_hash_table_insert(words->letters, g_strdup(word), letter);
	}
	return GPOINTER_TO_UINT(letter);
}

typedef struct {
	GString *text;
	GArray *glyphs;   /* cairo_glyph_t */
	GArray *clusters; /* cairo_text_cluster_t */
	double x, y;
} setter;

static void flush(setter *set, cairo_t *cr)
{
	if (set->glyphs->len == 0)
		return;
	cairo_show_text_glyphs(cr, set->text->str, (int)set->text->len,
		(const cairo_glyph_t *)(void *)set->glyphs->data, (int)set->glyphs->len,
		(const cairo_text_cluster_t *)(void *)set->clusters->data, (int)set->clusters->len, 0);
	g_string_truncate(set->text, 0);
	g_array_set_size(set->glyphs, 0);
	g_array_set_size(set->clusters, 0);
}

static void set_letter(setter *set, unsigned long letter, const char *text, double width)
{
	cairo_text_cluster_t cluster = {.num_bytes = (int)strlen(text), .num_glyphs = 1};
	cairo_glyph_t glyph = {.index = letter, .x = set->x, .y = set->y};

	g_string_append(set->text, text);
	g_array_append_val(set->glyphs, glyph);
	g_array_append_val(set->clusters, cluster);
	set->x += width;
}

/* BEFORE is read with the word: one letter stands for both. */
static void set_word(tb_words *words, double step, setter *set, cairo_t *cr, const char *before,
	const char *text)
{
	g_autofree char *clean = tb_output_clean(text);
	g_autofree char *word = g_strconcat(before, clean, NULL);

	set_letter(set, find_letter(words, word), word, WORD_WIDTH * step);
	set_letter(set, SPACE_LETTER, " ", SPACE_WIDTH * step);
	if (set->glyphs->len >= LETTERS_A_CALL)
		flush(set, cr);
}

void tb_words_show(tb_words *words, cairo_t *cr, guint group)
{
	guint number =
		GPOINTER_TO_UINT(g_hash_table_lookup(words->by_mark, GUINT_TO_POINTER(group)));
	if (number == 0)
		return;

	const word_line *line = get_line(words, number - 1);
	const word_window *window = get_window(words, line->window);
	double step = window->step, room = window->x + window->width - line->words * step;
	setter set = {
		.text = g_string_new(NULL),
		.glyphs = g_array_new(FALSE, FALSE, sizeof(cairo_glyph_t)),
		.clusters = g_array_new(FALSE, FALSE, sizeof(cairo_text_cluster_t)),
		.x = fmax(window->x, fmin(line->left - WORD_WIDTH / 2 * step, room)),
		.y = fmax(window->y + step, fmin(line->y, window->y + window->height)),
	};

	cairo_set_font_face(cr, words->face);
	cairo_set_font_size(cr, step);
	g_autofree char *title = make_title(words, line);
	const char *before = title;
	for (guint i = line->first; i < line->end; i++) {
		const tb_mark *mark = &g_array_index(words->drawing->marks, tb_mark, i);
		if (!has_word(mark))
			continue;
		set_word(words, step, &set, cr, before, mark->word);
		before = "";
	}
	flush(&set, cr);
	g_string_free(set.text, TRUE);
	g_array_unref(set.glyphs);
	g_array_unref(set.clusters);
}
