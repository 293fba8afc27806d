/* Motifs joined as they are worked. */
#include "places/neighbour.h"

#include <string.h>

/*
 * Whether the stitches from FIRST to END, of MADE, have LENGTH chains side by side, and no more; one fewer where a slip
 * stitch between them joins them to another motif.
 */
static bool has_space(const tb_made *made, guint32 first, guint32 end, unsigned length)
{
	unsigned run = 0, joined = 0;
	for (guint32 i = first; i <= end; i++) {
		if (i < end && made[i].flags & TB_MADE_CHAIN) {
			run++;
			continue;
		}
		if (i < end && run > 0 && (made[i].flags & (TB_MADE_COUNTED | TB_MADE_TURNING)) == 0 && made[i].group != 0) {
			joined = 1;
			continue;
		}
		if (run > 0 && (run == length || run + joined == length))
			return true;
		run = joined = 0;
	}
	return false;
}

/* Whether one of the pieces before this one ends in a row with such a space: the one of the number WHICH, or any for -1. */
static bool has_neighbour(const tb_hands *h, unsigned length, int which)
{
	for (unsigned piece = which >= 0 ? (unsigned)which : 0; piece < (which >= 0 ? (unsigned)which + 1 : h->piece); piece++) {
		const tb_fabric *f = tb_worked_fabric(h->working->worked, piece, h->size);
		const tb_made_row *row = f->row_count > 0 ? &f->rows[f->row_count - 1] : NULL;
		if (row != NULL && has_space(f->made, row->first, row->first + row->count, length))
			return true;
	}
	return false;
}

/* "Ch 3": the motif is one of several alike, and makes such spaces itself. */
static bool makes_space(const tb_hands *h, const tb_acts *acts, unsigned length, unsigned depth)
{
	for (unsigned i = 0; i < acts->count && depth < TB_LIMIT_NESTING + 2; i++) {
		const tb_act *act = &acts->acts[i];
		if ((act->kind == TB_ACT_CHAIN && tb_hands_number(h, &act->count, 1) == length) ||
			makes_space(h, &act->body, length, depth + 1))
			return true;
	}
	return false;
}

/* Whether NAME is STEM and a number, as in "Motif 12"; *NUMBER is that. */
static bool is_numbered(const char *name, const char *stem, unsigned *number)
{
	size_t length = strlen(stem);
	if (g_ascii_strncasecmp(name, stem, length) != 0 || name[length] != ' ')
		return false;
	char *end;
	*number = (unsigned)g_ascii_strtoull(name + length + 1, &end, 10);
	return end > name + length + 1 && *end == '\0';
}

/*
 * "sl st in ch-2 sp of Motif 3", where all pieces called so have a number: that piece, or -1. Tells where none has that number.
 */
static int find_numbered(tb_hands *h, const tb_act *act)
{
	const tb_pattern *pattern = h->working->pattern;
	size_t length;
	const char *source = tb_source_get_text(pattern->source, &length), *name = tb_pattern_piece(pattern, h->piece)->name;
	const char *blank = strrchr(name, ' ');
	if (act->span.end > length || act->span.start > act->span.end)
		return -1;
	g_autofree char *stem = g_strndup(name, blank != NULL ? (gsize)(blank - name) : 0);
	g_autofree char *lower = g_ascii_strdown(stem, -1);
	g_autofree char *said = g_ascii_strdown(source + act->span.start, (gssize)(act->span.end - act->span.start));
	const char *at = *lower != '\0' ? strstr(said, lower) : NULL;
	unsigned asked = 0, own, number = 0, many = 0;
	if (at == NULL || !is_numbered(name, stem, &own) || at[strlen(lower)] != ' ')
		return -1;
	asked = (unsigned)g_ascii_strtoull(at + strlen(lower), NULL, 10);
	for (unsigned i = 0; i < tb_pattern_count_pieces(pattern) && asked > 0; i++) {
		const char *other = tb_pattern_piece(pattern, i)->name;
		bool alike = g_ascii_strncasecmp(other, stem, strlen(stem)) == 0;
		if (alike && (!is_numbered(other, stem, &number) || number == asked))
			return number == asked && i < h->piece ? (int)i : -1;
		many += alike;
	}
	if (asked > 0 && many > 1)
		tb_hands_tell(h, TB_ERROR, "piece-unknown", act->span, "Name one of them.",
			"none of the pieces called %s has the number %u", stem, asked);
	return -1;
}

void tb_neighbour_join(tb_hands *h, const tb_act *act)
{
	unsigned length = act->place.target == TB_TARGET_SPACE ? act->place.space_chains : 0;
	int piece = find_numbered(h, act);
	if (h->cursor.neighbours < TB_MOST_JOINED)
		h->cursor.joined_at[h->cursor.neighbours] = (tb_joined){h->cloth.made->len, (gint16)piece};
	h->cursor.neighbours++;
	if (length > 0 && !has_neighbour(h, length, piece) && (piece >= 0 || !makes_space(h, &h->sentence->acts, length, 0)))
		tb_hands_tell(h, TB_ERROR, "space-missing", act->span, "Look at the last round of that motif.",
			"no motif has a ch-%u sp at its edge to be joined to", length);
}

void tb_neighbour_account(tb_hands *h, const tb_claim *claim)
{
	unsigned said = tb_hands_number(h, &claim->count, 0);
	if (h->cursor.neighbours == said || claim->flanks)
		return;
	tb_hands_tell(h, h->cursor.neighbours < said ? TB_ERROR : TB_WARNING, "count-claimed", claim->span,
		"Count where it is joined to others.", "the row is joined to other motifs %u time%s, the pattern says %u",
		h->cursor.neighbours, h->cursor.neighbours == 1 ? "" : "s", said);
}
