/*
 * The pattern's head in JSON: title, sizes, yarn, hook, gauge, own stitches. Every key is checked
 * for its kind and range; what is wrong is told, and the rest is read all the same.
 */
#include "pattern/json_reader.h"

#include "stitches/library_json.h"
#include "support/limits.h"

#include <math.h>
#include <string.h>

static char *copy_string(
	const tb_json_reader *reader, const cJSON *object, const char *key, size_t most)
{
	const cJSON *item = tb_json_get_string(reader, object, key);
	if (item != NULL && !tb_json_check_length(reader, item, most))
		return NULL;
	return item != NULL && item->valuestring[0] != '\0' ? g_strdup(item->valuestring) : NULL;
}

static void read_format(const tb_json_reader *reader, const cJSON *root)
{
	const cJSON *format = cJSON_GetObjectItemCaseSensitive(root, "format");
	const char *hint = "Write \"format\": 1.";
	if (format == NULL)
		tb_json_fault(reader, root, "format-version", hint, "the pattern does not say its format");
	else if (!cJSON_IsNumber(format) || format->valuedouble != 1)
		tb_json_fault(reader, format, "format-version", hint, "only format 1 can be read");
}

static void read_terms(const tb_json_reader *reader, const cJSON *root)
{
	const cJSON *terms = tb_json_get_string(reader, root, "terms");
	if (terms == NULL)
		return;
	reader->pattern->uk_terms = g_ascii_strcasecmp(terms->valuestring, "UK") == 0;
	if (!reader->pattern->uk_terms && g_ascii_strcasecmp(terms->valuestring, "US") != 0)
		tb_json_fault(reader, terms, "terms-unknown", "Write \"US\" or \"UK\".",
			"\"%.60s\" are no terms of the trade", terms->valuestring);
}

static void read_size(const tb_json_reader *reader, const cJSON *item, GHashTable *seen)
{
	if (!cJSON_IsString(item)) {
		tb_json_fault(reader, item, "key-kind", "As in \"M\".", "a size must be a text in quotes");
		return;
	}
	const char *name = item->valuestring;
	const char *wrong = tb_check_name(name);
	char *folded = g_utf8_casefold(name, -1);
	if (wrong != NULL)
		tb_json_fault(reader, item, "size-name", "As in \"S\", \"M\", \"L\".",
			"the name of this size %s", wrong);
	else if (g_hash_table_contains(seen, folded))
		tb_json_fault(reader, item, "size-name", "Give each size a name of its own.",
			"two sizes are called \"%s\"", name);
	g_hash_table_add(seen, folded);
	/* A size with a bad name still counts: its figures stand in the rows. */
	g_ptr_array_add(reader->pattern->sizes, g_strstrip(g_strdup(name)));
}

static void read_sizes(const tb_json_reader *reader, const cJSON *root)
{
	const cJSON *sizes = tb_json_get_list(reader, root, "sizes");
	if (sizes == NULL)
		return;
	int count = cJSON_GetArraySize(sizes);
	if (count == 0)
		tb_json_fault(reader, sizes, "size-list", "Name the sizes, or leave the list out.",
			"the list of sizes is empty");
	if (count > TB_LIMIT_SIZES)
		tb_json_fault(reader, sizes, "size-list", "Split the pattern in two.",
			"%d sizes are given; a pattern may have %d", count, TB_LIMIT_SIZES);
	g_autoptr(GHashTable) seen = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);
	for (const cJSON *item = sizes->child; item != NULL; item = item->next) {
		if (reader->pattern->sizes->len < TB_LIMIT_SIZES)
			read_size(reader, item, seen);
	}
}

static void read_yarn(const tb_json_reader *reader, const cJSON *root)
{
	static const char *const keys[] = {"weight", "note", NULL};
	const cJSON *yarn = tb_json_get_object(reader, root, "yarn");
	if (yarn == NULL)
		return;
	tb_json_check_keys(reader, yarn, keys, G_N_ELEMENTS(keys) - 1);
	reader->pattern->yarn_note = copy_string(reader, yarn, "note", TB_LIMIT_LINE_BYTES);
	const cJSON *weight = tb_json_get_number(reader, yarn, "weight");
	if (weight == NULL)
		return;
	double value = weight->valuedouble;
	/* Yarn weights 0 lace to 7 jumbo: Craft Yarn Council, Standards & Guidelines. */
	if (value >= 0 && value <= 7 && value == floor(value))
		reader->pattern->yarn_weight = (int)value;
	else
		tb_json_fault(reader, weight, "yarn-weight", "Weights run from 0, lace, to 7, jumbo.",
			"there is no such yarn weight");
}

static void read_hook(const tb_json_reader *reader, const cJSON *root)
{
	const cJSON *hook = tb_json_get_string(reader, root, "hook");
	if (hook == NULL || !tb_json_check_length(reader, hook, TB_LIMIT_LINE_BYTES))
		return;
	double mm = tb_read_hook(hook->valuestring);
	g_free(reader->pattern->hook);
	reader->pattern->hook = g_strdup(hook->valuestring);
	if (mm >= TB_LIMIT_HOOK_LEAST_MM && mm <= TB_LIMIT_HOOK_MM)
		reader->pattern->hook_mm = mm;
	else
		tb_json_fault(reader, hook, "hook-size", "As in \"5.5 mm\" or \"I-9 (5.5 mm)\".",
			"this does not say the hook's size in mm");
}

/* A member of the gauge above 0, or 0 with a fault told. */
static double read_gauge_number(const tb_json_reader *reader, const cJSON *gauge, const char *key)
{
	const cJSON *item = tb_json_get_number(reader, gauge, key);
	if (item == NULL)
		return 0;
	double value = item->valuedouble;
	if (isfinite(value) && value > 0 && value <= TB_LIMIT_GAUGE)
		return value;
	tb_json_fault(reader, item, "gauge-value",
		"Count them over 10 cm or 4 in of a swatch, as in 13.",
		"the %s of a gauge are more than 0 and at most %g", key, TB_LIMIT_GAUGE);
	return 0;
}

static void read_gauge(const tb_json_reader *reader, const cJSON *root)
{
	static const char *const keys[] = {"stitches", "rows", "over", NULL};
	const cJSON *item = tb_json_get_object(reader, root, "gauge");
	if (item == NULL)
		return;
	tb_json_check_keys(reader, item, keys, G_N_ELEMENTS(keys) - 1);
	tb_gauge gauge = {0};
	gauge.stitches = read_gauge_number(reader, item, "stitches");
	gauge.rows = read_gauge_number(reader, item, "rows");
	gauge.has_rows = gauge.rows > 0;
	const cJSON *over = tb_json_get_string(reader, item, "over");
	bool has_length = over != NULL &&
		tb_read_length(over->valuestring, &gauge.over_mm, &gauge.over_inches) &&
		gauge.over_mm <= TB_LIMIT_GAUGE_MM;
	if (over != NULL && !has_length)
		tb_json_fault(reader, over, "gauge-value", "As in \"10 cm\" or \"4 in\".",
			"this is no length a gauge is counted over");
	bool said = cJSON_GetObjectItemCaseSensitive(item, "stitches") != NULL &&
		cJSON_GetObjectItemCaseSensitive(item, "over") != NULL;
	if (!said)
		tb_json_fault(reader, item, "gauge-value",
			"As in {\"stitches\": 13, \"rows\": 9, \"over\": \"10 cm\"}.",
			"a gauge says how many stitches, and over what length");
	gauge.given = gauge.stitches > 0 && has_length;
	if (gauge.given)
		tb_pattern_add_gauge(reader->pattern, &(tb_kind_gauge){.gauge = gauge});
}

static void read_own_stitches(const tb_json_reader *reader, const cJSON *root)
{
	const cJSON *stitches = tb_json_get_list(reader, root, "stitches");
	if (stitches == NULL)
		return;
	for (const cJSON *item = stitches->child; item != NULL; item = item->next) {
		tb_where where = {.has_place = true, .place = tb_json_value(reader->json, item)};
		tb_library_add_cjson(reader->pattern->library, item, &where, reader->diagnostics);
	}
}

bool tb_pattern_read_json(tb_pattern *pattern, tb_diagnostics *diagnostics)
{
	static const char *const keys[] = {"format", "title", "designer", "about", "licence", "notes",
		"terms", "sizes", "yarn", "hook", "gauge", "finished", "stitches", "pieces", "charts", NULL};
	g_autoptr(tb_json) json = tb_json_read(pattern->source, diagnostics);
	if (json == NULL)
		return false;
	tb_json_reader reader = {pattern, json, diagnostics};
	const cJSON *root = tb_json_root(json);
	tb_json_add_reads(&reader, root);
	tb_json_check_keys(&reader, root, keys, G_N_ELEMENTS(keys) - 1);
	read_format(&reader, root);
	pattern->title = copy_string(&reader, root, "title", TB_LIMIT_LINE_BYTES);
	pattern->designer = copy_string(&reader, root, "designer", TB_LIMIT_LINE_BYTES);
	pattern->about = copy_string(&reader, root, "about", TB_LIMIT_PROSE_BYTES);
	pattern->licence = copy_string(&reader, root, "licence", TB_LIMIT_LINE_BYTES);
	pattern->notes = copy_string(&reader, root, "notes", TB_LIMIT_PROSE_BYTES);
	read_terms(&reader, root);
	read_sizes(&reader, root);
	read_yarn(&reader, root);
	read_hook(&reader, root);
	read_gauge(&reader, root);
	tb_json_read_finished(&reader, root, NULL);
	read_own_stitches(&reader, root);
	tb_json_read_pieces(&reader, root);
	tb_json_read_charts(&reader, root);
	return true;
}
