/* What a key shows of a problem's convention: its images worked out, its answers signed. In: a problem worked out. Out: lines of
   markup, values as shown. */
#include "sheet/build.h"
#include "solved/worked.h"
#include <math.h>

/* The image whose property a value asked for is, or UINT32_MAX. */
static uint32_t image_of(const SgSolved *s, const SgExpr *e)
{
    bool property = e->op == SG_E_PROPERTY && e->arg[0]->op == SG_E_SYMBOL && !e->arg[0]->in_file;
    return property && s->figure->scope->symbol[e->arg[0]->symbol].kind == SG_KIND_image ? e->arg[0]->symbol : UINT32_MAX;
}

/* Whether one image is on the way of light to another, so that what is worked out for that holds it. */
static bool leads_on(const SgSolved *s, uint32_t one, uint32_t other)
{
    SgChain part, whole;
    return other != UINT32_MAX && sg_image_chain(s, one, &part) && sg_image_chain(s, other, &whole) && part.n < whole.n && sg_chain_begins(&whole, &part);
}

/* Every image that is asked about, once. */
void sg_sheet_work(SgSolved *s, SgSheetProblem *p)
{
    SG_VEC(SgStr) all = { 0 };
    for (uint32_t i = 0; i < s->figure->scope->nsymbols; i++) {
        SgStr line[SG_WORKED_LINES];
        bool asked = false;
        for (uint32_t k = 0; k < p->nasked; k++) asked = asked || image_of(s, p->asked[k].expression) == i;
        for (uint32_t k = 0; k < p->nasked && asked; k++) asked = !leads_on(s, i, image_of(s, p->asked[k].expression));
        uint32_t n = asked ? sg_worked(s, i, p->figures, line) : 0;
        for (uint32_t k = 0; k < n; k++) SG_PUSH(s->c->arena, &all, line[k]);
    }
    p->worked = all.v;
    p->nworked = all.n;
}

static void turn(SgAccept *a)
{
    double from = a->from;
    a->from = -a->to;
    a->to = -from;
}

SgAsked sg_sheet_shown(const SgSolved *s, const SgAsked *asked)
{
    SgAsked a = *asked;
    SgStr letter;
    int sign;
    uint32_t image = image_of(s, a.expression);
    if (image == UINT32_MAX || a.value.state != SG_VALID || a.value.type != SG_TYPE_NUMBER) return a;
    SgStr name = sg_names_str(&s->c->names, a.expression->sym);
    if (!sg_in_convention(s, image, sg_str_keep(s->c->arena, name.s, name.n).s, &letter, &sign)) return a;
    if (sign > 0 || (sign == 0 && a.value.number >= 0)) return a;
    a.value.number = -a.value.number;
    turn(&a.drawn);
    turn(&a.calculated);
    return a;
}
