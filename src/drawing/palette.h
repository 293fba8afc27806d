/* What colour each ink is. */
#ifndef TB_DRAWING_PALETTE_H
#define TB_DRAWING_PALETTE_H

#include "drawing/drawing.h"

/* Colours told apart by hue and by tone; GREY: tones of grey alone. */
tb_palette tb_palette_get(bool grey);

#endif
