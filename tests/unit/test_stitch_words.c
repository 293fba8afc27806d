/*
 * "Bobble" and its kin, whose legs the name leaves open: a pattern that says in words, or among its own
 * stitches, how many there are has that many drawn. Where nothing is said a bobble and a popcorn are of
 * 5 dc, a puff of 3 hdc and a picot of 3 chains (common practice).
 */
#include "../support/support.h"

#include "fabric/fabric.h"
#include "stitches/stitch.h"

#include <tambour/rows.h>

#include <criterion/criterion.h>
#include <string.h>

/* A panel whose third row works STITCH, below words that say what that is. */
static tb_case work(const char *words, const char *terms, const char *stitch)
{
	bool uk = strcmp(terms, "UK") == 0;
	const char *low = uk ? "dc" : "sc", *tall = uk ? "tr" : "dc";
	g_autofree char *text = g_strdup_printf("Dots\n\nTerms: %s\n\n%s\n\nPANEL\nCh 13\n"
		"Row 1 (RS): %s in 4th ch from hook and in each ch across, turn.\n"
		"Row 2: Ch 1, %s in each st across, turn.\n"
		"Row 3: Ch 3, *%s in next st, %s in next st; rep from * across.\n",
		terms, words, tall, low, stitch, tall);
	return tb_case_read("dots.txt", text);
}

/* The one stitch of the library that was worked for it. */
static const tb_stitch *worked(const tb_case *c, unsigned of)
{
	const tb_fabric *fabric = tb_worked_fabric(c->worked, 0, 0);
	cr_assert_geq(fabric->row_count, 4);
	const tb_made_row *row = &fabric->rows[3];
	return tb_library_get(c->library, fabric->made[row->first + of].stitch);
}

static void expect_stitch(const char *words, const char *terms, const char *stitch, const char *us,
	unsigned legs)
{
	tb_case c = work(words, terms, stitch);
	g_autofree char *faults = tb_case_faults(&c);
	cr_assert_eq(tb_diagnostics_count(c.diagnostics), 0, "%s\n%s", words, faults);
	const tb_stitch *made = worked(&c, 1);
	cr_expect_str_eq(made->us, us, "%s: %s", words, made->us);
	cr_expect_eq(made->legs, legs, "%s: %u legs", words, made->legs);
	/* what is written of it says the count, wherever it is read */
	g_auto(GStrv) rows = tb_rows_texts(c.worked, -1, false, c.diagnostics);
	cr_assert_not_null(rows);
	g_autofree char *written = g_strdup_printf("%s in next st", us);
	cr_expect_not_null(strstr(rows[0], written), "%s", rows[0]);
	tb_case_finish(&c);
}

static void expect_told(const char *words, const char *stitch, tb_severity severity, const char *says)
{
	tb_case c = work(words, "US", stitch);
	g_autofree char *faults = tb_case_faults(&c);
	cr_assert_eq(tb_diagnostics_count(c.diagnostics), 1, "%s\n%s", words, faults);
	const tb_diagnostic *fault = tb_diagnostics_get(c.diagnostics, 0);
	cr_expect_str_eq(fault->code, "stitch-words");
	cr_expect_eq(fault->severity, severity);
	cr_expect_eq(fault->row, 3);
	cr_expect_not_null(strstr(faults, says), "%s", faults);
	const char *text = tb_source_get_text(c.source, NULL);
	cr_expect_eq(strncmp(text + fault->place.start, stitch, strlen(stitch)), 0, "%s", faults);
	tb_case_finish(&c);
}

Test(stitch_words, nothing_said)
{
	expect_stitch("Notes\nBobbles stand out on the right side.", "US", "bobble", "5-dc bobble", 5);
	expect_stitch("Abbreviations\nbo = bobble, dc = double crochet", "US", "bo", "5-dc bobble", 5);
	expect_stitch("", "US", "puff", "3-hdc puff", 3);
}

Test(stitch_words, counted)
{
	expect_stitch("Special stitches\nBobble: 3 dc together in one st.", "US", "bobble", "3-dc bobble", 3);
	expect_stitch("Special stitches\nBobble (bo): work four double crochets together in same st.", "US",
		"bo", "4-dc bobble", 4);
	expect_stitch("Abbreviations\nbobble = dc3tog in one st, sk = skip", "US", "bobble", "3-dc bobble", 3);
	expect_stitch("Abbreviations\nbo = bobble of 3 dc, dc = double crochet", "US", "bobble",
		"3-dc bobble", 3);
	expect_stitch("Special stitches\nPopcorn (pc): 4 dc in same st, drop loop, insert hook in first of "
		"these 4 dc, draw loop through.\nShell: 5 dc in one st.", "US", "pc", "4-dc popcorn", 4);
	/* said as it is built in */
	expect_stitch("Special stitches\nBobble: 5 dc together in one st.", "US", "bobble", "5-dc bobble", 5);
	/* a name that says the count itself is what it says */
	expect_stitch("Special stitches\nBobble: 3 dc together in one st.", "US", "5-dc bobble",
		"5-dc bobble", 5);
}

/* UK tr is US dc (Craft Yarn Council). */
Test(stitch_words, counted_in_uk_terms)
{
	expect_stitch("Special stitches\nBobble: 3 tr together in one st.", "UK", "bobble", "3-dc bobble", 3);
}

/* An unfinished dc leaves one loop on the hook, an unfinished hdc two, beside the one that was there. */
Test(stitch_words, made_step_by_step)
{
	expect_stitch("Special stitches\nBobble (bo): [Yo, insert hook in st, draw up a loop, yo, draw "
		"through 2 loops]\n3 times, yo, draw through all 4 loops on hook.", "US", "bo", "3-dc bobble", 3);
	expect_stitch("Special stitches\nBobble: (yo, insert hook, draw up a loop, yo, draw through 2), "
		"repeat 3 more times, yo, draw through all 5 loops.", "US", "bobble", "4-dc bobble", 4);
	expect_stitch("Special stitches\nBobble\nYo, insert hook, draw up a loop, yo, draw through 2; yo, "
		"insert hook,\ndraw up a loop, yo, draw through 2; yo, insert hook, draw up a loop, yo, draw\n"
		"through 2; yo, draw through all 4 loops.", "US", "bobble", "3-dc bobble", 3);
	expect_stitch("Special stitches\nPuff st: [yo, insert hook, draw up a long loop] 4 times, yo, draw "
		"through all 9 loops.", "US", "puff st", "4-hdc puff", 4);
}

Test(stitch_words, not_known)
{
	expect_told("Special stitches\nBobble: 6 dc together in one st.", "bobble", TB_ERROR, "of 6 dc");
	expect_told("Special stitches\nPopcorn: 7 dc in one st, close it.", "popcorn", TB_ERROR, "of 7 dc");
}

Test(stitch_words, not_understood)
{
	/* a loop too many for four dc */
	expect_told("Special stitches\nBobble: [yo, insert hook, draw up a loop, yo, draw through 2] 4 "
		"times, yo, draw through all 6 loops.", "bobble", TB_WARNING, "taken for the 5-dc bobble");
	expect_told("Special stitches\nBobble: yo twice, insert hook, and go on to taste.", "bobble",
		TB_WARNING, "taken for the 5-dc bobble");
	/* said twice, and not alike */
	expect_told("Special stitches\nBobble: 3 dc together.\nBo: 4 dc together.", "bobble", TB_WARNING,
		"is not understood");
}

/* Notes of a JSON pattern are words as well. */
Test(stitch_words, notes_of_json)
{
	tb_case c = tb_case_read("dots.json", "{\"format\":1,\"title\":\"Dots\",\"notes\":\"Bobble: 3 dc "
		"together in one st.\",\"pieces\":[{\"name\":\"Panel\",\"start\":\"Ch 13\",\"rows\":[\"Row 1 "
		"(RS): Dc in 4th ch from hook and in each ch across, turn.\",\"Row 2: Ch 1, sc in each st "
		"across, turn.\",\"Row 3: Ch 3, *bobble in next st, dc in next st; rep from * across.\"]}]}");
	cr_assert_eq(tb_diagnostics_count(c.diagnostics), 0);
	cr_expect_str_eq(worked(&c, 1)->us, "3-dc bobble");
	tb_case_finish(&c);
}

/* --- a stitch of one's own --- */

#define LEG "yo, insert, draw up, through 2, "

static tb_case own(const char *us, const char *symbol, const char *row)
{
	g_autofree char *json = g_strdup_printf("{\"format\":1,\"title\":\"Dots\",\"stitches\":[{\"us\":\"%s\","
		"\"us_name\":\"small knob\",\"height\":3,\"moves\":\"" LEG LEG LEG "through 4\","
		"\"symbol\":{\"form\":\"stem\",%s\"bars\":1,\"meet\":\"both\"}}],"
		"\"pieces\":[{\"name\":\"Panel\",\"start\":\"Ch 13\",\"rows\":[\"Row 1 (RS): Dc in 4th ch from "
		"hook and in each ch across, turn.\",\"Row 2: Ch 1, sc in each st across, turn.\","
		"\"Row 3: Ch 3, *%s in next st, dc in next st; rep from * across.\"]}]}", us, symbol, row);
	return tb_case_read("dots.json", json);
}

Test(stitch_words, own_legs_are_those_of_the_moves)
{
	static const char *const said[] = {"", "\"legs\":3,"};
	for (size_t i = 0; i < G_N_ELEMENTS(said); i++) {
		tb_case c = own("bobble", said[i], "bobble");
		g_autofree char *faults = tb_case_faults(&c);
		cr_assert_eq(tb_diagnostics_count(c.diagnostics), 0, "%s", faults);
		cr_expect_eq(worked(&c, 1)->legs, 3);
		cr_expect_str_eq(worked(&c, 1)->us_name, "small knob");
		tb_case_finish(&c);
	}
	tb_case c = own("bobble", "\"legs\":5,", "bobble");
	g_autofree char *faults = tb_case_faults(&c);
	cr_expect_not_null(strstr(faults, "the symbol has 5 legs, and the moves make 3"), "%s", faults);
	cr_expect_gt(tb_diagnostics_count_errors(c.diagnostics), 0);
	tb_case_finish(&c);
}

/* Who makes "bo" a stitch of three does not mean one of five by "bobble". */
Test(stitch_words, other_words_of_one_taken)
{
	tb_case c = own("bo", "", "bobble");
	cr_assert_eq(tb_diagnostics_count(c.diagnostics), 1);
	cr_expect_str_eq(tb_diagnostics_get(c.diagnostics, 0)->code, "stitch-own");
	tb_case_finish(&c);
	c = own("bo", "", "5-dc bobble");
	cr_assert_eq(tb_diagnostics_count(c.diagnostics), 0);
	cr_expect_eq(worked(&c, 1)->legs, 5);
	tb_case_finish(&c);
	c = own("bo", "", "popcorn");
	cr_assert_eq(tb_diagnostics_count(c.diagnostics), 0);
	cr_expect_str_eq(worked(&c, 1)->us, "5-dc popcorn");
	tb_case_finish(&c);
	/* one put in the place of the built-in stitch has its words */
	c = own("5-dc bobble", "", "bobble");
	cr_assert_eq(tb_diagnostics_count(c.diagnostics), 0);
	cr_expect_eq(worked(&c, 1)->legs, 3);
	tb_case_finish(&c);
}
