/*
 * Families of stitches by rule. That seven sc may be drawn together as well as two, and a cluster
 * be of tr as well as of dc, no list can hold: here the stitch is made from its base when a pattern
 * first needs it, as symbols/ would have it, moves and all, and is found in the library from then
 * on.
 *
 * The rules (names as in the trade's lists of abbreviations, from memory):
 *
 *     together     sc7tog       each leg up to its last "through", the next in the next place, then
 *                               through all; around posts the legs share one post unless the row
 *                               says otherwise
 *     in one       7-tr cl      the same in one place; a bobble is worked alike. A puff is a cluster
 *                               of hdc drawn up tall. A popcorn is whole stitches, closed in the first
 *     picot        ch-7 picot   so many chains, and a slip stitch in the first of them
 *     post         FPtrtr       around the post; and what is drawn together, around one post
 *     extended     edtr         a loop drawn through the first before the rest, a chain taller
 *     foundation   ftr          the same move makes the chain that the stitch stands on
 *     spike        spike dc     down into a lower row
 *     linked       ldc          loops drawn up through the bars of the stitch before, not yarn overs
 */
#include "stitches/stitch.h"

#include "support/limits.h"

#include <string.h>

/* A stitch that is being made. */
typedef struct {
	tb_stitch *stitch;
	GArray *moves; /* tb_move */
} making;

/* How a family calls its stitches: # the number, % the base's abbreviation, @ its name. */
typedef struct {
	const char *term, *name;
} calling;

static char *call(const char *form, const char *term, const char *name, unsigned n)
{
	GString *text = g_string_new(NULL);
	for (const char *c = form; *c != '\0'; c++) {
		if (*c == '#')
			g_string_append_printf(text, "%u", n);
		else if (*c == '%' || *c == '@')
			g_string_append(text, *c == '%' ? term : name);
		else
			g_string_append_c(text, *c);
	}
	return g_string_free(text, FALSE);
}

/* A stitch that is as BASE but for its name; its moves are still to be said. A picot has no base, and
 * is not called by one. */
static making begin(const tb_stitch *base, const calling *by, tb_family family, unsigned n)
{
	making m = {g_new(tb_stitch, 1), g_array_new(FALSE, FALSE, sizeof(tb_move))};
	*m.stitch = *base;
	m.stitch->family = family;
	m.stitch->by_rule = true;
	m.stitch->path = NULL;
	m.stitch->moves = NULL;
	m.stitch->us = call(by->term, base->us, base->us_name, n);
	m.stitch->us_name = call(by->name, base->us, base->us_name, n);
	m.stitch->uk = call(by->term, base->uk, base->uk_name, n);
	m.stitch->uk_name = call(by->name, base->uk, base->uk_name, n);
	return m;
}

static void add_move(making *m, tb_move_kind kind, unsigned through)
{
	tb_move move = {kind, through};
	g_array_append_val(m->moves, move);
}

/* What is called so already goes on being called so. */
static void add_term(GHashTable *table, const char *term, tb_stitch *stitch)
{
	g_autofree char *key = g_ascii_strdown(term, -1);
	if (g_hash_table_lookup(table, key) == NULL)
		g_hash_table_insert(table, g_steal_pointer(&key), stitch);
}

static bool is_sound(const tb_library *library, const tb_stitch *stitch)
{
	unsigned most, left, fault;
	return library->stitches->len < TB_LIMIT_STITCHES &&
		   strlen(stitch->us) <= TB_LIMIT_TERM_BYTES && strlen(stitch->uk) <= TB_LIMIT_TERM_BYTES &&
		   tb_moves_simulate(stitch->moves, NULL, &most, &left, &fault) && left == 1 &&
		   most <= TB_LIMIT_LOOPS;
}

/*
 * The stitch that is in the library already, or else the one just made. A designer's own under its
 * name is it where it stands on as many stitches and is as tall; where not, the word is not ours to
 * give.
 */
static const tb_stitch *finish(tb_library *library, making *m)
{
	tb_stitch *stitch = m->stitch;
	g_autofree char *key = g_ascii_strdown(stitch->us, -1);
	const tb_stitch *found = g_hash_table_lookup(library->by_us, key);
	stitch->moves = g_new(tb_moves, 1);
	stitch->moves->count = m->moves->len;
	stitch->moves->moves = (tb_move *)(void *)g_array_free(m->moves, FALSE);
	if (found != NULL || !is_sound(library, stitch)) {
		bool alike = found != NULL &&
					 (found->number < library->built_in || found->by_rule ||
						 (found->takes == stitch->takes && found->height >= stitch->height &&
							 found->height <= stitch->height));
		tb_stitch_destroy(stitch);
		return alike ? found : NULL;
	}
	stitch->number = library->stitches->len;
	g_ptr_array_add(library->stitches, stitch);
	add_term(library->by_us, stitch->us, stitch);
	add_term(library->by_us, stitch->us_name, stitch);
	add_term(library->by_uk, stitch->uk, stitch);
	add_term(library->by_uk, stitch->uk_name, stitch);
	return stitch;
}

static bool has_anatomy(const tb_stitch *stitch)
{
	return stitch != NULL && stitch->moves != NULL && stitch->head == TB_HEAD_BOW &&
		   (stitch->form == TB_FORM_CROSS || stitch->form == TB_FORM_STEM) && !stitch->linked;
}

/* Yarn overs, the hook in once, a loop drawn up, and through: what more of can be made. */
static bool is_base(const tb_stitch *stitch)
{
	if (!has_anatomy(stitch) || stitch->legs != 1 || stitch->takes != 1 ||
		(stitch->foot != TB_FOOT_PLAIN && stitch->foot != TB_FOOT_LOOP))
		return false;
	const tb_moves *moves = stitch->moves;
	tb_move_kind in = stitch->post == TB_POST_NONE ? TB_MOVE_INSERT : TB_MOVE_INSERT_POST;
	unsigned at = 0;
	while (at < moves->count && moves->moves[at].kind == TB_MOVE_YARN_OVER)
		at++;
	if (at + 3 > moves->count || moves->moves[at].kind != in ||
		moves->moves[at + 1].kind != TB_MOVE_DRAW_UP)
		return false;
	for (at += 2; at < moves->count; at++)
		if (moves->moves[at].kind != TB_MOVE_THROUGH)
			return false;
	return true;
}

static bool is_plain(const tb_stitch *stitch)
{
	return is_base(stitch) && stitch->post == TB_POST_NONE && stitch->foot == TB_FOOT_PLAIN;
}

/* Several legs of one stitch under one head, each in a place of its own. */
static bool is_together(const tb_stitch *stitch)
{
	if (!has_anatomy(stitch) || stitch->legs < 2 || stitch->takes != stitch->legs ||
		stitch->meet != TB_MEET_TOP || stitch->foot != TB_FOOT_PLAIN ||
		stitch->post != TB_POST_NONE)
		return false;
	for (unsigned i = 0; i < stitch->moves->count; i++) {
		tb_move_kind kind = stitch->moves->moves[i].kind;
		if (kind != TB_MOVE_YARN_OVER && kind != TB_MOVE_INSERT && kind != TB_MOVE_INSERT_NEXT &&
			kind != TB_MOVE_DRAW_UP && kind != TB_MOVE_THROUGH)
			return false;
	}
	return true;
}

/* N legs of BASE up to its last move; from the second on, the hook goes in as NEXT says. */
static void add_legs(making *m, const tb_stitch *base, unsigned n, tb_move_kind next)
{
	unsigned count = base->moves->count - 1;
	for (unsigned leg = 0; leg < n; leg++)
		for (unsigned i = 0; i < count; i++) {
			const tb_move *move = &base->moves->moves[i];
			bool in = leg > 0 && move->kind == TB_MOVE_INSERT;
			add_move(m, in ? next : move->kind, move->through);
		}
	/* Each leg leaves what its last move would have drawn through, less the loop before it. */
	add_move(m, TB_MOVE_THROUGH, n * (base->moves->moves[count].through - 1) + 1);
}

const tb_stitch *tb_library_together(tb_library *library, const tb_stitch *base, unsigned n)
{
	static const calling by = {"%#tog", "@ # together"};
	if (!is_base(base) || n < 2 || n > TB_LIMIT_STITCH_TAKES)
		return NULL;
	bool post = base->post != TB_POST_NONE;
	if (post && base->foot != TB_FOOT_PLAIN)
		return NULL;
	making m = begin(base, &by, post ? TB_FAMILY_POSTS : TB_FAMILY_TOGETHER, n);
	m.stitch->legs = n;
	m.stitch->takes = post ? 1 : n;
	m.stitch->meet = post ? TB_MEET_BOTH : TB_MEET_TOP;
	add_legs(&m, base, n, TB_MOVE_INSERT_NEXT);
	return finish(library, &m);
}

const tb_stitch *tb_library_in_one(
	tb_library *library, tb_family_form form, const tb_stitch *base, unsigned n)
{
	static const struct {
		calling by;
		tb_family family;
	} forms[] = {
		[TB_FAMILY_FORM_CLUSTER] = {{"#-% cl", "cluster of # %"}, TB_FAMILY_CLUSTERS},
		[TB_FAMILY_FORM_BOBBLE] = {{"#-% bobble", "bobble of # %"}, TB_FAMILY_CLUSTERS},
		[TB_FAMILY_FORM_POPCORN] = {{"#-% popcorn", "popcorn of # %"}, TB_FAMILY_POPCORNS},
		[TB_FAMILY_FORM_PUFF] = {{"#-% puff", "puff of # %"}, TB_FAMILY_PUFFS},
	};
	if (!is_plain(base) || n < 2 || n > TB_LIMIT_STITCH_TAKES ||
		(unsigned)form >= G_N_ELEMENTS(forms))
		return NULL;
	/* Nobody works a popcorn or a puff of sc, and nobody could tell its symbol. */
	bool drawn = form == TB_FAMILY_FORM_CLUSTER || form == TB_FAMILY_FORM_BOBBLE;
	if (base->form == TB_FORM_CROSS && !drawn)
		return NULL;
	making m = begin(base, &forms[form].by, forms[form].family, n);
	m.stitch->legs = n;
	m.stitch->meet = TB_MEET_BOTH;
	if (form == TB_FAMILY_FORM_POPCORN) {
		m.stitch->meet = TB_MEET_FOOT;
		m.stitch->head = TB_HEAD_ALMOND;
		for (unsigned i = 0; i < n; i++)
			g_array_append_vals(m.moves, base->moves->moves, base->moves->count);
		add_move(&m, TB_MOVE_CLOSE_FIRST, 0);
	} else {
		add_legs(&m, base, n, TB_MOVE_INSERT);
	}
	/* The loops of a puff are drawn up long. */
	if (form == TB_FAMILY_FORM_PUFF && base->bars == 0)
		m.stitch->height += 1;
	return finish(library, &m);
}

const tb_stitch *tb_library_picot(tb_library *library, unsigned chains)
{
	static const calling by = {"ch-# picot", "picot of # chains"};
	static const tb_stitch ring = {.legs = 1, .form = TB_FORM_RING, .foot = TB_FOOT_SLIP};
	if (chains < 2 || chains > TB_LIMIT_SYMBOL_CHAINS)
		return NULL;
	making m = begin(&ring, &by, TB_FAMILY_EDGES, chains);
	m.stitch->chains = chains;
	add_move(&m, TB_MOVE_CHAIN, chains);
	add_move(&m, TB_MOVE_INSERT_FIRST_CHAIN, 0);
	add_move(&m, TB_MOVE_DRAW_UP, 0);
	add_move(&m, TB_MOVE_PULL_THROUGH, 1);
	return finish(library, &m);
}

static const tb_stitch *make_post(tb_library *library, const tb_stitch *base, tb_post post)
{
	static const calling front = {"FP%", "front post @"}, back = {"BP%", "back post @"};
	making m = begin(base, post == TB_POST_FRONT ? &front : &back, TB_FAMILY_POSTS, base->legs);
	m.stitch->post = post;
	m.stitch->takes = 1;
	m.stitch->meet = base->legs > 1 ? TB_MEET_BOTH : TB_MEET_NOWHERE;
	for (unsigned i = 0; i < base->moves->count; i++) {
		tb_move_kind kind = base->moves->moves[i].kind;
		bool in = kind == TB_MOVE_INSERT || kind == TB_MOVE_INSERT_NEXT;
		add_move(&m, in ? TB_MOVE_INSERT_POST : kind, base->moves->moves[i].through);
	}
	return finish(library, &m);
}

const tb_stitch *tb_library_post(tb_library *library, const tb_stitch *base, tb_post post)
{
	bool sound = (is_base(base) && base->post == TB_POST_NONE) || is_together(base);
	if (!sound || (post != TB_POST_FRONT && post != TB_POST_BACK))
		return NULL;
	/* From the other side of the work it is the other one: whoever has one may need to show that. */
	const tb_stitch *made = make_post(library, base, post);
	const tb_stitch *other =
		make_post(library, base, post == TB_POST_FRONT ? TB_POST_BACK : TB_POST_FRONT);
	return other != NULL ? made : NULL;
}

const tb_stitch *tb_library_variant(tb_library *library, const tb_stitch *base, tb_variant variant)
{
	static const struct {
		calling by;
		tb_family family;
		tb_foot foot;
	} variants[] = {
		[TB_VARIANT_EXTENDED] = {{"e%", "extended @"}, TB_FAMILY_EXTENDED, TB_FOOT_LOOP},
		[TB_VARIANT_FOUNDATION] = {{"f%", "foundation @"}, TB_FAMILY_FOUNDATION, TB_FOOT_CHAIN},
		[TB_VARIANT_SPIKE] = {{"spike %", "spike @"}, TB_FAMILY_EDGES, TB_FOOT_DEEP},
		[TB_VARIANT_LINKED] = {{"l%", "linked @"}, TB_FAMILY_EXTENDED, TB_FOOT_PLAIN},
	};
	if (!is_plain(base) || (unsigned)variant >= G_N_ELEMENTS(variants))
		return NULL;
	/* What has no bar has nothing that would show the link. */
	if (variant == TB_VARIANT_LINKED && base->bars == 0)
		return NULL;
	making m = begin(base, &variants[variant].by, variants[variant].family, 1);
	m.stitch->foot = variants[variant].foot;
	m.stitch->linked = variant == TB_VARIANT_LINKED;
	m.stitch->height += variant == TB_VARIANT_EXTENDED ? 1 : 0;
	for (unsigned i = 0; i < base->moves->count; i++) {
		const tb_move *move = &base->moves->moves[i];
		if (variant == TB_VARIANT_LINKED && move->kind == TB_MOVE_YARN_OVER) {
			add_move(&m, TB_MOVE_INSERT_BAR, 0);
			add_move(&m, TB_MOVE_DRAW_UP, 0);
			continue;
		}
		bool below = variant == TB_VARIANT_SPIKE && move->kind == TB_MOVE_INSERT;
		add_move(&m, below ? TB_MOVE_INSERT_BELOW : move->kind, move->through);
		if (move->kind == TB_MOVE_DRAW_UP &&
			(variant == TB_VARIANT_EXTENDED || variant == TB_VARIANT_FOUNDATION))
			add_move(&m, TB_MOVE_THROUGH, 1);
	}
	return finish(library, &m);
}
