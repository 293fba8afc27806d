/*
 * "Make a chain of the length required": a border or an edging is as long as the cloth, and only the rows
 * say what its chain must be a multiple of. The piece is worked on trial with one chain after another;
 * the shortest that shows the pattern and comes out is taken, and that it was taken is said.
 */
#include "places/edge.h"
#include "rows/open.h"
#include "rows/rows.h"

/* Fewer chains hardly show a repeat twice; and with more nobody looks. */
#define FEWEST 24u
#define MOST 240u
/* All tries of a piece together. */
#define MOST_MADE (TB_LIMIT_ALL_STITCHES / 20u)

/* The chain of no stated length, or the first row along an edge of none, or NULL. */
static const tb_act *find_open(const tb_script *script)
{
	if (script->count > 0 && tb_edge_is_begun_on(script->sentences[0]) &&
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

