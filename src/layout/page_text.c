/*
 * Paragraphs: words are gathered into lines no longer than the measure. What belongs together stays
 * together: "20 (22, 24) sts" is one word to the eye, and is parted only where a line cannot hold it.
 */
#include "layout/page.h"

#include <math.h>
#include <string.h>

/* From a strip's middle down to the baseline, in sizes of type. */
#define BASE 0.36
/* Between a paragraph and the next, in sizes of type. */
#define PARAGRAPH_SPACE 0.55
/* The label column of facts. */
#define LABEL_COLUMN 11.5
#define LEAST_VALUE_COLUMN 24.0

typedef struct {
	char *text; /* owned */
	bool bold;
	double width;
} word;

static void clear_word(gpointer data)
{
	g_free(((word *)data)->text);
}

double tb_galley_text_width(const tb_galley *galley, const char *text, double size, bool bold)
{
	return galley->measure->measure(galley->measure->data, text, size, bold);
}

/* "(22," begins the further sizes of a number. */
static bool begins_sizes(const char *before, const char *text)
{
	size_t length = strlen(before);
	bool number = length > 0 && (g_ascii_isdigit(before[length - 1]) || before[length - 1] == '-');
	return number && text[0] == '(' && (g_ascii_isdigit(text[1]) || text[1] == '-');
}

/* What is counted goes with its numbers. */
static bool is_counted(const char *text)
{
	static const char *const WORDS[] = {"sts", "st", "chs", "times", "more", "cm", "in", "rows"};
	size_t length = strcspn(text, ",.;:)]");
	for (size_t i = 0; i < G_N_ELEMENTS(WORDS); i++)
		if (strlen(WORDS[i]) == length && strncmp(text, WORDS[i], length) == 0)
			return true;
	return false;
}

static void add_word(const tb_galley *galley, GArray *words, char *text, bool bold, double size)
{
	word w = {text, bold, tb_galley_text_width(galley, text, size, bold)};
	g_array_append_val(words, w);
}

/* The words of TEXT, a size list with what it counts being one where it is shorter than WIDTH. */
static void split_words(const tb_galley *galley, const char *text, bool bold, double size,
	double width, GArray *words)
{
	g_auto(GStrv) parts = g_strsplit_set(text, " \n\r\t", -1);
	for (guint i = 0; parts[i] != NULL; i++) {
		if (*parts[i] == '\0')
			continue;
		guint end = i + 1;
		g_autoptr(GString) whole = g_string_new(parts[i]);
		if (parts[end] != NULL && begins_sizes(parts[i], parts[end])) {
			do
				g_string_append_printf(whole, " %s", parts[end]);
			while (strchr(parts[end++], ')') == NULL && parts[end] != NULL);
			if (parts[end] != NULL && is_counted(parts[end]))
				g_string_append_printf(whole, " %s", parts[end++]);
		}
		if (strcmp(parts[i], "Fasten") == 0 && parts[end] != NULL)
			g_string_append_printf(whole, " %s", parts[end++]);
		bool fits = end == i + 1 || tb_galley_text_width(galley, whole->str, size, bold) <= width;
		add_word(galley, words, g_strdup(fits ? whole->str : parts[i]), bold, size);
		i = fits ? end - 1 : i;
	}
}

/* A word longer than a whole line is parted wherever the line ends. */
static void part_long_words(const tb_galley *galley, GArray *words, double size, double width)
{
	for (guint i = 0; i < words->len; i++) {
		word *w = &g_array_index(words, word, i);
		glong letters = g_utf8_strlen(w->text, -1);
		if (w->width <= width || letters < 2)
			continue;
		glong keep = CLAMP((glong)(letters * width / w->width) - 1, 1, letters - 1);
		char *cut = g_utf8_offset_to_pointer(w->text, keep);
		word rest = {g_strdup(cut), w->bold, 0};
		*cut = '\0';
		w->width = tb_galley_text_width(galley, w->text, size, w->bold);
		rest.width = tb_galley_text_width(galley, rest.text, size, rest.bold);
		g_array_insert_val(words, i + 1, rest);
	}
}

/* The word behind the last one that has room in a line WIDTH long. */
static guint find_line_end(const GArray *words, guint first, double width, double blank)
{
	double taken = 0;
	guint end = first;
	for (; end < words->len; end++) {
		double more = g_array_index(words, word, end).width + (end > first ? blank : 0);
		if (end > first && taken + more > width)
			break;
		taken += more;
	}
	return end;
}

/* Words of one weight that follow each other are one label. */
static void set_line(const tb_galley *galley, const GArray *words, guint first, guint end, double x,
	double baseline, double size, double blank)
{
	for (guint i = first; i < end;) {
		bool bold = g_array_index(words, word, i).bold;
		g_autoptr(GString) text = g_string_new(NULL);
		double from = x;
		for (; i < end && g_array_index(words, word, i).bold == bold; i++)
			g_string_append_printf(text, "%s%s", text->len > 0 ? " " : "",
				g_array_index(words, word, i).text);
		tb_items_part(galley->items, text->str, i < words->len, from, baseline, size,
			bold ? TB_FACE_BOLD : TB_FACE_PLAIN, TB_INK_TEXT);
		x += tb_galley_text_width(galley, text->str, size, bold) + blank;
	}
}

static GArray *gather_words(const tb_galley *galley, const tb_run_of_text *runs, unsigned count,
	double width, double size)
{
	GArray *words = g_array_new(FALSE, FALSE, sizeof(word));
	g_array_set_clear_func(words, clear_word);
	for (unsigned i = 0; i < count; i++)
		split_words(galley, runs[i].text, runs[i].bold, size, width, words);
	part_long_words(galley, words, size, width);
	return words;
}

/* LABEL stands before the first line, at the left; NULL for none. */
static void set_paragraph(tb_galley *galley, const tb_run_of_text *runs, unsigned count,
	const char *label, double x, double width, double hang, double size)
{
	double lead = galley->type.lead * size, blank = tb_galley_text_width(galley, " ", size, false);
	g_autoptr(GArray) words = gather_words(galley, runs, count, width - hang, size);
	g_autoptr(GArray) ends = g_array_new(FALSE, FALSE, sizeof(guint));
	for (guint at = 0; at < words->len;) {
		at = find_line_end(words, at, at == 0 ? width : width - hang, blank);
		g_array_append_val(ends, at);
	}
	for (guint i = 0, first = 0; i < ends->len; i++) {
		guint end = g_array_index(ends, guint, i);
		tb_strip *strip = tb_galley_begin(galley, 0, lead);
		/* No line of a paragraph alone at the head or foot of a page. */
		strip->keep = i + 1 < ends->len && (i == 0 || i + 2 == ends->len);
		double baseline = lead / 2 + BASE * size;
		if (i == 0)
			tb_items_tag(galley->items, "P", NULL);
		if (i == 0 && label != NULL)
			tb_items_part(galley->items, label, true, 0, baseline, size, TB_FACE_BOLD, TB_INK_TEXT);
		set_line(galley, words, first, end, i == 0 ? x : x + hang, baseline, size, blank);
		if (i + 1 == ends->len)
			tb_items_untag(galley->items);
		first = end;
	}
}

void tb_galley_runs(tb_galley *galley, const tb_run_of_text *runs, unsigned count, double x,
	double width, double hang, double size)
{
	set_paragraph(galley, runs, count, NULL, x, width, hang, size);
	tb_galley_skip(galley, PARAGRAPH_SPACE * size);
}

void tb_galley_paragraph(tb_galley *galley, const char *text)
{
	const tb_run_of_text run = {text, false};
	tb_galley_runs(galley, &run, 1, 0, galley->measured, 0, galley->type.body);
}

void tb_galley_fact(tb_galley *galley, const char *label, const char *text)
{
	const tb_run_of_text run = {text, false};
	double size = galley->type.body, column = LABEL_COLUMN * size;
	if (galley->width - column < LEAST_VALUE_COLUMN * size) {
		const tb_run_of_text both[] = {{label, true}, run};
		tb_galley_runs(galley, both, 2, 0, galley->width, size, size);
		return;
	}
	set_paragraph(galley, &run, 1, label, column, fmin(galley->measured, galley->width - column), 0,
		size);
	tb_galley_skip(galley, PARAGRAPH_SPACE * size * 0.7);
}

GPtrArray *tb_galley_wrap(const tb_galley *galley, const char *text, double size, bool bold,
	double width)
{
	const tb_run_of_text run = {text, bold};
	double blank = tb_galley_text_width(galley, " ", size, false);
	g_autoptr(GArray) words = gather_words(galley, &run, 1, width, size);
	GPtrArray *lines = g_ptr_array_new_with_free_func(g_free);
	for (guint at = 0; at < words->len;) {
		guint end = find_line_end(words, at, width, blank);
		GString *line = g_string_new(NULL);
		for (; at < end; at++)
			g_string_append_printf(line, "%s%s", line->len > 0 ? " " : "",
				g_array_index(words, word, at).text);
		g_ptr_array_add(lines, g_string_free(line, FALSE));
	}
	return lines;
}

void tb_galley_heading(tb_galley *galley, const char *text, unsigned level)
{
	double size = level == 1 ? galley->type.head : galley->type.subhead, lead = size * 1.25;
	g_autoptr(GPtrArray) lines = tb_galley_wrap(galley, text, size, true, galley->width);
	double space = level == 1 ? 1.8 * galley->type.head : 2.2 * galley->type.body;
	for (guint i = 0; i < lines->len; i++) {
		double rule = level == 1 && i == 0 ? 0.55 * size : 0;
		tb_strip *strip = tb_galley_begin(galley, i == 0 ? space : 0, lead + rule);
		strip->keep = true;
		if (i == 0) {
			strip->mark = g_strdup(text);
			strip->level = level;
			tb_items_tag(galley->items, level == 1 ? "H2" : "H3", NULL);
		}
		if (rule > 0)
			tb_items_rule(galley->items, 0, 0, galley->width, 0, 0.3, TB_INK_TEXT);
		tb_items_part(galley->items, g_ptr_array_index(lines, i), i + 1 < lines->len, 0,
			rule + lead / 2 + BASE * size, size, TB_FACE_BOLD, TB_INK_TEXT);
		if (i + 1 == lines->len)
			tb_items_untag(galley->items);
	}
	tb_galley_skip(galley, 0.8 * galley->type.body);
}
