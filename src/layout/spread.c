#include "layout/spread.h"

typedef struct {
	double sum; /* of wanted positions, each less the spacing before it */
	guint32 count;
} pool;

void tb_spread(double *wanted, const double *spacing, guint32 count)
{
	if (count == 0)
		return;
	g_autofree pool *pools = g_new(pool, count);
	guint32 last = 0;
	double before = 0;
	for (guint32 i = 0; i < count; i++) {
		pools[last++] = (pool){wanted[i] - before, 1};
		/* A small slack keeps exact grids exact: equal means are not a violation. */
		while (last > 1 && pools[last - 2].sum * pools[last - 1].count >
				pools[last - 1].sum * pools[last - 2].count + 1e-9) {
			pools[last - 2].sum += pools[last - 1].sum;
			pools[last - 2].count += pools[last - 1].count;
			last--;
		}
		if (i + 1 < count)
			before += spacing[i];
	}
	guint32 i = 0;
	before = 0;
	for (guint32 p = 0; p < last; p++) {
		double mean = pools[p].sum / pools[p].count;
		for (guint32 k = 0; k < pools[p].count; k++, i++) {
			if (pools[p].count > 1)
				wanted[i] = mean + before;
			if (i + 1 < count)
				before += spacing[i];
		}
	}
}
