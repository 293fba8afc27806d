/*
 * Which reading of a row is meant: the one that comes out.
 *
 * People write what only the work makes plain. The reader keeps every way to read a row (tb_way),
 * and some words mean one of two things whichever way they are read (tb_meaning). Here a row is
 * worked on trial, the usual reading first and then the others in the order of how unusual they
 * are, until one comes out: no error, the count the designer states, nothing left over. What was
 * worked on trial is taken back; the graph is made of the winner alone. Where no reading comes out,
 * the usual one is worked, and its faults are told; where that breaks off, one that has a place for
 * everything, and too much or too little of it. Where another comes out as well, with another count,
 * and nothing in the text says which is meant, that is told too.
 */
#include "hands/meaning.h"
#include "hands/taken.h"
#include "rows/choose.h"
#include "rows/rows.h"
#include "rows/ways.h"

#include <string.h>

/* So many readings of a row are tried. */
#define MOST_TRIED 48u
/* … and so many more of those that have a way which failed in others. */
#define MOST_LATE 32u
/* … and no more once so many stitches were made and looked at in them: a row of thousands is no matter of so many. */
#define MOST_WORKED 600000u
/* Readings so much more unusual than the one taken are not held against it. */
#define DOUBT 1u
#define WARNING_COST 2u
#define ODD_COST 2u
#define MOST_ODD 4u
/* What is so unusual is not meant, whatever count it makes; but so much more is where that is stated. */
#define MOST_UNUSUAL 5u
#define STATED_UNUSUAL 3u

/* How unusual each meaning is, by its bit. */
static const guint8 meaning_cost[TB_MEANS_COUNT] = {2, 3, 2, 3, 1, 3, 2, 2, 1, 3, 1, 2, 4, 3, 2, 2, 2};

/* The hands as they were before the row. */
typedef struct {
	tb_hands hands;
	guint made, bases, rows, held, colours;
	tb_made_row below;
	GArray *rest[2]; /* copies; owned */
	guint64 all_made;
} before_row;

static void forget(before_row *before)
{
	g_clear_pointer(&before->rest[0], g_array_unref);
	g_clear_pointer(&before->rest[1], g_array_unref);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(before_row, forget)

typedef struct {
	tb_hands *h;
	const tb_sentence *sentence;
	unsigned tried;
	guint64 worked;
} chooser;

static before_row remember(const tb_hands *h)
{
	before_row before = {.hands = *h, .made = h->cloth.made->len, .bases = h->cloth.bases->len,
		.rows = h->cloth.rows->len, .held = h->teller.held->len, .colours = h->cloth.colours->len, .all_made = h->working->made};
	for (unsigned i = 0; i < 2; i++)
		before.rest[i] = g_array_copy(h->before.rest[i]);
	if (h->cloth.rows->len > 0)
		before.below = *tb_hands_row(h, h->cloth.rows->len - 1);
	return before;
}

static void take_back(tb_hands *h, const before_row *before)
{
	guint64 made = h->working->made - before->all_made;
	tb_hands_look(h, made);
	tb_hands_drop_held(h, before->held);
	guint told[TB_ERROR + 1];
	memcpy(told, h->teller.told, sizeof told);
	*h = before->hands;
	memcpy(h->teller.told, told, sizeof told);
	h->working->made = before->all_made;
	g_array_set_size(h->cloth.made, before->made);
	g_array_set_size(h->cloth.bases, before->bases);
	g_array_set_size(h->cloth.rows, before->rows);
	g_array_set_size(h->cloth.colours, before->colours);
	for (unsigned i = 0; i < 2; i++) {
		g_array_set_size(h->before.rest[i], 0);
		if (before->rest[i]->len > 0)
			g_array_append_vals(h->before.rest[i], before->rest[i]->data, before->rest[i]->len);
	}
	if (before->rows > 0)
		*tb_hands_row(h, before->rows - 1) = before->below;
}

/* Leaves out the counts that stand in the row's own text: they are those of the piece it was written for. */
static void leave_own_counts(tb_sentence *sentence, tb_arena *arena)
{
	tb_claim *claims = tb_arena_take(arena, MAX(sentence->claim_count, 1) * sizeof(tb_claim));
	unsigned count = 0;
	for (unsigned i = 0; i < sentence->claim_count; i++) {
		guint32 at = sentence->claims[i].span.start;
		if (at < sentence->span.start || at >= sentence->span.end)
			claims[count++] = sentence->claims[i];
	}
	sentence->claims = claims;
	sentence->claim_count = count;
}

static tb_sentence *sentence_of(chooser *c, const tb_candidate *reading, tb_arena *arena)
{
	tb_sentence *sentence = tb_arena_new(arena, tb_sentence);
	*sentence = *c->sentence;
	sentence->original = c->sentence->original != NULL ? c->sentence->original : c->sentence;
	sentence->ways = NULL;
	sentence->way_count = 0;
	sentence->meaning = reading->meaning;
	if (reading->path == NULL)
		return sentence;
	g_autoptr(GPtrArray) ways = g_ptr_array_new();
	g_autoptr(GArray) acts = g_array_new(FALSE, FALSE, sizeof(tb_act));
	for (const tb_path *at = reading->path; at->way != NULL; at = at->before)
		g_ptr_array_add(ways, (gpointer)at->way);
	for (guint i = ways->len; i-- > 0;) {
		const tb_way *way = ways->pdata[i];
		if (way->acts.count > 0)
			g_array_append_vals(acts, way->acts.acts, way->acts.count);
	}
	tb_sentence_set_acts(sentence, arena, acts);
	if (sentence->uncounted)
		leave_own_counts(sentence, arena);
	return sentence;
}

/* The same for every row and size that reads the words so; owned by the caller. */
static GBytes *key_of(const chooser *c, const tb_candidate *reading)
{
	g_autoptr(GPtrArray) key = g_ptr_array_new();
	g_ptr_array_add(key, (gpointer)c->sentence);
	g_ptr_array_add(key, GUINT_TO_POINTER(reading->meaning));
	for (const tb_path *at = reading->path; at != NULL && at->way != NULL; at = at->before)
		g_ptr_array_add(key, (gpointer)at->way);
	return g_bytes_new(key->pdata, key->len * sizeof(gpointer));
}

/* The sentence a row keeps: one and the same for all rows and sizes that read their words alike. */
static const tb_sentence *kept_sentence(chooser *c, const tb_candidate *reading)
{
	if (reading->path == NULL && c->sentence->way_count == 0 && reading->meaning == c->sentence->meaning)
		return c->sentence;
	g_autoptr(GBytes) bytes = key_of(c, reading);
	const tb_sentence *kept = g_hash_table_lookup(c->h->working->chosen, bytes);
	if (kept == NULL) {
		kept = sentence_of(c, reading, c->h->working->arena);
		g_hash_table_insert(c->h->working->chosen, g_steal_pointer(&bytes), (gpointer)kept);
	}
	return kept;
}

/* The same reading with one more of its words taken otherwise. */
static void push_meanings(tb_ways *ways, const tb_candidate *reading, unsigned asked)
{
	unsigned highest = 0;
	while (reading->meaning >> highest != 0)
		highest++;
	for (unsigned bit = 0; bit < TB_MEANS_COUNT; bit++) {
		unsigned meaning = 1u << bit;
		bool chains = (meaning & (TB_MEANS_COUNTS | TB_MEANS_NOT | TB_MEANS_LOOP)) != 0;
		bool has_chains =
			(reading->meaning & (TB_MEANS_COUNTS | TB_MEANS_NOT | TB_MEANS_LOOP)) != 0;
		if (!(asked & meaning) || bit < highest || (chains && has_chains))
			continue;
		tb_candidate other = *reading;
		other.meaning |= meaning;
		other.cost += meaning_cost[bit];
		tb_ways_push(ways, other);
	}
}

/* --- trial --- */

typedef struct {
	unsigned errors, warnings;
	guint32 fails_at; /* the last error: the byte of the source where it is */
	bool breaks; /* some of it has no place; not: too much or too little of it */
	guint32 stitches;
	unsigned asked, odd;
	bool against;
} outcome;

static bool is_of_numbers(const char *code)
{
	return g_str_equal(code, "unworked") || g_str_equal(code, "repeat-leftover") || g_str_equal(code, "past-end");
}

/* What is wrong in the text itself: a reading that leaves those words out would not be more likely. */
static bool is_of_text(const char *code)
{
	return g_str_equal(code, "corner-missing") || g_str_equal(code, "off-center") || g_str_equal(code, "row-to-come");
}

static outcome try(chooser *c, const tb_sentence *sentence, guint32 number, guint32 written,
	bool first_time, bool claims)
{
	tb_hands *h = c->h;
	guint held = h->teller.held->len;
	outcome result = {0};
	h->teller.trials++;
	h->teller.choosing++;
	guint64 steps = h->working->steps;
	guint first = h->cloth.made->len;
	tb_rows_work_one(h, sentence, number, written, first_time, claims);
	c->worked += h->working->steps - steps + (h->cloth.made->len - first);
	h->teller.trials--;
	h->teller.choosing--;
	for (guint i = held; i < h->teller.held->len; i++) {
		const tb_held_fault *fault = &g_array_index(h->teller.held, tb_held_fault, i);
		bool counts = g_str_has_prefix(fault->code, "count");
		if (fault->severity == TB_ERROR && !counts)
			result.fails_at = fault->span.start;
		if (fault->severity == TB_ERROR && !counts && !is_of_numbers(fault->code))
			result.breaks = true;
		result.errors += fault->severity == TB_ERROR;
		result.warnings += fault->severity == TB_WARNING && !is_of_text(fault->code);
	}
	result.errors += result.errors == 0 && h->teller.row_fault;
	result.asked = h->now.asked;
	result.odd = MIN(h->cursor.odd, MOST_ODD);
	result.against = h->cursor.against;
	result.stitches = h->cloth.rows->len > 0 ? tb_hands_row(h, h->cloth.rows->len - 1)->stitches : 0;
	c->tried++;
	return result;
}

/* "Sc in next 9 sc. 10 sc.": whether what is behind the row's full stop can be nothing but its count. */
static bool has_stopped_count(const tb_sentence *sentence)
{
	for (unsigned i = 0; i < sentence->claim_count; i++) {
		/* what is called a scallop may be a space or none */
		if (sentence->claims[i].stopped && !sentence->claims[i].early && !sentence->claims[i].spaces)
			return true;
	}
	return false;
}

/* How many stitches the row has by the text itself; 0 where it does not say. */
static guint32 stated_count(const tb_hands *h, const tb_sentence *sentence)
{
	for (unsigned i = 0; i < sentence->claim_count; i++) {
		const tb_claim *claim = &sentence->claims[i];
		int count = claim->other || claim->count.count == 0 ? 0 :
			tb_number_in(&claim->count, claim->count.count == 1 ? 0 : h->size);
		if (count > 0 && count != TB_NOT_IN_SIZE)
			return (guint32)count;
	}
	return 0;
}

/* Where the usual reading breaks off, the faults told are those of another that has a place for everything. */
typedef struct {
	tb_candidate reading;
	bool broken, other;
	guint32 off; /* so far it is from the count that is stated */
} nearest;

static void come_nearer(nearest *n, const tb_candidate *reading, const outcome *result, guint32 stated)
{
	guint32 off = stated == 0 ? 0 : MAX(stated, result->stitches) - MIN(stated, result->stitches);
	if (result->errors == 0 || result->breaks || !n->broken || (n->other && off >= n->off))
		return;
	n->reading = *reading;
	n->other = true;
	n->off = off;
}

static void tell_doubt(tb_hands *h, const tb_sentence *sentence, guint32 taken, guint32 other)
{
	g_autofree char *hint = g_strdup_printf(
		"Give the count at its end, as in [%u sts], and it is plain which is meant.", taken);
	tb_hands_tell(h, TB_WARNING, "two-readings", sentence->span, hint,
		"this can be read in two ways: it makes %u sts, or %u; %u is taken", taken, other, taken);
}

/* Nobody would take it so but for the count. */
static void tell_against(tb_hands *h, const tb_sentence *sentence, guint32 taken)
{
	tb_hands_tell(h, TB_WARNING, "chain-not-counted", sentence->span,
		"Say so, as in [ch 3 (does not count as a st)], or mend the count.",
		"the first chain counts as no stitch, or it would not be %u sts", taken);
}

/* --- sizes that are read alike --- */

/* The sizes that took a reading, and those in which it was tried and its numbers did not agree. */
typedef struct {
	tb_size_set taken, failed;
} fate;

static fate *fate_of(chooser *c, GBytes *key)
{
	fate *known = g_hash_table_lookup(c->h->working->fates, key);
	if (known == NULL) {
		known = tb_arena_new(c->h->working->arena, fate);
		g_hash_table_insert(c->h->working->fates, g_bytes_ref(key), known);
	}
	return known;
}

/*
 * The words of a row mean the same in every size. Where one size TAKES a reading whose numbers did not agree in another,
 * a wrong figure of one of them is all but sure; its own count was made to come out by reading the words otherwise.
 */
static void compare_sizes(chooser *c, const GPtrArray *failed, const tb_candidate *takes)
{
	tb_hands *h = c->h;
	tb_size_set here = (tb_size_set)1 << h->size, others;
	g_autoptr(GBytes) key = key_of(c, takes);
	fate *taken = fate_of(c, key);
	others = taken->failed & ~here;
	taken->taken |= here;
	for (guint i = 0; i < failed->len; i++) {
		fate *of = fate_of(c, failed->pdata[i]);
		of->failed |= here;
		others |= of->taken & ~here;
	}
	if (others == 0)
		return;
	const char *other = tb_pattern_get_size(h->working->pattern, (unsigned)g_bit_nth_lsf(others, -1));
	tb_hands_tell(h, TB_ERROR, "sizes-differ", c->sentence->span, "Look at the figures of both sizes.",
		"this comes out only if it is read in another way than in size %s", other);
}

/* "3 sc in corner" after a side that is worked to its end: the count alone says that it has no stitch of its own. */
static void tell_corner(tb_hands *h, const tb_sentence *sentence, guint32 taken, guint32 usual)
{
	tb_hands_tell(h, TB_WARNING, "corner-by-count", sentence->span,
		"Say where a corner goes, as in “3 sc in corner st” or “3 sc in last st”.",
		"it makes %u sts, unless a corner takes the end of a side: then the %u that are counted", usual, taken);
}

/*
 * A row that does not come out on one that is taken at its word: where that lies in what the row below
 * does not say, this one goes by its own count too, or nothing above is checked.
 */
static void work_on_taken(tb_hands *h, tb_sentence *sentence, guint32 number, guint32 written,
	bool first_time, bool claims, const before_row *before)
{
	h->teller.trials++;
	tb_rows_work_one(h, sentence, number, written, first_time, claims);
	h->teller.trials--;
	if (!h->now.unjudged) {
		/* once more, with what can be told of it in earnest */
		take_back(h, before);
		tb_rows_work_one(h, sentence, number, written, first_time, claims);
		return;
	}
	take_back(h, before);
	sentence->taken = claims && tb_taken_can(h, sentence);
	if (sentence->taken)
		tb_rows_work_one(h, sentence, number, written, first_time, claims);
	else
		tb_taken_stop(h);
}

void tb_choose_again(tb_hands *h, const tb_sentence *chosen, guint32 number, guint32 written)
{
	if (chosen->original == NULL) {
		tb_rows_work_one(h, chosen, number, written, false, false);
		return;
	}
	chooser c = {.h = h, .sentence = chosen};
	g_auto(before_row) before = remember(h);
	/* a limit that was reached is told, whichever reading met it */
	if (try(&c, chosen, number, written, false, false).errors == 0 || h->working->stopped) {
		tb_hands_deliver_held(h);
		return;
	}
	take_back(h, &before);
	tb_choose_row(h, chosen->original, number, written, false, false);
}

bool tb_choose_try(tb_hands *h, const tb_sentence *sentence, guint32 number, guint32 written,
	bool (*is_meant)(const tb_hands *h, const void *data), const void *data)
{
	chooser c = {.h = h, .sentence = sentence};
	g_auto(before_row) before = remember(h);
	if ((try(&c, sentence, number, written, false, false).errors == 0 && is_meant(h, data)) || h->working->stopped) {
		tb_hands_deliver_held(h);
		return true;
	}
	take_back(h, &before);
	return false;
}

/*
 * Whether a reading is taken instead of the best so far. "Sc2tog, sc in each sc. 11 sc. Fasten off." may make 11 more sc
 * as well: that a row comes to the count which its words may state is hardly chance.
 */
static bool is_better(guint32 cost, bool stated, guint32 best_cost, bool best_stated)
{
	if (stated == best_stated || best_cost == G_MAXUINT32)
		return cost < best_cost;
	return stated ? cost <= best_cost + DOUBT : cost + DOUBT < best_cost;
}

void tb_choose_row(tb_hands *h, const tb_sentence *sentence, guint32 number, guint32 written,
	bool first_time, bool claims)
{
	g_autoptr(tb_arena) scratch = tb_arena_create();
	chooser c = {.h = h, .sentence = sentence};
	g_auto(before_row) before = remember(h);
	tb_candidate reading = {0}, best = {0}, first = {0};
	nearest told = {0};
	guint32 best_cost = G_MAXUINT32, taken = 0, other = 0, usual = 0;
	bool found = false, doubt = false, sure = false, against = false, miscounted = false;
	g_autoptr(GPtrArray) failed = g_ptr_array_new_with_free_func((GDestroyNotify)g_bytes_unref);
	bool compares = first_time && tb_pattern_count_sizes(h->working->pattern) > 1 && h->teller.trials == 0;
	g_auto(tb_ways) ways;
	tb_ways_begin(&ways, sentence, scratch);
	while (c.tried < (ways.late ? MOST_TRIED + MOST_LATE : MOST_TRIED) && c.worked < MOST_WORKED) {
		bool more = tb_ways_next(&ways, &reading);
		/* a repair is for the reading that is told, not for one that nobody meant */
		if (c.tried > 0 && h->start.only_to > 0 && number == h->start.only_to)
			break;
		guint32 limit = sure ? best_cost : best_cost + DOUBT;
		if (!more || (found && reading.cost > limit)) {
			if (!tb_ways_bring_back(&ways))
				break;
			continue;
		}
		/* the first may be kept as it is */
		const tb_sentence *said = c.tried == 0 ? kept_sentence(&c, &reading) :
			sentence_of(&c, &reading, scratch);
		outcome result = try(&c, said, number, written, first_time, claims);
		if (c.tried == 1)
			first = reading;
		if (h->working->stopped) {
			/* a limit is reached: what was told of it stands, whichever reading met it */
			tb_hands_deliver_held(h);
			return;
		}
		guint32 cost = reading.cost + result.warnings * WARNING_COST + result.odd * ODD_COST;
		guint32 states = claims ? stated_count(h, said) : 0;
		bool stated = states > 0;
		/* ch 3 for dc counts: that it does not is taken on no word but the text's own */
		guint32 unusual = MOST_UNUSUAL + (stated ? STATED_UNUSUAL : 0);
		if (c.tried == 1) {
			told = (nearest){.reading = reading, .broken = result.breaks};
			usual = result.breaks ? 0 : result.stitches;
		} else if (reading.cost <= first.cost + unusual) {
			come_nearer(&told, &reading, &result, states);
		}
		bool good = result.errors == 0 && reading.cost <= first.cost + unusual && (stated || (!result.against && !miscounted));
		/* a count that does not agree is not worked instead, nor left out */
		miscounted = miscounted || (stated && result.errors > 0 && !result.breaks && has_stopped_count(said));
		push_meanings(&ways, &reading, result.asked);
		if (result.fails_at > 0)
			tb_ways_fail(&ways, &reading, result.fails_at);
		if (good && c.tried == 1 && result.odd == 0 &&
			tb_ways_cheapest(&ways) > (stated ? cost : cost + DOUBT)) {
			/* it comes out, and nothing else would be held against it */
			tb_hands_deliver_held(h);
			if (compares)
				compare_sizes(&c, failed, &reading);
			return;
		}
		take_back(h, &before);
		if (compares && result.errors > 0 && !result.breaks)
			g_ptr_array_add(failed, key_of(&c, &reading));
		if (!good)
			continue;
		if (found && cost <= best_cost + DOUBT && result.stitches != taken) {
			doubt = true;
			other = result.stitches;
		}
		if (is_better(cost, stated, best_cost, sure)) {
			if (found && result.stitches != taken && best_cost <= cost + DOUBT)
				other = taken;
			else if (found && (best_cost > cost + DOUBT || stated))
				doubt = false;
			best = reading;
			best_cost = cost;
			against = result.against;
			taken = result.stitches;
			found = true;
			sure = stated;
		}
	}
	if (h->working->stopped) {
		tb_hands_deliver_held(h);
		return;
	}
	if (!found && tb_taken_may_doubt(h)) {
		tb_sentence *first_read = sentence_of(&c, &first, h->working->arena);
		work_on_taken(h, first_read, number, written, first_time, claims, &before);
		return;
	}
	const tb_sentence *chosen = kept_sentence(&c, found ? &best : &told.reading);
	tb_rows_work_one(h, chosen, number, written, first_time, claims);
	if (found && (best.meaning & ~first.meaning & TB_MEANS_CORNER) && usual > 0 && usual != taken)
		tell_corner(h, chosen, taken, usual);
	if (found && compares)
		compare_sizes(&c, failed, &best);
	if (found && doubt && !sure)
		tell_doubt(h, chosen, taken, other);
	if (found && against)
		tell_against(h, chosen, taken);
}
