/*
 * Rows taken at their word.
 *
 * A row whose text was not understood may state how many stitches it has. Then so many stand in it, of
 * a kind that nobody knows, and the rows above are worked on them: all faults of a pattern are found at
 * once. What those rows ask of it beyond the count cannot be judged; such a row is taken at its word
 * in turn, or the piece ends there.
 */
#include "fabric/place.h"
#include "fabric/taken.h"

#include <string.h>

/* So many rows down a post is looked for. */
#define DEEP 8u

bool tb_taken_can(const tb_hands *h, const tb_sentence *sentence)
{
	if (tb_library_unread(h->working->pattern->library) == NULL)
		return false;
	for (unsigned i = 0; i < sentence->claim_count; i++) {
		const tb_claim *claim = &sentence->claims[i];
		if (claim->other || claim->spaces || claim->own != NULL || claim->count.count == 0 ||
			tb_hands_number(h, &claim->count, 0) == 0)
			return false;
	}
	return sentence->claim_count > 0;
}

static bool turns(const tb_acts *acts)
{
	for (unsigned i = 0; i < acts->count; i++) {
		if (acts->acts[i].kind == TB_ACT_TURN)
			return true;
	}
	return false;
}

/* "24 sts", "18 sc, 6 dc": where any kind is counted, that is the whole. */
static unsigned count_stated(const tb_hands *h, const tb_sentence *sentence)
{
	unsigned sum = 0;
	for (unsigned i = 0; i < sentence->claim_count; i++) {
		unsigned count = tb_hands_number(h, &sentence->claims[i].count, 0);
		if (sentence->claims[i].stitch == NULL)
			return count;
		sum += MIN(count, TB_LIMIT_ROW_STITCHES + 1 - MIN(sum, TB_LIMIT_ROW_STITCHES));
	}
	return sum;
}

void tb_taken_make(tb_hands *h)
{
	const tb_sentence *sentence = h->sentence;
	tb_span span = sentence->claims[0].span;
	guint32 count = count_stated(h, sentence), below = tb_place_count(h);
	const tb_stitch *unread = tb_library_unread(h->working->pattern->library);
	tb_hands_row(h, h->row)->taken = true;
	for (guint32 i = 0; i < count; i++) {
		/* spread over the row below: where they stand on it is not known either */
		tb_footing footing = {.behind = TB_NONE};
		if (below > 0) {
			footing.bases[0] = tb_hands_place(h, (guint32)((guint64)i * below / count));
			footing.count = 1;
			footing.rows_below = 1;
		}
		if (tb_hands_make(h, unread, &footing, TB_MADE_COUNTED, span) == TB_NONE)
			break;
	}
	h->cursor.over = true;
	h->cursor.turned = turns(&sentence->acts);
	tb_hands_tell(h, TB_NOTE, "row-taken", span, NULL, "the %s is taken at its word: %u st%s",
		sentence->is_round ? "round" : "row", count, count == 1 ? "" : "s");
	h->teller.has_fault = true;
}

static bool is_taken(const tb_hands *h, guint32 row)
{
	return row > 0 && row < h->cloth.rows->len && tb_hands_row(h, row)->taken;
}

bool tb_taken_is_below(const tb_hands *h)
{
	return h->row > 0 && h->row < h->cloth.rows->len && is_taken(h, h->row - 1);
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
	static const char *const posts[] = {"post-nothing", "around-no-post", "behind-no-post",
		"rows-below"};
	if (severity == TB_NOTE)
		return false;
	if (tb_taken_is_below(h))
		return severity == TB_ERROR ? !is_one_of(code, settled, G_N_ELEMENTS(settled)) :
			is_one_of(code, doubted, G_N_ELEMENTS(doubted));
	if (severity != TB_ERROR || !is_one_of(code, posts, G_N_ELEMENTS(posts)))
		return false;
	for (guint32 down = 2; down <= DEEP && down < h->row; down++) {
		if (is_taken(h, h->row - down))
			return true;
	}
	return false;
}

void tb_taken_stop(tb_hands *h, const tb_sentence *sentence)
{
	guint32 row = h->cloth.rows->len;
	while (row > 1 && !is_taken(h, row - 1))
		row--;
	h->teller.has_fault = h->abandoned = true;
	h->row = h->cloth.rows->len;
	h->sentence = sentence;
	tb_hands_tell(h, TB_NOTE, "not-checked", sentence->span, NULL,
		"from here on nothing is checked: it goes into what row %u, which was not understood, "
		"does not say", row > 1 ? tb_hands_row(h, row - 1)->number : 0);
}
