/* Motifs joined as they are worked. */
#include "fabric/neighbour.h"

/* Whether the stitches from FIRST to END, of MADE, have LENGTH chains side by side, and no more. */
static bool has_space(const tb_made *made, guint32 first, guint32 end, unsigned length)
{
	unsigned run = 0;
	for (guint32 i = first; i <= end; i++) {
		if (i < end && made[i].flags & TB_MADE_CHAIN) {
			run++;
			continue;
		}
		if (run == length)
			return true;
		run = 0;
	}
	return false;
}

/* Whether one of the pieces before this one ends in a row with such a space. */
static bool has_neighbour(const tb_hands *h, unsigned length)
{
	for (unsigned piece = 0; piece < h->piece; piece++) {
		const tb_fabric *f = tb_worked_fabric(h->working->worked, piece, h->size);
		const tb_made_row *row = f->row_count > 0 ? &f->rows[f->row_count - 1] : NULL;
		if (row != NULL && has_space(f->made, row->first, row->first + row->count, length))
			return true;
	}
	return false;
}

/* "Ch 3": the motif is one of several alike, and makes such spaces itself. */
static bool makes_space(const tb_hands *h, const tb_acts *acts, unsigned length, unsigned depth)
{
	for (unsigned i = 0; i < acts->count && depth < TB_LIMIT_NESTING + 2; i++) {
		const tb_act *act = &acts->acts[i];
		if ((act->kind == TB_ACT_CHAIN && tb_hands_number(h, &act->count, 1) == length) ||
			makes_space(h, &act->body, length, depth + 1))
			return true;
	}
	return false;
}

void tb_neighbour_join(tb_hands *h, const tb_act *act)
{
	unsigned length = act->place.target == TB_TARGET_SPACE ? act->place.space_chains : 0;
	h->cursor.neighbours++;
	if (length > 0 && !has_neighbour(h, length) && !makes_space(h, &h->sentence->acts, length, 0))
		tb_hands_tell(h, TB_ERROR, "space-missing", act->span, "Look at the last round of that motif.",
			"no motif has a ch-%u sp at its edge to be joined to", length);
}

void tb_neighbour_account(tb_hands *h, const tb_claim *claim)
{
	unsigned said = tb_hands_number(h, &claim->count, 0);
	if (h->cursor.neighbours == said)
		return;
	tb_hands_tell(h, h->cursor.neighbours < said ? TB_ERROR : TB_WARNING, "count-claimed", claim->span,
		"Count where it is joined to others.", "the row is joined to other motifs %u time%s, the pattern says %u",
		h->cursor.neighbours, h->cursor.neighbours == 1 ? "" : "s", said);
}
