/* The rules of light, things and words. See rules.h; those of measures and of the page stand in rules_page.c. */
#include "rules.h"
#include <math.h>
#include <string.h>

#define PT (25.4 / 72)
#define EACH_ITEM(f, it) for (const SgItem *it = (f)->page->item; it < (f)->page->item + (f)->page->nitems; it++)
#define EACH_MARK(f, m) for (const SgMark *m = (f)->scene->mark; m < (f)->scene->mark + (f)->scene->nmarks; m++)

static bool is_image(SgRole r) { return r == SG_ROLE_REAL_IMAGE || r == SG_ROLE_VIRTUAL_IMAGE; }
static bool is_arrow(SgRole r) { return r == SG_ROLE_OBJECT || is_image(r); }
static bool is_ray(const SgItem *it) { return it->role == SG_ROLE_RAY && it->shape == SG_ITEM_STROKE; }
static bool about(double a, double b, double within) { return fabs(a - b) <= within; }
static bool framed(const Figure *f) { return f->scene->frame_w_mm > 0; }
static const SgMark *axis_of(const Figure *f)
{
    EACH_MARK(f, m) if (m->role == SG_ROLE_AXIS) return m;
    return NULL;
}
/* Distance of a scene point from the axis; 1e9 without one. */
static double off_axis(const Figure *f, SgPoint p)
{
    const SgMark *axis = axis_of(f);
    if (!axis) return 1e9;
    SgPoint way = sg_pt_unit(sg_pt_sub(axis->xy[1], axis->xy[0]));
    return fabs(sg_pt_cross(way, sg_pt_sub(p, axis->xy[0])));
}

/* ---- lines ---- */
static void width(Figure *f)
{
    if (!f->plain) return;
    EACH_ITEM(f, it) {
        if (it->shape != SG_ITEM_STROKE && it->shape != SG_ITEM_ARC) continue;
        double pt = it->line_mm / PT, due = 0.5;
        if (it->role == SG_ROLE_RAY || it->role == SG_ROLE_LENS || it->role == SG_ROLE_SURFACE || it->role == SG_ROLE_GLASS) due = 1;
        if (it->role == SG_ROLE_MIRROR) due = pt > 0.75 ? 1 : 0.5;     /* its face, its hatching */
        if (it->role == SG_ROLE_PRODUCED || it->role == SG_ROLE_TICK || it->role == SG_ROLE_EYE) due = it->role == SG_ROLE_TICK && pt < 0.6 ? 0.5 : 0.75;
        if (it->role == SG_ROLE_STOP || it->role == SG_ROLE_SCREEN) due = 1.5;
        if (is_arrow(it->role)) due = pt < 0.6 ? 0.5 : pt < 1.2 ? 1 : 1.5;             /* a leader; the outline of a shape; a shaft */
        if (!about(pt, due, 1e-6)) figure_fault(f, "a line of %.3f pt where %.2f pt belongs (role %d)", pt, due, (int)it->role);
    }
    for (uint32_t i = 0; i < f->svg->n; i++)
        if (f->svg->shape[i].stroked && f->svg->shape[i].width < 0.5 * PT - 1e-3) figure_fault(f, "a line thinner than 0.5 pt: %.3f mm", f->svg->shape[i].width);
}

static void dash(Figure *f)
{
    if (!f->plain) return;
    EACH_ITEM(f, it) {
        if (it->shape != SG_ITEM_STROKE) continue;
        double on = it->ndash ? it->dash_mm[0] : 0, off = it->ndash ? it->dash_mm[1] : 0, period = 0, n = 0;
        bool leader = it->line_mm < 0.6 * PT;
        bool due = (it->role == SG_ROLE_PRODUCED || it->role == SG_ROLE_VIRTUAL_IMAGE) && !leader;
        for (uint32_t k = 0; k + 1 < it->nxy; k++) n += gap_of_points(it->xy[k], it->xy[k + 1]);
        bool virtual_dash = it->ndash == 2 && about(on / off, 2, 1e-6);
        if (virtual_dash && !due) figure_fault(f, "the virtual dash on what is not virtual (role %d)", (int)it->role);
        if (due && !virtual_dash && n > 6) figure_fault(f, "no virtual dash on what is virtual, %.1f mm long", n);
        if (it->role == SG_ROLE_AXIS && (it->ndash != 4 || !about(on / off, 6, 1e-6)) && it->line_mm < 0.6 * PT && n > 20) figure_fault(f, "the axis is no chain line");
        if (it->role == SG_ROLE_NORMAL && it->ndash && !about(on / off, 1, 1e-6)) figure_fault(f, "a normal's dash is not 1 on 1 off");
        if (!it->ndash || it->closed || it->nxy != 2) continue;
        for (int k = 0; k < it->ndash; k++) period += it->dash_mm[k];
        double whole = (n - on) / period;
        if (!about(whole, floor(whole + 0.5), 1e-6)) figure_fault(f, "a dashed line does not end on a dash (%.4f periods)", whole);
    }
}

/* ---- light ---- */
static void heads(Figure *f)
{
    Faults found = { .count = 0 };
    if (!f->plain) return;
    figure_check_heads(f->svg, &found);
    if (found.count) figure_fault(f, "%s", found.text);
}

/* Heads of parallel legs of one beam stand in line: at one fraction of their legs. */
static void sisters(Figure *f)
{
    EACH_ITEM(f, a) {
        if (!is_ray(a) || a->nxy < 2) continue;
        for (const SgItem *b = a + 1; b < f->page->item + f->page->nitems; b++) {
            if (!is_ray(b) || b->light != a->light || b->at.start != a->at.start || b->nxy < 2) continue;
            SgPoint u = sg_pt_unit(sg_pt_sub(a->xy[1], a->xy[0])), v = sg_pt_unit(sg_pt_sub(b->xy[1], b->xy[0]));
            if (sg_pt_dot(u, v) < 0.999999) continue;
            const SgItem *leg[2] = { a, b };
            double share[2] = { -1, -1 };
            for (int k = 0; k < 2; k++)
                EACH_ITEM(f, h) {
                    if (h->role != SG_ROLE_RAY || h->shape != SG_ITEM_FILL || h->light != a->light || share[k] >= 0) continue;
                    if (gap_of_point(leg[k]->xy[0], leg[k]->xy[1], h->xy[0]) > 0.01) continue;
                    share[k] = gap_of_points(leg[k]->xy[0], h->xy[0]) - 1.25;
                    share[k] /= gap_of_points(leg[k]->xy[0], leg[k]->xy[1]);
                }
            if (f->plain && share[0] >= 0 && share[1] >= 0 && !about(share[0], share[1], 0.005)) figure_fault(f, "heads of one beam at %.3f and %.3f of their legs", share[0], share[1]);
        }
    }
}

/* Light goes on past a real image unless something catches it, and no visible piece is a stub. */
static void ends(Figure *f)
{
    EACH_MARK(f, m) {
        if (m->role != SG_ROLE_RAY) continue;
        for (uint32_t k = 0; k + 1 < m->nxy; k++) {
            double n = gap_of_points(m->xy[k], m->xy[k + 1]);
            if (n < 2 && n > 0.35) figure_fault(f, "a stub of light, %.2f mm", n);
        }
    }
    EACH_ITEM(f, it) {
        if (!is_ray(it)) continue;
        SgPoint end = it->xy[it->nxy - 1];
        bool caught = false;
        EACH_MARK(f, m)
            caught = caught || ((m->role == SG_ROLE_SCREEN || m->role == SG_ROLE_EYE || m->role == SG_ROLE_STOP || m->role == SG_ROLE_GLASS)
                                && gap_of_points(end, figure_at(f, m->xy[0])) < m->half_mm + 4);
        if (caught) continue;
        EACH_MARK(f, m)
            if (m->role == SG_ROLE_REAL_IMAGE && !framed(f) && gap_of_point(it->xy[it->nxy - 2], end, figure_at(f, m->xy[1])) < 0.1 && gap_of_points(end, figure_at(f, m->xy[1])) < 8)
                figure_fault(f, "a ray ends %.2f mm past the tip of an image", gap_of_points(end, figure_at(f, m->xy[1])));
    }
}

/* Sister ends stand on one upright line, or where the height or a thing ends them. */
static void level(Figure *f)
{
    if (!f->plain) return;
    EACH_MARK(f, m) if (m->role == SG_ROLE_GLASS) return;              /* light is drawn in pieces there */
    EACH_ITEM(f, a) {
        if (!is_ray(a)) continue;
        for (const SgItem *b = a + 1; b < f->page->item + f->page->nitems; b++) {
            if (!is_ray(b) || b->at.start != a->at.start || b->light != a->light) continue;
            SgPoint p = a->xy[a->nxy - 1], q = b->xy[b->nxy - 1];
            SgPoint u = sg_pt_unit(sg_pt_sub(p, a->xy[a->nxy - 2])), v = sg_pt_unit(sg_pt_sub(q, b->xy[b->nxy - 2]));
            if (sg_pt_dot(u, v) < 0.999999 || fabs(u.x_mm) < 0.5 || a->nxy != b->nxy) continue;
            if (fabs(p.x_mm - q.x_mm) > 0.01 && fabs(sg_pt_dot(sg_pt_sub(p, q), u)) > 0.01) figure_fault(f, "the ends of one beam differ by %.2f mm", fabs(p.x_mm - q.x_mm));
        }
    }
}

/* Light that comes near the tip of an image goes through it. */
static void meets(Figure *f)
{
    if (f->nearly) return;
    EACH_MARK(f, m) {
        if (!is_image(m->role) || gap_of_points(m->xy[0], m->xy[1]) < 3) continue;
        SgPoint tip = figure_at(f, m->xy[1]);
        EACH_ITEM(f, it) {
            if (!is_ray(it) && !(it->role == SG_ROLE_PRODUCED && it->shape == SG_ITEM_STROKE)) continue;
            double least = 1e9;
            for (uint32_t k = 0; k + 1 < it->nxy; k++) least = fmin(least, gap_of_point(it->xy[k], it->xy[k + 1], tip));
            if (least > 0.1 && least < 0.6) figure_fault(f, "light misses the tip of an image by %.3f mm", least);
        }
    }
}

/* A thin lens bends a ray once, on its own line; through its centre it does not bend. */
static void bends(Figure *f)
{
    EACH_MARK(f, m) {
        if (m->role != SG_ROLE_LENS) continue;
        SgPoint at = figure_at(f, m->xy[0]), way = sg_pt(m->direction.x_mm, -m->direction.y_mm);
        EACH_ITEM(f, it) {
            if (!is_ray(it)) continue;
            for (uint32_t k = 1; k + 1 < it->nxy; k++) {
                double off = sg_pt_dot(sg_pt_sub(it->xy[k], at), way), up = fabs(sg_pt_cross(way, sg_pt_sub(it->xy[k], at)));
                if (fabs(off) > 6 || up > m->half_mm + 30) continue;
                if (fabs(off) > 0.01) figure_fault(f, "a ray bends %.3f mm beside the line of a lens", off);
                SgPoint u = sg_pt_unit(sg_pt_sub(it->xy[k], it->xy[k - 1])), v = sg_pt_unit(sg_pt_sub(it->xy[k + 1], it->xy[k]));
                if (up < 0.01 && fabs(sg_pt_cross(u, v)) > 1e-4) figure_fault(f, "a ray through the centre of a lens is bent (sine %.5f)", sg_pt_cross(u, v));
            }
        }
    }
}

/* ---- objects, images, points ---- */
static void arrow(Figure *f)
{
    EACH_MARK(f, m) {
        if (!is_arrow(m->role) || m->shape != SG_SHAPE_ARROW) continue;
        SgPoint foot = figure_at(f, m->xy[0]), tip = figure_at(f, m->xy[1]);
        double h = gap_of_points(foot, tip), off = off_axis(f, m->xy[0]);
        if (off > 0.05 && off < 1) figure_fault(f, "a foot stands %.3f mm off the axis", off);
        if (h < 1) continue;
        bool reached = false, stands = false;
        SgPoint up = sg_pt_unit(sg_pt_sub(tip, foot));
        EACH_ITEM(f, it) {
            if (it->role != m->role || it->at.start != m->at.start) continue;
            stands = stands || (it->shape == SG_ITEM_STROKE && gap_of_points(it->xy[0], foot) < 0.05);
            for (uint32_t k = 0; k < it->nxy && it->shape == SG_ITEM_FILL; k++) {
                double at = sg_pt_dot(sg_pt_sub(it->xy[k], foot), up);
                reached = reached || gap_of_points(it->xy[k], tip) < 0.1;
                if (at > h + 0.02) figure_fault(f, "a head adds %.3f mm to the height", at - h);
                if (f->plain && (at < h - 3.01 || (h < 4 && at < 0.6 * h - 0.01))) figure_fault(f, "a head %.2f mm long on %.2f mm", h - at, h);
            }
        }
        if (f->plain && (!reached || !stands)) figure_fault(f, "an arrow of %.1f mm does not reach from its foot to its tip", h);
    }
}

static void dots(Figure *f)
{
    EACH_ITEM(f, it) {
        if (it->role != SG_ROLE_POINT || it->shape != SG_ITEM_DISC) continue;
        double nearest = 1e9;
        EACH_MARK(f, m) if (m->role == SG_ROLE_POINT) nearest = fmin(nearest, gap_of_points(figure_at(f, m->xy[0]), it->xy[0]));
        if (nearest > 0.05) figure_fault(f, "a dot stands %.3f mm off its point", nearest);
        if (f->plain && (it->radius_mm < 0.5 || it->radius_mm > 0.6)) figure_fault(f, "a dot %.2f mm across", 2 * it->radius_mm);
    }
    EACH_MARK(f, m) {
        double off = m->role == SG_ROLE_POINT ? off_axis(f, m->xy[0]) : 0;
        if (off > 0.05 && off < 0.6) figure_fault(f, "a point stands %.3f mm off the axis", off);
    }
}

/* The vertex, F and C of a curved mirror: from the vertex to C is twice as far as to F. */
static void centre(Figure *f)
{
    EACH_MARK(f, m) {
        if (m->role != SG_ROLE_MIRROR || fabs(m->radius_mm) < 1) continue;
        SgPoint want[2] = { figure_at(f, sg_pt_along(m->xy[0], m->direction, -m->radius_mm / 2)), figure_at(f, sg_pt_along(m->xy[0], m->direction, -m->radius_mm)) };
        for (int k = 0; k < 2; k++)
            EACH_ITEM(f, it) {
                if (it->role != SG_ROLE_POINT || it->shape != SG_ITEM_DISC || it->at.start != m->at.start) continue;
                double off = gap_of_points(it->xy[0], want[k]), other = gap_of_points(it->xy[0], want[1 - k]);
                if (off > 0.05 && off < other && off < 3) figure_fault(f, "%s stands %.3f mm off", k ? "C" : "F", off);
            }
        EACH_ITEM(f, it) {             /* the ends of its face lie alike on both sides of its axis */
            if (it->role != SG_ROLE_MIRROR || it->at.start != m->at.start || it->line_mm < 0.75 * PT) continue;
            SgPoint v = figure_at(f, m->xy[0]), way = sg_pt(m->direction.x_mm, -m->direction.y_mm);
            double one = 0, two = 0;
            if (it->shape == SG_ITEM_STROKE) {
                one = sg_pt_cross(way, sg_pt_sub(it->xy[0], v));
                two = sg_pt_cross(way, sg_pt_sub(it->xy[it->nxy - 1], v));
            } else if (it->shape == SG_ITEM_ARC) {
                double middle = (it->from_deg + it->sweep_deg / 2) * 0.017453292519943295;
                one = it->radius_mm * (cos(middle) * m->direction.y_mm - sin(middle) * m->direction.x_mm);
            }
            if (fabs(one + two) > 0.1) figure_fault(f, "the two ends of a mirror differ by %.2f mm", fabs(one + two));
        }
    }
}

/* Of a plane mirror the image stands as far behind as its object before, square to it. */
static void plane_mirror(Figure *f)
{
    unsigned elements = 0;
    const SgMark *mirror = NULL, *object = NULL, *image = NULL;
    EACH_MARK(f, m) {
        elements += m->role == SG_ROLE_MIRROR || m->role == SG_ROLE_LENS || m->role == SG_ROLE_SURFACE || m->role == SG_ROLE_GLASS;
        if (m->role == SG_ROLE_MIRROR && m->radius_mm == 0) mirror = m;
        if (m->role == SG_ROLE_OBJECT) object = m;
        if (m->role == SG_ROLE_VIRTUAL_IMAGE) image = m;
    }
    if (elements != 1 || !mirror || !object || !image) return;
    for (int k = 0; k < 2; k++) {
        SgPoint to = sg_pt_sub(image->xy[k], mirror->xy[0]), from = sg_pt_sub(object->xy[k], mirror->xy[0]);
        double depth = sg_pt_dot(to, mirror->direction) + sg_pt_dot(from, mirror->direction);
        double side = sg_pt_cross(mirror->direction, to) - sg_pt_cross(mirror->direction, from);
        if (fabs(depth) > 0.05 || fabs(side) > 0.05) figure_fault(f, "the image in a plane mirror stands %.2f mm off", hypot(depth, side));
    }
    bool drawn = false;
    EACH_ITEM(f, it)
        for (uint32_t k = 0; k < it->nxy && it->role == SG_ROLE_VIRTUAL_IMAGE && it->shape != SG_ITEM_WORDS; k++) drawn = drawn || gap_of_points(it->xy[k], figure_at(f, image->xy[0])) < 6;
    if (!drawn) figure_fault(f, "the image in a plane mirror is not drawn where it is");
}

/* ---- signs ---- */
static void hatch(Figure *f)
{
    if (!f->plain) return;
    EACH_MARK(f, m) {
        if (m->role != SG_ROLE_MIRROR) continue;
        const SgItem *before = NULL;
        unsigned n = 0;
        EACH_ITEM(f, it) {
            if (it->role != SG_ROLE_MIRROR || it->at.start != m->at.start || it->shape != SG_ITEM_STROKE || it->line_mm > 0.75 * PT || it->nxy != 2) continue;
            SgPoint way = sg_pt_sub(it->xy[1], it->xy[0]);
            double length = sg_pt_length(way), deep = sg_pt_dot(way, sg_pt(m->direction.x_mm, -m->direction.y_mm));
            if (!about(length, 2, 1e-3)) figure_fault(f, "a hatch line of %.3f mm", length);
            if (deep < 0.2) figure_fault(f, "hatching on the side that reflects (%.2f mm)", deep);
            double pitch = before ? gap_of_points(before->xy[0], it->xy[0]) : 1.8;
            if (pitch < 1.55 || pitch > 2.05) figure_fault(f, "hatch lines %.2f mm apart", pitch);
            before = it;
            n++;
        }
        if (n < 3) figure_fault(f, "a mirror's back is not hatched");
    }
}

static void lens_sign(Figure *f)
{
    if (!f->plain) return;
    EACH_MARK(f, m) {
        if (m->role != SG_ROLE_LENS) continue;
        SgPoint at = figure_at(f, m->xy[0]);
        unsigned wings = 0;
        EACH_ITEM(f, it) {
            if (it->role != SG_ROLE_LENS || it->at.start != m->at.start || it->shape != SG_ITEM_STROKE || it->nxy != 3) continue;
            wings++;
            for (int k = 0; k < 3; k += 2) {
                double length = gap_of_points(it->xy[k], it->xy[1]);
                bool outward = gap_of_points(it->xy[1], at) > gap_of_points(it->xy[k], at);
                if (!about(length, 3, 0.01)) figure_fault(f, "a wing of a lens is %.2f mm long", length);
                if (outward != m->converging) figure_fault(f, "the sign of a lens is that of the other sort");
            }
        }
        if (wings != 2) figure_fault(f, "a lens with %u ends", wings);
    }
}

/* A ray that comes to an eye ends on its pupil. */
static void eye(Figure *f)
{
    EACH_MARK(f, m) {
        if (m->role != SG_ROLE_EYE) continue;
        SgPoint pupil = figure_at(f, m->xy[0]), in = sg_pt(m->direction.x_mm, -m->direction.y_mm);
        unsigned seen = 0;
        EACH_ITEM(f, it) {
            if (it->role == SG_ROLE_EYE && it->shape == SG_ITEM_DISC && gap_of_points(it->xy[0], pupil) > it->radius_mm + 0.01) figure_fault(f, "a pupil stands %.2f mm off", gap_of_points(it->xy[0], pupil));
            if (!is_ray(it)) continue;
            SgPoint end = it->xy[it->nxy - 1];
            double across = fabs(sg_pt_cross(in, sg_pt_sub(end, pupil))), beyond = sg_pt_dot(sg_pt_sub(end, pupil), in);
            if (gap_of_points(end, pupil) < 5 && (across > 0.9 || fabs(beyond) > 0.3)) figure_fault(f, "a ray into an eye ends %.2f mm beside its pupil", hypot(across, beyond));
            seen += gap_of_points(end, pupil) < 1;
        }
        double depth = 0;
        EACH_ITEM(f, it)
            for (uint32_t k = 0; it->role == SG_ROLE_EYE && it->shape == SG_ITEM_STROKE && it->nxy == 3 && k < 3; k++) depth = fmax(depth, sg_pt_dot(sg_pt_sub(it->xy[k], pupil), in));
        if (f->plain && (depth < 6 || depth > 8)) figure_fault(f, "an eye %.1f mm deep", depth);
        if (f->demo && !seen) figure_fault(f, "no ray reaches the eye");
    }
}

/* ---- words ---- */
static void words_clear(Figure *f)
{
    unsigned touch, close;
    figure_crowding(f, 0.99, &touch, &close);
    if (touch) figure_fault(f, "words touch something %u times", touch);
    if (f->plain && close) figure_fault(f, "words come nearer than 1 mm to something %u times", close);
}

/* What a mark says stands on the page, once. */
static void words_whole(Figure *f)
{
    uint32_t drawn = 0, declared = 0;
    for (uint32_t i = 0; i < f->nwords; i++) {
        const SgItem *it = &f->page->item[f->words[i].item];
        drawn += it->role != SG_ROLE_NOTE && it->role != SG_ROLE_RULER && it->role != SG_ROLE_PROTRACTOR && !(it->role == SG_ROLE_RAY && it->words->plain.n < 3);
    }
    EACH_MARK(f, m)
        declared += m->words.n > 0 && m->role != SG_ROLE_NOTE && m->role != SG_ROLE_RULER && m->role != SG_ROLE_PROTRACTOR && !(m->role == SG_ROLE_RAY && m->words.n < 3);
    if (drawn != declared) figure_fault(f, "%u words are drawn, %u declared", drawn, declared);
}

static double base_pt(const SgWords *w)
{
    double most = 0;
    for (uint32_t k = 0; k < w->nruns; k++) most = fmax(most, w->run[k].size_mm / PT);
    return most;
}

static void words_size(Figure *f)
{
    if (!f->plain) return;
    for (uint32_t i = 0; i < f->nwords; i++) {
        const SgItem *it = &f->page->item[f->words[i].item];
        bool small = it->role == SG_ROLE_RAY || it->role == SG_ROLE_AXIS || it->role == SG_ROLE_CROSS_AXIS || it->role == SG_ROLE_RULER || it->role == SG_ROLE_PROTRACTOR;
        double pt = base_pt(it->words), least = small ? 7 : 8, most = small && it->role != SG_ROLE_RAY ? 8 : 9;
        if (pt < least - 1e-6 || pt > most + 1e-6) figure_fault(f, "\"%.*s\" is set in %.2f pt", (int)it->words->plain.n, it->words->plain.s, pt);
    }
}

/* The letters of points stand upright unless the author slants them; a true minus; a thin space between a number and its unit. */
static void signs(Figure *f)
{
    for (uint32_t i = 0; i < f->nwords; i++) {
        const SgItem *it = &f->page->item[f->words[i].item];
        const SgMark *of = NULL;
        EACH_MARK(f, m) if (m->at.start == it->at.start && m->role == it->role) of = m;
        for (uint32_t r = 0; r < it->words->nruns; r++) {
            const SgRun *run = &it->words->run[r];
            for (uint32_t k = 0; k + 1 < run->chars.n; k++) {
                char c = run->chars.s[k], next = run->chars.s[k + 1];
                bool before = k == 0 || run->chars.s[k - 1] == ' ';
                if (c == '-' && before && next >= '0' && next <= '9') figure_fault(f, "a hyphen for a minus in \"%.*s\"", (int)run->chars.n, run->chars.s);
                if (it->role == SG_ROLE_DIMENSION && c >= '0' && c <= '9' && next == ' ') figure_fault(f, "a wide space before the unit in \"%.*s\"", (int)run->chars.n, run->chars.s);
            }
        }
        bool letter = (it->role == SG_ROLE_POINT || it->role == SG_ROLE_TICK) && of && it->words->nruns > 0;
        for (uint32_t k = 0; letter && k < of->words.n; k++) letter = of->words.s[k] != '*';
        if (letter && it->words->run[0].face != SG_FACE_UPRIGHT) figure_fault(f, "the letter of a point is slanted");
    }
}

/* Words farther than 6 mm from the place they name are led to it. */
static void leaders(Figure *f)
{
    if (!f->plain) return;
    EACH_MARK(f, m) {
        bool place = m->role == SG_ROLE_POINT || m->role == SG_ROLE_TICK || m->role == SG_ROLE_LABEL;
        if (!place || !m->words.n || gap_of_points(m->shift_mm, sg_pt(0, 0)) > 0) continue;
        SgPoint at = figure_at(f, m->xy[0]);
        double least = 1e9;
        bool led = false;
        for (uint32_t i = 0; i < f->nwords; i++) {
            const SgItem *w = &f->page->item[f->words[i].item];
            if (w->role != m->role || w->at.start != m->at.start) continue;
            least = fmin(least, gap_of_box(&f->words[i], at, at));
            EACH_ITEM(f, it)
                led = led || (figure_is_leader(f, &f->words[i], it) && fmin(gap_of_points(it->xy[0], at), gap_of_points(it->xy[1], at)) < 1.5);
        }
        if (least > 6.1 && !led && least < 1e8) figure_fault(f, "words stand %.1f mm from what they name, and nothing leads there", least);
    }
}

/* Names just under the axis stand on one line. */
static void rows(Figure *f)
{
    const SgMark *axis = axis_of(f);
    double line = -1;
    for (uint32_t i = 0; f->plain && axis && i < f->nwords; i++) {
        const SgItem *w = &f->page->item[f->words[i].item];
        double level = figure_at(f, axis->xy[0]).y_mm, drop = w->xy[0].y_mm - level - 9 * PT * 0.725;      /* of letters as tall as an l */
        bool other_place = false;                      /* nudged, or beside an arrow that points down */
        if ((!is_arrow(w->role) && w->role != SG_ROLE_POINT && w->role != SG_ROLE_TICK) || drop < 1 || drop > 2.6) continue;
        EACH_MARK(f, m)
            if (m->at.start == w->at.start && (gap_of_points(m->shift_mm, sg_pt(0, 0)) > 0 || (is_arrow(m->role) && figure_at(f, m->xy[1]).y_mm > level))) other_place = true;
        if (other_place) continue;
        if (line < 0) line = w->xy[0].y_mm;
        if (!about(w->xy[0].y_mm, line, 0.02)) figure_fault(f, "\"%.*s\" stands %.2f mm off the row of names", (int)w->words->plain.n, w->words->plain.s, w->xy[0].y_mm - line);
    }
}

/* The words of an angle with one arm on the axis stand on its side of it, or are led to its arc. */
static void sides(Figure *f)
{
    const SgMark *axis = axis_of(f);
    EACH_MARK(f, m) {
        if (m->role != SG_ROLE_ANGLE || !axis || !m->words.n || gap_of_points(m->shift_mm, sg_pt(0, 0)) > 0) continue;
        double level = figure_at(f, axis->xy[0]).y_mm, sine, cosine;
        sg_sincos_deg(m->from_deg + m->sweep_deg / 2, &sine, &cosine);
        if (fabs(axis->xy[0].y_mm - axis->xy[1].y_mm) > 1e-6 || fabs(figure_at(f, m->xy[0]).y_mm - level) > 0.01 || fabs(sine) < 1e-3) continue;
        for (uint32_t i = 0; i < f->nwords; i++) {
            const SgItem *w = &f->page->item[f->words[i].item];
            if (w->role != m->role || w->at.start != m->at.start) continue;
            bool above = (f->words[i].y0 + f->words[i].y1) / 2 < level, led = false;
            EACH_ITEM(f, it) led = led || figure_is_leader(f, &f->words[i], it);
            if (above != (sine > 0) && !led) figure_fault(f, "\"%.*s\" stands across the axis from its angle", (int)w->words->plain.n, w->words->plain.s);
        }
    }
}

/* The name of an object or image stands nearer to it than to any other. */
static void owners(Figure *f)
{
    EACH_MARK(f, m) {
        if (!is_arrow(m->role) || gap_of_points(m->shift_mm, sg_pt(0, 0)) > 0) continue;
        for (uint32_t i = 0; i < f->nwords; i++) {
            const SgItem *w = &f->page->item[f->words[i].item];
            bool led = false;
            if (w->role != m->role || w->at.start != m->at.start) continue;
            EACH_ITEM(f, it) led = led || figure_is_leader(f, &f->words[i], it);
            SgPoint at = sg_pt((f->words[i].x0 + f->words[i].x1) / 2, (f->words[i].y0 + f->words[i].y1) / 2);
            double own = gap_of_point(figure_at(f, m->xy[0]), figure_at(f, m->xy[1]), at);
            EACH_MARK(f, o)
                if (o != m && !led && is_arrow(o->role) && gap_of_point(figure_at(f, o->xy[0]), figure_at(f, o->xy[1]), at) < own - 0.3)
                    figure_fault(f, "\"%.*s\" stands nearer to another arrow", (int)w->words->plain.n, w->words->plain.s);
        }
    }
}

/* The number of a ray stands beside its first leg; where that is crowded, beside a later one and nearer to its own light than to
   any other. */
static void numbers(Figure *f)
{
    if (!f->plain) return;
    for (uint32_t i = 0; i < f->nwords; i++) {
        const SgItem *w = &f->page->item[f->words[i].item];
        double first = 1e9, own = 1e9, other = 1e9;
        if (w->role != SG_ROLE_RAY) continue;
        EACH_ITEM(f, it)
            for (uint32_t k = 0; is_ray(it) && k + 1 < it->nxy; k++) {
                double gap = gap_of_box(&f->words[i], it->xy[k], it->xy[k + 1]);
                if (it->at.start != w->at.start) other = fmin(other, gap);
                else if (k == 0) first = fmin(first, gap);
                else own = fmin(own, gap);
            }
        if (first > 3.2 && own > 3.2) figure_fault(f, "the number %.*s stands %.1f mm from the first leg of its ray, %.1f mm from its others", (int)w->words->plain.n, w->words->plain.s, first, own);
        else if (other < fmin(first, own)) figure_fault(f, "the number %.*s stands nearer to another ray", (int)w->words->plain.n, w->words->plain.s);
    }
}

const Rule light_rules[] = {
    { "width", "four widths of line: 1.5 pt arrows, 1 pt light and outlines, 0.75 pt produced, 0.5 pt the rest; nothing thinner", width },
    { "dash", "2 on 1 off means virtual and nothing else; dashed lines begin and end on a dash; the axis a chain, normals 1 on 1 off", dash },
    { "heads", "closed slim heads on light only, in the middle of each leg, clear of bends, crossings and dots", heads },
    { "sisters", "heads of a beam's parallel legs stand in line", sisters },
    { "ends", "rays run on 8 mm and more past a real image; no piece of light shorter than 2 mm", ends },
    { "level", "a beam's rays end level", level },
    { "meets", "light that comes near the tip of an image goes through it, within 0.1 mm", meets },
    { "bends", "a thin lens bends a ray once, on its line; through its centre a ray is straight", bends },
    { "arrow", "foot on the axis, tip where it belongs, the head inside the height and at most 40 % of a small one", arrow },
    { "dots", "dots 1.0 to 1.2 mm, on their point and on the axis", dots },
    { "centre", "from the vertex C is twice as far as F; a mirror's ends lie alike on both sides", centre },
    { "plane", "the image in a plane mirror as far behind as its object before, square to it", plane_mirror },
    { "hatch", "hatching of 2 mm lines, 1.6 to 2.0 mm apart, on the back only", hatch },
    { "lens", "two pairs of wings, 3 mm, outward on a converging lens, inward on a diverging one", lens_sign },
    { "eye", "an eye 6 to 8 mm deep; a ray into it ends on the pupil", eye },
    { "clear", "words 1 mm from every stroke and from each other", words_clear },
    { "whole", "as many words drawn as declared", words_whole },
    { "size", "labels 8 to 9 pt; numbers of rays, the axis' name and tools 7 to 9 pt", words_size },
    { "signs", "letters of points upright, a true minus, a thin space before a unit", signs },
    { "leaders", "words more than 6 mm from what they name are led to it", leaders },
    { "rows", "names just under the axis stand on one line", rows },
    { "sides", "an angle's words on its side of the axis, or led to it", sides },
    { "owners", "the name of an object or image nearer to it than to another", owners },
    { "numbers", "a ray's number beside its first leg, or where that is crowded nearest to a later one", numbers },
};
const unsigned nlight_rules = sizeof light_rules / sizeof *light_rules;
