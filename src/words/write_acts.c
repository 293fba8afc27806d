/* What is done, act by act. */
#include "words/writer.h"

static const char *skip_word(const tb_writer *w)
{
	return w->options->uk ? "miss" : "sk";
}

static const char *loops_word(tb_loops loops)
{
	return loops == TB_LOOPS_BACK ? "BLO" : loops == TB_LOOPS_FRONT ? "FLO" : "third loop";
}

static void write_loops(tb_writer *w, tb_loops loops, const char *before, const char *after)
{
	if (loops != TB_LOOPS_BOTH)
		g_string_append_printf(w->out, "%s%s%s", before, loops_word(loops), after);
}

static void write_counts(tb_writer *w, const tb_act *act, int extra)
{
	if (act->counts == TB_COUNTS_NOT) {
		g_string_append(w->out, " (does not count as st)");
	} else if (act->counts == TB_COUNTS) {
		g_string_append_printf(w->out, " (counts as %s",
			act->stitch != NULL ? tb_writer_stitch(w, act->stitch) : "st");
		if (extra > 0)
			g_string_append_printf(w->out, ", ch %d", extra);
		g_string_append_c(w->out, ')');
	}
}

/* The chains beyond a counted turning chain that ACT, the next one, makes: ch 5 is ch 3 and ch 2. */
static int extra_chains(const tb_act *chain, const tb_act *act)
{
	bool extra = chain->kind == TB_ACT_CHAIN && chain->counts == TB_COUNTS &&
		chain->stitch != NULL && chain->count.count == 1 && act != NULL &&
		act->kind == TB_ACT_CHAIN && act->count.count == 1 && act->counts == TB_COUNTS_UNSAID;
	return extra ? act->count.values[0] : 0;
}

static void write_chain(tb_writer *w, const tb_act *act, int extra)
{
	g_string_append(w->out, "ch ");
	if (extra > 0)
		g_string_append_printf(w->out, "%d", act->count.values[0] + extra);
	else
		tb_writer_number(w, &act->count);
	write_counts(w, act, extra);
}

/* The chains left out before the first stitch of a foundation row. */
static void write_skipped_chains(tb_writer *w, const tb_act *act)
{
	int skipped = tb_writer_value(w, &act->place.count) - 1;
	if (act->counts == TB_COUNTS_UNSAID)
		return;
	g_string_append_printf(w->out, " (%d %s ch%s ", skipped,
		w->options->uk ? "missed" : "skipped", skipped == 1 ? "" : "s");
	if (act->counts == TB_COUNTS)
		g_string_append_printf(w->out, "count%s as %s)", skipped == 1 ? "s" : "",
			tb_writer_stitch(w, act->stitch));
	else
		g_string_append_printf(w->out, "%s not count as st)", skipped == 1 ? "does" : "do");
}

/* "3 dc", the stitches of a group or those that follow one another. */
static void write_bare(tb_writer *w, const tb_act *act)
{
	if (!tb_writer_is(w, &act->place.count, 1)) {
		tb_writer_number(w, &act->place.count);
		g_string_append_c(w->out, ' ');
	}
	g_string_append(w->out, tb_writer_stitch(w, act->stitch));
	write_loops(w, act->place.loops, " ", "");
}

static bool is_bare(const tb_writer *w, const tb_act *act)
{
	if (act->place.in != TB_IN_NEXT || act->place.target != TB_TARGET_STITCH ||
		act->place.rows_below > 1 || act->place.middle || !tb_writer_is(w, &act->each, 1))
		return false;
	return w->in_group ||
		(act->stitch->takes > 1 && !tb_writer_is(w, &act->place.count, 1));
}

static bool needs_each(const tb_writer *w, const tb_act *act)
{
	return act->stitch->post != TB_POST_NONE || !tb_writer_is(w, &act->each, 1);
}

/* "FPdc around each FPdc and BPdc around each BPdc to last st", "sc in each sc and 3 sc in each ch-2 sp around" */
static void write_kinds(tb_writer *w, const tb_act *act)
{
	for (const tb_act *kind = act; kind != NULL; kind = kind->other) {
		g_string_append(w->out, kind == act ? "" : " and ");
		if (kind->kind == TB_ACT_GROUP) {
			tb_writer inside = *w;
			inside.star = false;
			inside.in_group = true;
			g_string_append_c(w->out, '(');
			tb_writer_acts(&inside, &kind->body);
			g_string_append(w->out, ") in each ");
		} else {
			if (!tb_writer_is(w, &kind->each, 1)) {
				tb_writer_number(w, &kind->each);
				g_string_append_c(w->out, ' ');
			}
			g_string_append_printf(w->out, "%s %s each ", tb_writer_stitch(w, kind->stitch), kind->place.around ? "around" : "in");
		}
		tb_writer_noun(w, &kind->place, false);
	}
	tb_writer_end(w, &act->place);
}

static void write_work(tb_writer *w, const tb_act *act)
{
	if (act->other != NULL) {
		write_kinds(w, act);
		return;
	}
	if (act->stitch->foot == TB_FOOT_CHAIN && act->place.in == TB_IN_NEXT) {
		/* "fsc 20", which stand on chains of their own, as chains are counted */
		g_string_append_printf(w->out, "%s ", tb_writer_stitch(w, act->stitch));
		tb_writer_number(w, &act->place.count);
		return;
	}
	if (is_bare(w, act)) {
		write_bare(w, act);
		return;
	}
	/* along an edge it is the place that says how many */
	bool along = act->place.in == TB_IN_EDGE && tb_writer_is(w, &act->each, 1) && !tb_writer_is(w, &act->place.count, 0);
	if (along || !tb_writer_is(w, &act->each, 1)) {
		tb_writer_number(w, along ? &act->place.count : &act->each);
		g_string_append_c(w->out, ' ');
	}
	g_string_append(w->out, tb_writer_stitch(w, act->stitch));
	bool third = act->place.loops == TB_LOOPS_THIRD;
	if (!third)
		write_loops(w, act->place.loops, " ", "");
	gsize at = w->out->len + sizeof " in " - 1;
	tb_writer_place(w, &act->place, act->stitch->takes, act->stitch->post != TB_POST_NONE,
		needs_each(w, act));
	if (third)
		g_string_insert(w->out, (gssize)at, "third loop of ");
	if (act->place.in == TB_IN_NTH_CHAIN)
		write_skipped_chains(w, act);
	if (act->corner_each.count > 0) {
		g_string_append(w->out, ", working ");
		tb_writer_number(w, &act->corner_each);
		g_string_append_printf(w->out, " %s in each corner", tb_writer_stitch(w, act->stitch));
	}
	if (act->do_not_skip_behind)
		g_string_append_printf(w->out, ", do not %s st behind", skip_word(w));
}

/* "dc in 4th ch from hook and in each ch across": the same stitch in a place more. */
static bool goes_on(const tb_writer *w, const tb_act *act, const tb_act *next)
{
	return next != NULL && act->kind == TB_ACT_WORK && next->kind == TB_ACT_WORK &&
		act->place.in == TB_IN_NTH_CHAIN && act->stitch == next->stitch &&
		act->stitch->takes == 1 && next->place.in == TB_IN_EACH &&
		tb_writer_is(w, &act->each, 1) && tb_writer_is(w, &next->each, 1) &&
		act->place.loops == next->place.loops;
}

static void write_skip(tb_writer *w, const tb_act *act)
{
	if (act->in_rows) {
		g_string_append_printf(w->out, "%s next ", skip_word(w));
		tb_writer_number(w, &act->place.count);
		g_string_append(w->out, " row ends");
		return;
	}
	g_string_append(w->out, skip_word(w));
	tb_writer place = *w;
	place.out = g_string_new(NULL);
	tb_writer_place(&place, &act->place, 1, false, false);
	/* what is skipped has no "in" */
	g_string_append(w->out, place.out->str + sizeof " in" - 1);
	g_string_free(place.out, TRUE);
}

static void write_times(tb_writer *w, const tb_number *count)
{
	if (tb_writer_is(w, count, 1)) {
		g_string_append(w->out, " once");
	} else if (tb_writer_is(w, count, 2)) {
		g_string_append(w->out, " twice");
	} else {
		g_string_append_c(w->out, ' ');
		tb_writer_number(w, count);
		g_string_append(w->out, " times");
	}
}

/* "*a, **b; rep from * across, ending last rep at **" */
static void write_star(tb_writer *w, const tb_act *act)
{
	tb_writer inside = *w;
	inside.star = false;
	g_string_append_c(w->out, '*');
	tb_acts body = act->body;
	if (act->body_last > 0) {
		tb_acts last = {act->body.acts, act->body_last};
		body = (tb_acts){act->body.acts + act->body_last, act->body.count - act->body_last};
		tb_writer_acts(&inside, &last);
		g_string_append(w->out, ", **");
	}
	tb_writer_acts(&inside, &body);
	g_string_append(w->out, "; rep from *");
	if (act->until == TB_UNTIL_TIMES) {
		tb_number more = act->count;
		int *values = g_new(int, MAX(more.count, 1));
		for (unsigned i = 0; i < more.count; i++)
			values[i] = MAX(act->count.values[i] - 1, 0);
		more.values = values;
		g_string_append_c(w->out, ' ');
		tb_writer_number(w, &more);
		g_string_append_printf(w->out, " more time%s", tb_writer_is(w, &more, 1) ? "" : "s");
		g_free(values);
	} else {
		tb_writer_reach_kind(w, &act->count, &act->place);
	}
	if (act->corresponds)
		g_string_append(w->out, act->ends > 0 ? " in same manner" : ", ending to correspond");
	if (act->body_last > 0)
		g_string_append(w->out, ", ending last rep at **");
}

static void write_repeat(tb_writer *w, const tb_act *act)
{
	if (act->body_last > 0 || (w->star && act->until == TB_UNTIL_END)) {
		write_star(w, act);
		return;
	}
	tb_writer inside = *w;
	inside.star = false;
	g_string_append_c(w->out, '[');
	tb_writer_acts(&inside, &act->body);
	g_string_append_c(w->out, ']');
	if (act->until == TB_UNTIL_TIMES)
		write_times(w, &act->count);
	else
		tb_writer_reach_kind(w, &act->count, &act->place);
}

static bool has_post(const tb_acts *acts)
{
	for (unsigned i = 0; i < acts->count; i++) {
		if (acts->acts[i].kind == TB_ACT_WORK && acts->acts[i].stitch->post != TB_POST_NONE)
			return true;
	}
	return false;
}

static void write_group(tb_writer *w, const tb_act *act)
{
	tb_writer inside = *w;
	inside.star = false;
	inside.in_group = true;
	if (w->in_group) {
		/* of several groups in one place the stitches are written, and where they go, once */
		tb_writer_acts(&inside, &act->body);
		return;
	}
	g_string_append_c(w->out, '(');
	tb_writer_acts(&inside, &act->body);
	g_string_append_c(w->out, ')');
	bool around = has_post(&act->body) && act->place.target != TB_TARGET_SPACE;
	gsize at = w->out->len + (around ? sizeof " around " : sizeof " in ") - 1;
	tb_writer_place(w, &act->place, 1, around, true);
	if (act->place.loops != TB_LOOPS_BOTH) {
		g_autofree char *loops = g_strconcat(loops_word(act->place.loops), " of ", NULL);
		g_string_insert(w->out, (gssize)at, loops);
	}
}

static void write_join(tb_writer *w, const tb_act *act)
{
	g_string_append_printf(w->out, "join with %s in ", tb_writer_stitch(w, act->stitch));
	if (act->place.ground != NULL)
		g_string_append_printf(w->out, "any st of %s", act->place.ground->said);
	else if (act->place.target == TB_TARGET_TURNING_CHAIN && act->place.space_chains > 1)
		tb_writer_nth_chain(w, act->place.space_chains);
	else if (act->place.target == TB_TARGET_TURNING_CHAIN && w->beginning > 0)
		g_string_append_printf(w->out, "top of beg ch-%d", w->beginning);
	else if (act->place.target == TB_TARGET_TURNING_CHAIN)
		g_string_append(w->out, "top of beg ch");
	else {
		g_string_append(w->out, "first ");
		tb_writer_noun(w, &act->place, false);
	}
}

static void write_join_yarn(tb_writer *w, const tb_act *act)
{
	g_string_append(w->out, "join yarn");
	if (act->stitch != NULL)
		g_string_append_printf(w->out, " with %s", tb_writer_stitch(w, act->stitch));
	tb_writer_place(w, &act->place, 1, false, false);
}

static void write_leave(tb_writer *w, const tb_act *act)
{
	g_string_append(w->out, "leave rem ");
	if (act->count.count > 0) {
		tb_writer_number(w, &act->count);
		g_string_append_c(w->out, ' ');
	}
	g_string_append_printf(w->out, "%s%s", act->place.target == TB_TARGET_SPACE ? "sp" : "st",
		act->count.count > 0 && tb_writer_is(w, &act->count, 1) ? "" : "s");
	if (act->place.ground != NULL)
		g_string_append_printf(w->out, " of %s", act->place.ground->said);
	g_string_append(w->out, " unworked");
}

static void write_only(tb_writer *w, const tb_act *act)
{
	if (w->options->size < 0) {
		tb_writer_sizes(w, act->sizes);
		g_string_append(w->out, ": ");
	}
	tb_writer_acts(w, &act->body);
	if (w->options->size < 0)
		g_string_append_c(w->out, ';');
}

static void write_act(tb_writer *w, const tb_act *act, const tb_act *before)
{
	switch (act->kind) {
	case TB_ACT_CHAIN:
		write_chain(w, act, 0);
		break;
	case TB_ACT_WORK:
		write_work(w, act);
		break;
	case TB_ACT_SKIP:
		write_skip(w, act);
		break;
	case TB_ACT_SKIP_BEHIND:
		g_string_append_printf(w->out, "%s st behind", skip_word(w));
		break;
	case TB_ACT_REPEAT:
		write_repeat(w, act);
		break;
	case TB_ACT_GROUP:
		write_group(w, act);
		break;
	case TB_ACT_KNOT:
		g_string_append(w->out, tb_writer_is(w, &act->count, 2) ? "double knot st" : "single knot st");
		break;
	case TB_ACT_TURN:
		g_string_append(w->out, "turn");
		break;
	case TB_ACT_JOIN:
		write_join(w, act);
		break;
	case TB_ACT_DO_NOT_JOIN:
		g_string_append(w->out, "do not join");
		break;
	case TB_ACT_LEAVE:
		write_leave(w, act);
		break;
	case TB_ACT_FASTEN_OFF:
		g_string_append(w->out, "fasten off");
		break;
	case TB_ACT_JOIN_YARN:
		write_join_yarn(w, act);
		break;
	case TB_ACT_RING:
		if (before != NULL && before->kind == TB_ACT_CHAIN)
			g_string_append_printf(w->out, "join with %s to form a ring",
				w->options->uk ? "ss" : "sl st");
		else
			g_string_append(w->out, "make a magic ring");
		break;
	case TB_ACT_IN_FRONT:
		g_string_append(w->out, "working in front of sts just made");
		break;
	case TB_ACT_BEHIND:
		g_string_append(w->out, "working behind sts just made");
		break;
	case TB_ACT_ONLY:
		write_only(w, act);
		break;
	case TB_ACT_OTHER_SIDE:
		g_string_append(w->out, "working along other side of foundation ch");
		break;
	case TB_ACT_LOOPS:
		if (act->place.of_row > 0) {
			bool loops = act->place.loops != TB_LOOPS_BOTH;
			g_string_append_printf(w->out, "working into %s%srow %u",
				act->place.missed ? "skipped sts" : loops ? loops_word(act->place.loops) : "",
				loops || act->place.missed ? " of " : "", act->place.of_row);
			break;
		}
		g_string_append_printf(w->out, "working in %s only", act->place.loops == TB_LOOPS_BOTH ?
			"both loops" : loops_word(act->place.loops));
		break;
	case TB_ACT_SHAPE:
	case TB_ACT_FOLD:
	case TB_ACT_GO_TO:
		g_string_append_printf(w->out, "from %s", act->place.ground->said);
		break;
	case TB_ACT_ANCHOR:
		g_string_append(w->out, "sl st in next ");
		tb_writer_number(w, &act->count);
		g_string_append_printf(w->out, " st%s of %s", tb_writer_is(w, &act->count, 1) ? "" : "s", act->place.ground->said);
		break;
	case TB_ACT_SURFACE:
	case TB_ACT_OTHER_EDGE:
	case TB_ACT_DO_NOT_TURN:
	case TB_ACT_AT_END:
	case TB_ACT_CLAIM:
	case TB_ACT_SIDE:
	case TB_ACT_WITHIN:
	case TB_ACT_NOT_BEHIND:
	case TB_ACT_SKIPPED_COUNT:
	case TB_ACT_CANNOT:
		break; /* of what was worked nothing is said so */
	}
}

/* An act of sizes other than the one written is not there. */
static bool is_written(const tb_writer *w, const tb_act *act)
{
	if (act->proves)
		return false;
	return act->kind != TB_ACT_ONLY || w->options->size < 0 ||
		(act->sizes >> w->options->size & 1);
}

/* "Sl st in each st to next sp" goes into that space: the slip stitch there is not said again. */
static bool is_said(const tb_act *before, const tb_act *act)
{
	return before != NULL && before->kind == TB_ACT_WORK && act->kind == TB_ACT_WORK &&
		before->stitch == act->stitch && before->place.in == TB_IN_EACH && before->place.up_to != NULL &&
		before->place.up_to->target == TB_TARGET_SPACE && act->place.target == TB_TARGET_SPACE &&
		act->place.in == TB_IN_NEXT && act->stitch->height <= 0;
}

void tb_writer_acts(tb_writer *w, const tb_acts *acts)
{
	const tb_act *before = NULL;
	for (unsigned i = 0; i < acts->count; i++) {
		const tb_act *act = &acts->acts[i];
		const tb_act *next = i + 1 < acts->count ? act + 1 : NULL;
		if (!is_written(w, act) || is_said(before, act))
			continue;
		if (before != NULL && goes_on(w, before, act)) {
			g_string_append(w->out, " and");
			tb_writer_place(w, &act->place, 1, false, false);
			before = act;
			continue;
		}
		if (before != NULL)
			g_string_append(w->out, w->out->str[w->out->len - 1] == ';' ? " " : ", ");
		if (before != NULL && before->kind == TB_ACT_REPEAT && before->ends > 0)
			g_string_append(w->out, "ending with ");
		int extra = i == 0 ? extra_chains(act, next) : 0;
		if (extra > 0) {
			write_chain(w, act, extra);
			i++;
		} else {
			write_act(w, act, before);
		}
		before = act;
	}
}
