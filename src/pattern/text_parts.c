/* Whether a heading stands over a part of the piece before it, or over a piece of its own. */
#include "pattern/text_reader.h"

#include "support/limits.h"

#include <string.h>

/* "Cont straight until 38 (40, 42) rows have been worked.": how many the first size has then; 0 where they are counted from elsewhere. */
static unsigned find_rows_in_all(const char *lower)
{
	const char *at = strstr(lower, "until ");
	if (at == NULL)
		return 0;
	at += strlen("until ");
	for (size_t word; (word = tb_at_word(at, "there are you have")) > 0;)
		at += word + strspn(at + word, " ");
	size_t figures = strspn(at, "0123456789"), behind = figures + strspn(at + figures, " ");
	if (figures > 0 && tb_is_among(at[behind], "(["))
		behind += strcspn(at + behind, ")]") + 1;
	behind += behind <= strlen(at) ? strspn(at + behind, " ") : 0;
	size_t row = figures > 0 && behind < strlen(at) ? tb_at_word(at + behind, "rows rounds rnds") : 0;
	const char *rest = at + behind + row;
	bool elsewhere = row == 0 || tb_find_words(rest, strcspn(rest, "."), "from in of on since above") < strcspn(rest, ".");
	return elsewhere ? 0 : (unsigned)MIN(g_ascii_strtoull(at, NULL, 10), TB_LIMIT_PIECE_ROWS);
}

/* "Work even to end of Row 74.", "… through Row 74": that number, or 0. */
static unsigned find_row_reached(const char *text)
{
	static const char *const leads[] = {"end of row ", "through row ", "to row ", "until row ", "end of rnd ", "through rnd ",
		"end of round ", "through round "};
	g_autofree char *lower = g_ascii_strdown(text, -1);
	for (size_t i = 0; i < G_N_ELEMENTS(leads); i++) {
		const char *at = strstr(lower, leads[i]);
		if (at != NULL)
			return (unsigned)MIN(g_ascii_strtoull(at + strlen(leads[i]), NULL, 10), TB_LIMIT_PIECE_ROWS);
	}
	return find_rows_in_all(lower);
}

/* The number of the piece's last row that has one, or 0. */
static unsigned find_last_row(const tb_piece *piece)
{
	for (guint i = piece->rows->len; i-- > 0;) {
		const tb_text *row = piece->rows->pdata[i];
		tb_row_head head;
		unsigned reached = find_row_reached(row->chars);
		if (reached > 0)
			return reached;
		if (tb_is_row_head(row->chars, &head) && head.last > 0)
			return head.last;
	}
	return 0;
}

/* "Row 5: Join yarn to next unworked st of Row 4": what the piece before left is worked on. */
bool tb_text_works_on_rest(const char *line)
{
	g_autofree char *lower = g_ascii_strdown(line, -1);
	bool joins = strstr(lower, "join") != NULL || strstr(lower, "attach") != NULL;
	return joins && (strstr(lower, " unworked ") != NULL || strstr(lower, " unused ") != NULL);
}

/* "Ch 1, sc in the end of each cuff row around": along the ends of rows that are there, as no piece begins. */
bool tb_text_works_along_row_ends(const char *line)
{
	g_autofree char *lower = g_ascii_strdown(line, -1);
	const char *end = strstr(lower, " end of each ");
	return strstr(lower, " row end") != NULL || strstr(lower, " ends of rows") != NULL ||
		strstr(lower, " ends of the rows") != NULL || (end != NULL && strstr(end, " row") != NULL);
}

/* "With RS facing, join B in any st, …" begins a row on stitches that are there; "ch 20, join" begins one on its own. */
static bool joins_yarn_first(const char *line)
{
	tb_row_head head;
	size_t from = tb_is_row_head(line, &head) ? head.length : 0;
	for (const char *at = line + from; *at != '\0'; at++) {
		if (at > line && g_ascii_isalnum(at[-1]))
			continue;
		size_t join = tb_at_word(at, "join rejoin re-join attach reattach re-attach");
		if (join > 0) {
			g_autofree char *lead = g_strndup(line + from, (gsize)(at - line) - from);
			/* "Skip next sc on Row 2, join yarn in next sc" */
			const char *first = lead + strspn(lead, " ");
			return !tb_has_stitch(lead) || tb_at_word(first, "skip sk miss leave") > 0;
		}
		if (tb_at_word(at, "ch chs chain chains not without") > 0)
			return false;
	}
	return false;
}

/* "9th st from edge", "7 sts in from the left end" */
static bool counts_from_edge(const char *line)
{
	const char *at = strstr(line, " from ");
	for (size_t word = at != NULL ? strlen(" from ") : 0; word > 0;) {
		at += word;
		at += strspn(at, " -");
		word = tb_at_word(at, "the right left other opposite outer same hand far");
	}
	return at != NULL && tb_at_word(at, "edge end corner") > 0;
}

/* "in 7th st of Row 12", "to the edge of the last row": it is joined to a row of the piece before. */
static bool names_row(const char *line)
{
	tb_row_head head;
	/* a thumb is a piece of its own, which is worked around an opening of that row */
	if (strstr(line, "skipped") != NULL || strstr(line, "missed") != NULL)
		return false;
	for (const char *at = line + (tb_is_row_head(line, &head) ? head.length : 0); *at != '\0'; at++) {
		bool inside = at > line && g_ascii_isalnum(at[-1]);
		size_t of = inside ? 0 : tb_at_word(at, "of to in on from");
		const char *row = at + of + strspn(at + of, " ");
		row += tb_at_word(row, "the");
		row += strspn(row, " ");
		size_t last = of > 0 ? tb_at_word(row, "last previous") : 0;
		size_t word = of > 0 ? tb_at_word(row + last + strspn(row + last, " "), "row rnd round") : 0;
		if (word > 0 && (last > 0 || g_ascii_isdigit(row[word + strspn(row + word, " ")])))
			return true;
	}
	return false;
}

/* Whether yarn is joined to what is there before anything is worked, on the lines from FROM to the row on line TO. */
static bool begins_with_yarn(const tb_text_reader *reader, guint from, guint to)
{
	for (guint i = from; i <= to; i++) {
		if (joins_yarn_first(tb_text_line(reader, i)))
			return true;
	}
	return false;
}

/*
 * "Row 8: Ch 1, turn, …", "Row 8: Turn, …" behind Row 7: the row before is on the hook, however often the piece is made; what
 * joins several of them begins otherwise.
 */
static bool is_turned_on(const char *line, const tb_row_head *head, const tb_piece *piece)
{
	const char *text = line + head->length + strspn(line + head->length, " ");
	size_t chain = tb_at_word(text, "ch chain");
	/* "Row 75: Turn, sl st in first 4 sts, …" */
	const char *behind = text + chain + strspn(text + chain, chain > 0 ? " 0123456789," : "");
	bool slips = tb_at_word(text, "sl slip ss slst") > 0; /* "Row 55: Sl st across first 4 sts, ch 1, …" */
	return head->first > 1 && head->first == find_last_row(piece) + 1 && (slips || tb_at_word(behind, "turn") > 0);
}

/* "Ch 1, sc in each st around; join.": a chain that turns, and a round on what is there; no piece starts so. */
static bool works_on_from_turn(const char *line)
{
	int start = tb_find_start(line);
	const char *figures = start >= 0 ? line + start + strcspn(line + start, "0123456789.,;") : "";
	guint64 chains = g_ascii_isdigit(*figures) ? g_ascii_strtoull(figures, NULL, 10) : 0;
	return chains > 0 && chains < 4 && tb_has_stitch(line) && strstr(line, " ring") == NULL &&
		(strstr(line, " each ") != NULL || strstr(line, " next ") != NULL);
}

/*
 * "Rnd 1: Ch 1, turn, sc in next 20 sts, …": the first stitch goes into those that are on the hook, whatever edges
 * the round takes in behind them.
 */
static bool goes_into_sts_first(const char *line, const tb_row_head *head)
{
	const char *at = line + head->length + strspn(line + head->length, " ");
	size_t chain = tb_at_word(at, "ch chain");
	at += chain > 0 ? chain + strspn(at + chain, " 0123456789") : 0;
	at += chain > 0 && *at == '(' ? strcspn(at, ")") + (strchr(at, ')') != NULL) : 0;
	at += strspn(at, " ,");
	size_t turn = chain > 0 ? tb_at_word(at, "turn") : 0;
	at += turn + strspn(at + turn, " ,");
	if (chain == 0 || !tb_has_stitch(at))
		return false;
	size_t end = strcspn(at, ",;.");
	size_t in = tb_find_words(at, end, "in into");
	if (in >= end || tb_find_words(at, end, "chain chains ch chs ring foundation hook along") < end)
		return false;
	size_t word = strcspn(at + in, " "), where = in + word + strspn(at + in + word, " ");
	return tb_at_word(at + where, "next each ea first the same every all") > 0;
}

/* "Sc across the 8 sts of left front, ch 4, skip the sleeve, …": all of it lies in the row that is on the hook. */
static bool skips_sleeves(const char *line)
{
	size_t end = strlen(line);
	return tb_find_words(line, end, "skip sk skipping miss missing") < end &&
		tb_find_words(line, end, "sleeve sleeves underarm underarms") < end;
}

/* "Rows 1-5: Work as for First earflap": whether LINE names a part of PIECE. */
static bool names_part(const tb_piece *piece, const char *line)
{
	g_autofree char *lower = g_ascii_strdown(line, -1);
	for (guint part = 0; piece->parts != NULL && part < piece->parts->len; part++) {
		const char *name = g_array_index(piece->parts, tb_piece_part, part).name;
		g_autofree char *called = name != NULL ? g_ascii_strdown(name, -1) : NULL;
		if (called != NULL && strstr(lower, called) != NULL)
			return true;
	}
	return false;
}

/* "Body", where a piece before has a part of that name: whether NAME heads a part of this one as well. */
static bool is_part_before(const tb_text_reader *reader, const char *name)
{
	for (unsigned i = 0; name != NULL && i < tb_pattern_count_pieces(reader->pattern); i++) {
		const GArray *parts = tb_pattern_piece(reader->pattern, i)->parts;
		for (guint part = 0; parts != NULL && part < parts->len; part++) {
			if (g_ascii_strcasecmp(g_array_index(parts, tb_piece_part, part).name, name) == 0)
				return true;
		}
	}
	return false;
}

bool tb_text_is_made_once(const tb_piece *piece)
{
	bool parted = piece->parts->len > 0 && g_array_index(piece->parts, tb_piece_part, 0).row == 0;
	return piece->make < 2 || parted;
}

/* "All sizes:", and the row below it. */
static bool is_all_sizes_alone(const tb_text_reader *reader, guint i)
{
	const char *line = tb_text_line(reader, i);
	return reader->looks[i].kind == TB_LINE_ALL_SIZES && line[tb_find_all_sizes(line) + strspn(line + tb_find_all_sizes(line), " ")] == '\0';
}

bool tb_text_joins_in_skipped(const char *line)
{
	return joins_yarn_first(line) && (strstr(line, "skipped") != NULL || strstr(line, "missed") != NULL);
}

/* "THUMB", and on the lines behind line I up to TO yarn joined in what was skipped: it is worked around that opening. */
static bool is_around_opening(const tb_text_reader *reader, guint i, guint to)
{
	const char *heading = tb_text_line(reader, i);
	if (tb_find_words(heading, strlen(heading), "thumb thumbs sleeve sleeves heel heels finger arm arms") == strlen(heading))
		return false;
	for (guint k = i + 1; k <= to; k++) {
		if (tb_text_joins_in_skipped(tb_text_line(reader, k)))
			return true;
	}
	return false;
}

/*
 * Whether what the heading on line I stands over goes on with the piece before it. A piece begins
 * with a start of its own; "Shape neck" goes on whatever comes. "Body" over rounds that count on
 * is a piece where several of the last one were made, as two legs before their body.
 */
bool tb_text_is_subheading(const tb_text_reader *reader, guint i)
{
	if (reader->piece == NULL || reader->has_heading ||
		(reader->piece->rows->len == 0 && reader->piece->start == NULL))
		return false;
	unsigned make;
	g_autofree char *name = tb_heading_name(tb_text_line(reader, i), &make);
	if (tb_goes_on(name != NULL ? name : tb_text_line(reader, i)) && !reader->is_finished)
		return true;
	guint at = reader->looks[i].work;
	while (at < reader->count && (reader->looks[at].kind == TB_LINE_ONLY || is_all_sizes_alone(reader, at) ||
			reader->looks[at].kind == TB_LINE_SECTION || reader->looks[at].kind == TB_LINE_FACT))
		at = reader->looks[at].work;
	if (at == reader->count)
		return true;
	tb_line_kind kind = reader->looks[at].kind;
	if (kind == TB_LINE_START && !reader->is_finished && works_on_from_turn(tb_text_line(reader, at)))
		return true;
	const char *line = tb_text_line(reader, at);
	size_t all = tb_find_all_row(line);
	kind = all > 0 ? TB_LINE_ROW : kind;
	line += all;
	/* "Skip 17 sts, join yarn in next st.", and what is worked there is like the part before */
	if ((kind == TB_LINE_ROW || kind == TB_LINE_LIKE) && at > i + 1 && begins_with_yarn(reader, i + 1, at - 1) &&
		names_part(reader->piece, line))
		return true;
	if ((kind == TB_LINE_LIKE || kind == TB_LINE_ROW) && !reader->is_finished && is_part_before(reader, name))
		return true;
	if (kind != TB_LINE_ROW)
		return kind == TB_LINE_AGAIN || kind == TB_LINE_FINISH;
	tb_row_head head;
	tb_is_row_head(line, &head);
	if (head.is_named && head.first == 0 && !reader->is_finished)
		return true;
	if (tb_picks_up_sleeve(tb_text_line(reader, i), line) || is_around_opening(reader, i, at))
		return false;
	bool goes_on = tb_goes_on(name != NULL ? name : tb_text_line(reader, i));
	bool counts_on = !reader->is_finished || (head.first > 1 && head.first == find_last_row(reader->piece) + 1);
	if (joins_yarn_first(line) && (names_row(line) || counts_from_edge(line)))
		return true;
	if (!reader->is_finished && tb_text_is_made_once(reader->piece) &&
		(goes_into_sts_first(line, &head) || skips_sleeves(line)))
		return true;
	return !tb_row_brings_start(line) && (goes_on || tb_text_works_on_rest(line) || tb_text_works_along_row_ends(line) || begins_with_yarn(reader, i + 1, at) ||
		((tb_text_is_made_once(reader->piece) || is_turned_on(line, &head, reader->piece)) && counts_on));
}
