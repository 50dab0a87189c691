/* A student's construction. In: a case, errors of the hand. Out: the images as read off.
   Element by element, the image of one being the object of the next. The steps: parallel ray ruled from the tip to the same height
   on the surface, cut with it, ruled to F'; ray by F ruled, cut, ruled on at the same height; ray by the centre (of curvature, of a
   lens) ruled, the same line on or back; ray to the vertex ruled, its angle read and set. Between the principal planes of thick
   glass a line is ruled level; its centre ray leaves as a parallel, for which the ruler is laid anew at two points. The tip is the
   mean of the crossings of rays that differ by 3 degrees or more. A plane mirror: perpendicular and equal distance. Given points
   are exact; a made point carries its error on; producing a ray adds none. */
#include "sheet/pencil.h"
#include <math.h>
#include <stddef.h>

#define LEAST_CROSSING_DEG 3
#define SAME_DEG 0.01
#define PROTRACTOR_MM 50

typedef struct { SgPoint from, to; } Ruled;
typedef struct { const SgPencilStage *e; const SgHand *hand; const double *error; uint32_t n; bool exact; } Hand;

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

/* ---- an element's own frame ---- */

static SgPoint local(const SgPencilStage *e, SgPoint p)
{
    SgPoint d = sg_pt_sub(p, e->vertex);
    return sg_pt(-sg_pt_dot(d, e->along), sg_pt_dot(d, sg_pt_left(e->along)));
}
static SgPoint on_page(const SgPencilStage *e, SgPoint p)
{
    return sg_pt_along(sg_pt_along(e->vertex, e->along, -p.x_mm), sg_pt_left(e->along), p.y_mm);
}
static double back_focus(const SgPencilStage *e) { return e->mirror ? e->front_mm : -e->gap_mm - e->back_mm; }
/* The centre of curvature; of a lens its first nodal point, so that its middle in one medium. */
static double centre(const SgPencilStage *e) { return e->mirror ? 2 * e->front_mm : e->front_mm - e->back_mm; }

/* ---- ray by ray ---- */

/* Where a ruled line meets the printed surface. */
static bool strike(const SgPencilStage *e, Ruled l, SgPoint *at)
{
    double t, u, radius = fabs(centre(e));
    SgPoint d = sg_pt_sub(l.to, l.from);
    if (!sg_line_cross(l.from, d, (SgPoint){ 0, 0 }, (SgPoint){ 0, 1 }, &t, &u)) return false;
    *at = sg_pt_along(l.from, d, t);
    if (!e->arc || e->plane) return true;
    SgPoint q = sg_pt_sub(*at, sg_pt(centre(e), 0));
    double dd = sg_pt_dot(d, d), b = sg_pt_dot(q, d) / dd, c = (sg_pt_dot(q, q) - radius * radius) / dd, under = b * b - c;
    if (under < 0) return false;
    double near = -b + sqrt(under), far = -b - sqrt(under);
    *at = sg_pt_along(*at, d, fabs(near) < fabs(far) ? near : far);
    return true;
}

static bool thick(const SgPencilStage *e) { return fabs(e->gap_mm) > 1e-9; }

/* From the first principal plane to the second, level. */
static SgPoint carried(Hand *h, SgPoint at)
{
    if (thick(h->e)) at = sg_pt(at.x_mm - h->e->gap_mm, at.y_mm + off(h, h->hand->laid_mm));
    return at;
}

static SgPoint marked(Hand *h, double x_mm, bool made) { return sg_pt(x_mm + (made ? off(h, h->hand->read_mm) : 0), 0); }

static bool parallel(Hand *h, SgPoint tip, Ruled *out)
{
    const SgPencilStage *e = h->e;
    SgPoint at;
    if (!strike(e, rule(h, tip, sg_pt(0, tip.y_mm)), &at)) return false;
    at = carried(h, at);
    *out = rule(h, at, marked(h, back_focus(e), e->focus_made));
    return true;
}

static bool by_focus(Hand *h, SgPoint tip, Ruled *out)
{
    const SgPencilStage *e = h->e;
    SgPoint at;
    if (fabs(tip.x_mm - e->front_mm) < 1e-6 || !strike(e, rule(h, tip, marked(h, e->front_mm, e->focus_made)), &at)) return false;
    at = carried(h, at);
    *out = rule(h, at, sg_pt(e->mirror ? e->end_mm : -e->gap_mm - e->end_mm, at.y_mm));
    return true;
}

static bool by_centre(Hand *h, SgPoint tip, Ruled *out)
{
    const SgPencilStage *e = h->e;
    double x = centre(e);
    if (fabs(tip.x_mm - x) < 1e-6) return false;
    *out = rule(h, tip, marked(h, x, e->centre_made));
    if (!thick(e)) return true;
    SgPoint from = sg_pt(x - e->gap_mm, 0);
    *out = rule(h, from, sg_pt_add(from, sg_pt_sub(out->to, out->from)));
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

static bool ruled_ray(Hand *h, const SgPencilRays *rays, uint32_t i, SgPoint tip, Ruled *out)
{
    SgPencilRay ray = rays->ray[i];
    h->exact = rays->printed[i];
    bool there = ray == SG_PENCIL_PARALLEL ? parallel(h, tip, out) : ray == SG_PENCIL_FOCUS ? by_focus(h, tip, out)
               : ray == SG_PENCIL_CENTRE || !h->e->mirror ? by_centre(h, tip, out) : to_vertex(h, tip, out);
    h->exact = false;
    return there;
}

/* ---- where they meet ---- */

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

static double widest(const Ruled *ray, uint32_t n)
{
    double deg = 0;
    for (uint32_t i = 0; i < n; i++)
        for (uint32_t j = 0; j < i; j++) if (crossing_deg(ray[i], ray[j]) > deg) deg = crossing_deg(ray[i], ray[j]);
    return deg;
}

static uint32_t ruled_rays(Hand *h, const SgPencilRays *rays, SgPoint tip, Ruled *ray)
{
    uint32_t n = 0;
    for (uint32_t i = 0; i < rays->n; i++) if (ruled_ray(h, rays, i, tip, &ray[n])) n++;
    return n;
}

static SgPoint in_plane_mirror(Hand *h, SgPoint tip)
{
    double s, c;
    sg_sincos_deg(180 + off(h, h->hand->turned_deg), &s, &c);
    return sg_pt_along(tip, sg_pt(c, s), 2 * tip.x_mm + off(h, h->hand->read_mm));
}

/* A point on the page and where it would be without errors: from object to image. */
typedef struct { SgPoint made, right; } Made;

static bool image_of(Hand *h, const SgPencilRays *rays, Made *p, double *widest_deg)
{
    const SgPencilStage *e = h->e;
    Hand sure = { .e = e, .hand = h->hand };
    Ruled ray[SG_PENCIL_RAYS], right[SG_PENCIL_RAYS];
    SgPoint made = local(e, p->made), exact = local(e, p->right);
    if (e->plane) *p = (Made){ on_page(e, in_plane_mirror(h, made)), on_page(e, in_plane_mirror(&sure, exact)) };
    if (e->plane) return true;
    uint32_t n = ruled_rays(h, rays, made, ray);
    if (n != ruled_rays(&sure, rays, exact, right) || !mean_of_crossings(ray, right, n, &made) || !mean_of_crossings(right, right, n, &exact)) return false;
    if (widest(right, n) < *widest_deg) *widest_deg = widest(right, n);
    *p = (Made){ on_page(e, made), on_page(e, exact) };
    return true;
}

static SgPoint on_axis(const SgPencilStage *e, SgPoint p)
{
    return on_page(e, sg_pt(local(e, p).x_mm, 0));
}

static SgPencilReading read_off(Hand *h, SgPoint tip, SgPoint foot)
{
    const SgPencilStage *e = h->e;
    double x = local(e, foot).x_mm;
    SgPencilReading r = { .tip = tip, .foot = foot };
    r.distance_mm = (e->mirror ? x : -x - e->gap_mm) + off(h, h->hand->read_mm);
    r.height_mm = tip.y_mm - foot.y_mm + off(h, h->hand->read_mm);
    return r;
}

static bool at_element(Hand *h, Made *tip, Made *foot, SgPencilReading *reading, double *widest_deg)
{
    const SgPencilStage *e = h->e;
    double any = 90;
    if (!image_of(h, &e->tip, tip, widest_deg)) return false;
    if (!e->foot_off) *foot = (Made){ on_axis(e, tip->made), on_axis(e, tip->right) };
    else if (!image_of(h, &e->foot, foot, &any)) return false;
    *reading = read_off(h, tip->made, foot->made);
    return true;
}

uint32_t sg_pencil_draw(const SgPencilCase *k, const SgHand *hand, const double *error, SgPencilDrawing *drawing)
{
    Hand h = { .hand = hand, .error = error };
    Made tip = { k->tip, k->tip }, foot = { k->foot, k->foot };
    drawing->widest_deg = 90;
    for (uint32_t i = 0; i < k->nstages; i++) {
        h.e = &k->stage[i];
        if (!at_element(&h, &tip, &foot, &drawing->image[i], &drawing->widest_deg)) return 0;
    }
    return h.n <= SG_PENCIL_ERRORS ? h.n : 0;
}

/* ---- rays followed through ---- */

static Ruled moved(const SgPencilStage *from, const SgPencilStage *to, Ruled l)
{
    return (Ruled){ local(to, on_page(from, l.from)), local(to, on_page(from, l.to)) };
}

/* At a plane mirror: its normal drawn, the angle read from it and set on its other side. */
static void reflected(Hand *h, SgPoint at, SgPoint way, Ruled *out)
{
    double normal = off(h, h->hand->turned_deg), read = off(h, h->hand->turned_deg), set = off(h, h->hand->turned_deg), s, c;
    sg_sincos_deg(-sg_atan2_deg(way.y_mm, -way.x_mm) + 2 * normal + read + set, &s, &c);
    *out = rule(h, at, sg_pt_along(at, sg_pt(c, s), PROTRACTOR_MM));
}

/* way: of the ray without errors, by which one of a construction's own rays is known. */
static bool led_on(Hand *h, Ruled in, Ruled sure, Ruled *out)
{
    const SgPencilStage *e = h->e;
    SgPoint way = sg_pt_sub(in.to, in.from), right = sg_pt_sub(sure.to, sure.from), at, strikes;
    double t, u, f = back_focus(e), n = centre(e) - (e->mirror ? 0 : e->gap_mm), by_f;
    if (fabs(way.x_mm) < 1e-9 || !strike(e, in, &at) || !strike(e, sure, &strikes)) return false;
    if (e->plane) { reflected(h, at, way.x_mm > 0 ? sg_pt_scale(way, -1) : way, out); return true; }
    at = carried(h, at);
    by_f = fabs(sg_pt_cross(sg_pt_sub(strikes, sg_pt(e->front_mm, 0)), sg_pt_unit(right)));
    if (fabs(right.y_mm) < 1e-6 * fabs(right.x_mm)) *out = rule(h, at, marked(h, f, e->focus_made));
    else if (by_f < 1e-6) *out = rule(h, at, sg_pt(e->mirror ? e->end_mm : -e->gap_mm - e->end_mm, at.y_mm));
    else {
        SgPoint from = marked(h, n, e->centre_made), step = sg_pt_scale(sg_pt_unit(way), fabs(f - n) + 20);
        Ruled parallel_to = rule(h, from, sg_pt_add(from, step));
        SgPoint d = sg_pt_sub(parallel_to.to, parallel_to.from);
        if (!sg_line_cross(parallel_to.from, d, sg_pt(f, 0), sg_pt(0, 1), &t, &u)) return false;
        *out = rule(h, at, sg_pt_along(parallel_to.from, d, t));
    }
    return true;
}

uint32_t sg_pencil_follow(const SgPencilCase *k, const SgHand *hand, const double *error, SgPencilDrawing *drawing)
{
    Hand h = { .hand = hand, .error = error }, sure = { .hand = hand };
    Ruled ray[SG_PENCIL_RAYS], right[SG_PENCIL_RAYS];
    uint32_t n = k->through.n;
    drawing->widest_deg = 90;
    for (uint32_t i = 0; i < k->nstages; i++) {
        const SgPencilStage *e = h.e = sure.e = &k->stage[i];
        SgPoint tip = local(e, k->tip);
        for (uint32_t r = 0; r < n; r++) {
            h.exact = k->through.printed[r];
            Ruled in = i ? moved(e - 1, e, ray[r]) : ray[0], clean = i ? moved(e - 1, e, right[r]) : right[0];
            bool there = i ? led_on(&h, in, clean, &ray[r]) && led_on(&sure, clean, clean, &right[r])
                           : ruled_ray(&h, &k->through, r, tip, &ray[r]) && ruled_ray(&sure, &k->through, r, tip, &right[r]);
            h.exact = false;
            if (!there) return 0;
        }
        if (!mean_of_crossings(ray, right, n, &tip)) return 0;
        if (widest(right, n) < drawing->widest_deg) drawing->widest_deg = widest(right, n);
        SgPoint made = on_page(e, tip);
        drawing->image[i] = read_off(&h, made, on_axis(e, made));
    }
    return h.n <= SG_PENCIL_ERRORS ? h.n : 0;
}

/* ---- what is found from object and image ---- */

static bool cross_axis(Ruled l, double *x_mm)
{
    double t, u;
    if (!sg_line_cross(l.from, sg_pt_sub(l.to, l.from), sg_pt(0, 0), sg_pt(1, 0), &t, &u)) return false;
    *x_mm = u;
    return true;
}

uint32_t sg_pencil_focal(const SgPencilStage *e, SgPoint tip, SgPoint image, bool found, const SgHand *hand, const double *error, double *focal_mm)
{
    Hand h = { .e = e, .hand = hand, .error = error };
    SgPoint t = local(e, tip), i = local(e, image), at;
    double x = 0, focus;
    if (found && e->mirror && !cross_axis(rule(&h, t, sg_pt(i.x_mm, -i.y_mm + off(&h, hand->read_mm))), &x)) return 0;
    if (found && !e->mirror && !cross_axis(rule(&h, t, i), &x)) return 0;
    Ruled level = rule(&h, t, sg_pt(x, t.y_mm));
    double along, up;
    if (!sg_line_cross(level.from, sg_pt_sub(level.to, level.from), sg_pt(x, 0), sg_pt(0, 1), &along, &up)) return 0;
    at = sg_pt(x, up);
    if (!cross_axis(rule(&h, at, i), &focus)) return 0;
    *focal_mm = (e->mirror ? focus - x : x - focus) + off(&h, hand->read_mm);
    return h.n;
}

/* ---- mistakes ---- */

/* A ray that leaves wrongly; in its element's frame. */
static bool wrong_ray(Hand *h, const SgPencilRays *rays, uint32_t i, SgPencilWrong wrong, SgPoint tip, Ruled *out)
{
    const SgPencilStage *e = h->e;
    SgPencilRay ray = rays->ray[i];
    double f = e->mirror ? e->front_mm : e->back_mm, onward = e->mirror ? 1 : -1, start = e->mirror ? 0 : -e->gap_mm;
    double aim = ray == SG_PENCIL_FOCUS ? e->front_mm : ray == SG_PENCIL_CENTRE || !e->mirror ? centre(e) : 0;
    SgPoint at, to = ray == SG_PENCIL_PARALLEL ? sg_pt(0, tip.y_mm) : sg_pt(aim, 0), in = sg_pt_sub(to, tip);
    if (!ruled_ray(h, rays, i, tip, out) || !strike(e, (Ruled){ tip, to }, &at)) return false;
    at = carried(h, at);
    SgPoint leaves = sg_pt_sub(out->to, out->from);
    if (wrong == SG_PENCIL_WRONG_SIDE) to = sg_pt_add(at, e->mirror ? in : sg_pt(leaves.x_mm, -leaves.y_mm));
    else if (wrong == SG_PENCIL_THROUGH_CENTRE) to = sg_pt(start + onward * 2 * f, 0);
    else if (wrong == SG_PENCIL_AWAY) to = sg_pt(start - onward * f, 0);
    else if (wrong == SG_PENCIL_AS_IF) to = sg_pt_add(at, sg_pt_sub(tip, sg_pt(e->mirror ? centre(e) : 0, 0)));
    else if (wrong == SG_PENCIL_UNBENT && !e->mirror) to = sg_pt_add(at, in);
    else return false;
    Ruled right = *out;
    *out = (Ruled){ at, to };
    return sg_pt_distance(at, to) > 1e-6 && crossing_deg(right, *out) > SAME_DEG;
}

/* Where the wrong ray i meets the right ray j. */
static bool wrong_tip(Hand *h, uint32_t i, uint32_t j, SgPencilWrong wrong, Made *tip)
{
    const SgPencilRays *rays = &h->e->tip;
    Ruled ray[2];
    SgPoint from = local(h->e, tip->made), met;
    if (h->e->plane || i == j || rays->printed[i] || !ruled_ray(h, rays, j, from, &ray[0])) return false;
    if (!wrong_ray(h, rays, i, wrong, from, &ray[1]) || !mean_of_crossings(ray, ray, 2, &met)) return false;
    tip->made = tip->right = on_page(h->e, met);
    return true;
}

/* The image itself, put wrongly: at whichever focal point lies on its own side. */
static bool wrong_image(const SgPencilStage *e, SgPencilWrong wrong, Made *tip, Made *foot)
{
    SgPoint t = local(e, tip->made), f = local(e, foot->made);
    double middle = e->mirror ? 0 : -e->gap_mm, shift = 0;
    bool at_back = (f.x_mm < middle) == (back_focus(e) < middle);
    double focus = e->mirror || !at_back ? e->front_mm : back_focus(e), other = at_back ? e->front_mm : back_focus(e);
    if (wrong == SG_PENCIL_OTHER_WAY_UP) t = sg_pt(2 * f.x_mm - t.x_mm, 2 * f.y_mm - t.y_mm);
    else if (wrong == SG_PENCIL_OTHER_SIDE) shift = 2 * (middle - f.x_mm);
    else if (e->plane) return false;
    else shift = focus - f.x_mm;
    if (wrong == SG_PENCIL_AT_FOCUS && !e->mirror && fabs(shift) < 1e-6) shift = other - f.x_mm;       /* it is there: then the other one */
    if (wrong != SG_PENCIL_OTHER_WAY_UP && fabs(shift) < 1e-6) return false;
    tip->made = tip->right = on_page(e, sg_pt(t.x_mm + shift, t.y_mm));
    foot->made = foot->right = on_page(e, sg_pt(f.x_mm + shift, f.y_mm));
    return true;
}

bool sg_pencil_wrong(const SgPencilCase *k, uint32_t stage, SgPencilWrong wrong, uint32_t ray, uint32_t other, SgPencilDrawing *drawing)
{
    static const SgHand still = { 0, 0, 0 };
    Hand h = { .hand = &still };
    Made tip = { k->tip, k->tip }, foot = { k->foot, k->foot };
    bool of_ray = wrong < SG_PENCIL_OTHER_WAY_UP;
    drawing->widest_deg = 90;
    for (uint32_t i = 0; i < k->nstages; i++) {
        h.e = &k->stage[i];
        Made before = tip;
        if (!at_element(&h, &tip, &foot, &drawing->image[i], &drawing->widest_deg)) return false;
        if (i != stage) continue;
        if (of_ray ? !wrong_tip(&h, ray, other, wrong, &before) : !wrong_image(h.e, wrong, &tip, &foot)) return false;
        if (of_ray) tip = before;
        if (of_ray && !h.e->foot_off) foot = (Made){ on_axis(h.e, tip.made), on_axis(h.e, tip.right) };
        drawing->image[i] = read_off(&h, tip.made, foot.made);
    }
    return true;
}
