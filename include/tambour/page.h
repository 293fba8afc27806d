/*
 * The learner's page: one HTML file that works offline, with the chart of every piece and size.
 */
#ifndef TAMBOUR_PAGE_H
#define TAMBOUR_PAGE_H

#include <tambour/chart.h>

G_BEGIN_DECLS

/* What the page shows when it is opened. Zeroed: all pieces, every size, right-handed, US terms. */
typedef struct {
	int piece;                    /* number + 1 of the one piece shown; 0: all */
	int size;                     /* number + 1 of the size chosen at first; 0: the first */
	unsigned first_row, last_row; /* charted; 0: the rows that are written out */
	bool left_handed, uk_terms, as_seen;
	bool watching;     /* the file is written again while it is open: the page looks for that */
	const char *title; /* NULL: the pattern's */
} tb_page_options;

/*
 * The page of WORKED, which must be free of errors. The charts' warnings go to DIAGNOSTICS. Owned
 * text (g_free), or NULL with *error set when a chart could not be drawn or nothing can be charted.
 */
char *tb_page_html(const tb_worked *worked, const tb_page_options *options,
	const tb_text_measure *measure, tb_diagnostics *diagnostics, GError **error);

/* A page that shows the faults of DIAGNOSTICS instead of a chart, and looks again. Owned: g_free. */
char *tb_page_faults(tb_diagnostics *diagnostics);

G_END_DECLS

#endif
