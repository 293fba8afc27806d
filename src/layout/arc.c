/* Chain spaces: as much arc as the chains are long, off the heads at both ends. */
#include "layout/arc.h"

#include "layout/relax.h"

#include <math.h>

/* A chain of a run, in columns: at rest, and pressed together. */
#define CHAIN 0.62
#define LEAST_CHAIN 0.44
/* What the heads at its ends take, of the way and at most. */
#define HEAD_PART 0.24
#define HEAD_MOST 0.36
/* … and a round's join. */
#define JOIN_ROOM 0.38
/* No arc is more than nearly a circle. */
#define WIDEST (0.93 * G_PI)

static double complex unit_of(double complex v)
{
	double length = cabs(v);
	return length > 1e-9 ? v / length : 1;
}

double tb_arc_room(double way)
{
	return fmin(HEAD_MOST, HEAD_PART * way);
}

double tb_arc_length(double chord, double chains)
{
	double least = fmax(LEAST_CHAIN * chains, chord * (chains > 1 ? 1.05 : 1));
	return fmax(fmin(CHAIN * chains, 1.2 * chord + 0.25), least);
}

/* The half angle t of an arc LENGTH long over CHORD: sin t / t is their ratio. */
static double half_angle(double chord, double length)
{
	double low = 1e-4, high = WIDEST;
	for (unsigned i = 0; i < 50; i++) {
		double t = (low + high) / 2;
		if (sin(t) / t > chord / length)
			low = t;
		else
			high = t;
	}
	return (low + high) / 2;
}

static tb_arc bent(double complex from, double complex to, double complex out, double length)
{
	double chord = cabs(to - from);
	double complex along = unit_of(to - from);
	tb_arc arc = {.from = from, .to = to, .out = out, .length = fmax(chord, length)};
	if (chord < 1e-6 || length <= 1.002 * chord)
		return arc;
	arc.half = half_angle(chord, length);
	double radius = chord / 2 / sin(arc.half);
	bool left = cimag(out / along) > 0;
	arc.out = along * (left ? I : -I);
	arc.centre = (from + to) / 2 - arc.out * radius * cos(arc.half);
	arc.length = 2 * arc.half * radius;
	return arc;
}

/* The way along a row at one of its nodes, as it is worked. */
static double complex along_row(const tb_weave *w, guint32 node)
{
	return tb_relax_out(w, node) / I * tb_weave_row_at(w, tb_weave_node_at(w, node)->row)->sign;
}

tb_arc tb_arc_of_run(const tb_weave *w, guint32 q)
{
	const tb_weave_run *run = tb_weave_run_at(w, q);
	int sign = tb_weave_row_at(w, run->row)->sign;
	double complex a = w->z[run->before];
	double k = run->count;
	if (run->after == TB_NONE) {
		double complex along = along_row(w, run->before);
		return bent(a + along * HEAD_MOST, a + along * (HEAD_MOST + CHAIN * k), along * I * sign, 0);
	}
	double complex b = w->z[run->after], along = unit_of(b - a), out = along * I * sign;
	double room = tb_arc_room(cabs(b - a));
	bool leads_up = tb_weave_node_at(w, run->before)->row != run->row;
	double complex leave = leads_up ? along : unit_of(along + along_row(w, run->before));
	double complex reach = unit_of(along + along_row(w, run->after));
	/* Where a round closes, what joins it lies between the arc and the first head. */
	const tb_weave_row *row = tb_weave_row_at(w, run->row);
	bool closes = w->rounds && row->closed && run->after == row->first;
	double complex from = a + leave * room + out * TB_ARC_RISE;
	double complex to = b - reach * (room + (closes ? fmin(JOIN_ROOM, cabs(b - a) * 0.15) : 0)) + out * TB_ARC_RISE;
	return bent(from, to, out, tb_arc_length(cabs(to - from), k));
}

double complex tb_arc_at(const tb_arc *arc, double t, double complex *direction)
{
	double complex along = unit_of(arc->to - arc->from);
	if (arc->half == 0) {
		if (direction != NULL)
			*direction = along;
		return arc->from + (arc->to - arc->from) * t;
	}
	double radius = cabs(arc->from - arc->centre), angle = (2 * t - 1) * arc->half;
	if (direction != NULL)
		*direction = along * cos(angle) - arc->out * sin(angle);
	return arc->centre + radius * (arc->out * cos(angle) + along * sin(angle));
}
