/* A piece: its rows in words, its charts, and its counts in every size. */
#include "layout/sheet.h"

#include "words/check.h"

#include <math.h>
#include <string.h>

/* "Row 1 (RS):" in bold, the rest hanging. */
static void add_row_text(tb_sheet *sheet, const char *line)
{
	tb_galley *galley = &sheet->galley;
	double size = galley->type.body;
	const char *colon = strstr(line, ": ");
	bool has_head = colon != NULL && (g_str_has_prefix(line, "R") || g_str_has_prefix(line, "S"));
	g_autofree char *head = has_head ? g_strndup(line, (gsize)(colon - line) + 1) : NULL;
	const tb_run_of_text runs[] = {{head, true}, {has_head ? colon + 2 : line, false}};
	tb_galley_runs(galley, has_head ? runs : runs + 1, has_head ? 2 : 1, 0, galley->measured,
		1.2 * size, size);
}

static void add_rows(tb_sheet *sheet, unsigned piece)
{
	g_auto(GStrv) lines = g_strsplit(sheet->rows[piece], "\n", -1);
	for (guint i = 0; lines[i] != NULL; i++)
		if (*lines[i] != '\0') {
			add_row_text(sheet, lines[i]);
			/* How a piece starts is not left behind by its first row. */
			GArray *strips = sheet->galley.strips;
			if (i == 0)
				g_array_index(strips, tb_strip, strips->len - 1).keep = lines[1] != NULL;
		}
}

static tb_chart_options chart_options(const tb_sheet *sheet, unsigned piece)
{
	return (tb_chart_options){.piece = piece, .size = sheet->options.size,
		.left_handed = sheet->options.left_handed, .uk_terms = sheet->options.uk_terms,
		.grey = sheet->options.grey, .bare = true};
}

/* "Chart: rows 1–6", or as the designer calls it. */
static char *chart_heading(const tb_sheet *sheet, const tb_chart *chart, const char *title,
	const char *size)
{
	g_autoptr(GString) text = g_string_new(title != NULL ? title : "Chart");
	/* A chart on a page of its own says what it is of. */
	if (title == NULL && tb_pattern_count_pieces(sheet->pattern) > 1)
		g_string_printf(text, "%s chart", tb_pattern_get_piece(sheet->pattern, chart->piece));
	bool rounds = chart->fabric->rows[1].is_round;
	guint32 first = chart->options.first_row, last = chart->options.last_row;
	g_string_append_printf(text, ": %s%s %u", rounds ? "round" : "row", first == last ? "" : "s",
		first);
	if (first != last)
		g_string_append_printf(text, "–%u", last);
	if (size != NULL && *size != '\0')
		g_string_append_printf(text, ", size %s", size);
	return g_strdup(text->str);
}

/* Where sizes share no repeat, each has a chart of its own. */
static bool add_chart(tb_sheet *sheet, tb_chart_options options, const char *title)
{
	const tb_pattern *pattern = sheet->pattern;
	tb_chart *probe = tb_chart_create(sheet->worked, &options, sheet->galley.measure,
		sheet->diagnostics);
	if (probe == NULL)
		return false;
	unsigned sizes = tb_pattern_count_sizes(pattern), made = 0;
	for (unsigned size = 0; size < sizes; size++)
		made += tb_worked_fabric(sheet->worked, options.piece, size)->row_count > 1;
	bool apart = options.size == 0 && made > 1 && (probe->sizes & (probe->sizes - 1)) == 0;
	bool done = true;
	tb_diagnostics *quiet = tb_diagnostics_create(NULL);
	for (unsigned size = 0; size < (apart ? sizes : 1) && done; size++) {
		const char *name = apart ? tb_pattern_get_size(pattern, size) : NULL;
		if (apart && tb_worked_fabric(sheet->worked, options.piece, size)->row_count < 2)
			continue;
		g_autofree char *heading = chart_heading(sheet, probe, title, name);
		if (apart)
			options.size = (int)size + 1;
		done = tb_galley_plate(&sheet->galley, &options, heading, sheet->options.large_print, quiet);
	}
	tb_diagnostics_destroy(quiet);
	tb_chart_destroy(probe);
	return done;
}

/* The charts the designer asked for, or one of the rows that are written out. */
static bool add_charts(tb_sheet *sheet, unsigned piece)
{
	const tb_pattern *pattern = sheet->pattern;
	bool asked = false;
	for (guint i = 0; i < pattern->charts->len; i++) {
		const tb_chart_request *request = g_ptr_array_index(pattern->charts, i);
		int of = request->piece != NULL ? tb_pattern_find_piece(pattern, request->piece) : 0;
		if (of < 0 || (unsigned)of != piece)
			continue;
		tb_chart_options options = chart_options(sheet, piece);
		options.first_row = request->first_row;
		options.last_row = request->last_row;
		asked = true;
		if (!add_chart(sheet, options, request->title))
			return false;
	}
	return asked || add_chart(sheet, chart_options(sheet, piece), NULL);
}

/* A row of the table of counts: rows that are alike in every size are one. */
typedef struct {
	guint32 first, last;
	guint32 counts[TB_MAX_SIZES];
	guint32 there; /* a bit a size */
	bool open;     /* some sizes end before the last of them */
	bool is_round;
	const char *part; /* the heading it stands under, where that numbers its rows from 1 again */
} count_row;

/* Whether ROW has the counts of the rows before it, in every size that still has rows. */
static bool goes_on(const count_row *before, const count_row *row)
{
	if ((row->there & ~before->there) != 0 || row->part != before->part)
		return false;
	for (unsigned size = 0; size < TB_MAX_SIZES; size++)
		if ((row->there >> size & 1) && row->counts[size] != before->counts[size])
			return false;
	return true;
}

static GArray *gather_counts(const tb_sheet *sheet, unsigned piece)
{
	GArray *list = g_array_new(FALSE, TRUE, sizeof(count_row));
	tb_check_walk walk = tb_check_walk_begin(sheet->worked, piece);
	while (tb_check_walk_next(&walk)) {
		count_row row = {.first = walk.own, .last = walk.own, .part = walk.anew ? walk.part : NULL};
		for (unsigned size = 0; size < walk.sizes; size++) {
			if (walk.rows[size] == NULL || !tb_sheet_has_size(sheet, size))
				continue;
			row.counts[size] = walk.rows[size]->stitches;
			row.is_round = walk.rows[size]->is_round;
			row.there |= 1u << size;
		}
		if (row.there == 0)
			continue;
		count_row *last = list->len == 0 ? NULL :
			&g_array_index(list, count_row, list->len - 1);
		if (last != NULL && last->last + 1 == row.first && goes_on(last, &row)) {
			last->last = row.first;
			last->open = last->open || row.there != last->there;
		} else {
			g_array_append_val(list, row);
		}
	}
	return list;
}

static void add_count_cells(const tb_sheet *sheet, GPtrArray *cells, const count_row *row)
{
	const char *word = row->is_round ? "Rnd" : "Row";
	g_autofree char *what = row->part != NULL ? g_strdup_printf("%s, %s", row->part, word) : g_strdup(word);
	g_ptr_array_add(cells, row->first == row->last ? g_strdup_printf("%s %u", what, row->first) :
		row->open ? g_strdup_printf("%s %u to the last", what, row->first) :
		g_strdup_printf("%ss %u–%u", what, row->first, row->last));
	for (unsigned size = 0; size < tb_pattern_count_sizes(sheet->pattern); size++)
		if (tb_sheet_has_size(sheet, size))
			g_ptr_array_add(cells, row->there >> size & 1 ?
				g_strdup_printf("%u", row->counts[size]) : g_strdup("–"));
}

static void add_counts(tb_sheet *sheet, unsigned piece)
{
	g_autoptr(GPtrArray) cells = g_ptr_array_new_with_free_func(g_free);
	g_autoptr(GArray) rows = gather_counts(sheet, piece);
	unsigned columns = 1, sizes = tb_pattern_count_sizes(sheet->pattern);
	bool rounds = rows->len > 0 && g_array_index(rows, count_row, 0).is_round;
	g_ptr_array_add(cells, g_strdup(sizes > 1 ? "Size" : rounds ? "Round" : "Row"));
	for (unsigned size = 0; size < sizes; size++) {
		if (!tb_sheet_has_size(sheet, size))
			continue;
		const char *name = tb_pattern_get_size(sheet->pattern, size);
		g_ptr_array_add(cells, g_strdup(*name != '\0' ? name : "sts"));
		columns++;
	}
	for (guint i = 0; i < rows->len; i++)
		add_count_cells(sheet, cells, &g_array_index(rows, count_row, i));
	g_ptr_array_add(cells, g_strdup(rounds ? "Rnds in all" : "Rows in all"));
	for (unsigned size = 0; size < sizes; size++)
		if (tb_sheet_has_size(sheet, size))
			g_ptr_array_add(cells, g_strdup_printf("%u",
				MAX(1u, tb_worked_fabric(sheet->worked, piece, size)->row_count) - 1));
	tb_galley_heading(&sheet->galley, rounds ? "Stitches in each round" : "Stitches in each row", 2);
	tb_galley_table(&sheet->galley, cells, columns, 1, NULL);
}

bool tb_sheet_add_piece(tb_sheet *sheet, unsigned piece)
{
	tb_galley_heading(&sheet->galley, tb_pattern_get_piece(sheet->pattern, piece), 1);
	add_rows(sheet, piece);
	if (!add_charts(sheet, piece))
		return false;
	add_counts(sheet, piece);
	tb_sheet_add_schematic(sheet, piece);
	return true;
}
