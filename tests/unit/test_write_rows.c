/*
 * The row language written: what is read, written and read again is the same tree, in both terms;
 * and the hand is the one we chose (the wording is ours; UK terms are those of trade-facts, Terms).
 */
#include "../support/support.h"
#include "../support/tree_text.h"

#include "notation/parse.h"
#include "words/write.h"

#include <criterion/criterion.h>
#include <string.h>

typedef struct {
	const char *read;
	const char *us, *uk; /* NULL: as it is read */
} written;

/* Sizes S, M and L. */
static const written rows[] = {
	{"Row 2 (WS): Ch 3 (counts as dc), sk first st, dc in each st across, turn. [51 (55, 63) sts]",
		NULL,
		"Row 2 (WS): Ch 3 (counts as tr), miss first st, tr in each st across, turn. "
		"[51 (55, 63) sts]"},
	{"row 2: ch 1, single crochet in next 3 stitches, 2 sc in next st, sc in last st. turn",
		"Row 2: Ch 1, sc in next 3 sts, 2 sc in next st, sc in last st, turn.",
		"Row 2: Ch 1, dc in next 3 sts, 2 dc in next st, dc in last st, turn."},
	{"Row 2: Ch 5 (counts as dc, ch 2), sk next ch-2 sp, dc in next st, dc in top of tch.", NULL,
		"Row 2: Ch 5 (counts as tr, ch 2), miss next ch-2 sp, tr in next st, tr in top of tch."},
	{"Row 2: Ch 1 (does not count as st), *sc in next ch-1 sp, ch 1; rep from * to last st, "
	 "sc in last st.", NULL,
		"Row 2: Ch 1 (does not count as st), *dc in next ch-1 sp, ch 1; rep from * to last st, "
		"dc in last st."},
	{"Row 2: *Dc in next st, **FPdc2tog around st 2 rows below; rep from * across, ending last rep "
	 "at **.",
		"Row 2: *Dc in next st, **FPdc2tog around st 2 rows below; rep from * across, ending last "
		"rep at **.",
		"Row 2: *Tr in next st, **FPtr2tog around st 2 rows below; rep from * across, ending last "
		"rep at **."},
	{"Row 2: [Dc in next 4 (5, 6) sts, 2 dc in each of next 2 sts] 4 (5, 6) times, [sc3tog over "
	 "next 3 sts] twice.", NULL,
		"Row 2: [Tr in next 4 (5, 6) sts, 2 tr in each of next 2 sts] 4 (5, 6) times, [dc3tog over "
		"next 3 sts] twice."},
	{"Row 2: (2 dc, ch 2, 2 dc) in next ch-2 sp, (dc, ch 1, dc) in BLO of next st, 3 dc in same sp, "
	 "dc in sp between next 2 sts.",
		NULL,
		"Row 2: (2 tr, ch 2, 2 tr) in next ch-2 sp, (tr, ch 1, tr) in BLO of next st, 3 tr in same "
		"sp, tr in sp between next 2 sts."},
	{"Row 2: FPdc around each of next 4 sts, BPdc around next st, FPtr around next FPdc 2 rows "
	 "below, FPtr around 4th st 2 rows below, FPdc around middle dc of 3 dc 2 rows below.", NULL,
		"Row 2: FPtr around each of next 4 sts, BPtr around next st, FPdtr around next FPtr 2 rows "
		"below, FPdtr around 4th st 2 rows below, FPtr around middle tr of 3 tr 2 rows below."},
	{"Row 2: FPdc around each FPdc and BPdc around each BPdc to last 2 sts, hdc in last 2 sts.", NULL,
		"Row 2: FPtr around each FPtr and BPtr around each BPtr to last 2 sts, htr in last 2 sts."},
	{"Row 2: *Sc in next st, 3 sc in next ch-3 sp; rep from * to last ch-3 sp, sc in last st.", NULL,
		"Row 2: *Dc in next st, 3 dc in next ch-3 sp; rep from * to last ch-3 sp, dc in last st."},
	{"Row 2: FPtr2tog around next 2 sts 3 rows below, sc in each st to next ch-2 sp.", NULL,
		"Row 2: FPdtr2tog around next 2 sts 3 rows below, dc in each st to next ch-2 sp."},
	{"Set-up row (WS): Sc in each st across.", "Foundation row (WS): Sc in each st across.",
		"Foundation row (WS): Dc in each st across."},
	{"Row 2: Sc BLO in next st, dc FLO in each st to last 2 sts, sk next 2 sts.", NULL,
		"Row 2: Dc BLO in next st, tr FLO in each st to last 2 sts, miss next 2 sts."},
	{"Row 2: Sk next 2 sts, FPtr around each of next 2 sts, working in front of sts just made, FPtr "
	 "around each of next 2 skipped sts.", NULL,
		"Row 2: Miss next 2 sts, FPdtr around each of next 2 sts, working in front of sts just "
		"made, FPdtr around each of next 2 missed sts."},
	{"Row 2: Sc in next st, ch 3, sl st in 3rd ch from hook, leave rem 3 sts unworked, turn.", NULL,
		"Row 2: Dc in next st, ch 3, ss in 3rd ch from hook, leave rem 3 sts unworked, turn."},
	{"Row 2: FPtr around st 2 rows below, do not sk st behind, dc in next st. Fasten off.", NULL,
		"Row 2: FPdtr around st 2 rows below, do not miss st behind, tr in next st. Fasten off."},
	{"Rnd 2: Ch 3 (counts as dc), dc in same st, 2 dc in each st around, join with sl st in top of "
	 "beg ch-3. [24 dc, 4 ch-2 sps]", NULL,
		"Rnd 2: Ch 3 (counts as tr), tr in same st, 2 tr in each st around, join with ss in top of "
		"beg ch-3. [24 tr, 4 ch-2 sps]"},
	{"Row 2 (RS) (sizes M and L only): Join yarn in 5th st, ch 1, sc in each st across.", NULL,
		"Row 2 (RS) (sizes M and L only): Join yarn in 5th st, ch 1, dc in each st across."},
	{"Row 2: Size L only: sc in next 2 sts; dc in each st across.",
		"Row 2: Size L only: sc in next 2 sts; dc in each st across.",
		"Row 2: Size L only: dc in next 2 sts; tr in each st across."},
	{"Row 2: Dc in next 3 (-, 4) sts, dc in each st across.", NULL,
		"Row 2: Tr in next 3 (-, 4) sts, tr in each st across."},
	{"Row 2: Dc in each st to next ch-2 sp, sc in each st and each ch-1 sp across.", NULL,
		"Row 2: Tr in each st to next ch-2 sp, dc in each st and each ch-1 sp across."},
	{"Rows 7-14: Rep Rows 3-6.", NULL, NULL},
	{"Rep Rows 3-6 4 (5, 6) times.", NULL, NULL},
	{"Sizes S and L only: Rep Row 3 once.", NULL, NULL},
	{"Rep Rows 3-6 until piece measures 50 (52.5, 54) cm, ending with Row 6. Fasten off.", NULL, NULL},
	{"Rep Rows 3-6 until piece measures 50 cm, ending with a WS row.", NULL, NULL},
};

static char *make_json(const char *start, const char *row, bool uk)
{
	return g_strdup_printf("{\"format\":1,\"title\":\"T\",\"terms\":\"%s\",\"sizes\":[\"S\",\"M\","
		"\"L\"],\"pieces\":[{\"name\":\"P\",\"start\":\"%s\",\"rows\":[\"%s\"]}]}",
		uk ? "UK" : "US", start, row);
}

/* The tree of ROW, and the row as it is written; owned. */
static char *read_row(const char *start, const char *row, bool uk, unsigned which, char **us,
	char **in_uk)
{
	g_autofree char *json = make_json(start, row, uk);
	g_autoptr(tb_source) source = tb_source_create("row.json", json, strlen(json));
	tb_library *library = tb_library_create();
	tb_diagnostics *diagnostics = tb_diagnostics_create(source);
	tb_pattern *pattern = tb_pattern_read(source, library, diagnostics);
	cr_assert_not_null(pattern);
	tb_script *script = tb_script_read(pattern, 0, diagnostics);
	g_autofree char *faults = tb_diagnostics_format(diagnostics);
	cr_assert_eq(tb_diagnostics_count_errors(diagnostics), 0, "%s: %s", row, faults);
	cr_assert_eq(script->count, 2, "%s", row);
	tb_write_options options = {pattern, false, -1};
	*us = tb_sentence_write(script->sentences[which], &options);
	options.uk = true;
	*in_uk = tb_sentence_write(script->sentences[which], &options);
	char *tree = tb_script_text(script);
	tb_script_destroy(script);
	tb_pattern_destroy(pattern);
	tb_diagnostics_destroy(diagnostics);
	tb_library_destroy(library);
	return tree;
}

Test(write_rows, says_and_reads_back)
{
	for (size_t i = 0; i < G_N_ELEMENTS(rows); i++) {
		g_autofree char *us = NULL, *uk = NULL, *us_again = NULL, *uk_again = NULL, *none = NULL,
						*none_uk = NULL;
		g_autofree char *tree = read_row("Ch 20.", rows[i].read, false, 1, &us, &uk);
		const char *want = rows[i].us != NULL ? rows[i].us : rows[i].read;
		cr_expect_str_eq(us, want);
		cr_expect_str_eq(uk, rows[i].uk != NULL ? rows[i].uk : want);
		g_autofree char *tree_us = read_row("Ch 20.", us, false, 1, &us_again, &none);
		g_autofree char *tree_uk = read_row("Ch 20.", uk, true, 1, &none_uk, &uk_again);
		cr_expect_str_eq(tree_us, tree, "%s", us);
		cr_expect_str_eq(tree_uk, tree, "%s", uk);
		cr_expect_str_eq(us_again, us);
		cr_expect_str_eq(uk_again, uk);
	}
}

static const written starts[] = {
	{"ch 53 (57, 65)", "Ch 53 (57, 65).", "Ch 53 (57, 65)."},
	{"Ch 4, join with sl st to form a ring.", NULL, "Ch 4, join with ss to form a ring."},
	{"Magic ring.", "Make a magic ring.", "Make a magic ring."},
};

Test(write_rows, starts)
{
	for (size_t i = 0; i < G_N_ELEMENTS(starts); i++) {
		g_autofree char *us = NULL, *uk = NULL, *again = NULL, *none = NULL;
		const char *row = "Row 1: Dc in next st.";
		g_autofree char *tree = read_row(starts[i].read, row, false, 0, &us, &uk);
		cr_expect_str_eq(us, starts[i].us != NULL ? starts[i].us : starts[i].read);
		cr_expect_str_eq(uk, starts[i].uk);
		g_autofree char *tree_again = read_row(us, row, false, 0, &again, &none);
		cr_expect_str_eq(tree_again, tree, "%s", us);
	}
}

/* First dc in the 4th chain: the three skipped chains count as one (trade-facts, Counting). */
Test(write_rows, foundation)
{
	g_autofree char *us = NULL, *uk = NULL;
	g_autofree char *tree = read_row("Ch 20.",
		"Row 1 (RS): Dc in 4th ch from hook (counts as dc), dc in each ch across.", false, 1, &us, &uk);
	cr_assert_not_null(tree);
	cr_expect_str_eq(us,
		"Row 1 (RS): Dc in 4th ch from hook (3 skipped chs count as dc) and in each ch across.");
	cr_expect_str_eq(uk,
		"Row 1 (RS): Tr in 4th ch from hook (3 missed chs count as tr) and in each ch across.");
}

/* One size: its own number alone, and nothing of what is for other sizes. */
Test(write_rows, one_size)
{
	g_autofree char *json = make_json("Ch 20 (24, 28).",
		"Row 1: Sc in 2nd ch from hook, sc in next 3 (4, 5) chs, size L only: sc in next ch; sc in "
		"each ch across. [19 (23, 27) sts]", false);
	g_autoptr(tb_source) source = tb_source_create("row.json", json, strlen(json));
	tb_library *library = tb_library_create();
	tb_diagnostics *diagnostics = tb_diagnostics_create(source);
	tb_pattern *pattern = tb_pattern_read(source, library, diagnostics);
	tb_script *script = tb_script_read(pattern, 0, diagnostics);
	tb_write_options options = {pattern, false, 1};
	g_autofree char *medium = tb_script_write(script, &options);
	options.size = 2;
	g_autofree char *large = tb_script_write(script, &options);
	cr_expect_str_eq(medium,
		"Ch 24.\nRow 1: Sc in 2nd ch from hook, sc in next 4 chs, sc in each ch across. [23 sts]\n");
	cr_expect_str_eq(large, "Ch 28.\nRow 1: Sc in 2nd ch from hook, sc in next 5 chs, sc in next ch, "
							"sc in each ch across. [27 sts]\n");
	tb_script_destroy(script);
	tb_pattern_destroy(pattern);
	tb_diagnostics_destroy(diagnostics);
	tb_library_destroy(library);
}
