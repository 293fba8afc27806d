#include "hands/colour.h"

static const char *current(const tb_hands *h)
{
	const GArray *runs = h->cloth.colours;
	return runs->len > 0 ? g_array_index(runs, tb_colour_run, runs->len - 1).name : NULL;
}

/* What is made from here on is made in NAME; NULL: nobody knows in which. */
static void take(tb_hands *h, const char *name)
{
	if (tb_colour_is_same(current(h), name))
		return;
	tb_colour_run run = {h->cloth.made->len, name};
	g_array_append_val(h->cloth.colours, run);
}

/* The last mark of the sentence that stands before FROM, and that says no row but ROW. */
static const tb_colour_mark *mark_before(const tb_sentence *sentence, guint32 from, guint32 row)
{
	const tb_colour_mark *found = NULL;
	for (unsigned i = 0; i < sentence->colour_count && sentence->colours[i].from <= from; i++) {
		const tb_colour_mark *mark = &sentence->colours[i];
		found = mark->row == 0 || mark->row == row ? mark : found;
	}
	return found;
}

/* The colour that the stripes of the pattern give this row; NULL where they give none, or where the piece goes on from another. */
static const char *find_striped(const tb_hands *h)
{
	return h->colours.off || h->start.grown || h->start.opening ? NULL : tb_stripes_colour(&h->working->plan, h->row);
}

/* "Row 3 (B):", where the stripes have A there. */
static void tell_other(tb_hands *h, const tb_sentence *sentence, const char *said)
{
	const char *striped = find_striped(h);
	if (said == NULL || striped == NULL || tb_colour_is_same(said, striped) || h->colours.told == h->row)
		return;
	h->colours.told = h->row;
	tb_hands_tell(h, TB_WARNING, "colour-unsure", sentence->span, "Change the stripes that are told, or the colour of the row.",
		"the row is worked in %s, and the stripes of the pattern have %s there", said, striped);
}

void tb_colour_begin(tb_hands *h, const tb_sentence *sentence)
{
	if (h->colours.off || (h->working->stripes && !h->colours.fresh))
		take(h, find_striped(h));
	else if (h->colours.fresh)
		tell_other(h, sentence, current(h));
	h->colours.fresh = false;
	h->colours.entered = current(h);
	/* words of colour that are not understood, and those that begin the row */
	const tb_colour_mark *first = !h->colours.off ? mark_before(sentence, sentence->span.start, 0) : NULL;
	if (first == NULL)
		return;
	tell_other(h, sentence, first->name);
	take(h, first->name);
}

void tb_colour_at(tb_hands *h, const tb_act *act)
{
	const tb_sentence *sentence = h->sentence;
	if (sentence->colour_count == 0 || h->colours.off || act->span.start < sentence->span.start ||
		act->span.start >= sentence->span.end)
		return;
	const tb_colour_mark *mark = mark_before(sentence, act->span.start, 0);
	if (mark != NULL && h->row > 0 && h->cloth.made->len == tb_hands_row(h, h->row)->first)
		tell_other(h, sentence, mark->name);
	take(h, mark != NULL ? mark->name : h->colours.entered);
}

void tb_colour_end(tb_hands *h, const tb_sentence *sentence, guint32 number)
{
	const tb_colour_mark *mark = !h->colours.off && sentence->colour_count > 0 ? mark_before(sentence, TB_NONE, number) : NULL;
	if (mark == NULL)
		return;
	h->colours.fresh = mark->name != NULL && !tb_colour_is_same(current(h), mark->name);
	take(h, mark->name);
}

void tb_colour_forget(tb_hands *h, bool again)
{
	h->colours.off = again;
	take(h, NULL);
}

gint64 tb_colour_count(const tb_hands *h, const char *name, const tb_stitch *stitch)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	const GArray *runs = h->cloth.colours;
	gint64 count = 0;
	guint at = 0;
	for (guint32 i = row->first; i < row->first + row->count; i++) {
		while (at < runs->len && g_array_index(runs, tb_colour_run, at).first <= i)
			at++;
		const char *made_in = at > 0 ? g_array_index(runs, tb_colour_run, at - 1).name : NULL;
		const tb_made *made = tb_hands_made(h, i);
		if (!(made->flags & TB_MADE_COUNTED))
			continue;
		if (made_in == NULL)
			return -1;
		count += tb_colour_is_same(made_in, name) &&
			(stitch == NULL || made->stitch == stitch->number || made->flags & TB_MADE_TURNING);
	}
	return count;
}
