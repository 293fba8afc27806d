/*
 * Over and under: a part that passes under another stitch's leg is broken there, with a clear gap.
 * The lines themselves are cut (no masks, no paper-coloured strokes), so that they stay real strokes
 * everywhere; what would be left as a crumb is dropped whole.
 */
#ifndef TB_DRAWING_BREAK_H
#define TB_DRAWING_BREAK_H

#include "drawing/glyph.h"

/* Polylines of strokes that pass over: points, each stroke's end marked by a NAN. */
GArray *tb_outline_create(void);
/* Adds the strokes of PARTS, turned by ANGLE around their origin and moved by DX, DY. */
void tb_outline_add(GArray *outline, const GArray *parts, double dx, double dy, double angle);
/* Adds one path. */
void tb_outline_add_path(GArray *outline, const tb_path *path, double dx, double dy, double angle);

/*
 * PARTS (an array of tb_part) less everything nearer than CLEAR to the outline; pieces shorter than
 * CRUMB go too, and pieces between two cuts that are shorter than BRIDGE. Parts that are nowhere near stay as they
 * are, and those of kinds that are not in KINDS (1 << kind). Returns a new array.
 */
GArray *tb_parts_break(const GArray *parts, const GArray *outline, double clear, double crumb, double bridge, unsigned kinds);

/* The same for a single stroke; NULL when nothing is left. Owned. */
tb_path *tb_path_break(const tb_path *path, const GArray *outline, double clear, double crumb);

#endif
