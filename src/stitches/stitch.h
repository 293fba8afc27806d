/*
 * A stitch as the rest of the house sees it. Filled by the library's reader, const after that.
 *
 * The symbol is anatomy, not a picture: drawing/ builds the glyph from legs, bars, head, foot and
 * how the legs meet, so one stitch drawn taller or wider stays the same hand.
 */
#ifndef TB_STITCHES_STITCH_H
#define TB_STITCHES_STITCH_H

#include "stitches/moves.h"
#include "stitches/symbol_path.h"

#include <tambour/stitches.h>

typedef enum {
	TB_POST_NONE,
	TB_POST_FRONT,
	TB_POST_BACK,
} tb_post;

typedef enum {
	TB_FORM_CHAIN, /* an open almond along the work */
	TB_FORM_SLIP, /* a small solid almond */
	TB_FORM_CROSS, /* a short stem crossed by a bow: sc and its kin */
	TB_FORM_STEM, /* a stem a leg, a bar a yarn over, a bow for the head */
	TB_FORM_RING, /* chains in a ring, standing on the stitch: a picot */
	TB_FORM_BULLION, /* one leg wrapped around: a coil */
	TB_FORM_PATH, /* drawn by the designer */
} tb_form;

typedef enum {
	TB_MEET_NOWHERE, /* one leg */
	TB_MEET_TOP, /* legs from several places drawn together under one head */
	TB_MEET_BOTH, /* legs from one place drawn together: a leaf */
	TB_MEET_FOOT, /* legs from one place with their heads side by side: a cup */
} tb_meet;

typedef enum {
	TB_HEAD_BOW, /* the two loops on top of a stitch */
	TB_HEAD_ALMOND, /* heads closed by a loop drawn across them: a popcorn */
	TB_HEAD_WAVE, /* worked backward: a reverse sc */
} tb_head;

typedef enum {
	TB_FOOT_PLAIN,
	TB_FOOT_LOOP, /* a loop drawn through before the rest: extended stitches */
	TB_FOOT_CHAIN, /* on a chain of its own: foundation stitches */
	TB_FOOT_DEEP, /* down into a lower row: a spike */
	TB_FOOT_SLIP, /* a ring closed by a slip stitch */
	TB_FOOT_CROSS, /* a ring closed by a single crochet */
	TB_FOOT_DROP, /* a loop left hanging: a loop stitch */
	TB_FOOT_BEAD, /* a bead on its stem */
} tb_foot;

/* Where a stitch stands in the specimen; the order is that of the sheet. */
typedef enum {
	TB_FAMILY_CHAINS,
	TB_FAMILY_FOUNDATION,
	TB_FAMILY_PLAIN,
	TB_FAMILY_EXTENDED,
	TB_FAMILY_POSTS,
	TB_FAMILY_TOGETHER,
	TB_FAMILY_CLUSTERS,
	TB_FAMILY_PUFFS,
	TB_FAMILY_POPCORNS,
	TB_FAMILY_EDGES,
	TB_FAMILY_OWN, /* a designer's own */
	TB_FAMILY_MARKS, /* no stitches: where yarn begins and ends */
	TB_FAMILY_COUNT,
} tb_family;

struct tb_stitch {
	unsigned number; /* in the library */
	tb_family family;
	char *us, *us_name, *uk, *uk_name;
	double height; /* in turning chains */
	unsigned takes; /* stitches of the row below it stands on: 1, or more for 2 together; 0 for a
	                   picot, which stands on the stitch just made */
	tb_post post;
	tb_form form;
	unsigned legs;
	unsigned bars; /* yarn overs before the hook goes in, one bar each, a leg */
	tb_meet meet;
	tb_head head;
	tb_foot foot;
	unsigned chains; /* of a ring */
	bool linked; /* its bars are loops through those of the stitch before */
	bool by_rule; /* made from another when a pattern needed it (families.c) */
	tb_symbol_path *path; /* of a path */
	tb_moves *moves; /* NULL for a mark */
};

/* How high it is in whole chains. */
static inline unsigned tb_stitch_chains(const tb_stitch *stitch)
{
	return (unsigned)(stitch->height + 0.5);
}

/* Whether it is a cross that stands on something of its own: a loop, a bead. */
static inline bool tb_stitch_is_raised_cross(const tb_stitch *stitch)
{
	return stitch->form == TB_FORM_CROSS &&
		(stitch->foot == TB_FOOT_LOOP || stitch->foot == TB_FOOT_DROP || stitch->foot == TB_FOOT_BEAD);
}

void tb_stitch_destroy(tb_stitch *stitch);

struct tb_library {
	GPtrArray *stitches; /* tb_stitch, owned */
	GHashTable *by_us; /* lower-case abbreviation or full name -> tb_stitch, borrowed */
	GHashTable *by_uk; /* the same in UK terms */
	unsigned built_in; /* stitches below this number came with the program */
	GPtrArray *marks; /* tb_stitch, owned: no stitches, and no row can name them */
};

/*
 * The stitch a term means: an abbreviation, another spelling of it or a full name, letter case and
 * runs of spaces aside, singular or plural, in US terms or, with UK, in UK terms (UK "dc" is US sc).
 * NULL when there is none. Borrowed.
 */
const tb_stitch *tb_library_find_term(const tb_library *library, const char *term, bool uk);

/*
 * What stands for a stitch of a row that was not understood: a mark that is counted among the stitches
 * from the time it is first needed, so that fabric can hold it; no row can name it. NULL when the
 * library is full. Borrowed.
 */
const tb_stitch *tb_library_unread(tb_library *library);

/*
 * Families by rule (families.c): each finds the stitch if the library has it, and makes it if not, as
 * symbols/ would have it; then it is behind the others in the library, and found by its terms. NULL
 * when BASE makes no such stitch, a number is out of range, the designer's own of that name is worked
 * otherwise, or the library is full. Numbers and stitches there were stay what they are. Borrowed.
 * Terms that a designer defined go before: look for the word itself first.
 */

/*
 * N of BASE drawn together, 2 to TB_LIMIT_STITCH_TAKES, each in the next place: "sc7tog". Around posts
 * ("FPdc4tog") it takes one place, as FPdc2tog does, and the row may say a post for each leg.
 */
const tb_stitch *tb_library_together(tb_library *library, const tb_stitch *base, unsigned n);

typedef enum {
	TB_FAMILY_FORM_CLUSTER, /* "7-tr cl" */
	TB_FAMILY_FORM_BOBBLE, /* "6-dc bobble" */
	TB_FAMILY_FORM_POPCORN, /* "6-dc popcorn" */
	TB_FAMILY_FORM_PUFF, /* "6-hdc puff" */
} tb_family_form;

/* N of BASE, a plain stitch, in one place, 2 to TB_LIMIT_STITCH_TAKES. */
const tb_stitch *tb_library_in_one(
	tb_library *library, tb_family_form form, const tb_stitch *base, unsigned n);

/* So many CHAINS, 2 to TB_LIMIT_SYMBOL_CHAINS, closed with a slip stitch: "ch-7 picot". */
const tb_stitch *tb_library_picot(tb_library *library, unsigned chains);

/*
 * BASE around the post: "FPdtr", "BPesc"; of a together, around one post: "FPdc4tog". Its like around
 * the other side of the post is made with it, which a chart as seen may need.
 */
const tb_stitch *tb_library_post(tb_library *library, const tb_stitch *base, tb_post post);

typedef enum {
	TB_VARIANT_EXTENDED, /* "edtr" */
	TB_VARIANT_FOUNDATION, /* "ftr" */
	TB_VARIANT_SPIKE, /* "spike dc" */
	TB_VARIANT_LINKED, /* "ldc": dc and taller */
} tb_variant;

const tb_stitch *tb_library_variant(
	tb_library *library, const tb_stitch *base, tb_variant variant);

/* Mark NAME: "magic ring", "chain ring", "join yarn", "fasten off"; borrowed, or NULL. */
const tb_stitch *tb_library_find_mark(const tb_library *library, const char *name);

/* Whether a bead is drawn up with it: symbols/beads.json. */
bool tb_stitch_has_bead(const tb_stitch *stitch);
/* STITCH with a bead, where the library has such; or STITCH. */
const tb_stitch *tb_library_beaded(const tb_library *library, const tb_stitch *stitch);

#endif
