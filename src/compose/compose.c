/*
 * Written rows.
 *
 * The graph of each size is said in steps (steps.c), the sizes' steps are made into one text
 * (acts.c, repeat.c), rows that repeat others are found (rows.c), and what
 * comes out is an instruction tree as the parser makes them, which notation/write.c prints.
 */
#include "compose/compose.h"
#include "words/write.h"
#include "words/write_surface.h"
#include "support/limits.h"

#include <tambour/rows.h>

#include <string.h>

bool tb_compose_is_too_long(const tb_composer *c, const tb_sentence *sentence)
{
	const tb_write_options options = {c->pattern, false, -1};
	g_autofree char *text = tb_sentence_write(sentence, &options);
	return strlen(text) > TB_LIMIT_ROW_BYTES;
}

static bool fastens_off(const tb_script *source)
{
	const tb_sentence *last = source->count > 0 ? source->sentences[source->count - 1] : NULL;
	for (unsigned i = 0; last != NULL && i < last->acts.count; i++) {
		if (last->acts.acts[i].kind == TB_ACT_FASTEN_OFF)
			return true;
	}
	return false;
}

static void append_figure(GString *text, int value)
{
	if (value == TB_NOT_IN_SIZE)
		g_string_append_c(text, '-');
	else
		g_string_append_printf(text, "%d", value);
}

static void append_number(GString *text, const tb_number *number, int size)
{
	if (number->count == 1 || size >= 0) {
		g_string_append_printf(text, "%d",
			MAX(tb_number_in(number, number->count == 1 ? 0 : (unsigned)size), 0));
		return;
	}
	for (unsigned i = 0; i < number->count; i++) {
		g_string_append(text, i == 0 ? "" : i == 1 ? " (" : ", ");
		append_figure(text, number->values[i]);
	}
	g_string_append_c(text, ')');
}

/* What a piece that grows from another is worked on. */
static void append_from(GString *text, const tb_pattern *pattern, unsigned piece,
	const tb_script *script, int size)
{
	g_string_append(text, "Work over ");
	if (script->has_from) {
		g_string_append(text, "sts ");
		append_number(text, &script->from_first, size);
		g_string_append_c(text, '-');
		append_number(text, &script->from_last, size);
	} else {
		g_string_append(text, "all sts");
	}
	g_string_append_printf(text, " of %s.\n", tb_pattern_piece(pattern, piece)->from_piece);
}

/* On the last line, or below it where that line is not for all sizes. */
static void append_fasten_off(GString *text, const tb_script *script, int size)
{
	const tb_sentence *last = script->sentences[script->count - 1];
	if (size >= 0 || last->sizes == G_MAXUINT32) {
		g_string_truncate(text, text->len - 1);
		g_string_append_c(text, ' ');
	}
	g_string_append(text, "Fasten off.\n");
}

char *tb_rows_text(const tb_worked *worked, int piece, int size, bool uk)
{
	const tb_pattern *pattern = tb_worked_pattern(worked);
	unsigned sizes = tb_pattern_count_sizes(pattern);
	g_return_val_if_fail(piece >= 0 && (unsigned)piece < tb_pattern_count_pieces(pattern), NULL);
	g_return_val_if_fail(size < (int)sizes, NULL);
	tb_size_set set = size >= 0 ? (tb_size_set)1 << size : ((tb_size_set)1 << sizes) - 1;
	const tb_script *source = tb_worked_script(worked, (unsigned)piece);
	g_autoptr(tb_script) script = tb_compose_script(worked, (unsigned)piece, set, source);
	tb_write_options options = {pattern, uk, size};
	GString *text = g_string_new(NULL);
	if (tb_pattern_piece(pattern, (unsigned)piece)->from_piece != NULL)
		append_from(text, pattern, (unsigned)piece, source, size);
	g_autofree char *rows = tb_script_write(script, &options);
	g_string_append(text, rows);
	if (script->count > 0 && fastens_off(source))
		append_fasten_off(text, script, size);
	tb_surface_write_all(text, worked, (unsigned)piece, &options);
	return g_string_free(text, FALSE);
}
