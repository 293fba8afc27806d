/*
 * Columns by places taken, for rows of different widths: nets, laces, shaping.
 *
 * Every stitch stands on the column of what it is worked into, carried up from the foundation: a group worked into one
 * place all on that place, a stitch in a chain space in the middle of its run, a run of chains in the middle of the
 * stitches it lies between. What is skipped has nothing above it. All rows then have the foundation's width, and a
 * fabric shifted by a repeat has its columns shifted by as many.
 */
#include "fabric/fabric.h"
#include "fabric/motif.h"

/* Places are carried in parts of a column, so that middles of middles do not drift. */
#define PARTS 256
#define NOWHERE G_MAXINT32

static gint32 middle(gint32 low, gint32 high)
{
	return low + (high - low) / 2;
}

/* Where a row begins: where the one below it ended, or began where the work was not turned. */
static gint32 find_begin(const tb_fabric *fabric, const tb_made_row *row, const gint32 *at)
{
	const tb_made_row *below = &fabric->rows[row->stands];
	bool turned = below->leftward != row->leftward;
	for (guint32 i = 0; i < below->count; i++) {
		guint32 m = turned ? below->first + below->count - 1 - i : below->first + i;
		if (at[m] != NOWHERE && fabric->made[m].flags & (TB_MADE_COUNTED | TB_MADE_CHAIN))
			return at[m];
	}
	return NOWHERE;
}

/* The middle of what a stitch is worked into; NOWHERE where nobody knows what that is, or it lies in the same row. */
static gint32 find_base(const tb_fabric *fabric, const tb_made *made, const gint32 *at)
{
	gint32 low = NOWHERE, high = 0;
	for (unsigned i = 0; i < made->base_count; i++) {
		guint32 base = tb_fabric_base(fabric, made, i);
		if (fabric->made[base].row >= made->row || at[base] == NOWHERE)
			return NOWHERE;
		low = MIN(low, at[base]);
		high = MAX(high, at[base]);
	}
	return low == NOWHERE ? NOWHERE : middle(low, high);
}

/* The chains from FIRST to before LAST lie between two places. */
static void lay_run(gint32 *at, guint32 first, guint32 last, gint32 from, gint32 to)
{
	for (guint32 i = first; i < last; i++)
		at[i] = middle(MIN(from, to), MAX(from, to));
}

/* False where a stitch that counts stands nobody knows where. */
static bool carry_row(const tb_fabric *fabric, const tb_made_row *row, gint32 last, gint32 *at)
{
	guint32 run = TB_NONE, end = row->first + row->count;
	if (last == NOWHERE)
		return false;
	for (guint32 i = row->first; i < end; i++) {
		const tb_made *made = &fabric->made[i];
		if (made->flags & TB_MADE_CHAIN) {
			run = run == TB_NONE ? i : run;
			continue;
		}
		bool standing = !(made->flags & (TB_MADE_COUNTED | TB_MADE_TURNING));
		if (standing && run != TB_NONE)
			continue;
		/* A picot, a join: with the stitch or the chains before it. */
		gint32 own = last;
		if (made->flags & TB_MADE_COUNTED && made->base_count > 0)
			own = find_base(fabric, made, at);
		else if (made->flags & TB_MADE_COUNTED && !(made->flags & TB_MADE_TURNING))
			own = made->behind != TB_NONE ? at[made->behind] : NOWHERE;
		if (own == NOWHERE)
			return false;
		if (run != TB_NONE)
			lay_run(at, run, i, last, own);
		run = TB_NONE;
		at[i] = last = own;
	}
	if (run != TB_NONE)
		lay_run(at, run, end, last, last);
	return true;
}

/* A first turning chain that counts has no chain of its own under it: it stands at the corner beside the first. */
static bool has_bare_corner(const tb_fabric *fabric)
{
	const tb_made_row *row = &fabric->rows[1];
	const tb_made *first = row->count > 0 ? &fabric->made[row->first] : NULL;
	return first != NULL && first->flags & TB_MADE_TURNING && first->flags & TB_MADE_COUNTED && first->base_count == 0;
}

bool tb_place_columns(const tb_fabric *fabric, guint32 last, gint32 *columns, guint32 *width)
{
	for (guint32 i = 0; i < fabric->made_count; i++)
		columns[i] = NOWHERE;
	*width = 0;
	const tb_made_row *ground = &fabric->rows[0];
	if (fabric->row_count < 2 || ground->count < 2 || ground->count > G_MAXINT32 / (2 * PARTS))
		return false;
	bool same_way = fabric->rows[1].leftward == ground->leftward;
	guint32 corner = has_bare_corner(fabric) ? 1 : 0;
	for (guint32 i = 0; i < ground->count; i++)
		columns[same_way ? ground->first + i : ground->first + ground->count - 1 - i] = (gint32)(corner + i) * PARTS;
	for (guint32 r = 1; r < fabric->row_count && fabric->rows[r].number <= last; r++) {
		const tb_made_row *row = &fabric->rows[r];
		if (row->is_round || row->taken || row->stands >= r)
			return false;
		if (!carry_row(fabric, row, r == 1 && corner > 0 ? 0 : find_begin(fabric, row, columns), columns))
			return false;
	}
	for (guint32 i = 0; i < fabric->made_count; i++)
		if (columns[i] != NOWHERE)
			columns[i] /= PARTS;
	*width = ground->count + corner;
	return true;
}
