/*
 * SVG: every stitch an object of its own. A shape is recorded once an ink and stamped where it
 * stands, so that the file names it once and places it often, and its lines stay lines of one
 * weight. Very large charts, and those whose shapes hardly repeat, are stroked row by row instead,
 * which browsers load several times faster.
 */
#include "output/paint.h"
#include "output/svg_filter.h"

#include <cairo-svg.h>
#include <math.h>

/* Browsers take 10 s over 100,000 stamped shapes and 2 s over the same in row paths (measured): up to
 * 20,000 stitches, with their foundation chain. */
#define MOST_STAMPS 21000

/* Air round a recorded shape: its box is a clip to Cairo, and no ink may touch it. */
#define AIR_MM 0.5

/* The least box that Cairo's coordinates, in 1/256, can tell from none. */
#define SPECK (1.0 / 256)

typedef struct {
	cairo_surface_t *recorded; /* NULL before it is needed */
	double x, y;               /* where the shape's origin stands in it */
} shape_stamp;

typedef struct {
	cairo_t *cr;
	const tb_drawing *drawing;
	tb_type *type;
	shape_stamp *stamps; /* shape * TB_INK_COUNT + ink; NULL when rows are stroked */
} painter;

/* Whether stamping pays: enough repetition, and not too many. */
static bool should_stamp(const tb_drawing *drawing)
{
	gsize marks = 0, distinct = 0;
	g_autofree guint8 *seen = g_new0(guint8, (gsize)drawing->shapes->len * TB_INK_COUNT + 1);

	for (guint i = 0; i < drawing->marks->len; i++) {
		const tb_mark *mark = &g_array_index(drawing->marks, tb_mark, i);
		if (mark->kind != TB_MARK_SHAPE)
			continue;
		guint8 *pair = &seen[(gsize)mark->shape * TB_INK_COUNT + mark->ink];
		distinct += *pair == 0;
		*pair = 1;
		marks++;
	}
	return marks <= MOST_STAMPS && distinct * 2 <= marks;
}

/* The shape in its ink, moved so that the recording begins at 0,0: another origin is cut away. */
static void record(painter *p, const tb_mark *mark, shape_stamp *stamp)
{
	tb_shape box = *(const tb_shape *)g_ptr_array_index(p->drawing->shapes, mark->shape);
	tb_shape_measure(&box, p->drawing->pen_mm);
	stamp->x = AIR_MM - box.left;
	stamp->y = AIR_MM - box.top;

	cairo_rectangle_t extents = {
		.width = ceil(box.right + stamp->x + AIR_MM),
		.height = ceil(box.bottom + stamp->y + AIR_MM),
	};
	stamp->recorded = cairo_recording_surface_create(CAIRO_CONTENT_COLOR_ALPHA, &extents);
	cairo_t *cr = cairo_create(stamp->recorded);
	tb_mark at_origin = {.shape = mark->shape, .x = stamp->x, .y = stamp->y};
	tb_paint_ink(cr, p->drawing, mark->ink);
	tb_paint_shape(cr, p->drawing, &at_origin);
	cairo_destroy(cr);
}

static void place_stamp(painter *p, const tb_mark *mark)
{
	shape_stamp *stamp = &p->stamps[(gsize)mark->shape * TB_INK_COUNT + mark->ink];
	if (stamp->recorded == NULL)
		record(p, mark, stamp);

	cairo_save(p->cr);
	cairo_translate(p->cr, mark->x, mark->y);
	cairo_rotate(p->cr, mark->angle);
	cairo_set_source_surface(p->cr, stamp->recorded, -stamp->x, -stamp->y);
	cairo_paint(p->cr);
	cairo_restore(p->cr);
}

static void place_speck(painter *p, double opacity)
{
	cairo_set_source_rgba(p->cr, 0, 0, 0, opacity);
	cairo_rectangle(p->cr, 0, 0, SPECK, SPECK);
	cairo_fill(p->cr);
}

static void paint_marks(painter *p)
{
	const GArray *marks = p->drawing->marks;

	for (guint i = 0; i < marks->len; i++) {
		const tb_mark *mark = &g_array_index(marks, tb_mark, i);
		switch (mark->kind) {
		case TB_MARK_SHAPE:
			if (p->stamps != NULL) {
				place_stamp(p, mark);
			} else {
				guint end = tb_paint_find_run_end(p->drawing, i);
				tb_paint_run(p->cr, p->drawing, i, end, 0);
				i = end - 1;
			}
			break;
		case TB_MARK_LINE:
			tb_paint_line(p->cr, p->drawing, mark);
			break;
		case TB_MARK_TEXT:
			tb_paint_text(p->cr, p->drawing, mark, p->type);
			break;
		case TB_MARK_GROUP:
			place_speck(p, TB_SVG_BEGIN_OPACITY);
			break;
		case TB_MARK_END:
			place_speck(p, TB_SVG_END_OPACITY);
			break;
		case TB_MARK_CLIP:
		case TB_MARK_UNCLIP:
		case TB_MARK_TAG:
		case TB_MARK_UNTAG:
			break; /* of documents alone, which are not written as SVG */
		}
	}
}

/*
 * Cairo 1.16 forgets to let go of all recordings but one when an SVG ends. Nothing else holds them
 * by then, so whatever count is left over is given back here.
 */
static void destroy_stamps(shape_stamp *stamps, gsize count)
{
	for (gsize i = 0; stamps != NULL && i < count; i++) {
		cairo_surface_t *recorded = stamps[i].recorded;
		while (recorded != NULL && cairo_surface_get_reference_count(recorded) > 1)
			cairo_surface_destroy(recorded);
		cairo_surface_destroy(recorded);
	}
	g_free(stamps);
}

static cairo_status_t paint(const tb_drawing *drawing, tb_type *type, GByteArray *bytes)
{
	cairo_surface_t *surface = cairo_svg_surface_create_for_stream(tb_output_append, bytes,
		drawing->width_mm, drawing->height_mm);
	cairo_svg_surface_set_document_unit(surface, CAIRO_SVG_UNIT_MM);
	painter p = {.cr = cairo_create(surface), .drawing = drawing, .type = type};
	gsize pairs = (gsize)drawing->shapes->len * TB_INK_COUNT;
	if (should_stamp(drawing))
		p.stamps = g_new0(shape_stamp, pairs + 1);

	tb_paint_paper(p.cr, drawing);
	paint_marks(&p);
	cairo_status_t status = cairo_status(p.cr);
	cairo_destroy(p.cr);
	cairo_surface_finish(surface);
	if (status == CAIRO_STATUS_SUCCESS)
		status = cairo_surface_status(surface);
	cairo_surface_destroy(surface);
	destroy_stamps(p.stamps, pairs);
	return status;
}

static bool name_parts(const tb_drawing *drawing, GByteArray *raw, GByteArray *out, GError **error)
{
	g_autoptr(GPtrArray) groups = g_ptr_array_new();

	for (guint i = 0; i < drawing->marks->len; i++) {
		const tb_mark *mark = &g_array_index(drawing->marks, tb_mark, i);
		if (mark->kind == TB_MARK_GROUP)
			g_ptr_array_add(groups, mark->text);
	}
	tb_svg_names names = {
		.title = drawing->title,
		.description = drawing->description,
		.groups = (const char *const *)groups->pdata,
		.group_count = groups->len,
	};
	return tb_svg_filter((const char *)raw->data, raw->len, &names, out, error);
}

static GByteArray *render(const tb_drawing *drawing, const tb_output_options *options,
	GError **error)
{
	tb_type *type = NULL;

	if (!tb_output_validate(drawing, 1, error) || !tb_output_find_type(drawing, &type, error))
		return NULL;
	g_autoptr(GByteArray) raw = g_byte_array_new();
	cairo_status_t status = paint(drawing, type, raw);
	tb_type_destroy(type);
	if (!tb_output_succeeded(status, error))
		return NULL;
	g_autoptr(GByteArray) out = g_byte_array_new();
	if (!name_parts(drawing, raw, out, error))
		return NULL;
	return g_steal_pointer(&out);
}

const tb_output tb_output_svg = {.extension = "svg", .render = render};
