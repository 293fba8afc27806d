/*
 * Written rows held against what they were written from.
 *
 * What is composed for several sizes at once is the most intricate text there is here, and nobody who
 * works from it can see that a number in it is wrong. So it is read as any pattern is, and worked.
 */
#include "compose/read_back.h"

#include "pattern/read.h"
#include "pattern/text_kinds.h"
#include "support/diagnose.h"

#include <tambour/rows.h>

#include <string.h>

/* --- the text as a pattern --- */

/* "Work over sts 3-8 (10) of Back.": the stitches, of the piece that the pattern knows. */
static void read_over(tb_piece *piece, const tb_piece *original, const char *line)
{
	static const char sts[] = "Work over sts ";
	g_autofree char *end = g_strdup_printf(" of %s.", original->from_piece);
	piece->from_piece = g_strdup(original->from_piece);
	if (!g_str_has_prefix(line, sts) || !g_str_has_suffix(line, end))
		return;
	const char *from = line + strlen(sts);
	piece->from_text = tb_text_create(from, strlen(from) - strlen(end), 0);
}

static tb_piece *read_piece(const tb_piece *original, const char *text)
{
	tb_piece *piece = g_new0(tb_piece, 1);
	piece->name = g_strdup(original->name);
	piece->place = original->place;
	/* other pieces may go on from it by what it is called there */
	piece->heading = g_strdup(original->heading);
	piece->make = original->make;
	piece->rows = g_ptr_array_new_with_free_func((GDestroyNotify)tb_text_destroy);
	piece->row_reads = g_array_new(FALSE, FALSE, sizeof(guint32));
	g_auto(GStrv) lines = g_strsplit(text, "\n", -1);
	for (int i = 0; lines[i] != NULL; i++) {
		tb_row_head head;
		if (lines[i][0] == '\0')
			continue;
		if (i == 0 && original->from_piece != NULL)
			read_over(piece, original, lines[i]);
		else if (i == 0 && !tb_is_row_head(lines[i], &head))
			piece->start = tb_text_create(lines[i], strlen(lines[i]), 0);
		else
			g_ptr_array_add(piece->rows, tb_text_create(lines[i], strlen(lines[i]), 0));
	}
	return piece;
}

static tb_pattern *read_texts(
	const tb_pattern *original, const char *const *texts, int size, bool uk)
{
	tb_pattern *pattern = tb_pattern_create(original->source, original->library);
	pattern->uk_terms = uk;
	for (unsigned i = 0; size < 0 && i < tb_pattern_count_sizes(original); i++)
		g_ptr_array_add(pattern->sizes, g_strdup(tb_pattern_get_size(original, i)));
	if (size >= 0)
		g_ptr_array_add(pattern->sizes, g_strdup(""));
	g_ptr_array_add(pattern->sizes, NULL);
	for (unsigned i = 0; i < tb_pattern_count_pieces(original); i++)
		tb_pattern_add_piece(pattern, read_piece(tb_pattern_piece(original, i), texts[i]));
	return pattern;
}

/* --- comparing --- */

/* The height of a row in which no stitch is worked depends on how it is said, not on what it is. */
static bool same_height(const tb_fabric *a, const tb_made_row *x, const tb_made_row *y)
{
	bool works = false;
	for (guint32 i = x->first; i < x->first + x->count; i++)
		works = works || !(a->made[i].flags & (TB_MADE_TURNING | TB_MADE_CHAIN));
	return !works || x->height == y->height;
}

/* How row Y, read back, differs from row X, as the end of "row 4 …"; NULL if it does not. Owned. */
static char *compare_rows(
	const tb_fabric *a, const tb_fabric *b, const tb_made_row *x, const tb_made_row *y)
{
	if (x->number != y->number)
		return g_strdup_printf("is read as row %u", y->number);
	if (x->stitches != y->stitches)
		return g_strdup_printf("has %u sts, and is read as one of %u", x->stitches, y->stitches);
	if (x->side != y->side || x->leftward != y->leftward || x->is_round != y->is_round)
		return g_strdup("is read as worked the other way");
	for (guint32 i = x->first; i < x->first + MIN(x->count, y->count); i++) {
		if (x->first != y->first || !tb_fabric_is_same_made(a, b, i))
			return g_strdup_printf("is read as another from its stitch %u on", i - x->first + 1);
	}
	if (x->count != y->count)
		return g_strdup_printf(
			"has %u sts and chains, and is read as one of %u", x->count, y->count);
	return same_height(a, x, y) ? NULL : g_strdup("is read as one of another height");
}

/* What is told: WHAT, in row ROW. */
typedef struct {
	char *what;
	guint32 row;
	bool is_round;
} difference;

/* False, and DIFFERENCE filled, when B is not A. */
static bool compare(const tb_fabric *a, const tb_fabric *b, difference *found)
{
	for (guint32 i = 0; i < MIN(a->row_count, b->row_count); i++) {
		const tb_made_row *row = &a->rows[i];
		g_autofree char *how = compare_rows(a, b, row, &b->rows[i]);
		if (how == NULL)
			continue;
		*found = (difference){.row = row->number, .is_round = row->is_round};
		found->what = row->number == 0 ? g_strdup_printf("the foundation %s", how)
			: g_strdup_printf("%s %u %s", row->is_round ? "round" : "row", row->number, how);
		return false;
	}
	if (a->row_count == b->row_count)
		return true;
	*found = (difference){.what = g_strdup_printf("of %u rows, %u are read",
		MAX(a->row_count, 1) - 1, MAX(b->row_count, 1) - 1)};
	return false;
}

/* --- telling --- */

static void tell(tb_diagnostics *diagnostics, const tb_pattern *pattern, const char *piece,
	tb_size_set sizes, const difference *found)
{
	int number = piece != NULL ? tb_pattern_find_piece(pattern, piece) : -1;
	tb_where where = {.piece = piece, .row = found->row, .is_round = found->is_round,
		.sizes = sizes};
	if (number >= 0) {
		where.place = tb_pattern_piece(pattern, (unsigned)number)->place;
		where.has_place = where.place.end > where.place.start;
	}
	tb_diagnose_format(diagnostics, TB_ERROR, "rows-read-back", &where,
		"Nothing is written. The pattern may be sound: this is a fault of the program, which others "
		"should hear of.",
		"the rows written from this pattern do not come out as the pattern does: %s", found->what);
}

/* The first error of AGAIN, what could not be read or worked, told as our own. */
static void tell_unread(tb_diagnostics *diagnostics, const tb_pattern *pattern, int size,
	tb_diagnostics *again)
{
	for (unsigned i = 0; i < tb_diagnostics_count(again); i++) {
		const tb_diagnostic *fault = tb_diagnostics_get(again, i);
		if (fault->severity != TB_ERROR)
			continue;
		difference found = {.what = fault->message, .row = fault->row, .is_round = fault->is_round};
		tell(diagnostics, pattern, fault->piece,
			size >= 0 ? (tb_size_set)1 << size : fault->sizes, &found);
		return;
	}
	/* so many warnings stand before it that there was no room for it */
	difference found = {.what = (char *)"they cannot be worked"};
	tell(diagnostics, pattern, NULL, 0, &found);
}

bool tb_read_back(const tb_worked *worked, const char *const *texts, int size, bool uk,
	tb_diagnostics *diagnostics)
{
	const tb_pattern *pattern = tb_worked_pattern(worked);
	unsigned sizes = tb_pattern_count_sizes(pattern);
	g_autoptr(tb_pattern) written = read_texts(pattern, texts, size, uk);
	g_autoptr(tb_diagnostics) faults = tb_diagnostics_create(NULL);
	g_autoptr(tb_worked) again = tb_work(written, faults);
	if (tb_diagnostics_count_errors(faults) > 0) {
		tell_unread(diagnostics, pattern, size, faults);
		return false;
	}
	for (unsigned piece = 0; piece < tb_pattern_count_pieces(pattern); piece++) {
		for (unsigned i = 0; i < sizes; i++) {
			difference found;
			if ((size >= 0 && i != (unsigned)size) ||
				compare(tb_worked_fabric(worked, piece, i),
					tb_worked_fabric(again, piece, size >= 0 ? 0 : i), &found))
				continue;
			tell(diagnostics, pattern, tb_pattern_get_piece(pattern, piece), (tb_size_set)1 << i,
				&found);
			g_free(found.what);
			return false;
		}
	}
	return true;
}

char **tb_rows_texts(const tb_worked *worked, int size, bool uk, tb_diagnostics *diagnostics)
{
	const tb_pattern *pattern = tb_worked_pattern(worked);
	g_return_val_if_fail(size < (int)tb_pattern_count_sizes(pattern), NULL);
	unsigned pieces = tb_pattern_count_pieces(pattern);
	g_auto(GStrv) texts = g_new0(char *, pieces + 1);
	for (unsigned i = 0; i < pieces; i++)
		texts[i] = tb_rows_text(worked, (int)i, size, uk);
	bool same = tb_read_back(worked, (const char *const *)texts, size, uk, diagnostics);
	return same ? g_steal_pointer(&texts) : NULL;
}
