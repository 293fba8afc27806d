/* The row language read into its tree, and what it refuses. */
#include "notation/parse.h"
#include "support.h"
#include "support/limits.h"
#include "tree_text.h"

#include <criterion/criterion.h>
#include <string.h>

static const char graded[] = "S, M, L";

/* The tree of a start and rows, as text, and the faults of the rows. */
static char *read_rows(const char *sizes, const char *start, const char *rows, char **faults)
{
	tb_case c = tb_case_rows(sizes, start, rows);
	cr_assert_not_null(c.pattern);
	/* The list of the case holds what came of working the rows as well. */
	g_autoptr(tb_diagnostics) own = tb_diagnostics_create(c.source);
	tb_diagnostics_set_sizes(
		own, (const char *const *)c.pattern->sizes->pdata, tb_pattern_count_sizes(c.pattern));
	g_autoptr(tb_script) script = tb_script_read(c.pattern, 0, own);
	*faults = tb_diagnostics_format(own);
	char *text = tb_script_text(script);
	tb_case_finish(&c);
	return text;
}

static void expect_script(
	const char *sizes, const char *start, const char *rows, const char *expected)
{
	g_autofree char *faults = NULL;
	g_autofree char *text = read_rows(sizes, start, rows, &faults);
	cr_expect_str_empty(faults, "%s gives:\n%s", rows, faults);
	cr_expect_str_eq(text, expected, "%s gives:\n%snot:\n%s", rows, text, expected);
}

typedef struct {
	const char *acts;
	const char *tree;
} act_case;

static void expect_acts(const char *sizes, const act_case *cases, size_t count)
{
	for (size_t i = 0; i < count; i++) {
		g_autofree char *row = g_strconcat("Row 1: ", cases[i].acts, NULL);
		g_autofree char *expected =
			g_strconcat("start: ch 20\nrow 1-1: ", cases[i].tree, "\n", NULL);
		expect_script(sizes, "Ch 20.", row, expected);
	}
}

/* The first fault of a row: where its text is, and its code. */
static void expect_fault(const char *sizes, const char *row, const char *at, const char *code)
{
	tb_case c = tb_case_rows(sizes, "Ch 20.", row);
	g_autoptr(tb_diagnostics) own = tb_diagnostics_create(c.source);
	tb_script_destroy(tb_script_read(c.pattern, 0, own));
	const tb_diagnostic *fault = tb_diagnostics_get(own, 0);
	cr_expect_not_null(fault, "no fault in “%s”", row);
	if (fault != NULL) {
		cr_expect_str_eq(fault->code, code, "%s (%s) in “%s”", fault->code, fault->message, row);
		cr_expect_eq(tb_diagnostics_count(own), 1, "more than one fault in “%s”", row);
		const char *text = tb_source_get_text(c.source, NULL) + fault->place.start;
		cr_expect(strncmp(text, at, strlen(at)) == 0, "“%s” faulted at “%.20s”", row, text);
		cr_expect_not_null(fault->message);
	}
	tb_case_finish(&c);
}

Test(parse, a_graded_garment)
{
	expect_script(graded, "Ch 85 (93, 101).",
		"Row 1 (RS): Dc in 4th ch from hook and in each ch across, turn. [83 (91, 99) sts]\n"
		"Row 2 (WS): Ch 3 (counts as dc), dc in each st to last st, dc in top of tch, turn. "
		"(83 (91, 99) sts)\n"
		"Row 3: Ch 3 (counts as dc), sk first st, dc in next 2 sts, *FPdc2tog around st 2 rows "
		"below, sk st behind, dc in next 3 sts; rep from * across, turn. — 83 (91, 99) sts\n"
		"Rows 4-5: Ch 1 (does not count as st), sc across.\n"
		"Rows 6-9: Rep Rows 2-5.\n"
		"Row 10: Rep Row 3. Fasten off.",
		"start: ch 85/93/101\n"
		"row 1-1 RS: 1 dc: nth chain 4 ch; 1 dc: each to last 0 ch; turn = 83/91/99\n"
		"row 2-2 WS: ch 3 counts as dc; 1 dc: each to last 1; 1 dc: next 1 tch; turn"
		" = 83/91/99\n"
		"row 3-3: ch 3 counts as dc; sk first 1; 1 dc: next 2; repeat to last 0 "
		"{1 FPdc2tog: next 1 below2 around; sk behind; 1 dc: next 3}; turn = 83/91/99\n"
		"row 4-5: ch 1 not counted; 1 sc: each to last 0\n"
		"row 6-9: again 2-5\n"
		"row 10-10: again 3-3; fasten off\n");
}

Test(parse, heads)
{
	static const char *const heads[][2] = {
		{"Row 3:", "row 3-3"},
		{"ROW 3 (RS):", "row 3-3 RS"},
		{"Row 3 [WS row]:", "row 3-3 WS"},
		{"Row 3: (RS)", "row 3-3 RS"},
		{"Rows 5-8:", "row 5-8"},
		{"Rows 5\xe2\x80\x93"
		 "8:",
			"row 5-8"},
		{"Rows 5 to 8.", "row 5-8"},
		{"Rows 5 and 6:", "row 5-6"},
		{"Rows 5, 6 and 7:", "row 5-7"},
		{"Rnd 2:", "rnd 2-2"},
		{"Round 2:", "rnd 2-2"},
		{"1st row.", "row 1-1"},
		{"2nd Round.", "rnd 2-2"},
		{"2d row--", "row 2-2"},
		{"Fourth row:", "row 4-4"},
		{"Row 3 \xe2\x80\x94", "row 3-3"},
		{"(WS) Row 4:", "row 4-4 WS"},
		{"Row 4 (right side facing):", "row 4-4 RS"},
		{"Size L only: Row 5:", "row 5-5 sizes 4"},
		{"Sizes M (L) only: Row 5:", "row 5-5 sizes 6"},
		{"Row 5 (sizes S and L only):", "row 5-5 sizes 5"},
	};
	for (size_t i = 0; i < G_N_ELEMENTS(heads); i++) {
		g_autofree char *row = g_strconcat(heads[i][0], " dc across.", NULL);
		g_autofree char *expected =
			g_strconcat("start: ch 20\n", heads[i][1], ": 1 dc: each to last 0\n", NULL);
		expect_script(graded, "Ch 20.", row, expected);
	}
	expect_script(graded, "Ch 20.", "Row 1: dc across.\nNext row: sc across.",
		"start: ch 20\nrow 1-1: 1 dc: each to last 0\nrow 2-2: 1 sc: each to last 0\n");
}

Test(parse, places)
{
	static const act_case cases[] = {
		{"3 dc", "1 dc: next 3"},
		{"dc in next 3 sts", "1 dc: next 3"},
		{"dc in each of next 3 sts", "1 dc: next 3"},
		{"dc 3", "1 dc: next 3"},
		{"Double crochet in the next three stitches", "1 dc: next 3"},
		{"3 dc in next st", "3 dc: next 1"},
		{"2 dc in each of next 3 sts", "2 dc: next 3"},
		{"2 dc in each st across", "2 dc: each to last 0"},
		{"dc in each st across", "1 dc: each to last 0"},
		{"dc in every stitch to end of row", "1 dc: each to last 0"},
		{"dc in each rem st", "1 dc: each to last 0"},
		{"dc in each st to last 2 sts", "1 dc: each to last 2"},
		{"dc in each st across to last 2 sts", "1 dc: each to last 2"},
		{"dc across to last st", "1 dc: each to last 1"},
		{"dc in each st and ch across", "1 dc: each to last 0"},
		{"dc in each ch across", "1 dc: each to last 0 ch"},
		{"dc in 4th ch from hook and in each ch across",
			"1 dc: nth chain 4 ch; 1 dc: each to last 0 ch"},
		{"dc in fourth ch from hook, and in next 3 chs", "1 dc: nth chain 4 ch; 1 dc: next 3 ch"},
		{"dc in 4th ch from hook (3 skipped chs count as dc)", "1 dc: nth chain 4 ch counts as st"},
		{"dc in last st", "1 dc: last 1"},
		{"dc in first st", "1 dc: first 1"},
		{"dc in same st", "1 dc: same 1"},
		{"dc in same st as joining", "1 dc: same 1"},
		{"dc in top of tch", "1 dc: next 1 tch"},
		{"dc in top of turning chain", "1 dc: next 1 tch"},
		{"dc in t-ch", "1 dc: next 1 tch"},
		{"dc in top of beg ch-3", "1 dc: next 1 tch"},
		{"dc in 3rd ch of ch-3", "1 dc: next 1 tch"},
		{"dc in next dc", "1 dc: next 1 dc"},
		{"dc in next 3 FPdc", "1 dc: next 3 FPdc"},
		{"dc in next ch", "1 dc: next 1 ch"},
		{"dc in next sp", "1 dc: next 1 sp0"},
		{"sc in next ch-1 sp", "1 sc: next 1 sp1"},
		{"sc in ch 2 space", "1 sc: next 1 sp2"},
		{"dc in sp between next 2 sts", "1 dc: between 1"},
		{"12 dc in ring", "12 dc: ring 1"},
		{"dc in 5th st", "1 dc: nth chain 5 ch"},
		{"sc BLO in next st", "1 sc: next 1 BLO"},
		{"sc in BLO of next 2 sts", "1 sc: next 2 BLO"},
		{"sc in front loop only of each st across", "1 sc: each to last 0 FLO"},
		{"sc in next st in BLO", "1 sc: next 1 BLO"},
		{"working in back loops only, sc across", "loops BLO; 1 sc: each to last 0"},
		{"sc in BLO across", "1 sc: each to last 0 BLO"},
		{"dc in next st, sc in next st; then tr in next st. Turn",
			"1 dc: next 1; 1 sc: next 1; 1 tr: next 1; turn"},
	};
	expect_acts(NULL, cases, G_N_ELEMENTS(cases));
}

Test(parse, posts)
{
	static const act_case cases[] = {
		{"FPdc around next st", "1 FPdc: next 1 around"},
		{"FPdc around the post of next st", "1 FPdc: next 1 around"},
		{"fpdc around each of next 4 sts", "1 FPdc: next 4 around"},
		{"FPdc around next 4 sts", "1 FPdc: next 4 around"},
		{"FPdc in next st", "1 FPdc: next 1 around"},
		{"4 FPdc", "1 FPdc: next 4 around"},
		{"BPdc around each st across", "1 BPdc: each to last 0 around"},
		{"Front post double crochet around next st", "1 FPdc: next 1 around"},
		{"FPdc2tog around st 2 rows below", "1 FPdc2tog: next 1 below2 around"},
		{"FPdc2tog around the post of the st 2 rows below", "1 FPdc2tog: next 1 below2 around"},
		{"FPdc2tog around next st two rows down", "1 FPdc2tog: next 1 below2 around"},
		{"FPdc around next FPdc 2 rows below", "1 FPdc: next 1 FPdc below2 around"},
		{"FPdc around middle dc of 3 below", "1 FPdc: next 3 dc around middle"},
		{"FPdc around 4th st 2 rows below", "1 FPdc: nth 4 below2 around"},
		{"FPdc around st 2 rows below, do not sk st behind",
			"1 FPdc: next 1 below2 around keeping behind"},
		{"FPdc around next st, sk st behind FPdc", "1 FPdc: next 1 around; sk behind"},
	};
	expect_acts(NULL, cases, G_N_ELEMENTS(cases));
}

Test(parse, other_acts)
{
	static const act_case cases[] = {
		{"ch 3 (counts as dc), turn", "ch 3 counts as dc; turn"},
		{"Chain 3, turn", "ch 3; turn"},
		{"Turn, ch 1 (does not count as a st)", "turn; ch 1 not counted"},
		{"Ch 3, counts as first dc, turn", "ch 3 counts as dc; turn"},
		{"ch 3 (counts as dc here and throughout)", "ch 3 counts as dc"},
		{"ch 5 (counts as dc, ch 2)", "ch 3 counts as dc; ch 2"},
		{"3 chain", "ch 3"},
		{"sk 1", "sk next 1"},
		{"miss 2", "sk next 2"},
		{"sk next 2 sts", "sk next 2"},
		{"sk first st", "sk first 1"},
		{"skip next ch-1 sp", "sk next 1 sp1"},
		{"dc2tog over next 2 sts", "1 dc2tog: next 1"},
		{"3 dc2tog", "1 dc2tog: next 3"},
		{"sc 2 tog", "1 sc2tog: next 1"},
		{"dc2tog twice", "repeat 2 {1 dc2tog: next 1}"},
		{"join with sl st in top of ch-3", "join next 1 tch"},
		{"join with sl st to first dc", "join first 1 dc"},
		{"sl st in first st to join", "join first 1"},
		{"do not join", "do not join"},
		{"leave rem sts unworked", "leave all"},
		{"leave last 3 sts unworked", "leave 3"},
		{"fasten off", "fasten off"},
		{"join yarn in 5th st", "join yarn nth 5"},
		{"work 8 sc in ring", "8 sc: ring 1"},
		{"sk 3, FPtr in each of next 3, working in front of sts just made FPtr in each of 3 "
		 "skipped sts",
			"sk next 3; 1 FPtr: next 3 around; in front; 1 FPtr: skipped 3 around"},
		{"sk 2, 2 dc, working behind sts just made, dc in skipped sts",
			"sk next 2; 1 dc: next 2; behind; 1 dc: skipped 2"},
		{"in next ch-2 sp, work (2 dc, ch 2, 2 dc)",
			"group next 1 sp2 {1 dc: next 2; ch 2; 1 dc: next 2}"},
	};
	expect_acts(NULL, cases, G_N_ELEMENTS(cases));
}

Test(parse, repeats)
{
	static const act_case cases[] = {
		{"[FPdc around next st, BPdc around next st] 3 times",
			"repeat 3 {1 FPdc: next 1 around; 1 BPdc: next 1 around}"},
		{"(dc, sc) twice", "repeat 2 {1 dc: next 1; 1 sc: next 1}"},
		{"{dc, sc} three times", "repeat 3 {1 dc: next 1; 1 sc: next 1}"},
		{"[dc, sc] 4 (5, 6) times", "repeat 4/5/6 {1 dc: next 1; 1 sc: next 1}"},
		{"[dc, sc] across", "repeat to last 0 {1 dc: next 1; 1 sc: next 1}"},
		{"[dc, sc] to last 3 sts", "repeat to last 3 {1 dc: next 1; 1 sc: next 1}"},
		{"(2 dc, ch 2, 2 dc) in next ch-2 sp",
			"group next 1 sp2 {1 dc: next 2; ch 2; 1 dc: next 2}"},
		{"*dc, sc; rep from * across", "repeat to last 0 {1 dc: next 1; 1 sc: next 1}"},
		{"*dc, sc; rep from * to end", "repeat to last 0 {1 dc: next 1; 1 sc: next 1}"},
		{"*dc, sc; repeat from * to last 3 sts", "repeat to last 3 {1 dc: next 1; 1 sc: next 1}"},
		{"*dc, sc; rep from * across to last 3 (4, 5) sts",
			"repeat to last 3/4/5 {1 dc: next 1; 1 sc: next 1}"},
		{"*dc, sc; rep from * until 3 sts remain", "repeat to last 3 {1 dc: next 1; 1 sc: next 1}"},
		{"*dc, sc; rep from * across, ending with dc in top of tch",
			"repeat to last 0 {1 dc: next 1; 1 sc: next 1}; 1 dc: next 1 tch"},
		/* four more, five in all; only "4 times" may have meant four in all [SF] */
		{"*dc, sc; rep from * 4 times", "repeat 5? {1 dc: next 1; 1 sc: next 1}"},
		{"*dc, sc; rep from * 4 more times", "repeat 5 {1 dc: next 1; 1 sc: next 1}"},
		{"*dc, sc; rep from * 4 times more", "repeat 5 {1 dc: next 1; 1 sc: next 1}"},
		{"*dc, sc; rep from * 4 times in all", "repeat 4 {1 dc: next 1; 1 sc: next 1}"},
		{"*dc, sc; rep from * once more", "repeat 2 {1 dc: next 1; 1 sc: next 1}"},
		{"*dc, sc* 4 times", "repeat 4 {1 dc: next 1; 1 sc: next 1}"},
		{"*dc, sc*, rep from * to * 4 times", "repeat 5? {1 dc: next 1; 1 sc: next 1}"},
		{"*dc, sc, ** tr; rep from * across, ending last rep at **",
			"repeat to last 0 ending at 2 {1 dc: next 1; 1 sc: next 1; 1 tr: next 1}"},
		{"*dc, [sc, (dc, tr) twice] 3 times, *hdc; rep from * 3 times; rep from * across",
			"repeat to last 0 {1 dc: next 1; repeat 3 {1 sc: next 1; repeat 2 {1 dc: next 1; "
			"1 tr: next 1}}; repeat 4? {1 hdc: next 1}}"},
		{"**dc, *sc; rep from * twice; rep from ** across",
			"repeat to last 0 {1 dc: next 1; repeat 3? {1 sc: next 1}}"},
	};
	expect_acts(graded, cases, G_N_ELEMENTS(cases));
}

Test(parse, size_brackets)
{
	static const act_case cases[] = {
		{"20 (22, 24, 26, 28) dc", "1 dc: next 20/22/24/26/28"},
		{"20 (22; 24; 26; 28) dc", "1 dc: next 20/22/24/26/28"},
		{"20 (22: 24: 26: 28) dc", "1 dc: next 20/22/24/26/28"},
		{"20 (22-24-26-28) dc", "1 dc: next 20/22/24/26/28"},
		{"20 [22, 24, 26, 28] dc", "1 dc: next 20/22/24/26/28"},
		{"20 (22, 24) [26, 28] dc", "1 dc: next 20/22/24/26/28"},
		{"20 (22, 24, [26, 28]) dc", "1 dc: next 20/22/24/26/28"},
		{"0 (-, 24, -, 28) dc", "1 dc: next 0/-1/24/-1/28"},
		{"- (22, 24, 26, 28) dc", "1 dc: next -1/22/24/26/28"},
	};
	expect_acts("XS, S, M, L, XL", cases, G_N_ELEMENTS(cases));
	/* What holds anything but figures is no size bracket. */
	expect_script("S, M", "Ch 20.", "Row 1: 3 dc (dc, sc) twice.",
		"start: ch 20\nrow 1-1: 1 dc: next 3; repeat 2 {1 dc: next 1; 1 sc: next 1}\n");
	/* A pattern without sizes has none: this is a count. */
	expect_script(
		NULL, "Ch 20.", "Row 1: dc in next 18 (18)", "start: ch 20\nrow 1-1: 1 dc: next 18 = 18\n");
	/* With two sizes it is one. */
	expect_script("S, M", "Ch 20 (30).", "Row 1: dc in next 18 (28)",
		"start: ch 20/30\nrow 1-1: 1 dc: next 18/28\n");
}

Test(parse, counts_at_the_end)
{
	static const act_case cases[] = {
		{"dc across. [83 (91, 99) sts]", "1 dc: each to last 0 = 83/91/99"},
		{"dc across (83 sts)", "1 dc: each to last 0 = 83"},
		{"dc across. (83)", "1 dc: each to last 0 = 83"},
		{"dc across \xe2\x80\x94 83 (91, 99) sts.", "1 dc: each to last 0 = 83/91/99"},
		{"dc across - 83 sts.", "1 dc: each to last 0 = 83"},
		{"dc across. 83 sts.", "1 dc: each to last 0 = 83"},
		{"dc across (20 dc), turn.", "1 dc: each to last 0; turn = 20 dc"},
		{"dc across. [12 dc, 4 ch-2 sps]", "1 dc: each to last 0 = 12 dc, 4 sp2"},
		{"dc across. [12 dc and 4 ch]", "1 dc: each to last 0 = 12 dc, 4 ch"},
	};
	expect_acts(graded, cases, G_N_ELEMENTS(cases));
}

Test(parse, rows_again)
{
	static const char *const cases[][2] = {
		{"Rows 5-8: Rep Rows 1-4.", "row 5-8: again 1-4"},
		{"Row 7: Rep Row 3.", "row 7-7: again 3-3"},
		{"Row 7: As Row 3.", "row 7-7: again 3-3"},
		{"Row 7: Same as 3rd row.", "row 7-7: again 3-3"},
		{"Rows 5-8: Rep Rows 3 and 4 twice.", "row 5-8: again 3-4"},
		{"Rep Rows 3-6 until piece measures 50 (51, 52) cm, ending with Row 3.",
			"again 3-6 mm 500/510/520 ending row 3"},
		/* an inch is 25.4 mm: international inch, 1959 */
		{"Rep Rows 3-6 until piece measures 20 in from beg", "again 3-6 mm 508"},
		{"Rep Rows 3-6 until work measures 20 (20\xc2\xbd, 21)\xe2\x80\xb3 from beginning, ending "
		 "with a WS row.",
			"again 3-6 mm 508/520.7/533.4 ending WS"},
		{"Rep Rows 3-6 until piece measures 50.5 cm [20 in], end with Row 4",
			"again 3-6 mm 505 ending row 4"},
		{"Rep Rows 3-6 4 (5, 6) times", "again 3-6 times 4/5/6"},
		{"Rep Rows 3-6 4 more times", "again 3-6 times 4"},
		{"Rep Rows 3 and 4 twice more.", "again 3-4 times 2"},
		{"Repeat the 2nd row 53 times", "again 2-2 times 53"},
		{"Rep Rnd 2 3 times", "again 2-2 times 3"},
		{"Rep Rows 1-2 for pattern", "again 1-2 for pattern"},
		{"Rep Row 2 for pattern, fasten off.", "again 2-2 for pattern; fasten off"},
		{"Rep Rows 3-6 until piece measures about 20 in., ending with RS facing for next row.",
			"again 3-6 mm 508 ending WS"},
		{"Rep Rows 3-6 4 times, then rep Row 3.", "again 3-6 times 4\nagain 3-3 times 1"},
		{"Rep Rows 3-6 to same length as Swatch, ending with a RS row",
			"again 3-6 like Swatch ending RS"},
	};
	for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
		g_autofree char *expected = g_strconcat("start: ch 20\n", cases[i][1], "\n", NULL);
		expect_script(graded, "Ch 20.", cases[i][0], expected);
	}
	expect_script(NULL, "Ch 9.", "Row 1: dc across.\nRow 2: sc across.\nRep last 2 rows 4 times.",
		"start: ch 9\nrow 1-1: 1 dc: each to last 0\nrow 2-2: 1 sc: each to last 0\n"
		"again 1-2 times 4\n");
}

Test(parse, fasten_off_on_its_own_line_ends_the_row_before)
{
	expect_script(NULL, "Ch 9.", "Row 1: dc across.\nFasten off.",
		"start: ch 9\nrow 1-1: 1 dc: each to last 0; fasten off\n");
}

Test(parse, sizes_only)
{
	expect_script(graded, "Ch 9.",
		"Row 1: dc across to last 4 sts; sizes M (L) only: dc2tog, dc; turn.",
		"start: ch 9\nrow 1-1: 1 dc: each to last 4; only sizes 6 {1 dc2tog: next 1; "
		"1 dc: next 1}; turn\n");
}

Test(parse, starts)
{
	expect_script(NULL, "Ch 4, join with sl st to form a ring.", "Row 1: sc across",
		"start: ch 4; ring\nrow 1-1: 1 sc: each to last 0\n");
	expect_script(NULL, "Ch 4, sl st in first ch to form ring.", "Row 1: sc across",
		"start: ch 4; ring\nrow 1-1: 1 sc: each to last 0\n");
	expect_script(NULL, "Make a magic ring.", "Rnd 1: ch 3, 11 dc in ring, join.",
		"start: ring\nrnd 1-1: ch 3; 11 dc: ring 1; join first 1\n");
}

Test(parse, older_spellings)
{
	/* s c, d c, tr c, s d c with a space: Star Book No. 98, 1953 */
	static const act_case cases[] = {
		{"S c in next st, d c in next st, tr c in next st, s d c in next st",
			"1 sc: next 1; 1 dc: next 1; 1 tr: next 1; 1 hdc: next 1"},
		{"slip stitch in next st", "1 sl st: next 1"},
	};
	expect_acts(NULL, cases, G_N_ELEMENTS(cases));
}

/* US and UK names of the same stitches: Craft Yarn Council, Standards & Guidelines */
Test(parse, uk_terms)
{
	static const char json[] =
		"{\"format\":1,\"terms\":\"UK\",\"pieces\":[{\"name\":\"Back\","
		"\"start\":\"20 ch.\",\"rows\":["
		"\"Row 1: Tr into 4th ch from hook and into each ch to end.\","
		"\"Row 2: 3 ch, miss first tr, dc in next 3 sts, htr in next st, ss in next st\","
		"\"Row 3: Double treble in next tr, 2 trebles in next st, FPtr round next st\","
		"\"Row 4: *3 tr, miss 1 tr; rep from * to end, 1 tr in 3rd of 3 ch.\"]}]}";
	tb_case c = tb_case_read("uk.json", json);
	g_autoptr(tb_diagnostics) own = tb_diagnostics_create(c.source);
	g_autoptr(tb_script) script = tb_script_read(c.pattern, 0, own);
	g_autofree char *text = tb_script_text(script);
	cr_expect_eq(tb_diagnostics_count(own), 0);
	cr_expect_str_eq(text,
		"start: ch 20\n"
		"row 1-1: 1 dc: nth chain 4 ch; 1 dc: each to last 0 ch\n"
		"row 2-2: ch 3; sk first 1 dc; 1 sc: next 3; 1 hdc: next 1; 1 sl st: next 1\n"
		"row 3-3: 1 tr: next 1 dc; 2 dc: next 1; 1 FPdc: next 1 around\n"
		"row 4-4: repeat to last 0 {1 dc: next 3; sk next 1 dc}; 1 dc: next 1 tch\n");
	tb_case_finish(&c);
}

Test(parse, a_piece_that_grows_from_another_says_from_which_stitches)
{
	static const char json[] =
		"{\"format\":1,\"sizes\":[\"S\",\"M\",\"L\"],\"pieces\":["
		"{\"name\":\"Back\",\"start\":\"Ch 85 (93, 101).\",\"rows\":[\"Row 1: dc in 4th ch from "
		"hook "
		"and in each ch across.\"]},{\"name\":\"Left front\",\"from\":{\"piece\":\"Back\","
		"\"stitches\":\"1-37 (41, 45)\"},\"rows\":[\"Row 1: ch 3, dc across.\"]}]}";
	tb_case c = tb_case_read("from.json", json);
	g_autoptr(tb_diagnostics) own = tb_diagnostics_create(c.source);
	g_autoptr(tb_script) script = tb_script_read(c.pattern, 1, own);
	cr_assert(script->has_from);
	cr_expect_eq(tb_number_in(&script->from_first, 2), 1);
	cr_expect_eq(tb_number_in(&script->from_last, 0), 37);
	cr_expect_eq(tb_number_in(&script->from_last, 2), 45);
	tb_case_finish(&c);
}

Test(parse, refusals)
{
	static const char *const cases[][3] = {
		{"Row 1: dc in next 3 stz", "stz", "word-unknown"},
		{"Row 1: ch 85 flatly", "flatly", "word-unknown"},
		{"Row 1: dc in", "dc in", "row-unfinished"},
		{"Row 1: htr in next st", "htr", "other-terms"},
		{"Row 1: 20 (22) dc", "20 (22)", "size-count"},
		{"Row 1: dc across. [20 (22) sts]", "20 (22)", "size-count"},
		{"Row 1: 9999999 dc", "9999999", "number-too-large"},
		{"Row 1: 2.5 dc", "2.5", "number-not-whole"},
		{"Row 1: (dc, sc", "(dc", "bracket-open"},
		{"Row 1: dc in next 3 sts)", ")", "bracket-close"},
		{"Row 1: [] 3 times", "[]", "repeat-empty"},
		{"Row 1: rep from * across", "rep", "repeat-no-star"},
		{"Row 0: dc across", "0", "row-number"},
		{"Rows 5-3: dc across", "5-3", "row-list"},
		{"Rows 4 and 6: dc across", "Rows 4 and 6", "row-list"},
		{"Row 1:", "Row 1:", "row-empty"},
		{"Rows 7-9: Rep Rows 3-4 twice", "twice", "rows-again-times"},
		{"Rep Rows 3-6 until piece measures 0 cm", "0 cm", "measure-value"},
		{"Rep Rows 3-6 to same length as Sleeve", "Sleeve", "piece-unknown"},
		{"Rep last 4 rows twice", "last", "rows-again-unknown"},
		{"Size XXL only: Row 1: dc across", "XXL", "size-unknown"},
	};
	for (size_t i = 0; i < G_N_ELEMENTS(cases); i++)
		expect_fault(graded, cases[i][0], cases[i][1], cases[i][2]);
	expect_fault(NULL, "Row 1: 20 (22, 24) dc", "20 (22, 24)", "size-count");
}

Test(parse, a_fault_leaves_out_its_row_alone)
{
	g_autofree char *faults = NULL;
	g_autofree char *text =
		read_rows(graded, "Ch 20.", "Row 1: dc acrozs\nRow 2: sc across", &faults);
	cr_expect_str_eq(text, "start: ch 20\nrow 1-1: \nrow 2-2: 1 sc: each to last 0\n");
	cr_expect_not_null(strstr(faults, "row 1: “acrozs” is not understood behind “dc”"));
	cr_expect_not_null(strstr(faults, "Did you mean “across”?"));
}

/* Owned: row 1, with TIMES times TEXT between BEFORE and BEHIND. */
static char *long_row(const char *before, const char *text, unsigned times, const char *behind)
{
	GString *row = g_string_new("Row 1: ");
	g_string_append(row, before);
	for (unsigned i = 0; i < times; i++)
		g_string_append(row, text);
	g_string_append(row, behind);
	return g_string_free(row, FALSE);
}

static void expect_long_fault(const char *text, unsigned times, const char *at, const char *code)
{
	g_autofree char *row = long_row("", text, times, "");
	expect_fault(graded, row, at, code);
}

Test(parse, nesting_and_length_are_bounded)
{
	expect_long_fault("[(", 30000, "[", "nesting-too-deep");
	expect_long_fault("(", 60000, "(", "nesting-too-deep");
	expect_long_fault("1 (1, ", 9000, "(1", "nesting-too-deep");
	expect_long_fault("*dc ", 20000, "R", "row-too-long");
	expect_long_fault("*dc ", 15000, "R", "row-tangled");
	expect_long_fault("* ", 30000, "R", "row-tangled");
	expect_long_fault("20 sc, ", 9000, "R", "row-tangled");
	expect_long_fault("size S only ", 4000, "", "row-unfinished");
	expect_long_fault("work ", 5000, "R", "row-tangled");
	expect_long_fault("the ", 16000, "the", "word-unknown");
	expect_long_fault("dc and ", 9000, "R", "row-tangled");
}

/* How often a script says PART. */
static unsigned count_parts(const char *script, const char *part)
{
	unsigned count = 0;
	for (const char *at = strstr(script, part); at != NULL; at = strstr(at + 1, part))
		count++;
	return count;
}

/* What is honest is read, however long a row is: nothing is lost on the way. */
Test(parse, a_row_of_64_kib_is_read)
{
	static const struct {
		const char *before, *text, *behind, *part;
		unsigned times, parts;
	} rows[] = {
		{"", "dc in next st, ", "turn.", "1 dc: next 1", 4000, 4000},
		{"*", "dc in next st, ", "dc in next st; rep from * across.", "1 dc: next 1", 1000, 1001},
		{"[", "dc in next st, ", "dc in next st] twice.", "1 dc: next 1", 1000, 1001},
		{"", "*dc in next st, ch 1; rep from * twice, ", "turn.", "repeat", 500, 500},
		{"", "(2 dc, ch 2, 2 dc) in next ch-2 sp, ", "turn.", "group next 1 sp2", 500, 500},
	};
	for (size_t i = 0; i < G_N_ELEMENTS(rows); i++) {
		g_autofree char *row =
			long_row(rows[i].before, rows[i].text, rows[i].times, rows[i].behind);
		g_autofree char *faults = NULL;
		g_autofree char *text = read_rows(NULL, "Ch 20.", row, &faults);
		cr_expect_str_empty(faults, "%s…: %.300s", rows[i].text, faults);
		cr_expect_eq(count_parts(text, rows[i].part), rows[i].parts, "%s…: %u times in %.300s",
			rows[i].text, count_parts(text, rows[i].part), text);
	}
}

/* Whatever is cut off a row, the reader ends, and says something or makes a tree. */
Test(parse, a_row_cut_anywhere_is_read_or_told)
{
	static const char row[] = "Row 3 (RS): Ch 3 (counts as dc), *FPdc2tog around st 2 rows below, "
							  "[sc, (2 dc, ch 2) in next ch-2 sp] 3 (4, 5) times, ** dc; rep from "
							  "* to last 3 sts, ending "
							  "last rep at **, join with sl st in top of ch-3. [83 (91, 99) sts]";
	for (size_t length = 1; length < sizeof(row) - 1; length++) {
		g_autofree char *cut = g_strndup(row, length);
		g_autofree char *faults = NULL;
		g_autofree char *text = read_rows(graded, "Ch 20.", cut, &faults);
		cr_expect(*faults != '\0' || strstr(text, " 3-3") != NULL || *g_strstrip(cut) == '\0',
			"nothing came of “%s”", cut);
	}
}
