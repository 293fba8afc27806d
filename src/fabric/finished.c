/* Stated measurements against worked ones; the rules stand in the header. */
#include "fabric/finished.h"

#include "fabric/garment.h"
#include "support/units.h"

#include <math.h>
#include <string.h>

#define IN_PIECE_MM (TB_MM_PER_INCH / 2)
#define AROUND_MM TB_MM_PER_INCH
/* A band is no deeper, where its rows do not tell. */
#define BAND_MM (3 * TB_MM_PER_INCH)

double tb_finished_in(const tb_finished *finished, unsigned size)
{
	return finished->mm[finished->count == 1 ? 0 : MIN(size, TB_MAX_SIZES - 1)];
}

const tb_finished *tb_finished_find(const tb_pattern *pattern, tb_finished_kind kind)
{
	for (guint i = 0; i < pattern->finished->len; i++) {
		const tb_finished *finished = &g_array_index(pattern->finished, tb_finished, i);
		if (finished->kind == kind && finished->piece == NULL)
			return finished;
	}
	return NULL;
}

/* The piece that FINISHED is about: that it is said of, or the only one; of a length, the back. -1: of none. */
static int piece_of(const tb_pattern *pattern, const tb_finished *finished)
{
	unsigned pieces = tb_pattern_count_pieces(pattern);
	if (finished->piece != NULL)
		return tb_pattern_find_piece(pattern, finished->piece);
	/* what is made of many is their sum, and no one of them */
	if (pieces == 1)
		return tb_pattern_piece(pattern, 0)->make > 2 && finished->kind != TB_FINISHED_AROUND ? -1 : 0;
	int back = -1;
	for (unsigned i = 0; i < pieces && finished->kind == TB_FINISHED_LENGTH; i++) {
		const char *name = tb_pattern_get_piece(pattern, i);
		back = g_ascii_strcasecmp(name, "back") == 0 ? (int)i : back;
	}
	return back;
}

/* Of several pieces that have it, "Left Sleeve" and "Right Sleeve", the first, where they are alike. */
static const tb_sized *find_sized(const tb_worked *worked, const GArray *sized, const tb_finished *finished)
{
	const tb_pattern *pattern = tb_worked_pattern(worked);
	int piece = finished->piece != NULL ? tb_pattern_find_piece(pattern, finished->piece) : -1;
	const tb_sized *found = NULL;
	for (guint i = 0; i < sized->len; i++) {
		const tb_sized *one = &g_array_index(sized, tb_sized, i);
		if (one->kind != finished->kind || (piece >= 0 && one->piece != piece && one->piece >= 0))
			continue;
		/* a yoke's neck goes around, and a back's lies across */
		if (found != NULL && found->around != one->around)
			return NULL;
		for (unsigned size = 0; found != NULL && size < tb_pattern_count_sizes(pattern); size++) {
			if (fabs(found->mm[size] - one->mm[size]) > IN_PIECE_MM)
				return NULL;
		}
		found = found == NULL ? one : found;
	}
	return found;
}

/* Bands and edgings, which a stated bust may have in it: how deep they are in SIZE. */
static double bands_mm(const tb_worked *worked, unsigned size)
{
	static const char *const words[] = {"band", "edging", "border", "rib", "ribbing", "button", "placket", "trim", "collar"};
	const tb_pattern *pattern = tb_worked_pattern(worked);
	double deepest = 0;
	for (unsigned i = 0; i < tb_pattern_count_pieces(pattern); i++) {
		const tb_fabric *fabric = tb_worked_fabric(worked, i, size);
		for (size_t k = 0; k < G_N_ELEMENTS(words); k++) {
			bool whole = tb_garment_is_called(tb_pattern_get_piece(pattern, i), words[k]);
			for (guint32 r = 1; r < fabric->row_count; r++) {
				if (whole || tb_garment_is_called(fabric->rows[r].part, words[k]))
					deepest = fmax(deepest, BAND_MM);
			}
		}
	}
	return deepest;
}

/* What differs of one statement: by size, and the most there may be between. */
typedef struct {
	const tb_finished *finished;
	const char *what, *of;
	double stated, worked; /* in the first size that differs */
	tb_size_set sizes;
} differing;

static void compare(differing *d, unsigned size, double stated, double worked, double most)
{
	if (!(stated > 0) || !(worked > 0) || fabs(stated - worked) <= most)
		return;
	if (d->sizes == 0) {
		d->stated = stated;
		d->worked = worked;
	}
	d->sizes |= (tb_size_set)1 << size;
}

static char *both_units(double mm)
{
	char cm[G_ASCII_DTOSTR_BUF_SIZE], in[G_ASCII_DTOSTR_BUF_SIZE];
	g_ascii_formatd(cm, sizeof cm, "%.1f", mm / 10);
	g_ascii_formatd(in, sizeof in, "%.1f", mm / TB_MM_PER_INCH);
	return g_strdup_printf("%s cm (%s in)", cm, in);
}

static void tell(const tb_worked *worked, tb_diagnostics *diagnostics, const differing *d)
{
	if (d->sizes == 0)
		return;
	tb_where where = {.has_place = true, .place = d->finished->place, .piece = d->finished->piece,
		.sizes = tb_pattern_count_sizes(tb_worked_pattern(worked)) > 1 ? d->sizes : 0};
	g_autofree char *stated = both_units(d->stated), *made = both_units(d->worked);
	tb_diagnose_format(diagnostics, TB_WARNING, "finished-differs", &where,
		"Check the gauge, the counts, or what is stated.", "%c%s is stated as %s, and %s come%s to %s", g_ascii_tolower(*d->what), d->what + 1, stated,
		d->of != NULL ? d->of : "the rows", d->of != NULL && strstr(d->of, " and ") == NULL ? "s" : "", made);
}

/* Width, length and girth are those of a piece as a whole. */
static bool check_piece(const tb_worked *worked, const tb_finished *finished, differing *d)
{
	const tb_pattern *pattern = tb_worked_pattern(worked);
	bool whole = finished->kind == TB_FINISHED_WIDTH || finished->kind == TB_FINISHED_LENGTH || finished->kind == TB_FINISHED_AROUND;
	int piece = whole ? piece_of(pattern, finished) : -1;
	for (unsigned size = 0; size < tb_pattern_count_sizes(pattern) && piece >= 0; size++) {
		const tb_fabric *fabric = tb_worked_fabric(worked, (unsigned)piece, size);
		double stated = tb_finished_in(finished, size), row = 0, edging = 0;
		bool goes_on;
		guint32 edge = tb_sized_edging(fabric, &goes_on);
		if (fabric->row_count < 2 || fabric->has_fault || goes_on)
			continue;
		/* at one side, or at both */
		for (guint32 i = edge; i < fabric->row_count; i++)
			edging += stated > (finished->kind == TB_FINISHED_LENGTH ? fabric->length_mm : fabric->width_mm) ?
				2 * fabric->rows[i].height_mm : 0;
		bool around = fabric->rows[1].is_round, flat = !around && !fabric->rows[edge - 1].is_round;
		for (guint32 i = 1; i < edge; i++)
			row = fmax(row, fabric->rows[i].height_mm);
		if (finished->kind == TB_FINISHED_LENGTH)
			compare(d, size, stated, flat || around ? fabric->length_mm : 0, fmax(IN_PIECE_MM, row) + edging);
		else if (finished->kind == TB_FINISHED_WIDTH && flat)
			compare(d, size, stated, fabric->width_mm, fmax(IN_PIECE_MM, fabric->column_mm) + edging);
		else if (finished->kind == TB_FINISHED_AROUND && around)
			compare(d, size, stated, fabric->width_mm, fmax(AROUND_MM, fabric->column_mm));
	}
	return whole;
}

static void check_sized(const tb_worked *worked, const tb_sized *sized, const tb_finished *finished, differing *d)
{
	const tb_pattern *pattern = tb_worked_pattern(worked);
	d->of = sized->of != NULL ? sized->of : tb_pattern_get_piece(pattern, (unsigned)sized->piece);
	for (unsigned size = 0; size < tb_pattern_count_sizes(pattern); size++) {
		double stated = tb_finished_in(finished, size), most = sized->around ? AROUND_MM : IN_PIECE_MM;
		const tb_fabric *fabric = tb_worked_fabric(worked, sized->piece >= 0 ? (unsigned)sized->piece : 0, size);
		most = fmax(most, sized->piece >= 0 ? fmax(fabric->column_mm, fabric->chain_mm * 3) : fabric->column_mm);
		/* bands of a garment that opens; a shoulder's slope */
		if (sized->kind == TB_FINISHED_BUST && stated > sized->mm[size])
			most += bands_mm(worked, size);
		if (sized->kind == TB_FINISHED_ARMHOLE && stated < sized->mm[size])
			most += 1.25 * TB_MM_PER_INCH;
		compare(d, size, stated, sized->mm[size], most);
	}
}

/* "To fit bust 76 cm", "finished bust 84 cm", "ease 8 cm" must agree with each other. */
static void check_ease(const tb_worked *worked, const GArray *sized, const tb_finished *ease, differing *d)
{
	const tb_pattern *pattern = tb_worked_pattern(worked);
	const tb_finished *fit = tb_finished_find(pattern, TB_FINISHED_FIT), *bust = tb_finished_find(pattern, TB_FINISHED_BUST);
	for (unsigned size = 0; size < tb_pattern_count_sizes(pattern) && fit != NULL; size++) {
		double made = bust != NULL ? tb_finished_in(bust, size) : 0;
		for (guint i = 0; i < sized->len && bust == NULL; i++) {
			const tb_sized *one = &g_array_index(sized, tb_sized, i);
			made = one->kind == TB_FINISHED_BUST ? one->mm[size] : made;
		}
		if (made > 0 && tb_finished_in(fit, size) > 0)
			compare(d, size, tb_finished_in(ease, size), fmax(made - tb_finished_in(fit, size), 0.1), AROUND_MM + 0.1);
	}
	d->of = bust != NULL ? "finished bust less the bust it fits" : "what is worked, less the bust it fits,";
}

/* "30 cm x 40 cm" of what is 40 cm wide and 30 cm long: the one or the other may be said first. */
static bool fits_turned(const tb_worked *worked, const tb_finished *wide)
{
	tb_finished turned[2] = {wide[0], wide[1]};
	bool fits = true;
	for (unsigned i = 0; i < 2; i++) {
		turned[i].kind = wide[1 - i].kind;
		differing d = {.finished = &turned[i]};
		check_piece(worked, &turned[i], &d);
		fits = fits && d.sizes == 0;
	}
	return fits;
}

static bool has_sizes(const tb_pattern *pattern, const tb_finished *finished, tb_diagnostics *diagnostics)
{
	unsigned sizes = tb_pattern_count_sizes(pattern);
	if (finished->count <= 1 || finished->count == sizes)
		return true;
	tb_where where = {.has_place = true, .place = finished->place, .piece = finished->piece};
	if (sizes > 1)
		tb_diagnose_format(diagnostics, TB_WARNING, "finished-sizes", &where, "Give one length for each size, or one for all.",
			"%u lengths are given here, and the pattern has %u sizes", finished->count, sizes);
	return false;
}

void tb_finished_check(const tb_worked *worked, tb_diagnostics *diagnostics)
{
	const tb_pattern *pattern = tb_worked_pattern(worked);
	if (pattern->finished->len == 0)
		return;
	g_autoptr(GArray) sized = tb_sized_find(worked);
	for (guint i = 0; i < pattern->finished->len; i++) {
		const tb_finished *finished = &g_array_index(pattern->finished, tb_finished, i);
		differing d = {.finished = finished, .what = tb_sized_name(finished->kind)};
		if (!has_sizes(pattern, finished, diagnostics))
			continue;
		if (finished->either && i + 1 < pattern->finished->len && fits_turned(worked, finished)) {
			i++;
			continue;
		}
		const tb_sized *made = find_sized(worked, sized, finished);
		if (finished->kind == TB_FINISHED_EASE)
			check_ease(worked, sized, finished, &d);
		else if (!check_piece(worked, finished, &d) && made != NULL)
			check_sized(worked, made, finished, &d);
		tell(worked, diagnostics, &d);
	}
}
