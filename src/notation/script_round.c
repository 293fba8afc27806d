/* What the words of a round leave out: the chain behind its last stitch, and where its repeat begins. */
#include "notation/script.h"

#include "stitches/stitch.h"

/* "16 dc in ring with 2 ch between": between the last and the first as well, unless a chain is told there. */
static void close_ring(GArray *acts, tb_arena *arena)
{
	for (guint i = 0; i < acts->len; i++) {
		tb_act *act = &g_array_index(acts, tb_act, i);
		if (act->kind == TB_ACT_REPEAT && act->between.count > 0) {
			act->body_last = 0;
			act->between = (tb_number){0};
		}
		if (act->kind != TB_ACT_GROUP || act->between.count != 1)
			continue;
		bool told = i + 1 < acts->len && act[1].kind == TB_ACT_CHAIN;
		if (!told && act->between.values[0] > 0) {
			g_autoptr(GArray) body = g_array_new(FALSE, FALSE, sizeof(tb_act));
			tb_act chain = {.kind = TB_ACT_CHAIN, .span = act->span, .count = act->between};
			g_array_append_vals(body, act->body.acts, act->body.count);
			g_array_append_val(body, chain);
			act->body = tb_acts_keep(arena, body);
		}
		act->between = (tb_number){0};
	}
}

static bool slips(const tb_act *act)
{
	return act->kind == TB_ACT_WORK && act->stitch != NULL && act->stitch->form == TB_FORM_SLIP;
}

/* Whether what ACT slips to is a space: "to centre of loop", and "in next 2 ch" is as far into it. */
static bool goes_into_space(const tb_act *act)
{
	const tb_place *place = act->place.in == TB_IN_EACH && act->place.up_to != NULL ? act->place.up_to : &act->place;
	place = place->in == TB_IN_PART && place->of != NULL ? place->of : place;
	return place->target == TB_TARGET_SPACE || place->target == TB_TARGET_CHAIN;
}

unsigned tb_reader_slips_on(const tb_act *acts, unsigned count)
{
	unsigned n = 0;
	while (n < count && slips(&acts[n]))
		n++;
	return n > 0 && goes_into_space(&acts[n - 1]) ? n : 0;
}

/*
 * "Sl st to center of loop, *sc in loop, ch 5; rep from *": for the first time in the loop that the hook
 * stands in, and so that time is worked before the others.
 */
static void open_repeat(GArray *acts)
{
	guint at = tb_reader_slips_on((const tb_act *)(const void *)acts->data, acts->len);
	if (at == 0 || at == acts->len)
		return;
	tb_act repeat = g_array_index(acts, tb_act, at);
	if (repeat.kind != TB_ACT_REPEAT || repeat.until != TB_UNTIL_END || repeat.body.count < 2)
		return;
	const tb_act *first = &repeat.body.acts[0];
	if (first->kind == TB_ACT_WORK && first->place.unordered && first->place.target == TB_TARGET_SPACE)
		g_array_insert_vals(acts, at, repeat.body.acts, repeat.body.count);
}

/* A chain this long begins no round of sc: it is a loop. */
#define LEAST_LOOP_CHAINS 3

/*
 * "3 ch, 1 dc (UK) in each loop all round": no chain of 3 stands for so low a stitch, and none is joined to,
 * so there is one before each of them.
 */
static void hang_chains(GArray *acts, tb_arena *arena)
{
	if (acts->len != 2)
		return;
	const tb_act *chain = (const tb_act *)(const void *)acts->data, *work = chain + 1;
	if (chain->kind != TB_ACT_CHAIN || chain->counts != TB_COUNTS_UNSAID || chain->unsaid ||
		chain->count.count != 1 || chain->count.values[0] < LEAST_LOOP_CHAINS || work->kind != TB_ACT_WORK ||
		work->stitch == NULL || work->stitch->form != TB_FORM_CROSS || work->place.in != TB_IN_EACH ||
		!tb_number_is(&work->place.count, 0) || !tb_number_is(&work->each, 1) || work->other != NULL ||
		work->place.up_to != NULL || work->place.also != NULL)
		return;
	g_autoptr(GArray) body = g_array_new(FALSE, FALSE, sizeof(tb_act));
	tb_act repeat = {.kind = TB_ACT_REPEAT, .span = {chain->span.start, work->span.end}, .until = TB_UNTIL_END};
	repeat.count = tb_number_make(arena, 0, repeat.span);
	g_array_append_vals(body, acts->data, 2);
	tb_place *place = &g_array_index(body, tb_act, 1).place;
	place->in = TB_IN_NEXT;
	place->count = (tb_number){1, tb_number_one, place->span};
	repeat.body = tb_acts_keep(arena, body);
	g_array_set_size(acts, 0);
	g_array_append_val(acts, repeat);
}

static bool is_in_ring(const tb_act *act)
{
	return (act->kind == TB_ACT_WORK || act->kind == TB_ACT_GROUP) && act->place.in == TB_IN_RING;
}

/* "Ch 6, join with sl st. Ch 1, 12 sc in ring": that join makes the ring, and no round is closed by it. */
static void found_ring(GArray *acts)
{
	if (acts->len < 3)
		return;
	tb_act *join = &g_array_index(acts, tb_act, 1);
	bool first = join->place.in == TB_IN_FIRST && tb_number_is(&join->place.count, 1);
	bool in_ring = false;
	for (guint i = 2; i < acts->len; i++)
		in_ring = in_ring || is_in_ring(&g_array_index(acts, tb_act, i));
	if (in_ring && g_array_index(acts, tb_act, 0).kind == TB_ACT_CHAIN && first && (join->kind == TB_ACT_JOIN || slips(join)))
		*join = (tb_act){.kind = TB_ACT_RING, .span = join->span};
}

void tb_reader_round_acts(GArray *acts, tb_arena *arena)
{
	hang_chains(acts, arena);
	found_ring(acts);
	close_ring(acts, arena);
	open_repeat(acts);
}
