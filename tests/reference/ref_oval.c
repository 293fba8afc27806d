/* Ovals, against a book. */
#include "counts.h"

#include <criterion/criterion.h>

/*
 * Oval: ch 40; 3 sc in 2nd ch, 37 sc, 3 sc in the last, 37 sc back along the other side = 80. Round
 * 2 doubles the 3 stitches of each end = 86. Rounds 3 and 4 double 6 at each end = 98, then 110; the
 * book says 110 [American Thread, heavy rug yarn oval rug, 1950s].
 */
Test(oval, rug_of_the_american_thread_company)
{
	tb_case c = tb_case_rows("", "Ch 40.",
		"Rnd 1: 3 sc in 2nd ch from hook, sc in next 37 ch, 3 sc in last ch, working along other "
		"side of foundation ch, sc in next 37 ch. [80 sc]\n"
		"Rnd 2: [2 sc in each of next 3 sts, sc in next 37 sts] twice. [86 sc]\n"
		"Rnd 3: [2 sc in each of next 6 sts, sc in next 37 sts] twice. [98 sc]\n"
		"Rnd 4: [2 sc in each of next 6 sts, sc in next 43 sts] twice. [110 sc]");
	static const guint32 counts[] = {80, 86, 98, 110};
	expect_sound(&c);
	for (guint32 i = 0; i < G_N_ELEMENTS(counts); i++)
		cr_expect_eq(count_row(&c, 0, i + 1), counts[i], "round %u", i + 1);
	tb_case_finish(&c);
}
