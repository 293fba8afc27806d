/* The check as one JSON object; scripts rely on its shape. */
#include "words/check.h"

#include "fabric/laid.h"
#include "fabric/seams.h"
#include "fabric/yarn.h"

#include <cjson/cJSON.h>
#include <math.h>

static void add_text(cJSON *object, const char *key, const char *text)
{
	if (text != NULL)
		cJSON_AddStringToObject(object, key, text);
	else
		cJSON_AddNullToObject(object, key);
}

static void add_number_or_null(cJSON *object, const char *key, unsigned number)
{
	if (number > 0)
		cJSON_AddNumberToObject(object, key, number);
	else
		cJSON_AddNullToObject(object, key);
}

static void add_sizes(cJSON *object, const tb_pattern *pattern, tb_size_set sizes)
{
	cJSON *list = cJSON_AddArrayToObject(object, "sizes");
	for (unsigned size = 0; size < tb_pattern_count_sizes(pattern); size++) {
		if (sizes >> size & 1)
			cJSON_AddItemToArray(list, cJSON_CreateString(tb_pattern_get_size(pattern, size)));
	}
}

/* ROW, which is freed, as the text it is on a line of its own: its tree takes twenty times the memory of that. */
static cJSON *fold_row(cJSON *row)
{
	char *printed = cJSON_PrintUnformatted(row);
	cJSON *folded = printed != NULL ? cJSON_CreateRaw(printed) : NULL;
	cJSON_free(printed);
	if (folded == NULL)
		return row;
	cJSON_Delete(row);
	return folded;
}

static void add_row(cJSON *list, const tb_check_walk *walk, guint32 number)
{
	cJSON *row = cJSON_CreateObject();
	cJSON_AddNumberToObject(row, "row", number);
	cJSON_AddStringToObject(row, "side", walk->side == TB_SIDE_WRONG ? "WS" : "RS");
	cJSON *counts = cJSON_AddArrayToObject(row, "counts");
	for (unsigned size = 0; size < walk->sizes; size++)
		cJSON_AddItemToArray(counts, walk->rows[size] != NULL
										 ? cJSON_CreateNumber(walk->rows[size]->stitches)
										 : cJSON_CreateNull());
	g_autofree char *colours = tb_check_walk_colours(walk);
	if (*colours != '\0') {
		cJSON *list_of = cJSON_AddArrayToObject(row, "colours");
		g_auto(GStrv) names = g_strsplit(colours, ", ", -1);
		for (char **name = names; *name != NULL; name++)
			cJSON_AddItemToArray(list_of, cJSON_CreateString(*name));
	}
	if (tb_check_walk_taken(walk))
		cJSON_AddTrueToObject(row, "taken");
	if (tb_check_walk_unsure(walk))
		cJSON_AddTrueToObject(row, "number_unknown");
	cJSON_AddItemToArray(list, fold_row(row));
}

static void add_rows(cJSON *object, const tb_worked *worked, unsigned piece)
{
	cJSON *list = cJSON_AddArrayToObject(object, "rows");
	tb_check_walk walk = tb_check_walk_begin(worked, piece);
	while (tb_check_walk_next(&walk)) {
		/* where the sizes have not as many rows before a part, it stands by itself alone */
		if (!walk.differs)
			add_row(list, &walk, walk.number);
	}
}

/*
 * "Sides", rows of PIECE under a heading of their own: as the text numbers them. They stand among the
 * rows of the piece as well, which is one fabric, and has the measures.
 */
static void add_parts(cJSON *list, const tb_worked *worked, unsigned piece)
{
	const char *part = NULL;
	cJSON *rows = NULL;
	tb_check_walk walk = tb_check_walk_begin(worked, piece);
	while (tb_check_walk_next(&walk)) {
		if (walk.part == NULL)
			continue;
		if (walk.part != part) {
			cJSON *object = cJSON_CreateObject();
			cJSON_AddStringToObject(object, "name", walk.part);
			cJSON_AddStringToObject(object, "part_of", tb_pattern_get_piece(tb_worked_pattern(worked), piece));
			rows = cJSON_AddArrayToObject(object, "rows");
			cJSON_AddItemToArray(list, object);
			part = walk.part;
		}
		add_row(rows, &walk, walk.own);
	}
}

/* Hundredths of a centimetre are finer than any yarn. Without gauge there is no measure. */
static cJSON *length_in_cm(double mm)
{
	return mm > 0 ? cJSON_CreateNumber(round(mm * 10) / 100) : cJSON_CreateNull();
}

/* "measures": what a maker needs beside width and length, of PIECE or, -1, of the whole; none where none is known. */
static void add_sized(cJSON *object, const tb_worked *worked, const GArray *sized, int piece)
{
	static const char *const names[] = {[TB_FINISHED_BUST] = "bust", [TB_FINISHED_WIDTH] = "width",
		[TB_FINISHED_LENGTH] = "length", [TB_FINISHED_AROUND] = "around", [TB_FINISHED_HEM] = "hem",
		[TB_FINISHED_CUFF] = "cuff", [TB_FINISHED_UPPER_ARM] = "upper_arm", [TB_FINISHED_TO_UNDERARM] = "to_underarm",
		[TB_FINISHED_ARMHOLE] = "armhole", [TB_FINISHED_YOKE] = "yoke", [TB_FINISHED_SHOULDER] = "shoulder",
		[TB_FINISHED_NECK] = "neck", [TB_FINISHED_FIT] = "to_fit_bust", [TB_FINISHED_EASE] = "ease"};
	cJSON *list = NULL;
	for (guint i = 0; i < sized->len; i++) {
		const tb_sized *one = &g_array_index(sized, tb_sized, i);
		if (one->piece != piece)
			continue;
		list = list != NULL ? list : cJSON_AddArrayToObject(object, "measures");
		cJSON *measure = cJSON_CreateObject();
		cJSON_AddStringToObject(measure, "name", names[one->kind]);
		cJSON *lengths = cJSON_AddArrayToObject(measure, "cm");
		for (unsigned size = 0; size < tb_pattern_count_sizes(tb_worked_pattern(worked)); size++)
			cJSON_AddItemToArray(lengths, length_in_cm(one->mm[size]));
		if (one->around)
			cJSON_AddTrueToObject(measure, "around");
		if (one->of != NULL)
			cJSON_AddStringToObject(measure, "of", one->of);
		cJSON_AddItemToArray(list, measure);
	}
}

/* What a swatch that was weighed makes of the yarn, in grams. */
static void add_yarn(cJSON *root, const tb_worked *worked)
{
	double grams[TB_MAX_SIZES] = {0};
	tb_swatch swatch;
	if (!tb_yarn_estimate(worked, &swatch, grams))
		return;
	cJSON *list = cJSON_AddArrayToObject(root, "yarn_g");
	for (unsigned size = 0; size < tb_pattern_count_sizes(tb_worked_pattern(worked)); size++)
		cJSON_AddItemToArray(list, grams[size] > 0 ? cJSON_CreateNumber(round(grams[size])) : cJSON_CreateNull());
}

static void add_numbers(cJSON *object, const char *key, const guint32 *numbers, unsigned sizes)
{
	cJSON *list = cJSON_AddArrayToObject(object, key);
	for (unsigned size = 0; size < sizes; size++)
		cJSON_AddItemToArray(list, cJSON_CreateNumber(numbers[size]));
}

/* "seams": stitches that are sewn of each shoulder, and left. */
static void add_seams(cJSON *root, const tb_pattern *pattern)
{
	static const char *const names[] = {"shoulder", "back_neck_left", "front_left"};
	unsigned sizes = tb_pattern_count_sizes(pattern);
	cJSON *object = NULL;
	for (unsigned kind = TB_SEAM_SHOULDERS; kind <= TB_SEAM_FRONT_FREE; kind++) {
		guint32 stitches[TB_MAX_SIZES] = {0};
		for (unsigned size = 0; size < sizes; size++)
			stitches[size] = tb_seams_stitches(pattern, (tb_seam_kind)kind, size);
		if (stitches[0] == 0)
			continue;
		object = object != NULL ? object : cJSON_AddObjectToObject(root, "seams");
		add_numbers(object, names[kind], stitches, sizes);
	}
}

/* "motifs": how many are made, and how they lie. */
static void add_laid(cJSON *root, const tb_worked *worked)
{
	const tb_pattern *pattern = tb_worked_pattern(worked);
	g_autoptr(GArray) sums = tb_laid_reckon(worked);
	unsigned sizes = tb_pattern_count_sizes(pattern);
	cJSON *list = sums->len > 0 ? cJSON_AddArrayToObject(root, "motifs") : NULL;
	for (guint i = 0; i < sums->len; i++) {
		const tb_laid_sum *one = &g_array_index(sums, tb_laid_sum, i);
		cJSON *object = cJSON_CreateObject();
		cJSON_AddStringToObject(object, "name", one->what);
		add_numbers(object, "count", one->made, sizes);
		if (one->times > 1)
			cJSON_AddNumberToObject(object, "times", one->times);
		if (one->rows[0] > 0) {
			add_numbers(object, "rows", one->rows, sizes);
			add_numbers(object, "across", one->across, sizes);
			cJSON *wide = cJSON_AddArrayToObject(object, "width_cm"), *high = cJSON_AddArrayToObject(object, "length_cm");
			for (unsigned size = 0; size < sizes; size++) {
				cJSON_AddItemToArray(wide, length_in_cm(one->wide_mm[size]));
				cJSON_AddItemToArray(high, length_in_cm(one->high_mm[size]));
			}
		}
		cJSON_AddItemToArray(list, object);
	}
}

static void add_piece(cJSON *list, const tb_worked *worked, unsigned piece, const GArray *sized)
{
	const tb_pattern *pattern = tb_worked_pattern(worked);
	cJSON *object = cJSON_CreateObject();
	cJSON_AddStringToObject(object, "name", tb_pattern_get_piece(pattern, piece));
	add_rows(object, worked, piece);
	tb_across across = tb_sized_across(worked, piece);
	cJSON *widths = cJSON_AddArrayToObject(object, "width_cm");
	cJSON *lengths = cJSON_AddArrayToObject(object, "length_cm");
	for (unsigned size = 0; size < tb_pattern_count_sizes(pattern); size++) {
		const tb_fabric *fabric = tb_worked_fabric(worked, piece, size);
		cJSON_AddItemToArray(widths, length_in_cm(across != TB_ACROSS_UNKNOWN ? fabric->width_mm : 0));
		cJSON_AddItemToArray(lengths, length_in_cm(fabric->uncounted ? 0 : fabric->length_mm));
	}
	add_sized(object, worked, sized, (int)piece);
	guint32 rounds = 0;
	if (tb_laid_across_mm(worked, piece, 0, &rounds) > 0) {
		cJSON *across_cm = cJSON_AddArrayToObject(object, "across_cm");
		for (unsigned size = 0; size < tb_pattern_count_sizes(pattern); size++)
			cJSON_AddItemToArray(across_cm, length_in_cm(tb_laid_across_mm(worked, piece, size, NULL)));
		cJSON_AddNumberToObject(object, "across_by_rounds", rounds);
	}
	cJSON_AddItemToArray(list, object);
}

static void add_fault(
	cJSON *list, const tb_pattern *pattern, const tb_source *source, const tb_diagnostic *fault)
{
	static const char *const severities[] = {"note", "warning", "error"};
	unsigned line = 0, column = 0;
	if (fault->has_place && source != NULL)
		tb_source_locate(source, fault->place.start, &line, &column);
	cJSON *object = cJSON_CreateObject();
	cJSON_AddStringToObject(object, "severity", severities[fault->severity]);
	cJSON_AddStringToObject(object, "code", fault->code);
	add_number_or_null(object, "line", line);
	add_number_or_null(object, "column", column);
	add_text(object, "piece", fault->piece);
	add_number_or_null(object, "row", fault->row);
	add_sizes(object, pattern, fault->sizes);
	add_text(object, "message", fault->message);
	add_text(object, "hint", fault->hint);
	cJSON_AddItemToArray(list, object);
}

static void add_read(cJSON *root, const tb_worked *worked)
{
	g_autoptr(GArray) parts = tb_check_read(worked);
	cJSON *list = cJSON_AddArrayToObject(root, "read");
	for (guint i = 0; i < parts->len; i++) {
		const tb_check_part *part = &g_array_index(parts, tb_check_part, i);
		cJSON *object = cJSON_CreateObject();
		cJSON_AddNumberToObject(object, "line", part->line);
		cJSON_AddNumberToObject(object, "column", part->column);
		cJSON_AddNumberToObject(object, "length", (double)part->length);
		cJSON_AddStringToObject(object, "as", tb_check_read_name(part->as));
		cJSON_AddItemToArray(list, object);
	}
}

char *tb_check_json(const tb_worked *worked, tb_diagnostics *diagnostics, int piece)
{
	const tb_pattern *pattern = tb_worked_pattern(worked);
	cJSON *root = cJSON_CreateObject();
	add_text(root, "title", tb_pattern_get_title(pattern));
	add_sizes(root, pattern, G_MAXUINT32);
	g_autoptr(GArray) sized = tb_sized_find(worked);
	cJSON *pieces = cJSON_AddArrayToObject(root, "pieces");
	for (unsigned i = 0; i < tb_pattern_count_pieces(pattern); i++) {
		if (piece >= 0 && (unsigned)piece != i)
			continue;
		add_piece(pieces, worked, i, sized);
		add_parts(pieces, worked, i);
	}
	if (piece < 0) {
		add_sized(root, worked, sized, -1);
		add_yarn(root, worked);
		add_seams(root, pattern);
		add_laid(root, worked);
	}
	add_read(root, worked);
	cJSON *faults = cJSON_AddArrayToObject(root, "diagnostics");
	for (unsigned i = 0; i < tb_diagnostics_count(diagnostics); i++)
		add_fault(faults, pattern, tb_diagnostics_get_source(diagnostics),
			tb_diagnostics_get(diagnostics, i));
	char *printed = cJSON_Print(root);
	cJSON_Delete(root);
	char *text = g_strconcat(printed != NULL ? printed : "{}", "\n", NULL);
	cJSON_free(printed);
	return text;
}
