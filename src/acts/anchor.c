/* Rows joined at their end to work that lies beside them. */
#include "acts/anchor.h"

#include "places/place.h"

/* The stitches of the edge, as far as rows show them; 0: they do not. */
static guint32 edge_stitches(const tb_hands *h)
{
	const tb_other_work *of = h->before.anchor_of;
	if (of == NULL || of->piece == TB_NO_PIECE || of->piece >= h->piece)
		return h->before.anchor_there;
	const tb_fabric *f = tb_worked_fabric(h->working->worked, of->piece, h->size);
	return f->row_count > 0 ? f->rows[f->row_count - 1].stitches : 0;
}

static bool is_chain_at(const tb_hands *h, guint32 place)
{
	return (tb_hands_made(h, tb_hands_place(h, place))->flags & TB_MADE_CHAIN) != 0;
}

/* Whether a row along a chain that was added has come to its end, where the row that is its edge goes on. */
static bool comes_to_edge(const tb_hands *h)
{
	guint32 due = h->cursor.due;
	if (due >= tb_place_count(h) || is_chain_at(h, due) || h->cursor.own_chains > 0)
		return false;
	/* a chain that the row itself begins with is none of the places */
	return due > h->cursor.first ? is_chain_at(h, due - 1) : h->cloth.made->len > h->now.begun;
}

void tb_anchor_work(tb_hands *h, const tb_act *act)
{
	tb_rows_before *b = &h->before;
	bool begins = h->cloth.made->len == h->now.begun, ends = h->cursor.due == tb_place_count(h), fresh = !ends && comes_to_edge(h);
	if (h->now.group != NULL || h->now.repeating > 0 || h->sentence->is_round || (!begins && !ends && !fresh)) {
		tb_hands_give_up(h, "not-worked", act->span, "Join the row at its beginning or its end.",
			"a row is joined to an edge here before it has come to its end");
		return;
	}
	if (fresh || b->anchor_of == NULL || g_strcmp0(b->anchor_of->said, act->place.ground->said) != 0) {
		b->anchors = b->anchor_there = 0;
		b->anchor_of = act->place.ground;
	}
	if (fresh) {
		b->anchor_there = tb_place_count(h) - h->cursor.due;
		h->cursor.left = true;
		h->cursor.left_at = tb_place_count(h);
	}
	b->anchored = tb_hands_number(h, &act->count, 1);
	b->anchors += b->anchored;
	b->anchored_row = h->row;
	guint32 there = edge_stitches(h);
	if (there > 0 && b->anchors > there)
		tb_hands_tell(h, TB_ERROR, "past-end", act->span, "Count the rows, or the stitches of the edge.",
			"%u sts of %s are joined to by now, and it has %u", b->anchors, b->anchor_of->said, there);
}

bool tb_anchor_refuses(tb_hands *h, const tb_act *act)
{
	if (act->kind != TB_ACT_WORK || act->stitch != h->working->slip || act->place.ground == NULL || h->sentence->is_round ||
		h->now.group != NULL || h->now.repeating > 0 || h->cloth.made->len == h->now.begun)
		return false;
	tb_hands_give_up(h, "not-worked", act->span, "Join the row at its beginning or its end.",
		"a row is joined to other work here before it has come to its end");
	return true;
}

bool tb_anchor_skips(tb_hands *h, const tb_act *skip)
{
	bool below = h->row > 0 && (h->before.anchored_row + 1 == h->row || h->before.anchored_row == h->row);
	if (h->before.anchored == 0 || !below || h->cloth.made->len > h->now.begun ||
		!skip->place.at_slip)
		return false;
	guint32 asked = tb_hands_number(h, &skip->place.count, 1);
	if (!skip->unsaid && asked != h->before.anchored)
		tb_hands_tell(h, TB_ERROR, "past-end", skip->span, "Skip as many as there are.",
			"%u sl st%s joined the row to the edge, and %u are skipped", h->before.anchored,
			h->before.anchored == 1 ? "" : "s", asked);
	return true;
}

/* How many rows SENTENCE states in all; 0: none. */
static guint32 stated_rows(const tb_hands *h, const tb_sentence *sentence)
{
	for (unsigned i = 0; i < sentence->claim_count; i++) {
		if (sentence->claims[i].rows)
			return tb_hands_number(h, &sentence->claims[i].count, 0);
	}
	return 0;
}

guint32 tb_anchor_rows_left(tb_hands *h, const tb_sentence *sentence, guint32 count)
{
	guint32 there = edge_stitches(h), made = h->before.anchors, stated = stated_rows(h, sentence), last = tb_rows_last(h);
	if (h->before.anchored == 0 || made == 0 || (there == 0 && stated <= last))
		return 0;
	if (there == 0) {
		tb_hands_tell(h, TB_WARNING, "edge-unsaid", sentence->span, "Say how many stitches it has.",
			"how many stitches the edge has no row shows; %u rows are worked, as is stated", stated);
		return stated - last;
	}
	if (made >= there)
		return 0;
	if ((there - made) % h->before.anchored > 0 && !h->teller.row_fault)
		tb_hands_tell(h, TB_ERROR, "repeat-leftover", sentence->span, "Look at how many each row is joined to.",
			"%u sts of %s are left, which is no multiple of %u", there - made, h->before.anchor_of->said, h->before.anchored);
	return h->teller.row_fault ? 0 : count;
}
