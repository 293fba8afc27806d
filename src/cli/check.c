#include "command.h"

#include <string.h>

static GByteArray *make(tb_job *job, GError **error)
{
	const tb_loaded *loaded = &job->loaded;
	char *text = job->options->remarks ? tb_check_remarks(loaded->worked) :
		job->options->json ?
		tb_check_json(loaded->worked, loaded->diagnostics, job->piece) :
		tb_check_text(loaded->worked, loaded->diagnostics, job->piece);
	return g_byte_array_new_take((guint8 *)text, strlen(text));
}

static bool agree(const tb_options *options)
{
	return !options->json || !options->remarks ||
		tb_complain("--json tells how every part was read; leave --remarks out");
}

const tb_command tb_command_check = {
	.name = "check",
	.arguments = "PATTERN...",
	.summary = "Counts of every row in every size, measurements, and faults.",
	.options = TB_OF_CHECK,
	.agree = agree,
	.despite_errors = true,
	.make = make,
};
