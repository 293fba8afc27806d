/* What the acts of a sentence come to: whether anything is made, or the row only ended. */
#include "notation/script.h"

bool tb_reader_makes(const tb_acts *acts)
{
	for (unsigned i = 0; i < acts->count; i++) {
		switch (acts->acts[i].kind) {
		case TB_ACT_WORK:
		case TB_ACT_REPEAT:
		case TB_ACT_GROUP:
		case TB_ACT_KNOT:
		case TB_ACT_SHAPE:
		case TB_ACT_CANNOT:
		case TB_ACT_ONLY:
			return true;
		default:
			break;
		}
	}
	return false;
}

bool tb_reader_only_ends(const tb_acts *acts)
{
	for (unsigned i = 0; i < acts->count; i++) {
		tb_act_kind kind = acts->acts[i].kind;
		if (kind != TB_ACT_FASTEN_OFF && kind != TB_ACT_LEAVE && kind != TB_ACT_TURN &&
			kind != TB_ACT_DO_NOT_JOIN && kind != TB_ACT_JOIN)
			return false;
	}
	return true;
}
