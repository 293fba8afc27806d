/* Stitches torn from their place: "sc | in first dc", "sk 1 | dc", "join in first | sc", "to last 2 | sc". */
#include "notation/build.h"

#include "support/limits.h"

/* As many bytes as "into " has: behind them a place begins where a stitch would stand in front. */
#define IN_FRONT 6u

static bool is_alone(const tb_act *act)
{
	return act->kind == TB_ACT_WORK && act->bare && tb_number_is(&act->place.count, 1) && tb_number_is(&act->each, 1);
}

static bool begins_with_place(const tb_act *act)
{
	return (act->kind == TB_ACT_WORK || act->kind == TB_ACT_GROUP) && !act->bare && act->place.span.start > act->span.start &&
		act->place.span.start - act->span.start < IN_FRONT;
}

guint32 tb_build_place_ahead(const tb_value *value, const tb_act *act)
{
	return tb_build_has(value, TB_SLOT_place) && begins_with_place(act) ? act->span.start : 0;
}

/* "Sk 1 dc" is no skip and a dc behind it, nor "sk next dc, dc in last dc" two in the last one. */
static bool is_its_noun(const tb_act *before, const tb_act *act)
{
	bool group = act->kind == TB_ACT_GROUP && act->body.count > 0 && act->body.acts[0].span.start == act->span.start;
	const tb_act *first = group ? act->body.acts : act;
	/* "in next | 5 ch" */
	bool chains = act->kind == TB_ACT_CHAIN && act->bare;
	/* "sc in next 2 dec": no place is called so */
	if (!chains && (first->kind != TB_ACT_WORK || !first->bare || first->stitch == NULL || first->stitch->takes != 1 || first->stitch->legs != 1))
		return false;
	bool waits = before->kind == TB_ACT_SKIP || before->kind == TB_ACT_JOIN || (before->kind == TB_ACT_REPEAT && before->ends == 0);
	return (waits || (before->kind == TB_ACT_WORK && !before->bare && (group || chains || is_alone(act) || before->place.nameless))) &&
		act->span.start <= before->span.end + 1 && act->span.start > before->span.start;
}

/*
 * "2 dc, ch 2, 2 dc in next st", "dc, ch 1, dc in each st": all of it goes there, and the first are not worked
 * in stitches of their own before it. ACT is the last of the three, with others before it.
 */
static bool is_half_of_group(const tb_act *act)
{
	const tb_act *chain = act - 1, *first = act - 2;
	bool each = act->kind == TB_ACT_WORK && act->place.in == TB_IN_EACH;
	return act->kind == TB_ACT_WORK && !act->bare && act->stitch != NULL && chain->kind == TB_ACT_CHAIN &&
		first->kind == TB_ACT_WORK && first->bare && first->stitch == act->stitch && first->place.in == TB_IN_NEXT &&
		act->each.count == 1 && tb_number_is(&first->place.count, act->each.values[0]) &&
		(each || (act->each.values[0] > 1 && tb_number_is(&act->place.count, 1)));
}

static void refuse(tb_act *act, const char *why, const char *hint)
{
	act->kind = TB_ACT_CANNOT;
	act->code = "place-missing";
	act->why = why;
	act->hint = hint;
}

/* "Beg V-st (ch 4, dc) in next st" is no V-st and a group behind it. */
static bool is_told_again(const tb_act *before, const tb_act *act)
{
	bool named = is_alone(before) || (before->kind == TB_ACT_GROUP && before->bare);
	return named && act->kind == TB_ACT_GROUP && act->span.start <= before->span.end + 1 && act->span.start > before->span.start;
}

/* "Sc dec in first 2 sts" is one stitch, and no sc and a dec. */
static bool is_compound(const tb_act *before, const tb_act *act)
{
	return is_alone(before) && act->kind == TB_ACT_WORK && !act->bare && act->stitch != NULL && act->stitch->takes > 1 &&
		act->span.start <= before->span.end + 1 && act->span.start > before->span.start;
}

/* "2 sc", and no increase or decrease. */
static bool is_plain(const tb_act *act)
{
	return act->kind == TB_ACT_WORK && act->stitch != NULL && act->stitch->takes == 1 && act->stitch->legs == 1 &&
		act->stitch->form != TB_FORM_SLIP && tb_number_is(&act->each, 1);
}

/* "Inc", "sc2tog", "2 sc in next st" */
static bool is_shaped(const tb_act *act)
{
	return act->kind == TB_ACT_WORK && act->stitch != NULL && (act->stitch->takes > 1 || !tb_number_is(&act->each, 1));
}

bool tb_build_ends_shaped(const tb_acts *acts)
{
	for (unsigned i = 0; i + 1 < acts->count; i++) {
		if (!is_plain(&acts->acts[i]))
			return false;
	}
	return acts->count > 1 && is_shaped(&acts->acts[acts->count - 1]);
}

/* "Sc, inc around" is a repeat of both: no increase in each stitch goes behind one sc; "to last st" says how far. */
static bool is_cut_short(const tb_act *before, const tb_act *act)
{
	const tb_number *left = act->kind == TB_ACT_REPEAT ? &act->count : &act->place.count;
	bool whole = left->count == 0 || tb_number_is(left, 0);
	return whole && is_plain(before) && before->bare && act->along && (act->kind == TB_ACT_REPEAT || is_shaped(act));
}

/* "28 sc evenly along edge (1 sc in the end of each row)": the same stitches told once more, or others. */
static bool is_edge_told_again(const tb_act *before, const tb_act *act)
{
	return before->kind == TB_ACT_WORK && act->kind == TB_ACT_WORK && before->place.in == TB_IN_EDGE &&
		act->place.in == TB_IN_EDGE && act->span.start > before->span.start && act->beside;
}

/* "24 sc along side edge, 2 in the end of each row" tells how the same stitches lie, and is proved on them. */
static bool is_edge_proof(const tb_act *before, const tb_act *act)
{
	return act->stitch == before->stitch && (act->row_ends || act->in_rows) && !before->unsaid && !before->in_rows &&
		before->in_each.count == 0;
}

static bool is_torn(const tb_act *before, const tb_act *act)
{
	guint32 start = act->ahead > 0 ? act->ahead : begins_with_place(act) ? act->span.start : 0;
	bool waits = before->kind == TB_ACT_JOIN || (before->kind == TB_ACT_WORK && before->bare);
	return (waits && start > 0 && start <= before->span.end + 1) || is_its_noun(before, act) || is_told_again(before, act) ||
		is_compound(before, act);
}

/* "Ch 3 (counts as dc in last sl st)" behind no slip stitch, "(counts as dc in first st)" behind others. */
static bool stands_elsewhere(const tb_act *acts, unsigned i)
{
	tb_stands stands = acts[i].stands;
	while (i > 0 && (acts[i - 1].kind == TB_ACT_TURN || acts[i - 1].kind == TB_ACT_SIDE || acts[i - 1].kind == TB_ACT_LOOPS))
		i--;
	bool slipped = i > 0 && acts[i - 1].kind == TB_ACT_WORK && acts[i - 1].stitch != NULL && acts[i - 1].stitch->form == TB_FORM_SLIP;
	return stands != TB_STANDS_UNSAID && i > 0 && !(slipped && stands == TB_STANDS_ON_SLIP);
}

static void refuse_in(tb_act *acts, unsigned count, unsigned depth)
{
	for (unsigned i = 0; i < count; i++) {
		tb_act *act = &acts[i];
		if (i > 0 && is_torn(act - 1, act))
			refuse(act, "where the stitch before this goes is not said", "Part them by a comma, as in “sc, in next st 2 dc”.");
		else if (i > 0 && is_cut_short(act - 1, act))
			refuse(act, "how much is repeated is not said", "Put it in brackets, as in “(sc, inc) around”.");
		else if (i > 0 && is_edge_told_again(act - 1, act) && is_edge_proof(act - 1, act))
			act->proves = true;
		else if (i > 0 && is_edge_told_again(act - 1, act))
			refuse(act, "whether these are the same stitches or more is not said", "Say them once.");
		else if (stands_elsewhere(acts, i))
			refuse(act, "no such stitch stands below this chain", "Say it of a chain that begins the row, or stands behind slip stitches.");
		else if (i > 1 && is_half_of_group(act))
			refuse(act, "where the stitches before the chain go is not said", "Put brackets around what goes in one place.");
		else if (act->kind == TB_ACT_REPEAT && depth < TB_LIMIT_NESTING)
			refuse_in((tb_act *)act->body.acts, act->body.count, depth + 1);
	}
}

void tb_build_refuse_torn(GArray *acts)
{
	refuse_in((tb_act *)(void *)acts->data, acts->len, 0);
}
