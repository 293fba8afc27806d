/*
 * Shaping by a plan: rows that are shaped every so often, by one track or several at the same time, and even rows
 * between them.
 */
#include "rows/choose.h"
#include "rows/in_pattern.h"
#include "rows/rows_end.h"

/* A track now worked: the rows it comes to, counted from the last row before. */
typedef struct {
	GArray *rows; /* guint32, ascending */
	guint next;
} course;

/* Whether row AT behind the last one has SIDE. */
static bool has_side(const tb_hands *h, guint32 at, tb_side side)
{
	tb_side last = tb_hands_row(h, h->cloth.rows->len - 1)->side;
	return (at % 2 == 0 ? last : tb_side_other(last)) == side;
}

/* The first row of STAGE behind AT; 0 where that lies behind already. */
static guint32 first_of(const tb_hands *h, const tb_shaped_stage *stage, guint32 at, guint32 every)
{
	if (stage->row > 0) {
		guint32 row = tb_rows_called(h, stage->row), last = tb_rows_last(h);
		return row > last + at ? row - last : 0;
	}
	if (stage->now)
		return at + 1;
	if (stage->side == TB_SIDE_UNSAID || at > 0)
		return at + every;
	return has_side(h, 1, stage->side) ? 1 : 2;
}

/* The row that TRACK says it is shaped like, as an index; 0 for none. */
static guint32 find_like(const tb_hands *h, const tb_shaped_track *track)
{
	for (guint32 i = h->cloth.rows->len; track->like > 0 && i-- > 2;) {
		if (tb_hands_row(h, i)->number == tb_rows_called(h, track->like))
			return i;
	}
	return 0;
}

/* Lays out the rows of TRACK; false where they do not come one behind the other, or are too many. */
static bool lay_out(tb_hands *h, const tb_shaped_track *track, GArray *rows)
{
	guint32 at = 0;
	for (unsigned i = 0; i < track->count; i++) {
		const tb_shaped_stage *stage = &track->stages[i];
		guint32 times = tb_hands_number(h, &stage->times, 1), every = MAX(tb_hands_number(h, &stage->every, 1), 1);
		for (guint32 k = 0; k < times; k++) {
			at = k == 0 ? first_of(h, stage, at, every) : at + every;
			if (at == 0 || at > TB_LIMIT_PIECE_ROWS || rows->len > TB_LIMIT_PIECE_ROWS)
				return false;
			g_array_append_val(rows, at);
			tb_hands_look(h, 1);
		}
	}
	return true;
}

/* By how many stitches TRACK changes a row. */
static gint64 change_of(const tb_hands *h, const tb_shaped_track *track)
{
	const tb_act *act = track->shaped->acts.acts;
	gint64 many = tb_hands_number(h, &act->count, 1) * (act->shaped == TB_SHAPED_ENDS ? 2 : 1);
	return tb_hands_number(h, &act->each, 0) > 0 ? many : -many;
}

/* A row of what the tracks ONE and OTHER, which may be NULL, shape. */
static const tb_sentence *shaped_row(tb_hands *h, const tb_shaped_track *one, const tb_shaped_track *other)
{
	if (other == NULL)
		return one->shaped;
	tb_sentence *row = tb_arena_new(h->working->arena, tb_sentence);
	tb_act *act = tb_arena_new(h->working->arena, tb_act);
	*row = *one->shaped;
	*act = one->shaped->acts.acts[0];
	act->other_end = other->shaped->acts.acts;
	row->acts = (tb_acts){act, 1};
	return row;
}

/* Works the row that tracks ONE and OTHER come to. False where it does not come out, told. */
static bool work_shaped(tb_hands *h, const tb_sentence *sentence, const tb_shaped_track *one, const tb_shaped_track *other)
{
	guint32 next = tb_rows_last(h) + 1, like = find_like(h, one);
	gint64 before = tb_hands_row(h, h->cloth.rows->len - 1)->stitches;
	gint64 wanted = before + change_of(h, one) + (other != NULL ? change_of(h, other) : 0);
	if (one->like > 0 && (like == 0 || other != NULL || tb_hands_row(h, like)->sentence == NULL)) {
		tb_hands_give_up(h, "not-worked", sentence->span, "Write these rows out.", "how this row is shaped is not worked");
		return false;
	}
	if (like > 0) {
		const tb_made_row row = *tb_hands_row(h, like);
		tb_choose_again(h, row.sentence, next, row.written);
	} else {
		tb_choose_again(h, shaped_row(h, one, other), next, next);
	}
	if (h->teller.row_fault || h->abandoned)
		return false;
	if ((gint64)tb_hands_row(h, h->cloth.rows->len - 1)->stitches == wanted)
		return true;
	tb_hands_give_up(h, "not-worked", sentence->span, "Write these rows out.", "the row that this is like is not shaped so");
	return false;
}

static void work_courses(tb_hands *h, const tb_sentence *sentence, course *courses)
{
	for (guint32 at = 1; !h->abandoned && !h->working->stopped; at++) {
		const tb_shaped_track *coming[TB_MOST_TRACKS];
		unsigned count = 0;
		bool more = false;
		for (unsigned i = 0; i < sentence->track_count; i++) {
			course *c = &courses[i];
			more = more || c->next < c->rows->len;
			if (c->next < c->rows->len && g_array_index(c->rows, guint32, c->next) == at) {
				coming[count++] = &sentence->tracks[i];
				c->next++;
			}
		}
		if (!more)
			return;
		if (count > 2) {
			tb_hands_give_up(h, "not-worked", sentence->span, "Write these rows out.", "more than two are shaped in one row");
			return;
		}
		if (count == 0)
			tb_rows_even(h, sentence, 1);
		else if (!work_shaped(h, sentence, coming[0], count > 1 ? coming[1] : NULL))
			return;
		if (h->teller.row_fault)
			return;
	}
}

void tb_rows_tracked(tb_hands *h, const tb_sentence *sentence)
{
	course courses[TB_MOST_TRACKS] = {0};
	bool sound = true;
	for (unsigned i = 0; i < sentence->track_count; i++) {
		courses[i].rows = g_array_new(FALSE, FALSE, sizeof(guint32));
		sound = sound && lay_out(h, &sentence->tracks[i], courses[i].rows);
	}
	if (sound)
		work_courses(h, sentence, courses);
	else
		tb_hands_give_up(h, "not-worked", sentence->span, "Number them behind the rows that are there.",
			"the rows that are shaped here do not follow those before");
	for (unsigned i = 0; i < sentence->track_count; i++)
		g_array_unref(courses[i].rows);
	tb_labels_open(&h->labels);
}
