/*
 * Rows taken at their word.
 *
 * A row whose text was not understood may state how many stitches it has. Then so many stand in it, of
 * a kind that nobody knows, and the rows above are worked on them: all faults of a pattern are found at
 * once. What those rows ask of it beyond the count cannot be judged; such a row is taken at its word
 * in turn, or nothing is checked up to the next row that states its count.
 */
#include "hands/row.h"
#include "hands/taken.h"

/* "… (76 sc) …, turn. (210 sc)": whether a claim behind claim I is of the same stitch, and so this one of a part. */
static bool is_of_part(const tb_sentence *sentence, unsigned i)
{
	const tb_claim *claim = &sentence->claims[i];
	bool part = claim->early || claim->made || claim->inside;
	for (unsigned later = i + 1; later < sentence->claim_count; later++)
		part = part || sentence->claims[later].stitch == claim->stitch;
	return part;
}

/* "24 sts", "18 sc, 6 dc": where any kind is counted, that is the whole. */
static unsigned count_stated(const tb_hands *h, const tb_sentence *sentence)
{
	unsigned sum = 0;
	for (unsigned i = 0; i < sentence->claim_count; i++) {
		unsigned count = tb_hands_number(h, &sentence->claims[i].count, 0);
		if (is_of_part(sentence, i))
			continue;
		if (sentence->claims[i].stitch == NULL)
			return count;
		sum += MIN(count, TB_LIMIT_ROW_STITCHES + 1 - MIN(sum, TB_LIMIT_ROW_STITCHES));
	}
	return sum;
}

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
	return sentence->claim_count > 0 && count_stated(h, sentence) > 0;
}

static bool turns(const tb_acts *acts)
{
	for (unsigned i = 0; i < acts->count; i++) {
		if (acts->acts[i].kind == TB_ACT_TURN)
			return true;
	}
	return false;
}

/* "54 sc": the plain stitch that all of them are said to be; or one that nobody knows. */
static const tb_stitch *stitch_stated(const tb_hands *h, const tb_sentence *sentence)
{
	const tb_stitch *stitch = sentence->claims[0].stitch;
	bool plain = stitch != NULL && stitch->family == TB_FAMILY_PLAIN && stitch->legs == 1 && stitch->takes == 1 && stitch->height > 0;
	for (unsigned i = 1; i < sentence->claim_count; i++)
		plain = plain && sentence->claims[i].stitch == stitch;
	return plain ? stitch : tb_library_unread(h->working->pattern->library);
}

void tb_taken_make(tb_hands *h)
{
	const tb_sentence *sentence = h->sentence;
	tb_span span = sentence->claims[0].span;
	guint32 count = count_stated(h, sentence), below = h->now.places->len;
	const tb_stitch *stitch = stitch_stated(h, sentence);
	tb_hands_row(h, h->row)->taken = true;
	for (guint32 i = 0; i < count; i++) {
		/* spread over the row below: where they stand on it is not known either */
		tb_footing footing = {.behind = TB_NONE};
		if (below > 0) {
			footing.bases[0] = tb_hands_place(h, (guint32)((guint64)i * below / count));
			footing.count = 1;
			footing.rows_below = 1;
		}
		if (tb_hands_make(h, stitch, &footing, TB_MADE_COUNTED, span) == TB_NONE)
			break;
	}
	h->cursor.over = true;
	h->cursor.turned = turns(&sentence->acts);
	if (tb_hands_row(h, h->row)->unsure)
		tb_hands_tell(h, TB_NOTE, "row-taken", span, NULL, "this is taken at its word: %u st%s, in nobody knows how many %ss",
			count, count == 1 ? "" : "s", sentence->is_round ? "round" : "row");
	else
		tb_hands_tell(h, TB_NOTE, "row-taken", span, NULL, "the %s is taken at its word: %u st%s",
			sentence->is_round ? "round" : "row", count, count == 1 ? "" : "s");
	h->teller.has_fault = true;
}

bool tb_taken_keeps(const tb_hands *h, const tb_sentence *sentence)
{
	guint32 rows = h->cloth.rows->len;
	return rows > 1 && tb_hands_row(h, rows - 1)->stitches == count_stated(h, sentence);
}

bool tb_taken_may_doubt(const tb_hands *h)
{
	return h->cloth.rows->len > 0 && (h->labels.uncounted || tb_taken_is(h, h->cloth.rows->len - 1));
}

void tb_taken_lose(tb_hands *h)
{
	h->teller.has_fault = h->abandoned = h->lost = true;
	h->labels.unsure = h->labels.uncounted = true;
}

void tb_taken_stop(tb_hands *h)
{
	guint32 row = h->cloth.rows->len;
	bool told = h->lost || tb_taken_can(h, h->text);
	while (row > 1 && !tb_taken_is(h, row - 1))
		row--;
	tb_taken_lose(h);
	if (told)
		return; /* or it is, with its count */
	h->row = h->cloth.rows->len;
	h->sentence = h->text;
	if (row > 1 && !tb_hands_row(h, row - 1)->unsure)
		tb_hands_tell(h, TB_NOTE, "not-checked", h->text->span, NULL,
			"from here on nothing is checked: it goes into what row %u, which %s, does not say",
			tb_hands_row(h, row - 1)->number - tb_hands_row(h, row - 1)->before,
			tb_hands_row(h, row - 1)->sentence->left_out ? "was not understood" : "is taken at its word");
	else
		tb_hands_tell(h, TB_NOTE, "not-checked", h->text->span, NULL,
			"from here on nothing is checked: it goes into what rows that were not understood do not say");
}

const tb_sentence *tb_taken_go_on(tb_hands *h, const tb_sentence *sentence)
{
	if (!h->lost || h->start.only_to > 0 || sentence->kind == TB_SENTENCE_START ||
		(sentence->left_out && !sentence->taken) || !tb_taken_can(h, sentence))
		return NULL;
	tb_sentence *taken = tb_arena_new(h->working->arena, tb_sentence);
	if (sentence->kind == TB_SENTENCE_ROWS) {
		*taken = *sentence;
		taken->ways = NULL;
		taken->way_count = 0;
	} else {
		*taken = (tb_sentence){.kind = TB_SENTENCE_ROWS, .span = sentence->span, .is_round = sentence->is_round,
			.first = sentence->first, .last = sentence->last, .first_in = sentence->first_in, .last_in = sentence->last_in,
			.sizes = sentence->sizes, .claims = sentence->claims, .claim_count = sentence->claim_count};
	}
	taken->taken = true;
	h->abandoned = h->lost = false;
	return taken;
}

/* Undoes the stitches of the row that is being worked. */
static void forget_row(tb_hands *h)
{
	guint32 first = tb_hands_row(h, h->row)->first;
	for (guint i = h->cloth.marks->len; i-- > 0;) {
		if (g_array_index(h->cloth.marks, tb_marked, i).made >= first)
			g_array_remove_index(h->cloth.marks, i);
	}
	while (h->cloth.colours->len > 0 &&
		g_array_index(h->cloth.colours, tb_colour_run, h->cloth.colours->len - 1).first >= first)
		g_array_set_size(h->cloth.colours, h->cloth.colours->len - 1);
	g_array_set_size(h->cloth.made, first);
}

void tb_taken_instead(tb_hands *h, const tb_sentence *sentence, guint32 before)
{
	guint32 last = h->cloth.rows->len - 1;
	if (!h->teller.broken || h->working->stopped || h->start.only_to > 0 || h->cloth.rows->len <= MAX(before, 1) ||
		tb_taken_is(h, last) || !tb_taken_can(h, sentence) || count_stated(h, sentence) == tb_hands_row(h, last)->stitches)
		return;
	h->row = last;
	h->sentence = sentence;
	forget_row(h);
	bool turned = h->cursor.turned;
	tb_taken_make(h);
	h->cursor.turned = turned;
	tb_row_close(h);
	/* nor is it known how many rows it would have been, where that is not said, or it ended before */
	bool all = sentence->until == TB_REPEAT_OVER ||
		(sentence->until == TB_REPEAT_TIMES && last + 1 - before >= tb_hands_number(h, &sentence->times, 1));
	if (sentence->kind == TB_SENTENCE_REPEAT && !all)
		h->labels.unsure = h->labels.uncounted = tb_hands_row(h, last)->unsure = true;
	h->abandoned = false;
}

void tb_taken_go_even(tb_hands *h, guint32 from)
{
	const tb_stitch *unread = tb_library_unread(h->working->pattern->library);
	const tb_made_row *row = from > 1 ? tb_hands_row(h, from - 1) : NULL;
	if (row == NULL || !row->taken || row->count == 0 || tb_hands_stitch(h, tb_hands_made(h, row->first)) != unread)
		return;
	for (guint32 i = from; i < h->cloth.rows->len; i++)
		tb_hands_row(h, i)->taken = true;
}

void tb_taken_number(tb_hands *h, guint32 number)
{
	tb_made_row *row = tb_hands_row(h, h->cloth.rows->len - 1);
	row->number = MAX(row->number, number);
	h->labels.unsure = row->unsure = false;
}
