/* Stated multiples against what is worked; the rule stands in the header. */
#include "fabric/multiple.h"

#include "fabric/worked.h"
#include "pattern/text_figures.h"
#include "pattern/text_kinds.h"

#include <string.h>

typedef struct {
	guint32 of, over, more; /* "multiple of 6 + 1, plus 2 for the turning chain" */
	bool turns;             /* "plus 3 for the turning chain": what is over is of the chain alone */
	size_t from, end;       /* where that stands in its text */
} multiple;

static size_t skip_words(const char *text, size_t at, const char *words)
{
	for (;;) {
		size_t next = at + strspn(text + at, " ,:("), word = tb_at_word(text + next, words);
		if (word == 0)
			return next;
		at = next + word;
	}
}

/* "+ 1 st", ", plus 1", "and 2 more" at *AT, which is moved behind it; 0 where nothing is added. */
static guint32 read_more(const char *text, size_t *at)
{
	size_t next = skip_words(text, *at, "sts st stitches stitch chs ch chains chain"), sign;
	next += strspn(text + next, " ,(");
	sign = text[next] == '+' ? 1 : tb_at_word(text + next, "plus and add with");
	guint32 more = 0;
	size_t figure = next + sign + strspn(text + next + sign, " "), length = sign > 0 ? tb_figure_read_whole(text + figure, &more) : 0;
	*at = length > 0 ? figure + length : *at;
	return length > 0 ? more : 0;
}

/* The first multiple in TEXT, small letters, that is said of the work and is no advice for another width. */
static bool read(const char *text, multiple *m)
{
	static const char before[] = "a the stitch pattern st sts patt lace";
	size_t length = strlen(text), at = tb_find_words(text, length, "multiple multiples"), end = at;
	if (at == length || tb_find_words(text, at, "add any each other more wider larger narrower bigger smaller adjust change want") < at)
		return false;
	while (end > 0 && text[end - 1] == ' ')
		end--;
	size_t word = end;
	while (word > 0 && g_ascii_isalpha(text[word - 1]))
		word--;
	if (end > 0 && !tb_is_among(text[end - 1], ".:;,(") && tb_at_word(text + word, before) == 0)
		return false;
	m->from = at;
	at += tb_at_word(text + at, "multiple multiples");
	at = skip_words(text, at, "of is the sts stitches");
	size_t figure = tb_figure_read_whole(text + at, &m->of);
	m->end = at + figure;
	if (figure == 0 || m->of < 2)
		return false;
	m->over = read_more(text, &m->end);
	m->more = read_more(text, &m->end);
	size_t behind = skip_words(text, m->end, "for the st sts ch chs");
	m->turns = m->more == 0 && tb_at_word(text + behind, "turning turn tch base foundation starting") > 0;
	return true;
}

/* The chain that PIECE begins with in SIZE; 0 where it begins with none. */
static guint32 find_chain(const tb_worked *worked, unsigned piece, unsigned size)
{
	const tb_script *script = tb_worked_script(worked, piece);
	const tb_sentence *start = script->count > 0 ? script->sentences[0] : NULL;
	const tb_act *act = start != NULL && start->acts.count > 0 ? start->acts.acts : NULL;
	return act != NULL && act->kind == TB_ACT_CHAIN && act->count.count > 0 ? (guint32)MAX(tb_number_in(&act->count, size), 0) : 0;
}

/* Whether the CHAIN of FABRIC, or what is worked in it, or one of its rows is such; *KNOWN where all of that can be looked at. */
static bool is_multiple(const tb_fabric *fabric, guint32 chain, const multiple *m, bool *known)
{
	guint32 over = m->over % m->of, all = (m->over + m->more) % m->of;
	*known = fabric->row_count > 1 && !fabric->has_fault && !fabric->uncounted && chain > m->of && !fabric->rows[1].is_round;
	bool fits = chain % m->of == over || chain % m->of == all;
	/* "multiple of 12, plus 3 for the turning chain" is of the chain alone */
	fits = fits || (!m->turns && fabric->row_count > 0 && fabric->rows[0].count % m->of == over);
	for (guint32 i = 1; i < fabric->row_count && !m->turns && !fits; i++) {
		*known = *known && !fabric->rows[i].taken;
		fits = fabric->rows[i].stitches % m->of == over;
	}
	return *known && fits;
}

static void check(const tb_worked *worked, tb_diagnostics *diagnostics, const tb_text *text, const multiple *m)
{
	const tb_pattern *pattern = tb_worked_pattern(worked);
	tb_size_set sizes = 0;
	guint32 chain = 0;
	bool any = false;
	for (unsigned piece = 0; piece < tb_pattern_count_pieces(pattern); piece++) {
		tb_size_set differ = 0;
		bool all_known = true;
		for (unsigned size = 0; size < tb_pattern_count_sizes(pattern); size++) {
			bool known;
			if (!is_multiple(tb_worked_fabric(worked, piece, size), find_chain(worked, piece, size), m, &known))
				differ |= (tb_size_set)1 << size;
			all_known = all_known && known;
		}
		if (differ == 0 || (!all_known && tb_pattern_count_pieces(pattern) == 1))
			return;
		if (all_known && !any) {
			any = true;
			sizes = differ;
			chain = find_chain(worked, piece, (unsigned)g_bit_nth_lsf(differ, -1));
		}
	}
	if (!any)
		return;
	tb_where where = {.has_place = true, .place = tb_text_span(text, m->from, m->end),
		.sizes = tb_pattern_count_sizes(pattern) > 1 ? sizes : 0};
	tb_diagnose_format(diagnostics, TB_WARNING, "chain-multiple", &where, "Change the multiple, or the chain.",
		"neither the chain of %u nor a row is a multiple of %u%s%.0u", (unsigned)chain, m->of, m->over > 0 ? " + " : "", m->over);
}

void tb_multiple_check(const tb_worked *worked, tb_diagnostics *diagnostics)
{
	const tb_pattern *pattern = tb_worked_pattern(worked);
	for (guint i = 0; i < pattern->remarks->len; i++) {
		const tb_text *text = pattern->remarks->pdata[i];
		g_autofree char *lower = tb_text_lower(text->chars, (gssize)text->length);
		multiple m = {0};
		if (strlen(lower) == text->length && read(lower, &m))
			check(worked, diagnostics, text, &m);
	}
}
