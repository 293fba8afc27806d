/*
 * Which stitches of the row below a name means: "each dc" is a dc, and a turning chain that stands for one;
 * over post stitches, decreases or popcorns it is mostly these as well.
 */
#include "places/place.h"

#include <math.h>
#include <string.h>

bool tb_place_is_kind(const tb_hands *h, guint32 index, const tb_stitch *named)
{
	tb_stitches made = tb_hands_stitches(h);
	return tb_rule_is_kind(&made, index, named);
}

bool tb_place_is_of(const tb_hands *h, guint32 index, const tb_place *place)
{
	if (place->target == TB_TARGET_NAMED)
		return tb_place_is_kind(h, index, place->named) || tb_place_is_post_of(h, index, place->named);
	bool chain = (tb_hands_made(h, index)->flags & TB_MADE_CHAIN) != 0;
	return place->target == TB_TARGET_STITCH || (chain && (place->target == TB_TARGET_CHAIN || place->target == TB_TARGET_SPACE));
}

bool tb_place_is_post_of(const tb_hands *h, guint32 index, const tb_stitch *named)
{
	const tb_stitch *made = tb_hands_stitch(h, tb_hands_made(h, index));
	/* a long sc is one of the sc */
	if (named->foot != TB_FOOT_DEEP && made->foot == TB_FOOT_DEEP && strncmp(made->us, "spike ", strlen("spike ")) == 0)
		return strcmp(made->us + strlen("spike "), named->us) == 0;
	/* and so is one with a bead */
	if (tb_stitch_has_bead(made))
		return strcmp(made->us + strlen("bead "), named->us) == 0;
	return named->post == TB_POST_NONE && made->post != TB_POST_NONE &&
		strlen(made->us) > strlen("FP") && strcmp(made->us + strlen("FP"), named->us) == 0;
}

static bool is_together(const tb_stitch *stitch)
{
	return stitch->family == TB_FAMILY_TOGETHER;
}

bool tb_place_is_several(const tb_stitch *stitch)
{
	return stitch->takes == 1 && stitch->legs > 1 && (stitch->family == TB_FAMILY_CLUSTERS ||
		stitch->family == TB_FAMILY_PUFFS || stitch->family == TB_FAMILY_POPCORNS);
}

static bool is_post(const tb_stitch *stitch)
{
	return stitch->post != TB_POST_NONE;
}

/* Whether the row speaks of such stitches by their own name, as in "2 dc in each dc2tog". */
static bool names(const tb_acts *acts, bool (*is_such)(const tb_stitch *stitch))
{
	for (unsigned i = 0; i < acts->count; i++) {
		for (const tb_act *act = &acts->acts[i]; act != NULL; act = act->other) {
			if ((act->kind == TB_ACT_WORK || act->kind == TB_ACT_SKIP) &&
				act->place.target == TB_TARGET_NAMED && is_such(act->place.named))
				return true;
			const tb_place *but = act->kind == TB_ACT_WORK ? act->place.but : NULL;
			if (but != NULL && but->target == TB_TARGET_NAMED && is_such(but->named))
				return true;
		}
		if (acts->acts[i].kind == TB_ACT_REPEAT && names(&acts->acts[i].body, is_such))
			return true;
	}
	return false;
}

/*
 * "Dc in each dc" over a row of post stitches: they are dc as well, where the row below has none that
 * are nothing else, or EACH is said and no post stitch by its own name.
 */
static bool is_kin(const tb_hands *h, guint32 index, const tb_stitch *named, bool each)
{
	if (!tb_place_is_post_of(h, index, named))
		return false;
	if (each && !names(&h->sentence->acts, is_post))
		return true;
	tb_hands_look(h, tb_place_count(h));
	bool plain = false, others = false;
	for (guint32 i = 0; i < tb_place_count(h); i++) {
		plain = plain || tb_hands_made(h, tb_hands_place(h, i))->stitch == named->number;
		others = others || !(tb_place_is_kind(h, tb_hands_place(h, i), named) || tb_place_is_post_of(h, tb_hands_place(h, i), named));
	}
	/* "FPdc around next dc, dc in next 2 dc" over both, where nothing calls a post stitch by its name */
	return !plain || (!others && !names(&h->sentence->acts, is_post));
}

/* "Sc in each sc" above decreases goes into these as well. */
static bool is_decrease_of(const tb_hands *h, const tb_place *place, guint32 index)
{
	const tb_stitch *made = tb_hands_stitch(h, tb_hands_made(h, index)), *named = place->named;
	return place->in == TB_IN_EACH && made != NULL && made->family == TB_FAMILY_TOGETHER &&
		made->takes > 1 && named->family != TB_FAMILY_TOGETHER && named->takes == 1 &&
		named->legs == 1 && made->post == named->post && fabs(made->height - named->height) < 0.01 &&
		!names(&h->sentence->acts, is_together);
}

/* "Sc in each dc" above popcorns and dc goes into all of them, where the row does not speak of popcorns. */
static bool is_several_among(const tb_hands *h, const tb_place *place, guint32 index)
{
	const tb_stitch *made = tb_hands_stitch(h, tb_hands_made(h, index)), *named = place->named;
	return place->in == TB_IN_EACH && made != NULL && tb_place_is_several(made) && named->takes == 1 && named->legs == 1 &&
		named->post == TB_POST_NONE && !names(&h->sentence->acts, tb_place_is_several);
}

static bool is_plain_stitch(const tb_stitch *stitch)
{
	return stitch->family == TB_FAMILY_PLAIN && stitch->legs == 1 && stitch->takes == 1 && stitch->height > 0;
}

/*
 * "Rows 3-8: rep Row 2", where Row 2 goes into each sc and makes hdc: its words are those of the row it was
 * written on. Where the row below has none of that name, and is of one plain stitch, that is meant.
 */
static bool is_of_row_again(const tb_hands *h, const tb_place *place, guint32 index)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	const tb_made *asked = tb_hands_made(h, index);
	if (row->written >= row->number || !is_plain_stitch(place->named) || place->named->post != TB_POST_NONE ||
		!(asked->flags & TB_MADE_COUNTED) || asked->flags & TB_MADE_CHAIN)
		return false;
	guint16 only = 0;
	for (guint32 i = 0; i < tb_place_count(h); i++) {
		const tb_made *made = tb_hands_made(h, tb_hands_place(h, i));
		tb_hands_look(h, 1);
		if (made->flags & TB_MADE_TURNING)
			continue;
		if (made->flags & TB_MADE_CHAIN || made->stitch == place->named->number ||
			!is_plain_stitch(tb_hands_stitch(h, made)) || (only > 0 && made->stitch != only))
			return false;
		only = made->stitch;
	}
	return only > 0;
}

/* "Ch 3, dc2tog in same st (beg cl)": the first of a row's clusters has its chain for a leg. */
static bool is_first_of(const tb_hands *h, guint32 index, const tb_stitch *named)
{
	guint32 first = tb_hands_row(h, tb_hands_made(h, index)->row)->first, i = first;
	while (i < index && tb_hands_made(h, i)->flags & (TB_MADE_CHAIN | TB_MADE_TURNING))
		i++;
	return i == index && index > first && tb_place_is_several(named) &&
		tb_rule_has_one_more(named, tb_hands_stitch(h, tb_hands_made(h, index)));
}

bool tb_place_is_named(const tb_hands *h, const tb_place *place, guint32 index)
{
	return is_first_of(h, index, place->named) || tb_place_is_kind(h, index, place->named) || is_decrease_of(h, place, index) ||
		is_several_among(h, place, index) || is_kin(h, index, place->named, place->in == TB_IN_EACH) ||
		is_of_row_again(h, place, index);
}

bool tb_place_has_post(const tb_hands *h, guint32 index)
{
	const tb_made *made = tb_hands_made(h, index);
	if (made->flags & TB_MADE_TURNING)
		return true;
	return !(made->flags & TB_MADE_CHAIN) && tb_hands_stitch(h, made)->height > 0;
}

bool tb_place_is_plain(const tb_hands *h, const tb_place *place)
{
	return !tb_place_is_deep(h, place) && !place->middle && !(place->marked && h->cloth.marks->len > 0) && place->also == NULL && place->but == NULL &&
		   place->of == NULL && place->amid == 0 &&
		   (place->target == TB_TARGET_STITCH ||
			   (place->target == TB_TARGET_CHAIN && tb_place_is_foundation(h)));
}

unsigned tb_place_loops(const tb_hands *h, const tb_place *place)
{
	switch (place->loops != TB_LOOPS_BOTH ? place->loops : h->now.loops) {
	case TB_LOOPS_FRONT:
		return TB_MADE_FRONT_LOOP;
	case TB_LOOPS_BACK:
		return TB_MADE_BACK_LOOP;
	case TB_LOOPS_THIRD:
		return TB_MADE_THIRD_LOOP;
	case TB_LOOPS_BOTH:
		break;
	}
	return 0;
}
