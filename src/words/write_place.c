/* Where a stitch goes, in words. */
#include "words/writer.h"

void tb_writer_noun(tb_writer *w, const tb_place *place, bool plural)
{
	const char *s = plural ? "s" : "";
	if ((place->missed && place->of_row > 0) || place->left)
		g_string_append(w->out, "skipped ");
	switch (place->target) {
	case TB_TARGET_CHAIN:
		g_string_append_printf(w->out, "ch%s", s);
		break;
	case TB_TARGET_SPACE:
		/* a corner may be a stitch as well */
		if (place->corner && place->space_chains > 0)
			g_string_append_printf(w->out, "ch-%u corner sp%s", place->space_chains, s);
		else if (place->corner)
			g_string_append_printf(w->out, "corner%s", s);
		else if (place->space_chains > 0)
			g_string_append_printf(w->out, "ch-%u sp%s", place->space_chains, s);
		else
			g_string_append_printf(w->out, "sp%s", s);
		if (place->inner)
			g_string_append(w->out, " of pineapple");
		if (place->beside != TB_BESIDE_NOTHING)
			g_string_append(w->out, place->beside == TB_BESIDE_BEFORE ? " before picot" : " behind picot");
		break;
	case TB_TARGET_NAMED:
		g_string_append(w->out, tb_writer_stitch(w, place->named));
		break;
	case TB_TARGET_TURNING_CHAIN:
		g_string_append(w->out, "tch");
		break;
	case TB_TARGET_GROUP:
		if (place->own != NULL)
			g_string_append(w->out, place->own->name);
		else if (place->named != NULL)
			g_string_append_printf(w->out, "%s group%s", tb_writer_stitch(w, place->named), s);
		else
			g_string_append_printf(w->out, "group%s", s);
		break;
	case TB_TARGET_STITCH:
		g_string_append_printf(w->out, "st%s", s);
		break;
	}
}

const char *tb_writer_ordinal_ending(int value)
{
	if (value % 100 >= 11 && value % 100 <= 13)
		return "th";
	switch (value % 10) {
	case 1:
		return "st";
	case 2:
		return "nd";
	case 3:
		return "rd";
	default:
		return "th";
	}
}

static void write_ordinal(tb_writer *w, const tb_number *number)
{
	int value = tb_writer_value(w, number);
	g_string_append_printf(w->out, "%d%s ", value, tb_writer_ordinal_ending(value));
}

void tb_writer_reach_kind(tb_writer *w, const tb_number *left, const tb_place *kind)
{
	if (kind->in != TB_IN_LAST) {
		tb_writer_reach(w, left);
		return;
	}
	bool one = tb_writer_is(w, left, 1);
	g_string_append(w->out, " to last ");
	if (!one) {
		tb_writer_number(w, left);
		g_string_append_c(w->out, ' ');
	}
	tb_writer_noun(w, kind, !one);
}

void tb_writer_reach(tb_writer *w, const tb_number *left)
{
	if (left->count == 0 || tb_writer_is(w, left, 0)) {
		g_string_append_printf(w->out, " %s", tb_writer_across(w));
	} else if (tb_writer_is(w, left, 1)) {
		g_string_append(w->out, " to last st");
	} else {
		g_string_append(w->out, " to last ");
		tb_writer_number(w, left);
		g_string_append(w->out, " sts");
	}
}

/* "next st", "each of next 3 sts"; a post farther down that is not named is only "st". */
static void write_counted(tb_writer *w, const tb_place *place, unsigned takes, bool each,
	const char *which)
{
	if (place->posts > 1)
		takes = place->posts;
	if (place->shared) {
		g_string_append(w->out, "same st and ");
		takes--;
	}
	tb_number together = {1, (const int[]){(int)takes}, {0, 0}};
	const tb_number *count = takes > 1 ? &together : &place->count;
	bool deep = place->rows_below > 1 && place->target == TB_TARGET_STITCH;
	if (count->count == 0 || tb_writer_is(w, count, 1)) {
		/* "in corner" is the one the hook stands in, where it stands in one */
		bool corner = place->in == TB_IN_NEXT && place->corner && place->unordered;
		if ((!deep || place->in != TB_IN_NEXT) && !corner)
			g_string_append_printf(w->out, "%s ", which);
		tb_writer_noun(w, place, false);
		return;
	}
	if (each && takes < 2)
		g_string_append(w->out, "each of ");
	g_string_append_printf(w->out, "%s ", which);
	tb_writer_number(w, count);
	g_string_append_c(w->out, ' ');
	tb_writer_noun(w, place, true);
}

static const char *skipped_word(const tb_writer *w)
{
	return w->options->uk ? "missed" : "skipped";
}

static void write_skipped(tb_writer *w, const tb_place *place)
{
	if (place->nth > 0) {
		g_string_append_printf(w->out, "%u%s %s ", place->nth, tb_writer_ordinal_ending((int)place->nth), skipped_word(w));
		tb_writer_noun(w, place, false);
		return;
	}
	/* all of them, however many */
	bool all = place->count.count == 0;
	if (all || tb_writer_is(w, &place->count, 1)) {
		g_string_append_printf(w->out, "%s %s ", all ? "each" : "next", skipped_word(w));
		tb_writer_noun(w, place, false);
		return;
	}
	g_string_append(w->out, "each of next ");
	tb_writer_number(w, &place->count);
	g_string_append_printf(w->out, " %s ", skipped_word(w));
	tb_writer_noun(w, place, true);
}

static void write_middle(tb_writer *w, const tb_place *place)
{
	g_string_append(w->out, "middle ");
	tb_writer_noun(w, place, false);
	g_string_append(w->out, " of ");
	tb_writer_number(w, &place->count);
	g_string_append_c(w->out, ' ');
	tb_writer_noun(w, place, true);
}

/* "3rd dc of next group", "center st of next double knot st" */
static void write_part(tb_writer *w, const tb_place *place)
{
	if (tb_writer_value(w, &place->count) > 0)
		write_ordinal(w, &place->count);
	else
		g_string_append(w->out, "center ");
	tb_writer_noun(w, place, false);
	if (place->of == NULL)
		return;
	g_string_append(w->out, " of next ");
	tb_writer_noun(w, place->of, false);
}

static void write_which(tb_writer *w, const tb_place *place, unsigned takes, bool each)
{
	if (place->middle) {
		write_middle(w, place);
		return;
	}
	switch (place->in) {
	case TB_IN_NEXT:
		/* "shell over shell": over the one the hook stands in */
		write_counted(w, place, takes, each,
			place->unordered && place->target == TB_TARGET_GROUP ? "the" : "next");
		break;
	case TB_IN_LAST:
		write_counted(w, place, takes, each, "last");
		break;
	case TB_IN_FIRST:
		write_counted(w, place, takes, each, "first");
		break;
	case TB_IN_EACH:
		g_string_append(w->out, "each ");
		tb_writer_noun(w, place, false);
		if (place->also != NULL) {
			g_string_append(w->out, " and each ");
			tb_writer_noun(w, place->also, false);
		}
		if (place->but != NULL) {
			g_string_append(w->out, ", skipping all ");
			tb_writer_noun(w, place->but, true);
		}
		break;
	case TB_IN_SAME:
		g_string_append(w->out, place->on_made ? "side of " : "same ");
		tb_writer_noun(w, place, false);
		if (place->on_made)
			g_string_append(w->out, " just made");
		if (place->at_begin)
			g_string_append(w->out, " as beginning");
		else if (place->begun)
			g_string_append(w->out, " as first st");
		break;
	case TB_IN_NTH_CHAIN:
		write_ordinal(w, &place->count);
		g_string_append(w->out, "ch from hook");
		break;
	case TB_IN_RING:
		g_string_append(w->out, "ring");
		break;
	case TB_IN_BETWEEN:
		if (place->beside == TB_BESIDE_BEFORE) {
			g_string_append(w->out, "sp before next ");
			tb_writer_noun(w, place, false);
			break;
		}
		if (place->deeper > 1) {
			g_string_append_printf(w->out, "sp between next 2 groups %u rows below", place->deeper);
			break;
		}
		g_string_append(w->out, tb_number_is(&place->count, 0) ? "each sp between " : "sp between next 2 ");
		tb_writer_noun(w, place, true);
		break;
	case TB_IN_NTH_STITCH:
		write_ordinal(w, &place->count);
		tb_writer_noun(w, place, false);
		break;
	case TB_IN_SKIPPED:
		write_skipped(w, place);
		break;
	case TB_IN_PART:
		write_part(w, place);
		break;
	case TB_IN_EDGE:
		break; /* tb_writer_place says all of it */
	}
}

void tb_writer_nth_chain(tb_writer *w, unsigned nth)
{
	g_string_append_printf(w->out, "%u%s ch of beg ch", nth, tb_writer_ordinal_ending((int)nth));
}

void tb_writer_place(tb_writer *w, const tb_place *place, unsigned takes, bool around, bool each)
{
	if (place->in == TB_IN_EDGE) {
		g_string_append(w->out, w->all_around ? " evenly around" : " evenly along side edge");
		return;
	}
	bool over = takes > 1 && (place->in == TB_IN_NEXT || place->in == TB_IN_LAST);
	g_string_append(w->out, around ? " around " : over ? " over " : " in ");
	if (place->target == TB_TARGET_TURNING_CHAIN && place->space_chains > 1 && !around) {
		tb_writer_nth_chain(w, place->space_chains);
		return;
	}
	if (place->target == TB_TARGET_TURNING_CHAIN) {
		g_string_append(w->out, around ? "tch" : "top of tch");
		return;
	}
	write_which(w, place, takes, each);
	if (place->target == TB_TARGET_SPACE && place->in == TB_IN_NEXT && place->of != NULL) {
		g_string_append(w->out, " of next ");
		tb_writer_noun(w, place->of, false);
	}
	if (place->of_row > 0)
		g_string_append_printf(w->out, " of row %u", place->of_row);
	else if (place->rows_below > 1 && !place->left)
		g_string_append_printf(w->out, " %u rows below", place->rows_below);
	if (place->far_side)
		g_string_append(w->out, " along other side");
	else if (place->in == TB_IN_EACH && (place->ground == NULL || place->up_to != NULL || tb_writer_value(w, &place->count) > 0))
		tb_writer_end(w, place);
	if (place->ground != NULL)
		g_string_append_printf(w->out, " of %s", place->ground->said);
}

void tb_writer_end(tb_writer *w, const tb_place *place)
{
	if (place->up_to != NULL) {
		g_string_append(w->out, " to ");
		write_which(w, place->up_to, 1, false);
	} else {
		tb_writer_reach(w, &place->count);
	}
}
