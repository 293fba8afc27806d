/*
 * How a pattern becomes fabric.
 *
 * Every piece is read once and worked once a size. The hands (hands.h) go through its sentences
 * (rows.c); each row is worked act by act (acts.c) on the tops of the row below (place.c, post.c),
 * with turning chains (turning.c) and repeats (repeat.c), and then accounted for (account.c). What
 * comes out is a graph: stitches in the order they were made, each with the stitches it stands on.
 * It never changes after that, and whoever looks at it needs nothing of all this.
 */
#include "fabric/finished.h"
#include "fabric/laid.h"
#include "fabric/measure.h"
#include "fabric/multiple.h"
#include "fabric/needs.h"
#include "fabric/seams.h"
#include "fabric/so_far.h"
#include "fabric/worked.h"
#include "notation/parse.h"
#include "rows/grow.h"
#include "rows/open.h"
#include "rows/repair.h"
#include "rows/rows.h"
#include "rows/surface_check.h"

/* Takes the array's memory over, at its true size. */
static void *steal(GArray **array, guint32 *count, size_t size)
{
	*count = (*array)->len;
	void *data = g_array_free(g_steal_pointer(array), *count == 0);
	return data != NULL ? g_realloc_n(data, *count, size) : NULL;
}

static void measure(tb_fabric *fabric, tb_made_row *rows, const tb_pattern *pattern)
{
	guint32 first = 1, last = fabric->row_count > 0 ? fabric->row_count - 1 : 0;
	if (fabric->repeat_count > 0) {
		const tb_made_row *begin = tb_fabric_row(fabric, fabric->repeats[0].first);
		const tb_made_row *end = tb_fabric_row(fabric, fabric->repeats[0].last);
		if (begin != NULL && end != NULL && end >= begin) {
			first = (guint32)(begin - fabric->rows);
			last = (guint32)(end - fabric->rows);
		}
	}
	tb_stitches cloth = tb_fabric_stitches(fabric, pattern->library);
	fabric->column_mm = tb_measure_column_mm(&pattern->gauge);
	fabric->chain_mm =
		tb_measure_rows(pattern, &cloth, rows, fabric->row_count, (tb_counted_over){first, last});
	bool goes_on;
	guint32 edging = tb_sized_edging(fabric, &goes_on);
	for (guint32 i = goes_on ? edging : 1; i < (goes_on ? fabric->row_count : edging); i++) {
		fabric->width_mm = MAX(fabric->width_mm, rows[i].width_mm);
		fabric->length_mm = MAX(fabric->length_mm, rows[i].top_mm);
	}
}

static guint32 count_written(const GArray *rows)
{
	guint32 written = 0;
	while (written + 1 < rows->len) {
		const tb_made_row *row = &g_array_index(rows, tb_made_row, written + 1);
		if (row->written != row->number)
			break;
		written++;
	}
	return written > 0 ? g_array_index(rows, tb_made_row, written).number : 0;
}

static void finish(tb_hands *h, tb_fabric *fabric)
{
	guint32 bases;
	fabric->written_rows = count_written(h->cloth.rows);
	h->working->kept += tb_hands_bytes(h);
	fabric->has_fault = h->teller.has_fault;
	fabric->uncounted = h->labels.uncounted;
	fabric->made = steal(&h->cloth.made, &fabric->made_count, sizeof(tb_made));
	fabric->bases = steal(&h->cloth.bases, &bases, sizeof(guint32));
	tb_made_row *rows = steal(&h->cloth.rows, &fabric->row_count, sizeof(tb_made_row));
	fabric->rows = rows;
	fabric->repeats = steal(&h->cloth.repeats, &fabric->repeat_count, sizeof(tb_row_repeat));
	fabric->colours = steal(&h->cloth.colours, &fabric->colour_count, sizeof(tb_colour_run));
	fabric->reached = steal(&h->cloth.reached, &fabric->reached_count, sizeof(tb_reached));
	tb_hands_finish(h);
	measure(fabric, rows, h->working->pattern);
}

static void work_piece(
	tb_working *working, unsigned piece, unsigned size, const tb_script *script, tb_fabric *fabric)
{
	const tb_piece *written = tb_pattern_piece(working->pattern, piece);
	tb_hands h;
	tb_hands_init(&h, working, piece, size);
	h.start.open = tb_open_find(&h, script);
	if (written->from_piece == NULL || tb_grow_foundation(&h, script))
		tb_rows_work(&h, script);
	else
		h.teller.has_fault = true;
	tb_surface_check(&h, script);
	finish(&h, fabric);
}

tb_worked *tb_work(const tb_pattern *pattern, tb_diagnostics *diagnostics)
{
	tb_worked *worked = g_new0(tb_worked, 1);
	worked->pattern = pattern;
	worked->pieces = tb_pattern_count_pieces(pattern);
	worked->sizes = tb_pattern_count_sizes(pattern);
	worked->scripts = g_new0(tb_script *, worked->pieces + 1);
	worked->fabrics = g_new0(tb_fabric, (gsize)worked->pieces * worked->sizes + 1);
	worked->arena = tb_arena_create();
	tb_working working = {
		.arena = worked->arena,
		.pattern = pattern,
		.worked = worked,
		.diagnostics = diagnostics,
		.chosen = g_hash_table_new_full(g_bytes_hash, g_bytes_equal, (GDestroyNotify)g_bytes_unref, NULL),
		.fates = g_hash_table_new_full(g_bytes_hash, g_bytes_equal, (GDestroyNotify)g_bytes_unref, NULL),
		.most_steps = TB_LIMIT_STEPS,
		.repair = tb_repair_chains,
		.stripes = tb_script_tells_stripes(pattern),
		.chain = tb_library_find(pattern->library, "ch"),
		.slip = tb_library_find(pattern->library, "sl st"),
	};
	tb_script_find_stripes(pattern, worked->arena, &working.plan);
	for (unsigned piece = 0; piece < worked->pieces; piece++) {
		worked->scripts[piece] = tb_script_read(pattern, piece, diagnostics);
		working.gather = tb_gather_create(pattern, tb_pattern_get_piece(pattern, piece));
		for (unsigned size = 0; size < worked->sizes; size++) {
			if (!working.stopped)
				work_piece(&working, piece, size, worked->scripts[piece],
					&worked->fabrics[(gsize)piece * worked->sizes + size]);
		}
		tb_gather_tell(working.gather, diagnostics);
	}
	g_hash_table_destroy(working.chosen);
	g_hash_table_destroy(working.fates);
	tb_script_check_terms(pattern, diagnostics);
	tb_finished_check(worked, diagnostics);
	tb_multiple_check(worked, diagnostics);
	tb_needs_check(worked, diagnostics);
	tb_laid_check(worked, diagnostics);
	tb_seams_check(worked, diagnostics);
	tb_so_far_check(worked, diagnostics);
	return worked;
}
