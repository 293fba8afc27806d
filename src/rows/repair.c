/*
 * The smallest repair: the foundation chain with which a row would come out.
 *
 * It is found by working the piece again, from its start to the row that does not come out, with
 * longer and shorter chains; arithmetic alone would promise chains that an earlier row refuses.
 */
#include "places/repeat_need.h"
#include "rows/repair.h"
#include "rows/rows.h"

/* Farther away than this many repeats nobody looks. */
#define MOST_UNITS 2u
#define MOST_UNIT 60u
/* All tries together; a row that takes more is left without a suggestion. */
#define MOST_MADE (TB_LIMIT_ALL_STITCHES / 20u)
#define MOST_STEPS MOST_MADE
/* And so is what is wrong in a pattern after this much of it in all pieces and sizes. */
#define MOST_TRIED (2ull * TB_LIMIT_ALL_STITCHES)

/* Whether rows up to the one H is at come out with CHANGE more foundation chains. */
static bool comes_out(const tb_hands *h, tb_working *working, int change)
{
	tb_hands try;
	tb_hands_init(&try, working, h->piece, h->size);
	try.start.change = change;
	try.start.only_to = h->row;
	tb_rows_work(&try, tb_worked_script(working->worked, h->piece));
	bool good = !try.teller.has_fault && !working->stopped && try.cloth.rows->len > h->row;
	tb_hands_finish(&try);
	return good;
}

/* The longest repeat of the row, or what is missing from it. */
static unsigned find_unit(const tb_hands *h, unsigned least)
{
	/* row 1 came out: beyond it the foundation is to blame only where a repeat does not come out */
	gint64 unit = h->row == 1 ? MAX(least, 1) : 0;
	for (unsigned i = 0; i < h->sentence->acts.count; i++) {
		const tb_act *act = &h->sentence->acts.acts[i];
		if (act->kind == TB_ACT_REPEAT && act->until == TB_UNTIL_END)
			unit = MAX(unit, tb_repeat_need(h, act->body.acts, act->body.count));
	}
	return (unsigned)CLAMP(unit, 0, MOST_UNIT);
}

char *tb_repair_chains(tb_hands *h, unsigned least, bool repeat)
{
	if ((h->row > 1 && !repeat) || h->start.only_to > 0 || h->start.repaired || h->teller.trials > 0 ||
		h->start.chains == 0 || h->start.is_ring || h->start.is_tube || h->start.grown || h->row == 0 ||
		h->working->tried >= MOST_TRIED)
		return NULL;
	h->start.repaired = true;
	tb_working working = *h->working;
	working.gather = NULL;
	working.stopped = false;
	working.made = TB_LIMIT_ALL_STITCHES - MOST_MADE;
	working.steps = 0;
	working.most_steps = MOST_STEPS;
	int most = (int)(MOST_UNITS * find_unit(h, least)), fewer = 0, more = 0;
	for (int i = 1; i <= most && !working.stopped; i++) {
		if (fewer == 0 && (unsigned)i < h->start.chains && comes_out(h, &working, -i))
			fewer = i;
		if (more == 0 && comes_out(h, &working, i))
			more = i;
	}
	h->working->tried += working.steps + working.made - (TB_LIMIT_ALL_STITCHES - MOST_MADE);
	if (fewer > 0 && more > 0)
		return g_strdup_printf(
			"%u or %u ch", h->start.chains - (unsigned)fewer, h->start.chains + (unsigned)more);
	if (fewer > 0 || more > 0)
		return g_strdup_printf("%u ch",
			fewer > 0 ? h->start.chains - (unsigned)fewer : h->start.chains + (unsigned)more);
	return NULL;
}
