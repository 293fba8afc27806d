/*
 * Both countries' words for every stitch that comes with the program: what a row calls by its UK term is the stitch that
 * has this term in the UK, and not the one that is called so in the US (the stitch library is the table; the words of the
 * plain ones: Craft Yarn Council, abbreviations, as in the trade facts).
 */
#include "support.h"

#include "fabric/fabric.h"
#include "stitches/stitch.h"

#include <criterion/criterion.h>
#include <string.h>

/* A row of plain stitches with one other in it, in the terms of UK or US. */
static char *pattern_with(const tb_stitch *stitch, const char *term, bool uk)
{
	const char *plain = uk ? "dc" : "sc";
	g_autofree char *work = stitch->takes == 0 ? g_strdup_printf("%s, %s in next st", term, plain) :
		stitch->post != TB_POST_NONE && stitch->takes > 1 ? g_strdup_printf("%s around next %u sts", term, stitch->takes) :
		stitch->post != TB_POST_NONE ? g_strdup_printf("%s around next st", term) :
		stitch->takes > 1 ? g_strdup_printf("%s over next %u sts", term, stitch->takes) : g_strdup_printf("%s in next st", term);
	return g_strdup_printf("Title: Terms\n%s terms\n\nSWATCH\nCh 21.\nRow 1: %s in 2nd ch from hook and in each ch across, turn.\n"
		"Row 2: Ch 1, %s in each st across, turn.\nRow 3: Ch 1, %s in next 5 sts, %s, %s in each st across.\n", uk ? "UK" : "US",
		uk ? "Dc" : "Sc", plain, plain, work, plain);
}

/* Whether the row is worked, and has that stitch; WRONG: whether it is worked and has it not. */
static bool works(const tb_stitch *stitch, const char *term, bool uk, bool *wrong)
{
	g_autofree char *text = pattern_with(stitch, term, uk);
	tb_case c = tb_case_read("terms.txt", text);
	g_autofree char *faults = tb_case_faults(&c);
	bool sound = c.worked != NULL && strstr(faults, "error") == NULL, has = false;
	const tb_fabric *fabric = sound ? tb_worked_fabric(c.worked, 0, 0) : NULL;
	for (guint32 i = 0; fabric != NULL && fabric->row_count > 3 && i < fabric->rows[3].count; i++) {
		const tb_stitch *made = tb_library_get(tb_worked_pattern(c.worked)->library, fabric->made[fabric->rows[3].first + i].stitch);
		has = has || strcmp(made->us, stitch->us) == 0;
	}
	*wrong = sound && !has;
	tb_case_finish(&c);
	return has;
}

Test(terms, every_stitch_is_worked_by_its_name_in_either_country)
{
	g_autoptr(tb_library) library = tb_library_create();
	unsigned looked = 0, worked = 0;
	for (unsigned i = 0; i < tb_library_count(library); i++) {
		const tb_stitch *stitch = tb_library_get(library, i);
		/* chains and foundation stitches begin a piece */
		if (stitch->form == TB_FORM_CHAIN || stitch->form == TB_FORM_SLIP || stitch->foot == TB_FOOT_CHAIN || stitch->foot == TB_FOOT_DEEP)
			continue;
		const char *const terms[2][2] = {{stitch->us, stitch->us_name}, {stitch->uk, stitch->uk_name}};
		for (int uk = 0; uk < 2; uk++)
			for (int named = 0; named < 2; named++) {
				bool wrong;
				looked++;
				worked += works(stitch, terms[uk][named], uk == 1, &wrong);
				cr_expect_not(wrong, "%s %s is worked as another stitch than %s", uk ? "UK" : "US", terms[uk][named], stitch->us);
			}
	}
	cr_expect_geq(worked * 10, looked * 9, "%u of %u are worked", worked, looked);
}
