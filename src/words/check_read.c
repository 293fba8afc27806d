/* How the source was read: what every part of every line turned out to be. */
#include "words/check.h"

#include "fabric/fabric.h"
#include "support/source.h"

#include <string.h>

static const char byte_order_mark[] = "\xef\xbb\xbf";

static size_t count_characters(const char *text, size_t start, size_t end)
{
	size_t characters = 0;
	if (start == 0 && g_str_has_prefix(text, byte_order_mark))
		start = MIN(end, strlen(byte_order_mark));
	for (size_t i = start; i < end; i++)
		characters += ((unsigned char)text[i] & 0xc0) != 0x80;
	return characters;
}

/* Where the line that AT lies in ends, its line break included. */
static size_t line_end(const tb_source *source, unsigned line)
{
	size_t length;
	tb_source_get_text(source, &length);
	tb_span next = tb_source_line(source, line + 1);
	return next.start > 0 ? MIN(next.start, length) : length;
}

/* Where PART begins: behind the part before it, if that ended within a line. */
static void locate(const tb_source *source, const GArray *parts, tb_check_part *part)
{
	const tb_check_part *last =
		parts->len > 0 ? &g_array_index(parts, tb_check_part, parts->len - 1) : NULL;
	if (last != NULL && last->end < line_end(source, last->line)) {
		part->line = last->line;
		part->column = last->column + (unsigned)last->length;
	} else {
		tb_source_locate(source, part->start, &part->line, &part->column);
	}
}

/* What the row language found a row to be says more than its first words; of a farewell they do. */
static tb_read_as merge(tb_read_as looks, tb_read_as found)
{
	return found == TB_READ_REMARK && looks == TB_READ_FINISHING ? looks : found;
}

static void merge_start(const tb_pattern *pattern, const tb_piece *piece, tb_read_as *as)
{
	const tb_text *start = piece->start != NULL ? piece->start : piece->from_text;
	tb_span span = start != NULL ? tb_text_span(start, 0, start->length) : (tb_span){0, 0};
	for (guint i = 0; i < pattern->reads->len; i++) {
		const tb_read *read = &g_array_index(pattern->reads, tb_read, i);
		if (read->as == TB_READ_START && read->span.start < span.end && read->span.end > span.start)
			as[i] = TB_READ_UNREAD;
	}
}

/* As what each of the pattern's reads turned out, one a read. Owned. */
static tb_read_as *merge_rows(const tb_worked *worked)
{
	const tb_pattern *pattern = tb_worked_pattern(worked);
	tb_read_as *as = g_new(tb_read_as, pattern->reads->len + 1);
	for (guint i = 0; i < pattern->reads->len; i++)
		as[i] = g_array_index(pattern->reads, tb_read, i).as;
	for (unsigned p = 0; p < tb_pattern_count_pieces(pattern); p++) {
		const tb_piece *piece = tb_pattern_piece(pattern, p);
		const tb_script *script = tb_worked_script(worked, p);
		for (guint i = 0; i < piece->rows->len; i++) {
			guint read = g_array_index(piece->row_reads, guint, i);
			as[read] = merge(as[read], script->row_as[i]);
		}
		if (script->row_as[piece->rows->len] == TB_READ_UNREAD)
			merge_start(pattern, piece, as);
	}
	return as;
}

static gint compare_spans(gconstpointer a, gconstpointer b)
{
	const tb_span *left = a, *right = b;
	return left->start != right->start ? (left->start < right->start ? -1 : 1) :
		left->end < right->end ? 1 : -1;
}

/* What the rows of all pieces read past, in the order of the text; no part twice. Owned. */
static GArray *sort_asides(const tb_worked *worked)
{
	GArray *asides = g_array_new(FALSE, FALSE, sizeof(tb_span));
	for (unsigned p = 0; p < tb_pattern_count_pieces(tb_worked_pattern(worked)); p++) {
		const GArray *more = tb_worked_script(worked, p)->asides;
		if (more->len > 0)
			g_array_append_vals(asides, more->data, more->len);
	}
	g_array_sort(asides, compare_spans);
	guint kept = 0;
	for (guint i = 0; i < asides->len; i++) {
		tb_span span = g_array_index(asides, tb_span, i);
		if (kept == 0 || span.start >= g_array_index(asides, tb_span, kept - 1).end)
			g_array_index(asides, tb_span, kept++) = span;
	}
	g_array_set_size(asides, kept);
	return asides;
}

/*
 * Where the part of a row at AT ends at the latest: before what is read past, or behind it, which *AS
 * then says. *NEXT goes on over ASIDES with AT.
 */
static size_t part_end(const GArray *asides, guint *next, size_t at, tb_read_as *as)
{
	while (*next < asides->len && g_array_index(asides, tb_span, *next).end <= at)
		(*next)++;
	if (*next == asides->len)
		return G_MAXSIZE;
	const tb_span *aside = &g_array_index(asides, tb_span, *next);
	if (at < aside->start)
		return aside->start;
	*as = TB_READ_REMARK;
	return aside->end;
}

static bool is_of_row(tb_read_as as)
{
	return as == TB_READ_ROW || as == TB_READ_START || as == TB_READ_REPEAT;
}

GArray *tb_check_read(const tb_worked *worked)
{
	const tb_pattern *pattern = tb_worked_pattern(worked);
	const char *text = tb_source_get_text(pattern->source, NULL);
	GArray *parts = g_array_new(FALSE, FALSE, sizeof(tb_check_part));
	g_autofree tb_read_as *as = merge_rows(worked);
	g_autoptr(GArray) asides = sort_asides(worked);
	guint next = 0;
	for (guint i = 0; i < pattern->reads->len; i++) {
		const tb_read *read = &g_array_index(pattern->reads, tb_read, i);
		for (size_t at = read->span.start; at < read->span.end;) {
			tb_check_part part = {.as = as[i], .start = at};
			locate(pattern->source, parts, &part);
			part.end = MIN(read->span.end, line_end(pattern->source, part.line));
			if (is_of_row(part.as))
				part.end = MIN(part.end, part_end(asides, &next, at, &part.as));
			part.length = count_characters(text, at, part.end);
			g_array_append_val(parts, part);
			at = part.end;
		}
	}
	return parts;
}

const char *tb_check_read_name(tb_read_as as)
{
	static const char *const names[] = {"blank", "fact", "heading", "definition", "start", "row",
		"repeat", "remark", "finishing", "unread"};
	return names[as];
}

char *tb_check_remarks(const tb_worked *worked)
{
	const char *text = tb_source_get_text(tb_worked_pattern(worked)->source, NULL);
	g_autoptr(GArray) parts = tb_check_read(worked);
	GString *out = g_string_new(NULL);
	for (guint i = 0; i < parts->len; i++) {
		const tb_check_part *part = &g_array_index(parts, tb_check_part, i);
		if (part->as != TB_READ_REMARK && part->as != TB_READ_FINISHING)
			continue;
		g_autofree char *said = g_strndup(text + part->start, part->end - part->start);
		g_strstrip(said);
		if (*said != '\0')
			g_string_append_printf(out, "%u: %s\n", part->line, said);
	}
	if (out->len == 0)
		g_string_append(out, "Nothing was read past.\n");
	return g_string_free(out, FALSE);
}
