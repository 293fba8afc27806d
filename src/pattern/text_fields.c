/* The fields of a plain-text pattern's head: "Sizes: S (M, L)", "Hook: 5.5 mm", "Yarn: worsted". */
#include "pattern/text_reader.h"

#include "support/limits.h"

#include <string.h>

static tb_span whole(const tb_text *text)
{
	return tb_text_span(text, 0, text->length);
}

/* Where a fault about a value is shown: at the value, or at the field's name when it has none. */
static tb_span value_place(const tb_text_reader *reader, const tb_text *value)
{
	return value->length > 0 ? whole(value) : reader->field_place;
}

void tb_text_keep_value(tb_text_reader *reader, char **slot, size_t most)
{
	const char *raw = reader->gathered.raw->str;
	size_t there = *slot != NULL ? strlen(*slot) + strlen("\n") : 0;
	if (*raw == '\0')
		return;
	if (there + reader->gathered.raw->len > most) {
		tb_text_fault_at(reader, TB_ERROR, "text-too-long", reader->field_place,
			"Leave some of it out.", "this text is longer than %zu bytes", most);
		return;
	}
	char *both = *slot != NULL ? g_strconcat(*slot, "\n", raw, NULL) : g_strdup(raw);
	g_free(*slot);
	*slot = both;
}

/* Which terms TEXT speaks of: 1 US, 2 UK, 3 both. */
static unsigned find_terms(const char *text)
{
	unsigned terms = 0;
	for (const char *c = text; *c != '\0'; c++) {
		if (c > text && g_ascii_isalnum(c[-1]))
			continue;
		if (tb_at_word(c, "us usa u.s american") > 0 && *c != 'u')
			terms |= 1;
		if (tb_at_word(c, "uk u.k british english") > 0)
			terms |= terms == 0 || tb_at_word(c, "english") == 0 ? 2 : 0;
	}
	return terms;
}

/*
 * Which terms the first sentence of TEXT that speaks of terms says, as find_terms() tells it; 0 where none does. What
 * stands behind it is for others: "British terms. American readers: htr = hdc".
 */
static unsigned find_said_terms(const char *text)
{
	for (size_t at = 0; text[at] != '\0';) {
		size_t end = at;
		while (text[end] != '\0' && !(text[end] == '.' && tb_is_among(text[end + 1], " ")) && !tb_is_among(text[end], "(;"))
			end++;
		g_autofree char *sentence = g_ascii_strdown(text + at, (gssize)(end - at));
		g_autofree char *said = g_strndup(text + at, end - at);
		/* "British stitch names", "the stitches are the American ones" */
		bool names = strstr(sentence, "stitch") != NULL && (strstr(sentence, " name") != NULL || strstr(sentence, " ones") != NULL);
		unsigned terms = names || strstr(sentence, " term") != NULL || strstr(sentence, "-term") != NULL ? find_terms(said) : 0;
		if (terms != 0)
			return terms;
		at = end + (text[end] != '\0');
	}
	return 0;
}

void tb_text_find_terms(tb_text_reader *reader, const char *text)
{
	unsigned seen = 1u << TB_FIELD_TERMS;
	unsigned terms = (reader->fields_seen & seen) != 0 ? 0 : find_said_terms(text);
	/* "US terms, UK in brackets" leaves it open; the rows then speak US terms. */
	if (terms == 2)
		reader->pattern->uk_terms = true;
}

bool tb_text_find_head_terms(tb_text_reader *reader, const char *head, size_t from)
{
	static const char rest[] = "terms term terminology abbreviations version english only used uk u.k us usa u.s british american are in the all "
		"these crochet standard";
	size_t length = strcspn(head, "=:;");
	if (length > 60 || tb_has_stitch(head))
		length = from;
	g_autofree char *name = g_strndup(head, length);
	unsigned terms = find_terms(name);
	if (terms == 2 && (reader->fields_seen & 1u << TB_FIELD_TERMS) == 0)
		reader->pattern->uk_terms = true;
	size_t at = from, word;
	while (terms != 0 && ((word = tb_at_word(head + at, rest)) > 0 || (word = strspn(head + at, " -()[],.:/")) > 0))
		at += word;
	return terms != 0 && head[at] == '\0';
}

bool tb_text_take_terms(tb_text_reader *reader, guint i)
{
	const char *line = tb_text_line(reader, i);
	unsigned terms = strlen(line) > 60 ? 0 : find_said_terms(line);
	if (terms != 1 && terms != 2)
		return false;
	bool uk = terms == 2, fixed = reader->piece != NULL || (reader->fields_seen & 1u << TB_FIELD_TERMS) != 0;
	if (fixed && uk != reader->pattern->uk_terms)
		tb_text_fault_at(reader, TB_ERROR, "other-terms", tb_text_part(reader, i, 0, strlen(line)),
			"Put each in a file of its own.", "the pattern is in %s terms above this", uk ? "US" : "UK");
	reader->pattern->uk_terms = uk;
	tb_text_mark(reader, i, 0, TB_READ_FACT);
	return true;
}

static void read_terms(tb_text_reader *reader, const tb_text *value)
{
	size_t us = G_MAXSIZE, uk = G_MAXSIZE;
	for (size_t i = 0; i < value->length; i++) {
		if (i > 0 && g_ascii_isalnum(value->chars[i - 1]))
			continue;
		if (us == G_MAXSIZE && tb_at_word(value->chars + i, "us usa u.s american") > 0)
			us = i;
		if (uk == G_MAXSIZE && tb_at_word(value->chars + i, "uk u.k british") > 0)
			uk = i;
	}
	if (us == G_MAXSIZE && uk == G_MAXSIZE)
		tb_text_fault_at(reader, TB_ERROR, "terms-unknown", value_place(reader, value),
			"Write “Terms: US” or “Terms: UK”.", "“%.60s” are no terms of the trade",
			value->chars);
	reader->pattern->uk_terms = uk < us;
}

static void read_hook(tb_text_reader *reader, const tb_text *value)
{
	double mm = tb_read_hook(value->chars);
	tb_text_keep_value(reader, &reader->pattern->hook, TB_LIMIT_LINE_BYTES);
	if (mm >= TB_LIMIT_HOOK_LEAST_MM && mm <= TB_LIMIT_HOOK_MM) {
		if (reader->pattern->hook_mm == 0)
			reader->pattern->hook_mm = mm;
		return;
	}
	/* A second hook, "smaller for the ribbing", may go without. */
	if (reader->pattern->hook_mm == 0)
		tb_text_fault_at(reader, TB_WARNING, "hook-size", value_place(reader, value),
			"As in “Hook: 5.5 mm (I-9)”.", "this does not say the hook's size in mm");
}

/*
 * Names of yarn weights, longest first where one holds another: Craft Yarn Council, Standards &
 * Guidelines, yarn weights 0 to 7; DK and aran as in trade use.
 */
static int name_weight(const char *text)
{
	static const struct {
		const char *name;
		int weight;
	} names[] = {
		{"super bulky", 6}, {"super chunky", 6}, {"super fine", 1}, {"superfine", 1},
		{"light worsted", 3}, {"light fingering", 0}, {"lace", 0}, {"thread", 0},
		{"fingering", 1}, {"sock", 1}, {"sport", 2}, {"fine", 2}, {"dk", 3},
		{"double knitting", 3}, {"worsted", 4}, {"aran", 4}, {"afghan", 4}, {"medium", 4},
		{"bulky", 5}, {"chunky", 5}, {"jumbo", 7},
	};
	for (size_t i = 0; i < G_N_ELEMENTS(names); i++) {
		size_t length = strlen(names[i].name);
		for (size_t at = 0; text[at] != '\0'; at++) {
			if ((at == 0 || !g_ascii_isalnum(text[at - 1])) &&
				g_ascii_strncasecmp(text + at, names[i].name, length) == 0 &&
				!g_ascii_isalnum(text[at + length]))
				return names[i].weight;
		}
	}
	return -1;
}

/* "(4)", "#4", "weight 4"; -1 when no such figure stands there, 8 for one too high. */
static int figure_weight(const char *text)
{
	for (const char *c = text; *c != '\0'; c++) {
		size_t word = c == text || !g_ascii_isalnum(c[-1]) ?
			tb_at_word(c, "weight category size no") : 0;
		const char *figure = word > 0 ? c + word + strspn(c + word, ".: ") :
			*c == '(' || *c == '#' || *c == '[' ? c + 1 : NULL;
		if (figure == NULL || !g_ascii_isdigit(*figure) || g_ascii_isdigit(figure[1]))
			continue;
		if ((*c != '(' || figure[1] == ')') && (*c != '[' || figure[1] == ']'))
			return *figure <= '7' ? *figure - '0' : 8;
	}
	return -1;
}

void tb_text_find_materials(tb_text_reader *reader, const char *text)
{
	tb_pattern *pattern = reader->pattern;
	/* Longer, and it is no list of materials. */
	if (strlen(text) > TB_LIMIT_LINE_BYTES)
		return;
	text += strspn(text, "-*+ ");
	g_autofree char *lower = g_ascii_strdown(text, -1);
	double mm = strstr(lower, "hook") != NULL ? tb_read_hook(text) : 0;
	if (pattern->hook == NULL && mm >= TB_LIMIT_HOOK_LEAST_MM && mm <= TB_LIMIT_HOOK_MM) {
		pattern->hook = g_strdup(text);
		pattern->hook_mm = mm;
	}
	if (pattern->yarn_weight >= 0 || strstr(lower, "needle") != NULL ||
		(strstr(lower, "yarn") == NULL && strstr(lower, "weight") == NULL))
		return;
	int weight = figure_weight(text);
	pattern->yarn_weight = weight >= 0 && weight <= 7 ? weight : name_weight(text);
	if (pattern->yarn_weight >= 0 && pattern->yarn_note == NULL)
		pattern->yarn_note = g_strdup(text);
}

static void read_yarn(tb_text_reader *reader, const tb_text *value)
{
	tb_pattern *pattern = reader->pattern;
	bool only_weight = reader->field == TB_FIELD_YARN_WEIGHT;
	int weight = figure_weight(value->chars);
	if (weight < 0 && only_weight && g_ascii_isdigit(value->chars[0]))
		weight = value->chars[0] <= '7' && !g_ascii_isdigit(value->chars[1]) ?
			value->chars[0] - '0' : 8;
	if (weight < 0)
		weight = name_weight(value->chars);
	if (weight > 7 || (only_weight && weight < 0)) {
		tb_text_fault_at(reader, TB_WARNING, "yarn-weight", value_place(reader, value),
			"Weights run from 0, lace, to 7, jumbo.", "there is no such yarn weight");
		weight = -1;
	}
	if (pattern->yarn_weight < 0)
		pattern->yarn_weight = weight;
	if (!only_weight)
		tb_text_keep_value(reader, &pattern->yarn_note, TB_LIMIT_LINE_BYTES);
}

static void read_gauge(tb_text_reader *reader, const tb_text *value)
{
	tb_gauge gauge = {0};
	bool impossible;
	if (tb_text_read_gauges(reader->pattern, value->chars, &gauge, &impossible))
		return;
	if (!impossible && gauge.stitches == 0 && tb_text_measures_motif(value->chars)) {
		reader->motif_gauge = whole(value);
		return;
	}
	/* "Gauge is not important for this one." */
	if (value->length > 0 && strpbrk(value->chars, "0123456789") == NULL) {
		tb_text_keep_value(reader, &reader->pattern->notes, TB_LIMIT_PROSE_BYTES);
		return;
	}
	char stitches[G_ASCII_DTOSTR_BUF_SIZE], rows[G_ASCII_DTOSTR_BUF_SIZE];
	g_ascii_formatd(stitches, sizeof stitches, "%g", gauge.stitches);
	g_ascii_formatd(rows, sizeof rows, "%g", gauge.rows);
	g_autofree char *nearest = gauge.stitches > 0 && gauge.rows > 0 ?
		g_strdup_printf("Write it as “%s sts and %s rows = 10 cm”.", stitches, rows) :
		gauge.stitches > 0 ? g_strdup_printf("Write it as “%s sts = 10 cm”.", stitches) :
		g_strdup("Write it as “13 sts and 9 rows = 10 cm”.");
	/* "One square measures about 4 in": true, and nothing to measure by. */
	bool in_words = gauge.stitches == 0 && g_ascii_isalpha(value->chars[0]);
	/* a gauge that no fabric has is an error; one that is not whole leaves the pattern as it is */
	tb_text_fault_at(reader, impossible ? TB_ERROR : TB_WARNING, "gauge-value",
		value_place(reader, value), nearest,
		in_words ? "no stitches are counted here, so nothing is measured"
				 : "a gauge says how many stitches, and over what length");
}

/* A second gauge, in another stitch, is one fact more; the first is measured by. */
static bool is_said_once(tb_field field)
{
	return field == TB_FIELD_TERMS || field == TB_FIELD_SIZES;
}

void tb_text_close_field(tb_text_reader *reader)
{
	tb_pattern *pattern = reader->pattern;
	g_autoptr(tb_text) value = tb_gathered_text(&reader->gathered);
	unsigned seen = 1u << reader->field;
	bool again = (reader->fields_seen & seen) != 0;
	if (reader->field != TB_FIELD_TITLE && reader->field != TB_FIELD_TERMS)
		tb_text_hear(reader, value);
	if (reader->field == TB_FIELD_SIZES || reader->field == TB_FIELD_ABOUT)
		tb_text_find_finished(reader, value);
	if (reader->field == TB_FIELD_SIZES)
		tb_text_find_whole(reader, value);
	reader->fields_seen |= seen;
	if (again && is_said_once(reader->field)) {
		tb_text_fault_at(reader, TB_ERROR, "field-repeated", reader->field_place,
			"Keep one of them; the first is read.", "this is given twice");
		return;
	}
	switch (reader->field) {
	case TB_FIELD_TITLE:
		/* The title's own line is surer than the first line of the text. */
		if (pattern->title != NULL && !again) {
			g_string_append_printf(reader->prose, "%s\n", pattern->title);
			g_clear_pointer(&pattern->title, g_free);
		}
		tb_text_keep_value(reader, &pattern->title, TB_LIMIT_LINE_BYTES);
		break;
	case TB_FIELD_DESIGNER:
		tb_text_keep_value(reader, &pattern->designer, TB_LIMIT_LINE_BYTES);
		break;
	case TB_FIELD_ABOUT:
		tb_text_keep_value(reader, &pattern->about, TB_LIMIT_PROSE_BYTES);
		break;
	case TB_FIELD_LICENCE:
		tb_text_keep_value(reader, &pattern->licence, TB_LIMIT_LINE_BYTES);
		break;
	case TB_FIELD_TERMS:
		read_terms(reader, value);
		break;
	case TB_FIELD_SIZES:
		tb_text_read_sizes(reader, value);
		break;
	case TB_FIELD_HOOK:
		read_hook(reader, value);
		break;
	case TB_FIELD_YARN:
	case TB_FIELD_YARN_WEIGHT:
		read_yarn(reader, value);
		break;
	case TB_FIELD_GAUGE:
		if (again && pattern->gauge.given) {
			tb_text_keep_value(reader, &pattern->notes, TB_LIMIT_PROSE_BYTES);
			tb_text_read_gauges(pattern, value->chars, &(tb_gauge){0}, &(bool){false});
		} else {
			read_gauge(reader, value);
		}
		break;
	case TB_FIELD_CHART:
		if (reader->charts->len < TB_LIMIT_CHARTS)
			g_ptr_array_add(reader->charts, g_steal_pointer(&value));
		else
			tb_text_fault_at(reader, TB_ERROR, "chart-list", reader->field_place,
				"Leave the others out.", "a pattern may ask for %u charts", TB_LIMIT_CHARTS);
		break;
	case TB_FIELD_NONE:
		break;
	}
}

/* Where "row" or "rows" stands in a chart's line; its end when it does not. */
static size_t find_rows(const char *text)
{
	return tb_find_words(text, strlen(text), "row rows rnd rnds round rounds");
}

/* "Back, rows 3-6" */
static void read_chart(tb_text_reader *reader, const tb_text *value)
{
	tb_chart_request *chart = g_new0(tb_chart_request, 1);
	g_ptr_array_add(reader->pattern->charts, chart);
	size_t rows = find_rows(value->chars), name = rows;
	while (name > 0 && tb_is_among(value->chars[name - 1], " ,.:"))
		name--;
	g_autofree char *piece = g_strndup(value->chars, name);
	if (name > 0 && tb_pattern_find_piece(reader->pattern, piece) < 0) {
		g_autofree char *hint = tb_hint_piece(reader->pattern, piece);
		tb_text_fault_at(reader, TB_ERROR, "piece-unknown", tb_text_span(value, 0, name), hint,
			"no piece of this pattern is called “%.60s”", piece);
	} else if (name > 0) {
		chart->piece = g_steal_pointer(&piece);
	}
	if (rows == value->length)
		return;
	size_t range = rows + strcspn(value->chars + rows, " ");
	g_autofree char *text = g_strdup(value->chars + range);
	g_strdelimit(text, ".", ' ');
	if (!tb_read_row_range(text, &chart->first_row, &chart->last_row)) {
		chart->first_row = chart->last_row = 0;
		tb_text_fault_at(reader, TB_ERROR, "chart-rows",
			tb_text_span(value, rows, value->length), "As in “Chart: Back, rows 3-6”.",
			"this does not say which rows to chart");
	}
}

void tb_text_read_charts(tb_text_reader *reader)
{
	for (guint i = 0; i < reader->charts->len; i++)
		read_chart(reader, reader->charts->pdata[i]);
}
