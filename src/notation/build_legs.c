/*
 * Stitches whose loops or legs are told place by place.
 *
 * Star stitches: loops drawn up in the eye and the side of the star before, in the stitch where its last loop went,
 * and in the next ones, all drawn together; a chain behind it closes it and is its eye. On the row below it is so
 * many single crochet drawn together, the first leg where the last one went. What is drawn up out of the row itself
 * stands on nothing, and is counted on the hook alone.
 */
#include "notation/build.h"

#include "stitches/stitch.h"

typedef struct {
	unsigned own, same, next; /* loops: of the row itself; where the last one went; in the stitches that come */
	unsigned hook, hooks;     /* "2nd ch from hook": which, and how many of the chains behind it */
	const tb_value *noun;     /* what comes next */
	bool clear;
	bool later; /* not of the first row: chains beside the hook are those that the row begins with */
} star;

/* "2nd, 3rd and 4th": the first of them, and how many they are, one after the other. */
static void count_hooks(star *s, const tb_value *run)
{
	const tb_value *n = tb_value_get(run, TB_SLOT_n), *to = tb_value_get(run, TB_SLOT_to);
	unsigned nth = tb_build_figure(n != NULL ? n : run, 0);
	s->clear = s->clear && (s->hooks == 0 || nth == s->hook + s->hooks);
	s->hook = s->hooks == 0 ? nth : s->hook;
	s->hooks++;
	if (to != NULL)
		count_hooks(s, to);
}

static void count_leg(star *s, const tb_value *leg)
{
	const tb_value *v = tb_value_get(leg, TB_SLOT_v);
	unsigned n = (unsigned)MAX(tb_build_one_number(tb_value_get(leg, TB_SLOT_n), 1), 0);
	if (tb_value_is_symbol(v, TB_SYMBOL_own)) {
		s->own++;
	} else if (tb_value_is_symbol(v, TB_SYMBOL_same)) {
		s->clear = s->clear && s->next == 0 && s->same == 0 && s->hooks == 0;
		s->same++;
	} else if (tb_value_is_symbol(v, TB_SYMBOL_hook)) {
		/* "in 2nd ch from hook, in 3rd ch from hook": side by side as well */
		s->clear = s->clear && s->next == 0;
		count_hooks(s, tb_value_get(leg, TB_SLOT_n));
		s->clear = s->clear && s->hook > 1;
	} else if (s->later && s->hooks > 0 && s->next == 0 && s->same == 0 &&
		tb_value_is_symbol(tb_value_get(tb_value_get(leg, TB_SLOT_noun), TB_SLOT_k), TB_SYMBOL_ch)) {
		/* "in 2nd ch from hook, in next ch" */
		s->hooks += n;
	} else {
		s->next += n;
		s->noun = tb_value_get(leg, TB_SLOT_noun);
	}
}

static void count_legs(tb_builder *b, star *s, const tb_value *list)
{
	if (list == NULL || list->type != TB_VALUE_LIST) {
		count_leg(s, list);
		return;
	}
	const tb_value *const *items = tb_value_items(list, b->scratch);
	for (guint32 i = 0; i < list->count; i++)
		count_legs(b, s, items[i]);
}

/* Whether as many loops are drawn through as there are, wherever a number is said. */
static bool adds_up(const tb_value *value, unsigned loops)
{
	const tb_value *has = tb_value_get(value, TB_SLOT_has);
	const tb_value *through = tb_value_get(tb_value_get(value, TB_SLOT_close), TB_SLOT_n);
	return tb_build_figure(has, loops) == loops && tb_build_figure(through, loops) == loops;
}

/* The chain that a row begins with, when the first star's loops are drawn up in it: it has so many. */
static void take_chain(tb_builder *b, const tb_value *value, const star *s, GArray *acts)
{
	tb_act said = tb_build_act_of(b, value, TB_ACT_SKIPPED_COUNT);
	said.count = tb_number_make(b->arena, (int)(s->hook + s->hooks - 1), said.span);
	g_array_append_val(acts, said);
}

void tb_build_star(tb_builder *b, const tb_value *value, GArray *acts)
{
	star s = {.clear = true, .later = !b->first_row};
	count_legs(b, &s, tb_value_get(value, TB_SLOT_legs));
	unsigned loops = 1 + s.own + s.same + s.next + s.hooks;
	/* one whose loops are all drawn up beside the hook is of the foundation, wherever it is told */
	bool on_foundation = s.hooks > 0 && (b->first_row || s.next + s.same + s.own == 0);
	if (!s.clear || (s.next == 0 && !on_foundation) || !adds_up(value, loops)) {
		tb_build_add_cannot(b, value, acts, "these loops do not make a star stitch");
		return;
	}
	tb_act act = tb_build_act_of(b, value, TB_ACT_WORK);
	tb_place place = {.in = TB_IN_NEXT, .rows_below = 1, .span = act.span};
	place.count = tb_number_make(b->arena, 1, act.span);
	tb_build_noun(b, s.noun, &place);
	if (on_foundation) {
		/* the chains before the first leg turn, and stand for no stitch */
		tb_act skip = tb_build_act_of(b, value, TB_ACT_SKIP);
		skip.place = (tb_place){.in = TB_IN_NTH_CHAIN, .target = TB_TARGET_CHAIN, .rows_below = 1, .span = act.span};
		skip.place.count = tb_number_make(b->arena, (int)s.hook, act.span);
		skip.counts = TB_COUNTS_NOT;
		g_array_append_val(acts, skip);
	} else if (s.hooks > 0) {
		take_chain(b, value, &s, acts);
	}
	unsigned legs = s.same + s.next + (on_foundation ? s.hooks : 0);
	const tb_stitch *sc = tb_library_find(b->pattern->library, "sc");
	act.stitch = legs > 1 ? tb_library_together(b->pattern->library, sc, legs) : sc;
	if (act.stitch == NULL) {
		tb_build_add_cannot(b, value, acts, "so many are not drawn together");
		return;
	}
	act.each = (tb_number){1, tb_number_one, act.span};
	act.place = place;
	act.place.shared = s.same > 0;
	act.place.star = s.same > 0 && s.own > 0;
	/* whether that chain counts or not, the first star stands at its foot */
	if (s.hooks > 0 && !on_foundation)
		act.place.in = TB_IN_FIRST;
	g_array_append_val(acts, act);
}

/* The stitch of VALUE that draws several together, of its one act where the pattern defines it; or NULL. */
static const tb_stitch *find_together(tb_builder *b, const tb_value *value, bool *shared)
{
	const tb_own *own = NULL;
	const tb_stitch *stitch = tb_build_stitch(b, tb_value_get(value, TB_SLOT_stitch), &own);
	const tb_act *one = own != NULL && own->whole && own->acts.count == 1 ? own->acts.acts : NULL;
	*shared = one != NULL && one->kind == TB_ACT_WORK && one->place.shared;
	return *shared ? one->stitch : stitch;
}

/* The chains of the foundation before chain HOOK from the hook are passed over. */
static void begin_at_hook(tb_builder *b, const tb_value *value, unsigned hook, GArray *acts)
{
	tb_act skip = tb_build_act_of(b, value, TB_ACT_SKIP);
	skip.place = (tb_place){.in = TB_IN_NTH_CHAIN, .target = TB_TARGET_CHAIN, .rows_below = 1, .span = skip.span};
	skip.place.count = tb_number_make(b->arena, (int)hook, skip.span);
	g_array_append_val(acts, skip);
}

void tb_build_legged(tb_builder *b, const tb_value *value, GArray *acts)
{
	star s = {.clear = true};
	bool shared;
	count_legs(b, &s, tb_value_get(value, TB_SLOT_legs));
	const tb_stitch *stitch = find_together(b, value, &shared);
	unsigned legs = s.same + s.next + s.hooks;
	if (tb_build_has(value, TB_SLOT_from) && s.hooks == 1 && stitch != NULL)
		legs = stitch->takes;
	if (!s.clear || stitch == NULL || stitch->takes < 2 || stitch->takes != legs || (shared && s.same == 0) ||
		(s.hooks > 0 && !b->first_row)) {
		tb_build_add_cannot(b, value, acts, "the stitch has not so many legs");
		return;
	}
	if (s.hooks > 0)
		begin_at_hook(b, value, s.hook, acts);
	tb_act act = tb_build_act_of(b, value, TB_ACT_WORK);
	act.stitch = stitch;
	act.each = (tb_number){1, tb_number_one, act.span};
	act.place = (tb_place){.in = TB_IN_NEXT, .rows_below = 1, .span = act.span, .count = act.each};
	act.place.shared = s.same > 0;
	g_array_append_val(acts, act);
}
