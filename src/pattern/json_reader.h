/* What the parts of the JSON reader share. */
#ifndef TB_PATTERN_JSON_READER_H
#define TB_PATTERN_JSON_READER_H

#include "pattern/json_places.h"
#include "pattern/read.h"

typedef struct {
	tb_pattern *pattern;
	const tb_json *json;
	tb_diagnostics *diagnostics;
} tb_json_reader;

/* A fault at ITEM's value. HINT may be NULL. */
void tb_json_fault(const tb_json_reader *reader, const cJSON *item, const char *code,
	const char *hint, const char *format, ...) G_GNUC_PRINTF(5, 6);
/* The same at ITEM's key. */
void tb_json_fault_key(const tb_json_reader *reader, const cJSON *item, const char *code,
	const char *hint, const char *format, ...) G_GNUC_PRINTF(5, 6);

/* Every key of OBJECT that is none of KEYS (COUNT of them) is a fault. True when there is none. */
bool tb_json_check_keys(const tb_json_reader *reader, const cJSON *object,
	const char *const *keys, size_t count);

/*
 * The member KEY of OBJECT when it is there and of the kind wanted, else NULL. Of another kind it is
 * a fault.
 */
const cJSON *tb_json_get_string(const tb_json_reader *reader, const cJSON *object, const char *key);
const cJSON *tb_json_get_number(const tb_json_reader *reader, const cJSON *object, const char *key);
const cJSON *tb_json_get_list(const tb_json_reader *reader, const cJSON *object, const char *key);
const cJSON *tb_json_get_object(const tb_json_reader *reader, const cJSON *object, const char *key);

/* Whether the text ITEM has at most MOST bytes; a fault else. */
bool tb_json_check_length(const tb_json_reader *reader, const cJSON *item, size_t most);

/* json_reads.c: how the source is read, and which read ITEM is. */
void tb_json_add_reads(const tb_json_reader *reader, const cJSON *root);
guint tb_json_find_read(const tb_json_reader *reader, const cJSON *item);

/* json_finished.c: {"width": [42, 46], "unit": "cm"} of ITEM, of the piece called PIECE or, NULL, of the whole. */
void tb_json_read_finished(const tb_json_reader *reader, const cJSON *item, const char *piece);

/* The pieces and the charts of a pattern. */
void tb_json_read_pieces(const tb_json_reader *reader, const cJSON *root);
void tb_json_read_charts(const tb_json_reader *reader, const cJSON *root);

#endif
