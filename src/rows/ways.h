/*
 * The readings of a row, the cheapest first.
 *
 * A row's ways are stretches of it that are read in several manners; a reading is a path over them. A
 * way at which several readings failed mostly fails in others too: those that have it are put aside, and
 * come up when nothing else is left, so that a row with many small doubts beside its trouble is still
 * read in the manner that comes out.
 */
#ifndef TB_ROWS_WAYS_H
#define TB_ROWS_WAYS_H

#include "notation/tree.h"

/* A way into a row, not all of it. */
typedef struct tb_path tb_path;
struct tb_path {
	const tb_path *before;
	const tb_way *way; /* the last; NULL at the row's beginning */
	guint32 at;
};

typedef struct {
	guint32 cost;          /* of what it has, and the cheapest end there is */
	const tb_path *path;   /* NULL: the cheapest reading as the reader has it */
	unsigned meaning;
	bool is_whole;
	guint32 age;           /* of two that cost the same, the later one is gone on with */
} tb_candidate;

typedef struct {
	const tb_sentence *sentence;
	tb_arena *arena;
	GArray *queue;      /* tb_candidate, a heap: the cheapest first */
	GArray *aside;      /* tb_candidate: they have a way that failed */
	GArray *failed;     /* tb_candidate: up to the way at which it failed */
	guint32 pushed;
	bool late;          /* those put aside are gone through */
	guint32 *to_end;    /* by place: the cheapest cost from there; NULL without ways */
	guint32 *first_way; /* by place: the first way from there; the ways stand in this order */
} tb_ways;

/* Of SENTENCE; what it needs lives in ARENA, the lists until tb_ways_finish. */
void tb_ways_begin(tb_ways *ways, const tb_sentence *sentence, tb_arena *arena);
void tb_ways_finish(tb_ways *ways);
void tb_ways_push(tb_ways *ways, tb_candidate candidate);
/* The next whole reading; false when there is none. */
bool tb_ways_next(tb_ways *ways, tb_candidate *reading);
/* READING failed at byte AT of the source. */
void tb_ways_fail(tb_ways *ways, const tb_candidate *reading, guint32 at);
/* No reading that is left, but for those put aside, costs less. */
guint32 tb_ways_cheapest(const tb_ways *ways);
/* From now on those put aside are among the readings; false where none is. */
bool tb_ways_bring_back(tb_ways *ways);

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(tb_ways, tb_ways_finish)

#endif
