/* How rows end: "ending last row with ch 1", and what stands on a line of its own behind a row. */
#include "notation/script.h"

#include "support/limits.h"

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

/* Each way to read ROW goes on with ACTS, and with the COUNT CLAIMS. */
static void go_on_with(tb_reader *r, tb_sentence *row, const tb_acts *acts, const tb_claim *claims, unsigned count, tb_span span)
{
	g_autoptr(GArray) more = g_array_new(FALSE, FALSE, sizeof(tb_act));
	tb_act claim = {.kind = TB_ACT_CLAIM, .span = span, .claims = claims, .claim_count = count};
	if (row->way_count == 0)
		return;
	if (acts != NULL && acts->count > 0)
		g_array_append_vals(more, acts->acts, acts->count);
	if (count > 0)
		g_array_append_val(more, claim);
	tb_way *ways = tb_arena_take(r->b.arena, (row->way_count + 1) * sizeof(tb_way));
	memcpy(ways, row->ways, row->way_count * sizeof(tb_way));
	ways[row->way_count] = (tb_way){row->way_end, row->way_end + 1, 0, tb_acts_keep(r->b.arena, more)};
	row->ways = ways;
	row->way_count++;
	row->way_end++;
}

static void add_claims(tb_reader *r, tb_sentence *row, const tb_claim *more, unsigned count)
{
	tb_claim *claims = tb_arena_take(r->b.arena, (row->claim_count + count + 1) * sizeof(tb_claim));
	if (row->claim_count > 0)
		memcpy(claims, row->claims, row->claim_count * sizeof(tb_claim));
	memcpy(claims + row->claim_count, more, count * sizeof(tb_claim));
	row->claims = claims;
	row->claim_count += count;
}

/* What FINISH counts besides LAST: of the sizes that do not work that row it is said of the last one they work. */
static void add_claims_before(tb_reader *r, const tb_sentence *finish, tb_size_set left)
{
	for (guint i = r->sentences->len - 1; left != 0 && i-- > 0;) {
		tb_sentence *row = r->sentences->pdata[i];
		tb_size_set here = left & tb_reader_sizes_of(r, row);
		left &= ~here;
		if (here == 0)
			continue;
		const tb_claim *claims = tb_claims_in(&r->b, finish->claims, finish->claim_count, here);
		go_on_with(r, row, NULL, claims, finish->claim_count, finish->span);
		add_claims(r, row, claims, finish->claim_count);
	}
}

/* "Fasten off." on a line of its own belongs to the row before; "All sizes: 20 sc." to the last row of each size. */
void tb_reader_add_to_last(tb_reader *r, const tb_sentence *finish)
{
	if (r->sentences->len == 0)
		return;
	tb_sentence *last = r->sentences->pdata[r->sentences->len - 1];
	if (last->claim_count + finish->claim_count > TB_LIMIT_CLAIMS) {
		tb_where where = {.has_place = true, .piece = r->piece, .place = finish->span};
		tb_diagnose_format(r->diagnostics, TB_ERROR, "limit-claims", &where, "Say once what the row counts.",
			"a row may be said to count %u things", TB_LIMIT_CLAIMS);
		return;
	}
	g_autoptr(GArray) acts = g_array_new(FALSE, FALSE, sizeof(tb_act));
	if (last->acts.count > 0)
		g_array_append_vals(acts, last->acts.acts, last->acts.count);
	if (finish->acts.count > 0)
		g_array_append_vals(acts, finish->acts.acts, finish->acts.count);
	last->acts = tb_acts_keep(r->b.arena, acts);
	g_array_set_size(acts, 0);
	g_array_append_vals(acts, last->surface.acts, last->surface.count);
	g_array_append_vals(acts, finish->surface.acts, finish->surface.count);
	last->surface = tb_acts_keep(r->b.arena, acts);
	/* what stands in the text of that row is of that row alone */
	tb_size_set worked = tb_reader_sizes_of(r, last), all = finish->sizes != 0 ? tb_reader_sizes_of(r, NULL) & finish->sizes : worked;
	tb_size_set here = all & worked;
	const tb_claim *claims = finish->claims;
	if (finish->claim_count > 0 && here != all && here != 0)
		claims = tb_claims_in(&r->b, claims, finish->claim_count, here);
	unsigned count = here != 0 ? finish->claim_count : 0;
	go_on_with(r, last, &finish->acts, claims, count, finish->span);
	if (count > 0)
		add_claims(r, last, claims, count);
	if (finish->claim_count > 0)
		add_claims_before(r, finish, all & ~here);
}

/*
 * "All sizes: 144 tr.", "20 (24, 28) sc." on a line of its own among numbered rows: what could be stitches is what the
 * row before counts.
 */
void tb_reader_count_last(tb_reader *r, tb_sentence *sentence)
{
	const tb_act *act = sentence->acts.acts;
	tb_acts rest = {act + 1, sentence->acts.count - 1};
	bool graded = act->kind == TB_ACT_WORK && act->place.count.count > 1;
	const tb_sentence *last = r->sentences->len > 0 ? r->sentences->pdata[r->sentences->len - 1] : NULL;
	bool numbered = r->last_row > 0 || (last != NULL && last->kind == TB_SENTENCE_REPEAT);
	if (!numbered || act->kind != TB_ACT_WORK || !act->bare || act->stitch == NULL || sentence->claim_count > 0 ||
		act->stitch->form == TB_FORM_SLIP || (!graded && act->place.count.values[0] < 2) ||
		(rest.count > 0 && !tb_reader_only_ends(&rest)))
		return;
	tb_claim *claim = tb_arena_new(r->b.arena, tb_claim);
	*claim = (tb_claim){.count = act->place.count, .stitch = act->stitch, .span = act->span};
	sentence->claims = claim;
	sentence->claim_count = 1;
	sentence->acts = rest;
	sentence->way_count = 0;
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
