/* What a first row is worked on: a chain it brings itself, a ring, a tube of chains. */
#include "acts/own.h"
#include "acts/start.h"
#include "hands/colour.h"

static bool works_in_ring(const tb_acts *acts, unsigned depth)
{
	for (unsigned i = 0; i < acts->count; i++) {
		const tb_act *act = &acts->acts[i];
		bool placed = act->kind == TB_ACT_WORK || act->kind == TB_ACT_GROUP;
		if ((placed && act->place.in == TB_IN_RING) ||
			(depth < TB_LIMIT_NESTING + 2 && works_in_ring(&act->body, depth + 1)))
			return true;
	}
	return false;
}

/* "Ch 2, 6 sc in first ch": of a few chains, the one made first, which is farthest from the hook. */
bool tb_start_is_first_chain(const tb_hands *h)
{
	const tb_place *place = h->now.first_place;
	return h->sentence->is_round && h->start.chains > 1 && h->start.chains <= 4 && h->now.first_work != NULL &&
		place->in == TB_IN_FIRST && place->target == TB_TARGET_CHAIN &&
		tb_hands_number(h, &place->count, 1) == 1 && tb_hands_number(h, &h->now.first_work->each, 1) > 1;
}

/* "Ch 21. 20 sc": on one chain more than stitches, the one beside the hook turns. */
bool tb_start_misses_first_chain(const tb_hands *h)
{
	const tb_acts *acts = &h->sentence->acts;
	const tb_act *work = h->now.first_work;
	unsigned works = 0;
	for (unsigned i = 0; i < acts->count; i++) {
		tb_act_kind kind = acts->acts[i].kind;
		works += kind == TB_ACT_WORK || kind == TB_ACT_GROUP || kind == TB_ACT_REPEAT || kind == TB_ACT_SKIP ||
			kind == TB_ACT_CHAIN || kind == TB_ACT_LEAVE;
	}
	return works == 1 && work->bare && work->place.in == TB_IN_NEXT && work->stitch->height > 0.5 &&
		work->stitch->height < 1.5 && work->stitch->takes == 1 && !h->sentence->is_round &&
		tb_hands_number(h, &work->place.count, 1) + 1 == h->start.chains;
}

/* A row that begins "Ch 21, sc in 2nd ch from hook" brings its foundation with it. */
void tb_start_find_in_row(tb_hands *h)
{
	const tb_acts *acts = &h->sentence->acts;
	if (acts->count == 0)
		return;
	const tb_act *first = &acts->acts[0];
	bool few = tb_hands_number(h, &first->count, 1) <= 3;
	if (first->kind == TB_ACT_CHAIN && h->now.first_place != NULL && (!few ||
			h->now.first_place->in == TB_IN_NTH_CHAIN || (h->now.first_place->in == TB_IN_FIRST &&
				h->now.first_place->target == TB_TARGET_CHAIN))) {
		h->start.chains = tb_hands_number(h, &first->count, 1);
		h->start.span = first->span;
		h->now.corner.said = first;
	}
	for (unsigned i = 0; i < acts->count; i++)
		h->start.is_ring = h->start.is_ring || (acts->acts[i].kind == TB_ACT_RING && !acts->acts[i].bare);
	h->start.is_ring = h->start.is_ring || works_in_ring(acts, 0);
}

/* A ring of a flower or a mat has so many chains at the most. */
#define MOST_RING_CHAINS 12u

/* "10 chain, join. 3 chain, 19 treble, join": far more than there are chains, and nothing else, go into the ring. */
static bool crowds_ring(const tb_hands *h)
{
	const tb_acts *acts = &h->sentence->acts;
	const tb_act *work = h->now.first_work;
	for (unsigned i = 0; i < acts->count; i++) {
		tb_act_kind kind = acts->acts[i].kind;
		if (&acts->acts[i] != work && kind != TB_ACT_CHAIN && kind != TB_ACT_RING && kind != TB_ACT_JOIN)
			return false;
	}
	return work->kind == TB_ACT_WORK && work->bare && work->place.in == TB_IN_NEXT && h->start.chains <= MOST_RING_CHAINS &&
		2 * tb_hands_number(h, &work->place.count, 1) >= 3 * h->start.chains;
}

/* A joined chain is a ring to work into, or a long one whose chains are worked one by one. */
void tb_start_find_tube(tb_hands *h)
{
	h->start.is_tube = h->start.is_ring && h->start.chains > 0 && h->now.first_work != NULL && !crowds_ring(h) &&
				 !works_in_ring(&h->sentence->acts, 0) && h->now.first_place->in != TB_IN_NTH_CHAIN &&
				 (h->now.first_place->target == TB_TARGET_CHAIN ||
					 h->now.first_place->target == TB_TARGET_STITCH ||
					 /* older books call each chain a loop */
					 (h->now.first_place->loose && h->now.first_place->in == TB_IN_EACH));
	if (h->start.is_tube)
		h->start.is_ring = false;
}

/* The length of CHAIN, which is not said, and says so. */
static guint32 open_length(tb_hands *h, const tb_act *chain)
{
	tb_hands_tell(h, TB_NOTE, "chain-open", chain->span, "Any other with which every row comes out will do.",
		"how long this chain is, is not said; %u ch are shown", h->start.open);
	return h->start.open;
}

void tb_start_work(tb_hands *h, const tb_sentence *sentence)
{
	h->sentence = sentence;
	tb_colour_begin(h, sentence);
	tb_colour_end(h, sentence, 0);
	h->colours.fresh = true;
	for (unsigned i = 0; i < sentence->acts.count; i++) {
		const tb_act *act = &sentence->acts.acts[i];
		if (act->kind == TB_ACT_CHAIN) {
			h->start.chains += act->unsaid ? open_length(h, act) : tb_hands_number(h, &act->count, 1);
			h->start.chains = MIN(h->start.chains, TB_LIMIT_NUMBER);
			h->start.span = act->span;
		} else if (act->kind == TB_ACT_RING || act->kind == TB_ACT_JOIN) {
			/* a foundation row joined is the beginning of a tube, not a ring to work into */
			h->start.is_ring = !h->start.grown;
		} else if (!tb_own_found(h, act) &&
				   (act->kind == TB_ACT_WORK || act->kind == TB_ACT_REPEAT ||
					   act->kind == TB_ACT_GROUP)) {
			tb_hands_tell(h, TB_ERROR, "not-worked", act->span, "Write them as row 1.",
				"stitches worked before row 1 are not understood here");
		}
	}
}
