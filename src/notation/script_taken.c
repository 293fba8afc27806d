/*
 * A row that is not understood may still state its count: "… twiddle across, turn. (24 sc)". The count
 * is read by itself, with what only ends the row before it, so that the rows above can be worked on so
 * many stitches.
 */
#include "notation/script.h"

#include "stitches/stitch.h"
#include "support/limits.h"

#include <string.h>

/* So many of the last words are looked at, and beginnings among them tried. */
#define MOST_WORDS 80u
#define MOST_TRIED 16u

static bool is_sign(const tb_lattice *l, guint32 word, const char *signs)
{
	const char *at = l->text->chars + l->start[word];
	return l->stop[word] - l->start[word] == 1 && strchr(signs, *at) != NULL;
}

/* Where a count may begin: its bracket, a dash set apart, "=" or a colon; or figures behind a full stop. */
static bool begins_count(const tb_lattice *l, guint32 word, bool graded)
{
	const char *text = l->text->chars;
	/* "42 (46) sts": the figures of the other sizes begin none */
	if (graded && is_sign(l, word, "([") && word > 0 && g_ascii_isdigit(text[l->start[word - 1]]))
		return false;
	if (is_sign(l, word, "([{=:"))
		return true;
	if (g_ascii_isdigit(text[l->start[word]]))
		return word > 0 && is_sign(l, word - 1, ".") && l->start[word] > l->stop[word - 1];
	if (is_sign(l, word, "-"))
		return word > 0 && l->start[word] > l->stop[word - 1] && text[l->stop[word]] == ' ';
	return g_str_has_prefix(text + l->start[word], "\xe2\x80\x94") ||
		g_str_has_prefix(text + l->start[word], "\xe2\x80\x93");
}

static bool only_ends(const tb_acts *acts)
{
	for (unsigned i = 0; i < acts->count; i++) {
		tb_act_kind kind = acts->acts[i].kind;
		if (kind != TB_ACT_FASTEN_OFF && kind != TB_ACT_LEAVE && kind != TB_ACT_TURN &&
			kind != TB_ACT_DO_NOT_JOIN && kind != TB_ACT_JOIN && kind != TB_ACT_CHAIN)
			return false;
	}
	return true;
}

/* Whether the claims say how many stitches there are, and nothing that lies among them. */
static bool counts_stitches(const tb_sentence *sentence)
{
	for (unsigned i = 0; i < sentence->claim_count; i++) {
		const tb_claim *claim = &sentence->claims[i];
		if (claim->other || claim->spaces || claim->own != NULL || claim->count.count == 0)
			return false;
	}
	return sentence->claim_count > 0;
}

/* A text without a number may be no row: its count is one where it has figures for all sizes. */
static bool counts_all_sizes(const tb_reader *r, const tb_sentence *sentence)
{
	unsigned sizes = tb_pattern_count_sizes(r->b.pattern);
	return sizes < 2 || sentence->claims[0].count.count == sizes;
}

/* What TEXT has from byte FROM to TO, each byte knowing its place. Owned. */
tb_text *tb_reader_part_of(const tb_text *text, size_t from, size_t to)
{
	tb_text *part = tb_text_create(text->chars + from, to - from, text->offset + from);
	if (text->offsets != NULL)
		part->offsets = g_memdup2(text->offsets + from, (to - from + 1) * sizeof(guint32));
	return part;
}

/* Reads TEXT from byte FROM on as the end of a row; false when it is none, or states no count. */
static bool read_end(tb_reader *r, const tb_text *text, size_t from, tb_rule rule, tb_sentence *end)
{
	const tb_value *value;
	size_t to = text->length;
	while (rule == TB_RULE_claim && to > from + 1 && tb_is_among(text->chars[to - 1], " ."))
		to--;
	g_autoptr(tb_text) part = tb_reader_part_of(text, from, to);
	if (!tb_reader_try(r, part, rule, &value))
		return false;
	if (rule == TB_RULE_claim) {
		g_autoptr(GArray) acts = g_array_new(FALSE, FALSE, sizeof(tb_act));
		tb_build_act(&r->b, value, acts);
		tb_sentence_set_acts(end, r->b.arena, acts);
	} else {
		tb_reader_set_ways(r, end, value);
		end->ways = NULL;
		end->way_count = 0;
	}
	return only_ends(&end->acts) && counts_stitches(end);
}

/* "RS" in the row's name. */
static void find_side(const tb_reader *r, tb_sentence *sentence, const tb_lattice *l)
{
	for (guint32 word = 0; word < MIN(l->count, 8u); word++) {
		if (is_sign(l, word, ":"))
			return;
		for (guint32 e = l->first_edge[word]; e < l->first_edge[word + 1]; e++) {
			if (l->edges[e].term == TB_TERM_rs || l->edges[e].term == TB_TERM_ws) {
				sentence->side = l->edges[e].term == TB_TERM_ws ? TB_SIDE_WRONG : TB_SIDE_RIGHT;
				sentence->side_span = tb_text_span(r->text, l->start[word], l->stop[word]);
			}
		}
	}
}

void tb_reader_take_at_word(tb_reader *r, tb_sentence *sentence, const tb_text *text)
{
	if (r->row_unsure || r->scratch == NULL || r->text != text)
		return;
	unsigned row = r->row, last = r->row_last, tried = 0;
	bool is_round = r->is_round, found = false;
	const tb_stitch *plain = r->b.plain;
	const tb_lattice l = r->lattice;
	tb_arena *words = g_steal_pointer(&r->scratch);
	find_side(r, sentence, &l);
	/* backward: first the count alone, then as much before it as only ends the row */
	for (guint32 word = l.count; word-- > 0 && l.count - word <= MOST_WORDS && tried < MOST_TRIED;) {
		bool count = begins_count(&l, word, tb_pattern_count_sizes(r->b.pattern) > 1);
		bool behind = word > 0 && is_sign(&l, word - 1, ",;.:");
		tb_sentence end = {.kind = TB_SENTENCE_ROWS};
		if ((!found && !count) || (found && !behind))
			continue;
		tried++;
		g_array_set_size(r->before, 0);
		if (!read_end(r, text, l.start[word], found ? TB_RULE_row : TB_RULE_claim, &end)) {
			if (found)
				break;
			continue;
		}
		found = true;
		sentence->acts = end.acts;
		sentence->claims = end.claims;
		sentence->claim_count = end.claim_count;
	}
	sentence->taken = found && (sentence->first > 0 || counts_all_sizes(r, sentence));
	tb_arena_destroy(words);
	r->lattice = (tb_lattice){0};
	r->text = text;
	r->row = row;
	r->row_last = last;
	r->is_round = is_round;
	r->b.plain = plain;
}
