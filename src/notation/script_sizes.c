/*
 * A row that the sizes work each in their way: "Rnd 5: S: sc around. M and L: (sc 3, inc) x 6."
 *
 * Each of its clauses becomes a row of its own, of the same name, that those sizes alone work. In it
 * figures may be given for these sizes only: "Sizes M (L) only: sc in next 20 (24)". So they may where the
 * row's name says who works it: "Rnd 5 (M and L only): sc in next 20 (24)".
 */
#include "notation/script.h"

#include "pattern/text_kinds.h"

#include <string.h>

typedef struct {
	guint32 head, from, to; /* bytes of the text: of who works it, and of what they work */
	tb_size_set sizes;
	bool only;
} clause;

static unsigned count_bits(tb_size_set sizes)
{
	unsigned bits = 0;
	for (; sizes != 0; sizes &= sizes - 1)
		bits++;
	return bits;
}

static char sign_at(const tb_lattice *l, guint32 word)
{
	return word < l->count ? l->text->chars[l->start[word]] : '\0';
}

/* "to L", "- L" at WORD, behind FROM alone: all sizes as far as that, into SIZES; the word behind it, or WORD. */
static guint32 range_at(const tb_lattice *l, guint32 word, tb_size_set from, tb_size_set *sizes)
{
	bool to = tb_lattice_edge(l, word, TB_TERM_to) != NULL || tb_lattice_edge(l, word, TB_TERM_thru) != NULL ||
		tb_lattice_edge(l, word, TB_TERM_dash) != NULL || sign_at(l, word) == '-';
	const tb_edge *last = to ? tb_lattice_edge(l, word + 1, TB_TERM_CLASS_sizeword) : NULL;
	tb_size_set end = last != NULL ? (tb_size_set)last->value->figures[0] : 0;
	if (end <= from || (end & (end - 1)) != 0)
		return word;
	*sizes |= ((end << 1) - 1) & ~(from - 1);
	return last->end;
}

/* "S", "M and L", "M (L)", "S to L" at WORD: the word behind them, or 0. */
static guint32 names_at(const tb_lattice *l, guint32 word, tb_size_set *sizes)
{
	unsigned depth = 0;
	bool want = true;
	*sizes = 0;
	for (;;) {
		const tb_edge *name = want ? tb_lattice_edge(l, word, TB_TERM_CLASS_sizeword) : NULL;
		const tb_edge *and = tb_lattice_edge(l, word, TB_TERM_and);
		char sign = sign_at(l, word);
		if (name != NULL) {
			*sizes |= (tb_size_set)name->value->figures[0];
			word = name->end;
			/* "46"" */
			word += sign_at(l, word) == '"';
			word = range_at(l, word, (tb_size_set)name->value->figures[0], sizes);
			want = false;
		} else if (want && and != NULL && sign_at(l, word - 1) == ',') {
			word = and->end;
		} else if (want) {
			return 0;
		} else if (sign == ')' && depth > 0) {
			depth--;
			word++;
		} else if (and != NULL || sign == ',' || sign == '/' || sign == '+' || sign == '(') {
			depth += sign == '(';
			word = and != NULL ? and->end : word + 1;
			want = true;
		} else {
			return depth == 0 ? word : 0;
		}
	}
}

static bool says(const tb_lattice *l, guint32 word, const char *words)
{
	return word < l->count && tb_at_word(l->text->chars + l->start[word], words) > 0;
}

/* "All other sizes:", "Remaining sizes (inc):" at WORD: the word behind it, or 0. */
static guint32 others_at(const tb_lattice *l, guint32 word)
{
	word += says(l, word, "for");
	word += says(l, word, "all");
	word += says(l, word, "the");
	if (!says(l, word, "other remaining rem") || !says(l, word + 1, "sizes"))
		return 0;
	word += 2;
	word += says(l, word, "only");
	/* what the row does is told by its stitches */
	if (sign_at(l, word) == '(' && says(l, word + 1, "inc dec increase decrease") && sign_at(l, word + 2) == ')')
		word += 3;
	return sign_at(l, word) == ':' || sign_at(l, word) == ',' ? word + 1 : 0;
}

/* "Teen and larger", "M and up" behind the one name of SIZES: all from there on; the word behind it, or WORD. */
static guint32 and_others_at(const tb_reader *r, const tb_lattice *l, guint32 word, tb_size_set *sizes)
{
	bool up = says(l, word + 1, "larger bigger up above over older upwards"), down = says(l, word + 1, "smaller below under younger");
	if (!says(l, word, "and or &") || !(up || down) || count_bits(*sizes) != 1)
		return word;
	tb_size_set all = (tb_size_set)((1ull << tb_pattern_count_sizes(r->b.pattern)) - 1);
	*sizes = (up ? ~(*sizes - 1) : (*sizes - 1) | *sizes) & all;
	return word + 2;
}

/* "S:", "Sizes M (L) only:", "M and up:" at WORD: the word behind it, or 0. */
static guint32 head_at(const tb_reader *r, const tb_lattice *l, guint32 word, tb_size_set *sizes, bool *only)
{
	word += tb_lattice_edge(l, word, TB_TERM_for) != NULL;
	word += tb_lattice_edge(l, word, TB_TERM_the) != NULL;
	bool named = tb_lattice_edge(l, word, TB_TERM_size) != NULL || tb_lattice_edge(l, word, TB_TERM_sizes) != NULL;
	word += named;
	guint32 names = names_at(l, word, sizes);
	if (names == 0 && tb_lattice_edge(l, word, TB_TERM_CLASS_sizeword) != NULL) {
		const tb_edge *name = tb_lattice_edge(l, word, TB_TERM_CLASS_sizeword);
		*sizes = (tb_size_set)name->value->figures[0];
		names = and_others_at(r, l, name->end, sizes);
		names = names > name->end ? names : 0;
		named = true;
	}
	if (names == 0)
		return 0;
	word = names;
	word += tb_lattice_edge(l, word, TB_TERM_size) != NULL || tb_lattice_edge(l, word, TB_TERM_sizes) != NULL;
	*only = tb_lattice_edge(l, word, TB_TERM_only) != NULL;
	word += *only;
	char sign = sign_at(l, word);
	/* "Sizes M and L: …" is no list of what each does */
	*only = *only || (named && sign == ':');
	return sign == ':' || (*only && (sign == ',' || sign == '-' || tb_lattice_edge(l, word, TB_TERM_dash) != NULL)) ?
		word + 1 : 0;
}

/* "; Teen begins here" at WORD, of one of SIZES: the word behind it; WORD for none of that, 0 for another size. */
static guint32 beginner_at(const tb_lattice *l, guint32 word, tb_size_set sizes)
{
	tb_size_set one;
	if (!tb_is_among(sign_at(l, word), ";,"))
		return word;
	guint32 end = names_at(l, word + 1, &one);
	if (end == 0 || !says(l, end, "begins begin starts start joins join") || (one & ~sizes) != 0)
		return 0;
	end++;
	return end + says(l, end, "in") + says(l, end + says(l, end, "in"), "here now");
}

/* "Rnd 5 (M and L only):", "Rnd 5, sizes M and L only:": who works it is said in the row's name. */
static bool find_in_name(const tb_reader *r, const tb_text *text, const tb_lattice *l, clause *c)
{
	guint32 word = 1;
	if (!says(l, 0, "row rows rnd rnds round rounds rd rds r") || !g_ascii_isdigit(sign_at(l, 1)))
		return false;
	while (word < 5 && word < l->count && !tb_is_among(sign_at(l, word), "(,[:."))
		word++;
	bool bracket = sign_at(l, word) == '(';
	if (word >= l->count || (!bracket && sign_at(l, word) != ','))
		return false;
	*c = (clause){.head = l->stop[word - 1], .to = (guint32)text->length};
	guint32 at = word + 1;
	if (says(l, at, "all") && says(l, at + 1, "sizes")) {
		c->sizes = (tb_size_set)((1ull << tb_pattern_count_sizes(r->b.pattern)) - 1);
		at += 2;
	} else if (r->gone != 0 && says(l, at + says(l, at, "all"), "other remaining rem") && says(l, at + says(l, at, "all") + 1, "sizes")) {
		/* behind "Small: go to Body" */
		c->sizes = (tb_size_set)((1ull << tb_pattern_count_sizes(r->b.pattern)) - 1) & ~r->gone;
		at += says(l, at, "all") + 2;
	} else {
		at += says(l, at, "for") ? 1 : 0;
		at += says(l, at, "size sizes") ? 1 : 0;
		guint32 names = names_at(l, at, &c->sizes);
		/* "Teen and larger" ends in no name */
		if (names == 0 && (names = tb_lattice_edge(l, at, TB_TERM_CLASS_sizeword) != NULL ?
				tb_lattice_edge(l, at, TB_TERM_CLASS_sizeword)->end : 0) > 0)
			c->sizes = (tb_size_set)tb_lattice_edge(l, at, TB_TERM_CLASS_sizeword)->value->figures[0];
		if (names == 0)
			return false;
		guint32 others = and_others_at(r, l, names, &c->sizes);
		if (others == names && !(bracket && sign_at(l, names) == ')') && !says(l, names, "only size sizes") && !tb_is_among(sign_at(l, names), ";,"))
			return false;
		at = others + says(l, others, "size sizes");
	}
	c->only = says(l, at, "only") || bracket;
	at += says(l, at, "only");
	at = bracket ? beginner_at(l, at, c->sizes) : at;
	if (at == 0 || (bracket && sign_at(l, at++) != ')') || !c->only || sign_at(l, at) != ':')
		return false;
	c->from = l->start[at];
	return true;
}

/* Whether a clause may begin at WORD: behind the row's name, or behind another clause. */
static bool may_begin(const tb_reader *r, const tb_text *text, const tb_lattice *l, guint32 word, const GArray *clauses)
{
	if (clauses->len == 0) {
		tb_row_head head;
		return word == 0 || (tb_is_row_head(text->chars, &head) && !head.is_bare &&
			head.length <= l->start[word] && l->start[word] <= head.length + 1);
	}
	return tb_is_among(text->chars[l->stop[word - 1] - 1], ".;:)]}") ||
		tb_reader_breaks_at(r, text, l->start[word] - 1);
}

/* "all sizes" do what stands behind that: it belongs to no clause. */
static bool says_all(const tb_lattice *l)
{
	for (guint32 word = 1; word < l->count; word++) {
		if (tb_lattice_edge(l, word, TB_TERM_sizes) != NULL && (tb_lattice_edge(l, word - 1, TB_TERM_all) != NULL ||
				tb_lattice_edge(l, word - 1, TB_TERM_both) != NULL))
			return true;
	}
	return false;
}

static void find_clauses(const tb_reader *r, const tb_text *text, const tb_lattice *l, GArray *clauses)
{
	unsigned depth = 0;
	tb_size_set named = 0, all = (tb_size_set)((1ull << tb_pattern_count_sizes(r->b.pattern)) - 1);
	for (guint32 word = 0; word < l->count; word++) {
		char sign = sign_at(l, word);
		depth += sign == '(' || sign == '[' || sign == '{';
		depth -= depth > 0 && (sign == ')' || sign == ']' || sign == '}');
		tb_size_set sizes;
		bool only;
		if (depth > 0 || !may_begin(r, text, l, word, clauses))
			continue;
		guint32 behind = head_at(r, l, word, &sizes, &only), others = named != 0 && named != all ? others_at(l, word) : 0;
		if (others > 0) {
			behind = others;
			sizes = all & ~named;
			only = true;
		}
		if (behind == 0 || behind >= l->count)
			continue;
		if (clauses->len > 0)
			g_array_index(clauses, clause, clauses->len - 1).to = l->stop[word - 1];
		clause next = {l->start[word], l->start[behind], (guint32)text->length, sizes, only};
		g_array_append_val(clauses, next);
		named |= sizes;
		word = behind - 1;
	}
}

/*
 * "S: 2 sc in next st; M and L: 3 sc in next st; sc in each st around": what is worked behind the last
 * semicolon may be meant for all sizes. Behind a full stop, or where it only repeats, it is not.
 */
static bool goes_on(const tb_text *text, const GArray *clauses)
{
	const clause *last = &g_array_index(clauses, clause, clauses->len - 1);
	if (clauses->len > 1 && text->chars[g_array_index(clauses, clause, clauses->len - 2).to - 1] != ';')
		return false;
	for (guint32 at = last->from; at + 1 < last->to; at++) {
		if (text->chars[at] == ';' && tb_at_word(text->chars + at + 1 + strspn(text->chars + at + 1, " "),
				"rep repeat join turn") == 0)
			return true;
	}
	return false;
}

static bool are_apart(const tb_text *text, const GArray *clauses)
{
	tb_size_set seen = 0;
	for (guint i = 0; i < clauses->len; i++) {
		const clause *c = &g_array_index(clauses, clause, i);
		if ((seen & c->sizes) != 0)
			return false;
		seen |= c->sizes;
	}
	return clauses->len > 0 && !goes_on(text, clauses) &&
		(clauses->len > 1 || g_array_index(clauses, clause, 0).only);
}

/* The row's name, and behind it the clause. */
static tb_text *make_row(const tb_text *text, guint32 name, const clause *c)
{
	g_autoptr(GString) chars = g_string_new_len(text->chars, name);
	g_string_append_len(chars, text->chars + c->from, c->to - c->from);
	tb_text *row = tb_text_create(chars->str, chars->len, text->offset);
	row->offsets = g_new(guint32, chars->len + 1);
	for (guint32 i = 0; i <= chars->len; i++) {
		guint32 at = i < name ? i : c->from + i - name;
		row->offsets[i] = text->offsets != NULL ? text->offsets[at] : (guint32)text->offset + at;
	}
	return row;
}

/* Whether it is worth looking: a name of a row has one colon. */
static bool may_name_sizes(const tb_reader *r, const char *chars)
{
	const char *colon = strchr(chars, ':');
	return tb_pattern_count_sizes(r->b.pattern) > 1 &&
		((colon != NULL && strchr(colon + 1, ':') != NULL) || strstr(chars, "only") != NULL ||
			(colon != NULL && tb_at_word(chars, "for size sizes") > 0) ||
			(colon != NULL && strchr(chars, '(') != NULL && strchr(chars, '(') < colon) ||
			(colon != NULL && !g_ascii_isdigit(chars[strcspn(chars, "0123456789:")])) ||
			(colon == NULL || strchr(chars, '.') < colon));
}

bool tb_reader_part_sizes(tb_reader *r, const tb_text *text, GPtrArray *rows, GArray *sizes)
{
	if (!may_name_sizes(r, text->chars))
		return false;
	tb_arena *scratch = tb_arena_create();
	g_autoptr(GArray) clauses = g_array_new(FALSE, FALSE, sizeof(clause));
	tb_lattice lattice;
	tb_lattice_make(&lattice, r->b.vocabulary, text, false, scratch);
	clause named;
	if (find_in_name(r, text, &lattice, &named))
		g_array_append_val(clauses, named);
	else if (!says_all(&lattice))
		find_clauses(r, text, &lattice, clauses);
	tb_arena_destroy(scratch);
	if (!are_apart(text, clauses))
		return false;
	guint32 name = g_array_index(clauses, clause, 0).head;
	for (guint i = 0; i < clauses->len; i++) {
		const clause *c = &g_array_index(clauses, clause, i);
		g_ptr_array_add(rows, make_row(text, name, c));
		g_array_append_val(sizes, c->sizes);
	}
	return true;
}

void tb_reader_name_sizes(tb_reader *r, tb_size_set sizes)
{
	r->b.only = sizes;
	tb_vocabulary_name_sizes((tb_vocabulary *)(gpointer)r->b.vocabulary, count_bits(sizes));
}
