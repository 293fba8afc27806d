/* A designer's own drawing, turned and scaled: base and top stand where the stitch's do. */
#include "drawing/glyph_hand.h"

#include <math.h>

typedef struct {
	double a, b, dx, dy; /* x' = a x - b y + dx, y' = b x + a y + dy */
} turn;

static tb_point map(const turn *t, double x, double y)
{
	return (tb_point){t->a * x - t->b * y + t->dx, t->b * x + t->a * y + t->dy};
}

/* The one turn and scale that takes two places to two others. */
static turn find_turn(const tb_symbol_path *path, tb_point base, tb_point top)
{
	double px = path->top_x - path->base_x, py = path->top_y - path->base_y;
	double qx = top.x - base.x, qy = top.y - base.y, square = px * px + py * py;
	turn t = {.a = (px * qx + py * qy) / square, .b = (px * qy - py * qx) / square};
	t.dx = base.x - (t.a * path->base_x - t.b * path->base_y);
	t.dy = base.y - (t.b * path->base_x + t.a * path->base_y);
	return t;
}

void tb_glyph_build_path(tb_hand *hand)
{
	const tb_glyph_place *place = hand->place;
	const tb_symbol_path *drawn = place->stitch->path;
	tb_point foot = tb_hand_foot(hand, 0);
	if (place->stitch->post == TB_POST_NONE)
		foot.y -= tb_hand_foot_gap(hand);
	turn t = find_turn(drawn, foot, (tb_point){0, tb_hand_top(hand)});
	tb_path *path = tb_hand_part(hand, TB_PART_BODY, drawn->filled);
	for (unsigned i = 0; i < drawn->count; i++) {
		const tb_symbol_segment *s = &drawn->segments[i];
		tb_point to = map(&t, s->x, s->y), one = map(&t, s->x1, s->y1), two = map(&t, s->x2, s->y2);
		switch (s->op) {
		case TB_SYMBOL_MOVE:
			tb_path_move(path, to.x, to.y);
			break;
		case TB_SYMBOL_LINE:
			tb_path_line(path, to.x, to.y);
			break;
		case TB_SYMBOL_CURVE:
			tb_path_curve(path, one.x, one.y, two.x, two.y, to.x, to.y);
			break;
		case TB_SYMBOL_CLOSE:
			tb_path_close(path);
			break;
		}
	}
	if (place->stitch->post == TB_POST_NONE)
		tb_hand_arc(hand, tb_hand_foot(hand, 0));
}
