/*
 * From where a length is measured: "until piece measures 30 cm" from its beginning, "until armhole measures
 * 18 cm" from where that begins, "work even for 5 cm" from here, "until sleeve measures 40 cm from top of cuff"
 * from where that ends. Which row this is, the fabric finds: rows/since.c.
 */
#include "notation/script.h"

#include "support/limits.h"

#include <string.h>

/* The word of WORDS, each parted by a blank, that stands first in TEXT; NULL where none does. Interned. */
static const char *find_word(const char *text, const char *words)
{
	g_auto(GStrv) all = g_strsplit(words, " ", -1);
	const char *first = NULL, *found = NULL;
	for (guint i = 0; all[i] != NULL; i++) {
		size_t length = strlen(all[i]);
		for (const char *at = strstr(text, all[i]); at != NULL; at = strstr(at + 1, all[i])) {
			bool begins = at == text || !g_ascii_isalpha(at[-1]);
			bool ends = !g_ascii_isalpha(at[length]) || (at[length] == 's' && !g_ascii_isalpha(at[length + 1]));
			if (begins && ends && (first == NULL || at < first)) {
				first = at;
				found = g_intern_string(all[i]);
			}
		}
	}
	return found;
}

#define ARMHOLES "armhole underarm armpit raglan arm-hole"
/* What is made on a piece, and measured by itself. */
#define PARTS "yoke cuff rib ribbing band border brim cap collar hood placket strap shoulder neck heel foot leg toe crown " \
	"waistband bodice skirt edging"

/* "from the top of the cuff", "above ribbing", "excluding border": what the length begins behind. */
static bool is_behind(const char *text)
{
	return find_word(text, "above past beyond after excluding top end") != NULL || strstr(text, "not counting") != NULL ||
		strstr(text, "not including") != NULL || find_word(text, "without") != NULL;
}

/* The number of the row that FROM names, "above row 12", "from the 12th row"; 0 for none, or the first. */
static unsigned find_row(const char *from)
{
	for (const char *at = from + strcspn(from, "0123456789"); *at != '\0'; at += strcspn(at, "0123456789")) {
		guint64 row = g_ascii_strtoull(at, (char **)&at, 10);
		const char *behind = at + strspn(at, "stndrdth");
		bool ordinal = behind > at && find_word(behind, "row rnd round") != NULL;
		g_autofree char *before = g_strndup(from, (gsize)(at - from));
		if (row > 1 && row <= TB_LIMIT_PIECE_ROWS && (ordinal || find_word(before, "row rnd round") != NULL))
			return (unsigned)row;
	}
	return 0;
}

/* The row that TEXT has as the first of those it counts, "count row 27 as the first"; 0 for none. */
static unsigned find_first_counted(const char *text)
{
	const char *row = strstr(text, "count");
	bool first = row != NULL ? find_word(row, "as") != NULL : strstr(text, "(") != NULL && strstr(text, "first)") != NULL;
	row = row != NULL ? row : strchr(text, '(');
	for (; row != NULL && *row != '\0'; row++) {
		size_t word = strlen("row ");
		if (first && (g_str_has_prefix(row, "row ") || g_str_has_prefix(row, "rnd ")) && g_ascii_isdigit(row[word]))
			return (unsigned)MIN(g_ascii_strtoull(row + word, NULL, 10), TB_LIMIT_PIECE_ROWS);
		if (first && g_str_has_prefix(row, "round ") && g_ascii_isdigit(row[strlen("round ")]))
			return (unsigned)MIN(g_ascii_strtoull(row + strlen("round "), NULL, 10), TB_LIMIT_PIECE_ROWS);
	}
	return 0;
}

/* FROM says where; empty where it does not. */
static tb_since read_from(const char *from, const char **name)
{
	static const char begins[] = "beg begin beginning commencement start foundation hem bottom cast cast-on lower first 1 "
		"middle center centre along measured measuring flat edge down up when hanging at top tip";
	*name = find_word(from, ARMHOLES);
	if (*name != NULL || find_word(from, "bind-off bound bind-offs divide division divided dividing split separation join joining") != NULL)
		return TB_SINCE_ARMHOLE;
	if (find_word(from, "marker mark marked") != NULL)
		return TB_SINCE_MARKER;
	if (find_word(from, "last final") != NULL && find_word(from, "increase inc decrease dec shaping shaped") != NULL)
		return TB_SINCE_SHAPED;
	*name = find_word(from, PARTS);
	if (*name != NULL && find_word(from, "shaping") == NULL && find_word(from, "neck crown shoulder") != NULL)
		return TB_SINCE_BEGIN; /* the edge it is worked from */
	if (*name != NULL)
		return is_behind(from) ? TB_SINCE_END : TB_SINCE_PART;
	if (find_word(from, "here point now") != NULL)
		return TB_SINCE_HERE;
	return *from == '\0' || find_word(from, begins) != NULL ? TB_SINCE_BEGIN : TB_SINCE_UNKNOWN;
}

/* The parts of a garment that are pieces of their own, as far as TEXT names them. */
static unsigned find_pieces(const char *text)
{
	static const char *const pieces[] = {"back", "front", "sleeve", "hood", "collar", "pocket"};
	unsigned found = 0;
	for (size_t i = 0; i < G_N_ELEMENTS(pieces); i++)
		found |= find_word(text, pieces[i]) != NULL ? 1u << i : 0;
	return found;
}

/* "BACK … until front measures 20 cm": SUBJECT is a piece that is not the one being worked. */
static void tell_other_piece(tb_reader *r, const char *subject, const tb_value *until)
{
	g_autofree char *name = tb_text_lower(r->piece != NULL ? r->piece : "", r->piece != NULL ? strlen(r->piece) : 0);
	const char *begin = strstr(subject, "until "), *end = strstr(subject, " measures");
	if (begin == NULL || end == NULL || end < begin)
		return;
	g_autofree char *measured = g_strndup(begin, (gsize)(end - begin));
	unsigned here = find_pieces(name), there = find_pieces(measured);
	if (here == 0 || there == 0 || (here & there) != 0)
		return;
	tb_where where = {.has_place = true, .place = tb_build_span(&r->b, until->from, until->to), .piece = r->piece};
	tb_diagnose_format(r->diagnostics, TB_WARNING, "measure-from", &where, "Name the piece that is worked here.",
		"another piece than this one is measured here; this one is taken");
}

void tb_reader_set_since(tb_reader *r, tb_sentence *sentence, const tb_value *until)
{
	static const char *const froms[] = {" from ", " above ", " past ", " beyond ", " after ", " excluding ", " not ",
		" without ", " since "};
	/* "on these 40 sts until armhole measures 18 cm" */
	const tb_value *on = tb_value_get(until, TB_SLOT_on);
	const char *all = r->text->chars + r->lattice.start[on != NULL ? on->to : until->from];
	const char *end = r->text->chars + r->lattice.start[until->to];
	g_autofree char *text = tb_text_lower(all, end - all);
	/* "until armhole measures 18 cm", and "until 24 rows of the armhole are worked" */
	bool rows = tb_build_has(until, TB_SLOT_base);
	g_autofree char *subject = g_strndup(text, rows ? strlen(text) : strcspn(text, "0123456789"));
	const char *from = "";
	tell_other_piece(r, subject, until);
	unsigned counted = find_first_counted(text);
	if (counted > 0) {
		sentence->since_row = counted - 1;
		sentence->since = counted > 1 ? TB_SINCE_ROW : TB_SINCE_BEGIN;
		return;
	}
	for (size_t i = 0; i < G_N_ELEMENTS(froms); i++) {
		const char *at = strstr(text, froms[i]);
		if (at != NULL && (*from == '\0' || at < from))
			from = at;
	}
	sentence->since_row = find_row(from);
	sentence->since = sentence->since_row > 0 ? TB_SINCE_ROW : read_from(from, &sentence->since_name);
	if (*from != '\0' && sentence->since != TB_SINCE_BEGIN)
		return;
	/* "until armhole measures 18 cm from the beginning": from its own */
	const char *part = find_word(subject, ARMHOLES);
	if (part != NULL) {
		sentence->since = TB_SINCE_ARMHOLE;
	} else if (*from != '\0') {
		return;
	} else if ((part = find_word(subject, PARTS)) != NULL) {
		sentence->since = TB_SINCE_PART;
	} else if (g_str_has_prefix(text + strspn(text, " ,"), "for ")) {
		sentence->since = TB_SINCE_HERE;
	}
	sentence->since_name = part;
}
