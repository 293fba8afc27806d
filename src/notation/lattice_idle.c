/* Sentences that tell of no work: which words they end before. */
#include "notation/lattice_maker.h"

#include <string.h>

/* "d . tr . c ." has no more words. */
#define LONGEST_STITCH 8u
/* Of an order without a verb. */
#define MOST_ORDER_WORDS 9u

/* Whether a word speaks of a stitch, a count, a place, or of what is done with them. */
static bool speaks_of_work(const tb_lattice_maker *m, guint32 from, guint32 to)
{
	static const bool working[TB_TERM_COUNT] = {[TB_TERM_CLASS_stitchname] = true, [TB_TERM_CLASS_int] = true,
		[TB_TERM_CLASS_frac] = true, [TB_TERM_CLASS_star] = true, [TB_TERM_CLASS_fp] = true,
		[TB_TERM_st] = true, [TB_TERM_sp] = true, [TB_TERM_ch] = true, [TB_TERM_loop] = true,
		[TB_TERM_skip] = true, [TB_TERM_turn] = true, [TB_TERM_join] = true, [TB_TERM_rep] = true,
		[TB_TERM_row] = true, [TB_TERM_rnd] = true, [TB_TERM_decrease] = true, [TB_TERM_increase] = true,
		[TB_TERM_blo] = true, [TB_TERM_flo] = true, [TB_TERM_fasten] = true, [TB_TERM_leave] = true,
		[TB_TERM_tch] = true, [TB_TERM_post] = true, [TB_TERM_ring] = true, [TB_TERM_tog] = true,
		[TB_TERM_telling] = true};
	for (guint32 e = from; e < to; e++) {
		if (working[m->edges[e].term])
			return true;
	}
	return false;
}

/*
 * "1 d.c. in second": the dot is the stitch's, and the place behind it is no sentence of its own.
 */
static bool is_place_of_stitch(const tb_lattice_maker *m, const guint32 *first_edge, guint32 i)
{
	static const char *const places[] = {"in", "into", "on", "upon", "under", "over", "to", NULL};
	static const guint16 dotted[] = {TB_TERM_CLASS_stitchname, TB_TERM_st, TB_TERM_ch, TB_TERM_sp};
	for (guint32 back = 2; back <= MIN(i, LONGEST_STITCH) && tb_lattice_is_among(m, i, places); back++) {
		for (guint32 e = first_edge[i - back]; e < first_edge[i - back + 1]; e++) {
			for (size_t k = 0; m->edges[e].end == i && k < G_N_ELEMENTS(dotted); k++) {
				if (m->edges[e].term == dotted[k])
					return true;
			}
		}
	}
	return false;
}

/* Whether a remark may begin here: a sentence, or a clause such as "being careful not to twist". */
static bool begins_sentence(const tb_lattice_maker *m, guint32 i)
{
	if (i == 0 || tb_is_among(tb_lattice_char(m, i - 1), ".!?)]"))
		return true;
	/* "Fasten off and give yourself a pat on the back" */
	if (i > 2 && tb_lattice_reads(m, i - 3, TB_TERM_fasten) && tb_lattice_is_word(m, i - 2, "off") &&
		(tb_lattice_is_word(m, i - 1, "and") || tb_lattice_is_word(m, i - 1, ",")))
		return true;
	/* behind a comma a verb that is not known may be work */
	return tb_is_among(tb_lattice_char(m, i - 1), ":;,") && tb_lattice_reads(m, i, TB_TERM_afterword);
}

/* "Rnd 6: Stuff firmly. Sc in each st": such a sentence behind the row's name, and what is worked behind that. */
static bool begins_row(const tb_lattice_maker *m, guint32 i, guint32 end)
{
	if (i == 0 || i > 6 || tb_lattice_char(m, i - 1) != ':' || end + 1 >= m->l->count || tb_lattice_char(m, end) != '.')
		return false;
	for (guint32 k = 0; k + 1 < i; k++) {
		if (tb_is_among(tb_lattice_char(m, k), ".:;"))
			return false;
	}
	return true;
}

/* "From behind.", "Through the back.", "As first motif.": how a row is worked, said behind it. */
static bool tells_manner(const tb_lattice_maker *m, guint32 i, guint32 end)
{
	static const char *const manners[] = {"from", "behind", "through", "around", "round", "over", "under", "except",
		"but", "only", "as", "like", NULL};
	return end <= i + 3 && tb_lattice_is_among(m, i, manners);
}

/* "Shape the neck as before": what is done there is said elsewhere; "Shape the neck" is a heading. */
static bool shapes_alike(const tb_lattice_maker *m, guint32 from, guint32 to)
{
	static const char *const alike[] = {"as", "like", "same", "likewise", "again", "too", "both", NULL};
	for (guint32 i = from + 1; i < to && tb_lattice_is_word(m, from, "shape"); i++) {
		if (tb_lattice_is_among(m, i, alike))
			return true;
	}
	return false;
}

/*
 * "Narrow gently towards the top.", "Now go on as established.": what to crochet, in words of no stitch. It may be
 * about something else, the yarn's ends or a page, and says so.
 */
static bool bids(const tb_lattice_maker *m, guint32 from, guint32 to)
{
	static const char *const before[] = {"now", "then", "next", "here", "also", "please", "and", "again", "finally", "lastly", ",", NULL};
	/* "Now work around the edge of the cuff." announces the rows below it */
	static const char *const where[] = {"around", "round", "along", "across", "on", NULL};
	while (from < to && tb_lattice_is_among(m, from, before))
		from++;
	guint32 verb = from < to ? tb_lattice_term_end(m, from, TB_TERM_bidword) : 0;
	if (verb == 0 || verb > to)
		return shapes_alike(m, from, to);
	if (tb_lattice_is_word(m, from, "work") && tb_lattice_is_among(m, from + 1, where))
		return false;
	for (guint32 i = verb; i < to; i++) {
		if (tb_lattice_reads(m, i, TB_TERM_idleword))
			return false;
	}
	return true;
}

/*
 * "Up the side and down again.", "Back and forth from here.": the rest of an instruction, without a verb. What is told of
 * something has a word that says so.
 */
static bool is_rest_of_order(const tb_lattice_maker *m, guint32 from, guint32 to)
{
	static const char *const first[] = {"along", "across", "down", "up", "round", "around", "past", "until", "till", "without", "into",
		"again", "alternately", "crossing", "twice", "once", NULL};
	static const char *const second[] = {"opposite", "other", "second", "left", "right", NULL};
	static const char *const match[] = {"match", "alike", "likewise", "same", "correspond", "mirrored", NULL};
	static const char *const pairs[][2] = {{"as", "far"}, {"all", "but"}, {"back", "and"}, {"to", "and"}, {"in", "rounds"}, {"same", "on"},
		{"same", "for"}, {"same", "at"}, {"the", "same"}, {"and", "again"}, {"the", "other"}, {"until", "long"}};
	if (tb_lattice_is_word(m, from, "now") || tb_lattice_is_word(m, from, "then"))
		from++;
	bool begins = tb_lattice_is_among(m, from, first);
	for (size_t k = 0; k < G_N_ELEMENTS(pairs) && !begins; k++)
		begins = tb_lattice_is(m, from, pairs[k][0], strlen(pairs[k][0])) && tb_lattice_is(m, from + 1, pairs[k][1], strlen(pairs[k][1]));
	/* "Second underarm" is a heading, "Second sleeve to match" is not */
	begins = begins || (tb_lattice_is_among(m, from, second) && to > from + 2 && tb_lattice_is_among(m, to - 1, match));
	for (guint32 i = from; i < to && begins; i++)
		begins = !tb_lattice_reads(m, i, TB_TERM_sayword) && tb_lattice_char(m, i) != ',';
	return begins && to <= from + MOST_ORDER_WORDS;
}

bool tb_lattice_bids(const tb_lattice_maker *m, guint32 from, guint32 to)
{
	return bids(m, from, to) || is_rest_of_order(m, from, to);
}

static bool ends_sentence(const tb_lattice_maker *m, guint32 i)
{
	return i == m->l->count || tb_is_among(tb_lattice_char(m, i), ".!?;([)]");
}

/* "How many stitches do you have?": it asks for what is known, and gives no number. */
static bool asks(const tb_lattice_maker *m, guint32 from, guint32 to)
{
	static const char *const asking[] = {"how", "what", "which", "why", "where", "who", "is", "are", "do", "does", "did",
		"can", "could", "will", "would", "should", "have", "has", "want", "need", NULL};
	if (!tb_lattice_is_among(m, from, asking) || to == 0 || tb_lattice_char(m, to - 1) != '?')
		return false;
	for (guint32 i = from; i < to; i++) {
		if (tb_lattice_reads(m, i, TB_TERM_CLASS_int))
			return false;
	}
	return true;
}

/*
 * "Insert the safety eyes between rnds 3 and 4, 5 sts apart": what is put on or into a toy, or done
 * with the yarn's end, tells where by stitches and works none. It begins with such a word, and soon
 * says what is put there; and no row's work is named in it.
 */
static bool tells_of_finishing(const tb_lattice_maker *m, guint32 from, guint32 to)
{
	static const char *const doing[] = {"insert", "place", "attach", "position", "add", "put", "sew",
		"stuff", "embroider", "stitch", "use", "paint", "glue", "weave", "fill", "secure", "stiffen", "starch", "pop", "push", "fit",
		"fix", "snap", "eyes", "nose", "safety", NULL};
	static const char *const going_on[] = {"begin", "start", "continue", "finish", "keep", "stop", NULL};
	static const char *const filling[] = {"stuffing", "filling", "adding", NULL};
	static const char *const things[] = {"safety", "felt", "floss", "strand", "strands", "bead", "beads", "ribbon", "eye", "eyes", "stuffing", "fiberfill", "fibrefill",
		"filling", "nose", "ends", "button", "buttons", "tail", "tails", "firmly", "lightly", "tight",
		"tightly", "closed", "whiskers", "smile", "mouth", "limb", "limbs", "arm", "arms", "ears",
		"wire", "pellets", "toy", "cap", "cardboard", "disc", "disk", NULL};
	static const guint16 work[] = {TB_TERM_CLASS_stitchname, TB_TERM_rep, TB_TERM_turn, TB_TERM_skip,
		TB_TERM_CLASS_star};
	static const char *const with[] = {"with", "using", "for", "eyes", "nose", "mouth", "face", "whiskers", "ears", "cheeks", "tail",
		"later", "now", "then", "finally", "lastly", "next", "the", "your", NULL};
	bool thing = tb_lattice_is_word(m, from, "stuff");
	/* "continue stuffing" is such a thing, and "continue until arm measures" is not */
	bool stuffing = tb_lattice_is_among(m, from, going_on) && tb_lattice_is_among(m, from + 1, filling);
	/* "With brown floss, sew a nose …" */
	guint32 verb = from;
	while (tb_lattice_is_among(m, from, with) && verb < MIN(to, from + 8) && !tb_lattice_is_among(m, verb, doing))
		verb++;
	if (!stuffing && (verb == to || !tb_lattice_is_among(m, verb, doing)))
		return false;
	/* "Add more stuffing" is one, and "add more at both ends" is not. */
	bool more = tb_lattice_is_word(m, verb, "add") && tb_lattice_is_word(m, verb + 1, "more");
	for (guint32 i = from; i < to; i++) {
		if (tb_lattice_strings_beads(m, i))
			return false;
		thing = thing || (i < verb + 6 && tb_lattice_is_among(m, i, things) && !(more && tb_lattice_is_word(m, i, "ends")));
		for (guint32 e = m->first_edge[i]; i > from && e < m->first_edge[i + 1]; e++) {
			for (size_t k = 0; k < G_N_ELEMENTS(work); k++) {
				if (m->edges[e].term == work[k])
					return false;
			}
		}
	}
	return thing;
}

/* "Crochet around the edge", "Go around once more", "Same again": work, in words that name no stitch. */
static bool is_told_to(const tb_lattice_maker *m, guint32 i)
{
	static const char *const told[][8] = {
		{"crochet", "around", "along", "across", "in", "into", "another", "one"},
		{"go", "around", "along", "across", "round", "back", "once", "twice"},
		{"once", "more", "again"}, {"twice", "more", "again"}, {"same", "again", "as"}, {"as", "for", "above"},
		{"another", "row", "round", "rnd"}, {"a", "row", "round", "rnd", "final", "last"},
		{"finish", "with", "to", "as", "this", "second", "other"}, {"complete", "to", "as", "this", "second", "other"}, {"make", "the", "another", "one"}, {"do", "it", "this", "that", "the"},
		{"along", "the", "each", "a", "one", "both"}, {"up", "the", "each"}, {"down", "the", "each"}};
	if (tb_lattice_is_word(m, i, "now") || tb_lattice_is_word(m, i, "then"))
		i++;
	/* "Make a handle" is crocheted, and "Make a tassel" is not */
	static const char *const making[] = {"make", "add", "work", "crochet", "form", "create", "place", "put", "leave", NULL};
	static const char *const crocheted[] = {"handle", "handles", "strap", "straps", "tie", "ties", "buttonhole",
		"buttonholes", "thumbhole", "loop", "eyelet", "eyelets", "slit", "cord", "cords", "drawstring", "frill",
		"ruffle", "ruffles", "edging", "border", "ribbing", "flap", "collar", NULL};
	if (tb_lattice_is_among(m, i, making) && i + 2 < m->l->count &&
		(tb_lattice_is_among(m, i + 1, crocheted) || tb_lattice_is_among(m, i + 2, crocheted)))
		return true;
	for (size_t k = 0; k < G_N_ELEMENTS(told); k++) {
		for (size_t n = 1; n < G_N_ELEMENTS(told[k]) && told[k][n] != NULL; n++) {
			if (tb_lattice_is(m, i, told[k][0], strlen(told[k][0])) &&
				tb_lattice_is(m, i + 1, told[k][n], strlen(told[k][n])))
				return true;
		}
	}
	return false;
}

/* "With claret, the same": the row before once more. */
static bool tells_of_same(const tb_lattice_maker *m, guint32 from, guint32 to)
{
	return to > from + 1 && tb_lattice_is_word(m, to - 1, "same") && tb_lattice_is_word(m, to - 2, "the");
}

/* "Larger sizes only", "For the bigger sizes": sizes that are not named. */
static bool tells_which_sizes(const tb_lattice_maker *m, guint32 from, guint32 to)
{
	static const char *const sizes[] = {"size", "sizes", NULL};
	static const char *const which[] = {"for", "the", "larger", "largest", "bigger", "biggest", "smaller", "smallest",
		"last", "first", "second", "third", "fourth", "other", "remaining", "middle", NULL};
	bool size = false, only = false, all = to <= from + 5;
	for (guint32 i = from; i < to; i++) {
		size = size || tb_lattice_is_among(m, i, sizes);
		only = only || tb_lattice_is_word(m, i, "only");
		all = all && (tb_lattice_is_among(m, i, sizes) || tb_lattice_is_among(m, i, which));
	}
	return size && (only || all);
}

/* "Adult size only", "For M and L": who works what comes, in whatever form. */
static bool tells_who_works(const tb_lattice_maker *m, guint32 from, guint32 to)
{
	static const char *const beside[] = {"for", "the", "size", "sizes", "only", "and", "or", "work", ",", "/", ":", NULL};
	bool named = false, sizes = false, only = false;
	for (guint32 i = from; i < to; i++) {
		sizes = sizes || tb_lattice_is_word(m, i, "size") || tb_lattice_is_word(m, i, "sizes");
		only = only || tb_lattice_is_word(m, i, "only");
	}
	/* "last size only": a size that we do not know */
	if (sizes && only)
		return true;
	if (tells_which_sizes(m, from, to))
		return true;
	for (guint32 i = from; i < to; i++) {
		bool name = tb_lattice_reads(m, i, TB_TERM_CLASS_sizeword);
		named = named || name;
		if (!name && !tb_lattice_is_among(m, i, beside))
			return false;
	}
	return named;
}

/* "Row 3: Sea. Ch 1, turn, …": a name that nobody knows, by itself before what a row works, is its colour's. */
static bool is_colour_alone(const tb_lattice_maker *m, const guint32 *first_edge, guint32 i)
{
	static const char *const no_names[] = {"ed", "ing", "ly", "wise", "ward", "wards", "er", "ways", "ble"};
	size_t length;
	const char *word = tb_lattice_word(m, i, &length);
	if (i == 0 || tb_lattice_char(m, i - 1) != ':' || i + 2 >= m->l->count ||
		(tb_lattice_char(m, i + 1) != '.' && tb_lattice_char(m, i + 1) != ':') || length < 3 ||
		!g_ascii_isupper(m->l->text->chars[m->starts[i]]))
		return false;
	for (size_t k = 0; k < G_N_ELEMENTS(no_names); k++) {
		size_t ending = strlen(no_names[k]);
		if (length > ending && memcmp(word + length - ending, no_names[k], ending) == 0)
			return false;
	}
	bool name = false;
	for (guint32 e = first_edge[i]; e < first_edge[i + 1]; e++) {
		if (m->edges[e].term != TB_TERM_CLASS_name && m->edges[e].term != TB_TERM_CLASS_any &&
			m->edges[e].term != TB_TERM_CLASS_token)
			return false;
		name = name || m->edges[e].term == TB_TERM_CLASS_name;
	}
	return name;
}

/*
 * For each place where a sentence without work begins: where it ends. Such an edge needs two words
 * and is put behind the edges of its place when they are copied.
 */
guint32 *tb_lattice_find_idle(const tb_lattice_maker *m, const guint32 *first_edge)
{
	guint32 count = m->l->count, end = count;
	guint32 *idle = tb_arena_take(m->arena, (count + 1) * sizeof(guint32));
	guint32 asked = 0;  /* the end of the question that this is of */
	bool works = false; /* from here to the end of the sentence */
	for (guint32 i = count; i-- > 0;) {
		if (ends_sentence(m, i)) {
			/* its mark is a question's own, and what is as idle behind it goes with it */
			asked = tb_lattice_char(m, i) == '?' ? i + 1 : 0;
			end = asked == 0 ? i : MAX(asked, idle[asked]);
			works = false;
			continue;
		}
		works = works || speaks_of_work(m, first_edge[i], first_edge[i + 1]);
		if (is_colour_alone(m, first_edge, i))
			idle[i] = i + 1;
		if (end < i + 2 || !g_ascii_isalpha(tb_lattice_char(m, i)))
			continue;
		/* What was passed over begins no sentence but after a comma; behind a dash only finishing is told. */
		bool begins = begins_sentence(m, i), of_row = !begins && begins_row(m, i, end);
		bool dash = !begins && tb_lattice_reads(m, i - 1, TB_TERM_dash);
		if (!begins && !of_row && !dash)
			continue;
		bool finishing = tells_of_finishing(m, i, end);
		if (!begins && !(finishing && of_row) ? finishing && dash :
				!is_place_of_stitch(m, first_edge, i) && !is_told_to(m, i) &&
				(finishing || asks(m, i, asked) || (!works && !tells_manner(m, i, end) && !tells_of_same(m, i, end) && !tells_who_works(m, i, end) &&
					!tb_lattice_bids(m, i, end))))
			idle[i] = end;
	}
	return idle;
}
