#include "pattern/json_places.h"

#include "pattern/json_scan.h"
#include "support/diagnose.h"

#include <string.h>

struct tb_json {
	const tb_source *source;
	cJSON *root;
	GArray *entries;   /* tb_json_entry, in document order */
	GHashTable *items; /* cJSON item -> its number in entries, from 1 */
};

void tb_json_destroy(tb_json *json)
{
	if (json == NULL)
		return;
	cJSON_Delete(json->root);
	g_clear_pointer(&json->entries, g_array_unref);
	g_clear_pointer(&json->items, g_hash_table_unref);
	g_free(json);
}

const cJSON *tb_json_root(const tb_json *json)
{
	return json->root;
}

static const tb_json_entry *find_entry(const tb_json *json, const cJSON *item)
{
	guint number = GPOINTER_TO_UINT(g_hash_table_lookup(json->items, item));
	g_assert(number > 0);
	return &g_array_index(json->entries, tb_json_entry, number - 1);
}

tb_span tb_json_value(const tb_json *json, const cJSON *item)
{
	return find_entry(json, item)->value;
}

tb_span tb_json_key(const tb_json *json, const cJSON *item)
{
	return find_entry(json, item)->key;
}

/* Gives ITEM and all below it their entries, in document order. The nesting has been bounded. */
static bool walk(tb_json *json, const cJSON *item, guint *number)
{
	if (*number >= json->entries->len)
		return false;
	*number += 1;
	g_hash_table_insert(json->items, (gpointer)item, GUINT_TO_POINTER(*number));
	for (const cJSON *child = item->child; child != NULL; child = child->next) {
		if (!walk(json, child, number))
			return false;
	}
	return true;
}

static void find_repeated_keys(const tb_json *json, const cJSON *item, tb_diagnostics *diagnostics)
{
	g_autoptr(GHashTable) seen =
		cJSON_IsObject(item) ? g_hash_table_new(g_str_hash, g_str_equal) : NULL;
	for (const cJSON *child = item->child; child != NULL; child = child->next) {
		if (seen != NULL && !g_hash_table_add(seen, child->string)) {
			tb_where where = {.has_place = true, .place = tb_json_key(json, child)};
			tb_diagnose_format(diagnostics, TB_ERROR, "key-repeated", &where,
				"Keep one of them; the first is read.", "\"%s\" is given twice here", child->string);
		}
		if (child->child != NULL)
			find_repeated_keys(json, child, diagnostics);
	}
}

tb_json *tb_json_read(const tb_source *source, tb_diagnostics *diagnostics)
{
	size_t length;
	const char *text = tb_source_get_text(source, &length);
	size_t start = g_str_has_prefix(text, "\xef\xbb\xbf") ? 3 : 0;
	g_autoptr(tb_json) json = g_new0(tb_json, 1);
	json->source = source;
	json->entries = tb_json_scan(text, length, start, diagnostics);
	if (json->entries == NULL)
		return NULL;
	json->items = g_hash_table_new(NULL, NULL);
	const char *end = NULL;
	json->root = cJSON_ParseWithLengthOpts(text + start, length + 1 - start, &end, TRUE);
	guint number = 0;
	if (json->root == NULL || !walk(json, json->root, &number) ||
		number != json->entries->len) {
		size_t at = end != NULL ? (size_t)(end - text) : start;
		tb_where where = {.has_place = true, .place = {at, at + 1}};
		tb_diagnose(diagnostics, TB_ERROR, "json-syntax", &where,
			"from here on this is not JSON", "Look at the quotes, commas and brackets before it.");
		return NULL;
	}
	find_repeated_keys(json, json->root, diagnostics);
	return g_steal_pointer(&json);
}

/* The same text with escapes resolved, each byte knowing the character or escape it came from. */
static tb_text *read_escaped(const char *raw, size_t length, size_t offset)
{
	g_autoptr(GString) chars = g_string_new(NULL);
	g_autoptr(GArray) offsets = g_array_new(FALSE, FALSE, sizeof(guint32));
	for (size_t at = 0; at < length;) {
		guint32 from = (guint32)(offset + at);
		size_t used = 1, before = chars->len;
		gunichar c;
		if (raw[at] != '\\') {
			used = (size_t)g_utf8_skip[(guchar)raw[at]];
			used = MIN(used, length - at);
			g_string_append_len(chars, raw + at, (gssize)used);
			for (size_t i = 0; i < used; i++) {
				guint32 byte = from + (guint32)i;
				g_array_append_val(offsets, byte);
			}
		} else {
			if (tb_json_read_escape(raw + at, &c, &used))
				g_string_append_unichar(chars, c);
			for (size_t i = before; i < chars->len; i++)
				g_array_append_val(offsets, from);
		}
		at += used;
	}
	guint32 end = (guint32)(offset + length);
	g_array_append_val(offsets, end);
	tb_text *text = tb_text_create(chars->str, chars->len, offset);
	text->offsets = (guint32 *)(void *)g_array_free(g_steal_pointer(&offsets), FALSE);
	return text;
}

tb_text *tb_json_text(const tb_json *json, const cJSON *item)
{
	tb_span span = tb_json_value(json, item);
	const char *raw = tb_source_get_text(json->source, NULL) + span.start + 1;
	size_t length = span.end - span.start - 2;
	if (memchr(raw, '\\', length) == NULL)
		return tb_text_create(raw, length, span.start + 1);
	return read_escaped(raw, length, span.start + 1);
}
