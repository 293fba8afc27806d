/*
 * The row language's reader.
 *
 * english.grammar is the language; grammar_compile makes tables of it when the program is built.
 * Every row is a text of its own: lattice.c finds what each of its words may be, chart.c every way
 * the phrases of the grammar read them, readings.c what they say, and build.c makes the instruction
 * tree of tree.h from that, in the script's arena. Where a row can be read in several ways, all are
 * kept beside the cheapest: which is meant, only the work tells (rows/choose.c). A text that is
 * not read is told at the words that are wrong (tell.c), and the next one read.
 */
#include "notation/script.h"

#include "pattern/text_kinds.h"
#include "stitches/stitch.h"
#include "support/limits.h"

#include <string.h>

/* A row is broken over so many lines at the most. */
#define MOST_BREAKS 12u

static const tb_size_set every_size = G_MAXUINT32;

tb_sentence *tb_reader_add_sentence(tb_reader *r, tb_sentence_kind kind)
{
	tb_sentence *sentence = tb_arena_new(r->b.arena, tb_sentence);
	sentence->kind = kind;
	sentence->sizes = every_size;
	sentence->loops = r->always;
	sentence->always = r->always != TB_LOOPS_BOTH;
	sentence->span = tb_text_span(r->text, 0, r->text->length);
	sentence->pattern_first = r->b.pattern_first;
	sentence->pattern_last = r->b.pattern_last;
	return sentence;
}

/* --- a row --- */

static char char_at(const tb_reader *r, guint32 i)
{
	return r->lattice.text->chars[r->lattice.start[i]];
}

static bool is_star_at(const tb_reader *r, guint32 i)
{
	return char_at(r, i) == '*';
}

/* A row that was not understood keeps its place among the others. */
static tb_sentence *add_left_out(tb_reader *r, tb_sentence_kind kind)
{
	tb_sentence *sentence = tb_reader_add_sentence(r, kind);
	sentence->first = r->row;
	sentence->last = MAX(r->row, r->row_last);
	sentence->is_round = r->is_round;
	sentence->left_out = true;
	g_ptr_array_add(r->sentences, sentence);
	return sentence;
}

static bool only_fastens_off(const tb_acts *acts)
{
	for (unsigned i = 0; i < acts->count; i++) {
		if (acts->acts[i].kind != TB_ACT_FASTEN_OFF)
			return false;
	}
	return acts->count > 0;
}

/*
 * "Second underarm: as Back.": rows of another piece that make up a sentence, and of which nothing was understood. "Block
 * as for Back" is none: its verb is another.
 */
static bool is_like_other(const tb_reader *r, const tb_sentence *sentence)
{
	if (tb_reader_makes(&sentence->acts) || r->text == NULL)
		return false;
	for (unsigned i = 0; i < tb_pattern_count_pieces(r->b.pattern); i++) {
		const char *name = tb_pattern_get_piece(r->b.pattern, i);
		for (const char *at = r->text->chars; i != r->number && *at != '\0'; at++) {
			const char *before = at;
			while (before > r->text->chars && before[-1] == ' ')
				before--;
			bool begins = before == r->text->chars || tb_is_among(before[-1], ":.");
			size_t as = begins ? tb_at_word(at, "as like") : 0;
			for (size_t word = as; word > 0; word = tb_at_word(at, "for on the in")) {
				at += word + strspn(at + word, " ");
			}
			size_t length = strlen(name);
			if (as > 0 && g_ascii_strncasecmp(at, name, length) == 0 && !g_ascii_isalnum(at[length]))
				return true;
			if (*at == '\0')
				break;
		}
	}
	return false;
}

/* "Along the long side, crochet twenty.": a number behind words that only lead a row in, and no row has it. */
static void tell_uncounted(tb_reader *r, const tb_sentence *sentence)
{
	if (sentence->claim_count == 0)
		return;
	tb_where where = {.has_place = true, .place = sentence->claims[0].span, .piece = r->piece};
	tb_diagnose_format(r->diagnostics, TB_ERROR, "row-unfinished", &where,
		"Say what is worked, and where.", "so many of what, nothing says");
}

/* What stands without a row's name: the end of a row, the beginning of the next, or a row. */
static void add_unnamed(tb_reader *r, tb_sentence *sentence)
{
	if (sentence->acts.count == 0 && sentence->claim_count == 0 && sentence->surface.count > 0) {
		tb_reader_add_to_last(r, sentence);
		return;
	}
	if (sentence->acts.count == 0 && sentence->claim_count == 0) {
		if (sentence->marks != NULL) {
			sentence->acts = (tb_acts){sentence->marks, 1};
			tb_reader_add_to_last(r, sentence);
		}
		r->as = TB_READ_REMARK;
		return;
	}
	if (sentence->acts.count > 0)
		tb_reader_count_last(r, sentence);
	if (only_fastens_off(&sentence->acts))
		r->as = TB_READ_FINISHING;
	if (!tb_reader_makes(&sentence->acts) && tb_reader_only_ends(&sentence->acts)) {
		tb_reader_add_to_last(r, sentence);
	} else if (!tb_reader_makes(&sentence->acts)) {
		/* "With RS facing, join yarn in next st." is said of the row that begins so */
		if (sentence->side != TB_SIDE_UNSAID) {
			tb_act side = {.kind = TB_ACT_SIDE, .side = sentence->side, .span = sentence->side_span};
			g_array_append_val(r->before, side);
		}
		g_array_append_vals(r->before, sentence->acts.acts, sentence->acts.count);
		tell_uncounted(r, sentence);
	} else {
		if (r->last_row > 0)
			sentence->first = sentence->last = r->last_row + 1;
		tb_reader_settle_often(r, sentence);
		g_ptr_array_add(r->sentences, sentence);
	}
}

static void add_later(tb_reader *r, const tb_sentence *sentence, const GArray *numbers, unsigned every)
{
	if (every > 0) {
		tb_later later = {.row = sentence, .last = every, .worked = true};
		g_array_append_val(r->later, later);
	}
	for (guint i = 1; i < numbers->len; i++) {
		tb_later later = {.row = sentence, .number = g_array_index(numbers, unsigned, i), .nth = i};
		g_array_append_val(r->later, later);
	}
}

/* "4, 6 and 8": not side by side, so that each comes up by itself. */
static bool leaves_out(const GArray *numbers)
{
	return numbers->len > 1 && g_array_index(numbers, unsigned, numbers->len - 1) -
		g_array_index(numbers, unsigned, 0) + 1 != numbers->len;
}

/*
 * "* * Join B in first st, sc in each st": two stars begin rows that are worked again later, and are no
 * repeat of the row. Where more stars stand in it, they are.
 */
static bool check_mark(tb_reader *r, const tb_value *row)
{
	const tb_value *mark = tb_value_get(row, TB_SLOT_mark);
	guint32 from = mark != NULL ? mark->from : 0, stars = 0;
	for (guint32 e = 0; e < r->lattice.first_edge[r->lattice.count]; e++)
		stars += r->lattice.edges[e].term == TB_TERM_CLASS_star;
	if (mark == NULL || stars == 2)
		return true;
	return tb_reader_fail(r, "star-open", from, from + 1,
		"Say how often, as in “rep from * across” or “rep from * 4 times”.",
		"what begins at this star is never repeated");
}

/* Whether a star ends the text now read, nothing behind it but a count in brackets. */
static bool ends_with_star(const tb_reader *r)
{
	guint32 star = r->lattice.count, depth = 0;
	while (star > 0 && !is_star_at(r, star - 1))
		star--;
	for (guint32 i = star; i < r->lattice.count; i++) {
		depth += tb_is_among(char_at(r, i), "([") ? 1 : 0;
		if (depth == 0 && char_at(r, i) != '.')
			return false;
		depth -= tb_is_among(char_at(r, i), ")]") && depth > 0 ? 1 : 0;
	}
	return star > 0;
}

/*
 * "*Next row: …" and "…, turn.*": stars around rows that are worked again by "Rep from * to *". Where other stars
 * stand between them in one text, they are of a repeat in the row, and which is which is not said.
 */
static bool set_block(tb_reader *r, const tb_value *line, tb_sentence *sentence)
{
	const tb_value *opens = tb_value_get(line, TB_SLOT_opens);
	guint32 stars = 0;
	for (guint32 i = 0; i < r->lattice.count; i++)
		stars += is_star_at(r, i);
	sentence->opens_block = opens != NULL;
	sentence->closes_block = (opens != NULL || r->block_open) && stars == (opens != NULL ? 2u : 1u) && ends_with_star(r);
	r->b.closes_block = sentence->closes_block;
	if (opens != NULL && stars > (sentence->closes_block ? 2u : 1u))
		return tb_reader_fail(r, "star-open", opens->from, opens->from + 1,
			"Say how often, as in “rep from * across” or “rep from * 4 times”.",
			"what begins at this star is never repeated");
	if (opens != NULL)
		r->block_at = tb_build_span(&r->b, opens->from, opens->from + 1);
	r->block_open = (r->block_open || opens != NULL) && !sentence->closes_block;
	return true;
}

/* A star before rows that nothing works again. */
static void check_blocks(tb_reader *r)
{
	tb_where where = {.has_place = true, .place = r->block_at, .piece = r->piece};
	if (r->block_at.end > 0)
		tb_diagnose_format(r->diagnostics, TB_ERROR, "star-open", &where,
			"Say how often, as in “rep from * to * 4 times”.", "what begins at this star is never repeated");
}

/* "Size L only: Row 7: …", or behind the row's name, "Row 7: Size L only: …": who works it. */
static tb_size_set get_sizes(tb_reader *r, const tb_value *line, tb_size_set sizes)
{
	const tb_value *only = tb_value_get(line, TB_SLOT_only);
	if (only == NULL)
		return sizes;
	/* "S and M: skip to Band.": they work nothing before it, or before what all sizes work */
	bool all = tb_value_get(only, TB_SLOT_all) != NULL;
	r->gone = all ? 0 : r->gone;
	return all ? every_size : tb_build_sizes(&r->b, tb_value_get(only, TB_SLOT_names));
}

/*
 * Whether nothing is worked in SENTENCE: it has no acts, or turns; or is said to be shaped or counted, "Inc row, turn. (26)",
 * and does no more than end.
 */
static bool only_ends(const tb_sentence *sentence)
{
	const tb_acts *acts = &sentence->acts;
	bool turns = true, ends = true;
	for (unsigned i = 0; i < acts->count; i++) {
		tb_act_kind kind = acts->acts[i].kind;
		turns = turns && kind == TB_ACT_TURN;
		ends = ends && (kind == TB_ACT_TURN || kind == TB_ACT_DO_NOT_TURN || kind == TB_ACT_FASTEN_OFF);
	}
	bool made = sentence->claim_count > 0 || sentence->shape.way != 0;
	return acts->count == 0 || (sentence->way_count == 0 && (made ? ends : turns));
}

/* Whether ACT says where a row begins, and is no work: "skip 4 sts", "join yarn in next st", "working along row ends". */
static bool begins_elsewhere(const tb_act *act)
{
	return act->kind == TB_ACT_JOIN_YARN || act->kind == TB_ACT_SKIP || act->kind == TB_ACT_SIDE ||
		act->kind == TB_ACT_OTHER_EDGE;
}

/* "Joining: sl st last row to foundation chain": a seam by a name, which is told of and is no row. */
static bool is_named_seam(const tb_reader *r, const tb_value *label, const tb_sentence *sentence, guint asides)
{
	return tb_value_get(label, TB_SLOT_name) != NULL && sentence->acts.count == 0 &&
		sentence->claim_count == 0 && r->b.asides->len > asides;
}

/* "Size M only: Rows 5-6 are not worked.": in SIZES the numbers go on behind them. */
static bool add_absent(tb_reader *r, const tb_value *rows, tb_size_set sizes)
{
	unsigned first, last;
	if (!tb_reader_rows(r, rows, &first, &last))
		return false;
	tb_sentence *absent = tb_reader_add_sentence(r, TB_SENTENCE_ROWS);
	absent->sizes = ~sizes;
	g_ptr_array_add(r->sentences, absent);
	r->last_row = MAX(r->last_row, last);
	return true;
}

/* "Work Rows 1 and 2 of Back, then repeat Row 2 until you have 16 rows", in SIZES. */
static bool add_like(tb_reader *r, const tb_value *line, tb_size_set sizes)
{
	const tb_value *goes = tb_value_get(line, TB_SLOT_goes);
	guint before = r->sentences->len;
	if (!tb_reader_like(r, line))
		return false;
	for (guint i = before; sizes != every_size && i < r->sentences->len; i++) {
		tb_sentence *here = tb_arena_new(r->b.arena, tb_sentence);
		*here = *(const tb_sentence *)r->sentences->pdata[i];
		here->sizes &= sizes;
		r->sentences->pdata[i] = here;
	}
	if (goes == NULL)
		return true;
	tb_sentence *again = tb_reader_add_sentence(r, TB_SENTENCE_REPEAT);
	again->sizes = sizes & ~r->gone;
	r->as = TB_READ_REPEAT;
	return tb_reader_again(r, goes, again);
}

static bool add_one_line(tb_reader *r, const tb_value *line, tb_size_set sizes)
{
	for (const tb_value *inner; (inner = tb_value_get(line, TB_SLOT_line)) != NULL; line = inner)
		sizes = get_sizes(r, line, sizes);
	sizes = get_sizes(r, line, sizes);
	const tb_value *label = tb_value_get(line, TB_SLOT_label), *row = tb_value_get(line, TB_SLOT_row);
	const tb_value *again = tb_value_get(line, TB_SLOT_again), *said = tb_value_get(line, TB_SLOT_for);
	/* "Sc around for 3 rounds (18)": with its count behind it, the row itself says for how many */
	said = said == NULL ? tb_value_get(row, TB_SLOT_for) : said;
	label = label == NULL ? said : label;
	g_autoptr(GArray) numbers = g_array_new(FALSE, FALSE, sizeof(unsigned));
	unsigned every = 0; /* up to that row each second one is worked so */
	if (tb_value_get(line, TB_SLOT_gone) != NULL) {
		r->gone |= tb_build_sizes(&r->b, tb_value_get(line, TB_SLOT_gone));
		return true;
	}
	if (tb_value_get(line, TB_SLOT_absent) != NULL)
		return add_absent(r, tb_value_get(line, TB_SLOT_absent), sizes);
	if (tb_value_get(line, TB_SLOT_like) != NULL)
		return add_like(r, line, sizes);
	if (tb_reader_like_numbered(r, line))
		return true;
	if (row == NULL && again == NULL)
		return true;
	tb_sentence *sentence = tb_reader_add_sentence(r, again != NULL ? TB_SENTENCE_REPEAT : TB_SENTENCE_ROWS);
	sentence->sizes = sizes & ~r->gone;
	if (!set_block(r, line, sentence))
		return false;
	if (label != NULL && !tb_reader_set_label(r, sentence, label, numbers, &every))
		return false;
	if (sentence->sizes == 0)
		return tb_reader_fail(r, "size-unknown", 0, MIN(r->lattice.count, 1u), "Count the sizes, or name them.",
			"the pattern has not so many sizes");
	if (sentence->sizes != every_size)
		tb_reader_tell_unused(r, row != NULL ? row : again, sentence->sizes);
	if (label != said && !tb_reader_set_for(r, sentence, said))
		return false;
	if (label != NULL && !tb_reader_settle_often(r, sentence))
		return false;
	if (leaves_out(numbers)) {
		sentence->last = sentence->first;
		add_later(r, sentence, numbers, every);
	} else if (every > 0) {
		g_array_set_size(numbers, MIN(numbers->len, 1u));
		add_later(r, sentence, numbers, every);
	}
	if (again != NULL) {
		r->as = TB_READ_REPEAT;
		/* "Second side: Rep Rows 5-9": a name that counts no rows, over rows that are worked once more */
		bool named = tb_value_get(label, TB_SLOT_name) != NULL && tb_value_get(label, TB_SLOT_word) == NULL;
		if (named)
			sentence->first = sentence->last = 0;
		/* nor is one row more than that, where its number is not known */
		r->again_once = named || (label != NULL && sentence->first == 0 && sentence->many.count == 0);
		r->named = tb_value_get(tb_value_get(label, TB_SLOT_name), TB_SLOT_named);
		bool good = tb_reader_again(r, again, sentence);
		if (good && leaves_out(numbers) && sentence->claim_count == numbers->len)
			tb_later_count(r, sentence);
		r->again_once = false;
		r->named = NULL;
		return good;
	}
	if (!check_mark(r, row))
		return false;
	r->b.sentences = r->sentences;
	guint asides = r->b.asides->len;
	r->b.first_row = !tb_reader_has_rows(r);
	r->b.on_ring = r->b.first_row && tb_reader_is_on_ring(r);
	r->b.row = sentence->first == sentence->last ? sentence->first : 0;
	r->b.first_of = sentence->first;
	tb_reader_set_ways(r, sentence, row);
	tb_reader_set_named(r, sentence, row);
	r->b.first_row = false;
	r->b.row = r->b.first_of = 0;
	r->always = sentence->always ? sentence->loops : r->always;
	if (!tb_reader_part(r, sentence))
		return false;
	if (!tb_reader_tell_doubts(r, sentence))
		return false;
	tb_reader_tell_loose(r);
	tb_reader_tell_names(r);
	if (r->b.deep > 0)
		return tb_reader_fail(r, "rows-below", r->b.deep - 1, r->b.deep,
			"As in \"2 rows below\"; the row just worked on is 1 row below.",
			"a post can be reached 1 to %d rows below", TB_LIMIT_ROWS_BELOW);
	bool leads = sentence->acts.count == 1 && sentence->acts.acts[0].kind == TB_ACT_WITHIN && sentence->claim_count == 0;
	/* "Second shoulder: Skip 4 sts, join yarn in next st." leads in the row that is worked there */
	bool joins = tb_build_has(label, TB_SLOT_name) && !tb_build_has(label, TB_SLOT_word) && sentence->claim_count == 0 &&
		sentence->acts.count > 0 && !tb_reader_makes(&sentence->acts);
	for (unsigned i = 0; joins && i < sentence->acts.count; i++)
		joins = begins_elsewhere(&sentence->acts.acts[i]);
	/* "Armhole: at the end of Row 7 …": what the name stands over is worked at the end of the row before */
	bool ends = label != NULL && sentence->acts.count == 0 && sentence->claim_count == 0 && sentence->first == 0 &&
		tb_build_has(label, TB_SLOT_name);
	/* "Work in back loops only.", with no row: the next one, or all from here on */
	if (label == NULL && sentence->acts.count == 0 && sentence->claim_count == 0 && r->b.asides->len == asides && !sentence->always &&
		sentence->loops != r->always)
		return tb_reader_fail(r, "row-unfinished", 0, r->lattice.count, "Say it in each row, as in “sc in BLO of each st”, or say “throughout”.",
			"which rows are worked in these loops is not said");
	if (is_like_other(r, sentence))
		return tb_reader_fail(r, "rows-again-unknown", 0, 1, "As in “Work as for Back from Row 49 to the end”, or write the rows out.",
			"which rows of that piece these are is not understood");
	if (label == NULL || leads || joins || ends || is_named_seam(r, label, sentence, asides)) {
		add_unnamed(r, sentence);
		return tb_reader_go_on(r, row, sentence);
	}
	if (only_ends(sentence))
		return tb_reader_fail(r, "row-empty", r->lattice.count, r->lattice.count,
			"Say what is worked.", "nothing is worked in this %s", r->is_round ? "round" : "row");
	g_ptr_array_add(r->sentences, sentence);
	return tb_reader_go_on(r, row, sentence);
}

/* LINE, and the rows again that stand behind the count it tells: "You now have 40 sc. Work 1 row even." */
static bool add_line(tb_reader *r, const tb_value *line, tb_size_set sizes)
{
	const tb_value *next = tb_value_get(line, TB_SLOT_next);
	return add_one_line(r, line, sizes) && (next == NULL || add_one_line(r, next, sizes));
}

static bool add_text(tb_reader *r, const tb_text *text)
{
	const tb_value *line;
	r->as = TB_READ_ROW;
	if (text->length == 0)
		return true;
	guint before = r->sentences->len;
	if (!tb_reader_read(r, text, TB_RULE_line, &line) ||
		!add_line(r, tb_reader_likely(r, line), r->b.only != 0 ? r->b.only : every_size))
		return false;
	/* what is shaped at the same time stands right behind that */
	const tb_sentence *last = r->sentences->len > before ? r->sentences->pdata[r->sentences->len - 1] : NULL;
	r->b.at_once = r->b.at_once && (last == NULL || last->track_count > 0);
	tb_reader_tell_unheld(r);
	return true;
}

static bool can_read(tb_reader *r, const tb_text *text)
{
	const tb_value *line;
	const tb_stitch *plain = r->b.plain;
	bool read = text->length > 0 && tb_reader_try(r, text, TB_RULE_line, &line);
	r->b.plain = plain;
	return read;
}

/* A row, and a line below it that was taken to go on with it and is one by itself. */
static bool read_parted(tb_reader *r, const tb_text *text)
{
	unsigned tries = 0;
	for (size_t at = text->length; at-- > 1 && tries < MOST_BREAKS;) {
		if (!tb_reader_breaks_at(r, text, at))
			continue;
		tries++;
		g_autoptr(tb_text) first = tb_reader_part_of(text, 0, at);
		g_autoptr(tb_text) second = tb_reader_part_of(text, at + 1, text->length);
		if (can_read(r, first) && can_read(r, second)) {
			bool good = add_text(r, first);
			if (good && r->sentences->len > 0)
				tb_reader_count_rows(r, r->sentences->pdata[r->sentences->len - 1]);
			tb_read_as as = r->as;
			good = good && add_text(r, second);
			r->as = as == TB_READ_REMARK ? r->as : as;
			return good;
		}
	}
	return false;
}

/* "… in first 7 sc, turn.", and a line below it "Working on these 7 sts only, dec 1 st at neck edge". */
static bool goes_on_with_these(const tb_reader *r, const tb_text *text)
{
	for (size_t at = text->length; at-- > 1;) {
		if (!tb_reader_breaks_at(r, text, at))
			continue;
		const char *line = text->chars + at + 1;
		size_t work = strcspn(line, " ") + 1;
		if ((g_ascii_strncasecmp(line, "work", 4) == 0 || g_ascii_strncasecmp(line, "cont", 4) == 0) &&
			g_ascii_strncasecmp(line + work - 1, " on these ", 10) == 0)
			return true;
	}
	return false;
}

/* The rows before the sentence at AT whose text was written before. */
static unsigned add_before(tb_reader *r, guint at)
{
	const tb_sentence *next = r->sentences->pdata[at];
	unsigned number = next->kind == TB_SENTENCE_REPEAT && next->first == 0 ?
		(next->repeat_last > 0 ? next->repeat_last + 1 : 0) : next->first;
	return tb_later_insert(r, at, number);
}

/* "S: sc around. M and L: (sc 3, inc) x 6. [18 (24, 30)]": the count behind the last is of all of them, from AT on. */
static void share_count(tb_reader *r, guint at)
{
	tb_sentence *last = r->sentences->len > at ? r->sentences->pdata[r->sentences->len - 1] : NULL;
	unsigned sizes = tb_pattern_count_sizes(r->b.pattern);
	if (last == NULL || last->claim_count == 0 || last->claims[0].count.count != sizes)
		return;
	tb_size_set seen = last->sizes;
	for (guint i = r->sentences->len - 1; i-- > 0;) {
		tb_sentence *row = r->sentences->pdata[i];
		/* "Sizes 1 and 2: …" may be a text of its own before it */
		if (i < at && ((row->sizes & seen) != 0 || row->sizes == every_size || row->kind == TB_SENTENCE_START || row->left_out))
			break;
		if (row->claim_count == 0 && (row->sizes & seen) == 0) {
			row->claims = tb_claims_in(&r->b, last->claims, last->claim_count, row->sizes);
			row->claim_count = last->claim_count;
		}
		seen |= row->sizes;
	}
	last->claims = tb_claims_in(&r->b, last->claims, last->claim_count, last->sizes);
}

/* "…, turn.*", and a line below it "Rep from * to * once more", where a star began rows above. */
static bool goes_on_from_star(const tb_reader *r, const tb_text *text)
{
	if (!r->block_open && *text->chars != '*')
		return false;
	for (size_t at = text->length; at-- > 1;) {
		const char *line = text->chars + at + 1;
		if (tb_reader_breaks_at(r, text, at) && g_ascii_strncasecmp(line, "rep", 3) == 0 && strchr(line, '*') != NULL)
			return true;
	}
	return false;
}

/* Which sizes other than those of HERE the texts right before this one are of, without a count: "Sizes 1 and 2: …" */
static tb_size_set sizes_before(const tb_reader *r, tb_size_set here)
{
	tb_size_set found = 0;
	for (guint i = r->sentences->len; i-- > 0;) {
		const tb_sentence *row = r->sentences->pdata[i];
		if (row->sizes == every_size || (row->sizes & here) != 0 || row->claim_count > 0 || row->left_out)
			break;
		found |= row->sizes;
	}
	return found;
}

/* "Rnd 5: S: sc around. M and L: (sc 3, inc) x 6.": a row for each of these. */
static bool read_of_sizes(tb_reader *r, const GPtrArray *rows, const GArray *sizes)
{
	bool good = true;
	guint at = r->sentences->len;
	r->shared = sizes_before(r, g_array_index(sizes, tb_size_set, 0));
	for (guint i = 0; i < rows->len && good; i++) {
		tb_reader_name_sizes(r, g_array_index(sizes, tb_size_set, i));
		good = add_text(r, rows->pdata[i]);
		if (good && i == 0 && r->sentences->len > at)
			at += add_before(r, at);
		const tb_sentence *made = r->sentences->len > at ? r->sentences->pdata[r->sentences->len - 1] : NULL;
		if (made != NULL && made->claim_count == 0)
			r->shared |= g_array_index(sizes, tb_size_set, i);
		if (good && r->sentences->len > 0)
			tb_reader_count_rows(r, r->sentences->pdata[r->sentences->len - 1]);
	}
	tb_reader_name_sizes(r, 0);
	r->shared = 0;
	share_count(r, at);
	return good;
}

/* "Fasten off." in a line of its own, and below it "Skip next 10 sc, join yarn in next sc and complete to match": two sentences. */
static bool ends_before_side(const tb_reader *r, const tb_text *text)
{
	if (tb_at_word(text->chars, "fasten finish bind") == 0)
		return false;
	size_t at = 0;
	while (at < text->length && !tb_reader_breaks_at(r, text, at))
		at++;
	return at < text->length && strstr(text->chars + at, " match") != NULL;
}

/*
 * "Rep Row 2 until it measures 28 cm." and a line below it, "To shape the armholes, sl st across 4 sts, …": rows worked
 * again, and a row that has no name.
 */
static bool goes_on_with_row(const tb_reader *r, const tb_text *text)
{
	bool again = tb_at_word(text->chars, "rep repeat keep continue cont carry work") > 0;
	for (size_t at = text->length; again && at-- > 1;) {
		const char *line = text->chars + at + 1;
		if (tb_reader_breaks_at(r, text, at) && tb_is_among(text->chars[at - 1], ".)!") && g_ascii_isupper(*line) && tb_has_stitch(line) &&
			tb_at_word(line, "fasten finish cut break do") == 0)
			return true;
	}
	return false;
}

/* "Sizes 3 and 4: …", and on a line below it "(32 (34, 36, 38) sc)": the count of all of them, and nothing else. */
static bool ends_on_count(const tb_reader *r, const tb_text *text)
{
	size_t breaks = 0, behind = 0;
	for (size_t at = 1; at < text->length; at++) {
		bool breaks_here = tb_reader_breaks_at(r, text, at);
		breaks += breaks_here;
		behind = breaks_here ? at + 1 : behind;
	}
	const char *count = text->chars + behind;
	size_t figures = strspn(count, "([") + strspn(count + strspn(count, "(["), "0123456789");
	return breaks == 1 && tb_is_among(*count, "([") && figures > 1 && tb_is_among(text->chars[behind - 2], ".)");
}

static bool read_unmarked(tb_reader *r, const tb_text *text)
{
	g_autoptr(GPtrArray) rows = g_ptr_array_new_with_free_func((GDestroyNotify)tb_text_destroy);
	g_autoptr(GArray) sizes = g_array_new(FALSE, FALSE, sizeof(tb_size_set));
	if (tb_reader_part_sizes(r, text, rows, sizes) && (rows->len > 1 || !tb_reader_has_break(r, rows->pdata[0]) || ends_on_count(r, rows->pdata[0]))) {
		bool good = read_of_sizes(r, rows, sizes);
		/* the texts of the clauses end with them */
		r->text = text;
		if (!good)
			tb_reader_read_instead(r, text, false);
		return good;
	}
	const tb_value *line;
	const tb_stitch *plain = r->b.plain;
	if (!tb_reader_has_break(r, text))
		return add_text(r, text);
	if ((goes_on_with_these(r, text) || goes_on_from_star(r, text) || ends_before_side(r, text) ||
			goes_on_with_row(r, text)) && read_parted(r, text))
		return true;
	if (text->length > 0 && tb_reader_try(r, text, TB_RULE_line, &line))
		return add_line(r, line, every_size);
	r->b.plain = plain;
	return read_parted(r, text) || add_text(r, text);
}

/* "… 45 sts.**": the bytes of TEXT before stars at its end that mark the place for another piece; all where none stand there. */
static size_t before_stars(const tb_text *text)
{
	size_t end = text->length;
	while (end > 0 && tb_is_among(text->chars[end - 1], " ."))
		end--;
	size_t stars = end;
	while (stars > 0 && text->chars[stars - 1] == '*')
		stars--;
	g_autofree char *before = g_strchomp(g_strndup(text->chars, stars));
	/* behind a whole sentence: "Work as for Back to **" names them */
	bool whole = g_str_has_suffix(before, ".") || g_str_has_suffix(before, ")") || g_str_has_suffix(before, "]") ||
		g_str_has_suffix(before, "turn");
	return end - stars < 2 || !whole || strstr(before, "**") != NULL ? text->length : stars;
}

/* A row, and whether "Work as for Back to **" goes as far as it. */
bool tb_reader_read_row(tb_reader *r, const tb_text *text)
{
	size_t length = before_stars(text);
	guint at = r->sentences->len;
	if (length == text->length || r->block_open)
		return read_unmarked(r, text);
	g_clear_pointer(&r->unmarked, tb_text_destroy);
	r->unmarked = tb_text_create(text->chars, length, text->offset);
	if (text->offsets != NULL) {
		r->unmarked->offsets = g_new(guint32, length + 1);
		memcpy(r->unmarked->offsets, text->offsets, (length + 1) * sizeof(guint32));
	}
	bool good = read_unmarked(r, r->unmarked);
	if (good && r->sentences->len > at)
		((tb_sentence *)r->sentences->pdata[r->sentences->len - 1])->starred = true;
	return good;
}

/* --- the piece --- */

/* A foundation row is row 1 where row 2 comes next, or where others come that have no number either. */
static void number_foundation(GPtrArray *sentences)
{
	tb_sentence *first = NULL;
	bool numbered = false;
	guint rows = 0;
	for (guint i = 0; i < sentences->len; i++) {
		tb_sentence *row = sentences->pdata[i];
		rows += row->kind == TB_SENTENCE_ROWS;
		first = first == NULL && row->kind == TB_SENTENCE_ROWS ? row : first;
		numbered = numbered || row->first > 0;
	}
	if (!numbered && rows > 1 && !first->left_out)
		first->first = first->last = 1;
	for (guint i = 0; i + 1 < sentences->len; i++) {
		tb_sentence *row = sentences->pdata[i];
		const tb_sentence *next = sentences->pdata[i + 1];
		if (row->kind != TB_SENTENCE_ROWS || row->first > 0 || row->left_out || next->first != 2)
			continue;
		row->first = row->last = 1;
		/* "Next rnd: …, skip the sleeve, …", "BODY", "Rnd 2: …": the part's rounds count from the one that divides */
		if (row->part == NULL && next->part != NULL && !next->anew) {
			row->part = next->part;
			((tb_sentence *)next)->part = NULL;
		}
		row->anew = row->anew || (i > 0 && row->part != NULL);
	}
}

/* The part that begins with row text I of PIECE, or NULL. */
static const char *part_at(const tb_piece *piece, guint i)
{
	for (guint part = 0; piece->parts != NULL && part < piece->parts->len; part++) {
		const tb_piece_part *at = &g_array_index(piece->parts, tb_piece_part, part);
		if (at->row == i)
			return at->name;
	}
	return NULL;
}

static void read_rows(tb_reader *r, tb_script *script, const tb_piece *piece, tb_read_as *as)
{
	const GPtrArray *rows = piece->rows;
	const char *part = NULL;
	tb_reader_tell_noted(r);
	for (guint i = 0; i < rows->len; i++) {
		guint before = r->sentences->len, unproved = r->unproved->len;
		unsigned last = r->last_row;
		const char *begins = part_at(piece, i);
		part = begins != NULL ? begins : part;
		r->part = begins != NULL ? begins : r->part;
		r->gone = begins != NULL ? 0 : r->gone;
		r->told_here = tb_reader_is_told(piece, i);
		bool understood = tb_reader_read_row(r, rows->pdata[i]);
		as[i] = understood ? r->as : TB_READ_UNREAD;
		if (!understood) {
			/* what it was to go on from may have been taken away */
			g_ptr_array_set_size(r->sentences, (gint)MIN(before, r->sentences->len));
			tb_sentence *left_out = add_left_out(r, TB_SENTENCE_ROWS);
			tb_reader_take_at_word(r, left_out, rows->pdata[i]);
			script->has_fault = true;
		}
		if (understood && r->told_here && tb_reader_keep_told(r, before, last)) {
			as[i] = TB_READ_DEFINITION;
			continue;
		}
		if (unproved > 0 && !tb_reader_prove(r, before, last))
			script->has_fault = true;
		if (r->sentences->len > before)
			tb_reader_find_colours(r, rows->pdata[i], before);
		else
			tb_reader_await_colour(r, rows->pdata[i]);
		/* a line without a number that is not understood may stand above the part's rows */
		if (part != NULL && r->sentences->len > before && (understood || r->row > 0)) {
			tb_reader_begin_part(r, before, part);
			before = r->sentences->len - 1;
			part = NULL;
		} else if (understood && r->sentences->len > before && tb_reader_begins_anew(r, before) != NULL) {
			tb_reader_begin_part(r, before, tb_reader_begins_anew(r, before));
			before = r->sentences->len - 1;
		}
		if (understood && r->sentences->len > before) {
			add_before(r, before);
			const tb_sentence *last_read = r->sentences->pdata[r->sentences->len - 1];
			tb_reader_count_rows(r, last_read);
			r->series = last_read->first > 0 ? last_read->series : r->series;
		} else if (!understood && r->row > 0) {
			r->last_row = MAX(r->row, r->row_last);
		}
	}
	if (!script->has_fault && !tb_reader_check_told(r))
		script->has_fault = true;
	if (r->unproved->len > 0) {
		tb_reader_tell_unproved(r, TB_ERROR);
		script->has_fault = true;
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
	g_autoptr(GArray) before = g_array_new(FALSE, FALSE, sizeof(tb_act));
	g_autoptr(GArray) loose = g_array_new(FALSE, FALSE, sizeof(tb_loose));
	g_autoptr(GArray) doubts = g_array_new(FALSE, FALSE, sizeof(tb_doubt));
	g_autoptr(GHashTable) held = g_hash_table_new(NULL, NULL);
	g_autoptr(tb_vocabulary) vocabulary = tb_vocabulary_create(&tb_english, pattern->library,
		pattern->uk_terms, tb_pattern_count_sizes(pattern));
	for (unsigned i = 0; i < tb_pattern_count_sizes(pattern); i++)
		tb_vocabulary_add_size(vocabulary, tb_pattern_get_size(pattern, i), i);
	for (unsigned i = 0; i < tb_pattern_count_sizes(pattern); i++)
		tb_vocabulary_add_short_size(vocabulary, tb_pattern_get_size(pattern, i), i);
	tb_vocabulary_group_sizes(vocabulary, (char *const *)pattern->sizes->pdata, tb_pattern_count_sizes(pattern));
	g_autoptr(GArray) unheld = g_array_new(FALSE, FALSE, sizeof(tb_span));
	g_autoptr(GArray) unproved = g_array_new(FALSE, FALSE, sizeof(tb_doubt));
	script->borrowed = g_ptr_array_new_with_free_func((GDestroyNotify)tb_script_destroy);
	script->asides = g_array_new(FALSE, FALSE, sizeof(tb_span));
	tb_reader r = {.sentences = sentences, .later = later, .before = before, .unproved = unproved, .number = number,
		.borrowed = script->borrowed};
	tb_stripes stripes;
	r.striped = tb_script_find_stripes(pattern, script->arena, &stripes);
	r.b = (tb_builder){.pattern = pattern, .piece = number, .vocabulary = vocabulary, .arena = script->arena,
		.loose = loose, .doubts = doubts, .held = held, .asides = script->asides, .unheld = unheld,
		.chain = tb_library_find(pattern->library, "ch"),
		.slip = tb_library_find(pattern->library, "sl st"),
		.grammar_symbols = tb_english.symbol_names};
	tb_build_name_knots(&r.b);
	r.diagnostics = diagnostics;
	r.piece = piece->name;
	tb_read_as *as = tb_arena_take(script->arena, (piece->rows->len + 1) * sizeof *as);
	script->row_as = as;
	tb_reader_find_facts(&r);
	tb_reader_define(&r);
	if (piece->start != NULL)
		script->has_fault = !tb_reader_read_start(&r, piece->start,
			piece->rows->len > 0 ? piece->rows->pdata[0] : NULL);
	else if (piece->from_text != NULL)
		script->has_fault = !tb_reader_from(&r, piece->from_text, script);
	if (piece->start != NULL)
		tb_reader_find_start_colours(&r, piece->start);
	if (script->has_fault)
		add_left_out(&r, TB_SENTENCE_START);
	as[piece->rows->len] = script->has_fault ? TB_READ_UNREAD : TB_READ_START;
	read_rows(&r, script, piece, as);
	tb_later_insert(&r, sentences->len, tb_later_last_named(later) + 1);
	tb_later_check(&r);
	check_blocks(&r);
	script->has_fault = script->has_fault || r.block_at.end > 0;
	tb_reader_check_before(&r);
	number_foundation(sentences);
	if (piece->from_text == NULL)
		tb_reader_find_first_side(sentences);
	if (script->from_side != TB_SIDE_UNSAID && !tb_reader_face(&r, script))
		script->has_fault = true;
	tb_reader_close_text(&r);
	tb_chart_finish(&r.chart);
	g_clear_pointer(&r.unmarked, tb_text_destroy);
	script->count = sentences->len;
	script->sentences = (const tb_sentence **)tb_arena_take(
		script->arena, (sentences->len + 1) * sizeof(void *));
	if (sentences->len > 0)
		memcpy(script->sentences, sentences->pdata, sentences->len * sizeof(void *));
	return script;
}

void tb_script_destroy(tb_script *script)
{
	if (script == NULL)
		return;
	g_clear_pointer(&script->borrowed, g_ptr_array_unref); /* a composed script borrows nothing */
	g_clear_pointer(&script->asides, g_array_unref);
	tb_arena_destroy(script->arena);
	g_free(script);
}
