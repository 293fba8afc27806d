/*
 * What a garment measures when it is done: "Finished bust: 91 (101, 111) cm" on a line of its own, "The back
 * measures 46 (50, 54) cm wide." in a sentence, "To fit bust 81 (86, 91) cm", "Ease: 8 cm".
 *
 * "Finished size: 30 cm wide and 40 cm long", "One size: 17" x 70"" tell of the whole.
 *
 * "Bust" by itself may be the wearer's, and is left alone where nothing says that it is finished. A range, "5-10 cm
 * of ease", binds nobody.
 */
#include "pattern/text_figures.h"
#include "pattern/text_reader.h"

#include "support/limits.h"

#include <string.h>

/* What may be said of, and by what names; longer ones stand first. */
static const struct {
	const char *name;
	tb_finished_kind kind;
	bool anywhere; /* no "finished" need stand before it */
} names[] = {
	{"to fit bust", TB_FINISHED_FIT, true}, {"to fit chest", TB_FINISHED_FIT, true}, {"fits bust", TB_FINISHED_FIT, true},
	{"fits chest", TB_FINISHED_FIT, true}, {"to fit: bust", TB_FINISHED_FIT, true}, {"to fit: chest", TB_FINISHED_FIT, true},
	{"bust", TB_FINISHED_BUST, false}, {"chest", TB_FINISHED_BUST, false},
	{"upper arm", TB_FINISHED_UPPER_ARM, true}, {"upper sleeve", TB_FINISHED_UPPER_ARM, true},
	{"bicep", TB_FINISHED_UPPER_ARM, true}, {"sleeve length", TB_FINISHED_TO_UNDERARM, true},
	{"sleeve seam", TB_FINISHED_TO_UNDERARM, true}, {"sleeve to underarm", TB_FINISHED_TO_UNDERARM, true},
	{"armhole", TB_FINISHED_ARMHOLE, true}, {"cuff", TB_FINISHED_CUFF, true}, {"wrist", TB_FINISHED_CUFF, true},
	{"yoke", TB_FINISHED_YOKE, true}, {"neck", TB_FINISHED_NECK, true}, {"neckline", TB_FINISHED_NECK, true},
	{"shoulder", TB_FINISHED_SHOULDER, true}, {"hem", TB_FINISHED_HEM, true}, {"width", TB_FINISHED_WIDTH, true},
	{"circumference", TB_FINISHED_AROUND, true}, {"length", TB_FINISHED_LENGTH, true}, {"ease", TB_FINISHED_EASE, true},
};

/* Words between a name and its figures, "bust (buttoned) is about 91". */
static const char between[] = "measurement measurements measures measure circumference buttoned closed at underarm is are of to "
	"about approx approximately depth width length opening edge size when each seam around back front";

static size_t skip_blanks(const char *text, size_t at)
{
	return at + strspn(text + at, " ");
}

/* From behind a name at AT to its figures; 0 where something else stands between. */
static size_t find_figures(const char *text, size_t at)
{
	for (;;) {
		size_t next = at + strspn(text + at, " ,:=()-");
		size_t word = tb_at_word(text + next, between);
		if (word == 0)
			return next > at && g_ascii_isdigit(text[next]) ? next : 0;
		at = next + word;
	}
}

/* Whether "finished" or "actual" stands before AT in the sentence. */
static bool is_said_finished(const char *text, size_t at)
{
	size_t from = at;
	while (from > 0 && !(text[from - 1] == '.' && text[from] == ' ') && text[from - 1] != ';')
		from--;
	return tb_find_words(text + from, at - from, "finished actual completed garment") < at - from;
}

/* Whether a name at AT is told of, and not come to in passing, "cut elastic to wrist, 18 cm". */
static bool is_told_of(const char *text, size_t at)
{
	size_t end = at, from;
	while (end > 0 && text[end - 1] == ' ')
		end--;
	if (end == 0 || tb_is_among(text[end - 1], ".;,/|*-:") || is_said_finished(text, at))
		return true;
	for (from = end; from > 0 && g_ascii_isalpha(text[from - 1]); from--)
		;
	return tb_at_word(text + from, "back front sleeve total body overall") == end - from;
}

/* "46 cm wide", "30 cm long", "56 cm around": what stands behind figures that follow "measures" alone. */
static bool read_behind(const char *text, tb_finished_kind *kind)
{
	static const struct {
		const char *words;
		tb_finished_kind kind;
	} ways[] = {{"wide across", TB_FINISHED_WIDTH}, {"long tall high deep", TB_FINISHED_LENGTH}, {"around round", TB_FINISHED_AROUND}};
	for (size_t i = 0; i < G_N_ELEMENTS(ways); i++) {
		if (tb_at_word(text + skip_blanks(text, 0), ways[i].words) > 0) {
			*kind = ways[i].kind;
			return true;
		}
	}
	return false;
}

/* "30 cm x 40 cm", "30 x 40 cm" at TEXT: wide and high, or the other way; its bytes, or 0. */
static size_t read_by(const char *text, tb_finished *wide, tb_finished *high)
{
	size_t end = 0, other = 0;
	bool unit = tb_figures_read_lengths(text, wide, &end);
	double figure = g_ascii_strtod(text, NULL);
	end = unit ? end : tb_figure_read(text, &figure);
	size_t next = skip_blanks(text, end), by = tb_at_word(text + next, "x by");
	by = by == 0 && g_str_has_prefix(text + next, "×") ? strlen("×") : by;
	next = skip_blanks(text, next + by);
	double second = g_ascii_strtod(text + next, NULL);
	if (end == 0 || by == 0 || !tb_figures_read_lengths(text + next, high, &other) || !(second > 0))
		return 0;
	if (!unit)
		*wide = (tb_finished){.count = 1, .mm = {figure * high->mm[0] / second}};
	wide->kind = TB_FINISHED_WIDTH;
	high->kind = TB_FINISHED_LENGTH;
	wide->either = true;
	return wide->count == high->count ? next + other : 0;
}

/* The piece that is at hand: that whose heading was read, or whose rows are; NULL before all of them. Owned. */
static char *piece_at_hand(const tb_text_reader *reader)
{
	unsigned make;
	if (reader->has_heading)
		return tb_heading_name(reader->heading, &make);
	return reader->piece != NULL ? g_strdup(reader->piece->name) : NULL;
}

static void add(tb_text_reader *reader, const tb_text *text, size_t from, size_t end, tb_finished *finished)
{
	finished->place = tb_text_span(text, from, end);
	for (guint i = 0; i < reader->pattern->finished->len; i++) {
		const tb_finished *other = &g_array_index(reader->pattern->finished, tb_finished, i);
		if (other->place.start == finished->place.start)
			return;
	}
	for (unsigned i = 0; i < finished->count; i++) {
		if (finished->mm[i] > TB_LIMIT_MEASURE_MM)
			return;
	}
	finished->piece = piece_at_hand(reader);
	g_array_append_val(reader->pattern->finished, *finished);
}

/* The lengths of the whole from FROM on. */
static void find_whole(tb_text_reader *reader, const tb_text *text, const char *lower, size_t from)
{
	tb_finished wide = {0}, high = {0};
	size_t end = read_by(lower + from, &wide, &high);
	if (end > 0) {
		add(reader, text, from, from + end, &wide);
		/* what begins where another does is known already */
		add(reader, text, from + 1, from + end, &high);
		return;
	}
	for (size_t at = from; g_ascii_isdigit(lower[at]);) {
		tb_finished finished = {0};
		bool read = tb_figures_read_lengths(lower + at, &finished, &end);
		size_t behind = skip_blanks(lower, at + end);
		if (!read)
			return;
		if (tb_at_word(lower + behind, "square") > 0) {
			tb_finished long_too = finished;
			finished.kind = TB_FINISHED_WIDTH;
			long_too.kind = TB_FINISHED_LENGTH;
			add(reader, text, at, at + end, &finished);
			add(reader, text, at + 1, at + end, &long_too);
			return;
		}
		if (!read_behind(lower + behind, &finished.kind))
			return;
		add(reader, text, at, at + end, &finished);
		at = behind + strcspn(lower + behind, " ,;.");
		at += strspn(lower + at, " ,;");
		at += tb_at_word(lower + at, "and by x");
		at = skip_blanks(lower, at);
		at += tb_at_word(lower + at, "about approx approximately");
		at = skip_blanks(lower, at);
	}
}

/* Where the lengths of the whole begin behind "Finished size:"; 0 where the text is of something else. */
static size_t find_label(const char *lower)
{
	static const char *const labels[] = {"finished size", "finished measurement", "finished dimension", "measurement", "dimension",
		"one size", "size"};
	size_t from = strspn(lower, "# ");
	for (size_t i = 0; i < G_N_ELEMENTS(labels); i++) {
		size_t length = strlen(labels[i]);
		if (!g_str_has_prefix(lower + from, labels[i]))
			continue;
		length += lower[from + length] == 's';
		return g_ascii_isalpha(lower[from + length]) ? 0 : find_figures(lower, from + length);
	}
	return 0;
}

void tb_text_find_whole(tb_text_reader *reader, const tb_text *text)
{
	g_autofree char *lower = tb_text_lower(text->chars, -1);
	if (strlen(lower) == text->length && text->length <= TB_LIMIT_LINE_BYTES && reader->pattern->finished->len < TB_LIMIT_PIECES)
		find_whole(reader, text, lower, skip_blanks(lower, 0));
}

void tb_text_find_finished(tb_text_reader *reader, const tb_text *text)
{
	if (text->length == 0 || text->length > TB_LIMIT_LINE_BYTES || strpbrk(text->chars, "0123456789") == NULL ||
		reader->pattern->finished->len >= TB_LIMIT_PIECES)
		return;
	g_autofree char *lower = tb_text_lower(text->chars, -1);
	if (strlen(lower) != text->length)
		return;
	size_t whole = find_label(lower);
	if (whole > 0)
		find_whole(reader, text, lower, whole);
	for (size_t at = 0; at < text->length;) {
		size_t taken = 0, end = 0, figures;
		tb_finished finished = {0};
		bool begins = at == 0 || !g_ascii_isalpha(lower[at - 1]);
		for (size_t i = 0; begins && i < G_N_ELEMENTS(names) && taken == 0; i++) {
			size_t length = strlen(names[i].name);
			bool is = g_str_has_prefix(lower + at, names[i].name);
			length += is && lower[at + length] == 's';
			if (!is || g_ascii_isalpha(lower[at + length]))
				continue;
			taken = length;
			figures = (names[i].anywhere ? is_told_of(lower, at) : is_said_finished(lower, at)) ? find_figures(lower, at + length) : 0;
			finished.kind = names[i].kind;
			if (figures > 0 && tb_figures_read_lengths(lower + figures, &finished, &end)) {
				/* "Length: 40 cm around" is none */
				add(reader, text, at, figures + end, &finished);
				taken = figures + end - at;
			}
		}
		size_t verb = begins && taken == 0 ? tb_at_word(lower + at, "measures measure") : 0;
		figures = verb > 0 ? find_figures(lower, at + verb) : 0;
		if (figures > 0 && tb_figures_read_lengths(lower + figures, &finished, &end) && read_behind(lower + figures + end, &finished.kind))
			add(reader, text, at, figures + end, &finished);
		at += MAX(taken, 1);
	}
}
