/* Conventions: the same two cases in the signs and letters of each.
   in: scripts. out: what `solve` and `ask` tell of them.
   never: takes an expected number from the compiler: classical results, concave mirror of 15 cm (after NCERT Science X, Example 10.2,
   and OpenStax's rules) and converging lens of 10 cm (after NCERT Science X, Example 10.4, from memory). */
#include "sagitta.h"
#include <criterion/criterion.h>
#include <stdio.h>
#include <string.h>

static bool told(SgJobKind kind, const char *expression, const char *setting, bool lens, char *out, size_t size)
{
    char script[600];
    SgResult r;
    if (lens) snprintf(script, sizeof script, "%s\nfigure q {\nlens E converging focal 10 cm at 20 cm\nobject pin height 2 cm at 15 cm before E\nscale 1:4\nimage i of pin by E\n}\n", setting);
    else snprintf(script, sizeof script, "%s\nfigure q {\nmirror E concave focal 15 cm at 60 cm\nobject pin height 4 cm at 25 cm before E\nscale 1:5\nimage i of pin by E\n}\n", setting);
    SgJob job = { .kind = kind, .path = "convention.sag", .script = script, .script_length = strlen(script), .expression = expression };
    bool done = sg_compile(&job, &r) == SG_DONE && r.nproducts == 1;
    snprintf(out, size, "%.*s", done ? (int)r.product[0].length : (int)r.messages_length, done ? r.product[0].bytes : r.messages);
    sg_result_free(&r);
    return done;
}

#define M "\xE2\x88\x92"
Test(convention, signs_letters_and_sizes)
{
    static const struct { const char *setting; bool lens; const char *has[4]; } row[] = {
        { "convention us_school", false, { "d\xE2\x82\x92 = 25 cm, f = 15 cm, h = 4 cm", " = 37.50 cm", "= " M "1.500", "= " M "6.000 cm" } },
        { "convention indian_school", false, { "u = " M "25 cm, f = " M "15 cm, h = 4 cm", "v = " M "37.50 cm", "m = " M "v/u = ", "= " M "6.000 cm" } },
        { "convention uk_school", false, { "u = 25 cm, f = 15 cm, h = 4 cm", "v = 37.50 cm", "m = v/u = 37.50 cm/25 cm = 1.500", "= 6.000 cm" } },
        { "convention us_school", true, { "d\xE2\x82\x92 = 15 cm, f = 10 cm, h = 2 cm", " = 30.00 cm", "= " M "2.000", "= " M "4.000 cm" } },
        { "convention indian_school", true, { "u = " M "15 cm, f = 10 cm, h = 2 cm", "v = 30.00 cm", "1/v " M " 1/u = 1/f", "m = v/u = 30.00 cm/(" M "15 cm) = " M "2.000" } },
        { "convention cartesian letters \"a\", \"b\", \"f\"", true, { "a = " M "15 cm", "b = 30.00 cm", "1/b " M " 1/a = 1/f", "= " M "4.000 cm" } },
        { "convention university", false, { "s = " M "25 cm", "s\xE2\x80\xB2 = " M "37.50 cm", "by university", "= " M "1.500" } },
    };
    char text[6000];
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        cr_assert(told(SG_JOB_SOLVE, NULL, row[i].setting, row[i].lens, text, sizeof text), "%s", text);
        for (int k = 0; k < 4; k++) {
            char thin[200], *t = thin;                 /* a figure's numbers have a thin space before their unit */
            for (const char *c = row[i].has[k]; *c; c++)
                if (*c == ' ' && c[1] == 'c' && c[2] == 'm') { memcpy(t, "\xE2\x80\x89", 3); t += 3; } else *t++ = *c;
            *t = 0;
            cr_expect(strstr(text, thin), "%s: no `%s` in\n%s", row[i].setting, row[i].has[k], text);
        }
        cr_assert(told(SG_JOB_ASK, "i.distance", row[i].setting, row[i].lens, text, sizeof text));
        cr_expect_str_eq(text, row[i].lens ? "30 cm\n" : "37.5 cm\n", "a convention changed a property: %s", text);
    }
    cr_assert(told(SG_JOB_SOLVE, NULL, "", false, text, sizeof text));
    cr_expect(!strstr(text, "1/"), "nothing is worked where no convention is set");
    cr_expect(!told(SG_JOB_SOLVE, NULL, "convention", false, text, sizeof text) && strstr(text, "convention-form"), "%s", text);
    cr_expect(!told(SG_JOB_SOLVE, NULL, "convention us_school uk_school", false, text, sizeof text));
}

/* A sheet's convention signs its answers and works them out; the figure's own goes before it, and JSON stays geometry. A length
   that is given is not rounded. */
Test(convention, of_a_sheet)
{
    static const char script[] = "figure q {\nmirror E concave focal 15 cm aperture 12 cm at 60 cm\nobject pin height 4.125 cm at 25 cm before E\nscale 1:4\nimage i of pin by E\n}\n"
        "figure own {\nconvention us_school\nmirror E concave focal 15 cm aperture 12 cm at 60 cm\nobject pin height 4 cm at 25 cm before E\nscale 1:4\nimage i of pin by E\n}\n"
        "sheet s \"Signs\" {\nconvention indian_school\nproblem a = q \"Where?\" asks i.distance\nproblem b = own \"Where?\" asks i.distance\n}\n";
    static const struct { bool json; const char *has[5]; } row[] = {
        { false, { "1 a  i.distance  -37.5 cm  drawn -50", "2 b  i.distance  37.5 cm  drawn 35", "version A", "calculated -38 to -37", "calculated 37 to 38" } },
        { true, { "\"value\": 37.5, \"unit\": \"cm\", \"drawn\": [35", "u = " M "25\xE2\x80\x89" "cm, f = " M "15\xE2\x80\x89" "cm, h = 4.125\xE2\x80\x89" "cm", "v = " M "38\xE2\x80\x89" "cm", "d\xE2\x82\x92 = 25\xE2\x80\x89" "cm", "real, inverted, enlarged" } },
    };
    for (int k = 0; k < 2; k++) {
        SgResult r;
        SgJob job = { .kind = SG_JOB_ANSWERS, .path = "signs.sag", .script = script, .script_length = sizeof script - 1, .json = row[k].json };
        cr_assert(sg_compile(&job, &r) == SG_DONE && r.nproducts == 1, "%s", r.messages);
        char text[6000];
        snprintf(text, sizeof text, "%.*s", (int)r.product[0].length, r.product[0].bytes);
        for (int i = 0; i < 5; i++) cr_expect(strstr(text, row[k].has[i]), "no `%s` in\n%s", row[k].has[i], text);
        sg_result_free(&r);
    }
}
