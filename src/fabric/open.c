/*
 * "Make a chain of the length required": a border or an edging is as long as the cloth, and only the rows
 * say what its chain must be a multiple of. The piece is worked on trial with one chain after another;
 * the shortest that shows the pattern and comes out is taken, and that it was taken is said.
 */
#include "fabric/hands.h"

/* Fewer chains hardly show a repeat twice; and with more nobody looks. */
#define FEWEST 24u
#define MOST 240u
/* All tries of a piece together. */
#define MOST_MADE (TB_LIMIT_ALL_STITCHES / 20u)

static bool is_open(const tb_script *script)
{
	for (unsigned i = 0; script->count > 0 && i < script->sentences[0]->acts.count; i++) {
		const tb_act *act = &script->sentences[0]->acts.acts[i];
		if (script->sentences[0]->kind == TB_SENTENCE_START && act->kind == TB_ACT_CHAIN && act->unsaid)
			return true;
	}
	return false;
}

/* The rows that come out with so many CHAINS; G_MAXUINT32 where all do. */
static guint32 rows_with(
	const tb_hands *h, tb_working *working, const tb_script *script, guint32 chains)
{
	tb_hands try;
	tb_hands_init(&try, working, h->piece, h->size);
	try.open_chains = chains;
	try.repaired = true; /* no other length is looked for */
	tb_rows_work(&try, script);
	guint32 rows = try.has_fault || working->stopped ? try.fault_row : G_MAXUINT32;
	tb_hands_finish(&try);
	return rows;
}

guint32 tb_open_find(const tb_hands *h, const tb_script *script)
{
	if (!is_open(script))
		return 0;
	tb_working working = *h->working;
	working.gather = NULL;
	working.made = TB_LIMIT_ALL_STITCHES - MOST_MADE;
	working.steps = 0;
	working.most_steps = MOST_MADE;
	guint32 best = FEWEST, most = 0;
	for (guint32 chains = FEWEST; chains <= MOST && !working.stopped && most < G_MAXUINT32; chains++) {
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
		"how long this chain is, is not said; %u ch are shown", h->open_chains);
	return h->open_chains;
}
