#include "stitches/fields.h"

#include "support/limits.h"
#include "support/nearest.h"

#include <math.h>
#include <string.h>

void tb_fields_fault(tb_fields *r, const char *code, const char *hint, const char *format, ...)
{
	va_list args;
	va_start(args, format);
	g_autofree char *message = g_strdup_vprintf(format, args);
	va_end(args);
	g_autofree char *whole = r->us != NULL ? g_strdup_printf("stitch %s: %s", r->us, message)
										   : g_strdup_printf("a stitch of the list: %s", message);
	tb_diagnose(r->diagnostics, TB_ERROR, code, r->where, whole, hint);
	r->sound = false;
}

void tb_fields_check_keys(tb_fields *r, const cJSON *object, const char *const *keys, size_t count)
{
	guint32 seen = 0;
	for (const cJSON *item = object->child; item != NULL; item = item->next) {
		size_t i = 0;
		while (i < count && strcmp(item->string, keys[i]) != 0)
			i++;
		if (i == count) {
			const char *near = tb_nearest(item->string, strlen(item->string), keys, count);
			g_autofree char *hint =
				near != NULL ? g_strdup_printf("Did you mean \"%s\"?", near) : NULL;
			tb_fields_fault(
				r, "stitch-key", hint, "\"%.60s\" is not a key of a stitch", item->string);
		} else if (seen >> i & 1) {
			tb_fields_fault(r, "stitch-key", NULL, "\"%.60s\" is said twice", item->string);
		} else {
			seen |= 1u << i;
		}
	}
}

/* A term worth having: not empty, of sane length, without control characters. */
bool tb_fields_is_term(const cJSON *item)
{
	if (!cJSON_IsString(item))
		return false;
	size_t length = strlen(item->valuestring);
	if (length == 0 || length > TB_LIMIT_TERM_BYTES || *item->valuestring == ' ' ||
		!g_utf8_validate(item->valuestring, -1, NULL))
		return false;
	for (const char *c = item->valuestring; *c != '\0'; c++) {
		if (g_ascii_iscntrl(*c))
			return false;
	}
	return true;
}

char *tb_fields_read_term(tb_fields *r, const cJSON *object, const char *key, const char *otherwise)
{
	const cJSON *item = cJSON_GetObjectItemCaseSensitive(object, key);
	if (item == NULL && otherwise != NULL)
		return g_strdup(otherwise);
	if (tb_fields_is_term(item))
		return g_strdup(item->valuestring);
	tb_fields_fault(r, "stitch-value", "Give it as a short text between quotes.", "\"%s\" is %s",
		key, item == NULL ? "missing" : "not a term");
	return g_strdup("?");
}

double tb_fields_read_number(tb_fields *r, const cJSON *object, const char *key, double otherwise,
	double least, double most, bool whole)
{
	const cJSON *item = cJSON_GetObjectItemCaseSensitive(object, key);
	if (item == NULL && otherwise >= 0)
		return otherwise;
	if (cJSON_IsNumber(item) && item->valuedouble >= least && item->valuedouble <= most &&
		(!whole || item->valuedouble == floor(item->valuedouble)))
		return item->valuedouble;
	tb_fields_fault(r, "stitch-value", NULL, "\"%s\" must be a %snumber from %g to %g", key,
		whole ? "whole " : "", least, most);
	return least;
}

unsigned tb_fields_read_choice(
	tb_fields *r, const cJSON *object, const char *key, const char *const *words, unsigned count)
{
	const cJSON *item = cJSON_GetObjectItemCaseSensitive(object, key);
	if (item == NULL)
		return 0;
	for (unsigned i = 0; cJSON_IsString(item) && i < count; i++) {
		if (strcmp(item->valuestring, words[i]) == 0)
			return i;
	}
	g_autoptr(GString) hint = g_string_new("It is one of:");
	for (unsigned i = 0; i < count; i++)
		g_string_append_printf(hint, "%s \"%s\"", i > 0 ? "," : "", words[i]);
	g_string_append_c(hint, '.');
	tb_fields_fault(r, "stitch-value", hint->str, "\"%s\" is not understood", key);
	return 0;
}
