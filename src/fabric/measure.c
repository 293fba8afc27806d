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

/* The rows of a piece, and whose gauge measures them. */
typedef struct {
	const tb_pattern *pattern;
	const tb_stitches *cloth;
	const tb_made_row *rows;
	guint32 count;
	tb_counted_over over;
	const tb_stitch **stitches; /* by gauge: what it was counted in; NULL: nothing says */
	guint8 *by; /* by row: the gauge that holds for it */
} measuring;

static const tb_kind_gauge *kind_at(const measuring *m, guint i)
{
	return &g_array_index(m->pattern->gauges, tb_kind_gauge, i);
}

/* Whether ROW is of STITCH alone, its turning chain aside, and what is drawn together of it. */
static bool is_all(const measuring *m, const tb_made_row *row, const tb_stitch *stitch)
{
	bool any = false;
	for (guint32 i = row->first; i < row->first + row->count; i++) {
		const tb_made *made = &m->cloth->made[i];
		const tb_stitch *is = tb_library_get(m->cloth->library, made->stitch);
		if ((made->flags & (TB_MADE_TURNING | TB_MADE_CHAIN)) != 0 || (made->flags & TB_MADE_COUNTED) == 0)
			continue;
		if (is != stitch && !tb_rule_is_together(is, stitch))
			return false;
		any = true;
	}
	return any && !row->taken;
}

/* Of several gauges the one for ROW: that of its number, of its stitch, of the pattern, the first. */
static guint8 gauge_of(const measuring *m, const tb_made_row *row)
{
	guint plain = 0;
	bool found = false;
	for (guint i = 0; i < m->pattern->gauges->len; i++) {
		const tb_kind_gauge *kind = kind_at(m, i);
		if (kind->first_row > 0 && row->written >= kind->first_row && row->written <= kind->last_row)
			return (guint8)i;
	}
	for (guint i = 0; m->pattern->gauges->len > 1 && i < m->pattern->gauges->len; i++) {
		if (m->stitches[i] != NULL && is_all(m, row, m->stitches[i]))
			return (guint8)i;
	}
	for (guint i = 0; i < m->pattern->gauges->len && !found; i++) {
		found = m->stitches[i] == NULL && kind_at(m, i)->first_row == 0;
		plain = found ? i : plain;
	}
	return (guint8)plain;
}

/* The height of a chain by gauge I. */
static double chain_of(const measuring *m, guint i)
{
	const tb_kind_gauge *kind = kind_at(m, i);
	if (m->stitches[i] != NULL)
		return tb_measure_chain_mm(&kind->gauge, &m->stitches[i]->height, 1);
	g_autofree double *heights = g_new0(double, m->count + 1u);
	unsigned used = 0;
	/* the pattern's own repeat; all rows, where that has none of its rows */
	for (unsigned all = 0; all < 2 && used == 0; all++) {
		for (guint32 r = 1; r < m->count; r++) {
			if (m->by[r] == i && (all == 1 || (r >= m->over.first && r <= m->over.last)))
				heights[used++] = m->rows[r].height;
		}
	}
	return tb_measure_chain_mm(&kind->gauge, heights, used);
}

double tb_measure_rows(const tb_pattern *pattern, const tb_stitches *cloth, tb_made_row *rows, guint32 count,
	tb_counted_over over)
{
	guint kinds = pattern->gauges->len;
	if (kinds == 0)
		return 0;
	g_autofree const tb_stitch **stitches = g_new0(const tb_stitch *, kinds);
	g_autofree double *chains = g_new0(double, kinds);
	g_autofree guint8 *by = g_new0(guint8, count + 1u);
	measuring m = {pattern, cloth, rows, count, over, stitches, by};
	for (guint i = 0; i < kinds; i++) {
		const tb_kind_gauge *kind = kind_at(&m, i);
		stitches[i] = kind->stitch != NULL ? tb_library_find_term(pattern->library, kind->stitch, pattern->uk_terms) : NULL;
		if (stitches[i] != NULL && !(stitches[i]->height > 0))
			stitches[i] = NULL;
	}
	for (guint32 r = 1; r < count; r++)
		by[r] = gauge_of(&m, &rows[r]);
	for (guint i = 0; i < kinds; i++)
		chains[i] = chain_of(&m, i);
	for (guint32 r = 1; r < count; r++) {
		rows[r].width_mm = rows[r].stitches * tb_measure_column_mm(&kind_at(&m, by[r])->gauge);
		rows[r].height_mm = rows[r].height * chains[by[r]];
		/* along the ends of rows: these lie on their side */
		rows[r].top_mm = (tb_rule_is_along(cloth, r) ? rows[r - 1].width_mm : rows[rows[r].stands].top_mm) + rows[r].height_mm;
	}
	return chains[0] > 0 ? chains[0] : 0;
}
