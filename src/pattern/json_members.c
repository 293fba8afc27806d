/* Members of JSON objects, by key and kind, with faults at their place. */
#include "pattern/json_reader.h"

#include "support/nearest.h"

#include <string.h>

static void add_fault(const tb_json_reader *reader, tb_span place, const char *code,
	const char *hint, const char *format, va_list arguments)
{
	g_autofree char *message = g_strdup_vprintf(format, arguments);
	tb_where where = {.has_place = true, .place = place};
	tb_diagnose(reader->diagnostics, TB_ERROR, code, &where, message, hint);
}

void tb_json_fault(const tb_json_reader *reader, const cJSON *item, const char *code,
	const char *hint, const char *format, ...)
{
	tb_span place = tb_json_value(reader->json, item);
	/* An object or list is pointed at by its opening bracket. */
	if (cJSON_IsObject(item) || cJSON_IsArray(item))
		place.end = place.start + 1;
	va_list arguments;
	va_start(arguments, format);
	add_fault(reader, place, code, hint, format, arguments);
	va_end(arguments);
}

void tb_json_fault_key(const tb_json_reader *reader, const cJSON *item, const char *code,
	const char *hint, const char *format, ...)
{
	va_list arguments;
	va_start(arguments, format);
	add_fault(reader, tb_json_key(reader->json, item), code, hint, format, arguments);
	va_end(arguments);
}

bool tb_json_check_keys(const tb_json_reader *reader, const cJSON *object,
	const char *const *keys, size_t count)
{
	bool all_known = true;
	for (const cJSON *item = object->child; item != NULL; item = item->next) {
		bool known = false;
		for (size_t i = 0; i < count; i++)
			known = known || strcmp(item->string, keys[i]) == 0;
		if (known)
			continue;
		all_known = false;
		const char *nearest = tb_nearest(item->string, strlen(item->string), keys, count);
		g_autofree char *all = g_strjoinv(", ", (char **)keys);
		g_autofree char *hint = nearest != NULL ? g_strdup_printf("Did you mean \"%s\"?", nearest) :
			g_strdup_printf("What may stand here: %s.", all);
		tb_json_fault_key(reader, item, "key-unknown", hint, "\"%.60s\" is not a key of a pattern",
			item->string);
	}
	return all_known;
}

static const cJSON *get(const tb_json_reader *reader, const cJSON *object, const char *key,
	cJSON_bool (*is_kind)(const cJSON *), const char *kind)
{
	const cJSON *item = cJSON_GetObjectItemCaseSensitive(object, key);
	if (item == NULL || is_kind(item))
		return item;
	g_autofree char *hint = g_strdup_printf("Write %s here.", kind);
	tb_json_fault(reader, item, "key-kind", hint, "\"%s\" must be %s", key, kind);
	return NULL;
}

const cJSON *tb_json_get_string(const tb_json_reader *reader, const cJSON *object, const char *key)
{
	return get(reader, object, key, cJSON_IsString, "a text in quotes");
}

const cJSON *tb_json_get_number(const tb_json_reader *reader, const cJSON *object, const char *key)
{
	return get(reader, object, key, cJSON_IsNumber, "a number");
}

const cJSON *tb_json_get_list(const tb_json_reader *reader, const cJSON *object, const char *key)
{
	return get(reader, object, key, cJSON_IsArray, "a list in [ ]");
}

const cJSON *tb_json_get_object(const tb_json_reader *reader, const cJSON *object, const char *key)
{
	return get(reader, object, key, cJSON_IsObject, "an object in { }");
}

bool tb_json_check_length(const tb_json_reader *reader, const cJSON *item, size_t most)
{
	if (strlen(item->valuestring) <= most)
		return true;
	tb_json_fault(reader, item, "text-too-long", "Leave some of it out.",
		"this text is longer than %zu bytes", most);
	return false;
}
