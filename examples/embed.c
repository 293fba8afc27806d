/*
 * tambour inside a program of your own: what is wrong with a pattern, its counts, and its chart.
 *
 *     cc embed.c -o embed $(pkg-config --cflags --libs tambour)
 *     ./embed                        # the pattern below; the chart goes to embed.svg
 *     ./embed PATTERN CHART.svg
 *
 * It is C, and C++ as well.
 */
#include <stdio.h>
#include <string.h>
#include <tambour/tambour.h>

static const char RIDGES[] =
	"Title: Ridge swatch\n"
	"Sizes: small (large)\n"
	"Gauge: 14 sts and 8 rows = 10 cm\n"
	"\n"
	"SWATCH\n"
	"Ch 16 (24).\n"
	"Row 1 (RS): Sc in 2nd ch from hook and in each ch across, turn. [15 (23) sts]\n"
	"Row 2 (WS): Ch 3 (counts as dc), sk first st, dc in each st across, turn. [15 (23) sts]\n"
	"Row 3 (RS): Ch 3 (counts as dc), sk first st, dc in next 2 sts,\n"
	"*FPdc around next st, dc in next 3 sts; rep from * across. [15 (23) sts]\n"
	"Fasten off.\n";

/* The chart of the first piece as an SVG, in memory. NULL, with *error set, when it fails. */
static GByteArray *draw(const tb_worked *worked, tb_diagnostics *faults, GError **error)
{
	tb_chart_options options;
	memset(&options, 0, sizeof options); /* all sizes, US terms, right-handed, in colour */

	g_autoptr(tb_type) type = tb_type_create();
	if (type == NULL) {
		g_set_error(error, TB_OUTPUT_ERROR, TB_OUTPUT_NO_FONT, "there is no font to write with");
		return NULL;
	}
	tb_text_measure measure = tb_type_get_measure(type);
	g_autoptr(tb_chart) chart = tb_chart_create(worked, &options, &measure, faults);
	if (chart == NULL) { /* why, stands in faults now */
		g_set_error(error, TB_OUTPUT_ERROR, TB_OUTPUT_FAILED, "there is nothing to chart");
		return NULL;
	}
	g_autoptr(tb_drawing) drawing = tb_chart_draw(chart);
	return tb_output_render(drawing, "svg", NULL, error);
}

int main(int argc, char **argv)
{
	g_autoptr(GError) error = NULL;
	g_autofree char *text = NULL;
	gsize length = 0;
	if (argc > 1 && !g_file_get_contents(argv[1], &text, &length, &error)) {
		fprintf(stderr, "%s\n", error->message);
		return 3;
	}

	/* From here on each thing borrows those before it, and g_autoptr frees them last to first. */
	g_autoptr(tb_source) source = argc > 1 ? tb_source_create(argv[1], text, length) :
		tb_source_create("ridges", RIDGES, strlen(RIDGES));
	g_autoptr(tb_library) library = tb_library_create();
	g_autoptr(tb_diagnostics) faults = tb_diagnostics_create(source);
	g_autoptr(tb_pattern) pattern = tb_pattern_read(source, library, faults);
	g_autoptr(tb_worked) worked = pattern != NULL ? tb_work(pattern, faults) : NULL;

	if (worked != NULL) {
		g_autofree char *counts = tb_check_text(worked, faults, -1);
		fputs(counts, stdout);
	}
	/* A chart of wrong counts would be taken for a right one. */
	bool right = worked != NULL && tb_diagnostics_count_errors(faults) == 0;
	g_autoptr(GByteArray) svg = right ? draw(worked, faults, &error) : NULL;
	g_autofree char *told = tb_diagnostics_format(faults);
	fputs(told, stderr);
	if (!right)
		return 1;
	if (svg == NULL ||
		!tb_output_write(argc > 2 ? argv[2] : "embed.svg", svg->data, svg->len, &error)) {
		fprintf(stderr, "%s\n", error->message);
		return 3;
	}
	return 0;
}
