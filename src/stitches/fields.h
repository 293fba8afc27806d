/* The members of a stitch's JSON object, each read with its check; faults name the stitch. */
#ifndef TB_STITCHES_FIELDS_H
#define TB_STITCHES_FIELDS_H

#include "stitches/stitch.h"
#include "support/diagnose.h"

#include <cjson/cJSON.h>

typedef struct {
	const tb_where *where;
	tb_diagnostics *diagnostics;
	const char *us; /* of the stitch being read; NULL before it is known */
	bool sound; /* no fault so far */
} tb_fields;

void tb_fields_fault(tb_fields *r, const char *code, const char *hint, const char *format, ...)
	G_GNUC_PRINTF(4, 5);

/* Every key of OBJECT must be one of KEYS and stand once. */
void tb_fields_check_keys(tb_fields *r, const cJSON *object, const char *const *keys, size_t count);

bool tb_fields_is_term(const cJSON *item);
/* OTHERWISE stands where nothing is said; NULL when it must be. Owned, never NULL. */
char *tb_fields_read_term(
	tb_fields *r, const cJSON *object, const char *key, const char *otherwise);
/* OTHERWISE as above, below 0 when it must be said. */
double tb_fields_read_number(tb_fields *r, const cJSON *object, const char *key, double otherwise,
	double least, double most, bool whole);
/* Which of WORDS; the first where nothing is said. */
unsigned tb_fields_read_choice(
	tb_fields *r, const cJSON *object, const char *key, const char *const *words, unsigned count);

/* Reads the member "symbol" of OBJECT into STITCH. */
void tb_fields_read_symbol(tb_fields *r, const cJSON *object, tb_stitch *stitch);

#endif
