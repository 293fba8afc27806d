/*
 * How people write: tests/wordings/. In the lists one wording a line on a small base, with the stitches
 * its last row must have, or "!" where it is wrong and must be refused; and whole small patterns, NAME.txt,
 * with NAME.counts beside:
 * "piece row counts…" a line, the piece's name with hyphens for blanks, a row or rows "4-9", a count
 * a size. All counts are worked out by hand (arithmetic); the wordings are common practice, from memory.
 *
 * Nothing may be passed over: a line that is not read is as wrong as a count that is not met.
 */
#include "counts.h"

#include "pattern/pattern.h"
#include "pattern/read.h"

#include <stdlib.h>

#define FOLDER "tests/wordings"
#define FEWEST_PHRASES 200
#define FEWEST_PATTERNS 40
#define FEWEST_COUNTS 100

static bool is_passed_over(const tb_case *c)
{
	for (guint i = 0; i < c->pattern->reads->len; i++) {
		if (g_array_index(c->pattern->reads, tb_read, i).as == TB_READ_UNREAD)
			return true;
	}
	return false;
}

static bool is_taken(const tb_case *c)
{
	return c->worked != NULL && tb_diagnostics_count_errors(c->diagnostics) == 0;
}

/* The stitches of the last row of the last piece in the first size; 0 where there is none. */
static guint32 count_last(const tb_case *c)
{
	unsigned pieces = tb_pattern_count_pieces(c->pattern);
	const tb_fabric *fabric = pieces > 0 ? tb_worked_fabric(c->worked, pieces - 1, 0) : NULL;
	return fabric != NULL && fabric->row_count > 0 ? fabric->rows[fabric->row_count - 1].stitches : 0;
}

/* --- phrases --- */

static void expect_phrase(const char *base, const char *line, const char *file, unsigned number)
{
	const char *tab = strchr(line, '\t');
	cr_assert_not_null(tab, "%s:%u has no tab", file, number);
	bool may_refuse = *line == '~', any = *line == '-', is_wrong = *line == '!';
	g_auto(GStrv) lines = g_strsplit(tab + 1, " / ", -1);
	g_autofree char *said = g_strjoinv("\n", lines);
	g_autofree char *text = g_strdup_printf("%s%s\n", base, said);
	tb_case c = tb_case_read("phrase.txt", text);
	g_autofree char *faults = tb_case_faults(&c);
	if (is_wrong) {
		cr_expect(!is_taken(&c), "%s:%u, \"%s\" is wrong, and is taken", file, number, tab + 1);
		tb_case_finish(&c);
		return;
	}
	cr_expect(may_refuse || is_taken(&c), "%s:%u, \"%s\":\n%s", file, number, tab + 1, faults);
	if (is_taken(&c)) {
		guint32 count = (guint32)atoi(line + may_refuse), got = count_last(&c);
		cr_expect(any || got == count, "%s:%u, \"%s\": %u, not %u", file, number, tab + 1, got, count);
		cr_expect(!is_passed_over(&c), "%s:%u, \"%s\" is passed over", file, number, tab + 1);
	}
	tb_case_finish(&c);
}

/* Every wording of the list FILE; returns how many there are. */
static unsigned expect_phrases(const char *file)
{
	g_autofree char *path = g_strdup_printf(FOLDER "/%s", file);
	g_autofree char *list = tb_test_read(path, NULL);
	g_auto(GStrv) lines = g_strsplit(list, "\n", -1);
	g_autoptr(GString) base = g_string_new(NULL);
	unsigned phrases = 0;
	for (unsigned i = 0; lines[i] != NULL; i++) {
		if (*lines[i] == '#' || *lines[i] == '\0')
			continue;
		if (g_str_has_prefix(lines[i], "= ")) {
			g_string_assign(base, "Title: Wordings\n");
		} else if (*lines[i] == '\t') {
			g_string_append_printf(base, "%s\n", lines[i] + 1);
		} else {
			expect_phrase(base->str, lines[i], file, i + 1);
			phrases++;
		}
	}
	return phrases;
}

Test(wordings, phrases_are_read_as_they_are_meant)
{
	g_autofree char *folder = g_build_filename(TB_SOURCE_ROOT, FOLDER, NULL);
	GDir *dir = g_dir_open(folder, 0, NULL);
	cr_assert_not_null(dir);
	unsigned phrases = 0;
	for (const char *file; (file = g_dir_read_name(dir)) != NULL;) {
		if (g_str_has_suffix(file, ".list"))
			phrases += expect_phrases(file);
	}
	g_dir_close(dir);
	cr_expect_geq(phrases, FEWEST_PHRASES);
}

/* --- whole patterns --- */

static bool is_called(const char *name, const char *wanted)
{
	g_autofree char *lower = g_ascii_strdown(name, -1);
	return strcmp(g_strdelimit(lower, " ", '-'), wanted) == 0;
}

/* Row NUMBER of the piece WANTED, or of a part of one with a heading of its own; or NULL. */
static const tb_made_row *find_row(const tb_case *c, const char *wanted, guint32 number, unsigned size)
{
	for (unsigned i = 0; i < tb_pattern_count_pieces(c->pattern); i++) {
		const tb_fabric *fabric = tb_worked_fabric(c->worked, i, size);
		if (is_called(tb_pattern_get_piece(c->pattern, i), wanted))
			return tb_fabric_row(fabric, number);
		for (guint32 k = 0; k < fabric->row_count; k++) {
			const tb_made_row *row = &fabric->rows[k];
			if (row->part != NULL && is_called(row->part, wanted) && row->number - row->before == number)
				return row;
		}
	}
	return NULL;
}

/* "body 4-9 24 26": returns how many rows were looked at. */
static unsigned expect_rows(const tb_case *c, const char *name, const char *line)
{
	g_auto(GStrv) words = g_strsplit(line, " ", -1);
	unsigned count = g_strv_length(words), looked = 0;
	cr_assert_geq(count, 3, "%s: %s", name, line);
	cr_expect_eq(count - 2, tb_pattern_count_sizes(c->pattern), "%s: %s", name, line);
	const char *to = strchr(words[1], '-');
	for (int row = atoi(words[1]); row <= atoi(to != NULL ? to + 1 : words[1]); row++, looked++) {
		for (unsigned size = 0; size < MIN(count - 2, tb_pattern_count_sizes(c->pattern)); size++) {
			const tb_made_row *made = find_row(c, words[0], (guint32)row, size);
			guint32 got = made != NULL ? made->stitches : 0, by_hand = (guint32)atoi(words[size + 2]);
			cr_expect_eq(got, by_hand, "%s, %s row %d, size %u: %u, not %u", name, words[0], row, size,
				got, by_hand);
		}
	}
	return looked;
}

static void expect_pattern(const char *name)
{
	g_autofree char *path = g_strdup_printf(FOLDER "/%s.txt", name);
	g_autofree char *counts_path = g_strdup_printf(FOLDER "/%s.counts", name);
	g_autofree char *text = tb_test_read(path, NULL);
	g_autofree char *counts = tb_test_read(counts_path, NULL);
	g_auto(GStrv) lines = g_strsplit(g_strstrip(counts), "\n", -1);
	unsigned looked = 0;
	tb_case c = tb_case_read(path, text);
	g_autofree char *faults = tb_case_faults(&c);
	/* what cannot be worked yet is refused, and never taken with other counts */
	bool may_refuse = lines[0] != NULL && strcmp(lines[0], "may be refused") == 0;
	cr_expect(may_refuse || is_taken(&c), "%s:\n%s", name, faults);
	if (is_taken(&c)) {
		cr_expect(!is_passed_over(&c), "%s: a line is passed over", name);
		for (unsigned i = may_refuse ? 1 : 0; lines[i] != NULL; i++)
			looked += expect_rows(&c, name, lines[i]);
		cr_expect_gt(looked, 0, "%s has no counts", name);
	}
	tb_case_finish(&c);
}

Test(wordings, patterns_have_their_counts)
{
	g_autofree char *path = g_build_filename(TB_SOURCE_ROOT, FOLDER, NULL);
	GDir *dir = g_dir_open(path, 0, NULL);
	cr_assert_not_null(dir);
	unsigned patterns = 0;
	for (const char *file; (file = g_dir_read_name(dir)) != NULL;) {
		if (!g_str_has_suffix(file, ".txt"))
			continue;
		g_autofree char *name = g_strndup(file, strlen(file) - strlen(".txt"));
		expect_pattern(name);
		patterns++;
	}
	g_dir_close(dir);
	cr_expect_geq(patterns, FEWEST_PATTERNS);
}

/* --- counts that are not met --- */

/* A count in brackets at the end of a line: [24], (24 dc), (24 sts). */
#define STATED "[(\\[](\\d+)( sts?| sc| dc| hdc| tr| stitches)?[)\\]]\\.?$"

/* TEXT with the figure of MATCH changed by BY, read and worked: it is told in an error or a warning. */
static void expect_told(const char *path, const char *text, const GMatchInfo *match, int by, unsigned usual)
{
	int from, to;
	cr_assert(g_match_info_fetch_pos(match, 1, &from, &to));
	g_autofree char *changed = g_strdup_printf("%.*s%d%s", from, text, atoi(text + from) + by, text + to);
	tb_case c = tb_case_read(path, changed);
	unsigned told = tb_diagnostics_count(c.diagnostics);
	const char *line = text + from;
	while (line > text && line[-1] != '\n')
		line--;
	cr_expect(told > usual || tb_diagnostics_count_errors(c.diagnostics) > 0,
		"%s: a count changed by %d is met: %.*s", path, by, (int)strcspn(line, "\n"), line);
	tb_case_finish(&c);
}

/*
 * A stated count chooses among readings, but makes no reading that nobody meant: changed by one it is
 * told. One less of a named stitch may be met, since many designers leave the turning chain out.
 */
Test(wordings, counts_that_are_not_met_are_told)
{
	g_autofree char *folder = g_build_filename(TB_SOURCE_ROOT, FOLDER, NULL);
	g_autoptr(GRegex) stated = g_regex_new(STATED, G_REGEX_MULTILINE, 0, NULL);
	GDir *dir = g_dir_open(folder, 0, NULL);
	cr_assert_not_null(dir);
	cr_assert_not_null(stated);
	unsigned looked = 0;
	for (const char *file; (file = g_dir_read_name(dir)) != NULL;) {
		if (!g_str_has_suffix(file, ".txt"))
			continue;
		g_autofree char *path = g_build_filename(FOLDER, file, NULL);
		g_autofree char *text = tb_test_read(path, NULL);
		tb_case c = tb_case_read(path, text);
		bool taken = is_taken(&c);
		unsigned usual = tb_diagnostics_count(c.diagnostics);
		tb_case_finish(&c);
		g_autoptr(GMatchInfo) match = NULL;
		g_regex_match(stated, text, 0, &match);
		for (; taken && g_match_info_matches(match); g_match_info_next(match, NULL)) {
			g_autofree char *named = g_match_info_fetch(match, 2);
			expect_told(path, text, match, 1, usual);
			if (named == NULL || *named == '\0' || g_str_has_prefix(named, " st"))
				expect_told(path, text, match, -1, usual);
			looked++;
		}
	}
	g_dir_close(dir);
	cr_expect_geq(looked, FEWEST_COUNTS);
}
