/* How far a reflected ray that a student draws by protractor may be turned. In: a ray, what of the figure is given. Out: the square
   of that, in units of one angle's error. At a mirror the normal is drawn, which counts twice, the angle read and set again; the
   normal of a curved mirror at its vertex is the axis. A ray that is given, and one that meets anything else, is read only. */
#include "sheet/build.h"
#include <math.h>

static bool normal_given(const SgSolved *s, uint32_t given_up_to, uint32_t element)
{
    const SgScope *scope = s->figure->scope;
    for (uint32_t i = 0; i < scope->nstatements; i++) {
        const SgStatement *st = &scope->statement[i];
        const SgPhrase *to = st->kind == SG_KIND_normal ? sg_phrase(st, SG_PHRASE_normal_to) : NULL;
        if (to && to->n && st->step <= (int)given_up_to && to->value[0]->op == SG_E_SYMBOL && !to->value[0]->in_file && to->value[0]->symbol == element) return true;
    }
    return false;
}

double sg_sheet_turned(const SgSolved *s, uint32_t given_up_to, const SgExpr *e)
{
    const SgScope *scope = s->figure->scope;
    bool property = e->op == SG_E_PROPERTY && e->arg[0]->op == SG_E_SYMBOL && !e->arg[0]->in_file && scope->symbol[e->arg[0]->symbol].kind == SG_KIND_ray;
    if (!property || !sg_str_is(sg_names_str(&s->c->names, e->sym), "deviation")) return 1;
    const SgThing *t = &s->thing[e->arg[0]->symbol];
    const SgStatement *st = sg_statement_of(s, e->arg[0]->symbol);
    double squares = 1;
    if (t->state != SG_VALID || st->step <= (int)given_up_to) return 1;
    for (uint32_t i = 0; i < t->path.nhits; i++) {
        const SgElement *m = &s->thing[t->path.met[i]].element;
        if (m->surface.acts != SG_ACTS_REFLECT || (!m->plane && fabs(t->path.hit[i].height_mm) > 1e-6)) return 1;
        squares += !m->plane || normal_given(s, given_up_to, t->path.met[i]) ? 2 : 6;
    }
    return squares;
}
