/* A solved figure as marks: what is to be seen and when. In: solved values. Out: marks, captions, title.
   Points of the optics go through untouched; only ends of rays and extents are chosen here. */
#include "scene/build.h"
#include <math.h>

enum { PAST_IMAGE_MM = 12, PAST_THINGS_MM = 10, FAR_OFF = 20, LARGEST_MM = 2000, FARTHEST_MM = 1000000 };

/* ---- marks ---- */

static bool drawn_now(const SgStage *g, const SgStatement *st) { return g->part.whole || st->step <= g->part.upto; }
bool sg_in_part(const SgStage *g, uint32_t symbol) { return drawn_now(g, sg_statement_of(g->s, symbol)); }

static SgStr text_of(SgStage *g, const SgExpr *e) { return sg_eval_text(g->s, e); }

bool sg_is_hidden(const SgStatement *st) { return sg_phrase(st, SG_PHRASE_common_hidden) != NULL; }

SgStr sg_mark_words(SgStage *g, const SgStatement *st)
{
    const SgPhrase *named = sg_phrase(st, SG_PHRASE_common_named);
    if (sg_phrase(st, SG_PHRASE_common_unnamed)) return SG_LIT("");
    if (named && named->n) return text_of(g, named->value[0]);
    if (st->name == SG_NO_SYM) return SG_LIT("");
    SgStr name = sg_names_str(&g->c->names, st->name);
    SgBuf b = { .arena = g->c->arena };
    for (uint32_t i = 0; i < name.n; i++) {                       /* a name is plain text: its underscores mean themselves */
        if (name.s[i] == '_') sg_put_char(&b, '\\');
        sg_put_char(&b, name.s[i]);
    }
    return sg_buf_str(&b);
}

static SgStr colour_of(SgStage *g, const SgStatement *st)
{
    const SgPhrase *p = sg_phrase(st, SG_PHRASE_common_colour);
    if (!p || !p->n) return SG_LIT("");
    return p->value[0]->op == SG_E_WORD ? sg_names_str(&g->c->names, p->value[0]->sym) : text_of(g, p->value[0]);
}

SgMark sg_mark_new(SgStage *g, const SgStatement *st, SgRole role)
{
    SgMark m = { .role = role, .step = st->step, .at = st->head_at, .words = sg_mark_words(g, st), .colour = colour_of(g, st) };
    m.name = st->name == SG_NO_SYM ? SG_LIT("") : sg_names_str(&g->c->names, st->name);
    const SgPhrase *shift = sg_phrase(st, SG_PHRASE_common_shift);
    if (shift && shift->n) {
        SgValue by = sg_eval_as(g->s, shift->value[0], SG_TYPE_POINT, SG_DIM_LENGTH, "shift");
        if (by.state == SG_VALID) m.shift_mm = by.point;
    }
    return m;
}

SgMark *sg_mark_add(SgStage *g, SgMark m, const SgPoint *xy, uint32_t n)
{
    SgPoint *kept = SG_ARRAY(g->c->arena, SgPoint, n);
    for (uint32_t i = 0; i < n; i++) kept[i] = xy[i];
    m.xy = kept;
    m.nxy = n;
    SG_PUSH(g->c->arena, &g->marks, m);
    return &g->marks.v[g->marks.n - 1];
}

/* ---- extents ---- */

bool sg_image_drawn(const SgStage *g, const SgImage *im)
{
    if (im->last.far == SG_AT_INFINITY) return false;
    double paper = (g->things.x1_mm - g->things.x0_mm) * g->s->along;
    if (paper < 100) paper = 100;
    return fabs(im->last.distance_mm) * g->s->along <= FAR_OFF * paper;
}

static bool valid(const SgStage *g, uint32_t i, SgKind kind)
{
    return g->scope->symbol[i].kind == kind && g->s->thing[i].state == SG_VALID;
}
static bool shown(const SgStage *g, uint32_t i) { return !sg_is_hidden(sg_statement_of(g->s, i)) && sg_in_part(g, i); }

/* The focal points of a lone element are always drawn; those of several only where the figure reaches anyway. */
static bool single(const SgStage *g)
{
    uint32_t n = 0;
    for (uint32_t i = 0; i < g->scope->nsymbols; i++) n += sg_is_element(g->scope->symbol[i].kind) && sg_in_part(g, i);
    return n == 1;
}

static void add_things(SgStage *g)
{
    for (uint32_t i = 0; i < g->scope->nsymbols; i++) {
        const SgThing *t = &g->s->thing[i];
        SgKind kind = g->scope->symbol[i].kind;
        if (t->state != SG_VALID || !shown(g, i)) continue;
        if (sg_meets_light(kind)) {
            const SgSurface *f = &t->element.surface;
            for (int side = -1; side <= 1; side += 2)
                g->things = sg_box_add(g->things, sg_pt_along(f->vertex, sg_pt_left(f->along), side * f->half_aperture_mm));
            if (sg_is_element(kind) && !t->element.plane && single(g) && kind != SG_KIND_boundary)
                g->things = sg_box_add(g->things, sg_pt_along(f->exit, f->along, f->acts == SG_ACTS_REFLECT ? -t->element.focal_mm : t->element.focal_mm));
        }
        if (kind == SG_KIND_eye) g->things = sg_box_add(g->things, sg_pt_along(t->place, t->looks, -8 / g->s->along));
        if (kind == SG_KIND_object && !t->object.far) g->things = sg_box_add(sg_box_add(g->things, t->object.foot), t->object.tip);
        if (kind == SG_KIND_point) g->things = sg_box_add(g->things, t->place);
    }
}

void sg_scene_extent(SgStage *g)
{
    g->things = sg_box_empty();
    add_things(g);
    SgBox still = g->things;
    double right = -1e300, left = 1e300, tall = 0;
    for (uint32_t i = 0; i < g->scope->nsymbols; i++) {
        const SgImage *im = &g->s->thing[i].image;
        if (!valid(g, i, SG_KIND_image) || !sg_in_part(g, i) || !sg_image_drawn(g, im)) continue;
        still = sg_box_add(sg_box_add(still, im->foot), im->tip);
        if (!im->last.real) continue;
        if (im->travel.x_mm > 0) { if (im->tip.x_mm > right) right = im->tip.x_mm; }
        else if (im->tip.x_mm < left) left = im->tip.x_mm;
    }
    g->things = still;
    double kx = g->s->along;
    g->end_right_mm = right > -1e300 ? right + PAST_IMAGE_MM / kx : still.x1_mm + PAST_THINGS_MM / kx;
    g->end_left_mm = left < 1e300 ? left - PAST_IMAGE_MM / kx : still.x0_mm - PAST_THINGS_MM / kx;
    for (uint32_t i = 0; i < g->scope->nsymbols; i++) {         /* a lens wants room behind it even with nothing there */
        if ((!valid(g, i, SG_KIND_lens) && !valid(g, i, SG_KIND_boundary)) || !sg_in_part(g, i)) continue;
        double x = g->s->thing[i].element.surface.exit.x_mm;
        if (g->s->light.x_mm > 0 && x + 40 / kx > g->end_right_mm) g->end_right_mm = x + 40 / kx;
        if (g->s->light.x_mm < 0 && x - 40 / kx < g->end_left_mm) g->end_left_mm = x - 40 / kx;
    }
    tall = fabs(still.y0_mm) > fabs(still.y1_mm) ? fabs(still.y0_mm) : fabs(still.y1_mm);
    g->end_height_mm = 1.15 * tall + PAST_THINGS_MM / g->s->up;
}

/* ---- points that come with an element ---- */

static bool uses_property(const SgStage *g, const SgExpr *e, uint32_t symbol, const char *property)
{
    if (!e) return false;
    if (e->op == SG_E_PROPERTY && e->arg[0]->op == SG_E_SYMBOL && !e->arg[0]->in_file && e->arg[0]->symbol == symbol
        && sg_str_is(sg_names_str(&g->c->names, e->sym), property)) return true;
    for (uint32_t i = 0; i < e->nargs; i++) if (uses_property(g, e->arg[i], symbol, property)) return true;
    return false;
}

int sg_first_use(const SgStage *g, uint32_t symbol, const char *property)
{
    int first = -1;
    for (uint32_t i = 0; i < g->scope->nstatements; i++) {
        const SgStatement *st = &g->scope->statement[i];
        bool used = false;
        if (!drawn_now(g, st)) continue;
        for (uint32_t k = 0; k < st->nphrases; k++)
            for (uint32_t j = 0; j < st->phrase[k].n; j++) used = used || uses_property(g, st->phrase[k].value[j], symbol, property);
        if (used && (first < 0 || st->step < first)) first = st->step;
    }
    return first;
}

/* The convention's letter for what is called F, 2F, F′ or C elsewhere. */
static SgStr letter_of(const SgStage *g, const char *letter)
{
    const SgConvention *k = &g->s->convention;
    if (sg_str_is(SG_LIT("C"), letter)) return k->centre;
    if (sg_str_is(k->focus, "F")) return sg_str(letter);
    SgBuf b = { .arena = g->c->arena };
    for (; *letter; letter++) {
        if (*letter == 'F') sg_put_str(&b, k->focus);
        else sg_put_char(&b, *letter);
    }
    return sg_buf_str(&b);
}

static void point_mark(SgStage *g, const SgStatement *st, SgRole role, int step, SgPoint at, const char *letter)
{
    uint32_t curved = 0;
    for (uint32_t i = 0; i < g->scope->nsymbols; i++)            /* the author's own point stands there */
        if (valid(g, i, SG_KIND_point) && shown(g, i) && sg_pt_distance(g->s->thing[i].place, at) < 1e-6) return;
    for (uint32_t i = 0; i < g->scope->nsymbols; i++)
        curved += sg_is_element(g->scope->symbol[i].kind) && sg_in_part(g, i) && !g->s->thing[i].element.plane;
    SgMark m = sg_mark_new(g, st, role);
    SgStr name = sg_names_str(&g->c->names, st->name);
    bool asked;
    SgStr own = SG_LIT("");
    if (!sg_scene_letter(g, st, letter, &own, &asked)) return;
    SgStr is = letter_of(g, letter);
    m.words = asked ? own : curved > 1 && st->name != SG_NO_SYM ? sg_format(g->c->arena, "%.*s_%.*s", (int)is.n, is.s, (int)name.n, name.s) : is;
    if (step > m.step) m.step = step;                  /* never before what it belongs to */
    sg_mark_add(g, m, &at, 1);
}

static bool near_object(const SgStage *g)
{
    for (uint32_t i = 0; i < g->scope->nsymbols; i++) if (valid(g, i, SG_KIND_object) && sg_in_part(g, i) && !g->s->thing[i].object.far) return true;
    return false;
}

void sg_scene_points(SgStage *g, uint32_t symbol)
{
    const SgStatement *st = sg_statement_of(g->s, symbol);
    const SgElement *e = &g->s->thing[symbol].element;
    SgPoint v = e->surface.vertex, a = e->surface.along;
    sg_scene_middle(g, symbol);
    if (e->plane) return;
    if (st->kind == SG_KIND_mirror) {
        bool by_focal = sg_phrase(st, SG_PHRASE_mirror_focal) != NULL;
        int focus = by_focal ? 0 : sg_first_use(g, symbol, "focus"), centre = by_focal ? sg_first_use(g, symbol, "centre") : 0;
        if (sg_phrase(st, SG_PHRASE_mirror_focus_named)) focus = 0;
        if (sg_phrase(st, SG_PHRASE_mirror_centre_named)) centre = 0;
        if (focus >= 0) point_mark(g, st, SG_ROLE_POINT, focus, sg_pt_along(v, a, -e->focal_mm), "F");
        if (centre >= 0) point_mark(g, st, SG_ROLE_POINT, centre, sg_pt_along(v, a, -2 * e->focal_mm), "C");
        return;
    }
    if (e->thick) {
        point_mark(g, st, SG_ROLE_TICK, 0, v, "H");
        point_mark(g, st, SG_ROLE_TICK, 0, e->surface.exit, "H\xE2\x80\xB2");
    }
    static const char *const letter[] = { "F", "F\xE2\x80\xB2", "2F", "2F\xE2\x80\xB2" };
    double front_mm = e->surface.n_before / e->surface.power_per_mm, back_mm = e->surface.n_after / e->surface.power_per_mm;
    /* Who constructs on paper needs both focal points, unless they lie far from all that is given. */
    double reach_mm = g->part.paper ? 50 / g->s->along : 1;
    for (int k = 0; k < 4; k++) {
        SgPoint p = k % 2 ? sg_pt_along(e->surface.exit, a, (k / 2 + 1) * back_mm) : sg_pt_along(v, a, -(k / 2 + 1) * front_mm);
        double slack_mm = k < 2 ? reach_mm : 1;
        bool near = p.x_mm >= g->things.x0_mm - slack_mm && p.x_mm <= g->things.x1_mm + slack_mm, lone = single(g) && st->kind == SG_KIND_lens;
        if (k >= 2 && (e->thick || st->kind == SG_KIND_boundary || !single(g))) continue;
        const SgPhrase *named = sg_phrase(st, st->kind == SG_KIND_boundary ? SG_PHRASE_boundary_focus_named : k < 2 ? SG_PHRASE_lens_focus_named : SG_PHRASE_lens_twice_named);
        bool asked = k == 0 && sg_first_use(g, symbol, "front_focus") >= 0;
        if (named && named->n > (uint32_t)k % 2) near = true;
        if ((k == 1 && lone) || (k == 0 && lone && (asked || near_object(g))) || near) point_mark(g, st, k < 2 ? SG_ROLE_POINT : SG_ROLE_TICK, 0, p, letter[k]);
    }
    if (st->kind == SG_KIND_boundary && sg_first_use(g, symbol, "centre") >= 0)
        point_mark(g, st, SG_ROLE_POINT, sg_first_use(g, symbol, "centre"), sg_pt_along(v, a, -e->surface.radius_mm), "C");
}

/* ---- statements ---- */

/* The outline of a thick lens: its front from above down, its back up again. */
static void glass(SgStage *g, const SgStatement *st, const SgElement *e)
{
    enum { PIECES = 24 };
    SgPoint xy[2 * (PIECES + 1)], along = e->surface.along, up = sg_pt_left(along);
    for (int side = 0; side < 2; side++)
        for (int i = 0; i <= PIECES; i++) {
            double y = e->surface.half_aperture_mm * (1 - 2.0 * i / PIECES) * (side ? -1 : 1), c = side ? e->curvature_back : e->curvature_front;
            double under = 1 - c * c * y * y, sag = c == 0 ? 0 : (1 - sqrt(under > 0 ? under : 0)) / c;
            SgPoint face = side ? e->face_back : e->face_front;
            xy[side * (PIECES + 1) + i] = sg_pt_along(sg_pt_along(face, along, side ? -sag : sag), up, y);
        }
    sg_mark_add(g, sg_mark_new(g, st, SG_ROLE_GLASS), xy, 2 * (PIECES + 1));
}

static void element(SgStage *g, uint32_t symbol)
{
    const SgElement *e = &g->s->thing[symbol].element;
    const SgStatement *st = sg_statement_of(g->s, symbol);
    if (e->thick) { glass(g, st, e); sg_scene_points(g, symbol); return; }
    SgMark m = sg_mark_new(g, st, st->kind == SG_KIND_mirror ? SG_ROLE_MIRROR : st->kind == SG_KIND_boundary ? SG_ROLE_SURFACE : SG_ROLE_LENS);
    m.direction = e->surface.along;
    m.half_mm = e->surface.half_aperture_mm;
    m.radius_mm = e->plane || st->kind == SG_KIND_lens ? 0 : e->surface.radius_mm;
    m.curved = g->arc[symbol];
    m.converging = e->converging;
    sg_mark_add(g, m, &e->surface.vertex, 1);
    sg_scene_points(g, symbol);
}

static void plate(SgStage *g, uint32_t symbol)
{
    const SgSurface *f = &g->s->thing[symbol].element.surface;
    const SgStatement *st = sg_statement_of(g->s, symbol);
    SgMark m = sg_mark_new(g, st, st->kind == SG_KIND_stop ? SG_ROLE_STOP : SG_ROLE_SCREEN);
    m.direction = f->along;
    m.half_mm = f->half_aperture_mm;
    m.hole_mm = f->hole_mm;
    sg_mark_add(g, m, &f->vertex, 1);
}

static void eye(SgStage *g, uint32_t symbol)
{
    SgMark m = sg_mark_new(g, sg_statement_of(g->s, symbol), SG_ROLE_EYE);
    m.direction = sg_pt_scale(g->s->thing[symbol].looks, -1);
    sg_mark_add(g, m, &g->s->thing[symbol].place, 1);
}

static SgMark *arrow(SgStage *g, const SgStatement *st, SgRole role, SgPoint foot, SgPoint tip, SgShape shape, bool reversed)
{
    SgPoint xy[2] = { foot, tip };
    SgMark m = sg_mark_new(g, st, role);
    m.shape = shape;
    m.reversed = reversed;
    return sg_mark_add(g, m, xy, 2);
}

/* The object an image goes back to; a mirror changes left and right of what it leaves upright, and what is inverted is turned. */
static const SgObject *first_object(const SgStage *g, const SgImage *im, bool *reversed)
{
    uint32_t mirrors = 0;
    double tall = im->height_mm;
    for (;;) {
        for (uint32_t i = 0; i < im->nby; i++) mirrors += g->s->thing[im->by[i]].element.surface.acts == SG_ACTS_REFLECT;
        if (g->scope->symbol[im->of].kind != SG_KIND_image) break;
        im = &g->s->thing[im->of].image;
    }
    const SgObject *o = &g->s->thing[im->of].object;
    *reversed = mirrors % 2 == 1 && tall * o->height_mm >= 0;
    return o;
}

static void image(SgStage *g, uint32_t symbol)
{
    const SgImage *im = &g->s->thing[symbol].image;
    const SgStatement *st = sg_statement_of(g->s, symbol);
    if (sg_image_drawn(g, im)) {
        sg_scene_produced(g, symbol);
        bool reversed;
        const SgObject *o = first_object(g, im, &reversed);
        arrow(g, st, im->last.real && !im->would_be ? SG_ROLE_REAL_IMAGE : SG_ROLE_VIRTUAL_IMAGE, im->foot, im->tip, o->shape, reversed)->mistaken = im->mistaken;
        return;
    }
    SgMark m = sg_mark_new(g, st, SG_ROLE_LABEL);
    m.words = g->s->wording->text[SG_TEXT_image_at_infinity];
    if (im->last.far == SG_FINITE) {
        SgStr d = sg_show_figure(g->s, sg_value_number(fabs(im->last.distance_mm), SG_DIM_LENGTH), NULL);
        m.words = SG_FILLED(g->c->arena, g->s->wording, SG_TEXT_image_far_off, { "distance", d });
    }
    sg_mark_add(g, m, &g->last_end, 1);
}

static void dimension(SgStage *g, const SgStatement *st)
{
    const SgPhrase *from = sg_phrase(st, SG_PHRASE_dimension_from), *to = sg_phrase(st, SG_PHRASE_dimension_to);
    if (!from || !to || !from->n || !to->n) return;
    SgValue a = sg_eval_as(g->s, from->value[0], SG_TYPE_POINT, SG_DIM_LENGTH, "from");
    SgValue b = sg_eval_as(g->s, to->value[0], SG_TYPE_POINT, SG_DIM_LENGTH, "to");
    if (a.state != SG_VALID || b.state != SG_VALID) return;
    SgMark m = sg_mark_new(g, st, SG_ROLE_DIMENSION);
    SgValue length = sg_value_number(sg_pt_distance(a.point, b.point), SG_DIM_LENGTH);
    m.ticks = sg_scene_ticks(g, st, SG_PHRASE_dimension_ticks);
    m.words = st->caption ? text_of(g, st->caption) : m.ticks ? SG_LIT("") : sg_show_figure(g->s, length, NULL);
    SgPoint xy[2] = { a.point, b.point };
    sg_mark_add(g, m, xy, 2);
}

/* The half of a line that bounds the angle, on the side light is. */
static SgPoint half_line(SgLineValue l, SgLineValue other)
{
    if (l.half) return sg_pt_scale(l.direction, l.half);
    SgPoint with = other.half ? sg_pt_scale(other.direction, other.half) : other.direction;
    return sg_pt_dot(l.direction, with) < 0 ? sg_pt_scale(l.direction, -1) : l.direction;
}

void sg_scene_angle(SgStage *g, const SgStatement *st)
{
    const SgPhrase *from = sg_phrase(st, SG_PHRASE_angle_from), *to = sg_phrase(st, SG_PHRASE_angle_to);
    if (!from || !to || !from->n || !to->n) return;
    SgValue a = sg_eval_as(g->s, from->value[0], SG_TYPE_LINE, SG_DIM_NUMBER, "from");
    SgValue b = sg_eval_as(g->s, to->value[0], SG_TYPE_LINE, SG_DIM_NUMBER, "to");
    if (a.state != SG_VALID || b.state != SG_VALID) return;
    double t, u;
    if (sg_scene_unequal(g, st, "an angle")) return;
    if (fabs(sg_pt_cross(a.line.direction, b.line.direction)) < 1e-9
        || !sg_line_cross(a.line.through, a.line.direction, b.line.through, b.line.direction, &t, &u)) {
        sg_wrong(g->s, SG_MSG_angle_parallel, st->head_at, "these lines are parallel; they make no angle to draw");
        return;
    }
    SgPoint vertex = sg_pt_along(a.line.through, a.line.direction, t), p = half_line(a.line, b.line), q = half_line(b.line, a.line);
    SgMark m = sg_mark_new(g, st, SG_ROLE_ANGLE);
    m.from_deg = sg_atan2_deg(p.y_mm, p.x_mm);
    m.sweep_deg = sg_atan2_deg(sg_pt_cross(p, q), sg_pt_dot(p, q));
    m.words = st->caption ? text_of(g, st->caption) : sg_show_figure(g->s, sg_value_number(fabs(m.sweep_deg), SG_DIM_ANGLE), NULL);
    m.ticks = sg_scene_ticks(g, st, SG_PHRASE_angle_ticks);
    m.right = sg_phrase(st, SG_PHRASE_angle_right) != NULL;
    if (m.right && !st->caption) {
        SgStr is = m.words;
        m.words = SG_LIT("");
        if (fabs(fabs(m.sweep_deg) - 90) > 1e-6) sg_wrong(g->s, SG_MSG_angle_not_right, st->head_at, "this angle is %.*s and not a right one; take `right` away", (int)is.n, is.s);
    }
    sg_mark_add(g, m, &vertex, 1);
}

static void number_equal_angles(SgStage *g)
{
    uint32_t groups = 0;
    for (uint32_t i = 0; i < g->marks.n; i++)
        for (uint32_t k = 0; k < i; k++) {
            SgMark *a = &g->marks.v[k], *b = &g->marks.v[i];
            if (a->role != SG_ROLE_ANGLE || b->role != SG_ROLE_ANGLE || b->equal) continue;
            if (sg_pt_distance(a->xy[0], b->xy[0]) > 1e-6 || fabs(fabs(a->sweep_deg) - fabs(b->sweep_deg)) > 1e-6) continue;
            if (!a->equal) a->equal = ++groups;
            b->equal = a->equal;
        }
}

static void words_at(SgStage *g, const SgStatement *st, SgPhraseId id, SgRole role)
{
    const SgPhrase *at = sg_phrase(st, id);
    if (!at || !at->n) return;
    SgValue p = sg_eval_as(g->s, at->value[0], sg_phrase_info(id)->type, SG_DIM_LENGTH, "at");
    if (!st->caption) {
        if (!st->damaged) sg_wrong(g->s, SG_MSG_phrase_missing, st->head_at, "%s needs its text in quotes", sg_kind_info(st->kind)->name_text);
        return;
    }
    if (p.state != SG_VALID) return;
    SgMark m = sg_mark_new(g, st, role);
    m.words = text_of(g, st->caption);
    static const struct { SgPhraseId id; double deg; } side[] = { { SG_PHRASE_label_right, 0 }, { SG_PHRASE_label_above, 90 }, { SG_PHRASE_label_left, 180 }, { SG_PHRASE_label_below, 270 } };
    for (int i = 0; i < 4; i++)
        if (sg_phrase(st, side[i].id)) { m.asked_side = true; m.side_deg = side[i].deg; }
    sg_mark_add(g, m, &p.point, 1);
}

static void number_light(SgStage *g)
{
    uint32_t n = 0;
    g->light = SG_ARRAY(g->c->arena, uint32_t, g->scope->nsymbols + 1);
    for (int later = 0; later <= g->part.paper; later++)
        for (uint32_t i = 0; i < g->scope->nsymbols; i++) {
            SgKind kind = g->scope->symbol[i].kind;
            bool light = kind == SG_KIND_ray || kind == SG_KIND_beam || kind == SG_KIND_fan;
            bool now = !g->part.paper || (sg_statement_of(g->s, i)->step > g->part.upto) == later;
            if (light && now && g->s->thing[i].state == SG_VALID && shown(g, i)) g->light[i] = ++n;
        }
}

/* symbol: of the statement, UINT32_MAX none */
static void statement(SgStage *g, uint32_t index, uint32_t symbol)
{
    const SgStatement *st = &g->scope->statement[index];
    if (!drawn_now(g, st) || sg_scene_measure(g, st)) return;
    if (st->kind == SG_KIND_dimension && !sg_is_hidden(st)) dimension(g, st);
    if (st->kind == SG_KIND_angle && !sg_is_hidden(st)) sg_scene_angle(g, st);
    if (st->kind == SG_KIND_label && !sg_is_hidden(st)) words_at(g, st, SG_PHRASE_label_at, SG_ROLE_LABEL);
    if (st->kind == SG_KIND_note && !sg_is_hidden(st)) words_at(g, st, SG_PHRASE_note_at, SG_ROLE_NOTE);
    if (symbol == UINT32_MAX || g->s->thing[symbol].state != SG_VALID || sg_is_hidden(st)) return;
    const SgThing *t = &g->s->thing[symbol];
    if (sg_is_element(st->kind)) element(g, symbol);
    if (st->kind == SG_KIND_stop || st->kind == SG_KIND_screen) plate(g, symbol);
    if (st->kind == SG_KIND_eye) eye(g, symbol);
    if (st->kind == SG_KIND_object && !t->object.far) arrow(g, st, t->object.is_virtual ? SG_ROLE_VIRTUAL_IMAGE : SG_ROLE_OBJECT, t->object.foot, t->object.tip, t->object.shape, false);
    if (st->kind == SG_KIND_image) image(g, symbol);
    if (g->light[symbol]) sg_scene_rays(g, symbol);
    if (st->kind == SG_KIND_point) sg_mark_add(g, sg_mark_new(g, st, SG_ROLE_POINT), &t->place, 1);
}

static void axis(SgStage *g)
{
    bool any = false, curved = false;
    SgBox box = g->things;
    for (uint32_t i = 0; i < g->scope->nsymbols; i++) {
        const SgThing *t = &g->s->thing[i];
        if (t->state != SG_VALID || !sg_is_element(g->scope->symbol[i].kind) || sg_is_hidden(sg_statement_of(g->s, i))) continue;
        any = any || fabs(t->element.surface.vertex.y_mm) < 1e-9;
        curved = curved || !t->element.plane;
    }
    if (!any) return;
    for (uint32_t i = 0; i < g->marks.n; i++)
        for (uint32_t k = 0; k < g->marks.v[i].nxy; k++) box = sg_box_add(box, g->marks.v[i].xy[k]);
    SgMark m = { .role = SG_ROLE_AXIS, .at = g->s->figure->at, .name = SG_LIT("axis"), .words = curved ? g->s->wording->text[SG_TEXT_principal_axis] : SG_LIT(""), .colour = SG_LIT("") };
    SgPoint xy[2] = { { box.x0_mm, 0 }, { box.x1_mm, 0 } };
    if (sg_scene_axis(g, &m, xy)) sg_mark_add(g, m, xy, 2);
}

/* ---- the whole ---- */

static const SgStatement *width_of(const SgScope *scope, uint16_t file)
{
    for (uint32_t i = 0; i < scope->nstatements; i++)
        if (scope->statement[i].kind == SG_KIND_width && scope->statement[i].head_at.file == file) return &scope->statement[i];
    return NULL;
}

/* The frame of the figure; else its width; else its file's. */
static void frame(SgStage *g, SgScene *scene)
{
    const SgStatement *f = g->s->figure->frame, *width = width_of(g->scope, g->s->figure->home);
    if (f && width) {
        sg_wrong(g->s, SG_MSG_phrases_exclude, width->head_at, "a figure has a frame or a width; keep one of the two");
        return;
    }
    if (!f) f = width ? width : width_of(&g->s->model->file, g->s->figure->home);
    if (!f || !f->definition) return;
    bool both = f->kind == SG_KIND_frame;
    const SgPhrase *by = both ? sg_phrase(f, SG_PHRASE_frame_by) : NULL;
    SgValue w = sg_eval_as(g->s, f->definition, SG_TYPE_NUMBER, SG_DIM_LENGTH, both ? "frame" : "width");
    SgValue h = by && by->n ? sg_eval_as(g->s, by->value[0], SG_TYPE_NUMBER, SG_DIM_LENGTH, "by") : both ? sg_value_poison() : w;
    if (w.state != SG_VALID || h.state != SG_VALID) return;
    if (w.number < 10 || h.number < 10 || w.number > LARGEST_MM || h.number > LARGEST_MM) {
        sg_wrong(g->s, SG_MSG_figure_too_large, f->head_at, both ? "a frame is between 1 cm and 2 m each way" : "a width is between 1 cm and 2 m");
        return;
    }
    scene->frame_w_mm = w.number;
    scene->frame_h_mm = both ? h.number : 0;
    scene->frame_at = f->head_at;
}

/* All marks, with the width of what is told by its middle. */
static SgBox marks_box(const SgStage *g)
{
    SgBox box = sg_box_empty();
    for (uint32_t i = 0; i < g->marks.n; i++) {
        const SgMark *m = &g->marks.v[i];
        for (uint32_t k = 0; k < m->nxy; k++) box = sg_box_add(box, m->xy[k]);
        if (m->half_mm > 0)
            for (int side = -1; side <= 1; side += 2) box = sg_box_add(box, sg_pt_along(m->xy[0], sg_pt_left(m->direction), side * m->half_mm));
    }
    return box;
}

static bool too_large(SgStage *g)
{
    if (g->marks.n == 0) return false;
    SgBox box = marks_box(g);
    double w = box.x1_mm - box.x0_mm, h = box.y1_mm - box.y0_mm;
    double far = fabs(box.x0_mm) > fabs(box.x1_mm) ? fabs(box.x0_mm) : fabs(box.x1_mm);
    if (fabs(box.y0_mm) > far) far = fabs(box.y0_mm);
    if (fabs(box.y1_mm) > far) far = fabs(box.y1_mm);
    if (far > FARTHEST_MM) {
        SgStr away = sg_show_length(g->s, far);
        sg_wrong(g->s, SG_MSG_figure_too_large, g->s->figure->at, "something here stands %.*s from where places are counted, and 1 km is the most; count places from nearer by", (int)away.n, away.s);
        return true;
    }
    if (w <= LARGEST_MM && h <= LARGEST_MM) return false;
    SgStr told = sg_show_length(g->s, w > h ? w : h);
    double times = (w > h ? w : h) / 160 / g->s->along, tidy = 1;
    while (tidy * 10 <= times) tidy *= 10;
    tidy *= times <= 2 * tidy ? 2 : times <= 5 * tidy ? 5 : 10;
    SgStr proposed = sg_show(g->s, sg_value_number(tidy, SG_DIM_NUMBER), SG_UNIT_COUNT, 0);
    sg_wrong(g->s, SG_MSG_figure_too_large, g->s->figure->at, "this figure would be %.*s %s on paper, and 2 m is the most; write `scale 1:%.*s`", (int)told.n, told.s, w > h ? "wide" : "high",
             (int)proposed.n, proposed.s);
    return true;
}

/* From the scene's millimetres to the paper's. Only places and sizes: angles are refused under unequal scales. */
static void to_paper(SgStage *g)
{
    double kx = g->s->along, ky = g->s->up;
    for (uint32_t i = 0; i < g->marks.n; i++) {
        SgMark *m = &g->marks.v[i];
        SgPoint *xy = SG_ARRAY(g->c->arena, SgPoint, m->nxy);
        for (uint32_t k = 0; k < m->nxy; k++) xy[k] = sg_pt(m->xy[k].x_mm * kx, m->xy[k].y_mm * ky);
        m->xy = xy;
        m->radius_mm *= kx;
        m->half_mm *= ky;
        m->hole_mm *= ky;
        m->light_from_mm *= kx;
    }
}

/* The scale prints itself, below the figure's left end. */
/* Of the scale's words what is still so when the figure is enlarged. */
SgStr sg_scene_slide_scale(SgSolved *s)
{
    if (!s->to_scale) return s->scale_words;
    double times = s->up / s->along;
    if (times > 1 - 1e-9 && times < 1 + 1e-9) return SG_LIT("");
    SgStr n = sg_show_figure(s, sg_value_number(times, SG_DIM_NUMBER), NULL);
    return SG_FILLED(s->c->arena, s->wording, SG_TEXT_heights_drawn, { "times", n });
}

static void scale_note(SgStage *g)
{
    if (!g->s->scale_words.n) return;
    SgBox box = marks_box(g);
    SgMark m = { .role = SG_ROLE_NOTE, .at = g->s->figure->at, .name = SG_LIT("scale"), .words = g->s->scale_words, .colour = SG_LIT(""),
                 .of_scale = true, .slide_words = sg_scene_slide_scale(g->s) };
    SgPoint at = { box.x0_mm, box.y0_mm - 8 };
    sg_mark_add(g, m, &at, 1);
}

/* Below all else, in lines; it belongs to what is given, so that no step and no sheet is without it. */
static void caution_note(SgStage *g)
{
    enum { LINE = 80 };
    if (!g->s->caution.n) return;
    SgBuf b = { .arena = g->c->arena };
    uint32_t at = 0, n = g->s->caution.n;
    const char *t = g->s->caution.s;
    for (uint32_t i = 0; i < n;) {
        uint32_t end = i, wide = 0;
        while (end < n && t[end] != ' ') wide += (t[end++] & 0xC0) != 0x80;
        if (at > 0 && at + 1 + wide > LINE) { sg_put_char(&b, '\n'); at = 0; }
        else if (at > 0) { sg_put_char(&b, ' '); at++; }
        sg_put(&b, t + i, end - i);
        at += wide;
        i = end + 1;
    }
    SgBox box = marks_box(g);
    SgMark m = { .role = SG_ROLE_NOTE, .at = g->s->figure->at, .name = SG_LIT("caution"), .words = sg_buf_str(&b), .colour = SG_LIT("") };
    SgPoint below = { box.x0_mm, box.y0_mm - 8 };
    sg_mark_add(g, m, &below, 1);
}

/* What a step says or asks, several lines of it joined. */
static SgStr spoken(SgStage *g, int step, SgKind kind)
{
    SgBuf b = { .arena = g->c->arena };
    for (uint32_t i = 0; i < g->scope->nstatements; i++) {
        const SgStatement *st = &g->scope->statement[i];
        if (st->kind != kind || st->step != step) continue;
        if (!st->caption) {
            if (!st->damaged) sg_wrong(g->s, SG_MSG_phrase_missing, st->head_at, "`%s` needs its text in quotes", sg_kind_info(kind)->word);
            continue;
        }
        if (b.n) sg_put_char(&b, ' ');
        sg_put_str(&b, text_of(g, st->caption));
    }
    return b.n ? sg_buf_str(&b) : SG_LIT("");
}

static void words(SgStage *g, SgScene *scene)
{
    const SgFigure *f = g->s->figure;
    SgStr name = sg_names_str(&g->c->names, f->name);
    scene->id = name;
    scene->wording = g->s->wording;
    scene->title = f->title ? text_of(g, f->title) : name;
    scene->step = SG_ARRAY(g->c->arena, SgSceneStep, f->nsteps + 1);
    scene->nsteps = f->nsteps;
    for (uint32_t i = 0; i < f->nsteps; i++) {
        scene->step[i].at = f->step[i].at;
        scene->step[i].caption = f->step[i].caption ? text_of(g, f->step[i].caption) : SG_LIT("");
        scene->step[i].say = spoken(g, (int)i + 1, SG_KIND_say);
        scene->step[i].ask = spoken(g, (int)i + 1, SG_KIND_ask);
        scene->step[i].id = sg_format(g->c->arena, "step%u", i + 1);
    }
}

SgScene *sg_scene_part(SgCompile *c, SgSolved *s, SgSolved *const *uses, uint32_t nuses, SgScenePart part)
{
    SgStage *g = SG_NEW(c->arena, SgStage);
    *g = (SgStage){ .c = c, .s = s, .scope = s->figure->scope, .part = part };
    g->arc = SG_ARRAY(c->arena, bool, g->scope->nsymbols + 1);
    for (uint32_t i = 0; i < g->scope->nsymbols; i++) g->arc[i] = sg_scene_arc(c, s, uses, nuses, i, part.paper);
    SgScene *scene = SG_NEW(c->arena, SgScene);
    scene->enlarged = 1;
    uint32_t next = 0;
    number_light(g);
    sg_scene_extent(g);
    if (g->things.x0_mm > g->things.x1_mm) g->things = (SgBox){ 0, 0, 10, 10 };
    for (uint32_t i = 0; i < g->scope->nstatements; i++) {       /* symbols stand in the order of their statements */
        bool named = next < g->scope->nsymbols && g->scope->symbol[next].statement == i;
        statement(g, i, named ? next++ : UINT32_MAX);
    }
    number_equal_angles(g);
    axis(g);
    sg_scene_cues(g);
    to_paper(g);
    scale_note(g);
    caution_note(g);
    frame(g, scene);
    scene->along = s->along;
    sg_scene_style(c, s, SG_LIT(""), &scene->style);
    words(g, scene);
    if (s->broken || sg_errors(c) || too_large(g)) return NULL;
    sg_scene_describe(g, scene);
    if (s->broken) return NULL;
    scene->mark = g->marks.v;
    scene->nmarks = g->marks.n;
    return scene;
}

SgScene *sg_scene(SgCompile *c, SgSolved *s, SgSolved *const *uses, uint32_t nuses)
{
    return sg_scene_part(c, s, uses, nuses, (SgScenePart){ .whole = true });
}
