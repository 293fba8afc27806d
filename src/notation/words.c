/*
 * The vocabulary: one table from what designers write to the one word the parser knows. It is the
 * only place where spellings, plurals and the older books' words stand.
 */
#include "notation/words.h"

#include <glib.h>
#include <string.h>

#define MOST_SPELLINGS 5

typedef struct {
	const char *known;
	const char *written[MOST_SPELLINGS]; /* "known" itself among them, if it is ever written */
} vocabulary_line;

static const vocabulary_line vocabulary[] = {
	/* what rows are made of */
	{"st", {"st", "sts", "stitch", "stitches"}},
	{"ch", {"ch", "chs", "chain", "chains"}},
	{"sp", {"sp", "sps", "space", "spaces"}},
	{"loop", {"loop", "loops", "lp", "lps"}},
	{"row", {"row", "rows"}},
	{"r", {"r"}},
	{"rnd", {"rnd", "rnds", "round", "rounds"}},
	{"ring", {"ring", "circle"}},
	{"tch", {"tch", "tchs"}},
	{"turning", {"turning"}},
	{"post", {"post", "posts", "stem", "stems"}},
	{"pat", {"pattern", "patt", "pat"}},
	{"piece", {"piece"}},
	{"size", {"size", "sizes"}},
	{"yarn", {"yarn"}},
	/* what is done */
	{"sk", {"sk", "skip", "skipping", "miss", "missing"}},
	{"skipped", {"skipped", "missed"}},
	{"turn", {"turn", "turned"}},
	{"join", {"join", "joining"}},
	{"rejoin", {"rejoin", "attach"}},
	{"rep", {"rep", "repeat", "repeats", "repeating", "reps"}},
	{"work", {"work", "working", "worked", "make", "making"}},
	{"fasten", {"fasten"}},
	{"finish", {"finish"}},
	{"cut", {"cut", "break"}},
	{"off", {"off"}},
	{"leave", {"leave", "leaving"}},
	{"unworked", {"unworked"}},
	{"count", {"counts", "count", "counted", "counting"}},
	{"measure", {"measures", "measure"}},
	{"end", {"end", "ending", "ends"}},
	{"form", {"form", "forms"}},
	{"made", {"made"}},
	{"use", {"use", "using"}},
	/* where */
	{"in", {"in", "into", "on", "onto"}},
	{"around", {"around"}},
	{"over", {"over"}},
	{"through", {"through", "thru"}},
	{"between", {"between", "bet"}},
	{"behind", {"behind"}},
	{"front", {"front"}},
	{"back", {"back"}},
	{"both", {"both"}},
	{"blo", {"blo", "bl"}},
	{"flo", {"flo", "fl"}},
	{"below", {"below", "down"}},
	{"top", {"top"}},
	{"middle", {"middle", "centre", "center"}},
	{"next", {"next", "nxt"}},
	{"each", {"each", "every", "ea"}},
	{"last", {"last"}},
	{"first", {"first"}},
	{"same", {"same"}},
	{"rem", {"rem", "remaining", "remain", "remains"}},
	{"prev", {"previous", "prev"}},
	{"across", {"across", "along"}},
	{"beg", {"beg", "beginning", "starting", "start"}},
	{"hook", {"hook"}},
	{"place", {"place"}},
	{"magic", {"magic"}},
	/* how often, and small words */
	{"times", {"times", "time"}},
	{"x", {"x", "×"}},
	{"more", {"more"}},
	{"once", {"once"}},
	{"twice", {"twice"}},
	{"thrice", {"thrice"}},
	{"only", {"only"}},
	{"until", {"until", "till"}},
	{"throughout", {"throughout"}},
	{"here", {"here"}},
	{"this", {"this", "these"}},
	{"does", {"does", "do"}},
	{"not", {"not"}},
	{"don't", {"don't", "doesn't"}},
	{"as", {"as"}},
	{"like", {"like"}},
	{"at", {"at"}},
	{"to", {"to"}},
	{"from", {"from"}},
	{"of", {"of"}},
	{"with", {"with"}},
	{"for", {"for"}},
	{"by", {"by"}},
	{"and", {"and", "&"}},
	{"then", {"then"}},
	{"within", {"within"}},
	{"just", {"just"}},
	{"new", {"new"}},
	{"it", {"it"}},
	{"is", {"is"}},
	{"length", {"length", "long"}},
	{"facing", {"facing"}},
	{"right", {"right"}},
	{"wrong", {"wrong"}},
	{"side", {"side"}},
	{"rs", {"rs"}},
	{"ws", {"ws"}},
	{"total", {"total", "all"}},
	{"after", {"after"}},
	{"before", {"before"}},
	{"about", {"about", "approx", "approximately"}},
	/* lengths */
	{"cm", {"cm", "cms"}},
	{"mm", {"mm"}},
	{"inch", {"inch", "inches", "ins"}},
};

const char *tb_word_known(const char *word)
{
	for (size_t i = 0; i < G_N_ELEMENTS(vocabulary); i++) {
		const char *const *written = vocabulary[i].written;
		for (size_t j = 0; j < MOST_SPELLINGS && written[j] != NULL; j++) {
			if (written[j][0] == word[0] && strcmp(written[j], word) == 0)
				return vocabulary[i].known;
		}
	}
	return NULL;
}

void tb_words_list(GPtrArray *words)
{
	for (size_t i = 0; i < G_N_ELEMENTS(vocabulary) * MOST_SPELLINGS; i++) {
		const char *written = vocabulary[i / MOST_SPELLINGS].written[i % MOST_SPELLINGS];
		if (written != NULL)
			g_ptr_array_add(words, (gpointer)written);
	}
}

bool tb_word_number(const char *word, double *value, bool *ordinal)
{
	static const char *const cardinals[] = {"one", "two", "three", "four", "five", "six", "seven",
		"eight", "nine", "ten", "eleven", "twelve", "thirteen", "fourteen", "fifteen", "sixteen",
		"seventeen", "eighteen", "nineteen", "twenty"};
	/* "first" is a word of its own: the first stitch, wherever the count begins. */
	static const char *const ordinals[] = {"second", "third", "fourth", "fifth", "sixth", "seventh",
		"eighth", "ninth", "tenth", "eleventh", "twelfth", "thirteenth", "fourteenth", "fifteenth",
		"sixteenth", "seventeenth", "eighteenth", "nineteenth", "twentieth"};
	for (size_t i = 0; i < G_N_ELEMENTS(cardinals); i++) {
		if (word[0] == cardinals[i][0] && strcmp(word, cardinals[i]) == 0) {
			*value = (double)i + 1;
			*ordinal = false;
			return true;
		}
	}
	for (size_t i = 0; i < G_N_ELEMENTS(ordinals); i++) {
		if (word[0] == ordinals[i][0] && strcmp(word, ordinals[i]) == 0) {
			*value = (double)i + 2;
			*ordinal = true;
			return true;
		}
	}
	return false;
}
