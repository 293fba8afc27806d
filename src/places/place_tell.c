/* What is told where the hook cannot go in, or passes over what it should have gone into. */
#include "places/place.h"
#include "places/repeat_need.h"

char *tb_place_words(const tb_hands *h, const tb_place *place, unsigned count)
{
	const char *s = count == 1 ? "" : "s";
	if (place->marked)
		return g_strdup_printf("%u marked st%s", count, s);
	switch (place->target) {
	case TB_TARGET_CHAIN:
		return g_strdup_printf("%u ch", count);
	case TB_TARGET_SPACE:
		if (place->space_chains > 0)
			return g_strdup_printf("%u ch-%u sp%s", count, place->space_chains, s);
		return g_strdup_printf("%u sp%s", count, s);
	case TB_TARGET_NAMED:
		return g_strdup_printf("%u %s", count, tb_hands_term(h, place->named));
	case TB_TARGET_TURNING_CHAIN:
		return g_strdup("the turning chain");
	case TB_TARGET_GROUP:
		return place->own != NULL ? g_strdup_printf("%u %s", count, place->own->name) :
			g_strdup_printf("%u group%s", count, s);
	case TB_TARGET_STITCH:
		break;
	}
	return g_strdup_printf("%u st%s", count, s);
}

/* What is there, what the row takes as far as that is known, and the chain that would do. */
static char *past_end_hint(tb_hands *h)
{
	unsigned there = (unsigned)tb_place_count(h);
	gint64 takes = tb_repeat_need(h, h->sentence->acts.acts, h->sentence->acts.count);
	g_autofree char *chains = h->now.group == NULL ? h->working->repair(h, 1, false) : NULL;
	GString *hint = g_string_new(NULL);
	g_string_append_printf(hint, "%u st%s there", there, there == 1 ? " is" : "s are");
	if (takes > there)
		g_string_append_printf(hint, ", the %s takes %" G_GINT64_FORMAT,
			h->sentence->is_round ? "round" : "row", takes);
	g_string_append_printf(hint, ".%s%s%s", chains != NULL ? " Start with " : "",
		chains != NULL ? chains : "", chains != NULL ? "." : "");
	return g_string_free(hint, FALSE);
}

/* Which spaces the row below has. */
static char *spaces_hint(const tb_hands *h)
{
	unsigned run = 0, shortest = 0, longest = 0;
	if (h->row == 1 && !h->start.grown)
		return g_strdup("A foundation chain has chains to work into, and no spaces.");
	for (guint32 i = 0; i <= tb_place_count(h); i++) {
		if (i < tb_place_count(h) && tb_place_is_chain(h, i)) {
			run++;
			continue;
		}
		shortest = run > 0 && (shortest == 0 || run < shortest) ? run : shortest;
		longest = MAX(longest, run);
		run = 0;
	}
	if (longest == 0)
		return g_strdup("The row below has no spaces.");
	if (shortest == longest)
		return g_strdup_printf("The spaces of the row below are ch-%u sps.", longest);
	return g_strdup_printf(
		"The spaces of the row below are ch-%u to ch-%u sps.", shortest, longest);
}

void tb_place_tell_none(tb_hands *h, const tb_act *act, const tb_stitch *stitch, unsigned taken)
{
	const tb_place *place = &act->place;
	guint32 left = tb_place_count(h) - MIN(h->cursor.due, tb_place_count(h));
	if (place->target == TB_TARGET_TURNING_CHAIN) {
		tb_hands_give_up(h, "place-missing", place->span,
			"Work into the last st instead, or say that the turning chain counts.",
			"there is no turning chain left that counts as a stitch");
	} else if (place->target == TB_TARGET_SPACE) {
		g_autofree char *words = tb_place_words(h, place, 1);
		g_autofree char *hint = spaces_hint(h);
		tb_hands_give_up(
			h, "space-missing", place->span, hint, "there is no %s left to work into", words + 2);
	} else if (!tb_place_is_plain(h, place) && place->rows_below < 2) {
		g_autofree char *words = tb_place_words(h, place, 1);
		tb_hands_give_up(h, "place-missing", act->span, "Look at the row below for it.",
			"there is no %s left to work into", words + 2);
	} else {
		unsigned takes = stitch != NULL ? MAX(stitch->takes, 1) : 1;
		unsigned asked = place->in == TB_IN_EACH || place->in == TB_IN_LAST
							 ? (taken / takes + 1) * takes
							 : tb_hands_number(h, &place->count, 1) * takes;
		unsigned there = (unsigned)left + taken;
		g_autofree char *words = tb_place_words(h, place, MAX(asked, 1));
		g_autofree char *hint = past_end_hint(h);
		if (there == 0)
			tb_hands_give_up(h, "past-end", act->span, hint,
				"this asks for %s, and the end of the %s is reached", words,
				h->sentence->is_round ? "round" : "row");
		else
			tb_hands_give_up(h, "past-end", act->span, hint,
				"this asks for %s, and only %u %s left", words, there, there == 1 ? "is" : "are");
	}
}

/* Chains of the row below, and slip stitches, may be passed over unsaid. */
void tb_place_tell_passed(tb_hands *h, const tb_act *act, guint32 to)
{
	unsigned count = 0;
	bool foundation = h->row == 1 && !h->start.grown;
	/* "join yarn in 6th st from the end": the row is worked on so many alone */
	if (act->kind == TB_ACT_JOIN_YARN && act->place.in == TB_IN_LAST && tb_hands_number(h, &act->place.count, 1) > 1)
		return;
	for (guint32 i = h->cursor.due; i < to; i++)
		count += foundation || tb_place_has_post(h, tb_hands_place(h, i));
	if (count == 0)
		return;
	/* as many as were passed over on the way: the other half of what is at the beginning */
	if (count == h->cursor.before_named) {
		tb_hands_tell(h, TB_WARNING, "passed-over", act->place.span, "Say how many are skipped, if that is meant.",
			"%u st%s passed over before this", count, count == 1 ? " is" : "s are");
		return;
	}
	tb_hands_tell(h, TB_ERROR, "unworked", act->span, "Work into them, or say how many to skip.",
		"%u st%s left unworked before this", count, count == 1 ? " is" : "s are");
}

void tb_place_warn_passed(tb_hands *h, const tb_act *act, guint32 to)
{
	unsigned stitches = 0;
	for (guint32 i = MAX(h->cursor.due, MIN(h->cursor.passed, to)); i < to; i++)
		stitches += tb_place_has_post(h, tb_hands_place(h, i)) && i != h->now.turning_place;
	if (act->place.target != TB_TARGET_NAMED || act->place.middle || stitches == 0 ||
		h->cursor.in_space)
		return;
	h->cursor.before_named = stitches;
	g_autofree char *hint =
		g_strdup_printf("Say \"sk %u st%s\" if that is meant.", stitches, stitches == 1 ? "" : "s");
	tb_hands_tell(h, TB_WARNING, "passed-over", act->place.span, hint,
		"%u st%s passed over to the next %s", stitches, stitches == 1 ? " is" : "s are",
		tb_hands_term(h, act->place.named));
}

void tb_place_warn_sames(tb_hands *h, const tb_place *place)
{
	if (place->sames)
		tb_hands_tell(h, TB_WARNING, "two-readings", place->span, "Say \"next\" where that is meant.",
			"the same is one place, and these are several: the next ones are taken");
}

void tb_place_tell_chains_left(tb_hands *h, const tb_act *act, guint32 to)
{
	guint32 end = h->cursor.due;
	const tb_made *last = h->cloth.made->len > h->now.begun ? tb_hands_made(h, h->cloth.made->len - 1) : NULL;
	/* filet: a chain made before this lies over them */
	bool over = last != NULL && last->flags & TB_MADE_CHAIN && !(last->flags & TB_MADE_TURNING);
	if (h->row < 2 || h->row != h->now.corner.row || h->start.grown || over)
		return;
	while (end < to && tb_place_is_chain(h, end))
		end++;
	for (guint32 at = h->cursor.first; at < end; at++) {
		if (!tb_place_is_chain(h, at))
			return;
	}
	guint32 left = end - h->cursor.due;
	if (left > 0 && end > h->cursor.first)
		tb_hands_tell(h, TB_ERROR, "unworked", act->span, "Work into all the chains that were made, or say how many to skip.",
			"%u ch %s left unworked before this", left, left == 1 ? "is" : "are");
}

/* Whether the stitch MADE of this row stands on the place AT; the turning chain stands on the first, whatever it is joined to. */
static bool stands_at(const tb_hands *h, guint32 made, guint32 at)
{
	const tb_made *one = tb_hands_made(h, made);
	bool found = one->flags & TB_MADE_TURNING && at == h->cursor.first;
	for (unsigned leg = 0; leg < one->base_count && !found; leg++)
		found = tb_hands_base(h, one, leg) == tb_hands_place(h, at);
	return found;
}

unsigned tb_place_count_worked_side(const tb_hands *h)
{
	guint32 made = h->cloth.made->len, at = h->cursor.due;
	bool found = false;
	while (at > h->cursor.first && !tb_place_is_chain(h, at - 1)) {
		unsigned flags = made > h->now.begun ? tb_hands_made(h, made - 1)->flags : TB_MADE_CHAIN;
		bool stitch = !(flags & TB_MADE_IN_SPACE) && (flags & TB_MADE_TURNING || !(flags & TB_MADE_CHAIN)) &&
			(made == 0 || tb_hands_stitch(h, tb_hands_made(h, made - 1)) != h->working->slip);
		if (stitch && stands_at(h, made - 1, at - 1)) {
			made--;
			found = true;
			continue;
		}
		if (!found)
			return 0;
		at--;
		found = at > h->cursor.first && made < h->cloth.made->len && stands_at(h, made, at - 1); /* a leg of the same */
	}
	return h->cursor.due - at;
}

static void tell_before_space(tb_hands *h, tb_span span, unsigned chains, unsigned stitches)
{
	const tb_place space = {.target = TB_TARGET_SPACE, .space_chains = chains};
	g_autofree char *words = tb_place_words(h, &space, 1);
	g_autofree char *hint = g_strdup_printf("Work into %s, or say \"sk %u st%s\" if that is meant.", stitches == 1 ? "it" : "them",
		stitches, stitches == 1 ? "" : "s");
	tb_hands_tell(h, TB_WARNING, "passed-over", span, hint, "%u st%s passed over to the next %s", stitches,
		stitches == 1 ? " is" : "s are", words + 2);
}

void tb_place_warn_before_space(tb_hands *h, const tb_act *act, guint32 to)
{
	tb_cursor *c = &h->cursor;
	guint32 from = MAX(c->due, MIN(c->passed, to)), begin, end;
	unsigned stitches = 0;
	for (guint32 i = from; i < to; i++)
		stitches += tb_place_has_post(h, tb_hands_place(h, i)) && i != h->now.turning_place;
	if (act->place.in != TB_IN_NEXT || act->place.target != TB_TARGET_SPACE || (stitches == 0 && c->beside_space))
		return;
	unsigned side = tb_place_count_worked_side(h), own = 0;
	c->beside_space = c->beside_space || (stitches == 0 && side > 1);
	if (c->beside_space && c->side_left > 0) {
		tell_before_space(h, c->side_span, c->side_chains, c->side_left);
		c->side_left = 0;
	}
	/* "V-st in next ch-1 sp" passes over the leg before the space, as over the one behind it */
	if (stitches > 0 && !c->beside_space && tb_place_group(h, to, &begin, &end) && begin < to)
		own = MIN(stitches, to - MAX(begin, from));
	if (stitches > own && side > 1) {
		tell_before_space(h, act->place.span, act->place.space_chains, stitches - own);
	} else if (stitches > 0 && side > 0 && c->side_left == 0) {
		c->side_left = stitches;
		c->side_chains = act->place.space_chains;
		c->side_span = act->place.span;
	}
}

void tb_place_tell_spaces_passed(tb_hands *h, const tb_act *act, guint32 to)
{
	const tb_place *place = &act->place;
	guint32 begin, end;
	if (place->target != TB_TARGET_SPACE || place->space_chains > 0 ||
		!tb_place_find_from(h, place, h->cursor.due, &begin, &end) || begin >= to)
		return;
	g_autofree char *words = tb_place_words(h, &act->place, 1);
	tb_hands_tell(h, TB_ERROR, "unworked", act->span, "Work into them, or say how many to skip.",
		"there is another %s before the last one", words + 2);
}

/* Whether so many places were skipped right before this one, and it was said how many. */
static bool has_just_skipped(const tb_hands *h)
{
	const tb_cursor *c = &h->cursor;
	const tb_act *skip = c->skipped_by;
	return skip != NULL && c->skipped_count > 0 && c->skipped_from + c->skipped_count == c->due && c->skipped_used == 0 &&
		tb_hands_number(h, &skip->place.count, 0) > 0 && skip->place.in == TB_IN_NEXT;
}

void tb_place_tell_named_passed(tb_hands *h, const tb_act *act, guint32 to)
{
	const tb_place *place = &act->place;
	guint32 from = MAX(h->cursor.due, MIN(h->cursor.passed, to));
	unsigned count = 0, others = 0;
	if (place->target != TB_TARGET_NAMED || place->of != NULL || h->cursor.in_space || act->kind == TB_ACT_JOIN_YARN)
		return;
	for (guint32 i = from; i < to; i++) {
		bool named = tb_place_matches(h, place, i);
		count += named;
		others += !named && tb_place_has_post(h, tb_hands_place(h, i)) && i != h->now.turning_place;
	}
	/* "sk 2 dc, sc in last sc", where 3 dc stand before it */
	if (count == 0 && others > 0 && has_just_skipped(h))
		tb_hands_tell(h, TB_ERROR, "unworked", act->span, "Work into them, or say how many to skip.",
			"%u st%s left unworked before this", others, others == 1 ? " is" : "s are");
	bool chain = h->cloth.made->len > h->now.begun && tb_hands_made(h, h->cloth.made->len - 1)->flags & TB_MADE_CHAIN;
	if (count > 0)
		tb_hands_tell(h, chain ? TB_WARNING : TB_ERROR, chain ? "passed-over" : "unworked", act->span,
			"Work into them, or say how many to skip.", "%u %s%s left unworked before the last one", count,
			tb_hands_term(h, place->named), count == 1 ? " is" : " are");
}

void tb_place_warn_spaces_before_last(tb_hands *h, const tb_act *act, guint32 to)
{
	unsigned spaces = 0;
	bool before = false;
	if (h->row == 1 || h->sentence->is_round || h->now.repeating > 0 || h->now.group != NULL || act->place.target == TB_TARGET_SPACE ||
		act->kind == TB_ACT_JOIN_YARN || act->kind == TB_ACT_SKIP)
		return;
	for (guint32 i = h->cursor.due; i < to; i++) {
		const tb_made *made = tb_hands_made(h, tb_hands_place(h, i));
		bool chain = (made->flags & (TB_MADE_CHAIN | TB_MADE_TURNING)) == TB_MADE_CHAIN;
		spaces += chain && !before;
		before = chain;
	}
	tb_hands_look(h, to - MIN(to, h->cursor.due));
	if (spaces > 0)
		tb_hands_tell(h, TB_WARNING, "passed-over", act->place.span, "Say how many are skipped, if that is meant.",
			"%u space%s passed over before this", spaces, spaces == 1 ? " is" : "s are");
}

void tb_place_warn_before(tb_hands *h, const tb_act *act, guint32 to)
{
	unsigned count = to > h->cursor.due ? to - h->cursor.due : 0;
	/* behind a space, or other stitches, that is said on purpose */
	if (count == 0 || act->kind == TB_ACT_JOIN_YARN || h->cursor.in_space || h->cursor.due > h->cursor.first + 1)
		return;
	tb_hands_tell(h, TB_WARNING, "passed-over", act->place.span, "Say how many are skipped, if that is meant.",
		"%u st%s passed over before this", count, count == 1 ? " is" : "s are");
}

void tb_place_warn_middle(tb_hands *h, const tb_act *act, unsigned many, unsigned taken)
{
	if (act->place.of != NULL || tb_hands_number(h, &act->place.count, 0) > 0 || many % 2 != 0 || h->sentence->is_round)
		return;
	tb_hands_tell(h, TB_WARNING, "middle-even", act->place.span, "Say which stitch it is.",
		"%u sts have no middle one; number %u is taken", many, taken);
}

/* Whether the row below was worked by the same words: "Next 2 rows: sc in each st and ch-1 sp". */
static bool text_is_below(const tb_hands *h)
{
	const tb_sentence *below = h->row > 1 ? tb_hands_row(h, h->row - 1)->sentence : NULL;
	return below != NULL && below->span.start == h->sentence->span.start;
}

bool tb_place_has_kind(tb_hands *h, const tb_act *act, const tb_place *place)
{
	for (guint32 at = 0; at < tb_place_count(h); at++) {
		if (tb_place_matches(h, place, at))
			return true;
	}
	/* the first of "next 2 rows" has seen and closed them */
	if (text_is_below(h))
		return true;
	g_autofree char *words = tb_place_words(h, place, 1);
	tb_hands_give_up(h, place->target == TB_TARGET_SPACE ? "space-missing" : "place-missing", act->span,
		"Look at the row below for it.", "the row below has no %s to work into",
		place->corner ? "corner" : words + strcspn(words, " ") + 1);
	return false;
}

bool tb_place_has_kinds(tb_hands *h, const tb_act *act)
{
	for (const tb_place *kind = &act->place; kind != NULL; kind = kind->also) {
		tb_place alone = *kind;
		alone.also = NULL;
		if (!tb_place_has_kind(h, act, &alone))
			return false;
	}
	return act->place.but == NULL || tb_place_has_kind(h, act, act->place.but);
}
