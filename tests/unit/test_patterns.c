/*
 * Patterns as designers publish them, in tests/patterns/: every one reads and works with nothing
 * told but what its first line expects, and its last row has the stitches worked out by hand here.
 *
 * A first line "# expect: CODE CODE" names the warnings a pattern should give, in order of place;
 * it is taken off before the pattern is read. Without it nothing may be told. A pattern dropped in
 * the folder must be given a line in the table.
 */
#include "counts.h"

#define MOST_PIECES 3
#define MOST_SIZES 6

typedef struct {
	const char *name;
	unsigned pieces, sizes;
	guint32 row[MOST_PIECES]; /* the last row that is looked at */
	guint32 counts[MOST_PIECES][MOST_SIZES];
} expected;

static const expected patterns[] = {
	/* ch n, dc in the 4th: n - 2. Fronts: 22, less one dc2tog in rows 2 and 3; the right front of S
	 * begins at st 33, 54 - 33 + 1 = 22, of XL at 44, 72 - 44 + 1 = 29 */
	{"harbour-vest.txt", 3, 4, {24, 4, 4}, {{54, 60, 66, 72}, {20, 22, 25, 27}, {20, 22, 25, 27}}},
	/* crown: 8 more each round, 7, 8 and 9 rounds: 56, 64, 72 */
	{"fen-hat.txt", 1, 3, {19}, {{56, 64, 72}}},
	/* 13 ch, dc (sc) in the 2nd: 12 */
	{"kettle-mitts.txt", 1, 3, {2}, {{12, 12, 12}}},
	/* toe: 4 fewer in each of three rounds, then halved: (36 - 12) / 2, (44 - 12) / 2 - both even
	 * */
	{"long-march-socks.txt", 1, 3, {44}, {{12, 16, 20}}},
	/* 6 tr + 6 a row: 24 tr and the space of 2 in row 4; row 5 a dc on each tr and 2 in the space
	 * */
	{"tern-shawl.txt", 1, 1, {5}, {{26}}},
	/* W = 3n + 1, n = 41, 56, 81; row 2 and the even ones: 2 + 3(n - 1) + 2 = 3n + 1; the odd ones
	 * 1 + 3n + 1 = 3n + 2 */
	{"hearth-blanket.json", 1, 3, {4}, {{124, 169, 244}}},
	/* round 3: 36 dc, 4 corners of 2, 8 spaces of 1; round 4: 36 + 8 + 4 x 3 = 56 sc */
	{"grandmothers-window.txt", 1, 1, {4}, {{56}}},
	/* 12 loops of 7 sc, and 3 sl sts + 1 to the first loop that are not counted: 84 */
	{"frost-doily.txt", 1, 1, {5}, {{84}}},
	/* 38 - 2 = 36 = 3 x 12 */
	{"crumb-cloth.txt", 1, 1, {19}, {{36}}},
	/* 32 - 1 = 31 = 2 x 15 + 1 */
	{"moss-scarf.txt", 1, 1, {3}, {{31}}},
	/* 13 spaces of 3, and 1: 40 */
	{"pear-filet.txt", 1, 1, {3}, {{40}}},
	/* 14k, k = 8, 11, 20: 3 + 14(k - 1) + 3 + 2 + 3 + 3 */
	{"tide-throw.txt", 1, 3, {2}, {{112, 154, 280}}},
	/* 92 = 6 x 15 + 2, so 91 wide */
	{"pebble-wrap.txt", 1, 1, {3}, {{91}}},
	/* 14 - 2 = 12 = 3 + 6 + 3 */
	{"plait-headband.json", 1, 2, {5}, {{12, 12}}},
	/* 14 - 2 and 16 - 2, the skipped chains not counted */
	{"welt-band.txt", 1, 6, {2}, {{12, 12, 12, 14, 14, 14}}},
	/* 41 - 2 = 39 = 4 x 9 + 3; row 12 is row 4 again: 8 popcorns and 31 dc */
	{"thimble-panel.txt", 1, 1, {13}, {{39}}},
	/* 114 - 2 = 112; row 4: 2 for the chain, 54 x 2, 2 */
	{"duckling-blanket.txt", 1, 1, {69}, {{112}}},
	/* American Thread, heavy rug yarn oval rug, 1950s: 3 + 37 + 3 + 37 = 80, then 86; by our own
	 * rounds 6 more each: 92, 98 */
	{"market-bag-base.txt", 1, 1, {5}, {{98}}},
	/* round 2: 6 sides of 4 tr and 2 ch = 36; round 3: 4 more tr a side: 48 tr and 12 ch */
	{"comb-motif.json", 1, 1, {3}, {{60}}},
	/* 10 scallops: 1 + 10 x (6 + 1), picots standing on the stitches */
	{"dormouse-edging.txt", 1, 1, {3}, {{71}}},
};

/* The pattern's text, its first line blank when it says what to expect; CODES, owned, is that. */
static char *read_pattern(const char *name, char **codes)
{
	g_autofree char *path = g_strdup_printf("tests/patterns/%s", name);
	char *text = tb_test_read(path, NULL);
	*codes = NULL;
	if (g_str_has_prefix(text, "# expect:")) {
		char *end = strchr(text, '\n');
		*codes =
			g_strstrip(g_strndup(text + strlen("# expect:"), end - text - strlen("# expect:")));
		memset(text, ' ', end - text);
	}
	return text;
}

/* The codes of all that is told, in order, parted by spaces. Owned. */
static char *list_codes(tb_case *c)
{
	GString *codes = g_string_new(NULL);
	for (unsigned i = 0; i < tb_diagnostics_count(c->diagnostics); i++)
		g_string_append_printf(
			codes, "%s%s", i > 0 ? " " : "", tb_diagnostics_get(c->diagnostics, i)->code);
	return g_string_free(codes, FALSE);
}

static void expect_pattern(const expected *e)
{
	g_autofree char *codes = NULL;
	g_autofree char *text = read_pattern(e->name, &codes);
	tb_case c = tb_case_read(e->name, text);
	g_autofree char *faults = tb_case_faults(&c);
	g_autofree char *told = list_codes(&c);
	cr_expect_str_eq(told, codes != NULL ? codes : "", "%s:\n%s", e->name, faults);
	cr_expect_eq(tb_diagnostics_count_errors(c.diagnostics), 0, "%s", e->name);
	cr_assert_not_null(c.worked, "%s", e->name);
	cr_assert_eq(tb_pattern_count_pieces(c.pattern), e->pieces, "%s", e->name);
	cr_assert_eq(tb_pattern_count_sizes(c.pattern), e->sizes, "%s", e->name);
	for (unsigned piece = 0; piece < e->pieces; piece++) {
		for (unsigned size = 0; size < e->sizes; size++) {
			const tb_made_row *row =
				tb_fabric_row(tb_worked_fabric(c.worked, piece, size), e->row[piece]);
			guint32 count = row != NULL ? row->stitches : 0;
			cr_expect_eq(count, e->counts[piece][size], "%s, piece %u, size %u, row %u: %u, not %u",
				e->name, piece, size, e->row[piece], count, e->counts[piece][size]);
		}
	}
	tb_case_finish(&c);
}

static const expected *find_expected(const char *name)
{
	for (size_t i = 0; i < G_N_ELEMENTS(patterns); i++) {
		if (strcmp(patterns[i].name, name) == 0)
			return &patterns[i];
	}
	return NULL;
}

Test(patterns, every_pattern_comes_out)
{
	for (size_t i = 0; i < G_N_ELEMENTS(patterns); i++)
		expect_pattern(&patterns[i]);
}

Test(patterns, every_file_has_its_counts)
{
	g_autofree char *path = g_build_filename(TB_SOURCE_ROOT, "tests/patterns", NULL);
	GDir *dir = g_dir_open(path, 0, NULL);
	cr_assert_not_null(dir);
	unsigned files = 0;
	for (const char *name; (name = g_dir_read_name(dir)) != NULL; files++)
		cr_expect_not_null(find_expected(name), "%s has no counts", name);
	g_dir_close(dir);
	cr_expect_eq(files, G_N_ELEMENTS(patterns));
}

/* Until the piece measures: rows of their own height, to the row asked for, nearest the length. */
Test(patterns, lengths_come_near)
{
	static const struct {
		const char *name;
		double mm[MOST_SIZES];
		double within_mm; /* half of the rows that are repeated */
	} lengths[] = {{"hearth-blanket.json", {1219.2, 1524, 2286}, 16},
		{"welt-band.txt", {660.4, 711.2, 812.8, 914.4, 1016, 1117.6}, 4},
		{"plait-headband.json", {460, 520}, 21}};
	for (size_t i = 0; i < G_N_ELEMENTS(lengths); i++) {
		const expected *e = find_expected(lengths[i].name);
		g_autofree char *codes = NULL;
		g_autofree char *text = read_pattern(e->name, &codes);
		tb_case c = tb_case_read(e->name, text);
		for (unsigned size = 0; size < e->sizes; size++) {
			double off = tb_worked_fabric(c.worked, 0, size)->length_mm - lengths[i].mm[size];
			cr_expect(off <= lengths[i].within_mm && off >= -lengths[i].within_mm,
				"%s, size %u: %g mm off", e->name, size, off);
		}
		tb_case_finish(&c);
	}
}
