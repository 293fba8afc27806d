/*
 * Nothing on a chart stands on anything else: no number on a stitch, no label on another, no stitch on one that it has
 * nothing to do with, in anything that we have.
 */
#include "labels.h"
#include "paper.h"

#include <criterion/criterion.h>
#include <string.h>

#include "fabric/fabric.h"

#define MOST_STITCHES 3000
/* Between strokes of different stitches, in units; a seam's chains come nearer than the 0.06 that others keep. */
#define EXAMPLES_PAPER 0.03

static void check_pattern(const char *path, double paper)
{
	tb_case c = tb_case_file(path);
	for (unsigned piece = 0; c.worked != NULL && piece < tb_pattern_count_pieces(c.pattern); piece++) {
		/* Of a whole blanket the part that repeats is enough. */
		bool small = tb_worked_fabric(c.worked, piece, 0)->made_count < MOST_STITCHES;
		for (int way = 0; way < 3; way++) {
			tb_chart_options options = {.piece = piece, .full = way == 1, .left_handed = way == 2};
			tb_chart *chart = way != 1 || small ? tb_case_chart(&c, &options) : NULL;
			if (chart == NULL)
				continue;
			g_autoptr(GString) told = g_string_new(NULL);
			cr_expect_eq(tb_labels_in_the_way(chart, told), 0, "%s, piece %u%s:\n%s", path, piece + 1,
				way == 1 ? ", full" : way == 2 ? ", left-handed" : "", told->str);
			g_string_truncate(told, 0);
			cr_expect_eq(tb_paper_count_close(chart, paper, told), 0, "%s, piece %u%s:\n%s", path, piece + 1,
				way == 1 ? ", full" : way == 2 ? ", left-handed" : "", told->str);
			tb_chart_destroy(chart);
		}
	}
	tb_case_finish(&c);
}

static void check_folder(const char *folder, double paper)
{
	g_autofree char *full = g_build_filename(TB_SOURCE_ROOT, folder, NULL);
	g_autoptr(GDir) files = g_dir_open(full, 0, NULL);
	cr_assert_not_null(files);
	const char *name;
	unsigned count = 0;
	while ((name = g_dir_read_name(files)) != NULL) {
		if (!g_str_has_suffix(name, ".json") && !g_str_has_suffix(name, ".txt"))
			continue;
		g_autofree char *path = g_build_filename(folder, name, NULL);
		check_pattern(path, paper);
		count++;
	}
	cr_assert_gt(count, 0);
}

Test(labels, of_the_examples_stand_on_nothing, .timeout = 120)
{
	check_folder("examples", EXAMPLES_PAPER);
}

Test(labels, of_the_patterns_stand_on_nothing, .timeout = 240)
{
	check_folder("tests/patterns", TB_PAPER_TOUCH);
}
