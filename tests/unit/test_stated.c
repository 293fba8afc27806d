/*
 * Numbers that a text states beside its rows: of things made, of lengths, of rows. One that is another than the rows come to
 * is told, and the right one beside it passes. The counts are arithmetic; what a thing is, common practice where no source
 * is named.
 */
#include "counts.h"

#include <criterion/criterion.h>

/* TEXT with STATED in it for "@": sound, or with a fault of CODE. */
static void state(const char *text, const char *stated, const char *code)
{
	g_auto(GStrv) parts = g_strsplit(text, "@", -1);
	g_autofree char *whole = g_strjoinv(stated, parts);
	tb_case c = tb_case_read("stated.txt", whole);
	g_autofree char *faults = tb_case_faults(&c);
	if (code == NULL)
		cr_expect_eq(tb_diagnostics_count(c.diagnostics), 0, "%s: %s", stated, faults);
	else
		cr_expect_not_null(find_fault(&c, code), "%s: no %s in: %s", stated, code, faults);
	tb_case_finish(&c);
}

/* A turning chain stands for a dc and is no post stitch. */
Test(stated, a_chain_is_no_post_stitch)
{
	const char *const text = "Ch 16.\nRow 1: Dc in 4th ch from hook and in each ch across, turn. [14 dc]\n"
							 "Row 2: Ch 3, *BPdc around next dc, dc in next dc; rep from * 5 more times, dc in last dc. [@]\n";
	state(text, "6 BPdc", NULL);
	state(text, "6 BPdc, 8 dc", NULL);
	state(text, "6 ribs", NULL);
	state(text, "7 BPdc", "count-claimed");
	state(text, "7 ribs", "count-unseen");
	state(text, "7 ridges", "count-unseen");
}

Test(stated, clusters_are_as_many_as_the_passes)
{
	const char *const text = "Ch 16.\nRow 1: Dc in 4th ch from hook and in each ch across, turn. [14 dc]\n"
							 "Row 2: Ch 3, *4-dc cluster in next dc, ch 1, sk next dc; rep from * 5 more times, dc in last dc. [@]\n";
	state(text, "6 clusters", NULL);
	state(text, "6 cl", NULL);
	state(text, "6 clusters, 2 dc", NULL);
	state(text, "7 clusters", "count-unseen");
	state(text, "7 cl", "count-unseen");
	state(text, "7 clusters, 2 dc", "count-unseen");
}

Test(stated, a_plain_start_is_no_shell)
{
	const char *const text = "Ch 29.\nRow 1: Sc in 2nd ch from hook and in each ch across, turn. [28 sc]\n"
							 "Row 2: Ch 3, dc in next 3 sc, *sk 1 sc, 5 dc in next sc, sk 2 sc; rep from * 5 more times. [@]\n";
	state(text, "6 shells", NULL);
	state(text, "7 shells", "count-unseen");
}

/* Two stitches cross where the second goes back behind the first. */
Test(stated, crosses_are_seen)
{
	const char *const text = "Ch 16.\nRow 1: Dc in 4th ch from hook and in each ch across, turn. [14 dc]\n"
							 "Row 2: Ch 3, *sk next dc, dc in next dc, dc in skipped dc; rep from * 5 more times, dc in last dc. [@]\n";
	static const char *const right[] = {"6 X-sts", "6 crossed dc", "6 pairs", "6 crosses", "6 crossed dc, 2 dc"};
	static const char *const wrong[] = {"7 X-sts", "7 crossed dc", "7 pairs", "13 crosses", "5 X-sts"};
	for (size_t i = 0; i < G_N_ELEMENTS(right); i++)
		state(text, right[i], NULL);
	for (size_t i = 0; i < G_N_ELEMENTS(wrong); i++)
		state(text, wrong[i], "count-unseen");
}

Test(stated, vs_are_groups)
{
	const char *const text = "Ch 16.\nRow 1: Dc in 4th ch from hook and in each ch across, turn. [14 dc]\n"
							 "Row 2: Ch 3, *sk next dc, (dc, ch 1, dc) in next dc; rep from * 5 more times, dc in last dc. [@]\n";
	state(text, "6 Vs", NULL);
	state(text, "7 Vs", "count-unseen");
	state(text, "13 Vs", "count-unseen");
}

/* Corner to corner each block is a chain and three dc, and a row has one more than the row before. */
Test(stated, blocks_of_corner_to_corner)
{
	const char *const text = "Ch 6.\nRow 1: Dc in 4th ch from hook, dc in next 2 ch, turn. [1 block]\n"
							 "Row 2: Ch 6, dc in 4th ch from hook, dc in next 2 ch, (sl st, ch 3, 3 dc) in ch-3 sp of previous block, turn. [@]\n";
	state(text, "2 blocks", NULL);
	state(text, "3 blocks", "count-unseen");
	state(text, "1 block", "count-unseen");
}

/* A buttonhole is a loop of chains over stitches that are skipped. */
Test(stated, buttonholes_are_spaces)
{
	const char *const text = "Ch 43.\nRow 1: Sc in 2nd ch from hook and in each ch across, turn. [42 sc]\n"
							 "Row 2: Ch 1, sc in first 2 sc, *ch 3, sk 3 sc, sc in next 7 sc; rep from * 2 more times, sc in last 10 sc, turn. @\n";
	state(text, "[3 buttonholes]", NULL);
	state(text, "(3 buttonholes made)", NULL);
	state(text, "[4 buttonholes]", "count-claimed");
	state(text, "[2 buttonholes]", "count-claimed");
	state(text, "(4 buttonholes made)", "count-claimed");
}

/* A repeat ends with a row of its own, or not at all. */
Test(stated, a_repeat_ends_with_its_own_row)
{
	const char *const text = "Gauge: 12 sts and 8 rows = 10 cm\n\nRUNNER\nCh 22.\n"
							 "Row 1 (RS): Sc in 2nd ch from hook and in each ch across, turn. [21 sts]\n"
							 "Row 2: Ch 1, sc in each st across, turn. [21 sts]\n"
							 "Row 3: Ch 1, hdc in each st across, turn. [21 sts]\n"
							 "Row 4: Ch 1, hdc in each st across, turn. [21 sts]\n"
							 "Rep Rows @.\n";
	state(text, "2-3 until piece measures 45 cm, ending with Row 3", NULL);
	state(text, "3-4 until piece measures 45 cm, ending with Row 4", NULL);
	state(text, "2-3 until piece measures 45 cm, ending with Row 4", "measure-ending");
	state(text, "3-4 until piece measures 45 cm, ending with Row 2", "measure-ending");
}

/* 30 sts and 40 rows at 10 to 10 cm are 30 cm by 40 cm. */
Test(stated, a_finished_size_is_held)
{
	const char *const text = "@\nGauge: 10 sts and 10 rows = 10 cm\n\nMAT\nCh 31.\n"
							 "Row 1 (RS): Sc in 2nd ch from hook and in each ch across, turn. [30 sts]\n"
							 "Row 2: Ch 1, sc in each st across, turn. [30 sts]\nRep Row 2 38 more times.\n";
	static const char *const right[] = {"Finished size: 30 cm wide and 40 cm long", "One size: 12\" wide, 16\" long", "Size: 30 cm x 40 cm",
		"Finished measurements: 40 x 30 cm", "Dimensions: about 12 in by 16 in", "Finished size: 30 cm wide x 40 cm long"};
	static const char *const wrong[] = {"Finished size: 30 cm wide and 50 cm long", "Finished size: 36 cm wide and 40 cm long",
		"One size: 12\" wide, 20\" long", "Size: 30 cm x 30 cm", "Finished measurements: 40 x 36 cm", "Finished size: 40 cm square"};
	for (size_t i = 0; i < G_N_ELEMENTS(right); i++)
		state(text, right[i], NULL);
	for (size_t i = 0; i < G_N_ELEMENTS(wrong); i++)
		state(text, wrong[i], "finished-differs");
}

/* A chain of 82 is 9 × 9 + 1, and 81 of it are worked in: a multiple of 9, and of 8 + 1. */
Test(stated, a_multiple_is_held)
{
	const char *const text = "MUFFLER\n@\nCh 82.\nRow 1: Sc in 2nd ch from hook and in each ch across, turn. [81 sc]\n"
							 "Row 2: Ch 1, sc in first sc, *sc in next 7 sc, 2 sc in next sc; rep from * across, turn. [91 sc]\n";
	static const char *const right[] = {"Multiple of 9 + 1.", "Multiple of 8 + 1.", "Multiple: 9 + 1", "Multiple of 8 sts plus 1, plus 1 for the turning chain",
		"Multiple of 8 + 2 (add 1 for foundation)", "For a longer muffler add multiples of 7."};
	static const char *const wrong[] = {"Multiple of 7 + 2.", "Multiple: 11 + 2", "Pattern is worked over a multiple of 10 sts plus 7.",
		"Multiple of 8, plus 4 for the turning chain."};
	for (size_t i = 0; i < G_N_ELEMENTS(right); i++)
		state(text, right[i], NULL);
	for (size_t i = 0; i < G_N_ELEMENTS(wrong); i++)
		state(text, wrong[i], "chain-multiple");
}

/* Both sleeves are worked by the same words, so both openings must be alike. */
Test(stated, two_openings_are_alike)
{
	const char *const text = "YOKE\nCh 60, join with sl st to form a ring.\n"
							 "Rnd 1: Ch 1, sc in each ch around, join with sl st in first sc. [60 sc]\n"
							 "Rnd 2: Ch 1, sc in next 18 sc, ch 4, sk 12 sc, @, join.\n\nSLEEVES (make 2)\n"
							 "Rnd 1: Join yarn in center ch of underarm, ch 1, sc in next 2 ch, sc in 12 skipped sts, sc in rem 2 ch, join. [16 sc]\n";
	state(text, "sc in next 18 sc, ch 4, sk 12 sc", NULL);
	state(text, "sc in next 20 sc, ch 4, sk 10 sc", "piece-from");
	state(text, "sc in next 18 sc, ch 6, sk 12 sc", "piece-from");
}

/* Rows 2 to 5 or 7 are worked: the next is 6 in the first size, and 8 in the second. */
Test(stated, numbers_for_each_size_follow_in_each)
{
	const char *const text = "Sizes: S (M)\n\nBACK\nCh 19.\nRow 1 (RS): Sc in 2nd ch from hook and in each ch across, turn. [18 sc]\n"
							 "Rows 2-5 (7): Ch 1, sc in each sc across, turn. [18 sc]\n"
							 "Row @: Ch 1, sc2tog, sc in each sc to last 2 sc, sc2tog, turn. [16 sts]\n";
	static const char *const wrong[] = {"6 (7)", "6 (9)", "7 (8)", "5 (7)"};
	state(text, "6 (8)", NULL);
	for (size_t i = 0; i < G_N_ELEMENTS(wrong); i++)
		state(text, wrong[i], "row-number");
}

/* "First" is the first of the row, wherever it is said; what is worked already is none of what is left. */
Test(stated, the_first_comes_once)
{
	const char *const text = "Ch 15.\nRow 1: Sc in 2nd ch from hook and in each ch across, turn. [14 sc]\nRow 2: Ch 1, @, turn.\n";
	state(text, "2 sc in first sc, sc in each sc to last sc, 2 sc in last sc", NULL);
	state(text, "sc in first 9 sc, sc in next 5 sc", NULL);
	state(text, "2 sc in first sc, sc in each sc to last sc, 2 sc in first sc", "passed-over");
	state(text, "sc in next 9 sc, sc in first 5 sc", "passed-over");
	state(text, "2 sc in first st, sc in each st to last st, 2 sc in first st", "passed-over");
	const char *const spaces = "Ch 21.\nRow 1: Sc in 2nd ch from hook, sc in next 4 ch, ch 2, sk 2 ch, sc in next 6 ch, ch 2, sk 2 ch, sc in last 5 ch, turn.\n"
							   "Row 2: Ch 1, sc in next 5 sc, 3 sc in first ch-2 sp, sc in next 6 sc, 3 sc in @, sc in next 5 sc, turn.\n";
	state(spaces, "next ch-2 sp", NULL);
	state(spaces, "last ch-2 sp", NULL);
	state(spaces, "first ch-2 sp", "passed-over");
}

/* What stands at the row's end is named as it is, or by no kind. */
Test(stated, the_last_are_named_as_they_are)
{
	const char *const text = "Ch 16.\nRow 1: Dc in 4th ch from hook and in each ch across, turn. [14 dc]\n"
							 "Row 2: Ch 1, sc in each st to last @, 2 sc in next st, sc in last st, turn. [15 sc]\n";
	state(text, "2 sts", NULL);
	state(text, "2 dc", NULL);
	state(text, "2 sc", "stands-on-other");
}

/* The 2nd chain from the hook is the first that sc can go into. */
Test(stated, the_chain_beside_the_hook_is_none_to_work_in)
{
	const char *const text = "Ch 15.\nRow 1: @ each ch across, turn.\n";
	state(text, "Sc in 2nd ch from hook and in", NULL);
	state(text, "Sk 1 ch, sc in", NULL);
	state(text, "Sc in", "turning-chain-missing");
	state(text, "Dc in", "turning-chain-missing");
}

/* A bare "pm" is put into the stitch just made, or behind it: a count between two tells which, and what was taken is told. */
Test(stated, markers_in_stitches_or_between)
{
	static const struct {
		const char *claim;
		unsigned errors, notes;
	} told[] = {{"8 dc between markers", 0, 0}, {"9 dc between markers", 0, 1}, {"7 dc between markers", 1, 0}, {"10 dc between markers", 1, 0}};
	for (size_t i = 0; i < G_N_ELEMENTS(told); i++) {
		g_autofree char *text = g_strdup_printf("Terms: UK\nSizes: S (M)\n\nPANEL\nMake 20 (24) ch.\n"
			"1st row: 1 dc in 2nd ch from hook and in each of next 4 (6) ch, pm, 1 dc in each of next 9 ch, pm, 1 dc in each ch to end, "
			"turn. 19 (23) dc, %s.\n", told[i].claim);
		tb_case c = tb_case_read("markers.txt", text);
		g_autofree char *faults = tb_case_faults(&c);
		unsigned notes = 0;
		for (unsigned k = 0; k < tb_diagnostics_count(c.diagnostics); k++)
			notes += tb_diagnostics_get(c.diagnostics, k)->severity == TB_NOTE;
		cr_expect_eq(tb_diagnostics_count_errors(c.diagnostics), told[i].errors, "%s:\n%s", told[i].claim, faults);
		cr_expect(told[i].errors > 0 || notes == told[i].notes, "%s:\n%s", told[i].claim, faults);
		tb_case_finish(&c);
	}
}

/* "3 sc in corner" is that corner, where "3 sc in each corner" may be a part of what goes along the edges: no second reading. */
Test(stated, one_corner_is_no_part_of_an_edge)
{
	const char *const text = "SQUARE\nCh 11.\nRow 1: Sc in 2nd ch from hook and in each ch across, turn. [10 sc]\n"
							 "Rows 2-10: Ch 1, sc in each sc across, turn. [10 sc]\n\nEDGING\nRnd 1: Ch 1, 10 sc across top, 3 sc in corner, "
							 "9 sc down side, 3 sc in corner, 10 sc across bottom, 3 sc in corner, 9 sc up side, 3 sc in corner, join.@\n";
	state(text, "", NULL);
	state(text, " [50 sc]", NULL);
	state(text, " [38 sc]", "count-claimed");
}
