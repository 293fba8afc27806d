#include "command.h"

#include <string.h>
#include <tambour/rows.h>

/* One piece alone, or all of them, each under its name. */
static char *write_pieces(const tb_loaded *loaded, int piece, char *const *rows)
{
	GString *text = g_string_new(NULL);
	unsigned count = tb_pattern_count_pieces(loaded->pattern);
	for (unsigned i = 0; i < count; i++) {
		if (piece >= 0 && (unsigned)piece != i)
			continue;
		if (piece < 0 && count > 1) {
			g_autofree char *name = g_utf8_strup(tb_pattern_get_piece(loaded->pattern, i), -1);
			g_string_append_printf(text, "%s%s\n", i > 0 ? "\n" : "", name);
		}
		g_string_append(text, rows[i]);
	}
	return g_string_free(text, FALSE);
}

static GByteArray *make(tb_job *job, GError **error)
{
	g_auto(GStrv) rows = tb_rows_texts(job->loaded.worked, job->chart.size - 1, job->chart.uk_terms,
		job->loaded.diagnostics);
	if (rows == NULL)
		return NULL;
	char *text = write_pieces(&job->loaded, job->piece, rows);
	return g_byte_array_new_take((guint8 *)text, strlen(text));
}

const tb_command tb_command_rows = {
	.name = "rows",
	.arguments = "PATTERN...",
	.summary = "The written rows, from the fabric, all sizes in brackets.",
	.options = TB_OF_ROWS,
	.make = make,
};
