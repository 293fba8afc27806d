/*
 * What the pattern's own words define: "Shell: 5 dc in same st", "dec: sc2tog", "Picot: ch 4, sl st in
 * 4th ch from hook". A name so defined means that and nothing else, whatever the library calls so.
 */
#include "notation/script.h"

#include "pattern/text_kinds.h"
#include "stitches/stitch.h"
#include "support/limits.h"

#include <string.h>

/* Pieces of a definition that is told in stitches, "(2 dc, ch 1, 2 dc) in same st", have no more. */
#define MOST_COUNTED_WORDS 18u

/* The text of words FROM to TO, trimmed of brackets. Owned. */
static char *words_of(const tb_reader *r, guint32 from, guint32 to)
{
	const tb_lattice *l = &r->lattice;
	if (from >= to)
		return NULL;
	char *words = g_strndup(l->text->chars + l->start[from], l->stop[to - 1] - l->start[from]);
	return g_strstrip(words);
}

/* "1 group", "a V", "To make a star", "“V”": the name without what is said of it. In place. */
static char *bare_name(char *name)
{
	static const char *const before[] = {"for ", "how to ", "how ", "to ", "make ", "work ", "one ", "1 ", "an ", "a ", "the "};
	static const char *const behind[] = {" is made", " is worked", " means"};
	for (size_t i = 0; name != NULL && i < G_N_ELEMENTS(behind); i++) {
		size_t length = strlen(name), end = strlen(behind[i]);
		if (length > end && g_ascii_strcasecmp(name + length - end, behind[i]) == 0)
			name[length - end] = '\0';
	}
	for (size_t i = 0; name != NULL && i < G_N_ELEMENTS(before); i++) {
		size_t length = strlen(before[i]);
		if (g_ascii_strncasecmp(name, before[i], length) == 0 && name[length] != '\0')
			memmove(name, name + length, strlen(name + length) + 1);
	}
	if (name != NULL && (*name == '"' || g_str_has_prefix(name, "“"))) {
		size_t quote = *name == '"' ? 1 : strlen("“");
		memmove(name, name + quote, strlen(name + quote) + 1);
		char *end = *name == '\0' ? NULL : strpbrk(name, "\"");
		end = end != NULL ? end : strstr(name, "”");
		if (end != NULL)
			*end = '\0';
	}
	return name;
}

static bool is_one_place(const tb_act *act)
{
	const tb_place *place = &act->place;
	/* a spike says its own row as well */
	return place->target != TB_TARGET_TURNING_CHAIN && !act->bare && place->rows_below < 2 &&
		(place->in == TB_IN_SAME || place->in == TB_IN_RING ||
			(place->in == TB_IN_NEXT && tb_number_is(&place->count, 1)));
}

/* N of one stitch, as they stand in a group. */
static tb_acts in_group(tb_reader *r, const tb_act *work)
{
	tb_act *act = tb_arena_new(r->b.arena, tb_act);
	*act = *work;
	act->equal = act->bare = false;
	act->place = (tb_place){.in = TB_IN_NEXT, .rows_below = 1, .loops = work->place.loops, .span = work->span};
	act->place.count = work->each;
	act->each = (tb_number){1, tb_number_one, work->span};
	return (tb_acts){act, 1};
}

/* "CL: dc3tog in same st" draws legs of one place together, and takes no more than that. */
static const tb_stitch *in_its_place(tb_reader *r, const tb_act *act)
{
	return act->bare || act->place.in != TB_IN_SAME ? act->stitch : tb_build_in_one(&r->b, act->stitch);
}

/* "V: dc in next st, ch 1, dc in same st": a group, though each stitch says its place. */
static bool gather_one_place(tb_reader *r, const tb_acts *acts, tb_own *own)
{
	g_autoptr(GArray) group = g_array_new(FALSE, FALSE, sizeof(tb_act));
	for (unsigned i = 0; i < acts->count; i++) {
		const tb_act *act = &acts->acts[i];
		bool work = act->kind == TB_ACT_WORK;
		if (work ? !is_one_place(act) || (i > 0 && act->place.in != TB_IN_SAME) || act->stitch->takes != 1
				 : i == 0 || act->kind != TB_ACT_CHAIN)
			return false;
		if (work && !act->place.on_made)
			g_array_append_vals(group, in_group(r, act).acts, 1);
		else
			g_array_append_val(group, *act);
	}
	own->acts = tb_acts_keep(r->b.arena, group);
	return true;
}

/* What ACTS say a name means; false when that is nothing that can be worked. */
static bool set_meaning(tb_reader *r, const tb_acts *acts, tb_own *own)
{
	if (acts->count == 0)
		return false;
	const tb_act *act = &acts->acts[0];
	if (acts->count == 1 && act->kind == TB_ACT_WORK && act->place.shared) {
		own->acts = *acts;
		own->whole = true;
		return true;
	}
	if (acts->count == 1 && act->kind == TB_ACT_GROUP) {
		own->acts = act->body;
		own->stitch = NULL;
		own->space = !act->bare && (act->place.target == TB_TARGET_SPACE || act->place.corner) ? &act->place : NULL;
		return true;
	}
	if (acts->count == 1 && act->kind == TB_ACT_WORK) {
		bool one = tb_number_is(&act->each, 1);
		/* "tr3tog: work 3 tr together" */
		if (one && act->bare && act->stitch->takes > 1 && act->place.loops == TB_LOOPS_BOTH) {
			own->stitch = act->stitch;
			return true;
		}
		/* "BL = sc in back loop only" is more than its stitch */
		if (one && act->stitch->takes == 1 && act->place.loops != TB_LOOPS_BOTH && (act->bare || is_one_place(act))) {
			own->acts = in_group(r, act);
			return true;
		}
		if (one && (act->stitch->takes > 1 || act->bare || is_one_place(act)) &&
			tb_number_is(&act->place.count, 1)) {
			own->stitch = in_its_place(r, act);
			return own->stitch != NULL;
		}
		/* "inc = increase (2 sc in one st)" is two in one place, said or not */
		bool increase = act->bare && !one && tb_number_is(&act->place.count, 1);
		if (is_one_place(act) || increase) {
			own->acts = in_group(r, act);
			return true;
		}
	}
	if (acts->count > 1 && acts->acts[acts->count - 1].kind == TB_ACT_WORK && gather_one_place(r, acts, own))
		return true;
	if (acts->count > TB_LIMIT_OWN_ACTS)
		return false;
	own->acts = *acts;
	own->whole = true;
	for (unsigned i = 0; i < acts->count; i++) {
		if (acts->acts[i].kind == TB_ACT_CANNOT)
			return false;
	}
	return true;
}

/*
 * "Beg-cl: ch 2, dc in same st": the chain is a leg of what is closed together, one stitch in all, and by
 * itself is none.
 */
static void close_chain(tb_reader *r, const char *name, tb_own *own)
{
	g_autofree char *lower = tb_text_lower(name, -1);
	g_auto(GStrv) words = g_strsplit_set(lower, " -", -1);
	static const char *const closed[] = {"cl", "cluster", "dec", "decrease", "pc", "popcorn", "begcl", NULL};
	bool is_closed = false;
	for (char **word = words; *word != NULL; word++)
		is_closed |= g_strv_contains(closed, *word);
	if (!is_closed || !own->whole || own->acts.count < 2 || own->acts.acts[0].kind != TB_ACT_CHAIN ||
		own->acts.acts[0].counts == TB_COUNTS)
		return;
	tb_act *acts = tb_arena_take(r->b.arena, own->acts.count * sizeof(tb_act));
	memcpy(acts, own->acts.acts, own->acts.count * sizeof(tb_act));
	acts[0].counts = TB_COUNTS_NOT;
	own->acts.acts = acts;
}

/*
 * "p = ch 3, sc in 3rd ch from hook", "Picot: ch 3, sl st in base of ch": the name says that the chains and what
 * closes them are an ornament, and stand for no stitch.
 */
static void close_picot(tb_reader *r, const char *name, tb_own *own)
{
	g_autofree char *lower = tb_text_lower(name, -1);
	bool is_picot = strcmp(lower, "p") == 0 || strstr(lower, "picot") != NULL;
	const tb_act *acts = own->acts.acts;
	if (!is_picot || own->acts.count != 2 || acts[0].kind != TB_ACT_CHAIN || acts[1].kind != TB_ACT_WORK ||
		acts[0].count.count != 1 || !tb_number_is(&acts[1].each, 1))
		return;
	const tb_stitch *slip = tb_library_find(r->b.pattern->library, "sl st");
	unsigned chains = (unsigned)acts[0].count.values[0];
	const tb_place *place = &acts[1].place;
	bool base = place->in == TB_IN_SAME && place->begun;
	bool first = place->in == TB_IN_NTH_CHAIN && tb_number_is(&place->count, acts[0].count.values[0]);
	const tb_stitch *ring = NULL;
	if (acts[1].stitch == slip && base)
		ring = tb_library_picot(r->b.pattern->library, chains);
	else if (first && chains == 3 && acts[1].stitch == tb_library_find(r->b.pattern->library, "sc"))
		ring = tb_library_find(r->b.pattern->library, "picot-sc");
	if (ring == NULL)
		return;
	own->stitch = ring;
	own->whole = false;
}

/* A name such as "bobble", whose legs the pattern's words say: pattern/defined.c has read them. */
static bool is_counted(const tb_reader *r, const char *name)
{
	const tb_stitch *known = tb_library_find_term(r->b.pattern->library, name, r->b.pattern->uk_terms);
	return known != NULL && tb_defined_is_open(r->b.pattern->library, known, name) &&
		tb_defined_find(r->b.pattern, known) != NULL;
}

/* What NAME is without "st" behind it, or without the "s" of several; NULL where that is all of it. Owned. */
static char *shorter_name(const char *name)
{
	static const char *const behind[] = {" stitches", " stitch", " sts", " st", "-stitch", "-st"};
	size_t length = strlen(name);
	for (size_t i = 0; i < G_N_ELEMENTS(behind); i++) {
		size_t end = strlen(behind[i]);
		if (length > end && g_ascii_strcasecmp(name + length - end, behind[i]) == 0)
			return g_strndup(name, length - end);
	}
	bool several = length > 3 && g_ascii_tolower(name[length - 1]) == 's' && g_ascii_isalpha(name[length - 2]) &&
		!tb_is_among(name[length - 2], "sSiIuU");
	return several ? g_strndup(name, length - 1) : NULL;
}

/* A name such as "dc" of "dc stitch", which the library has for a stitch that everybody knows. */
static bool is_plain_name(const tb_reader *r, const char *name)
{
	const tb_stitch *known = tb_library_find_term(r->b.pattern->library, name, r->b.pattern->uk_terms);
	return known != NULL && (known->takes != 1 || known->legs == 1);
}

/* "Picot: ch 3, sl st in 3rd ch from hook, sc in next st" goes on over the row, and is more than a ring. */
static bool goes_on(const tb_own *own)
{
	for (unsigned i = 0; own->whole && i < own->acts.count; i++) {
		const tb_act *act = &own->acts.acts[i];
		if (act->kind == TB_ACT_SKIP || (act->kind == TB_ACT_WORK && !act->bare && act->place.in == TB_IN_NEXT))
			return true;
	}
	return false;
}

/* Whether ACTS make another square of filet than the usual: ch 2, sk 2, dc, or three or four dc in a row. */
static bool is_other_square(const tb_reader *r, const tb_acts *acts, bool space, unsigned depth)
{
	const tb_stitch *dc = tb_library_find(r->b.pattern->library, "dc");
	for (unsigned i = 0; i < acts->count; i++) {
		const tb_act *act = &acts->acts[i];
		if (act->kind == TB_ACT_WORK && act->stitch != NULL && act->stitch != dc)
			return true;
		if (space && act->kind == TB_ACT_CHAIN && (act->count.count != 1 || act->count.values[0] != 2))
			return true;
		if (space && act->kind == TB_ACT_SKIP && act->place.count.count == 1 && act->place.count.values[0] != 2)
			return true;
		if (act->kind == TB_ACT_GROUP && depth < TB_LIMIT_NESTING && is_other_square(r, &act->body, space, depth + 1))
			return true;
	}
	return false;
}

/* "Block: 4 sc": what the pattern calls as a square of filet is called, and makes otherwise. */
static void note_square(tb_reader *r, const char *name, const tb_own *own)
{
	static const char *const spaces[] = {"sp", "sps", "space", "spaces", "open mesh", "open square", "open sp", NULL};
	static const char *const blocks[] = {"bl", "bls", "blk", "block", "blocks", "closed mesh", "solid mesh", "filled mesh", "closed square",
		"solid square", "filled square", NULL};
	g_autofree char *lower = tb_text_lower(name, -1);
	bool space = g_strv_contains(spaces, lower), block = g_strv_contains(blocks, lower);
	bool other = (own->stitch != NULL && own->stitch != tb_library_find(r->b.pattern->library, "dc")) ||
		is_other_square(r, &own->acts, space, 0);
	r->b.own_sp = r->b.own_sp || (space && other);
	r->b.own_bl = r->b.own_bl || (block && other);
}

static void define(tb_reader *r, const char *name, const tb_own *own)
{
	tb_vocabulary *vocabulary = (tb_vocabulary *)(gpointer)r->b.vocabulary;
	if (name == NULL || *name == '\0' || (is_counted(r, name) && !goes_on(own)))
		return;
	tb_vocabulary_define(vocabulary, name, own);
	note_square(r, name, own);
	g_autofree char *shorter = shorter_name(name);
	if (shorter != NULL && !is_plain_name(r, shorter) && !is_counted(r, shorter))
		tb_vocabulary_define_also(vocabulary, shorter, own);
}

/* "sc = single crochet" says what the library says. */
static bool says_the_same(const tb_reader *r, const char *name, const tb_own *own)
{
	const tb_stitch *known = tb_library_find_term(r->b.pattern->library, name, r->b.pattern->uk_terms);
	return own->stitch != NULL && known == own->stitch;
}

/* Where the name of a definition that was not read ends: before its colon, equals sign or dash. */
static char *name_of(const tb_text *text, char **alias)
{
	size_t body, length = tb_moves_parting(text->chars, &body);
	*alias = NULL;
	if (text->chars[length] == '\0' || length > 60)
		return NULL;
	g_autofree char *whole = g_strndup(text->chars, length);
	char *bracket = strpbrk(whole, "([");
	if (bracket != NULL) {
		*alias = g_strndup(bracket + 1, strcspn(bracket + 1, ")]"));
		*bracket = '\0';
	}
	return bare_name(g_strdup(g_strstrip(whole)));
}

/* "B: push a bead close to the work, then make the dc": the one plain stitch that it names; NULL where it names none, or two. */
static const tb_stitch *bead_stitch(const tb_reader *r, const char *body)
{
	g_autofree char *lower = tb_text_lower(body, -1);
	if (strstr(lower, "bead") == NULL)
		return NULL;
	g_auto(GStrv) words = g_strsplit_set(lower, " ,.;:()[]\"", -1);
	const tb_stitch *base = NULL;
	for (char **word = words; *word != NULL; word++) {
		const tb_stitch *found = tb_library_find_term(r->b.pattern->library, *word, r->b.pattern->uk_terms);
		if (found == NULL || found->family != TB_FAMILY_PLAIN)
			continue;
		if (base != NULL && base != found)
			return NULL;
		base = found;
	}
	return base;
}

/* "B: slide a bead up, then make the dc": that stitch has a bead. */
static const tb_stitch *with_bead(const tb_reader *r, const tb_text *text, const tb_stitch *stitch)
{
	g_autofree char *lower = tb_text_lower(text->chars, -1);
	bool bead = strstr(lower, "bead") != NULL && strstr(lower, "without") == NULL && strstr(lower, "no bead") == NULL;
	return bead && stitch != NULL ? tb_library_beaded(r->b.pattern->library, stitch) : stitch;
}

/*
 * "2 tr blah, ch 2 in it": whether BODY is told in stitches, so many of each, and not in moves of the hook, or by the
 * name that the stitch has anyway.
 */
static bool counts_stitches(const tb_reader *r, const char *body)
{
	static const char *const moves[] = {"yo", "yoh", "yrh", "yarn", "insert", "pull", "draw", "loop", "loops", "lp", "lps", "hook", "wrap",
		"together", "tog", "last", "first", NULL};
	g_autofree char *lower = tb_text_lower(body, -1);
	g_auto(GStrv) words = g_strsplit_set(lower, " ,.;:()[]\"-", -1);
	bool figure = false, stitch = false;
	for (char **word = words; *word != NULL; word++) {
		if (g_strv_contains(moves, *word))
			return false;
		figure = figure || g_ascii_isdigit(**word);
		const tb_stitch *found = tb_library_find_term(r->b.pattern->library, *word, r->b.pattern->uk_terms);
		stitch = stitch || (found != NULL && found->family == TB_FAMILY_PLAIN && strlen(*word) <= 4);
	}
	/* what is told at length is told in sentences */
	return figure && stitch && g_strv_length(words) < MOST_COUNTED_WORDS;
}

/* That of the definition TEXT of NAME only the name is known; HINT: what comes of that. */
static void tell_unclear(tb_reader *r, const tb_text *text, const char *name, const char *hint)
{
	tb_where where = {.has_place = true, .piece = r->piece, .place = tb_text_span(text, 0, text->length)};
	tb_diagnose_format(r->diagnostics, TB_WARNING, "definition-unclear", &where, hint,
		"how “%s” is made is not understood", name);
}

/*
 * A definition in moves of the hook, or in words that are not understood: the library's stitch of that
 * name, or one counted as the stitch it is a kind of. That is told.
 */
static void define_unread(tb_reader *r, const tb_text *text)
{
	g_autofree char *alias = NULL;
	g_autofree char *name = name_of(text, &alias);
	const tb_library *library = r->b.pattern->library;
	bool uk = r->b.pattern->uk_terms;
	if (name == NULL)
		return;
	size_t body;
	tb_moves_parting(text->chars, &body);
	const tb_stitch *over = tb_moves_over(r, text->chars + body);
	if (over != NULL) {
		tb_own *legs = tb_arena_new(r->b.arena, tb_own);
		legs->name = tb_arena_copy(r->b.arena, name, strlen(name));
		legs->over = over;
		define(r, name, legs);
		define(r, alias, legs);
		return;
	}
	const tb_stitch *stitch = tb_library_find_term(library, name, uk);
	if (stitch == NULL && alias != NULL)
		stitch = tb_library_find_term(library, alias, uk);
	if (stitch == NULL)
		stitch = tb_moves_named(r, name);
	if (stitch == NULL && alias != NULL)
		stitch = tb_moves_named(r, alias);
	bool known = stitch != NULL;
	if (!known)
		stitch = tb_moves_base(r, name);
	if (stitch == NULL && alias != NULL)
		stitch = tb_moves_base(r, alias);
	if (stitch == NULL)
		stitch = tb_moves_stitch(r, text);
	bool beaded = stitch == NULL;
	if (stitch == NULL)
		stitch = bead_stitch(r, text->chars + body);
	bool counted = counts_stitches(r, text->chars + body);
	if (stitch == NULL && counted)
		tell_unclear(r, text, name, "Where the name is a usual one, the usual stitch is taken.");
	if (stitch == NULL)
		return;
	tb_own *own = tb_arena_new(r->b.arena, tb_own);
	own->name = tb_arena_copy(r->b.arena, name, strlen(name));
	own->stitch = with_bead(r, text, stitch);
	/* "ch = chain" is no stitch of the pattern's own, of which "42 ch" would be so many */
	if (stitch != r->b.chain || !says_the_same(r, name, own))
		define(r, name, own);
	define(r, alias, own);
	/* of what many legs make it is told where it is worked, if they are others than those known */
	bool legs = stitch->family == TB_FAMILY_CLUSTERS || stitch->family == TB_FAMILY_PUFFS || stitch->family == TB_FAMILY_POPCORNS;
	if (beaded || (known && (!counted || legs)))
		return;
	g_autofree char *hint = g_strdup_printf("It is counted as one stitch, and drawn as %s.", uk ? stitch->uk : stitch->us);
	tell_unclear(r, text, name, hint);
}


/* What stood inside a row is meant for that row: nothing else stands in for it. */
static void tell_unread(tb_reader *r, const tb_text *text)
{
	tb_where where = {.has_place = true, .piece = r->piece, .place = tb_text_span(text, 0, text->length)};
	tb_diagnose_format(r->diagnostics, TB_ERROR, "definition-unclear", &where,
		"Write it out where it is worked, as in (dc, ch 1, dc) in next st.",
		"how “%.*s” is made is not understood", (int)strcspn(text->chars, " "), text->chars);
}

/* "Roll stitch: … It replaces one dc": the library knows more of it than that it stands for a plain one as tall. */
static const tb_stitch *of_library(const tb_reader *r, const char *name, const tb_stitch *stitch)
{
	const tb_stitch *known = tb_library_find_term(r->b.pattern->library, name, r->b.pattern->uk_terms);
	bool plain = stitch != NULL && stitch->family == TB_FAMILY_PLAIN;
	return plain && known != NULL && known->family == TB_FAMILY_EXTENDED && known->takes == 1 &&
		ABS(known->height - stitch->height) < 0.01 ? known : stitch;
}

/* A definition, read: what it calls FIRST, and SECOND or NULL. To make it a meaning other texts may be read. */
typedef struct {
	char *first, *second; /* owned */
	tb_sentence sentence;
} definition;

static definition take_definition(tb_reader *r, const tb_value *value)
{
	const tb_value *name = tb_value_get(value, TB_SLOT_name), *other = tb_value_get(value, TB_SLOT_n2);
	definition d = {0};
	tb_reader_set_ways(r, &d.sentence, tb_value_get(value, TB_SLOT_row));
	d.first = bare_name(words_of(r, name->from, name->to));
	d.second = other != NULL ? bare_name(words_of(r, other->from, other->to)) : NULL;
	return d;
}

static void add_definition(tb_reader *r, const tb_text *text, const definition *d, bool in_row)
{
	g_autofree char *first = d->first, *second = d->second;
	tb_sentence sentence = d->sentence;
	tb_own *own = tb_arena_new(r->b.arena, tb_own);
	own->name = tb_arena_copy(r->b.arena, first, strlen(first));
	if (!set_meaning(r, &sentence.acts, own)) {
		(in_row ? tell_unread : define_unread)(r, text);
		return;
	}
	close_chain(r, first, own);
	if (second != NULL)
		close_chain(r, second, own);
	close_picot(r, first, own);
	own->stitch = with_bead(r, text, own->stitch);
	own->stitch = of_library(r, first, own->stitch);
	g_autofree char *shorter = shorter_name(first);
	if (!says_the_same(r, first, own))
		define(r, first, own);
	else if (shorter != NULL && !is_plain_name(r, shorter))
		/* "roll stitch" is what the library calls so, and is a "roll" here as well */
		tb_vocabulary_define_also((tb_vocabulary *)(gpointer)r->b.vocabulary, shorter, own);
	if (second != NULL && !says_the_same(r, second, own))
		define(r, second, own);
}

static void read_definition(tb_reader *r, const tb_text *text, bool in_row)
{
	const tb_value *value;
	if (!tb_reader_try(r, text, TB_RULE_definitions, &value)) {
		(in_row ? tell_unread : define_unread)(r, text);
		return;
	}
	if (value->type == TB_VALUE_LIST) {
		const tb_value *const *items = tb_value_items(value, r->scratch);
		guint32 count = value->count; /* the value goes with the text it was read of */
		g_autofree definition *taken = g_new0(definition, count);
		for (guint32 i = 0; i < count; i++)
			taken[i] = take_definition(r, items[i]);
		for (guint32 i = 0; i < count; i++)
			add_definition(r, text, &taken[i], in_row);
		return;
	}
	definition d = take_definition(r, value);
	add_definition(r, text, &d, in_row);
}

static bool has_word(const char *text, const char *word)
{
	for (const char *at = strstr(text, word); at != NULL; at = strstr(at + 1, word)) {
		size_t length = strlen(word);
		if ((at == text || !g_ascii_isalnum(at[-1])) && !g_ascii_isalnum(at[length]))
			return true;
	}
	return false;
}

/* Where TEXTS first speak of a star stitch, by its name; false: nowhere. LOOPS: they say how it is made. */
static bool speak_of_star(const GPtrArray *texts, bool *loops, tb_span *where)
{
	bool star = false;
	for (guint i = 0; i < texts->len; i++) {
		const tb_text *text = texts->pdata[i];
		g_autofree char *lower = tb_text_lower(text->chars, (gssize)text->length);
		bool here = has_word(lower, "star st") || has_word(lower, "star sts") || has_word(lower, "star stitch") ||
			has_word(lower, "star stitches");
		if (here && !star) {
			size_t at = (size_t)(strstr(lower, "star st") - lower);
			*where = tb_text_span(text, at, at + strlen("star st"));
		}
		star = star || here;
		*loops = *loops || (strstr(lower, "star") != NULL && strstr(lower, "loop") != NULL);
	}
	return star;
}

/*
 * A star stitch that is worked and nowhere told is the usual one (common practice): five loops, two of them in the star
 * before, one where its last loop went and two in the next stitches, drawn together and closed by a chain, the eye.
 */
static void define_star(tb_reader *r)
{
	static const char usual[] = "Star stitch (star st): pull up a loop in eye, in side of star, in same st as last loop and "
		"in each of next 2 sts, yo, pull through all 6 loops, ch 1 for the eye";
	bool loops = false;
	tb_span said, other;
	const tb_piece *piece = tb_pattern_piece(r->b.pattern, r->number);
	if (!speak_of_star(piece->rows, &loops, &said) ||
		tb_library_find_term(r->b.pattern->library, "star st", r->b.pattern->uk_terms) != NULL)
		return;
	speak_of_star(r->b.pattern->definitions, &loops, &other);
	speak_of_star(r->b.pattern->inline_definitions, &loops, &other);
	speak_of_star(r->b.pattern->remarks, &loops, &other);
	if (loops)
		return;
	tb_where where = {.has_place = true, .piece = r->piece, .place = said};
	tb_diagnose(r->diagnostics, TB_WARNING, "star-unsaid", &where,
		"how a star st is made is not said; taken is the usual one: 5 loops, drawn together, ch 1",
		"Say it, as in \"Star st: pull up a loop in eye, …, yo, pull through all 6 loops, ch 1\".");
	tb_text *text = tb_text_create(usual, strlen(usual), said.start);
	/* what is told of it is told where it is named */
	text->offsets = g_new(guint32, text->length + 1);
	for (size_t i = 0; i <= text->length; i++)
		text->offsets[i] = (guint32)(i < text->length ? said.start : said.end);
	read_definition(r, text, false);
	tb_text_destroy(text);
}

void tb_reader_define(tb_reader *r)
{
	const GPtrArray *definitions = r->b.pattern->definitions;
	const tb_stitch *plain = r->b.plain;
	for (guint i = 0; i < definitions->len; i++) {
		/* a row, and no stitch: script_told.c */
		if (tb_named_row(((const tb_text *)definitions->pdata[i])->chars) == 0)
			read_definition(r, definitions->pdata[i], false);
	}
	const GPtrArray *in_rows = r->b.pattern->inline_definitions;
	for (guint i = 0; i < in_rows->len; i++)
		read_definition(r, in_rows->pdata[i], true);
	define_star(r);
	r->b.plain = plain;
}

/* --- what is said once for all rows --- */

/* "Ch 2 at the beginning of a row is not a stitch", "is only for height": where that is said. */
static const char *find_being(const char *sentence)
{
	static const char *const being[] = {" is not a st", " are not st", " is never a st", " is no st", " height", NULL};
	const char *at = NULL;
	for (size_t i = 0; being[i] != NULL && at == NULL; i++)
		at = strstr(sentence, being[i]);
	return at;
}

/*
 * The chains that the figures at AT in SENTENCE tell of, "ch 3", "ch-2 or ch-3", "3 ch"; 0 where they tell of something
 * else: a row's number, or "ch-1 sp", which no row begins with.
 */
static unsigned find_chains(const char *sentence, const char *at)
{
	static const char *const before[] = {"ch", "chs", "chain", "chains", "or", "and"};
	const char *end = at + strspn(at, "0123456789"), *from = at, *behind = end + strspn(end, " -");
	while (from > sentence && tb_is_among(from[-1], " -("))
		from--;
	const char *word = from;
	while (word > sentence && g_ascii_isalpha(word[-1]))
		word--;
	bool of_chains = (from > sentence && tb_is_among(from[-1], "/,")) || g_str_has_prefix(behind, "ch");
	for (size_t i = 0; i < G_N_ELEMENTS(before) && !of_chains; i++)
		of_chains = strlen(before[i]) == (size_t)(from - word) && strncmp(word, before[i], strlen(before[i])) == 0;
	static const char *const spaces[] = {"sp", "space", "loop", "lp", "arch", "hole", "picot"};
	for (size_t i = 0; i < G_N_ELEMENTS(spaces); i++)
		of_chains = of_chains && !g_str_has_prefix(behind, spaces[i]);
	return of_chains ? (unsigned)g_ascii_strtoull(at, NULL, 10) : 0;
}

/* What is said of so many chains; LATER, of another piece, holds only where nothing else is said of them. */
static void say_counts(tb_reader *r, unsigned chains, tb_counts counts, bool later)
{
	if (!later || r->b.counts_said[chains] == TB_COUNTS_UNSAID)
		r->b.counts_said[chains] = counts;
}

/* "… counts as 2 tr", at COUNT: so many stitches as no chain is. */
static bool counts_several(const tb_reader *r, const char *count)
{
	static const char *const numbers[] = {"0", "two", "three", "four"};
	const char *at = count + strcspn(count, " ");
	if (!g_str_has_prefix(at, " as "))
		return false;
	at += strlen(" as ");
	size_t length = strcspn(at, " ");
	bool several = g_ascii_isdigit(*at) && strspn(at, "0123456789") == length && !(length == 1 && *at == '1');
	for (size_t i = 0; i < G_N_ELEMENTS(numbers); i++)
		several = several || (strlen(numbers[i]) == length && strncmp(at, numbers[i], length) == 0);
	const char *noun = at + length + strspn(at + length, " ");
	g_autofree char *name = g_strndup(noun, strcspn(noun, " ,.;)"));
	const tb_stitch *stitch = tb_library_find_term(r->b.pattern->library, name, r->b.pattern->uk_terms);
	bool stitches = tb_at_word(name, "st sts stitch stitches") > 0;
	return several && (stitches || (stitch != NULL && stitch->family == TB_FAMILY_PLAIN && stitch->form != TB_FORM_CHAIN));
}

/* Tells of "ch 3 counts as 2 tr throughout" in TEXT; of the whole pattern it is told once. */
static void check_counting(tb_reader *r, const tb_text *text, const char *sentence)
{
	const char *count = strstr(sentence, "count"), *ch = strstr(sentence, "ch");
	if (r->number > 0 || count == NULL || ch == NULL || ch > count || !counts_several(r, count))
		return;
	tb_where where = {.has_place = true, .place = tb_text_span(text, 0, text->length)};
	tb_diagnose_format(r->diagnostics, TB_ERROR, "counts-unclear", &where, "As in “ch 3 (counts as dc)”, or “ch 5 (counts as dc, ch 2)”.",
		"a chain counts as one stitch, not as several");
}

/* "Ch 3 counts as first dc throughout", "turning chains do not count as stitches". */
static void find_counting(tb_reader *r, const char *sentence, bool later)
{
	const char *count = strstr(sentence, "count");
	if (count == NULL)
		count = find_being(sentence);
	bool height = count != NULL && g_str_has_prefix(count, " height");
	static const char *const turns[] = {"turning", "turn", "tch", "t-ch", "beginning", "beg", "starting", "start",
		"opening", "initial"};
	bool turning = false;
	for (size_t i = 0; i < G_N_ELEMENTS(turns) && !turning; i++)
		turning = has_word(sentence, turns[i]);
	const char *ch = strstr(sentence, "ch");
	if (count == NULL || ch == NULL || ch > count)
		return;
	/* "each ch-1 sp counts as a st" speaks of no chain that a row begins with */
	g_autofree char *counted = g_strndup(ch, (gsize)(count - ch));
	if (!turning && (has_word(counted, "sp") || has_word(counted, "sps") || has_word(counted, "space") || has_word(counted, "spaces") ||
			has_word(counted, "loop") || has_word(counted, "loops")))
		return;
	bool not = height || has_word(sentence, "not") || strstr(sentence, "n't") != NULL ||
		has_word(sentence, "never") || has_word(sentence, "no");
	tb_counts counts = not ? TB_COUNTS_NOT : TB_COUNTS;
	bool numbered = false;
	for (const char *c = sentence; c < count; c++) {
		if (!g_ascii_isdigit(*c) || (c > sentence && g_ascii_isalnum(c[-1])))
			continue;
		unsigned chains = find_chains(sentence, c);
		if (chains > 0 && chains < G_N_ELEMENTS(r->b.counts_said))
			say_counts(r, chains, counts, later);
		numbered = numbered || chains > 0;
	}
	for (guint i = 1; turning && !numbered && i < G_N_ELEMENTS(r->b.counts_said); i++) {
		if (not || i >= 2)
			say_counts(r, i, counts, later);
	}
}

/* Whether REMARK stands in a piece behind the one read, which it need not be meant for. */
static bool is_later(const tb_reader *r, const tb_text *remark)
{
	const tb_piece *next = r->number + 1 < tb_pattern_count_pieces(r->b.pattern) ? tb_pattern_piece(r->b.pattern, r->number + 1) : NULL;
	size_t at = remark->offsets != NULL ? remark->offsets[0] : remark->offset;
	return next != NULL && next->place.end > next->place.start && at > next->place.start;
}

/* The last place in TEXT before END, by at most REACH, where one of WORDS begins a word; NULL for none. */
static const char *find_before(const char *text, const char *end, size_t reach, const char *words)
{
	for (const char *at = end; at-- > text && (size_t)(end - at) <= reach;) {
		if ((at == text || !g_ascii_isalnum(at[-1])) && tb_at_word(at, words) > 0)
			return at;
	}
	return NULL;
}

/* "Ch 2 (does not count as a st throughout), …" in a row of an earlier piece tells of this one as well. */
static void find_throughout(tb_reader *r, const char *row)
{
	static const size_t longest = 60;
	for (const char *at = strstr(row, "throughout"); at != NULL; at = strstr(at + 1, "throughout")) {
		const char *count = find_before(row, at, longest, "count counts counted not");
		const char *chain = count != NULL ? find_before(row, count, longest, "ch chain") : NULL;
		if (chain == NULL)
			continue;
		g_autofree char *said = g_strndup(chain, (gsize)(at - chain));
		if (strpbrk(said, ".;*") == NULL)
			find_counting(r, said, true);
	}
}

void tb_reader_find_facts(tb_reader *r)
{
	const GPtrArray *remarks = r->b.pattern->remarks;
	for (guint i = 0; i < 2 * remarks->len; i++) {
		const tb_text *text = remarks->pdata[i % remarks->len];
		bool later = is_later(r, text);
		if (later != (i >= remarks->len))
			continue;
		g_autofree char *lower = tb_text_lower(text->chars, (gssize)text->length);
		g_auto(GStrv) sentences = g_strsplit_set(lower, ".;!", -1);
		for (char **sentence = sentences; *sentence != NULL; sentence++) {
			check_counting(r, text, *sentence);
			find_counting(r, *sentence, later);
		}
	}
	for (unsigned i = 0; i < r->number; i++) {
		const GPtrArray *rows = tb_pattern_piece(r->b.pattern, i)->rows;
		for (guint k = 0; k < rows->len; k++) {
			const tb_text *row = rows->pdata[k];
			if (strstr(row->chars, "hroughout") == NULL)
				continue;
			g_autofree char *lower = tb_text_lower(row->chars, (gssize)row->length);
			find_throughout(r, lower);
		}
	}
}
