/* Laws of paraxial optics as oracles, on seeded random rows of up to six thin surfaces on one axis, in media: rays of a point
   meet in its image; parallel light meets in the focal point of the system; light goes back the way it came; a thick lens is
   its two faces; magnification is the ratio of heights; n y m of two rays keeps its Lagrange invariant. */
#include <criterion/criterion.h>
#include <criterion/new/assert.h>
#include <math.h>
#include "optics/optics.h"

typedef struct { SgSurface s[6]; const SgSurface *at[6]; double sense[6]; uint32_t n; } Row;

static double dice(uint64_t *state, double from, double to)
{
    *state = *state * 6364136223846793005u + 1442695040888963407u;
    return from + (to - from) * (double)(*state >> 11) / 9007199254740992.0;
}

/* Lenses and boundaries from left to right; the index behind one is the index before the next. */
static Row random_row(uint64_t *state)
{
    Row r = { .n = 1 + (uint32_t)dice(state, 0, 5.999) };
    double x = dice(state, 0, 50), index = 1;
    for (uint32_t i = 0; i < r.n; i++) {
        double behind = dice(state, 0, 1) < 0.5 ? index : dice(state, 1, 2), f = dice(state, 20, 200) * (dice(state, 0, 1) < 0.3 ? -1 : 1);
        r.s[i] = (SgSurface){ .profile = SG_PROFILE_PLANE, .acts = SG_ACTS_REFRACT, .vertex = sg_pt(x, 0), .exit = sg_pt(x, 0), .along = sg_pt(1, 0),
            .power_per_mm = 1 / f, .half_aperture_mm = 1e9, .n_before = index, .n_after = behind };
        index = behind;
        r.sense[i] = 1;
        x += dice(state, 5, 80);
    }
    return r;
}
static void link_row(Row *r) { for (uint32_t i = 0; i < r->n; i++) r->at[i] = &r->s[i]; }

static SgRayLine follow(const Row *r, SgRayLine ray)
{
    for (uint32_t i = 0; i < r->n; i++) {
        double t;
        SgHit h = { 0 };
        cr_assert(sg_paraxial_meet(&r->s[i], ray, &t, &h));
        ray = sg_paraxial_leave(&r->s[i], ray, &h);
    }
    return ray;
}
static double height_at(SgRayLine l, double x_mm) { return l.start.y_mm + (x_mm - l.start.x_mm) * l.direction.y_mm / l.direction.x_mm; }
static double slope(SgRayLine l) { return l.direction.y_mm / l.direction.x_mm; }
static SgRayLine ray_from(double x, double y, double m) { return (SgRayLine){ sg_pt(x, y), sg_pt_unit(sg_pt(1, m)) }; }

Test(optics, rows_of_surfaces_obey_the_laws)
{
    uint64_t state = 20;
    for (int k = 0; k < 2000; k++) {
        Row r = random_row(&state);
        link_row(&r);
        SgPoint q = sg_pt(-dice(&state, 20, 300), dice(&state, -20, 20));
        SgHomogeneous image = sg_homogeneous(q), foot = sg_homogeneous(sg_pt(q.x_mm, 0));
        double m = 1;
        for (uint32_t i = 0; i < r.n; i++) {
            m *= sg_conjugate(&r.s[i], 1, foot).magnification;
            image = sg_image_point(&r.s[i], 1, image);
            foot = sg_image_point(&r.s[i], 1, foot);
        }
        SgRayLine a = follow(&r, ray_from(q.x_mm, q.y_mm, 0.05)), b = follow(&r, ray_from(q.x_mm, q.y_mm, -0.11));
        double size = fabs(image.x_mm) + fabs(image.y_mm) + 100;
        if (image.w == 1 && size < 1e5) {
            cr_expect(fabs(height_at(a, image.x_mm) - image.y_mm) < 1e-8 * size && fabs(height_at(b, image.x_mm) - image.y_mm) < 1e-8 * size, "row %d: rays of a point miss its image", k);
            cr_expect(fabs(m * q.y_mm - image.y_mm) < 1e-8 * size, "row %d: magnification is not the ratio of heights", k);
        }
        /* Lagrange: n (y1 m2 - y2 m1) of two rays at one plane is kept by the whole row. */
        double x0 = r.s[0].vertex.x_mm, x1 = r.s[r.n - 1].vertex.x_mm, n1 = r.s[0].n_before, n2 = r.s[r.n - 1].n_after;
        SgRayLine in1 = ray_from(q.x_mm, q.y_mm, 0.05), in2 = ray_from(q.x_mm, q.y_mm + 3, -0.02), out2 = follow(&r, in2);
        double before = n1 * (height_at(in1, x0) * slope(in2) - height_at(in2, x0) * slope(in1)), after = n2 * (height_at(a, x1) * slope(out2) - height_at(out2, x1) * slope(a));
        cr_expect(fabs(before - after) < 1e-9 * (fabs(before) + 100), "row %d: the Lagrange invariant changes from %g to %g", k, before, after);
        /* Reversibility. */
        SgRayLine back = { sg_pt_along(a.start, a.direction, 10), sg_pt_scale(a.direction, -1) };
        for (uint32_t i = r.n; i-- > 0;) {
            double t;
            SgHit h = { 0 };
            cr_assert(sg_paraxial_meet(&r.s[i], back, &t, &h));
            back = sg_paraxial_leave(&r.s[i], back, &h);
        }
        cr_expect(fabs(height_at(back, q.x_mm) - q.y_mm) < 1e-7 * (fabs(q.y_mm) + 100) && fabs(slope(back) - 0.05) < 1e-9, "row %d: light does not go back the way it came", k);
        /* The system's focal point. */
        SgSystemMatrix y = sg_system(r.at, r.sense, r.n);
        SgRayLine p = follow(&r, ray_from(q.x_mm, 7, 0));
        if (y.far == SG_FINITE && fabs(y.back_focal_mm) < 1e5)
            cr_expect(fabs(height_at(p, x1 + y.back_focal_mm)) < 1e-7 * (fabs(y.back_focal_mm) + 100), "row %d: parallel light does not meet in the focal point", k);
    }
}

Test(optics, a_thick_lens_is_its_two_faces)
{
    uint64_t state = 7;
    for (int k = 0; k < 500; k++) {
        double n1 = dice(&state, 1, 1.4), n = dice(&state, 1.45, 1.9), n2 = dice(&state, 1, 1.4), c1 = dice(&state, -0.05, 0.05), c2 = dice(&state, -0.05, 0.05), t_mm = dice(&state, 1, 30);
        double power, front, back;
        if (!sg_thick_lens(n1, n, n2, c1, c2, t_mm, &power, &front, &back) || fabs(power) < 1e-4) continue;
        Row faces = { .n = 2 }, whole = { .n = 1 };
        faces.s[0] = (SgSurface){ .acts = SG_ACTS_REFRACT, .along = sg_pt(1, 0), .power_per_mm = (n - n1) * c1, .half_aperture_mm = 1e9, .n_before = n1, .n_after = n };
        faces.s[1] = (SgSurface){ .acts = SG_ACTS_REFRACT, .along = sg_pt(1, 0), .vertex = sg_pt(t_mm, 0), .exit = sg_pt(t_mm, 0), .power_per_mm = (n - n2) * c2,
            .half_aperture_mm = 1e9, .n_before = n, .n_after = n2 };
        whole.s[0] = (SgSurface){ .acts = SG_ACTS_REFRACT, .along = sg_pt(1, 0), .vertex = sg_pt(front, 0), .exit = sg_pt(t_mm + back, 0), .power_per_mm = power,
            .half_aperture_mm = 1e9, .n_before = n1, .n_after = n2 };
        SgRayLine in = ray_from(-2000, dice(&state, -10, 10), dice(&state, -0.004, 0.004)), a = follow(&faces, in), b = follow(&whole, in);
        cr_expect(fabs(slope(a) - slope(b)) < 1e-9 && fabs(height_at(a, 300) - height_at(b, 300)) < 1e-6, "lens %d: %g and %g, %g and %g", k, slope(a), slope(b), height_at(a, 300), height_at(b, 300));
    }
}

Test(optics, infinity_is_told_by_cancelled_digits)
{
    SgSurface lens = { .acts = SG_ACTS_REFRACT, .along = sg_pt(1, 0), .power_per_mm = 1.0 / 40, .half_aperture_mm = 30, .n_before = 1, .n_after = 1 };
    static const struct { double u_mm; bool far; } rows[] = { { 40, true }, { 40 * (1 + 1e-10), true }, { 40 * (1 - 1e-10), true }, { 40 * (1 + 1e-8), false }, { 40 * (1 - 1e-8), false } };
    for (size_t k = 0; k < sizeof rows / sizeof *rows; k++) {
        SgConjugate c = sg_conjugate(&lens, 1, sg_homogeneous(sg_pt(-rows[k].u_mm, 0)));
        cr_expect_eq(c.far == SG_AT_INFINITY, rows[k].far, "u = %.12g mm", rows[k].u_mm);
        SgHomogeneous d = sg_image_point(&lens, 1, sg_homogeneous(sg_pt(-rows[k].u_mm, 10)));
        cr_expect_eq(d.w == 0, rows[k].far, "the tip at u = %.12g mm", rows[k].u_mm);
    }
    /* parallel light between two lenses: what leaves the first parallel meets in the second's focal plane at f tan of its angle */
    SgHomogeneous star = sg_image_point(&lens, 1, sg_homogeneous(sg_pt(-40, 10)));
    SgSurface second = lens;
    second.vertex = second.exit = sg_pt(100, 0);
    second.power_per_mm = 1.0 / 60;
    SgHomogeneous spot = sg_image_point(&second, 1, star);
    cr_expect(spot.w == 1 && fabs(spot.x_mm - 160) < 1e-9 && fabs(spot.y_mm + 15) < 1e-9, "the spot is at %g, %g", spot.x_mm, spot.y_mm);
}
