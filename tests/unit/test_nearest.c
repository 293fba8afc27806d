/* The nearest word, for "did you mean". */
#include "support/nearest.h"

#include <criterion/criterion.h>
#include <string.h>

static const char *nearest(const char *word)
{
	static const char *const words[] = {"dc", "hdc", "gauge", "stitches", "pieces", "across"};
	return tb_nearest(word, strlen(word), words, 6);
}

Test(nearest, one_edit_of_each_kind)
{
	cr_expect_str_eq(nearest("guage"), "gauge"); /* two neighbours swapped */
	cr_expect_str_eq(nearest("acros"), "across");
	cr_expect_str_eq(nearest("accross"), "across");
	cr_expect_str_eq(nearest("gauje"), "gauge");
	cr_expect_str_eq(nearest("Pieces"), "pieces"); /* letter case is no difference */
}

Test(nearest, a_third_of_the_word_and_no_more)
{
	cr_expect_str_eq(nearest("stches"), "stitches");
	cr_expect_null(nearest("stitchings and more"));
	cr_expect_null(nearest("xyz"));
}

Test(nearest, nothing_is_near_nothing)
{
	cr_expect_null(nearest(""));
	cr_expect_null(nearest("x"), "one letter is no misspelling");
	char longest[5000];
	memset(longest, 'd', sizeof(longest) - 1);
	longest[sizeof(longest) - 1] = '\0';
	cr_expect_null(nearest(longest));
}
