/*
 * The row language's reader.
 *
 * Every row is a text of its own: lexer.c makes tokens of it, and the parser goes through them
 * once, from left to right, building the tree of tree.h in the script's arena. parse_row.c reads
 * how a row begins, parse_again.c rows that repeat others, parse_acts.c what is done, with its
 * parts parse_work.c (stitches), parse_place.c (where they go), parse_turning.c (turning chains),
 * parse_repeat.c (stars and brackets), parse_around.c (the other side of the chain),
 * parse_finish.c (all else) and parse_claims.c (the count at
 * the end). numbers.c reads numbers and size brackets, words.c is the vocabulary. The first thing
 * in a row that is not understood is told at its place, the row left out, and the next row read.
 */
#include "notation/parser.h"

#include "stitches/stitch.h"
#include "support/limits.h"

#include <string.h>

static const tb_size_set every_size = G_MAXUINT32;

typedef struct {
	tb_parser p;
	GPtrArray *sentences; /* tb_sentence in the arena */
	unsigned last_row; /* the last row whose number is known, or 0 */
} reader;

/* Makes the tokens of TEXT ready; false when the text is too long to be a row. */
static bool open_text(reader *r, const tb_text *text)
{
	tb_parser *p = &r->p;
	p->text = text;
	p->at = p->row = p->depth = p->stars = 0;
	p->is_round = false;
	p->loops = TB_LOOPS_BOTH;
	p->side = TB_SIDE_UNSAID;
	p->skipped = (tb_number){1, tb_number_one, {0, 0}};
	g_clear_pointer(&p->tokens, g_array_unref);
	if (text->length > TB_LIMIT_ROW_BYTES) {
		tb_where where = {.has_place = true, .piece = p->piece};
		where.place = tb_text_span(text, 0, 1);
		tb_diagnose_format(p->diagnostics, TB_ERROR, "row-too-long", &where,
			"Write it as several rows.", "this row is longer than %u KiB",
			TB_LIMIT_ROW_BYTES / 1024);
		return false;
	}
	p->tokens = tb_lex(text, p->arena);
	return true;
}

static const tb_claim *copy_claims(tb_parser *p, const GArray *claims)
{
	size_t bytes = claims->len * sizeof(tb_claim);
	tb_claim *copy = tb_arena_take(p->arena, bytes);
	if (bytes > 0)
		memcpy(copy, claims->data, bytes);
	return copy;
}

static bool may_follow_claims(const tb_act *act)
{
	return act->kind == TB_ACT_TURN || act->kind == TB_ACT_JOIN ||
		   act->kind == TB_ACT_DO_NOT_JOIN || act->kind == TB_ACT_FASTEN_OFF ||
		   act->kind == TB_ACT_LEAVE;
}

/* The acts, the count at the end, and what may follow it. */
static bool parse_body(tb_parser *p, tb_sentence *sentence)
{
	g_autoptr(GArray) acts = g_array_new(FALSE, FALSE, sizeof(tb_act));
	g_autoptr(GArray) claims = g_array_new(FALSE, FALSE, sizeof(tb_claim));
	if (!tb_parse_acts(p, TB_SCOPE_ROW, acts))
		return false;
	guint before = acts->len;
	unsigned claim = p->at;
	if (!tb_parse_claims(p, claims))
		return false;
	unsigned behind = p->at;
	if (behind > claim && !tb_parse_acts(p, TB_SCOPE_ROW, acts))
		return false;
	for (guint i = before; i < acts->len; i++) {
		if (!may_follow_claims(&g_array_index(acts, tb_act, i)))
			return tb_parser_fail(p, "claim-not-last", claim, behind - 1,
				"Put the count at the row's end.", "more is worked after this count");
	}
	if (!tb_parser_at_end(p)) {
		if (tb_parser_at_mark(p, 0, ')') || tb_parser_at_mark(p, 0, ']') ||
			tb_parser_at_mark(p, 0, '}'))
			return tb_parser_fail(p, "bracket-close", p->at, p->at,
				"Take it out, or open it where it begins.", "this bracket was never opened");
		return tb_parser_fail(p, "claim-not-last", p->at, p->at,
			"Write one count, as in [12 dc, 4 ch-2 sps].", "the row has a count already");
	}
	sentence->acts = tb_acts_make(p, acts);
	sentence->claims = copy_claims(p, claims);
	sentence->claim_count = claims->len;
	if (sentence->side == TB_SIDE_UNSAID)
		sentence->side = p->side;
	return true;
}

static tb_sentence *add_sentence(reader *r, tb_sentence_kind kind)
{
	tb_sentence *sentence = tb_arena_new(r->p.arena, tb_sentence);
	sentence->kind = kind;
	sentence->sizes = every_size;
	sentence->span = tb_text_span(r->p.text, 0, r->p.text->length);
	return sentence;
}

/* A row that was not understood keeps its place among the others. */
static void add_left_out(reader *r, tb_sentence_kind kind)
{
	tb_sentence *sentence = add_sentence(r, kind);
	sentence->first = sentence->last = r->p.row;
	sentence->left_out = true;
	g_ptr_array_add(r->sentences, sentence);
}

static bool is_finish(const tb_sentence *sentence)
{
	bool fastens = false;
	for (unsigned i = 0; i < sentence->acts.count; i++) {
		tb_act_kind kind = sentence->acts.acts[i].kind;
		fastens = fastens || kind == TB_ACT_FASTEN_OFF;
		if (kind != TB_ACT_FASTEN_OFF && kind != TB_ACT_LEAVE && kind != TB_ACT_TURN)
			return false;
	}
	return fastens;
}

/* "Fasten off." on a line of its own belongs to the row before. */
static void add_to_last(reader *r, const tb_sentence *finish)
{
	tb_sentence *last = r->sentences->pdata[r->sentences->len - 1];
	g_autoptr(GArray) acts = g_array_new(FALSE, FALSE, sizeof(tb_act));
	if (last->acts.count > 0)
		g_array_append_vals(acts, last->acts.acts, last->acts.count);
	g_array_append_vals(acts, finish->acts.acts, finish->acts.count);
	last->acts = tb_acts_make(&r->p, acts);
}

/* A text that begins with no row's number: rows worked again, or the end of the piece. */
static bool parse_unnumbered(reader *r, tb_sentence *sentence)
{
	tb_parser *p = &r->p;
	unsigned first = p->at;
	g_autoptr(tb_diagnostics) unheard = tb_diagnostics_create(NULL);
	tb_parser ahead = *p;
	ahead.diagnostics = unheard;
	if (parse_body(&ahead, sentence) && is_finish(sentence) && sentence->claim_count == 0) {
		if (r->sentences->len > 0)
			add_to_last(r, sentence);
		return true;
	}
	return tb_parser_fail(p, "row-head", first, first,
		"Begin with \"Row 5:\", or \"Rep Rows 3-6 until …\".", "this does not say which row it is");
}

/* Where the count of rows stands after a text; a repeat without an end written leaves it open. */
static void count_rows(reader *r, const tb_sentence *sentence)
{
	if (sentence->last > 0)
		r->last_row = sentence->last;
	else if (sentence->kind == TB_SENTENCE_REPEAT)
		r->last_row = 0;
}

/* "Rep Rows 3-6 4 times, then rep Row 3." is a sentence each; *SENTENCE is the last. */
static bool parse_again(reader *r, tb_sentence **sentence)
{
	tb_parser *p = &r->p;
	for (bool once = false;; once = true) {
		if (!tb_parse_rows_again(p, *sentence, r->last_row, once))
			return false;
		unsigned before = p->at;
		tb_parser_skip_separators(p);
		if (!tb_parser_at_rows_again(p)) {
			p->at = before;
			return parse_body(p, *sentence);
		}
		g_ptr_array_add(r->sentences, *sentence);
		tb_size_set sizes = (*sentence)->sizes;
		*sentence = add_sentence(r, TB_SENTENCE_REPEAT);
		(*sentence)->sizes = sizes;
	}
}

static bool parse_row(reader *r)
{
	tb_parser *p = &r->p;
	tb_sentence *sentence = add_sentence(r, TB_SENTENCE_ROWS);
	bool numbered;
	if (tb_parser_at_end(p))
		return tb_parser_fail(
			p, "row-empty", 0, 0, "Take it out, or write the row.", "this row is empty");
	if (!tb_parse_head(p, sentence, r->last_row, &numbered))
		return false;
	if (tb_parser_at_rows_again(p)) {
		if (!parse_again(r, &sentence))
			return false;
		for (unsigned i = 0; i < sentence->acts.count; i++) {
			if (!may_follow_claims(&sentence->acts.acts[i]))
				return tb_parser_fail(p, "rows-again-more", 0, 0,
					"Write what follows as a row of its own.",
					"more is worked here than the rows that are repeated");
		}
	} else if (!numbered) {
		return parse_unnumbered(r, sentence);
	} else if (!parse_body(p, sentence)) {
		return false;
	} else if (sentence->acts.count == 0) {
		return tb_parser_fail(
			p, "row-empty", p->at, p->at, "Say what is worked.", "nothing is worked in this row");
	}
	g_ptr_array_add(r->sentences, sentence);
	return true;
}

static bool read_start(reader *r, const tb_text *text)
{
	if (!open_text(r, text))
		return false;
	tb_parser *p = &r->p;
	tb_sentence *sentence = add_sentence(r, TB_SENTENCE_START);
	if (!parse_body(p, sentence))
		return false;
	if (sentence->acts.count == 0)
		return tb_parser_fail(p, "row-empty", 0, 0, "As in \"Ch 85 (93, 101).\"",
			"this does not say how the piece starts");
	g_ptr_array_add(r->sentences, sentence);
	return true;
}

static bool is_number_at(const tb_parser *p, unsigned ahead)
{
	return tb_parser_peek(p, ahead)->kind == TB_TOKEN_NUMBER;
}

/* The pair "37-60" AHEAD tokens from here, into size SIZE of both; false when there is none. */
static bool read_pair(const tb_parser *p, unsigned ahead, int *first, int *last)
{
	if (!is_number_at(p, ahead) || !tb_parser_at_mark(p, ahead + 1, '-') ||
		!is_number_at(p, ahead + 2))
		return false;
	*first = (int)MIN(tb_parser_peek(p, ahead)->value, TB_LIMIT_NUMBER);
	*last = (int)MIN(tb_parser_peek(p, ahead + 2)->value, TB_LIMIT_NUMBER);
	return true;
}

/* "33-54 (37-60, 40-66)": first and last stitch for each size. False, no fault told: not so said. */
static bool read_pairs(tb_parser *p, tb_script *script)
{
	unsigned sizes = tb_pattern_count_sizes(p->pattern), count = 1, at = 4;
	int *first = tb_arena_take(p->arena, TB_MAX_SIZES * sizeof(int));
	int *last = tb_arena_take(p->arena, TB_MAX_SIZES * sizeof(int));
	if (!read_pair(p, 0, &first[0], &last[0]) || tb_parser_closing(p, 3) == 0)
		return false;
	while (count < TB_MAX_SIZES && read_pair(p, at, &first[count], &last[count])) {
		count++;
		at += 3;
		if (!tb_parser_at_mark(p, at, ',') && !tb_parser_at_mark(p, at, ';'))
			break;
		at++;
	}
	if (count != sizes || count == 1 || !tb_parser_at_mark(p, at, tb_parser_closing(p, 3)))
		return false;
	p->at += at + 1;
	script->from_first = (tb_number){count, first, {0, 0}};
	script->from_last = (tb_number){count, last, {0, 0}};
	return true;
}

/* "1-37 (41, 45)": the stitches of another piece that this one grows from. */
static bool read_from(reader *r, const tb_text *text, tb_script *script)
{
	if (!open_text(r, text))
		return false;
	tb_parser *p = &r->p;
	tb_parser_accept(p, "st");
	if (!read_pairs(p, script)) {
		if (!tb_parse_number(p, &script->from_first))
			return false;
		if (!tb_parser_accept_mark(p, '-') && !tb_parser_accept(p, "to"))
			return tb_parser_fail_unknown(p, "-, as in \"1-37 (41, 45)\"");
		if (!tb_parse_number(p, &script->from_last))
			return false;
	}
	if (!tb_parser_at_end(p))
		return tb_parser_fail_unknown(p, "nothing more");
	script->has_from = true;
	script->from_span = tb_text_span(text, 0, text->length);
	return true;
}

/* The rows before the sentence at AT whose text was written before. */
static unsigned add_later(reader *r, guint at)
{
	const tb_sentence *next = r->sentences->pdata[at];
	unsigned number = next->kind == TB_SENTENCE_REPEAT && next->first == 0 ? next->repeat_last + 1
																			: next->first;
	return tb_later_insert(&r->p, r->sentences, at, r->last_row, number);
}

static unsigned last_named(const GArray *later)
{
	unsigned last = 0;
	for (guint i = 0; i < later->len; i++)
		last = MAX(last, g_array_index(later, tb_later, i).number);
	return last;
}

/* A foundation row is row 1 where row 2 comes next. */
static void number_foundation(GPtrArray *sentences)
{
	for (guint i = 0; i + 1 < sentences->len; i++) {
		tb_sentence *row = sentences->pdata[i];
		const tb_sentence *next = sentences->pdata[i + 1];
		if (row->kind == TB_SENTENCE_ROWS && row->first == 0 && !row->left_out && next->first == 2)
			row->first = row->last = 1;
	}
}

tb_script *tb_script_read(const tb_pattern *pattern, unsigned number, tb_diagnostics *diagnostics)
{
	const tb_piece *piece = tb_pattern_piece(pattern, number);
	tb_script *script = g_new0(tb_script, 1);
	script->arena = tb_arena_create();
	script->from_piece =
		piece->from_piece != NULL ? tb_pattern_find_piece(pattern, piece->from_piece) : -1;
	g_autoptr(GPtrArray) sentences = g_ptr_array_new();
	g_autoptr(GArray) later = g_array_new(FALSE, FALSE, sizeof(tb_later));
	reader r = {.sentences = sentences};
	r.p.later = later;
	r.p.pattern = pattern;
	r.p.diagnostics = diagnostics;
	r.p.arena = script->arena;
	r.p.piece = piece->name;
	r.p.chain = tb_library_find(pattern->library, "ch");
	r.p.slip = tb_library_find(pattern->library, "sl st");
	if (piece->start != NULL)
		script->has_fault = !read_start(&r, piece->start);
	else if (piece->from_text != NULL)
		script->has_fault = !read_from(&r, piece->from_text, script);
	if (script->has_fault)
		add_left_out(&r, TB_SENTENCE_START);
	for (guint i = 0; i < piece->rows->len; i++) {
		guint before = sentences->len;
		bool understood = open_text(&r, piece->rows->pdata[i]) && parse_row(&r);
		if (!understood) {
			g_ptr_array_set_size(sentences, (gint)before);
			add_left_out(&r, TB_SENTENCE_ROWS);
			script->has_fault = true;
		}
		if (understood && sentences->len > before)
			count_rows(&r, sentences->pdata[before + add_later(&r, before)]);
		else if (r.p.row > 0)
			r.last_row = r.p.row;
	}
	tb_later_insert(&r.p, sentences, sentences->len, r.last_row, last_named(later) + 1);
	tb_later_check(&r.p);
	number_foundation(sentences);
	g_clear_pointer(&r.p.tokens, g_array_unref);
	script->count = sentences->len;
	script->sentences =
		(const tb_sentence **)tb_arena_take(script->arena, sentences->len * sizeof(void *));
	if (sentences->len > 0)
		memcpy(script->sentences, sentences->pdata, sentences->len * sizeof(void *));
	return script;
}

void tb_script_destroy(tb_script *script)
{
	if (script == NULL)
		return;
	tb_arena_destroy(script->arena);
	g_free(script);
}
