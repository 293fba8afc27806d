/* Where the columns, or places, of cloth at rest have come to lie, and the lines of its box between them. */
#include "layout/rest.h"

#include <math.h>

/*
 * Of places: the borders between them, each in the middle of what stands nearest to it on either side, as far as the
 * rows agree. A place's own middle says little: a whole fan may stand there.
 */
static void find_borders(tb_setting *s, gint32 count)
{
	tb_chart *chart = s->chart;
	g_autofree double *sum = g_new0(double, count + 2);
	g_autofree guint32 *rows = g_new0(guint32, count + 2);
	for (guint i = 1; i < chart->placed->len; i++) {
		const tb_placed *a = &g_array_index(chart->placed, tb_placed, i - 1), *b = &g_array_index(chart->placed, tb_placed, i);
		guint32 row = s->fabric->made[a->made].row;
		gint32 from = tb_setting_drawn_column(s, a->made), to = tb_setting_drawn_column(s, b->made);
		if (row == 0 || row != s->fabric->made[b->made].row || from == G_MAXINT32 || to == G_MAXINT32)
			continue;
		double x = (a->top.x + b->top.x) / 2;
		for (gint32 c = MIN(from, to) + 1; c <= MAX(from, to); c++) {
			sum[c] += chart->near_right ? chart->right - x : x - chart->left;
			rows[c]++;
		}
	}
	chart->across = g_array_new(FALSE, FALSE, sizeof(double));
	double at = 0, half = chart->column / 2;
	for (gint32 c = 0; c <= count; c++) {
		at = c == count ? chart->right - chart->left : rows[c] > 0 ? fmax(sum[c] / rows[c], at) : at;
		double border = at - half;
		g_array_append_val(chart->across, border);
	}
	chart->min_at = -0.5;
	chart->max_at = count - 0.5;
}

/* From the leftmost of a stitch's top and feet to the rightmost, and its middle. */
typedef struct {
	double left, right;
	tb_spot middle;
} body;

static body body_of(const tb_chart *chart, const tb_placed *placed)
{
	tb_spot sum = {0, 0}, top = placed->top;
	body own = {top.x, top.x, top};
	for (unsigned k = 0; k < placed->foot_count; k++) {
		tb_spot foot = g_array_index(chart->feet, tb_spot, placed->first_foot + k);
		own.left = fmin(own.left, foot.x);
		own.right = fmax(own.right, foot.x);
		sum.x += foot.x / placed->foot_count;
		sum.y += foot.y / placed->foot_count;
	}
	if (placed->foot_count > 0)
		own.middle = (tb_spot){(top.x + sum.x) / 2, (top.y + sum.y) / 2};
	return own;
}

/* Where between two neighbours of a row a line may go. */
typedef struct {
	double left, right, y;
} opening;

static opening opening_between(const tb_chart *chart, const tb_placed *a, const tb_placed *b)
{
	body one = body_of(chart, a), other = body_of(chart, b);
	bool turned = other.middle.x < one.middle.x;
	double air = 0.35 * chart->column;
	opening own = {(turned ? other : one).right + air, (turned ? one : other).left - air,
		(one.middle.y + other.middle.y) / 2};
	if (own.left > own.right)
		own.left = own.right = (one.middle.x + other.middle.x) / 2;
	return own;
}

/* A line through all OPENINGS, upright as far as they let it be. */
static GArray *thread(const GArray *openings)
{
	GArray *side = g_array_new(FALSE, FALSE, sizeof(tb_spot));
	double common = 0;
	for (unsigned pass = 0; pass < 4; pass++) {
		double sum = 0;
		for (guint i = 0; i < openings->len; i++) {
			const opening *o = &g_array_index(openings, opening, i);
			sum += pass == 0 ? (o->left + o->right) / 2 : CLAMP(common, o->left, o->right);
		}
		common = sum / MAX(openings->len, 1);
	}
	for (guint i = 0; i < openings->len; i++) {
		const opening *o = &g_array_index(openings, opening, i);
		tb_spot spot = {CLAMP(common, o->left, o->right), o->y};
		g_array_append_val(side, spot);
	}
	return side;
}

/* A side of the box: row by row between the last stitch on one side of a border and the first on the other. */
static GArray *find_side(const tb_setting *s, gint32 border)
{
	const tb_chart *chart = s->chart;
	g_autoptr(GArray) openings = g_array_new(FALSE, FALSE, sizeof(opening));
	guint32 last = TB_NONE;
	for (guint i = 1; i < chart->placed->len; i++) {
		const tb_placed *a = &g_array_index(chart->placed, tb_placed, i - 1), *b = &g_array_index(chart->placed, tb_placed, i);
		guint32 row = s->fabric->made[a->made].row;
		gint32 from = tb_setting_drawn_column(s, a->made), to = tb_setting_drawn_column(s, b->made);
		if (row == last || row != s->fabric->made[b->made].row || from == G_MAXINT32 || to == G_MAXINT32 ||
			(from < border) == (to < border))
			continue;
		opening own = opening_between(chart, a, b);
		if (openings->len > 0 && g_array_index(openings, opening, openings->len - 1).y <= own.y)
			continue;
		g_array_append_val(openings, own);
		last = row;
	}
	return thread(openings);
}

void tb_rest_find_columns(tb_setting *s)
{
	tb_chart *chart = s->chart;
	if (tb_setting_is_around(s) || s->column == NULL)
		return;
	gint32 count = 0;
	for (guint i = 0; i < chart->placed->len; i++) {
		gint32 column = tb_setting_drawn_column(s, g_array_index(chart->placed, tb_placed, i).made);
		if (column != G_MAXINT32)
			count = MAX(count, column + 1);
	}
	if (chart->motif.by_places) {
		find_borders(s, count);
		for (unsigned i = 0; i < G_N_ELEMENTS(chart->sides) && chart->folded && !chart->motif.plain; i++)
			chart->sides[i] = find_side(s, (gint32)(chart->motif.near_edge + i * chart->motif.width));
		if (chart->folded && chart->motif.plain)
			chart->gap = find_side(s, (gint32)(chart->motif.near_edge + tb_chart_repeats_before(chart)));
		return;
	}
	g_autofree double *sum = g_new0(double, count + 1);
	g_autofree guint32 *rows = g_new0(guint32, count + 1);
	for (guint i = 0; i < chart->placed->len; i++) {
		const tb_placed *placed = &g_array_index(chart->placed, tb_placed, i);
		gint32 column = tb_setting_drawn_column(s, placed->made);
		if (column == G_MAXINT32 || column < 0 || s->fabric->made[placed->made].row == 0)
			continue;
		sum[column] += chart->near_right ? chart->right - placed->top.x : placed->top.x - chart->left;
		rows[column]++;
	}
	chart->across = g_array_new(FALSE, FALSE, sizeof(double));
	double at = 0;
	for (gint32 c = 0; c < count; c++) {
		at = rows[c] > 0 ? fmax(sum[c] / rows[c] - chart->column / 2, at) : at + chart->column;
		g_array_append_val(chart->across, at);
	}
	chart->min_at = 0;
	chart->max_at = MAX(count - 1, 0);
}
