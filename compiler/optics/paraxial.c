/* Paraxial optics of one thin surface: linear in height and slope, so that all rays from a point meet in one point.
   In: a surface, a ray or a point. Out: the meeting, the leaving ray, the image.
   Law: y' = y, m' = m - P y in the direction of travel (Gaussian optics; any first-year text), P = 1/f = 2/R for a mirror. */
#include "optics/optics.h"
#include <math.h>

/* Across the surface's own axis; up when light arrives from the left. */
static SgPoint across(const SgSurface *s) { return sg_pt_left(s->along); }

bool sg_paraxial_meet(const SgSurface *s, SgRayLine ray, double *t_mm, SgHit *hit)
{
    double closing = sg_pt_dot(ray.direction, s->along);
    if (fabs(closing) < 1e-12) return false;
    double t = sg_pt_dot(sg_pt_sub(s->vertex, ray.start), s->along) / closing;
    if (t < 1e-9) return false;
    *t_mm = t;
    hit->at = sg_pt_along(ray.start, ray.direction, t);
    hit->height_mm = sg_pt_dot(sg_pt_sub(hit->at, s->vertex), across(s));
    hit->at = sg_pt_along(s->vertex, across(s), hit->height_mm);
    hit->outside = fabs(hit->height_mm) > s->half_aperture_mm * (1 + 1e-9);
    return true;
}

SgRayLine sg_paraxial_leave(const SgSurface *s, SgRayLine in, const SgHit *hit)
{
    double closing = sg_pt_dot(in.direction, s->along), sense = closing < 0 ? -1 : 1;
    double slope = sg_pt_dot(in.direction, across(s)) / fabs(closing) - s->power_per_mm * hit->height_mm;
    if (s->acts == SG_ACTS_REFLECT) sense = -sense;
    SgPoint out = sg_pt_add(sg_pt_scale(s->along, sense), sg_pt_scale(across(s), slope));
    return (SgRayLine){ hit->at, sg_pt_unit(out) };
}

/* 1 - P u and whether it is nought within nine cancelled digits: the image is then at infinity. */
static double denominator(const SgSurface *s, double u_mm, SgFar *far)
{
    double pu = s->power_per_mm * u_mm, d = 1 - pu;
    *far = fabs(d) <= 1e-9 * (fabs(pu) > 1 ? fabs(pu) : 1) ? SG_AT_INFINITY : SG_FINITE;
    return d;
}

SgConjugate sg_conjugate(const SgSurface *s, SgPoint object_foot)
{
    SgConjugate c = { .far = SG_FINITE };
    double u = c.object_distance_mm = sg_pt_dot(sg_pt_sub(s->vertex, object_foot), s->along);
    double d = denominator(s, u, &c.far);
    if (c.far == SG_AT_INFINITY) { c.real = false; return c; }
    c.magnification = 1 / d;
    c.distance_mm = -u / d;
    c.vergence_per_mm = u == 0 ? 0 : -d / u;
    c.real = c.distance_mm > 0;
    return c;
}

SgHomogeneous sg_image_point(const SgSurface *s, SgPoint q)
{
    SgPoint rel = sg_pt_sub(q, s->vertex);
    double u = -sg_pt_dot(rel, s->along), y = sg_pt_dot(rel, across(s));
    double sense = s->acts == SG_ACTS_REFLECT ? -1 : 1;
    SgFar far;
    double d = denominator(s, u, &far);
    if (far == SG_AT_INFINITY) {
        /* the ray by way of the vertex, or the optical centre, keeps its slope */
        SgPoint out = sg_pt_unit(sg_pt_add(sg_pt_scale(s->along, sense), sg_pt_scale(across(s), -y / u)));
        return (SgHomogeneous){ out.x_mm, out.y_mm, 0 };
    }
    SgPoint p = sg_pt_along(sg_pt_along(s->vertex, s->along, sense * (-u / d)), across(s), y / d);
    return (SgHomogeneous){ p.x_mm, p.y_mm, 1 };
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
