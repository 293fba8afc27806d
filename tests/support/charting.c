#include "charting.h"

static double fixed_width(void *data, const char *text, double size_mm, tb_face face)
{
	return (double)g_utf8_strlen(text, -1) * size_mm * (face != TB_FACE_PLAIN ? 0.65 : 0.58);
}

tb_chart *tb_case_chart(tb_case *c, const tb_chart_options *options)
{
	const tb_text_measure measure = {fixed_width, NULL};
	return tb_chart_create(c->worked, options, &measure, c->diagnostics);
}

char *tb_test_rule(const tb_chart *chart)
{
	g_autoptr(GPtrArray) reading = tb_chart_reading(chart);
	g_ptr_array_add(reading, NULL);
	return g_strjoinv(" ", (char **)reading->pdata);
}

const tb_placed *tb_test_placed(const tb_chart *chart, guint32 row, guint32 index)
{
	for (guint i = 0; i < chart->placed->len; i++) {
		const tb_placed *placed = &g_array_index(chart->placed, tb_placed, i);
		const tb_made *made = &chart->fabric->made[placed->made];
		if (placed->index == index && chart->fabric->rows[made->row].number == row)
			return placed;
	}
	return NULL;
}

const tb_stitch *tb_test_stitch(const tb_chart *chart, const tb_placed *placed)
{
	return tb_library_get(tb_worked_pattern(chart->worked)->library,
		chart->fabric->made[placed->made].stitch);
}
