/* Why a text was not read: shared by tell.c (what is wrong) and tell_near.c (what would be right). */
#ifndef TB_NOTATION_TELL_H
#define TB_NOTATION_TELL_H

#include "notation/script.h"

/* The text of words FROM to TO. Owned. */
char *tb_tell_words(const tb_reader *r, guint32 from, guint32 to);
/* The words of the longest row's name that the text begins with. */
guint32 tb_tell_label(const tb_chart *c);
/* The edge of TERM at WORD, or NULL. */
const tb_edge *tb_tell_edge(const tb_lattice *l, guint32 word, tb_term term);
/* Whether WORD is one of SIGNS, or begins with a figure. */
bool tb_tell_is_sign(const tb_lattice *l, guint32 word, const char *signs);
bool tb_tell_is_figure(const tb_lattice *l, guint32 word);

/*
 * The words of the clause at CLAUSE and what they wait for at PLACE: the phrase whose first word is
 * the clause's own and that has read most. NULL when nothing waits. Owned.
 */
char *tb_tell_complete(const tb_reader *r, guint32 clause, guint32 place);
/* What would be understood in place of the word at AT, WRONG. Owned. */
char *tb_tell_hint(const tb_reader *r, guint32 clause, guint32 at, const char *wrong);

#endif
