/* Words, and what may be read at each. */
#include "notation/lattice_maker.h"

#include "notation/spelling.h"
#include "pattern/text_kinds.h"
#include "stitches/stitch.h"
#include "support/limits.h"

#include <string.h>

/* What is found in whole sentences: idle, aside, doubt, aim, inside, tame. */
#define MOST_EXTRA 7u
/* No spelling has more words. */
#define MOST_WORDS 8u
#define MOST_BYTES 80u
/* A star's acts go on past so many more stars at the most: eight repeats, begun and named. */
#define MOST_STARS 16u
/* A bracket that says whatever it likes has no more words. */
#define MOST_INSIDE 10u

void tb_lattice_add(tb_lattice_maker *m, unsigned term, guint32 end, const tb_value *value)
{
	if (m->edge_count == m->edge_room) {
		m->edge_room = MAX(m->edge_room * 2, 128u);
		m->edges = g_renew(tb_edge, m->edges, m->edge_room);
	}
	m->edges[m->edge_count++] = (tb_edge){(guint16)term, end, value};
}

/* The grammar's spellings that are or begin with WORDS, or NULL. */
static const tb_spelling_head *find_head(const tb_grammar *g, guint32 hash, const char *words,
	size_t length)
{
	for (guint32 at = tb_spelling_place(hash, g->head_mask); g->heads[at].length > 0;
		at = (at + 1) & g->head_mask) {
		const tb_spelling_head *head = &g->heads[at];
		if (head->hash == hash && head->length == length &&
			memcmp(g->spellings[head->first].spelling, words, length) == 0)
			return head;
	}
	return NULL;
}

static bool is_number_class(unsigned term)
{
	return term == TB_TERM_CLASS_howmany || term == TB_TERM_CLASS_roman || term == TB_TERM_CLASS_rowletter;
}

/* "row(s)", "st[s]": whether a word that ends before END has a plural in brackets behind it. */
static bool has_plural(const tb_lattice_maker *m, guint32 end)
{
	return end > 0 && end + 2 < m->l->count && tb_lattice_is_glued(m, end - 1) && m->pairs[end] == end + 2 &&
		tb_lattice_is_word(m, end + 1, "s");
}

/* An edge of a spelling, one with the dot of its abbreviation, and one with a plural in brackets. */
static void add_spelled(tb_lattice_maker *m, unsigned term, guint32 end, const tb_value *value, bool may_dot)
{
	tb_lattice_add(m, term, end, value);
	if (has_plural(m, end))
		tb_lattice_add(m, term, end + 3, value);
	if (may_dot && tb_lattice_is_word(m, end, "."))
		tb_lattice_add(m, term, end + 1, value);
}

static void add_stitch_edge(tb_lattice_maker *m, const void *own, const tb_stitch *stitch, unsigned term,
	guint32 end, bool may_dot)
{
	tb_value *value = tb_arena_new(m->arena, tb_value);
	value->type = own != NULL ? TB_VALUE_OWN : TB_VALUE_STITCH;
	if (own != NULL)
		value->own = own;
	else
		value->stitch = stitch;
	value->hash = g_direct_hash(own != NULL ? own : stitch);
	add_spelled(m, term, end, value, may_dot);
}

static void add_spelling_edge(tb_lattice_maker *m, const tb_spelling *s, guint32 end, bool may_dot)
{
	if (is_number_class(s->term)) {
		double figure = s->value;
		add_spelled(m, s->term, end, tb_lattice_number(m, &figure, 1), may_dot);
		return;
	}
	const tb_stitch *stitch =
		s->term == TB_TERM_CLASS_stitchname || s->term == TB_TERM_CLASS_togname ? m->v->of_symbol[s->value] : NULL;
	if (stitch != NULL)
		add_stitch_edge(m, NULL, stitch, s->term, end, may_dot);
	else
		add_spelled(m, s->term, end, &m->v->symbols[s->value], may_dot);
}

/* Whether word I is the dot of an abbreviation that goes on behind it, as in "s.c." and "d. tr". */
static bool is_inner_dot(const tb_lattice_maker *m, guint32 i)
{
	size_t length;
	if (!tb_lattice_is_word(m, i, ".") || !g_ascii_isalpha(tb_lattice_char(m, i + 1)))
		return false;
	tb_lattice_word(m, i - 1, &length);
	return length <= 3 && tb_lattice_is_glued(m, i - 1);
}

/* "In each ch to end. 20 hdc": a word that nobody shortens to this has no dot of its own. */
static bool is_written_out(const char *word, size_t length)
{
	static const char *const whole[] = {"end", "ring", "row", "turn", "edge"};
	for (size_t i = 0; i < G_N_ELEMENTS(whole); i++) {
		if (strlen(whole[i]) == length && memcmp(whole[i], word, length) == 0)
			return true;
	}
	return false;
}

/* "approx. 9 inches": longer than what else is shortened. */
static bool is_long_abbreviation(const char *word, size_t length)
{
	return length == 6 && memcmp(word, "approx", 6) == 0;
}

/* The spellings that begin at word I; with DOTS those that have dots inside, which nobody spells. */
static void add_spellings(tb_lattice_maker *m, guint32 i, bool dots)
{
	const tb_grammar *g = m->v->grammar;
	char words[MOST_BYTES];
	size_t used = 0;
	guint32 hash = TB_SPELLING_HASH;
	bool dotted = false, apart = false;
	for (guint32 k = i; k < MIN(i + MOST_WORDS, m->l->count); k++) {
		size_t length, before = used;
		const char *word = tb_lattice_word(m, k, &length);
		if (used + length + 2 > sizeof words)
			break;
		if (dots && k > i && is_inner_dot(m, k)) {
			dotted = true;
			continue;
		}
		if (used > 0)
			words[used++] = ' ';
		memcpy(words + used, word, length);
		used += length;
		/* "1st" is one word; "1 st" is a stitch and its number; but "6 months" is a size */
		apart = apart || (k == i + 1 && g_ascii_isdigit(*words) && !tb_lattice_is_glued(m, k - 1));
		hash = tb_spelling_hash(hash, words + before, used - before);
		bool may_dot = g_ascii_isalpha(*words) && (length <= 5 || is_long_abbreviation(word, length)) &&
			tb_lattice_is_glued(m, k) && !is_written_out(word, length);
		if (dots && !dotted)
			continue;
		const tb_vocabulary_entry *e = tb_vocabulary_find(m->v, hash, words, used);
		const void *own = e != NULL ? e->own : NULL;
		/* chains have phrases of their own */
		const tb_stitch *stitch = e != NULL && e->stitch != NULL && e->stitch->form != TB_FORM_CHAIN ?
			e->stitch : NULL;
		if ((own != NULL && (!apart || memchr(words, '/', used) != NULL)) || (stitch != NULL && !apart))
			add_stitch_edge(m, own, stitch, TB_TERM_CLASS_stitchname, k + 1, may_dot);
		if (e != NULL && (e->size > 0 || e->group > 0))
			tb_lattice_add_number(m, TB_TERM_CLASS_sizeword, k + 1, e->size > 0 ? (double)(1u << (e->size - 1)) : e->group);
		const tb_spelling_head *head = apart ? NULL : find_head(g, hash, words, used);
		for (guint n = 0; head != NULL && n < head->count; n++) {
			const tb_spelling *s = &g->spellings[head->first + n];
			/* "BL" that the pattern calls a stitch is no loop */
			bool taken = own != NULL && (s->term == TB_TERM_CLASS_stitchname || s->term == TB_TERM_blo ||
				s->term == TB_TERM_flo || s->term == TB_TERM_block);
			if ((s->terms == 0 || s->terms == m->v->terms) && !taken)
				add_spelling_edge(m, s, k + 1, may_dot);
		}
		if (!(e != NULL && e->more) && !(head != NULL && head->more))
			break;
	}
}

static void add_text_edge(tb_lattice_maker *m, unsigned term, guint32 i)
{
	tb_lattice_add(m, term, i + 1, &m->v->symbols[TB_SYMBOL_none]);
}

/* A hyphen with a blank before it, or a dash: "ch-3 sp" has none. */
static bool is_set_apart(const tb_lattice_maker *m, guint32 i)
{
	if (tb_lattice_is_word(m, i, "–") || tb_lattice_is_word(m, i, "—"))
		return true;
	return tb_lattice_is_word(m, i, "-") && !tb_lattice_is_glued(m, i) && (i == 0 || !tb_lattice_is_glued(m, i - 1) || tb_lattice_is_word(m, i - 1, "-"));
}

/* A hyphen between figures that touch it, as in "3-5"; a range that begins with 1 is hardly ever meant so. */
static bool is_range(const tb_lattice_maker *m, guint32 i)
{
	return i > 0 && (tb_lattice_is_word(m, i, "-") || tb_lattice_is_word(m, i, "–")) &&
		tb_lattice_is_glued(m, i - 1) && tb_lattice_is_glued(m, i) && !tb_lattice_is_word(m, i - 1, "1") &&
		g_ascii_isdigit(m->lower[m->starts[i] - 1]) && g_ascii_isdigit(tb_lattice_char(m, i + 1));
}

/* "around - 18 sc": a hyphen that parts, and is not that of "2 ch-1 sps". */
static bool is_parting(const tb_lattice_maker *m, guint32 i)
{
	static const char *const chains[] = {"ch", "chs", "chain", "chains", NULL};
	return tb_lattice_is_word(m, i, "-") && (i == 0 || !tb_lattice_is_glued(m, i - 1) || !tb_lattice_is_glued(m, i) ||
		!tb_lattice_is_among(m, i - 1, chains));
}

static bool is_star(const tb_lattice_maker *m, guint32 i)
{
	return tb_lattice_char(m, i) == '*' || tb_lattice_is_word(m, i, "†") || tb_lattice_is_word(m, i, "‡");
}

/* "=> 20 sc": the end of an arrow is no bracket. */
static bool is_arrow_end(const tb_lattice_maker *m, guint32 i)
{
	return tb_lattice_char(m, i) == '>' && i > 0 && tb_is_among(tb_lattice_char(m, i - 1), "=-") &&
		tb_lattice_is_glued(m, i - 1);
}

/* Whether what is read from word I since edge BEFORE has more words: "s c" begins with no name. */
static bool is_begun(const tb_lattice_maker *m, guint32 before, guint32 i)
{
	for (guint32 k = before; k < m->edge_count; k++) {
		if (m->edges[k].end > i + 1)
			return true;
	}
	return false;
}

/* Whether what is read since edge BEFORE is a word of the pattern's own: "V" is no name of a thing then. */
static bool is_own(const tb_lattice_maker *m, guint32 before)
{
	for (guint32 k = before; k < m->edge_count; k++) {
		if (m->edges[k].value->type == TB_VALUE_OWN)
			return true;
	}
	return false;
}

/* "N1", "bk12": letters that stand for the word row, right before a number; what is a word by itself is none. */
static bool is_code(const tb_lattice_maker *m, guint32 i, bool known)
{
	size_t length;
	const char *word = tb_lattice_word(m, i, &length);
	return length <= TB_LONGEST_CODE && (!known || (length == 1 && !tb_is_among(*word, "rxm")) || tb_lattice_is_word(m, i, "fr")) && tb_lattice_is_glued(m, i) &&
		i + 1 < m->l->count && g_ascii_isdigit(tb_lattice_char(m, i + 1)) && (i == 0 || !tb_lattice_is_glued(m, i - 1) || tb_lattice_is_word(m, i - 1, "-"));
}

static void add_edges(tb_lattice_maker *m, guint32 i)
{
	char c = tb_lattice_char(m, i);
	guint32 before = m->edge_count;
	add_spellings(m, i, false);
	if (g_ascii_isalpha(c) && tb_lattice_is_word(m, i + 1, ".") && is_inner_dot(m, i + 1))
		add_spellings(m, i, true);
	bool known = m->edge_count > before, begun = is_begun(m, before, i);
	tb_lattice_add_numbers(m, i);
	bool bracket = tb_lattice_opens(c) || (tb_lattice_closes(c) && !is_arrow_end(m, i));
	if (i + 1 < m->l->count && is_arrow_end(m, i + 1))
		tb_lattice_add(m, TB_TERM_x3D, i + 2, &m->v->symbols[TB_SYMBOL_none]);
	if (bracket) {
		add_text_edge(m, tb_lattice_opens(c) ? TB_TERM_x28 : TB_TERM_x29, i);
	} else if (is_star(m, i)) {
		size_t length;
		tb_lattice_word(m, i, &length);
		add_text_edge(m, TB_TERM_CLASS_any, i);
		add_text_edge(m, TB_TERM_CLASS_token, i);
		tb_lattice_add_number(m, TB_TERM_CLASS_star, i + 1, c == '*' ? (double)length : tb_lattice_is_word(m, i, "†") ? 11 : 12);
	} else {
		add_text_edge(m, TB_TERM_CLASS_token, i);
		/* "12 sc evenly round. 13 sts": a number is not any word */
		if (!g_ascii_isdigit(c))
			add_text_edge(m, TB_TERM_CLASS_any, i);
		if (is_set_apart(m, i))
			add_text_edge(m, TB_TERM_dash, i);
		/* "Rnd 3-5 sc in each st" is three rounds, "Rnd 3 - 5 sc" one of five stitches */
		if (is_range(m, i))
			add_text_edge(m, TB_TERM_glued, i);
		if (is_parting(m, i))
			add_text_edge(m, TB_TERM_parting, i);
		/* "Rows 5–8" has its dash between figures */
		if (tb_lattice_is_word(m, i, "–") && i > 0 && tb_lattice_is_glued(m, i - 1) && tb_lattice_is_glued(m, i))
			add_text_edge(m, TB_TERM_x2D, i);
		if (tb_spelling_is_letter(g_utf8_get_char(m->lower + m->starts[i]))) {
			size_t length;
			tb_lattice_word(m, i, &length);
			if (!known || (length == 1 && !begun && !is_own(m, before)))
				add_text_edge(m, TB_TERM_CLASS_name, i);
			if (is_code(m, i, known))
				add_text_edge(m, TB_TERM_CLASS_code, i);
		}
	}
}

/* --- the whole --- */

static void add_word(tb_lattice_maker *m, size_t from, size_t to)
{
	m->starts[m->l->count] = (guint32)from;
	m->stops[m->l->count++] = (guint32)to;
}

/* "FPdc" where the library has no such stitch is a post and a stitch. */
static bool begins_with_post(const tb_lattice_maker *m, const char *word, size_t length)
{
	if (length <= 3 || (word[0] != 'f' && word[0] != 'b') || word[1] != 'p')
		return false;
	const tb_vocabulary_entry *whole = tb_vocabulary_find_words(m->v, word, length);
	const tb_vocabulary_entry *rest = tb_vocabulary_find_words(m->v, word + 2, length - 2);
	return (whole == NULL || (whole->stitch == NULL && whole->own == NULL)) && rest != NULL &&
		rest->stitch != NULL;
}

static void find_words(tb_lattice_maker *m)
{
	const char *text = m->lower;
	size_t length = strlen(text), most = 2;
	for (size_t at = 0; at < length; at++)
		most += text[at] != ' ';
	m->starts = tb_arena_take(m->arena, most * sizeof(guint32));
	m->stops = tb_arena_take(m->arena, most * sizeof(guint32));
	for (size_t at = 0; at < length;) {
		if (text[at] == ' ') {
			at++;
			continue;
		}
		/* "(18 sts!!)" says no more than who is not so loud; elsewhere one stands for all */
		size_t loud = strspn(text + at, "!"), behind = at + loud + strspn(text + at + loud, " ");
		if (loud > 0 && (text[behind] == ')' || text[behind] == ']')) {
			at += loud;
			continue;
		}
		at += loud > 1 ? loud - 1 : 0;
		size_t end = tb_spelling_word_end(text, at);
		if (begins_with_post(m, text + at, end - at)) {
			add_word(m, at, at + 2);
			at += 2;
		}
		add_word(m, at, end);
		at = end;
	}
	m->starts[m->l->count] = m->stops[m->l->count] = (guint32)length;
}

static void pair_brackets(tb_lattice_maker *m)
{
	guint32 open[TB_LIMIT_NESTING], depth = 0, count = m->l->count;
	m->pairs = tb_arena_take(m->arena, (count + 2) * sizeof(guint32));
	m->l->unpaired = m->l->too_deep = count;
	for (guint32 i = 0; i < count; i++) {
		char c = tb_lattice_char(m, i);
		if (tb_lattice_opens(c)) {
			if (depth < G_N_ELEMENTS(open))
				open[depth] = i;
			else
				m->l->too_deep = MIN(m->l->too_deep, i);
			depth++;
		} else if (tb_lattice_closes(c) && !is_arrow_end(m, i)) {
			if (depth == 0) {
				/* "1)" is how a list is numbered */
				if (i > 3 && m->l->unpaired == count)
					m->l->unpaired = i;
				continue;
			}
			depth--;
			if (depth < G_N_ELEMENTS(open)) {
				m->pairs[open[depth]] = i;
				m->pairs[i] = open[depth];
			}
		}
	}
	if (depth > 0 && m->l->unpaired == count)
		m->l->unpaired = open[MIN(depth, (guint32)G_N_ELEMENTS(open)) - 1];
}

/*
 * Where the acts that begin at each place end at the latest: at the bracket that closes them; and
 * behind a star, where so many more have come that nobody keeps it in mind.
 */
static void find_act_ends(tb_lattice_maker *m)
{
	guint32 count = m->l->count, stars = 0;
	guint32 *ends = tb_arena_take(m->arena, (count + 1) * sizeof(guint32));
	guint32 *at_star = tb_arena_take(m->arena, (MOST_STARS + 1) * sizeof(guint32));
	ends[count] = count;
	for (guint32 i = count; i-- > 0;) {
		bool star = is_star(m, i);
		ends[i] = stars > MOST_STARS ? at_star[(stars - MOST_STARS - 1) % (MOST_STARS + 1)] : count;
		if (i > 0 && m->pairs[i - 1] > i - 1)
			ends[i] = MIN(ends[i], m->pairs[i - 1]);
		if (star) {
			at_star[stars % (MOST_STARS + 1)] = i;
			stars++;
		}
	}
	m->l->act_ends = ends;
}

/* Where the bracket before word I closes, behind a few words in which there is no other; 0 for none. */
static guint32 find_inside(const tb_lattice_maker *m, guint32 i)
{
	guint32 close = i > 0 && tb_lattice_opens(tb_lattice_char(m, i - 1)) ? m->pairs[i - 1] : 0;
	if (close <= i || close - i > MOST_INSIDE)
		return 0;
	for (guint32 k = i; k < close; k++) {
		if (m->pairs[k] > 0 || tb_lattice_opens(tb_lattice_char(m, k)))
			return 0;
	}
	return close;
}

/* Puts TERM, which is read to word END, behind the TO edges of ALL, unless END is 0; how many there are. */
static guint32 add_ends(tb_edge *all, guint32 to, const tb_vocabulary *v, unsigned term, guint32 end)
{
	if (end > 0)
		all[to++] = (tb_edge){(guint16)term, end, &v->symbols[TB_SYMBOL_none]};
	return to;
}

void tb_lattice_make(tb_lattice *l, const tb_vocabulary *v, const tb_text *text, bool doubts, tb_arena *arena)
{
	g_autofree char *lower = tb_text_lower(text->chars, (gssize)text->length);
	/* A letter whose small form is longer would shift what follows: it stays as it is. */
	if (strlen(lower) != text->length) {
		g_free(lower);
		lower = g_ascii_strdown(text->chars, (gssize)text->length);
	}
	*l = (tb_lattice){.text = text};
	tb_lattice_maker m = {.v = v, .l = l, .arena = arena, .lower = lower};
	find_words(&m);
	pair_brackets(&m);
	find_act_ends(&m);
	guint32 *first = tb_arena_take(arena, (l->count + 2) * sizeof(guint32));
	for (guint32 i = 0; i < l->count; i++) {
		first[i] = m.edge_count;
		add_edges(&m, i);
	}
	first[l->count] = first[l->count + 1] = m.edge_count;
	m.first_edge = first;
	const guint32 *idle = tb_lattice_find_idle(&m, first);
	const guint32 *asides = tb_lattice_find_asides(&m), *advice = tb_lattice_find_advice(&m);
	const guint32 *doubted = tb_lattice_find_doubts(&m, doubts), *aims = tb_lattice_find_aims(&m);
	const bool *work = tb_lattice_find_work(&m);
	tb_edge *all = tb_arena_take(arena, (m.edge_count + MOST_EXTRA * l->count + 1) * sizeof(tb_edge));
	guint32 to = 0;
	for (guint32 i = 0; i < l->count; i++) {
		guint32 from = first[i], until = first[i + 1];
		first[i] = to;
		for (guint32 e = from; e < until; e++) {
			if (!tb_lattice_is_aside_word(m.edges[e].term))
				all[to++] = m.edges[e];
		}
		to = add_ends(all, to, v, TB_TERM_CLASS_idle, idle[i]);
		to = add_ends(all, to, v, TB_TERM_CLASS_aside, asides[i] != idle[i] ? asides[i] : 0);
		to = add_ends(all, to, v, TB_TERM_CLASS_aside, advice[i] != idle[i] && advice[i] != asides[i] ? advice[i] : 0);
		to = add_ends(all, to, v, TB_TERM_CLASS_doubt, doubted[i]);
		to = add_ends(all, to, v, TB_TERM_CLASS_aim, aims[i]);
		to = add_ends(all, to, v, TB_TERM_CLASS_inside, find_inside(&m, i));
		to = add_ends(all, to, v, TB_TERM_CLASS_tame, work != NULL && !work[i] ? i + 1 : 0);
	}
	first[l->count] = first[l->count + 1] = to;
	g_free(m.edges);
	l->start = m.starts;
	l->stop = m.stops;
	l->first_edge = first;
	l->edges = all;
}

bool tb_lattice_is_unknown(const tb_lattice *l, guint32 word)
{
	bool name = false;
	/* the end of "2nd" is no word */
	if (word > 0 && l->stop[word - 1] == l->start[word] &&
		g_ascii_isdigit(l->text->chars[l->stop[word - 1] - 1]))
		return false;
	for (guint32 e = l->first_edge[word]; e < l->first_edge[word + 1]; e++) {
		switch (l->edges[e].term) {
		case TB_TERM_CLASS_name:
			name = true;
			break;
		case TB_TERM_CLASS_any:
		case TB_TERM_CLASS_token:
		case TB_TERM_CLASS_code:
		case TB_TERM_CLASS_idle:
		case TB_TERM_CLASS_aside:
		case TB_TERM_CLASS_tame:
		case TB_TERM_CLASS_inside:
		case TB_TERM_CLASS_doubt:
		case TB_TERM_CLASS_aim:
			break;
		default:
			return false;
		}
	}
	return name;
}

/* "in each st; 9 sc", "across; 9 sc": whether the words before WORD take all there is, so that nothing is left for more. */
static bool takes_all_before(const tb_lattice *l, guint32 word)
{
	const char *chars = l->text->chars;
	return (word > 0 && tb_at_word(chars + l->start[word - 1], "across around end") > 0) ||
		(word > 1 && tb_at_word(chars + l->start[word - 2], "each every") > 0);
}

/* A full stop, a hyphen that stands for a dash, or a semicolon behind which nothing can be work. */
static bool is_stop(const tb_lattice *l, guint32 word)
{
	char sign = l->text->chars[l->start[word]];
	return sign == '.' || (sign == ';' && takes_all_before(l, word)) || tb_lattice_edge(l, word, TB_TERM_parting) != NULL;
}

guint32 tb_lattice_stopped_figure(const tb_lattice *l, guint32 at)
{
	const char *chars = l->text->chars;
	guint32 figure = at < l->count && is_stop(l, at) ? at + 1 : at;
	bool stopped = figure > 0 && figure < l->count && is_stop(l, figure - 1);
	return stopped && g_ascii_isdigit(chars[l->start[figure]]) ? figure : G_MAXUINT32;
}

const tb_edge *tb_lattice_edge(const tb_lattice *l, guint32 word, unsigned term)
{
	const tb_edge *longest = NULL;
	for (guint32 e = l->first_edge[MIN(word, l->count)]; word < l->count && e < l->first_edge[word + 1]; e++) {
		const tb_edge *edge = &l->edges[e];
		if (edge->term == term && (longest == NULL || edge->end > longest->end))
			longest = edge;
	}
	return longest;
}
