/* Where stitches go: places/place*.c. */
#ifndef TB_PLACES_PLACE_H
#define TB_PLACES_PLACE_H

#include "hands/hands.h"

/* Whether a stitch of PLACE reaches down past the row that is worked into. */
static inline bool tb_place_is_deep(const tb_hands *h, const tb_place *place)
{
	return place->rows_below > 1 && h->now.on_row == 0;
}

/* Where the row below ends, for a row that has not gone beyond it. */
static inline guint32 tb_place_near_end(const tb_hands *h)
{
	guint32 end = h->now.places->len - MIN(h->now.beyond, h->now.places->len);
	return h->cursor.due < end ? end : h->now.places->len;
}

/* Whether the last place of the row below is a turning chain that counts. */
static inline bool tb_place_ends_in_turning(const tb_hands *h)
{
	return h->now.turning_place != TB_NONE && h->now.turning_place + 1 == h->now.places->len;
}

/* Whether the row goes into the foundation chain; whether place I is a chain. */
static inline bool tb_place_is_foundation(const tb_hands *h)
{
	return h->row == 1 && !h->start.grown;
}

static inline bool tb_place_is_chain(const tb_hands *h, guint32 i)
{
	return (tb_hands_made(h, tb_hands_place(h, i))->flags & TB_MADE_CHAIN) != 0;
}

/* How many places there are in the row below. */
static inline guint32 tb_place_count(const tb_hands *h)
{
	return h->now.places->len;
}

/* --- place.c --- */

/*
 * Finds where the next stitch of ACT goes, on as many places as STITCH takes, and moves on behind
 * it. WHICH counts the places of one act from 0. False when there is none, which is told.
 */
bool tb_place_take(
	tb_hands *h, const tb_act *act, const tb_stitch *stitch, unsigned which, tb_footing *footing);
/* Whether what is left up to UNTIL is nothing, or the like of what was passed over before. */
bool tb_place_passes_again(const tb_hands *h, guint32 until);

/* --- place_chain.c --- */

/* Whether EACH stitches are more than go into the turning chain that ACT names, which is told. */
bool tb_place_holds_too_many(tb_hands *h, const tb_act *act, unsigned each);
/* "Side of tr just made": on the last such stitch of this row. */
bool tb_place_take_made(tb_hands *h, const tb_act *act, tb_footing *footing);
/* "sl st in 3rd ch from hook" in the middle of a row: the chains just made, a picot. */
bool tb_place_take_own_chain(tb_hands *h, const tb_act *act, unsigned nth, tb_footing *footing);

/* --- place_close.c --- */

/*
 * Where a round is joined behind a chain, or goes on where it began, what the repeat would skip before
 * its next stitch is skipped as well, said or not.
 */
void tb_place_skip_before_join(tb_hands *h);
/*
 * "*ch 8, sc in center dc of next scallop; rep from *, ch 8, join": whether from the last stitch or group
 * to the first, under the chains made behind it and CHAINS more, it is as far as from the one before to
 * it under as many.
 */
bool tb_place_closes_evenly(const tb_hands *h, guint32 chains);
/* Whether ACT goes where the round begins, so that it may close that. */
bool tb_place_may_close(const tb_hands *h, const tb_act *act);

/* --- place_corner.c --- */

/* Whether the space, or stitch, from BEGIN to END turns a corner of the row below. */
bool tb_place_turns_corner(const tb_hands *h, guint32 begin, guint32 end);
/* Whether the place at I is the middle of so many of the kind named, in one place or side by side. */
bool tb_place_is_amid(const tb_hands *h, const tb_place *place, guint32 i);

/* --- place_deep_gap.c --- */

/*
 * between two groups of a row deeper than the one below, "long sc between the shells of Rnd 2":
 * straight below where the hook stands. False, told, where there is none, or several.
 */
bool tb_place_take_deep_gap(tb_hands *h, const tb_act *act, tb_footing *footing);

/* --- place_edge.c --- */

/* Whether the row goes on to a stitch in its last place, or in the turning chain. */
bool tb_place_goes_on_to_end(const tb_hands *h);
/*
 * "… to turning ch, sc in turning ch sp": where the space beside the turning chain is worked next, so many chains
 * of it are not of what goes to the turning chain; else 0.
 */
guint32 tb_place_turning_space(const tb_hands *h);
/* "Sc in turning ch sp" of chains that are one stitch, with no space beside them: ACT in that stitch, made in UNDER; or ACT. */
const tb_act *tb_place_under_turning(const tb_hands *h, const tb_act *act, tb_act *under);
/*
 * "Ch 4 (dc and ch 1), dc in same st" at a row's edge is a V-st too, with the turning chain for its first
 * stitch. The next row meets it last, and from behind.
 */
bool tb_place_is_edge_group(const tb_hands *h, const tb_own *own, guint32 i, guint32 *end);
/* Whether the turning chain alone stands on what lies from BEGIN to I. */
bool tb_place_is_under_turning(const tb_hands *h, guint32 begin, guint32 i);
/*
 * Where the last stitch of a row is looked for, going back: "dc in last dc, dc in top of ch-3" names the one
 * before the turning chain, though that counts as a dc too.
 */
guint32 tb_place_last_from(const tb_hands *h, const tb_place *place);
/*
 * "Hdc in the unused ch at the end": the chain left out beside the first star of row 1 counts for no stitch, and
 * is worked into where the row above ends in it.
 */
bool tb_place_is_beside_star(const tb_hands *h, guint32 index);

/* --- place_find.c --- */

/* The next place of the kind PLACE asks for. */
bool tb_place_find(const tb_hands *h, const tb_place *place, guint32 *begin);
/* "Sc in each dc around, skipping each ch-1 sp": the last of these, up to LIMIT, are passed over as well. */
void tb_place_pass_left_out(tb_hands *h, const tb_place *place, guint32 limit);
/* Whether there is another place of the kind PLACE asks for before LIMIT. */
bool tb_place_is_left(const tb_hands *h, const tb_place *place, guint32 limit);
/*
 * Where the last places of PLACE's kind begin, as many as its count says, those at
 * BEFORE and behind it left out of account. False when there are not so many.
 */
bool tb_place_find_last(const tb_hands *h, const tb_place *place, guint32 before, guint32 *begin);
/* Where the middle place of the row, of the kind PLACE asks for, begins; TB_NONE where it is another. */
guint32 tb_place_find_central(const tb_hands *h, const tb_place *place);
/* The next place of the kind asked for, at FROM or later; *END is behind it. */
bool tb_place_find_from(
	const tb_hands *h, const tb_place *place, guint32 from, guint32 *begin, guint32 *end);
/*
 * "dc in 3rd st of ch", where that is no turning chain: the row below went on from a slip stitch with a
 * chain, which is the edge of what the row takes. Not behind other stitches than what is due.
 */
bool tb_place_find_inner_edge(const tb_hands *h, const tb_place *place, guint32 *begin);
/* The BACK-th place of the kind asked for, counted from the place at FROM toward the beginning. */
bool tb_place_find_back(const tb_hands *h, const tb_place *place, unsigned back, guint32 from,
	guint32 *begin, guint32 *end);

/* --- place_gap.c --- */

/* "in sp between next 2 dc": as tb_place_take. */
bool tb_place_take_gap(
	tb_hands *h, const tb_act *act, const tb_stitch *stitch, unsigned which, tb_footing *footing);
/* The gap behind a group, where that is the next space; false where it is none. */
bool tb_place_take_gap_of_groups(tb_hands *h, const tb_act *act, tb_footing *footing);
/* Whether ACT goes into a gap between two stitches of a round. */
bool tb_place_is_gap_of_round(const tb_hands *h, const tb_act *act);
/* Whether PLACE is a gap: said so, or a space in a round of gaps. */
bool tb_place_is_gap(const tb_hands *h, const tb_place *place);
/* "Each sp", where no chain is but groups meet: GAPS is ACT in each of those gaps, or between groups as it says. */
bool tb_place_is_each_gap(tb_hands *h, const tb_act *act, tb_act *gaps);
/* Whether there is another gap such as PLACE, one between stitches or groups, asks for. */
bool tb_place_gap_is_left(tb_hands *h, const tb_place *place);

/* --- place_group.c --- */

/* Where the group that stands at place AT begins and ends; false when none does. */
bool tb_place_group(const tb_hands *h, guint32 at, guint32 *begin, guint32 *end);
/* What the stitch AT stands on; a turning chain stands where the stitch behind it does. TB_NONE for other chains. */
guint32 tb_place_foot(const tb_hands *h, guint32 at);

/* --- place_kind.c --- */

/* Popcorns, bobbles, puffs: several stitches made one in one place. */
bool tb_place_is_several(const tb_stitch *stitch);
/* Whether the stitch is of the kind that PLACE names; a space is its chains. */
bool tb_place_is_of(const tb_hands *h, guint32 index, const tb_place *place);
/* Whether the stitch is of the kind NAMED. */
bool tb_place_is_kind(const tb_hands *h, guint32 made, const tb_stitch *named);
/* Whether MADE is the stitch NAMED, worked around a post or into a lower row: FPdc of dc, spike sc of sc. */
bool tb_place_is_post_of(const tb_hands *h, guint32 made, const tb_stitch *named);
/* Whether PLACE, of a kind that is named, means the stitch MADE. */
bool tb_place_is_named(const tb_hands *h, const tb_place *place, guint32 made);
/* Whether a front or back post stitch can go around the stitch. */
bool tb_place_has_post(const tb_hands *h, guint32 made);
/* Whether the places of PLACE are simply the next ones. */
bool tb_place_is_plain(const tb_hands *h, const tb_place *place);
/* The loops that a stitch of PLACE is worked in, as flags. */
unsigned tb_place_loops(const tb_hands *h, const tb_place *place);

/* --- place_limit.c --- */

/* Up to where "each st to next ch-2 sp" goes. */
bool tb_place_find_up_to(tb_hands *h, const tb_place *place, guint32 *limit);

/* --- place_match.c --- */

/* Whether the place at AT is of the kind PLACE asks for. */
bool tb_place_matches(const tb_hands *h, const tb_place *place, guint32 at);
/* … and where it ends. */
bool tb_place_matches_to(const tb_hands *h, const tb_place *place, guint32 at, guint32 *end);
/* Whether the place at AT is what "each st, skipping the ch-1 sps" leaves out, BUT; *END is behind it. */
bool tb_place_is_left_out(const tb_hands *h, const tb_place *but, guint32 at, guint32 *end);

/* --- place_middle.c --- */

/* "the middle dc of 3", "the 3 centre dc", at FROM or later. */
bool tb_place_find_middle(const tb_hands *h, const tb_place *place, guint32 from, guint32 *begin);
/* "To center dc" of a round, which has no middle: that of those side by side which come next. */
bool tb_place_find_in_round(const tb_hands *h, const tb_place *place, guint32 *begin);
/* Where the row goes on behind AT, "the middle dc of 5": behind all in one place with it, else at END. */
guint32 tb_place_behind_rest(tb_hands *h, const tb_place *place, guint32 at, guint32 end);
/* "sc in each sc to next corner, 3 sc in center sc": whether that middle is the place at AT. */
bool tb_place_stopped_at(const tb_hands *h, const tb_place *place, guint32 at);

/* --- place_order.c --- */

/* Whether place I is one of those that are brought; DATA as it was given. */
typedef bool (*tb_place_is_brought)(const tb_hands *h, guint32 i, const void *data);

/* Brings the places from FROM on that are so before the others; how many they are. */
guint32 tb_place_bring(tb_hands *h, guint32 from, tb_place_is_brought is_brought, const void *data);
/* The places of a round from FIRST on, and then those before it. */
void tb_place_rotate(tb_hands *h, guint32 first);

/* --- place_part.c --- */

/* The next GROUP at FROM or later, with the turning chain that it begins with. */
bool tb_place_find_group(const tb_hands *h, const tb_place *group, guint32 from, guint32 *begin, guint32 *end);
/* The middle of the group from BEGIN to END; that of knots is where the first half of them ends. */
guint32 tb_place_middle(const tb_hands *h, guint32 begin, guint32 end);
/* The chain made first of the space that the chain in place AT is of, among the places from BEGIN to END. */
guint32 tb_place_first_of_space(const tb_hands *h, guint32 at, guint32 begin, guint32 end);
/* "3rd dc of next shell", "center st of next group": false where there is none, which is told. */
bool tb_place_take_part(tb_hands *h, const tb_act *act, const tb_stitch *stitch, unsigned which, tb_footing *footing);

/* --- place_picot.c --- */

/* Whether PLACE is a picot, which is none of the places. */
bool tb_place_is_picot(const tb_place *place);
/* The next picot as PLACE names it, and the place that is due behind it; TB_NONE when there is none. */
guint32 tb_place_find_picot(const tb_hands *h, const tb_place *place, guint32 *due);
/* Whether a picot stands between the place before I and that at I. */
bool tb_place_is_behind_picot(const tb_hands *h, guint32 i);
/* The end of the small loop, called a picot, that begins at I; I where none does. */
guint32 tb_place_picot_end(const tb_hands *h, const tb_place *place, guint32 i);
void tb_place_skip_picots(tb_hands *h, const tb_place *place);

/* --- place_rest.c --- */

/* Whether the places from FROM on are only what borders the space worked last. */
bool tb_place_rest_is_border(const tb_hands *h, guint32 from);
/* Whether nothing of this row stands on the places from FROM to TO. */
bool tb_place_are_passed(const tb_hands *h, guint32 from, guint32 to);
/* whether the round passed over the like of what it leaves from FROM on before. */
bool tb_place_rest_is_passed_alike(const tb_hands *h, guint32 from);
/* Whether what is left from FROM on is the rest of a group into whose middle the row goes, as into each. */
bool tb_place_rest_is_amid(const tb_hands *h, guint32 from);
/* "Sc in each dc around" where others stand between: whether what is left from FROM on, and what was passed over
 * before the first dc, is together what was passed over between any two. */
bool tb_place_rest_is_between(const tb_hands *h, guint32 from);

/* --- place_section.c --- */

/* The next of the row's longest spaces from FROM on, at which a part of a garment ends; false where none is left. */
bool tb_place_section_end(const tb_hands *h, guint32 from, guint32 *begin, guint32 *end);

/* --- place_skip.c --- */

/* Skips what a skip act says. */
void tb_place_skip(tb_hands *h, const tb_act *act);

/* --- place_stand.c --- */

/* Where the last slip stitch of the row went; false where none was made. */
bool tb_place_stand_as_slip(const tb_hands *h, tb_footing *footing);
/* Whether the round begins in the loop that closed the one below, and nothing is worked yet. */
bool tb_place_is_fresh_loop(const tb_hands *h);
/* Whether PLACE, "in loop", is the one the hook stands in at the beginning of a round. */
bool tb_place_stands_in(const tb_hands *h, const tb_place *place);
/* Whether no space UP_TO is left because the round has come to where it began, behind the last of them. */
bool tb_place_comes_round(const tb_hands *h, const tb_place *up_to);
/* Whether PLACE, "in first sp", is the space the round began in, with all the others behind it. */
bool tb_place_is_begun_space(const tb_hands *h, const tb_place *place);
/* Where the first stitch of the row went that stands on the row below; false when none does. */
bool tb_place_stand_as_first(const tb_hands *h, tb_footing *footing);
/* Whether the row below was closed by a join, so that its first stitch holds the hook. */
bool tb_place_was_joined(const tb_hands *h);
/* Whether ACT goes into the slip stitch that the round began with. */
bool tb_place_is_own_slip(const tb_hands *h, const tb_act *act);
/* The space the round begins in, where yarn was joined in it, is worked into: what comes is behind it. */
void tb_place_pass_space(tb_hands *h);
/* A chain leads to the join: the stitch of the join, which came last of the round, is not worked. */
void tb_place_leave_join(tb_hands *h);

/* --- place_tell.c --- */

/* The words for COUNT places of the kind PLACE asks for: "3 sts". Owned. */
char *tb_place_words(const tb_hands *h, const tb_place *place, unsigned count);
/* There is no place left as ACT asks for; TAKEN: those it has taken before. */
void tb_place_tell_none(tb_hands *h, const tb_act *act, const tb_stitch *stitch, unsigned taken);
/* "Sc in same 5 sc": the next ones are taken, as none are the same. */
void tb_place_warn_sames(tb_hands *h, const tb_place *place);
/* COUNT stitches are left unworked before the place ACT names. */
void tb_place_tell_passed(tb_hands *h, const tb_act *act, guint32 to);
/* "…, 7 dc in last loop" with other loops before TO, that one: those are forgotten. */
void tb_place_tell_spaces_passed(tb_hands *h, const tb_act *act, guint32 to);
/* "Skip next sc, sc in last sc", with spaces on the way TO that one which nothing skips: warns of them. */
void tb_place_warn_spaces_before_last(tb_hands *h, const tb_act *act, guint32 to);
/* "Dc in last dc" where others like it come before that one. */
void tb_place_tell_named_passed(tb_hands *h, const tb_act *act, guint32 to);
/* "Sc in 3rd st and in each st across": those at the row's beginning, before TO, are passed over unsaid. */
void tb_place_warn_before(tb_hands *h, const tb_act *act, guint32 to);
/* "In center st" of a row of MANY, if that is even: the one TAKEN, counted from 1, is as good as its neighbour. */
void tb_place_warn_middle(tb_hands *h, const tb_act *act, unsigned many, unsigned taken);
/* "dc in next dc" passes over the chains between; over stitches it is nearly always a miscount. */
void tb_place_warn_passed(tb_hands *h, const tb_act *act, guint32 to);
/*
 * The places behind the last space, or from the row's beginning on, where they have been worked one by one up to where
 * the hook stands, and nothing was chained since: so many of them; else 0.
 */
unsigned tb_place_count_worked_side(const tb_hands *h);
/* Of the chain that a later row begins with, added to its edge, what is left before TO: it is foundation. */
void tb_place_tell_chains_left(tb_hands *h, const tb_act *act, guint32 to);
/*
 * "Dc in next 5 dc, 3 dc in next ch-2 sp" where six stand before it: who works stitch by stitch up to a space has
 * miscounted, and who has passed over such stitches from the first does not work them.
 */
void tb_place_warn_before_space(tb_hands *h, const tb_act *act, guint32 to);
/*
 * Who says "each dc" has seen one: where the row has none, its stitches would be fewer than was meant, which is
 * told of ACT. Of all the kinds it names, or of PLACE alone.
 */
bool tb_place_has_kinds(tb_hands *h, const tb_act *act);
bool tb_place_has_kind(tb_hands *h, const tb_act *act, const tb_place *place);

/* --- place_within.c --- */

/* Whether a stitch of the row stands before the hook, on the row below. */
bool tb_place_has_last(const tb_hands *h);
/* "over same st and next 2 sts": the first leg stands beside the last one of the stitch before. */
bool tb_place_share_last(tb_hands *h, const tb_act *act, tb_footing *footing);
/* Where the row goes on behind the space of a shell, from AT to END: there, or behind the shell. */
guint32 tb_place_behind_space(tb_hands *h, guint32 at, guint32 end);
/* Whether PLACE is a space of a group. */
bool tb_place_is_within(const tb_hands *h, const tb_place *place);
/* As tb_place_find_from, for such a one; any space will do where no such group has one. */
bool tb_place_find_within(
	const tb_hands *h, const tb_place *place, guint32 from, guint32 *begin, guint32 *end);
/*
 * Where the row goes on behind the middle AT of a group that ends at END: there, or at the next stitch of the
 * group, which the words may mean as well.
 */
guint32 tb_place_behind_middle(tb_hands *h, guint32 at, guint32 end);

#endif
