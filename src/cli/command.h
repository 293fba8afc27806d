/*
 * The program's side of the house: one file a command, and what the commands share.
 *
 * main.c finds the command; the command reads its options (options.c), loads the pattern (load.c),
 * and hands its result to an output. Nothing here knows how any of it is done.
 */
#ifndef TB_CLI_COMMAND_H
#define TB_CLI_COMMAND_H

#include <tambour/chart.h>
#include <tambour/fabric.h>
#include <tambour/output.h>
#include <tambour/sheet.h>

/* Exit status; other people's scripts rely on it. */
enum {
	TB_EXIT_DONE = 0,
	TB_EXIT_PATTERN = 1, /* the pattern has errors */
	TB_EXIT_USAGE = 2,   /* the command line is wrong */
	TB_EXIT_FILE = 3,    /* a file could not be read or written */
};

typedef struct {
	const char *name;
	const char *arguments; /* "PATTERN -o FILE" */
	const char *summary;
	int (*run)(int argc, char **argv);
} tb_command;

extern const tb_command tb_command_check;
extern const tb_command tb_command_chart;
extern const tb_command tb_command_rows;
extern const tb_command tb_command_sheet;
extern const tb_command tb_command_poster;
extern const tb_command tb_command_page;
extern const tb_command tb_command_symbols;

/* A pattern that was read and worked; members stay NULL where that failed. */
typedef struct {
	tb_source *source;
	tb_library *library;
	tb_diagnostics *diagnostics;
	tb_pattern *pattern;
	tb_worked *worked;
} tb_loaded;

/* Reads and works the pattern file PATH ("-": standard input). TB_EXIT_DONE or TB_EXIT_FILE. */
int tb_load(const char *path, tb_loaded *loaded);
/* Prints all faults on standard error; TB_EXIT_PATTERN when one is an error. */
int tb_loaded_report(tb_loaded *loaded);
void tb_loaded_finish(tb_loaded *loaded);

/* What the commands' options say; strings NULL and numbers 0 where not given. Owned. */
typedef struct {
	char *input, *output;
	char *piece, *rows, *size, *terms, *hand, *ink, *scale, *view, *stitch_width, *title;
	char *paper, *sheets, *fit;
	double dpi;
	gboolean full, json, watch, large_print, practice;
} tb_options;

/*
 * Reads a command's options, and its one PATTERN. On a mistake says so on standard error and
 * returns false. NEEDS_OUTPUT: -o must be given.
 */
bool tb_options_read(const tb_command *command, int argc, char **argv, bool needs_output,
	tb_options *options);
void tb_options_finish(tb_options *options);

/* The options of a chart, checked against the pattern; false when one is wrong, said on standard
 * error. Strings of RESULT are borrowed from OPTIONS. */
bool tb_options_chart(const tb_options *options, const tb_pattern *pattern,
	tb_chart_options *result);

/* The piece named by --piece, or -1 when none was given; false when there is no such piece. */
bool tb_options_piece(const tb_options *options, const tb_pattern *pattern, int *piece);

/* --- print.c: what the commands that print share --- */

/* The paper that OPTION names; PAPER stays as it is where VALUE is NULL. False: there is none. */
bool tb_print_paper(const char *option, const char *value, tb_paper *paper);
/*
 * Reads the options and the pattern, and calls PRINT, which lays pages out with the fonts' MEASURE,
 * or returns NULL with *STATUS set; writes what it returns. An exit status.
 */
int tb_print_run(const tb_command *command, int argc, char **argv,
	tb_pages *(*print)(tb_loaded *loaded, const tb_options *options,
		const tb_text_measure *measure, int *status));

/*
 * Calls BUILD, and again whenever the file PATH is saved, also when another file takes its place,
 * until the program is interrupted: then it is done. TB_EXIT_FILE when PATH cannot be watched.
 */
int tb_watch(const char *path, int (*build)(void *data), void *data);

/*
 * Makes a command's text, owned; NULL for none. Sets *STATUS to TB_EXIT_USAGE when an option is wrong,
 * having said so.
 */
typedef char *(*tb_text_fn)(tb_loaded *loaded, const tb_options *options, int *status);
/* Runs a command that prints a text: reads options and pattern, prints the text and the faults. */
int tb_text_run(const tb_command *command, int argc, char **argv, tb_text_fn make);

#endif
