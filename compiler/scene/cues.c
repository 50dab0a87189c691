/* What a step changes about things already there: show, fade, hide, emphasise. In: statements of the steps. Out: cues of marks.
   Nothing moves; the last cue lasts until another. */
#include "scene/build.h"

static void cue(SgStage *g, SgMark *m, int step, char look)
{
    if (m->step > step || (m->ncues && m->cue[m->ncues - 1].look == look)) return;
    if (!m->ncues && look == 's') return;
    SgCue *all = SG_ARRAY(g->c->arena, SgCue, m->ncues + 1);
    uint32_t n = m->ncues;
    for (uint32_t i = 0; i < n; i++) all[i] = m->cue[i];
    if (n && all[n - 1].step == step) n--;             /* the later word of one step counts */
    all[n++] = (SgCue){ step, look };
    m->cue = all;
    m->ncues = n;
}

static bool named(const SgStage *g, const SgMark *m, const SgStatement *st)
{
    for (uint32_t i = 0; i < st->nlist; i++) {
        const SgExpr *e = st->list[i];
        if (e->op != SG_E_SYMBOL || e->in_file) continue;
        SgSym name = g->scope->symbol[e->symbol].name;
        if (name != SG_NO_SYM && sg_str_same(m->name, sg_names_str(&g->c->names, name))) return true;
    }
    return false;
}

/* On a sheet the answer's steps change nothing of what is given: it stands there before them, and in the key unmoved. */
static bool out_of_reach(const SgStage *g, const SgMark *m, const SgStatement *st)
{
    return g->part.paper && st->step > g->part.upto && m->step <= g->part.upto;
}

/* What emphasis lets fade: light, images and marks; never the axis, mirrors, lenses and the object itself. */
static bool may_fade(const SgMark *m)
{
    return m->role == SG_ROLE_RAY || m->role == SG_ROLE_PRODUCED || m->role == SG_ROLE_AID || m->role == SG_ROLE_REAL_IMAGE || m->role == SG_ROLE_VIRTUAL_IMAGE
        || m->role == SG_ROLE_DIMENSION || m->role == SG_ROLE_ANGLE || m->role == SG_ROLE_LABEL;
}

static bool check_list(SgStage *g, const SgStatement *st)
{
    for (uint32_t i = 0; i < st->nlist; i++) {
        const SgExpr *e = st->list[i];
        bool thing = e->op == SG_E_SYMBOL && !e->in_file && g->scope->symbol[e->symbol].kind != SG_KIND_let;
        if (thing || e->op == SG_E_POISON) continue;
        sg_wrong(g->s, SG_MSG_type_wrong, e->at, "`%s` is followed by names of things in this figure, such as a ray's", sg_kind_info(st->kind)->word);
        return false;
    }
    if (st->nlist || st->damaged) return true;
    sg_wrong(g->s, SG_MSG_type_wrong, st->head_at, "`%s` needs the names of things after it; write them, or take it away", sg_kind_info(st->kind)->word);
    return false;
}

void sg_scene_cues(SgStage *g)
{
    for (uint32_t i = 0; i < g->scope->nstatements; i++) {
        const SgStatement *st = &g->scope->statement[i];
        bool emphasis = st->kind == SG_KIND_emphasise;
        char look = st->kind == SG_KIND_show || emphasis ? 's' : st->kind == SG_KIND_fade ? 'f' : st->kind == SG_KIND_hide ? 'h' : 0;
        if (!look || !check_list(g, st)) continue;
        for (uint32_t k = 0; k < g->marks.n; k++) {
            SgMark *m = &g->marks.v[k];
            if (out_of_reach(g, m, st)) continue;
            if (named(g, m, st)) cue(g, m, st->step, look);
            else if (emphasis && may_fade(m) && !(m->ncues && m->cue[m->ncues - 1].look == 'h')) cue(g, m, st->step, 'f');
        }
    }
}
