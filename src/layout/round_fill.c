/* How a round's stitches share the way around: on a circle, along a polygon's sides, on an oval's ends. */
#include "layout/round_list.h"

#include <math.h>

/* A circle is filled evenly, turned so that stitches stand as near over their bases as they can. */
void tb_round_fill_circle(tb_round_list *l)
{
	double whole = 0, along = 0, turn = 0;
	for (guint32 i = 0; i < l->count; i++)
		whole += l->gaps[i];
	for (guint32 i = 0; i < l->count; i++) {
		turn += (l->wanted[i] - along / whole) / l->count;
		along += l->gaps[i];
	}
	along = 0;
	for (guint32 i = 0; i < l->count; i++) {
		l->wanted[i] = turn + along / whole;
		along += l->gaps[i];
	}
}

static bool is_on_end(double at)
{
	double part = fmod(fmod(at, 4) + 4, 4);
	return (part >= 1 && part < 2) || part >= 3;
}

/* The place WAY millimetres on along an oval from AT. */
static double go_along(const tb_setting *s, double at, double way, double level)
{
	while (way > 1e-9) {
		double left = (floor(at + 1e-9) + 1 - at) * tb_round_speed(s, at + 1e-6, level);
		if (left > way)
			return at + way / tb_round_speed(s, at + 1e-6, level);
		way -= left;
		at = floor(at + 1e-9) + 1;
	}
	return at;
}

static double way_between(const tb_setting *s, double from, double to, double level)
{
	double way = 0;
	while (from < to - 1e-9) {
		double next = fmin(floor(from + 1e-9) + 1, to);
		way += (next - from) * tb_round_speed(s, from + 1e-6, level);
		from = next;
	}
	return way;
}

/* The stitches on an oval's ends spread between the last of one side and the first of the next. */
void tb_round_fill_ends(const tb_setting *s, tb_round_list *l, const double *columns, double level)
{
	guint32 n = l->count, start = 0;
	while (start < n && is_on_end(l->wanted[start]))
		start++;
	if (start == n)
		return;
	/* From a stitch on a side once around, so that no end is cut by the seam. */
	for (guint32 k = 0; k < n;) {
		guint32 before = (start + k) % n, count = 0;
		double from = l->wanted[before], weight = columns[before];
		while (count + 1 < n && is_on_end(l->wanted[(before + count + 1) % n])) {
			weight += columns[(before + count + 1) % n];
			count++;
		}
		double to = l->wanted[(before + count + 1) % n];
		to += to < from ? s->period : 0;
		double way = count > 0 ? way_between(s, from, to, level) : 0, along = 0;
		for (guint32 i = 0; i < count; i++) {
			guint32 index = (before + 1 + i) % n;
			along += columns[(before + i) % n] / weight * way;
			double at = go_along(s, from, along, level);
			/* Half way, so that a stitch still stands near over its base. */
			at -= index < before ? s->period : 0;
			l->wanted[index] = (l->wanted[index] + at) / 2;
		}
		k += count + 1;
	}
}

/* Sides of a polygon are filled evenly from corner to corner. */
void tb_round_fill_sides(tb_setting *s, const tb_made_row *row, tb_round_list *l)
{
	guint32 end = row->first + row->count, corner = G_MAXUINT32;
	g_autofree double *along = g_new(double, l->count + 1);
	g_autoptr(GArray) corners = g_array_new(FALSE, FALSE, sizeof(double)); /* along, of each */
	double sum = 0;
	for (guint32 i = 0; i < l->count; i++) {
		guint32 next = i + 1 < l->count ? l->list[i + 1] : end;
		along[i] = sum;
		if (l->list[i] + 1 < next && s->run[l->list[i] + 1] != 0 &&
			tb_round_is_corner(s, &g_array_index(s->runs, tb_run, s->run[l->list[i] + 1] - 1))) {
			double room = i + 1 == l->count ? l->gaps[i] * l->seam / l->last_gap : 0;
			double middle = sum + (l->gaps[i] - room) / 2;
			if (corner == G_MAXUINT32)
				corner = i;
			g_array_append_val(corners, middle);
		}
		sum += l->gaps[i];
	}
	if (corners->len != s->corners || corner == G_MAXUINT32)
		return;
	if (isnan(s->corner_at))
		s->corner_at = (l->wanted[corner] + l->wanted[MIN(corner + 1, l->count - 1)]) / 2;
	/* The first corner of this round is the one of the pattern's corners nearest to it. */
	double here = corner + 1 < l->count ? (l->wanted[corner] + l->wanted[corner + 1]) / 2 :
		l->wanted[corner];
	double start = s->corner_at + round((here - s->corner_at) * s->corners) / s->corners;
	for (guint32 i = 0; i < l->count; i++) {
		guint side = 0;
		while (side < corners->len && g_array_index(corners, double, side) <= along[i])
			side++;
		double from = side > 0 ? g_array_index(corners, double, side - 1) :
			g_array_index(corners, double, corners->len - 1) - sum;
		double to = side < corners->len ? g_array_index(corners, double, side) :
			g_array_index(corners, double, 0) + sum;
		l->wanted[i] = start + (side - 1.0 + (along[i] - from) / (to - from)) / s->corners;
	}
}
