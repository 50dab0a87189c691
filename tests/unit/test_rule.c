/* By rule on the drawn arc: spread, shift and place of images, against values worked out beside the program with ruler-and-line
   geometry (concave mirror, f = 4 cm, R = 8 cm, object 1.5 cm tall; parallel ray, ray through F, ray to the vertex):
   object at 8 cm: the rays meet within 0.09 mm of each other, near 7.73 cm, 2.74 mm from the image of the equation at 8 cm;
   object at 6 cm: their crossings lie between 10.44 and 11.25 cm where the equation gives 12 cm. */
#include <criterion/criterion.h>
#include <criterion/new/assert.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include "support/files.h"

static double asked(const char *script, const char *expression)
{
    SgResult r;
    double value = NAN;
    const char *end;
    SgStatus status = test_run(SG_JOB_ASK, "rule.sag", script, strlen(script), NULL, expression, &r);
    if (status != SG_DONE || r.nproducts != 1 || !test_number(r.product[0].bytes, &value, &end)) value = NAN;
    sg_result_free(&r);
    return value;
}

Test(rule, rays_by_ruler_meet_only_nearly)
{
    static const struct { const char *u, *what; double least, most; } rows[] = {
        { "8", "i.spread / (1 mm)", 0.085, 0.095 }, { "8", "i.shift / (1 mm)", 2.735, 2.745 }, { "8", "i.distance / (1 cm)", 7.725, 7.735 },
        { "6", "i.distance / (1 cm)", 10.44, 11.25 }, { "6", "i.shift / (1 mm)", 7.5, 15.6 },
        { "12", "i.spread / (1 mm)", 0, 2 },
    };
    for (size_t k = 0; k < sizeof rows / sizeof *rows; k++) {
        char script[700];
        snprintf(script, sizeof script,
                 "figure f {\n model by_rule\n mirror M concave focal 4 cm aperture 7 cm at 16 cm\n object o height 1.5 cm at %s cm before M\n"
                 " ray a from o.tip parallel\n ray b from o.tip through M.focus\n ray d from o.tip toward M.vertex\n image i of o by M\n}\n", rows[k].u);
        double value = asked(script, rows[k].what);
        cr_expect(value >= rows[k].least && value <= rows[k].most, "object at %s cm: %s is %g, not within %g and %g", rows[k].u, rows[k].what, value, rows[k].least, rows[k].most);
    }
}

/* A ray along a line through the centre goes back on itself, also high on the arc; one by way of F turns by as much as the
   angle it came at lacks of half a turn, for it leaves parallel. */
Test(rule, each_rule_holds_on_the_arc)
{
    static const struct { const char *sort, *ray, *turn; } rows[] = {
        { "concave", "through M.centre", "r.deviation / (180 deg)" }, { "convex", "through M.centre", "r.deviation / (180 deg)" },
        { "concave", "through M.focus", "(r.deviation + atan(2 / 7)) / (180 deg)" }, { "convex", "through M.focus", "(r.deviation + atan(2 / 15)) / (180 deg)" },
    };
    for (size_t k = 0; k < sizeof rows / sizeof *rows; k++) {
        char script[500];
        snprintf(script, sizeof script, "figure f {\n model by_rule\n mirror M %s focal 4 cm aperture 7 cm at 16 cm\n object o height 2 cm at 11 cm before M\n ray r from o.tip %s\n}\n", rows[k].sort, rows[k].ray);
        double value = asked(script, rows[k].turn);
        cr_expect(fabs(value - 1) < 1e-9, "%s, %s: %s is %.12g", rows[k].sort, rows[k].ray, rows[k].turn, value);
    }
}
