/* Yarn weights, hooks and cautions as the trade has them. */
#include "layout/sheet.h"

#include "support/text.h"

#include <math.h>
#include <string.h>

/*
 * Craft Yarn Council, standard yarn weight system: gauge in sc over 4 in, weight 0 in dc (its hooks
 * from memory). Weights 6 and 7 have grown apart between editions; these are the newer figures.
 */
static const tb_yarn_weight WEIGHTS[] = {
	{"Lace", "fingering, thread", 32, 42, "dc", 1.4, 2.25},
	{"Super Fine", "sock, fingering, baby", 21, 32, "sc", 2.25, 3.5},
	{"Fine", "sport, baby", 16, 20, "sc", 3.5, 4.5},
	{"Light", "DK, light worsted", 12, 17, "sc", 4.5, 5.5},
	{"Medium", "worsted, afghan, aran", 11, 14, "sc", 5.5, 6.5},
	{"Bulky", "chunky, craft, rug", 8, 11, "sc", 6.5, 9},
	{"Super Bulky", "roving", 7, 9, "sc", 9, 15},
	{"Jumbo", "roving", 0, 6, "sc", 15, 0},
};

/* The same body's hook sizes. */
static const struct {
	double mm;
	const char *us;
} HOOKS[] = {
	{2.25, "B-1"}, {2.75, "C-2"}, {3.25, "D-3"}, {3.5, "E-4"}, {3.75, "F-5"}, {4, "G-6"},
	{4.5, "7"}, {5, "H-8"}, {5.5, "I-9"}, {6, "J-10"}, {6.5, "K-10½"}, {8, "L-11"}, {9, "M/N-13"},
	{10, "N/P-15"}, {15, "P/Q"}, {16, "Q"}, {19, "S"},
};

const tb_yarn_weight *tb_yarn_weight_get(int number)
{
	return number >= 0 && number < (int)G_N_ELEMENTS(WEIGHTS) ? &WEIGHTS[number] : NULL;
}

const char *tb_hook_us_size(double mm)
{
	for (size_t i = 0; i < G_N_ELEMENTS(HOOKS); i++)
		if (fabs(HOOKS[i].mm - mm) < 0.01)
			return HOOKS[i].us;
	return NULL;
}

bool tb_yarn_agrees(const tb_yarn_weight *weight, const tb_gauge *gauge)
{
	double a = gauge->stitches * 100 / gauge->over_mm, b = gauge->stitches * 101.6 / gauge->over_mm;
	/* A figure between two whole stitches is either of them. */
	return b > weight->least - 0.5 && a < weight->most + 0.5;
}

bool tb_text_is_for_child(const char *text)
{
	static const char *const WORDS[] = {"baby", "babies", "babys", "infant", "infants", "toddler",
		"toddlers", "child", "children", "childs", "childrens", "newborn", "newborns", "pram",
		"prams", "cot", "cots", "crib", "cribs", "stroller", "strollers", "pushchair", "pushchairs",
		"preemie", "preemies", "nursery", "kid", "kids", "babygrow", "cradle"};
	g_autofree char *lower = tb_text_lower(text != NULL ? text : "", -1);
	g_autoptr(GString) letters = g_string_new(NULL);
	for (const char *c = lower; *c != '\0'; c++)
		if (*c != '\'')
			g_string_append_c(letters, *c);
	for (size_t i = 0; i < G_N_ELEMENTS(WORDS); i++) {
		size_t length = strlen(WORDS[i]);
		for (const char *at = letters->str; (at = strstr(at, WORDS[i])) != NULL; at++)
			if ((at == letters->str || !g_ascii_isalpha(at[-1])) && !g_ascii_isalpha(at[length]))
				return true;
	}
	return false;
}
