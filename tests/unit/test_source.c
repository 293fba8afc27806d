/* Sources, texts and how faults are printed. */
#include "support/diagnose.h"
#include "support/limits.h"
#include "support/source.h"
#include "support/text.h"

#include <criterion/criterion.h>
#include <string.h>

static tb_source *make(const char *text)
{
	return tb_source_create("basket.json", text, strlen(text));
}

static void expect_place(const tb_source *source, size_t offset, unsigned line, unsigned column)
{
	unsigned l, c;
	tb_source_locate(source, offset, &l, &c);
	cr_expect(
		l == line && c == column, "offset %zu is %u:%u, not %u:%u", offset, l, c, line, column);
}

Test(source, columns_count_characters)
{
	g_autoptr(tb_source) source = make("a\n\xc3\xa9"
									   "b\r\n\xe2\x80\xa6x");
	expect_place(source, 0, 1, 1);
	expect_place(source, 2, 2, 1);
	expect_place(source, 4, 2, 2); /* behind the two bytes of é */
	expect_place(source, 7, 3, 1);
	expect_place(source, 10, 3, 2);
	expect_place(source, 1000, 3, 3); /* past the end is the end */
}

Test(source, a_byte_order_mark_is_no_column)
{
	g_autoptr(tb_source) source = make("\xef\xbb\xbf{");
	expect_place(source, 3, 1, 1);
}

Test(source, bytes_that_are_no_text_count_one)
{
	g_autoptr(tb_source) source = make("\xff\xfe"
									   "a");
	expect_place(source, 2, 1, 3);
}

Test(source, lines_end_before_their_break)
{
	g_autoptr(tb_source) source = make("ab\r\ncd\n");
	tb_span first = tb_source_line(source, 1), second = tb_source_line(source, 2);
	cr_expect_eq(first.start, 0);
	cr_expect_eq(first.end, 2);
	cr_expect_eq(second.start, 4);
	cr_expect_eq(second.end, 6);
	cr_expect_eq(tb_source_line(source, 99).start, tb_source_line(source, 99).end);
}

Test(text, a_span_follows_the_offsets)
{
	g_autoptr(tb_text) plain = tb_text_create("dc in st", 8, 100);
	tb_span span = tb_text_span(plain, 3, 5);
	cr_expect(span.start == 103 && span.end == 105);
	span = tb_text_span(plain, 7, 900);
	cr_expect(span.start == 107 && span.end == 108, "a span ends with the text");
	g_autoptr(tb_text) broken = tb_text_create("ab", 2, 10);
	broken->offsets = g_new(guint32, 3);
	broken->offsets[0] = 10;
	broken->offsets[1] = 16;
	broken->offsets[2] = 17;
	span = tb_text_span(broken, 0, 1);
	cr_expect(span.start == 10 && span.end == 16);
}

static void expect_format(tb_diagnostics *list, const char *expected)
{
	g_autofree char *text = tb_diagnostics_format(list);
	cr_expect_str_eq(text, expected, "is:\n%s\nnot:\n%s", text, expected);
}

static const char *const sizes[] = {"S", "M", "L"};

Test(diagnostics, a_fault_shows_its_line_and_what_to_do)
{
	g_autoptr(tb_source) source = make("{\n  \"Row 4: dc acros\"\n}\n");
	g_autoptr(tb_diagnostics) list = tb_diagnostics_create(source);
	tb_diagnostics_set_sizes(list, sizes, 3);
	tb_where where = {.has_place = true, .place = {15, 20}, .row = 4, .sizes = 4};
	tb_diagnose(list, TB_ERROR, "word-unknown", &where, "what is this", "Write across.");
	expect_format(list, "basket.json:2:14: error: row 4, size L: what is this\n"
						"    2 |   \"Row 4: dc acros\"\n"
						"      |              ^~~~~\n"
						"  Write across.\n");
	cr_expect_eq(tb_diagnostics_count_errors(list), 1);
}

Test(diagnostics, sizes_are_named_as_people_name_them)
{
	static const struct {
		tb_size_set set;
		const char *expected;
	} cases[] = {
		{0, "-: error: row 2: x\n"},
		{1, "-: error: row 2, size S: x\n"},
		{6, "-: error: row 2, sizes M and L: x\n"},
		{7, "-: error: row 2, every size: x\n"},
	};
	for (size_t i = 0; i < G_N_ELEMENTS(cases); i++) {
		g_autoptr(tb_source) source = tb_source_create("-", "", 0);
		g_autoptr(tb_diagnostics) list = tb_diagnostics_create(source);
		tb_diagnostics_set_sizes(list, sizes, 3);
		tb_where where = {.row = 2, .sizes = cases[i].set};
		tb_diagnose(list, TB_ERROR, "a", &where, "x", NULL);
		expect_format(list, cases[i].expected);
	}
	/* A pattern with one size does not speak of sizes. */
	g_autoptr(tb_diagnostics) one = tb_diagnostics_create(NULL);
	static const char *const unnamed[] = {""};
	tb_diagnostics_set_sizes(one, unnamed, 1);
	tb_diagnose(one, TB_WARNING, "a", &(tb_where){.piece = "Back", .sizes = 1}, "x", NULL);
	expect_format(one, "warning: Back: x\n");
}

Test(diagnostics, the_same_fault_in_another_size_is_told_once)
{
	g_autoptr(tb_source) source = make("abc");
	g_autoptr(tb_diagnostics) list = tb_diagnostics_create(source);
	tb_where where = {.has_place = true, .place = {0, 1}, .row = 4, .sizes = 1, .piece = "Back"};
	tb_diagnose(list, TB_ERROR, "a", &where, "1 st is left", NULL);
	where.sizes = 2;
	tb_diagnose(list, TB_ERROR, "a", &where, "1 st is left", NULL);
	where.row = 8; /* the row worked again */
	tb_diagnose(list, TB_ERROR, "a", &where, "5 sts are left", NULL);
	cr_assert_eq(tb_diagnostics_count(list), 1);
	cr_expect_eq(tb_diagnostics_get(list, 0)->sizes, 3);
	cr_expect_eq(tb_diagnostics_get(list, 0)->row, 4);
	where.sizes = 4; /* another size, where something else is left */
	tb_diagnose(list, TB_ERROR, "a", &where, "2 sts are left", NULL);
	cr_expect_eq(tb_diagnostics_count(list), 2);
	where.piece = "Front";
	tb_diagnose(list, TB_ERROR, "a", &where, "2 sts are left", NULL);
	cr_expect_eq(tb_diagnostics_count(list), 3);
	cr_expect_eq(tb_diagnostics_count_errors(list), 3);
}

Test(diagnostics, faults_stand_in_order_of_place_then_severity)
{
	g_autoptr(tb_source) source = make("abcdef");
	g_autoptr(tb_diagnostics) list = tb_diagnostics_create(source);
	tb_where where = {.has_place = true, .place = {4, 5}};
	tb_diagnose(list, TB_ERROR, "third", &where, "x", NULL);
	tb_diagnose(list, TB_ERROR, "last", NULL, "x", NULL);
	where.place = (tb_span){1, 2};
	tb_diagnose(list, TB_WARNING, "second", &where, "x", NULL);
	tb_diagnose(list, TB_ERROR, "first", &where, "x", NULL);
	static const char *const order[] = {"first", "second", "third", "last"};
	for (unsigned i = 0; i < 4; i++)
		cr_expect_str_eq(tb_diagnostics_get(list, i)->code, order[i]);
	cr_expect_null(tb_diagnostics_get(list, 4));
}

Test(diagnostics, a_long_line_is_shown_around_its_caret)
{
	g_autoptr(GString) text = g_string_new("");
	for (int i = 0; i < 60; i++)
		g_string_append_printf(text, "word%02d ", i);
	g_autoptr(tb_source) source = make(text->str);
	g_autoptr(tb_diagnostics) list = tb_diagnostics_create(source);
	tb_where where = {.has_place = true, .place = {30 * 7, 30 * 7 + 6}};
	tb_diagnose(list, TB_NOTE, "a", &where, "here", NULL);
	g_autofree char *shown = tb_diagnostics_format(list);
	g_auto(GStrv) lines = g_strsplit(shown, "\n", -1);
	cr_assert_eq(g_strv_length(lines), 4);
	cr_expect(g_str_has_prefix(lines[1], "    1 | … word26 "), "%s", lines[1]);
	cr_expect(g_str_has_suffix(lines[1], " …"), "%s", lines[1]);
	cr_expect_lt(g_utf8_strlen(lines[1], -1), 120);
	/* The caret stands under the first letter of the word. */
	glong caret = (glong)(strchr(lines[2], '^') - lines[2]);
	const char *under = g_utf8_offset_to_pointer(lines[1], caret);
	cr_expect(g_str_has_prefix(under, "word30"), "%s", under);
	cr_expect_str_eq(strchr(lines[2], '^'), "^~~~~~");
}

Test(diagnostics, wide_characters_and_tabs_keep_the_caret_in_place)
{
	/* 鎖 is two columns wide (Unicode, East Asian Width). */
	g_autoptr(tb_source) source = make("\t\xe9\x8e\x96x");
	g_autoptr(tb_diagnostics) list = tb_diagnostics_create(source);
	tb_where where = {.has_place = true, .place = {4, 5}};
	tb_diagnose(list, TB_ERROR, "a", &where, "here", NULL);
	expect_format(list, "basket.json:1:3: error: here\n"
						"    1 |  \xe9\x8e\x96x\n"
						"      |    ^\n");
}

Test(diagnostics, control_characters_never_reach_the_terminal)
{
	g_autoptr(tb_source) source = make("a\x1b[31m\xff");
	g_autoptr(tb_diagnostics) list = tb_diagnostics_create(source);
	tb_where where = {.has_place = true, .place = {1, 2}};
	tb_diagnose(list, TB_ERROR, "a", &where, "bad \x1b[0m", "hint \x07");
	g_autofree char *shown = tb_diagnostics_format(list);
	cr_expect_null(strchr(shown, 0x1b));
	cr_expect_null(strchr(shown, 0x07));
	cr_expect(g_utf8_validate(shown, -1, NULL));
}

Test(diagnostics, past_the_limit_faults_are_counted)
{
	g_autoptr(tb_diagnostics) list = tb_diagnostics_create(NULL);
	for (unsigned i = 0; i < TB_LIMIT_FAULTS + 7; i++) {
		g_autofree char *message = g_strdup_printf("fault %u", i);
		tb_diagnose(list, TB_ERROR, "a", NULL, message, NULL);
	}
	cr_expect_eq(tb_diagnostics_count(list), TB_LIMIT_FAULTS);
	cr_expect_eq(tb_diagnostics_count_errors(list), TB_LIMIT_FAULTS + 7);
	g_autofree char *shown = tb_diagnostics_format(list);
	cr_expect_not_null(strstr(shown, "and 7 more faults"));
}
