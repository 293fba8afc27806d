/*
 * The row language: rows are read, worked in every size, and written again. Rows without a fault,
 * written and read again, must make the same fabric (tb_rows_text promises that).
 */
#include "fuzz.h"

#include "fabric/fabric.h"
#include "pattern/read.h"

#include <string.h>
#include <tambour/rows.h>

/* More of them show nothing that these do not. */
#define MOST_SIZES 5u
#define MOST_CUTS 4u

/*
 * An input is a pattern of one piece: line 1 names the sizes, parted by commas, with "UK:" in front
 * for UK terms; line 2 is the start, empty for none; every line after it is a row.
 */
typedef struct {
	tb_source *source;
	tb_diagnostics *diagnostics;
	tb_pattern *pattern;
	tb_worked *worked;
} trial;

static bool has_size(const GPtrArray *sizes, const char *name)
{
	for (guint i = 0; i < sizes->len; i++)
		if (g_ascii_strcasecmp(sizes->pdata[i], name) == 0)
			return true;
	return false;
}

static void read_sizes(tb_pattern *pattern, const char *line, size_t length)
{
	g_autofree char *text = g_strndup(line, length);
	pattern->uk_terms = g_str_has_prefix(text, "UK:");
	g_auto(GStrv) names = g_strsplit(text + (pattern->uk_terms ? 3 : 0), ",", -1);
	for (char **name = names; *name != NULL && pattern->sizes->len < MOST_SIZES; name++) {
		g_strstrip(*name);
		if (tb_check_name(*name) == NULL && !has_size(pattern->sizes, *name))
			g_ptr_array_add(pattern->sizes, g_strdup(*name));
	}
	if (pattern->sizes->len == 0)
		g_ptr_array_add(pattern->sizes, g_strdup(""));
	g_ptr_array_add(pattern->sizes, NULL);
}

static tb_pattern *read_pattern(const tb_source *source)
{
	tb_pattern *pattern = tb_pattern_create(source, tb_fuzz_library());
	tb_piece *piece = g_new0(tb_piece, 1);
	piece->name = g_strdup("Piece");
	piece->rows = g_ptr_array_new_with_free_func((GDestroyNotify)tb_text_destroy);
	tb_pattern_add_piece(pattern, piece);
	pattern->gauge = (tb_gauge){true, 12, 9, true, 100, false};

	size_t size;
	const char *text = tb_source_get_text(source, &size);
	unsigned number = 1;
	for (size_t at = 0; at < size || number == 1; number++) {
		size_t length = strcspn(text + at, "\n");
		if (number == 1)
			read_sizes(pattern, text + at, length);
		else if (number > 2)
			g_ptr_array_add(piece->rows, tb_text_create(text + at, length, at));
		else if (length > 0)
			piece->start = tb_text_create(text + at, length, at);
		at += length + 1;
	}
	return pattern;
}

static void trial_init(trial *t, const char *name, const char *text, size_t size)
{
	t->source = tb_source_create(name, text, size);
	t->diagnostics = tb_diagnostics_create(t->source);
	t->pattern = read_pattern(t->source);
	tb_diagnostics_set_sizes(t->diagnostics, (const char *const *)t->pattern->sizes->pdata,
		tb_pattern_count_sizes(t->pattern));
	t->worked = tb_work(t->pattern, t->diagnostics);
	tb_fuzz_check_faults(t->diagnostics);
}

static void trial_finish(trial *t)
{
	tb_worked_destroy(t->worked);
	tb_pattern_destroy(t->pattern);
	tb_diagnostics_destroy(t->diagnostics);
	tb_source_destroy(t->source);
}

/* Every stitch stands on stitches made before it, in its own row or below. */
static void check_fabric(const tb_fabric *fabric)
{
	guint32 next = 0;
	for (guint32 r = 0; r < fabric->row_count; r++) {
		const tb_made_row *row = &fabric->rows[r];
		tb_fuzz_require(row->first == next, "row %u begins at stitch %u, not %u", r, row->first,
			next);
		next += row->count;
	}
	tb_fuzz_require(next == fabric->made_count, "rows of %u sts have %u", fabric->made_count, next);
	for (guint32 i = 0; i < fabric->made_count; i++) {
		const tb_made *made = &fabric->made[i];
		for (unsigned b = 0; b < made->base_count; b++)
			tb_fuzz_require(tb_fabric_base(fabric, made, b) < i, "stitch %u stands on %u", i,
				tb_fabric_base(fabric, made, b));
	}
}

static void require_same_stitch(const tb_fabric *a, const tb_fabric *b, guint32 i,
	const char *rows)
{
	const tb_made *x = &a->made[i], *y = &b->made[i];
	unsigned row = a->rows[x->row].number, index = i - a->rows[x->row].first + 1;
	tb_fuzz_require(x->stitch == y->stitch && x->base_count == y->base_count &&
						x->chains == y->chains && x->flags == y->flags,
		"row %u, stitch %u: kind %u or %u, on %u or %u, %u or %u chains, flags %x or %x:\n%s", row,
		index, x->stitch, y->stitch, x->base_count, y->base_count, x->chains, y->chains, x->flags,
		y->flags, rows);
	for (unsigned j = 0; j < x->base_count; j++)
		tb_fuzz_require(tb_fabric_base(a, x, j) == tb_fabric_base(b, y, j),
			"row %u, stitch %u stands on %u or %u:\n%s", row, index, tb_fabric_base(a, x, j),
			tb_fabric_base(b, y, j), rows);
}

static void require_same(const tb_fabric *a, const tb_fabric *b, const char *rows)
{
	tb_fuzz_require(a->row_count == b->row_count, "%u rows or %u:\n%s", a->row_count,
		b->row_count, rows);
	for (guint32 r = 0; r < a->row_count; r++)
		tb_fuzz_require(a->rows[r].count == b->rows[r].count &&
							a->rows[r].stitches == b->rows[r].stitches &&
							a->rows[r].number == b->rows[r].number &&
							a->rows[r].side == b->rows[r].side,
			"row %u: %u sts or %u:\n%s", a->rows[r].number, a->rows[r].stitches,
			b->rows[r].stitches, rows);
	for (guint32 i = 0; i < a->made_count; i++)
		require_same_stitch(a, b, i, rows);
}

static void check_written(const trial *t, bool uk)
{
	g_autofree char *rows = tb_rows_text(t->worked, 0, -1, uk);
	g_autoptr(GString) again = g_string_new(uk ? "UK:" : "");
	for (unsigned i = 0; i < tb_pattern_count_sizes(t->pattern); i++)
		g_string_append_printf(again, "%s%s", i > 0 ? "," : "", tb_pattern_get_size(t->pattern, i));
	g_string_append_printf(again, "\n%s", rows);
	trial second;
	trial_init(&second, "written", again->str, again->len);
	g_autofree char *faults = tb_diagnostics_format(second.diagnostics);
	tb_fuzz_require(tb_diagnostics_count_errors(second.diagnostics) == 0,
		"what was written cannot be read:\n%s\n%s", again->str, faults);
	for (unsigned i = 0; i < tb_pattern_count_sizes(t->pattern); i++)
		require_same(tb_worked_fabric(t->worked, 0, i), tb_worked_fabric(second.worked, 0, i),
			again->str);
	trial_finish(&second);
}

/* Where the line of the first error begins, or 0 where an error has no place. */
static size_t find_sound(const trial *t)
{
	const char *text = tb_source_get_text(t->source, NULL);
	size_t first = G_MAXSIZE;
	for (unsigned i = 0; i < tb_diagnostics_count(t->diagnostics); i++) {
		const tb_diagnostic *fault = tb_diagnostics_get(t->diagnostics, i);
		if (fault->severity == TB_ERROR)
			first = MIN(first, fault->has_place ? fault->place.start : 0);
	}
	while (first > 0 && text[first - 1] != '\n')
		first--;
	return first;
}

static void check(const trial *t)
{
	for (unsigned i = 0; i < tb_pattern_count_sizes(t->pattern); i++)
		check_fabric(tb_worked_fabric(t->worked, 0, i));
	g_autofree char *text = tb_check_text(t->worked, t->diagnostics, -1);
	tb_fuzz_require(text != NULL && *text != '\0', "no table");
}

/* Most inputs have a fault somewhere; the rows above it are worth writing all the same. */
int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	if (!g_utf8_validate_len((const char *)data, size, NULL))
		return 0;
	for (unsigned i = 0; i < MOST_CUTS && size > 0; i++) {
		trial t;
		trial_init(&t, "fuzz", (const char *)data, size);
		check(&t);
		bool sound = tb_diagnostics_count_errors(t.diagnostics) == 0;
		/* A reader of patterns takes no piece without a row. */
		if (sound && tb_pattern_piece(t.pattern, 0)->rows->len > 0) {
			check_written(&t, false);
			check_written(&t, true);
		}
		size = sound ? 0 : MIN(find_sound(&t), size - 1);
		trial_finish(&t);
	}
	return 0;
}
