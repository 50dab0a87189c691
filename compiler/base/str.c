/* Strings of pointer and length, formatted text and the output buffer.
   in: bytes. out: bytes kept in an arena. Never formats a floating-point number (see num.h). */
#include "base/base.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

enum { SHORT_TEXT = 256 };

SgStr sg_str(const char *zero_ended)
{
    return (SgStr){ zero_ended, (uint32_t)strlen(zero_ended) };
}

bool sg_str_is(SgStr a, const char *zero_ended)
{
    return sg_str_same(a, sg_str(zero_ended));
}

bool sg_str_same(SgStr a, SgStr b)
{
    return a.n == b.n && (a.n == 0 || memcmp(a.s, b.s, a.n) == 0);
}

SgStr sg_str_keep(SgArena *a, const char *s, size_t n)
{
    char *kept = sg_arena_get(a, n + 1);
    if (n) memcpy(kept, s, n);
    return (SgStr){ kept, (uint32_t)n };
}

static SgStr format_into(SgArena *a, const char *fmt, va_list list)
{
    char small[SHORT_TEXT];
    va_list again;
    va_copy(again, list);
    int n = vsnprintf(small, sizeof small, fmt, list);
    SgStr text = { "", 0 };
    if (n >= 0 && (size_t)n < sizeof small) {
        text = sg_str_keep(a, small, (size_t)n);
    } else if (n >= 0) {
        char *kept = sg_arena_get(a, (size_t)n + 1);
        vsnprintf(kept, (size_t)n + 1, fmt, again);
        text = (SgStr){ kept, (uint32_t)n };
    }
    va_end(again);
    return text;
}

SgStr sg_format(SgArena *a, const char *fmt, ...)
{
    va_list list;
    va_start(list, fmt);
    SgStr text = format_into(a, fmt, list);
    va_end(list);
    return text;
}

void sg_put(SgBuf *b, const char *s, size_t n)
{
    while (b->cap - b->n < n) b->v = sg_vec_grow(b->arena, b->v, &b->cap, b->n, 1);
    if (n) memcpy(b->v + b->n, s, n);
    b->n += (uint32_t)n;
}

void sg_puts(SgBuf *b, const char *zero_ended)
{
    sg_put(b, zero_ended, strlen(zero_ended));
}

void sg_put_str(SgBuf *b, SgStr s)
{
    sg_put(b, s.s, s.n);
}

void sg_put_char(SgBuf *b, char c)
{
    if (b->n == b->cap) b->v = sg_vec_grow(b->arena, b->v, &b->cap, b->n, 1);
    b->v[b->n++] = c;
}

void sg_putf(SgBuf *b, const char *fmt, ...)
{
    char small[SHORT_TEXT];
    va_list list, again;
    va_start(list, fmt);
    va_copy(again, list);
    int n = vsnprintf(small, sizeof small, fmt, list);
    if (n >= 0 && (size_t)n < sizeof small) sg_put(b, small, (size_t)n);
    else if (n >= 0) sg_put_str(b, format_into(b->arena, fmt, again));
    va_end(again);
    va_end(list);
}

SgStr sg_buf_str(const SgBuf *b)
{
    return (SgStr){ b->v ? b->v : "", b->n };
}
