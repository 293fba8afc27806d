/* Surface slip stitches; the rules stand in the header. */
#include "fabric/surface.h"

/* NUMBER in SIZE; 0 where none is said, or the size has none. */
static guint32 in_size(const tb_number *number, unsigned size)
{
	if (number->count == 0)
		return 0;
	return (guint32)MAX(tb_number_in(number, number->count == 1 ? 0 : size), 0);
}

/* The row that the text calls NUMBER; NULL where none is called so, or several are. */
static const tb_made_row *row_called(const tb_fabric *f, guint32 number)
{
	const tb_made_row *found = NULL;
	for (guint32 i = 1; i < f->row_count; i++) {
		if (f->rows[i].number - f->rows[i].before != number)
			continue;
		if (found != NULL)
			return NULL;
		found = &f->rows[i];
	}
	return found;
}

/* The NTHS stitch of ROW that counts, from 0; TB_NONE where it is not known, or has none. */
static guint32 stitch_of(const tb_fabric *f, const tb_made_row *row, guint32 nth)
{
	for (guint32 i = row->first; i < row->first + row->count; i++) {
		if (f->made[i].flags & TB_MADE_COUNTED && nth-- == 0)
			return i;
	}
	return TB_NONE;
}

static void add_spot(GArray *spots, guint32 made, guint32 beside, bool above)
{
	tb_surface_spot spot = {made, beside, above};
	if (spots != NULL && made != TB_NONE)
		g_array_append_val(spots, spot);
}

static void add_row(const tb_fabric *f, const tb_made_row *row, bool above, GArray *spots)
{
	for (guint32 i = row->first; spots != NULL && i < row->first + row->count; i++) {
		if (f->made[i].flags & TB_MADE_COUNTED)
			add_spot(spots, i, TB_NONE, above);
	}
}

/* In the line between two rows: as many as the stitches of the upper one, which stand in it. */
static guint32 find_between(const tb_fabric *f, guint32 first, guint32 last, GArray *spots, tb_surface_miss *miss)
{
	const tb_made_row *lower = row_called(f, MIN(first, last)), *upper = row_called(f, MAX(first, last));
	if (lower == NULL || upper == NULL || upper != lower + 1) {
		bool apart = lower != NULL && upper != NULL;
		*miss = (tb_surface_miss){lower == NULL ? MIN(first, last) : MAX(first, last), G_MAXUINT32, apart};
		return 0;
	}
	if (lower->stitches != upper->stitches) {
		*miss = (tb_surface_miss){MAX(first, last), upper->stitches, true};
		return 0;
	}
	add_row(f, lower, true, spots);
	return upper->stitches;
}

guint32 tb_surface_find_line(const tb_fabric *f, const tb_surface_line *line, unsigned size, GArray *spots,
	tb_surface_miss *miss)
{
	guint32 first = in_size(&line->first, size), last = in_size(&line->last, size), found = 0;
	guint32 st = in_size(&line->st, size), beside = in_size(&line->beside, size);
	if (line->between)
		return find_between(f, first, last, spots, miss);
	bool all = line->first.count == 0;
	guint32 to = all ? f->row_count - 1 : last > 0 ? last : first;
	if (st > 0 && beside != st + 1) {
		*miss = (tb_surface_miss){all ? 1 : first, 0, true};
		return 0;
	}
	for (guint32 number = all ? 1 : first; number <= to; number++) {
		const tb_made_row *row = all ? &f->rows[number] : row_called(f, number);
		if (row == NULL || number == 0) {
			*miss = (tb_surface_miss){number, G_MAXUINT32, false};
			return 0;
		}
		if (line->st.count == 0) {
			add_row(f, row, false, spots);
			found += row->stitches;
			continue;
		}
		if (st == 0 || beside > row->stitches) {
			*miss = (tb_surface_miss){number, row->stitches, false};
			return 0;
		}
		bool turned = row->leftward != f->rows[1].leftward;
		guint32 a = turned ? row->stitches - st : st - 1, b = turned ? row->stitches - beside : beside - 1;
		add_spot(spots, stitch_of(f, row, a), stitch_of(f, row, b), false);
		found++;
	}
	if (found == 0)
		*miss = (tb_surface_miss){first, G_MAXUINT32, false};
	return found;
}

guint32 tb_surface_find(const tb_fabric *fabric, const tb_act *act, unsigned size, GArray *spots, tb_surface_miss *miss)
{
	const tb_surface *s = act->surface;
	guint32 found = 0;
	for (unsigned i = 0; i < s->count; i++) {
		guint32 here = tb_surface_find_line(fabric, &s->lines[i], size, spots, miss);
		if (here == 0)
			return 0;
		found += here;
	}
	return found * MAX(in_size(&s->each, size), 1);
}

bool tb_surface_is_any(const tb_worked *worked, unsigned piece, bool up)
{
	const tb_script *script = tb_worked_script(worked, piece);
	for (unsigned i = 0; i < script->count; i++) {
		const tb_acts *surface = &script->sentences[i]->surface;
		for (unsigned k = 0; k < surface->count; k++) {
			if (!up || surface->acts[k].surface->lines[0].st.count > 0)
				return true;
		}
	}
	return false;
}
