/*
 * The motif.
 *
 * Every column gets a sign made of all that stands in it in the rows charted: stitch, loops, colour, and
 * where its feet are, as seen from the column itself. A fabric is then a string of signs, and the
 * motif a period of it. Candidates are looked for around the middle of the widest size, shortest
 * first; a period longer than what an earlier one leaves to draw can win no more, so the search
 * ends early. Other sizes are compared by the columns they share with the widest from either edge.
 *
 * Where rows differ in width, columns are places. Many stitches may then stand on one, so a sign also tells which of
 * them a stitch goes into; and on a place skipped in every row there is nothing, which repeats nothing.
 */
#include "fabric/fabric.h"
#include "fabric/motif.h"

#include <string.h>

/* A border that nothing may be cut by: there stitches cross each other. */
#define CROSSED 0x10000u
/* Repeats cover this part of the widest size, and of places so many: less is an accident. */
#define LEAST_PART 3
#define LEAST_COVERED 6
/* A plain middle of fewer stitches, in any size, is drawn as it is. */
#define LEAST_PLAIN 14

/* Comparisons after which a fabric is held to have no period; keeps the search near linear. */
#define MOST_COMPARISONS 40000000ull

typedef struct {
	guint64 *signs; /* one a column */
	guint32 width;
	guint32 same_near, same_far; /* columns shared with the widest size from either edge */
	guint32 *cuts;   /* at the border before each column, and behind the last: how many stitches lie across it */
	gint32 *columns; /* by made */
	guint32 *order;  /* by made, of places: how many were made on its column before it; else NULL */
	const tb_fabric *fabric;
	guint32 first, last; /* rows, indices: all that is compared; the foundation with them */
} strip;

static guint64 mix(guint64 hash, guint64 value)
{
	hash ^= value + 0x9e3779b97f4a7c15ull + (hash << 6) + (hash >> 2);
	hash ^= hash >> 31;
	return hash * 0xbf58476d1ce4e5b9ull;
}

/* How far off a base is; in a round the way across the seam may be shorter. */
static gint32 drift(const tb_fabric *fabric, const tb_made *made, gint32 away, guint32 width)
{
	gint32 whole = (gint32)width;
	if (fabric->rows[made->row].is_round && ABS(away) > whole / 2)
		away += away > 0 ? -whole : whole;
	return away;
}

static guint64 sign_of(const strip *on, const tb_made *made, gint32 column)
{
	const tb_fabric *fabric = on->fabric;
	guint64 sign = mix(1, (guint64)made->stitch << 16 | (guint64)made->flags << 8 | made->chains);
	sign = mix(sign, (guint64)(made->behind != TB_NONE) << 8 | made->base_count);
	for (unsigned i = 0; i < made->base_count; i++) {
		guint32 base = tb_fabric_base(fabric, made, i);
		gint32 there = on->columns[base];
		guint64 away = there == G_MAXINT32 ? 0x7fffffff : (guint64)(guint32)drift(fabric, made, there - column, on->width);
		sign = mix(sign, away << 16 | (made->row - fabric->made[base].row));
		if (on->order != NULL)
			sign = mix(sign, on->order[base]);
	}
	return sign;
}

/* Of places: how far a stitch goes back from the one before it, as where stitches cross; else 0. */
static guint64 step_back(const strip *on, const tb_made_row *row, guint32 i)
{
	if (i == row->first || on->columns[i - 1] == G_MAXINT32)
		return 0;
	gint32 step = on->columns[i] - on->columns[i - 1];
	bool outward = row->leftward == on->fabric->rows[1].leftward;
	return (step < 0) == outward ? (guint64)ABS(step) : 0;
}

/* Adds what stands in a row to the signs of its columns, what does not count to its neighbour's. */
static void add_row(const tb_made_row *row, strip *into)
{
	const tb_fabric *fabric = into->fabric;
	gint32 last = (gint32)into->width - 1;
	for (guint32 i = row->first; i < row->first + row->count; i++) {
		gint32 column = into->columns[i];
		if (column == G_MAXINT32)
			continue;
		gint32 own = CLAMP(column, 0, last);
		into->signs[own] = mix(into->signs[own], sign_of(into, &fabric->made[i], column));
		if (into->order != NULL)
			into->signs[own] = mix(into->signs[own], step_back(into, row, i));
		const char *colour = fabric->colour_count > 1 ? tb_fabric_colour(fabric, i) : NULL;
		if (colour != NULL)
			into->signs[own] = mix(into->signs[own], g_str_hash(colour));
	}
	for (guint32 c = 0; c < into->width; c++)
		into->signs[c] = mix(into->signs[c], 77);
}

/* WEIGHT more lie across every border between columns LOW and HIGH. */
static void add_cut(const strip *one, gint32 *steps, gint32 low, gint32 high, gint32 weight)
{
	low = CLAMP(low, 0, (gint32)one->width - 1);
	high = CLAMP(high, 0, (gint32)one->width - 1);
	steps[low + 1] += weight;
	steps[high + 1] -= weight;
}

/* Of places, where a row goes back on itself: stitches cross there. */
static void add_crossings(const strip *one, const tb_made_row *row, gint32 *steps)
{
	bool outward = row->leftward == one->fabric->rows[1].leftward;
	gint32 farthest = G_MAXINT32;
	for (guint32 k = 0; k < row->count; k++) {
		gint32 column = one->columns[outward ? row->first + k : row->first + row->count - 1 - k];
		if (column == G_MAXINT32)
			continue;
		if (farthest != G_MAXINT32 && column < farthest)
			add_cut(one, steps, column, farthest, CROSSED);
		farthest = farthest == G_MAXINT32 ? column : MAX(farthest, column);
	}
}

/* How many stitches lie across each border: a foot on one side, the head on the other. */
static void count_cuts(strip *one)
{
	const tb_fabric *fabric = one->fabric;
	g_autofree gint32 *steps = g_new0(gint32, one->width + 2);
	for (guint32 r = one->first; r <= one->last; r++) {
		const tb_made_row *row = &fabric->rows[r];
		for (guint32 i = row->first; r > 0 && i < row->first + row->count; i++) {
			const tb_made *made = &fabric->made[i];
			gint32 low = one->columns[i], high = low;
			if (low == G_MAXINT32)
				continue;
			for (unsigned b = 0; b < made->base_count; b++) {
				gint32 column = one->columns[tb_fabric_base(fabric, made, b)];
				if (column != G_MAXINT32) {
					low = MIN(low, column);
					high = MAX(high, column);
				}
			}
			add_cut(one, steps, low, high, 1);
		}
		if (one->order != NULL)
			add_crossings(one, row, steps);
	}
	one->cuts = g_new0(guint32, one->width + 1);
	gint32 sum = 0;
	for (guint32 c = 0; c <= one->width; c++) {
		sum += steps[c];
		one->cuts[c] = (guint32)MAX(sum, 0);
	}
}

static void measure_shared(strip *one, const strip *widest)
{
	guint32 near = 0, far = 0;
	while (near < one->width && one->signs[near] == widest->signs[near])
		near++;
	while (far < one->width &&
		   one->signs[one->width - 1 - far] == widest->signs[widest->width - 1 - far])
		far++;
	one->same_near = near;
	one->same_far = far;
}

typedef struct {
	const strip *strips;
	tb_size_set sizes;
	const strip *widest;
	guint64 comparisons;
} search;

typedef struct {
	guint32 near_edge, width, far_edge;
	guint32 times, least; /* in the widest size and in the narrowest */
	guint32 cuts;
} candidate;

static guint32 drawn(const candidate *c)
{
	return c->near_edge + c->width + c->far_edge;
}

/* The stretch around ANCHOR in which every column equals the one PERIOD further on. */
static bool find_run(search *s, guint32 period, guint32 anchor, guint32 *left, guint32 *right)
{
	const guint64 *signs = s->widest->signs;
	guint32 end = s->widest->width - period;
	guint32 at = MIN(anchor > period / 2 ? anchor - period / 2 : 0, end - 1);
	s->comparisons++;
	if (signs[at] != signs[at + period])
		return false;
	guint32 from = at, to = at + 1;
	while (from > 0 && signs[from - 1] == signs[from - 1 + period])
		from--;
	while (to < end && signs[to] == signs[to + period])
		to++;
	s->comparisons += to - from;
	*left = from;
	*right = to + period;
	return *right - *left >= 2 * period;
}

/* How many stitches a row has on the columns FROM to before TO: those that count, or chains and all. */
static guint32 count_on(const strip *one, const tb_made_row *row, guint32 from, guint32 to, bool counted)
{
	guint32 count = 0;
	for (guint32 i = row->first; i < row->first + row->count; i++) {
		guint8 flags = one->fabric->made[i].flags;
		bool fits = flags & TB_MADE_COUNTED || (!counted && flags & TB_MADE_CHAIN);
		count += fits && one->columns[i] >= (gint32)from && one->columns[i] < (gint32)to;
	}
	return count;
}

/* Whether all its columns are alike, with one stitch each, in every row. */
static bool is_plain(const strip *one, const candidate *c)
{
	for (guint32 k = 1; k <= c->width; k++)
		if (one->signs[c->near_edge + k] != one->signs[c->near_edge])
			return false;
	for (guint32 r = MAX(one->first, 1); r <= one->last; r++)
		if (count_on(one, &one->fabric->rows[r], c->near_edge, c->near_edge + 1, false) != 1)
			return false;
	return true;
}

/*
 * A repeat is none where it covers little of the widest size; of places also where it cuts what crosses, or has nothing
 * in some row. A plain middle between shaped edges repeats its one stitch, if there are many.
 */
static bool is_accident(search *s, const candidate *c)
{
	const strip *one = s->widest;
	guint32 covered = c->width * c->times;
	bool plain = one->order != NULL && is_plain(one, c);
	if (plain ? c->width > 1 || c->least < LEAST_PLAIN : covered * LEAST_PART < one->width)
		return true;
	if (one->order == NULL)
		return false;
	if (covered < LEAST_COVERED || c->cuts >= CROSSED)
		return true;
	s->comparisons += one->fabric->made_count;
	for (guint32 r = MAX(one->first, 1); r <= one->last; r++)
		if (count_on(one, &one->fabric->rows[r], c->near_edge, c->near_edge + c->width, false) == 0)
			return true;
	return false;
}

/*
 * The best way to lay the motif of PERIOD into the run: as often as it goes, with edges every size
 * shares, its borders where the fewest stitches lie across.
 */
static bool lay_out(search *s, guint32 period, guint32 left, guint32 right, candidate *best)
{
	guint32 width = s->widest->width;
	guint32 far_low = width - right, far_high = width;
	guint32 less = 0; /* how much narrower the narrowest size is */
	for (unsigned size = 0; size < TB_MAX_SIZES; size++) {
		if (!(s->sizes >> size & 1))
			continue;
		const strip *one = &s->strips[size];
		if ((width - one->width) % period != 0)
			return false;
		less = MAX(less, width - one->width);
		far_low = MAX(far_low, one->width - one->same_near);
		far_high = MIN(far_high, one->same_far);
	}
	if (far_low > far_high || left + far_low + 2 * period > width)
		return false;
	guint32 times = (width - left - far_low) / period;
	if (times < less / period + 1 || times < 2)
		return false;
	bool found = false;
	for (guint32 far = far_low; far <= far_high && left + far + times * period <= width; far++) {
		guint32 near = width - far - times * period;
		candidate c = {near, period, far, times, times - less / period, s->widest->cuts[near] + s->widest->cuts[near + period]};
		s->comparisons++;
		if (!found || c.cuts < best->cuts || (c.cuts == best->cuts && near < best->near_edge)) {
			*best = c;
			found = true;
		}
	}
	return found;
}

static bool search_periods(search *s, candidate *best)
{
	/* the middle first; a panel may stand there, with the texture on either side */
	static const guint32 quarters[] = {2, 1, 3};
	guint32 width = s->widest->width;
	bool found = false;
	for (guint32 period = 1; period <= width / 2; period++) {
		if ((found && period + 1 > drawn(best)) || s->comparisons > MOST_COMPARISONS)
			break;
		for (unsigned i = 0; i < G_N_ELEMENTS(quarters); i++) {
			guint32 left, right, anchor = (guint32)((guint64)width * quarters[i] / 4);
			candidate c;
			if (!find_run(s, period, anchor, &left, &right) || !lay_out(s, period, left, right, &c) || is_accident(s, &c))
				continue;
			if (!found || drawn(&c) < drawn(best)) {
				*best = c;
				found = true;
			}
			break;
		}
	}
	return found;
}

static char *why_not(search *s, const tb_pattern *pattern)
{
	const strip *widest = s->widest;
	const char *widest_name = tb_pattern_get_size(pattern, (unsigned)(widest - s->strips));
	for (unsigned size = 0; size < TB_MAX_SIZES; size++) {
		const strip *one = &s->strips[size];
		if (!(s->sizes >> size & 1) || one == widest)
			continue;
		const char *name = tb_pattern_get_size(pattern, size);
		if (one->same_near == 0)
			return g_strdup_printf(
				"Sizes %s and %s differ at the edge where row 1 begins.", name, widest_name);
		if (one->same_far == 0)
			return g_strdup_printf(
				"Sizes %s and %s differ at the edge where row 1 ends.", name, widest_name);
	}
	const char *unit = widest->order != NULL ? "places" : "sts";
	/* the widest size alone: does anything repeat in it? */
	search alone = *s;
	candidate c;
	alone.sizes = (tb_size_set)1 << (widest - s->strips);
	alone.comparisons = 0;
	if (!search_periods(&alone, &c))
		return g_strdup("No block of columns repeats in these rows.");
	for (unsigned size = 0; size < TB_MAX_SIZES; size++) {
		const strip *one = &s->strips[size];
		if ((s->sizes >> size & 1) && (widest->width - one->width) % c.width != 0)
			return g_strdup_printf("Size %s is %u %s narrower than size %s, which is no multiple "
								   "of the repeat of %u.",
				tb_pattern_get_size(pattern, size), widest->width - one->width, unit, widest_name,
				c.width);
	}
	return g_strdup("The sizes share no block of columns that repeats from edge to edge.");
}

/* Finds the rows that are compared: of places, all that the charted ones reach into. */
static void find_rows(strip *one, guint32 first, guint32 last)
{
	const tb_fabric *fabric = one->fabric;
	one->first = (guint32)(tb_fabric_row(fabric, first) - fabric->rows);
	one->last = (guint32)(tb_fabric_row(fabric, last) - fabric->rows);
	if (one->order == NULL)
		return;
	guint32 lowest = one->first;
	for (guint32 i = fabric->rows[one->first].first; i < fabric->made_count && fabric->made[i].row <= one->last; i++)
		for (unsigned b = 0; b < fabric->made[i].base_count; b++)
			lowest = MIN(lowest, fabric->made[tb_fabric_base(fabric, &fabric->made[i], b)].row);
	one->first = lowest;
}

/* Of places: the how manieth on its column everything was made. */
static void find_order(strip *one)
{
	const tb_fabric *fabric = one->fabric;
	one->order = g_new0(guint32, fabric->made_count + 1u);
	for (guint32 i = 1; i < fabric->made_count; i++)
		if (fabric->made[i].row == fabric->made[i - 1].row && one->columns[i] == one->columns[i - 1])
			one->order[i] = one->order[i - 1] + 1;
}

static bool is_true_grid(const strip *one)
{
	const tb_fabric *fabric = one->fabric;
	if (fabric->rows[one->first].is_round)
		return tb_grid_is_true(fabric, one->first, one->last, one->columns, one->width);
	g_autofree gint32 *columns = g_memdup2(one->columns, fabric->made_count * sizeof *columns);
	tb_grid_centre(fabric, columns);
	return tb_grid_is_true(fabric, one->first > 1 ? one->first : 0, one->last, columns, 0);
}

/* Reads one size into its strip. False, with a reason, when it has no columns there. */
static bool read_strip(const tb_worked *worked, unsigned piece, unsigned size, guint32 first, guint32 last, bool places,
	strip *one, char **reason)
{
	const tb_pattern *pattern = tb_worked_pattern(worked);
	const char *name = tb_pattern_get_size(pattern, size);
	g_autofree char *whose =
		*name != '\0' ? g_strdup_printf("Size %s", name) : g_strdup("The piece");
	const tb_fabric *fabric = one->fabric = tb_worked_fabric(worked, piece, size);
	if (tb_fabric_row(fabric, first) == NULL || tb_fabric_row(fabric, last) == NULL) {
		*reason = g_strdup_printf(
			"%s has no row %u.", whose, tb_fabric_row(fabric, first) == NULL ? first : last);
		return false;
	}
	one->columns = g_new(gint32, fabric->made_count + 1u);
	if (places ? !tb_place_columns(fabric, last, one->columns, &one->width) :
			!tb_grid_columns(fabric, first, last, one->columns, &one->width)) {
		*reason = g_strdup_printf(
			"%s has rows of different widths here, so they share no columns.", whose);
		return false;
	}
	if (places)
		find_order(one);
	find_rows(one, first, last);
	if (!places && !is_true_grid(one)) {
		*reason = g_strdup_printf("%s has stitches far from where they are worked, so its rows share no columns.", whose);
		return false;
	}
	one->signs = g_new0(guint64, one->width);
	for (guint32 r = first == 1 ? 0 : 1; r < fabric->row_count; r++)
		if (r == 0 || (r >= one->first && r <= one->last))
			add_row(&fabric->rows[r], one);
	count_cuts(one);
	return true;
}

/* What a repeat has in every charted row; 0 where they differ. */
static guint32 count_stitches(const search *s, const candidate *c, guint32 first, guint32 last)
{
	const strip *one = s->widest;
	guint32 count = 0;
	if (one->order == NULL)
		return c->width;
	for (guint32 r = 1; r < one->fabric->row_count; r++) {
		const tb_made_row *row = &one->fabric->rows[r];
		if (row->number < first || row->number > last)
			continue;
		guint32 own = count_on(one, row, c->near_edge, c->near_edge + c->width, true);
		if (count != 0 && own != count)
			return 0;
		count = own;
	}
	return count;
}

static tb_motif find(search *s, strip *strips, const tb_pattern *pattern, guint32 first, guint32 last)
{
	tb_motif motif = {0};
	candidate best;
	for (unsigned size = 0; size < TB_MAX_SIZES; size++) {
		if (s->sizes >> size & 1)
			measure_shared(&strips[size], s->widest);
	}
	if (!search_periods(s, &best)) {
		motif.reason = why_not(s, pattern);
		return motif;
	}
	motif.found = true;
	motif.by_places = s->widest->order != NULL;
	motif.plain = motif.by_places && is_plain(s->widest, &best);
	motif.near_edge = best.near_edge;
	motif.width = best.width;
	motif.far_edge = best.far_edge;
	motif.stitches = count_stitches(s, &best, first, last);
	for (unsigned size = 0; size < TB_MAX_SIZES; size++) {
		if (s->sizes >> size & 1)
			motif.times[size] = (strips[size].width - best.near_edge - best.far_edge) / best.width;
	}
	return motif;
}

static void clear_strip(strip *one)
{
	g_free(one->signs);
	g_free(one->cuts);
	g_free(one->columns);
	g_free(one->order);
}

/* COLUMNED: whether every size has columns there. */
static tb_motif find_by(const tb_worked *worked, unsigned piece, guint32 first, guint32 last, tb_size_set sizes,
	bool places, bool *columned)
{
	tb_motif motif = {0};
	strip strips[TB_MAX_SIZES] = {0};
	const tb_pattern *pattern = tb_worked_pattern(worked);
	search s = {.strips = strips};
	unsigned count = tb_pattern_count_sizes(pattern);
	*columned = true;
	for (unsigned size = 0; size < count && *columned; size++) {
		if (!(sizes >> size & 1))
			continue;
		s.sizes |= (tb_size_set)1 << size;
		*columned = read_strip(worked, piece, size, first, last, places, &strips[size], &motif.reason);
		if (*columned && (s.widest == NULL || strips[size].width > s.widest->width))
			s.widest = &strips[size];
	}
	if (*columned && s.widest == NULL)
		motif.reason = g_strdup("No size is charted.");
	if (motif.reason == NULL)
		motif = find(&s, strips, pattern, first, last);
	for (unsigned size = 0; size < TB_MAX_SIZES; size++)
		clear_strip(&strips[size]);
	return motif;
}

/* Whether the foundation is not as wide as what is worked on it: columns then lean ever further from edge to edge. */
static bool is_uneven(const tb_worked *worked, unsigned piece, guint32 first, tb_size_set sizes)
{
	for (unsigned size = 0; size < TB_MAX_SIZES; size++) {
		if (first != 1 || !(sizes >> size & 1))
			continue;
		const tb_made_row *rows = tb_worked_fabric(worked, piece, size)->rows;
		if (MAX(rows[0].count, rows[1].stitches) - MIN(rows[0].count, rows[1].stitches) > 1)
			return true;
	}
	return false;
}

tb_motif tb_motif_find(
	const tb_worked *worked, unsigned piece, guint32 first, guint32 last, tb_size_set sizes)
{
	bool columned, placed;
	tb_motif motif = find_by(worked, piece, first, last, sizes, false, &columned);
	if (motif.found || (columned && !is_uneven(worked, piece, first, sizes)))
		return motif;
	tb_motif by_places = find_by(worked, piece, first, last, sizes, true, &placed);
	/* Where there is none by places either, the grid's reason is the plainer one. */
	if (by_places.found || (placed && !columned)) {
		g_free(motif.reason);
		return by_places;
	}
	g_free(by_places.reason);
	return motif;
}
