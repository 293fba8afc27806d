/*
 * "Working on first 8 sts only": the row below ends there for the row that begins with it, and what lies behind
 * is left as short rows leave it. "Working on these 7 sts only": so many stand there.
 */
#include "places/place.h"
#include "places/within.h"

/* What is said of the row to come: by its own words the first time they are worked, or by rows worked again. */
static const tb_act *said_of(const tb_hands *h)
{
	if (h->now.within_of == NULL || h->row != h->now.within_row)
		return NULL;
	return h->now.within_of->kind == TB_SENTENCE_REPEAT ? h->now.within_of->within : h->sentence->within;
}

void tb_within_begin(tb_hands *h, const tb_sentence *sentence)
{
	h->now.within_of = sentence;
	h->now.within_row = MAX(h->cloth.rows->len, 1);
}

void tb_within_lay(tb_hands *h)
{
	const tb_act *act = said_of(h);
	g_array_set_size(h->now.set_aside, 0);
	if (act == NULL)
		return;
	unsigned there = tb_place_near_end(h), said = tb_hands_number(h, &act->count, there);
	if (said > there || (act->these && said != there)) {
		tb_hands_tell(h, TB_ERROR, "count-claimed", act->span, "Change the number, or the row below.",
			"there %s %u st%s to work on, not %u", there == 1 ? "is" : "are", there, there == 1 ? "" : "s", said);
		return;
	}
	if (said < there)
		g_array_append_vals(h->now.set_aside, &g_array_index(h->now.places, guint32, said), there - said);
	if (h->now.turning_place != TB_NONE && h->now.turning_place >= said)
		h->now.turning_place = TB_NONE;
	g_array_set_size(h->now.places, said);
	h->now.beyond = 0;
}

bool tb_within_keep(tb_hands *h, GArray *rest)
{
	h->before.was_short = h->before.was_short || h->now.set_aside->len > 0;
	for (guint i = h->now.set_aside->len; i-- > 0;)
		g_array_append_val(rest, g_array_index(h->now.set_aside, guint32, i));
	return h->now.set_aside->len > 0;
}

bool tb_within_is_ended(const tb_hands *h)
{
	const tb_acts *acts = &h->sentence->acts;
	return acts->count > 0 && acts->acts[acts->count - 1].kind == TB_ACT_FASTEN_OFF;
}

bool tb_within_is_said(const tb_hands *h)
{
	return said_of(h) != NULL;
}
