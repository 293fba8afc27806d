/* Places of more kinds than one, "each dc and ch-1 sp", and kinds that are left out. */
#include "notation/build.h"

/* "Each st, skipping the ch-1 sps": none of these. */
void tb_build_but(tb_builder *b, const tb_value *but, tb_place *place)
{
	if (but == NULL)
		return;
	tb_place *none = tb_arena_new(b->arena, tb_place);
	*none = (tb_place){.in = TB_IN_EACH, .rows_below = 1, .span = place->span, .count = place->count};
	tb_build_noun(b, but, none);
	place->but = none;
}

/* "Each dc, tr and ch-1 sp": one more kind; true for "each st and ch", where a chain counts as a stitch. */
bool tb_build_also(tb_builder *b, const tb_value *also, tb_place *place)
{
	if (also == NULL)
		return false;
	tb_place *more = tb_arena_new(b->arena, tb_place);
	*more = (tb_place){.in = TB_IN_EACH, .rows_below = 1, .span = place->span, .count = place->count};
	tb_build_noun(b, also, more);
	more->also = place->also;
	place->also = more;
	return more->target == TB_TARGET_CHAIN;
}
