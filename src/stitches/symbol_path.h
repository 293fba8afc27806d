/*
 * A symbol a designer drew herself, as an SVG path (W3C SVG 1.1, 8.3), read once and kept as lines
 * and cubic curves: every quadratic and every arc has become cubic, every coordinate absolute.
 */
#ifndef TB_STITCHES_SYMBOL_PATH_H
#define TB_STITCHES_SYMBOL_PATH_H

#include <glib.h>
#include <stdbool.h>

typedef enum {
	TB_SYMBOL_MOVE,
	TB_SYMBOL_LINE,
	TB_SYMBOL_CURVE,
	TB_SYMBOL_CLOSE,
} tb_symbol_op;

/* x, y is where it ends; x1, y1 and x2, y2 are a curve's controls. */
typedef struct {
	tb_symbol_op op;
	double x1, y1, x2, y2, x, y;
} tb_symbol_segment;

typedef struct {
	tb_symbol_segment *segments;
	unsigned count;
	/* In the path's own units: what stands on the row below, and what the next row works into. */
	double base_x, base_y, top_x, top_y;
	bool filled;
} tb_symbol_path;

/*
 * Reads path data. On failure returns NULL, sets *bad (offset of the first byte that does not fit)
 * and *why, a constant phrase ("a number is missing"). Owned. Base and top are left at 0,0.
 */
tb_symbol_path *tb_symbol_path_read(const char *text, size_t *bad, const char **why);
void tb_symbol_path_destroy(tb_symbol_path *path);

#endif
