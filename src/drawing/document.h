/* A document: drawings that follow each other as pages, and the outline that leads to them. */
#ifndef TB_DRAWING_DOCUMENT_H
#define TB_DRAWING_DOCUMENT_H

#include "drawing/drawing.h"

#include <tambour/sheet.h>

typedef struct {
	char *text;     /* owned */
	unsigned level; /* 1, or 2 for what is below the last of level 1 */
	unsigned page;  /* from 0 */
	double y_mm;    /* on the page */
} tb_bookmark;

struct tb_document {
	char *title, *author, *description;
	GPtrArray *pages;  /* tb_drawing */
	GPtrArray *labels; /* char *, by page: "3", "A1" */
	GArray *bookmarks; /* tb_bookmark */
};

#endif
