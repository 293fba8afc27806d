/*
 * Columns: where every stitch stands when all rows are equally wide.
 *
 * Columns count from 0 at the edge where row 1 begins, so rows worked the other way count back from
 * the far edge. The foundation lies under row 1 as row 1 found it: a turning chain at the corner
 * may have no chain under it.
 */
#include "fabric/fabric.h"
#include "fabric/motif.h"

#include <math.h>

static void number_row(
	const tb_fabric *fabric, const tb_made_row *row, bool same_way, gint32 width, gint32 *columns)
{
	gint32 next = same_way ? 0 : width - 1;
	for (guint32 i = row->first; i < row->first + row->count; i++) {
		if (fabric->made[i].flags & TB_MADE_COUNTED) {
			columns[i] = next;
			next += same_way ? 1 : -1;
		} else if (fabric->made[i].flags & TB_MADE_TURNING) {
			columns[i] = same_way ? -1 : width;
		}
	}
}

/* The column of the foundation stitch that comes to the hook first in row 1. */
static gint32 foundation_begin(const tb_fabric *fabric, const gint32 *columns)
{
	const tb_made_row *row = &fabric->rows[1];
	guint32 first_met = G_MAXUINT32;
	gint32 column = 0;
	bool same_way = row->leftward == fabric->rows[0].leftward;
	for (guint32 i = row->first; i < row->first + row->count; i++) {
		const tb_made *made = &fabric->made[i];
		if (made->base_count == 0 || columns[i] == G_MAXINT32 || made->rows_below != 1)
			continue;
		guint32 base = tb_fabric_base(fabric, made, 0);
		guint32 met = same_way ? base - fabric->rows[0].first
							   : fabric->rows[0].first + fabric->rows[0].count - 1 - base;
		if (met < first_met) {
			first_met = met;
			column = columns[i] - (gint32)met;
		}
	}
	return column;
}

static void number_foundation(const tb_fabric *fabric, gint32 *columns)
{
	const tb_made_row *row = &fabric->rows[0];
	bool same_way = fabric->rows[1].leftward == row->leftward;
	gint32 begin = foundation_begin(fabric, columns);
	for (guint32 i = 0; i < row->count; i++)
		columns[same_way ? row->first + i : row->first + row->count - 1 - i] = begin + (gint32)i;
}

bool tb_grid_columns(
	const tb_fabric *fabric, guint32 first, guint32 last, gint32 *columns, guint32 *width)
{
	for (guint32 i = 0; i < fabric->made_count; i++)
		columns[i] = G_MAXINT32;
	*width = 0;
	if (fabric->row_count < 2)
		return false;
	bool begun = false;
	for (guint32 i = 1; i < fabric->row_count; i++) {
		const tb_made_row *row = &fabric->rows[i];
		if (row->number < first || row->number > last)
			continue;
		if (begun && row->stitches != *width)
			return false;
		*width = row->stitches;
		begun = true;
	}
	if (!begun || *width == 0)
		return false;
	/* rows outside the stretch stand in the same columns when they are as wide: posts reach them */
	for (guint32 i = 1; i < fabric->row_count; i++) {
		const tb_made_row *row = &fabric->rows[i];
		if (row->stitches == *width)
			number_row(
				fabric, row, row->leftward == fabric->rows[1].leftward, (gint32)*width, columns);
	}
	if (fabric->rows[1].stitches == *width)
		number_foundation(fabric, columns);
	return true;
}

/* On a grid no stitch stands further from its bases than a shell reaches, in columns. */
#define MOST_DRIFT 4

bool tb_grid_is_true(const tb_fabric *fabric, guint32 from, guint32 to, const gint32 *columns, guint32 around)
{
	for (guint32 m = fabric->rows[from].first; m < fabric->made_count && fabric->made[m].row <= to; m++) {
		const tb_made *made = &fabric->made[m];
		for (unsigned b = 0; b < made->base_count && columns[m] != G_MAXINT32; b++) {
			guint32 base = tb_fabric_base(fabric, made, b);
			gint32 drift = columns[base] != G_MAXINT32 ? ABS(columns[base] - columns[m]) : 0;
			if (around > 0)
				drift = MIN(drift, ABS((gint32)around - drift));
			if (fabric->made[base].row >= from && drift > MOST_DRIFT + made->base_count)
				return false;
		}
	}
	return true;
}

void tb_grid_centre(const tb_fabric *fabric, gint32 *columns)
{
	const tb_made_row *ground = &fabric->rows[0], *row = &fabric->rows[1];
	double sum = 0;
	guint32 count = 0;
	for (guint32 m = row->first; m < row->first + row->count; m++) {
		const tb_made *made = &fabric->made[m];
		for (unsigned b = 0; b < made->base_count && columns[m] != G_MAXINT32; b++) {
			guint32 base = tb_fabric_base(fabric, made, b);
			if (made->flags & TB_MADE_TURNING || columns[base] == G_MAXINT32)
				continue;
			sum += columns[m] - columns[base];
			count++;
		}
	}
	gint32 shift = count > 0 ? (gint32)lround(sum / count) : 0;
	for (guint32 m = ground->first; m < ground->first + ground->count; m++)
		if (columns[m] != G_MAXINT32)
			columns[m] += shift;
}
