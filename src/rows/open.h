/*
 * "Make a chain of the length required": a border or an edging is as long as the cloth, and only the rows
 * say what its chain must be a multiple of. The piece is worked on trial with one chain after another; the
 * shortest that shows the pattern and comes out is taken, and that it was taken is said.
 */
#ifndef TB_ROWS_OPEN_H
#define TB_ROWS_OPEN_H

#include "hands/hands.h"

/*
 * The length of the start chain whose length SCRIPT leaves open: the shortest fit to be shown with which
 * every row comes out, or the most rows do. 0 where nothing is left open.
 */
guint32 tb_open_find(const tb_hands *h, const tb_script *script);

#endif
