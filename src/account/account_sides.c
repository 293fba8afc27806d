/* What is claimed of the sides of a round with corners. */
#include "account/account.h"

/* The chains of the longest space of the row. */
static unsigned find_longest(const tb_hands *h)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	unsigned longest = 0, run = 0;
	for (guint32 i = 0; i < row->count; i++) {
		run = tb_hands_made(h, row->first + i)->flags & TB_MADE_CHAIN ? run + 1 : 0;
		longest = MAX(longest, run);
	}
	return longest;
}

/*
 * The stitches of each side of a round whose corners are spaces, the longest it has, where all sides are
 * alike, and how many SIDES these are; 0 where that cannot be told.
 */
static unsigned count_side(const tb_hands *h, unsigned longest, unsigned *sides)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	unsigned run = 0, corners = 0, first = 0, side = 0, here = 0;
	for (guint32 i = 0; i <= row->count; i++) {
		const tb_made *made = i < row->count ? tb_hands_made(h, row->first + i) : NULL;
		if (made != NULL && made->flags & TB_MADE_CHAIN) {
			run++;
			continue;
		}
		if (run > 0 && run == longest) {
			if (corners == 0)
				first = here;
			else if (corners > 1 && here != side)
				return 0;
			else
				side = here;
			corners++;
			here = 0;
		}
		run = 0;
		here += made != NULL && (made->flags & TB_MADE_COUNTED) != 0;
	}
	*sides = corners;
	return row->is_round && corners > 2 && corners < 9 && first + here == side ? side : 0;
}

unsigned tb_account_count_sides(const tb_hands *h)
{
	unsigned sides = 0;
	return count_side(h, find_longest(h), &sides) > 0 ? sides : 0;
}

/* A round with a space or two, and no more: they are no corners of anything that has sides. */
static bool is_lopsided(const tb_hands *h)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	unsigned spaces = 0;
	for (guint32 i = 0; i < row->count; i++) {
		bool chain = (tb_hands_made(h, row->first + i)->flags & TB_MADE_CHAIN) != 0;
		bool before = i > 0 && (tb_hands_made(h, row->first + i - 1)->flags & TB_MADE_CHAIN) != 0;
		spaces += chain && !before;
	}
	return row->is_round && (spaces == 1 || spaces == 2);
}

/* Other spaces of a side may be as long as the corners are: those are then some of them. */
static bool is_share(unsigned sides, unsigned said)
{
	return said > 0 && sides % said == 0;
}

/* Whether SAID is a side of HERE stitches by itself, with half of its corners, with one of them, or with both. */
static bool is_side(unsigned said, unsigned here, unsigned corner)
{
	return said == here || said == here + corner || said == here + 2 * corner || said == here + 2 * (corner / 2);
}

/*
 * Whether some side of a round whose corners are groups, "3 sc in corner", has SAID stitches: by itself, with the half of
 * its corners up to their middle stitch, with one of them, or with both. *CORNER has as many; 0: the round has no such.
 */
static bool has_side_of(const tb_hands *h, unsigned said, unsigned *corner_has)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	unsigned corners = 0, corner = 0, run = 0, first = 0, here = 0;
	bool found = false, alike = true;
	for (guint32 i = 0; i <= row->count; i++) {
		const tb_made *made = i < row->count ? tb_hands_made(h, row->first + i) : NULL;
		guint16 before = i > 0 ? tb_hands_made(h, row->first + i - 1)->group : 0, group = made != NULL ? made->group : 0;
		if (before != 0 && before != group) {
			alike = alike && run > 1 && (corners == 0 || run == corner);
			corner = run;
			corners++;
			run = here = 0;
		}
		if (group != 0 && group != before) {
			first = corners == 0 ? here : first;
			found = found || (corners > 0 && is_side(said, here, corner));
		}
		run += group != 0;
		here += group == 0 && made != NULL && (made->flags & TB_MADE_COUNTED) != 0;
	}
	/* the last side goes on at the round's beginning */
	here += first;
	*corner_has = row->is_round && alike && corners > 2 && corners < 9 ? corner : 0;
	return found || is_side(said, here, corner);
}

void tb_account_sides(tb_hands *h, const tb_claim *claim)
{
	unsigned longest = find_longest(h), sides = 0, said = tb_hands_number(h, &claim->count, 0), side = count_side(h, longest, &sides);
	unsigned parts = claim->corners ? said : tb_hands_number(h, &claim->parts, sides);
	if (claim->corners && claim->space_chains > 0 && claim->space_chains != longest)
		tb_hands_tell(h, TB_ERROR, "count-claimed", claim->span, "Change the length, or the chains of the row.",
			"the longest spaces are of %u ch, the pattern says %u", longest, claim->space_chains);
	/* a reading that has such sides is rather meant */
	h->cursor.odd += side == 0;
	if (side == 0 && is_lopsided(h)) {
		tb_hands_tell(h, TB_ERROR, "count-claimed", claim->span, "Change the count, or the stitches of the row.",
			"this round has no sides of which each has %u", said);
		return;
	}
	unsigned corner = 0;
	bool has_side = side > 0 || claim->corners || has_side_of(h, said, &corner);
	if (claim->in_corner && corner > 0 && said != corner)
		tb_hands_tell(h, TB_ERROR, "count-claimed", claim->span, "Change the count, or the stitches of the row.",
			"each corner counts %u, the pattern says %u", corner, said);
	else if (!claim->in_corner && corner > 0 && !has_side)
		tb_hands_tell(h, TB_ERROR, "count-claimed", claim->span, "Change the count, or the stitches of the row.",
			"no side of this round counts %u", said);
	if (side == 0 || claim->in_corner)
		return;
	if (!is_share(sides, parts))
		tb_hands_tell(h, TB_ERROR, "count-claimed", claim->span, "Change the count, or the stitches of the row.",
			"counts %u %s, the pattern says %u", sides, claim->corners ? "corners" : "sides", parts);
	else if (!claim->corners && parts == sides && (said > side || (side - said) % 2 != 0))
		tb_hands_tell(h, TB_ERROR, "count-claimed", claim->span, "Change the count, or the stitches of the row.",
			"each side counts %u, the pattern says %u", side, said);
}
