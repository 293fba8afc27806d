/*
 * Arenas: memory is cut from blocks from front to back; a piece larger than a block gets a block of
 * its own. A piece is zeroed when it is taken: of most small arenas the last block is hardly used.
 */
#include "support/arena.h"

#include <stdalign.h>
#include <string.h>

/* A pattern may have a thousand small arenas; the blocks of a large one grow. */
#define FIRST_BLOCK_BYTES ((size_t)4 * 1024)
#define MOST_BLOCK_BYTES ((size_t)64 * 1024)

struct tb_arena {
	GPtrArray *blocks; /* owned */
	char *at;
	size_t left;
	size_t block_bytes; /* of the next block */
};

tb_arena *tb_arena_create(void)
{
	tb_arena *arena = g_new0(tb_arena, 1);
	arena->block_bytes = FIRST_BLOCK_BYTES;
	arena->blocks = g_ptr_array_new_with_free_func(g_free);
	return arena;
}

void tb_arena_destroy(tb_arena *arena)
{
	if (arena == NULL)
		return;
	g_ptr_array_unref(arena->blocks);
	g_free(arena);
}

void *tb_arena_take(tb_arena *arena, size_t size)
{
	const size_t align = alignof(max_align_t);
	g_assert(size <= G_MAXSIZE - align);
	size = (MAX(size, 1) + align - 1) / align * align;
	if (size > arena->block_bytes / 4) {
		char *block = g_malloc0(size);
		g_ptr_array_add(arena->blocks, block);
		return block;
	}
	if (size > arena->left) {
		arena->at = g_malloc(arena->block_bytes);
		arena->left = arena->block_bytes;
		arena->block_bytes = MIN(arena->block_bytes * 2, MOST_BLOCK_BYTES);
		g_ptr_array_add(arena->blocks, arena->at);
	}
	void *piece = arena->at;
	arena->at += size;
	arena->left -= size;
	return memset(piece, 0, size);
}

char *tb_arena_copy(tb_arena *arena, const char *chars, size_t length)
{
	char *copy = tb_arena_take(arena, length + 1);
	if (length > 0)
		memcpy(copy, chars, length);
	return copy;
}
