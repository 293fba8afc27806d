/* "Work as Left Front, reversing shaping": the rules stand in the header. */
#include "rows/mirror.h"

#include "rows/in_pattern.h"

#include <string.h>

/* So many acts at the most stand around the work of a row. */
#define MOST_AROUND 16u

/* What goes into one place, or over several: a stitch, two in one place, two together. */
typedef struct {
	guint16 stitch;
	guint32 first, places; /* places of the row below, from its beginning */
	guint32 many;          /* stitches in that place */
	bool is_chain;         /* the turning chain that counts is one of them */
} part;

/* A row of the other piece, or of the piece's first side. */
typedef struct {
	tb_stitches cloth;
	const tb_made_row *row, *below;
	GArray *parts;   /* part */
	guint32 left[2]; /* places that are left at its beginning, and its end */
	const tb_made *chain; /* its turning chain; or NULL */
	bool in_pattern; /* its words say so: which stitch goes on which, the row below tells */
} other_row;

/* Of the stitches that count in ROW, the number of the one at AT, as the next row comes to them; TB_NONE for others. */
static GHashTable *number_tops(const tb_stitches *cloth, const tb_made_row *row)
{
	GHashTable *numbers = g_hash_table_new(NULL, NULL);
	guint32 count = 0;
	for (guint32 i = row->first; i < row->first + row->count; i++) {
		if (cloth->made[i].flags & TB_MADE_COUNTED)
			g_hash_table_insert(numbers, GUINT_TO_POINTER(i), GUINT_TO_POINTER(count++));
	}
	return numbers;
}

/* Where MADE stands among the places; false where that is no plain place of the row below. */
static bool find_places(const other_row *o, GHashTable *tops, const tb_made *made, guint32 *first, guint32 *places)
{
	guint32 low = TB_NONE, high = 0;
	bool same_way = o->row->leftward == o->below->leftward;
	if (made->rows_below != 1 || made->behind != TB_NONE || made->flags & TB_MADE_IN_SPACE || made->base_count == 0)
		return false;
	for (unsigned i = 0; i < made->base_count; i++) {
		gpointer at;
		if (!g_hash_table_lookup_extended(tops, GUINT_TO_POINTER(tb_stitches_base(&o->cloth, made, i)), NULL, &at))
			return false;
		guint32 place = same_way ? GPOINTER_TO_UINT(at) : o->below->stitches - 1 - GPOINTER_TO_UINT(at);
		low = MIN(low, place);
		high = MAX(high, place);
	}
	*first = low;
	*places = high - low + 1;
	return *places == made->base_count;
}

/* The row as parts, in the order they are worked; false where it has anything but plain stitches. */
static bool take_apart(other_row *o, guint16 slip)
{
	g_autoptr(GHashTable) tops = number_tops(&o->cloth, o->below);
	guint32 due = 0;
	for (guint32 i = o->row->first; i < o->row->first + o->row->count; i++) {
		const tb_made *made = &o->cloth.made[i];
		if (made->flags & TB_MADE_TURNING)
			o->chain = made;
		if (!(made->flags & TB_MADE_COUNTED)) {
			if (!(made->flags & TB_MADE_TURNING) && made->stitch != slip)
				return false;
			continue;
		}
		part p = {.stitch = made->stitch, .many = 1, .is_chain = (made->flags & TB_MADE_TURNING) != 0};
		if (made->flags & TB_MADE_CHAIN || !find_places(o, tops, made, &p.first, &p.places))
			return false;
		part *last = o->parts->len > 0 ? &g_array_index(o->parts, part, o->parts->len - 1) : NULL;
		if (last == NULL)
			o->left[0] = p.first;
		else if (p.first == last->first && p.places == 1 && last->places == 1 && (last->stitch == p.stitch || last->is_chain)) {
			last->many++;
			last->stitch = p.stitch;
			continue;
		} else if (p.first != due)
			return false;
		due = p.first + p.places;
		g_array_append_val(o->parts, p);
	}
	o->left[1] = o->below->stitches - MIN(due, o->below->stitches);
	return o->parts->len > 0;
}

/* What the chain that counts stands for: the stitch it changes its place with, where no other is said. */
static guint16 stands_for(const other_row *o, const part *other_end)
{
	return o->row->turning_as != NULL ? o->row->turning_as->number : other_end->stitch;
}

/* Turns the parts around. False where the row cannot begin with its chain then. */
static bool turn_around(other_row *o)
{
	guint count = o->parts->len;
	part *parts = (part *)(void *)o->parts->data;
	bool counted = parts[0].is_chain;
	if (counted && (count < 2 || parts[count - 1].places != 1))
		return false;
	if (counted) {
		guint16 stitch = stands_for(o, &parts[count - 1]);
		if (parts[count - 1].stitch != stitch || (parts[0].many > 1 && parts[0].stitch != stitch))
			return false;
		parts[0].stitch = stitch;
		parts[0].is_chain = false;
		parts[count - 1].is_chain = true;
	}
	for (guint i = 0; i < count / 2; i++) {
		part swapped = parts[i];
		parts[i] = parts[count - 1 - i];
		parts[count - 1 - i] = swapped;
	}
	guint32 left = o->left[0];
	o->left[0] = o->left[1];
	o->left[1] = left;
	return true;
}

static bool is_alike_from_both_ends(const other_row *o)
{
	const part *parts = (const part *)(const void *)o->parts->data;
	if (o->left[0] != o->left[1])
		return false;
	for (guint i = 0, k = o->parts->len - 1; i < k; i++, k--) {
		bool chain = parts[i].is_chain && parts[i].many == 1 && parts[k].many == 1 && parts[k].places == 1;
		if (!chain && ((parts[i].stitch != parts[k].stitch && !o->in_pattern) || parts[i].places != parts[k].places || parts[i].many != parts[k].many))
			return false;
	}
	return true;
}

/* Whether the row makes another number of stitches anywhere than it has below. */
static bool is_shaped(const other_row *o)
{
	bool shaped = o->left[0] + o->left[1] > 0;
	for (guint i = 0; i < o->parts->len; i++) {
		const part *p = &g_array_index(o->parts, part, i);
		shaped = shaped || p->places != 1 || p->many != 1;
	}
	return shaped;
}

static tb_number number_of(tb_hands *h, guint32 value, tb_span span)
{
	int *values = tb_arena_new(h->working->arena, int);
	*values = (int)value;
	return (tb_number){1, values, span};
}

/* MANY of STITCH in each of the next COUNT places. */
static void add_work(tb_hands *h, GArray *acts, const tb_sentence *said, const tb_stitch *stitch, guint32 many, guint32 count,
	tb_in in, tb_loops loops)
{
	tb_act act = {.kind = TB_ACT_WORK, .span = said->span, .stitch = stitch};
	act.each = number_of(h, many, said->span);
	act.place = (tb_place){.in = in, .rows_below = 1, .loops = loops, .span = said->span};
	act.place.count = number_of(h, count, said->span);
	g_array_append_val(acts, act);
}

/* Whether ACT stands around the work of a row, and has no end of its own. */
static bool is_around(const tb_act *act)
{
	return act->kind == TB_ACT_TURN || act->kind == TB_ACT_SIDE || act->kind == TB_ACT_CLAIM || act->kind == TB_ACT_FASTEN_OFF ||
		act->kind == TB_ACT_DO_NOT_TURN || act->kind == TB_ACT_LOOPS;
}

/* The loops that the row's words name, where all its stitches are in those. */
static tb_loops loops_of(const tb_sentence *sentence)
{
	for (unsigned i = 0; i < sentence->acts.count; i++) {
		if (sentence->acts.acts[i].kind == TB_ACT_WORK)
			return sentence->acts.acts[i].place.loops;
	}
	return TB_LOOPS_BOTH;
}

/* Whether SENTENCE works a side from where its first row joins new yarn: on what is left of the row below. */
static bool begins_side(const tb_sentence *sentence)
{
	return sentence->mirror_row > 0 && sentence->begin.count > 0;
}

/* Parts FROM on of a row in pattern: what shapes it, and "in pattern to last 3 sts" between. */
static void add_in_pattern(tb_hands *h, const other_row *o, const tb_sentence *sentence, guint from, GArray *acts)
{
	const tb_library *library = h->working->pattern->library;
	const part *parts = (const part *)(const void *)o->parts->data;
	tb_loops loops = loops_of(sentence);
	guint32 behind = o->left[1];
	for (guint i = from; i < o->parts->len; i++)
		behind += parts[i].places;
	for (guint i = from, end; i < o->parts->len; i = end) {
		bool even = parts[i].many == 1 && parts[i].places == 1;
		for (end = i + 1; even && end < o->parts->len && parts[end].many == 1 && parts[end].places == 1;)
			end++;
		for (guint k = i; k < end; k++)
			behind -= parts[k].places;
		add_work(h, acts, sentence, tb_library_get(library, parts[i].stitch), parts[i].many, even ? behind : 1,
			even ? TB_IN_EACH : TB_IN_NEXT, loops);
		g_array_index(acts, tb_act, acts->len - 1).pattern = even ? TB_PATTERN_SAID : TB_PATTERN_SHAPING;
	}
	if (o->left[1] > 0) {
		tb_act leave = {.kind = TB_ACT_LEAVE, .span = sentence->span};
		g_array_append_val(acts, leave);
	}
}

/* "Skip 9 dc, join yarn in next dc": how the first row of a side begins; the next stitch goes into that one. */
static void begin_side(const tb_sentence *sentence, GArray *acts)
{
	for (unsigned i = 0; i < sentence->begin.count; i++) {
		if (sentence->begin.acts[i].kind != TB_ACT_SIDE)
			g_array_append_vals(acts, &sentence->begin.acts[i], 1);
	}
}

/* Adds the work of the parts, which were turned around. */
static void add_parts(tb_hands *h, const other_row *o, const tb_sentence *sentence, GArray *acts)
{
	const tb_library *library = h->working->pattern->library;
	tb_loops loops = loops_of(sentence);
	const part *parts = (const part *)(const void *)o->parts->data;
	bool counted = parts[0].is_chain, begun = begins_side(sentence);
	if (o->left[0] > 0 && !begun)
		add_work(h, acts, sentence, h->working->slip, 1, o->left[0] + counted, TB_IN_FIRST, TB_LOOPS_BOTH);
	if (o->chain != NULL) {
		tb_act chain = {.kind = TB_ACT_CHAIN, .span = sentence->span, .bare = true};
		chain.count = number_of(h, o->chain->chains, sentence->span);
		chain.counts = chain.counts_here = counted ? TB_COUNTS : TB_COUNTS_NOT;
		chain.stitch = counted ? tb_library_get(library, parts[0].stitch) : NULL;
		g_array_append_val(acts, chain);
	}
	if (counted && parts[0].many > 1)
		add_work(h, acts, sentence, tb_library_get(library, parts[0].stitch), parts[0].many - 1, 1,
			o->left[0] > 0 ? TB_IN_SAME : TB_IN_FIRST, loops);
	guint from = counted;
	if (o->in_pattern) {
		add_in_pattern(h, o, sentence, from, acts);
		return;
	}
	if (begun && !counted) {
		bool one = parts[0].places == 1;
		add_work(h, acts, sentence, tb_library_get(library, parts[0].stitch), parts[0].many, 1, one ? TB_IN_SAME : TB_IN_NEXT, loops);
		from = 1;
	}
	for (guint i = from, end; i < o->parts->len; i = end) {
		for (end = i + 1; end < o->parts->len && parts[i].many == 1 && parts[end].many == 1 &&
			parts[end].stitch == parts[i].stitch && parts[end].places == parts[i].places;)
			end++;
		add_work(h, acts, sentence, tb_library_get(library, parts[i].stitch), parts[i].many, end - i, TB_IN_NEXT, loops);
	}
	if (o->left[1] > 0) {
		tb_act leave = {.kind = TB_ACT_LEAVE, .span = sentence->span};
		g_array_append_val(acts, leave);
	}
}

/* SENTENCE with the parts for its work. False where other acts stand around that. */
static bool put_parts(tb_hands *h, const other_row *o, const tb_sentence *sentence, GArray *acts)
{
	const tb_acts *said = &sentence->acts;
	unsigned first = 0, last = said->count;
	while (first < said->count && is_around(&said->acts[first]))
		first++;
	while (last > first && (is_around(&said->acts[last - 1]) || said->acts[last - 1].kind == TB_ACT_LEAVE ||
			(said->acts[last - 1].kind == TB_ACT_CHAIN && last > 1 && said->acts[last - 2].kind != TB_ACT_WORK)))
		last--;
	if (first > MOST_AROUND || said->count - last > MOST_AROUND)
		return false;
	for (unsigned i = first; i < last; i++) {
		tb_act_kind kind = said->acts[i].kind;
		if (kind == TB_ACT_JOIN_YARN || kind == TB_ACT_GO_TO || kind == TB_ACT_OTHER_EDGE || kind == TB_ACT_AT_END || kind == TB_ACT_CANNOT)
			return false;
	}
	if (begins_side(sentence))
		begin_side(sentence, acts);
	else
		g_array_append_vals(acts, said->acts, first);
	/* "ch 1, turn, sl st in 4 sts" */
	if (!begins_side(sentence) && last > first + 1 && said->acts[first].kind == TB_ACT_CHAIN && said->acts[first + 1].kind == TB_ACT_TURN)
		g_array_append_vals(acts, &said->acts[first + 1], 1);
	add_parts(h, o, sentence, acts);
	for (unsigned i = last; i < said->count; i++) {
		if (said->acts[i].kind != TB_ACT_LEAVE)
			g_array_append_vals(acts, &said->acts[i], 1);
	}
	return true;
}

/* The row that SENTENCE mirrors: the one that comes next in another piece, or one of this piece's first side. */
static bool find_row(tb_hands *h, const tb_sentence *sentence, other_row *o)
{
	guint32 next = h->cloth.rows->len;
	if (sentence->mirror_row > 0) {
		o->cloth = tb_hands_stitches(h);
		o->row = &o->cloth.rows[sentence->mirror_row];
		o->below = &o->cloth.rows[tb_rule_stands_on(&o->cloth, sentence->mirror_row)];
		return true;
	}
	const tb_fabric *fabric = tb_worked_fabric(h->working->worked, sentence->mirror_of - 1, h->size);
	o->cloth = tb_fabric_stitches(fabric, h->working->pattern->library);
	if (next >= fabric->row_count)
		return false;
	o->row = &fabric->rows[next];
	o->below = o->row - 1;
	return true;
}

/* Whether that row, which is found, is plainly worked on as many stitches as this one. */
static bool find_other(tb_hands *h, const tb_sentence *sentence, other_row *o)
{
	return find_row(h, sentence, o) && !o->row->is_round && !o->row->taken && !o->below->taken && o->row->on_row == 0 &&
		!o->row->elsewhere && (begins_side(sentence) || o->below->stitches == tb_hands_row(h, h->cloth.rows->len - 1)->stitches);
}

static void tell(tb_hands *h, const tb_sentence *sentence)
{
	guint32 below = h->row;
	h->row = h->cloth.rows->len;
	tb_hands_tell(h, TB_WARNING, "not-mirrored", sentence->span, "Write this row out.",
		"the sides of the shaping are not exchanged in this row: it is worked as in the other piece");
	h->row = below;
}

/* "Dec 1 st at neck edge": each piece shows for itself which edge that is. */
static bool names_edge(const tb_sentence *sentence)
{
	for (unsigned i = 0; i < sentence->acts.count; i++) {
		const tb_act *act = &sentence->acts.acts[i];
		if (act->kind == TB_ACT_SHAPE)
			return act->shaped == TB_SHAPED_NECK || act->shaped == TB_SHAPED_OUTER;
		if (tb_act_is_work(act))
			break;
	}
	return false;
}

/* "Working along the row ends, hdc in each": one stitch along the whole edge, which is the same from either end. */
static bool runs_along_edge(const tb_sentence *sentence)
{
	unsigned works = 0, edges = 0;
	for (unsigned i = 0; i < sentence->acts.count; i++) {
		const tb_act *act = &sentence->acts.acts[i];
		works += tb_act_is_work(act);
		edges += act->kind == TB_ACT_WORK && act->row_ends;
	}
	return works == 1 && edges == 1;
}

const tb_sentence *tb_mirror_said(tb_hands *h, const tb_sentence *sentence, const tb_sentence *words)
{
	other_row o = {.in_pattern = !begins_side(sentence) && tb_in_pattern_is_said(words)};
	if ((sentence->mirror_of == 0 && sentence->mirror_row == 0) || h->cloth.rows->len < 2 || names_edge(sentence) ||
		runs_along_edge(sentence))
		return sentence;
	bool found = find_other(h, sentence, &o);
	g_autoptr(GArray) parts = o.parts = g_array_new(FALSE, FALSE, sizeof(part)), acts = g_array_new(FALSE, FALSE, sizeof(tb_act));
	if (found)
		tb_hands_look(h, o.row->count + o.below->count);
	bool plain = found && take_apart(&o, (guint16)h->working->slip->number);
	if (plain && !begins_side(sentence) && (!is_shaped(&o) || is_alike_from_both_ends(&o)))
		return sentence;
	if (found && !plain && !begins_side(sentence) && o.row->stitches == o.below->stitches && o.row->narrowed == 0)
		return sentence; /* of a pattern, and no shaping */
	if (!plain || !turn_around(&o) || !put_parts(h, &o, sentence, acts)) {
		tell(h, sentence);
		return sentence;
	}
	tb_sentence *said = tb_arena_new(h->working->arena, tb_sentence);
	*said = *sentence;
	said->unmirrored = words;
	said->acts = (tb_acts){tb_arena_take(h->working->arena, acts->len * sizeof(tb_act)), acts->len};
	memcpy((tb_act *)said->acts.acts, acts->data, acts->len * sizeof(tb_act));
	return o.in_pattern ? tb_in_pattern_said(h, said) : said;
}
