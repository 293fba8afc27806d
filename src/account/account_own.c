/*
 * Counts of what the pattern's own words name: "12 V-sts", "6 Xdc and 2 dc". What a group is made of is not
 * counted again beside it.
 */
#include "account/account.h"
#include "places/place.h"

/* "(9 V-sts, 2 dc)", V-sts being what they are everywhere: whether the row has so many groups in all. */
static bool are_groups_claimed(const tb_hands *h)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	unsigned groups = 0, said = 0;
	guint16 last = 0;
	for (unsigned i = 0; i < h->sentence->claim_count; i++) {
		const tb_claim *claim = &h->sentence->claims[i];
		said += claim->groups ? tb_hands_number(h, &claim->count, 0) : 0;
	}
	for (guint32 i = 0; said > 0 && i < row->count; i++) {
		guint16 group = tb_hands_made(h, row->first + i)->group;
		groups += group != 0 && group != last;
		last = group;
	}
	return said > 0 && groups == said;
}

/* Whether the stitches from I on, all of one group, are those OWN is said to be. */
static bool is_like(const tb_hands *h, guint32 i, const tb_own *own)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	guint32 end = row->first + row->count;
	guint16 group = tb_hands_made(h, i)->group;
	for (unsigned k = 0; k < own->acts.count; k++) {
		const tb_act *act = &own->acts.acts[k];
		guint64 many = tb_hands_makes(h, act);
		if (many == 0)
			return false;
		for (; many > 0; many--, i++) {
			if (i == end || tb_hands_made(h, i)->group != group ||
				(act->kind == TB_ACT_WORK && tb_hands_made(h, i)->stitch != act->stitch->number) ||
				(act->kind == TB_ACT_CHAIN && !(tb_hands_made(h, i)->flags & TB_MADE_CHAIN)))
				return false;
		}
	}
	return own->acts.count > 0 && (i == end || tb_hands_made(h, i)->group != group);
}

/* Whether the group of stitch I is counted by itself in what the row claims, by its name or as it is made. */
static bool is_claimed(const tb_hands *h, guint32 i)
{
	guint32 first = tb_hands_row(h, h->row)->first;
	guint16 group = tb_hands_made(h, i)->group;
	const tb_own *own = g_hash_table_lookup(h->cloth.group_owns, GUINT_TO_POINTER((guint)group));
	while (i > first && tb_hands_made(h, i - 1)->group == group)
		i--;
	for (unsigned k = 0; k < h->sentence->claim_count; k++) {
		const tb_own *claimed = h->sentence->claims[k].own;
		if (claimed != NULL && (own != NULL ? tb_own_is_same(claimed, own) : is_like(h, i, claimed)))
			return true;
	}
	return false;
}

/* The first stitch of the row that counts; the row's end where none does. */
static guint32 find_counted(const tb_hands *h)
{
	guint32 i = tb_hands_row(h, h->row)->first, end = i + tb_hands_row(h, h->row)->count;
	while (i < end && !(tb_hands_made(h, i)->flags & TB_MADE_COUNTED))
		i++;
	return i;
}

static bool stands_beside(const tb_hands *h, guint32 one, guint32 other)
{
	const tb_made *a = tb_hands_made(h, one), *b = tb_hands_made(h, other);
	return a->base_count == 1 && b->base_count == 1 && a->base == b->base;
}

/*
 * "Ch 3, dc, ch 2, 2 dc in same sp, *ch 3, shell in next shell": whether the row begins with what OWN is, its
 * turning chain being the first stitch of it.
 */
static bool begins_like(const tb_hands *h, const tb_own *own)
{
	guint32 end = tb_hands_row(h, h->row)->first + tb_hands_row(h, h->row)->count;
	guint32 i = find_counted(h), first = i, last = i;
	if (i == end || !(tb_hands_made(h, i)->flags & TB_MADE_TURNING))
		return false;
	for (unsigned k = 0; k < own->acts.count; k++) {
		const tb_act *act = &own->acts.acts[k];
		bool chain = act->kind == TB_ACT_CHAIN;
		for (guint64 many = tb_hands_makes(h, act); many > 0; many--, i++) {
			const tb_made *made = i < end ? tb_hands_made(h, i) : NULL;
			if (made == NULL || chain == !(made->flags & TB_MADE_CHAIN) || (!chain && act->kind != TB_ACT_WORK) ||
				(!chain && i == first && act->stitch != h->now.counts_as) ||
				(!chain && i > first && (made->stitch != act->stitch->number ||
					!stands_beside(h, first, i))))
				return false;
			last = chain ? last : i;
		}
	}
	return last > first && (i == end || !stands_beside(h, first, i));
}

/* How many stitches from I on are what OWN makes once, which says its own places; 0 where they are other. */
static guint32 make_whole(const tb_hands *h, guint32 i, const tb_own *own)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	guint32 end = row->first + row->count, from = i;
	for (unsigned k = 0; k < own->acts.count; k++) {
		const tb_act *act = &own->acts.acts[k];
		bool chain = act->kind == TB_ACT_CHAIN;
		guint64 many = chain || act->kind == TB_ACT_WORK ? tb_hands_makes(h, act) : 0;
		for (; many > 0; many--, i++) {
			if (i == end || (!chain && tb_hands_made(h, i)->stitch != act->stitch->number) ||
				(chain && !(tb_hands_made(h, i)->flags & TB_MADE_CHAIN)))
				return 0;
		}
	}
	return i - from;
}

/* "6 Xdc": how often the row has what OWN makes, side by side. */
static unsigned count_wholes(const tb_hands *h, const tb_own *own)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	unsigned wholes = 0;
	for (guint32 i = 0; i < row->count;) {
		guint32 many = make_whole(h, row->first + i, own);
		wholes += many > 0;
		i += MAX(many, 1);
	}
	return wholes;
}

/* Whether FIRST is called "beg shell" or "beginning shell", where OWN is called "shell". */
static bool is_called_first(const tb_own *first, const tb_own *own)
{
	size_t length = tb_own_first_word(first);
	return length > 0 && own->name != NULL && g_ascii_strcasecmp(first->name + length, own->name) == 0;
}

/* "Ch 2, dc2tog (beg cl)" at I: the chain is a leg of what is a cl like OWN. */
static bool begins_as(const tb_hands *h, guint32 i, const tb_own *own)
{
	guint32 first = tb_hands_row(h, h->row)->first;
	unsigned before = i > first ? tb_hands_made(h, i - 1)->flags : 0;
	return own->stitch != NULL && before & TB_MADE_TURNING && !(before & TB_MADE_COUNTED) &&
		tb_rule_has_one_more(own->stitch, tb_hands_stitch(h, tb_hands_made(h, i)));
}

/* The cluster in "(ch 2, dc2tog) in next sp (first cluster made)", which those after it have a leg more than; or NULL. */
static const tb_stitch *find_first(const tb_own *own)
{
	const tb_act *acts = own->acts.acts;
	return own->acts.count == 2 && acts[0].kind == TB_ACT_CHAIN && acts[1].kind == TB_ACT_WORK &&
		MAX(acts[1].stitch->legs, acts[1].stitch->takes) > 1 ? acts[1].stitch : NULL;
}

/* The groups of the row that were worked as OWN, or are alike, and the stitches that are one. */
unsigned tb_account_own(const tb_hands *h, const tb_own *own)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	const tb_stitch *part = find_first(own);
	unsigned groups = 0;
	guint16 last = 0;
	bool first = begins_like(h, own);
	for (guint32 i = 0; i < row->count; i++) {
		const tb_made *made = tb_hands_made(h, row->first + i);
		/* the rest of the first one */
		bool rest = first && stands_beside(h, find_counted(h), row->first + i);
		if (made->group != last && made->group != 0 && !rest) {
			const tb_own *as =
				g_hash_table_lookup(h->cloth.group_owns, GUINT_TO_POINTER((guint)made->group));
			groups += (as != NULL && (tb_own_is_same(as, own) || (is_called_first(as, own) && own->stitch == NULL))) ||
				(as == NULL && is_like(h, row->first + i, own));
		}
		groups += part != NULL && tb_rule_has_one_more(tb_hands_stitch(h, made), part);
		groups += begins_as(h, row->first + i, own);
		groups += own->stitch != NULL && made->stitch == own->stitch->number;
		last = made->group;
	}
	groups += first;
	return groups == 0 && own->whole ? count_wholes(h, own) : groups;
}

/* How many stitches from I on are one of what the row claims beside others, and says its own places; 0 for none. */
static guint32 make_claimed(const tb_hands *h, guint32 i)
{
	for (unsigned k = 0; k < h->sentence->claim_count; k++) {
		const tb_own *own = h->sentence->claims[k].own;
		guint32 many = own != NULL && own->whole ? make_whole(h, i, own) : 0;
		if (many > 0)
			return many;
	}
	return 0;
}

unsigned tb_account_outside(const tb_hands *h, const tb_stitch *stitch)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	bool groups = are_groups_claimed(h);
	unsigned outside = 0;
	for (guint32 i = row->first; i < row->first + row->count;) {
		const tb_made *made = tb_hands_made(h, i);
		guint32 many = made->flags & TB_MADE_TURNING ? 0 : make_claimed(h, i);
		outside += many == 0 && made->stitch == stitch->number && !(made->flags & TB_MADE_TURNING) &&
			(made->group == 0 || (!groups && !is_claimed(h, i)));
		i += MAX(many, 1);
	}
	return outside;
}

static bool is_counted_else(const tb_hands *h, const tb_stitch *stitch)
{
	for (unsigned i = 0; i < h->sentence->claim_count; i++) {
		if (h->sentence->claims[i].stitch == stitch)
			return true;
	}
	return false;
}

/* "Ch 3, sl st in 3rd ch from hook": chains of the row itself that are closed to a ring. */
static unsigned count_rings(const tb_hands *h)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	unsigned count = 0;
	for (guint32 i = row->first; i < row->first + row->count; i++) {
		const tb_made *made = tb_hands_made(h, i);
		count += tb_hands_stitch(h, made) == h->working->slip && made->rows_below == 0 && made->base_count == 1;
	}
	return count;
}

unsigned tb_account_several(const tb_hands *h, const tb_stitch *claimed)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	unsigned count = 0;
	if (claimed != NULL && claimed->takes == 0 && claimed->form == TB_FORM_RING)
		return count_rings(h);
	for (guint32 i = 0; claimed != NULL && tb_place_is_several(claimed) && i < row->count; i++) {
		const tb_stitch *made = tb_hands_stitch(h, tb_hands_made(h, row->first + i));
		if (made == claimed)
			return 0;
		count += tb_place_is_several(made) && !is_counted_else(h, made);
	}
	return count;
}
