/*
 * A picture for inside a page. The SVG output draws it; this file rewrites what comes out, tag by
 * tag, into what a page with a strict policy and several pictures needs:
 *
 *   style="…"   a page that forbids all style but its own ignores these: an ink becomes a class, a
 *               pen an attribute, and the page's style says what colour the ink has, light or dark
 *   <defs>      equal shapes of all pictures are one shape, kept apart for the whole page
 *   paper       goes: the page has its own
 *   <g><title>  a row, which the script finds by its number
 *
 * Any tag not known is a failure, never a picture with something missing.
 */
#include "output/page.h"

#include <math.h>
#include <string.h>

struct tb_page_shapes {
	GString *text;
	GHashTable *by_body; /* the shape's paths -> its number */
};

/* The same shape again and again, each as far on from the one before. */
typedef struct {
	guint shape, count;
	double x, y, dx, dy;
} use_run;

typedef struct {
	tb_page_shapes *shapes;
	const tb_drawing *drawing;
	GString *out;
	GHashTable *numbers; /* the picture's id -> number of a shape */
	GString *body;       /* of the shape being read; NULL outside */
	char *id;            /* and its id */
	guint row;           /* groups met */
	bool in_group;
	bool has_paper;
	bool terse;
	use_run run; /* not yet written */
} rewriting;

tb_page_shapes *tb_page_shapes_create(void)
{
	tb_page_shapes *shapes = g_new0(tb_page_shapes, 1);
	shapes->text = g_string_new(NULL);
	shapes->by_body = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);
	return shapes;
}

void tb_page_shapes_destroy(tb_page_shapes *shapes)
{
	if (shapes == NULL)
		return;
	g_string_free(shapes->text, TRUE);
	g_hash_table_unref(shapes->by_body);
	g_free(shapes);
}

const char *tb_page_shapes_get(const tb_page_shapes *shapes)
{
	return shapes->text->str;
}

const char *tb_page_ink(tb_ink ink)
{
	static const char *const classes[TB_INK_COUNT] = {"ink-a", "ink-b", "ink-below", "ink-extra",
		"ink-text", "ink-quiet", "ink-tint", "ink-tint", "ink-tint"};
	return classes[ink];
}

/* The value of ` NAME="…"`, or of `NAME:…;` inside a style, owned; NULL when it is not there. */
static char *get_value(const char *tag, const char *before, char end)
{
	const char *at = strstr(tag, before);
	if (at == NULL)
		return NULL;
	at += strlen(before);
	const char *stop = strchr(at, end);
	return stop != NULL ? g_strndup(at, (gsize)(stop - at)) : NULL;
}

/* The ink nearest to a colour as Cairo writes it. */
static tb_ink find_ink(const tb_drawing *drawing, const char *colour)
{
	double c[3] = {0};
	const char *at = colour;
	for (int i = 0; i < 3; i++) {
		char *end;
		c[i] = g_ascii_strtod(at, &end) / 100;
		at = *end == '%' && end[1] == ',' ? end + 2 : end;
	}
	tb_ink best = TB_INK_ROW_A;
	double least = INFINITY;
	for (int i = 0; i < TB_INK_COUNT; i++) {
		const tb_colour *ink = &drawing->palette.inks[i];
		double away = fabs(ink->red - c[0]) + fabs(ink->green - c[1]) + fabs(ink->blue - c[2]);
		if (away < least - 1e-6) {
			least = away;
			best = (tb_ink)i;
		}
	}
	return best;
}

static bool is_white(const char *colour)
{
	return colour != NULL && strcmp(colour, "100%,100%,100%") == 0;
}

static void rewrite_path(rewriting *r, const char *tag)
{
	g_autofree char *fill = get_value(tag, "fill:rgb(", ')');
	g_autofree char *stroke = get_value(tag, "stroke:rgb(", ')');
	g_autofree char *width = get_value(tag, "stroke-width:", ';');
	g_autofree char *dashes = get_value(tag, "stroke-dasharray:", ';');
	g_autofree char *data = get_value(tag, " d=\"", '"');
	const char *colour = stroke != NULL ? stroke : fill;
	if (!r->has_paper && is_white(fill) && r->body == NULL) {
		r->has_paper = true;
		return;
	}
	if (data == NULL || colour == NULL)
		return;
	GString *out = r->body != NULL ? r->body : r->out;
	g_string_append(out, "<path");
	/* A shape takes the colour of the row it stands in. */
	const char *ink = r->body != NULL ? "" : tb_page_ink(find_ink(r->drawing, colour));
	if (stroke == NULL || *ink != '\0')
		g_string_append_printf(out, " class=\"%s%s%s\"", ink, *ink != '\0' && stroke == NULL ? " " : "",
			stroke == NULL ? "solid" : "");
	double pen = width != NULL ? g_ascii_strtod(width, NULL) : 0;
	if (stroke != NULL && fabs(pen - r->drawing->pen_mm) > 0.005) {
		g_string_append(out, " stroke-width=\"");
		tb_page_put_number(out, pen);
		g_string_append_c(out, '"');
	}
	if (dashes != NULL)
		g_string_append_printf(out, " stroke-dasharray=\"%s\"", dashes);
	g_string_append_printf(out, " d=\"%s\"/>", data);
}

static void put_matrix(GString *out, const char *matrix)
{
	g_auto(GStrv) parts = g_strsplit(matrix, ",", 6);
	g_string_append(out, " transform=\"matrix(");
	for (int i = 0; parts[i] != NULL; i++) {
		/* Four places for the turn, two for the place. */
		char buffer[G_ASCII_DTOSTR_BUF_SIZE];
		double scale = i < 4 ? 1e4 : 1e2;
		double value = round(g_ascii_strtod(parts[i], NULL) * scale) / scale;
		g_string_append(out, i > 0 ? " " : "");
		g_string_append(out, g_ascii_formatd(buffer, sizeof buffer, "%.10g", value == 0 ? 0 : value));
	}
	g_string_append(out, ")\"");
}

static void put_place(GString *out, const char *name, double value)
{
	g_string_append_printf(out, " %s=\"", name);
	tb_page_put_number(out, value);
	g_string_append_c(out, '"');
}

/* A run of two or more is one <use> that says how many more follow, and how far apart. */
static void end_run(rewriting *r)
{
	use_run *run = &r->run;
	if (run->count == 0)
		return;
	g_string_append_printf(r->out, "<use href=\"#tb%u\"", run->shape);
	put_place(r->out, "x", run->x);
	put_place(r->out, "y", run->y);
	if (run->count > 1) {
		char dx[G_ASCII_DTOSTR_BUF_SIZE], dy[G_ASCII_DTOSTR_BUF_SIZE];
		g_ascii_formatd(dx, sizeof dx, "%.4f", run->dx);
		g_ascii_formatd(dy, sizeof dy, "%.4f", run->dy);
		g_string_append_printf(r->out, " data-on=\"%u %s %s\"", run->count - 1, dx, dy);
	}
	g_string_append(r->out, "/>");
	run->count = 0;
}

static void add_to_run(rewriting *r, guint shape, double x, double y)
{
	use_run *run = &r->run;
	bool same = r->terse && run->count > 0 && run->shape == shape;
	if (same && run->count == 1) {
		run->dx = x - run->x;
		run->dy = y - run->y;
		run->count = 2;
	} else if (same && fabs(x - run->x - run->count * run->dx) < 0.006 &&
		fabs(y - run->y - run->count * run->dy) < 0.006) {
		run->count++;
	} else {
		end_run(r);
		*run = (use_run){.shape = shape, .count = 1, .x = x, .y = y};
	}
}

static bool rewrite_use(rewriting *r, const char *tag)
{
	g_autofree char *id = get_value(tag, "href=\"#", '"');
	gpointer number;
	if (id == NULL || !g_hash_table_lookup_extended(r->numbers, id, NULL, &number))
		return false;
	g_autofree char *matrix = get_value(tag, "matrix(", ')');
	g_autofree char *x = get_value(tag, " x=\"", '"'), *y = get_value(tag, " y=\"", '"');
	if (matrix != NULL) {
		end_run(r);
		g_string_append_printf(r->out, "<use href=\"#tb%u\"", GPOINTER_TO_UINT(number));
		put_matrix(r->out, matrix);
		g_string_append(r->out, "/>");
	} else {
		add_to_run(r, GPOINTER_TO_UINT(number), x != NULL ? g_ascii_strtod(x, NULL) : 0,
			y != NULL ? g_ascii_strtod(y, NULL) : 0);
	}
	return true;
}

/* The shape just read: known already, or a new one. */
static void keep_shape(rewriting *r)
{
	tb_page_shapes *shapes = r->shapes;
	g_autofree char *pen = g_strdup_printf("%.3f", r->drawing->pen_mm);
	g_autofree char *key = g_strconcat(pen, r->body->str, NULL);
	gpointer number = g_hash_table_lookup(shapes->by_body, key);
	if (number == NULL) {
		number = GUINT_TO_POINTER(g_hash_table_size(shapes->by_body) + 1);
		g_hash_table_insert(shapes->by_body, g_steal_pointer(&key), number);
		g_string_append_printf(shapes->text, "<g id=\"tb%u\">%s</g>\n", GPOINTER_TO_UINT(number),
			r->body->str);
	}
	g_hash_table_insert(r->numbers, g_steal_pointer(&r->id), number);
	g_string_free(g_steal_pointer(&r->body), TRUE);
}

static void end_group(rewriting *r)
{
	if (r->body != NULL)
		keep_shape(r);
	else if (r->in_group)
		g_string_append(r->out, "</g>\n");
	r->in_group = false;
}

static bool is_tag(const char *tag, const char *name)
{
	gsize length = strlen(name);
	return strncmp(tag, name, length) == 0 && !g_ascii_isalnum(tag[length]);
}

static bool rewrite_tag(rewriting *r, const char *tag, bool *in_defs)
{
	static const char *const ignored[] = {"<?xml", "<svg", "</svg", "<title", "</title", "<desc",
		"</desc"};
	if (!is_tag(tag, "<use"))
		end_run(r);
	if (is_tag(tag, "<defs") || is_tag(tag, "</defs")) {
		*in_defs = tag[1] != '/';
	} else if (is_tag(tag, "<g") && *in_defs && r->body == NULL) {
		r->id = get_value(tag, " id=\"", '"');
		if (r->id == NULL)
			return false;
		r->body = g_string_new(NULL);
	} else if (strcmp(tag, "<g>") == 0 && !r->in_group && !*in_defs) {
		g_string_append_printf(r->out, "<g data-row=\"%u\">", r->row++);
		r->in_group = true;
	} else if (is_tag(tag, "</g")) {
		end_group(r);
	} else if (is_tag(tag, "<path")) {
		rewrite_path(r, tag);
	} else if (is_tag(tag, "<rect")) {
		/* paper again, as Cairo writes it when its sides are whole numbers */
		g_autofree char *fill = get_value(tag, "fill:rgb(", ')');
		bool paper = !r->has_paper && is_white(fill);
		r->has_paper = true;
		return paper;
	} else if (is_tag(tag, "<use")) {
		return rewrite_use(r, tag);
	} else if (!(is_tag(tag, "<g") && !*in_defs && !r->in_group)) {
		/* the picture's own outer group goes, as do its names */
		for (gsize i = 0; i < G_N_ELEMENTS(ignored); i++)
			if (is_tag(tag, ignored[i]))
				return true;
		return false;
	}
	return true;
}

static bool rewrite(rewriting *r, const char *svg)
{
	bool in_defs = false, good = true;
	for (const char *at = strchr(svg, '<'); good && at != NULL;) {
		const char *end = strchr(at, '>');
		if (end == NULL)
			return false;
		g_autofree char *tag = g_strndup(at, (gsize)(end - at) + 1);
		good = rewrite_tag(r, tag, &in_defs);
		at = strchr(end, '<');
	}
	end_run(r);
	return good && r->body == NULL;
}

bool tb_page_shapes_draw(tb_page_shapes *shapes, const tb_drawing *drawing, bool terse,
	GString *out, GError **error)
{
	g_autoptr(GByteArray) bytes = tb_output_svg.render(drawing, &(tb_output_options){0}, error);
	if (bytes == NULL)
		return false;
	g_byte_array_append(bytes, (const guint8 *)"", 1);
	rewriting r = {.shapes = shapes, .drawing = drawing, .out = out, .terse = terse};
	r.numbers = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);
	bool good = rewrite(&r, (const char *)bytes->data);
	if (!good)
		g_set_error(error, TB_OUTPUT_ERROR, TB_OUTPUT_FAILED,
			"the picture of the chart is not as the page expects it");
	g_hash_table_unref(r.numbers);
	g_free(r.id);
	if (r.body != NULL)
		g_string_free(r.body, TRUE);
	return good;
}
