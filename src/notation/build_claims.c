/* Counts that the text states. */
#include "notation/build.h"

#include "stitches/stitch.h"

#include <string.h>

/* What the pattern's own words call words FROM to TO: "12 fans" are those, and no others. NULL: nothing. */
static const tb_own *own_at(const tb_builder *b, guint32 from, guint32 to)
{
	const tb_lattice *l = b->lattice;
	for (guint32 e = l->first_edge[from]; e < l->first_edge[from + 1]; e++) {
		if (l->edges[e].end == to && l->edges[e].value->type == TB_VALUE_OWN)
			return l->edges[e].value->own;
	}
	return NULL;
}

/* "Ten 5-dc shells", "6 4-tr groups": so many groups of so many. NOUN is the shell or the group. */
static void set_clumps(tb_builder *b, const tb_value *noun, tb_claim *claim)
{
	const tb_value *name = tb_value_get(noun, TB_SLOT_name);
	bool group = tb_value_is_symbol(tb_value_get(noun, TB_SLOT_k), TB_SYMBOL_group);
	const tb_value *n = group ? tb_value_get(noun, TB_SLOT_n) : tb_value_is(name, TB_KIND_stitch) ? tb_value_get(name, TB_SLOT_legs) : NULL;
	const tb_stitch *stitch = n == NULL ? NULL : tb_build_stitch(b, group ? name : tb_value_get(name, TB_SLOT_of), NULL);
	if (stitch == NULL)
		return;
	claim->clumps = claim->other = true;
	claim->parts = claim->count;
	claim->count = tb_build_number(b, n, 1);
	claim->stitch = stitch;
}

/* The words of NOUN without the "s" of several, small. Owned. */
static char *kind_of(const tb_builder *b, const tb_value *noun)
{
	const tb_lattice *l = b->lattice;
	guint32 from = l->start[noun->from];
	char *words = tb_text_lower(l->text->chars + from, (gssize)(l->stop[noun->to - 1] - from));
	size_t length = strlen(words);
	if (length > 1 && words[length - 1] == 's')
		words[length - 1] = '\0';
	return words;
}

/* "6 clusters", "9 dc groups", and no shells, fans or petals, which have a shape. */
static bool is_bunch(const tb_builder *b, const tb_value *noun)
{
	g_autofree char *words = kind_of(b, noun);
	return g_str_has_suffix(words, "cluster") || g_str_has_suffix(words, "group");
}

static void add_claim(tb_builder *b, const tb_value *part, GArray *claims, GPtrArray *nouns);

/* "7 groups of 4 dc WITH A CH-4 SP BETWEEN EACH": a claim beside the last one, of what stands between its groups. */
static void add_gap(tb_builder *b, const tb_value *gap, GArray *claims, GPtrArray *nouns)
{
	tb_claim groups = g_array_index(claims, tb_claim, claims->len - 1);
	add_claim(b, gap, claims, nouns);
	tb_claim *claim = &g_array_index(claims, tb_claim, claims->len - 1);
	claim->between = claim->other = true;
	claim->clumps = false;
	claim->parts = groups.parts.count > 0 ? groups.parts : groups.count;
}

static void add_claim(tb_builder *b, const tb_value *part, GArray *claims, GPtrArray *nouns)
{
	if (part->type == TB_VALUE_LIST) {
		const tb_value *const *items = tb_value_items(part, b->scratch);
		for (guint32 i = 0; i < part->count; i++)
			add_claim(b, items[i], claims, nouns);
		return;
	}
	const tb_value *noun = tb_value_get(part, TB_SLOT_noun);
	tb_claim claim = {.span = tb_build_span(b, part->from, part->to)};
	claim.count = tb_build_number(b, tb_value_get(part, TB_SLOT_n), 0);
	claim.other = tb_build_has(part, TB_SLOT_other);
	claim.sides = tb_build_has(part, TB_SLOT_sides);
	claim.in_corner = claim.sides && tb_build_has(part, TB_SLOT_center);
	claim.share = tb_build_figure(tb_value_get(part, TB_SLOT_share), 0);
	claim.corners = tb_build_has(part, TB_SLOT_corners);
	claim.space_chains = tb_build_figure(tb_value_get(part, TB_SLOT_chains), 0);
	claim.pairs = tb_build_has(part, TB_SLOT_pairs);
	claim.row = tb_build_figure(tb_value_get(part, TB_SLOT_row), 0);
	claim.clumps = tb_build_has(part, TB_SLOT_clumps);
	claim.passes = tb_build_has(part, TB_SLOT_passes);
	claim.stars = tb_build_has(part, TB_SLOT_closed);
	claim.beads = tb_build_has(part, TB_SLOT_beads);
	claim.half = tb_build_has(part, TB_SLOT_half);
	claim.full = tb_build_has(part, TB_SLOT_full);
	claim.groups = claim.half || claim.full;
	const tb_value *change = tb_value_get(tb_value_get(part, TB_SLOT_change), TB_SLOT_v);
	if (change != NULL) {
		claim.compared = claim.other = true;
		claim.per_side = tb_build_figure(tb_value_get(part, TB_SLOT_per), 0);
		claim.change = (int)tb_build_figure(tb_value_get(part, TB_SLOT_n), claim.per_side > 0 ? 0 : 1);
		claim.change = tb_value_is_symbol(change, TB_SYMBOL_dec) ? -claim.change : claim.change;
		claim.at_ends = tb_build_has(part, TB_SLOT_twice);
		claim.of_squares = tb_build_has(part, TB_SLOT_squares);
		claim.of_each = tb_build_has(part, TB_SLOT_each);
		claim.than = tb_build_has(part, TB_SLOT_than);
	}
	bool upon = tb_build_has(part, TB_SLOT_upon);
	claim.stitch = upon && noun != NULL ? tb_build_stitch(b, noun, NULL) : NULL;
	claim.upon = upon ? tb_build_stitch(b, tb_value_get(part, TB_SLOT_upon), NULL) : NULL;
	const tb_value *relief = tb_value_get(part, TB_SLOT_relief);
	if (relief != NULL) {
		claim.stitch = tb_build_stitch(b, noun, NULL);
		claim.relief = tb_value_is_symbol(relief, TB_SYMBOL_front) ? TB_POST_FRONT : TB_POST_BACK;
	}
	claim.joins = tb_build_has(part, TB_SLOT_joins);
	claim.flanks = tb_build_has(part, TB_SLOT_flanks);
	claim.gore = tb_build_has(part, TB_SLOT_gore);
	claim.ridges = tb_build_has(part, TB_SLOT_ridges);
	claim.other = claim.other || claim.upon != NULL || relief != NULL || claim.share > 0;
	if (tb_build_has(part, TB_SLOT_parts))
		claim.parts = tb_build_number(b, tb_value_get(part, TB_SLOT_parts), 1);
	const tb_value *colour = tb_value_get(part, TB_SLOT_c);
	if (colour != NULL) {
		tb_span words = {b->lattice->start[colour->from], b->lattice->stop[colour->to - 1]};
		claim.colour = tb_colour_name(b->arena, b->lattice->text->chars + words.start, words.end - words.start);
		claim.other = true;
	}
	if (tb_value_is(noun, TB_KIND_noun)) {
		tb_place place = {0};
		tb_build_noun(b, noun, &place);
		claim.stitch = place.target == TB_TARGET_NAMED ? place.named :
			place.target == TB_TARGET_CHAIN ? b->chain : NULL;
		claim.spaces = place.target == TB_TARGET_SPACE;
		claim.space_chains = place.space_chains;
		/* "30 each sleeve, 4 corner sts": those between the parts */
		bool of_parts = claims->len > 0 && g_array_index(claims, tb_claim, claims->len - 1).share > 0;
		if (of_parts && tb_build_has(noun, TB_SLOT_corner) && tb_value_is_symbol(tb_value_get(noun, TB_SLOT_k), TB_SYMBOL_st)) {
			claim.spaces = false;
			claim.share = 1;
			claim.other = true;
		}
		/* "1 ch-6 (7, 8) sp" */
		tb_number lengths = tb_build_number(b, tb_value_get(noun, TB_SLOT_chains), 0);
		if (place.space_chains > 0 && lengths.count > 1)
			claim.space_lengths = lengths;
		claim.own = place.own != NULL || place.target != TB_TARGET_GROUP ? place.own :
			own_at(b, noun->from, noun->to);
		claim.groups = !claim.other && place.target == TB_TARGET_GROUP && claim.own == NULL;
		claim.bunches = claim.groups && is_bunch(b, noun);
		claim.other = claim.other || claim.groups;
		if (claim.groups)
			set_clumps(b, noun, &claim);
	} else if (noun != NULL) {
		claim.other = true;
	}
	for (guint32 word = part->from; claim.other && word < part->to; word++)
		claim.blocks = claim.blocks || tb_lattice_edge(b->lattice, word, TB_TERM_block) != NULL;
	g_array_append_val(claims, claim);
	g_ptr_array_add(nouns, (gpointer)noun);
	if (tb_build_has(part, TB_SLOT_gap))
		add_gap(b, tb_value_get(part, TB_SLOT_gap), claims, nouns);
}

/* Whether claims I and K are of one kind, of one row, and no more than counts; something else stands before K. */
static bool comes_again(const GArray *claims, const GPtrArray *kinds, guint i, guint k)
{
	const tb_claim *first = &g_array_index(claims, tb_claim, i), *again = &g_array_index(claims, tb_claim, k);
	const char *kind = kinds->pdata[i], *other = kinds->pdata[k], *between = kinds->pdata[k - 1];
	return kind != NULL && other != NULL && between != NULL && strcmp(kind, other) == 0 && strcmp(kind, between) != 0 &&
		first->count.count == 1 && again->count.count == 1 && again->colour == NULL && !again->compared && !again->sides && !again->corners &&
		again->row == first->row && again->upon == NULL && !again->clumps;
}

/* "[1 block, 5 spaces, 1 block]" tells the row as it comes: of a kind that comes again, both are one count. */
static void join_runs(const tb_builder *b, GArray *claims, const GPtrArray *nouns)
{
	g_autoptr(GPtrArray) kinds = g_ptr_array_new_with_free_func(g_free);
	for (guint i = 0; i < nouns->len; i++)
		g_ptr_array_add(kinds, nouns->pdata[i] != NULL ? kind_of(b, nouns->pdata[i]) : NULL);
	for (guint k = claims->len; k-- > 2;) {
		for (guint i = k - 1; i-- > 0;) {
			if (!comes_again(claims, kinds, i, k))
				continue;
			tb_claim *first = &g_array_index(claims, tb_claim, i);
			int more = g_array_index(claims, tb_claim, k).count.values[0];
			first->count = tb_number_make(b->arena, first->count.values[0] + more, first->count.span);
			g_array_remove_index(claims, k);
			break;
		}
	}
}

void tb_build_claims(tb_builder *b, const tb_value *value, GArray *claims)
{
	const tb_value *parts = tb_value_get(value, TB_SLOT_parts);
	const tb_value *more = tb_value_get(value, TB_SLOT_more);
	g_autoptr(GPtrArray) nouns = g_ptr_array_new();
	g_ptr_array_set_size(nouns, (gint)claims->len);
	if (parts != NULL)
		add_claim(b, parts, claims, nouns);
	if (more != NULL)
		add_claim(b, more, claims, nouns);
	join_runs(b, claims, nouns);
	for (guint i = 0; tb_build_has(value, TB_SLOT_each) && i < claims->len; i++) {
		tb_claim *claim = &g_array_index(claims, tb_claim, i);
		claim->of_groups = claim->other = true;
	}
	for (guint i = 0; tb_build_has(value, TB_SLOT_wrong) && i < claims->len; i++) {
		tb_claim *claim = &g_array_index(claims, tb_claim, i);
		claim->wrong = claim->other = true;
	}
}

/* Whether a sign parts word AT from the words before it. */
static bool is_parted(const tb_builder *b, guint32 at)
{
	const tb_lattice *l = b->lattice;
	return at == 0 || !g_ascii_isalnum(l->text->chars[l->stop[at - 1] - 1]);
}

/*
 * "(19, 23, 27 sc)" in three sizes: figures for the sizes, and not so many counts of one row. They
 * become one count; others may stand behind it, "(19, 23, 27 sc, 2 ch)". OF: the sizes they are for.
 */
static void join_sizes(const tb_builder *b, tb_size_set of, GArray *claims)
{
	unsigned sizes = tb_pattern_count_sizes(b->pattern), many = 0;
	for (unsigned size = 0; size < sizes; size++)
		many += of >> size & 1;
	if (many < 2 || claims->len < many)
		return;
	int *figures = tb_arena_take(b->arena, sizes * sizeof(int));
	for (guint i = 0, size = 0; size < sizes; size++) {
		figures[size] = TB_NOT_IN_SIZE;
		if ((of >> size & 1) == 0)
			continue;
		const tb_claim *claim = &g_array_index(claims, tb_claim, i++);
		bool named = claim->stitch != NULL || claim->spaces || claim->own != NULL || claim->other;
		if ((named && i < many) || claim->count.count != 1)
			return;
		figures[size] = claim->count.values[0];
	}
	tb_claim joined = g_array_index(claims, tb_claim, many - 1);
	tb_span from = g_array_index(claims, tb_claim, 0).span;
	joined.span.start = from.start;
	joined.count = (tb_number){sizes, figures, joined.span};
	g_array_remove_range(claims, 0, many);
	g_array_prepend_val(claims, joined);
}

/*
 * "(18 sc, 6 ch-3 sps at the end of Row 4)": what is said of the row behind the last is said of all before it;
 * ROW of all.
 */
static void set_row(GArray *claims, unsigned row, const tb_number *row_in)
{
	for (guint i = claims->len; i-- > 0;) {
		tb_claim *claim = &g_array_index(claims, tb_claim, i);
		row = claim->row > 0 ? claim->row : row;
		claim->row = row;
		claim->row_in = *row_in;
	}
}

/* "(2dc, 1ch, 2dc) in corner" is worked there, and counts nothing. */
static bool goes_somewhere(const tb_builder *b, const tb_value *value)
{
	const tb_lattice *l = b->lattice;
	if (value->to >= l->count || tb_build_has(value, TB_SLOT_bare))
		return false;
	for (guint32 e = l->first_edge[value->to]; e < l->first_edge[value->to + 1]; e++) {
		if (l->edges[e].term == TB_TERM_in)
			return true;
	}
	return false;
}

/* "(12) Sl st, fasten off": the bracket counts the row, and the slip stitch behind it is worked. */
static bool is_slip_behind(const tb_builder *b, const tb_value *value, const GArray *claims)
{
	const tb_lattice *l = b->lattice;
	char first = l->text->chars[l->start[value->from]], last = l->text->chars[l->stop[value->to - 1] - 1];
	return claims->len == 1 && g_array_index(claims, tb_claim, 0).stitch == b->slip && tb_is_among(first, "([{") &&
		!tb_is_among(last, ")]}");
}

/* "(15, counting the chs)": those of the whole row. */
static bool says_chains(const tb_builder *b, const tb_value *tail)
{
	for (guint32 word = tail->from; word < tail->to; word++) {
		if (tb_build_is_word(b, word, "chs") || tb_build_is_word(b, word, "chains"))
			return tb_value_get(tail, TB_SLOT_as) == NULL;
	}
	return false;
}

static bool is_word_among(const tb_builder *b, guint32 i, const char *const *words)
{
	const char *word = b->lattice->text->chars + b->lattice->start[i];
	size_t length = b->lattice->stop[i] - b->lattice->start[i];
	for (; *words != NULL; words++) {
		if (strlen(*words) == length && g_ascii_strncasecmp(word, *words, length) == 0)
			return true;
	}
	return false;
}

/* "(1 st increased at each armhole edge)": TAIL, behind how many more or fewer, says that it is so at two places. */
static void double_ends(tb_builder *b, const tb_value *tail, GArray *claims)
{
	static const char *const both[] = {"each", "both", "either", NULL};
	static const char *const ends[] = {"end", "ends", "edge", "edges", "side", "sides", NULL};
	bool doubled = false;
	for (guint32 i = tail != NULL ? tail->from : 0; tail != NULL && i < tail->to && is_word_among(b, tail->to - 1, ends); i++)
		doubled = doubled || is_word_among(b, i, both);
	for (guint i = 0; doubled && i < claims->len; i++) {
		tb_claim *claim = &g_array_index(claims, tb_claim, i);
		claim->at_ends = claim->at_ends || (claim->compared && !claim->than);
	}
}

/* "(23 dc, counting the ch-3 as 1 dc)": what TAIL says of the chain the row begins with, it says of all CLAIMS; or "same as Row 3". */
static void set_chain(tb_builder *b, const tb_value *tail, GArray *claims)
{
	const tb_value *as = tb_value_get(tail, TB_SLOT_as), *n = tb_value_get(tail, TB_SLOT_n);
	bool with = tb_value_is(tail, TB_KIND_chin), figure = n != NULL && n->type == TB_VALUE_NUMBER;
	bool named = tb_value_is(as, TB_KIND_noun) && tb_value_is_symbol(tb_value_get(as, TB_SLOT_k), TB_SYMBOL_named);
	if (tb_value_is(tail, TB_KIND_sameas) && claims->len > 0)
		g_array_index(claims, tb_claim, 0).same_as = tb_build_has(tail, TB_SLOT_v) ? TB_SAME_AS_LAST : tb_build_figure(n, 0);
	for (guint i = 0; (with || tb_value_is(tail, TB_KIND_chout)) && i < claims->len; i++) {
		tb_claim *claim = &g_array_index(claims, tb_claim, i);
		claim->with_chain = with;
		claim->without_chain = !with;
		claim->any_chain = figure || tb_value_is_symbol(n, TB_SYMBOL_any) || (with && says_chains(b, tail));
		claim->chain_of = figure ? tb_build_figure(n, 0) : 0;
		claim->chain_as = named ? tb_build_stitch(b, tb_value_get(as, TB_SLOT_name), NULL) : NULL;
	}
}

void tb_claim_say_chain(const tb_act *said, tb_claim *claims, guint count)
{
	int many = said->count.count == 1 ? said->count.values[0] : 0;
	for (guint i = 0; i < count; i++) {
		claims[i].with_chain = true;
		claims[i].chain_of = (unsigned)MAX(many, 0);
		claims[i].chain_as = said->stitch;
	}
}

/* "(12 sc in B)" read as so many sc, whatever "in B" is: the colour is a part of the count. */
static bool leaves_colour(const tb_builder *b, const tb_value *value, const GArray *claims)
{
	for (guint i = 0; i < claims->len; i++) {
		if (g_array_index(claims, tb_claim, i).colour != NULL)
			return false;
	}
	for (guint32 word = value->from; word + 1 < value->to; word++) {
		bool in = tb_build_is_word(b, word, "in") || tb_build_is_word(b, word, "with") || tb_build_is_word(b, word, "of");
		if (in && tb_lattice_edge(b->lattice, word + 1, TB_TERM_CLASS_letter) != NULL && b->lattice->text->chars[b->lattice->start[word + 1]] != 'a')
			return true;
	}
	return false;
}

void tb_build_claim(tb_builder *b, const tb_value *value, GArray *acts)
{
	g_autoptr(GArray) claims = g_array_new(FALSE, FALSE, sizeof(tb_claim));
	tb_act act = tb_build_act_of(b, value, TB_ACT_CLAIM);
	if (tb_build_has(value, TB_SLOT_bare) && !is_parted(b, value->from)) {
		/* "dc in next 2 sts" is not "dc in next", and a count of 2 */
		tb_build_add_cannot(b, value, acts, "a count stands in the midst of what is worked");
		return;
	}
	if (goes_somewhere(b, value)) {
		tb_build_add_cannot(b, value, acts, "where these stitches go is not understood");
		return;
	}
	tb_build_claims(b, value, claims);
	if (leaves_colour(b, value, claims)) {
		tb_build_add_cannot(b, value, acts, "how many are made in this colour is not understood");
		return;
	}
	if (is_slip_behind(b, value, claims)) {
		tb_build_add_cannot(b, value, acts, "a count stands before what is worked");
		return;
	}
	const tb_value *row = tb_value_get(value, TB_SLOT_row);
	tb_number row_in = {0};
	if (row != NULL && row->type == TB_VALUE_NUMBER && row->count > 1)
		row_in = tb_build_number(b, row, 0);
	set_row(claims, row_in.count > 0 ? 0 : tb_build_figure(row, 0), &row_in);
	if (tb_build_has(value, TB_SLOT_rows)) {
		const tb_value *said = tb_value_get(value, TB_SLOT_rows), *first = tb_value_get(said, TB_SLOT_a);
		const tb_value *last = tb_value_get(said, TB_SLOT_b);
		tb_claim rows = {.span = act.span, .other = true, .rows = true, .rows_from = tb_build_figure(first, 0),
			.strict = tb_build_has(value, TB_SLOT_strict)};
		rows.count = tb_build_number(b, last != NULL ? last : first != NULL ? first : said, 0);
		g_array_append_val(claims, rows);
	}
	join_sizes(b, G_MAXUINT32, claims);
	if (b->only != 0)
		join_sizes(b, b->only, claims);
	set_chain(b, tb_value_get(value, TB_SLOT_tail), claims);
	double_ends(b, tb_value_get(value, TB_SLOT_tail), claims);
	tb_claim *copy = tb_arena_take(b->arena, (claims->len + 1) * sizeof(tb_claim));
	if (claims->len > 0)
		memcpy(copy, claims->data, claims->len * sizeof(tb_claim));
	act.claims = copy;
	act.claim_count = claims->len;
	if (claims->len > 0)
		copy[0].bare =
			g_ascii_isdigit(b->lattice->text->chars[b->lattice->start[value->from]]);
	for (guint i = 0; i < claims->len; i++) {
		copy[i].made = tb_build_has(value, TB_SLOT_made);
		copy[i].stopped = tb_lattice_stopped_figure(b->lattice, value->from) != G_MAXUINT32;
	}
	if (!tb_claim_is_of_act(&act) || !tb_claim_add_to_last(&act, acts))
		g_array_append_val(acts, act);
	/* "Fasten off after Rnd 10" */
	tb_act off = tb_build_act_of(b, value, TB_ACT_FASTEN_OFF);
	if (tb_build_has(value, TB_SLOT_off))
		g_array_append_val(acts, off);
}

void tb_claim_put_inside(tb_builder *b, GArray *acts)
{
	tb_act claim = g_array_index(acts, tb_act, acts->len - 1);
	tb_claim *copy = tb_arena_take(b->arena, (claim.claim_count + 1) * sizeof(tb_claim));
	for (unsigned i = 0; i < claim.claim_count; i++) {
		copy[i] = claim.claims[i];
		copy[i].made = copy[i].inside = true;
	}
	claim.claims = copy;
	g_array_set_size(acts, acts->len - 1);
	if (claim.claim_count > 0 && !tb_claim_add_to_last(&claim, acts))
		g_array_append_val(acts, claim);
}

bool tb_claim_is_of_chain(const tb_act *act)
{
	return act->kind == TB_ACT_CLAIM && act->claim_count == 1 && act->claims[0].with_chain && act->claims[0].count.count == 0;
}

bool tb_claim_is_of_act(const tb_act *act)
{
	return act->kind == TB_ACT_CLAIM && act->claim_count > 0 && act->claims[0].made;
}

bool tb_claim_add_to_last(const tb_act *claim, GArray *acts)
{
	tb_act *last = acts->len > 0 ? &g_array_index(acts, tb_act, acts->len - 1) : NULL;
	if (last == NULL || last->kind == TB_ACT_CLAIM || last->claim_count > 0)
		return false;
	last->claims = claim->claims;
	last->claim_count = claim->claim_count;
	return true;
}

void tb_build_set_pattern(tb_builder *b, const tb_value *remark)
{
	const tb_value *rows = tb_value_get(remark, TB_SLOT_rows), *first = rows;
	int many = tb_build_one_number(tb_value_get(remark, TB_SLOT_many), 0);
	if (rows == NULL) {
		const tb_sentence *row = b->row == 0 && b->sentences != NULL && b->sentences->len > 0 ?
			b->sentences->pdata[b->sentences->len - 1] : NULL;
		unsigned last = row != NULL ? row->last : b->row;
		if (many > 0 && last >= (unsigned)many) {
			b->pattern_first = last - (unsigned)many + 1;
			b->pattern_last = last;
		}
		return;
	}
	for (const tb_value *before; (before = tb_value_get(first, TB_SLOT_l)) != NULL;)
		first = before;
	int from = tb_build_one_number(tb_value_get(first, TB_SLOT_a), 0);
	int to = tb_build_one_number(tb_value_get(rows, TB_SLOT_b), tb_build_one_number(tb_value_get(rows, TB_SLOT_a), 0));
	if (from > 0 && to >= from) {
		b->pattern_first = (unsigned)from;
		b->pattern_last = (unsigned)to;
	}
}

void tb_build_remark(tb_builder *b, const tb_value *value, GArray *acts)
{
	if (value->kind == TB_KIND_remark || value->kind == TB_KIND_prose) {
		tb_span span = tb_build_span(b, value->from, value->to);
		g_array_append_val(b->asides, span);
		if (tb_build_has(value, TB_SLOT_unheld))
			g_array_append_val(b->unheld, span);
	}
	if (tb_build_has(value, TB_SLOT_doubt)) {
		tb_doubt doubt = {tb_build_span(b, value->from, value->to), value->from, value->to, NULL, NULL, NULL};
		g_array_append_val(b->doubts, doubt);
	}
	if (!tb_build_cord_fits(value)) {
		tb_build_add_cannot(b, value, acts, "the chain has not so many stitches");
		return;
	}
	b->at_once = b->at_once || tb_build_has(value, TB_SLOT_together);
	tb_build_set_pattern(b, value);
	tb_build_mark(b, value, acts);
	tb_place place = {0};
	if (tb_build_has(value, TB_SLOT_place))
		tb_build_place(b, tb_value_get(value, TB_SLOT_place), &place);
	/* "22 dc, including the turning chain" */
	if (place.target == TB_TARGET_TURNING_CHAIN || place.target == TB_TARGET_CHAIN) {
		tb_act act = tb_build_act_of(b, value, TB_ACT_CLAIM);
		tb_claim *claim = tb_arena_new(b->arena, tb_claim);
		*claim = (tb_claim){.span = act.span, .with_chain = true, .other = true};
		act.claims = claim;
		act.claim_count = 1;
		g_array_append_val(acts, act);
	}
	if (tb_build_has(value, TB_SLOT_unread))
		tb_build_tell_cannot(b, value, acts, "bracket-unread", "what stands in this bracket is not understood",
			"Say in other words what it tells of the work, or leave it out.");
}
