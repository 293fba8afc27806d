/* Repeats whose begin is not said. */
#include "notation/script.h"

#include "stitches/stitch.h"

/* A repeat whose begin is not said has so many acts at the most. */
#define MOST_PARTS 16u

/* "Ch 1, sc in next 2 sts, repeat across": a chain as high as the stitches behind it, which turns. */
static bool begins_turned(const tb_acts *body)
{
	const tb_act *chain = &body->acts[0], *work = &body->acts[1];
	return body->count > 1 && chain->kind == TB_ACT_CHAIN && work->kind == TB_ACT_WORK &&
		work->stitch != NULL && work->place.target == TB_TARGET_STITCH && work->place.in == TB_IN_NEXT &&
		tb_number_is(&chain->count, (int)work->stitch->height);
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
	if (begins_turned(&repeat->body))
		g_array_index(ways, tb_way, ways->len - 1).cost += TB_TURNING_APART_COST;
	unsigned parts = !said ? repeat->body.count : repeat->body.acts[0].kind == TB_ACT_CHAIN ? 2 : 1;
	for (unsigned from = 1; from < parts; from++) {
		g_autoptr(GArray) acts = g_array_new(FALSE, FALSE, sizeof(tb_act));
		if (at > 1)
			g_array_append_vals(acts, whole->acts.acts, at - 1);
		g_array_append_vals(acts, repeat->body.acts, from);
		tb_act rest = *repeat;
		rest.body = (tb_acts){repeat->body.acts + from, repeat->body.count - from};
		rest.body_last = 0;
		/* what was worked before it is the first time */
		g_array_append_val(acts, rest);
		if (at < whole->acts.count)
			g_array_append_vals(acts, whole->acts.acts + at, whole->acts.count - at);
		guint32 cost = whole->cost + (said ? TB_TURNING_APART_COST : 0);
		tb_way way = {whole->from, whole->to, cost, tb_acts_keep(r->b.arena, acts)};
		g_array_append_val(ways, way);
	}
	return true;
}
