/*
 * The motif.
 *
 * Every column gets a sign made of all that stands in it in the rows charted: stitch, loops, colour, and
 * where its feet are, as seen from the column itself. A fabric is then a string of signs, and the
 * motif a period of it. Candidates are looked for around the middle of the widest size, shortest
 * first; a period longer than what an earlier one leaves to draw can win no more, so the search
 * ends early. Other sizes are compared by the columns they share with the widest from either edge.
 */
#include "fabric/fabric.h"
#include "fabric/motif.h"

#include <string.h>

/* Comparisons after which a fabric is held to have no period; keeps the search near linear. */
#define MOST_COMPARISONS 40000000ull

typedef struct {
	guint64 *signs; /* one a column */
	guint32 width;
	guint32 same_near, same_far; /* columns shared with the widest size from either edge */
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

static guint64 sign_of(
	const tb_fabric *fabric, const tb_made *made, const gint32 *columns, gint32 column, guint32 width)
{
	guint64 sign = mix(1, (guint64)made->stitch << 16 | (guint64)made->flags << 8 | made->chains);
	sign = mix(sign, (guint64)(made->behind != TB_NONE) << 8 | made->base_count);
	for (unsigned i = 0; i < made->base_count; i++) {
		guint32 base = tb_fabric_base(fabric, made, i);
		gint32 there = columns[base];
		guint64 away = there == G_MAXINT32 ? 0x7fffffff : (guint64)(guint32)drift(fabric, made, there - column, width);
		sign = mix(sign, away << 16 | (made->row - fabric->made[base].row));
	}
	return sign;
}

/* Adds what stands in a row to the signs of its columns, what does not count to its neighbour's. */
static void add_row(
	const tb_fabric *fabric, const tb_made_row *row, const gint32 *columns, strip *into)
{
	gint32 last = (gint32)into->width - 1;
	for (guint32 i = row->first; i < row->first + row->count; i++) {
		gint32 column = columns[i];
		if (column == G_MAXINT32)
			continue;
		gint32 own = CLAMP(column, 0, last);
		into->signs[own] =
			mix(into->signs[own], sign_of(fabric, &fabric->made[i], columns, column, into->width));
		const char *colour = fabric->colour_count > 1 ? tb_fabric_colour(fabric, i) : NULL;
		if (colour != NULL)
			into->signs[own] = mix(into->signs[own], g_str_hash(colour));
	}
	for (guint32 c = 0; c < into->width; c++)
		into->signs[c] = mix(into->signs[c], 77);
}

/*
 * How many stitches lie across the border in front of each column: a foot on one side, the head on
 * the other. WIDTH + 1 of them.
 */
static guint32 *count_cuts(
	const tb_fabric *fabric, guint32 first, guint32 last, const gint32 *columns, guint32 width)
{
	gint32 *steps = g_new0(gint32, width + 2);
	for (guint32 i = 0; i < fabric->made_count; i++) {
		const tb_made *made = &fabric->made[i];
		const tb_made_row *row = &fabric->rows[made->row];
		if (columns[i] == G_MAXINT32 || row->number < first || row->number > last || made->row == 0)
			continue;
		gint32 low = columns[i], high = low;
		for (unsigned b = 0; b < made->base_count; b++) {
			gint32 column = columns[tb_fabric_base(fabric, made, b)];
			if (column != G_MAXINT32) {
				low = MIN(low, column);
				high = MAX(high, column);
			}
		}
		low = CLAMP(low, 0, (gint32)width - 1);
		high = CLAMP(high, 0, (gint32)width - 1);
		steps[low + 1]++;
		steps[high + 1]--;
	}
	guint32 *cuts = g_new0(guint32, width + 1);
	gint32 sum = 0;
	for (guint32 c = 0; c <= width; c++) {
		sum += steps[c];
		cuts[c] = (guint32)MAX(sum, 0);
	}
	g_free(steps);
	return cuts;
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
	const guint32 *cuts;
	guint64 comparisons;
} search;

typedef struct {
	guint32 near_edge, width, far_edge, times; /* times in the widest size */
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
		candidate c = {near, period, far, times, s->cuts[near] + s->cuts[near + period]};
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
			if (!find_run(s, period, anchor, &left, &right) || !lay_out(s, period, left, right, &c))
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
			return g_strdup_printf("Size %s is %u sts narrower than size %s, which is no multiple "
								   "of the repeat of %u.",
				tb_pattern_get_size(pattern, size), widest->width - one->width, widest_name,
				c.width);
	}
	return g_strdup("The sizes share no block of columns that repeats from edge to edge.");
}

/* Reads one size into its strip, and counts cuts for the widest. False, with a reason, when it has
 * no grid there. */
static bool read_strip(const tb_worked *worked, unsigned piece, unsigned size, guint32 first,
	guint32 last, strip *one, guint32 **cuts, char **reason)
{
	const tb_pattern *pattern = tb_worked_pattern(worked);
	const char *name = tb_pattern_get_size(pattern, size);
	g_autofree char *whose =
		*name != '\0' ? g_strdup_printf("Size %s", name) : g_strdup("The piece");
	const tb_fabric *fabric = tb_worked_fabric(worked, piece, size);
	if (tb_fabric_row(fabric, first) == NULL || tb_fabric_row(fabric, last) == NULL) {
		*reason = g_strdup_printf(
			"%s has no row %u.", whose, tb_fabric_row(fabric, first) == NULL ? first : last);
		return false;
	}
	g_autofree gint32 *columns = g_new(gint32, fabric->made_count + 1u);
	if (!tb_grid_columns(fabric, first, last, columns, &one->width)) {
		*reason = g_strdup_printf(
			"%s has rows of different widths here, so they share no columns.", whose);
		return false;
	}
	one->signs = g_new0(guint64, one->width);
	for (guint32 i = first == 1 ? 0 : 1; i < fabric->row_count; i++) {
		const tb_made_row *row = &fabric->rows[i];
		if (i == 0 || (row->number >= first && row->number <= last))
			add_row(fabric, row, columns, one);
	}
	*cuts = count_cuts(fabric, first, last, columns, one->width);
	return true;
}

static tb_motif find(search *s, strip *strips, const tb_pattern *pattern)
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
	motif.near_edge = best.near_edge;
	motif.width = best.width;
	motif.far_edge = best.far_edge;
	for (unsigned size = 0; size < TB_MAX_SIZES; size++) {
		if (s->sizes >> size & 1)
			motif.times[size] = (strips[size].width - best.near_edge - best.far_edge) / best.width;
	}
	return motif;
}

tb_motif tb_motif_find(
	const tb_worked *worked, unsigned piece, guint32 first, guint32 last, tb_size_set sizes)
{
	tb_motif motif = {0};
	strip strips[TB_MAX_SIZES] = {0};
	const tb_pattern *pattern = tb_worked_pattern(worked);
	search s = {.strips = strips};
	g_autofree guint32 *widest_cuts = NULL;
	unsigned count = tb_pattern_count_sizes(pattern);
	for (unsigned size = 0; size < count && motif.reason == NULL; size++) {
		if (!(sizes >> size & 1))
			continue;
		guint32 *cuts = NULL;
		s.sizes |= (tb_size_set)1 << size;
		if (!read_strip(worked, piece, size, first, last, &strips[size], &cuts, &motif.reason))
			break;
		if (s.widest == NULL || strips[size].width > s.widest->width) {
			s.widest = &strips[size];
			g_free(widest_cuts);
			widest_cuts = cuts;
		} else {
			g_free(cuts);
		}
	}
	s.cuts = widest_cuts;
	if (motif.reason == NULL && s.widest == NULL)
		motif.reason = g_strdup("No size is charted.");
	if (motif.reason == NULL)
		motif = find(&s, strips, pattern);
	for (unsigned size = 0; size < TB_MAX_SIZES; size++)
		g_free(strips[size].signs);
	return motif;
}
