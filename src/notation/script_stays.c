/*
 * "Repeat the last round, always skipping the first 2 dc of each block and working 4 dc in each loop":
 * what the row that is repeated says itself. It is held against that row, and is nothing new there.
 */
#include "notation/script.h"

/* The row that SENTENCE repeats, where it is one and was read; or NULL. */
static const tb_sentence *repeated_row(const tb_reader *r, const tb_sentence *sentence)
{
	for (guint i = r->sentences->len; i-- > 0;) {
		const tb_sentence *row = r->sentences->pdata[i];
		if (row->kind != TB_SENTENCE_ROWS || row->left_out || sentence->repeat_first != sentence->repeat_last ||
			sentence->repeat_back > 1)
			return NULL;
		if (row->first <= sentence->repeat_last && row->last >= sentence->repeat_first)
			return row;
	}
	return NULL;
}

static bool is_alike(const tb_act *act, const tb_act *said)
{
	if (act->kind != said->kind)
		return false;
	if (act->kind == TB_ACT_SKIP)
		return act->place.count.count == 1 && act->place.count.values[0] == said->place.count.values[0] &&
			(act->place.target == TB_TARGET_STITCH || (act->place.target == said->place.target &&
				act->place.named == said->place.named));
	return act->stitch == said->stitch && act->each.count == 1 &&
		act->each.values[0] == said->each.values[0] && act->place.target == said->place.target;
}

static bool says_so(const tb_acts *acts, const tb_act *said, unsigned depth)
{
	for (unsigned i = 0; i < acts->count && depth < 8; i++) {
		if (is_alike(&acts->acts[i], said) || says_so(&acts->acts[i].body, said, depth + 1))
			return true;
	}
	return false;
}

/* What VALUE, one thing that stays, would be as an act. */
static tb_act act_of(tb_reader *r, const tb_value *value)
{
	bool skip = tb_value_get(value, TB_SLOT_first) != NULL;
	tb_act act = {.kind = skip ? TB_ACT_SKIP : TB_ACT_WORK};
	act.each = tb_build_number(&r->b, tb_value_get(value, TB_SLOT_each), 1);
	act.place.count = tb_build_number(&r->b, tb_value_get(value, TB_SLOT_n), 1);
	act.stitch = skip ? NULL : tb_build_stitch(&r->b, tb_value_get(value, TB_SLOT_stitch), NULL);
	tb_build_noun(&r->b, tb_value_get(value, TB_SLOT_noun), &act.place);
	return act;
}

static bool stays(tb_reader *r, const tb_value *value, const tb_sentence *row)
{
	if (value->type == TB_VALUE_LIST) {
		const tb_value *const *items = tb_value_items(value, r->b.scratch);
		for (guint32 i = 0; i < value->count; i++) {
			if (!stays(r, items[i], row))
				return false;
		}
		return true;
	}
	tb_act act = act_of(r, value);
	return says_so(&row->acts, &act, 0);
}

bool tb_reader_stays(tb_reader *r, const tb_sentence *sentence, const tb_value *value)
{
	const tb_sentence *row = repeated_row(r, sentence);
	return (row != NULL && stays(r, value, row)) || tb_reader_fail(r, "not-worked", value->from, value->to,
		"Write the row out, with what is other in it.",
		"the row that is repeated does not say this, and a row like another but for a part of it is not worked");
}
