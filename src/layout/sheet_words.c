/* The abbreviations that are used, in both terms, and the special stitches in words. */
#include "layout/sheet.h"

#include <string.h>

/* Words of the rows that are no stitches: what stands in the text, what is printed, what it means. */
static const struct {
	const char *words; /* parted by blanks */
	const char *us, *us_name, *uk, *uk_name;
} WORDS[] = {
	{"st sts", "st(s)", "stitch(es)", "st(s)", "stitch(es)"},
	{"sp sps", "sp(s)", "space(s)", "sp(s)", "space(s)"},
	{"rs", "RS", "right side", "RS", "right side"},
	{"ws", "WS", "wrong side", "WS", "wrong side"},
	{"rnd rnds", "rnd(s)", "round(s)", "rnd(s)", "round(s)"},
	{"sk miss", "sk", "skip", "miss", "miss"},
	{"rep", "rep", "repeat", "rep", "repeat"},
	{"beg", "beg", "beginning", "beg", "beginning"},
	{"tch", "tch", "turning chain", "tch", "turning chain"},
	{"rem", "rem", "remaining", "rem", "remaining"},
	{"blo", "BLO", "back loop only", "BLO", "back loop only"},
	{"flo", "FLO", "front loop only", "FLO", "front loop only"},
	{"prev", "prev", "previous", "prev", "previous"},
};

/* Whether one of WORDS stands in TEXT as a word of its own. */
static bool has_word(const char *text, const char *words)
{
	g_auto(GStrv) each = g_strsplit(words, " ", -1);
	g_autofree char *lower = g_ascii_strdown(text, -1);
	for (guint i = 0; each[i] != NULL; i++) {
		size_t length = strlen(each[i]);
		for (const char *at = lower; (at = strstr(at, each[i])) != NULL; at++)
			if ((at == lower || !g_ascii_isalpha(at[-1])) && !g_ascii_isalpha(at[length]))
				return true;
	}
	return false;
}

/* Both terms with their names; the other terms' names only where there is room, in COLUMNS of 4. */
static void add_row(GPtrArray *cells, bool uk, unsigned columns, const char *us, const char *us_name,
	const char *uk_term, const char *uk_name)
{
	const char *const terms[] = {us, us_name, uk_term, uk_name};
	for (unsigned i = 0; i < columns; i++)
		g_ptr_array_add(cells, g_strdup(terms[uk ? (i + 2) % 4 : i]));
}

static void add_links(GPtrArray *links, unsigned columns, const char *first)
{
	for (unsigned i = 0; i < columns; i++)
		g_ptr_array_add(links, i == 0 ? g_strdup(first) : NULL);
}

static gint compare_stitches(gconstpointer a, gconstpointer b)
{
	return tb_key_compare(*(const tb_stitch *const *)a, *(const tb_stitch *const *)b);
}

/* The stitches that are worked, in the order of the key. Borrowed stitches. */
static GPtrArray *list_used(const tb_sheet *sheet)
{
	GPtrArray *list = g_ptr_array_new();
	for (unsigned i = 0; i < tb_library_count(sheet->pattern->library); i++)
		if (sheet->used[i])
			g_ptr_array_add(list, (gpointer)tb_library_get(sheet->pattern->library, i));
	g_ptr_array_sort(list, compare_stitches);
	return list;
}

static void add_abbreviations(tb_sheet *sheet, const GPtrArray *stitches)
{
	bool uk = sheet->options.uk_terms;
	unsigned columns = sheet->options.large_print ? 3 : 4;
	g_autoptr(GPtrArray) cells = g_ptr_array_new_with_free_func(g_free);
	g_autoptr(GPtrArray) links = g_ptr_array_new_with_free_func(g_free);
	add_row(cells, uk, columns, "US", "means", "UK", "means");
	add_links(links, columns, NULL);
	for (guint i = 0; i < stitches->len; i++) {
		const tb_stitch *stitch = g_ptr_array_index(stitches, i);
		add_row(cells, uk, columns, stitch->us, stitch->us_name, stitch->uk, stitch->uk_name);
		g_autofree char *link = g_strdup_printf("key-%u", stitch->number);
		add_links(links, columns, sheet->charted[stitch->number] ? link : NULL);
	}
	for (size_t i = 0; i < G_N_ELEMENTS(WORDS); i++) {
		bool found = false;
		for (guint k = 0; sheet->rows[k] != NULL && !found; k++)
			found = has_word(sheet->rows[k], WORDS[i].words);
		if (!found)
			continue;
		add_row(cells, uk, columns, WORDS[i].us, WORDS[i].us_name, WORDS[i].uk, WORDS[i].uk_name);
		add_links(links, columns, NULL);
	}
	tb_galley_heading(&sheet->galley, "Abbreviations", 1);
	tb_galley_table(&sheet->galley, cells, columns, columns, (const char *const *)links->pdata);
}

static void add_special(tb_sheet *sheet, const GPtrArray *stitches)
{
	bool uk = sheet->options.uk_terms, any = false;
	for (guint i = 0; i < stitches->len; i++) {
		const tb_stitch *stitch = g_ptr_array_index(stitches, i);
		if (!tb_key_is_special(stitch))
			continue;
		if (!any)
			tb_galley_heading(&sheet->galley, "Special stitches", 1);
		any = true;
		g_autofree char *moves = tb_stitch_describe(stitch, uk);
		g_autofree char *head = g_strdup_printf("%s (%s):", uk ? stitch->uk : stitch->us,
			uk ? stitch->uk_name : stitch->us_name);
		g_autofree char *said = g_strdup_printf("%s.", moves);
		const tb_run_of_text runs[] = {{head, true}, {said, false}};
		tb_galley_runs(&sheet->galley, runs, 2, 0, sheet->galley.measured,
			1.2 * sheet->galley.type.body, sheet->galley.type.body);
	}
}

void tb_sheet_add_words(tb_sheet *sheet)
{
	g_autoptr(GPtrArray) stitches = list_used(sheet);
	add_abbreviations(sheet, stitches);
	add_special(sheet, stitches);
}
