/*
 * How a source is read: from each place on, until the next. What is said from one place to the next
 * cannot leave a gap or overlap, so that every character is accounted for by construction.
 */
#include "pattern/read.h"

guint tb_reads_begin(tb_pattern *pattern, size_t at, tb_read_as as)
{
	GArray *reads = pattern->reads;
	if (reads->len > 0) {
		tb_read *last = &g_array_index(reads, tb_read, reads->len - 1);
		at = MAX(at, last->span.start);
		/* Nothing lies between: it is this, and not that. */
		if (at == last->span.start) {
			last->as = as;
			return reads->len - 1;
		}
		last->span.end = at;
	}
	tb_read read = {.span = {reads->len == 0 ? 0 : at, at}, .as = as};
	g_array_append_val(reads, read);
	return reads->len - 1;
}

void tb_reads_finish(tb_pattern *pattern, size_t length)
{
	GArray *reads = pattern->reads;
	if (reads->len == 0 && length > 0)
		tb_reads_begin(pattern, 0, TB_READ_UNREAD);
	/* Behind the last line break there is nothing. */
	if (reads->len > 0 && g_array_index(reads, tb_read, reads->len - 1).span.start == length)
		g_array_set_size(reads, reads->len - 1);
	if (reads->len > 0)
		g_array_index(reads, tb_read, reads->len - 1).span.end = length;
}
