/* "Inc in every 3rd st": what is worked in one of so many stitches, and in those between. */
#include "notation/build.h"

#include "stitches/stitch.h"

/*
 * What is worked in every so many, where that is said ("2 sc in every 3rd st, 1 sc in the others"), and
 * how many of them: an increase is two of the others. EACH is 0 where it is more than one stitch's place.
 */
static const tb_stitch *other_stitch(tb_builder *b, const tb_value *value, const tb_value *of, int *each)
{
	const tb_value *said = tb_value_get(value, TB_SLOT_stitch2);
	if (said == NULL)
		return NULL;
	bool increase = tb_build_is_increase(b, said);
	*each = tb_build_one_number(tb_value_get(value, TB_SLOT_each2), increase ? 2 : 1);
	const tb_stitch *stitch = tb_build_stitch(b, increase ? of : said, NULL);
	if (stitch == NULL || stitch->takes != 1 || tb_build_is_unnamed(said, TB_SYMBOL_dec) ||
		(increase && *each != 2))
		*each = 0;
	return stitch;
}

/* "Sc in every 2nd st, 3 ch between": OF, the chains, and the others missed; "ch 3, sc in every 2nd": the chains first. */
static void add_spaced(tb_builder *b, const tb_value *value, const tb_act *of, GArray *body)
{
	tb_act chain = {.kind = TB_ACT_CHAIN, .span = of->span}, skip = *of, work = *of;
	chain.count = tb_build_number(b, tb_value_get(value, TB_SLOT_divided), 1);
	skip.kind = TB_ACT_SKIP;
	work.place.count = work.each;
	if (!tb_build_has(value, TB_SLOT_begun))
		g_array_append_val(body, work);
	g_array_append_val(body, chain);
	g_array_append_val(body, skip);
	if (tb_build_has(value, TB_SLOT_begun))
		g_array_append_val(body, work);
}

/* "Inc in every 3rd st around", "sc in each sc, skipping every 4th": one in each of those before it. */
void tb_build_every(tb_builder *b, const tb_value *value, GArray *acts)
{
	g_autoptr(GArray) body = g_array_new(FALSE, FALSE, sizeof(tb_act));
	int n = tb_build_one_number(tb_value_get(value, TB_SLOT_n), 0);
	tb_act act = tb_build_act_of(b, value, TB_ACT_REPEAT), plain = tb_build_act_of(b, value, TB_ACT_WORK);
	const tb_value *stitch = tb_value_get(value, TB_SLOT_stitch);
	const tb_value *of = tb_value_get(value, TB_SLOT_of), *place = tb_value_get(value, TB_SLOT_place);
	bool decrease = tb_build_is_unnamed(stitch, TB_SYMBOL_dec), skips = tb_build_has(value, TB_SLOT_skips);
	int each = tb_build_one_number(tb_value_get(value, TB_SLOT_each), 2);
	const tb_stitch *other = other_stitch(b, value, of, &each);
	bool known = tb_build_is_increase(b, stitch) || of != NULL || skips || tb_build_has(value, TB_SLOT_up);
	plain.stitch = of != NULL ? tb_build_stitch(b, of, NULL) : b->plain_at[value->from];
	if (place != NULL) {
		tb_build_place(b, place, &plain.place);
		known = known && plain.place.in == TB_IN_EACH && plain.place.up_to == NULL &&
			tb_number_is(&plain.place.count, 0) && plain.place.target != TB_TARGET_SPACE;
	}
	/* "2 sc in each sc, increasing in every 4th": of how many into how many is not said */
	known = known && tb_build_one_number(tb_value_get(value, TB_SLOT_more), 1) == 1;
	if (n < 2 || each < (other != NULL ? 1 : 2) || plain.stitch == NULL || !known) {
		tb_build_add_cannot(b, value, acts, decrease ?
			"whether the stitches between are counted with the decrease is not said" :
			"what is worked in the stitches between is not said");
		return;
	}
	plain.place = (tb_place){.in = TB_IN_NEXT, .rows_below = 1, .span = act.span};
	plain.place.count = tb_number_make(b->arena, n - 1, act.span);
	plain.each = (tb_number){1, tb_number_one, act.span};
	if (tb_build_has(value, TB_SLOT_divided)) {
		add_spaced(b, value, &plain, body);
	} else if (tb_build_has(value, TB_SLOT_alone)) {
		/* "sc in every other st, starting with the first" */
		tb_act skip = plain;
		skip.kind = TB_ACT_SKIP;
		plain.place.count = plain.each;
		bool late = tb_build_one_number(tb_value_get(value, TB_SLOT_alone), 1) == n;
		g_array_append_val(body, *(late ? &skip : &plain));
		g_array_append_val(body, *(late ? &plain : &skip));
	} else {
		g_array_append_val(body, plain);
		plain.place.count = plain.each;
		if (skips)
			plain.kind = TB_ACT_SKIP;
		else
			plain.each = tb_number_make(b->arena, each, act.span);
		plain.stitch = other != NULL ? other : plain.stitch;
		g_array_append_val(body, plain);
	}
	act.body = tb_acts_keep(b->arena, body);
	act.evenly = !tb_build_has(value, TB_SLOT_alone);
	tb_build_until(b, tb_value_get(value, TB_SLOT_until), false, &act);
	act.corresponds = act.corresponds || !act.evenly;
	g_array_append_val(acts, act);
}
