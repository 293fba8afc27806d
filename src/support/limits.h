/*
 * Every limit on untrusted input, in one place. What is past one is told at its place, before the
 * time or memory for it is spent. How long a search for a nicer answer goes on before it settles
 * for a plainer one is no limit on what may be written, and stands beside the search.
 */
#ifndef TB_SUPPORT_LIMITS_H
#define TB_SUPPORT_LIMITS_H

#include <tambour/diagnostics.h>

/* --- the text --- */

#define TB_LIMIT_PATTERN_BYTES (4u * 1024u * 1024u)
#define TB_LIMIT_ROW_BYTES (64u * 1024u)
/* Repeats in repeats, and brackets in brackets of a JSON text. */
#define TB_LIMIT_NESTING 32u
/* Of a JSON text, whose tree takes far more memory than its text. */
#define TB_LIMIT_JSON_VALUES 250000u
/* Of a size, a piece; and of a stitch's term. */
#define TB_LIMIT_NAME_BYTES 200u
#define TB_LIMIT_TERM_BYTES 80u
/* A title, a designer, a licence, a hook, a yarn: what stands on a few lines of a print. */
#define TB_LIMIT_LINE_BYTES 4000u
/* What the pattern is about, and its notes. */
#define TB_LIMIT_PROSE_BYTES (64u * 1024u)
/* No sentence about where a piece begins is longer. */
#define TB_LIMIT_FROM_BYTES 2000u
/* Stitches of a text's own; the acts that one of them stands for, and those that all stand for in one row. */
#define TB_LIMIT_DEFINITIONS 1000u
#define TB_LIMIT_OWN_ACTS 500u
#define TB_LIMIT_ROW_OWN_ACTS 50000u
/* Of a row. */
#define TB_LIMIT_CLAIMS 1000u
/* Nobody mends more faults than this before looking again. */
#define TB_LIMIT_FAULTS 500u

/* --- the pattern --- */

/* Callers hold arrays of it, so the number itself is public. */
#define TB_LIMIT_SIZES TB_MAX_SIZES
/* A piece is known by its name, and so are the pieces a chart is asked of. */
#define TB_LIMIT_PIECES 1000u
#define TB_LIMIT_CHARTS 1000u
/* Far more than a book of stitches has; a stitch's number stays small in the fabric. */
#define TB_LIMIT_STITCHES 1000u
/* No number a pattern can mean is larger: a row ends at 100,000 stitches. */
#define TB_LIMIT_NUMBER 1000000
/* More stitches or rows to a length than any yarn makes, and the longest length they are counted
 * over. */
#define TB_LIMIT_GAUGE 1000.0
#define TB_LIMIT_GAUGE_MM 1000.0
/* Steel hooks begin near half a millimetre; the largest jumbo hooks are 30 mm (from memory). */
#define TB_LIMIT_HOOK_LEAST_MM 0.3
#define TB_LIMIT_HOOK_MM 60.0
/* A hundred metres of "until piece measures". */
#define TB_LIMIT_MEASURE_MM 100000.0
#define TB_LIMIT_ROWS_BELOW 100

/* --- the fabric --- */

#define TB_LIMIT_ROW_STITCHES 100000u
#define TB_LIMIT_PIECE_ROWS 100000u
/* Of all pieces in all sizes. */
#define TB_LIMIT_ALL_STITCHES 20000000u
/* More acts and searches than any fabric within the limits needs; a hostile pattern is not worked
 * forever. */
#define TB_LIMIT_STEPS (4ull * TB_LIMIT_ALL_STITCHES)

/*
 * What working may keep in memory: the stitches, rows and bases of all pieces and sizes, and the rows read and
 * chosen. 20,000,000 stitches are 400 MB of it; 24 sizes of rows of one stitch are far more than that a stitch.
 */
#define TB_LIMIT_WORKING_BYTES (480ull * 1024 * 1024)

/* --- a designer's own stitch --- */

#define TB_LIMIT_STITCH_HEIGHT 20
#define TB_LIMIT_STITCH_TAKES 20u
#define TB_LIMIT_MOVES 200u
#define TB_LIMIT_LOOPS 100u
#define TB_LIMIT_SYMBOL_LEGS 12
#define TB_LIMIT_SYMBOL_BARS 8
#define TB_LIMIT_SYMBOL_CHAINS 12
/* Of a symbol's path: its text, its parts (an arc is up to four), a figure in it, and how far it
 * goes, so that no sum of coordinates loses its meaning. */
#define TB_LIMIT_PATH_BYTES 20000u
#define TB_LIMIT_PATH_SEGMENTS 1000u
#define TB_LIMIT_PATH_FIGURE_BYTES 40u
#define TB_LIMIT_PATH_FARTHEST 1e6
/* In heights of the symbol, from its base: a wide shell stays well within. */
#define TB_LIMIT_PATH_REACH 20.0

/* --- the outputs --- */

/*
 * What the charts of one output may take, laid out, drawn and written: measured, a stitch takes 600 bytes in an SVG
 * of rows, half as much in the others; one that is laid out, but lies in a repeat that is shown once, few.
 */
#define TB_LIMIT_DRAWING_BYTES (768ull * 1024 * 1024)
#define TB_DRAWING_STITCH_BYTES 640u
#define TB_DRAWING_FOLDED_BYTES 32u

/* Cells nobody could mean. */
#define TB_LIMIT_STITCH_WIDTH_LEAST_MM 1.0
#define TB_LIMIT_STITCH_WIDTH_MM 400.0
/* Sheets in all, and side by side. */
#define TB_LIMIT_POSTER_SHEETS 120u
#define TB_LIMIT_POSTER_SIDE 20u
/* In units of Cairo, which keeps 24 bits before the point: 2^23 = 8,388,608. */
#define TB_LIMIT_REACH 8.0e6
#define TB_LIMIT_DPI_LEAST 1.0
#define TB_LIMIT_DPI 10000.0
/* Of a picture's side: Cairo's images end here, and so do many readers'. */
#define TB_LIMIT_PNG_PIXELS 32767
/* The sides a page may have, in points (PDF Reference, appendix C, implementation limits). */
#define TB_LIMIT_PDF_LEAST_POINTS 3.0
#define TB_LIMIT_PDF_POINTS 14400.0

/* Fuzzing tries very many small inputs, none of which may be much work. */
#ifdef FUZZING_BUILD_MODE_UNSAFE_FOR_PRODUCTION
#undef TB_LIMIT_ROW_STITCHES
#undef TB_LIMIT_PIECES
#undef TB_LIMIT_PIECE_ROWS
#undef TB_LIMIT_ALL_STITCHES
#define TB_LIMIT_ROW_STITCHES 400u
#define TB_LIMIT_PIECES 12u
#define TB_LIMIT_PIECE_ROWS 200u
#define TB_LIMIT_ALL_STITCHES 10000u
#endif

#endif
