/* What the pattern is made of, how large it is, and what to mind. */
#include "layout/sheet.h"

#include "fabric/laid.h"
#include "fabric/measure.h"
#include "fabric/sized.h"

#include <math.h>
#include <string.h>

static char *number(double value, int places)
{
	char buffer[G_ASCII_DTOSTR_BUF_SIZE];
	g_autofree char *format = g_strdup_printf("%%.%df", places);
	char *text = g_strdup(g_ascii_formatd(buffer, sizeof buffer, format, value));
	/* 10.0 is 10. */
	if (strchr(text, '.') != NULL) {
		char *end = text + strlen(text);
		while (end[-1] == '0')
			*--end = '\0';
		if (end[-1] == '.')
			end[-1] = '\0';
	}
	return text;
}

/* Inches as the tape has them, to the nearest quarter: "15½". */
static char *inches_of(double mm)
{
	static const char *const PARTS[] = {"", "¼", "½", "¾"};
	guint64 quarters = (guint64)llround(fmax(0, mm) / TB_MM_PER_INCH * 4);
	if (quarters < 4 && quarters > 0)
		return g_strdup(PARTS[quarters]);
	return g_strdup_printf("%" G_GUINT64_FORMAT "%s", quarters / 4, PARTS[quarters % 4]);
}

static char *centimetres_of(double mm)
{
	char buffer[G_ASCII_DTOSTR_BUF_SIZE];
	return g_strdup(g_ascii_formatd(buffer, sizeof buffer, "%.1f", mm / 10));
}

char *tb_sheet_bracket(const tb_sheet *sheet, const char *const *by_size)
{
	GString *text = g_string_new(NULL);
	const char *first = NULL;
	unsigned written = 0;
	bool same = true;
	for (unsigned size = 0; size < tb_pattern_count_sizes(sheet->pattern); size++) {
		if (!tb_sheet_has_size(sheet, size))
			continue;
		first = first == NULL ? by_size[size] : first;
		same = same && strcmp(first, by_size[size]) == 0;
		g_string_append_printf(text, "%s%s", written == 0 ? "" : written == 1 ? " (" : ", ",
			by_size[size]);
		written++;
	}
	if (written > 1)
		g_string_append_c(text, ')');
	if (same)
		g_string_assign(text, first != NULL ? first : "");
	return g_string_free(text, FALSE);
}

char *tb_sheet_lengths(const tb_sheet *sheet, const double *mm_by_size, bool inches)
{
	char *texts[TB_MAX_SIZES + 1] = {NULL};
	unsigned sizes = tb_pattern_count_sizes(sheet->pattern);
	for (unsigned i = 0; i < sizes; i++)
		texts[i] = mm_by_size[i] <= 0 ? g_strdup("-") :
			inches ? inches_of(mm_by_size[i]) : centimetres_of(mm_by_size[i]);
	g_autofree char *bracket = tb_sheet_bracket(sheet, (const char *const *)texts);
	for (unsigned i = 0; i < sizes; i++)
		g_free(texts[i]);
	return g_strdup_printf("%s %s", bracket, inches ? "in" : "cm");
}

/* A row of the table of measurements: WHAT, then one figure a size. */
static void add_lengths(const tb_sheet *sheet, GPtrArray *cells, const char *what,
	const double *mm_by_size)
{
	bool graded = tb_pattern_count_sizes(sheet->pattern) > 1;
	if (!graded)
		g_ptr_array_add(cells, g_strdup(what));
	for (int inches = 0; inches < 2; inches++) {
		if (graded)
			g_ptr_array_add(cells, g_strdup_printf("%s, %s", what, inches ? "in" : "cm"));
		for (unsigned size = 0; size < tb_pattern_count_sizes(sheet->pattern); size++) {
			if (!tb_sheet_has_size(sheet, size))
				continue;
			double mm = mm_by_size[size];
			g_ptr_array_add(cells, mm <= 0 ? g_strdup("–") :
				inches ? inches_of(mm) : centimetres_of(mm));
		}
	}
}

/* Cuff, upper arm, armhole and what else is known of PIECE, or, -1, of the whole; a hem as wide as the piece is not. */
static void add_sized(const tb_sheet *sheet, GPtrArray *cells, const GArray *sized, int piece, const double *widths)
{
	for (guint i = 0; i < sized->len; i++) {
		const tb_sized *one = &g_array_index(sized, tb_sized, i);
		bool other = one->kind != TB_FINISHED_HEM || widths == NULL;
		for (unsigned size = 0; size < tb_pattern_count_sizes(sheet->pattern) && !other; size++)
			other = fabs(one->mm[size] - widths[size]) > 0.5;
		if (one->piece != piece || !other)
			continue;
		g_autofree char *name = tb_text_lower(tb_sized_name(one->kind), -1);
		g_autofree char *what = piece < 0 ? g_strdup(tb_sized_name(one->kind)) :
			g_strdup_printf("%s: %s", tb_pattern_get_piece(sheet->pattern, (unsigned)piece), name);
		add_lengths(sheet, cells, what, one->mm);
	}
}

static void add_measured_piece(tb_sheet *sheet, GPtrArray *cells, unsigned piece, const GArray *sized)
{
	double widths[TB_MAX_SIZES] = {0}, lengths[TB_MAX_SIZES] = {0};
	bool any = false, in_rounds = false;
	tb_across across = tb_sized_across(sheet->worked, piece);
	for (unsigned size = 0; size < tb_pattern_count_sizes(sheet->pattern); size++) {
		const tb_fabric *fabric = tb_worked_fabric(sheet->worked, piece, size);
		if (!tb_sheet_has_size(sheet, size) || fabric->row_count < 2)
			continue;
		widths[size] = across != TB_ACROSS_UNKNOWN ? fabric->width_mm : 0;
		lengths[size] = fabric->length_mm;
		tb_shape_outline outline;
		if (fabric->rows[1].is_round &&
			tb_shape_outline_make(sheet->worked, piece, size, sheet->options.left_handed,
				sheet->galley.measure, &outline)) {
			/* Worked around a middle, it is measured across. */
			widths[size] = outline.in_rounds ? outline.width : widths[size];
			lengths[size] = outline.in_rounds ? outline.height : lengths[size];
			in_rounds = in_rounds || outline.in_rounds;
			tb_shape_outline_finish(&outline);
		}
		any = any || widths[size] > 0 || lengths[size] > 0;
	}
	if (!any)
		return;
	const char *name = tb_pattern_get_piece(sheet->pattern, piece);
	g_autofree char *wide =
		g_strdup_printf("%s: %s", name, across == TB_ACROSS_AROUND && !in_rounds ? "around" : "width");
	g_autofree char *long_ = g_strdup_printf("%s: length", name);
	if (across != TB_ACROSS_UNKNOWN || in_rounds)
		add_lengths(sheet, cells, wide, widths);
	add_lengths(sheet, cells, long_, lengths);
	add_sized(sheet, cells, sized, (int)piece, widths);
}

/* How large the parts are that motifs make. */
static void add_laid_lengths(const tb_sheet *sheet, GPtrArray *cells, const GArray *sums)
{
	for (guint i = 0; i < sums->len; i++) {
		const tb_laid_sum *one = &g_array_index(sums, tb_laid_sum, i);
		g_autofree char *wide = g_strdup_printf("%s: width", one->rows[0] > 0 && strcmp(one->what, "All") == 0 ? "Whole" : one->what);
		g_autofree char *high = g_strdup_printf("%s: length", one->rows[0] > 0 && strcmp(one->what, "All") == 0 ? "Whole" : one->what);
		if (one->wide_mm[0] <= 0 || one->high_mm[0] <= 0)
			continue;
		add_lengths(sheet, cells, wide, one->wide_mm);
		add_lengths(sheet, cells, high, one->high_mm);
	}
}

static char *bracket_numbers(const tb_sheet *sheet, const guint32 *numbers)
{
	char *texts[TB_MAX_SIZES + 1] = {NULL};
	unsigned sizes = tb_pattern_count_sizes(sheet->pattern);
	for (unsigned i = 0; i < sizes; i++)
		texts[i] = g_strdup_printf("%u", numbers[i]);
	char *bracket = tb_sheet_bracket(sheet, (const char *const *)texts);
	for (unsigned i = 0; i < sizes; i++)
		g_free(texts[i]);
	return bracket;
}

/* "Square: make 24 (28, 32)", "Back: 4 rows of 6 motifs". */
static void add_motifs(tb_sheet *sheet)
{
	g_autoptr(GArray) sums = tb_laid_reckon(sheet->worked);
	if (sums->len > 0)
		tb_galley_heading(&sheet->galley, "Motifs", 1);
	for (guint i = 0; i < sums->len; i++) {
		const tb_laid_sum *one = &g_array_index(sums, tb_laid_sum, i);
		g_autofree char *made = bracket_numbers(sheet, one->made), *rows = bracket_numbers(sheet, one->rows);
		g_autofree char *across = bracket_numbers(sheet, one->across);
		g_autofree char *text = one->rows[0] > 0 ? g_strdup_printf("%s rows of %s, %s in all.%s", rows, across, made,
			one->times > 1 ? " Made twice." : "") : g_strdup_printf("Make %s.", made);
		tb_galley_fact(&sheet->galley, one->what, text);
	}
}

/* The table of measurements, none when the pattern gives no gauge. Returns how wide it is. */
static unsigned gather_measurements(tb_sheet *sheet, GPtrArray *cells)
{
	unsigned columns = 1;
	if (tb_pattern_count_sizes(sheet->pattern) == 1) {
		/* Of one size the units are the columns. */
		columns = 3;
		g_ptr_array_add(cells, g_strdup("Piece"));
		g_ptr_array_add(cells, g_strdup("cm"));
		g_ptr_array_add(cells, g_strdup("in"));
	} else {
		g_ptr_array_add(cells, g_strdup("Size"));
		for (unsigned size = 0; size < tb_pattern_count_sizes(sheet->pattern); size++) {
			if (!tb_sheet_has_size(sheet, size))
				continue;
			g_ptr_array_add(cells, g_strdup(tb_pattern_get_size(sheet->pattern, size)));
			columns++;
		}
	}
	g_autoptr(GArray) sized = tb_sized_find(sheet->worked);
	add_sized(sheet, cells, sized, -1, NULL);
	g_autoptr(GArray) sums = tb_laid_reckon(sheet->worked);
	add_laid_lengths(sheet, cells, sums);
	for (unsigned piece = 0; piece < tb_pattern_count_pieces(sheet->pattern); piece++)
		add_measured_piece(sheet, cells, piece, sized);
	return columns;
}

static char *gauge_text(const tb_gauge *gauge)
{
	GString *text = g_string_new(NULL);
	g_autofree char *stitches = number(gauge->stitches, 2), *rows = number(gauge->rows, 2);
	g_autofree char *over = number(gauge->over_mm / (gauge->over_inches ? TB_MM_PER_INCH : 10), 2);
	g_string_append_printf(text, "%s sts", stitches);
	if (gauge->has_rows)
		g_string_append_printf(text, " and %s rows", rows);
	g_string_append_printf(text, " = %s %s. Make a swatch first.", over,
		gauge->over_inches ? "in" : "cm");
	return g_string_free(text, FALSE);
}

static char *range_text(double least, double most)
{
	g_autofree char *a = number(least, 2), *b = number(most, 2);
	if (least <= 0)
		return g_strdup_printf("%s or fewer", b);
	if (most <= 0)
		return g_strdup_printf("%s or more", a);
	return g_strdup_printf("%s–%s", a, b);
}

static void add_yarn(tb_sheet *sheet)
{
	const tb_pattern *pattern = sheet->pattern;
	const tb_yarn_weight *weight = tb_yarn_weight_get(pattern->yarn_weight);
	const char *note = pattern->yarn_note;
	if (weight == NULL) {
		if (note != NULL)
			tb_galley_fact(&sheet->galley, "Yarn", note);
		return;
	}
	g_autofree char *yarn = g_strdup_printf("Weight %d, %s (%s).%s%s", pattern->yarn_weight,
		weight->name, weight->kinds, note != NULL ? " " : "", note != NULL ? note : "");
	g_autofree char *range = range_text(weight->least, weight->most);
	g_autofree char *hooks = range_text(weight->least_hook, weight->most_hook);
	g_autofree char *standard = g_strdup_printf("%s %s over 4 in (10 cm) with a hook of %s mm is "
		"usual for weight %d (Craft Yarn Council, a guideline).", range,
		!sheet->options.uk_terms ? weight->stitch : *weight->stitch == 's' ? "dc" : "tr", hooks,
		pattern->yarn_weight);
	tb_galley_fact(&sheet->galley, "Yarn", yarn);
	tb_galley_fact(&sheet->galley, "Standard", standard);
	if (!pattern->gauge.given || tb_yarn_agrees(weight, &pattern->gauge))
		return;
	g_autofree char *over = number(pattern->gauge.stitches * 101.6 / pattern->gauge.over_mm, 1);
	g_autofree char *warning = g_strdup_printf("The gauge of this pattern, %s sts over 4 in, is not "
		"that of weight %d. Choose the yarn by the gauge, and make a swatch first.", over,
		pattern->yarn_weight);
	tb_galley_fact(&sheet->galley, "Warning", warning);
}

static void add_hook(tb_sheet *sheet)
{
	const tb_pattern *pattern = sheet->pattern;
	if (pattern->hook_mm <= 0) {
		if (pattern->hook != NULL)
			tb_galley_fact(&sheet->galley, "Hook", pattern->hook);
		return;
	}
	const char *us = tb_hook_us_size(pattern->hook_mm);
	g_autofree char *mm = number(pattern->hook_mm, 3);
	g_autofree char *text = us != NULL ? g_strdup_printf("%s mm (US %s)", mm, us) :
		pattern->hook_mm < 2.25 ?
		g_strdup_printf("%s mm, a steel hook. Makers number steel hooks differently: go by the "
			"millimetres.", mm) : g_strdup_printf("%s mm (no US size)", mm);
	tb_galley_fact(&sheet->galley, "Hook", text);
}

static void add_notes(tb_sheet *sheet)
{
	const char *label = "Notes";
	g_auto(GStrv) notes =
		g_strsplit(sheet->pattern->notes != NULL ? sheet->pattern->notes : "", "\n", -1);
	for (guint i = 0; notes[i] != NULL; i++) {
		if (*g_strstrip(notes[i]) == '\0')
			continue;
		tb_galley_fact(&sheet->galley, label, notes[i]);
		label = "";
	}
}

void tb_sheet_add_facts(tb_sheet *sheet)
{
	const tb_pattern *pattern = sheet->pattern;
	const char *names[TB_MAX_SIZES + 1] = {NULL};
	unsigned sizes = tb_pattern_count_sizes(pattern);
	g_autoptr(GPtrArray) cells = g_ptr_array_new_with_free_func(g_free);
	unsigned columns = gather_measurements(sheet, cells);
	bool measured = cells->len > columns;
	if (sizes > 1)
		tb_galley_heading(&sheet->galley, "Sizes", 1);
	for (unsigned i = 0; i < sizes; i++)
		names[i] = tb_pattern_get_size(pattern, i);
	g_autofree char *bracket = tb_sheet_bracket(sheet, names);
	if (*bracket != '\0' && sheet->options.size > 0)
		tb_galley_fact(&sheet->galley, "This size", bracket);
	else if (*bracket != '\0')
		tb_galley_paragraph(&sheet->galley, bracket);
	if (measured) {
		tb_galley_heading(&sheet->galley, "Finished measurements", sizes > 1 ? 2 : 1);
		tb_galley_table(&sheet->galley, cells, columns, 1, NULL);
	}

	add_motifs(sheet);
	tb_galley_heading(&sheet->galley, "Yarn, hook and gauge", 1);
	add_yarn(sheet);
	add_hook(sheet);
	g_autofree char *gauge = pattern->gauge.given ? gauge_text(&pattern->gauge) :
		g_strdup("None is given, so no measurements are.");
	tb_galley_fact(&sheet->galley, "Gauge", gauge);
	tb_galley_fact(&sheet->galley, "Terms", sheet->options.uk_terms ?
		"UK terms throughout." : "US terms throughout.");
	add_notes(sheet);
}

void tb_sheet_add_cautions(tb_sheet *sheet)
{
	/* Common practice. */
	static const char *const CAUTIONS[] = {
		"No loose parts, buttons or bobbles that can come off.",
		"No cords or long ties near the neck.",
		"Follow the safety rules of your country.",
	};
	const tb_pattern *pattern = sheet->pattern;
	if (!tb_text_is_for_child(pattern->title) && !tb_text_is_for_child(pattern->about) &&
		!tb_text_is_for_child(pattern->notes))
		return;
	tb_galley_heading(&sheet->galley, "For a baby or small child", 1);
	for (size_t i = 0; i < G_N_ELEMENTS(CAUTIONS); i++) {
		tb_galley_paragraph(&sheet->galley, CAUTIONS[i]);
		/* They are read together. */
		GArray *strips = sheet->galley.strips;
		g_array_index(strips, tb_strip, strips->len - 1).keep = i + 1 < G_N_ELEMENTS(CAUTIONS);
	}
}
