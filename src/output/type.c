/*
 * Type: the faces of a chart, measured and shown.
 *
 * Every text is laid out at one fixed size, large, with metrics that are not fitted to pixels, and
 * then scaled: a text is as wide in print, in a picture and in layout's reckoning, to a thousandth.
 *
 * To read what Fontconfig knows of a computer's fonts takes longer than to draw a small chart. A program
 * can begin with these faces' own files instead; all other fonts are then asked for when a text has
 * a letter that these lack.
 */
#include "output/paint.h"

#include <fontconfig/fontconfig.h>
#include <pango/pangocairo.h>
#include <pango/pangofc-fontmap.h>
#include <unistd.h>

/* The size everything is laid out at. Pango counts in 1/1024 of it. */
#define LAID_OUT 100.0

#define TB_FACES (TB_FACE_TITLE + 1)

/*
 * A sans with open figures of one width for furniture, a dark book face for titles; both may be embedded in what is sold
 * (SIL Open Font License 1.1). Where they are missing, what comes nearest.
 */
#define SANS "Lato,Open Sans,Carlito,DejaVu Sans,sans"
#define SERIF "Vollkorn,EB Garamond,Charis SIL,DejaVu Serif,serif"
static const struct {
	const char *family;
	PangoWeight weight;
	const char *features; /* no ligatures: readers of tagged text lose what comes after "fi"; figures as high as capitals */
} FACES[TB_FACES] = {
	[TB_FACE_PLAIN] = {SANS, PANGO_WEIGHT_NORMAL, "liga=0, clig=0"},
	[TB_FACE_BOLD] = {SANS, PANGO_WEIGHT_BOLD, "liga=0, clig=0"},
	[TB_FACE_FIGURE] = {SANS, PANGO_WEIGHT_SEMIBOLD, "liga=0, clig=0, tnum=1"},
	[TB_FACE_TITLE] = {SERIF, PANGO_WEIGHT_MEDIUM, "liga=0, clig=0, lnum=1"},
};

struct tb_type {
	PangoContext *context;
	PangoFontDescription *faces[TB_FACES];
	PangoAttrList *features[TB_FACES];
	unsigned unknown;
};

/* What every text is written in as long as it has the letters. */
static const char *const FAMILY_FILES[] = {
	"/usr/share/fonts/truetype/lato/Lato-Regular.ttf",
	"/usr/share/fonts/truetype/lato/Lato-Semibold.ttf",
	"/usr/share/fonts/truetype/lato/Lato-Bold.ttf",
	"/usr/share/fonts/truetype/vollkorn/Vollkorn-Medium.ttf",
	"/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf",
	"/usr/share/fonts/truetype/dejavu/DejaVuSans-Bold.ttf",
};

static bool has_set(FcSetName set)
{
	FcFontSet *fonts = FcConfigGetFonts(NULL, set);
	return fonts != NULL && fonts->nfont > 0;
}

/* Without any font Pango goes on and draws boxes; the only place to ask is Fontconfig. */
static bool has_fonts(void)
{
	return has_set(FcSetSystem) || has_set(FcSetApplication);
}

static PangoFontDescription *describe(tb_face face)
{
	PangoFontDescription *font = pango_font_description_new();
	pango_font_description_set_family_static(font, FACES[face].family);
	pango_font_description_set_weight(font, FACES[face].weight);
	pango_font_description_set_absolute_size(font, LAID_OUT * PANGO_SCALE);
	return font;
}

void tb_type_start_quickly(void)
{
	/* Who says which fonts there are has the last word. */
	if (g_getenv("FONTCONFIG_FILE") != NULL || g_getenv("FONTCONFIG_PATH") != NULL ||
		g_getenv("FONTCONFIG_SYSROOT") != NULL)
		return;
	FcConfig *family = FcConfigCreate();
	bool good = family != NULL;
	for (gsize i = 0; good && i < G_N_ELEMENTS(FAMILY_FILES); i++) {
		const char *file = FAMILY_FILES[i];
		good = access(file, R_OK) == 0 && FcConfigAppFontAddFile(family, (const FcChar8 *)file);
	}
	if (good)
		FcConfigSetCurrent(family);
	if (family != NULL)
		FcConfigDestroy(family);
}

/* After a quick start, all the fonts of this computer; false when they are there already. */
static bool ask_for_all(void)
{
	FcConfig *all = has_set(FcSetSystem) ? NULL : FcInitLoadConfigAndFonts();
	if (all == NULL)
		return false;
	FcConfigSetCurrent(all);
	pango_fc_font_map_set_config(PANGO_FC_FONT_MAP(pango_cairo_font_map_get_default()), all);
	FcConfigDestroy(all);
	return true;
}

tb_type *tb_type_create(void)
{
	if (!has_fonts())
		return NULL;

	tb_type *type = g_new0(tb_type, 1);
	/* The thread's own map keeps the fonts that were found: to look for them costs more than to draw. */
	type->context = pango_font_map_create_context(pango_cairo_font_map_get_default());
	for (int face = 0; face < TB_FACES; face++) {
		type->faces[face] = describe((tb_face)face);
		type->features[face] = pango_attr_list_new();
		pango_attr_list_insert(type->features[face], pango_attr_font_features_new(FACES[face].features));
	}

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
	for (int face = 0; face < TB_FACES; face++) {
		pango_attr_list_unref(type->features[face]);
		pango_font_description_free(type->faces[face]);
	}
	g_object_unref(type->context);
	g_free(type);
}

unsigned tb_type_count_unknown(const tb_type *type)
{
	return type->unknown;
}

static PangoLayout *lay_out_now(tb_type *type, const char *text, tb_face face)
{
	PangoLayout *layout = pango_layout_new(type->context);
	pango_layout_set_single_paragraph_mode(layout, TRUE);
	pango_layout_set_font_description(layout, type->faces[face]);
	pango_layout_set_attributes(layout, type->features[face]);
	pango_layout_set_text(layout, text, -1);
	return layout;
}

static PangoLayout *lay_out(tb_type *type, const char *text, tb_face face)
{
	g_autofree char *clean = tb_output_clean(text);
	PangoLayout *layout = lay_out_now(type, clean, face);
	int unknown = pango_layout_get_unknown_glyphs_count(layout);
	if (unknown > 0 && ask_for_all()) {
		g_object_unref(layout);
		layout = lay_out_now(type, clean, face);
		unknown = pango_layout_get_unknown_glyphs_count(layout);
	}
	type->unknown += (unsigned)unknown;
	return layout;
}

/* The advance of a text laid out, in units of LAID_OUT. */
static double get_width(PangoLayout *layout)
{
	PangoRectangle logical;
	pango_layout_line_get_extents(pango_layout_get_line_readonly(layout, 0), NULL, &logical);
	return (double)logical.width / PANGO_SCALE;
}

static double measure(void *data, const char *text, double size_mm, tb_face face)
{
	PangoLayout *layout = lay_out(data, text, face);
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
	PangoLayout *layout = lay_out(type, mark->text, mark->face);

	cairo_save(cr);
	cairo_translate(cr, mark->x, mark->y);
	cairo_scale(cr, mark->size_mm / LAID_OUT, mark->size_mm / LAID_OUT);
	cairo_move_to(cr, -PARTS[mark->align] * get_width(layout), 0);
	pango_cairo_show_layout_line(cr, pango_layout_get_line_readonly(layout, 0));
	cairo_new_path(cr);
	cairo_restore(cr);
	g_object_unref(layout);
}
