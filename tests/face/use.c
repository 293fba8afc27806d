/*
 * The library as a program of somebody else has it, through its installed headers alone: in several
 * threads at once, in a country with other numbers and letters, and with numbers out of range.
 *
 *     use threads|country|range PATTERN...
 *
 * Says what is wrong; status 1 then.
 */
#include <locale.h>
#include <stdio.h>
#include <string.h>
#include <tambour/tambour.h>

#define THREADS 4

/* Capitals: in Turkish, small letters of IN are none that a pattern knows. */
static const char LOUD[] = "Title: LOUD STRIP\nGauge: 13.5 sts and 9.25 rows = 10 cm\n\n"
	"MIDDLE STRIP\nCH 12.\n"
	"ROW 1 (RS): DC IN 4TH CH FROM HOOK AND IN EACH CH ACROSS, TURN. [10 STS]\n"
	"ROW 2: CH 3 (COUNTS AS DC), SK FIRST ST, FPDC AROUND NEXT ST, *DC IN NEXT ST, FPDC AROUND "
	"NEXT ST; REP FROM * ACROSS, TURN. [10 STS]\n"
	"REP ROW 2 UNTIL PIECE MEASURES 1 CM.\n";

/* Its hint says the gauge again. */
static const char FAULTY[] = "Gauge: 13.5 sts and 9.25 rows\n\nSTRIP\nCh 5.\n";

static bool failed;

static void check(bool good, const char *what)
{
	if (!good)
		printf("FAIL %s\n", what);
	failed = failed || !good;
}

static void add(GPtrArray *results, char *text)
{
	g_ptr_array_add(results, text != NULL ? text : g_strdup("(nothing)"));
}

/* Bytes as a text that says all of them. */
static void add_bytes(GPtrArray *results, GByteArray *bytes)
{
	if (bytes == NULL) {
		add(results, NULL);
		return;
	}
	add(results, g_base64_encode(bytes->data, bytes->len));
	g_byte_array_unref(bytes);
}

static void add_charts(GPtrArray *results, const tb_worked *worked, tb_diagnostics *faults)
{
	static const char *const KINDS[] = {"svg", "pdf", "png"};
	tb_chart_options options = {0};
	tb_page_options page = {0};
	tb_sheet_options sheet = {0};
	g_autoptr(tb_type) type = tb_type_create();
	tb_text_measure measure = tb_type_get_measure(type);
	g_autoptr(tb_chart) chart = tb_chart_create(worked, &options, &measure, faults);
	g_autoptr(tb_drawing) drawing = tb_chart_draw(chart);
	for (size_t i = 0; i < G_N_ELEMENTS(KINDS); i++)
		add_bytes(results, tb_output_render(drawing, KINDS[i], NULL, NULL));
	add(results, tb_chart_to_json(chart));
	add(results, tb_page_html(worked, &page, &measure, faults, NULL));
	g_autoptr(tb_pages) pages = tb_sheet_create(worked, &sheet, &measure, faults);
	g_autoptr(tb_document) document = tb_pages_draw(pages);
	add_bytes(results, tb_output_render_document(document, NULL, NULL));
}

static void add_all(GPtrArray *results, const char *name, const char *text, size_t length)
{
	g_autoptr(tb_source) source = tb_source_create(name, text, length);
	g_autoptr(tb_library) library = tb_library_create();
	g_autoptr(tb_diagnostics) faults = tb_diagnostics_create(source);
	g_autoptr(tb_pattern) pattern = tb_pattern_read(source, library, faults);
	g_autoptr(tb_worked) worked = pattern != NULL ? tb_work(pattern, faults) : NULL;
	if (worked != NULL) {
		add(results, tb_check_text(worked, faults, -1));
		add(results, tb_check_json(worked, faults, -1));
		for (unsigned i = 0; i < tb_pattern_count_pieces(pattern); i++)
			add(results, tb_rows_text(worked, (int)i, -1, true));
		if (tb_diagnostics_count_errors(faults) == 0)
			add_charts(results, worked, faults);
	}
	add(results, tb_diagnostics_format(faults));
}

/* All that the library says of the patterns in FILES, which end with a NULL. */
static gpointer run(gpointer files)
{
	GPtrArray *results = g_ptr_array_new_with_free_func(g_free);
	add_all(results, "loud", LOUD, strlen(LOUD));
	add_all(results, "faulty", FAULTY, strlen(FAULTY));
	for (char **file = files; *file != NULL; file++) {
		g_autofree char *text = NULL;
		gsize length;
		if (g_file_get_contents(*file, &text, &length, NULL))
			add_all(results, *file, text, length);
	}
	return results;
}

static void check_same(const GPtrArray *a, const GPtrArray *b, const char *what)
{
	check(a->len > 10 && a->len == b->len, "results are missing");
	for (guint i = 0; i < MIN(a->len, b->len); i++) {
		const char *x = g_ptr_array_index(a, i), *y = g_ptr_array_index(b, i);
		size_t at = 0;
		if (strcmp(x, y) == 0)
			continue;
		while (x[at] == y[at])
			at++;
		printf("result %u differs: '%.40s', '%.40s'\n", i, x + at, y + at);
		check(false, what);
	}
}

static void check_threads(char **files)
{
	GThread *threads[THREADS];
	g_autoptr(GPtrArray) alone = run(files);
	for (int i = 0; i < THREADS; i++)
		threads[i] = g_thread_new("use", run, files);
	for (int i = 0; i < THREADS; i++) {
		g_autoptr(GPtrArray) together = g_thread_join(threads[i]);
		check_same(alone, together, "threads get in each other's way");
	}
}

static void check_country(char **files)
{
	char number[16];
	g_autoptr(GPtrArray) home = run(files);
	check(strstr(g_ptr_array_index(home, 0), "Every row comes out") != NULL, "LOUD has a fault");
	if (setlocale(LC_NUMERIC, "tr_TR") == NULL || setlocale(LC_CTYPE, "tr_TR") == NULL) {
		check(false, "there is no locale tr_TR to try");
		return;
	}
	g_snprintf(number, sizeof number, "%.1f", 0.5);
	g_autofree char *lower = g_utf8_strdown("I", -1);
	check(strcmp(number, "0,5") == 0 && strcmp(lower, "i") != 0, "this locale tries nothing");
	g_autoptr(GPtrArray) abroad = run(files);
	check_same(home, abroad, "the country's ways come through");
}

static unsigned warned;

static void count_warning(const gchar *domain, GLogLevelFlags level, const gchar *message,
	gpointer data)
{
	(void)domain, (void)message, (void)data;
	warned += (level & G_LOG_LEVEL_CRITICAL) != 0;
}

static double measure_fixed(void *data, const char *text, double size_mm, tb_face face)
{
	(void)data, (void)face;
	return 0.6 * size_mm * (double)g_utf8_strlen(text, -1);
}

static void check_range(void)
{
	static const tb_text_measure MEASURE = {measure_fixed, NULL};
	g_autoptr(tb_source) source = tb_source_create("loud", LOUD, strlen(LOUD));
	g_autoptr(tb_library) library = tb_library_create();
	g_autoptr(tb_diagnostics) faults = tb_diagnostics_create(source);
	g_autoptr(tb_pattern) pattern = tb_pattern_read(source, library, faults);
	g_autoptr(tb_worked) worked = tb_work(pattern, faults);
	unsigned beyond = tb_library_count(library);
	double width, height;

	check(tb_pattern_get_size(pattern, 0) != NULL && tb_pattern_get_size(pattern, 1) == NULL &&
		tb_pattern_get_size(pattern, 99) == NULL, "tb_pattern_get_size");
	check(tb_pattern_get_piece(pattern, 0) != NULL && tb_pattern_get_piece(pattern, 1) == NULL,
		"tb_pattern_get_piece");
	check(tb_library_get(library, beyond - 1) != NULL && tb_library_get(library, beyond) == NULL,
		"tb_library_get");
	check(tb_diagnostics_get(faults, tb_diagnostics_count(faults)) == NULL, "tb_diagnostics_get");
	check(warned == 0, "a getter warns");

	const tb_chart_options no_piece = {.piece = 1}, no_size = {.size = 2};
	check(tb_chart_create(worked, &no_piece, &MEASURE, faults) == NULL && warned == 1 &&
		tb_chart_create(worked, &no_size, &MEASURE, faults) == NULL && warned == 2,
		"tb_chart_create");
	check(tb_rows_text(worked, 1, -1, false) == NULL && warned == 3 &&
		tb_rows_text(worked, 0, 1, false) == NULL && warned == 4, "tb_rows_text");
	const tb_sheet_options no_sheet = {.size = 2}, no_paper = {.paper = TB_PAPER_COUNT};
	check(tb_sheet_create(worked, &no_sheet, &MEASURE, faults) == NULL && warned == 5 &&
		tb_sheet_create(worked, &no_paper, &MEASURE, faults) == NULL && warned == 6,
		"tb_sheet_create");
	const tb_poster_options no_poster = {.chart = {.piece = 1}};
	check(tb_poster_create(worked, &no_poster, &MEASURE, faults) == NULL && warned == 7,
		"tb_poster_create");
	const tb_page_options no_page = {.piece = 2};
	check(tb_page_html(worked, &no_page, &MEASURE, faults, NULL) == NULL && warned == 8,
		"tb_page_html");
	tb_paper_get_size(TB_PAPER_COUNT, &width, &height);
	check(width == 0 && height == 0 && warned == 9, "tb_paper_get_size");
	check(tb_diagnostics_count_errors(faults) == 0, "a mistake of the program is told as a fault");

	const tb_chart_options wide = {.stitch_width_mm = 40};
	g_autoptr(tb_chart) chart = tb_chart_create(worked, &wide, &MEASURE, faults);
	g_autoptr(tb_drawing) drawing = tb_chart_draw(chart);
	g_autoptr(GError) error = NULL;
	check(tb_output_render(drawing, "bmp", NULL, &error) == NULL &&
		g_error_matches(error, TB_OUTPUT_ERROR, TB_OUTPUT_FAILED), "an unknown format");
	g_clear_error(&error);
	const tb_output_options fine = {.dpi = 3000};
	check(tb_output_render(drawing, "png", &fine, &error) == NULL &&
		g_error_matches(error, TB_OUTPUT_ERROR, TB_OUTPUT_TOO_LARGE), "a PNG too large");
	g_clear_error(&error);
	check(!tb_output_write("/no/such/folder", "", 0, &error) &&
		g_error_matches(error, G_FILE_ERROR, G_FILE_ERROR_NOENT), "a folder that is not there");
}

int main(int argc, char **argv)
{
	if (argc < 2)
		return 2;
	g_log_set_default_handler(count_warning, NULL);
	if (strcmp(argv[1], "threads") == 0)
		check_threads(argv + 2);
	else if (strcmp(argv[1], "country") == 0)
		check_country(argv + 2);
	else if (strcmp(argv[1], "range") == 0)
		check_range();
	else
		return 2;
	return failed;
}
