/*
 * What Cairo's SVG lacks is put in by rewriting its stream: title, description and role for those
 * who cannot see it, groups with titles, and ids that are the picture's own.
 */
#ifndef TB_OUTPUT_SVG_FILTER_H
#define TB_OUTPUT_SVG_FILTER_H

#include <glib.h>
#include <stdbool.h>

/*
 * Where a group begins or ends, svg.c fills a speck with an opacity that no ink has; the filter
 * finds the speck and puts the group's tag in its place.
 */
#define TB_SVG_BEGIN_OPACITY 0.25
#define TB_SVG_END_OPACITY 0.5

typedef struct {
	const char *title;       /* plain text */
	const char *description; /* plain text */
	const char *const *groups; /* plain text: the groups' titles in order of their beginning */
	guint group_count;
} tb_svg_names;

/*
 * Rewrites SVG, LENGTH bytes as Cairo wrote them, and appends the result to OUT. Ids begin with a
 * prefix made from the picture: the same for the same picture, another for every other. False with *error
 * set when the stream is not as expected; OUT is then of no use.
 */
bool tb_svg_filter(const char *svg, gsize length, const tb_svg_names *names, GByteArray *out,
	GError **error);

#endif
