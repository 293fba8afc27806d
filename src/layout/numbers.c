/*
 * The numbers of rows, with an arrow the way each is worked, and of rounds. On a grid they stand in two columns beside
 * it. Of cloth at rest each stands where its row begins: out of the edge, square to the stitch there, or in the seam of
 * its round; and where something lies in the way, as near as there is room.
 */
#include "layout/clear.h"

#include <math.h>

/* Type size and distances in mm, for columns up to 8 mm; larger charts have larger type. */
#define NUMBER_SIZE 3.4
#define ARROW 3.6
#define ARROW_HALF 0.24 /* of its length: half the width of its head */
#define GAP 1.8
/* Words keep so far off what is drawn, in columns. */
#define ROOM 0.045
/* A figure is so high, and its middle so far above its foot, by its size. */
#define FIGURE_RISE 0.74
#define FIGURE_MIDDLE 0.36
/* An edge so nearly upright is upright, as the sine of what it leans. */
#define UPRIGHT 0.26
/* A number that finds no room goes further out, in columns, and swerves, in radians. */
#define STEP 0.25
#define STEPS 20
#define SWERVE (G_PI / 12)
#define SWERVES 6
/* In a seam, sizes in columns; rather than of less than the fair size it stands beside the seam. */
#define MOST_SIZE 0.5
#define FAIR_SIZE 0.42
#define LEAST_SIZE 0.26
#define SIZE_STEP 0.04
#define SEAM_STEPS 12
/* … from their feet to their tops; beyond, it would seem that of another round. */
#define LEAST_UP 0.1
#define MOST_UP 0.8
/* Around a seam that is full, in columns. */
#define NEARBY 1.5
#define NEARBY_RINGS 15
#define NEARBY_STEPS 24

typedef struct {
	tb_chart *chart;
	const tb_text_measure *measure;
	double scale;
	tb_ink_edges *ink;
	tb_clear *clear;
} numbering;

/* How wide a text is by its size. */
static double text_width(const numbering *n, const char *text)
{
	double size = NUMBER_SIZE * n->scale;
	return n->measure->measure(n->measure->data, text, size, TB_FACE_FIGURE) / size;
}

static void reach(tb_ink_edges *ink, tb_box box)
{
	ink->left = fmin(ink->left, box.left);
	ink->right = fmax(ink->right, box.right);
	ink->top = fmin(ink->top, box.top);
	ink->bottom = fmax(ink->bottom, box.bottom);
}

/* The box of a text so WIDE by its size, its middle at AT. */
static tb_box box_of(double wide, double size, tb_spot at)
{
	double half = wide * size / 2;
	return (tb_box){at.x - half, at.y + (FIGURE_MIDDLE - FIGURE_RISE) * size, at.x + half, at.y + FIGURE_MIDDLE * size};
}

static tb_spot along(tb_spot from, tb_spot way, double length)
{
	return (tb_spot){from.x + way.x * length, from.y + way.y * length};
}

/* ---- rows ---- */

/* The number, and the colours where the piece has several: those outside. */
static char *row_text(const tb_chart *chart, const tb_made_row *row, bool at_right)
{
	g_autofree char *colours = tb_fabric_has_colours(chart->fabric) ? tb_fabric_row_colours(chart->fabric, row) : g_strdup("");
	if (*colours == '\0')
		return g_strdup_printf("%u", row->number);
	return at_right ? g_strdup_printf("%u %s", row->number, colours) : g_strdup_printf("%s %u", colours, row->number);
}

/* Where the arrow of a row and its number stand when they begin at TO and go OUT. */
typedef struct {
	tb_spot from, to, middle; /* of the arrow; of the number */
	tb_box box;
} row_place;

static row_place place_along(const numbering *n, double wide, tb_spot to, tb_spot out)
{
	double size = NUMBER_SIZE * n->scale, half = wide * size / 2;
	row_place place = {.to = to, .from = along(to, out, ARROW * n->scale)};
	/* The box of the number touches the end of the gap. */
	double across = fabs(out.x) > 1e-9 ? half / fabs(out.x) : INFINITY, down = fabs(out.y) > 1e-9 ? FIGURE_RISE * size / 2 / fabs(out.y) : INFINITY;
	place.middle = along(place.from, out, GAP * n->scale + fmin(across, down));
	place.box = box_of(wide, size, place.middle);
	return place;
}

static bool has_room(const numbering *n, const row_place *place)
{
	double room = ROOM * n->chart->column;
	return tb_clear_of_line(n->clear, place->from, place->to, ARROW_HALF * ARROW * n->scale, 2 * room) >= room &&
		tb_clear_of_box(n->clear, place->box, 0, 2 * room) >= room;
}

static row_place find_row_place(const numbering *n, const tb_chart_row *row, double wide)
{
	tb_spot middle = {(row->first_top.x + row->first_foot.x) / 2, (row->first_top.y + row->first_foot.y) / 2};
	tb_spot out = row->out;
	if (fabs(out.y) < UPRIGHT)
		out = (tb_spot){out.x < 0 ? -1 : 1, 0};
	double room = 0.5 * n->chart->column + 2 * GAP * n->scale;
	row_place plain = place_along(n, wide, along(middle, out, room), out);
	for (unsigned far = 0; far <= STEPS; far++) {
		for (unsigned turn = 0; turn <= 2 * MIN(far, SWERVES); turn++) {
			double angle = (turn + 1) / 2 * SWERVE * (turn % 2 == 0 ? 1 : -1), step = (far - (turn + 1) / 2) * STEP;
			tb_spot way = {out.x * cos(angle) - out.y * sin(angle), out.x * sin(angle) + out.y * cos(angle)};
			row_place place = place_along(n, wide, along(middle, way, room + step * n->chart->column), way);
			if (has_room(n, &place))
				return place;
		}
	}
	return plain;
}

static void add_row_numbers(numbering *n, const tb_chart_part *part)
{
	tb_chart *chart = n->chart;
	double size = NUMBER_SIZE * n->scale;
	bool whole = chart->parts->len == 1;
	double left = (whole ? n->ink->left : part->left) - 2 * GAP * n->scale;
	double right = (whole ? n->ink->right : part->right) + 2 * GAP * n->scale;
	for (guint i = part->row; i < part->row + part->rows; i++) {
		const tb_chart_row *row = &g_array_index(chart->rows, tb_chart_row, i);
		const tb_made_row *worked = &chart->fabric->rows[row->row];
		if (worked->number == 0 || row->count == 0)
			continue;
		bool at_right = worked->leftward != chart->options.left_handed;
		g_autofree char *text = row_text(chart, worked, at_right);
		row_place place;
		if (part->at_rest)
			place = find_row_place(n, row, text_width(n, text));
		else
			place = place_along(n, text_width(n, text), (tb_spot){at_right ? right : left, (row->top + row->bottom) / 2}, (tb_spot){at_right ? 1 : -1, 0});
		tb_ink ink = tb_chart_row_ink(chart, row);
		tb_arrow arrow = {place.from.x, place.from.y, place.to.x, place.to.y, ink};
		g_array_append_val(chart->arrows, arrow);
		tb_chart_add_label(chart, text, at_right ? place.box.left : place.box.right, place.middle.y + FIGURE_MIDDLE * size,
			size, TB_FACE_FIGURE, at_right ? TB_ALIGN_LEFT : TB_ALIGN_RIGHT, ink)->row = i + 1;
		reach(n->ink, place.box);
		if (part->at_rest) {
			tb_clear_add_line(n->clear, place.from, place.to, ARROW_HALF * ARROW * n->scale);
			tb_clear_add_box(n->clear, place.box);
		}
	}
}

/* ---- rounds ---- */

/* A place in a seam: ACROSS from the first stitch to the last, UP from their feet to their tops. */
static tb_spot in_seam(const tb_chart_row *row, double across, double up)
{
	tb_spot first = {row->first_foot.x + (row->first_top.x - row->first_foot.x) * up, row->first_foot.y + (row->first_top.y - row->first_foot.y) * up};
	tb_spot last = {row->last_foot.x + (row->last_top.x - row->last_foot.x) * up, row->last_foot.y + (row->last_top.y - row->last_foot.y) * up};
	return (tb_spot){first.x + (last.x - first.x) * across, first.y + (last.y - first.y) * across};
}

/* The place with most room in a round's seam for a text at SIZE; near the middle where there is enough. */
static double find_seam_place(const numbering *n, const tb_chart_row *row, double wide, double size, tb_spot *at)
{
	double column = n->chart->column, most = 3 * ROOM * column;
	tb_spot middle = *at = in_seam(row, 0.5, 0.5);
	double clear = tb_clear_of_box(n->clear, box_of(wide, size, middle), 0, most), best = clear;
	for (unsigned i = 1; i < SEAM_STEPS; i++) {
		for (unsigned k = 0; k <= SEAM_STEPS; k++) {
			tb_spot spot = in_seam(row, (double)i / SEAM_STEPS, LEAST_UP + (MOST_UP - LEAST_UP) * k / SEAM_STEPS);
			double x = spot.x - middle.x, y = spot.y - middle.y, off = 0.05 * sqrt(x * x + y * y);
			double room = most - off > best ? tb_clear_of_box(n->clear, box_of(wide, size, spot), best + off, most) : best;
			if (room - off <= best)
				continue;
			best = room - off;
			clear = room;
			*at = spot;
		}
	}
	return clear;
}

/* The nearest place around a seam that has room, if there is one so near. */
static bool find_place_nearby(const numbering *n, const tb_chart_row *row, double wide, double size, tb_spot *at)
{
	double column = n->chart->column;
	tb_spot middle = in_seam(row, 0.5, 0.5), foot = in_seam(row, 0.5, 0), top = in_seam(row, 0.5, 1);
	double height = fmax(hypot(top.x - foot.x, top.y - foot.y), 1e-9);
	tb_spot stem = {(top.x - foot.x) / height, (top.y - foot.y) / height};
	for (unsigned ring = 1; ring <= NEARBY_RINGS; ring++) {
		for (unsigned i = 0; i < NEARBY_STEPS; i++) {
			double angle = 2 * G_PI * i / NEARBY_STEPS, away = NEARBY * column * ring / NEARBY_RINGS;
			tb_spot spot = {middle.x + away * cos(angle), middle.y + away * sin(angle)};
			double up = (spot.x - foot.x) * stem.x + (spot.y - foot.y) * stem.y;
			if (up < LEAST_UP * height || up > MOST_UP * height)
				continue;
			if (tb_clear_of_box(n->clear, box_of(wide, size, spot), 0, 2 * ROOM * column) < ROOM * column)
				continue;
			*at = spot;
			return true;
		}
	}
	return false;
}

/* The size and the place of a round's number: in its seam, or beside it, and small where neither has room. */
static double find_round_place(const numbering *n, const tb_chart_row *row, double wide, tb_spot *at)
{
	double column = n->chart->column, most = fmin(NUMBER_SIZE * n->scale, MOST_SIZE * column);
	double least[] = {fmin(FAIR_SIZE * column, most), LEAST_SIZE * column};
	for (unsigned i = 0; i < G_N_ELEMENTS(least); i++) {
		double size = i == 0 ? most : least[0];
		for (; size > least[i] - 1e-9; size -= SIZE_STEP * column)
			if (find_seam_place(n, row, wide, size, at) >= ROOM * column)
				return size;
		for (size = i == 0 ? most : least[0]; size > least[i] - 1e-9; size -= SIZE_STEP * column)
			if (find_place_nearby(n, row, wide, size, at))
				return size;
	}
	find_seam_place(n, row, wide, least[1], at);
	return least[1];
}

static void add_round_numbers(numbering *n, const tb_chart_part *part)
{
	tb_chart *chart = n->chart;
	for (guint i = part->row; i < part->row + part->rows; i++) {
		const tb_chart_row *row = &g_array_index(chart->rows, tb_chart_row, i);
		guint32 number = chart->fabric->rows[row->row].number;
		if (number == 0 || row->count == 0)
			continue;
		g_autofree char *text = g_strdup_printf("%u", number);
		tb_spot at;
		double wide = text_width(n, text), size = find_round_place(n, row, wide, &at);
		tb_chart_add_label(chart, text, at.x, at.y + FIGURE_MIDDLE * size, size, TB_FACE_FIGURE, TB_ALIGN_CENTRE,
			tb_chart_row_ink(chart, row));
		tb_box box = box_of(wide, size, at);
		reach(n->ink, box);
		tb_clear_add_box(n->clear, box);
	}
}

void tb_chart_add_numbers(tb_chart *chart, const tb_text_measure *measure, double scale, tb_ink_edges *ink)
{
	numbering n = {.chart = chart, .measure = measure, .scale = scale, .ink = ink};
	bool at_rest = false;
	for (guint i = 0; i < chart->parts->len; i++)
		at_rest = at_rest || tb_chart_part_at(chart, i)->at_rest;
	if (at_rest)
		n.clear = tb_clear_new(chart);
	for (guint i = 0; i < chart->parts->len; i++) {
		const tb_chart_part *part = tb_chart_part_at(chart, i);
		if (part->lay == TB_LAY_DISC || part->lay == TB_LAY_CLOSE)
			add_round_numbers(&n, part);
		else
			add_row_numbers(&n, part);
	}
	if (n.clear != NULL)
		tb_clear_free(n.clear);
}
