/*
 * "Shell over shell", where the pattern nowhere says what a shell is: rows below have them written out, "2 dc,
 * ch 2, 2 dc in sp of next shell". Such a group has as much on either side of its one space. Where all that
 * a row has are alike, that is what the word means, and it is said so.
 */
#include "rows/like.h"

#include <string.h>

static bool is_chain(const tb_made *made)
{
	return (made->flags & TB_MADE_CHAIN) != 0 && !(made->flags & TB_MADE_TURNING);
}

/* Whether the stitches from BEGIN to END of one group are such a shell, none of it being a turning chain. */
static bool is_shell(const tb_hands *h, guint32 row_first, guint32 begin, guint32 end)
{
	guint32 from = begin, to = end;
	for (guint32 i = begin; i < end; i++) {
		if (!(tb_hands_made(h, i)->flags & TB_MADE_COUNTED) || tb_hands_made(h, i)->flags & TB_MADE_TURNING)
			return false;
	}
	const tb_made *before = begin > row_first ? tb_hands_made(h, begin - 1) : NULL;
	if (before != NULL && before->flags & TB_MADE_TURNING && before->base_count == 1 &&
		before->base == tb_hands_made(h, begin)->base)
		return false;
	while (from < to && !is_chain(tb_hands_made(h, from))) {
		if (from + 1 >= to || tb_hands_made(h, from)->stitch != tb_hands_made(h, to - 1)->stitch)
			return false;
		from++;
		to--;
	}
	for (guint32 i = from; i < to; i++) {
		if (!is_chain(tb_hands_made(h, i)))
			return false;
	}
	return from > begin && from < to;
}

static bool are_alike(const tb_hands *h, guint32 one, guint32 other, guint32 length)
{
	for (guint32 i = 0; i < length; i++) {
		const tb_made *a = tb_hands_made(h, one + i), *b = tb_hands_made(h, other + i);
		if (a->stitch != b->stitch || is_chain(a) != is_chain(b))
			return false;
	}
	return true;
}

/*
 * The shells of a row, as *BEGIN and *LENGTH of one of them, *LENGTH being 0 for none; false where it has two
 * kinds.
 */
static bool find_in_row(const tb_hands *h, const tb_made_row *row, guint32 *begin, guint32 *length)
{
	guint32 end = row->first + row->count, behind;
	*length = 0;
	tb_hands_look(h, row->count);
	for (guint32 i = row->first; i < end; i = behind) {
		guint16 group = tb_hands_made(h, i)->group;
		behind = i + 1;
		while (group != 0 && behind < end && tb_hands_made(h, behind)->group == group)
			behind++;
		if (group == 0 || !is_shell(h, row->first, i, behind))
			continue;
		if (*length > 0 && (behind - i != *length || !are_alike(h, *begin, i, *length)))
			return false;
		*begin = i;
		*length = behind - i;
	}
	return true;
}

static tb_number number_of(const tb_hands *h, guint32 value, tb_span span)
{
	int *values = tb_arena_new(h->working->arena, int);
	*values = (int)value;
	return (tb_number){1, values, span};
}

/* What such a shell is, as acts; none where no row tells. */
static tb_acts find_shell(const tb_hands *h, tb_span span)
{
	guint32 begin = 0, length = 0;
	for (guint32 i = h->cloth.rows->len; i-- > 1 && length == 0;) {
		if (!find_in_row(h, tb_hands_row(h, i), &begin, &length))
			return (tb_acts){0};
	}
	tb_act *acts = tb_arena_take(h->working->arena, MAX(length, 1) * sizeof(tb_act));
	unsigned count = 0;
	for (guint32 i = begin, behind; i < begin + length; i = behind) {
		const tb_made *made = tb_hands_made(h, i);
		for (behind = i + 1; behind < begin + length && tb_hands_made(h, behind)->stitch == made->stitch;)
			behind++;
		tb_number many = number_of(h, behind - i, span);
		tb_act act = {.kind = is_chain(made) ? TB_ACT_CHAIN : TB_ACT_WORK, .span = span, .count = many};
		act.each = number_of(h, 1, span);
		if (act.kind == TB_ACT_WORK) {
			act.stitch = tb_hands_stitch(h, made);
			act.place = (tb_place){.in = TB_IN_NEXT, .rows_below = 1, .span = span, .count = many};
			act.bare = true;
		}
		acts[count++] = act;
	}
	return (tb_acts){acts, count};
}

/* The first group of ACTS that is only called a shell, or NULL. */
static const tb_act *find_called(const tb_acts *acts)
{
	for (unsigned i = 0; i < acts->count; i++) {
		const tb_act *act = &acts->acts[i];
		if (act->kind == TB_ACT_GROUP && tb_own_is_like(act->own))
			return act;
		const tb_act *inside = act->kind == TB_ACT_REPEAT || act->kind == TB_ACT_ONLY ? find_called(&act->body) : NULL;
		if (inside != NULL)
			return inside;
	}
	return NULL;
}

static tb_acts fill(const tb_hands *h, const tb_acts *acts, const tb_acts *shell)
{
	tb_act *copy = tb_arena_take(h->working->arena, MAX(acts->count, 1) * sizeof(tb_act));
	for (unsigned i = 0; i < acts->count; i++) {
		copy[i] = acts->acts[i];
		if (copy[i].kind == TB_ACT_GROUP && tb_own_is_like(copy[i].own))
			copy[i].body = *shell;
		else if (copy[i].kind == TB_ACT_REPEAT || copy[i].kind == TB_ACT_ONLY)
			copy[i].body = fill(h, &acts->acts[i].body, shell);
	}
	return (tb_acts){copy, acts->count};
}

const tb_sentence *tb_like_said(const tb_hands *h, const tb_sentence *sentence)
{
	const tb_act *called = find_called(&sentence->acts);
	if (called == NULL || called->body.count > 0)
		return sentence;
	tb_acts shell = find_shell(h, called->span);
	tb_sentence *said = tb_arena_new(h->working->arena, tb_sentence);
	*said = *sentence;
	said->acts = fill(h, &sentence->acts, &shell);
	return said;
}

void tb_like_tell(tb_hands *h, const tb_sentence *sentence)
{
	const tb_act *called = find_called(&sentence->acts);
	if (called == NULL)
		return;
	if (called->body.count == 0) {
		tb_hands_give_up(h, "stitch-own", called->span,
			"Write it out, as in (dc, ch 1, dc) in next st, or tell it among the pattern's stitches.",
			"what this stitch is made of, the pattern does not say");
		return;
	}
	g_autoptr(GString) words = g_string_new(NULL);
	for (unsigned i = 0; i < called->body.count; i++) {
		const tb_act *act = &called->body.acts[i];
		unsigned many = tb_hands_number(h, &act->count, 1);
		if (act->kind == TB_ACT_CHAIN)
			g_string_append_printf(words, "%sch %u", i > 0 ? ", " : "", many);
		else if (many == 1)
			g_string_append_printf(words, "%s%s", i > 0 ? ", " : "", tb_hands_term(h, act->stitch));
		else
			g_string_append_printf(words, "%s%u %s", i > 0 ? ", " : "", many, tb_hands_term(h, act->stitch));
	}
	tb_hands_tell(h, TB_WARNING, "group-like", called->span, "Say what it is where it is first worked.",
		"what this %s is made of, the pattern does not say: it is taken as those below, (%s)",
		called->own->name, words->str);
}
