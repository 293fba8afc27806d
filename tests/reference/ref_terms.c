/* US and UK terms, against the Craft Yarn Council's table [CYC]. */
#include "stitches/stitch.h"

#include <criterion/criterion.h>

static void expect_uk(const char *us, const char *uk)
{
	g_autoptr(tb_library) library = tb_library_create();
	const tb_stitch *stitch = tb_library_find(library, us);
	cr_assert_not_null(stitch, "%s", us);
	cr_expect_str_eq(tb_stitch_get_uk(stitch), uk);
	cr_expect_eq(tb_library_find_term(library, uk, true), stitch, "UK %s", uk);
}

/* [CYC]: differences between US and UK terms. */
Test(terms, us_and_uk_abbreviations)
{
	expect_uk("ch", "ch");
	expect_uk("sl st", "ss");
	expect_uk("sc", "dc");
	expect_uk("hdc", "htr");
	expect_uk("dc", "tr");
	expect_uk("tr", "dtr");
	expect_uk("dtr", "ttr");
	expect_uk("FPdc", "FPtr");
	expect_uk("BPdc", "BPtr");
	expect_uk("sc2tog", "dc2tog");
	expect_uk("dc2tog", "tr2tog");
}

/* [CYC]: the names in full. */
Test(terms, us_and_uk_names)
{
	static const struct {
		const char *us, *us_name, *uk_name;
	} names[] = {{"sl st", "slip stitch", "slip stitch"},
		{"sc", "single crochet", "double crochet"}, {"hdc", "half double crochet", "half treble"},
		{"dc", "double crochet", "treble"}, {"tr", "treble crochet", "double treble"},
		{"dtr", "double treble crochet", "triple treble"}};
	g_autoptr(tb_library) library = tb_library_create();
	for (size_t i = 0; i < G_N_ELEMENTS(names); i++) {
		const tb_stitch *stitch = tb_library_find(library, names[i].us);
		cr_expect_str_eq(tb_stitch_get_us_name(stitch), names[i].us_name);
		cr_expect_str_eq(tb_stitch_get_uk_name(stitch), names[i].uk_name);
		cr_expect_eq(tb_library_find_term(library, names[i].us_name, false), stitch);
		cr_expect_eq(tb_library_find_term(library, names[i].uk_name, true), stitch);
	}
}

/* Witnesses that are unambiguous: sc and hdc are US, htr and ss are UK (common practice). */
Test(terms, words_of_one_side_only)
{
	g_autoptr(tb_library) library = tb_library_create();
	cr_expect_null(tb_library_find_term(library, "sc", true));
	cr_expect_null(tb_library_find_term(library, "hdc", true));
	cr_expect_null(tb_library_find_term(library, "htr", false));
	cr_expect_null(tb_library_find_term(library, "ss", false));
}

/* Also RtrF, RtrB for the post trebles of UK books (trade facts, Terms). */
Test(terms, raised_trebles)
{
	g_autoptr(tb_library) library = tb_library_create();
	cr_expect_str_eq(tb_library_find_term(library, "RtrF", true)->us, "FPdc");
	cr_expect_str_eq(tb_library_find_term(library, "RtrB", true)->us, "BPdc");
	cr_expect_str_eq(tb_library_find_term(library, "trtr", true)->us, "dtr");
}

/* Older US books part the letters: s c, d c, tr c, s d c for the short double [SF]. */
Test(terms, spaced_letters_of_older_books)
{
	g_autoptr(tb_library) library = tb_library_create();
	cr_expect_str_eq(tb_library_find(library, "s c")->us, "sc");
	cr_expect_str_eq(tb_library_find(library, "d c")->us, "dc");
	cr_expect_str_eq(tb_library_find(library, "tr c")->us, "tr");
	cr_expect_str_eq(tb_library_find(library, "s d c")->us, "hdc");
}

/* Heights in turning chains: sl st 0, sc 1, hdc 2, dc 3, tr 4, dtr 5 (common practice). */
Test(terms, heights)
{
	static const char *const names[] = {"sl st", "sc", "hdc", "dc", "tr", "dtr"};
	g_autoptr(tb_library) library = tb_library_create();
	for (size_t i = 0; i < G_N_ELEMENTS(names); i++)
		cr_expect_eq(tb_stitch_get_height(tb_library_find(library, names[i])), (double)i);
}
