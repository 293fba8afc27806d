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
	static const guint32 colour[TB_INK_COUNT] = {0x1A2233, 0x9A4310, 0x767676, 0x0B6472, 0x1A2233, 0x5D6470, 0xE4F0F0, 0xEBDFC8, 0xC9B48A};
	static const guint32 tones[TB_INK_COUNT] = {0x111111, 0x6C6C6C, 0x767676, 0x3A3A3A, 0x111111, 0x5E5E5E, 0xEFEFEF, 0xDCDCDC, 0xB4B4B4};
	tb_palette palette;
	for (int i = 0; i < TB_INK_COUNT; i++)
		palette.inks[i] = from_hex(grey ? tones[i] : colour[i]);
	return palette;
}
