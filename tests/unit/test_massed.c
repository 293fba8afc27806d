/*
 * Stitches massed: textures made by chance of posts, crossings, leaves and plain rows, looked at as they are drawn. The
 * measures are those that keep a texture readable where a stitch is 4 mm wide.
 */
#include "paper.h"

#include "drawing/break.h"
#include "drawing/glyphs.h"
#include "layout/need.h"

#include <criterion/criterion.h>
#include <math.h>

#define TEXTURES 200
#define WIDTH 12
#define ROWS 6
/* In units: what is no crumb; the least paper between strokes of different stitches. */
#define CRUMB 0.14
#define PAPER 0.06

static guint32 chance(guint32 *seed, guint32 below)
{
	*seed = *seed * 1664525u + 1013904223u;
	return (*seed >> 10) % below;
}

static void add_ribs(GString *text, guint32 *seed)
{
	static const char *const posts[][2] = {{"FPdc", "BPdc"}, {"BPdc", "FPdc"}, {"FPtr", "BPdc"}, {"FPdc", "dc"}, {"dc", "BPdc"}};
	const char *const *kind = posts[chance(seed, G_N_ELEMENTS(posts))];
	static const unsigned wide[] = {1, 2, 5};
	unsigned k = wide[chance(seed, G_N_ELEMENTS(wide))];
	g_string_append(text, "Ch 3 (counts as dc), ");
	for (unsigned at = 0; at < WIDTH - 2; at += k)
		for (unsigned i = 0; i < k; i++) {
			const char *name = kind[at / k % 2];
			g_string_append_printf(text, strchr(name, 'P') != NULL ? "%s around next st, " : "%s in next st, ", name);
		}
	g_string_append(text, "dc in last st");
}

static void add_cables(GString *text, guint32 *seed)
{
	unsigned k = 1 + chance(seed, 3), groups = (WIDTH - 2) / (2 * k);
	const char *way = chance(seed, 2) == 0 ? "working in front of the sts just made" : "working behind the sts just made";
	g_string_append(text, "Ch 3 (counts as dc), ");
	for (unsigned i = 0; i < groups; i++)
		g_string_append_printf(text, "sk next %u sts, FPtr around each of next %u sts, %s, FPtr around each of %u skipped sts, ", k, k,
			way, k);
	g_string_append_printf(text, "dc in next %u sts", WIDTH - 1 - groups * 2 * k);
}

/* A row; *LOW: whether it is single crochet, so that posts of the next may go past it. */
static void add_row(GString *text, guint32 *seed, bool *low)
{
	static const char *const leaves[] = {"3-dc cl", "5-dc bobble", "4-dc popcorn", "3-hdc puff", "7-dc bobble"};
	bool was_low = *low;
	*low = false;
	switch (chance(seed, 9)) {
	case 0:
	case 1:
	case 2:
		add_ribs(text, seed);
		break;
	case 3:
		add_cables(text, seed);
		break;
	case 4:
		g_string_append(text, "Ch 3 (counts as dc), [sk next st, dc in next st, dc in skipped st] 5 times, dc in last st");
		break;
	case 5:
		g_string_append_printf(text, "Ch 3 (counts as dc), [%s in next st, dc in next st] 5 times, dc in last st",
			leaves[chance(seed, G_N_ELEMENTS(leaves))]);
		break;
	case 6:
	case 7:
		if (was_low)
			g_string_append_printf(text, "Ch 3 (counts as dc), [dc in next st, %s around next st 2 rows below, sk next st] 5 times, "
				"dc in last st", chance(seed, 2) == 0 ? "FPtr" : "FPdc2tog");
		else
			g_string_append(text, "Ch 1, sc in each st across");
		*low = !was_low;
		break;
	default:
		g_string_append(text, "Ch 3 (counts as dc), dc in each st across");
		break;
	}
	g_string_append(text, ", turn.\n");
}

static char *write_texture(guint32 seed, guint32 gauge)
{
	static const char *const gauges[] = {"14 sts and 9 rows = 10 cm", "14 sts and 6 rows = 10 cm", "14 sts and 11 rows = 10 cm"};
	GString *text = g_string_new("Title: Texture\nTerms: US\nGauge: ");
	g_string_append_printf(text, "%s\n\nPIECE\nCh %u.\nRow 1 (RS): Dc in 4th ch from hook and in each ch across, turn. [%u sts]\n",
		gauges[gauge], WIDTH + 2, WIDTH);
	bool low = false;
	for (unsigned row = 2; row <= ROWS; row++) {
		g_string_append_printf(text, "Row %u: ", row);
		add_row(text, &seed, &low);
	}
	return g_string_free(text, FALSE);
}

/* Every stroke of a path by itself: an array of outlines. */
static GPtrArray *strokes_of(const tb_path *path, double x, double y, double angle)
{
	GPtrArray *strokes = g_ptr_array_new_with_free_func((GDestroyNotify)g_array_unref);
	g_autoptr(GArray) all = tb_outline_create();
	tb_outline_add_path(all, path, x, y, angle);
	GArray *one = NULL;
	for (guint i = 0; i < all->len; i++) {
		tb_point p = g_array_index(all, tb_point, i);
		if (isnan(p.x)) {
			one = NULL;
			continue;
		}
		if (one == NULL) {
			one = tb_outline_create();
			g_ptr_array_add(strokes, one);
		}
		g_array_append_val(one, p);
	}
	return strokes;
}

static double length_of(const GArray *stroke)
{
	double length = 0;
	for (guint i = 1; i < stroke->len; i++) {
		tb_point a = g_array_index(stroke, tb_point, i - 1), b = g_array_index(stroke, tb_point, i);
		length += hypot(b.x - a.x, b.y - a.y);
	}
	return length;
}

typedef struct {
	tb_chart *chart;
	GArray **parts; /* by placed */
	double unit;
	const char *told;
} massed;

static const tb_placed *placed_at(const massed *m, guint i)
{
	return &g_array_index(m->chart->placed, tb_placed, i);
}

static const tb_made *made_at(const massed *m, guint i)
{
	return &m->chart->fabric->made[placed_at(m, i)->made];
}

static const char *word_at(const massed *m, guint i)
{
	return tb_chart_shown(m->chart, made_at(m, i))->us;
}

/* No crumbs; front legs whole, back legs in two, bars whole. */
static void check_strokes(const massed *m)
{
	for (guint i = 0; i < m->chart->placed->len; i++) {
		const tb_stitch *stitch = tb_chart_shown(m->chart, made_at(m, i));
		for (guint k = 0; k < m->parts[i]->len; k++) {
			const tb_part *part = &g_array_index(m->parts[i], tb_part, k);
			g_autoptr(GPtrArray) strokes = strokes_of(part->path, 0, 0, 0);
			for (guint s = 0; s < strokes->len; s++)
				cr_expect_geq(length_of(g_ptr_array_index(strokes, s)), 0.95 * CRUMB * m->unit, "a crumb of %s in\n%s", word_at(m, i),
					m->told);
			if (part->kind == TB_PART_LEG && stitch->post == TB_POST_FRONT && !placed_at(m, i)->crosses)
				cr_expect_eq(strokes->len, 1, "a leg of %s is in %u pieces in\n%s", word_at(m, i), strokes->len, m->told);
			if (part->kind == TB_PART_LEG && stitch->post == TB_POST_BACK && !placed_at(m, i)->crosses)
				cr_expect_eq(strokes->len, 2, "a leg of %s is in %u pieces in\n%s", word_at(m, i), strokes->len, m->told);
			if (part->kind == TB_PART_BAR)
				cr_expect_eq(strokes->len, 1, "a bar of %s is cut in\n%s", word_at(m, i), m->told);
		}
	}
}

static void check_texture(const char *text, const tb_chart_options *options)
{
	tb_case c = tb_case_read("texture.txt", text);
	cr_assert_not_null(c.worked, "not worked:\n%s", text);
	tb_chart *chart = tb_case_chart(&c, options);
	cr_assert_not_null(chart, "not charted:\n%s", text);
	tb_glyphs *glyphs = tb_glyphs_build(chart);
	g_autofree GArray **parts = g_new(GArray *, chart->placed->len + 1);
	for (guint32 i = 0; i < chart->placed->len; i++)
		parts[i] = tb_glyphs_parts(glyphs, i);
	massed m = {.chart = chart, .parts = parts, .unit = tb_need_unit(chart->column, chart->chain), .told = text};
	check_strokes(&m);
	g_autoptr(GString) close = g_string_new(NULL);
	cr_expect_eq(tb_paper_count_close(chart, PAPER, close), 0, "%sin\n%s", close->str, text);
	for (guint32 i = 0; i < chart->placed->len; i++)
		g_array_unref(parts[i]);
	tb_glyphs_free(glyphs);
	tb_chart_destroy(chart);
	tb_case_finish(&c);
}

Test(massed, textures_stay_readable, .timeout = 600)
{
	for (guint32 seed = 1; seed <= TEXTURES; seed++) {
		g_autofree char *text = write_texture(seed * 2654435761u, seed % 3);
		tb_chart_options options = {.full = true, .left_handed = seed % 4 == 1, .view = seed % 2 == 0 ? TB_VIEW_WORKED : TB_VIEW_RIGHT};
		check_texture(text, &options);
	}
}
