/* The page of slides: what a projector asks of every demo's drawings, in both ratios, read by a reader that knows no compiler.
   Least sizes at 1920 x 1080: rays 4 px, all lines 2, dots 12, letters 28, captions 36 (common practice). */
#include <criterion/criterion.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "files.h"
#include "svgread.h"

typedef struct { double x0, y0, x1, y1; } Box;
typedef struct { const char *name; double w_px, h_px, strip_px; Box box; unsigned bad; char why[400]; } Slide;

static void fault(Slide *s, const char *what, double value)
{
    if (s->bad++ == 0) snprintf(s->why, sizeof s->why, "%s: %.2f", what, value);
}

static void grow(Slide *s, double x, double y)
{
    if (x < s->box.x0) s->box.x0 = x;
    if (x > s->box.x1) s->box.x1 = x;
    if (y < s->box.y0) s->box.y0 = y;
    if (y > s->box.y1) s->box.y1 = y;
}

/* The value after `opening` in s, or -1. */
static double number_after(const char *s, const char *opening)
{
    double value = -1;
    const char *at = strstr(s, opening), *end;
    if (at == NULL || !test_number(at + strlen(opening), &value, &end)) return -1;
    return value;
}

static void check_shapes(Slide *s, const SvgDrawing *d)
{
    for (uint32_t i = 0; i < d->n; i++) {
        const SvgShape *shape = &d->shape[i];
        if (shape->stroked && shape->width < 2 - 0.01) fault(s, "a line's width", shape->width);
        if (shape->stroked && !shape->ndash && (shape->stroke == 0x0364f0 || shape->stroke == 0x5075f4) && shape->width < 4 - 0.01) fault(s, "a ray's width", shape->width);
        if (shape->round && shape->filled && shape->radius < 6 - 0.01) fault(s, "a dot's radius", shape->radius);
        for (uint32_t k = 0; k < shape->n; k++) {
            SvgPoint p = shape->at[k];
            if (p.x < -1 || p.x > s->w_px + 1) fault(s, "outside across", p.x);
            if (p.y < -1 || p.y > s->h_px + 1) fault(s, "outside, up or down", p.y);
            grow(s, p.x, p.y);
        }
    }
}

/* Words: transparent text over their outlines. Those of the strip come after the steps. */
static void check_words(Slide *s, const char *svg, double px)
{
    const char *strip = strstr(svg, "<g class=\"caption\"");
    for (const char *at = svg; (at = strstr(at, "<text ")) != NULL; at++) {
        double size = number_after(at, "font-size=\"") * px, x = number_after(at, "x=\"") * px, y = number_after(at, "y=\"") * px, w = number_after(at, "textLength=\"") * px;
        bool caption = strip != NULL && at > strip;
        if (size < (caption ? 36 : 28) - 0.05) fault(s, caption ? "a caption's size" : "letters of size", size);
        if (x < 0 || x + w > s->w_px) fault(s, "words outside across", x + w);
        if (caption ? y < s->h_px || y > s->h_px + s->strip_px : y > s->h_px || y < size / 2) fault(s, "words outside, up or down", y);
        if (!caption) { grow(s, x, y - size / 2); grow(s, x + w, y); }
    }
}

/* Motion alone is styled; the reader takes no style. */
static void blank_styles(char *svg)
{
    for (char *at = svg; (at = strstr(at, " style=\"--")) != NULL;) {
        char *end = strchr(at + 8, '"') + 1;
        memset(at, ' ', (size_t)(end - at));
    }
}

/* Each drawing of a page as a file of its own, a pixel a unit. */
static unsigned check_page(const char *name, const char *page, double w_px, unsigned *unfilled)
{
    unsigned slides = 0;
    for (const char *at = page; (at = strstr(at, "<section class=\"slide")) != NULL; slides++) {
        double strip = number_after(at, "--strip:"), w, h, px;
        const char *svg = strstr(at, "<svg "), *end = strstr(svg, "</svg>") + 6, *box = strstr(svg, "viewBox=\"0 0 "), *rest;
        cr_assert(test_number(box + 13, &w, &rest) && test_number(rest + 1, &h, &rest));
        px = w_px / w;
        Slide s = { name, w_px, h * px - strip * w_px, strip * w_px, { 1e9, 1e9, -1e9, -1e9 }, 0, "" };
        size_t size = (size_t)(end - svg) + 100;
        char *alone = malloc(size);
        int n = snprintf(alone, size, "<svg width=\"%.6fmm\" height=\"%.6fmm\" %.*s", w_px, h * px, (int)(end - svg) - 5, svg + 5);
        blank_styles(alone);
        SvgDrawing d = svg_read(alone, (size_t)n);
        cr_expect(d.well_formed, "%s: slide %u is no sound SVG", name, slides + 1);
        check_shapes(&s, &d);
        check_words(&s, alone, px);
        cr_expect_eq(s.bad, 0, "%s, %g px wide, slide %u: %u faults, first %s", name, w_px, slides + 1, s.bad, s.why);
        *unfilled += s.box.x1 - s.box.x0 < 0.85 * s.w_px && s.box.y1 - s.box.y0 < 0.75 * s.h_px;
        svg_free(&d);
        free(alone);
        at = end;
    }
    return slides;
}

static void check_ids(const char *name, char *page)
{
    char *seen[20000];
    unsigned n = 0, twice = 0;
    for (char *at = page; (at = strstr(at, " id=\"")) != NULL && n < 20000;) {
        at += 5;
        seen[n++] = at;
    }
    for (unsigned i = 0; i < n; i++) *strchr(seen[i], '"') = '\0';
    for (unsigned i = 0; i < n; i++) for (unsigned k = 0; k < i; k++) twice += strcmp(seen[i], seen[k]) == 0;
    cr_expect_gt(n, 20, "%s: only %u ids", name, n);
    cr_expect_eq(twice, 0, "%s: %u ids stand twice", name, twice);
}

Test(projector, slides_fit)
{
    size_t n;
    unsigned slides = 0, unfilled = 0, styled = 0;
    char **list = test_list("../scripts-demo", ".sag", &n), path[300];
    for (size_t i = 0; i < n; i++) {
        size_t length;
        snprintf(path, sizeof path, "../scripts-demo/%s", list[i]);
        char *script = test_read(path, &length);
        static const char *const STYLE[] = { NULL, "large", "tactile" };
        for (int way = 0; way < (i % 4 == 2 ? 6 : 2); way++) {         /* both ratios; some in the styles that have sizes of their own */
            int narrow = way % 2;
            unsigned *small = way < 2 ? &unfilled : &styled;
            SgResult r;
            SgJob job = { .kind = SG_JOB_SLIDES, .path = list[i], .script = script, .script_length = length, .narrow = narrow, .style = STYLE[way / 2] };
            cr_expect_eq(sg_compile(&job, &r), SG_DONE, "%s: %s", list[i], r.messages ? r.messages : "");
            if (r.nproducts == 1) {
                char *page = malloc(r.product[0].length + 1);
                memcpy(page, r.product[0].bytes, r.product[0].length);
                page[r.product[0].length] = '\0';
                slides += check_page(list[i], page, narrow ? 1440 : 1920, small);
                if (way == 0) check_ids(list[i], page);
                free(page);
            }
            sg_result_free(&r);
        }
        free(script);
        free(list[i]);
    }
    free(list);
    cr_expect_geq(slides, 100, "only %u slides", slides);
    cr_expect_leq(unfilled, slides / 20, "%u of %u slides leave their room empty", unfilled, slides);
    fprintf(stderr, "slides: %u read, %u small\n", slides, unfilled);
}

/* A note of a line that is wider than the slide in its own size: everything is set smaller, and still seen from the last row. */
Test(projector, a_long_note_fits)
{
    static const char script[] = "figure wide {\n    lens L converging focal 3 cm at 9 cm\n    object lamp height 1 cm at 1 cm\n    note \"the lamp stands behind its lens, and one who "
        "looks from the gallery sees it far below\" at (1 cm, -4 cm)\n}\n";
    unsigned unfilled = 0;
    for (int narrow = 0; narrow < 2; narrow++) {
        SgResult r;
        SgJob job = { .kind = SG_JOB_SLIDES, .path = "wide.sag", .script = script, .script_length = sizeof script - 1, .narrow = narrow };
        cr_assert_eq(sg_compile(&job, &r), SG_DONE, "%s", r.messages ? r.messages : "");
        char *page = malloc(r.product[0].length + 1);
        memcpy(page, r.product[0].bytes, r.product[0].length);
        page[r.product[0].length] = '\0';
        cr_expect_eq(check_page("wide.sag", page, narrow ? 1440 : 1920, &unfilled), 1);
        free(page);
        sg_result_free(&r);
    }
}
