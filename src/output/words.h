/* The text beneath a chart's ink: what a row says, for those who search, copy or listen. */
#ifndef TB_OUTPUT_WORDS_H
#define TB_OUTPUT_WORDS_H

#include "drawing/drawing.h"

#include <cairo.h>

typedef struct tb_words tb_words;

/* DRAWING is borrowed and must outlive the words. */
tb_words *tb_words_create(const tb_drawing *drawing);
void tb_words_destroy(tb_words *words);

/* Lays down, unseen, the words of the outermost group whose mark is number GROUP. */
void tb_words_show(tb_words *words, cairo_t *cr, guint group);

#endif
