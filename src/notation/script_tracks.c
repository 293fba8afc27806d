/*
 * Shaping by a plan: "dec 1 st at each end of every RS row 4 times, then of every 4th row 3 times", and what is shaped
 * at the same time by another. Which rows these are, the fabric finds: rows/tracks.c.
 */
#include "notation/script.h"

#include "support/limits.h"

static bool fail(tb_reader *r, const tb_value *at)
{
	return tb_reader_fail(r, "not-worked", at->from, at->to, "Write these rows out.", "how these rows are shaped is not worked");
}

/* Whether VALUE, stages, has figures for as many sizes as there are, wherever it has several. */
static bool fits_sizes(const tb_reader *r, const tb_value *value)
{
	static const unsigned parts[] = {TB_SLOT_a, TB_SLOT_b, TB_SLOT_c};
	const tb_value *every = tb_value_get(value, TB_SLOT_every);
	if (every != NULL && every->type == TB_VALUE_NUMBER && every->count > 1 && every->count != tb_pattern_count_sizes(r->b.pattern))
		return false;
	for (size_t i = 0; i < G_N_ELEMENTS(parts); i++) {
		const tb_value *stage = tb_value_get(value, parts[i]);
		if (stage != NULL && !fits_sizes(r, stage))
			return false;
	}
	return true;
}

/* "every RS row 4 times" */
static tb_shaped_stage read_stage(tb_reader *r, const tb_value *value)
{
	const tb_value *side = tb_value_get(value, TB_SLOT_side), *every = tb_value_get(value, TB_SLOT_every);
	const tb_value *n = tb_value_get(value, TB_SLOT_n), *row = tb_value_get(value, TB_SLOT_row);
	tb_span span = tb_build_span(&r->b, value->from, value->to);
	tb_shaped_stage stage = {.now = tb_build_has(value, TB_SLOT_now)};
	if (tb_value_is(every, TB_KIND_every))
		every = tb_value_get(every, TB_SLOT_n);
	if (n != NULL && n->type == TB_VALUE_NODE)
		n = tb_value_get(n, TB_SLOT_n);
	stage.every = every != NULL ? tb_build_number(&r->b, every, 1) : tb_number_make(r->b.arena, 1, span);
	stage.times = n != NULL ? tb_build_number(&r->b, n, 1) : tb_number_make(r->b.arena, 1, span);
	if (side != NULL) {
		stage.side = tb_value_is_symbol(tb_value_get(side, TB_SLOT_v), TB_SYMBOL_ws) ? TB_SIDE_WRONG : TB_SIDE_RIGHT;
		stage.every = tb_number_make(r->b.arena, 2, span);
	}
	if (row != NULL)
		stage.row = (unsigned)CLAMP(tb_build_one_number(row, 0), 0, (int)TB_LIMIT_PIECE_ROWS);
	return stage;
}

/* The stages that VALUE, one or a list of them, tells of. False, told, where it has figures for other sizes. */
static bool read_stages(tb_reader *r, const tb_value *value, tb_shaped_track *track)
{
	tb_shaped_stage *stages = tb_arena_take(r->b.arena, TB_MOST_STAGES * sizeof(tb_shaped_stage));
	static const unsigned parts[] = {TB_SLOT_a, TB_SLOT_b, TB_SLOT_c};
	track->stages = stages;
	if (tb_value_is(value, TB_KIND_stage)) {
		stages[track->count++] = read_stage(r, value);
		return fits_sizes(r, value) || fail(r, value);
	}
	for (size_t i = 0; i < G_N_ELEMENTS(parts) && track->count < TB_MOST_STAGES; i++) {
		const tb_value *stage = tb_value_get(value, parts[i]);
		if (stage != NULL)
			stages[track->count++] = read_stage(r, stage);
	}
	return (track->count > 0 && fits_sizes(r, value)) || fail(r, value);
}

static bool read_track(tb_reader *r, const tb_sentence *sentence, const tb_value *value, const tb_value *stitch, tb_shaped_track *track)
{
	const tb_value *shape = tb_value_get(value, TB_SLOT_shape), *like = tb_value_get(value, TB_SLOT_like);
	tb_sentence *row = (tb_sentence *)tb_reader_shaped_row(r, shape, stitch, sentence);
	if (row->acts.count != 1 || row->acts.acts[0].kind != TB_ACT_SHAPE || row->acts.acts[0].shaped == TB_SHAPED_EVENLY ||
		row->acts.acts[0].shaped_to)
		return fail(r, shape);
	track->shaped = row;
	track->like = like != NULL ? (unsigned)CLAMP(tb_build_one_number(like, 0), 0, (int)TB_LIMIT_PIECE_ROWS) : 0;
	return read_stages(r, tb_value_get(value, TB_SLOT_stages), track);
}

bool tb_reader_set_tracks(tb_reader *r, tb_sentence *sentence, const tb_value *value, const tb_value *stitch)
{
	static const unsigned parts[] = {TB_SLOT_a, TB_SLOT_b, TB_SLOT_c};
	tb_shaped_track *tracks = tb_arena_take(r->b.arena, TB_MOST_TRACKS * sizeof(tb_shaped_track));
	for (size_t i = 0; i < G_N_ELEMENTS(parts); i++) {
		const tb_value *track = tb_value_get(value, parts[i]);
		if (track == NULL)
			continue;
		tracks[sentence->track_count] = (tb_shaped_track){0};
		if (!read_track(r, sentence, track, stitch, &tracks[sentence->track_count++]))
			return false;
	}
	sentence->tracks = tracks;
	return sentence->track_count > 0 || fail(r, value);
}
