/* faults SCRIPT...: every job on every script with its Nth allocation failing, for each N, once that one only and once all
   from there on. A job then ends in status 3 or in the very result of a calm run, and gives all memory back.
   Linked with --wrap of the allocator. Last line: "N passed, N failed". */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "sagitta.h"

static long live, calls, fail_at;
static bool sticky;

void *__real_malloc(size_t n);
void *__real_calloc(size_t n, size_t size);
void *__real_realloc(void *p, size_t n);
void __real_free(void *p);
void *__wrap_malloc(size_t n);
void *__wrap_calloc(size_t n, size_t size);
void *__wrap_realloc(void *p, size_t n);
void __wrap_free(void *p);

static bool fails(void)
{
    calls++;
    return fail_at > 0 && (sticky ? calls >= fail_at : calls == fail_at);
}
static void *counted(void *p)
{
    live += p != NULL;
    return p;
}
void *__wrap_malloc(size_t n) { return fails() ? NULL : counted(__real_malloc(n)); }
void *__wrap_calloc(size_t n, size_t size) { return fails() ? NULL : counted(__real_calloc(n, size)); }
void *__wrap_realloc(void *p, size_t n)
{
    if (fails()) return NULL;
    return p == NULL ? counted(__real_realloc(p, n)) : __real_realloc(p, n);
}
void __wrap_free(void *p)
{
    live -= p != NULL;
    __real_free(p);
}

/* A number that stands for all a result says: FNV-1a over status, messages and products. */
static uint64_t sum_of(const SgResult *r)
{
    uint64_t h = 14695981039346656037u ^ (uint64_t)r->status;
    for (size_t i = 0; i < r->messages_length; i++) h = (h ^ (unsigned char)r->messages[i]) * 1099511628211u;
    for (uint32_t k = 0; k < r->nproducts; k++)
        for (size_t i = 0; i < r->product[k].length; i++) h = (h ^ (unsigned char)r->product[k].bytes[i]) * 1099511628211u;
    return h;
}

static bool sound(const SgJob *job, uint64_t calm, const char *what)
{
    SgResult result;
    calls = live = 0;
    SgStatus status = sg_compile(job, &result);
    bool good = status == SG_MACHINE_FAILED ? result.nproducts == 0 && result.messages_length > 0 : sum_of(&result) == calm;
    sg_result_free(&result);
    if (!good) printf("%s: allocation %ld failing %s gives another result (status %d)\n", what, fail_at, sticky ? "for good" : "once", (int)status);
    if (live != 0) printf("%s: allocation %ld failing %s leaves %ld blocks\n", what, fail_at, sticky ? "for good" : "once", live);
    return good && live == 0;
}

int main(int argc, char **argv)
{
    static char script[1 << 20];
    long passed = 0, failed = 0;
    for (int a = 1; a < argc; a++) {
        FILE *f = fopen(argv[a], "rb");
        if (f == NULL) return 2;
        size_t n = fread(script, 1, sizeof script, f);
        fclose(f);
        for (int kind = 0; kind < SG_JOB_COUNT; kind++) {
            SgJob job = { .kind = (SgJobKind)kind, .path = argv[a], .script = script, .script_length = n, .every = true, .json = true, .expression = "1 cm + 2 cm" };
            SgResult result;
            fail_at = calls = 0;
            sg_compile(&job, &result);
            uint64_t calm = sum_of(&result);
            long all = calls;
            sg_result_free(&result);
            for (int both = 0; both < 2; both++) {
                sticky = both == 1;
                for (fail_at = 1; fail_at <= all; fail_at++) {
                    if (sound(&job, calm, argv[a])) passed++;
                    else failed++;
                }
            }
        }
    }
    printf("%ld passed, %ld failed\n", passed, failed);
    return failed == 0 && passed > 0 ? 0 : 1;
}
