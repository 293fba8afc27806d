/*
 * The sentences of a piece: its start, its rows, and the rows that repeat others.
 *
 * Rows are said for all sizes that have them; where one text cannot say them all, the sizes are
 * parted. Rows that are made as some block of rows before them, and go on like that, are said as its
 * repeat; where the sizes repeat it a different number of times and nothing follows, so many times.
 * Where something follows, each group of sizes goes its own way to the end.
 */
#include "compose/compose.h"

#include <string.h>

#define MOST_BLOCK 100u

typedef struct {
	tb_composer *c;
	const tb_fabric *fabrics[TB_MAX_SIZES];
	const tb_line **lines[TB_MAX_SIZES]; /* by row index */
	tb_size_set all;
	GPtrArray *sentences;
} book;

static bool has(tb_size_set sizes, unsigned size)
{
	return sizes >> size & 1;
}

/* The index of row NUMBER in SIZE, or 0. */
static guint32 index_of(const book *b, unsigned size, guint32 number)
{
	const tb_fabric *fabric = b->fabrics[size];
	if (number == 0) /* what all is worked on has no row; a foundation row stands on it */
		return fabric->row_count > 1 && fabric->rows[1].number == 0;
	if (number < fabric->row_count && fabric->rows[number].number == number)
		return number;
	const tb_made_row *row = tb_fabric_row(fabric, number);
	return row != NULL ? (guint32)(row - fabric->rows) : 0;
}

static guint32 last_number(const book *b, tb_size_set sizes)
{
	guint32 last = 0;
	for (unsigned i = 0; i < b->c->sizes; i++) {
		const tb_fabric *fabric = b->fabrics[i];
		if (has(sizes, i) && fabric->row_count > 1)
			last = MAX(last, fabric->rows[fabric->row_count - 1].number);
	}
	return last;
}

static tb_size_set sizes_with(const book *b, tb_size_set sizes, guint32 number)
{
	tb_size_set found = 0;
	for (unsigned i = 0; i < b->c->sizes; i++) {
		if (has(sizes, i) && index_of(b, i, number) > 0)
			found |= (tb_size_set)1 << i;
	}
	return found;
}

static tb_sentence *add_sentence(book *b, tb_sentence_kind kind, tb_size_set sizes)
{
	tb_sentence *sentence = tb_arena_new(b->c->arena, tb_sentence);
	sentence->kind = kind;
	sentence->sizes = sizes == b->all ? G_MAXUINT32 : sizes;
	g_ptr_array_add(b->sentences, sentence);
	return sentence;
}

static void set_acts(book *b, tb_sentence *sentence, const GArray *acts)
{
	tb_act *copy = tb_arena_take(b->c->arena, (acts->len + 1u) * sizeof(tb_act));
	if (acts->len > 0)
		memcpy(copy, acts->data, acts->len * sizeof(tb_act));
	sentence->acts = (tb_acts){copy, acts->len};
}

/* --- one row --- */

/* Whether the work is turned behind row NUMBER. */
static bool is_turned(const book *b, tb_size_set sizes, guint32 number)
{
	for (unsigned i = 0; i < b->c->sizes; i++) {
		guint32 row = has(sizes, i) ? index_of(b, i, number) : 0;
		if (row > 0 && row + 1 < b->fabrics[i]->row_count)
			return b->fabrics[i]->rows[row + 1].side != b->fabrics[i]->rows[row].side;
	}
	return false;
}

/* Whether ROW joins new yarn beside what was worked last. */
static bool is_beside(const tb_fabric *fabric, guint32 row)
{
	const tb_sentence *sentence = fabric->rows[row].sentence;
	for (unsigned i = 0; sentence != NULL && fabric->rows[row].stands + 1 < row && i < sentence->acts.count; i++) {
		if (sentence->acts.acts[i].kind == TB_ACT_JOIN_YARN)
			return true;
	}
	return false;
}

/* Whether the work ends behind row NUMBER, and new yarn goes on beside it. */
static bool is_fastened(const book *b, tb_size_set sizes, guint32 number)
{
	for (unsigned i = 0; i < b->c->sizes; i++) {
		guint32 row = has(sizes, i) ? index_of(b, i, number) : 0;
		if (row > 0 && row + 1 < b->fabrics[i]->row_count)
			return is_beside(b->fabrics[i], row + 1);
	}
	return false;
}

static bool compose(book *b, tb_size_set sizes, guint32 number, bool in_its_words, GArray *acts)
{
	const tb_line *lines[TB_MAX_SIZES] = {NULL};
	const tb_made_row *first = NULL;
	g_array_set_size(acts, 0);
	for (unsigned i = 0; i < b->c->sizes; i++) {
		if (!has(sizes, i))
			continue;
		guint32 index = index_of(b, i, number);
		const tb_made_row *row = &b->fabrics[i]->rows[index];
		lines[i] = in_its_words ? tb_compose_line(b->c, b->fabrics[i], index, true)
								: b->lines[i][index];
		if (first != NULL && (row->side != first->side || row->is_round != first->is_round))
			return false;
		first = row;
	}
	return tb_compose_acts(b->c, lines, sizes, acts);
}

static void add_claim(book *b, tb_sentence *sentence, tb_size_set sizes, guint32 number)
{
	int values[TB_MAX_SIZES] = {0};
	for (unsigned i = 0; i < b->c->sizes; i++) {
		guint32 index = has(sizes, i) ? index_of(b, i, number) : 0;
		if (index > 0)
			values[i] = (int)b->fabrics[i]->rows[index].stitches;
	}
	tb_claim *claim = tb_arena_new(b->c->arena, tb_claim);
	claim->count = tb_compose_number(b->c, values, sizes);
	sentence->claims = claim;
	sentence->claim_count = 1;
}

static void end_row(book *b, tb_sentence *sentence, tb_size_set sizes, GArray *acts)
{
	/* chains right before a turn would be the next row's turning chain */
	bool chains =
		acts->len > 1 && g_array_index(acts, tb_act, acts->len - 1).kind == TB_ACT_CHAIN;
	bool fastened = is_fastened(b, sizes, sentence->first);
	if (!chains && (fastened || is_turned(b, sizes, sentence->first))) {
		tb_act turn = {.kind = fastened ? TB_ACT_FASTEN_OFF : TB_ACT_TURN};
		g_array_append_val(acts, turn);
	}
	set_acts(b, sentence, acts);
}

static void add_row(book *b, tb_size_set sizes, guint32 number, GArray *acts)
{
	tb_sentence *sentence = add_sentence(b, TB_SENTENCE_ROWS, sizes);
	unsigned any = 0;
	while (!has(sizes, any))
		any++;
	const tb_made_row *row = &b->fabrics[any]->rows[index_of(b, any, number)];
	sentence->first = sentence->last = number;
	sentence->is_round = row->is_round;
	sentence->side = row->side;
	end_row(b, sentence, sizes, acts);
	add_claim(b, sentence, sizes, number);
	if (tb_compose_is_too_long(b->c, sentence) && compose(b, sizes, number, true, acts))
		end_row(b, sentence, sizes, acts);
}

/* Says row NUMBER, for as many sizes at once as one text can. */
static void add_rows(book *b, tb_size_set sizes, guint32 number)
{
	g_autoptr(GArray) acts = g_array_new(FALSE, FALSE, sizeof(tb_act));
	if (compose(b, sizes, number, false, acts)) {
		add_row(b, sizes, number, acts);
		return;
	}
	while (sizes != 0) {
		tb_size_set group = 0;
		for (unsigned i = 0; i < b->c->sizes; i++) {
			tb_size_set more = group | (tb_size_set)1 << i;
			if (has(sizes, i) && (group == 0 || compose(b, more, number, false, acts)))
				group = more;
		}
		compose(b, group, number, false, acts);
		add_row(b, group, number, acts);
		sizes &= ~group;
	}
}

/* --- rows that repeat others --- */

/* Whether row AT (an index) of SIZE is made as the row BLOCK before, and turned as that was. */
static bool is_again(const book *b, unsigned size, guint32 at, guint32 block)
{
	const tb_made_row *rows = b->fabrics[size]->rows;
	if (at <= block || rows[at].number - rows[at - block].number != block)
		return false;
	const tb_made_row *row = &rows[at], *before = &rows[at - block];
	if (b->lines[size][at] != b->lines[size][at - block] || row->is_round != before->is_round)
		return false;
	bool turned = row->side != row[-1].side;
	if (!row->is_round)
		return turned;
	return at > block + 1 && turned == (before->side != before[-1].side);
}

static guint32 count_again(const book *b, unsigned size, guint32 number, guint32 block)
{
	guint32 from = index_of(b, size, number), at = from;
	while (at < b->fabrics[size]->row_count && is_again(b, size, at, block))
		at++;
	return at - from;
}

static bool is_at_end(const book *b, unsigned size, guint32 number, guint32 many)
{
	return index_of(b, size, number) + many >= b->fabrics[size]->row_count;
}

/* How many rows from NUMBER on repeat the BLOCK rows before them, by size; 0 where that is no use. */
static guint64 try_block(const book *b, tb_size_set sizes, guint32 number, guint32 block,
	guint32 *many)
{
	guint64 sum = 0;
	bool whole = false;
	for (unsigned i = 0; i < b->c->sizes; i++) {
		if (!has(sizes, i))
			continue;
		many[i] = count_again(b, i, number, block);
		if (many[i] == 0 || (many[i] < block && !is_at_end(b, i, number, many[i])))
			return 0;
		whole = whole || many[i] >= block;
		sum += many[i];
	}
	return whole ? sum : 0;
}

static guint32 find_block(const book *b, tb_size_set sizes, guint32 number, guint32 *many)
{
	guint32 best = 0, found[TB_MAX_SIZES] = {0};
	guint64 best_sum = 0;
	for (guint32 block = 1; block < number && block <= MOST_BLOCK; block++) {
		guint64 sum = try_block(b, sizes, number, block, found);
		if (sum > best_sum) {
			best_sum = sum;
			best = block;
			memcpy(many, found, sizeof found);
		}
	}
	return best;
}

static tb_sentence *add_repeat(book *b, tb_size_set sizes, guint32 number, guint32 block,
	guint32 count)
{
	tb_sentence *sentence = add_sentence(b, TB_SENTENCE_REPEAT, sizes);
	unsigned any = 0;
	while (!has(sizes, any))
		any++;
	sentence->is_round = b->fabrics[any]->rows[index_of(b, any, number)].is_round;
	sentence->repeat_first = number - block;
	sentence->repeat_last = number - block + count - 1;
	return sentence;
}

/* "Rows 7-10: Rep Rows 3-6." */
static void add_over(book *b, tb_size_set sizes, guint32 number, guint32 block, guint32 many)
{
	tb_sentence *sentence = add_repeat(b, sizes, number, block, MIN(block, many));
	sentence->first = number;
	sentence->last = number + many - 1;
	sentence->until = TB_REPEAT_OVER;
}

static void add_times(book *b, tb_size_set sizes, guint32 number, guint32 block, guint32 count,
	const int *times)
{
	tb_sentence *sentence = add_repeat(b, sizes, number, block, count);
	sentence->until = TB_REPEAT_TIMES;
	sentence->times = tb_compose_number(b->c, times, sizes);
}

/* "Rep Rows 3-6 4 (5, 6) times.", and what part of them is worked once more. */
static void add_to_end(book *b, tb_size_set sizes, guint32 number, guint32 block,
	const guint32 *many)
{
	int times[TB_MAX_SIZES] = {0};
	static const int once[TB_MAX_SIZES] = {1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1,
		1, 1, 1, 1, 1};
	for (unsigned i = 0; i < b->c->sizes; i++)
		times[i] = many[i] >= block ? (int)(many[i] / block) : TB_NOT_IN_SIZE;
	add_times(b, sizes, number, block, block, times);
	for (guint32 part = 1; part < block; part++) {
		tb_size_set some = 0;
		for (unsigned i = 0; i < b->c->sizes; i++) {
			if (has(sizes, i) && many[i] % block == part)
				some |= (tb_size_set)1 << i;
		}
		if (some != 0)
			add_times(b, some, number, block, part, once);
	}
}

static bool all_equal(const book *b, tb_size_set sizes, const guint32 *many)
{
	guint32 first = 0;
	for (unsigned i = 0; i < b->c->sizes; i++) {
		if (has(sizes, i) && first == 0)
			first = many[i];
		if (has(sizes, i) && many[i] != first)
			return false;
	}
	return true;
}

static bool all_end(const book *b, tb_size_set sizes, guint32 number, const guint32 *many)
{
	for (unsigned i = 0; i < b->c->sizes; i++) {
		if (has(sizes, i) && !is_at_end(b, i, number, many[i]))
			return false;
	}
	return true;
}

static guint32 largest(const book *b, tb_size_set sizes, const guint32 *many)
{
	guint32 result = 0;
	for (unsigned i = 0; i < b->c->sizes; i++)
		result = has(sizes, i) ? MAX(result, many[i]) : result;
	return result;
}

/*
 * The rows to write out before the repeat, so that it comes out whole: two at most, or they are said
 * as the part worked once more.
 */
static guint32 find_over(const book *b, tb_size_set sizes, guint32 block, const guint32 *many)
{
	guint32 over = TB_NONE;
	for (unsigned i = 0; i < b->c->sizes; i++) {
		if (!has(sizes, i))
			continue;
		if (many[i] < 2 * block || (over != TB_NONE && many[i] % block != over))
			return 0;
		over = many[i] % block;
	}
	return over != TB_NONE && over <= 2 ? over : 0;
}

static void say_from(book *b, tb_size_set sizes, guint32 number);

/* Each group of sizes repeats as often as it does, and goes on alone. */
static void part_ways(book *b, tb_size_set sizes, guint32 number, guint32 block,
	const guint32 *many)
{
	for (unsigned i = 0; i < b->c->sizes; i++) {
		tb_size_set group = 0;
		for (unsigned j = i; j < b->c->sizes && has(sizes, i); j++) {
			if (has(sizes, j) && many[j] == many[i])
				group |= (tb_size_set)1 << j;
		}
		if (group == 0)
			continue;
		add_over(b, group, number, block, many[i]);
		say_from(b, group, number + many[i]);
		sizes &= ~group;
	}
}

static void say_from(book *b, tb_size_set sizes, guint32 number)
{
	guint32 last = last_number(b, sizes);
	while (number <= last) {
		guint32 many[TB_MAX_SIZES] = {0};
		tb_size_set active = sizes_with(b, sizes, number);
		guint32 block = active != 0 ? find_block(b, active, number, many) : 0;
		guint32 over = block > 0 && all_end(b, active, number, many)
			? find_over(b, active, block, many) : 0;
		if (block == 0) {
			if (active != 0)
				add_rows(b, active, number);
			number++;
		} else if (over > 0) {
			for (; over > 0; over--)
				add_rows(b, active, number++);
		} else if (all_equal(b, active, many)) {
			guint32 count = largest(b, active, many);
			/* sizes that lack these rows go their own way meanwhile */
			if (active != sizes && last_number(b, sizes & ~active) > number) {
				part_ways(b, active, number, block, many);
				sizes &= ~active;
				number++;
				continue;
			}
			add_over(b, active, number, block, count);
			number += count;
		} else if (all_end(b, active, number, many)) {
			add_to_end(b, active, number, block, many);
			sizes &= ~active;
			number++;
		} else {
			part_ways(b, active, number, block, many);
			sizes &= ~active;
			number++;
		}
	}
}

/* --- the start --- */

static void add_start(book *b, const tb_script *source)
{
	int values[TB_MAX_SIZES] = {0};
	bool ring = false, raw = false, takes_up = false;
	if (tb_pattern_piece(b->c->pattern, b->c->piece)->from_piece != NULL)
		return;
	for (unsigned i = 0; i < b->c->sizes; i++) {
		if (!has(b->all, i) || b->fabrics[i]->row_count < 2)
			continue;
		const tb_line *line = b->lines[i][1];
		values[i] = (int)line->start_chains;
		raw = raw || line->raw != NULL || tb_compose_is_worked_start(b->fabrics[i]);
		ring = ring || line->is_ring || tb_compose_is_tube(b->fabrics[i]);
		takes_up = takes_up || tb_compose_takes_up(&b->fabrics[i]->rows[1]);
	}
	const tb_sentence *said = source->count > 0 ? source->sentences[0] : NULL;
	/* the body is what it begins on */
	if (takes_up && said != NULL && said->kind != TB_SENTENCE_START)
		return;
	if (raw && said != NULL && said->kind == TB_SENTENCE_START) {
		tb_sentence *copy = add_sentence(b, TB_SENTENCE_START, b->all);
		copy->acts = said->acts;
		return;
	}
	g_autoptr(GArray) acts = g_array_new(FALSE, FALSE, sizeof(tb_act));
	tb_number chains = tb_compose_number(b->c, values, b->all);
	tb_act chain = {.kind = TB_ACT_CHAIN, .count = chains}, join = {.kind = TB_ACT_RING};
	bool any = chains.count > 1 || chains.values[0] > 0;
	if (any)
		g_array_append_val(acts, chain);
	if (ring)
		g_array_append_val(acts, join);
	if (acts->len > 0)
		set_acts(b, add_sentence(b, TB_SENTENCE_START, b->all), acts);
}

/* --- the piece --- */

static void take_lines(book *b)
{
	for (unsigned i = 0; i < b->c->sizes; i++) {
		if (!has(b->all, i))
			continue;
		const tb_fabric *fabric = tb_worked_fabric(b->c->worked, b->c->piece, i);
		b->fabrics[i] = fabric;
		b->lines[i] = (const tb_line **)tb_arena_take(b->c->arena,
			(fabric->row_count + 1u) * sizeof(tb_line *));
		for (guint32 row = 1; row < fabric->row_count; row++)
			b->lines[i][row] = tb_compose_line(b->c, fabric, row, false);
	}
}

static void composer_init(tb_composer *c, const tb_worked *worked, unsigned piece)
{
	c->worked = worked;
	c->pattern = tb_worked_pattern(worked);
	c->piece = piece;
	c->sizes = tb_pattern_count_sizes(c->pattern);
	c->arena = tb_arena_create();
	c->steps = g_array_new(FALSE, FALSE, sizeof(tb_step));
	c->by_step = g_hash_table_new_full(g_bytes_hash, g_bytes_equal,
		(GDestroyNotify)g_bytes_unref, NULL);
	c->bodies = g_ptr_array_new();
	c->by_body = g_hash_table_new_full(g_bytes_hash, g_bytes_equal,
		(GDestroyNotify)g_bytes_unref, NULL);
	c->lines = g_hash_table_new_full(g_bytes_hash, g_bytes_equal,
		(GDestroyNotify)g_bytes_unref, NULL);
	c->chain = tb_library_find(c->pattern->library, "ch");
	c->slip = tb_library_find(c->pattern->library, "sl st");
}

/* All but the arena, which the script takes over. */
static void composer_finish(tb_composer *c)
{
	g_array_free(c->steps, TRUE);
	g_ptr_array_free(c->bodies, TRUE);
	g_hash_table_destroy(c->by_step);
	g_hash_table_destroy(c->by_body);
	g_hash_table_destroy(c->lines);
}

tb_script *tb_compose_script(const tb_worked *worked, unsigned piece, tb_size_set sizes,
	const tb_script *source)
{
	tb_composer c = {0};
	composer_init(&c, worked, piece);
	book b = {.c = &c, .all = sizes, .sentences = g_ptr_array_new()};
	take_lines(&b);
	add_start(&b, source);
	say_from(&b, sizes, 0);
	tb_script *script = g_new0(tb_script, 1);
	script->arena = c.arena;
	script->borrowed = g_ptr_array_new();
	script->count = b.sentences->len;
	script->has_from = source->has_from;
	script->from_first = source->from_first;
	script->from_last = source->from_last;
	script->sentences =
		(const tb_sentence **)tb_arena_take(c.arena, (script->count + 1u) * sizeof(void *));
	if (script->count > 0)
		memcpy(script->sentences, b.sentences->pdata, script->count * sizeof(void *));
	g_ptr_array_free(b.sentences, TRUE);
	composer_finish(&c);
	return script;
}
