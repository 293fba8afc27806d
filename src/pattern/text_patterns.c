/*
 * Stitch patterns that are told row by row before the pieces, "Moss stitch: Row 1: …; Row 2: …", and worked by name:
 * "Rows 5-20: Moss st", "Work 6 (8, 8) rows in moss st", "Cont in moss st until piece measures 20 cm". Such a row is
 * parted into the rows that the pattern tells, each byte of which knows where it stands there, and a repeat of them. What
 * is worked right behind goes on where the pattern was left; behind other rows it begins again.
 */
#include "pattern/text_kinds.h"
#include "pattern/text_reader.h"

#include "support/limits.h"

#include <string.h>

#define LONGEST_NAME 60u
/* Of a stitch pattern; more are a piece. */
#define MOST_ROWS 24u
#define MOST_PATTERNS 50u

static const char row_words[] = "row rows rnd rnds round rounds";
/* What the one pattern is called that has no name, "PATTERN", and is worked "in patt". */
static const char main_name[] = "pattern";

typedef struct {
	char *name;                /* small, without "stitch" or "pattern" behind it */
	const tb_piece *piece;     /* as which it was read, */
	const tb_text *definition; /* … or in whose place; one is NULL */
	tb_text *rows[MOST_ROWS];  /* what each works; owned */
	unsigned count, from;      /* those from FROM on are worked again and again */
	bool is_round, used;
} told;

typedef struct {
	tb_text_reader *reader;
	told patterns[MOST_PATTERNS];
	unsigned count;
	size_t bytes; /* of all rows that were made */
} book;

/* What a row says of a stitch pattern. */
typedef struct {
	told *pattern;
	unsigned first;               /* the number of the first of them, or 0 */
	unsigned many[TB_MAX_SIZES];  /* how many rows; 0 where they go on until something is so */
	unsigned sizes;               /* of those figures */
	size_t lead;                  /* so much stands before it, "Change to 4 mm hook and" */
	size_t last_from, last_to;    /* the figures of the last row, as they are written */
	size_t side_from, side_to;    /* "(RS)" behind them */
	size_t until, tail;           /* where that is said, or 0; what stands behind it all */
} use;

static size_t skip(const char *text, size_t at)
{
	return at + strspn(text + at, " ");
}

/* --- what is told --- */

bool tb_is_main_pattern(const char *name)
{
	g_autofree char *alone = g_strndup(name, strcspn(name, "([:,"));
	size_t at = tb_at_word(g_strstrip(alone), "main body basic stitch st");
	at = skip(alone, at);
	size_t word = tb_at_word(alone + at, "pattern patt");
	at = skip(alone, at + word);
	at += word > 0 ? tb_at_word(alone + at, "stitch st") : 0;
	return word > 0 && alone[at] == '\0';
}

/* "Moss stitch (over an odd number of sts)": the name without what stands behind it, in small letters. Owned. */
static char *plain_name(const char *words, size_t length, bool *called)
{
	static const char *const behind[] = {" stitch", " st", " sts", " pattern", " patt", " stitch pattern", " st pattern"};
	g_autofree char *given = g_strndup(words, length);
	given[strcspn(given, "([:")] = '\0';
	char *name = g_ascii_strdown(g_strstrip(given), -1);
	*called = tb_is_main_pattern(name);
	if (*called) {
		g_free(name);
		return g_strdup(main_name);
	}
	for (size_t i = G_N_ELEMENTS(behind); i-- > 0;) {
		if (!g_str_has_suffix(name, behind[i]) || strlen(name) == strlen(behind[i]))
			continue;
		name[strlen(name) - strlen(behind[i])] = '\0';
		*called = true;
		break;
	}
	return name;
}

static tb_text *slice(const tb_text *text, size_t start, size_t end)
{
	start = skip(text->chars, start);
	while (end > start && tb_is_among(text->chars[end - 1], " ;"))
		end--;
	tb_text *part = tb_text_create(text->chars + start, end - start, text->offsets[start]);
	part->offsets = g_memdup2(text->offsets + start, (end - start + 1) * sizeof(guint32));
	return part;
}

/* "Rep this row", "This row is repeated", "This row forms the pattern", of a pattern of one row. */
static bool reads_one_again(const told *pattern, const char *text)
{
	size_t rep = tb_at_word(text, "rep repeat"), at = skip(text, rep), this = tb_at_word(text + at, "this the"), row;
	at = skip(text, at + this);
	at = skip(text, at + tb_at_word(text + at, "last one first same 1st"));
	row = at + tb_at_word(text + at, "row rnd round");
	g_autofree char *rest = g_strdup(text + skip(text, row));
	rest[strcspn(rest, ".")] = '\0';
	bool again = rep > 0 || tb_find_words(rest, strlen(rest), "repeated forms makes form") < strlen(rest);
	return pattern->count == 1 && this > 0 && row > at && again;
}

/* "Rep Rows 1 and 2 for pattern", "Rows 1-2 form the pattern": from which row on; false where it says something else. */
static bool reads_again(told *pattern, const char *text)
{
	if (reads_one_again(pattern, text))
		return true;
	size_t rep = tb_at_word(text, "rep repeat"), at = skip(text, rep), these = tb_at_word(text + at, "these the last"), end;
	at = skip(text, at + these);
	unsigned first = (unsigned)g_ascii_strtoull(text + at, NULL, 10), last = first;
	if (these > 0 && first > 0) {
		size_t word = skip(text, at + strspn(text + at, "0123456789"));
		pattern->from = first <= pattern->count ? pattern->count - first : 0;
		end = word + tb_at_word(text + word, row_words);
		return first <= pattern->count && end > word;
	}
	at = skip(text, at + tb_at_word(text + at, row_words));
	first = (unsigned)g_ascii_strtoull(text + at, NULL, 10);
	size_t parting = skip(text, at + strspn(text + at, "0123456789"));
	parting += text[parting] == '-' ? 1 : tb_at_word(text + parting, "and to & through thru");
	last = (unsigned)g_ascii_strtoull(text + skip(text, parting), NULL, 10);
	bool forms = rep > 0 || strstr(text, "form") != NULL;
	if (!forms || first == 0 || first > pattern->count || last != pattern->count)
		return false;
	pattern->from = first - 1;
	return true;
}

/* A row of TEXT that may be worked elsewhere: it speaks of no row by its number, and repeats none. */
static bool stands_alone(const char *text)
{
	g_autofree char *lower = tb_text_lower(text, -1);
	size_t length = strlen(lower);
	if (tb_at_word(lower, "rep repeat as same") > 0)
		return false;
	for (size_t at = tb_find_words(lower, length, row_words); at < length; at += 1 + tb_find_words(lower + at + 1, length - at - 1, row_words)) {
		size_t word = tb_at_word(lower + at, row_words), figure = skip(lower, at + word);
		if (g_ascii_isdigit(lower[figure]))
			return false;
	}
	return true;
}

/* Adds the row TEXT, which begins with its number; false where it is not the next one of PATTERN. */
static bool add_row(told *pattern, const tb_text *text, size_t from, size_t end)
{
	tb_row_head head;
	if (!tb_is_row_head(text->chars + from, &head) || head.first != pattern->count + 1 || head.last > head.first + 1 || pattern->count == MOST_ROWS)
		return false;
	size_t body = from + head.length;
	g_autoptr(tb_text) row = slice(text, body, end);
	if (row->length == 0 || !stands_alone(row->chars) || head.last > head.first)
		return false;
	pattern->is_round = tb_at_word(text->chars + from, "rnd rnds round rounds") > 0;
	pattern->rows[pattern->count++] = g_steal_pointer(&row);
	return true;
}

static void clear(told *pattern)
{
	g_free(pattern->name);
	for (unsigned i = 0; i < pattern->count; i++)
		tb_text_destroy(pattern->rows[i]);
	*pattern = (told){.name = NULL};
}

static void keep(book *b, told *pattern, bool good)
{
	if (good && pattern->count > 0 && *pattern->name != '\0' && b->count < MOST_PATTERNS)
		b->patterns[b->count++] = *pattern;
	else
		clear(pattern);
}

/* A piece without a start, called a stitch or a pattern. */
static void read_piece(book *b, const tb_piece *piece)
{
	bool called, good = true;
	told pattern = {.piece = piece};
	pattern.name = plain_name(piece->name, strlen(piece->name), &called);
	for (guint i = 0; i < piece->rows->len && good; i++) {
		const tb_text *row = piece->rows->pdata[i];
		g_autofree char *lower = tb_text_lower(row->chars, -1);
		good = row->offsets != NULL && (add_row(&pattern, row, 0, row->length) || (i + 1 == piece->rows->len && reads_again(&pattern, lower)));
	}
	keep(b, &pattern, good && called);
}

/* Whether a row, or what repeats rows, begins at AT, behind the end of another. */
static bool begins_row(const char *text, size_t at)
{
	tb_row_head head;
	if (text[at - 1] != ' ' || at < 2 || !tb_is_among(text[at - 2], ".;)]"))
		return false;
	size_t rep = tb_at_word(text + at, "rep repeat"), rows = skip(text, at + rep);
	return rep > 0 ? tb_at_word(text + rows, "row rows rnd rnds round rounds these the last") > 0 :
		tb_at_word(text + at, row_words) > 0 && tb_is_row_head(text + at, &head);
}

/* "Moss st: Row 1: …; Row 2: …" */
static void read_definition(book *b, const tb_text *text)
{
	size_t parting = 0, name = tb_find_parting(text->chars, &parting), from = skip(text->chars, name + parting);
	bool called, good = name > 0 && text->offsets != NULL;
	told pattern = {.definition = text};
	pattern.name = plain_name(text->chars, name, &called);
	while (good && from < text->length) {
		size_t end = from + 1;
		while (end < text->length && !begins_row(text->chars, end))
			end++;
		g_autofree char *lower = tb_text_lower(text->chars + from, (gssize)(end - from));
		good = add_row(&pattern, text, from, end) || (end == text->length && reads_again(&pattern, lower));
		from = end;
	}
	keep(b, &pattern, good);
}

/* Where the sentence of TEXT that begins at AT ends: before its full stop. */
static size_t sentence_end(const tb_text *text, size_t at)
{
	while (at < text->length && !(text->chars[at] == '.' && tb_is_among(text->chars[at + 1], " ") && !g_ascii_islower(text->chars[at + 2])) &&
		!(text->chars[at] == '.' && text->chars[at + 1] == '\0'))
		at++;
	return at;
}

/*
 * "V-st row = ch 3, V-st in each V-st across, turn": a row by a name of its own, in TEXT of the notes or the stitches. One
 * that increases or decreases is told apart: notation/script_told.c.
 */
static void read_named_row(book *b, const tb_text *text, bool definition)
{
	for (size_t at = 0, end; text->offsets != NULL && at < text->length; at = end + 1) {
		at += strspn(text->chars + at, "~*-+ ");
		end = sentence_end(text, at);
		size_t parting = 0, name = tb_find_parting(text->chars + at, &parting);
		g_autofree char *lower = tb_text_lower(text->chars + at, (gssize)name);
		g_strstrip(lower);
		bool named = name > 0 && at + name < end && tb_is_among(text->chars[at + name + strspn(text->chars + at + name, " ")], "=:") &&
			(g_str_has_suffix(lower, " row") || g_str_has_suffix(lower, " rnd") || g_str_has_suffix(lower, " round"));
		if (!named || tb_named_row(text->chars + at) != 0 || strcspn(lower, "0123456789(") < strlen(lower) ||
			tb_at_word(lower, "every each next last this the all foundation row rows setup base") > 0)
			continue;
		told row = {.definition = definition && end + 1 >= text->length ? text : NULL, .name = g_steal_pointer(&lower)};
		row.is_round = !g_str_has_suffix(row.name, " row");
		row.rows[row.count++] = slice(text, at + name + parting, end);
		keep(b, &row, row.rows[0]->length > 0 && tb_has_stitch(row.rows[0]->chars) && stands_alone(row.rows[0]->chars));
	}
}

/* --- what is worked --- */

/* Behind the name of PATTERN at AT of TEXT, with "stitch" or "pattern"; 0 where it does not stand there. */
static size_t behind_name(const told *pattern, const char *text, size_t at)
{
	size_t length = strlen(pattern->name);
	if (strcmp(pattern->name, main_name) == 0) {
		size_t main = tb_at_word(text + at, "main body basic stitch st");
		size_t word = tb_at_word(text + skip(text, at + main), "pattern patt pat");
		return word > 0 ? skip(text, at + main) + word : 0;
	}
	if (strncmp(text + at, pattern->name, length) != 0 || g_ascii_isalnum(text[at + length + (text[at + length] == 's')]))
		return 0;
	at += length;
	at += text[at] == 's';
	for (size_t word; (word = tb_at_word(text + skip(text, at), "stitch st sts pattern patt")) > 0;)
		at = skip(text, at) + word;
	return at;
}

/* "6 (8, 8)" at AT: how many, in how many sizes; where they end, or 0. */
static size_t read_many(const char *text, size_t at, use *u)
{
	char *end;
	u->many[0] = (unsigned)g_ascii_strtoull(text + at, &end, 10);
	if (end == text + at || u->many[0] > TB_LIMIT_PIECE_ROWS)
		return 0;
	u->sizes = 1;
	size_t to = (size_t)(end - text), open = skip(text, to);
	if (text[open] != '(')
		return to;
	for (to = open + 1; u->sizes < TB_MAX_SIZES; to = skip(text, to + 1)) {
		u->many[u->sizes++] = (unsigned)g_ascii_strtoull(text + to, &end, 10);
		if (end == text + to)
			return 0;
		to = skip(text, (size_t)(end - text));
		if (text[to] != ',')
			break;
	}
	return text[to] == ')' ? to + 1 : 0;
}

static told *find_named(book *b, const char *text, size_t *at)
{
	*at = skip(text, *at + tb_at_word(text + *at, "in of"));
	*at = skip(text, *at + tb_at_word(text + *at, "the"));
	for (unsigned i = 0; i < b->count; i++) {
		size_t behind = behind_name(&b->patterns[i], text, *at);
		if (behind > 0) {
			*at = behind;
			return &b->patterns[i];
		}
	}
	return NULL;
}

/* "Work", "Cont even" */
static size_t skip_verbs(const char *text, size_t at)
{
	for (size_t word; (word = tb_at_word(text + at, "now then work works continue cont continuing working even")) > 0;)
		at = skip(text, at + word);
	return at;
}

/* Whether nothing but a count, the piece's end, or another sentence, stands at AT. */
static bool ends_at(const char *text, size_t at)
{
	if (text[at] == '.' && text[at + 1] == ' ')
		return true;
	at += strspn(text + at, " .,");
	return text[at] == '\0' || g_ascii_isdigit(text[at]) || tb_is_among(text[at], "([") || tb_at_word(text + at, "fasten") > 0;
}

/* "Rows 5-20: Work in moss st across." */
static bool reads_numbered(book *b, const char *text, const tb_row_head *head, use *u)
{
	size_t at = skip_verbs(text, skip(text, head->length));
	u->pattern = find_named(b, text, &at);
	at = skip(text, at);
	at += tb_at_word(text + at, "across around throughout");
	size_t number = skip(text, tb_at_word(text, row_words)), dash = number + strspn(text + number, "0123456789 ");
	u->first = (unsigned)g_ascii_strtoull(text + number, NULL, 10);
	u->tail = at;
	if (head->last > head->first) {
		dash += text[dash] == '-' ? 1 : tb_at_word(text + dash, "to");
		u->last_from = skip(text, dash);
		dash = u->last_to = read_many(text, u->last_from, u);
	} else {
		u->sizes = 1;
		u->many[0] = u->first;
	}
	u->side_from = u->side_to = skip(text, dash);
	if (g_str_has_prefix(text + u->side_from, "(rs)") || g_str_has_prefix(text + u->side_from, "(ws)"))
		u->side_to += 4;
	if (u->pattern == NULL || !ends_at(text, at) || u->first != head->first || dash == 0 || text[skip(text, u->side_to)] != ':')
		return false;
	bool good = true;
	for (unsigned i = 0; i < u->sizes && good; i++) {
		good = u->many[i] >= u->first;
		u->many[i] -= good ? u->first - 1 : 0;
	}
	return good;
}

/* "Change to 4 mm hook and ", "With larger hook, ": behind it; *END: where its words end. */
static size_t skip_hook(const char *text, size_t *end)
{
	size_t at = tb_at_word(text, "change changing switch with using"), stop = strcspn(text, ".:"), hook = 0;
	/* "4.00 mm" has a point in it */
	while (text[stop] == '.' && g_ascii_isdigit(text[stop + 1]))
		stop += 1 + strcspn(text + stop + 1, ".:");
	hook = at > 0 ? tb_find_words(text, MIN(stop, LONGEST_NAME), "hook") : stop;
	*end = 0;
	if (at == 0 || hook >= MIN(stop, LONGEST_NAME))
		return 0;
	*end = hook + strlen("hook");
	at = *end + strspn(text + *end, " ,");
	return skip(text, at + tb_at_word(text + at, "and then"));
}

/* "Work 6 (8, 8) rows in moss st", "Work in moss st for 6 rows", "Cont in moss st until …" */
static bool reads_unnumbered(book *b, const char *text, use *u)
{
	size_t lead = skip_hook(text, &u->lead), at = skip_verbs(text, lead), many = read_many(text, at, u);
	if (many > 0) {
		size_t rows = skip(text, many), word = tb_at_word(text + rows, row_words), named = rows;
		/* "Work 4 V-st rows" */
		u->pattern = word == 0 ? find_named(b, text, &named) : NULL;
		u->tail = named;
		if (u->pattern != NULL && u->pattern->count == 1 && strpbrk(u->pattern->name, " ") != NULL && ends_at(text, named))
			return true;
		at = skip_verbs(text, skip(text, rows + word));
		u->pattern = word > 0 ? find_named(b, text, &at) : NULL;
		u->tail = at;
		return u->pattern != NULL && ends_at(text, at);
	}
	bool verb = at > lead;
	u->pattern = find_named(b, text, &at);
	size_t behind = skip(text, at), over = tb_at_word(text + behind, "for over");
	if (u->pattern == NULL || !verb)
		return false;
	if (tb_at_word(text + behind, "until till") > 0) {
		u->until = behind;
		u->sizes = 0;
		return true;
	}
	size_t figures = skip(text, behind + over), to = over > 0 ? read_many(text, figures, u) : 0, rows = skip(text, to);
	size_t word = to > 0 ? tb_at_word(text + rows, row_words) : 0;
	u->tail = rows + word;
	return word > 0 && ends_at(text, u->tail);
}

/* --- the rows that are made of it --- */

/* A text that is put together, each byte knowing its place. */
typedef struct {
	GString *chars;
	GArray *offsets;
} composed;

static void add_words(composed *c, const char *words, guint32 place)
{
	for (const char *at = words; *at != '\0'; at++)
		g_array_append_val(c->offsets, place);
	g_string_append(c->chars, words);
}

static void add_text(composed *c, const tb_text *text, size_t from, size_t end)
{
	g_string_append_len(c->chars, text->chars + from, (gssize)(end - from));
	g_array_append_vals(c->offsets, text->offsets + from, (guint)(end - from));
}

/* Takes what was put together. */
static tb_text *finish(composed *c, guint32 end)
{
	g_array_append_val(c->offsets, end);
	tb_text *text = tb_text_create(c->chars->str, c->chars->len, g_array_index(c->offsets, guint32, 0));
	text->offsets = (guint32 *)(gpointer)g_array_free(c->offsets, FALSE);
	g_string_free(c->chars, TRUE);
	return text;
}

static composed begin(void)
{
	return (composed){g_string_new(NULL), g_array_new(FALSE, FALSE, sizeof(guint32))};
}

/* Row I of those that USE works, the PATTERN row ROW. */
static tb_text *compose_row(const use *u, const tb_text *said, unsigned i, unsigned row)
{
	composed c = begin();
	const char *word = u->pattern->is_round ? "Rnd" : "Row";
	g_autofree char *head = u->first > 0 ? g_strdup_printf("%s %u", word, u->first + i) : g_strdup_printf("Next %s", word);
	add_words(&c, head, said->offsets[0]);
	if (i == 0 && u->side_to > u->side_from) {
		add_words(&c, " ", said->offsets[0]);
		add_text(&c, said, u->side_from, u->side_to);
	}
	add_words(&c, ": ", said->offsets[0]);
	if (i == 0 && u->lead > 0) {
		add_text(&c, said, 0, u->lead);
		add_words(&c, ". ", said->offsets[u->lead]);
	}
	const tb_text *body = u->pattern->rows[row];
	add_text(&c, body, 0, body->length);
	return finish(&c, said->offsets[said->length]);
}

/* What is worked again behind the first EACH rows: the last PERIOD of them. */
static tb_text *compose_again(const use *u, const tb_text *said, unsigned each, unsigned period, unsigned more)
{
	composed c = begin();
	const char *word = u->pattern->is_round ? "Rnd" : "Row";
	guint32 place = said->offsets[0];
	if (u->first > 0) {
		g_autofree char *head = g_strdup_printf(more > 1 || u->sizes > 1 ? "%ss %u-" : "%s %u", word, u->first + each);
		add_words(&c, head, place);
		if (more > 1 || u->sizes > 1)
			add_text(&c, said, u->last_from, u->last_to);
		g_autofree char *again = period == 1 ? g_strdup_printf(": Rep %s %u", word, u->first + each - 1) :
			more == 1 && u->sizes == 1 ? g_strdup_printf(": Rep %s %u", word, u->first + each - period) :
			g_strdup_printf(": Rep %ss %u-%u", word, u->first + each - period, u->first + each - 1);
		add_words(&c, again, place);
		return finish(&c, said->offsets[said->length]);
	}
	g_autofree char *again = g_strdup_printf("Rep last %u %s%s ", period, word, period == 1 ? "" : "s");
	add_words(&c, again, place);
	if (u->until > 0)
		add_text(&c, said, u->until, said->length);
	for (unsigned i = 0; i < u->sizes; i++) {
		g_autofree char *times = g_strdup_printf("%s%u", i == 0 ? "" : i == 1 ? " (" : ", ", (u->many[i] - each) / period);
		add_words(&c, times, place);
	}
	if (u->until == 0)
		add_words(&c, u->sizes > 1 ? ") times" : " times", place);
	return finish(&c, said->offsets[said->length]);
}

/* Puts what stands behind the name, a count, behind the last of ROWS. */
static void add_tail(GPtrArray *rows, const tb_text *said, size_t tail)
{
	tail += strspn(said->chars + tail, " .,");
	if (tail >= said->length || rows->len == 0)
		return;
	tb_text *last = rows->pdata[rows->len - 1];
	composed c = begin();
	size_t end = last->length;
	while (end > 0 && tb_is_among(last->chars[end - 1], " ."))
		end--;
	add_text(&c, last, 0, end);
	add_words(&c, ". ", last->offsets[end]);
	add_text(&c, said, tail, said->length);
	rows->pdata[rows->len - 1] = finish(&c, said->offsets[said->length]);
	tb_text_destroy(last);
}

/*
 * The rows that SAID works of a pattern whose row *NEXT comes; NULL where they cannot be told so. *NEXT is the row behind
 * them then, or MOST_ROWS where the sizes end at different ones.
 */
static GPtrArray *work(const use *u, const tb_text *said, unsigned *next)
{
	const told *p = u->pattern;
	unsigned period = p->count - p->from, least = G_MAXUINT, at = *next;
	unsigned each = p->count - at + (at > p->from ? at - p->from : 0);
	for (unsigned i = 0; i < u->sizes; i++)
		least = MIN(least, u->many[i]);
	if (at >= p->count || least == 0 || (u->sizes > 1 && least < each))
		return NULL;
	bool alike = true;
	for (unsigned i = 1; i < u->sizes; i++)
		alike = alike && u->many[i] % period == u->many[0] % period;
	/* how many times all of them come is a number of each size */
	if (u->first == 0 && u->sizes > 1 && (!alike || (u->many[0] - each) % period != 0))
		return NULL;
	GPtrArray *rows = g_ptr_array_new();
	each = MIN(each, least);
	for (unsigned i = 0; i < each; i++, at = at + 1 < p->count ? at + 1 : p->from)
		g_ptr_array_add(rows, compose_row(u, said, i, at));
	unsigned more = u->sizes > 0 ? u->many[0] - each : 0, over = u->first == 0 && u->sizes == 1 ? more % period : 0;
	bool again = u->until > 0 || more >= period || (u->first > 0 && more > 0) || (u->sizes > 1 && u->first > 0);
	if (again)
		g_ptr_array_add(rows, compose_again(u, said, each, period, more));
	for (unsigned i = 0; i < over; i++)
		g_ptr_array_add(rows, compose_row(u, said, 1, at + i < p->count ? at + i : p->from + (at + i - p->count)));
	if (u->until == 0)
		add_tail(rows, said, u->tail);
	unsigned left = u->sizes > 0 ? more % period : 0;
	*next = u->until > 0 || !alike ? MOST_ROWS : at + left < p->count ? at + left : p->from + (at + left - p->count);
	return rows;
}

/* "Row 40 (42, 44): V-st row.": the row's words in place of the name; NULL where SAID says something else. */
static GPtrArray *put_words(book *b, const tb_text *said, const char *lower, use *u)
{
	size_t colon = strcspn(lower, ":"), from = skip(lower, colon + (lower[colon] == ':')), at = from;
	u->pattern = lower[colon] == ':' ? find_named(b, lower, &at) : NULL;
	if (u->pattern == NULL || u->pattern->count != 1 || strpbrk(u->pattern->name, " ") == NULL || !ends_at(lower, at))
		return NULL;
	GPtrArray *rows = g_ptr_array_new();
	composed c = begin();
	add_text(&c, said, 0, from);
	add_text(&c, u->pattern->rows[0], 0, u->pattern->rows[0]->length);
	add_text(&c, said, at, said->length);
	g_ptr_array_add(rows, finish(&c, said->offsets[said->length]));
	return rows;
}

/* Whether MADE rows are still within what a pattern may have; where not, that is told. */
static bool are_few(book *b, const GPtrArray *made, const tb_text *said, guint before)
{
	for (guint i = 0; i < made->len; i++)
		b->bytes += ((const tb_text *)made->pdata[i])->length;
	if (b->bytes <= TB_LIMIT_PATTERN_BYTES && before + made->len <= TB_LIMIT_PIECE_ROWS)
		return true;
	tb_text_fault_at(b->reader, TB_ERROR, "limit-memory", tb_text_span(said, 0, said->length), "Write fewer rows by the names of stitch patterns.",
		"the rows that stitch patterns stand for are too many");
	return false;
}

/* The rows of SAID, the PIECE's row I, where it works a pattern; NULL else. KNOWN: some was worked before. BEFORE: the pattern right before, whose row *NEXT comes. */
static GPtrArray *rows_of(book *b, const tb_text *said, bool known, const told **before, unsigned *next, guint so_far)
{
	g_autofree char *lower = tb_text_lower(said->chars, -1);
	tb_row_head head;
	use u = {.pattern = NULL};
	bool numbered = tb_is_row_head(lower, &head) && head.first > 0;
	bool uses = said->offsets != NULL && (numbered ? reads_numbered(b, lower, &head, &u) : reads_unnumbered(b, lower, &u));
	/* behind rows that were shaped, "cont in patt" goes on as the row below tells */
	uses = uses && !(known && *before != u.pattern && strcmp(u.pattern->name, main_name) == 0);
	*next = uses && *before == u.pattern ? *next : 0;
	*before = NULL;
	GPtrArray *made = uses ? work(&u, said, next) : NULL;
	if (made == NULL && said->offsets != NULL && tb_is_row_head(lower, &head))
		made = put_words(b, said, lower, &u);
	if (made == NULL)
		return NULL;
	g_ptr_array_set_free_func(made, (GDestroyNotify)tb_text_destroy);
	if (!are_few(b, made, said, so_far)) {
		g_ptr_array_unref(made);
		return NULL;
	}
	u.pattern->used = true;
	*before = u.pattern;
	return made;
}

/* "Work as Back to armhole": rows of another piece. */
static bool names_piece(const char *text)
{
	size_t length = strlen(text);
	return tb_at_word(text, "work make rep repeat follow complete finish as same begin start") > 0 &&
		tb_find_words(text, length, "as like match same follow instructions") < length;
}

/* Whether TEXT goes on "in patt", where that is told. */
static bool goes_in_main(const book *b, const char *text)
{
	bool is_told = false;
	for (unsigned i = 0; i < b->count; i++)
		is_told = is_told || strcmp(b->patterns[i].name, main_name) == 0;
	return is_told && tb_find_words(text, strlen(text), "patt") < strlen(text);
}

static void use_in(book *b, tb_piece *piece)
{
	const told *before = NULL;
	unsigned next = 0, part = 0;
	bool known = false, borrowed = false;
	GPtrArray *rows = g_ptr_array_new_with_free_func((GDestroyNotify)tb_text_destroy);
	GArray *reads = g_array_new(FALSE, FALSE, sizeof(guint));
	for (guint i = 0; i < piece->rows->len; i++) {
		for (; part < piece->parts->len && g_array_index(piece->parts, tb_piece_part, part).row <= i; part++)
			g_array_index(piece->parts, tb_piece_part, part).row = rows->len;
		guint read = g_array_index(piece->row_reads, guint, i);
		const tb_text *said = piece->rows->pdata[i];
		g_autoptr(GPtrArray) made = rows_of(b, said, known, &before, &next, rows->len);
		known = known || made != NULL;
		borrowed = borrowed || names_piece(said->chars);
		if (!known && !borrowed && goes_in_main(b, said->chars))
			tb_text_fault_at(b->reader, TB_ERROR, "rows-again-unknown", tb_text_span(said, 0, said->length),
				"As in “Work 6 rows in patt”.", "which row of the pattern this is, is not said: none of them was worked before");
		if (made == NULL) {
			g_ptr_array_add(rows, g_steal_pointer(&piece->rows->pdata[i]));
			g_array_append_val(reads, read);
			continue;
		}
		for (guint k = 0; k < made->len; k++) {
			g_ptr_array_add(rows, g_steal_pointer(&made->pdata[k]));
			g_array_append_val(reads, read);
		}
	}
	for (; part < piece->parts->len; part++)
		g_array_index(piece->parts, tb_piece_part, part).row += rows->len - piece->rows->len;
	g_ptr_array_unref(piece->rows);
	g_array_unref(piece->row_reads);
	piece->rows = rows;
	piece->row_reads = reads;
}

bool tb_text_tells_pattern(const tb_piece *piece)
{
	bool called;
	g_autofree char *name = plain_name(piece->name, strlen(piece->name), &called);
	return called && piece->start == NULL && piece->from_piece == NULL && piece->rows->len > 0;
}

void tb_text_use_patterns(tb_text_reader *reader)
{
	tb_pattern *pattern = reader->pattern;
	g_autofree book *b = g_new0(book, 1);
	b->reader = reader;
	for (guint i = 0; i < pattern->definitions->len; i++) {
		const tb_text *text = pattern->definitions->pdata[i];
		g_autofree char *lower = tb_text_lower(text->chars, (gssize)MIN(text->length, LONGEST_NAME * 2));
		if (strstr(lower, "row 1") != NULL || strstr(lower, "rnd 1") != NULL || strstr(lower, "round 1") != NULL)
			read_definition(b, text);
	}
	for (guint i = 0; i < pattern->definitions->len; i++)
		read_named_row(b, pattern->definitions->pdata[i], true);
	for (guint i = 0; i < pattern->remarks->len; i++)
		read_named_row(b, pattern->remarks->pdata[i], false);
	for (guint i = 0; i < pattern->pieces->len; i++) {
		if (tb_text_tells_pattern(pattern->pieces->pdata[i]))
			read_piece(b, pattern->pieces->pdata[i]);
	}
	for (guint i = 0; b->count > 0 && i < pattern->pieces->len; i++)
		use_in(b, pattern->pieces->pdata[i]);
	for (guint i = pattern->pieces->len; i-- > 0;) {
		tb_piece *piece = pattern->pieces->pdata[i];
		bool used = false;
		for (unsigned k = 0; k < b->count; k++)
			used = used || (b->patterns[k].piece == piece && b->patterns[k].used);
		if (used)
			g_ptr_array_remove_index(pattern->pieces, i);
		else if (tb_text_tells_pattern(piece))
			tb_text_tell_no_start(reader, piece);
	}
	for (unsigned i = 0; i < b->count; i++) {
		if (b->patterns[i].used && b->patterns[i].definition != NULL)
			g_ptr_array_remove(pattern->definitions, (gpointer)b->patterns[i].definition);
		clear(&b->patterns[i]);
	}
	reader->piece = pattern->pieces->len > 0 ? pattern->pieces->pdata[pattern->pieces->len - 1] : NULL;
}
