/*
 * What is claimed of the parts of a garment's row: "52 dc: 8 each front, 9 each sleeve, 18 back". They end at
 * its longest spaces, those of a raglan's corners or of the underarms, or at the marked stitches. Together
 * they are the row; where it has such ends, each of them is one of the parts there.
 */
#include "account/account.h"
#include "places/mark.h"

/* More parts have no names: other spaces of a pattern are as long then. */
#define MOST_PARTS 9u

typedef struct {
	unsigned runs[MOST_PARTS];
	unsigned count; /* 0: nothing parts the row */
	unsigned turning; /* which of them a turning chain is in that nobody said counts; or `count` */
	unsigned lines; /* marked stitches, which part it and are of no part, or of one beside */
} tb_sections;

/* How many chains the row's longest spaces have. */
static unsigned longest_space(const tb_hands *h, const tb_made_row *row)
{
	unsigned longest = 0, run = 0;
	for (guint32 i = 0; i < row->count; i++) {
		run = tb_hands_made(h, row->first + i)->flags & TB_MADE_CHAIN ? run + 1 : 0;
		longest = MAX(longest, run);
	}
	return longest;
}

static void end_run(tb_sections *s, unsigned here)
{
	if (s->count < MOST_PARTS)
		s->runs[s->count] = here;
	s->count++;
}

static tb_sections find_sections(const tb_hands *h)
{
	const tb_made_row *row = tb_hands_row(h, h->row);
	guint32 marks[MOST_PARTS];
	unsigned longest = longest_space(h, row), chains = 0, here = 0;
	unsigned marked = longest == 0 ? tb_mark_list(h, h->row, marks, MOST_PARTS) : 0;
	tb_sections s = {.turning = MOST_PARTS};
	for (guint32 i = 0; i < row->count; i++) {
		const tb_made *made = tb_hands_made(h, row->first + i);
		if (made->flags & TB_MADE_CHAIN) {
			chains++;
			continue;
		}
		bool line = false;
		for (unsigned k = 0; k < marked; k++)
			line = line || marks[k] == row->first + i;
		if (line || (chains > 0 && chains == longest)) {
			end_run(&s, here);
			here = 0;
		}
		chains = 0;
		s.lines += line;
		if (made->flags & TB_MADE_TURNING && made->flags & TB_MADE_COUNTED && h->now.counted_unsaid)
			s.turning = MIN(s.count, MOST_PARTS);
		here += !line && (made->flags & TB_MADE_COUNTED) != 0;
	}
	if (s.count > 0 && row->is_round && (longest == 0 || chains != longest)) {
		/* the last part goes on where the round began */
		s.runs[0] += here;
		s.turning = s.turning == s.count ? 0 : s.turning;
	} else if (s.count > 0 || longest > 0) {
		end_run(&s, here);
	}
	if (s.count > MOST_PARTS)
		s.count = 0;
	return s;
}

/* Takes of the runs of S one of SAID stitches, which may be SLACK more; false where none is left. */
static bool take_run(tb_sections *s, unsigned said, unsigned slack)
{
	for (unsigned more = 0; more <= slack; more++) {
		for (unsigned i = 0; i < s->count; i++) {
			unsigned run = s->runs[i];
			bool without = i == s->turning && run > 0 && said == run - 1;
			if (run == G_MAXUINT || (said != run + more && !without))
				continue;
			s->runs[i] = G_MAXUINT;
			return true;
		}
	}
	return false;
}

void tb_account_sections(tb_hands *h, const tb_sentence *sentence, unsigned from)
{
	unsigned sum = 0, with, without, last = from;
	tb_sections s = find_sections(h);
	tb_account_count(h, &(tb_claim){.count = sentence->claims[from].count}, &with, &without);
	for (; last < sentence->claim_count && sentence->claims[last].share > 0; last++)
		sum += tb_hands_number(h, &sentence->claims[last].count, 0) * sentence->claims[last].share;
	tb_span span = sentence->claims[from].span;
	bool whole = sum == with || sum == without;
	/* the stitches of the lines may be told with the parts beside them */
	unsigned slack = whole && s.lines > 0 ? 2 : 0;
	whole = whole || (s.lines > 0 && (sum + s.lines == with || sum + s.lines == without));
	if (!whole && s.count == 0) {
		tb_hands_tell(h, TB_ERROR, "count-claimed", span, "Change the counts, or the stitches of the row.",
			"the row counts %u, and what is said of its parts makes %u", with, sum);
		return;
	}
	/* "4 raglan sts": they are told by themselves */
	unsigned lines = last;
	for (unsigned i = from; i < last && whole && s.lines > 0; i++) {
		if (sentence->claims[i].share == 1 && tb_hands_number(h, &sentence->claims[i].count, 0) == s.lines)
			lines = i;
	}
	slack = lines < last ? 0 : slack;
	for (unsigned i = from; i < last && s.count > 0; i++) {
		unsigned said = i == lines ? 0 : tb_hands_number(h, &sentence->claims[i].count, 0);
		for (unsigned k = 0; k < sentence->claims[i].share && said > 0; k++) {
			if (take_run(&s, said, slack))
				continue;
			tb_hands_tell(h, TB_ERROR, "count-claimed", sentence->claims[i].span,
				"Change the count, or the stitches of the row.", "no part of the row that is left counts %u", said);
			return;
		}
	}
}
