/* Marks: where a magic ring lies, where yarn is joined, where it is cut. */
#include "layout/clear.h"
#include "layout/setting.h"

#include "fabric/surface.h"

#include <math.h>

/* How the mark of an end looks for room further out and aside: in columns, in radians. */
#define STEP 0.2
#define STEPS 8
#define TURN (G_PI / 8)
#define TURNS 9

static void add_mark(tb_setting *s, const char *name, tb_spot at, guint32 row)
{
	const tb_library *library = tb_worked_pattern(s->chart->worked)->library;
	tb_chart_mark mark = {tb_library_find_mark(library, name), at, 0,
		s->fabric->rows[row].number % 2 == 0 && row > 0 ? TB_INK_ROW_B : TB_INK_ROW_A};
	if (mark.mark != NULL)
		g_array_append_val(s->chart->marks, mark);
}

static bool says(const tb_made_row *row, tb_act_kind kind)
{
	for (unsigned i = 0; row->sentence != NULL && i < row->sentence->acts.count; i++)
		if (row->sentence->acts.acts[i].kind == kind)
			return true;
	return false;
}

/* The last stitch of the piece, when it is on the chart. */
static const tb_placed *last_placed(const tb_setting *s)
{
	const tb_chart *chart = s->chart;
	if (s->last + 1 != s->fabric->row_count || chart->rows->len == 0)
		return NULL;
	const tb_chart_row *row = &g_array_index(chart->rows, tb_chart_row, chart->rows->len - 1);
	return row->count > 0 ?
		&g_array_index(chart->placed, tb_placed, row->first + row->count - 1) : NULL;
}

/* From the stitch at FROM out along WAY, as far as AWAY or further: the nearest place with room for a mark. */
static tb_spot find_room(const tb_setting *s, tb_spot from, double way, double away)
{
	double radius = TB_CLEAR_MARK * s->chart->column;
	tb_clear *clear = tb_clear_new_without(s->chart, s->first_placed, NULL);
	tb_spot first = {from.x + away * cos(way), from.y + away * sin(way)}, found = first;
	bool free = false;
	for (unsigned step = 0; step < STEPS && !free; step++) {
		for (unsigned turn = 0; turn < TURNS && !free; turn++) {
			double angle = way + (turn + 1) / 2 * TURN * (turn % 2 == 0 ? 1 : -1), far = away + step * STEP * s->chart->column;
			tb_spot at = {from.x + far * cos(angle), from.y + far * sin(angle)};
			free = tb_clear_of_line(clear, at, at, radius, radius) > 0;
			found = free ? at : first;
		}
	}
	tb_clear_free(clear);
	return found;
}

static void mark_end(tb_setting *s)
{
	const tb_placed *last = last_placed(s);
	const tb_made_row *row = &s->fabric->rows[s->last];
	if (last == NULL || !says(row, TB_ACT_FASTEN_OFF))
		return;
	double column = s->chart->column;
	double x, y;
	if (!tb_setting_is_around(s)) {
		bool to_left = row->leftward != s->chart->options.left_handed;
		x = (to_left ? -0.72 : 0.72) * column;
		y = fmin(0.3 * column, fmax(last->height, 0) * 0.5);
	} else {
		x = 0.6 * column * sin(last->angle);
		y = -0.6 * column * cos(last->angle);
	}
	add_mark(s, "fasten off", find_room(s, last->top, atan2(y, x), hypot(x, y)), s->last);
}

/* Yarn is joined where a piece grows from another. */
static void mark_beginning(tb_setting *s)
{
	const tb_made_row *row = &s->fabric->rows[1];
	if (s->lowest > 0 || tb_setting_is_around(s) || !says(row, TB_ACT_JOIN_YARN))
		return;
	for (guint i = 0; i < s->chart->placed->len; i++) {
		const tb_placed *placed = &g_array_index(s->chart->placed, tb_placed, i);
		if (placed->made < row->first)
			continue;
		bool to_left = row->leftward != s->chart->options.left_handed;
		tb_spot at = {placed->top.x + (to_left ? 0.8 : -0.8) * s->chart->column,
			placed->top.y + placed->height};
		add_mark(s, "join yarn", at, 1);
		return;
	}
}

/* The middle of a stitch's stem, or its top, when it is on the chart. */
static bool find_stem(const tb_setting *s, const guint32 *by_made, guint32 made, bool top, tb_spot *at, double *up)
{
	if (by_made[made] == 0)
		return false;
	const tb_placed *placed = &g_array_index(s->chart->placed, tb_placed, by_made[made] - 1);
	double down = top ? 0 : placed->height / 2;
	*at = (tb_spot){placed->top.x - down * sin(placed->angle), placed->top.y + down * cos(placed->angle)};
	*up = placed->angle;
	return true;
}

/* A surface slip stitch where it lies; where its stitch is not drawn, neither is it. */
static void mark_spot(tb_setting *s, const guint32 *by_made, const tb_surface_spot *spot)
{
	tb_spot lies, beside;
	double up, other;
	if (!find_stem(s, by_made, spot->made, spot->above, &lies, &up))
		return;
	if (spot->beside != TB_NONE) {
		if (!find_stem(s, by_made, spot->beside, spot->above, &beside, &other))
			return;
		lies = (tb_spot){(lies.x + beside.x) / 2, (lies.y + beside.y) / 2};
		up += G_PI / 2;
	}
	const tb_library *library = tb_worked_pattern(s->chart->worked)->library;
	tb_chart_mark mark = {tb_library_find_mark(library, "surface slip stitch"), lies, up, TB_INK_FURNITURE};
	g_array_append_val(s->chart->marks, mark);
}

static void mark_surface(tb_setting *s)
{
	const tb_script *script = tb_worked_script(s->chart->worked, s->chart->piece);
	g_autoptr(GArray) spots = g_array_new(FALSE, FALSE, sizeof(tb_surface_spot));
	for (unsigned i = 0; i < script->count; i++) {
		const tb_sentence *sentence = script->sentences[i];
		tb_surface_miss miss;
		for (unsigned k = 0; (sentence->sizes >> s->chart->size & 1) && k < sentence->surface.count; k++)
			tb_surface_find(s->fabric, &sentence->surface.acts[k], s->chart->size, spots, &miss);
	}
	g_autofree guint32 *by_made = g_new0(guint32, spots->len > 0 ? s->fabric->made_count + 1 : 1);
	for (guint i = 0; i < s->chart->placed->len && spots->len > 0; i++)
		by_made[g_array_index(s->chart->placed, tb_placed, i).made] = i + 1;
	for (guint i = 0; i < spots->len; i++) {
		const tb_surface_spot *spot = &g_array_index(spots, tb_surface_spot, i);
		guint32 row = s->fabric->made[spot->made].row;
		if (row >= s->first && row <= s->last)
			mark_spot(s, by_made, spot);
	}
}

void tb_setting_add_marks(tb_setting *s)
{
	mark_surface(s);
	if (tb_setting_is_around(s) && s->lowest == 0 && s->fabric->rows[0].count == 0)
		add_mark(s, "magic ring", (tb_spot){0, 0}, 0);
	mark_beginning(s);
	mark_end(s);
}
