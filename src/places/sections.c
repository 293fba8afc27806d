/*
 * The sections of a row: so many of a kind side by side, and something else before the next.
 *
 * "8 dc in each section" is counted on the fabric and not in the words, so that it holds however the
 * row was written.
 */
#include "places/place.h"
#include "places/sections.h"

static bool is_chain(const tb_made *made)
{
	return (made->flags & TB_MADE_CHAIN) != 0 && (made->flags & TB_MADE_TURNING) == 0;
}

/* The chains of the space that begins at AT, in ROW; 0 where none does. */
static guint32 space_at(const tb_hands *h, const tb_made_row *row, guint32 at)
{
	guint32 end = at;
	if (at > row->first && is_chain(tb_hands_made(h, at - 1)))
		return 0;
	while (end < row->first + row->count && is_chain(tb_hands_made(h, end)))
		end++;
	return end - at;
}

static const tb_own *own_of(const tb_hands *h, const tb_made *made)
{
	return made->group == 0 ? NULL :
		g_hash_table_lookup(h->cloth.group_owns, GUINT_TO_POINTER((guint)made->group));
}

/* Whether what stands AT is of the kind KIND, and *BEGINS one of it: a space is several chains. */
static bool is_of(const tb_hands *h, const tb_made_row *row, guint32 at, const tb_change *change,
	bool *begins)
{
	const tb_made *made = tb_hands_made(h, at);
	const tb_place *kind = &change->of;
	*begins = true;
	if (change->sides && kind->target == TB_TARGET_NAMED)
		return (made->flags & TB_MADE_COUNTED) != 0 && (made->stitch == kind->named->number ||
			((made->flags & TB_MADE_TURNING) != 0 && tb_place_is_kind(h, at, kind->named)));
	switch (kind->target) {
	case TB_TARGET_NAMED:
		return (made->flags & TB_MADE_COUNTED) != 0 && tb_place_is_kind(h, at, kind->named);
	case TB_TARGET_CHAIN:
		return is_chain(made) && (made->flags & TB_MADE_COUNTED) != 0;
	case TB_TARGET_SPACE: {
		guint32 chains = space_at(h, row, at);
		*begins = chains > 0 && (kind->space_chains == 0 || chains == kind->space_chains);
		return is_chain(made);
	}
	case TB_TARGET_GROUP:
		*begins = at == row->first || tb_hands_made(h, at - 1)->group != made->group;
		return own_of(h, made) == kind->own && kind->own != NULL;
	default:
		return false;
	}
}

/* Whether what stands AT parts two sections of KIND. */
static bool parts(const tb_hands *h, const tb_made_row *row, guint32 at, const tb_change *kind,
	const tb_change *all, unsigned count)
{
	bool begins;
	if (count < 2)
		return (tb_hands_made(h, at)->flags & TB_MADE_COUNTED) != 0;
	for (unsigned i = 0; i < count; i++) {
		if (&all[i] != kind && is_of(h, row, at, &all[i], &begins))
			return true;
	}
	return false;
}

/* Whether two that stand side by side were worked in one place. */
static bool same_place(const tb_hands *h, guint32 at)
{
	const tb_made *made = tb_hands_made(h, at), *before = made - 1;
	return made->base_count > 0 && before->base_count > 0 &&
		tb_hands_base(h, made, 0) == tb_hands_base(h, before, 0);
}

GArray *tb_sections_find(const tb_hands *h, const tb_made_row *row, const tb_change *kind,
	const tb_change *all, unsigned count)
{
	GArray *lengths = g_array_new(FALSE, FALSE, sizeof(guint32));
	guint32 length = 0;
	bool begins, at_begin = false, at_end = false;
	tb_hands_look(h, row->count);
	for (guint32 at = row->first; at < row->first + row->count; at++) {
		bool of = is_of(h, row, at, kind, &begins);
		bool apart = of && kind->in_place && at > row->first && !same_place(h, at);
		if (length > 0 && (apart || (!of && parts(h, row, at, kind, all, count)))) {
			g_array_append_val(lengths, length);
			length = 0;
		}
		length += of && begins;
		at_begin = at_begin || (of && at == row->first);
		at_end = of || (at_end && !parts(h, row, at, kind, all, count));
	}
	if (length > 0)
		g_array_append_val(lengths, length);
	if (row->is_round && at_begin && at_end && lengths->len > 1 && !kind->in_place) {
		/* the last section of a round goes on in its first */
		g_array_index(lengths, guint32, 0) += g_array_index(lengths, guint32, lengths->len - 1);
		g_array_set_size(lengths, lengths->len - 1);
	}
	return lengths;
}

bool tb_sections_are(const tb_hands *h, const tb_made_row *row, const tb_change *kind, guint32 length)
{
	g_autoptr(GArray) lengths = tb_sections_find(h, row, kind, kind, 1);
	for (guint i = 0; i < lengths->len; i++) {
		if (g_array_index(lengths, guint32, i) != length)
			return false;
	}
	return lengths->len > 0;
}

guint32 tb_sections_longest(const tb_hands *h, const tb_made_row *row, const tb_change *kind)
{
	g_autoptr(GArray) lengths = tb_sections_find(h, row, kind, kind, 1);
	guint32 longest = 0;
	for (guint i = 0; i < lengths->len; i++)
		longest = MAX(longest, g_array_index(lengths, guint32, i));
	return longest;
}
