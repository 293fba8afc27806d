/* Every stitch's top and feet on the page, the grid's top left corner at 0,0. */
#include "layout/setting.h"

#include "support/diagnose.h"

#include <math.h>

/* From the middle of a ring's chain to clear of it, in columns. */
#define RING_HALF 0.2

static bool is_row_charted(const tb_chart *chart, const tb_made_row *row)
{
	return row->number >= chart->options.first_row && row->number <= chart->options.last_row;
}

/* The charted rows, and the lowest row they reach into. */
static void find_row_range(tb_setting *s)
{
	const tb_fabric *fabric = s->fabric;
	for (guint32 i = 1; i < fabric->row_count; i++) {
		if (!is_row_charted(s->chart, &fabric->rows[i]))
			continue;
		if (s->first == 0)
			s->first = i;
		s->last = i;
	}
	s->lowest = s->first;
	for (guint32 i = s->first; i <= s->last && s->first > 0; i++) {
		const tb_made_row *row = &fabric->rows[i];
		for (guint32 m = row->first; m < row->first + row->count; m++) {
			const tb_made *made = &fabric->made[m];
			for (unsigned b = 0; b < made->base_count; b++)
				s->lowest = MIN(s->lowest, fabric->made[tb_fabric_base(fabric, made, b)].row);
		}
	}
	if (s->first <= 1)
		s->lowest = 0;
}

/* A point on the page in the frame of a stitch: its top at 0,0, its upright along -y. */
static tb_spot in_frame(const tb_placed *placed, tb_spot p)
{
	double dx = p.x - placed->top.x, dy = p.y - placed->top.y;
	double c = cos(placed->angle), n = sin(placed->angle);
	return (tb_spot){dx * c + dy * n, dy * c - dx * n};
}

/*
 * Rows that begin in a ring: its chains lie in a small circle under the first row, and that row's
 * stitches stand around it.
 */
static bool is_ring_under_rows(const tb_setting *s, const tb_made *made)
{
	return s->shape == TB_GROUND_ROWS && s->has_ring && made->row <= 1;
}

static tb_spot on_ring(const tb_setting *s, double direction, double out)
{
	double column = s->chart->column, r = s->ring_radius * column;
	tb_spot top = tb_ground_spot(s, s->ring_at, 0);
	return (tb_spot){top.x + (r + out * column) * sin(direction),
		top.y + r - (r + out * column) * cos(direction)};
}

static void detect_ring(tb_setting *s)
{
	const tb_made_row *row = &s->fabric->rows[1];
	for (guint32 m = row->first; m < row->first + row->count && s->lowest == 0; m++) {
		const tb_made *made = &s->fabric->made[m];
		if (made->flags & TB_MADE_IN_SPACE && made->base_count == 1 &&
			s->fabric->made[tb_fabric_base(s->fabric, made, 0)].row == 0)
			s->has_ring = true;
	}
	s->ring_radius = fmax(0.5, s->fabric->rows[0].count * 0.74 / (2 * G_PI));
}

/* Under the middle of what is worked into it. */
static void place_ring(tb_setting *s)
{
	const tb_made_row *row = &s->fabric->rows[1];
	double sum = 0;
	guint32 count = 0;
	for (guint32 m = row->first; m < row->first + row->count; m++) {
		if (s->fabric->made[m].flags & TB_MADE_COUNTED && !isnan(s->at[m])) {
			sum += s->at[m];
			count++;
		}
	}
	s->ring_at = count > 0 ? sum / count : 0;
}

/* A foot in that ring, straight under the stitch's top as seen from the ring's middle. */
static tb_spot ring_foot(const tb_setting *s, guint32 m)
{
	tb_spot top = tb_ground_spot(s, s->at[m], s->level[m]);
	tb_spot middle = on_ring(s, 0, -s->ring_radius);
	return on_ring(s, atan2(top.x - middle.x, middle.y - top.y), TB_RING_THICK);
}

static const tb_run *space_of(const tb_setting *s, const tb_made *made, guint32 base)
{
	return made->flags & TB_MADE_IN_SPACE && made->base_count == 1 && s->run[base] != 0 ?
		&g_array_index(s->runs, tb_run, s->run[base] - 1) : NULL;
}

/* A foot in a chain space stands on the bow, as near under its top as the bow reaches. */
static tb_spot foot_in_space(const tb_setting *s, const tb_run *run, double at)
{
	double from, to;
	tb_run_ends(s, run, &from, &to);
	if (s->shape != TB_GROUND_ROWS)
		at += round(((from + to) / 2 - at) / s->period) * s->period;
	double half = (to - from) / 2, middle = (from + to) / 2;
	double t = fabs(half) > 1e-9 ? 0.5 + CLAMP((at - middle) / half, -1, 1) * 0.31 : 0.5;
	return tb_run_at(run, t, NULL);
}

/* One foot between the two stitches whose gap it goes into; two would be two drawn together. */
static tb_spot foot_in_gap(const tb_setting *s, guint32 m)
{
	const tb_made *made = &s->fabric->made[m];
	guint32 left = tb_fabric_base(s->fabric, made, 0), right = tb_fabric_base(s->fabric, made, 1);
	double at = tb_setting_base_at(s, m, left), other = tb_setting_base_at(s, m, right);
	if (isnan(at) || isnan(other))
		return tb_ground_spot(s, s->at[m], s->level[left]);
	if (s->shape != TB_GROUND_ROWS)
		other += round((at - other) / s->period) * s->period;
	return tb_ground_spot(s, (at + other) / 2, (s->level[left] + s->level[right]) / 2);
}

static void add_feet(tb_setting *s, guint32 m)
{
	tb_chart *chart = s->chart;
	const tb_made *made = &s->fabric->made[m];
	const tb_stitch *stitch = tb_setting_stitch(s, made);
	if (made->flags & TB_MADE_IN_SPACE && made->base_count == 2 && stitch->takes == 1) {
		tb_spot foot = foot_in_gap(s, m);
		g_array_append_val(chart->feet, foot);
		return;
	}
	for (unsigned b = 0; b < made->base_count; b++) {
		guint32 base = tb_fabric_base(s->fabric, made, b);
		const tb_run *space = space_of(s, made, base);
		tb_spot foot;
		double at = tb_setting_base_at(s, m, base);
		if (isnan(at))
			at = s->at[m];
		if (s->shape != TB_GROUND_ROWS && s->fabric->made[base].row == 0 &&
			made->flags & TB_MADE_IN_SPACE) {
			/* In a ring: straight in, side by side. */
			foot = tb_ground_spot(s, s->at[m], s->ring + TB_RING_THICK * chart->column / chart->chain);
		} else if (space != NULL && space->p[0].x != space->p[3].x) {
			foot = foot_in_space(s, space, s->at[m]);
		} else if (stitch->post != TB_POST_NONE) {
			double tall = s->level[base] - s->foot[base];
			foot = tb_ground_spot(s, at, s->foot[base] + tall * TB_POST_LEVEL);
		} else {
			foot = tb_ground_spot(s, at, s->level[base]);
		}
		g_array_append_val(chart->feet, foot);
	}
}

/* A stitch with one leg stands along it; all others stand as their row does. */
static void find_upright(tb_setting *s, tb_placed *placed)
{
	const tb_made *made = &s->fabric->made[placed->made];
	const tb_spot *foot = &g_array_index(s->chart->feet, tb_spot, placed->first_foot);
	placed->angle = tb_ground_up(s, s->at[placed->made], s->level[placed->made]);
	if (placed->foot_count != 1 || tb_setting_stitch(s, made)->post != TB_POST_NONE)
		return;
	double dx = placed->top.x - foot->x, dy = placed->top.y - foot->y;
	if (fabs(dx) > 1e-6 || s->shape != TB_GROUND_ROWS)
		placed->angle = atan2(dx, -dy);
}

/* The foundation lies along the fabric's lower edge, which a wave bends. */
static double lie_along(const tb_setting *s, double at)
{
	if (s->shape != TB_GROUND_ROWS) {
		/* A ring's chains lie along the ring, a spine's along the spine. */
		double up = s->shape == TB_GROUND_OVAL ? 0 : tb_ground_up(s, at, s->ring);
		return up - round(up / G_PI) * G_PI;
	}
	tb_spot a = tb_ground_spot(s, at - 0.5, 0), b = tb_ground_spot(s, at + 0.5, 0);
	double angle = atan2(b.y - a.y, b.x - a.x);
	return angle - round(angle / G_PI) * G_PI;
}

static void place_chain(tb_setting *s, guint32 m, tb_placed *placed)
{
	const tb_run *run = &g_array_index(s->runs, tb_run, s->run[m] - 1);
	double direction, t = (m - run->first + 0.5) / run->count;
	placed->top = tb_run_at(run, t, &direction);
	/* An almond is the same from either end: keep it upright. */
	placed->angle = direction - round(direction / G_PI) * G_PI;
}

static void place_stitch(tb_setting *s, guint32 m, tb_chart_row *row)
{
	tb_chart *chart = s->chart;
	const tb_made *made = &s->fabric->made[m];
	if (isnan(s->at[m]))
		return;
	tb_placed placed = {.made = m, .first_foot = chart->feet->len};
	if (made->flags & (TB_MADE_COUNTED | TB_MADE_CHAIN))
		placed.index = s->shape == TB_GROUND_ROWS ? (guint32)lround(s->at[m] - chart->min_at) + 1 :
			row->count + 1;
	if (made->row == 0 && is_ring_under_rows(s, made)) {
		double turn = 2 * G_PI * (m - s->fabric->rows[0].first) / s->fabric->rows[0].count *
			(chart->options.left_handed ? -1 : 1);
		placed.top = on_ring(s, turn, 0);
		placed.angle = turn - round(turn / G_PI) * G_PI;
	} else if (s->run[m] != 0) {
		place_chain(s, m, &placed);
	} else if (tb_setting_is_join(s, made)) {
		placed.top = tb_ground_spot(s, s->at[m], s->level[m]);
		placed.angle = tb_ground_up(s, s->at[m], s->level[m]);
	} else {
		placed.top = tb_ground_spot(s, s->at[m], s->level[m]);
		tb_spot stand = tb_ground_spot(s, s->at[m], s->foot[m]);
		if (is_ring_under_rows(s, made)) {
			stand = ring_foot(s, m);
			g_array_append_val(chart->feet, stand);
		} else if (made->base_count == 0 || (made->flags & TB_MADE_TURNING && made->row == 1)) {
			/* The first turning chain rises from the foundation's corner, upright, or from the outside
			 * of a ring of chains. */
			if (made->row == 1 && s->shape != TB_GROUND_ROWS && s->shape != TB_GROUND_OVAL)
				stand = tb_ground_spot(s, s->at[m], s->foot[m] + RING_HALF * chart->column / chart->chain);
			g_array_append_val(chart->feet, stand);
		} else {
			add_feet(s, m);
		}
		placed.foot_count = (guint16)(chart->feet->len - placed.first_foot);
		find_upright(s, &placed);
		if (made->row == 0)
			placed.angle = lie_along(s, s->at[m]);
		placed.height = placed.base_top = in_frame(&placed, stand).y;
		if (placed.foot_count == 1 && placed.angle != 0)
			placed.height = placed.base_top =
				in_frame(&placed, g_array_index(chart->feet, tb_spot, placed.first_foot)).y;
		if (made->base_count > 0) {
			guint32 base = tb_fabric_base(s->fabric, made, 0);
			double at = tb_setting_base_at(s, m, base);
			if (!isnan(at) && made->rows_below > 1)
				placed.base_top = in_frame(&placed, tb_ground_spot(s, at, s->level[base])).y;
		}
	}
	g_array_append_val(chart->placed, placed);
	row->count++;
}

/* A round's number stands in the seam, before its first stitch. */
static void number_round(tb_setting *s, tb_chart_row *row)
{
	const tb_made_row *worked = &s->fabric->rows[row->row];
	guint32 first = worked->first;
	double beside = 0.62;
	while (first + 1 < worked->first + worked->count &&
		!(s->fabric->made[first].flags & TB_MADE_COUNTED)) {
		if (s->fabric->made[first].flags & TB_MADE_TURNING)
			beside = 1.12;
		first++;
	}
	double level = s->level[first] - 0.5 * fmin(tb_setting_height(s, &s->fabric->made[first]), 2);
	tb_spot a = tb_ground_spot(s, s->at[first], level), b = tb_ground_spot(s, s->at[first] - 0.01, level);
	double way = hypot(b.x - a.x, b.y - a.y), column = s->chart->column;
	row->number = (tb_spot){a.x + (b.x - a.x) / way * column * beside,
		a.y + (b.y - a.y) / way * column * beside};
}

/* A row's own height at the edge where it begins, for its number. */
static void measure_row(tb_setting *s, tb_chart_row *row)
{
	const GArray *placed = s->chart->placed;
	if (s->shape != TB_GROUND_ROWS && row->row > 0) {
		number_round(s, row);
		return;
	}
	for (guint32 i = row->first; i < row->first + row->count; i++) {
		const tb_placed *p = &g_array_index(placed, tb_placed, i);
		if (p->foot_count == 0 && i + 1 < row->first + row->count)
			continue;
		row->top = p->top.y;
		row->bottom = p->top.y + p->height;
		row->edge = p->top.x;
		return;
	}
}

/* A piece may grow from a row of another, which is shown as worked already. */
static bool is_grown(const tb_setting *s)
{
	const tb_made_row *row = &s->fabric->rows[0];
	for (guint32 m = row->first; m < row->first + row->count; m++)
		if (!(s->fabric->made[m].flags & TB_MADE_CHAIN))
			return true;
	return false;
}

static void place_rows(tb_setting *s)
{
	tb_chart *chart = s->chart;
	for (guint32 r = s->lowest; r <= s->last; r++) {
		const tb_made_row *worked = &s->fabric->rows[r];
		tb_chart_row row = {.row = r, .below = r < s->first && (r > 0 || is_grown(s)), .first = chart->placed->len};
		for (guint32 m = worked->first; m < worked->first + worked->count; m++)
			place_stitch(s, m, &row);
		measure_row(s, &row);
		g_array_append_val(chart->rows, row);
	}
}

/* The foundation lies under row 1; a ring in the middle. */
static void place_foundation(tb_setting *s)
{
	const tb_made_row *row = &s->fabric->rows[0];
	bool grown = is_grown(s);
	for (guint32 m = row->first; m < row->first + row->count && s->shape == TB_GROUND_ROWS; m++) {
		s->level[m] = 0;
		if (grown) {
			s->foot[m] = -tb_setting_height(s, &s->fabric->made[m]);
			continue;
		}
		s->foot[m] = -TB_FOUNDATION_HEIGHT * s->chart->column / s->chart->rise;
	}
}

/* The whole of what was placed. */
static void find_edges(tb_setting *s)
{
	tb_chart *chart = s->chart;
	bool rows = s->shape == TB_GROUND_ROWS;
	chart->left = rows ? 0 : INFINITY;
	chart->right = rows ? tb_chart_across(chart, chart->max_at + 0.5) : -INFINITY;
	chart->top = INFINITY;
	chart->bottom = -INFINITY;
	for (guint i = 0; i < chart->placed->len; i++) {
		const tb_placed *p = &g_array_index(chart->placed, tb_placed, i);
		double margin = rows ? 0 : 0.35 * chart->column;
		chart->top = fmin(chart->top, p->top.y - margin);
		chart->bottom = fmax(chart->bottom, rows ? p->top.y + fmax(p->height, 0) * cos(p->angle) :
			p->top.y + margin);
		if (!rows) {
			chart->left = fmin(chart->left, p->top.x - margin);
			chart->right = fmax(chart->right, p->top.x + margin);
		}
	}
	for (guint i = 0; i < chart->sector->len; i++) {
		const tb_spot *spot = &g_array_index(chart->sector, tb_spot, i);
		chart->left = fmin(chart->left, spot->x);
		chart->right = fmax(chart->right, spot->x);
		chart->top = fmin(chart->top, spot->y);
		chart->bottom = fmax(chart->bottom, spot->y);
	}
}

static void destroy_setting(tb_setting *s)
{
	g_free(s->at);
	g_free(s->level);
	g_free(s->foot);
	g_free(s->run);
	g_free(s->column);
	g_array_unref(s->runs);
	if (s->wave != NULL)
		g_array_unref(s->wave);
}

/* Nothing of a round is folded away: a stitch that has no place there would vanish. */
static bool all_have_places(const tb_setting *s)
{
	for (guint32 i = s->lowest; i <= s->last && s->first > 0; i++) {
		const tb_made_row *row = &s->fabric->rows[i];
		for (guint32 m = row->first; m < row->first + row->count; m++) {
			if (!isfinite(s->at[m]))
				return false;
		}
	}
	return true;
}

/* A heel or a flap, worked back and forth on a part of a round: no circle has it. */
static bool has_flap(const tb_setting *s)
{
	guint32 around = 0;
	for (guint32 i = s->first; i <= s->last; i++) {
		const tb_made_row *row = &s->fabric->rows[i];
		around = row->is_round ? row->stitches : around;
		if (!row->is_round && row->stitches * 4 < around * 3)
			return true;
	}
	return false;
}

bool tb_chart_place(tb_chart *chart, tb_diagnostics *diagnostics)
{
	tb_setting s = {.chart = chart, .fabric = chart->fabric};
	gsize count = s.fabric->made_count + 1;
	find_row_range(&s);
	s.at = g_new(double, count);
	s.level = g_new0(double, count);
	s.foot = g_new0(double, count);
	s.run = g_new0(guint32, count);
	s.runs = g_array_new(FALSE, TRUE, sizeof(tb_run));
	tb_setting_find_runs(&s);
	chart->in_rounds = s.first > 0 && s.fabric->rows[s.first].is_round && !chart->is_tube;
	if (!chart->in_rounds)
		detect_ring(&s);
	if (chart->in_rounds)
		tb_setting_find_rounds(&s);
	else
		tb_setting_find_columns(&s);
	bool any = s.first > 0 && chart->min_at <= chart->max_at;
	bool flap = any && chart->in_rounds && has_flap(&s);
	if (flap || (any && chart->in_rounds && !all_have_places(&s))) {
		tb_where where = {
			.piece = tb_pattern_get_piece(tb_worked_pattern(chart->worked), chart->piece)};
		tb_diagnose(diagnostics, TB_ERROR, "nothing-to-chart", &where, flap ?
			"rows that go back and forth on a part of a round are not drawn" :
			"where some stitches of these rounds lie is not known", "Ask for other rows.");
		any = false;
	} else if (any) {
		if (!chart->in_rounds)
			tb_setting_find_levels(&s);
		if (s.has_ring)
			place_ring(&s);
		place_foundation(&s);
		place_rows(&s);
		tb_setting_add_marks(&s);
		if (chart->in_rounds)
			tb_setting_find_sector(&s);
		find_edges(&s);
		tb_chart_move(chart, -chart->left, -chart->top);
	} else {
		tb_where where = {
			.piece = tb_pattern_get_piece(tb_worked_pattern(chart->worked), chart->piece)};
		tb_diagnose(diagnostics, TB_ERROR, "nothing-to-chart", &where,
			"there are no stitches to chart in these rows", "Ask for rows that the piece has.");
	}
	destroy_setting(&s);
	return any;
}
