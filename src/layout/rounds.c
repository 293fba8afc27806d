/*
 * Rounds. `at` runs anticlockwise around the middle, one for a whole turn (four for an oval: side,
 * end, side, end); `level` is the distance from the middle, from the oval's spine, or from the
 * middle of a polygon's side, in chains. Each stitch wants to stand over its base; a round is made
 * as large as its stitches' heights ask, and larger where it would be crowded.
 */
#include "layout/round_list.h"

#include "layout/spread.h"

#include <math.h>

/* Stitches of a round may stand this much closer than on a row before the round must grow. */
#define CLOSEST 0.86
/* Room at the seam for the join and the round's number, and for a turning chain, in columns. */
#define SEAM 0.9
#define SEAM_CHAIN 0.7
/* A chain of the ring, and the least ring, in columns. */
#define RING_CHAIN 0.74
#define LEAST_RING 0.55
/* A ring of more chains than this is no middle. */
#define MOST_RING 12
/* More corners than this are a disc. */
#define MOST_CORNERS 8

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

bool tb_chart_is_tube(const tb_fabric *fabric)
{
	const tb_made_row *start = &fabric->rows[0];
	if (fabric->row_count < 2 || !fabric->rows[1].is_round || start->count < 3 || is_worked_in_ring(fabric))
		return false;
	/* Chains that are not joined lie the other way from the round on them. */
	bool chain = fabric->made[start->first].flags & TB_MADE_CHAIN;
	return !chain || (start->leftward == fabric->rows[1].leftward && !is_crowded_ring(fabric));
}

/* Where a stitch of a round goes in: its base, or TB_NONE for the ring. */
static guint32 goes_into(const tb_setting *s, guint32 m)
{
	const tb_made *made = &s->fabric->made[m];
	if (made->base_count == 0)
		return TB_NONE;
	guint32 base = tb_fabric_base(s->fabric, made, 0);
	return s->fabric->made[base].row == 0 ? TB_NONE : base;
}

/* The bow of chains that a group of one place has in its middle, or that ends at the seam: a corner. */
bool tb_round_is_corner(const tb_setting *s, const tb_run *run)
{
	if (run->before == TB_NONE)
		return false;
	if (run->after == TB_NONE || !(s->fabric->made[run->after].flags & TB_MADE_COUNTED))
		return run->count > 1;
	if (s->fabric->made[run->before].flags & TB_MADE_TURNING)
		return goes_into(s, run->after) == TB_NONE;
	return goes_into(s, run->before) == goes_into(s, run->after);
}

/* The corners of every round, by row. */
static GArray *count_corners(const tb_setting *s)
{
	GArray *corners = g_array_new(FALSE, TRUE, sizeof(guint32));
	g_array_set_size(corners, s->fabric->row_count);
	for (guint i = 0; i < s->runs->len; i++) {
		const tb_run *run = &g_array_index(s->runs, tb_run, i);
		if (tb_round_is_corner(s, run))
			g_array_index(corners, guint32, s->fabric->made[run->first].row)++;
	}
	return corners;
}

static void find_shape(tb_setting *s)
{
	s->shape = TB_GROUND_DISC;
	s->period = 1;
	if (!is_worked_in_ring(s->fabric) && s->fabric->rows[0].count > 2 && !is_crowded_ring(s->fabric)) {
		s->shape = TB_GROUND_OVAL;
		s->period = 4;
		return;
	}
	g_autoptr(GArray) all = count_corners(s);
	guint32 corners = g_array_index(all, guint32, s->last);
	for (guint32 r = s->last > 1 ? 2 : 1; r <= s->last; r++)
		if (g_array_index(all, guint32, r) != corners)
			return;
	if (corners >= 3 && corners <= MOST_CORNERS) {
		s->shape = TB_GROUND_POLYGON;
		s->corners = corners;
	}
}

/* Millimetres that one unit of `at` is long, at a level. */
double tb_round_speed(const tb_setting *s, double at, double level)
{
	double r = level * s->chart->chain;
	if (s->shape == TB_GROUND_DISC)
		return 2 * G_PI * r;
	if (s->shape == TB_GROUND_POLYGON)
		return 2 * s->corners * r * tan(G_PI / s->corners);
	double part = fmod(fmod(at, 4) + 4, 4);
	return part < 1 || (part >= 2 && part < 3) ? s->spine : G_PI * r;
}

/* The next place along the round, from BEFORE on, that is the same as AT. */
static double unwrap(const tb_setting *s, double at, double before)
{
	if (isnan(before))
		return at;
	return at + round((before - at) / s->period) * s->period;
}

/* The first turn of AT that is not before BEFORE, give or take the room of a fan. */
static double next_turn(double at, double before, double period)
{
	return at + ceil((before - 0.25 - at) / period) * period;
}

/* A chain of an oval's spine is worked from both sides: the one that comes next. */
static double spine_at(const tb_setting *s, guint32 base, double before)
{
	guint32 count = s->fabric->rows[0].count;
	/* Round 1 begins at the chain made last; the end chains are the middles of the oval's ends. */
	guint32 i = s->fabric->rows[0].first + count - 1 - base;
	if (i == 0)
		return isnan(before) ? -0.5 : next_turn(-0.5, before, s->period);
	if (i == count - 1)
		return isnan(before) ? 1.5 : next_turn(1.5, before, s->period);
	double there = (double)i / (count - 1), back = 3 - there;
	if (isnan(before))
		return there;
	return fmin(next_turn(there, before, s->period), next_turn(back, before, s->period));
}

static double base_at(const tb_setting *s, const tb_made *made, double before)
{
	double sum = 0;
	for (unsigned b = 0; b < made->base_count; b++) {
		guint32 base = tb_fabric_base(s->fabric, made, b);
		double at;
		if (s->shape == TB_GROUND_OVAL && s->fabric->made[base].row == 0) {
			at = spine_at(s, base, before);
		} else if (made->flags & TB_MADE_IN_SPACE && s->run[base] != 0) {
			const tb_run *run = &g_array_index(s->runs, tb_run, s->run[base] - 1);
			at = unwrap(s, (s->at[run->first] + s->at[run->first + run->count - 1]) / 2, before);
		} else {
			at = unwrap(s, s->at[base], before);
		}
		sum += at;
		before = at;
	}
	return sum / made->base_count;
}

static guint32 run_between(const tb_setting *s, guint32 a, guint32 b)
{
	return a + 1 < b && s->run[a + 1] != 0 ? g_array_index(s->runs, tb_run, s->run[a + 1] - 1).count :
		0;
}

static void list_round(const tb_setting *s, const tb_made_row *row, tb_round_list *l)
{
	l->count = 0;
	l->in_ring = row == &s->fabric->rows[1] && s->shape != TB_GROUND_OVAL;
	guint32 end = row->first + row->count;
	l->seam = SEAM;
	for (guint32 m = row->first; m < end; m++)
		if (s->fabric->made[m].flags & TB_MADE_TURNING && !(s->fabric->made[m].flags & TB_MADE_COUNTED))
			l->seam = SEAM + SEAM_CHAIN;
	for (guint32 m = row->first; m < end; m++)
		if (s->run[m] == 0 && s->fabric->made[m].flags & TB_MADE_COUNTED)
			l->list[l->count++] = m;
	for (guint32 i = 0; i < l->count; i++) {
		guint32 next = i + 1 < l->count ? l->list[i + 1] : end;
		guint32 chains = run_between(s, l->list[i], next);
		l->gaps[i] = chains > 0 ? 0.5 + 0.62 * chains : 1;
		if (i + 1 == l->count)
			l->last_gap = l->gaps[i] += l->seam;
	}
}

/* How far out the round must lie for its stitches to have room, in chains. */
static double room_level(const tb_setting *s, const tb_round_list *l)
{
	double columns = 0;
	for (guint32 i = 0; i < l->count; i++)
		columns += l->gaps[i];
	double length = columns * CLOSEST * s->chart->column;
	if (s->shape == TB_GROUND_OVAL)
		return fmax(0, length - 2 * s->spine) / (2 * G_PI) / s->chart->chain;
	return length / tb_round_speed(s, 0, 1);
}

/* A stitch in place of a join, "ch 2, dc in top of ch 3": its foot is in its own round. */
static bool closes_loop(const tb_setting *s, const tb_made *made)
{
	return made->base_count > 0 &&
		s->fabric->made[tb_fabric_base(s->fabric, made, 0)].row == made->row;
}

static void want_round(tb_setting *s, const tb_made_row *row, tb_round_list *l, double level)
{
	double columns = 0, before = NAN;
	for (guint32 i = 0; i < l->count; i++)
		columns += l->gaps[i];
	double along = 0;
	for (guint32 i = 0; i < l->count; i++) {
		const tb_made *made = &s->fabric->made[l->list[i]];
		if (l->in_ring)
			l->wanted[i] = along / columns;
		else if (i > 0 && closes_loop(s, made))
			l->wanted[i] = (before + l->wanted[0] + s->period) / 2;
		else if (made->base_count > 0)
			l->wanted[i] = base_at(s, made, before);
		else if (made->flags & TB_MADE_TURNING && i == 0 && row > &s->fabric->rows[1])
			l->wanted[i] = s->at[row[-1].first];
		else
			l->wanted[i] = isnan(before) ? 0 : before;
		before = l->wanted[i];
		along += l->gaps[i];
	}
	for (guint32 i = 0; i < l->count; i++) {
		double next = i + 1 < l->count ? l->wanted[i + 1] : l->wanted[i];
		l->gaps[i] *= CLOSEST * s->chart->column / tb_round_speed(s, (l->wanted[i] + next) / 2, level);
	}
}

/* The last stitch keeps its distance from the first, all the way round. */
static void close_round(const tb_setting *s, tb_round_list *l)
{
	if (l->count < 2)
		return;
	double first = l->wanted[0], last = l->wanted[l->count - 1];
	double most = s->period - l->gaps[l->count - 1];
	if (last - first <= most)
		return;
	double factor = most / (last - first), middle = (first + last) / 2;
	for (guint32 i = 0; i < l->count; i++)
		l->wanted[i] = middle + (l->wanted[i] - middle) * factor;
}

/* Where the round closes: the seam's room before the first stitch. */
static double closing_at(const tb_setting *s, const tb_round_list *l)
{
	double first = s->at[l->list[0]], last = s->at[l->list[l->count - 1]];
	double gap = first + s->period - last;
	/* With no chains before it the join keeps close to the last stitch. */
	bool bare = l->last_gap - l->seam <= 1;
	return bare ? last + gap * 0.6 / l->last_gap : first + s->period - gap * l->seam / l->last_gap;
}

/* Slip stitches: those that lead to where the round begins lie on what they go into. */
static void set_slip(tb_setting *s, const tb_round_list *l, guint32 m)
{
	const tb_made *made = &s->fabric->made[m];
	/* A picot stands on the stitch before it. */
	if (tb_setting_stitch(s, made)->takes == 0) {
		s->at[m] = s->at[m - 1];
		s->foot[m] = s->level[m - 1];
		s->level[m] = s->foot[m] + tb_setting_height(s, made);
		return;
	}
	s->at[m] = closing_at(s, l);
	s->level[m] = s->level[l->list[0]];
	if (m < l->list[0] && made->base_count > 0) {
		guint32 base = tb_fabric_base(s->fabric, made, 0);
		s->at[m] = base_at(s, made, s->at[l->list[0]]);
		s->level[m] = s->foot[m] + 0.35;
		/* In a space, under its chains: the round begins above them. */
		if (made->flags & TB_MADE_IN_SPACE && s->run[base] != 0)
			s->level[m] = s->foot[m] - 0.45;
		else
			/* Clear of the turning chain, which leans over the heads before it. */
			s->at[m] -= 0.35 * s->chart->column / tb_round_speed(s, s->at[m], s->level[m]);
	}
}

/* Chains stand evenly between the stitches they join; the last lead up to the seam. */
static void set_chains(tb_setting *s, const tb_made_row *row, const tb_round_list *l)
{
	for (guint32 m = row->first; m < row->first + row->count && l->count > 0; m++) {
		const tb_made *made = &s->fabric->made[m];
		double first = s->at[l->list[0]], last = s->at[l->list[l->count - 1]];
		if (s->run[m] != 0) {
			tb_run *run = &g_array_index(s->runs, tb_run, s->run[m] - 1);
			double before = run->before != TB_NONE ? s->at[run->before] : first;
			double after = closing_at(s, l);
			if (run->after != TB_NONE && s->fabric->made[run->after].flags & TB_MADE_COUNTED)
				after = s->at[run->after];
			s->at[m] = before + (after - before) * (m - run->first + 1) / (run->count + 1);
		} else if (made->flags & TB_MADE_COUNTED) {
			continue;
		} else if (made->flags & TB_MADE_TURNING) {
			s->at[m] = first - fmin((first + s->period - last) * 0.4, 0.62 * s->chart->column /
				tb_round_speed(s, first, fmax(s->level[l->list[0]], 0.1)));
		} else {
			set_slip(s, l, m);
		}
	}
}

static double foot_of(const tb_setting *s, const tb_made *made, double below)
{
	if (made->behind != TB_NONE)
		return s->level[made->behind];
	if (made->base_count == 0 || s->fabric->made[tb_fabric_base(s->fabric, made, 0)].row == 0)
		return below;
	double sum = 0;
	for (unsigned b = 0; b < made->base_count; b++)
		sum += s->level[tb_fabric_base(s->fabric, made, b)];
	return sum / made->base_count;
}

static double set_round(tb_setting *s, guint32 r, tb_round_list *l, double below)
{
	const tb_made_row *row = &s->fabric->rows[r];
	double most = below;
	list_round(s, row, l);
	for (guint32 m = row->first; m < row->first + row->count; m++) {
		const tb_made *made = &s->fabric->made[m];
		s->foot[m] = foot_of(s, made, below);
		/* Rounds stay round: tops are measured from the round below, not from the one base. */
		s->level[m] = below + tb_setting_height(s, made);
		if (made->flags & TB_MADE_COUNTED && s->run[m] == 0)
			most = fmax(most, s->level[m]);
	}
	double stretch = fmax(0, room_level(s, l) - most);
	for (guint32 m = row->first; m < row->first + row->count; m++)
		s->level[m] += stretch;
	most += stretch;
	g_autofree double *columns = g_memdup2(l->gaps, (l->count + 1) * sizeof(double));
	want_round(s, row, l, most);
	tb_spread(l->wanted, l->gaps, l->count);
	close_round(s, l);
	if (s->shape == TB_GROUND_POLYGON)
		tb_round_fill_sides(s, row, l);
	else if (s->shape == TB_GROUND_DISC)
		tb_round_fill_circle(l);
	else
		tb_round_fill_ends(s, l, columns, most);
	for (guint32 i = 0; i < l->count; i++)
		s->at[l->list[i]] = l->wanted[i];
	set_chains(s, row, l);
	for (guint32 m = row->first; m < row->first + row->count; m++) {
		if (s->run[m] == 0)
			continue;
		const tb_run *run = &g_array_index(s->runs, tb_run, s->run[m] - 1);
		s->level[m] = s->foot[m] = run->before != TB_NONE ? s->level[run->before] : most;
	}
	return most;
}

/* Without joins the rounds run on as a spiral: each climbs to the next in one turn. */
static void find_spiral(tb_setting *s)
{
	for (guint32 r = 1; r <= s->last; r++) {
		const tb_made_row *row = &s->fabric->rows[r];
		for (guint32 m = row->first; m < row->first + row->count; m++)
			if (!(s->fabric->made[m].flags & TB_MADE_COUNTED))
				return;
	}
	if (s->shape == TB_GROUND_DISC && s->last > 1)
		s->spiral = s->fabric->rows[s->last].height;
}

static void set_ring(tb_setting *s)
{
	const tb_made_row *ring = &s->fabric->rows[0];
	double radius = fmax(LEAST_RING, ring->count * RING_CHAIN / (2 * G_PI)) * s->chart->column;
	if (s->shape == TB_GROUND_OVAL) {
		s->spine = (ring->count - 1) * s->chart->column;
		radius = 0.35 * s->chart->column;
	}
	s->ring = radius / s->chart->chain;
	for (guint32 i = 0; i < ring->count; i++) {
		guint32 m = ring->first + i;
		s->level[m] = s->foot[m] = s->shape == TB_GROUND_OVAL ? 0 : s->ring;
		s->at[m] = s->shape == TB_GROUND_OVAL ?
			(double)(ring->count - 1 - i) / (ring->count - 1) : (double)i / ring->count;
	}
}

void tb_setting_find_rounds(tb_setting *s)
{
	const tb_fabric *fabric = s->fabric;
	g_autofree guint32 *list = g_new(guint32, fabric->made_count + 1);
	g_autofree double *wanted = g_new(double, fabric->made_count + 1);
	g_autofree double *gaps = g_new(double, fabric->made_count + 1);
	tb_round_list l = {.list = list, .wanted = wanted, .gaps = gaps};
	for (guint32 m = 0; m < fabric->made_count; m++)
		s->at[m] = NAN;
	find_shape(s);
	set_ring(s);
	find_spiral(s);
	s->corner_at = NAN;
	double below = s->ring;
	for (guint32 r = 1; r <= s->last; r++) {
		below = set_round(s, r, &l, below);
		tb_setting_bend_runs(s, r);
	}
	s->chart->min_at = 0;
	s->chart->max_at = 0;
}
