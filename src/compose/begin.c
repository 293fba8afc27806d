/*
 * How a row begins: a turning chain, or the corner of a foundation, whose skipped chains stand up.
 * What a reader makes of skipped chains is foretold, so that the words chosen make the same again.
 */
#include "compose/walk.h"

/* Whether chains stand in the row in a run of COUNT, from I on. */
static bool has_run(const tb_walk *w, guint32 i, unsigned count)
{
	guint32 run = 0;
	for (; i <= tb_walk_end(w); i++) {
		if (i < tb_walk_end(w) && tb_walk_is_chain(w, i)) {
			run++;
			continue;
		}
		if (run > 0 && run == count)
			return true;
		run = 0;
	}
	return false;
}

/* The stitch a turning chain of CHAINS counts as. */
static const tb_stitch *counts_as(const tb_walk *w, unsigned chains)
{
	static const char *const kinds[] = {"sc", "hdc", "dc", "tr", "dtr"};
	const tb_library *library = w->c->pattern->library;
	for (guint32 i = w->row->first + 1; i < tb_walk_end(w); i++) {
		const tb_stitch *stitch = tb_library_get(library, tb_walk_made(w, i)->stitch);
		if (tb_walk_made(w, i)->flags & TB_MADE_CHAIN)
			continue;
		if (stitch->post == TB_POST_NONE && stitch->legs == 1 &&
			stitch->height == chains + 1)
			return stitch; /* a chain short, as some designers work */
		break;
	}
	/* chains beyond the stitch's height would be read as a space, where the row has such spaces */
	unsigned height = CLAMP(chains, 1, G_N_ELEMENTS(kinds));
	while (height > 1 && chains > height && has_run(w, w->row->first + 1, chains - height))
		height--;
	return tb_library_find(library, kinds[height - 1]);
}

static bool walk_turning(tb_walk *w)
{
	const tb_made *made = tb_walk_made(w, w->row->first);
	bool counted = made->flags & TB_MADE_COUNTED;
	tb_step step = {.kind = TB_STEP_TURNING, .number = made->chains};
	if (counted && made->base_count > 0) {
		guint32 position = tb_walk_position(w, tb_walk_base(w, w->row->first));
		if (position == TB_NONE || made->base_count != 1)
			return false;
		if (position > 0) {
			tb_step join = {.kind = TB_STEP_JOIN_YARN, .number = position + 1};
			tb_walk_push(w, &join);
		}
		w->due = position + 1;
		w->last = w->row->first;
	} else if (counted && w->count > 0) {
		return false;
	}
	if (counted) {
		const tb_stitch *as = counts_as(w, made->chains);
		step.flags |= TB_STEP_COUNTED;
		step.named = (guint16)as->number;
		guint32 next = w->row->first + 1;
		while (next < tb_walk_end(w) && tb_walk_is_chain(w, next))
			next++;
		if (w->due == 1 && next < tb_walk_end(w) && !tb_walk_same_footing(w, w->row->first, next))
			step.flags |= TB_STEP_SKIP_FIRST;
	}
	tb_walk_push(w, &step);
	return true;
}

/* A row, walked from I on. */
typedef struct {
	const tb_walk *w;
	guint32 i;
} stretch;

static bool stretch_has_run(const void *data, unsigned chains)
{
	const stretch *s = data;
	return has_run(s->w, s->i, chains);
}

/* Chains added at the edge are said where they are worked into: "ch 10, dc in 4th ch from hook". */
static void push_added(tb_walk *w, unsigned standing)
{
	tb_step step = {.kind = TB_STEP_CHAIN};
	for (guint32 i = 0; i < w->added + standing; i++)
		tb_walk_push(w, &step);
}

/* "(dc, ch 2, dc) in 4th ch from hook" */
static bool walk_corner_group(tb_walk *w, guint32 i, guint32 end, guint32 nth, guint32 *next)
{
	tb_step step = {.kind = TB_STEP_GROUP, .loops = tb_walk_loops(tb_walk_made(w, i)), .each = 1,
		.rows_below = 1, .in = TB_IN_NTH_CHAIN, .target = TB_TARGET_CHAIN,
		.number = tb_walk_add_body(w, i, end),
		.named = (guint16)MIN(nth, G_MAXUINT16)};
	w->due++;
	w->last = i;
	tb_walk_push(w, &step);
	*next = end;
	return nth <= G_MAXUINT16;
}

/* The corner of the foundation row, said as "in 4th ch from hook" or "sk first 3 chs". */
static bool walk_corner(tb_walk *w, guint32 *next)
{
	const tb_made *made = tb_walk_made(w, w->row->first);
	unsigned standing = made->chains, space = 0;
	guint32 i = w->row->first + 1;
	while (i < tb_walk_end(w) && tb_walk_is_chain(w, i))
		i++, space++;
	if (i == tb_walk_end(w) || tb_walk_made(w, i)->base_count == 0 || tb_walk_made(w, i)->rows_below != 1)
		return false;
	guint32 position = tb_walk_position(w, tb_walk_base(w, i));
	if (position == TB_NONE)
		return false;
	const tb_stitch *stitch = tb_library_get(w->c->pattern->library, tb_walk_made(w, i)->stitch);
	bool counted = made->flags & TB_MADE_COUNTED;
	guint32 each = tb_walk_count_each(w, i), group = tb_walk_find_group(w, i, i);
	bool is_group = group > i + each || (tb_walk_made(w, i)->base_count == 1 && stitch->takes > 1);
	bool in_words = is_group || stitch->takes > 1; /* whether they count is not said then */
	unsigned skipped = standing + space + position;
	stretch after = {w, i};
	/* what everybody takes for granted, ch 1 for sc, is not said */
	tb_counts said = in_words ? TB_COUNTS_UNSAID : counted ? TB_COUNTS : standing > 1 ? TB_COUNTS_NOT : TB_COUNTS_UNSAID;
	tb_standing_chains read = tb_rule_skipped_chains(&(tb_skipped_chains){.skipped = skipped,
		.height = tb_stitch_chains(stitch), .said = said, .in_group = is_group, .has_space = stretch_has_run, .row = &after});
	if (read.chains != standing || read.space != space || read.counted != counted ||
		(counted && space == 0 && position > 0) != (made->base_count > 0))
		return false;
	if (w->added > 0 && position >= w->added)
		return false;
	if (w->added > 0)
		push_added(w, standing + space);
	else
		w->line->start_chains = w->below->count + standing + space;
	w->due = position;
	*next = i;
	if (is_group && tb_walk_made(w, i)->base_count == 1)
		return walk_corner_group(w, i, group, skipped + 1, next);
	if (in_words) {
		tb_step skip = {.kind = TB_STEP_SKIP, .target = TB_TARGET_CHAIN, .number = skipped,
			.flags = TB_STEP_FIRST_PLACE};
		tb_walk_push(w, &skip);
		return true;
	}
	tb_step step = {.kind = TB_STEP_WORK, .stitch = tb_walk_made(w, i)->stitch, .each = each,
		.loops = tb_walk_loops(tb_walk_made(w, i)), .rows_below = 1, .in = TB_IN_NTH_CHAIN,
		.target = TB_TARGET_CHAIN, .number = skipped + 1};
	if (said != TB_COUNTS_UNSAID)
		step.flags = counted ? TB_STEP_COUNTED : TB_STEP_NOT_COUNTED;
	w->due = position + 1;
	w->last = i;
	tb_walk_push(w, &step);
	*next = i + each;
	return true;
}

/* Chains skipped first would be read as chains that stand up: only the source's words say it. */
static bool skips_flat_chains(const tb_walk *w)
{
	if (tb_walk_made(w, w->row->first)->base_count == 0)
		return false;
	guint32 position = tb_walk_position(w, tb_walk_base(w, w->row->first));
	return position != TB_NONE && position > 0;
}

bool tb_walk_begin(tb_walk *w, guint32 *next)
{
	/* a round that new yarn begins somewhere goes all around from there: the source's words say where */
	if (w->row->is_round && w->row->rejoined && !w->is_foundation)
		return false;
	bool on_chain = w->is_foundation && !w->is_ring && !tb_compose_is_tube(w->f);
	*next = w->row->first;
	if (w->row->count == 0)
		return true;
	if (!(tb_walk_made(w, w->row->first)->flags & TB_MADE_TURNING))
		return !on_chain || !skips_flat_chains(w);
	if (on_chain) {
		if (walk_corner(w, next))
			return true;
		/* the chains of the corner made as a turning chain of row 1 */
		w->due = 0;
		w->line->start_chains = w->below->count;
	}
	if (w->added > 0)
		return walk_corner(w, next);
	*next = w->row->first + 1;
	return walk_turning(w);
}

/*
 * How many chains at the end of row BELOW were added for the next one to be worked into: they lie
 * there and are no stitches of it.
 */
guint32 tb_walk_count_added(const tb_fabric *f, guint32 below)
{
	const tb_made_row *row = &f->rows[below];
	guint32 counted = 0;
	for (guint32 i = row->first; below > 0 && i < row->first + row->count; i++)
		counted += (f->made[i].flags & TB_MADE_COUNTED) != 0;
	return counted > row->stitches ? counted - row->stitches : 0;
}
