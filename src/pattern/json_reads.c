/* How the source of a JSON pattern is read: values are facts, rows are rows, the rest is form. */
#include "pattern/json_reader.h"

#include <string.h>

static void add(const tb_json_reader *reader, size_t start, size_t end, tb_read_as as)
{
	tb_reads_begin(reader->pattern, start, as);
	tb_reads_begin(reader->pattern, end, TB_READ_BLANK);
}

static tb_read_as read_as(const cJSON *item)
{
	if (item->string == NULL)
		return TB_READ_ROW;
	return strcmp(item->string, "start") == 0 ? TB_READ_START : TB_READ_FACT;
}

/* ROWS: ITEM is a list of rows, and what is in it a row. */
static void add_item(const tb_json_reader *reader, const cJSON *item, bool rows)
{
	if (item->child == NULL) {
		tb_span key = tb_json_key(reader->json, item), value = tb_json_value(reader->json, item);
		tb_read_as as = rows ? read_as(item) : TB_READ_FACT;
		add(reader, key.end > key.start ? key.start : value.start, value.end, as);
		return;
	}
	for (const cJSON *child = item->child; child != NULL; child = child->next)
		add_item(reader, child, rows);
}

void tb_json_add_reads(const tb_json_reader *reader, const cJSON *root)
{
	tb_reads_begin(reader->pattern, 0, TB_READ_BLANK);
	for (const cJSON *item = root->child; item != NULL; item = item->next) {
		tb_span value = tb_json_value(reader->json, item);
		if (strcmp(item->string, "stitches") == 0)
			add(reader, value.start, value.end, TB_READ_DEFINITION);
		else
			add_item(reader, item, strcmp(item->string, "pieces") == 0);
	}
}

guint tb_json_find_read(const tb_json_reader *reader, const cJSON *item)
{
	const GArray *reads = reader->pattern->reads;
	size_t at = tb_json_value(reader->json, item).start;
	guint low = 0, high = reads->len;
	while (high - low > 1) {
		guint middle = low + (high - low) / 2;
		if (g_array_index(reads, tb_read, middle).span.start <= at)
			low = middle;
		else
			high = middle;
	}
	return low;
}
