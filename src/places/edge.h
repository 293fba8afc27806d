/*
 * Edges that no row shows: of cloth that stands elsewhere, of the sides of a flat piece. And the corners between
 * these, where a border goes over them.
 */
#ifndef TB_PLACES_EDGE_H
#define TB_PLACES_EDGE_H

#include "hands/hands.h"

/* A flat piece has so many corners, whatever its rows are. */
#define TB_EDGE_CORNERS 4u

/* Whether ACT works along an edge that no row shows; whether ACTS, and what they repeat, have such. */
bool tb_edge_is_along(const tb_act *act);
bool tb_edge_is_among(const tb_acts *acts);
/* Whether SENTENCE, a first row, goes along an edge, or into stitches, of what stands elsewhere. */
bool tb_edge_is_begun_on(const tb_sentence *sentence);
/* Whether ACT, of a first row like that, works stitches of another piece: so many as it says. */
bool tb_edge_is_elsewhere(const tb_hands *h, const tb_act *act);
/* How many stitches WORK makes along the edge that the piece begins on; 0: nobody can say. */
guint32 tb_edge_length(tb_hands *h, const tb_act *work);
/* Whether SENTENCE, the last of its piece, goes along an edge nobody can count; that it is left out is said. */
bool tb_edge_is_left_out(tb_hands *h, const tb_sentence *sentence);

/* Whether the row goes over the sides of flat rows, so that its corners are those of the piece. */
bool tb_edge_is_border(const tb_hands *h);
bool tb_edge_is_corner(const tb_hands *h, const tb_act *act);
/* Whether ACT, "sc in each st to corner", goes to the end of the edge it is on. */
bool tb_edge_ends_at_corner(const tb_hands *h, const tb_act *act);
/* "each corner": so many. */
guint32 tb_edge_corners(const tb_act *act);
/*
 * "…, 8 sc down the side, 3 sc in first ch, sc in next 9 ch, 3 sc in last ch": whether ACT, in a border that
 * has gone along an edge, is worked into the foundation's, one by one.
 */
bool tb_edge_is_foundation_chain(const tb_act *act);

#endif
