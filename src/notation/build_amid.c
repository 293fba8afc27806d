/* The middle of a group that nothing else tells apart. */
#include "notation/build.h"

/*
 * "Sc in each sc, making 3 sc in center sc of each 3-sc group": where sc stand all around, a group is what
 * was worked in one place; how many these are tells it, or any odd number where that is not said.
 */
void tb_build_amid(tb_builder *b, const tb_value *value, tb_place *place)
{
	const tb_value *noun = tb_value_get(value, TB_SLOT_noun), *part = tb_value_get(value, TB_SLOT_part);
	const tb_value *many = tb_value_get(value, TB_SLOT_amid);
	if (many == NULL && tb_build_has(value, TB_SLOT_center) && place->target == TB_TARGET_GROUP)
		many = tb_value_get(noun, TB_SLOT_n);
	unsigned count = tb_build_figure(many, 0);
	bool any = many == NULL && part != NULL && place->target == TB_TARGET_GROUP && place->own == NULL;
	if (any) {
		place->target = TB_TARGET_STITCH;
		tb_build_noun(b, part, place);
	}
	if (place->named == NULL || (!any && (count < 3 || count % 2 == 0)))
		return;
	place->amid = any ? 1 : count;
	place->corner = true;
	place->target = TB_TARGET_NAMED;
}
