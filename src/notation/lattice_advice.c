/*
 * Sentences that leave the cloth as it is, though they may speak of rows and stitches: what one may do if one
 * likes, or for a longer piece; what is only allowed; what is to be tried, checked, seen or kept in mind; what
 * comes later. How they begin are words of the grammar (likeword, longword, allowword, alsoword, counselword, modalword, announceword).
 */
#include "notation/lattice_maker.h"

/* "The ends of the work should …": the word that says what is to be seen is among the first. */
#define LATEST_MODAL 6u
/* Words of a sentence; no advice has more. */
#define LONGEST_ADVICE 200u

/* Where a sentence may begin: behind another, a bracket, a label, a dash; IN_BRACKET where one opens. */
static bool begins_here(const tb_lattice_maker *m, guint32 i, bool *in_bracket)
{
	char before = i > 0 ? tb_lattice_char(m, i - 1) : '.';
	*in_bracket = tb_lattice_opens(before) && m->pairs[i - 1] > i;
	return *in_bracket || tb_is_among(before, ".!?;:)]") || tb_lattice_term_end(m, i - 1, TB_TERM_dash) == i;
}

/* Where the sentence of word I ends; brackets belong to it, but for one that counts. Of a long one, somewhere behind the longest advice. */
static guint32 find_end(const tb_lattice_maker *m, guint32 i, bool in_bracket)
{
	if (in_bracket)
		return m->pairs[i - 1];
	guint32 last = MIN(m->l->count, i + LONGEST_ADVICE + 1);
	while (i < last && !tb_is_among(tb_lattice_char(m, i), ".!?") && !tb_lattice_closes(tb_lattice_char(m, i))) {
		bool bracket = tb_lattice_opens(tb_lattice_char(m, i));
		if (bracket && tb_lattice_claims(m, i))
			break;
		i = bracket && m->pairs[i] > i ? m->pairs[i] + 1 : i + 1;
	}
	return i;
}

/* "rows 2 and 3", "step 4", "3 inches", "5 sts apart": a number that counts no stitches. */
static bool is_name_or_measure(const tb_lattice_maker *m, guint32 i)
{
	static const char *const named[] = {"row", "rows", "round", "rounds", "rnd", "rnds", "r", "step", "page", "photo", "figure",
		"fig", "picture", "video", "minute", "minutes", "chapter", "part", "size", "no", "number", "hook", NULL};
	static const char *const joins[] = {"and", "or", "to", "-", "&", ",", NULL};
	static const guint16 measures[] = {TB_TERM_measured};
	if (i > 0 && tb_lattice_is_among(m, i - 1, named))
		return true;
	if (i > 1 && tb_lattice_is_among(m, i - 1, joins) && tb_lattice_term_end(m, i - 2, TB_TERM_CLASS_int) > 0)
		return is_name_or_measure(m, i - 2);
	guint32 end = MAX(tb_lattice_term_end(m, i, TB_TERM_CLASS_int), tb_lattice_term_end(m, i, TB_TERM_CLASS_frac));
	for (guint32 k = end; k < MIN(end + 3, m->l->count); k++) {
		if (tb_lattice_reads_any(m, k, measures, G_N_ELEMENTS(measures)) || tb_lattice_is_word(m, k, "apart") ||
			tb_lattice_is_word(m, k, "mm") || tb_lattice_is_word(m, k, "strands"))
			return true;
	}
	/* "this two-row pattern" */
	if (end > 0 && tb_lattice_is_word(m, end, "-") && end + 1 < m->l->count &&
		(tb_lattice_reads(m, end + 1, TB_TERM_row) || tb_lattice_reads(m, end + 1, TB_TERM_rnd)))
		return true;
	return tb_lattice_is_word(m, i, "one");
}

/* "The increases are done": of shaping is spoken, and none done. */
static bool is_shaping(const tb_lattice_maker *m, guint32 i)
{
	static const char *const shaping[] = {"increases", "decreases", NULL};
	static const char *const the[] = {"the", "these", "those", "your", "more", "no", "further", NULL};
	return i > 0 && tb_lattice_is_among(m, i, shaping) && tb_lattice_is_among(m, i - 1, the);
}

/* Whether word I works, counts, or says where or how it is worked. */
static bool alters(const tb_lattice_maker *m, guint32 i)
{
	static const guint16 altering[] = {TB_TERM_blo, TB_TERM_flo, TB_TERM_bothx2Dloops, TB_TERM_thirdx2Dloop, TB_TERM_unworked,
		TB_TERM_leave, TB_TERM_tch, TB_TERM_tog, TB_TERM_CLASS_fp, TB_TERM_counts, TB_TERM_skip, TB_TERM_rep,
		TB_TERM_CLASS_star, TB_TERM_CLASS_stitchname, TB_TERM_telling};
	static const guint16 numbers[] = {TB_TERM_CLASS_int, TB_TERM_CLASS_frac};
	static const char *const others[] = {"same", "other", "opposite", "alternate", "alternately", "odd", "instead", "reverse",
		"twice", "half", "only", "except", "unless", "until", NULL};
	if (is_shaping(m, i))
		return false;
	if (tb_lattice_begins_work(m, i) || tb_lattice_is_among(m, i, others) ||
		tb_lattice_reads_any(m, i, altering, G_N_ELEMENTS(altering)))
		return true;
	return tb_lattice_reads_any(m, i, numbers, G_N_ELEMENTS(numbers)) && !is_name_or_measure(m, i);
}

/* "This is your first stitch" tells of one stitch, "the stitches" of the cloth. */
static bool alters_any(const tb_lattice_maker *m, guint32 from, guint32 to)
{
	bool place = false, which = false;
	guint32 i = from;
	while (i < to) {
		guint32 soft = tb_lattice_term_end(m, i, TB_TERM_soft);
		bool here = soft == 0 && tb_lattice_is_place(m, i);
		if ((soft == 0 && alters(m, i)) || (here && tb_lattice_is_one_more(m, i)))
			return true;
		place = place || here;
		which = which || tb_lattice_term_end(m, i, TB_TERM_whichone) > 0;
		i = MAX(i + 1, soft);
	}
	return place && which;
}

static bool has_term(const tb_lattice_maker *m, guint32 from, guint32 to, guint16 term)
{
	while (from < to && tb_lattice_term_end(m, from, term) == 0)
		from++;
	return from < to;
}

static bool has_word(const tb_lattice_maker *m, guint32 from, guint32 to, const char *const *words)
{
	while (from < to && !tb_lattice_is_among(m, from, words))
		from++;
	return from < to;
}

/* "Add a few rounds if you like it longer": one clause, and what is done in it is left open. */
static bool is_liked_at_end(const tb_lattice_maker *m, guint32 from, guint32 to)
{
	static const char *const doing[] = {"add", "make", "work", "crochet", "repeat", "do", "don't", "don’t", "keep", "try", "leave",
		"use", "change", "switch", "continue", "go", "carry", "finish", "stop", "begin", "start", "put", "sew", "attach",
		"decorate", "embroider", "feel", "omit", "simply", "just", NULL};
	static const char *const parts[] = {",", ";", ":", "then", "*", NULL};
	guint32 i = from;
	if (!tb_lattice_is_among(m, from, doing))
		return false;
	while (i < to && tb_lattice_term_end(m, i, TB_TERM_likeword) == 0) {
		if (tb_lattice_is_among(m, i, parts) || tb_lattice_opens(tb_lattice_char(m, i)))
			return false;
		i++;
	}
	return i < to;
}

/* "For a longer scarf, repeat …", "To make it wider add …": what is worked in no size that is given. */
static bool is_for_longer(const tb_lattice_maker *m, guint32 from, guint32 to)
{
	static const char *const leads[] = {"for", "to", NULL};
	static const char *const sizes[] = {"size", "sizes", NULL};
	static const char *const open[] = {"more", "extra", "additional", "add", "repeat", "start", "begin", "multiple", "multiples",
		"fewer", "less", "increase", "simply", "continue", "another", "longer", "further", NULL};
	static const char *const begins[] = {"add", "repeat", "start", "begin", "simply", "just", "increase", NULL};
	guint32 comma = from;
	while (comma < to && tb_lattice_char(m, comma) != ',' &&
		!(tb_lattice_is_among(m, comma, begins) && has_term(m, from, comma, TB_TERM_longword)))
		comma++;
	return tb_lattice_is_among(m, from, leads) && comma < MIN(to, from + 9) && has_term(m, from, comma, TB_TERM_longword) &&
		!has_word(m, from, to, sizes) && has_word(m, comma, to, open);
}

/*
 * "If it is too small, work another round", "If your pot is taller, …", "If needed, …": what is done where something is
 * so that no pattern can know, and left out by all others.
 */
static bool is_on_condition(const tb_lattice_maker *m, guint32 from, guint32 to)
{
	static const char *const whose[] = {"it", "it's", "it’s", "this", "your", "the", "you", "they", "yours", "needed", "necessary", "required",
		NULL};
	static const char *const judged[] = {"too", "needed", "necessary", "required", "fit", "fits", "enough", "not", "doesn't", "doesn’t",
		"isn't", "isn’t", "curls", "curling", "ruffles", "ruffling", "ripples", "cups", "loose", "tight", "tightly", "loosely", "short",
		"puckers", "wavy", NULL};
	/* the sizes, rows and ways of the work are no such thing */
	static const char *const known[] = {"size", "sizes", "row", "rows", "round", "rounds", "first", "last", "working", "making", "using",
		"even", "odd", "number", "multiple", "left", "handed", "side", NULL};
	guint32 comma = from;
	while (comma < to && tb_lattice_char(m, comma) != ',')
		comma++;
	if (!tb_lattice_is_word(m, from, "if") || comma == to || !tb_lattice_is_among(m, from + 1, whose) || has_word(m, from, comma, known))
		return false;
	for (guint32 i = from; i < comma; i++) {
		if (tb_lattice_tells_work(m, i) && !tb_lattice_is_among(m, i, judged))
			return false;
	}
	return has_word(m, from, comma, judged) || has_term(m, from, comma, TB_TERM_longword);
}

/* "You can also …", "You may …": what need not be done; with nothing that says so, no stitch is in it. */
static bool is_allowed(const tb_lattice_maker *m, guint32 from, guint32 to)
{
	static const char *const now[] = {"now", "then", "next", NULL};
	guint32 lead = tb_lattice_term_end(m, from, TB_TERM_allowword);
	if (lead == 0 || lead >= to || has_word(m, lead, MIN(lead + 1, to), now))
		return false;
	return has_term(m, lead, to, TB_TERM_alsoword) || has_term(m, lead, to, TB_TERM_likeword) || !alters_any(m, lead, to);
}

/* "Ten stitches should measure 4 inches": behind its verb a length, and no more. */
static bool is_gauge(const tb_lattice_maker *m, guint32 i, guint32 to)
{
	static const char *const about[] = {"about", "approximately", "roughly", "around", NULL};
	if (tb_lattice_term_end(m, i, TB_TERM_measures) == 0)
		return false;
	i += 1 + tb_lattice_is_among(m, i + 1, about);
	static const guint16 lengths[] = {TB_TERM_inch, TB_TERM_cm};
	guint32 end = tb_lattice_term_end(m, i, TB_TERM_CLASS_frac);
	return end > 0 && end + 2 >= to && tb_lattice_reads_any(m, end, lengths, G_N_ELEMENTS(lengths));
}

/* "Scarf measures about 50 inches": of the cloth, and no row is worked until it does. */
static bool is_measured(const tb_lattice_maker *m, guint32 from, guint32 to)
{
	static const char *const until[] = {"until", "till", "when", "once", "to", "if", NULL};
	if (!has_term(m, from + 1, MIN(to, from + 5), TB_TERM_measures))
		return false;
	for (guint32 i = from; i < MIN(to, from + 5); i++) {
		if (i > from && tb_lattice_term_end(m, i, TB_TERM_measures) > 0)
			return is_gauge(m, i, to);
		if (tb_lattice_is_among(m, i, until) || alters(m, i) || tb_lattice_term_end(m, i, TB_TERM_orderword) > 0)
			return false;
	}
	return false;
}

/* "Your ball should start to curl", "Stuffing will show": what is seen of what is there. */
static bool is_expected(const tb_lattice_maker *m, guint32 from, guint32 to)
{
	static const char *const speakers[] = {"you", "we", "i", "who", "what", "how", NULL};
	guint32 i = from;
	while (i < MIN(to, from + LATEST_MODAL) && tb_lattice_term_end(m, i, TB_TERM_modalword) == 0) {
		if (tb_lattice_is_among(m, i, speakers))
			return false;
		i++;
	}
	if (i == from || i + 1 >= to || tb_lattice_term_end(m, i, TB_TERM_modalword) == 0)
		return false;
	if (is_gauge(m, tb_lattice_term_end(m, i, TB_TERM_modalword), to))
		return true;
	/* "the next round will be worked in rows" */
	return !has_term(m, i + 1, MIN(to, i + 5), TB_TERM_work) && !alters_any(m, from, to);
}

/* A verb that tells what to do, where one may: first in its clause, or behind "and", "you", "to". */
static bool orders(const tb_lattice_maker *m, guint32 from, guint32 i)
{
	static const char *const before[] = {"and", "then", "now", "to", "you", "we", "will", "just", "simply", "please", "also", "or",
		"must", "should", "can", "be", "are", "is", "been", "always", "not", "don't", "don’t", NULL};
	return tb_lattice_term_end(m, i, TB_TERM_orderword) > 0 &&
		(i == from || tb_is_among(tb_lattice_char(m, i - 1), ".,;:") || tb_lattice_is_among(m, i - 1, before));
}

/*
 * "The increases are done now", "This two-row pattern makes a dense fabric": of what is there something is said.
 * Where it speaks of stitches or rows, it says nothing of where they stand.
 */
static bool is_declared(const tb_lattice_maker *m, guint32 from, guint32 to)
{
	static const char *const first[] = {"in", "into", "on", "over", "under", "around", "through", "from", "behind", "across",
		"along", "to", "at", "with", "for", "by", "each", "every", "both", "all", "only", "but", "and", "or", "then", "after",
		"before", "between", "until", "if", "when", "where", "not", "no", "as", "you", "we", "i", "odd", "even", "there", NULL};
	static const char *const where[] = {"between", "below", "beneath", "under", "into", "around", "through", "behind", "before",
		"after", "above", "over", "free", "empty", "alone", "open", "closed", "changed", "again", NULL};
	static const guint16 terms[] = {TB_TERM_join, TB_TERM_ch, TB_TERM_sp, TB_TERM_loop, TB_TERM_ring, TB_TERM_post,
		TB_TERM_CLASS_sizeword, TB_TERM_CLASS_ord};
	bool place = false, put = false;
	if (!has_term(m, from + 1, MIN(to, from + 9), TB_TERM_sayword) || tb_lattice_is_among(m, from, first))
		return false;
	for (guint32 i = from; i < to; i++) {
		if (orders(m, from, i) || tb_lattice_reads_any(m, i, terms, G_N_ELEMENTS(terms)))
			return false;
		place = place || tb_lattice_is_place(m, i);
		put = put || tb_lattice_is_among(m, i, where);
	}
	return !(place && put) && !alters_any(m, from, to);
}

/* "Next we will join the legs": the rows behind it say how. */
static bool is_announced(const tb_lattice_maker *m, guint32 from, guint32 to)
{
	static const char *const whose[] = {"the", "both", "our", "your", "all", NULL};
	static const guint16 work[] = {TB_TERM_st, TB_TERM_sp, TB_TERM_ch, TB_TERM_loop, TB_TERM_row, TB_TERM_rnd, TB_TERM_ring,
		TB_TERM_CLASS_stitchname, TB_TERM_beg, TB_TERM_end, TB_TERM_side, TB_TERM_across};
	guint32 i = from;
	while (i < MIN(to, from + 4) && tb_lattice_term_end(m, i, TB_TERM_announceword) == 0)
		i++;
	guint32 verb = i < MIN(to, from + 4) ? tb_lattice_term_end(m, i, TB_TERM_announceword) : 0;
	if (verb == 0 || verb + 1 >= to || tb_lattice_term_end(m, verb, TB_TERM_join) == 0 || !tb_lattice_is_among(m, verb + 1, whose))
		return false;
	for (guint32 k = verb + 1; k < to; k++) {
		if (alters(m, k) || tb_lattice_reads_any(m, k, work, G_N_ELEMENTS(work)))
			return false;
	}
	return true;
}

static bool works(const tb_lattice_maker *m, guint32 from, guint32 to)
{
	while (from < to && (!tb_lattice_begins_work(m, from) || tb_lattice_claims(m, from)))
		from++;
	return from < to;
}

/*
 * "Sc across. If you like a loop, do not fasten off. Ch 20, sl st in same st.": whether what comes behind is
 * worked by all is not sure where no count tells.
 */
static bool goes_on(const tb_lattice_maker *m, guint32 from, guint32 to)
{
	if (!works(m, to, m->l->count) || !works(m, 0, from))
		return false;
	while (to < m->l->count && !tb_lattice_claims(m, to))
		to++;
	return to == m->l->count;
}

static bool advises(const tb_lattice_maker *m, guint32 from, guint32 to)
{
	if ((tb_lattice_term_end(m, from, TB_TERM_likeword) > 0 || is_liked_at_end(m, from, to) ||
		is_for_longer(m, from, to) || is_on_condition(m, from, to)) && !goes_on(m, from, to))
		return true;
	guint32 counsel = tb_lattice_term_end(m, from, TB_TERM_counselword);
	if (counsel > 0 && counsel < to && !alters_any(m, counsel, to))
		return true;
	return is_allowed(m, from, to) || is_measured(m, from, to) || is_expected(m, from, to) || is_announced(m, from, to) || is_declared(m, from, to);
}

guint32 *tb_lattice_find_advice(const tb_lattice_maker *m)
{
	guint32 *ends = tb_arena_take(m->arena, (m->l->count + 1) * sizeof(guint32));
	bool in_bracket;
	for (guint32 i = 0; i < m->l->count; i++) {
		if (!g_ascii_isalpha(tb_lattice_char(m, i)) || !begins_here(m, i, &in_bracket))
			continue;
		guint32 end = find_end(m, i, in_bracket);
		if (end >= i + 2 && end <= i + LONGEST_ADVICE && advises(m, i, end))
			ends[i] = end;
	}
	return ends;
}
