/*
 * Foundation chains and turning chains.
 *
 * A turning chain that counts stands over the first stitch of the row below and is the last stitch
 * of the row above; one that does not count is nobody's stitch. At the beginning of row 1 the
 * chains skipped before "dc in 4th ch from hook" are the turning chain: they stand at the corner
 * with no chain of the foundation under them, or, one more being skipped, on one of their own, as
 * Japanese books have it.
 */
#include "acts/start.h"
#include "acts/turning.h"
#include "hands/meaning.h"
#include "hands/row.h"
#include "hands/taken.h"
#include "places/place.h"

#include <string.h>

static const tb_act *first_of(
	const tb_hands *h, const tb_acts *acts, unsigned depth, const tb_place **place)
{
	for (unsigned i = 0; i < acts->count; i++) {
		const tb_act *act = &acts->acts[i];
		if (act->kind == TB_ACT_WORK) {
			*place = &act->place;
			return act;
		}
		bool inside = act->kind == TB_ACT_REPEAT || act->kind == TB_ACT_GROUP ||
					  (act->kind == TB_ACT_ONLY && (act->sizes >> h->size & 1));
		const tb_act *found = inside && depth < TB_LIMIT_NESTING + 2
								  ? first_of(h, &act->body, depth + 1, place)
								  : NULL;
		if (found != NULL && act->kind == TB_ACT_GROUP)
			*place = &act->place;
		if (found != NULL)
			return found;
	}
	return NULL;
}

const tb_act *tb_turning_first_work(const tb_hands *h, const tb_acts *acts, const tb_place **place)
{
	*place = NULL;
	/* "sl st in sp between first 2 dc, ch 3, dc in same sp": the row begins behind that slip stitch */
	const tb_act *act = acts->acts;
	bool in_gap = acts->count > 1 && act->kind == TB_ACT_WORK && act->stitch == h->working->slip && act->place.in == TB_IN_BETWEEN;
	return first_of(h, &(tb_acts){act + in_gap, acts->count - in_gap}, 0, place);
}

static bool holds_chain(const tb_hands *h, const tb_acts *acts, unsigned count, unsigned depth)
{
	for (unsigned i = 0; i < acts->count && depth < TB_LIMIT_NESTING + 2; i++) {
		const tb_act *act = &acts->acts[i];
		if ((act->kind == TB_ACT_CHAIN && tb_hands_number(h, &act->count, 1) == count) ||
			holds_chain(h, &act->body, count, depth + 1))
			return true;
	}
	return false;
}

/* Whether the row works spaces of COUNT chains, so that it may begin with one. */
static bool has_space(const tb_hands *h, const tb_acts *acts, unsigned count)
{
	for (unsigned i = 0; i < acts->count; i++) {
		const tb_act *act = &acts->acts[i];
		if (i > 0 && act->kind == TB_ACT_CHAIN && tb_hands_number(h, &act->count, 1) == count)
			return true;
		if (holds_chain(h, &act->body, count, 0))
			return true;
	}
	return false;
}

static void warn_height(tb_hands *h, tb_span span, unsigned chains, const tb_stitch *stitch)
{
	unsigned height = tb_stitch_chains(stitch);
	g_autofree char *hint = g_strdup_printf("%s wants a turning chain of %u.", tb_hands_term(h, stitch), height);
	tb_hands_tell(h, TB_WARNING, "turning-chain-height", span, hint,
		"a turning chain of %u is too %s for %s", chains, chains < height ? "short" : "tall",
		tb_hands_term(h, stitch));
}

static bool row_has_space(const void *hands, unsigned chains)
{
	const tb_hands *h = hands;
	return has_space(h, &h->sentence->acts, chains);
}

/*
 * What stands at the corner when SKIPPED chains, SAID to count or not, are left out before the first stitch;
 * SPACE: how many of them are said to be a space, 0 for none.
 */
static void plan_corner(tb_hands *h, unsigned skipped, tb_counts said, unsigned space, tb_span span)
{
	const tb_stitch *stitch = h->now.first_work->stitch;
	unsigned height = tb_stitch_chains(stitch);
	tb_corner *corner = &h->now.corner;
	corner->skipped = corner->chains = skipped;
	if (skipped == 0)
		return;
	/* what the first row says of so many skipped chains holds for those added later */
	tb_rows_before *b = &h->before;
	if (said != TB_COUNTS_UNSAID) {
		b->skipped_chains = skipped;
		b->skipped_said = said;
	} else if (b->skipped_chains == skipped) {
		said = b->skipped_said;
	}
	tb_standing_chains standing = tb_rule_skipped_chains(&(tb_skipped_chains){.skipped = skipped, .height = height,
		.said = said, .said_space = space, .in_group = h->now.first_place != &h->now.first_work->place,
		.has_space = row_has_space, .row = h});
	corner->chains = standing.chains;
	corner->space = standing.space;
	corner->counted = standing.counted;
	if (!standing.fits && !tb_rule_fits(skipped, stitch, said == TB_COUNTS_NOT))
		warn_height(h, span, skipped, stitch);
	bool low = standing.space > 0 && (space > 0 || height < 2);
	if (said == TB_COUNTS_UNSAID && corner->counted && tb_means(h, TB_MEANS_NOT)) {
		corner->counted = false;
		h->cursor.against = corner->chains > 2;
	}
	h->now.counted_unsaid = said == TB_COUNTS_UNSAID && corner->counted;
	if (said == TB_COUNTS_UNSAID && (low || (corner->chains == 2 && (height == 2 || height == 3))))
		tb_turning_warn_unsaid(h, span, low ? skipped : corner->chains, stitch, corner->counted);
}

/* What is said of the chains skipped before the first stitch, or before the group that it is in. */
static tb_counts skipped_counts(const tb_hands *h)
{
	const tb_acts *acts = &h->sentence->acts;
	const tb_act *work = h->now.first_work;
	for (unsigned i = 0; i < acts->count && h->now.first_place != &work->place; i++) {
		if (&acts->acts[i].place == h->now.first_place && acts->acts[i].counts != TB_COUNTS_UNSAID)
			return acts->acts[i].counts;
	}
	return work->counts != TB_COUNTS_UNSAID ? work->counts : work->counts_here;
}

/* The chains row 1 skips at its beginning, said as "in 4th ch from hook" or as "sk 3 ch". */
static void find_corner(tb_hands *h)
{
	const tb_acts *acts = &h->sentence->acts;
	const tb_act *work = h->now.first_work;
	if (work == NULL || h->start.is_ring || h->start.is_tube)
		return;
	if (h->now.first_place->in == TB_IN_NTH_CHAIN || tb_start_is_first_chain(h)) {
		unsigned nth = tb_start_is_first_chain(h) ? h->start.chains : tb_hands_number(h, &h->now.first_place->count, 1);
		if (nth > 0 && nth <= h->start.chains)
			plan_corner(h, nth - 1, skipped_counts(h), work->skipped_space, work->span);
	} else if (tb_start_misses_first_chain(h)) {
		plan_corner(h, 1, TB_COUNTS_NOT, 0, work->span);
	} else if (acts->count > 0 && acts->acts[0].kind == TB_ACT_SKIP) {
		const tb_act *skip = &acts->acts[0];
		unsigned count = tb_hands_number(h, &skip->place.count, 1);
		if (count < h->start.chains) {
			tb_counts said = skip->counts != TB_COUNTS_UNSAID ? skip->counts : work->counts;
			plan_corner(h, count, said, work->skipped_space, skip->span);
			h->now.corner.said = skip;
		}
	}
}

static void make_chains(tb_hands *h, unsigned count, tb_span span)
{
	for (unsigned i = 0; i < count; i++) {
		if (tb_hands_make(h, h->working->chain, NULL, TB_MADE_CHAIN | TB_MADE_COUNTED, span) ==
			TB_NONE)
			return;
	}
}

/* Where the last row of PIECE begins in the source, or its name where it has none. */
static guint32 last_place(const tb_piece *piece)
{
	const tb_text *row = piece->rows->len > 0 ? piece->rows->pdata[piece->rows->len - 1] : NULL;
	return row != NULL ? tb_text_span(row, 0, 1).start : piece->place.start;
}

/* Whether the reader has told already, above the first row, what is wrong with the start. */
static bool was_told(const tb_hands *h)
{
	tb_diagnostics *list = h->working->diagnostics;
	const tb_pattern *pattern = h->working->pattern;
	guint32 from = h->piece > 0 ? last_place(tb_pattern_piece(pattern, h->piece - 1)) : 0;
	for (unsigned i = 0; i < tb_diagnostics_count(list); i++) {
		const tb_diagnostic *fault = tb_diagnostics_get(list, i);
		if (fault->severity == TB_ERROR && g_str_has_prefix(fault->code, "piece-") &&
			fault->has_place && fault->place.start >= from &&
			fault->place.start < h->sentence->span.start)
			return true;
	}
	return false;
}

/* Whether a piece before this one was not understood to its end: this may begin on what that has left. */
static bool follows_fault(const tb_hands *h)
{
	for (unsigned piece = 0; piece < h->piece; piece++) {
		if (tb_worked_script(h->working->worked, piece)->has_fault)
			return true;
	}
	return false;
}

void tb_turning_found(tb_hands *h)
{
	h->now.first_work = tb_turning_first_work(h, &h->sentence->acts, &h->now.first_place);
	if (h->start.chains == 0 && !h->start.is_ring)
		tb_start_find_in_row(h);
	if (h->start.change < 0 && h->start.chains > 0)
		h->start.chains -= MIN(h->start.chains - 1, (guint32)-h->start.change);
	else if (h->start.chains > 0)
		h->start.chains += (guint32)h->start.change;
	tb_start_find_tube(h);
	if (!tb_row_add(h, 0, TB_SIDE_WRONG, false))
		return;
	if (h->start.chains > TB_LIMIT_ROW_STITCHES) {
		tb_hands_tell(h, TB_ERROR, "limit-row", h->start.span, "Check the number of chains.",
			"a foundation may have %u ch", TB_LIMIT_ROW_STITCHES);
		h->start.chains = 0;
	} else if (h->start.chains == 0 && !h->start.is_ring &&
			   (h->now.first_work == NULL || h->now.first_work->stitch->foot != TB_FOOT_CHAIN)) {
		if (follows_fault(h))
			tb_hands_tell(h, TB_NOTE, "not-checked", h->sentence->span, NULL,
				"from here on nothing is checked: this begins on a piece that was not understood");
		else if (!was_told(h))
			tb_hands_tell(h, TB_ERROR, "no-foundation", h->sentence->span,
				"Begin the piece with its chain, \"Ch 20\", or say which piece it grows from.",
				"there is nothing to work the first row on");
		tb_taken_lose(h);
	}
	h->now.corner.row = 1;
	find_corner(h);
	unsigned standing = MIN(h->now.corner.chains + h->now.corner.space, h->start.chains);
	make_chains(h, h->start.chains - standing, h->start.span);
	tb_row_close(h);
}

/* The act that adds chains to the edge the next row begins at, or NULL. */
static const tb_act *find_extension(const tb_hands *h)
{
	const tb_acts *acts = &h->sentence->acts;
	if (h->now.first_place == NULL || h->now.first_place->in != TB_IN_NTH_CHAIN ||
		tb_stitch_chains(h->now.first_work->stitch) == 0)
		return NULL;
	if (h->now.pending.count > 0)
		return &h->now.pending.acts[0];
	unsigned i = acts->count > 0 && acts->acts[0].kind == TB_ACT_TURN ? 1 : 0;
	return i < acts->count && acts->acts[i].kind == TB_ACT_CHAIN ? &acts->acts[i] : NULL;
}

void tb_turning_extend(tb_hands *h)
{
	h->now.first_work = tb_turning_first_work(h, &h->sentence->acts, &h->now.first_place);
	const tb_act *act = find_extension(h);
	unsigned chains = act != NULL ? tb_hands_number(h, &act->count, 1) : 0;
	unsigned nth = act != NULL ? tb_hands_number(h, &h->now.first_place->count, 1) : 0;
	if (nth == 0 || nth > chains)
		return;
	h->now.corner = (tb_corner){.row = h->row + 1, .said = act};
	plan_corner(h, nth - 1, h->now.first_work->counts, h->now.first_work->skipped_space, h->now.first_work->span);
	make_chains(h, chains - h->now.corner.chains - h->now.corner.space, act->span);
	/* they lie at the end of that row, and are no stitches of it */
	tb_made_row *row = tb_hands_row(h, h->row);
	row->count = h->cloth.made->len - row->first;
	h->now.pending = (tb_acts){NULL, 0};
}

void tb_turning_corner(tb_hands *h)
{
	const tb_corner *corner = &h->now.corner;
	if (corner->chains == 0 || corner->row != h->row)
		return;
	tb_footing footing = {.behind = TB_NONE};
	guint32 due = corner->skipped - corner->chains - corner->space;
	if (corner->counted && corner->space == 0 && due > 0 && tb_place_count(h) > 0) {
		footing.bases[0] = tb_hands_place(h, 0);
		footing.count = 1;
		footing.rows_below = 1;
	}
	unsigned flags = TB_MADE_TURNING | (corner->counted ? TB_MADE_COUNTED : 0);
	guint32 made = tb_hands_make(h, h->working->chain, &footing, flags, h->now.first_work->span);
	if (made == TB_NONE)
		return;
	tb_hands_made(h, made)->chains = (guint8)MIN(corner->chains, 255);
	h->now.counts_as = corner->counted ? h->now.first_work->stitch : NULL;
	tb_hands_row(h, h->row)->turning_as = corner->counted ? h->now.first_work->skipped_as : NULL;
	make_chains(h, corner->space, h->now.first_work->span);
	h->cursor.due = due;
}

/*
 * "Ch 6, sc in first loop, …, ch 3, dc in last sc, turn": the row ends as it begins, so that of the 6
 * chains 3 are that dc and 3 the space beside it; 0 where it does not end so.
 */
static unsigned mirrored_space(
	const tb_hands *h, const tb_act *begin, unsigned chains, const tb_stitch **stitch)
{
	const tb_acts *acts = &h->sentence->acts;
	unsigned end = acts->count;
	while (end > 0 && (acts->acts[end - 1].kind == TB_ACT_TURN || acts->acts[end - 1].kind == TB_ACT_FASTEN_OFF))
		end--;
	if (h->sentence->is_round || end < 3 || h->now.first_work == NULL || h->now.first_work->stitch->height > 1)
		return 0;
	const tb_act *last = &acts->acts[end - 1], *chain = &acts->acts[end - 2];
	if (last->kind != TB_ACT_WORK || last->stitch == NULL || chain->kind != TB_ACT_CHAIN || chain == begin ||
		(last->place.in != TB_IN_LAST && last->place.target != TB_TARGET_TURNING_CHAIN) ||
		tb_stitch_chains(last->stitch) < 2)
		return 0;
	unsigned space = tb_hands_number(h, &chain->count, 1);
	if (space == 0 || chains != tb_stitch_chains(last->stitch) + space)
		return 0;
	*stitch = last->stitch;
	return space;
}

/*
 * "Ch 5, turn, dc in each of next 4 dc", where two chains lie beside the first stitch below: the chains are a dc over that
 * stitch, and two over those.
 */
static bool lies_over_space(const tb_hands *h, unsigned space)
{
	const tb_place *first = h->now.first_place;
	guint32 due = h->cursor.due, count = tb_place_count(h);
	if (h->now.travelled || h->now.group != NULL || h->sentence->is_round || first == NULL || first->in != TB_IN_NEXT ||
		(first->target != TB_TARGET_STITCH && first->target != TB_TARGET_NAMED) || due + 1 >= count ||
		tb_hands_number(h, &first->count, 1) < 2)
		return false;
	guint32 at = tb_hands_place(h, due), next = tb_hands_place(h, due + 1);
	const tb_made_row *row = tb_hands_row(h, tb_hands_made(h, at)->row);
	unsigned chains = 0;
	bool back = next < at;
	while ((back ? at > row->first : at + 1 < row->first + row->count) && chains <= space) {
		at = back ? at - 1 : at + 1;
		if (!(tb_hands_made(h, at)->flags & TB_MADE_CHAIN))
			return chains == space;
		chains++;
	}
	return false;
}

static bool works_squares(const tb_acts *acts)
{
	for (unsigned i = 0; i < acts->count; i++) {
		if (acts->acts[i].squares)
			return true;
	}
	return false;
}

/* Whether all the chains of the row between its stitches are two, as in filet written out. */
static bool chains_are_two(const tb_hands *h, const tb_acts *acts, unsigned depth)
{
	bool two = false;
	for (unsigned i = depth == 0 ? 1 : 0; i < acts->count && depth < TB_LIMIT_NESTING + 2; i++) {
		const tb_act *act = &acts->acts[i];
		if (act->kind == TB_ACT_CHAIN && tb_hands_number(h, &act->count, 1) != 2)
			return false;
		two = two || act->kind == TB_ACT_CHAIN || (act->body.count > 0 && chains_are_two(h, &act->body, depth + 1));
	}
	return two;
}

/*
 * Filet: "ch 7, turn, dc in first dc" sets a square beside the row's edge, two chains below it and two
 * above. Where no squares are worked, by name or by their chains, it is a loop, for a scallop to be worked in.
 */
static bool adds_square(const tb_hands *h, unsigned chains, unsigned height)
{
	const tb_place *first = h->now.first_place;
	return !h->sentence->is_round && h->now.group == NULL && first != NULL && height >= 2 &&
		chains == height + 4 && first->in == TB_IN_FIRST &&
		(first->target == TB_TARGET_STITCH || first->target == TB_TARGET_NAMED) &&
		(works_squares(&h->sentence->acts) || (height == 3 && chains_are_two(h, &h->sentence->acts, 0)));
}

/*
 * "Sl st in first 4 sts, ch 1, sc in each st to last 4": in a row the first of them goes into the last slip
 * stitch, or past it; where as many are left at the end as were slipped over, past it.
 */
static bool begins_in_slip(tb_hands *h)
{
	unsigned left = tb_hands_number(h, &h->now.first_place->count, 0);
	guint32 slipped = h->cursor.due;
	bool ends = h->now.tail > 0 && &h->sentence->acts.acts[h->now.tail - 1].place == h->now.first_place;
	if (ends && left > 0 && (left == slipped || left + 1 == slipped))
		return left + 1 == slipped;
	return !tb_means(h, TB_MEANS_PAST);
}

static bool is_together(const tb_stitch *stitch)
{
	return stitch->family == TB_FAMILY_CLUSTERS || stitch->family == TB_FAMILY_TOGETHER;
}

void tb_turning_chain(tb_hands *h, const tb_act *act)
{
	unsigned chains = tb_hands_number(h, &act->count, 1), space = 0;
	tb_cursor *c = &h->cursor;
	if (chains == 0)
		return;
	const tb_stitch *stitch = h->now.first_work != NULL ? h->now.first_work->stitch : NULL;
	bool said = act->counts == TB_COUNTS && act->stitch != NULL;
	/* "ch 2, dc2tog (counts as first dc3tog)": both together do, as where nothing is said */
	bool together = said && is_together(act->stitch) && tb_turning_is_leg(h);
	said = said && !together;
	if (said)
		stitch = act->stitch;
	unsigned height = stitch != NULL ? tb_stitch_chains(stitch) : chains;
	tb_counts counts = act->counts != TB_COUNTS_UNSAID && !together ? act->counts : act->counts_here;
	bool unsaid = counts == TB_COUNTS_UNSAID;
	bool counted = counts == TB_COUNTS || (unsaid && tb_rule_chain_counts(chains, height) && !tb_turning_is_joined_in_first(h));
	/* a chain shorter than the stitch, and then a stitch in the very first: it stands for none */
	bool in_each = h->now.first_place != NULL && h->now.travelled && h->sentence->is_round && h->now.first_place->in == TB_IN_EACH &&
		h->now.first_place->target == TB_TARGET_SPACE;
	if (unsaid && chains < height && h->now.first_place != NULL && (in_each || (h->now.first_place->in == TB_IN_FIRST &&
		tb_place_is_plain(h, h->now.first_place))))
		counted = false;
	if (unsaid && chains > 1) {
		h->cursor.against = counted && tb_means(h, TB_MEANS_NOT) && chains > 2;
		counted = (counted || (tb_means(h, TB_MEANS_COUNTS) && !tb_turning_is_joined_in_first(h))) && !tb_means(h, TB_MEANS_NOT);
		if (counted && chains > 3 && tb_means(h, TB_MEANS_SPACE)) {
			/* the first stitch, and the space behind it */
			unsigned stands = height >= 2 && height < chains ? height : 3;
			space = chains - stands;
			chains = stands;
		}
	}
	bool leg = counted && (act->counts == TB_COUNTS_UNSAID || together) && space == 0 && tb_turning_is_leg(h);
	if (leg && tb_means(h, TB_MEANS_COUNTS)) {
		h->cursor.against = true;
		leg = false;
	}
	unsigned joined = tb_turning_joined_in(h);
	if (counted && unsaid && space == 0 && joined > 1 && joined < chains) {
		space = chains - joined;
		chains = joined;
	}
	unsigned mirrored = counted && unsaid && space == 0 ? mirrored_space(h, act, chains, &stitch) : 0;
	if (mirrored > 0) {
		space = mirrored;
		chains -= mirrored;
	}
	bool square = counted && unsaid && space == 0 && mirrored == 0 && adds_square(h, chains, height);
	if (square) {
		space = 2;
		chains -= space;
	}
	/* what is much too tall is a stitch and the loop beside it */
	bool tall = unsaid && chains >= height + 3 && h->now.group == NULL && !tb_means(h, TB_MEANS_COUNTS);
	if (counted && space == 0 && height >= 2 && chains > height &&
		(tall || has_space(h, &h->sentence->acts, chains - height) || (unsaid && lies_over_space(h, chains - height)))) {
		space = chains - height;
		chains = height;
	}
	/* a leg beside others takes a stitch, and counts with them */
	if (leg && h->now.first_work->stitch->takes > 1 && h->now.first_place->in == TB_IN_NEXT && h->now.group == NULL)
		c->due += c->due < tb_place_count(h) && !h->now.travelled;
	counted = counted && !leg;
	if (stitch != NULL && !leg && !square && !tb_rule_fits(chains, stitch, counted))
		warn_height(h, act->span, chains, stitch);
	if (stitch != NULL && !leg && unsaid && ((chains == 2 && height == 2) ||
		(counted && tb_turning_begins_in_first(h, chains, height))))
		tb_turning_warn_unsaid(h, act->span, chains, stitch, counted);

	tb_footing footing = {.behind = TB_NONE};
	if (counted && h->now.group != NULL) {
		footing = *h->now.group;
	} else if (counted && h->now.travelled) {
		footing = c->last;
		tb_place_pass_space(h);
	} else if (counted && c->due < tb_place_count(h)) {
		footing.bases[0] = tb_hands_place(h, c->due++);
		footing.count = 1;
		footing.rows_below = 1;
		c->last = footing;
		c->has_last = true;
	}
	/* "ch 1, sc in each st around" begins where the hook stands; at an armhole it may be behind that */
	if (h->now.travelled && !counted && h->now.first_place != NULL && ((h->now.first_place->in == TB_IN_EACH &&
		(h->sentence->is_round || begins_in_slip(h))) || tb_turning_goes_around_spaces(h)))
		c->due = c->first;
	h->now.counted_unsaid = counted && unsaid;
	unsigned flags = TB_MADE_TURNING | (counted ? TB_MADE_COUNTED : 0);
	guint32 made = tb_hands_make(h, h->working->chain, &footing, flags, act->span);
	if (made == TB_NONE)
		return;
	tb_hands_made(h, made)->chains = (guint8)MIN(chains, 255);
	h->now.counts_as = counted ? stitch : NULL;
	tb_hands_row(h, h->row)->turning_as = counted && said ? stitch : NULL;
	make_chains(h, space, act->span);
}

void tb_turning_pending(tb_hands *h)
{
	bool begun = false;
	for (unsigned i = 0; i < h->now.pending.count; i++) {
		const tb_act *act = &h->now.pending.acts[i];
		if (act->kind != TB_ACT_CHAIN)
			continue;
		if (!begun)
			tb_turning_chain(h, act);
		else
			make_chains(h, tb_hands_number(h, &act->count, 1), act->span);
		begun = true;
	}
}
