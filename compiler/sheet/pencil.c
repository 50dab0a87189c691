/* A student's construction. In: a case, errors of the hand. Out: the image as read off.
   The steps: parallel ray ruled from the tip to the same height on the surface, cut with it, ruled to F; ray by F ruled, cut, ruled
   on at the same height; ray by C (or through the centre of a lens) ruled, the same line back; ray to the vertex ruled, its angle
   read and set. The tip is the mean of the crossings of rays that differ by 3 degrees or more. A plane mirror: perpendicular and
   equal distance. Given points are exact; a made point carries its error on; producing a ray adds none. */
#include "sheet/pencil.h"
#include <math.h>
#include <stddef.h>

#define LEAST_CROSSING_DEG 3
#define PROTRACTOR_MM 50

typedef struct { SgPoint from, to; } Ruled;
typedef struct { const SgPencilCase *k; const SgHand *hand; const double *error; uint32_t n; bool exact; } Hand;

static double off(Hand *h, double by)
{
    if (h->exact) return 0;
    uint32_t i = h->n++;
    return h->error && i < SG_PENCIL_ERRORS ? h->error[i] * by : 0;
}

/* A ruler laid on two points: each a little off across the line. */
static Ruled rule(Hand *h, SgPoint a, SgPoint b)
{
    SgPoint across = sg_pt_left(sg_pt_unit(sg_pt_sub(b, a)));
    SgPoint from = sg_pt_along(a, across, off(h, h->hand->laid_mm));
    return (Ruled){ from, sg_pt_along(b, across, off(h, h->hand->laid_mm)) };
}

/* Where a ruled line meets the printed surface. */
static bool strike(const SgPencilCase *k, Ruled l, SgPoint *at)
{
    double t, u;
    SgPoint d = sg_pt_sub(l.to, l.from);
    if (!sg_line_cross(l.from, d, (SgPoint){ 0, 0 }, (SgPoint){ 0, 1 }, &t, &u)) return false;
    *at = sg_pt_along(l.from, d, t);
    if (!k->arc || !k->mirror || k->plane) return true;
    SgPoint centre = { 2 * k->f_mm, 0 }, q = sg_pt_sub(*at, centre);
    double dd = sg_pt_dot(d, d), b = sg_pt_dot(q, d) / dd, c = (sg_pt_dot(q, q) - 4 * k->f_mm * k->f_mm) / dd, under = b * b - c;
    if (under < 0) return false;
    double near = -b + sqrt(under), far = -b - sqrt(under);
    *at = sg_pt_along(*at, d, fabs(near) < fabs(far) ? near : far);
    return true;
}

static SgPoint marked(Hand *h, double x_mm, bool made) { return sg_pt(x_mm + (made ? off(h, h->hand->read_mm) : 0), 0); }

static SgPoint focus(Hand *h, double x_mm) { return marked(h, x_mm, h->k->focus_made); }

static bool parallel(Hand *h, SgPoint tip, Ruled *out)
{
    const SgPencilCase *k = h->k;
    SgPoint at;
    if (!strike(k, rule(h, tip, sg_pt(0, tip.y_mm)), &at)) return false;
    *out = rule(h, at, focus(h, k->mirror ? k->f_mm : -k->f_mm));
    return true;
}

static bool by_focus(Hand *h, SgPoint tip, Ruled *out)
{
    const SgPencilCase *k = h->k;
    SgPoint at;
    if (fabs(k->u_mm - k->f_mm) < 1e-6 || !strike(k, rule(h, tip, focus(h, k->f_mm)), &at)) return false;
    *out = rule(h, at, sg_pt(k->mirror ? k->end_mm : -k->end_mm, at.y_mm));
    return true;
}

static bool by_centre(Hand *h, SgPoint tip, Ruled *out)
{
    const SgPencilCase *k = h->k;
    if (k->mirror && fabs(k->u_mm - 2 * k->f_mm) < 1e-6) return false;
    *out = rule(h, tip, k->mirror ? marked(h, 2 * k->f_mm, k->centre_made) : sg_pt(0, 0));
    return true;
}

static bool to_vertex(Hand *h, SgPoint tip, Ruled *out)
{
    Ruled in = rule(h, tip, sg_pt(0, 0));
    SgPoint d = sg_pt_sub(in.from, in.to);
    double read_deg = sg_atan2_deg(d.y_mm, d.x_mm) + off(h, h->hand->turned_deg), s, c;
    sg_sincos_deg(-read_deg + off(h, h->hand->turned_deg), &s, &c);
    *out = rule(h, sg_pt(0, 0), sg_pt(PROTRACTOR_MM * c, PROTRACTOR_MM * s));
    return true;
}

static bool ruled_ray(Hand *h, uint32_t i, Ruled *out)
{
    SgPoint tip = sg_pt(h->k->u_mm, h->k->h_mm);
    h->exact = h->k->printed[i];
    bool there = h->k->ray[i] == SG_PENCIL_PARALLEL ? parallel(h, tip, out) : h->k->ray[i] == SG_PENCIL_FOCUS ? by_focus(h, tip, out)
               : h->k->ray[i] == SG_PENCIL_CENTRE ? by_centre(h, tip, out) : h->k->mirror ? to_vertex(h, tip, out) : by_centre(h, tip, out);
    h->exact = false;
    return there;
}

static double crossing_deg(Ruled a, Ruled b)
{
    SgPoint x = sg_pt_sub(a.to, a.from), y = sg_pt_sub(b.to, b.from);
    return sg_atan2_deg(fabs(sg_pt_cross(x, y)), fabs(sg_pt_dot(x, y)));
}

/* right: the same rays without an error; which pairs count is read off those. */
static bool mean_of_crossings(const Ruled *ray, const Ruled *right, uint32_t n, SgPoint *tip)
{
    SgPoint sum = { 0, 0 };
    uint32_t crossings = 0;
    for (uint32_t i = 0; i < n; i++)
        for (uint32_t k = 0; k < i; k++) {
            double t, u;
            SgPoint d = sg_pt_sub(ray[i].to, ray[i].from);
            if (crossing_deg(right[i], right[k]) < LEAST_CROSSING_DEG) continue;
            if (!sg_line_cross(ray[i].from, d, ray[k].from, sg_pt_sub(ray[k].to, ray[k].from), &t, &u)) return false;
            sum = sg_pt_add(sum, sg_pt_along(ray[i].from, d, t));
            crossings++;
        }
    if (crossings) *tip = sg_pt_scale(sum, 1.0 / crossings);
    return crossings > 0;
}

static uint32_t ruled_rays(Hand *h, Ruled *ray)
{
    uint32_t n = 0;
    for (uint32_t i = 0; i < h->k->nrays; i++) if (ruled_ray(h, i, &ray[n])) n++;
    return n;
}

static SgPoint in_plane_mirror(Hand *h)
{
    const SgPencilCase *k = h->k;
    double s, c;
    sg_sincos_deg(180 + off(h, h->hand->turned_deg), &s, &c);
    return sg_pt_along(sg_pt(k->u_mm, k->h_mm), sg_pt(c, s), 2 * k->u_mm + off(h, h->hand->read_mm));
}

uint32_t sg_pencil_draw(const SgPencilCase *k, const SgHand *hand, const double *error, SgPencilReading *reading)
{
    Hand h = { .k = k, .hand = hand, .error = error }, sure = { .k = k, .hand = hand };
    Ruled ray[SG_PENCIL_RAYS], right[SG_PENCIL_RAYS];
    SgPoint tip;
    reading->widest_deg = 90;
    if (k->plane) tip = in_plane_mirror(&h);
    else {
        uint32_t n = ruled_rays(&h, ray);
        if (n != ruled_rays(&sure, right) || !mean_of_crossings(ray, right, n, &tip)) return 0;
        reading->widest_deg = 0;
        for (uint32_t i = 0; i < n; i++)
            for (uint32_t j = 0; j < i; j++) if (crossing_deg(right[i], right[j]) > reading->widest_deg) reading->widest_deg = crossing_deg(right[i], right[j]);
    }
    reading->distance_mm = (k->mirror ? tip.x_mm : -tip.x_mm) + off(&h, hand->read_mm);
    reading->height_mm = tip.y_mm + off(&h, hand->read_mm);
    return h.n <= SG_PENCIL_ERRORS ? h.n : 0;
}
