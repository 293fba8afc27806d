/* The check in its two spellings. */
#include "counts.h"

#include <cjson/cJSON.h>
#include <criterion/criterion.h>

static const char rows[] = "Row 1: Dc in 4th ch from hook and in each ch across. [10 (12) sts]\n"
						   "Row 2: Ch 3, turn, dc in each st across.\n"
						   "Row 3: Ch 3, turn, dc2tog, dc in each st across.\n"
						   "Row 4: Ch 3, turn, dc in each st across.\n"
						   "Row 5: Ch 3, turn, dc in each st across.";

Test(check, the_table)
{
	tb_case c = tb_case_rows("S,M", "Ch 12 (14).", rows);
	g_autofree char *text = tb_check_text(c.worked, c.diagnostics, -1);
	static const char expected[] = "Swatch\n"
								   "Row          Side        S       M\n"
								   "1            RS         10      12\n"
								   "2            WS         10      12\n"
								   "3-5          RS/WS       9      11\n"
								   "Width        cm        8.3    10.0\n"
								   "             in        3.3     3.9\n"
								   "Length       cm        5.6     5.6\n"
								   "             in        2.2     2.2\n"
								   "Rows in all              5       5\n"
								   "\n"
								   "Every row comes out in every size.\n";
	cr_expect_str_eq(text, expected, "%s", text);
	tb_case_finish(&c);
}

/* 2 shells of 5 dc between 3 sc, and the 9 sts they stand on again. */
Test(check, rows_that_repeat_those_before_are_one_line)
{
	static const char shells[] =
		"Row 1: Sc in 2nd ch from hook and in each ch across, turn.\n"
		"Row 2: Ch 1, sc in first st, *sk next st, 5 dc in next st, sk next st, sc in next st; rep "
		"from * across, turn.\n"
		"Row 3: Ch 1, sc in first st, *sk 1 st, sc in next 3 sts, sk 1 st, sc in next st; rep from * "
		"across, turn.\n"
		"Rep Rows 2-3 4 times.\n"
		"Row 12: Ch 1, sc in next 4 sts, turn, leave rem sts unworked.\n"
		"Row 13: Ch 1, sc in each st across.";
	tb_case c = tb_case_rows("", "Ch 10.", shells);
	g_autofree char *text = tb_check_text(c.worked, c.diagnostics, -1);
	cr_expect_not_null(strstr(text, "\n1            RS          9\n"
									"2            WS         13\n"
									"3-11         as rows 1-2\n"
									"12           WS          4\n"
									"13           RS          4\n"),
		"%s", text);
	tb_case_finish(&c);
}

/* What was said as repeating other rows is not shown, so nothing is said to repeat it. */
Test(check, rows_repeat_rows_that_are_shown)
{
	static const char rows_of_two_stripes[] =
		"Row 1: Sc in 2nd ch from hook and in each ch across, turn.\n"
		"Row 2: Ch 1, sc2tog, sc in each st across, turn.\n"
		"Row 3: Ch 1, 2 sc in first st, sc in each st across, turn.\n"
		"Rep Rows 2-3 2 times.\n"
		"Row 8: Ch 1, 2 sc in first st, sc in each st across, turn.\n"
		"Row 9: Ch 1, sc2tog, sc in each st across, turn.\n"
		"Rep Rows 8-9 2 times.";
	tb_case c = tb_case_rows("", "Ch 10.", rows_of_two_stripes);
	g_autofree char *text = tb_check_text(c.worked, c.diagnostics, -1);
	cr_expect_not_null(strstr(text, "\n1            RS          9\n"
									"2            WS          8\n"
									"3-7          as rows 1-2\n"
									"8            WS         10\n"
									"9            RS          9\n"
									"10-13        as rows 8-9\n"),
		"%s", text);
	tb_case_finish(&c);
}

Test(check, the_verdict)
{
	tb_case c = tb_case_rows(
		"S,M", "Ch 12 (14).", "Row 1: Dc in 4th ch from hook and in each ch across. [11 (12) sts]");
	g_autofree char *text = tb_check_text(c.worked, c.diagnostics, 0);
	cr_expect_null(strstr(text, "Every row comes out"));
	cr_expect_not_null(strstr(text, "1 error"));
	tb_case_finish(&c);
	c = tb_case_rows("", "Ch 11.", "Row 1: Hdc in 3rd ch from hook and in each ch across.");
	g_autofree char *warned = tb_check_text(c.worked, c.diagnostics, 0);
	cr_expect_not_null(strstr(warned, "Every row comes out. There is 1 warning."));
	tb_case_finish(&c);
}

Test(check, without_gauge_there_are_no_measurements)
{
	tb_case c = tb_case_read("bare.json",
		"{\"format\":1,\"title\":\"T\",\"pieces\":[{\"name\":\"P\",\"start\":\"Ch 14.\",\"rows\":["
		"\"Row 1: Dc in 4th ch from hook and in each ch across.\"]}]}");
	g_autofree char *text = tb_check_text(c.worked, c.diagnostics, -1);
	cr_expect_null(strstr(text, "Width"));
	cr_expect_not_null(strstr(text, "No gauge"));
	g_autofree char *json = tb_check_json(c.worked, c.diagnostics, -1);
	cJSON *root = cJSON_Parse(json);
	const cJSON *piece = cJSON_GetArrayItem(cJSON_GetObjectItem(root, "pieces"), 0);
	cr_expect(cJSON_IsNull(cJSON_GetArrayItem(cJSON_GetObjectItem(piece, "width_cm"), 0)));
	cJSON_Delete(root);
	tb_case_finish(&c);
}

Test(check, the_colours_of_a_row_are_told_where_all_are_known)
{
	tb_case c = tb_case_read("stripes.txt", "T\n\nP\nWith A, ch 13.\n"
		"Row 1: Sc in 2nd ch from hook and in each ch across.\n"
		"Row 2: Ch 1, turn, *with B sc in next 3 sc, with A sc in next 3 sc; rep from * across.\n"
		"Row 3 (green): Ch 1, turn, sc in each sc across, changing to B in last st.\n"
		"Row 4: Ch 1, turn, sc in each sc across.\n"
		"Row 5: Ch 1, turn, sc in each sc across, changing colours as desired.\n"
		"Row 6: Ch 1, turn, sc in each sc across.\n");
	g_autofree char *text = tb_check_text(c.worked, c.diagnostics, 0);
	cr_expect_not_null(strstr(text, "\n1            RS         12  A\n"), "%s", text);
	cr_expect_not_null(strstr(text, "\n2            WS         12  B, A\n"), "%s", text);
	cr_expect_not_null(strstr(text, "\n3            RS         12  green\n"), "%s", text);
	cr_expect_not_null(strstr(text, "\n4            WS         12  B\n"), "%s", text);
	cr_expect_not_null(strstr(text, "\n5            RS         12\n"), "%s", text);
	cr_expect_not_null(strstr(text, "\n6            WS         12\n"), "%s", text);
	g_autofree char *json = tb_check_json(c.worked, c.diagnostics, -1);
	g_autoptr(GString) dense = g_string_new(json);
	for (const char *blanks = "\t\n "; *blanks != '\0'; blanks++) {
		char blank[] = {*blanks, '\0'};
		g_string_replace(dense, blank, "", 0);
	}
	cr_expect_not_null(strstr(dense->str, "\"row\":2,\"side\":\"WS\",\"counts\":[12],\"colours\":[\"B\",\"A\"]"), "%s", json);
	tb_case_finish(&c);
	/* the pattern tells of stripes: no row that names none goes on in a colour */
	c = tb_case_read("noted.txt", "T\n\nStripes: 2 rows A, 2 rows B, from Row 2 on.\n\nP\nWith A, ch 13.\n"
		"Row 1: Sc in 2nd ch from hook and in each ch across.\n"
		"Row 2: Ch 1, turn, sc in each sc across.\n");
	g_autofree char *plain = tb_check_text(c.worked, c.diagnostics, 0);
	cr_expect_not_null(strstr(plain, "\n2            WS         12\n"), "%s", plain);
	tb_case_finish(&c);
	/* unless it tells them from the first row on, and nothing else */
	c = tb_case_read("planned.txt", "T\n\nStripes: 1 row A, 2 rows B.\n\nP\nWith A, ch 13.\n"
		"Row 1: Sc in 2nd ch from hook and in each ch across.\n"
		"Rows 2-4: Ch 1, turn, sc in each sc across.\n");
	g_autofree char *planned = tb_check_text(c.worked, c.diagnostics, 0);
	cr_expect_not_null(strstr(planned, "\n3            RS         12  B\n"), "%s", planned);
	cr_expect_not_null(strstr(planned, "\n4            WS         12\n"), "%s", planned);
	tb_case_finish(&c);
}

static void expect_keys(const cJSON *object, const char *const *keys, size_t count)
{
	size_t i = 0;
	for (const cJSON *item = object->child; item != NULL; item = item->next, i++) {
		cr_assert_lt(i, count, "%s", item->string);
		cr_expect_str_eq(item->string, keys[i]);
	}
	cr_expect_eq(i, count);
}

Test(check, the_object_has_the_shape_scripts_rely_on)
{
	static const char *const keys[] = {"title", "sizes", "pieces", "read", "diagnostics"};
	static const char *const piece_keys[] = {"name", "rows", "width_cm", "length_cm"};
	static const char *const row_keys[] = {"row", "side", "counts"};
	static const char *const fault_keys[] = {
		"severity", "code", "line", "column", "piece", "row", "sizes", "message", "hint"};
	tb_case c = tb_case_rows(
		"S,M", "Ch 12 (14).", "Row 1: Dc in 4th ch from hook and in each ch across. [10 (13) sts]");
	g_autofree char *json = tb_check_json(c.worked, c.diagnostics, -1);
	cJSON *root = cJSON_Parse(json);
	cr_assert_not_null(root);
	expect_keys(root, keys, G_N_ELEMENTS(keys));
	const cJSON *piece = cJSON_GetArrayItem(cJSON_GetObjectItem(root, "pieces"), 0);
	expect_keys(piece, piece_keys, G_N_ELEMENTS(piece_keys));
	const cJSON *row = cJSON_GetArrayItem(cJSON_GetObjectItem(piece, "rows"), 0);
	expect_keys(row, row_keys, G_N_ELEMENTS(row_keys));
	cr_expect_str_eq(cJSON_GetObjectItem(row, "side")->valuestring, "RS");
	cr_expect_eq(cJSON_GetArrayItem(cJSON_GetObjectItem(row, "counts"), 1)->valueint, 12);
	const cJSON *fault = cJSON_GetArrayItem(cJSON_GetObjectItem(root, "diagnostics"), 0);
	expect_keys(fault, fault_keys, G_N_ELEMENTS(fault_keys));
	cr_expect_str_eq(cJSON_GetObjectItem(fault, "severity")->valuestring, "error");
	cr_expect_str_eq(cJSON_GetArrayItem(cJSON_GetObjectItem(fault, "sizes"), 0)->valuestring, "M");
	cJSON_Delete(root);
	tb_case_finish(&c);
}

Test(check, a_size_without_a_row_has_null_there)
{
	tb_case c = tb_case_rows("S,M", "Ch 12 (14).",
		"Row 1: Dc in 4th ch from hook and in each ch across.\nRow 2: Ch 3, turn, dc in each st "
		"across.\n"
		"Rep Row 2 until piece measures 10 (12) cm.");
	g_autofree char *text = tb_check_text(c.worked, c.diagnostics, -1);
	g_autofree char *json = tb_check_json(c.worked, c.diagnostics, -1);
	cJSON *root = cJSON_Parse(json);
	const cJSON *piece = cJSON_GetArrayItem(cJSON_GetObjectItem(root, "pieces"), 0);
	const cJSON *list = cJSON_GetObjectItem(piece, "rows");
	/* 9 rows to 10 cm: S has 9, M 11 */
	cr_assert_eq(cJSON_GetArraySize(list), 11);
	const cJSON *counts = cJSON_GetObjectItem(cJSON_GetArrayItem(list, 10), "counts");
	cr_expect(cJSON_IsNull(cJSON_GetArrayItem(counts, 0)));
	cr_expect(cJSON_IsNumber(cJSON_GetArrayItem(counts, 1)));
	cr_expect_not_null(strstr(text, "M: 12.0 cm asked, 12.2 cm reached (11 rows)."), "%s", text);
	cJSON_Delete(root);
	tb_case_finish(&c);
}

/* A foundation row has no number, and is a row of the piece all the same. */
Test(check, a_foundation_row_is_told)
{
	tb_case c = tb_case_rows("", "Ch 12.", "Foundation row: Dc in 4th ch from hook and in each ch across.\n"
										   "Row 1: Ch 3, turn, dc in each st across.");
	g_autofree char *json = tb_check_json(c.worked, c.diagnostics, -1);
	cJSON *root = cJSON_Parse(json);
	const cJSON *piece = cJSON_GetArrayItem(cJSON_GetObjectItem(root, "pieces"), 0);
	const cJSON *list = cJSON_GetObjectItem(piece, "rows");
	cr_assert_eq(cJSON_GetArraySize(list), 2, "%s", json);
	for (int i = 0; i < 2; i++) {
		const cJSON *counts = cJSON_GetObjectItem(cJSON_GetArrayItem(list, i), "counts");
		cr_expect_eq(cJSON_GetArrayItem(counts, 0)->valueint, 10);
	}
	cJSON_Delete(root);
	tb_case_finish(&c);
}

/* The crown has other numbers of rounds in each size; the brim begins again at 1 in all of them. */
Test(check, parts_are_told_by_their_own_numbers_in_every_size)
{
	tb_case c = tb_case_file("tests/wordings/brim-by-size.txt");
	g_autofree char *text = tb_check_text(c.worked, c.diagnostics, -1);
	static const char expected[] = "4            RS          -      48      48\n"
								   "5            RS          -       -      60\n"
								   "Brim\n"
								   "1-3          RS         36      48      60\n";
	cr_expect_not_null(strstr(text, expected), "%s", text);
	g_autofree char *json = tb_check_json(c.worked, c.diagnostics, -1);
	cJSON *root = cJSON_Parse(json);
	const cJSON *pieces = cJSON_GetObjectItem(root, "pieces");
	cr_assert_eq(cJSON_GetArraySize(pieces), 2, "%s", json);
	/* among the crown's rows those of the brim have no number that is the same in all sizes */
	cr_expect_eq(cJSON_GetArraySize(cJSON_GetObjectItem(cJSON_GetArrayItem(pieces, 0), "rows")), 5);
	const cJSON *brim = cJSON_GetArrayItem(pieces, 1);
	cr_expect_str_eq(cJSON_GetObjectItem(brim, "part_of")->valuestring, "Crown");
	cr_expect_eq(cJSON_GetArraySize(cJSON_GetObjectItem(brim, "rows")), 3);
	cJSON_Delete(root);
	tb_case_finish(&c);
}

#define MOTIF \
	"MOTIF\nRnd 1: Ch 4, 11 dc in 4th ch from hook, join with sl st. (12 dc)\nRnd 2: Ch 1, 2 sc in each dc around, join. " \
	"(24 sc)\nFasten off.\n\n"

/* 4 x 6 and 4 x 7 of 9 cm. */
Test(check, motifs_that_are_made_and_how_they_lie)
{
	static const char *const said[] = {
		"FINISHING\nMake 24 (28) motifs. Join them in 4 rows of 6 (7).\n",
		"FINISHING\nYou will need 24/28 motifs in all; lay them out 6/7 motifs wide by 4 high.\n",
		"FINISHING\nWork 12 (14) motifs in color A and 12 (14) in color B.\nSew together in a grid of 4 rows with 6 (7).\n",
	};
	for (size_t i = 0; i < G_N_ELEMENTS(said); i++) {
		g_autofree char *pattern = g_strconcat("Throw\n\nSizes: S (M)\nGauge: one motif = 9 cm\n\n" MOTIF, said[i], NULL);
		tb_case c = tb_case_read("throw.txt", pattern);
		g_autofree char *text = tb_check_text(c.worked, c.diagnostics, -1);
		cr_expect_not_null(strstr(text, "Motif        made       24      28\n"), "%s", text);
		cr_expect_not_null(strstr(text, "  rows                   4       4\n  in each                6       7\n"
				"  Width      cm       54.0    63.0\n             in       21.3    24.8\n"
				"  Length     cm       36.0    36.0\n"), "%s", text);
		cr_expect_not_null(strstr(text, "Every row comes out in every size.\n"), "%s", text);
		tb_case_finish(&c);
	}
}

/* 12 + 2 x 6 of 24; 3 more round as high as the first 4 are, of 2. */
Test(check, motifs_of_parts_and_gauge_by_rounds)
{
	tb_case c = tb_case_read("vest.txt", "Vest\n\nGauge: First 4 rounds = 6 in across\n\n" MOTIF
		"BACK\nMake 12 motifs for the back and 6 for each front.\nJoin motifs in 3 rows of 4.\n\n"
		"FRONTS\nJoin motifs in 3 rows of 2.\n");
	g_autofree char *text = tb_check_text(c.worked, c.diagnostics, -1);
	cr_expect_not_null(strstr(text, "Motif        made       24\n"), "%s", text);
	cr_expect_not_null(strstr(text, "Back                    12\n"), "%s", text);
	cr_expect_not_null(strstr(text, "Fronts                   6\n"), "%s", text);
	cr_expect_null(strstr(text, "Across"), "two rounds are fewer than four\n%s", text);
	tb_case_finish(&c);
}

Test(check, letters_that_show_where_motifs_lie)
{
	for (int wrong = 0; wrong < 2; wrong++) {
		g_autofree char *pattern = g_strdup_printf("Cushion\n\nSquare A (make 5)\nRnd 1: Ch 4, 11 dc in 4th ch from hook, join. (12 dc)\n"
			"Fasten off.\n\nSquare B (make 4)\nRnd 1: Ch 4, 11 dc in 4th ch from hook, join. (12 dc)\nFasten off.\n\n"
			"Layout\nA B A\nB %c B\nA B A\n", wrong ? 'B' : 'A');
		tb_case c = tb_case_read("cushion.txt", pattern);
		cr_expect_eq(tb_diagnostics_count_errors(c.diagnostics), (unsigned)wrong);
		tb_case_finish(&c);
	}
}

/* A back of 12 and two fronts of 5 in S, 16 and 7 in M; what is sewn of them, and what is left. */
Test(check, seams_that_name_their_stitches)
{
	static const char pieces[] = "Slipover\n\nSizes: S (M)\n\n"
		"BACK\nCh 13 (17).\nRow 1: Sc in 2nd ch from hook and in each ch across, turn. (12 (16) sc)\n"
		"Rows 2-6: Ch 1, sc in each sc across, turn. Fasten off.\n\n"
		"FRONT (make 2)\nCh 6 (8).\nRow 1: Sc in 2nd ch from hook and in each ch across, turn. (5 (7) sc)\n"
		"Rows 2-6: Ch 1, sc in each sc across, turn. Fasten off.\n\nFINISHING\n";
	static const struct {
		const char *said;
		unsigned warnings;
	} seams[] = {
		{"Sew shoulder seams, 4 (5) sts each side.", 0},
		{"On each side, sew the outer 4 (5) sts of front and back together for the shoulders. That leaves 1 (2) sts of each front and 4 (6) sts of the back.", 0},
		{"Join the shoulders over 4 (5) sc at each side, leaving the center 4 (6) sts open.", 0},
		{"Join the shoulders over 4 (5) sc at each side, leaving the center 4 (5) sts open.", 1},
		{"Sew shoulder seams, 4 (8) sts each side.", 1},
		{"Join 4 (5) sts of each shoulder. That leaves 1 (1) sts of each front.", 1},
		{"Sew shoulder seams, 4 (5, 6) sts each side.", 1},
		{"Sew shoulder seams.", 0},
	};
	for (size_t i = 0; i < G_N_ELEMENTS(seams); i++) {
		g_autofree char *pattern = g_strconcat(pieces, seams[i].said, "\n", NULL);
		tb_case c = tb_case_read("slipover.txt", pattern);
		g_autofree char *faults = tb_case_faults(&c);
		cr_expect_eq(tb_diagnostics_count(c.diagnostics), seams[i].warnings, "%s\n%s", seams[i].said, faults);
		g_autofree char *text = tb_check_text(c.worked, c.diagnostics, -1);
		cr_expect(seams[i].warnings > 0 || i == 7 || strstr(text, "Each shoulder sewn        4       5\n") != NULL, "%s", text);
		tb_case_finish(&c);
	}
}

/* 3 + 4 + 5 + 4 + 3 = 19; and a sleeve that is said first is one of two. */
Test(check, motifs_in_rows_of_several_lengths)
{
	static const struct {
		const char *said;
		unsigned faults;
	} ways[] = {{"Sew the hexagons in rows of 3, 4, 5, 4 and 3.", 0}, {"Join hexagons in rows of 3, 4, 5, 4 and 4.", 1},
		{"Join hexagons in rows of 3, 4, 5 and 4.", 1}, {"For each sleeve join 4 hexagons in 2 rows of 2.", 0}};
	for (size_t i = 0; i < G_N_ELEMENTS(ways); i++) {
		g_autofree char *pattern = g_strdup_printf("Cushion\n\nHEXAGON (make 19)\nRnd 1: Ch 4, 11 dc in 4th ch from hook, join. (12 dc)\n"
			"Fasten off.\n\nFINISHING\n%s\n", ways[i].said);
		tb_case c = tb_case_read("cushion.txt", pattern);
		g_autofree char *faults = tb_case_faults(&c);
		cr_expect_eq(tb_diagnostics_count(c.diagnostics), ways[i].faults, "%s\n%s", ways[i].said, faults);
		tb_case_finish(&c);
	}
}
