/* find against closed forms: a converging lens of 10 cm, object distance d: v = f d/(d - f), m = -f/(d - f); object and screen
   apart by d + v: two places above 4f, one at 4f, none below (Bessel's method, any optics text). */
#include <criterion/criterion.h>
#include <criterion/new/assert.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "support/files.h"

typedef struct { const char *name, *find; double want_mm; const char *code; } Case;     /* code: of the message, NULL: an answer is wanted */

static const Case cases[] = {
    { "inverted, three times: past the pole", "from 1 cm to 30 cm where i.magnification = -3", 400.0 / 3, NULL },
    { "upright, twice: the other side of the pole", "from 1 cm to 30 cm where i.magnification = 2", 50, NULL },
    { "twice either way: two answers", "from 1 cm to 30 cm where abs(i.magnification) = 2", 0, "find-several" },
    { "the smaller of two", "from 1 cm to 30 cm where abs(i.magnification) = 2 smallest", 50, NULL },
    { "the larger of two", "from 1 cm to 30 cm where abs(i.magnification) = 2 largest", 150, NULL },
    { "the one nearest to 14 cm", "from 1 cm to 30 cm where abs(i.magnification) = 2 nearest 14 cm", 150, NULL },
    { "image at infinity", "from 1 cm to 30.17 cm where i.distance = infinity", 100, NULL },
    { "object and screen 50 cm apart: two places", "from 10.5 cm to 60 cm where d + i.distance = 50 cm smallest", 0, NULL },
    { "40 cm apart, 4f: they merge and only touch", "from 10.5 cm to 60.3 cm where d + i.distance = 40 cm", 200, NULL },
    { "35 cm apart, under 4f: none", "from 10.5 cm to 60 cm where d + i.distance = 35 cm", 0, "find-none" },
    { "half the size upright: never", "from 11 cm to 30 cm where i.magnification = 1/2", 0, "find-none" },
    { "a change of sign at the pole only is no answer", "from 9 cm to 11 cm where i.distance = 5 cm", 0, "find-none" },
    { "steps never give a half", "from 1 cm to 30 cm where round(d, 1 cm) = 7.5 cm", 0, "find-none" },
    { "a step fits over a whole range", "from 1 cm to 30 cm where round(d, 1 cm) = 7 cm", 0, "find-any" },
    { "where even the end of the range fits", "from 15 cm to 30 cm where i.magnification = -2", 150, NULL },
};

Test(find, closed_forms)
{
    for (size_t k = 0; k < sizeof cases / sizeof *cases; k++) {
        char script[500];
        SgResult r;
        double value = NAN, want = cases[k].want_mm;
        const char *end;
        snprintf(script, sizeof script, "figure f {\n find d %s\n lens L converging focal 10 cm at 80 cm\n object o height 1 cm at d before L\n image i of o by L\n}\n", cases[k].find);
        SgStatus status = test_run(SG_JOB_ASK, "find.sag", script, strlen(script), NULL, "d / (1 mm)", &r);
        if (!strcmp(cases[k].name, "object and screen 50 cm apart: two places")) want = (500 - sqrt(500.0 * 500 - 4 * 100 * 500)) / 2;
        if (cases[k].code) {
            cr_expect(status == SG_SCRIPT_WRONG && strstr(r.messages, cases[k].code), "%s: wanted %s, it said %s", cases[k].name, cases[k].code, r.messages ? r.messages : "nothing");
        } else {
            bool told = status == SG_DONE && r.nproducts == 1 && test_number(r.product[0].bytes, &value, &end);
            cr_expect(told && fabs(value - want) <= 1e-6 * want, "%s: %.10g, wanted %.10g; %s", cases[k].name, value, want, r.messages_length ? r.messages : "");
        }
        sg_result_free(&r);
    }
}

/* Several unknowns, ranges, what is no equation, and how much work is allowed. */
static const struct { const char *body, *expression, *want; } figures[] = {
    /* One unknown after another: the second is found first, since the first one's condition needs it and it needs nothing. */
    { "find a from 1 cm to 30 cm where a = b + 1 cm\n find b from 1 cm to 30 cm where 2 * b = 8 cm", "a", "5 cm\n" },
    /* One inside the other: b is found again for every a, for its range hangs on a. b = a + 1 cm, so 2 a + 1 cm = 13 cm. */
    { "find a from 1 cm to 30 cm where a + b = 13 cm\n find b from a to a + 3 cm where x(b) = 0 cm", "a", "no function" },
    { "find a from 1 cm to 30 cm where a + b = 13 cm\n find b from a to a + 7 cm where 2 * b = 14 cm", "a", "6 cm\n" },
    { "find a from 1 cm to 9 cm where a + b = 13 cm\n find b from a to a + 3 cm where c = 9 cm\n find c from b to b + 2 cm where c + b = 17 cm", "a", "find" },
    { "find a from 1 cm to 9 cm where a = b\n find b from 1 cm to 9 cm where b = 2 * a", "a", "circle: a needs b needs a" },
    { "find a from b to 9 cm where a = 2 cm\n find b from a to 9 cm where b = 2 cm", "a", "circle: a needs b needs a" },
    { "find a from 1 cm to 9 cm where M.focal = 4 cm\n mirror M concave focal 4 cm at 16 cm", "a", "nothing here changes with `a`" },
    { "find a from 1 cm to 9 cm where a > 4 cm", "a", "one equation with one = sign" },
    { "find a from 1 cm to 9 cm where 1 cm = a = 2 cm", "a", "one equation with one = sign" },
    { "find a from 9 cm to 1 cm where a = 2 cm", "a", "exchange them" },
    { "find a from 1 cm to 9 deg where a = 2 cm", "a", "give both the same sort" },
    { "find a from 1 cm to 9 cm where a = 2 deg", "a", "cannot be compared" },
    { "find a from 1 cm to 9 cm where a = 2 cm nearest 3", "a", "`nearest` needs a length" },
    { "find a from 1 cm to 9 cm where a = 2 cm smallest largest", "a", "cannot have both `smallest` and `largest`" },
    { "find a from 0 to 9 cm where 2 * a = 7 cm", "a", "3.5 cm\n" },
    { "find a from 0 deg to 90 deg where sin(a) = 1/2", "a", "30 deg\n" },
    { "find a from 1 cm to 9 cm where sqrt(a - 20 cm * a / (1 cm)) = 2", "a", "error" },
    { "find a from 1 cm to 9 cm where a = 2 cm\n let b = 2 * a\n point P at b before L\n lens L converging focal a at 10 cm", "P.x", "6 cm\n" },
};

Test(find, several_unknowns_and_wrong_ones)
{
    for (size_t k = 0; k < sizeof figures / sizeof *figures; k++) {
        char script[900];
        SgResult r;
        snprintf(script, sizeof script, "figure f {\n %s\n}\n", figures[k].body);
        SgStatus status = test_run(SG_JOB_ASK, "find.sag", script, strlen(script), NULL, figures[k].expression, &r);
        const char *is = status == SG_DONE && r.nproducts ? r.product[0].bytes : r.messages;
        cr_expect(is && strstr(is, figures[k].want), "%s: wanted %s, it said %s", figures[k].body, figures[k].want, is ? is : "nothing");
        sg_result_free(&r);
    }
}

/* 64 finds are allowed, and 20 million steps of work: about 540 trials a find, each of as many steps as its chain is long. */
static void chained(unsigned finds, unsigned lets, const char *want)
{
    size_t room = 200 + 80 * (size_t)finds + 60 * (size_t)lets, n = 0;
    char *script = malloc(room);
    SgResult r;
    cr_assert_not_null(script);
    n += (size_t)snprintf(script + n, room - n, "figure f {\n let x0 = u0\n");
    for (unsigned i = 1; i <= lets; i++) n += (size_t)snprintf(script + n, room - n, " let x%u = x%u + 0 cm\n", i, i - 1);
    for (unsigned i = 0; i < finds; i++) n += (size_t)snprintf(script + n, room - n, " find u%u from 1 cm to 9 cm where %s%u = 3 cm\n", i, i ? "u" : "x", i ? i : lets);
    n += (size_t)snprintf(script + n, room - n, "}\n");
    test_run(SG_JOB_ASK, "find.sag", script, n, NULL, "x0", &r);
    const char *is = r.nproducts ? r.product[0].bytes : r.messages;
    cr_expect(is && strstr(is, want), "%u finds, %u lets: wanted %s, it said %s", finds, lets, want, is ? is : "nothing");
    sg_result_free(&r);
    free(script);
}

Test(find, limits_at_and_just_past)
{
    chained(64, 1, "3 cm\n");
    chained(65, 1, "at most 64 finds");
    chained(1, 8000, "3 cm\n");
    chained(1, 12000, "more than 20 million steps");
}
