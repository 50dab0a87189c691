/* Scenes made by hand for the tests of the layout: what the solver and the scene stage would hand over, worked out here with
   the mirror and lens equation, linear in height and slope. In: a compile with an arena. Out: scenes. Never calls the optics. */
#ifndef TEST_LAYOUT_SCENES_H
#define TEST_LAYOUT_SCENES_H
#include "layout/layout.h"
#include "messages/messages.h"
#include <math.h>

typedef struct {
    SgCompile *c;
    SG_VEC(SgMark) mark;
    SG_VEC(SgSceneStep) step;
    uint32_t lights;
} Make;

static SgPoint *points(Make *k, uint32_t n, const SgPoint *from)
{
    SgPoint *to = SG_ARRAY(k->c->arena, SgPoint, n);
    for (uint32_t i = 0; i < n; i++) to[i] = from[i];
    return to;
}

static SgMark *mark(Make *k, SgRole role, int step, const char *words, uint32_t n, const SgPoint *xy)
{
    SgMark m = { .role = role, .step = step, .words = sg_str(words), .name = sg_str(words), .xy = points(k, n, xy), .nxy = n,
                 .direction = { 1, 0 } };
    m.at.start = k->mark.n * 10;       /* a place of its own, or messages would count as one */
    m.at.end = m.at.start + 5;
    SG_PUSH(k->c->arena, &k->mark, m);
    return &k->mark.v[k->mark.n - 1];
}
#define AT(...) (sizeof((SgPoint[]){ __VA_ARGS__ }) / sizeof(SgPoint)), (SgPoint[]){ __VA_ARGS__ }
#define P(x, y) ((SgPoint){ (x), (y) })

static void say_step(Make *k, const char *caption)
{
    SgSceneStep s = { .caption = sg_str(caption), .id = sg_format(k->c->arena, "s%u", k->step.n + 1) };
    SG_PUSH(k->c->arena, &k->step, s);
}

/* Where a line y = y0 + m (V - x) meets the arc of a mirror with vertex V: found by going to and fro. */
static SgPoint on_arc(double v, double r, double y0, double m)
{
    double x = v;
    for (int i = 0; i < 60; i++) {
        double y = y0 + m * (v - x), sag = fabs(r) - sqrt(r * r - y * y);
        x = v - (r > 0 ? sag : -sag);
    }
    return P(x, y0 + m * (v - x));
}

/* A ray that strikes the plane x = v at height y. Heights over s, the distance before the mirror: y + m_in s, then y + m_out s with
   m_out = -m_in - y/f. Ends at x1. f 0: a plane mirror. */
static SgMark *mirror_ray(Make *k, int step, SgPoint from, double v, double y, double f, double x1, bool curved)
{
    double in = (from.y_mm - y) / (v - from.x_mm), out = -in - (fabs(f) > 0 ? y / f : 0);
    SgPoint hit = curved ? on_arc(v, 2 * f, y, in) : P(v, y);
    SgMark *m = mark(k, SG_ROLE_RAY, step, "", AT(from, hit, P(x1, y + out * (v - x1))));
    m->light = ++k->lights;
    m->retraced = fabs(in - out) < 1e-12;
    return m;
}

/* A ray that strikes the lens at x = v at height y: slope m, then m - y/f. */
static SgMark *lens_ray(Make *k, int step, SgPoint from, double v, double y, double f, double x1)
{
    double m_in = (y - from.y_mm) / (v - from.x_mm), out = m_in - y / f;
    SgMark *m = mark(k, SG_ROLE_RAY, step, "", AT(from, P(v, y), P(x1, y + out * (x1 - v))));
    m->light = ++k->lights;
    return m;
}

static void produced(Make *k, int step, SgPoint from, SgPoint to, uint32_t light, double after_mm)
{
    SgMark *m = mark(k, SG_ROLE_PRODUCED, step, "", AT(from, to));
    m->light = light;
    m->light_from_mm = after_mm;
}

static void produce_last(Make *k, SgPoint to)          /* back from the last ray's strike */
{
    const SgMark *ray = &k->mark.v[k->mark.n - 1];
    produced(k, ray->step, ray->xy[1], to, ray->light, hypot(ray->xy[1].x_mm - ray->xy[0].x_mm, ray->xy[1].y_mm - ray->xy[0].y_mm));
}

static void mirror(Make *k, double v, double r, double half, bool curved)
{
    SgMark *m = mark(k, SG_ROLE_MIRROR, 0, "", AT(P(v, 0)));
    m->radius_mm = r;
    m->half_mm = half;
    m->curved = curved;
}

static void lens(Make *k, double v, double half, bool converging, const char *name)
{
    SgMark *m = mark(k, SG_ROLE_LENS, 0, name, AT(P(v, 0)));
    m->half_mm = half;
    m->converging = converging;
}

static void angle(Make *k, int step, SgPoint at, double from_deg, double sweep_deg, const char *words, uint32_t equal)
{
    SgMark *m = mark(k, SG_ROLE_ANGLE, step, words, AT(at));
    m->from_deg = from_deg;
    m->sweep_deg = sweep_deg;
    m->equal = equal;
}

static void axis_and_dots(Make *k, double low, double high, double f1, const char *n1, double f2, const char *n2)
{
    mark(k, SG_ROLE_AXIS, 0, "principal axis", AT(P(low, 0), P(high, 0)));
    mark(k, SG_ROLE_POINT, 0, n1, AT(P(f1, 0)));
    mark(k, SG_ROLE_POINT, 0, n2, AT(P(f2, 0)));
}

static void concave_far(Make *k)                       /* f 40, u 120, h 10: v 60, m -1/2 */
{
    double tilt = atan2(10, 120) * 57.295779513082321;
    axis_and_dots(k, 0, 160, 120, "F", 80, "C");
    mirror(k, 160, 80, 35, true);
    mark(k, SG_ROLE_OBJECT, 0, "candle", AT(P(40, 0), P(40, 10)));
    say_step(k, "As far beyond F as F is from the mirror: the centre of curvature.");
    mark(k, SG_ROLE_DIMENSION, 1, "*f* = 4 cm", AT(P(160, 0), P(120, 0)));
    mark(k, SG_ROLE_DIMENSION, 1, "4 cm", AT(P(120, 0), P(80, 0)));
    say_step(k, "In through the centre of curvature, and back the way it came.");
    mirror_ray(k, 2, P(40, 10), 160, -20, 40, 84, true);
    say_step(k, "In parallel to the axis, out through the focal point.");
    mirror_ray(k, 3, P(40, 10), 160, 10, 40, 84, true);
    say_step(k, "To the vertex. It leaves at the same angle on the other side of the axis.");
    mirror_ray(k, 4, P(40, 10), 160, 0, 40, 84, true);
    angle(k, 4, P(160, 0), 180 - tilt, tilt, "5°", 1);
    angle(k, 4, P(160, 0), 180, tilt, "5°", 1);
    say_step(k, "Where they meet is the tip of the image: real, inverted, reduced.");
    mark(k, SG_ROLE_REAL_IMAGE, 5, "flame", AT(P(100, 0), P(100, -5)));
}

static void concave_near(Make *k)                      /* f 40, u 20, h 10: v -40, m 2 */
{
    SgPoint tip = P(140, 10), image = P(200, 20);
    axis_and_dots(k, 50, 200, 120, "F", 80, "C");
    mirror(k, 160, 80, 30, false);
    mark(k, SG_ROLE_OBJECT, 0, "lamp", AT(P(140, 0), tip));
    say_step(k, "Parallel to the axis, out through F, and produced behind the mirror.");
    mirror_ray(k, 1, tip, 160, 10, 40, 70, false);
    produce_last(k, image);
    say_step(k, "On the line through C it comes back on itself.");
    mirror_ray(k, 2, tip, 160, 10 * 80 / 60.0, 40, 70, false);
    produce_last(k, image);
    say_step(k, "To the vertex, out at the same angle.");
    mirror_ray(k, 3, tip, 160, 0, 40, 70, false);
    produce_last(k, image);
    say_step(k, "The image is virtual, upright and enlarged.");
    mark(k, SG_ROLE_VIRTUAL_IMAGE, 4, "image", AT(P(200, 0), image));
    mark(k, SG_ROLE_DIMENSION, 4, "*u* = 2 cm", AT(P(140, 0), P(160, 0)));
    mark(k, SG_ROLE_DIMENSION, 4, "*v* = 4 cm", AT(P(160, 0), P(200, 0)));
    mark(k, SG_ROLE_DIMENSION, 4, "2 cm", AT(P(200, 0), image));
}

static void plane_mirror(Make *k)                      /* u 50, h 20: image 50 behind */
{
    SgPoint tip = P(30, 20), image = P(130, 20);
    mirror(k, 80, 0, 25, false);
    mark(k, SG_ROLE_OBJECT, 0, "signal", AT(P(30, 0), tip));
    say_step(k, "Two rays from the tip to the eye; each leaves as steeply as it comes.");
    mirror_ray(k, 1, tip, 80, 4, 0, 38, false);
    produce_last(k, image);
    mirror_ray(k, 1, tip, 80, -2, 0, 38, false);
    produce_last(k, image);
    say_step(k, "They seem to come from a point as far behind the mirror.");
    mark(k, SG_ROLE_VIRTUAL_IMAGE, 2, "image", AT(P(130, 0), image));
    mark(k, SG_ROLE_DIMENSION, 2, "5 cm", AT(P(30, 0), P(80, 0)));
    mark(k, SG_ROLE_DIMENSION, 2, "5 cm", AT(P(80, 0), P(130, 0)));
}

static void converging_far(Make *k)                    /* f 40, u 60, h 15: v 120, m -2 */
{
    SgPoint tip = P(20, 15);
    axis_and_dots(k, 0, 220, 40, "F", 120, "F′");
    mark(k, SG_ROLE_TICK, 0, "2F′", AT(P(160, 0)));
    lens(k, 80, 35, true, "L");
    mark(k, SG_ROLE_OBJECT, 0, "lamp", AT(P(20, 0), tip));
    say_step(k, "Parallel in, through F′ out.");
    lens_ray(k, 1, tip, 80, 15, 40, 212);
    say_step(k, "Through the centre, straight on.");
    lens_ray(k, 2, tip, 80, 0, 40, 212);
    say_step(k, "Through F in, parallel out.");
    lens_ray(k, 3, tip, 80, -30, 40, 212);
    say_step(k, "The image is real, inverted and twice as tall.");
    mark(k, SG_ROLE_REAL_IMAGE, 4, "image", AT(P(200, 0), P(200, -30)));
    mark(k, SG_ROLE_DIMENSION, 4, "*f*", AT(P(80, 0), P(120, 0)));
    mark(k, SG_ROLE_DIMENSION, 4, "*u* = 6 cm", AT(P(20, 0), P(80, 0)));
    mark(k, SG_ROLE_DIMENSION, 4, "*v* = 12 cm", AT(P(80, 0), P(200, 0)));
    mark(k, SG_ROLE_DIMENSION, 4, "1.5 cm", AT(P(20, 0), tip));
    mark(k, SG_ROLE_DIMENSION, 4, "3 cm", AT(P(200, 0), P(200, -30)));
}

static void diverging_lens(Make *k)                    /* f -60, u 120, h 24: v -40, m 1/3 */
{
    SgPoint tip = P(20, 24), image = P(100, 8);
    axis_and_dots(k, 0, 210, 80, "F′", 200, "F");
    lens(k, 140, 35, false, "L");
    mark(k, SG_ROLE_OBJECT, 0, "lamp", AT(P(20, 0), tip));
    say_step(k, "Parallel in, out as if from F′.");
    lens_ray(k, 1, tip, 140, 24, -60, 195);
    produce_last(k, P(80, 0));
    say_step(k, "Through the centre, straight on.");
    lens_ray(k, 2, tip, 140, 0, -60, 195);
    say_step(k, "Aimed at F, out parallel.");
    lens_ray(k, 3, tip, 140, 8, -60, 195);
    produced(k, 3, P(140, 8), P(200, 0), 3, 121);
    produced(k, 3, P(140, 8), image, 3, 121);
    say_step(k, "The image is virtual, upright and a third as tall.");
    mark(k, SG_ROLE_VIRTUAL_IMAGE, 4, "image", AT(P(100, 0), image));
    mark(k, SG_ROLE_DIMENSION, 4, "8 mm", AT(P(100, 0), image));
    mark(k, SG_ROLE_DIMENSION, 4, "4 cm", AT(P(100, 0), P(140, 0)));
}

static void convex_mirror(Make *k)                     /* f -40, u 120, h 20: v -30, m 1/4 */
{
    SgPoint tip = P(20, 20), image = P(170, 5);
    double tilt = atan2(20, 120) * 57.295779513082321;
    axis_and_dots(k, 0, 220, 180, "F", 220, "C");
    mirror(k, 140, -80, 30, true);
    mark(k, SG_ROLE_OBJECT, 0, "buoy", AT(P(20, 0), tip));
    mark(k, SG_ROLE_LABEL, 0, "P", AT(P(140, 0)));
    say_step(k, "Parallel in, out as if from F.");
    mirror_ray(k, 1, tip, 140, 20, -40, 60, true);
    produce_last(k, P(180, 0));
    say_step(k, "Aimed at C, back on itself.");
    mirror_ray(k, 2, tip, 140, 20 * 80 / 200.0, -40, 60, true);
    produce_last(k, P(220, 0));
    say_step(k, "To the vertex.");
    mirror_ray(k, 3, tip, 140, 0, -40, 60, true);
    produce_last(k, image);
    angle(k, 3, P(140, 0), 180 - tilt, tilt, "*i*", 1);
    angle(k, 3, P(140, 0), 180, tilt, "*r*", 1);
    say_step(k, "The image is virtual, upright and reduced.");
    mark(k, SG_ROLE_VIRTUAL_IMAGE, 4, "image", AT(P(170, 0), image));
    mark(k, SG_ROLE_DIMENSION, 4, "*u* = 12 cm", AT(P(20, 0), P(140, 0)));
    mark(k, SG_ROLE_DIMENSION, 4, "*v* = −3 cm", AT(P(140, 0), P(170, 0)));
}

static void at_infinity(Make *k)                       /* f 50, u 50, h 15: parallel out */
{
    SgPoint tip = P(30, 15);
    axis_and_dots(k, 0, 180, 30, "F", 130, "F′");
    lens(k, 80, 30, true, "lens");
    mark(k, SG_ROLE_OBJECT, 0, "lamp", AT(P(30, 0), tip));
    say_step(k, "Two rays and their sister leave side by side: the image is at infinity.");
    lens_ray(k, 1, tip, 80, 15, 50, 175);
    lens_ray(k, 1, tip, 80, 0, 50, 175);
    mark(k, SG_ROLE_NOTE, 1, "image at infinity", AT(P(140, 25)));
    angle(k, 1, P(80, 0), 0, -16.69924423399362, "17°", 0);
    mark(k, SG_ROLE_AID, 1, "", AT(P(80, 30), P(80, 40)));
}

typedef struct { const char *name; void (*make)(Make *); double frame_w_mm, frame_h_mm; } SceneCase;
static const SceneCase scene_cases[] = {
    { "concave mirror, object beyond C", concave_far, 0, 0 },
    { "concave mirror, object inside F", concave_near, 0, 0 },
    { "plane mirror", plane_mirror, 0, 0 },
    { "converging lens, real image", converging_far, 0, 0 },
    { "diverging lens", diverging_lens, 0, 0 },
    { "convex mirror", convex_mirror, 0, 0 },
    { "converging lens, image at infinity", at_infinity, 0, 0 },
    { "the author's frame", converging_far, 190, 120 },
};
enum { SCENE_CASES = sizeof scene_cases / sizeof scene_cases[0] };

static SgScene scene_of(SgCompile *c, const SceneCase *which)
{
    Make k = { .c = c };
    which->make(&k);
    return (SgScene){ .id = SG_LIT("fig"), .enlarged = 1, .title = sg_str(which->name), .describe = SG_LIT("made by hand"),
                      .mark = k.mark.v, .nmarks = k.mark.n, .step = k.step.v, .nsteps = k.step.n,
                      .frame_w_mm = which->frame_w_mm, .frame_h_mm = which->frame_h_mm };
}
#endif
