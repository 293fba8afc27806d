/*
 * Arenas: memory is cut from blocks from front to back; a piece larger than a block gets a block of
 * its own. A piece is zeroed when it is taken: of most small arenas the last block is hardly used.
 */
#include "support/arena.h"

#include <string.h>

/* A pattern may have a thousand small arenas; the blocks of a large one grow. */
#define FIRST_BLOCK_BYTES ((size_t)4 * 1024)
#define MOST_BLOCK_BYTES ((size_t)64 * 1024)

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

void *tb_arena_take_anew(tb_arena *arena, size_t size)
{
	if (size > arena->block_bytes / 4) {
		char *block = g_malloc0(size);
		arena->bytes += size;
		g_ptr_array_add(arena->blocks, block);
		return block;
	}
	arena->at = g_malloc(arena->block_bytes);
	arena->bytes += arena->block_bytes;
	arena->left = arena->block_bytes;
	arena->block_bytes = MIN(arena->block_bytes * 2, MOST_BLOCK_BYTES);
	g_ptr_array_add(arena->blocks, arena->at);
	return tb_arena_take(arena, size);
}

char *tb_arena_copy(tb_arena *arena, const char *chars, size_t length)
{
	char *copy = tb_arena_take(arena, length + 1);
	if (length > 0)
		memcpy(copy, chars, length);
	return copy;
}
