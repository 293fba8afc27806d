/* What is made of almonds: chains, the slip stitch, rings of chains. */
#include "drawing/glyph_hand.h"

#include <math.h>

/* The part of its share of a run that a chain takes, and what it leaves of it at least, in columns. */
#define CHAIN_IN_SHARE 0.86
#define CHAIN_APART 0.125

/* A turning chain: its chains as long as in a row where there is room, in the middle of what is left. */
static void build_standing(tb_hand *hand)
{
	const tb_glyph_place *place = hand->place;
	double most = ALMOND_LENGTH * hand->unit, each = place->height / place->chains, length = fmin(most, fmax(each - 0.12 * hand->unit, 0.5 * each));
	each = fmin(each, 1.15 * most);
	for (unsigned i = 0; i < place->chains; i++) {
		double middle = place->height / 2 + (place->chains / 2.0 - i - 0.5) * each;
		tb_hand_almond(hand, (tb_point){0, middle - length / 2}, (tb_point){0, middle + length / 2}, false);
	}
}

void tb_glyph_build_chains(tb_hand *hand)
{
	const tb_glyph_place *place = hand->place;
	if (place->chains > 0) {
		build_standing(hand);
		return;
	}
	/* Of a run that is short of room, as long as its share lets it be. */
	double wide = place->width > 0 ? fmin(ALMOND_LENGTH * place->width,
		fmin(CHAIN_IN_SHARE * place->column, fmax(place->column - CHAIN_APART * place->width, 0.5 * place->column))) :
		ALMOND_LENGTH * place->column;
	double y = fmin(place->height * 0.5, 0.25 * place->column);
	tb_hand_almond(hand, (tb_point){-wide / 2, y}, (tb_point){wide / 2, y}, false);
}

void tb_glyph_build_slip(tb_hand *hand)
{
	const tb_glyph_place *place = hand->place;
	double half = SLIP_LENGTH / 2 * hand->unit, y = place->height * 0.5;
	tb_hand_almond(hand, (tb_point){-half, y}, (tb_point){half, y}, true);
	tb_hand_arc(hand, tb_hand_foot(hand, 0));
}

/* What closes a ring of chains: a small solid almond, or a small cross. */
static void add_closing(tb_hand *hand, tb_point at)
{
	double u = hand->unit;
	switch (hand->place->stitch->foot) {
	case TB_FOOT_SLIP:
		tb_hand_almond(hand, (tb_point){at.x - 0.11 * u, at.y}, (tb_point){at.x + 0.11 * u, at.y}, true);
		break;
	case TB_FOOT_CROSS: {
		tb_path *leg = tb_hand_part(hand, TB_PART_LEG, false);
		tb_path_move(leg, at.x, at.y - 0.1 * u);
		tb_path_line(leg, at.x, at.y + 0.1 * u);
		tb_hand_bow(hand, TB_PART_HEAD, (tb_point){at.x, at.y - 0.03 * u}, 0.12 * u, 0.035 * u, 0);
		break;
	}
	case TB_FOOT_PLAIN:
	case TB_FOOT_LOOP:
	case TB_FOOT_CHAIN:
	case TB_FOOT_DEEP:
	case TB_FOOT_DROP:
	case TB_FOOT_BEAD:
		break;
	}
}

/*
 * Chains in a ring, a corner of it down where it is closed. A picot is small and stands on its
 * stitch; a ring that begins a piece fills its place.
 */
void tb_glyph_build_ring(tb_hand *hand)
{
	const tb_glyph_place *place = hand->place;
	const tb_stitch *stitch = place->stitch;
	bool closed = stitch->foot != TB_FOOT_PLAIN;
	unsigned n = MAX(stitch->chains, 3);
	/* Three almonds need a wider ring, or they meet in its middle. */
	double u = hand->unit, side = (n == 3 ? 0.5 : n == 4 ? 0.39 : 0.35) * u;
	double radius = side / (2 * sin(G_PI / n)) + (closed ? 0.03 * u : 0.02 * u);
	tb_point foot = tb_hand_foot(hand, 0);
	double closing = stitch->foot == TB_FOOT_CROSS ? 0.24 * u : 0.13 * u;
	tb_point centre = {foot.x, foot.y - radius - (closed ? closing : 0.05 * u)};
	double half = (n == 3 ? 0.065 : closed ? 0.075 : 0.09) * u;
	if (closed)
		add_closing(
			hand, (tb_point){foot.x, foot.y - (stitch->foot == TB_FOOT_CROSS ? 0.12 : 0.06) * u});
	for (unsigned i = 0; i < n; i++) {
		/* Two chains are a ring of three that is open at the top. */
		if (stitch->chains == 2 && i == 1)
			continue;
		double a = G_PI / 2 + 2 * G_PI * i / n, b = a + 2 * G_PI / n;
		tb_point from = {centre.x + radius * cos(a), centre.y + radius * sin(a)};
		tb_point to = {centre.x + radius * cos(b), centre.y + radius * sin(b)};
		double t = n == 3 ? 0.14 : 0.1; /* a little air at the corners */
		tb_hand_lens(hand, (tb_point){from.x + (to.x - from.x) * t, from.y + (to.y - from.y) * t},
			(tb_point){to.x - (to.x - from.x) * t, to.y - (to.y - from.y) * t}, half, false);
	}
}
