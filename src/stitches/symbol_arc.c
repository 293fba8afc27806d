#include "stitches/symbol_arc.h"

#include <glib.h>
#include <math.h>

typedef struct {
	double cx, cy, rx, ry; /* centre and radii, enlarged where the ends were too far apart */
	double sine, cosine; /* of the axes' turn */
	double from, by; /* angles on the ellipse, radians */
} centred;

/* From the ends to the centre: the steps of F.6.5, the radii put right first after F.6.6. */
static centred find_centre(const tb_symbol_arc *arc)
{
	double angle = fmod(arc->turn, 360) * G_PI / 180;
	centred e = {
		.rx = fabs(arc->rx), .ry = fabs(arc->ry), .sine = sin(angle), .cosine = cos(angle)};
	double dx = (arc->x1 - arc->x2) / 2, dy = (arc->y1 - arc->y2) / 2;
	double x = e.cosine * dx + e.sine * dy, y = -e.sine * dx + e.cosine * dy; /* F.6.5.1 */
	double reach = hypot(x / e.rx, y / e.ry);
	if (reach > 1) { /* F.6.6.3 */
		e.rx *= reach;
		e.ry *= reach;
	}
	double u = x / e.rx, v = y / e.ry, square = u * u + v * v;
	double factor = sqrt(fmax(0, 1 / square - 1)) * (arc->large == arc->sweep ? -1 : 1);
	double cx = factor * v, cy = -factor * u; /* on the unit circle: F.6.5.2 without the radii */
	e.cx = e.cosine * cx * e.rx - e.sine * cy * e.ry + (arc->x1 + arc->x2) / 2;
	e.cy = e.sine * cx * e.rx + e.cosine * cy * e.ry + (arc->y1 + arc->y2) / 2;
	e.from = atan2(v - cy, u - cx);
	e.by = atan2(-v - cy, -u - cx) - e.from;
	if (arc->sweep && e.by < 0)
		e.by += 2 * G_PI;
	else if (!arc->sweep && e.by > 0)
		e.by -= 2 * G_PI;
	return e;
}

static void map(const centred *e, double u, double v, double *to)
{
	to[0] = e->cx + e->cosine * u * e->rx - e->sine * v * e->ry;
	to[1] = e->cy + e->sine * u * e->rx + e->cosine * v * e->ry;
}

int tb_symbol_arc_curves(const tb_symbol_arc *arc, double curves[4][6])
{
	if (arc->x1 == arc->x2 && arc->y1 == arc->y2)
		return 0;
	/* A radius next to nothing is none: dividing by it would go past all numbers. */
	if (fabs(arc->rx) < 1e-9 || fabs(arc->ry) < 1e-9)
		return -1;
	centred e = find_centre(arc);
	int count = (int)ceil(fabs(e.by) / (G_PI / 2) - 1e-9);
	count = CLAMP(count, 1, 4);
	double step = e.by / count, k = 4.0 / 3 * tan(step / 4);
	for (int i = 0; i < count; i++) {
		double a = e.from + i * step, b = a + step;
		map(&e, cos(a) - k * sin(a), sin(a) + k * cos(a), curves[i]);
		map(&e, cos(b) + k * sin(b), sin(b) - k * cos(b), curves[i] + 2);
		map(&e, cos(b), sin(b), curves[i] + 4);
	}
	curves[count - 1][4] = arc->x2;
	curves[count - 1][5] = arc->y2;
	return count;
}
