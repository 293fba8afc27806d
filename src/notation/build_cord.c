/* Cords: chains with stitches back along them, which hang on a piece and are none of its rows. */
#include "notation/build.h"

/*
 * "Stem: ch 15, sl st in 2nd ch from hook and in next 13 ch": so many stitches as the chain has room for. False where
 * it has not; true where this is no cord, or goes as far as the chain does.
 */
bool tb_build_cord_fits(const tb_value *value)
{
	const tb_value *back = tb_value_get(value, TB_SLOT_back), *along = tb_value_get(back, TB_SLOT_n);
	unsigned chains = tb_build_figure(tb_value_get(value, TB_SLOT_cord), 0);
	unsigned first = tb_build_figure(tb_value_get(back, TB_SLOT_nth), 0), rest = tb_build_figure(along, 0);
	if (chains == 0 || first == 0)
		return true;
	return first <= chains && (rest == 0 || first + rest == chains);
}
