/* The table of counts and measurements, as a designer can paste it into a pattern. */
#include "fabric/check.h"

#include "fabric/measure.h"

#include <string.h>

/* Fewer equal rows than this are not worth folding into one line. */
#define FOLDED 3u

tb_check_walk tb_check_walk_begin(const tb_worked *worked, unsigned piece)
{
	tb_check_walk walk = {.worked = worked, .piece = piece};
	walk.sizes = tb_pattern_count_sizes(tb_worked_pattern(worked));
	for (unsigned size = 0; size < walk.sizes; size++)
		walk.at[size] = 1;
	return walk;
}

bool tb_check_walk_next(tb_check_walk *walk)
{
	guint32 number = G_MAXUINT32;
	for (unsigned size = 0; size < walk->sizes; size++) {
		const tb_fabric *fabric = tb_worked_fabric(walk->worked, walk->piece, size);
		if (walk->at[size] < fabric->row_count)
			number = MIN(number, fabric->rows[walk->at[size]].number);
	}
	if (number == G_MAXUINT32)
		return false;
	walk->number = number;
	walk->side = TB_SIDE_UNSAID;
	for (unsigned size = 0; size < walk->sizes; size++) {
		const tb_fabric *fabric = tb_worked_fabric(walk->worked, walk->piece, size);
		walk->rows[size] = NULL;
		if (walk->at[size] < fabric->row_count && fabric->rows[walk->at[size]].number == number) {
			walk->rows[size] = &fabric->rows[walk->at[size]++];
			if (walk->side == TB_SIDE_UNSAID)
				walk->side = walk->rows[size]->side;
		}
	}
	return true;
}

static void add_cell(GString *out, const char *text, glong width, bool right)
{
	glong fill = MAX(width - g_utf8_strlen(text, -1), 0);
	for (glong i = 0; right && i < fill; i++)
		g_string_append_c(out, ' ');
	g_string_append(out, text);
	for (glong i = 0; !right && i < fill; i++)
		g_string_append_c(out, ' ');
}

/* How wide the columns are. */
typedef struct {
	glong label, unit, size;
} widths;

static void end_line(GString *out)
{
	while (out->len > 0 && out->str[out->len - 1] == ' ')
		g_string_truncate(out, out->len - 1);
	g_string_append_c(out, '\n');
}

static widths add_heading(GString *out, const tb_worked *worked)
{
	const tb_pattern *pattern = tb_worked_pattern(worked);
	widths w = {.label = 13, .unit = 5, .size = 6};
	for (unsigned size = 0; size < tb_pattern_count_sizes(pattern); size++)
		w.size = MAX(w.size, g_utf8_strlen(tb_pattern_get_size(pattern, size), -1));
	add_cell(out, "Row", w.label, false);
	add_cell(out, "Side", w.unit, false);
	for (unsigned size = 0; size < tb_pattern_count_sizes(pattern); size++) {
		const char *name = tb_pattern_get_size(pattern, size);
		g_string_append(out, "  ");
		add_cell(out, *name != '\0' ? name : "sts", w.size, true);
	}
	end_line(out);
	return w;
}

/* Rows that are alike but for their numbers and sides. */
typedef struct {
	guint32 first, last;
	tb_side first_side, second_side, last_side;
	guint32 counts[TB_MAX_SIZES]; /* G_MAXUINT32 where a size has no such row */
} fold;

static guint32 count_in(const tb_check_walk *walk, unsigned size)
{
	return walk->rows[size] != NULL ? walk->rows[size]->stitches : G_MAXUINT32;
}

static bool is_alike(const fold *rows, const tb_check_walk *walk)
{
	if (walk->number != rows->last + 1)
		return false;
	bool turns = rows->first == rows->last || rows->first_side != rows->second_side;
	if (rows->first != rows->last && (walk->side != rows->last_side) != turns)
		return false;
	for (unsigned size = 0; size < walk->sizes; size++) {
		if (count_in(walk, size) != rows->counts[size])
			return false;
	}
	return true;
}

static const char *side_name(tb_side side)
{
	return side == TB_SIDE_WRONG ? "WS" : "RS";
}

static void add_row(GString *out, const fold *rows, guint32 first, guint32 last, tb_side side,
	tb_side next, unsigned sizes, const widths *w)
{
	g_autofree char *number =
		first == last ? g_strdup_printf("%u", first) : g_strdup_printf("%u-%u", first, last);
	g_autofree char *sides = first == last || side == next
								 ? g_strdup(side_name(side))
								 : g_strdup_printf("%s/%s", side_name(side), side_name(next));
	add_cell(out, number, w->label, false);
	add_cell(out, sides, w->unit, false);
	for (unsigned size = 0; size < sizes; size++) {
		g_autofree char *count = rows->counts[size] == G_MAXUINT32
									 ? g_strdup("-")
									 : g_strdup_printf("%u", rows->counts[size]);
		g_string_append(out, "  ");
		add_cell(out, count, w->size, true);
	}
	end_line(out);
}

static void add_fold(GString *out, const fold *rows, unsigned sizes, const widths *w)
{
	guint32 many = rows->last - rows->first + 1;
	if (many >= FOLDED) {
		add_row(out, rows, rows->first, rows->last, rows->first_side, rows->second_side, sizes, w);
		return;
	}
	for (guint32 i = 0; i < many; i++)
		add_row(out, rows, rows->first + i, rows->first + i,
			i == 0 ? rows->first_side : rows->second_side, TB_SIDE_UNSAID, sizes, w);
}

static void add_rows(GString *out, const tb_worked *worked, unsigned piece, const widths *w)
{
	tb_check_walk walk = tb_check_walk_begin(worked, piece);
	fold rows = {0};
	bool begun = false;
	while (tb_check_walk_next(&walk)) {
		if (begun && is_alike(&rows, &walk)) {
			if (rows.first == rows.last)
				rows.second_side = walk.side;
			rows.last = walk.number;
			rows.last_side = walk.side;
			continue;
		}
		if (begun)
			add_fold(out, &rows, walk.sizes, w);
		begun = true;
		rows = (fold){walk.number, walk.number, walk.side, walk.side, walk.side, {0}};
		for (unsigned size = 0; size < walk.sizes; size++)
			rows.counts[size] = count_in(&walk, size);
	}
	if (begun)
		add_fold(out, &rows, walk.sizes, w);
}

static double width_of(const tb_fabric *fabric)
{
	return fabric->width_mm;
}

static double length_of(const tb_fabric *fabric)
{
	return fabric->length_mm;
}

static void add_measure(GString *out, const tb_worked *worked, unsigned piece, const char *label,
	const char *unit, double unit_mm, double (*get)(const tb_fabric *), const widths *w)
{
	add_cell(out, label, w->label, false);
	add_cell(out, unit, w->unit, false);
	for (unsigned size = 0; size < tb_pattern_count_sizes(tb_worked_pattern(worked)); size++) {
		char text[G_ASCII_DTOSTR_BUF_SIZE];
		g_ascii_formatd(
			text, sizeof(text), "%.1f", get(tb_worked_fabric(worked, piece, size)) / unit_mm);
		g_string_append(out, "  ");
		add_cell(out, text, w->size, true);
	}
	end_line(out);
}

static void add_totals(GString *out, const tb_worked *worked, unsigned piece, const widths *w)
{
	add_cell(out, "Rows in all", w->label, false);
	add_cell(out, "", w->unit, false);
	for (unsigned size = 0; size < tb_pattern_count_sizes(tb_worked_pattern(worked)); size++) {
		guint32 rows = tb_worked_fabric(worked, piece, size)->row_count;
		g_autofree char *text = g_strdup_printf("%u", rows > 0 ? rows - 1 : 0);
		g_string_append(out, "  ");
		add_cell(out, text, w->size, true);
	}
	end_line(out);
}

static void add_reached(GString *out, const tb_worked *worked, unsigned piece)
{
	const tb_pattern *pattern = tb_worked_pattern(worked);
	for (unsigned size = 0; size < tb_pattern_count_sizes(pattern); size++) {
		const tb_fabric *fabric = tb_worked_fabric(worked, piece, size);
		const char *name = tb_pattern_get_size(pattern, size);
		for (guint32 i = 0; i < fabric->reached_count; i++) {
			const tb_reached *reached = &fabric->reached[i];
			char asked[G_ASCII_DTOSTR_BUF_SIZE], length[G_ASCII_DTOSTR_BUF_SIZE];
			g_ascii_formatd(asked, sizeof(asked), "%.1f", reached->asked_mm / 10);
			g_ascii_formatd(length, sizeof(length), "%.1f", reached->reached_mm / 10);
			g_string_append_printf(out, "%s%s%s cm asked, %s cm reached (%u rows).\n", name,
				*name != '\0' ? ": " : "", asked, length, reached->row);
		}
	}
}

/* A tube is measured around; of a motif that grows from its middle the gauge says no width. */
static const char *width_name(const tb_worked *worked, unsigned piece)
{
	bool rounds = false;
	for (unsigned size = 0; size < tb_pattern_count_sizes(tb_worked_pattern(worked)); size++) {
		const tb_fabric *fabric = tb_worked_fabric(worked, piece, size);
		for (guint32 i = 1; i < fabric->row_count; i++) {
			rounds = rounds || fabric->rows[i].is_round;
			if (rounds && fabric->rows[i].stitches != fabric->rows[1].stitches)
				return NULL;
		}
	}
	return rounds ? "Around" : "Width";
}

static void add_piece(GString *out, const tb_worked *worked, unsigned piece)
{
	const tb_gauge *gauge = &tb_worked_pattern(worked)->gauge;
	g_string_append_printf(out, "%s\n", tb_pattern_get_piece(tb_worked_pattern(worked), piece));
	widths w = add_heading(out, worked);
	add_rows(out, worked, piece, &w);
	double one = 1;
	bool has_width = tb_measure_column_mm(gauge) > 0;
	bool has_length = tb_measure_chain_mm(gauge, &one, 1) > 0;
	const char *across = width_name(worked, piece);
	if (has_width && across != NULL) {
		add_measure(out, worked, piece, across, "cm", 10, width_of, &w);
		add_measure(out, worked, piece, "", "in", TB_MM_PER_INCH, width_of, &w);
	}
	if (has_length) {
		add_measure(out, worked, piece, "Length", "cm", 10, length_of, &w);
		add_measure(out, worked, piece, "", "in", TB_MM_PER_INCH, length_of, &w);
	}
	add_totals(out, worked, piece, &w);
	add_reached(out, worked, piece);
	if (!has_width)
		g_string_append(out, "No gauge is given, so there are no measurements.\n");
	else if (!has_length)
		g_string_append(out, "The gauge gives no rows, so there is no length.\n");
	g_string_append_c(out, '\n');
}

/* The sentence at the end: whether everything comes out. */
static void add_verdict(GString *out, const tb_worked *worked, tb_diagnostics *diagnostics)
{
	unsigned errors = tb_diagnostics_count_errors(diagnostics), warnings = 0;
	for (unsigned i = 0; i < tb_diagnostics_count(diagnostics); i++)
		warnings += tb_diagnostics_get(diagnostics, i)->severity == TB_WARNING;
	if (errors > 0) {
		g_string_append_printf(
			out, "%u error%s: not every row comes out.\n", errors, errors == 1 ? "" : "s");
		return;
	}
	g_string_append(out, tb_pattern_count_sizes(tb_worked_pattern(worked)) > 1
							 ? "Every row comes out in every size."
							 : "Every row comes out.");
	if (warnings > 0)
		g_string_append_printf(out, " There %s %u warning%s.", warnings == 1 ? "is" : "are",
			warnings, warnings == 1 ? "" : "s");
	g_string_append_c(out, '\n');
}

char *tb_check_text(const tb_worked *worked, tb_diagnostics *diagnostics, int piece)
{
	GString *out = g_string_new(NULL);
	unsigned pieces = tb_pattern_count_pieces(tb_worked_pattern(worked));
	for (unsigned i = 0; i < pieces; i++) {
		if (piece < 0 || (unsigned)piece == i)
			add_piece(out, worked, i);
	}
	tb_check_add_pieces(out, worked, piece);
	add_verdict(out, worked, diagnostics);
	return g_string_free(out, FALSE);
}
