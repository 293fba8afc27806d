/* Gauge to millimetres; the rules stand in the header. */
#include "fabric/measure.h"

double tb_measure_column_mm(const tb_gauge *gauge)
{
	if (!gauge->given || !(gauge->stitches > 0) || !(gauge->over_mm > 0))
		return 0;
	return gauge->over_mm / gauge->stitches;
}

double tb_measure_chain_mm(const tb_gauge *gauge, const double *heights, unsigned count)
{
	if (!gauge->given || !gauge->has_rows || !(gauge->rows > 0) || !(gauge->over_mm > 0))
		return 0;
	double sum = 0;
	for (unsigned i = 0; i < count; i++)
		sum += heights[i];
	return sum > 0 ? gauge->over_mm / gauge->rows / (sum / count) : 0;
}
