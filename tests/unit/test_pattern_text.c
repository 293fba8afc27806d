/* The pattern's model from a plain text, as a blog post has it. */
#include "support.h"

#include "pattern/pattern.h"
#include "pattern/read.h"
#include "pattern/text_kinds.h"
#include "pattern/text_reader.h"
#include "support/limits.h"

#include <criterion/criterion.h>
#include <string.h>

typedef struct {
	tb_source *source;
	tb_library *library;
	tb_diagnostics *faults;
	tb_pattern *pattern;
} reading;

static reading read_bytes(const char *text, size_t length)
{
	reading r = {0};
	r.source = tb_source_create("test.txt", text, length);
	r.library = tb_library_create();
	r.faults = tb_diagnostics_create(r.source);
	r.pattern = tb_pattern_read(r.source, r.library, r.faults);
	return r;
}

static reading read_text(const char *text)
{
	return read_bytes(text, strlen(text));
}

static void finish(reading *r)
{
	tb_pattern_destroy(r->pattern);
	tb_diagnostics_destroy(r->faults);
	tb_library_destroy(r->library);
	tb_source_destroy(r->source);
}

#define PIECE "BACK\nCh 9.\nRow 1: Sc in 2nd ch from hook and in each ch across.\n"

/* The only fault of a pattern: its code, how bad it is, and where it stands. */
static void expect_fault(const char *text, tb_severity severity, const char *code, unsigned line,
	unsigned column)
{
	reading r = read_text(text);
	g_autofree char *all = tb_diagnostics_format(r.faults);
	cr_expect_eq(tb_diagnostics_count(r.faults), 1, "in %s:\n%s", text, all);
	if (tb_diagnostics_count(r.faults) > 0) {
		const tb_diagnostic *fault = tb_diagnostics_get(r.faults, 0);
		unsigned l = 0, c = 0;
		tb_source_locate(r.source, fault->place.start, &l, &c);
		cr_expect_str_eq(fault->code, code, "%s in %s", fault->code, text);
		cr_expect_eq(fault->severity, severity, "%s in %s", code, text);
		cr_expect(l == line && c == column, "%u:%u in %s", l, c, text);
		cr_expect_not_null(fault->hint, "no hint for %s", code);
	}
	finish(&r);
}

static const char *row_of(const reading *r, guint piece, guint row)
{
	const GPtrArray *rows = tb_pattern_piece(r->pattern, piece)->rows;
	return row < rows->len ? ((const tb_text *)rows->pdata[row])->chars : "(no such row)";
}

static void expect_rows(const char *body, const char *const *rows, guint count)
{
	g_autofree char *text = g_strconcat("BACK\nCh 9.\n", body, NULL);
	reading r = read_text(text);
	g_autofree char *all = tb_diagnostics_format(r.faults);
	cr_assert_str_empty(all, "%s", all);
	cr_assert_eq(tb_pattern_count_pieces(r.pattern), 1, "%s", body);
	cr_expect_eq(tb_pattern_piece(r.pattern, 0)->rows->len, count, "%s", body);
	for (guint i = 0; i < count; i++)
		cr_expect_str_eq(row_of(&r, 0, i), rows[i], "“%s” in %s", row_of(&r, 0, i), body);
	finish(&r);
}

#define EXPECT_ROWS(body, ...) do { \
	static const char *const expected[] = {__VA_ARGS__}; \
	expect_rows(body, expected, G_N_ELEMENTS(expected)); \
} while (0)

Test(pattern_text, a_blog_post_is_read_whole)
{
	g_autofree char *text = tb_test_read("tests/text/blog.txt", NULL);
	reading r = read_text(text);
	g_autofree char *faults = tb_diagnostics_format(r.faults);
	cr_assert_str_empty(faults, "%s", faults);
	const tb_pattern *p = r.pattern;
	cr_expect_str_eq(p->title, "Ladder vest");
	cr_expect_str_eq(p->designer, "Ona Fell");
	cr_expect_not_null(strstr(p->about, "“cold”"), "marks stay as they were typed: %s", p->about);
	cr_expect(p->uk_terms);
	cr_expect_eq(tb_pattern_count_sizes(p), 3);
	cr_expect_eq(p->hook_mm, 5.5);
	cr_expect_eq(p->yarn_weight, 4);
	cr_expect(p->gauge.given && p->gauge.has_rows && !p->gauge.over_inches);
	cr_expect(p->gauge.stitches == 13 && p->gauge.rows == 9 && p->gauge.over_mm == 100);
	cr_expect_not_null(strstr(p->notes, "counts as tr throughout"));
	cr_expect_not_null(strstr(p->notes, "Ch 3 of it and see"), "materials are not worked");
	cr_assert_eq(tb_pattern_count_pieces(p), 3);
	cr_expect_str_eq(tb_pattern_get_piece(p, 0), "Back");
	cr_expect_str_eq(tb_pattern_piece(p, 0)->start->chars, "ch 25 (29, 33).");
	cr_expect_eq(tb_pattern_piece(p, 0)->rows->len, 6);
	cr_expect_str_eq(row_of(&r, 0, 1),
		"Row 2: Ch 1, dc in each st across, turn. [23 (27, 31) sts]");
	cr_expect_str_eq(row_of(&r, 0, 4),
		"Rep Rows 3-4 until piece measures 20 cm, ending with Row 4.");
	cr_expect_str_eq(row_of(&r, 0, 5), "Fasten off");
	cr_expect_str_eq(tb_pattern_piece(p, 1)->from_piece, "Back");
	cr_expect_str_eq(tb_pattern_piece(p, 1)->from_text->chars, "1-9 (11, 13)");
	cr_expect_str_eq(row_of(&r, 1, 2),
		"Sizes M (L) only: Row 3: Ch 1, dc in each st across, turn.");
	cr_expect_str_eq(row_of(&r, 1, 3), "Row 4: Ch 1, dc in each st across, turn.");
	/* 9, 11 and 13 stitches from the 15th, 17th and 19th: 15 + 9 - 1, and so on (arithmetic) */
	cr_expect_str_eq(tb_pattern_piece(p, 2)->from_text->chars, "15 (17, 19)-23 (27, 31), with RS facing");
	cr_assert_eq(p->charts->len, 1);
	const tb_chart_request *chart = p->charts->pdata[0];
	cr_expect_str_eq(chart->piece, "Back");
	cr_expect(chart->first_row == 3 && chart->last_row == 4);
	finish(&r);
}

Test(pattern_text, a_blog_post_is_worked)
{
	tb_case c = tb_case_file("tests/text/blog.txt");
	g_autofree char *faults = tb_case_faults(&c);
	cr_expect_str_empty(faults, "%s", faults);
	tb_case_finish(&c);
}

Test(pattern_text, a_post_with_lists_and_emphasis_is_worked)
{
	tb_case c = tb_case_file("tests/text/dishcloth.txt");
	g_autofree char *faults = tb_case_faults(&c);
	cr_assert_str_empty(faults, "%s", faults);
	const tb_pattern *p = c.pattern;
	cr_expect_eq(tb_pattern_count_pieces(p), 1);
	cr_expect_str_eq(p->title, "Easy Ripple Dishcloth – Free Crochet Pattern");
	cr_expect_eq(p->hook_mm, 5, "the hook is found among the materials");
	cr_expect_eq(p->yarn_weight, 4);
	cr_expect(p->gauge.stitches == 14 && p->gauge.rows == 16);
	cr_expect_str_eq(tb_pattern_piece(p, 0)->start->chars, "Ch 24.");
	tb_case_finish(&c);
}

Test(pattern_text, both_spellings_make_one_model)
{
	reading text = read_text("Title: T\nTerms: uk\nSizes: S (M)\nGauge: 13 sts and 9 rows = 4 in\n\n"
		"BACK\nCh 9 (11).\nRow 1: Dc in 2nd ch from hook and in each ch across.\n");
	reading json = read_text("{\"format\":1,\"title\":\"T\",\"terms\":\"uk\",\"sizes\":[\"S\",\"M\"],"
		"\"gauge\":{\"stitches\":13,\"rows\":9,\"over\":\"4 in\"},\"pieces\":[{\"name\":\"Back\","
		"\"start\":\"Ch 9 (11).\","
		"\"rows\":[\"Row 1: Dc in 2nd ch from hook and in each ch across.\"]}]}");
	cr_assert(tb_diagnostics_count(text.faults) == 0 && tb_diagnostics_count(json.faults) == 0);
	const tb_pattern *a = text.pattern, *b = json.pattern;
	cr_expect_str_eq(a->title, b->title);
	cr_expect_eq(a->uk_terms, b->uk_terms);
	cr_expect_eq(tb_pattern_count_sizes(a), tb_pattern_count_sizes(b));
	cr_expect(a->gauge.stitches == b->gauge.stitches && a->gauge.rows == b->gauge.rows &&
		a->gauge.over_mm == b->gauge.over_mm && a->gauge.over_inches == b->gauge.over_inches);
	cr_expect_str_eq(tb_pattern_get_piece(a, 0), tb_pattern_get_piece(b, 0));
	cr_expect_str_eq(tb_pattern_piece(a, 0)->start->chars, tb_pattern_piece(b, 0)->start->chars);
	cr_expect_str_eq(row_of(&text, 0, 0), row_of(&json, 0, 0));
	finish(&text);
	finish(&json);
}

Test(pattern_text, sizes)
{
	static const struct {
		const char *line, *names;
	} cases[] = {
		{"Sizes: S (M, L)", "S|M|L"}, {"sizes: XS, S, M", "XS|S|M"},
		{"SIZES: XS (S, M, L, XL).", "XS|S|M|L|XL"}, {"Sizes: S[M:L]", "S|M|L"},
		{"Size: S/M (L/XL)", "S/M|L/XL"}, {"Sizes: small, medium and large", "small|medium|large"},
		{"Sizes: S - M - L", "S|M|L"}, {"Sizes: S/M/L", "S|M|L"}, {"Size: one size", ""},
		{"Size: 22 cm square", ""}, {"Sizes: 2X (3X)(4X, 5X)", "2X|3X|4X|5X"},
		{"Sizes:\nS (M,\n L)", "S|M|L"}, {"## Sizes\n\nS (M)", "S|M"}, {"Title: x", ""},
		{"Sizes: S (M) to fit bust 32 (36) in", "S|M"},
	};
	for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
		g_autofree char *text = g_strconcat(cases[i].line, "\n\n" PIECE, NULL);
		reading r = read_text(text);
		g_autofree char *faults = tb_diagnostics_format(r.faults);
		g_autofree char *names = g_strjoinv("|", (char **)r.pattern->sizes->pdata);
		cr_expect_str_eq(names, cases[i].names, "%s is %s", cases[i].line, names);
		cr_expect_str_empty(faults, "%s: %s", cases[i].line, faults);
		finish(&r);
	}
}

Test(pattern_text, gauges)
{
	/* 4 inches are 101.6 mm (international inch, 1959). */
	static const struct {
		const char *text;
		double stitches, rows, over_mm;
	} cases[] = {
		{"13 sts and 9 rows = 10 cm", 13, 9, 100}, {"13 sts x 9 rows = 4 in", 13, 9, 101.6},
		{"13 sts × 9 rows = 4 inches", 13, 9, 101.6},
		{"13 sts and 9 rows to 10 cm / 4\"", 13, 9, 100},
		{"16 sc and 20 rows = 4 inches in sc", 16, 20, 101.6}, {"3.5 sts to 1 inch", 3.5, 0, 25.4},
		{"3½ sts = 1 in", 3.5, 0, 25.4}, {"4 in = 16 sts, 20 rows", 16, 20, 101.6},
		{"14 half doubles by 8 rows over 10 x 10 cm with a 5.5 mm hook", 14, 8, 100},
		{"with 5.5 mm hook, 14 dc and 8 rows measure 10 cm", 14, 8, 100},
		{"13 sts = 10 cm; 5 rows = 5 cm", 13, 10, 100}, {"12 sts = 10 cm.", 12, 0, 100},
	};
	g_autoptr(tb_library) library = tb_library_create();
	for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
		tb_gauge gauge = {0};
		bool impossible;
		cr_expect(tb_text_read_gauge(library, cases[i].text, &gauge, &impossible), "%s", cases[i].text);
		cr_expect_float_eq(gauge.stitches, cases[i].stitches, 1e-9, "%s", cases[i].text);
		cr_expect_float_eq(gauge.rows, cases[i].rows, 1e-9, "%s: %g", cases[i].text, gauge.rows);
		cr_expect_float_eq(gauge.over_mm, cases[i].over_mm, 1e-9, "%s", cases[i].text);
		cr_expect_eq(gauge.has_rows, cases[i].rows > 0);
	}
	static const char *const bad[] = {"", "13", "13 sts", "9 rows = 10 cm", "13 = 10 cm",
		"13 sts = 0 cm", "5000 sts = 10 cm", "x"};
	for (size_t i = 0; i < G_N_ELEMENTS(bad); i++) {
		tb_gauge gauge = {0};
		bool impossible;
		cr_expect_not(tb_text_read_gauge(library, bad[i], &gauge, &impossible), "%s", bad[i]);
	}
}

Test(pattern_text, yarn_and_terms)
{
	static const struct {
		const char *line;
		int weight;
		bool uk;
	} cases[] = {
		/* Yarn weights: Craft Yarn Council, Standards & Guidelines */
		{"Yarn: worsted", 4, false}, {"Yarn: DK, 400 m", 3, false}, {"Yarn: super bulky", 6, false},
		{"Yarn: any #5 yarn", 5, false}, {"Yarn weight: 2", 2, false}, {"Yarn: wool (1)", 1, false},
		{"Yarn: 4 balls of wool", -1, false}, {"Terms: UK", -1, true}, {"Terms: US", -1, false},
		{"UK terms are used.", -1, true}, {"US terms are used.", -1, false},
		{"US terms, with UK terms in brackets.", -1, false},
		{"Note: this uses British crochet terms.", -1, true},
		{"terms: British", -1, true}, {"Terms: US (UK in brackets)", -1, false},
		{"It is a UK pattern, and a treble is a UK treble.", -1, true},
		{"Written in British English.", -1, true}, {"All stitches are UK.", -1, true},
		{"UK stitch names, not American.", -1, true}, {"The words are British: ch, dc, tr.", -1, true},
		/* the same words said of something else, or of the other country */
		{"Bought from a UK pattern shop.", -1, false}, {"It fits UK 8 and UK 10.", -1, false},
		{"We use American stitches, not UK.", -1, false}, {"A British summer pattern.", -1, false},
	};
	for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
		g_autofree char *text = g_strconcat("T\n\n", cases[i].line, "\n\n" PIECE, NULL);
		reading r = read_text(text);
		g_autofree char *faults = tb_diagnostics_format(r.faults);
		cr_expect_eq(r.pattern->yarn_weight, cases[i].weight, "%s: %d", cases[i].line,
			r.pattern->yarn_weight);
		cr_expect_eq(r.pattern->uk_terms, cases[i].uk, "%s", cases[i].line);
		cr_expect_str_empty(faults, "%s", faults);
		finish(&r);
	}
}

/* htr is a stitch in Britain alone (trade tables 1c), and is told to be why; an American word beside it leaves it open. */
Test(pattern_text, terms_of_words)
{
	static const struct {
		const char *row;
		bool uk;
	} cases[] = {
		{"Row 1: 2 htr in 3rd ch from hook.", true}, {"Row 1: 1 half treble in 3rd ch from hook.", true},
		{"Row 1: 1 tr in 3rd ch from hook.", false}, {"Row 1: 1 sc in 2nd ch from hook, 1 htr in next ch.", false},
		{"Row 1: 1 htr (US: hdc) in 3rd ch from hook.", false},
	};
	for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
		g_autofree char *text = g_strconcat("T\n\nCUFF\nCh 9.\n", cases[i].row, "\n", NULL);
		reading r = read_text(text);
		g_autofree char *faults = tb_diagnostics_format(r.faults);
		cr_expect_eq(r.pattern->uk_terms, cases[i].uk, "%s", cases[i].row);
		cr_expect_eq(strstr(faults, "whose terms") != NULL, cases[i].uk, "%s", faults);
		finish(&r);
	}
}

Test(pattern_text, headings)
{
	static const struct {
		const char *line, *name;
	} cases[] = {
		{"BACK", "Back"}, {"## Back", "Back"}, {"Back:", "Back"}, {"— Back —", "Back"},
		{"Back (make 2)", "Back"}, {"LEFT FRONT", "Left front"}, {"Sleeve - make 2 alike", "Sleeve"},
		{"--- Back ---", "Back"}, {"### Left front:", "Left front"}, {"**Back**", "Back"},
		{"POCKET (MAKE TWO)", "Pocket"}, {"BLOCK 3", "Block 3"}, {"Ärmel:", "Ärmel"},
	};
	for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
		g_autofree char *text = g_strconcat("Title: T\n\n", cases[i].line,
			"\n\nCh 9.\n\nRow 1: Sc in 2nd ch from hook.\n", NULL);
		reading r = read_text(text);
		cr_assert_eq(tb_pattern_count_pieces(r.pattern), 1, "%s", cases[i].line);
		cr_expect_str_eq(tb_pattern_get_piece(r.pattern, 0), cases[i].name, "%s", cases[i].line);
		finish(&r);
	}
	static const char *const not[] = {"Next, work as follows:", "Row 1: dc", "a small line",
		"RS = right side", "Work as follows:", "- dc in next st", "", "*", "Ch 3, DC"};
	for (size_t i = 0; i < G_N_ELEMENTS(not); i++) {
		unsigned make;
		g_autofree char *name = tb_heading_name(not[i], &make);
		cr_expect_null(name, "%s", not[i]);
	}
}

Test(pattern_text, a_piece_without_a_heading_has_a_name)
{
	reading r = read_text("Ch 9.\nRow 1: Sc in 2nd ch from hook and in each ch across.\n");
	cr_assert_eq(tb_pattern_count_pieces(r.pattern), 1);
	cr_expect_str_eq(tb_pattern_get_piece(r.pattern, 0), "Piece");
	cr_expect_null(r.pattern->title);
	cr_expect_eq(tb_diagnostics_count(r.faults), 0);
	finish(&r);
}

Test(pattern_text, starts)
{
	static const struct {
		const char *line, *start;
	} cases[] = {
		{"Ch 85.", "Ch 85."}, {"Chain 85.", "Chain 85."}, {"With 5.5 mm hook, ch 85.", "ch 85."},
		{"Using the larger hook, loosely ch 85.", "ch 85."}, {"85 ch.", "85 ch."},
		{"Make a magic ring.", "magic ring."}, {"Begin with a magic circle.", "magic circle."},
		{"Foundation chain: Ch 85.", "Ch 85."},
		{"Ch 4, join with sl st\nto form a ring.", "Ch 4, join with sl st to form a ring."},
		{"Ch 4.\n\nCh 1.", "Ch 4. Ch 1."},
	};
	for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
		g_autofree char *text = g_strconcat("BACK\n", cases[i].line, "\nRow 1: dc.\n", NULL);
		reading r = read_text(text);
		cr_assert_eq(tb_pattern_count_pieces(r.pattern), 1, "%s", cases[i].line);
		const tb_piece *piece = tb_pattern_piece(r.pattern, 0);
		cr_assert_not_null(piece->start, "%s", cases[i].line);
		cr_expect_str_eq(piece->start->chars, cases[i].start, "%s", cases[i].line);
		finish(&r);
	}
	static const char *const not[] = {"Chain 3 counts as dc.", "ch-3 is a space", "change", "chart",
		"Wash it."};
	for (size_t i = 0; i < G_N_ELEMENTS(not); i++) {
		g_autofree char *text = g_strconcat("T\n\nNotes\n\n", not[i], "\n\n", PIECE, NULL);
		reading r = read_text(text);
		cr_expect_str_eq(tb_pattern_piece(r.pattern, 0)->start->chars, "Ch 9.", "%s", not[i]);
		cr_expect_eq(tb_diagnostics_count(r.faults), 0, "%s", not[i]);
		finish(&r);
	}
}

Test(pattern_text, rows_go_on_over_lines)
{
	EXPECT_ROWS("Row 1: dc in next\n   st, turn.\nRow 2: sc across\n", "Row 1: dc in next st, turn.",
		"Row 2: sc across");
	EXPECT_ROWS("Row 1: dc,\r\nsc, turn.\r\n[9 sts]\r\nRow 2: sc", "Row 1: dc, sc, turn. [9 sts]",
		"Row 2: sc");
	EXPECT_ROWS("1st row. Dc across.\n2nd Round. Sc.\nNext row: Tr.\n", "1st row. Dc across.",
		"2nd Round. Sc.", "Next row: Tr.");
	EXPECT_ROWS("Rows 5-8: \nRep Rows 1-4.\nRepeat the 2nd row 53 times.\n", "Rows 5-8: Rep Rows 1-4.",
		"Repeat the 2nd row 53 times.");
	EXPECT_ROWS("Row 1: dc, ending with\nRow 1. Turn.\n", "Row 1: dc, ending with Row 1. Turn.");
	EXPECT_ROWS("Row 1: dc. Row 2: sc. Row 3: tr.\n", "Row 1: dc.", "Row 2: sc.", "Row 3: tr.");
	EXPECT_ROWS("Rnd 3 (RS): *dc,\n*sc; rep from *\nch 3, sc.\n",
		"Rnd 3 (RS): *dc, *sc; rep from * ch 3, sc.");
	EXPECT_ROWS("- Row 1: dc.\n* Row 2: sc.\n• Row 3: tr.\n", "Row 1: dc.", "Row 2: sc.",
		"Row 3: tr.");
	EXPECT_ROWS("Row 1:\tdc\xc2\xa0in next st\n", "Row 1: dc in next st");
	EXPECT_ROWS("Row 1: don’t \\*dc\\*, 2–3\n", "Row 1: don't *dc*, 2-3");
	EXPECT_ROWS("Row 1: dc.\nFasten off, leaving a long tail\nfor sewing.\n", "Row 1: dc.",
		"Fasten off");
	EXPECT_ROWS("Sizes: Row\nRow 1: dc.\nSize Row only: Row 2: dc.\n", "Row 1: dc.",
		"Size Row only: Row 2: dc.");
}

Test(pattern_text, a_fault_shows_its_line_and_column)
{
	/* “eech” stands on the sixth line, behind typographic marks and a wrapped row. */
	static const char text[] = "Title: “T”\n\nBACK\nCh 9.\nRow 1: Sc in 2nd ch from hook and\n"
		"\t\xc2\xa0in eech ch across.\n";
	tb_case c = tb_case_read("t.txt", text);
	const tb_diagnostic *fault = tb_diagnostics_get(c.diagnostics, 0);
	unsigned line = 0, column = 0;
	cr_assert_not_null(fault);
	tb_source_locate(c.source, fault->place.start, &line, &column);
	cr_expect_str_eq(fault->code, "word-unknown");
	cr_expect(line == 6 && column == 6, "told at %u:%u", line, column);
	tb_case_finish(&c);

	reading r = read_text(text);
	const tb_text *row = tb_pattern_piece(r.pattern, 0)->rows->pdata[0];
	const char *word = strstr(row->chars, "eech");
	cr_assert_not_null(word);
	size_t at = (size_t)(word - row->chars);
	tb_span span = tb_text_span(row, at, at + 4);
	cr_expect_eq(span.start, (size_t)(strstr(text, "eech") - text));
	cr_expect_eq(span.end, span.start + 4);
	finish(&r);
}

Test(pattern_text, asides_are_kept_and_not_handed_on)
{
	expect_fault("Guage: 13 sts = 10 cm\n\n" PIECE, TB_WARNING, "field-unknown", 1, 1);
	static const char *const quiet[] = {"(Have a cup of tea.)", "Note: have a cup of tea.",
		"Fasten off.\n\nI would love to see yours.", "Notes\nHave a cup of tea."};
	for (size_t i = 0; i < G_N_ELEMENTS(quiet); i++) {
		g_autofree char *text = g_strconcat(PIECE "\n", quiet[i], "\n", NULL);
		reading r = read_text(text);
		cr_expect_eq(tb_diagnostics_count(r.faults), 0, "%s", quiet[i]);
		cr_expect_not_null(r.pattern->notes, "%s", quiet[i]);
		finish(&r);
	}
}

Test(pattern_text, prose_before_the_first_piece_is_kept)
{
	reading r = read_text("T\n\nA line: with a colon.\nAnother.\n\nOne more.\n\n" PIECE);
	cr_expect_eq(tb_diagnostics_count(r.faults), 0);
	cr_expect_str_eq(r.pattern->about, "A line: with a colon.\nAnother.\nOne more.");
	finish(&r);
	r = read_text("T\n\nAbout: Short.\n\nLong.\n\n" PIECE);
	cr_expect_str_eq(r.pattern->about, "Short.");
	cr_expect_str_eq(r.pattern->notes, "Long.");
	finish(&r);
}

Test(pattern_text, faults_are_told_at_their_place)
{
	expect_fault("", TB_ERROR, "pattern-empty", 1, 1);
	expect_fault("\n\nOnce upon a time.\n", TB_ERROR, "piece-list", 3, 1);
	expect_fault("T\n\nBACK\nCh 9.\n", TB_ERROR, "piece-rows", 3, 1);
	expect_fault("T\n\nBACK\nRow 1: dc.\n", TB_ERROR, "piece-start", 3, 1);
	expect_fault("T\n\n" PIECE "\n" PIECE, TB_ERROR, "piece-name", 7, 1);
	expect_fault("Gauge: 13 to 10 cm\n" PIECE, TB_WARNING, "gauge-value", 1, 8);
	expect_fault("Gauge:\n\n" PIECE, TB_WARNING, "gauge-value", 1, 1);
	expect_fault("Sizes:\n\n" PIECE, TB_ERROR, "size-list", 1, 1);
	expect_fault("Sizes: S (M, s)\n" PIECE, TB_ERROR, "size-name", 1, 14);
	expect_fault("Sizes: a,b,c,d,e,f,g,h,i,j,k,l,m,n,o,p,q,r,s,t,u,v,w,x,y\n" PIECE, TB_ERROR,
		"size-list", 1, 8);
	expect_fault("Sizes: S (M)\nSizes: M (L)\n" PIECE, TB_ERROR, "field-repeated", 2, 1);
	expect_fault("Hook: big\n" PIECE, TB_WARNING, "hook-size", 1, 7);
	expect_fault("Yarn weight: 9\n" PIECE, TB_WARNING, "yarn-weight", 1, 14);
	expect_fault("Terms: French\n" PIECE, TB_ERROR, "terms-unknown", 1, 8);
	expect_fault("Chart: Bak, rows 1-2\n" PIECE, TB_ERROR, "piece-unknown", 1, 8);
	expect_fault("Chart: Back, rows 6-3\n" PIECE, TB_ERROR, "chart-rows", 1, 14);
	expect_fault(PIECE "\nFRONT\nFrom Bak: sts 1-3\nRow 1: sc.\n", TB_ERROR, "piece-unknown", 6, 6);
	expect_fault(PIECE "\nFRONT\nFrom Back:\nRow 1: sc.\n", TB_ERROR, "piece-from", 6, 1);
	expect_fault(PIECE "\nFRONT\nJoin yarn in st 3 of Back.\nRow 1: sc.\n", TB_ERROR, "piece-from",
		6, 1);
	/* nothing behind the stitches is passed over */
	expect_fault(PIECE "\nFRONT\nJoin yarn in st 3 of Back, ch 1, work over next 2 sts.\nRow 1: sc.\n",
		TB_ERROR, "piece-from", 6, 28);
	expect_fault(PIECE "\nFRONT\nJoin yarn in st 3 of Back, work over next 2 sts, and next 5.\n"
		"Row 1: sc.\n", TB_ERROR, "piece-from", 6, 59);
	expect_fault("Title: a\xff\n" PIECE, TB_ERROR, "text-encoding", 1, 9);
}

Test(pattern_text, a_gauge_is_given_back_in_the_nearest_form)
{
	reading r = read_text("Gauge: 13 sts and 9 rows\n" PIECE);
	cr_assert_eq(tb_diagnostics_count(r.faults), 1);
	const char *hint = tb_diagnostics_get(r.faults, 0)->hint;
	cr_expect_not_null(strstr(hint, "13 sts and 9 rows = 10 cm"), "%s", hint);
	finish(&r);
}

Test(pattern_text, a_zero_byte_and_size_are_told)
{
	reading r = read_bytes("Title: a\0b", 10);
	cr_expect_null(r.pattern);
	cr_expect_str_eq(tb_diagnostics_get(r.faults, 0)->code, "text-encoding");
	finish(&r);
	g_autoptr(GString) large = g_string_new("Title: ");
	while (large->len <= TB_LIMIT_PATTERN_BYTES)
		g_string_append(large, "yarn and more yarn and more yarn and more yarn and more yarn\n");
	/* "Title: " and then lines of 61 bytes: the first byte past 4 MiB is the last letter of a line. */
	expect_fault(large->str, TB_ERROR, "pattern-too-large", 68759, 60);
}

Test(pattern_text, pieces_are_bounded)
{
	g_autoptr(GString) many = g_string_new("T\n\n");
	for (unsigned i = 0; i <= TB_LIMIT_PIECES + 50; i++)
		g_string_append_printf(many, "P%u:\nCh 9.\nRow 1: dc.\n", i);
	reading r = read_text(many->str);
	const tb_diagnostic *fault = tb_diagnostics_get(r.faults, 0);
	cr_expect_str_eq(fault->code, "piece-list");
	cr_expect_leq(tb_pattern_count_pieces(r.pattern), TB_LIMIT_PIECES + 1);
	finish(&r);
}

Test(pattern_text, a_text_cut_anywhere_does_not_crash)
{
	gsize length;
	g_autofree char *text = tb_test_read("tests/text/blog.txt", &length);
	for (size_t cut = 0; cut <= length; cut++) {
		g_autofree char *part = g_memdup2(text, cut + 1);
		reading r = read_bytes(part, cut);
		cr_expect(r.pattern != NULL || tb_diagnostics_count_errors(r.faults) > 0, "cut at %zu", cut);
		finish(&r);
	}
}

/* NAME.txt in tests/text/faults is a pattern with a fault, NAME.faults all that is told about it. */
Test(pattern_text, every_fault_is_told_as_written)
{
	static const char *const names[] = {"field-repeated", "field-unknown", "gauge-value",
		"motifs-differ", "motifs-joined", "motifs-joined-few", "motifs-left", "motifs-sizes", "motifs-unread", "piece-from", "piece-list", "seam-differs", "stripes-other",
		"terms-taken", "wrapped-row"};
	for (size_t i = 0; i < G_N_ELEMENTS(names); i++) {
		g_autofree char *path = g_strdup_printf("tests/text/faults/%s.txt", names[i]);
		g_autofree char *shown = g_strdup_printf("%s.txt", names[i]);
		g_autofree char *wanted = g_strdup_printf("tests/text/faults/%s.faults", names[i]);
		g_autofree char *text = tb_test_read(path, NULL);
		g_autofree char *expected = tb_test_read(wanted, NULL);
		tb_case c = tb_case_read(shown, text);
		g_autofree char *faults = tb_case_faults(&c);
		cr_expect_str_eq(faults, expected, "%s gives:\n%s", path, faults);
		tb_case_finish(&c);
	}
}

Test(pattern_text, our_examples_come_out)
{
	static const char *const files[] = {"examples/pebble-cloth.txt", "examples/harbour-band.txt"};
	for (size_t i = 0; i < G_N_ELEMENTS(files); i++) {
		tb_case c = tb_case_file(files[i]);
		g_autofree char *faults = tb_case_faults(&c);
		cr_expect_str_empty(faults, "%s", faults);
		cr_expect_str_eq(tb_pattern_get_designer(c.pattern), "Ona Fell");
		tb_case_finish(&c);
	}
}

Test(pattern_text, parts_of_what_is_made_twice)
{
	tb_case c = tb_case_read("mitts.txt",
		"Title: T\n\nMITTS (make 2)\nCuff\nCh 9.\nRow 1: Sc in 2nd ch from hook and in each ch across, turn. 8 sc.\n"
		"Row 2: Ch 1, sc in each sc across, turn.\nRows 3-12: Rep Row 2.\nHand\n"
		"Rnd 1: Ch 1, sc in the end of each row around, join. 12 sc.\n");
	g_autofree char *faults = tb_case_faults(&c);
	cr_expect_str_empty(faults);
	cr_assert_eq(tb_pattern_count_pieces(c.pattern), 1);
	const tb_piece *piece = tb_pattern_piece(c.pattern, 0);
	cr_expect_str_eq(piece->name, "Mitts");
	cr_expect_eq(piece->make, 2);
	cr_assert_eq(piece->parts->len, 2);
	cr_expect_str_eq(g_array_index(piece->parts, tb_piece_part, 0).name, "Cuff");
	cr_expect_str_eq(g_array_index(piece->parts, tb_piece_part, 1).name, "Hand");
	tb_case_finish(&c);
}
