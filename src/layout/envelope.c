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

/* Two numbers that stand side by side, reckoned at once. */
typedef double two __attribute__((vector_size(16), aligned(8), may_alias));

/*
 * Rows are reckoned in pairs, and columns with them: both rows of a pair are kept from the same even column on. Where
 * the count is odd, the last has a row beside it that says nothing.
 */
struct tb_envelope {
	guint32 count, last;
	guint32 rows;      /* the count, made even */
	gsize size;        /* numbers from the first entries to the diagonal */
	entry *entries;    /* freed once factored */
	gsize entry_count, entry_room;
	guint32 *place;    /* by the caller's number: where it stands in the order of the rows */
	guint32 *low;      /* by row: the first column that is kept */
	gsize *start;      /* by row: where column 0 would stand in `factor`, were it kept */
	double *factor;    /* the rows of L, where M = L L'; the diagonal inverted */
	double *work;      /* of one solution: one right hand side behind the other */
};

tb_envelope *tb_envelope_new(guint32 count, guint32 last)
{
	tb_envelope *e = g_new0(tb_envelope, 1);
	e->count = count;
	e->last = last;
	e->rows = count + count % 2;
	return e;
}

void tb_envelope_free(tb_envelope *e)
{
	if (e == NULL)
		return;
	g_free(e->entries);
	g_free(e->place);
	g_free(e->low);
	g_free(e->start);
	g_free(e->factor);
	g_free(e->work);
	g_free(e);
}

void tb_envelope_add(tb_envelope *e, guint32 i, guint32 j, double value)
{
	if (e->entry_count == e->entry_room) {
		e->entry_room = MAX(2 * e->entry_room, 16 * (gsize)e->count);
		e->entries = g_renew(entry, e->entries, e->entry_room);
	}
	e->entries[e->entry_count++] = (entry){MAX(i, j), MIN(i, j), value};
}

/* Every unknown's neighbours, one list behind the other: those of I from first[I] to first[I + 1]. */
typedef struct {
	guint32 *first, *list;
} neighbours;

static neighbours list_neighbours(const tb_envelope *e)
{
	neighbours n = {.first = g_new0(guint32, e->count + 2)};
	for (gsize k = 0; k < e->entry_count; k++) {
		const entry *at = &e->entries[k];
		if (at->i == at->j || at->i == e->last || at->j == e->last)
			continue;
		n.first[at->i + 1]++;
		n.first[at->j + 1]++;
	}
	for (guint32 i = 0; i < e->count; i++)
		n.first[i + 1] += n.first[i];
	n.list = g_new(guint32, n.first[e->count] + 1);
	g_autofree guint32 *next = g_memdup2(n.first, (e->count + 1) * sizeof(guint32));
	for (gsize k = 0; k < e->entry_count; k++) {
		const entry *at = &e->entries[k];
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
	e->low = g_new(guint32, e->rows + 1);
	for (guint32 i = 0; i < e->rows; i++)
		e->low[i] = i;
	for (gsize k = 0; k < e->entry_count; k++) {
		guint32 i = e->place[e->entries[k].i], j = e->place[e->entries[k].j];
		e->low[MAX(i, j)] = MIN(e->low[MAX(i, j)], MIN(i, j));
	}
	e->start = g_new(gsize, e->rows);
	gsize size = 0;
	for (guint32 i = 0; i < e->rows; i += 2) {
		e->size += 2 * i - e->low[i] - e->low[i + 1] + 3;
		guint32 low = MIN(e->low[i], e->low[i + 1]) & ~1u;
		for (guint32 k = i; k < i + 2; k++) {
			e->low[k] = low;
			e->start[k] = size - low; /* may wrap: only what is kept is ever asked for */
			size += i - low + 2;
		}
	}
	if (size > MOST_NUMBERS)
		return false;
	e->factor = g_new0(double, size + 1);
	for (gsize k = 0; k < e->entry_count; k++) {
		guint32 i = e->place[e->entries[k].i], j = e->place[e->entries[k].j];
		e->factor[e->start[MAX(i, j)] + MIN(i, j)] += e->entries[k].value;
	}
	if (e->rows > e->count)
		e->factor[e->start[e->count] + e->count] = 1;
	return true;
}

/* The products of A0 and A1 with B0 and B1, of an even COUNT of numbers: A0 B0, A0 B1, A1 B0, A1 B1. */
static inline void four_products(const double *a0, const double *a1, const double *b0, const double *b1, gsize count, double out[4])
{
	two s00 = {0, 0}, s01 = {0, 0}, s10 = {0, 0}, s11 = {0, 0};
	for (gsize k = 0; k < count; k += 2) {
		two x0 = *(const two *)(a0 + k), x1 = *(const two *)(a1 + k), y0 = *(const two *)(b0 + k), y1 = *(const two *)(b1 + k);
		s00 += x0 * y0;
		s01 += x0 * y1;
		s10 += x1 * y0;
		s11 += x1 * y1;
	}
	out[0] = s00[0] + s00[1];
	out[1] = s01[0] + s01[1];
	out[2] = s10[0] + s10[1];
	out[3] = s11[0] + s11[1];
}

/* Factors the rows I and I + 1; those before them are. */
static bool factor_pair(tb_envelope *e, guint32 i)
{
	double *one = e->factor + e->start[i], *other = e->factor + e->start[i + 1], sum[4];
	guint32 low = e->low[i];
	for (guint32 j = low; j < i; j += 2) {
		const double *b = e->factor + e->start[j], *c = e->factor + e->start[j + 1];
		guint32 from = MAX(low, e->low[j]);
		four_products(one + from, other + from, b + from, c + from, j - from, sum);
		one[j] = (one[j] - sum[0]) * b[j];
		one[j + 1] = (one[j + 1] - sum[1] - one[j] * c[j]) * c[j + 1];
		other[j] = (other[j] - sum[2]) * b[j];
		other[j + 1] = (other[j + 1] - sum[3] - other[j] * c[j]) * c[j + 1];
	}
	four_products(one + low, other + low, one + low, other + low, i - low, sum);
	double square = one[i] - sum[0];
	if (!(square > 0))
		return false;
	one[i] = 1 / sqrt(square);
	other[i] = (other[i] - sum[2]) * one[i];
	square = other[i + 1] - sum[3] - other[i] * other[i];
	if (!(square > 0))
		return false;
	other[i + 1] = 1 / sqrt(square);
	return true;
}

bool tb_envelope_factor(tb_envelope *e)
{
	neighbours n = list_neighbours(e);
	find_order(e, &n);
	g_free(n.first);
	g_free(n.list);
	bool fits = find_envelope(e);
	g_clear_pointer(&e->entries, g_free);
	for (guint32 i = 0; i < e->rows && fits; i += 2)
		fits = factor_pair(e, i);
	if (fits)
		e->work = g_new0(double, 2 * (gsize)e->rows + 1);
	return fits;
}

/* The products of A0 and A1 with B, of an even COUNT of numbers. */
static inline void two_products(const double *a0, const double *a1, const double *b, gsize count, double out[2])
{
	two s0 = {0, 0}, s1 = {0, 0}, t0 = {0, 0}, t1 = {0, 0};
	gsize k = 0;
	for (; k + 4 <= count; k += 4) {
		two y = *(const two *)(b + k), z = *(const two *)(b + k + 2);
		s0 += *(const two *)(a0 + k) * y;
		s1 += *(const two *)(a1 + k) * y;
		t0 += *(const two *)(a0 + k + 2) * z;
		t1 += *(const two *)(a1 + k + 2) * z;
	}
	if (k < count) {
		two y = *(const two *)(b + k);
		s0 += *(const two *)(a0 + k) * y;
		s1 += *(const two *)(a1 + k) * y;
	}
	s0 += t0;
	s1 += t1;
	out[0] = s0[0] + s0[1];
	out[1] = s1[0] + s1[1];
}

/* Takes OWN times A0 and OTHER times A1 from Y, an even COUNT of numbers. */
static inline void take_rows(double *y, const double *a0, const double *a1, double own, double other, gsize count)
{
	two m0 = {own, own}, m1 = {other, other};
	for (gsize k = 0; k < count; k += 2)
		*(two *)(y + k) -= *(const two *)(a0 + k) * m0 + *(const two *)(a1 + k) * m1;
}

/* Down the rows: L y = x, for SIDES right hand sides. */
static void solve_down(const tb_envelope *e, double *y, unsigned sides)
{
	double *y2 = y + e->rows;
	for (guint32 i = 0; i < e->rows; i += 2) {
		const double *one = e->factor + e->start[i], *other = e->factor + e->start[i + 1];
		guint32 low = e->low[i];
		double sum[4];
		if (sides == 1) {
			two_products(one + low, other + low, y + low, i - low, sum);
			y[i] = (y[i] - sum[0]) * one[i];
			y[i + 1] = (y[i + 1] - sum[1] - other[i] * y[i]) * other[i + 1];
			continue;
		}
		four_products(one + low, other + low, y + low, y2 + low, i - low, sum);
		y[i] = (y[i] - sum[0]) * one[i];
		y2[i] = (y2[i] - sum[1]) * one[i];
		y[i + 1] = (y[i + 1] - sum[2] - other[i] * y[i]) * other[i + 1];
		y2[i + 1] = (y2[i + 1] - sum[3] - other[i] * y2[i]) * other[i + 1];
	}
}

/* Up again: L' x = y, of one right hand side. The last unknown stays within LOW and HIGH. */
static void solve_up(const tb_envelope *e, double *y, double low, double high)
{
	guint32 held = e->last < e->count ? e->count - 1 : e->rows;
	for (guint32 i = e->rows; i > 0;) {
		i -= 2;
		const double *one = e->factor + e->start[i], *other = e->factor + e->start[i + 1];
		y[i + 1] *= other[i + 1];
		if (i + 1 == held)
			y[i + 1] = CLAMP(y[i + 1], low, high);
		y[i] = (y[i] - other[i] * y[i + 1]) * one[i];
		if (i == held)
			y[i] = CLAMP(y[i], low, high);
		take_rows(y + e->low[i], one + e->low[i], other + e->low[i], y[i], y[i + 1], i - e->low[i]);
	}
}

void tb_envelope_solve(const tb_envelope *e, double *x, unsigned sides, double low, double high)
{
	double *y = e->work;
	g_return_if_fail(sides == 1 || sides == 2);
	if (e->rows > e->count)
		y[e->count] = y[e->rows + (gsize)e->count] = 0;
	for (guint32 i = 0; i < e->count; i++)
		for (unsigned k = 0; k < sides; k++)
			y[k * (gsize)e->rows + e->place[i]] = x[(gsize)i * sides + k];
	solve_down(e, y, sides);
	for (unsigned k = 0; k < sides; k++)
		solve_up(e, y + k * (gsize)e->rows, low, high);
	for (guint32 i = 0; i < e->count; i++)
		for (unsigned k = 0; k < sides; k++)
			x[(gsize)i * sides + k] = y[k * (gsize)e->rows + e->place[i]];
}

gsize tb_envelope_size(const tb_envelope *e)
{
	return e->factor != NULL ? e->size : 0;
}
