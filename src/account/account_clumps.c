/*
 * "6 groups of 3 dc": so many in all, or so many groups as long as that. What parts one group from the
 * next, chains, another place or another kind, the text does not say; whatever it is, either comes out.
 */
#include "account/account.h"

/* Whether row's stitch I is one of the kind that CLAIM counts. */
static bool is_of(const tb_hands *h, guint32 i, const tb_claim *claim)
{
	const tb_made *made = tb_hands_made(h, i);
	if (made->flags & TB_MADE_CHAIN || !(made->flags & TB_MADE_COUNTED))
		return false;
	return claim->stitch == NULL || made->stitch == claim->stitch->number || (made->flags & TB_MADE_TURNING) != 0;
}

/* Whether stitch I goes on with the group that the stitch before it is of. */
static bool goes_on(const tb_hands *h, guint32 i, bool by_place)
{
	const tb_made *made = tb_hands_made(h, i), *before = tb_hands_made(h, i - 1);
	if (!by_place || (before->flags & TB_MADE_TURNING && made->flags & TB_MADE_IN_SPACE))
		return true;
	if (made->group != 0 || before->group != 0)
		return made->group == before->group;
	/* what stands on nothing is in the ring */
	return made->base_count == before->base_count && made->base_count < 2 && (made->base_count == 0 || made->base == before->base);
}

/* How many runs of just LONG such stitches the row has; BY_PLACE: of those that stand in one place. */
static unsigned count_runs(const tb_hands *h, const tb_claim *claim, unsigned length, bool by_place)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	guint32 end = row->first + row->count;
	unsigned runs = 0, run = 0, first = 0;
	bool open = row->is_round && row->count > 0 && is_of(h, row->first, claim), ends = false;
	for (guint32 i = row->first; i < end; i++) {
		bool one = is_of(h, i, claim), goes = one && run > 0 && goes_on(h, i, by_place);
		if (!goes) {
			/* the group a round begins with may be the end of its last */
			if (open && run > 0)
				first = run;
			else
				runs += run == length;
			open = open && run == 0;
			run = 0;
		}
		run += one;
		ends = one;
	}
	if (first > 0 && ends && !by_place)
		return runs + (first + run == length);
	return runs + (run == length) + (first == length);
}

/*
 * How many bunches of stitches side by side the row has, where all are alike: chains part them, and places do. The
 * chain a row begins with is the first of its bunch. 0 where they differ, or are single stitches.
 */
unsigned tb_account_bunches(const tb_hands *h)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	const tb_claim any = {0};
	unsigned bunches = 0, run = 0, length = 0;
	for (guint32 i = row->first; i <= row->first + row->count; i++) {
		bool one = i < row->first + row->count && is_of(h, i, &any);
		if (run > 0 && !(one && goes_on(h, i, true))) {
			if (run < 2 || (length > 0 && run != length))
				return 0;
			length = run;
			run = 0;
			bunches++;
		}
		run += one;
	}
	return bunches;
}

/* "4 dc in each shell": that a group of the row has so many; of what is no stitch, that they may be shared out so. */
void tb_account_each(tb_hands *h, const tb_claim *claim)
{
	unsigned each = tb_hands_number(h, &claim->count, 0), with, without;
	tb_account_count(h, claim, &with, &without);
	tb_hands_look(h, 2 * tb_hands_row(h, h->row)->count);
	bool shared = claim->stitch == NULL || claim->spaces || claim->own != NULL || claim->groups;
	if (each > 0 && (shared ? with > 0 && with % each == 0 :
		count_runs(h, claim, each, false) > 0 || count_runs(h, claim, each, true) > 0))
		return;
	tb_hands_tell(h, TB_ERROR, "count-claimed", claim->span, "Change the count, or the stitches of the row.",
		"nothing in this row has %u of these", each);
}

void tb_account_clumps(tb_hands *h, const tb_claim *claim)
{
	unsigned each = tb_hands_number(h, &claim->count, 0), many = tb_hands_number(h, &claim->parts, 0);
	unsigned with, without, said = each * many;
	tb_account_count(h, claim, &with, &without);
	tb_hands_look(h, 2 * tb_hands_row(h, h->row)->count);
	if (said == with || said == without || (!claim->spaces && claim->own == NULL &&
		(many == count_runs(h, claim, each, false) || many == count_runs(h, claim, each, true))))
		return;
	tb_hands_tell(h, TB_ERROR, "count-claimed", claim->span, "Change the count, or the stitches of the row.",
		"counts %u, and the pattern says %u × %u", with, many, each);
}

/* Whether GROUPS groups stand around the round, in one place each, and between any two of them EACH single stitches. */
static bool are_parted(const tb_hands *h, const tb_claim *claim, unsigned each, unsigned groups)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	const tb_claim any = {0};
	guint32 end = row->first + row->count;
	unsigned many = 0, first = 0, run = 0;
	for (guint32 i = row->first; i < end;) {
		guint32 to = i + 1;
		while (to < end && is_of(h, to, &any) && is_of(h, to - 1, &any) && goes_on(h, to, true))
			to++;
		if (to - i > 1) {
			first = many == 0 ? run : first;
			if (many > 0 && run != each)
				return false;
			many++;
			run = 0;
		} else if (is_of(h, i, claim)) {
			run++;
		} else if (is_of(h, i, &any) || (tb_hands_made(h, i)->flags & TB_MADE_COUNTED)) {
			return false;
		}
		i = to;
	}
	return many == groups && first + run == each;
}

/* "with a ch-4 sp between each": a round has as many of those as groups, a row one fewer, and more may be elsewhere. */
void tb_account_between(tb_hands *h, const tb_claim *claim)
{
	unsigned each = tb_hands_number(h, &claim->count, 0), groups = tb_hands_number(h, &claim->parts, 0);
	unsigned with, without;
	tb_hands_look(h, 2 * tb_hands_row(h, h->row)->count);
	if (claim->spaces)
		tb_account_spaces(h, tb_hands_number(h, &claim->space_lengths, (int)claim->space_chains), &with, &without);
	else
		with = without = MAX(count_runs(h, claim, each, false), count_runs(h, claim, each, true));
	bool round = tb_hands_row(h, h->row)->is_round;
	unsigned most = MAX(with, without), fewest = groups - (groups > 0 && !round);
	/* there may be as many again within each group */
	if (groups > 0 && (!claim->spaces || each == 1) && most >= fewest && (!round || most % groups == 0))
		return;
	/* "18 fans with 2 dc between": a round's first are parted by where it begins */
	if (groups > 0 && !claim->spaces && each > 1 && round && are_parted(h, claim, each, groups))
		return;
	tb_hands_tell(h, TB_ERROR, "count-claimed", claim->span, "Change the count, or the stitches of the row.",
		"there are %u of these, and there should be one between any two of %u", most, groups);
}
