/*
 * The row language's writer: one consistent hand, and every sentence is one the reader reads.
 *
 * A row begins with its number and side, goes on with its acts parted by commas, and ends with the
 * count: "Row 3 (RS): Ch 3 (counts as dc), sk first st, dc in each st across, turn. [51 (55, 63)
 * sts]". The one repeat that goes to the row's end stands behind an asterisk, all others in square
 * brackets; groups in one place in round ones. write_acts.c writes the acts, write_place.c the
 * places. US terms are in the tree; UK terms come from the stitches' own UK names.
 */
#include "words/writer.h"

#include "support/units.h"

#include <string.h>

int tb_writer_value(const tb_writer *w, const tb_number *number)
{
	if (number->count == 0)
		return 1;
	unsigned size = w->options->size < 0 ? 0 : (unsigned)w->options->size;
	return tb_number_in(number, number->count == 1 ? 0 : size);
}

bool tb_writer_is(const tb_writer *w, const tb_number *number, int value)
{
	bool one = number->count <= 1 || w->options->size >= 0;
	return one && tb_writer_value(w, number) == value;
}

static void write_value(tb_writer *w, int value)
{
	if (value == TB_NOT_IN_SIZE)
		g_string_append_c(w->out, '-');
	else
		g_string_append_printf(w->out, "%d", value);
}

void tb_writer_number(tb_writer *w, const tb_number *number)
{
	if (number->count <= 1 || w->options->size >= 0) {
		g_string_append_printf(w->out, "%d", MAX(tb_writer_value(w, number), 0));
		return;
	}
	for (unsigned i = 0; i < number->count; i++) {
		g_string_append(w->out, i == 0 ? "" : i == 1 ? " (" : ", ");
		write_value(w, number->values[i]);
	}
	g_string_append_c(w->out, ')');
}

const char *tb_writer_across(const tb_writer *w)
{
	return w->is_round ? "around" : "across";
}

const char *tb_writer_stitch(const tb_writer *w, const tb_stitch *stitch)
{
	return w->options->uk ? stitch->uk : stitch->us;
}

void tb_writer_sizes(tb_writer *w, tb_size_set sizes)
{
	const tb_pattern *pattern = w->options->pattern;
	unsigned total = 0, count = 0;
	for (unsigned i = 0; i < tb_pattern_count_sizes(pattern); i++)
		total += sizes >> i & 1;
	g_string_append(w->out, total == 1 ? "size " : "sizes ");
	for (unsigned i = 0; i < tb_pattern_count_sizes(pattern); i++) {
		if (!(sizes >> i & 1))
			continue;
		if (count > 0)
			g_string_append(w->out, count + 1 == total ? " and " : ", ");
		g_string_append(w->out, tb_pattern_get_size(pattern, i));
		count++;
	}
	g_string_append(w->out, " only");
}

static bool is_limited(const tb_writer *w, tb_size_set sizes)
{
	unsigned count = tb_pattern_count_sizes(w->options->pattern);
	tb_size_set all = count >= 32 ? G_MAXUINT32 : ((tb_size_set)1 << count) - 1;
	return w->options->size < 0 && (sizes & all) != all;
}

static void write_row_numbers(tb_writer *w, bool is_round, unsigned first, unsigned last)
{
	if (first == 0) {
		g_string_append_printf(w->out, "Foundation %s", is_round ? "rnd" : "row");
		return;
	}
	g_string_append(w->out, is_round ? "Rnd" : "Row");
	if (last > first)
		g_string_append_printf(w->out, "s %u-%u", first, last);
	else
		g_string_append_printf(w->out, " %u", first);
}

static void write_head(tb_writer *w, const tb_sentence *sentence)
{
	write_row_numbers(w, sentence->is_round, sentence->first, sentence->last);
	if (sentence->side != TB_SIDE_UNSAID)
		g_string_append(w->out, sentence->side == TB_SIDE_RIGHT ? " (RS)" : " (WS)");
	if (is_limited(w, sentence->sizes)) {
		g_string_append(w->out, " (");
		tb_writer_sizes(w, sentence->sizes);
		g_string_append_c(w->out, ')');
	}
	g_string_append(w->out, ": ");
}

static void write_measure(tb_writer *w, const tb_sentence *sentence)
{
	bool inches = w->options->pattern->gauge.over_inches;
	double unit = inches ? TB_MM_PER_INCH : 10;
	unsigned count = w->options->size < 0 ? sentence->measure_count : 1;
	for (unsigned i = 0; i < count; i++) {
		unsigned at = w->options->size < 0 || sentence->measure_count == 1 ? i
			: (unsigned)w->options->size;
		double mm = sentence->measure_mm[at];
		char figures[G_ASCII_DTOSTR_BUF_SIZE];
		g_string_append(w->out, i == 0 ? "" : i == 1 ? " (" : ", ");
		if (mm == TB_NOT_IN_SIZE)
			g_string_append_c(w->out, '-');
		else
			g_string_append(w->out, g_ascii_formatd(figures, sizeof figures, "%.6g", mm / unit));
	}
	g_string_append_printf(w->out, "%s %s", count > 1 ? ")" : "", inches ? "in" : "cm");
}

static void write_until(tb_writer *w, const tb_sentence *sentence)
{
	switch (sentence->until) {
	case TB_REPEAT_OVER:
		break;
	case TB_REPEAT_TIMES:
		if (tb_writer_is(w, &sentence->times, 1)) {
			g_string_append(w->out, " once");
		} else if (tb_writer_is(w, &sentence->times, 2)) {
			g_string_append(w->out, " twice");
		} else {
			g_string_append_c(w->out, ' ');
			tb_writer_number(w, &sentence->times);
			g_string_append(w->out, " times");
		}
		break;
	case TB_REPEAT_MEASURES:
		if (sentence->since == TB_SINCE_HERE)
			g_string_append(w->out, " for ");
		else
			g_string_append_printf(w->out, " until %s ", sentence->since == TB_SINCE_ARMHOLE ? "armhole" :
				sentence->since == TB_SINCE_PART ? sentence->since_name : "piece");
		if (sentence->same_as_piece != NULL) {
			g_string_append_printf(w->out, "is same length as %s", sentence->same_as_piece);
			if (sentence->same_part != NULL)
				g_string_append_printf(w->out, " to %s", sentence->same_part);
		} else {
			g_string_append(w->out, sentence->since == TB_SINCE_HERE ? "" : "measures ");
			write_measure(w, sentence);
		}
		if (sentence->since == TB_SINCE_END)
			g_string_append_printf(w->out, " from top of %s", sentence->since_name);
		break;
	case TB_REPEAT_PATTERN:
		g_string_append(w->out, " for pattern");
		break;
	case TB_REPEAT_COUNT:
		g_string_append(w->out, " until you have ");
		tb_writer_number(w, &sentence->times);
		g_string_append_printf(w->out, " %s", sentence->count_of != NULL ? tb_writer_stitch(w, sentence->count_of) : "sts");
		if (sentence->between_marks)
			g_string_append(w->out, " between markers");
		break;
	case TB_REPEAT_MATCH:
	case TB_REPEAT_SECTIONS: /* composed rows are repeated so many times */
		break;
	case TB_REPEAT_BETWEEN:
		g_string_append(w->out, " until there are ");
		tb_writer_number(w, &sentence->times);
		g_string_append(w->out, " sts between increases");
		break;
	case TB_REPEAT_GROWN:
		g_string_append(w->out, sentence->grown_more ? " for " : " until you have worked ");
		tb_writer_number(w, &sentence->times);
		g_string_append_printf(w->out, "%s increase %s", sentence->grown_more ? " more" : "", sentence->is_round ? "rnds" : "rows");
		break;
	case TB_REPEAT_SECTION:
		g_string_append(w->out, " until there are ");
		tb_writer_number(w, &sentence->times);
		g_string_append_printf(w->out, " %s in each section", tb_writer_stitch(w, sentence->section_stitch));
		break;
	case TB_REPEAT_EDGE:
		g_string_append(w->out, " until all sts of the edge are used");
		break;
	case TB_REPEAT_TOTAL:
		g_string_append(w->out, " for a total of ");
		tb_writer_number(w, &sentence->times);
		g_string_append(w->out, sentence->is_round ? " rnds" : " rows");
		break;
	}
	if (sentence->ending_row > 0) {
		g_string_append(w->out, ", ending with ");
		write_row_numbers(w, sentence->is_round, sentence->ending_row, sentence->ending_row);
	} else if (sentence->ending_side != TB_SIDE_UNSAID) {
		g_string_append_printf(w->out, ", ending with a %s row",
			sentence->ending_side == TB_SIDE_RIGHT ? "RS" : "WS");
	}
}

static void write_last_rows(tb_writer *w, bool is_round, unsigned count)
{
	const char *word = is_round ? "rnd" : "row";
	if (count == 1)
		g_string_append_printf(w->out, "last %s", word);
	else
		g_string_append_printf(w->out, "last %u %ss", count, word);
}

static void write_repeat(tb_writer *w, const tb_sentence *sentence)
{
	if (sentence->first > 0) {
		write_head(w, sentence);
	} else if (is_limited(w, sentence->sizes)) {
		gsize at = w->out->len;
		tb_writer_sizes(w, sentence->sizes);
		w->out->str[at] = g_ascii_toupper(w->out->str[at]);
		g_string_append(w->out, ": ");
	}
	g_string_append(w->out, "Rep ");
	if (sentence->repeat_nth > 0)
		g_string_append_printf(w->out, "the %u%s of the ", sentence->repeat_nth,
			tb_writer_ordinal_ending((int)sentence->repeat_nth));
	if (sentence->repeat_block > 0)
		g_string_append(w->out, "from * to *");
	else if (sentence->repeat_back > 0)
		write_last_rows(w, sentence->is_round, sentence->repeat_back);
	else
		write_row_numbers(w, sentence->is_round, sentence->repeat_first, sentence->repeat_last);
	write_until(w, sentence);
}

static void write_claims(tb_writer *w, const tb_sentence *sentence)
{
	for (unsigned i = 0; i < sentence->claim_count; i++) {
		const tb_claim *claim = &sentence->claims[i];
		tb_place noun = {.target = claim->spaces ? TB_TARGET_SPACE
				: claim->stitch != NULL ? TB_TARGET_NAMED : TB_TARGET_STITCH,
			.named = claim->stitch, .space_chains = claim->space_chains};
		g_string_append(w->out, i == 0 ? " [" : ", ");
		tb_writer_number(w, &claim->count);
		g_string_append_c(w->out, ' ');
		if (claim->space_lengths.count > 1) {
			g_string_append(w->out, "ch-");
			tb_writer_number(w, &claim->space_lengths);
			g_string_append_c(w->out, ' ');
			noun.space_chains = 0;
		}
		tb_writer_noun(w, &noun, !tb_writer_is(w, &claim->count, 1));
	}
	if (sentence->claim_count > 0)
		g_string_append_c(w->out, ']');
}

static unsigned count_open_repeats(const tb_acts *acts)
{
	unsigned count = 0;
	for (unsigned i = 0; i < acts->count; i++)
		count += acts->acts[i].kind == TB_ACT_REPEAT && acts->acts[i].until == TB_UNTIL_END;
	return count;
}

/* A sentence of its own: "Fasten off." The acts before it, in *BEFORE. */
static bool ends_with_fasten_off(const tb_acts *acts, tb_acts *before)
{
	*before = *acts;
	if (acts->count == 0 || acts->acts[acts->count - 1].kind != TB_ACT_FASTEN_OFF)
		return false;
	before->count--;
	return true;
}

/* The first letter, behind a bracket or an asterisk as well. */
static void capitalize(GString *text, gsize at)
{
	while (at < text->len && tb_is_among(text->str[at], "*(["))
		at++;
	if (at < text->len)
		text->str[at] = g_ascii_toupper(text->str[at]);
}

/* The chains of the row's turning chain, which slip stitches may stand before; 0 without one. */
static int find_beginning(const tb_writer *w, const tb_acts *acts)
{
	for (unsigned i = 0; i < acts->count; i++) {
		const tb_act *act = &acts->acts[i];
		if (act->kind == TB_ACT_CHAIN && (i == 0 || act->counts == TB_COUNTS))
			return tb_writer_value(w, &act->count);
	}
	return 0;
}

/* How many stretches of edge ACTS go along. */
static unsigned count_edges(const tb_acts *acts)
{
	unsigned edges = 0;
	for (unsigned i = 0; i < acts->count; i++)
		edges += acts->acts[i].kind == TB_ACT_WORK && acts->acts[i].place.in == TB_IN_EDGE;
	return edges;
}

static void write_sentence(tb_writer *w, const tb_sentence *sentence)
{
	tb_acts acts;
	bool fasten_off = ends_with_fasten_off(&sentence->acts, &acts);
	w->is_round = sentence->is_round;
	w->all_around = sentence->is_round && count_edges(&sentence->acts) == 1;
	w->star = count_open_repeats(&acts) == 1;
	w->beginning = find_beginning(w, &acts);
	if (sentence->kind == TB_SENTENCE_ROWS)
		write_head(w, sentence);
	else if (sentence->kind == TB_SENTENCE_REPEAT)
		write_repeat(w, sentence);
	gsize at = w->out->len;
	if (sentence->kind == TB_SENTENCE_REPEAT && acts.count > 0)
		g_string_append(w->out, ", "), at += 2;
	tb_writer_acts(w, &acts);
	if (sentence->kind != TB_SENTENCE_REPEAT)
		capitalize(w->out, at);
	if (w->out->len > 0 && w->out->str[w->out->len - 1] == ';')
		g_string_truncate(w->out, w->out->len - 1);
	g_string_append_c(w->out, '.');
	write_claims(w, sentence);
	if (fasten_off)
		g_string_append(w->out, " Fasten off.");
}

char *tb_sentence_write(const tb_sentence *sentence, const tb_write_options *options)
{
	tb_writer w = {.out = g_string_new(NULL), .options = options};
	write_sentence(&w, sentence);
	return g_string_free(w.out, FALSE);
}

/* NUMBER in size SIZE; OTHERWISE where it is not said. */
static unsigned row_number(const tb_number *number, unsigned size, unsigned otherwise)
{
	return number->count == 0 ? otherwise : (unsigned)MAX(tb_number_in(number, number->count == 1 ? 0 : size), 0);
}

/*
 * What SIZES pass over between row LAST and NEXT, their next: "Size M only: Rows 5-6 are not worked.", or in one size
 * alone "Rows 5-6 are not worked in this size."
 */
static void write_absent(tb_writer *w, const tb_sentence *next, unsigned last, unsigned first)
{
	bool limited = is_limited(w, next->sizes);
	if (limited) {
		gsize at = w->out->len;
		tb_writer_sizes(w, next->sizes);
		w->out->str[at] = g_ascii_toupper(w->out->str[at]);
		g_string_append(w->out, ": ");
	}
	write_row_numbers(w, next->is_round, last + 1, first - 1);
	g_string_append(w->out, first > last + 2 ? " are not worked" : " is not worked");
	g_string_append(w->out, limited ? ".\n" : " in this size.\n");
}

char *tb_script_write(const tb_script *script, const tb_write_options *options)
{
	tb_writer w = {.out = g_string_new(NULL), .options = options};
	unsigned sizes = tb_pattern_count_sizes(options->pattern);
	g_autofree unsigned *last = g_new0(unsigned, sizes + 1);
	for (unsigned i = 0; i < script->count; i++) {
		const tb_sentence *sentence = script->sentences[i];
		if (options->size >= 0 && !(sentence->sizes >> options->size & 1))
			continue;
		unsigned size = options->size >= 0 ? (unsigned)options->size : (unsigned)MAX(g_bit_nth_lsf(sentence->sizes, -1), 0);
		unsigned first = size < sizes ? row_number(&sentence->first_in, size, sentence->first) : 0;
		if (first > 0 && last[size] > 0 && first > last[size] + 1)
			write_absent(&w, sentence, last[size], first);
		for (unsigned k = 0; k < sizes; k++) {
			if (sentence->sizes >> k & 1)
				last[k] = row_number(&sentence->last_in, k, sentence->last);
		}
		write_sentence(&w, sentence);
		g_string_append_c(w.out, '\n');
	}
	return g_string_free(w.out, FALSE);
}
