/*
 * Which rows of a check's table go into one line: rows that are alike but for their sides, and rows
 * that repeat the rows before them, count by count and side by side.
 */
#include "words/check.h"

#include <string.h>

/* Fewer rows than this are not worth folding into one line. */
#define FOLDED 3u
/* Longer cycles are not looked for: who reads the table would not see them either. */
#define MOST_PERIOD 24u

/* Whether two rows have the same counts, and the same colours. */
static bool is_alike(const tb_check_rows *rows, guint32 a, guint32 b)
{
	return strcmp(rows->heads[a].colours, rows->heads[b].colours) == 0 && memcmp(rows->counts + (gsize)a * rows->sizes, rows->counts + (gsize)b * rows->sizes,
			   rows->sizes * sizeof(guint32)) == 0;
}

/* Whether row AT is there, and numbered next to the one before it. */
static bool goes_on(const tb_check_rows *rows, guint32 at)
{
	return at < rows->count && rows->heads[at].number == rows->heads[at - 1].number + 1 &&
		rows->heads[at].unsure == rows->heads[at - 1].unsure;
}

/* How many rows from AT on are alike, turned each time or never. */
static guint32 count_alike(const tb_check_rows *rows, guint32 at)
{
	guint32 end = at + 1;
	while (goes_on(rows, end) && is_alike(rows, at, end)) {
		bool turned = rows->heads[end].side != rows->heads[end - 1].side;
		if (end > at + 1 && turned != (rows->heads[at + 1].side != rows->heads[at].side))
			break;
		end++;
	}
	return end - at;
}

/* How many rows from AT on are each as the one PERIOD rows before. */
static guint32 count_repeating(const tb_check_rows *rows, guint32 at, guint32 period)
{
	guint32 end = at;
	for (guint32 i = at - period + 1; i < at; i++) {
		if (!goes_on(rows, i))
			return 0;
	}
	while (goes_on(rows, end) && is_alike(rows, end, end - period) &&
		   rows->heads[end].side == rows->heads[end - period].side)
		end++;
	return end - at;
}

tb_check_fold tb_check_fold_at(const tb_check_rows *rows, guint32 at, guint32 shown)
{
	tb_check_fold fold = {.count = count_alike(rows, at)};
	for (guint32 period = 2; period <= MIN(MOST_PERIOD, at - shown); period++) {
		guint32 count = count_repeating(rows, at, period);
		if (count > fold.count && count >= MAX(period, FOLDED))
			fold = (tb_check_fold){count, period};
	}
	if (fold.count < FOLDED)
		fold.count = 1;
	return fold;
}
