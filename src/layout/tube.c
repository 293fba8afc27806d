/* Which pieces in rounds are tubes: charted flat, cut open where their rounds begin. */
#include "layout/chart.h"

#include <math.h>

/* A ring of more chains than this is no middle. */
#define MOST_RING 12
/* What becomes so many times as wide as it began is no tube. */
#define WIDENS 1.4

static bool is_worked_in_ring(const tb_fabric *fabric)
{
	const tb_made_row *row = &fabric->rows[1];
	for (guint32 m = row->first; m < row->first + row->count; m++) {
		const tb_made *made = &fabric->made[m];
		if (made->base_count > 0 && !(made->flags & (TB_MADE_IN_SPACE | TB_MADE_TURNING)))
			return fabric->made[tb_fabric_base(fabric, made, 0)].row != 0;
	}
	return true;
}

/* A small ring, of whose chains each has several stitches, is the middle of a disc. */
static bool is_crowded_ring(const tb_fabric *fabric)
{
	return fabric->rows[0].count <= MOST_RING && 2 * fabric->rows[1].stitches > 3 * fabric->rows[0].count;
}

/* A yoke widens from the neck on: it lies as a ring, not as a tube. */
static bool grows(const tb_fabric *fabric)
{
	double widest = 0;
	for (guint32 r = 1; r < fabric->row_count; r++)
		widest = fmax(widest, fabric->rows[r].stitches);
	return widest >= WIDENS * fabric->rows[0].count && widest >= WIDENS * fabric->rows[1].stitches;
}

bool tb_chart_is_tube(const tb_fabric *fabric)
{
	const tb_made_row *start = &fabric->rows[0];
	if (fabric->row_count < 2 || !fabric->rows[1].is_round || start->count < 3 || is_worked_in_ring(fabric))
		return false;
	if (grows(fabric))
		return false;
	/* Chains that are not joined lie the other way from the round on them. */
	bool chain = fabric->made[start->first].flags & TB_MADE_CHAIN;
	return !chain || (start->leftward == fabric->rows[1].leftward && !is_crowded_ring(fabric));
}
