/*
 * Where everything in a JSON text stands. cJSON keeps no positions, so the same text is walked
 * here, strictly, and every value and key remembered in document order; the cJSON tree, walked in
 * the same order, then gives each of its items its place.
 */
#ifndef TB_PATTERN_JSON_PLACES_H
#define TB_PATTERN_JSON_PLACES_H

#include "support/text.h"

#include <cjson/cJSON.h>

typedef struct tb_json tb_json;

/*
 * Reads the JSON text that SOURCE holds. Faults (syntax, nesting, repeated keys, strings that are
 * no text) go to DIAGNOSTICS. NULL when the text could not be read at all; owned otherwise.
 */
tb_json *tb_json_read(const tb_source *source, tb_diagnostics *diagnostics);
void tb_json_destroy(tb_json *json);

const cJSON *tb_json_root(const tb_json *json);

/* The bytes of an item's value, quotes included; of its key, quotes included (empty: no key). */
tb_span tb_json_value(const tb_json *json, const cJSON *item);
tb_span tb_json_key(const tb_json *json, const cJSON *item);

/* A string item as a text that knows its place. Owned. */
tb_text *tb_json_text(const tb_json *json, const cJSON *item);

G_DEFINE_AUTOPTR_CLEANUP_FUNC(tb_json, tb_json_destroy)

#endif
