/* What a sentence works, what it claims and what is only said in it, apart. */
#include "notation/script.h"

#include "stitches/stitch.h"
#include "support/limits.h"

#include <string.h>

static bool is_said_aside(const tb_act *act)
{
	return act->kind == TB_ACT_CLAIM || act->kind == TB_ACT_SIDE ||
		act->kind == TB_ACT_SKIPPED_COUNT || act->kind == TB_ACT_NOT_BEHIND ||
		act->kind == TB_ACT_DO_NOT_TURN;
}

/*
 * "Sc in each dc around, 3 sc in each corner sp": behind the first nothing is left for the second, so
 * that both are meant as they come.
 */
static void merge_kinds(GArray *acts, tb_arena *arena)
{
	for (guint i = 0; i + 1 < acts->len; i++) {
		tb_act *first = &g_array_index(acts, tb_act, i), *second = first + 1;
		/* a corner is a stitch, or one of the spaces, as well */
		bool apart = second->place.corner ? first->place.target != TB_TARGET_SPACE :
			first->place.target == TB_TARGET_NAMED && first->place.also == NULL;
		/* "7 sc in each loop, sc in each sc": the same, told the other way round */
		bool turned = tb_act_goes_in_each(first) && tb_act_goes_in_each(second) && !second->place.corner && !first->place.corner &&
			first->place.target == TB_TARGET_SPACE && first->place.also == NULL &&
			second->place.target == TB_TARGET_NAMED && second->place.also == NULL;
		if (turned) {
			tb_act swap = *first;
			*first = *second;
			*second = swap;
		} else if (!tb_act_goes_in_each(first) || !tb_act_goes_in_each(second) || !apart || second->place.target != TB_TARGET_SPACE ||
			second->place.also != NULL)
			continue;
		tb_act *other = tb_arena_new(arena, tb_act);
		*other = *second;
		first->other = other;
		if (second->between.count > 0)
			first->between = second->between;
		g_array_remove_index(acts, i + 1);
	}
}

/* "Join with sl st in any st, ch 1, sc in same st": the row begins there, and nothing is closed. */
static bool begins_with_join(const tb_sentence *sentence, const GArray *said, guint i)
{
	const tb_act *act = &g_array_index(said, tb_act, i);
	if (sentence->kind != TB_SENTENCE_ROWS || act->kind != TB_ACT_JOIN || act->bare || i + 1 >= said->len)
		return false;
	const tb_act *next = act + 1;
	bool travels = next->kind == TB_ACT_WORK && next->stitch == act->stitch;
	return !travels && tb_is_work_behind(said, i);
}

/* "Skip 9 sts, join in next st, ch 1, …": nothing is worked before the last of ACTS. */
static bool is_first_worked(const GArray *acts)
{
	bool first = true;
	for (guint i = 0; i + 1 < acts->len && first; i++) {
		tb_act_kind kind = g_array_index(acts, tb_act, i).kind;
		first = kind == TB_ACT_SKIP || kind == TB_ACT_FASTEN_OFF;
	}
	return first;
}

/* "(12 sl sts)". */
static bool is_count_of_slips(const tb_act *act)
{
	return act != NULL && act->kind == TB_ACT_CLAIM && act->claim_count == 1 && !act->claims[0].other &&
		act->claims[0].stitch != NULL && act->claims[0].stitch->form == TB_FORM_SLIP;
}

/* Takes what is worked upon the finished cloth out of SAID. */
static void set_surface(tb_sentence *sentence, tb_arena *arena, GArray *said)
{
	g_autoptr(GArray) surface = g_array_new(FALSE, FALSE, sizeof(tb_act));
	for (guint i = 0; i < said->len;) {
		tb_act *act = &g_array_index(said, tb_act, i);
		if (act->kind == TB_ACT_SURFACE) {
			const tb_act *behind = i + 1 < said->len ? act + 1 : NULL;
			tb_act taken = *act;
			bool counted = is_count_of_slips(behind) && act->surface->made.count == 0;
			if (counted) {
				tb_surface *with = tb_arena_new(arena, tb_surface);
				*with = *act->surface;
				with->made = behind->claims[0].count;
				taken.surface = with;
			}
			g_array_append_val(surface, taken);
			g_array_remove_range(said, i, counted ? 2 : 1);
		} else {
			i++;
		}
	}
	sentence->surface = tb_acts_keep(arena, surface);
}

/*
 * "With WS facing, join yarn in next st. Next row (RS): …": act NUMBER of SAID, before all work, has the other side to
 * the worker than the row says of itself, and nothing turns the work between.
 */
static bool is_against(const tb_sentence *sentence, const GArray *said, guint number)
{
	const tb_act *acts = (const tb_act *)said->data;
	if (sentence->side == TB_SIDE_UNSAID || acts[number].side == sentence->side)
		return false;
	for (guint i = 0; i < said->len; i++) {
		if (i < number && acts[i].kind != TB_ACT_JOIN_YARN && acts[i].kind != TB_ACT_SKIP && acts[i].kind != TB_ACT_CLAIM)
			return false;
		if (i > number && (acts[i].kind == TB_ACT_WORK || acts[i].kind == TB_ACT_GROUP || acts[i].kind == TB_ACT_REPEAT))
			break;
		if (i > number && acts[i].kind == TB_ACT_TURN)
			return false;
	}
	return true;
}

/* "0 sc in next st", "sc in next 0 sts", in every size: a figure that was mistyped. */
static bool is_zero(const tb_number *number)
{
	return number->count == 1 && number->values != NULL && number->values[0] == 0;
}

static bool is_of_none(const tb_act *act, unsigned depth)
{
	bool counts = act->kind == TB_ACT_WORK || act->kind == TB_ACT_SKIP;
	/* "skip all sleeve sts" */
	if (act->kind == TB_ACT_SKIP && (act->place.parted || act->place.gore || act->place.of != NULL))
		return false;
	/* "the second treble" counts by its name */
	bool placed = (act->place.in == TB_IN_NEXT || act->place.in == TB_IN_FIRST || act->place.in == TB_IN_LAST) &&
		(act->place.target == TB_TARGET_STITCH || act->place.target == TB_TARGET_CHAIN) && act->place.nth == 0;
	if (counts && (is_zero(&act->each) || (placed && is_zero(&act->place.count))))
		return true;
	for (unsigned i = 0; (act->kind == TB_ACT_REPEAT || act->kind == TB_ACT_GROUP) && depth < TB_LIMIT_NESTING && i < act->body.count; i++) {
		if (is_of_none(&act->body.acts[i], depth + 1))
			return true;
	}
	return false;
}

/* "…, turn. Do not turn.", "…, turn. Turn.": the act before NUMBER, of those that turn or do not, or NULL. */
static const tb_act *find_turn_before(const GArray *said, guint number)
{
	const tb_act *acts = (const tb_act *)said->data;
	guint i = number;
	while (i > 0 && (acts[i - 1].kind == TB_ACT_CLAIM || acts[i - 1].kind == TB_ACT_SIDE))
		i--;
	const tb_act *before = i > 0 ? &acts[i - 1] : NULL;
	return before != NULL && (before->kind == TB_ACT_TURN || before->kind == TB_ACT_DO_NOT_TURN) ? before : NULL;
}

/* Refuses ACT, number I of SAID, where the words before it have said already whether the work is turned. */
static bool refuse_turn(GArray *acts, const GArray *said, guint i)
{
	const tb_act *act = &g_array_index(said, tb_act, i);
	bool turns = act->kind == TB_ACT_TURN;
	const tb_act *before = turns || act->kind == TB_ACT_DO_NOT_TURN ? find_turn_before(said, i) : NULL;
	if (before == NULL || (!turns && before->kind == act->kind))
		return false;
	if (before->kind != act->kind)
		tb_acts_refuse(acts, act, "side-turn", "whether the work is turned here is said both ways", "Strike out one of them.");
	else
		tb_acts_refuse(acts, act, "side-turn", "the work is turned twice here, so that the same side is seen again",
			"Say once that it is turned, or not at all.");
	return true;
}

void tb_sentence_set_acts(tb_sentence *sentence, tb_arena *arena, const GArray *as_written)
{
	g_autoptr(GArray) said = tb_script_begin(arena, as_written, sentence->is_round);
	set_surface(sentence, arena, said);
	g_autoptr(GArray) acts = g_array_new(FALSE, FALSE, sizeof(tb_act));
	g_autoptr(GArray) claims = g_array_new(FALSE, FALSE, sizeof(tb_claim));
	sentence->within = NULL;
	guint told = 0; /* the claims before the last act that has some */
	for (guint i = 0; i < said->len; i++) {
		const tb_act *act = &g_array_index(said, tb_act, i);
		bool of_claim = i > 0 && act[-1].kind == TB_ACT_CLAIM && told < claims->len;
		tb_act *last = acts->len > 0 ? &g_array_index(acts, tb_act, acts->len - 1) : NULL;
		if (is_of_none(act, 0)) {
			tb_acts_refuse(acts, act, "times-zero", "0 stitches are none", "Write how many; in a size bracket 0 leaves a size out.");
			continue;
		}
		if ((act->kind == TB_ACT_WORK || act->kind == TB_ACT_REPEAT) && act->place.to_begin && !sentence->is_round) {
			tb_acts_refuse(acts, act, "place-missing", "a row goes to its end, and a round alone to its beginning", "Write “to end”.");
			continue;
		}
		if (refuse_turn(acts, said, i))
			continue;
		if (act->kind == TB_ACT_CLAIM && act->mark != TB_MARK_NONE) {
			if (last != NULL) {
				tb_build_put_mark(arena, act, last);
			} else {
				tb_act *marks = tb_arena_new(arena, tb_act);
				*marks = sentence->marks != NULL ? *sentence->marks : *act;
				if (sentence->marks != NULL)
					tb_build_put_mark(arena, act, marks);
				sentence->marks = marks;
			}
			continue;
		}
		/* "23 dc, counting ch-3 as 1 dc"; "dc in each st, including the top of ch-3" */
		bool of_chain = tb_claim_is_of_chain(act);
		of_claim = of_claim && (of_chain ||
			(act->kind == TB_ACT_SKIPPED_COUNT && act->counts == TB_COUNTS && !act->after_stop));
		if (of_claim)
			tb_claim_say_chain(act, &g_array_index(claims, tb_claim, told), claims->len - told);
		if (of_claim || of_chain)
			continue;
		if (tb_claim_is_of_act(act) && tb_claim_add_to_last(act, acts)) {
			/* at the row's end it may be the row's own as well */
			if (!tb_is_work_behind(said, i))
				g_array_append_vals(claims, act->claims, act->claim_count);
			continue;
		}
		if (act->kind == TB_ACT_CLAIM && act->claim_count > 0 && act->claims[0].bare &&
			tb_is_work_behind(said, i)) {
			tb_acts_refuse(acts, act, "claim-not-last", "more is worked after this count", "Put the count at the row's end.");
		} else if (act->kind == TB_ACT_CLAIM && act->claim_count > 0 && !tb_claim_add_partial(arena, said, i, acts)) {
			guint before = told = claims->len;
			g_array_append_vals(claims, act->claims, act->claim_count);
			/* "… (18), sc in last st": that is not the count of the row's end */
			for (guint k = before; k < claims->len && tb_is_work_behind(said, i); k++)
				g_array_index(claims, tb_claim, k).early = true;
		}
		else if (act->kind == TB_ACT_SIDE && is_against(sentence, said, i))
			tb_acts_refuse(acts, act, "side-turn", "the row is said to be of the other side",
				"Change one of them, or say where the work is turned.");
		else if (act->kind == TB_ACT_SIDE && sentence->side == TB_SIDE_UNSAID) {
			sentence->side = act->side;
			sentence->side_span = act->span;
		} else if (act->kind == TB_ACT_SKIPPED_COUNT && acts->len == 0)
			g_array_append_val(acts, *act); /* a definition's: of the chain that stands before where it is worked */
		else if (act->kind == TB_ACT_SKIPPED_COUNT)
			tb_build_say_count(acts, arena, act);
		else if (act->kind == TB_ACT_LOOPS && (act->always || !tb_is_work_behind(said, i))) {
			/* behind all work it is said of what stands before it */
			sentence->loops = act->place.loops;
			sentence->always = act->always;
			if (act->place.of_row == 0)
				continue;
		}
		sentence->not_turned_first = sentence->not_turned_first || (act->kind == TB_ACT_DO_NOT_TURN && tb_is_work_behind(said, i));
		sentence->not_turned = sentence->not_turned || act->kind == TB_ACT_DO_NOT_TURN;
		bool behind = act->kind == TB_ACT_NOT_BEHIND && last != NULL && last->kind == TB_ACT_WORK &&
			last->stitch != NULL && last->stitch->post != TB_POST_NONE;
		if (behind)
			last->do_not_skip_behind = true;
		if (act->kind == TB_ACT_WITHIN && tb_is_work_behind(said, i)) {
			tb_sentence_set_within(sentence, arena, act, acts);
			continue;
		}
		if (act->kind == TB_ACT_LEAVE && act->these) {
			tb_sentence_add_these(act, tb_is_work_behind(said, i), acts, claims);
			continue;
		}
		if (is_said_aside(act) && (behind || act->kind != TB_ACT_NOT_BEHIND))
			continue;
		g_array_append_val(acts, *act);
		tb_act *added = &g_array_index(acts, tb_act, acts->len - 1);
		if (act->kind == TB_ACT_NOT_BEHIND)
			added->kind = TB_ACT_CANNOT;
		if (is_first_worked(acts) && begins_with_join(sentence, said, i))
			added->kind = TB_ACT_JOIN_YARN;
	}
	tb_build_refuse_torn(acts);
	tb_sentence_refuse_counts(sentence, acts);
	merge_kinds(acts, arena);
	tb_reader_round_acts(acts, arena);
	if (claims->len > TB_LIMIT_CLAIMS) {
		tb_act too_many = {.span = g_array_index(claims, tb_claim, TB_LIMIT_CLAIMS).span};
		tb_acts_refuse(acts, &too_many, "limit-claims", "a row is not said to count so many things", "Say once what the row counts.");
		g_array_set_size(claims, 0);
	}
	size_t bytes = claims->len * sizeof(tb_claim);
	tb_claim *copy = tb_arena_take(arena, MAX(bytes, 1));
	if (bytes > 0)
		memcpy(copy, claims->data, bytes);
	sentence->claims = copy;
	sentence->claim_count = claims->len;
	sentence->acts = tb_acts_keep(arena, acts);
}
