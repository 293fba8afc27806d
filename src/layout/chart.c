/*
 * layout/ decides where everything goes, in millimetres, and knows neither colour nor curve.
 *
 * A chart is made in three steps. Here it is chosen: which rows, which size is drawn, whether one
 * motif in a box stands for all sizes, and how large a cell is. Then place.c sets every stitch on
 * the grid (or spreads it over its bases where there is none), and furniture.c and key.c set what
 * stands around. drawing/ turns the result into ink.
 */
#include "layout/fit.h"
#include "layout/weave.h"

#include "fabric/surface.h"
#include "support/diagnose.h"
#include "support/limits.h"

#include <math.h>
#include <string.h>

/* A column wide enough to read at arm's length, and the least height of a chain beside it, mm. */
#define LEGIBLE_COLUMN 8.0
#define LEGIBLE_CHAIN 3.0
/* Where the pattern gives no gauge: cells as plain crochet has them (common practice). */
#define PLAIN_CHAIN_TO_COLUMN 0.45
/* One weight a chart, in columns; never thinner than can be printed. */
#define PEN_TO_COLUMN 0.055
#define PEN_LEAST 0.25

static void set_scale(tb_chart *chart)
{
	const tb_chart_options *options = &chart->options;
	double column = chart->fabric->column_mm;
	double chain = chart->fabric->chain_mm;
	if (column <= 0)
		column = LEGIBLE_COLUMN;
	if (chain <= 0)
		chain = column * PLAIN_CHAIN_TO_COLUMN;
	double factor = 1;
	if (options->stitch_width_mm > 0)
		factor = options->stitch_width_mm / column;
	else if (!options->fabric_scale)
		factor = fmax(LEGIBLE_COLUMN / column, LEGIBLE_CHAIN / chain);
	/* Parts beside a disc are drawn as tall as it is. */
	if (chart->parts->len > 1 && !options->fabric_scale)
		chain = column * TB_WEAVE_CHAIN;
	chart->column = fmin(column * factor, TB_LIMIT_STITCH_WIDTH_MM);
	chart->chain = fmin(chain * factor, TB_LIMIT_STITCH_WIDTH_MM);
	chart->pen = fmax(PEN_TO_COLUMN * fmin(chart->column, 2.4 * chart->chain), PEN_LEAST);
}

static guint32 widest_row(const tb_fabric *fabric)
{
	guint32 most = 0;
	for (guint32 i = 0; i < fabric->row_count; i++)
		most = MAX(most, fabric->rows[i].stitches);
	return most;
}

static void choose_sizes(tb_chart *chart)
{
	const tb_pattern *pattern = tb_worked_pattern(chart->worked);
	unsigned count = tb_pattern_count_sizes(pattern);
	if (chart->options.size > 0) {
		chart->size = (unsigned)chart->options.size - 1;
		chart->sizes = 1u << chart->size;
		return;
	}
	/* A size the piece is not made in has no row but the foundation. */
	guint32 most = 0;
	bool any = false;
	for (unsigned size = 0; size < count; size++) {
		const tb_fabric *fabric = tb_worked_fabric(chart->worked, chart->piece, size);
		if (fabric->row_count < 2)
			continue;
		chart->sizes |= 1u << size;
		guint32 wide = widest_row(fabric);
		if (!any || (chart->options.full && wide > most)) {
			chart->size = size;
			most = wide;
		}
		any = true;
	}
}

static void choose_rows(tb_chart *chart)
{
	tb_chart_options *options = &chart->options;
	const tb_fabric *fabric = chart->fabric;
	guint32 last = fabric->row_count > 0 ? fabric->rows[fabric->row_count - 1].number : 0;
	if (options->first_row == 0) {
		options->first_row = 1;
		options->last_row = options->full || fabric->written_rows == 0 || tb_surface_is_any(chart->worked, chart->piece, false) ? last : fabric->written_rows;
	}
	if (options->last_row > last)
		options->last_row = last;
}

/* An edging goes along sides that no row shows: its stitches stand on nothing that is drawn. */
static bool stands_on_nothing(const tb_fabric *fabric, guint32 r)
{
	const tb_made_row *row = &fabric->rows[r];
	if (r < 2 || !(row->elsewhere || row->along) || row->stitches == 0)
		return false;
	for (guint32 m = row->first; m < row->first + row->count; m++)
		if (fabric->made[m].flags & TB_MADE_COUNTED && fabric->made[m].base_count > 0)
			return false;
	return true;
}

/* The rows from such an edging on are left out, and that is said. */
static void leave_out_edging(tb_chart *chart, tb_diagnostics *diagnostics)
{
	const tb_fabric *fabric = chart->fabric;
	tb_chart_options *options = &chart->options;
	for (guint32 r = 2; r < fabric->row_count; r++) {
		guint32 number = fabric->rows[r].number;
		if (number <= options->first_row || number > options->last_row || !stands_on_nothing(fabric, r))
			continue;
		tb_where where = {.piece = tb_pattern_get_piece(tb_worked_pattern(chart->worked), chart->piece)};
		tb_diagnose_format(diagnostics, TB_WARNING, "edging-not-drawn", &where, "Its words say how it is worked.",
			"the chart ends before row %u, which goes along an edge that no row shows", number);
		options->last_row = number - 1;
		return;
	}
}

/* Whether a chart of the one is a chart of the other: stitches, colours, and how the rows are numbered and worked. */
static bool is_same(const tb_fabric *a, const tb_fabric *b)
{
	if (a->made_count != b->made_count || a->row_count != b->row_count)
		return false;
	for (guint32 r = 0; r < a->row_count; r++) {
		const tb_made_row *x = &a->rows[r], *y = &b->rows[r];
		if (x->number != y->number || x->side != y->side || x->leftward != y->leftward || x->is_round != y->is_round)
			return false;
	}
	for (guint32 m = 0; m < a->made_count; m++)
		if (!tb_fabric_is_same_made(a, b, m) || g_strcmp0(tb_fabric_colour(a, m), tb_fabric_colour(b, m)) != 0)
			return false;
	return true;
}

/* The sizes that are the one drawn, stitch by stitch. */
static tb_size_set sizes_alike(const tb_chart *chart)
{
	tb_size_set alike = 0;
	for (unsigned size = 0; size < TB_MAX_SIZES; size++)
		if (chart->sizes >> size & 1 && is_same(chart->fabric, tb_worked_fabric(chart->worked, chart->piece, size)))
			alike |= 1u << size;
	return alike;
}

/* Says why the sizes cannot share a chart, and charts one of them alone, with those it is in all. */
static void tell_apart(tb_chart *chart, tb_diagnostics *diagnostics)
{
	tb_size_set alike = sizes_alike(chart);
	if (chart->sizes == alike)
		return;
	const tb_pattern *pattern = tb_worked_pattern(chart->worked);
	tb_where where = {.piece = tb_pattern_get_piece(pattern, chart->piece)};
	g_autoptr(GString) names = g_string_new(NULL);
	for (unsigned size = 0; size < TB_MAX_SIZES; size++)
		if (alike >> size & 1)
			g_string_append_printf(names, "%s%s", names->len > 0 ? ", " : "", tb_pattern_get_size(pattern, size));
	bool one = alike == 1u << chart->size;
	tb_diagnose_format(diagnostics, TB_WARNING, "no-shared-repeat", &where,
		"Name another size to chart that one.",
		"no repeat fits every size, so %s %s %s charted alone: %s", one ? "size" : "sizes", names->str, one ? "is" : "are",
		chart->motif.reason != NULL ? chart->motif.reason :
			chart->motif.found ? "their rounds are not alike" : "the rows do not stand in columns");
	chart->sizes = alike;
	g_free(chart->motif.reason);
	chart->motif = tb_motif_find(chart->worked, chart->piece, chart->options.first_row,
		chart->options.last_row, chart->sizes);
}

double tb_chart_across(const tb_chart *chart, double at)
{
	double x = at - chart->min_at, half = 0.5 * chart->column;
	if (chart->across == NULL || chart->across->len < 2)
		return half + x * chart->column;
	/* Beyond the first and the last column they are as wide as ever. */
	double last = chart->across->len - 1, inside = CLAMP(x, 0, last);
	guint i = (guint)fmin(floor(inside), last - 1);
	double a = g_array_index(chart->across, double, i);
	double b = g_array_index(chart->across, double, i + 1);
	return half + a + (b - a) * (inside - i) + (x - inside) * chart->column;
}

const tb_stitch *tb_chart_shown(const tb_chart *chart, const tb_made *made)
{
	const tb_library *library = tb_worked_pattern(chart->worked)->library;
	bool turned = chart->shown != NULL && chart->fabric->rows[made->row].side == TB_SIDE_WRONG;
	return turned ? chart->shown[made->stitch] : tb_library_get(library, made->stitch);
}

/* Whether wrong side rows show the fabric's right side: asked for, or there are post stitches among them. */
static bool is_as_seen(const tb_chart *chart)
{
	const tb_fabric *fabric = chart->fabric;
	bool posts = false;
	for (guint i = 0; i < chart->parts->len; i++) {
		const tb_chart_part *part = tb_chart_part_at(chart, i);
		for (guint32 r = part->first; r <= part->last; r++)
			for (guint32 m = fabric->rows[r].first; m < fabric->rows[r].first + fabric->rows[r].count; m++)
				posts = posts || (fabric->rows[r].side == TB_SIDE_WRONG &&
					tb_library_get(tb_worked_pattern(chart->worked)->library, fabric->made[m].stitch)->post != TB_POST_NONE);
	}
	return chart->options.view == TB_VIEW_RIGHT || (chart->options.view == TB_VIEW_AUTO && posts);
}

/* From the other side a front post stitch is a back post stitch: FPdc is BPdc. */
static void find_shown(tb_chart *chart)
{
	const tb_library *library = tb_worked_pattern(chart->worked)->library;
	unsigned count = tb_library_count(library);
	chart->shown = g_new0(const tb_stitch *, count);
	for (unsigned i = 0; i < count; i++) {
		const tb_stitch *stitch = tb_library_get(library, i), *other = NULL;
		if (stitch->post != TB_POST_NONE && strlen(stitch->us) > 2) {
			g_autofree char *name = g_strdup(stitch->us);
			name[0] = stitch->post == TB_POST_FRONT ? 'B' : 'F';
			other = tb_library_find(library, name);
		}
		chart->shown[i] = other != NULL ? other : stitch;
	}
}

char *tb_chart_numbers(const tb_chart *chart, const guint32 *by_size)
{
	GString *text = g_string_new(NULL);
	unsigned written = 0;
	guint32 first = 0;
	bool same = true;
	for (unsigned size = 0; size < TB_MAX_SIZES; size++) {
		if ((chart->sizes >> size & 1) == 0)
			continue;
		if (written == 0)
			first = by_size[size];
		same = same && by_size[size] == first;
		g_string_append_printf(text, "%s%u", written == 0 ? "" : written == 1 ? " (" : ", ",
			by_size[size]);
		written++;
	}
	if (written > 1)
		g_string_append_c(text, ')');
	if (same)
		g_string_printf(text, "%u", first);
	return g_string_free(text, FALSE);
}

char *tb_chart_times(const tb_chart *chart)
{
	g_autofree char *numbers = tb_chart_numbers(chart, chart->motif.times);
	return g_strdup_printf("%s times%s", numbers, chart->beside > 0 ? " in all" : "");
}

tb_ink tb_chart_row_ink(const tb_chart *chart, const tb_chart_row *row)
{
	if (row->below)
		return TB_INK_BELOW;
	guint32 number = chart->fabric->rows[row->row].number;
	return number % 2 == 1 || number == 0 ? TB_INK_ROW_A : TB_INK_ROW_B;
}

tb_label *tb_chart_add_label(tb_chart *chart, const char *text, double x, double y, double size_mm,
	tb_face face, tb_align align, tb_ink ink)
{
	tb_label label = {.text = g_strdup(text), .x = x, .y = y, .size_mm = size_mm, .face = face, .align = align, .ink = ink};
	g_array_append_val(chart->labels, label);
	return &g_array_index(chart->labels, tb_label, chart->labels->len - 1);
}

static void clear_label(gpointer label)
{
	g_free(((tb_label *)label)->text);
}

static tb_chart *create_empty(const tb_worked *worked, const tb_chart_options *options)
{
	tb_chart *chart = g_new0(tb_chart, 1);
	chart->worked = worked;
	chart->options = *options;
	chart->piece = options->piece;
	chart->placed = g_array_new(FALSE, TRUE, sizeof(tb_placed));
	chart->feet = g_array_new(FALSE, TRUE, sizeof(tb_spot));
	chart->rows = g_array_new(FALSE, TRUE, sizeof(tb_chart_row));
	chart->parts = g_array_new(FALSE, TRUE, sizeof(tb_chart_part));
	chart->labels = g_array_new(FALSE, TRUE, sizeof(tb_label));
	g_array_set_clear_func(chart->labels, clear_label);
	chart->arrows = g_array_new(FALSE, TRUE, sizeof(tb_arrow));
	chart->brackets = g_array_new(FALSE, TRUE, sizeof(tb_bracket));
	chart->sector = g_array_new(FALSE, TRUE, sizeof(tb_spot));
	chart->marks = g_array_new(FALSE, TRUE, sizeof(tb_chart_mark));
	chart->keys = g_array_new(FALSE, TRUE, sizeof(tb_key_symbol));
	chart->colours = g_ptr_array_new();
	chart->swatches = g_array_new(FALSE, FALSE, sizeof(tb_swatch));
	return chart;
}

void tb_chart_destroy(tb_chart *chart)
{
	if (chart == NULL)
		return;
	g_array_unref(chart->placed);
	g_array_unref(chart->feet);
	g_array_unref(chart->rows);
	g_array_unref(chart->parts);
	g_array_unref(chart->labels);
	g_array_unref(chart->arrows);
	g_array_unref(chart->brackets);
	g_array_unref(chart->keys);
	g_ptr_array_unref(chart->colours);
	g_array_unref(chart->swatches);
	g_array_unref(chart->marks);
	if (chart->across != NULL)
		g_array_unref(chart->across);
	g_array_unref(chart->sector);
	for (unsigned i = 0; i < G_N_ELEMENTS(chart->sides); i++)
		if (chart->sides[i] != NULL)
			g_array_unref(chart->sides[i]);
	if (chart->gap != NULL)
		g_array_unref(chart->gap);
	g_free(chart->shown);
	g_free(chart->motif.reason);
	g_free(chart->title);
	g_free(chart->description);
	g_free(chart);
}

/* A size that works the motif but once cannot show how it goes on: another is drawn for all. */
static void choose_repeating(tb_chart *chart)
{
	if (chart->options.size > 0 || chart->options.full || !chart->motif.found)
		return;
	for (unsigned size = 0; size < TB_MAX_SIZES && chart->motif.times[chart->size] < 2; size++)
		if (chart->sizes >> size & 1 && chart->motif.times[size] > 1)
			chart->size = size;
	chart->fabric = tb_worked_fabric(chart->worked, chart->piece, chart->size);
}

/*
 * Whether there is memory to lay the chart out, draw it and write it. Of a folded one the repeat is drawn once.
 */
static bool has_memory(const tb_chart *chart, tb_diagnostics *diagnostics)
{
	guint64 stitches = 0;
	for (guint32 i = 1; i < chart->fabric->row_count; i++) {
		const tb_made_row *row = &chart->fabric->rows[i];
		if (row->number >= chart->options.first_row && row->number <= chart->options.last_row)
			stitches += row->count;
	}
	bool once = chart->folded && !chart->motif.plain;
	guint64 drawn = once ? stitches / MAX(chart->motif.times[chart->size], 1) : stitches;
	if (drawn * TB_DRAWING_STITCH_BYTES + (stitches - drawn) * TB_DRAWING_FOLDED_BYTES <= TB_LIMIT_DRAWING_BYTES)
		return true;
	const tb_piece *piece = tb_pattern_piece(tb_worked_pattern(chart->worked), chart->piece);
	tb_where where = {.has_place = true, .place = piece->place, .piece = piece->name};
	tb_diagnose_format(diagnostics, TB_ERROR, "limit-drawing", &where,
		"Chart fewer rows, as in --rows 1-40, or one repeat of them.",
		"this chart has %" G_GUINT64_FORMAT " sts to draw; there is memory for %u", drawn,
		(unsigned)(TB_LIMIT_DRAWING_BYTES / TB_DRAWING_STITCH_BYTES));
	return false;
}

bool tb_chart_unfold(tb_chart *chart, tb_diagnostics *diagnostics)
{
	chart->folded = false;
	tell_apart(chart, diagnostics);
	chart->motif.found = false;
	return has_memory(chart, diagnostics);
}

tb_chart *tb_chart_lay_out(const tb_worked *worked, const tb_chart_options *options, const tb_text_measure *measure,
	tb_diagnostics *diagnostics)
{
	tb_chart *chart = create_empty(worked, options);
	/* lines up the rows lie at columns of their own */
	chart->options.full = chart->options.full || tb_surface_is_any(worked, chart->piece, true);
	choose_sizes(chart);
	chart->fabric = tb_worked_fabric(worked, chart->piece, chart->size);
	choose_rows(chart);
	if (chart->fabric->row_count < 2 || chart->options.first_row > chart->options.last_row) {
		tb_where where = {
			.piece = tb_pattern_get_piece(tb_worked_pattern(worked), chart->piece)};
		tb_diagnose(diagnostics, TB_ERROR, "nothing-to-chart", &where,
			"there are no such rows to chart", "Ask for rows that the piece has.");
		tb_chart_destroy(chart);
		return NULL;
	}
	leave_out_edging(chart, diagnostics);
	chart->motif = tb_motif_find(worked, chart->piece, chart->options.first_row,
		chart->options.last_row, chart->sizes);
	tb_chart_find_parts(chart);
	bool rounds = !tb_chart_is(chart, TB_LAY_ROWS) && !tb_chart_is(chart, TB_LAY_TUBE);
	if (rounds || !chart->motif.found)
		tell_apart(chart, diagnostics);
	choose_repeating(chart);
	chart->folded = chart->motif.found && !chart->options.full && !rounds &&
		chart->motif.times[chart->size] > 1;
	set_scale(chart);
	chart->near_right = chart->fabric->rows[1].leftward != chart->options.left_handed;
	chart->as_seen = is_as_seen(chart);
	if (chart->as_seen)
		find_shown(chart);
	if (!has_memory(chart, diagnostics) || !tb_chart_place(chart, diagnostics)) {
		tb_chart_destroy(chart);
		return NULL;
	}
	tb_chart_find_colours(chart);
	tb_chart_furnish(chart, measure);
	return chart;
}

tb_chart *tb_chart_create(const tb_worked *worked, const tb_chart_options *options,
	const tb_text_measure *measure, tb_diagnostics *diagnostics)
{
	const tb_pattern *pattern = tb_worked_pattern(worked);
	g_return_val_if_fail(options->piece < tb_pattern_count_pieces(pattern), NULL);
	g_return_val_if_fail(options->size <= (int)tb_pattern_count_sizes(pattern), NULL);
	bool paper = options->paper_width_mm > 0 && options->paper_height_mm > 0;
	return (paper ? tb_fit_paper : tb_chart_lay_out)(worked, options, measure, diagnostics);
}
