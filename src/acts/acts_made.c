/*
 * "3 dc in ring (4 dc made), ch 2, …": what is said, in the midst of a row, to be made by then. It may be of
 * the stitches just before it, of those of several acts, or of the whole row so far.
 */
#include "acts/acts.h"
#include "places/place.h"

/* What stands between two places of the row, of the kind that is claimed. */
typedef struct {
	unsigned kind, kin, all, groups, spaces;
	bool chain; /* the turning chain, which counts */
} tally;

static void add(const tb_hands *h, const tb_claim *claim, guint32 i, tally *t)
{
	const tb_made *made = tb_hands_made(h, i);
	const tb_stitch *stitch = tb_hands_stitch(h, made), *of = claim->stitch;
	if (made->flags & TB_MADE_TURNING) {
		bool counted = (made->flags & TB_MADE_COUNTED) != 0;
		t->kind += counted && of != NULL && h->now.counts_as == of;
		t->all += counted;
		t->chain = t->chain || counted;
	} else {
		t->kind += of != NULL && stitch == of;
		/* "2 clusters made": of so many legs or others */
		t->kin += of != NULL && stitch != of && (tb_rule_is_together(stitch, of) ||
			tb_place_is_post_of(h, i, of) || (of->family != TB_FAMILY_PLAIN && of->family == stitch->family));
		t->all += stitch != h->working->slip && !(made->flags & TB_MADE_CHAIN);
	}
	guint32 first = tb_hands_row(h, h->row)->first;
	const tb_made *before = i > first ? tb_hands_made(h, i - 1) : NULL;
	/* a run of chains, as long as is said */
	if ((made->flags & TB_MADE_CHAIN) != 0 && (before == NULL || !(before->flags & TB_MADE_CHAIN)))
		t->spaces++;
	t->groups += made->group != 0 && (i == first || tb_hands_made(h, i - 1)->group != made->group);
	/* a word of the pattern's own may be one stitch */
	t->groups += claim->own != NULL && claim->own->stitch == stitch && made->group == 0;
}

static bool is_said(const tb_claim *claim, const tally *t, unsigned said)
{
	if (claim->spaces)
		return said == t->spaces;
	if (claim->own != NULL || claim->groups)
		return said == t->groups;
	if (claim->stitch != NULL)
		return said == t->kind || said == t->kind + t->kin;
	return said == t->all;
}

static bool is_begin(const tb_hands *h, guint32 at)
{
	for (guint32 k = 0; k < MIN(h->now.begin_count, TB_MOST_BEGINS); k++) {
		if (h->now.begins[k] == at)
			return true;
	}
	return at == tb_hands_row(h, h->row)->first;
}

/* Whether spaces side by side may begin with what is made at AT: no chain, behind another that is none. */
static bool is_run_begun(const tb_hands *h, guint32 at)
{
	return !(tb_hands_made(h, at)->flags & TB_MADE_CHAIN) && at > tb_hands_row(h, h->row)->first &&
		!(tb_hands_made(h, at - 1)->flags & TB_MADE_CHAIN);
}

/* Whether it was told in a pass before this one. */
static bool was_told(const tb_hands *h, const tb_claim *claim)
{
	for (guint i = 0; claim->inside && i < h->teller.held->len; i++) {
		if (g_array_index(h->teller.held, tb_held_fault, i).span.start == claim->span.start)
			return true;
	}
	return false;
}

static void account(tb_hands *h, const tb_claim *claim, guint32 from)
{
	if (claim->count.count == 0 || (claim->other && !claim->groups) ||
		was_told(h, claim))
		return;
	unsigned said = tb_hands_number(h, &claim->count, 0);
	tally t = {0};
	bool ran = false;
	guint32 first = tb_hands_row(h, h->row)->first;
	tb_hands_look(h, h->cloth.made->len - first);
	for (guint32 i = h->cloth.made->len; i-- > first;) {
		add(h, claim, i, &t);
		/* spaces: those of the act itself, those side by side, or all there are in the row so far */
		bool run = claim->spaces && !ran && t.spaces > 0 && is_run_begun(h, i);
		bool begin = claim->spaces ? run || i == from || i == first :
			claim->with_chain ? i == first && t.chain : is_begin(h, i);
		if (begin && is_said(claim, &t, said))
			return;
		ran = ran || run;
	}
	const char *kind = claim->spaces ? "spaces" : claim->stitch != NULL ? tb_hands_term(h, claim->stitch) :
		claim->own != NULL || claim->groups ? "groups" : "sts";
	unsigned made = claim->spaces ? t.spaces : claim->stitch != NULL ? t.kind + t.kin :
		claim->own != NULL || claim->groups ? t.groups : t.all;
	tb_hands_tell(h, claim->inside ? TB_WARNING : TB_ERROR, "count-claimed", claim->span, "Change the count, or what is worked before it.",
		"no %u %s are made here: the row has %u so far", said, kind, made);
}

void tb_acts_made(tb_hands *h, const tb_act *act, guint32 from)
{
	for (unsigned i = 0; i < act->claim_count; i++)
		account(h, &act->claims[i], from);
}
