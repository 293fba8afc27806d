/*
 * The shape of a piece, from the worked graph: each row is as wide as its stitches and as high as
 * its tallest, and lies where, on the whole, its stitches stand over their bases. A piece worked
 * around a middle has the shape its last round has on the chart.
 */
#include "layout/sheet.h"

#include <math.h>

/* An edge that moves by no more than this from row to row slopes, and makes no step. */
#define STEP 2.5 /* columns */

/* Whether I is as wide as a stitch: slip stitches that the row walks over others with are not, nor is a chain it climbs by. */
static bool is_wide(const tb_fabric *fabric, const tb_made_row *row, guint32 i)
{
	return (fabric->made[i].flags & TB_MADE_COUNTED) || (row->number == 0 && !(fabric->made[i].flags & TB_MADE_TURNING));
}

/* Where each stitch of the row below stands: columns from the row's own edge, on the page. */
static void place_row(const tb_fabric *fabric, const tb_made_row *row, bool leftward, double offset,
	double *at)
{
	guint32 n = 0;
	for (guint32 i = row->first; i < row->first + row->count; i++) {
		bool counts = is_wide(fabric, row, i);
		double along = counts ? n + 0.5 : n;
		n += counts;
		at[i] = offset + (leftward ? row->stitches - along : along);
	}
}

/* The mean way from where a row's stitches would stand to where their bases do. */
static double find_shift(const tb_fabric *fabric, const tb_made_row *row, const double *at)
{
	double sum = 0;
	guint32 count = 0;
	for (guint32 i = row->first; i < row->first + row->count; i++) {
		const tb_made *made = &fabric->made[i];
		if (made->base_count == 0 || made->rows_below > 1 || !is_wide(fabric, row, i))
			continue;
		double base = 0;
		for (unsigned b = 0; b < made->base_count; b++)
			base += at[tb_fabric_base(fabric, made, b)] / made->base_count;
		sum += base - at[i];
		count++;
	}
	return count > 0 ? sum / count : 0;
}

typedef struct {
	double left, right, bottom, top; /* columns; chains above the foundation */
	guint32 on; /* the row it stands on */
} band;

/* One of each row, the foundation first, which is none. */
static GArray *find_bands(const tb_fabric *fabric, bool left_handed)
{
	GArray *bands = g_array_new(FALSE, FALSE, sizeof(band));
	g_autofree double *at = g_new0(double, MAX(1u, fabric->made_count));
	for (guint32 r = 0; r < fabric->row_count; r++) {
		const tb_made_row *row = &fabric->rows[r];
		bool leftward = (r == 0 ? fabric->row_count > 1 && !fabric->rows[1].leftward :
			row->leftward) != left_handed;
		place_row(fabric, row, leftward, 0, at);
		double offset = r > 1 ? find_shift(fabric, row, at) : 0;
		place_row(fabric, row, leftward, offset, at);
		guint32 on = r > 0 ? MIN(row->stands, r - 1) : 0;
		double height = r > 0 ? g_array_index(bands, band, on).top : 0;
		band b = {offset, offset + row->stitches, height, height + (r > 0 ? row->height : 0), on};
		g_array_append_val(bands, b);
	}
	return bands;
}

static void add_spot(GArray *line, double x, double y)
{
	tb_spot spot = {x, y};
	g_array_append_val(line, spot);
}

static double edge_of(const band *b, bool right)
{
	return right ? b->right : b->left;
}

/* How far the edge moves between rows I - 1 and I; 0 beyond the piece. */
static double move_at(const GArray *bands, guint i, bool right)
{
	if (i == 0 || i >= bands->len)
		return 0;
	const band *b = &g_array_index(bands, band, i);
	return fabs(edge_of(b, right) - edge_of(b - 1, right));
}

/* An even increase is a slope however steep; a leap by itself is a step, as where yarn is joined. */
static bool leaps(const GArray *bands, guint i, bool right)
{
	double move = move_at(bands, i, right), before = i > 0 ? move_at(bands, i - 1, right) : 0;
	return move > STEP && move > 2 * fmax(before, move_at(bands, i + 1, right));
}

/* Edges that move together do so alike: both step, or neither. */
static bool is_step(const GArray *bands, guint i, bool right)
{
	return leaps(bands, i, right) && (leaps(bands, i, !right) || move_at(bands, i, !right) <= STEP);
}

/* One edge from the bottom up: slopes through the middles of rows, steps where it leaps. */
static void trace_edge(const GArray *bands, bool right, GArray *line)
{
	for (guint i = 0; i < bands->len; i++) {
		const band *b = &g_array_index(bands, band, i);
		double x = edge_of(b, right);
		if (i == 0 || is_step(bands, i, right))
			add_spot(line, x, b->bottom);
		else
			add_spot(line, x, (b->bottom + b->top) / 2);
		if (i + 1 == bands->len || is_step(bands, i + 1, right))
			add_spot(line, x, b->top);
	}
}

/* Points that lie on the line between their neighbours say nothing. */
static void drop_needless(GArray *line)
{
	for (guint i = 1; i + 1 < line->len;) {
		const tb_spot *p = &g_array_index(line, tb_spot, i);
		double ax = p->x - p[-1].x, ay = p->y - p[-1].y, bx = p[1].x - p->x, by = p[1].y - p->y;
		if (fabs(ax * by - ay * bx) < 0.01 && ax * bx + ay * by >= 0)
			g_array_remove_index(line, i);
		else
			i++;
	}
}

/* What parts, a back at its neck, may part again; nothing parts oftener. */
#define MOST_PARTINGS 16u

/* The piece as it is drawn: the rows, and which stand on each. */
typedef struct {
	const GArray *bands;
	const guint32 *first, *next; /* by row: the first that stands on it; the next that stands on the same */
	GArray *line;
	unsigned tops;
} standing;

/* The row that stands furthest left of those on ROW that begin right of column AFTER; 0 for none. */
static guint32 next_to_right(const standing *s, guint32 row, double after)
{
	guint32 found = 0;
	for (guint32 r = s->first[row]; r != 0; r = s->next[r]) {
		double left = g_array_index(s->bands, band, r).left;
		if (left > after && (found == 0 || left < g_array_index(s->bands, band, found).left))
			found = r;
	}
	return found;
}

/* From row ROW on: up its left edge as far as it goes, around what stands beside each other there, and down again. */
static void trace_part(standing *s, guint32 row, unsigned partings)
{
	g_autoptr(GArray) part = g_array_new(FALSE, FALSE, sizeof(band)), right = g_array_new(FALSE, FALSE, sizeof(tb_spot));
	g_array_append_val(part, g_array_index(s->bands, band, row));
	while (s->first[row] != 0 && (s->next[s->first[row]] == 0 || partings == MOST_PARTINGS)) {
		row = s->first[row];
		g_array_append_val(part, g_array_index(s->bands, band, row));
	}
	trace_edge(part, false, s->line);
	s->tops += s->first[row] == 0;
	double after = -G_MAXDOUBLE;
	for (guint32 r; s->first[row] != 0 && (r = next_to_right(s, row, after)) != 0;) {
		after = g_array_index(s->bands, band, r).left;
		trace_part(s, r, partings + 1);
	}
	trace_edge(part, true, right);
	for (guint i = right->len; i > 0; i--)
		g_array_append_val(s->line, g_array_index(right, tb_spot, i - 1));
}

static void outline_rows(const tb_fabric *fabric, bool left_handed, tb_shape_outline *outline)
{
	g_autoptr(GArray) bands = find_bands(fabric, left_handed);
	g_autofree guint32 *first = g_new0(guint32, fabric->row_count + 1u), *next = g_new0(guint32, fabric->row_count + 1u);
	for (guint32 r = fabric->row_count; r-- > 2;) {
		guint32 on = MAX(g_array_index(bands, band, r).on, 1u);
		next[r] = first[on];
		first[on] = r;
	}
	standing s = {bands, first, next, outline->line, 0};
	trace_part(&s, 1, 0);
	drop_needless(outline->line);
	for (guint i = 0; i < outline->line->len; i++) {
		g_array_index(outline->line, tb_spot, i).x *= fabric->column_mm;
		g_array_index(outline->line, tb_spot, i).y *= -fabric->chain_mm;
	}
	const band *last = &g_array_index(bands, band, bands->len - 1);
	outline->top_width = (last->right - last->left) * fabric->column_mm;
	outline->tops = s.tops;
}

static double turn(const tb_spot *a, const tb_spot *b, const tb_spot *c)
{
	return (b->x - a->x) * (c->y - a->y) - (b->y - a->y) * (c->x - a->x);
}

static int compare_spots(gconstpointer a, gconstpointer b)
{
	const tb_spot *p = a, *q = b;
	if (p->x != q->x)
		return p->x < q->x ? -1 : 1;
	return (p->y > q->y) - (p->y < q->y);
}

/* The line drawn tight around SPOTS, which are put in order. */
static void wrap_around(GArray *spots, GArray *line)
{
	g_array_sort(spots, compare_spots);
	guint kept = 0;
	for (int side = 0; side < 2; side++) {
		guint from = line->len;
		for (guint i = 0; i < spots->len; i++) {
			const tb_spot *spot =
				&g_array_index(spots, tb_spot, side == 0 ? i : spots->len - 1 - i);
			while (line->len >= from + 2 &&
				turn(&g_array_index(line, tb_spot, line->len - 2),
					&g_array_index(line, tb_spot, line->len - 1), spot) <= 0)
				g_array_set_size(line, line->len - 1);
			g_array_append_val(line, *spot);
		}
		kept = line->len > from ? line->len - 1 : line->len;
		g_array_set_size(line, kept);
	}
}

static void outline_rounds(const tb_chart *chart, GArray *line)
{
	g_autoptr(GArray) spots = g_array_new(FALSE, FALSE, sizeof(tb_spot));
	double scale = chart->fabric->column_mm / chart->column;
	for (guint i = 0; i < chart->placed->len; i++) {
		tb_spot top = g_array_index(chart->placed, tb_placed, i).top;
		tb_spot spot = {top.x * scale, top.y * scale};
		g_array_append_val(spots, spot);
	}
	wrap_around(spots, line);
}

/* Moves the outline to 0,0 and measures its box. */
static void settle(tb_shape_outline *outline)
{
	double left = G_MAXDOUBLE, right = -G_MAXDOUBLE, top = G_MAXDOUBLE, bottom = -G_MAXDOUBLE;
	for (guint i = 0; i < outline->line->len; i++) {
		const tb_spot *p = &g_array_index(outline->line, tb_spot, i);
		left = fmin(left, p->x);
		right = fmax(right, p->x);
		top = fmin(top, p->y);
		bottom = fmax(bottom, p->y);
	}
	outline->width = right - left;
	outline->height = bottom - top;
	for (guint i = 0; i < outline->line->len; i++) {
		g_array_index(outline->line, tb_spot, i).x -= left;
		g_array_index(outline->line, tb_spot, i).y -= top;
	}
}

bool tb_shape_outline_make(const tb_worked *worked, unsigned piece, unsigned size, bool left_handed,
	const tb_text_measure *measure, tb_shape_outline *outline)
{
	const tb_fabric *fabric = tb_worked_fabric(worked, piece, size);
	*outline = (tb_shape_outline){0};
	if (fabric->row_count < 2 || fabric->column_mm <= 0 || fabric->chain_mm <= 0)
		return false;
	outline->line = g_array_new(FALSE, FALSE, sizeof(tb_spot));
	tb_chart *chart = NULL;
	if (fabric->rows[1].is_round) {
		tb_diagnostics *quiet = tb_diagnostics_create(NULL);
		tb_chart_options options = {.piece = piece, .size = (int)size + 1, .full = true,
			.left_handed = left_handed, .bare = true};
		chart = tb_chart_create(worked, &options, measure, quiet);
		tb_diagnostics_destroy(quiet);
	}
	outline->in_rounds = chart != NULL && tb_chart_is(chart, TB_LAY_DISC);
	if (outline->in_rounds)
		outline_rounds(chart, outline->line);
	else
		outline_rows(fabric, left_handed, outline);
	tb_chart_destroy(chart);
	settle(outline);
	if (outline->line->len > 2 && outline->width > 0 && outline->height > 0)
		return true;
	tb_shape_outline_finish(outline);
	return false;
}

void tb_shape_outline_finish(tb_shape_outline *outline)
{
	g_clear_pointer(&outline->line, g_array_unref);
}
