/*
 * Tubes that are shaped inside, by gores and the like, charted flat. Cut open they could not lie flat any more than the
 * tube can: stitches stand above one another as they do on a grid, and a row opens where others have stitches that it has
 * not yet, or no more. Where each stands across is found from the widest row, row by row, downward and upward.
 */
#include "layout/relax.h"

#include <math.h>

/* So many stitches at either end of a row are its edge. */
#define EDGE 2

/* Where everything stands across, in columns, by node; NAN where that is not known. */
typedef struct {
	const tb_weave *w;
	double *at;
	double around; /* the tube's own width: beyond the cut it goes on at the other edge */
} columns;

/* A place, as many turns of the tube on as bring it near another. */
static double near(const columns *c, double at, double other)
{
	return isnan(other) ? at : at + round((other - at) / c->around) * c->around;
}

/* About where a node stands by its number in its row alone. */
static double by_number(const columns *c, guint32 i)
{
	const tb_weave_row *row = tb_weave_row_at(c->w, tb_weave_node_at(c->w, i)->row);
	double k = row->sign > 0 ? i - row->first : row->count - 1.0 - (i - row->first);
	return (k + 0.5) / row->count * c->around - 0.5;
}

/* A row's nodes in order from left to right. */
static guint32 nth(const tb_weave_row *row, guint32 k)
{
	return row->first + (row->sign > 0 ? k : row->count - 1 - k);
}

/* Where nothing tells, a node stands between its neighbours; all stand a column apart or more, none far from its place. */
static void put_in_order(const columns *c, guint32 r)
{
	const tb_weave_row *row = tb_weave_row_at(c->w, r);
	g_autofree double *right = g_new(double, row->count + 1);
	for (guint32 k = 0; k < row->count; k++) {
		double at = c->at[nth(row, k)], least = k > 0 ? right[k - 1] + 1 : at;
		right[k] = isnan(at) ? least : isnan(least) ? at : fmax(at, least);
	}
	double left = NAN;
	for (guint32 k = row->count; k-- > 0;) {
		double at = c->at[nth(row, k)], most = left - 1;
		left = isnan(at) ? most : isnan(most) ? at : fmin(at, most);
		c->at[nth(row, k)] = isnan(left) ? right[k] : isnan(right[k]) ? left : (left + right[k]) / 2;
	}
}

/* What tells where a node stands: places above or below it. */
typedef struct {
	double sum;
	guint32 count;
} told;

static void tell(told *t, double at)
{
	t->sum += at;
	t->count++;
}

/* Shaped at an edge, or beside its first stitch, a row is drawn in there: no gap opens beside what is shaped. */
static void close_edges(const columns *c, guint32 r, const told *of)
{
	const tb_weave_row *row = tb_weave_row_at(c->w, r);
	for (int side = -1; side <= 1 && row->count > EDGE; side += 2) {
		guint32 shaped = EDGE;
		for (guint32 k = 0; k < EDGE; k++)
			if (of[nth(row, side < 0 ? k : row->count - 1 - k) - row->first].count > 1)
				shaped = k;
		for (guint32 k = shaped; shaped < EDGE && k < EDGE; k--) {
			double *at = &c->at[nth(row, side < 0 ? k : row->count - 1 - k)];
			double beside = c->at[nth(row, side < 0 ? k + 1 : row->count - 2 - k)] + side;
			*at = side < 0 ? fmax(*at, beside) : fmin(*at, beside);
		}
	}
}

static void set_told(const columns *c, guint32 r, const told *of)
{
	const tb_weave_row *row = tb_weave_row_at(c->w, r);
	for (guint32 k = 0; k < row->count; k++)
		c->at[row->first + k] = of[k].count > 0 ? of[k].sum / of[k].count : NAN;
	put_in_order(c, r);
	close_edges(c, r, of);
}

/* A row by what stands on it in the next. */
static void set_under(const columns *c, guint32 r)
{
	const tb_weave *w = c->w;
	const tb_weave_row *row = tb_weave_row_at(w, r), *above = tb_weave_row_at(w, r + 1);
	g_autofree told *of = g_new0(told, row->count + 1);
	for (guint32 i = above->first; i < above->first + above->count; i++) {
		const tb_weave_node *node = tb_weave_node_at(w, i);
		for (guint32 k = 0; k < node->leg_count; k++) {
			const tb_weave_leg *leg = tb_weave_leg_at(w, node->first_leg + k);
			/* Of two together each stands half a column to its side. */
			double aside = (k - (node->leg_count - 1) / 2.0) * above->sign;
			if (leg->kind == TB_LEG_NODE && leg->base >= row->first && leg->base < row->first + row->count)
				tell(&of[leg->base - row->first], near(c, c->at[i] + aside, by_number(c, leg->base)));
		}
	}
	set_told(c, r, of);
}

/* A row by what it stands on. */
static void set_upon(const columns *c, guint32 r)
{
	const tb_weave *w = c->w;
	const tb_weave_row *row = tb_weave_row_at(w, r);
	g_autofree told *of = g_new0(told, row->count + 1);
	for (guint32 i = row->first; i < row->first + row->count; i++) {
		const tb_weave_node *node = tb_weave_node_at(w, i);
		for (guint32 k = 0; k < node->leg_count; k++) {
			const tb_weave_leg *leg = tb_weave_leg_at(w, node->first_leg + k);
			const tb_weave_run *run = leg->kind == TB_LEG_NODE ? NULL : tb_weave_run_at(w, leg->base);
			double under = run == NULL ? c->at[leg->base] : run->after == TB_NONE ? c->at[run->before] :
				(c->at[run->before] + near(c, c->at[run->after], c->at[run->before])) / 2;
			tell(&of[i - row->first], near(c, under, by_number(c, i)));
		}
	}
	set_told(c, r, of);
}

/* How high what a leg stands on is; where everything stands is known of the rows below. */
static double base_height(const tb_weave *w, const tb_weave_leg *leg)
{
	if (leg->kind == TB_LEG_NODE)
		return cimag(w->z[leg->base]);
	const tb_weave_run *run = tb_weave_run_at(w, leg->base);
	double complex before = w->z[run->before], after = run->after != TB_NONE ? w->z[run->after] : before;
	return cimag(before + after) / 2 + tb_relax_bow(w, run, cabs(after - before));
}

/* As high as its stitches are above what they stand on; what stands on nothing, as the others do. */
static void raise_row(tb_weave *w, guint32 r)
{
	const tb_weave_row *row = tb_weave_row_at(w, r);
	double sum = 0;
	guint32 count = 0;
	for (guint32 i = row->first; i < row->first + row->count; i++) {
		const tb_weave_node *node = tb_weave_node_at(w, i);
		double high = 0;
		for (guint32 k = 0; k < node->leg_count; k++) {
			const tb_weave_leg *leg = tb_weave_leg_at(w, node->first_leg + k);
			high += (base_height(w, leg) + leg->height) / node->leg_count;
		}
		w->z[i] += I * high;
		sum += node->leg_count > 0 ? high : 0;
		count += node->leg_count > 0;
	}
	for (guint32 i = row->first; i < row->first + row->count && count > 0; i++)
		w->z[i] += tb_weave_node_at(w, i)->leg_count == 0 ? I * sum / count : 0;
}

void tb_weave_lay_upright(tb_weave *w)
{
	columns c = {.w = w, .at = g_new(double, w->nodes->len + 1)};
	guint32 widest = 0;
	for (guint32 r = 0; r < w->rows->len; r++)
		if (tb_weave_row_at(w, r)->count > tb_weave_row_at(w, widest)->count)
			widest = r;
	const tb_weave_row *row = tb_weave_row_at(w, widest);
	for (guint32 k = 0; k < row->count; k++)
		c.at[nth(row, k)] = k;
	c.around = w->around = row->count;
	for (guint32 r = widest; r-- > 0;)
		set_under(&c, r);
	for (guint32 r = widest + 1; r < w->rows->len; r++)
		set_upon(&c, r);
	for (guint32 i = 0; i < w->nodes->len; i++)
		w->z[i] = isnan(c.at[i]) ? 0 : c.at[i];
	for (guint32 r = 1; r < w->rows->len; r++)
		raise_row(w, r);
	g_free(c.at);
}
