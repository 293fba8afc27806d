/*
 * The grammar by itself: every phrase reads its own example, no two phrases of a rule read one example
 * at the same cost into different things, and what the grammar can say it can read.
 *
 * TB_GRAMMAR=print lists what is visited.
 */
#include "notation/chart.h"
#include "support.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <string.h>


typedef struct {
	tb_library *library;
	tb_vocabulary *vocabulary;
	tb_arena *arena;
	tb_text *text;
	tb_lattice lattice;
	tb_chart chart;
} reading;

/* Examples speak US terms, of one size, or of sizes by these names. */
static reading begin(bool uk)
{
	reading r = {.library = tb_library_create()};
	r.vocabulary = tb_vocabulary_create(&tb_english, r.library, uk, 1);
	static const char *const sizes[] = {"XS", "S", "M", "L", "XL", "Toddler"};
	for (unsigned i = 0; i < G_N_ELEMENTS(sizes); i++)
		tb_vocabulary_add_size(r.vocabulary, sizes[i], i);
	return r;
}

static void close_text(reading *r)
{
	tb_chart_finish(&r->chart);
	r->chart = (tb_chart){0};
	g_clear_pointer(&r->text, tb_text_destroy);
	g_clear_pointer(&r->arena, tb_arena_destroy);
}

static void finish(reading *r)
{
	close_text(r);
	tb_vocabulary_destroy(r->vocabulary);
	tb_library_destroy(r->library);
}

static bool read_as(reading *r, const char *text, unsigned rule)
{
	close_text(r);
	r->arena = tb_arena_create();
	r->text = tb_text_create(text, strlen(text), 0);
	tb_lattice_make(&r->lattice, r->vocabulary, r->text, true, r->arena);
	tb_chart_read(&r->chart, &tb_english, &r->lattice, (tb_rule)rule, TB_CHART_READ, r->arena);
	return r->chart.root != TB_NO_ITEM;
}

/* Whether PHRASE is one of those that read the whole; *OTHERS: how many others do. */
static bool is_read_by(const reading *r, guint phrase, unsigned *others)
{
	const tb_chart *c = &r->chart;
	bool found = false;
	*others = 0;
	if (c->root == TB_NO_ITEM)
		return false;
	for (guint32 i = tb_chart_node(c, c->root)->items; i != TB_NO_ITEM;
		i = tb_chart_item(c, i)->other) {
		guint by = tb_english.states[tb_chart_item(c, i)->state].phrase;
		found = found || by == phrase;
		*others += by != phrase;
	}
	return found;
}

static const char *rule_name(guint phrase)
{
	return tb_english.rules[tb_english.phrases[phrase].rule].name;
}

Test(grammar, every_phrase_reads_its_own_example, .timeout = 120)
{
	reading r = begin(false), uk = begin(true);
	unsigned others;
	for (guint i = 0; i < tb_english.phrase_count; i++) {
		const tb_phrase *phrase = &tb_english.phrases[i];
		if (g_str_has_suffix(rule_name(i), "...") || strchr(rule_name(i), '/') != NULL)
			continue; /* made of the others: "{act ...}", "to/as/{in}" */
		cr_expect(*phrase->example != '\0', "english.grammar:%u has no example", phrase->line);
		bool read = (read_as(&r, phrase->example, phrase->rule) && is_read_by(&r, i, &others)) ||
			(read_as(&uk, phrase->example, phrase->rule) && is_read_by(&uk, i, &others));
		cr_expect(read, "english.grammar:%u: %s does not read “%s” by “%s”", phrase->line,
			rule_name(i), phrase->example, phrase->text);
	}
	finish(&r);
	finish(&uk);
}

/* TEXT with 2 added to each of its numbers that is past 2: what is worded alike, in other figures. */
static char *in_other_figures(const char *text)
{
	GString *other = g_string_new(NULL);
	for (const char *at = text; *at != '\0';) {
		char *end;
		guint64 figure = g_ascii_isdigit(*at) ? g_ascii_strtoull(at, &end, 10) : 0;
		if (!g_ascii_isdigit(*at)) {
			g_string_append_c(other, *at++);
			continue;
		}
		g_string_append_printf(other, "%" G_GUINT64_FORMAT, figure > 2 ? figure + 2 : figure);
		at = end;
	}
	return g_string_free(other, FALSE);
}

/* Reads TEXT by a chart that was used before; the hash of its cheapest value and what that costs. */
static void read_by(reading *r, tb_chart *chart, const char *text, unsigned rule, guint32 told[2])
{
	unsigned count;
	g_autoptr(tb_text) whole = tb_text_create(text, strlen(text), 0);
	tb_arena *arena = tb_arena_create();
	tb_lattice_make(&r->lattice, r->vocabulary, whole, true, arena);
	tb_chart_read(chart, &tb_english, &r->lattice, (tb_rule)rule, TB_CHART_READ, arena);
	const tb_reading *readings = tb_chart_readings(chart, &count);
	told[0] = count > 0 ? readings[0].value->hash : 0;
	told[1] = count > 0 ? readings[0].cost : 0;
	tb_arena_destroy(arena);
}

Test(grammar, a_text_is_read_the_same_behind_one_worded_alike, .timeout = 240)
{
	reading r = begin(false);
	tb_chart used = {0};
	unsigned many = 0;
	for (guint i = 0; i < tb_english.phrase_count; i++) {
		const tb_phrase *phrase = &tb_english.phrases[i];
		g_autofree char *other = in_other_figures(phrase->example);
		if (strcmp(other, phrase->example) == 0)
			continue;
		guint32 first[2], behind[2], alone[2];
		tb_chart fresh = {0};
		read_by(&r, &used, phrase->example, phrase->rule, first);
		read_by(&r, &used, other, phrase->rule, behind);
		read_by(&r, &fresh, other, phrase->rule, alone);
		tb_chart_finish(&fresh);
		cr_expect(behind[0] == alone[0] && behind[1] == alone[1],
			"“%s” is read another way behind “%s” than by itself", other, phrase->example);
		many += alone[0] != 0 && first[0] != alone[0];
	}
	/* other figures are other values */
	cr_assert_gt(many, 500);
	tb_chart_finish(&used);
	finish(&r);
}

/* Rows keep their acts as choices, which are weighed by working them and not here. */
static bool has_choices(const tb_value *value)
{
	if (value == NULL)
		return false;
	for (guint32 i = 0; i < value->count; i++) {
		if ((value->type == TB_VALUE_NODE && has_choices(value->fields[i].value)) ||
			(value->type == TB_VALUE_LIST && has_choices(value->items[i])))
			return true;
	}
	return value->type == TB_VALUE_PACKED;
}

static void print_ways(const reading *r, guint phrase)
{
	const tb_chart *c = &r->chart;
	fprintf(stderr, "%s “%s” is read in two ways:\n", rule_name(phrase),
		tb_english.phrases[phrase].example);
	for (guint32 i = tb_chart_node(c, c->root)->items; i != TB_NO_ITEM;
		i = tb_chart_item(c, i)->other) {
		const tb_phrase *by =
			&tb_english.phrases[tb_english.states[tb_chart_item(c, i)->state].phrase];
		fprintf(stderr, "   english.grammar:%u: %s ~%u\n", by->line, by->text, by->cost);
	}
}

/* The first phrase of a rule that reads the whole at the reading's cost is the usual one. */
Test(grammar, no_example_is_read_in_two_ways, .timeout = 120)
{
	reading r = begin(false);
	unsigned others, doubtful = 0;
	for (guint i = 0; i < tb_english.phrase_count; i++) {
		const tb_phrase *phrase = &tb_english.phrases[i];
		unsigned count = 0;
		if (!read_as(&r, phrase->example, phrase->rule) || !is_read_by(&r, i, &others) ||
			others == 0 || tb_english.rules[phrase->rule].is_packed)
			continue;
		const tb_reading *readings = tb_chart_readings(&r.chart, &count);
		bool two = count > 1 && readings[0].cost == readings[1].cost &&
			!has_choices(readings[0].value) && !has_choices(readings[1].value) &&
			!tb_value_equal(readings[0].value, readings[1].value);
		doubtful += two;
		if (two && g_getenv("TB_GRAMMAR") != NULL)
			print_ways(&r, i);
	}
	cr_expect_eq(doubtful, 0, "%u examples are read in two ways", doubtful);
	finish(&r);
}

/* --- what the grammar can say --- */

#define LONGEST_PATH 64u
#define SENTENCES 4000
#define DEEPEST 5

typedef struct {
	GRand *random;
	bool *visited; /* by phrase */
	GString *out;
	bool idles; /* with a remark, which must end a sentence: not every phrase ends one */
} speaker;

static void add_word(GString *out, const char *word)
{
	/* "qz4" is a row of such rows */
	if (out->len > 0 && !g_str_has_suffix(out->str, " qz") && strcmp(out->str, "qz") != 0)
		g_string_append_c(out, ' ');
	g_string_append(out, word);
}

static void say_term(speaker *s, guint term)
{
	static const char *const stitches[] = {"dc", "hdc", "tr", "sc"};
	const char *name = tb_english.term_names[term];
	if (term == TB_TERM_x28 || term == TB_TERM_x29) {
		add_word(s->out, term == TB_TERM_x28 ? "(" : ")");
	} else if (term == TB_TERM_CLASS_int || term == TB_TERM_CLASS_frac) {
		g_autofree char *figure = g_strdup_printf("%d", g_rand_int_range(s->random, 2, 10));
		add_word(s->out, figure);
	} else if (term == TB_TERM_CLASS_ord || term == TB_TERM_CLASS_ord2 || term == TB_TERM_CLASS_ordn) {
		add_word(s->out, "3rd");
	} else if (term == TB_TERM_CLASS_stitchname) {
		add_word(s->out, stitches[g_rand_int_range(s->random, 0, G_N_ELEMENTS(stitches))]);
	} else if (term == TB_TERM_CLASS_star) {
		add_word(s->out, "*");
	} else if (term == TB_TERM_CLASS_any || term == TB_TERM_CLASS_token || term == TB_TERM_CLASS_name ||
		term == TB_TERM_CLASS_tame || term == TB_TERM_CLASS_inside) {
		add_word(s->out, "zigzag");
	} else if (term == TB_TERM_CLASS_idle || term == TB_TERM_CLASS_aside || term == TB_TERM_CLASS_doubt ||
		term == TB_TERM_CLASS_aim) {
		s->idles = true;
		add_word(s->out, "you may stop");
	} else if (term == TB_TERM_CLASS_code) {
		add_word(s->out, "qz");
	} else if (term == TB_TERM_CLASS_sizeword) {
		add_word(s->out, "M");
	} else if (term == TB_TERM_dash) {
		add_word(s->out, "–");
	} else {
		const char *said = NULL;
		bool is_spelling = false;
		for (guint i = 0; i < tb_english.spelling_count; i++) {
			const tb_spelling *spelling = &tb_english.spellings[i];
			/* "3rd loop" is spelled without a blank, which is not known here */
			if (spelling->term != term || spelling->terms == 2 ||
				g_ascii_isdigit(*spelling->spelling))
				continue;
			is_spelling = is_spelling || strcmp(spelling->spelling, name) == 0;
			said = said == NULL ? spelling->spelling : said;
		}
		add_word(s->out, is_spelling || said == NULL ? name : said);
	}
}

static void say_rule(speaker *s, guint rule, unsigned depth);

/* Puts into PATH, which has LENGTH states, those from STATE to the end of PHRASE; false where they lead elsewhere. */
static bool find_path(guint state, guint phrase, guint16 *path, unsigned length)
{
	const tb_grammar *g = &tb_english;
	cr_assert_lt(length, LONGEST_PATH);
	path[length] = (guint16)state;
	if (g->states[state].kind == TB_STATE_END)
		return g->states[state].phrase == phrase;
	if (find_path(state + 1, phrase, path, length + 1))
		return true;
	const guint16 *also = g->also + g->states[state].also;
	for (also += *also != 0xffff; *also != 0xffff; also++) {
		if (find_path(*also, phrase, path, length + 1))
			return true;
	}
	return false;
}

/* The states that phrase NUMBER goes through, its end last. */
static void find_states_of(guint number, guint16 *path)
{
	const tb_grammar *g = &tb_english;
	for (guint i = 0; i < g->root_count; i++) {
		guint first = g->roots[i].first;
		if (g->phrases[g->states[first].phrase].rule == g->phrases[number].rule && find_path(first, number, path, 0))
			return;
	}
	cr_assert_fail("english.grammar:%u is not among the states", g->phrases[number].line);
}

/* Where a phrase goes on that stands at PATH and leaves out what stands there. */
static const guint16 *leave_out(const guint16 *path)
{
	const tb_grammar *g = &tb_english;
	const guint16 *skips = g->skips + g->states[*path].skips;
	for (const guint16 *to = path + 1;; to++) {
		for (const guint16 *skip = skips; *skip != 0xffff; skip++) {
			if (*skip == *to)
				return to;
		}
		cr_assert_neq(g->states[*to].kind, TB_STATE_END, "what may be left out leads nowhere");
	}
}

/* Says what PHRASE reads; what may be left out mostly is. */
static void say_phrase(speaker *s, guint number, unsigned depth)
{
	const tb_grammar *g = &tb_english;
	guint16 states[LONGEST_PATH];
	const guint16 *path = states;
	find_states_of(number, states);
	s->visited[number] = true;
	while (g->states[*path].kind != TB_STATE_END) {
		const tb_state *at = &g->states[*path];
		if (g->skips[at->skips] != 0xffff && g_rand_int_range(s->random, 0, 100) < 65) {
			path = leave_out(path);
			continue;
		}
		if (at->kind == TB_STATE_RULE) {
			say_rule(s, at->what, depth + 1);
		} else {
			guint terms[TB_TERM_COUNT], count = 0;
			for (guint term = 0; term < TB_TERM_COUNT; term++) {
				if (tb_grammar_set_has(g, at->what, term))
					terms[count++] = term;
			}
			say_term(s, terms[g_rand_int_range(s->random, 0, (gint32)count)]);
		}
		path++;
	}
}

/* One of the rule's phrases; deep down the first, which is how it is usually written. */
static void say_rule(speaker *s, guint rule, unsigned depth)
{
	guint phrases[512], count = 0;
	for (guint i = 0; i < tb_english.phrase_count && count < G_N_ELEMENTS(phrases); i++) {
		if (tb_english.phrases[i].rule == rule)
			phrases[count++] = i;
	}
	cr_assert_gt(count, 0);
	bool first = depth > DEEPEST || g_str_has_suffix(tb_english.rules[rule].name, "...");
	say_phrase(s, phrases[first ? 0 : g_rand_int_range(s->random, 0, (gint32)count)], depth);
}

/* Whatever phrase is taken, however its parts are chosen, what it says is read by it again. */
Test(grammar, what_it_says_it_reads, .timeout = 120)
{
	reading r = begin(false);
	speaker s = {.random = g_rand_new_with_seed(7), .visited = g_new0(bool, tb_english.phrase_count)};
	unsigned said = 0, visited = 0, others, all = 0;
	for (unsigned i = 0; i < SENTENCES; i++) {
		guint number = i % tb_english.phrase_count;
		guint rule = tb_english.phrases[number].rule;
		if (g_str_has_suffix(tb_english.rules[rule].name, "..."))
			continue;
		s.out = g_string_new(NULL);
		s.idles = false;
		say_phrase(&s, number, 1);
		bool read = s.idles ||
			(read_as(&r, s.out->str, rule) && is_read_by(&r, number, &others));
		cr_expect(read, "english.grammar:%u: %s says “%s” by “%s”, and does not read it",
			tb_english.phrases[number].line, rule_name(number), s.out->str,
			tb_english.phrases[number].text);
		said += !s.idles;
		g_string_free(s.out, TRUE);
	}
	for (guint i = 0; i < tb_english.phrase_count; i++) {
		all++;
		visited += s.visited[i];
	}
	if (g_getenv("TB_GRAMMAR") != NULL)
		fprintf(stderr, "%u sentences by %u of %u phrases\n", said, visited, all);
	cr_expect_gt(said, 3000);
	g_rand_free(s.random);
	g_free(s.visited);
	finish(&r);
}
