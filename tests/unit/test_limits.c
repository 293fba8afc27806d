/*
 * Every limit of support/limits.h that a pattern can reach: what is just within it is taken, what is
 * just past it is told at its place. A designer's own stitches are in test_limits_stitch.c, outputs in
 * test_limits_output.c; 20,000,000 stitches are worked by tests/hostile.
 */
#include "charting.h"
#include "support.h"

#include "hands/hands.h"
#include "support/limits.h"

#include <criterion/criterion.h>
#include <string.h>

#define HEAD "{\"format\":1,"
#define PIECES                                                                                     \
	"\"pieces\":[{\"name\":\"Back\",\"start\":\"Ch 9.\","                                          \
	"\"rows\":[\"Row 1: Sc in 2nd ch from hook and in each ch across.\"]}]}"
#define ROW_1 "Row 1: Sc in 2nd ch from hook and in each ch across.\n"

/* The first fault of CODE, or NULL. */
static const tb_diagnostic *find_fault(tb_case *c, const char *code)
{
	for (unsigned i = 0; i < tb_diagnostics_count(c->diagnostics); i++) {
		const tb_diagnostic *fault = tb_diagnostics_get(c->diagnostics, i);
		if (strcmp(fault->code, code) == 0)
			return fault;
	}
	return NULL;
}

/* No error at all. Owned TEXT. */
static void expect_taken(const char *what, char *text)
{
	tb_case c = tb_case_read("test", text);
	g_autofree char *faults = tb_case_faults(&c);
	cr_expect_eq(tb_diagnostics_count_errors(c.diagnostics), 0, "%s: %.300s", what, faults);
	cr_expect_not_null(c.worked, "%s", what);
	tb_case_finish(&c);
	g_free(text);
}

/* No fault of CODE; whatever else is wrong with it. Owned TEXT. */
static void expect_not(const char *what, const char *code, char *text)
{
	tb_case c = tb_case_read("test", text);
	const tb_diagnostic *fault = find_fault(&c, code);
	cr_expect_null(fault, "%s: %s", what, fault != NULL ? fault->message : "");
	tb_case_finish(&c);
	g_free(text);
}

/* A fault of CODE that says SAYS, at LINE and COLUMN. Owned TEXT. */
static void expect_told(const char *what, tb_severity severity, const char *code, const char *says,
	unsigned line, unsigned column, char *text)
{
	tb_case c = tb_case_read("test", text);
	const tb_diagnostic *fault = find_fault(&c, code);
	g_autofree char *faults = tb_case_faults(&c);
	cr_expect_not_null(fault, "%s: no %s, but %.300s", what, code, faults);
	if (fault != NULL) {
		unsigned l = 0, at = 0;
		cr_expect_eq(fault->severity, severity, "%s", what);
		cr_expect(fault->has_place, "%s: no place", what);
		cr_expect_not_null(strstr(fault->message, says), "%s: %s", what, fault->message);
		cr_expect_not_null(fault->hint, "%s: nothing says what to do", what);
		tb_source_locate(c.source, fault->place.start, &l, &at);
		cr_expect(l == line && at == column, "%s: at %u:%u", what, l, at);
	}
	tb_case_finish(&c);
	g_free(text);
}

static void expect_fault(const char *what, const char *code, const char *says, unsigned line,
	unsigned column, char *text)
{
	expect_told(what, TB_ERROR, code, says, line, column, text);
}

static char *repeat(const char *text, unsigned times)
{
	GString *all = g_string_new(NULL);
	for (unsigned i = 0; i < times; i++)
		g_string_append(all, text);
	return g_string_free(all, FALSE);
}

/* A plain text of one piece. */
static char *piece(const char *head, const char *rows)
{
	return g_strconcat(head, "\nGauge: 12 sts and 9 rows = 10 cm\n\nBACK\n", rows, NULL);
}

/* PIECE's rows begin on line 5 where HEAD is one line. */
#define FIRST_ROW 6u

Test(limits, bytes_of_a_pattern)
{
	GString *text = g_string_new(HEAD PIECES);
	while (text->len < TB_LIMIT_PATTERN_BYTES)
		g_string_append_c(text, ' ');
	g_autofree char *over = g_strconcat(text->str, " ", NULL);
	expect_taken("4 MiB", g_string_free(text, FALSE));
	expect_fault("4 MiB and a byte", "pattern-too-large", "4 MiB", 1, TB_LIMIT_PATTERN_BYTES + 1,
		g_steal_pointer(&over));
}

Test(limits, bytes_of_a_row)
{
	for (unsigned past = 0; past < 2; past++) {
		static const char row[] = "Row 1: Sc in 2nd ch from hook and in each ch across.";
		g_autofree char *blanks = g_strnfill(TB_LIMIT_ROW_BYTES - strlen(row) + past, ' ');
		char *text =
			g_strconcat(HEAD "\"pieces\":[{\"name\":\"Back\",\"start\":\"Ch 9.\",\"rows\":[\"", row,
				blanks, "\"]}]}", NULL);
		if (past)
			expect_fault("64 KiB and a byte", "row-too-long", "64 KiB", 1, 63, text);
		else
			expect_taken("64 KiB", text);
	}
}

Test(limits, repeats_in_repeats)
{
	for (unsigned past = 0; past < 2; past++) {
		g_autofree char *open = repeat("[", TB_LIMIT_NESTING + past);
		g_autofree char *close = repeat("] once", TB_LIMIT_NESTING + past);
		g_autofree char *rows =
			g_strdup_printf("Ch 2.\nRow 1: %ssc in 2nd ch from hook%s.\n", open, close);
		char *text = piece("Title: T", rows);
		if (past)
			expect_fault(
				"33 deep", "nesting-too-deep", "32 deep", FIRST_ROW, 8 + TB_LIMIT_NESTING, text);
		else
			expect_taken("32 deep", text);
	}
}

Test(limits, brackets_and_values_of_json)
{
	/* The pattern itself is the first bracket. */
	for (unsigned past = 0; past < 2; past++) {
		g_autofree char *open = repeat("[", TB_LIMIT_NESTING - 1 + past);
		g_autofree char *close = repeat("]", TB_LIMIT_NESTING - 1 + past);
		char *text = g_strdup_printf("{\"title\":%s%s}", open, close);
		if (past)
			expect_fault("33 brackets", "json-depth", "nested", 1, 10 + TB_LIMIT_NESTING - 1, text);
		else
			expect_not("32 brackets", "json-depth", text);
		/* The pattern, its list, and what is in the list; the last is the one too many. */
		g_autofree char *values = repeat("1,", TB_LIMIT_JSON_VALUES - 3 + past);
		text = g_strdup_printf("{\"title\":[%s1]}", values);
		if (past)
			expect_fault("250,001 values", "pattern-too-large", "250000 values", 1,
				11 + 2 * (TB_LIMIT_JSON_VALUES - 2), text);
		else
			expect_not("250,000 values", "pattern-too-large", text);
	}
}

Test(limits, names_and_terms)
{
	for (unsigned past = 0; past < 2; past++) {
		g_autofree char *name = g_strnfill(TB_LIMIT_NAME_BYTES + past, 'n');
		char *size = g_strdup_printf(HEAD "\"sizes\":[\"S\",\"%s\"]," PIECES, name);
		char *back = g_strdup_printf(HEAD
			"\"pieces\":[{\"name\":\"%s\",\"start\":\"Ch 9.\","
			"\"rows\":[\"Row 1: Sc in 2nd ch from hook and in each ch across.\"]}]}",
			name);
		g_autofree char *term = g_strnfill(TB_LIMIT_TERM_BYTES + past, 't');
		char *stitch = g_strdup_printf(HEAD "\"stitches\":[{\"us\":\"%s\",\"us_name\":\"x\","
											"\"height\":1,\"moves\":\"insert, draw up, through "
											"2\",\"symbol\":{\"form\":\"cross\"}}]," PIECES,
			term);
		if (past) {
			expect_fault("size of 201", "size-name", "too long", 1, 26, size);
			expect_fault("piece of 201", "piece-name", "too long", 1, 31, back);
			expect_fault("term of 81", "stitch-value", "not a term", 1, 25, stitch);
		} else {
			expect_taken("size of 200", size);
			expect_taken("piece of 200", back);
			expect_taken("term of 80", stitch);
		}
	}
}

/* A text of so many letters under KEY, or behind "FIELD:". */
static void expect_length(const char *key, const char *field, size_t most)
{
	for (size_t past = 0; past < 2; past++) {
		g_autofree char *letters = g_strnfill(most + past, 'x');
		char *json = g_strdup_printf(HEAD "\"%s\":\"%s\"," PIECES, key, letters);
		g_autofree char *head = g_strdup_printf("%s: %s", field, letters);
		char *text = piece(head, "Ch 9.\n" ROW_1);
		if (past) {
			expect_fault(key, "text-too-long", "bytes", 1, 16 + (unsigned)strlen(key), json);
			expect_fault(field, "text-too-long", "bytes", 1, 1, text);
		} else {
			expect_taken(key, json);
			expect_taken(field, text);
		}
	}
}

Test(limits, words_around_the_rows)
{
	expect_length("title", "Title", TB_LIMIT_LINE_BYTES);
	expect_length("designer", "Designer", TB_LIMIT_LINE_BYTES);
	expect_length("licence", "Licence", TB_LIMIT_LINE_BYTES);
	expect_length("about", "About", TB_LIMIT_PROSE_BYTES);
	/* Yarn may be said again and again. */
	for (unsigned past = 0; past < 2; past++) {
		g_autofree char *yarns = repeat("Yarn: wool\n", TB_LIMIT_LINE_BYTES / 5 + past);
		char *text = piece(yarns, "Ch 9.\n" ROW_1);
		if (past)
			expect_fault(
				"801 yarns", "text-too-long", "4000 bytes", TB_LIMIT_LINE_BYTES / 5 + 1, 1, text);
		else
			expect_taken("800 yarns", text);
	}
	/* 64 bytes of prose to a line. */
	for (unsigned past = 0; past < 2; past++) {
		g_autofree char *line = g_strnfill(63, 'x');
		g_autofree char *lines = g_strconcat("Note: ", line + 6, "\n", line, "\n", NULL);
		g_autofree char *notes = repeat(lines, TB_LIMIT_PROSE_BYTES / 128);
		g_autofree char *head = g_strconcat("Title: T\n\n", notes, past ? "Note: it.\n" : "", NULL);
		char *text = piece(head, "Ch 9.\n" ROW_1);
		if (past)
			expect_fault("notes past 64 KiB", "text-too-long", "64 KiB", 1027, 1, text);
		else
			expect_taken("notes of 64 KiB", text);
	}
}

Test(limits, where_a_piece_begins)
{
	for (unsigned past = 0; past < 2; past++) {
		static const char from[] = "From Back: sts 1-3";
		g_autofree char *blanks = g_strnfill(TB_LIMIT_FROM_BYTES - strlen(from) + past, '.');
		g_autofree char *rows = g_strconcat(
			"Ch 9.\n" ROW_1 "\nFRONT\n", from, blanks, "\nRow 1: Sc in each st across.\n", NULL);
		char *text = piece("Title: T", rows);
		if (past)
			expect_fault("from, too long", "piece-from", "", FIRST_ROW + 3, 1, text);
		else
			expect_taken("from", text);
	}
}

Test(limits, sizes)
{
	for (unsigned past = 0; past < 2; past++) {
		GString *json = g_string_new(HEAD "\"sizes\":["), *text = g_string_new("Sizes: 1 (2");
		for (unsigned i = 0; i < TB_LIMIT_SIZES + past; i++) {
			g_string_append_printf(json, "%s\"%u\"", i > 0 ? "," : "", i + 1);
			if (i > 1)
				g_string_append_printf(text, ", %u", i + 1);
		}
		g_string_append(json, "]," PIECES);
		g_string_append_c(text, ')');
		g_autofree char *head = g_string_free(text, FALSE);
		char *words = piece(head, "Ch 9.\n" ROW_1);
		if (past) {
			expect_fault("25 sizes", "size-list", "may have 24", 1, 21, g_string_free(json, FALSE));
			expect_fault("25 sizes in words", "size-list", "may have 24", 1, 8, words);
		} else {
			expect_taken("24 sizes", g_string_free(json, FALSE));
			expect_taken("24 sizes in words", words);
		}
	}
}

/* "3 (3, -, 0, ...) times": holes in a bracket of 24. */
Test(limits, twenty_four_sizes_with_holes)
{
	GString *head = g_string_new("Sizes: 1 (2"), *times = g_string_new("3 (3");
	for (unsigned i = 2; i < TB_LIMIT_SIZES; i++) {
		g_string_append_printf(head, ", %u", i + 1);
		g_string_append(times, i % 3 == 0 ? ", -" : i % 3 == 1 ? ", 0" : ", 3");
	}
	g_autofree char *sizes = g_strconcat(head->str, ")", NULL);
	g_autofree char *rows =
		g_strdup_printf("Ch 9.\n" ROW_1 "Row 2: Ch 1, sc in next 2 sts, "
						"[sc in next 2 sts] %s) times, leave rem sts unworked.\n",
			times->str);
	g_string_free(head, TRUE);
	g_string_free(times, TRUE);
	char *text = piece(sizes, rows);
	tb_case c = tb_case_read("test", text);
	cr_expect_eq(tb_diagnostics_count_errors(c.diagnostics), 0);
	cr_assert_eq(tb_pattern_count_sizes(c.pattern), 24);
	for (unsigned i = 0; i < TB_LIMIT_SIZES; i++) {
		/* 2 and 3 times 2, where the size has them */
		guint32 stitches = tb_fabric_row(tb_worked_fabric(c.worked, 0, i), 2)->stitches;
		cr_expect_eq(stitches, i < 2 || i % 3 == 2 ? 8u : 2u, "size %u: %u", i + 1, stitches);
	}
	g_free(text);
	tb_case_finish(&c);
}

Test(limits, pieces_and_charts)
{
	for (unsigned past = 0; past < 2; past++) {
		GString *json = g_string_new(HEAD "\"pieces\":[\n"), *text = g_string_new("Title: T\n");
		GString *charts = g_string_new(HEAD "\"charts\":[\n"), *asked = g_string_new(NULL);
		for (unsigned i = 0; i < TB_LIMIT_PIECES + past; i++) {
			g_string_append_printf(json,
				"%s{\"name\":\"P%u\",\"start\":\"Ch 2.\",\"rows\":[\"Row 1: Sc "
				"in 2nd ch from hook.\"]}",
				i > 0 ? ",\n" : "", i);
			g_string_append_printf(text, "\nPIECE %u:\nCh 2.\nRow 1: Sc in 2nd ch from hook.\n", i);
		}
		for (unsigned i = 0; i < TB_LIMIT_CHARTS + past; i++) {
			g_string_append(charts, i > 0 ? ",\n{}" : "{}");
			g_string_append(asked, "Chart: Back\n");
		}
		g_string_append(json, "]}");
		g_string_append(charts, "]," PIECES);
		g_autofree char *requests = g_string_free(asked, FALSE);
		char *words = piece(requests, "Ch 9.\n" ROW_1);
		if (past) {
			expect_fault("1,001 pieces", "piece-list", "1000 pieces", TB_LIMIT_PIECES + 2, 1,
				g_string_free(json, FALSE));
			expect_fault("1,001 pieces in words", "piece-list", "1000 pieces",
				4 * TB_LIMIT_PIECES + 3, 1, g_string_free(text, FALSE));
			expect_fault("1,001 charts", "chart-list", "1000 charts", TB_LIMIT_CHARTS + 2, 1,
				g_string_free(charts, FALSE));
			expect_fault("1,001 charts in words", "chart-list", "1000 charts", TB_LIMIT_CHARTS + 1,
				1, words);
		} else {
			expect_taken("1,000 pieces", g_string_free(json, FALSE));
			expect_taken("1,000 pieces in words", g_string_free(text, FALSE));
			expect_taken("1,000 charts", g_string_free(charts, FALSE));
			expect_taken("1,000 charts in words", words);
		}
	}
}

/* Row 2 with WORDS in it, of a piece of 8 sc. */
static char *row_2(const char *words)
{
	g_autofree char *rows = g_strdup_printf("Ch 9.\n" ROW_1 "Row 2: Ch 1, %s.\n", words);
	return piece("Title: T", rows);
}

Test(limits, numbers)
{
	expect_not("a million", "number-too-large", row_2("sc in next 1000000 sts"));
	expect_fault("a million and one", "number-too-large", "larger than any row", FIRST_ROW + 1, 25,
		row_2("sc in next 1000001 sts"));
	expect_fault("more than any number", "number-too-large", "larger than any row", FIRST_ROW + 1,
		25, row_2("sc in next 99999999999999999999999999999999 sts"));
	expect_not("100 rows below", "rows-below", row_2("FPdc around st 100 rows below"));
	expect_fault("101 rows below", "rows-below", "1 to 100", FIRST_ROW + 1, 29,
		row_2("FPdc around st 101 rows below"));
	static const char until[] =
		"Ch 2.\nRow 1: Sc in 2nd ch from hook, turn.\n"
		"Row 2: Ch 1, sc in first st, turn.\nRep Row 2 until piece measures %s.\n";
	g_autofree char *most = g_strdup_printf(until, "10000 cm");
	g_autofree char *past = g_strdup_printf(until, "10000.1 cm");
	expect_taken("100 m", piece("Title: T", most));
	expect_fault("100.001 m", "measure-value", "no piece measures that", FIRST_ROW + 2, 32,
		piece("Title: T", past));
}

static char *with_gauge(const char *stitches, const char *over)
{
	return g_strdup_printf(
		HEAD "\"gauge\":{\"stitches\":%s,\"rows\":9,\"over\":\"%s\"}," PIECES, stitches, over);
}

static char *with_line(const char *line)
{
	return g_strdup_printf("%s\n\nBACK\nCh 9.\n" ROW_1, line);
}

Test(limits, gauge_and_hook)
{
	static const char *const bad[] = {"0", "-1", "1000.1", "1e308", "1e999", "-1e308"};
	expect_taken("1,000 sts", with_gauge("1000", "10 cm"));
	expect_taken("a thousandth", with_gauge("0.001", "10 cm"));
	for (size_t i = 0; i < G_N_ELEMENTS(bad); i++)
		expect_fault(bad[i], "gauge-value", "at most 1000", 1, 33, with_gauge(bad[i], "10 cm"));
	expect_fault("NaN", "json-syntax", "quotes", 1, 33, with_gauge("NaN", "10 cm"));
	expect_fault(
		"-Infinity", "json-syntax", "not a number", 1, 33, with_gauge("-Infinity", "10 cm"));
	expect_taken("over 1 m", with_gauge("12", "100 cm"));
	expect_fault("over 1.001 m", "gauge-value", "no length", 1, 52, with_gauge("12", "100.1 cm"));

	expect_taken("1,000 sts in words", with_line("Gauge: 1000 sts and 9 rows = 10 cm"));
	static const char *const words[] = {"0 sts and 9 rows = 10 cm", "1000.1 sts and 9 rows = 10 cm",
		"-1 sts and 9 rows = 10 cm", "1e308 sts and 9 rows = 10 cm", "12 sts and 0 rows = 10 cm",
		"12 sts and -1 rows = 10 cm", "12 sts and 1000.1 rows = 10 cm",
		"12 sts and 9 rows = 1001 mm"};
	for (size_t i = 0; i < G_N_ELEMENTS(words); i++) {
		g_autofree char *line = g_strconcat("Gauge: ", words[i], NULL);
		expect_fault(words[i], "gauge-value", "gauge", 1, 8, with_line(line));
	}
	expect_taken("a dash", with_line("Gauge: 4 in - 12 sts - 9 rows"));

	expect_taken("0.3 mm", with_line("Hook: 0.3 mm"));
	expect_taken("60 mm", with_line("Hook: 60 mm"));
	expect_told("0.29 mm", TB_WARNING, "hook-size", "mm", 1, 7, with_line("Hook: 0.29 mm"));
	expect_told("60.1 mm", TB_WARNING, "hook-size", "mm", 1, 7, with_line("Hook: 60.1 mm"));
}

Test(limits, stitches_of_a_row)
{
	/* The turning chain is made in the row as well. */
	static const char rows[] = "Ch 100000.\nRow 1: Sc in 2nd ch from hook and in each ch across.\n"
							   "Row 2: Ch 1, sc in each st to last st, %s.\n";
	g_autofree char *within = g_strdup_printf(rows, "sc in last st");
	g_autofree char *past = g_strdup_printf(rows, "2 sc in last st");
	expect_taken("100,000 sts", piece("Title: T", within));
	expect_fault(
		"100,001 sts", "limit-row", "100000 sts", FIRST_ROW + 1, 40, piece("Title: T", past));
	expect_fault("100,001 ch", "limit-row", "100000 ch", FIRST_ROW - 1, 1,
		piece("Title: T", "Ch 100001.\n" ROW_1));
}

Test(limits, rows_of_a_piece)
{
	static const char rows[] = "Ch 2.\nRow 1: Sc in 2nd ch from hook, turn.\n"
							   "Row 2: Ch 1, sc in first st, turn.\nRep Row 2 %u times.\n";
	g_autofree char *within = g_strdup_printf(rows, TB_LIMIT_PIECE_ROWS - 2);
	g_autofree char *past = g_strdup_printf(rows, TB_LIMIT_PIECE_ROWS - 1);
	expect_taken("100,000 rows", piece("Title: T", within));
	expect_fault(
		"100,001 rows", "limit-rows", "100000 rows", FIRST_ROW + 2, 1, piece("Title: T", past));
	expect_fault("row 100,001", "row-number", "1 to 100000", FIRST_ROW, 5,
		piece("Title: T", "Ch 2.\nRow 100001: Sc in 2nd ch from hook.\n"));
	for (unsigned more = 0; more < 2; more++) {
		g_autofree char *empty = repeat("\"\",\n", TB_LIMIT_PIECE_ROWS - 1 + more);
		char *text =
			g_strconcat(HEAD "\"pieces\":[{\"name\":\"Back\",\"start\":\"Ch 9.\",\"rows\":[\n",
				empty, "\"\"]}]}", NULL);
		if (more)
			expect_fault("100,001 rows written", "piece-rows", "100000 rows",
				TB_LIMIT_PIECE_ROWS + 2, 1, text);
		else
			expect_not("100,000 rows written", "piece-rows", text);
	}
}

/* The last two stitches of 20 million, without those before them. */
Test(limits, stitches_of_a_pattern)
{
	tb_case c = tb_case_rows("", "Ch 9.", "Row 1: Sc in 2nd ch from hook and in each ch across.");
	const tb_fabric *fabric = tb_worked_fabric(c.worked, 0, 0);
	tb_working working = {.pattern = c.pattern,
		.worked = c.worked,
		.diagnostics = c.diagnostics,
		.made = TB_LIMIT_ALL_STITCHES - 1,
		.most_steps = TB_LIMIT_STEPS};
	tb_hands h;
	tb_hands_init(&h, &working, 0, 0);
	h.sentence = fabric->rows[1].sentence;
	tb_made_row row = {0};
	g_array_append_val(h.cloth.rows, row);
	working.gather = tb_gather_create(c.pattern, "Swatch");
	const tb_stitch *chain = tb_library_find(c.library, "ch");
	cr_expect_eq(tb_hands_make(&h, chain, NULL, 0, fabric->rows[1].sentence->span), 0u);
	cr_expect_not(working.stopped);
	cr_expect_eq(
		tb_hands_make(&h, chain, NULL, 0, fabric->rows[1].sentence->span), (guint32)TB_NONE);
	cr_expect(working.stopped);
	tb_gather_tell(working.gather, c.diagnostics);
	const tb_diagnostic *fault = find_fault(&c, "limit-stitches");
	cr_assert_not_null(fault);
	cr_expect(fault->has_place);
	tb_hands_finish(&h);
	tb_case_finish(&c);
}

/* What working may keep is told at its row, and nothing more is worked. */
Test(limits, memory_of_working)
{
	g_autofree char *whole = piece("Title: T", "Ch 9.\n" ROW_1);
	tb_case c = tb_case_read("test.txt", whole);
	const tb_fabric *fabric = tb_worked_fabric(c.worked, 0, 0);
	for (unsigned past = 0; past < 2; past++) {
		tb_working working = {.pattern = c.pattern, .worked = c.worked, .diagnostics = c.diagnostics,
			.arena = tb_arena_create(), .most_steps = TB_LIMIT_STEPS};
		working.kept = TB_LIMIT_WORKING_BYTES - 1 - sizeof(tb_made_row) + past;
		tb_hands h;
		tb_hands_init(&h, &working, 0, 0);
		h.sentence = fabric->rows[1].sentence;
		tb_made_row row = {0};
		g_array_append_val(h.cloth.rows, row);
		working.gather = tb_gather_create(c.pattern, "Back");
		cr_expect_eq(tb_hands_has_memory(&h, h.sentence->span), !past);
		cr_expect_eq(working.stopped, past == 1);
		tb_gather_tell(working.gather, c.diagnostics);
		const tb_diagnostic *fault = find_fault(&c, "limit-memory");
		cr_expect_eq(fault != NULL, past == 1);
		cr_expect(fault == NULL || (fault->has_place && fault->hint != NULL && strstr(fault->message, "480 MiB") != NULL));
		tb_hands_finish(&h);
		tb_arena_destroy(working.arena);
	}
	tb_case_finish(&c);
}

/* A chart of one stitch more than there is memory for is told at its piece; "--full" draws every stitch. */
Test(limits, memory_of_drawing)
{
	const unsigned most = (unsigned)(TB_LIMIT_DRAWING_BYTES / TB_DRAWING_STITCH_BYTES);
	for (unsigned past = 0; past < 2; past++) {
		unsigned rows = past ? most / 20000 + 1 : 3;
		g_autofree char *text = g_strdup_printf("Ch 20001.\n" ROW_1 "Rows 2-%u: Ch 1, turn, sc in each st across.\n", rows);
		g_autofree char *whole = piece("Title: T", text);
		tb_case c = tb_case_read("test.txt", whole);
		tb_chart_options options = {.full = true};
		tb_chart *chart = tb_case_chart(&c, &options);
		const tb_diagnostic *fault = find_fault(&c, "limit-drawing");
		cr_expect_eq(chart != NULL, !past);
		cr_expect_eq(fault != NULL, past == 1);
		cr_expect(fault == NULL || (fault->has_place && fault->hint != NULL));
		tb_chart_destroy(chart);
		tb_case_finish(&c);
	}
}
