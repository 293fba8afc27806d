/* Yarn from a swatch that was weighed; the header says how. */
#include "fabric/yarn.h"

#include "fabric/laid.h"

#include <string.h>

#define GRAMS_PER_OUNCE 28.349523125 /* avoirdupois, exact */
/* What is said of a swatch stands together. */
#define LONGEST_SAYING 240u
#define MOST_SWATCH 10000.0

/* Whether one of WORDS, each parted by a blank, stands at TEXT, and no letter behind it. */
static bool is_at(const char *text, const char *words)
{
	g_auto(GStrv) all = g_strsplit(words, " ", -1);
	for (guint i = 0; all[i] != NULL; i++) {
		size_t length = strlen(all[i]);
		if (strncmp(text, all[i], length) == 0 && !g_ascii_isalpha(text[length]))
			return true;
	}
	return false;
}

/* Whether a stitch's name stands at TEXT, "tr", "stitches". */
static bool is_stitch_at(const tb_library *library, const char *text)
{
	size_t length = 0;
	while (g_ascii_isalpha(text[length]))
		length++;
	g_autofree char *name = g_strndup(text, length);
	return length > 0 && (is_at(text, "st sts stitch stitches") || tb_library_find_term(library, name, false) != NULL ||
		tb_library_find_term(library, name, true) != NULL);
}

/* What stands from TEXT on, up to LENGTH, of a swatch; the first of each is the swatch's. */
static void read_swatch(const tb_library *library, const char *text, size_t length, tb_swatch *swatch)
{
	bool weighed = false;
	for (size_t at = 0; at < length;) {
		bool begins = at == 0 || !g_ascii_isalnum(text[at - 1]);
		weighed = weighed || (begins && strncmp(text + at, "weigh", 5) == 0);
		if (!begins || !g_ascii_isdigit(text[at])) {
			at++;
			continue;
		}
		char *end;
		double value = g_ascii_strtod(text + at, &end);
		const char *word = end + strspn(end, " ");
		if (weighed && swatch->grams == 0 && is_at(word, "g gr gm gms gram grams gramme grammes"))
			swatch->grams = value;
		else if (weighed && swatch->grams == 0 && is_at(word, "oz ounce ounces"))
			swatch->grams = value * GRAMS_PER_OUNCE;
		else if (swatch->rows == 0 && is_at(word, "row rows rnd rnds round rounds"))
			swatch->rows = value;
		else if (swatch->stitches == 0 && is_stitch_at(library, word))
			swatch->stitches = value;
		at = (size_t)(end - text);
	}
}

static bool find_swatch(const tb_library *library, const char *said, tb_swatch *swatch)
{
	static const char *const names[] = {"swatch", "test piece", "sample", "test square", "tension square"};
	g_autofree char *text = tb_text_lower(said != NULL ? said : "", -1);
	for (size_t i = 0; i < G_N_ELEMENTS(names); i++) {
		for (const char *at = strstr(text, names[i]); at != NULL; at = strstr(at + 1, names[i])) {
			*swatch = (tb_swatch){0};
			read_swatch(library, at, MIN(strlen(at), LONGEST_SAYING), swatch);
			if (swatch->stitches > 0 && swatch->rows > 0 && swatch->grams > 0 && swatch->stitches <= MOST_SWATCH &&
				swatch->rows <= MOST_SWATCH && swatch->grams <= MOST_SWATCH)
				return true;
		}
	}
	return false;
}

bool tb_yarn_estimate(const tb_worked *worked, tb_swatch *swatch, double *grams)
{
	const tb_pattern *pattern = tb_worked_pattern(worked);
	if (!find_swatch(pattern->library, pattern->yarn_note, swatch) && !find_swatch(pattern->library, pattern->notes, swatch) &&
		!find_swatch(pattern->library, pattern->about, swatch))
		return false;
	bool any = false;
	for (unsigned size = 0; size < tb_pattern_count_sizes(pattern); size++) {
		double stitches = 0;
		bool sound = true;
		for (unsigned piece = 0; piece < tb_pattern_count_pieces(pattern); piece++) {
			const tb_fabric *fabric = tb_worked_fabric(worked, piece, size);
			sound = sound && !fabric->has_fault;
			for (guint32 i = 1; i < fabric->row_count; i++)
				stitches += (double)fabric->rows[i].stitches * tb_laid_made(pattern, piece, size);
		}
		grams[size] = sound ? stitches / (swatch->stitches * swatch->rows) * swatch->grams : 0;
		any = any || grams[size] > 0;
	}
	return any;
}
