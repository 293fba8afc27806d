/* The specimen sheet: nothing missing, nothing off the paper. */
#include "drawing/drawing.h"
#include "stitches/stitch.h"

#include <criterion/criterion.h>
#include <string.h>
#include <tambour/specimen.h>

/* Letters of one width, so that no font matters. */
static double measure(void *data, const char *text, double size_mm, tb_face face)
{
	return g_utf8_strlen(text, -1) * size_mm * (face != TB_FACE_PLAIN ? 0.6 : 0.55);
}

static tb_drawing *draw(const tb_library *library, bool uk)
{
	const tb_text_measure how = {measure, NULL};
	tb_specimen_options options = {.uk_terms = uk};
	return tb_specimen_draw(library, &options, &how);
}

static bool has_text(const tb_drawing *drawing, const char *text)
{
	for (guint i = 0; i < drawing->marks->len; i++) {
		const tb_mark *mark = &g_array_index(drawing->marks, tb_mark, i);
		if (mark->kind == TB_MARK_TEXT && strcmp(mark->text, text) == 0)
			return true;
	}
	return false;
}

static unsigned count_words(const tb_drawing *drawing, const char *word)
{
	unsigned count = 0;
	for (guint i = 0; i < drawing->marks->len; i++) {
		const tb_mark *mark = &g_array_index(drawing->marks, tb_mark, i);
		count += mark->kind == TB_MARK_SHAPE && mark->word != NULL && strcmp(mark->word, word) == 0;
	}
	return count;
}

Test(specimen, shows_every_stitch_and_mark)
{
	g_autoptr(tb_library) library = tb_library_create();
	for (int uk = 0; uk < 2; uk++) {
		g_autoptr(tb_drawing) drawing = draw(library, uk);
		for (unsigned i = 0; i < tb_library_count(library); i++) {
			const tb_stitch *stitch = tb_library_get(library, i);
			const char *term = uk ? stitch->uk : stitch->us;
			cr_expect(has_text(drawing, term), "%s is not named", term);
			cr_expect_eq(count_words(drawing, term), 1, "%s is drawn %u times", term,
				count_words(drawing, term));
		}
		for (guint i = 0; i < library->marks->len; i++)
			cr_expect(has_text(drawing, ((const tb_stitch *)library->marks->pdata[i])->us));
	}
}

Test(specimen, tells_loops_and_height)
{
	g_autoptr(tb_library) library = tb_library_create();
	g_autoptr(tb_drawing) drawing = draw(library, false);
	/* dc: three loops, three chains; sl st: two loops, no height (common practice) */
	cr_expect(has_text(drawing, "3 loops  ·  3 chains high"));
	cr_expect(has_text(drawing, "2 loops  ·  1 chain high"));
	cr_expect(has_text(drawing, "2 loops"));
}

Test(specimen, everything_is_on_the_paper)
{
	g_autoptr(tb_library) library = tb_library_create();
	g_autoptr(tb_drawing) drawing = draw(library, false);
	for (guint i = 0; i < drawing->marks->len; i++) {
		const tb_mark *mark = &g_array_index(drawing->marks, tb_mark, i);
		double left = 0, top = 0, right = 0, bottom = 0;
		if (mark->kind == TB_MARK_SHAPE) {
			const tb_shape *shape = g_ptr_array_index(drawing->shapes, mark->shape);
			left = mark->x + shape->left;
			right = mark->x + shape->right;
			top = mark->y + shape->top;
			bottom = mark->y + shape->bottom;
		} else if (mark->kind == TB_MARK_LINE) {
			tb_path_bounds(mark->path, &left, &top, &right, &bottom);
		} else if (mark->kind == TB_MARK_TEXT) {
			left = mark->x;
			right = left + measure(NULL, mark->text, mark->size_mm, mark->face);
			top = bottom = mark->y;
		} else {
			continue;
		}
		cr_expect_geq(left, 15, "mark %u", i);
		cr_expect_leq(
			right, drawing->width_mm - 15, "mark %u: %s", i, mark->text != NULL ? mark->text : "");
		cr_expect_geq(top, 15);
		cr_expect_leq(bottom, drawing->height_mm - 15);
	}
}

/* A symbol and the one beside it share no ink: large ones keep to their cells. */
Test(specimen, large_symbols_stand_apart)
{
	g_autoptr(tb_library) library = tb_library_create();
	g_autoptr(tb_drawing) drawing = draw(library, false);
	for (guint i = 0; i < drawing->marks->len; i++) {
		const tb_mark *a = &g_array_index(drawing->marks, tb_mark, i);
		if (a->kind != TB_MARK_SHAPE || a->word == NULL)
			continue;
		const tb_shape *one = g_ptr_array_index(drawing->shapes, a->shape);
		for (guint k = i + 1; k < drawing->marks->len; k++) {
			const tb_mark *b = &g_array_index(drawing->marks, tb_mark, k);
			if (b->kind != TB_MARK_SHAPE || b->word == NULL)
				continue;
			const tb_shape *other = g_ptr_array_index(drawing->shapes, b->shape);
			bool apart =
				a->x + one->right < b->x + other->left || b->x + other->right < a->x + one->left ||
				a->y + one->bottom < b->y + other->top || b->y + other->bottom < a->y + one->top;
			cr_expect(apart, "%s runs into %s", a->word, b->word);
		}
	}
}

Test(specimen, shows_a_designers_own)
{
	g_autoptr(tb_library) library = tb_library_create();
	static const char own[] =
		"[{\"us\": \"leaf st\", \"us_name\": \"leaf stitch\", \"height\": 3, "
		"\"moves\": \"insert, draw up, through 2\", \"symbol\": {\"path\": \"M 0 0 V -30\", "
		"\"base\": [0, 0], \"top\": [0, -30]}}]";
	tb_source *source = tb_source_create("own.json", own, strlen(own));
	tb_diagnostics *faults = tb_diagnostics_create(source);
	cr_assert(tb_library_add_json(library, source, faults));
	g_autoptr(tb_drawing) drawing = draw(library, false);
	cr_expect(has_text(drawing, "leaf st"));
	cr_expect(has_text(drawing, "The designer's own"));
	tb_diagnostics_destroy(faults);
	tb_source_destroy(source);
}
