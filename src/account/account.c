/* What is wrong with a finished row: stitches left unworked, and a count claimed wrong. */
#include "account/account.h"

#include "acts/travel.h"
#include "hands/row.h"
#include "places/loose.h"
#include "places/mark.h"
#include "places/neighbour.h"
#include "places/place.h"
#include "places/spiral.h"
#include "places/within.h"

#include <math.h>
#include <string.h>

/* A quarter of the row and more: nobody miscounts by that, and who turns there means it. */
static bool leaves_much(const tb_hands *h)
{
	guint32 count = tb_place_count(h) - MIN(h->now.beyond, tb_place_count(h));
	const tb_acts *acts = &h->sentence->acts;
	if (acts->count == 0 || acts->acts[acts->count - 1].kind != TB_ACT_TURN)
		return false;
	return count >= 8 && h->cursor.due < count && (count - h->cursor.due) * 4 >= count;
}

/*
 * "3 ch, 1 dc in each of next 47 dc, turn": behind rounds that were joined and never turned, a round that is
 * turned before it comes back is a row, as of a hood whose neck is left.
 */
static bool begins_rows(const tb_hands *h)
{
	const tb_act *last = h->now.tail > 0 ? &h->sentence->acts.acts[h->now.tail - 1] : NULL;
	if (h->row < 3 || h->cursor.joined || h->now.repeating > 0 || last == NULL || last->kind != TB_ACT_WORK ||
		last->place.in != TB_IN_NEXT || tb_hands_number(h, &last->place.count, 1) < 3)
		return false;
	for (unsigned back = 1; back <= 2; back++) {
		const tb_sentence *below = tb_hands_row(h, h->row - back)->sentence;
		bool turned = below == NULL || !below->is_round || !tb_spiral_is_joined(below);
		for (unsigned i = 0; below != NULL && i < below->acts.count; i++)
			turned = turned || below->acts.acts[i].kind == TB_ACT_TURN;
		if (turned)
			return false;
	}
	return true;
}

/*
 * "Sc in first 10 sts, turn. (10)": a row that ends where it is turned, so many stitches being named,
 * and whose count agrees, is short on purpose; so is one in a piece that was short before.
 */
static bool is_short_row(const tb_hands *h)
{
	const tb_acts *acts = &h->sentence->acts;
	bool named = false, group = false;
	if (tb_within_is_said(h))
		return false;
	/* "sc to last 3 sts" says which are left */
	const tb_act *last = h->now.tail > 0 ? &acts->acts[h->now.tail - 1] : NULL;
	if (last != NULL && !h->sentence->is_round && last->kind == TB_ACT_WORK &&
		last->place.in == TB_IN_EACH && tb_hands_number(h, &last->place.count, 0) > 0)
		return true;
	/* "rep from * to last 4 sts, turn. (44 sts)" */
	if (last != NULL && !h->sentence->is_round && h->sentence->claim_count > 0 && last->kind == TB_ACT_REPEAT && last->until == TB_UNTIL_END &&
		last->place.in != TB_IN_LAST && last->ends == 0 && tb_hands_number(h, &last->count, 0) > 0)
		return true;
	bool first_row = begins_rows(h);
	/* "dc in next 5 dc. (6 dc) Fasten off." */
	bool ended = tb_within_is_ended(h) && h->sentence->claim_count > 0;
	if ((!h->cursor.turned && !ended) || (h->sentence->is_round && !first_row))
		return false;
	for (unsigned i = 0; i < acts->count; i++) {
		const tb_act *act = &acts->acts[i];
		if (act->kind == TB_ACT_WORK)
			named = act->place.in == TB_IN_NEXT || act->place.in == TB_IN_FIRST;
		else if (act->kind == TB_ACT_REPEAT || act->kind == TB_ACT_GROUP)
			named = false;
		if (act->kind == TB_ACT_WORK || act->kind == TB_ACT_REPEAT || act->kind == TB_ACT_GROUP)
			group = act->kind == TB_ACT_GROUP && act->place.in == TB_IN_NEXT;
	}
	/* "shell over shell, turn": an edging leaves its fan, and goes on with the heading */
	if (group && leaves_much(h))
		return true;
	bool counted = false;
	for (unsigned i = 0; i < h->sentence->claim_count; i++)
		counted = counted || !h->sentence->claims[i].other;
	/* slipped over at its beginning, turned before its end: an armhole */
	return named && (counted || h->before.was_short || h->now.travelled || leaves_much(h) || first_row);
}

/*
 * "(2 dc, ch 2, 2 dc) in ch-2 sp, ch 5, turn": the long turning chain of an edging stands free beside
 * the shell, and the next row ends in the shell.
 */
static bool is_free_chain(const tb_hands *h, guint32 from)
{
	guint32 end = tb_place_count(h), i = end;
	const tb_made *last = end - from >= 2 ? tb_hands_made(h, tb_hands_place(h, end - 1)) : NULL;
	if (!h->cursor.in_space || h->sentence->is_round || last == NULL || !(last->flags & TB_MADE_TURNING))
		return false;
	while (i > from && tb_hands_made(h, tb_hands_place(h, i - 1))->flags & (TB_MADE_TURNING | TB_MADE_CHAIN))
		i--;
	/* so many chains are skipped before a first row's shell: they are a loop beside it */
	bool loop = last->row == h->now.corner.row && h->now.corner.skipped > (unsigned)last->chains;
	if (i + 2 > end && !loop)
		return false;
	/* before it the stitches that border the space */
	for (guint32 k = from; k < i; k++) {
		if (tb_hands_made(h, tb_hands_place(h, k))->flags & TB_MADE_CHAIN)
			return false;
	}
	return true;
}

static bool only_slips(const tb_hands *h)
{
	const tb_acts *acts = &h->sentence->acts;
	unsigned slips = 0;
	for (unsigned i = 0; i < acts->count; i++) {
		const tb_act *act = &acts->acts[i];
		slips += act->kind == TB_ACT_WORK && act->stitch == h->working->slip;
		if (act->kind == TB_ACT_WORK ? act->stitch != h->working->slip :
			act->kind != TB_ACT_FASTEN_OFF && act->kind != TB_ACT_JOIN)
			return false;
	}
	return slips > 0;
}

/*
 * "Ch 3, 2 dc in same st, … 2 dc in same st as beg ch-3": what is left from FROM on stands where the round
 * below began, and is the second half of its first shell, which was worked already.
 */
static bool is_half_of_first(const tb_hands *h, guint32 from)
{
	guint32 count = tb_place_count(h);
	if (!h->sentence->is_round || h->row < 3 || from == 0 || from >= count)
		return false;
	const tb_made *first = tb_hands_made(h, tb_hands_place(h, 0));
	const tb_made *second = tb_hands_made(h, tb_hands_place(h, 1));
	guint32 base = second->base_count > 0 ? tb_hands_base(h, second, 0) : TB_NONE;
	if (!(first->flags & TB_MADE_TURNING) || base == TB_NONE)
		return false;
	for (guint32 i = from; i < count; i++) {
		const tb_made *left = tb_hands_made(h, tb_hands_place(h, i));
		if (left->base_count != 1 || tb_hands_base(h, left, 0) != base)
			return false;
	}
	return true;
}

static bool are_chains(const tb_hands *h, guint32 from)
{
	for (guint32 i = from; i < tb_place_count(h); i++) {
		if (!(tb_hands_made(h, tb_hands_place(h, i))->flags & TB_MADE_CHAIN))
			return false;
	}
	return true;
}

/* "Sc in each st to last 3 sts, turn" says it all, and so does a count behind it: whether LEFT stitches are said so. */
static bool are_said(const tb_hands *h, guint32 left)
{
	const tb_acts *acts = &h->sentence->acts;
	bool counted = h->sentence->claim_count > 0;
	unsigned i = h->now.tail;
	for (; i > 0 && (acts->acts[i - 1].kind == TB_ACT_CLAIM || acts->acts[i - 1].kind == TB_ACT_FASTEN_OFF); i--)
		counted = counted || acts->acts[i - 1].kind == TB_ACT_CLAIM;
	const tb_act *last = i > 0 ? &acts->acts[i - 1] : NULL;
	return (h->cursor.turned || counted) && last != NULL && last->kind == TB_ACT_WORK && last->place.in == TB_IN_EACH &&
		!h->sentence->is_round && tb_hands_number(h, &last->place.count, 0) == left;
}

static void check_unworked(tb_hands *h)
{
	const tb_cursor *c = &h->cursor;
	guint32 count = tb_place_count(h);
	/* "sl st in next st, fasten off" ends a piece */
	if (h->sentence->is_round && only_slips(h))
		return;
	/* a round that begins in a space ends before what borders it, and is passed over like before others */
	if (h->sentence->is_round && h->now.travelled && c->before_space > 0 &&
		c->due + c->before_space == count &&
		tb_hands_made(h, tb_hands_place(h, 0))->flags & TB_MADE_CHAIN)
		return;
	/* turned, the first of the group that it ends before is under the chain it began with */
	if (h->sentence->is_round && !h->now.travelled && c->before_space > 1 && c->due + c->before_space - 1 == count &&
		tb_travel_is_turned_round(h))
		return;
	/* "12 sc evenly around" an opening */
	if (h->start.opening && h->row == 1 && c->edges > 0 && c->due <= 1)
		return;
	/* of an earlier round only some stitches are free, and chains lie between them */
	if (h->now.on_row > 0 && are_chains(h, c->due))
		return;
	if (c->over || c->left || c->due + h->now.spare + h->now.beyond + h->now.stands_on_last >= count ||
		tb_place_rest_is_border(h, c->due) || is_half_of_first(h, c->due) ||
		tb_place_rest_is_amid(h, c->due) || tb_place_rest_is_passed_alike(h, c->due) ||
		tb_place_rest_is_between(h, c->due))
		return;
	const tb_acts *acts = &h->sentence->acts;
	tb_span span = acts->count > 0 ? acts->acts[acts->count - 1].span : h->sentence->span;
	/* the words of the row that were worked last, not those that turn it */
	for (unsigned i = acts->count; i-- > 0;) {
		if (acts->acts[i].kind == TB_ACT_WORK || acts->acts[i].kind == TB_ACT_REPEAT ||
			acts->acts[i].kind == TB_ACT_GROUP || acts->acts[i].kind == TB_ACT_SKIP) {
			span = acts->acts[i].span;
			break;
		}
	}
	guint32 left = count - c->due;
	if (are_said(h, left))
		return;
	if (is_short_row(h) || is_free_chain(h, c->due)) {
		tb_hands_tell(h, TB_WARNING, "unworked-unsaid", span,
			"Say \"leave rem sts unworked\" where a row is short on purpose.",
			"%u of %u st%s %s left unworked at the end of the row", left, count,
			count == 1 ? "" : "s", left == 1 ? "is" : "are");
		return;
	}
	g_autofree char *chains = h->working->repair(h, left, false);
	g_autofree char *hint = g_strdup_printf("%u st%s there, the %s takes %u. Work into the rest, "
											"or say \"leave rem sts unworked\".%s%s%s",
		count, count == 1 ? " is" : "s are", h->sentence->is_round ? "round" : "row",
		c->due - c->first, chains != NULL ? " Or start with " : "", chains != NULL ? chains : "",
		chains != NULL ? "." : "");
	tb_hands_tell(h, TB_ERROR, "unworked", span, hint,
		"%u of %u st%s %s left unworked at the end of the %s", left, count, count == 1 ? "" : "s",
		left == 1 ? "is" : "are", h->sentence->is_round ? "round" : "row");
}

/* The one stitch that CLAIM counts, whatever it is called; NULL where it is several. */
static const tb_stitch *claimed_stitch(const tb_claim *claim)
{
	const tb_own *own = claim->own;
	if (own == NULL || own->stitch != NULL)
		return own == NULL ? claim->stitch : own->stitch;
	bool one = own->acts.count == 1 && own->acts.acts[0].kind == TB_ACT_WORK &&
		tb_number_is(&own->acts.acts[0].place.count, 1);
	return one ? own->acts.acts[0].stitch : NULL;
}

/* "(12 mb, 2 sc)", where an mb is made as a sc is: whether so many are made as are claimed in all. */
static bool are_alike(const tb_hands *h, const tb_claim *one)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	const tb_stitch *stitch = claimed_stitch(one);
	unsigned said = 0, made = 0;
	bool named = false;
	for (unsigned i = 0; stitch != NULL && !named && i < h->sentence->claim_count; i++)
		named = h->sentence->claims[i].own != NULL && claimed_stitch(&h->sentence->claims[i]) == stitch;
	if (!named)
		return false;
	for (unsigned i = 0; i < h->sentence->claim_count; i++) {
		const tb_claim *claim = &h->sentence->claims[i];
		if (claimed_stitch(claim) != stitch || claim->other)
			continue;
		said += tb_hands_number(h, &claim->count, 0);
	}
	for (guint32 i = 0; i < row->count; i++)
		made += tb_hands_made(h, row->first + i)->stitch == stitch->number;
	return made > 0 && said == made;
}

/*
 * "Ch 3, dc4tog (cluster made), *ch 7, cluster over next 5 dc*": the chain is a leg of the first, and the
 * others have one leg more; all are clusters.
 */
static bool is_first_cluster(const tb_hands *h, const tb_stitch *stitch, const tb_stitch *other)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	if (stitch->legs < 2 || other == NULL || other->legs != stitch->legs + 1 || other->family != stitch->family ||
		fabs(other->height - stitch->height) > 0.01 || row->count < 2 ||
		!(tb_hands_made(h, row->first)->flags & TB_MADE_TURNING))
		return false;
	return tb_hands_made(h, row->first + 1)->stitch == stitch->number;
}

/* Stitches of the row that are several of the kind STITCH drawn together, or one around a post. */
static unsigned count_kin(const tb_hands *h, const tb_stitch *stitch)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	unsigned count = 0;
	for (guint32 i = 0; stitch != NULL && i < row->count; i++) {
		const tb_stitch *made = tb_hands_stitch(h, tb_hands_made(h, row->first + i));
		count += tb_rule_is_together(made, stitch) || is_first_cluster(h, stitch, made) ||
			tb_place_is_post_of(h, row->first + i, stitch);
	}
	return count;
}

/* "Dc2tog, dc in next 12 dc: 12 dc" of 13 sts: SAID is one kind alone, where a row's one count is of all of them. */
static void warn_without_together(tb_hands *h, const tb_claim *claim, unsigned said)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	unsigned together = 0;
	for (guint32 i = 0; claim->stitch != NULL && i < row->count; i++)
		together += tb_rule_is_together(tb_hands_stitch(h, tb_hands_made(h, row->first + i)), claim->stitch);
	if (together > 0)
		tb_hands_tell(h, TB_WARNING, "count-without-together", claim->span, "Count all the stitches of the row.",
			"this count of %u leaves out %u st%s that %s worked together; the row has %u", said, together,
			together == 1 ? "" : "s", together == 1 ? "is" : "are", row->stitches);
}

/*
 * Some designers count a turning chain that stands for a stitch, and some do not; one designer does
 * the one or the other all through a piece. A count that is one less than the row is not made right by it
 * where the text says that the chain counts, or where the counts before had it. Behind rows that are worked again
 * it says how the piece now stands: another number than before is a wrong one there.
 */
static void check_same_way(tb_hands *h, const tb_claim *claim, bool has_it)
{
	guint32 *mine = has_it ? &h->before.row_with_turning : &h->before.row_without_turning;
	guint32 other = has_it ? h->before.row_without_turning : h->before.row_with_turning;
	const tb_made_row *row = tb_hands_row(h, h->row);
	tb_severity severity = !has_it && row->written != row->number ? TB_ERROR : TB_WARNING;
	if (has_it && claim->count.count > 1)
		tb_hands_note_size(h, TB_GATHER_WITH_CHAIN, claim->span);
	if (!has_it && !h->now.counted_unsaid)
		tb_hands_tell(h, severity, "count-without-chain", claim->span,
			"Count the first chain too, or say that it does not count.",
			"this count leaves out the first chain, which is said to count as a stitch");
	else if (other > 0 && *mine == 0)
		tb_hands_tell(h, severity, "count-without-chain", claim->span,
			"Count the first chain in every row, or in none.",
			"this count %s the first chain, and that of row %u %s",
			has_it ? "has" : "leaves out", (unsigned)other, has_it ? "leaves it out" : "has it");
	else if (!has_it && claim->count.count > 1)
		tb_hands_note_size(h, TB_GATHER_WITHOUT_CHAIN, claim->span);
	*mine = h->row;
}

/* "20 (24, -) sc" of a row that the last size works as well, with so many COUNTED. */
static void tell_dash(tb_hands *h, const tb_claim *claim, unsigned counted)
{
	if (counted == 0)
		return;
	tb_hands_tell(h, TB_WARNING, "count-unseen", claim->span, "Give its count, or say which sizes work the row.",
		"no count is given, and this %s is worked: it counts %u", tb_hands_row(h, h->row)->is_round ? "round" : "row", counted);
}

/* "(20 sc, same as Row 3)": whether the row has as many stitches as that one. */
static void check_same_as(tb_hands *h, const tb_claim *claim)
{
	const tb_made_row *row = tb_hands_row(h, h->row), *other = NULL;
	for (guint32 i = h->row; i-- > 1 && other == NULL;) {
		const tb_made_row *made = tb_hands_row(h, i);
		if (claim->same_as == TB_SAME_AS_LAST || made->number - made->before == claim->same_as)
			other = made;
	}
	if (other == NULL)
		tb_hands_tell(h, TB_ERROR, "row-missing", claim->span, "Name a row above this one.",
			"the row that this is said to count the same as is not there");
	else if (other->stitches != row->stitches)
		tb_hands_tell(h, TB_ERROR, "count-claimed", claim->span, "Change the count, or the stitches of the row.",
			"counts %u, and row %u, said to be the same, %u", (unsigned)row->stitches, (unsigned)(other->number - other->before),
			(unsigned)other->stitches);
}

/* Checks what is claimed Ith of the row that is looked at. */
static void account_claim(tb_hands *h, const tb_sentence *sentence, unsigned i, guint32 rows)
{
	const tb_claim *claim = &sentence->claims[i];
	/* those were held against the work when it was done */
	if (claim->made || !tb_hands_may_go_on(h, claim->span) || (claim->sizes != 0 && (claim->sizes >> h->size & 1) == 0))
		return;
	tb_hands_look(h, tb_hands_row(h, h->row)->count);
	if (claim->same_as > 0)
		check_same_as(h, claim);
	if ((claim->sides || claim->corners) && claim->count.values != NULL && !claim->early)
		tb_account_sides(h, claim);
	if (claim->share > 0) {
		if (i == 0 || sentence->claims[i - 1].share == 0 || sentence->claims[i - 1].row != claim->row)
			tb_account_sections(h, sentence, i);
		return;
	}
	if (claim->joins)
		tb_neighbour_account(h, claim);
	else if (claim->gore)
		tb_mark_account(h, claim);
	else if (claim->rows)
		tb_account_rows(h, claim, rows);
	else if (claim->relief != TB_POST_NONE)
		tb_account_relief(h, claim);
	else if (claim->upon != NULL)
		tb_account_upon(h, claim);
	else if (claim->beads)
		tb_account_beads(h, claim);
	else if (claim->colour != NULL)
		tb_account_coloured(h, claim);
	else if (claim->wrong)
		tb_account_wrong(h, claim);
	else if (claim->compared)
		tb_account_change(h, claim, rows);
	else if (claim->of_groups)
		tb_account_each(h, claim);
	else if (claim->between)
		tb_account_between(h, claim);
	else if (claim->clumps)
		tb_account_clumps(h, claim);
	else if (claim->other && !claim->sides && claim->count.values != NULL && claim->count.count > 0 &&
		tb_number_in(&claim->count, h->size) != TB_NOT_IN_SIZE)
		tb_account_things(h, claim, tb_hands_number(h, &claim->count, 0));
	if (claim->other || claim->count.values == NULL || claim->count.count == 0)
		return;
	unsigned said = tb_hands_number(h, &claim->count, 0), with, without;
	tb_account_count(h, claim, &with, &without);
	if (tb_number_in(&claim->count, h->size) == TB_NOT_IN_SIZE) {
		tell_dash(h, claim, with);
		return;
	}
	if (!tb_account_chain(h, sentence, claim, &with, &without))
		return;
	/* sc2tog and BPsc are of the sc */
	unsigned kin = count_kin(h, claim->stitch) + tb_account_several(h, claim->stitch);
	/* the designer's count leaves out a turning chain that nothing said counts; three and
	 * more skipped at the foundation stand there as a dc, named or not */
	const tb_stitch *stitch = claimed_stitch(claim);
	bool post = stitch != NULL && stitch->post != TB_POST_NONE;
	if (stitch != NULL && !post && said == without && said != with && h->now.counted_unsaid &&
		!(h->row == h->now.corner.row && h->now.corner.skipped > 2))
		h->cursor.odd += 2;
	/* "hdc in each st to last 2 sts, hdc2tog: 21 hdc" counts that one as well, where it alone counts */
	bool alone = kin > 0 && sentence->claim_count == 1 && said != with + kin && said != without + kin;
	if (alone)
		h->cursor.odd += 2;
	if (alone && (said == with || said == without))
		warn_without_together(h, claim, said);
	/* "ch 3, dc2tog, dc in each dc: 11 dc" of 12: without the chain, if the rows before had none, or without the two together */
	bool either = kin > 0 && said == with && said == without + kin && sentence->claim_count == 1;
	bool has_it = said == with + kin || (said == with && !(either && h->before.row_without_turning > 0));
	if (either && h->before.row_with_turning > 0)
		warn_without_together(h, claim, said);
	if (stitch != NULL && !post && with == without + 1 && (has_it || said == without || said == without + kin))
		check_same_way(h, claim, has_it);
	if (claim->stitch == NULL && claim->own == NULL && !claim->spaces && with != without && claim->count.count > 1 &&
		(said == with || said == without))
		tb_hands_note_size(h, said == with ? TB_GATHER_WITH_SPACES : TB_GATHER_WITHOUT_SPACES, claim->span);
	if (said == with || said == without || said == with + kin || said == without + kin || are_alike(h, claim))
		return;
	with += kin;
	const char *kind = claim->spaces           ? " spaces"
					   : claim->stitch != NULL ? tb_hands_term(h, claim->stitch)
											   : "";
	/* "sc in each ch (14), turn, sc in each ch (28)": what one side of the chain has */
	if (claim->early && h->now.other_side && said == h->now.first_side)
		return;
	if (claim->early) {
		tb_hands_tell(h, TB_ERROR, "claim-not-last", claim->span, "Put the count at the row's end.",
			"more is worked after this count of %u: the row counts %u%s%s", said, with,
			*kind != '\0' && *kind != ' ' ? " " : "", kind);
		return;
	}
	tb_hands_tell(h, TB_ERROR, "count-claimed", claim->span,
		"Change the count, or the stitches of the row.", "counts %u%s%s, the pattern says %u",
		with, *kind != '\0' && *kind != ' ' ? " " : "", kind, said);
}

/* "Rows 3-5: rep Row 2 (7, 9, 11)": a count of all stitches for each of ROWS rows, and not three of the last. */
static bool are_of_each_row(const tb_sentence *sentence, guint32 rows)
{
	bool each = rows > 1 && sentence->claim_count == rows;
	for (guint32 i = 0; each && i < rows; i++) {
		const tb_claim *claim = &sentence->claims[i];
		each = (claim->stitch == NULL || claim->stitch == sentence->claims[rows - 1].stitch) &&
			!claim->other && !claim->spaces && claim->own == NULL && !claim->early && claim->row == 0;
	}
	return each;
}

/* Which of the last ROWS rows CLAIM is of; the last where none is called so, which is told of one still to come. */
static guint32 find_row(tb_hands *h, guint32 rows, const tb_claim *claim)
{
	guint32 last = (guint32)h->cloth.rows->len - 1;
	for (guint32 i = 0; i < rows && i <= last; i++) {
		if (tb_hands_row(h, last - i)->number == claim->row)
			return last - i;
	}
	const tb_made_row *row = tb_hands_row(h, last);
	if (last > 0 && row->number < claim->row && !row->unsure)
		tb_hands_tell(h, TB_WARNING, "row-to-come", claim->span, "Name a row above this count.",
			"this count is of %s %u, and %u is the last that is worked", row->is_round ? "round" : "row", claim->row, row->number);
	return last;
}

/* "When Row 23 (23, 27) is complete": the row that CLAIM is of in this size; 0, told, where there is none. */
static guint32 find_row_in(tb_hands *h, const tb_claim *claim)
{
	int number = tb_number_in(&claim->row_in, h->size);
	for (guint32 i = (guint32)h->cloth.rows->len; i-- > 1 && number > 0;) {
		const tb_made_row *row = tb_hands_row(h, i);
		tb_hands_look(h, 1);
		if (row->number - row->before == (guint32)number)
			return i;
	}
	if (number > 0)
		tb_hands_tell(h, TB_ERROR, "row-missing", claim->span, "Name a row above this count.", "there is no row %d in this size",
			number);
	return 0;
}

void tb_account_claims(tb_hands *h, const tb_sentence *sentence, guint32 rows)
{
	guint32 last = h->row;
	tb_account_shape(h, sentence, rows);
	bool of_each = h->cloth.rows->len > rows && are_of_each_row(sentence, rows);
	for (unsigned i = 0; i < sentence->claim_count && h->start.only_to == 0; i++) {
		if (sentence->claims[i].row_in.count > 0) {
			h->row = find_row_in(h, &sentence->claims[i]);
			if (h->row > 0)
				account_claim(h, sentence, i, rows);
			continue;
		}
		h->row = of_each ? (guint32)h->cloth.rows->len - rows + i :
			sentence->claims[i].row > 0 && h->cloth.rows->len > 0 ? find_row(h, rows, &sentence->claims[i]) : last;
		account_claim(h, sentence, i, rows);
	}
	h->row = last;
}

void tb_account_row(tb_hands *h, bool claims)
{
	tb_loose_learn(h);
	tb_account_begin(h);
	check_unworked(h);
	/* a row that could not be worked has no count to compare */
	if (claims && !h->teller.row_fault)
		tb_account_claims(h, h->sentence, h->sentence->first > 0 ? tb_row_said(h, h->sentence) : 1);
	tb_account_named(h);
	tb_neighbour_sides(h);
}
