/* How a round is closed, and how yarn is joined to begin a row. */
#include "notation/build.h"

#include "stitches/stitch.h"

/* "join with sc": with a stitch that counts, as a slip stitch does not. */
static bool joins_with_stitch(tb_builder *b, const tb_value *value)
{
	const tb_value *stitch = tb_value_get(value, TB_SLOT_stitch);
	const tb_stitch *with = stitch != NULL ? tb_build_stitch(b, stitch, NULL) : NULL;
	return with != NULL && with != b->slip;
}

/* "Join B in first st", "join with sc in any st": the first stitch is made where the yarn is joined. */
void tb_build_new_yarn(tb_builder *b, const tb_value *value, GArray *acts)
{
	tb_act act = tb_build_act_of(b, value, TB_ACT_JOIN_YARN);
	const tb_value *place = tb_value_get(value, TB_SLOT_place);
	/* "skip 12 sts, join yarn": in the next */
	if (place == NULL && !tb_build_has(value, TB_SLOT_loops))
		act.place = (tb_place){.in = TB_IN_NEXT, .rows_below = 1, .span = act.span, .count = {1, tb_number_one, act.span}};
	else
		tb_build_place(b, place, &act.place);
	tb_build_row_named(b, value, &act.place);
	g_array_append_val(acts, act);
	if (!joins_with_stitch(b, value))
		return;
	act.stitch = tb_build_stitch(b, tb_value_get(value, TB_SLOT_stitch), NULL);
	act.kind = TB_ACT_WORK;
	act.place.in = TB_IN_SAME;
	act.place.count = act.each = (tb_number){1, tb_number_one, act.span};
	g_array_append_val(acts, act);
}

void tb_build_own_beginning(const tb_builder *b, tb_act *act)
{
	tb_place *place = &act->place;
	if (act->stitch != b->slip || place->in != TB_IN_NEXT || place->target != TB_TARGET_GROUP || place->own == NULL)
		return;
	if (tb_own_first_word(place->own) > 0)
		*place = (tb_place){.in = TB_IN_FIRST, .rows_below = 1, .span = place->span, .count = {1, tb_number_one, place->span}};
}

void tb_build_join(tb_builder *b, const tb_value *value, GArray *acts)
{
	tb_act act = tb_build_act_of(b, value, TB_ACT_JOIN);
	const tb_value *place = tb_value_get(value, TB_SLOT_place);
	if (value->from == b->begins && place != NULL && joins_with_stitch(b, value)) {
		tb_build_new_yarn(b, value, acts);
		return;
	}
	act.bare = place == NULL;
	act.place.count = act.each = (tb_number){1, tb_number_one, act.span};
	act.place.rows_below = 1;
	if (place != NULL) {
		tb_build_place(b, place, &act.place);
		/* "with sl st in last dc": no slip stitch that lies there */
		bool worked = place->from > 0 && tb_build_is_word(b, place->from - 1, "with");
		if (act.place.named == b->slip && (act.place.in == TB_IN_PART || worked)) {
			tb_build_add_cannot(b, value, acts, "no slip stitch is joined to");
			return;
		}
		act.stitch = b->slip;
		tb_build_own_beginning(b, &act);
	} else if (tb_build_on_ground(b, value, &act.place)) {
		act.place.span = act.span;
	} else {
		act.place = (tb_place){.in = TB_IN_FIRST, .rows_below = 1, .span = act.span,
			.count = {1, tb_number_one, act.span}};
	}
	act.stitch = b->slip;
	if (joins_with_stitch(b, value)) {
		/* "join to first leg with sc", "dc in first sc to join": that stitch is made, and counts */
		act.kind = TB_ACT_WORK;
		act.stitch = tb_build_stitch(b, tb_value_get(value, TB_SLOT_stitch), NULL);
	}
	g_array_append_val(acts, act);
}

/* "sl st to first dc", "sl st to next ch-2 sp" */
/* "Sl st in sp between groups, ch 3", as a round begins: into the space there. */
void tb_build_travel_between(const tb_builder *b, const tb_value *value, tb_act *act)
{
	tb_place *place = &act->place;
	if (act->stitch != b->slip || value->from != b->begins || place->in != TB_IN_BETWEEN ||
		place->beside != TB_BESIDE_NOTHING || place->target != TB_TARGET_GROUP || !(place->loose || tb_number_is(&place->count, 1)))
		return;
	*place = (tb_place){.in = TB_IN_NEXT, .target = TB_TARGET_SPACE, .rows_below = 1, .span = place->span,
		.count = {1, tb_number_one, place->span}};
}

void tb_build_slip_to(tb_builder *b, const tb_value *value, GArray *acts)
{
	tb_act act = tb_build_act_of(b, value, TB_ACT_WORK);
	if (joins_with_stitch(b, value)) {
		tb_build_add_cannot(b, value, acts, "whether this stitch is worked once or in each stitch up to there is not said");
		return;
	}
	act.stitch = b->slip;
	act.each = (tb_number){1, tb_number_one, act.span};
	tb_build_place(b, tb_value_get(value, TB_SLOT_place), &act.place);
	if (act.place.in == TB_IN_PART && act.place.of != NULL && act.place.of->target == TB_TARGET_SPACE)
		act.place = *act.place.of; /* to the middle of a space is into it */
	tb_build_travel_between(b, value, &act);
	tb_build_add_way_to(b, acts, &act);
	g_array_append_val(acts, act);
}

void tb_build_all_in_ring(tb_builder *b, const tb_value *value, GArray *acts)
{
	tb_act act = tb_build_act_of(b, value, TB_ACT_RING);
	act.bare = true;
	g_array_append_val(acts, act);
}
