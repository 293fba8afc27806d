/* The ways to read a row, from one of its places to another. */
#include "notation/script.h"

#include "pattern/text_kinds.h"
#include "stitches/stitch.h"
#include "support/limits.h"

#include <string.h>

/* A row that is repeated as a whole without a star is not the usual one. */
#define WHOLE_COST 3u
/* And more, where no comma parts it from "repeat"; more than what is held unusual. */
#define UNPARTED_COST 6u
/* What a stated count would be as work; without a bracket, where a count itself is dearer. */
#define COUNT_WORKED_COST 7u
#define BARE_COUNT_WORKED_COST 10u

/* A row does not begin with its count. */
#define FIRST_CLAIM_COST 5u

/* Ways so much dearer than the cheapest are not kept. */
#define MOST_DEARER 9u

/* The cost of the cheapest way from each place to the end; G_MAXUINT32 where there is none. */
static guint32 *costs_to_end(const GArray *choices, guint32 places, guint32 end)
{
	guint32 *cost = g_new(guint32, places + 1);
	for (guint32 i = 0; i <= places; i++)
		cost[i] = G_MAXUINT32;
	cost[end] = 0;
	for (guint i = choices->len; i-- > 0;) {
		const tb_choice *choice = &g_array_index(choices, tb_choice, i);
		if (cost[choice->to] != G_MAXUINT32)
			cost[choice->from] = MIN(cost[choice->from], choice->cost + cost[choice->to]);
	}
	return cost;
}

static guint32 *costs_from_begin(const GArray *choices, guint32 places, guint32 begin)
{
	guint32 *cost = g_new(guint32, places + 1);
	for (guint32 i = 0; i <= places; i++)
		cost[i] = G_MAXUINT32;
	cost[begin] = 0;
	for (guint i = 0; i < choices->len; i++) {
		const tb_choice *choice = &g_array_index(choices, tb_choice, i);
		if (cost[choice->from] != G_MAXUINT32)
			cost[choice->to] = MIN(cost[choice->to], choice->cost + cost[choice->from]);
	}
	return cost;
}

static int compare_choices(gconstpointer a, gconstpointer b)
{
	const tb_choice *x = a, *y = b;
	if (x->from != y->from)
		return x->from < y->from ? -1 : 1;
	return x->cost < y->cost ? -1 : x->cost > y->cost;
}

/*
 * A repeat of what the row begins with, up to its packed acts or its end. "(A) repeated": with nothing
 * between, it is the bracket that is repeated, unless that cannot be.
 */
static tb_choice whole_choice(const tb_value *whole, const tb_value *packed, guint32 dearer)
{
	guint32 cost = WHOLE_COST + dearer + (tb_build_has(whole, TB_SLOT_bare) ? UNPARTED_COST : 0);
	return (tb_choice){whole->from, packed != NULL ? packed->from : whole->to, cost, whole};
}

/* A list of rows' parts as the choices of ROW: its packed acts, or a repeat, DEARER than others, and what follows. */
static GArray *choices_of(tb_reader *r, const tb_value *row, guint32 dearer, guint32 *begin, guint32 *end)
{
	const tb_value *packed = tb_value_get(row, TB_SLOT_acts), *whole = tb_value_get(row, TB_SLOT_whole);
	GArray *choices = packed != NULL && packed->type == TB_VALUE_PACKED ?
		tb_chart_choices(&r->chart, packed) : g_array_new(FALSE, FALSE, sizeof(tb_choice));
	if (packed != NULL && packed->type != TB_VALUE_PACKED) { /* one act, read in one way; or one stitch throughout */
		guint32 cost = packed->type == TB_VALUE_LIST ? WHOLE_COST : 0;
		g_array_append_vals(choices, &(tb_choice){packed->from, packed->to, cost, packed}, 1);
	}
	*begin = packed != NULL ? packed->from : row->from;
	*end = packed != NULL ? packed->to : row->from;
	if (whole != NULL) {
		tb_choice first = whole_choice(whole, packed, dearer);
		*begin = whole->from;
		*end = packed != NULL ? packed->to : whole->to;
		g_array_prepend_val(choices, first);
	}
	/* "ch 1, turn, alternately 2 dc, 1 ch": that goes to the row's end */
	const tb_value *last = packed != NULL ? tb_value_get(row, TB_SLOT_last) : NULL;
	if (last != NULL) {
		tb_choice rest = {packed->to, last->to, 0, last};
		g_array_append_val(choices, rest);
		*end = last->to;
	}
	return choices;
}

/* Whether ACT works several stitches in a ring or in one chain, or goes back along a chain's other side. */
static bool works_around(const tb_act *act, unsigned depth)
{
	if (act->kind == TB_ACT_WORK && act->place.in == TB_IN_EDGE && !act->place.middle)
		return true;
	if (act->kind == TB_ACT_OTHER_SIDE)
		return !act->bare;
	if (act->kind == TB_ACT_WORK || act->kind == TB_ACT_GROUP)
		return act->place.in == TB_IN_RING || (act->kind == TB_ACT_WORK &&
			act->place.in == TB_IN_NTH_CHAIN && !tb_number_is(&act->each, 1));
	for (unsigned i = 0; i < act->body.count && act->kind == TB_ACT_REPEAT && depth < TB_LIMIT_NESTING; i++) {
		if (works_around(&act->body.acts[i], depth + 1))
			return true;
	}
	return false;
}

/*
 * "15 dc in ring, sl st in top of ch 3", "11 dc in 4th ch from hook, sl st in top of ch 4": worked around
 * one place, the last stitch goes where the row has begun.
 */
static bool closes(const tb_acts *acts)
{
	bool around = false;
	unsigned end = acts->count;
	while (end > 0 && acts->acts[end - 1].kind != TB_ACT_WORK && acts->acts[end - 1].kind != TB_ACT_CHAIN &&
		acts->acts[end - 1].kind != TB_ACT_REPEAT && acts->acts[end - 1].kind != TB_ACT_GROUP)
		end--;
	for (unsigned i = 0; i + 1 < end; i++)
		around = around || works_around(&acts->acts[i], 0);
	const tb_act *last = end > 1 ? &acts->acts[end - 1] : NULL;
	bool first = last != NULL && last->place.in == TB_IN_FIRST && last->place.target != TB_TARGET_CHAIN;
	/* behind what goes to the row's end the first stitch is reached only where that is a round's */
	around = around || (first && last[-1].kind == TB_ACT_REPEAT && last[-1].until == TB_UNTIL_END);
	if (!around || last == NULL || last->kind != TB_ACT_WORK || last->stitch == NULL ||
		last->stitch->height > 0)
		return false;
	return last->place.target == TB_TARGET_TURNING_CHAIN || first;
}

/* Whether what is worked is joined into a round: more than the ring it begins with. */
static bool joins(const tb_acts *acts)
{
	bool made = false;
	for (unsigned i = 0; i < acts->count; i++) {
		tb_acts one = {&acts->acts[i], 1};
		made = made || tb_reader_makes(&one);
		if (acts->acts[i].kind == TB_ACT_JOIN && made)
			return true;
	}
	return closes(acts);
}

/* "1. 6 sc in a ring": what goes on from there, numbered and not turned, goes around. */
static bool begins_in_ring(const tb_acts *acts)
{
	for (unsigned i = 0; i < acts->count; i++) {
		if (acts->acts[i].kind == TB_ACT_WORK)
			return acts->acts[i].place.in == TB_IN_RING || (i > 0 && acts->acts[i - 1].kind == TB_ACT_RING);
	}
	return false;
}

/* "R5:" is a round where the work is not turned. */
bool tb_reader_is_turned(const tb_reader *r)
{
	const tb_lattice *l = &r->lattice;
	for (guint32 e = 0; e < l->first_edge[l->count]; e++) {
		if (l->edges[e].term == TB_TERM_turn)
			return true;
	}
	return false;
}

/* "Dc across to tch": a row that has two ends. */
static bool goes_across(const tb_reader *r)
{
	const tb_lattice *l = &r->lattice;
	for (guint32 e = 0; e < l->first_edge[l->count]; e++) {
		if (l->edges[e].term == TB_TERM_across || l->edges[e].term == TB_TERM_tch)
			return true;
	}
	return false;
}

/*
 * "1st row: 12 sc in ring. 2nd row: 2 sc in each sc": neither is turned, so it goes around; the row before SENTENCE
 * is a round then too. One that is the only row says nothing.
 */
static bool goes_on_around(tb_reader *r, const tb_sentence *sentence)
{
	tb_sentence *before = r->sentences->len > 0 ? r->sentences->pdata[r->sentences->len - 1] : NULL;
	if (before == NULL || sentence->kind != TB_SENTENCE_ROWS || sentence->is_round || before->kind != TB_SENTENCE_ROWS ||
		before->first > 1 || before->last > 1 || !begins_in_ring(&before->acts) || tb_reader_is_turned(r) || goes_across(r))
		return false;
	for (unsigned i = 0; i < before->acts.count; i++) {
		if (before->acts.acts[i].kind == TB_ACT_TURN)
			return false;
	}
	before->is_round = true;
	return true;
}

/* "R1: Sc in 2nd ch from hook and in each ch across. R2: Ch 1, turn, …": R1 was a row, where nothing in it goes around. */
static void take_round_back(tb_reader *r)
{
	tb_sentence *before = r->sentences->len > 0 ? r->sentences->pdata[r->sentences->len - 1] : NULL;
	if (before != NULL && before->kind == TB_SENTENCE_ROWS && before->round_unsaid && before->first == 1 && before->last == 1 &&
		!begins_in_ring(&before->acts) && !joins(&before->acts))
		before->is_round = false;
}

/*
 * "… across. (13 dc and 12 ch)" states a count, though as many could be worked: else a count that is
 * wrong would be made true by working it.
 */
static bool is_in_count(const tb_reader *r, const GArray *claims, const tb_choice *choice, guint32 begin, guint32 end)
{
	for (guint i = 0; i < claims->len; i++) {
		const tb_choice *claim = &g_array_index(claims, tb_choice, i);
		if (tb_value_get(claim->value, TB_SLOT_bare) != NULL || claim->from <= begin)
			continue;
		if (claim->to == end && choice->from == claim->from)
			return true;
		/* "across — 18 shells. Fasten off": behind the dash */
		if (tb_lattice_edge(&r->lattice, claim->from, TB_TERM_dash) != NULL && choice->from == claim->from &&
			choice->to <= claim->to)
			return true;
	}
	return false;
}

/* What may stand between a row's count and its end. */
static bool is_ending(const tb_value *value)
{
	static const int kinds[] = {TB_KIND_turn, TB_KIND_noturn, TB_KIND_fastenoff, TB_KIND_newyarn, TB_KIND_claim, TB_KIND_mark};
	for (size_t i = 0; i < G_N_ELEMENTS(kinds); i++) {
		if (tb_value_is(value, kinds[i]))
			return true;
	}
	return false;
}

/* Of each place, whether nothing is worked between it and the END of the row. */
static bool *find_endings(const tb_reader *r, const GArray *choices, guint32 end)
{
	bool *ending = g_new0(bool, r->lattice.count + 1);
	ending[end] = true;
	for (bool more = true; more;) {
		more = false;
		/* they stand nearly in the order of their places: from the last, once through is mostly enough */
		for (guint i = choices->len; i-- > 0;) {
			const tb_choice *choice = &g_array_index(choices, tb_choice, i);
			if (ending[choice->to] && !ending[choice->from] && is_ending(choice->value))
				more = ending[choice->from] = true;
		}
	}
	return ending;
}

/*
 * "Sc in next 9 sc. 10 sc. Fasten off.": behind a full stop, with work before it and none after, a figure and a stitch
 * are the row's count. Of each word, whether it is the figure of such a count.
 */
static bool *find_stopped_counts(const tb_reader *r, const GArray *choices, const GArray *claims, guint32 end)
{
	bool *counts = g_new0(bool, r->lattice.count + 1);
	g_autofree bool *ending = find_endings(r, choices, end);
	guint32 worked = G_MAXUINT32;
	for (guint i = 0; i < choices->len; i++) {
		const tb_choice *choice = &g_array_index(choices, tb_choice, i);
		if (!is_ending(choice->value) && !tb_value_is(choice->value, TB_KIND_chain))
			worked = MIN(worked, choice->to);
	}
	for (guint i = 0; i < claims->len; i++) {
		const tb_choice *claim = &g_array_index(claims, tb_choice, i);
		guint32 figure = tb_lattice_stopped_figure(&r->lattice, claim->from);
		if (figure != G_MAXUINT32 && worked <= claim->from && ending[claim->to])
			counts[figure] = true;
	}
	return counts;
}

static bool is_stopped_count(const tb_reader *r, const bool *counts, const tb_choice *choice)
{
	guint32 figure = tb_lattice_stopped_figure(&r->lattice, choice->from);
	return figure != G_MAXUINT32 && counts[figure] && !tb_value_is(choice->value, TB_KIND_chain);
}

/* "around. (27 sc) Sl st in next st.": the bracket counts so many, and is no more work beside that. */
static bool is_bracketed_count(const tb_reader *r, const GArray *claims, const tb_choice *choice)
{
	if (!tb_value_is(choice->value, TB_KIND_parenthesis))
		return false;
	/* squares of filet may well be told so */
	for (guint32 word = choice->from; word < choice->to; word++) {
		if (tb_lattice_edge(&r->lattice, word, TB_TERM_sp) != NULL || tb_lattice_edge(&r->lattice, word, TB_TERM_block) != NULL)
			return false;
	}
	for (guint i = 0; i < claims->len; i++) {
		const tb_choice *claim = &g_array_index(claims, tb_choice, i);
		if (claim->from == choice->from && claim->to == choice->to)
			return true;
	}
	return false;
}

/* "in each ch across, making 20 sc": so many in all, and not in each of them. */
static bool is_made_count(const tb_reader *r, const GArray *claims, const tb_choice *choice)
{
	const tb_lattice *l = &r->lattice;
	for (guint i = 0; i < claims->len; i++) {
		const tb_choice *claim = &g_array_index(claims, tb_choice, i);
		if (claim->to == choice->to && choice->from < claim->from && l->text->chars[l->start[claim->from]] == ',' &&
			tb_at_word(l->text->chars + l->start[claim->from + 1], "making working") > 0)
			return true;
	}
	return false;
}

static void doubt_work_in_count(const tb_reader *r, GArray *choices, guint32 begin, guint32 end)
{
	g_autoptr(GArray) claims = g_array_new(FALSE, FALSE, sizeof(tb_choice));
	for (guint i = 0; i < choices->len; i++) {
		const tb_choice *choice = &g_array_index(choices, tb_choice, i);
		if (tb_value_is(choice->value, TB_KIND_claim))
			g_array_append_val(claims, *choice);
	}
	if (claims->len == 0)
		return;
	g_autofree bool *stopped = find_stopped_counts(r, choices, claims, end);
	for (guint i = 0; i < choices->len; i++) {
		tb_choice *choice = &g_array_index(choices, tb_choice, i);
		bool claim = tb_value_is(choice->value, TB_KIND_claim);
		if (is_bracketed_count(r, claims, choice) || (!claim && is_made_count(r, claims, choice)))
			choice->cost += MOST_DEARER + 1;
		if (!claim && is_in_count(r, claims, choice, begin, end))
			choice->cost += COUNT_WORKED_COST;
		else if (!claim && is_stopped_count(r, stopped, choice))
			choice->cost += BARE_COUNT_WORKED_COST;
	}
}

/* "work ch 1, sc in each st": at a row's beginning the chain is rather by itself than in each place too. */
static bool places_chain(const tb_value *value)
{
	if (!tb_value_is(value, TB_KIND_group) && !tb_value_is(value, TB_KIND_apart))
		return false;
	const tb_value *list = tb_value_get(value, TB_SLOT_body);
	while (list != NULL && list->before != NULL)
		list = list->before;
	return list != NULL && list->type == TB_VALUE_LIST && list->count > 0 &&
		tb_value_is(list->items[0], TB_KIND_chain);
}

/* "2 sc, (sc, inc) x3": of the bracket before it, and not of all that the row begins with. */
static bool repeats_bracket(const tb_lattice *l, const tb_value *value)
{
	return tb_value_get(value, TB_SLOT_whole) != NULL && tb_value_get(value, TB_SLOT_times) != NULL && value->to > 3 &&
		tb_is_among(l->text->chars[l->start[value->to - 3]], ")]}") && tb_lattice_edge(l, value->to - 2, TB_TERM_x) != NULL;
}

/* "Sc in next 3 (6) ch" of two sizes: no "sc in next 3" with "(6) ch" behind it. */
static bool tears_sizes(const tb_lattice *l, guint32 from)
{
	const tb_edge *figures = from > 0 && from < l->count && tb_is_among(l->text->chars[l->start[from]], "([{") ?
		tb_lattice_edge(l, from - 1, TB_TERM_CLASS_int) : NULL;
	return figures != NULL && figures->end > from && figures->value->count > 1;
}

/* "2 dc in 4th ch from hook": no "2 dc", with the start of another stitch behind it, which nothing parts. */
static bool tears_start(const tb_lattice *l, const tb_choice *choice)
{
	return choice->from > 0 && tb_value_is(choice->value, TB_KIND_skip) && tb_lattice_edge(l, choice->from, TB_TERM_in) != NULL &&
		g_ascii_isalnum(l->text->chars[l->stop[choice->from - 1] - 1]);
}

/* "Sc2tog beginning in same st, sc in each sc": with no comma between, it is the stitch before that begins there. */
static bool tears_beginning(const tb_lattice *l, const tb_choice *choice)
{
	return choice->from > 0 && tb_value_is(choice->value, TB_KIND_work) && tb_lattice_edge(l, choice->from, TB_TERM_beg) != NULL &&
		g_ascii_isalnum(l->text->chars[l->stop[choice->from - 1] - 1]);
}

/* The cost of the cheapest reading that repeats what the row begins with. */
static guint32 cheapest_whole(const tb_reader *r)
{
	for (unsigned i = 0; i < r->reading_count; i++) {
		if (tb_value_get(tb_value_get(r->readings[i].value, TB_SLOT_row), TB_SLOT_whole) != NULL)
			return r->readings[i].cost;
	}
	return 0;
}

/* The choices of the row in all its readings, as one: the acts, or a repeat of them. */
static GArray *all_choices(tb_reader *r, const tb_value *row, guint32 *begin, guint32 *end)
{
	GArray *choices = choices_of(r, row, 0, begin, end);
	guint32 whole = cheapest_whole(r);
	for (unsigned i = 0; i < r->reading_count; i++) {
		const tb_value *other = tb_value_get(r->readings[i].value, TB_SLOT_row);
		bool same_label = tb_value_equal(tb_value_get(r->readings[i].value, TB_SLOT_label),
			tb_value_get(r->readings[0].value, TB_SLOT_label));
		guint32 other_begin, other_end;
		if (other == NULL || other == row || !same_label)
			continue;
		const tb_value *repeat = tb_value_get(other, TB_SLOT_whole), *acts = tb_value_get(other, TB_SLOT_acts);
		guint32 dearer = MAX(r->readings[i].cost, whole) - whole;
		if (tb_value_equal(acts, tb_value_get(row, TB_SLOT_acts))) {
			/* the same behind another repeat */
			if (repeat != NULL && repeat->from == *begin && (acts != NULL || repeat->to == *end) &&
				!tb_value_equal(repeat, tb_value_get(row, TB_SLOT_whole))) {
				tb_choice first = whole_choice(repeat, acts, dearer);
				g_array_append_val(choices, first);
			}
			continue;
		}
		g_autoptr(GArray) more = choices_of(r, other, dearer, &other_begin, &other_end);
		if (other_begin == *begin && other_end == *end && more->len > 0)
			g_array_append_vals(choices, more->data, more->len);
	}
	for (guint i = 0; i < choices->len; i++) {
		/* a row begins with no count */
		tb_choice *choice = &g_array_index(choices, tb_choice, i);
		if (choice->from == *begin && tb_value_is(choice->value, TB_KIND_claim))
			choice->cost += FIRST_CLAIM_COST;
		if (choice->from == *begin && places_chain(choice->value))
			choice->cost += TB_TURNING_APART_COST;
		/* read only where nothing else is */
		if (tb_build_groups_shaping(&r->lattice, choice->value) || repeats_bracket(&r->lattice, choice->value) ||
			tb_tears_place(&r->lattice, choice->from) || tears_sizes(&r->lattice, choice->from) ||
			tears_start(&r->lattice, choice) || tears_beginning(&r->lattice, choice))
			choice->cost += MOST_DEARER + 1;
	}
	doubt_work_in_count(r, choices, *begin, *end);
	g_array_sort(choices, compare_choices);
	return choices;
}

/* What the pattern's words make of a bobble and its kin, where that is not known. */
void tb_reader_tell_loose(tb_reader *r)
{
	for (guint i = 0; i < r->b.loose->len; i++) {
		const tb_loose *loose = &g_array_index(r->b.loose, tb_loose, i);
		const char *known = r->b.pattern->uk_terms ? loose->stitch->uk : loose->stitch->us;
		tb_where where = {.has_place = true, .place = loose->span, .piece = r->piece, .row = r->row,
			.is_round = r->is_round};
		g_autofree char *hint = g_strdup_printf("If it is that one, write \"%s\"; else give it in the "
			"pattern's \"stitches\", or write it out.", known);
		if (loose->defined->unclear)
			tb_diagnose_format(r->diagnostics, TB_WARNING, "stitch-words", &where, hint,
				"how the pattern says this stitch is made is not understood; it is taken for the %s",
				known);
		else
			tb_diagnose_format(r->diagnostics, TB_ERROR, "stitch-words", &where, hint,
				"the pattern makes this stitch of %s, and only others are known, such as the %s",
				loose->defined->said, known);
	}
	g_array_set_size(r->b.loose, 0);
}

void tb_reader_set_ways(tb_reader *r, tb_sentence *sentence, const tb_value *row)
{
	guint32 begin, end, places = r->lattice.count;
	g_autoptr(GArray) choices = all_choices(r, row, &begin, &end);
	g_autoptr(GArray) cheapest = g_array_new(FALSE, FALSE, sizeof(tb_act));
	g_autofree guint32 *to_end = costs_to_end(choices, places, end);
	g_autofree guint32 *from_begin = costs_from_begin(choices, places, begin);
	g_autoptr(GArray) acts = g_array_new(FALSE, FALSE, sizeof(tb_act));
	GArray *ways = g_array_new(FALSE, FALSE, sizeof(tb_way));
	guint32 at = begin, least = to_end[begin];
	r->b.begins = begin;
	r->b.last_leg = NULL;
	bool several = false;
	if (r->before->len > 0)
		g_array_append_vals(cheapest, r->before->data, r->before->len);
	for (guint i = 0; i < choices->len && least != G_MAXUINT32; i++) {
		const tb_choice *choice = &g_array_index(choices, tb_choice, i);
		if (from_begin[choice->from] == G_MAXUINT32 || to_end[choice->to] == G_MAXUINT32 ||
			from_begin[choice->from] + choice->cost + to_end[choice->to] > least + MOST_DEARER)
			continue;
		g_array_set_size(acts, 0);
		if (choice->from == begin && r->before->len > 0)
			g_array_append_vals(acts, r->before->data, r->before->len);
		guint before = acts->len, asides = r->b.asides->len, unheld = r->b.unheld->len, doubts = r->b.doubts->len;
		tb_number skipped = r->b.skipped;
		tb_build_act(&r->b, choice->value, acts);
		tb_reader_loop_to_ring(r, acts, before, cheapest);
		bool is_next = choice->from == at && choice->cost + to_end[choice->to] == to_end[at];
		if (is_next) {
			if (acts->len > before)
				g_array_append_vals(cheapest, &g_array_index(acts, tb_act, before), acts->len - before);
			at = choice->to;
		} else {
			bool leaves_out = r->b.doubts->len > doubts;
			g_array_set_size(r->b.asides, asides);
			g_array_set_size(r->b.unheld, unheld);
			g_array_set_size(r->b.doubts, doubts);
			r->b.skipped = skipped;
			/* words are left out only where nothing better is read */
			if (leaves_out)
				continue;
		}
		several = several || !is_next;
		tb_way way = {choice->from, choice->to, choice->cost, tb_acts_keep(r->b.arena, acts)};
		g_array_append_val(ways, way);
		if (tb_value_get(choice->value, TB_SLOT_whole) != NULL && tb_build_star_at(&r->b, choice->value) == 0)
			several = tb_reader_add_parts(r, ways, &way, tb_build_has(choice->value, TB_SLOT_begun)) || several;
	}
	g_array_set_size(r->before, 0);
	tb_sentence_set_acts(sentence, r->b.arena, cheapest);
	/* older books call a round a row */
	bool turns = tb_reader_is_turned(r);
	if (turns && sentence->kind == TB_SENTENCE_ROWS)
		take_round_back(r);
	r->in_rounds = (r->in_rounds || joins(&sentence->acts) || sentence->is_round ||
		(r->only_number && begins_in_ring(&sentence->acts)) || goes_on_around(r, sentence)) && !turns;
	sentence->is_round = sentence->is_round || (r->in_rounds && sentence->kind == TB_SENTENCE_ROWS);
	if (several) {
		tb_way *copy = tb_arena_take(r->b.arena, ways->len * sizeof(tb_way));
		memcpy(copy, ways->data, ways->len * sizeof(tb_way));
		sentence->ways = copy;
		sentence->way_count = ways->len;
		sentence->way_end = end;
	}
	g_array_unref(ways);
}
