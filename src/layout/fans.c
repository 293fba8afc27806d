/* Fans: three or more stitches worked into one place. */
#include "layout/setting.h"

#include <math.h>

/* How many stitches from M on are worked into the place M is, chains between them aside. */
guint32 tb_setting_count_group(const tb_setting *s, const tb_made_row *row, guint32 m)
{
	const tb_made *made = &s->fabric->made[m];
	guint32 count = 1, end = row->first + row->count;
	if (made->base_count != 1 || s->run[m] != 0)
		return 1;
	guint32 base = tb_fabric_base(s->fabric, made, 0);
	while (m + count < end && s->run[m + count] == 0) {
		const tb_made *next = &s->fabric->made[m + count];
		if (next->base_count != 1 || tb_fabric_base(s->fabric, next, 0) != base ||
			!(next->flags & TB_MADE_COUNTED))
			break;
		count++;
	}
	return count;
}

/* On the grid, fans draw in towards their middle, so that they do not cross their neighbours. */
void tb_setting_gather_groups(tb_setting *s)
{
	for (guint32 r = MAX(s->lowest, 1); r <= s->last; r++) {
		const tb_made_row *row = &s->fabric->rows[r];
		for (guint32 m = row->first; m < row->first + row->count;) {
			guint32 count = tb_setting_count_group(s, row, m);
			bool drawn = !isnan(s->at[m]) && !isnan(s->at[m + count - 1]);
			if (count >= 3 && drawn) {
				double middle = (s->at[m] + s->at[m + count - 1]) / 2;
				double base = tb_setting_base_at(s, m, tb_fabric_base(s->fabric, &s->fabric->made[m], 0));
				/* At a row's edge half a fan keeps to the edge. */
				if (fabs(base - middle) > 0.6)
					middle = base;
				for (guint32 i = 0; i < count; i++)
					s->at[m + i] = middle + (s->at[m + i] - middle) * TB_FAN_SPACING;
			}
			m += count;
		}
	}
}

/* Neighbours A and B belong to three or more that share a place. */
bool tb_setting_is_fan(const tb_setting *s, const tb_made_row *row, guint32 a, guint32 b)
{
	guint32 low = MIN(a, b), first = low;
	if (row->number == 0 || tb_setting_count_group(s, row, low) < 2)
		return false;
	while (first > row->first && low - first < 2 && tb_setting_count_group(s, row, first - 1) > low - first + 1)
		first--;
	return tb_setting_count_group(s, row, first) >= 3;
}
