/*
 * Work that stands on other work than the row below: "sc in each st of first leg, ch 3, sc in each st of
 * second leg".  Which piece is meant is found by its name: of those that come before, and this one itself,
 * which may be made twice, the second being gone on with.
 */
#include "notation/build.h"

#include "pattern/read.h"

#include <string.h>

/* "legs", "feet", "teeth": one of them. In place. */
static void make_one(char *word)
{
	static const char *const many[][2] = {{"feet", "foot"}, {"teeth", "tooth"}, {"hooves", "hoof"}};
	for (size_t i = 0; i < G_N_ELEMENTS(many); i++) {
		if (strcmp(word, many[i][0]) == 0)
			strcpy(word, many[i][1]);
	}
	size_t length = strlen(word);
	if (length > 3 && word[length - 1] == 's' && word[length - 2] != 's')
		word[length - 1] = '\0';
}

/* Which of several WORD says: 1, 2, … ; 0 where it says another, or none. */
static unsigned find_copy(const char *word)
{
	unsigned copy = 0;
	if (g_ascii_isdigit(*word))
		return (unsigned)MIN(g_ascii_strtoull(word, NULL, 10), 99);
	if (tb_at_number_word(word, &copy) > 0)
		return copy;
	return strcmp(word, "left") == 0 ? 1 : strcmp(word, "right") == 0 ? 2 : 0;
}

/* The words of TEXT, small, each as one of its kind. */
static char **words_of(const char *text)
{
	g_autofree char *lower = tb_text_lower(text, -1);
	char **words = g_strsplit_set(lower, " -_,.:;()[]#", -1);
	for (char **word = words; *word != NULL; word++)
		make_one(*word);
	return words;
}

/* Whether TEXT speaks of such: "Earflap" is a flap. */
static bool names(const char *text, const char *noun)
{
	if (text == NULL)
		return false;
	g_auto(GStrv) words = words_of(text);
	for (char **word = words; *word != NULL; word++) {
		if (g_str_has_suffix(*word, noun))
			return true;
	}
	return false;
}

/* The one of several that TEXT, a piece's name, is: "Leg 2", "Second leg"; 0: it does not say. */
static unsigned copy_of_name(const char *text)
{
	g_auto(GStrv) words = words_of(text);
	unsigned copy = 0;
	for (char **word = words; *word != NULL && copy == 0; word++)
		copy = find_copy(*word);
	return copy;
}

/* The piece that NOUN names, and of it, or of several such, the one that COPY counts. */
static void find_piece(const tb_builder *b, const char *noun, tb_other_work *ground)
{
	unsigned before = 0, wanted = ground->copy;
	for (unsigned i = 0; i <= b->piece; i++) {
		const tb_piece *piece = tb_pattern_piece(b->pattern, i);
		if (!names(piece->name, noun) && !names(piece->heading, noun))
			continue;
		unsigned own = copy_of_name(piece->name), last = before + MAX(piece->make, 1);
		bool is_it = own > 0 ? own == wanted : wanted > before && wanted <= last;
		/* "the other leg" is not this one, where it is made once */
		bool other = wanted == 0 && (i != b->piece || piece->make > 1);
		if (ground->piece == TB_NO_PIECE || is_it || other) {
			ground->piece = i;
			ground->copy = piece->make > 1 || own == 0 ? wanted : 1;
		}
		if (is_it)
			return;
		before = last;
	}
}

/* "Body", "the front edge": work that rows are joined to as they are made; which piece it is, its name says. */
void tb_build_anchor(tb_builder *b, const tb_value *value, GArray *acts)
{
	const tb_lattice *l = b->lattice;
	const tb_value *of = tb_value_get(value, TB_SLOT_of);
	size_t length = l->stop[of->to - 1] - l->start[of->from];
	g_autofree char *text = g_strndup(l->text->chars + l->start[of->from], length);
	tb_other_work *edge = tb_arena_new(b->arena, tb_other_work);
	*edge = (tb_other_work){.piece = TB_NO_PIECE, .said = tb_arena_copy(b->arena, text, length)};
	for (unsigned i = 0; i < b->piece && edge->piece == TB_NO_PIECE; i++) {
		const tb_piece *piece = tb_pattern_piece(b->pattern, i);
		/* the yoke that ends in its part "Body": the edge is the last row of both */
		unsigned parts = piece->parts != NULL ? piece->parts->len : 0;
		const char *last = parts > 0 ? g_array_index(piece->parts, tb_piece_part, parts - 1).name : NULL;
		if (g_ascii_strcasecmp(piece->name, text) == 0 || (last != NULL && g_ascii_strcasecmp(last, text) == 0))
			edge->piece = i;
	}
	tb_act act = tb_build_act_of(b, value, TB_ACT_ANCHOR);
	act.count = tb_build_number(b, tb_value_get(value, TB_SLOT_n), 1);
	act.place.ground = edge;
	g_array_append_val(acts, act);
}

static const tb_other_work *read_leg(tb_builder *b, const tb_value *leg)
{
	const tb_lattice *l = b->lattice;
	size_t length = l->stop[leg->to - 1] - l->start[leg->from];
	g_autofree char *text = g_strndup(l->text->chars + l->start[leg->from], length);
	g_auto(GStrv) words = words_of(text);
	tb_other_work *ground = tb_arena_new(b->arena, tb_other_work);
	*ground = (tb_other_work){.piece = TB_NO_PIECE, .both = tb_build_has(leg, TB_SLOT_both),
		.said = tb_arena_copy(b->arena, text, length)};
	const char *noun = NULL;
	bool other = false;
	for (char **word = words; *word != NULL; word++) {
		unsigned copy = find_copy(*word);
		bool ordinal = g_ascii_isdigit(**word) || copy > 0;
		other = other || strcmp(*word, "other") == 0 || strcmp(*word, "opposite") == 0 || strcmp(*word, "next") == 0;
		ground->copy = ground->copy == 0 ? copy : ground->copy;
		if (**word != '\0' && !ordinal)
			noun = *word;
	}
	const tb_other_work *last = b->last_leg;
	if (tb_build_has(leg, TB_SLOT_it) && last != NULL)
		return last;
	if (noun != NULL)
		find_piece(b, noun, ground);
	/* "join to first leg, sc around the leg" */
	if (ground->copy == 0 && !other && !ground->both && last != NULL && last->piece == ground->piece)
		return last;
	b->last_leg = ground->piece == TB_NO_PIECE ? last : ground;
	return ground;
}

void tb_build_on_section(tb_builder *b, const tb_value *value, tb_place *place)
{
	const tb_value *part = tb_value_get(value, TB_SLOT_sect);
	const tb_other_work *last = b->last_leg;
	const tb_other_work *named = part != NULL ? read_leg(b, part) : NULL;
	bool open = place->in == TB_IN_EACH && place->up_to == NULL && !place->to_marker;
	b->last_leg = last;
	if (named == NULL)
		return;
	tb_other_work *ground = tb_arena_new(b->arena, tb_other_work);
	*ground = *named;
	ground->own = ground->piece == b->piece;
	place->ground = ground->piece != TB_NO_PIECE ? ground : NULL;
	place->parted = (place->parted || open) && (place->ground == NULL || ground->own);
	if (place->ground != NULL && !ground->own)
		b->last_leg = ground;
	if (place->ground != NULL && open)
		place->count = tb_number_make(b->arena, 0, place->span);
}

/* "the other side of the 3 ch", "each of 3 ch along the other side" */
static void build_far_side(tb_builder *b, const tb_value *value, tb_place *place)
{
	const tb_value *of = tb_value_get(value, TB_SLOT_of), *chains = tb_value_get(of, TB_SLOT_n);
	if (tb_value_get(value, TB_SLOT_place) != NULL)
		tb_build_place(b, tb_value_get(value, TB_SLOT_place), place);
	place->far_side = true;
	if (of == NULL)
		return;
	place->target = TB_TARGET_CHAIN;
	place->in = chains == NULL ? TB_IN_EACH : TB_IN_NEXT;
	place->halved = tb_build_has(of, TB_SLOT_half);
	place->count = tb_build_number(b, chains, 0);
	/* "5 sc in other side of ch": along it, one in each */
	place->unordered = tb_build_has(of, TB_SLOT_all);
}

bool tb_build_on_ground(tb_builder *b, const tb_value *value, tb_place *place)
{
	const tb_value *leg = tb_value_get(value, TB_SLOT_leg), *how = tb_value_get(value, TB_SLOT_how);
	if (tb_value_is_symbol(how, TB_SYMBOL_farside)) {
		build_far_side(b, value, place);
		return true;
	}
	if (tb_value_is_symbol(how, TB_SYMBOL_section)) {
		tb_build_place(b, tb_value_get(value, TB_SLOT_place), place);
		return true;
	}
	if (leg == NULL)
		return false;
	if (tb_value_get(value, TB_SLOT_place) != NULL)
		tb_build_place(b, tb_value_get(value, TB_SLOT_place), place);
	if (tb_value_is_symbol(how, TB_SYMBOL_legeach) || tb_build_has(leg, TB_SLOT_both)) {
		place->in = TB_IN_EACH;
		place->count = tb_number_make(b->arena, 0, place->span);
	}
	place->ground = read_leg(b, leg);
	return true;
}

void tb_build_many_on_ground(tb_builder *b, const tb_value *value, tb_act *act)
{
	const tb_value *many = tb_value_get(value, TB_SLOT_many);
	if (act->place.far_side && act->place.unordered && !tb_number_is(&act->each, 1)) {
		act->place.in = TB_IN_NEXT;
		act->place.count = act->each;
		act->each = (tb_number){1, tb_number_one, act->span};
	}
	if (many == NULL || act->place.ground == NULL)
		return;
	act->place.in = TB_IN_NEXT;
	act->place.count = tb_build_number(b, many, 1);
}

void tb_build_go_to(tb_builder *b, const tb_value *value, GArray *acts)
{
	tb_act act = tb_build_act_of(b, value, TB_ACT_GO_TO);
	act.place = (tb_place){.in = TB_IN_NEXT, .rows_below = 1, .span = act.span,
		.count = {1, tb_number_one, act.span}};
	tb_build_on_ground(b, value, &act.place);
	g_array_append_val(acts, act);
}
