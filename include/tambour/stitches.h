/*
 * The stitch library: every stitch a pattern may name, its terms, its moves on the hook and the
 * anatomy its symbol is drawn from. Data, read from the JSON files in symbols/, compiled into the
 * library.
 */
#ifndef TAMBOUR_STITCHES_H
#define TAMBOUR_STITCHES_H

#include <tambour/diagnostics.h>

TB_BEGIN_DECLS

/*
 * The stitches there are. One library serves one pattern, which may add stitches of its own, and
 * those that its rows need of a family that has a rule (seven sc together), until it is worked.
 */
typedef struct tb_library tb_library;

/* A stitch of a library. Never changes. */
typedef struct tb_stitch tb_stitch;

/* The library that is built in. Never NULL. Owned; free with tb_library_destroy. */
tb_library *tb_library_create(void);

/* Frees a library and its stitches. NULL is allowed. */
void tb_library_destroy(tb_library *library);

/*
 * Adds the stitches of a JSON text in the format of symbols/ (DEVELOPERS.md tells it). Faults go to
 * DIAGNOSTICS, whose source should be SOURCE; a stitch with a fault is left out, and the others are
 * added all the same. SOURCE is not needed afterwards. False when there was a fault.
 */
bool tb_library_add_json(tb_library *library, const tb_source *source, tb_diagnostics *diagnostics);

/* How many stitches there are. Marks, such as a magic ring, are none. */
unsigned tb_library_count(const tb_library *library);

/* Stitch number NUMBER, from 0, or NULL when there are not so many. Borrowed. */
const tb_stitch *tb_library_get(const tb_library *library, unsigned number);

/*
 * The stitch with a US abbreviation or name, singular or plural, letter case and runs of spaces
 * aside; one that was added later is found before one that is built in. NULL when there is none.
 * Borrowed.
 */
const tb_stitch *tb_library_find(const tb_library *library, const char *abbreviation);

/* The abbreviation in US terms, such as "dc". Never NULL. Borrowed. */
const char *tb_stitch_get_us(const tb_stitch *stitch);

/* The name in US terms, such as "double crochet". Never NULL. Borrowed. */
const char *tb_stitch_get_us_name(const tb_stitch *stitch);

/* The abbreviation in UK terms, such as "tr" for US dc. Never NULL. Borrowed. */
const char *tb_stitch_get_uk(const tb_stitch *stitch);

/* The name in UK terms, such as "treble". Never NULL. Borrowed. */
const char *tb_stitch_get_uk_name(const tb_stitch *stitch);

/* Height in turning chains: sl st 0, sc 1, hdc 2, dc 3, tr 4, dtr 5 (common practice). */
double tb_stitch_get_height(const tb_stitch *stitch);

/*
 * The loops on the hook while the stitch is made, simulated from its moves: *MOST is how many there
 * are at once, *LEFT how many at the end (1 for every stitch that is sound).
 */
void tb_stitch_get_loops(const tb_stitch *stitch, unsigned *most, unsigned *left);

/*
 * How the stitch is made, from its moves: "[yo, insert hook in next st, draw up a loop] twice
 * (5 loops on hook), yo, draw through 5 loops". With UK, in UK words: the yarn goes round the hook.
 * Never NULL. Owned text; free with g_free.
 */
char *tb_stitch_describe(const tb_stitch *stitch, bool uk);

G_DEFINE_AUTOPTR_CLEANUP_FUNC(tb_library, tb_library_destroy)

TB_END_DECLS

#endif
