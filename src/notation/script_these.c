/* What is said amid a row: the stitches it goes on with, and counts of what is worked so far. */
#include "notation/script.h"

#include "stitches/stitch.h"

bool tb_is_work_behind(const GArray *said, guint i)
{
	for (i++; i < said->len; i++) {
		const tb_act *act = &g_array_index(said, tb_act, i);
		tb_act_kind kind = act->kind;
		/* "12. Sl st in next st, fasten off": it closes the round */
		if (kind == TB_ACT_WORK && act->stitch != NULL && act->stitch->form == TB_FORM_SLIP &&
			act->place.in == TB_IN_NEXT && tb_number_is(&act->place.count, 1))
			continue;
		if (tb_act_is_work(act) || kind == TB_ACT_SHAPE)
			return true;
	}
	return false;
}

/* Whether a count stands behind SAID's place I that no work is behind: the row's own. */
static bool is_counted_later(const GArray *said, guint i)
{
	for (i++; i < said->len; i++) {
		const tb_act *act = &g_array_index(said, tb_act, i);
		if (act->kind == TB_ACT_CLAIM && act->claim_count > 0 && !act->claims[0].made && !tb_is_work_behind(said, i))
			return true;
	}
	return false;
}

/* Whether spaces were counted piece by piece before, as in "ch 5, dc in next dc (1 sp), …". */
static bool has_spaces_said(const GArray *acts)
{
	for (guint i = 0; i < acts->len; i++) {
		const tb_act *act = &g_array_index(acts, tb_act, i);
		for (unsigned k = 0; k < act->claim_count; k++) {
			if (act->claims[k].made && act->claims[k].spaces)
				return true;
		}
	}
	return false;
}

/* "… (7 sps), dc in next 3 dc", "dc in next 3 sts (4 dc with the ch), ch 5": of what was worked just before. */
static bool is_of_piece(const tb_claim *claim, const GArray *said, guint i, const GArray *acts)
{
	bool behind = tb_is_work_behind(said, i);
	return claim->spaces ? behind || has_spaces_said(acts) : claim->with_chain && claim->stitch != NULL && behind;
}

/* "…, sc in each row end (12 sc); join. (62 sc)": the join alone stands behind it. */
static bool is_joined_behind(const GArray *said, guint i)
{
	while (++i < said->len) {
		if (g_array_index(said, tb_act, i).kind == TB_ACT_JOIN)
			return true;
	}
	return false;
}

/* "Sc around first leg (12), 3 sc over chain (3), … (30)": amid the row, of what is worked by then. */
bool tb_claim_add_partial(tb_arena *arena, const GArray *said, guint i, GArray *acts)
{
	const tb_act *act = &g_array_index(said, tb_act, i);
	const tb_claim *claim = act->claims;
	bool after_work = acts->len > 0 && tb_act_is_work(&g_array_index(acts, tb_act, acts->len - 1));
	if (act->claim_count != 1 || claim->other || claim->own != NULL || claim->sides || claim->corners ||
		claim->pairs || claim->groups || claim->row > 0 || !after_work)
		return false;
	if (!is_of_piece(claim, said, i, acts) && (claim->spaces || !(tb_is_work_behind(said, i) || is_joined_behind(said, i)) || !is_counted_later(said, i)))
		return false;
	tb_claim *made = tb_arena_new(arena, tb_claim);
	*made = *claim;
	made->made = true;
	tb_act copy = *act;
	copy.claims = made;
	return tb_claim_add_to_last(&copy, acts);
}

void tb_acts_refuse(GArray *acts, const tb_act *act, const char *code, const char *why, const char *hint)
{
	tb_act cannot = *act;
	cannot.kind = TB_ACT_CANNOT;
	cannot.code = code;
	cannot.why = why;
	cannot.hint = hint;
	g_array_append_val(acts, cannot);
}

static void refuse_amid_work(GArray *acts, const tb_act *act)
{
	tb_acts_refuse(acts, act, "not-worked", "more is worked behind this in the row", "Begin a new row with it.");
}

static bool has_work(const GArray *acts)
{
	for (guint i = 0; i < acts->len; i++) {
		if (tb_act_is_work(&g_array_index(acts, tb_act, i)))
			return true;
	}
	return false;
}

/*
 * "Turn; working on these 12 sts only": behind the work it leaves the rest, and those 12 are the row's own
 * count. In front of it, it says what there is to work on. How many, where ACT does not say, is not asked.
 */
void tb_sentence_add_these(const tb_act *act, bool work_behind, GArray *acts, GArray *claims)
{
	tb_act leave = *act;
	if (work_behind && has_work(acts)) {
		if (!act->these || act->count.count > 0)
			refuse_amid_work(acts, act);
		return;
	}
	if (!work_behind) {
		tb_claim claim = {.span = act->span, .count = act->count};
		if (act->count.count > 0)
			g_array_append_val(claims, claim);
		leave.these = false;
		leave.count = (tb_number){0};
	}
	if (!leave.these || leave.count.count > 0)
		g_array_append_val(acts, leave);
}

/* "Working on first 8 sts only", ACT: before the row's work, of which ACTS are what was said so far. */
void tb_sentence_set_within(tb_sentence *sentence, tb_arena *arena, const tb_act *act, GArray *acts)
{
	if (!has_work(acts) && sentence->within == NULL) {
		tb_act *within = tb_arena_new(arena, tb_act);
		*within = *act;
		sentence->within = within;
		return;
	}
	refuse_amid_work(acts, act);
}

/* "Working on these 7 sts only, dec 1 st at neck edge on next row": what the first of rows worked again stands on. */
void tb_reader_set_within(tb_reader *r, tb_sentence *sentence, const tb_value *within)
{
	g_autoptr(GArray) acts = g_array_new(FALSE, FALSE, sizeof(tb_act));
	for (guint i = r->before->len; i-- > 0;) {
		tb_act act = g_array_index(r->before, tb_act, i);
		if (act.kind != TB_ACT_WITHIN)
			continue;
		g_array_remove_index(r->before, i);
		g_array_append_val(acts, act);
	}
	if (within != NULL)
		tb_build_act(&r->b, within, acts);
	if (acts->len == 1)
		sentence->within = tb_acts_keep(r->b.arena, acts).acts;
}

/* "dc in next 5 dc", "join in first skipped dc": no "dc in next" with 5 dc behind it, which nothing parts. */
bool tb_tears_place(const tb_lattice *l, guint32 from)
{
	static const unsigned places[] = {TB_TERM_next, TB_TERM_first, TB_TERM_last};
	if (from == 0 || from >= l->count)
		return false;
	/* "sc in next 10 sc of sleeve": nor that with "sc of sleeve" behind it */
	if (g_ascii_isdigit(l->text->chars[l->stop[from - 1] - 1]) && tb_lattice_edge(l, from + 1, TB_TERM_of) != NULL)
		return true;
	const char *text = l->text->chars + l->start[from];
	if (!g_ascii_isdigit(*text) && g_ascii_strncasecmp(text, "skipped", 7) != 0 && g_ascii_strncasecmp(text, "missed", 6) != 0)
		return false;
	for (size_t i = 0; i < G_N_ELEMENTS(places); i++) {
		if (tb_lattice_edge(l, from - 1, places[i]) != NULL)
			return true;
	}
	return false;
}
