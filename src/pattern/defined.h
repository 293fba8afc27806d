/* Stitches that the pattern's words make, by names that are looser than what is built in. */
#ifndef TB_PATTERN_DEFINED_H
#define TB_PATTERN_DEFINED_H

#include "pattern/pattern.h"
#include "stitches/stitch.h"

/* "Bobble: 3 dc together in one st" */
typedef struct {
	const tb_stitch *stitch; /* what the words make; NULL when no such stitch is known, or UNCLEAR */
	char *said;              /* that in words, "3 dc" */
	bool unclear;            /* they count something, and it is not understood what */
} tb_defined;

/*
 * Whether TERM, found to be STITCH, leaves open how many legs or chains that has: "bobble", which is
 * of 5 dc where nothing is said, and not "5-dc bobble".
 */
bool tb_defined_is_open(const tb_library *library, const tb_stitch *stitch, const char *term);

/* What the pattern's words make of STITCH where its name leaves that open; NULL when nothing. */
const tb_defined *tb_defined_find(const tb_pattern *pattern, const tb_stitch *stitch);

/* Finds what TEXT, notes or a description, says of such stitches. TEXT may be NULL. */
void tb_defined_read(tb_pattern *pattern, const char *text);

#endif
