/*
 * The drawing: what is seen, in millimetres, before any output knows of it.
 *
 * Shapes are paths drawn again and again (one for every different stitch, stretch included); marks
 * are placed on the page in painting order. A row's marks stand in one group, in working order,
 * each stitch with its word, so that outputs can name rows and lay text under the ink. An output
 * plays the marks from first to last and knows nothing of crochet.
 *
 * The paper is white; origin top left, y grows downward.
 */
#ifndef TB_DRAWING_DRAWING_H
#define TB_DRAWING_DRAWING_H

#include "layout/label.h"

#include <tambour/chart.h>

typedef struct {
	double red, green, blue; /* 0 to 1, sRGB */
} tb_colour;

typedef struct {
	tb_colour inks[TB_INK_COUNT];
} tb_palette;

typedef enum {
	TB_PATH_MOVE,  /* 1 point */
	TB_PATH_LINE,  /* 1 point */
	TB_PATH_CURVE, /* cubic: 3 points */
	TB_PATH_CLOSE, /* 0 points */
} tb_path_op;

typedef struct {
	double x, y;
} tb_point;

/* A path: ops, and the points they use in order. */
typedef struct {
	GArray *ops;    /* guint8, of tb_path_op */
	GArray *points; /* tb_point */
} tb_path;

/* One line or solid of a shape. */
typedef struct {
	tb_path *path;
	bool filled; /* else stroked with the drawing's pen, round caps and joins */
} tb_stroke;

/* A shape, around its own origin. Its box covers the ink, pen included. */
typedef struct {
	GArray *strokes; /* tb_stroke */
	double left, top, right, bottom;
} tb_shape;

typedef enum {
	TB_MARK_SHAPE,
	TB_MARK_LINE,
	TB_MARK_TEXT,
	TB_MARK_GROUP, /* begins a group; TB_MARK_END ends it */
	TB_MARK_END,
	/* Pages of a document have these too: */
	TB_MARK_CLIP,  /* what follows, to TB_MARK_UNCLIP, shows in a window only */
	TB_MARK_UNCLIP,
	TB_MARK_TAG,   /* begins a part of the document's structure; TB_MARK_UNTAG ends it */
	TB_MARK_UNTAG,
} tb_mark_kind;

typedef struct {
	tb_mark_kind kind;
	tb_ink ink;
	double x, y;      /* SHAPE: its origin; TEXT: the baseline, at the aligned end; CLIP: its corner */
	double angle;     /* SHAPE: radians, clockwise on the page */
	guint32 shape;    /* SHAPE: number of the shape */
	const char *word; /* SHAPE: what is read, "FPdc2tog"; NULL for none. Borrowed */
	tb_path *path;    /* LINE: owned */
	double pen_mm;    /* LINE; SHAPE: 0 for the drawing's pen */
	double width_mm, height_mm; /* CLIP */
	const char *role; /* TAG: "P", "H1"; "Link" and "Dest" have a target. Borrowed, constant */
	char *target;     /* TAG: owned, or NULL */
	double dash_mm, gap_mm; /* LINE: 0 for unbroken */
	char *text;       /* TEXT: what is written; GROUP: its title ("Row 3, wrong side"). Owned */
	double size_mm;   /* TEXT: the type's size (body height) */
	tb_face face; /* TEXT */
	tb_align align;   /* TEXT */
} tb_mark;

struct tb_drawing {
	char *title;       /* for <title> and metadata */
	char *description; /* for <desc> */
	char *author;      /* may be NULL */
	double width_mm, height_mm;
	double pen_mm; /* every stroke of every shape: one optical weight a chart */
	tb_palette palette;
	GPtrArray *shapes; /* tb_shape */
	GArray *marks;     /* tb_mark */
};

tb_drawing *tb_drawing_create(void);

tb_path *tb_path_create(void);
tb_path *tb_path_copy(const tb_path *path);
void tb_path_destroy(tb_path *path);
void tb_path_move(tb_path *path, double x, double y);
/* A line through COUNT points, from the first on. */
void tb_path_points(tb_path *path, const tb_point *points, guint count);
void tb_path_line(tb_path *path, double x, double y);
void tb_path_curve(tb_path *path, double x1, double y1, double x2, double y2, double x3, double y3);
void tb_path_close(tb_path *path);
bool tb_path_is_empty(const tb_path *path);
/*
 * The box of the path itself, without a pen, exact for curves (not the box of their controls).
 * False, and a box of zeros, when the path has no points.
 */
bool tb_path_bounds(const tb_path *path, double *left, double *top, double *right, double *bottom);

tb_shape *tb_shape_create(void);
void tb_shape_destroy(tb_shape *shape);
/* Takes PATH over. */
void tb_shape_add(tb_shape *shape, tb_path *path, bool filled);
/* Sets the box from the strokes and the pen. */
void tb_shape_measure(tb_shape *shape, double pen_mm);

/* Takes SHAPE over; returns its number. */
guint32 tb_drawing_add_shape(tb_drawing *drawing, tb_shape *shape);
void tb_drawing_begin_group(tb_drawing *drawing, const char *title);
void tb_drawing_end_group(tb_drawing *drawing);
void tb_drawing_place_shape(tb_drawing *drawing, guint32 shape, double x, double y, double angle,
	tb_ink ink, const char *word);
/* Takes PATH over. */
void tb_drawing_add_line(tb_drawing *drawing, tb_path *path, tb_ink ink, double pen_mm,
	double dash_mm, double gap_mm);
/* An area inside PATH, which it takes, behind what is added later. */
void tb_drawing_add_area(tb_drawing *drawing, tb_path *path, tb_ink ink);
void tb_drawing_add_text(tb_drawing *drawing, const char *text, double x, double y, double size_mm,
	tb_face face, tb_align align, tb_ink ink);

/* What follows shows only in the window, until it is unclipped. */
void tb_drawing_clip(tb_drawing *drawing, double x, double y, double width_mm, double height_mm);
void tb_drawing_unclip(tb_drawing *drawing);
/* TARGET is copied. */
void tb_drawing_tag(tb_drawing *drawing, const char *role, const char *target);
void tb_drawing_untag(tb_drawing *drawing);
/* A copy of SHAPE, owned. */
tb_shape *tb_shape_copy(const tb_shape *shape);

/* The drawing as text, one mark a line, for golden files. Owned: g_free. */
char *tb_drawing_trace(const tb_drawing *drawing);

G_DEFINE_AUTOPTR_CLEANUP_FUNC(tb_path, tb_path_destroy)
G_DEFINE_AUTOPTR_CLEANUP_FUNC(tb_shape, tb_shape_destroy)

#endif
