/* Motifs that are made against motifs that lie; the rules stand in the header. */
#include "fabric/laid.h"

#include "fabric/sized.h"
#include "pattern/pattern.h"

#include <math.h>
#include <string.h>

/* A number a size, where it is known. */
typedef struct {
	bool known;
	guint32 in[TB_MAX_SIZES];
	const tb_laid *by; /* who said it last */
} amount;

static unsigned sizes_of(const tb_pattern *pattern)
{
	return tb_pattern_count_sizes(pattern);
}

static const tb_laid *get(const tb_pattern *pattern, guint i)
{
	return &g_array_index(pattern->laid, tb_laid, i);
}

/* Whether it has a figure for each size, or one for all. */
static bool fits(const tb_pattern *pattern, const tb_laid *laid)
{
	unsigned sizes = sizes_of(pattern);
	return (laid->count == 1 || laid->count == sizes) && (laid->kind != TB_LAID_OUT || laid->other_count == 1 || laid->other_count == sizes);
}

/* How many motifs LAID speaks of in SIZE, one part of it alone. */
static guint32 many(const tb_laid *laid, unsigned size)
{
	guint32 first = laid->first[laid->count == 1 ? 0 : size];
	if (laid->kind == TB_LAID_OUT)
		return first * laid->second[laid->other_count == 1 ? 0 : size];
	return laid->kind == TB_LAID_TIER ? first * laid->times : first;
}

static bool is_of(const char *a, const char *b)
{
	size_t length = a != NULL ? strlen(a) : 0, other = b != NULL ? strlen(b) : 0;
	length -= length > 0 && a[length - 1] == 's';
	other -= other > 0 && b[other - 1] == 's';
	return length == other && (a == NULL || b == NULL || strncmp(a, b, length) == 0);
}

/* Whether an earlier statement than I says the same of the same. */
static bool is_said_before(const tb_pattern *pattern, guint i, guint *before)
{
	const tb_laid *laid = get(pattern, i);
	for (guint k = 0; k < i && laid->kind != TB_LAID_TIER; k++) {
		const tb_laid *other = get(pattern, k);
		if (other->kind != laid->kind || !is_of(other->of, laid->of) || !fits(pattern, other) ||
			(laid->kind == TB_LAID_MADE && other->piece != laid->piece))
			continue;
		*before = k;
		return true;
	}
	return false;
}

/* Adds what KIND says of PIECE (-2: of any) and of OF, or where PARTS are asked for of whatever part. */
static amount sum(const tb_pattern *pattern, tb_laid_kind kind, int piece, const char *of, bool parts)
{
	amount all = {.known = false};
	guint before;
	for (guint i = 0; i < pattern->laid->len; i++) {
		const tb_laid *laid = get(pattern, i);
		bool asked = parts ? laid->of != NULL : is_of(laid->of, of);
		if (laid->kind != kind || !asked || (piece > -2 && laid->piece != piece) || !fits(pattern, laid) || is_said_before(pattern, i, &before))
			continue;
		all.known = true;
		all.by = laid;
		for (unsigned size = 0; size < sizes_of(pattern); size++)
			all.in[size] += many(laid, size) * (parts && kind != TB_LAID_TIER ? laid->times : 1);
	}
	return all;
}

/* How many of PIECE are made: as it is said, or the sum of the parts. */
static amount made_of(const tb_pattern *pattern, int piece)
{
	amount made = sum(pattern, TB_LAID_MADE, piece, NULL, false);
	if (!made.known)
		made = sum(pattern, TB_LAID_MADE, piece, NULL, true);
	return made.known || piece == -1 ? made : sum(pattern, TB_LAID_TIER, piece, NULL, true);
}

/* All motifs: as it is said of them together, or the sum of the kinds. */
static amount made_in_all(const tb_pattern *pattern)
{
	amount all = made_of(pattern, -1);
	for (unsigned piece = 0; piece < tb_pattern_count_pieces(pattern) && (!all.known || all.by->piece >= 0); piece++) {
		amount made = made_of(pattern, (int)piece);
		all.known = all.known || made.known;
		all.by = made.known ? made.by : all.by;
		for (unsigned size = 0; size < sizes_of(pattern) && made.known; size++)
			all.in[size] += made.in[size];
	}
	return all;
}

/* To whom it is told. */
typedef struct {
	const tb_pattern *pattern;
	tb_diagnostics *diagnostics;
	int piece; /* the motif; -1: of them all */
} telling;

/* Tells at AT where more LIE than are MADE, or fewer; where both say the same thing EXACTly, either is wrong. */
static void compare(const telling *t, const tb_laid *at, const amount *lie, const amount *made, bool exact)
{
	tb_size_set more = 0, fewer = 0;
	guint32 a[2] = {0}, b[2] = {0};
	for (unsigned size = 0; size < sizes_of(t->pattern); size++) {
		bool is_more = lie->in[size] > made->in[size], is_fewer = lie->in[size] < made->in[size];
		if (is_more || (exact && is_fewer)) {
			a[0] = more == 0 ? lie->in[size] : a[0];
			b[0] = more == 0 ? made->in[size] : b[0];
			more |= (tb_size_set)1 << size;
		} else if (is_fewer) {
			a[1] = fewer == 0 ? lie->in[size] : a[1];
			b[1] = fewer == 0 ? made->in[size] : b[1];
			fewer |= (tb_size_set)1 << size;
		}
	}
	tb_where where = {.has_place = true, .place = at->place};
	bool graded = sizes_of(t->pattern) > 1;
	g_autofree char *what = t->piece >= 0 ? g_strdup_printf("of “%s”", tb_pattern_get_piece(t->pattern, (unsigned)t->piece)) : g_strdup("motifs");
	where.sizes = graded ? more : 0;
	if (more != 0)
		tb_diagnose_format(t->diagnostics, TB_ERROR, "motifs-differ", &where, "Check how many are made against how they lie.",
			"%u %s are told of here, and %u elsewhere", a[0], what, b[0]);
	where.sizes = graded ? fewer : 0;
	if (fewer != 0 && !exact)
		tb_diagnose_format(t->diagnostics, TB_WARNING, "motifs-left", &where, "Check how many are made against how they lie.",
			"%u %s are told of here, and %u are made", a[1], what, b[1]);
}

static void check_statement(const telling *t, guint i)
{
	const tb_pattern *pattern = t->pattern;
	const tb_laid *laid = get(pattern, i);
	guint before;
	tb_where where = {.has_place = true, .place = laid->place};
	if (!fits(pattern, laid)) {
		tb_diagnose_format(t->diagnostics, laid->kind == TB_LAID_SIZE ? TB_WARNING : TB_ERROR, "motifs-sizes", &where,
			"Give one figure for each size, or one for all.", "%u figures are given here, and the pattern has %u sizes",
			laid->count != 1 ? laid->count : laid->other_count, sizes_of(pattern));
		return;
	}
	if (laid->kind > TB_LAID_OUT || !is_said_before(pattern, i, &before))
		return;
	amount here = {.known = true, .by = laid}, there = {.known = true, .by = get(pattern, before)};
	for (unsigned size = 0; size < sizes_of(pattern); size++) {
		here.in[size] = many(laid, size);
		there.in[size] = many(there.by, size);
	}
	/* fewer may be joined at a time */
	compare(t, laid, &here, &there, !laid->joined);
}

/* What lies in a part against what is made for it. */
static void check_part(const telling *t, guint i)
{
	const tb_pattern *pattern = t->pattern;
	const tb_laid *laid = get(pattern, i);
	guint before;
	if (laid->of == NULL || !fits(pattern, laid) || is_said_before(pattern, i, &before))
		return;
	amount made = sum(pattern, TB_LAID_MADE, -2, laid->of, false);
	amount lie = sum(pattern, laid->kind, -2, laid->of, false);
	if (made.known && (laid->kind == TB_LAID_OUT || laid->kind == TB_LAID_TIER))
		compare(t, lie.by, &lie, &made, false);
}

/* Whether something is measured by what LAID says one motif, or its first rounds, measure. */
static bool is_measured_by(const tb_worked *worked, const tb_laid *laid)
{
	const tb_pattern *pattern = tb_worked_pattern(worked);
	bool used = laid->kind == TB_LAID_SIZE && laid->piece >= 0;
	for (guint i = 0; i < pattern->laid->len && laid->kind == TB_LAID_SIZE; i++)
		used = used || get(pattern, i)->kind == TB_LAID_OUT;
	for (unsigned piece = 0; piece < tb_pattern_count_pieces(pattern) && laid->kind == TB_LAID_ROUNDS; piece++)
		used = used || tb_laid_across_mm(worked, piece, 0, NULL) > 0;
	return used;
}

void tb_laid_check(const tb_worked *worked, tb_diagnostics *diagnostics)
{
	const tb_pattern *pattern = tb_worked_pattern(worked);
	telling t = {pattern, diagnostics, -1};
	for (guint i = 0; i < pattern->laid->len; i++) {
		const tb_laid *laid = get(pattern, i);
		tb_where where = {.has_place = true, .place = laid->place};
		check_statement(&t, i);
		check_part(&t, i);
		if (laid->gauges && !is_measured_by(worked, laid))
			tb_diagnose_format(diagnostics, TB_WARNING, "gauge-value", &where, "Write it as “13 sts and 9 rows = 10 cm”.",
				"no stitches are counted here, so nothing is measured");
	}
	for (int piece = -1; piece < (int)tb_pattern_count_pieces(pattern) && pattern->laid->len > 0; piece++) {
		t.piece = piece;
		amount total = sum(pattern, TB_LAID_MADE, piece, NULL, false), parts = sum(pattern, TB_LAID_MADE, piece, NULL, true);
		amount tiers = sum(pattern, TB_LAID_TIER, piece, NULL, true);
		if (total.known && parts.known)
			compare(&t, parts.by, &parts, &total, false);
		if (total.known && tiers.known)
			compare(&t, tiers.by, &tiers, &total, false);
	}
	t.piece = -1;
	amount made = made_in_all(pattern), whole = sum(pattern, TB_LAID_OUT, -2, NULL, false), parts = sum(pattern, TB_LAID_OUT, -2, NULL, true);
	if (made.known && whole.known)
		compare(&t, whole.by, &whole, &made, false);
	/* parts that are not told of may have the rest */
	for (unsigned size = 0; size < sizes_of(pattern) && parts.known; size++)
		parts.in[size] = made.known && parts.in[size] < made.in[size] ? made.in[size] : parts.in[size];
	if (made.known && parts.known)
		compare(&t, parts.by, &parts, &made, false);
}

guint32 tb_laid_made(const tb_pattern *pattern, unsigned piece, unsigned size)
{
	amount made = made_of(pattern, (int)piece);
	return made.known ? made.in[size] : MAX(tb_pattern_piece(pattern, piece)->make, 1);
}

double tb_laid_across_mm(const tb_worked *worked, unsigned piece, unsigned size, guint32 *rounds)
{
	const tb_pattern *pattern = tb_worked_pattern(worked);
	const tb_fabric *fabric = tb_worked_fabric(worked, piece, size);
	for (guint i = 0; i < pattern->laid->len; i++) {
		const tb_laid *laid = get(pattern, i);
		bool around = laid->kind == TB_LAID_ROUNDS && fabric->row_count > laid->first[0] && fabric->rows[1].is_round &&
			tb_sized_across(worked, piece) == TB_ACROSS_UNKNOWN;
		if (!around || !fits(pattern, laid))
			continue;
		if (rounds != NULL)
			*rounds = laid->first[0];
		return laid->mm[laid->count == 1 ? 0 : size] * (fabric->row_count - 1) / laid->first[0];
	}
	return 0;
}

/* What one motif measures in SIZE: as it is said of it, or of the only kind; false where it leans or nothing is said. */
static bool measure(const tb_worked *worked, int piece, unsigned size, double *wide, double *high)
{
	const tb_pattern *pattern = tb_worked_pattern(worked);
	const tb_laid *found = NULL;
	for (guint i = 0; i < pattern->laid->len; i++) {
		const tb_laid *laid = get(pattern, i);
		if (laid->leans)
			return false;
		if (laid->kind != TB_LAID_SIZE || !fits(pattern, laid))
			continue;
		bool other = found != NULL && fabs(found->mm[found->count == 1 ? 0 : size] - laid->mm[laid->count == 1 ? 0 : size]) > 2.5;
		if (other)
			return false;
		found = found == NULL ? laid : found;
	}
	double across = found == NULL ? tb_laid_across_mm(worked, piece >= 0 ? (unsigned)piece : 0, size, NULL) : 0;
	*wide = found != NULL ? found->mm[found->count == 1 ? 0 : size] : across;
	*high = found != NULL ? found->high_mm[found->count == 1 ? 0 : size] : across;
	return *wide > 0 && *high > 0;
}

static void add_made(GArray *sums, const tb_pattern *pattern, const char *what, const amount *made)
{
	tb_laid_sum one = {.what = g_strdup(what), .times = 1};
	for (unsigned size = 0; size < sizes_of(pattern); size++)
		one.made[size] = made->in[size];
	g_array_append_val(sums, one);
}

static void add_laid(GArray *sums, const tb_worked *worked, const tb_laid *laid)
{
	const tb_pattern *pattern = tb_worked_pattern(worked);
	tb_laid_sum one = {.times = laid->times};
	one.what = laid->of == NULL ? g_strdup("All") : g_strdup(laid->of);
	*one.what = g_ascii_toupper(*one.what);
	for (unsigned size = 0; size < sizes_of(pattern); size++) {
		double wide, high;
		one.made[size] = many(laid, size);
		one.rows[size] = laid->first[laid->count == 1 ? 0 : size];
		one.across[size] = laid->second[laid->other_count == 1 ? 0 : size];
		if (!measure(worked, laid->piece, size, &wide, &high))
			continue;
		one.wide_mm[size] = wide * one.across[size];
		one.high_mm[size] = high * one.rows[size];
	}
	g_array_append_val(sums, one);
}

static void clear_sum(void *one)
{
	g_free(((tb_laid_sum *)one)->what);
}

GArray *tb_laid_reckon(const tb_worked *worked)
{
	const tb_pattern *pattern = tb_worked_pattern(worked);
	GArray *sums = g_array_new(FALSE, FALSE, sizeof(tb_laid_sum));
	g_array_set_clear_func(sums, clear_sum);
	guint before;
	bool counted = false;
	for (guint i = 0; i < pattern->laid->len; i++)
		counted = counted || (get(pattern, i)->kind <= TB_LAID_TIER && fits(pattern, get(pattern, i)));
	for (int piece = 0; piece < (int)tb_pattern_count_pieces(pattern) && counted; piece++) {
		amount made = made_of(pattern, piece);
		if (made.known)
			add_made(sums, pattern, tb_pattern_get_piece(pattern, (unsigned)piece), &made);
	}
	amount all = made_of(pattern, -1);
	if (all.known && counted)
		add_made(sums, pattern, "Motifs in all", &all);
	for (guint i = 0; i < pattern->laid->len; i++) {
		const tb_laid *laid = get(pattern, i);
		if (laid->kind == TB_LAID_OUT && fits(pattern, laid) && !is_said_before(pattern, i, &before))
			add_laid(sums, worked, laid);
	}
	return sums;
}
