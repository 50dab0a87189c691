/* What is found backwards: an object from its image, a focal length from both. In: a solved figure, an expression. Out: how it is
   drawn, and the expression's value of such a drawing. Light that is turned round goes the same way, so an object is constructed
   from its image as an image is from its object, with F and F' changed over. */
#include "sheet/build.h"
#include <math.h>

typedef struct { const SgSolved *s; uint32_t given_up_to; uint32_t object, element; } Seeking;

static bool answered(const Seeking *k, uint32_t symbol) { return sg_statement_of(k->s, symbol)->step > (int)k->given_up_to; }

static bool unmarked(const Seeking *k, uint32_t element, SgKind kind)
{
    const SgStatement *st = sg_statement_of(k->s, element);
    bool lens = kind == SG_KIND_lens;
    return sg_phrase(st, lens ? SG_PHRASE_lens_unmarked : SG_PHRASE_mirror_unmarked) != NULL
        && !sg_sheet_printed(k->s, k->given_up_to, element, lens ? "back_focus" : "focus") && !sg_sheet_printed(k->s, k->given_up_to, element, lens ? "front_focus" : "centre");
}

static bool of_focal_length(SgStr word) { return sg_str_is(word, "focal") || sg_str_is(word, "radius") || sg_str_is(word, "power"); }

static void look(Seeking *k, const SgExpr *e)
{
    if (e->op == SG_E_PROPERTY && e->arg[0]->op == SG_E_SYMBOL && !e->arg[0]->in_file) {
        uint32_t symbol = e->arg[0]->symbol;
        SgKind kind = k->s->figure->scope->symbol[symbol].kind;
        if (kind == SG_KIND_object && answered(k, symbol)) k->object = symbol;
        if ((kind == SG_KIND_lens || kind == SG_KIND_mirror) && of_focal_length(sg_names_str(&k->s->c->names, e->sym)) && (answered(k, symbol) || unmarked(k, symbol, kind))) k->element = symbol;
    }
    for (uint32_t i = 0; i < e->nargs; i++) look(k, e->arg[i]);
}

/* A given image, by one element, of the object or by the element that is sought. */
static uint32_t given_image(const Seeking *k)
{
    const SgScope *scope = k->s->figure->scope;
    for (uint32_t i = 0; i < scope->nsymbols; i++) {
        const SgImage *im = &k->s->thing[i].image;
        if (scope->symbol[i].kind != SG_KIND_image || k->s->thing[i].state != SG_VALID || im->nby != 1 || answered(k, i) || sg_phrase(sg_statement_of(k->s, i), SG_PHRASE_common_hidden)) continue;
        if (k->object != UINT32_MAX ? im->of == k->object && !answered(k, im->by[0]) : im->by[0] == k->element && !answered(k, im->of)) return i;
    }
    return UINT32_MAX;
}

static void turn_round(const SgSolved *s, SgPaperCase *paper)
{
    const SgImage *im = &s->thing[paper->image].image;
    const SgObject *o = &s->thing[im->of].object;
    SgPencilStage *e = &paper->pencil.stage[0];
    if (!e->mirror) {
        double front = e->front_mm;
        e->vertex = sg_pt_along(e->vertex, e->along, e->gap_mm);
        e->along = sg_pt_scale(e->along, -1);
        e->front_mm = e->back_mm;
        e->back_mm = front;
    }
    SgPencilRays *list[] = { &e->tip, &e->foot };
    for (int k = 0; k < 2; k++)
        for (uint32_t i = 0; i < list[k]->n; i++) {
            if (list[k]->ray[i] == SG_PENCIL_PARALLEL) list[k]->ray[i] = SG_PENCIL_FOCUS;
            else if (list[k]->ray[i] == SG_PENCIL_FOCUS) list[k]->ray[i] = SG_PENCIL_PARALLEL;
        }
    paper->pencil.tip = sg_pt(im->tip.x_mm * s->along, im->tip.y_mm * s->up);
    paper->pencil.foot = sg_pt(im->foot.x_mm * s->along, im->foot.y_mm * s->up);
    e->end_mm = sg_pt_distance(o->foot, s->thing[im->by[0]].element.surface.vertex) * s->along + 12;
}

SgSought sg_sheet_sought(SgSolved *s, uint32_t given_up_to, const SgExpr *e)
{
    SgSought out = { .sort = SG_SOUGHT_NOTHING };
    Seeking k = { s, given_up_to, UINT32_MAX, UINT32_MAX };
    look(&k, e);
    if ((k.object == UINT32_MAX) == (k.element == UINT32_MAX)) return out;
    uint32_t image = given_image(&k);
    if (image == UINT32_MAX || !sg_sheet_case(s, given_up_to, image, &out.paper) || out.paper.pencil.nstages != 1) return out;
    const SgPencilStage *stage = &out.paper.pencil.stage[0];
    const SgImage *im = &s->thing[image].image;
    if (k.element != UINT32_MAX && (stage->plane || stage->foot_off || fabs(stage->gap_mm) > 1e-9)) return out;
    out.image_tip = sg_pt(im->tip.x_mm * s->along, im->tip.y_mm * s->up);
    out.symbol = k.element != UINT32_MAX ? k.element : k.object;
    out.found = k.element != UINT32_MAX && answered(&k, k.element);
    if (k.object != UINT32_MAX) turn_round(s, &out.paper);
    out.sort = k.element != UINT32_MAX ? SG_SOUGHT_FOCAL : SG_SOUGHT_OBJECT;
    return out;
}

uint32_t sg_sheet_find(SgSolved *s, const SgSought *k, const SgExpr *e, const SgHand *hand, const double *error, double *value)
{
    SgThing *t = &s->thing[k->symbol], kept = *t;
    SgPencilDrawing d;
    double focal_mm = 0;
    bool focal = k->sort == SG_SOUGHT_FOCAL;
    uint32_t n = focal ? sg_pencil_focal(&k->paper.pencil.stage[0], k->paper.pencil.tip, k->image_tip, k->found, hand, error, &focal_mm)
                       : sg_pencil_draw(&k->paper.pencil, hand, error, &d);
    if (!n || (focal && fabs(focal_mm) < 1e-9)) return 0;
    if (focal) {
        t->element.focal_mm = focal_mm / s->along;
        t->element.surface.power_per_mm = 1 / t->element.focal_mm;
        t->element.surface.radius_mm = 2 * t->element.focal_mm;
    } else {
        t->object.tip = sg_pt(d.image[0].tip.x_mm / s->along, d.image[0].tip.y_mm / s->up);
        t->object.foot = sg_pt(d.image[0].foot.x_mm / s->along, d.image[0].foot.y_mm / s->up);
        t->object.height_mm = d.image[0].height_mm / s->up;
    }
    SgValue v = sg_eval(s, e);
    *t = kept;
    *value = v.number;
    return v.state == SG_VALID && v.type == SG_TYPE_NUMBER ? n : 0;
}
