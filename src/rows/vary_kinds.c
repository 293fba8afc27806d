/*
 * "4th round: 1 sc in each dc. 5th round: same as 4th round": there are no dc below the 5th, and nobody
 * minds. Where the row below is of one kind of stitch, as the one was that the words were written for, its
 * stitches are those.
 */
#include "rows/vary.h"

/* The one kind of stitch ROW is made of, its turning chain and decreases apart; NULL where it has several, or chains. */
static const tb_stitch *kind_of(const tb_hands *h, const tb_made_row *row)
{
	const tb_stitch *kind = NULL;
	for (guint32 i = row->first; i < row->first + row->count; i++) {
		const tb_made *made = tb_hands_made(h, i);
		const tb_stitch *stitch = tb_hands_stitch(h, made);
		if ((made->flags & TB_MADE_TURNING) || stitch == h->working->slip || stitch->family == TB_FAMILY_TOGETHER)
			continue;
		if ((made->flags & TB_MADE_CHAIN) || stitch->family != TB_FAMILY_PLAIN || (kind != NULL && stitch != kind))
			return NULL;
		kind = stitch;
	}
	tb_hands_look(h, row->count);
	return kind;
}

static bool goes_in_each(const tb_act *act, const tb_stitch *kind)
{
	return act->kind == TB_ACT_WORK && act->place.target == TB_TARGET_NAMED && act->place.named == kind &&
		act->place.rows_below == 1 && act->place.of == NULL && act->place.of_row == 0 && !act->place.around;
}

/* Puts any stitch where KIND is named; how often it was. */
static unsigned put_any(tb_acts *acts, const tb_stitch *kind)
{
	unsigned found = 0;
	for (unsigned i = 0; i < acts->count; i++) {
		tb_act *act = (tb_act *)&acts->acts[i];
		found += put_any(&act->body, kind);
		if (!goes_in_each(act, kind))
			continue;
		act->place.target = TB_TARGET_STITCH;
		act->place.named = NULL;
		found++;
	}
	return found;
}

/* SENTENCE with any stitch where it names WAS; IS, the kind that is below, tells such copies apart. */
static const tb_sentence *vary(tb_hands *h, const tb_sentence *sentence, const tb_stitch *was, const tb_stitch *is)
{
	/* so often as the row is worked again, it is changed once */
	const void *asked[] = {sentence, was, is};
	g_autoptr(GBytes) key = g_bytes_new(asked, sizeof asked);
	const tb_sentence *known = g_hash_table_lookup(h->working->chosen, key);
	if (known != NULL)
		return known;
	tb_arena *arena = h->working->arena;
	tb_sentence *copy = tb_arena_new(arena, tb_sentence);
	*copy = *sentence;
	copy->acts = tb_vary_copy(arena, &sentence->acts);
	/* a row that was read in several ways is worked as it was read */
	copy->ways = NULL;
	copy->way_count = 0;
	copy->original = NULL;
	const tb_sentence *varied = put_any(&copy->acts, was) > 0 ? copy : sentence;
	g_hash_table_insert(h->working->chosen, g_bytes_ref(key), (gpointer)varied);
	return varied;
}

const tb_sentence *tb_vary_kinds(tb_hands *h, const tb_sentence *sentence, guint32 like)
{
	if (sentence == NULL || like < 2 || h->cloth.rows->len < 2)
		return sentence;
	const tb_stitch *was = kind_of(h, tb_hands_row(h, like - 1)), *is = kind_of(h, tb_hands_row(h, h->cloth.rows->len - 1));
	return was == NULL || is == NULL || was == is ? sentence : vary(h, sentence, was, is);
}

const tb_sentence *tb_vary_to_any(tb_hands *h, const tb_sentence *sentence, guint32 like)
{
	const tb_stitch *was = like < 2 ? NULL : kind_of(h, tb_hands_row(h, like - 1));
	return was == NULL ? sentence : vary(h, sentence, was, NULL);
}

/* Whether ACT only leads to where a row begins, or turns to it. */
static bool leads_in(const tb_act *act)
{
	return act->kind == TB_ACT_TURN || act->kind == TB_ACT_JOIN_YARN || act->kind == TB_ACT_SKIP ||
		act->kind == TB_ACT_SIDE;
}

const tb_sentence *tb_vary_begun(tb_hands *h, const tb_sentence *sentence, const tb_acts *begin)
{
	tb_sentence *begun = tb_arena_new(h->working->arena, tb_sentence);
	g_autoptr(GArray) acts = g_array_new(FALSE, FALSE, sizeof(tb_act));
	bool leading = true;
	*begun = *sentence;
	g_array_append_vals(acts, begin->acts, begin->count);
	for (unsigned i = 0; i < sentence->acts.count; i++) {
		const tb_act *act = &sentence->acts.acts[i];
		leading = leading && (leads_in(act) || act->kind == TB_ACT_CHAIN);
		if (!leading || !leads_in(act))
			g_array_append_vals(acts, act, 1);
	}
	begun->original = NULL;
	begun->ways = NULL;
	begun->way_count = begun->claim_count = 0;
	begun->side = TB_SIDE_UNSAID;
	tb_act *all = tb_arena_take(h->working->arena, acts->len * sizeof(tb_act));
	memcpy(all, acts->data, acts->len * sizeof(tb_act));
	begun->acts = (tb_acts){all, acts->len};
	return begun;
}
