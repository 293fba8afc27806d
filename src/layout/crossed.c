/* Which legs cross others of their row, and how high rows must be for that, and for the posts that are held in them. */
#include "layout/need.h"
#include "layout/setting.h"

/* How many stitches on either side a leg may cross. */
#define MOST_CROSSED 8u
#define MOST_LEGS 6u

/* Where a stitch stands that has one leg, of its own, as the order of what was made; TB_NONE for any other. */
static guint32 place_of(const tb_setting *s, const tb_made *made)
{
	bool single = made->base_count == 1 && made->flags & TB_MADE_COUNTED && !(made->flags & (TB_MADE_TURNING | TB_MADE_IN_SPACE));
	guint32 base = single ? tb_fabric_base(s->fabric, made, 0) : TB_NONE;
	/* Along both sides of a chain the order turns, and nothing crosses. */
	return single && s->fabric->made[base].row > 0 && s->fabric->made[base].row < made->row ? base : TB_NONE;
}

/* Whether a row's stitches, as they are worked, stand on later and later ones of the row below: 1, or -1. */
static int way_of(const tb_setting *s, const tb_made_row *row)
{
	guint32 rising = 0, falling = 0, count = 0, before[MOST_LEGS], first = TB_NONE, last = TB_NONE;
	for (guint32 m = row->first; m < row->first + row->count; m++) {
		guint32 at = place_of(s, &s->fabric->made[m]);
		if (at == TB_NONE)
			continue;
		/* From one to the next it may be either way: they cross. */
		rising += count >= MOST_LEGS && at > before[count % MOST_LEGS];
		falling += count >= MOST_LEGS && at < before[count % MOST_LEGS];
		before[count++ % MOST_LEGS] = at;
		first = first == TB_NONE ? at : first;
		last = at;
	}
	if (rising + falling == 0)
		return last >= first ? 1 : -1;
	return rising >= falling ? 1 : -1;
}

/* How many of those near it stand on the other side of the stitch M than they are worked. */
static unsigned count_crossed(const tb_setting *s, const tb_made_row *row, guint32 m, int way)
{
	guint32 own = place_of(s, &s->fabric->made[m]);
	unsigned count = 0;
	guint32 from = m - MIN(MOST_CROSSED, m - row->first), to = MIN(m + MOST_CROSSED, row->first + row->count - 1);
	for (guint32 k = from; k <= to && own != TB_NONE; k++) {
		guint32 other = place_of(s, &s->fabric->made[k]);
		if (other == TB_NONE || s->fabric->made[other].row != s->fabric->made[own].row || other == own)
			continue;
		count += k < m ? (way > 0 ? other > own : other < own) : k > m && (way > 0 ? other < own : other > own);
	}
	/* Of more it is no crossing of legs: the row goes another way there. */
	return count <= MOST_LEGS ? count : 0;
}

static void need(tb_setting *s, guint32 row, double height)
{
	s->need[row] = MAX(s->need[row], height);
}

static void find_need(tb_setting *s, guint32 m)
{
	const tb_made *made = &s->fabric->made[m];
	const tb_stitch *stitch = tb_setting_stitch(s, made);
	bool post = stitch->post != TB_POST_NONE;
	if (s->shift[m] > 0)
		need(s, made->row, tb_need_crossing(stitch->bars, post, s->shift[m]));
	if ((stitch->meet == TB_MEET_BOTH || stitch->form == TB_FORM_BULLION) && !post)
		need(s, made->row, tb_need_leaf());
	if (tb_stitch_is_raised_cross(stitch))
		need(s, made->row, tb_need_raised_cross());
	if (stitch->form == TB_FORM_CROSS && made->base_count > 1)
		need(s, made->row, tb_need_crosses_together());
	for (unsigned b = 0; post && b < made->base_count; b++) {
		guint32 on = tb_fabric_base(s->fabric, made, b);
		const tb_made *base = &s->fabric->made[on];
		const tb_stitch *held = tb_setting_stitch(s, base);
		bool leaf = held->meet == TB_MEET_BOTH || held->meet == TB_MEET_FOOT;
		if (base->row > 0)
			need(s, base->row, tb_need_held(held->form == TB_FORM_CROSS, leaf, held->bars));
		if (base->row > 0 && s->shift[on] > 0)
			need(s, base->row, tb_need_crossing(held->bars, true, s->shift[on]));
	}
}

void tb_setting_find_needs(tb_setting *s)
{
	for (guint32 r = MAX(s->lowest, 1); r <= s->last; r++) {
		const tb_made_row *row = &s->fabric->rows[r];
		int way = way_of(s, row);
		for (guint32 m = row->first; m < row->first + row->count; m++) {
			unsigned crossed = count_crossed(s, row, m, way);
			s->shift[m] = (guint8)MIN(crossed, G_MAXUINT8);
		}
		for (guint32 m = row->first; m < row->first + row->count; m++)
			find_need(s, m);
	}
}
