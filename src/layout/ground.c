#include "layout/setting.h"

#include <math.h>

/* How high a wave lifts a column; 0 where the fabric lies level. */
static double wave_height(const tb_setting *s, double at)
{
	if (s->wave == NULL || s->wave->len == 0)
		return 0;
	double last = s->wave->len - 1, x = CLAMP(at, 0, last);
	guint32 i = (guint32)floor(fmin(x, fmax(last - 1, 0)));
	double a = g_array_index(s->wave, double, i);
	double b = g_array_index(s->wave, double, MIN(i + 1, s->wave->len - 1));
	return a + (b - a) * (x - i);
}

static tb_spot row_spot(const tb_setting *s, double at, double level)
{
	const tb_chart *chart = s->chart;
	double from_near = tb_chart_across(chart, at);
	double whole = tb_chart_across(chart, chart->max_at + 0.5);
	return (tb_spot){
		.x = chart->near_right ? whole - from_near : from_near,
		.y = -(level + wave_height(s, at)) * chart->rise,
	};
}

/* A point R from the middle, TURNS anticlockwise from straight down. */
static tb_spot around(double r, double turns)
{
	double angle = turns * 2 * G_PI;
	return (tb_spot){r * sin(angle), r * cos(angle)};
}

/* Sides are straight, and level at the bottom; R is the distance of their middles. */
static tb_spot polygon_spot(const tb_setting *s, double at, double r)
{
	/* The ring in the middle is round all the same. */
	double column = s->chart->column;
	if (r < s->ring * s->chart->chain + 1.5 * TB_RING_THICK * column)
		return around(r, at);
	double side = (at - (isnan(s->corner_at) ? 0 : s->corner_at)) * s->corners;
	double number = floor(side), along = (side - number) * 2 - 1;
	double turns = (number + 1) / s->corners;
	tb_spot middle = around(r, turns), way = around(r * tan(G_PI / s->corners), turns + 0.25);
	return (tb_spot){middle.x + way.x * along, middle.y + way.y * along};
}

static tb_spot oval_spot(const tb_setting *s, double at, double r)
{
	double part = fmod(fmod(at, 4) + 4, 4), half = s->spine / 2;
	if (part < 1)
		return (tb_spot){-half + part * s->spine, r};
	if (part < 2) {
		tb_spot end = around(r, (part - 1) / 2);
		return (tb_spot){half + end.x, end.y};
	}
	if (part < 3)
		return (tb_spot){half - (part - 2) * s->spine, -r};
	tb_spot end = around(r, 0.5 + (part - 3) / 2);
	return (tb_spot){-half + end.x, end.y};
}

tb_spot tb_ground_spot(const tb_setting *s, double at, double level)
{
	if (s->shape == TB_GROUND_ROWS)
		return row_spot(s, at, level);
	double r = (level + s->spiral * at) * s->chart->chain;
	tb_spot spot = s->shape == TB_GROUND_POLYGON ? polygon_spot(s, at, r) :
		s->shape == TB_GROUND_OVAL ? oval_spot(s, at, r) : around(r, at);
	/* Anticlockwise for the right-handed; the left-handed see the mirror image. */
	if (s->chart->options.left_handed)
		spot.x = -spot.x;
	return spot;
}

double tb_ground_up(const tb_setting *s, double at, double level)
{
	if (s->shape == TB_GROUND_ROWS)
		return 0;
	tb_spot a = tb_ground_spot(s, at, level), b = tb_ground_spot(s, at, level - 0.01);
	return atan2(a.x - b.x, b.y - a.y);
}
