/* "in next 3 ch-sp": one space of 3 chains is meant, and not three spaces, which would be "3 ch-sps". */
#include "notation/build.h"

bool tb_build_is_singular(const tb_builder *b, const tb_value *noun)
{
	const tb_lattice *l = b->lattice;
	const char *text = l->text->chars;
	if (noun == NULL || noun->to <= noun->from || noun->to > l->count)
		return false;
	size_t begin = l->start[noun->from];
	size_t end = noun->to < l->count ? l->start[noun->to] : l->text->length;
	while (end > begin && !g_ascii_isalpha(text[end - 1]))
		end--;
	bool chain = g_ascii_strncasecmp(text + begin, "ch", 2) == 0;
	return chain && end > begin && g_ascii_tolower(text[end - 1]) != 's';
}
