/*
 * Tubes that are shaped inside, by gores and the like, charted flat. Cut open they could not lie flat any more than the
 * tube can: stitches stand above one another as they do on a grid, and a row opens where others have stitches that it has
 * not yet, or no more. Where each stands across is found from the widest row, row by row, downward and upward.
 */
#include "layout/relax.h"

#include <math.h>

/* Where everything stands across, in columns, by node; NAN where that is not known. */
typedef struct {
	const tb_weave *w;
	double *at;
} columns;

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

/* Whether a node is the first or the last of its row, and on which side of it the row is: -1, 1; 0 amid the row. */
static int inward(const tb_weave *w, guint32 i)
{
	const tb_weave_row *row = tb_weave_row_at(w, tb_weave_node_at(w, i)->row);
	return i == nth(row, 0) ? 1 : i == nth(row, row->count - 1) ? -1 : 0;
}

/* Of the places that tell where a node stands: the mean; at an edge the inmost, so that no gap opens beside it. */
typedef struct {
	double sum, inmost;
	guint32 count;
} told;

static void tell(told *t, double at, int inward)
{
	t->inmost = t->count == 0 ? at : inward > 0 ? fmax(t->inmost, at) : fmin(t->inmost, at);
	t->sum += at;
	t->count++;
}

static double place_told(const told *t, int inward)
{
	return t->count == 0 ? NAN : inward != 0 ? t->inmost : t->sum / t->count;
}

/* A row by what stands on it in the next. */
static void set_under(const columns *c, guint32 r)
{
	const tb_weave *w = c->w;
	const tb_weave_row *row = tb_weave_row_at(w, r), *above = tb_weave_row_at(w, r + 1);
	g_autofree told *above_each = g_new0(told, row->count + 1);
	for (guint32 i = above->first; i < above->first + above->count; i++) {
		const tb_weave_node *node = tb_weave_node_at(w, i);
		for (guint32 k = 0; k < node->leg_count; k++) {
			const tb_weave_leg *leg = tb_weave_leg_at(w, node->first_leg + k);
			if (leg->kind != TB_LEG_NODE || leg->base < row->first || leg->base >= row->first + row->count)
				continue;
			/* Of two together each stands half a column to its side. */
			double aside = (k - (node->leg_count - 1) / 2.0) * above->sign;
			tell(&above_each[leg->base - row->first], c->at[i] + aside, inward(w, leg->base));
		}
	}
	for (guint32 k = 0; k < row->count; k++)
		c->at[row->first + k] = place_told(&above_each[k], inward(w, row->first + k));
	put_in_order(c, r);
}

/* A row by what it stands on. */
static void set_upon(const columns *c, guint32 r)
{
	const tb_weave *w = c->w;
	const tb_weave_row *row = tb_weave_row_at(w, r);
	for (guint32 i = row->first; i < row->first + row->count; i++) {
		const tb_weave_node *node = tb_weave_node_at(w, i);
		told under = {0};
		for (guint32 k = 0; k < node->leg_count; k++) {
			const tb_weave_leg *leg = tb_weave_leg_at(w, node->first_leg + k);
			const tb_weave_run *run = leg->kind == TB_LEG_NODE ? NULL : tb_weave_run_at(w, leg->base);
			tell(&under, run == NULL ? c->at[leg->base] : (c->at[run->before] + c->at[run->after]) / 2, inward(w, i));
		}
		c->at[i] = place_told(&under, inward(w, i));
	}
	put_in_order(c, r);
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
