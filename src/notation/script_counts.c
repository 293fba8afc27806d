/* Counts without brackets behind a row's end, which could be read as more of its work. */
#include "notation/script.h"

bool tb_act_goes_in_each(const tb_act *act)
{
	return act->kind == TB_ACT_WORK && act->place.in == TB_IN_EACH && act->place.up_to == NULL &&
		tb_number_is(&act->place.count, 0) && act->other == NULL;
}

static bool makes_stitches(const tb_act *act)
{
	return act->kind == TB_ACT_WORK || act->kind == TB_ACT_GROUP || act->kind == TB_ACT_REPEAT;
}

/* "sc2tog, sc in each st": a group in each. */
static bool is_in_each(const tb_act *act)
{
	return act->kind == TB_ACT_GROUP && act->place.in == TB_IN_EACH && act->place.up_to == NULL &&
		tb_number_is(&act->place.count, 0);
}

/* "2 dc in each dc around, sl st to top of ch-3": act I joins the round, of which something is worked before. */
static bool closes_round(const tb_sentence *sentence, const GArray *acts, guint i)
{
	const tb_act *act = &g_array_index(acts, tb_act, i);
	bool slip = act->kind == TB_ACT_WORK && act->stitch != NULL && act->stitch->form == TB_FORM_SLIP;
	bool first = (act->place.in == TB_IN_FIRST && act->place.target != TB_TARGET_CHAIN) ||
		act->place.target == TB_TARGET_TURNING_CHAIN;
	bool joins = (slip && first && sentence->is_round) || (act->kind == TB_ACT_JOIN && act->bare), worked = false;
	for (guint k = 0; k < i && joins && !worked; k++)
		worked = makes_stitches(&g_array_index(acts, tb_act, k));
	return worked;
}

/* "*sc, ch 1; rep from * across. 6 sc": BEFORE leaves nothing for so many as ACT says; "ending with 6 sc" is a part of it. */
static bool repeats_to_end(const tb_act *before, const tb_act *act)
{
	return before->kind == TB_ACT_REPEAT && before->until == TB_UNTIL_END && tb_number_is(&before->count, 0) &&
		!tb_number_is(&act->place.count, 1) && act->span.start >= before->span.end;
}

/* Which act stands before act I, that the yarn is cut aside; I where none does. */
static guint find_before(const GArray *acts, guint i)
{
	guint before = i;
	while (before > 0 && g_array_index(acts, tb_act, before - 1).kind == TB_ACT_FASTEN_OFF)
		before--;
	return before > 0 ? before - 1 : i;
}

/* Where stitches without a place stand right behind such a join; or behind all others, whatever chains follow. */
static guint find_placeless(const tb_sentence *sentence, const GArray *acts)
{
	guint last = acts->len;
	for (guint i = 0; i < acts->len; i++) {
		const tb_act *act = &g_array_index(acts, tb_act, i);
		guint before = find_before(acts, i);
		if (before < i && act->kind == TB_ACT_WORK && act->bare && act->stitch != NULL && act->stitch->form != TB_FORM_SLIP &&
			(closes_round(sentence, acts, before) || repeats_to_end(&g_array_index(acts, tb_act, before), act)))
			return i;
		last = act->kind != TB_ACT_CHAIN ? i : last;
	}
	return last < acts->len ? last : 0;
}

/* "For size M only 22 sc.": stitches without a place that ACT, of some sizes, works alone; else ACT. */
static const tb_act *in_some_sizes(const tb_act *act)
{
	const tb_act *inner = act->kind == TB_ACT_ONLY && act->body.count == 1 ? &act->body.acts[0] : act;
	return inner->kind == TB_ACT_WORK && inner->bare && inner->stitch != NULL ? inner : act;
}

/*
 * "11 dc in ring, join. 12 dc", "8 sc in ring. 8 sc": behind the join that closes a round nothing more
 * is worked without a place, nor behind stitches in a ring more of the same, or behind those in each
 * stitch: a number and a stitch there are the round's count.
 */
void tb_sentence_refuse_counts(const tb_sentence *sentence, GArray *acts)
{
	guint end = find_placeless(sentence, acts);
	if (end == 0)
		return;
	tb_act *refused = &g_array_index(acts, tb_act, end);
	const tb_act *act = in_some_sizes(refused);
	guint at = find_before(acts, end);
	const tb_act *before = &g_array_index(acts, tb_act, at);
	bool joined = before->kind == TB_ACT_JOIN || closes_round(sentence, acts, at);
	bool in_ring = before->kind == TB_ACT_WORK && before->place.in == TB_IN_RING && before->stitch == act->stitch;
	/* "sc in each st across - 19 sc": nothing is left for them */
	bool across = ((tb_act_goes_in_each(before) || is_in_each(before)) && !tb_number_is(&act->place.count, 1)) ||
		repeats_to_end(before, act);
	/* "…; rep from * around, join. 6 sps.": squares of filet are not worked behind the end */
	bool squares = act->kind == TB_ACT_REPEAT && act->squares && (joined || tb_act_goes_in_each(before) ||
		(before->kind == TB_ACT_REPEAT && before->until == TB_UNTIL_END && tb_number_is(&before->count, 0)));
	if (!squares && (act->kind != TB_ACT_WORK || !act->bare || (!joined && !in_ring && !across)))
		return;
	refused->kind = TB_ACT_CANNOT;
	refused->code = "place-missing";
	refused->why = joined ? "the round is joined already" : "these are worked already";
	refused->hint = "Say where it is worked, as in “dc in same st”, or put a count in brackets.";
}

