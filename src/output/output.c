/*
 * How output works: a drawing is played from its first mark to its last onto a surface of Cairo,
 * and comes out as bytes in memory; only whole bytes are ever written to a file.
 *
 * Each output is one constant (a tb_output) in a file of its own, and the list below is all that
 * the program knows of them. svg.c places recorded shapes and lets svg_filter.c name and title what
 * Cairo wrote; pdf.c strokes rows and lays their words beneath (words.c); png.c strokes symbol by
 * symbol and packs the pixels itself. They share paint.c (marks to ink) and type.c (fonts).
 * validate.c looks at every number before Cairo does, which trusts them all. write.c brings bytes
 * to a file, whole or not at all.
 */
#include "output/output.h"


G_DEFINE_QUARK(tb-output-error-quark, tb_output_error)

static const tb_output *const OUTPUTS[] = {
	&tb_output_svg,
	&tb_output_pdf,
	&tb_output_png,
};

/* The last second of the year 9999: a PDF has four figures for the year. */
#define LAST_TIME 253402300799

time_t tb_output_time(void)
{
	const char *text = g_getenv("SOURCE_DATE_EPOCH");
	guint64 seconds = 0;

	if (text == NULL || !g_ascii_string_to_unsigned(text, 10, 0, LAST_TIME, &seconds, NULL))
		return 0;
	return (time_t)seconds;
}

static const tb_output *find_output(const char *extension)
{
	for (size_t i = 0; i < G_N_ELEMENTS(OUTPUTS); i++) {
		if (g_ascii_strcasecmp(OUTPUTS[i]->extension, extension) == 0)
			return OUTPUTS[i];
	}
	return NULL;
}

bool tb_output_is_known(const char *extension)
{
	return find_output(extension) != NULL;
}

GByteArray *tb_output_render(const tb_drawing *drawing, const char *extension,
	const tb_output_options *options, GError **error)
{
	const tb_output *output = find_output(extension);
	tb_output_options plain = {0};

	if (output == NULL) {
		g_set_error(error, TB_OUTPUT_ERROR, TB_OUTPUT_FAILED,
			"there is no picture format '%s': use svg, pdf or png", extension);
		return NULL;
	}
	return output->render(drawing, options != NULL ? options : &plain, error);
}
