/* The tables of the grammar's spellings, and of what they begin with. */
#include "grammar_compile.h"

static int compare_spellings(gconstpointer a, gconstpointer b)
{
	const spelling *x = a, *y = b;
	int order = strcmp(x->spelling, y->spelling);
	if (order == 0)
		order = (int)x->term - (int)y->term;
	if (order == 0)
		order = x->value - y->value;
	return order != 0 ? order : (int)x->terms - (int)y->terms;
}

void write_spellings(FILE *out)
{
	g_array_sort(spellings, compare_spellings);
	guint count = 0;
	for (guint i = 1; i < spellings->len;) {
		if (compare_spellings(&g_array_index(spellings, spelling, i - 1),
				&g_array_index(spellings, spelling, i)) == 0)
			g_array_remove_index(spellings, i);
		else
			i++;
	}
	fprintf(out, "static const tb_spelling spellings[] = {\n");
	for (guint i = 0; i < spellings->len; i++) {
		const spelling *s = &g_array_index(spellings, spelling, i);
		fprintf(out, "\t{");
		write_string(out, s->spelling);
		fprintf(out, ", %u, %d, %u},\n", s->term, s->value, s->terms);
		count++;
	}
	fprintf(out, "};\n\n#define SPELLING_COUNT %uu\n\n", count);
}

void write_heads(FILE *out)
{
	g_autoptr(GHashTable) heads = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);
	g_autoptr(GPtrArray) order = g_ptr_array_new();
	for (guint i = 0; i < spellings->len; i++) {
		const char *words = g_array_index(spellings, spelling, i).spelling;
		for (const char *end = words; *end != '\0';) {
			end += strcspn(end + 1, " ") + 1;
			char *head = g_strndup(words, (gsize)(end - words));
			if (strlen(head) > 255)
				refuse("a spelling is too long: %s", words);
			if (g_hash_table_contains(heads, head)) {
				g_free(head);
				continue;
			}
			g_hash_table_add(heads, head);
			g_ptr_array_add(order, head);
		}
	}
	guint32 mask = 255;
	while (mask < order->len * 2)
		mask = mask * 2 + 1;
	g_autofree const char **table = g_new0(const char *, mask + 1);
	for (guint i = 0; i < order->len; i++) {
		const char *head = order->pdata[i];
		guint32 at = tb_spelling_place(tb_spelling_hash(TB_SPELLING_HASH, head, strlen(head)), mask);
		while (table[at] != NULL)
			at = (at + 1) & mask;
		table[at] = head;
	}
	fprintf(out, "static const tb_spelling_head heads[%u] = {\n", mask + 1);
	for (guint32 at = 0; at <= mask; at++) {
		if (table[at] == NULL)
			continue;
		size_t length = strlen(table[at]);
		guint first = spellings->len, count = 0, more = 0;
		for (guint i = 0; i < spellings->len; i++) {
			const char *words = g_array_index(spellings, spelling, i).spelling;
			if (strncmp(words, table[at], length) != 0 || (words[length] != '\0' && words[length] != ' '))
				continue;
			if (first == spellings->len || (words[length] == '\0' && count == 0))
				first = i;
			count += words[length] == '\0';
			more |= words[length] == ' ';
		}
		fprintf(out, "\t[%u] = {%uu, %u, %u, %u, %u},\n", at,
			tb_spelling_hash(TB_SPELLING_HASH, table[at], length), first, count, (guint)length, more);
	}
	fprintf(out, "};\n\n#define HEAD_MASK %uu\n\n", mask);
}
