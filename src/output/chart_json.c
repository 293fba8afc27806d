/* The placed stitches of a chart as JSON; the shape is pinned, since other people's scripts read it. */
#include "layout/chart.h"

#include <math.h>

static void append_string(GString *out, const char *text)
{
	g_string_append_c(out, '"');
	for (const char *c = text; *c != '\0'; c++) {
		if (*c == '"' || *c == '\\')
			g_string_append_printf(out, "\\%c", *c);
		else if ((guchar)*c < 0x20)
			g_string_append_printf(out, "\\u%04x", *c);
		else
			g_string_append_c(out, *c);
	}
	g_string_append_c(out, '"');
}

/* Millimetres to three places, no trailing noughts. */
static void append_mm(GString *out, double mm)
{
	char buffer[G_ASCII_DTOSTR_BUF_SIZE];
	double rounded = round(mm * 1000) / 1000;
	g_string_append(out, g_ascii_formatd(buffer, sizeof buffer, "%.10g", rounded == 0 ? 0 : rounded));
}

static void append_spot(GString *out, const tb_spot *spot)
{
	g_string_append_c(out, '[');
	append_mm(out, spot->x);
	g_string_append(out, ", ");
	append_mm(out, spot->y);
	g_string_append_c(out, ']');
}

static void append_repeat(GString *out, const tb_chart *chart)
{
	const tb_motif *motif = &chart->motif;
	if (!motif->found) {
		g_string_append(out, "null");
		return;
	}
	g_string_append_printf(out, "{\"%s\": [%u, %u], \"width\": %u, \"times\": [",
		motif->by_places ? "places" : "columns", motif->near_edge + 1, motif->near_edge + motif->width, motif->width);
	bool any = false;
	for (unsigned size = 0; size < TB_MAX_SIZES; size++) {
		if (!(chart->sizes >> size & 1))
			continue;
		g_string_append_printf(out, "%s%u", any ? ", " : "", motif->times[size]);
		any = true;
	}
	g_string_append(out, "]}");
}

static const tb_placed **index_placed(const tb_chart *chart)
{
	const tb_placed **by_made = g_new0(const tb_placed *, chart->fabric->made_count + 1);
	for (guint i = 0; i < chart->placed->len; i++) {
		const tb_placed *placed = &g_array_index(chart->placed, tb_placed, i);
		by_made[placed->made] = placed;
	}
	return by_made;
}

/* How many chains a turning chain has, or the run of chains that MADE is one of; 0 for other stitches. */
static guint32 count_chains(const tb_fabric *fabric, guint32 m)
{
	const tb_made *made = &fabric->made[m];
	if (made->flags & TB_MADE_TURNING)
		return made->chains;
	const tb_made_row *row = &fabric->rows[made->row];
	guint32 first = m, end = m;
	if (made->row == 0 || !(made->flags & TB_MADE_CHAIN))
		return 0;
	while (first > row->first && fabric->made[first - 1].flags & TB_MADE_CHAIN)
		first--;
	while (end < row->first + row->count && fabric->made[end].flags & TB_MADE_CHAIN)
		end++;
	return end - first;
}

/* Its place in the chart's own order, from 1. */
static guint32 id_of(const tb_chart *chart, const tb_placed *placed)
{
	return (guint32)(placed - &g_array_index(chart->placed, tb_placed, 0)) + 1;
}

static void append_bases(GString *out, const tb_chart *chart, const tb_made *made, const char *key, bool ids,
	const tb_placed *const *by_made)
{
	g_string_append_printf(out, ", \"%s\": [", key);
	bool any = false;
	for (unsigned i = 0; i < made->base_count; i++) {
		const tb_placed *under = by_made[tb_fabric_base(chart->fabric, made, i)];
		if (under == NULL)
			continue;
		g_string_append_printf(out, "%s%u", any ? ", " : "", ids ? id_of(chart, under) : under->index);
		any = true;
	}
	g_string_append_c(out, ']');
}

static void append_stitch(GString *out, const tb_chart *chart, const tb_placed *placed, bool below,
	const tb_placed *const *by_made)
{
	const tb_fabric *fabric = chart->fabric;
	const tb_made *made = &fabric->made[placed->made];
	const tb_stitch *stitch =
		tb_library_get(tb_worked_pattern(chart->worked)->library, made->stitch);
	g_string_append_printf(out, "{\"id\": %u, \"stitch\": ", id_of(chart, placed));
	append_string(out, stitch->us);
	guint32 chains = count_chains(fabric, placed->made);
	if (chains > 0)
		g_string_append_printf(out, ", \"chains\": %u", chains);
	g_string_append_printf(out, ", \"row\": %u, \"index\": %u, \"top\": ",
		fabric->rows[made->row].number, placed->index);
	append_spot(out, &placed->top);
	if (chart->motif.found && chart->motif.by_places && placed->column > 0)
		g_string_append_printf(out, ", \"place\": %u", placed->column);
	const char *colour = tb_fabric_colour(fabric, placed->made);
	if (colour != NULL) {
		g_string_append(out, ", \"colour\": ");
		append_string(out, colour);
	}
	g_string_append(out, ", \"bases\": [");
	for (unsigned i = 0; i < placed->foot_count; i++) {
		g_string_append(out, i > 0 ? ", " : "");
		append_spot(out, &g_array_index(chart->feet, tb_spot, placed->first_foot + i));
	}
	g_string_append_c(out, ']');
	if (made->base_count > 0) {
		guint32 base = tb_fabric_base(fabric, made, 0);
		g_string_append_printf(out, ", \"base_row\": %u", fabric->rows[fabric->made[base].row].number);
		append_bases(out, chart, made, "base_indices", false, by_made);
		append_bases(out, chart, made, "base_ids", true, by_made);
	}
	if (made->flags & TB_MADE_IN_SPACE)
		g_string_append(out, ", \"space\": true");
	if (fabric->rows[made->row].is_round)
		g_string_append(out, ", \"round\": true");
	if (below)
		g_string_append(out, ", \"below\": true");
	g_string_append_c(out, '}');
}

char *tb_chart_to_json(const tb_chart *chart)
{
	GString *out = g_string_new("{\"piece\": ");
	append_string(out, tb_pattern_get_piece(tb_worked_pattern(chart->worked), chart->piece));
	g_string_append(out, ", \"unit\": \"mm\", \"width\": ");
	append_mm(out, chart->width);
	g_string_append(out, ", \"height\": ");
	append_mm(out, chart->height);
	g_string_append(out, ",\n \"cell\": {\"width\": ");
	append_mm(out, chart->column);
	g_string_append(out, ", \"height_per_chain\": ");
	append_mm(out, chart->chain);
	g_string_append(out, "},\n \"repeat\": ");
	append_repeat(out, chart);
	g_string_append(out, ",\n \"stitches\": [\n");
	g_autofree const tb_placed **by_made = index_placed(chart);
	for (guint r = 0; r < chart->rows->len; r++) {
		const tb_chart_row *row = &g_array_index(chart->rows, tb_chart_row, r);
		for (guint32 i = row->first; i < row->first + row->count; i++) {
			g_string_append(out, i > 0 ? ",\n  " : "  ");
			append_stitch(out, chart, &g_array_index(chart->placed, tb_placed, i), row->below, by_made);
		}
	}
	g_string_append(out, "\n]}\n");
	return g_string_free(out, FALSE);
}
