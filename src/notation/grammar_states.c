/*
 * The states of the grammar's phrases. Phrases of one rule that begin alike share their states as
 * far as they are alike, so that a reader goes once over what all of them begin with.
 */
#include "grammar_compile.h"

GPtrArray *roots;

/* Whether A and B read the same, keep it in the same slot, and may be left out alike. */
static bool is_same_symbol(const symbol *a, const symbol *b)
{
	if (a == NULL || b == NULL || a->is_rule != b->is_rule || a->slot != b->slot ||
		!is_same_list(a->skips, b->skips))
		return false;
	return a->is_rule ? a->what == b->what : is_same_list(a->terms, b->terms);
}

/* The state among SIBLINGS where dot DOT of phrase I is, made when none is like it. */
static state *share_state(GPtrArray *siblings, guint i, guint dot)
{
	const phrase *p = phrases->pdata[i];
	const symbol *s = dot < p->symbols->len ? p->symbols->pdata[dot] : NULL;
	const gboolean *next = p->next->pdata[dot];
	state *shared = NULL;
	for (guint k = 0; k < siblings->len && shared == NULL; k++) {
		state *sibling = siblings->pdata[k];
		if (is_same_symbol(sibling->symbol, s))
			shared = sibling;
	}
	if (shared == NULL) {
		shared = g_new0(state, 1);
		shared->symbol = s;
		shared->phrases = g_array_new(FALSE, FALSE, sizeof(guint));
		shared->behind = g_ptr_array_new();
		shared->skips = g_ptr_array_new();
		shared->next = g_new0(gboolean, terms.names->len);
		shared->need = g_new0(gboolean, terms.names->len);
		g_ptr_array_add(siblings, shared);
	}
	g_array_append_val(shared->phrases, i);
	add_need(p, dot, shared->need);
	for (guint term = 0; term < terms.names->len; term++)
		shared->next[term] |= next[term];
	return shared;
}

static void add_states(guint i)
{
	const phrase *p = phrases->pdata[i];
	g_autoptr(GPtrArray) own = g_ptr_array_new();
	GPtrArray *siblings = roots->pdata[p->rule];
	for (guint dot = 0; dot <= p->symbols->len; dot++) {
		state *at = share_state(siblings, i, dot);
		g_ptr_array_add(own, at);
		siblings = at->behind;
	}
	for (guint dot = 0; dot < p->symbols->len; dot++) {
		const symbol *s = p->symbols->pdata[dot];
		GPtrArray *skips = ((state *)own->pdata[dot])->skips;
		for (guint k = 0; k < s->skips->len; k++) {
			gpointer to = own->pdata[g_array_index(s->skips, guint, k)];
			if (!g_ptr_array_find(skips, to, NULL))
				g_ptr_array_add(skips, to);
		}
	}
}

/* The first of those that may follow a state has the number behind it. */
static void number_states(const GPtrArray *siblings, GPtrArray *all)
{
	for (guint i = 0; i < siblings->len; i++) {
		state *at = siblings->pdata[i];
		at->parts = siblings->len > 1;
		at->number = all->len;
		g_ptr_array_add(all, at);
		number_states(at->behind, all);
	}
}

GPtrArray *find_states(void)
{
	GPtrArray *all = g_ptr_array_new();
	roots = g_ptr_array_new();
	for (guint rule = 0; rule < rules.names->len; rule++)
		g_ptr_array_add(roots, g_ptr_array_new());
	for (guint i = 0; i < phrases->len; i++)
		add_states(i);
	for (guint rule = 0; rule < rules.names->len; rule++)
		number_states(roots->pdata[rule], all);
	return all;
}

GArray *numbers_of(const GPtrArray *states)
{
	GArray *numbers = g_array_new(FALSE, FALSE, sizeof(guint));
	for (guint i = 0; i < states->len; i++)
		g_array_append_val(numbers, ((const state *)states->pdata[i])->number);
	return numbers;
}
