/* One row after another: the sentences of a piece, and where one of them was not understood. */
#include "acts/start.h"
#include "hands/colour.h"
#include "hands/row.h"
#include "hands/taken.h"
#include "places/edge.h"
#include "places/within.h"
#include "rows/choose.h"
#include "rows/rest.h"
#include "rows/rows.h"
#include "rows/rows_end.h"

/* "Fasten off." standing alone is no row. */
static bool makes_nothing(const tb_sentence *sentence)
{
	if (sentence->taken)
		return false;
	for (unsigned i = 0; i < sentence->acts.count; i++) {
		tb_act_kind kind = sentence->acts.acts[i].kind;
		if (kind != TB_ACT_FASTEN_OFF && kind != TB_ACT_TURN && kind != TB_ACT_DO_NOT_JOIN)
			return false;
	}
	return true;
}

static void work_rows(tb_hands *h, const tb_sentence *sentence)
{
	if (makes_nothing(sentence))
		return;
	guint32 many = tb_row_said(h, sentence);
	if (sentence->left_out && sentence->first == 0)
		h->labels.unsure = h->labels.uncounted = true;
	if (sentence->many.count > 0)
		many = tb_hands_number(h, &sentence->many, 1);
	guint32 number = tb_rows_check_number(h, sentence);
	/* its count is that of the last of them, and of the others where it is as before */
	guint32 begin = sentence->taken && many > 1 && !tb_taken_keeps(h, sentence) ? many - 1 : 0;
	h->labels.uncounted = h->labels.uncounted || begin > 0;
	for (guint32 i = begin; i < many && !h->abandoned && !h->working->stopped; i++) {
		bool first_time = i == 0 || sentence->is_round;
		if (sentence->taken)
			tb_rows_work_one(h, sentence, number + i, number + i, first_time, false);
		else
			tb_choose_row(h, sentence, number + i, number + i, first_time, i + 1 == many);
	}
	h->labels.side_open = h->labels.side_open && sentence->side == TB_SIDE_UNSAID;
	/* the text cannot number the rows after that for all sizes */
	h->labels.is_open = h->labels.is_open || sentence->last_in.count > 1 || sentence->first_in.count > 1;
}

/*
 * Rows are worked on the row before; behind one that was not understood, and does not state its count,
 * they would be judged by the wrong one. Only that is said.
 */
static void stop_at(tb_hands *h, const tb_script *script, unsigned i)
{
	h->row = h->cloth.rows->len;
	h->teller.fault_row = h->teller.has_fault ? h->teller.fault_row : h->row;
	tb_taken_lose(h);
	const tb_sentence *left_out = script->sentences[i];
	unsigned next = i + 1;
	while (next < script->count && script->sentences[next]->left_out)
		next++;
	if (next == script->count)
		return;
	h->sentence = script->sentences[next];
	g_autofree char *which = left_out->kind == TB_SENTENCE_START ? g_strdup("the start")
							 : left_out->first > 0 ? g_strdup_printf("row %u", left_out->first)
												   : g_strdup("a row before");
	tb_hands_tell(h, TB_NOTE, "not-checked", h->sentence->span, NULL,
		"from here on nothing is checked: %s was not understood", which);
}

/*
 * "Sides": a part of its own, whose rows are numbered on or from 1 again; "Left strap" may number its rows
 * from where the work was divided, as "Right strap" did.
 */
static void begin_part(tb_hands *h, const tb_sentence *sentence)
{
	if (sentence->part == NULL)
		return;
	guint32 first = tb_hands_number(h, &sentence->first_in, sentence->first), last = tb_rows_last(h);
	bool divided = sentence->kind == TB_SENTENCE_ROWS && first > 1 && first <= last && tb_rest_is_there(h) &&
		tb_rest_is_joined(sentence);
	h->labels.part = sentence->part;
	h->labels.was_open = sentence->anew && h->labels.is_open;
	/* from its row 1 on its numbers are known again */
	h->labels.is_open = h->labels.is_open && !(sentence->anew && first == 1);
	if (sentence->anew || divided) {
		h->labels.from = sentence->anew ? 1 : first;
		h->labels.before = last + 1 - h->labels.from;
	} else if (first == last + 1) {
		h->labels.before = 0; /* they go on with the piece's own numbers, and not the last part's */
	}
}

/* Works sentence I of the script. */
static void work_sentence(tb_hands *h, const tb_script *script, unsigned i, const tb_sentence *sentence)
{
	tb_within_begin(h, sentence);
	switch (sentence->kind) {
	case TB_SENTENCE_START:
		tb_start_work(h, sentence);
		break;
	case TB_SENTENCE_ROWS:
		if (i + 1 < script->count || !tb_edge_is_left_out(h, sentence))
			work_rows(h, sentence);
		break;
	case TB_SENTENCE_REPEAT:
		if (tb_rows_grow_on(h, sentence, script->sentences + i + 1, script->count - i - 1))
			break;
		if (sentence->colour_count > 0)
			tb_colour_forget(h, true);
		tb_rows_again(h, sentence);
		if (sentence->colour_count > 0)
			tb_colour_forget(h, false);
		if (sentence->turns_otherwise)
			h->now.pending = sentence->tail;
		break;
	}
}

/* The sentence where nothing is checked, or could not be: it goes by its own count, if it states that. */
static void go_on_at(tb_hands *h, const tb_script *script, unsigned i)
{
	const tb_sentence *taken = tb_taken_go_on(h, script->sentences[i]);
	if (taken != NULL)
		work_sentence(h, script, i, taken);
}

void tb_rows_work(tb_hands *h, const tb_script *script)
{
	for (unsigned i = 0; i < script->count && (!h->abandoned || h->lost) && !h->working->stopped; i++) {
		const tb_sentence *sentence = script->sentences[i];
		if (sentence->opens_block) {
			h->labels.block = h->cloth.rows->len;
			h->labels.block_end = 0;
		}
		if (!(sentence->sizes >> h->size & 1)) {
			h->labels.has_gaps = true;
			/* "Rnd 1 (largest size only): …": the others too number that part from 1, and come in later */
			if (sentence->part != NULL && sentence->anew && h->cloth.rows->len > 0)
				begin_part(h, sentence);
			continue;
		}
		guint32 before = h->cloth.rows->len;
		bool lost = h->lost;
		h->teller.broken = false;
		h->text = sentence;
		h->now.unjudged = false;
		begin_part(h, sentence);
		if (!lost && sentence->left_out && !(sentence->taken && tb_taken_can(h, sentence)))
			stop_at(h, script, i);
		else if (!lost)
			work_sentence(h, script, i, sentence);
		bool nothing = h->cloth.rows->len == before && !h->abandoned && sentence->kind != TB_SENTENCE_START;
		if (nothing && h->now.unjudged)
			tb_taken_stop(h);
		else if (nothing && h->teller.broken && h->start.only_to == 0 && before > 0 && tb_taken_can(h, sentence))
			tb_taken_lose(h);
		if (h->lost)
			go_on_at(h, script, i);
		else if (i + 1 < script->count)
			tb_taken_instead(h, sentence, before);
		if (sentence->closes_block)
			h->labels.block_end = h->cloth.rows->len;
	}
}
