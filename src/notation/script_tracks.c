/*
 * Shaping by a plan: "dec 1 st at each end of every RS row 4 times, then of every 4th row 3 times", and what is shaped
 * at the same time by another. Which rows these are, the fabric finds: rows/tracks.c.
 */
#include "notation/script.h"

#include "support/limits.h"

#include <string.h>

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

/* "Armhole edge: dec 1 st on next 2 rows": where the row is shaped, said before it. */
static void set_edge(const tb_value *at, tb_act *act)
{
	if (at != NULL && act->shaped == TB_SHAPED_ENDS)
		act->shaped = tb_build_has(at, TB_SLOT_of) ? TB_SHAPED_NECK : TB_SHAPED_OUTER;
}

static bool read_track(tb_reader *r, const tb_sentence *sentence, const tb_value *value, const tb_value *stitch, tb_shaped_track *track)
{
	const tb_value *shape = tb_value_get(value, TB_SLOT_shape), *like = tb_value_get(value, TB_SLOT_like);
	tb_sentence *row = (tb_sentence *)tb_reader_shaped_row(r, shape, stitch, sentence);
	if (row->acts.count != 1 || row->acts.acts[0].kind != TB_ACT_SHAPE || row->acts.acts[0].shaped == TB_SHAPED_EVENLY ||
		row->acts.acts[0].shaped_to)
		return fail(r, shape);
	set_edge(tb_value_get(value, TB_SLOT_at), (tb_act *)row->acts.acts);
	track->shaped = row;
	track->like = like != NULL ? (unsigned)CLAMP(tb_build_one_number(like, 0), 0, (int)TB_LIMIT_PIECE_ROWS) : 0;
	return read_stages(r, tb_value_get(value, TB_SLOT_stages), track);
}

bool tb_reader_set_tracks(tb_reader *r, tb_sentence *sentence, const tb_value *value, const tb_value *stitch)
{
	static const unsigned parts[] = {TB_SLOT_a, TB_SLOT_b, TB_SLOT_c};
	tb_shaped_track *tracks = tb_arena_take(r->b.arena, TB_MOST_TRACKS * sizeof(tb_shaped_track));
	sentence->tracks = tracks;
	if (tb_value_is(value, TB_KIND_track)) {
		tracks[sentence->track_count++] = (tb_shaped_track){0};
		return read_track(r, sentence, value, stitch, tracks);
	}
	for (size_t i = 0; i < G_N_ELEMENTS(parts); i++) {
		const tb_value *track = tb_value_get(value, parts[i]);
		if (track == NULL)
			continue;
		tracks[sentence->track_count] = (tb_shaped_track){0};
		if (!read_track(r, sentence, track, stitch, &tracks[sentence->track_count++]))
			return false;
	}
	return sentence->track_count > 0 || fail(r, value);
}

/* BEFORE, "dec 1 st at armhole edge every RS row 3 times", as a stage of a plan; false where it is none. */
static bool as_stage(tb_reader *r, const tb_sentence *before, tb_shaped_stage *stage)
{
	bool plan = before->kind == TB_SENTENCE_REPEAT && !before->left_out && before->shaped != NULL && before->even != NULL &&
		before->until == TB_REPEAT_TIMES && !before->once_more && before->claim_count == 0 && before->acts.count == 0 &&
		before->track_count == 0 && before->shaped->acts.count == 1 && before->shaped->acts.acts[0].kind == TB_ACT_SHAPE;
	bool every = before->every.count == 0 || tb_number_is(&before->every, 1);
	*stage = (tb_shaped_stage){.every = before->every, .times = before->times, .now = before->shapes_next, .side = before->every_side};
	if (before->every_side != TB_SIDE_UNSAID || before->every.count == 0)
		stage->every = tb_number_make(r->b.arena, before->every_side != TB_SIDE_UNSAID ? 2 : 1, before->span);
	return plan && (every || before->every_side == TB_SIDE_UNSAID);
}

/* The plan that the sentences right before are, from *AT on, as a track; false where they are none. */
static bool find_plan(tb_reader *r, guint *at, tb_shaped_track *track)
{
	tb_shaped_stage *stages = tb_arena_take(r->b.arena, TB_MOST_STAGES * sizeof(tb_shaped_stage)), stage;
	const tb_act *act = NULL;
	*track = (tb_shaped_track){.stages = stages};
	while (*at > 0 && track->count < TB_MOST_STAGES && as_stage(r, r->sentences->pdata[*at - 1], &stage)) {
		const tb_sentence *before = r->sentences->pdata[*at - 1];
		const tb_act *shape = before->shaped->acts.acts;
		if (act != NULL && (shape->shaped != act->shaped || shape->stitch != act->stitch))
			break;
		act = shape;
		memmove(stages + 1, stages, track->count++ * sizeof(tb_shaped_stage));
		stages[0] = stage;
		track->shaped = before->shaped;
		(*at)--;
	}
	return track->count > 0;
}

bool tb_reader_join_tracks(tb_reader *r, tb_sentence *sentence, const tb_value *value)
{
	guint at = r->sentences->len;
	const tb_sentence *before = at > 0 ? r->sentences->pdata[at - 1] : NULL;
	bool planned = before != NULL && before->track_count > 0 && before->claim_count == 0, said = tb_build_has(value, TB_SLOT_together);
	tb_shaped_track one, *tracks;
	/* "Armhole edge: …" is the first of them, or all there is */
	if (!said && !planned)
		return true;
	if (!said && !r->b.at_once)
		return tb_reader_fail(r, "not-worked", value->from, value->to, "Say that both are worked at the same time, or write the rows out.",
			"whether this is worked at the same time as what is shaped before it is not said");
	at -= planned;
	if (!planned && !find_plan(r, &at, &one))
		return tb_reader_fail(r, "rows-again-unknown", value->from, value->to, "Write these rows out.",
			"at the same time as what is not said: no rows shaped by a plan stand right before this");
	unsigned count = planned ? before->track_count : 1;
	if (count + sentence->track_count > TB_MOST_TRACKS)
		return fail(r, value);
	tracks = tb_arena_take(r->b.arena, TB_MOST_TRACKS * sizeof(tb_shaped_track));
	memcpy(tracks, planned ? before->tracks : &one, count * sizeof(tb_shaped_track));
	memcpy(tracks + count, sentence->tracks, sentence->track_count * sizeof(tb_shaped_track));
	before = r->sentences->pdata[at];
	sentence->part = before->part;
	sentence->anew = before->anew;
	sentence->tracks = tracks;
	sentence->track_count += count;
	g_ptr_array_set_size(r->sentences, (gint)at);
	return true;
}
