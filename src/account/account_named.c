/*
 * "Skip next 4 dc" over a row of sc, "top of ch-4" where a row begins with 3: a plain stitch or a chain that the row's
 * words name is made in it, or lies in one of the rows below, or something else is meant.
 */
#include "account/account.h"
#include "places/place.h"

#include <math.h>

/* So many rows down a stitch is looked for. */
#define DEEPEST 6u

/* Whether the stitch at INDEX is a NAMED, one as tall drawn together or around a post, or a chain that may stand for it. */
static bool is_like(const tb_hands *h, guint32 index, const tb_stitch *named)
{
	const tb_made *made = tb_hands_made(h, index);
	const tb_stitch *stitch = tb_hands_stitch(h, made);
	if (made->flags & TB_MADE_TURNING)
		return (made->flags & TB_MADE_COUNTED) && abs((int)made->chains - (int)tb_stitch_chains(named)) <= 1;
	return !(made->flags & TB_MADE_CHAIN) && (tb_place_is_kind(h, index, named) || fabs(stitch->height - named->height) < 0.01);
}

/* Whether ROW has a space of so many CHAINS, or begins with so many; a space behind the turning chain may be of that. */
static bool has_chains(const tb_hands *h, const tb_made_row *row, unsigned chains)
{
	unsigned run = 0, turning = 0;
	for (guint32 i = row->first; i <= row->first + row->count; i++) {
		const tb_made *made = i < row->first + row->count ? tb_hands_made(h, i) : NULL;
		if (made != NULL && made->flags & TB_MADE_CHAIN && !(made->flags & TB_MADE_TURNING)) {
			run++;
			continue;
		}
		if (run > 0 && (run == chains || run + turning == chains))
			return true;
		turning = made != NULL && made->flags & TB_MADE_TURNING ? made->chains : 0;
		run = 0;
		/* "ch 5 (counts as ch-4 loop)": one of them stands for the sc before the loop */
		if (turning == chains || (turning > chains && (made->flags & TB_MADE_COUNTED) == 0))
			return true;
	}
	return false;
}

/* Whether so many CHAINS are made among ACTS. */
static bool makes_chains(const tb_hands *h, const tb_acts *acts, unsigned chains, unsigned depth)
{
	for (unsigned i = 0; i < acts->count && depth < TB_LIMIT_NESTING; i++) {
		const tb_act *act = &acts->acts[i];
		if ((act->kind == TB_ACT_CHAIN && tb_hands_number(h, &act->count, 1) == chains) ||
			makes_chains(h, &act->body, chains, depth + 1))
			return true;
	}
	return false;
}

static bool row_has(const tb_hands *h, guint32 row, const tb_named *named)
{
	const tb_made_row *made = tb_hands_row(h, row);
	bool has = made->taken || made->elsewhere || made->along;
	if (named->stitch == NULL)
		return has || has_chains(h, made, named->chains) ||
			(made->sentence != NULL && makes_chains(h, &made->sentence->acts, named->chains, 0));
	for (guint32 i = made->first; i < made->first + made->count && !has; i++)
		has = is_like(h, i, named->stitch);
	return has;
}

/* "Sc in first st, ch 1 (counts as dc)": whether the NAMED stitch is a part of another. */
static bool is_foot(const tb_acts *acts, const tb_stitch *named)
{
	bool foot = false;
	for (unsigned i = 0; i < acts->count && !foot; i++)
		foot = acts->acts[i].foot == named;
	return foot;
}

void tb_account_named(tb_hands *h)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	const tb_sentence *sentence = h->sentence;
	if (row->written != row->number || h->teller.row_fault || h->row == 0 || (h->row < DEEPEST && h->start.grown))
		return;
	for (unsigned i = 0; i < sentence->named_count; i++) {
		const tb_named *named = &sentence->named[i];
		bool has = named->stitch != NULL && is_foot(&sentence->acts, named->stitch);
		for (guint32 down = 0; down < DEEPEST && down <= h->row && !has; down++)
			has = row_has(h, h->row - down, named);
		if (!has && named->stitch == NULL)
			tb_hands_tell(h, TB_WARNING, "stitch-unseen", named->span, "Look at how many chains it has.",
				"no ch-%u is made in this %s, nor lies in those below it", named->chains, row->is_round ? "round" : "row");
		else if (!has)
			tb_hands_tell(h, TB_WARNING, "stitch-unseen", named->span, "Look at the name of the stitch.",
				"no %s is made in this %s, nor lies in those below it", tb_hands_term(h, named->stitch), row->is_round ? "round" : "row");
	}
}
