/*
 * Rows told by what is shaped in them: "dec 1 st at each end of every 4th row", "working 1 more sc between
 * increases in each round".
 */
#include "notation/script.h"

#include "support/limits.h"

/* "dec 1 st at each end", as a row of its own. */
const tb_sentence *tb_reader_shaped_row(tb_reader *r, const tb_value *shape, const tb_value *stitch,
	const tb_sentence *of)
{
	tb_sentence *row = tb_arena_new(r->b.arena, tb_sentence);
	*row = *of;
	row->kind = TB_SENTENCE_ROWS;
	r->b.shapes_rows = true;
	row->acts = tb_build_list(&r->b, shape);
	r->b.shapes_rows = false;
	const tb_stitch *named = stitch != NULL ? tb_build_stitch(&r->b, stitch, NULL) : NULL;
	if (named != NULL && row->acts.count == 1) {
		tb_act *act = (tb_act *)row->acts.acts;
		act->stitch = named;
		act->pattern = TB_PATTERN_NOT;
	}
	return row;
}

/* "working 1 more sc between increases in each round" */
void tb_reader_set_growing(tb_reader *r, tb_sentence *sentence, const tb_value *value)
{
	const tb_value *grow = tb_value_get(value, TB_SLOT_grow);
	/* "increasing 1 st at the same edge on every row": the rows that come again do so */
	const tb_value *edge = tb_value_get(value, TB_SLOT_edge);
	if (edge != NULL) {
		bool less = tb_value_is_symbol(tb_value_get(tb_value_get(edge, TB_SLOT_way), TB_SLOT_v), TB_SYMBOL_dec);
		int step = tb_build_one_number(tb_value_get(edge, TB_SLOT_by), 0);
		sentence->grow_by = less ? -step : step;
		sentence->grow_way = less ? -1 : 1;
	}
	if (grow == NULL)
		return;
	int many = tb_build_one_number(tb_value_get(grow, TB_SLOT_n), 1);
	const tb_value *v = tb_value_get(grow, TB_SLOT_v);
	sentence->grows = true;
	sentence->grow = v == NULL ? 0 : tb_value_is_symbol(v, TB_SYMBOL_less) ? -many : many;
	/* "widening by 3 sc in the center stitch": they stand on one */
	int inplace = tb_build_one_number(tb_value_get(grow, TB_SLOT_inplace), 1);
	int by = tb_build_one_number(tb_value_get(grow, TB_SLOT_by), MAX(inplace - 1, 0));
	if (tb_build_has(grow, TB_SLOT_center))
		by--;
	if (inplace > 2 && inplace % 2 == 1)
		sentence->grow = (inplace - 1) / 2;
	const tb_value *way = tb_value_get(tb_value_get(grow, TB_SLOT_way), TB_SLOT_v);
	sentence->grow_by = tb_value_is_symbol(way, TB_SYMBOL_dec) ? -by : by;
	/* "decreasing 2 sts at the centre of every row": one on each side of it */
	if (tb_build_has(grow, TB_SLOT_amid) && by % 2 == 0)
		sentence->grow = tb_value_is_symbol(way, TB_SYMBOL_dec) ? -by / 2 : by / 2;
	if (way == NULL)
		way = tb_value_get(tb_value_get(value, TB_SLOT_way), TB_SLOT_v);
	sentence->grow_way = way == NULL ? 0 : tb_value_is_symbol(way, TB_SYMBOL_dec) ? -1 : 1;
	sentence->grow_now = tb_build_has(grow, TB_SLOT_now);
	/* "increasing 6 sts in every 5th round" */
	const tb_value *every = tb_value_get(tb_value_get(grow, TB_SLOT_every), TB_SLOT_n);
	if (every != NULL) {
		sentence->every = tb_build_number(&r->b, every, 1);
		sentence->even = tb_reader_even_row(r, sentence);
		sentence->shapes_next = tb_build_has(tb_value_get(grow, TB_SLOT_every), TB_SLOT_now);
	}
	const tb_value *adds = tb_value_get(value, TB_SLOT_adds);
	if (adds != NULL)
		sentence->grow_adds = tb_build_number(&r->b, adds, 1);
	/* "…, with 2 more sts between increases" */
	const tb_value *apart = tb_value_get(value, TB_SLOT_apart);
	if (apart != NULL) {
		int between = tb_build_one_number(tb_value_get(apart, TB_SLOT_n), 1);
		sentence->grow = tb_value_is_symbol(tb_value_get(apart, TB_SLOT_v), TB_SYMBOL_less) ? -between : between;
	}
}

/* "next and 2 (3, 3) foll alt rows": once more than is said, in each size that there is. */
static void add_one(tb_reader *r, tb_number *times)
{
	int *values = tb_arena_take(r->b.arena, MAX(times->count, 1) * sizeof(int));
	for (unsigned i = 0; i < times->count; i++)
		values[i] = MIN(tb_number_in(times, i), (int)TB_LIMIT_PIECE_ROWS) + (tb_number_in(times, i) >= 0);
	times->values = values;
}

/* "next and every 4th row 3 times", OFTEN: in all, or behind the next, as THEN says; or its count tells. */
static void settle_next(tb_reader *r, tb_sentence *sentence, bool then, const tb_value *often)
{
	if (!sentence->shapes_next || sentence->until != TB_REPEAT_TIMES || tb_build_has(often, TB_SLOT_total))
		return;
	if (then || tb_build_has(often, TB_SLOT_more))
		add_one(r, &sentence->times);
	else
		sentence->once_more = true;
}

/*
 * "at each end of next and every 4th row": the next row is the first of them. "next and every 4th row 3 times"
 * may be 3 in all or 3 after the next.
 */
bool tb_reader_set_next_and_every(
	tb_reader *r, tb_sentence *sentence, const tb_value *every, const tb_value *until)
{
	if (every == NULL || sentence->shaped == NULL)
		return every == NULL;
	sentence->every = tb_build_number(&r->b, tb_value_get(every, TB_SLOT_n), 1);
	sentence->shapes_next = true;
	if (until == NULL) {
		const tb_value *more = tb_value_get(every, TB_SLOT_more);
		sentence->until = TB_REPEAT_TIMES;
		sentence->times = more != NULL ? tb_build_number(&r->b, more, 1) : tb_number_make(r->b.arena, 1, sentence->span);
		add_one(r, &sentence->times);
		return true;
	}
	if (sentence->until != TB_REPEAT_TIMES)
		return true;
	settle_next(r, sentence, tb_build_has(every, TB_SLOT_v), until);
	return true;
}

/* The ordinary stitch in each stitch. */
const tb_sentence *tb_reader_even_row(tb_reader *r, const tb_sentence *of)
{
	const tb_stitch *plain = r->b.plain != NULL ? r->b.plain :
		tb_library_find(r->b.pattern->library, "sc");
	const tb_stitch *stitch = of->even_in != NULL ? of->even_in : plain;
	g_autoptr(GArray) acts = g_array_new(FALSE, FALSE, sizeof(tb_act));
	tb_act act = {.kind = TB_ACT_WORK, .span = of->span, .stitch = stitch};
	act.pattern = of->even_in != NULL ? TB_PATTERN_NOT : TB_PATTERN_EVEN;
	act.each = (tb_number){1, tb_number_one, of->span};
	act.place = (tb_place){.in = TB_IN_EACH, .rows_below = 1, .span = of->span, .loops = of->even_loops};
	act.place.count = tb_number_make(r->b.arena, 0, of->span);
	g_array_append_val(acts, act);
	tb_sentence *row = tb_arena_new(r->b.arena, tb_sentence);
	*row = *of;
	row->kind = TB_SENTENCE_ROWS;
	row->is_round = of->is_round || r->in_rounds;
	tb_sentence_set_acts(row, r->b.arena, acts);
	return row;
}

/* Which rows WHEN, "every 4th row 3 times", "next 4 rows", says that SENTENCE shapes, where it says no count to come to. */
void tb_reader_set_when(tb_reader *r, tb_sentence *sentence, const tb_value *when)
{
	const tb_value *every = tb_value_get(when, TB_SLOT_every), *side = tb_value_get(when, TB_SLOT_side);
	every = tb_value_is(every, TB_KIND_every) ? tb_value_get(every, TB_SLOT_n) : every;
	sentence->every = tb_build_number(&r->b, every, 1);
	sentence->every_side = side == NULL ? TB_SIDE_UNSAID :
		tb_value_is_symbol(tb_value_get(side, TB_SLOT_v), TB_SYMBOL_ws) ? TB_SIDE_WRONG : TB_SIDE_RIGHT;
	sentence->shapes_next = tb_build_has(when, TB_SLOT_next);
	sentence->until = TB_REPEAT_TIMES;
	sentence->times = tb_build_number(&r->b, tb_value_get(when, TB_SLOT_n), 1);
	if (sentence->even == NULL)
		sentence->even = tb_reader_even_row(r, sentence);
	if (sentence->shapes_next)
		add_one(r, &sentence->times);
}

void tb_reader_settle_when(tb_reader *r, tb_sentence *sentence, const tb_value *when)
{
	settle_next(r, sentence, tb_build_has(when, TB_SLOT_then), tb_value_get(when, TB_SLOT_often));
}
