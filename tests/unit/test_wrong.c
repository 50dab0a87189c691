/* Wrong scripts and the whole of what their author is told.
   in: tests/wrong/NAME.sag and NAME.txt. out: a script whose messages differ by one byte is named.
   never: writes the expected texts; they are changed by hand, when a message has become better. */
#include "support/files.h"
#include <criterion/criterion.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef struct { unsigned wrong, warned; } Count;

/* Runs one script as `check` and as `draw`, one with a sheet as `answers`: the same messages, status 1 when one of them is an error, and then no figure. */
static void check_script(const char *name, Count *count)
{
    char path[300];
    size_t length, told;
    snprintf(path, sizeof path, "wrong/%s", name);
    char *script = test_read(path, &length);
    memcpy(path + strlen(path) - 3, "txt", 3);
    char *want = test_read(path, &told);
    cr_expect_not_null(want, "%s: %s is missing", name, path);
    if (!script || !want) { free(script); free(want); return; }
    bool error = strstr(want, ": error: ") != NULL;
    bool sheet = !strncmp(script, "sheet ", 6) || strstr(script, "\nsheet ");
    for (int draw = 0; draw < 2; draw++) {
        SgResult r;
        SgStatus status = test_run(!draw ? SG_JOB_CHECK : sheet ? SG_JOB_ANSWERS : SG_JOB_DRAW, name, script, length, NULL, NULL, &r);
        cr_expect_eq(status, error ? SG_SCRIPT_WRONG : SG_DONE, "%s: status %d", name, (int)status);
        cr_expect(r.messages_length == told && (!told || !memcmp(r.messages, want, told)), "%s: it said\n%.*s--- wanted\n%s---",
                  name, (int)r.messages_length, r.messages ? r.messages : "", want);
        cr_expect(!error || !r.nproducts, "%s: a figure was drawn all the same", name);
        sg_result_free(&r);
    }
    if (error) count->wrong++;
    else count->warned++;
    free(script);
    free(want);
}

Test(wrong, every_script_is_told_what_and_how)
{
    size_t n;
    Count count = { 0 };
    char **list = test_list("wrong", ".sag", &n);
    cr_assert_not_null(list, "tests/wrong cannot be read");
    for (size_t i = 0; i < n; i++) {
        check_script(list[i], &count);
        free(list[i]);
    }
    free(list);
    cr_expect_geq(count.wrong, 30, "only %u wrong scripts", count.wrong);
    cr_expect_geq(count.warned, 1, "no script that is only warned of");
}
