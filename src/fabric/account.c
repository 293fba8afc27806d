/* What is wrong with a finished row: stitches left unworked, and a count claimed wrong. */
#include "fabric/hands.h"

#include <string.h>

/*
 * Where the last place worked was a space, the stitches that border it are passed over as those
 * between two spaces are; a turning chain or another space is not.
 */
static bool is_border(const tb_hands *h, guint32 from)
{
	if (!h->cursor.in_space)
		return false;
	if (h->cursor.last.count == 2)
		return tb_place_count(h) - from <= 1; /* the gap before the last stitch */
	for (guint32 i = from; i < tb_place_count(h); i++) {
		unsigned flags = tb_hands_made(h, tb_hands_place(h, i))->flags;
		/* a round that travelled to its beginning ends beside the turning chain below */
		if (flags & TB_MADE_CHAIN || (flags & TB_MADE_TURNING && !h->travelled))
			return false;
	}
	return true;
}

static void check_unworked(tb_hands *h)
{
	const tb_cursor *c = &h->cursor;
	guint32 count = tb_place_count(h);
	if (c->over || c->left || c->due + h->spare >= count || is_border(h, c->due))
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
	g_autofree char *chains = tb_repair_chains(h, left, false);
	g_autofree char *hint = g_strdup_printf("%u st%s there, the %s takes %u. Work into the rest, "
											"or say \"leave rem sts unworked\".%s%s%s",
		count, count == 1 ? " is" : "s are", h->sentence->is_round ? "round" : "row",
		c->due - c->first, chains != NULL ? " Or start with " : "", chains != NULL ? chains : "",
		chains != NULL ? "." : "");
	tb_hands_tell(h, TB_ERROR, "unworked", span, hint,
		"%u of %u st%s %s left unworked at the end of the %s", left, count, count == 1 ? "" : "s",
		left == 1 ? "is" : "are", h->sentence->is_round ? "round" : "row");
}

/* The runs of chains in the row, of the length said or of any. */
static unsigned count_spaces(const tb_hands *h, unsigned chains)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	unsigned spaces = 0, run = 0;
	for (guint32 i = 0; i <= row->count; i++) {
		bool is_chain =
			i < row->count && (tb_hands_made(h, row->first + i)->flags & TB_MADE_CHAIN) != 0;
		if (is_chain) {
			run++;
			continue;
		}
		spaces += run > 0 && (chains == 0 || run == chains);
		run = 0;
	}
	return spaces;
}

/*
 * What the row has of what is claimed, in the two ways it is counted: with the turning chain, or
 * the chains of spaces, and without.
 */
static void count_claimed(
	const tb_hands *h, const tb_claim *claim, unsigned *with, unsigned *without)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	*with = *without = row->stitches;
	if (claim->spaces) {
		*with = *without = count_spaces(h, claim->space_chains);
		return;
	}
	unsigned chains = 0, kind = 0, turning = 0;
	for (guint32 i = 0; i < row->count; i++) {
		const tb_made *made = tb_hands_made(h, row->first + i);
		if (made->flags & TB_MADE_TURNING)
			turning += (made->flags & TB_MADE_COUNTED) != 0 && h->counts_as == claim->stitch;
		else if (claim->stitch != NULL && made->stitch == claim->stitch->number)
			kind++;
		chains += (made->flags & TB_MADE_CHAIN) && (made->flags & TB_MADE_COUNTED);
	}
	if (claim->stitch == NULL)
		*without -= chains;
	else {
		*with = kind + turning;
		*without = kind;
	}
}

/* Stitches of the row that are several of the kind STITCH drawn together. */
static unsigned count_together(const tb_hands *h, const tb_stitch *stitch)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	unsigned count = 0;
	for (guint32 i = 0; stitch != NULL && i < row->count; i++) {
		const tb_stitch *made = tb_hands_stitch(h, tb_hands_made(h, row->first + i));
		size_t length = strlen(stitch->us);
		count += made->takes > 1 && strncmp(made->us, stitch->us, length) == 0 &&
				 g_ascii_isdigit(made->us[length]);
	}
	return count;
}

void tb_account_claims(tb_hands *h, const tb_sentence *sentence)
{
	for (unsigned i = 0; i < sentence->claim_count && h->only_to == 0; i++) {
		if (!tb_hands_may_go_on(h, sentence->claims[i].span))
			return;
		const tb_claim *claim = &sentence->claims[i];
		tb_hands_look(h, tb_hands_row(h, h->row)->count);
		if (claim->count.values == NULL || claim->count.count == 0 ||
			tb_number_in(&claim->count, h->size) == TB_NOT_IN_SIZE)
			continue;
		unsigned said = tb_hands_number(h, &claim->count, 0), with, without;
		count_claimed(h, claim, &with, &without);
		/* sc2tog is one of the sc */
		unsigned together = count_together(h, claim->stitch);
		if (said == with || said == without || said == with + together ||
			said == without + together)
			continue;
		with += together;
		const char *kind = claim->spaces           ? " spaces"
						   : claim->stitch != NULL ? tb_hands_term(h, claim->stitch)
												   : "";
		tb_hands_tell(h, TB_ERROR, "count-claimed", claim->span,
			"Change the count, or the stitches of the row.", "counts %u%s%s, the pattern says %u",
			with, *kind != '\0' && *kind != ' ' ? " " : "", kind, said);
	}
}

/* A row of dc that begins without a turning chain draws its edge down. */
static void check_turning(tb_hands *h)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	const tb_act *work = h->first_work;
	if (row->is_round || h->row < 2 || row->count == 0 || work == NULL || h->travelled ||
		work->stitch->height < 2 || work->stitch->foot == TB_FOOT_CHAIN ||
		work->stitch->post != TB_POST_NONE)
		return;
	const tb_made *first = tb_hands_made(h, row->first);
	if (first->flags & (TB_MADE_TURNING | TB_MADE_CHAIN) || first->stitch != work->stitch->number)
		return;
	const char *term = tb_hands_term(h, work->stitch);
	g_autofree char *hint = g_strdup_printf(
		"%s wants a turning chain of %u.", term, (unsigned)(work->stitch->height + 0.5));
	tb_hands_tell(h, TB_WARNING, "turning-chain-missing", work->span, hint,
		"no turning chain stands before %s", term);
}

void tb_account_row(tb_hands *h, bool claims)
{
	check_turning(h);
	check_unworked(h);
	/* a row that could not be worked has no count to compare */
	if (claims && !h->row_fault)
		tb_account_claims(h, h->sentence);
}
