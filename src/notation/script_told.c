/*
 * Rows that are told by a name beside one another, "Plain rnd: …" and "Dec rnd: …", and worked where they are named:
 * "Work a dec rnd, then 2 plain rnds". One that stands alone is worked where it is told, unless what stands right behind
 * it works it by a plan, "Work the dec rnd on every 4th rnd 3 times"; and so are all where what names them says "more"
 * or "rep". Those that the notes tell are worked in all pieces.
 */
#include "notation/script.h"

#include "pattern/text_kinds.h"

#include <string.h>

/* In as many texts behind it a name is looked for. */
#define FARTHEST_USE 12u
#define MOST_TOLD 6u

/* Whether the clause at AT of TEXT speaks of rows that were worked before: "rep dec rnd", "5 more dec rnds". */
static bool says_again(const char *text, size_t at)
{
	size_t from = at, to = at + strcspn(text + at, ".;:");
	while (from > 0 && !tb_is_among(text[from - 1], ".;:"))
		from--;
	return tb_find_words(text + from, to - from, "rep repeat repeating more again another additional further extra last") < to - from;
}

/* Whether TEXT names one of the rows in TOLD, a bit for each; *AGAIN: it speaks of them as worked already. */
static bool uses(const tb_text *text, unsigned told, bool *again)
{
	g_autofree char *lower = tb_text_lower(text->chars, -1);
	bool used = false;
	size_t end;
	for (size_t at = 0; lower[at] != '\0'; at++) {
		bool begins = at == 0 || !g_ascii_isalnum(lower[at - 1]);
		unsigned name = begins ? tb_named_row_at(lower, at, &end) : 0;
		if (name == 0 || (told >> name & 1) == 0)
			continue;
		used = true;
		*again = *again || says_again(lower, at);
	}
	return used;
}

static unsigned name_of(const GPtrArray *rows, guint i)
{
	return tb_named_row(((const tb_text *)rows->pdata[i])->chars);
}

/* "Work the dec row on every 4th row 3 times", "on next 3 rows": whether TEXT begins so with one of the rows in TOLD. */
static bool is_planned(const tb_text *text, unsigned told)
{
	g_autofree char *lower = tb_text_lower(text->chars, -1);
	bool again = false;
	size_t end, at = tb_at_word(lower, "work working make");
	at += at > 0 ? strspn(lower + at, " ") : 0;
	size_t article = at > 0 ? tb_at_word(lower + at, "the a an this") : 0;
	at += article + strspn(lower + at + article, " ");
	unsigned name = at > 0 ? tb_named_row_at(lower, at, &end) : 0;
	if (name == 0 || (told >> name & 1) == 0 || !uses(text, told, &again) || again)
		return false;
	end += strspn(lower + end, " ,");
	size_t on = tb_at_word(lower + end, "on at in over for");
	end += on + strspn(lower + end + on, " ");
	size_t the = tb_at_word(lower + end, "the each");
	end += the + strspn(lower + end + the, " ");
	/* "Work the dec row 3 times in all": the first of them is not worked yet */
	bool whole = tb_find_words(lower + end, strcspn(lower + end, ".;"), "times") < strcspn(lower + end, ".;") &&
		(strstr(lower + end, " in all") != NULL || strstr(lower + end, "altogether") != NULL || strstr(lower + end, " in total") != NULL);
	return whole || (tb_at_word(lower + end, "every next following foll") > 0 && strstr(lower + end, "until") == NULL);
}

bool tb_reader_is_told(const tb_piece *piece, guint i)
{
	const GPtrArray *rows = piece->rows;
	unsigned told = 0, name = name_of(rows, i);
	guint begin = i, end = i;
	if (name == 0)
		return false;
	while (begin > 0 && i - begin < MOST_TOLD && name_of(rows, begin - 1) > 0)
		begin--;
	while (end < rows->len && end - begin < MOST_TOLD && name_of(rows, end) > 0)
		end++;
	for (guint k = begin; k < end; k++) {
		name = name_of(rows, k);
		if (told >> name & 1)
			return false;
		told |= 1u << name;
	}
	if (end - begin < 2)
		return end < rows->len && is_planned(rows->pdata[end], told);
	for (guint k = end; k < MIN(rows->len, end + FARTHEST_USE); k++) {
		bool again = false;
		if (uses(rows->pdata[k], told, &again))
			return !again;
		/* "Rep last 2 rnds 3 times": they were worked */
		if (tb_at_word(((const tb_text *)rows->pdata[k])->chars, "rep repeat") > 0)
			return false;
	}
	return false;
}

bool tb_reader_keep_told(tb_reader *r, guint before, unsigned last_row)
{
	tb_sentence *row = r->sentences->len == before + 1 ? r->sentences->pdata[before] : NULL;
	if (r->told_count == TB_READER_TOLD || row == NULL || row->kind != TB_SENTENCE_ROWS || !row->only_named || row->left_out)
		return false;
	for (unsigned symbol = 0; symbol < TB_SYMBOL_COUNT; symbol++) {
		if (r->sentence_called[symbol] == row)
			r->row_called[symbol] = 0;
	}
	row->first = row->last = 0;
	row->only_told = true;
	r->told[r->told_count++] = row;
	r->last_row = last_row;
	g_ptr_array_set_size(r->sentences, (gint)before);
	return true;
}

/* How long the row is that TEXT of the notes begins with: to the end of a line that a sentence ends, or all of it. */
static size_t span_row(const tb_reader *r, const tb_text *text)
{
	for (size_t at = 1; at + 1 < text->length; at++) {
		if (tb_reader_breaks_at(r, text, at) && tb_is_among(text->chars[at - 1], ".)]"))
			return at + 1;
	}
	return text->length;
}

void tb_reader_tell_noted(tb_reader *r)
{
	const GPtrArray *definitions = r->b.pattern->definitions;
	for (guint i = 0; i < definitions->len; i++) {
		const tb_text *whole = definitions->pdata[i];
		guint before = r->sentences->len;
		unsigned last = r->last_row;
		if (tb_named_row(whole->chars) == 0)
			continue;
		g_autoptr(tb_text) text = tb_reader_part_of(whole, 0, span_row(r, whole));
		r->told_here = r->tries = true;
		bool good = tb_reader_read_row(r, text);
		r->told_here = r->tries = false;
		if (good && tb_reader_keep_told(r, before, last))
			r->told_noted = r->told_count;
		g_ptr_array_set_size(r->sentences, (gint)before);
		r->last_row = last;
	}
}

void tb_reader_use_told(tb_reader *r, const tb_sentence *row)
{
	for (unsigned i = 0; i < r->told_count; i++)
		r->told_worked[i] = r->told_worked[i] || r->told[i] == row;
}

bool tb_reader_check_told(tb_reader *r)
{
	bool good = true;
	/* what the notes tell may be of another piece */
	for (unsigned i = r->told_noted; i < r->told_count; i++) {
		bool plain = r->told[i] == tb_reader_told_plain(r);
		tb_where where = {.has_place = true, .place = r->told[i]->span, .piece = r->piece};
		if (!r->told_worked[i])
			tb_diagnose(r->diagnostics, plain ? TB_WARNING : TB_ERROR, "not-worked", &where, "this row is told by its name, and never worked",
				"Say where, as in “Work a dec rnd”.");
		good = good && (plain || r->told_worked[i]);
	}
	return good;
}

const tb_sentence *tb_reader_told_plain(const tb_reader *r)
{
	const tb_sentence *row = r->sentence_called[TB_SYMBOL_plain];
	return row != NULL && row->only_told ? row : NULL;
}
