/*
 * Sources. A place is two byte offsets into one of these; line and column are worked out only when
 * a fault is printed, from the list of where lines begin.
 */
#include "support/source.h"

#include <string.h>

struct tb_source {
	char *name;
	char *text;
	size_t length;
	GArray *lines; /* size_t: offset of each line's first byte */
};

static const char byte_order_mark[] = "\xef\xbb\xbf";

tb_source *tb_source_create(const char *name, const char *text, size_t length)
{
	tb_source *source = g_new0(tb_source, 1);
	source->name = g_strdup(name);
	source->text = g_malloc(length + 1);
	if (length > 0)
		memcpy(source->text, text, length);
	source->text[length] = '\0';
	source->length = length;
	source->lines = g_array_new(FALSE, FALSE, sizeof(size_t));
	size_t start = 0;
	g_array_append_val(source->lines, start);
	for (size_t i = 0; i < length; i++) {
		/* A carriage return by itself ends a line too, as it did once. */
		if (text[i] == '\n' || (text[i] == '\r' && (i + 1 == length || text[i + 1] != '\n'))) {
			start = i + 1;
			g_array_append_val(source->lines, start);
		}
	}
	return source;
}

void tb_source_destroy(tb_source *source)
{
	if (source == NULL)
		return;
	g_array_unref(source->lines);
	g_free(source->text);
	g_free(source->name);
	g_free(source);
}

const char *tb_source_get_text(const tb_source *source, size_t *length)
{
	if (length != NULL)
		*length = source->length;
	return source->text;
}

const char *tb_source_get_name(const tb_source *source)
{
	return source->name;
}

tb_span tb_source_line(const tb_source *source, unsigned line)
{
	tb_span span = {source->length, source->length};
	if (line == 0 || line > source->lines->len)
		return span;
	span.start = g_array_index(source->lines, size_t, line - 1);
	if (line < source->lines->len)
		span.end = g_array_index(source->lines, size_t, line) - 1;
	if (span.end > span.start && source->text[span.end - 1] == '\r')
		span.end--;
	if (line == 1 && g_str_has_prefix(source->text, byte_order_mark))
		span.start = strlen(byte_order_mark);
	return span;
}

/* The number of the last line that begins at or before OFFSET, from 1. */
static unsigned find_line(const tb_source *source, size_t offset)
{
	guint low = 0, high = source->lines->len;
	while (high - low > 1) {
		guint middle = low + (high - low) / 2;
		if (g_array_index(source->lines, size_t, middle) <= offset)
			low = middle;
		else
			high = middle;
	}
	return low + 1;
}

void tb_source_locate(const tb_source *source, size_t offset, unsigned *line, unsigned *column)
{
	offset = MIN(offset, source->length);
	*line = find_line(source, offset);
	unsigned characters = 0;
	/* Every byte but those that continue a character begins one, or is no UTF-8 and counts one. */
	for (size_t i = tb_source_line(source, *line).start; i < offset; i++)
		characters += ((unsigned char)source->text[i] & 0xc0) != 0x80;
	*column = characters + 1;
}
