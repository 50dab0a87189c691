/* base: memory, text and numbers for every stage. Knows nothing of scripts, optics or drawing.
   needs  the C library.
   gives  one arena a compile, pointer-and-length strings, growable arrays, an output buffer, interned names.
   never  prints, exits, reads the clock or the locale; a failed allocation jumps to the arena's one owner. */
#ifndef SG_BASE_H
#define SG_BASE_H
#include <setjmp.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

typedef struct { const char *s; uint32_t n; } SgStr;
#define SG_LIT(text) ((SgStr){ (text), (uint32_t)(sizeof(text) - 1) })
SgStr sg_str(const char *zero_ended);
bool sg_str_is(SgStr a, const char *zero_ended);
bool sg_str_same(SgStr a, SgStr b);

/* Bytes [start, end) of source file `file`. Every token, node, model item, solved item and mark carries one. */
typedef struct { uint32_t start, end; uint16_t file; } SgSpan;

/* ---- arena ---- */
typedef struct SgChunk SgChunk;
typedef struct {
    SgChunk *head;
    size_t used, cap;      /* bytes of the head chunk */
    size_t total;          /* bytes of all chunks */
    jmp_buf *out;          /* where a failed allocation jumps; never NULL while the arena is in use */
} SgArena;
void *sg_arena_get(SgArena *a, size_t bytes);      /* zeroed, aligned for anything; jumps to *out on failure */
void *sg_arena_try(SgArena *a, size_t bytes);      /* the same, but NULL on failure (for code under bison's stack) */
void sg_arena_free(SgArena *a);
/* What was got since the mark is given back by a reset. An array that was begun before the mark must not grow between the two. */
typedef struct { SgChunk *head, *next; size_t used, cap, total; } SgArenaMark;
SgArenaMark sg_arena_mark(const SgArena *a);
void sg_arena_reset(SgArena *a, SgArenaMark mark);
#define SG_NEW(arena, type) ((type *)sg_arena_get((arena), sizeof(type)))
#define SG_ARRAY(arena, type, count) ((type *)sg_arena_get((arena), sizeof(type) * (size_t)(count)))
SgStr sg_str_keep(SgArena *a, const char *s, size_t n);       /* a zero-ended copy */
SgStr sg_format(SgArena *a, const char *fmt, ...) __attribute__((format(printf, 2, 3)));   /* no %f %g %e: see num.h */

/* ---- growable arrays: struct { T *v; uint32_t n, cap; }; what lies behind the n-th is anything ---- */
#define SG_VEC(type) struct { type *v; uint32_t n, cap; }
void *sg_vec_grow(SgArena *a, void *old, uint32_t *cap, uint32_t n, size_t size);
#define SG_PUSH(arena, vec, item) \
    do { \
        if ((vec)->n == (vec)->cap) (vec)->v = sg_vec_grow((arena), (vec)->v, &(vec)->cap, (vec)->n, sizeof *(vec)->v); \
        (vec)->v[(vec)->n++] = (item); \
    } while (0)

/* ---- output buffer: grows in its arena; outputs write here and the caller writes the whole of it or nothing ---- */
typedef struct { SgArena *arena; char *v; uint32_t n, cap; } SgBuf;
void sg_put(SgBuf *b, const char *s, size_t n);
void sg_puts(SgBuf *b, const char *zero_ended);
void sg_put_str(SgBuf *b, SgStr s);
void sg_put_char(SgBuf *b, char c);
void sg_putf(SgBuf *b, const char *fmt, ...) __attribute__((format(printf, 2, 3)));        /* no %f %g %e: see num.h */
SgStr sg_buf_str(const SgBuf *b);

/* ---- names: equal spelling, equal number ---- */
typedef uint32_t SgSym;
#define SG_NO_SYM UINT32_MAX
typedef struct { SgArena *arena; SgStr *name; uint32_t n, cap; uint32_t *slot; uint32_t nslots; } SgNames;
void sg_names_init(SgNames *names, SgArena *a);
SgSym sg_names_sym(SgNames *names, const char *s, uint32_t n);     /* interns; keeps the pointer, so s must outlive names */
SgSym sg_names_find(const SgNames *names, SgStr s);                /* SG_NO_SYM when not interned */
SgStr sg_names_str(const SgNames *names, SgSym sym);
#endif
