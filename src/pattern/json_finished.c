/* What a garment measures when it is done, in JSON: "finished": {"bust": [91, 101], "length": 60, "unit": "cm"}. */
#include "pattern/json_reader.h"

#include "support/limits.h"
#include "support/units.h"

#include <math.h>
#include <string.h>

static const char *const keys[] = {[TB_FINISHED_BUST] = "bust", [TB_FINISHED_WIDTH] = "width", [TB_FINISHED_LENGTH] = "length",
	[TB_FINISHED_AROUND] = "around", [TB_FINISHED_HEM] = "hem", [TB_FINISHED_CUFF] = "cuff",
	[TB_FINISHED_UPPER_ARM] = "upper_arm", [TB_FINISHED_TO_UNDERARM] = "to_underarm", [TB_FINISHED_ARMHOLE] = "armhole",
	[TB_FINISHED_YOKE] = "yoke", [TB_FINISHED_SHOULDER] = "shoulder", [TB_FINISHED_NECK] = "neck",
	[TB_FINISHED_FIT] = "to_fit_bust", [TB_FINISHED_EASE] = "ease", [TB_FINISHED_COUNT] = "unit"};

static bool read_figure(const tb_json_reader *reader, const cJSON *item, double unit, tb_finished *finished)
{
	bool fits = cJSON_IsNumber(item) && isfinite(item->valuedouble) && item->valuedouble >= 0 &&
		item->valuedouble * unit <= TB_LIMIT_MEASURE_MM && finished->count < TB_MAX_SIZES;
	if (!fits)
		tb_json_fault(reader, item, "measure-value", "As in \"width\": [42, 46, 50].", "no piece measures that");
	else
		finished->mm[finished->count++] = item->valuedouble * unit;
	return fits;
}

void tb_json_read_finished(const tb_json_reader *reader, const cJSON *item, const char *piece)
{
	const cJSON *object = tb_json_get_object(reader, item, "finished");
	if (object == NULL)
		return;
	tb_json_check_keys(reader, object, keys, G_N_ELEMENTS(keys));
	const cJSON *said = tb_json_get_string(reader, object, "unit");
	bool inches = said != NULL && strcmp(said->valuestring, "in") == 0;
	if (said == NULL || (!inches && strcmp(said->valuestring, "cm") != 0)) {
		tb_json_fault(reader, said != NULL ? said : object, "measure-value", "Write \"unit\": \"cm\" or \"unit\": \"in\".",
			"in what these lengths are is not said");
		return;
	}
	for (unsigned kind = 0; kind < TB_FINISHED_COUNT; kind++) {
		const cJSON *value = cJSON_GetObjectItemCaseSensitive(object, keys[kind]);
		tb_finished finished = {.kind = kind};
		double unit = inches ? TB_MM_PER_INCH : 10;
		bool fits = value != NULL;
		if (cJSON_IsArray(value)) {
			for (const cJSON *one = value->child; one != NULL && fits; one = one->next)
				fits = read_figure(reader, one, unit, &finished);
		} else if (value != NULL) {
			fits = read_figure(reader, value, unit, &finished);
		}
		if (!fits || finished.count == 0)
			continue;
		finished.place = tb_json_value(reader->json, value);
		finished.piece = g_strdup(piece);
		g_array_append_val(reader->pattern->finished, finished);
	}
}
