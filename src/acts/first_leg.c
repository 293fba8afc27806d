/*
 * "Ch 3, 2-dc cluster in same sp, *ch 3, 3-dc cluster in next sp": the chain a row begins with is the
 * first leg of its first cluster, and no stitch beside it.
 */
#include "acts/turning.h"
#include "fabric/rules.h"

#include <math.h>

/*
 * "Ch 3, sk first st, dc3tog, *ch 3, sc in next 3 sts, ch 3, dc7tog": half a wheel at the edge, whose middle leg is
 * the chain; or a half of twice as many.
 */
static bool is_twice(const tb_stitch *whole, const tb_stitch *part)
{
	unsigned half = tb_rule_legs(part) + 1, all = tb_rule_legs(whole);
	return whole->family == TB_FAMILY_TOGETHER && part->family == TB_FAMILY_TOGETHER && half > 2 &&
		fabs(whole->height - part->height) < 0.01 && (all == 2 * half || all + 1 == 2 * half);
}

static bool works_whole(const tb_acts *acts, const tb_stitch *part, unsigned depth)
{
	for (unsigned i = 0; i < acts->count; i++) {
		const tb_act *act = &acts->acts[i];
		if (act->kind == TB_ACT_WORK && act->stitch != NULL &&
			(tb_rule_has_one_more(act->stitch, part) || is_twice(act->stitch, part)))
			return true;
		if (depth < TB_LIMIT_NESTING + 2 && works_whole(&act->body, part, depth + 1))
			return true;
	}
	return false;
}

bool tb_turning_is_leg(const tb_hands *h)
{
	const tb_stitch *first = h->now.first_work != NULL ? h->now.first_work->stitch : NULL;
	if (first == NULL || tb_rule_legs(first) < 2 ||
		(first->family != TB_FAMILY_CLUSTERS && first->family != TB_FAMILY_TOGETHER))
		return false;
	return works_whole(&h->sentence->acts, first, 0);
}
