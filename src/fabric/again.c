#include "fabric/again.h"

/* Fewer rows, or fewer rows on, are no pattern. */
#define LEAST_ROWS 3

/* After so many comparisons of stitches nothing longer is looked for. */
#define MOST_COMPARISONS 20000000ull

typedef struct {
	const tb_fabric *fabric;
	guint32 *place; /* by made: of its row what is worked into, turning chains that do not count aside: the how manieth */
	guint64 comparisons;
} search;

static guint32 *number_places(const tb_fabric *fabric)
{
	guint32 *place = g_new0(guint32, fabric->made_count + 1);
	for (guint32 i = 1; i < fabric->made_count; i++) {
		const tb_made *before = &fabric->made[i - 1];
		if (before->row == fabric->made[i].row)
			place[i] = place[i - 1] + ((before->flags & (TB_MADE_COUNTED | TB_MADE_CHAIN)) != 0);
	}
	return place;
}

static bool stands_alike(const search *s, guint32 row, guint32 a, guint32 other, guint32 b)
{
	if (a == TB_NONE || b == TB_NONE)
		return a == b;
	return row - s->fabric->made[a].row == other - s->fabric->made[b].row && s->place[a] == s->place[b];
}

static bool is_alike(const search *s, guint32 i, guint32 k)
{
	const tb_fabric *fabric = s->fabric;
	const tb_made *a = &fabric->made[i], *b = &fabric->made[k];
	if (a->stitch != b->stitch || a->flags != b->flags || a->chains != b->chains || a->base_count != b->base_count ||
		!stands_alike(s, a->row, a->behind, b->row, b->behind) ||
		g_strcmp0(tb_fabric_colour(fabric, i), tb_fabric_colour(fabric, k)) != 0)
		return false;
	for (unsigned n = 0; n < a->base_count; n++)
		if (!stands_alike(s, a->row, tb_fabric_base(fabric, a, n), b->row, tb_fabric_base(fabric, b, n)))
			return false;
	return true;
}

static bool is_same_row(search *s, guint32 r, guint32 other)
{
	const tb_made_row *row = &s->fabric->rows[r], *as = &s->fabric->rows[other];
	if (row->count != as->count || row->leftward != as->leftward || row->is_round != as->is_round || row->taken ||
		row->elsewhere != as->elsewhere || row->stitches == 0)
		return false;
	for (guint32 i = 0; i < row->count; i++) {
		s->comparisons++;
		if (!is_alike(s, row->first + i, as->first + i))
			return false;
	}
	return true;
}

bool tb_rows_find_again(const tb_fabric *fabric, guint32 first, guint32 last, tb_rows_again *found)
{
	const tb_made_row *from = tb_fabric_row(fabric, first), *to = tb_fabric_row(fabric, last);
	guint32 longest = LEAST_ROWS - 1;
	if (from == NULL || to == NULL || to <= from)
		return false;
	guint32 end = (guint32)(to - fabric->rows), begin = (guint32)(from - fabric->rows);
	g_autofree guint32 *place = number_places(fabric);
	search s = {.fabric = fabric, .place = place};
	for (guint32 on = LEAST_ROWS; s.comparisons < MOST_COMPARISONS && on + longest < end + 1 - begin; on++) {
		guint32 count = 0;
		while (begin + on + count <= end && is_same_row(&s, end - count, end - count - on))
			count++;
		/* The first of them may have been worked otherwise, on the foundation. */
		if (count <= longest || count + 1 < on)
			continue;
		longest = count;
		const tb_made_row *again = &fabric->rows[end - count + 1];
		*found = (tb_rows_again){again->number, last, again[-(gssize)on].number, on};
	}
	return longest >= LEAST_ROWS;
}
