/*
 * examples/row-language.md is what designers are told that the program understands; every example in
 * it is worked here. A block "tambour" is a pattern that must come out without a word, each of its
 * rows with a count at its end that is right. A block "tambour-error" is one that must not: its last
 * line says the code of the first fault.
 */
#include "support.h"

#include "notation/parse.h"

#include <criterion/criterion.h>
#include <string.h>

/* What the page is known to hold, so that no block is lost in silence. */
#define FEWEST_BLOCKS 60u
#define FEWEST_FAULTS 8u

static void expect_claims(const tb_case *c, unsigned line)
{
	g_autoptr(tb_diagnostics) unheard = tb_diagnostics_create(NULL);
	for (unsigned i = 0; i < tb_pattern_count_pieces(c->pattern); i++) {
		g_autoptr(tb_script) script = tb_script_read(c->pattern, i, unheard);
		unsigned rows = 0;
		for (unsigned s = 0; s < script->count; s++) {
			const tb_sentence *sentence = script->sentences[s];
			if (sentence->kind != TB_SENTENCE_ROWS)
				continue;
			rows++;
			cr_expect_gt(sentence->claim_count, 0, "row-language.md:%u: row %u claims no count",
				line, sentence->first);
		}
		cr_expect_gt(rows, 0, "row-language.md:%u: no row", line);
	}
}

static void expect_works(const char *block, unsigned line)
{
	tb_case c = tb_case_read("block.txt", block);
	g_autofree char *faults = tb_case_faults(&c);
	cr_expect_str_empty(faults, "row-language.md:%u:\n%s", line, faults);
	cr_assert_not_null(c.pattern);
	cr_expect_gt(tb_pattern_count_pieces(c.pattern), 0, "row-language.md:%u: no piece", line);
	expect_claims(&c, line);
	tb_case_finish(&c);
}

static void expect_fails(char *block, unsigned line)
{
	static const char marks[] = "error: ";
	char *wanted = strstr(block, marks);
	cr_assert_not_null(wanted, "row-language.md:%u: no line “error: …”", line);
	g_autofree char *code = g_strstrip(g_strdup(wanted + strlen(marks)));
	*wanted = '\0';
	tb_case c = tb_case_read("block.txt", block);
	const tb_diagnostic *first = tb_diagnostics_get(c.diagnostics, 0);
	g_autofree char *faults = tb_case_faults(&c);
	cr_assert_not_null(first, "row-language.md:%u: no fault is told", line);
	cr_expect_str_eq(first->code, code, "row-language.md:%u: %s\n%s", line, first->code, faults);
	cr_expect_eq(first->severity, TB_ERROR, "row-language.md:%u", line);
	cr_expect_not_null(first->hint, "row-language.md:%u: what to do is not said", line);
	tb_case_finish(&c);
}

Test(row_language, every_example_does_what_the_page_says)
{
	g_autofree char *page = tb_test_read("examples/row-language.md", NULL);
	g_auto(GStrv) lines = g_strsplit(page, "\n", -1);
	unsigned works = 0, fails = 0;
	for (unsigned i = 0; lines[i] != NULL; i++) {
		bool fault = strcmp(lines[i], "```tambour-error") == 0;
		if (!fault && strcmp(lines[i], "```tambour") != 0)
			continue;
		unsigned first = i + 2;
		g_autoptr(GString) block = g_string_new(NULL);
		for (i++; lines[i] != NULL && strcmp(lines[i], "```") != 0; i++)
			g_string_append_printf(block, "%s\n", lines[i]);
		cr_assert_not_null(lines[i], "row-language.md:%u: the block is not closed", first);
		if (fault)
			expect_fails(block->str, first);
		else
			expect_works(block->str, first);
		works += !fault;
		fails += fault;
	}
	cr_expect_geq(works, FEWEST_BLOCKS, "%u blocks", works);
	cr_expect_geq(fails, FEWEST_FAULTS, "%u blocks", fails);
}
