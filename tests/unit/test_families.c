/*
 * Families by rule: what the library has as an entry, a rule makes the same; what it has not, a rule
 * makes by the same law. Names and workings as in the trade's lists of abbreviations and common
 * practice (from memory), where no other source is named.
 */
#include "drawing/glyph.h"
#include "drawing/sample.h"
#include "stitches/stitch.h"
#include "support/limits.h"

#include <criterion/criterion.h>
#include <math.h>
#include <string.h>

static const char *const plain[] = {"sc", "hdc", "dc", "tr", "dtr", "trtr"};

static char *moves_text(const tb_moves *moves)
{
	static const char *const words[] = {"yo", "in", "next", "post", "below", "backward", "bar",
		"first", "up", "through", "pull", "ch", "close"};
	GString *text = g_string_new(NULL);
	for (unsigned i = 0; i < moves->count; i++) {
		g_string_append_printf(text, "%s%s", i > 0 ? " " : "", words[moves->moves[i].kind]);
		if (moves->moves[i].through > 0)
			g_string_append_printf(text, "%u", moves->moves[i].through);
	}
	return g_string_free(text, FALSE);
}

static void expect_moves(const tb_stitch *stitch, const char *expected)
{
	cr_assert_not_null(stitch, "%s", expected);
	g_autofree char *text = moves_text(stitch->moves);
	cr_expect_str_eq(text, expected, "%s: %s", stitch->us, text);
}

static void expect_terms(const tb_stitch *stitch, const char *us, const char *us_name,
	const char *uk, const char *uk_name)
{
	cr_assert_not_null(stitch, "%s", us);
	cr_expect_str_eq(stitch->us, us);
	cr_expect_str_eq(stitch->us_name, us_name);
	cr_expect_str_eq(stitch->uk, uk);
	cr_expect_str_eq(stitch->uk_name, uk_name);
}

static void expect_same(const tb_stitch *made, const tb_stitch *entry, bool same_moves)
{
	cr_assert_not_null(made, "%s is not made", entry->us);
	expect_terms(made, entry->us, entry->us_name, entry->uk, entry->uk_name);
	cr_expect_eq(made->family, entry->family, "%s", entry->us);
	cr_expect_float_eq(made->height, entry->height, 1e-9, "%s", entry->us);
	cr_expect_eq(made->takes, entry->takes, "%s", entry->us);
	cr_expect_eq(made->post, entry->post, "%s", entry->us);
	cr_expect_eq(made->form, entry->form, "%s", entry->us);
	cr_expect_eq(made->legs, entry->legs, "%s", entry->us);
	cr_expect_eq(made->bars, entry->bars, "%s", entry->us);
	cr_expect_eq(made->meet, entry->meet, "%s", entry->us);
	cr_expect_eq(made->head, entry->head, "%s", entry->us);
	cr_expect_eq(made->foot, entry->foot, "%s", entry->us);
	cr_expect_eq(made->chains, entry->chains, "%s", entry->us);
	g_autofree char *a = moves_text(made->moves);
	g_autofree char *b = moves_text(entry->moves);
	cr_expect_eq(strcmp(a, b) == 0, same_moves, "%s: %s", entry->us, a);
}

/* Calls EACH with all that rules make of BASES, of no more than N legs or chains; NULL where none. */
static void make_all(tb_library *library, const tb_stitch *const *bases, unsigned count, unsigned n,
	void (*each)(const tb_stitch *made, void *data), void *data)
{
	for (unsigned chains = 2; chains <= MIN(n, TB_LIMIT_SYMBOL_CHAINS); chains++)
		each(tb_library_picot(library, chains), data);
	for (unsigned b = 0; b < count; b++) {
		const tb_stitch *post[2] = {tb_library_post(library, bases[b], TB_POST_FRONT),
			tb_library_post(library, bases[b], TB_POST_BACK)};
		for (unsigned i = 0; i < 2; i++)
			each(post[i], data);
		for (int v = TB_VARIANT_EXTENDED; v <= TB_VARIANT_LINKED; v++)
			each(tb_library_variant(library, bases[b], (tb_variant)v), data);
		for (unsigned legs = 2; legs <= n; legs++) {
			each(tb_library_together(library, bases[b], legs), data);
			for (unsigned i = 0; i < 2; i++)
				each(tb_library_together(library, post[i], legs), data);
			for (int f = TB_FAMILY_FORM_CLUSTER; f <= TB_FAMILY_FORM_PUFF; f++)
				each(tb_library_in_one(library, (tb_family_form)f, bases[b], legs), data);
		}
	}
}

static void find_bases(const tb_library *library, const tb_stitch **bases)
{
	for (size_t i = 0; i < G_N_ELEMENTS(plain); i++) {
		bases[i] = tb_library_find(library, plain[i]);
		cr_assert_not_null(bases[i], "%s", plain[i]);
	}
}

typedef struct {
	tb_library *entries;
	GHashTable *seen; /* numbers of the entries that a rule made */
} comparison;

/*
 * Two or three dc around one post are closed in two steps (test reference/loops,
 * cluster_around_one_post); by rule each leg would be worked off by itself, as of tr.
 */
static bool is_closed_in_two(const char *us)
{
	return g_str_has_suffix(us, "Pdc2tog") || g_str_has_suffix(us, "Pdc3tog");
}

static void compare(const tb_stitch *made, void *data)
{
	comparison *c = data;
	const tb_stitch *entry = made != NULL ? tb_library_find(c->entries, made->us) : NULL;
	if (entry == NULL)
		return;
	expect_same(made, entry, !is_closed_in_two(entry->us));
	g_hash_table_add(c->seen, GUINT_TO_POINTER(entry->number));
}

/* All that symbols/ says of families is what the rules say. */
Test(families, a_rule_makes_what_the_entry_says)
{
	g_autoptr(tb_library) entries = tb_library_create(), bare = tb_library_create();
	const tb_stitch *bases[G_N_ELEMENTS(plain)];
	find_bases(bare, bases);
	/* where nothing is known by its name, everything must be made */
	g_hash_table_remove_all(bare->by_us);
	g_hash_table_remove_all(bare->by_uk);
	comparison c = {entries, g_hash_table_new(NULL, NULL)};
	make_all(bare, bases, G_N_ELEMENTS(plain), 6, compare, &c);
	for (unsigned i = 0; i < tb_library_count(entries); i++) {
		const tb_stitch *entry = tb_library_get(entries, i);
		static const char *const alone[] = {"picot-sc", "rsc", "lhdc", "hhdc", "hbdc", "lp st", "bead sc", "bead hdc", "bead dc",
			"bullion st", NULL};
		bool by_hand = entry->family == TB_FAMILY_CHAINS || entry->family == TB_FAMILY_PLAIN ||
					   g_strv_contains(alone, entry->us);
		cr_expect_eq(g_hash_table_contains(c.seen, GUINT_TO_POINTER(i)), !by_hand, "%s", entry->us);
	}
	g_hash_table_unref(c.seen);
	/* and no term of theirs means anything else in the library */
	GHashTableIter iter;
	gpointer key, value;
	for (int uk = 0; uk < 2; uk++) {
		g_hash_table_iter_init(&iter, uk ? bare->by_uk : bare->by_us);
		while (g_hash_table_iter_next(&iter, &key, &value)) {
			const tb_stitch *entry = tb_library_find_term(entries, key, uk), *made = value;
			if (entry != NULL)
				cr_expect_str_eq(entry->us, made->us, "%s", (char *)key);
		}
	}
}

static void expect_built_in(const tb_stitch *made, void *data)
{
	const tb_library *library = data;
	unsigned before = library->built_in;
	if (made != NULL && made->number < before)
		cr_expect_not(made->by_rule, "%s", made->us);
}

Test(families, what_is_there_is_found_and_not_made)
{
	g_autoptr(tb_library) library = tb_library_create();
	unsigned count = tb_library_count(library);
	const tb_stitch *dc = tb_library_find(library, "dc"), *tr = tb_library_find(library, "tr");
	cr_expect_eq(tb_library_together(library, dc, 3), tb_library_find(library, "dc3tog"));
	cr_expect_eq(tb_library_in_one(library, TB_FAMILY_FORM_CLUSTER, tr, 3),
		tb_library_find(library, "3-tr cl"));
	cr_expect_eq(tb_library_picot(library, 4), tb_library_find(library, "ch-4 picot"));
	cr_expect_eq(tb_library_post(library, tr, TB_POST_BACK), tb_library_find(library, "BPtr"));
	cr_expect_eq(
		tb_library_variant(library, dc, TB_VARIANT_EXTENDED), tb_library_find(library, "edc"));
	cr_expect_eq(tb_library_together(library, tb_library_find(library, "FPdc"), 2),
		tb_library_find(library, "FPdc2tog"));
	cr_expect_eq(tb_library_count(library), count);
	const tb_stitch *bases[G_N_ELEMENTS(plain)];
	find_bases(library, bases);
	make_all(library, bases, G_N_ELEMENTS(plain), 5, expect_built_in, library);
	count = tb_library_count(library);
	make_all(library, bases, G_N_ELEMENTS(plain), 5, expect_built_in, library);
	cr_expect_eq(tb_library_count(library), count, "made twice");
}

Test(families, what_is_made_is_found_by_its_terms)
{
	g_autoptr(tb_library) library = tb_library_create();
	unsigned count = tb_library_count(library);
	const tb_stitch *sc = tb_library_find(library, "sc");
	const tb_stitch *made = tb_library_together(library, sc, 7);
	expect_terms(
		made, "sc7tog", "single crochet 7 together", "dc7tog", "double crochet 7 together");
	cr_expect_eq(made->number, count);
	cr_expect_eq(tb_library_get(library, count), made);
	cr_expect_eq(tb_library_find(library, "SC7TOG"), made);
	cr_expect_eq(tb_library_find(library, "single crochet 7 together"), made);
	cr_expect_eq(tb_library_find_term(library, "dc7tog", true), made);
	/* US dc7tog is another stitch, and not made by this */
	cr_expect_null(tb_library_find(library, "dc7tog"));
	cr_expect_eq(tb_library_together(library, sc, 7), made);
	cr_expect_eq(tb_library_count(library), count + 1);
}

Test(families, together)
{
	g_autoptr(tb_library) library = tb_library_create();
	const tb_stitch *made = tb_library_together(library, tb_library_find(library, "hdc"), 6);
	expect_moves(made, "yo in up yo next up yo next up yo next up yo next up yo next up through13");
	cr_expect_eq(made->takes, 6);
	cr_expect_eq(made->legs, 6);
	cr_expect_float_eq(made->height, 2, 1e-9);
	made = tb_library_together(library, tb_library_find(library, "esc"), 2);
	expect_terms(made, "esc2tog", "extended single crochet 2 together", "edc2tog",
		"extended double crochet 2 together");
	expect_moves(made, "in up through1 next up through1 through3");
	made = tb_library_together(library, tb_library_find(library, "FPdc"), 4);
	expect_terms(made, "FPdc4tog", "front post double crochet 4 together", "FPtr4tog",
		"front post treble 4 together");
	expect_moves(made, "yo post up through2 yo post up through2 yo post up through2 "
					   "yo post up through2 through5");
	cr_expect_eq(made->takes, 1);
	cr_expect_eq(made->legs, 4);
}

Test(families, in_one_place)
{
	g_autoptr(tb_library) library = tb_library_create();
	const tb_stitch *hdc = tb_library_find(library, "hdc"), *dc = tb_library_find(library, "dc");
	const tb_stitch *made =
		tb_library_in_one(library, TB_FAMILY_FORM_CLUSTER, tb_library_find(library, "tr"), 7);
	expect_terms(made, "7-tr cl", "cluster of 7 tr", "7-dtr cl", "cluster of 7 dtr");
	cr_expect_eq(made->legs, 7);
	cr_expect_eq(made->bars, 2);
	cr_expect_eq(made->takes, 1);
	cr_expect_float_eq(made->height, 4, 1e-9);
	/* n + 1 loops before they are closed, one more while the last leg is worked */
	unsigned most, left;
	tb_stitch_get_loops(made, &most, &left);
	cr_expect_eq(most, 7 + 3);
	cr_expect_eq(left, 1);
	expect_moves(
		tb_library_in_one(library, TB_FAMILY_FORM_PUFF, hdc, 2), "yo in up yo in up through5");
	cr_expect_float_eq(tb_library_find(library, "2-hdc puff")->height, 3, 1e-9);
	made = tb_library_in_one(library, TB_FAMILY_FORM_POPCORN, dc, 6);
	expect_terms(made, "6-dc popcorn", "popcorn of 6 dc", "6-tr popcorn", "popcorn of 6 tr");
	cr_expect_eq(made->moves->count, 6 * 5 + 1);
	tb_stitch_get_loops(made, &most, &left);
	cr_expect_eq(most, 3);
	made = tb_library_in_one(library, TB_FAMILY_FORM_BOBBLE, dc, 6);
	expect_terms(made, "6-dc bobble", "bobble of 6 dc", "6-tr bobble", "bobble of 6 tr");
	expect_moves(
		tb_library_in_one(library, TB_FAMILY_FORM_CLUSTER, tb_library_find(library, "sc"), 3),
		"in up in up in up through4");
}

Test(families, posts_of_tall_and_extended_stitches)
{
	g_autoptr(tb_library) library = tb_library_create();
	const tb_stitch *made =
		tb_library_post(library, tb_library_find(library, "trtr"), TB_POST_BACK);
	expect_terms(
		made, "BPtrtr", "back post triple treble crochet", "BPqtr", "back post quadruple treble");
	/* a chart as seen from the other side needs its like */
	cr_expect_not_null(tb_library_find(library, "FPtrtr"));
	made = tb_library_post(library, tb_library_find(library, "esc"), TB_POST_FRONT);
	expect_terms(made, "FPesc", "front post extended single crochet", "FPedc",
		"front post extended double crochet");
	expect_moves(made, "post up through1 through2");
	const tb_stitch *hdc = tb_library_find(library, "hdc");
	made = tb_library_post(library, tb_library_together(library, hdc, 4), TB_POST_FRONT);
	expect_terms(made, "FPhdc4tog", "front post half double crochet 4 together", "FPhtr4tog",
		"front post half treble 4 together");
	expect_moves(made, "yo post up yo post up yo post up yo post up through9");
	cr_expect_eq(
		made, tb_library_together(library, tb_library_post(library, hdc, TB_POST_FRONT), 4));
}

Test(families, variants)
{
	g_autoptr(tb_library) library = tb_library_create();
	const tb_stitch *dc = tb_library_find(library, "dc"), *tr = tb_library_find(library, "tr");
	const tb_stitch *dtr = tb_library_find(library, "dtr");
	const tb_stitch *made = tb_library_variant(library, dtr, TB_VARIANT_EXTENDED);
	expect_terms(made, "edtr", "extended double treble crochet", "ettr", "extended triple treble");
	expect_moves(made, "yo yo yo in up through1 through2 through2 through2 through2");
	cr_expect_float_eq(made->height, 6, 1e-9);
	made = tb_library_variant(library, tr, TB_VARIANT_FOUNDATION);
	expect_terms(made, "ftr", "foundation treble crochet", "fdtr", "foundation double treble");
	expect_moves(made, "yo yo in up through1 through2 through2 through2");
	cr_expect_float_eq(made->height, 4, 1e-9);
	cr_expect_eq(made->foot, TB_FOOT_CHAIN);
	made = tb_library_variant(library, dc, TB_VARIANT_SPIKE);
	expect_terms(made, "spike dc", "spike double crochet", "spike tr", "spike treble");
	expect_moves(made, "yo below up through2 through2");
	/* loops through the bars of the stitch before, where a treble has its yarn overs */
	made = tb_library_variant(library, tr, TB_VARIANT_LINKED);
	expect_terms(made, "ltr", "linked treble crochet", "ldtr", "linked double treble");
	expect_moves(made, "bar up bar up in up through2 through2 through2");
	cr_expect_eq(made->bars, 2);
	g_autofree char *said = tb_stitch_describe(made, false);
	cr_expect_str_eq(said,
		"[insert hook down through next horizontal bar of st before, draw up a loop] twice, insert "
		"hook in st, draw up a loop (4 loops on hook), [yo, draw through 2 loops] 3 times");
}

Test(families, picots)
{
	g_autoptr(tb_library) library = tb_library_create();
	const tb_stitch *made = tb_library_picot(library, 7);
	expect_terms(made, "ch-7 picot", "picot of 7 chains", "ch-7 picot", "picot of 7 chains");
	expect_moves(made, "ch7 first up pull1");
	cr_expect_eq(made->takes, 0);
	cr_expect_null(tb_library_picot(library, 1));
	cr_expect_null(tb_library_picot(library, 13));
}

Test(families, what_makes_no_sense_is_not_made)
{
	static const char *const not_bases[] = {"ch", "sl st", "ch-3 picot", "picot-sc", "rsc",
		"spike sc", "fdc", "3-dc cl", "5-dc popcorn", "3-hdc puff", "FPdc2tog"};
	g_autoptr(tb_library) library = tb_library_create();
	unsigned count = tb_library_count(library);
	for (size_t i = 0; i < G_N_ELEMENTS(not_bases); i++) {
		const tb_stitch *base = tb_library_find(library, not_bases[i]);
		cr_assert_not_null(base, "%s", not_bases[i]);
		cr_expect_null(tb_library_together(library, base, 3), "%s", base->us);
		for (int f = TB_FAMILY_FORM_CLUSTER; f <= TB_FAMILY_FORM_PUFF; f++)
			cr_expect_null(tb_library_in_one(library, (tb_family_form)f, base, 3), "%s", base->us);
		for (int p = TB_POST_NONE; p <= TB_POST_BACK; p++)
			cr_expect_null(tb_library_post(library, base, (tb_post)p), "%s", base->us);
		for (int v = TB_VARIANT_EXTENDED; v <= TB_VARIANT_LINKED; v++)
			cr_expect_null(tb_library_variant(library, base, (tb_variant)v), "%s", base->us);
	}
	const tb_stitch *sc = tb_library_find(library, "sc"), *hdc = tb_library_find(library, "hdc");
	cr_expect_null(tb_library_together(library, NULL, 3));
	for (unsigned n = 0; n < 2; n++) {
		cr_expect_null(tb_library_together(library, sc, n));
		cr_expect_null(tb_library_in_one(library, TB_FAMILY_FORM_CLUSTER, hdc, n));
	}
	cr_expect_null(tb_library_together(library, sc, 21));
	cr_expect_null(tb_library_in_one(library, TB_FAMILY_FORM_CLUSTER, hdc, 21));
	cr_expect_null(tb_library_in_one(library, TB_FAMILY_FORM_POPCORN, sc, 5));
	cr_expect_null(tb_library_post(library, hdc, TB_POST_NONE));
	cr_expect_null(tb_library_variant(library, hdc, TB_VARIANT_LINKED));
	cr_expect_null(tb_library_post(library, tb_library_find(library, "FPdc"), TB_POST_BACK));
	cr_expect_eq(tb_library_count(library), count);
}

static void add(tb_library *library, const char *json, const char *expected)
{
	g_autoptr(tb_source) source = tb_source_create("own.json", json, strlen(json));
	g_autoptr(tb_diagnostics) faults = tb_diagnostics_create(source);
	tb_library_add_json(library, source, faults);
	const tb_diagnostic *fault = tb_diagnostics_get(faults, 0);
	cr_expect_str_eq(fault != NULL ? fault->code : "", expected);
}

#define OWN(US, TAKES)                                                                             \
	"[{\"us\": \"" US "\", \"us_name\": \"own\", \"height\": 3, \"takes\": " TAKES                 \
	", \"moves\": \"yo, insert, draw up, through 3\", \"symbol\": {\"form\": \"stem\"}}]"

Test(families, a_designers_own_goes_before)
{
	g_autoptr(tb_library) library = tb_library_create();
	add(library, OWN("dc7tog", "7"), "");
	const tb_stitch *own = tb_library_find(library, "dc7tog"), *dc = tb_library_find(library, "dc");
	cr_expect_eq(tb_library_together(library, dc, 7), own);
	/* what is worked otherwise is not taken for it */
	g_autoptr(tb_library) other = tb_library_create();
	add(other, OWN("dc7tog", "2"), "");
	cr_expect_null(tb_library_together(other, tb_library_find(other, "dc"), 7));
	/* and what a rule made first takes no word from a designer */
	g_autoptr(tb_library) later = tb_library_create();
	const tb_stitch *made = tb_library_together(later, tb_library_find(later, "dc"), 7);
	add(later, OWN("dc7tog", "2"), "");
	cr_expect_neq(tb_library_find(later, "dc7tog"), made);
	cr_expect_str_eq(made->us_name, "double crochet 7 together");
}

static void expect_sound(const tb_stitch *made, void *data)
{
	unsigned *count = data;
	if (made == NULL)
		return;
	(*count)++;
	unsigned most, left, fault, inserts = 0, before = 0;
	g_autofree unsigned *loops = g_new(unsigned, made->moves->count);
	cr_assert(tb_moves_simulate(made->moves, loops, &most, &left, &fault), "%s", made->us);
	cr_expect_eq(left, 1, "%s", made->us);
	for (unsigned i = 0; i < made->moves->count; i++) {
		tb_move_kind kind = made->moves->moves[i].kind;
		cr_expect_geq(loops[i], 1, "%s", made->us);
		before += inserts == 0 && (kind == TB_MOVE_YARN_OVER || kind == TB_MOVE_INSERT_BAR);
		inserts += kind == TB_MOVE_INSERT || kind == TB_MOVE_INSERT_NEXT ||
				   kind == TB_MOVE_INSERT_POST || kind == TB_MOVE_INSERT_BELOW;
	}
	/* a leg for every time the hook goes in; a bar a yarn over, but none for hdc */
	if (inserts > 0)
		cr_expect_eq(made->legs, inserts, "%s", made->us);
	cr_expect_eq(made->bars, strstr(made->us, "hdc") != NULL ? 0 : before, "%s", made->us);
	cr_expect_eq(tb_stitch_get_height(made) > 0, made->takes > 0, "%s", made->us);
	g_autofree char *said = tb_stitch_describe(made, true);
	cr_expect_gt(strlen(said), 0);
}

Test(families, loops_come_out_and_legs_agree)
{
	g_autoptr(tb_library) library = tb_library_create();
	const tb_stitch *bases[G_N_ELEMENTS(plain)];
	find_bases(library, bases);
	unsigned count = 0;
	make_all(library, bases, G_N_ELEMENTS(plain), 20, expect_sound, &count);
	/* 11 picots; of each base: 2 posts, 4 variants (3 without a bar), 19 times 3 together, and 19
	 * times 4 in one (2 of sc) */
	cr_expect_eq(count, 11 + 6 * (2 + 4 + 19 * 3 + 19 * 4) - 2 - 2 * 19);
	cr_expect_leq(tb_library_count(library), TB_LIMIT_STITCHES);
}

Test(families, a_full_library_takes_no_more)
{
	g_autoptr(tb_library) library = tb_library_create();
	const tb_stitch *bases[8] = {NULL};
	find_bases(library, bases);
	bases[6] = tb_library_variant(library, bases[2], TB_VARIANT_EXTENDED);
	bases[7] = tb_library_variant(library, bases[3], TB_VARIANT_EXTENDED);
	unsigned count = 0;
	make_all(library, bases, 8, 20, expect_sound, &count);
	for (unsigned i = 0; i < 8; i++)
		for (unsigned n = 2; n <= 20; n++)
			tb_library_post(library, tb_library_together(library, bases[i], n), TB_POST_FRONT);
	while (tb_library_count(library) < TB_LIMIT_STITCHES) {
		tb_stitch *filler = g_new0(tb_stitch, 1);
		filler->number = tb_library_count(library);
		g_ptr_array_add(library->stitches, filler);
	}
	const tb_stitch *etrtr = tb_library_variant(library, bases[5], TB_VARIANT_EXTENDED);
	cr_expect_not_null(etrtr, "made before it was full");
	cr_expect_null(tb_library_together(library, etrtr, 2));
	cr_expect_eq(tb_library_count(library), TB_LIMIT_STITCHES);
}

static unsigned count_parts(const GArray *parts, tb_part_kind kind)
{
	unsigned count = 0;
	for (guint i = 0; i < parts->len; i++)
		count += g_array_index(parts, tb_part, i).kind == kind;
	return count;
}

/* As many legs are drawn as there are, each with its bars, or it is told how many they are. */
static void expect_drawn(const tb_stitch *made, void *data)
{
	if (made == NULL)
		return;
	tb_sample sample;
	tb_sample_init(&sample, made, 8, 4, 0.44);
	for (guint i = 0; i < sample.parts->len; i++) {
		double left, top, right, bottom;
		cr_assert(tb_path_bounds(
					  g_array_index(sample.parts, tb_part, i).path, &left, &top, &right, &bottom),
			"%s", made->us);
		cr_assert(
			isfinite(left) && isfinite(top) && isfinite(right) && isfinite(bottom), "%s", made->us);
		cr_expect(left > -8 && right < 8, "%s reaches from %g to %g", made->us, left, right);
	}
	if (made->form == TB_FORM_RING) {
		/* and the slip stitch that closes it */
		cr_expect_eq(count_parts(sample.parts, TB_PART_BODY), made->chains + 1, "%s", made->us);
	} else if (made->post != TB_POST_BACK) {
		/* a back post's leg is broken by the head it passes under */
		unsigned legs = count_parts(sample.parts, TB_PART_LEG), bars = count_parts(sample.parts, TB_PART_BAR);
		bool figure = legs != made->legs;
		/* Legs that would stand too close are told by a figure between some of them. */
		cr_expect(!figure || (legs < made->legs && count_parts(sample.parts, TB_PART_BODY) > 0), "%s", made->us);
		/* A yarn over is a bar on every leg, or a belt around them all. */
		cr_expect(bars == made->legs * made->bars || bars == made->bars || (figure && bars >= made->bars), "%s", made->us);
	}
	cr_expect_geq(count_parts(sample.parts, TB_PART_HEAD) + count_parts(sample.parts, TB_PART_BODY),
		1, "%s", made->us);
	tb_sample_finish(&sample);
}

Test(families, every_leg_is_drawn)
{
	g_autoptr(tb_library) library = tb_library_create();
	const tb_stitch *bases[G_N_ELEMENTS(plain)];
	find_bases(library, bases);
	make_all(library, bases, G_N_ELEMENTS(plain), 20, expect_drawn, NULL);
	const tb_stitch *esc = tb_library_find(library, "esc"), *edc = tb_library_find(library, "edc");
	for (unsigned n = 2; n <= 20; n++) {
		expect_drawn(tb_library_together(library, esc, n), NULL);
		expect_drawn(tb_library_together(library, edc, n), NULL);
	}
	expect_drawn(tb_library_post(library, esc, TB_POST_FRONT), NULL);
	expect_drawn(tb_library_post(library, edc, TB_POST_FRONT), NULL);
}

/* The loop of an extended stitch is seen, one at each foot, or on the leg around a post. */
Test(families, extended_stitches_show_their_loop)
{
	static const char *const names[] = {"esc", "edc"};
	g_autoptr(tb_library) library = tb_library_create();
	for (size_t i = 0; i < G_N_ELEMENTS(names); i++) {
		const tb_stitch *base = tb_library_find(library, names[i]);
		const tb_stitch *made[] = {base, tb_library_together(library, base, 3),
			tb_library_post(library, base, TB_POST_FRONT)};
		const unsigned loops[] = {1, 3, 1};
		for (size_t k = 0; k < G_N_ELEMENTS(made); k++) {
			tb_sample sample;
			tb_sample_init(&sample, made[k], 8, 4, 0.44);
			cr_expect_eq(count_parts(sample.parts, TB_PART_BODY), loops[k], "%s", made[k]->us);
			tb_sample_finish(&sample);
		}
	}
}
