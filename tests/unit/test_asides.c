/*
 * What is said beside the work, in the middle of a row or behind it: read past where it tells of no
 * stitch, count or place, and shown; never where it does. Wordings of blogs and leaflets, common practice.
 */
#include "words/check.h"
#include "fabric/fabric.h"
#include "support.h"

#include <criterion/criterion.h>
#include <string.h>

/* A strap of 12 sc whose second row is SAID. */
static tb_case read_strap(const char *said)
{
	g_autofree char *text = g_strdup_printf("STRAP\nCh 13.\n"
		"Row 1: Sc in 2nd ch from hook and in each ch across, turn. (12 sc)\n"
		"Row 2: %s\nRow 3: Ch 1, turn, sc in each st across. (12 sc)\n", said);
	return tb_case_read("own.txt", text);
}

static unsigned count_errors(const tb_case *c)
{
	unsigned errors = 0;
	for (unsigned i = 0; i < tb_diagnostics_count(c->diagnostics); i++)
		errors += tb_diagnostics_get(c->diagnostics, i)->severity == TB_ERROR;
	return errors;
}

static void expect_aside(const char *said, const char *aside)
{
	tb_case c = read_strap(said);
	cr_expect_eq(count_errors(&c), 0, "“%s” has errors", said);
	g_autofree char *remarks = tb_check_remarks(c.worked);
	cr_expect_not_null(strstr(remarks, aside), "“%s” is not shown of “%s”, but %s", aside, said, remarks);
	tb_case_finish(&c);
}

Test(asides, what_tells_of_no_work_is_read_past_and_shown)
{
	static const char *const told[][2] = {
		{"Ch 1, sc in each st across, keeping an even tension, turn.", "keeping an even tension"},
		{"Ch 1, sc in each st, making sure your stitches stay soft.", "making sure your stitches stay soft"},
		{"Ch 1, sc in first 5 sts for the flap, sc in last 7 sts.", "for the flap"},
		{"Ch 1, sc in each st across to form the bottom.", "to form the bottom"},
		{"Ch 1, sc in each st across, holding the tail along the wrong side.", "holding the tail"},
		{"Ch 1, sc in each st across as shown in the diagram.", "as shown in the diagram"},
		{"Ch 1, sc in each st across. This row is the wrong side.", "This row is the wrong side"},
		{"Ch 1, sc in each st across; the strip should be about 9 cm long.", "about 9 cm"},
		{"Ch 1, sc in each st across. These 2 rows make the pattern.", "These 2 rows make the pattern"},
		{"Ch 1, sc in each st across, changing colour every 4 rows.", "changing colour every 4 rows"},
		{"Now for the strap: sc in each st across.", "Now for the strap"},
		{"Holding the yarn loosely, sc in each st across.", "Holding the yarn loosely"},
		{"Lay the strap flat and sc in each st across.", "Lay the strap flat"},
		{"Ch 1, sc in each st across. Set this piece aside.", "Set this piece aside"},
		{"Ch 1, sc in each st across. If you like a longer strap, work more rows.", "work more rows"},
		{"Ch 1, sc in each st across - don't pull too tight!", "don't pull too tight"},
		{"Ch 1, sc in first 5 sts (edge curls), sc in last 7 sts.", "(edge curls)"},
		{"Ch 1, sc in each st across (it will ruffle a little).", "(it will ruffle a little)"},
		{"Ch 1, sc in first 2 sts, 3 sc in next st (a corner made), sk 2 sts, sc in last 7 sts.", "(a corner made)"},
	};
	for (size_t i = 0; i < G_N_ELEMENTS(told); i++)
		expect_aside(told[i][0], told[i][1]);
}

/* Each tells of a stitch, a number, a place or a row behind words that may begin a remark. */
Test(asides, what_tells_of_work_is_never_read_past)
{
	static const char *const told[] = {
		"Ch 1, sc in each st across, keeping the last st free.",
		"Ch 1, sc in each st across, letting the corner be 3.",
		"Ch 1, sc in next 5 sts, holding the rest back.",
		"Ch 1, sc in next 5 sts as for the first half.",
		"Ch 1, sc in each st across, allowing one extra at each end.",
		"Ch 1, sc in each st across, so that there are 10.",
		"Ch 1, sc in each st across, while skipping the middle.",
		"Ch 1, sc in each st across, like the first.",
		"Ch 1, sc in each st across for the larger sizes.",
		"For L, sc in each st across.",
		"For the next row, sc in next st.",
		"Ch 1, sc in each st across. The last stitch stays alone.",
		"Ch 1, sc in each st across. The chain is a stitch.",
		"Ch 1, sc in each st across. This adds a stitch.",
		"Ch 1, sc in each st across. Now do it again.",
		"Ch 1, sc in each st across. They are worked from behind.",
		"Ch 1, sc in each st across (through the back).",
		"Ch 1, sc in each st across (around the post).",
		"Ch 1, sc in each st across (3 rows down).",
		"Ch 1, sc in each st across (except the last).",
		"Ch 1, sc in each st across (not in the corner).",
		"Ch 1, sc in each st across (in the inner loop only).",
		"Ch 1 (never to be counted in a tally), sc in each st across.",
		"Ch 1, sc in each st across (worked together).",
		"Sc across (from behind).",
		"Sc across - from behind.",
		"Sc across. Through the back.",
		"Sc across (not in the corners).",
		"Ch 1, sc in each st across. You stop a stitch early.",
		"Ch 1, sc in each st across, don't go to the end.",
		"Ch 1, sc in each st across, don't forget the turning chain.",
		"Ch 1, sc in each st across, taking care to put an extra one in.",
	};
	for (size_t i = 0; i < G_N_ELEMENTS(told); i++) {
		tb_case c = read_strap(told[i]);
		cr_expect_gt(count_errors(&c), 0, "“%s” is accepted", told[i]);
		tb_case_finish(&c);
	}
	/* a stated count that agrees makes none of them idle */
	for (size_t i = 0; i < G_N_ELEMENTS(told); i++) {
		g_autofree char *counted = g_strdup_printf("%s (12 sc)", told[i]);
		tb_case c = read_strap(counted);
		cr_expect_gt(count_errors(&c), 0, "“%s” is accepted", counted);
		tb_case_finish(&c);
	}
}

/* What nobody knows and tells of no work is left out where the row states its count, and that is told. */
Test(asides, what_nobody_knows_is_left_out_with_a_warning)
{
	static const char *const told[][2] = {
		{"Ch 1, sc in each st across, nudging each sc upright. (12 sc)", "nudging each sc upright"},
		{"Ch 1, sc in each st across, the brim flopping a bit. (12 sc)", "the brim flopping a bit"},
		{"Ch 1, sc in each st across (edges curl up a bit). (12 sc)", "edges curl up a bit"},
		{"Ch 1, sc in each st across, hooray! (12 sc)", "hooray!"},
		{"Ch 1, sc in each st across, nudging each sc upright.", NULL},
		{"Ch 1, sc in each st across, nudging 2 upright. (12 sc)", NULL},
		{"Ch 1, sc in each st across, nudging the far strand. (12 sc)", NULL},
		{"Ch 1, sc in each st across, nudge to the end. (12 sc)", NULL},
		{"Ch 1, sc in each st across, omitting the ends. (12 sc)", NULL},
		{"Ch 1, sc in first 11 sts, sc in the st you saved. (12 sc)", NULL},
		{"Ch 1, sc in each st across, nudging it upright. (13 sc)", NULL},
	};
	for (size_t i = 0; i < G_N_ELEMENTS(told); i++) {
		tb_case c = read_strap(told[i][0]);
		g_autofree char *faults = tb_case_faults(&c);
		if (told[i][1] == NULL) {
			cr_expect_gt(count_errors(&c), 0, "“%s” is accepted", told[i][0]);
		} else {
			cr_expect_eq(count_errors(&c), 0, "“%s” has errors:\n%s", told[i][0], faults);
			cr_expect_not_null(strstr(faults, told[i][1]), "“%s” is not told:\n%s", told[i][1], faults);
		}
		tb_case_finish(&c);
	}
}

/* What chains count as, in each of its forms, is told of all rows on a line of its own; it is no start and no row. */
Test(asides, what_chains_count_as_is_told_of_all_rows)
{
	static const char *const told[] = {"Ch 3 is never a stitch.", "Turning chains are not stitches.", "Ch 3 does not count as a st.",
		"The ch 3 isn't a stitch.", "Ch 3 is only for height."};
	for (size_t i = 0; i < G_N_ELEMENTS(told); i++) {
		g_autofree char *text = g_strdup_printf("STRAP\nCh 13.\n%s\n"
			"Row 1: Sc in 2nd ch from hook and in each ch across, turn. (12 sc)\n", told[i]);
		tb_case c = tb_case_read("own.txt", text);
		cr_expect_eq(count_errors(&c), 0, "“%s” has errors", told[i]);
		g_autofree char *remarks = tb_check_remarks(c.worked);
		cr_expect_not_null(strstr(remarks, told[i]), "“%s” is not shown, but %s", told[i], remarks);
		tb_case_finish(&c);
	}
}

/* SAID between two rows, on a line of its own or behind what is worked, is worked or refused: it does not vanish. */
static void expect_not_lost(const char *said)
{
	static const char *const texts[] = {
		"STRAP\nCh 13.\nRow 1: Sc in 2nd ch from hook and in each ch across, turn. (12 sc)\n%s\nRow 2: Ch 1, sc in each st across, turn.\n",
		"STRAP\nCh 13.\nRow 1: Sc in 2nd ch from hook and in each ch across, turn. %s\nRow 2: Ch 1, sc in each st across, turn.\n",
		"BALL\nRnd 1: 6 sc in a magic ring. (6 sc)\n%s\nRnd 2: 2 sc in each sc around.\n"};
	for (size_t i = 0; i < G_N_ELEMENTS(texts); i++) {
		g_autofree char *text = g_strdup_printf(texts[i], said);
		tb_case c = tb_case_read("own.txt", text);
		g_autofree char *faults = tb_case_faults(&c);
		unsigned made = c.worked != NULL ? tb_worked_fabric(c.worked, 0, 0)->row_count - 1 : 0;
		cr_expect(count_errors(&c) > 0 || made != 2, "“%s” is lost in:\n%s\n%s", said, text, faults);
		tb_case_finish(&c);
	}
}

/* What is to be crocheted, in words that name neither stitch nor row, is no remark. Common practice, from memory. */
Test(asides, orders_without_a_stitch_are_no_remarks)
{
	static const char *const orders[] = {
		"Work even to the armhole.", "Work plain for a while.", "Now crochet back the way you came.", "Crab along the top edge.",
		"Reverse all shaping for the left front.", "Now do everything backwards.", "Taper to a point.", "Narrow gently at the side.",
		"Gather the top edge to half its width.", "Ruffle the lower edge.", "Trim with a picot edge.", "Border the piece in crab.",
		"Go all around the outside.", "Go on as established.", "Carry on as before.", "Proceed as on the other side.",
		"Halve the width.", "Lose a few at the edges.", "Take some away.", "Shorten from here.", "Undo the last bit.",
		"Add more at both sides.", "Add more at both ends.", "Flip the work over before you go on.", "Add more.", "Fringe both edges with chains.",
		"Flip and go on.", "Alternate colours.", "Stagger them.", "Pick up all around the neck.", "Shape the neck as before.",
		/* the rest of an order, without its verb */
		"Same on the other side.", "Now in rounds.", "Back and forth from here.", "Again from the beginning.", "Up to the marker.",
		"Past the marker.", "As far as the middle.", "Until long enough.", "Without the middle ones.", "All but the outermost.",
		"Second sleeve to match.",
		/* what says a place and a number is no heading of so many pieces, and 6 that are bound off end nothing */
		"In the corner work three.", "On every corner make 2 extra.", "Along the long side, crochet twenty.",
		"Bind off six here.", "Bind off 4 at the start.",
	};
	for (size_t i = 0; i < G_N_ELEMENTS(orders); i++)
		expect_not_lost(orders[i]);
}

/* … and what begins alike but is about the yarn, the tools or a page still is one. */
Test(asides, what_begins_as_an_order_and_is_about_other_things)
{
	static const char *const told[] = {"Trim the loose ends.", "Gather your supplies.", "Go over the photos.",
		"Reverse the label.", "Go on to the photos."};
	for (size_t i = 0; i < G_N_ELEMENTS(told); i++) {
		g_autofree char *row = g_strdup_printf("Ch 1, sc in each st across. %s", told[i]);
		g_autofree char *aside = g_strndup(told[i], strlen(told[i]) - 1);
		expect_aside(row, aside);
	}
}

/* What leads a row in, and no row comes behind it, is told of; so is a number that no row has. */
Test(asides, what_leads_in_no_row)
{
	static const char *const told[][2] = {
		{"Go up the other side.", "row-list"}, {"Down the other side.", "row-list"}, {"Omit the lace.", "row-list"},
		{"Along the long side, crochet twenty.", "row-unfinished"},
		/* loops by themselves: of the next row, or of all from there */
		{"Working in back loops only:", "row-unfinished"}, {"Work in the front loops.", "row-unfinished"},
	};
	for (size_t i = 0; i < G_N_ELEMENTS(told); i++) {
		g_autofree char *text = g_strdup_printf("STRAP\nCh 13.\n"
			"Row 1: Sc in 2nd ch from hook and in each ch across, turn. (12 sc)\n%s\n", told[i][0]);
		tb_case c = tb_case_read("own.txt", text);
		bool found = false;
		for (unsigned k = 0; k < tb_diagnostics_count(c.diagnostics); k++)
			found = found || strcmp(tb_diagnostics_get(c.diagnostics, k)->code, told[i][1]) == 0;
		cr_expect(found, "“%s” is not told of", told[i][0]);
		tb_case_finish(&c);
	}
}
