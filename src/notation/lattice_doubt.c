/*
 * Words that nobody knows and that seem to tell of no work: "pushing the bumps to the right side", "edges
 * curling a little". They are left out where nothing else reads the row and the row's own count comes out
 * without them, and that is told. What might be work is never among them: a number, a place to work into, a
 * stitch that is not spoken of as one already there, a verb in the imperative. Nor is such a thing in a whole
 * sentence that is left out; behind one on a line of its own it is the row after it that must come out.
 */
#include "notation/lattice_maker.h"

/* So many words are left out at once at the most. */
#define MOST_DOUBTED 14u

/* A word that nobody knows. */
static bool is_strange(const tb_lattice_maker *m, guint32 i)
{
	for (guint32 e = m->first_edge[i]; e < m->first_edge[i + 1]; e++) {
		if (m->edges[e].term != TB_TERM_CLASS_name && m->edges[e].term != TB_TERM_CLASS_any &&
			m->edges[e].term != TB_TERM_CLASS_token)
			return false;
	}
	return true;
}

/* "pushing", "wobbling": something is done beside the work; the verbs of the work itself are known. */
static bool is_beside(const tb_lattice_maker *m, guint32 i)
{
	size_t length;
	const char *word = tb_lattice_word(m, i, &length);
	return length > 4 && memcmp(word + length - 3, "ing", 3) == 0 &&
		(is_strange(m, i) || tb_lattice_term_end(m, i, TB_TERM_push) > 0);
}

/* "it is", "you": something is said, and nobody told to do it. */
static bool says(const tb_lattice_maker *m, guint32 i)
{
	static const char *const subjects[] = {"it", "it's", "it’s", "they", "you", "you're", "you’re", "you'll",
		"you’ll", "we", "i", "is", "are", "will", "looks", "look", "seems", "should", "may", "might", NULL};
	return tb_lattice_is_among(m, i, subjects);
}

/* "the dc", "these spaces", "your work": what is spoken of, and not worked. */
static bool is_spoken_of(const tb_lattice_maker *m, guint32 i)
{
	static const char *const these[] = {"the", "these", "those", "your", "all", NULL};
	return i > 0 && tb_lattice_is_among(m, i - 1, these) &&
		(tb_lattice_term_end(m, i, TB_TERM_CLASS_stitchname) > 0 || tb_lattice_term_end(m, i, TB_TERM_loop) > 0 ||
		tb_lattice_is_word(m, i, "work"));
}

bool tb_lattice_is_there(const tb_lattice_maker *m, guint32 i)
{
	static const char *const each[] = {"each", "every", NULL};
	return is_spoken_of(m, i) || (i > 0 && tb_lattice_is_among(m, i - 1, each) &&
		tb_lattice_term_end(m, i, TB_TERM_CLASS_stitchname) > 0);
}

/* Whether word I may change what is worked, or where. */
static bool matters(const tb_lattice_maker *m, guint32 i, bool beside)
{
	static const guint16 places[] = {TB_TERM_ch, TB_TERM_sp, TB_TERM_loop, TB_TERM_ring, TB_TERM_below,
		TB_TERM_behind, TB_TERM_both, TB_TERM_foundation, TB_TERM_marked, TB_TERM_marker, TB_TERM_center};
	static const char *const where[] = {"front", "back", "before", "after", "under", "over", "never", "not",
		"no", "strand", "strands", "bar", "bars", "ridge", "ridges", "leg", "legs", "bump", "vein", "instead", NULL};
	static const char *const of_them[] = {"each", "every", "same", "other", NULL};
	if (tb_lattice_reads_any(m, i, places, G_N_ELEMENTS(places)) || tb_lattice_is_among(m, i, where))
		return true;
	if (beside && (tb_lattice_is_there(m, i) || tb_lattice_is_among(m, i, of_them)))
		return false;
	return tb_lattice_tells_work(m, i);
}

/* Whether the words from FROM to TO may be left out. */
static bool is_doubtful(const tb_lattice_maker *m, guint32 from, guint32 to, bool bracket)
{
	bool beside = is_beside(m, from), said = bracket || tb_lattice_char(m, to) == '!';
	if (to <= from || to - from > MOST_DOUBTED)
		return false;
	for (guint32 i = from; i < to; i++) {
		said = said || says(m, i) || (i < from + 3 && is_beside(m, i));
		if (matters(m, i, beside))
			return false;
	}
	return beside || said;
}

static bool begins_clause(const tb_lattice_maker *m, guint32 i)
{
	return i == 0 || tb_is_among(tb_lattice_char(m, i - 1), ",;:.!");
}

/* "… in each st across nudging it upright": behind what a stitch is worked into. */
static bool is_behind_place(const tb_lattice_maker *m, guint32 i)
{
	static const guint16 places[] = {TB_TERM_st, TB_TERM_sp, TB_TERM_ch, TB_TERM_tch, TB_TERM_across, TB_TERM_around,
		TB_TERM_end};
	bool place = false;
	for (size_t k = 0; k < G_N_ELEMENTS(places); k++)
		place = place || tb_lattice_term_end(m, i - 1, places[k]) == i;
	return place;
}

static bool is_in_bracket(const tb_lattice_maker *m, guint32 i)
{
	return i > 0 && tb_is_among(tb_lattice_char(m, i - 1), "([") && m->pairs[i - 1] > i;
}

guint32 tb_lattice_clause_end(const tb_lattice_maker *m, guint32 i)
{
	while (!tb_lattice_ends_clause(m, i))
		i++;
	return i;
}

/* Where the sentence ends that word I begins; I where it begins none, or asks something. */
static guint32 find_sentence_end(const tb_lattice_maker *m, guint32 i)
{
	guint32 end = i;
	if (i > 0 && !tb_is_among(tb_lattice_char(m, i - 1), ".!?)]:"))
		return i;
	while (end < m->l->count && !tb_is_among(tb_lattice_char(m, end), ".!?;"))
		end++;
	return tb_lattice_char(m, end) == '?' ? i : end;
}

/* Whether word I may tell of stitches, of where they go, of how many rows there are, or of a yarn. */
static bool may_be_worked(const tb_lattice_maker *m, guint32 i)
{
	static const guint16 working[] = {TB_TERM_CLASS_int, TB_TERM_CLASS_frac, TB_TERM_CLASS_ord, TB_TERM_CLASS_star,
		TB_TERM_CLASS_fp, TB_TERM_CLASS_sizeword, TB_TERM_CLASS_colour, TB_TERM_rep, TB_TERM_skip, TB_TERM_leave,
		TB_TERM_unworked, TB_TERM_rem, TB_TERM_tch, TB_TERM_blo, TB_TERM_flo, TB_TERM_thirdx2Dloop, TB_TERM_post,
		TB_TERM_tog, TB_TERM_counts, TB_TERM_join, TB_TERM_fasten, TB_TERM_turn, TB_TERM_loop, TB_TERM_ring,
		TB_TERM_below, TB_TERM_foundation, TB_TERM_marker, TB_TERM_marked, TB_TERM_loud};
	static const char *const words[] = {"work", "works", "worked", "working", "make", "making", "do", "crochet",
		"chain", "carry", "keep", "go", "next", "another", "both", "not", "never", "no", "none", "without", "first", "last",
		"front", "back", "behind", "strand", "bar", "ridge", "leg", "bump", "pick", "cut", "change", "switch", "yarn",
		"colour", "color", "inside", "wrong", "ws", "rs", "opposite", NULL};
	/* they are loud beside stitches only */
	static const char *const quiet[] = {"through", "thru", "open", "close", "closed", "short", "pattern", NULL};
	if (tb_lattice_is_among(m, i, quiet))
		return false;
	bool may = tb_lattice_is_among(m, i, words) || tb_lattice_term_end(m, i, TB_TERM_CLASS_stitchname) > 0 ||
		tb_lattice_reads_any(m, i, working, G_N_ELEMENTS(working));
	return may && !is_spoken_of(m, i);
}

/* "Everything is joined on one row.", "It's a lot, so pop in a marker": something is told, and nobody told to do it. */
static bool is_talk(const tb_lattice_maker *m, guint32 from, guint32 to)
{
	static const char *const subjects[] = {"it", "it's", "it’s", "everything", "here", "here's", "here’s", "there", "this",
		"that", "that's", "that’s", "they", "i", "i've", "i’ve", "i'm", "i’m", "these", NULL};
	static const char *const verbs[] = {"is", "are", "was", "be", "will", "comes", "goes", "looks", "gets", "makes", "may",
		"should", "have", "has", "had", "like", "love", "always", "know", NULL};
	bool spoken = tb_lattice_is_among(m, from, subjects);
	size_t length;
	const char *word = tb_lattice_word(m, from, &length);
	/* "it's" has its verb in it */
	bool verb = memchr(word, '\'', length) != NULL || memchr(word, '\xe2', length) != NULL;
	for (guint32 i = from + 1; i < to && i < from + 6; i++)
		verb = verb || tb_lattice_is_among(m, i, verbs);
	return spoken && verb;
}

/* Of talk, whether word I may tell of stitches all the same: their names, figures, what is left or skipped. */
static bool talks_of_work(const tb_lattice_maker *m, guint32 i)
{
	static const guint16 working[] = {TB_TERM_CLASS_star, TB_TERM_CLASS_fp, TB_TERM_CLASS_sizeword, TB_TERM_rep, TB_TERM_skip,
		TB_TERM_leave, TB_TERM_unworked, TB_TERM_tch, TB_TERM_blo, TB_TERM_flo, TB_TERM_post, TB_TERM_tog, TB_TERM_counts,
		TB_TERM_fasten, TB_TERM_turn};
	static const char *const words[] = {"work", "works", "worked", "working", "crochet", "chain", "instead", "count", NULL};
	/* "pop a marker in": no popcorn */
	if (tb_lattice_is_word(m, i, "pop") && i + 1 < m->l->count && tb_lattice_is_word(m, i + 1, "a"))
		return false;
	return g_ascii_isdigit(tb_lattice_char(m, i)) || tb_lattice_is_among(m, i, words) ||
		tb_lattice_term_end(m, i, TB_TERM_CLASS_stitchname) > 0 ||
		tb_lattice_reads_any(m, i, working, G_N_ELEMENTS(working));
}

/* "Now start shaping for the flap": a whole sentence that gives no stitch, number or place to work into. */
static bool is_told_beside(const tb_lattice_maker *m, guint32 from, guint32 to)
{
	if (to < from + 3 || to - from > MOST_DOUBTED || !g_ascii_isalpha(tb_lattice_char(m, from)))
		return false;
	bool talk = is_talk(m, from, to);
	for (guint32 i = from; i < to; i++) {
		if (talk ? talks_of_work(m, i) : may_be_worked(m, i))
			return false;
	}
	return true;
}

guint32 *tb_lattice_find_doubts(const tb_lattice_maker *m, bool all)
{
	guint32 *ends = tb_arena_take(m->arena, (m->l->count + 1) * sizeof(guint32));
	for (guint32 i = 0; i < m->l->count; i++) {
		bool bracket = is_in_bracket(m, i);
		guint32 sentence = all ? find_sentence_end(m, i) : i;
		if (is_told_beside(m, i, sentence)) {
			ends[i] = sentence;
			continue;
		}
		if (!bracket && !(all && (begins_clause(m, i) || (is_beside(m, i) && is_behind_place(m, i)))))
			continue;
		guint32 end = bracket ? m->pairs[i - 1] : tb_lattice_clause_end(m, i);
		if (is_doubtful(m, i, end, bracket))
			ends[i] = end;
	}
	return ends;
}
