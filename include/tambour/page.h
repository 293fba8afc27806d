/*
 * The learner's page: one HTML file that works offline, with the chart of every piece and size.
 */
#ifndef TAMBOUR_PAGE_H
#define TAMBOUR_PAGE_H

#include <tambour/chart.h>

TB_BEGIN_DECLS

/* What the page shows when it is opened. Zeroed: all pieces, every size, right-handed, US terms. */
typedef struct {
	int piece;                    /* number + 1 of the one piece shown; 0: all */
	int size;                     /* number + 1 of the size chosen at first; 0: the first */
	unsigned first_row, last_row; /* charted; 0: the rows that are written out */
	bool left_handed, uk_terms;   /* at first; the reader may choose */
	tb_view view;                 /* what wrong side rows show */
	bool watching;     /* the file is written again while it is open: the page looks for that */
	const char *title; /* NULL: the pattern's */
} tb_page_options;

/*
 * The page of WORKED, which must be free of errors: what is shown would be worked from. The charts'
 * warnings go to DIAGNOSTICS; MEASURE is only asked meanwhile.
 *
 * Owned text, UTF-8 (g_free); or NULL with *error set (TB_OUTPUT_ERROR, output.h) when a chart
 * could not be drawn or nothing can be charted. ERROR may be NULL. NULL without it when the rows in
 * words do not hold (tb_rows_texts), an error having been added to DIAGNOSTICS. Also NULL, with
 * GLib's critical warning and no error, for a piece or size that the pattern does not have.
 */
char *tb_page_html(const tb_worked *worked, const tb_page_options *options,
	const tb_text_measure *measure, tb_diagnostics *diagnostics, GError **error);

/*
 * A page that shows the faults of DIAGNOSTICS instead of a chart, and looks again: what a watcher
 * writes while the pattern has errors. Never NULL. Owned text; free with g_free.
 */
char *tb_page_faults(tb_diagnostics *diagnostics);

TB_END_DECLS

#endif
