/*
 * Written rows: the fabric said again in words, all sizes in brackets or one size's own numbers.
 */
#ifndef TAMBOUR_ROWS_H
#define TAMBOUR_ROWS_H

#include <tambour/fabric.h>

TB_BEGIN_DECLS

/*
 * The rows of piece number PIECE, a line each, the start first ("Ch 53 (57, 65)."), written from
 * what was worked and not from what the pattern said. SIZE is the number of the one size whose
 * numbers are written, or -1 for all sizes in brackets. With UK, in UK terms. Read again under the
 * same sizes and terms, the rows make the same fabric. A piece that grows from another begins with
 * a line that says so ("Work over sts 1-37 (41, 45) of Back.") in place of a start.
 *
 * Owned text; free with g_free. NULL, with GLib's critical warning, when there is no such piece or
 * size.
 */
char *tb_rows_text(const tb_worked *worked, int piece, int size, bool uk);

/*
 * The rows of every piece, each as tb_rows_text writes it, proven: they have been read and worked
 * again, and every stitch of every row came out as in WORKED, which must be free of errors. SIZE and
 * UK as above. It costs as much as tb_work does.
 *
 * Owned texts, one a piece and NULL behind the last; free with g_strfreev. NULL when the rows do not
 * come out the same, which is told as an error in DIAGNOSTICS: they must not be shown to anybody.
 * Also NULL, with GLib's critical warning, when there is no such size.
 */
char **tb_rows_texts(const tb_worked *worked, int size, bool uk, tb_diagnostics *diagnostics);

TB_END_DECLS

#endif
