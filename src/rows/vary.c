/*
 * "Same as last row, but having 1 more dc in each section", "… but ending with ch 3".
 *
 * The acts of the row it is like are copied with other figures (vary_acts.c) and worked as any row
 * is. Whether these are the figures meant, the fabric tells: each section must have grown by just what
 * is said. Where a row grows so by its own words, as "dc in each dc" does, no figure is changed.
 */
#include "places/sections.h"
#include "rows/choose.h"
#include "rows/vary.h"

/* Whether the last stitch of the row went where it is said to go: into the turning chain, or the last stitch. */
static bool is_last_there(const tb_hands *h, const tb_act *last)
{
	guint32 number = h->cloth.rows->len - 1;
	const tb_made_row *row = tb_hands_row(h, number), *below = row - 1;
	guint32 i = row->first + row->count;
	while (i > row->first && tb_hands_made(h, i - 1)->flags & (TB_MADE_CHAIN | TB_MADE_TURNING))
		i--;
	if (i == row->first || below->count == 0)
		return false;
	const tb_made *made = tb_hands_made(h, i - 1);
	if (made->base_count != 1 || (last->stitch != NULL && made->stitch != last->stitch->number))
		return false;
	/* "the last 2 dc go in the turning chain": all of them */
	for (guint32 k = 1, many = tb_hands_number(h, &last->each, 1); k < many; k++) {
		const tb_made *other = i > row->first + k ? tb_hands_made(h, i - 1 - k) : NULL;
		if (other == NULL || other->stitch != made->stitch || other->base_count != 1 || other->base != made->base)
			return false;
	}
	if (last->place.target == TB_TARGET_TURNING_CHAIN)
		return (tb_hands_made(h, made->base)->flags & TB_MADE_TURNING) != 0;
	return last->place.in == TB_IN_LAST && last->place.target == TB_TARGET_STITCH &&
		made->base == (row->leftward != below->leftward ? below->first : below->first + below->count - 1);
}

static bool grew(const tb_hands *h, const tb_sentence *sentence, guint32 like)
{
	if (sentence->last_goes != NULL && !sentence->ends_otherwise && !is_last_there(h, sentence->last_goes))
		return false;
	for (unsigned i = 0; i < sentence->change_count; i++) {
		const tb_change *change = &sentence->changes[i];
		if (change->becomes > 0)
			continue; /* the words themselves say which figure it is */
		g_autoptr(GArray) before = tb_sections_find(h, tb_hands_row(h, like), change,
			sentence->changes, sentence->change_count);
		g_autoptr(GArray) after = tb_sections_find(h, tb_hands_row(h, h->cloth.rows->len - 1), change,
			sentence->changes, sentence->change_count);
		if (before->len == 0 || after->len != before->len || (before->len > 1 && !change->in_each))
			return false;
		for (guint k = 0; k < before->len; k++) {
			gint64 grown = (gint64)g_array_index(after, guint32, k) - g_array_index(before, guint32, k);
			if (grown != change->more)
				return false;
		}
	}
	return true;
}

/* Whether another figure is named: the row as it was cannot be meant. */
static bool is_other(const tb_sentence *sentence)
{
	for (unsigned i = 0; i < sentence->change_count; i++) {
		if (sentence->changes[i].becomes > 0)
			return true;
	}
	return sentence->ends_otherwise;
}

typedef struct {
	const tb_sentence *sentence;
	guint32 like;
} asked;

static bool is_meant(const tb_hands *h, const void *data)
{
	const asked *a = data;
	return grew(h, a->sentence, a->like);
}

static bool tell_unclear(tb_hands *h, const tb_sentence *sentence)
{
	tb_hands_give_up(h, "not-worked", sentence->span, "Write the row out, with what is other in it.",
		"what is other in this row than in row %u is not plain",
		(unsigned)(tb_hands_row(h, h->row)->number));
	return false;
}

bool tb_vary_row(tb_hands *h, const tb_sentence *sentence, guint32 like)
{
	const tb_sentence *base = tb_hands_row(h, like)->sentence;
	guint32 number = tb_rows_last(h) + 1;
	asked a = {sentence, like};
	h->row = like;
	if (like < 2 || base == NULL || tb_hands_row(h, like)->taken || base->shaped != NULL)
		return tell_unclear(h, sentence);
	if (!is_other(sentence) && tb_choose_try(h, base, number, number, is_meant, &a))
		return true;
	const tb_sentence *varied = tb_vary_sentence(h, base, sentence);
	if (varied == NULL)
		return tell_unclear(h, sentence);
	if (tb_choose_try(h, varied, number, number, is_meant, &a))
		return true;
	guint before = h->teller.told[TB_ERROR];
	tb_choose_row(h, varied, number, number, false, false);
	if (h->teller.row_fault || h->abandoned || h->teller.told[TB_ERROR] > before)
		return false;
	if (grew(h, sentence, like))
		return true;
	h->row = like;
	return tell_unclear(h, sentence);
}
