/* What stands on rows that are taken at their word cannot be judged: which faults may be none. */
#include "hands/taken.h"

#include <string.h>

/* So many rows down a post is looked for. */
#define DEEP 8u

bool tb_taken_is(const tb_hands *h, guint32 row)
{
	return row > 0 && row < h->cloth.rows->len && tb_hands_row(h, row)->taken;
}

bool tb_taken_is_below(const tb_hands *h)
{
	return h->row > 0 && h->row < h->cloth.rows->len && tb_taken_is(h, h->row - 1);
}

static bool is_one_of(const char *code, const char *const *codes, size_t count)
{
	for (size_t i = 0; i < count; i++) {
		if (strcmp(code, codes[i]) == 0)
			return true;
	}
	return false;
}

bool tb_taken_doubts(const tb_hands *h, tb_severity severity, const char *code)
{
	/* what a count alone settles, or the row's own words */
	static const char *const settled[] = {"repeat-leftover", "past-end", "unworked", "count-claimed",
		"limit-row", "limit-rows", "limit-stitches", "not-worked", "row-number", "repeat-endless",
		"repeat-in-all", "side-turn", "row-missing", "together-count"};
	static const char *const doubted[] = {"turning-chain-missing", "post-sideways", "passed-over"};
	/* what rows that nobody worked may have, or be */
	static const char *const older[] = {"row-missing", "row-number", "rows-again-times", "rows-again-unknown",
		"side-unknown"};
	static const char *const posts[] = {"post-nothing", "around-no-post", "behind-no-post",
		"rows-below"};
	if (severity == TB_NOTE)
		return false;
	if (h->labels.uncounted && severity == TB_ERROR && is_one_of(code, older, G_N_ELEMENTS(older)))
		return true;
	if (tb_taken_is_below(h))
		return severity == TB_ERROR ? !is_one_of(code, settled, G_N_ELEMENTS(settled)) :
			is_one_of(code, doubted, G_N_ELEMENTS(doubted));
	if (severity != TB_ERROR || !is_one_of(code, posts, G_N_ELEMENTS(posts)))
		return false;
	for (guint32 down = 2; down <= DEEP && down < h->row; down++) {
		if (tb_taken_is(h, h->row - down))
			return true;
	}
	return false;
}
