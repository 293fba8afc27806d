/* Tells of surface slip stitches what has no place on the piece. */
#include "rows/surface_check.h"

#include "fabric/surface.h"

static void tell_miss(tb_hands *h, const tb_act *act, const tb_surface_miss *miss)
{
	if (miss->apart && miss->stitches == 0)
		tb_hands_tell(h, TB_ERROR, "place-missing", act->span, "Name two stitches side by side.",
			"these stitches are not side by side");
	else if (miss->apart && miss->stitches != G_MAXUINT32)
		tb_hands_tell(h, TB_ERROR, "place-missing", act->span, "Say along which of the two rows they lie.",
			"the rows above and below this line have not as many stitches; row %u has %u", miss->row, miss->stitches);
	else if (miss->apart)
		tb_hands_tell(h, TB_ERROR, "place-missing", act->span, "Name two rows that follow each other.",
			"no line lies between these rows alone");
	else if (miss->stitches == G_MAXUINT32)
		tb_hands_tell(h, TB_ERROR, "row-missing", act->span, "Name a row that the piece has.",
			"the piece has no one row %u to work upon", miss->row);
	else
		tb_hands_tell(h, TB_ERROR, "past-end", act->span, "Name stitches that each of the rows has.",
			"row %u has %u sts", miss->row, miss->stitches);
}

static void check_one(tb_hands *h, const tb_fabric *f, const tb_act *act)
{
	const tb_surface *s = act->surface;
	tb_surface_miss miss = {0, 0, false};
	guint32 found = tb_surface_find(f, act, h->size, NULL, &miss);
	if (found == 0) {
		tell_miss(h, act, &miss);
		return;
	}
	guint32 stated = tb_hands_number(h, &s->made, 0);
	for (unsigned i = 0; s->made.count > 0 && s->made_each && i < s->count; i++) {
		guint32 here = tb_surface_find_line(f, &s->lines[i], h->size, NULL, &miss) * MAX(tb_hands_number(h, &s->each, 0), 1);
		if (here != stated) {
			tb_hands_tell(h, TB_ERROR, "count-claimed", act->span, "Count the line’s stitches, or its rows.",
				"a line has %u sl sts, and %u are stated", here, stated);
			return;
		}
	}
	if (s->made.count > 0 && !s->made_each && stated != found)
		tb_hands_tell(h, TB_ERROR, "count-claimed", act->span, "Count the line’s stitches, or its rows.",
			"there are %u sl sts, and %u are stated", found, stated);
}

void tb_surface_check(tb_hands *h, const tb_script *script)
{
	const tb_fabric f = {.made = (const tb_made *)(const void *)h->cloth.made->data, .made_count = h->cloth.made->len,
		.rows = (const tb_made_row *)(const void *)h->cloth.rows->data, .row_count = h->cloth.rows->len};
	h->row = h->cloth.rows->len; /* it is told of no row */
	for (unsigned i = 0; i < script->count; i++) {
		const tb_sentence *sentence = script->sentences[i];
		for (unsigned k = 0; (sentence->sizes >> h->size & 1) && k < sentence->surface.count; k++)
			check_one(h, &f, &sentence->surface.acts[k]);
	}
}
