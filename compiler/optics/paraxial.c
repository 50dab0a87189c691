/* Paraxial optics of one surface, thin or by its principal planes: linear in height and slope.
   In: a surface, a ray or a point. Out: the meeting, the leaving ray, the image.
   Law: y' = y, n' m' = n m - P y in the direction of travel; P = (n' - n)/R at a boundary, 1/f of a thin lens, 2n/R of a mirror. */
#include "optics/optics.h"
#include <math.h>

/* Across the surface's own axis; up when light arrives from the left. */
static SgPoint across(const SgSurface *s) { return sg_pt_left(s->along); }
static SgPoint entry(const SgSurface *s, double sense) { return sense > 0 ? s->vertex : s->exit; }
static SgPoint leaving(const SgSurface *s, double sense) { return (sense > 0) == (s->acts != SG_ACTS_REFLECT) ? s->exit : s->vertex; }
static double index_in(const SgSurface *s, double sense) { return sense > 0 ? s->n_before : s->n_after; }
static double index_out(const SgSurface *s, double sense) { return (sense > 0) == (s->acts != SG_ACTS_REFLECT) ? s->n_after : s->n_before; }

bool sg_paraxial_meet(const SgSurface *s, SgRayLine ray, double *t_mm, SgHit *hit)
{
    double closing = sg_pt_dot(ray.direction, s->along);
    if (fabs(closing) < 1e-12) return false;
    hit->sense = closing > 0 ? 1 : -1;
    SgPoint plane = entry(s, hit->sense);
    double t = sg_pt_dot(sg_pt_sub(plane, ray.start), s->along) / closing;
    if (t < 1e-9) return false;
    *t_mm = t;
    hit->height_mm = sg_pt_dot(sg_pt_sub(sg_pt_along(ray.start, ray.direction, t), plane), across(s));
    hit->at = sg_pt_along(plane, across(s), hit->height_mm);
    hit->outside = fabs(hit->height_mm) > s->half_aperture_mm * (1 + 1e-9);
    return true;
}

SgRayLine sg_paraxial_leave(const SgSurface *s, SgRayLine in, const SgHit *hit)
{
    double closing = sg_pt_dot(in.direction, s->along), sense = closing < 0 ? -1 : 1;
    double slope = sg_pt_dot(in.direction, across(s)) / fabs(closing);
    if (s->acts == SG_ACTS_PASS || s->acts == SG_ACTS_ABSORB) return (SgRayLine){ hit->at, in.direction };
    slope = (index_in(s, sense) * slope - s->power_per_mm * hit->height_mm) / index_out(s, sense);
    double onward = s->acts == SG_ACTS_REFLECT ? -sense : sense;
    SgPoint out = sg_pt_add(sg_pt_scale(s->along, onward), sg_pt_scale(across(s), slope));
    return (SgRayLine){ sg_pt_along(leaving(s, sense), across(s), hit->height_mm), sg_pt_unit(out) };
}

SgPoint sg_travel_after(const SgSurface *s, SgPoint travel)
{
    if (s->acts != SG_ACTS_REFLECT) return travel;
    return sg_pt_sub(travel, sg_pt_scale(s->along, 2 * sg_pt_dot(travel, s->along)));
}

SgHomogeneous sg_homogeneous(SgPoint p) { return (SgHomogeneous){ p.x_mm, p.y_mm, 1 }; }

static double larger(double a, double b) { return a > b ? a : b; }

/* n1 - P u, and whether it is nought within nine cancelled digits: the image is then at infinity. */
static double denominator(double n1, double power, double u_mm, SgFar *far)
{
    double pu = power * u_mm, d = n1 - pu;
    *far = fabs(d) <= 1e-9 * larger(n1, fabs(pu)) ? SG_AT_INFINITY : SG_FINITE;
    return d;
}

SgConjugate sg_conjugate(const SgSurface *s, double sense, SgHomogeneous foot)
{
    SgConjugate c = { .object_far = foot.w == 0 ? SG_AT_INFINITY : SG_FINITE };
    double n1 = index_in(s, sense), n2 = index_out(s, sense);
    if (c.object_far == SG_AT_INFINITY) {
        c.far = fabs(s->power_per_mm) < 1e-300 ? SG_AT_INFINITY : SG_FINITE;
        if (c.far == SG_FINITE) c.distance_mm = n2 / s->power_per_mm;
        c.real = c.far == SG_FINITE && c.distance_mm > 0;
        return c;
    }
    SgPoint rel = sg_pt_sub(entry(s, sense), sg_pt(foot.x_mm, foot.y_mm));
    double u = c.object_distance_mm = sense * sg_pt_dot(rel, s->along);
    double d = denominator(n1, s->power_per_mm, u, &c.far);
    if (c.far == SG_AT_INFINITY) return c;
    c.magnification = n1 / d;
    c.distance_mm = -n2 * u / d;
    c.real = c.distance_mm > 0;
    return c;
}

/* The leaving direction of a point at infinity: the ray by way of the vertex has height nought, so n' m' = n m. */
static SgHomogeneous direction_out(const SgSurface *s, double sense, double slope_in)
{
    double slope = index_in(s, sense) * slope_in / index_out(s, sense);
    double onward = s->acts == SG_ACTS_REFLECT ? -sense : sense;
    SgPoint out = sg_pt_unit(sg_pt_add(sg_pt_scale(s->along, onward), sg_pt_scale(across(s), slope)));
    return (SgHomogeneous){ out.x_mm, out.y_mm, 0 };
}

static SgHomogeneous placed(const SgSurface *s, double sense, double distance_mm, double height_mm)
{
    double onward = s->acts == SG_ACTS_REFLECT ? -sense : sense;
    SgPoint p = sg_pt_along(sg_pt_along(leaving(s, sense), s->along, onward * distance_mm), across(s), height_mm);
    return sg_homogeneous(p);
}

SgHomogeneous sg_image_point(const SgSurface *s, double sense, SgHomogeneous q)
{
    double n1 = index_in(s, sense), n2 = index_out(s, sense), power = s->power_per_mm;
    if (q.w == 0) {
        SgPoint d = sg_pt(q.x_mm, q.y_mm);
        double slope = sg_pt_dot(d, across(s)) / fabs(sg_pt_dot(d, s->along));
        if (fabs(power) < 1e-300) return direction_out(s, sense, slope);
        return placed(s, sense, n2 / power, n1 * slope / power);
    }
    SgPoint rel = sg_pt_sub(sg_pt(q.x_mm, q.y_mm), entry(s, sense));
    double u = -sense * sg_pt_dot(rel, s->along), y = sg_pt_dot(rel, across(s));
    SgFar far;
    double d = denominator(n1, power, u, &far);
    if (far == SG_AT_INFINITY) return direction_out(s, sense, -y / u);
    return placed(s, sense, -n2 * u / d, n1 * y / d);
}

/* Where a line cuts the sphere of the surface, the root nearest its vertex. */
static bool cut_sphere(const SgSurface *s, SgRayLine line, SgPoint *cut)
{
    SgPoint centre = sg_pt_along(s->vertex, s->along, -s->radius_mm);
    SgPoint rel = sg_pt_sub(line.start, centre);
    double b = sg_pt_dot(rel, line.direction);
    double c = sg_pt_dot(rel, rel) - s->radius_mm * s->radius_mm;
    double disc = b * b - c;
    if (disc < 0) return false;
    double root = sqrt(disc);
    SgPoint p = sg_pt_along(line.start, line.direction, -b - root), q = sg_pt_along(line.start, line.direction, -b + root);
    *cut = sg_pt_distance(p, s->vertex) <= sg_pt_distance(q, s->vertex) ? p : q;
    return true;
}

bool sg_arc_cuts(const SgSurface *s, SgRayLine in, SgRayLine out, SgPoint *cut_in, SgPoint *cut_out, double *step_mm)
{
    if (s->profile != SG_PROFILE_SPHERE) {
        *cut_in = *cut_out = out.start;
        *step_mm = 0;
        return true;
    }
    if (!cut_sphere(s, in, cut_in) || !cut_sphere(s, out, cut_out)) return false;
    *step_mm = sg_pt_distance(*cut_in, *cut_out);
    return true;
}

/* ---- by rule, on the drawn arc ---- */

bool sg_rule_meet(const SgSurface *s, SgRayLine ray, double *t_mm, SgHit *hit)
{
    if (s->profile != SG_PROFILE_SPHERE || s->acts != SG_ACTS_REFLECT) return sg_paraxial_meet(s, ray, t_mm, hit);
    SgPoint cut;
    if (!sg_paraxial_meet(s, ray, t_mm, hit) || !cut_sphere(s, ray, &cut)) return false;
    double t = sg_pt_dot(sg_pt_sub(cut, ray.start), ray.direction);
    if (t < 1e-9) return false;
    *t_mm = t;
    hit->at = cut;
    hit->height_mm = sg_pt_dot(sg_pt_sub(cut, s->vertex), across(s));
    hit->outside = fabs(hit->height_mm) > s->half_aperture_mm * (1 + 1e-9);
    return true;
}

SgRayLine sg_rule_leave(const SgSurface *s, SgRayLine in, const SgHit *hit)
{
    if (s->profile != SG_PROFILE_SPHERE || s->acts != SG_ACTS_REFLECT) return sg_paraxial_leave(s, in, hit);
    double slope = sg_pt_dot(in.direction, across(s)) / fabs(sg_pt_dot(in.direction, s->along));
    /* The parallel through C leaves unturned; where it meets the focal plane, at height f slope, all parallels to it do. */
    double f = 1 / s->power_per_mm;
    SgPoint focus = sg_pt_along(s->vertex, s->along, -f);
    if (fabs(sg_pt_cross(sg_pt_sub(focus, in.start), in.direction)) < 1e-9 * (1 + sg_pt_distance(focus, in.start)))
        return (SgRayLine){ hit->at, sg_pt_scale(s->along, -1) };
    SgPoint meet = sg_pt_along(focus, across(s), f * slope);
    SgPoint out = sg_pt_sub(meet, hit->at);
    if (f < 0) out = sg_pt_scale(out, -1);
    if (sg_pt_dot(out, s->along) > 0) out = sg_pt_scale(out, -1);
    return (SgRayLine){ hit->at, sg_pt_unit(out) };
}
