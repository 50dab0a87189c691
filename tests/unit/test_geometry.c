/* Figures drawn by the compiler, checked on the drawing alone; and drawings damaged on purpose, which the same check must refuse.
   in: scripts made from a table of cases. out: faults in words, by figure.
   never: takes a place from the compiler: where light goes is worked out in support/figure.c. */
#include "layout/layout.h"
#include "output/output.h"
#include "support/figure.h"
#include "support/files.h"
#include "support/svgread.h"
#include <criterion/criterion.h>
#include <math.h>
#include <setjmp.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const Facts CASES[] = {
    { "concave_beyond_c", CONCAVE, 40, 120, 10, "pcv", 70 },
    { "concave_beyond_c_f", CONCAVE, 40, 120, 10, "pfcv", 70 },
    { "concave_at_c", CONCAVE, 40, 80, 12, "pfv", 70 },
    { "concave_c_to_f", CONCAVE, 30, 45, 8, "pfcv", 70 },
    { "concave_at_f", CONCAVE, 40, 40, 12, "pcv", 80 },
    { "concave_inside_f", CONCAVE, 50, 20, 10, "pfcv", 90 },
    { "convex_far", CONVEX, 40, 70, 14, "pfcv", 70 },
    { "convex_near", CONVEX, 30, 25, 12, "pfcv", 60 },
    { "plane_mirror", PLANE, 0, 40, 20, "pv", 80 },
    { "lens_beyond_2f", CONVERGING, 30, 75, 14, "pfc", 70 },
    { "lens_at_2f", CONVERGING, 30, 60, 12, "pfc", 70 },
    { "lens_2f_to_f", CONVERGING, 30, 45, 10, "pfc", 90 },
    { "lens_at_f", CONVERGING, 40, 40, 12, "pc", 80 },
    { "lens_inside_f", CONVERGING, 50, 30, 12, "pfc", 90 },
    { "lens_odd_numbers", CONVERGING, 33.7, 81.3, 13.9, "pfc", 70 },
    { "diverging_far", DIVERGING, 40, 80, 16, "pfc", 70 },
    { "diverging_near", DIVERGING, 50, 30, 14, "pfc", 70 },
};
enum { NCASES = sizeof CASES / sizeof *CASES };
static const char *const COLOURS[] = { "blue", "coral", "purple", "green" };

/* ---- scripts ---- */
static void write_ray(char *out, size_t room, const Facts *x, char rule, int n)
{
    bool lens = x->element == CONVERGING || x->element == DIVERGING;
    const char *aim = rule == 'p' ? "parallel" : rule == 'v' ? "toward E.vertex" : rule == 'f' ? (lens ? "through E.front_focus" : "through E.focus")
                    : "through E.centre";
    snprintf(out + strlen(out), room - strlen(out), "    step \"Ray %d.\" {\n        ray r%d from lamp.tip %s colour %s\n    }\n", n + 1, n + 1, aim, COLOURS[n % 4]);
}

static void write_script(char *out, size_t room, const Facts *x)
{
    static const char *const WORDS[] = { "mirror E concave", "mirror E convex", "mirror E plane", "lens E converging", "lens E diverging" };
    snprintf(out, room, "figure %s \"Lamp room\" {\n    %s%s", x->name, WORDS[x->element], x->element == PLANE ? "" : " focal ");
    if (x->element != PLANE) snprintf(out + strlen(out), room - strlen(out), "%d.%d mm", (int)x->f, (int)floor(x->f * 10 + 0.5) % 10);
    snprintf(out + strlen(out), room - strlen(out), " aperture %d mm at 18 cm edge produced\n", (int)x->aperture);
    snprintf(out + strlen(out), room - strlen(out), "    object lamp height %d.%d mm at %d.%d mm before E\n", (int)x->h,
             (int)floor(x->h * 10 + 0.5) % 10, (int)x->u, (int)floor(x->u * 10 + 0.5) % 10);
    for (int i = 0; x->rays[i]; i++) write_ray(out, room, x, x->rays[i], i);
    snprintf(out + strlen(out), room - strlen(out), "    step \"The image.\" {\n        image seen of lamp by E\n    }\n}\n");
}

/* ---- the stages, so that a page can be damaged before it is written ---- */
typedef struct { SgArena arena; jmp_buf out; SgCompile c; SgPage *page; } Draft;

static SgPage *page_of(Draft *t, const char *script)
{
    t->arena = (SgArena){ .out = &t->out };
    if (setjmp(t->out)) return NULL;
    t->c = (SgCompile){ .arena = &t->arena };
    sg_names_init(&t->c.names, &t->arena);
    t->c.source = SG_ARRAY(&t->arena, SgSource, 4);
    t->c.source[t->c.nsources++] = sg_text_source(&t->arena, sg_str("lamp.sag"), sg_str(script));
    SgTokens raw = sg_tokens(&t->c, 0);
    SgTagged tagged = sg_words(&t->c, &raw);
    SgNode *tree = sg_tree(&t->c, &tagged);
    sg_messages_settle(&t->c, tagged.tops.v, tagged.tops.n);
    if (tagged.braces_damaged || sg_errors(&t->c)) return NULL;
    const SgModel *m = sg_model(&t->c, tree);
    if (sg_errors(&t->c) || m->nfigures != 1) return NULL;
    SgSolved *solved = sg_solve(&t->c, m, &m->figure[0], NULL, 0);
    if (sg_errors(&t->c)) return NULL;
    SgScene *scene = sg_scene(&t->c, solved, &solved, 1);
    return sg_errors(&t->c) ? NULL : sg_layout(&t->c, scene);
}

static void check_page(Draft *t, const SgPage *page, const Facts *x, Faults *faults)
{
    SgBuf b = { .arena = &t->arena };
    *faults = (Faults){ .count = 0 };
    sg_output_svg(page, (SgSvgOptions){ .still = true, .step = -1 }, &b);
    SvgDrawing d = svg_read(b.v, b.n);
    figure_check(x, &d, faults);
    svg_free(&d);
}

static const char *said(Draft *t)
{
    SgBuf b = { .arena = &t->arena };
    sg_messages_text(&t->c, &b);
    sg_put_char(&b, 0);
    return b.v;
}

/* ---- damage ---- */
typedef enum { RAY_BENT, DOT_SHIFTED, HEAD_DROPPED, HEAD_TURNED, HEAD_SLID, IMAGE_MOVED, IMAGE_DROPPED, OBJECT_LIFTED, AXIS_TILTED, RAY_SHIFTED,
    PRODUCED_CUT, HEAD_ON_DASHES, DAMAGES } Damage;
static const char *const DAMAGE_NAMES[DAMAGES] = { "a ray bent by 0.05 degrees", "a dot shifted by 0.2 mm", "a head dropped", "a head turned round",
    "a head slid to the bend", "the tip of the image moved by 0.2 mm", "the image dropped", "the object lifted by 0.2 mm", "the axis tilted",
    "a ray shifted by 0.2 mm", "a produced line cut short", "a head on a produced line" };

static bool is_light(const SgItem *i) { return i->role == SG_ROLE_RAY && i->shape == SG_ITEM_STROKE; }
static bool is_head(const SgItem *i) { return i->role == SG_ROLE_RAY && i->shape == SG_ITEM_FILL; }

static void move(SgArena *a, SgItem *i, double x, double y)
{
    SgPoint *p = SG_ARRAY(a, SgPoint, i->nxy);
    for (uint32_t k = 0; k < i->nxy; k++) p[k] = sg_pt(i->xy[k].x_mm + x, i->xy[k].y_mm + y);
    i->xy = p;
}

/* Turns the last piece of a stroke about where it begins. */
static void bend(SgArena *a, SgItem *i, double deg)
{
    move(a, i, 0, 0);
    SgPoint *p = (SgPoint *)i->xy, o = p[i->nxy - 2], e = p[i->nxy - 1];
    double s = sin(deg * 0.017453292519943295), c = cos(deg * 0.017453292519943295), x = e.x_mm - o.x_mm, y = e.y_mm - o.y_mm;
    p[i->nxy - 1] = sg_pt(o.x_mm + c * x - s * y, o.y_mm + s * x + c * y);
}

static void turn_round(SgArena *a, SgItem *i)
{
    move(a, i, 0, 0);
    SgPoint *p = (SgPoint *)i->xy, sum = { 0, 0 };
    for (uint32_t k = 0; k < 3; k++) sum = sg_pt_add(sum, p[k]);
    double far = 0;
    SgPoint tip = p[0], base = p[0];
    for (uint32_t k = 0; k < 3; k++) {
        SgPoint m = sg_pt_mid(p[(k + 1) % 3], p[(k + 2) % 3]);
        if (sg_pt_distance(m, p[k]) > far) { far = sg_pt_distance(m, p[k]); tip = p[k]; base = m; }
    }
    for (uint32_t k = 0; k < i->nxy; k++) p[k] = sg_pt(tip.x_mm + base.x_mm - p[k].x_mm, tip.y_mm + base.y_mm - p[k].y_mm);
}

/* The item of the stroke that carries this head's light. */
static const SgItem *light_of(const SgPage *page, const SgItem *head)
{
    for (uint32_t i = 0; i < page->nitems; i++)
        if (is_light(&page->item[i]) && page->item[i].light == head->light) return &page->item[i];
    return NULL;
}

static const SgItem *produced_of(const SgPage *page, const SgItem *head)
{
    for (uint32_t i = 0; i < page->nitems; i++)
        if (page->item[i].role == SG_ROLE_PRODUCED && page->item[i].shape == SG_ITEM_STROKE && page->item[i].light == head->light) return &page->item[i];
    return NULL;
}

/* A head in the middle of a line, pointing along it. */
static void lay_along(SgArena *a, SgItem *head, const SgItem *line)
{
    SgPoint unit = sg_pt_unit(sg_pt_sub(line->xy[1], line->xy[0])), tip = sg_pt_mid(line->xy[0], line->xy[1]);
    SgPoint *p = SG_ARRAY(a, SgPoint, 3);
    p[0] = tip;
    p[1] = sg_pt_along(sg_pt_along(tip, unit, -2.5), sg_pt_left(unit), 0.5);
    p[2] = sg_pt_along(sg_pt_along(tip, unit, -2.5), sg_pt_left(unit), -0.5);
    head->xy = p;
    head->nxy = 3;
}

/* Damages the n-th thing of its sort; false when there are fewer. Only lines that a rule holds level or at equal angles are
   bent so little: on the others 0.05 degrees stay within the 0.05 mm a ray may miss its point by. */
static bool damage(SgArena *a, SgPage *page, const Facts *x, Damage what, unsigned n)
{
    unsigned seen = 0;
    for (uint32_t k = 0; k < page->nitems; k++) {
        SgItem *i = &page->item[k];
        bool image = i->role == SG_ROLE_REAL_IMAGE || i->role == SG_ROLE_VIRTUAL_IMAGE;
        switch (what) {
        case RAY_BENT:
            if (!is_light(i)) break;
            char rule = x->rays[(i->light - 1) % strlen(x->rays)];
            if (rule != 'f' && rule != 'v') break;
            if (seen++ == n) { bend(a, i, 0.05); return true; }
            break;
        case RAY_SHIFTED: if (is_light(i) && seen++ == n) { move(a, i, 0, 0.2); return true; } break;
        case DOT_SHIFTED: if (i->role == SG_ROLE_POINT && i->shape == SG_ITEM_DISC && seen++ == n) { move(a, i, 0.2, 0); return true; } break;
        case HEAD_DROPPED: if (is_head(i) && seen++ == n) { *i = page->item[--page->nitems]; return true; } break;
        case HEAD_TURNED: if (is_head(i) && seen++ == n) { turn_round(a, i); return true; } break;
        case HEAD_SLID:
            if (is_head(i) && seen++ == n) {
                const SgItem *l = light_of(page, i);
                SgPoint to = l->xy[1], from = sg_pt_scale(sg_pt_add(sg_pt_add(i->xy[0], i->xy[1]), i->xy[2]), 1 / 3.0);
                move(a, i, to.x_mm - from.x_mm, to.y_mm - from.y_mm);
                return true;
            }
            break;
        case IMAGE_MOVED: if (image && i->shape == SG_ITEM_FILL && seen++ == n) { move(a, i, 0, 0.2); return true; } break;
        case IMAGE_DROPPED: if (image && i->shape == SG_ITEM_STROKE && seen++ == n) { *i = page->item[--page->nitems]; return true; } break;
        case OBJECT_LIFTED: if (i->role == SG_ROLE_OBJECT && i->shape == SG_ITEM_STROKE && seen++ == n) { move(a, i, 0, -0.2); return true; } break;
        case AXIS_TILTED: if (i->role == SG_ROLE_AXIS && i->shape == SG_ITEM_STROKE && seen++ == n) { bend(a, i, 0.05); return true; } break;
        case PRODUCED_CUT:
            if (i->role == SG_ROLE_PRODUCED && i->shape == SG_ITEM_STROKE && seen++ == n) {
                move(a, i, 0, 0);
                SgPoint *p = (SgPoint *)i->xy, q = p[0];
                p[0] = sg_pt_along(p[0], sg_pt_sub(p[1], q), 0.1);
                p[1] = sg_pt_along(p[1], sg_pt_sub(q, p[1]), 0.1);
                return true;
            }
            break;
        case HEAD_ON_DASHES: {
            const SgItem *line = is_head(i) ? produced_of(page, i) : NULL;
            if (line && seen++ == n) { lay_along(a, i, line); return true; }
            break;
        }
        case DAMAGES: break;
        }
    }
    return false;
}

Test(geometry, light_goes_where_the_equation_sends_it)
{
    static char script[4000];
    Faults faults;
    for (int i = 0; i < NCASES; i++) {
        Draft *t = calloc(1, sizeof *t);
        write_script(script, sizeof script, &CASES[i]);
        SgPage *page = page_of(t, script);
        cr_expect_not_null(page, "%s is not drawn:\n%s\n%s", CASES[i].name, script, page ? "" : said(t));
        if (page) {
            check_page(t, page, &CASES[i], &faults);
            cr_expect_eq(faults.count, 0, "%s: %u faults:\n%s", CASES[i].name, faults.count, faults.text);
        }
        sg_arena_free(&t->arena);
        free(t);
    }
}

/* Every sort of damage is seen, wherever it is done. */
Test(geometry, damage_is_seen)
{
    static char script[4000];
    unsigned done[DAMAGES] = { 0 };
    Faults faults;
    for (int i = 0; i < NCASES; i++) {
        Draft *t = calloc(1, sizeof *t);
        write_script(script, sizeof script, &CASES[i]);
        SgPage *page = page_of(t, script);
        cr_expect_not_null(page, "%s is not drawn", CASES[i].name);
        for (int what = 0; page && what < DAMAGES; what++)
            for (unsigned n = 0; n < 20; n++) {
                SgPage copy = *page;
                copy.item = SG_ARRAY(&t->arena, SgItem, page->nitems);
                memcpy(copy.item, page->item, page->nitems * sizeof *page->item);
                if (!damage(&t->arena, &copy, &CASES[i], (Damage)what, n)) break;
                check_page(t, &copy, &CASES[i], &faults);
                cr_expect_gt(faults.count, 0, "%s: %s (number %u) is not seen", CASES[i].name, DAMAGE_NAMES[what], n);
                done[what]++;
            }
        sg_arena_free(&t->arena);
        free(t);
    }
    for (int what = 0; what < DAMAGES; what++) cr_expect_geq(done[what], 4, "%s was tried only %u times", DAMAGE_NAMES[what], done[what]);
}

/* The library's one call draws the same figures, stepped or still: the light in both is the same. */
Test(geometry, demos_carry_their_heads)
{
    size_t n;
    unsigned figures = 0, legs = 0;
    char **list = test_list("../scripts-demo", ".sag", &n), path[300];
    for (size_t i = 0; i < n; i++) {
        size_t length;
        SgResult r;
        snprintf(path, sizeof path, "../scripts-demo/%s", list[i]);
        char *script = test_read(path, &length);
        /* The checker knows the lines of the finished print. */
        SgJob job = { .kind = SG_JOB_DRAW, .path = list[i], .script = script, .script_length = length, .every = true, .still = true, .style = "light" };
        cr_expect_eq(sg_compile(&job, &r), SG_DONE, "%s: %s", list[i], r.messages ? r.messages : "");
        for (uint32_t k = 0; k < r.nproducts; k++) {
            Faults faults = { .count = 0 };
            SvgDrawing d = svg_read(r.product[k].bytes, r.product[k].length);
            cr_expect(d.well_formed, "%s: %s is no sound SVG", list[i], r.product[k].figure);
            legs += figure_check_heads(&d, &faults);
            cr_expect_eq(faults.count, 0, "%s: %s:\n%s", list[i], r.product[k].figure, faults.text);
            svg_free(&d);
            figures++;
        }
        sg_result_free(&r);
        free(script);
        free(list[i]);
    }
    free(list);
    cr_expect_geq(figures, 5, "only %u demo figures", figures);
    cr_expect_geq(legs, 20, "only %u legs with heads", legs);
}
