/* The writer's inside, shared by write.c (sentences), write_acts.c and write_place.c. */
#ifndef TB_WORDS_WRITER_H
#define TB_WORDS_WRITER_H

#include "words/write.h"

typedef struct {
	GString *out;
	const tb_write_options *options;
	bool is_round;
	bool all_around; /* what goes along an edge goes along all of it, in a round that does nothing else */
	bool in_group; /* stitches of a group say no place of their own */
	bool star;     /* the row's one open repeat begins with an asterisk */
	int beginning; /* chains the row begins with, or 0 */
} tb_writer;

/* write.c */
int tb_writer_value(const tb_writer *w, const tb_number *number);
/* Whether NUMBER is VALUE wherever it is written. */
bool tb_writer_is(const tb_writer *w, const tb_number *number, int value);
void tb_writer_number(tb_writer *w, const tb_number *number);
/* "nd" of 2nd */
const char *tb_writer_ordinal_ending(int value);
/* "across", or "around" in a round. */
const char *tb_writer_across(const tb_writer *w);
const char *tb_writer_stitch(const tb_writer *w, const tb_stitch *stitch);
void tb_writer_sizes(tb_writer *w, tb_size_set sizes);

/* write_place.c */
/* "st", "ch-2 sps", "FPdc"; in the plural unless NUMBER is 1. */
void tb_writer_noun(tb_writer *w, const tb_place *place, bool plural);
/* "in next 3 sts", "around st 2 rows below"; AROUND: "around" stands where "in" would. TAKES: how
 * many one stitch stands on. EACH: "each of" is needed to be clear. */
/* "3rd ch of beg ch" */
void tb_writer_nth_chain(tb_writer *w, unsigned nth);
void tb_writer_place(tb_writer *w, const tb_place *place, unsigned takes, bool around, bool each);
/* " to last 3 sts", or " across" where nothing is left. */
void tb_writer_reach(tb_writer *w, const tb_number *left);
/* The same where a kind of place may be named: " to last ch-3 sp". */
void tb_writer_reach_kind(tb_writer *w, const tb_number *left, const tb_place *kind);
/* How far a place with "each" goes: " across", " to last 3 sts", " to next ch-2 sp". */
void tb_writer_end(tb_writer *w, const tb_place *place);

/* write_acts.c */
void tb_writer_acts(tb_writer *w, const tb_acts *acts);

#endif
