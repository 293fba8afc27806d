/*
 * "Work in pattern", "patt to last 2 sts", "work even": the pattern is what the rows before have done again
 * and again.
 *
 * A row has a look: which stitch it works on which kind below, as "dc on sc" or "sc on dc, dc on sc". Rows
 * of the same look come back every so many rows, and that tells which row the next one is like; what that
 * row worked on each kind is worked on each kind again, wherever the edges of the piece have come to by
 * then. Rows of chains, spaces and shells have no such look: of those only whole rows can come again.
 * Where the rows have shown nothing twice, nobody can tell how they go on, and that is said.
 */
#include "rows/in_pattern.h"

#include <string.h>

#define MOST_KINDS 6u
/* No pattern of rows is longer. */
#define MOST_PERIOD 24u
/* So many stitches from a row's end it may be shaped; in a narrow row fewer. */
#define EDGE 3u
#define NARROW 10u

/* One kind of stitch on one kind below. */
typedef struct {
	guint16 on, stitch;
	guint8 loops; /* as flags of tb_made */
} upon;

typedef struct {
	bool regular; /* a stitch on each stitch, but for shaping */
	bool told;    /* each kind below takes one kind */
	unsigned count;
	upon of[MOST_KINDS];
} look;

static void add_kind(look *l, upon kind)
{
	for (unsigned i = 0; i < l->count; i++) {
		const upon *is = &l->of[i];
		bool same = is->stitch == kind.stitch && is->loops == kind.loops;
		if (is->on == kind.on && same)
			return;
		if (is->on == kind.on)
			l->told = false;
	}
	if (l->count == MOST_KINDS)
		l->regular = false;
	else
		l->of[l->count++] = kind;
}

/* Whether the stitch, the I-th of COUNT, goes beside the one before it, or is where a row is shaped. */
static bool goes_on(guint32 from, guint32 to, guint32 i, guint32 count)
{
	guint32 edge = count < NARROW ? 1 : EDGE, apart = from > to ? from - to : to - from;
	return from == TB_NONE || apart == 1 || i <= edge || i + edge >= count;
}

static look look_of(const tb_hands *h, guint32 index)
{
	const unsigned loops = TB_MADE_FRONT_LOOP | TB_MADE_BACK_LOOP | TB_MADE_THIRD_LOOP;
	const tb_made_row *row = tb_hands_row(h, index);
	look l = {.regular = !row->taken && row->count > 0, .told = true};
	guint32 before = TB_NONE;
	for (guint32 i = 0; i < row->count && l.regular; i++) {
		const tb_made *made = tb_hands_made(h, row->first + i);
		if (made->flags & TB_MADE_TURNING || !(made->flags & TB_MADE_COUNTED))
			continue;
		if (made->flags & (TB_MADE_CHAIN | TB_MADE_IN_SPACE | TB_MADE_BEHIND) || made->rows_below != 1 ||
			made->base_count == 0) {
			l.regular = false;
			break;
		}
		guint32 base = tb_hands_base(h, made, 0);
		l.regular = goes_on(before, base, i, row->count);
		before = tb_hands_base(h, made, made->base_count - 1u);
		const tb_made *below = tb_hands_made(h, base);
		/* two drawn together shape the row, and what stands on the turning chain stands at its edge */
		if (made->base_count == 1 && !(below->flags & TB_MADE_TURNING))
			add_kind(&l, (upon){below->stitch, made->stitch, made->flags & loops});
	}
	tb_hands_look(h, row->count);
	l.regular = l.regular && l.count > 0;
	return l;
}

bool tb_in_pattern_is_regular(const tb_hands *h, guint32 row)
{
	return look_of(h, row).regular;
}

static bool has_stitch(const look *l, const upon *kind)
{
	for (unsigned i = 0; i < l->count; i++) {
		if (l->of[i].stitch == kind->stitch && l->of[i].loops == kind->loops)
			return true;
	}
	return false;
}

/* Whether all stitches of ONE are in OTHER, and on the same kinds. */
static bool is_within(const look *one, const look *other)
{
	for (unsigned i = 0; i < one->count; i++) {
		const upon *kind = &one->of[i];
		if (!has_stitch(other, kind))
			return false;
		for (unsigned k = 0; k < other->count && one->told && other->told; k++) {
			if (other->of[k].on == kind->on &&
				(other->of[k].stitch != kind->stitch || other->of[k].loops != kind->loops))
				return false;
		}
	}
	return true;
}

static bool are_alike(const tb_hands *h, const GArray *looks, guint32 one, guint32 other)
{
	const look *a = &g_array_index(looks, look, one), *b = &g_array_index(looks, look, other);
	const tb_made_row *first = tb_hands_row(h, one), *second = tb_hands_row(h, other);
	if (first->taken || second->taken)
		return false;
	/* the same words on as many stitches */
	if (first->written == second->written && first->stitches == second->stitches)
		return true;
	return a->regular && b->regular && is_within(a, b) && is_within(b, a);
}

/* So many of the last rows are each like the one PERIOD rows before. */
static guint32 count_alike(const tb_hands *h, const GArray *looks, guint32 period)
{
	guint32 count = 0;
	for (guint32 i = looks->len; i-- > period + 1 && are_alike(h, looks, i, i - period);)
		count++;
	return count;
}

/* The row that the next is like where the text says which rows are the pattern; 0 where it does not. */
static guint32 stated_row(const tb_hands *h, const tb_sentence *sentence, const GArray *looks)
{
	guint32 rows = h->cloth.rows->len, last = sentence->pattern_last + h->labels.before;
	if (sentence->pattern_first == 0 || last >= rows || tb_hands_row(h, last)->number != last)
		return 0;
	guint32 period = sentence->pattern_last - sentence->pattern_first + 1;
	for (guint32 i = last + 1; i < rows; i++) {
		if (!are_alike(h, looks, i, i - period))
			return 0;
	}
	return rows - period;
}

guint32 tb_in_pattern_row(tb_hands *h, const tb_sentence *sentence)
{
	guint32 rows = h->cloth.rows->len, best = 0, best_covers = 0;
	g_autoptr(GArray) looks = g_array_sized_new(FALSE, TRUE, sizeof(look), rows);
	if (rows < 3)
		return 0;
	/* far back is another part of the piece */
	for (guint32 i = 0; i < rows; i++) {
		look l = i > 0 && i + 4 * MOST_PERIOD >= rows ? look_of(h, i) : (look){0};
		g_array_append_val(looks, l);
	}
	guint32 stated = stated_row(h, sentence, looks);
	if (stated > 0)
		return stated;
	for (guint32 period = 1; period <= MOST_PERIOD && period + 1 < rows; period++) {
		guint32 alike = count_alike(h, looks, period), covers = alike + period;
		bool shown = alike >= MAX(period - 1, 1) && (covers * 2 > rows - 1 || alike >= MAX(period, 3));
		if (shown && covers > best_covers) {
			best = period;
			best_covers = covers;
		}
	}
	return best > 0 ? rows - best : 0;
}

/* --- a row said so --- */

static bool is_one(const look *l)
{
	for (unsigned i = 1; i < l->count; i++) {
		if (l->of[i].stitch != l->of[0].stitch || l->of[i].loops != l->of[0].loops)
			return false;
	}
	return true;
}

static tb_loops loops_of(const upon *kind)
{
	return kind->loops & TB_MADE_FRONT_LOOP ? TB_LOOPS_FRONT :
		kind->loops & TB_MADE_BACK_LOOP ? TB_LOOPS_BACK :
		kind->loops & TB_MADE_THIRD_LOOP ? TB_LOOPS_THIRD : TB_LOOPS_BOTH;
}

static void set_kind(tb_hands *h, tb_act *act, const upon *kind)
{
	act->stitch = tb_library_get(h->working->pattern->library, kind->stitch);
	act->place.around = act->stitch->post != TB_POST_NONE;
	act->place.loops = loops_of(kind);
}

/* Whether the last row has a stitch of the kind, which the next is worked on. */
static bool is_below(const tb_hands *h, guint16 kind)
{
	const tb_made_row *row = tb_hands_row(h, h->cloth.rows->len - 1);
	for (guint32 i = 0; i < row->count; i++) {
		const tb_made *made = tb_hands_made(h, row->first + i);
		if (made->stitch == kind && made->flags & TB_MADE_COUNTED && !(made->flags & TB_MADE_TURNING))
			return true;
	}
	return false;
}

/* "sc in each dc and dc in each sc" */
static void set_kinds(tb_hands *h, tb_act *act, const look *l)
{
	if (act->kind == TB_ACT_SHAPE)
		act->place = (tb_place){.in = TB_IN_NEXT, .rows_below = 1, .span = act->span};
	else
		set_kind(h, act, &l->of[0]);
	for (unsigned i = 0; i < l->count; i++) {
		if (!is_below(h, l->of[i].on))
			continue;
		tb_act *kind = tb_arena_new(h->working->arena, tb_act);
		*kind = *act;
		kind->kind = TB_ACT_WORK;
		kind->each = (tb_number){1, tb_number_one, act->span};
		set_kind(h, kind, &l->of[i]);
		kind->place.target = TB_TARGET_NAMED;
		kind->place.named = tb_library_get(h->working->pattern->library, l->of[i].on);
		kind->pattern = TB_PATTERN_NOT;
		kind->other = act->other;
		act->other = kind;
	}
}

static void set_unclear(const tb_hands *h, tb_act *act)
{
	*act = (tb_act){.kind = TB_ACT_CANNOT, .span = act->span, .code = h->labels.uncounted ? "rows-again-unknown" : "not-worked",
		.why = "how the pattern goes on here cannot be told from the rows before",
		.hint = "Write the row out, stitch by stitch."};
}

/* "work 2 tog", "dec 1 st at each end": of the stitch that the row is worked in. */
static void set_shaping(tb_hands *h, tb_act *act, const look *l)
{
	tb_library *library = h->working->pattern->library;
	const tb_stitch *stitch = tb_library_get(library, l->of[0].stitch);
	if (act->stitch == NULL || stitch->family != TB_FAMILY_PLAIN)
		return;
	const tb_stitch *made = act->stitch->takes > 1 ? tb_library_together(library, stitch, act->stitch->takes) : stitch;
	if (made == NULL)
		return;
	act->stitch = made;
	if (act->place.loops == TB_LOOPS_BOTH)
		act->place.loops = loops_of(&l->of[0]);
}

static void say_act(tb_hands *h, tb_act *act, const look *l)
{
	bool shapes = act->kind == TB_ACT_SHAPE || act->pattern == TB_PATTERN_SHAPING;
	if (shapes && is_one(l))
		set_shaping(h, act, l);
	else if (!shapes && is_one(l))
		set_kind(h, act, &l->of[0]);
	else if (act->pattern != TB_PATTERN_SHAPING || act->kind == TB_ACT_SHAPE)
		set_kinds(h, act, l);
}

bool tb_in_pattern_is_said(const tb_sentence *sentence)
{
	for (unsigned i = 0; i < sentence->acts.count; i++) {
		if (sentence->acts.acts[i].pattern != TB_PATTERN_NOT)
			return true;
	}
	return false;
}

bool tb_in_pattern_may_come(const tb_hands *h, guint32 row)
{
	const tb_made_row *again = tb_hands_row(h, row), *last = tb_hands_row(h, h->cloth.rows->len - 1);
	return row > 1 && again->sentence != NULL && again->sentence->shaped == NULL && !again->taken &&
		again->stitches == again[-1].stitches && again[-1].stitches == last->stitches;
}

/* "Patt to end", and nothing else is worked: the words of that row, which knows of chains and spaces. */
static const tb_sentence *whole_row(tb_hands *h, const tb_sentence *sentence, guint32 row)
{
	guint32 period = h->cloth.rows->len - row;
	/* the row that said the words */
	while (row > period && tb_hands_row(h, row)->sentence != NULL && tb_in_pattern_is_said(tb_hands_row(h, row)->sentence))
		row -= period;
	bool whole = tb_in_pattern_may_come(h, row);
	for (unsigned i = 0; i < sentence->acts.count && whole; i++) {
		const tb_act *act = &sentence->acts.acts[i];
		whole = act->kind == TB_ACT_TURN || act->kind == TB_ACT_JOIN || act->kind == TB_ACT_FASTEN_OFF ||
			(act->kind == TB_ACT_WORK && act->pattern == TB_PATTERN_SAID && act->place.in == TB_IN_EACH &&
				act->place.up_to == NULL && tb_hands_number(h, &act->place.count, 0) == 0);
	}
	const tb_sentence *like = whole ? tb_hands_row(h, row)->sentence : NULL;
	if (like == NULL || tb_in_pattern_is_said(like))
		return NULL;
	tb_sentence *next = tb_arena_new(h->working->arena, tb_sentence);
	*next = *sentence;
	next->acts = like->acts;
	next->meaning = like->meaning;
	return next;
}

/* The turning chain that the row before begins with, behind slip stitches where it has such; or NULL. */
static const tb_made *chain_before(const tb_hands *h)
{
	const tb_made_row *row = tb_hands_row(h, h->cloth.rows->len - 1);
	for (guint32 i = row->first; i < row->first + row->count; i++) {
		const tb_made *made = tb_hands_made(h, i);
		if (made->flags & TB_MADE_TURNING)
			return made;
		if (made->flags & TB_MADE_COUNTED)
			break;
	}
	return NULL;
}

/* Whether SENTENCE says nothing of how its row begins; *FIRST is its first stitch. */
static bool begins_unsaid(const tb_sentence *sentence, const tb_act **first)
{
	for (unsigned i = 0; i < sentence->acts.count; i++) {
		*first = &sentence->acts.acts[i];
		if ((*first)->pattern != TB_PATTERN_NOT || (*first)->kind == TB_ACT_SHAPE)
			return (*first)->stitch != NULL;
		if ((*first)->kind != TB_ACT_TURN)
			return false;
	}
	return false;
}

/*
 * "Work 6 rows even", "dec 1 st at each end of next row": such a row begins with the turning chain of the one
 * before it, and a round is joined as that was, where the words say neither. SENTENCE itself where there is none,
 * or it is not as high as the stitch.
 */
static const tb_sentence *begun_alike(tb_hands *h, const tb_sentence *sentence)
{
	const tb_act *first;
	if (h->cloth.rows->len < 2 || h->now.pending.count > 0 || !begins_unsaid(sentence, &first))
		return sentence;
	const tb_made_row *last = tb_hands_row(h, h->cloth.rows->len - 1);
	const tb_made *chain = chain_before(h);
	bool joins = sentence->is_round && last->is_round && last->joined;
	for (unsigned i = 0; i < sentence->acts.count; i++)
		joins = joins && sentence->acts.acts[i].kind != TB_ACT_JOIN && sentence->acts.acts[i].kind != TB_ACT_DO_NOT_JOIN;
	bool counted = chain != NULL && chain->flags & TB_MADE_COUNTED;
	if (last->is_round != sentence->is_round || (chain != NULL && !tb_rule_fits(chain->chains, first->stitch, counted) &&
		!(counted ? first->stitch == last->turning_as : chain->chains < tb_stitch_chains(first->stitch))))
		chain = NULL;
	if (chain == NULL && !joins)
		return sentence;
	tb_arena *arena = h->working->arena;
	tb_act *acts = tb_arena_take(arena, (sentence->acts.count + 2u) * sizeof(tb_act));
	unsigned count = 0;
	int *chains = tb_arena_new(arena, int);
	*chains = chain != NULL ? chain->chains : 0;
	if (chain != NULL)
		acts[count++] = (tb_act){.kind = TB_ACT_CHAIN, .span = first->span, .stitch = counted ? first->stitch : NULL,
			.counts = counted ? TB_COUNTS : TB_COUNTS_NOT, .count = {1, chains, first->span}};
	memcpy(acts + count, sentence->acts.acts, sentence->acts.count * sizeof(tb_act));
	count += sentence->acts.count;
	if (joins)
		acts[count++] = (tb_act){.kind = TB_ACT_JOIN, .span = first->span, .bare = true, .stitch = h->working->slip,
			.each = {1, tb_number_one, first->span}, .place = {.in = TB_IN_FIRST, .rows_below = 1, .span = first->span,
			.count = {1, tb_number_one, first->span}}};
	tb_sentence *begun = tb_arena_new(arena, tb_sentence);
	*begun = *sentence;
	begun->acts = (tb_acts){acts, count};
	return begun;
}

const tb_sentence *tb_in_pattern_said(tb_hands *h, const tb_sentence *sentence)
{
	if (!tb_in_pattern_is_said(sentence))
		return begun_alike(h, sentence);
	guint32 row = tb_in_pattern_row(h, sentence);
	look l = row > 0 ? look_of(h, row) : (look){0};
	bool known = l.regular && (l.told || is_one(&l));
	const tb_sentence *again = row > 0 && (!known || is_one(&l)) ? whole_row(h, sentence, row) : NULL;
	if (again != NULL)
		return again;
	tb_sentence *said = tb_arena_new(h->working->arena, tb_sentence);
	tb_act *acts = tb_arena_take(h->working->arena, sentence->acts.count * sizeof(tb_act));
	memcpy(acts, sentence->acts.acts, sentence->acts.count * sizeof(tb_act));
	for (unsigned i = 0; i < sentence->acts.count; i++) {
		tb_act *act = &acts[i];
		if (act->pattern == TB_PATTERN_SAID && !known)
			set_unclear(h, act);
		else if (act->pattern != TB_PATTERN_NOT && known)
			say_act(h, act, &l);
	}
	*said = *sentence;
	said->acts = (tb_acts){acts, sentence->acts.count};
	return begun_alike(h, said);
}
