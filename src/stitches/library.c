/*
 * The stitch library.
 *
 * Stitches are data: JSON files in symbols/, compiled into the program, read in the order of their
 * names when a library is created. Each says its terms, its height, its moves on the hook and the
 * anatomy of its symbol; library_json.c reads and checks them, moves.c simulates the loops. A
 * stitch never changes after it was added; a pattern's own stitches are added behind the others and
 * found first. Marks (magic ring, fasten off) are drawn like stitches but are none: they stand in a
 * list of their own.
 */
#include "stitches/stitch.h"
#include "stitches/symbols.h"
#include "support/limits.h"

#include <string.h>

void tb_stitch_destroy(tb_stitch *stitch)
{
	if (stitch == NULL)
		return;
	g_free(stitch->us);
	g_free(stitch->us_name);
	g_free(stitch->uk);
	g_free(stitch->uk_name);
	tb_moves_destroy(stitch->moves);
	tb_symbol_path_destroy(stitch->path);
	g_free(stitch);
}

static int compare_names(gconstpointer a, gconstpointer b)
{
	return strcmp(*(const char *const *)a, *(const char *const *)b);
}

/* The built-in data is ours, so a fault in it is a fault of the program. */
static void add_file(tb_library *library, const char *name)
{
	g_autofree char *path = g_strconcat("/tambour/symbols/", name, NULL);
	g_autoptr(GError) error = NULL;
	g_autoptr(GBytes) bytes = g_resource_lookup_data(tb_symbols_get_resource(), path,
		G_RESOURCE_LOOKUP_FLAGS_NONE, &error);
	if (bytes == NULL)
		g_error("%s: %s", path, error->message);
	gsize length;
	const char *text = g_bytes_get_data(bytes, &length);
	g_autoptr(tb_source) source = tb_source_create(name, text, length);
	g_autoptr(tb_diagnostics) faults = tb_diagnostics_create(source);
	if (!tb_library_add_json(library, source, faults)) {
		g_autofree char *told = tb_diagnostics_format(faults);
		g_error("%s", told);
	}
}

tb_library *tb_library_create(void)
{
	tb_library *library = g_new0(tb_library, 1);
	library->stitches = g_ptr_array_new_with_free_func((GDestroyNotify)tb_stitch_destroy);
	library->marks = g_ptr_array_new_with_free_func((GDestroyNotify)tb_stitch_destroy);
	library->by_us = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);
	library->by_uk = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);

	g_auto(GStrv) names = g_resource_enumerate_children(tb_symbols_get_resource(),
		"/tambour/symbols", G_RESOURCE_LOOKUP_FLAGS_NONE, NULL);
	g_autoptr(GPtrArray) sorted = g_ptr_array_new();
	for (char **name = names; name != NULL && *name != NULL; name++) {
		if (g_str_has_suffix(*name, ".json"))
			g_ptr_array_add(sorted, *name);
	}
	g_ptr_array_sort(sorted, compare_names);
	for (guint i = 0; i < sorted->len; i++)
		add_file(library, sorted->pdata[i]);
	library->built_in = library->stitches->len;
	return library;
}

void tb_library_destroy(tb_library *library)
{
	if (library == NULL)
		return;
	g_hash_table_destroy(library->by_us);
	g_hash_table_destroy(library->by_uk);
	g_ptr_array_unref(library->stitches);
	g_ptr_array_unref(library->marks);
	g_free(library);
}

unsigned tb_library_count(const tb_library *library)
{
	return library->stitches->len;
}

const tb_stitch *tb_library_get(const tb_library *library, unsigned number)
{
	return number < library->stitches->len ? library->stitches->pdata[number] : NULL;
}

/* Lower case, one space between words, none at the ends. */
static char *term_key(const char *term)
{
	char *key = g_malloc(strlen(term) + 1);
	size_t length = 0;
	for (const char *c = term; *c != '\0'; c++) {
		if (!g_ascii_isspace(*c))
			key[length++] = g_ascii_tolower(*c);
		else if (length > 0 && key[length - 1] != ' ')
			key[length++] = ' ';
	}
	length -= length > 0 && key[length - 1] == ' ';
	key[length] = '\0';
	return key;
}

const tb_stitch *tb_library_find_term(const tb_library *library, const char *term, bool uk)
{
	GHashTable *table = uk ? library->by_uk : library->by_us;
	g_autofree char *key = term_key(term);
	const tb_stitch *stitch = g_hash_table_lookup(table, key);
	/* "double crochets", "slip stitches" */
	size_t length = strlen(key);
	if (stitch == NULL && length > 2 && key[length - 1] == 's') {
		key[length - 1] = '\0';
		stitch = g_hash_table_lookup(table, key);
		if (stitch == NULL && key[length - 2] == 'e') {
			key[length - 2] = '\0';
			stitch = g_hash_table_lookup(table, key);
		}
	}
	return stitch;
}

const tb_stitch *tb_library_find(const tb_library *library, const char *abbreviation)
{
	return tb_library_find_term(library, abbreviation, false);
}

const tb_stitch *tb_library_find_mark(const tb_library *library, const char *name)
{
	for (guint i = 0; i < library->marks->len; i++) {
		const tb_stitch *mark = library->marks->pdata[i];
		if (strcmp(mark->us, name) == 0)
			return mark;
	}
	return NULL;
}

const tb_stitch *tb_library_unread(tb_library *library)
{
	for (guint i = library->built_in; i < library->stitches->len; i++) {
		const tb_stitch *stitch = library->stitches->pdata[i];
		if (stitch->family == TB_FAMILY_MARKS)
			return stitch;
	}
	for (guint i = 0; i < library->marks->len && library->stitches->len < TB_LIMIT_STITCHES; i++) {
		tb_stitch *mark = library->marks->pdata[i];
		if (strcmp(mark->us, "unread stitch") != 0)
			continue;
		g_ptr_array_steal_index(library->marks, i);
		mark->number = library->stitches->len;
		g_ptr_array_add(library->stitches, mark);
		return mark;
	}
	return NULL;
}

const char *tb_stitch_get_us(const tb_stitch *stitch)
{
	return stitch->us;
}

const char *tb_stitch_get_us_name(const tb_stitch *stitch)
{
	return stitch->us_name;
}

const char *tb_stitch_get_uk(const tb_stitch *stitch)
{
	return stitch->uk;
}

const char *tb_stitch_get_uk_name(const tb_stitch *stitch)
{
	return stitch->uk_name;
}

double tb_stitch_get_height(const tb_stitch *stitch)
{
	return stitch->height;
}

void tb_stitch_get_loops(const tb_stitch *stitch, unsigned *most, unsigned *left)
{
	unsigned fault;
	*most = *left = 0;
	if (stitch->moves != NULL)
		tb_moves_simulate(stitch->moves, NULL, most, left, &fault);
}

bool tb_stitch_has_bead(const tb_stitch *stitch)
{
	return g_str_has_prefix(stitch->us, "bead ");
}

const tb_stitch *tb_library_beaded(const tb_library *library, const tb_stitch *stitch)
{
	g_autofree char *name = g_strconcat("bead ", stitch->us, NULL);
	const tb_stitch *beaded = tb_library_find(library, name);
	return beaded != NULL ? beaded : stitch;
}
