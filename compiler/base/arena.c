/* One arena a compile: memory is got, never given back singly; freed as a whole, or down to a mark.
   in: byte counts. out: zeroed memory, but for the room that arrays grow into. A failed allocation jumps to the arena's owner; nothing here prints or exits. */
#include "base/base.h"

#include <stdalign.h>
#include <stdlib.h>
#include <string.h>

struct SgChunk {
    struct SgChunk *next, *previous;
    size_t cap;
    max_align_t memory[];
};

enum {
    CHUNK_BYTES = 64 * 1024,
    OWN_BYTES = 16 * 1024,      /* a block this large gets a chunk of its own, so that it can grow where it stands */
    ALIGN = alignof(max_align_t),
    FIRST_ITEMS = 8
};

static size_t rounded(size_t bytes)
{
    return bytes > SIZE_MAX - ALIGN ? SIZE_MAX : (bytes + ALIGN - 1) / ALIGN * ALIGN;
}

static SgChunk *chunk_new(size_t cap)
{
    if (cap > SIZE_MAX / 2) return NULL;
    SgChunk *chunk = malloc(offsetof(SgChunk, memory) + cap);
    if (chunk) *chunk = (SgChunk){ .cap = cap };
    return chunk;
}

static void jump(SgArena *a)
{
    longjmp(*a->out, 1);
}

/* The block is the only one of its chunk, which goes behind the head so that the head's rest stays in use. */
static void *own_block(SgArena *a, size_t bytes)
{
    SgChunk *chunk = chunk_new(bytes);
    if (!chunk) return NULL;
    a->total += bytes;
    if (!a->head) {
        a->head = chunk;
        a->used = a->cap = bytes;
    } else {
        chunk->next = a->head->next;
        chunk->previous = a->head;
        if (chunk->next) chunk->next->previous = chunk;
        a->head->next = chunk;
    }
    return chunk->memory;
}

static void *get_raw(SgArena *a, size_t bytes)
{
    bytes = rounded(bytes ? bytes : 1);
    if (bytes >= OWN_BYTES) return own_block(a, bytes);
    if (!a->head || a->cap - a->used < bytes) {
        SgChunk *chunk = chunk_new(CHUNK_BYTES);
        if (!chunk) return NULL;
        chunk->next = a->head;
        if (a->head) a->head->previous = chunk;
        a->head = chunk;
        a->used = 0;
        a->cap = CHUNK_BYTES;
        a->total += CHUNK_BYTES;
    }
    void *block = (char *)a->head->memory + a->used;
    a->used += bytes;
    return block;
}

void *sg_arena_try(SgArena *a, size_t bytes)
{
    void *block = get_raw(a, bytes);
    return block ? memset(block, 0, bytes) : NULL;
}

void *sg_arena_get(SgArena *a, size_t bytes)
{
    void *block = sg_arena_try(a, bytes);
    if (!block) jump(a);
    return block;
}

void sg_arena_free(SgArena *a)
{
    while (a->head) {
        SgChunk *chunk = a->head;
        a->head = chunk->next;
        free(chunk);
    }
    a->used = a->cap = a->total = 0;
}

SgArenaMark sg_arena_mark(const SgArena *a)
{
    return (SgArenaMark){ a->head, a->head ? a->head->next : NULL, a->used, a->cap, a->total };
}

static void drop_until(SgChunk *chunk, const SgChunk *end)
{
    while (chunk != end) {
        SgChunk *next = chunk->next;
        free(chunk);
        chunk = next;
    }
}

/* Blocks of their own stand behind the chunk that was the head when they were got, all others before it. */
void sg_arena_reset(SgArena *a, SgArenaMark mark)
{
    drop_until(a->head, mark.head);
    if (mark.head) {
        drop_until(mark.head->next, mark.next);
        mark.head->next = mark.next;
        mark.head->previous = NULL;
    }
    if (mark.next) mark.next->previous = mark.head;
    a->head = mark.head;
    a->used = mark.used;
    a->cap = mark.cap;
    a->total = mark.total;
}

/* A block with a chunk of its own grows in it: large arrays are not copied, and their old half is not left behind. */
static void *grow_own(SgArena *a, void *old, size_t bytes)
{
    SgChunk *chunk = (SgChunk *)(void *)((char *)old - offsetof(SgChunk, memory));
    bool is_head = a->head == chunk;
    size_t before = chunk->cap;
    if (bytes > SIZE_MAX / 2) return NULL;
    chunk = realloc(chunk, offsetof(SgChunk, memory) + bytes);
    if (!chunk) return NULL;
    a->total += bytes - before;
    chunk->cap = bytes;
    if (chunk->next) chunk->next->previous = chunk;
    if (chunk->previous) chunk->previous->next = chunk;
    if (is_head) {
        a->head = chunk;
        a->used = a->cap = bytes;
    }
    return chunk->memory;
}

void *sg_vec_grow(SgArena *a, void *old, uint32_t *cap, uint32_t n, size_t size)
{
    if (*cap > UINT32_MAX / 2) jump(a);
    uint32_t wanted = *cap ? *cap * 2 : FIRST_ITEMS;
    size_t was = rounded(*cap * size), bytes = rounded(wanted * size);
    char *grown;
    if (old && was >= OWN_BYTES) {
        grown = grow_own(a, old, bytes);
    } else if (old && a->head && (char *)old + was == (char *)a->head->memory + a->used && a->cap - a->used >= bytes - was
               && bytes < OWN_BYTES) {
        a->used += bytes - was;       /* the last block of its chunk */
        grown = old;
    } else {
        grown = get_raw(a, bytes);
        if (grown && n) memcpy(grown, old, n * size);
    }
    if (!grown) jump(a);
    *cap = wanted;
    return grown;
}
