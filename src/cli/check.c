#include "command.h"

#include <string.h>

static GByteArray *make(tb_job *job, GError **error)
{
	const tb_loaded *loaded = &job->loaded;
	char *text = job->options->json ?
		tb_check_json(loaded->worked, loaded->diagnostics, job->piece) :
		tb_check_text(loaded->worked, loaded->diagnostics, job->piece);
	return g_byte_array_new_take((guint8 *)text, strlen(text));
}

const tb_command tb_command_check = {
	.name = "check",
	.arguments = "PATTERN...",
	.summary = "Counts of every row in every size, measurements, and faults.",
	.options = TB_OF_CHECK,
	.despite_errors = true,
	.make = make,
};
