/*
 * Work made of motifs: how many are made, "Make 24 (28, 32) squares", "12 motifs for the back and 6 for each front";
 * how they lie, "in 4 rows of 6", "4 across, 5 up", "Tiers 2 to 5: 1 Square D, 3 Squares C each"; and what one
 * measures, "One square = 12 cm", "First 4 rounds = 10 cm across". Whether it agrees, fabric/laid.c says.
 *
 * It is looked for in all that was read as no row, sentence by sentence. A word of what a statement says it is of
 * ("for the back") or the heading above it tells the parts from the whole.
 */
#include "pattern/text_figures.h"
#include "pattern/text_reader.h"

#include "support/limits.h"

#include <string.h>

/* Statements a pattern may have. */
#define MOST_LAID 200u
/* Words before the noun, "each of the large granny squares"; more say nothing. */
#define MOST_WORDS 6u

static const char nouns[] = "square squares motif motifs block blocks granny grannies patch patches tile tiles medallion medallions "
	"circle circles flower flowers octagon octagons hexagon hexagons hex hexes pentagon pentagons triangle triangles diamond diamonds";
static const char leaning[] = "hexagon hexagons hex hexes pentagon pentagons triangle triangles diamond diamonds";
static const char adjectives[] = "granny solid large small little big plain full lacy lace center centre crochet crocheted of these such "
	"identical finished whole complete single";
static const char lay_words[] = "lay arrange join sew assemble set place put crochet stitch layout grid laid arranged joined sewn seam";
static const char make_words[] = "make work crochet need uses takes comprises requires made";
static const char garment[] = "back front fronts sleeve sleeves body left right side sides yoke skirt panel shoulder shoulders bodice";

typedef struct {
	const tb_pattern *pattern;
	const char *text; /* small */
	const char *typed; /* the same as it stands in the source, or NULL */
	size_t start;     /* of the source, where text begins */
	size_t from, end; /* the sentence */
	guint first;      /* its first statement */
	bool labelled;    /* it begins with a part of the garment, "Back: 3 rows of 4" */
	const char *heading_of; /* what the heading above is of; NULL for no part */
	unsigned heading_times;
	int heading_piece; /* the motif whose heading stands above, or -1 */
	GArray *found;    /* tb_laid */
} finding;

typedef struct {
	guint32 numbers[TB_MAX_SIZES];
	unsigned count;
} figures;

static size_t skip(const char *text)
{
	return strspn(text, " \n\r\t");
}

/* Figures for all sizes, or one for each. */
static size_t at_figures(const finding *f, const char *text, figures *found)
{
	return tb_figures_read(text, f->pattern->sizes->len, found->numbers, &found->count);
}

static bool begins_word(const char *text, size_t at)
{
	return at == 0 || (!g_ascii_isalnum(text[at - 1]) && text[at - 1] != '.' && text[at - 1] != '-');
}

/* What a noun says: the motif it names, and how much text that takes. */
typedef struct {
	size_t length; /* 0: no motif is named */
	int piece;     /* -1: of no one piece */
	bool leans;
} named;

/* The one piece whose name has the word NOUN of LENGTH bytes, as one or as several, and behind it LETTER where that is given. */
static int find_piece(const tb_pattern *pattern, const char *noun, size_t length, char letter)
{
	int found = -1;
	while (length > 3 && noun[length - 1] == 's')
		length--;
	for (unsigned i = 0; i < tb_pattern_count_pieces(pattern); i++) {
		g_autofree char *name = tb_text_lower(tb_pattern_get_piece(pattern, i), -1);
		const char *word = strstr(name, " ");
		bool lettered = word != NULL && g_ascii_isalpha(word[1]) && !g_ascii_isalnum(word[2]);
		bool is = false;
		for (size_t at = 0; name[at] != '\0' && !is; at++)
			is = begins_word(name, at) && strncmp(name + at, noun, length) == 0 && (letter == '\0' || (at == 0 && lettered && word[1] == letter));
		/* two that are called so: neither is meant more than the other */
		if (is && found >= 0)
			return -1;
		found = is ? (int)i : found;
	}
	return found;
}

/* "large granny squares", "Squares B" at TEXT. */
static named at_noun(const finding *f, const char *text)
{
	named n = {.piece = -1};
	size_t at = 0, word;
	for (unsigned i = 0; i < MOST_WORDS && (word = tb_at_word(text + at, adjectives)) > 0; i++) {
		at += word;
		at += skip(text + at);
	}
	word = tb_at_word(text + at, nouns);
	/* "granny squares" */
	size_t next = at + word + skip(text + at + word);
	if (word > 0 && tb_at_word(text + next, nouns) > 0) {
		at = next;
		word = tb_at_word(text + at, nouns);
	}
	if (word == 0)
		return n;
	const char *behind = text + at + word;
	bool lettered = *behind == ' ' && g_ascii_isalpha(behind[1]) && !g_ascii_isalnum(behind[2]);
	n.leans = tb_at_word(text + at, leaning) > 0;
	n.piece = lettered ? find_piece(f->pattern, text + at, word, behind[1]) : -1;
	n.length = at + word + (n.piece >= 0 ? 2 : 0);
	if (n.piece < 0)
		n.piece = find_piece(f->pattern, text + at, word, '\0');
	return n;
}

static tb_laid *add(finding *f, tb_laid_kind kind, const figures *first, const figures *second, size_t at, size_t end)
{
	tb_laid laid = {.kind = kind, .piece = -1, .times = 1, .count = first->count, .place = {f->start + at, f->start + end}};
	memcpy(laid.first, first->numbers, sizeof laid.first);
	if (second != NULL) {
		laid.other_count = second->count;
		memcpy(laid.second, second->numbers, sizeof laid.second);
	}
	g_array_append_val(f->found, laid);
	return &g_array_index(f->found, tb_laid, f->found->len - 1);
}

/* "for the back", "for each sleeve", "in color a" at AT: what LAID is of; the bytes of it, or 0. */
static size_t read_of(const finding *f, size_t at, tb_laid *laid)
{
	const char *text = f->text;
	size_t from = at, word = tb_at_word(text + at, "for in on with using");
	if (word == 0 || tb_at_word(text + at + word + skip(text + at + word), "all total each every row rows tier") > 0) {
		size_t each = word > 0 ? at + word + skip(text + at + word) : at;
		size_t length = word > 0 ? tb_at_word(text + each, "each every") : 0;
		size_t part = each + length + skip(text + each + length);
		if (length == 0 || tb_at_word(text + part, garment) == 0)
			return 0;
	}
	at += word + skip(text + at + word);
	size_t each = tb_at_word(text + at, "each every both");
	size_t article = tb_at_word(text + at, "the two a");
	laid->times = each > 0 || (article == 3 && text[at] == 't' && text[at + 1] == 'w') ? 2 : 1;
	at += each + article + skip(text + at + each + article);
	size_t length = strcspn(text + at, " ,.;:()\n\r");
	/* "color a" */
	if (tb_at_word(text + at, "color colour yarn left right") > 0) {
		size_t more = at + length + skip(text + at + length);
		length = more - at + strcspn(text + more, " ,.;:()\n\r");
	}
	if (length == 0)
		return 0;
	g_free(laid->of);
	laid->of = g_strndup(text + at, length);
	if (laid->of[length - 1] == 's' && laid->times == 2)
		laid->of[length - 1] = '\0';
	return at + length - from;
}

/* What stands behind how many are made: "in all", "for the back"; and ", 6 for each front and 4 for each sleeve". */
static size_t read_made_behind(finding *f, size_t at, named n, size_t first)
{
	const char *text = f->text;
	tb_laid *laid = &g_array_index(f->found, tb_laid, first);
	at += skip(text + at);
	size_t of = read_of(f, at, laid);
	at += of;
	for (;;) {
		size_t next = at + skip(text + at);
		next += tb_is_among(text[next], ",;:");
		next += skip(text + next);
		size_t word = tb_at_word(text + next, "and plus");
		next += word + skip(text + next + word);
		figures more;
		size_t length = next < f->end ? at_figures(f, text + next, &more) : 0;
		named other = length > 0 ? at_noun(f, text + next + length + skip(text + next + length)) : n;
		size_t behind = next + length + (other.length > 0 && length > 0 ? skip(text + next + length) + other.length : 0);
		behind += skip(text + behind);
		if (length == 0)
			return at;
		tb_laid *added = add(f, TB_LAID_MADE, &more, NULL, next, behind);
		added->piece = other.length > 0 ? other.piece : n.piece;
		added->leans = n.leans;
		of = read_of(f, behind, added);
		if (of == 0 && (other.length == 0 || other.piece == n.piece)) {
			g_array_set_size(f->found, f->found->len - 1);
			return at;
		}
		at = behind + of;
		/* "20 in the back (4 across, 5 up)" is read by itself, and so is what comes behind it */
	}
}

/* "all the", "the" at TEXT: its bytes with the blanks around it, or 0. */
static size_t at_all(const char *text)
{
	size_t at = skip(text), all = tb_at_word(text + at, "all");
	at += all + skip(text + at + all);
	size_t the = tb_at_word(text + at, "the");
	return all + the > 0 ? at + the + skip(text + at + the) : 0;
}

/* "make 24 (28, 32) squares", "made of 38 squares", "24 squares in all" at AT; where it ends, or 0. */
static size_t read_made(finding *f, size_t at, bool begins)
{
	const char *text = f->text;
	size_t verb = tb_at_word(text + at, make_words), from = at, joins = tb_at_word(text + at, "sew join");
	/* "Sew the 5 hexagons together": of all that are made */
	size_t all_joined = joins > 0 ? at_all(text + at + joins) : 0;
	at += all_joined > 0 ? joins + all_joined : verb + skip(text + at + verb);
	for (size_t word; verb > 0 && (word = tb_at_word(text + at, "a total of up from another")) > 0;)
		at += word + skip(text + at + word);
	figures many;
	size_t length = at_figures(f, text + at, &many);
	if (length == 0)
		return 0;
	size_t behind = at + length + skip(text + at + length);
	named n = at_noun(f, text + behind);
	/* "Make 24." below the heading of a motif */
	bool bare = n.length == 0 && begins && verb > 0 && f->heading_piece >= 0 && (behind >= f->end || tb_is_among(text[behind], ".,;"));
	/* "38 squares, joined as you go: 20 in the back" */
	const tb_laid *before = f->found->len > f->first ? &g_array_index(f->found, tb_laid, f->first) : NULL;
	tb_laid part = {.of = NULL};
	size_t goes_on = n.length == 0 && !bare && verb == 0 && before != NULL && before->kind == TB_LAID_MADE ? read_of(f, behind, &part) : 0;
	g_autofree char *of = part.of;
	bool parts = goes_on > 0 && tb_find_words(of, strlen(of), garment) < strlen(of);
	n.piece = bare ? f->heading_piece : parts ? before->piece : n.piece;
	if (n.length == 0 && !bare && !parts)
		return 0;
	size_t end = bare ? at + length : behind + n.length;
	size_t next = end + skip(text + end);
	bool all = tb_at_word(text + next, "in") > 0 && tb_at_word(text + next + 2 + skip(text + next + 2), "all total") > 0;
	bool joined = all_joined > 0 && tb_at_word(text + next, "together tog") > 0;
	bool told = all || joined || tb_at_word(text + next, "altogether needed are") > 0;
	size_t place = tb_at_word(text + next, "for in") > 0 ? next + tb_at_word(text + next, "for in") : 0;
	place += place > 0 ? skip(text + place) : 0;
	bool of_part = place > 0 && tb_at_word(text + place, "the each every both") > 0;
	if (verb == 0 && !told && !parts && !(begins && of_part))
		return 0;
	/* "6 squares wide" lie so */
	if (tb_at_word(text + next, "wide across high long up down") > 0)
		return 0;
	guint first = f->found->len;
	tb_laid *laid = add(f, TB_LAID_MADE, &many, NULL, from, end);
	laid->piece = n.piece;
	laid->leans = n.leans;
	laid->joined = joined;
	if (all || tb_at_word(text + next, "altogether") > 0) {
		for (size_t word; (word = tb_at_word(text + next, "in all total altogether")) > 0;)
			next += word + skip(text + next + word);
		end = next;
	}
	return read_made_behind(f, end, n, first);
}

static bool has_word(const finding *f, size_t from, size_t end, const char *words)
{
	return tb_find_words(f->text + from, end - from, words) < end - from;
}

/* What stands between the two figures of a lay-out. */
typedef struct {
	bool turned; /* the columns are said first */
	bool sure;   /* it can be nothing else */
	bool needs_high; /* "6 across, 4": and "up" behind it */
} between;

/* "rows of", "across and", "x" at TEXT; its bytes, or 0. */
static size_t read_between(const finding *f, const char *text, between *b)
{
	size_t at = skip(text), word;
	*b = (between){.turned = false};
	if (*text == '\0')
		return 0;
	if ((word = tb_at_word(text + at, "horizontal vertical straight")) > 0)
		at += word + skip(text + at + word);
	if ((word = tb_at_word(text + at, "rows row tiers strips columns")) > 0) {
		b->turned = tb_at_word(text + at, "columns") > 0;
		at += word + skip(text + at + word);
		word = tb_at_word(text + at, "of with by x");
		b->sure = tb_at_word(text + at, "of with") > 0;
		return word > 0 ? at + word + skip(text + at + word) : 0;
	}
	named n = at_noun(f, text + at);
	at += n.length + (n.length > 0 ? skip(text + at + n.length) : 0);
	if ((word = tb_at_word(text + at, "across wide")) > 0) {
		b->turned = b->sure = b->needs_high = true;
		at += word + skip(text + at + word);
		at += text[at] == ',';
		at += skip(text + at);
		word = tb_at_word(text + at, "and by x");
		return at + word + skip(text + at + word);
	}
	if (g_str_has_prefix(text + at, "×"))
		return at + strlen("×") + skip(text + at + strlen("×"));
	word = tb_at_word(text + at, "x by");
	return word > 0 ? at + word + skip(text + at + word) : 0;
}

/* "4 (4, 6) rows of 6 (7, 8)", "6 x 4 squares", "4 across, 5 up" at AT; where it ends, or 0. */
static size_t read_out(finding *f, size_t at)
{
	const char *text = f->text;
	figures first, second;
	between b;
	size_t length = at_figures(f, text + at, &first);
	size_t parting = length > 0 ? read_between(f, text + at + length, &b) : 0;
	size_t from = at;
	if (parting == 0)
		return 0;
	at += length + parting;
	length = at_figures(f, text + at, &second);
	if (length == 0)
		return 0;
	size_t end = at + length;
	at = end + skip(text + end);
	named n = at_noun(f, text + at);
	end = n.length > 0 ? at + n.length : end;
	at = end + skip(text + end);
	size_t word = tb_at_word(text + at, "up down high long tall deep rows");
	/* "6 across" ends on how high; "rows of 6 sc" are others */
	if (b.needs_high && word == 0)
		return 0;
	end = word > 0 ? at + word : end;
	at = end + skip(text + end);
	bool lays = has_word(f, f->from, f->end, lay_words) || has_word(f, f->from, f->end, nouns) || (f->labelled && b.sure);
	bool ends = at >= f->end || tb_is_among(text[at], ".,;:)(") || tb_at_word(text + at, "each for in on and as with to using so") > 0;
	bool told = n.length > 0 || has_word(f, f->from, f->end, lay_words);
	double mm;
	bool measures = tb_figure_unit(text + at, &mm) > 0 || tb_at_word(text + at, "m") > 0;
	if (measures || !lays || !ends || (!b.sure && (!told || has_word(f, f->from, f->end, "cm inches inch in mm"))))
		return 0;
	tb_laid *laid = add(f, TB_LAID_OUT, b.turned ? &second : &first, b.turned ? &first : &second, from, end);
	laid->piece = n.piece;
	laid->leans = n.leans;
	for (size_t i = f->from; i < f->end && !laid->leans; i++)
		laid->leans = begins_word(text, i) && tb_at_word(text + i, leaning) > 0;
	size_t each = tb_at_word(text + at, "each");
	at += each + (each > 0 ? skip(text + at + each) : 0);
	size_t of = read_of(f, at, laid);
	return of > 0 ? at + of : end;
}

/* "one square =", "motif measures approx": what one measures, or what its first rounds do. */
static size_t read_measure(finding *f, size_t at)
{
	const char *text = f->text;
	figures rounds = {.count = 1};
	size_t from = at, word;
	for (unsigned i = 0; i < MOST_WORDS && (word = tb_at_word(text + at, "one 1 each every a the after finished single first")) > 0 &&
		!tb_at_word(text + at + word + skip(text + at + word), "rnds rounds rows"); i++)
		at += word + skip(text + at + word);
	named n = at_noun(f, text + at);
	bool is_rounds = false;
	if (n.length > 0) {
		at += n.length;
	} else {
		size_t figure = tb_figure_read_whole(text + at, &rounds.numbers[0]);
		size_t next = at + figure + skip(text + at + figure);
		size_t round = figure > 0 ? tb_at_word(text + next, "rounds rnds round rnd") : 0;
		/* "rounds 1-4" */
		if (figure == 0 && (round = tb_at_word(text + at, "rounds rnds")) > 0) {
			next = at + round + skip(text + at + round);
			if (text[next] != '1' || g_ascii_isdigit(text[next + 1]))
				return 0;
			next += 1 + skip(text + next + 1);
			size_t to = text[next] == '-' ? 1 : g_str_has_prefix(text + next, "–") ? strlen("–") : tb_at_word(text + next, "to");
			next += to + skip(text + next + to);
			round = to > 0 ? tb_figure_read_whole(text + next, &rounds.numbers[0]) : 0;
		}
		if (round == 0 || rounds.numbers[0] == 0)
			return 0;
		at = next + round;
		is_rounds = true;
		size_t of = at + skip(text + at);
		if (tb_at_word(text + of, "of") > 0)
			at = of + 2 + strcspn(text + of + 2, "=.,;:0123456789");
	}
	at += skip(text + at);
	for (bool said = false;; said = true) {
		bool sign = tb_is_among(text[at], "=:");
		word = sign ? 1 : tb_at_word(text + at, "is measures measure unblocked blocked about approx approximately should to be will before after blocking finished");
		if (word == 0 && !said)
			return 0;
		if (word == 0)
			break;
		at += word + skip(text + at + word) + (text[at + word] == '.' ? 1 : 0);
		at += skip(text + at);
	}
	/* "12 cm x 12 cm", "12 x 10 cm" */
	tb_finished wide = {0}, high = {0};
	size_t end = 0, other = 0;
	if (!g_ascii_isdigit(text[at]))
		return 0;
	bool taken = tb_figures_read_lengths(text + at, &wide, &end);
	size_t next = at + (taken ? end : strspn(text + at, "0123456789.")) ;
	next += skip(text + next);
	size_t by = tb_at_word(text + next, "x by") > 0 ? tb_at_word(text + next, "x by") : g_str_has_prefix(text + next, "×") ? strlen("×") : 0;
	const char *second = text + next + by + skip(text + next + by);
	if (by > 0 && tb_figures_read_lengths(second, &high, &other)) {
		double unit = high.mm[0] / g_ascii_strtod(second, NULL);
		end = (size_t)(second - text) + other - at;
		if (!taken)
			wide = (tb_finished){.count = 1, .mm = {g_ascii_strtod(text + at, NULL) * unit}};
		taken = wide.count == high.count;
	} else {
		high = wide;
	}
	if (!taken || wide.count == 0)
		return 0;
	tb_laid *laid = add(f, is_rounds ? TB_LAID_ROUNDS : TB_LAID_SIZE, &rounds, NULL, from, at + end);
	laid->count = wide.count;
	laid->piece = n.piece;
	laid->leans = n.leans;
	memcpy(laid->mm, wide.mm, sizeof laid->mm);
	memcpy(laid->high_mm, high.mm, sizeof laid->high_mm);
	return at + end;
}

/* Where the first of SIGNS stands in the sentence, or its end. */
static size_t find_sign(const finding *f, const char *signs)
{
	size_t at = f->from;
	while (at < f->end && !tb_is_among(f->text[at], signs))
		at++;
	return at;
}

/* "bottom tier: 1 square a, 3 squares b", "tiers 2 to 5: 1 square d, 3 squares c each": all of the sentence, or nothing. */
static size_t read_tier(finding *f)
{
	const char *text = f->text;
	size_t colon = find_sign(f, ":.;");
	size_t tier = f->from + tb_find_words(text + f->from, MIN(colon, f->end) - f->from, "tier tiers strip strips course courses");
	if (colon >= f->end || text[colon] != ':' || tier >= colon)
		return 0;
	guint32 first = 0, last = 0;
	unsigned times = 1;
	size_t number = tier + strcspn(text + tier, " :");
	number += skip(text + number);
	size_t figure = tb_figure_read_whole(text + number, &first);
	size_t to = number + figure + skip(text + number + figure);
	size_t sign = text[to] == '-' ? 1 : tb_at_word(text + to, "to and");
	if (figure > 0 && sign > 0 && tb_figure_read_whole(text + to + sign + skip(text + to + sign), &last) > 0)
		times = last > first ? last - first + 1 : 1;
	guint before = f->found->len;
	size_t at = colon + 1;
	for (;;) {
		at += skip(text + at);
		size_t word = tb_at_word(text + at, "and then");
		at += word + skip(text + at + word);
		figures many;
		size_t length = at_figures(f, text + at, &many);
		size_t next = at + length + skip(text + at + length);
		named n = length > 0 ? at_noun(f, text + next) : (named){.length = 0};
		if (n.length == 0)
			break;
		tb_laid *laid = add(f, TB_LAID_TIER, &many, NULL, at, next + n.length);
		laid->piece = n.piece;
		laid->times = times;
		laid->of = g_strdup(f->heading_of);
		at = next + n.length;
		size_t each = at + skip(text + at);
		word = tb_at_word(text + each, "each");
		at = word > 0 ? each + word : at;
		at += text[at] == ',';
	}
	at += skip(text + at);
	if (at < f->end && !tb_is_among(text[at], ".;")) {
		g_array_set_size(f->found, before);
		return 0;
	}
	return f->found->len > before ? f->end : 0;
}

/* "in rows of 3, 4, 5, 4 and 3" at AT: how many in all; where it ends, or 0. */
static size_t read_uneven(finding *f, size_t at)
{
	const char *text = f->text;
	size_t word = tb_at_word(text + at, "rows row tiers"), from = at, end = 0;
	size_t of = at + word + skip(text + at + word);
	if (word == 0 || tb_at_word(text + of, "of") == 0)
		return 0;
	figures sum = {.count = 1};
	unsigned rows = 0;
	for (at = of + 2 + skip(text + of + 2);;) {
		guint32 value;
		size_t figure = tb_figure_read_whole(text + at, &value);
		if (figure == 0)
			break;
		sum.numbers[0] += value;
		rows++;
		end = at + figure;
		at = end + (text[end] == ',');
		at += skip(text + at);
		word = tb_at_word(text + at, "and then");
		at += word + skip(text + at + word);
	}
	if (rows < 3 || !has_word(f, f->from, f->end, nouns))
		return 0;
	tb_laid *laid = add(f, TB_LAID_TIER, &sum, NULL, from, end);
	laid->of = g_strdup(f->heading_of != NULL ? f->heading_of : "plan");
	for (size_t i = f->from; i < f->end && laid->piece < 0; i++) {
		named n = begins_word(text, i) ? at_noun(f, text + i) : (named){.piece = -1};
		laid->piece = n.length > 0 ? n.piece : -1;
	}
	return end;
}

/* "back: 4 rows of 6", "For each sleeve join 4 squares": a part of the garment before a colon, or said first; how often as *TIMES. */
static char *find_label(const finding *f, unsigned *times)
{
	tb_laid first = {.times = 1};
	bool leads = tb_at_word(f->text + f->from, "for") > 0 && read_of(f, f->from, &first) > 0;
	g_autofree char *of = first.of;
	*times = first.times;
	if (leads && tb_find_words(of, strlen(of), garment) < strlen(of))
		return g_steal_pointer(&of);
	*times = 1;
	size_t length = find_sign(f, ":.,;(0123456789") - f->from;
	if (f->from + length >= f->end || f->text[f->from + length] != ':' || length > 24)
		return NULL;
	size_t word = f->from;
	word += tb_at_word(f->text + word, "for each the");
	word += skip(f->text + word);
	if (tb_at_word(f->text + word, garment) == 0)
		return NULL;
	return g_strndup(f->text + word, f->from + length - word);
}

/* "A B A": letters, each the motif of that name; how many, or 0. */
static unsigned read_letters(const finding *f, const char *line, size_t length, guint32 *by_piece)
{
	unsigned count = 0;
	for (size_t at = 0; at < length; at++) {
		if (tb_is_among(line[at], " |,\t\r-"))
			continue;
		int piece = -1;
		bool alone = g_ascii_isalpha(line[at]) && (at == 0 || !g_ascii_isalnum(line[at - 1])) && (at + 1 == length || !g_ascii_isalnum(line[at + 1]));
		for (unsigned i = 0; i < tb_pattern_count_pieces(f->pattern) && alone; i++) {
			const char *name = tb_pattern_get_piece(f->pattern, i), *last = strrchr(name, ' ');
			piece = last != NULL && g_ascii_tolower(last[1]) == line[at] && last[2] == '\0' ? (int)i : piece;
		}
		if (piece < 0)
			return 0;
		by_piece[piece]++;
		count++;
	}
	return count;
}

/* Lines of letters from *AT on that show which motif lies where: two or more, as many on each. *AT goes behind them. */
static bool read_plan(finding *f, size_t *at, unsigned number)
{
	g_autofree guint32 *by_piece = g_new0(guint32, tb_pattern_count_pieces(f->pattern) + 1);
	figures rows = {.count = 1}, across = {.count = 1};
	size_t from = *at, end = *at;
	bool even = true;
	for (bool begun = false; f->text[*at] != '\0';) {
		size_t length = strcspn(f->text + *at, "\n"), line = *at;
		unsigned count = read_letters(f, f->text + line, length, by_piece);
		bool blank = strspn(f->text + line, " \t\r") >= length;
		if (begun && !blank && count < 2)
			break;
		*at += length + (f->text[line + length] == '\n');
		if (count < 2) {
			memset(by_piece, 0, begun ? 0 : (tb_pattern_count_pieces(f->pattern) + 1) * sizeof *by_piece);
			continue;
		}
		from = begun ? from : line;
		end = line + length;
		even = even && (!begun || across.numbers[0] == count);
		across.numbers[0] = count;
		rows.numbers[0]++;
		begun = true;
	}
	if (rows.numbers[0] < 2)
		return false;
	g_autofree char *of = g_strdup_printf("plan %u", number);
	if (even)
		add(f, TB_LAID_OUT, &rows, &across, from, end)->of = g_strdup(of);
	for (unsigned i = 0; i < tb_pattern_count_pieces(f->pattern); i++) {
		figures many = {.count = 1, .numbers = {by_piece[i]}};
		if (by_piece[i] == 0)
			continue;
		tb_laid *laid = add(f, TB_LAID_TIER, &many, NULL, from, end);
		laid->piece = (int)i;
		laid->of = g_strdup(of);
	}
	return true;
}

/* All such plans of the text. */
static void read_plans(tb_pattern *pattern, const char *source)
{
	g_autofree char *lower = g_ascii_strdown(source, -1);
	finding f = {.pattern = pattern, .text = lower, .heading_piece = -1, .found = pattern->laid};
	unsigned number = 1;
	for (size_t at = 0; lower[at] != '\0' && number < MOST_LAID;)
		number += read_plan(&f, &at, number);
	/* the only one is of all */
	for (guint i = 0; i < pattern->laid->len && number == 2; i++) {
		tb_laid *laid = &g_array_index(pattern->laid, tb_laid, i);
		if (laid->kind == TB_LAID_OUT)
			g_clear_pointer(&laid->of, g_free);
	}
}

/* A sentence; whether it tells of motifs. */
static bool read_sentence(finding *f)
{
	guint before = f->first = f->found->len;
	if (read_tier(f) > 0)
		return true;
	unsigned label_times;
	g_autofree char *label = find_label(f, &label_times);
	f->labelled = label != NULL;
	bool begins = true;
	for (size_t at = f->from; at < f->end && f->found->len < MOST_LAID;) {
		if (!begins_word(f->text, at)) {
			at++;
			continue;
		}
		size_t end = read_measure(f, at);
		end = end > 0 ? end : read_out(f, at);
		end = end > 0 ? end : read_uneven(f, at);
		end = end > 0 ? end : read_made(f, at, begins);
		/* "20 in the back (4 across, 5 up), 18 in the front": the lay-out is of what stands before it */
		tb_laid *last = f->found->len > 0 ? &g_array_index(f->found, tb_laid, f->found->len - 1) : NULL;
		if (end > 0 && f->found->len > before + 1 && last->kind == TB_LAID_OUT && last->of == NULL && f->text[at - 1] == '(')
			last->of = g_strdup(g_array_index(f->found, tb_laid, f->found->len - 2).of);
		begins = begins && end == 0 && !g_ascii_isalnum(f->text[at]);
		at = MAX(end, at + 1);
	}
	for (guint i = before; i < f->found->len; i++) {
		tb_laid *laid = &g_array_index(f->found, tb_laid, i);
		bool counts = laid->kind == TB_LAID_MADE || laid->kind == TB_LAID_OUT;
		if (counts && laid->of == NULL && (label != NULL || f->heading_of != NULL)) {
			laid->of = g_strdup(label != NULL ? label : f->heading_of);
			laid->times = label == NULL ? MAX(f->heading_times, 1) : label_times;
		}
	}
	return f->found->len > before;
}

/* Where the sentence ends that begins at FROM: at a full stop before a blank, or where lines part. */
static size_t end_of_sentence(const char *text, const char *typed, size_t from)
{
	size_t at = from;
	for (; text[at] != '\0'; at++) {
		bool stop = tb_is_among(text[at], ".;!") && (text[at + 1] == ' ' || text[at + 1] == '\n' || text[at + 1] == '\r' || text[at + 1] == '\0');
		bool abbreviated = stop && text[at] == '.' && at >= from + 6 && strncmp(text + at - 6, "approx", 6) == 0;
		bool parted = text[at] == '\n' && (text[at + 1] == '\n' || text[at + 1] == '\r' || tb_is_among(text[at + 1], "-*") ||
			(typed != NULL && g_ascii_isupper(typed[at + 1])));
		if ((stop && !abbreviated) || parted)
			break;
	}
	return at;
}

/* Every sentence of TEXT; how many of them tell of motifs, and how many there are. */
static unsigned read_sentences(finding *f, unsigned *count)
{
	unsigned told = 0;
	*count = 0;
	for (size_t at = 0; f->text[at] != '\0';) {
		f->from = at + strspn(f->text + at, " \n\r\t.;!-*#");
		f->end = end_of_sentence(f->text, f->typed, f->from);
		if (f->end > f->from && f->end - f->from <= TB_LIMIT_LINE_BYTES) {
			told += read_sentence(f);
			(*count)++;
		}
		at = f->end > at ? f->end : at + 1;
	}
	return told;
}

static GArray *create_found(void)
{
	GArray *found = g_array_new(FALSE, FALSE, sizeof(tb_laid));
	return found;
}

static void destroy_found(GArray *found)
{
	for (guint i = 0; i < found->len; i++)
		g_free(g_array_index(found, tb_laid, i).of);
	g_array_unref(found);
}

bool tb_text_tells_laid(const tb_text_reader *reader, const char *line)
{
	if (strpbrk(line, "0123456789") == NULL || tb_has_stitch(line))
		return false;
	g_autofree char *lower = tb_text_lower(line, -1);
	size_t length = strlen(lower);
	if (length > TB_LIMIT_LINE_BYTES || (tb_find_words(lower, length, nouns) == length && tb_find_words(lower, length, lay_words) == length))
		return false;
	finding f = {.pattern = reader->pattern, .text = lower, .heading_piece = -1, .found = create_found()};
	unsigned count, told = read_sentences(&f, &count);
	destroy_found(f.found);
	return told > 0 && told == count;
}

bool tb_text_speaks_of_tiers(const char *line)
{
	g_autofree char *lower = tb_text_lower(line, -1);
	size_t length = strlen(lower);
	return length <= TB_LIMIT_LINE_BYTES && !tb_has_stitch(line) && tb_find_words(lower, length, nouns) < length &&
		tb_find_words(lower, length, "tier tiers") < length;
}

bool tb_text_measures_motif(const char *text)
{
	tb_pattern none = {.sizes = g_ptr_array_new(), .pieces = g_ptr_array_new()};
	g_autofree char *lower = tb_text_lower(text, -1);
	finding f = {.pattern = &none, .text = lower, .heading_piece = -1, .found = create_found()};
	unsigned count;
	if (strlen(lower) < TB_LIMIT_LINE_BYTES)
		read_sentences(&f, &count);
	bool measures = false;
	for (guint i = 0; i < f.found->len; i++) {
		const tb_laid *laid = &g_array_index(f.found, tb_laid, i);
		measures = measures || laid->kind == TB_LAID_SIZE || laid->kind == TB_LAID_ROUNDS;
	}
	destroy_found(f.found);
	g_ptr_array_unref(none.sizes);
	g_ptr_array_unref(none.pieces);
	return measures;
}

/* "BACK", "FRONTS (make 2)": the part that what follows is of; NULL for another heading. Of a motif, *PIECE. */
static char *heading_of(const char *heading, unsigned *times, const tb_pattern *pattern, int *piece)
{
	g_autofree char *name = tb_heading_name(heading, times);
	if (name == NULL)
		name = tb_plain_heading_name(heading, times);
	g_autofree char *lower = tb_text_lower(name, -1);
	size_t length = strlen(lower);
	*piece = tb_find_words(lower, length, nouns) < length ? tb_pattern_find_piece(pattern, name) : -1;
	if (tb_at_word(lower, garment) != length)
		return NULL;
	return g_strdup(lower);
}

/* "MOTIF (make 12 (14, 16))" */
static void find_in_headings(tb_pattern *pattern, GArray *found)
{
	for (unsigned i = 0; i < tb_pattern_count_pieces(pattern); i++) {
		const tb_piece *piece = tb_pattern_piece(pattern, i);
		g_autofree char *lower = tb_text_lower(piece->heading != NULL ? piece->heading : piece->name, -1);
		g_autofree char *name = tb_text_lower(piece->name, -1);
		finding f = {.pattern = pattern, .text = lower, .heading_piece = -1, .found = found};
		size_t length = strlen(lower), at = tb_find_words(lower, length, "make made");
		figures many = {.count = 1, .numbers = {piece->make}};
		bool graded = at < length && at_figures(&f, lower + at + 4 + skip(lower + at + 4), &many) > 0 && many.count > 1;
		unsigned make;
		g_free(tb_heading_name(piece->heading != NULL ? piece->heading : piece->name, &make));
		/* "Make 2." stands below the heading, and is found there */
		if ((make < 2 && !graded) || (!graded && tb_find_words(name, strlen(name), nouns) == strlen(name)))
			continue;
		tb_laid *laid = add(&f, TB_LAID_MADE, &many, NULL, 0, 0);
		laid->piece = (int)i;
		laid->place = piece->place;
	}
}

void tb_text_find_laid(tb_text_reader *reader)
{
	tb_pattern *pattern = reader->pattern;
	const char *source = tb_source_get_text(pattern->source, NULL);
	g_autofree char *of = NULL;
	unsigned times = 1;
	int piece = -1;
	find_in_headings(pattern, pattern->laid);
	if (tb_pattern_count_pieces(pattern) > 1)
		read_plans(pattern, source);
	for (guint i = 0; i < pattern->reads->len; i++) {
		const tb_read *read = &g_array_index(pattern->reads, tb_read, i);
		size_t length = read->span.end - read->span.start;
		g_autofree char *text = g_strndup(source + read->span.start, length);
		if (read->as == TB_READ_HEADING) {
			g_free(of);
			of = heading_of(g_strstrip(text), &times, pattern, &piece);
		}
		/* lines of one paragraph go together */
		guint last = i;
		bool told = read->as == TB_READ_FACT || read->as == TB_READ_REMARK || read->as == TB_READ_FINISHING;
		while (told && last + 1 < pattern->reads->len && g_array_index(pattern->reads, tb_read, last + 1).as == read->as)
			last++;
		if (!told)
			continue;
		size_t end = g_array_index(pattern->reads, tb_read, last).span.end;
		i = last;
		g_autofree char *run = g_strndup(source + read->span.start, end - read->span.start);
		g_autofree char *lower = g_ascii_strdown(run, -1);
		finding f = {.pattern = pattern, .text = lower, .typed = run, .heading_piece = piece, .start = read->span.start, .found = pattern->laid, .heading_of = of, .heading_times = times};
		unsigned count;
		read_sentences(&f, &count);
	}
	for (guint i = 0; i < pattern->laid->len; i++) {
		tb_laid *laid = &g_array_index(pattern->laid, tb_laid, i);
		laid->gauges = laid->place.start >= reader->motif_gauge.start && laid->place.end <= reader->motif_gauge.end;
	}
}
