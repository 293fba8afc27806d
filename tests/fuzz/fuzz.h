/*
 * What the fuzz targets share. A target is a function fed with one input after another, by
 * libFuzzer or by replay.c; what turns out untrue is printed, and ends the program.
 */
#ifndef TB_TESTS_FUZZ_H
#define TB_TESTS_FUZZ_H

#include "pattern/pattern.h"

#include <stddef.h>
#include <stdint.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

/* Ends the program, saying what was expected, unless HOLDS. */
void tb_fuzz_require(bool holds, const char *format, ...) G_GNUC_PRINTF(2, 3);

/*
 * The library as it is built in; kept from one input to the next, since reading it takes longer
 * than most inputs do, and read anew after an input that added a stitch. Borrowed.
 */
tb_library *tb_fuzz_library(void);

/* The places of all faults lie in the source, and what they say can be printed. */
void tb_fuzz_check_faults(tb_diagnostics *diagnostics);

/* What any pattern that was read keeps to, whatever it was read from. */
void tb_fuzz_check_pattern(const tb_pattern *pattern);

/* TEXT is JSON; WHAT says whose. */
void tb_fuzz_check_json(const char *text, const char *what);

#endif
