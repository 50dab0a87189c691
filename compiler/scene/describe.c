/* The figure in sentences, from the solved geometry, for those who cannot see it. In: solved values. Out: plain text. */
#include "scene/build.h"
#include <math.h>

static SgStr length(SgStage *g, double mm) { return sg_show_figure(g->s, sg_value_number(mm, SG_DIM_LENGTH), NULL); }
static SgStr name_of(SgStage *g, uint32_t i) { return sg_name_of(g->s, i); }

static void element(SgStage *g, SgBuf *b, uint32_t i)
{
    const SgElement *e = &g->s->thing[i].element;
    SgKind kind = g->scope->symbol[i].kind;
    SgStr n = name_of(g, i), f = length(g, fabs(e->focal_mm)), a = length(g, 2 * e->surface.half_aperture_mm);
    if (e->plane) { sg_putf(b, "A plane mirror %.*s, %.*s long. ", (int)n.n, n.s, (int)a.n, a.s); return; }
    if (kind == SG_KIND_boundary) {
        SgStr r = length(g, fabs(e->surface.radius_mm));
        sg_putf(b, "A %s boundary %.*s of radius %.*s between two media. ", e->surface.radius_mm < 0 ? "convex" : "concave", (int)n.n, n.s, (int)r.n, r.s);
        return;
    }
    bool mirror = kind == SG_KIND_mirror;
    sg_putf(b, "A %s%s %s %.*s of focal length %.*s, %.*s across. ", e->thick ? "thick " : "", mirror ? e->converging ? "concave" : "convex" : e->converging ? "converging" : "diverging",
            mirror ? "mirror" : "lens", (int)n.n, n.s, (int)f.n, f.s, (int)a.n, a.s);
}

static void object(SgStage *g, SgBuf *b, uint32_t i)
{
    const SgObject *o = &g->s->thing[i].object;
    SgStr n = name_of(g, i), h = length(g, fabs(o->height_mm));
    if (o->far) {
        SgStr angle = sg_show_figure(g->s, sg_value_number(o->angle_deg, SG_DIM_ANGLE), NULL);
        sg_putf(b, "The object %.*s is at infinity, its tip %.*s above the axis. ", (int)n.n, n.s, (int)angle.n, angle.s);
        return;
    }
    static const char drawn[SG_SHAPE_COUNT][16] = { "an arrow", "a candle", "a bulb", "a tree", "a person", "a bottle", "a key", "a fish", "a flower", "the letter F" };
    const char *down = o->shape == SG_SHAPE_ARROW ? "long, pointing down" : "tall, upside down";
    sg_putf(b, "The object %.*s is %s %.*s %s", (int)n.n, n.s, drawn[o->shape], (int)h.n, h.s, o->height_mm < 0 ? down : "tall");
    for (uint32_t k = 0; k < g->scope->nsymbols; k++)
        if (sg_is_element(g->scope->symbol[k].kind) && g->s->thing[k].state == SG_VALID) {
            double u = sg_conjugate(&g->s->thing[k].element.surface, 1, sg_homogeneous(o->foot)).object_distance_mm;
            SgStr d = length(g, fabs(u)), m = name_of(g, k);
            sg_putf(b, ", %.*s %s %.*s", (int)d.n, d.s, u < 0 ? "beyond" : "before", (int)m.n, m.s);
            break;
        }
    sg_puts(b, ". ");
}

static void many(SgStage *g, SgBuf *b, uint32_t i)
{
    SgStr n = sg_statement_of(g->s, i)->name == SG_NO_SYM ? SG_LIT("") : name_of(g, i);
    bool beam = g->scope->symbol[i].kind == SG_KIND_beam;
    sg_putf(b, "A %s%s%.*s of %u %s. ", beam ? "beam" : "fan", n.n ? " " : "", (int)n.n, n.s, g->s->thing[i].nmany, beam ? "parallel rays" : "rays from one point");
}

static void ray(SgStage *g, SgBuf *b, uint32_t i, uint32_t number)
{
    const SgPath *p = &g->s->thing[i].path;
    const SgStatement *st = sg_statement_of(g->s, i);
    SgStr n = st->name == SG_NO_SYM ? SG_LIT("") : sg_names_str(&g->c->names, st->name);
    sg_putf(b, "Ray %u%s%.*s", number, n.n ? ", " : "", (int)n.n, n.s);
    if (sg_phrase(st, SG_PHRASE_ray_parallel)) sg_puts(b, " arrives parallel to the axis");
    else if (p->nhits && fabs(p->hit[0].height_mm) < 1e-6) sg_puts(b, " arrives at the middle");
    else if (p->through) sg_puts(b, " arrives along a line through its mark");
    else sg_puts(b, " arrives");
    if (!p->nhits) { sg_puts(b, " and meets nothing. "); return; }
    const SgElement *e = &g->s->thing[p->met[0]].element;
    bool level = fabs(p->leg[p->nhits].direction.y_mm) < 1e-9;
    bool back = sg_pt_dot(p->leg[0].direction, p->leg[p->nhits].direction) < -1 + 1e-12;
    const char *leaves = back && p->nhits == 1 ? "goes back the way it came" : level ? "leaves parallel to the axis"
        : sg_phrase(st, SG_PHRASE_ray_parallel) && !e->plane ? e->focal_mm > 0 ? "leaves through the focal point" : "leaves as if from the focal point"
        : fabs(p->hit[0].height_mm) < 1e-6 ? e->surface.acts == SG_ACTS_REFLECT ? "leaves at the same angle on the other side of the axis" : "goes straight on" : "leaves turned";
    sg_putf(b, " and %s. ", leaves);
}

static void image(SgStage *g, SgBuf *b, uint32_t i)
{
    const SgImage *im = &g->s->thing[i].image;
    SgStr n = name_of(g, i), m = name_of(g, im->by[im->nby - 1]);
    if (im->last.far == SG_AT_INFINITY) { sg_putf(b, "The image %.*s is at infinity: the rays leave %.*s parallel to each other. ", (int)n.n, n.s, (int)m.n, m.s); return; }
    SgStr nature = sg_image_nature(g->s, im), d = length(g, fabs(im->last.distance_mm)), h = length(g, fabs(im->height_mm));
    bool mirror = g->s->thing[im->by[im->nby - 1]].element.surface.acts == SG_ACTS_REFLECT;
    sg_putf(b, "The image %.*s is %.*s, %.*s %s, %.*s %s %.*s. ", (int)n.n, n.s, (int)nature.n, nature.s, (int)h.n, h.s, im->height_mm < 0 ? "long, pointing down" : "tall",
            (int)d.n, d.s, im->last.real == mirror ? "before" : mirror ? "behind" : im->last.real ? "beyond" : "before", (int)m.n, m.s);
}

SgStr sg_scene_describe(SgStage *g, SgStr title)
{
    (void)title;
    SgBuf b = { .arena = g->c->arena };
    uint32_t rays = 0;
    for (int pass = 0; pass < 4; pass++)
        for (uint32_t i = 0; i < g->scope->nsymbols; i++) {
            SgKind kind = g->scope->symbol[i].kind;
            if (g->s->thing[i].state != SG_VALID || sg_is_hidden(sg_statement_of(g->s, i))) continue;
            if (pass == 0 && sg_is_element(kind)) element(g, &b, i);
            if (pass == 1 && kind == SG_KIND_object) object(g, &b, i);
            if (pass == 2 && kind == SG_KIND_ray) ray(g, &b, i, ++rays);
            if (pass == 2 && (kind == SG_KIND_beam || kind == SG_KIND_fan)) { rays++; many(g, &b, i); }
            if (pass == 3 && kind == SG_KIND_image) image(g, &b, i);
        }
    for (uint32_t i = 0; i < g->marks.n; i++) {
        if (g->marks.v[i].role == SG_ROLE_PROTRACTOR) sg_puts(&b, "A protractor is laid on. ");
        if (g->marks.v[i].role == SG_ROLE_RULER) sg_puts(&b, "A ruler is laid on. ");
    }
    if (g->s->scale_words.n) sg_putf(&b, "Drawn %.*s. ", (int)g->s->scale_words.n, g->s->scale_words.s);
    if (b.n && b.v[b.n - 1] == ' ') b.n--;
    return sg_buf_str(&b);
}
