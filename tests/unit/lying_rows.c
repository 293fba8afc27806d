/*
 * A composer that lies, linked into the program in place of the honest one: sizes that a repeat leaves
 * out are forgotten, as one was forgotten once. What the program then writes must be nothing.
 */
#include "compose/compose.h"

tb_number __real_tb_compose_number(tb_composer *c, const int *values, tb_size_set sizes);
tb_number __wrap_tb_compose_number(tb_composer *c, const int *values, tb_size_set sizes);

tb_number __wrap_tb_compose_number(tb_composer *c, const int *values, tb_size_set sizes)
{
	tb_number honest = __real_tb_compose_number(c, values, sizes);
	for (unsigned i = 0; i < honest.count && honest.count > 1; i++) {
		if (honest.values[i] != TB_NOT_IN_SIZE || !(sizes >> i & 1))
			continue;
		int *lie = tb_arena_new(c->arena, int);
		for (unsigned k = 0; k < honest.count; k++)
			*lie = MAX(*lie, honest.values[k]);
		return (tb_number){1, lie, honest.span};
	}
	return honest;
}
