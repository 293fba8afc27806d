#include "drawing/palette.h"

static tb_colour from_hex(guint32 hex)
{
	return (tb_colour){(hex >> 16 & 255) / 255.0, (hex >> 8 & 255) / 255.0, (hex & 255) / 255.0};
}

/*
 * Rows alternate between a blue-black and a burnt orange dark enough for thin lines: far apart in
 * hue for every kind of colour vision, and in tone on a grey printer. All pass 4.5:1 on white,
 * since words are set in each of them (W3C, WCAG 2.1, 1.4.3), and on the tint, which is behind stitches only.
 */
tb_palette tb_palette_get(bool grey)
{
	static const guint32 colour[TB_INK_COUNT] = {0x141F2E, 0x9A4A00, 0x767676, 0x136A85, 0x141F2E, 0xDCEBF0};
	static const guint32 tones[TB_INK_COUNT] = {0x111111, 0x4C4C4C, 0x767676, 0x444444, 0x111111, 0xE0E0E0};
	tb_palette palette;
	for (int i = 0; i < TB_INK_COUNT; i++)
		palette.inks[i] = from_hex(grey ? tones[i] : colour[i]);
	return palette;
}
