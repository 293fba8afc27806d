/* The nearest of some known words to one that is not known, for "did you mean". */
#ifndef TB_SUPPORT_NEAREST_H
#define TB_SUPPORT_NEAREST_H

#include <stddef.h>

/*
 * The word of WORDS (COUNT of them) nearest to WORD by edit distance, or NULL when none is within
 * a third of its length (at least one edit). Borrowed from WORDS.
 */
const char *tb_nearest(const char *word, size_t length, const char *const *words, size_t count);

#endif
