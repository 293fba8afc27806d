/*
 * The moves of a stitch on the hook, and the loops they leave there.
 *
 * Written as the trade says them: "yo, insert, draw up, through 2, through 2" is a double crochet.
 * A yarn over adds a loop; drawing up a loop adds one (its yarn over is part of it); drawing
 * through n includes its own yarn over and makes n loops one. A slip stitch pulls the loop just
 * drawn up straight through, with no yarn over: "pull through n" takes n loops away. Insert changes
 * nothing but says where: insert, insert next, insert around post, insert below (rows down, as a
 * spike), insert backward (against the way the row is worked), insert in bar (of the stitch before,
 * linked), insert first chain (of a picot). "ch n" makes n chains, "close in first" draws the dropped
 * loop through the first stitch of a popcorn: both leave as many loops as they found.
 */
#ifndef TB_STITCHES_MOVES_H
#define TB_STITCHES_MOVES_H

#include <glib.h>
#include <stdbool.h>

typedef enum {
	TB_MOVE_YARN_OVER,    /* "yo": +1 */
	TB_MOVE_INSERT,       /* "insert": in the place the stitch is worked */
	TB_MOVE_INSERT_NEXT,  /* "insert next": in the place after that */
	TB_MOVE_INSERT_POST,  /* "insert around post": around the post of the stitch below */
	TB_MOVE_INSERT_BELOW, /* "insert below": rows down, as far as the text says */
	TB_MOVE_INSERT_BACKWARD,    /* "insert backward": in the place before, as reverse sc goes */
	TB_MOVE_INSERT_BAR,         /* "insert in bar": down through the next bar of the stitch before */
	TB_MOVE_INSERT_FIRST_CHAIN, /* "insert first chain": in the first of the chains just made */
	TB_MOVE_DRAW_UP,      /* "draw up": yarn over and draw up a loop, +1 */
	TB_MOVE_THROUGH,      /* "through n": yarn over and draw through n loops, 1 - n */
	TB_MOVE_PULL_THROUGH, /* "pull through n": the last loop through n others, -n */
	TB_MOVE_CHAIN,        /* "ch n": n chains, 0 */
	TB_MOVE_CLOSE_FIRST,  /* "close in first": the loop, dropped, through the first top, 0 */
} tb_move_kind;

typedef struct {
	tb_move_kind kind;
	unsigned through; /* for TB_MOVE_THROUGH, TB_MOVE_PULL_THROUGH and TB_MOVE_CHAIN */
} tb_move;

typedef struct {
	tb_move *moves;
	unsigned count;
} tb_moves;

/*
 * Reads moves from text, parted by commas. On failure returns NULL and sets *bad (offset of the
 * first byte that is not understood).
 */
tb_moves *tb_moves_read(const char *text, size_t *bad);
void tb_moves_destroy(tb_moves *moves);

/*
 * The loops after each move, beginning with one on the hook, into LOOPS when that is not NULL (one
 * an entry a move). False when a move draws through more loops than are there, *fault its index.
 */
bool tb_moves_simulate(const tb_moves *moves, unsigned *loops, unsigned *most, unsigned *left,
	unsigned *fault);

#endif
