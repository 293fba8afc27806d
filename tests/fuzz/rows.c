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
	tb_piece *piece = tb_piece_create();
	piece->name = g_strdup("Piece");
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
			tb_piece_add_row(piece, tb_text_create(text + at, length, at), 0);
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

static void check_written(const trial *t, bool uk)
{
	g_auto(GStrv) rows = tb_rows_texts(t->worked, -1, uk, t->diagnostics);
	g_autofree char *text = tb_rows_text(t->worked, 0, -1, uk);
	g_autofree char *faults = tb_diagnostics_format(t->diagnostics);
	tb_fuzz_require(rows != NULL, "what was written does not come out:\n%s\n%s", text, faults);
	tb_fuzz_require(rows == NULL || strcmp(rows[0], text) == 0, "rows are written in two ways");
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
