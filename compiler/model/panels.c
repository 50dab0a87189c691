/* Panels: each part a copy of a figure with values of its own. In: trees, the figures and the problems' copies. Out: the panels of
   the script itself; those of used files are theirs. Computes nothing. */
#include "model/build.h"

static SgKind kind_of(const SgReading *r, const SgNode *n)
{
    return n->kind == SG_N_STATEMENT ? sg_kind_of(sg_names_str(&r->c->names, n->sym)) : SG_KIND_COUNT;
}

uint32_t sg_model_parts(const SgNode *panel, const SgReading *r)
{
    uint32_t n = 0;
    for (const SgNode *x = panel->first; x; x = x->next) n += kind_of(r, x) == SG_KIND_part;
    return n;
}

static bool constructs(const SgScope *scope)
{
    for (uint32_t i = 0; i < scope->nstatements; i++) if (scope->statement[i].kind == SG_KIND_construct) return true;
    return false;
}

static void read_part(SgReading *r, SgPanel *panel, const SgNode *n)
{
    SgModel *m = r->model;
    SgPanelPart *p = &panel->part[panel->nparts];
    const SgNode *d = sg_model_definition(n);
    *p = (SgPanelPart){ .statement = sg_model_head(r, n, SG_KIND_part, 0), .figure = m->nfigures + m->nforeign + m->nproblems + m->nparts };
    for (uint32_t i = 0; i < panel->nparts; i++)
        if (n->name != SG_NO_SYM && panel->part[i].statement.name == n->name) {
            SgStr name = sg_names_str(&r->c->names, n->name);
            sg_say(r->c, SG_MSG_name_taken, n->name_at, "`%.*s` is already a part of this panel; choose another name", (int)name.n, name.s);
            return;
        }
    if (!d) {
        if (!n->damaged) sg_say(r->c, SG_MSG_panel_form, p->statement.head_at, "a part needs its figure: part near = lamp(u = 6 cm)");
        return;
    }
    SgFigure *f = &m->figure[p->figure];
    *f = (SgFigure){ .name = n->name, .at = p->statement.head_at, .original = p->figure, .whole = n->at };
    if (!sg_model_copy(r, f, d) || !f->scope) return;
    if (constructs(f->scope) && d->kind == SG_N_CALL && d->first) {
        SgStr name = sg_names_str(&r->c->names, d->sym);
        sg_say(r->c, SG_MSG_panel_form, d->at, "`%.*s` has a `construct`, whose steps hang on the values; make a copy of it, figure NAME = %.*s(...), and name that here", (int)name.n, name.s, (int)name.n, name.s);
        return;
    }
    m->nparts++;
    panel->nparts++;
    r->figure = f->scope;
    sg_model_phrases(r, &p->statement, n);
    r->figure = NULL;
}

static bool name_free(SgReading *r, const SgNode *n)
{
    const SgModel *m = r->model;
    SgStr name = n->name == SG_NO_SYM ? SG_LIT("") : sg_names_str(&r->c->names, n->name);
    const char *what = NULL;
    if (n->name == SG_NO_SYM) return true;
    for (uint32_t i = 0; i < m->nfigures; i++) if (m->figure[i].name == n->name) what = "figure";
    for (uint32_t i = 0; i < m->npanels; i++) if (m->panel[i].statement.name == n->name) what = "panel";
    if (what) sg_say(r->c, SG_MSG_name_taken, n->name_at, "`%.*s` is already a %s; choose another name", (int)name.n, name.s, what);
    return !what;
}

static void read_panel(SgReading *r, SgPanel *panel, const SgNode *n)
{
    panel->statement = sg_model_head(r, n, SG_KIND_panel, 0);
    panel->part = SG_ARRAY(r->c->arena, SgPanelPart, sg_model_parts(n, r) + 1);
    sg_model_phrases(r, &panel->statement, n);
    bool any = false;
    for (const SgNode *x = n->first; x; x = x->next) {
        SgKind kind = kind_of(r, x);
        if (x->kind != SG_N_STATEMENT) continue;
        any = true;
        if (kind == SG_KIND_COUNT || !sg_model_stands(r, x, kind, SG_IN_PANEL)) continue;
        if (panel->nparts == SG_MAX_PARTS) {
            sg_say(r->c, SG_MSG_limit, x->sym_at, "a panel holds at most %d parts; make two panels of it", SG_MAX_PARTS);
            return;
        }
        read_part(r, panel, x);
    }
    if (!any && !n->damaged) sg_say(r->c, SG_MSG_panel_form, panel->statement.head_at, "a panel holds parts: part near = lamp(u = 6 cm)");
}

void sg_model_panels(SgReading *r, const SgNode *const *node, uint32_t n)
{
    SgModel *m = r->model;
    m->panel = SG_ARRAY(r->c->arena, SgPanel, n + 1);
    for (uint32_t i = 0; i < n; i++)
        if (name_free(r, node[i])) read_panel(r, &m->panel[m->npanels++], node[i]);
}
