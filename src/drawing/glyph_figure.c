/* Figures in the one pen of the symbols: how many legs there are, where they would stand too close to be counted. */
#include "drawing/glyph_hand.h"

/* In units. */
#define FIGURE_HIGH 0.32
#define FIGURE_APART 0.26

/* Strokes in a box 0.6 wide and 1 high, y downward. */
typedef struct {
	enum { END, MOVE, LINE, CURVE } op;
	tb_point p[3];
} stroke;

#define MOST_STROKES 8

static const stroke figures[10][MOST_STROKES] = {
	{{MOVE, {{0.3, 0}}}, {CURVE, {{0, 0}, {0, 1}, {0.3, 1}}}, {CURVE, {{0.6, 1}, {0.6, 0}, {0.3, 0}}}},
	{{MOVE, {{0.14, 0.2}}}, {LINE, {{0.36, 0}}}, {LINE, {{0.36, 1}}}},
	{{MOVE, {{0.06, 0.24}}}, {CURVE, {{0.08, -0.08}, {0.54, -0.08}, {0.54, 0.26}}},
		{CURVE, {{0.54, 0.5}, {0.2, 0.7}, {0.05, 1}}}, {LINE, {{0.56, 1}}}},
	{{MOVE, {{0.07, 0.1}}}, {CURVE, {{0.25, -0.06}, {0.52, -0.02}, {0.5, 0.24}}},
		{CURVE, {{0.49, 0.42}, {0.32, 0.46}, {0.22, 0.46}}}, {CURVE, {{0.42, 0.46}, {0.56, 0.56}, {0.55, 0.74}}},
		{CURVE, {{0.54, 1.04}, {0.18, 1.06}, {0.05, 0.88}}}},
	{{MOVE, {{0.42, 1}}}, {LINE, {{0.42, 0}}}, {LINE, {{0.03, 0.68}}}, {LINE, {{0.58, 0.68}}}},
	{{MOVE, {{0.5, 0}}}, {LINE, {{0.14, 0}}}, {LINE, {{0.1, 0.44}}}, {CURVE, {{0.3, 0.3}, {0.56, 0.42}, {0.55, 0.7}}},
		{CURVE, {{0.54, 1.04}, {0.2, 1.06}, {0.05, 0.88}}}},
	{{MOVE, {{0.48, 0.06}}}, {CURVE, {{0.2, -0.04}, {0.06, 0.36}, {0.06, 0.68}}},
		{CURVE, {{0.06, 1.1}, {0.55, 1.1}, {0.55, 0.68}}}, {CURVE, {{0.55, 0.3}, {0.12, 0.32}, {0.06, 0.66}}}},
	{{MOVE, {{0.05, 0}}}, {LINE, {{0.55, 0}}}, {LINE, {{0.22, 1}}}},
	{{MOVE, {{0.3, 0.46}}}, {CURVE, {{0, 0.46}, {0, 0}, {0.3, 0}}}, {CURVE, {{0.6, 0}, {0.6, 0.46}, {0.3, 0.46}}},
		{CURVE, {{-0.04, 0.46}, {-0.04, 1}, {0.3, 1}}}, {CURVE, {{0.64, 1}, {0.64, 0.46}, {0.3, 0.46}}}},
	{{MOVE, {{0.12, 0.94}}}, {CURVE, {{0.4, 1.04}, {0.54, 0.64}, {0.54, 0.32}}},
		{CURVE, {{0.54, -0.1}, {0.05, -0.1}, {0.05, 0.32}}}, {CURVE, {{0.05, 0.7}, {0.48, 0.68}, {0.54, 0.34}}}},
};

static void add_figure(tb_path *path, tb_point corner, double size, const stroke *strokes)
{
	for (unsigned i = 0; i < MOST_STROKES && strokes[i].op != END; i++) {
		tb_point q[3];
		for (unsigned k = 0; k < 3; k++)
			q[k] = (tb_point){corner.x + strokes[i].p[k].x * size, corner.y + strokes[i].p[k].y * size};
		if (strokes[i].op == MOVE)
			tb_path_move(path, q[0].x, q[0].y);
		else if (strokes[i].op == LINE)
			tb_path_line(path, q[0].x, q[0].y);
		else
			tb_path_curve(path, q[0].x, q[0].y, q[1].x, q[1].y, q[2].x, q[2].y);
	}
}

void tb_hand_figure(tb_hand *hand, tb_point at, unsigned n)
{
	double size = FIGURE_HIGH * hand->unit, apart = FIGURE_APART * hand->unit;
	tb_path *path = tb_hand_part(hand, TB_PART_BODY, false);
	double wide = 0.6 * size + (n > 9 ? apart : 0);
	tb_point corner = {at.x - wide / 2, at.y - size / 2};
	if (n > 9) {
		add_figure(path, corner, size, figures[n / 10 % 10]);
		corner.x += apart;
	}
	add_figure(path, corner, size, figures[n % 10]);
}
