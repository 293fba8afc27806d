/*
 * Seams that name counts or lengths: "Sew shoulder seams, 18 (22, 24) sts each side", "leaving 19 (20, 21) cm open for
 * each armhole", "That leaves 6 sts of each front and 22 sts of the back". Whether the pieces agree, fabric/seams.c says.
 */
#include "pattern/text_figures.h"
#include "pattern/text_reader.h"

#include "support/limits.h"

#include <string.h>

static const char sewing[] = "sew join seam seams graft whipstitch whip stitch close";
/* What may stand between the figures of a shoulder and what says that they are. */
static const char stitches[] = "st sts stitch stitches sc hdc dc tr htr dtr";

typedef struct {
	tb_pattern *pattern;
	const char *text; /* small */
	size_t start;     /* of the source, where text begins */
	size_t from, end; /* the sentence */
} finding;

static size_t skip(const char *text)
{
	return strspn(text, " \n\r\t");
}

static bool has(const finding *f, const char *words)
{
	return tb_find_words(f->text + f->from, f->end - f->from, words) < f->end - f->from;
}

static void add(finding *f, tb_seam *seam, size_t from, size_t end)
{
	seam->place = (tb_span){f->start + from, f->start + end};
	g_array_append_val(f->pattern->seams, *seam);
}

/* The word before AT in the sentence is one of WORDS. */
static bool comes_after(const finding *f, size_t at, const char *words)
{
	size_t end = at;
	while (end > f->from && f->text[end - 1] == ' ')
		end--;
	size_t from = end;
	while (from > f->from && g_ascii_isalpha(f->text[from - 1]))
		from--;
	return from < end && tb_at_word(f->text + from, words) == end - from;
}

/* Stitches counted at AT; which seam they are of. */
static size_t read_stitches(finding *f, size_t at)
{
	tb_seam seam = {.count = 0};
	size_t length = tb_figures_read(f->text + at, f->pattern->sizes->len, seam.stitches, &seam.count);
	size_t noun = at + length + skip(f->text + at + length), word = length > 0 ? tb_at_word(f->text + noun, stitches) : 0;
	if (word == 0)
		return at + MAX(length, 1);
	size_t behind = noun + word + skip(f->text + noun + word);
	size_t of = tb_at_word(f->text + behind, "of from on");
	of += behind + skip(f->text + behind + of);
	for (size_t article; (article = tb_at_word(f->text + of, "the each")) > 0;)
		of += article + skip(f->text + of + article);
	bool leaves = tb_find_words(f->text + f->from, at - f->from, "leaves leave leaving") < at - f->from, middle = comes_after(f, at, "center centre middle central");
	bool shoulders = has(f, "shoulder shoulders") && has(f, sewing);
	if (leaves && tb_at_word(f->text + of, "front fronts") > 0)
		seam.kind = TB_SEAM_FRONT_FREE;
	else if (leaves && (tb_at_word(f->text + of, "back") > 0 || (middle && shoulders)))
		seam.kind = TB_SEAM_NECK;
	else if (shoulders && !middle && !leaves)
		seam.kind = TB_SEAM_SHOULDERS;
	else
		return behind;
	add(f, &seam, at, noun + word);
	return behind;
}

/* "leaving 19 (20, 21) cm open for each armhole" */
static size_t read_armhole(finding *f, size_t at)
{
	tb_finished lengths = {0};
	size_t end;
	bool opens = has(f, "armhole armholes") && has(f, "leaving leave left") && has(f, "side sides") && has(f, "open free unsewn unseamed for");
	if (!opens || !tb_figures_read_lengths(f->text + at, &lengths, &end))
		return 0;
	tb_seam seam = {.kind = TB_SEAM_ARMHOLE, .count = lengths.count};
	memcpy(seam.mm, lengths.mm, sizeof seam.mm);
	add(f, &seam, at, at + end);
	return at + end;
}

static void read_sentence(finding *f)
{
	guint before = f->pattern->seams->len;
	for (size_t at = f->from; at < f->end;) {
		bool begins = at == f->from || !g_ascii_isalnum(f->text[at - 1]);
		if (!begins || !g_ascii_isdigit(f->text[at])) {
			at++;
			continue;
		}
		size_t end = read_armhole(f, at);
		at = end > 0 ? end : read_stitches(f, at);
	}
	if (f->pattern->seams->len == before && has(f, "shoulder shoulders") && has(f, sewing) && !has(f, "yarn sleeve sleeves tops squares square"))
		add(f, &(tb_seam){.kind = TB_SEAM_SHOULDERS}, f->from, f->end);
}

/* What remains of the row behind the seam, "That leaves 6 sts", is a sentence of its own. */
static void read_sentences(finding *f)
{
	for (size_t at = 0; f->text[at] != '\0' && f->pattern->seams->len < TB_LIMIT_PIECES;) {
		f->from = at + strspn(f->text + at, " \n\r\t.;!-*#");
		f->end = f->from;
		while (f->text[f->end] != '\0' && !(tb_is_among(f->text[f->end], ".;!") && !g_ascii_isdigit(f->text[f->end + 1])))
			f->end++;
		if (f->end > f->from && f->end - f->from < TB_LIMIT_LINE_BYTES)
			read_sentence(f);
		at = MAX(f->end, at + 1);
	}
}

bool tb_text_tells_seam(const char *line, bool finished)
{
	if (tb_at_word(line, sewing) == 0 || tb_has_stitch(line) || tb_at_word(line, "close") > 0)
		return false;
	size_t length = strcspn(line, ".");
	return tb_find_words(line, length, finished ? "shoulder shoulders side sides sleeve sleeves underarm" : "shoulders seam seams") < length &&
		tb_find_words(line, length, "yarn ring round rnd row rows chain ch sl ss slip squares square motif motifs") == length;
}

void tb_text_find_seams(tb_text_reader *reader)
{
	tb_pattern *pattern = reader->pattern;
	const char *source = tb_source_get_text(pattern->source, NULL);
	for (guint i = 0; i < pattern->reads->len; i++) {
		const tb_read *read = &g_array_index(pattern->reads, tb_read, i);
		bool told = read->as == TB_READ_FINISHING || (read->as == TB_READ_REMARK && pattern->pieces->len > 0);
		guint last = i;
		while (told && last + 1 < pattern->reads->len && g_array_index(pattern->reads, tb_read, last + 1).as == read->as)
			last++;
		if (!told)
			continue;
		g_autofree char *run = g_strndup(source + read->span.start, g_array_index(pattern->reads, tb_read, last).span.end - read->span.start);
		g_autofree char *lower = g_ascii_strdown(run, -1);
		finding f = {.pattern = pattern, .text = lower, .start = read->span.start};
		i = last;
		read_sentences(&f);
	}
}
