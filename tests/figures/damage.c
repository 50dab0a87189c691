/* Pages damaged on purpose. See damage.h. */
#include "damage.h"
#include <math.h>
#include <string.h>

#define PT (25.4 / 72)
const DamageName damages[DAMAGES] = {
    [RAY_THIN] = { "width", "a ray a tenth thinner" }, [DASH_LONG] = { "dash", "a virtual dash 7 % longer" },
    [HEAD_DROPPED] = { "heads", "a head dropped" }, [HEAD_SLID] = { "heads", "a head slid to a bend" },
    [SISTER_SLID] = { "sisters", "one head of a beam slid by 2 mm" }, [LIGHT_STOPPED] = { "ends", "a ray stopped at an image" },
    [END_SHORT] = { "level", "one ray of a beam 3 mm shorter" }, [RAY_SHIFTED] = { "meets", "a ray shifted by 0.2 mm" },
    [BEND_MOVED] = { "bends", "a bend moved 0.05 mm beside its lens" }, [FOOT_LIFTED] = { "arrow", "an arrow's foot lifted by 0.2 mm" },
    [DOT_MOVED] = { "dots", "a dot moved by 0.2 mm" }, [DOT_LARGE] = { "dots", "a dot 1.6 mm across" },
    [FOCUS_MOVED] = { "centre", "the focal point of a mirror moved by 0.2 mm" }, [FACE_TURNED] = { "centre", "a mirror's face turned by half a degree" },
    [IMAGE_MOVED] = { "plane", "the image in a plane mirror moved by 18 mm" }, [HATCH_FLIPPED] = { "hatch", "a hatch line on the side that reflects" },
    [WING_TURNED] = { "lens", "the wings of a lens turned round" }, [PUPIL_MISSED] = { "eye", "a ray that ends 1.5 mm beside the pupil" },
    [WORDS_ON_RAY] = { "clear", "words on a ray" }, [WORDS_CLOSE] = { "clear", "words 0.7 mm from a ray" }, [WORDS_LOST] = { "whole", "a label lost" },
    [WORDS_SMALL] = { "size", "a label in 7 pt" }, [LETTER_SLANTED] = { "signs", "a point's letter slanted" }, [SPACE_WIDE] = { "signs", "a wide space before a unit" },
    [LETTER_FAR] = { "leaders", "a point's letter 12 mm farther off" }, [NAME_SUNK] = { "rows", "a name 0.1 mm below its row" },
    [WORDS_ACROSS] = { "sides", "an angle's words across the axis" }, [NAME_STRAYED] = { "owners", "an object's name beside its image" },
    [NUMBER_FAR] = { "numbers", "a ray's number 8 mm farther off" }, [LENGTH_OFF] = { "lengths", "a length's head off by 0.1 mm" },
    [ROWS_CLOSE] = { "lengths", "a row of a length 3 mm nearer" }, [ARC_SMALL] = { "angles", "an arc of 5 mm" },
    [ARCS_UNLIKE] = { "angles", "one of two equal arcs 1 mm larger" }, [SQUARE_BENT] = { "right", "a right angle's corner off by 0.2 mm" },
    [NORMAL_SHORT] = { "normals", "a normal half as long" }, [AXIS_LONG] = { "axis-ends", "the axis 20 mm longer" },
    [NAME_INWARD] = { "axis-name", "the axis' name 60 mm to the left" }, [FRAME_TIGHT] = { "frame", "the frame half a millimetre tighter" },
    [RAY_PALE] = { "colours", "a pale ray" }, [WORDS_COLOURED] = { "ink", "a label in colour" }, [STEP_LATE] = { "order", "a thing that comes too late" },
};

SgPage page_copy(SgArena *a, const SgPage *page)
{
    SgPage copy = *page;
    copy.item = SG_ARRAY(a, SgItem, page->nitems);
    for (uint32_t i = 0; i < page->nitems; i++) {
        copy.item[i] = page->item[i];
        SgPoint *xy = SG_ARRAY(a, SgPoint, page->item[i].nxy + 1);
        memcpy(xy, page->item[i].xy, page->item[i].nxy * sizeof *xy);
        copy.item[i].xy = xy;
    }
    return copy;
}

static SgPoint *points(SgItem *it) { return (SgPoint *)it->xy; }       /* the copy's own */
static void shift(SgItem *it, double dx, double dy)
{
    for (uint32_t k = 0; k < it->nxy; k++) points(it)[k] = sg_pt(it->xy[k].x_mm + dx, it->xy[k].y_mm + dy);
}
static bool is(const SgItem *it, SgRole role, SgItemShape shape) { return it->role == role && it->shape == shape; }
static bool is_ray(const SgItem *it) { return is(it, SG_ROLE_RAY, SG_ITEM_STROKE) && it->nxy > 1; }
static bool is_head(const SgItem *it) { return is(it, SG_ROLE_RAY, SG_ITEM_FILL); }
static SgPoint on_page(const SgPage *p, SgPoint s) { return sg_pt(p->origin.x_mm + s.x_mm, p->origin.y_mm - s.y_mm); }
static const SgMark *mark_of(const SgScene *s, SgRole role)
{
    for (uint32_t i = 0; i < s->nmarks; i++) if (s->mark[i].role == role) return &s->mark[i];
    return NULL;
}
static bool drop(SgPage *p, SgItem *it)
{
    for (SgItem *k = it; k + 1 < p->item + p->nitems; k++) *k = k[1];
    p->nitems--;
    return true;
}
/* The image whose tip this ray goes through on its last leg; NULL else. */
static const SgMark *image_on(const SgScene *s, const SgPage *p, const SgItem *ray)
{
    for (uint32_t i = 0; i < s->nmarks; i++) {
        const SgMark *m = &s->mark[i];
        if (m->role != SG_ROLE_REAL_IMAGE || gap_of_points(m->xy[0], m->xy[1]) < 3) continue;
        if (gap_of_point(ray->xy[ray->nxy - 2], ray->xy[ray->nxy - 1], on_page(p, m->xy[1])) < 0.05) return m;
    }
    return NULL;
}
static SgItem *sister_of(SgPage *p, const SgItem *ray)
{
    for (SgItem *o = p->item; o < p->item + p->nitems; o++) {
        if (o == ray || !is_ray(o) || o->light != ray->light || o->at.start != ray->at.start || o->nxy != ray->nxy) continue;
        SgPoint u = sg_pt_unit(sg_pt_sub(ray->xy[ray->nxy - 1], ray->xy[ray->nxy - 2])), v = sg_pt_unit(sg_pt_sub(o->xy[o->nxy - 1], o->xy[o->nxy - 2]));
        if (sg_pt_dot(u, v) > 0.999999 && fabs(u.x_mm) > 0.5) return o;
    }
    return NULL;
}
static bool slide_sister(SgPage *p, SgItem *head)
{
    for (SgItem *r = p->item; r < p->item + p->nitems; r++) {
        if (!is_ray(r) || r->light != head->light || gap_of_point(r->xy[0], r->xy[1], head->xy[0]) > 0.01) continue;
        SgPoint u = sg_pt_unit(sg_pt_sub(r->xy[1], r->xy[0]));
        for (SgItem *o = p->item; o < p->item + p->nitems; o++) {
            if (o == r || !is_ray(o) || o->light != r->light || o->at.start != r->at.start || sg_pt_dot(u, sg_pt_unit(sg_pt_sub(o->xy[1], o->xy[0]))) < 0.999999) continue;
            shift(head, 2 * u.x_mm, 2 * u.y_mm);
            return true;
        }
    }
    return false;
}

/* ---- light ---- */
static bool damage_light(const SgScene *s, SgPage *p, SgItem *it, Damage what)
{
    uint32_t last = it->nxy - 1;
    switch ((int)what) {
    case RAY_THIN: if (is_ray(it)) it->line_mm *= 0.9; return is_ray(it);
    case DASH_LONG: if (it->role == SG_ROLE_PRODUCED && it->ndash == 2) it->dash_mm[0] *= 1.07; return it->role == SG_ROLE_PRODUCED && it->ndash == 2;
    case HEAD_DROPPED: return is_head(it) && drop(p, it);
    case HEAD_SLID:
        for (SgItem *r = p->item; is_head(it) && r < p->item + p->nitems; r++)
            if (is_ray(r) && r->nxy > 2 && gap_of_point(r->xy[0], r->xy[1], it->xy[0]) < 0.01) { shift(it, r->xy[1].x_mm - it->xy[0].x_mm, r->xy[1].y_mm - it->xy[0].y_mm); return true; }
        return false;
    case SISTER_SLID: return is_head(it) && slide_sister(p, it);
    case LIGHT_STOPPED: {
        const SgMark *m = is_ray(it) ? image_on(s, p, it) : NULL;
        if (!m || mark_of(s, SG_ROLE_SCREEN)) return false;
        points(it)[last] = on_page(p, m->xy[1]);
        return true;
    }
    case END_SHORT: {
        if (!is_ray(it) || !sister_of(p, it)) return false;
        SgPoint u = sg_pt_unit(sg_pt_sub(it->xy[last], it->xy[last - 1]));
        points(it)[last] = sg_pt_along(it->xy[last], u, -3);
        return true;
    }
    case RAY_SHIFTED:
        if (!is_ray(it) || !image_on(s, p, it)) return false;
        shift(it, 0, 0.2);
        return true;
    case BEND_MOVED: {
        const SgMark *m = mark_of(s, SG_ROLE_LENS);
        if (!m || !is_ray(it)) return false;
        for (uint32_t k = 1; k < last; k++)
            if (fabs(it->xy[k].x_mm - on_page(p, m->xy[0]).x_mm) < 0.01) { points(it)[k].x_mm += 0.05; return true; }
        return false;
    }
    case PUPIL_MISSED: {
        const SgMark *m = mark_of(s, SG_ROLE_EYE);
        if (!m || !is_ray(it) || gap_of_points(it->xy[last], on_page(p, m->xy[0])) > 1) return false;
        points(it)[last].y_mm += 1.5;
        return true;
    }
    case RAY_PALE: if (is_ray(it)) it->rgb = 0xFFD0D0; return is_ray(it);
    default: return false;
    }
}

/* ---- things ---- */
static bool damage_thing(const SgScene *s, SgPage *p, SgItem *it, Damage what)
{
    (void)p;
    switch ((int)what) {
    case FOOT_LIFTED:
        if (!is(it, SG_ROLE_OBJECT, SG_ITEM_STROKE) || it->line_mm < 1.2 * PT) return false;
        points(it)[0].y_mm -= 0.2;
        return true;
    case DOT_MOVED: if (is(it, SG_ROLE_POINT, SG_ITEM_DISC)) shift(it, 0.2, 0); return is(it, SG_ROLE_POINT, SG_ITEM_DISC);
    case DOT_LARGE: if (is(it, SG_ROLE_POINT, SG_ITEM_DISC)) it->radius_mm = 0.8; return is(it, SG_ROLE_POINT, SG_ITEM_DISC);
    case FOCUS_MOVED: {
        const SgMark *m = mark_of(s, SG_ROLE_MIRROR);
        if (!m || m->radius_mm == 0 || !is(it, SG_ROLE_POINT, SG_ITEM_DISC) || it->at.start != m->at.start) return false;
        shift(it, 0.2, 0);
        return true;
    }
    case FACE_TURNED: if (is(it, SG_ROLE_MIRROR, SG_ITEM_ARC)) it->from_deg += 0.5; return is(it, SG_ROLE_MIRROR, SG_ITEM_ARC);
    case IMAGE_MOVED: {
        const SgMark *m = mark_of(s, SG_ROLE_MIRROR);
        if (!m || m->radius_mm != 0 || it->role != SG_ROLE_VIRTUAL_IMAGE) return false;
        for (SgItem *o = p->item; o < p->item + p->nitems; o++) if (o->role == SG_ROLE_VIRTUAL_IMAGE) shift(o, 18, 0);
        return true;
    }
    case HATCH_FLIPPED:
        if (!is(it, SG_ROLE_MIRROR, SG_ITEM_STROKE) || it->line_mm > 0.6 * PT || it->nxy != 2) return false;
        points(it)[1] = sg_pt(2 * it->xy[0].x_mm - it->xy[1].x_mm, it->xy[1].y_mm);
        return true;
    case WING_TURNED:
        if (!is(it, SG_ROLE_LENS, SG_ITEM_STROKE) || it->nxy != 3) return false;
        for (int k = 0; k < 3; k += 2) points(it)[k].y_mm = 2 * it->xy[1].y_mm - it->xy[k].y_mm;
        return true;
    case AXIS_LONG: if (is(it, SG_ROLE_AXIS, SG_ITEM_STROKE)) points(it)[1].x_mm += 20; return is(it, SG_ROLE_AXIS, SG_ITEM_STROKE);
    case NORMAL_SHORT:
        if (!is(it, SG_ROLE_NORMAL, SG_ITEM_STROKE)) return false;
        points(it)[1] = sg_pt_along(it->xy[1], sg_pt_sub(it->xy[1], it->xy[0]), -0.5);
        return true;
    case LENGTH_OFF: if (is(it, SG_ROLE_DIMENSION, SG_ITEM_FILL)) shift(it, 0.1, 0.1); return is(it, SG_ROLE_DIMENSION, SG_ITEM_FILL);
    case ROWS_CLOSE:
        if (!is(it, SG_ROLE_DIMENSION, SG_ITEM_FILL)) return false;
        for (SgItem *o = p->item; o < p->item + p->nitems; o++)        /* a row above another, moved down */
            if (is(o, SG_ROLE_DIMENSION, SG_ITEM_FILL) && o->at.start != it->at.start && o->xy[0].y_mm > it->xy[0].y_mm + 5 && o->xy[0].y_mm < it->xy[0].y_mm + 8) {
                uint32_t at = it->at.start;
                for (SgItem *k = p->item; k < p->item + p->nitems; k++) if (is(k, SG_ROLE_DIMENSION, SG_ITEM_FILL) && k->at.start == at) shift(k, 0, 3);
                return true;
            }
        return false;
    case ARC_SMALL: if (is(it, SG_ROLE_ANGLE, SG_ITEM_ARC)) it->radius_mm = 5; return is(it, SG_ROLE_ANGLE, SG_ITEM_ARC);
    case ARCS_UNLIKE:
        for (uint32_t i = 0; is(it, SG_ROLE_ANGLE, SG_ITEM_ARC) && i < s->nmarks; i++)
            if (s->mark[i].role == SG_ROLE_ANGLE && s->mark[i].at.start == it->at.start && s->mark[i].equal) { it->radius_mm += 1; return true; }
        return false;
    case SQUARE_BENT:
        if (!is(it, SG_ROLE_ANGLE, SG_ITEM_STROKE) || it->nxy != 3) return false;
        points(it)[1].x_mm += 0.2;
        return true;
    default: return false;
    }
}

/* ---- words ---- */
/* Names and words that are as they should be, but in another's place. */
static bool damage_place(const SgScene *s, SgPage *p, SgItem *it, Damage what)
{
    const SgMark *axis = mark_of(s, SG_ROLE_AXIS), *image = mark_of(s, SG_ROLE_REAL_IMAGE), *other = image ? image : mark_of(s, SG_ROLE_VIRTUAL_IMAGE);
    if (it->shape != SG_ITEM_WORDS || !axis) return false;
    double level = on_page(p, axis->xy[0]).y_mm;
    if (what == NAME_SUNK && it->role == SG_ROLE_POINT && it->xy[0].y_mm > level)
        for (SgItem *row = p->item; row < p->item + p->nitems; row++)
            if (row != it && row->shape == SG_ITEM_WORDS && row->role == SG_ROLE_OBJECT && fabs(row->xy[0].y_mm - it->xy[0].y_mm) < 0.01) { shift(it, 0, 0.1); return true; }
    if (what == WORDS_ACROSS && it->role == SG_ROLE_ANGLE && fabs(axis->xy[0].y_mm - axis->xy[1].y_mm) < 1e-6) { shift(it, 0, 2 * (level - it->xy[0].y_mm) + 2); return true; }
    if (what == NAME_STRAYED && it->role == SG_ROLE_OBJECT && other) {
        SgPoint to = on_page(p, sg_pt_mid(other->xy[0], other->xy[1]));
        shift(it, to.x_mm + 2 - it->xy[0].x_mm, to.y_mm - it->xy[0].y_mm);
        return true;
    }
    return false;
}

static bool damage_words(SgArena *a, SgPage *p, SgItem *it, Damage what)
{
    const SgItem *ray = NULL;
    if (it->shape != SG_ITEM_WORDS) return false;
    for (SgItem *r = p->item; r < p->item + p->nitems && !ray; r++)
        if (is_ray(r) && fabs(r->xy[0].y_mm - r->xy[1].y_mm) < 1e-6 && fabs(r->xy[0].x_mm - r->xy[1].x_mm) > 30) ray = r;
    switch ((int)what) {
    case WORDS_ON_RAY: case WORDS_CLOSE:
        if (!ray) return false;
        shift(it, (ray->xy[0].x_mm + ray->xy[1].x_mm) / 2 - it->xy[0].x_mm, ray->xy[0].y_mm - it->xy[0].y_mm);
        if (what == WORDS_CLOSE) shift(it, 0, -it->words->descent_mm - ray->line_mm / 2 - 0.7);
        return true;
    case WORDS_LOST: return it->role == SG_ROLE_POINT && drop(p, it);
    case WORDS_SMALL: case LETTER_SLANTED: case SPACE_WIDE: {
        if (what == SPACE_WIDE ? it->role != SG_ROLE_DIMENSION || !it->words->nruns : it->role != SG_ROLE_POINT && (it->role != SG_ROLE_OBJECT || what == LETTER_SLANTED)) return false;
        SgWords *w = SG_NEW(a, SgWords);
        *w = *it->words;
        w->run = SG_ARRAY(a, SgRun, w->nruns);
        for (uint32_t k = 0; k < w->nruns; k++) {
            w->run[k] = it->words->run[k];
            if (what == WORDS_SMALL) w->run[k].size_mm *= 7.0 / 9;
            if (what == LETTER_SLANTED) w->run[k].face = SG_FACE_ITALIC;
            if (what == SPACE_WIDE) w->run[k].chars = SG_LIT("4 cm");
        }
        it->words = w;
        return true;
    }
    case LETTER_FAR: if (it->role == SG_ROLE_POINT) shift(it, 0, 12); return it->role == SG_ROLE_POINT;
    case NUMBER_FAR: if (it->role == SG_ROLE_RAY) shift(it, 0, -8); return it->role == SG_ROLE_RAY;
    case NAME_INWARD: if (it->role == SG_ROLE_AXIS) shift(it, -60, 0); return it->role == SG_ROLE_AXIS;
    case WORDS_COLOURED: it->rgb = 0xE45753; return true;
    default: return false;
    }
}

bool page_damage(SgArena *a, const SgScene *scene, SgPage *page, Damage what)
{
    if (what == FRAME_TIGHT) { page->w_mm -= 0.5; return scene->frame_w_mm <= 0; }
    if (what == STEP_LATE) { page->item[0].step = 9; return page->nitems > 1; }
    for (uint32_t i = 0; i < page->nitems; i++) {
        SgItem *it = &page->item[i];
        if (damage_light(scene, page, it, what) || damage_thing(scene, page, it, what) || damage_place(scene, page, it, what) || damage_words(a, page, it, what)) return true;
    }
    return false;
}
