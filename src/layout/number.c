/*
 * The place of everything in its row, which no other in the row has: from the edge, or the seam, where row 1 begins. On
 * a grid it is the column, so that what stands above one another has one number, and what has no column (picots, joins)
 * goes on after the last. Without a grid all are counted in order. A turning chain beside the row has 0.
 */
#include "layout/setting.h"

#include <math.h>

static tb_placed *placed_at(const tb_setting *s, guint32 i)
{
	return &g_array_index(s->chart->placed, tb_placed, i);
}

/* The first that climbs beside its row and does not count, or TB_NONE. */
static guint32 find_beside(const tb_setting *s, const tb_chart_row *row)
{
	for (guint32 i = row->first; i < row->first + row->count; i++) {
		guint8 flags = s->fabric->made[placed_at(s, i)->made].flags;
		if (flags & TB_MADE_TURNING && !(flags & TB_MADE_COUNTED))
			return i;
	}
	return TB_NONE;
}

static void count_in_order(tb_setting *s, const tb_chart_row *row)
{
	bool outward = s->fabric->rows[row->row].leftward == s->fabric->rows[1].leftward;
	guint32 next = 0, beside = find_beside(s, row);
	for (guint32 k = 0; k < row->count; k++) {
		guint32 i = row->first + (outward ? k : row->count - 1 - k);
		placed_at(s, i)->index = i == beside ? 0 : ++next;
	}
}

/* From 1; 0 for what has no column. */
static guint32 find_column(const tb_setting *s, guint32 m)
{
	gint32 column = tb_setting_drawn_column(s, m);
	bool past = s->fabric->made[m].row > 0 && s->column[m] >= (gint32)s->width && s->part->at_rest;
	if (column == G_MAXINT32 || past)
		return 0;
	column -= s->part->at_rest ? 0 : (gint32)ceil(s->chart->min_at);
	return column >= 0 ? (guint32)column + 1 : 0;
}

static void number_by_column(tb_setting *s, const tb_chart_row *row)
{
	guint32 last = 0;
	for (guint32 i = row->first; i < row->first + row->count; i++) {
		tb_placed *placed = placed_at(s, i);
		placed->index = find_column(s, placed->made);
		last = MAX(last, placed->index);
	}
	guint32 beside = find_beside(s, row);
	for (guint32 i = row->first; i < row->first + row->count; i++)
		if (placed_at(s, i)->index == 0 && i != beside)
			placed_at(s, i)->index = ++last;
}

void tb_setting_number_places(tb_setting *s)
{
	/* A tube at rest has no edge that its columns count from; of places several stand on one. */
	bool columns = s->column != NULL && !s->chart->motif.by_places && !(s->part->at_rest && tb_setting_is_tube(s));
	for (guint r = s->part->row; r < s->chart->rows->len; r++) {
		const tb_chart_row *row = &g_array_index(s->chart->rows, tb_chart_row, r);
		if (columns)
			number_by_column(s, row);
		else
			count_in_order(s, row);
		for (guint32 i = row->first; i < row->first + row->count; i++) {
			tb_placed *placed = placed_at(s, i);
			placed->column = s->column != NULL && s->chart->motif.by_places ? find_column(s, placed->made) : placed->index;
		}
	}
}
