/*
 * Written rows read back: pattern to fabric to rows to fabric gives the same fabric, stitch by stitch,
 * in every size, in both terms; for every example and for patterns made up at random. The library
 * proves it itself (tb_rows_texts); that it does so rightly is what test_read_back.c looks at.
 *
 * A pattern is made up row by row: a row is proposed, the whole is worked, and a row that cannot be
 * worked is dropped for another. The seed is the pattern's number, so that every failure comes again.
 */
#include "../support/support.h"

#include "fabric/fabric.h"

#include <tambour/rows.h>

#include <criterion/criterion.h>
#include <string.h>

#define PATTERNS 80u
#define MOST_ROWS 9u

/* NULL when the rows written are the rows worked; else what is wrong, and the rows. Owned. */
static char *round_trip(const tb_case *c, int size, bool uk)
{
	g_autoptr(tb_diagnostics) told = tb_diagnostics_create(NULL);
	g_auto(GStrv) rows = tb_rows_texts(c->worked, size, uk, told);
	if (rows != NULL)
		return NULL;
	GString *wrong = g_string_new(NULL);
	g_autofree char *faults = tb_diagnostics_format(told);
	g_string_append(wrong, faults);
	for (unsigned i = 0; i < tb_pattern_count_pieces(c->pattern); i++) {
		g_autofree char *text = tb_rows_text(c->worked, (int)i, size, uk);
		g_string_append_printf(wrong, "\n%s", text);
	}
	return g_string_free(wrong, FALSE);
}

static void check(const tb_case *c, const char *name)
{
	for (int size = -1; size < (int)tb_pattern_count_sizes(c->pattern); size++) {
		for (int uk = 0; uk < 2; uk++) {
			g_autofree char *wrong = round_trip(c, size, uk == 1);
			cr_expect(wrong == NULL, "%s, size %d, %s terms: %s", name, size, uk ? "UK" : "US",
				wrong);
			if (wrong != NULL)
				return;
		}
	}
}

Test(round_trip, examples)
{
	g_autoptr(GError) error = NULL;
	GDir *folder = g_dir_open(TB_SOURCE_ROOT "/examples", 0, &error);
	unsigned read = 0;
	cr_assert_not_null(folder);
	for (const char *name; (name = g_dir_read_name(folder)) != NULL;) {
		if (!g_str_has_suffix(name, ".json") && !g_str_has_suffix(name, ".txt"))
			continue;
		g_autofree char *path = g_build_filename("examples", name, NULL);
		tb_case c = tb_case_file(path);
		cr_assert_not_null(c.pattern, "%s", name);
		if (tb_diagnostics_count_errors(c.diagnostics) == 0) {
			check(&c, name);
			read++;
		}
		tb_case_finish(&c);
	}
	g_dir_close(folder);
	cr_assert_geq(read, 3);
}

/* --- patterns made up --- */

typedef struct {
	const char *text; /* with %u for a number of places, where it has one */
	unsigned takes;   /* places; 0: as many as the number */
} phrase;

static const phrase phrases[] = {
	{"dc in next %u sts", 0},
	{"sc in next %u sts", 0},
	{"hdc in next %u sts", 0},
	{"dc in next st", 1},
	{"sc in next st", 1},
	{"sc BLO in next st", 1},
	{"dc FLO in next %u sts", 0},
	{"FPdc around next st", 1},
	{"BPdc around next st", 1},
	{"FPdc around each of next %u sts", 0},
	{"FPdc2tog around st 2 rows below", 1},
	{"FPtr around st 2 rows below", 1},
	{"FPtr around each of next %u sts 2 rows below", 0},
	{"FPdc around st 3 rows below", 1},
	{"FPtr around next FPdc 2 rows below", 1},
	{"FPtr around st 2 rows below, do not sk st behind", 0},
	{"sc in st 2 rows below", 1},
	{"dc2tog over next 2 sts", 2},
	{"dc2tog over next 2 sts, ch 1", 2},
	{"sc3tog over next 3 sts", 3},
	{"2 dc in next st", 1},
	{"3 sc in next st", 1},
	{"dc in next st, tr in same st", 1},
	{"(dc, ch 1, dc) in next st", 1},
	{"(2 dc, ch 2, 2 dc) in next st", 1},
	{"(dc2tog, ch 3, dc2tog) in next st", 1},
	{"ch 1, sk next st", 1},
	{"ch 2, sk next 2 sts", 2},
	{"ch 1, sk next st, dc in next st", 2},
	{"sk next 2 sts, 5 dc in next st, sk next 2 sts, sc in next st", 6},
	{"sk next st, dc in next st, dc in skipped st", 2},
	{"sk next 2 sts, tr in next 2 sts, tr in each of 2 skipped sts", 4},
	{"sk next st, FPdc around next st, working behind st just made, FPdc around skipped st", 2},
	{"sc in next st, ch 3, sl st in 3rd ch from hook", 1},
	{"[sc in next st, dc in next st] 2 times", 4},
	{"dc in sp between next 2 sts", 1},
	{"sc in next ch-1 sp", 1},
	{"sc in next ch-2 sp", 2},
	{"3 dc in next ch-1 sp", 1},
	{"(2 dc, ch 2, 2 dc) in next ch-2 sp", 2},
	{"sk next st, sc in next ch-1 sp, ch 1", 2},
	{"sk next ch-1 sp, dc in next st, ch 1", 2},
	{"sl st in next st", 1},
};

typedef struct {
	GRand *random;
	unsigned sizes;
	GString *rows;
	char *start;
	bool rounds;
	int counts[TB_MAX_SIZES]; /* of the last row */
} maker;

static const char *const names = "XS,S,M,L,XL";

static unsigned roll(maker *m, unsigned from, unsigned to)
{
	return (unsigned)g_rand_int_range(m->random, (gint32)from, (gint32)to + 1);
}

/* Some phrases that take exactly PLACES; more or less, the rest is plain. */
static void add_phrases(maker *m, GString *row, unsigned places)
{
	while (places > 0) {
		const phrase *one = &phrases[roll(m, 0, G_N_ELEMENTS(phrases) - 1)];
		unsigned number = roll(m, 1, 4), takes = one->takes > 0 ? one->takes : number;
		if (strstr(one->text, "do not") != NULL)
			takes = 0;
		if (takes > places)
			continue;
		if (strchr(one->text, '%') != NULL && number == 1)
			continue;
		if (row->len > 0 && row->str[row->len - 1] != '*')
			g_string_append(row, ", ");
		G_GNUC_BEGIN_IGNORE_DEPRECATIONS
		const char *figure = strstr(one->text, "%u");
		if (figure != NULL)
			g_string_append_printf(row, "%.*s%u%s", (int)(figure - one->text), one->text, number,
				figure + 2);
		else
			g_string_append(row, one->text);
		G_GNUC_END_IGNORE_DEPRECATIONS
		places -= takes;
	}
}

static void add_bracket(const maker *m, GString *row, const int *values)
{
	for (unsigned i = 0; i < m->sizes; i++)
		g_string_append_printf(row, "%s%d", i == 0 ? "" : i == 1 ? " (" : ", ", values[i]);
	if (m->sizes > 1)
		g_string_append_c(row, ')');
}

/* A row over the counts of the last one. */
static char *propose(maker *m)
{
	static const char *const turning[] = {"Ch 3 (counts as dc), sk first st",
		"Ch 1 (does not count as st)", "Ch 2 (counts as hdc), sk first st",
		"Ch 3 (does not count as st)", "Ch 4 (counts as dc, ch 1), sk first 2 sts",
		"Ch 8, dc in 4th ch from hook (3 skipped chs count as dc), dc in next 4 chs",
		"Ch 4, sc in 2nd ch from hook, sc in next 2 chs"};
	static const unsigned taken[] = {1, 0, 1, 0, 2, 0, 0};
	unsigned how = roll(m, 0, 9), t = roll(m, 0, 11);
	t = m->rounds || t < 4 ? 0 : t < 7 ? 1 : t - 5;
	GString *row = g_string_new(turning[t]);
	if (how == 0) {
		g_string_append(row, ", dc in each st across");
		return g_string_free(row, FALSE);
	}
	if (how == 1) {
		g_string_append(row, ", sc2tog over next 2 sts, sc in each st to last 2 sts, "
							 "sc2tog over next 2 sts");
		return g_string_free(row, FALSE);
	}
	if (how == 2 || how == 3) {
		/* edges whose widths differ by size, and something in the middle */
		int before[TB_MAX_SIZES];
		unsigned middle = roll(m, 1, 6), times = roll(m, 1, 3);
		for (unsigned i = 0; i < m->sizes; i++)
			before[i] = MAX(1, (m->counts[i] - (int)(middle * times) - 2) / 2);
		g_string_append(row, ", dc in next ");
		add_bracket(m, row, before);
		g_string_append(row, " sts, [");
		GString *body = g_string_new(NULL);
		add_phrases(m, body, middle);
		g_string_append_printf(row, "%s] %u times, dc in each st across", body->str, times);
		g_string_free(body, TRUE);
		return g_string_free(row, FALSE);
	}
	unsigned near = roll(m, 0, 3), unit = roll(m, 1, 8), far;
	int there = m->counts[0] - (int)(near + taken[t]);
	if (there < (int)unit) {
		g_string_free(row, TRUE);
		return NULL;
	}
	far = (unsigned)there % unit;
	if (roll(m, 0, 3) == 0)
		far += unit;
	if (near > 0)
		add_phrases(m, row, near);
	g_string_append(row, ", *");
	add_phrases(m, row, unit);
	if (far > 0)
		g_string_append_printf(row, "; rep from * to last %u sts", far);
	else
		g_string_append(row, "; rep from * across");
	if (far > 0)
		add_phrases(m, row, far);
	if (roll(m, 0, 19) == 0)
		g_string_append(row, ", leave rem sts unworked");
	return g_string_free(row, FALSE);
}

static tb_case work(const maker *m, const char *rows)
{
	g_auto(GStrv) all = g_strsplit(names, ",", -1);
	g_autoptr(GString) sizes = g_string_new(NULL);
	for (unsigned i = 0; i < m->sizes && m->sizes > 1; i++)
		g_string_append_printf(sizes, "%s%s", i > 0 ? "," : "", all[i]);
	return tb_case_rows(sizes->str, m->start, rows);
}

static void take_counts(maker *m, const tb_case *c)
{
	for (unsigned i = 0; i < m->sizes; i++) {
		const tb_fabric *fabric = tb_worked_fabric(c->worked, 0, i);
		m->counts[i] = (int)fabric->rows[fabric->row_count - 1].stitches;
	}
}

static const char *ending_of(const maker *m)
{
	return m->rounds ? ", join with sl st in top of ch-3." : ", turn.";
}

static void add_first_row(maker *m)
{
	if (m->rounds) {
		int stitches[TB_MAX_SIZES];
		for (unsigned i = 0; i < m->sizes; i++)
			stitches[i] = (int)(5 + 6 * (i + roll(m, 0, 2)));
		m->start = g_strdup(roll(m, 0, 1) == 0 ? "Ch 4, join with sl st to form a ring" : "Magic ring");
		g_string_append(m->rows, "Rnd 1: Ch 3 (counts as dc), ");
		add_bracket(m, m->rows, stitches);
		g_string_append_printf(m->rows, " dc in ring%s\n", ending_of(m));
		return;
	}
	static const char *const firsts[] = {
		"Dc in 4th ch from hook and in each ch across",
		"Sc in 2nd ch from hook and in each ch across",
		"Hdc in 3rd ch from hook (2 skipped chs count as hdc), hdc in each ch across",
		"Dc in 5th ch from hook (skipped chs count as dc), dc in each ch across",
		("Sc in 2nd ch from hook, *sk next 2 chs, 5 dc in next ch, sk next 2 chs, sc in next ch; "
		 "rep from * across"),
		"Dc in 6th ch from hook, *ch 1, sk next ch, dc in next ch; rep from * across",
		"Dc in 8th ch from hook, *ch 2, sk next 2 chs, dc in next ch; rep from * across",
		"2 dc in 4th ch from hook, dc in each ch to last ch, 2 dc in last ch",
	};
	static const unsigned over[] = {2, 1, 1, 3, 2, 4, 5, 2};
	unsigned first = roll(m, 0, G_N_ELEMENTS(firsts) - 1);
	static const unsigned multiples[] = {4, 6, 8, 12};
	unsigned multiple = multiples[roll(m, 0, 3)], least = roll(m, 1, 3), plus = roll(m, 0, 3);
	int chains[TB_MAX_SIZES];
	if (first >= 4) {
		multiple = 12;
		plus = 0;
	}
	for (unsigned i = 0; i < m->sizes; i++)
		chains[i] = (int)(multiple * (least + i * roll(m, 0, 2)) + plus + over[first]);
	GString *start = g_string_new("Ch ");
	add_bracket(m, start, chains);
	m->start = g_string_free(start, FALSE);
	g_string_append_printf(m->rows, "Row 1 (%s): %s, turn.\n", roll(m, 0, 3) > 0 ? "RS" : "WS",
		firsts[first]);
}

static void add_rows(maker *m, tb_case *c)
{
	unsigned row = 2, wanted = roll(m, 2, MOST_ROWS), plain = 0;
	for (unsigned tries = 0; tries < 60 && row <= wanted; tries++) {
		g_autofree char *text = propose(m);
		g_autofree char *rows = NULL;
		if (text == NULL)
			continue;
		const char *word = m->rounds ? "Rnd" : "Row";
		if (plain > 1 && roll(m, 0, 4) == 0)
			rows = g_strdup_printf("%s%ss %u-%u: Rep %ss 2-%u.\n", m->rows->str, word, row,
				row + roll(m, 1, 2 * plain) - 1, word, row - 1);
		else
			rows = g_strdup_printf("%s%s %u: %s%s\n", m->rows->str, word, row, text, ending_of(m));
		/* a turning chain and a new foundation that meet at the turn are not written, which is told */
		if (strstr(rows, "ch 1, turn.") != NULL && strstr(rows, "Ch 4, sc in 2nd ch") != NULL)
			continue;
		tb_case tried = work(m, rows);
		if (tb_diagnostics_count_errors(tried.diagnostics) > 0) {
			tb_case_finish(&tried);
			continue;
		}
		tb_case_finish(c);
		*c = tried;
		g_string_assign(m->rows, rows);
		take_counts(m, c);
		row = tb_worked_fabric(c->worked, 0, 0)->row_count;
		plain++;
	}
}

static void try_seed(guint32 seed, unsigned *rows)
{
	maker m = {.random = g_rand_new_with_seed(seed), .rows = g_string_new(NULL)};
	m.sizes = roll(&m, 1, 5);
	m.rounds = seed % 6 == 0;
	add_first_row(&m);
	tb_case c = work(&m, m.rows->str);
	g_autofree char *faults = tb_case_faults(&c);
	cr_expect_eq(tb_diagnostics_count_errors(c.diagnostics), 0, "seed %u: %s", seed, faults);
	if (tb_diagnostics_count_errors(c.diagnostics) == 0) {
		take_counts(&m, &c);
		add_rows(&m, &c);
		g_autofree char *name = g_strdup_printf("seed %u:\n%s\n%s", seed, m.start, m.rows->str);
		check(&c, name);
		*rows += tb_worked_fabric(c.worked, 0, 0)->row_count - 1;
	}
	tb_case_finish(&c);
	g_rand_free(m.random);
	g_string_free(m.rows, TRUE);
	g_free(m.start);
}

Test(round_trip, made_up)
{
	unsigned rows = 0;
	for (guint32 seed = 1; seed <= PATTERNS; seed++)
		try_seed(seed, &rows);
	/* most proposals come to something, or the test would prove little */
	cr_assert_gt(rows, 4 * PATTERNS);
}
