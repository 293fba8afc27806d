/* The vocabulary of the row language, stitches aside. */
#ifndef TB_NOTATION_WORDS_H
#define TB_NOTATION_WORDS_H

#include <glib.h>
#include <stdbool.h>

/* The word the parser knows WORD, lower-case, by ("stitches" is "st", "miss" is "sk"), or NULL. */
const char *tb_word_known(const char *word);

/* "two" is 2, "fourth" the 4th. False when WORD is no number. */
bool tb_word_number(const char *word, double *value, bool *ordinal);

/* Adds every spelling of the vocabulary to WORDS, borrowed; for suggestions. */
void tb_words_list(GPtrArray *words);

#endif
