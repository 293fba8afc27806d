/* Memory that is given out piece by piece, zeroed, and taken back all at once. */
#ifndef TB_SUPPORT_ARENA_H
#define TB_SUPPORT_ARENA_H

#include <glib.h>
#include <stddef.h>

typedef struct tb_arena tb_arena;

tb_arena *tb_arena_create(void);
void tb_arena_destroy(tb_arena *arena);

/* SIZE zeroed bytes, aligned for any type; they live as long as the arena. */
void *tb_arena_take(tb_arena *arena, size_t size);
char *tb_arena_copy(tb_arena *arena, const char *chars, size_t length);

#define tb_arena_new(arena, type) ((type *)tb_arena_take((arena), sizeof(type)))

G_DEFINE_AUTOPTR_CLEANUP_FUNC(tb_arena, tb_arena_destroy)

#endif
