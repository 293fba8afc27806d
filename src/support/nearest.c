/*
 * The nearest word, by edit distance: a letter left out, put in, changed, or two neighbours swapped
 * counts one each. Letter case is no difference.
 */
#include "support/nearest.h"

#include <glib.h>
#include <string.h>

/* Longer words are no misspelling of a trade word. */
#define LONGEST_WORD 48

static unsigned edit_distance(const char *a, size_t m, const char *b, size_t n)
{
	unsigned rows[3][LONGEST_WORD + 1];
	for (size_t j = 0; j <= n; j++)
		rows[0][j] = (unsigned)j;
	for (size_t i = 1; i <= m; i++) {
		unsigned *now = rows[i % 3], *before = rows[(i + 2) % 3], *two_before = rows[(i + 1) % 3];
		now[0] = (unsigned)i;
		for (size_t j = 1; j <= n; j++) {
			char x = g_ascii_tolower(a[i - 1]), y = g_ascii_tolower(b[j - 1]);
			unsigned best = before[j - 1] + (x != y);
			best = MIN(best, before[j] + 1);
			best = MIN(best, now[j - 1] + 1);
			if (i > 1 && j > 1 && x == g_ascii_tolower(b[j - 2]) && g_ascii_tolower(a[i - 2]) == y)
				best = MIN(best, two_before[j - 2] + 1);
			now[j] = best;
		}
	}
	return rows[m % 3][n];
}

const char *tb_nearest(const char *word, size_t length, const char *const *words, size_t count)
{
	if (length == 0 || length > LONGEST_WORD)
		return NULL;
	unsigned allowed = MAX((unsigned)length / 3, 1);
	const char *nearest = NULL;
	unsigned least = allowed + 1;
	for (size_t i = 0; i < count; i++) {
		size_t n = strlen(words[i]);
		if (n > LONGEST_WORD || n > length + allowed || length > n + allowed)
			continue;
		unsigned distance = edit_distance(word, length, words[i], n);
		if (distance < least && distance < MIN(length, n)) {
			least = distance;
			nearest = words[i];
		}
	}
	return nearest;
}
