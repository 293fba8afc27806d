/*
 * Filet from a grid of characters: a line "Filet grid from Row 2:", and under it a line for each row, as a chart shows
 * them: the row worked first is the lowest. X, x, # and ■ are blocks, the other signs spaces. Row 1 and every other
 * row is read from right to left, as from the right side, or as "(RS)" or "(WS)" says of the first; the other rows from
 * left to right. Each becomes a row such as "Row 2: Turn, 2 sp, 1 bl. (10 sts)". From Row 1 on the grid brings its chain too:
 * a place for three chains a square, and what stands up at the edge.
 */
#include "pattern/text_lines.h"

#include "support/limits.h"

#define MOST_SQUARES 1000u

typedef struct {
	tb_lines *lines;
	guint32 end; /* of the bytes there are */
	guint head, rows; /* the line that says so; how many lines are under it */
	unsigned first;
	bool leftward; /* the first row is read from right to left */
	const char *side; /* "(WS)", as it was said; or "" */
} grid;

/* What the source has for line I, blanks and all; its bytes. */
static const char *raw_line(const tb_lines *lines, guint i, size_t *length)
{
	size_t all;
	const char *source = tb_source_get_text(lines->source, &all);
	size_t from = tb_lines_get(lines, i)->source;
	*length = 0;
	while (from + *length < all && !tb_is_among(source[from + *length], "\r\n"))
		++*length;
	return source + from;
}

/* The squares of line I, 'x' a block, '.' a space; NULL where it is no line of a grid. Owned. */
static char *squares_of(const tb_lines *lines, guint i)
{
	static const char *const blocks[] = {"X", "x", "#", "■", "▪", "█"}, *const spaces[] = {".", "o", "O", "-", "_", "□", "·", "▫"};
	size_t length;
	const char *raw = raw_line(lines, i, &length), *end = raw + length;
	g_autoptr(GString) squares = g_string_new(NULL);
	while (raw < end) {
		size_t used = 0;
		for (size_t k = 0; k < G_N_ELEMENTS(blocks) && used == 0; k++) {
			used = strncmp(raw, blocks[k], MIN(strlen(blocks[k]), (size_t)(end - raw))) == 0 ? strlen(blocks[k]) : 0;
			g_string_append_len(squares, "x", used > 0);
		}
		for (size_t k = 0; k < G_N_ELEMENTS(spaces) && used == 0; k++) {
			used = strncmp(raw, spaces[k], MIN(strlen(spaces[k]), (size_t)(end - raw))) == 0 ? strlen(spaces[k]) : 0;
			g_string_append_len(squares, ".", used > 0);
		}
		if (used == 0 && !tb_is_among(*raw, " \t"))
			return NULL;
		raw += MAX(used, 1);
	}
	return squares->len > 1 && squares->len <= MOST_SQUARES ? g_string_free(g_steal_pointer(&squares), FALSE) : NULL;
}

/* "Filet grid from Row 2 (WS):" */
static bool is_head(const tb_lines *lines, guint i, grid *g)
{
	static const char begin[] = "filet grid from row ";
	g_autofree char *line = g_ascii_strdown(tb_lines_text(lines, i), -1);
	if (!g_str_has_prefix(line, begin))
		return false;
	char *behind;
	guint64 number = g_ascii_strtoull(line + strlen(begin), &behind, 10);
	behind += strspn(behind, " ");
	bool right = g_str_has_prefix(behind, "(rs)"), wrong = g_str_has_prefix(behind, "(ws)");
	behind += right || wrong ? strlen("(rs)") : 0;
	if (number < 1 || number > TB_LIMIT_NUMBER || strcmp(behind, ":") != 0)
		return false;
	g->first = (unsigned)number;
	g->leftward = right || (!wrong && number % 2 == 1);
	g->side = right ? " (RS)" : wrong ? " (WS)" : "";
	return true;
}

/* Line I says TEXT, which was said by line OF. */
static void say(grid *g, guint i, const char *text, guint of)
{
	size_t length = strlen(text);
	tb_lines *lines = g->lines;
	guint32 offset = tb_lines_get(lines, of)->source;
	lines->chars = g_realloc(lines->chars, g->end + length + 2);
	lines->offsets = g_renew(guint32, lines->offsets, g->end + length + 2);
	memcpy(lines->chars + g->end, text, length + 1);
	for (size_t k = 0; k <= length; k++)
		lines->offsets[g->end + k] = offset;
	tb_line *line = &g_array_index(lines->lines, tb_line, i);
	line->start = g->end;
	line->end = g->end + (guint32)length;
	line->listed = line->strong = line->heads = line->indented = false;
	line->step = 0;
	g->end += (guint32)length + 1;
}

/* "2 sp, 1 bl, 2 sp": SQUARES from FROM on, in the order they are worked. */
static void append_runs(GString *row, const char *squares, size_t from)
{
	for (size_t at = from; squares[at] != '\0';) {
		size_t run = 1;
		while (squares[at + run] == squares[at])
			run++;
		g_string_append_printf(row, "%s%zu %s", at > from ? ", " : "", run, squares[at] == 'x' ? "bl" : "sp");
		at += run;
	}
}

static char *row_text(const grid *g, guint nth, const char *squares)
{
	g_autoptr(GString) row = g_string_new(NULL);
	g_string_append_printf(row, "Row %u%s: ", g->first + nth, nth == 0 ? g->side : "");
	if (g->first + nth > 1) {
		g_string_append(row, "Turn, ");
		append_runs(row, squares, 0);
	} else {
		/* on the chain the first square says how it begins */
		g_string_append(row, *squares == 'x' ? "Dc in 4th ch from hook and in next 2 ch" : "Dc in 8th ch from hook");
		for (size_t at = 1; squares[at] != '\0'; at++)
			g_string_append(row, squares[at] == 'x' ? ", dc in next 3 ch" : ", ch 2, sk 2 ch, dc in next ch");
	}
	g_string_append_printf(row, ". (%zu sts)", 3 * strlen(squares) + 1);
	return g_string_free(g_steal_pointer(&row), FALSE);
}

static void write_rows(grid *g, bool uk)
{
	g_autoptr(GPtrArray) texts = g_ptr_array_new_with_free_func(g_free);
	g_autofree char *start = g_strdup("");
	for (guint nth = 0; nth < g->rows; nth++) {
		g_autofree char *squares = squares_of(g->lines, g->head + g->rows - nth);
		if (g->leftward == (nth % 2 == 0))
			g_strreverse(squares);
		if (nth == 0 && g->first == 1) {
			g_free(start);
			start = g_strdup_printf("Ch %zu.", 3 * strlen(squares) + (*squares == 'x' ? 3 : 5));
		}
		char *text = row_text(g, nth, squares);
		if (uk) {
			g_auto(GStrv) parts = g_strsplit(text, "dc", -1);
			g_free(text);
			text = g_strjoinv("tr", parts);
			g_auto(GStrv) begun = g_strsplit(text, "Dc", -1);
			g_free(text);
			text = g_strjoinv("Tr", begun);
		}
		g_ptr_array_add(texts, text);
	}
	/* the line that says so begins the piece, or says no more */
	say(g, g->head, start, g->head);
	for (guint nth = 0; nth < g->rows; nth++)
		say(g, g->head + 1 + nth, texts->pdata[nth], g->head + g->rows - nth);
}

static bool is_uk(const tb_lines *lines)
{
	for (guint i = 0; i < lines->lines->len; i++) {
		g_autofree char *line = g_ascii_strdown(tb_lines_text(lines, i), -1);
		if (g_str_has_prefix(line, "terms: uk"))
			return true;
	}
	return false;
}

void tb_lines_read_grids(tb_lines *lines)
{
	for (guint i = 0; i < lines->lines->len; i++) {
		grid g = {.lines = lines, .head = i};
		if (!is_head(lines, i, &g))
			continue;
		char *squares;
		while (i + g.rows + 1 < lines->lines->len && (squares = squares_of(lines, i + g.rows + 1)) != NULL) {
			g_free(squares);
			g.rows++;
		}
		for (guint k = 0; k < lines->lines->len; k++)
			g.end = MAX(g.end, tb_lines_get(lines, k)->end + 1);
		if (g.rows > 0)
			write_rows(&g, is_uk(lines));
		i += g.rows;
	}
}
