/* Lines: rows in steps, each different one kept once. */
#include "compose/compose.h"

#include <string.h>

guint32 tb_composer_add_step(tb_composer *c, const tb_step *step)
{
	g_autoptr(GBytes) key = g_bytes_new(step, sizeof *step);
	guint32 found = GPOINTER_TO_UINT(g_hash_table_lookup(c->by_step, key));
	if (found > 0)
		return found - 1;
	g_array_append_val(c->steps, *step);
	g_hash_table_insert(c->by_step, g_steal_pointer(&key), GUINT_TO_POINTER(c->steps->len));
	return c->steps->len - 1;
}

guint32 tb_composer_add_body(tb_composer *c, const GArray *parts)
{
	GBytes *key = g_bytes_new(parts->data, parts->len * sizeof(tb_body_part));
	guint32 found = GPOINTER_TO_UINT(g_hash_table_lookup(c->by_body, key));
	if (found > 0) {
		g_bytes_unref(key);
		return found - 1;
	}
	g_ptr_array_add(c->bodies, key);
	g_hash_table_insert(c->by_body, key, GUINT_TO_POINTER(c->bodies->len));
	return c->bodies->len - 1;
}

/* What a line is told from others by, apart from its lists. */
typedef struct {
	const tb_sentence *raw;
	guint32 count, places, leave, added, start_chains, none;
	guint8 join, is_foundation, ends_in_turning, is_ring, raw_turning, raw_counted, raw_idle, nothing;
} line_key;

static GBytes *make_key(const tb_line *line, const GArray *steps, const GArray *due)
{
	line_key key;
	memset(&key, 0, sizeof key);
	key.raw = line->raw;
	key.count = steps->len;
	key.places = line->places;
	key.leave = line->leave;
	key.added = line->added;
	key.start_chains = line->start_chains;
	key.join = line->join;
	key.is_foundation = line->is_foundation;
	key.ends_in_turning = line->ends_in_turning;
	key.is_ring = line->is_ring;
	key.raw_turning = line->raw_turning;
	key.raw_counted = line->raw_counted;
	key.raw_idle = line->raw_idle;
	GByteArray *bytes = g_byte_array_new();
	g_byte_array_append(bytes, (const guint8 *)&key, sizeof key);
	if (steps->len > 0) {
		g_byte_array_append(bytes, (const guint8 *)steps->data, steps->len * sizeof(guint32));
		g_byte_array_append(bytes, (const guint8 *)due->data, due->len * sizeof(guint32));
	}
	return g_byte_array_free_to_bytes(bytes);
}

static const guint32 *keep(tb_composer *c, const GArray *numbers)
{
	guint32 *copy = tb_arena_take(c->arena, (numbers->len + 1u) * sizeof(guint32));
	if (numbers->len > 0)
		memcpy(copy, numbers->data, numbers->len * sizeof(guint32));
	return copy;
}

/* Whether the row's words say the chain it begins with, which else the row before has made. */
static bool says_chain(const tb_acts *acts)
{
	unsigned i = 0;
	/* "skip the centre 22 sts, join yarn in next st, ch 1" */
	while (i < acts->count && acts->acts[i].kind == TB_ACT_SKIP)
		i++;
	if (i == acts->count || acts->acts[i].kind != TB_ACT_JOIN_YARN)
		i = 0;
	while (i < acts->count && (acts->acts[i].kind == TB_ACT_JOIN_YARN || acts->acts[i].kind == TB_ACT_LOOPS ||
		acts->acts[i].kind == TB_ACT_BEHIND || acts->acts[i].kind == TB_ACT_IN_FRONT ||
		(acts->acts[i].kind == TB_ACT_SKIP && i + 1 < acts->count && acts->acts[i + 1].kind == TB_ACT_JOIN_YARN)))
		i++;
	if (i == acts->count)
		return true;
	const tb_act *act = &acts->acts[i];
	return act->kind == TB_ACT_CHAIN || (act->kind == TB_ACT_GROUP && says_chain(&act->body));
}

/* The source's own words, for what steps cannot say. */
static void make_raw(const tb_fabric *fabric, guint32 row, tb_line *line)
{
	const tb_made_row *made_row = &fabric->rows[row];
	const tb_sentence *sentence = made_row->sentence;
	bool is_foundation = line->is_foundation;
	*line = (tb_line){.raw = sentence, .is_foundation = is_foundation, .added = line->added};
	if (made_row->count == 0 || sentence == NULL)
		return;
	const tb_made *made = &fabric->made[made_row->first];
	/* "from now on the 2 ch is not a st": said elsewhere; a chain of one is taken so by everybody */
	line->raw_idle = (made->flags & (TB_MADE_TURNING | TB_MADE_COUNTED)) == TB_MADE_TURNING && made->chains > 1;
	if (row == 1)
		return;
	if ((made->flags & TB_MADE_TURNING) && !says_chain(&sentence->acts)) {
		line->raw_turning = made->chains;
		line->raw_counted = (made->flags & TB_MADE_COUNTED) != 0;
	}
}

const tb_line *tb_compose_line(
	tb_composer *c, const tb_fabric *fabric, guint32 row, bool in_its_words)
{
	g_autoptr(GArray) steps = g_array_new(FALSE, FALSE, sizeof(guint32));
	g_autoptr(GArray) due = g_array_new(FALSE, FALSE, sizeof(guint32));
	tb_line line = {0};
	if (!tb_compose_steps(c, fabric, row, &line, steps, due) || in_its_words) {
		make_raw(fabric, row, &line);
		g_array_set_size(steps, 0);
		g_array_set_size(due, 0);
	}
	GBytes *key = make_key(&line, steps, due);
	tb_line *found = g_hash_table_lookup(c->lines, key);
	if (found != NULL) {
		g_bytes_unref(key);
		return found;
	}
	found = tb_arena_new(c->arena, tb_line);
	*found = line;
	found->steps = keep(c, steps);
	found->due = keep(c, due);
	found->count = steps->len;
	g_hash_table_insert(c->lines, key, found);
	return found;
}
