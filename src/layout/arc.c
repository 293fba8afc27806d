/* Chain spaces: as much arc as the chains are long, off the heads at both ends. */
#include "layout/arc.h"

#include "layout/plane.h"
#include "layout/relax.h"

/* A chain of a run, in columns: at rest, and pressed together. */
#define CHAIN 0.62
#define LEAST_CHAIN 0.44
/* What the heads at its ends take, of the way and at most. */
#define HEAD_PART 0.24
#define HEAD_MOST 0.36
/* … and a round's join, but no more than this part of the way; on a longer way the turning chain beside it, too. */
#define JOIN_ROOM 0.38
#define ROOM_PART 0.15
#define RISE_ROOM 0.2
#define LONG_WAY 3
/* No arc is more than nearly a circle. */
#define WIDEST (0.93 * G_PI)

double tb_arc_room(double way)
{
	return fmin(HEAD_MOST, HEAD_PART * way);
}

double tb_arc_length(double chord, double chains)
{
	double least = fmax(LEAST_CHAIN * chains, chord * (chains > 1 ? 1.05 : 1));
	return fmax(fmin(CHAIN * chains, 1.2 * chord + 0.25), least);
}

/*
 * The half angle t of an arc LENGTH long over CHORD: sin t / t is their ratio. From where it is surely less, each step
 * leads nearer and never past it.
 */
static double half_angle(double chord, double length)
{
	double ratio = chord / length, t = fmin(sqrt(10 * (1 - ratio)), WIDEST), step = 1;
	if (sin(WIDEST) / WIDEST > ratio)
		return WIDEST;
	for (unsigned i = 0; i < 50 && fabs(step) > 1e-12; i++) {
		step = (sin(t) - ratio * t) / (cos(t) - ratio);
		t -= step;
	}
	return t;
}

static tb_arc bent(double complex from, double complex to, double complex out, double length)
{
	double chord = length_of(to - from);
	double complex along = unit_or(to - from, 1);
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
	double complex b = w->z[run->after], along = unit_or(b - a, 1), out = along * I * sign;
	double room = tb_arc_room(length_of(b - a));
	bool leads_up = tb_weave_node_at(w, run->before)->row != run->row;
	double complex leave = leads_up ? along : unit_or(along + along_row(w, run->before), 1);
	double complex reach = unit_or(along + along_row(w, run->after), 1);
	/* Where a round closes, what joins it lies between the arc and the first head. */
	const tb_weave_row *row = tb_weave_row_at(w, run->row);
	bool closes = w->rounds && row->closed && run->after == row->first;
	double complex from = a + leave * room + out * TB_ARC_RISE;
	double seam = closes ? fmin(JOIN_ROOM, length_of(b - a) * ROOM_PART) + (row->rises && length_of(b - a) > LONG_WAY ? RISE_ROOM : 0) : 0;
	double complex to = b - reach * (room + seam) + out * TB_ARC_RISE;
	return bent(from, to, out, tb_arc_length(length_of(to - from), k));
}

double complex tb_arc_at(const tb_arc *arc, double t, double complex *direction)
{
	double complex along = unit_or(arc->to - arc->from, 1);
	if (arc->half == 0) {
		if (direction != NULL)
			*direction = along;
		return arc->from + (arc->to - arc->from) * t;
	}
	double radius = length_of(arc->from - arc->centre), angle = (2 * t - 1) * arc->half;
	if (direction != NULL)
		*direction = along * cos(angle) - arc->out * sin(angle);
	return arc->centre + radius * (arc->out * cos(angle) + along * sin(angle));
}
