/* Memory that is given out piece by piece, zeroed, and taken back all at once. */
#ifndef TB_SUPPORT_ARENA_H
#define TB_SUPPORT_ARENA_H

#include <glib.h>
#include <stdalign.h>
#include <stddef.h>
#include <string.h>

typedef struct {
	GPtrArray *blocks; /* owned */
	char *at;
	size_t left;
	size_t block_bytes; /* of the next block */
	size_t bytes;       /* of all blocks */
} tb_arena;

tb_arena *tb_arena_create(void);
void tb_arena_destroy(tb_arena *arena);

/* The same as tb_arena_take, of a new block; SIZE is a multiple of the alignment. */
void *tb_arena_take_anew(tb_arena *arena, size_t size);

/* SIZE zeroed bytes, aligned for any type; they live as long as the arena. */
static inline void *tb_arena_take(tb_arena *arena, size_t size)
{
	const size_t align = alignof(max_align_t);
	g_assert(size <= G_MAXSIZE - align);
	size = (MAX(size, 1) + align - 1) / align * align;
	if (size > arena->left || size > arena->block_bytes / 4)
		return tb_arena_take_anew(arena, size);
	void *piece = arena->at;
	arena->at += size;
	arena->left -= size;
	return memset(piece, 0, size);
}

char *tb_arena_copy(tb_arena *arena, const char *chars, size_t length);

#define tb_arena_new(arena, type) ((type *)tb_arena_take((arena), sizeof(type)))

G_DEFINE_AUTOPTR_CLEANUP_FUNC(tb_arena, tb_arena_destroy)

#endif
