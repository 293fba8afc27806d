/*
 * Colours: of a piece worked in several that are known, the main one is left as paper, and the others are told by how their
 * cells are shaded, for an ink that is as the yarn may not be seen by everybody, nor printed.
 */
#include "layout/chart.h"

typedef struct {
	const char *name; /* borrowed from the fabric */
	guint32 stitches;
} counted;

static int compare_counted(gconstpointer a, gconstpointer b)
{
	const counted *x = a, *y = b;
	return x->stitches < y->stitches ? 1 : x->stitches > y->stitches ? -1 : g_strcmp0(x->name, y->name);
}

static void count(GArray *counts, const char *name)
{
	for (guint i = 0; i < counts->len; i++) {
		counted *c = &g_array_index(counts, counted, i);
		if (tb_colour_is_same(c->name, name)) {
			c->stitches++;
			return;
		}
	}
	counted one = {name, 1};
	g_array_append_val(counts, one);
}

void tb_chart_find_colours(tb_chart *chart)
{
	g_autoptr(GArray) counts = g_array_new(FALSE, FALSE, sizeof(counted));
	if (!tb_fabric_has_colours(chart->fabric))
		return;
	for (guint i = 0; i < chart->placed->len; i++) {
		guint32 made = g_array_index(chart->placed, tb_placed, i).made;
		const char *name = tb_fabric_colour(chart->fabric, made);
		/* What is not shaded would be taken for the main colour. */
		if (name == NULL && chart->fabric->made[made].flags & TB_MADE_COUNTED && chart->fabric->made[made].row > 0)
			return;
		if (name != NULL && chart->fabric->made[made].row > 0)
			count(counts, name);
	}
	g_array_sort(counts, compare_counted);
	if (counts->len < 2 || counts->len > TB_SHADES)
		return;
	for (guint i = 0; i < counts->len; i++)
		g_ptr_array_add(chart->colours, (gpointer)g_array_index(counts, counted, i).name);
}

unsigned tb_chart_shade(const tb_chart *chart, const tb_placed *placed)
{
	const char *name = chart->colours->len > 0 ? tb_fabric_colour(chart->fabric, placed->made) : NULL;
	for (guint i = 0; name != NULL && i < chart->colours->len; i++)
		if (tb_colour_is_same(chart->colours->pdata[i], name))
			return i;
	return 0;
}
