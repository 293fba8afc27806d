/* Repeats whose begin is not said. */
#include "notation/script.h"

#include "stitches/stitch.h"

/* A repeat whose begin is not said has so many acts at the most. */
#define MOST_PARTS 16u

/*
 * "Ch 1, sc in next 2 sts, repeat across", "ch 1, (sc, dc) in next st, skip 1, repeat across": a chain as high as the
 * stitches behind it, which turns.
 */
static bool begins_turned(const tb_acts *body)
{
	const tb_act *chain = &body->acts[0], *work = &body->acts[1];
	if (body->count < 2 || chain->kind != TB_ACT_CHAIN || work->place.target != TB_TARGET_STITCH ||
		work->place.in != TB_IN_NEXT)
		return false;
	work = work->kind == TB_ACT_GROUP && work->body.count > 0 ? &work->body.acts[0] : work;
	if (work->kind != TB_ACT_WORK || work->stitch == NULL)
		return false;
	/* hdc and what goes around a post begin with a lower chain as well */
	bool low = work->stitch->post != TB_POST_NONE ? tb_number_is(&chain->count, 1) || tb_number_is(&chain->count, 2) :
		tb_number_is(&chain->count, 1) && work->stitch->height <= 2;
	return low || tb_number_is(&chain->count, (int)work->stitch->height);
}

/*
 * How many acts at the beginning are worked once, and stand in no repeat: a chain that is said to count as
 * a stitch, or as none, and slip stitches to the middle of a space, which only go to where the row begins.
 */
static unsigned worked_once(const tb_acts *body)
{
	unsigned n = MIN(tb_reader_slips_on(body->acts, body->count), body->count - 1);
	while (n + 1 < body->count) {
		const tb_act *act = &body->acts[n];
		/* "ch 5 (counts as dc and ch 2)" is two chains, one behind the other */
		bool behind = n > 0 && act->kind == TB_ACT_CHAIN && act[-1].kind == TB_ACT_CHAIN;
		if (!behind && !(act->kind == TB_ACT_CHAIN && act->counts != TB_COUNTS_UNSAID))
			break;
		n++;
	}
	return n;
}

/*
 * "Sc in 2nd ch from hook, ch 1, skip 1, sc in next ch, repeat to end": where the repeat begins is not
 * said; it may be at any act. Where that is said to be the beginning, a turning chain at most is no part
 * of it.
 */
bool tb_reader_add_parts(tb_reader *r, GArray *ways, const tb_way *whole, bool said)
{
	const tb_act *repeat = NULL;
	unsigned at = 0;
	for (; at < whole->acts.count && repeat == NULL; at++) {
		if (whole->acts.acts[at].kind == TB_ACT_REPEAT)
			repeat = &whole->acts.acts[at];
	}
	if (repeat == NULL || repeat->body.count < 2 || repeat->body.count > MOST_PARTS)
		return false;
	unsigned once = said ? 0 : worked_once(&repeat->body);
	if (once > 0)
		g_array_index(ways, tb_way, ways->len - 1).cost += TB_ONCE_COST;
	else if (begins_turned(&repeat->body))
		g_array_index(ways, tb_way, ways->len - 1).cost += TB_TURNING_APART_COST;
	unsigned parts = !said ? repeat->body.count : repeat->body.acts[0].kind == TB_ACT_CHAIN ? 2 : 1;
	for (unsigned from = MAX(once, 1); from < parts; from++) {
		g_autoptr(GArray) acts = g_array_new(FALSE, FALSE, sizeof(tb_act));
		if (at > 1)
			g_array_append_vals(acts, whole->acts.acts, at - 1);
		g_array_append_vals(acts, repeat->body.acts, from);
		tb_act rest = *repeat;
		rest.body = (tb_acts){repeat->body.acts + from, repeat->body.count - from};
		if (!tb_reader_makes(&rest.body))
			break;
		rest.body_last = 0;
		/* what was worked before it is the first time */
		g_array_append_val(acts, rest);
		if (at < whole->acts.count)
			g_array_append_vals(acts, whole->acts.acts + at, whole->acts.count - at);
		guint32 cost = whole->cost + (said || (once > 0 && from > once) ? TB_TURNING_APART_COST : 0);
		tb_way way = {whole->from, whole->to, cost, tb_acts_keep(r->b.arena, acts)};
		g_array_append_val(ways, way);
	}
	return true;
}
