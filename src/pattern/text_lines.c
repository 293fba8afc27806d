/*
 * Lines of a plain text. A blog's page brings typographic quotes and dashes, blanks that do not
 * break, marks of emphasis and bullets: they are made plain or dropped here, so that nobody else
 * meets them. A line only ever becomes shorter by that.
 */
#include "pattern/text_lines.h"

#include "pattern/text_kinds.h"

#include <string.h>

static bool ends_line(gunichar c)
{
	return c == '\n' || c == '\r' || c == '\v' || c == '\f' || c == 0x85 || c == 0x2028 ||
		c == 0x2029;
}

/* What C is written as in a plain text; 0 drops it. */
static gunichar plain(gunichar c)
{
	if (c > ' ' && c < 0x7f)
		return c;
	switch (c) {
	case 0xad:   /* a hyphen that only shows where a line is broken */
	case 0x200b: /* blanks and joiners of no width, byte order mark */
	case 0x200c:
	case 0x200d:
	case 0x200e:
	case 0x200f:
	case 0x2060:
	case 0xfeff:
		return 0;
	case 0x2018:
	case 0x2019:
	case 0x201b:
	case 0x2bc:
	case 0x2032:
		return '\'';
	case 0x201c:
	case 0x201d:
	case 0x201e:
	case 0x2033:
		return '"';
	case 0x2010:
	case 0x2011:
	case 0x2012:
	case 0x2013:
	case 0x2212:
		return '-';
	case 0x2015:
		return 0x2014;
	case 0x2217: /* signs of a repeat, whatever their form */
	case 0x204e:
	case 0x2605:
	case 0x2606:
	case 0x2731:
	case 0x2733:
	case 0xff0a:
		return '*';
	case 0x2022: /* bullets, and boxes to tick */
	case 0x2023:
	case 0x2043:
	case 0x25a0:
	case 0x25a1:
	case 0x25aa:
	case 0x25ab:
	case 0x25b8:
	case 0x25ba:
	case 0x25c6:
	case 0x25cb:
	case 0x25cf:
	case 0x25e6:
	case 0x2610:
	case 0x2611:
	case 0x2713:
	case 0x2714:
		return 0;
	case 0x2500: /* rules, single and double */
	case 0x2501:
	case 0x2550:
		return '=';
	default:
		return g_unichar_isspace(c) || g_unichar_type(c) == G_UNICODE_SPACE_SEPARATOR ? ' ' : c;
	}
}

/* Takes COUNT bytes out of the line that runs from START to *END. */
static void take_out(tb_lines *lines, guint32 at, guint32 count, guint32 *end)
{
	if (count == 0)
		return;
	memmove(lines->chars + at, lines->chars + at + count, *end - at - count);
	memmove(lines->offsets + at, lines->offsets + at + count,
		(*end - at - count) * sizeof(*lines->offsets));
	*end -= count;
	lines->chars[*end] = '\0';
}

/* A row's number that is set out by what closes it: "**Rnd 3** sc …" says "Rnd 3: sc …". */
static void close_head(tb_lines *lines, guint32 at, size_t length, guint32 *end)
{
	lines->chars[at] = ':';
	if (length > 1)
		take_out(lines, at + 1, (guint32)length - 1, end);
}

/* Whether emphasis that ends before CLOSE was around a line's head, or all of it. */
static bool is_around_head(const char *close, size_t length)
{
	return close[length] == '\0' || close[length] == ':' || close[-1] == ':' || close[-1] == '.' ||
		close[-1] == ')' || close[length] == '.';
}

/* "If you get more, start again.*": a sentence without work, to the end of the line. */
static bool is_said_loud(const char *line)
{
	size_t end = strcspn(line, "*");
	return end > 8 && line[end] == '*' && line[end + 1] == '\0' && tb_is_among(line[end - 1], ".!?") && !tb_has_stitch(line);
}

/*
 * "**Row 1:** dc …", "__Back__", "*Row 2:* sc": emphasis around the beginning of a line, or the whole
 * of it, which is then returned. One star alone may begin a repeat, so it is emphasis only around a row's head.
 */
static bool drop_emphasis(tb_lines *lines, guint32 start, guint32 *end)
{
	const char *line = lines->chars + start;
	size_t length = *line == '*' || *line == '_' ? strspn(line, (char[]){*line, '\0'}) : 0;
	tb_row_head head;
	if (length == 0 || length > 3 || !g_ascii_isalnum(line[length]))
		return false;
	if (length == 1 && *line == '*' && !tb_is_row_head(line + 1, &head) && !is_said_loud(line + 1))
		return false;
	g_autofree char *mark = g_strndup(line, length);
	const char *close = strstr(line + length, mark);
	/* "**Rnd 3** sc …": nothing else parts the number from what is worked */
	bool number = close != NULL && close[length] == ' ' && tb_is_row_head(line + length, &head) &&
		!head.is_bare && line + length + head.length <= close + length + 1;
	if (close == NULL || !(number || is_around_head(close, length)))
		return false;
	bool whole = close[length] == '\0';
	bool marked = tb_is_among(close[-1], ":.)") || close[length] == ':' || close[length] == '.';
	if (number && !marked)
		close_head(lines, (guint32)(close - lines->chars), length, end);
	else
		take_out(lines, (guint32)(close - lines->chars), (guint32)length, end);
	take_out(lines, start, (guint32)length, end);
	return whole;
}

/* Whether C is a picture, or the blank that joins it: "✿", "▶", "→", a ball of yarn. */
static bool is_ornament(gunichar c)
{
	return g_unichar_type(c) == G_UNICODE_OTHER_SYMBOL || c == 0xfe0f || c == 0x2192 || c == 0x21d2 || c == '~';
}

/* "✿ Rnd 3 ✿ sc …", "~ Rnd 3 ~", "▶ Rnd 3: …": what adorns a row's number, before it or on both sides. */
static bool drop_ornament(tb_lines *lines, guint32 start, guint32 *end)
{
	const char *line = lines->chars + start;
	size_t length = 0;
	tb_row_head head;
	for (gunichar c; is_ornament(c = g_utf8_get_char(line + length)) || (c == ' ' && length > 0);)
		length += (size_t)g_unichar_to_utf8(c, NULL);
	if (length == 0)
		return false;
	g_autofree char *mark = g_strchomp(g_strndup(line, length));
	const char *close = strstr(line + length, mark);
	/* where the sign comes again and again it is not this head's */
	if (close != NULL && strstr(close + strlen(mark), mark) == NULL) {
		g_autofree char *name = g_strchomp(g_strndup(line + length, (size_t)(close - line) - length));
		if (tb_is_row_head(name, &head) && !head.is_bare && head.length == strlen(name)) {
			if (head.mark == ':' || head.mark == '.')
				take_out(lines, (guint32)(close - lines->chars), (guint32)strlen(mark), end);
			else
				close_head(lines, (guint32)(close - lines->chars), strlen(mark), end);
			take_out(lines, start, (guint32)length, end);
			return true;
		}
	}
	if (!tb_is_row_head(line + length, &head) || head.is_bare)
		return false;
	take_out(lines, start, (guint32)length, end);
	return true;
}

/* "- Row 1: …", "* Row 1: …", "1. Row 1: …", "- [ ] Row 1": a list's bullet, but not the star of a repeat. */
static bool drop_bullet(tb_lines *lines, guint32 start, guint32 *end, guint32 *of)
{
	const char *line = lines->chars + start;
	tb_row_head head;
	bool list = (line[0] == '-' || line[0] == '+') && line[1] == ' ' &&
		(g_ascii_isalpha(line[2]) || strncmp(line + 2, "**", 2) == 0 ||
			strncmp(line + 2, "__", 2) == 0) &&
		lines->chars[*end - 1] != '-';
	bool star = line[0] == '*' && line[1] == ' ' && tb_is_row_head(line + 2, &head) && !head.is_bare;
	guint32 number;
	size_t step = tb_at_step(line, &number);
	bool figure = step > 0 && tb_is_row_head(line + step, &head) && !head.is_bare;
	static const char *const ticks[] = {"- [ ] ", "- [x] "};
	for (size_t i = 0; i < G_N_ELEMENTS(ticks); i++) {
		if (g_str_has_prefix(line, ticks[i])) {
			take_out(lines, start, (guint32)strlen(ticks[i]), end);
			return true;
		}
	}
	/* "### Row 1" of a page's headings */
	size_t hashes = strspn(line, "#");
	if (hashes > 0 && line[hashes] == ' ' && tb_is_row_head(line + hashes + 1, &head) && !head.is_bare) {
		take_out(lines, start, (guint32)hashes + 1, end);
		return true;
	}
	if (list || star)
		take_out(lines, start, 2, end);
	else if (figure)
		take_out(lines, start, (guint32)step, end);
	*of = figure ? number : 0;
	return list || star || figure;
}

/* A heading that signs adorn is no longer. */
#define LONGEST_ADORNED 40u

/* "//// YOKE", ">> Back <<", "== Sleeves ==": a heading that signs adorn is one like a page's, "# Yoke". */
static void mark_heading(tb_lines *lines, guint32 start, guint32 *end)
{
	const char *line = lines->chars + start;
	/* "[Back]" */
	size_t name = *line == '[' ? 1 + strspn(line + 1, "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz' ") : 0;
	if (name > 3 && g_ascii_isupper(line[1]) && strcmp(line + name, "]") == 0 && !tb_has_stitch(line)) {
		lines->chars[start] = '#';
		take_out(lines, start + (guint32)name, 1, end);
		return;
	}
	size_t length = tb_is_among(*line, "/>=|") ? strspn(line, (char[]){*line, '\0'}) : 0, whole = strlen(line), close = whole;
	if (length < 2 || line[length] != ' ' || !g_ascii_isalpha(line[length + 1]))
		return;
	while (tb_is_among(line[close - 1], "/<>=| "))
		close--;
	if (close - length > LONGEST_ADORNED || tb_is_among(line[close - 1], ".,;!?"))
		return;
	take_out(lines, start + (guint32)close, (guint32)(whole - close), end);
	take_out(lines, start + 1, (guint32)length - 1, end);
	lines->chars[start] = '#';
}

static guint32 end_line(tb_lines *lines, tb_line line, guint32 at, size_t offset)
{
	while (at > line.start && lines->chars[at - 1] == ' ')
		at--;
	lines->chars[at] = '\0';
	if (at > line.start) {
		line.strong = drop_emphasis(lines, line.start, &at);
		take_out(lines, line.start, (guint32)tb_at_stamp(lines->chars + line.start), &at);
		drop_ornament(lines, line.start, &at);
		mark_heading(lines, line.start, &at);
		if (drop_bullet(lines, line.start, &at, &line.step)) {
			line.listed = true;
			drop_emphasis(lines, line.start, &at);
		}
	}
	lines->offsets[at] = (guint32)offset;
	line.end = at;
	g_array_append_val(lines->lines, line);
	return at + 1;
}

tb_lines *tb_lines_read(const tb_source *source)
{
	size_t length;
	const char *text = tb_source_get_text(source, &length);
	tb_lines *lines = g_new0(tb_lines, 1);
	lines->source = source;
	/* A line break is a NUL here, so nothing is longer than in the source. */
	lines->chars = g_malloc(length + 2);
	lines->offsets = g_new(guint32, length + 2);
	lines->lines = g_array_new(FALSE, FALSE, sizeof(tb_line));
	tb_line line = {0};
	guint32 to = 0;
	for (size_t at = 0; at < length;) {
		gunichar c = g_utf8_get_char(text + at);
		size_t used = (size_t)g_utf8_skip[(guchar)text[at]];
		if (ends_line(c)) {
			to = end_line(lines, line, to, at);
			at += c == '\r' && text[at + 1] == '\n' ? 2 : used;
			line = (tb_line){.start = to, .source = (guint32)at};
			continue;
		}
		gunichar as = plain(c);
		line.listed = line.listed || (as == 0 && to == line.start && c >= 0x2022 && c != 0xfeff &&
			g_unichar_isgraph(c));
		/* "\*" is how a star is kept from being emphasis. */
		bool escape = c == '\\' && tb_is_among(text[at + 1], "*_[]()#-");
		if (as == ' ' && to == line.start) {
			line.indented = true;
		} else if (as != 0 && !escape) {
			char bytes[6];
			gint count = g_unichar_to_utf8(as, bytes);
			for (gint i = 0; i < count; i++, to++) {
				lines->chars[to] = bytes[i];
				lines->offsets[to] = (guint32)(at + (as == c ? (size_t)i : 0));
			}
		}
		at += used;
	}
	end_line(lines, line, to, length);
	tb_lines_read_grids(lines);
	tb_lines_mark_series(lines);
	tb_lines_drop_tallies(lines);
	tb_lines_drop_steps(lines);
	tb_lines_part_told(lines);
	tb_lines_lay_out(lines);
	return lines;
}

void tb_lines_destroy(tb_lines *lines)
{
	if (lines == NULL)
		return;
	g_free(lines->chars);
	g_free(lines->offsets);
	g_array_unref(lines->lines);
	g_free(lines);
}

void tb_gathered_init(tb_gathered *gathered)
{
	gathered->chars = g_string_new(NULL);
	gathered->raw = g_string_new(NULL);
	gathered->offsets = g_array_new(FALSE, FALSE, sizeof(guint32));
	gathered->end = 0;
}

void tb_gathered_finish(tb_gathered *gathered)
{
	g_string_free(gathered->chars, TRUE);
	g_string_free(gathered->raw, TRUE);
	g_array_unref(gathered->offsets);
}

void tb_gathered_clear(tb_gathered *gathered)
{
	g_string_truncate(gathered->chars, 0);
	g_string_truncate(gathered->raw, 0);
	g_array_set_size(gathered->offsets, 0);
	gathered->end = 0;
}

void tb_gathered_sign(tb_gathered *gathered, char sign)
{
	g_string_append_c(gathered->chars, sign);
	g_array_append_val(gathered->offsets, gathered->end);
}

void tb_gathered_add(tb_gathered *gathered, const tb_lines *lines, size_t start, size_t end)
{
	if (gathered->chars->len > 0 && start < end) {
		g_string_append_c(gathered->chars, ' ');
		g_string_append_c(gathered->raw, ' ');
		g_array_append_val(gathered->offsets, gathered->end);
	}
	g_string_append_len(gathered->chars, lines->chars + start, (gssize)(end - start));
	g_array_append_vals(gathered->offsets, lines->offsets + start, (guint)(end - start));
	const char *text = tb_source_get_text(lines->source, NULL);
	g_string_append_len(gathered->raw, text + lines->offsets[start],
		(gssize)(lines->offsets[end] - lines->offsets[start]));
	gathered->end = lines->offsets[end];
	/* The end of a trimmed line lies behind its blanks; a fault there stands behind its words. */
	while (gathered->end > lines->offsets[start] &&
		g_ascii_isspace(text[gathered->end - 1]))
		gathered->end--;
	while (gathered->raw->len > 0 &&
		g_ascii_isspace(gathered->raw->str[gathered->raw->len - 1]))
		g_string_truncate(gathered->raw, gathered->raw->len - 1);
}

tb_text *tb_gathered_text(const tb_gathered *gathered)
{
	const guint32 *offsets = (const guint32 *)(const void *)gathered->offsets->data;
	size_t length = gathered->chars->len;
	tb_text *text = tb_text_create(gathered->chars->str, length, length > 0 ? offsets[0] : 0);
	text->offsets = g_new(guint32, length + 1);
	if (length > 0)
		memcpy(text->offsets, offsets, length * sizeof(*offsets));
	text->offsets[length] = gathered->end;
	return text;
}
