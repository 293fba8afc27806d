/* What can stand first in a phrase, what behind that, and what it cannot do without. */
#include "grammar_compile.h"

gboolean *first_of(const phrase *p)
{
	return (gboolean *)(void *)p->first->data;
}

static gboolean add_first_from(phrase *p, guint dot, GPtrArray *rule_first)
{
	gboolean changed = FALSE;
	g_autoptr(GArray) todo = g_array_new(FALSE, FALSE, sizeof(guint));
	g_array_append_val(todo, dot);
	for (guint i = 0; i < todo->len; i++) {
		guint at = g_array_index(todo, guint, i);
		line_number = p->line;
		if (at == p->symbols->len)
			refuse("this phrase can be empty: %s", p->text);
		const symbol *s = p->symbols->pdata[at];
		for (guint k = 0; k < s->skips->len; k++)
			g_array_append_val(todo, g_array_index(s->skips, guint, k));
		for (guint k = 0; k < s->terms->len; k++) {
			guint term = g_array_index(s->terms, guint, k);
			changed |= !first_of(p)[term];
			first_of(p)[term] = TRUE;
		}
		if (!s->is_rule)
			continue;
		const gboolean *of = rule_first->pdata[s->what];
		for (guint term = 0; term < terms.names->len; term++) {
			changed |= of[term] && !first_of(p)[term];
			first_of(p)[term] |= of[term];
		}
	}
	return changed;
}

/* The terminals that each phrase can begin with. */
void find_first(void)
{
	g_autoptr(GPtrArray) rule_first = g_ptr_array_new_with_free_func(g_free);
	for (guint i = 0; i < rules.names->len; i++)
		g_ptr_array_add(rule_first, g_new0(gboolean, terms.names->len));
	for (guint i = 0; i < phrases->len; i++) {
		phrase *p = phrases->pdata[i];
		p->first = g_array_new(FALSE, TRUE, sizeof(gboolean));
		g_array_set_size(p->first, terms.names->len);
	}
	for (gboolean changed = TRUE; changed;) {
		changed = FALSE;
		for (guint i = 0; i < phrases->len; i++) {
			phrase *p = phrases->pdata[i];
			if (!add_first_from(p, 0, rule_first))
				continue;
			changed = TRUE;
			gboolean *of = rule_first->pdata[p->rule];
			for (guint term = 0; term < terms.names->len; term++)
				of[term] |= first_of(p)[term];
		}
	}
}

/* Adds what is in FROM to TO; whether that is more. */
static gboolean add_terms(gboolean *to, const gboolean *from)
{
	gboolean changed = FALSE;
	for (guint term = 0; term < terms.names->len; term++) {
		changed |= from[term] && !to[term];
		to[term] |= from[term];
	}
	return changed;
}

static gboolean *terms_of_rule(guint rule)
{
	gboolean *of = g_new0(gboolean, terms.names->len);
	for (guint i = 0; i < phrases->len; i++) {
		const phrase *p = phrases->pdata[i];
		if (p->rule == rule)
			add_terms(of, first_of(p));
	}
	return of;
}

/*
 * The terminals that can stand at each dot of each phrase, behind its end too: an item whose place
 * has none of them leads nowhere. Any rule may be read as a whole, so any may be followed by the
 * end of the text.
 */
void find_next(void)
{
	g_autoptr(GPtrArray) begins = g_ptr_array_new_with_free_func(g_free);
	g_autoptr(GPtrArray) follows = g_ptr_array_new_with_free_func(g_free);
	guint end = number_of(&terms, "<end");
	for (guint i = 0; i < rules.names->len; i++) {
		gboolean *follow = g_new0(gboolean, terms.names->len);
		follow[end] = TRUE;
		g_ptr_array_add(follows, follow);
		g_ptr_array_add(begins, terms_of_rule(i));
	}
	for (guint i = 0; i < phrases->len; i++) {
		phrase *p = phrases->pdata[i];
		p->next = g_ptr_array_new_with_free_func(g_free);
		for (guint dot = 0; dot <= p->symbols->len; dot++)
			g_ptr_array_add(p->next, g_new0(gboolean, terms.names->len));
	}
	for (gboolean changed = TRUE; changed;) {
		changed = FALSE;
		for (guint i = 0; i < phrases->len; i++) {
			phrase *p = phrases->pdata[i];
			changed |= add_terms(p->next->pdata[p->symbols->len], follows->pdata[p->rule]);
			for (guint dot = p->symbols->len; dot-- > 0;) {
				const symbol *s = p->symbols->pdata[dot];
				gboolean *next = p->next->pdata[dot];
				for (guint k = 0; k < s->terms->len; k++)
					next[g_array_index(s->terms, guint, k)] = TRUE;
				for (guint k = 0; k < s->skips->len; k++)
					add_terms(next, p->next->pdata[g_array_index(s->skips, guint, k)]);
				if (!s->is_rule)
					continue;
				add_terms(next, begins->pdata[s->what]);
				changed |= add_terms(follows->pdata[s->what], p->next->pdata[dot + 1]);
			}
		}
	}
}

/* --- what can stand behind the first terminal of a phrase --- */

/* Terminals; and whether the end of the phrase or rule is among them. */
typedef struct {
	gboolean ends;
	gboolean *of; /* in a table: NULL where its rule does not begin with its terminal */
} second;

static gboolean add_second(second *to, const second *from)
{
	gboolean changed = from->ends && !to->ends;
	to->ends = to->ends || from->ends;
	return add_terms(to->of, from->of) || changed;
}

/* What can stand at DOT of P, its end being open. */
static void add_inside(const phrase *p, guint dot, GPtrArray *begins, second *to)
{
	if (dot == p->symbols->len) {
		to->ends = TRUE;
		return;
	}
	const symbol *s = p->symbols->pdata[dot];
	for (guint k = 0; k < s->terms->len; k++)
		to->of[g_array_index(s->terms, guint, k)] = TRUE;
	for (guint k = 0; k < s->skips->len; k++)
		add_inside(p, g_array_index(s->skips, guint, k), begins, to);
	if (s->is_rule)
		add_terms(to->of, begins->pdata[s->what]);
}

/* What can stand behind TERM where P begins with it at DOT; SECONDS by rule and terminal. */
static void add_behind(const phrase *p, guint dot, guint term, GPtrArray *begins, second **seconds,
	second *to)
{
	if (dot == p->symbols->len)
		return;
	const symbol *s = p->symbols->pdata[dot];
	for (guint k = 0; k < s->skips->len; k++)
		add_behind(p, g_array_index(s->skips, guint, k), term, begins, seconds, to);
	bool alone = false;
	for (guint k = 0; k < s->terms->len; k++)
		alone = alone || g_array_index(s->terms, guint, k) == term;
	if (s->is_rule && ((gboolean *)begins->pdata[s->what])[term]) {
		const second *inside = &seconds[s->what][term];
		add_terms(to->of, inside->of);
		alone = inside->ends;
	}
	if (alone)
		add_inside(p, dot + 1, begins, to);
}

static second **seconds;
static GPtrArray *rule_begins;

void find_seconds(void)
{
	rule_begins = g_ptr_array_new();
	seconds = g_new0(second *, rules.names->len);
	for (guint rule = 0; rule < rules.names->len; rule++) {
		gboolean *begins = terms_of_rule(rule);
		g_ptr_array_add(rule_begins, begins);
		seconds[rule] = g_new0(second, terms.names->len);
		for (guint term = 0; term < terms.names->len; term++) {
			if (begins[term])
				seconds[rule][term].of = g_new0(gboolean, terms.names->len);
		}
	}
	second found = {FALSE, g_new0(gboolean, terms.names->len)};
	for (gboolean changed = TRUE; changed;) {
		changed = FALSE;
		for (guint i = 0; i < phrases->len; i++) {
			const phrase *p = phrases->pdata[i];
			for (guint term = 0; term < terms.names->len; term++) {
				if (!first_of(p)[term])
					continue;
				memset(found.of, 0, terms.names->len * sizeof(gboolean));
				found.ends = FALSE;
				add_behind(p, 0, term, rule_begins, seconds, &found);
				changed |= add_second(&seconds[p->rule][term], &found);
			}
		}
	}
	g_free(found.of);
}

/* Adds to FOUND the terminals that can stand behind TERM where phrase P begins with it. */
static void add_behind_first(const phrase *p, guint term, gboolean *found)
{
	second behind = {FALSE, g_new0(gboolean, terms.names->len)};
	add_behind(p, 0, term, rule_begins, seconds, &behind);
	if (behind.ends)
		add_terms(behind.of, p->next->pdata[p->symbols->len]);
	for (guint i = 0; i < terms.names->len; i++)
		found[i] |= behind.of[i];
	g_free(behind.of);
}

/* --- what a phrase cannot do without --- */

static bool may_be_left_out(const phrase *p, guint at)
{
	for (guint i = 0; i <= at; i++) {
		const symbol *s = p->symbols->pdata[i];
		for (guint k = 0; k < s->skips->len; k++) {
			if (g_array_index(s->skips, guint, k) > at)
				return true;
		}
	}
	return false;
}

/* How often each terminal stands in the examples: what is rare there is rare in patterns. */
static guint *uses;

static guint uses_of(const GArray *list)
{
	guint sum = 0;
	for (guint i = 0; i < list->len; i++)
		sum += uses[g_array_index(list, guint, i)];
	return sum;
}

/* The terminals that each word may be that is a spelling of its own. */
static GHashTable *terms_by_word(void)
{
	GHashTable *by_word = g_hash_table_new(g_str_hash, g_str_equal);
	for (guint i = 0; i < spellings->len; i++) {
		const spelling *s = &g_array_index(spellings, spelling, i);
		GArray *list = g_hash_table_lookup(by_word, s->spelling);
		if (list == NULL) {
			list = g_array_new(FALSE, FALSE, sizeof(guint));
			g_hash_table_insert(by_word, s->spelling, list);
		}
		g_array_append_val(list, s->term);
	}
	return by_word;
}

static void count_word(GHashTable *by_word, const char *word)
{
	const GArray *list = g_hash_table_lookup(by_word, word);
	gpointer term;
	if (list != NULL) {
		for (guint i = 0; i < list->len; i++)
			uses[g_array_index(list, guint, i)]++;
	} else if (g_ascii_isdigit(*word)) {
		uses[number_of(&terms, "<int")]++;
	} else if (g_hash_table_lookup_extended(terms.numbers, word, NULL, &term)) {
		uses[GPOINTER_TO_UINT(term)]++;
	} else {
		uses[number_of(&terms, "<stitchname")]++;
	}
}

static void count_uses(void)
{
	g_autoptr(GHashTable) by_word = terms_by_word();
	uses = g_new0(guint, terms.names->len);
	for (guint i = 0; i < terms.names->len; i++)
		uses[i] = 1;
	for (guint i = 0; i < phrases->len; i++) {
		const phrase *p = phrases->pdata[i];
		g_autofree char *lower = g_utf8_strdown(p->example, -1);
		g_autofree char *words = tb_spelling_words(lower);
		g_auto(GStrv) each = g_strsplit(words, " ", -1);
		for (guint k = 0; each[k] != NULL; k++)
			count_word(by_word, each[k]);
	}
	uses[number_of(&terms, "<any")] = uses[number_of(&terms, "<token")] = uses[number_of(&terms, "<name")] = uses[number_of(&terms, "<tame")] = phrases->len * 8;
}

/* By rule: terminals of which one must stand somewhere in what it reads. */
static GPtrArray *rule_musts;

/* Terminals of which one must stand in what symbol AT of P reads: what it begins with, or rarer ones. */
static GArray *must_of(const phrase *p, guint at)
{
	const symbol *s = p->symbols->pdata[at];
	if (!s->is_rule)
		return g_array_copy(s->terms);
	GArray *begins = g_array_new(FALSE, FALSE, sizeof(guint));
	for (guint term = 0; term < terms.names->len; term++) {
		if (((gboolean *)rule_begins->pdata[s->what])[term])
			g_array_append_val(begins, term);
	}
	const GArray *must = rule_musts->pdata[s->what];
	if (uses_of(must) >= uses_of(begins))
		return begins;
	g_array_free(begins, TRUE);
	return g_array_copy((GArray *)must);
}

static GArray *every_term(void)
{
	GArray *every = g_array_new(FALSE, FALSE, sizeof(guint));
	for (guint term = 0; term < terms.names->len; term++)
		g_array_append_val(every, term);
	return every;
}

/* The rarest of what the symbols of P that cannot be left out must have. */
static GArray *must_of_phrase(const phrase *p)
{
	GArray *least = every_term();
	for (guint at = 0; at < p->symbols->len; at++) {
		if (may_be_left_out(p, at))
			continue;
		GArray *must = must_of(p, at);
		if (uses_of(must) < uses_of(least)) {
			GArray *more = least;
			least = must;
			must = more;
		}
		g_array_free(must, TRUE);
	}
	return least;
}

/* What all phrases of RULE must have, taken together. */
static GArray *must_of_rule(guint rule)
{
	g_autofree gboolean *has = g_new0(gboolean, terms.names->len);
	for (guint i = 0; i < phrases->len; i++) {
		const phrase *p = phrases->pdata[i];
		if (p->rule != rule)
			continue;
		g_autoptr(GArray) must = must_of_phrase(p);
		for (guint k = 0; k < must->len; k++)
			has[g_array_index(must, guint, k)] = TRUE;
	}
	GArray *all = g_array_new(FALSE, FALSE, sizeof(guint));
	for (guint term = 0; term < terms.names->len; term++) {
		if (has[term])
			g_array_append_val(all, term);
	}
	return all;
}

/* At first anything will do; what is found of one rule then narrows those that read it. */
void find_musts(void)
{
	count_uses();
	rule_musts = g_ptr_array_new();
	for (guint rule = 0; rule < rules.names->len; rule++)
		g_ptr_array_add(rule_musts, every_term());
	for (bool changed = true; changed;) {
		changed = false;
		for (guint rule = 0; rule < rules.names->len; rule++) {
			GArray *must = must_of_rule(rule), *before = rule_musts->pdata[rule];
			bool rarer = uses_of(must) < uses_of(before);
			changed = changed || rarer;
			if (rarer)
				rule_musts->pdata[rule] = must;
			g_array_free(rarer ? before : must, TRUE);
		}
	}
}

/* The two rarest lists of what P needs behind its first, the rarer first, at least of every terminal. */
static void find_rarest(const phrase *p, GArray *rarest[2])
{
	rarest[0] = every_term();
	rarest[1] = every_term();
	for (guint at = 1; at < p->symbols->len; at++) {
		GArray *list = must_of(p, at);
		guint size = uses_of(list);
		if (may_be_left_out(p, at) || size >= uses_of(rarest[1]) || is_same_list(list, rarest[0])) {
			g_array_free(list, TRUE);
			continue;
		}
		g_array_free(rarest[1], TRUE);
		rarest[1] = list;
		if (size < uses_of(rarest[0])) {
			rarest[1] = rarest[0];
			rarest[0] = list;
		}
	}
}

static void add_list_to(gboolean *has, GArray *list)
{
	for (guint i = 0; i < list->len; i++)
		has[g_array_index(list, guint, i)] = TRUE;
	g_array_free(list, TRUE);
}

void find_needs(const state *root, GHashTable *sets, GPtrArray *order, guint needs[3])
{
	gboolean *has[3];
	for (guint i = 0; i < 3; i++)
		has[i] = g_new0(gboolean, terms.names->len);
	for (guint i = 0; i < root->phrases->len; i++) {
		const phrase *p = phrases->pdata[g_array_index(root->phrases, guint, i)];
		GArray *rarest[2];
		find_rarest(p, rarest);
		add_list_to(has[0], rarest[0]);
		add_list_to(has[1], rarest[1]);
		add_list_to(has[2], must_of_phrase(p));
	}
	for (guint i = 0; i < 3; i++) {
		needs[i] = number_of_set(has[i], sets, order);
		g_free(has[i]);
	}
}

void add_need(const phrase *p, guint dot, gboolean *need)
{
	GArray *least = every_term();
	for (guint at = dot; at < p->symbols->len; at++) {
		GArray *must = must_of(p, at);
		if (!may_be_left_out(p, at) && uses_of(must) < uses_of(least)) {
			GArray *more = least;
			least = must;
			must = more;
		}
		g_array_free(must, TRUE);
	}
	for (guint i = 0; i < least->len; i++)
		need[g_array_index(least, guint, i)] = TRUE;
	g_array_free(least, TRUE);
}

/* The set of what can stand behind TERM where phrases that begin at ROOT begin with it, or G_MAXUINT. */
static guint number_behind(const state *root, guint term, GHashTable *sets, GPtrArray *order)
{
	g_autofree gboolean *found = g_new0(gboolean, terms.names->len);
	bool begins = false;
	for (guint i = 0; i < root->phrases->len; i++) {
		const phrase *p = phrases->pdata[g_array_index(root->phrases, guint, i)];
		if (!first_of(p)[term])
			continue;
		add_behind_first(p, term, found);
		begins = true;
	}
	return begins ? number_of_set(found, sets, order) : G_MAXUINT;
}

GArray *list_predicted(const GPtrArray *of_rule, guint first, guint term, GHashTable *sets, GPtrArray *order)
{
	GArray *list = g_array_new(FALSE, FALSE, sizeof(guint));
	g_autofree guint *needs = g_new(guint, of_rule->len);
	for (guint i = 0; i < of_rule->len; i++)
		needs[i] = number_behind(of_rule->pdata[i], term, sets, order);
	for (guint i = 0; i < of_rule->len; i++) {
		guint need = needs[i], count = 0, at = list->len + 1;
		if (need == G_MAXUINT)
			continue;
		g_array_append_val(list, need);
		g_array_append_val(list, count);
		for (guint k = i; k < of_rule->len; k++) {
			guint number = first + k;
			if (needs[k] != need)
				continue;
			g_array_append_val(list, number);
			needs[k] = G_MAXUINT;
			g_array_index(list, guint, at)++;
		}
	}
	return list;
}
