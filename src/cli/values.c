/* What stands behind an option, read and checked. */
#include "command.h"

#include "support/limits.h"
#include "support/units.h"

#include <stdio.h>
#include <string.h>

#define REFUSE(error, ...) \
	(g_set_error(error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE, __VA_ARGS__), FALSE)

/* One of two words; whether it is the second is kept. */
static const struct {
	const char *option, *first, *second;
	gsize member;
} CHOICES[] = {
	{"--hand", "right", "left", offsetof(tb_options, chart.left_handed)},
	{"--ink", "colour", "grey", offsetof(tb_options, chart.grey)},
	{"--scale", "legible", "fabric", offsetof(tb_options, chart.fabric_scale)},
	{"--terms", "us", "uk", offsetof(tb_options, chart.uk_terms)},
};

gboolean tb_value_choice(const char *option, const char *value, gpointer data, GError **error)
{
	gsize i = 0;
	while (strcmp(CHOICES[i].option, option) != 0)
		i++;
	bool *second = (bool *)((char *)data + CHOICES[i].member);
	*second = g_ascii_strcasecmp(value, CHOICES[i].second) == 0;
	if (*second || g_ascii_strcasecmp(value, CHOICES[i].first) == 0)
		return TRUE;
	return REFUSE(error, "%s is %s or %s, not '%s'", option, CHOICES[i].first, CHOICES[i].second,
		value);
}

gboolean tb_value_view(const char *option, const char *value, gpointer data, GError **error)
{
	tb_options *options = data;
	if (g_ascii_strcasecmp(value, "worked") == 0)
		options->chart.view = TB_VIEW_WORKED;
	else if (g_ascii_strcasecmp(value, "right-side") == 0)
		options->chart.view = TB_VIEW_RIGHT;
	else
		return REFUSE(error, "%s is worked or right-side, not '%s'", option, value);
	return TRUE;
}

gboolean tb_value_rows(const char *option, const char *value, gpointer data, GError **error)
{
	tb_options *options = data;
	char *end = NULL;
	guint64 first = g_ascii_strtoull(value, &end, 10), last = first;
	bool good = end != value && g_ascii_isdigit(value[0]);
	if (good && *end == '-') {
		const char *second = end + 1;
		last = g_ascii_strtoull(second, &end, 10);
		good = end != second && g_ascii_isdigit(*second);
	}
	if (!good || *end != '\0' || first < 1 || last < first || last > G_MAXUINT32 - 1)
		return REFUSE(error, "%s is a row or a range, such as 3-6, not '%s'", option, value);
	options->chart.first_row = (unsigned)first;
	options->chart.last_row = (unsigned)last;
	return TRUE;
}

/* "25mm", "2.5 cm", "1in"; a bare number is mm. */
gboolean tb_value_width(const char *option, const char *value, gpointer data, GError **error)
{
	tb_options *options = data;
	char *end = NULL;
	double number = g_ascii_strtod(value, &end);
	while (*end == ' ')
		end++;
	double unit = *end == '\0' || strcmp(end, "mm") == 0 ? 1 : strcmp(end, "cm") == 0 ? 10 :
		strcmp(end, "in") == 0 ? TB_MM_PER_INCH : 0;
	double mm = number * unit;
	if (end == value || unit == 0 ||
		!(mm >= TB_LIMIT_STITCH_WIDTH_LEAST_MM && mm <= TB_LIMIT_STITCH_WIDTH_MM))
		return REFUSE(error, "%s is a length from 1mm to 400mm, not '%s'", option, value);
	options->chart.stitch_width_mm = mm;
	return TRUE;
}

/* "3x2": sheets across and down. */
gboolean tb_value_sheets(const char *option, const char *value, gpointer data, GError **error)
{
	tb_options *options = data;
	unsigned across, down;
	int end = 0;
	if (sscanf(value, "%2ux%2u%n", &across, &down, &end) != 2 || value[end] != '\0' ||
		across < 1 || down < 1 || across > TB_LIMIT_POSTER_SIDE || down > TB_LIMIT_POSTER_SIDE)
		return REFUSE(error, "%s is sheets across and down, such as 3x2, not '%s'", option, value);
	options->across = across;
	options->down = down;
	return TRUE;
}

gboolean tb_value_paper(const char *option, const char *value, gpointer data, GError **error)
{
	tb_options *options = data;
	bool fit = strcmp(option, "--fit") == 0;
	if (!tb_paper_find(value, fit ? &options->fit_paper : &options->paper))
		return REFUSE(error, "%s is a4, a3, letter or tabloid, not '%s'", option, value);
	*(fit ? &options->has_fit : &options->has_paper) = true;
	return TRUE;
}

/* A first file that the second one took the place of would be missed. */
gboolean tb_value_output(const char *option, const char *value, gpointer data, GError **error)
{
	tb_options *options = data;
	if (options->output != NULL)
		return REFUSE(error, "one run writes one kind of file, and %s is given twice: '%s' and '%s'", option,
			options->output, value);
	options->output = g_strdup(value);
	return TRUE;
}
