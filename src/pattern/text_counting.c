/*
 * "Turning chains do not count as stitches.", "Ch 2 is never a stitch.", "Ch 3 counts as the first dc
 * throughout.": a line that works nothing, and says of all rows what the chains count as that they begin
 * with. Every word of it is known here; a line that says more is a row's.
 */
#include "pattern/text_kinds.h"

#include <string.h>

static const char before[] = "note nb please remember that the this these those your each all every any initial "
	"opening turning turn beginning beginnings beg starting start skipped of at on in for a an to row rows "
	"round rounds rnd rnds first always still will would does do is are be not never no only";

static const char chains[] = "ch chs chain chains tch t-ch ch-1 ch-2 ch-3 ch-4";

static const char behind[] = "as a an the one first st sts stitch stitches sc hdc dc tr htr dtr trtr single double "
	"half treble crochet throughout here in on at to towards toward every each any row rows round rounds rnd "
	"rnds of this pattern piece your total stitch count unless otherwise stated noted specified anything all "
	"ever and";

static size_t skip_word(const char *at, const char *words)
{
	size_t figures = strspn(at, "0123456789");
	if (figures > 0)
		return !g_ascii_isalnum(at[figures]) ? figures : 0;
	size_t not = tb_at_word(at, "doesn't don't won't isn't aren't doesn’t don’t");
	return not > 0 ? not : tb_at_word(at, words);
}

static const char *skip_blanks(const char *at)
{
	return at + strspn(at, " -:");
}

bool tb_tells_counting(const char *line)
{
	const char *at = skip_blanks(line);
	bool chain = false, none = false;
	size_t word;
	while ((word = tb_at_word(at, none ? "count counts counted st sts stitch stitches" : "count counts counted")) == 0) {
		none = none || tb_at_word(at, "not never no isn't aren't isn’t aren’t") > 0;
		size_t made = tb_at_word(at, chains);
		chain = chain || made > 0;
		word = made > 0 ? made : skip_word(at, before);
		if (word == 0)
			return false;
		at = skip_blanks(at + word);
	}
	at = skip_blanks(at + word);
	while (chain && (word = skip_word(at, behind)) > 0)
		at = skip_blanks(at + word);
	return chain && at[strspn(at, ".! ")] == '\0';
}
