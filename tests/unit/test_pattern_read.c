/* Every character of a pattern is accounted for: the reads tile the source, in every pattern there is. */
#include "support.h"

#include "pattern/pattern.h"
#include "support/source.h"

#include <criterion/criterion.h>
#include <string.h>

static void expect_tiled(const char *what, const tb_pattern *pattern)
{
	size_t length, at = 0;
	tb_source_get_text(pattern->source, &length);
	for (guint i = 0; i < pattern->reads->len; i++) {
		const tb_read *read = &g_array_index(pattern->reads, tb_read, i);
		cr_assert_eq(read->span.start, at, "%s: read %u begins at %zu, not %zu", what, i,
			read->span.start, at);
		cr_assert_gt(read->span.end, at, "%s: read %u is empty", what, i);
		at = read->span.end;
	}
	cr_assert_eq(at, length, "%s: read up to %zu of %zu", what, at, length);
	for (unsigned i = 0; i < tb_pattern_count_pieces(pattern); i++) {
		const tb_piece *piece = tb_pattern_piece(pattern, i);
		cr_assert_eq(piece->rows->len, piece->row_reads->len, "%s", what);
		for (guint k = 0; k < piece->rows->len; k++) {
			const tb_text *row = piece->rows->pdata[k];
			guint number = g_array_index(piece->row_reads, guint, k);
			cr_assert_lt(number, pattern->reads->len, "%s", what);
			tb_span read = g_array_index(pattern->reads, tb_read, number).span;
			tb_span last = tb_text_span(row, row->length > 0 ? row->length - 1 : 0, row->length);
			cr_assert(last.start >= read.start && last.start < read.end,
				"%s: “%s” ends outside of its read", what, row->chars);
		}
	}
}

static unsigned check_folder(const char *folder)
{
	unsigned count = 0;
	g_autofree char *path = g_build_filename(TB_SOURCE_ROOT, folder, NULL);
	GDir *dir = g_dir_open(path, 0, NULL);
	cr_assert_not_null(dir, "there is no %s", path);
	for (const char *name; (name = g_dir_read_name(dir)) != NULL;) {
		if (!g_str_has_suffix(name, ".txt") && !g_str_has_suffix(name, ".json"))
			continue;
		g_autofree char *file = g_build_filename(folder, name, NULL);
		gsize length;
		g_autofree char *text = tb_test_read(file, &length);
		g_autoptr(tb_source) source = tb_source_create(file, text, length);
		g_autoptr(tb_library) library = tb_library_create();
		g_autoptr(tb_diagnostics) faults = tb_diagnostics_create(source);
		g_autoptr(tb_pattern) pattern = tb_pattern_read(source, library, faults);
		if (pattern != NULL) {
			expect_tiled(file, pattern);
			count++;
		}
	}
	g_dir_close(dir);
	return count;
}

Test(pattern_read, every_pattern_is_read_from_end_to_end)
{
	static const char *const folders[] = {"examples", "tests/errors", "tests/faults", "tests/text",
		"tests/text/faults", "tests/golden"};
	for (size_t i = 0; i < G_N_ELEMENTS(folders); i++)
		cr_expect_gt(check_folder(folders[i]), 0, "no pattern was read in %s", folders[i]);
}

/* Each line of EXPECTED is what a part of TEXT is read as, and how the part begins. */
static void expect_parts(const char *text, const char *expected)
{
	tb_case c = tb_case_read("t.txt", text);
	g_autoptr(GString) parts = g_string_new(NULL);
	static const char *const names[] = {"blank", "fact", "heading", "definition", "start", "row",
		"repeat", "remark", "finishing", "unread"};
	for (guint i = 0; i < c.pattern->reads->len; i++) {
		const tb_read *read = &g_array_index(c.pattern->reads, tb_read, i);
		if (read->as == TB_READ_BLANK)
			continue;
		g_autofree char *said =
			g_strndup(text + read->span.start, read->span.end - read->span.start);
		g_strdelimit(g_strchomp(said), "\n", '/');
		g_string_append_printf(parts, "%s|%s\n", names[read->as], said);
	}
	cr_expect_str_eq(parts->str, expected, "%s\nis read as\n%s", text, parts->str);
	expect_tiled("t.txt", c.pattern);
	tb_case_finish(&c);
}

Test(pattern_read, a_post_is_told_apart)
{
	expect_parts("Moth mat\nby Ona Fell\n\nWe all love moths.\n\nMaterials:\n- 4 mm hook\n- thread\n\n"
		"Special stitches\nWing: 7 tr in same st.\nAntenna (ant): ch 5,\nsl st in 2nd ch from hook.\n\n"
		"Notes\nCh 4 counts as tr.\nWork loosely.\n\nCh 30.\nRow 1: Tr in 5th ch from hook\n"
		"and in each ch across. (27 tr) Row 2: Ch 1, sc across.\nRep Row 2 twice.\nNote: breathe.\n"
		"Press with a warm iron.\nFasten off, leaving a tail.\n\nFinishing\nSew on a button.\n",
		"fact|Moth mat\nfact|by Ona Fell\nremark|We all love moths.\nheading|Materials:\n"
		"fact|- 4 mm hook\nfact|- thread\nheading|Special stitches\n"
		"definition|Wing: 7 tr in same st.\n"
		"definition|Antenna (ant): ch 5,/sl st in 2nd ch from hook.\nheading|Notes\n"
		"remark|Ch 4 counts as tr.\nremark|Work loosely.\nstart|Ch 30.\n"
		"row|Row 1: Tr in 5th ch from hook/and in each ch across. (27 tr)\n"
		"row|Row 2: Ch 1, sc across.\nrepeat|Rep Row 2 twice.\nremark|Note: breathe.\n"
		"finishing|Press with a warm iron.\nfinishing|Fasten off\nfinishing|, leaving a tail.\n"
		"heading|Finishing\nfinishing|Sew on a button.\n");
}

/* What is below a start is nobody's to drop: it is a row's text, whatever it is. */
Test(pattern_read, nothing_below_a_start_is_passed_over)
{
	expect_parts("BAG\nCh 12.\nRow 1: Sc in 2nd ch from hook and in each ch across.\n"
		"Make it as deep as you like.\nFlap: sc in first 5 sts.\n\nHave some tea\n",
		"heading|BAG\nstart|Ch 12.\nrow|Row 1: Sc in 2nd ch from hook and in each ch across.\n"
		"row|Make it as deep as you like.\nrow|Flap: sc in first 5 sts.\nrow|Have some tea\n");
}

Test(pattern_read, line_ends_and_marks_belong_to_their_line)
{
	tb_case c = tb_case_read("t.txt",
		"\xef\xbb\xbfT\r\n\r\n  BACK\r\nCh 9.\r\n\xe2\x80\xa2 Row 1: Sc in 2nd ch from hook.\r\n");
	static const size_t starts[] = {0, 6, 8, 16, 23};
	cr_assert_eq(c.pattern->reads->len, G_N_ELEMENTS(starts));
	for (guint i = 0; i < c.pattern->reads->len; i++)
		cr_expect_eq(g_array_index(c.pattern->reads, tb_read, i).span.start, starts[i], "read %u", i);
	expect_tiled("t.txt", c.pattern);
	tb_case_finish(&c);
}

Test(pattern_read, json_is_facts_starts_and_rows)
{
	static const char text[] = "{\"format\": 1, \"title\": \"T\", \"stitches\": [],\n \"pieces\": [{\"name\": "
		"\"P\", \"start\": \"Ch 5.\", \"rows\": [\"Row 1: Sc.\", \"Row 2: Sc.\"]}]}";
	g_autoptr(tb_source) source = tb_source_create("t.json", text, strlen(text));
	g_autoptr(tb_library) library = tb_library_create();
	g_autoptr(tb_diagnostics) faults = tb_diagnostics_create(source);
	g_autoptr(tb_pattern) pattern = tb_pattern_read(source, library, faults);
	expect_tiled("t.json", pattern);
	g_autoptr(GString) as = g_string_new(NULL);
	for (guint i = 0; i < pattern->reads->len; i++) {
		const tb_read *read = &g_array_index(pattern->reads, tb_read, i);
		if (read->as != TB_READ_BLANK)
			g_string_append_printf(as, "%d:%.*s ", (int)read->as,
				(int)(read->span.end - read->span.start), text + read->span.start);
	}
	g_autofree char *expected = g_strdup_printf("%d:\"format\": 1 %d:\"title\": \"T\" %d:[] "
		"%d:\"name\": \"P\" %d:\"start\": \"Ch 5.\" %d:\"Row 1: Sc.\" %d:\"Row 2: Sc.\" ",
		TB_READ_FACT, TB_READ_FACT, TB_READ_DEFINITION, TB_READ_FACT, TB_READ_START, TB_READ_ROW,
		TB_READ_ROW);
	cr_expect_str_eq(as->str, expected, "%s", as->str);
	const tb_piece *piece = tb_pattern_piece(pattern, 0);
	guint second = g_array_index(piece->row_reads, guint, 1);
	cr_expect_eq(g_array_index(pattern->reads, tb_read, second).span.start,
		(size_t)(strstr(text, "\"Row 2") - text));
}

/* Row beginnings of every kind part the text: common practice of books and blogs, old and new. */
Test(pattern_read, rows_begin_in_many_ways)
{
	static const char *const heads[] = {"Row 2:", "Row 2.", "Row 2 \xe2\x80\x93", "Row 2)", "R2", "Rnd. 2:",
		"Round Two:", "2nd row", "2nd Row:", "ROW 2", "\xe2\x80\xa2 Row 2:", "2.", "2)", "2, 3.", "2 to 5.",
		"2nd to 6th rows.\xe2\x80\x94", "Rows 2-5 (4 rows):", "Rows 2 & 3:", "Row 2 - Row 5:", "Rnd2:",
		"Row 2 and every even row:", "Row 2 (and all even rows):", "Next row (RS):", "Next 3 rows:",
		"Dec row:", "Final row:", "Last row:", "2nd and last row:", "Set-up row:", "Row II.",
		"Rows 2\xe2\x80\x93" "9:", "Row 2 (beaded row):", "**Row 2:**", "*Row 2:*", "1. Row 2:", "2-4 rnd:",
		"Row 2, beaded row:", "Round 2 / RS:", "Every WS row:"};
	for (size_t i = 0; i < G_N_ELEMENTS(heads); i++) {
		g_autofree char *text = g_strdup_printf("PAD\nCh 12.\nRow 1: Hdc in 3rd ch from hook and in each ch"
			" across, turn\n%s Ch 2, hdc in each st across\n", heads[i]);
		tb_case c = tb_case_read("t.txt", text);
		cr_expect_eq(tb_pattern_piece(c.pattern, 0)->rows->len, 2, "%s does not begin a row", heads[i]);
		expect_tiled(heads[i], c.pattern);
		tb_case_finish(&c);
	}
}

Test(pattern_read, headings_name_pieces)
{
	static const struct {
		const char *heading, *name;
		unsigned make;
	} cases[] = {
		{"Paw", "Paw", 1}, {"Left Paw (make 2):", "Left Paw", 2}, {"Step 3: Paw", "Paw", 1},
		{"**Paw**", "Paw", 1}, {"## Paw", "Paw", 1}, {"PAW", "Paw", 1}, {"Paw:", "Paw", 1},
		{"Paws x4", "Paws", 4}, {"Paw\n\nMake 3.", "Paw", 3}, {"Wings\nFeather", "Feather", 1},
	};
	for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
		g_autofree char *text = g_strdup_printf("Title: T\n\nNotes\nA cat.\n\n%s\nCh 7.\n"
			"Row 1: Sc in 2nd ch from hook and in each ch across.\n", cases[i].heading);
		tb_case c = tb_case_read("t.txt", text);
		cr_assert_eq(tb_pattern_count_pieces(c.pattern), 1, "%s", cases[i].heading);
		cr_expect_str_eq(tb_pattern_get_piece(c.pattern, 0), cases[i].name, "%s", cases[i].heading);
		cr_expect_eq(tb_pattern_piece(c.pattern, 0)->make, cases[i].make, "%s", cases[i].heading);
		tb_case_finish(&c);
	}
}

Test(pattern_read, a_part_of_a_piece_is_no_piece)
{
	expect_parts("VEST\nCh 12.\nRow 1: Sc in 2nd ch from hook and in each ch across.\nShape armholes\n"
		"Row 1: Sl st in first 2 sts, ch 1, sc across.\n\nPOCKET: Ch 8.\nRow 1: Sc in 2nd ch from hook.\n",
		"heading|VEST\nstart|Ch 12.\nrow|Row 1: Sc in 2nd ch from hook and in each ch across.\n"
		"heading|Shape armholes\nrow|Row 1: Sl st in first 2 sts, ch 1, sc across.\n"
		"heading|POCKET:\nstart|Ch 8.\nrow|Row 1: Sc in 2nd ch from hook.\n");
}

Test(pattern_read, stitches_told_in_words_are_kept_one_by_one)
{
	tb_case c = tb_case_read("t.txt", "T\n\nAbbreviations\ntr = treble, dtr = double treble\n"
		"ch chain\nWave: 2 tr in same st. Crest: (tr, ch 2, tr) in st.\n\nCh 9.\nRow 1: Sc in 2nd ch from "
		"hook and in each ch across.\nTuft (tf): 4 dc in next st.\nRow 2: Ch 1, sc across.\n");
	static const char *const wanted[] = {"tr = treble", "dtr = double treble", "ch chain",
		"Wave: 2 tr in same st.", "Tuft (tf): 4 dc in next st."};
	for (size_t i = 0; i < G_N_ELEMENTS(wanted); i++) {
		bool found = false;
		for (guint k = 0; k < c.pattern->definitions->len; k++)
			found = found || g_str_has_prefix(((tb_text *)c.pattern->definitions->pdata[k])->chars, wanted[i]);
		cr_expect(found, "“%s” is not kept", wanted[i]);
	}
	tb_case_finish(&c);
}

Test(pattern_read, sizes_are_found_in_facts_and_sentences)
{
	static const struct {
		const char *line, *names;
	} cases[] = {
		{"Sizes XS[S, M, L]", "XS|S|M|L"}, {"Sizes: 20/24/28", "20|24|28"}, {"Sizes: S-M-L", "S|M|L"},
		{"To fit chest: 70 (80, 90) cm", "70|80|90"}, {"Sizes: S (M) - worn in S", "S|M"},
		{"Directions are for size Small, with Medium and Large in brackets.", "Small|Medium|Large"},
		{"Finished size: 20 x 30 cm", ""}, {"Sizes: 30 (34)\" chest", "30|34"},
	};
	for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
		g_autofree char *text = g_strconcat("T\n\n", cases[i].line,
			"\n\nMAT\nCh 9.\nRow 1: Sc in 2nd ch from hook and in each ch across.\n", NULL);
		tb_case c = tb_case_read("t.txt", text);
		g_autofree char *names = g_strjoinv("|", (char **)c.pattern->sizes->pdata);
		cr_expect_str_eq(names, cases[i].names, "%s is %s", cases[i].line, names);
		tb_case_finish(&c);
	}
}
