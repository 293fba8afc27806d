/* The table of counts and measurements, as a designer can paste it into a pattern. */
#include "words/check.h"

#include "fabric/laid.h"
#include "words/write_surface.h"
#include "fabric/measure.h"

tb_check_walk tb_check_walk_begin(const tb_worked *worked, unsigned piece)
{
	tb_check_walk walk = {.worked = worked, .piece = piece};
	walk.sizes = tb_pattern_count_sizes(tb_worked_pattern(worked));
	for (unsigned size = 0; size < walk.sizes; size++)
		walk.at[size] = 1;
	return walk;
}

/* Where ROW stands in the text: behind all rows of the parts before its own, and by its number there. */
static guint64 place_in_text(const tb_check_walk *walk, const tb_made_row *row)
{
	const tb_piece *piece = tb_worked_pattern(walk->worked)->pieces->pdata[walk->piece];
	guint64 part = 0;
	for (guint i = 0; row->part != NULL && piece->parts != NULL && i < piece->parts->len; i++) {
		if (g_array_index(piece->parts, tb_piece_part, i).name == row->part)
			part = i + 1;
	}
	return part << 32 | (row->number - row->before);
}

static const tb_made_row *row_at_hand(const tb_check_walk *walk, unsigned size)
{
	const tb_fabric *fabric = tb_worked_fabric(walk->worked, walk->piece, size);
	return walk->at[size] < fabric->row_count ? &fabric->rows[walk->at[size]] : NULL;
}

bool tb_check_walk_next(tb_check_walk *walk)
{
	const tb_made_row *first = NULL;
	for (unsigned size = 0; size < walk->sizes; size++) {
		const tb_made_row *row = row_at_hand(walk, size);
		if (row != NULL && (first == NULL || place_in_text(walk, row) < place_in_text(walk, first)))
			first = row;
	}
	if (first == NULL)
		return false;
	walk->number = first->number;
	walk->own = first->number - first->before;
	walk->differs = false;
	walk->part = first->part;
	walk->anew = first->before > 0;
	walk->side = TB_SIDE_UNSAID;
	guint64 place = place_in_text(walk, first);
	for (unsigned size = 0; size < walk->sizes; size++) {
		const tb_made_row *row = row_at_hand(walk, size);
		walk->rows[size] = row != NULL && place_in_text(walk, row) == place ? row : NULL;
		if (walk->rows[size] == NULL)
			continue;
		walk->at[size]++;
		walk->differs = walk->differs || row->number != first->number;
		if (walk->side == TB_SIDE_UNSAID)
			walk->side = row->side;
	}
	return true;
}

bool tb_check_walk_taken(const tb_check_walk *walk)
{
	for (unsigned size = 0; size < walk->sizes; size++) {
		if (walk->rows[size] != NULL && walk->rows[size]->taken)
			return true;
	}
	return false;
}

bool tb_check_walk_unsure(const tb_check_walk *walk)
{
	for (unsigned size = 0; size < walk->sizes; size++) {
		if (walk->rows[size] != NULL && walk->rows[size]->unsure)
			return true;
	}
	return false;
}

char *tb_check_walk_colours(const tb_check_walk *walk)
{
	unsigned size = 0;
	while (size + 1 < walk->sizes && walk->rows[size] == NULL)
		size++;
	const tb_fabric *fabric = tb_worked_fabric(walk->worked, walk->piece, size);
	return walk->rows[size] != NULL ? tb_fabric_row_colours(fabric, walk->rows[size]) : g_strdup("");
}

void tb_check_add_cell(GString *out, const char *text, glong width, bool right)
{
	glong fill = MAX(width - g_utf8_strlen(text, -1), 0);
	for (glong i = 0; right && i < fill; i++)
		g_string_append_c(out, ' ');
	g_string_append(out, text);
	for (glong i = 0; !right && i < fill; i++)
		g_string_append_c(out, ' ');
}

void tb_check_end_line(GString *out)
{
	while (out->len > 0 && out->str[out->len - 1] == ' ')
		g_string_truncate(out, out->len - 1);
	g_string_append_c(out, '\n');
}

tb_check_widths tb_check_measure_heading(const tb_worked *worked)
{
	const tb_pattern *pattern = tb_worked_pattern(worked);
	tb_check_widths w = {.label = 13, .unit = 5, .size = 6};
	for (unsigned size = 0; size < tb_pattern_count_sizes(pattern); size++)
		w.size = MAX(w.size, g_utf8_strlen(tb_pattern_get_size(pattern, size), -1));
	return w;
}

void tb_check_put_heading(GString *out, const tb_worked *worked, const char *label, const char *unit, const tb_check_widths *w)
{
	const tb_pattern *pattern = tb_worked_pattern(worked);
	tb_check_add_cell(out, label, w->label, false);
	tb_check_add_cell(out, unit, w->unit, false);
	for (unsigned size = 0; size < tb_pattern_count_sizes(pattern); size++) {
		const char *name = tb_pattern_get_size(pattern, size);
		g_string_append(out, "  ");
		tb_check_add_cell(out, *name != '\0' ? name : "sts", w->size, true);
	}
	tb_check_end_line(out);
}

tb_check_widths tb_check_add_heading(GString *out, const tb_worked *worked)
{
	tb_check_widths w = tb_check_measure_heading(worked);
	tb_check_put_heading(out, worked, "Row", "Side", &w);
	return w;
}

static const char *side_name(tb_side side)
{
	return side == TB_SIDE_WRONG ? "WS" : "RS";
}

static tb_check_rows read_rows(const tb_worked *worked, unsigned piece)
{
	tb_check_walk walk = tb_check_walk_begin(worked, piece);
	tb_check_rows rows = {.sizes = walk.sizes};
	while (tb_check_walk_next(&walk))
		rows.count++;
	rows.heads = g_malloc_n(rows.count, sizeof *rows.heads);
	rows.counts = g_new(guint32, (gsize)rows.count * rows.sizes);
	walk = tb_check_walk_begin(worked, piece);
	for (guint32 i = 0; tb_check_walk_next(&walk); i++) {
		rows.heads[i].number = walk.own;
		rows.heads[i].anew = walk.anew;
		rows.heads[i].unsure = tb_check_walk_unsure(&walk);
		rows.heads[i].part = walk.part;
		rows.heads[i].side = walk.side;
		rows.heads[i].colours = tb_check_walk_colours(&walk);
		for (unsigned size = 0; size < rows.sizes; size++)
			rows.counts[(gsize)i * rows.sizes + size] =
				walk.rows[size] != NULL ? walk.rows[size]->stitches : G_MAXUINT32;
	}
	return rows;
}

/* "4", "4-21"; "?" where a number is not known. */
static char *name_rows(const tb_check_rows *rows, guint32 at, guint32 count)
{
	guint32 first = rows->heads[at].number;
	for (guint32 i = at; i < at + count; i++) {
		if (rows->heads[i].unsure)
			return g_strdup("?");
	}
	return count == 1 ? g_strdup_printf("%u", first)
					  : g_strdup_printf("%u-%u", first, first + count - 1);
}

static void add_fold(GString *out, const tb_check_rows *rows, guint32 at, tb_check_fold fold,
	const tb_check_widths *w)
{
	g_autofree char *numbers = name_rows(rows, at, fold.count);
	tb_check_add_cell(out, numbers, w->label, false);
	if (fold.period > 0) {
		g_autofree char *like = name_rows(rows, at - fold.period, fold.period);
		g_string_append_printf(out, "as rows %s\n", like);
		return;
	}
	tb_side side = rows->heads[at].side;
	tb_side next = fold.count > 1 ? rows->heads[at + 1].side : side;
	g_autofree char *sides = side == next
								 ? g_strdup(side_name(side))
								 : g_strdup_printf("%s/%s", side_name(side), side_name(next));
	tb_check_add_cell(out, sides, w->unit, false);
	for (unsigned size = 0; size < rows->sizes; size++) {
		guint32 stitches = rows->counts[(gsize)at * rows->sizes + size];
		g_autofree char *count =
			stitches == G_MAXUINT32 ? g_strdup("-") : g_strdup_printf("%u", stitches);
		g_string_append(out, "  ");
		tb_check_add_cell(out, count, w->size, true);
	}
	if (*rows->heads[at].colours != '\0')
		g_string_append_printf(out, "  %s", rows->heads[at].colours);
	tb_check_end_line(out);
}

/* Whether rows A and B are numbered together. */
static bool are_together(const tb_check_rows *rows, guint32 a, guint32 b)
{
	return rows->heads[a].anew == rows->heads[b].anew &&
		(!rows->heads[a].anew || rows->heads[a].part == rows->heads[b].part);
}

/* From row AT on, as many as are numbered together. */
static guint32 add_stretch(GString *out, const tb_check_rows *rows, guint32 at, const tb_check_widths *w)
{
	tb_check_rows part = {rows->heads + at, rows->counts + (gsize)at * rows->sizes, 0, rows->sizes};
	while (at + part.count < rows->count && are_together(rows, at, at + part.count))
		part.count++;
	tb_check_fold fold;
	guint32 shown = 0;
	for (guint32 i = 0; i < part.count; i += fold.count) {
		fold = tb_check_fold_at(&part, i, shown);
		add_fold(out, &part, i, fold, w);
		if (fold.period > 0)
			shown = i + fold.count;
	}
	return part.count;
}

/* A part that numbers its rows from 1 again has its name over them. */
static void add_rows(GString *out, const tb_worked *worked, unsigned piece, const tb_check_widths *w)
{
	tb_check_rows rows = read_rows(worked, piece);
	for (guint32 at = 0; at < rows.count;) {
		if (rows.heads[at].anew)
			g_string_append_printf(out, "%s\n", rows.heads[at].part);
		at += add_stretch(out, &rows, at, w);
	}
	for (guint32 i = 0; i < rows.count; i++)
		g_free(rows.heads[i].colours);
	g_free(rows.heads);
	g_free(rows.counts);
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
	const char *unit, double unit_mm, double (*get)(const tb_fabric *), const tb_check_widths *w)
{
	tb_check_add_cell(out, label, w->label, false);
	tb_check_add_cell(out, unit, w->unit, false);
	for (unsigned size = 0; size < tb_pattern_count_sizes(tb_worked_pattern(worked)); size++) {
		const tb_fabric *fabric = tb_worked_fabric(worked, piece, size);
		char text[G_ASCII_DTOSTR_BUF_SIZE] = "?";
		if (get != length_of || !fabric->uncounted)
			g_ascii_formatd(text, sizeof(text), "%.1f", get(fabric) / unit_mm);
		g_string_append(out, "  ");
		tb_check_add_cell(out, text, w->size, true);
	}
	tb_check_end_line(out);
}

static void add_totals(GString *out, const tb_worked *worked, unsigned piece, const tb_check_widths *w)
{
	tb_check_add_cell(out, "Rows in all", w->label, false);
	tb_check_add_cell(out, "", w->unit, false);
	for (unsigned size = 0; size < tb_pattern_count_sizes(tb_worked_pattern(worked)); size++) {
		const tb_fabric *fabric = tb_worked_fabric(worked, piece, size);
		g_autofree char *text = fabric->uncounted ? g_strdup("?") : g_strdup_printf("%u", MAX(fabric->row_count, 1) - 1);
		g_string_append(out, "  ");
		tb_check_add_cell(out, text, w->size, true);
	}
	tb_check_end_line(out);
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
	tb_across across = tb_sized_across(worked, piece);
	return across == TB_ACROSS_FLAT ? "Width" : across == TB_ACROSS_AROUND ? "Around" : NULL;
}

static void add_piece(GString *out, const tb_worked *worked, unsigned piece, const GArray *sized)
{
	const tb_gauge *gauge = &tb_worked_pattern(worked)->gauge;
	g_string_append_printf(out, "%s\n", tb_pattern_get_piece(tb_worked_pattern(worked), piece));
	tb_check_widths w = tb_check_add_heading(out, worked);
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
	tb_check_add_sized(out, worked, sized, (int)piece, &w);
	add_totals(out, worked, piece, &w);
	add_reached(out, worked, piece);
	tb_surface_write_all(out, worked, piece, &(tb_write_options){tb_worked_pattern(worked), false, -1});
	if (!has_width && tb_laid_across_mm(worked, piece, 0, NULL) <= 0)
		g_string_append(out, "No gauge is given, so there are no measurements.\n");
	else if (has_width && !has_length)
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
	g_autoptr(GArray) sized = tb_sized_find(worked);
	unsigned pieces = tb_pattern_count_pieces(tb_worked_pattern(worked));
	for (unsigned i = 0; i < pieces; i++) {
		if (piece < 0 || (unsigned)piece == i)
			add_piece(out, worked, i, sized);
	}
	tb_check_add_pieces(out, worked, piece);
	if (piece < 0)
		tb_check_add_laid(out, worked);
	if (piece < 0)
		tb_check_add_whole(out, worked, sized);
	add_verdict(out, worked, diagnostics);
	return g_string_free(out, FALSE);
}
