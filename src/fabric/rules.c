/* Rules of the trade; each stands in the header, where it is declared. */
#include "fabric/rules.h"

/* So many stitches tell that a row goes along an edge. */
#define STITCHES_ALONG 4u

#include <math.h>
#include <string.h>

tb_stitches tb_fabric_stitches(const tb_fabric *fabric, const tb_library *library)
{
	return (tb_stitches){fabric->made, fabric->made_count, fabric->bases, fabric->rows, library};
}

/* --- chains that stand for a stitch --- */

bool tb_rule_chain_counts(unsigned chains, unsigned height)
{
	return chains >= 3 || (chains == 2 && height >= 2);
}

bool tb_rule_fits(unsigned chains, const tb_stitch *stitch, bool counted)
{
	unsigned height = tb_stitch_chains(stitch);
	return chains == height || height == 0 ||
		(chains + 1 == height && (stitch->post != TB_POST_NONE || !counted));
}

tb_standing_chains tb_rule_skipped_chains(const tb_skipped_chains *s)
{
	unsigned height = s->height, beyond = s->skipped > height ? s->skipped - height : 0;
	tb_standing_chains standing = {.chains = s->skipped, .fits = true};
	/* "sc in 4th ch from hook, *ch 1, sk 1 ch, sc in next ch": one stands up, one is the space, one is missed */
	bool low = height == 1 && beyond == 2 && s->said != TB_COUNTS_NOT && !s->in_group && s->has_space(s->row, 1);
	if (low || s->said_space > 0) {
		standing.chains = height;
		standing.space = MAX(s->said_space, 1);
	} else if ((beyond == 1 && (height >= 2 || s->said == TB_COUNTS)) || (height >= 2 && beyond >= 2 && s->in_group)) {
		standing.chains = height;
	} else if (height >= 2 && beyond >= 2 && beyond % 2 == 0 && (beyond == 4 || s->has_space(s->row, beyond / 2))) {
		standing.chains = height;
		standing.space = beyond / 2;
	} else {
		standing.fits = false;
	}
	standing.counted = low || s->said == TB_COUNTS ||
		(s->said == TB_COUNTS_UNSAID && tb_rule_chain_counts(standing.chains, height));
	return standing;
}

/* --- the tops of a row --- */

guint32 tb_rule_tops(const tb_stitches *s, const tb_made_row *below, bool same_way, bool on_join, guint32 beside,
	guint32 *places, guint32 *turning)
{
	guint32 count = 0;
	*turning = TB_NONE;
	for (guint32 i = 0; i < below->count; i++) {
		guint32 at = same_way ? below->first + i : below->first + below->count - 1 - i;
		guint8 flags = s->made[at].flags;
		if ((!(flags & TB_MADE_COUNTED) && at != beside) || at < below->first + below->over)
			continue;
		if (flags & TB_MADE_TURNING)
			*turning = count;
		places[count++] = at;
	}
	if (on_join && count > 1) {
		guint32 last = places[count - 1];
		memmove(places + 1, places, (count - 1) * sizeof *places);
		places[0] = last;
		if (*turning != TB_NONE)
			*turning = (*turning + 1) % count;
	}
	return count;
}

/* --- which stitch is meant --- */

unsigned tb_rule_legs(const tb_stitch *stitch)
{
	return MAX(stitch->takes, stitch->legs);
}

bool tb_rule_has_one_more(const tb_stitch *whole, const tb_stitch *part)
{
	bool alike = whole->family == part->family && whole->meet == part->meet && whole->head == part->head;
	bool in_one = part->family == TB_FAMILY_TOGETHER && whole->family == TB_FAMILY_CLUSTERS;
	return (alike || in_one) &&
		whole->post == part->post && fabs(whole->height - part->height) < 0.01 &&
		tb_rule_legs(whole) == tb_rule_legs(part) + 1;
}

bool tb_rule_is_together(const tb_stitch *made, const tb_stitch *named)
{
	size_t length = strlen(named->us);
	return made->takes > 1 && strncmp(made->us, named->us, length) == 0 && g_ascii_isdigit(made->us[length]);
}

bool tb_rule_is_kind(const tb_stitches *s, guint32 at, const tb_stitch *named)
{
	const tb_made *made = &s->made[at];
	if (made->flags & TB_MADE_TURNING)
		return named == s->rows[made->row].turning_as ||
			(named->post == TB_POST_NONE && named->legs == 1 && made->chains == named->height);
	return made->stitch == named->number || tb_rule_is_together(tb_library_get(s->library, made->stitch), named);
}

/* What is hidden behind a stitch, or its base. */
static guint32 stands_on(const tb_stitches *s, guint32 at)
{
	const tb_made *made = &s->made[at];
	return made->behind == TB_NONE && made->base_count > 0 ? tb_stitches_base(s, made, (made->base_count - 1u) / 2u) :
		made->behind;
}

bool tb_rule_is_bridge(const tb_stitches *s, guint32 at)
{
	const tb_made *made = &s->made[at];
	return made->flags & TB_MADE_CHAIN && made->base_count == 0 && made->behind == TB_NONE;
}

static bool is_bridge_of(const tb_stitches *s, guint32 at, guint32 row)
{
	return s->made[at].row == row && tb_rule_is_bridge(s, at);
}

/*
 * "Ch 5, sk 5 sts": each chain lies over one of the stitches that were missed, between those that what
 * stands on either side of the chains is worked in. TB_NONE where they are not nearly as many.
 */
static guint32 missed_below(const tb_stitches *s, guint32 at)
{
	guint32 row = s->made[at].row, first = at, end = at + 1;
	while (first > 0 && is_bridge_of(s, first - 1, row))
		first--;
	while (end < s->made_count && is_bridge_of(s, end, row))
		end++;
	if (first == 0 || end >= s->made_count || s->made[first - 1].row != row || s->made[end].row != row)
		return TB_NONE;
	guint32 before = stands_on(s, first - 1), after = stands_on(s, end), chains = end - first;
	if (before == TB_NONE || after == TB_NONE || before == after)
		return TB_NONE;
	guint32 missed = (before < after ? after - before : before - after) - 1;
	if (missed == 0 || missed > chains + 2 || chains > missed + 2)
		return TB_NONE;
	guint32 step = 1 + (at - first) * missed / chains;
	return before < after ? before + step : before - step;
}

guint32 tb_rule_below(const tb_stitches *s, guint32 at)
{
	guint32 below = tb_rule_is_bridge(s, at) ? missed_below(s, at) : stands_on(s, at);
	/* a picot stands on its own row */
	return below == TB_NONE || s->made[below].row + 1 != s->made[at].row ? TB_NONE : below;
}

bool tb_rule_is_along(const tb_stitches *s, guint32 row)
{
	const tb_made_row *of = &s->rows[row];
	unsigned seen = 0;
	for (guint32 i = of->first; i < of->first + of->count && seen < STITCHES_ALONG && row > 1 && !of->taken; i++) {
		const tb_made *made = &s->made[i];
		if ((made->flags & (TB_MADE_TURNING | TB_MADE_CHAIN)) != 0 || (made->flags & TB_MADE_COUNTED) == 0)
			continue;
		if (made->base_count > 0)
			return false;
		seen++;
	}
	return seen == STITCHES_ALONG;
}

guint32 tb_rule_stands_on(const tb_stitches *s, guint32 row)
{
	const tb_made_row *of = &s->rows[row];
	guint32 highest = 0;
	bool known = false;
	if (row == 0)
		return 0;
	if (of->on_row > 0)
		return of->on_row;
	for (guint32 i = of->first; i < of->first + of->count; i++) {
		const tb_made *made = &s->made[i];
		for (unsigned b = 0; b < made->base_count && made->rows_below == 1; b++) {
			guint32 base = s->made[tb_stitches_base(s, made, b)].row;
			if (base + 1 == row)
				return base;
			known = known || base < row;
			highest = base < row ? MAX(highest, base) : highest;
		}
	}
	return known ? highest : row - 1;
}

guint32 tb_rule_next_in(const tb_way_through *row, guint32 at, gint64 steps)
{
	gint64 to = (gint64)at + (row->same_way ? steps : -steps);
	return to >= row->begin && to < row->end ? (guint32)to : TB_NONE;
}

/* Whether A comes before B in the way the work goes. */
static bool is_before(const tb_way_through *row, guint32 a, guint32 b)
{
	return row->same_way ? a < b : a > b;
}

/* Whether FROM and those before it are all NAMED, so that the name tells none from the others. */
static bool is_ground(const tb_stitches *s, const tb_stitch *named, const tb_way_through *row, guint32 from)
{
	guint32 at = from;
	for (unsigned i = 0; i <= TB_RULE_SIDEWAYS + 1; i++) {
		if (at == TB_NONE || !tb_rule_is_kind(s, at, named))
			return false;
		at = tb_rule_next_in(row, at, -1);
	}
	return true;
}

guint32 tb_rule_next_post(const tb_stitches *s, const tb_stitch *named, const tb_way_through *row, guint32 straight,
	guint32 last, bool strayed)
{
	guint32 at = straight;
	bool used = last != TB_NONE && last >= row->begin && last < row->end;
	bool plain = used && !strayed && is_before(row, last, straight) && is_ground(s, named, row, straight);
	if (used && !plain) {
		guint32 back = tb_rule_next_in(row, straight, -(gint64)TB_RULE_SIDEWAYS);
		at = back != TB_NONE ? back : row->same_way ? row->begin : row->end - 1;
		if (!is_before(row, last, at))
			at = tb_rule_next_in(row, last, 1);
	}
	while (at != TB_NONE && !tb_rule_is_kind(s, at, named))
		at = tb_rule_next_in(row, at, 1);
	return at;
}
