/* The learner's page: what a designer wrote stays text, sizes share what they can, hands mirror. */
#include "support.h"

#include "output/page.h"
#include "stitches/stitch.h"

#include <cjson/cJSON.h>
#include <criterion/criterion.h>
#include <math.h>
#include <string.h>

#define HOSTILE "</script><!-- \"'&\\ \x01 {{data}}"

static char *page_of(tb_case *c, tb_page_options options)
{
	tb_type *type = tb_type_create();
	cr_assert_not_null(type);
	tb_text_measure measure = tb_type_get_measure(type);
	g_autoptr(GError) error = NULL;
	char *html = tb_page_html(c->worked, &options, &measure, c->diagnostics, &error);
	cr_assert_not_null(html, "%s", error != NULL ? error->message : "");
	tb_type_destroy(type);
	return html;
}

/* The script's data, read by a parser that is not ours. */
static cJSON *data_of(const char *html)
{
	static const char start[] = "id=\"pattern\">";
	const char *from = strstr(html, start);
	cr_assert_not_null(from);
	from += strlen(start);
	const char *to = strstr(from, "</script>");
	cr_assert_not_null(to);
	cJSON *data = cJSON_ParseWithLength(from, (size_t)(to - from));
	cr_assert_not_null(data, "the page's data is no JSON");
	return data;
}

static const cJSON *item(const cJSON *object, const char *path)
{
	g_auto(GStrv) keys = g_strsplit(path, "/", -1);
	for (int i = 0; keys[i] != NULL; i++) {
		object = g_ascii_isdigit(*keys[i]) && cJSON_IsArray(object) ?
			cJSON_GetArrayItem(object, atoi(keys[i])) :
			cJSON_GetObjectItemCaseSensitive(object, keys[i]);
		cr_assert_not_null(object, "no %s in %s", keys[i], path);
	}
	return object;
}

Test(page, json_text_cannot_end_a_script)
{
	g_autoptr(GString) out = g_string_new(NULL);
	tb_page_put_json(out, HOSTILE "\xe2\x80\xa8\xf0\x9f\xa7\xb6");
	cr_assert_null(strpbrk(out->str, "<>&'\x01"));
	cJSON *back = cJSON_Parse(out->str);
	cr_assert_str_eq(cJSON_GetStringValue(back), HOSTILE "\xe2\x80\xa8\xf0\x9f\xa7\xb6");
	cJSON_Delete(back);
}

Test(page, html_text_is_escaped)
{
	g_autoptr(GString) out = g_string_new(NULL);
	tb_page_put_html(out, "<b title='x'>\"&");
	cr_assert_str_eq(out->str, "&lt;b title=&apos;x&apos;&gt;&quot;&amp;");
}

static void expect_by_size(const char *const *texts, unsigned count, const char *expected)
{
	g_autoptr(GString) out = g_string_new(NULL);
	tb_page_put_by_size(out, texts, count);
	cr_expect_str_eq(out->str, expected, "got %s, not %s", out->str, expected);
}

Test(page, sizes_share_their_words_but_for_numbers)
{
	const char *numbers[] = {"Ch 53.", "Ch 107.", "Ch 65."};
	expect_by_size(numbers, 3, "[\"Ch \",[\"53\",\"107\",\"65\"],\".\"]");
	const char *same[] = {"Sc across.", "Sc across."};
	expect_by_size(same, 2, "[\"Sc across.\"]");
	const char *other[] = {"Sc across.", "Ch 1, sc across."};
	expect_by_size(other, 2, "[[\"Sc across.\",\"Ch 1, sc across.\"]]");
	const char *missing[] = {NULL, "Dc in next 3 sts", "Dc in next 5 sts"};
	expect_by_size(missing, 3, "[\"Dc in next \",[null,\"3\",\"5\"],\" sts\"]");
	const char *end[] = {"12", "7"};
	expect_by_size(end, 2, "[\"\",[\"12\",\"7\"],\"\"]");
	const char *shorter[] = {"3 dc", "3 dc, 2 ch"};
	expect_by_size(shorter, 2, "[[\"3 dc\",\"3 dc, 2 ch\"]]");
	const char *none[] = {NULL, NULL};
	expect_by_size(none, 2, "[]");
}

Test(page, moves_leave_their_loops)
{
	/* A double crochet: yarn over 2, insert 2, loop drawn up 3, through two 2, through two 1
	 * (from the moves themselves, by arithmetic). */
	g_autoptr(tb_library) library = tb_library_create();
	g_autoptr(GString) out = g_string_new(NULL);
	tb_page_put_moves(out, tb_library_find(library, "dc"), true);
	cJSON *moves = cJSON_Parse(out->str);
	const double loops[] = {2, 2, 3, 2, 1};
	cr_assert_eq(cJSON_GetArraySize(moves), 5);
	for (int i = 0; i < 5; i++)
		cr_expect_eq(cJSON_GetArrayItem(cJSON_GetArrayItem(moves, i), 1)->valuedouble, loops[i]);
	cr_expect_str_eq(cJSON_GetStringValue(item(moves, "0/0")), "Yarn round hook");
	cJSON_Delete(moves);
}

Test(page, every_move_of_every_stitch_is_said)
{
	g_autoptr(tb_library) library = tb_library_create();
	for (unsigned i = 0; i < tb_library_count(library); i++) {
		const tb_stitch *stitch = tb_library_get(library, i);
		g_autoptr(GString) out = g_string_new(NULL);
		tb_page_put_moves(out, stitch, false);
		cJSON *moves = cJSON_Parse(out->str);
		cr_assert_not_null(moves, "%s: %s", stitch->us, out->str);
		int count = cJSON_GetArraySize(moves);
		cr_expect_eq((unsigned)count, stitch->moves != NULL ? stitch->moves->count : 0);
		if (count > 0)
			cr_expect_eq(cJSON_GetArrayItem(cJSON_GetArrayItem(moves, count - 1), 1)->valuedouble, 1,
				"%s does not end with one loop", stitch->us);
		cJSON_Delete(moves);
	}
}

Test(page, a_garment_of_seven_sizes_has_one_chart_and_is_small)
{
	tb_case c = tb_case_file("examples/lantern-vest.json");
	g_autofree char *html = page_of(&c, (tb_page_options){0});
	cr_expect_lt(strlen(html), 400u * 1024);
	cJSON *data = data_of(html);
	cr_expect_eq(cJSON_GetArraySize(item(data, "charts")), 1);
	cr_expect_eq(cJSON_GetArraySize(item(data, "sizes")), 7);
	/* 51 (55, 63, 67, 75, 79, 87) sts less 3 of edge, by 4: arithmetic on the pattern's own text. */
	const double times[] = {12, 13, 15, 16, 18, 19, 21};
	for (int i = 0; i < 7; i++)
		cr_expect_eq(cJSON_GetArrayItem(item(data, "charts/0/box/2"), i)->valuedouble, times[i]);
	cr_expect_str_eq(cJSON_GetStringValue(item(data, "pieces/0/us/0/0")), "Ch ");
	cr_expect_str_eq(cJSON_GetStringValue(item(data, "pieces/0/us/0/1/2")), "65");
	cJSON_Delete(data);
	tb_case_finish(&c);
}

/* The row a page is opened on must be charted for either hand, one the mirror of the other. */
static void expect_mirror(const char *path)
{
	tb_case c = tb_case_file(path);
	tb_type *type = tb_type_create();
	tb_text_measure measure = tb_type_get_measure(type);
	tb_chart_options options = {0};
	tb_chart *right = tb_chart_create(c.worked, &options, &measure, c.diagnostics);
	options.left_handed = true;
	tb_chart *left = tb_chart_create(c.worked, &options, &measure, c.diagnostics);
	cr_assert(right != NULL && left != NULL);
	cr_assert_eq(right->placed->len, left->placed->len);
	double sum = NAN, most = 0;
	for (guint i = 0; i < right->placed->len; i++) {
		const tb_placed *a = &g_array_index(right->placed, tb_placed, i);
		const tb_placed *b = &g_array_index(left->placed, tb_placed, i);
		cr_assert_eq(a->made, b->made);
		/* The chains of a ring are set one by one around it, and nobody steps through them. */
		if (right->fabric->made[a->made].row == 0)
			continue;
		if (isnan(sum))
			sum = a->top.x + b->top.x;
		most = fmax(most, fmax(fabs(a->top.x + b->top.x - sum), fabs(a->top.y - b->top.y)));
	}
	cr_expect_lt(most, 0.02, "%s: hands differ by %g mm", path, most);
	tb_chart_destroy(right);
	tb_chart_destroy(left);
	tb_type_destroy(type);
	tb_case_finish(&c);
}

Test(page, the_left_hander_has_the_mirror_image)
{
	expect_mirror("examples/lantern-vest.json");
	expect_mirror("examples/moon-disc.txt");
	expect_mirror("examples/ripple-blanket.txt");
	expect_mirror("examples/pine-fan.txt");
	expect_mirror("examples/gull-shawl.txt");
}

Test(page, every_symbol_referred_to_is_there_once)
{
	tb_case c = tb_case_file("examples/lantern-vest.json");
	g_autofree char *html = page_of(&c, (tb_page_options){0});
	g_autoptr(GHashTable) ids = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);
	g_auto(GStrv) parts = g_strsplit(html, " id=\"", -1);
	for (int i = 1; parts[i] != NULL; i++)
		cr_expect(g_hash_table_add(ids, g_strndup(parts[i], strcspn(parts[i], "\""))),
			"an id is there twice");
	g_auto(GStrv) uses = g_strsplit(html, "<use href=\"#", -1);
	cr_assert_gt(g_strv_length(uses), 50);
	for (int i = 1; uses[i] != NULL; i++) {
		g_autofree char *id = g_strndup(uses[i], strcspn(uses[i], "\""));
		cr_expect(g_hash_table_contains(ids, id), "%s is not there", id);
	}
	cr_expect_null(strstr(html, " style="));
	cr_expect_null(strstr(html, "{{"), "a blank was not filled");
	tb_case_finish(&c);
}

/* The page has its own title, key and rules: on the chart stand numbers and brackets, in inks the style knows. */
Test(page, the_charts_words_are_its_numbers_and_brackets)
{
	tb_case c = tb_case_file("examples/lantern-vest.json");
	g_autofree char *html = page_of(&c, (tb_page_options){0});
	unsigned texts = 0;
	for (const char *at = strstr(html, "<text class=\""); at != NULL; at = strstr(at + 1, "<text class=\"")) {
		const char *said = strchr(at, '>') + 1;
		g_autofree char *words = g_strndup(said, (gsize)(strchr(said, '<') - said));
		bool row = g_str_has_prefix(at, "<text class=\"ink-a") || g_str_has_prefix(at, "<text class=\"ink-b");
		cr_expect(row || g_str_has_prefix(at, "<text class=\"ink-extra"), "%.40s", at);
		cr_expect(row == (strspn(words, "0123456789") == strlen(words)), "%s", words);
		texts++;
	}
	cr_expect_gt(texts, 0);
	tb_case_finish(&c);
}

Test(page, one_piece_and_some_rows_can_be_asked_for)
{
	tb_case c = tb_case_file("examples/lantern-vest.json");
	g_autofree char *html =
		page_of(&c, (tb_page_options){.piece = 1, .size = 3, .first_row = 3, .last_row = 4});
	cJSON *data = data_of(html);
	cr_expect_eq(item(data, "first")->valuedouble, 2);
	/* Rows 3 and 4, and below them rows 1 and 2, which they reach into. */
	cr_expect_eq(cJSON_GetArraySize(item(data, "charts/0/rows")), 4);
	cr_expect_eq(item(data, "charts/0/rows/0/1")->valuedouble, 1);
	cr_expect_eq(item(data, "charts/0/rows/2/1")->valuedouble, 0);
	cJSON_Delete(data);
	tb_case_finish(&c);
}

Test(page, faults_are_shown_as_text)
{
	tb_case c = tb_case_rows("S", "Ch 9.", "Row 1 (RS): <b> in 2nd ch from hook.");
	g_autofree char *html = tb_page_faults(c.diagnostics);
	cr_expect_not_null(strstr(html, "&lt;b&gt;"));
	cr_expect_null(strstr(html, "<b>"));
	cr_expect_not_null(strstr(html, "http-equiv=\"refresh\""));
	cr_expect_null(strstr(html, "{{"));
	tb_case_finish(&c);
}
