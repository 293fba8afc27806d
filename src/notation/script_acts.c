/* What the acts of a sentence come to: whether anything is made, or the row only ended. */
#include "notation/script.h"

#include "support/limits.h"

bool tb_reader_makes(const tb_acts *acts)
{
	for (unsigned i = 0; i < acts->count; i++) {
		switch (acts->acts[i].kind) {
		case TB_ACT_WORK:
		case TB_ACT_REPEAT:
		case TB_ACT_GROUP:
		case TB_ACT_KNOT:
		case TB_ACT_SHAPE:
		case TB_ACT_CANNOT:
		case TB_ACT_ONLY:
			return true;
		default:
			break;
		}
	}
	return false;
}

bool tb_reader_only_ends(const tb_acts *acts)
{
	for (unsigned i = 0; i < acts->count; i++) {
		tb_act_kind kind = acts->acts[i].kind;
		if (kind != TB_ACT_FASTEN_OFF && kind != TB_ACT_LEAVE && kind != TB_ACT_TURN &&
			kind != TB_ACT_DO_NOT_JOIN && kind != TB_ACT_JOIN)
			return false;
	}
	return true;
}

static bool makes_ring(const tb_act *acts, guint count)
{
	for (guint i = 0; i < count; i++) {
		if (acts[i].kind == TB_ACT_RING)
			return true;
	}
	return false;
}

static void put_in_ring(const tb_reader *r, tb_act *act, unsigned depth)
{
	tb_place *place = &act->place;
	if (act->kind == TB_ACT_REPEAT && depth < TB_LIMIT_NESTING) {
		tb_act *body = tb_arena_take(r->b.arena, (act->body.count + 1) * sizeof(tb_act));
		for (unsigned i = 0; i < act->body.count; i++) {
			body[i] = act->body.acts[i];
			put_in_ring(r, &body[i], depth + 1);
		}
		act->body.acts = body;
	}
	if ((act->kind != TB_ACT_WORK && act->kind != TB_ACT_GROUP) || place->in != TB_IN_NEXT ||
		place->target != TB_TARGET_SPACE || !place->loose || !tb_number_is(&place->count, 1))
		return;
	place->in = TB_IN_RING;
	place->target = TB_TARGET_STITCH;
	place->loose = place->unordered = false;
}

void tb_reader_loop_to_ring(const tb_reader *r, GArray *acts, guint from, const GArray *before)
{
	if (!r->b.first_row)
		return;
	bool ring = makes_ring((const tb_act *)(gpointer)before->data, before->len);
	for (guint i = 0; i < r->sentences->len && !ring; i++) {
		const tb_sentence *sentence = r->sentences->pdata[i];
		ring = makes_ring(sentence->acts.acts, sentence->acts.count);
	}
	for (guint i = from; i < acts->len && ring; i++)
		put_in_ring(r, &g_array_index(acts, tb_act, i), 0);
}
