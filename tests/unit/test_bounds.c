/*
 * Small texts that ask for very much: what is too much is told, and no text takes more memory than working may keep
 * (TB_LIMIT_WORKING_BYTES) and what a reader needs beside it, or time past all patience. Each runs in a process of its
 * own, so that the most memory it had is the text's. The bounds on time are many times what a quiet computer takes.
 */
#include "charting.h"
#include "support.h"

#include "support/limits.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>
#include <string.h>
#include <sys/resource.h>

#define MIB (1024u * 1024u)
/* Program, symbols, grammar and text. */
#define BESIDE_MIB 160u
#define WORKING_MIB ((unsigned)(TB_LIMIT_WORKING_BYTES / MIB) + BESIDE_MIB)
#define READING_MIB 240u
#define MOST_SECONDS 60.0

#define SIZES \
	"Sizes: A (B, C, D, E, F, G, H, I, J, K, L, M, N, O, P, Q, R, S, T, U, V, W, X)\n"
#define HEAD SIZES "Gauge: 14 sts and 9 rows = 10 cm\n\nPIECE\n"
#define ROW_1 "Row 1: Sc in 2nd ch from hook and in each ch across.\n"
#define THIN "Ch 2.\nRow 1: Sc in 2nd ch from hook, turn.\nRow 2: Ch 1, sc in first st, turn.\nRep Row 2 89998 times.\n"
/* A number a size. */
#define MANY "999999 (999998, 999997, 999996, 999995, 999994, 999993, 999992, 999991, 999990, 999989, 999988, 999987, 999986, " \
	"999985, 999984, 999983, 999982, 999981, 999980, 999979, 999978, 999977, 999976) times"
#define NESTED(body) HEAD "Ch 100.\n" ROW_1 "Row 2: Ch 1, [[[[" body "] " MANY "] " MANY "] " MANY "] " MANY ".\n"

typedef struct {
	const char *begin, *again, *end; /* AGAIN so many times */
	unsigned times;
	const char *code; /* the fault that is told; "" for any, NULL for none that is asked for */
	unsigned most_mib;
} text;

static const text texts[] = {
	{NESTED("sc in same st"), "", "", 0, "limit-row", READING_MIB},
	{NESTED("sc in next st"), "", "", 0, "", READING_MIB},
	{NESTED("ch 1"), "", "", 0, "limit-row", READING_MIB},
	{NESTED("sk 0 sts"), "", "", 0, "", READING_MIB},
	/* a row of 100,000 in every size, and 90,000 rows of one stitch */
	{HEAD "Ch 100000.\n" ROW_1 "Rows 2-90000: Ch 1, turn, sc in each st across.\n", "", "", 0, "limit-stitches", WORKING_MIB},
	{HEAD THIN, "", "", 0, NULL, WORKING_MIB},
	{HEAD THIN, "\nPIECE B\n" THIN "\nPIECE C\n" THIN "\nPIECE D\n" THIN, "", 1, "limit-memory", WORKING_MIB},
	{HEAD "Ch 4.\n" ROW_1 "Row 2: Ch 1, turn, 2 sc in each st across.\nRep Row 2 90000 times.\n", "", "", 0, "limit-row", WORKING_MIB},
	/* what may be read in very many ways */
	{HEAD "Ch 100.\n" ROW_1 "Row 2: Ch 1, ", "rep 3 times, ", "\n", 40, "", READING_MIB},
	{HEAD "Ch 100.\nRow 1: ", "*sc in next ch, ", "\n", 4000, "", READING_MIB},
	{HEAD "Ch 100.\n" ROW_1 "Row 2: Ch 1, ", "1 (2, ", "\n", 8000, "", READING_MIB},
	/* long lines in which each word is looked at with what is behind it */
	{HEAD "Ch 100.\n" ROW_1 "\nFINISHING\nSew squares ", "1 ", "\n", 100000, NULL, READING_MIB},
	{HEAD "Ch 100.\n" ROW_1 "\nFINISHING\nSew. ", "4 rows of 6 ", "\n", 20000, NULL, READING_MIB},
	{HEAD "Ch 100.\n" ROW_1 "\nFINISHING\nSew ", "large ", "\n", 40000, NULL, READING_MIB},
	{SIZES "\nNOTES\n", "Row 1: ", "\n\nPIECE\nCh 100.\n" ROW_1, 9000, NULL, READING_MIB},
	{SIZES "\nNOTES\n", ". ", "\n\nPIECE\nCh 100.\n" ROW_1, 60000, NULL, READING_MIB},
	/* in which every word may begin an aside */
	{HEAD "Ch 100.\n" ROW_1 "Row 2: Ch 1, ", "to fit ", "\n", 8000, "", READING_MIB},
	{HEAD "Ch 100.\n" ROW_1 "Row 2: Ch 1, ", "for the back ", "\n", 5000, "", READING_MIB},
	{SIZES "\nSTITCHES\nShell: ", "for the back ", "\n\nPIECE\nCh 100.\n" ROW_1, 5000, NULL, READING_MIB},
	{HEAD "Ch 100.\n" ROW_1 "Row 2: Ch 1, ", "(a) ", "\n", 16000, "", READING_MIB},
	/* what is said of one row, again and again */
	{HEAD "Ch 100.\n" ROW_1, "1.\n", "", 20000, "limit-claims", READING_MIB},
	{HEAD, "1.\n", "", 20000, "", READING_MIB},
	{HEAD "Ch 100.\n" ROW_1, "a: sc\n", "", 10000, "", READING_MIB},
	{HEAD "Ch 100.\n" ROW_1, "twenty ", "\n", 9000, "limit-claims", READING_MIB},
	{HEAD "Ch 100.\n" ROW_1, "Fasten off.\n", "", 20000, "limit-memory", WORKING_MIB},
	{HEAD "Join yarn in st ", "1/", "\nCh 100.\n" ROW_1, 30000, NULL, READING_MIB},
	{HEAD "Join yarn in st ", "Shell: sc. ", "\nCh 100.\n" ROW_1, 6000, NULL, READING_MIB},
	{HEAD "Join yarn in st ", "a: b\n", "\nCh 100.\n" ROW_1, 12000, NULL, READING_MIB},
	/* stitches of the pattern's own: very many, and such as stand for very much */
	{SIZES "\nSTITCHES\n", "Ch 3\n", "\nPIECE\nCh 100.\n" ROW_1, 12000, NULL, READING_MIB},
	{SIZES "\n", "Shell: 5 dc in next st. ", "\n\nPIECE\nCh 100.\n" ROW_1, 170000, "text-too-long", READING_MIB},
	{SIZES "\nSTITCHES\n", "Shell: 5 dc in next st.\n", "\n\nPIECE\nCh 100.\n" ROW_1, 20000, "limit-definitions", READING_MIB},
	{SIZES "\nSTITCHES\nAa: sc in next 2 sts, ch 1, sk 1.\nBb: Aa, Aa, Aa.\nCc: Bb, Bb, Bb.\nDd: Cc, Cc, Cc.\nEe: Dd, Dd, Dd.\n"
		"\nPIECE\nCh 100.\n" ROW_1 "Row 2: Ch 1, turn, ", "Ee, ", "sc.\n", 10000, "", WORKING_MIB},
	{SIZES, "FRONT\n", "", 100000, "", READING_MIB},
	{HEAD "Ch 100.\n" ROW_1, "Gribble the wobbly, ch 3 in 2 of 5 sts.\n", "", 20000, "", READING_MIB},
	{"Gauge: ", "1-", "\n\nPIECE\nCh 100.\n" ROW_1, 40000, NULL, READING_MIB},
};

/* By their numbers: no pointer goes from one process to another. */
ParameterizedTestParameters(bounds, texts_that_ask_for_much)
{
	static unsigned numbers[G_N_ELEMENTS(texts)];
	for (unsigned i = 0; i < G_N_ELEMENTS(numbers); i++)
		numbers[i] = i;
	return cr_make_param_array(unsigned, numbers, G_N_ELEMENTS(numbers));
}

static bool tells(const tb_case *c, const char *code)
{
	for (unsigned i = 0; i < tb_diagnostics_count(c->diagnostics); i++) {
		if (strcmp(tb_diagnostics_get(c->diagnostics, i)->code, code) == 0)
			return true;
	}
	return *code == '\0' && tb_diagnostics_count_errors(c->diagnostics) > 0;
}

/* Sanitizers take several times as much of both. */
static void expect_bounds(const char *what, unsigned most_mib)
{
#if !defined(__SANITIZE_ADDRESS__)
	struct rusage usage;
	getrusage(RUSAGE_SELF, &usage);
	double took = (double)(usage.ru_utime.tv_sec + usage.ru_stime.tv_sec) +
		(double)(usage.ru_utime.tv_usec + usage.ru_stime.tv_usec) / 1e6;
	cr_expect_lt(took, MOST_SECONDS, "%.60s: %.1f s", what, took);
	cr_expect_lt(usage.ru_maxrss / 1024, (long)most_mib, "%.60s: %ld MiB", what, usage.ru_maxrss / 1024);
#else
	(void)what;
	(void)most_mib;
#endif
}

ParameterizedTest(unsigned *number, bounds, texts_that_ask_for_much)
{
	const text *t = &texts[*number];
#if defined(__SANITIZE_ADDRESS__)
	/* Their strstr measures both texts each time: what grows with its length here grows with its square there. */
	if (strlen(t->begin) + t->times * strlen(t->again) > 40 * 1024)
		cr_skip_test("too long for the sanitizers; a plain build tries it");
#endif
	GString *all = g_string_new(t->begin);
	for (unsigned i = 0; i < t->times; i++)
		g_string_append(all, t->again);
	g_string_append(all, t->end);
	tb_case c = tb_case_read("test.txt", all->str);
	const char *shown = *t->again != '\0' ? t->again : t->begin + MIN(strlen(t->begin), strlen(HEAD));
	g_autofree char *faults = t->code != NULL && !tells(&c, t->code) ? tb_case_faults(&c) : NULL;
	cr_expect_null(faults, "%.60s: no %s, but %.300s", shown, t->code, faults);
	expect_bounds(shown, t->most_mib);
	tb_case_finish(&c);
	g_string_free(all, TRUE);
}

/* What is too much to draw is told before anything of it is laid out. */
Test(bounds, a_chart_too_large)
{
	tb_case c = tb_case_read("test.txt", "Gauge: 14 sts and 9 rows = 10 cm\n\nPIECE\nCh 20001.\n" ROW_1 "Rows 2-70: Ch 1, turn, sc in each st across.\n");
	tb_chart_options options = {.full = true};
	tb_chart *chart = tb_case_chart(&c, &options);
	cr_expect_null(chart);
	cr_expect(tells(&c, "limit-drawing"));
	expect_bounds("chart", READING_MIB);
	tb_chart_destroy(chart);
	tb_case_finish(&c);
}
