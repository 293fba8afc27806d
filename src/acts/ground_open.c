/*
 * "THUMB: Attach yarn, sc in each of the 5 skipped sts, sc in other side of each of the 5 ch": a piece that is
 * worked around the opening of one before it, where chains go over stitches that were skipped.
 */
#include "acts/ground.h"
#include "fabric/garment.h"
#include "hands/row.h"
#include "places/place.h"

/* Whether ACT goes into stitches that were skipped; in the first row of a piece, those of another. */
static bool is_into_skipped(const tb_act *act)
{
	return (act->kind == TB_ACT_WORK || act->kind == TB_ACT_JOIN_YARN) &&
		(act->place.in == TB_IN_SKIPPED || act->place.rows_below == 2);
}

static bool goes_into_skipped(const tb_acts *acts)
{
	bool skipped = false;
	for (unsigned i = 0; i < acts->count; i++)
		skipped = skipped || is_into_skipped(&acts->acts[i]);
	return skipped;
}

/* "Hdc in each of the 9 sts": those of a sleeve, where the row has another reading in which they are. */
bool tb_ground_is_opening(const tb_sentence *sentence)
{
	bool skipped = goes_into_skipped(&sentence->acts);
	for (unsigned i = 0; i < sentence->acts.count; i++) {
		const tb_act *act = &sentence->acts.acts[i];
		if (act->kind == TB_ACT_RING || (act->kind == TB_ACT_WORK && act->place.in == TB_IN_NTH_CHAIN))
			return false;
	}
	for (unsigned i = 0; i < sentence->way_count && !skipped; i++)
		skipped = goes_into_skipped(&sentence->ways[i].acts);
	return skipped;
}

/* A stretch of made. */
typedef struct {
	guint32 from, count;
} stretch;

/* One more at AT: behind the others, or the first. */
static void extend(stretch *s, guint32 at, bool behind)
{
	*s = behind ? (stretch){s->from, s->count + 1} : (stretch){at, 1};
}

/*
 * Chains of the row R below an opening that lie at its edge are the corners of a raglan, and none of the sleeve's:
 * they are USED, as are all of a space that something is worked into.
 */
static void use_corners(const tb_fabric *f, const tb_made_row *r, bool *used)
{
	for (guint32 i = 0; i < r->count; i++) {
		guint32 end = i;
		bool worked = false;
		for (; end < r->count && (f->made[r->first + end].flags & TB_MADE_CHAIN); end++)
			worked = worked || used[end];
		bool inside = i > 0 && end < r->count && !used[i - 1] && !used[end];
		for (guint32 k = i; k < end && (worked || !inside); k++)
			used[k] = true;
		i = MAX(i, end);
	}
}

/* An opening: the chains that go over stitches, and those. */
typedef struct {
	stretch chains, skipped;
} opening;

#define MOST_OPENINGS 2u

/* The openings in ROW, where chains go over skipped stitches; how many, 0: none. */
static unsigned find_in_row(const tb_fabric *f, guint32 row, opening found[static MOST_OPENINGS])
{
	const tb_made_row *r = &f->rows[row], *below = r - 1;
	g_autofree bool *used = g_new0(bool, below->count + 1);
	unsigned openings = 0, runs = 0;
	for (guint32 i = r->first; i < r->first + r->count; i++) {
		for (unsigned k = 0; k < f->made[i].base_count; k++) {
			guint32 base = tb_fabric_base(f, &f->made[i], k);
			if (base >= below->first && base < below->first + below->count)
				used[base - below->first] = true;
		}
	}
	use_corners(f, below, used);
	for (guint32 i = 0; i < below->count; i++) {
		bool free = !used[i] && (f->made[below->first + i].flags & TB_MADE_COUNTED);
		bool before = i > 0 && !used[i - 1] && (f->made[below->first + i - 1].flags & TB_MADE_COUNTED);
		openings += free && !before;
		if (free && openings <= MOST_OPENINGS)
			extend(&found[openings - 1].skipped, below->first + i, before);
	}
	for (guint32 i = r->first; i < r->first + r->count; i++) {
		bool chain = (f->made[i].flags & TB_MADE_CHAIN) && (f->made[i].flags & TB_MADE_COUNTED);
		bool before = i > r->first && (f->made[i - 1].flags & TB_MADE_CHAIN);
		runs += chain && !before;
		if (chain && runs <= MOST_OPENINGS)
			extend(&found[runs - 1].chains, i, before);
	}
	/* as many openings as chains: mesh has more of both, and is meant by nobody */
	return openings == runs && runs <= MOST_OPENINGS && found[0].skipped.count > 1 && found[0].chains.count > 1 ? openings : 0;
}

/* The openings of a piece before this one: those of the last row there that has one. */
static const tb_fabric *find_opening(const tb_hands *h, opening found[static MOST_OPENINGS], unsigned *many)
{
	for (unsigned piece = h->piece; piece-- > 0;) {
		const tb_fabric *f = tb_worked_fabric(h->working->worked, piece, h->size);
		for (guint32 row = f->row_count; row-- > 2;) {
			*many = f->rows[row].taken || f->rows[row - 1].taken ? 0 : find_in_row(f, row, found);
			if (*many > 0)
				return f;
		}
	}
	return NULL;
}

static void lay(tb_hands *h, const tb_fabric *f, stretch s)
{
	for (guint32 i = 0; i < s.count; i++)
		tb_hands_make(h, tb_library_get(h->working->pattern->library, f->made[s.from + i].stitch), NULL,
			f->made[s.from + i].flags & (TB_MADE_COUNTED | TB_MADE_CHAIN), h->sentence->span);
}

/* Whether place I is a chain, or is none, as the bool that is wanted says. */
static bool is_kind(const tb_hands *h, guint32 i, const void *chains)
{
	bool chain = (tb_hands_made(h, tb_hands_place(h, i))->flags & TB_MADE_CHAIN) != 0;
	return chain == *(const bool *)chains;
}

/* Whether the first stitches of ACTS go into the chains, and others behind them into what was skipped. */
static bool goes_over_chains(const tb_acts *acts)
{
	for (unsigned i = 0; i < acts->count; i++) {
		if (acts->acts[i].kind == TB_ACT_WORK)
			return acts->acts[i].place.far_side && goes_into_skipped(acts);
	}
	return false;
}

static bool begins_on_chains(const tb_sentence *sentence)
{
	bool over = goes_over_chains(&sentence->acts);
	for (unsigned i = 0; i < sentence->way_count && !over; i++)
		over = !goes_into_skipped(&sentence->acts) && goes_over_chains(&sentence->ways[i].acts);
	return over;
}

/* How many of the places from the hook on are chains. */
static unsigned chains_due(const tb_hands *h)
{
	const bool chains = true;
	unsigned many = 0;
	while (h->cursor.due + many < tb_place_count(h) && is_kind(h, h->cursor.due + many, &chains))
		many++;
	return many;
}

/*
 * "SLEEVES: Join yarn at underarm. Rnd 1: Ch 1, sc in each st and each ch around": it says of no stitch that it was
 * skipped, and begins with nothing else.
 */
static bool is_unsaid_opening(const tb_hands *h, bool named)
{
	static const char *const names[] = {"sleeve", "arm", "armhole", "thumb"};
	const char *name = tb_pattern_piece(h->working->pattern, h->piece)->name;
	const tb_acts *acts = &h->sentence->acts;
	bool called = false;
	for (size_t i = 0; i < G_N_ELEMENTS(names); i++)
		called = called || tb_garment_is_called(name, names[i]);
	if (!called || !h->sentence->is_round || h->start.is_ring || named)
		return false;
	for (unsigned i = 0; i < acts->count; i++) {
		const tb_place *place = &acts->acts[i].place;
		if (acts->acts[i].kind == TB_ACT_RING || (acts->acts[i].kind == TB_ACT_WORK && (place->in == TB_IN_NTH_CHAIN || place->in == TB_IN_EDGE ||
				acts->acts[i].stitch->foot == TB_FOOT_CHAIN)))
			return false;
	}
	return true;
}

/* "SLEEVES (make 2)" around two openings: what is worked around the one is worked around the other as well. */
static void check_alike(tb_hands *h, const opening found[static MOST_OPENINGS], unsigned many)
{
	const tb_piece *piece = tb_pattern_piece(h->working->pattern, h->piece);
	if (piece->make < 2 || many < 2)
		return;
	if (piece->make > many)
		tb_hands_tell(h, TB_WARNING, "piece-from", h->sentence->span, "Change how many are made, or the row with the openings.",
			"this is made %u times, and there are %u openings", piece->make, many);
	bool over = found[0].skipped.count != found[1].skipped.count;
	unsigned one = over ? found[0].skipped.count : found[0].chains.count, other = over ? found[1].skipped.count : found[1].chains.count;
	if (one != other)
		tb_hands_tell(h, TB_ERROR, "piece-from", h->sentence->span,
			"Make the openings alike, or write out what is worked around each.",
			"this is worked around both openings, and they differ: one has %u %s, the other %u", one, over ? "skipped sts" : "chs", other);
}

bool tb_ground_lay_opening(tb_hands *h, bool named)
{
	opening found[MOST_OPENINGS] = {0};
	unsigned many = 0;
	bool unsaid = !tb_ground_is_opening(h->sentence);
	if (h->cloth.rows->len > 0 || h->piece == 0 || h->start.chains > 0 || (unsaid && !is_unsaid_opening(h, named)))
		return false;
	const tb_fabric *f = find_opening(h, found, &many);
	bool round = h->sentence->is_round;
	if (f == NULL || !tb_row_add(h, 0, round ? TB_SIDE_RIGHT : TB_SIDE_WRONG, round))
		return false;
	/* from the middle of an underarm: its chains come first */
	bool under = unsaid || begins_on_chains(h->sentence);
	lay(h, f, under ? found[0].chains : found[0].skipped);
	lay(h, f, under ? found[0].skipped : found[0].chains);
	tb_row_close(h);
	check_alike(h, found, many);
	h->start.is_ring = false;
	h->start.grown = h->start.opening = true;
	return true;
}

/* "Each of 6 skipped sts", or "4 sc in skipped sts", where 5 are: tells it. */
static void check_asked(tb_hands *h, const tb_act *act, bool chains)
{
	unsigned asked = tb_hands_number(h, &act->place.count, 0), there = 0, each = tb_hands_number(h, &act->each, 1);
	while (h->cursor.due + there < tb_place_count(h) && is_kind(h, h->cursor.due + there, &chains))
		there++;
	/* "4 sc in skipped sts" is one in each of them all */
	bool all = act->place.in == TB_IN_SKIPPED && asked == 0 && each > 1;
	asked = all ? each : asked;
	/* "Join yarn to first of the 8 skipped sts" */
	unsigned many = act->kind == TB_ACT_JOIN_YARN ? tb_hands_number(h, &act->place.many, 0) : 0;
	asked = many > 0 ? many : asked;
	if ((many > 0 && many != there) || (act->kind == TB_ACT_WORK && (asked > there || (all && asked != there))))
		tb_hands_tell(h, TB_ERROR, "past-end", act->span, NULL, "%u %s%s here, not %u", there,
			chains ? there == 1 ? "ch" : "chs" : there == 1 ? "skipped st" : "skipped sts", there == 1 ? " is" : " are", asked);
}

tb_ground_part tb_ground_find_opening(tb_hands *h, const tb_act *act)
{
	const bool joins = act->kind == TB_ACT_JOIN_YARN;
	if (!h->start.opening || h->row != 1 || h->cursor.within || (act->kind != TB_ACT_WORK && !joins))
		return (tb_ground_part){.kind = TB_GROUND_NONE};
	const bool chains = act->place.far_side || act->place.target == TB_TARGET_CHAIN;
	if (!is_into_skipped(act) && !chains)
		return (tb_ground_part){.kind = joins ? TB_GROUND_DONE : TB_GROUND_NONE};
	tb_place_bring(h, h->cursor.due, is_kind, &chains);
	check_asked(h, act, chains);
	unsigned each = tb_hands_number(h, &act->each, 1);
	tb_ground_part part = {.kind = joins ? TB_GROUND_INSTEAD : TB_GROUND_WITHIN, .act = *act};
	tb_place *place = &part.act.place;
	place->rows_below = 1;
	place->of_row = 0;
	place->far_side = false;
	place->target = TB_TARGET_STITCH;
	if (act->place.halved) {
		place->in = TB_IN_NEXT;
		int *half = tb_arena_new(h->working->arena, int);
		*half = (int)MAX((chains_due(h) + 1) / 2, 1);
		place->count = (tb_number){1, half, act->span};
	}
	if (joins) {
		place->in = TB_IN_NEXT;
		place->count = (tb_number){1, tb_number_one, act->span};
		return part;
	}
	place->ground = NULL;
	if (act->place.in == TB_IN_SKIPPED && act->place.count.count > 0) {
		/* "sc in next skipped st": that one */
		place->in = TB_IN_NEXT;
	} else if (act->place.in == TB_IN_SKIPPED) {
		/* "5 sc into missed sts": one in each */
		bool many = each > 1;
		place->in = many ? TB_IN_NEXT : TB_IN_EACH;
		place->count = many ? act->each : (tb_number){0, NULL, act->span};
		part.act.each = (tb_number){1, tb_number_one, act->span};
	}
	return part;
}
