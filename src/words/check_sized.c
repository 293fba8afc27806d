/* What a maker needs beside counts: cuff, upper arm, armhole, neck of the pieces; bust and ease of the whole. */
#include "words/check.h"

#include "fabric/finished.h"
#include "fabric/laid.h"
#include "fabric/yarn.h"
#include "support/units.h"

/* A line of lengths, one a size; "-" where a size has none. */
static void add_line(GString *out, const tb_worked *worked, const char *label, const char *unit, double unit_mm,
	const double *mm, const tb_check_widths *w)
{
	tb_check_add_cell(out, label, w->label, false);
	tb_check_add_cell(out, unit, w->unit, false);
	for (unsigned size = 0; size < tb_pattern_count_sizes(tb_worked_pattern(worked)); size++) {
		char text[G_ASCII_DTOSTR_BUF_SIZE];
		g_ascii_formatd(text, sizeof text, "%.1f", mm[size] / unit_mm);
		g_string_append(out, "  ");
		tb_check_add_cell(out, mm[size] != 0 ? text : "-", w->size, true);
	}
	tb_check_end_line(out);
}

void tb_check_add_lengths(GString *out, const tb_worked *worked, const char *label, const double *mm, const tb_check_widths *w)
{
	add_line(out, worked, label, "cm", 10, mm, w);
	add_line(out, worked, "", "in", TB_MM_PER_INCH, mm, w);
}

/* A hem as wide as the piece says nothing more. */
static bool is_width(const tb_worked *worked, const tb_sized *one)
{
	for (unsigned size = 0; size < tb_pattern_count_sizes(tb_worked_pattern(worked)); size++) {
		const tb_fabric *fabric = tb_worked_fabric(worked, (unsigned)one->piece, size);
		if (one->mm[size] < fabric->width_mm - 0.5)
			return false;
	}
	return one->kind == TB_FINISHED_HEM;
}

void tb_check_add_sized(GString *out, const tb_worked *worked, const GArray *sized, int piece, const tb_check_widths *w)
{
	double across[TB_MAX_SIZES] = {0};
	guint32 rounds = 0;
	for (unsigned size = 0; size < tb_pattern_count_sizes(tb_worked_pattern(worked)); size++)
		across[size] = tb_laid_across_mm(worked, (unsigned)piece, size, &rounds);
	if (rounds > 0) {
		tb_check_add_lengths(out, worked, "Across", across, w);
		g_string_append_printf(out, "Across goes by what its first %u rounds measure.\n", rounds);
	}
	for (guint i = 0; i < sized->len; i++) {
		const tb_sized *one = &g_array_index(sized, tb_sized, i);
		if (one->piece == piece && !is_width(worked, one))
			tb_check_add_lengths(out, worked, tb_sized_name(one->kind), one->mm, w);
	}
}

/* What is stated of the whole, in all sizes; NULL where it is not, or not for each of them. */
static const tb_finished *find_stated(const tb_pattern *pattern, tb_finished_kind kind, double *mm)
{
	const tb_finished *stated = tb_finished_find(pattern, kind);
	unsigned sizes = tb_pattern_count_sizes(pattern);
	if (stated == NULL || (stated->count > 1 && stated->count != sizes))
		return NULL;
	for (unsigned size = 0; size < sizes; size++)
		mm[size] = tb_finished_in(stated, size);
	return stated;
}

/* How much more the garment measures around the bust than who wears it. */
static void add_ease(GString *out, const tb_worked *worked, const double *bust, const tb_check_widths *w)
{
	double fit[TB_MAX_SIZES] = {0}, ease[TB_MAX_SIZES] = {0};
	if (find_stated(tb_worked_pattern(worked), TB_FINISHED_FIT, fit) == NULL)
		return;
	for (unsigned size = 0; size < TB_MAX_SIZES; size++)
		ease[size] = bust[size] > 0 && fit[size] > 0 ? bust[size] - fit[size] : 0;
	tb_check_add_lengths(out, worked, "To fit bust", fit, w);
	tb_check_add_lengths(out, worked, "Ease", ease, w);
}

/* "Yarn: about 210 (230) g, reckoned …" */
static void add_yarn(GString *out, const tb_worked *worked)
{
	double grams[TB_MAX_SIZES] = {0};
	tb_swatch swatch;
	unsigned sizes = tb_pattern_count_sizes(tb_worked_pattern(worked));
	if (!tb_yarn_estimate(worked, &swatch, grams))
		return;
	g_string_append(out, "Yarn: about ");
	for (unsigned size = 0; size < sizes; size++) {
		g_string_append(out, size == 0 ? "" : size == 1 ? " (" : ", ");
		if (grams[size] > 0)
			g_string_append_printf(out, "%.0f", grams[size]);
		else
			g_string_append_c(out, '-');
	}
	char stitches[G_ASCII_DTOSTR_BUF_SIZE], rows[G_ASCII_DTOSTR_BUF_SIZE], weight[G_ASCII_DTOSTR_BUF_SIZE];
	g_ascii_formatd(stitches, sizeof stitches, "%g", swatch.stitches);
	g_ascii_formatd(rows, sizeof rows, "%g", swatch.rows);
	g_ascii_formatd(weight, sizeof weight, "%.4g", swatch.grams);
	g_string_append_printf(out, "%s g, an estimate by the stitches: a swatch of %s sts and %s rows weighs %s g.\n\n",
		sizes > 1 ? ")" : "", stitches, rows, weight);
}

void tb_check_add_whole(GString *out, const tb_worked *worked, const GArray *sized)
{
	for (guint i = 0; i < sized->len; i++) {
		const tb_sized *one = &g_array_index(sized, tb_sized, i);
		double stated[TB_MAX_SIZES] = {0};
		if (one->piece >= 0)
			continue;
		g_string_append(out, "Garment\n");
		tb_check_widths w = tb_check_add_heading(out, worked);
		tb_check_add_lengths(out, worked, tb_sized_name(one->kind), one->mm, &w);
		if (find_stated(tb_worked_pattern(worked), one->kind, stated) != NULL)
			tb_check_add_lengths(out, worked, "  stated", stated, &w);
		add_ease(out, worked, one->mm, &w);
		g_string_append_printf(out, "%s is %s, without seams and bands.\n\n", tb_sized_name(one->kind), one->of);
	}
	add_yarn(out, worked);
}
