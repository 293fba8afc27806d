/*
 * Where a stitch goes, as seen from the place now due: the reader's place.c and post.c, told
 * backwards. What lies between is skipped, whole spaces by their name.
 */
#include "compose/walk.h"

/* The end of the space that begins at PLACE, for a space of CHAINS; PLACE itself when none does. */
static guint32 space_end(const tb_walk *w, guint32 place, guint32 chains)
{
	const tb_made *made = tb_walk_made(w, w->places[place]);
	if (made->flags & TB_MADE_TURNING)
		return chains > 1 && made->chains == chains ? place + 1 : place;
	if (!(made->flags & TB_MADE_CHAIN) || w->is_foundation || tb_walk_is_chain_place(w, place - 1))
		return place;
	guint32 end = place + 1;
	while (tb_walk_is_chain_place(w, end) &&
		!(tb_walk_made(w, w->places[end])->flags & TB_MADE_TURNING))
		end++;
	return end - place == chains ? end : place;
}

/* The space that begins at the first chain from FROM on, if it ends at PLACE or before; else FROM. */
static guint32 find_space(const tb_walk *w, guint32 from, guint32 place)
{
	guint32 begin = from, end;
	bool inside = from > 0 && tb_walk_is_chain_place(w, from) && tb_walk_is_chain_place(w, from - 1);
	if (w->is_foundation || inside)
		return from;
	while (begin < place && !tb_walk_is_chain_place(w, begin) && begin != w->turning)
		begin++;
	if (!tb_walk_is_chain_place(w, begin))
		return from;
	for (end = begin; tb_walk_is_chain_place(w, end);)
		end++;
	return end <= place && end - begin < 256 ? end : from;
}

/* Skips up to PLACE, whole spaces by their name: what borders a space is passed over with it. */
static void skip_to(tb_walk *w, guint32 place)
{
	guint32 from = w->due, before = TB_NONE;
	if (place <= from)
		return;
	while (w->due < place) {
		guint32 due = w->due;
		tb_step step = {.kind = TB_STEP_SKIP, .target = w->is_foundation ? TB_TARGET_CHAIN
				: TB_TARGET_STITCH};
		/* one place alone would be taken for the one that a deep stitch hides */
		bool hides = w->last != TB_NONE && tb_walk_made(w, w->last)->behind != TB_NONE;
		if (hides && w->due == from && place == from + 1 && !w->is_foundation)
			step.flags |= TB_STEP_BEHIND;
		guint32 end = find_space(w, w->due, place);
		if (end > w->due) {
			step.target = TB_TARGET_SPACE;
			while (tb_walk_is_chain_place(w, end - 1 - step.space))
				step.space++;
			w->due = end;
		} else {
			w->due++;
		}
		tb_walk_push(w, &step);
		/* only the last skip of several is one that can be gone back to */
		guint32 number = g_array_index(w->steps, guint32, w->steps->len - 1);
		from = number == before ? from : due;
		before = number;
	}
	w->skipped_from = from;
	w->skipped_count = place - from;
	w->skipped_next = 0;
}

static bool is_same_as_last(const tb_walk *w, guint32 i)
{
	return w->last != TB_NONE && tb_walk_same_footing(w, w->last, i);
}

static bool place_backward(tb_walk *w, guint32 i, guint32 position, tb_step *step)
{
	if (is_same_as_last(w, i)) {
		step->in = TB_IN_SAME;
		return true;
	}
	if (w->skipped_count > 0 && position == w->skipped_from + w->skipped_next &&
		w->skipped_next < w->skipped_count && step->each == 1) {
		step->in = TB_IN_SKIPPED;
		step->flags |= tb_walk_made(w, i)->flags & TB_MADE_BEHIND ? TB_STEP_BEHIND : 0;
		w->skipped_next++;
		return true;
	}
	if (position == 0) {
		step->in = TB_IN_FIRST;
		w->due = MAX(w->due, 1);
		return true;
	}
	return false;
}

static bool place_plain(tb_walk *w, guint32 i, tb_step *step)
{
	const tb_made *made = tb_walk_made(w, i);
	guint32 position = tb_walk_position(w, tb_walk_base(w, i));
	if (position == TB_NONE)
		return false;
	for (unsigned leg = 1; leg < made->base_count; leg++) {
		if (tb_walk_position(w, tb_fabric_base(w->f, made, leg)) != position + leg)
			return false;
	}
	step->target = w->is_foundation ? TB_TARGET_CHAIN : TB_TARGET_STITCH;
	step->in = TB_IN_NEXT;
	if (position < w->due)
		return (made->base_count == 1 || is_same_as_last(w, i)) &&
			place_backward(w, i, position, step);
	skip_to(w, position);
	w->due = position + made->base_count;
	return true;
}

static bool place_gap(tb_walk *w, guint32 i, tb_step *step)
{
	guint32 position = tb_walk_position(w, tb_walk_base(w, i));
	if (position == TB_NONE ||
		tb_walk_position(w, tb_fabric_base(w->f, tb_walk_made(w, i), 1)) != position + 1)
		return false;
	step->target = TB_TARGET_STITCH;
	if (is_same_as_last(w, i)) {
		step->in = TB_IN_SAME;
		step->target = TB_TARGET_SPACE;
		return true;
	}
	if (position < w->due)
		return false;
	skip_to(w, position);
	step->in = TB_IN_BETWEEN;
	w->due = position + 1;
	return true;
}

static bool place_space(tb_walk *w, guint32 i, tb_step *step)
{
	guint32 base = tb_walk_base(w, i), begin = tb_walk_position(w, base), end;
	step->target = TB_TARGET_SPACE;
	if (is_same_as_last(w, i)) {
		step->in = TB_IN_SAME;
		return true;
	}
	if (begin == TB_NONE)
		return false;
	bool turning = tb_walk_made(w, base)->flags & TB_MADE_TURNING;
	while (!turning && begin > 0 && tb_walk_is_chain_place(w, begin - 1))
		begin--;
	for (end = begin + 1; !turning && tb_walk_is_chain_place(w, end);)
		end++;
	guint32 chains = turning ? tb_walk_made(w, base)->chains : end - begin;
	if (begin < w->due || chains > 255 || space_end(w, begin, chains) != end)
		return false;
	/* another space of this length before it would be taken for it */
	for (guint32 at = w->due; at < begin; at++) {
		guint32 other = space_end(w, at, chains);
		if (other > at) {
			skip_to(w, other);
			at = w->due - 1;
		}
	}
	step->in = TB_IN_NEXT;
	step->space = (guint16)chains;
	w->due = end;
	return true;
}

static guint32 count_from_edge(const tb_walk *w, const tb_made_row *row, guint32 base)
{
	bool same_way = row->leftward == w->row->leftward;
	guint32 nth = 0;
	if (!(tb_walk_made(w, base)->flags & TB_MADE_COUNTED))
		return 0;
	for (guint32 i = 0; i < row->count; i++) {
		guint32 at = same_way ? row->first + i : row->first + row->count - 1 - i;
		nth += (tb_walk_made(w, at)->flags & TB_MADE_COUNTED) != 0;
		if (at == base)
			return nth;
	}
	return 0;
}

static bool name_post(tb_walk *w, guint32 i, guint32 base, guint32 straight, tb_step *step)
{
	const tb_made_row *row = &w->f->rows[tb_walk_made(w, base)->row];
	const tb_stitch *named = tb_library_get(w->s.library, tb_walk_made(w, base)->stitch);
	tb_way_through way = {row->first, row->first + row->count, row->leftward == w->row->leftward};
	if (straight != TB_NONE && !(tb_walk_made(w, base)->flags & (TB_MADE_TURNING | TB_MADE_CHAIN)) &&
		tb_rule_next_post(&w->s, named, &way, straight, w->last_post, w->post_strayed) == base) {
		step->target = TB_TARGET_NAMED;
		step->named = (guint16)named->number;
		w->last_post = base;
		w->post_strayed = true;
		return true;
	}
	step->in = TB_IN_NTH_STITCH;
	step->number = count_from_edge(w, row, base);
	return step->number > 0;
}

static bool place_deep(tb_walk *w, guint32 i, tb_step *step)
{
	const tb_made *made = tb_walk_made(w, i);
	guint32 base = tb_walk_base(w, i);
	step->target = TB_TARGET_STITCH;
	step->rows_below = made->rows_below;
	if (made->behind == TB_NONE && is_same_as_last(w, i)) {
		step->in = TB_IN_SAME;
		step->rows_below = 1;
		return true;
	}
	if (made->behind != TB_NONE) {
		guint32 position = tb_walk_position(w, made->behind);
		if (position == TB_NONE || position < w->due)
			return false;
		skip_to(w, position);
	}
	if (made->rows_below > 100)
		return false;
	/* between two groups of that row, or into the chains there */
	if (made->flags & TB_MADE_IN_SPACE) {
		step->in = TB_IN_BETWEEN;
		step->target = TB_TARGET_GROUP;
		return true;
	}
	if (w->due >= w->count || made->base_count != 1)
		return false;
	guint32 straight = w->places[w->due];
	for (unsigned down = 1; down < made->rows_below && straight != TB_NONE; down++)
		straight = tb_rule_below(&w->s, straight);
	step->in = TB_IN_NEXT;
	if (base != straight && !name_post(w, i, base, straight, step))
		return false;
	if (made->behind == TB_NONE)
		step->flags |= TB_STEP_INCREASE;
	else
		w->due++;
	return true;
}

static bool place_ring(tb_walk *w, guint32 i, tb_step *step)
{
	step->in = TB_IN_RING;
	return true;
}

/* "sl st in 3rd ch from hook": a picot. */
static bool place_picot(tb_walk *w, guint32 i, tb_step *step)
{
	guint32 base = tb_walk_base(w, i);
	if (base < w->row->first || base >= i)
		return false;
	for (guint32 at = base; at < i; at++) {
		if (!tb_walk_is_chain(w, at))
			return false;
	}
	step->in = TB_IN_NTH_CHAIN;
	step->target = TB_TARGET_CHAIN;
	step->number = i - base;
	return true;
}

bool tb_walk_place(tb_walk *w, guint32 i, unsigned takes, tb_step *step)
{
	const tb_made *made = tb_walk_made(w, i);
	if (w->is_ring)
		return place_ring(w, i, step);
	if (made->base_count == 0 && takes == 0)
		return false;
	if (made->base_count == 0) {
		/* along an edge: on which rows it stands, no row below shows */
		step->in = TB_IN_EDGE;
		return true;
	}
	if (made->rows_below == 0)
		return place_picot(w, i, step);
	if (made->rows_below > 1)
		return place_deep(w, i, step);
	if (made->flags & TB_MADE_IN_SPACE)
		return made->base_count == 1 ? place_space(w, i, step)
			: made->base_count == 2 && takes == 1 ? place_gap(w, i, step) : false;
	return place_plain(w, i, step);
}
