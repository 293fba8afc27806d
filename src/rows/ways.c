/* The readings of a row: a heap of paths over its ways. */
#include "rows/ways.h"

/* So many steps are gone for one reading. */
#define MOST_STEPS 4000u
/* A way that failed so often is put aside. */
#define MOST_FAILS 3u

static bool comes_before(const tb_candidate *a, const tb_candidate *b)
{
	return a->cost != b->cost ? a->cost < b->cost : a->age > b->age;
}

void tb_ways_push(tb_ways *w, tb_candidate new)
{
	new.age = w->pushed++;
	g_array_append_val(w->queue, new);
	tb_candidate *heap = (tb_candidate *)(gpointer)w->queue->data;
	guint at = w->queue->len - 1;
	for (; at > 0 && comes_before(&new, &heap[(at - 1) / 2]); at = (at - 1) / 2)
		heap[at] = heap[(at - 1) / 2];
	heap[at] = new;
}

static tb_candidate pop(tb_ways *w)
{
	tb_candidate *heap = (tb_candidate *)(gpointer)w->queue->data, first = heap[0];
	guint count = w->queue->len - 1, at = 0;
	tb_candidate last = heap[count];
	for (guint child; (child = at * 2 + 1) < count; at = child) {
		if (child + 1 < count && comes_before(&heap[child + 1], &heap[child]))
			child++;
		if (!comes_before(&heap[child], &last))
			break;
		heap[at] = heap[child];
	}
	heap[at] = last;
	g_array_set_size(w->queue, count);
	return first;
}

static guint32 cost_to(const tb_ways *w, guint32 place)
{
	return w->to_end[place];
}

void tb_ways_begin(tb_ways *w, const tb_sentence *s, tb_arena *arena)
{
	*w = (tb_ways){.sentence = s, .arena = arena};
	w->queue = g_array_new(FALSE, FALSE, sizeof(tb_candidate));
	w->aside = g_array_new(FALSE, FALSE, sizeof(tb_candidate));
	w->failed = g_array_new(FALSE, FALSE, sizeof(tb_candidate));
	if (s->way_count == 0) {
		tb_ways_push(w, (tb_candidate){.is_whole = true, .meaning = s->meaning});
		return;
	}
	guint32 last = s->way_end;
	for (unsigned i = 0; i < s->way_count; i++)
		last = MAX(last, s->ways[i].to);
	w->to_end = tb_arena_take(w->arena, (last + 1) * sizeof(guint32));
	for (guint32 i = 0; i <= last; i++)
		w->to_end[i] = i == s->way_end ? 0 : G_MAXUINT32 / 2;
	w->first_way = tb_arena_take(w->arena, (last + 1) * sizeof(guint32));
	for (unsigned i = s->way_count; i-- > 0;) {
		const tb_way *way = &s->ways[i];
		w->first_way[way->from] = i;
		w->to_end[way->from] = MIN(w->to_end[way->from], way->cost + w->to_end[way->to]);
	}
	tb_path *start = tb_arena_new(w->arena, tb_path);
	start->at = s->ways[0].from;
	tb_ways_push(w, (tb_candidate){.cost = cost_to(w, start->at), .path = start,
		.is_whole = start->at == s->way_end});
}

/* One step further along every way there is, the first of them on top. */
static void go_further(tb_ways *w, const tb_candidate *from)
{
	const tb_sentence *s = w->sentence;
	guint32 so_far = from->cost - cost_to(w, from->path->at);
	unsigned first = w->first_way[from->path->at], behind = first;
	while (behind < s->way_count && s->ways[behind].from == from->path->at)
		behind++;
	for (unsigned i = behind; i-- > first;) {
		const tb_way *way = &s->ways[i];
		if (cost_to(w, way->to) >= G_MAXUINT32 / 2)
			continue;
		tb_path *next = tb_arena_new(w->arena, tb_path);
		*next = (tb_path){from->path, way, way->to};
		tb_ways_push(w, (tb_candidate){.cost = so_far + way->cost + cost_to(w, way->to), .path = next,
			.meaning = from->meaning, .is_whole = way->to == s->way_end});
	}
}

/* Whether READING has a way that failed too often. */
static bool has_failed(const tb_ways *w, const tb_candidate *reading)
{
	for (const tb_path *at = reading->path; at != NULL && at->way != NULL; at = at->before) {
		unsigned fails = 0;
		for (guint i = 0; i < w->failed->len; i++) {
			const tb_candidate *failed = &g_array_index(w->failed, tb_candidate, i);
			fails += failed->path->way == at->way && failed->meaning == reading->meaning;
		}
		if (fails >= MOST_FAILS)
			return true;
	}
	return false;
}

bool tb_ways_next(tb_ways *w, tb_candidate *reading)
{
	for (unsigned steps = 0; w->queue->len > 0 && steps < MOST_STEPS; steps++) {
		*reading = pop(w);
		if (!w->late && has_failed(w, reading))
			g_array_append_val(w->aside, *reading);
		else if (reading->is_whole)
			return true;
		else
			go_further(w, reading);
	}
	return false;
}

void tb_ways_fail(tb_ways *w, const tb_candidate *reading, guint32 at)
{
	const tb_path *where = NULL;
	for (const tb_path *path = reading->path; path != NULL && path->way != NULL; path = path->before) {
		const tb_acts *acts = &path->way->acts;
		if (acts->count > 0 && acts->acts[0].span.start <= at && acts->acts[acts->count - 1].span.end > at)
			where = path;
	}
	if (where != NULL && where->way->acts.acts[0].kind != TB_ACT_CLAIM) {
		tb_candidate failed = {.path = where, .meaning = reading->meaning};
		g_array_append_val(w->failed, failed);
	}
}

guint32 tb_ways_cheapest(const tb_ways *w)
{
	return w->queue->len > 0 ? g_array_index(w->queue, tb_candidate, 0).cost : G_MAXUINT32;
}

bool tb_ways_bring_back(tb_ways *w)
{
	if (w->late || w->aside->len == 0)
		return false;
	w->late = true;
	g_array_set_size(w->queue, 0);
	for (guint i = 0; i < w->aside->len; i++)
		tb_ways_push(w, g_array_index(w->aside, tb_candidate, i));
	return true;
}

void tb_ways_finish(tb_ways *w)
{
	g_clear_pointer(&w->queue, g_array_unref);
	g_clear_pointer(&w->aside, g_array_unref);
	g_clear_pointer(&w->failed, g_array_unref);
}
