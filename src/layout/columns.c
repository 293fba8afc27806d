/*
 * Where along its row everything stands, in columns: on the grid, in the folded column where one
 * motif stands for many, or spread as near over its bases as its neighbours let it where the rows'
 * widths differ.
 */
#include "layout/setting.h"

#include "layout/spread.h"

#include <math.h>

/* What a run of chains takes of a row where it is free to bow: less a chain, the more there are. */
static double run_width(guint32 chains)
{
	return chains == 1 ? 0.75 : 0.4 + 0.4 * chains;
}

/* Where a column stands when the motif is drawn once: NAN for the repeats left out. */
static double fold(const tb_chart *chart, gint32 column, guint32 width)
{
	const tb_motif *motif = &chart->motif;
	if (!chart->folded || column < (gint32)(motif->near_edge + motif->width))
		return column;
	if (column < (gint32)(width - motif->far_edge))
		return NAN;
	return column - (gint32)(width - motif->far_edge - motif->near_edge - motif->width);
}

/* Past the edge where a tube is cut open it goes on at the other: the turn of AT that is nearest. */
static double nearest_turn(const tb_setting *s, double at, double near, double period)
{
	return s->chart->is_tube && period > 0 && !isnan(near) ? at + round((near - at) / period) * period : at;
}

double tb_setting_base_at(const tb_setting *s, guint32 m, guint32 base)
{
	/* On a folded grid the base may be a column that is not drawn; it is as far away all the same. */
	if (isnan(s->at[base]) && s->column != NULL && s->column[base] != G_MAXINT32 &&
		s->column[m] != G_MAXINT32)
		return (s->chart->is_tube ? s->at[m] : fold(s->chart, s->column[m], s->width)) +
			(s->column[base] - s->column[m]);
	return nearest_turn(s, s->at[base], s->at[m], s->period);
}

/* On a grid no stitch stands further from its bases than a shell reaches, in columns. */
#define MOST_DRIFT 4

static bool is_true_grid(const tb_setting *s, const gint32 *columns)
{
	const tb_fabric *fabric = s->fabric;
	for (guint32 m = fabric->rows[s->lowest].first; m < fabric->made_count; m++) {
		const tb_made *made = &fabric->made[m];
		if (made->row > s->last)
			break;
		for (unsigned b = 0; b < made->base_count && columns[m] != G_MAXINT32; b++) {
			gint32 base = columns[tb_fabric_base(fabric, made, b)];
			gint32 drift = base != G_MAXINT32 ? ABS(base - columns[m]) : 0;
			if (s->chart->is_tube)
				drift = MIN(drift, ABS((gint32)s->width - drift));
			if (drift > MOST_DRIFT + made->base_count)
				return false;
		}
	}
	return true;
}

/* The foundation lies under row 1 so that row 1 leans as little as it can. */
static void centre_foundation(const tb_setting *s, gint32 *columns)
{
	const tb_made_row *ground = &s->fabric->rows[0], *row = &s->fabric->rows[1];
	double sum = 0;
	guint32 count = 0;
	for (guint32 m = row->first; m < row->first + row->count; m++) {
		const tb_made *made = &s->fabric->made[m];
		for (unsigned b = 0; b < made->base_count && columns[m] != G_MAXINT32; b++) {
			guint32 base = tb_fabric_base(s->fabric, made, b);
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

/* The first stitch of a turned round goes in where the round before began: all of it stands a column further on. */
static void shift_turned(tb_setting *s)
{
	for (guint32 r = MAX(s->lowest, 1); r <= s->last; r++) {
		const tb_made_row *row = &s->fabric->rows[r];
		double sum = 0;
		guint32 count = 0;
		for (guint32 m = row->first; m < row->first + row->count; m++) {
			const tb_made *made = &s->fabric->made[m];
			guint32 base = made->base_count == 1 ? made->base : TB_NONE;
			if (base == TB_NONE || s->column[m] == G_MAXINT32 || s->column[base] == G_MAXINT32)
				continue;
			sum += nearest_turn(s, s->column[base], s->column[m], s->width) - s->column[m];
			count++;
		}
		gint32 shift = count > 0 ? (gint32)lround(sum / count) : 0;
		for (guint32 m = row->first; m < row->first + row->count && row->leftward != row[-1].leftward; m++) {
			s->at[m] += shift;
			s->column[m] += s->column[m] != G_MAXINT32 ? shift : 0;
		}
	}
}

static bool set_on_grid(tb_setting *s)
{
	const tb_fabric *fabric = s->fabric;
	g_autofree gint32 *columns = g_new(gint32, fabric->made_count + 1);
	if (!tb_grid_columns(fabric, fabric->rows[s->lowest].number, fabric->rows[s->last].number,
			columns, &s->width))
		return false;
	if (!s->chart->is_tube)
		centre_foundation(s, columns);
	if (!is_true_grid(s, columns))
		return false;
	for (guint32 m = 0; m < fabric->made_count; m++) {
		if (m > 0 && fabric->made[m].row > 0 && tb_setting_is_standing(&fabric->made[m]))
			s->at[m] = s->at[m - 1];
		else if (columns[m] == G_MAXINT32)
			s->at[m] = NAN;
		else if (columns[m] < 0)
			s->at[m] = -TB_BESIDE_EDGE;
		else if (columns[m] >= (gint32)s->width && fabric->made[m].row > 0)
			s->at[m] = fold(s->chart, (gint32)s->width - 1, s->width) + TB_BESIDE_EDGE;
		else
			s->at[m] = fold(s->chart, columns[m], s->width);
	}
	s->column = g_steal_pointer(&columns);
	s->period = s->width;
	if (s->chart->folded)
		s->period = s->chart->motif.near_edge + s->chart->motif.width + s->chart->motif.far_edge;
	if (s->chart->is_tube)
		shift_turned(s);
	return true;
}

typedef struct {
	guint32 *list; /* the row's tops from the near edge to the far one; of a run, its first chain */
	double *wanted, *gaps;
	guint32 count;
	bool outward; /* the row was worked from the near edge */
} row_list;

static void list_row(const tb_setting *s, const tb_made_row *row, row_list *l)
{
	l->count = 0;
	for (guint32 i = 0; i < row->count; i++) {
		guint32 m = row->first + (l->outward ? i : row->count - 1 - i);
		if (s->run[m] == 0 && s->fabric->made[m].flags & (TB_MADE_COUNTED | TB_MADE_CHAIN))
			l->list[l->count++] = m;
	}
}

/* Where the places a stitch goes into lie in the middle, after the stitch that wants to stand at BEFORE. */
static double mean_base(const tb_setting *s, const tb_made *made, double before)
{
	double sum = 0;
	for (unsigned b = 0; b < made->base_count; b++) {
		guint32 base = tb_fabric_base(s->fabric, made, b);
		double at = s->at[base];
		/* In a space: over the middle of its chains. */
		if (made->flags & TB_MADE_IN_SPACE && s->run[base] != 0) {
			const tb_run *run = &g_array_index(s->runs, tb_run, s->run[base] - 1);
			at = (s->at[run->first] + s->at[run->first + run->count - 1]) / 2;
		}
		before = nearest_turn(s, at, before, s->period);
		sum += before;
	}
	return sum / made->base_count;
}

/* The chains between the stitches I and I + 1 of the list, or 0. */
static guint32 chains_between(const tb_setting *s, const row_list *l, guint32 i)
{
	guint32 low = MIN(l->list[i], l->list[i + 1]) + 1, high = MAX(l->list[i], l->list[i + 1]);
	return low < high && s->run[low] != 0 ?
		g_array_index(s->runs, tb_run, s->run[low] - 1).count : 0;
}

/* The chains of a run stand evenly between the stitches it joins, or go on past the last. */
static void set_runs(tb_setting *s, const tb_made_row *row, bool outward)
{
	for (guint32 m = row->first; m < row->first + row->count; m++) {
		if (s->run[m] == 0)
			continue;
		const tb_run *run = &g_array_index(s->runs, tb_run, s->run[m] - 1);
		double step = outward ? 1 : -1;
		double before = run->before != TB_NONE ? s->at[run->before] : NAN;
		bool ends = run->after == TB_NONE || tb_setting_is_join(s, &s->fabric->made[run->after]);
		double after = ends ? NAN : s->at[run->after];
		if (isnan(before) && isnan(after))
			before = 0;
		if (isnan(before))
			before = after - step * (run->count + 1);
		if (isnan(after))
			after = before + step * (run->count + 1);
		s->at[m] = before + (after - before) * (m - run->first + 1) / (run->count + 1);
	}
}

/* How far a stitch reaches along its row: its top and all its feet. */
static double reach(const tb_setting *s, guint32 m, bool outward)
{
	const tb_made *made = &s->fabric->made[m];
	double edge = s->at[m];
	for (unsigned b = 0; b < made->base_count; b++) {
		double foot = s->at[tb_fabric_base(s->fabric, made, b)];
		edge = outward ? fmin(edge, foot) : fmax(edge, foot);
	}
	return edge;
}

/*
 * A turning chain that does not count climbs beside the edge where its row begins; a picot stands on
 * the stitch before it.
 */
static void set_beside(tb_setting *s, const tb_made_row *row, const row_list *l)
{
	for (guint32 m = row->first; m < row->first + row->count && l->count > 0; m++)
		if (tb_setting_is_standing(&s->fabric->made[m]))
			s->at[m] = s->at[m > row->first ? m - 1 : l->list[0]];
		else if (!(s->fabric->made[m].flags & (TB_MADE_COUNTED | TB_MADE_CHAIN)))
			s->at[m] = l->outward ? reach(s, l->list[0], true) - TB_BESIDE_EDGE :
				reach(s, l->list[l->count - 1], false) + TB_BESIDE_EDGE;
}

/* A turning chain of row 1 with no chain of its own under it takes the corner. */
static bool has_bare_corner(const tb_fabric *fabric)
{
	if (fabric->row_count < 2 || fabric->rows[1].count == 0)
		return false;
	const tb_made *corner = &fabric->made[fabric->rows[1].first];
	return corner->flags & TB_MADE_COUNTED && corner->base_count == 0;
}

static void want_row(tb_setting *s, guint32 r, row_list *l)
{
	double before = r == 0 && has_bare_corner(s->fabric) ? 0 : -1;
	for (guint32 i = 0; i < l->count; i++) {
		const tb_made *made = &s->fabric->made[l->list[i]];
		if (r == 1 && s->has_ring)
			l->wanted[i] = 0;
		else if (r > 0 && made->base_count > 0)
			l->wanted[i] = mean_base(s, made, before);
		else if (r > 0 && made->flags & TB_MADE_TURNING)
			l->wanted[i] = l->outward ? 0 : before + 1;
		else
			l->wanted[i] = before + 1;
		before = l->wanted[i];
	}
}

static void find_gaps(const tb_setting *s, guint32 r, row_list *l)
{
	const tb_made_row *row = &s->fabric->rows[r];
	for (guint32 i = 0; i < l->count; i++)
		l->gaps[i] = 1;
	for (guint32 i = 0; i + 1 < l->count; i++) {
		guint32 chains = chains_between(s, l, i);
		if (chains > 0)
			l->gaps[i] = 0.55 + run_width(chains);
		else if (tb_setting_is_fan(s, row, l->list[i], l->list[i + 1]))
			l->gaps[i] = TB_FAN_SPACING;
	}
}

/* A chain stretches this far and no further, in columns. */
#define CHAIN_STRETCH 0.85

/* Where chains would have to stretch, what lies beyond them is drawn in towards the row's middle. */
static void draw_in(const tb_setting *s, row_list *l)
{
	if (l->count < 3)
		return;
	guint32 middle = l->count / 2;
	double shift = 0;
	for (guint32 i = middle; i + 1 < l->count; i++) {
		guint32 chains = chains_between(s, l, i);
		double gap = l->wanted[i + 1] - shift - l->wanted[i];
		double most = CHAIN_STRETCH * (chains + 1);
		if (chains > 0 && gap > most)
			shift += gap - most;
		l->wanted[i + 1] -= shift;
	}
	shift = 0;
	for (guint32 i = middle; i > 0; i--) {
		guint32 chains = chains_between(s, l, i - 1);
		double gap = l->wanted[i] - (l->wanted[i - 1] + shift);
		double most = CHAIN_STRETCH * (chains + 1);
		if (chains > 0 && gap > most)
			shift += gap - most;
		l->wanted[i - 1] += shift;
	}
}

static double sum_of_gaps(const row_list *l)
{
	double sum = 0;
	for (guint32 i = 0; i < l->count; i++)
		sum += l->gaps[i];
	return sum;
}

/* A tube is as wide all the way as its widest round; the others fill that width evenly where they can. */
static void find_period(tb_setting *s, row_list *l)
{
	s->period = 0;
	for (guint32 r = s->lowest; r <= s->last; r++) {
		list_row(s, &s->fabric->rows[r], l);
		find_gaps(s, r, l);
		s->period = fmax(s->period, sum_of_gaps(l));
	}
}

static void fill_width(const tb_setting *s, guint32 r, row_list *l)
{
	double step = s->period / fmax(sum_of_gaps(l), 1);
	for (guint32 i = 0; i < l->count; i++) {
		if (r == 0)
			l->wanted[i] *= step;
		else
			l->gaps[i] *= fmin(step, 1);
	}
}

static void set_spread(tb_setting *s)
{
	const tb_fabric *fabric = s->fabric;
	g_autofree guint32 *list = g_new(guint32, fabric->made_count + 1);
	g_autofree double *wanted = g_new(double, fabric->made_count + 1);
	g_autofree double *gaps = g_new(double, fabric->made_count + 1);
	row_list l = {.list = list, .wanted = wanted, .gaps = gaps};
	bool row_one = fabric->row_count > 1 ? fabric->rows[1].leftward : true, tube = s->chart->is_tube;
	if (tube)
		find_period(s, &l);
	for (guint32 r = 0; r <= s->last; r++) {
		const tb_made_row *row = &fabric->rows[r];
		l.outward = row->leftward == row_one;
		list_row(s, row, &l);
		want_row(s, r, &l);
		find_gaps(s, r, &l);
		if (tube)
			fill_width(s, r, &l);
		tb_spread(l.wanted, l.gaps, l.count);
		if (r > 0 && !tube)
			draw_in(s, &l);
		for (guint32 i = 0; i < l.count; i++)
			s->at[l.list[i]] = l.wanted[i];
		set_runs(s, row, l.outward);
		set_beside(s, row, &l);
	}
}

/* Slip stitches that lead to where a round begins lie on what they go into; what closes it, past its last stitch. */
static void set_joins(tb_setting *s, const tb_made_row *row)
{
	double low = INFINITY, high = -INFINITY;
	bool outward = row->leftward == s->fabric->rows[1].leftward;
	for (guint32 m = row->first; m < row->first + row->count; m++) {
		if (!(s->fabric->made[m].flags & TB_MADE_COUNTED) || isnan(s->at[m]))
			continue;
		low = fmin(low, s->at[m]);
		high = fmax(high, s->at[m]);
	}
	bool begun = false;
	for (guint32 m = row->first; m < row->first + row->count && isfinite(low); m++) {
		const tb_made *made = &s->fabric->made[m];
		begun = begun || made->flags & (TB_MADE_COUNTED | TB_MADE_CHAIN);
		if (!tb_setting_is_join(s, made))
			continue;
		if (begun || made->base_count == 0)
			s->at[m] = outward ? high + TB_BESIDE_EDGE : low - TB_BESIDE_EDGE;
		else
			s->at[m] = tb_setting_base_at(s, m, tb_fabric_base(s->fabric, made, 0));
	}
}

static void find_extent(tb_setting *s)
{
	tb_chart *chart = s->chart;
	chart->min_at = INFINITY;
	chart->max_at = -INFINITY;
	for (guint32 r = s->lowest; r <= s->last; r++) {
		const tb_made_row *row = &s->fabric->rows[r];
		for (guint32 m = row->first; m < row->first + row->count; m++) {
			if (!(s->fabric->made[m].flags & (TB_MADE_COUNTED | TB_MADE_CHAIN)) || isnan(s->at[m]))
				continue;
			chart->min_at = fmin(chart->min_at, s->at[m]);
			chart->max_at = fmax(chart->max_at, s->at[m]);
		}
	}
}

void tb_setting_find_columns(tb_setting *s)
{
	for (guint32 m = 0; m < s->fabric->made_count; m++)
		s->at[m] = NAN;
	if (set_on_grid(s)) {
		s->chart->columns = s->width;
		find_extent(s);
		tb_setting_find_wave(s);
		if (s->wave == NULL)
			tb_setting_gather_groups(s);
	} else {
		s->chart->folded = false;
		set_spread(s);
		find_extent(s);
	}
	for (guint32 r = 1; r <= s->last; r++)
		set_joins(s, &s->fabric->rows[r]);
}
