/*
 * How far rows go on, in words that count nothing: "until it covers your lap", "to fit round the jar", "until it
 * is twice as long as wide"; and from where a length is measured: "9 inches from the row of holes".
 */
#include "notation/lattice_maker.h"

/* So many words tell it at the most. */
#define MOST_AIMED 14u

/* "until it measures 50 inches or …": where word I stands in the same clause. */
static bool is_behind_until(const tb_lattice_maker *m, guint32 i)
{
	static const char *const until[] = {"until", "till", "til", NULL};
	for (guint32 k = i; k-- > 0 && i - k <= MOST_AIMED && !tb_is_among(tb_lattice_char(m, k), ".;:!?");) {
		if (tb_lattice_is_among(m, k, until))
			return true;
	}
	return false;
}

/* Where "or" stands from word FROM on, before TO, and something after it; 0: nowhere. */
static guint32 find_or(const tb_lattice_maker *m, guint32 from, guint32 to)
{
	for (guint32 i = from + 1; i + 1 < to && i <= from + MOST_AIMED; i++) {
		if (tb_lattice_is_word(m, i, "or"))
			return i;
	}
	return 0;
}

/* "you can't face another stitch", "you've had enough of it": how one feels, whatever it is about. */
static bool is_feeling(const tb_lattice_maker *m, guint32 from, guint32 to)
{
	static const guint16 counted[] = {TB_TERM_CLASS_int, TB_TERM_CLASS_frac, TB_TERM_CLASS_sizeword};
	static const char *const cannot[] = {"can't", "can’t", "cannot", "couldn't", "couldn’t", NULL};
	static const char *const bear[] = {"face", "bear", "stand", "stomach", NULL};
	bool feels = from + 3 < to && tb_lattice_is_word(m, from, "you") && tb_lattice_is_among(m, from + 1, cannot) &&
		tb_lattice_is_among(m, from + 2, bear);
	for (guint32 i = from + 3; feels && i < to; i++)
		feels = !tb_lattice_reads_any(m, i, counted, G_N_ELEMENTS(counted));
	return feels;
}

/* "until …", "to the length of …", "to fit …", "as long as …" */
static bool leads_to_aim(const tb_lattice_maker *m, guint32 i)
{
	static const char *const until[] = {"until", "till", "til", NULL};
	static const char *const of[] = {"of", "for", "to", NULL};
	static const char *const extents[] = {"length", "size", "width", "height", "depth", "needed", NULL};
	static const char *const fitting[] = {"fit", "cover", "reach", "suit", NULL};
	if (tb_lattice_is_among(m, i - 1, until) || (tb_lattice_is_word(m, i - 1, "or") && is_behind_until(m, i)))
		return true;
	if (i < 2)
		return false;
	return (tb_lattice_is_among(m, i - 1, of) && tb_lattice_is_among(m, i - 2, extents)) ||
		(tb_lattice_is_among(m, i - 1, fitting) && tb_lattice_is_word(m, i - 2, "to")) ||
		(tb_lattice_is_word(m, i - 1, "as") && tb_lattice_is_word(m, i - 2, "long"));
}

/* "9 inches from …", "31 (36) cm at …": a measure ends before word I, which leads to a place. */
static bool leads_from_measure(const tb_lattice_maker *m, guint32 i)
{
	static const guint16 units[] = {TB_TERM_inch, TB_TERM_cm};
	static const char *const sorts[] = {"long", "deep", "high", "tall", "wide", "across", NULL};
	if (tb_lattice_term_end(m, i, TB_TERM_fromwhere) == 0 || i == 1)
		return false;
	if (i == 0)
		return true;
	guint32 behind = tb_lattice_is_among(m, i - 1, sorts) ? i - 1 : i;
	behind -= behind > 0 && (tb_lattice_closes(tb_lattice_char(m, behind - 1)) || tb_lattice_char(m, behind - 1) == '.');
	return behind > 1 && tb_lattice_reads_any(m, behind - 1, units, G_N_ELEMENTS(units));
}

/* "twice as long as wide", "its length is half the width": lengths of one piece are compared. */
static bool compares(const tb_lattice_maker *m, guint32 from, guint32 to)
{
	static const char *const sorts[] = {"long", "wide", "tall", "deep", "high", "broad", "length", "width", "height",
		"depth", "breadth", NULL};
	unsigned count = 0;
	for (guint32 i = from; i < to; i++)
		count += tb_lattice_is_among(m, i, sorts);
	return count > 1;
}

/* "3 times as long": how often a length goes into another, and no count of what is worked. */
static bool is_ratio(const tb_lattice_maker *m, guint32 i)
{
	static const char *const parts[] = {"twice", "half", "thrice", "same", NULL};
	guint32 end = MAX(tb_lattice_term_end(m, i, TB_TERM_CLASS_int), tb_lattice_term_end(m, i, TB_TERM_CLASS_frac));
	return tb_lattice_is_among(m, i, parts) || tb_lattice_is_word(m, i, "times") ||
		(end > 0 && tb_lattice_term_end(m, end, TB_TERM_times) > 0);
}

/* "it reaches the base of your thumb": as long as somebody's hand or foot, and to no place of the cloth. */
static bool reaches_body(const tb_lattice_maker *m, guint32 i, guint32 to)
{
	static const char *const reaching[] = {"reaches", "reach", NULL};
	static const char *const body[] = {"toe", "toes", "finger", "fingers", "thumb", "thumbs", "wrist", "elbow", "elbows", "knee",
		"knees", "ankle", "ankles", "heel", "heels", "shoulder", "shoulders", "chin", "ear", "ears", "earlobes", "eyebrows", "bone",
		"nape", "waist", "hip", "hips", "knuckle", "knuckles", "armpit", "armpits", "crotch", "calf", "calves", "nose",
		"pinky", "pinkie", "fingertip", "fingertips", "brow", "brows", "thigh", "thighs", "jaw", "bust", "instep", "collarbone", NULL};
	return tb_lattice_is_among(m, i, reaching) && to > i + 1 && tb_lattice_is_among(m, to - 1, body);
}

/* Whether the words from FROM to TO say of what is made how it looks, and nothing that can be counted. */
static bool is_aim(const tb_lattice_maker *m, guint32 from, guint32 to)
{
	static const guint16 counted[] = {TB_TERM_CLASS_int, TB_TERM_CLASS_frac, TB_TERM_CLASS_ord, TB_TERM_CLASS_star,
		TB_TERM_CLASS_stitchname, TB_TERM_CLASS_sizeword, TB_TERM_st, TB_TERM_sp, TB_TERM_ch, TB_TERM_row,
		TB_TERM_skip, TB_TERM_rep, TB_TERM_turn, TB_TERM_join, TB_TERM_worked, TB_TERM_unworked, TB_TERM_increase,
		TB_TERM_decrease, TB_TERM_marker, TB_TERM_marked, TB_TERM_rem};
	static const char *const others[] = {"same", "other", "another", "first", "last", "second", "match", "matches",
		"matching", "each", "every", "all", "both", "half", "twice", "work", "left", "leave", "none", "no", "nothing",
		"few", "fewer", "less", "more", "one", "only", "empty", "used", "end", "reaches", "corner", "center", "centre",
		"middle", "edge", NULL};
	if (to <= from || to - from > MOST_AIMED)
		return false;
	bool compared = compares(m, from, to);
	for (guint32 i = from; i < to; i++) {
		if ((compared && is_ratio(m, i)) || reaches_body(m, i, to))
			continue;
		/* "until work is …" */
		if ((compared && i == from && tb_lattice_is_word(m, i, "work")) || tb_lattice_is_there(m, i))
			continue;
		if (tb_lattice_reads_any(m, i, counted, G_N_ELEMENTS(counted)) || tb_lattice_is_among(m, i, others))
			return false;
	}
	return true;
}

static bool says_aim(const tb_lattice_maker *m, guint32 from, guint32 to)
{
	return is_feeling(m, from, to) || is_aim(m, from, to);
}

/* Whether the words from FROM to TO name a place of the cloth, and neither work nor say when rows end. */
static bool is_place_named(const tb_lattice_maker *m, guint32 from, guint32 to)
{
	static const guint16 working[] = {TB_TERM_CLASS_star, TB_TERM_CLASS_sizeword, TB_TERM_skip, TB_TERM_rep, TB_TERM_turn,
		TB_TERM_join, TB_TERM_fasten, TB_TERM_until, TB_TERM_continue, TB_TERM_leave};
	static const char *const others[] = {"ending", "finishing", "then", "and", "or", "working", "keeping", "but", "with",
		"each", "every", "both", NULL};
	static const char *const the[] = {"the", "your", "this", "of", NULL};
	if (to <= from || to - from > MOST_AIMED)
		return false;
	for (guint32 i = from; i < to; i++) {
		bool named = i > from && (tb_lattice_reads(m, i - 1, TB_TERM_row) || tb_lattice_reads(m, i - 1, TB_TERM_rnd));
		if (tb_lattice_term_end(m, i, TB_TERM_CLASS_int) > 0 && !named)
			return false;
		/* "the cast-off end", "beginning of the work" */
		if (tb_lattice_is_word(m, i, "work") && !(i > from && tb_lattice_is_among(m, i - 1, the)))
			return false;
		if (tb_lattice_is_among(m, i, others) || tb_lattice_begins_work(m, i))
			return false;
		for (size_t k = 0; k < G_N_ELEMENTS(working); k++) {
			bool end = working[k] == TB_TERM_fasten && tb_lattice_is_word(m, i, "end");
			if (!end && tb_lattice_term_end(m, i, working[k]) > 0)
				return false;
		}
	}
	return true;
}

/* A stretch of words with no clause's end before its own. */
typedef struct {
	guint32 from, end;
} clause;

/* Where the clause of word I ends: as KNOWN, if that has the word in it. */
static guint32 end_of_clause(const tb_lattice_maker *m, guint32 i, clause *known)
{
	if (i < known->from || i > known->end)
		*known = (clause){i, tb_lattice_clause_end(m, i)};
	return known->end;
}

guint32 *tb_lattice_find_aims(const tb_lattice_maker *m)
{
	clause here = {1, 0}, there = {1, 0};
	guint32 *ends = tb_arena_take(m->arena, (m->l->count + 1) * sizeof(guint32));
	for (guint32 i = 0; i < m->l->count; i++) {
		guint32 end = i > 0 && leads_to_aim(m, i) ? end_of_clause(m, i, &here) : 0;
		if (end > 0 && !says_aim(m, i, end))
			end = find_or(m, i, end);
		if (end > 0 && says_aim(m, i, end)) {
			ends[i] = end;
			continue;
		}
		if (!leads_from_measure(m, i))
			continue;
		guint32 place = tb_lattice_term_end(m, i, TB_TERM_fromwhere);
		end = end_of_clause(m, place, &there);
		if (is_place_named(m, place, end))
			ends[place] = end;
	}
	return ends;
}
