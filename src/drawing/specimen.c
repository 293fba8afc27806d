/*
 * The specimen sheet, set like a type specimen: families under headings, the symbols of a line all
 * standing on one baseline, each large and at chart size beside it, its terms below.
 *
 * Everything to be shown is listed first as entries, family after family. Lines of entries are then
 * set from the top down: a family begins on the line of the one before it where it fits whole.
 */
#include "drawing/glyphs.h"
#include "drawing/palette.h"
#include "drawing/sample.h"

#include <tambour/specimen.h>

#include <math.h>

#define MARGIN 24.0
#define CELLS 9u
#define CELL 54.0
#define LARGE_COLUMN 22.0
#define LARGE_CHAIN 9.2
#define SMALL_COLUMN 7.0
#define SMALL_CHAIN 3.0
#define PEN 0.055 /* in columns */
#define LARGE_AT 19.0
#define SMALL_AT 44.0

#define TITLE_SIZE 15.0
#define INTRO_SIZE 4.4
#define HEADING_SIZE 6.2
#define TERM_SIZE 5.6
#define NAME_SIZE 3.5
#define FIGURES_SIZE 3.1
#define LEADING 1.42

/* What is shown in one cell: a stitch or mark, or a way of working one. */
typedef struct {
	const tb_stitch *stitch;
	const char *term, *name, *uk_term, *uk_name; /* borrowed */
	tb_loops loops;
	unsigned group; /* so many from one foot; 0: the stitch alone */
	bool in_space;
	bool is_stitch; /* has loops and a height to be told */
} entry;

typedef struct {
	const tb_text_measure *measure;
	const tb_specimen_options *options;
	tb_drawing *drawing;
	GString *title; /* of the line's group: its headings */
	double y;
} setting;

/* What the sheet shows, in order; ways of working have no family. */
static const struct {
	const char *heading;
	tb_family family;
	tb_post post; /* TB_POST_NONE: any */
} sections[] = {
	{"Chain and slip stitch", TB_FAMILY_CHAINS, TB_POST_NONE},
	{"Plain stitches", TB_FAMILY_PLAIN, TB_POST_NONE},
	{"Extended stitches", TB_FAMILY_EXTENDED, TB_POST_NONE},
	{"Foundation stitches", TB_FAMILY_FOUNDATION, TB_POST_NONE},
	{"Front post stitches", TB_FAMILY_POSTS, TB_POST_FRONT},
	{"Back post stitches", TB_FAMILY_POSTS, TB_POST_BACK},
	{"Worked together", TB_FAMILY_TOGETHER, TB_POST_NONE},
	{"Clusters and bobbles", TB_FAMILY_CLUSTERS, TB_POST_NONE},
	{"Puffs", TB_FAMILY_PUFFS, TB_POST_NONE},
	{"Popcorns", TB_FAMILY_POPCORNS, TB_POST_NONE},
	{"Picots and edgings", TB_FAMILY_EDGES, TB_POST_NONE},
	{"The designer's own", TB_FAMILY_OWN, TB_POST_NONE},
	{"Where the hook goes", TB_FAMILY_COUNT, TB_POST_NONE},
	{"Marks", TB_FAMILY_MARKS, TB_POST_NONE},
};

static double text_width(const setting *s, const char *text, double size, bool bold)
{
	return s->measure->measure(s->measure->data, text, size, bold);
}

/* The words of a text, a figure kept with the word it counts: "2 together". */
static GPtrArray *split_words(const char *text)
{
	GPtrArray *words = g_ptr_array_new_with_free_func(g_free);
	g_auto(GStrv) parts = g_strsplit(text, " ", -1);
	for (int i = 0; parts[i] != NULL; i++) {
		bool figure = g_ascii_isdigit(parts[i][0]) && parts[i][1] == '\0';
		if (figure && parts[i + 1] != NULL) {
			g_ptr_array_add(words, g_strdup_printf("%s %s", parts[i], parts[i + 1]));
			i++;
		} else {
			g_ptr_array_add(words, g_strdup(parts[i]));
		}
	}
	return words;
}

/* Sets a text in lines no wider than WIDTH, the first on the baseline Y; returns the last. */
static double add_lines(
	setting *s, const char *text, double x, double y, double width, double size, tb_ink ink)
{
	g_autoptr(GPtrArray) words = split_words(text);
	g_autoptr(GString) line = g_string_new(NULL);
	for (guint i = 0; i < words->len; i++) {
		const char *word = words->pdata[i];
		g_autofree char *longer =
			g_strdup_printf("%s%s%s", line->str, line->len > 0 ? " " : "", word);
		if (line->len > 0 && text_width(s, longer, size, false) > width) {
			tb_drawing_add_text(
				s->drawing, line->str, x, y, size, TB_FACE_PLAIN, TB_ALIGN_LEFT, ink);
			y += size * LEADING;
			g_string_assign(line, word);
		} else {
			g_string_assign(line, longer);
		}
	}
	tb_drawing_add_text(s->drawing, line->str, x, y, size, TB_FACE_PLAIN, TB_ALIGN_LEFT, ink);
	return y;
}

static void list_family(GArray *entries, const GPtrArray *stitches, tb_family family, tb_post post)
{
	for (guint i = 0; i < stitches->len; i++) {
		const tb_stitch *stitch = stitches->pdata[i];
		entry e = {.stitch = stitch,
			.term = stitch->us,
			.name = stitch->us_name,
			.uk_term = stitch->uk,
			.uk_name = stitch->uk_name,
			.is_stitch = family != TB_FAMILY_MARKS};
		if (stitch->family == family && (post == TB_POST_NONE || stitch->post == post))
			g_array_append_val(entries, e);
	}
}

/* One loop only, and a group in one stitch against a group around a chain. */
static void list_ways(GArray *entries, const tb_library *library)
{
	const tb_stitch *sc = tb_library_find(library, "sc"), *dc = tb_library_find(library, "dc");
	const tb_stitch *hdc = tb_library_find(library, "hdc");
	const entry ways[] = {
		{sc, "sc FLO", "front loop only", "dc FLO", "front loop only", .loops = TB_LOOPS_FRONT},
		{sc, "sc BLO", "back loop only", "dc BLO", "back loop only", .loops = TB_LOOPS_BACK},
		{dc, "dc FLO", "front loop only", "tr FLO", "front loop only", .loops = TB_LOOPS_FRONT},
		{dc, "dc BLO", "back loop only", "tr BLO", "back loop only", .loops = TB_LOOPS_BACK},
		{hdc, "hdc in 3rd loop", "third loop, behind the head", "htr in 3rd loop", "third loop, behind the head",
			.loops = TB_LOOPS_THIRD},
		{dc, "2 dc in st", "two in one stitch: feet meet", "2 tr in st",
			"two in one stitch: feet meet", .group = 2},
		{dc, "2 dc in sp", "two around a chain: feet apart", "2 tr in sp",
			"two around a chain: feet apart", .group = 2, .in_space = true},
	};
	if (sc != NULL && hdc != NULL && dc != NULL)
		g_array_append_vals(entries, ways, G_N_ELEMENTS(ways));
}

static void append_parts(GArray *to, const GArray *from, double dx)
{
	for (guint i = 0; i < from->len; i++) {
		tb_part part = g_array_index(from, tb_part, i);
		part.path = tb_path_copy(part.path);
		for (guint k = 0; k < part.path->points->len; k++)
			g_array_index(part.path->points, tb_point, k).x += dx;
		g_array_append_val(to, part);
	}
}

/* A stitch with its foot in one loop, or several stitches from one foot. */
static void sample_way(tb_sample *sample, const entry *e, double column, double chain)
{
	double height = tb_key_stitch_height(e->stitch, chain);
	unsigned count = MAX(e->group, 1);
	*sample = (tb_sample){.parts = tb_parts_create(), .height = height};
	for (unsigned i = 0; i < count; i++) {
		double x = (i - (count - 1) / 2.0) * 0.84 * column;
		tb_point foot = {-x, height};
		tb_glyph_place place = {.stitch = e->stitch,
			.column = column,
			.chain = chain,
			.pen = PEN * column,
			.height = height,
			.base_top = height,
			.feet = &foot,
			.foot_count = 1,
			.loops = e->loops,
			.in_space = e->in_space};
		g_autoptr(GArray) one = tb_glyph_build(&place);
		append_parts(sample->parts, one, x);
	}
}

static void sample_entry(tb_sample *sample, const entry *e, bool large)
{
	double column = large ? LARGE_COLUMN : SMALL_COLUMN, chain = large ? LARGE_CHAIN : SMALL_CHAIN;
	if (e->loops != TB_LOOPS_BOTH || e->group > 0)
		sample_way(sample, e, column, chain);
	else
		tb_sample_init(sample, e->stitch, column, chain, PEN * column);
}

static void place_large(
	setting *s, const GArray *parts, double x, double y, tb_ink ink, const char *word)
{
	if (parts == NULL || parts->len == 0)
		return;
	guint32 shape = tb_drawing_add_shape(s->drawing, tb_glyphs_shape(parts, PEN * LARGE_COLUMN));
	tb_drawing_place_shape(s->drawing, shape, x, y, 0, ink, word);
}

/* A drawing has one pen for its shapes, the large symbols'; these are lines with their own. */
static void place_small(setting *s, const GArray *parts, double x, double y, tb_ink ink)
{
	for (guint i = 0; parts != NULL && i < parts->len; i++) {
		const tb_part *part = &g_array_index(parts, tb_part, i);
		tb_path *path = tb_path_copy(part->path);
		if (part->filled) {
			tb_shape *shape = tb_shape_create();
			tb_shape_add(shape, path, true);
			tb_shape_measure(shape, PEN * SMALL_COLUMN);
			tb_drawing_place_shape(
				s->drawing, tb_drawing_add_shape(s->drawing, shape), x, y, 0, ink, NULL);
			continue;
		}
		for (guint k = 0; k < path->points->len; k++) {
			tb_point *p = &g_array_index(path->points, tb_point, k);
			p->x += x;
			p->y += y;
		}
		tb_drawing_add_line(s->drawing, path, ink, PEN * SMALL_COLUMN, 0, 0);
	}
}

static void add_symbols(setting *s, const entry *e, double x, double baseline)
{
	tb_sample large, small;
	sample_entry(&large, e, true);
	sample_entry(&small, e, false);
	/* Both stand on one line, though the larger leaves more air under its foot. */
	double lift = 0.15 * (LARGE_COLUMN - SMALL_COLUMN);
	const char *word = s->options->uk_terms ? e->uk_term : e->term;
	place_large(s, large.under, x + LARGE_AT, baseline - large.height, TB_INK_BELOW, NULL);
	place_large(s, large.parts, x + LARGE_AT, baseline - large.height, TB_INK_ROW_A, word);
	place_small(s, small.under, x + SMALL_AT, baseline - small.height - lift, TB_INK_BELOW);
	place_small(s, small.parts, x + SMALL_AT, baseline - small.height - lift, TB_INK_ROW_A);
	tb_sample_finish(&large);
	tb_sample_finish(&small);
}

static char *figures_of(const entry *e)
{
	unsigned most, left;
	char height[G_ASCII_DTOSTR_BUF_SIZE];
	tb_stitch_get_loops(e->stitch, &most, &left);
	g_ascii_formatd(height, sizeof height, "%g", e->stitch->height);
	const char *loops = most == 1 ? "loop" : "loops";
	if (!(e->stitch->height > 0))
		return g_strdup_printf("%u %s", most, loops);
	return g_strdup_printf(
		"%u %s  ·  %s chain%s high", most, loops, height, e->stitch->height == 1 ? "" : "s");
}

/* The terms under a symbol; returns the lowest baseline. */
static double add_terms(setting *s, const entry *e, double x, double y)
{
	bool uk = s->options->uk_terms;
	const char *terms[2][3] = {{e->term, e->name, "US"}, {e->uk_term, e->uk_name, "UK"}};
	double width = CELL - 6;
	y += TERM_SIZE * 0.75;
	/* A long one is set smaller, and stays in its cell. */
	double size = fmin(TERM_SIZE, TERM_SIZE * width / text_width(s, terms[uk][0], TERM_SIZE, true));
	tb_drawing_add_text(
		s->drawing, terms[uk][0], x, y, size, TB_FACE_BOLD, TB_ALIGN_LEFT, TB_INK_TEXT);
	y = add_lines(s, terms[uk][1], x, y + NAME_SIZE * 1.6, width, NAME_SIZE, TB_INK_TEXT);
	bool same = g_strcmp0(e->term, e->uk_term) == 0 && g_strcmp0(e->name, e->uk_name) == 0;
	if (!same) {
		g_autofree char *other =
			g_strdup_printf("%s %s, %s", terms[!uk][2], terms[!uk][0], terms[!uk][1]);
		y = add_lines(s, other, x, y + NAME_SIZE * LEADING, width, NAME_SIZE, TB_INK_FURNITURE);
	}
	if (e->is_stitch) {
		g_autofree char *figures = figures_of(e);
		y = add_lines(s, figures, x, y + FIGURES_SIZE * 1.62, width, FIGURES_SIZE, TB_INK_BELOW);
	}
	return y;
}

static void add_heading(setting *s, const char *heading, double x, double right)
{
	tb_path *rule = tb_path_create();
	tb_path_move(rule, x, s->y);
	tb_path_line(rule, right, s->y);
	tb_drawing_add_line(s->drawing, rule, TB_INK_FURNITURE, 0.35, 0, 0);
	tb_drawing_add_text(s->drawing, heading, x, s->y + HEADING_SIZE * 1.35, HEADING_SIZE,
		TB_FACE_BOLD, TB_ALIGN_LEFT, TB_INK_FURNITURE);
}

/* One cell of a line; HEADING is that of the family that begins in it, else NULL. */
typedef struct {
	const entry *entry;
	const char *heading;
	unsigned family_cells; /* of this line, under the heading */
} cell;

static void set_line(setting *s, const GArray *cells)
{
	double above = 0, below = 0, lowest = 0;
	bool headed = false;
	for (guint i = 0; i < cells->len; i++) {
		const cell *c = &g_array_index(cells, cell, i);
		tb_sample sample;
		sample_entry(&sample, c->entry, true);
		above = fmax(above, sample.height);
		below = fmax(below, sample.below);
		headed = headed || c->heading != NULL;
		tb_sample_finish(&sample);
	}
	/* A line that goes on with a family keeps the title of the one before. */
	if (headed)
		g_string_truncate(s->title, 0);
	for (guint i = 0; i < cells->len; i++) {
		const cell *c = &g_array_index(cells, cell, i);
		double x = MARGIN + i * CELL;
		if (c->heading == NULL)
			continue;
		g_string_append_printf(s->title, "%s%s", s->title->len > 0 ? "; " : "", c->heading);
		add_heading(s, c->heading, x, x + c->family_cells * CELL - 6);
	}
	double baseline = s->y + (headed ? HEADING_SIZE * 1.35 + 9 : 2) + above;
	tb_drawing_begin_group(s->drawing, s->title->str);
	for (guint i = 0; i < cells->len; i++)
		add_symbols(s, g_array_index(cells, cell, i).entry, MARGIN + i * CELL, baseline);
	tb_drawing_end_group(s->drawing);
	for (guint i = 0; i < cells->len; i++)
		lowest = fmax(lowest, add_terms(s, g_array_index(cells, cell, i).entry, MARGIN + i * CELL,
								  baseline + below + 5.5));
	s->y = lowest + 13;
}

static void end_line(setting *s, GArray *line)
{
	set_line(s, line);
	g_array_set_size(line, 0);
}

/* A family takes as few lines as it can, all of about one length. */
static void set_family(setting *s, const GArray *entries, const char *heading, GArray *line)
{
	if (entries->len == 0)
		return;
	guint lines = (entries->len + CELLS - 1) / CELLS, in_line = (entries->len + lines - 1) / lines;
	if (line->len + entries->len > CELLS && line->len > 0)
		end_line(s, line);
	for (guint i = 0; i < entries->len; i++) {
		cell c = {.entry = &g_array_index(entries, entry, i),
			.heading = i == 0 ? heading : NULL,
			.family_cells = in_line};
		if (i > 0 && i % in_line == 0)
			end_line(s, line);
		g_array_append_val(line, c);
	}
}

static void set_head(setting *s)
{
	static const char intro[] =
		"A stem is a leg; a slanting bar is a yarn over before the hook goes in; the bow on top is the two loops the next row is "
		"worked into. Legs meet at the top where stitches are worked together, and at the foot where they go into one place. A "
		"front post lies over the stem of the stitch it holds, whose head is then not seen; a back post lies behind it, under "
		"its head. What is under the foot means one loop only: an arc open upward for the front loop, downward for the back "
		"loop, a flat stroke for the third, behind the head. Under each name stand the most loops that are on the hook at once, "
		"and the height in turning chains.";
	double y = MARGIN + TITLE_SIZE * 0.75;
	tb_drawing_add_text(s->drawing, "Crochet symbols", MARGIN, y, TITLE_SIZE, TB_FACE_BOLD,
		TB_ALIGN_LEFT, TB_INK_TEXT);
	y = add_lines(s, intro, MARGIN, y + INTRO_SIZE * 2.4, 5 * CELL - 6, INTRO_SIZE, TB_INK_TEXT);
	s->y = y + 14;
}

tb_drawing *tb_specimen_draw(
	const tb_library *library, const tb_specimen_options *options, const tb_text_measure *measure)
{
	setting s = {.measure = measure, .options = options, .drawing = tb_drawing_create()};
	g_autoptr(GString) title = g_string_new(NULL);
	g_autoptr(GArray) line = g_array_new(FALSE, FALSE, sizeof(cell));
	g_autoptr(GPtrArray) lists = g_ptr_array_new_with_free_func((GDestroyNotify)g_array_unref);
	s.title = title;
	s.drawing->title = g_strdup("Crochet symbols");
	s.drawing->description = g_strdup("Every symbol, large and at chart size, with its terms.");
	s.drawing->width_mm = 2 * MARGIN + CELLS * CELL;
	s.drawing->pen_mm = PEN * LARGE_COLUMN;
	s.drawing->palette = tb_palette_get(options->grey);
	set_head(&s);
	for (gsize i = 0; i < G_N_ELEMENTS(sections); i++) {
		/* The lines point into the lists, so they all live to the end. */
		GArray *entries = g_array_new(FALSE, FALSE, sizeof(entry));
		g_ptr_array_add(lists, entries);
		if (sections[i].family == TB_FAMILY_COUNT)
			list_ways(entries, library);
		else
			list_family(entries,
				sections[i].family == TB_FAMILY_MARKS ? library->marks : library->stitches,
				sections[i].family, sections[i].post);
		set_family(&s, entries, sections[i].heading, line);
	}
	if (line->len > 0)
		set_line(&s, line);
	s.drawing->height_mm = s.y - 13 + MARGIN;
	return s.drawing;
}
