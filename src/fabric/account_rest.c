/*
 * What a round leaves before the space it began in. A round that began in a shell's space has the stitches
 * before that space at its end; where it passed over the like of them before another space, it passes over these.
 */
#include "fabric/hands.h"

static bool is_chain(const tb_made *made)
{
	return (made->flags & TB_MADE_CHAIN) != 0 && !(made->flags & TB_MADE_TURNING);
}

/* A turning chain is as good as the stitch it stands for. */
static bool is_like(const tb_hands *h, guint32 one, guint32 other)
{
	const tb_made *a = tb_hands_made(h, tb_hands_place(h, one)), *b = tb_hands_made(h, tb_hands_place(h, other));
	if (is_chain(a) || is_chain(b))
		return is_chain(a) && is_chain(b);
	return (a->flags & TB_MADE_TURNING) || (b->flags & TB_MADE_TURNING) || a->stitch == b->stitch;
}

/* The stitches of the row below that this row stands on, as a set. */
static GHashTable *find_worked(const tb_hands *h)
{
	GHashTable *worked = g_hash_table_new(NULL, NULL);
	for (guint32 i = h->begun; i < h->made->len; i++) {
		const tb_made *made = tb_hands_made(h, i);
		for (unsigned leg = 0; leg < made->base_count; leg++)
			g_hash_table_add(worked, GUINT_TO_POINTER(tb_hands_base(h, made, leg)));
	}
	return worked;
}

bool tb_account_is_passed_alike(const tb_hands *h, guint32 from)
{
	guint32 count = tb_place_count(h), length = count - MIN(from, count);
	guint32 last = h->made->len;
	/* behind the slip stitch that joins the round */
	while (last > h->begun && tb_hands_stitch(h, tb_hands_made(h, last - 1)) == h->working->slip)
		last--;
	bool chain = last > h->begun && is_chain(tb_hands_made(h, last - 1));
	if (!h->sentence->is_round || !h->travelled || !chain || length == 0 || from < length ||
		!is_chain(tb_hands_made(h, tb_hands_place(h, 0))))
		return false;
	g_autoptr(GHashTable) worked = find_worked(h);
	tb_hands_look(h, count + (h->made->len - h->begun));
	for (guint32 at = 0; at + length < from; at++) {
		guint32 same = 0;
		while (same < length && is_like(h, at + same, from + same) &&
			!g_hash_table_contains(worked, GUINT_TO_POINTER(tb_hands_place(h, at + same))))
			same++;
		tb_hands_look(h, same);
		if (same == length && is_chain(tb_hands_made(h, tb_hands_place(h, at + length))) &&
			!is_chain(tb_hands_made(h, tb_hands_place(h, at + length - 1))))
			return true;
	}
	return false;
}
