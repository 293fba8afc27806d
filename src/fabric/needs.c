/* What a pattern says that is needed, against its sizes and its rows; the rules stand in the header. */
#include "fabric/needs.h"

#include "fabric/rules.h"
#include "fabric/worked.h"
#include "pattern/text_figures.h"
#include "pattern/text_kinds.h"

#include <string.h>

/* Between a figure and its "buttons", as in "5 flat 15 mm wooden buttons". */
#define MOST_BETWEEN 40u
/* A buttonhole of more chains would be an opening. */
#define MOST_CHAINS 6u

static const char amounts[] = "ball balls skein skeins hank hanks cone cones g gr gram grams grammes oz ounce ounces m yd yds yard yards "
	"meter meters metre metres button buttons";

/* Buttons that are told of: one a size, or one for all. */
typedef struct {
	guint32 numbers[TB_MAX_SIZES];
	unsigned count;
	tb_span place;
} buttons;

static unsigned sizes_of(const tb_worked *worked)
{
	return tb_pattern_count_sizes(tb_worked_pattern(worked));
}

/* "buttons" soon behind AT, with nothing but what they are like between: where it ends, or 0. */
static size_t find_buttons(const char *text, size_t at)
{
	size_t behind = at + strspn(text + at, " ");
	double mm;
	/* "15 mm buttons" */
	if (tb_figure_unit(text + behind, &mm) > 0)
		return 0;
	for (size_t i = at; i < at + MOST_BETWEEN && text[i] != '\0' && !tb_is_among(text[i], ".,;:()[]\n"); i++) {
		size_t word = tb_is_among(text[i - 1], " ") ? tb_at_word(text + i, "button buttons") : 0;
		if (word > 0)
			return i + word;
	}
	return 0;
}

static void check_amount(const tb_worked *worked, tb_diagnostics *diagnostics, unsigned count, tb_span place)
{
	tb_where where = {.has_place = true, .place = place};
	if (sizes_of(worked) > 1 && count > 1 && count != sizes_of(worked))
		tb_diagnose_format(diagnostics, TB_ERROR, "amount-sizes", &where, "Give one amount for each size, or one for all.",
			"%u amounts are given here, and the pattern has %u sizes", count, sizes_of(worked));
}

/* The amounts of TEXT, small letters, that stands at START of the source; of buttons, as FOUND. */
static void read_text(const tb_worked *worked, tb_diagnostics *diagnostics, const char *text, size_t start, GArray *found)
{
	for (size_t at = 0; text[at] != '\0';) {
		buttons b;
		bool begins = at == 0 || !(g_ascii_isalnum(text[at - 1]) || tb_is_among(text[at - 1], ".-/"));
		size_t length = begins ? tb_figures_read(text + at, sizes_of(worked), b.numbers, &b.count) : 0;
		if (length == 0) {
			at++;
			continue;
		}
		size_t behind = at + length, noun = behind + strspn(text + behind, " "), word = tb_at_word(text + noun, amounts);
		size_t sewn = find_buttons(text, behind);
		b.place = (tb_span){start + at, start + (sewn > 0 ? sewn : noun + word)};
		if (word > 0 || sewn > 0)
			check_amount(worked, diagnostics, b.count, b.place);
		if (sewn > 0 && (b.count == 1 || b.count == sizes_of(worked)))
			g_array_append_val(found, b);
		at = sewn > 0 ? sewn : behind;
	}
}

/* Whether the line of the source around SPAN calls what it makes buttonholes. */
static bool calls_buttonholes(const tb_pattern *pattern, tb_span span)
{
	size_t length;
	const char *source = tb_source_get_text(pattern->source, &length);
	size_t end = MIN(span.end, length);
	while (end < length && source[end] != '\n')
		end++;
	g_autofree char *line = g_ascii_strdown(source + span.start, (gssize)(end - span.start));
	return strstr(line, "buttonhole") != NULL || strstr(line, "button hole") != NULL;
}

static bool is_called(const char *name)
{
	g_autofree char *lower = name != NULL ? g_ascii_strdown(name, -1) : NULL;
	return lower != NULL && (strstr(lower, "buttonhole") != NULL || strstr(lower, "button hole") != NULL);
}

/* How many buttonholes ROW has: short chains by themselves, over stitches that are missed. */
static guint32 count_holes(const tb_fabric *f, const tb_library *library, const tb_made_row *row)
{
	tb_stitches s = tb_fabric_stitches(f, library);
	guint32 holes = 0;
	for (guint32 i = row->first; i < row->first + row->count && !row->taken;) {
		guint32 chains = 0;
		bool over = true;
		for (; i < row->first + row->count && tb_rule_is_bridge(&s, i); i++, chains++)
			over = over && tb_rule_below(&s, i) != TB_NONE;
		holes += chains > 0 && chains <= MOST_CHAINS && over;
		i += chains == 0;
	}
	return holes;
}

/* The buttonholes of all pieces in SIZE; 0 where none are known. */
static guint32 holes_in(const tb_worked *worked, unsigned size)
{
	const tb_pattern *pattern = tb_worked_pattern(worked);
	guint32 called = 0, only = 0, rows = 0;
	for (unsigned piece = 0; piece < tb_pattern_count_pieces(pattern); piece++) {
		const tb_fabric *f = tb_worked_fabric(worked, piece, size);
		bool whole = is_called(tb_pattern_get_piece(pattern, piece));
		for (guint32 r = 1; r < f->row_count; r++) {
			const tb_made_row *row = &f->rows[r];
			guint32 holes = count_holes(f, pattern->library, row);
			if (f->has_fault)
				return 0;
			if (holes > 0 && (whole || is_called(row->part) || (row->sentence != NULL && calls_buttonholes(pattern, row->sentence->span))))
				called += holes;
			rows += holes > 0;
			only = holes > 0 ? holes : only;
		}
	}
	return called > 0 ? called : rows == 1 ? only : 0;
}

static void check_buttons(const tb_worked *worked, tb_diagnostics *diagnostics, const GArray *found)
{
	for (unsigned size = 0; size < sizes_of(worked); size++) {
		guint32 holes = holes_in(worked, size), wrong = 0;
		const buttons *told = NULL;
		for (guint i = 0; i < found->len && holes > 0; i++) {
			const buttons *b = &g_array_index(found, buttons, i);
			guint32 number = b->numbers[b->count == 1 ? 0 : size];
			if (number == holes)
				holes = 0;
			told = b;
			wrong = number;
		}
		if (holes == 0 || told == NULL)
			continue;
		tb_where where = {.has_place = true, .place = told->place, .sizes = sizes_of(worked) > 1 ? (tb_size_set)1 << size : 0};
		tb_diagnose_format(diagnostics, TB_WARNING, "buttons-differ", &where, "Check the buttons against the row of buttonholes.",
			"%u buttons are told of here, and %u buttonhole%s made", (unsigned)wrong, (unsigned)holes, holes == 1 ? " is" : "s are");
	}
}

void tb_needs_check(const tb_worked *worked, tb_diagnostics *diagnostics)
{
	const tb_pattern *pattern = tb_worked_pattern(worked);
	const char *source = tb_source_get_text(pattern->source, NULL);
	g_autoptr(GArray) found = g_array_new(FALSE, FALSE, sizeof(buttons));
	bool holes = false;
	for (guint i = 0; i < pattern->reads->len; i++) {
		const tb_read *read = &g_array_index(pattern->reads, tb_read, i);
		g_autofree char *text = g_ascii_strdown(source + read->span.start, (gssize)(read->span.end - read->span.start));
		holes = holes || is_called(text);
		if (read->as == TB_READ_FACT || read->as == TB_READ_REMARK || read->as == TB_READ_FINISHING)
			read_text(worked, diagnostics, text, read->span.start, found);
	}
	if (holes && found->len > 0)
		check_buttons(worked, diagnostics, found);
}
