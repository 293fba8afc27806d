/* What is worked in some sizes alone: "size L only: 2 sc in next st", "hdc2tog (hdc3tog, hdc3tog)". */
#include "notation/build.h"

/* "size L only: 2 sc in next st;" goes on to a semicolon, or to the end. */
void tb_build_only(tb_builder *b, const tb_value *value, GArray *acts)
{
	const tb_lattice *l = b->lattice;
	const tb_value *who = tb_value_get(value, TB_SLOT_who);
	tb_act act = tb_build_act_of(b, value, TB_ACT_ONLY);
	act.sizes = tb_build_has(who, TB_SLOT_all) ? G_MAXUINT32 : tb_build_sizes(b, tb_value_get(who, TB_SLOT_names));
	act.body = tb_build_list(b, tb_value_get(value, TB_SLOT_acts));
	char next = value->to < l->count ? l->text->chars[l->start[value->to]] : '\0';
	if (next == ',' || g_ascii_isalnum(next))
		tb_build_add_cannot(b, value, acts, "what is worked in some sizes alone ends with a semicolon");
	else
		g_array_append_val(acts, act);
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
