/*
 * Words that begin no work: what "sew …", "fold …", "run a ribbon …" may say behind them. A number
 * of stitches, a stitch that is done, a repeat or a turn is never one of them, so that the row's work
 * is not lost in such a sentence.
 */
#include "notation/lattice_maker.h"

#include "stitches/stitch.h"

#include <string.h>

/* So many words at most lie between the beads and the stitches they are strung at. */
#define STRUNG_NEAR 40

bool tb_lattice_reads(const tb_lattice_maker *m, guint32 i, guint16 term)
{
	for (guint32 e = m->first_edge[i]; e < m->first_edge[i + 1]; e++) {
		if (m->edges[e].term == term)
			return true;
	}
	return false;
}

/* Whether a number ends before word I: "8 sl sts", "3 more times". */
static bool is_counted(const tb_lattice_maker *m, guint32 i)
{
	if (i > 1 && tb_lattice_reads(m, i - 1, TB_TERM_more))
		i--;
	for (guint32 from = i - MIN(i, 3); from < i; from++) {
		for (guint32 e = m->first_edge[from]; e < m->first_edge[from + 1]; e++) {
			if (m->edges[e].term == TB_TERM_CLASS_int && m->edges[e].end == i)
				return true;
		}
	}
	return false;
}

/* "in each", "into the next": the stitches of a row. */
static bool is_into(const tb_lattice_maker *m, guint32 i)
{
	static const char *const into[] = {"in", "into", "on", "over", "around", "between", NULL};
	static const char *const the[] = {"the", "each", "every", NULL};
	static const char *const which[] = {"each", "every", "next", "same", "first", "last", "all", NULL};
	if (!tb_lattice_is_among(m, i, into))
		return tb_lattice_is_among(m, i, which);
	return tb_lattice_is_among(m, i + 1, which) || tb_lattice_is_among(m, i + 1 + tb_lattice_is_among(m, i + 1, the), which) ||
		(i + 1 < m->l->count && tb_lattice_reads(m, i + 1, TB_TERM_CLASS_int));
}

/* Whether a verb may stand at word I: it begins a clause. */
static bool begins_clause(const tb_lattice_maker *m, guint32 i)
{
	static const char *const joins[] = {"and", "then", "now", "also", "work", "make", "&", NULL};
	return i == 0 || tb_is_among(tb_lattice_char(m, i - 1), ".,;:!(") || tb_lattice_is_among(m, i - 1, joins);
}

/* A thing that is sewn on may be called as a stitch is: a petal, a shell. */
static bool is_thing(const tb_edge *edge)
{
	if (edge->value->type != TB_VALUE_STITCH)
		return edge->value->type == TB_VALUE_OWN || edge->term == TB_TERM_CLASS_stitchname;
	switch (edge->value->stitch->family) {
	case TB_FAMILY_CLUSTERS:
	case TB_FAMILY_PUFFS:
	case TB_FAMILY_POPCORNS:
	case TB_FAMILY_EDGES:
		return true;
	default:
		return false;
	}
}

/* Whether the stitch of EDGE, at word I, is done, and not only spoken of ("with slip stitch"). */
static bool is_stitched(const tb_lattice_maker *m, guint32 i, const tb_edge *edge)
{
	return is_counted(m, i) || is_into(m, edge->end) ||
		(edge->end < m->l->count && tb_lattice_reads(m, edge->end, TB_TERM_CLASS_int)) ||
		(begins_clause(m, i) && !is_thing(edge));
}

/* "turn right side out", "turn inside out" */
static bool turns_out(const tb_lattice_maker *m, guint32 i)
{
	for (guint32 k = i + 1; k < MIN(i + 6, m->l->count); k++) {
		if (tb_lattice_is_word(m, k, "out") || tb_lattice_is_word(m, k, "over"))
			return true;
	}
	return false;
}

/* Whether a stitch or a chain stands at word I, behind a number. */
static bool counts_stitches(const tb_lattice_maker *m, guint32 i)
{
	return i < m->l->count && (tb_lattice_reads(m, i, TB_TERM_CLASS_stitchname) || tb_lattice_reads(m, i, TB_TERM_ch));
}

/* "3 rows of sc", "2 more rnds hdc", behind the number, which ends at word I. */
static bool counts_rows_of_stitch(const tb_lattice_maker *m, guint32 i)
{
	static const char *const of[] = {"of", "in", NULL};
	i += i < m->l->count && tb_lattice_reads(m, i, TB_TERM_more);
	if (i >= m->l->count || !(tb_lattice_reads(m, i, TB_TERM_row) || tb_lattice_reads(m, i, TB_TERM_rnd)))
		return false;
	i += 1 + tb_lattice_is_among(m, i + 1, of);
	return i < m->l->count && tb_lattice_reads(m, i, TB_TERM_CLASS_stitchname);
}

/* "through the last 6 sts": a thread that closes a piece goes through all that is left of it. */
static bool goes_through_stitches(const tb_lattice_maker *m, guint32 i, guint32 end)
{
	static const char *const between[] = {"the", "these", "those", "last", "final", "remaining", "rem", "all", "top", "tops",
		"front", "back", "loop", "loops", "of", "every", NULL};
	if (end >= m->l->count || !tb_lattice_reads(m, end, TB_TERM_st))
		return false;
	while (i > 0 && tb_lattice_is_among(m, i - 1, between))
		i--;
	return i > 0 && tb_lattice_reads(m, i - 1, TB_TERM_thru);
}

/* "insert hook", "over hook": a stitch is told by its moves. */
static bool moves_hook(const tb_lattice_maker *m, guint32 i)
{
	static const char *const moves[] = {"insert", "over", NULL};
	return tb_lattice_is_among(m, i, moves) && i + 1 < m->l->count && tb_lattice_reads(m, i + 1, TB_TERM_hook);
}

/* Where the number ends that is read at word I; 0 for none. */
static guint32 find_number_end(const tb_lattice_maker *m, guint32 i)
{
	return i < m->l->count ? tb_lattice_term_end(m, i, TB_TERM_CLASS_int) : 0;
}

/*
 * "(20)", "[20 sts]", ". 20 sts": what the row counts. "Sew it on, 5 sts apart" and "(8 mm)" say something else.
 */
bool tb_lattice_claims(const tb_lattice_maker *m, guint32 i)
{
	static const guint16 counted[] = {TB_TERM_st, TB_TERM_CLASS_stitchname, TB_TERM_ch, TB_TERM_sp};
	bool bracket = tb_lattice_opens(tb_lattice_char(m, i));
	bool clause = i > 0 && (tb_is_among(tb_lattice_char(m, i - 1), ".,;:=") || tb_lattice_reads(m, i - 1, TB_TERM_dash));
	guint32 end = bracket ? find_number_end(m, i + 1) : clause ? find_number_end(m, i) : 0;
	if (end == 0)
		return false;
	if (bracket && end < m->l->count && tb_lattice_closes(tb_lattice_char(m, end)))
		return true;
	/* "weave in ends - 15" */
	if (!bracket && tb_lattice_reads(m, i - 1, TB_TERM_dash) && (end == m->l->count || (end + 1 == m->l->count && tb_lattice_is_word(m, end, "."))))
		return true;
	for (size_t k = 0; k < G_N_ELEMENTS(counted) && end < m->l->count; k++) {
		guint32 noun = tb_lattice_term_end(m, end, counted[k]);
		if (noun > 0 && tb_lattice_ends_clause(m, noun))
			return true;
	}
	return false;
}

/* "Fold it up and crochet it down", "by crocheting through both layers" */
static bool crochets(const tb_lattice_maker *m, guint32 i)
{
	static const char *const verbs[] = {"crochet", "crocheting", NULL};
	return i > 0 && tb_lattice_is_among(m, i, verbs) && (begins_clause(m, i) || tb_lattice_is_word(m, i - 1, "by"));
}

bool tb_lattice_strings_beads(const tb_lattice_maker *m, guint32 i)
{
	static const char *const beads[] = {"bead", "beads", "sequin", "sequins", NULL};
	static const char *const each[] = {"each", "every", "per", "next", NULL};
	static const char *const sewn[] = {"sew", "sewn", "embroider", "glue", NULL};
	bool strung = false;
	guint32 from = i - MIN(i, STRUNG_NEAR);
	for (guint32 k = i; tb_lattice_is_among(m, i, each) && k-- > from && !tb_is_among(tb_lattice_char(m, k), ".;:!");) {
		if (tb_lattice_is_among(m, k, sewn))
			return false;
		strung = strung || tb_lattice_is_among(m, k, beads);
	}
	return strung;
}

bool tb_lattice_begins_work(const tb_lattice_maker *m, guint32 i)
{
	if (moves_hook(m, i) || tb_lattice_claims(m, i) || crochets(m, i) || tb_lattice_strings_beads(m, i))
		return true;
	for (guint32 e = m->first_edge[i]; e < m->first_edge[i + 1]; e++) {
		const tb_edge *edge = &m->edges[e];
		switch (edge->term) {
		case TB_TERM_CLASS_stitchname:
			if (is_stitched(m, i, edge))
				return true;
			break;
		case TB_TERM_increase:
		case TB_TERM_decrease:
			if (begins_clause(m, i) || is_counted(m, i) || is_into(m, edge->end))
				return true;
			break;
		case TB_TERM_ch:
			/* "a fringe of chains" */
			if (is_counted(m, i) || (edge->end < m->l->count && tb_lattice_reads(m, edge->end, TB_TERM_CLASS_int)) ||
				(i > 0 && tb_lattice_is_word(m, i - 1, "of")))
				return true;
			break;
		case TB_TERM_CLASS_int:
			/* "by working two together"; two pieces are sewn together */
			if (i > 0 && edge->end < m->l->count && tb_lattice_reads(m, i - 1, TB_TERM_work) && tb_lattice_reads(m, edge->end, TB_TERM_tog))
				return true;
			if (counts_stitches(m, edge->end) || counts_rows_of_stitch(m, edge->end) || goes_through_stitches(m, i, edge->end))
				return true;
			if (is_into(m, edge->end) && !tb_lattice_is_among(m, i, (const char *const[]){"one", NULL}))
				return true;
			break;
		case TB_TERM_turn:
			if (!turns_out(m, i))
				return true;
			break;
		case TB_TERM_skip:
		case TB_TERM_rep:
		case TB_TERM_CLASS_star:
			return true;
		default:
			break;
		}
	}
	return false;
}

/* Whether a word is there behind which such words may come; a few words may be all that is read. */
static bool may_have_prose(const tb_lattice_maker *m)
{
	const guint64 *proses = m->v->grammar->proses[0];
	bool may = m->l->count <= 8;
	for (guint32 e = 0; e < m->edge_count && !may; e++) {
		unsigned term = m->edges[e].term;
		may = (proses[term / 64] >> term % 64 & 1) != 0;
	}
	return may;
}

const bool *tb_lattice_find_work(const tb_lattice_maker *m)
{
	if (!may_have_prose(m))
		return NULL;
	bool *work = tb_arena_take(m->arena, (m->l->count + 1) * sizeof(bool));
	for (guint32 i = 0; i < m->l->count; i++)
		work[i] = tb_lattice_begins_work(m, i);
	return work;
}
