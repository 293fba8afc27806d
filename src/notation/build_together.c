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

/* "dc2tog over next 2 sts" names what one of them takes; "sc2tog 3" are three. */
static void name_its_places(tb_act *act)
{
	tb_place *place = &act->place;
	bool counted =
		place->in == TB_IN_NEXT || place->in == TB_IN_LAST || place->in == TB_IN_FIRST;
	if (act->stitch->takes < 2 || !counted || place->count.count != 1)
		return;
	if (place->count.values[0] == (int)act->stitch->takes)
		place->count = (tb_number){1, tb_number_one, place->count.span};
}

bool tb_build_take_together(const tb_builder *b, tb_act *act, bool of_each)
{
	const tb_place *place = &act->place;
	/* "dc3tog in next sp" is in that one, with all its legs */
	if (place->in == TB_IN_NEXT && place->target == TB_TARGET_SPACE && (of_each || tb_number_is(&place->count, 1)))
		act->stitch = tb_build_in_one(b, act->stitch);
	if (act->stitch == NULL)
		return false;
	name_its_places(act);
	return true;
}

bool tb_build_take_both(tb_builder *b, const tb_value *stitch, const tb_act *act, const tb_value **then)
{
	const tb_stitch *together = *then != NULL ? tb_build_stitch(b, stitch, NULL) : NULL;
	tb_place second = {0};
	if (together == NULL || together->takes != 2 || !tb_number_is(&act->each, 1) ||
		!tb_number_is(&act->place.count, 1))
		return true;
	tb_build_place(b, *then, &second);
	if (second.in != TB_IN_NEXT || !tb_number_is(&second.count, 1))
		return true;
	bool beside = (act->place.in == TB_IN_NEXT || act->place.in == TB_IN_FIRST) &&
		act->place.target == TB_TARGET_STITCH && second.target == TB_TARGET_STITCH;
	*then = beside ? NULL : *then;
	return beside;
}
