/*
 * The whole library.
 *
 * A pattern goes one way through it, and each step borrows what the step before made:
 *
 *     tb_source, tb_library    the text, and the stitches it may name
 *     tb_pattern_read          what the designer wrote, checked for form      (pattern.h)
 *     tb_work                  the stitches that the rows make, in every size (fabric.h)
 *     tb_chart_create          those, laid out in millimetres                 (chart.h)
 *     tb_chart_draw            those, drawn                                   (chart.h)
 *     tb_output_render         the bytes of a file                            (output.h)
 *
 * so keep each until the last of them is done, and destroy them in the opposite order. Everything
 * that is wrong with a pattern is added to one list on the way (diagnostics.h); look whether it has
 * errors before you chart. examples/embed.c goes the whole way.
 *
 * Ownership is in the verb. What create, read, work or draw returns is yours: free it with the
 * destroy function of its type, which takes NULL and does nothing then. GLib's g_autoptr works with
 * every type. Texts and bytes that are yours say how they are freed. What get and find return is
 * borrowed, and lives as long as what it was asked of, unless it is said otherwise.
 *
 * Arguments may be NULL only where it says so. All text is UTF-8. Sizes, pieces and stitches are
 * numbered from 0 where a function takes a number, rows from 1 as in the pattern. A number that is
 * out of range is a mistake of the calling program: GLib tells it as a critical warning, and the
 * result is NULL (or 0); getters of a numbered thing answer NULL and say nothing. Options are
 * structs; set them to zero and change what you mean to: zero is always what is plain.
 *
 * Threads: nothing in the library is global, so that as many threads as you like may use it at
 * once, each with its own source, library, diagnostics and what is made from them. One such set
 * belongs to one thread at a time.
 *
 * Locale: no result depends on it; only in the messages of tb_output_write the system may speak its
 * own language. The library itself reads nothing from the environment but SOURCE_DATE_EPOCH, in
 * tb_output_time. Where memory ends, GLib ends the program.
 */
#ifndef TAMBOUR_TAMBOUR_H
#define TAMBOUR_TAMBOUR_H

#include <tambour/chart.h>
#include <tambour/diagnostics.h>
#include <tambour/fabric.h>
#include <tambour/output.h>
#include <tambour/page.h>
#include <tambour/pattern.h>
#include <tambour/rows.h>
#include <tambour/sheet.h>
#include <tambour/specimen.h>
#include <tambour/stitches.h>

#endif
