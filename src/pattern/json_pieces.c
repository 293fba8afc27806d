/* The pieces and the charts of a JSON pattern. */
#include "pattern/json_reader.h"

#include "support/limits.h"

static int find_piece(const tb_json_reader *reader, const char *name)
{
	return tb_pattern_find_piece(reader->pattern, name);
}

/* Tells that there is no piece of the name ITEM gives, with the nearest there is. */
static void fault_piece(const tb_json_reader *reader, const cJSON *item, const char *what)
{
	g_autofree char *hint = tb_hint_piece(reader->pattern, item->valuestring);
	tb_json_fault(reader, item, "piece-unknown", hint, "no piece %s is called “%.60s”", what,
		item->valuestring);
}

static void read_piece_name(const tb_json_reader *reader, const cJSON *item, tb_piece *piece)
{
	const cJSON *name = tb_json_get_string(reader, item, "name");
	piece->name = g_strdup(name != NULL ? name->valuestring : "");
	if (name == NULL) {
		piece->place = tb_json_value(reader->json, item);
		piece->place.end = piece->place.start + 1;
		if (cJSON_GetObjectItemCaseSensitive(item, "name") == NULL)
			tb_json_fault(reader, item, "piece-name", "As in \"name\": \"Back\".",
				"this piece has no name");
		return;
	}
	piece->place = tb_json_value(reader->json, name);
	const char *wrong = tb_check_name(piece->name);
	if (wrong != NULL)
		tb_json_fault(reader, name, "piece-name", "As in \"Back\".", "the name of this piece %s",
			wrong);
	else if (find_piece(reader, piece->name) >= 0)
		tb_json_fault(reader, name, "piece-name", "Give each piece a name of its own.",
			"two pieces are called \"%s\"", piece->name);
}

static void read_from(const tb_json_reader *reader, const cJSON *from, tb_piece *piece)
{
	static const char *const keys[] = {"piece", "stitches", NULL};
	tb_json_check_keys(reader, from, keys, G_N_ELEMENTS(keys) - 1);
	const cJSON *other = tb_json_get_string(reader, from, "piece");
	const cJSON *stitches = tb_json_get_string(reader, from, "stitches");
	if (other == NULL || stitches == NULL) {
		tb_json_fault(reader, from, "piece-from",
			"As in {\"piece\": \"Back\", \"stitches\": \"1-37 (41, 45)\"}.",
			"a piece that grows from another says from which, and from which stitches");
		return;
	}
	if (find_piece(reader, other->valuestring) < 0)
		fault_piece(reader, other, "before this one");
	piece->from_piece = g_strdup(other->valuestring);
	piece->from_text = tb_json_text(reader->json, stitches);
}

static void read_start(const tb_json_reader *reader, const cJSON *item, tb_piece *piece)
{
	const cJSON *start = tb_json_get_string(reader, item, "start");
	const cJSON *from = tb_json_get_object(reader, item, "from");
	if (start != NULL)
		piece->start = tb_json_text(reader->json, start);
	if (from != NULL && start == NULL)
		read_from(reader, from, piece);
	if (start != NULL && from != NULL)
		tb_json_fault_key(reader, from, "piece-start", "Keep one of them.",
			"this piece has both a start and another piece it grows from");
}

/* What no key says may be said by the first row. */
static void check_start(const tb_json_reader *reader, const cJSON *item, const tb_piece *piece)
{
	if (cJSON_GetObjectItemCaseSensitive(item, "start") == NULL &&
		cJSON_GetObjectItemCaseSensitive(item, "from") == NULL && !tb_piece_brings_start(piece))
		tb_json_fault(reader, item, "piece-start", "As in \"start\": \"Ch 85 (93, 101).\".",
			"this piece does not say how it starts");
}

/* Where a key is misspelt (KNOWN is false) the rows are likely under it, and only that is told. */
static void read_rows(
	const tb_json_reader *reader, const cJSON *item, tb_piece *piece, bool known)
{
	const cJSON *rows = tb_json_get_list(reader, item, "rows");
	if (rows == NULL) {
		if (cJSON_GetObjectItemCaseSensitive(item, "rows") == NULL && known)
			tb_json_fault(reader, item, "piece-rows", "As in \"rows\": [\"Row 1: …\", …].",
				"this piece has no rows");
		return;
	}
	if (rows->child == NULL)
		tb_json_fault(reader, rows, "piece-rows", "As in [\"Row 1: …\", …].",
			"this piece has no rows");
	for (const cJSON *row = rows->child; row != NULL; row = row->next) {
		if (!cJSON_IsString(row)) {
			tb_json_fault(reader, row, "key-kind", "As in \"Row 1: …\".", "a row must be a text in quotes");
			continue;
		}
		if (piece->rows->len == TB_LIMIT_PIECE_ROWS) {
			tb_json_fault(reader, row, "piece-rows", "Use Rep Rows, or a second piece.",
				"a piece may have %u rows",
				TB_LIMIT_PIECE_ROWS);
			return;
		}
		tb_piece_add_row(piece, tb_json_text(reader->json, row), tb_json_find_read(reader, row));
	}
}

void tb_json_read_pieces(const tb_json_reader *reader, const cJSON *root)
{
	static const char *const keys[] = {"name", "start", "from", "rows", "finished", NULL};
	const cJSON *pieces = tb_json_get_list(reader, root, "pieces");
	if (pieces == NULL || pieces->child == NULL) {
		if (pieces != NULL || cJSON_GetObjectItemCaseSensitive(root, "pieces") == NULL)
			tb_json_fault(reader, pieces != NULL ? pieces : root, "piece-list",
				"As in \"pieces\": [{\"name\": \"Back\", …}].", "the pattern has no pieces");
		return;
	}
	for (const cJSON *item = pieces->child; item != NULL; item = item->next) {
		if (!cJSON_IsObject(item)) {
			tb_json_fault(reader, item, "key-kind", "As in {\"name\": \"Back\", …}.",
				"a piece must be an object in { }");
			continue;
		}
		if (reader->pattern->pieces->len == TB_LIMIT_PIECES) {
			tb_json_fault(reader, item, "piece-list", "Split the pattern in two.",
				"a pattern may have %u pieces", TB_LIMIT_PIECES);
			return;
		}
		bool known = tb_json_check_keys(reader, item, keys, G_N_ELEMENTS(keys) - 1);
		tb_piece *piece = tb_piece_create();
		read_piece_name(reader, item, piece);
		read_start(reader, item, piece);
		read_rows(reader, item, piece, known);
		tb_json_read_finished(reader, item, piece->name);
		if (piece->rows->len > 0 || known)
			check_start(reader, item, piece);
		tb_pattern_add_piece(reader->pattern, piece);
	}
}

static void read_chart(const tb_json_reader *reader, const cJSON *item)
{
	static const char *const keys[] = {"title", "piece", "rows", NULL};
	tb_json_check_keys(reader, item, keys, G_N_ELEMENTS(keys) - 1);
	tb_chart_request *chart = g_new0(tb_chart_request, 1);
	g_ptr_array_add(reader->pattern->charts, chart);
	const cJSON *title = tb_json_get_string(reader, item, "title");
	if (title != NULL && tb_json_check_length(reader, title, TB_LIMIT_LINE_BYTES))
		chart->title = g_strdup(title->valuestring);
	const cJSON *piece = tb_json_get_string(reader, item, "piece");
	if (piece != NULL && find_piece(reader, piece->valuestring) < 0)
		fault_piece(reader, piece, "of this pattern");
	else if (piece != NULL)
		chart->piece = g_strdup(piece->valuestring);
	const cJSON *rows = tb_json_get_string(reader, item, "rows");
	if (rows != NULL &&
		!tb_read_row_range(rows->valuestring, &chart->first_row, &chart->last_row)) {
		chart->first_row = chart->last_row = 0;
		tb_json_fault(reader, rows, "chart-rows", "As in \"3-6\".",
			"this does not say which rows to chart");
	}
}

void tb_json_read_charts(const tb_json_reader *reader, const cJSON *root)
{
	const cJSON *charts = tb_json_get_list(reader, root, "charts");
	if (charts == NULL)
		return;
	for (const cJSON *item = charts->child; item != NULL; item = item->next) {
		if (reader->pattern->charts->len == TB_LIMIT_CHARTS) {
			tb_json_fault(reader, item, "chart-list", "Leave the others out.",
				"a pattern may ask for %u charts", TB_LIMIT_CHARTS);
			return;
		}
		if (cJSON_IsObject(item))
			read_chart(reader, item);
		else
			tb_json_fault(reader, item, "key-kind", "As in {\"piece\": \"Back\", \"rows\": \"3-6\"}.",
				"a chart must be an object in { }");
	}
}
