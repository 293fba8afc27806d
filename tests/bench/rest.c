/*
 * How cloth at rest lies, and what laying it costs: a line for every piece of the patterns named.
 *
 *     rest PATTERN...
 *
 * Lean and stretch are of stems, spacing of plain neighbours, "unlike" between a repeat or half and its image; sweeps
 * are those of the whole; the last column is the time of the layout by that of the SVG's own output, in this run.
 */
#include "lying.h"

#include <tambour/output.h>

#include <math.h>
#include <stdio.h>
#include <string.h>
#include <time.h>

static void print_number(double number, const char *format)
{
	if (isnan(number))
		printf("       –");
	else
		printf(format, number);
}

static void measure(const char *name, const tb_worked *worked, unsigned piece, const tb_text_measure *type,
	tb_diagnostics *diagnostics)
{
	tb_chart_options options = {.piece = piece, .full = true};
	clock_t begin = clock();
	g_autoptr(tb_chart) chart = tb_chart_create(worked, &options, type, diagnostics);
	clock_t laid = clock();
	if (chart == NULL) {
		printf("%-16s not charted\n", name);
		return;
	}
	g_autoptr(tb_drawing) drawing = tb_chart_draw(chart);
	GByteArray *bytes = tb_output_render(drawing, "svg", NULL, NULL);
	clock_t written = clock();
	if (bytes != NULL)
		g_byte_array_unref(bytes);
	tb_lying l = tb_lying_measure(chart);
	printf("%-16s %6u %3u", name, chart->placed->len, chart->turns);
	print_number(l.lean_middle, "%8.1f");
	print_number(l.lean_most, "%8.1f");
	print_number(l.stretch_least, "%8.2f");
	print_number(l.stretch_low, "%8.2f");
	print_number(l.stretch_high, "%8.2f");
	print_number(l.stretch_most, "%8.2f");
	print_number(l.spacing, "%8.3f");
	printf("%6u%6u%9.4f%6u", l.crossing, l.touching, l.unlike, chart->sweeps);
	printf("%8.2f\n", (double)(laid - begin) / fmax(1, (double)(written - laid)));
}

int main(int argc, char **argv)
{
	printf("%-16s %6s %3s%8s%8s%8s%8s%8s%8s%8s%6s%6s%9s%6s%8s\n", "piece", "sts", "N", "lean", "lean95", "least",
		"5%", "95%", "most", "cv", "cross", "touch", "unlike", "sweep", "time");
	for (int i = 1; i < argc; i++) {
		g_autofree char *text = NULL;
		gsize length;
		if (!g_file_get_contents(argv[i], &text, &length, NULL)) {
			printf("%s: not read\n", argv[i]);
			continue;
		}
		tb_source *source = tb_source_create(argv[i], text, length);
		tb_library *library = tb_library_create();
		tb_diagnostics *diagnostics = tb_diagnostics_create(source);
		tb_pattern *pattern = tb_pattern_read(source, library, diagnostics);
		tb_worked *worked = pattern != NULL ? tb_work(pattern, diagnostics) : NULL;
		tb_type *type = tb_type_create();
		tb_text_measure measure_type = tb_type_get_measure(type);
		g_autofree char *name = g_path_get_basename(argv[i]);
		char *dot = strrchr(name, '.');
		if (dot != NULL)
			*dot = '\0';
		for (unsigned piece = 0; worked != NULL && piece < tb_pattern_count_pieces(pattern); piece++)
			measure(name, worked, piece, &measure_type, diagnostics);
		if (worked == NULL)
			printf("%s: not understood\n", name);
		tb_type_destroy(type);
		tb_worked_destroy(worked);
		tb_pattern_destroy(pattern);
		tb_diagnostics_destroy(diagnostics);
		tb_library_destroy(library);
		tb_source_destroy(source);
	}
	return 0;
}
