/*
 * Which colour what stands in a row is worked in: "With A, sc in next 12, with B, …", "Row 3 (green):", "changing
 * to B in last st", "4 A, 3 B". The words are looked at one by one, apart from how the row is read: a colour begins
 * at the clause, or the word, that brings it in, and goes on until another does. Where a row has a word of colour
 * that is none of these, its colours are not known, and none are told of it.
 */
#include "notation/script.h"

#include <string.h>

/* Of a yarn, "soft sea glass". */
#define MOST_NAME_WORDS 3u

typedef struct {
	size_t from, to;
	char kind; /* a: a word, 0: a number, or the sign itself */
} token;

typedef struct {
	tb_reader *r;
	const tb_text *text;
	GArray *tokens; /* token */
	GArray *marks;  /* tb_colour_mark */
	bool first;     /* no row of the piece was read before */
	bool unsure;
	bool numbered;  /* a colour that is changed to has a number behind it: a count, or of its shade */
} scan;

const char *tb_colour_name(tb_arena *arena, const char *chars, size_t length)
{
	char *name = tb_arena_copy(arena, chars, length);
	for (size_t i = 0; i < length; i++)
		name[i] = length <= 2 ? g_ascii_toupper(name[i]) : g_ascii_tolower(name[i]);
	return name;
}

static const token *at(const scan *s, guint i)
{
	static const token none = {0, 0, '\0'};
	return i < s->tokens->len ? &g_array_index(s->tokens, token, i) : &none;
}

static void part(scan *s)
{
	const char *chars = s->text->chars;
	for (size_t i = 0; i < s->text->length;) {
		size_t end = i;
		while (end < s->text->length && (g_ascii_isalpha(chars[end]) || (guchar)chars[end] >= 0x80))
			end++;
		char kind = end > i ? 'a' : '0';
		while (end == i + (kind == '0' ? end - i : 0) && end < s->text->length && g_ascii_isdigit(chars[end]))
			end++;
		if (end == i)
			kind = chars[end++];
		if (kind != ' ')
			g_array_append_vals(s->tokens, &(token){i, end, kind}, 1);
		i = end;
	}
}

static bool is_word(const scan *s, guint i, const char *const *words)
{
	const token *t = at(s, i);
	if (t->kind != 'a')
		return false;
	const char *word = s->text->chars + t->from;
	size_t length = t->to - t->from;
	char first = g_ascii_tolower(*word);
	for (; *words != NULL; words++) {
		if (**words == first && g_ascii_strncasecmp(word, *words, length) == 0 && (*words)[length] == '\0')
			return true;
	}
	return false;
}

static bool is_upper(const scan *s, const token *t)
{
	return t->kind == 'a' && t->to == t->from + 1 && g_ascii_isupper(s->text->chars[t->from]);
}

static const char *const plain_colours[] = {"red", "white", "black", "green", "yellow", "pink", "brown", "gray", "grey",
	"blue", "orange", "cream", "ecru", "gold", "purple", "navy", "teal", "coral", "rust", "mc", "cc", "silver", "ivory", "beige", "lilac",
	"mint", "mustard", "turquoise", "violet", "charcoal", "rose", "plum", "olive", "sage", "aqua", "scarlet", "crimson", "oatmeal",
	"lavender", "peach", NULL};
static const char *const depths[] = {"dark", "light", "pale", "dk", "lt", "bright", "dusky", "deep", "soft", NULL};
static const char *const nouns[] = {"color", "colour", "yarn", "shade", "wool", "cotton", "thread", "strand", "col", NULL};
static const char *const withs[] = {"with", "in", "using", "w", "use", NULL};
static const char *const changing[] = {"change", "changing", "switch", "switching", "changes", "swap", "swapping", "back", "return", NULL};
static const char *const joining[] = {"join", "joining", "attach", "attaching", "rejoin", "rejoining", "add", "adding",
	"introduce", "introducing", NULL};
static const char *const dropping[] = {"cut", "cutting", "drop", "dropping", "break", "breaking", "off", "leave", "leaving", "carry",
	"carrying", "hold", "holding", "keep", "keeping", "over", NULL};
static const char *const told[] = {"color", "colour", "colors", "colours", "stripe", "stripes", "striping", "shade", "shades", "alternately",
	"alternating", NULL};
static const char *const both[] = {"and", "then", "held", NULL};
static const char *const articles[] = {"the", "a", "an", NULL};

/* Where the clause that token I is of begins: behind the sign before it. */
static guint clause_begin(const scan *s, guint i)
{
	while (i > 0 && !tb_is_among(at(s, i - 1)->kind, ",;:.*()[]"))
		i--;
	return i;
}

static guint clause_end(const scan *s, guint i)
{
	while (i < s->tokens->len && !tb_is_among(at(s, i)->kind, ",;:.*()[]"))
		i++;
	return i;
}

/* How many tokens from I on name a colour; 0: none do. A letter is one only where its noun, or its verb, stands by it. */
static guint is_colour(const scan *s, guint i)
{
	guint first = i;
	while (is_word(s, i, depths))
		i++;
	bool noun = is_word(s, i, nouns);
	if (noun && (is_upper(s, at(s, i + 1)) || at(s, i + 1)->kind == '0'))
		return i + 2 - first;
	if (!is_word(s, i, plain_colours) && (i > first || !is_upper(s, at(s, i)) || s->text->chars[at(s, i)->from] > 'H'))
		return 0;
	i++;
	return i + is_word(s, i, nouns) - first;
}

/* The name of tokens FIRST to END: "A" of "color A", "dark red". */
static const char *name_of(const scan *s, guint first, guint end)
{
	while (end - first > 1 && is_word(s, first, nouns))
		first++;
	while (end - first > 1 && is_word(s, end - 1, nouns))
		end--;
	size_t from = at(s, first)->from, length = at(s, end - 1)->to - from;
	return tb_colour_name(s->r->b.arena, s->text->chars + from, length);
}

/* "… at the end of Row 4", behind token I: that row's number; 0: none is said. */
static unsigned row_behind(const scan *s, guint i)
{
	static const char *const between[] = {"at", "in", "on", "the", "end", "last", "st", "stitch", "of", NULL};
	static const char *const rows[] = {"row", "round", "rnd", NULL};
	while (is_word(s, i, between))
		i++;
	return is_word(s, i, rows) && at(s, i + 1)->kind == '0' ?
		(unsigned)g_ascii_strtoull(s->text->chars + at(s, i + 1)->from, NULL, 10) : 0;
}

static bool says_last(const scan *s, guint from)
{
	static const char *const last[] = {"last", "end", "final", NULL};
	for (guint i = from, end = clause_end(s, from); i < end; i++) {
		if (is_word(s, i, last))
			return true;
	}
	return false;
}

static void mark(scan *s, guint from, const char *name, unsigned row)
{
	size_t byte = from < s->tokens->len ? at(s, from)->from : s->text->length;
	tb_colour_mark found = {tb_text_span(s->text, byte, byte).start, row, name};
	g_array_append_val(s->marks, found);
}

/* Whether tokens FROM to TO hold a word that says there is more than one act. */
static bool has_several(const scan *s, guint from, guint to)
{
	for (guint i = from; i < to; i++) {
		if (is_word(s, i, both))
			return true;
	}
	return false;
}

/* "(12 sc A, 12 sc B)" behind all that is worked: a count. Where its bracket ends; or 0. */
static guint count_end(const scan *s, guint i)
{
	if (!tb_is_among(at(s, i)->kind, "([") || at(s, i + 1)->kind != '0')
		return 0;
	guint end = i;
	while (end < s->tokens->len && !tb_is_among(at(s, end)->kind, ")]"))
		end++;
	static const char *const behind[] = {"fasten", "turn", "cut", "drop", NULL};
	guint next = end + 1;
	while (at(s, next)->kind == '.')
		next++;
	return next >= s->tokens->len || is_word(s, next, behind) ? end : 0;
}

/* The colour at tokens I to END: where it begins to be worked with. */
static void look_at(scan *s, guint i, guint end)
{
	static const char *const to[] = {"to", NULL}, *const article[] = {"the", "a", "of", "again", "new", NULL};
	static const char *const particle[] = {"in", "up", "on", NULL}, *const bring[] = {"bring", "bringing", "pick", "picking", "tie", NULL};
	const char *name = name_of(s, i, end);
	guint begin = clause_begin(s, i), before = i;
	while (before > begin && is_word(s, before - 1, article))
		before--;
	bool verb = before > begin;
	/* "Rnd 1: MC 6 sc" begins in a magic circle */
	bool circle = s->first && !verb && strcmp(name, "MC") == 0 && at(s, end)->kind == '0';
	if (circle || (verb && is_word(s, before - 1, dropping)))
		return;
	if (before > begin + 1 && is_word(s, before - 1, to) && is_word(s, before - 2, changing)) {
		guint from = before - 2;
		s->numbered = s->numbered || at(s, end)->kind == '0';
		/* "Changing to B in last st, sc across": not before that is worked */
		bool last = says_last(s, end);
		mark(s, last && from <= 3 && at(s, clause_end(s, end))->kind == ',' && begin == from && from > 0 && at(s, from - 1)->kind == ':' ?
			s->tokens->len : from, name, row_behind(s, end));
	} else if (verb && (is_word(s, before - 1, joining) || (before > begin + 1 && is_word(s, before - 1, particle) && is_word(s, before - 2, bring)))) {
		mark(s, is_word(s, before - 1, joining) ? before - 1 : before - 2, name, row_behind(s, end));
	} else if (verb && is_word(s, before - 1, withs)) {
		s->unsure = s->unsure || has_several(s, begin, before - 1);
		mark(s, begin, name, 0);
	} else if (!verb || end == clause_end(s, i)) {
		/* "(A) 3", "4 A", "Navy, …"; of a label it is of the whole row */
		bool bracket = !verb && tb_is_among(at(s, begin > 0 ? begin - 1 : begin)->kind, "([") && tb_is_among(at(s, end)->kind, ")]");
		bool behind = bracket && begin > 1 && tb_is_among(at(s, begin - 2)->kind, "a0") && !tb_is_among(at(s, end + 1)->kind, ":.");
		s->unsure = s->unsure || has_several(s, begin, i);
		mark(s, behind ? clause_begin(s, begin - 1) : begin, name, 0);
	} else {
		s->unsure = true;
	}
}

/* What stands behind "with" and is no yarn. */
static const char *const no_yarns[] = {"rs", "ws", "right", "wrong", "side", "sides", "facing", "front", "back", "hook", "hooks", "smaller", "larger",
	"needle", "mm", "size", "strand", "strands", "double", "doubled", "both", "two", "three", "one", "same", "each", "it", "this", "that",
	"these", "those", "which", "your", "only", "loop", "loops", "slip", "knot", "ring", "marker", "markers", "row", "rows", "round",
	"rounds", "rnd", "rnds", "tail", "tails", "end", "ends", "seam", "edge", "care", "crochet", "needles", "another", "any", "all", "first",
	"last", "next", "rep", "repeat", "repeats", "pattern", "patt", "increases", "decreases", "inc", "dec", "stitches", "stitch",
	"working", "work", "turn", "fasten", "join", "main", "contrast", "contrasting", NULL};

static bool is_stitch(const scan *s, guint i)
{
	static const char *const others[] = {"ch", "chain", "st", "sts", "sl", "ss", "picot", "cluster", "shell", "fan", "popcorn", "bobble", "puff",
		"skip", "sk", "miss", "make", "begin", "start", "and", "then", "in", "into", "for", "to", "of", "at", "on", "over", "around", "along",
		"across", "from", "until", "by", NULL};
	const token *t = at(s, i);
	g_autofree char *word = g_strndup(s->text->chars + t->from, t->to - t->from);
	const tb_pattern *pattern = s->r->b.pattern;
	return is_word(s, i, others) || tb_library_find_term(pattern->library, word, pattern->uk_terms) != NULL;
}

/*
 * "With moss, ch 1", "changing to sea glass", behind token I: a name that nobody knows is its yarn's all the same. Where it
 * ends, and begins, *FIRST; or 0. To leave it out would work it in the colour before.
 */
static guint unknown_end(const scan *s, guint i, guint *first)
{
	static const char *const with[] = {"with", "using", NULL}, *const to[] = {"to", NULL};
	bool led = (is_word(s, i, with) && clause_begin(s, i) == i) || (i > 0 && is_word(s, i, to) && is_word(s, i - 1, changing));
	*first = i + 1;
	while (is_word(s, *first, articles))
		(*first)++;
	guint end = *first;
	while (led && at(s, end)->kind == 'a' && !is_stitch(s, end) && end - *first <= MOST_NAME_WORDS) {
		if (is_word(s, end, no_yarns) || is_colour(s, end) > 0)
			return 0;
		end++;
	}
	bool noun = end - *first == 1 && is_word(s, *first, nouns);
	/* What goes on behind the name is work, or nothing. */
	bool goes_on = end >= s->tokens->len || tb_is_among(at(s, end)->kind, ",;:.0)]") || is_stitch(s, end);
	return led && end > *first && end - *first <= MOST_NAME_WORDS && !noun && goes_on ? end : 0;
}

static void look(scan *s)
{
	static const char *const same[] = {"same", NULL}, *const plan[] = {"pattern", "sequence", "order", NULL};
	for (guint i = 0; i < s->tokens->len; i++) {
		guint count = count_end(s, i), many;
		if (count > 0) {
			i = count;
			continue;
		}
		guint first, unknown = unknown_end(s, i, &first);
		if (unknown > 0) {
			look_at(s, first, unknown);
			i = unknown - 1;
			continue;
		}
		many = is_colour(s, i);
		/* "A dc in each" begins no colour: one is by itself, or has its verb or number */
		bool article = many == 1 && is_upper(s, at(s, i)) && s->text->chars[at(s, i)->from] == 'A' && clause_begin(s, i) == i &&
			at(s, i + 1)->kind == 'a';
		if (many > 0 && !article) {
			look_at(s, i, i + many);
			i += many - 1;
		} else if (is_word(s, i, told) && !(i > 0 && is_word(s, i - 1, same)) &&
			!(s->r->striped && is_word(s, i + 1, plan))) {
			s->unsure = true;
		}
	}
}

static int compare_marks(gconstpointer a, gconstpointer b)
{
	const tb_colour_mark *x = a, *y = b;
	return x->from < y->from ? -1 : x->from > y->from;
}

/* The marks of TEXT in their order; one without a name where its words of colour are not understood. */
static void find_marks(scan *s)
{
	part(s);
	look(s);
	if (s->unsure) {
		g_array_set_size(s->marks, 0);
		mark(s, 0, NULL, 0);
	}
	g_array_sort(s->marks, compare_marks);
}

void tb_reader_find_colours(tb_reader *r, const tb_text *text, guint before)
{
	const tb_colour_mark *awaited = r->awaits_colour && r->sentences->len > before ? &r->colour_awaited : NULL;
	/* worded as the one before, which has none */
	if (text == r->text && r->alike.times > 0 && r->alike.colourless && awaited == NULL)
		return;
	g_autoptr(GArray) tokens = g_array_new(FALSE, FALSE, sizeof(token));
	g_autoptr(GArray) marks = g_array_new(FALSE, FALSE, sizeof(tb_colour_mark));
	scan s = {.r = r, .text = text, .tokens = tokens, .marks = marks, .first = before < 2};
	find_marks(&s);
	if (text == r->text)
		r->alike.colourless = marks->len == 0 && !s.first;
	if (awaited != NULL) {
		g_array_prepend_val(marks, *awaited);
		r->awaits_colour = false;
	}
	if (marks->len == 0)
		return;
	tb_colour_mark *kept = tb_arena_take(r->b.arena, marks->len * sizeof *kept);
	memcpy(kept, marks->data, marks->len * sizeof *kept);
	tb_span all = tb_text_span(text, 0, text->length);
	for (guint i = before; i < r->sentences->len; i++) {
		tb_sentence *sentence = r->sentences->pdata[i];
		if (sentence->span.start >= all.start && sentence->span.end <= all.end) {
			sentence->colours = kept;
			sentence->colour_count = marks->len;
			continue;
		}
		/* "With B, work as Front": the rows of another text, in which of the two nobody knows */
		static const tb_colour_mark unknown = {0, 0, NULL};
		tb_sentence *copy = tb_arena_new(r->b.arena, tb_sentence);
		*copy = *sentence;
		copy->colours = &unknown;
		copy->colour_count = 1;
		r->sentences->pdata[i] = copy;
	}
}

/* Whether the words between rows bid to take a yarn, and do not only speak of a colour that is seen, or sewn with. */
static bool bids_colour(const scan *s)
{
	static const char *const bids[] = {"alternate", "bring", "bringing", "pick", "picking", "tie", "continue", "begin", "start",
		"next", "now", "with", "in", NULL};
	static const char *const uses[] = {"use", "using", NULL};
	static const char *const sewing[] = {"sew", "sewing", "embroider", "weave", "stitch", "seam", "eyes", "tassel", "fringe", NULL};
	guint named = is_colour(s, 0);
	bool found = named > 0 && (named == s->tokens->len || (named + 1 == s->tokens->len && at(s, named)->kind != '0'));
	for (guint i = 0; i < s->tokens->len; i++) {
		if (is_word(s, i, sewing))
			return false;
		found = found || is_word(s, i, changing) || is_word(s, i, joining) || is_word(s, i, uses) ||
			(clause_begin(s, i) == i && is_word(s, i, bids));
	}
	return found;
}

void tb_reader_await_colour(tb_reader *r, const tb_text *text)
{
	g_autoptr(GArray) tokens = g_array_new(FALSE, FALSE, sizeof(token));
	g_autoptr(GArray) marks = g_array_new(FALSE, FALSE, sizeof(tb_colour_mark));
	scan s = {.r = r, .text = text, .tokens = tokens, .marks = marks};
	find_marks(&s);
	const tb_colour_mark *last = marks->len > 0 ? &g_array_index(marks, tb_colour_mark, marks->len - 1) : NULL;
	/* "change to navy at the end of Row 4" is that row's */
	if (last == NULL || last->row > 0 || !bids_colour(&s))
		return;
	r->awaits_colour = true;
	r->colour_awaited = (tb_colour_mark){0, 0, s.numbered ? NULL : last->name};
}

/* Before its chain a start may have "With A,": the text with what stands before it on its line. Owned. */
static tb_text *with_lead(const tb_pattern *pattern, const tb_text *start)
{
	size_t length, from = tb_text_span(start, 0, 0).start;
	const char *source = tb_source_get_text(pattern->source, &length);
	size_t end = MIN(tb_text_span(start, 0, start->length).end, length);
	while (from > 0 && !tb_is_among(source[from - 1], "\n\":"))
		from--;
	return tb_text_create(source + from, end - MIN(from, end), from);
}

void tb_reader_find_start_colours(tb_reader *r, const tb_text *start)
{
	g_autoptr(tb_text) text = with_lead(r->b.pattern, start);
	tb_reader_find_colours(r, text, 0);
}

char *tb_script_beside_rows(const tb_pattern *pattern, size_t *length)
{
	const char *source = tb_source_get_text(pattern->source, length);
	char *text = g_strndup(source, *length);
	for (unsigned piece = 0; piece < tb_pattern_count_pieces(pattern); piece++) {
		const GPtrArray *rows = tb_pattern_piece(pattern, piece)->rows;
		for (guint i = 0; i < rows->len; i++) {
			const tb_text *row = rows->pdata[i];
			tb_span span = tb_text_span(row, 0, row->length);
			if (span.end <= *length)
				memset(text + span.start, ' ', span.end - span.start);
		}
	}
	return text;
}

bool tb_script_names_stripes(const char *text)
{
	static const char *const words[] = {"stripe", "alternat", "change colo", "changing colo", "color change", "colour change",
		"color sequence", "colour sequence"};
	g_autofree char *lower = g_ascii_strdown(text, -1);
	for (size_t i = 0; i < G_N_ELEMENTS(words); i++) {
		if (strstr(lower, words[i]) != NULL)
			return true;
	}
	return false;
}

bool tb_script_tells_stripes(const tb_pattern *pattern)
{
	size_t length;
	g_autofree char *text = tb_script_beside_rows(pattern, &length);
	return tb_script_names_stripes(text);
}
