/*
 * A round that is worked into stitches of an earlier one, and not of the one below: "working behind the
 * petals, *ch 5, sc in next sc of Round 2; rep from * around".
 */
#include "places/on_row.h"
#include "places/place.h"

/* What the acts of a row say of the row they are worked into. */
typedef struct {
	unsigned row;  /* the number of the one that is named, 0: none */
	bool leads;    /* said once for all that comes */
	bool loops;    /* of its front or back loops */
	bool plain;    /* something goes where nothing names it */
	bool several;  /* two are named */
	bool missed;   /* of it, what was passed over: "next skipped sc of Rnd 1" */
	bool any;      /* … and what was not */
} named_row;

static void look_at_place(const tb_act *act, named_row *named)
{
	const tb_place *place = &act->place;
	if (place->of_row > 0) {
		named->several = named->several || (named->row > 0 && named->row != place->of_row);
		named->row = place->of_row;
		named->missed = named->missed || place->missed || place->in == TB_IN_SKIPPED;
		named->any = named->any || (act->kind != TB_ACT_LOOPS && !place->missed && place->in != TB_IN_SKIPPED);
	} else if (place->in != TB_IN_SAME && place->in != TB_IN_NTH_CHAIN && place->in != TB_IN_SKIPPED &&
		place->in != TB_IN_RING) {
		named->plain = true;
	}
}

static void look_at(const tb_acts *acts, named_row *named)
{
	for (unsigned i = 0; i < acts->count; i++) {
		const tb_act *act = &acts->acts[i];
		bool leads = act->kind == TB_ACT_JOIN_YARN || act->kind == TB_ACT_LOOPS;
		if (act->kind == TB_ACT_REPEAT)
			look_at(&act->body, named);
		else if (act->kind == TB_ACT_WORK || act->kind == TB_ACT_GROUP || act->kind == TB_ACT_SKIP)
			look_at_place(act, named);
		else if (leads && act->place.of_row > 0) {
			look_at_place(act, named);
			named->leads = true;
			named->loops = named->loops || act->place.loops != TB_LOOPS_BOTH;
		}
	}
}

/* "Return to Row 20, join yarn in next st": what short rows left of it, and nothing else of the row. */
static bool is_of_rest(const tb_hands *h, const tb_made_row *row)
{
	const GArray *rest = h->before.rest[h->before.rest_leftward];
	guint32 left = rest->len > 0 ? g_array_index(rest, guint32, 0) : 0;
	return rest->len > 0 && left >= row->first && left < row->first + row->count;
}

/* "Rows 7-8: rep Rows 3-4", where Row 4 goes into Row 2: Row 8 goes into Row 6. */
static unsigned number_meant(const tb_hands *h, unsigned named)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	return named + (row->written > 0 && row->written < row->number ? row->number - row->written : 0);
}

static bool is_numbered(const tb_hands *h, const tb_made_row *made, unsigned named)
{
	return made->number - made->before == number_meant(h, named);
}

guint32 tb_on_row_find(tb_hands *h)
{
	named_row named = {0};
	look_at(&h->sentence->acts, &named);
	h->now.on_missed = named.missed;
	if (named.row == 0 || named.several || (named.plain && !named.leads) || (named.missed && named.any))
		return 0;
	for (guint32 row = h->row - 1; row > 0; row--) {
		const tb_made_row *made = tb_hands_row(h, row);
		if (!is_numbered(h, made, named.row))
			continue;
		bool left = made->taken || row == h->row - 1 || (named.leads && !named.loops && is_of_rest(h, made));
		return left ? 0 : row;
	}
	return 0;
}

void tb_on_row_keep_missed(tb_hands *h)
{
	if (h->now.on_row == 0 || !h->now.on_missed)
		return;
	const tb_made_row *row = tb_hands_row(h, h->now.on_row);
	g_autofree guint8 *taken = g_new0(guint8, row->count + 1);
	for (guint32 i = row->first + row->count; i < h->cloth.made->len; i++) {
		const tb_made *made = tb_hands_made(h, i);
		for (unsigned k = 0; k < made->base_count; k++) {
			guint32 base = tb_hands_base(h, made, k);
			if (base >= row->first && base < row->first + row->count)
				taken[base - row->first] = true;
		}
	}
	guint32 *places = &g_array_index(h->now.places, guint32, 0), count = 0, turning = h->now.turning_place;
	h->now.turning_place = TB_NONE;
	for (guint32 i = 0; i < h->now.places->len; i++) {
		if (taken[places[i] - row->first])
			continue;
		h->now.turning_place = i == turning ? count : h->now.turning_place;
		places[count++] = places[i];
	}
	g_array_set_size(h->now.places, count);
}

/*
 * "the 4 sts left unworked on Row 1": a short row left them, and they come next. The row that is named is the one
 * they are of, or the short one.
 */
static bool is_due(const tb_hands *h, unsigned number)
{
	guint32 due = h->cursor.due, count = tb_place_count(h);
	if (due >= count)
		return false;
	const tb_made_row *made = tb_hands_row(h, tb_hands_made(h, tb_hands_place(h, due))->row);
	unsigned row = made->number - made->before;
	return row == number || (due + h->now.beyond >= count && row + 1 == number);
}

static bool is_missed(const tb_hands *h, const tb_place *place)
{
	return place->of_row > 0 && h->now.on_row == 0 && place->rows_below < 2 && place->in != TB_IN_SAME &&
		!is_due(h, place->of_row) && !is_numbered(h, tb_hands_row(h, h->row - 1), place->of_row);
}

/* "each unworked st of Row 3", where what comes next was left by another row. */
static bool is_left_by_another(const tb_hands *h, const tb_place *place)
{
	return place->left_of > 0 && h->now.on_row == 0 && h->cursor.due < tb_place_count(h) && !is_due(h, place->left_of);
}

bool tb_on_row_tell_missed(tb_hands *h, const tb_place *place)
{
	if (is_left_by_another(h, place)) {
		tb_hands_give_up(h, "not-worked", place->span, "Name the row whose stitches were left.",
			"the stitches that come next are not of the row that is named here");
		return true;
	}
	if (!is_missed(h, place))
		return false;
	tb_hands_give_up(h, "not-worked", place->span, "Say of every stitch of the row that it goes there.",
		"the row that is named here is not the row below");
	return true;
}

bool tb_on_row_tell_none(tb_hands *h, const tb_place *place)
{
	/* work that goes on from another, or around an opening, may name that one's rows */
	if (place->of_row == 0 || h->now.on_row > 0 || h->start.opening || h->start.grown)
		return false;
	for (guint32 row = h->row - 1; row > 0; row--) {
		if (is_numbered(h, tb_hands_row(h, row), place->of_row))
			return false;
	}
	tb_hands_give_up(h, "not-worked", place->span, "Name a row that is there.", "no row %u comes before this", place->of_row);
	return true;
}
