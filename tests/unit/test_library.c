/* The stitch library: finding stitches by their terms, and reading a designer's own. */
#include "stitches/stitch.h"

#include <criterion/criterion.h>
#include <string.h>

/* Adds JSON to a fresh library; the code of the first fault, or "" when there was none. */
static char *add(const char *json, tb_library **library)
{
	tb_source *source = tb_source_create("own.json", json, strlen(json));
	g_autoptr(tb_diagnostics) faults = tb_diagnostics_create(source);
	*library = tb_library_create();
	bool sound = tb_library_add_json(*library, source, faults);
	char *code =
		g_strdup(tb_diagnostics_count(faults) > 0 ? tb_diagnostics_get(faults, 0)->code : "");
	cr_expect_eq(sound, *code == '\0');
	g_clear_pointer(&faults, tb_diagnostics_destroy);
	tb_source_destroy(source);
	return code;
}

static void expect_fault(const char *json, const char *expected)
{
	tb_library *library;
	g_autofree char *code = add(json, &library);
	cr_expect_str_eq(code, expected, "%s: %s", json, code);
	tb_library_destroy(library);
}

#define SYMBOL                                                                                     \
	"\"symbol\": {\"form\": \"stem\", \"legs\": 3, \"bars\": 1, \"meet\": \"both\", \"post\": "    \
	"\"none\"}"
#define BOBBLE_MOVES                                                                               \
	"yo, insert, draw up, through 2, yo, insert, draw up, through 2, "                             \
	"yo, insert, draw up, through 2, through 4"
#define BOBBLE                                                                                     \
	"{\"us\": \"wart\", \"us_name\": \"warty bobble\", \"height\": 3, \"moves\": \"" BOBBLE_MOVES  \
	"\", " SYMBOL "}"

Test(library, finds_a_stitch_by_abbreviation_and_name)
{
	g_autoptr(tb_library) library = tb_library_create();
	const tb_stitch *dc = tb_library_find(library, "dc");
	cr_assert_not_null(dc);
	cr_expect_str_eq(tb_stitch_get_us_name(dc), "double crochet");
	cr_expect_eq(tb_library_find(library, "DC"), dc);
	cr_expect_eq(tb_library_find_term(library, "  Double   Crochet ", false), dc);
	cr_expect_eq(tb_library_find_term(library, "double crochets", false), dc);
	cr_expect_str_eq(tb_library_find_term(library, "slip stitches", false)->us, "sl st");
	cr_expect_null(tb_library_find(library, "dcc"));
	cr_expect_null(tb_library_find(library, ""));
}

Test(library, numbers_are_places_in_the_library)
{
	g_autoptr(tb_library) library = tb_library_create();
	for (unsigned i = 0; i < tb_library_count(library); i++)
		cr_expect_eq(tb_library_get(library, i)->number, i);
	cr_expect_null(tb_library_get(library, tb_library_count(library)));
}

static bool is_insert(tb_move_kind kind)
{
	return kind == TB_MOVE_INSERT || kind == TB_MOVE_INSERT_NEXT || kind == TB_MOVE_INSERT_POST ||
		   kind == TB_MOVE_INSERT_BELOW || kind == TB_MOVE_INSERT_BACKWARD;
}

Test(library, symbols_are_made_of_their_moves)
{
	g_autoptr(tb_library) library = tb_library_create();
	for (unsigned i = 0; i < tb_library_count(library); i++) {
		const tb_stitch *stitch = tb_library_get(library, i);
		unsigned inserts = 0, around = 0, before = 0, chains = 0;
		for (unsigned m = 0; m < stitch->moves->count; m++) {
			const tb_move *move = &stitch->moves->moves[m];
			inserts += is_insert(move->kind);
			around += move->kind == TB_MOVE_INSERT_POST;
			before += inserts == 0 && move->kind == TB_MOVE_YARN_OVER;
			chains += move->kind == TB_MOVE_CHAIN ? move->through : 0;
		}
		/* a leg for every time the hook goes in, and a hook at the foot around a post */
		if (inserts > 0)
			cr_expect_eq(stitch->legs, inserts, "%s", stitch->us);
		cr_expect_eq(around > 0, stitch->post != TB_POST_NONE, "%s", stitch->us);
		cr_expect_eq(chains, stitch->chains, "%s", stitch->us);
		/* a bar a yarn over; half double crochet and what is made of it is drawn without; a path is as it is drawn */
		bool half = strstr(stitch->us, "hdc") != NULL;
		/* a coil is wrapped by all its yarn overs, and has no bars beside */
		if (stitch->form == TB_FORM_BULLION)
			cr_expect(before >= 3 && stitch->bars == 0, "%s", stitch->us);
		else if (stitch->path == NULL)
			cr_expect_eq(stitch->bars, half ? 0 : before, "%s", stitch->us);
	}
}

Test(library, every_stitch_has_a_family)
{
	g_autoptr(tb_library) library = tb_library_create();
	for (unsigned i = 0; i < tb_library_count(library); i++)
		cr_expect_lt(tb_library_get(library, i)->family, TB_FAMILY_OWN, "%s",
			tb_library_get(library, i)->us);
}

/* A mark is drawn, but no row can name it: the row language has acts of its own for it. */
Test(library, marks_are_no_stitches)
{
	static const char *const names[] = {"magic ring", "chain ring", "join yarn", "fasten off"};
	g_autoptr(tb_library) library = tb_library_create();
	for (size_t i = 0; i < G_N_ELEMENTS(names); i++) {
		const tb_stitch *mark = tb_library_find_mark(library, names[i]);
		cr_assert_not_null(mark, "%s", names[i]);
		cr_expect_eq(mark->family, TB_FAMILY_MARKS);
		cr_expect_null(tb_library_find(library, names[i]));
		cr_expect_null(tb_library_find_term(library, names[i], true));
		cr_expect_geq(mark->number, tb_library_count(library));
	}
	cr_expect_null(tb_library_find_mark(library, "dc"));
}

Test(library, takes_a_designers_own_stitch)
{
	tb_library *library;
	g_autofree char *code = add("[" BOBBLE "]", &library);
	cr_expect_str_eq(code, "");
	const tb_stitch *bobble = tb_library_find(library, "wart");
	cr_assert_not_null(bobble);
	cr_expect_eq(bobble->takes, 1);
	cr_expect_str_eq(bobble->uk, "wart");
	cr_expect_eq(tb_library_find_term(library, "warty bobbles", true), bobble);
	tb_library_destroy(library);
}

Test(library, an_own_stitch_may_stand_in_for_a_built_in_one)
{
	tb_library *library;
	g_autofree char *code = add("[{\"us\": \"dc3tog\", \"us_name\": \"my cluster\", \"height\": 3, "
								"\"moves\": \"" BOBBLE_MOVES "\", " SYMBOL "}]",
		&library);
	cr_expect_str_eq(code, "");
	cr_expect_str_eq(tb_library_find(library, "dc3tog")->us_name, "my cluster");
	cr_expect_eq(tb_library_find(library, "dc3tog")->takes, 1);
	/* in UK terms the same letters go on meaning what they mean there */
	cr_expect_str_eq(tb_library_find_term(library, "dc3tog", true)->us, "sc3tog");
	tb_library_destroy(library);
}

/* "puff" means one of three here, and four in many a book: what the pattern says goes. */
Test(library, an_own_stitch_may_take_another_spelling)
{
	tb_library *library;
	g_autofree char *code = add("[{\"us\": \"puff\", \"us_name\": \"puff stitch\", \"height\": 3, "
								"\"moves\": \"" BOBBLE_MOVES "\", " SYMBOL "}]",
		&library);
	cr_expect_str_eq(code, "");
	const tb_stitch *own = tb_library_find(library, "puff");
	cr_expect_str_eq(own->us, "puff");
	cr_expect_eq(tb_library_find_term(library, "puff stitches", false), own);
	cr_expect_eq(tb_library_find_term(library, "puff", true), own);
	cr_expect_str_eq(tb_library_find(library, "3-hdc puff")->us, "3-hdc puff");
	tb_library_destroy(library);
}

Test(library, faults_of_an_own_stitch_are_told)
{
	expect_fault("{}", "stitch-json");
	expect_fault("[", "stitch-json");
	expect_fault("[1]", "stitch-value");
	expect_fault("[{\"us\": \"x\", \"us_name\": \"x\", \"height\": 3, \"move\": \"yo\", \"moves\": "
				 "\"" BOBBLE_MOVES "\", " SYMBOL "}]",
		"stitch-key");
	expect_fault("[{\"us\": \"x\", \"us_name\": \"x\", \"height\": 99, \"moves\": \"" BOBBLE_MOVES
				 "\", " SYMBOL "}]",
		"stitch-value");
	expect_fault(
		"[{\"us\": \"x\", \"us_name\": \"x\", \"height\": 3, \"moves\": \"yo, jump\", " SYMBOL "}]",
		"stitch-moves");
	expect_fault("[" BOBBLE ", " BOBBLE "]", "stitch-twice");
	expect_fault("[{\"us\": \"x\", \"us_name\": \"x\", \"also\": [\"dc\"], \"height\": 3, "
				 "\"moves\": \"" BOBBLE_MOVES "\", " SYMBOL "}]",
		"stitch-twice");
	expect_fault("[{\"us\": \"x\", \"us\": \"y\", \"us_name\": \"x\", \"height\": 3, \"moves\": "
				 "\"" BOBBLE_MOVES "\", " SYMBOL "}]",
		"stitch-key");
}

Test(library, loops_that_do_not_come_out_are_refused)
{
	/* two loops left on the hook */
	expect_fault("[{\"us\": \"x\", \"us_name\": \"x\", \"height\": 3, "
				 "\"moves\": \"yo, insert, draw up, through 2\", " SYMBOL "}]",
		"stitch-loops");
	/* more drawn through than there are */
	expect_fault("[{\"us\": \"x\", \"us_name\": \"x\", \"height\": 3, "
				 "\"moves\": \"insert, draw up, through 4\", " SYMBOL "}]",
		"stitch-loops");
}

Test(library, one_bad_stitch_does_not_hide_the_others)
{
	tb_library *library;
	g_autofree char *code = add("[{\"us\": \"bad\"}, " BOBBLE "]", &library);
	cr_expect_str_neq(code, "");
	cr_expect_not_null(tb_library_find(library, "wart"));
	cr_expect_null(tb_library_find(library, "bad"));
	tb_library_destroy(library);
}

#define OWN(SYMBOL)                                                                                \
	"[{\"us\": \"x\", \"us_name\": \"x\", \"height\": 3, \"moves\": \"insert, draw up, through "   \
	"2\", "                                                                                        \
	"\"symbol\": {" SYMBOL "}}]"

Test(library, takes_a_symbol_a_designer_drew)
{
	tb_library *library;
	g_autofree char *code = add(OWN("\"path\": \"M 0 0 V -30\", \"base\": [0, 0], "
									"\"top\": [0, -30], \"fill\": true"),
		&library);
	cr_expect_str_eq(code, "");
	const tb_stitch *own = tb_library_find(library, "x");
	cr_assert_not_null(own);
	cr_assert_eq(own->form, TB_FORM_PATH);
	cr_expect_eq(own->path->count, 2);
	cr_expect_eq(own->path->top_y, -30);
	cr_expect(own->path->filled);
	tb_library_destroy(library);
}

Test(library, faults_of_a_symbol_are_told)
{
	expect_fault(
		OWN("\"path\": \"M 0 0 W 3\", \"base\": [0, 0], \"top\": [0, -30]"), "stitch-path");
	expect_fault(OWN("\"path\": 3, \"base\": [0, 0], \"top\": [0, -30]"), "stitch-path");
	expect_fault(OWN("\"path\": \"M 0 0 V -30\", \"top\": [0, -30]"), "stitch-path");
	expect_fault(OWN("\"path\": \"M 0 0 V -30\", \"base\": [0], \"top\": [0, -30]"), "stitch-path");
	expect_fault(
		OWN("\"path\": \"M 0 0 V -30\", \"base\": [0, 1e99], \"top\": [0, -30]"), "stitch-path");
	expect_fault(
		OWN("\"path\": \"M 0 0 V -30\", \"base\": [0, 0], \"top\": [0, 0]"), "stitch-path");
	expect_fault(OWN("\"path\": \"M 0 0 V -30\", \"base\": [0, 0], \"top\": [0, -3], \"fill\": 1"),
		"stitch-path");
	expect_fault(OWN("\"path\": \"M 0 0 V -30\", \"form\": \"stem\", \"base\": [0, 0], "
					 "\"top\": [0, -3]"),
		"stitch-key");
	expect_fault(
		OWN("\"path\": \"M 0 0 V -3000\", \"base\": [0, 0], \"top\": [0, -3]"), "stitch-path");
	expect_fault(OWN("\"legs\": 2"), "stitch-value");
	expect_fault(OWN("\"form\": \"stem\", \"legs\": 2"), "stitch-value");
	expect_fault(OWN("\"form\": \"stem\", \"foot\": \"slip\""), "stitch-value");
	expect_fault(OWN("\"form\": \"stem\", \"chains\": 3"), "stitch-value");
	expect_fault(OWN("\"form\": \"ring\", \"chains\": 2"), "stitch-value");
	expect_fault(OWN("\"form\": \"ring\""), "stitch-value");
	expect_fault(
		OWN("\"form\": \"stem\", \"post\": \"front\", \"foot\": \"loop\""), "stitch-value");
	expect_fault("[{\"us\": \"x\", \"us_name\": \"x\", \"height\": 3, \"family\": \"marks\", "
				 "\"symbol\": {\"form\": \"stem\"}}]",
		"stitch-value");
}
