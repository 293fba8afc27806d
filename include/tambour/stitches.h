/*
 * The stitch library: every stitch a pattern may name, its terms, its moves on the hook and the
 * anatomy its symbol is drawn from. Data, read from the JSON files in symbols/, compiled into the library.
 */
#ifndef TAMBOUR_STITCHES_H
#define TAMBOUR_STITCHES_H

#include <tambour/diagnostics.h>

G_BEGIN_DECLS

typedef struct tb_library tb_library;
typedef struct tb_stitch tb_stitch;

/* The library that is built in. Owned; free with tb_library_destroy. */
tb_library *tb_library_create(void);
void tb_library_destroy(tb_library *library);

/*
 * Adds the stitches of a JSON text in the format of symbols/; faults go to DIAGNOSTICS, and the
 * stitches without one are added all the same. False when there was a fault.
 */
bool tb_library_add_json(tb_library *library, const tb_source *source, tb_diagnostics *diagnostics);

unsigned tb_library_count(const tb_library *library);
/* The stitch of a number below the count; borrowed, lives as long as the library. */
const tb_stitch *tb_library_get(const tb_library *library, unsigned number);
/* The stitch with a US abbreviation, letter case aside, or NULL. */
const tb_stitch *tb_library_find(const tb_library *library, const char *abbreviation);

/* Abbreviations and names in both terms; borrowed. */
const char *tb_stitch_get_us(const tb_stitch *stitch);
const char *tb_stitch_get_us_name(const tb_stitch *stitch);
const char *tb_stitch_get_uk(const tb_stitch *stitch);
const char *tb_stitch_get_uk_name(const tb_stitch *stitch);

/* Height in turning chains: sl st 0, sc 1, hdc 2, dc 3, tr 4, dtr 5 (common practice). */
double tb_stitch_get_height(const tb_stitch *stitch);

/*
 * The loops on the hook while the stitch is made, simulated from its moves: the most there are at
 * once, and how many are left at the end (1 for every stitch that is sound).
 */
void tb_stitch_get_loops(const tb_stitch *stitch, unsigned *most, unsigned *left);

/*
 * How the stitch is made, from its moves: "[yo, insert hook in next st, draw up a loop] twice
 * (5 loops on hook), yo, draw through 5 loops". With UK the yarn goes round the hook. Owned: g_free.
 */
char *tb_stitch_describe(const tb_stitch *stitch, bool uk);

G_DEFINE_AUTOPTR_CLEANUP_FUNC(tb_library, tb_library_destroy)

G_END_DECLS

#endif
