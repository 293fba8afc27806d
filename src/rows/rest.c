/* What short rows leave unworked, and the rows that come back to it. */
#include "rows/rest.h"

#include "hands/taken.h"
#include "places/place.h"
#include "places/within.h"

bool tb_rest_is_joined(const tb_sentence *sentence)
{
	for (unsigned i = 0; i < sentence->acts.count; i++) {
		tb_act_kind kind = sentence->acts.acts[i].kind;
		if (kind == TB_ACT_JOIN_YARN)
			return true;
		/* "Fasten off.", said of the row before on a line of its own, may stand here */
		if (kind != TB_ACT_SKIP && kind != TB_ACT_TURN && kind != TB_ACT_LOOPS && kind != TB_ACT_FASTEN_OFF)
			return false;
	}
	return false;
}

bool tb_rest_is_there(const tb_hands *h)
{
	return h->before.rest[h->before.rest_leftward]->len > 0;
}

/* "Skip 9 sts, join yarn in next st": so many; 0 where a row does not begin so. */
static guint32 skipped_before_yarn(const tb_hands *h, const tb_sentence *sentence)
{
	for (unsigned i = 0; tb_rest_is_joined(sentence) && i < sentence->acts.count; i++) {
		if (sentence->acts.acts[i].kind == TB_ACT_SKIP)
			return tb_hands_number(h, &sentence->acts.acts[i].place.count, 1);
	}
	return 0;
}

bool tb_rest_goes_leftward(const tb_hands *h, const tb_sentence *sentence)
{
	guint32 skipped = skipped_before_yarn(h, sentence);
	bool way = h->before.rest_leftward;
	return h->before.rest[way]->len <= skipped && h->before.rest[!way]->len > skipped ? !way : way;
}

/* Short rows from the middle leave on both sides; what the older one left an edge may lie over since. */
static bool reaches_rest(const tb_hands *h, const tb_made_row *row)
{
	return !row->is_round && h->before.rest[row->leftward]->len > 0 &&
		(row->leftward == h->before.rest_leftward || !h->before.rest_shut[row->leftward] ||
			skipped_before_yarn(h, h->sentence) > 0);
}

void tb_rest_add(tb_hands *h)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	const GArray *rest = h->before.rest[row->leftward];
	h->now.beyond = 0;
	bool unknown = h->labels.unsure || tb_taken_is_below(h);
	if (!reaches_rest(h, row) || (unknown && !tb_rest_is_joined(h->sentence)))
		return;
	/* "With RS facing, join yarn in next st": only they are worked */
	if (tb_rest_is_joined(h->sentence)) {
		g_array_set_size(h->now.places, 0);
		h->now.turning_place = TB_NONE;
	} else {
		h->now.beyond = rest->len;
	}
	for (guint i = rest->len; i-- > 0;)
		g_array_append_val(h->now.places, g_array_index(rest, guint32, i));
}

void tb_rest_keep(tb_hands *h, guint32 due)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	guint32 count = tb_place_count(h), end = count - MIN(h->now.beyond, count);
	GArray *rest = h->before.rest[row->leftward];
	if (row->is_round || h->cursor.over)
		return;
	if (tb_rest_is_joined(h->sentence) && reaches_rest(h, row))
		end = 0;
	if (due > end && due <= count)
		g_array_set_size(rest, rest->len - MIN(due - end, rest->len));
	/* an armhole's stitches are not beside those that are left for the other shoulder */
	bool passed = h->before.rest_passed[row->leftward];
	h->before.rest_passed[row->leftward] = due == end && !h->cursor.left;
	/* "leave last sc unworked" narrows the piece; who turns in the middle comes back */
	h->before.rest_shut[row->leftward] = due == end || (h->cursor.left && (end - MIN(due, end)) * 4 < end);
	bool leaves = due < end && (h->cursor.left || h->cursor.turned || tb_within_is_ended(h));
	if (passed && (leaves || h->now.set_aside->len > 0))
		g_array_set_size(rest, 0);
	if (!tb_within_keep(h, rest) && !leaves)
		return;
	h->before.rest_leftward = row->leftward;
	for (guint32 i = end; i-- > due;)
		g_array_append_val(rest, g_array_index(h->now.places, guint32, i));
}
