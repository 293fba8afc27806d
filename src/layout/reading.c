/* How a chart is read, in as few sentences as say it: worked out from its rows, not told of all charts alike. */
#include "layout/chart.h"

static void G_GNUC_PRINTF(2, 3) say(GPtrArray *said, const char *format, ...)
{
	va_list values;
	va_start(values, format);
	g_ptr_array_add(said, g_strdup_vprintf(format, values));
	va_end(values);
}

static bool is_around(const tb_chart *chart, guint32 number)
{
	const tb_chart_row *row = tb_chart_find_row(chart, number);
	return row != NULL && !tb_chart_is_set_flat(chart, row);
}

/* Rounds about a middle have no side for a bracket: those that are repeated are named. */
static void append_repeated(GPtrArray *said, const tb_chart *chart)
{
	for (guint32 i = 0; i < chart->fabric->repeat_count; i++) {
		const tb_row_repeat *again = &chart->fabric->repeats[i];
		if (tb_chart_is_repeat_told(chart, i) || !is_around(chart, again->first) || !is_around(chart, again->last))
			continue;
		if (again->first == again->last)
			say(said, "Round %u is repeated as the words say.", again->first);
		else
			say(said, "Rounds %u–%u are repeated as the words say.", again->first, again->last);
	}
}

/* How rounds lie and are read. */
static void append_parts(GPtrArray *said, const tb_chart *chart)
{
	const char *out = chart->options.left_handed ? "clockwise" : "anticlockwise";
	const char *in = chart->options.left_handed ? "anticlockwise" : "clockwise";
	for (guint i = 0; i < chart->parts->len; i++) {
		const tb_chart_part *part = tb_chart_part_at(chart, i);
		guint32 first = chart->fabric->rows[part->first].number;
		bool whole = chart->parts->len == 1;
		if (part->lay == TB_LAY_DISC && whole)
			say(said, "Rounds are read %s from their numbers, from the middle out.", out);
		else if (part->lay == TB_LAY_DISC && i == 0)
			say(said, "First rounds are read %s from their numbers, from the middle out.", out);
		else if (part->lay == TB_LAY_DISC)
			say(said, "From round %u it lies around a middle: rounds are read %s, from the inside out.", first, out);
		else if (part->lay == TB_LAY_CLOSE)
			say(said, "From round %u the piece closes, seen from outside: rounds are read %s, from the "
				"outside in.", first, in);
		else if (part->lay == TB_LAY_TUBE && i == 0)
			say(said, "This is a tube, charted flat, cut open where its rounds begin.");
		else if (part->lay == TB_LAY_TUBE && tb_chart_part_at(chart, i - 1)->lay != TB_LAY_TUBE)
			say(said, "From round %u it is a tube, charted flat, cut open where its rounds begin.", first);
		if (part->joins && part->first > 1)
			say(said, "What %s %u stands on, and what it leaves aside, its words say.",
				chart->fabric->rows[part->first].is_round ? "round" : "row", first);
	}
	append_repeated(said, chart);
}

/* Which rows are numbered at which edge, and are on which side of the work, as far as all of them agree. */
typedef struct {
	bool any[2];              /* odd, even */
	bool from_right[2], same; /* all odd ones, all even ones, from one edge */
	tb_side side[2];          /* that all have, else unknown */
	bool rounds;
} reading;

static reading find_reading(const tb_chart *chart)
{
	reading r = {.same = true, .rounds = !tb_chart_is(chart, TB_LAY_ROWS)};
	for (guint i = 0; i < chart->rows->len; i++) {
		const tb_chart_row *row = &g_array_index(chart->rows, tb_chart_row, i);
		const tb_made_row *worked = &chart->fabric->rows[row->row];
		if (row->row == 0 || worked->number == 0 || !tb_chart_is_set_flat(chart, row))
			continue;
		int odd = worked->number % 2 == 1 ? 0 : 1;
		bool from_right = worked->leftward != chart->options.left_handed;
		if (!r.any[odd]) {
			r.from_right[odd] = from_right;
			r.side[odd] = worked->side;
		}
		r.any[odd] = true;
		r.same = r.same && r.from_right[odd] == from_right;
		if (r.side[odd] != worked->side)
			r.side[odd] = TB_SIDE_UNSAID;
	}
	return r;
}

static const char *side_words(tb_side side)
{
	return side == TB_SIDE_RIGHT ? " (right side)" : side == TB_SIDE_WRONG ? " (wrong side)" : "";
}

/* From which edge rows are read: their number stands there. */
static void append_direction(GPtrArray *said, const tb_chart *chart)
{
	static const char *const edges[] = {"left", "right"};
	reading r = find_reading(chart);
	const char *one = r.rounds ? "round" : "row", *ones = r.rounds ? "rounds" : "rows", *Ones = r.rounds ? "Rounds" : "Rows";
	if (!r.any[0] && !r.any[1])
		return;
	if (!r.same)
		say(said, "Each %s is read from its number, the way the arrow points.", one);
	else if (r.any[0] && r.any[1] && r.from_right[0] == r.from_right[1])
		say(said, "%s are read from the %s, where their numbers stand.", Ones, edges[r.from_right[0]]);
	else if (r.any[0] && r.any[1])
		say(said, "Odd %s%s from the %s, even %s%s from the %s.", ones, side_words(r.side[0]), edges[r.from_right[0]], ones,
			side_words(r.side[1]), edges[r.from_right[1]]);
	else
		say(said, "%s%s are read from the %s, where their numbers stand.", Ones, side_words(r.side[r.any[1]]),
			edges[r.from_right[r.any[1]]]);
}

/* What the shades mean; where no swatches stand beside the chart, each by how it looks. */
static void append_colours(GPtrArray *said, const tb_chart *chart)
{
	static const char *const looks[TB_SHADES] = {"plain", "toned", "lined", "toned and lined", "crossed", "toned and crossed"};
	const char *const *names = (const char *const *)chart->colours->pdata;
	if (chart->colours->len == 0) {
		if (tb_fabric_has_colours(chart->fabric))
			say(said, "Which stitches are worked in which colour, the words say.");
		return;
	}
	if (!chart->options.bare) {
		say(said, "Cells are shaded where another colour than %s is worked.", names[0]);
		return;
	}
	g_autoptr(GString) all = g_string_new("On the chart ");
	for (guint i = 0; i < chart->colours->len; i++)
		g_string_append_printf(all, "%s%s is worked on %s cells", i == 0 ? "" : ", ", names[i], looks[i]);
	say(said, "%s.", all->str);
}

/* What only some stitches have: posts they go around, one loop that they go into. */
static void append_ways(GPtrArray *said, const tb_chart *chart)
{
	bool post = false, arc = false, flat = false;
	for (guint i = 0; i < chart->placed->len; i++) {
		const tb_made *made = &chart->fabric->made[g_array_index(chart->placed, tb_placed, i).made];
		post = post || tb_chart_shown(chart, made)->post != TB_POST_NONE;
		arc = arc || made->flags & (TB_MADE_FRONT_LOOP | TB_MADE_BACK_LOOP);
		flat = flat || made->flags & TB_MADE_THIRD_LOOP;
	}
	if (post)
		say(said, "A post stitch goes around the stem of a stitch below, under its head: a front post in front of the stem, whose "
			"head is then not seen, a back post behind it.");
	if (arc)
		say(said, "An arc under the foot means one loop only: it opens upward for the front loop, downward for the back loop.");
	if (flat)
		say(said, "A flat stroke under the foot means the third loop, behind the head.");
	if ((post || arc) && chart->as_seen)
		say(said, "Symbols show the fabric from its right side: on wrong side rows work front as back and back as front.");
	else if (post || arc)
		say(said, "Every symbol shows the stitch as it is worked, on either side.");
}

GPtrArray *tb_chart_reading(const tb_chart *chart)
{
	GPtrArray *said = g_ptr_array_new_with_free_func(g_free);
	bool below = false;
	for (guint i = 0; i < chart->rows->len; i++)
		below = below || g_array_index(chart->rows, tb_chart_row, i).below;
	append_parts(said, chart);
	append_direction(said, chart);
	if (chart->folded && chart->motif.plain)
		say(said, "At the broken line, stitches like those beside it are not drawn: the bracket says how many there are in all.");
	else if (chart->folded)
		say(said, "Work the %sbox as often as the bracket says.", chart->colours->len > 0 ? "" : "tinted ");
	if (chart->folded && !chart->motif.plain && chart->beside > 0)
		say(said, "The repeat drawn beside the box is the last of them.");
	append_colours(said, chart);
	if (below)
		say(said, "Pale rows are worked already.");
	append_ways(said, chart);
	return said;
}
