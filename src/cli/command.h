/*
 * The program's side of the house: one file a command, and what the commands share.
 *
 * main.c finds the command. Its options are read (options.c) and the files it will write are named
 * (outputs.c), so that a command line that is wrong is refused before a pattern is opened. Then
 * each pattern goes the one way through make.c: it is loaded (load.c), the command makes its result,
 * the faults are told, the result is written. Nothing here knows how any of it is done.
 */
#ifndef TB_CLI_COMMAND_H
#define TB_CLI_COMMAND_H

#include <tambour/chart.h>
#include <tambour/fabric.h>
#include <tambour/output.h>
#include <tambour/sheet.h>

/* Exit status; other people's scripts rely on it. Of several patterns the highest counts. */
enum {
	TB_EXIT_DONE = 0,
	TB_EXIT_PATTERN = 1, /* the pattern has errors */
	TB_EXIT_USAGE = 2,   /* the command line is wrong */
	TB_EXIT_FILE = 3,    /* a file could not be read or written */
};

typedef struct tb_command tb_command;
typedef struct tb_progress tb_progress;

/* What a command's options say; strings NULL and numbers 0 where not given. Owned. */
typedef struct {
	char **inputs;          /* the patterns, "-" is standard input; NULL for a command without */
	char *output;           /* as it was given: {} in it stands for a pattern's own name */
	char *piece, *size;     /* names, looked up in each pattern */
	char *title;
	tb_chart_options chart; /* what is the same for every pattern; title borrowed */
	tb_paper paper, fit_paper;
	bool has_paper, has_fit;
	unsigned across, down;  /* sheets of a poster */
	double dpi;
	gboolean full, json, remarks, watch, large_print, practice;
} tb_options;

/* A pattern that was read and worked; members stay NULL where that failed. */
typedef struct {
	tb_source *source;
	tb_diagnostics *diagnostics;
	tb_pattern *pattern;
	tb_worked *worked;
} tb_loaded;

/* One pattern, and what a command makes its result from. All borrowed but what was loaded. */
typedef struct {
	const tb_options *options;
	const char *input, *output; /* "-" is standard input and output */
	tb_loaded loaded;
	tb_chart_options chart;     /* the options', with the piece and size of this pattern */
	int piece;                  /* the one asked for, or -1 */
	tb_text_measure measure;    /* of the fonts; for commands that draw */
	tb_progress *progress;
} tb_job;

struct tb_command {
	const char *name;
	const char *arguments; /* "PATTERN... -o FILE" */
	const char *summary;
	unsigned options;      /* its bit in the table of options */
	const char *product;   /* "a chart" */
	const char *endings;   /* ".svg, .pdf or .png": what the name of a file to write ends in */
	bool any_ending;       /* that is usage, no rule */
	bool writes;           /* to -o; else its result is a text for standard output */
	bool draws;            /* needs fonts */
	bool despite_errors;   /* has a result also where the pattern has errors */
	/* Whether options agree with each other; false, having said why not. NULL: always. */
	bool (*agree)(const tb_options *options);
	/* The result, owned. NULL where the faults say why, or with *error set. */
	GByteArray *(*make)(tb_job *job, GError **error);
	/* What is written instead where the pattern has errors, or NULL. */
	GByteArray *(*make_faults)(tb_job *job);
	/* Instead of MAKE, for a command that reads no pattern. */
	int (*run)(int argc, char **argv);
};

extern const tb_command tb_command_check;
extern const tb_command tb_command_chart;
extern const tb_command tb_command_rows;
extern const tb_command tb_command_sheet;
extern const tb_command tb_command_poster;
extern const tb_command tb_command_page;
extern const tb_command tb_command_symbols;

/* --- complain.c --- */

/* A line on standard error, behind the program's name. Always false. */
bool tb_complain(const char *format, ...) G_GNUC_PRINTF(1, 2);

/* --- options.c and values.c --- */

/* The bits of tb_command.options. */
enum {
	TB_OF_CHECK = 1 << 0,
	TB_OF_ROWS = 1 << 1,
	TB_OF_CHART = 1 << 2,
	TB_OF_SHEET = 1 << 3,
	TB_OF_POSTER = 1 << 4,
	TB_OF_PAGE = 1 << 5,
	TB_OF_SYMBOLS = 1 << 6,
};

/*
 * Reads a command's options and the names of its patterns. On a mistake says so on standard error
 * and returns false. Either way, OPTIONS is to be finished.
 */
bool tb_options_read(const tb_command *command, int argc, char **argv, tb_options *options);
void tb_options_finish(tb_options *options);

/*
 * Finds the piece and the size that the options name in the job's pattern, which was read. False
 * when there is none of that name, having said so.
 */
bool tb_options_fit(tb_job *job);

/* Readers of values, as GOptionArgFunc; DATA is the tb_options. */
gboolean tb_value_choice(const char *option, const char *value, gpointer data, GError **error);
gboolean tb_value_view(const char *option, const char *value, gpointer data, GError **error);
gboolean tb_value_rows(const char *option, const char *value, gpointer data, GError **error);
gboolean tb_value_width(const char *option, const char *value, gpointer data, GError **error);
gboolean tb_value_sheets(const char *option, const char *value, gpointer data, GError **error);
gboolean tb_value_output(const char *option, const char *value, gpointer data, GError **error);
gboolean tb_value_paper(const char *option, const char *value, gpointer data, GError **error);

/* --- outputs.c --- */

/* What comes after the last point of a file's name, borrowed; "-" is SVG. */
const char *tb_outputs_extension(const char *path);
/* Whether COMMAND writes files of PATH's ending; false, having said what it writes. */
bool tb_outputs_is_kind(const tb_command *command, const char *path);
/*
 * The file that each pattern's result goes to, an owned list, in *outputs. TB_EXIT_DONE; or another
 * status, having said why: two results in one place, a pattern that would be written over
 * (TB_EXIT_USAGE), a folder that is not there (TB_EXIT_FILE).
 */
int tb_outputs_plan(const tb_command *command, const tb_options *options, char ***outputs);

/* --- load.c --- */

/*
 * Reads and works the pattern file PATH ("-": standard input) with LIBRARY, to which its own
 * stitches are added. TB_EXIT_DONE or TB_EXIT_FILE.
 */
int tb_load(const char *path, tb_library *library, tb_progress *progress, tb_loaded *loaded);
/* Prints all faults on standard error; TB_EXIT_PATTERN when one is an error. */
int tb_loaded_report(tb_loaded *loaded, tb_progress *progress);
void tb_loaded_finish(tb_loaded *loaded);

/* --- make.c --- */

/* Makes the command's result of every pattern named, one after the other. An exit status. */
int tb_make(const tb_command *command, int argc, char **argv);
/* The PDF of PAGES, owned; NULL with *error set. */
GByteArray *tb_make_pdf(tb_job *job, const tb_pages *pages, GError **error);

/* --- progress.c --- */

/*
 * For whoever waits at a terminal: a line that is rewritten in place, from a second after the
 * start. NULL, which all the others take, where standard error is no terminal that can do so.
 */
tb_progress *tb_progress_begin(void);
/* The pattern now at hand, which is read first. The first is NUMBER 1. */
void tb_progress_pattern(tb_progress *progress, unsigned number, unsigned count, const char *path);
/* What is done now: "drawing". A constant. */
void tb_progress_step(tb_progress *progress, const char *step);
/* Takes the line away until the next step: always before anything is printed. */
void tb_progress_hide(tb_progress *progress);
/* Takes it away for good, and frees. */
void tb_progress_end(tb_progress *progress);

/* --- watch.c --- */

/*
 * Calls BUILD, and again whenever the file PATH is saved, also when another file takes its place,
 * until the program is interrupted: then it is done. Returns only where the command line is wrong.
 */
int tb_watch(const char *path, int (*build)(void *data), void *data);

#endif
