/*
 * drawing/ turns a laid-out chart into marks: what is seen, still without any output.
 *
 * chart_drawing.c walks the layout; for each stitch a glyph is built: glyph.c chooses by the
 * symbol's anatomy which family draws it (glyph_chain.c, glyph_stem.c, glyph_post.c, glyph_cluster.c,
 * glyph_path.c) with the strokes they share (glyph_hand.c, glyph_figure.c). break.c breaks whatever passes under
 * another stitch's leg, and equal results become one shape. palette.c says what colour each ink is.
 * drawing.c holds the result. sample.c draws one stitch by itself for the key, specimen.c all.
 */
#include "drawing/glyph_hand.h"

#include <math.h>

static void clear_part(gpointer part)
{
	tb_path_destroy(((tb_part *)part)->path);
}

GArray *tb_parts_create(void)
{
	GArray *parts = g_array_new(FALSE, TRUE, sizeof(tb_part));
	g_array_set_clear_func(parts, clear_part);
	return parts;
}

static void build_stem(tb_hand *hand)
{
	const tb_glyph_place *place = hand->place;
	bool post = place->stitch->post != TB_POST_NONE && place->foot_count > 0;
	switch (place->stitch->meet) {
	case TB_MEET_BOTH:
		/* Around two posts the legs part, and it is no leaf. */
		if (post && place->foot_count > 1)
			tb_glyph_build_post(hand);
		else if (post)
			tb_glyph_build_post_leaf(hand);
		else
			tb_glyph_build_leaf(hand);
		break;
	case TB_MEET_FOOT:
		tb_glyph_build_cup(hand);
		break;
	case TB_MEET_NOWHERE:
	case TB_MEET_TOP:
		if (post)
			tb_glyph_build_post(hand);
		else if (place->foot_count > 1)
			tb_glyph_build_together(hand);
		else
			tb_glyph_build_stem(hand);
		break;
	}
}

GArray *tb_glyph_build(const tb_glyph_place *place)
{
	tb_hand hand = {.place = place, .parts = tb_parts_create()};
	hand.unit = tb_need_unit(place->column, place->chain);
	switch (place->stitch->form) {
	case TB_FORM_CHAIN:
		tb_glyph_build_chains(&hand);
		break;
	case TB_FORM_SLIP:
		tb_glyph_build_slip(&hand);
		break;
	case TB_FORM_CROSS:
		/* sc drawn together in one place, or around posts */
		if (place->stitch->meet == TB_MEET_BOTH || (place->stitch->post != TB_POST_NONE && place->foot_count > 0))
			build_stem(&hand);
		else
			tb_glyph_build_cross(&hand);
		break;
	case TB_FORM_STEM:
		build_stem(&hand);
		break;
	case TB_FORM_RING:
		tb_glyph_build_ring(&hand);
		break;
	case TB_FORM_BULLION:
		tb_glyph_build_bullion(&hand);
		break;
	case TB_FORM_PATH:
		tb_glyph_build_path(&hand);
		break;
	}
	return hand.parts;
}
