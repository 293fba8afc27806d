/*
 * Moves on the hook: read from the trade's words, and simulated.
 *
 * The algebra is small: yarn over +1, draw up +1, through n 1 - n, pull through n -n. A stitch that
 * is sound begins and ends with one loop on the hook and never has fewer on the way.
 */
#include "stitches/moves.h"

#include "support/limits.h"

#include <string.h>

static const struct {
	const char *words;
	tb_move_kind kind;
	bool counted; /* a number follows */
} vocabulary[] = {
	/* longer words stand before the shorter ones they begin with */
	{"yo", TB_MOVE_YARN_OVER, false},
	{"insert around post", TB_MOVE_INSERT_POST, false},
	{"insert next", TB_MOVE_INSERT_NEXT, false},
	{"insert below", TB_MOVE_INSERT_BELOW, false},
	{"insert backward", TB_MOVE_INSERT_BACKWARD, false},
	{"insert in bar", TB_MOVE_INSERT_BAR, false},
	{"insert first chain", TB_MOVE_INSERT_FIRST_CHAIN, false},
	{"insert", TB_MOVE_INSERT, false},
	{"draw up", TB_MOVE_DRAW_UP, false},
	{"pull through", TB_MOVE_PULL_THROUGH, true},
	{"through", TB_MOVE_THROUGH, true},
	{"ch", TB_MOVE_CHAIN, true},
	{"close in first", TB_MOVE_CLOSE_FIRST, false},
};

static const char *skip_spaces(const char *c)
{
	while (*c == ' ')
		c++;
	return c;
}

/* Reads one move at *C and moves on to what stands behind it. */
static bool read_move(const char **c, tb_move *move)
{
	for (size_t i = 0; i < G_N_ELEMENTS(vocabulary); i++) {
		if (g_ascii_tolower(**c) != *vocabulary[i].words)
			continue;
		size_t length = strlen(vocabulary[i].words);
		if (g_ascii_strncasecmp(*c, vocabulary[i].words, length) != 0)
			continue;
		const char *rest = skip_spaces(*c + length);
		*move = (tb_move){.kind = vocabulary[i].kind};
		if (vocabulary[i].counted) {
			if (rest == *c + length || !g_ascii_isdigit(*rest))
				return false;
			while (g_ascii_isdigit(*rest) && move->through <= TB_LIMIT_LOOPS)
				move->through = move->through * 10 + (unsigned)(*rest++ - '0');
			if (move->through == 0 || move->through > TB_LIMIT_LOOPS)
				return false;
			rest = skip_spaces(rest);
		}
		if (*rest != ',' && *rest != '\0')
			continue;
		*c = rest;
		return true;
	}
	return false;
}

tb_moves *tb_moves_read(const char *text, size_t *bad)
{
	g_autoptr(GArray) moves = g_array_new(FALSE, FALSE, sizeof(tb_move));
	const char *c = skip_spaces(text);
	for (;;) {
		tb_move move;
		if (moves->len >= TB_LIMIT_MOVES || !read_move(&c, &move)) {
			if (bad != NULL)
				*bad = (size_t)(c - text);
			return NULL;
		}
		g_array_append_val(moves, move);
		if (*c == '\0')
			break;
		c = skip_spaces(c + 1);
	}
	tb_moves *read = g_new(tb_moves, 1);
	read->count = moves->len;
	read->moves = (tb_move *)(void *)g_array_free(g_steal_pointer(&moves), FALSE);
	return read;
}

void tb_moves_destroy(tb_moves *moves)
{
	if (moves == NULL)
		return;
	g_free(moves->moves);
	g_free(moves);
}

bool tb_moves_simulate(const tb_moves *moves, unsigned *loops, unsigned *most, unsigned *left,
	unsigned *fault)
{
	unsigned now = 1, peak = 1;
	for (unsigned i = 0; i < moves->count; i++) {
		const tb_move *move = &moves->moves[i];
		unsigned need = move->kind == TB_MOVE_THROUGH ? move->through
			: move->kind == TB_MOVE_PULL_THROUGH      ? move->through + 1
													  : 0;
		if (need > now) {
			*most = peak;
			*left = now;
			*fault = i;
			return false;
		}
		if (move->kind == TB_MOVE_YARN_OVER || move->kind == TB_MOVE_DRAW_UP)
			now++;
		else if (need > 0)
			now = now + 1 - need; /* pulling the last loop through n others is the same sum */
		peak = MAX(peak, now);
		if (loops != NULL)
			loops[i] = now;
	}
	*most = peak;
	*left = now;
	return true;
}
