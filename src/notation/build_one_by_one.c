/* "(Hdc, dc) in next 2 sts": some mean both in each of the two, and some one in each, one behind the other. */
#include "notation/build.h"

#include "stitches/stitch.h"

/* Whether ACT works one stitch, whose place is not said. */
static bool is_single(const tb_builder *b, const tb_value *item, const tb_act *act)
{
	return tb_value_is(item, TB_KIND_work) && !tb_build_has(item, TB_SLOT_place) && act->kind == TB_ACT_WORK &&
		act->stitch != NULL && act->stitch != b->chain && act->stitch->takes == 1 && tb_number_is(&act->each, 1);
}

void tb_build_one_by_one(tb_builder *b, const tb_value *value, GArray *acts)
{
	const tb_value *body = tb_value_get(value, TB_SLOT_body);
	tb_place place = {.target = TB_TARGET_STITCH};
	tb_build_place(b, tb_value_get(value, TB_SLOT_place), &place);
	tb_acts singles = tb_build_list(b, body);
	bool apart = body != NULL && body->type == TB_VALUE_LIST && body->count == singles.count &&
		tb_number_is(&place.count, (int)singles.count) && place.target == TB_TARGET_STITCH;
	const tb_value *const *items = apart ? tb_value_items(body, b->scratch) : NULL;
	for (unsigned i = 0; i < singles.count && apart; i++)
		apart = is_single(b, items[i], &singles.acts[i]);
	if (!apart) {
		tb_build_add_cannot(b, value, acts, "there are other stitches in the brackets than are worked into");
		return;
	}
	place.count = tb_number_make(b->arena, 1, place.span);
	for (unsigned i = 0; i < singles.count; i++) {
		tb_act act = singles.acts[i];
		act.place = place;
		act.bare = false;
		g_array_append_val(acts, act);
	}
}
