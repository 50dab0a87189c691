/* Says which rules the catalogue breaks; status 1 when it breaks one. */
#include <stdio.h>

#include "catalogue/catalogue.h"

static uint32_t lint(SgArena *arena, jmp_buf *out, SgBuf *text)
{
    if (setjmp(*out) != 0) return UINT32_MAX;
    arena->out = out;
    text->arena = arena;
    return sg_catalogue_lint(text);
}

int main(void)
{
    SgArena arena = { 0 };
    jmp_buf out;
    SgBuf text = { 0 };
    uint32_t broken = lint(&arena, &out, &text);
    fwrite(text.v, 1, text.n, stdout);
    sg_arena_free(&arena);
    return broken == 0 ? 0 : 1;
}
