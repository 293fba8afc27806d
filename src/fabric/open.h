/*
 * "Make a chain of the length required": a border or an edging is as long as the cloth, and only the rows
 * say what its chain must be a multiple of. The piece is worked on trial with one chain after another; the
 * shortest that shows the pattern and comes out is taken, and that it was taken is said.
 */
#ifndef TB_FABRIC_OPEN_H
#define TB_FABRIC_OPEN_H

#include "fabric/hands.h"

/*
 * The length of the start chain whose length SCRIPT leaves open: the shortest fit to be shown with which
 * every row comes out, or the most rows do. 0 where nothing is left open.
 */
guint32 tb_open_find(const tb_hands *h, const tb_script *script);
/* That length, of CHAIN, and says so. */
guint32 tb_open_length(tb_hands *h, const tb_act *chain);
/* Whether SENTENCE, a first row, goes along an edge, or into stitches, of what stands elsewhere. */
bool tb_open_is_on_cloth(const tb_sentence *sentence);
/* Whether ACT, of a first row like that, works stitches of another piece: so many as it says. */
bool tb_open_is_elsewhere(const tb_hands *h, const tb_act *act);
/* How many stitches WORK makes along the edge that the piece begins on; 0: nobody can say. */
guint32 tb_open_edge(tb_hands *h, const tb_act *work);
/* Whether SENTENCE, the last of its piece, goes along an edge nobody can count; that it is left out is said. */
bool tb_open_is_last_edge(tb_hands *h, const tb_sentence *sentence);

#endif
