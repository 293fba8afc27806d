/* Words that are worked, as far as telling a row from a remark asks for them. */
#include "pattern/text_kinds.h"

#include <string.h>

static const char stitch_words[] = "ch chs chain chains sc dc hdc htr tr dtr ttr trtr qtr sl slst ss "
	"ssc esc exsc edc ehdc etr ldc lsc fsc fdc fhdc ftr ffdc inc dec invdec picot picots shell shells "
	"cluster clusters popcorn popcorns bobble bobbles puff puffs treble trebles crochet crochets "
	"doubles purl fptr bptr fpdc bpdc fphdc bphdc fpsc bpsc fpdtr bpdtr tch yo yoh";

/* Whether the word at TEXT, LENGTH bytes, is a stitch: "sc", "sc2tog", "ch13", "3dc". */
static bool is_stitch(const char *text, size_t length)
{
	size_t figures = strspn(text, "0123456789");
	if (figures >= length)
		return false;
	text += figures;
	length -= figures;
	size_t letters = 0;
	while (letters < length && g_ascii_isalpha(text[letters]))
		letters++;
	char word[12];
	if (letters == 0 || letters >= sizeof word)
		return false;
	memcpy(word, text, letters);
	word[letters] = '\0';
	if (letters < length && !g_ascii_isdigit(text[letters]))
		return false;
	return tb_at_word(word, stitch_words) == letters;
}

static size_t word_length(const char *text)
{
	size_t length = 0;
	while (g_ascii_isalnum(text[length]))
		length++;
	return length;
}

/* "d c", "s c", "tr c", as books part them. */
static size_t at_parted_stitch(const char *text)
{
	size_t first = tb_at_word(text, "d s h tr");
	return first > 0 && text[first] == ' ' && tb_at_word(text + first + 1, "c d") > 0 ? first : 0;
}

bool tb_has_stitch(const char *text)
{
	for (const char *at = text; *at != '\0';) {
		size_t length = word_length(at);
		if (length > 0 && (is_stitch(at, length) || at_parted_stitch(at) > 0))
			return true;
		if (length > 0 && tb_at_word(at, "single double half-double half slip") > 0 &&
			tb_at_word(at + length + strspn(at + length, " -"),
				"crochet crochets double stitch stitches st sts") > 0)
			return true;
		at += MAX(length, 1);
	}
	return false;
}

bool tb_begins_act(const char *text)
{
	if (*text == '*' || *text == '(' || *text == '[' || *text == '{')
		return true;
	size_t figures = strspn(text, "0123456789");
	if (figures > 0 && text[figures] == ' ')
		return tb_begins_act(text + figures + 1);
	size_t length = word_length(text);
	return length > 0 && (is_stitch(text, length) || at_parted_stitch(text) > 0 ||
		tb_at_word(text, "single double half treble triple slip skip sk miss turn join work using with "
			"in into make rep repeat same as like beg insert change attach begin start starting "
			"continue magic mr sts st do without fold working") > 0);
}

/* "Ch 1 and sc evenly around", "Do not fasten off. Work 1 rnd sc evenly …": a round of its own. */
bool tb_begins_border(const char *text)
{
	bool stitch = false;
	for (unsigned words = 0; words < 14 && *text != '\0'; words++) {
		if (stitch && tb_at_word(text, "evenly") > 0)
			return strstr(text, " around") != NULL || strstr(text, " edge") != NULL ||
				strstr(text, " side") != NULL;
		size_t length = word_length(text);
		stitch = stitch || (length > 0 && is_stitch(text, length) && tb_at_word(text, "ch chain") == 0);
		text += strcspn(text, " ");
		text += strspn(text, " ");
	}
	return false;
}

bool tb_begins_finishing(const char *text)
{
	return tb_at_word(text, "weave sew block steam press wash stuff darn tie trim embroider pin glue "
		"stitch whipstitch lightly place assemble") > 0;
}

bool tb_goes_on_working(const char *text)
{
	size_t length = strlen(text);
	size_t pick = tb_find_words(text, length, "pick");
	return tb_find_words(text, length, "crochet repeat rep rejoin") < length || (pick < length && g_ascii_strncasecmp(text + pick, "pick up", 7) == 0);
}

bool tb_tells_surface(const char *text)
{
	bool slip = false, surface = false;
	/* "holding C at the back, sl st in each st along Row 3" is such a line without its name */
	static const char *const rears[] = {" at back,", " at the back,", " at the back of the work,", " behind the work,"};
	for (guint i = 0; i < G_N_ELEMENTS(rears); i++)
		surface = surface || strstr(text, rears[i]) != NULL;
	for (; *text != '\0'; text += strspn(text, " ")) {
		surface = surface || tb_at_word(text, "surface") > 0;
		slip = slip || tb_at_word(text, "sl slip ss crochet") > 0;
		if (surface && slip && tb_at_word(text, "row rows round rounds rnd rnds between") > 0)
			return true;
		text += strcspn(text, " ");
	}
	return false;
}

size_t tb_skip_surface_label(const char *text)
{
	size_t colon = strcspn(text, ":.,");
	if (text[colon] != ':' || colon > 40 || tb_at_word(text, "surface embroidery decoration embellishment finishing finish") == 0)
		return 0;
	return colon + 1 + strspn(text + colon + 1, " ");
}

bool tb_joins_yarn(const char *text)
{
	for (unsigned words = 0; words < 20 && *text != '\0'; words++) {
		if (tb_at_word(text, "join rejoin attach") > 0 ||
			(tb_at_word(text, "rs ws") > 0 && tb_at_word(text + 3, "facing") > 0))
			return true;
		text += strcspn(text, " ");
		text += strspn(text, " ");
	}
	return false;
}

bool tb_is_footer(const char *text)
{
	return g_str_has_prefix(text, "©") || tb_at_word(text, "copyright") > 0 ||
		strstr(text, "http") != NULL || strstr(text, "www.") != NULL;
}
