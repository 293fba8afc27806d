/* The sections of a row: so many of a kind side by side. */
#ifndef TB_PLACES_SECTIONS_H
#define TB_PLACES_SECTIONS_H

#include "hands/hands.h"

/*
 * How long each section of KIND in ROW is. What parts them is anything else that counts, or, where
 * COUNT kinds of ALL are told apart, one of the other kinds. Owned array of guint32.
 */
GArray *tb_sections_find(const tb_hands *h, const tb_made_row *row, const tb_change *kind,
	const tb_change *all, unsigned count);
/* Whether each of them has LENGTH, and there is one. */
bool tb_sections_are(const tb_hands *h, const tb_made_row *row, const tb_change *kind, guint32 length);
guint32 tb_sections_longest(const tb_hands *h, const tb_made_row *row, const tb_change *kind);

#endif
