/* What acts.c and repeat.c share. */
#ifndef TB_COMPOSE_ACTS_H
#define TB_COMPOSE_ACTS_H

#include "compose/compose.h"

/* The lines that are being said in one text. */
typedef struct {
	tb_composer *c;
	unsigned members;
	const tb_line *lines[TB_MAX_SIZES];
	unsigned size_of[TB_MAX_SIZES];
	unsigned depth;  /* repeats around what is being said */
	bool is_last;    /* it goes to the row's end */
	bool has_open;   /* a repeat to the row's end has been said */
} tb_weave;

/* A stretch of the lines' steps, by member. */
typedef struct {
	guint32 begin[TB_MAX_SIZES], end[TB_MAX_SIZES];
} tb_stretch;

/* A unit that stands `times` times from `at` on. */
typedef struct {
	guint32 length;
	guint32 at[TB_MAX_SIZES];
	int times[TB_MAX_SIZES];
} tb_unit;

/* acts.c: says the stretch; false when the sizes cannot be said together. */
bool tb_weave_stretch(tb_weave *v, const tb_stretch *stretch, GArray *acts);

/* repeat.c: the unit that shortens the stretch most, if there is one. */
bool tb_weave_find_unit(const tb_weave *v, const tb_stretch *stretch, tb_unit *unit);

#endif
