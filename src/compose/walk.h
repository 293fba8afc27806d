/*
 * The walk along one row that says it in steps: steps.c (the row), begin.c (how it
 * begins) and place.c (where each stitch goes).
 */
#ifndef TB_COMPOSE_WALK_H
#define TB_COMPOSE_WALK_H

#include "compose/compose.h"
#include "fabric/rules.h"

typedef struct {
	tb_composer *c;
	const tb_fabric *f;
	tb_stitches s; /* those of F */
	const tb_made_row *row, *below;
	guint32 *places;    /* the tops below, in the order they come to the hook */
	guint32 *positions; /* of what was made below, among them; TB_NONE for what has no top */
	guint32 count;
	guint32 added;      /* of the places, chains that this row itself adds at its beginning */
	guint32 turning;    /* the place of the turning chain below, or TB_NONE */
	bool is_foundation, is_ring;
	guint32 due, last;  /* LAST: what was made last in a place, or TB_NONE */
	bool in_space;
	guint32 skipped_from, skipped_count, skipped_next;
	guint32 last_post;
	bool post_strayed;
	GArray *steps, *dues;
	tb_line *line;
} tb_walk;

static inline const tb_made *tb_walk_made(const tb_walk *w, guint32 index)
{
	return &w->f->made[index];
}

static inline guint32 tb_walk_base(const tb_walk *w, guint32 index)
{
	return tb_fabric_base(w->f, tb_walk_made(w, index), 0);
}

static inline guint32 tb_walk_end(const tb_walk *w)
{
	return w->row->first + w->row->count;
}

static inline bool tb_walk_is_chain(const tb_walk *w, guint32 index)
{
	guint8 flags = tb_walk_made(w, index)->flags;
	return (flags & TB_MADE_CHAIN) && !(flags & TB_MADE_TURNING);
}

static inline bool tb_walk_is_chain_place(const tb_walk *w, guint32 place)
{
	return place < w->count && (tb_walk_made(w, w->places[place])->flags & TB_MADE_CHAIN);
}

/* The place a stitch of the row below has, or TB_NONE. */
static inline guint32 tb_walk_position(const tb_walk *w, guint32 index)
{
	if (index < w->below->first || index >= w->below->first + w->below->count || w->is_ring)
		return TB_NONE;
	return w->positions[index - w->below->first];
}

static inline guint8 tb_walk_loops(const tb_made *made)
{
	return made->flags & TB_MADE_FRONT_LOOP ? TB_LOOPS_FRONT
		: made->flags & TB_MADE_BACK_LOOP   ? TB_LOOPS_BACK
		: made->flags & TB_MADE_THIRD_LOOP  ? TB_LOOPS_THIRD
											: TB_LOOPS_BOTH;
}

/* --- steps.c --- */

void tb_walk_push(tb_walk *w, const tb_step *step);
bool tb_walk_same_footing(const tb_walk *w, guint32 a, guint32 b);
/* How many of the same stitch stand side by side in the place of I. */
guint32 tb_walk_count_each(const tb_walk *w, guint32 i);
/* The end of the group from I on: all that stands where ANCHOR does, chains between included. */
guint32 tb_walk_find_group(const tb_walk *w, guint32 i, guint32 anchor);
guint32 tb_walk_add_body(tb_walk *w, guint32 from, guint32 to);

/* --- place.c --- */

/* Says in STEP where I stands and moves on; what is skipped before it is pushed. False: no words. */
bool tb_walk_place(tb_walk *w, guint32 i, unsigned takes, tb_step *step);

/* --- begin.c --- */

/* The turning chain or the corner; *NEXT is behind it. */
bool tb_walk_begin(tb_walk *w, guint32 *next);
/* How many chains at the end of row BELOW were added for the next one to be worked into. */
guint32 tb_walk_count_added(const tb_fabric *f, guint32 below);

#endif
