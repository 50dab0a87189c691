/* The fuzzer's corpus, replayed: what once broke a rule, and what reaches far. Made-up scripts with every job besides.
   in: tests/fuzz/corpus and seeds. out: the input whose result breaks a rule is named. */
#include "support/files.h"
#include "support/fuzzjob.h"
#include "support/gen.h"
#include <criterion/criterion.h>
#include <stdio.h>
#include <stdlib.h>

Test(fuzz, corpus_breaks_no_rule)
{
    size_t n, length;
    char **list = test_list("fuzz/corpus", ".fuzz", &n);
    cr_assert(list && n >= 10, "the corpus is not there");
    for (size_t i = 0; i < n; i++) {
        char path[300];
        snprintf(path, sizeof path, "fuzz/corpus/%s", list[i]);
        char *bytes = test_read(path, &length);
        const char *fault = fuzz_fault((const uint8_t *)bytes, length);
        cr_expect_null(fault, "%s: %s", list[i], fault);
        free(bytes);
        free(list[i]);
    }
    free(list);
}

Test(fuzz, made_up_scripts_break_no_rule)
{
    for (uint64_t content = 1000; content < 1150; content++)
        for (int job = 0; job < FUZZ_JOBS; job++) {
            Gen g;
            char head[FUZZ_HEAD + 1] = { (char)('0' + job), (char)('0' + content % 16), 0 };
            gen_begin(&g, content, content % 3);
            gen_script(&g);
            char *bytes = malloc(g.out.n + FUZZ_HEAD + 1);
            size_t n = (size_t)sprintf(bytes, "%s%s", head, g.out.v);
            const char *fault = fuzz_fault((const uint8_t *)bytes, n);
            cr_expect_null(fault, "script %u, job %d: %s\n%s", (unsigned)content, job, fault, g.out.v);
            free(bytes);
            gen_free(&g);
        }
}
