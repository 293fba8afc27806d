/*
 * Faults as text for a terminal: the fault, the line it is in, a caret under the place, what to do.
 *
 * A row in a JSON file is often one long line, so only a window of it around the caret is shown.
 * What is printed comes from a file nobody has vouched for: control characters never reach the
 * terminal.
 */
#include "support/diagnostics.h"
#include "support/source.h"

/* The widest stretch of a source line that is shown whole, in columns. */
#define SHOWN_COLUMNS 100
/* How much of a longer line is shown before the caret. */
#define COLUMNS_BEFORE 32
/* More bytes than the characters of a window have. */
#define NEAR_BYTES 600

/* One character of a line as it is shown. */
typedef struct {
	gunichar shown;
	unsigned columns; /* 2 for a wide one, 0 for an accent that joins the one before */
	size_t offset;
} cell;

static gunichar clean(gunichar c)
{
	if (c >= (gunichar)-2)
		return 0xfffd;
	return g_unichar_iscntrl(c) || (g_unichar_type(c) == G_UNICODE_FORMAT) ? ' ' : c;
}

static void append_clean(GString *out, const char *text)
{
	for (const char *at = text; *at != '\0';) {
		gunichar c = g_utf8_get_char_validated(at, -1);
		at += c >= (gunichar)-2 ? 1 : g_unichar_to_utf8(c, NULL);
		g_string_append_unichar(out, clean(c));
	}
}

/* The cells of LINE, one more behind the last for a caret at the line's end. */
static GArray *measure_line(const char *text, tb_span line)
{
	GArray *cells = g_array_new(FALSE, FALSE, sizeof(cell));
	const char *end = text + line.end;
	for (const char *at = text + line.start; at < end;) {
		gunichar c = g_utf8_get_char_validated(at, end - at);
		cell one = {clean(c), 1, (size_t)(at - text)};
		if (g_unichar_iswide(one.shown))
			one.columns = 2;
		else if (g_unichar_iszerowidth(one.shown))
			one.columns = 0;
		g_array_append_val(cells, one);
		at += c >= (gunichar)-2 ? 1 : g_unichar_to_utf8(c, NULL);
	}
	cell last = {' ', 1, line.end};
	g_array_append_val(cells, last);
	return cells;
}

static cell *cell_at(GArray *cells, guint i)
{
	return &g_array_index(cells, cell, i);
}

static bool is_continuation(char c)
{
	return ((unsigned char)c & 0xc0) == 0x80;
}

static guint find_cell(GArray *cells, size_t offset)
{
	guint low = 0, high = cells->len;
	while (high - low > 1) {
		guint middle = low + (high - low) / 2;
		if (cell_at(cells, middle)->offset <= offset)
			low = middle;
		else
			high = middle;
	}
	return low;
}

static unsigned width_of(GArray *cells, guint from, guint to)
{
	unsigned width = 0;
	for (guint i = from; i < to; i++)
		width += cell_at(cells, i)->columns;
	return width;
}

/* The cells FROM to TO (not included) that are shown: all, or a window around CARET. */
static void find_window(GArray *cells, guint caret, guint *from, guint *to)
{
	guint last = cells->len - 1;
	*from = 0;
	*to = last;
	if (width_of(cells, 0, last) <= SHOWN_COLUMNS)
		return;
	*from = caret;
	unsigned width = 0;
	while (*from > 0 && width < COLUMNS_BEFORE)
		width += cell_at(cells, --*from)->columns;
	/* Begin with a whole word where there is one to begin with. */
	if (*from > 0) {
		guint word = *from;
		while (word < caret && cell_at(cells, word)->shown != ' ')
			word++;
		if (word < caret)
			*from = word + 1;
	}
	width = 0;
	*to = *from;
	while (*to < last && width < SHOWN_COLUMNS)
		width += cell_at(cells, (*to)++)->columns;
	while (*to<last && * to> caret + 1 && cell_at(cells, *to - 1)->shown != ' ' &&
		   cell_at(cells, *to)->shown != ' ')
		--*to;
}

/* The part of a line near OFFSET: a whole pattern may stand on one line. */
static tb_span find_near(const char *text, tb_span line, size_t offset)
{
	tb_span near = line;
	if (offset - line.start > NEAR_BYTES)
		near.start = offset - NEAR_BYTES;
	if (line.end - offset > NEAR_BYTES)
		near.end = offset + NEAR_BYTES;
	while (near.start < offset && is_continuation(text[near.start]))
		near.start++;
	while (near.end < line.end && is_continuation(text[near.end]))
		near.end++;
	return near;
}

static void append_line(GString *out, const tb_source *source, unsigned line, tb_span place)
{
	const char *text = tb_source_get_text(source, NULL);
	tb_span whole = tb_source_line(source, line);
	size_t offset = CLAMP(place.start, whole.start, whole.end);
	tb_span near = find_near(text, whole, offset);
	g_autoptr(GArray) cells = measure_line(text, near);
	guint caret = find_cell(cells, offset);
	guint from, to;
	find_window(cells, caret, &from, &to);
	bool cut_before = from > 0 || near.start > whole.start;
	bool cut_behind = to < cells->len - 1 || near.end < whole.end;

	g_string_append_printf(out, "%5u | %s", line, cut_before ? "… " : "");
	for (guint i = from; i < to; i++)
		g_string_append_unichar(out, cell_at(cells, i)->shown);
	while (out->len > 0 && out->str[out->len - 1] == ' ')
		g_string_truncate(out, out->len - 1);
	g_string_append(out, cut_behind ? " …\n" : "\n");

	unsigned indent = width_of(cells, from, caret) + (cut_before ? 2 : 0);
	guint end = caret + 1;
	while (end < to && cell_at(cells, end)->offset < place.end)
		end++;
	unsigned width = MAX(width_of(cells, caret, end), 1);
	g_string_append_printf(out, "      | %*s^", (int)indent, "");
	for (unsigned i = 1; i < width; i++)
		g_string_append_c(out, '~');
	g_string_append_c(out, '\n');
}

/* "size L", "sizes M and L", "every size"; nothing for no size or a pattern that has only one. */
static char *name_sizes(const tb_diagnostics *list, tb_size_set sizes)
{
	unsigned count = MIN(list->size_count, TB_MAX_SIZES), set = 0;
	for (unsigned i = 0; i < count; i++)
		set += (sizes >> i) & 1;
	if (set == 0 || count < 2)
		return NULL;
	if (set == count)
		return g_strdup("every size");
	GString *names = g_string_new(set == 1 ? "size " : "sizes ");
	unsigned named = 0;
	for (unsigned i = 0; i < count; i++) {
		if (((sizes >> i) & 1) == 0)
			continue;
		if (named > 0)
			g_string_append(names, named + 1 == set ? " and " : ", ");
		g_string_append(names, list->size_names[i]);
		named++;
	}
	return g_string_free(names, FALSE);
}

static void append_subject(GString *out, const tb_diagnostics *list, const tb_diagnostic *fault)
{
	g_autofree char *sizes = name_sizes(list, fault->sizes);
	g_autoptr(GString) subject = g_string_new(NULL);
	/* With a line shown the piece is seen; without one it must be said. */
	if (!fault->has_place && fault->piece != NULL)
		g_string_append(subject, fault->piece);
	if (fault->row > 0)
		g_string_append_printf(subject, "%s%s %u", subject->len > 0 ? ", " : "",
			fault->is_round ? "round" : "row", fault->row);
	if (sizes != NULL)
		g_string_append_printf(subject, "%s%s", subject->len > 0 ? ", " : "", sizes);
	if (subject->len > 0)
		g_string_append(subject, ": ");
	append_clean(out, subject->str);
}

static void append_fault(GString *out, const tb_diagnostics *list, const tb_diagnostic *fault)
{
	static const char *const severities[] = {
		[TB_NOTE] = "note", [TB_WARNING] = "warning", [TB_ERROR] = "error"};
	bool placed = fault->has_place && list->source != NULL;
	unsigned line = 0, column = 0;
	if (list->source != NULL) {
		append_clean(out, tb_source_get_name(list->source));
		g_string_append_c(out, ':');
	}
	if (placed) {
		tb_source_locate(list->source, fault->place.start, &line, &column);
		g_string_append_printf(out, "%u:%u:", line, column);
	}
	g_string_append_printf(out, "%s%s: ", out->len > 0 && list->source != NULL ? " " : "",
		severities[fault->severity]);
	append_subject(out, list, fault);
	append_clean(out, fault->message);
	g_string_append_c(out, '\n');
	if (placed)
		append_line(out, list->source, line, fault->place);
	if (fault->hint != NULL) {
		g_string_append(out, "  ");
		append_clean(out, fault->hint);
		g_string_append_c(out, '\n');
	}
}

char *tb_diagnostics_format(tb_diagnostics *list)
{
	GString *out = g_string_new(NULL);
	for (unsigned i = 0; i < tb_diagnostics_count(list); i++)
		append_fault(out, list, tb_diagnostics_get(list, i));
	if (list->beyond > 0)
		g_string_append_printf(
			out, "… and %u more faults. Mend the first ones, and look again.\n", list->beyond);
	return g_string_free(out, FALSE);
}
