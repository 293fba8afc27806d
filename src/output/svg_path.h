/* The points of an SVG path, said shorter: the same picture in a third of the bytes. */
#ifndef TB_OUTPUT_SVG_PATH_H
#define TB_OUTPUT_SVG_PATH_H

#include <glib.h>
#include <stdbool.h>

/*
 * Appends to OUT the path DATA, LENGTH bytes as Cairo writes them ("M 1.5 2 L 1.5 4.25 "), with
 * points told from the one before and numbers to a thousandth, which is finer than the 1/256 that
 * Cairo keeps. What is not understood is copied as it is.
 */
void tb_svg_put_path(GByteArray *out, const char *data, gsize length);

/*
 * Reads a number of plain figures at *AT, blanks before it allowed, and moves *AT behind it. False, with
 * *AT anywhere before END, when there is none.
 */
bool tb_svg_read_thousandths(const char **at, const char *end, gint64 *value);

/* Appends a number without noughts that say nothing: "-.25". */
void tb_svg_put_thousandths(GByteArray *out, gint64 value);

#endif
