/* Which hook is taken, before what is worked with it: "Small hook.", "4.0 hk, MC:", "Take your smaller hook and". */
#include "pattern/text_kinds.h"

#include <string.h>

/* "4", "4.5mm", "4·00", "H/8", "US", "G-6" at TEXT: a part of a hook's size; its bytes, or 0. */
static size_t at_size_part(const char *text)
{
	size_t figures = strspn(text, "0123456789"), at = figures;
	while (figures > 0 && (text[at] == '.' || g_str_has_prefix(text + at, "·")) &&
		g_ascii_isdigit(text[at + (text[at] == '.' ? 1 : strlen("·"))])) {
		at += text[at] == '.' ? 1 : strlen("·");
		at += strspn(text + at, "0123456789");
	}
	at += figures > 0 && g_str_has_prefix(text + at, "mm") ? 2 : 0;
	if (at == 0 && text[0] >= 'B' && text[0] <= 'Q' && !g_ascii_isalpha(text[1]))
		at = 1;
	return at > 0 && !g_ascii_isalnum(text[at]) ? at : 0;
}

size_t tb_skip_hook(const char *text)
{
	size_t lead = tb_at_word(text, "with using use take in on change switch swap return back pick"), at = lead, word;
	bool told = false;
	at += strspn(text + at, " ");
	while (lead > 0 && (word = tb_at_word(text + at, "back up down to again")) > 0)
		at += word + strspn(text + at + word, " ");
	for (;;) {
		size_t hook = tb_at_word(text + at, "hook hk");
		if (hook > 0 && told)
			return at + hook;
		word = tb_at_word(text + at, "smaller larger small large big bigger main body rib ribbing cuff edging fine finer other "
			"size us uk no number mm crochet steel same");
		word = word > 0 ? word : at_size_part(text + at);
		told = told || word > 0;
		word = word > 0 ? word : tb_at_word(text + at, "the a an your");
		if (word == 0)
			return 0;
		at += word + strspn(text + at + word, " ./()-");
	}
}
