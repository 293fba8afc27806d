/*
 * Compiles english.grammar into english.c and english.h, when the program is built.
 *
 * usage: grammar_compile english.grammar english.c english.h
 *
 * The file's form is told at its top. A line that cannot be used is told with its number, and
 * nothing is written: a phrase that can be empty, a rule or class that is not there, brackets that
 * do not pair. Whether each phrase reads its own example is a test, since only the reader can tell.
 */
#include "grammar_compile.h"

/* A name that C allows: "act..." is act_LIST, "," is x2C. */
static char *identifier(const char *name)
{
	GString *out = g_string_new(NULL);
	if (*name == '<') {
		g_string_append(out, "CLASS_");
		name++;
	}
	for (; *name != '\0'; name++) {
		if (g_str_has_prefix(name, "...")) {
			g_string_append(out, "_LIST");
			name += 2;
		} else if (g_ascii_isalnum(*name) || *name == '_') {
			g_string_append_c(out, *name);
		} else {
			g_string_append_printf(out, "x%02X", (guint)(guchar)*name);
		}
	}
	return g_string_free(out, FALSE);
}

static void write_enum(FILE *out, const names *n, const char *prefix, const char *type)
{
	fprintf(out, "typedef enum {\n");
	for (guint i = 0; i < n->names->len; i++) {
		g_autofree char *name = identifier(n->names->pdata[i]);
		fprintf(out, "\t%s%s,\n", prefix, name);
	}
	fprintf(out, "\t%sCOUNT\n} %s;\n\n", prefix, type);
}

/*
 * Words of a row of bits that has one for each set that is asked for at a place: first come those that
 * are asked for behind a place as well. What only terminals read is not among them.
 */
static guint set_words, need_words;

static void write_header(FILE *out)
{
	fprintf(out, "/* Made from english.grammar by grammar_compile. */\n"
		"#ifndef TB_NOTATION_ENGLISH_H\n#define TB_NOTATION_ENGLISH_H\n\n");
	write_enum(out, &terms, "TB_TERM_", "tb_term");
	fprintf(out, "#define TB_TERM_WORDS ((TB_TERM_COUNT + 63) / 64)\n\n");
	fprintf(out, "#define TB_RULE_WORDS ((TB_RULE_COUNT + 63) / 64)\n\n");
	fprintf(out, "#define TB_SET_WORDS %uu\n#define TB_NEED_WORDS %uu\n\n", set_words, need_words);
	write_enum(out, &rules, "TB_RULE_", "tb_rule");
	write_enum(out, &kinds, "TB_KIND_", "tb_kind");
	write_enum(out, &slots, "TB_SLOT_", "tb_slot");
	write_enum(out, &symbols, "TB_SYMBOL_", "tb_symbol");
	fprintf(out, "#endif\n");
}

void write_string(FILE *out, const char *text)
{
	g_autofree char *escaped = g_strescape(text, NULL);
	fprintf(out, "\"%s\"", escaped);
}

/* Lists ended by 0xffff, one after another; 0 is the empty one. */
static guint add_to_lists(GArray *all, const GArray *list)
{
	static const guint16 end = 0xffff;
	if (list->len == 0)
		return 0;
	guint at = all->len;
	for (guint i = 0; i < list->len; i++) {
		guint16 value = (guint16)g_array_index(list, guint, i);
		g_array_append_val(all, value);
	}
	g_array_append_val(all, end);
	return at;
}

static void write_lists(FILE *out, const char *name, const GArray *all)
{
	fprintf(out, "static const guint16 %s[] = {", name);
	for (guint i = 0; i < all->len; i++)
		fprintf(out, "%s%u,", i % 16 == 0 ? "\n\t" : " ", g_array_index(all, guint16, i));
	fprintf(out, "\n};\n\n");
}

guint set_number(GHashTable *sets, GPtrArray *order, const GArray *members)
{
	guint words = (terms.names->len + 63) / 64;
	guint64 *bits = g_new0(guint64, words);
	for (guint i = 0; i < members->len; i++) {
		guint term = g_array_index(members, guint, i);
		bits[term / 64] |= G_GUINT64_CONSTANT(1) << term % 64;
	}
	GBytes *set = g_bytes_new_take(bits, words * sizeof *bits);
	gpointer there;
	if (g_hash_table_lookup_extended(sets, set, NULL, &there)) {
		g_bytes_unref(set);
		return GPOINTER_TO_UINT(there);
	}
	g_hash_table_insert(sets, set, GUINT_TO_POINTER(order->len));
	g_ptr_array_add(order, set);
	return order->len - 1;
}

static void write_bits(FILE *out, const guint64 *bits, guint words)
{
	fprintf(out, "\t{");
	for (guint i = 0; i < words; i++)
		fprintf(out, "G_GUINT64_CONSTANT(0x%" G_GINT64_MODIFIER "x), ", bits[i]);
	fprintf(out, "},\n");
}

guint number_of_set(const gboolean *has, GHashTable *sets, GPtrArray *order)
{
	g_autoptr(GArray) list = g_array_new(FALSE, FALSE, sizeof(guint));
	for (guint term = 0; term < terms.names->len; term++) {
		if (has[term])
			g_array_append_val(list, term);
	}
	return set_number(sets, order, list);
}

/* Rows of bits are so long that machines take several words at a time. */
static guint words_for(const GPtrArray *order)
{
	return (order->len + 255) / 256 * 4;
}

static void number_needs(const GPtrArray *states, GHashTable *sets, GPtrArray *order)
{
	guint needs[3];
	for (guint rule = 0; rule < roots->len; rule++) {
		const GPtrArray *of_rule = roots->pdata[rule];
		for (guint i = 0; i < of_rule->len; i++)
			find_needs(of_rule->pdata[i], sets, order, needs);
	}
	for (guint i = 0; i < states->len; i++) {
		const state *at = states->pdata[i];
		if (at->parts)
			number_of_set(at->need, sets, order);
	}
	need_words = words_for(order);
}

/* Lists of states, whose first is the empty one. */
static GArray *new_lists(void)
{
	static const guint16 end = 0xffff;
	GArray *all = g_array_new(FALSE, TRUE, sizeof(guint16));
	g_array_append_val(all, end);
	return all;
}

/* The states that may follow AT, but the first, behind the set of what can stand at any of them. */
static GArray *list_followers(const state *at, GHashTable *sets, GPtrArray *order)
{
	GArray *list = g_array_new(FALSE, FALSE, sizeof(guint));
	g_autofree gboolean *next = g_new0(gboolean, terms.names->len);
	guint set = 0;
	for (guint i = 1; i < at->behind->len; i++) {
		const state *other = at->behind->pdata[i];
		for (guint term = 0; term < terms.names->len; term++)
			next[term] |= other->next[term];
		if (i == 1)
			g_array_append_val(list, set);
		g_array_append_val(list, other->number);
	}
	if (list->len > 0)
		g_array_index(list, guint, 0) = number_of_set(next, sets, order);
	return list;
}

static void number_nexts(const GPtrArray *states, GHashTable *sets, GPtrArray *order)
{
	for (guint i = 0; i < states->len; i++) {
		number_of_set(((const state *)states->pdata[i])->next, sets, order);
		g_array_free(list_followers(states->pdata[i], sets, order), TRUE);
	}
	set_words = words_for(order);
}

static void write_state(FILE *out, const state *at, GHashTable *sets, GPtrArray *order, GArray *all_skips,
	GArray *all_also)
{
	const symbol *s = at->symbol;
	guint first = g_array_index(at->phrases, guint, 0);
	guint what = s == NULL ? ((const phrase *)phrases->pdata[first])->rule : s->is_rule ? s->what :
		set_number(sets, order, s->terms);
	g_autoptr(GArray) skips = numbers_of(at->skips);
	g_autoptr(GArray) also = list_followers(at, sets, order);
	g_autofree char *slot = s != NULL && s->slot >= 0 ? g_strdup_printf("%d", s->slot) : g_strdup("TB_NO_SLOT");
	fprintf(out, "\t{TB_STATE_%s, %s, %u, %u, %u, %u, %u, %u},\n", s == NULL ? "END" : s->is_rule ? "RULE" : "TERMINAL",
		slot, what, first, add_to_lists(all_skips, skips), add_to_lists(all_also, also),
		number_of_set(at->next, sets, order), at->parts ? number_of_set(at->need, sets, order) : 0xffff);
}

static void write_states(FILE *out, const GPtrArray *states, GHashTable *sets, GPtrArray *order)
{
	g_autoptr(GArray) skips = new_lists(), also = new_lists();
	fprintf(out, "static const tb_state states[] = {\n");
	for (guint i = 0; i < states->len; i++)
		write_state(out, states->pdata[i], sets, order, skips, also);
	fprintf(out, "};\n\n");
	if (states->len >= 0xffff || skips->len >= 0xffff || also->len >= 0xffff)
		refuse("too many states");
	write_lists(out, "skips", skips);
	write_lists(out, "also", also);
}

static void write_phrases(FILE *out)
{
	g_autoptr(GString) op_table = g_string_new("static const tb_build ops[] = {\n");
	guint ops = 0;
	fprintf(out, "G_STATIC_ASSERT(TB_KIND_COUNT <= G_MAXUINT8);\n\nstatic const tb_phrase phrases[] = {\n");
	for (guint i = 0; i < phrases->len; i++) {
		const phrase *p = phrases->pdata[i];
		g_autofree char *text = g_strescape(p->text, NULL);
		g_autofree char *example = g_strescape(p->example, NULL);
		fprintf(out, "\t{%u, %u, %u, %u, %u, %u, \"%s\", \"%s\"},\n", p->rule, ops, p->builds->len, p->kind, p->cost,
			p->line, text, example);
		for (guint k = 0; k < p->builds->len; k++, ops++) {
			const build *b = &g_array_index(p->builds, build, k);
			g_string_append_printf(op_table, "\t{%u, %u, %d},\n", b->op, b->field, b->value);
		}
	}
	fprintf(out, "};\n\n%s\t{0, 0, 0},\n};\n\n", op_table->str);
}

static void write_roots(FILE *out, GHashTable *sets, GPtrArray *order)
{
	fprintf(out, "static const tb_root roots[] = {\n");
	for (guint rule = 0; rule < roots->len; rule++) {
		const GPtrArray *of_rule = roots->pdata[rule];
		for (guint i = 0; i < of_rule->len; i++) {
			const state *root = of_rule->pdata[i];
			guint needs[3];
			find_needs(root, sets, order, needs);
			fprintf(out, "\t{%u, %u, {%u, %u, %u}},\n", root->number, root->skips->len > 0, needs[0], needs[1], needs[2]);
		}
	}
	fprintf(out, "};\n\n");
}

static void write_sets(FILE *out, const GPtrArray *order)
{
	fprintf(out, "static const guint64 sets[][TB_TERM_WORDS] = {\n");
	for (guint i = 0; i < order->len; i++)
		write_bits(out, g_bytes_get_data(order->pdata[i], NULL), (terms.names->len + 63) / 64);
	fprintf(out, "};\n\n");
	if (order->len >= 0xffff)
		refuse("too many sets");
}

/* The sets the other way round: which of them hold a terminal. */
static void write_holders(FILE *out, const GPtrArray *order)
{
	g_autofree guint64 *holders = g_new(guint64, set_words);
	fprintf(out, "static const guint64 holders[][TB_SET_WORDS] = {\n");
	for (guint term = 0; term < terms.names->len; term++) {
		memset(holders, 0, set_words * sizeof *holders);
		for (guint set = 0; set < MIN(order->len, set_words * 64); set++) {
			const guint64 *bits = g_bytes_get_data(order->pdata[set], NULL);
			holders[set / 64] |= (bits[term / 64] >> term % 64 & 1) << set % 64;
		}
		write_bits(out, holders, set_words);
	}
	fprintf(out, "};\n\n");
}

/* The terminals that begin a phrase with words in it that work nothing. */
static void write_proses(FILE *out)
{
	guint words = (terms.names->len + 63) / 64, prose = number_of(&rules, "prosewords");
	g_autofree guint64 *bits = g_new0(guint64, words);
	for (guint i = 0; i < phrases->len; i++) {
		const phrase *p = phrases->pdata[i];
		for (guint at = 0; p->rule != prose && at < p->symbols->len; at++) {
			const symbol *s = p->symbols->pdata[at];
			for (guint term = 0; s->is_rule && s->what == prose && term < terms.names->len; term++)
				bits[term / 64] |= (guint64)(first_of(p)[term] != 0) << term % 64;
		}
	}
	fprintf(out, "static const guint64 proses[][TB_TERM_WORDS] = {\n");
	write_bits(out, bits, words);
	fprintf(out, "};\n\n");
}

static void write_prediction(FILE *out, GHashTable *sets, GPtrArray *order)
{
	g_autoptr(GArray) all = g_array_new(FALSE, TRUE, sizeof(guint16));
	/* words that mean the same to a rule share a list */
	g_autoptr(GHashTable) listed = g_hash_table_new_full(g_bytes_hash, g_bytes_equal, (GDestroyNotify)g_bytes_unref, NULL);
	guint16 end = 0xffff;
	guint first = 0;
	g_array_append_val(all, end);
	fprintf(out, "static const guint16 predict[][TB_TERM_COUNT] = {\n");
	for (guint rule = 0; rule < rules.names->len; rule++) {
		const GPtrArray *of_rule = roots->pdata[rule];
		fprintf(out, "\t{");
		for (guint term = 0; term < terms.names->len; term++) {
			g_autoptr(GArray) list = list_predicted(of_rule, first, term, sets, order);
			GBytes *key = g_bytes_new(list->data, list->len * sizeof(guint));
			guint at = GPOINTER_TO_UINT(g_hash_table_lookup(listed, key));
			/* each begins at an even place, so that half of it tells where */
			if (at == 0 && list->len > 0 && all->len % 2 != 0)
				g_array_append_val(all, end);
			if (at == 0)
				at = add_to_lists(all, list) / 2;
			g_hash_table_insert(listed, key, GUINT_TO_POINTER(at));
			if (at > 0)
				fprintf(out, "[%u] = %u, ", term, at);
		}
		fprintf(out, "},\n");
		first += of_rule->len;
	}
	fprintf(out, "};\n\n");
	if (all->len / 2 >= 0xffff)
		refuse("too much is predicted");
	write_lists(out, "predicted", all);
}

static void write_names(FILE *out, const char *name, const names *n)
{
	fprintf(out, "static const char *const %s[] = {\n", name);
	for (guint i = 0; i < n->names->len; i++) {
		fprintf(out, "\t");
		write_string(out, n->names->pdata[i]);
		fprintf(out, ",\n");
	}
	fprintf(out, "};\n\n");
}

static void write_tables(FILE *out)
{
	fprintf(out, "/* Made from english.grammar by grammar_compile. */\n"
		"#include \"notation/grammar.h\"\n\n");
	g_autoptr(GHashTable) sets = g_hash_table_new(g_bytes_hash, g_bytes_equal);
	g_autoptr(GPtrArray) order = g_ptr_array_new();
	g_autoptr(GPtrArray) states = find_states();
	number_needs(states, sets, order);
	write_prediction(out, sets, order);
	number_nexts(states, sets, order);
	write_states(out, states, sets, order);
	write_phrases(out);
	write_roots(out, sets, order);
	write_sets(out, order);
	write_holders(out, order);
	write_proses(out);
	write_spellings(out);
	write_heads(out);
	fprintf(out, "static const tb_rule_info rules[] = {\n");
	for (guint i = 0; i < rules.names->len; i++) {
		const char *title = i < titles->len && titles->pdata[i] != NULL ? titles->pdata[i] : "";
		fprintf(out, "\t{");
		write_string(out, rules.names->pdata[i]);
		fprintf(out, ", ");
		write_string(out, title);
		guint most = i < most_words->len ? g_array_index(most_words, guint, i) : 0;
		fprintf(out, ", %s, %uu},\n",
			strcmp(rules.names->pdata[i], "rowact...") == 0 ? "true" : "false",
			most > 0 ? most : G_MAXUINT32);
	}
	fprintf(out, "};\n\n");
	write_names(out, "term_names", &terms);
	write_names(out, "symbol_names", &symbols);
	fprintf(out,
		"const tb_grammar tb_english = {\n\tstates, phrases, %uu, roots, G_N_ELEMENTS(roots), rules, sets, holders, proses, skips, also, ops,\n"
		"\tpredicted, predict, spellings, SPELLING_COUNT, heads, HEAD_MASK, term_names, symbol_names,\n};\n",
		phrases->len);
}

static void write_file(const char *to, void (*write)(FILE *out))
{
	FILE *out = fopen(to, "w");
	if (out == NULL) {
		perror(to);
		exit(1);
	}
	write(out);
	if (fclose(out) != 0) {
		perror(to);
		exit(1);
	}
}

static int compare_names(gconstpointer a, gconstpointer b)
{
	return strcmp(a, b);
}

int main(int argc, char **argv)
{
	static const char *const built_in[] = {"int", "ord", "ord2", "ordn", "star", "any", "token", "name", "frac", "idle", "aside", "tame", "inside",
		"doubt", "aim", "code"};
	g_autofree char *text = NULL;
	g_autoptr(GError) error = NULL;
	if (argc != 4) {
		fputs("usage: grammar_compile english.grammar english.c english.h\n", stderr);
		return 2;
	}
	path = argv[1];
	if (!g_file_get_contents(path, &text, NULL, &error)) {
		fprintf(stderr, "%s\n", error->message);
		return 1;
	}
	names_init(&terms);
	names_init(&rules);
	names_init(&kinds);
	names_init(&slots);
	names_init(&symbols);
	titles = g_ptr_array_new();
	phrases = g_ptr_array_new();
	spellings = g_array_new(FALSE, FALSE, sizeof(spelling));
	most_words = g_array_new(FALSE, TRUE, sizeof(guint));
	classes = g_hash_table_new(g_str_hash, g_str_equal);
	known_words = g_hash_table_new(g_str_hash, g_str_equal);
	lists = g_hash_table_new(g_str_hash, g_str_equal);
	eithers = g_hash_table_new(g_str_hash, g_str_equal);
	number_of(&symbols, "none");
	number_of(&terms, "(");
	number_of(&terms, ")");
	for (size_t i = 0; i < G_N_ELEMENTS(built_in); i++) {
		g_autofree char *name = g_strconcat("<", built_in[i], NULL);
		number_of(&terms, name);
		g_hash_table_add(classes, g_strdup(built_in[i]));
	}
	number_of(&terms, "<end");
	g_auto(GStrv) lines = g_strsplit(text, "\n", -1);
	read_file(lines, true);
	read_file(lines, false);
	g_autoptr(GList) listed = g_list_sort(g_hash_table_get_keys(lists), compare_names);
	for (GList *at = listed; at != NULL; at = at->next)
		add_list(at->data);
	g_autoptr(GList) chosen = g_list_sort(g_hash_table_get_keys(eithers), compare_names);
	for (GList *at = chosen; at != NULL; at = at->next)
		add_choice(at->data);
	for (guint i = 0; i < rules.names->len; i++) {
		bool has = false;
		for (guint k = 0; k < phrases->len && !has; k++)
			has = ((phrase *)phrases->pdata[k])->rule == i;
		if (!has)
			refuse("the rule %s has no phrase", (char *)rules.names->pdata[i]);
	}
	find_first();
	find_next();
	find_seconds();
	find_musts();
	write_file(argv[2], write_tables);
	write_file(argv[3], write_header);
	return 0;
}
