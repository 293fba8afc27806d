/* A sparse symmetric system, its rows kept from their first entry to the diagonal. */
#include "layout/envelope.h"

#include <math.h>
#include <string.h>

/* A factor of more numbers is not kept. */
#define MOST_NUMBERS ((gsize)32 << 20)

typedef struct {
	guint32 i, j; /* i >= j, as the caller numbers */
	double value;
} entry;

struct tb_envelope {
	guint32 count, last;
	GArray *entries;   /* entry; freed once factored */
	guint32 *place;    /* by the caller's number: where it stands in the order of the rows */
	guint32 *low;      /* by row: the first column that is kept */
	gsize *start;      /* by row: where column 0 would stand in `factor`, were it kept */
	double *factor;    /* the rows of L, where M = L L'; the diagonal inverted */
	double *work;      /* of one solution */
};

tb_envelope *tb_envelope_new(guint32 count, guint32 last)
{
	tb_envelope *e = g_new0(tb_envelope, 1);
	e->count = count;
	e->last = last;
	e->entries = g_array_new(FALSE, FALSE, sizeof(entry));
	return e;
}

void tb_envelope_free(tb_envelope *e)
{
	if (e == NULL)
		return;
	if (e->entries != NULL)
		g_array_unref(e->entries);
	g_free(e->place);
	g_free(e->low);
	g_free(e->start);
	g_free(e->factor);
	g_free(e->work);
	g_free(e);
}

void tb_envelope_add(tb_envelope *e, guint32 i, guint32 j, double value)
{
	entry added = {MAX(i, j), MIN(i, j), value};
	g_array_append_val(e->entries, added);
}

/* Every unknown's neighbours, one list behind the other: those of I from first[I] to first[I + 1]. */
typedef struct {
	guint32 *first, *list;
} neighbours;

static neighbours list_neighbours(const tb_envelope *e)
{
	neighbours n = {.first = g_new0(guint32, e->count + 2)};
	for (guint k = 0; k < e->entries->len; k++) {
		const entry *at = &g_array_index(e->entries, entry, k);
		if (at->i == at->j || at->i == e->last || at->j == e->last)
			continue;
		n.first[at->i + 1]++;
		n.first[at->j + 1]++;
	}
	for (guint32 i = 0; i < e->count; i++)
		n.first[i + 1] += n.first[i];
	n.list = g_new(guint32, n.first[e->count] + 1);
	g_autofree guint32 *next = g_memdup2(n.first, (e->count + 1) * sizeof(guint32));
	for (guint k = 0; k < e->entries->len; k++) {
		const entry *at = &g_array_index(e->entries, entry, k);
		if (at->i == at->j || at->i == e->last || at->j == e->last)
			continue;
		n.list[next[at->i]++] = at->j;
		n.list[next[at->j]++] = at->i;
	}
	/* Several entries may join the same two. */
	guint32 kept = 0;
	g_autofree guint32 *seen = g_new(guint32, e->count + 1);
	memset(seen, 0xff, (e->count + 1) * sizeof(guint32));
	for (guint32 i = 0; i < e->count; i++) {
		guint32 from = n.first[i];
		n.first[i] = kept;
		for (guint32 k = from; k < next[i]; k++) {
			if (seen[n.list[k]] == i)
				continue;
			seen[n.list[k]] = i;
			n.list[kept++] = n.list[k];
		}
	}
	n.first[e->count] = kept;
	return n;
}

static inline guint32 degree(const neighbours *n, guint32 i)
{
	return n->first[i + 1] - n->first[i];
}

/*
 * Lists what hangs together with START from QUEUE[FROM] on, the nearest first, and of the equally near those with the
 * fewest neighbours. Returns the end of the list. ROUND is another number each time.
 */
static guint32 spread_out(const neighbours *n, guint32 start, guint32 *queue, guint32 from, guint32 *seen, guint32 round)
{
	guint32 end = from;
	queue[end++] = start;
	seen[start] = round;
	for (guint32 at = from; at < end; at++) {
		guint32 begin = end;
		for (guint32 k = n->first[queue[at]]; k < n->first[queue[at] + 1]; k++) {
			guint32 next = n->list[k];
			if (seen[next] == round)
				continue;
			seen[next] = round;
			guint32 place = end++;
			while (place > begin && degree(n, queue[place - 1]) > degree(n, next)) {
				queue[place] = queue[place - 1];
				place--;
			}
			queue[place] = next;
		}
	}
	return end;
}

static void find_order(tb_envelope *e, const neighbours *n)
{
	g_autofree guint32 *queue = g_new(guint32, e->count + 1);
	g_autofree guint32 *seen = g_new0(guint32, e->count + 1);
	guint32 end = 0, round = 0;
	for (guint32 i = 0; i < e->count; i++) {
		if (seen[i] != 0 || i == e->last)
			continue;
		/* From one of the far ends the layers are thinnest. */
		guint32 start = i;
		for (unsigned turn = 0; turn < 2; turn++)
			start = queue[spread_out(n, start, queue, end, seen, ++round) - 1];
		end = spread_out(n, start, queue, end, seen, ++round);
	}
	e->place = g_new(guint32, e->count + 1);
	for (guint32 k = 0; k < end; k++)
		e->place[queue[k]] = end - 1 - k;
	if (e->last < e->count)
		e->place[e->last] = end;
}

/* False when it is too large. */
static bool find_envelope(tb_envelope *e)
{
	e->low = g_new(guint32, e->count + 1);
	for (guint32 i = 0; i < e->count; i++)
		e->low[i] = i;
	for (guint k = 0; k < e->entries->len; k++) {
		const entry *at = &g_array_index(e->entries, entry, k);
		guint32 i = e->place[at->i], j = e->place[at->j];
		e->low[MAX(i, j)] = MIN(e->low[MAX(i, j)], MIN(i, j));
	}
	e->start = g_new(gsize, e->count + 1);
	gsize size = 0;
	for (guint32 i = 0; i < e->count; i++) {
		e->start[i] = size - e->low[i]; /* may wrap: only what is kept is ever asked for */
		size += i - e->low[i] + 1;
	}
	e->start[e->count] = size;
	if (size > MOST_NUMBERS)
		return false;
	e->factor = g_new0(double, size + 1);
	for (guint k = 0; k < e->entries->len; k++) {
		const entry *at = &g_array_index(e->entries, entry, k);
		guint32 i = e->place[at->i], j = e->place[at->j];
		e->factor[e->start[MAX(i, j)] + MIN(i, j)] += at->value;
	}
	return true;
}

static double product(const double *a, const double *b, guint32 count)
{
	double s0 = 0, s1 = 0, s2 = 0, s3 = 0;
	guint32 k = 0;
	for (; k + 4 <= count; k += 4) {
		s0 += a[k] * b[k];
		s1 += a[k + 1] * b[k + 1];
		s2 += a[k + 2] * b[k + 2];
		s3 += a[k + 3] * b[k + 3];
	}
	for (; k < count; k++)
		s0 += a[k] * b[k];
	return s0 + s1 + (s2 + s3);
}

bool tb_envelope_factor(tb_envelope *e)
{
	neighbours n = list_neighbours(e);
	find_order(e, &n);
	g_free(n.first);
	g_free(n.list);
	bool fits = find_envelope(e);
	g_clear_pointer(&e->entries, g_array_unref);
	if (!fits)
		return false;
	for (guint32 i = 0; i < e->count; i++) {
		double *row = e->factor + e->start[i];
		for (guint32 j = e->low[i]; j <= i; j++) {
			const double *other = e->factor + e->start[j];
			guint32 from = MAX(e->low[i], e->low[j]);
			double value = row[j] - product(row + from, other + from, j - from);
			if (j < i)
				row[j] = value * other[j];
			else if (value > 0)
				row[i] = 1 / sqrt(value);
			else
				return false;
		}
	}
	e->work = g_new(double, 2 * (gsize)e->count + 1);
	return true;
}

/* What the rows before one take of it, for two right hand sides, whose numbers stand side by side. */
static void products(const double *row, const double *x, guint32 count, double *out)
{
	double a0 = 0, a1 = 0, b0 = 0, b1 = 0;
	guint32 k = 0;
	for (; k + 2 <= count; k += 2) {
		a0 += row[k] * x[2 * k];
		b0 += row[k] * x[2 * k + 1];
		a1 += row[k + 1] * x[2 * k + 2];
		b1 += row[k + 1] * x[2 * k + 3];
	}
	if (k < count) {
		a0 += row[k] * x[2 * k];
		b0 += row[k] * x[2 * k + 1];
	}
	out[0] -= a0 + a1;
	out[1] -= b0 + b1;
}

static void solve_one(const tb_envelope *e, double *y, double low, double high)
{
	for (guint32 i = 0; i < e->count; i++) {
		const double *row = e->factor + e->start[i];
		y[i] = (y[i] - product(row + e->low[i], y + e->low[i], i - e->low[i])) * row[i];
	}
	for (guint32 i = e->count; i-- > 0;) {
		const double *row = e->factor + e->start[i];
		double own = y[i] * row[i];
		if (e->last < e->count && i + 1 == e->count)
			own = CLAMP(own, low, high);
		y[i] = own;
		for (guint32 j = e->low[i]; j < i; j++)
			y[j] -= row[j] * own;
	}
}

static void solve_two(const tb_envelope *e, double *y)
{
	for (guint32 i = 0; i < e->count; i++) {
		const double *row = e->factor + e->start[i];
		products(row + e->low[i], y + 2 * (gsize)e->low[i], i - e->low[i], y + 2 * (gsize)i);
		y[2 * (gsize)i] *= row[i];
		y[2 * (gsize)i + 1] *= row[i];
	}
	for (guint32 i = e->count; i-- > 0;) {
		const double *row = e->factor + e->start[i];
		double a = y[2 * (gsize)i] *= row[i], b = y[2 * (gsize)i + 1] *= row[i];
		double *to = y + 2 * (gsize)e->low[i];
		for (guint32 j = e->low[i]; j < i; j++, to += 2) {
			to[0] -= row[j] * a;
			to[1] -= row[j] * b;
		}
	}
}

void tb_envelope_solve(const tb_envelope *e, double *x, unsigned sides, double low, double high)
{
	double *y = e->work;
	g_return_if_fail(sides == 1 || sides == 2);
	for (guint32 i = 0; i < e->count; i++)
		memcpy(y + (gsize)e->place[i] * sides, x + (gsize)i * sides, sides * sizeof(double));
	if (sides == 1)
		solve_one(e, y, low, high);
	else
		solve_two(e, y);
	for (guint32 i = 0; i < e->count; i++)
		memcpy(x + (gsize)i * sides, y + (gsize)e->place[i] * sides, sides * sizeof(double));
}

gsize tb_envelope_size(const tb_envelope *e)
{
	return e->factor != NULL ? e->start[e->count] : 0;
}
