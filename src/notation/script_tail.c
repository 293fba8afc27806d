/* How rows end: "ending last row with ch 1", and what stands on a line of its own behind a row. */
#include "notation/script.h"

#include <string.h>

/* The chains that the row before ends with, or -1 where it ends otherwise. */
static int find_last_chains(const tb_reader *r)
{
	const tb_sentence *last = r->sentences->len > 0 ? r->sentences->pdata[r->sentences->len - 1] : NULL;
	unsigned i = last != NULL ? last->acts.count : 0;
	while (i > 0 && last->acts.acts[i - 1].kind == TB_ACT_TURN)
		i--;
	return i > 0 && last->acts.acts[i - 1].kind == TB_ACT_CHAIN ? last->acts.acts[i - 1].count.values[0] : -1;
}

bool tb_reader_set_tail(tb_reader *r, tb_sentence *sentence, const tb_value *tail)
{
	const tb_value *n = tb_value_get(tail, TB_SLOT_n), *row = tb_value_get(tail, TB_SLOT_row);
	g_autoptr(GArray) acts = g_array_new(FALSE, FALSE, sizeof(tb_act));
	if (tail == NULL)
		return true;
	if (row != NULL && sentence->last > 0 && tb_build_one_number(row, 0) != (int)sentence->last)
		return tb_reader_fail(r, "rows-again-other", row->from, row->to, "Say it of the last of these rows.",
			"this is not the last of the rows that are repeated, which is row %u", sentence->last);
	const tb_value *of = tb_value_get(tail, TB_SLOT_of);
	if (of != NULL && tb_build_one_number(of, 0) != find_last_chains(r))
		return tb_reader_fail(r, "rows-again-other", of->from, of->to, "Say how many chains that row ends with.",
			"the row before does not end with so many chains");
	tb_act chain = {.kind = TB_ACT_CHAIN, .span = tb_build_span(&r->b, tail->from, tail->to)};
	chain.count = tb_build_number(&r->b, n, 1);
	if (n != NULL && chain.count.values[0] > TB_MOST_TURNING) {
		/* the next row is worked on them */
		g_array_append_val(r->before, chain);
		return true;
	}
	if (n != NULL)
		g_array_append_val(acts, chain);
	sentence->turns_otherwise = true;
	sentence->tail = tb_acts_keep(r->b.arena, acts);
	return true;
}

bool tb_reader_is_their_chain(const tb_reader *r, const tb_sentence *again, const tb_act *act)
{
	unsigned wanted = again->repeat_last > 0 ? again->repeat_last : r->last_row;
	for (guint i = r->sentences->len; act->kind == TB_ACT_CHAIN && i-- > 0;) {
		const tb_sentence *row = r->sentences->pdata[i];
		if (wanted < row->first || wanted > row->last)
			continue;
		if (row->kind == TB_SENTENCE_REPEAT) {
			wanted = row->repeat_last;
			continue;
		}
		unsigned at = row->acts.count;
		while (at > 0 && row->acts.acts[at - 1].kind == TB_ACT_TURN)
			at--;
		const tb_act *last = at > 0 ? &row->acts.acts[at - 1] : act;
		return last->kind == TB_ACT_CHAIN && last != act && last->count.count == 1 && act->count.count == 1 &&
			last->count.values[0] == act->count.values[0];
	}
	return false;
}

bool tb_reader_turns_with(tb_reader *r, tb_sentence *sentence, const tb_acts *acts)
{
	if (acts->count < 2 || acts->acts[0].kind != TB_ACT_CHAIN || acts->acts[0].count.count != 1 ||
		acts->acts[0].count.values[0] > TB_MOST_TURNING)
		return false;
	for (unsigned i = 1; i < acts->count; i++) {
		if (acts->acts[i].kind != TB_ACT_TURN)
			return false;
	}
	g_autoptr(GArray) tail = g_array_new(FALSE, FALSE, sizeof(tb_act));
	g_array_append_val(tail, acts->acts[0]);
	sentence->turns_otherwise = true;
	sentence->tail = tb_acts_keep(r->b.arena, tail);
	return true;
}

/* "Fasten off." on a line of its own belongs to the row before. */
void tb_reader_add_to_last(tb_reader *r, const tb_sentence *finish)
{
	if (r->sentences->len == 0)
		return;
	tb_sentence *last = r->sentences->pdata[r->sentences->len - 1];
	g_autoptr(GArray) acts = g_array_new(FALSE, FALSE, sizeof(tb_act));
	if (last->acts.count > 0)
		g_array_append_vals(acts, last->acts.acts, last->acts.count);
	if (finish->acts.count > 0)
		g_array_append_vals(acts, finish->acts.acts, finish->acts.count);
	last->acts = tb_acts_keep(r->b.arena, acts);
	if (last->way_count > 0) {
		/* every way goes on with it, and with what it claims */
		g_autoptr(GArray) more = g_array_new(FALSE, FALSE, sizeof(tb_act));
		tb_act claim = {.kind = TB_ACT_CLAIM, .span = finish->span, .claims = finish->claims, .claim_count = finish->claim_count};
		if (finish->acts.count > 0)
			g_array_append_vals(more, finish->acts.acts, finish->acts.count);
		if (finish->claim_count > 0)
			g_array_append_val(more, claim);
		tb_way *ways = tb_arena_take(r->b.arena, (last->way_count + 1) * sizeof(tb_way));
		memcpy(ways, last->ways, last->way_count * sizeof(tb_way));
		ways[last->way_count] = (tb_way){last->way_end, last->way_end + 1, 0, tb_acts_keep(r->b.arena, more)};
		last->ways = ways;
		last->way_count++;
		last->way_end++;
	}
	if (finish->claim_count > 0) {
		tb_claim *claims = tb_arena_take(r->b.arena, (last->claim_count + finish->claim_count) * sizeof(tb_claim));
		if (last->claim_count > 0)
			memcpy(claims, last->claims, last->claim_count * sizeof(tb_claim));
		memcpy(claims + last->claim_count, finish->claims, finish->claim_count * sizeof(tb_claim));
		last->claims = claims;
		last->claim_count += finish->claim_count;
	}
}

tb_acts tb_reader_acts_behind(tb_reader *r, const tb_value *value)
{
	const tb_value *const said[] = {tb_value_get(value, TB_SLOT_upon), tb_value_get(value, TB_SLOT_acts),
		tb_value_get(value, TB_SLOT_more)};
	g_autoptr(GArray) acts = g_array_new(FALSE, FALSE, sizeof(tb_act));
	for (size_t i = 0; i < G_N_ELEMENTS(said); i++) {
		tb_acts part = said[i] != NULL ? tb_build_list(&r->b, said[i]) : (tb_acts){NULL, 0};
		if (part.count > 0)
			g_array_append_vals(acts, part.acts, part.count);
	}
	return tb_acts_keep(r->b.arena, acts);
}
