/* Elliptical arcs of path data as cubic curves (W3C SVG 1.1, appendix F.6). */
#ifndef TB_STITCHES_SYMBOL_ARC_H
#define TB_STITCHES_SYMBOL_ARC_H

#include <stdbool.h>

/* From x1, y1 to x2, y2; the ellipse's axes are turned by TURN degrees. */
typedef struct {
	double x1, y1, rx, ry, turn;
	bool large, sweep;
	double x2, y2;
} tb_symbol_arc;

/*
 * The curves of an arc, each as its two controls and its end. Returns how many, 1 to 4; 0 when the
 * ends are the same point, which draws nothing; -1 when a radius is 0, which is a straight line.
 */
int tb_symbol_arc_curves(const tb_symbol_arc *arc, double curves[4][6]);

#endif
