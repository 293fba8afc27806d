/*
 * The least that any program does which writes a word into an SVG by Pango and Cairo: what starting
 * costs.
 *
 *     hello FILE
 */
#include <cairo-svg.h>
#include <pango/pangocairo.h>

int main(int argc, char **argv)
{
	if (argc != 2)
		return 2;
	cairo_surface_t *surface = cairo_svg_surface_create(argv[1], 100, 30);
	cairo_t *cr = cairo_create(surface);
	PangoLayout *layout = pango_cairo_create_layout(cr);
	PangoFontDescription *font = pango_font_description_from_string("DejaVu Sans 12");

	pango_layout_set_font_description(layout, font);
	pango_layout_set_text(layout, "Hello", -1);
	pango_cairo_show_layout(cr, layout);
	pango_font_description_free(font);
	g_object_unref(layout);
	cairo_destroy(cr);
	cairo_surface_finish(surface);
	int status = cairo_surface_status(surface) == CAIRO_STATUS_SUCCESS ? 0 : 1;
	cairo_surface_destroy(surface);
	return status;
}
