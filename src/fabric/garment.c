/* Parts of a garment: what their names tell, and where an armhole begins. */
#include "fabric/garment.h"

#include <string.h>

/* Fewer stitches than these left at one side, or both, of a row may be a shaped edge. */
#define LEAST_AT_ONE 3u
#define LEAST_AT_BOTH 4u

bool tb_garment_is_called(const char *name, const char *word)
{
	if (name == NULL || word == NULL)
		return false;
	g_autofree char *lower = tb_text_lower(name, -1);
	size_t length = strlen(word);
	for (const char *at = strstr(lower, word); at != NULL; at = strstr(at + 1, word)) {
		bool begins = at == lower || !g_ascii_isalpha(at[-1]);
		/* "Sleeves", "Ribbed cuff" */
		if (begins && (!g_ascii_isalpha(at[length]) || at[length] == 's' || strcmp(word, "rib") == 0))
			return true;
	}
	return false;
}

bool tb_garment_is_of_armhole(const char *name)
{
	static const char *const words[] = {"armhole", "underarm", "raglan", "yoke"};
	for (size_t i = 0; i < G_N_ELEMENTS(words); i++) {
		if (tb_garment_is_called(name, words[i]))
			return true;
	}
	return false;
}

guint32 tb_garment_armhole(const tb_made_row *rows, guint32 count)
{
	guint32 widest = 0;
	for (guint32 i = 1; i < count; i++) {
		if (tb_garment_is_of_armhole(rows[i].part))
			return rows[i].stands;
	}
	for (guint32 i = 1; i < count; i++) {
		if (rows[i].is_round)
			return TB_NONE;
		widest = widest == 0 || rows[i].stitches >= rows[widest].stitches ? i : widest;
	}
	if (widest == 0 || widest + 1 >= count || rows[widest + 1].stands != widest)
		return TB_NONE;
	guint32 next = rows[widest + 1].stitches, then = widest + 2 < count ? MIN(next, rows[widest + 2].stitches) : next;
	guint32 drop = rows[widest].stitches - next;
	/* "… of next 2 rows" */
	bool falls = drop >= LEAST_AT_BOTH || (drop >= LEAST_AT_ONE && next - then >= LEAST_AT_ONE);
	bool divides = (guint64)then * 3 < (guint64)rows[widest].stitches * 2;
	return falls && !divides ? widest : TB_NONE;
}
