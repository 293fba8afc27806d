/*
 * Pages, laid out: what stands where on each, in millimetres from its top left corner.
 *
 * A text that flows is first set as a galley, one long column of strips (a line of type, a table's
 * row, a chart); then the galley is parted into pages, where a strip says what may not be parted:
 * a heading keeps with what it heads, the first two lines of a paragraph and its last two keep
 * together, a table repeats its head. Pages that do not flow (a poster's sheets) get their items
 * directly.
 */
#ifndef TB_LAYOUT_PAGE_H
#define TB_LAYOUT_PAGE_H

#include "layout/chart.h"

#include <tambour/sheet.h>

/* Points of 1/72 inch to millimetres. */
#define TB_PT 0.352777777777777778

typedef enum {
	TB_ITEM_LABEL,
	TB_ITEM_LINE,   /* a rule or an outline */
	TB_ITEM_SAMPLE, /* a stitch by itself */
	TB_ITEM_PLATE,  /* a chart, or a window on it */
	TB_ITEM_TAG,    /* begins a part of the document's structure; TB_ITEM_UNTAG ends it */
	TB_ITEM_UNTAG,
} tb_item_kind;

/* How much of a chart a plate shows. */
typedef enum {
	TB_PLATE_WHOLE,
	TB_PLATE_EMPTY, /* all but the stitches */
	TB_PLATE_PALE,  /* the stitches pale, to be drawn over */
} tb_plate_view;

typedef struct {
	tb_item_kind kind;
	tb_label label; /* LABEL; its text is owned */
	double x, y;    /* SAMPLE: the foot, in the middle; PLATE: the window's top left corner */
	double pen;     /* LINE, SAMPLE */
	double dash, gap; /* LINE */
	tb_ink ink;     /* LINE */
	GArray *line;   /* LINE: tb_spot, owned */
	bool closed;    /* LINE */
	const tb_stitch *stitch;  /* SAMPLE */
	double column, chain;     /* SAMPLE */
	const tb_chart *chart;    /* PLATE, borrowed from the pages */
	tb_plate_view view;       /* PLATE */
	double left, top;         /* PLATE: the window's corner on the chart */
	double width, height;     /* PLATE: the window */
	const char *role; /* TAG: "P", "H1", "Table" …; "Link" and "Dest" have a target */
	char *target;     /* TAG, owned */
} tb_item;

typedef struct {
	double width, height;
	GArray *items; /* tb_item */
	char *label;   /* "3", "A1" */
} tb_leaf;

typedef struct {
	char *text;
	unsigned level; /* 1 or 2 */
	unsigned page;
	double y;
} tb_leaf_mark;

struct tb_pages {
	const tb_worked *worked;
	char *title, *author, *description;
	bool grey;
	GPtrArray *pages;  /* tb_leaf */
	GPtrArray *charts; /* tb_chart */
	GArray *marks;     /* tb_leaf_mark: the outline */
};

/* Sizes of type in mm: one scale for the whole document. */
typedef struct {
	double title, head, subhead, body, small;
	double lead; /* from line to line, in sizes of type */
} tb_type_scale;

typedef struct {
	double before; /* space above, dropped at the head of a page */
	double height;
	bool keep;     /* stays on the page of the next strip */
	bool turned;   /* stands alone on a page turned on its side */
	guint first, count; /* into items; their places count from the strip's top left corner */
	guint repeat, repeat_count; /* strips set again above this one when it begins a page */
	char *mark;      /* what the outline calls it, or NULL */
	unsigned level;
} tb_strip;

typedef struct {
	tb_pages *pages;
	const tb_text_measure *measure;
	tb_type_scale type;
	tb_paper paper;
	double margin;
	double width;   /* of the column of type */
	double height;  /* free on an upright page */
	double turned_width, turned_height;
	double measured; /* how long a line of a paragraph gets at most */
	GArray *strips; /* tb_strip */
	GArray *items;  /* tb_item */
	double space;   /* to be left before the next strip */
	bool no_total;  /* folios are "3", not "3 / 7": other pages follow */
} tb_galley;

tb_pages *tb_pages_create_empty(const tb_worked *worked);
tb_leaf *tb_pages_add(tb_pages *pages, double width, double height, const char *label);
void tb_pages_add_mark(tb_pages *pages, const char *text, unsigned level, unsigned page, double y);

void tb_galley_init(tb_galley *galley, tb_pages *pages, const tb_text_measure *measure,
	tb_paper paper, double margin, bool large);
void tb_galley_finish(tb_galley *galley);
/* Sets all of REST, a galley of the same pages, behind what is set. REST is empty after that. */
void tb_galley_append(tb_galley *galley, tb_galley *rest);
/* Parts the galley into pages, behind those that are there. */
void tb_galley_paginate(tb_galley *galley);

/* The next strip begins, HEIGHT high, SPACE below the one before. Items go to it. Borrowed. */
tb_strip *tb_galley_begin(tb_galley *galley, double space, double height);
/* At least so much space before the next strip. */
void tb_galley_skip(tb_galley *galley, double space);

/* Items; places count from the strip's corner in a galley's array, else from the page's. */
void tb_items_label(GArray *items, const char *text, double x, double y, double size,
	tb_face face, tb_align align, tb_ink ink);
/* A label at the left; where MORE of the same paragraph follows, a blank parts them when read out. */
void tb_items_part(GArray *items, const char *text, bool more, double x, double y, double size,
	tb_face face, tb_ink ink);
void tb_items_rule(GArray *items, double x1, double y1, double x2, double y2, double pen,
	tb_ink ink);
/* An empty line, to which points are added. */
tb_item *tb_items_line(GArray *items, double pen, tb_ink ink);
void tb_line_to(tb_item *line, double x, double y);
void tb_items_box(GArray *items, double x, double y, double width, double height, double pen,
	tb_ink ink);
void tb_items_sample(GArray *items, const tb_stitch *stitch, double x, double y, double column,
	double chain, double pen);
void tb_items_plate(GArray *items, const tb_chart *chart, tb_plate_view view, double x, double y,
	double left, double top, double width, double height);
/* ROLE is borrowed and must be constant; TARGET, which may be NULL, is copied. */
void tb_items_tag(GArray *items, const char *role, const char *target);
void tb_items_untag(GArray *items);

/* --- page_text.c --- */

double tb_galley_text_width(const tb_galley *galley, const char *text, double size, bool bold);

/* A part of a paragraph in one weight. */
typedef struct {
	const char *text;
	bool bold;
} tb_run_of_text;

/*
 * Sets a paragraph, X from the left and no longer than WIDTH a line; lines after the first stand
 * HANG farther in. A bracketed size list is not parted where it has room in one line.
 */
void tb_galley_runs(tb_galley *galley, const tb_run_of_text *runs, unsigned count, double x,
	double width, double hang, double size);
void tb_galley_paragraph(tb_galley *galley, const char *text);
/* A heading of level 1 (section) or 2 (below it), kept with what follows. */
void tb_galley_heading(tb_galley *galley, const char *text, unsigned level);
/* A label in the left column and a text beside it (or below, where the column is narrow). */
void tb_galley_fact(tb_galley *galley, const char *label, const char *text);
/* The lines that TEXT takes. Owned strings. */
GPtrArray *tb_galley_wrap(const tb_galley *galley, const char *text, double size, bool bold,
	double width);

/* --- page_table.c --- */

/*
 * Sets a table of ROWS x COLUMNS texts (row after row, the first row the head). Columns from
 * FIRST_NUMBER on are set flush right. Where columns run out of room, the rest follow below, behind
 * the first column again. LINKS: by cell, where a click leads; NULL for no links.
 */
void tb_galley_table(tb_galley *galley, GPtrArray *cells, unsigned columns, unsigned first_number,
	const char *const *links);

/* --- page_tiles.c --- */

/* A picture parted into windows that overlap, row after row of them. */
typedef struct {
	double width, height;   /* of a window, mm */
	double over_x, over_y;  /* how far neighbours overlap, mm */
	unsigned across, down;
} tb_tiling;

/* How a picture of WIDTH x HEIGHT is parted into windows of the size given. */
tb_tiling tb_tiling_make(double width, double height, double window_width, double window_height,
	double over_x, double over_y);
/* "A1": a letter for each column of windows, a figure for each row. Owned: g_free. */
char *tb_tiling_name(unsigned column, unsigned row);
/*
 * A small map of all windows no larger than WIDTH x HEIGHT; that of COLUMN and ROW (-1: none) is
 * set off. Names are set where SIZE is above 0. Returns the height it takes.
 */
double tb_items_map(GArray *items, const tb_tiling *tiling, int column, int row, double x, double y,
	double width, double height, double size);
/*
 * The numbers of the rows in a window on a chart, at the side where each begins, GAP beside the
 * window; none where the chart's own are in sight. X and Y: the window's corner on the page.
 */
void tb_items_row_numbers(GArray *items, const tb_chart *chart, double x, double y, double left,
	double top, double width, double height, double size, double gap);

/* --- sheet_key.c --- */

/* The key of all charts of the pages. */
void tb_galley_key(tb_galley *galley, bool uk_terms);

/* --- page_plate.c --- */

/* Sets a chart under a heading of level 2, as large as it has room for. False when there is none. */
bool tb_galley_plate(tb_galley *galley, const tb_chart_options *options, const char *heading,
	bool large, tb_diagnostics *diagnostics);
#endif
