/* The author's marks, tools and shapes, read off the items that would be written.
   in: small scripts. out: faults in words.
   never: takes a look's number from the style table: millimetres and degrees stand here as a teacher would measure them. */
#include "layout/layout.h"
#include <criterion/criterion.h>
#include <math.h>
#include <setjmp.h>
#include <stdio.h>
#include <string.h>

typedef struct { SgArena arena; jmp_buf out; SgCompile c; SgPage *page; } Draft;
static const double PT = 25.4 / 72;

static bool stages(Draft *t, const char *script)
{
    t->arena = (SgArena){ .out = &t->out };
    if (setjmp(t->out)) return false;
    t->c = (SgCompile){ .arena = &t->arena };
    sg_names_init(&t->c.names, &t->arena);
    t->c.source = SG_ARRAY(&t->arena, SgSource, 2);
    t->c.source[t->c.nsources++] = sg_text_source(&t->arena, sg_str("marks.sag"), sg_str(script));
    SgTokens raw = sg_tokens(&t->c, 0);
    SgTagged tagged = sg_words(&t->c, &raw);
    SgNode *tree = sg_tree(&t->c, &tagged);
    sg_messages_settle(&t->c, tagged.tops.v, tagged.tops.n);
    if (sg_errors(&t->c)) return false;
    const SgModel *m = sg_model(&t->c, tree);
    if (sg_errors(&t->c) || m->nfigures != 1) return false;
    SgSolved *solved = sg_solve(&t->c, m, &m->figure[0], NULL, 0);
    if (sg_errors(&t->c)) return false;
    SgScene *scene = sg_scene(&t->c, solved, &solved, 1);
    if (!scene || sg_errors(&t->c)) return false;
    t->page = sg_layout(&t->c, scene);
    return !sg_errors(&t->c);
}

/* The page of a figure with this body; a message is a failure. */
static const SgPage *draw(Draft *t, const char *body)
{
    static char script[4000];
    snprintf(script, sizeof script, "figure lamp_room {\n%s\n}\n", body);
    *t = (Draft){ .page = NULL };
    bool done = stages(t, script);
    SgBuf b = { .arena = &t->arena };
    if (!done || t->c.diags.n) { sg_messages_text(&t->c, &b); cr_assert(false, "%s\nsaid %.*s", script, (int)b.n, b.v); }
    return t->page;
}

/* What the first message says; "" when nothing is wrong. */
static const char *told(Draft *t, const char *body)
{
    static char script[4000], text[800];
    snprintf(script, sizeof script, "figure lamp_room {\n%s\n}\n", body);
    *t = (Draft){ .page = NULL };
    stages(t, script);
    text[0] = '\0';
    if (t->c.diags.n) snprintf(text, sizeof text, "%.*s", (int)t->c.diags.v[0].text.n, t->c.diags.v[0].text.s);
    sg_arena_free(&t->arena);
    return text;
}

static const SgItem *nth(const SgPage *p, SgRole role, SgItemShape shape, uint32_t k)
{
    for (uint32_t i = 0; i < p->nitems; i++)
        if (p->item[i].role == role && p->item[i].shape == shape && k-- == 0) return &p->item[i];
    return NULL;
}
static uint32_t count(const SgPage *p, SgRole role, SgItemShape shape)
{
    uint32_t n = 0;
    while (nth(p, role, shape, n)) n++;
    return n;
}
static const SgItem *words(const SgPage *p, const char *plain)
{
    for (uint32_t i = 0; i < p->nitems; i++)
        if (p->item[i].shape == SG_ITEM_WORDS && sg_str_is(p->item[i].words->plain, plain)) return &p->item[i];
    return NULL;
}
static double far(SgPoint a, SgPoint b) { return sqrt((a.x_mm - b.x_mm) * (a.x_mm - b.x_mm) + (a.y_mm - b.y_mm) * (a.y_mm - b.y_mm)); }
/* degrees counter-clockwise as seen on the page, whose y runs down */
static double bearing(SgPoint from, SgPoint to) { return sg_atan2_deg(from.y_mm - to.y_mm, to.x_mm - from.x_mm); }
static bool near(double a, double b) { return fabs(a - b) < 1e-6; }

#define MIRROR "mirror M concave focal 4 cm aperture 6 cm at 12 cm surface arc\n"
#define PLANE "mirror M plane length 7 cm at 7 cm\n"

Test(marks, protractor_and_ruler_measure_the_paper)
{
    Draft t;
    const SgPage *p = draw(&t, MIRROR "protractor at M.vertex");
    const SgItem *rim = nth(p, SG_ROLE_PROTRACTOR, SG_ITEM_ARC, 0);
    cr_assert(rim && near(rim->radius_mm, 50) && near(rim->sweep_deg, 180));
    const SgItem *dot = nth(p, SG_ROLE_POINT, SG_ITEM_DISC, 0);                       /* F, 4 cm before the vertex */
    cr_expect(dot && near(far(dot->xy[0], rim->xy[0]), 40) && near(dot->xy[0].y_mm, rim->xy[0].y_mm), "its centre is not the vertex");
    bool degree[181] = { false };
    for (uint32_t k = 0; k < count(p, SG_ROLE_PROTRACTOR, SG_ITEM_STROKE); k++) {
        const SgItem *s = nth(p, SG_ROLE_PROTRACTOR, SG_ITEM_STROKE, k);
        if (near(far(s->xy[0], s->xy[1]), 100)) continue;                             /* its straight side */
        double deg = fmod(bearing(rim->xy[0], s->xy[0]) - 90 + 360, 360);             /* 0 up the mirror, 90 along the axis */
        int whole = (int)floor(deg + 0.5);
        cr_assert(whole >= 0 && whole <= 180 && fabs(deg - whole) < 1e-6, "a stroke stands at %g", deg);
        cr_expect(near(far(rim->xy[0], s->xy[0]), 50) && fabs(bearing(rim->xy[0], s->xy[1]) - bearing(rim->xy[0], s->xy[0])) < 1e-6);
        double length = far(s->xy[0], s->xy[1]);
        cr_expect(near(length, whole % 10 == 0 ? 3.5 : whole % 5 == 0 ? 2.5 : 1.5), "stroke %d is %g long", whole, length);
        degree[whole] = true;
    }
    for (int i = 0; i <= 180; i++) cr_expect(degree[i], "no stroke at %d degrees", i);
    for (uint32_t k = 0; k < count(p, SG_ROLE_PROTRACTOR, SG_ITEM_WORDS); k++) {      /* each number within 5 degrees of what it says */
        const SgItem *w = nth(p, SG_ROLE_PROTRACTOR, SG_ITEM_WORDS, k);
        SgPoint middle = { w->xy[0].x_mm + w->words->width_mm / 2, w->xy[0].y_mm - w->words->ascent_mm / 2 };
        int said = 0;
        for (uint32_t i = 0; i < w->words->plain.n; i++) said = 10 * said + w->words->plain.s[i] - '0';
        cr_expect_lt(fabs(fabs(180 - fabs(bearing(rim->xy[0], middle))) - said), 5.5, "%d stands elsewhere", said);
    }
    cr_expect_eq(count(p, SG_ROLE_PROTRACTOR, SG_ITEM_WORDS), 17);
    sg_arena_free(&t.arena);

    static const struct { const char *body; double mm; } rulers[] = {
        { MIRROR "ruler from (2 cm, 0 cm) to M.vertex", 100 }, { MIRROR "scale 1:2\nruler from (2 cm, 0 cm) to M.vertex above", 50 },
        { MIRROR "ruler from (2 cm, 0 cm) to (2 cm, 3.1 cm)", 40 },
    };
    for (size_t r = 0; r < 3; r++) {
        p = draw(&t, rulers[r].body);
        uint32_t ticks = 0;
        SgPoint before = { 0, 0 };
        for (uint32_t k = 0; k < count(p, SG_ROLE_RULER, SG_ITEM_STROKE); k++) {
            const SgItem *s = nth(p, SG_ROLE_RULER, SG_ITEM_STROKE, k);
            if (s->nxy != 2) continue;
            cr_expect(ticks == 0 || near(far(before, s->xy[0]), 1), "ruler %zu: its millimetre is %g", r, far(before, s->xy[0]));
            before = s->xy[0];
            ticks++;
        }
        cr_expect_eq(ticks, (uint32_t)rulers[r].mm + 1, "ruler %zu has %u strokes", r, ticks);
        sg_arena_free(&t.arena);
    }
}

Test(marks, construction_of_a_plane_mirror)
{
    Draft t;
    const SgPage *p = draw(&t, PLANE "grid every 5 mm\naxis none\nobject o height 2 cm at (3 cm, -1 cm)\neye e at (3 cm, -3 cm)\n"
        "ray a from o.tip via M to e.pupil until e\nimage i of o by M\nproduce back a.out to i.tip\n"
        "normal n to M at a.strike\nangle from n to a.in ticks 2\nangle from n to a.out ticks 2 \"r\"\n"
        "line q from (7 cm, 1 cm) to o.tip ticks 1\nangle from M.face to q right\ndimension from i.foot to o.foot ticks 3");
    cr_expect_eq(count(p, SG_ROLE_AXIS, SG_ITEM_STROKE), 0, "an axis is drawn all the same");
    cr_expect_eq(p->item[0].role, SG_ROLE_GRID, "the grid is not behind everything");
    const SgItem *n = nth(p, SG_ROLE_NORMAL, SG_ITEM_STROKE, 0), *ray = nth(p, SG_ROLE_RAY, SG_ITEM_STROKE, 0);
    cr_assert(n && ray && ray->nxy == 3);
    SgPoint strike = ray->xy[1];
    cr_expect(near(n->xy[0].y_mm, strike.y_mm) && near(n->xy[1].y_mm, strike.y_mm), "the normal is not square to the mirror at the strike");
    cr_expect(far(n->xy[0], strike) >= 12 && far(n->xy[1], strike) >= 12);
    cr_expect(n->ndash == 2 && near(n->dash_mm[0], n->dash_mm[1]) && n->dash_mm[0] < 1.3, "a normal must not look like a produced line");
    const SgItem *back = nth(p, SG_ROLE_PRODUCED, SG_ITEM_STROKE, 0);
    cr_assert(back);
    cr_expect_eq(back->rgb, ray->rgb);
    cr_expect(near(far(back->xy[0], strike), 0) && fabs(fabs(bearing(strike, ray->xy[2]) - bearing(strike, back->xy[1])) - 180) < 1e-6, "not its own line");
    cr_expect(near(back->dash_mm[0], 2 * back->dash_mm[1]));
    const SgItem *in = nth(p, SG_ROLE_ANGLE, SG_ITEM_ARC, 0), *out = nth(p, SG_ROLE_ANGLE, SG_ITEM_ARC, 1);
    cr_assert(in && out);
    cr_expect(near(fabs(in->sweep_deg), fabs(out->sweep_deg)) && near(in->radius_mm, out->radius_mm), "i and r are drawn unequal");
    cr_expect_eq(count(p, SG_ROLE_ANGLE, SG_ITEM_STROKE), 2 + 2 + 1, "ticks of two angles, and a square");
    const SgItem *square = NULL;
    for (uint32_t k = 0; k < 5; k++) if (nth(p, SG_ROLE_ANGLE, SG_ITEM_STROKE, k)->nxy == 3) square = nth(p, SG_ROLE_ANGLE, SG_ITEM_STROKE, k);
    cr_assert(square);
    cr_expect(near(far(square->xy[0], square->xy[1]), 2.2) && near(far(square->xy[1], square->xy[2]), 2.2) && near(far(square->xy[0], square->xy[2]), 2.2 * sqrt(2)));
    cr_expect_lt(square->xy[1].x_mm, strike.x_mm, "the square stands behind the mirror");
    cr_expect(words(p, "r") && !words(p, "90\xC2\xB0"));
    cr_expect(!words(p, "8\xE2\x80\x89""cm"), "a length with ticks has its number too");
    const SgItem *q = nth(p, SG_ROLE_LINE, SG_ITEM_STROKE, 0), *tick = nth(p, SG_ROLE_LINE, SG_ITEM_STROKE, 1);
    cr_assert(q && tick);
    cr_expect(q->ndash == 2 && near(2 * q->dash_mm[0], q->dash_mm[1]), "a construction line is dotted");
    cr_expect(near(tick->xy[0].x_mm, (q->xy[0].x_mm + q->xy[1].x_mm) / 2) && near(tick->xy[0].x_mm, tick->xy[1].x_mm));
    double low = 1e9, second = 1e9;                                                  /* upright lines of the grid */
    for (uint32_t k = 0; k < count(p, SG_ROLE_GRID, SG_ITEM_STROKE); k++) {
        const SgItem *g = nth(p, SG_ROLE_GRID, SG_ITEM_STROKE, k);
        cr_expect(g->line_mm <= 0.5 * PT + 1e-9);
        if (!near(g->xy[0].x_mm, g->xy[1].x_mm)) continue;
        if (g->xy[0].x_mm < low) { second = low; low = g->xy[0].x_mm; } else if (g->xy[0].x_mm < second) second = g->xy[0].x_mm;
    }
    cr_expect(near(second - low, 5), "the grid's squares are %g wide", second - low);
    cr_expect(near(fmod(strike.x_mm - low, 5), 0), "the grid is not counted from where places are");
    sg_arena_free(&t.arena);

    p = draw(&t, "grid every 1 cm\nlens L radii 3 cm, 3 cm thickness 1 cm aperture 3 cm at 8 cm");
    cr_expect_eq(p->item[0].role, SG_ROLE_GRID, "the grid covers a tint");
    sg_arena_free(&t.arena);
    p = draw(&t, "mirror M convex focal 6 cm aperture 6 cm at 12 cm surface arc\nobject o height 12 mm at 4 cm\nray a from o.tip parallel\nproduce back a.out to M.focus");
    ray = nth(p, SG_ROLE_RAY, SG_ITEM_STROKE, 0);
    back = nth(p, SG_ROLE_PRODUCED, SG_ITEM_STROKE, 0);
    cr_assert(ray && back && ray->nxy == 4);                                          /* its two cuts with the arc lie apart */
    bool leaves = false;
    for (uint32_t k = 0; k < count(p, SG_ROLE_PRODUCED, SG_ITEM_STROKE); k++) leaves = leaves || near(far(nth(p, SG_ROLE_PRODUCED, SG_ITEM_STROKE, k)->xy[0], ray->xy[2]), 0);
    cr_expect(leaves && !near(far(ray->xy[1], ray->xy[2]), 0), "a produced line does not begin where the light leaves the arc");
    sg_arena_free(&t.arena);

    static const struct { const char *body, *text; } wrong[] = {
        { PLANE "object o height 2 cm at 2 cm\nray a from o.tip parallel\nproduce back a.in to (0 cm, 1 cm)", "lies 10.00 mm off the line" },
        { PLANE "object o height 2 cm at 2 cm\nray a from o.tip parallel\nproduce on a.in to (1 cm, 2 cm)", "write `back` in place of `on`" },
        { PLANE "object o height 2 cm at 2 cm\nray a from o.tip toward M.vertex\nangle from axis to a.in right", "not a right one" },
        { PLANE "line from (1 cm, 1 cm) to (2 cm, 1 cm) ticks 4", "takes 1, 2 or 3" },
        { PLANE "scale along 1:2 up 1:1\nprotractor at M.vertex", "not the real one" },
        { PLANE "scale along 1:2 up 1:1\nnormal to M", "not the real one" },
        { MIRROR "normal to M at M.focus", "lies 40.00 mm off the surface" },
        { PLANE "grid every 0.2 mm", "between 1 mm and 10 cm" },
        { PLANE "axis upright", "needs `at`" },
        { PLANE "object o height 1 cm at 2 cm shape boat", "takes one of the words arrow, candle" },
        { PLANE "circle at M.vertex", "needs `radius` or `through`" },
        { PLANE "line from M to M.vertex", "the same point" },
    };
    for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++) {
        const char *text = told(&t, wrong[i].body);
        cr_expect(strstr(text, wrong[i].text), "%s\nsaid: %s\nwanted: %s", wrong[i].body, text, wrong[i].text);
    }
}

/* Rays to an eye from both ends of a thing: each is produced to its own end of the image, 7 cm - 3 cm behind the mirror. */
Test(marks, both_ends_are_seen_in_the_image)
{
    Draft t;
    const SgPage *p = draw(&t, PLANE "object key height 2 cm at 3 cm\nimage seen of key by M\neye E at (1 cm, 3 cm)\n"
        "ray a from key.tip via M to E\nray b from key.foot via M to E\nray c from (3 cm, 1 cm) via M to E\nray d from (4 cm, 1 cm) via M to E");
    const SgItem *mirror = nth(p, SG_ROLE_RAY, SG_ITEM_STROKE, 0);
    cr_assert(mirror && count(p, SG_ROLE_PRODUCED, SG_ITEM_STROKE) == 3, "the ray from beside the key is no light of it");
    double tip = mirror->xy[0].y_mm, x = mirror->xy[1].x_mm + 40, low = 0;
    for (uint32_t k = 0; k < 3; k++) {
        const SgItem *line = nth(p, SG_ROLE_PRODUCED, SG_ITEM_STROKE, k);
        SgPoint end = line->xy[line->nxy - 1];
        cr_expect(near(end.x_mm, x) && (near(end.y_mm, tip) || near(end.y_mm, tip + 10) || near(end.y_mm, tip + 20)), "produced to (%g, %g)", end.x_mm, end.y_mm);
        low += end.y_mm - tip;
    }
    cr_expect(near(low, 30), "two are produced to one place");
    sg_arena_free(&t.arena);
}

Test(marks, letters_axes_circles_and_nudges)
{
    Draft t;
    const SgPage *p = draw(&t, MIRROR "axis from 1 cm to 14 cm named \"through P\"\naxis upright at 3 cm from -2 cm to 2 cm\n");
    const SgItem *axis = nth(p, SG_ROLE_AXIS, SG_ITEM_STROKE, 0), *up = nth(p, SG_ROLE_CROSS_AXIS, SG_ITEM_STROKE, 0);
    cr_assert(axis && up && words(p, "through P") && words(p, "F") && !words(p, "C"));
    cr_expect(near(far(axis->xy[0], axis->xy[1]), 130) && near(far(up->xy[0], up->xy[1]), 40) && near(up->xy[0].x_mm, up->xy[1].x_mm));
    sg_arena_free(&t.arena);
    p = draw(&t, "mirror M concave focal 4 cm aperture 6 cm at 12 cm focus_named \"F_1\" centre_named \"K\" vertex_named \"P\" unnamed");
    cr_expect(words(p, "F\xE2\x82\x81") && words(p, "K") && words(p, "P") && !words(p, "F"));
    sg_arena_free(&t.arena);
    p = draw(&t, "lens L converging focal 3 cm at 9 cm focus_named \"\", \"B\" twice_named \"\", \"\" centre_named \"O\"\nobject o height 1 cm at 1 cm");
    cr_expect(words(p, "B") && words(p, "O") && !words(p, "F") && !words(p, "2F") && count(p, SG_ROLE_POINT, SG_ITEM_DISC) == 1);
    sg_arena_free(&t.arena);
    p = draw(&t, "lens L converging focal 3 cm at 9 cm unmarked\nobject o height 1 cm at 1 cm");
    cr_expect_eq(count(p, SG_ROLE_POINT, SG_ITEM_DISC) + count(p, SG_ROLE_TICK, SG_ITEM_STROKE), 0);
    sg_arena_free(&t.arena);

    p = draw(&t, MIRROR "circle at M.centre through M.vertex\narc at M.centre from (5 cm, 0 cm) to (4 cm, 3 cm) arrow\nline from M.centre to (8 cm, 0 cm) arrow\nbreak at 1 cm");
    const SgItem *ring = nth(p, SG_ROLE_CIRCLE, SG_ITEM_ARC, 0), *arc = nth(p, SG_ROLE_CIRCLE, SG_ITEM_ARC, 1), *head = nth(p, SG_ROLE_CIRCLE, SG_ITEM_FILL, 0);
    cr_assert(ring && arc && head);
    cr_expect(near(ring->radius_mm, 80) && near(ring->sweep_deg, 360) && near(arc->radius_mm, 10) && arc->sweep_deg > 75 && arc->sweep_deg < 90);
    cr_expect(near(far(head->xy[0], arc->xy[0]), 10) && fabs(bearing(arc->xy[0], head->xy[0]) - 90) < 1e-6, "the arc's head is not at its end");
    const SgItem *radius = nth(p, SG_ROLE_LINE, SG_ITEM_STROKE, 0), *tip = nth(p, SG_ROLE_LINE, SG_ITEM_FILL, 0);
    cr_expect(radius && radius->ndash == 0 && tip && near(far(tip->xy[0], radius->xy[0]), 40));
    cr_expect_eq(count(p, SG_ROLE_BREAK, SG_ITEM_STROKE), 2);
    sg_arena_free(&t.arena);

    static const struct { const char *word; int x, y; } sides[] = { { "above", 0, -1 }, { "below", 0, 1 }, { "left", -1, 0 }, { "right", 1, 0 } };
    for (int i = 0; i < 4; i++) {
        char body[300];
        SgPoint middle[2], at = { 0, 0 };
        for (int nudged = 0; nudged < 2; nudged++) {
            snprintf(body, sizeof body, "frame 100 mm by 80 mm\npoint p at (3 cm, 2 cm) unnamed\nlabel \"wick\" at p %s%s", sides[i].word, nudged ? " shift (3 mm, -2 mm)" : "");
            p = draw(&t, body);
            const SgItem *w = words(p, "wick"), *dot = nth(p, SG_ROLE_POINT, SG_ITEM_DISC, 0);
            cr_assert(w && dot);
            at = dot->xy[0];
            middle[nudged] = (SgPoint){ w->xy[0].x_mm + w->words->width_mm / 2, w->xy[0].y_mm + (w->words->descent_mm - w->words->ascent_mm) / 2 };
            sg_arena_free(&t.arena);
        }
        double dx = middle[0].x_mm - at.x_mm, dy = middle[0].y_mm - at.y_mm;
        cr_expect(sides[i].x ? dx * sides[i].x > 2 && fabs(dy) < 1 : dy * sides[i].y > 1 && fabs(dx) < 1, "%s: it stands at (%g, %g)", sides[i].word, dx, dy);
        cr_expect(near(middle[1].x_mm - middle[0].x_mm, 3) && near(middle[1].y_mm - middle[0].y_mm, 2), "%s: the nudge is another", sides[i].word);
    }
}

/* The ink of a mark's strokes and rings, page millimetres. */
static SgBox ink(const SgPage *p, SgRole role)
{
    SgBox b = sg_box_empty();
    for (uint32_t i = 0; i < p->nitems; i++) {
        const SgItem *it = &p->item[i];
        if (it->role != role || it->shape == SG_ITEM_WORDS) continue;
        double half = it->line_mm / 2 + (it->shape == SG_ITEM_ARC ? it->radius_mm : 0);
        for (uint32_t k = 0; k < it->nxy; k++)
            for (int s = -1; s <= 1; s += 2) b = sg_box_add(b, sg_pt(it->xy[k].x_mm + s * half, it->xy[k].y_mm + s * half));
    }
    return b;
}

Test(marks, shapes_are_as_tall_as_they_say)
{
    static const char *const shape[] = { "candle", "bulb", "tree", "person", "bottle", "key", "fish", "flower", "letter" };
    static const struct { const char *element; SgRole role; double m; bool reversed; } seen[] = {
        { "lens E converging focal 3 cm aperture 6 cm at 9 cm", SG_ROLE_REAL_IMAGE, -0.6, false },            /* u 8 cm: m = -f/(u - f) */
        { "lens E diverging focal 3 cm aperture 6 cm at 9 cm", SG_ROLE_VIRTUAL_IMAGE, 3.0 / 11, false },      /* m = f/(u + f) */
        { "mirror E concave focal 3 cm aperture 6 cm at 9 cm", SG_ROLE_REAL_IMAGE, -0.6, false },
        { "mirror E convex focal 3 cm aperture 6 cm at 9 cm", SG_ROLE_VIRTUAL_IMAGE, 3.0 / 11, true },
        { "mirror E plane length 6 cm at 9 cm", SG_ROLE_VIRTUAL_IMAGE, 1, true },
    };
    for (size_t i = 0; i < sizeof shape / sizeof *shape; i++)
        for (size_t k = 0; k < sizeof seen / sizeof *seen; k++) {
            Draft t;
            char body[400];
            snprintf(body, sizeof body, "%s\nobject o height 2.5 cm at 8 cm before E shape %s unnamed\nimage i of o by E unnamed\npoint p at (9 cm, 0 cm) unnamed", seen[k].element, shape[i]);
            const SgPage *p = draw(&t, body);
            SgBox o = ink(p, SG_ROLE_OBJECT), im = ink(p, seen[k].role);
            double axis = 0, m = seen[k].m;
            for (uint32_t j = 0; j < p->nitems; j++) if (p->item[j].shape == SG_ITEM_DISC && p->item[j].role == SG_ROLE_POINT) axis = p->item[j].xy[0].y_mm;
            cr_expect(fabs(o.y1_mm - axis) < 1e-6 && fabs(axis - o.y0_mm - 25) < 1e-6, "%s: from %g to %g above the axis", shape[i], axis - o.y1_mm, axis - o.y0_mm);
            double foot = m < 0 ? im.y0_mm : im.y1_mm, tip = m < 0 ? im.y1_mm : im.y0_mm;
            cr_expect(fabs(foot - axis) < 1e-6 && fabs(axis - tip - 25 * m) < 1e-6, "%s by %s: its image is %g tall", shape[i], seen[k].element, axis - tip);
            for (uint32_t j = 0; j < p->nitems; j++) {
                const SgItem *it = &p->item[j];
                if (it->role != SG_ROLE_OBJECT && it->role != seen[k].role) continue;
                cr_expect(near(it->line_mm, 1.0 * PT), "%s: another line width", shape[i]);
                bool dashed = it->ndash == 2 && near(it->dash_mm[0], 2 * it->dash_mm[1]);
                double length = 0;
                for (uint32_t q = 1; q < it->nxy; q++) length += far(it->xy[q - 1], it->xy[q]);
                if (it->role == SG_ROLE_VIRTUAL_IMAGE && length > 3) cr_expect(dashed, "%s: a virtual image is not dashed", shape[i]);
                if (it->role != SG_ROLE_VIRTUAL_IMAGE) cr_expect_eq(it->ndash, 0);
            }
            if (!strcmp(shape[i], "letter")) {                                       /* its arms point to one side */
                double right = o.x1_mm - nth(p, SG_ROLE_OBJECT, SG_ITEM_STROKE, 0)->xy[0].x_mm;
                SgPoint stem = nth(p, seen[k].role, SG_ITEM_STROKE, 0)->xy[0];
                bool to_right = im.x1_mm - stem.x_mm > stem.x_mm - im.x0_mm;
                cr_expect(right > 5 && to_right == (m > 0 && !seen[k].reversed), "%s: left and right", seen[k].element);
            }
            sg_arena_free(&t.arena);
        }
}
