/* "Complete to match first side": the rules stand in the header. */
#include "rows/other_side.h"

#include "fabric/garment.h"
#include "fabric/rules.h"
#include "hands/row.h"
#include "hands/taken.h"
#include "rows/choose.h"
#include "rows/vary.h"

/* Two sides that stand on one row. */
typedef struct {
	guint32 below;      /* that row, an index */
	guint32 first, end; /* rows of the first side, indices */
	guint32 begun;      /* the first row of the side now worked; 0 where it is yet to begin */
} sides;

static guint32 below_of(const tb_hands *h, guint32 row)
{
	tb_stitches cloth = tb_hands_stitches(h);
	return tb_rule_stands_on(&cloth, row);
}

/* The last row that does not stand on the one before it: with it a second side has begun. 0: none. */
static guint32 find_begun(tb_hands *h)
{
	tb_hands_look(h, h->cloth.made->len);
	for (guint32 row = h->cloth.rows->len; row-- > 2;) {
		if (below_of(h, row) != row - 1)
			return row;
	}
	return 0;
}

/* The row whose stitches are left for the next to join yarn; 0: none. */
static guint32 find_left(const tb_hands *h)
{
	const GArray *rest = h->before.rest[h->before.rest_leftward];
	return rest->len == 0 ? 0 : tb_hands_made(h, g_array_index(rest, guint32, rest->len - 1))->row;
}

/* The first side on row BELOW, worked before row LIMIT. */
static bool find_first(const tb_hands *h, guint32 limit, const char *name, sides *s)
{
	guint32 called = 0, oldest = 0;
	g_autofree char *asked = name != NULL ? g_utf8_strdown(name, -1) : NULL;
	for (guint32 row = s->below + 1; row < limit; row++) {
		if (below_of(h, row) != s->below)
			continue;
		oldest = oldest == 0 ? row : oldest;
		called = called == 0 && tb_garment_is_called(tb_hands_row(h, row)->part, asked) ? row : called;
	}
	s->first = called > 0 ? called : oldest;
	for (s->end = s->first + 1; s->end < limit && below_of(h, s->end) == s->end - 1;)
		s->end++;
	return s->first > 0;
}

static bool find_sides(tb_hands *h, const tb_sentence *sentence, sides *s)
{
	guint32 begun = find_begun(h), left = find_left(h);
	*s = (sides){0};
	if (sentence->begin.count > 0) {
		s->below = left;
		return left > 0 && find_first(h, h->cloth.rows->len, sentence->repeat_part, s);
	}
	s->begun = begun;
	s->below = begun > 0 ? below_of(h, begun) : 0;
	return begun > 0 && find_first(h, begun, sentence->repeat_part, s);
}

/* Whether both sides have as many stitches after DONE rows, which is told where they have not. */
static bool are_alike(tb_hands *h, const tb_sentence *sentence, const sides *s, guint32 done)
{
	const tb_made_row *now = tb_hands_row(h, h->cloth.rows->len - 1);
	if (done > s->end - s->first) {
		tb_hands_tell(h, TB_ERROR, "side-differs", sentence->span, "Write the rows of this side out.",
			"this side has %u rows already, and the first side has %u", done, s->end - s->first);
		return false;
	}
	const tb_made_row *then = tb_hands_row(h, s->first + done - 1);
	if (now->stitches == then->stitches)
		return true;
	tb_hands_tell(h, TB_ERROR, "side-differs", sentence->span, "Check where this side begins, or write its rows out.",
		"this side has %u sts here, and the first side had %u after as many rows", now->stitches, then->stitches);
	return false;
}

static tb_side side_said(const tb_acts *begin)
{
	for (unsigned i = 0; i < begin->count; i++) {
		if (begin->acts[i].kind == TB_ACT_SIDE)
			return begin->acts[i].side;
	}
	return TB_SIDE_UNSAID;
}

/* The words of row LIKE of the first side, for this one; MIRRORED: from its other end. */
static const tb_sentence *words_of(tb_hands *h, guint32 like, bool mirrored, const tb_acts *begin)
{
	const tb_sentence *of = tb_hands_row(h, like)->sentence;
	tb_sentence *words = tb_arena_new(h->working->arena, tb_sentence);
	if (of == NULL)
		return NULL;
	if (begin->count > 0 && !mirrored)
		of = tb_vary_begun(h, of, begin);
	*words = *of;
	words->unmirrored = NULL;
	words->mirror_of = 0;
	words->mirror_row = mirrored ? like : 0;
	words->begin = mirrored ? *begin : (tb_acts){0};
	words->side = begin->count > 0 ? side_said(begin) : TB_SIDE_UNSAID;
	return words;
}

/* Whether the next row goes the way that row LIKE went. */
static bool goes_alike(const tb_hands *h, guint32 like, const tb_acts *begin)
{
	tb_side side = side_said(begin);
	const tb_made_row *then = tb_hands_row(h, like);
	if (begin->count > 0)
		return side == TB_SIDE_UNSAID || side == then->side;
	return tb_hands_row(h, h->cloth.rows->len - 1)->leftward != then->leftward;
}

/* The row of the first side that was worked by the words WORDS; 0: none. */
static guint32 find_worded(const tb_hands *h, const sides *s, const tb_sentence *words)
{
	for (guint32 row = s->first; row < s->end; row++) {
		const tb_sentence *made = tb_hands_row(h, row)->sentence;
		if (made != NULL && made->span.start == words->span.start)
			return row;
	}
	return 0;
}

/* How far the first side is followed: "Short rows 2-4: As left side" names so many rows, from row NEXT on. */
static guint32 end_of(tb_hands *h, const tb_sentence *sentence, const sides *s, guint32 next)
{
	if (sentence->first == 0 && sentence->many.count == 0)
		return s->end;
	guint32 asked = sentence->first > 0 ? tb_row_said(h, sentence) : tb_hands_number(h, &sentence->many, 1);
	if (asked <= s->end - next)
		return next + asked;
	tb_hands_tell(h, TB_ERROR, "side-differs", sentence->span, "Check how many rows there are.",
		"the first side has %u more rows, and %u are named here", s->end - next, asked);
	return next;
}

void tb_other_side_work(tb_hands *h, const tb_sentence *sentence)
{
	sides s;
	h->row = h->cloth.rows->len;
	if (!find_sides(h, sentence, &s)) {
		tb_hands_tell(h, TB_ERROR, "side-unknown", sentence->span, "Write the rows of this side out.",
			"which rows the first side has is not known here");
		return;
	}
	guint32 done = s.begun > 0 ? h->cloth.rows->len - s.begun : 0;
	guint32 next = sentence->repeat_of != NULL ? find_worded(h, &s, sentence->repeat_of) : s.first + done;
	h->row = h->cloth.rows->len - 1;
	if (next == 0) {
		tb_hands_tell(h, TB_ERROR, "side-unknown", sentence->span, "Write the rows of this side out.",
			"the first side has no row of this number");
		return;
	}
	if (done > 0 && !are_alike(h, sentence, &s, next - s.first))
		return;
	guint32 end = end_of(h, sentence, &s, next);
	for (guint32 like = next; like < end && !h->abandoned && !h->working->stopped; like++) {
		tb_acts begin = like == s.first ? sentence->begin : (tb_acts){0};
		const tb_sentence *words = words_of(h, like, goes_alike(h, like, &begin), &begin);
		if (words != NULL && begin.count > 0)
			tb_choose_row(h, words, tb_rows_last(h) + 1, tb_rows_last(h) + 1, true, false);
		else if (words != NULL)
			tb_choose_again(h, words, tb_rows_last(h) + 1, tb_rows_last(h) + 1);
		if (words == NULL || h->now.unjudged) {
			tb_taken_stop(h);
			return;
		}
	}
	tb_labels_open(&h->labels);
}
