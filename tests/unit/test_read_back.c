/*
 * Written rows held against the pattern: what tb_rows_texts lets go is the same fabric, and a text that
 * is not the same is refused, whatever is wrong with it. The faults here are put into sound rows by
 * hand; that the program itself then writes nothing is what lying_rows.sh looks at.
 */
#include "../support/support.h"

#include "compose/read_back.h"

#include <tambour/rows.h>

#include <criterion/criterion.h>
#include <string.h>

static const char *const mat = "Row 1 (RS): Sc in 2nd ch from hook and in each ch across, turn.\n"
	"Row 2: Ch 1, sc in next 4 sts, FPdc around next st, sc in each st across, turn.\n"
	"Row 3: Ch 3, dc in each st across, turn.\n"
	"Rep Rows 2-3 1 (4) times.";

/* The mat's rows with FROM made TO are refused, and the fault says SAYS. */
static void expect_refused(const char *from, const char *to, const char *says)
{
	tb_case c = tb_case_rows("S, L", "Ch 14 (20)", mat);
	g_auto(GStrv) texts = tb_rows_texts(c.worked, -1, false, c.diagnostics);
	g_autofree char *before = tb_case_faults(&c);
	cr_assert_not_null(texts, "%s", before);
	cr_assert_eq(tb_diagnostics_count(c.diagnostics), 0, "%s", before);
	const char *at = strstr(texts[0], from);
	cr_assert_not_null(at, "\"%s\" does not stand in:\n%s", from, texts[0]);
	g_autofree char *wrong = g_strdup_printf("%.*s%s%s", (int)(at - texts[0]), texts[0], to,
		at + strlen(from));
	const char *const all[] = {wrong, NULL};
	cr_expect_not(tb_read_back(c.worked, all, -1, false, c.diagnostics), "%s", wrong);
	cr_assert_eq(tb_diagnostics_count(c.diagnostics), 1);
	const tb_diagnostic *fault = tb_diagnostics_get(c.diagnostics, 0);
	cr_expect_eq(fault->severity, TB_ERROR);
	cr_expect_str_eq(fault->code, "rows-read-back");
	g_autofree char *told = tb_case_faults(&c);
	cr_expect_not_null(strstr(told, says), "\"%s\" is not said in:\n%s", says, told);
	tb_case_finish(&c);
}

Test(read_back, rows_too_many)
{
	/* 3 and 2 are worked, and 2 once more: 5 rows, where 3 times more would make 11 */
	expect_refused("Rep Rows 3-4 - (3) times", "Rep Rows 3-4 3 times",
		"size S: the rows written from this pattern do not come out as the pattern does: of 5 rows, 11 "
		"are read");
	expect_refused("- (3) times", "- (2) times", "size L");
	expect_refused("Rep Row 3 once", "Rep Row 3 twice", "size S");
}

Test(read_back, counts)
{
	/* a claim that is not true is a fault of the row already */
	expect_refused("[13 (19) sts]", "[13 (18) sts]", "size L: the rows written");
	expect_refused("Ch 14 (20).", "Ch 14 (21).", "size L: the rows written");
}

Test(read_back, stitches)
{
	/* the same counts, of another stitch, in another place, in another loop, on another side */
	expect_refused("FPdc around next st", "BPdc around next st", "from its stitch 6 on");
	expect_refused("sc in next 4 sts, FPdc", "sc in next 3 sts, FPdc", "from its stitch 5 on");
	expect_refused("sc in each st across, turn", "sc BLO in each st across, turn", "row 2, size S");
	expect_refused("Row 1 (RS)", "Row 1 (WS)", "worked the other way");
}

Test(read_back, unreadable)
{
	expect_refused("sc in each st across", "sc in each stt across", "“stt” is not understood");
	expect_refused("Ch 3 (counts as dc), sk first st, dc", "Ch 3 (counts as dc), sk first 2 sts, dc",
		"do not come out");
}

/* Pieces that grow from others are read with the line that says so: its numbers matter. */
/* The rows of ROWS are written as they were read, and have SAYS in them. */
static void expect_written(const char *start, const char *rows, const char *says)
{
	tb_case c = tb_case_rows("", start, rows);
	g_auto(GStrv) texts = tb_rows_texts(c.worked, -1, false, c.diagnostics);
	g_autofree char *faults = tb_case_faults(&c);
	cr_assert_not_null(texts, "%s", faults);
	cr_expect_not_null(strstr(texts[0], says), "“%s” does not stand in:\n%s", says, texts[0]);
	tb_case_finish(&c);
}

/* Slip stitches to where a round begins count no more when they are written than when they were read. */
Test(read_back, ways_to_a_round)
{
	static const char *const doily = "Rnd 1: Ch 1, 12 sc in ring, join.\n"
		"Rnd 2: Ch 1, sc in first st, *ch 5, sk next st, sc in next st; rep from * 4 times, ch 5, sk 1, join.\n"
		"Rnd 3: (Sc, 5 dc, sc) in each loop around, join.\n%s";
	static const char *const told[][2] = {
		{"Rnd 4: Sl st to next dc, sc in same st, *ch 6, sk next 6 sts, sc in next st; "
			"rep from * 4 times, ch 6, join.",
			"sl st in next dc, sc in same st"},
		{"Rnd 4: Sl st to center dc of next group, sc in same st, *ch 6, sc in center dc of next group; "
			"rep from * 4 times, ch 6, join.",
			"Sl st in center dc of next group, sc in same"},
		{"Rnd 4: Sk next 3 sts, sl st in next st, sc in same st, *ch 6, sk next 6 sts, sc in next st; "
			"rep from * 4 times, ch 6, join.",
			"Sk next 3 sts, sl st in next st, sc in same st"},
	};
	for (size_t i = 0; i < G_N_ELEMENTS(told); i++) {
		g_autofree char *rows = g_strdup_printf(doily, told[i][0]);
		expect_written("Ch 5, join to form ring", rows, told[i][1]);
	}
	expect_written("Ch 11, 3 sc in 2nd ch from hook, sc in next 8 ch, 3 sc in last ch, working along opposite side "
		"of ch, sc in next 8 ch, join", "Rnd 2: Ch 1, sc in each st around, join.", "Rnd 1 (RS): 3 sc");
}

static const char *const vest = "Vest\n\nSizes: S (L)\n\nBACK\nCh 21 (25)\n"
	"Row 1 (RS): Sc in 2nd ch from hook and in each ch across, turn.\n\n"
	"FRONT\nFrom Back: sts 1-8 (10)\nRow 1: Ch 1, sc in each st across.\n\n"
	"YOKE\nFrom Back: sts 12 (14)-20 (24)\nRow 1: Ch 1, sc in each st across.\n";

Test(read_back, grown)
{
	tb_case c = tb_case_read("vest.txt", vest);
	g_auto(GStrv) texts = tb_rows_texts(c.worked, -1, false, c.diagnostics);
	g_autofree char *before = tb_case_faults(&c);
	cr_assert_not_null(texts, "%s", before);
	cr_assert_eq(g_strv_length(texts), 3);
	cr_expect_not_null(strstr(texts[2], "Work over sts 12 (14)-20 (24) of Back."), "%s", texts[2]);
	g_autofree char *wrong = g_strdup(texts[2]);
	*strstr(wrong, "24") = '1';
	const char *const all[] = {texts[0], texts[1], wrong, NULL};
	cr_expect_not(tb_read_back(c.worked, all, -1, false, c.diagnostics));
	cr_assert_eq(tb_diagnostics_count(c.diagnostics), 1);
	const tb_diagnostic *fault = tb_diagnostics_get(c.diagnostics, 0);
	cr_expect_str_eq(fault->code, "rows-read-back");
	cr_expect_str_eq(fault->piece, "Yoke");
	cr_expect_eq(fault->sizes, 2u);
	tb_case_finish(&c);
}

/* One size alone, and UK terms, are held against that size. */
Test(read_back, one_size)
{
	tb_case c = tb_case_rows("S, L", "Ch 14 (20)", mat);
	for (int size = 0; size < 2; size++) {
		g_auto(GStrv) texts = tb_rows_texts(c.worked, size, true, c.diagnostics);
		g_autofree char *faults = tb_case_faults(&c);
		cr_assert_not_null(texts, "%s", faults);
		cr_expect(tb_read_back(c.worked, (const char *const *)texts, size, true, c.diagnostics));
		tb_diagnostics *unheard = tb_diagnostics_create(NULL);
		cr_expect_not(
			tb_read_back(c.worked, (const char *const *)texts, 1 - size, true, unheard));
		/* UK dc is US sc: in the other terms the same words are other stitches */
		cr_expect_not(tb_read_back(c.worked, (const char *const *)texts, size, false, unheard));
		tb_diagnostics_destroy(unheard);
	}
	tb_case_finish(&c);
}

/* Where a shoulder is joined beside the other the rows end before it; what a body left is no ring. */
Test(read_back, garments)
{
	static const char *const files[] = {"drop-shoulder", "raglan", "circular-yoke"};
	for (size_t i = 0; i < G_N_ELEMENTS(files); i++) {
		g_autofree char *name = g_strdup_printf("tests/garments/%s.txt", files[i]);
		tb_case c = tb_case_file(name);
		g_auto(GStrv) texts = tb_rows_texts(c.worked, -1, false, c.diagnostics);
		g_autofree char *faults = tb_case_faults(&c);
		cr_assert_not_null(texts, "%s: %s", name, faults);
		if (i == 0)
			cr_expect_not_null(strstr(texts[0], "hdc in each st across. [18 (22, -, -, -, -, -, -) sts] Fasten off.\n"), "%s", texts[0]);
		for (unsigned k = 0; i > 0 && texts[k] != NULL; k++) {
			cr_expect_null(strstr(texts[k], "magic ring"), "%s", texts[k]);
			cr_expect_null(strstr(texts[k], "rows below"), "%s", texts[k]);
		}
		tb_case_finish(&c);
	}
}

/* The PIECE-th piece of TEXT, from 0, is written with SAYS in it. */
static void expect_piece(const char *text, unsigned piece, const char *says)
{
	tb_case c = tb_case_read("piece.txt", text);
	g_autofree char *before = tb_case_faults(&c);
	cr_assert_eq(tb_diagnostics_count_errors(c.diagnostics), 0, "%s", before);
	g_auto(GStrv) texts = tb_rows_texts(c.worked, -1, false, c.diagnostics);
	g_autofree char *faults = tb_case_faults(&c);
	cr_assert_not_null(texts, "%s", faults);
	cr_assert_lt(piece, g_strv_length(texts));
	cr_expect_not_null(strstr(texts[piece], says), "“%s” does not stand in:\n%s", says, texts[piece]);
	tb_case_finish(&c);
}

/* What is picked up around an opening goes round, and is no ring; what is left of a piece says of which. */
Test(read_back, picked_up)
{
	static const char *const body = "Sizes: S (M)\n\nBODY\nCh 30 (36), join to form a ring.\n"
		"Rnd 1: Ch 1, sc in each ch around, join. [30 (36) sc]\n"
		"Rnd 2: Ch 1, sc in next 10 (12) sc, ch 2, skip next 6 (8) sc for the sleeve, sc in next 14 (16) sc, join. [26 (30) sts]\n\n"
		"SLEEVE\nJoin yarn at the underarm.\nRnd 1: %s\nRnd 2: Ch 1, sc in each st around, join.\n";
	g_autofree char *sc = g_strdup_printf(body, "Ch 1, sc in each ch and each st around, join. [8 (10) sc]");
	expect_piece(sc, 1, "Rnd 1 (RS): Ch 1, sc in each ch");
	/* that the chain counts as nothing stands elsewhere in the pattern, and in what is written */
	g_autofree char *dc = g_strdup_printf(body, "Ch 3, dc in each ch and each st around, join. [8 (10) dc]");
	g_autofree char *told = g_strdup_printf("Vest\n\nCh 3 does not count as a stitch throughout.\n\n%s", dc);
	expect_piece(told, 1, "Ch 3 (does not count as st), dc in each ch");
	expect_piece("Sizes: S (M)\n\nBODY\nCh 20 (24), join to form a ring.\nRnd 1: Ch 1, sc in each ch around, join. [20 (24) sc]\nFasten off.\n\n"
		"SLEEVE\nCh 10, join to form a ring.\nRnd 1: Ch 1, sc in each ch around, join. [10 sc]\nFasten off.\n\n"
		"YOKE\nRnd 1: Join yarn in any st of Body, ch 1, sc in next 17 (21) sts of Body, skip 2 sts of Sleeve, sc in next 8 sts "
		"of Sleeve, leave rem 3 sts of Body unworked, join. [25 (29) sc]\n", 2, "leave rem 3 sts of Body unworked");
}

/* Loops behind a stitch are that stitch's, in a group and out of one, and not those of what comes next. */
Test(read_back, loops_behind_a_stitch)
{
	expect_written("Ch 13", "Row 1: Sc in 2nd ch from hook and in each ch across, turn.\n"
		"Row 2: Ch 1, sc2tog BLO, sc FLO, 2 sc BLO, hdc in each st across, turn.",
		"sc2tog BLO over next 2 sts, sc FLO in next st, sc BLO in next 2 sts, hdc in each st across");
	expect_written("Ch 13", "Row 1: Sc in 2nd ch from hook and in each ch across, turn.\n"
		"Row 2: Ch 1, sc in first st, (sc BLO, hdc FLO) in next st, sc in each st across, turn.",
		"sc BLO in next st, hdc FLO in same st, sc in each st across");
}

/* Slip stitches that narrow a row stand before its chain, and a pattern of two stitches goes on behind them as it lies. */
Test(read_back, narrowed_in_pattern)
{
	expect_piece("Terms: UK\nSizes: S (M)\n\nBACK\nMake 25 (29) ch.\n1st row: 1 dc in 2nd ch from hook and in each ch to end, turn. 24 (28) dc.\n"
		"2nd row: 1 ch, *1 dc in next st, 1 tr in next st; rep from * to end, turn.\nRep 2nd row 3 times more.\n"
		"Next row: ss over first 2 (4) sts, 1 ch, patt to last 2 (4) sts, turn. 20 sts.\nWork 2 rows in patt.\n",
		0, "Sl st in next 2 (4) sts, ch 1 (does not count as st), [sc");
	/* in the other terms, and where the slip stitches are as many in each size */
	expect_piece("BACK\nCh 17.\nRow 1: Sc in 2nd ch from hook and in each ch across, turn. [16 sc]\n"
		"Row 2: Ch 1, *dc in next st, sc in next st; rep from * across, turn.\nRow 3: Rep Row 2.\nRow 4: Rep Row 2.\n"
		"Row 5: Sl st in first 3 sts, ch 1, work in pattern to last 3 sts, turn. [10 sts]\n", 0, "Sl st in next 3 sts, ch 1 (does not count as st), *sc");
}

/*
 * Whatever is taken of the wordings is written as well, in all sizes. One is not yet: a doily whose last rounds are
 * said by their own words, and these are no longer read alike when the stitch they name has been spelt out.
 */
Test(read_back, wordings, .timeout = 300)
{
	g_autoptr(GDir) folder = g_dir_open(TB_SOURCE_ROOT "/tests/wordings", 0, NULL);
	unsigned written = 0;
	for (const char *name = g_dir_read_name(folder); name != NULL; name = g_dir_read_name(folder)) {
		if (!g_str_has_suffix(name, ".txt") || strcmp(name, "loop-doily.txt") == 0)
			continue;
		g_autofree char *path = g_strdup_printf("tests/wordings/%s", name);
		tb_case c = tb_case_file(path);
		if (tb_diagnostics_count_errors(c.diagnostics) == 0) {
			g_auto(GStrv) texts = tb_rows_texts(c.worked, -1, false, c.diagnostics);
			g_autofree char *faults = tb_case_faults(&c);
			cr_expect_not_null(texts, "%s: %s", name, faults);
			written++;
		}
		tb_case_finish(&c);
	}
	cr_expect_gt(written, 60);
}

/* So many in a corner, in a group or not, and the sides of a border in their own words. */
Test(read_back, corners_and_sides)
{
	tb_case c = tb_case_rows("", "Ch 13.",
		"Row 1 (RS): Sc in 2nd ch from hook and in each ch across, turn. [12 sts]\n"
		"Rows 2-10: Ch 1, sc in each sc across, turn. [12 sts]\n"
		"Rnd 11: Ch 1, 3 sc in first sc, sc in next 10 sc, 3 sc in last sc, work 8 sc evenly down row ends, 3 sc in first "
		"foundation ch, sc in next 10 chs, 3 sc in last ch, work 8 sc evenly up row ends, join with sl st in first sc. [48 sts]\n"
		"Rnd 12: Ch 1, sc in each sc around, working 3 sc in center sc of each corner, join. [56 sts]\n"
		"Rnd 13: Ch 1, sc in each sc around, working (sc, ch 2, sc) in center sc of each corner, join.");
	g_auto(GStrv) texts = tb_rows_texts(c.worked, -1, false, c.diagnostics);
	g_autofree char *faults = tb_case_faults(&c);
	cr_assert_not_null(texts, "%s", faults);
	cr_expect_not_null(strstr(texts[0], ", 8 sc evenly along side edge, 3 sc in first ch,"), "%s", texts[0]);
	cr_expect_not_null(strstr(texts[0], "3 sc in each corner"), "%s", texts[0]);
	tb_case_finish(&c);
}

/* All around a piece is said so, and the corners with it: what is worked there is a part of the count. */
Test(read_back, all_around)
{
	static const char *const square = "Row 1 (RS): Sc in 2nd ch from hook and in each ch across, turn. [12 sc]\n"
		"Rows 2-12: Ch 1, sc in each sc across, turn. [12 sc]\n%s";
	g_autofree char *plain = g_strdup_printf(square, "Rnd 13: Ch 1, 48 sc evenly around, join. [48 sc]");
	expect_written("Ch 13", plain, "48 sc evenly around, join");
	g_autofree char *corners = g_strdup_printf(square, "Rnd 13: Ch 1, 56 sc evenly around, working 3 sc in each corner, join. [56 sc]");
	expect_written("Ch 13", corners, "56 sc evenly around, working 3 sc in each corner, join");
}

/* Who comes back upon a shell stands in the same space as who has not turned; and spaces are left, not stitches. */
Test(read_back, spaces)
{
	static const char *const told[][2] = {
		{"filet-told", "turn, leave rem 1 sp unworked."},
		{"shell-told-bare", "Row 3: Rep Row 2."},
	};
	for (size_t i = 0; i < G_N_ELEMENTS(told); i++) {
		g_autofree char *name = g_strdup_printf("tests/wordings/%s.txt", told[i][0]);
		tb_case c = tb_case_file(name);
		g_auto(GStrv) texts = tb_rows_texts(c.worked, -1, false, c.diagnostics);
		g_autofree char *faults = tb_case_faults(&c);
		cr_assert_not_null(texts, "%s: %s", name, faults);
		cr_expect_not_null(strstr(texts[0], told[i][1]), "%s", texts[0]);
		tb_case_finish(&c);
	}
}
