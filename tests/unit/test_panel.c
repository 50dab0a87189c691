/* Panels and strips, seen on their SVG alone: each part is the figure itself, moved and nothing else. */
#include "support/files.h"
#include "support/svgread.h"
#include <criterion/criterion.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char SCRIPT[] =
    "figure lamp(u = 12 cm) \"Lamp at {u}\" {\n"
    "    lens L converging focal 4 cm at 13 cm\n"
    "    object lamp height 1 cm at u before L\n"
    "    step \"Parallel, out through F.\" { ray a from lamp.tip parallel }\n"
    "    step \"Straight on.\" { ray b from lamp.tip toward L.centre; fade a }\n"
    "    step \"The image is {spot.nature}.\" { image spot of lamp by L; ask \"Where?\" }\n"
    "}\n"
    "figure tall = lamp(u = 5 cm)\n"
    "panel pair \"Two\" gap 4 mm across 540 mm { part a = lamp \"Lamp at {u}\"; part b = lamp(u = 5 cm) \"Lamp at {u}\" }\n"
    "panel steps \"Two steps\" columns 1 { part a = lamp up_to_step 0 \"given\"; part b = lamp up_to_step 1 }\n";

typedef struct { SvgDrawing d; char *text; double offset_x, offset_y; } Seen;

static Seen drawn(const char *figure)
{
    char script[2000];
    size_t n = (size_t)snprintf(script, sizeof script, "%s", SCRIPT);
    SgJob job = { .kind = SG_JOB_DRAW, .path = "panel.sag", .script = script, .script_length = n, .figure = figure, .still = true };
    SgResult r;
    cr_assert_eq(sg_compile(&job, &r), SG_DONE, "%s: %s", figure, r.messages ? r.messages : "");
    cr_assert_eq(r.nproducts, 1, "%s", figure);
    Seen seen = { .d = svg_read(r.product[0].bytes, r.product[0].length), .text = strndup(r.product[0].bytes, r.product[0].length) };
    cr_assert(seen.d.well_formed, "%s", figure);
    sg_result_free(&r);
    return seen;
}

static void done(Seen *s)
{
    svg_free(&s->d);
    free(s->text);
}

static bool moved(const SvgShape *a, const SvgShape *b, double x, double y)
{
    if (a->n != b->n || a->stroked != b->stroked || a->stroke != b->stroke || a->fill != b->fill || fabs(a->width - b->width) > 1e-9 || a->ndash != b->ndash) return false;
    for (uint32_t i = 0; i < a->n; i++) if (fabs(a->at[i].x + x - b->at[i].x) > 0.0021 || fabs(a->at[i].y + y - b->at[i].y) > 0.0021) return false;
    return true;
}

/* The paper, which is drawn first, apart: every shape of the figure stands in the panel, all moved by the same way. */
static unsigned found(Seen *figure, const Seen *panel, double from_x, double to_x)
{
    const SvgDrawing *f = &figure->d, *p = &panel->d;
    unsigned best = 0;
    for (uint32_t first = 1; first < p->n; first++) {          /* try each as the figure's first */
        if (p->shape[first].n != f->shape[1].n) continue;
        double x = p->shape[first].at[0].x - f->shape[1].at[0].x, y = p->shape[first].at[0].y - f->shape[1].at[0].y;
        unsigned n = 0;
        if (x < from_x - 0.01 || x > to_x) continue;
        for (uint32_t i = 1; i < f->n; i++)
            for (uint32_t k = 1; k < p->n; k++)
                if (moved(&f->shape[i], &p->shape[k], x, y)) { n++; break; }
        if (n > best) { best = n; figure->offset_x = x; figure->offset_y = y; }
    }
    return best;
}

Test(panel, parts_are_their_figures_moved)
{
    Seen lamp = drawn("lamp"), tall = drawn("tall"), pair = drawn("pair"), steps = drawn("steps");
    cr_expect_eq(found(&lamp, &pair, 0, 0.01), lamp.d.n - 1, "part (a): %u of %u", found(&lamp, &pair, 0, 0.01), lamp.d.n - 1);
    double x = lamp.offset_x, y = lamp.offset_y;
    cr_expect_eq(found(&tall, &pair, lamp.d.width, 1e9), tall.d.n - 1, "part (b)");
    cr_expect_float_eq(x, 0, 0.001);
    cr_expect_float_eq(tall.offset_x + tall.d.width, 540, 0.01, "the panel is as wide as asked");
    cr_expect_float_eq(pair.d.width, 540, 1e-9);
    /* The axis, the longest level line, stands at one height in both parts. */
    double level[2] = { 0, 0 };
    Seen *part[2] = { &lamp, &tall };
    for (int s = 0; s < 2; s++)
        for (uint32_t i = 1; i < part[s]->d.n; i++) {
            const SvgShape *h = &part[s]->d.shape[i];
            if (h->ndash == 4 && h->n == 2) level[s] = h->at[0].y + part[s]->offset_y;
        }
    cr_expect_gt(level[0], 1);
    cr_expect_float_eq(level[0], level[1], 0.0021);
    cr_expect_geq(lamp.offset_y + 1e-9, y < 0 ? y : 0);
    cr_expect(strstr(pair.text, "(a)") && strstr(pair.text, "(b)") && strstr(pair.text, ">Lamp at 12\xE2\x80\x89" "cm<") && strstr(pair.text, ">Lamp at 5\xE2\x80\x89" "cm<"), "letters and words");
    cr_expect(!strstr(pair.text, "<script") && !strstr(pair.text, "class=\"caption\""));
    /* A part up to a step shows and tells nothing of what comes after. */
    cr_expect(!strstr(steps.text, "image") && !strstr(steps.text, "real") && !strstr(steps.text, "Straight"), "later steps are told");
    unsigned coral = 0, blue = 0;
    for (uint32_t i = 0; i < steps.d.n; i++) {
        coral += steps.d.shape[i].stroke == 0xE45753;
        blue += steps.d.shape[i].stroke == 0x0364F0;
    }
    cr_expect(coral == 0 && blue == 1, "%u of the second ray, %u of the first", coral, blue);
    Seen *all[] = { &lamp, &tall, &pair, &steps };
    for (int i = 0; i < 4; i++) done(all[i]);
}

Test(panel, a_strip_has_a_picture_a_step)
{
    Seen lamp = drawn("lamp");
    char script[2000];
    size_t n = (size_t)snprintf(script, sizeof script, "%s", SCRIPT);
    SgJob job = { .kind = SG_JOB_DRAW, .path = "panel.sag", .script = script, .script_length = n, .figure = "lamp", .strip = true };
    SgResult r;
    cr_assert_eq(sg_compile(&job, &r), SG_DONE, "%s", r.messages ? r.messages : "");
    SvgDrawing d = svg_read(r.product[0].bytes, r.product[0].length);
    unsigned axes = 0;
    for (uint32_t i = 0; i < d.n; i++) axes += d.shape[i].ndash == 4;
    cr_expect_eq(axes, 4, "what is given and three steps: %u axes", axes);
    char *text = strndup(r.product[0].bytes, r.product[0].length), *name = strstr(text, ">principal axis<");
    cr_expect(name && !strstr(name + 1, ">principal axis<"), "the axis is named in the first picture only");
    cr_expect_not_null(strstr(text, ">What is given.<"), "the first picture has its words");
    cr_expect_not_null(strstr(text, "4 parts. (a) What is given."), "the description counts its parts");
    cr_expect(!strncmp(r.product[0].brief, "Lamp at 12", 10) && strstr(r.product[0].brief, "(a) What is given; (b) "), "in short: %s", r.product[0].brief);
    free(text);
    svg_free(&d);
    sg_result_free(&r);
    done(&lamp);
}
