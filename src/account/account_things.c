/*
 * "11 shells", "5 petals", "(8 points)": what the pattern has no words for, so that nobody can say what it
 * is. But whatever is meant, the row has so many of something, or the number is none of its own.
 */
#include "account/account.h"

/* How many places of the row below hold several stitches of this row, and how many stitches draw some together. */
static void count_changes(const tb_hands *h, unsigned *increases, unsigned *decreases)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	guint32 before = TB_NONE;
	bool several = false;
	*increases = *decreases = 0;
	for (guint32 i = row->first; i < row->first + row->count; i++) {
		const tb_made *made = tb_hands_made(h, i);
		guint32 base = made->base_count == 1 ? made->base : TB_NONE;
		*decreases += made->base_count > 1 && !(made->flags & TB_MADE_IN_SPACE);
		if (base != TB_NONE && base == before && !several)
			++*increases;
		several = base != TB_NONE && base == before;
		before = base;
	}
}

/* Whether the row begins with several in one place before what is repeated, which may be one of those counted. */
static bool has_first(const tb_hands *h)
{
	const tb_acts *acts = &h->sentence->acts;
	bool several = false;
	for (unsigned i = 0; i < acts->count; i++) {
		const tb_act *act = &acts->acts[i];
		if (act->kind == TB_ACT_REPEAT)
			return several;
		several = several || act->kind == TB_ACT_GROUP || act->kind == TB_ACT_KNOT ||
			(act->kind == TB_ACT_WORK && (tb_hands_number(h, &act->each, 1) > 1 || act->stitch->takes > 1));
	}
	return false;
}

/* What stands at the row's edge, and is none of what is counted. */
static bool is_edge(const tb_hands *h, guint32 i)
{
	const tb_made *made = tb_hands_made(h, i);
	return (made->flags & TB_MADE_TURNING) != 0 || !(made->flags & TB_MADE_COUNTED);
}

/* How often in the row IS_ONE goes from false to true. */
static unsigned count_runs(const tb_hands *h, bool (*is_one)(const tb_hands *h, guint32 i, unsigned of), unsigned of)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	unsigned runs = 0, seen = 0;
	bool before = false, at_first = false;
	for (guint32 i = row->first; i < row->first + row->count; i++) {
		if (is_edge(h, i))
			continue;
		bool one = is_one(h, i, of);
		at_first = at_first || (one && seen == 0);
		seen++;
		runs += one && !before;
		before = one;
	}
	/* around a round the last runs on into the first */
	return runs - (row->is_round && at_first && before && runs > 1);
}

static bool is_chain(const tb_hands *h, guint32 i, unsigned of)
{
	(void)of;
	return (tb_hands_made(h, i)->flags & TB_MADE_CHAIN) != 0;
}

static bool is_stitch(const tb_hands *h, guint32 i, unsigned of)
{
	return tb_hands_made(h, i)->stitch == of;
}

static bool is_other(const tb_hands *h, guint32 i, unsigned of)
{
	return tb_hands_made(h, i)->stitch != of;
}

/* Whether so many stitches of one kind are there, or so many runs of them, or of what parts them. */
static bool has_kind(const tb_hands *h, unsigned said, unsigned first)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	g_autoptr(GHashTable) kinds = g_hash_table_new(NULL, NULL);
	for (guint32 i = row->first; i < row->first + row->count; i++) {
		if (is_edge(h, i))
			continue;
		gpointer kind = GUINT_TO_POINTER((guint)tb_hands_made(h, i)->stitch);
		guint many = GPOINTER_TO_UINT(g_hash_table_lookup(kinds, kind));
		g_hash_table_insert(kinds, kind, GUINT_TO_POINTER(many + 1));
	}
	GHashTableIter iter;
	gpointer kind, many;
	g_hash_table_iter_init(&iter, kinds);
	while (g_hash_table_iter_next(&iter, &kind, &many)) {
		unsigned of = GPOINTER_TO_UINT(kind);
		unsigned runs = count_runs(h, is_stitch, of), parted = count_runs(h, is_other, of);
		if (said == GPOINTER_TO_UINT(many) || said == runs || said == parted || said == runs + first)
			return true;
	}
	return false;
}

/* Blocks of filet: what stands between two spaces is one more stitch than so many for each block. */
static unsigned count_blocks(const tb_hands *h, unsigned width)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	unsigned blocks = 0, run = 0;
	for (guint32 i = row->first; i <= row->first + row->count; i++) {
		const tb_made *made = i < row->first + row->count ? tb_hands_made(h, i) : NULL;
		bool stitch = made != NULL && (made->flags & TB_MADE_COUNTED) != 0 && !(made->flags & TB_MADE_CHAIN);
		blocks += !stitch && run > 1 ? (run - 1) / width : 0;
		run = stitch ? run + 1 : 0;
	}
	return blocks;
}

/* Whether the row's claims part whole shells from halves. */
static bool parts_halves(const tb_hands *h)
{
	bool half = false;
	for (unsigned i = 0; i < h->sentence->claim_count; i++)
		half = half || h->sentence->claims[i].half;
	return half;
}

/*
 * Whether what stands beside the turning chain is a group by itself, "ch 3, 3 dc in first st", or one stitch before
 * a group, "ch 1, sc in same st, 5 dc in next st", so that no group begins with the chain.
 */
static bool begins_in_group(const tb_hands *h)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	guint32 i = row->first, end = row->first + row->count;
	bool counted = false;
	for (; i < end && tb_hands_made(h, i)->flags & (TB_MADE_TURNING | TB_MADE_CHAIN); i++)
		counted = counted || (tb_hands_made(h, i)->flags & TB_MADE_COUNTED) != 0;
	i += !counted && i + 1 < end && tb_hands_made(h, i)->group == 0;
	return i < end && tb_hands_made(h, i)->group != 0;
}

/*
 * Groups of all kinds, and those that are as long as the longest. FIRST: 1 where the turning chain and what stands
 * beside it may make one, 0 otherwise.
 */
static bool has_groups(const tb_hands *h, const tb_claim *claim, unsigned said, unsigned first)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	unsigned groups = 0, big = 0, longest = 0, length = 0;
	for (guint32 i = row->first; i < row->first + row->count; i++) {
		guint16 group = tb_hands_made(h, i)->group;
		bool begins = group != 0 && (i == row->first || tb_hands_made(h, i - 1)->group != group);
		groups += begins;
		/* the chain that the first of them begins with is one of it */
		bool chained = begins && i > row->first && (tb_hands_made(h, i - 1)->flags & (TB_MADE_TURNING | TB_MADE_COUNTED)) ==
			(TB_MADE_TURNING | TB_MADE_COUNTED);
		first = chained ? 0 : first;
		length = group == 0 ? 0 : begins ? 1u + chained : length + 1;
		big = length > longest ? 1 : big + (length > 0 && length == longest);
		longest = MAX(longest, length);
	}
	first = begins_in_group(h) ? 0 : first;
	if (claim->half)
		return said == groups - big || said == groups - big + first;
	if (claim->full || parts_halves(h))
		return said == big || (groups == big && said == big + first);
	return said == groups + first || said == big + first;
}

/*
 * Whether the chain the row begins with is the first of several in one place, "ch 3, 4 dc in same st", "ch 4, dc in
 * same st".
 */
static bool begins_group(const tb_hands *h)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	guint32 end = row->first + row->count, i = row->first;
	while (i < end && !(tb_hands_made(h, i)->flags & TB_MADE_TURNING))
		i++;
	guint32 next = i + 1;
	while (next < end && tb_hands_made(h, next)->flags & TB_MADE_CHAIN)
		next++;
	if (next >= end)
		return false;
	const tb_made *made = tb_hands_made(h, i), *beside = tb_hands_made(h, next);
	return made->base_count == beside->base_count && (made->base_count == 0 || made->base == beside->base);
}

/* Whether an act stands in the row SAID times by the same words, "5 X-sts", which are written out. */
static bool is_written(const tb_hands *h, unsigned said)
{
	const tb_acts *acts = &h->sentence->acts;
	for (unsigned i = 0; i < acts->count; i++) {
		unsigned same = 0;
		for (unsigned k = 0; k < acts->count; k++)
			same += acts->acts[k].kind == acts->acts[i].kind && acts->acts[k].span.start == acts->acts[i].span.start;
		if (same == said && said > 1)
			return true;
	}
	return false;
}

/* "(Sl st, ch 3, 3 dc) in ch-3 sp": whether the row is worked corner to corner, and its blocks are groups and none of filet. */
static bool has_slipped_groups(const tb_hands *h)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	for (guint32 i = row->first; i < row->first + row->count; i++) {
		const tb_made *made = tb_hands_made(h, i);
		if (made->group != 0 && tb_hands_stitch(h, made) == h->working->slip)
			return true;
	}
	return false;
}

/* "Ch 6, dc in 4th ch from hook and in next 2 ch, (sl st, ch 3, 3 dc) in next sp": several like those of its groups. */
static bool begins_alike(const tb_hands *h)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	unsigned run = 0, last = 0;
	for (guint32 i = row->first; has_slipped_groups(h) && i < row->first + row->count; i++) {
		const tb_made *made = tb_hands_made(h, i);
		if (made->flags & (TB_MADE_TURNING | TB_MADE_CHAIN))
			continue;
		if (made->group != 0 && made->stitch == last)
			return run > 1;
		if (made->group == 0) {
			run = run > 0 && made->stitch == last ? run + 1 : 1;
			last = made->stitch;
		}
	}
	return false;
}

/* "10 pattern repeats": so many were worked. */
static bool has_passes(const tb_hands *h, unsigned said)
{
	unsigned passes = h->cursor.passes, first = has_first(h) || begins_group(h) || begins_alike(h);
	return passes > 0 && said == passes + first;
}

/* Whether the row has groups of several stitches in one place. */
static bool is_grouped(const tb_hands *h)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	for (guint32 i = row->first + 1; i < row->first + row->count; i++) {
		guint16 group = tb_hands_made(h, i)->group;
		if (group != 0 && group == tb_hands_made(h, i - 1)->group)
			return true;
	}
	return false;
}

/* "(12 rows)": those that the words before it tell, or all so far, of the piece or of its part. */
void tb_account_rows(tb_hands *h, const tb_claim *claim, guint32 rows)
{
	unsigned said = tb_hands_number(h, &claim->count, 0);
	const tb_made_row *row = tb_hands_row(h, h->row);
	if (claim->rows_from > 0 && !h->labels.is_open && (said + row->before != row->number || said + 1 != rows + claim->rows_from)) {
		tb_hands_tell(h, TB_WARNING, "count-unseen", claim->span, "Look at the numbers of the rows.",
			"the last of these %u rows is row %u", (unsigned)rows, (unsigned)(row->number - row->before));
		return;
	}
	if (h->labels.uncounted || said == rows || said == h->row || said == row->number || said + row->before == row->number || h->labels.is_open)
		return;
	tb_hands_tell(h, claim->strict ? TB_ERROR : TB_WARNING, "count-unseen", claim->span, "Look at the count of rows.",
		"there are %u rows so far, and not %u", (unsigned)h->row, said);
}

/* "9 shells", and blocks worked corner to corner, in a row that has groups are such; "10 pattern repeats" are passes. */
static bool has_such(const tb_hands *h, const tb_claim *claim, unsigned said)
{
	bool parted = claim->groups && (claim->half || claim->full || parts_halves(h));
	return (!parted && has_passes(h, said)) || (claim->bunches && said == tb_account_bunches(h)) || (claim->passes && is_written(h, said)) ||
		((claim->groups || claim->blocks) && has_groups(h, claim, said, has_first(h) || begins_group(h) || begins_alike(h)));
}

/*
 * "5 crossed dc", "5 X-sts": how often stitches go back to places before one that is worked already (common practice: a cross
 * is counted once, however many of its legs lie behind).
 */
static unsigned count_crosses(const tb_hands *h)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	const tb_made *first = NULL, *last = NULL;
	for (guint32 i = row->first; i < row->first + row->count; i++) {
		const tb_made *made = tb_hands_made(h, i);
		if (made->base_count != 1 || made->rows_below == 0 || (made->flags & TB_MADE_CHAIN))
			continue;
		first = first == NULL ? made : first;
		last = made;
	}
	/* turned, the places of the row below come from its last to its first */
	bool back = first != NULL && last->base < first->base;
	unsigned crosses = 0;
	guint32 furthest = 0;
	bool any = false, behind = false;
	for (guint32 i = row->first; i < row->first + row->count; i++) {
		const tb_made *made = tb_hands_made(h, i);
		if (made->base_count != 1 || made->rows_below == 0 || (made->flags & TB_MADE_CHAIN))
			continue;
		bool goes_back = any && (back ? made->base > furthest : made->base < furthest);
		crosses += goes_back && !behind;
		behind = goes_back;
		furthest = goes_back ? furthest : made->base;
		any = true;
	}
	return crosses;
}

/* Runs of stitches around posts from the front, or from the back: the ribs that a row shows. */
static bool has_ribs(const tb_hands *h, unsigned said, bool *any)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	unsigned runs[2] = {0}, before = TB_POST_NONE, all[2] = {0};
	for (guint32 i = row->first; i < row->first + row->count; i++) {
		unsigned post = is_edge(h, i) ? TB_POST_NONE : tb_hands_stitch(h, tb_hands_made(h, i))->post;
		if (post != TB_POST_NONE) {
			runs[post == TB_POST_BACK] += post != before;
			all[post == TB_POST_BACK]++;
		}
		before = post;
	}
	*any = all[0] + all[1] > 0;
	return said == runs[0] || said == runs[1] || said == all[0] || said == all[1];
}

/* "10 ridges" of 19, 20 or 21 rows: the first and the last may show none. */
static bool makes_ridges(const tb_hands *h, unsigned said)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	gint64 twice = 2 * (gint64)said, rows = row->number - row->before;
	return ABS(twice - (gint64)h->row) <= 1 || ABS(twice - rows) <= 1 || ABS(twice - (gint64)row->number) <= 1;
}

void tb_account_things(tb_hands *h, const tb_claim *claim, unsigned said)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	if (claim->ridges && (h->labels.is_open || makes_ridges(h, said)))
		return;
	bool posts = false, ribs = claim->ridges && has_ribs(h, said, &posts);
	unsigned crosses = claim->pairs ? count_crosses(h) : 0;
	if (!row->taken && said > 0 && (posts || crosses > 0)) {
		tb_hands_look(h, row->count);
		if (posts ? !ribs : said != crosses)
			tb_hands_tell(h, TB_ERROR, "count-unseen", claim->span, "Look at the count, or say what these are.",
				"this %s has nothing of which there are %u", row->is_round ? "round" : "row", said);
		return;
	}
	if (!row->taken && said > 0 && ((claim->passes && (h->cursor.passes > 0 || is_written(h, said))) || (claim->groups && is_grouped(h)) || (claim->blocks && has_slipped_groups(h)))) {
		tb_hands_look(h, row->count);
		if (!has_such(h, claim, said))
			tb_hands_tell(h, TB_ERROR, "count-unseen", claim->span, "Look at the count, or say what these are.",
				"this %s has nothing of which there are %u", row->is_round ? "round" : "row", said);
		return;
	}
	guint32 below = h->row > 0 ? (row - 1)->stitches : 0;
	unsigned change = row->stitches > below ? row->stitches - below : below - row->stitches;
	unsigned increases, decreases, spaces = count_runs(h, is_chain, 0);
	unsigned first = has_first(h) ? 1 : 0;
	tb_hands_look(h, row->count);
	count_changes(h, &increases, &decreases);
	/* stars told loop by loop are drawn together, and are no other thing that the row has so many of */
	bool drawn = claim->stars && decreases > 0 && !row->taken;
	if (drawn ? said == decreases : row->taken || said == 0 || said == row->stitches || said == change || said == increases || said == decreases ||
		said == spaces || said == h->cursor.passes || has_passes(h, said) ||
		(claim->blocks && spaces == 0 && row->stitches == 3 * (guint64)said + 1) || (spaces > 0 && (said == count_blocks(h, 3) || said == count_blocks(h, 2))) ||
		has_groups(h, claim, said, first) || (!claim->groups && has_kind(h, said, first)))
		return;
	tb_hands_tell(h, TB_ERROR, "count-unseen", claim->span, "Look at the count, or say what these are.",
		"this %s has nothing of which there are %u", row->is_round ? "round" : "row", said);
}

/* How many stitches of its row a claim that names a kind speaks of, the chain that begins the row aside; or all. */
static gint64 count_claimed(tb_hands *h, const tb_claim *claim, guint32 at)
{
	const tb_made_row *row = tb_hands_row(h, at);
	gint64 count = 0;
	if (claim->stitch == NULL)
		return row->stitches;
	tb_hands_look(h, row->count);
	for (guint32 i = row->first; i < row->first + row->count; i++) {
		const tb_made *made = tb_hands_made(h, i);
		count += (made->flags & TB_MADE_COUNTED) != 0 && !(made->flags & TB_MADE_TURNING) && tb_hands_stitch(h, made) == claim->stitch;
	}
	return count;
}

/*
 * "Each row has 2 sts fewer than the one before", "(6 sts increased)". The second may tell of what was worked
 * instead, so many times two in one place.
 */
void tb_account_change(tb_hands *h, const tb_claim *claim, guint32 rows)
{
	guint32 last = h->row, first = claim->of_each ? last + 1 - MIN(MAX(rows, 1), last) : last;
	unsigned increases, decreases, said = (unsigned)ABS(claim->change), sides = claim->per_side > 0 ? tb_account_count_sides(h) : 0;
	if (claim->per_side > 0 && (sides == 0 || (said > 0 && said != sides * claim->per_side))) {
		tb_hands_tell(h, TB_ERROR, "count-claimed", claim->span, "Change the number, or the stitches of the row.",
			"the sides, each of which has %u more or fewer, are %u", claim->per_side, sides);
		return;
	}
	gint64 differs = said > 0 ? claim->change : (gint64)(sides * claim->per_side);
	/* "(1 st increased each side)" of a square has four sides */
	unsigned ends = claim->at_ends && h->sentence->is_round ? tb_account_count_sides(h) : 0;
	if (claim->at_ends)
		differs *= ends > 0 && last > 1 && count_claimed(h, claim, last) - count_claimed(h, claim, last - 1) == differs * ends ? ends : 2;
	said = (unsigned)ABS(differs);
	count_changes(h, &increases, &decreases);
	if (!claim->than && !claim->of_squares && said == (differs < 0 ? decreases : increases))
		return;
	for (guint32 at = MAX(first, 2); at <= last; at++) {
		gint64 more = count_claimed(h, claim, at) - count_claimed(h, claim, at - 1);
		if (claim->of_squares ? more == 3 * differs || more == 2 * differs : more == differs)
			continue;
		tb_hands_tell(h, TB_ERROR, "count-claimed", claim->span,
			"Change the number, or the stitches of the row.", "row %u has %u sts %s than the row before it, the pattern says %u %s",
			(unsigned)tb_hands_row(h, at)->number, (unsigned)ABS(more), more < 0 ? "fewer" : "more", said,
			differs < 0 ? "fewer" : "more");
		return;
	}
}
