/* Stitches that are drawn together, and the places of their legs. */
#include "notation/build.h"

#include "stitches/stitch.h"

#include <string.h>

const tb_stitch *tb_build_in_one(const tb_builder *b, const tb_stitch *stitch)
{
	if (stitch->takes < 2)
		return stitch;
	g_autofree char *plain = g_strndup(stitch->us, strcspn(stitch->us, "0123456789"));
	const tb_stitch *base = tb_library_find(b->pattern->library, plain);
	return base == NULL ? stitch : tb_library_in_one(b->pattern->library, TB_FAMILY_FORM_CLUSTER, base, stitch->legs);
}

void tb_build_draw_together(tb_builder *b, const tb_value *value, tb_act *act)
{
	const tb_value *then = tb_value_get(value, TB_SLOT_then), *place = tb_value_get(value, TB_SLOT_place);
	int legs = then != NULL ? 1 + tb_build_one_number(tb_value_get(then, TB_SLOT_n), 1) :
		tb_build_one_number(tb_value_get(place, TB_SLOT_n), 2);
	act->stitch = tb_library_together(b->pattern->library, act->stitch, (unsigned)MAX(legs, 2));
	act->place.count = (tb_number){1, tb_number_one, act->span};
	tb_place next = {0};
	if (then == NULL)
		return;
	tb_build_place(b, then, &next);
	if (act->place.in == TB_IN_SAME && next.in == TB_IN_NEXT)
		tb_build_share(&next, act);
	else
		act->stitch = NULL;
}

/* "dc2tog over next 2 sts" names what one of them takes; "sc2tog 3" are three. */
static void name_its_places(tb_act *act)
{
	tb_place *place = &act->place;
	bool counted =
		place->in == TB_IN_NEXT || place->in == TB_IN_LAST || place->in == TB_IN_FIRST;
	if (act->stitch->takes < 2 || !counted || place->count.count != 1)
		return;
	/* … and so are "2 dec": nothing is said of stitches below */
	if (!act->bare && place->count.values[0] == (int)act->stitch->takes)
		place->count = (tb_number){1, tb_number_one, place->count.span};
}

bool tb_build_take_together(const tb_builder *b, tb_act *act, bool of_each)
{
	const tb_place *place = &act->place;
	/* "dc3tog in next sp", "dc5tog in next st": in that one, with all its legs; "sc2tog in next st" is loosely said */
	bool many = act->stitch->takes > 3 && !act->bare && place->target == TB_TARGET_STITCH;
	if (place->in == TB_IN_NEXT && (place->target == TB_TARGET_SPACE || many) && (of_each || tb_number_is(&place->count, 1)))
		act->stitch = tb_build_in_one(b, act->stitch);
	if (act->stitch == NULL)
		return false;
	name_its_places(act);
	return true;
}

void tb_build_share(const tb_place *next, tb_act *act)
{
	act->place = *next;
	act->place.count = (tb_number){1, tb_number_one, act->span};
	act->place.shared = true;
}

bool tb_build_take_both(tb_builder *b, const tb_value *stitch, tb_act *act, const tb_value **then)
{
	const tb_stitch *together = *then != NULL && (*then)->type == TB_VALUE_NODE ? tb_build_stitch(b, stitch, NULL) : NULL;
	tb_place second = {0};
	if (together == NULL || together->takes < 2 || !tb_number_is(&act->each, 1) ||
		!tb_number_is(&act->place.count, 1))
		return true;
	tb_build_place(b, *then, &second);
	if (act->place.in == TB_IN_SAME && second.in == TB_IN_NEXT && tb_number_is(&second.count, (int)together->takes - 1)) {
		tb_build_share(&second, act);
		*then = NULL;
		return true;
	}
	if (together->takes != 2)
		return true;
	if (second.in != TB_IN_NEXT || !tb_number_is(&second.count, 1))
		return true;
	bool beside = (act->place.in == TB_IN_NEXT || act->place.in == TB_IN_FIRST) &&
		act->place.target == TB_TARGET_STITCH && second.target == TB_TARGET_STITCH;
	*then = beside ? NULL : *then;
	return beside;
}

void tb_build_then(tb_builder *b, const tb_value *value, const tb_value *then, const tb_act *like, GArray *acts)
{
	if (then->type == TB_VALUE_LIST) {
		const tb_value *const *items = tb_value_items(then, b->scratch);
		for (guint32 i = 0; i < then->count; i++)
			tb_build_then(b, value, items[i], like, acts);
		return;
	}
	tb_act more = *like;
	more.span = tb_build_span(b, then->from, then->to);
	more.counts = TB_COUNTS_UNSAID;
	more.place.loops = tb_build_loops_of(tb_value_get(value, TB_SLOT_loops));
	tb_build_place(b, then, &more.place);
	/* "sc in each of next 3 dc, starting in same st": that one is among them */
	if (!tb_build_has(value, TB_SLOT_begin) || more.place.in != TB_IN_NEXT || tb_build_leave_one(b, &more.place))
		tb_build_finish(b, value, &more, acts);
}

bool tb_build_closes_all(const tb_value *value, unsigned legs)
{
	unsigned through = tb_build_figure(tb_value_get(tb_value_get(value, TB_SLOT_through), TB_SLOT_n), 0);
	return through == 0 || through == legs + 1;
}
