/* Sections: facts under "Materials", stitches under "Abbreviations", sentences under "Notes". */
#include "pattern/text_reader.h"

#include <string.h>

/* "Guage: …" is likely a field that is misspelt; told, and true. */
bool tb_text_warn_near_field(tb_text_reader *reader, guint i)
{
	size_t length;
	const char *near = tb_nearest_field(tb_text_line(reader, i), &length);
	if (near == NULL)
		return false;
	g_autofree char *hint = g_strdup_printf("Did you mean “%c%s:”?", g_ascii_toupper(*near), near + 1);
	tb_text_fault_at(reader, TB_WARNING, "field-unknown", tb_text_part(reader, i, 0, length), hint,
		"this is no field that is understood");
	return true;
}

/* Facts that are kept as they stand; hook, yarn and sizes may be among them. */
void tb_text_take_fact(tb_text_reader *reader, guint i)
{
	const char *line = tb_text_line(reader, i);
	tb_text_mark(reader, i, 0, TB_READ_FACT);
	const tb_line *at = tb_lines_get(reader->lines, i);
	g_auto(tb_gathered) gathered;
	tb_gathered_init(&gathered);
	tb_gathered_add(&gathered, reader->lines, at->start, at->end);
	g_autoptr(tb_text) sentence = tb_gathered_text(&gathered);
	guint known = reader->pattern->finished->len;
	tb_text_find_finished(reader, sentence);
	if (reader->piece == NULL) {
		if (reader->section == TB_SECTION_NONE && reader->pattern->finished->len == known)
			tb_text_warn_near_field(reader, i);
		tb_text_hear(reader, sentence);
		tb_text_find_materials(reader, line);
		tb_text_find_sizes(reader, sentence);
	}
	tb_text_find_fit(reader, i);
	tb_text_keep_line(reader, reader->notes, i, strspn(line, "# "));
}

void tb_text_take_finishing(tb_text_reader *reader, guint i)
{
	tb_text_mark(reader, i, 0, TB_READ_FINISHING);
	tb_text_keep_line(reader, reader->notes, i, strspn(tb_text_line(reader, i), "# "));
}

/* A line under "Abbreviations" or "Special stitches". */
static void begin_listed(tb_text_reader *reader, guint i)
{
	const char *line = tb_text_line(reader, i);
	bool body = tb_find_body(line, true) > 0;
	/* "Bobble stitch (bo)", and below it how it is worked. */
	bool name = strlen(line) <= 60 && tb_text_names_stitch(reader, line, strlen(line)) &&
		strpbrk(line, ".!?") == NULL;
	if (body || name) {
		tb_text_begin_definition(reader, i, strspn(line, "# "));
		tb_text_keep_line(reader, reader->notes, i, strspn(line, "# "));
	} else {
		tb_text_begin_remark(reader, i, reader->notes);
	}
}

bool tb_text_is_listed(tb_text_reader *reader, guint i)
{
	const tb_look *look = &reader->looks[i];
	const char *line = tb_text_line(reader, i);
	if (reader->section != TB_SECTION_DEFINITIONS)
		return false;
	/* "Bobble", and below it how it is worked. */
	if (!look->plain && look->next < reader->count && reader->looks[look->next].kind == TB_LINE_PROSE &&
		tb_text_names_stitch(reader, line, strlen(line)))
		return true;
	/* "To make a knop, work 5 dc in one st." */
	return reader->piece == NULL && i < reader->last_start && tb_has_stitch(line) && tb_find_body(line, true) > 0;
}

void tb_text_take_listed(tb_text_reader *reader, guint i)
{
	const char *line = tb_text_line(reader, i);
	switch (reader->section) {
	case TB_SECTION_MATERIALS:
		/* "fp = front post double crochet" is no thing to buy, nor is "LD: dc in next st", if rows have an LD */
		if ((strchr(line, '=') != NULL || !tb_tells_stitch(line)) && tb_text_tells_stitch(reader, line))
			begin_listed(reader, i);
		else
			tb_text_take_fact(reader, i);
		break;
	case TB_SECTION_DEFINITIONS:
		begin_listed(reader, i);
		break;
	case TB_SECTION_FINISHING:
		if (reader->piece != NULL && tb_tells_surface(line)) {
			tb_text_begin_row(reader, i, tb_skip_surface_label(line));
			break;
		}
		/* "Join yarn in any st." before rounds of an edging belongs to them. */
		if (reader->looks[i].worked && reader->piece != NULL && !tb_begins_finishing(line) &&
			(tb_begins_act(line) || tb_joins_yarn(line)))
			tb_text_begin_row(reader, i, 0);
		else
			tb_text_take_finishing(reader, i);
		break;
	default:
		if (tb_is_mark(line) || tb_text_tells_stitch(reader, line))
			tb_text_begin_definition(reader, i, 0);
		else
			tb_text_begin_remark(reader, i, reader->notes);
		break;
	}
}

/* Whether a sentence of TEXT, behind its first, shapes: "Read ahead first. Dec 1 st at neck edge every row 3 times." */
static bool has_shaping(const char *text)
{
	for (const char *at = strstr(text, ". "); at != NULL; at = strstr(at + 1, ". ")) {
		size_t verb = tb_at_word(at + 2, "dec inc decrease increase");
		if (verb > 0 && at[2 + verb] == ' ' && g_ascii_isdigit(at[3 + verb]))
			return true;
	}
	return false;
}

/* What stands behind "Special stitch:" on its line. */
static void take_content(tb_text_reader *reader, guint i, size_t from, tb_section section)
{
	const char *line = tb_text_line(reader, i);
	tb_row_head head;
	if (section == TB_SECTION_MATERIALS) {
		tb_text_take_fact(reader, i);
	} else if (section == TB_SECTION_DEFINITIONS) {
		tb_text_begin_definition(reader, i, from);
		tb_text_keep_line(reader, reader->notes, i, 0);
	} else if (section == TB_SECTION_FINISHING && reader->piece != NULL &&
		(tb_is_row_head(line + from, &head) || tb_tells_surface(line + from))) {
		tb_text_begin_row(reader, i, from);
	} else if (section == TB_SECTION_FINISHING) {
		tb_text_take_finishing(reader, i);
	} else if (reader->piece == NULL && tb_text_tells_stitch(reader, line + from)) {
		tb_text_begin_definition(reader, i, from);
		tb_text_keep_line(reader, reader->notes, i, 0);
	} else if (reader->piece != NULL && has_shaping(line + from)) {
		tb_text_begin_row(reader, i, from);
	} else {
		tb_text_begin_remark(reader, i, reader->notes);
	}
}

/* "Notes", "Note: use the smaller hook." A heading opens a section, a sentence is one by itself. */
void tb_text_begin_section(tb_text_reader *reader, guint i)
{
	const char *line = tb_text_line(reader, i);
	tb_section section;
	size_t name = tb_find_section(line, &section);
	name += strspn(line + name, " ");
	bool terms = section == TB_SECTION_DEFINITIONS && reader->piece == NULL && tb_text_find_head_terms(reader, line, name);
	bool alone = line[name] == '\0' || terms;
	if (alone)
		reader->has_heading = false;
	if (alone || (reader->piece == NULL && !reader->has_heading))
		reader->section = section;
	reader->section_ends = !alone;
	if (alone) {
		tb_text_mark(reader, i, 0, TB_READ_HEADING);
		if (reader->piece == NULL)
			tb_text_find_terms(reader, line);
		tb_text_keep_line(reader, reader->notes, i, strspn(line, "# "));
	} else {
		take_content(reader, i, name, section);
	}
}
