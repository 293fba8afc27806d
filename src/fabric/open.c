/*
 * "Make a chain of the length required": a border or an edging is as long as the cloth, and only the rows
 * say what its chain must be a multiple of. The piece is worked on trial with one chain after another;
 * the shortest that shows the pattern and comes out is taken, and that it was taken is said.
 */
#include "fabric/border.h"
#include "fabric/open.h"
#include "fabric/place.h"
#include "fabric/rows.h"

/* "each of the 8 skipped sts", in a first row: of a piece that stands elsewhere. */
static bool is_skipped(const tb_place *place)
{
	return place->in == TB_IN_SKIPPED || (place->in == TB_IN_NEXT && place->rows_below == 2);
}

/* "2 sc in each of the 18 holes": in a first row, those along the edge of a cloth. */
static bool is_hole(const tb_act *act)
{
	return act->place.target == TB_TARGET_SPACE && act->place.in == TB_IN_NEXT && act->place.count.count > 0;
}

/* The first stitch of ACTS, or of what they repeat, or NULL. */
static const tb_act *first_work(const tb_acts *acts)
{
	const tb_act *first = NULL;
	for (unsigned i = 0; first == NULL && i < acts->count; i++) {
		const tb_act *act = &acts->acts[i];
		if (act->kind == TB_ACT_WORK || act->kind == TB_ACT_GROUP)
			return act;
		if (act->kind == TB_ACT_REPEAT)
			first = first_work(&act->body);
	}
	return first;
}

/* An edging on a towel begins with the stitches around its hem, which stand on no row. */
bool tb_open_is_on_cloth(const tb_sentence *sentence)
{
	if (sentence == NULL || sentence->kind != TB_SENTENCE_ROWS)
		return false;
	for (unsigned i = 0; i < sentence->acts.count; i++) {
		const tb_act *act = &sentence->acts.acts[i];
		if (act->kind == TB_ACT_WORK && is_skipped(&act->place))
			return act->place.count.count > 0;
		if (act->kind == TB_ACT_WORK && act->place.in != TB_IN_SAME)
			break;
	}
	const tb_act *first = first_work(&sentence->acts);
	return first != NULL && (tb_border_runs_along(first) || is_hole(first) ||
		(first->place.corner && tb_border_has_edge(&sentence->acts)));
}

bool tb_open_is_elsewhere(const tb_hands *h, const tb_act *act)
{
	tb_in in = act->place.in;
	return h->row == 1 && !h->start.grown && tb_place_count(h) == 0 && tb_open_is_on_cloth(h->sentence) &&
		act->place.target != TB_TARGET_TURNING_CHAIN && act->place.count.count > 0 &&
		((in == TB_IN_NEXT && !act->bare) || in == TB_IN_SAME || is_skipped(&act->place));
}

/* Fewer chains hardly show a repeat twice; and with more nobody looks. */
#define FEWEST 24u
#define MOST 240u
/* All tries of a piece together. */
#define MOST_MADE (TB_LIMIT_ALL_STITCHES / 20u)

/* The chain of no stated length, or the first row along an edge of none, or NULL. */
static const tb_act *find_open(const tb_script *script)
{
	if (script->count > 0 && tb_open_is_on_cloth(script->sentences[0]) &&
		script->sentences[0]->claim_count == 0) {
		const tb_acts *acts = &script->sentences[0]->acts;
		for (unsigned i = 0; i < acts->count; i++) {
			if (acts->acts[i].kind == TB_ACT_WORK && acts->acts[i].unsaid)
				return &acts->acts[i];
		}
	}
	for (unsigned i = 0; script->count > 0 && i < script->sentences[0]->acts.count; i++) {
		const tb_act *act = &script->sentences[0]->acts.acts[i];
		if (script->sentences[0]->kind == TB_SENTENCE_START && act->kind == TB_ACT_CHAIN && act->unsaid)
			return act;
	}
	return NULL;
}

/* The rows that come out with so many CHAINS; G_MAXUINT32 where all do. */
static guint32 rows_with(
	const tb_hands *h, tb_working *working, const tb_script *script, guint32 chains)
{
	tb_hands try;
	tb_hands_init(&try, working, h->piece, h->size);
	try.start.open = chains;
	try.start.repaired = true; /* no other length is looked for */
	tb_rows_work(&try, script);
	guint32 rows = try.teller.has_fault || working->stopped ? try.teller.fault_row : G_MAXUINT32;
	tb_hands_finish(&try);
	return rows;
}

guint32 tb_open_find(const tb_hands *h, const tb_script *script)
{
	const tb_act *open = find_open(script);
	if (open == NULL)
		return 0;
	guint32 multiple = MAX(tb_hands_number(h, &open->each, 1), 1);
	guint32 over = tb_hands_number(h, &open->count, 1);
	guint32 first = over + (FEWEST - MIN(over, FEWEST) + multiple - 1) / multiple * multiple;
	tb_working working = *h->working;
	working.gather = NULL;
	working.made = TB_LIMIT_ALL_STITCHES - MOST_MADE;
	working.steps = 0;
	working.most_steps = MOST_MADE;
	guint32 best = first, most = 0;
	for (guint32 chains = first; chains <= MOST && !working.stopped && most < G_MAXUINT32; chains += multiple) {
		guint32 rows = rows_with(h, &working, script, chains);
		if (rows > most) {
			best = chains;
			most = rows;
		}
	}
	return best;
}

guint32 tb_open_length(tb_hands *h, const tb_act *chain)
{
	tb_hands_tell(h, TB_NOTE, "chain-open", chain->span, "Any other with which every row comes out will do.",
		"how long this chain is, is not said; %u ch are shown", h->start.open);
	return h->start.open;
}

/* Whether nothing else is worked in the row: its count is that of the edge then. */
static bool is_edge_alone(const tb_sentence *sentence, const tb_act *work)
{
	for (unsigned i = 0; i < sentence->acts.count; i++) {
		const tb_act *act = &sentence->acts.acts[i];
		bool works = act->kind == TB_ACT_WORK || act->kind == TB_ACT_GROUP || act->kind == TB_ACT_REPEAT ||
			act->kind == TB_ACT_SHAPE;
		if (works && act != work)
			return false;
	}
	return true;
}

/* What has been made of the row that counts: the chain that it begins with. */
static guint32 counted_so_far(const tb_hands *h)
{
	guint32 counted = 0;
	for (guint32 i = h->now.begun; i < h->cloth.made->len; i++)
		counted += (tb_hands_made(h, i)->flags & TB_MADE_COUNTED) != 0;
	return counted;
}

/* The count a row states, where it is that of the stitches along the edge; 0 where it states none. */
static guint32 stated_edge(const tb_hands *h, const tb_act *work)
{
	const tb_sentence *sentence = h->sentence;
	const tb_claim *claim = sentence->claims;
	bool plain = sentence->claim_count == 1 && !claim->other && !claim->spaces && claim->own == NULL &&
		(claim->stitch == NULL || claim->stitch == work->stitch);
	guint32 count = plain ? tb_hands_number(h, &claim->count, 0) : 0, before = counted_so_far(h);
	return count > before ? count - before : 0;
}

guint32 tb_open_edge(tb_hands *h, const tb_act *work)
{
	const tb_sentence *sentence = h->sentence;
	bool begins = h->row == 1 && !h->start.grown && tb_open_is_on_cloth(sentence);
	/* around a round there is no edge: its stitches are all below, and are worked into */
	bool flat = h->row > 1 && (!tb_hands_row(h, h->row - 1)->is_round || (sentence->part != NULL && sentence->anew));
	if (!work->unsaid || (!begins && !(flat && is_edge_alone(sentence, work))))
		return 0;
	if (sentence->claim_count > 0)
		return stated_edge(h, work);
	if (!begins || h->start.open == 0)
		return 0;
	tb_hands_tell(h, TB_NOTE, "chain-open", work->span, "Any other with which every row comes out will do.",
		"how many stitches go along this edge is not said; %u are shown", h->start.open);
	return h->start.open;
}

bool tb_open_is_last_edge(tb_hands *h, const tb_sentence *sentence)
{
	if (sentence->claim_count > 0 || h->cloth.rows->len < 2)
		return false;
	for (unsigned i = 0; i < sentence->acts.count; i++) {
		const tb_act *act = &sentence->acts.acts[i];
		if (act->kind != TB_ACT_WORK || act->place.in != TB_IN_EDGE || act->place.middle || !act->unsaid ||
			act->row_ends || !is_edge_alone(sentence, act))
			continue;
		/* the sides of a flat piece are as long as they are */
		if (act->edge != TB_EDGE_UNKNOWN && !tb_hands_row(h, h->cloth.rows->len - 1)->is_round)
			continue;
		h->sentence = sentence;
		tb_hands_tell(h, TB_WARNING, "not-checked", act->span, "Say how many stitches are worked along it.",
			"how many stitches go along this edge is not said; it is left out");
		return true;
	}
	return false;
}
