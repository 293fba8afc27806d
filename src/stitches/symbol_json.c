/*
 * A symbol read from JSON: anatomy, from which drawing/ builds the glyph,
 *
 *     {"form": "stem", "legs": 5, "bars": 1, "meet": "foot", "head": "almond"}
 *
 * or a designer's own drawing, with the places of its foot and its top in it:
 *
 *     {"path": "M 0 0 C ...", "base": [0, 0], "top": [0, -30], "fill": false}
 */
#include "stitches/fields.h"

#include "support/limits.h"

#include <math.h>
#include <string.h>

static bool read_spot(tb_fields *r, const cJSON *symbol, const char *key, double *x, double *y)
{
	const cJSON *spot = cJSON_GetObjectItemCaseSensitive(symbol, key);
	const cJSON *a = cJSON_IsArray(spot) ? spot->child : NULL, *b = a != NULL ? a->next : NULL;
	bool sound = cJSON_IsNumber(a) && cJSON_IsNumber(b) && b->next == NULL &&
				 fabs(a->valuedouble) <= TB_LIMIT_PATH_FARTHEST &&
				 fabs(b->valuedouble) <= TB_LIMIT_PATH_FARTHEST;
	if (!sound) {
		tb_fields_fault(r, "stitch-path",
			"Say where on the drawing it is, across and down: [0, -30].",
			"\"%s\" must be two numbers", key);
		return false;
	}
	*x = a->valuedouble;
	*y = b->valuedouble;
	return true;
}

/* A few characters of a text from an offset on, for a message. */
static char *excerpt(const char *text, size_t offset)
{
	g_autofree char *valid = g_utf8_make_valid(text + offset, -1);
	glong length = g_utf8_strlen(valid, -1);
	char *some = g_utf8_substring(valid, 0, MIN(length, 12));
	for (char *c = some; *c != '\0'; c++)
		if (g_ascii_iscntrl(*c))
			*c = ' ';
	return some;
}

/* What the drawing's base and top make of its size. */
static void check_size(tb_fields *r, const tb_symbol_path *path)
{
	double height = hypot(path->top_x - path->base_x, path->top_y - path->base_y), farthest = 0;
	if (height < 1e-3) {
		tb_fields_fault(r, "stitch-path", "The top is where the next row is worked.",
			"the base and the top of the drawing are one place");
		return;
	}
	for (unsigned i = 0; i < path->count; i++) {
		const tb_symbol_segment *s = &path->segments[i];
		bool curve = s->op == TB_SYMBOL_CURVE;
		farthest = fmax(farthest, hypot(s->x - path->base_x, s->y - path->base_y));
		if (curve)
			farthest = fmax(farthest, fmax(hypot(s->x1 - path->base_x, s->y1 - path->base_y),
										  hypot(s->x2 - path->base_x, s->y2 - path->base_y)));
	}
	if (farthest > TB_LIMIT_PATH_REACH * height)
		tb_fields_fault(r, "stitch-path",
			"Give the base and the top in the same units as the path.",
			"the drawing reaches more than %g times its height away from its base", TB_LIMIT_PATH_REACH);
}

static void read_path(tb_fields *r, const cJSON *symbol, tb_stitch *stitch)
{
	static const char *const keys[] = {"path", "base", "top", "fill", "post"};
	static const char *const posts[] = {"none", "front", "back"};
	const cJSON *item = cJSON_GetObjectItemCaseSensitive(symbol, "path");
	const cJSON *fill = cJSON_GetObjectItemCaseSensitive(symbol, "fill");
	tb_fields_check_keys(r, symbol, keys, G_N_ELEMENTS(keys));
	stitch->form = TB_FORM_PATH;
	stitch->legs = 1;
	stitch->post = (tb_post)tb_fields_read_choice(r, symbol, "post", posts, G_N_ELEMENTS(posts));
	if (fill != NULL && !cJSON_IsBool(fill))
		tb_fields_fault(r, "stitch-path", NULL, "\"fill\" must be true or false");
	if (!cJSON_IsString(item) || strlen(item->valuestring) > TB_LIMIT_PATH_BYTES) {
		tb_fields_fault(r, "stitch-path", NULL, "\"path\" must be a text of at most %u characters",
			TB_LIMIT_PATH_BYTES);
		return;
	}
	size_t bad;
	const char *why;
	stitch->path = tb_symbol_path_read(item->valuestring, &bad, &why);
	if (stitch->path == NULL) {
		g_autofree char *rest = excerpt(item->valuestring, bad);
		g_autofree char *where = *rest != '\0' ? g_strdup_printf(", at \"%s\"", rest) : NULL;
		tb_fields_fault(r, "stitch-path",
			"A path is commands and numbers, as in M 0 0 L 0 -30 (SVG 1.1, 8.3).",
			"the path cannot be read after %zu characters%s: %s", bad, where != NULL ? where : "",
			why);
		return;
	}
	stitch->path->filled = cJSON_IsTrue(fill);
	tb_symbol_path *path = stitch->path;
	if (read_spot(r, symbol, "base", &path->base_x, &path->base_y) &&
		read_spot(r, symbol, "top", &path->top_x, &path->top_y))
		check_size(r, path);
}

/* How often the hook goes in: a leg each. */
static unsigned count_legs(const tb_moves *moves)
{
	unsigned legs = 0;
	for (unsigned i = 0; moves != NULL && i < moves->count; i++) {
		tb_move_kind kind = moves->moves[i].kind;
		legs += kind == TB_MOVE_INSERT || kind == TB_MOVE_INSERT_NEXT ||
				kind == TB_MOVE_INSERT_POST || kind == TB_MOVE_INSERT_BELOW ||
				kind == TB_MOVE_INSERT_BACKWARD;
	}
	return legs;
}

/* Nobody who works from the chart can tell which of the two is meant. */
static void check_legs_worked(tb_fields *r, const tb_stitch *stitch)
{
	unsigned worked = count_legs(stitch->moves);
	if (stitch->moves != NULL && stitch->legs > 1 && stitch->legs != worked)
		tb_fields_fault(r, "stitch-value",
			"Leave \"legs\" out, and the symbol has those that the moves make.",
			"the symbol has %u legs, and the moves make %u", stitch->legs, worked);
}

static void check_legs(tb_fields *r, const tb_stitch *stitch)
{
	if ((stitch->legs > 1) != (stitch->meet != TB_MEET_NOWHERE))
		tb_fields_fault(r, "stitch-value",
			"One leg meets \"nowhere\"; more legs meet at \"top\", \"both\" or \"foot\".",
			"the symbol's legs and how they meet do not agree");
	bool ring = stitch->form == TB_FORM_RING;
	bool closed = stitch->foot == TB_FOOT_SLIP || stitch->foot == TB_FOOT_CROSS;
	if (stitch->foot != TB_FOOT_PLAIN && ring != closed)
		tb_fields_fault(r, "stitch-value",
			"A ring is closed by \"slip\" or \"cross\"; \"loop\", \"chain\", \"deep\", \"drop\" and \"bead\" belong "
			"to stems and crosses.",
			"the symbol's form and foot do not agree");
	if (stitch->post != TB_POST_NONE && stitch->foot != TB_FOOT_PLAIN)
		tb_fields_fault(r, "stitch-value", NULL, "the hook of a post is the symbol's foot already");
}

void tb_fields_read_symbol(tb_fields *r, const cJSON *object, tb_stitch *stitch)
{
	static const char *const keys[] = {
		"form", "legs", "bars", "meet", "post", "head", "foot", "chains", "linked"};
	static const char *const forms[] = {"chain", "slip", "cross", "stem", "ring", "bullion"};
	static const char *const meets[] = {"nowhere", "top", "both", "foot"};
	static const char *const posts[] = {"none", "front", "back"};
	static const char *const heads[] = {"bow", "almond", "wave"};
	static const char *const feet[] = {"plain", "loop", "chain", "deep", "slip", "cross", "drop", "bead"};
	const cJSON *symbol = cJSON_GetObjectItemCaseSensitive(object, "symbol");
	bool drawn = cJSON_GetObjectItemCaseSensitive(symbol, "path") != NULL;
	if (!drawn && cJSON_GetObjectItemCaseSensitive(symbol, "form") == NULL) {
		tb_fields_fault(r, "stitch-value",
			"Say how it is built: {\"form\": \"stem\", \"legs\": 1, \"bars\": 1}.",
			"\"symbol\" is missing, or says no form");
		return;
	}
	if (drawn) {
		read_path(r, symbol, stitch);
		return;
	}
	tb_fields_check_keys(r, symbol, keys, G_N_ELEMENTS(keys));
	stitch->form = (tb_form)tb_fields_read_choice(r, symbol, "form", forms, G_N_ELEMENTS(forms));
	stitch->meet = (tb_meet)tb_fields_read_choice(r, symbol, "meet", meets, G_N_ELEMENTS(meets));
	unsigned legs = stitch->meet != TB_MEET_NOWHERE ? count_legs(stitch->moves) : 1;
	legs = CLAMP(legs, 1, TB_LIMIT_SYMBOL_LEGS);
	stitch->legs =
		(unsigned)tb_fields_read_number(r, symbol, "legs", legs, 1, TB_LIMIT_SYMBOL_LEGS, true);
	stitch->bars = (unsigned)tb_fields_read_number(r, symbol, "bars", 0, 0, TB_LIMIT_SYMBOL_BARS, true);
	stitch->post = (tb_post)tb_fields_read_choice(r, symbol, "post", posts, G_N_ELEMENTS(posts));
	stitch->head = (tb_head)tb_fields_read_choice(r, symbol, "head", heads, G_N_ELEMENTS(heads));
	stitch->foot = (tb_foot)tb_fields_read_choice(r, symbol, "foot", feet, G_N_ELEMENTS(feet));
	const cJSON *linked = cJSON_GetObjectItemCaseSensitive(symbol, "linked");
	stitch->linked = cJSON_IsTrue(linked);
	if (linked != NULL && (!cJSON_IsBool(linked) || (stitch->linked && (stitch->form != TB_FORM_STEM || legs > 1))))
		tb_fields_fault(r, "stitch-value", NULL, "\"linked\" is true or false, and a stem of one leg is");
	bool ring = stitch->form == TB_FORM_RING;
	if (ring)
		stitch->chains = (unsigned)tb_fields_read_number(r, symbol, "chains", -1, 3, TB_LIMIT_SYMBOL_CHAINS, true);
	else if (cJSON_GetObjectItemCaseSensitive(symbol, "chains") != NULL)
		tb_fields_fault(r, "stitch-value", NULL, "only a ring is made of \"chains\"");
	if (r->sound)
		check_legs(r, stitch);
	if (r->sound)
		check_legs_worked(r, stitch);
}
