/* How many motifs are made and how they lie, side by side in all sizes. */
#include "words/check.h"

#include "fabric/laid.h"
#include "fabric/seams.h"

static void add_counts(GString *out, const tb_pattern *pattern, const char *label, const char *unit, const guint32 *counts,
	const tb_check_widths *w)
{
	tb_check_add_cell(out, label, w->label, false);
	tb_check_add_cell(out, unit, w->unit, false);
	for (unsigned size = 0; size < tb_pattern_count_sizes(pattern); size++) {
		g_autofree char *text = counts[size] > 0 ? g_strdup_printf("%u", counts[size]) : g_strdup("-");
		g_string_append(out, "  ");
		tb_check_add_cell(out, text, w->size, true);
	}
	tb_check_end_line(out);
}

static bool has_lengths(const tb_pattern *pattern, const double *mm)
{
	for (unsigned size = 0; size < tb_pattern_count_sizes(pattern); size++) {
		if (mm[size] > 0)
			return true;
	}
	return false;
}

/* What is sewn, and left, where the pattern says so: stitches of each. */
static void add_seams(GString *out, const tb_worked *worked)
{
	static const struct {
		tb_seam_kind kind;
		const char *label;
	} kinds[] = {{TB_SEAM_SHOULDERS, "Each shoulder"}, {TB_SEAM_NECK, "Back neck"}, {TB_SEAM_FRONT_FREE, "Each front"}};
	const tb_pattern *pattern = tb_worked_pattern(worked);
	tb_check_widths w = tb_check_measure_heading(worked);
	w.label++;
	bool any = false;
	for (size_t i = 0; i < G_N_ELEMENTS(kinds); i++) {
		guint32 stitches[TB_MAX_SIZES] = {0};
		for (unsigned size = 0; size < tb_pattern_count_sizes(pattern); size++)
			stitches[size] = tb_seams_stitches(pattern, kinds[i].kind, size);
		if (stitches[0] == 0)
			continue;
		if (!any)
			tb_check_put_heading(out, worked, "Seams", "", &w);
		any = true;
		add_counts(out, pattern, kinds[i].label, i == 0 ? "sewn" : "left", stitches, &w);
	}
	if (any)
		g_string_append_c(out, '\n');
}

void tb_check_add_laid(GString *out, const tb_worked *worked)
{
	add_seams(out, worked);
	const tb_pattern *pattern = tb_worked_pattern(worked);
	g_autoptr(GArray) sums = tb_laid_reckon(worked);
	if (sums->len == 0)
		return;
	tb_check_widths w = tb_check_measure_heading(worked);
	for (guint i = 0; i < sums->len; i++)
		w.label = MAX(w.label, g_utf8_strlen(g_array_index(sums, tb_laid_sum, i).what, -1) + 5);
	tb_check_put_heading(out, worked, "Motifs", "", &w);
	for (guint i = 0; i < sums->len; i++) {
		const tb_laid_sum *one = &g_array_index(sums, tb_laid_sum, i);
		bool lies = one->rows[0] > 0 && one->across[0] > 0;
		g_autofree char *label = one->times > 1 ? g_strdup_printf("%s, %u x", one->what, one->times) : g_strdup(one->what);
		add_counts(out, pattern, label, lies ? "" : "made", one->made, &w);
		if (lies) {
			add_counts(out, pattern, "  rows", "", one->rows, &w);
			add_counts(out, pattern, "  in each", "", one->across, &w);
		}
		if (has_lengths(pattern, one->wide_mm)) {
			tb_check_add_lengths(out, worked, "  Width", one->wide_mm, &w);
			tb_check_add_lengths(out, worked, "  Length", one->high_mm, &w);
		}
	}
	g_string_append_c(out, '\n');
}
