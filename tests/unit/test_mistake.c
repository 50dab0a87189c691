/* Mistakes drawn on purpose: they show only where they are asked for, and then as the wrong rule would have it. Lengths of the
   expected legs are worked out here from the figure's numbers. */
#include <criterion/criterion.h>
#include <criterion/new/assert.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "support/files.h"
#include "support/svgread.h"

#define FIGURE "figure m {\n %s M %s focal 3 cm aperture 8 cm at 14 cm\n object o height 1.5 cm at 9 cm before M\n step \"a\" { ray a from o.tip parallel }\n" \
    " step \"b\" { ray b from o.tip toward M.%s }\n step \"i\" { image i of o by M }\n%s}\n"

static char *draw(bool lens, const char *more, const char *mistake)
{
    char script[1200];
    SgResult r;
    snprintf(script, sizeof script, FIGURE, lens ? "lens" : "mirror", lens ? "converging" : "concave", lens ? "centre" : "vertex", more);
    SgJob job = { .kind = SG_JOB_DRAW, .path = "mistake.sag", .script = script, .script_length = strlen(script), .still = true, .mistake = mistake };
    SgStatus status = sg_compile(&job, &r);
    cr_assert(status == SG_DONE && r.nproducts == 1, "%s", r.messages);
    char *text = calloc(r.product[0].length + 1, 1);
    if (text) memcpy(text, r.product[0].bytes, r.product[0].length);
    sg_result_free(&r);
    cr_assert_not_null(text);
    return text;
}

Test(mistake, shown_only_where_asked)
{
    static const char mistakes[] = " mistake x of b wrong_side\n mistake y of i other_way_up\n";
    char *plain = draw(false, "", NULL), *with = draw(false, mistakes, NULL), *x = draw(false, mistakes, "x"), *y = draw(false, mistakes, "y");
    cr_expect(eq(str, plain, with), "declaring a mistake changes the figure");
    cr_expect(ne(str, plain, x));
    cr_expect(ne(str, plain, y));
    cr_expect(ne(str, x, y));
    free(plain);
    free(with);
    free(x);
    free(y);
}

/* The slope of the last leg of the ray that begins level (a) or not (b), up per step along the way it goes. A ray is an open line
   of two legs that starts level at a height of its own; only rays have a corner on the mirror or lens. */
static double slope_of(const char *svg, const char *name, bool lens)
{
    SvgDrawing d = svg_read(svg, strlen(svg));
    double slope = NAN;
    for (uint32_t i = 0; i < d.n; i++) {
        const SvgShape *s = &d.shape[i];
        if (!s->stroked || s->closed || s->curved || s->filled || s->n < 2 || s->stroke == 0x091a20) continue;
        const SvgPoint *p = s->at;
        bool level = fabs(p[1].y - p[0].y) < 1e-3;
        if (level != (*name == 'a')) continue;
        double dx = p[s->n - 1].x - p[s->n - 2].x, dy = p[s->n - 1].y - p[s->n - 2].y;
        cr_expect(lens ? dx > 0 : dx < 0, "%s leaves the wrong way round", name);
        slope = -dy / fabs(dx);
        break;
    }
    svg_free(&d);
    return slope;
}

static const struct { bool lens; const char *ray, *sort; double slope; } cases[] = {
    { false, "b", "wrong_side", 1.5 / 9 },                      /* back along itself */
    { false, "a", "through_centre", -1.5 / 6 },
    { false, "a", "away_from_focus", 1.5 / 3 },
    { false, "a", "as_if_at_focus", 1.5 / 3 },                  /* with the ray by way of C, back: 1.5 over 9 - 6 */
    { true, "a", "wrong_side", 1.5 / 3 },
    { true, "a", "through_centre", -1.5 / 6 },
    { true, "a", "unbent", 0 },
    { true, "a", "as_if_at_focus", -1.5 / 9 },                  /* with the ray through the centre */
};

Test(mistake, drawn_as_the_wrong_rule_would)
{
    for (size_t k = 0; k < sizeof cases / sizeof *cases; k++) {
        char more[80];
        snprintf(more, sizeof more, " mistake x of %s %s\n", cases[k].ray, cases[k].sort);
        char *svg = draw(cases[k].lens, more, "x");
        double is = slope_of(svg, cases[k].ray, cases[k].lens);
        cr_expect(fabs(is - cases[k].slope) < 1e-3, "%s %s: %g, wanted %g", cases[k].lens ? "lens" : "mirror", cases[k].sort, is, cases[k].slope);
        free(svg);
    }
}
