/*
 * The nearest sentence that would be understood, made of the row's own words.
 *
 * A phrase that was begun where the clause begins says what it still waits for: the words read, and a
 * sample of that. A word that is spelled nearly as one that may stand there is tried, and so is the
 * row without the word: what is then read further is offered, and nothing that is not.
 */
#include "notation/tell.h"

#include "stitches/stitch.h"
#include "support/limits.h"
#include "support/nearest.h"

#include <string.h>

/* A row so long is not read again to see what would help, in bytes. */
#define LONGEST_TRIED 2000u

/* The words of a stitch that the row names before PLACE, as it writes them. Owned. */
static char *own_stitch(const tb_reader *r, guint32 place)
{
	const tb_lattice *l = &r->lattice;
	for (guint32 word = MIN(place, l->count); word-- > 0;) {
		const tb_edge *edge = tb_tell_edge(l, word, TB_TERM_CLASS_stitchname);
		if (edge != NULL && edge->end <= place && edge->value->type == TB_VALUE_STITCH &&
			edge->value->stitch->takes == 1 && edge->value->stitch->height > 0) {
			g_autofree char *words = tb_tell_words(r, word, edge->end);
			return tb_text_lower(words, -1);
		}
	}
	return g_strdup(r->b.pattern->uk_terms ? "tr" : "dc");
}

/* What stands for RULE in a sentence of this row. Owned. */
static char *sample_of_rule(const tb_reader *r, guint rule, guint32 place)
{
	const tb_grammar *g = r->chart.grammar;
	g_autofree char *stitch = own_stitch(r, place);
	switch ((tb_rule)rule) {
	case TB_RULE_place:
		return g_strdup("next st");
	case TB_RULE_noun:
		return g_strdup("st");
	case TB_RULE_nextplace:
		return g_strdup("next 2 sts");
	case TB_RULE_stitch:
		return g_steal_pointer(&stitch);
	case TB_RULE_act:
	case TB_RULE_rowact:
	case TB_RULE_row:
		return g_strdup_printf("%s in next st", stitch);
	case TB_RULE_reach:
	case TB_RULE_howlong:
		return g_strdup("across");
	case TB_RULE_times:
		return g_strdup("4 times");
	default:
		break;
	}
	for (guint i = 0; i < g->phrase_count; i++) {
		if (g->phrases[i].rule == rule && *g->phrases[i].example != '\0')
			return g_strdup(g->phrases[i].example);
	}
	return g_strdup(g->rules[rule].name);
}

static char *sample_of_set(const tb_reader *r, guint set, guint32 place)
{
	const tb_grammar *g = r->chart.grammar;
	if (tb_grammar_set_has(g, set, TB_TERM_CLASS_stitchname))
		return own_stitch(r, place);
	if (tb_grammar_set_has(g, set, TB_TERM_CLASS_int))
		return g_strdup("2");
	if (tb_grammar_set_has(g, set, TB_TERM_CLASS_ord))
		return g_strdup("2nd");
	if (tb_grammar_set_has(g, set, TB_TERM_CLASS_star))
		return g_strdup("*");
	for (guint term = 0; term < TB_TERM_COUNT; term++) {
		if (tb_grammar_set_has(g, set, term) && g->term_names[term][0] != '<')
			return g_strdup(g->term_names[term]);
	}
	return g_strdup("…");
}

static void add_word(GString *out, const char *word)
{
	bool tight = *word == '\0' || tb_is_among(*word, ",;.:)]}") || out->len == 0 ||
		tb_is_among(out->str[out->len - 1], "([{*");
	if (!tight)
		g_string_append_c(out, ' ');
	g_string_append(out, word);
}

/* What the phrase of STATE still waits for, in words; what may be left out is. */
static void add_rest(const tb_reader *r, guint state, guint32 place, GString *out)
{
	const tb_grammar *g = r->chart.grammar;
	for (unsigned steps = 0; g->states[state].kind != TB_STATE_END && steps < 40; steps++) {
		const tb_state *s = &g->states[state];
		const guint16 *skip = g->skips + s->skips;
		if (*skip != 0xffff) {
			state = *skip;
			continue;
		}
		g_autofree char *sample = s->kind == TB_STATE_RULE ? sample_of_rule(r, s->what, place) :
			sample_of_set(r, s->what, place);
		add_word(out, sample);
		state++;
	}
}

/* An item that waits at ORIGIN for what RULE reads, one of a clause at CLAUSE rather than another. */
static const tb_item *find_parent(const tb_chart *c, const tb_item *item, guint32 clause)
{
	const tb_state *states = c->grammar->states;
	guint rule = c->grammar->phrases[states[item->state].phrase].rule;
	const tb_item *best = NULL;
	for (guint32 i = c->set_first[item->origin]; i != TB_NO_ITEM; i = tb_chart_item(c, i)->next) {
		const tb_item *parent = tb_chart_item(c, i);
		if (states[parent->state].kind != TB_STATE_RULE || states[parent->state].what != rule ||
			parent->origin < clause || parent->origin >= item->origin)
			continue;
		if (best == NULL || parent->origin < best->origin)
			best = parent;
	}
	return best;
}

static bool waits(const tb_chart *c, const tb_item *item)
{
	const tb_grammar *g = c->grammar;
	const tb_phrase *phrase = &g->phrases[g->states[item->state].phrase];
	return g->states[item->state].kind != TB_STATE_END && phrase->rule != TB_RULE_line &&
		phrase->rule != TB_RULE_row && phrase->rule != TB_RULE_remark &&
		phrase->rule != TB_RULE_knotwork;
}

/*
 * The words of the clause at CLAUSE and what they wait for at PLACE: the phrase whose first word is
 * the clause's own, or one inside such a phrase, that has read most and needs least. NULL when
 * nothing waits. Owned.
 */
char *tb_tell_complete(const tb_reader *r, guint32 clause, guint32 place)
{
	const tb_chart *c = &r->chart;
	g_autofree char *best = NULL;
	guint32 best_from = G_MAXUINT32, best_words = 0;
	guint best_phrase = 0;
	for (guint32 i = c->set_first[place]; i != TB_NO_ITEM; i = tb_chart_item(c, i)->next) {
		const tb_item *item = tb_chart_item(c, i);
		if (!waits(c, item) || item->origin < clause || item->origin == place)
			continue;
		g_autoptr(GString) out = g_string_new(NULL);
		guint32 from = item->origin;
		add_rest(r, item->state, place, out);
		for (const tb_item *up = item; (up = find_parent(c, up, clause)) != NULL; from = up->origin)
			add_rest(r, up->state + 1u, place, out);
		/* a phrase is complete as it stands: what it waits for is no mistake */
		if (out->len == 0 || out->len > 60)
			continue;
		guint32 words = place - item->origin;
		bool better = best == NULL || from < best_from ||
			(from == best_from && (words > best_words ||
				(words == best_words && c->grammar->states[item->state].phrase < best_phrase)));
		if (!better || from != clause)
			continue;
		g_free(best);
		best = g_strdup(out->str);
		best_from = from;
		best_words = words;
		best_phrase = c->grammar->states[item->state].phrase;
	}
	if (best == NULL)
		return NULL;
	g_autofree char *words = tb_tell_words(r, best_from, place);
	GString *whole = g_string_new(words);
	add_word(whole, best);
	return g_string_free(whole, FALSE);
}

/* --- another word --- */

/* How far the row is read when its bytes FROM to TO are INSTEAD; *WHOLE: to its end. */
static guint32 read_instead(const tb_reader *r, size_t from, size_t to, const char *instead,
	bool *whole)
{
	const tb_text *text = r->lattice.text;
	g_autofree char *chars = g_strdup_printf("%.*s%s%s", (int)from, text->chars, instead,
		text->chars + to);
	g_autoptr(tb_text) other = tb_text_create(chars, strlen(chars), 0);
	g_autoptr(tb_arena) arena = tb_arena_create();
	tb_lattice lattice;
	tb_chart chart = {0};
	tb_lattice_make(&lattice, r->b.vocabulary, other, false, arena);
	tb_chart_read(&chart, r->chart.grammar, &lattice, r->rule, TB_CHART_TELL, arena);
	*whole = chart.root != TB_NO_ITEM;
	guint32 furthest = chart.is_tangled ? 0 : chart.furthest;
	tb_chart_finish(&chart);
	return furthest;
}

/* The terminals that may stand at PLACE. */
static void find_allowed(const tb_chart *c, guint32 place, bool *allowed)
{
	const tb_grammar *g = c->grammar;
	for (guint32 i = c->set_first[place]; i != TB_NO_ITEM; i = tb_chart_item(c, i)->next) {
		const tb_state *state = &g->states[tb_chart_item(c, i)->state];
		for (guint term = 0; term < TB_TERM_COUNT && state->kind != TB_STATE_END; term++) {
			allowed[term] = allowed[term] || (state->kind == TB_STATE_TERMINAL ?
				tb_grammar_set_has(g, state->what, term) :
				*tb_grammar_predicted(g, state->what, term) != 0xffff);
		}
	}
}

static void add_near(GPtrArray *known, const char *word, const char *spelling)
{
	/* people hardly mistake the first letter, and a short word is near to everything */
	if (strlen(spelling) > 2 && strchr(spelling, ' ') == NULL && *spelling == *word)
		g_ptr_array_add(known, (gpointer)spelling);
}

/* A word that may stand at PLACE and is spelled nearly as what stands there; NULL for none. */
static const char *find_near(const tb_reader *r, guint32 place, const char *word)
{
	const tb_grammar *g = r->chart.grammar;
	bool allowed[TB_TERM_COUNT] = {false};
	unsigned terms = r->b.pattern->uk_terms ? 2 : 1;
	if (strlen(word) < 3 || !g_ascii_isalpha(*word))
		return NULL;
	find_allowed(&r->chart, place, allowed);
	g_autoptr(GPtrArray) known = g_ptr_array_new();
	for (guint i = 0; i < g->spelling_count; i++) {
		const tb_spelling *s = &g->spellings[i];
		if (allowed[s->term] && (s->terms == 0 || s->terms == terms))
			add_near(known, word, s->spelling);
	}
	if (allowed[TB_TERM_CLASS_stitchname]) {
		const tb_library *library = tb_vocabulary_library(r->b.vocabulary);
		GHashTableIter iter;
		gpointer term;
		g_hash_table_iter_init(&iter, r->b.pattern->uk_terms ? library->by_uk : library->by_us);
		while (g_hash_table_iter_next(&iter, &term, NULL))
			add_near(known, word, term);
	}
	const char *near =
		tb_nearest(word, strlen(word), (const char *const *)known->pdata, known->len);
	const tb_stitch *stitch = near == NULL ? NULL :
		tb_library_find_term(r->b.pattern->library, near, r->b.pattern->uk_terms);
	const char *term = stitch == NULL ? NULL : r->b.pattern->uk_terms ? stitch->uk : stitch->us;
	/* "FPdc" as the trade writes it */
	return term != NULL && g_ascii_strcasecmp(term, near) == 0 ? term : near;
}

/* Owned. */
static char *usual_sentence(const tb_reader *r, guint32 at)
{
	g_autofree char *stitch = own_stitch(r, at);
	const char *end = r->b.pattern->uk_terms ? "to end" : "across";
	if (r->rule == TB_RULE_from)
		return g_strdup("As in “1-37”: the first stitch and the last.");
	if (tb_tell_label(&r->chart) == 0)
		return g_strdup_printf("As in “Row 2: %s in each st %s, turn.”", stitch, end);
	return g_strdup_printf("As in “%s in next 2 sts” or “%s in each st %s”.", stitch, stitch, end);
}

/* What would be understood in place of the word at AT. Owned. */
char *tb_tell_hint(const tb_reader *r, guint32 clause, guint32 at, const char *wrong)
{
	const tb_lattice *l = &r->lattice;
	bool whole;
	/* the fault is only counted, and its hint is told to nobody */
	if (tb_diagnostics_count(r->diagnostics) >= TB_LIMIT_FAULTS)
		return g_strdup("");
	g_autofree char *lower = tb_text_lower(wrong, -1);
	const char *near = l->text->length > LONGEST_TRIED ? NULL : find_near(r, at, lower);
	if (near != NULL && read_instead(r, l->start[at], l->stop[at], near, &whole) > at)
		return g_strdup_printf("Did you mean “%s”?", near);
	guint32 end = at + 1;
	while (end < l->count && end < at + 8 && !tb_tell_is_sign(l, end, ",;.:([{)]}*!"))
		end++;
	/* words may be left out only where that says as much without them: never a figure */
	for (guint32 next = at + 1; next <= end && next <= at + 4 && !tb_tell_is_figure(l, next - 1) &&
		l->text->length <= LONGEST_TRIED; next++) {
		if (next == end && clause == at)
			break;
		if (read_instead(r, l->start[at], next < l->count ? l->start[next] : l->text->length, "",
			&whole) >= at + (end - next) + (end < l->count) && (whole || next < end)) {
			g_autofree char *before = tb_tell_words(r, clause, at);
			g_autofree char *behind = tb_tell_words(r, next, end);
			g_autofree char *out = tb_tell_words(r, at, next);
			return g_strdup_printf("Without “%s” this is understood: “%s%s%s”.", out, before,
				*before != '\0' && *behind != '\0' ? " " : "", behind);
		}
	}
	g_autofree char *sentence = tb_tell_complete(r, clause, at);
	return sentence != NULL ? g_strdup_printf("As in “%s”.", sentence) :
		usual_sentence(r, at);
}
