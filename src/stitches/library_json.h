/* One stitch of the library's JSON, for readers that have parsed the text already. */
#ifndef TB_STITCHES_LIBRARY_JSON_H
#define TB_STITCHES_LIBRARY_JSON_H

#include "support/diagnose.h"

#include <tambour/stitches.h>

#include <cjson/cJSON.h>

/*
 * Adds the stitch ITEM describes, in the format of symbols/. Faults are told at WHERE. A pattern's
 * own stitch may stand in for one that is built in, or take another spelling of one, but not what
 * another of its own is called. False, and nothing added, when there was a fault.
 */
bool tb_library_add_cjson(tb_library *library, const cJSON *item, const tb_where *where,
	tb_diagnostics *diagnostics);

#endif
