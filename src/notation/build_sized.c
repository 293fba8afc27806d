/* What is worked in some sizes alone: "size L only: 2 sc in next st", "hdc2tog (hdc3tog, hdc3tog)". */
#include "notation/build.h"

/* Sizes FROM to TO, counted from 1; none where there are not so many. */
static tb_size_set sizes_between(const tb_builder *b, int from, int to)
{
	if (from < 1 || to < from || to > (int)tb_pattern_count_sizes(b->pattern))
		return 0;
	return (tb_size_set)(((guint64)1 << to) - ((guint64)1 << (from - 1)));
}

/* "2nd", "2nd to 4th", "last 2". */
static tb_size_set count_sizes(tb_builder *b, const tb_value *names)
{
	int count = (int)tb_pattern_count_sizes(b->pattern);
	const tb_value *last = tb_value_get(names, TB_SLOT_last);
	/* "Larger size only": of more than two it is not clear which */
	if (tb_build_has(names, TB_SLOT_two) && count != 2)
		return 0;
	if (last != NULL)
		return sizes_between(b, count + 1 - tb_build_one_number(last, 1), count);
	int from = tb_build_one_number(tb_value_get(names, TB_SLOT_nth), 0);
	return sizes_between(b, from, tb_build_one_number(tb_value_get(names, TB_SLOT_to), from));
}

/* "M to XL": from the one to the other; none where either is not one size. */
static tb_size_set name_range(const tb_value *from, const tb_value *to)
{
	if (from == NULL || to == NULL || from->type != TB_VALUE_NUMBER || to->type != TB_VALUE_NUMBER)
		return 0;
	tb_size_set low = (tb_size_set)from->figures[0], high = (tb_size_set)to->figures[0];
	bool single = low != 0 && high > low && (low & (low - 1)) == 0 && (high & (high - 1)) == 0;
	return single ? (high | (high - 1)) & ~(low - 1) : 0;
}

/* "M and up", "M and smaller": that size, and all behind it, or before it. */
static tb_size_set with_others(const tb_builder *b, const tb_value *name, bool up)
{
	tb_size_set one = name != NULL && name->type == TB_VALUE_NUMBER ? (tb_size_set)name->figures[0] : 0;
	tb_size_set all = (tb_size_set)((1ull << tb_pattern_count_sizes(b->pattern)) - 1);
	return one == 0 || (one & (one - 1)) != 0 ? 0 : (up ? ~(one - 1) : (one - 1) | one) & all;
}

tb_size_set tb_build_sizes(tb_builder *b, const tb_value *names)
{
	tb_size_set sizes = 0;
	if (names == NULL)
		return G_MAXUINT32;
	if (names->type == TB_VALUE_LIST) {
		const tb_value *const *items = tb_value_items(names, b->scratch);
		for (guint32 i = 0; i < names->count; i++)
			sizes |= tb_build_sizes(b, items[i]);
		return sizes;
	}
	if (tb_build_has(names, TB_SLOT_nth) || tb_build_has(names, TB_SLOT_last))
		return count_sizes(b, names);
	const tb_value *name = tb_value_get(names, TB_SLOT_name), *to = tb_value_get(names, TB_SLOT_to);
	if (tb_build_has(names, TB_SLOT_up) || tb_build_has(names, TB_SLOT_down))
		return with_others(b, tb_value_get(name, TB_SLOT_name), tb_build_has(names, TB_SLOT_up));
	if (to != NULL)
		return name_range(tb_value_get(name, TB_SLOT_name), tb_value_get(to, TB_SLOT_name));
	if (name == NULL || name->type != TB_VALUE_NUMBER || name->figures[0] < 0)
		return 0;
	return (tb_size_set)name->figures[0];
}

const tb_claim *tb_claims_in(const tb_builder *b, const tb_claim *claims, unsigned many, tb_size_set sizes)
{
	unsigned count = tb_pattern_count_sizes(b->pattern);
	tb_claim *some = tb_arena_take(b->arena, (many + 1) * sizeof(tb_claim));
	for (unsigned i = 0; i < many; i++) {
		some[i] = claims[i];
		some[i].sizes = claims[i].sizes != 0 ? claims[i].sizes & sizes : sizes;
		tb_number *said = &some[i].count;
		if (said->values == NULL || said->count == 0 || count == 1)
			continue;
		int *values = tb_arena_take(b->arena, count * sizeof(int));
		for (unsigned size = 0; size < count; size++)
			values[size] = sizes >> size & 1 ? tb_number_in(said, said->count == 1 ? 0 : size) : TB_NOT_IN_SIZE;
		*said = (tb_number){count, values, said->span};
	}
	return some;
}

/* "For all sizes you have 20 (24) sc": counts among what SIZES do are of the row, and stand behind it in ACTS. */
static tb_acts part_claims(tb_builder *b, const tb_acts *body, tb_size_set sizes, GArray *claims)
{
	g_autoptr(GArray) rest = g_array_new(FALSE, FALSE, sizeof(tb_act));
	for (unsigned i = 0; i < body->count; i++) {
		tb_act act = body->acts[i];
		bool counts = act.kind == TB_ACT_CLAIM && act.claim_count > 0;
		if (counts)
			act.claims = tb_claims_in(b, act.claims, act.claim_count, sizes);
		g_array_append_val(counts ? claims : rest, act);
	}
	return tb_acts_keep(b->arena, rest);
}

/* "size L only: 2 sc in next st;" goes on to a semicolon, or to the end. */
void tb_build_only(tb_builder *b, const tb_value *value, GArray *acts)
{
	const tb_lattice *l = b->lattice;
	const tb_value *who = tb_value_get(value, TB_SLOT_who);
	tb_act act = tb_build_act_of(b, value, TB_ACT_ONLY);
	act.sizes = tb_build_has(who, TB_SLOT_all) ? G_MAXUINT32 : tb_build_sizes(b, tb_value_get(who, TB_SLOT_names));
	g_autoptr(GArray) claims = g_array_new(FALSE, FALSE, sizeof(tb_act));
	tb_acts body = tb_build_list(b, tb_value_get(value, TB_SLOT_acts));
	act.body = part_claims(b, &body, act.sizes, claims);
	char next = value->to < l->count ? l->text->chars[l->start[value->to]] : '\0';
	if (act.sizes == 0)
		tb_build_add_cannot(b, value, acts, "the pattern has not so many sizes");
	else if (next == ',' || g_ascii_isalnum(next))
		tb_build_add_cannot(b, value, acts, "what is worked in some sizes alone ends with a semicolon");
	else if (act.body.count > 0)
		g_array_append_val(acts, act);
	g_array_append_vals(acts, claims->data, claims->len);
}

static bool draws_together(const tb_acts *body)
{
	return body->count == 1 && body->acts[0].stitch != NULL && body->acts[0].stitch->takes > 1;
}

/* A stitch of each size's own. Without a decrease among them a bracket like it tells of other things. */
void tb_build_sized(tb_builder *b, const tb_value *value, GArray *acts)
{
	const tb_value *more = tb_value_get(value, TB_SLOT_more);
	bool several = more->type == TB_VALUE_LIST, drawn = false;
	const tb_value *const *items = several ? tb_value_items(more, b->scratch) : &more;
	unsigned sizes = tb_pattern_count_sizes(b->pattern), said = 1 + (several ? more->count : 1);
	guint begin = acts->len;
	for (unsigned i = 0; i < said && said == sizes; i++) {
		tb_act act = tb_build_act_of(b, value, TB_ACT_ONLY);
		act.sizes = (tb_size_set)1 << i;
		act.body = tb_build_list(b, i == 0 ? tb_value_get(value, TB_SLOT_first) : items[i - 1]);
		drawn = drawn || draws_together(&act.body);
		g_array_append_val(acts, act);
	}
	if (said == sizes && drawn)
		return;
	g_array_set_size(acts, begin);
	tb_build_add_cannot(b, value, acts, "these are not one stitch for each size");
}
