/* find against closed forms: a converging lens of 10 cm, object distance d: v = f d/(d - f), m = -f/(d - f); object and screen
   apart by d + v: two places above 4f, one at 4f, none below (Bessel's method, any optics text). */
#include <criterion/criterion.h>
#include <criterion/new/assert.h>
#include <math.h>
#include <stdio.h>
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
    { "a step fits over a whole range", "from 1 cm to 30 cm where round(d, 1 cm) = 7 cm", 0, "find-" },
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
