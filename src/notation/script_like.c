/*
 * "Work same as Left Front, reversing shaping", "Work as First Motif through Rnd 1": the rows of an
 * earlier piece. Reversed shaping changes its sides where the rows are worked: rows/mirror.h.
 */
#include "notation/script.h"

#include "pattern/text_kinds.h"
#include "support/limits.h"

#include <string.h>

/* "Sleeves", "the Back piece", "Back up to **": behind the name no more may stand in the words that name a piece. */
static bool is_only_name(const char *rest, size_t length)
{
	static const char *const more[] = {"", "s", "piece", "pieces", "panel", "section", "part", "half", "side", "motif", "square", "up"};
	g_autofree char *lower = g_ascii_strdown(rest, (gssize)length);
	g_strdelimit(lower, ".,;:([", '\0');
	for (size_t i = 0; i < G_N_ELEMENTS(more); i++) {
		if (strcmp(g_strstrip(lower), more[i]) == 0)
			return true;
	}
	return false;
}

/* "ribbing", behind "Left Front": a heading that piece NUMBER has over some of its rows; its name, or NULL. */
static const char *find_heading(const tb_reader *r, unsigned number, const char *rest, size_t length)
{
	const GArray *parts = tb_pattern_piece(r->b.pattern, number)->parts;
	g_autofree char *said = g_strndup(rest, length);
	g_strdelimit(said, ".,;:([", '\0');
	g_strstrip(said);
	for (guint i = 0; parts != NULL && i < parts->len; i++) {
		const char *name = g_array_index(parts, tb_piece_part, i).name;
		if (*said != '\0' && g_ascii_strcasecmp(said, name) == 0)
			return name;
	}
	return NULL;
}

/* "Front", of "Cushion Front": the one piece before this one whose name ends so; -1 for none, or several. */
static int find_by_ending(const tb_reader *r, const char *text, size_t end)
{
	int found = -1;
	for (unsigned i = 0; i < r->number; i++) {
		const char *ending = strchr(tb_pattern_get_piece(r->b.pattern, i), ' ');
		size_t length = ending != NULL ? strlen(++ending) : 0;
		if (length == 0 || length > end || g_ascii_strncasecmp(text, ending, length) != 0 ||
			!is_only_name(text + length, end - length))
			continue;
		if (found >= 0)
			return -1;
		found = (int)i;
	}
	return found;
}

/* The piece that the words of OF name, before this one; -1 for none. PART: the heading in it that they name, or NULL. */
static int find_piece_part(const tb_reader *r, const tb_value *of, const char **part)
{
	guint32 from = of->from;
	const char *text = r->text->chars + r->lattice.start[from];
	size_t end = of->to < r->lattice.count ? r->lattice.start[of->to] - r->lattice.start[from] : strlen(text);
	size_t longest = 0;
	int found = -1;
	for (unsigned i = 0; i < r->number; i++) {
		const char *name = tb_pattern_get_piece(r->b.pattern, i);
		size_t length = strlen(name);
		if (length > longest && g_ascii_strncasecmp(text, name, length) == 0 &&
			(is_only_name(text + length, end > length ? end - length : 0) ||
				(end > length && find_heading(r, i, text + length, end - length) != NULL))) {
			longest = length;
			found = (int)i;
			*part = end > length ? find_heading(r, i, text + length, end - length) : NULL;
		}
	}
	return found >= 0 ? found : find_by_ending(r, text, end);
}

/* Whether NAME is that of a ribbing, which what hangs on it begins with. */
static bool names_rib(const char *name)
{
	return tb_find_words(name, strlen(name), "rib ribbing ribbed welt hem cuff band waistband border edging") < strlen(name);
}

/*
 * The piece before this one that begins with a ribbing, and goes on behind it under the name that OF says: "LEFT FRONT
 * RIBBING", and "LEFT FRONT" worked along its edge. -1 for none, or several.
 */
static int find_on_rib(const tb_reader *r, const tb_value *of)
{
	const char *text = r->text->chars + r->lattice.start[of->from];
	size_t end = of->to < r->lattice.count ? r->lattice.start[of->to] - r->lattice.start[of->from] : strlen(text);
	int found = -1;
	for (unsigned i = 0; i < r->number; i++) {
		const tb_piece *piece = tb_pattern_piece(r->b.pattern, i);
		const tb_piece_part *part = piece->parts != NULL && piece->parts->len > 0 ?
			&g_array_index(piece->parts, tb_piece_part, 0) : NULL;
		size_t length = part != NULL ? strlen(part->name) : 0;
		if (length == 0 || length > end || g_ascii_strncasecmp(text, part->name, length) != 0 ||
			!is_only_name(text + length, end - length) || !names_rib(piece->name))
			continue;
		if (found >= 0)
			return -1;
		found = (int)i;
	}
	return found;
}

static int find_piece(const tb_reader *r, const tb_value *of)
{
	const char *part = NULL;
	return find_piece_part(r, of, &part);
}

/* What FROM has under the heading NAME, its start with the first of them; all of it where NAME is NULL or heads nothing. */
static tb_script under_heading(const tb_script *from, const char *name)
{
	tb_script part = *from;
	unsigned begin = 0;
	while (name != NULL && begin < from->count &&
		(from->sentences[begin]->part == NULL || g_ascii_strcasecmp(from->sentences[begin]->part, name) != 0))
		begin++;
	if (name == NULL || begin == from->count)
		return part;
	unsigned end = begin + 1;
	while (end < from->count && from->sentences[end]->part == NULL)
		end++;
	begin -= begin == 1 && from->sentences[0]->kind == TB_SENTENCE_START;
	part.sentences += begin;
	part.count = end - begin;
	return part;
}

/* SENTENCE, of rows that may go on behind LAST, as far as that; NULL where its sizes have other rows. */
static const tb_sentence *cut_behind(tb_reader *r, const tb_sentence *sentence, unsigned last)
{
	if (last == 0 || sentence->last <= last)
		return sentence;
	if (sentence->last_in.count > 0 || sentence->first_in.count > 0)
		return NULL;
	tb_sentence *cut = tb_arena_new(r->b.arena, tb_sentence);
	*cut = *sentence;
	cut->last = last;
	/* "Rows 8-10: Rep Row 7. (11 sts)" has the count of Row 10 */
	if (cut->kind == TB_SENTENCE_REPEAT)
		cut->claim_count = 0;
	return cut;
}

/* SENTENCE, of a row in the mirror of piece OTHER. */
static const tb_sentence *mirror(tb_reader *r, const tb_sentence *sentence, int other)
{
	tb_sentence *row = tb_arena_new(r->b.arena, tb_sentence);
	*row = *sentence;
	row->mirror_of = (unsigned)other + 1;
	if (row->shaped != NULL)
		row->shaped = mirror(r, row->shaped, other);
	return row;
}

/* The chains that SENTENCE, a start, begins with; NULL for another start. */
static const tb_number *chains_of(const tb_sentence *sentence)
{
	if (sentence->kind != TB_SENTENCE_START)
		return NULL;
	for (unsigned i = 0; i < sentence->acts.count; i++) {
		if (sentence->acts.acts[i].kind == TB_ACT_CHAIN)
			return &sentence->acts.acts[i].count;
	}
	return NULL;
}

/*
 * Whether this piece begins with other chains than FROM: "Ch 37. Rows 1-3: As given for Back." The counts told
 * there are those of that piece, and are not asked here.
 */
static bool is_otherwise_wide(const tb_reader *r, const tb_script *from)
{
	const tb_number *here = r->sentences->len > 0 ? chains_of(r->sentences->pdata[0]) : NULL;
	const tb_number *there = from->count > 0 ? chains_of(from->sentences[0]) : NULL;
	if (here == NULL || there == NULL)
		return false;
	for (unsigned i = 0; i < MAX(here->count, there->count); i++) {
		if (tb_number_in(here, here->count == 1 ? 0 : i) != tb_number_in(there, there->count == 1 ? 0 : i))
			return true;
	}
	return false;
}

/* SENTENCE without the counts it tells. */
static const tb_sentence *uncounted(tb_reader *r, const tb_sentence *sentence)
{
	if (sentence->taken)
		return sentence;
	tb_sentence *row = tb_arena_new(r->b.arena, tb_sentence);
	*row = *sentence;
	row->claim_count = 0;
	row->uncounted = true;
	return row;
}

/* Whether the rows of FAR go on as far as those of NEAR, or farther, in every size. */
static bool goes_as_far(const tb_sentence *far, const tb_sentence *near)
{
	/* "Work in pattern for 28 cm", right behind the first row, is the piece's beginning too */
	bool alike = far->since == near->since || (far->since == TB_SINCE_HERE && near->since == TB_SINCE_BEGIN);
	if (far->kind != TB_SENTENCE_REPEAT || far->until != near->until || !alike)
		return false;
	unsigned sizes = MAX(MAX(far->measure_count, near->measure_count), MAX(far->times.count, near->times.count));
	for (unsigned i = 0; i < sizes; i++) {
		if (far->until == TB_REPEAT_TOTAL) {
			if (tb_number_in(&far->times, far->times.count == 1 ? 0 : i) < tb_number_in(&near->times, near->times.count == 1 ? 0 : i))
				return false;
		} else if (far->measure_mm == NULL || near->measure_mm == NULL ||
			far->measure_mm[far->measure_count == 1 ? 0 : i] < near->measure_mm[near->measure_count == 1 ? 0 : i]) {
			return false;
		}
	}
	return true;
}

/* "1st row as on the Back. Then work as for Back until …": the rows up to row DONE, which are worked by their own words. */
static bool is_done(const tb_sentence *sentence, unsigned done)
{
	return sentence->kind == TB_SENTENCE_ROWS && sentence->last > 0 && sentence->last <= done;
}

/*
 * "Work as for Back until piece measures 40 cm": FROM as far as the rows that go on until it is that long or longer,
 * and these until LIMIT.
 */
static bool borrow_until(tb_reader *r, const tb_script *from, const tb_sentence *limit)
{
	bool begun = r->sentences->len > 0, other_width = is_otherwise_wide(r, from);
	unsigned done = begun ? r->last_row : 0;
	for (unsigned i = 0; i < from->count; i++) {
		const tb_sentence *sentence = from->sentences[i];
		if ((sentence->kind == TB_SENTENCE_START && begun) || is_done(sentence, done))
			continue;
		bool last = goes_as_far(sentence, limit);
		if (last) {
			tb_sentence *cut = tb_arena_new(r->b.arena, tb_sentence);
			*cut = *sentence;
			cut->measure_mm = limit->measure_mm;
			cut->measure_count = limit->measure_count;
			cut->measure_span = limit->measure_span;
			cut->since = limit->since;
			cut->times = limit->times;
			cut->ending_row = limit->ending_row;
			cut->ending_side = limit->ending_side;
			cut->ending_in = limit->ending_in;
			cut->span = limit->span;
			cut->claim_count = 0;
			sentence = cut;
		}
		if (other_width)
			sentence = uncounted(r, sentence);
		g_ptr_array_add(r->sentences, (gpointer)sentence);
		if (sentence->last > 0)
			r->last_row = sentence->last;
		if (last) {
			r->last_row = 0;
			r->after_repeat = true;
			return true;
		}
	}
	return false;
}

/* Whether SENTENCE has rows by their numbers, as far as row LIMIT in every size, or farther. */
static bool has_rows(const tb_sentence *sentence, const tb_number *limit)
{
	if (sentence->last == 0)
		return false;
	for (unsigned i = 0; i < MAX(limit->count, sentence->last_in.count); i++) {
		int last = sentence->last_in.count > 0 ? tb_number_in(&sentence->last_in, i) : (int)sentence->last;
		int asked = tb_number_in(limit, limit->count == 1 ? 0 : i);
		int first = sentence->first_in.count > 0 ? tb_number_in(&sentence->first_in, i) : (int)sentence->first;
		if (asked < first || asked > last)
			return false;
	}
	return true;
}

/* "Work as for Back Rib until there are 28 (31, 35) rows": FROM, whose rows have numbers, as far as those. */
static bool borrow_rows(tb_reader *r, const tb_script *from, const tb_sentence *limit)
{
	unsigned at = 0;
	while (at < from->count && !has_rows(from->sentences[at], &limit->times))
		at++;
	if (at == from->count || limit->until != TB_REPEAT_TOTAL || limit->since != TB_SINCE_BEGIN)
		return false;
	bool other_width = is_otherwise_wide(r, from);
	unsigned done = r->sentences->len > 0 ? r->last_row : 0;
	for (unsigned i = 0; i <= at; i++) {
		const tb_sentence *sentence = from->sentences[i];
		if (sentence->anew)
			return false;
		if ((sentence->kind == TB_SENTENCE_START && r->sentences->len > 0) || is_done(sentence, done))
			continue;
		if (i == at) {
			tb_sentence *cut = tb_arena_new(r->b.arena, tb_sentence);
			*cut = *sentence;
			cut->last_in = limit->times.count > 1 ? limit->times : (tb_number){0};
			cut->last = 0;
			for (unsigned k = 0; k < limit->times.count; k++)
				cut->last = MAX(cut->last, (unsigned)MAX(limit->times.values[k], 0));
			if (cut->kind == TB_SENTENCE_REPEAT)
				cut->claim_count = 0;
			sentence = cut;
		}
		if (other_width)
			sentence = uncounted(r, sentence);
		g_ptr_array_add(r->sentences, (gpointer)sentence);
		r->last_row = sentence->last > 0 ? sentence->last : r->last_row;
	}
	return true;
}

const char *tb_reader_part_word(const tb_value *part)
{
	const tb_value *v = part != NULL ? tb_value_get(part, TB_SLOT_v) : NULL;
	if (part == NULL)
		return NULL;
	return tb_value_is_symbol(v, TB_SYMBOL_armhole) ? "armhole" : tb_value_is_symbol(v, TB_SYMBOL_neck) ? "neck" :
		tb_value_is_symbol(v, TB_SYMBOL_shoulder) ? "shoulder" : tb_value_is_symbol(v, TB_SYMBOL_yoke) ? "yoke" : "cap";
}

/* Where what is shaped in the part that begins at sentence AT of FROM is shaped: before its first rows worked even. */
static unsigned find_shaped(const tb_script *from, unsigned at)
{
	unsigned end = at;
	for (; end < from->count && (end == at || from->sentences[end]->part == NULL); end++) {
		const tb_sentence *sentence = from->sentences[end];
		if (end > at && sentence->kind == TB_SENTENCE_REPEAT && sentence->even != NULL && sentence->shaped == NULL &&
			sentence->every.count == 0 && sentence->track_count == 0)
			break;
	}
	return end;
}

/*
 * "Work as for Back to armhole shaping": the number of sentences of FROM before the part whose heading says PART; SHAPED:
 * as far as what is shaped in that. 0 where there is none.
 */
static unsigned before_part(const tb_script *from, const tb_value *part, bool shaped)
{
	const char *word = tb_reader_part_word(part);
	for (unsigned i = 1; i < from->count; i++) {
		g_autofree char *name = from->sentences[i]->part != NULL ? g_utf8_strdown(from->sentences[i]->part, -1) : NULL;
		if (name != NULL && strstr(name, word) != NULL)
			return shaped ? find_shaped(from, i) : i;
	}
	return 0;
}

/* "Work as for Back to **": those up to the stars; 0 where there are none, or they stand at several places. */
static unsigned before_stars(const tb_script *from)
{
	unsigned end = 0, marked = 0;
	for (unsigned i = 0; i < from->count; i++) {
		marked += from->sentences[i]->starred;
		end = from->sentences[i]->starred ? i + 1 : end;
	}
	return marked == 1 ? end : 0;
}

/*
 * Takes the first END sentences of FROM; MIRRORED as in borrow(). COUNTED: what comes behind says the count of the last of
 * these rows.
 */
static bool borrow_first(tb_reader *r, const tb_script *from, unsigned end, int mirrored, bool counted)
{
	bool begun = r->sentences->len > 0, open = false, other_width = is_otherwise_wide(r, from);
	for (unsigned i = 0; i < end; i++) {
		const tb_sentence *sentence = from->sentences[i];
		if (sentence->kind == TB_SENTENCE_START && begun)
			continue;
		if (mirrored >= 0)
			sentence = mirror(r, sentence, mirrored);
		if (other_width || (counted && i + 1 == end))
			sentence = uncounted(r, sentence);
		g_ptr_array_add(r->sentences, (gpointer)sentence);
		open = open || (sentence->kind == TB_SENTENCE_REPEAT && sentence->last == 0);
		if (sentence->last > 0)
			r->last_row = sentence->last;
	}
	if (open)
		r->last_row = 0;
	r->after_repeat = r->after_repeat || open;
	return end > 0;
}

/* How many rows "Rep Rows 2 and 3 15 times" works, which have no numbers; 0 where that is not said alike for all sizes. */
static unsigned rows_of(const tb_sentence *sentence)
{
	bool alike = sentence->kind == TB_SENTENCE_REPEAT && sentence->until == TB_REPEAT_TIMES && sentence->first == 0 &&
		sentence->times.count == 1 && sentence->every.count == 0 && sentence->shaped == NULL && sentence->grow == 0 &&
		sentence->repeat_of == NULL && sentence->back_in.count == 0 && sentence->sizes == ~(tb_size_set)0;
	unsigned rows = sentence->repeat_nth > 0 ? 1 : sentence->repeat_back > 0 ? sentence->repeat_back :
		sentence->repeat_last - sentence->repeat_first + 1;
	return alike && (sentence->repeat_back > 0 || sentence->repeat_last > 0) ? rows * (unsigned)MAX(sentence->times.values[0], 0) : 0;
}

/* "Rep Row 2 until there are 40 rows", of which no more are worked than up to LAST; NULL where SENTENCE is none such. */
static const tb_sentence *cut_total(tb_reader *r, const tb_sentence *sentence, unsigned last)
{
	bool total = sentence->kind == TB_SENTENCE_REPEAT && sentence->until == TB_REPEAT_TOTAL && sentence->first == 0 &&
		sentence->since == TB_SINCE_BEGIN && sentence->ending_row == 0 && sentence->ending_side == TB_SIDE_UNSAID;
	for (unsigned i = 0; i < sentence->times.count && total; i++)
		total = sentence->times.values[i] >= (int)last;
	if (!total || last == 0)
		return NULL;
	tb_sentence *cut = tb_arena_new(r->b.arena, tb_sentence);
	*cut = *sentence;
	cut->times = tb_number_make(r->b.arena, (int)last, sentence->span);
	cut->claim_count = 0;
	return cut;
}

/*
 * "Work as Left Front through Row 34", whose ribbing numbers its rows from 1 too, and has no such row: the sentence from
 * which on its rows are numbered that go as far as LAST.
 */
static unsigned find_numbering(const tb_script *from, unsigned last)
{
	unsigned begin = 0;
	for (unsigned i = 0; i < from->count; i++) {
		const tb_sentence *sentence = from->sentences[i];
		begin = sentence->anew && i > 1 ? i : begin;
		if (sentence->first > 0 && sentence->first <= last && sentence->last >= last)
			return begin;
	}
	return 0;
}

/* Takes rows FIRST to LAST of FROM; MIRRORED: the number of that piece, where its shaping is reversed, or -1. */
static bool borrow(tb_reader *r, const tb_script *from, unsigned first, unsigned last, int mirrored)
{
	unsigned numbered = first == 0 && last > 0 ? find_numbering(from, last) : 0;
	bool begun = r->sentences->len > 0, other_width = is_otherwise_wide(r, from);
	/* "Rep 2nd and 3rd rows 15 times" works rows up to LAST where none is called so */
	bool unnumbered = first == 1 && last > 0;
	for (unsigned i = 0; i < from->count && unnumbered; i++)
		unnumbered = from->sentences[i]->last < last;
	unsigned reached = 0;
	for (unsigned i = 0; i < from->count; i++) {
		const tb_sentence *sentence = from->sentences[i];
		/* "Rows 1-9 of Cuff" are those before a part that numbers its own from 1 */
		if (sentence->anew && i > MAX(numbered, 1) && (first > 0 || last > 0))
			break;
		if (i < numbered && sentence->kind != TB_SENTENCE_START) {
			sentence = other_width ? uncounted(r, sentence) : sentence;
			g_ptr_array_add(r->sentences, (gpointer)(mirrored >= 0 ? mirror(r, sentence, mirrored) : sentence));
			continue;
		}
		const tb_sentence *total = reached > 0 && reached < last ? cut_total(r, sentence, last) : NULL;
		if (sentence->kind == TB_SENTENCE_START ? begun || first > 1 : (last > 0 && sentence->first > last) ||
			(sentence->last < first && total == NULL && !(unnumbered && rows_of(sentence) > 0))) {
			unnumbered = unnumbered && (sentence->kind == TB_SENTENCE_START || sentence->last > 0);
			continue;
		}
		/* "Rep Row 7 until …", behind the last of them */
		if (last > 0 && reached >= last && sentence->first == 0)
			continue;
		unsigned more = total != NULL ? last - reached : unnumbered ? rows_of(sentence) : 0;
		if (reached + more > last && more > 0)
			return false;
		const tb_sentence *taken = total != NULL ? total : cut_behind(r, sentence, last);
		if (taken == NULL)
			return false;
		if (other_width)
			taken = uncounted(r, taken);
		if (mirrored >= 0)
			taken = mirror(r, taken, mirrored);
		g_ptr_array_add(r->sentences, (gpointer)taken);
		reached = MAX(reached + more, taken->last);
		if (taken->last > 0 || more > 0)
			r->last_row = reached;
	}
	return reached >= last;
}

/* "…, then complete to match Left Front, reversing shaping": what FROM has behind row LAST; MIRRORED as above. */
static bool borrow_rest(tb_reader *r, const tb_script *from, unsigned last, int mirrored)
{
	unsigned at = 0;
	for (unsigned i = 0; i < from->count; i++)
		at = from->sentences[i]->last > 0 && from->sentences[i]->last <= last ? i + 1 : at;
	bool other_width = is_otherwise_wide(r, from);
	for (unsigned i = at; i < from->count; i++) {
		const tb_sentence *taken = from->sentences[i];
		if (taken->kind == TB_SENTENCE_START)
			continue;
		taken = mirrored >= 0 ? mirror(r, taken, mirrored) : taken;
		taken = other_width ? uncounted(r, taken) : taken;
		g_ptr_array_add(r->sentences, (gpointer)taken);
		r->last_row = taken->last > 0 ? taken->last : taken->kind == TB_SENTENCE_REPEAT ? 0 : r->last_row;
		r->after_repeat = r->after_repeat || taken->kind == TB_SENTENCE_REPEAT;
	}
	return at > 0 && at < from->count;
}

/*
 * Works rows FIRST to LAST of piece OTHER, which VALUE names; MIRRORED: with its shaping reversed. PART: those under that
 * heading, or else those under one that is called as the part now read.
 */
static bool take_rows(tb_reader *r, const tb_value *value, int other, unsigned first, unsigned last, bool mirrored, const char *part)
{
	g_autoptr(tb_diagnostics) unheard = tb_diagnostics_create(NULL);
	tb_script *script = tb_script_read(r->b.pattern, (unsigned)other, unheard);
	g_ptr_array_add(r->borrowed, script);
	tb_script rows = under_heading(script, part != NULL ? part : r->part);
	return borrow(r, &rows, first, last, mirrored ? other : -1) || tb_reader_fail(r, "rows-again-unknown", value->from, value->to,
		"Name rows that it has.", "that piece has no rows of these numbers");
}

/* What stands behind such rows may end the last of them and tell its count, and no more. */
static bool end_with(tb_reader *r, const tb_value *acts)
{
	g_autoptr(GArray) said = g_array_new(FALSE, FALSE, sizeof(tb_act));
	tb_acts more = tb_build_list(&r->b, acts);
	g_array_append_vals(said, more.acts, more.count);
	tb_sentence end = {.kind = TB_SENTENCE_ROWS};
	tb_sentence_set_acts(&end, r->b.arena, said);
	/* "Rows 1-3: As given for Back. 24 tr." */
	if (end.acts.count > 0)
		tb_reader_count_last(r, &end);
	for (unsigned i = 0; i < end.acts.count; i++) {
		if (end.acts.acts[i].kind == TB_ACT_CHAIN || tb_reader_makes(&end.acts))
			return tb_reader_fail(r, "rows-again-more", acts->from, acts->to, "Write what follows as a row of its own.",
				"more is worked here than the rows that are repeated");
	}
	if (r->sentences->len == 0)
		return true;
	/* the other piece keeps its own */
	tb_sentence *last = tb_arena_new(r->b.arena, tb_sentence);
	*last = *(const tb_sentence *)r->sentences->pdata[r->sentences->len - 1];
	/* it says anew what the last of these rows counts */
	if (last->kind == TB_SENTENCE_REPEAT && end.claim_count > 0)
		last->claim_count = 0;
	r->sentences->pdata[r->sentences->len - 1] = last;
	tb_reader_add_to_last(r, &end);
	return true;
}

bool tb_reader_like_numbered(tb_reader *r, const tb_value *line)
{
	const tb_value *of = tb_value_get(tb_value_get(line, TB_SLOT_again), TB_SLOT_alike);
	const tb_value *rows = tb_value_get(tb_value_get(line, TB_SLOT_label), TB_SLOT_rows);
	int other = of != NULL ? find_piece(r, of) : -1;
	unsigned first = 0, last = 0;
	/* "Same as Left Front, but do not fasten off." may speak of a half, and there is a piece of that name */
	const tb_value *acts = tb_value_get(tb_value_get(line, TB_SLOT_again), TB_SLOT_acts);
	bool whole = tb_value_get(line, TB_SLOT_label) == NULL;
	if (other < 0 || (rows == NULL ? !whole : !tb_reader_rows(r, rows, &first, &last)))
		return false;
	return take_rows(r, of, other, first, last, false, NULL) && (rows != NULL || acts == NULL || end_with(r, acts));
}

/* "Rows 1-9: Work as Rows 1-9 of Back": the rows are named twice, and are the same. */
static bool are_labelled(tb_reader *r, const tb_value *label, const tb_value *rows, unsigned *first, unsigned *last)
{
	const tb_value *named = tb_value_get(label, TB_SLOT_rows);
	unsigned from, to;
	if (label == NULL)
		return true;
	if (named == NULL || !tb_reader_rows(r, named, &from, &to))
		return named != NULL || tb_reader_fail(r, "row-number", label->from, label->to, "As in \"Rows 1-9: Work as for Back\".",
			"which rows these are is not said");
	if (*last > 0 && (to != *last || (rows != NULL && from != *first)))
		return tb_reader_fail(r, "rows-again-other", rows != NULL ? rows->from : label->from, rows != NULL ? rows->to : label->to,
			"Number both alike.", "these rows are named by other numbers here");
	*first = from;
	*last = to;
	return true;
}

/* "Rows 2-30: Rep Row 2 of Back", "Rep Row 2 of Back until …": whether ROWS of another piece, FIRST to LAST, are others here. */
static bool works_others(tb_reader *r, const tb_value *line, const tb_value *rows, unsigned first, unsigned last)
{
	const tb_value *value = tb_value_get(line, TB_SLOT_like), *named = tb_value_get(tb_value_get(line, TB_SLOT_label), TB_SLOT_rows);
	unsigned from, to;
	if (rows == NULL || tb_build_has(value, TB_SLOT_mirror) || tb_build_has(value, TB_SLOT_rest))
		return false;
	if (tb_build_has(value, TB_SLOT_until))
		return named == NULL;
	return named != NULL && tb_reader_rows(r, named, &from, &to) && (from != first || to != last);
}

static bool like_others(tb_reader *r, const tb_value *line, int other, unsigned first, unsigned last)
{
	const tb_value *value = tb_value_get(line, TB_SLOT_like), *named = tb_value_get(tb_value_get(line, TB_SLOT_label), TB_SLOT_rows);
	const tb_value *acts = tb_value_get(line, TB_SLOT_acts), *more = tb_value_get(line, TB_SLOT_more), *until = tb_value_get(value, TB_SLOT_until);
	g_autoptr(tb_diagnostics) unheard = tb_diagnostics_create(NULL);
	tb_script *script = tb_script_read(r->b.pattern, (unsigned)other, unheard);
	g_ptr_array_add(r->borrowed, script);
	unsigned from, to;
	bool good = until != NULL ? tb_reader_like_until(r, value, script, first, last, until) :
		tb_reader_rows(r, named, &from, &to) && tb_reader_like_numbers(r, value, script, first, last, from, to);
	return good && (acts == NULL || end_with(r, acts)) && (more == NULL || end_with(r, more));
}

bool tb_reader_like(tb_reader *r, const tb_value *line)
{
	const tb_value *value = tb_value_get(line, TB_SLOT_like), *acts = tb_value_get(line, TB_SLOT_acts);
	const tb_value *of = tb_value_get(value, TB_SLOT_of), *last = tb_value_get(value, TB_SLOT_last);
	const tb_value *rows = tb_value_get(value, TB_SLOT_rows);
	const char *part = NULL;
	int other = find_piece_part(r, of, &part), ribbed = other < 0 && r->sentences->len == 0 ? find_on_rib(r, of) : -1;
	const tb_value *welt = tb_value_get(value, TB_SLOT_welt);
	if (welt != NULL && (ribbed < 0 || find_on_rib(r, welt) != ribbed))
		return tb_reader_fail(r, "piece-unknown", welt->from, welt->to, "Name the piece whose ribbing it is.",
			"no ribbing that this is worked on stands under this name");
	/* some of its rows are counted from the ribbing's edge */
	bool whole = tb_value_get(value, TB_SLOT_rows) == NULL && tb_value_get(value, TB_SLOT_last) == NULL &&
		tb_value_get(value, TB_SLOT_behind) == NULL && tb_value_get(line, TB_SLOT_label) == NULL &&
		tb_value_get(value, TB_SLOT_until) == NULL && tb_value_get(value, TB_SLOT_part) == NULL && tb_value_get(value, TB_SLOT_rest) == NULL;
	other = other < 0 && whole ? ribbed : other;
	if (other < 0)
		return tb_reader_fail(r, "piece-unknown", of->from, of->to,
			"Name a piece that stands before this one, as in \"Work same as Left Front\".",
			"no piece before this one has this name");
	unsigned first_row = 0, last_row = last != NULL ? (unsigned)MAX(last->figures[0], 1) : 0;
	if (rows != NULL && !tb_reader_rows(r, rows, &first_row, &last_row))
		return false;
	/* "Rows 2 to last: As Square A" */
	if (tb_build_has(value, TB_SLOT_behind))
		first_row = (unsigned)MAX(tb_value_get(value, TB_SLOT_behind)->figures[0], 1);
	const tb_value *ribs = tb_value_get(value, TB_SLOT_ribs);
	if (ribs != NULL) {
		g_autoptr(tb_diagnostics) unheard = tb_diagnostics_create(NULL);
		tb_script *script = tb_script_read(r->b.pattern, (unsigned)other, unheard);
		g_ptr_array_add(r->borrowed, script);
		return tb_reader_like_rib(r, value, script, tb_build_figure(ribs, 0), tb_build_has(value, TB_SLOT_base)) &&
			(acts == NULL || end_with(r, acts));
	}
	if (works_others(r, line, rows, first_row, last_row))
		return like_others(r, line, other, first_row, last_row);
	if (!are_labelled(r, tb_value_get(line, TB_SLOT_label), rows, &first_row, &last_row))
		return false;
	const tb_value *until = tb_value_get(value, TB_SLOT_until), *shaped = tb_value_get(value, TB_SLOT_part);
	if (tb_build_has(value, TB_SLOT_stars)) {
		g_autoptr(tb_diagnostics) unheard = tb_diagnostics_create(NULL);
		tb_script *script = tb_script_read(r->b.pattern, (unsigned)other, unheard);
		g_ptr_array_add(r->borrowed, script);
		return borrow_first(r, script, before_stars(script), tb_value_get(value, TB_SLOT_mirror) != NULL ? other : -1, false) ?
			acts == NULL || end_with(r, acts) : tb_reader_fail(r, "rows-again-unknown", value->from, value->to,
			"Write ** behind the row up to which it is the same.", "no ** marks a row of that piece, or several do");
	}
	/* "Work as for Back until same length as Back to armholes": that is as far as these */
	const tb_value *same = tb_value_get(until, TB_SLOT_same);
	/* "Work as for Back through Row 18 (20, 22)": so many of its rows in each size */
	bool graded = last != NULL && last->count > 1 && until == NULL && rows == NULL && shaped == NULL;
	if (same != NULL && tb_value_get(until, TB_SLOT_part) != NULL && !tb_build_has(until, TB_SLOT_rows) && find_piece(r, same) == other) {
		shaped = tb_value_get(until, TB_SLOT_part);
		until = NULL;
	}
	if (until != NULL || shaped != NULL || graded) {
		g_autoptr(tb_diagnostics) unheard = tb_diagnostics_create(NULL);
		tb_script *script = tb_script_read(r->b.pattern, (unsigned)other, unheard);
		g_ptr_array_add(r->borrowed, script);
		tb_sentence limit = {.kind = TB_SENTENCE_REPEAT, .span = tb_build_span(&r->b, value->from, value->to)};
		if (until != NULL && !tb_reader_set_limit(r, &limit, until))
			return false;
		if (graded) {
			limit.until = TB_REPEAT_TOTAL;
			limit.times = tb_build_number(&r->b, last, 1);
		}
		bool limited = until != NULL || graded;
		guint begun = r->sentences->len;
		if (limited && borrow_rows(r, script, &limit))
			return acts == NULL || end_with(r, acts);
		g_ptr_array_set_size(r->sentences, (gint)begun);
		bool done = tb_build_has(value, TB_SLOT_done);
		return (limited ? borrow_until(r, script, &limit) :
			borrow_first(r, script, before_part(script, shaped, done), -1, done && acts != NULL)) ?
			acts == NULL || end_with(r, acts) : tb_reader_fail(r, "rows-again-unknown", value->from, value->to,
			limited ? "Say which of its rows are worked." : "Name a heading that stands over its rows.", limited ?
			"that piece has no rows that go on so far" : "nothing in that piece is called so");
	}
	bool mirrored = tb_value_get(value, TB_SLOT_mirror) != NULL;
	const tb_value *more = tb_value_get(line, TB_SLOT_more), *rest = tb_value_get(value, TB_SLOT_rest);
	/* "Complete to match Left Front": from the row behind the last one here */
	if (rest != NULL && last_row == 0 && rows == NULL && rest->type == TB_VALUE_NUMBER && r->last_row > 0) {
		g_autoptr(tb_diagnostics) unheard = tb_diagnostics_create(NULL);
		tb_script *script = tb_script_read(r->b.pattern, (unsigned)other, unheard);
		g_ptr_array_add(r->borrowed, script);
		return (borrow_rest(r, script, r->last_row, mirrored ? other : -1) || tb_reader_fail(r, "rows-again-unknown", value->from,
			value->to, "Name rows that it has.", "that piece has no rows behind these")) && (acts == NULL || end_with(r, acts)) &&
			(more == NULL || end_with(r, more));
	}
	if (rest != NULL) {
		bool named = rest->type != TB_VALUE_NUMBER;
		if ((named && find_piece(r, rest) != other) || last_row == 0)
			return tb_reader_fail(r, "piece-unknown", rest->from, rest->to, "Name the same piece twice.",
				"the rows before these are of another piece");
		if (!take_rows(r, of, other, first_row, last_row, false, part))
			return false;
		return (borrow_rest(r, r->borrowed->pdata[r->borrowed->len - 1], last_row, mirrored ? other : -1) ||
			tb_reader_fail(r, "rows-again-unknown", rest->from, rest->to, "Name rows that it has.",
			"that piece has no rows behind these")) && (acts == NULL || end_with(r, acts)) && (more == NULL || end_with(r, more));
	}
	return take_rows(r, of, other, first_row, last_row, mirrored, part) && (acts == NULL || end_with(r, acts)) &&
		(more == NULL || end_with(r, more));
}
