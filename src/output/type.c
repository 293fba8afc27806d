/*
 * Type: the one family of a chart, measured and shown.
 *
 * Every text is laid out at one fixed size, large, with metrics that are not fitted to pixels, and
 * then scaled: a text is as wide in print, in a picture and in layout's reckoning, to a thousandth.
 */
#include "output/paint.h"

#include <fontconfig/fontconfig.h>
#include <pango/pangocairo.h>

/* The size everything is laid out at. Pango counts in 1/1024 of it. */
#define LAID_OUT 100.0

struct tb_type {
	PangoFontMap *fonts;
	PangoContext *context;
	PangoFontDescription *regular, *bold;
	PangoAttrList *plain; /* no ligatures: readers of tagged text lose what comes after "fi" */
	unsigned unknown;
};

/* Without any font Pango goes on and draws boxes; the only place to ask is Fontconfig. */
static bool has_fonts(void)
{
	FcFontSet *system = FcConfigGetFonts(NULL, FcSetSystem);
	FcFontSet *application = FcConfigGetFonts(NULL, FcSetApplication);
	return (system != NULL && system->nfont > 0) ||
		(application != NULL && application->nfont > 0);
}

static PangoFontDescription *describe(PangoWeight weight)
{
	PangoFontDescription *font = pango_font_description_new();
	pango_font_description_set_family_static(font, "DejaVu Sans,sans");
	pango_font_description_set_weight(font, weight);
	pango_font_description_set_absolute_size(font, LAID_OUT * PANGO_SCALE);
	return font;
}

tb_type *tb_type_create(void)
{
	if (!has_fonts())
		return NULL;

	tb_type *type = g_new0(tb_type, 1);
	type->fonts = pango_cairo_font_map_new();
	type->context = pango_font_map_create_context(type->fonts);
	type->regular = describe(PANGO_WEIGHT_NORMAL);
	type->bold = describe(PANGO_WEIGHT_BOLD);
	type->plain = pango_attr_list_new();
	pango_attr_list_insert(type->plain, pango_attr_font_features_new("liga=0, clig=0"));

	cairo_font_options_t *options = cairo_font_options_create();
	cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
	cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
	cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
	pango_cairo_context_set_font_options(type->context, options);
	cairo_font_options_destroy(options);
	pango_context_set_round_glyph_positions(type->context, FALSE);
	pango_context_set_base_dir(type->context, PANGO_DIRECTION_LTR);
	pango_context_set_language(type->context, pango_language_from_string("en"));
	return type;
}

void tb_type_destroy(tb_type *type)
{
	if (type == NULL)
		return;
	pango_attr_list_unref(type->plain);
	pango_font_description_free(type->regular);
	pango_font_description_free(type->bold);
	g_object_unref(type->context);
	g_object_unref(type->fonts);
	g_free(type);
}

unsigned tb_type_count_unknown(const tb_type *type)
{
	return type->unknown;
}

static PangoLayout *lay_out(tb_type *type, const char *text, bool bold)
{
	g_autofree char *clean = tb_output_clean(text);
	PangoLayout *layout = pango_layout_new(type->context);
	pango_layout_set_single_paragraph_mode(layout, TRUE);
	pango_layout_set_font_description(layout, bold ? type->bold : type->regular);
	pango_layout_set_attributes(layout, type->plain);
	pango_layout_set_text(layout, clean, -1);
	type->unknown += (unsigned)pango_layout_get_unknown_glyphs_count(layout);
	return layout;
}

/* The advance of a text laid out, in units of LAID_OUT. */
static double get_width(PangoLayout *layout)
{
	PangoRectangle logical;
	pango_layout_line_get_extents(pango_layout_get_line_readonly(layout, 0), NULL, &logical);
	return (double)logical.width / PANGO_SCALE;
}

static double measure(void *data, const char *text, double size_mm, bool bold)
{
	PangoLayout *layout = lay_out(data, text, bold);
	double width = get_width(layout) * size_mm / LAID_OUT;
	g_object_unref(layout);
	return width;
}

tb_text_measure tb_type_get_measure(tb_type *type)
{
	return (tb_text_measure){.measure = measure, .data = type};
}

void tb_type_show(tb_type *type, cairo_t *cr, const tb_mark *mark)
{
	static const double PARTS[] = {0, 0.5, 1};
	PangoLayout *layout = lay_out(type, mark->text, mark->weight == TB_WEIGHT_BOLD);

	cairo_save(cr);
	cairo_translate(cr, mark->x, mark->y);
	cairo_scale(cr, mark->size_mm / LAID_OUT, mark->size_mm / LAID_OUT);
	cairo_move_to(cr, -PARTS[mark->align] * get_width(layout), 0);
	pango_cairo_show_layout_line(cr, pango_layout_get_line_readonly(layout, 0));
	cairo_new_path(cr);
	cairo_restore(cr);
	g_object_unref(layout);
}
