/* Sheets: their settings and problems, each problem a copy of a figure with values of its own. In: trees, the figures. Out: the
   sheets of the script itself; those of used files are theirs. Computes nothing. */
#include "model/build.h"

static bool is_problem(const SgReading *r, const SgNode *n)
{
    return n->kind == SG_N_STATEMENT && sg_kind_of(sg_names_str(&r->c->names, n->sym)) == SG_KIND_problem;
}

uint32_t sg_model_problems(const SgReading *r, const SgNode *sheet)
{
    uint32_t n = 0;
    for (const SgNode *x = sheet->first; x; x = x->next) n += is_problem(r, x) && sg_model_definition(x);
    return n;
}

/* The problem's figure, or SG_NO_FIGURE after a message or when it has none. */
static int figure_of(SgReading *r, const SgNode *n)
{
    SgModel *m = r->model;
    const SgNode *d = sg_model_definition(n);
    if (!d) return SG_NO_FIGURE;
    uint32_t index = m->nfigures + m->nforeign + m->nproblems;
    SgFigure *f = &m->figure[index];
    *f = (SgFigure){ .name = n->name, .at = n->name == SG_NO_SYM ? n->sym_at : n->name_at, .original = index, .whole = n->at, .on_sheet = true };
    if (!sg_model_copy(r, f, d) || !f->scope) return SG_NO_FIGURE;
    m->nproblems++;
    return (int)index;
}

static void read_problem(SgReading *r, SgSheet *sheet, const SgNode *n)
{
    SgProblem *p = &sheet->problem[sheet->nproblems];
    *p = (SgProblem){ .statement = sg_model_head(r, n, SG_KIND_problem, 0), .figure = SG_NO_FIGURE };
    for (uint32_t i = 0; i < sheet->nproblems; i++) {
        if (n->name == SG_NO_SYM || sheet->problem[i].statement.name != n->name) continue;
        SgStr name = sg_names_str(&r->c->names, n->name);
        SgDiag *d = sg_say(r->c, SG_MSG_name_taken, n->name_at, "`%.*s` is already a problem of this sheet; choose another name", (int)name.n, name.s);
        sg_note(r->c, d, sheet->problem[i].statement.name_at, "it is first declared here");
        return;
    }
    const SgNode *definition = sg_model_definition(n);
    p->figure = figure_of(r, n);
    if (definition) p->figure_at = definition->at;
    sheet->nproblems++;
    if (definition && p->figure == SG_NO_FIGURE) return;         /* what its texts name is not known */
    r->figure = p->figure == SG_NO_FIGURE ? NULL : r->model->figure[p->figure].scope;
    sg_model_phrases(r, &p->statement, n);
    r->figure = NULL;
    if (!p->statement.caption && !p->statement.damaged)
        sg_say(r->c, SG_MSG_problem_form, p->statement.head_at, "a problem needs its question, a text in quotes: problem q = lamp \"Draw two rays from the tip of the candle.\"");
}

static void read_sheet(SgReading *r, SgSheet *sheet, const SgNode *n)
{
    uint32_t all = 0;
    for (const SgNode *x = n->first; x; x = x->next) all += is_problem(r, x);
    sheet->statement = sg_model_head(r, n, SG_KIND_sheet, 0);
    sheet->problem = SG_ARRAY(r->c->arena, SgProblem, all + 1);
    sg_model_phrases(r, &sheet->statement, n);
    for (const SgNode *x = n->first; x; x = x->next) {
        if (x->kind != SG_N_STATEMENT) continue;
        SgKind kind = sg_kind_of(sg_names_str(&r->c->names, x->sym));
        if (kind == SG_KIND_COUNT || !sg_model_stands(r, x, kind, SG_IN_SHEET)) continue;
        if (sheet->nproblems == SG_MAX_PROBLEMS) {
            sg_say(r->c, SG_MSG_limit, x->sym_at, "a sheet holds at most %d problems; make two sheets of it", SG_MAX_PROBLEMS);
            return;
        }
        if (kind == SG_KIND_convention) {
            SgStatement *s = SG_NEW(r->c->arena, SgStatement);
            *s = sg_model_head(r, x, kind, 0);
            sg_model_phrases(r, s, x);
            sheet->convention = s;
        }
        if (kind == SG_KIND_problem) read_problem(r, sheet, x);
    }
}

void sg_model_sheets(SgReading *r, const SgNode *const *node, uint32_t n)
{
    SgModel *m = r->model;
    m->sheet = SG_ARRAY(r->c->arena, SgSheet, n + 1);
    r->sheet = true;
    for (uint32_t i = 0; i < n; i++) {
        bool taken = false;
        for (uint32_t k = 0; k < m->nsheets; k++) {
            if (node[i]->name == SG_NO_SYM || m->sheet[k].statement.name != node[i]->name) continue;
            SgStr name = sg_names_str(&r->c->names, node[i]->name);
            SgDiag *d = sg_say(r->c, SG_MSG_name_taken, node[i]->name_at, "`%.*s` is already a sheet; choose another name", (int)name.n, name.s);
            sg_note(r->c, d, m->sheet[k].statement.name_at, "it is first declared here");
            taken = true;
        }
        if (!taken) read_sheet(r, &m->sheet[m->nsheets++], node[i]);
    }
    r->sheet = false;
}
