/* How a piece starts: its chain or ring, and what of row 1 stands beside it. */
#include "notation/script.h"

#include "pattern/text_kinds.h"
#include "stitches/stitch.h"

#include <string.h>

static bool founds(const tb_act *act)
{
	return act->kind == TB_ACT_WORK && act->stitch != NULL && act->stitch->foot == TB_FOOT_CHAIN;
}

/* Where what a start says goes on into row 1: behind the ring, or at the first stitch. */
static unsigned find_row_one(const tb_acts *acts)
{
	unsigned stitch = acts->count;
	for (unsigned i = 0; i < acts->count; i++) {
		tb_acts one = {&acts->acts[i], 1};
		if (tb_reader_makes(&one) && !founds(&acts->acts[i]))
			stitch = MIN(stitch, i);
	}
	for (unsigned i = 0; i < stitch && stitch < acts->count; i++) {
		if (acts->acts[i].kind == TB_ACT_RING || acts->acts[i].kind == TB_ACT_JOIN)
			return i + 1;
	}
	return stitch;
}

/* "Ch 6, sl st in first st.", "… sl st into a ring": nothing else can be meant than a ring. */
static void close_ring(tb_reader *r, tb_sentence *start)
{
	for (unsigned i = 1; i < start->acts.count; i++) {
		tb_act *act = (tb_act *)&start->acts.acts[i];
		bool closes = (act->place.in == TB_IN_FIRST && tb_number_is(&act->place.count, 1)) ||
			(act->place.in == TB_IN_RING && act->each.count <= 1 && tb_number_is(&act->each, 1));
		if (act->kind == TB_ACT_WORK && act->stitch == r->b.slip && closes && start->acts.acts[i - 1].kind == TB_ACT_CHAIN)
			act->kind = TB_ACT_JOIN;
	}
}

/* Row 1 has the ways of the start's text from where its own first act begins; none, where that is amid one. */
static void take_ways(tb_sentence *row, const tb_sentence *start)
{
	const tb_act *first = &row->acts.acts[0];
	unsigned at = 0;
	for (; at < start->way_count; at++) {
		const tb_acts *acts = &start->ways[at].acts;
		if (acts->count > 0 && acts->acts[0].kind == first->kind && acts->acts[0].span.start == first->span.start)
			break;
	}
	/* the ways stand in the order of where they begin */
	while (at > 0 && at < start->way_count && start->ways[at - 1].from == start->ways[at].from)
		at--;
	row->ways = at < start->way_count ? start->ways + at : NULL;
	row->way_count = start->way_count - at;
}

/* "Ch 40, sc in 2nd ch from hook and in each ch across, turn.": the start, and row 1. */
static void part_start(tb_reader *r, tb_sentence *start)
{
	unsigned at = find_row_one(&start->acts);
	if (at == start->acts.count)
		return;
	tb_sentence *row = tb_arena_new(r->b.arena, tb_sentence);
	*row = *start;
	row->kind = TB_SENTENCE_ROWS;
	row->acts = (tb_acts){start->acts.acts + at, start->acts.count - at};
	take_ways(row, start);
	start->ways = NULL;
	start->way_count = 0;
	start->claims = NULL;
	start->claim_count = 0;
	start->acts.count = at;
	if (at == 0 && row->acts.acts[0].kind == TB_ACT_WORK && row->acts.acts[0].place.in == TB_IN_RING) {
		/* "Work 6 sc in a magic ring" */
		tb_act *ring = tb_arena_new(r->b.arena, tb_act);
		*ring = (tb_act){.kind = TB_ACT_RING, .span = row->acts.acts[0].span};
		start->acts = (tb_acts){ring, 1};
	}
	row->is_round = row->is_round || r->in_rounds;
	for (unsigned i = 0; i < at; i++)
		row->is_round = row->is_round || start->acts.acts[i].kind == TB_ACT_RING ||
			start->acts.acts[i].kind == TB_ACT_JOIN;
	for (unsigned i = 0; i < row->acts.count; i++)
		row->is_round = row->is_round || (row->acts.acts[i].kind == TB_ACT_WORK &&
			row->acts.acts[i].place.in == TB_IN_RING);
	g_ptr_array_add(r->sentences, row);
}

bool tb_reader_has_rows(const tb_reader *r)
{
	guint i = 0;
	while (i < r->sentences->len && ((const tb_sentence *)r->sentences->pdata[i])->kind != TB_SENTENCE_ROWS)
		i++;
	return i < r->sentences->len;
}

/*
 * "Magic ring, ch 3 (counts as dc)." above "Rnd 1: 11 dc in ring": the first round rises by that chain.
 * NEXT is its text, or NULL; where it has a chain of its own that is the same one.
 */
static void hand_on_rise(tb_reader *r, tb_sentence *start, const tb_text *next)
{
	if (start->acts.count < 2 || next == NULL)
		return;
	unsigned last = start->acts.count - 1;
	const tb_act *chain = &start->acts.acts[last];
	tb_row_head head;
	if (chain->kind != TB_ACT_CHAIN || chain->counts == TB_COUNTS_UNSAID ||
		(chain[-1].kind != TB_ACT_RING && chain[-1].kind != TB_ACT_JOIN))
		return;
	size_t at = tb_is_row_head(next->chars, &head) ? head.length : 0;
	if (tb_at_word(next->chars + at + strspn(next->chars + at, " "), "ch chain") > 0)
		return;
	g_array_append_val(r->before, *chain);
	start->acts.count = last;
	start->ways = NULL;
	start->way_count = 0;
}

bool tb_reader_is_on_ring(const tb_reader *r)
{
	const tb_sentence *start = r->sentences->len == 1 ? r->sentences->pdata[0] : NULL;
	const tb_acts none = {0}, *acts = start != NULL && start->kind == TB_SENTENCE_START ? &start->acts : &none;
	bool chained = false, joined = false;
	for (unsigned i = 0; i < acts->count; i++) {
		joined = joined || (chained && (acts->acts[i].kind == TB_ACT_RING || acts->acts[i].kind == TB_ACT_JOIN));
		chained = chained || acts->acts[i].kind == TB_ACT_CHAIN;
	}
	return joined;
}

bool tb_reader_read_start(tb_reader *r, const tb_text *text, const tb_text *next)
{
	const tb_value *line;
	if (!tb_reader_read(r, text, TB_RULE_line, &line))
		return false;
	const tb_value *row = tb_value_get(line, TB_SLOT_row);
	tb_sentence *sentence = tb_reader_add_sentence(r, TB_SENTENCE_START);
	/* "Ch 32 (38).": no start states its count */
	if (tb_pattern_count_sizes(r->b.pattern) > 1 && !tb_reader_check_sizes(r, 1))
		return false;
	if (row == NULL || tb_value_get(line, TB_SLOT_label) != NULL)
		return tb_reader_fail(r, "row-empty", 0, r->lattice.count, "As in \"Ch 85 (93, 101).\"",
			"this does not say how the piece starts");
	r->b.first_row = true;
	tb_reader_set_ways(r, sentence, row);
	r->b.first_row = false;
	if (!tb_reader_tell_doubts(r, sentence))
		return false;
	r->always = sentence->always ? sentence->loops : r->always;
	if (sentence->acts.count == 0)
		return tb_reader_fail(r, "row-empty", 0, r->lattice.count, "As in \"Ch 85 (93, 101).\"",
			"this does not say how the piece starts");
	g_ptr_array_add(r->sentences, sentence);
	close_ring(r, sentence);
	part_start(r, sentence);
	hand_on_rise(r, sentence, next);
	return true;
}
