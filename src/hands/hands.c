/* What the hands do most: make a stitch, and take a pass back. */
#include "hands/hands.h"

void tb_hands_init(tb_hands *h, tb_working *working, unsigned piece, unsigned size)
{
	*h = (tb_hands){
		.working = working,
		.piece = piece,
		.size = size,
		.cloth = {
			.made = g_array_new(FALSE, FALSE, sizeof(tb_made)),
			.bases = g_array_new(FALSE, FALSE, sizeof(guint32)),
			.rows = g_array_new(FALSE, FALSE, sizeof(tb_made_row)),
			.repeats = g_array_new(FALSE, FALSE, sizeof(tb_row_repeat)),
			.reached = g_array_new(FALSE, FALSE, sizeof(tb_reached)),
			.group_owns = g_hash_table_new(NULL, NULL),
			.marks = g_array_new(FALSE, FALSE, sizeof(tb_marked)),
			.colours = g_array_new(FALSE, FALSE, sizeof(tb_colour_run)),
		},
		.now = {
			.places = g_array_new(FALSE, FALSE, sizeof(guint32)),
			.grounds = g_array_new(FALSE, FALSE, 4 * sizeof(guint32)),
			.set_aside = g_array_new(FALSE, FALSE, sizeof(guint32)),
		},
		.before.rest = {g_array_new(FALSE, FALSE, sizeof(guint32)), g_array_new(FALSE, FALSE, sizeof(guint32))},
		.teller.held = g_array_new(FALSE, FALSE, sizeof(tb_held_fault)),
	};
}

void tb_hands_finish(tb_hands *h)
{
	g_clear_pointer(&h->cloth.made, g_array_unref);
	g_clear_pointer(&h->cloth.bases, g_array_unref);
	g_clear_pointer(&h->cloth.rows, g_array_unref);
	g_clear_pointer(&h->cloth.repeats, g_array_unref);
	g_clear_pointer(&h->cloth.reached, g_array_unref);
	g_clear_pointer(&h->now.places, g_array_unref);
	g_clear_pointer(&h->now.grounds, g_array_unref);
	g_clear_pointer(&h->teller.held, g_array_unref);
	g_clear_pointer(&h->before.rest[0], g_array_unref);
	g_clear_pointer(&h->before.rest[1], g_array_unref);
	g_clear_pointer(&h->now.set_aside, g_array_unref);
	g_clear_pointer(&h->cloth.marks, g_array_unref);
	g_clear_pointer(&h->cloth.colours, g_array_unref);
	g_clear_pointer(&h->cloth.group_owns, g_hash_table_destroy);
}

unsigned tb_hands_number(const tb_hands *h, const tb_number *number, unsigned otherwise)
{
	if (number->values == NULL || number->count == 0)
		return otherwise;
	int value = tb_number_in(number, number->count == 1 ? 0 : h->size);
	return value < 0 ? 0 : (unsigned)value;
}

guint64 tb_hands_makes(const tb_hands *h, const tb_act *act)
{
	if (act->body.count > 0)
		return 0;
	if (act->kind == TB_ACT_CHAIN)
		return tb_hands_number(h, &act->count, 1);
	return act->kind != TB_ACT_WORK ? 0 :
		(guint64)tb_hands_number(h, &act->each, 1) * tb_hands_number(h, &act->place.count, 1);
}

bool tb_hands_may_go_on(tb_hands *h, tb_span span)
{
	if (h->working->steps <= h->working->most_steps)
		return true;
	h->working->stopped = true;
	tb_hands_give_up(h, "limit-stitches", span, "Check the numbers of its repeats.",
		"this pattern has more to do than any fabric needs");
	return false;
}

guint64 tb_hands_bytes(const tb_hands *h)
{
	return (guint64)h->cloth.made->len * sizeof(tb_made) + (guint64)h->cloth.bases->len * sizeof(guint32) +
		(guint64)h->cloth.rows->len * sizeof(tb_made_row) + (guint64)h->cloth.repeats->len * sizeof(tb_row_repeat) +
		(guint64)h->cloth.reached->len * sizeof(tb_reached);
}

bool tb_hands_has_memory(tb_hands *h, tb_span span)
{
	if (h->working->kept + tb_hands_bytes(h) + h->working->arena->bytes < TB_LIMIT_WORKING_BYTES)
		return true;
	h->working->stopped = true;
	tb_hands_give_up(h, "limit-memory", span, "Work the pieces in files of their own, or fewer sizes at once.",
		"to work this pattern takes more than %u MiB of memory", (unsigned)(TB_LIMIT_WORKING_BYTES >> 20));
	return false;
}

static bool is_within_limits(tb_hands *h, tb_span span)
{
	if (h->cloth.made->len - tb_hands_row(h, h->row)->first >= TB_LIMIT_ROW_STITCHES) {
		tb_hands_give_up(h, "limit-row", span, "Check the numbers of the row.",
			"a row may have %u sts", TB_LIMIT_ROW_STITCHES);
		return false;
	}
	if (h->working->made >= TB_LIMIT_ALL_STITCHES) {
		h->working->stopped = true;
		tb_hands_give_up(h, "limit-stitches", span, "Work the pieces in files of their own.",
			"all pieces and sizes together may have %u sts", TB_LIMIT_ALL_STITCHES);
		return false;
	}
	return true;
}

guint32 tb_hands_make(
	tb_hands *h, const tb_stitch *stitch, const tb_footing *footing, unsigned flags, tb_span span)
{
	if (!is_within_limits(h, span))
		return TB_NONE;
	tb_made made = {
		.row = h->row,
		.behind = TB_NONE,
		.stitch = (guint16)stitch->number,
		.flags = (guint8)flags,
		.group = h->now.group_number,
	};
	if (footing != NULL) {
		made.behind = footing->behind;
		made.base_count = footing->count;
		made.flags = (guint8)(flags | footing->flags);
		/* a chain made in the row itself is no row below it */
		bool own = footing->count > 0 && h->row < h->cloth.rows->len && footing->bases[0] >= tb_hands_row(h, h->row)->first;
		guint8 down = footing->rows_below;
		if (down == 1 && h->now.on_row > 0)
			down = (guint8)MIN(h->row - h->now.on_row, 255);
		made.rows_below = own ? 0 : down;
		made.base = footing->count == 1 ? footing->bases[0] : h->cloth.bases->len;
		if (footing->count > 1)
			g_array_append_vals(h->cloth.bases, footing->bases, footing->count);
	}
	guint32 index = h->cloth.made->len;
	g_array_set_size(h->cloth.made, index + 1);
	*tb_hands_made(h, index) = made;
	/* a loop closes its round only where nothing comes behind it */
	if (made.flags & TB_MADE_COUNTED && h->row < h->cloth.rows->len)
		tb_hands_row(h, h->row)->loop = 0;
	h->working->made++;
	return index;
}

tb_trial tb_hands_try(tb_hands *h)
{
	h->teller.trials++;
	tb_trial trial = {
		h->cursor, h->cloth.made->len, h->cloth.bases->len, h->teller.held->len, h->teller.floor, h->teller.row_fault,
		h->cloth.colours->len};
	h->teller.floor = h->cloth.made->len;
	return trial;
}

void tb_hands_keep(tb_hands *h, const tb_trial *trial)
{
	h->teller.floor = trial->floor;
	h->teller.trials--;
	tb_hands_deliver_held(h);
}

void tb_hands_forget_marks(tb_hands *h)
{
	while (h->cloth.marks->len > 0 && g_array_index(h->cloth.marks, tb_marked, h->cloth.marks->len - 1).made >= h->cloth.made->len)
		g_array_set_size(h->cloth.marks, h->cloth.marks->len - 1);
}

void tb_hands_take_back(tb_hands *h, const tb_trial *trial)
{
	h->teller.trials--;
	h->teller.floor = trial->floor;
	h->working->made -= h->cloth.made->len - trial->made;
	tb_hands_look(h, h->cloth.made->len - trial->made);
	g_array_set_size(h->cloth.made, trial->made);
	g_array_set_size(h->cloth.bases, trial->bases);
	g_array_set_size(h->cloth.colours, trial->colours);
	tb_hands_forget_marks(h);
	tb_hands_drop_held(h, trial->held);
	h->cursor = trial->cursor;
	h->teller.row_fault = trial->row_fault;
}

const tb_act *tb_hands_next_placed(const tb_hands *h)
{
	tb_acts acts = h->now.next_acts;
	for (unsigned i = 0; i < acts.count;) {
		const tb_act *act = &acts.acts[i++];
		if (act->kind == TB_ACT_REPEAT) {
			acts = act->body;
			i = 0;
		} else if (act->kind != TB_ACT_CHAIN && act->kind != TB_ACT_KNOT) {
			return act;
		}
	}
	return NULL;
}

bool tb_hands_has_turning_alone(const tb_hands *h)
{
	guint32 first = tb_hands_row(h, h->row)->first;
	if (h->cloth.made->len == first || !(tb_hands_made(h, first)->flags & TB_MADE_TURNING))
		return false;
	tb_hands_look(h, h->cloth.made->len - first);
	for (guint32 i = first + 1; i < h->cloth.made->len; i++) {
		if (!(tb_hands_made(h, i)->flags & TB_MADE_CHAIN))
			return false;
	}
	return true;
}

void tb_hands_number_group(tb_hands *h, const tb_own *own)
{
	h->now.group_number = (guint16)(h->now.groups_made++ % (G_MAXUINT16 - 1) + 1);
	if (own != NULL)
		g_hash_table_insert(h->cloth.group_owns, GUINT_TO_POINTER((guint)h->now.group_number), (gpointer)own);
	else
		g_hash_table_remove(h->cloth.group_owns, GUINT_TO_POINTER((guint)h->now.group_number));
}
