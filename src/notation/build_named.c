/*
 * Groups that are named where they are first worked, "2 dc, ch 2, 2 dc in next sp (shell made)": what the
 * name means from there on.
 */
#include "notation/build.h"

#include "stitches/stitch.h"

#include <string.h>

/*
 * Of the readings of the words that name a group, "…, 3 dc, ch 1, 3 dc (shell)", the one that takes in
 * the whole of it, and no chain that comes before it.
 */
static bool is_better_group(const tb_own *one, const tb_own *other)
{
	bool chain = one->acts.acts[0].kind == TB_ACT_CHAIN;
	bool other_chain = other->acts.acts[0].kind == TB_ACT_CHAIN;
	return chain != other_chain ? other_chain : one->span.start < other->span.start;
}

static bool ends_with_a_chain(const tb_own *own)
{
	return own->acts.acts[own->acts.count - 1].kind == TB_ACT_CHAIN;
}

/*
 * Whether the words name OWN from here on, and not what was named BEFORE. "Make a shell of 3 dc, ch 1,
 * 3 dc, ch 2": what no bracket ends is as short as it may be, and ends with a stitch.
 */
static bool is_named_now(const tb_own *own, const tb_own *before)
{
	if (before == NULL || before->stitch != NULL)
		return true;
	if (own->span.start == before->span.start && ends_with_a_chain(own) != ends_with_a_chain(before))
		return ends_with_a_chain(before);
	/* other readings of the same words are not named anew */
	bool again = own->span.start < before->span.end && before->span.start < own->span.end;
	return (!again && !tb_own_is_same(before, own)) || is_better_group(own, before);
}

static const tb_act *last_of(const tb_acts *acts)
{
	return &acts->acts[acts->count - 1];
}

/* "2 dc, ch 2, 2 dc": as many of a kind at its end as at its beginning. */
static bool is_even(const tb_acts *acts)
{
	const tb_act *first = acts->acts, *last = last_of(acts);
	return acts->count > 2 && last->kind == TB_ACT_WORK && first->stitch == last->stitch &&
		first->place.count.count == 1 && last->place.count.count == 1 &&
		first->place.count.values[0] == last->place.count.values[0];
}

/* BODY with the chain of LEAD before it as what it stands for: a stitch, and chains where it is longer. */
static tb_acts with_lead(tb_builder *b, const tb_acts *body, int lead, tb_span span)
{
	const tb_act *first = body->acts;
	int tall = first->kind == TB_ACT_WORK && first->stitch != NULL ? (int)tb_stitch_chains(first->stitch) : 0;
	if (tall < 2 || lead < tall - 1 || first->place.count.count != 1)
		return *body;
	unsigned more = lead > tall ? 2 : 0;
	tb_act *acts = tb_arena_take(b->arena, (body->count + more) * sizeof(tb_act));
	memcpy(acts + more, body->acts, body->count * sizeof(tb_act));
	if (more > 0) {
		acts[0] = *first;
		acts[0].place.count = tb_number_make(b->arena, 1, span);
		acts[1] = (tb_act){.kind = TB_ACT_CHAIN, .span = span, .count = tb_number_make(b->arena, lead - tall, span)};
	} else {
		acts[0].place.count = tb_number_make(b->arena, first->place.count.values[0] + 1, span);
	}
	return (tb_acts){acts, body->count + more};
}

/* "Ch 2, dc2tog in same sp (first cluster made)": the chain is a leg of it. */
static tb_acts with_leg(tb_builder *b, const tb_acts *body, int lead, tb_span span)
{
	tb_act *acts = tb_arena_take(b->arena, 2 * sizeof(tb_act));
	acts[0] = (tb_act){.kind = TB_ACT_CHAIN, .span = span, .count = tb_number_make(b->arena, lead, span)};
	acts[1] = body->acts[0];
	return (tb_acts){acts, 2};
}

/*
 * "Ch 3, dc, ch 2, 2 dc in same sp (shell made)": the chain is the first stitch of it where a row begins so,
 * or where it would have fewer on that side than on the other.
 */
static tb_acts whole_of(tb_builder *b, const tb_value *value, const tb_acts *body)
{
	int lead = tb_build_one_number(tb_value_get(value, TB_SLOT_lead), 0);
	const tb_stitch *first = body->count == 1 ? body->acts[0].stitch : NULL;
	if (lead > 0 && first != NULL && MAX(first->legs, first->takes) > 1)
		return with_leg(b, body, lead, tb_build_span(b, value->from, value->to));
	tb_acts rest = *body;
	if (body->count > 1 && body->acts[0].kind == TB_ACT_CHAIN) {
		/* "(ch 3, dc, ch 2, 2 dc) in same sp (shell made)" */
		lead = body->acts[0].count.count == 1 ? body->acts[0].count.values[0] : 0;
		rest = (tb_acts){body->acts + 1, body->count - 1};
	}
	if (lead < 2)
		return *body;
	tb_acts whole = with_lead(b, &rest, lead, tb_build_span(b, value->from, value->to));
	return value->from == b->begins || (is_even(&whole) && !is_even(body)) ? whole : *body;
}

/* "2 dc in next dc, ch 2, 2 dc in same dc (shell made)": what BEFORE ends with is the first half of OWN. */
static void join_first_half(tb_builder *b, const GArray *before, tb_own *own)
{
	const tb_act *chain = before->len > 1 ? &g_array_index(before, tb_act, before->len - 1) : NULL;
	const tb_act *work = chain != NULL ? chain - 1 : NULL;
	if (work == NULL || chain->kind != TB_ACT_CHAIN || work->kind != TB_ACT_WORK || work->bare ||
		work->stitch->form == TB_FORM_SLIP || !tb_number_is(&work->place.count, 1))
		return;
	tb_act *acts = tb_arena_take(b->arena, (own->acts.count + 2) * sizeof(tb_act));
	acts[0] = *work;
	acts[0].place = (tb_place){.in = TB_IN_NEXT, .rows_below = 1, .span = work->span, .count = work->each};
	acts[0].each = (tb_number){1, tb_number_one, work->span};
	acts[1] = *chain;
	memcpy(acts + 2, own->acts.acts, own->acts.count * sizeof(tb_act));
	own->acts = (tb_acts){acts, own->acts.count + 2};
	own->span.start = work->span.start;
}

void tb_build_name_group(tb_builder *b, const tb_value *value, gint16 name, const GArray *before, tb_act *act)
{
	tb_own *own = tb_arena_new(b->arena, tb_own);
	own->name = b->grammar_symbols[name];
	own->acts = whole_of(b, value, &act->body);
	own->span = act->span;
	if (act->place.in == TB_IN_SAME)
		join_first_half(b, before, own);
	act->own = own;
	if (is_named_now(own, b->named[name]))
		b->named[name] = own;
}

void tb_build_lead(tb_builder *b, const tb_value *value, GArray *acts)
{
	tb_act chain = tb_build_act_of(b, value, TB_ACT_CHAIN);
	chain.span = tb_build_span(b, value->from, value->from + 2);
	chain.count = tb_build_number(b, tb_value_get(value, TB_SLOT_lead), 1);
	g_array_append_val(acts, chain);
}

size_t tb_own_first_word(const tb_own *own)
{
	static const char *const words[] = {"beg", "begin", "beginning", "start", "starting", "first", "initial"};
	size_t length = own->name != NULL ? strcspn(own->name, " -.") : 0;
	for (size_t i = 0; i < G_N_ELEMENTS(words) && length > 0 && own->name[length] != '\0'; i++) {
		if (length == strlen(words[i]) && g_ascii_strncasecmp(own->name, words[i], length) == 0)
			return length + strspn(own->name + length, " -.");
	}
	return 0;
}
