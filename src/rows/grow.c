/*
 * A piece that grows from another: its foundation is a stretch of the last row there.
 *
 * "1-37 (41, 45)" counts stitches from the edge where row 1 begins, first and last included; each
 * number may be a size bracket.
 */
#include "hands/row.h"
#include "rows/grow.h"

static void copy_stitch(tb_hands *h, const tb_fabric *from, guint32 index, tb_span span)
{
	const tb_made *made = &from->made[index];
	guint32 copy = tb_hands_make(h, tb_hands_stitch(h, made), NULL, made->flags, span);
	if (copy != TB_NONE)
		tb_hands_made(h, copy)->chains = made->chains;
}

/* Lays stitches FIRST to LAST of the last row of FROM, in the order they were made. */
static bool lay(tb_hands *h, const tb_fabric *from, guint64 first, guint64 last, tb_span span)
{
	const tb_made_row *row = &from->rows[from->row_count - 1];
	if (first == 0 || first > last || last > row->stitches) {
		g_autofree char *hint = g_strdup_printf("Its last row has sts 1 to %u.", row->stitches);
		tb_hands_tell(h, TB_ERROR, "from-stitches", span, hint,
			"sts %u to %u are not there in the piece it grows from", (unsigned)first,
			(unsigned)last);
		return false;
	}
	bool turned = from->row_count > 1 && row->leftward != from->rows[1].leftward;
	if (turned) {
		guint64 begin = row->stitches + 1 - last;
		last = row->stitches + 1 - first;
		first = begin;
	}
	tb_row_add(h, 0, row->side, row->leftward);
	guint64 count = 0;
	for (guint32 i = row->first; i < row->first + row->count; i++) {
		if (!(from->made[i].flags & TB_MADE_COUNTED))
			continue;
		count++;
		if (count >= first && count <= last)
			copy_stitch(h, from, i, span);
	}
	tb_row_close(h);
	h->start.grown = true;
	return true;
}

/* An earlier piece that grows from one of the same stitches, or -1. */
static int find_taken(const tb_hands *h, const tb_grown *grown, unsigned *stitch)
{
	for (unsigned other = 0; other < h->piece; other++) {
		tb_grown there;
		if (!tb_grow_range(
				tb_worked_script(h->working->worked, other), other, h->size, &there) ||
			there.parent != grown->parent)
			continue;
		*stitch = MAX(there.first, grown->first);
		if (*stitch <= MIN(there.last, grown->last))
			return (int)other;
	}
	return -1;
}

bool tb_grow_foundation(tb_hands *h, const tb_script *script)
{
	const tb_pattern *pattern = h->working->pattern;
	const tb_piece *piece = tb_pattern_piece(pattern, h->piece);
	int other = script->from_piece;
	tb_span span = script->has_from ? script->from_span : piece->place;
	if (other < 0 || (unsigned)other >= h->piece)
		return false; /* the reader has told that */
	tb_grown grown;
	const tb_fabric *from = tb_worked_fabric(h->working->worked, (unsigned)other, h->size);
	if (from->row_count < 1 || from->rows[from->row_count - 1].stitches == 0)
		return false;
	if (piece->from_text == NULL)
		return lay(h, from, 1, from->rows[from->row_count - 1].stitches, span);
	if (!tb_grow_range(script, h->piece, h->size, &grown))
		return false;
	unsigned stitch;
	int taken = find_taken(h, &grown, &stitch);
	if (taken >= 0) {
		tb_hands_tell(h, TB_ERROR, "from-taken", span,
			"Let each piece grow from stitches of its own.", "%s works st %u of %s already",
			tb_pattern_get_piece(pattern, (unsigned)taken), stitch, piece->from_piece);
		return false;
	}
	return lay(h, from, grown.first, grown.last, span);
}
