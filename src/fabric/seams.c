/* Shoulders, necks and armholes against what is sewn; the rules stand in the header. */
#include "fabric/seams.h"

#include "fabric/garment.h"
#include "fabric/sized.h"
#include "pattern/pattern.h"
#include "support/units.h"

#include <math.h>
#include <string.h>

/* The tops of a piece: rows on which no other stands. */
typedef struct {
	unsigned count;
	guint32 stitches[2];
} tops;

/* False where its last rows are none that are sewn: rounds, an edging, rows that were not understood. */
static bool find_tops(const tb_fabric *fabric, tops *found)
{
	*found = (tops){.count = 0};
	if (fabric->row_count < 3 || fabric->has_fault)
		return false;
	g_autofree bool *under = g_new0(bool, fabric->row_count);
	for (guint32 r = 1; r < fabric->row_count; r++) {
		const tb_made_row *row = &fabric->rows[r];
		if (row->is_round || row->elsewhere || row->along || row->taken)
			return false;
		under[MIN(row->stands, r - 1)] = true;
	}
	for (guint32 r = 1; r < fabric->row_count; r++) {
		if (under[r])
			continue;
		if (found->count == 2)
			return false;
		found->stitches[found->count++] = fabric->rows[r].stitches;
	}
	return found->count > 0;
}

static const tb_seam *find_seam(const tb_pattern *pattern, tb_seam_kind kind)
{
	unsigned sizes = tb_pattern_count_sizes(pattern);
	for (guint i = 0; i < pattern->seams->len; i++) {
		const tb_seam *seam = &g_array_index(pattern->seams, tb_seam, i);
		if (seam->kind == kind && (seam->count <= 1 || seam->count == sizes))
			return seam;
	}
	return NULL;
}

static guint32 stitches_in(const tb_seam *seam, unsigned size)
{
	return seam == NULL || seam->count == 0 ? 0 : seam->stitches[seam->count == 1 ? 0 : size];
}

guint32 tb_seams_stitches(const tb_pattern *pattern, tb_seam_kind kind, unsigned size)
{
	return stitches_in(find_seam(pattern, kind), size);
}

/* A front by itself, "Left front", or one that is made twice: it has one shoulder. */
static bool is_half(const tb_piece *piece)
{
	return piece->make > 1 || tb_garment_is_called(piece->name, "left") || tb_garment_is_called(piece->name, "right") ||
		tb_garment_is_called(piece->name, "fronts");
}

/* What of PIECE's shoulders does not agree with the seam, owned; NULL where it does, or is not known. */
static char *compare_shoulders(const tb_piece *piece, const tops *t, bool front, guint32 sewn, guint32 free_sts)
{
	if (t->count == 2) {
		guint32 other = t->stitches[0] != sewn ? t->stitches[0] : t->stitches[1];
		return other == sewn ? NULL : g_strdup_printf("a shoulder of “%s” has %u sts, and %u are sewn", piece->name, other, sewn);
	}
	guint32 there = t->stitches[0], sides = front && is_half(piece) ? 1 : 2;
	if (there < sides * sewn)
		return g_strdup_printf("“%s” ends with %u sts, and %u are sewn", piece->name, there, sides * sewn);
	if (free_sts > 0 && there != sides * sewn + free_sts)
		return g_strdup_printf("“%s” ends with %u sts; %u are sewn and %u left, which are %u", piece->name, there, sides * sewn, free_sts,
			sides * sewn + free_sts);
	return NULL;
}

/* The stitches of one shoulder of what is CALLED so, "back"; 0 where they cannot be told. */
static guint32 shoulder_of(const tb_worked *worked, const char *called, unsigned size)
{
	const tb_pattern *pattern = tb_worked_pattern(worked);
	for (unsigned i = 0; i < tb_pattern_count_pieces(pattern); i++) {
		const tb_piece *piece = tb_pattern_piece(pattern, i);
		tops t;
		if (!tb_garment_is_called(piece->name, called) || !find_tops(tb_worked_fabric(worked, i, size), &t))
			continue;
		if (t.count == 2 && t.stitches[0] == t.stitches[1])
			return t.stitches[0];
		return t.count == 1 && is_half(piece) ? t.stitches[0] : 0;
	}
	return 0;
}

/* Without a figure: back and front have as many, where both shoulders were worked by themselves. */
static char *compare_alike(const tb_worked *worked, unsigned size)
{
	guint32 back = shoulder_of(worked, "back", size), front = shoulder_of(worked, "front", size);
	front = front == 0 ? shoulder_of(worked, "fronts", size) : front;
	if (back == 0 || front == 0 || back == front)
		return NULL;
	return g_strdup_printf("a shoulder of the back has %u sts, and of the front %u", back, front);
}

static char *compare_sewn(const tb_worked *worked, const tb_seam *seam, unsigned size)
{
	const tb_pattern *pattern = tb_worked_pattern(worked);
	guint32 sewn = stitches_in(seam, size);
	char *what = sewn == 0 ? compare_alike(worked, size) : NULL;
	for (unsigned i = 0; i < tb_pattern_count_pieces(pattern) && what == NULL && sewn > 0; i++) {
		const tb_piece *piece = tb_pattern_piece(pattern, i);
		bool back = tb_garment_is_called(piece->name, "back");
		bool front = !back && (tb_garment_is_called(piece->name, "front") || tb_garment_is_called(piece->name, "fronts"));
		tops t;
		if ((!back && !front) || !find_tops(tb_worked_fabric(worked, i, size), &t))
			continue;
		guint32 rest = tb_seams_stitches(pattern, back ? TB_SEAM_NECK : TB_SEAM_FRONT_FREE, size);
		what = compare_shoulders(piece, &t, front, sewn, rest);
	}
	return what;
}

/* The opening, twice, against the top of the sleeve. */
static char *compare_armhole(const GArray *sized, const tb_seam *seam, unsigned size)
{
	double opening = 2 * seam->mm[seam->count == 1 ? 0 : size], sleeve = 0;
	for (guint i = 0; i < sized->len; i++) {
		const tb_sized *one = &g_array_index(sized, tb_sized, i);
		sleeve = one->kind == TB_FINISHED_UPPER_ARM && sleeve == 0 ? one->mm[size] : sleeve;
	}
	if (sleeve <= 0 || opening <= 0 || fabs(opening - sleeve) <= TB_MM_PER_INCH)
		return NULL;
	char around[G_ASCII_DTOSTR_BUF_SIZE], wide[G_ASCII_DTOSTR_BUF_SIZE];
	return g_strdup_printf("the armhole is %s cm around, and the top of the sleeve %s cm",
		g_ascii_formatd(around, sizeof around, "%.1f", opening / 10), g_ascii_formatd(wide, sizeof wide, "%.1f", sleeve / 10));
}

/* Tells at SEAM what does not agree, as it is in the first of the sizes where it does not. */
static void check(const tb_worked *worked, tb_diagnostics *diagnostics, const GArray *sized, const tb_seam *seam)
{
	unsigned sizes = tb_pattern_count_sizes(tb_worked_pattern(worked));
	g_autofree char *first = NULL;
	tb_size_set differing = 0;
	for (unsigned size = 0; size < sizes; size++) {
		g_autofree char *what = seam->kind == TB_SEAM_ARMHOLE ? compare_armhole(sized, seam, size) : compare_sewn(worked, seam, size);
		differing |= what != NULL ? (tb_size_set)1 << size : 0;
		first = first == NULL ? g_steal_pointer(&what) : first;
	}
	tb_where where = {.has_place = true, .place = seam->place, .sizes = sizes > 1 ? differing : 0};
	if (first != NULL)
		tb_diagnose_format(diagnostics, TB_WARNING, "seam-differs", &where, "Check the counts of the pieces, or of the seam.", "%s", first);
}

void tb_seams_check(const tb_worked *worked, tb_diagnostics *diagnostics)
{
	const tb_pattern *pattern = tb_worked_pattern(worked);
	if (pattern->seams->len == 0)
		return;
	const tb_seam *shoulders = find_seam(pattern, TB_SEAM_SHOULDERS), *armhole = find_seam(pattern, TB_SEAM_ARMHOLE);
	g_autoptr(GArray) sized = tb_sized_find(worked);
	unsigned sizes = tb_pattern_count_sizes(pattern);
	for (guint i = 0; i < pattern->seams->len; i++) {
		const tb_seam *seam = &g_array_index(pattern->seams, tb_seam, i);
		tb_where where = {.has_place = true, .place = seam->place};
		if (seam->count > 1 && seam->count != sizes)
			tb_diagnose_format(diagnostics, TB_WARNING, "seam-differs", &where, "Give one figure for each size, or one for all.",
				"%u figures are given here, and the pattern has %u sizes", seam->count, sizes);
	}
	if (shoulders != NULL)
		check(worked, diagnostics, sized, shoulders);
	if (armhole != NULL)
		check(worked, diagnostics, sized, armhole);
}
