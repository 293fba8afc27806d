/*
 * Stitch multiples, against the table of section 5 of the trade tables: its odd rows written out as
 * patterns, in the wording of stitch books, and worked over 2, 3 and 5 repeats. The table draws on
 * Harmony Guides vol. 6, 300 Crochet Stitches, where a row says so; the others are common practice,
 * and every width is arithmetic. "Add" there is what the foundation chain has more than the row.
 */
#include "counts.h"

#define MOST_ROWS 6

/* A row made STEP × k + OVER stitches wide over k repeats. */
typedef struct {
	unsigned step, over;
} width;

typedef struct {
	const char *source;
	width chains;
	const char *rows;
	width widths[MOST_ROWS]; /* of rows 1, 2 ...; {0, 0} ends them */
} swatch;

/* Seven dc closed together, the eye of the wheel; the pattern brings it, as its designer would. */
#define STITCH_WHEEL                                                                               \
	"{\"us\":\"dc7tog\",\"us_name\":\"double crochet 7 together\",\"height\":3,\"takes\":7,"       \
	"\"moves\":\"yo, insert, draw up, through 2, yo, insert next, draw up, through 2, yo, "        \
	"insert next, draw up, through 2, yo, insert next, draw up, through 2, yo, insert next, "      \
	"draw up, through 2, yo, insert next, draw up, through 2, yo, insert next, draw up, through "  \
	"2, through 8\",\"symbol\":{\"form\":\"stem\",\"legs\":7,\"bars\":1,\"meet\":\"top\"}}"

static tb_case work_swatch(unsigned chains, const char *rows)
{
	g_autoptr(GString) text = g_string_new("{\"format\":1,\"title\":\"Swatch\",\"stitches\":[");
	g_string_append(text, STITCH_WHEEL);
	g_string_append_printf(
		text, "],\"pieces\":[{\"name\":\"Swatch\",\"start\":\"Ch %u.\",\"rows\":[", chains);
	g_auto(GStrv) lines = g_strsplit(rows, "\n", -1);
	for (int i = 0; lines[i] != NULL; i++)
		g_string_append_printf(text, "%s\"%s\"", i > 0 ? ",\n" : "\n", lines[i]);
	g_string_append(text, "]}]}");
	return tb_case_read("swatch.json", text->str);
}

static void expect_swatch(const swatch *s)
{
	static const unsigned repeats[] = {2, 3, 5};
	for (size_t i = 0; i < G_N_ELEMENTS(repeats); i++) {
		unsigned k = repeats[i];
		tb_case c = work_swatch(s->chains.step * k + s->chains.over, s->rows);
		g_autofree char *faults = tb_case_faults(&c);
		cr_expect_eq(
			tb_diagnostics_count(c.diagnostics), 0, "%s, k = %u:\n%s", s->source, k, faults);
		for (guint32 row = 1; row <= MOST_ROWS && s->widths[row - 1].step > 0; row++) {
			unsigned wide = s->widths[row - 1].step * k + s->widths[row - 1].over;
			cr_expect_eq(count_row(&c, 0, row), wide, "%s, k = %u, row %u: %u, not %u", s->source,
				k, row, count_row(&c, 0, row), wide);
		}
		tb_case_finish(&c);
	}
}

Test(multiples, row_1_single_crochet)
{
	static const swatch s = {"trade tables 5, row 1: plain sc, 1 (add 1), common practice", {1, 1},
		"Row 1: Sc in 2nd ch from hook and in each ch across.\n"
		"Row 2: Ch 1, turn, sc in each sc across.\n"
		"Row 3: Rep Row 2.",
		{{1, 0}, {1, 0}, {1, 0}}};
	expect_swatch(&s);
}

Test(multiples, row_3_double_crochet)
{
	static const swatch s = {"trade tables 5, row 3: plain dc, 1 (add 2), common practice", {1, 2},
		"Row 1: Dc in 4th ch from hook and in each ch across.\n"
		"Row 2: Ch 3, turn, sk first dc, dc in each dc across, working last dc in top of tch.\n"
		"Row 3: Ch 3, turn, sk first dc, dc in each dc to last st, dc in top of tch.",
		{{1, 0}, {1, 0}, {1, 0}}};
	expect_swatch(&s);
}

Test(multiples, row_5_moss)
{
	static const swatch s = {"trade tables 5, row 5: moss, 2 + 1 (add 1), common practice", {2, 2},
		"Row 1: Sc in 2nd ch from hook, *ch 1, sk next ch, sc in next ch; rep from * to end.\n"
		"Row 2: Ch 1, turn, sc in first sc, sc in next ch-1 sp, *ch 1, sk next sc, sc in next "
		"ch-1 sp; rep from * to last sc, sc in last sc.\n"
		"Row 3: Ch 1, turn, sc in first sc, *ch 1, sk next sc, sc in next ch-1 sp; rep from * to "
		"last 2 sc, ch 1, sk next sc, sc in last sc.\n"
		"Rows 4 and 5: Rep Rows 2 and 3.",
		{{2, 1}, {2, 1}, {2, 1}, {2, 1}, {2, 1}}};
	expect_swatch(&s);
}

Test(multiples, row_7_crunch)
{
	static const swatch s = {"trade tables 5, row 7: crunch, 2 (add 1), by hand", {2, 1},
		"Row 1: Sl st in 2nd ch from hook, hdc in next ch, *sl st in next ch, hdc in next ch; rep "
		"from * across.\n"
		"Row 2: Ch 1, turn, *sl st in next hdc, hdc in next sl st; rep from * across.\n"
		"Row 3: As Row 2.",
		{{2, 0}, {2, 0}, {2, 0}}};
	expect_swatch(&s);
}

Test(multiples, row_9_v_stitch)
{
	static const swatch s = {"trade tables 5, row 9: V-stitch, 3 + 2 (add 2), common practice",
		{3, 4},
		"Row 1: (Dc, ch 1, dc) in 5th ch from hook, *sk next 2 ch, (dc, ch 1, dc) in next ch; rep "
		"from * to last 2 ch, sk next ch, dc in last ch.\n"
		"Row 2: Ch 3 (counts as dc), turn, (dc, ch 1, dc) in each ch-1 sp across, dc in top of "
		"tch.\n"
		"Row 3: Ch 3, turn, *(dc, ch 1, dc) in next ch-1 sp; rep from * to end, dc in top of tch.",
		{{3, 2}, {3, 2}, {3, 2}}};
	expect_swatch(&s);
}

Test(multiples, row_11_shells)
{
	static const swatch s = {"trade tables 5, row 11: shells on sc, 6 + 1 (add 1), common practice",
		{6, 2},
		"Row 1: Sc in 2nd ch from hook, *sk next 2 ch, 5 dc in next ch, sk next 2 ch, sc in next "
		"ch; rep from * across.\n"
		"Row 2: Ch 3 (counts as dc), turn, 2 dc in first sc, *sk next 2 dc, sc in next dc, sk next "
		"2 dc, 5 dc in next sc; rep from * to end, ending last rep with 3 dc in last sc.\n"
		"Row 3: Ch 1, turn, sc in first dc, *sk next 2 dc, 5 dc in next sc, sk next 2 dc, sc in "
		"next dc; rep from * to end, working last sc in top of tch.\n"
		"Rows 4 and 5: Rep Rows 2 and 3.",
		{{6, 1}, {6, 1}, {6, 1}, {6, 1}, {6, 1}}};
	expect_swatch(&s);
}

Test(multiples, row_13_catherine_wheel)
{
	/* The chains that begin row 4 are one leg of its half wheel, not a stitch of their own. */
	static const swatch s = {"trade tables 5, row 13: Catherine wheel, 10 + 6 (add 1)", {10, 7},
		"Row 1 (WS): Sc in 2nd ch from hook, sc in next ch, *sk next 3 ch, 7 dc in next ch, sk "
		"next 3 ch, sc in each of next 3 ch; rep from * to last 4 ch, sk next 3 ch, 4 dc in last "
		"ch.\n"
		"Row 2: Ch 1, turn, sc in first 2 dc, *ch 3, dc7tog over next 7 sts, ch 3, sc in next 3 "
		"sts; rep from * to last 4 sts, ch 3, dc4tog over last 4 sts.\n"
		"Row 3: Ch 3 (counts as dc), turn, 3 dc in first st, *sk next ch-3 sp, sc in next 3 sc, "
		"sk next ch-3 sp, 7 dc in next dc7tog; rep from * to last 5 sts, sk next ch-3 sp, sc in "
		"last 2 sc.\n"
		"Row 4: Ch 3 (does not count as st), turn, sk first st, dc3tog over next 3 sts, *ch 3, sc "
		"in next 3 sts, ch 3, dc7tog over next 7 sts; rep from * to last 2 sts, ch 3, sc in next "
		"st, sc in top of tch.\n"
		"Row 5: Ch 1, turn, sc in first 2 sc, *sk next ch-3 sp, 7 dc in next dc7tog, sk next ch-3 "
		"sp, sc in next 3 sc; rep from * to last 4 sts, sk next ch-3 sp, 4 dc in last st.",
		{{10, 6}, {10, 6}, {10, 6}, {10, 6}, {10, 6}}};
	expect_swatch(&s);
}

Test(multiples, row_15_basketweave)
{
	static const swatch s = {"trade tables 5, row 15: basketweave, 8 + 2 (add 2)", {8, 4},
		"Row 1 (RS): Dc in 4th ch from hook and in each ch across.\n"
		"Row 2: Ch 3, turn, sk first st, *FPdc around each of next 4 sts, BPdc around each of "
		"next 4 sts; rep from * to last st, dc in top of tch.\n"
		"Row 3: As Row 2.\n"
		"Row 4: Ch 3, turn, sk first st, *BPdc around each of next 4 sts, FPdc around each of "
		"next 4 sts; rep from * to last st, dc in top of tch.\n"
		"Row 5: As Row 4.",
		{{8, 2}, {8, 2}, {8, 2}, {8, 2}, {8, 2}}};
	expect_swatch(&s);
}

Test(multiples, row_17_waffle)
{
	static const swatch s = {"trade tables 5, row 17: waffle, an old leaflet, chains 3 + 2", {3, 2},
		"Row 1: Dc in 4th ch from hook and in each ch across.\n"
		"Row 2: Ch 3, turn, sk first st, dc in next st, *FPdc around next st, dc in each of next 2 "
		"sts; rep from * to last st, dc in top of tch.\n"
		"Row 3: Ch 3, turn, sk first st, *FPdc around each of next 2 sts, dc in next st; rep from "
		"* to last 2 sts, FPdc around next st, dc in top of tch.\n"
		"Rows 4-5: Rep Rows 2-3.",
		{{3, 0}, {3, 0}, {3, 0}, {3, 0}, {3, 0}}};
	expect_swatch(&s);
}

Test(multiples, row_19_ridged_chevron)
{
	static const swatch s = {
		"trade tables 5, row 19: ridged chevron, 12 (add 3), as Harmony Guides vol. 6", {12, 3},
		"Row 1: Dc in 4th ch from hook, *dc in each of next 3 ch, [dc2tog over next 2 ch] twice, "
		"dc in each of next 3 ch, [2 dc in next ch] twice; rep from * to end, ending last rep with "
		"2 dc in last ch.\n"
		"Row 2: Ch 3, turn, dc BLO in first st, *dc BLO in each of next 3 sts, [dc2tog BLO over "
		"next 2 sts] twice, dc BLO in each of next 3 sts, 2 dc BLO in next st**, 2 dc BLO in next "
		"st; rep from * to end, ending last rep at **.\n"
		"Row 3: Rep Row 2.",
		{{12, 0}, {12, 0}, {12, 0}}};
	expect_swatch(&s);
}

Test(multiples, row_21_single_crochet_chevron)
{
	static const swatch s = {"trade tables 5, row 21: sc chevron, 11 + 1 (add 1), common practice",
		{11, 2},
		"Row 1: 2 sc in 2nd ch from hook, *sc in each of next 4 ch, sk next 2 ch, sc in each of "
		"next 4 ch, 3 sc in next ch; rep from * to last 11 ch, sc in each of next 4 ch, sk next 2 "
		"ch, sc in each of next 4 ch, 2 sc in last ch.\n"
		"Row 2: Ch 1, turn, 2 sc in first st, *sc in each of next 4 sts, sk next 2 sts, sc in each "
		"of next 4 sts, 3 sc in next st; rep from * across, ending last rep with 2 sc in last st.",
		{{11, 1}, {11, 1}}};
	expect_swatch(&s);
}

Test(multiples, row_23_popcorns)
{
	static const swatch s = {"trade tables 5, row 23: popcorns on dc, 4 + 3 (add 2), by hand",
		{4, 5},
		"Row 1 (WS): Dc in 4th ch from hook and in each ch across.\n"
		"Row 2 (RS): Ch 3, turn, sk first st, dc in next 2 dc, *5-dc popcorn in next dc, dc in "
		"next 3 dc; rep from * to end, working last dc in top of tch.\n"
		"Row 3: Ch 3, turn, sk first dc, dc in each st across.",
		{{4, 3}, {4, 3}, {4, 3}}};
	expect_swatch(&s);
}

Test(multiples, row_25_mesh)
{
	static const swatch s = {"trade tables 5, row 25: dc and ch 1 mesh, 2 + 1 (add 3)", {2, 4},
		"Row 1: Dc in 6th ch from hook, *ch 1, sk next ch, dc in next ch; rep from * across.\n"
		"Row 2: Ch 4 (counts as dc, ch 1), turn, sk first dc and ch-1 sp, dc in next dc, *ch 1, "
		"sk next ch-1 sp, dc in next dc; rep from * to end, working last dc in 3rd ch of tch.\n"
		"Row 3: Ch 4 (counts as dc, ch 1), turn, sk next ch-1 sp, *dc in next dc, ch 1, sk next "
		"ch-1 sp; rep from * to tch, dc in 3rd ch of ch-4.",
		{{2, 1}, {2, 1}, {2, 1}}};
	expect_swatch(&s);
}

Test(multiples, row_27_crossed_pairs)
{
	static const swatch s = {
		"trade tables 5, row 27: crossed pair ripple, 3 + 2 (add 1), Harmony Guides vol. 6", {3, 3},
		"Row 1: Sc in 2nd ch from hook and in each ch across.\n"
		"Row 2: Ch 3 (counts as dc), turn, sk first st, *sk next 2 sts, dc in next st, ch 1, "
		"working behind dc just made, dc in first skipped st; rep from * to last st, dc in last "
		"st.\n"
		"Row 3: Ch 1, turn, sc in each dc and ch-1 sp across.",
		{{3, 2}, {3, 2}, {3, 2}}};
	expect_swatch(&s);
}

Test(multiples, row_29_iris)
{
	static const swatch s = {"trade tables 5, row 29: iris, chains 4 + 5, common practice", {4, 5},
		"Row 1: (2 dc, ch 1, 2 dc) in 6th ch from hook, *sk next 3 ch, (2 dc, ch 1, 2 dc) in next "
		"ch; rep from * to last 3 ch, sk next 2 ch, dc in last ch.\n"
		"Row 2: Ch 3, turn, (2 dc, ch 1, 2 dc) in each ch-1 sp across, dc in top of tch.",
		{{5, 2}, {5, 2}}};
	expect_swatch(&s);
}

Test(multiples, row_31_smooth_wave)
{
	static const swatch s = {
		"trade tables 5, row 31: smooth wave, 8 + 4 (add 1), Harmony Guides vol. 6", {8, 5},
		"Row 1: Sc in 3rd ch from hook (2 skipped ch count as sc), sc in each of next 2 ch, *dc in "
		"each of next 4 ch, sc in each of next 4 ch; rep from * to end.\n"
		"Row 2: Ch 1 (counts as sc), turn, sk first st, sc in each of next 3 sts, *dc in each of "
		"next 4 sts, sc in each of next 4 sts; rep from * to end, working last sc in tch.\n"
		"Row 3: Ch 3 (counts as dc), turn, sk first st, dc in each of next 3 sts, *sc in each of "
		"next 4 sts, dc in each of next 4 sts; rep from * to end, working last dc in tch.\n"
		"Row 4: Rep Row 3.",
		{{8, 4}, {8, 4}, {8, 4}, {8, 4}}};
	expect_swatch(&s);
}

Test(multiples, row_33_petals)
{
	/* rows are not all as wide as the chain: 9k + 1, 8k + 1, 9k + 1 */
	static const swatch s = {
		"trade tables 5, row 33: petals in tr, 8 + 1 (add 1), Harmony Guides vol. 6", {8, 2},
		"Row 1: Sc in 2nd ch from hook, *ch 2, sk next 3 ch, 4 tr in next ch, ch 2, sk next 3 ch, "
		"sc in next ch; rep from * to end.\n"
		"Row 2: Ch 1, turn, sc in first sc, *ch 3, sk next ch-2 sp and next tr, sc in next tr, ch "
		"3, sk next 2 tr and next ch-2 sp, sc in next sc; rep from * to end.\n"
		"Row 3: Ch 4 (counts as tr), turn, tr in first sc, *ch 2, sk next ch-3 sp, sc in next sc, "
		"ch 2, sk next ch-3 sp, 4 tr in next sc; rep from * to end, ending last rep with 3 tr in "
		"last sc.",
		{{9, 1}, {8, 1}, {9, 1}}};
	expect_swatch(&s);
}

/* Granny square in rounds (trade tables 5, row 35, by hand): 12r dc, 4 corner ch-2 spaces and
 * 4(r - 1) ch-1 spaces at the sides. */
Test(multiples, row_35_granny_square)
{
	tb_case c = tb_case_rows("", "Ch 4, join with sl st to form a ring.",
		"Rnd 1: Ch 3 (counts as dc here and throughout), 2 dc in ring, ch 2, *3 dc in ring, ch 2; "
		"rep from * twice more, join with sl st in top of beg ch-3. [12 dc, 4 ch-2 sps]\n"
		"Rnd 2: Sl st in next 2 dc and in next ch-2 sp, ch 3, (2 dc, ch 2, 3 dc) in same sp, ch 1, "
		"*(3 dc, ch 2, 3 dc) in next corner ch-2 sp, ch 1; rep from * twice more, join with sl st "
		"in top of beg ch-3. [24 dc, 4 ch-2 sps, 4 ch-1 sps]\n"
		"Rnd 3: Sl st in next 2 dc and in next ch-2 sp, ch 3, (2 dc, ch 2, 3 dc) in same sp, ch 1, "
		"3 dc in next ch-1 sp, ch 1, *(3 dc, ch 2, 3 dc) in next corner ch-2 sp, ch 1, 3 dc in "
		"next ch-1 sp, ch 1; rep from * twice more, join with sl st in top of beg ch-3. [36 dc, 4 "
		"ch-2 sps, 8 ch-1 sps]\n"
		"Rnd 4: Sl st in next 2 dc and in next ch-2 sp, ch 3, (2 dc, ch 2, 3 dc) in same sp, ch 1, "
		"[3 dc in next ch-1 sp, ch 1] twice, *(3 dc, ch 2, 3 dc) in next corner ch-2 sp, ch 1, [3 "
		"dc in next ch-1 sp, ch 1] twice; rep from * twice more, join with sl st in top of beg "
		"ch-3. [48 dc, 4 ch-2 sps, 12 ch-1 sps]");
	expect_sound(&c);
	for (guint32 round = 1; round <= 4; round++) {
		/* the starting chain is one of the dc; the rest of the round is said by the claims, which
		 * nothing was told about */
		cr_expect_eq(count_kind(&c, 0, round, "dc"), 12 * round - 1, "round %u", round);
	}
	tb_case_finish(&c);
}

/* Corner to corner (trade tables 5, row 37, by hand): from 6 chains, row r has r blocks of ch 3 and
 * 3 dc, then r - 1, r - 2 ... to 1. */
Test(multiples, row_37_corner_to_corner)
{
	static const unsigned diagonals[] = {2, 3, 5};
	for (size_t i = 0; i < G_N_ELEMENTS(diagonals); i++) {
		unsigned n = diagonals[i];
		g_autoptr(GString) rows = g_string_new("Row 1: Dc in 4th ch from hook, dc in next 2 ch.");
		for (unsigned row = 2; row <= n; row++)
			g_string_append_printf(rows,
				"\nRow %u: Turn, ch 6, dc in 4th ch from hook, dc in each of next 2 ch, *sl st in "
				"next ch-3 sp, ch 3, 3 dc in same sp; rep from * across.",
				row);
		for (unsigned row = n + 1; row < 2 * n; row++)
			g_string_append_printf(rows,
				"\nRow %u: Turn, sl st in next 3 dc, sl st in next ch-3 sp, *ch 3, 3 dc in same "
				"sp, sl st in next ch-3 sp; rep from * across.",
				row);
		tb_case c = tb_case_rows("", "Ch 6.", rows->str);
		expect_sound(&c);
		for (unsigned row = 1; row < 2 * n; row++) {
			unsigned blocks = row <= n ? row : 2 * n - row;
			cr_expect_eq(count_kind(&c, 0, row, "dc"), 3 * blocks, "n = %u, row %u: %u dc", n, row,
				count_kind(&c, 0, row, "dc"));
		}
		tb_case_finish(&c);
	}
}
