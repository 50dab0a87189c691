/* arena_faults EVERY SCRIPT...: every job on every script with its Nth request to the arena failing, for each EVERYth N. Chunks
   of memory end where chance has it, so any request may be the one that fails. A job then ends in status 3 with its message
   and gives all memory back. Linked with --wrap of the arena and the allocator. Last line: "N passed, N failed". */
#include <setjmp.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/base.h"
#include "sagitta.h"

static long requests, fail_at, live;

void *__real_sg_arena_get(SgArena *a, size_t bytes);
void *__real_sg_arena_try(SgArena *a, size_t bytes);
void *__real_sg_vec_grow(SgArena *a, void *old, uint32_t *cap, uint32_t n, size_t size);
void *__real_malloc(size_t n);
void *__real_realloc(void *p, size_t n);
void __real_free(void *p);
void *__wrap_sg_arena_get(SgArena *a, size_t bytes);
void *__wrap_sg_arena_try(SgArena *a, size_t bytes);
void *__wrap_sg_vec_grow(SgArena *a, void *old, uint32_t *cap, uint32_t n, size_t size);
void *__wrap_malloc(size_t n);
void *__wrap_realloc(void *p, size_t n);
void __wrap_free(void *p);

static bool fails(void) { return ++requests == fail_at; }

void *__wrap_sg_arena_get(SgArena *a, size_t bytes)
{
    if (fails()) longjmp(*a->out, 1);
    return __real_sg_arena_get(a, bytes);
}
void *__wrap_sg_arena_try(SgArena *a, size_t bytes) { return fails() ? NULL : __real_sg_arena_try(a, bytes); }
void *__wrap_sg_vec_grow(SgArena *a, void *old, uint32_t *cap, uint32_t n, size_t size)
{
    if (fails()) longjmp(*a->out, 1);
    return __real_sg_vec_grow(a, old, cap, n, size);
}
void *__wrap_malloc(size_t n)
{
    void *p = __real_malloc(n);
    live += p != NULL;
    return p;
}
void *__wrap_realloc(void *p, size_t n)
{
    live += p == NULL;
    return __real_realloc(p, n);
}
void __wrap_free(void *p)
{
    live -= p != NULL;
    __real_free(p);
}

static bool sound(const SgJob *job, const char *what)
{
    SgResult result;
    requests = live = 0;
    SgStatus status = sg_compile(job, &result);
    bool good = status == SG_MACHINE_FAILED && result.nproducts == 0 && result.messages_length > 0 && result.memory == NULL;
    sg_result_free(&result);
    if (!good) printf("%s, job %d: request %ld failing gives status %d\n", what, (int)job->kind, fail_at, (int)status);
    if (live != 0) printf("%s, job %d: request %ld failing leaves %ld blocks\n", what, (int)job->kind, fail_at, live);
    return good && live == 0;
}

int main(int argc, char **argv)
{
    static char script[1 << 20];
    long passed = 0, failed = 0, every = argc > 2 ? strtol(argv[1], NULL, 10) : 0;
    if (every < 1) return 2;
    for (int a = 2; a < argc; a++) {
        FILE *f = fopen(argv[a], "rb");
        if (f == NULL) return 2;
        size_t n = fread(script, 1, sizeof script, f);
        fclose(f);
        script[n < sizeof script ? n : n - 1] = '\0';
        bool sheet = strstr(script, "\nsheet ") != NULL;          /* its key: everything that goes onto paper */
        for (int kind = 0; kind < SG_JOB_COUNT + sheet; kind++) {
            SgJob job = { .kind = kind == SG_JOB_COUNT ? SG_JOB_DRAW : (SgJobKind)kind, .part = kind == SG_JOB_COUNT ? SG_SHEET_KEY : SG_SHEET_GIVEN, .path = argv[a], .script = script, .script_length = n, .every = true, .each = kind == SG_JOB_PRESENTATION, .json = true, .expression = "1 cm + 2 cm" };
            SgResult result;
            fail_at = requests = 0;
            sg_compile(&job, &result);
            sg_result_free(&result);
            long all = requests;
            /* Slides are laid out several times over: the same requests again, so some of them are enough. */
            bool slides = kind == SG_JOB_SLIDES || kind == SG_JOB_PRESENTATION;
            for (fail_at = 1; fail_at <= all; fail_at += slides ? every * 211 : every) {
                if (sound(&job, argv[a])) passed++;
                else failed++;
            }
        }
    }
    printf("%ld passed, %ld failed\n", passed, failed);
    return failed == 0 && passed > 0 ? 0 : 1;
}
