/* The SVG output: its structure as an XML parser sees it, its names, and that its bytes repeat. */
#include "sample_drawing.h"

#include "output/output.h"
#include "output/svg_filter.h"

#include <criterion/criterion.h>
#include <math.h>
#include <string.h>

#define HOSTILE "</title><script>&\""

/* What a parser meets: elements counted by name, and what is in the ones that matter. */
typedef struct {
	GHashTable *counts;  /* element name to number */
	GHashTable *ids;     /* set */
	GPtrArray *hrefs;    /* without the # */
	GPtrArray *titles;   /* text of each title, in order */
	GString *text;
	char *root[4];       /* width, viewBox, role, aria-labelledby */
	char *first_child;
	unsigned depth;
} seen;

static void start(GMarkupParseContext *context, const char *name, const char **names,
	const char **values, gpointer data, GError **error)
{
	static const char *const ROOT[] = {"width", "viewBox", "role", "aria-labelledby"};
	seen *s = data;

	g_hash_table_insert(s->counts, g_strdup(name),
		GUINT_TO_POINTER(GPOINTER_TO_UINT(g_hash_table_lookup(s->counts, name)) + 1));
	for (int i = 0; names[i] != NULL; i++) {
		if (strcmp(names[i], "id") == 0)
			cr_expect(g_hash_table_add(s->ids, g_strdup(values[i])), "id %s is twice", values[i]);
		if (strcmp(names[i], "xlink:href") == 0)
			g_ptr_array_add(s->hrefs, g_strdup(values[i] + 1));
		for (int r = 0; s->depth == 0 && r < 4; r++) {
			if (strcmp(names[i], ROOT[r]) == 0)
				s->root[r] = g_strdup(values[i]);
		}
	}
	if (s->depth == 1 && s->first_child == NULL)
		s->first_child = g_strdup(name);
	s->depth++;
	g_string_truncate(s->text, 0);
}

static void end(GMarkupParseContext *context, const char *name, gpointer data, GError **error)
{
	seen *s = data;
	if (strcmp(name, "title") == 0)
		g_ptr_array_add(s->titles, g_strdup(s->text->str));
	s->depth--;
}

static void text(GMarkupParseContext *context, const char *chars, gsize length, gpointer data,
	GError **error)
{
	g_string_append_len(((seen *)data)->text, chars, (gssize)length);
}

static void parse(seen *s, const GByteArray *svg)
{
	static const GMarkupParser PARSER = {.start_element = start, .end_element = end, .text = text};
	g_autoptr(GError) error = NULL;

	*s = (seen){
		.counts = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL),
		.ids = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL),
		.hrefs = g_ptr_array_new_with_free_func(g_free),
		.titles = g_ptr_array_new_with_free_func(g_free),
		.text = g_string_new(NULL),
	};
	GMarkupParseContext *context = g_markup_parse_context_new(&PARSER, 0, s, NULL);
	const char *bytes = (const char *)svg->data;
	bool parsed = g_markup_parse_context_parse(context, bytes, svg->len, &error) &&
		g_markup_parse_context_end_parse(context, &error);
	cr_assert(parsed, "%s", error != NULL ? error->message : "");
	g_markup_parse_context_free(context);
}

static void finish(seen *s)
{
	g_hash_table_unref(s->counts);
	g_hash_table_unref(s->ids);
	g_ptr_array_unref(s->hrefs);
	g_ptr_array_unref(s->titles);
	g_string_free(s->text, TRUE);
	for (int i = 0; i < 4; i++)
		g_free(s->root[i]);
	g_free(s->first_child);
}

static unsigned count(const seen *s, const char *name)
{
	return GPOINTER_TO_UINT(g_hash_table_lookup(s->counts, name));
}

static GByteArray *render(const tb_drawing *drawing)
{
	g_autoptr(GError) error = NULL;
	GByteArray *bytes = tb_output_render(drawing, "svg", NULL, &error);
	cr_assert_not_null(bytes, "%s", error != NULL ? error->message : "");
	return bytes;
}

static bool holds(const GByteArray *bytes, const char *word)
{
	return g_strstr_len((const char *)bytes->data, bytes->len, word) != NULL;
}

Test(svg, the_root_says_size_role_and_what_names_it)
{
	g_autoptr(tb_drawing) drawing = tb_sample_drawing("Basket swatch", 3, 10);
	g_autoptr(GByteArray) svg = render(drawing);
	seen s;
	parse(&s, svg);
	/* The sample is 2 x 12 + 10 x 5 mm wide and 2 x 12 + 3 x 9 mm high. */
	cr_expect_str_eq(s.root[0], "74mm");
	cr_expect_str_eq(s.root[1], "0 0 74 51");
	cr_expect_str_eq(s.root[2], "img");
	cr_assert_str_eq(s.first_child, "title");
	g_auto(GStrv) names = g_strsplit(s.root[3], " ", -1);
	cr_assert_eq(g_strv_length(names), 2);
	cr_expect(g_hash_table_contains(s.ids, names[0]) && g_hash_table_contains(s.ids, names[1]));
	cr_expect(g_str_has_suffix(names[0], "-title") && g_str_has_suffix(names[1], "-desc"));
	cr_expect(holds(svg, "xml:lang=\"en\""));
	cr_expect_eq(count(&s, "desc"), 1);
	finish(&s);
}

Test(svg, each_row_is_a_group_with_its_title)
{
	g_autoptr(tb_drawing) drawing = tb_sample_drawing("Swatch", 3, 10);
	g_autoptr(GByteArray) svg = render(drawing);
	seen s;
	parse(&s, svg);
	cr_assert_eq(s.titles->len, 4);
	cr_expect_str_eq(g_ptr_array_index(s.titles, 0), "Swatch");
	cr_expect_str_eq(g_ptr_array_index(s.titles, 1), "Row 1, right side");
	cr_expect_str_eq(g_ptr_array_index(s.titles, 2), "Row 2, wrong side");
	cr_expect_str_eq(g_ptr_array_index(s.titles, 3), "Row 3, right side");
	/* Nothing is left of what marked them. */
	cr_expect_not(holds(svg, "opacity:0.25") || holds(svg, "opacity:0.5"));
	finish(&s);
}

Test(svg, stitches_are_stamps_and_nothing_is_masked_or_clipped)
{
	g_autoptr(tb_drawing) drawing = tb_sample_drawing("", 4, 10);
	g_autoptr(GByteArray) svg = render(drawing);
	seen s;
	parse(&s, svg);
	/* 40 stitches and the figures 1 to 4: an empty title has no letters. */
	cr_expect_eq(count(&s, "use"), 44, "%u uses", count(&s, "use"));
	cr_expect_eq(count(&s, "mask"), 0);
	cr_expect_eq(count(&s, "clipPath"), 0);
	cr_expect_not(holds(svg, "clip-path"));
	cr_expect_eq(count(&s, "image"), 0);
	/* Two shapes in two inks are four recordings, each of one path; then the box. */
	cr_expect_eq(count(&s, "path") - count(&s, "symbol"), 4 + 1);
	cr_expect(holds(svg, "stroke-dasharray:1.2,1.1"));
	cr_expect(holds(svg, "stroke:rgb(10%,20%,40%)") && holds(svg, "stroke:rgb(50%,15%,10%)"));
	finish(&s);
}

Test(svg, every_id_has_the_prefix_and_every_reference_is_there)
{
	g_autoptr(tb_drawing) drawing = tb_sample_drawing("Swatch", 3, 10);
	g_autoptr(GByteArray) svg = render(drawing);
	seen s;
	parse(&s, svg);
	g_autofree char *prefix = g_strndup(s.root[3], 10);
	cr_assert(g_regex_match_simple("^tb[0-9a-f]{8}$", prefix, 0, 0), "prefix %s", prefix);
	GHashTableIter iter;
	gpointer id;
	g_hash_table_iter_init(&iter, s.ids);
	while (g_hash_table_iter_next(&iter, &id, NULL))
		cr_expect(g_str_has_prefix(id, prefix), "id %s", (char *)id);
	cr_assert_gt(s.hrefs->len, 0);
	for (guint i = 0; i < s.hrefs->len; i++)
		cr_expect(g_hash_table_contains(s.ids, g_ptr_array_index(s.hrefs, i)), "reference %s",
			(char *)g_ptr_array_index(s.hrefs, i));
	finish(&s);
}

Test(svg, two_charts_in_one_page_share_no_id)
{
	g_autoptr(tb_drawing) first = tb_sample_drawing("Swatch", 3, 10);
	g_autoptr(tb_drawing) second = tb_sample_drawing("Swatch", 3, 10);
	g_array_index(second->marks, tb_mark, 3).x += 0.01;
	g_autoptr(GByteArray) first_svg = render(first);
	g_autoptr(GByteArray) second_svg = render(second);
	seen s, other;
	parse(&s, first_svg);
	parse(&other, second_svg);
	GHashTableIter iter;
	gpointer id;
	g_hash_table_iter_init(&iter, s.ids);
	while (g_hash_table_iter_next(&iter, &id, NULL))
		cr_expect_not(g_hash_table_contains(other.ids, id), "id %s", (char *)id);
	finish(&s);
	finish(&other);
}

Test(svg, the_same_drawing_is_the_same_bytes_again)
{
	g_autoptr(tb_drawing) drawing = tb_sample_drawing("Swatch", 3, 10);
	g_autoptr(GByteArray) first = render(drawing);
	g_autoptr(tb_drawing) other = tb_sample_drawing("Another", 5, 12);
	g_autoptr(GByteArray) between = render(other);
	g_autoptr(GByteArray) second = render(drawing);
	cr_assert_eq(first->len, second->len);
	cr_assert_eq(memcmp(first->data, second->data, first->len), 0);
	cr_assert_neq(first->len, between->len);
}

Test(svg, a_title_full_of_markup_stays_text)
{
	g_autoptr(tb_drawing) drawing = tb_sample_drawing(HOSTILE "\x01\xff ]]>", 2, 10);
	g_free(drawing->description);
	drawing->description = g_strdup("--><desc onload='x'>");
	g_autoptr(GByteArray) svg = render(drawing);
	seen s;
	parse(&s, svg);
	cr_expect(g_str_has_prefix(g_ptr_array_index(s.titles, 0), HOSTILE));
	cr_expect_eq(count(&s, "script"), 0);
	cr_expect_eq(count(&s, "desc"), 1);
	/* XML 1.0 has no place for the control, nor for a byte that is not UTF-8. */
	cr_expect_not(holds(svg, "\x01") || holds(svg, "&#x1;") || holds(svg, "\xff"));
	cr_expect(g_utf8_validate((const char *)svg->data, svg->len, NULL));
	finish(&s);
}

Test(svg, a_very_large_chart_is_stroked_row_by_row)
{
	g_autoptr(tb_drawing) drawing = tb_sample_drawing("", 22, 1000);
	g_autoptr(GByteArray) svg = render(drawing);
	seen s;
	parse(&s, svg);
	/* 22 rows of 1,000: 200 almonds filled each, the stems in one path; the box beside. */
	cr_expect_eq(count(&s, "path") - count(&s, "symbol"), 22 * (1 + 200) + 1);
	cr_expect_eq(s.titles->len, 23);
	finish(&s);
}

Test(svg, numbers_that_cannot_be_drawn_are_refused)
{
	const double bad[] = {NAN, INFINITY, -INFINITY, 9e6};

	for (size_t i = 0; i < G_N_ELEMENTS(bad); i++) {
		g_autoptr(tb_drawing) drawing = tb_sample_drawing("Swatch", 2, 10);
		g_autoptr(GError) error = NULL;
		g_array_index(drawing->marks, tb_mark, 3).x = bad[i];
		cr_expect_null(tb_output_render(drawing, "svg", NULL, &error), "%g", bad[i]);
		cr_expect_not_null(error, "%g", bad[i]);
	}
	const double sizes[] = {0, -5, NAN, INFINITY, 9e6};
	for (size_t i = 0; i < G_N_ELEMENTS(sizes); i++) {
		g_autoptr(tb_drawing) drawing = tb_sample_drawing("Swatch", 2, 10);
		g_autoptr(GError) error = NULL;
		drawing->width_mm = sizes[i];
		cr_expect_null(tb_output_render(drawing, "svg", NULL, &error), "%g", sizes[i]);
		cr_expect_not_null(error, "%g", sizes[i]);
	}
}

Test(svg, groups_that_do_not_match_and_shapes_that_are_not_there_are_refused)
{
	g_autoptr(GError) error = NULL, second = NULL;
	g_autoptr(tb_drawing) drawing = tb_sample_drawing("Swatch", 2, 10);
	tb_drawing_end_group(drawing);
	cr_expect_null(tb_output_render(drawing, "svg", NULL, &error));
	cr_expect(g_error_matches(error, TB_OUTPUT_ERROR, TB_OUTPUT_FAILED));
	g_autoptr(tb_drawing) other = tb_sample_drawing("Swatch", 2, 10);
	tb_drawing_place_shape(other, 99, 1, 1, 0, TB_INK_ROW_A, NULL);
	cr_expect_null(tb_output_render(other, "svg", NULL, &second));
	cr_expect_not_null(second);
}

static bool filter(const char *svg, guint groups, char **result)
{
	static const char *const titles[] = {"Row <1>", "Row 2"};
	tb_svg_names names = {
		.title = "T", .description = "D", .groups = titles, .group_count = groups};
	g_autoptr(GByteArray) out = g_byte_array_new();
	g_autoptr(GError) error = NULL;
	bool done = tb_svg_filter(svg, strlen(svg), &names, out, &error);
	cr_expect_eq(done, error == NULL);
	g_autofree char *text = out->len > 0 ? g_strndup((const char *)out->data, out->len) : g_strdup("");
	if (done) {
		const char *title = strstr(text, "<title id=\"");
		cr_assert_not_null(title);
		/* Which prefix it is, another test asks. */
		g_autofree char *prefix = g_strndup(title + strlen("<title id=\""), strlen("tb01234567"));
		g_auto(GStrv) parts = g_strsplit(text, prefix, -1);
		*result = g_strjoinv("tb0", parts);
	} else {
		*result = g_steal_pointer(&text);
	}
	return done;
}

#define HEAD "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\">"
#define FILTERED_HEAD \
	"<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" xml:lang=\"en\" role=\"img\" " \
	"aria-labelledby=\"tb0-title tb0-desc\">\n" \
	"<title id=\"tb0-title\">T</title>\n<desc id=\"tb0-desc\">D</desc>\n"

Test(svg_filter, names_are_numbered_by_appearance_and_followed)
{
	g_autofree char *out = NULL;
	cr_assert(filter(HEAD "<use xlink:href=\"#b7\" x=\"1.0004\" y=\"2\"/><g id=\"b7\"/>"
						  "<g id=\"a1\" fill=\"url(#b7)\"/></svg>",
		0, &out));
	cr_assert_str_eq(out, FILTERED_HEAD "<use xlink:href=\"#tb0-1\" x=\"1\" y=\"2\"/><g id=\"tb0-1\"/>"
										"<g id=\"tb0-2\" fill=\"url(#tb0-1)\"/></svg>");
}

Test(svg_filter, the_box_of_a_recording_goes_and_a_move_is_x_and_y)
{
	g_autofree char *out = NULL;
	cr_assert(filter(HEAD "<clipPath id=\"c1\">\n  <rect x=\"0\" width=\"4\"/>\n</clipPath>\n"
						  "<g id=\"s\" clip-path=\"url(#c1)\"/>"
						  "<use xlink:href=\"#s\" transform=\"matrix(1,0,0,1,5.5,-2)\"/>"
						  "<use xlink:href=\"#s\" transform=\"matrix(0,1,-1,0,5,2)\"/></svg>",
		0, &out));
	cr_assert_str_eq(out, FILTERED_HEAD "<g id=\"tb0-1\"/><use xlink:href=\"#tb0-1\" x=\"5.5\" "
										"y=\"-2\"/><use xlink:href=\"#tb0-1\" "
										"transform=\"matrix(0,1,-1,0,5,2)\"/></svg>");
}

Test(svg_filter, a_clip_that_is_more_than_a_box_stays)
{
	g_autofree char *out = NULL;
	cr_assert(filter(HEAD "<clipPath id=\"c1\"><path d=\"M 0 0 L 1 2\"/></clipPath>"
						  "<g clip-path=\"url(#c1)\"/></svg>",
		0, &out));
	cr_assert_str_eq(out, FILTERED_HEAD "<clipPath id=\"tb0-1\"><path d=\"M0 0l1 2\"/></clipPath>"
										"<g clip-path=\"url(#tb0-1)\"/></svg>");
}

#define BEGIN "<path style=\"fill:rgb(0%,0%,0%);fill-opacity:0.25;\" d=\"M 0 0 \"/>"
#define END "<path style=\"fill:rgb(0%,0%,0%);fill-opacity:0.5;\" d=\"M 0 0 \"/>"

Test(svg_filter, specks_become_groups)
{
	g_autofree char *out = NULL;
	cr_assert(filter(HEAD BEGIN END BEGIN END "</svg>", 2, &out));
	cr_assert_str_eq(out, FILTERED_HEAD "<g><title>Row &lt;1&gt;</title>\n</g>"
										"<g><title>Row 2</title>\n</g></svg>");
}

Test(svg_filter, what_does_not_match_is_a_failure)
{
	const char *const bad[] = {
		HEAD BEGIN "</svg>",                                /* a group without an end */
		HEAD END "</svg>",                                  /* an end without a group */
		HEAD BEGIN END BEGIN END "</svg>",                  /* more groups than titles */
		HEAD "</svg>",                                      /* fewer */
		HEAD BEGIN END "<use xlink:href=\"#gone\"/></svg>", /* a reference to nothing */
		HEAD BEGIN END "<g id=\"a",                         /* cut off */
		BEGIN END,                                          /* no picture */
		"",
	};
	for (size_t i = 0; i < G_N_ELEMENTS(bad); i++) {
		g_autofree char *out = NULL;
		cr_expect_not(filter(bad[i], 1, &out), "number %zu", i);
	}
}
