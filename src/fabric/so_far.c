/* Lengths that are said amid the rows against the rows; the rules stand in the header. */
#include "fabric/so_far.h"

#include "fabric/worked.h"
#include "pattern/text_figures.h"
#include "pattern/text_kinds.h"
#include "support/units.h"

#include <math.h>
#include <string.h>

#define IN_PIECE_MM (TB_MM_PER_INCH / 2)
/* "the piece should now measure": words before the length */
#define MOST_WORDS 8u

static const char whole[] = "piece work panel scarf blanket strip back front sleeve throw wrap cloth dishcloth fabric";

/* What is said of a piece, in small letters. */
typedef struct {
	const char *text;
	size_t start;     /* of the source, where text begins */
	unsigned piece;
	size_t from, end; /* the saying, in text */
	tb_finished length;
} saying;

static size_t skip(const char *text)
{
	return strspn(text, " ");
}

/* Whether one of UNTIL's words stands just before AT: that length is still to be worked. */
static bool is_to_come(const char *text, size_t at)
{
	for (unsigned words = 0; words < 3 && at > 0; words++) {
		while (at > 0 && text[at - 1] == ' ')
			at--;
		size_t end = at;
		while (at > 0 && g_ascii_isalpha(text[at - 1]))
			at--;
		if (at == end)
			return false;
		if (tb_at_word(text + at, "until till til when once where if before after that") > 0)
			return true;
	}
	return false;
}

/* "piece should now measure 25 (30) cm" at AT, of the length from the first row on; where it ends, or 0. */
static size_t read_at(saying *s, size_t at)
{
	const char *text = s->text;
	size_t word = tb_at_word(text + at, whole), from = at;
	bool measures = false;
	if (word == 0 || is_to_come(text, at))
		return 0;
	at += word + skip(text + at + word);
	for (unsigned i = 0; i < MOST_WORDS; i++) {
		word = tb_at_word(text + at, "should will now must measure measures measuring be is approximately approx about");
		measures = measures || tb_at_word(text + at, "measure measures") > 0;
		if (word == 0)
			break;
		at += word + (text[at + word] == '.');
		at += skip(text + at);
	}
	s->length = (tb_finished){.kind = TB_FINISHED_LENGTH};
	size_t end = 0;
	if (!tb_figures_read_lengths(text + at, &s->length, &end))
		return 0;
	end += at;
	/* in another unit too */
	size_t behind = end + skip(text + end);
	if (text[behind] == '(' || text[behind] == '/')
		behind += strcspn(text + behind, ")") + (text[behind] == '(');
	behind += skip(text + behind);
	/* "should now be 25 cm long" */
	word = tb_at_word(text + behind, "long");
	if (word == 0 && !measures)
		return 0;
	behind += word + skip(text + behind + word);
	word = tb_at_word(text + behind, "from");
	size_t where = behind + word + skip(text + behind + word);
	bool begins = word > 0 && tb_at_word(text + where, "beg beginning start foundation") > 0;
	if (text[behind] != '\0' && !tb_is_among(text[behind], ".;,!\r\n") && !begins)
		return 0;
	s->from = from;
	s->end = end;
	return end;
}

/* How many rows of F the text has worked before AT of the source; 0 where that is not known. */
static guint32 rows_before(const tb_pattern *pattern, const tb_fabric *f, size_t at)
{
	for (guint i = 0; i < pattern->reads->len; i++) {
		const tb_read *read = &g_array_index(pattern->reads, tb_read, i);
		if (read->span.start <= at)
			continue;
		if (read->as == TB_READ_HEADING)
			break;
		if (read->as != TB_READ_ROW && read->as != TB_READ_REPEAT)
			continue;
		/* the first row that is worked behind it, where its own words say it */
		for (guint32 r = 1; r < f->row_count; r++) {
			const tb_sentence *sentence = f->rows[r].sentence;
			if (sentence != NULL && sentence->span.start >= read->span.start && sentence->span.start < read->span.end)
				return r;
		}
		return 0;
	}
	return f->row_count;
}

static void check(const tb_worked *worked, tb_diagnostics *diagnostics, const saying *s)
{
	const tb_pattern *pattern = tb_worked_pattern(worked);
	unsigned sizes = tb_pattern_count_sizes(pattern);
	tb_size_set differ = 0;
	double stated = 0, made = 0;
	if (s->length.count != 1 && s->length.count != sizes)
		return;
	for (unsigned size = 0; size < sizes; size++) {
		const tb_fabric *f = tb_worked_fabric(worked, s->piece, size);
		guint32 count = rows_before(pattern, f, s->start + s->from);
		double said = s->length.mm[s->length.count == 1 ? 0 : size];
		if (count < 2 || f->has_fault || f->rows[1].is_round || f->rows[count - 1].is_round || !(said > 0))
			continue;
		double high = 0, row = 0;
		for (guint32 r = 1; r < count; r++) {
			high = fmax(high, f->rows[r].top_mm);
			row = fmax(row, f->rows[r].height_mm);
		}
		if (!(high > 0) || fabs(high - said) <= fmax(IN_PIECE_MM, row))
			continue;
		stated = differ == 0 ? said : stated;
		made = differ == 0 ? high : made;
		differ |= (tb_size_set)1 << size;
	}
	if (differ == 0)
		return;
	tb_where where = {.has_place = true, .place = {s->start + s->from, s->start + s->end}, .piece = tb_pattern_get_piece(pattern, s->piece),
		.sizes = sizes > 1 ? differ : 0};
	char cm[2][G_ASCII_DTOSTR_BUF_SIZE];
	g_ascii_formatd(cm[0], sizeof cm[0], "%.1f", stated / 10);
	g_ascii_formatd(cm[1], sizeof cm[1], "%.1f", made / 10);
	tb_diagnose_format(diagnostics, TB_WARNING, "finished-differs", &where, "Check the gauge, the rows, or what is stated.",
		"%s cm are stated here, and the rows so far come to %s cm", cm[0], cm[1]);
}

void tb_so_far_check(const tb_worked *worked, tb_diagnostics *diagnostics)
{
	const tb_pattern *pattern = tb_worked_pattern(worked);
	size_t length;
	const char *source = tb_source_get_text(pattern->source, &length);
	if (pattern->gauges->len == 0)
		return;
	g_autofree char *text = g_ascii_strdown(source, (gssize)length);
	for (unsigned piece = 0; piece < tb_pattern_count_pieces(pattern); piece++) {
		const tb_piece *of = tb_pattern_piece(pattern, piece);
		const tb_fabric *first = tb_worked_fabric(worked, piece, 0);
		if (of->start == NULL || of->from_piece != NULL || (of->parts != NULL && of->parts->len > 0) || first->row_count < 2 || first->rows[1].sentence == NULL)
			continue;
		/* from its first row to the next heading */
		size_t begin = first->rows[1].sentence->span.start, end = length;
		for (guint i = 0; i < pattern->reads->len; i++) {
			const tb_read *read = &g_array_index(pattern->reads, tb_read, i);
			if (read->as == TB_READ_HEADING && read->span.start > begin)
				end = MIN(end, read->span.start);
		}
		saying s = {.text = text, .piece = piece};
		for (size_t at = begin; at < end;) {
			size_t behind = at == 0 || !g_ascii_isalnum(text[at - 1]) ? read_at(&s, at) : 0;
			if (behind > 0)
				check(worked, diagnostics, &s);
			at = MAX(behind, at + 1);
		}
	}
}
