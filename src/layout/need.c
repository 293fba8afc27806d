#include "layout/need.h"

#include <math.h>

/* Details are so many times as high as a chain at most. */
#define CHAINS_A_UNIT 2.4
/* Bars of a leg that crosses stand a little closer. */
#define CROSSING_STEP 0.92
/* What a column's width of crossing takes of the height, and what is below it. */
#define A_COLUMN 0.52
#define BELOW_THROATS 0.06
#define BELOW_FEET 0.14

double tb_need_unit(double column, double chain)
{
	return fmin(column, CHAINS_A_UNIT * chain);
}

double tb_need_neck(unsigned bars, bool held)
{
	double more = bars > 1 ? (bars - 1) * TB_BAR_STEP * CROSSING_STEP : 0;
	return (held ? TB_FIRST_BAR : TB_FIRST_BAR_FREE) + more + 0.10;
}

double tb_need_crossing(unsigned bars, bool held, unsigned shift)
{
	return tb_need_neck(bars, held) + A_COLUMN * shift + (held ? BELOW_THROATS : BELOW_FEET);
}

double tb_need_held(bool cross, bool leaf, unsigned bars)
{
	if (cross)
		return 0.90;
	if (leaf)
		return 1.45;
	return fmax(0.80, bars > 0 ? TB_FIRST_BAR + (bars - 1) * TB_BAR_STEP + 0.24 : 0);
}

double tb_need_leaf(void)
{
	return 1.0;
}

double tb_need_raised_cross(void)
{
	return 0.82;
}

double tb_need_crosses_together(void)
{
	return 0.5;
}
