/*
 * A stitch told by its moves: "insert hook in next st, draw up a loop, yo and draw through both loops"
 * is a single crochet in the next stitch. The moves are simulated on the hook as those of the library
 * are, and the library's stitch of the same moves is meant. A yarn over in the text that belongs to
 * what is drawn behind it is one move with that; where the hook goes in first, there the stitch stands.
 *
 * A linked stitch at a row's start takes the loops of its bars from the chain beside the hook, the 2nd, 3rd, … of
 * it, and stands where the hook goes in behind these.
 */
#include "notation/build.h"

#include "stitches/stitch.h"
#include "support/limits.h"

#include <string.h>

typedef struct {
	tb_builder *b;
	GArray *moves; /* tb_move */
	unsigned loops; /* on the hook */
	bool whole;     /* one loop is left of them: a stitch is made */
	bool yarn_over; /* the last move is one that may belong to what is drawn next */
	tb_post post;
	const tb_value *where; /* the first place the hook goes in, or NULL */
	const tb_value *skip;  /* what is passed over before that place, or NULL */
	unsigned chains;       /* loops from the chain beside the hook, from its 2nd on, so far */
	bool linked;           /* those were of its bars */
	int nth;               /* the chain of the foundation that it stands in, where no place says so; or 0 */
	bool inserted;  /* the hook went in somewhere */
	bool in_same;   /* it goes in at that place again */
	tb_loops in_loops;
	const char *fault;
} telling;

static void fail(telling *t, const char *why)
{
	if (t->fault == NULL)
		t->fault = why;
}

static void add(telling *t, tb_move_kind kind, unsigned through)
{
	tb_move move = {kind, through};
	if (t->moves->len >= TB_LIMIT_MOVES)
		fail(t, "no stitch has so many moves");
	else
		g_array_append_val(t->moves, move);
}

/* A loop is drawn: the yarn over before it, where one was said, was its own. */
static void take_yarn_over(telling *t)
{
	if (!t->yarn_over)
		return;
	t->yarn_over = false;
	t->loops--;
	g_array_set_size(t->moves, t->moves->len - 1);
}

static void yarn_over(telling *t, const tb_value *n)
{
	int many = n != NULL ? tb_build_one_number(n, 0) : 1;
	if (many < 1 || many > (int)TB_LIMIT_LOOPS)
		fail(t, "so many loops are not on a hook");
	for (int i = 0; i < many && t->fault == NULL; i++) {
		add(t, TB_MOVE_YARN_OVER, 0);
		t->loops++;
	}
	/* "yo twice" begins a tall stitch, and is drawn through by no loop of its own */
	t->yarn_over = many == 1;
}

/* One place: so many moves are not worked in several. */
static bool is_one_place(const tb_place *place)
{
	return tb_number_is(&place->count, 1) && place->in != TB_IN_EACH && place->in != TB_IN_EDGE &&
		place->in != TB_IN_BETWEEN;
}

/* The loops from chains so far were those of the bars: the stitch stands where the hook goes in now. */
static void link_bars(telling *t)
{
	for (guint i = 0; i < t->moves->len; i++) {
		tb_move *move = &g_array_index(t->moves, tb_move, i);
		move->kind = move->kind == TB_MOVE_INSERT ? TB_MOVE_INSERT_BAR : move->kind;
	}
	t->chains = 0;
	t->where = NULL;
	t->linked = true;
}

/* Whether the hook goes into the next chain of those beside it, from the 2nd on, and nowhere else before. */
static bool is_next_chain(const telling *t, const tb_place *place)
{
	if (t->inserted && t->chains == 0)
		return false;
	bool next = t->chains > 0 && place->in == TB_IN_NEXT && place->target == TB_TARGET_CHAIN && !t->b->first_row;
	return next || (place->in == TB_IN_NTH_CHAIN && tb_number_is(&place->count, (int)t->chains + 2));
}

/* Whether PLACE, behind loops from such chains, is where a linked stitch stands: in a foundation one chain further on. */
static bool is_behind_chains(const telling *t, const tb_place *place)
{
	if (t->chains == 0 || !t->inserted)
		return false;
	if (t->b->first_row)
		return place->in == TB_IN_NTH_CHAIN && tb_number_is(&place->count, (int)t->chains + 3);
	return (place->in == TB_IN_NEXT || place->in == TB_IN_FIRST) && place->target == TB_TARGET_STITCH;
}

static void insert(telling *t, const tb_value *value, tb_post post)
{
	const tb_value *where = tb_value_get(value, TB_SLOT_place);
	bool first = !t->inserted;
	tb_place place = {0};
	t->yarn_over = false;
	if (where != NULL)
		tb_build_place(t->b, where, &place);
	if (where != NULL && post == TB_POST_NONE && is_next_chain(t, &place)) {
		t->chains++;
		t->inserted = true;
		t->where = where;
		add(t, TB_MOVE_INSERT, 0);
		return;
	}
	bool linked = where != NULL && post == TB_POST_NONE && is_behind_chains(t, &place);
	if (linked) {
		link_bars(t);
		first = true;
	}
	t->inserted = true;
	if (where != NULL && !(linked && t->b->first_row) && !is_one_place(&place))
		fail(t, "these moves are not made in one place");
	if (!first && (post != t->post || tb_build_has(value, TB_SLOT_loops)))
		fail(t, "these moves are not of one stitch");
	if (first) {
		t->where = where;
		t->post = post;
		t->in_loops = tb_build_loops_of(tb_value_get(value, TB_SLOT_loops));
		add(t, TB_MOVE_INSERT, 0);
		return;
	}
	/* "in st" once more is in that one; "in next st" goes on */
	bool again = tb_value_is_symbol(tb_value_get(where, TB_SLOT_how), TB_SYMBOL_the);
	bool same = where == NULL || place.in == TB_IN_SAME || again || t->in_same;
	if (!same && place.in != TB_IN_NEXT)
		fail(t, "these moves are not made side by side");
	add(t, same ? TB_MOVE_INSERT : TB_MOVE_INSERT_NEXT, 0);
}

static void draw_up(telling *t);

/* "draw up a loop in 2nd and 3rd ch from hook": PLACE is of the first of them, RUN the others. */
static void insert_run(telling *t, const tb_value *run)
{
	const tb_value *n = tb_value_get(run, TB_SLOT_n), *to = tb_value_get(run, TB_SLOT_to);
	unsigned nth = tb_build_figure(n != NULL ? n : run, 0);
	bool behind = t->b->first_row && t->chains > 0 && nth == t->chains + 3 && to == NULL;
	if (!behind && (nth != t->chains + 2 || (t->inserted && t->chains == 0))) {
		fail(t, "these moves are not made side by side");
		return;
	}
	if (behind) {
		link_bars(t);
		t->nth = (int)nth;
	} else {
		t->chains++;
	}
	t->yarn_over = false;
	t->inserted = true;
	add(t, TB_MOVE_INSERT, 0);
	draw_up(t);
	if (to != NULL)
		insert_run(t, to);
}

static void draw_up(telling *t)
{
	bool inserted = false;
	take_yarn_over(t);
	if (t->moves->len > 0) {
		tb_move_kind last = g_array_index(t->moves, tb_move, t->moves->len - 1).kind;
		inserted = last == TB_MOVE_INSERT || last == TB_MOVE_INSERT_NEXT;
	}
	if (!inserted)
		fail(t, "the hook goes in nowhere before this loop is drawn up");
	add(t, TB_MOVE_DRAW_UP, 0);
	t->loops++;
}

static void draw_through(telling *t, unsigned many)
{
	take_yarn_over(t);
	if (many < 1 || many > t->loops) {
		fail(t, "there are not so many loops on the hook");
		return;
	}
	add(t, TB_MOVE_THROUGH, many);
	t->loops = t->loops - many + 1;
	t->whole = t->loops == 1;
}

static void through(telling *t, const tb_value *value)
{
	const tb_value *n = tb_value_get(value, TB_SLOT_n);
	unsigned many = n != NULL ? (unsigned)MAX(tb_build_one_number(n, 0), 0) : t->loops;
	if (n == NULL && t->yarn_over)
		many--;
	if (tb_build_has(value, TB_SLOT_all) && n != NULL && many != t->loops - (t->yarn_over ? 1 : 0))
		fail(t, "there are not so many loops on the hook");
	draw_through(t, many);
}

/* The loop just drawn up, through the one that is left: a slip stitch. */
static void slip_through(telling *t)
{
	bool drawn = t->moves->len > 0 &&
		g_array_index(t->moves, tb_move, t->moves->len - 1).kind == TB_MOVE_DRAW_UP;
	if (!drawn || t->loops != 2) {
		fail(t, "there are not so many loops on the hook");
		return;
	}
	add(t, TB_MOVE_PULL_THROUGH, 1);
	t->loops = 1;
	t->whole = true;
}

/* "work off the loops two at a time" */
static void off_by_twos(telling *t)
{
	take_yarn_over(t);
	if (t->loops < 2)
		fail(t, "there are not so many loops on the hook");
	while (t->loops > 1 && t->fault == NULL)
		draw_through(t, 2);
}

static bool is_insert(const tb_move *move)
{
	return move->kind == TB_MOVE_INSERT || move->kind == TB_MOVE_INSERT_POST;
}

/* "complete as dc": what that has behind the moves made so far. */
static void finish_as(telling *t, const tb_value *value)
{
	const tb_stitch *stitch = tb_build_stitch(t->b, tb_value_get(value, TB_SLOT_stitch), NULL);
	take_yarn_over(t);
	if (stitch == NULL || stitch->moves == NULL || stitch->takes != 1 || stitch->legs != 1 ||
		stitch->moves->count <= t->moves->len) {
		fail(t, "these moves do not begin such a stitch");
		return;
	}
	for (guint i = 0; i < t->moves->len; i++) {
		const tb_move *own = &stitch->moves->moves[i];
		const tb_move *said = &g_array_index(t->moves, tb_move, i);
		bool same = own->kind == said->kind && own->through == said->through;
		if (!same && !(is_insert(own) && is_insert(said)))
			fail(t, "these moves do not begin such a stitch");
	}
	for (guint i = t->moves->len; i < stitch->moves->count && t->fault == NULL; i++)
		add(t, stitch->moves->moves[i].kind, stitch->moves->moves[i].through);
	t->loops = 1;
	t->whole = true;
}

static void tell(telling *t, const tb_value *move);

static void tell_list(telling *t, const tb_value *list)
{
	if (list == NULL || list->type != TB_VALUE_LIST) {
		tell(t, list);
		return;
	}
	const tb_value *const *items = tb_value_items(list, t->b->scratch);
	for (guint32 i = 0; i < list->count && t->fault == NULL; i++)
		tell(t, items[i]);
}

/* "[yo, draw through 2 loops] twice" */
static void tell_again(telling *t, const tb_value *move)
{
	const tb_value *times = tb_value_get(move, TB_SLOT_times);
	int many = tb_build_one_number(tb_value_get(times, TB_SLOT_n), 0);
	/* "rep from * 2 times" comes to what was told once */
	bool plus = tb_build_has(move, TB_SLOT_plus);
	if (many < 1 || (!plus && tb_build_has(times, TB_SLOT_more)))
		fail(t, "how often these moves are made is not said");
	many += plus ? 1 : 0;
	bool in_same = t->in_same;
	for (int i = 0; i < many && t->fault == NULL; i++) {
		t->in_same = in_same || tb_build_has(move, TB_SLOT_same);
		tell_list(t, tb_value_get(move, TB_SLOT_moves));
	}
	t->in_same = in_same;
}

/* "repeat in same st 2 more times": all that was told so far. */
static void tell_all_again(telling *t, const tb_value *move)
{
	const tb_value *times = tb_value_get(move, TB_SLOT_times);
	int many = tb_build_one_number(tb_value_get(times, TB_SLOT_n), 0);
	guint count = t->moves->len, loops = t->loops - 1;
	if (many < 1 || many > (int)TB_LIMIT_LOOPS || count == 0)
		fail(t, "how often these moves are made is not said");
	for (int i = 0; i < many && t->fault == NULL; i++, t->loops += loops) {
		for (guint k = 0; k < count && t->fault == NULL; k++) {
			tb_move made = g_array_index(t->moves, tb_move, k);
			add(t, made.kind, made.through);
		}
	}
}

static void tell(telling *t, const tb_value *move)
{
	const tb_value *v = tb_value_get(move, TB_SLOT_v);
	if (t->whole && !tb_value_is_symbol(v, TB_SYMBOL_has))
		fail(t, "more is done here than makes one stitch");
	if (t->fault != NULL || v == NULL || v->type != TB_VALUE_SYMBOL)
		return;
	switch (v->symbol) {
	case TB_SYMBOL_yo:
		yarn_over(t, tb_value_get(move, TB_SLOT_n));
		break;
	case TB_SYMBOL_insert:
		insert(t, move, TB_POST_NONE);
		break;
	case TB_SYMBOL_front:
		insert(t, move, TB_POST_FRONT);
		break;
	case TB_SYMBOL_back:
		insert(t, move, TB_POST_BACK);
		break;
	case TB_SYMBOL_insertup:
		insert(t, move, TB_POST_NONE);
		draw_up(t);
		break;
	case TB_SYMBOL_up:
		draw_up(t);
		break;
	case TB_SYMBOL_run:
		insert_run(t, tb_value_get(move, TB_SLOT_n));
		break;
	case TB_SYMBOL_skip:
		t->skip = tb_value_get(move, TB_SLOT_skip);
		if (!t->inserted || t->chains == 0)
			fail(t, "something is passed over amid the moves of a stitch");
		break;
	case TB_SYMBOL_through:
		through(t, move);
		break;
	case TB_SYMBOL_upslip:
		draw_up(t);
		slip_through(t);
		break;
	case TB_SYMBOL_slip:
		slip_through(t);
		break;
	case TB_SYMBOL_twos:
		off_by_twos(t);
		break;
	case TB_SYMBOL_finish:
		finish_as(t, move);
		break;
	case TB_SYMBOL_again:
		tell_again(t, move);
		break;
	case TB_SYMBOL_allagain:
		tell_all_again(t, move);
		break;
	case TB_SYMBOL_has:
		if (tb_build_one_number(tb_value_get(move, TB_SLOT_n), 0) != (int)t->loops)
			fail(t, "there are not so many loops on the hook");
		break;
	case TB_SYMBOL_none: /* another yarn is taken up */
		break;
	default:
		fail(t, "how a stitch is made of this move is not known");
		break;
	}
}

static bool has_these_moves(const tb_stitch *stitch, const GArray *moves)
{
	if (stitch->moves == NULL || stitch->moves->count != moves->len || stitch->post != TB_POST_NONE ||
		stitch->family == TB_FAMILY_FOUNDATION || stitch->family == TB_FAMILY_OWN)
		return false;
	for (guint i = 0; i < moves->len; i++) {
		const tb_move *own = &stitch->moves->moves[i], *said = &g_array_index(moves, tb_move, i);
		if (own->kind != said->kind || own->through != said->through)
			return false;
	}
	return true;
}

/* The linked stitch of these moves; a linked hdc is of the library itself. */
static const tb_stitch *find_linked(const telling *t)
{
	static const char *const tall[] = {"dc", "tr", "dtr", "trtr"};
	tb_library *library = t->b->pattern->library;
	for (size_t i = 0; i < G_N_ELEMENTS(tall); i++) {
		const tb_stitch *base = tb_library_find(library, tall[i]);
		const tb_stitch *linked = base == NULL ? NULL : tb_library_variant(library, base, TB_VARIANT_LINKED);
		if (linked != NULL && has_these_moves(linked, t->moves))
			return linked;
	}
	return NULL;
}

static const tb_stitch *find_stitch(const telling *t)
{
	tb_library *library = t->b->pattern->library;
	if (t->linked && find_linked(t) != NULL)
		return t->post == TB_POST_NONE ? find_linked(t) : NULL;
	for (unsigned i = 0; i < library->built_in; i++) {
		const tb_stitch *stitch = tb_library_get(library, i);
		if (has_these_moves(stitch, t->moves))
			return t->post == TB_POST_NONE ? stitch : tb_library_post(library, stitch, t->post);
	}
	return NULL;
}

void tb_build_told(tb_builder *b, const tb_value *value, GArray *acts)
{
	g_autoptr(GArray) moves = g_array_new(FALSE, FALSE, sizeof(tb_move));
	telling t = {.b = b, .moves = moves, .loops = 1};
	tell_list(&t, tb_value_get(value, TB_SLOT_moves));
	if (t.fault == NULL && !t.whole)
		fail(&t, "these moves do not end a stitch");
	if (t.chains > 1 || (t.skip != NULL && !t.linked))
		fail(&t, "where these moves are made is not said");
	tb_act act = tb_build_act_of(b, value, TB_ACT_WORK);
	act.stitch = t.fault == NULL ? find_stitch(&t) : NULL;
	const tb_value *named = tb_value_get(value, TB_SLOT_names);
	const tb_stitch *name = named != NULL ? tb_build_stitch(b, named, NULL) : NULL;
	/* worked a row deeper, "(spike made)" */
	if (act.stitch != NULL && name != NULL && name == tb_library_variant(b->pattern->library, act.stitch, TB_VARIANT_SPIKE))
		act.stitch = name;
	/* "(beg cl made)": the chain before it is its first leg */
	if (act.stitch != NULL && tb_build_has(named, TB_SLOT_standing) && act.stitch->legs > 1)
		name = act.stitch;
	if (t.fault == NULL && (act.stitch == NULL || (named != NULL && name != act.stitch)))
		fail(&t, named != NULL ? "these moves do not make the stitch that is named" :
			"no stitch is known that these moves make");
	if (t.fault != NULL) {
		tb_build_tell_cannot(b, value, acts, "not-worked", t.fault, "Name the stitch, as in “sc in next st”.");
		return;
	}
	if (t.skip != NULL)
		tb_build_skip(b, t.skip, acts);
	act.each = (tb_number){1, tb_number_one, act.span};
	act.place.loops = t.in_loops;
	tb_build_place(b, t.where, &act.place);
	if (t.nth > 0)
		act.place = (tb_place){.in = TB_IN_NTH_CHAIN, .target = TB_TARGET_CHAIN, .rows_below = 1, .span = act.span,
			.count = tb_number_make(b->arena, t.nth, act.span)};
	act.bare = t.where == NULL && t.nth == 0;
	act.place.around = t.post != TB_POST_NONE;
	if (act.place.in == TB_IN_SAME && act.stitch->takes > 1) {
		/* "in same st as last loop, …, in next st": the first leg alone goes there */
		tb_place next = act.place;
		next.in = TB_IN_NEXT;
		next.target = TB_TARGET_STITCH;
		tb_build_share(&next, &act);
	}
	g_array_append_val(acts, act);
}

/* Whether RUN is the 2nd chain from the hook and those behind it, as many as STITCH has bars. */
static bool are_bars(const tb_stitch *stitch, const tb_value *run)
{
	unsigned bars = 0, nth = 1;
	for (guint i = 0; i < stitch->moves->count; i++)
		bars += stitch->moves->moves[i].kind == TB_MOVE_INSERT_BAR;
	for (const tb_value *at = run; at != NULL; at = tb_value_get(at, TB_SLOT_to)) {
		const tb_value *n = tb_value_get(at, TB_SLOT_n);
		if (tb_build_figure(n != NULL ? n : at, 0) != ++nth)
			return false;
	}
	return bars > 0 && bars == nth - 1;
}

void tb_build_linked(tb_builder *b, const tb_value *value, GArray *acts)
{
	guint before = acts->len;
	tb_build_work(b, value, acts);
	const tb_act *act = acts->len == before + 1 ? &g_array_index(acts, tb_act, before) : NULL;
	const tb_stitch *stitch = act != NULL && act->kind == TB_ACT_WORK ? act->stitch : NULL;
	if (stitch == NULL || stitch->moves == NULL || b->first_row || !are_bars(stitch, tb_value_get(value, TB_SLOT_n)))
		tb_build_add_cannot(b, value, acts, "a linked stitch has not so many bars");
}
