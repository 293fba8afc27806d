/* Chains: how many, and what those that begin a row count as. */
#include "notation/build.h"

#include "stitches/stitch.h"

tb_counts tb_build_counts_said(const tb_builder *b, const tb_number *chains, int less)
{
	int count = chains->count == 1 ? chains->values[0] - less : 0;
	return count > 0 && count < (int)G_N_ELEMENTS(b->counts_said) ? b->counts_said[count] : TB_COUNTS_UNSAID;
}

/* As many chains as were skipped and stand for nothing stand for nothing where later rows turn with them. */
static void say_of_later(tb_builder *b, const tb_number *nth)
{
	int chains = nth->count == 1 ? nth->values[0] - 1 : 0;
	if (chains > 0 && chains < (int)G_N_ELEMENTS(b->counts_said) && b->counts_said[chains] == TB_COUNTS_UNSAID)
		b->counts_said[chains] = TB_COUNTS_NOT;
}

/* "Counts as 2 dc": a chain is one stitch, or none. */
static bool is_several(const tb_value *counting)
{
	const tb_value *as = counting != NULL && counting->type == TB_VALUE_NODE ? tb_value_get(counting, TB_SLOT_as) : NULL;
	return as != NULL && as->type == TB_VALUE_NODE && tb_build_one_number(tb_value_get(as, TB_SLOT_times), 1) != 1;
}

static void build_counting(tb_builder *b, const tb_value *counting, tb_act *act, int *extra)
{
	*extra = 0;
	if (counting == NULL) {
		/* only where it begins a row does a chain count or not: the fabric asks no more of others */
		act->counts_here = tb_build_counts_said(b, &act->count, 0);
		return;
	}
	if (tb_value_is_symbol(counting, TB_SYMBOL_counts)) {
		act->counts = TB_COUNTS;
		return;
	}
	const tb_value *as = tb_value_get(counting, TB_SLOT_as);
	const tb_stitch *stitch = tb_value_is(as, TB_KIND_stitch) ? tb_build_stitch(b, as, NULL) : NULL;
	/* "ch 3, dc2tog (counts as first cluster)": both together do, as where nothing is said */
	if (tb_value_is(as, TB_KIND_stitch) && stitch == NULL)
		return;
	act->counts = tb_value_is_symbol(tb_value_get(counting, TB_SLOT_v), TB_SYMBOL_not) ?
		TB_COUNTS_NOT : TB_COUNTS;
	/* said once, it holds for the same chain in later rows */
	if (act->count.count == 1 && act->count.values[0] > 0 &&
		act->count.values[0] < (int)G_N_ELEMENTS(b->counts_said))
		b->counts_said[act->count.values[0]] = act->counts;
	if (as == NULL || act->counts == TB_COUNTS_NOT)
		return;
	if (stitch != NULL)
		act->stitch = stitch;
	const tb_value *plus = tb_value_get(as, TB_SLOT_plus);
	*extra = tb_build_one_number(tb_value_get(plus, TB_SLOT_n), 0);
	/* "ch 4 (for dc and a space)": the space is what is left of the chains */
	if (tb_build_has(plus, TB_SLOT_over))
		*extra = stitch == NULL ? act->count.values[0] : MAX(act->count.values[0] - (int)tb_stitch_chains(stitch), 0);
	if (tb_build_has(plus, TB_SLOT_over) && *extra == 0)
		*extra = act->count.values[0];
}

/* "Ch 30, plus 1 for turning": so many more, in each size. */
static void add_chains(tb_builder *b, tb_number *count, int more)
{
	int *values = tb_arena_take(b->arena, count->count * sizeof(int));
	for (unsigned i = 0; i < count->count; i++)
		values[i] = count->values[i] < 0 ? count->values[i] : count->values[i] + more;
	count->values = values;
}

void tb_build_multiple(tb_builder *b, const tb_value *multiple, tb_act *act)
{
	bool said = tb_value_is(multiple, TB_KIND_mult);
	int of = said ? tb_build_one_number(tb_value_get(multiple, TB_SLOT_n), 1) : 1;
	int over = said ? tb_build_one_number(tb_value_get(multiple, TB_SLOT_plus), 0) : 0;
	act->each = tb_number_make(b->arena, MAX(of, 1), act->span);
	act->count = tb_number_make(b->arena, MAX(over, 0), act->span);
}

/* "Ch 31 (multiple of 5 + 1)": whether it is. */
static bool is_multiple(const tb_number *count, const tb_value *multiple)
{
	int of = MAX(tb_build_one_number(tb_value_get(multiple, TB_SLOT_n), 1), 1);
	int over = tb_build_one_number(tb_value_get(multiple, TB_SLOT_plus), 0) +
		tb_build_one_number(tb_value_get(multiple, TB_SLOT_more), 0);
	for (unsigned i = 0; i < count->count; i++) {
		if (count->values[i] >= 0 && (count->values[i] - over) % of != 0)
			return false;
	}
	return true;
}

/* "Ch 2 (the ch 3 counts as dc)": what is told names more chains than were made. */
static bool is_of_longer(const tb_number *made, const tb_value *counting)
{
	const tb_value *n = counting != NULL && counting->type == TB_VALUE_NODE ? tb_value_get(counting, TB_SLOT_n) : NULL;
	int named = n != NULL && n->type == TB_VALUE_NODE ? tb_build_one_number(tb_value_get(n, TB_SLOT_n), 0) : 0;
	return made->count == 1 && named > made->values[0];
}

/* "Ch 3 (counts as dc in last sl st)", "ch 3 (counts as dc in first st)": on what it is said to stand. */
static tb_stands find_stands(const tb_value *counts)
{
	const tb_value *there = counts != NULL && counts->type == TB_VALUE_NODE ? tb_value_get(counts, TB_SLOT_there) : NULL;
	return there == NULL ? TB_STANDS_UNSAID : tb_value_is(there, TB_KIND_onslip) ? TB_STANDS_ON_SLIP : TB_STANDS_ON_FIRST;
}

int tb_build_loop_chains(const tb_value *value)
{
	const tb_value *loop = tb_value_get(value, TB_SLOT_loop);
	return loop != NULL && loop->type == TB_VALUE_NODE ? tb_build_one_number(tb_value_get(loop, TB_SLOT_n), 0) : 0;
}

/* The chains that stand for a stitch beside a loop, "ch 7 (counts as first ch-4 loop)": a treble's at the most. */
#define MOST_BESIDE_LOOP 4

static void make_chain(tb_builder *b, const tb_value *value, GArray *acts)
{
	tb_act act = tb_build_act_of(b, value, TB_ACT_CHAIN);
	act.bare = g_ascii_isdigit(b->lattice->text->chars[b->lattice->start[value->from]]);
	int extra;
	act.unsaid = tb_build_has(value, TB_SLOT_open);
	if (act.unsaid) {
		tb_build_multiple(b, tb_value_get(value, TB_SLOT_open), &act);
		g_array_append_val(acts, act);
		return;
	}
	act.count = tb_build_number(b, tb_value_get(value, TB_SLOT_n), 1);
	if (tb_build_has(value, TB_SLOT_plus))
		add_chains(b, &act.count, tb_build_one_number(tb_value_get(value, TB_SLOT_plus), 0));
	act.hyphen = tb_build_has(value, TB_SLOT_hyphen);
	b->chains = act.count;
	if (tb_number_is(&act.count, 0)) {
		tb_build_add_cannot(b, value, acts, "how many chains is not said");
		return;
	}
	int loop = tb_build_loop_chains(value), least = act.count.values[0], most = least;
	for (unsigned i = 1; i < act.count.count; i++) {
		least = MIN(least, act.count.values[i]);
		most = MAX(most, act.count.values[i]);
	}
	if (loop > 0 && (loop > least || loop + MOST_BESIDE_LOOP < most)) {
		tb_build_tell_cannot(b, value, acts, "counts-unclear", "the loop that this is said to be has another number of chains",
			"As in “ch 5 (counts as ch-4 loop)”: one of the 5 is the sc before it.");
		return;
	}
	if (is_several(tb_value_get(value, TB_SLOT_counts))) {
		tb_build_tell_cannot(b, value, acts, "counts-unclear", "a chain counts as one stitch, not as several",
			"As in “ch 3 (counts as dc)”, or “ch 5 (counts as dc, ch 2)”.");
		return;
	}
	act.stands = find_stands(tb_value_get(value, TB_SLOT_counts));
	if (is_of_longer(&act.count, tb_value_get(value, TB_SLOT_counts))) {
		tb_build_tell_cannot(b, value, acts, "counts-unclear", "what is said here is of a longer chain",
			"Say it right behind the chain, as in “ch 3 (counts as dc)”.");
		return;
	}
	build_counting(b, tb_value_get(value, TB_SLOT_counts), &act, &extra);
	if (tb_build_has(tb_value_get(tb_value_get(value, TB_SLOT_counts), TB_SLOT_as), TB_SLOT_left)) {
		tb_build_tell_cannot(b, value, acts, "counts-unclear", "these chains are made, and none of them is skipped",
			"As in “ch 5 (counts as dc, ch 2)”: 3 of the 5 are the dc.");
		return;
	}
	if (extra > 0 && act.count.count == 1 && act.count.values[0] <= extra) {
		tb_build_tell_cannot(b, value, acts, "counts-unclear", "fewer chains are made than are counted here",
			"As in “ch 5 (counts as dc, ch 2)”: 3 of the 5 are the dc.");
		return;
	}
	if (extra > 0 && act.count.count == 1 && act.count.values[0] > extra) {
		/* "ch 5 (counts as dc, ch 2)": the turning chain, and a space after it */
		act.count = tb_number_make(b->arena, act.count.values[0] - extra, act.count.span);
		g_array_append_val(acts, act);
		tb_act space = tb_build_act_of(b, value, TB_ACT_CHAIN);
		space.count = tb_number_make(b->arena, extra, act.count.span);
		b->chains = space.count;
		g_array_append_val(acts, space);
		return;
	}
	g_array_append_val(acts, act);
	/* "ch 1, turn at the end of every row": of this one too */
	if (tb_build_has(value, TB_SLOT_always) && tb_number_is(&act.count, 1))
		tb_build_add_kind(b, value, acts, TB_ACT_TURN);
}

void tb_build_chain(tb_builder *b, const tb_value *value, GArray *acts)
{
	const tb_value *multiple = tb_value_get(value, TB_SLOT_mult);
	tb_number count = tb_build_number(b, tb_value_get(value, TB_SLOT_n), 1);
	make_chain(b, value, acts);
	if (multiple != NULL && !is_multiple(&count, multiple)) {
		tb_doubt doubt = {tb_build_span(b, multiple->from, multiple->to), multiple->from, multiple->to, "chain-multiple",
			"the chains beside it are no such multiple", "Change how many are made, or what they are to be a multiple of."};
		g_array_append_val(b->doubts, doubt);
	}
}

/*
 * "Ch 2, dc in next st (dec made)": the chain stands for the first leg, and the first two stitches of
 * the row below come to be one.
 */
void tb_build_chain_decrease(tb_builder *b, const tb_value *value, GArray *acts)
{
	const tb_value *made = tb_value_get(value, TB_SLOT_tog);
	const tb_stitch *together = tb_build_stitch(b, made, NULL);
	tb_act chain = tb_build_act_of(b, value, TB_ACT_CHAIN), skip = tb_build_act_of(b, value, TB_ACT_SKIP);
	tb_act work = tb_build_act_of(b, value, TB_ACT_WORK);
	work.stitch = tb_build_stitch(b, tb_value_get(value, TB_SLOT_stitch), NULL);
	if (work.stitch == NULL || together == NULL || together->takes != 2) {
		tb_build_add_cannot(b, made, acts, "this is no decrease of two stitches");
		return;
	}
	chain.count = tb_build_number(b, tb_value_get(value, TB_SLOT_n), 1);
	chain.counts = TB_COUNTS_NOT;
	work.each = (tb_number){1, tb_number_one, work.span};
	skip.place = (tb_place){.in = TB_IN_FIRST, .rows_below = 1, .count = work.each, .span = skip.span};
	work.place = skip.place;
	work.place.in = TB_IN_NEXT;
	g_array_append_val(acts, chain);
	if (tb_build_has(value, TB_SLOT_turn))
		tb_build_add_kind(b, value, acts, TB_ACT_TURN);
	g_array_append_val(acts, skip);
	g_array_append_val(acts, work);
}

/*
 * "Ch 3, 4 dc in same sp, drop loop from hook, insert hook in top of ch-3, draw loop through": the chain
 * is the first stitch of the popcorn, which counts with it as one.
 */
void tb_build_chain_popcorn(tb_builder *b, const tb_value *value, GArray *acts)
{
	tb_act chain = tb_build_act_of(b, value, TB_ACT_CHAIN), work = tb_build_act_of(b, value, TB_ACT_WORK);
	const tb_stitch *base = tb_build_stitch(b, tb_value_get(value, TB_SLOT_stitch), NULL);
	unsigned legs = tb_build_figure(tb_value_get(value, TB_SLOT_each), 0);
	if (base != NULL && legs > 0)
		work.stitch = tb_library_in_one(b->pattern->library, TB_FAMILY_FORM_POPCORN, base, legs + 1);
	tb_build_place(b, tb_value_get(value, TB_SLOT_place), &work.place);
	if (work.stitch == NULL || !tb_number_is(&work.place.count, 1)) {
		tb_build_add_cannot(b, value, acts, "there is no popcorn of these stitches");
		return;
	}
	chain.count = tb_build_number(b, tb_value_get(value, TB_SLOT_n), 1);
	chain.counts = TB_COUNTS_NOT;
	work.each = (tb_number){1, tb_number_one, work.span};
	g_array_append_val(acts, chain);
	g_array_append_val(acts, work);
}

/*
 * "5 skipped chs count as dc, ch 1 and 1 skipped ch": where all parts are told, how many chains they are
 * together; 0 where not all are.
 */
static int parts_of_skipped(const tb_value *as, const tb_stitch *stitch)
{
	const tb_value *left = tb_value_get(as, TB_SLOT_left), *plus = tb_value_get(as, TB_SLOT_plus);
	if (left == NULL || stitch == NULL)
		return 0;
	int space = plus != NULL ? tb_build_one_number(tb_value_get(plus, TB_SLOT_n), 1) : 0;
	return (int)tb_stitch_chains(stitch) + space + tb_build_one_number(tb_value_get(left, TB_SLOT_n), 1);
}

/* How many skipped chains ACT tells of; 0 where it does not say. */
static int chains_said(const tb_act *act)
{
	return act->count.count == 1 ? act->count.values[0] : 0;
}

/* "(3 skipped chs count as 1 dc)" */
void tb_build_skipped_count(tb_builder *b, const tb_value *value, GArray *acts)
{
	tb_act act = tb_build_act_of(b, value, TB_ACT_SKIPPED_COUNT);
	const tb_value *plus = tb_value_get(tb_value_get(value, TB_SLOT_as), TB_SLOT_plus);
	if (plus != NULL)
		act.each = tb_build_number(b, tb_value_get(plus, TB_SLOT_n), 1);
	act.counts = tb_value_is_symbol(tb_value_get(value, TB_SLOT_v), TB_SYMBOL_not) ?
		TB_COUNTS_NOT : TB_COUNTS;
	const tb_value *as = tb_value_get(value, TB_SLOT_as), *n = tb_value_get(value, TB_SLOT_n);
	if (as != NULL && tb_value_is(as, TB_KIND_stitch)) {
		act.stitch = tb_build_stitch(b, as, NULL);
		/* "ch 3, dc2tog (counts as first cluster)": the chain with it, and not the chain */
		if (act.stitch == NULL)
			return;
	}
	/* "the 3 skipped chs" are all that are skipped; "the first 3" may be some of them */
	bool all = n != NULL && n->type == TB_VALUE_NODE && tb_build_has(n, TB_SLOT_all);
	n = n != NULL && n->type == TB_VALUE_NODE ? tb_value_get(n, TB_SLOT_n) : n;
	act.count = n != NULL ? tb_build_number(b, n, 1) : (tb_number){0};
	/* said behind the row, it holds for the same chain in later rows all the same */
	int chains = act.count.count == 1 && act.counts == TB_COUNTS_NOT ? act.count.values[0] : 0;
	if (chains > 0 && chains < (int)G_N_ELEMENTS(b->counts_said))
		b->counts_said[chains] = TB_COUNTS_NOT;
	act.told = (unsigned)tb_build_one_number(tb_value_get(as, TB_SLOT_times), 1) + tb_build_has(as, TB_SLOT_too);
	/* "with the 3 skipped ch this makes 2 dc" */
	act.bare = tb_build_has(value, TB_SLOT_beside);
	if (act.bare && act.told < 2)
		return tb_build_add_cannot(b, value, acts, "these are not so many stitches");
	int parts = parts_of_skipped(as, act.stitch);
	if (parts == 0 && all)
		parts = tb_build_one_number(n, 0);
	/* "(the 3 chs are a dc, one ch is skipped)": those are all */
	const tb_value *others = tb_value_get(value, TB_SLOT_more);
	if (others != NULL && chains_said(&act) > 0)
		parts = chains_said(&act) + tb_build_one_number(others, 0);
	if (parts > 0)
		act.place.count = tb_number_make(b->arena, parts, act.span);
	g_array_append_val(acts, act);
}

/* Whether what is SAID names more chains than those of ACT. */
static bool names_more(const tb_act *act, const tb_act *said)
{
	return act->count.count == 1 && said->count.count == 1 && said->count.values[0] > act->count.values[0];
}

/*
 * What a chain counts as, told behind it: of the chain that stands before, of those skipped at the
 * beginning, or of the one that begins the row, "dc in first st (ch 2 does not count)". NULL for none.
 */
static tb_act *counted_chain(GArray *acts, const tb_act *said)
{
	tb_act *last = acts->len > 0 ? &g_array_index(acts, tb_act, acts->len - 1) : NULL;
	if (last != NULL && ((last->kind == TB_ACT_CHAIN && !names_more(last, said)) ||
		(last->kind == TB_ACT_WORK && last->place.in == TB_IN_NTH_CHAIN)))
		return last;
	for (guint i = 0; i < acts->len; i++) {
		tb_act *act = &g_array_index(acts, tb_act, i);
		if (act->kind == TB_ACT_CHAIN)
			return said->count.count != 1 || tb_number_is(&act->count, said->count.values[0]) ? act : NULL;
		if (act->kind == TB_ACT_WORK || act->kind == TB_ACT_GROUP)
			return act->place.in == TB_IN_NTH_CHAIN ? act : NULL;
		/* "Skip 3 ch (count as 1 dc)" */
		if (act->kind == TB_ACT_SKIP)
			return i == 0 ? act : NULL;
	}
	return NULL;
}

/* "Ch 5, turn (this is 1 dc and 2 ch)": the space is parted from CHAIN; false where there is no room for it. */
static bool part_space(GArray *acts, tb_arena *arena, tb_act *chain, const tb_act *said)
{
	if (chain->kind != TB_ACT_CHAIN || chain->count.count != 1 || said->each.count != 1 ||
		chain->count.values[0] <= said->each.values[0])
		return false;
	tb_act space = {.kind = TB_ACT_CHAIN, .span = chain->span, .count = said->each};
	chain->count = tb_number_make(arena, chain->count.values[0] - said->each.values[0], chain->count.span);
	g_array_insert_val(acts, (guint)(chain - &g_array_index(acts, tb_act, 0)) + 1, space);
	return true;
}

/* "V-st in 5th ch from hook (first 3 chs count as dc)": it is the group's first stitch that knows of them. */
static void say_of_group(tb_act *group, tb_arena *arena, const tb_act *said)
{
	tb_act *body = tb_arena_take(arena, group->body.count * sizeof(tb_act));
	bool told = false;
	for (unsigned i = 0; i < group->body.count; i++) {
		body[i] = group->body.acts[i];
		if (!told && body[i].kind == TB_ACT_WORK) {
			body[i].counts = said->counts;
			body[i].skipped_as = said->counts == TB_COUNTS ? said->stitch : NULL;
		}
		told = told || body[i].kind == TB_ACT_WORK;
	}
	group->body.acts = body;
}

/*
 * Whether what SAID tells of the skipped chains is so of those before ACT: how many they are, and that they make
 * up their parts. The chains of a space may be missed below it as well: "(5 skipped chs count as dc, ch 1)".
 */
static bool is_sum_of_parts(const tb_act *act, const tb_act *said)
{
	if (act->kind == TB_ACT_CHAIN || act->place.count.count != 1)
		return true;
	int skipped = act->place.count.values[0] - (act->kind != TB_ACT_SKIP), parts = 0;
	/* a group stands apart from the edge, and there may be more before it */
	if (said->place.count.count == 1)
		return skipped == said->place.count.values[0] ||
			(act->kind == TB_ACT_GROUP && said->each.count == 0 && said->place.count.values[0] < skipped);
	const tb_stitch *stitch = said->stitch != NULL ? said->stitch : act->stitch;
	/* "V-st in 5th ch from hook (first 3 skipped chs count as dc)": the others lie flat */
	int counted = said->count.count == 1 ? said->count.values[0] : skipped;
	if (counted > skipped || (counted < skipped && said->counts == TB_COUNTS && stitch != NULL && counted < (int)tb_stitch_chains(stitch)))
		return false;
	if (counted < skipped)
		return true;
	if (said->each.count != 1 || stitch == NULL)
		return true;
	parts = (int)tb_stitch_chains(stitch) + said->each.values[0];
	return skipped >= parts && skipped <= parts + said->each.values[0];
}

/*
 * Whether as many stitches are told as there are: "dc in 6th ch from hook (counts as dc, ch 1, dc)" and "2 dc in
 * 4th ch from hook (counts as 3 dc)" have the chain and those before them, which are of one kind.
 */
static bool is_sum_of_stitches(const tb_act *act, const tb_act *said)
{
	return said->told < 2 || ((said->count.count == 0 || said->bare) && act->kind == TB_ACT_WORK && act->stitch == said->stitch &&
		tb_number_is(&act->each, (int)said->told - 1));
}

void tb_build_say_count(GArray *acts, tb_arena *arena, const tb_act *said)
{
	tb_act *chain = counted_chain(acts, said);
	bool sums = chain == NULL || (is_sum_of_parts(chain, said) && is_sum_of_stitches(chain, said) &&
		(said->told < 2 || chain == &g_array_index(acts, tb_act, acts->len - 1)));
	/* of skipped chains, what is more than a stitch needs is the space beside it */
	bool whole = said->each.count == 0 || (chain != NULL && chain->kind != TB_ACT_CHAIN);
	if (chain != NULL && !whole && chain->counts == TB_COUNTS_UNSAID) {
		guint at = (guint)(chain - &g_array_index(acts, tb_act, 0));
		if (part_space(acts, arena, chain, said)) {
			chain = &g_array_index(acts, tb_act, at);
			whole = true;
		}
	}
	if (chain != NULL && whole && sums && (chain->counts == TB_COUNTS_UNSAID || chain->counts == said->counts)) {
		chain->counts = said->counts;
		if (chain->kind == TB_ACT_GROUP)
			say_of_group(chain, arena, said);
		if (chain->kind == TB_ACT_CHAIN && said->counts == TB_COUNTS && said->stitch != NULL)
			chain->stitch = said->stitch;
		else if (chain->kind == TB_ACT_WORK && said->counts == TB_COUNTS) {
			chain->skipped_as = said->stitch;
			chain->skipped_space = said->each.count == 1 ? (unsigned)said->each.values[0] : 0;
		}
		return;
	}
	tb_act cannot = *said;
	cannot.kind = TB_ACT_CANNOT;
	cannot.code = "counts-unclear";
	cannot.why = !sums && said->told > 1 ? "other stitches are worked than are counted here" :
		!sums ? "other chains are skipped than are counted here" :
		!whole ? "fewer chains are made than are counted here" :
		chain != NULL ? "the other was said of this chain" : "no such chain stands before this";
	cannot.hint = whole ? "Say it right behind the chain, as in “ch 3 (counts as dc)”." :
		"As in “ch 5 (counts as dc, ch 2)”: 3 of the 5 are the dc.";
	g_array_append_val(acts, cannot);
}

/* "Dc in 4th ch from hook (3 skipped chs count as dc) and in each ch": what NOTE says of the chains before WORK. */
bool tb_build_note(tb_builder *b, const tb_value *note, tb_act *work, GArray *acts)
{
	guint before = acts->len;
	tb_build_skipped_count(b, note, acts);
	if (acts->len == before || work->place.in != TB_IN_NTH_CHAIN)
		return true;
	tb_act said = g_array_index(acts, tb_act, before);
	g_array_set_size(acts, before);
	if (said.kind == TB_ACT_SKIPPED_COUNT) {
		g_autoptr(GArray) alone = g_array_new(FALSE, FALSE, sizeof(tb_act));
		g_array_append_val(alone, *work);
		tb_build_say_count(alone, b->arena, &said);
		*work = g_array_index(alone, tb_act, 0);
		if (alone->len == 1) {
			if (said.counts == TB_COUNTS_NOT)
				say_of_later(b, &work->place.count);
			return true;
		}
		said = g_array_index(alone, tb_act, 1);
	}
	g_array_append_val(acts, said);
	return false;
}

/* "Skip first 3 ch (these count as 1 dc), dc in next ch", where a row begins. */
bool tb_build_skip_note(tb_builder *b, const tb_value *value, tb_act *skip, GArray *acts)
{
	const tb_value *note = tb_value_get(value, TB_SLOT_note);
	const tb_value *v = note != NULL && note->type == TB_VALUE_NODE ? tb_value_get(note, TB_SLOT_v) : note;
	if (note == NULL)
		return true;
	if (value->from != b->begins || tb_build_has(tb_value_get(note, TB_SLOT_as), TB_SLOT_plus) || is_several(note)) {
		tb_build_tell_cannot(b, value, acts, "counts-unclear", "what these chains count as is not clear",
			"As in “dc in 4th ch from hook (3 skipped chs count as dc)”.");
		return false;
	}
	skip->counts = tb_value_is_symbol(v, TB_SYMBOL_not) ? TB_COUNTS_NOT : TB_COUNTS;
	return true;
}
