/* What is said behind a row and begins the next one: yarn joined anew, chains added at the row's end. */
#include "notation/script.h"

#include <string.h>

/* Takes the acts from REST on out of the row, which ends before AT; they begin the next row. */
static void move_on(tb_reader *r, tb_sentence *sentence, unsigned at, unsigned rest)
{
	g_array_append_vals(r->before, sentence->acts.acts + rest, sentence->acts.count - rest);
	sentence->acts.count = at;
	sentence->ways = NULL;
	sentence->way_count = 0;
}

/* "…, drop Grey, pick up Rose, ch 3, turn": the row ends as one of a single yarn does. */
static bool only_turns(const tb_acts *rest)
{
	bool turns = rest->count > 1 && rest->acts[rest->count - 1].kind == TB_ACT_TURN &&
		rest->acts[rest->count - 2].kind == TB_ACT_CHAIN;
	for (unsigned i = 0; i + 2 < rest->count; i++)
		turns = turns && (rest->acts[i].kind == TB_ACT_JOIN_YARN || rest->acts[i].kind == TB_ACT_FASTEN_OFF) &&
			rest->acts[i].place.span.end == 0;
	return turns;
}

/* "… to end. Fasten off. With RS facing, join yarn in next st.": that begins the next row. */
static void part_at_fastening(tb_reader *r, tb_sentence *sentence)
{
	unsigned at = 0;
	while (at < sentence->acts.count && sentence->acts.acts[at].kind != TB_ACT_FASTEN_OFF)
		at++;
	if (at + 1 >= sentence->acts.count)
		return;
	tb_acts rest = {sentence->acts.acts + at + 1, sentence->acts.count - at - 1};
	if (!tb_reader_makes(&rest) && !tb_reader_only_ends(&rest) && !only_turns(&rest))
		move_on(r, sentence, at + 1, at + 1);
}

/* Whether ACT names the last row of SENTENCE in each size: "at the end of Row 20 (22, 24)". */
static bool ends_in_sizes(const tb_act *act, const tb_sentence *sentence)
{
	const tb_number *last = sentence->last_in.count > 1 ? &sentence->last_in : &sentence->first_in;
	bool same = last->count == act->count.count && (last == &sentence->last_in || sentence->first == sentence->last);
	for (unsigned i = 0; same && i < last->count; i++)
		same = last->values[i] == act->count.values[i];
	return same;
}

/* Holds ROWS, worked in each size, to the number of the last that ACT says. */
static void claim_rows(tb_reader *r, tb_sentence *rows, const tb_act *act)
{
	tb_claim *claims = tb_arena_take(r->b.arena, (rows->claim_count + 1) * sizeof(tb_claim));
	if (rows->claim_count > 0)
		memcpy(claims, rows->claims, rows->claim_count * sizeof(tb_claim));
	claims[rows->claim_count] = (tb_claim){.count = act->count, .rows = true, .other = true, .span = act->span};
	rows->claims = claims;
	rows->claim_count++;
}

/* Whether ACT is "at the end of Row 20" of the rows of SENTENCE; of no number it is the last of them. */
static bool ends_rows(tb_reader *r, const tb_act *act, const tb_sentence *sentence)
{
	unsigned last = sentence->last, row = act->count.count > 0 ? (unsigned)MAX(act->count.values[0], 0) : last;
	/* in a line of its own it is the row above */
	const tb_sentence *above = last == 0 && r->sentences->len > 0 ? r->sentences->pdata[r->sentences->len - 1] : sentence;
	if (act->count.count > 1 ? ends_in_sizes(act, above) : last == 0 || row == last)
		return true;
	/* "You have now worked Row 37 (39, 43)" behind rows without numbers: how many there are is known when they are worked */
	if (last == 0 && above != sentence && above->last == 0) {
		claim_rows(r, (tb_sentence *)above, act);
		return true;
	}
	tb_where where = {.has_place = true, .place = act->span, .piece = r->piece, .row = last};
	tb_diagnose_format(r->diagnostics, TB_ERROR, "row-list", &where,
		"Write the rows up to that one as a line of their own.", "this is not the end of row %u", last);
	return false;
}

bool tb_reader_part(tb_reader *r, tb_sentence *sentence)
{
	for (unsigned i = 0; i < sentence->acts.count; i++) {
		const tb_act *act = &sentence->acts.acts[i];
		if (act->kind != TB_ACT_AT_END)
			continue;
		/* "Armhole: at the end of Row 7 …": the name is of what begins there, and no row has it */
		if (i == 0 && sentence->only_named) {
			sentence->first = sentence->last = 0;
			sentence->only_named = false;
		}
		if (!ends_rows(r, act, sentence))
			return false;
		move_on(r, sentence, i, i + 1);
		return true;
	}
	part_at_fastening(r, sentence);
	return true;
}

bool tb_reader_part_again(tb_reader *r, const tb_sentence *again, tb_acts *more)
{
	for (unsigned i = 0; i < more->count; i++) {
		/* "Work 5 rows straight. Fasten off. Skip 4 sts, rejoin yarn in next st." */
		tb_acts rest = {more->acts + i + 1, more->count - i - 1};
		if (more->acts[i].kind == TB_ACT_FASTEN_OFF && rest.count > 0 && !tb_reader_makes(&rest) && !tb_reader_only_ends(&rest)) {
			g_array_append_vals(r->before, rest.acts, rest.count);
			more->count = i + 1;
		}
		/* "Rows 3-40: Rep Row 2. Turn ribbing to work along the row ends." */
		if (more->acts[i].kind == TB_ACT_OTHER_EDGE && !tb_reader_makes(&rest)) {
			g_array_append_vals(r->before, more->acts + i, more->count - i);
			more->count = i;
			break;
		}
		if (more->acts[i].kind != TB_ACT_AT_END)
			continue;
		if (!ends_rows(r, &more->acts[i], again))
			return false;
		g_array_append_vals(r->before, more->acts + i + 1, more->count - i - 1);
		more->count = i;
	}
	return true;
}

/* Whether ACT begins a row where it would begin by itself: new yarn at its first stitch, and what is no work. */
static bool begins_alike(const tb_act *act, bool is_round)
{
	const tb_place *place = &act->place;
	bool one = place->count.count == 0 || tb_number_is(&place->count, 1);
	switch (act->kind) {
	case TB_ACT_JOIN_YARN:
		return place->span.end == 0 || (one && (place->in == TB_IN_FIRST || place->in == TB_IN_NTH_STITCH ||
			place->target == TB_TARGET_TURNING_CHAIN || is_round));
	case TB_ACT_TURN:
	case TB_ACT_DO_NOT_TURN:
	case TB_ACT_FASTEN_OFF:
	case TB_ACT_SIDE:
	case TB_ACT_CLAIM:
		return true;
	default:
		return false;
	}
}

/* Whether ACT may begin a row that is worked again at another place: "Skip 4 sts, join yarn in next st". */
static bool begins_there(const tb_act *act)
{
	return act->kind == TB_ACT_JOIN_YARN || act->kind == TB_ACT_SKIP || act->kind == TB_ACT_SIDE;
}

bool tb_reader_begins_again(tb_reader *r, tb_sentence *again, const tb_value *value)
{
	const tb_value *begin = tb_value_get(value, TB_SLOT_begin);
	g_autoptr(GArray) acts = g_array_new(FALSE, FALSE, sizeof(tb_act));
	bool alike = true;
	if (begin != NULL && begin->type == TB_VALUE_LIST) {
		tb_acts said = tb_build_list(&r->b, begin);
		g_array_append_vals(r->before, said.acts, said.count);
	} else if (begin != NULL) {
		tb_build_act(&r->b, begin, r->before);
	}
	for (guint i = 0; i < r->before->len; i++) {
		const tb_act *act = &g_array_index(r->before, tb_act, i);
		bool same = begins_alike(act, again->is_round);
		alike = alike && same;
		if (begins_there(act))
			g_array_append_vals(acts, act, 1);
		else if (!same)
			return tb_reader_fail(r, "rows-again-more", value->from, value->to, "Write this row out.",
				"the row that is repeated here begins otherwise");
	}
	if (!alike)
		again->begin = tb_acts_keep(r->b.arena, acts);
	g_array_set_size(r->before, 0);
	return true;
}

/* Whether ACT says how or where the row to come is worked, so that without one it was said for nothing. */
static bool leads_in(const tb_act *act)
{
	switch (act->kind) {
	case TB_ACT_OTHER_EDGE:
	case TB_ACT_OTHER_SIDE:
	case TB_ACT_SKIP:
	case TB_ACT_LOOPS:
		return true;
	default:
		return false;
	}
}

void tb_reader_check_before(tb_reader *r)
{
	for (guint i = 0; i < r->before->len; i++) {
		const tb_act *act = &g_array_index(r->before, tb_act, i);
		bool made = act->kind == TB_ACT_CHAIN || act->kind == TB_ACT_WITHIN;
		if (!made && !leads_in(act))
			continue;
		tb_where where = {.has_place = true, .place = act->span, .piece = r->piece};
		if (made)
			tb_diagnose_format(r->diagnostics, TB_ERROR, "row-list", &where,
				"Write the row that is worked on them.", "no row comes behind these %s",
				act->kind == TB_ACT_CHAIN ? "chains" : "stitches");
		else
			tb_diagnose_format(r->diagnostics, TB_WARNING, "row-list", &where,
				"Write what is worked there as a row.", "no row comes behind this, and nothing is worked of it");
		return;
	}
}

/* "Row 6: As Row 6 of first half": of rows numbered alike, this half's own Row 5 would be found first. */
bool tb_reader_is_of_other(tb_reader *r, const tb_sentence *sentence, const tb_value *value)
{
	if (!tb_build_has(value, TB_SLOT_other) || sentence->repeat_first >= sentence->first)
		return true;
	return tb_reader_fail(r, "rows-again-other", value->from, value->to, "Write the row out.",
		"which half this row is of cannot be told");
}

/* "Rows 18-28: As for first strap": the rows numbered so. */
bool tb_reader_set_alike(tb_reader *r, tb_sentence *sentence, const tb_value *value)
{
	sentence->repeat_first = sentence->first;
	sentence->repeat_last = sentence->last;
	sentence->repeat_span = tb_build_span(&r->b, value->from, value->to);
	const tb_value *part = tb_value_get(value, TB_SLOT_alike);
	const tb_lattice *l = &r->lattice;
	if (part->to > part->from) {
		const char *said = l->text->chars + l->start[part->from];
		size_t length = l->stop[part->to - 1] - l->start[part->from];
		/* the sentence's full stop may have been an abbreviation's */
		length -= length > 1 && said[length - 1] == '.';
		sentence->repeat_part = tb_arena_copy(r->b.arena, said, length);
	}
	return sentence->first > 0 || tb_reader_fail(r, "rows-again-other", value->from, value->to,
		"As in “Rows 5-9: as for first strap”.", "which rows these are is not said");
}

/* Whether ROW works along the edge of the rows before. */
static bool goes_along(const tb_sentence *row)
{
	bool edge = false;
	for (unsigned i = 0; row->kind == TB_SENTENCE_ROWS && i < row->acts.count && !edge; i++)
		edge = row->acts.acts[i].kind == TB_ACT_WORK && row->acts.acts[i].place.in == TB_IN_EDGE;
	return edge;
}

/* "Set-up row: …" behind rows that have numbers, or "Next row: …" along their edge: the pattern's rows behind it begin at 1. */
static bool sets_up(const tb_reader *r, guint at)
{
	const tb_sentence *before = r->sentences->pdata[at];
	bool numbered = false;
	for (guint i = 0; i < at && !numbered; i++) {
		const tb_sentence *row = r->sentences->pdata[i];
		numbered = row->kind == TB_SENTENCE_ROWS && row->first > 0 && !row->only_named;
	}
	return numbered && before->kind == TB_SENTENCE_ROWS && (before->first == 0 || (before->only_named && goes_along(before)));
}

/* "Row 1" behind "Rib row 8", or "Edging row 1" behind "Row 20": what its rows are called; NULL for no other series. */
static const char *other_series(const tb_reader *r, const tb_sentence *row)
{
	if (r->last_row == 0 || g_strcmp0(r->series, row->series) == 0)
		return NULL;
	g_autofree char *name = row->series != NULL ? g_strdup(row->series) : g_strdup_printf("behind the %s", r->series);
	*name = g_ascii_toupper(*name);
	return tb_arena_copy(r->b.arena, name, strlen(name));
}

const char *tb_reader_begins_anew(const tb_reader *r, guint at)
{
	const tb_sentence *row = r->sentences->pdata[at], *before = at > 0 ? r->sentences->pdata[at - 1] : NULL;
	if (row->kind != TB_SENTENCE_ROWS || row->first != 1 || before == NULL)
		return NULL;
	if (goes_along(row) && row->last == 1 && (before->kind == TB_SENTENCE_REPEAT || before->last > 1))
		return "Along the edge";
	if (sets_up(r, at - 1))
		return "Behind the set-up row";
	return other_series(r, row);
}

void tb_reader_begin_part(tb_reader *r, guint at, const char *name)
{
	tb_sentence *first = r->sentences->pdata[at];
	first->part = name;
	first->anew = (first->kind == TB_SENTENCE_ROWS || first->repeat_part != NULL) && first->first == 1 && at > 0;
	if (!first->anew)
		return;
	/* what was said of rows to come is worked before it */
	tb_later_insert(r, at, tb_later_last_named(r->later) + 1);
	tb_later_check(r);
	g_array_set_size(r->later, 0);
	memset(r->row_called, 0, sizeof r->row_called);
	/* those that the notes tell hold in every part */
	for (unsigned symbol = 0; symbol < TB_SYMBOL_COUNT; symbol++) {
		bool noted = false;
		for (unsigned i = 0; i < r->told_noted && !noted; i++)
			noted = r->told[i] == r->sentence_called[symbol];
		r->sentence_called[symbol] = noted ? r->sentence_called[symbol] : NULL;
	}
	memset(r->short_rows, 0, sizeof r->short_rows);
	r->last_row = 0;
	r->b.pattern_first = r->b.pattern_last = 0;
}
