/*
 * Six garments in eight sizes, as a designer writes them (tests/garments), against the arithmetic that they
 * were designed by.
 *
 * What each row of each size has is worked out here from measurements, gauge and a few choices of the
 * designer's, and from nothing the program says: stitches = width x stitches per length, rows = length x rows
 * per length, and then what is taken away or added, row by row (common practice; trade tables, 6a). Widths
 * around the body are the middle of the Craft Yarn Council's bust bands for women (trade tables, 6c: 28-30,
 * 32-34, ... 56-58 in), and the ease that the garment has.
 */
#include "counts.h"

#include "fabric/fabric.h"

#include <math.h>

#define SIZES 8u
#define MOST_ROWS 200u

static const double bust_in[SIZES] = {29, 33, 37, 41, 45, 49, 53, 57};

/* The stitches of each row of a piece in a size. */
typedef struct {
	int counts[MOST_ROWS];
	unsigned rows;
} table;

/* TIMES rows of COUNT. */
static void add(table *t, int count, int times)
{
	for (int i = 0; i < times; i++)
		t->counts[t->rows++] = count;
}

/* TIMES rows, each CHANGE more than the one before it, which has COUNT. */
static void shape(table *t, int count, int change, int times)
{
	for (int i = 1; i <= times; i++)
		add(t, count + i * change, 1);
}

/* INCHES at PER_10CM stitches or rows, to the nearest whole number of PARTS. */
static int count_in(double inches, double per_10cm, int parts)
{
	return parts * (int)floor(inches * 2.54 * per_10cm / 10 / parts + 0.5);
}

/* --- drop shoulder: hdc, 14 sts and 10 rows to 10 cm, 4 in of ease --- */

static const int drop_neck[SIZES] = {22, 22, 24, 24, 26, 26, 28, 28};
static const int drop_length_cm[SIZES] = {54, 54, 56, 56, 58, 58, 60, 60};
static const int drop_cuff[SIZES] = {34, 34, 36, 36, 38, 38, 40, 40};
static const int drop_armhole_cm[SIZES] = {17, 18, 20, 21, 23, 24, 25, 27};
static const int drop_sleeve_cm[SIZES] = {44, 44, 44, 44, 42, 42, 40, 40};

static void drop_back(unsigned size, table *t)
{
	int width = count_in((bust_in[size] + 4) / 2, 14, 2);
	add(t, width, drop_length_cm[size]); /* a row is 1 cm */
	add(t, (width - drop_neck[size]) / 2, 2);
	add(t, (width - drop_neck[size]) / 2, 2);
}

static void drop_front(unsigned size, table *t)
{
	int width = count_in((bust_in[size] + 4) / 2, 14, 2), shoulder = (width - drop_neck[size]) / 2;
	add(t, width, drop_length_cm[size] - 8);
	for (int side = 0; side < 2; side++) {
		add(t, shoulder + 4, 1);
		shape(t, shoulder + 4, -1, 4);
		add(t, shoulder, 5);
	}
}

static void drop_sleeve(unsigned size, table *t)
{
	int cuff = drop_cuff[size], arm = 2 * (int)floor(drop_armhole_cm[size] * 1.4 + 0.5);
	add(t, cuff, 1);
	for (int count = cuff; count < arm; count += 2) {
		add(t, count, 1);
		add(t, count + 2, 1);
	}
	add(t, arm, drop_sleeve_cm[size] - (int)t->rows);
}

/* --- set-in sleeve: dc, 12 sts and 6 rows to 10 cm, 3 in of ease --- */

static const int set_bind[SIZES] = {3, 4, 4, 5, 6, 7, 8, 9}, set_dec[SIZES] = {2, 2, 4, 4, 6, 6, 8, 8};
static const int set_rows[SIZES] = {22, 22, 24, 24, 24, 24, 24, 24}; /* to the armhole */
static const int set_armhole[SIZES] = {11, 11, 12, 13, 13, 14, 15, 15}; /* in rows */
static const int set_shoulder[SIZES] = {9, 11, 11, 14, 14, 15, 15, 16};
static const int set_cuff[SIZES] = {28, 28, 30, 32, 36, 40, 44, 48}, set_arm[SIZES] = {36, 38, 40, 44, 48, 52, 58, 62};
static const int set_cap[SIZES] = {8, 8, 9, 9, 10, 10, 12, 12};

/* An odd number, so that there is a middle stitch for both fronts to have. */
static int set_width(unsigned size)
{
	return count_in((bust_in[size] + 3) / 2, 12, 2) + 1;
}

static void set_back(unsigned size, table *t)
{
	int width = set_width(size), across = width - 2 * set_bind[size];
	add(t, width, set_rows[size]);
	add(t, across, 1);
	shape(t, across, -2, set_dec[size]);
	add(t, across - 2 * set_dec[size], set_armhole[size] - 1 - set_dec[size]);
}

static void set_front(unsigned size, table *t)
{
	int width = (set_width(size) + 1) / 2, across = width - set_bind[size], left = across - set_dec[size];
	add(t, width, set_rows[size]);
	add(t, across, 1);
	shape(t, across, -1, set_dec[size]);
	add(t, set_shoulder[size] + 4, 1); /* what is more is left at the neck */
	shape(t, set_shoulder[size] + 4, -1, 4);
	add(t, set_shoulder[size], set_armhole[size] - 1 - set_dec[size] - 5);
	cr_assert_gt(left, set_shoulder[size] + 4);
}

static void set_sleeve(unsigned size, table *t)
{
	int arm = set_arm[size], cap = arm - 2 * set_bind[size];
	add(t, set_cuff[size], 2);
	for (int count = set_cuff[size] + 2; count <= arm; count += 2)
		add(t, count, 3);
	add(t, arm, 26 - (int)t->rows);
	add(t, cap, 1);
	shape(t, cap, -2, set_cap[size]);
}

/* Two stitches to each row of the front edge, from the hem to where the neck begins. */
static void set_band(unsigned size, table *t)
{
	add(t, 2 * (set_rows[size] + 1 + set_dec[size]), 5);
}

/* --- raglan from the neck down, in rounds: 8 stitches more in each of them --- */

static const int raglan_back[SIZES] = {26, 28, 30, 32, 34, 36, 38, 40}, raglan_arm[SIZES] = {10, 10, 10, 12, 12, 14, 14, 14};
static const int raglan_rounds[SIZES] = {8, 9, 10, 11, 12, 13, 14, 15}, underarm[SIZES] = {6, 6, 8, 8, 10, 10, 12, 12};
static const int raglan_body[SIZES] = {24, 24, 25, 25, 26, 26, 27, 27}, raglan_dec[SIZES] = {4, 5, 6, 7, 7, 9, 10, 10};

/* Back, front, two sleeves and four corners, each corner two stitches and its space of two chains. */
static void raglan_yoke(unsigned size, table *t)
{
	int first = 2 * raglan_back[size] + 2 * raglan_arm[size] + 4 * 2 + 4 * 2;
	add(t, first, 1);
	shape(t, first, 8, raglan_rounds[size] - 1);
	int body = 2 * (raglan_back[size] + 2 * raglan_rounds[size] + underarm[size]);
	add(t, body, raglan_body[size] + 1);
}

static void raglan_sleeve(unsigned size, table *t)
{
	int arm = raglan_arm[size] + 2 * raglan_rounds[size] + underarm[size];
	add(t, arm, 1);
	for (int i = 0; i < raglan_dec[size]; i++, arm -= 2) {
		add(t, arm, 1);
		add(t, arm - 2, 1);
	}
	add(t, arm, 1);
}

/* --- circular yoke: as many parts as the neck has fours, each a stitch wider every other round --- */

static const int yoke_parts[SIZES] = {18, 20, 20, 22, 22, 24, 24, 26}, yoke_widest[SIZES] = {8, 8, 9, 9, 10, 10, 11, 11};
static const int yoke_arm[SIZES] = {28, 30, 36, 38, 42, 46, 50, 54};

static void yoke(unsigned size, table *t)
{
	int parts = yoke_parts[size], all = parts * yoke_widest[size];
	add(t, 4 * parts, 1);
	for (int wide = 5; wide <= yoke_widest[size]; wide++)
		add(t, wide * parts, 2);
	add(t, all - 2 * yoke_arm[size] + 2 * underarm[size], 1 + 1 + 24);
}

static void yoke_sleeve(unsigned size, table *t)
{
	add(t, yoke_arm[size] + underarm[size], 20);
}

/* --- side to side: the rows stand upright --- */

static const int side_length[SIZES] = {44, 44, 46, 46, 48, 48, 50, 50}, side_armhole[SIZES] = {20, 21, 22, 23, 24, 25, 26, 28};
static const int side_rows[SIZES] = {4, 6, 8, 8, 10, 12, 14, 16}, side_shoulder[SIZES] = {14, 16, 16, 18, 20, 22, 24, 24};
static const int side_neck[SIZES] = {14, 14, 14, 16, 16, 16, 16, 18};

static void side_back(unsigned size, table *t)
{
	int length = side_length[size], full = length + side_armhole[size];
	add(t, length, side_rows[size]);
	add(t, full, side_shoulder[size]);
	add(t, full - 1, side_neck[size] - 2);
	add(t, full, 2 + side_shoulder[size]);
	add(t, length, side_rows[size]);
}

/* --- hat and mitts --- */

static const int hat_rounds[SIZES] = {6, 7, 7, 8, 8, 9, 9, 10}, hat_even[SIZES] = {12, 14, 15, 17, 18, 20, 21, 22};
static const int mitt_round[SIZES] = {20, 22, 24, 26, 28, 30, 32, 36};

static void hat(unsigned size, table *t)
{
	shape(t, 0, 8, hat_rounds[size]); /* eighths, as the crown of a disc of hdc lies flat */
	add(t, 8 * hat_rounds[size], hat_even[size] - hat_rounds[size] + 3);
}

static void mitts(unsigned size, table *t)
{
	int around = mitt_round[size];
	add(t, 10, around);
	add(t, around, 2 + around / 5 + 1 + 1 + around / 7);
}

/* --- */

static const struct {
	const char *file, *piece;
	void (*count)(unsigned size, table *t);
} pieces[] = {
	{"drop-shoulder", "Back", drop_back},
	{"drop-shoulder", "Front", drop_front},
	{"drop-shoulder", "Sleeves", drop_sleeve},
	{"set-in-sleeve", "Back", set_back},
	{"set-in-sleeve", "Left front", set_front},
	{"set-in-sleeve", "Right front", set_front},
	{"set-in-sleeve", "Sleeves", set_sleeve},
	{"set-in-sleeve", "Button band", set_band},
	{"set-in-sleeve", "Buttonhole band", set_band},
	{"raglan", "Yoke", raglan_yoke},
	{"raglan", "Sleeves", raglan_sleeve},
	{"circular-yoke", "Yoke", yoke},
	{"circular-yoke", "Sleeves", yoke_sleeve},
	{"side-to-side", "Back", side_back},
	{"side-to-side", "Front", side_back},
	{"hat-and-mitts", "Hat", hat},
	{"hat-and-mitts", "Mitts", mitts},
};

static void expect_table(const tb_fabric *fabric, const table *t, const char *what)
{
	cr_expect_eq(fabric->row_count - 1, t->rows, "%s: %u rows, and not %u", what, fabric->row_count - 1, t->rows);
	for (guint32 i = 1; i < fabric->row_count && i <= t->rows; i++) {
		cr_assert_eq((int)fabric->rows[i].stitches, t->counts[i - 1], "%s, row %u: %u sts, and not %d", what, i,
			fabric->rows[i].stitches, t->counts[i - 1]);
		cr_expect_not(fabric->rows[i].taken, "%s, row %u is taken at its word", what, i);
	}
}

Test(garments, every_row_of_every_size)
{
	tb_case c = {0};
	for (unsigned i = 0; i < G_N_ELEMENTS(pieces); i++) {
		bool again = i > 0 && strcmp(pieces[i].file, pieces[i - 1].file) == 0;
		if (!again) {
			if (i > 0)
				tb_case_finish(&c);
			g_autofree char *name = g_strdup_printf("tests/garments/%s.txt", pieces[i].file);
			c = tb_case_file(name);
			g_autofree char *faults = tb_case_faults(&c);
			cr_expect_eq(tb_diagnostics_count_errors(c.diagnostics), 0, "%s\n%s", name, faults);
			cr_assert_eq(tb_pattern_count_sizes(c.pattern), SIZES);
		}
		int piece = tb_pattern_find_piece(c.pattern, pieces[i].piece);
		cr_expect_geq(piece, 0, "%s has no %s", pieces[i].file, pieces[i].piece);
		for (unsigned size = 0; size < SIZES && piece >= 0; size++) {
			table t = {.rows = 0};
			pieces[i].count(size, &t);
			g_autofree char *what = g_strdup_printf("%s, %s, size %u", pieces[i].file, pieces[i].piece, size + 1);
			expect_table(tb_worked_fabric(c.worked, (unsigned)piece, size), &t, what);
		}
	}
	tb_case_finish(&c);
}

/* TEXT with the last figure of the stated count that ends at END one too many. */
static char *spoil(const char *text, gint end)
{
	gint close = end;
	while (text[close] != ')')
		close--;
	gint from = close;
	while (g_ascii_isdigit(text[from - 1]))
		from--;
	guint64 figure = g_ascii_strtoull(text + from, NULL, 10) + 1;
	return g_strdup_printf("%.*s%" G_GUINT64_FORMAT "%s", from, text, figure, text + close);
}

/* Each count that the garments state, wrong by one in the largest size alone: it is told, of that size. */
Test(garments, no_count_is_wrong_in_one_size)
{
	static const char *const files[] = {"drop-shoulder", "set-in-sleeve", "raglan", "circular-yoke", "side-to-side", "hat-and-mitts"};
	g_autoptr(GRegex) counts = g_regex_new("\\d+ \\((\\d+, ){6}\\d+\\) (dc|sc|hdc|tr|sts)( and 4 ch-2 sps)?\\.", 0, 0, NULL);
	unsigned spoiled = 0;
	for (size_t i = 0; i < G_N_ELEMENTS(files); i++) {
		g_autofree char *name = g_strdup_printf("tests/garments/%s.txt", files[i]);
		g_autofree char *text = tb_test_read(name, NULL);
		g_autoptr(GMatchInfo) match = NULL;
		for (g_regex_match(counts, text, 0, &match); g_match_info_matches(match); g_match_info_next(match, NULL)) {
			gint from, end;
			g_match_info_fetch_pos(match, 0, &from, &end);
			g_autofree char *wrong = spoil(text, end);
			tb_case c = tb_case_read(name, wrong);
			g_autofree char *said = g_match_info_fetch(match, 0);
			cr_expect_gt(tb_diagnostics_count_errors(c.diagnostics), 0u, "%s: %s may be one more", name, said);
			tb_case_finish(&c);
			spoiled++;
		}
	}
	cr_expect_geq(spoiled, 40u, "%u counts were found", spoiled);
}
