/*
 * Filet crochet: a space is ch 2, sk 2 and the dc that closes it; a block is three dc. The row's edge stands up as
 * chains where nothing but a turn comes before its first square.
 */
#include "notation/build.h"

#include "stitches/stitch.h"

/* "Turn, 2 sp, 1 bl": whether VALUE is the first of the row that is worked, behind what a row is turned by. */
static bool is_first_worked(const tb_builder *b, const tb_value *value)
{
	guint32 at = b->begins;
	const tb_lattice *l = b->lattice;
	while (at < value->from) {
		static const char *const turns[] = {"turn", "turned", "turning", ",", ".", ";", ":", NULL};
		g_autofree char *word = g_strndup(l->text->chars + l->start[at], l->stop[at] - l->start[at]);
		g_autofree char *lower = tb_text_lower(word, -1);
		if (!g_strv_contains(turns, lower))
			return false;
		at++;
	}
	return true;
}

void tb_build_filet(tb_builder *b, const tb_value *value, GArray *acts)
{
	g_autoptr(GArray) body = g_array_new(FALSE, FALSE, sizeof(tb_act));
	const tb_stitch *dc = tb_library_find(b->pattern->library, "dc");
	const tb_value *over = tb_value_get(value, TB_SLOT_over);
	const tb_value *below = tb_value_get(value, TB_SLOT_below);
	if ((over != NULL && tb_build_one_number(over, 0) != tb_build_one_number(tb_value_get(value, TB_SLOT_n), 1)) ||
		tb_build_one_number(tb_value_get(value, TB_SLOT_each), 1) != 1) {
		tb_build_add_cannot(b, value, acts, "a square of filet lies over one square");
		return;
	}
	if (tb_value_is(tb_value_get(value, TB_SLOT_square), TB_KIND_sp) ? b->own_sp : b->own_bl) {
		tb_build_tell_cannot(b, value, acts, "definition-unclear", "the pattern makes such a square otherwise, under another name",
			"Call it here as it is called where it is told.");
		return;
	}
	if (is_first_worked(b, value)) {
		/* the edge of the first square stands up as chains */
		tb_act edge = tb_build_act_of(b, value, TB_ACT_CHAIN);
		edge.count = tb_number_make(b->arena, 3, edge.span);
		edge.counts = TB_COUNTS;
		edge.stitch = dc;
		edge.squares = true;
		g_array_append_val(acts, edge);
	}
	tb_act repeat = tb_build_act_of(b, value, TB_ACT_REPEAT), work = tb_build_act_of(b, value, TB_ACT_WORK);
	tb_act skip = tb_build_act_of(b, value, TB_ACT_SKIP), chain = tb_build_act_of(b, value, TB_ACT_CHAIN);
	work.stitch = dc;
	work.squares = true;
	work.each = (tb_number){1, tb_number_one, work.span};
	work.place = (tb_place){.in = TB_IN_NEXT, .rows_below = 1, .span = work.span};
	work.place.count = work.each;
	work.over = skip.over = below == NULL ? TB_OVER_UNSAID : tb_value_is(below, TB_KIND_sp) ? TB_OVER_SPACE : TB_OVER_BLOCK;
	skip.place = work.place;
	skip.place.count = chain.count = tb_number_make(b->arena, 2, work.span);
	if (tb_value_is(tb_value_get(value, TB_SLOT_square), TB_KIND_sp)) {
		g_array_append_val(body, chain);
		g_array_append_val(body, skip);
		work.over = TB_OVER_UNSAID;
	} else {
		work.place.count = tb_number_make(b->arena, 3, work.span);
	}
	g_array_append_val(body, work);
	repeat.until = TB_UNTIL_TIMES;
	repeat.count = tb_build_number(b, tb_value_get(value, TB_SLOT_n), 1);
	repeat.body = tb_acts_keep(b->arena, body);
	repeat.squares = true;
	repeat.further = tb_build_has(value, TB_SLOT_further);
	g_array_append_val(acts, repeat);
}
