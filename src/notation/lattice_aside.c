/*
 * Clauses that tell of no work, as "being careful not to twist", "for the back of the heel", "Holding
 * the yarn in front, …": how they begin, and what they may not have, are words of the grammar
 * (asideword, leadin, subject; soft, loud, whichone). A clause with a number, a stitch or a place in it, or with
 * a word that tells what to do, is never one: what is not sure to be idle is refused elsewhere.
 */
#include "notation/lattice_maker.h"

#include <string.h>

/* No clause of so many words is an aside. */
#define MOST_QUIET 200u

guint32 tb_lattice_term_end(const tb_lattice_maker *m, guint32 i, guint16 term)
{
	guint32 end = 0;
	for (guint32 e = m->first_edge[i]; e < m->first_edge[i + 1]; e++) {
		if (m->edges[e].term == term && !tb_lattice_is_word(m, m->edges[e].end - 1, "."))
			end = MAX(end, m->edges[e].end);
	}
	return end;
}

bool tb_lattice_reads_any(const tb_lattice_maker *m, guint32 i, const guint16 *terms, size_t count)
{
	for (size_t k = 0; k < count; k++) {
		if (tb_lattice_term_end(m, i, terms[k]) > 0)
			return true;
	}
	return false;
}

/* "3 inches wide", "with 2 strands": a number that counts no stitches. */
static bool is_measure(const tb_lattice_maker *m, guint32 i)
{
	for (guint32 e = m->first_edge[i]; e < m->first_edge[i + 1]; e++) {
		guint16 term = m->edges[e].term;
		if ((term == TB_TERM_CLASS_int || term == TB_TERM_CLASS_frac) && m->edges[e].end < m->l->count &&
			tb_lattice_term_end(m, m->edges[e].end, TB_TERM_measured) > 0)
			return true;
	}
	return false;
}

bool tb_lattice_tells_work(const tb_lattice_maker *m, guint32 i)
{
	static const guint16 working[] = {TB_TERM_work, TB_TERM_CLASS_stitchname, TB_TERM_CLASS_star,
		TB_TERM_CLASS_sizeword, TB_TERM_skip, TB_TERM_turn, TB_TERM_join, TB_TERM_rep, TB_TERM_increase,
		TB_TERM_decrease, TB_TERM_leave, TB_TERM_tch, TB_TERM_tog, TB_TERM_blo, TB_TERM_flo, TB_TERM_unworked,
		TB_TERM_thirdx2Dloop, TB_TERM_counts, TB_TERM_post, TB_TERM_loud, TB_TERM_telling};
	static const guint16 numbers[] = {TB_TERM_CLASS_int, TB_TERM_CLASS_frac, TB_TERM_CLASS_ord};
	/* "the crochet will curl" is no work; what is worked has its own words */
	unsigned crochet = tb_lattice_is_word(m, i, "crochet") ? 1 : 0;
	if (tb_lattice_reads_any(m, i, working + crochet, G_N_ELEMENTS(working) - crochet) || (tb_lattice_is_word(m, i, "off")))
		return true;
	return tb_lattice_reads_any(m, i, numbers, G_N_ELEMENTS(numbers)) && !is_measure(m, i) &&
		tb_lattice_term_end(m, i, TB_TERM_whichone) == 0;
}

bool tb_lattice_is_place(const tb_lattice_maker *m, guint32 i)
{
	static const guint16 places[] = {TB_TERM_st, TB_TERM_sp, TB_TERM_ch, TB_TERM_loop, TB_TERM_row,
		TB_TERM_rnd, TB_TERM_ring};
	return tb_lattice_reads_any(m, i, places, G_N_ELEMENTS(places)) && !tb_lattice_is_word(m, i, "around") &&
		!tb_lattice_is_word(m, i, "round");
}

/* "your stitches", "the rows": no one stitch, but the cloth. */
static bool is_all_of_them(const tb_lattice_maker *m, guint32 i)
{
	static const char *const whose[] = {"your", "the", "these", NULL};
	size_t length;
	const char *word = tb_lattice_word(m, i, &length);
	return i > 0 && length > 2 && word[length - 1] == 's' && tb_lattice_is_among(m, i - 1, whose);
}

bool tb_lattice_is_one_more(const tb_lattice_maker *m, guint32 i)
{
	static const char *const one[] = {"a", "an", "one", "extra", "another", NULL};
	return i > 0 && tb_lattice_is_among(m, i - 1, one);
}

/* "For L, …": a size that the pattern may have and we do not know. */
static bool is_letter(const tb_lattice_maker *m, guint32 i)
{
	size_t length;
	const char *word = tb_lattice_word(m, i, &length);
	return length == 1 && g_ascii_isalpha(*word) && *word != 'a' && *word != 'i' &&
		tb_lattice_term_end(m, i, TB_TERM_CLASS_colour) == 0;
}

bool tb_lattice_is_quiet(const tb_lattice_maker *m, guint32 from, guint32 to, bool places)
{
	bool place = false, which = false;
	if (to > from + MOST_QUIET)
		return false;
	for (guint32 i = from; i < to; i++) {
		guint32 soft = tb_lattice_term_end(m, i, TB_TERM_soft);
		if (soft > 0 && soft <= to) {
			i = soft - 1;
			continue;
		}
		if (tb_lattice_tells_work(m, i) || is_letter(m, i))
			return false;
		if (tb_lattice_is_place(m, i)) {
			if (tb_lattice_is_one_more(m, i))
				return false;
			if (!places && !is_all_of_them(m, i))
				return false;
			place = true;
		}
		which = which || tb_lattice_term_end(m, i, TB_TERM_whichone) > 0;
	}
	return !(place && which);
}

bool tb_lattice_ends_clause(const tb_lattice_maker *m, guint32 i)
{
	return i >= m->l->count || tb_is_among(tb_lattice_char(m, i), ".!;,:([)]*") ||
		tb_lattice_term_end(m, i, TB_TERM_dash) > 0;
}

static bool begins_clause(const tb_lattice_maker *m, guint32 i, const char *behind)
{
	return i == 0 || strchr(behind, tb_lattice_char(m, i - 1)) != NULL;
}

static bool joins(const tb_lattice_maker *m, guint32 i)
{
	return tb_lattice_is_word(m, i, "and") || tb_lattice_is_word(m, i, "then") || tb_lattice_is_word(m, i, "&");
}

/* "Row 9 (last row):" has a bracket that names the row: it stands before all that is worked. */
static bool is_of_label(const tb_lattice_maker *m, guint32 from, guint32 to)
{
	static const guint16 working[] = {TB_TERM_CLASS_stitchname, TB_TERM_rep, TB_TERM_work, TB_TERM_ch,
		TB_TERM_skip, TB_TERM_turn};
	bool label = to + 1 < m->l->count && tb_is_among(tb_lattice_char(m, to + 1), ":.");
	for (guint32 i = 0; i + 1 < from && label; i++)
		label = !tb_is_among(tb_lattice_char(m, i), ":,;.") && !tb_lattice_reads_any(m, i, working, G_N_ELEMENTS(working));
	return label;
}

/* "(or chain 2 and work into the 2nd ch from hook)": another way to the same; "(or 12)" is another size's number. */
static bool is_alternative(const tb_lattice_maker *m, guint32 from, guint32 to)
{
	static const char *const sizes[] = {"size", "sizes", "if", "multiple", "multiples", NULL};
	if (!tb_lattice_is_word(m, from, "or") || from + 3 > to || tb_lattice_term_end(m, from + 1, TB_TERM_CLASS_int) > 0)
		return false;
	for (guint32 i = from; i < to; i++) {
		if (tb_lattice_is_among(m, i, sizes) || tb_lattice_term_end(m, i, TB_TERM_CLASS_sizeword) > 0)
			return false;
	}
	return true;
}

/*
 * "(edge curls)": a bracket may say what it likes, but for where and how a stitch is worked; one that names
 * a row may name a place too.
 */
static bool is_bracket(const tb_lattice_maker *m, guint32 from, guint32 to)
{
	static const char *const where[] = {"behind", "below", "before", "after", "around", "round", "front", "not",
		"never", "no", "both", "all", "none", "side", "sides", "backwards", "down", "up", "first", "next", "last",
		"previous", "from", NULL};
	if (from == 0 || !tb_is_among(tb_lattice_char(m, from - 1), "([") || to == m->l->count ||
		!tb_is_among(tb_lattice_char(m, to), ")]"))
		return false;
	if (is_alternative(m, from, to))
		return true;
	bool label = is_of_label(m, from, to);
	for (guint32 i = from; i < to; i++) {
		if (label ? tb_lattice_tells_work(m, i) || tb_lattice_term_end(m, i, TB_TERM_loop) > 0 : tb_lattice_is_among(m, i, where))
			return false;
	}
	return label || tb_lattice_is_quiet(m, from, to, false);
}

/* Where what begins at word I and is idle ends at the latest; 0 where it does not begin so. */
static guint32 find_idle_end(const tb_lattice_maker *m, guint32 i, guint32 clause, guint32 sentence)
{
	guint32 subject = begins_clause(m, i, ".!;([)]") ? tb_lattice_term_end(m, i, TB_TERM_subject) : 0;
	guint32 lead = begins_clause(m, i, ".!:") ? tb_lattice_term_end(m, i, TB_TERM_leadin) : 0;
	guint32 aside = tb_lattice_term_end(m, i, TB_TERM_asideword);
	if (is_bracket(m, i, sentence))
		return sentence;
	/* "Now in rounds." */
	if ((subject > 0 || lead > 0) && tb_lattice_bids(m, i, MIN(clause, sentence)) && clause == sentence)
		return 0;
	if (subject > 0 && sentence > MAX(subject, i + 2) && tb_lattice_is_quiet(m, subject, sentence, true))
		return sentence;
	if (lead > 0 && lead <= clause && tb_lattice_is_quiet(m, lead, clause, false))
		return clause;
	/* "Bind off for the neck": what is left there, and no aim of the work */
	if (i > 1 && tb_lattice_is_word(m, i, "for") && tb_lattice_is_word(m, i - 1, "off") && tb_lattice_reads(m, i - 2, TB_TERM_fasten))
		return 0;
	/* a word alone leads nowhere; "as shown" does */
	if (aside > 0 && aside <= clause && (aside < clause || aside > i + 1) &&
		tb_lattice_term_end(m, i, TB_TERM_loud) == 0 && tb_lattice_is_quiet(m, aside, clause, false))
		return clause;
	return 0;
}

bool tb_lattice_is_aside_word(guint16 term)
{
	switch (term) {
	case TB_TERM_afterword:
	case TB_TERM_asideword:
	case TB_TERM_leadin:
	case TB_TERM_subject:
	case TB_TERM_loud:
	case TB_TERM_telling:
	case TB_TERM_soft:
	case TB_TERM_whichone:
	case TB_TERM_measured:
	case TB_TERM_mistyped:
	case TB_TERM_likeword:
	case TB_TERM_longword:
	case TB_TERM_allowword:
	case TB_TERM_alsoword:
	case TB_TERM_counselword:
	case TB_TERM_modalword:
	case TB_TERM_announceword:
	case TB_TERM_sayword:
	case TB_TERM_orderword:
	case TB_TERM_bidword:
	case TB_TERM_idleword:
		return true;
	default:
		return false;
	}
}

guint32 *tb_lattice_find_asides(const tb_lattice_maker *m)
{
	guint32 count = m->l->count, sentence = count, clause = count;
	guint32 *ends = tb_arena_take(m->arena, (count + 1) * sizeof(guint32));
	for (guint32 i = count; i-- > 0;) {
		if (tb_lattice_ends_clause(m, i) || joins(m, i))
			clause = i;
		if (tb_is_among(tb_lattice_char(m, i), ".!;([)]"))
			sentence = i;
		else if (g_ascii_isalpha(tb_lattice_char(m, i)))
			ends[i] = find_idle_end(m, i, clause, sentence);
	}
	return ends;
}
