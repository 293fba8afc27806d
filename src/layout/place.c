/* Every stitch's top and feet on the page, the grid's top left corner at 0,0. */
#include "layout/need.h"
#include "layout/rest.h"
#include "layout/setting.h"

#include "support/diagnose.h"

#include <math.h>

/* How far beside a turning chain the others of its half fan stand, in columns. */
#define BESIDE_TURNING 0.24
/* A foot in a space, or in a chain of one, stands so high over the middle of its chains, in units. */
#define OVER_CHAIN 0.13

/* The lowest row that those of the part reach into. */
static void find_lowest(tb_setting *s)
{
	s->lowest = s->first;
	for (guint32 i = s->first; i <= s->last; i++) {
		const tb_made_row *row = &s->fabric->rows[i];
		for (guint32 m = row->first; m < row->first + row->count; m++) {
			const tb_made *made = &s->fabric->made[m];
			for (unsigned b = 0; b < made->base_count; b++)
				s->lowest = MIN(s->lowest, s->fabric->made[tb_fabric_base(s->fabric, made, b)].row);
		}
	}
	if (s->first <= 1)
		s->lowest = 0;
	if (s->part->joins)
		s->lowest = s->first;
}

/* A point on the page in the frame of a stitch: its top at 0,0, its upright along -y. */
static tb_spot in_frame(const tb_placed *placed, tb_spot p)
{
	double dx = p.x - placed->top.x, dy = p.y - placed->top.y;
	double c = cos(placed->angle), n = sin(placed->angle);
	return (tb_spot){dx * c + dy * n, dy * c - dx * n};
}

static bool is_drawn(const tb_run *run)
{
	return run->p[0].x != run->p[3].x;
}

/* The space that M is worked into by BASE, one of its chains; where a fold leaves that undrawn, the space drawn for it. */
static const tb_run *space_of(const tb_setting *s, guint32 m, guint32 base)
{
	const tb_made *made = &s->fabric->made[m];
	if (!(made->flags & TB_MADE_IN_SPACE) || made->base_count != 1)
		return NULL;
	const tb_run *own = s->run[base] != 0 ? &g_array_index(s->runs, tb_run, s->run[base] - 1) : NULL;
	if (own != NULL && is_drawn(own))
		return own;
	double at = tb_setting_base_at(s, m, base);
	for (guint i = 0; i < s->runs->len && !isnan(at); i++) {
		const tb_run *run = &g_array_index(s->runs, tb_run, i);
		double from, to;
		if (!is_drawn(run) || s->fabric->made[run->first].row != s->fabric->made[base].row)
			continue;
		tb_run_ends(s, run, &from, &to);
		if (fabs(at - (from + to) / 2) <= fabs(to - from) / 2)
			return run;
	}
	return NULL;
}

/* A foot in a chain space stands on the bow, as near under its top as the bow reaches. */
static tb_spot foot_in_space(const tb_setting *s, const tb_run *run, double at)
{
	double from, to;
	tb_run_ends(s, run, &from, &to);
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
		return tb_setting_spot(s, s->at[m], s->level[left]);
	return tb_setting_spot(s, (at + other) / 2, (s->level[left] + s->level[right]) / 2);
}

/* Half a fan at an edge, its foot on that of the turning chain that is its first stitch: a little beside that. */
static double beside_turning(const tb_setting *s, guint32 m, double at)
{
	guint32 first = s->fabric->rows[s->fabric->made[m].row].first;
	const tb_made *chain = &s->fabric->made[first];
	bool turns = chain->flags & TB_MADE_TURNING && chain->flags & TB_MADE_COUNTED && !isnan(s->at[first]);
	if (!turns || m == first || fabs(s->at[first] - at) > 0.3 || fabs(s->at[m] - at) < 0.1)
		return 0;
	return s->at[m] > s->at[first] ? BESIDE_TURNING : -BESIDE_TURNING;
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
		const tb_run *space = space_of(s, m, base);
		tb_spot foot;
		double at = tb_setting_base_at(s, m, base);
		if (isnan(at))
			at = s->at[m];
		if (space != NULL) {
			foot = foot_in_space(s, space, s->at[m]);
			foot.y -= OVER_CHAIN * tb_need_unit(chart->column, chart->chain);
		} else if (stitch->post != TB_POST_NONE) {
			double neck = TB_THROAT_LEVEL * tb_need_unit(chart->column, chart->chain) / chart->chain;
			foot = tb_setting_spot(s, at, s->level[base] - neck);
		} else {
			foot = tb_setting_spot(s, at + beside_turning(s, m, at), s->level[base]);
			if (s->run[base] != 0)
				foot.y -= OVER_CHAIN * tb_need_unit(chart->column, chart->chain);
		}
		g_array_append_val(chart->feet, foot);
	}
}

/* A stitch with one leg stands along it; all others stand as their row does. */
static void find_upright(tb_setting *s, tb_placed *placed)
{
	const tb_made *made = &s->fabric->made[placed->made];
	const tb_spot *foot = &g_array_index(s->chart->feet, tb_spot, placed->first_foot);
	if (placed->foot_count != 1 || placed->crosses || tb_setting_stitch(s, made)->post != TB_POST_NONE)
		return;
	double dx = placed->top.x - foot->x, dy = placed->top.y - foot->y;
	if (fabs(dx) > 1e-6)
		placed->angle = atan2(dx, -dy);
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
	tb_placed placed = {.made = m, .crosses = s->shift[m] > 0, .first_foot = chart->feet->len};
	if (s->run[m] != 0) {
		place_chain(s, m, &placed);
	} else if (tb_setting_is_join(s, made)) {
		placed.top = tb_setting_spot(s, s->at[m], s->level[m]);
	} else {
		placed.top = tb_setting_spot(s, s->at[m], s->level[m]);
		tb_spot stand = tb_setting_spot(s, s->at[m], s->foot[m]);
		if (made->base_count == 0 || (made->flags & TB_MADE_TURNING && made->row == 1) ||
			(made->row == s->lowest && s->lowest > 0)) {
			/* The first turning chain rises from the foundation's corner, upright; so does what stands on nothing here. */
			g_array_append_val(chart->feet, stand);
		} else {
			add_feet(s, m);
		}
		placed.foot_count = (guint16)(chart->feet->len - placed.first_foot);
		find_upright(s, &placed);
		placed.height = placed.base_top = in_frame(&placed, stand).y;
		if (placed.foot_count == 1 && placed.angle != 0)
			placed.height = placed.base_top =
				in_frame(&placed, g_array_index(chart->feet, tb_spot, placed.first_foot)).y;
		if (made->base_count > 0) {
			guint32 base = tb_fabric_base(s->fabric, made, 0);
			double at = tb_setting_base_at(s, m, base);
			if (!isnan(at) && made->rows_below > 1)
				placed.base_top = in_frame(&placed, tb_setting_spot(s, at, s->level[base])).y;
		}
	}
	g_array_append_val(chart->placed, placed);
	row->count++;
}

/* A row's own height at the edge where it begins, for its number. */
static void measure_row(tb_setting *s, tb_chart_row *row)
{
	const GArray *placed = s->chart->placed;
	for (guint32 i = row->first; i < row->first + row->count; i++) {
		const tb_placed *p = &g_array_index(placed, tb_placed, i);
		if (p->foot_count == 0 && i + 1 < row->first + row->count)
			continue;
		row->top = p->top.y;
		row->bottom = p->top.y + p->height;
		return;
	}
}

static void place_rows(tb_setting *s)
{
	tb_chart *chart = s->chart;
	for (guint32 r = s->lowest; r <= s->last; r++) {
		const tb_made_row *worked = &s->fabric->rows[r];
		tb_chart_row row = {.row = r, .below = r < s->first && (r > 0 || tb_setting_is_grown(s)), .first = chart->placed->len};
		for (guint32 m = worked->first; m < worked->first + worked->count; m++)
			place_stitch(s, m, &row);
		measure_row(s, &row);
		g_array_append_val(chart->rows, row);
	}
}

/* The foundation lies under row 1. */
static void place_foundation(tb_setting *s)
{
	const tb_made_row *row = &s->fabric->rows[0];
	bool grown = tb_setting_is_grown(s);
	for (guint32 m = row->first; m < row->first + row->count; m++) {
		s->level[m] = 0;
		if (grown) {
			s->foot[m] = -tb_setting_height(s, &s->fabric->made[m]);
			continue;
		}
		s->foot[m] = -TB_FOUNDATION_HEIGHT * s->chart->column / s->chart->chain;
	}
}

/* The whole of what was placed on the grid. */
static void find_edges(tb_setting *s)
{
	tb_chart *chart = s->chart;
	tb_chart_part *part = s->part;
	part->left = 0;
	part->right = tb_chart_across(chart, chart->max_at + 0.5);
	part->top = INFINITY;
	part->bottom = -INFINITY;
	for (guint i = s->first_placed; i < chart->placed->len; i++) {
		const tb_placed *p = &g_array_index(chart->placed, tb_placed, i);
		part->top = fmin(part->top, p->top.y);
		part->bottom = fmax(part->bottom, p->top.y + fmax(p->height, 0) * cos(p->angle));
	}
}

static void reach(tb_chart_part *part, tb_spot at, double margin)
{
	part->left = fmin(part->left, at.x - margin);
	part->right = fmax(part->right, at.x + margin);
	part->top = fmin(part->top, at.y - margin);
	part->bottom = fmax(part->bottom, at.y + margin);
}

/* The whole of what came to rest. */
static void find_rest_edges(tb_setting *s)
{
	tb_chart *chart = s->chart;
	tb_chart_part *part = s->part;
	double margin = 0.35 * chart->column;
	part->left = part->top = INFINITY;
	part->right = part->bottom = -INFINITY;
	for (guint i = s->first_placed; i < chart->placed->len; i++)
		reach(part, g_array_index(chart->placed, tb_placed, i).top, margin);
	for (guint i = s->first_foot; i < chart->feet->len; i++)
		reach(part, g_array_index(chart->feet, tb_spot, i), margin);
	for (guint i = 0; i < chart->sector->len; i++)
		reach(part, g_array_index(chart->sector, tb_spot, i), 0);
	if (chart->sector->len > 0)
		part->top = fmin(part->top, chart->sector_label.y - chart->column);
}

static void create_setting(tb_setting *s, tb_chart *chart, tb_chart_part *part)
{
	gsize count = chart->fabric->made_count + 1;
	*s = (tb_setting){.chart = chart, .part = part, .fabric = chart->fabric, .first = part->first, .last = part->last,
		.first_placed = chart->placed->len, .first_foot = chart->feet->len, .first_mark = chart->marks->len};
	s->at = g_new(double, count);
	s->level = g_new0(double, count);
	s->foot = g_new0(double, count);
	s->run = g_new0(guint32, count);
	s->drawn = g_new0(gint32, count);
	s->need = g_new0(double, chart->fabric->row_count + 1);
	s->shift = g_new0(guint8, count);
	s->runs = g_array_new(FALSE, TRUE, sizeof(tb_run));
	find_lowest(s);
	tb_setting_find_needs(s);
	tb_setting_find_runs(s);
}

static void destroy_setting(tb_setting *s)
{
	g_free(s->at);
	g_free(s->level);
	g_free(s->foot);
	g_free(s->run);
	g_free(s->column);
	g_free(s->drawn);
	g_free(s->need);
	g_free(s->shift);
	g_array_unref(s->runs);
}

/* Columns by places, where the motif was found on such; false when the chart's repeat cannot be folded. */
static bool find_places(tb_setting *s)
{
	if (s->chart->motif.found && s->chart->motif.by_places) {
		g_free(s->column);
		s->column = g_new(gint32, s->fabric->made_count + 1);
		if (!tb_place_columns(s->fabric, s->fabric->rows[s->last].number, s->column, &s->width))
			g_clear_pointer(&s->column, g_free);
	}
	return !s->chart->folded || s->column != NULL;
}

static void tell_nothing(const tb_chart *chart, tb_diagnostics *diagnostics)
{
	tb_where where = {.piece = tb_pattern_get_piece(tb_worked_pattern(chart->worked), chart->piece)};
	tb_diagnose(diagnostics, TB_ERROR, "nothing-to-chart", &where,
		"there are no stitches to chart in these rows", "Ask for rows that the piece has.");
}

/* Sets the stitches of a part, its middle or its left edge at 0. False where there is nothing, or no room in memory. */
static bool place_part(tb_setting *s, tb_diagnostics *diagnostics)
{
	tb_chart *chart = s->chart;
	s->part->row = chart->rows->len;
	s->part->at_rest = tb_setting_is_around(s) || !tb_setting_find_columns(s);
	if (!s->part->at_rest && chart->min_at > chart->max_at) {
		tell_nothing(chart, diagnostics);
		return false;
	}
	if (!s->part->at_rest) {
		tb_setting_find_levels(s);
		s->part->at_rest = tb_setting_is_strained(s);
	}
	if (s->part->at_rest) {
		if (!find_places(s) && !tb_chart_unfold(chart, diagnostics))
			return false;
		if (!tb_rest_place(s) && !tb_chart_unfold(chart, diagnostics))
			return false;
		find_rest_edges(s);
	} else {
		place_foundation(s);
		place_rows(s);
		find_edges(s);
	}
	s->part->rows = chart->rows->len - s->part->row;
	tb_setting_number_places(s);
	tb_setting_add_marks(s);
	return true;
}

/* Paper between parts, in columns. */
#define BETWEEN_PARTS 2.5

/* Parts stand above one another in the order they are worked, their middles in one line. */
static void stack_part(tb_setting *s, double *bottom)
{
	tb_chart *chart = s->chart;
	tb_chart_part *part = s->part;
	double dx = -(part->left + part->right) / 2, dy = *bottom - part->bottom;
	tb_chart_slice slice = {.placed = s->first_placed, .foot = s->first_foot, .row = part->row, .mark = s->first_mark};
	tb_chart_move_slice(chart, &slice, dx, dy);
	part->left += dx;
	part->right += dx;
	part->top += dy;
	part->bottom += dy;
	*bottom = part->top - BETWEEN_PARTS * chart->column;
}

static void find_whole(tb_chart *chart)
{
	chart->left = chart->top = INFINITY;
	chart->right = chart->bottom = -INFINITY;
	for (guint i = 0; i < chart->parts->len; i++) {
		const tb_chart_part *part = tb_chart_part_at(chart, i);
		chart->left = fmin(chart->left, part->left);
		chart->right = fmax(chart->right, part->right);
		chart->top = fmin(chart->top, part->top);
		chart->bottom = fmax(chart->bottom, part->bottom);
	}
}

static bool place_parts(tb_chart *chart, tb_diagnostics *diagnostics)
{
	double bottom = 0;
	for (guint i = 0; i < chart->parts->len; i++) {
		tb_setting s;
		create_setting(&s, chart, tb_chart_part_at(chart, i));
		bool placed = place_part(&s, diagnostics);
		if (placed)
			stack_part(&s, &bottom);
		destroy_setting(&s);
		if (!placed)
			return false;
	}
	/* No column goes through all of them. */
	chart->columns = 0;
	find_whole(chart);
	tb_chart_move(chart, -chart->left, -chart->top);
	return true;
}

static bool place_whole(tb_chart *chart, tb_diagnostics *diagnostics)
{
	tb_setting s;
	create_setting(&s, chart, tb_chart_part_at(chart, 0));
	bool placed = place_part(&s, diagnostics);
	if (placed) {
		find_whole(chart);
		tb_chart_move(chart, -chart->left, -chart->top);
		if (s.part->at_rest)
			tb_rest_find_columns(&s);
	}
	destroy_setting(&s);
	return placed;
}

bool tb_chart_place(tb_chart *chart, tb_diagnostics *diagnostics)
{
	if (chart->parts->len == 0) {
		tell_nothing(chart, diagnostics);
		return false;
	}
	return chart->parts->len == 1 ? place_whole(chart, diagnostics) : place_parts(chart, diagnostics);
}
