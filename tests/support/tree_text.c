#include "tree_text.h"

static void append_acts(GString *out, tb_acts acts);

static void append_number(GString *out, const tb_number *number)
{
	if (number->count == 0)
		g_string_append(out, "all");
	for (unsigned i = 0; i < number->count; i++)
		g_string_append_printf(out, i > 0 ? "/%d" : "%d", number->values[i]);
}

static void append_loops(GString *out, tb_loops loops)
{
	static const char *const names[] = {"", " FLO", " BLO", " third loop"};
	g_string_append(out, names[loops]);
}

static void append_place(GString *out, const tb_place *place)
{
	static const char *const ins[] = {"next", "each to last", "last", "first", "same", "nth chain",
		"ring", "between", "nth", "skipped", "part", "edge"};
	g_string_append_printf(out, "%s ", ins[place->in]);
	append_number(out, &place->count);
	switch (place->target) {
	case TB_TARGET_STITCH:
		break;
	case TB_TARGET_CHAIN:
		g_string_append(out, " ch");
		break;
	case TB_TARGET_SPACE:
		g_string_append_printf(out, " sp%u", place->space_chains);
		break;
	case TB_TARGET_TURNING_CHAIN:
		g_string_append(out, " tch");
		break;
	case TB_TARGET_NAMED:
		g_string_append_printf(out, " %s", tb_stitch_get_us(place->named));
		break;
	case TB_TARGET_GROUP:
		g_string_append(out, " group");
		break;
	}
	if (place->rows_below != 1)
		g_string_append_printf(out, " below%u", place->rows_below);
	g_string_append(out, place->around ? " around" : "");
	g_string_append(out, place->middle ? " middle" : "");
	append_loops(out, place->loops);
}

static void append_repeat(GString *out, const tb_act *act)
{
	g_string_append(out, act->until == TB_UNTIL_TIMES ? "repeat " : "repeat to last ");
	append_number(out, &act->count);
	g_string_append(out, act->times_more ? "?" : "");
	if (act->body_last > 0)
		g_string_append_printf(out, " ending at %u", act->body_last);
	g_string_append(out, " {");
	append_acts(out, act->body);
	g_string_append_c(out, '}');
}

static void append_act(GString *out, const tb_act *act)
{
	static const char *const names[] = {
		[TB_ACT_CHAIN] = "ch", [TB_ACT_WORK] = "work", [TB_ACT_SKIP] = "sk",
		[TB_ACT_SKIP_BEHIND] = "sk behind", [TB_ACT_REPEAT] = "repeat", [TB_ACT_GROUP] = "group",
		[TB_ACT_TURN] = "turn", [TB_ACT_JOIN] = "join", [TB_ACT_DO_NOT_JOIN] = "do not join",
		[TB_ACT_LEAVE] = "leave", [TB_ACT_FASTEN_OFF] = "fasten off", [TB_ACT_JOIN_YARN] = "join yarn",
		[TB_ACT_KNOT] = "knot", [TB_ACT_RING] = "ring", [TB_ACT_IN_FRONT] = "in front",
		[TB_ACT_BEHIND] = "behind", [TB_ACT_ONLY] = "only", [TB_ACT_OTHER_SIDE] = "other side",
		[TB_ACT_FOLD] = "fold", [TB_ACT_GO_TO] = "go to", [TB_ACT_OTHER_EDGE] = "other edge",
		[TB_ACT_LOOPS] = "loops", [TB_ACT_SHAPE] = "shape", [TB_ACT_AT_END] = "at end",
		[TB_ACT_DO_NOT_TURN] = "do not turn", [TB_ACT_CLAIM] = "claim", [TB_ACT_SIDE] = "side",
		[TB_ACT_WITHIN] = "within", [TB_ACT_NOT_BEHIND] = "do not sk behind",
		[TB_ACT_SKIPPED_COUNT] = "skipped count", [TB_ACT_CANNOT] = "cannot",
	};
	if (act->kind == TB_ACT_REPEAT) {
		append_repeat(out, act);
		return;
	}
	if (act->kind != TB_ACT_WORK)
		g_string_append(out, names[act->kind]);
	if (act->kind == TB_ACT_LOOPS)
		append_loops(out, act->place.loops);
	if (act->kind == TB_ACT_CHAIN || act->kind == TB_ACT_LEAVE) {
		g_string_append_c(out, ' ');
		append_number(out, &act->count);
	}
	if (act->kind == TB_ACT_WORK) {
		append_number(out, &act->each);
		g_string_append_printf(out, " %s: ", tb_stitch_get_us(act->stitch));
		append_place(out, &act->place);
	} else if (act->kind == TB_ACT_SKIP || act->kind == TB_ACT_GROUP || act->kind == TB_ACT_JOIN ||
			   act->kind == TB_ACT_JOIN_YARN) {
		g_string_append_c(out, ' ');
		append_place(out, &act->place);
	}
	if (act->counts != TB_COUNTS_UNSAID)
		g_string_append_printf(out, act->counts == TB_COUNTS ? " counts as %s" : " not counted",
			act->kind == TB_ACT_CHAIN && act->stitch != NULL ? tb_stitch_get_us(act->stitch)
															 : "st");
	g_string_append(out, act->do_not_skip_behind ? " keeping behind" : "");
	if (act->kind == TB_ACT_ONLY)
		g_string_append_printf(out, " sizes %x", act->sizes);
	if (act->kind == TB_ACT_GROUP || act->kind == TB_ACT_ONLY) {
		g_string_append(out, " {");
		append_acts(out, act->body);
		g_string_append_c(out, '}');
	}
}

static void append_acts(GString *out, tb_acts acts)
{
	for (unsigned i = 0; i < acts.count; i++) {
		if (i > 0)
			g_string_append(out, "; ");
		append_act(out, &acts.acts[i]);
	}
}

static void append_claims(GString *out, const tb_sentence *sentence)
{
	for (unsigned i = 0; i < sentence->claim_count; i++) {
		const tb_claim *claim = &sentence->claims[i];
		g_string_append(out, i == 0 ? " = " : ", ");
		append_number(out, &claim->count);
		if (claim->stitch != NULL)
			g_string_append_printf(out, " %s", tb_stitch_get_us(claim->stitch));
		if (claim->spaces)
			g_string_append_printf(out, " sp%u", claim->space_chains);
	}
}

static void append_side(GString *out, tb_side side)
{
	if (side != TB_SIDE_UNSAID)
		g_string_append(out, side == TB_SIDE_RIGHT ? " RS" : " WS");
}

static void append_again(GString *out, const tb_sentence *sentence)
{
	g_string_append_printf(out, "again %u-%u", sentence->repeat_first, sentence->repeat_last);
	if (sentence->until == TB_REPEAT_TIMES) {
		g_string_append(out, " times ");
		append_number(out, &sentence->times);
	}
	for (unsigned i = 0; i < sentence->measure_count; i++)
		g_string_append_printf(out, "%s%.4g", i > 0 ? "/" : " mm ", sentence->measure_mm[i]);
	if (sentence->same_as_piece != NULL)
		g_string_append_printf(out, " like %s", sentence->same_as_piece);
	if (sentence->until == TB_REPEAT_PATTERN)
		g_string_append(out, " for pattern");
	if (sentence->ending_row > 0)
		g_string_append_printf(out, " ending row %u", sentence->ending_row);
	if (sentence->ending_side != TB_SIDE_UNSAID)
		g_string_append(out, " ending");
	append_side(out, sentence->ending_side);
	if (sentence->acts.count > 0)
		g_string_append(out, "; ");
}

char *tb_script_text(const tb_script *script)
{
	GString *out = g_string_new(NULL);
	for (unsigned i = 0; i < script->count; i++) {
		const tb_sentence *sentence = script->sentences[i];
		if (sentence->kind == TB_SENTENCE_START)
			g_string_append(out, "start");
		else if (sentence->first > 0)
			g_string_append_printf(out, "%s %u-%u", sentence->is_round ? "rnd" : "row",
				sentence->first, sentence->last);
		append_side(out, sentence->side);
		if (sentence->sizes != G_MAXUINT32)
			g_string_append_printf(out, " sizes %x", sentence->sizes);
		g_string_append(out, out->len > 0 && out->str[out->len - 1] != '\n' ? ": " : "");
		if (sentence->kind == TB_SENTENCE_REPEAT)
			append_again(out, sentence);
		append_acts(out, sentence->acts);
		append_claims(out, sentence);
		g_string_append_c(out, '\n');
	}
	return g_string_free(out, FALSE);
}
