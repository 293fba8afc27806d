/* What the tests share to lay charts out without a font: every letter is equally wide. */
#ifndef TB_TESTS_CHARTING_H
#define TB_TESTS_CHARTING_H

#include "support.h"

#include "drawing/drawing.h"
#include "layout/chart.h"

/* Lays out the chart of a worked case; NULL as tb_chart_create. Owned. */
tb_chart *tb_case_chart(tb_case *c, const tb_chart_options *options);

/* How it is read, its sentences as one text. Owned. */
char *tb_test_rule(const tb_chart *chart);

/* The placed stitch of a row (by number) at an index, or NULL. */
const tb_placed *tb_test_placed(const tb_chart *chart, guint32 row, guint32 index);
const tb_stitch *tb_test_stitch(const tb_chart *chart, const tb_placed *placed);

#endif
