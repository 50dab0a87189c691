/* draw_head: which way light goes. In: the legs of all rays. Out: closed heads on them, clear of bends, crossings and dots.
   Never puts a head on a produced line. */
#include "layout/draw.h"
#include <math.h>

/* Where heads may stand on a leg: centre as a fraction of it, best first. */
typedef struct { double least, best, most; } Range;
enum { STEPS = 24, MANY_LEGS = 400 };    /* beyond so many legs nobody can tell one crossing from the next: heads stand where they like best */

static bool same_line(const SgLeg *leg, SgPoint p, SgPoint q)
{
    SgPoint way = sg_pt_sub(leg->b, leg->a);
    double off = fabs(sg_pt_cross(way, sg_pt_sub(p, leg->a))) + fabs(sg_pt_cross(way, sg_pt_sub(q, leg->a)));
    return off / leg->length_mm < 0.02;
}

static bool is_back(const SgLeg *leg, const SgLeg *other)
{
    SgPoint a = sg_pt_sub(leg->b, leg->a), b = sg_pt_sub(other->b, other->a);
    return other->mark == leg->mark && sg_pt_dot(a, b) < 0 && same_line(leg, other->a, other->b);
}

/* What is in the way on a leg: places where it is crossed, millimetres from its start; dots and other heads near it. */
typedef struct { const SgLeg *leg; SG_VEC(double) cross; SG_VEC(const SgKeep *) near; } Busy;

static Busy busy_of(const SgDraw *d, const SgLeg *leg)
{
    Busy busy = { .leg = leg };
    SgPoint way = sg_pt_sub(leg->b, leg->a);
    for (uint32_t i = 0; i < d->keep.n; i++) {
        const SgKeep *k = &d->keep.v[i];
        double t, u, side_a = sg_pt_cross(way, sg_pt_sub(k->a, leg->a)), side_b = sg_pt_cross(way, sg_pt_sub(k->b, leg->a));
        if (k->kind == SG_KEEP_HATCH || k->kind == SG_KEEP_WORDS) continue;
        if (k->kind == SG_KEEP_DOT || k->kind == SG_KEEP_HEAD) {
            double reach = leg->length_mm * (d->style->head_clear_mm + k->half_mm + d->style->ray_head_mm);
            if (fabs(side_a) < reach || fabs(side_b) < reach) SG_PUSH(d->a, &busy.near, k);
            continue;
        }
        if ((side_a > 0) == (side_b > 0) && fabs(side_a) > 1e-6 && fabs(side_b) > 1e-6) continue;      /* all on one side */
        if (k->mark == leg->mark && (k->leg == leg->k || same_line(leg, k->a, k->b))) continue;
        if (!sg_line_cross(leg->a, way, k->a, sg_pt_sub(k->b, k->a), &t, &u) || t < 0 || t > 1 || u < 0 || u > 1) continue;
        double at = t * leg->length_mm;
        SG_PUSH(d->a, &busy.cross, at);
    }
    return busy;
}

/* How much of the wanted clearance is missing at a centre, in millimetres, over all that crosses or lies near. */
static double missing(const SgDraw *d, const Busy *busy, double fraction)
{
    const SgLeg *leg = busy->leg;
    double half = d->style->ray_head_mm / 2, wanted = d->style->head_clear_mm, lack = 0, centre = fraction * leg->length_mm;
    double ends[2] = { centre - half, leg->length_mm - centre - half };
    for (int i = 0; i < 2; i++)
        if (ends[i] < wanted) lack += wanted - ends[i];
    for (uint32_t i = 0; i < busy->cross.n; i++) {
        double distance = fabs(busy->cross.v[i] - centre) - half;
        if (distance < wanted) lack += wanted - distance;
    }
    if (busy->near.n == 0) return lack;
    SgPoint unit = sg_pt_unit(sg_pt_sub(leg->b, leg->a));
    SgPoint back = sg_pt_along(leg->a, unit, centre - half), tip = sg_pt_along(leg->a, unit, centre + half);
    for (uint32_t i = 0; i < busy->near.n; i++) {
        const SgKeep *k = busy->near.v[i];
        double apart = k->kind == SG_KEEP_HEAD ? 1.5 : wanted;         /* heads only keep from touching */
        if (sg_segments_apart(back, tip, k->a, k->b, apart + k->half_mm)) continue;
        double distance = sg_segments_distance(back, tip, k->a, k->b) - k->half_mm;
        if (distance < apart) lack += apart - distance;
    }
    return lack;
}

/* The best fraction common to all legs of a bundle. */
static double choose(const SgDraw *d, const SgLeg **leg, uint32_t n, Range r, double *lack)
{
    double best = r.best, least = 1e9, cost_least = 1e9;
    *lack = 0;
    if (d->leg.n > MANY_LEGS) return r.best;
    Busy *busy = SG_ARRAY(d->a, Busy, n);
    for (uint32_t k = 0; k < n; k++) busy[k] = busy_of(d, leg[k]);
    for (int i = 0; i <= STEPS; i++) {
        double fraction = r.least + (r.most - r.least) * i / STEPS, sum = 0;
        for (uint32_t k = 0; k < n; k++) sum += missing(d, &busy[k], fraction);
        double cost = sum * 10 + fabs(fraction - r.best);
        if (cost < cost_least - 1e-9) { cost_least = cost; best = fraction; least = sum; }
    }
    *lack = least;
    return best;
}

/* In one ink the first ray has one head, the second two together, the third three, and round again. */
static uint32_t heads_together(const SgDraw *d, const SgLeg *leg)
{
    const SgMark *m = &d->scene->mark[leg->mark];
    bool room = leg->length_mm >= 2 * d->style->head_leg_mm;
    return d->style->one_ink && !d->style->line_only && room && m->light > 0 ? (m->light - 1) % 3 + 1 : 1;
}

static void put_head(SgDraw *d, const SgLeg *leg, double fraction)
{
    const SgMark *m = &d->scene->mark[leg->mark];
    double half = d->style->ray_head_mm / 2, pitch = 0.9 * d->style->ray_head_mm;
    uint32_t n = heads_together(d, leg);
    SgPoint unit = sg_pt_unit(sg_pt_sub(leg->b, leg->a)), middle = sg_pt_along(leg->a, unit, leg->length_mm * fraction);
    d->now = leg->mark;
    for (uint32_t i = 0; i < n; i++) {
        double ahead = half + pitch * (i - (n - 1) / 2.0);
        SgPoint tip = sg_pt_along(middle, unit, ahead);
        SgItem *item = sg_draw_head(d, SG_LAYER_HEAD, tip, unit, d->style->ray_head_mm, d->style->ray_head_width_mm, leg->rgb);
        item->light = m->light;
        item->light_from_mm = leg->from_mm + leg->length_mm * fraction + ahead;
        sg_keep(d, SG_KEEP_HEAD, sg_pt_along(tip, unit, -d->style->ray_head_mm), tip, d->style->ray_head_width_mm / 2, leg->k);
    }
}

/* Light that comes back along its own line: a head each way, on the part that both have in common. */
static void head_pair(SgDraw *d, SgLeg *out, SgLeg *back)
{
    SgPoint unit = sg_pt_unit(sg_pt_sub(out->b, out->a));
    double end = sg_pt_dot(sg_pt_sub(back->b, out->a), unit);
    SgLeg seen = *out;                                 /* the common part, as the outgoing light goes */
    if (end > 0) seen.a = sg_pt_along(out->a, unit, end);
    seen.length_mm = sg_pt_distance(seen.a, seen.b);
    if (seen.length_mm < d->style->head_no_leg_mm * 2) return;
    seen.from_mm += sg_pt_distance(out->a, seen.a);
    SgLeg turned = *back;
    turned.b = seen.a;
    turned.length_mm = seen.length_mm;
    const SgLeg *one = &seen, *two = &turned;
    double lack;
    Range first = { d->style->head_out - 0.05, d->style->head_out, d->style->head_out + 0.05 };
    put_head(d, &seen, choose(d, &one, 1, first, &lack));
    put_head(d, &turned, choose(d, &two, 1, first, &lack));            /* 35 % of its own way is 65 % of the line */
    out->headed = back->headed = true;
}

static bool sisters(const SgDraw *d, const SgLeg *a, const SgLeg *b)
{
    const SgMark *m = &d->scene->mark[a->mark], *n = &d->scene->mark[b->mark];
    SgPoint u = sg_pt_unit(sg_pt_sub(a->b, a->a)), v = sg_pt_unit(sg_pt_sub(b->b, b->a));
    return m->step == n->step && a->k == b->k && a->mark != b->mark && sg_pt_dot(u, v) > 0 && fabs(sg_pt_cross(u, v)) < 1e-4;
}

static void head_bundle(SgDraw *d, SgLeg *first)
{
    uint32_t n = 0, most_sisters = d->leg.n > MANY_LEGS ? 1 : d->leg.n;
    const SgLeg **bundle = SG_ARRAY(d->a, const SgLeg *, most_sisters);
    double shortest = first->length_mm, lack;
    bundle[n++] = first;
    first->headed = true;
    for (SgLeg *other = first + 1; n < most_sisters && other < d->leg.v + d->leg.n; other++) {
        if (other->headed || other->length_mm < d->style->head_leg_mm || !sisters(d, first, other)) continue;
        bundle[n++] = other;
        other->headed = true;
        if (other->length_mm < shortest) shortest = other->length_mm;
    }
    /* Centre and tip both inside the stated part of the leg. */
    double most = d->style->head_most - d->style->ray_head_mm / 2 / shortest;
    Range r = { d->style->head_least, most < 0.5 ? most : 0.5, most };
    double fraction = choose(d, bundle, n, r, &lack);
    if (lack > 0.01) {                                 /* a crossing in the middle: clear of it matters more than the middle */
        Range wide = { 0.30, 0.5, 0.72 };
        fraction = choose(d, bundle, n, wide, &lack);
    }
    for (uint32_t i = 0; i < n; i++) {
        put_head(d, bundle[i], fraction);
        Range late = { d->style->head_second - 0.08, d->style->head_second, d->style->head_second + 0.08 };
        if (bundle[i]->length_mm > d->style->head_two_legs_mm) put_head(d, bundle[i], choose(d, bundle + i, 1, late, &lack));
    }
}

void sg_draw_ray_heads(SgDraw *d)
{
    for (uint32_t i = 0; i < d->leg.n; i++)
        for (uint32_t k = i + 1; k < d->leg.n && d->leg.v[k].mark == d->leg.v[i].mark; k++)
            if (!d->leg.v[i].headed && !d->leg.v[k].headed && is_back(&d->leg.v[i], &d->leg.v[k]))
                head_pair(d, &d->leg.v[i], &d->leg.v[k]);
    for (uint32_t i = 0; i < d->leg.n; i++) {
        SgLeg *leg = &d->leg.v[i];
        if (leg->headed) continue;
        if (leg->length_mm >= d->style->head_leg_mm) { head_bundle(d, leg); continue; }
        const SgLeg *one = leg;
        double lack;
        Range r = { 0.40, 0.5, 0.60 };
        if (leg->length_mm < d->style->head_no_leg_mm) continue;
        double fraction = choose(d, &one, 1, r, &lack);
        if (lack < 0.01) put_head(d, leg, fraction);   /* between the two lengths only where there is room */
    }
}
