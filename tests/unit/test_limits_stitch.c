/* The limits of a designer's own stitch (support/limits.h): just within, and just past. */
#include "support.h"

#include "stitches/stitch.h"
#include "support/limits.h"

#include <criterion/criterion.h>
#include <string.h>

/* A pattern with one stitch of its own; owned. */
static char *with_stitch(
	const char *height, const char *takes, const char *moves, const char *symbol)
{
	return g_strdup_printf("{\"format\":1,\"stitches\":[\n{\"us\":\"xx\",\"us_name\":\"xx stitch\","
						   "\"height\":%s,\"takes\":%s,\"moves\":\"%s\",\"symbol\":{%s}}],\n"
						   "\"pieces\":[{\"name\":\"Back\",\"start\":\"Ch 9.\","
						   "\"rows\":[\"Row 1: Sc in 2nd ch from hook and in each ch across.\"]}]}",
		height, takes, moves, symbol);
}

/* An error of CODE at the stitch, or none at all where CODE is NULL. Owned TEXT. */
static void expect(const char *what, const char *code, const char *says, char *text)
{
	tb_case c = tb_case_read("test.json", text);
	g_autofree char *faults = tb_case_faults(&c);
	if (code == NULL) {
		cr_expect_str_empty(faults, "%s: %.300s", what, faults);
	} else {
		const tb_diagnostic *fault = tb_diagnostics_get(c.diagnostics, 0);
		unsigned line = 0, column = 0;
		cr_assert_not_null(fault, "%s: no fault", what);
		cr_expect_str_eq(fault->code, code, "%s: %.300s", what, faults);
		cr_expect_not_null(strstr(fault->message, says), "%s: %s", what, fault->message);
		tb_source_locate(c.source, fault->place.start, &line, &column);
		cr_expect(line == 2 && column == 1, "%s: at %u:%u", what, line, column);
	}
	tb_case_finish(&c);
	g_free(text);
}

static const char sc[] = "insert, draw up, through 2";
static const char cross[] = "\"form\":\"cross\"";

Test(limits_stitch, height_and_what_it_takes)
{
	expect("height 20", NULL, "", with_stitch("20", "1", sc, cross));
	expect("height 20.5", "stitch-value", "from 0 to 20", with_stitch("20.5", "1", sc, cross));
	expect("takes 20", NULL, "", with_stitch("1", "20", sc, cross));
	expect("takes 21", "stitch-value", "from 0 to 20", with_stitch("1", "21", sc, cross));
}

/* COUNT times "yo", and through them. */
static char *yarn_overs(unsigned count)
{
	GString *moves = g_string_new(NULL);
	for (unsigned i = 0; i < count; i++)
		g_string_append(moves, "yo, ");
	g_string_append_printf(moves, "through %u", count + 1);
	return g_string_free(moves, FALSE);
}

Test(limits_stitch, moves_and_loops)
{
	g_autofree char *hundred = yarn_overs(TB_LIMIT_LOOPS - 1), *more = yarn_overs(TB_LIMIT_LOOPS);
	expect("100 loops", NULL, "", with_stitch("1", "1", hundred, cross));
	expect("101 loops", "stitch-moves", "through 101", with_stitch("1", "1", more, cross));
	GString *moves = g_string_new("insert");
	for (unsigned i = 1; i < TB_LIMIT_MOVES; i++)
		g_string_append(moves, ", ch 1");
	expect("200 moves", NULL, "", with_stitch("1", "1", moves->str, cross));
	g_string_append(moves, ", ch 2");
	expect("201 moves", "stitch-moves", "ch 2", with_stitch("1", "1", moves->str, cross));
	g_string_free(moves, TRUE);
}

Test(limits_stitch, anatomy)
{
	/* a leg for each time the hook goes in */
	g_autoptr(GString) twelve = g_string_new(NULL);
	for (unsigned i = 0; i < 12; i++)
		g_string_append(twelve, "insert, draw up, ");
	g_string_append(twelve, "through 13");
	expect("12 legs", NULL, "",
		with_stitch("3", "12", twelve->str, "\"form\":\"stem\",\"legs\":12,\"meet\":\"top\""));
	expect("13 legs", "stitch-value", "from 1 to 12",
		with_stitch("3", "12", sc, "\"form\":\"stem\",\"legs\":13,\"meet\":\"top\""));
	expect("8 bars", NULL, "", with_stitch("3", "1", sc, "\"form\":\"stem\",\"bars\":8"));
	expect("9 bars", "stitch-value", "from 0 to 8",
		with_stitch("3", "1", sc, "\"form\":\"stem\",\"bars\":9"));
	expect("12 chains", NULL, "",
		with_stitch("1", "0", sc, "\"form\":\"ring\",\"chains\":12,\"foot\":\"slip\""));
	expect("13 chains", "stitch-value", "from 3 to 12",
		with_stitch("1", "0", sc, "\"form\":\"ring\",\"chains\":13,\"foot\":\"slip\""));
}

static char *with_path(const char *path)
{
	g_autofree char *symbol =
		g_strdup_printf("\"path\":\"%s\",\"base\":[0,0],\"top\":[0,-30]", path);
	return with_stitch("1", "1", sc, symbol);
}

Test(limits_stitch, path)
{
	g_autoptr(GString) path = g_string_new("M 0 0 L 0 -30");
	while (path->len < TB_LIMIT_PATH_BYTES)
		g_string_append_c(path, ' ');
	expect("20,000 bytes", NULL, "", with_path(path->str));
	g_string_append_c(path, ' ');
	expect("20,001 bytes", "stitch-path", "at most 20000", with_path(path->str));

	g_string_assign(path, "M0 0");
	for (unsigned i = 1; i < TB_LIMIT_PATH_SEGMENTS; i++)
		g_string_append(path, "L0 9");
	expect("1,000 parts", NULL, "", with_path(path->str));
	g_string_append(path, "L0 9");
	expect("1,001 parts", "stitch-path", "too many parts", with_path(path->str));

	g_string_assign(path, "M0 0L0 ");
	while (path->len < strlen("M0 0L0 ") + TB_LIMIT_PATH_FIGURE_BYTES - 1)
		g_string_append_c(path, '0');
	g_string_append_c(path, '9');
	expect("a figure of 40", NULL, "", with_path(path->str));
	g_string_append_c(path, '9');
	expect("a figure of 41", "stitch-path", "too long", with_path(path->str));

	/* From 0 to the top 30: 20 heights are 600. */
	expect("600 away", NULL, "", with_path("M 0 0 L 600 0"));
	expect("601 away", "stitch-path", "20 times its height", with_path("M 0 0 L 601 0"));
	expect("a million away", "stitch-path", "20 times its height", with_path("M 0 0 L 1000000 0"));
	expect("a million and one", "stitch-path", "too large", with_path("M 0 0 L 1000001 0"));
	expect("a million, and one on", "stitch-path", "too far", with_path("M 0 0 L 999999 0 l 2 0"));
}

Test(limits_stitch, a_thousand_of_them)
{
	g_autoptr(tb_library) library = tb_library_create();
	/* However many are built in, the pattern's own come on top of them. */
	unsigned own = TB_LIMIT_STITCHES - library->stitches->len;
	for (unsigned past = 0; past < 2; past++) {
		GString *text = g_string_new("{\"format\":1,\"stitches\":[\n");
		for (unsigned i = 0; i < own + past; i++)
			g_string_append_printf(text,
				"%s{\"us\":\"q%uq\",\"us_name\":\"q%u\",\"height\":1,"
				"\"moves\":\"%s\",\"symbol\":{%s}}",
				i > 0 ? ",\n" : "", i, i, sc, cross);
		g_string_append(text,
			"],\"pieces\":[{\"name\":\"Back\",\"start\":\"Ch 9.\","
			"\"rows\":[\"Row 1: Sc in 2nd ch from hook and in each ch across.\"]}]}");
		tb_case c = tb_case_read("test.json", text->str);
		cr_expect_eq(tb_diagnostics_count_errors(c.diagnostics), past);
		if (past == 1) {
			const tb_diagnostic *fault = tb_diagnostics_get(c.diagnostics, 0);
			unsigned line = 0, column = 0;
			cr_assert_not_null(fault);
			cr_expect_str_eq(fault->code, "stitch-many");
			tb_source_locate(c.source, fault->place.start, &line, &column);
			cr_expect(line == own + 2 && column == 1, "at %u:%u", line, column);
		}
		tb_case_finish(&c);
		g_string_free(text, TRUE);
	}
}
