/* What pieces and garment measure; the rules stand in the header. */
#include "fabric/sized.h"

#include "fabric/garment.h"
#include "fabric/rules.h"

#include <string.h>

/* So many stitches fewer at once are the steps of a shoulder. */
#define SHOULDER_STEP 3u
/* An edging is seldom deeper; so many rounds of one number make a tube. */
#define ROWS_THAT_GO_ON 4u
#define ROUNDS_OF_TUBE 3u

typedef struct {
	const tb_worked *worked;
	const tb_pattern *pattern;
	unsigned pieces, sizes;
	GArray *all; /* tb_sized */
} sizing;

const char *tb_sized_name(tb_finished_kind kind)
{
	static const char *const names[] = {[TB_FINISHED_BUST] = "Bust", [TB_FINISHED_WIDTH] = "Width",
		[TB_FINISHED_LENGTH] = "Length", [TB_FINISHED_AROUND] = "Around", [TB_FINISHED_HEM] = "Hem",
		[TB_FINISHED_CUFF] = "Cuff", [TB_FINISHED_UPPER_ARM] = "Upper arm", [TB_FINISHED_TO_UNDERARM] = "To underarm",
		[TB_FINISHED_ARMHOLE] = "Armhole", [TB_FINISHED_YOKE] = "Yoke", [TB_FINISHED_SHOULDER] = "Shoulder",
		[TB_FINISHED_NECK] = "Neck", [TB_FINISHED_FIT] = "To fit bust", [TB_FINISHED_EASE] = "Ease"};
	return names[kind];
}

static void clear_sized(void *sized)
{
	g_free(((tb_sized *)sized)->of);
}

static const tb_piece *piece_at(const sizing *s, unsigned piece)
{
	return tb_pattern_piece(s->pattern, piece);
}

/* Whether PIECE is called WORD, and is nothing that is put on one: "Sleeve edging", "Front band". */
static bool is_called(const sizing *s, unsigned piece, const char *word)
{
	static const char *const others[] = {"band", "edging", "border", "collar", "pocket", "strap", "neckband", "trim", "cuff",
		"rib", "hood", "facing", "placket", "yoke"};
	const char *name = piece_at(s, piece)->name;
	if (!tb_garment_is_called(name, word))
		return false;
	for (size_t i = 0; i < G_N_ELEMENTS(others); i++) {
		if (strcmp(others[i], word) != 0 && tb_garment_is_called(name, others[i]))
			return false;
	}
	return true;
}

/* The length in SIZE goes to a list of KIND, OF PIECE. */
static void set(sizing *s, tb_finished_kind kind, int piece, unsigned size, double mm, bool around)
{
	if (!(mm > 0))
		return;
	for (guint i = 0; i < s->all->len; i++) {
		tb_sized *sized = &g_array_index(s->all, tb_sized, i);
		if (sized->kind == kind && sized->piece == piece) {
			sized->mm[size] = mm;
			return;
		}
	}
	tb_sized sized = {.kind = kind, .piece = piece, .around = around};
	sized.mm[size] = mm;
	g_array_append_val(s->all, sized);
}

guint32 tb_sized_edging(const tb_fabric *fabric, bool *goes_on)
{
	const tb_made_row *rows = fabric->rows;
	tb_stitches cloth = tb_fabric_stitches(fabric, NULL);
	guint32 at = fabric->row_count;
	for (guint32 i = 2; i < fabric->row_count && at == fabric->row_count; i++) {
		/* far more around the rows than they are wide */
		bool around = rows[i].is_round && !rows[1].is_round && rows[i].stitches > rows[i - 1].stitches * 2;
		at = around || tb_rule_is_along(&cloth, i) ? i : at;
	}
	if (goes_on == NULL)
		return at;
	/* all four sides are twice the width and twice the rows, of which three ends in four may be worked */
	bool all_sides = at < fabric->row_count && rows[at].is_round &&
		rows[at].stitches > 1.6 * rows[at - 1].stitches + 1.35 * (at - 1);
	*goes_on = at < fabric->row_count && !all_sides && fabric->row_count - at >= ROWS_THAT_GO_ON;
	return at;
}

static tb_across across_of(const tb_fabric *fabric)
{
	bool goes_on;
	guint32 edging = tb_sized_edging(fabric, &goes_on), begin = goes_on ? edging : 1;
	guint32 end = goes_on ? fabric->row_count : edging, widest = 0, run = 0, longest = 0;
	if (begin >= end)
		return TB_ACROSS_UNKNOWN;
	for (guint32 i = begin; i < end; i++) {
		if (fabric->rows[i].is_round != fabric->rows[begin].is_round)
			return TB_ACROSS_UNKNOWN;
		if (fabric->rows[i].stitches > widest)
			longest = run = 0;
		widest = MAX(widest, fabric->rows[i].stitches);
		run = fabric->rows[i].stitches == widest ? run + 1 : 0;
		longest = MAX(longest, run);
	}
	if (!fabric->rows[begin].is_round)
		return TB_ACROSS_FLAT;
	return longest == end - begin || longest >= ROUNDS_OF_TUBE ? TB_ACROSS_AROUND : TB_ACROSS_UNKNOWN;
}

tb_across tb_sized_across(const tb_worked *worked, unsigned piece)
{
	tb_across across = TB_ACROSS_UNKNOWN;
	bool any = false;
	for (unsigned size = 0; size < tb_pattern_count_sizes(tb_worked_pattern(worked)); size++) {
		const tb_fabric *fabric = tb_worked_fabric(worked, piece, size);
		if (fabric->row_count < 2)
			continue;
		tb_across one = across_of(fabric);
		if (any && one != across)
			return TB_ACROSS_UNKNOWN;
		across = one;
		any = true;
	}
	return across;
}

/* The last of the widest rows before END, and the first of them. */
static guint32 widest_row(const tb_fabric *fabric, guint32 end, bool first)
{
	guint32 widest = 1;
	for (guint32 i = 2; i < end; i++) {
		double more = fabric->rows[i].width_mm - fabric->rows[widest].width_mm;
		if (more > 1e-9 || (!first && more > -1e-9))
			widest = i;
	}
	return widest;
}

static void size_sleeve(sizing *s, unsigned piece, unsigned size, const tb_fabric *fabric, guint32 end)
{
	const tb_made_row *rows = fabric->rows, *first = &rows[1], *last = &rows[end - 1];
	const tb_made_row *widest = &rows[widest_row(fabric, end, false)];
	bool grows = widest->width_mm > first->width_mm * 1.02, narrows = last->width_mm < widest->width_mm * 0.98;
	bool bound = tb_garment_armhole(rows, end) != TB_NONE;
	bool ends_in_cuff = tb_garment_is_called(last->part, "cuff") || tb_garment_is_called(last->part, "rib");
	bool around = first->is_round;
	if (around != last->is_round)
		return;
	if (!grows && narrows && (around || ends_in_cuff) && !bound) {
		set(s, TB_FINISHED_UPPER_ARM, (int)piece, size, first->width_mm, around);
		set(s, TB_FINISHED_CUFF, (int)piece, size, last->width_mm, around);
		set(s, TB_FINISHED_TO_UNDERARM, (int)piece, size, last->top_mm, false);
	} else if ((grows && (!narrows || !around)) || (!grows && (!narrows || bound))) {
		set(s, TB_FINISHED_CUFF, (int)piece, size, first->width_mm, around);
		set(s, TB_FINISHED_UPPER_ARM, (int)piece, size, widest->width_mm, around);
		set(s, TB_FINISHED_TO_UNDERARM, (int)piece, size, widest->top_mm, false);
	}
}

/* The row at the second shoulder's foot, that both shoulders stand on; 0 where the rows do not part once. */
static guint32 dividing_row(const tb_fabric *fabric, guint32 end, guint32 *second)
{
	*second = 0;
	for (guint32 i = 2; i < end; i++) {
		if (fabric->rows[i].stands + 1 == i)
			continue;
		if (*second > 0)
			return 0;
		*second = i;
	}
	return *second > 0 ? fabric->rows[*second].stands : 0;
}

/* How wide the shoulder is that rows FROM to before END make: before the first of its steps. */
static double shoulder_of(const tb_made_row *rows, guint32 from, guint32 end)
{
	for (guint32 i = from + 1; i < end; i++) {
		guint32 before = rows[i - 1].stitches;
		/* the neck takes steps as well, but a shoulder's are its last */
		if (before >= rows[i].stitches + SHOULDER_STEP && i + 3 >= end)
			return rows[i - 1].width_mm;
	}
	return rows[end - 1].width_mm;
}

/* Neck and shoulders where a back or front is divided. */
static void size_top(sizing *s, unsigned piece, unsigned size, const tb_fabric *fabric, guint32 end)
{
	guint32 second, divided = dividing_row(fabric, end, &second);
	if (divided == 0)
		return;
	double a = shoulder_of(fabric->rows, divided + 1, second), b = shoulder_of(fabric->rows, second, end);
	double neck = fabric->rows[divided].width_mm - a - b;
	if (fabric->rows[second - 1].is_round || a > b * 1.1 || b > a * 1.1)
		return;
	set(s, TB_FINISHED_SHOULDER, (int)piece, size, (a + b) / 2, false);
	set(s, TB_FINISHED_NECK, (int)piece, size, neck, false);
}

/* Whether PIECE is worked from the top down: it grows from a yoke, or one was worked before it. */
static bool is_from_top(const sizing *s, unsigned piece)
{
	const char *from = piece_at(s, piece)->from_piece;
	bool after = false, before = false;
	for (unsigned i = 0; i < s->pieces; i++) {
		bool yoke = tb_garment_is_called(piece_at(s, i)->name, "yoke");
		before = before || (yoke && i < piece);
		after = after || (yoke && i > piece);
	}
	return tb_garment_is_called(from, "yoke") || (before && !after);
}

/* The row at the bust of a back, front or body, as an index; 0 where it is not known. */
static guint32 bust_row(const sizing *s, unsigned piece, const tb_fabric *fabric, guint32 end)
{
	if (is_called(s, piece, "body") && is_from_top(s, piece))
		return 1;
	guint32 armhole = tb_garment_armhole(fabric->rows, end), second;
	if (armhole != TB_NONE && armhole > 0)
		return armhole;
	/* a body that is divided further up, for its fronts and back */
	guint32 divided = dividing_row(fabric, end, &second);
	guint32 widest = widest_row(fabric, divided > 0 ? divided + 1 : end, false);
	return fabric->rows[widest].stands + 1 == widest || widest == 1 ? widest : 0;
}

static void size_body(sizing *s, unsigned piece, unsigned size, const tb_fabric *fabric, guint32 end)
{
	const tb_made_row *rows = fabric->rows;
	bool down = is_from_top(s, piece), body = is_called(s, piece, "body"), around = rows[1].is_round;
	const tb_made_row *hem = down ? &rows[end - 1] : &rows[1];
	if (piece_at(s, piece)->from_piece == NULL || down)
		set(s, TB_FINISHED_HEM, (int)piece, size, hem->width_mm, around);
	guint32 armhole = tb_garment_armhole(rows, end);
	if (!body && armhole != TB_NONE && armhole > 0)
		set(s, TB_FINISHED_ARMHOLE, (int)piece, size, fabric->length_mm - rows[armhole].top_mm, false);
	if (!around)
		size_top(s, piece, size, fabric, end);
}

/* A yoke in rounds or rows is narrowest at the neck, and that is one of its ends. */
static void size_yoke(sizing *s, unsigned piece, unsigned size, const tb_fabric *fabric, guint32 end)
{
	const tb_made_row *first = &fabric->rows[1], *last = &fabric->rows[end - 1];
	const tb_made_row *neck = first->width_mm <= last->width_mm ? first : last;
	set(s, TB_FINISHED_YOKE, (int)piece, size, last->top_mm, false);
	if (first->is_round == last->is_round)
		set(s, TB_FINISHED_NECK, (int)piece, size, neck->width_mm, true);
}

static void size_piece(sizing *s, unsigned piece, unsigned size)
{
	const tb_fabric *fabric = tb_worked_fabric(s->worked, piece, size);
	bool goes_on;
	guint32 end = tb_sized_edging(fabric, &goes_on);
	if (end < 2 || goes_on || fabric->has_fault)
		return;
	if (is_called(s, piece, "sleeve"))
		size_sleeve(s, piece, size, fabric, end);
	else if (is_called(s, piece, "yoke"))
		size_yoke(s, piece, size, fabric, end);
	else if (is_called(s, piece, "back") || is_called(s, piece, "front") || is_called(s, piece, "body"))
		size_body(s, piece, size, fabric, end);
}

/* Which pieces go around the bust, and how often each; false where it is not known. */
static bool find_around(const sizing *s, guint *times)
{
	unsigned backs = 0, fronts = 0, lefts = 0, rights = 0, bodies = 0;
	for (unsigned i = 0; i < s->pieces; i++) {
		const tb_piece *piece = piece_at(s, i);
		bool back = is_called(s, i, "back"), front = is_called(s, i, "front");
		times[i] = 0;
		/* "Right shoulder", "Back yoke" grow from another that is counted */
		if (piece->from_piece != NULL && !is_called(s, i, "body"))
			continue;
		if (is_called(s, i, "body")) {
			bodies++;
			times[i] = 1;
		} else if (back || front) {
			times[i] = MAX(piece->make, 1);
			bool left = tb_garment_is_called(piece->name, "left"), right = tb_garment_is_called(piece->name, "right");
			backs += back ? times[i] : 0;
			lefts += front && left ? times[i] : 0;
			rights += front && right ? times[i] : 0;
			fronts += front && !left && !right && !back ? times[i] : 0;
		}
	}
	if (bodies == 1 && backs + fronts + lefts + rights == 0)
		return true;
	bool both = backs == 2 && fronts + lefts + rights == 0;
	bool parts = backs == 1 && ((fronts >= 1 && fronts <= 2 && lefts + rights == 0) || (fronts == 0 && lefts == 1 && rights == 1));
	return bodies == 0 && (both || parts);
}

static char *name_around(const sizing *s, const guint *times)
{
	GString *text = g_string_new(NULL);
	unsigned left = 0;
	for (unsigned i = 0; i < s->pieces; i++)
		left += times[i] > 0;
	for (unsigned i = 0; i < s->pieces; i++) {
		if (times[i] == 0)
			continue;
		left--;
		g_string_append_printf(text, "%s%s%s", text->len == 0 ? "" : left == 0 ? " and " : ", ", times[i] == 2 ? "twice " : "",
			piece_at(s, i)->name);
	}
	return g_string_free(text, FALSE);
}

static void size_whole(sizing *s)
{
	g_autofree guint *times = g_new0(guint, s->pieces + 1);
	if (!find_around(s, times))
		return;
	guint before = s->all->len;
	for (unsigned size = 0; size < s->sizes; size++) {
		double sum = 0;
		bool known = true;
		for (unsigned i = 0; i < s->pieces; i++) {
			const tb_fabric *fabric = tb_worked_fabric(s->worked, i, size);
			bool goes_on;
			guint32 end = tb_sized_edging(fabric, &goes_on);
			if (times[i] == 0)
				continue;
			guint32 row = end < 2 || goes_on || fabric->has_fault ? 0 : bust_row(s, i, fabric, end);
			known = known && row > 0;
			sum += row > 0 ? times[i] * fabric->rows[row].width_mm : 0;
		}
		if (known)
			set(s, TB_FINISHED_BUST, -1, size, sum, true);
	}
	if (s->all->len > before)
		g_array_index(s->all, tb_sized, before).of = name_around(s, times);
}

GArray *tb_sized_find(const tb_worked *worked)
{
	sizing s = {.worked = worked, .pattern = tb_worked_pattern(worked)};
	s.pieces = tb_pattern_count_pieces(s.pattern);
	s.sizes = tb_pattern_count_sizes(s.pattern);
	s.all = g_array_new(FALSE, FALSE, sizeof(tb_sized));
	g_array_set_clear_func(s.all, clear_sized);
	for (unsigned piece = 0; piece < s.pieces && s.pattern->gauge.given; piece++) {
		for (unsigned size = 0; size < s.sizes; size++)
			size_piece(&s, piece, size);
	}
	if (s.pattern->gauge.given)
		size_whole(&s);
	return s.all;
}
