/*
 * The one way through the program. Every pattern is loaded and worked, the command makes its
 * result, the faults are told, the result is written; then comes the next. A pattern with faults, or
 * a file that cannot be read, does not keep the others from coming out.
 *
 * Patterns share the start of the program: the built-in stitches and the fonts. Nothing of one is
 * there for the next, so that each result is byte for byte that of a run of its own.
 */
#include "command.h"

#include <string.h>

typedef struct {
	const tb_command *command;
	const tb_options *options;
	char **outputs; /* NULL for standard output */
	unsigned count;
	tb_library *library;
	unsigned built_in; /* stitches in it before a pattern added its own */
	tb_type *type;     /* NULL before anything is drawn */
	tb_progress *progress;
	bool stopped;      /* what stands in the way of this pattern would of all */
} work;

/* A pattern's own stitches are not the next one's. */
static void ready_library(work *w)
{
	if (w->library != NULL && tb_library_count(w->library) == w->built_in)
		return;
	tb_library_destroy(w->library);
	w->library = tb_library_create();
	w->built_in = tb_library_count(w->library);
}

static bool ready_type(work *w)
{
	if (w->type == NULL) {
		tb_type_start_quickly();
		w->type = tb_type_create();
	}
	if (w->type != NULL)
		return true;
	w->stopped = true;
	tb_progress_hide(w->progress);
	return tb_complain("no font was found to write with");
}

/* The result, or NULL: *status is then TB_EXIT_DONE where the pattern's own faults say why. */
static GByteArray *make(work *w, tb_job *job, int *status)
{
	/* A chart of wrong counts would be taken for a right one. */
	if (!w->command->despite_errors && tb_diagnostics_count_errors(job->loaded.diagnostics) > 0)
		return NULL;
	unsigned unknown = 0;
	if (w->command->draws) {
		if (!ready_type(w)) {
			*status = TB_EXIT_FILE;
			return NULL;
		}
		job->measure = tb_type_get_measure(w->type);
		unknown = tb_type_count_unknown(w->type);
	}
	g_autoptr(GError) error = NULL;
	GByteArray *bytes = w->command->make(job, &error);
	if (error != NULL) {
		tb_progress_hide(w->progress);
		tb_complain("%s: %s", job->input, error->message);
		*status = TB_EXIT_FILE;
	}
	if (w->command->draws && tb_type_count_unknown(w->type) > unknown) {
		tb_progress_hide(w->progress);
		tb_complain("warning: %s: no font here has some of the letters to be written", job->input);
	}
	return bytes;
}

static int put(work *w, const tb_job *job, const GByteArray *bytes)
{
	bool standard = strcmp(job->output, "-") == 0;
	g_autoptr(GError) error = NULL;
	if (standard)
		tb_progress_hide(w->progress);
	else
		tb_progress_step(w->progress, "writing");
	if (tb_output_write(job->output, bytes->data, bytes->len, &error))
		return TB_EXIT_DONE;
	tb_progress_hide(w->progress);
	/* Nobody is listening any more, or the disk behind it is full. */
	w->stopped = standard;
	tb_complain("%s", error->message);
	return TB_EXIT_FILE;
}

static int make_and_put(work *w, tb_job *job)
{
	int status = TB_EXIT_DONE;
	g_autoptr(GByteArray) bytes = NULL;
	bool fits = job->loaded.worked == NULL || tb_options_fit(job);
	if (job->loaded.worked != NULL && fits)
		bytes = make(w, job, &status);
	int told = tb_loaded_report(&job->loaded, w->progress);
	/* What was not found may be what could not be read: then it is the pattern's fault. */
	if (!fits && told == TB_EXIT_DONE)
		status = TB_EXIT_USAGE;
	if (bytes == NULL && told == TB_EXIT_PATTERN && w->command->make_faults != NULL)
		bytes = w->command->make_faults(job);
	int written = bytes != NULL ? put(w, job, bytes) : TB_EXIT_DONE;
	return MAX(MAX(status, told), written);
}

/* Which of several patterns the text below is about. */
static int put_name(work *w, const tb_job *job, bool first)
{
	g_autofree char *line = g_strdup_printf("%s==> %s <==\n", first ? "" : "\n", job->input);
	g_autoptr(GByteArray) bytes = g_byte_array_new_take((guint8 *)g_strdup(line), strlen(line));
	return put(w, job, bytes);
}

static int make_one(work *w, unsigned i)
{
	tb_job job = {
		.options = w->options,
		.input = w->options->inputs[i],
		.output = w->outputs != NULL ? w->outputs[i] : "-",
		.progress = w->progress,
	};
	ready_library(w);
	tb_progress_pattern(w->progress, i + 1, w->count, job.input);
	if (w->outputs == NULL && w->count > 1 && put_name(w, &job, i == 0) != TB_EXIT_DONE)
		return TB_EXIT_FILE;
	int status = tb_load(job.input, w->library, w->progress, &job.loaded);
	if (status == TB_EXIT_DONE)
		status = make_and_put(w, &job);
	tb_loaded_finish(&job.loaded);
	return status;
}

static int make_all(void *data)
{
	work *w = data;
	int status = TB_EXIT_DONE;
	unsigned failed = 0;
	w->progress = tb_progress_begin();
	for (unsigned i = 0; i < w->count && !w->stopped; i++) {
		int one = make_one(w, i);
		failed += one != TB_EXIT_DONE;
		status = MAX(status, one);
	}
	tb_progress_end(w->progress);
	if (w->count > 1 && failed > 0 && !w->stopped)
		tb_complain("%u of %u patterns did not come out", failed, w->count);
	w->stopped = false;
	return status;
}

int tb_make(const tb_command *command, int argc, char **argv)
{
	tb_options options;
	g_auto(GStrv) outputs = NULL;
	int status = TB_EXIT_USAGE;
	if (tb_options_read(command, argc, argv, &options))
		status = command->writes ? tb_outputs_plan(command, &options, &outputs) : TB_EXIT_DONE;
	if (status == TB_EXIT_DONE) {
		work w = {.command = command, .options = &options, .outputs = outputs,
			.count = g_strv_length(options.inputs)};
		status = options.watch ? tb_watch(options.inputs[0], make_all, &w) : make_all(&w);
		tb_type_destroy(w.type);
		tb_library_destroy(w.library);
	}
	tb_options_finish(&options);
	return status;
}
