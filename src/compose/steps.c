/*
 * One row of one size, said in steps.
 *
 * The row is walked as the reader's hands would walk it: which place is due, where the last stitch
 * went, what was skipped. Each stitch is said by how its base lies to the place due, so the same
 * words come out wherever in the row it stands.
 */
#include "compose/walk.h"
#include "support/limits.h"

/* Whether the row is a round that was turned: the hook stands over the first stitch of the one below, where that was joined. */
static bool is_turned_round(const tb_walk *w)
{
	return w->row->leftward != w->below->leftward && w->row->is_round && w->below->is_round && w->below->joined;
}

static void lay_out(tb_walk *w)
{
	w->turning = TB_NONE;
	for (guint32 i = 0; i < w->below->count; i++)
		w->positions[i] = TB_NONE;
	if (w->is_ring)
		return;
	w->count = tb_rule_tops(&w->s, w->below, w->row->leftward == w->below->leftward, is_turned_round(w), TB_NONE,
		w->places, &w->turning);
	for (guint32 i = 0; i < w->count; i++)
		w->positions[w->places[i] - w->below->first] = i;
}

/* "Turn, *sc in next dc, dc in next sc*": whether the stitch of the join comes last of the round. */
static bool begins_beside_join(const tb_walk *w)
{
	for (guint32 i = 0; is_turned_round(w) && w->count > 1 && i < w->row->count; i++) {
		const tb_made *made = tb_walk_made(w, w->row->first + i);
		if (!(made->flags & (TB_MADE_CHAIN | TB_MADE_TURNING)))
			return made->base_count == 1 && made->base == w->places[1];
	}
	return false;
}

void tb_walk_push(tb_walk *w, const tb_step *step)
{
	guint32 number = tb_composer_add_step(w->c, step);
	g_array_append_val(w->steps, number);
	g_array_append_val(w->dues, w->due);
}

bool tb_walk_same_footing(const tb_walk *w, guint32 a, guint32 b)
{
	const tb_made *x = tb_walk_made(w, a), *y = tb_walk_made(w, b);
	guint8 mask = TB_MADE_IN_SPACE;
	if (x->base_count != y->base_count || x->rows_below != y->rows_below ||
		(x->flags & mask) != (y->flags & mask))
		return false;
	for (unsigned i = 0; i < x->base_count; i++) {
		if (tb_fabric_base(w->f, x, i) != tb_fabric_base(w->f, y, i))
			return false;
	}
	return true;
}

static bool same_loops(const tb_walk *w, guint32 a, guint32 b)
{
	guint8 mask = TB_MADE_FRONT_LOOP | TB_MADE_BACK_LOOP | TB_MADE_THIRD_LOOP;
	return (tb_walk_made(w, a)->flags & mask) == (tb_walk_made(w, b)->flags & mask);
}

/* How many of the same stitch stand side by side in the place of I. */
guint32 tb_walk_count_each(const tb_walk *w, guint32 i)
{
	guint32 end = i + 1;
	while (end < tb_walk_end(w) && !tb_walk_is_chain(w, end) && tb_walk_same_footing(w, i, end) &&
		same_loops(w, i, end) && tb_walk_made(w, end)->stitch == tb_walk_made(w, i)->stitch &&
		tb_walk_made(w, end)->behind == TB_NONE && tb_walk_made(w, i)->base_count > 0)
		end++;
	return end - i;
}

/* A stitch around a post and one in its top are in no place together. */
static bool is_around(const tb_walk *w, guint32 i)
{
	return tb_library_get(w->c->pattern->library, tb_walk_made(w, i)->stitch)->post != TB_POST_NONE;
}

/* The end of the group that begins at I: all in one place, chains between included. */
guint32 tb_walk_find_group(const tb_walk *w, guint32 i, guint32 anchor)
{
	guint32 end = anchor + 1;
	for (guint32 at = anchor + 1; at < tb_walk_end(w); at++) {
		if (tb_walk_is_chain(w, at) && (tb_walk_made(w, at)->flags & TB_MADE_COUNTED))
			continue;
		if (tb_walk_made(w, at)->base_count == 0 || !tb_walk_same_footing(w, anchor, at) ||
			!same_loops(w, anchor, at) || tb_walk_made(w, at)->behind != TB_NONE ||
			tb_walk_is_chain(w, at) || is_around(w, at) != is_around(w, anchor))
			break;
		end = at + 1;
	}
	return end;
}

guint32 tb_walk_add_body(tb_walk *w, guint32 from, guint32 to)
{
	g_autoptr(GArray) parts = g_array_new(FALSE, FALSE, sizeof(tb_body_part));
	for (guint32 i = from; i < to; i++) {
		guint32 stitch = tb_walk_made(w, i)->stitch;
		tb_body_part *last =
			parts->len > 0 ? &g_array_index(parts, tb_body_part, parts->len - 1) : NULL;
		if (last != NULL && last->stitch == stitch) {
			last->count++;
			continue;
		}
		tb_body_part part = {stitch, 1};
		g_array_append_val(parts, part);
	}
	return tb_composer_add_body(w->c, parts);
}

static bool walk_group(tb_walk *w, guint32 i, guint32 anchor, guint32 end)
{
	const tb_made *made = tb_walk_made(w, anchor);
	tb_step step = {.kind = TB_STEP_GROUP, .loops = tb_walk_loops(made), .each = 1, .rows_below = 1};
	if (made->rows_below != 1 || !tb_walk_place(w, anchor, 1, &step) ||
		(step.in != TB_IN_NEXT && step.in != TB_IN_BETWEEN && step.in != TB_IN_SAME &&
			step.in != TB_IN_FIRST))
		return false;
	step.number = tb_walk_add_body(w, i, end);
	w->last = anchor;
	w->in_space = (made->flags & TB_MADE_IN_SPACE) != 0;
	tb_walk_push(w, &step);
	return true;
}

/* One stitch, or several in its place; *NEXT is behind them. */
static bool walk_work(tb_walk *w, guint32 i, guint32 *next)
{
	const tb_made *made = tb_walk_made(w, i);
	const tb_stitch *stitch = tb_library_get(w->c->pattern->library, made->stitch);
	guint32 each = w->is_ring || made->rows_below == 0 ? 1 : tb_walk_count_each(w, i);
	/* a slip stitch that leads to a place is no part of what is worked there */
	bool leads = made->stitch == w->c->slip->number && !(made->flags & TB_MADE_COUNTED);
	/* … from where the round goes on all the way around, and what was passed over comes last */
	if (leads && w->row->is_round && made->rows_below == 1 && tb_walk_position(w, tb_walk_base(w, i)) != w->due)
		return false;
	guint32 group = leads || w->is_ring || made->rows_below != 1 ? i + each : tb_walk_find_group(w, i, i);
	bool is_group = group > i + each || (made->base_count == 1 && stitch->takes > 1);
	if (is_group) {
		*next = group;
		return walk_group(w, i, i, group);
	}
	tb_step step = {.kind = TB_STEP_WORK, .stitch = made->stitch, .loops = tb_walk_loops(made),
		.each = each, .rows_below = 1};
	if (!tb_walk_place(w, i, stitch->takes, &step))
		return false;
	w->last = i;
	w->in_space = (made->flags & TB_MADE_IN_SPACE) != 0;
	*next = i + each;
	tb_walk_push(w, &step);
	return true;
}

/* A slip stitch behind all others, into the beginning of its own row. */
static bool walk_join(tb_walk *w, guint32 i)
{
	const tb_made *made = tb_walk_made(w, i);
	if (i + 1 != tb_walk_end(w) || made->stitch != w->c->slip->number ||
		(made->flags & TB_MADE_COUNTED) || made->rows_below != 0)
		return false;
	guint32 base = made->base_count > 0 ? tb_walk_base(w, i) : w->row->first;
	if (base < w->row->first || tb_walk_is_chain(w, base))
		return false;
	w->line->join = tb_walk_made(w, base)->flags & TB_MADE_TURNING ? TB_JOIN_TURNING : TB_JOIN_FIRST;
	return true;
}

/* Whether a knot begins at I: a chain drawn long, and the sc in it. */
static bool is_knot(const tb_walk *w, guint32 i)
{
	if (i + 1 >= tb_walk_end(w))
		return false;
	const tb_made *chain = tb_walk_made(w, i), *close = tb_walk_made(w, i + 1);
	return close->rows_below == 0 && close->base_count == 1 && tb_walk_base(w, i + 1) == i &&
		chain->group != 0 && chain->group == close->group && !(chain->flags & TB_MADE_COUNTED);
}

/* The end of the knots that begin at I, one on the other. */
static guint32 walk_knots(tb_walk *w, guint32 i)
{
	tb_step step = {.kind = TB_STEP_KNOT};
	guint16 group = tb_walk_made(w, i)->group;
	for (; is_knot(w, i) && tb_walk_made(w, i)->group == group; i += 2)
		step.number++;
	w->in_space = false;
	tb_walk_push(w, &step);
	return i;
}

/*
 * Where the row narrows by slip stitches, "sl st in first 3 sts, ch 1, …": its turning chain, which counts as nothing
 * and stands on nothing; TB_NONE where it has none behind other stitches.
 */
static guint32 find_chain_behind_slips(const tb_walk *w)
{
	guint32 i = w->row->first;
	while (i < tb_walk_end(w) && tb_walk_made(w, i)->stitch == w->c->slip->number && !(tb_walk_made(w, i)->flags & TB_MADE_COUNTED))
		i++;
	bool stands = i < tb_walk_end(w) && i > w->row->first && !w->row->is_round && !w->is_foundation && w->added == 0;
	bool chain = stands && (tb_walk_made(w, i)->flags & (TB_MADE_TURNING | TB_MADE_COUNTED)) == TB_MADE_TURNING;
	return chain && tb_walk_made(w, i)->base_count == 0 ? i : TB_NONE;
}

static bool walk_stitches(tb_walk *w, guint32 i)
{
	bool begins = i == w->row->first;
	guint32 behind_slips = find_chain_behind_slips(w);
	while (i < tb_walk_end(w)) {
		guint32 next = i + 1;
		if (walk_join(w, i))
			return true;
		if (i == behind_slips) {
			tb_step step = {.kind = TB_STEP_TURNING, .number = tb_walk_made(w, i)->chains};
			tb_walk_push(w, &step);
		} else if (is_knot(w, i)) {
			next = walk_knots(w, i);
		} else if (tb_walk_is_chain(w, i) && begins) {
			/* only in a group can a row begin with chains that are no turning chain */
			while (next < tb_walk_end(w) && tb_walk_is_chain(w, next))
				next++;
			if (next == tb_walk_end(w))
				return false;
			guint32 anchor = next;
			next = tb_walk_find_group(w, i, anchor);
			if (!walk_group(w, i, anchor, next))
				return false;
		} else if (tb_walk_is_chain(w, i)) {
			tb_step step = {.kind = TB_STEP_CHAIN};
			tb_walk_push(w, &step);
		} else if (!walk_work(w, i, &next)) {
			return false;
		}
		begins = false;
		i = next;
	}
	return true;
}

/* Places over at the end: those beside the last space are passed over, others left unworked. */
static void find_left(tb_walk *w)
{
	guint32 from = w->due;
	bool border = w->in_space && w->last != TB_NONE;
	/* a round along the edges of all rows leaves none of the last one */
	if (from >= w->count || (w->row->along && w->row->is_round))
		return;
	if (border && tb_walk_made(w, w->last)->base_count == 2)
		border = w->count - from <= 1;
	else if (border) {
		for (guint32 i = from; i < w->count; i++)
			border = border && !(tb_walk_made(w, w->places[i])->flags & (TB_MADE_CHAIN | TB_MADE_TURNING));
	}
	if (!border)
		w->line->leave = w->count - from;
}

bool tb_compose_takes_up(const tb_made_row *row)
{
	for (unsigned i = 0; row->sentence != NULL && i < row->sentence->acts.count; i++) {
		const tb_act *act = &row->sentence->acts.acts[i];
		if (act->kind == TB_ACT_WORK && (act->place.far_side || act->place.ground != NULL || act->place.rows_below > 1))
			return true;
	}
	return false;
}

static bool find_ring(const tb_walk *w)
{
	if (!w->is_foundation || w->row->along || tb_compose_takes_up(w->row))
		return false;
	for (guint32 i = w->row->first; i < tb_walk_end(w); i++) {
		const tb_made *made = tb_walk_made(w, i);
		if ((made->flags & TB_MADE_IN_SPACE) && made->base_count == 1 &&
			tb_walk_made(w, tb_walk_base(w, i))->row == 0)
			return true;
	}
	return w->below->count == 0;
}

/*
 * Rows that begin further on, go back along the foundation, or stand on chains of their own, only
 * the source's words can say.
 */
static bool is_roundabout(const tb_walk *w)
{
	if (w->below->count == 0 && w->row->count > 0 &&
		tb_library_get(w->c->pattern->library, tb_walk_made(w, w->row->first)->stitch)->foot ==
			TB_FOOT_CHAIN)
		return true;
	guint32 begun = w->row->first;
	while (begun < tb_walk_end(w) && tb_walk_made(w, begun)->stitch == w->c->slip->number)
		begun++;
	if (is_knot(w, begun))
		return true;
	guint32 behind_slips = find_chain_behind_slips(w);
	for (guint32 i = w->row->first + 1; i < tb_walk_end(w); i++) {
		if (tb_walk_made(w, i)->flags & TB_MADE_TURNING && i != behind_slips)
			return true;
	}
	return w->row->elsewhere;
}

bool tb_compose_is_worked_start(const tb_fabric *fabric)
{
	const tb_made_row *start = &fabric->rows[0];
	return start->count > 0 && !(fabric->made[start->first].flags & TB_MADE_CHAIN);
}

/* How many chains ROW has. */
static guint32 count_chains(const tb_fabric *f, const tb_made_row *row)
{
	guint32 chains = 0;
	for (guint32 i = 0; i < row->count; i++)
		chains += (f->made[row->first + i].flags & TB_MADE_CHAIN) != 0;
	return chains;
}

/*
 * Chains lie the other way from the row on them; joined first, they go round as the rounds do. What a sleeve is picked
 * up around goes round as well, and is no chain that is joined.
 */
bool tb_compose_is_tube(const tb_fabric *fabric)
{
	const tb_made_row *start = &fabric->rows[0];
	return start->count > 0 && count_chains(fabric, start) == start->count && start->leftward == fabric->rows[1].leftward;
}

/* What a sleeve or thumb stands on: chains of an underarm and stitches that were skipped. What is which only its own words say. */
static bool is_opening(const tb_fabric *f, guint32 row)
{
	const tb_made_row *below = &f->rows[row - 1];
	guint32 chains = count_chains(f, below);
	return row == 1 && chains > 0 && chains < below->count;
}

/* How many edges ACTS go along, and the corners between them. */
static void count_edges(const tb_acts *acts, unsigned depth, unsigned *edges, unsigned *corners)
{
	for (unsigned i = 0; i < acts->count; i++) {
		const tb_act *act = &acts->acts[i];
		*edges += act->kind == TB_ACT_WORK && act->place.in == TB_IN_EDGE;
		*corners += ((act->kind == TB_ACT_WORK || act->kind == TB_ACT_GROUP) && act->place.corner) || act->corner_each.count > 0;
		if (act->kind == TB_ACT_REPEAT && depth < TB_LIMIT_NESTING)
			count_edges(&act->body, depth + 1, edges, corners);
	}
}

/* Whether the row goes along several edges, or around corners: where one ends and the next begins only its own words say. */
static bool goes_round_corners(const tb_made_row *row)
{
	unsigned edges = 0, corners = 0;
	if (row->sentence != NULL)
		count_edges(&row->sentence->acts, 0, &edges, &corners);
	return edges > 1 || (edges > 0 && corners > 0);
}

bool tb_compose_steps(tb_composer *c, const tb_fabric *fabric, guint32 row, tb_line *line,
	GArray *steps, GArray *due)
{
	const tb_made_row *below = &fabric->rows[row - 1];
	tb_made_row shortened = fabric->rows[row];
	g_autofree guint32 *places = g_new(guint32, below->count + 1);
	g_autofree guint32 *positions = g_new(guint32, below->count + 1);
	tb_walk w = {.c = c, .f = fabric, .s = tb_fabric_stitches(fabric, c->pattern->library), .row = &shortened, .below = below,
		.places = places, .positions = positions, .last = TB_NONE, .last_post = TB_NONE,
		.steps = steps, .dues = due, .line = line};
	guint32 next;
	line->added = tb_walk_count_added(fabric, row);
	shortened.count -= line->added;
	w.added = tb_walk_count_added(fabric, row - 1);
	w.is_foundation = row == 1 && tb_pattern_piece(c->pattern, c->piece)->from_piece == NULL &&
		!tb_compose_is_worked_start(fabric);
	w.is_ring = find_ring(&w);
	lay_out(&w);
	line->places = w.count;
	line->is_foundation = w.is_foundation;
	line->is_ring = w.is_ring;
	line->start_chains = w.is_foundation ? below->count : 0;
	line->ends_in_turning = w.count > 0 && w.turning == w.count - 1;
	/* a spiral that goes on over itself, and a round on an earlier one, are said by their own words */
	if (is_opening(fabric, row) || shortened.over > 0 || shortened.on_row > 0 || goes_round_corners(&shortened) || is_roundabout(&w) || begins_beside_join(&w) || !tb_walk_begin(&w, &next) || !walk_stitches(&w, next))
		return false;
	find_left(&w);
	return true;
}
