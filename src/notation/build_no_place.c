/* Places that are none: what their words say is held against each other. */
#include "notation/build.h"

#include "stitches/stitch.h"

#define MOST_BELOW 100u

/* "Sc2tog over every 2 sts": whether one of them goes over another number. */
static bool goes_over_others(const tb_value *said, const tb_act *act)
{
	const tb_value *takes = tb_value_get(said, TB_SLOT_takes);
	return takes != NULL && (int)act->stitch->takes != tb_build_few(takes);
}

/* "Middle dc of each loop", where it is the chain that is a loop, or of each sc. */
static bool has_no_middle(const tb_value *said, const tb_place *place)
{
	const tb_value *part = tb_value_get(said, TB_SLOT_part);
	return tb_value_is_symbol(tb_value_get(part, TB_SLOT_k), TB_SYMBOL_named) && tb_build_has(said, TB_SLOT_center) &&
		place->amid == 0 && (place->target == TB_TARGET_SPACE || place->target == TB_TARGET_NAMED);
}

int tb_build_few(const tb_value *said)
{
	return tb_value_is(said, TB_KIND_pair) ? 2 : tb_build_one_number(said, 1);
}

/* Whether STITCH is said to be drawn together: "dc2tog", which may be a cluster where all of it goes into one stitch. */
static bool says_together(const tb_builder *b, const tb_value *stitch)
{
	const tb_lattice *l = b->lattice;
	return stitch != NULL && stitch->to > stitch->from && g_strstr_len(l->text->chars + l->start[stitch->from],
		(gssize)(l->stop[stitch->to - 1] - l->start[stitch->from]), "tog") != NULL;
}

/* "dc2tog over next st": of one alone; "in next st" is loosely said of where it begins. */
static bool goes_over_one(const tb_builder *b, const tb_value *value, const tb_value *said, const tb_act *act)
{
	const tb_place *place = &act->place;
	if (said == NULL || act->stitch == NULL)
		return false;
	bool over = tb_build_is_word(b, said->from, "over") || (said->from > 0 && tb_build_is_word(b, said->from - 1, "over"));
	bool together = act->stitch->takes > 1 || says_together(b, tb_value_get(value, TB_SLOT_stitch));
	bool one = (place->in == TB_IN_NEXT || place->in == TB_IN_LAST || place->in == TB_IN_FIRST) && tb_number_is(&place->count, 1);
	return over && together && one && place->target != TB_TARGET_SPACE && !place->marked && place->of == NULL &&
		!tb_build_has(value, TB_SLOT_then) && !tb_build_has(said, TB_SLOT_of_each);
}

bool tb_build_is_no_place(tb_builder *b, const tb_value *value, const tb_act *act, GArray *acts)
{
	const tb_value *said = tb_value_get(value, TB_SLOT_place);
	const tb_place *place = &act->place;
	int n = tb_build_one_number(tb_value_get(said, TB_SLOT_n), 0);
	if (place->in == TB_IN_BETWEEN && n != 0 && n != 2)
		tb_build_tell_cannot(b, said, acts, "between-two", "a gap lies between two stitches",
			"Write “in sp between next 2 sts”.");
	else if (place->middle && place->in != TB_IN_EDGE && n > 0 && n % 2 == 0 &&
		!tb_value_is_symbol(tb_value_get(said, TB_SLOT_how), TB_SYMBOL_among))
		tb_build_tell_cannot(b, said, acts, "middle-even", "an even number of stitches has no middle one",
			"Name an odd number, as in “middle dc of 3 below”, or say which one it is.");
	else if (place->in == TB_IN_PART && place->of != NULL && !tb_number_is(&place->of->count, 1))
		tb_build_tell_cannot(b, said, acts, "not-worked", "the middle of several loops or groups is none of them",
			"Say which one it is, as in “center st of next loop”.");
	else if (tb_build_figure(tb_value_get(tb_value_get(said, TB_SLOT_rows), TB_SLOT_row), 0) > 0 &&
		((place->in == TB_IN_EACH && place->of_row == 0) || b->row == 0))
		tb_build_tell_cannot(b, said, acts, "not-worked", "the row that is named here is not the row below",
			"Say how many rows below each stitch goes, as in “2 rows below”.");
	else if (place->rows_below > MOST_BELOW)
		tb_build_tell_cannot(b, tb_build_has(said, TB_SLOT_rows) ? tb_value_get(said, TB_SLOT_rows) : said, acts, "rows-below", "a post can be reached 1 to 100 rows below",
			"As in “2 rows below”; the row just worked on is 1 row below.");
	else if (n > 1 && act->each.count == 1 && act->each.values[0] > 1 && act->each.values[0] != n &&
		said->from > 0 && tb_build_is_word(b, said->from - 1, "over") && !tb_build_has(said, TB_SLOT_of_each))
		tb_build_tell_cannot(b, value, acts, "not-worked", "where the stitches go is not said one by one",
			"Write what is worked stitch by stitch.");
	else if (act->stitch->takes > 1 && place->in == TB_IN_NEXT && tb_build_has(said, TB_SLOT_noun) &&
		place->target == TB_TARGET_STITCH && n > 1 && n % (int)act->stitch->takes != 0 &&
		!tb_build_has(said, TB_SLOT_of_each))
		tb_build_tell_cannot(b, said, acts, "together-count",
			"more or fewer stitches are named than are drawn together",
			"Name as many as are drawn together, or say how often: [sc2tog over next 2 sts] 3 times.");
	else if (goes_over_one(b, value, said, act))
		tb_build_tell_cannot(b, said, acts, "together-count", "nothing is drawn together over one stitch",
			"Name as many as are drawn together, as in “sc2tog over next 2 sts”.");
	else if (goes_over_others(said, act))
		tb_build_tell_cannot(b, said, acts, "together-count", "this stitch does not go over so many",
			"Name as many as one of them goes over.");
	else if (has_no_middle(said, place))
		tb_build_tell_cannot(b, said, acts, "not-worked", "this has no such stitch in its middle",
			"Say where it is worked, stitch by stitch.");
	else
		return false;
	return true;
}

/* "Make a chain of 64; 1 dc in the 6th chain": nothing else is made before. */
bool tb_build_are_chains(const GArray *acts)
{
	for (guint i = 0; i < acts->len; i++) {
		if (g_array_index(acts, tb_act, i).kind != TB_ACT_CHAIN)
			return false;
	}
	return acts->len > 0;
}

/* "1 sc in 2nd ch, 1 sc in next ch", where a first row begins: counted from the hook; "of ch-3" is not. */
void tb_build_count_from_hook(tb_builder *b, const tb_value *said, tb_place *place)
{
	if (said == NULL || !tb_value_is_symbol(tb_value_get(said, TB_SLOT_how), TB_SYMBOL_nth))
		return;
	if (place->in == TB_IN_NTH_STITCH && place->target == TB_TARGET_STITCH && !place->middle) {
		place->in = TB_IN_NTH_CHAIN;
		place->target = TB_TARGET_CHAIN;
		return;
	}
	if (tb_build_has(said, TB_SLOT_of) || place->in != TB_IN_NEXT ||
		place->target != TB_TARGET_TURNING_CHAIN || place->space_chains < 2)
		return;
	*place = (tb_place){.in = TB_IN_NTH_CHAIN, .target = TB_TARGET_CHAIN, .rows_below = 1, .span = place->span,
		.loops = place->loops, .count = tb_number_make(b->arena, (int)place->space_chains, place->span)};
}
