/* What pieces and garments measure, and what is stated of them: counted by hand at a centimetre a stitch and a row. */
#include "counts.h"

#include "fabric/finished.h"
#include "fabric/yarn.h"

#include <criterion/criterion.h>
#include <math.h>

#define GAUGE "Gauge: 10 sts and 10 rows = 10 cm\n"
#define SC_TO(last, sts) "Rows 2-" #last ": Ch 1, turn, sc in each st across. [" #sts " sc]\n"
#define FIRST(sts) "Row 1: Sc in 2nd ch from hook and in each ch across. [" #sts " sc]\n"

/* 40 wide, 20 to the armhole, 4 off at each side, 18 of armhole with shoulders of 10 and a neck of 12. */
#define BACK "\nBACK\nCh 41.\n" FIRST(40) SC_TO(20, 40) "Shape armholes\n" \
	"Row 21: Ch 1, turn, sl st in first 4 sts, ch 1, sc in next 32 sts, leave rem sts unworked. [32 sc]\n" \
	"Rows 22-36: Ch 1, turn, sc in each sc across. [32 sc]\n" \
	"First shoulder\nRow 37: Ch 1, turn, sc in first 10 sts, leave rem sts unworked. [10 sc]\n" \
	"Row 38: Ch 1, turn, sc in each st across. [10 sc] Fasten off.\n" \
	"Second shoulder\nSk next 12 sts of Row 36, join yarn in next st.\n" \
	"Row 37: Ch 1, sc in same st and in each st across. [10 sc]\nRow 38: Ch 1, turn, sc in each st across. [10 sc] Fasten off.\n"
#define FRONT "\nFRONT\nCh 41.\n" FIRST(40) SC_TO(38, 40)
/* 20 at the cuff, 30 at the upper arm, 7 rows to the underarm, 3 of cap. */
#define SLEEVE "\nSLEEVE (make 2)\nCh 21.\n" FIRST(20) "Row 2: Ch 1, turn, 2 sc in first st, sc in each st to last st, 2 sc in last st. [22 sc]\n" \
	"Rows 3-6: Rep Row 2. [30 sc]\nRow 7: Ch 1, turn, sc in each st across. [30 sc]\n" \
	"Cap\nRow 8: Ch 1, turn, sl st in first 4 sts, ch 1, sc in next 22 sts, leave rem sts unworked. [22 sc]\n" \
	"Rows 9-10: Ch 1, turn, sc in each sc across. [22 sc]\n"

static tb_case work(const char *text)
{
	tb_case c = tb_case_read("test.txt", text);
	cr_assert_not_null(c.worked, "%s", text);
	return c;
}

/* The stitches of the last row of the first piece. */
static guint32 of_last(const tb_case *c)
{
	const tb_fabric *fabric = tb_worked_fabric(c->worked, 0, 0);
	return fabric->rows[fabric->row_count - 1].stitches;
}

/* The length of KIND of a piece, or, -1, of the whole, in cm; 0 where it is not known. */
static double cm_of(const tb_case *c, tb_finished_kind kind, int piece)
{
	g_autoptr(GArray) all = tb_sized_find(c->worked);
	for (guint i = 0; i < all->len; i++) {
		const tb_sized *one = &g_array_index(all, tb_sized, i);
		if (one->kind == kind && one->piece == piece)
			return round(one->mm[0] * 100) / 1000;
	}
	return 0;
}

Test(sized, a_back_and_a_sleeve)
{
	tb_case c = work("Title: T\n" GAUGE BACK FRONT SLEEVE);
	expect_sound(&c);
	cr_expect_float_eq(cm_of(&c, TB_FINISHED_HEM, 0), 40, 1e-6);
	cr_expect_float_eq(cm_of(&c, TB_FINISHED_ARMHOLE, 0), 18, 1e-6);
	cr_expect_float_eq(cm_of(&c, TB_FINISHED_SHOULDER, 0), 10, 1e-6);
	cr_expect_float_eq(cm_of(&c, TB_FINISHED_NECK, 0), 12, 1e-6);
	cr_expect_float_eq(tb_worked_fabric(c.worked, 0, 0)->length_mm, 380, 1e-6);
	cr_expect_float_eq(cm_of(&c, TB_FINISHED_CUFF, 2), 20, 1e-6);
	cr_expect_float_eq(cm_of(&c, TB_FINISHED_UPPER_ARM, 2), 30, 1e-6);
	cr_expect_float_eq(cm_of(&c, TB_FINISHED_TO_UNDERARM, 2), 7, 1e-6);
	/* back and front */
	cr_expect_float_eq(cm_of(&c, TB_FINISHED_BUST, -1), 80, 1e-6);
	tb_case_finish(&c);
}

/* A back alone, or with one of two fronts, is nobody's bust; twice what is made twice is. */
Test(sized, the_bust_needs_all_that_goes_around)
{
	static const struct {
		const char *pieces;
		double bust;
	} cases[] = {{BACK, 0}, {BACK "\nLEFT FRONT\nCh 20.\n" FIRST(19), 0},
		{BACK "\nLEFT FRONT\nCh 20.\n" FIRST(19) "\nRIGHT FRONT\nCh 20.\n" FIRST(19), 78},
		{BACK "\nFRONT BAND\nCh 20.\n" FIRST(19), 0}, {"\nBACK AND FRONT (make 2)\nCh 36.\n" FIRST(35) SC_TO(9, 35), 70},
		{"\nPANEL (make 2)\nCh 36.\n" FIRST(35) SC_TO(9, 35), 0},
		{"\nBODY\nCh 90, join.\nRnd 1: Ch 1, sc in each ch around, join. [90 sc]\nRnds 2-9: Ch 1, sc in each sc around, join. [90 sc]\n", 90}};
	for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
		g_autofree char *text = g_strconcat("Title: T\n" GAUGE, cases[i].pieces, NULL);
		tb_case c = work(text);
		cr_expect_float_eq(cm_of(&c, TB_FINISHED_BUST, -1), cases[i].bust, 1e-6, "%s: %g", text, cm_of(&c, TB_FINISHED_BUST, -1));
		tb_case_finish(&c);
	}
}

/* A sleeve that starts wide and slopes may go up or down: nothing is said; in rounds it goes down. */
Test(sized, which_end_is_the_cuff)
{
	static const struct {
		const char *rows;
		double cuff, arm;
	} cases[] = {
		{"Ch 31.\n" FIRST(30) "Row 2: Ch 1, turn, sc2tog, sc in each st to last 2 sts, sc2tog. [28 sc]\n", 0, 0},
		{"Ch 30, join.\nRnd 1: Ch 1, sc in each ch around, join. [30 sc]\n"
		 "Rnd 2: Ch 1, sc2tog, sc in each sc to last 2 sts, sc2tog, join. [28 sc]\n", 28, 30},
		{"Ch 31.\n" FIRST(30) SC_TO(5, 30), 30, 30}};
	for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
		g_autofree char *text = g_strconcat("Title: T\n" GAUGE "\nSLEEVE\n", cases[i].rows, NULL);
		tb_case c = work(text);
		cr_expect_float_eq(cm_of(&c, TB_FINISHED_CUFF, 0), cases[i].cuff, 1e-6, "%s", text);
		cr_expect_float_eq(cm_of(&c, TB_FINISHED_UPPER_ARM, 0), cases[i].arm, 1e-6, "%s", text);
		tb_case_finish(&c);
	}
}

/* An edging is no part of a piece's width; a band worked sideways is as high as it was wide. */
Test(sized, edgings_and_bands_worked_sideways)
{
	tb_case c = work("Title: T\n" GAUGE "\nBLANKET\nCh 51.\n" FIRST(50) SC_TO(40, 50)
		"EDGE\nRnd 1: Ch 1, 3 sc in first sc, sc in next 48 sc, 3 sc in last sc, 40 sc evenly down row ends, 3 sc in first ch, "
		"sc in next 48 chs, 3 sc in last ch, 40 sc evenly up row ends, join with sl st in first sc. (188 sc)\n");
	cr_expect_float_eq(tb_worked_fabric(c.worked, 0, 0)->width_mm, 500, 1e-6);
	cr_expect_float_eq(tb_worked_fabric(c.worked, 0, 0)->length_mm, 400, 1e-6);
	tb_case_finish(&c);
	c = work("Title: T\n" GAUGE "\nHAT\nCh 9.\n" FIRST(8) "Rows 2-50: Ch 1, turn, sc in BLO of each st across. [8 sc]\n"
		"Rnd 51: Ch 1, work 50 sc evenly along the row ends, join. [50 sc]\nRnds 52-65: Ch 1, sc in each sc around, join. [50 sc]\n");
	cr_expect_eq(tb_sized_across(c.worked, 0), TB_ACROSS_AROUND);
	cr_expect_float_eq(tb_worked_fabric(c.worked, 0, 0)->width_mm, 500, 1e-6);
	cr_expect_float_eq(tb_worked_fabric(c.worked, 0, 0)->length_mm, 230, 1e-6);
	tb_case_finish(&c);
}

/* What is stated, in many words, and what is told of it; "" for nothing. The work: bust 80, back 40 by 38, cuff 20. */
Test(finished, stated_and_worked)
{
	static const struct {
		const char *said, *code;
	} cases[] = {{"Finished bust: 80 cm", ""}, {"Finished bust: 81.5 cm", ""}, {"Finished bust: 84 cm", "finished-differs"},
		{"Finished bust 31½ in", ""}, {"Finished chest 34\"", "finished-differs"}, {"Finished bust: 80 cm (31½ in)", ""},
		{"Finished measurements: bust 80 cm, length 38 cm, upper arm 30 cm, cuff 20 cm", ""},
		{"Finished measurements: bust 80 cm, length 38 cm, upper arm 30 cm, cuff 24 cm", "finished-differs"},
		{"Finished measurements: bust 80 cm, length 44 cm", "finished-differs"},
		{"Bust: 96 cm", ""}, {"To fit bust: 70 cm\nEase: 10 cm", ""}, {"To fit bust: 70 cm\nEase: 4 cm", "finished-differs"},
		{"To fit bust: 70 cm\nEase: 5-10 cm", ""}, {"Upper arm: 30 cm", ""}, {"Upper arm: 34 cm", "finished-differs"},
		{"Cuff: 20 cm", ""}, {"Cuff: 16 cm", "finished-differs"}, {"Armhole: 18 cm", ""}, {"Armhole depth: 22 cm", "finished-differs"},
		{"Neck: 12 cm", ""}, {"Neck width: 16 cm", "finished-differs"}, {"Finished length: 38 cm", ""},
		{"Sleeve length: 7 cm", ""}, {"Sleeve seam: 11 cm", "finished-differs"}, {"Sleeve, cuff to wrist: 40 cm", ""},
		{"Shoulder: 10 cm", ""}, {"You will need 60 cm of elastic to wrist, 12 cm each.", ""},
		{"Finished bust: 80 (90, 100) cm", "finished-differs"}};
	for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
		g_autofree char *text = g_strconcat("Title: T\n", cases[i].said, "\n" GAUGE BACK FRONT SLEEVE, NULL);
		tb_case c = work(text);
		g_autofree char *faults = tb_case_faults(&c);
		if (*cases[i].code == '\0')
			cr_expect_eq(tb_diagnostics_count(c.diagnostics), 0, "%s: %s", cases[i].said, faults);
		else
			cr_expect_not_null(find_fault(&c, cases[i].code), "%s: %s", cases[i].said, faults);
		tb_case_finish(&c);
	}
}

/* Of a piece, in the line under its heading and in JSON; in one size that differs only that is told. */
Test(finished, of_a_piece_and_a_size)
{
	tb_case c = work("Title: T\nSizes: S (M)\n" GAUGE "\nSCARF\nFinished width: 20 (30) cm\nCh 21 (25).\n"
		"Row 1: Sc in 2nd ch from hook and in each ch across. [20 (24) sc]\n");
	const tb_diagnostic *fault = find_fault(&c, "finished-differs");
	cr_assert_not_null(fault);
	cr_expect_eq(fault->sizes, 2u);
	cr_expect_not_null(strstr(fault->message, "30.0 cm (11.8 in)"), "%s", fault->message);
	cr_expect_not_null(strstr(fault->message, "24.0 cm (9.4 in)"), "%s", fault->message);
	tb_case_finish(&c);
	static const char json[] = "{\"format\":1,\"title\":\"T\",\"sizes\":[\"S\",\"M\"],"
		"\"gauge\":{\"stitches\":10,\"rows\":10,\"over\":\"10 cm\"},\"pieces\":[{\"name\":\"Scarf\",\"start\":\"Ch 21 (25).\","
		"\"rows\":[\"Row 1: Sc in 2nd ch from hook and in each ch across.\"],\"finished\":{\"width\":%s,\"unit\":\"cm\"}}]}";
	static const struct {
		const char *width, *code;
	} cases[] = {{"[20, 24]", ""}, {"[20, 30]", "finished-differs"}, {"[20, 24, 28]", "finished-sizes"}, {"\"20\"", "measure-value"},
		{"[20, -24]", "measure-value"}, {"20", "finished-differs"}};
	for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
		g_autoptr(GString) text = g_string_new(json);
		g_string_replace(text, "%s", cases[i].width, 1);
		tb_case in_json = tb_case_read("test.json", text->str);
		g_autofree char *faults = tb_case_faults(&in_json);
		if (*cases[i].code == '\0')
			cr_expect_eq(tb_diagnostics_count(in_json.diagnostics), 0, "%s: %s", cases[i].width, faults);
		else
			cr_expect_not_null(find_fault(&in_json, cases[i].code), "%s: %s", cases[i].width, faults);
		tb_case_finish(&in_json);
	}
}

/* 20 sts and 10 rows of a swatch weigh 5 g: 30 by 20 sts are three times as many, 15 g; made twice, 30 g. */
Test(yarn, from_a_swatch_that_was_weighed)
{
	static const struct {
		const char *said, *heading;
		double grams;
	} cases[] = {{"Yarn: my test piece, 20 sc wide and 10 rows deep, weighed 5 g", "SCARF", 15},
		{"Yarn: a swatch of 20 sts and 10 rows weighs 5 g", "CUFF (make 2)", 30},
		{"Yarn: make a swatch of 20 sts and 10 rows and weigh it; if the swatch weighs 1 oz you have to buy more", "SCARF", 3 * 28.349523125},
		{"Notes: The sample (10 rows of 20 sts) weighs 5 grams.", "SCARF", 15},
		{"Yarn: 100 g of wool. A swatch of 20 sts and 10 rows is 10 cm wide.", "SCARF", 0},
		{"Yarn: the swatch weighs 5 g", "SCARF", 0}};
	for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
		g_autofree char *text = g_strdup_printf("Title: T\n%s\n\n%s\nCh 31.\n" FIRST(30) SC_TO(20, 30), cases[i].said, cases[i].heading);
		double grams[TB_MAX_SIZES] = {0};
		tb_swatch swatch;
		tb_case c = work(text);
		cr_expect_eq(tb_yarn_estimate(c.worked, &swatch, grams), cases[i].grams > 0, "%s", cases[i].said);
		cr_expect_float_eq(grams[0], cases[i].grams, 1e-6, "%s: %g", cases[i].said, grams[0]);
		tb_case_finish(&c);
	}
}

/* The second shoulder takes what was left for it, and nothing that the armhole left below. */
Test(sized, the_second_shoulder_is_no_wider_for_an_armhole)
{
	tb_case c = work("Title: T\n" GAUGE BACK);
	expect_sound(&c);
	cr_expect_eq(of_last(&c), 10u);
	tb_case_finish(&c);
}
