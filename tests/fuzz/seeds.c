/*
 * First inputs for the targets that are not fed with whole patterns, taken out of patterns:
 *
 *     fuzz_seeds FOLDER PATTERN...
 *
 * FOLDER/rows gets each piece's sizes, start and rows as rows.c reads them; FOLDER/stitches the list
 * of a pattern's own stitches; FOLDER/symbol_path their paths.
 */
#include "pattern/pattern.h"
#include "stitches/stitch.h"

#include <cjson/cJSON.h>
#include <stdio.h>
#include <string.h>

static void keep(const char *folder, const char *target, const char *text)
{
	g_autofree char *name = g_compute_checksum_for_string(G_CHECKSUM_SHA1, text, -1);
	g_autofree char *path = g_build_filename(folder, target, name, NULL);
	g_autoptr(GError) error = NULL;
	if (!g_file_set_contents(path, text, -1, &error))
		g_error("%s", error->message);
}

/* The row's characters, whatever parts an input's lines made blank; its count only when CLAIMED. */
static void append_line(GString *rows, const tb_text *text, bool claimed)
{
	g_autofree char *line = g_strdup(text != NULL ? text->chars : "");
	char *claim = strrchr(line, '[');
	if (!claimed && claim != NULL && strchr(claim, ']') != NULL && strstr(claim, " times") == NULL)
		*claim = '\0';
	g_string_append_printf(rows, "%s\n", g_strdelimit(line, "\n", ' '));
}

/* A row that claims no count can be changed, and still be right. */
static void keep_rows(const char *folder, const tb_pattern *pattern, bool claimed)
{
	for (unsigned i = 0; i < tb_pattern_count_pieces(pattern); i++) {
		const tb_piece *piece = tb_pattern_piece(pattern, i);
		g_autoptr(GString) rows = g_string_new(pattern->uk_terms ? "UK:" : "");
		for (unsigned k = 0; k < tb_pattern_count_sizes(pattern); k++)
			g_string_append_printf(rows, "%s%s", k > 0 ? "," : "", tb_pattern_get_size(pattern, k));
		g_string_append_c(rows, '\n');
		append_line(rows, piece->start, claimed);
		for (guint k = 0; k < piece->rows->len; k++)
			append_line(rows, piece->rows->pdata[k], claimed);
		keep(folder, "rows", rows->str);
	}
}

static void keep_stitches(const char *folder, const char *text)
{
	cJSON *json = cJSON_Parse(text);
	const cJSON *stitches = cJSON_GetObjectItemCaseSensitive(json, "stitches"), *stitch;
	if (stitches != NULL) {
		char *list = cJSON_Print(stitches);
		keep(folder, "stitches", list);
		cJSON_free(list);
	}
	cJSON_ArrayForEach(stitch, stitches)
	{
		const cJSON *symbol = cJSON_GetObjectItemCaseSensitive(stitch, "symbol");
		const cJSON *path = cJSON_GetObjectItemCaseSensitive(symbol, "path");
		if (cJSON_IsString(path))
			keep(folder, "symbol_path", path->valuestring);
	}
	cJSON_Delete(json);
}

static void keep_parts(const char *folder, const char *path)
{
	g_autofree char *text = NULL;
	gsize length;
	if (!g_file_get_contents(path, &text, &length, NULL))
		return;
	g_autoptr(tb_source) source = tb_source_create(path, text, length);
	g_autoptr(tb_library) library = tb_library_create();
	g_autoptr(tb_diagnostics) faults = tb_diagnostics_create(source);
	g_autoptr(tb_pattern) pattern = tb_pattern_read(source, library, faults);
	if (pattern != NULL) {
		keep_rows(folder, pattern, true);
		keep_rows(folder, pattern, false);
	}
	if (text[strspn(text, " \t\r\n")] == '{')
		keep_stitches(folder, text);
}

int main(int argc, char **argv)
{
	if (argc < 2)
		return 2;
	for (int i = 2; i < argc; i++)
		keep_parts(argv[1], argv[i]);
	return 0;
}
