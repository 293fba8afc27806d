/*
 * Words that only one of the two terms has. "dc" is a stitch in both, and not the same one; where a
 * pattern that calls its terms US says "miss", or one that calls them UK says "sc", it may be that
 * every stitch in it is another than its designer means.
 */
#include "notation/parse.h"
#include "support/diagnose.h"

#include <string.h>

/* Source: trade tables 1c, unambiguous witnesses (common practice); ttr and qtr from memory. */
static const char *const uk_words[] = {
	"miss", "missing", "missed", "ss", "htr", "yrh", "ttr", "qtr", "tension"};
static const char *const us_words[] = {"sc", "hdc"};

static bool is_witness(const char *word, size_t length, bool uk)
{
	const char *const *words = uk ? uk_words : us_words;
	size_t count = uk ? G_N_ELEMENTS(uk_words) : G_N_ELEMENTS(us_words);
	for (size_t i = 0; i < count; i++) {
		if (strlen(words[i]) == length && g_ascii_strncasecmp(word, words[i], length) == 0)
			return true;
	}
	return false;
}

/* Whether an error at this place has said so already. */
static bool is_told(tb_diagnostics *diagnostics, tb_span span)
{
	for (unsigned i = 0; i < tb_diagnostics_count(diagnostics); i++) {
		const tb_diagnostic *fault = tb_diagnostics_get(diagnostics, i);
		if (fault->has_place && fault->place.start <= span.start && fault->place.end >= span.end &&
			strcmp(fault->code, "other-terms") == 0)
			return true;
	}
	return false;
}

static bool tell(const tb_pattern *pattern, const tb_piece *piece, const tb_text *text, size_t start,
	size_t end, tb_diagnostics *diagnostics)
{
	bool uk = pattern->uk_terms;
	tb_where where = {.has_place = true, .piece = piece->name};
	where.place = tb_text_span(text, start, end);
	if (is_told(diagnostics, where.place))
		return true;
	g_autofree char *word = g_strndup(text->chars + start, end - start);
	g_autofree char *hint = g_strdup_printf(
		"If the rows are in %s terms, say \"Terms: %s\": dc is then %s.", uk ? "US" : "UK",
		uk ? "US" : "UK", uk ? "what UK patterns call treble" : "single crochet");
	tb_diagnose_format(diagnostics, TB_WARNING, "mixed-terms", &where, hint,
		"\"%s\" is a %s word, and the pattern is in %s terms", word, uk ? "US" : "UK",
		uk ? "UK" : "US");
	return true;
}

/* Whether something was told. */
static bool check_text(const tb_pattern *pattern, const tb_piece *piece, const tb_text *text,
	tb_diagnostics *diagnostics)
{
	for (size_t at = 0; at < text->length;) {
		if (!g_ascii_isalpha(text->chars[at])) {
			at++;
			continue;
		}
		size_t end = at;
		while (g_ascii_isalpha(text->chars[end]))
			end++;
		/* "sc2tog" is as good as "sc"; "sc's" is not asked */
		if (is_witness(text->chars + at, end - at, !pattern->uk_terms))
			return tell(pattern, piece, text, at, end, diagnostics);
		at = end;
	}
	return false;
}

void tb_script_check_terms(const tb_pattern *pattern, tb_diagnostics *diagnostics)
{
	for (unsigned i = 0; i < tb_pattern_count_pieces(pattern); i++) {
		const tb_piece *piece = tb_pattern_piece(pattern, i);
		for (guint row = 0; row < piece->rows->len; row++) {
			if (check_text(pattern, piece, piece->rows->pdata[row], diagnostics))
				return;
		}
	}
}
