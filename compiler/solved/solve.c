/* One figure solved: its file's values, its parameters, then every node in the order the model gave. In: a model's figure.
   Out: values, surfaces, images and paths. Each node is evaluated once. */
#include "solved/build.h"

static const SgKindSolver *solver(SgKind kind)
{
    static const SgKindSolver *const table[SG_KIND_COUNT] = {
        [SG_KIND_mirror] = &sg_mirror_solver, [SG_KIND_lens] = &sg_lens_solver, [SG_KIND_object] = &sg_object_solver,
        [SG_KIND_image] = &sg_image_solver, [SG_KIND_ray] = &sg_ray_solver, [SG_KIND_point] = &sg_point_solver,
        [SG_KIND_boundary] = &sg_boundary_solver, [SG_KIND_stop] = &sg_stop_solver, [SG_KIND_screen] = &sg_screen_solver, [SG_KIND_eye] = &sg_eye_solver,
        [SG_KIND_beam] = &sg_beam_solver, [SG_KIND_fan] = &sg_fan_solver, [SG_KIND_system] = &sg_system_solver,
    };
    return table[kind];
}

const SgStatement *sg_statement_of(const SgSolved *s, uint32_t symbol) { return &s->figure->scope->statement[s->figure->scope->symbol[symbol].statement]; }

SgStr sg_name_of(const SgSolved *s, uint32_t symbol)
{
    const SgSymbol *sym = &s->figure->scope->symbol[symbol];
    return sym->name == SG_NO_SYM ? SG_LIT("this ray") : sg_names_str(&s->c->names, sym->name);
}

bool sg_word_is(const SgSolved *s, const SgExpr *e, const char *word)
{
    return e->op == SG_E_WORD && sg_str_is(sg_names_str(&s->c->names, e->sym), word);
}

SgValue sg_read(SgSolved *s, uint32_t symbol, SgPhraseId id, bool *given)
{
    const SgPhrase *p = sg_phrase(sg_statement_of(s, symbol), id);
    *given = p && p->n;
    if (!*given) return sg_value_poison();
    const SgPhraseInfo *info = sg_phrase_info(id);
    return sg_eval_as(s, p->value[0], info->type, info->dim, info->word);
}

SgValue sg_property(SgSolved *s, uint32_t symbol, SgPropertyId id, SgSpan at)
{
    (void)at;
    const SgKindSolver *k = solver(s->figure->scope->symbol[symbol].kind);
    if (s->thing[symbol].state == SG_POISON || !k) return sg_value_poison();
    return k->property(s, symbol, id);
}

static void evaluate(SgSolved *s, SgThing *thing, const SgExpr *definition)
{
    if (!definition) { thing->state = SG_POISON; return; }
    thing->value = sg_eval(s, definition);
    thing->state = thing->value.state == SG_POISON ? SG_POISON : SG_VALID;
}

static const SgExpr *bound(const SgSolved *s, uint32_t symbol)
{
    for (uint32_t i = 0; i < s->nwith; i++) if (s->with[i].symbol == symbol) return s->with[i].value;
    for (uint32_t i = 0; i < s->figure->nbindings; i++) if (s->figure->binding[i].symbol == symbol) return s->figure->binding[i].value;
    return NULL;
}

bool sg_worked_out(SgSolved *s, SgSpan at)
{
    if (s->c->work <= SG_MAX_WORK) return false;
    if (!s->broken) sg_wrong(s, SG_MSG_limit, at, "working this script out takes more than 20 million steps; use fewer finds, rays or figures");
    return true;
}

void sg_solve_node(SgSolved *s, SgGraphNode node)
{
    const SgSymbol *symbol = &s->figure->scope->symbol[node.symbol];
    bool light = node.part == SG_PART_LIGHT;
    s->c->work += light ? 1 + s->figure->scope->nsymbols : 1;
    if (symbol->kind == SG_KIND_pick) return;                      /* chosen before */
    if (symbol->kind == SG_KIND_find) { sg_solve_find(s, node.symbol); return; }
    if (symbol->kind == SG_KIND_let) {
        const SgExpr *value = symbol->parameter ? bound(s, node.symbol) : NULL;
        evaluate(s, &s->thing[node.symbol], value ? value : sg_statement_of(s, node.symbol)->definition);
        return;
    }
    const SgKindSolver *k = solver(symbol->kind);
    if (sg_statement_of(s, node.symbol)->damaged) return;          /* it stays poison: what uses it has nothing to say */
    if (k && k->part[node.part]) k->part[node.part](s, node.symbol);
}

/* Every node in order, as far as the limits on work and light allow. */
static void solve_nodes(SgSolved *s)
{
    const SgScope *scope = s->figure->scope;
    uint32_t paths = 0;
    for (uint32_t i = 0; i < scope->norder && !sg_worked_out(s, s->figure->at); i++) {
        SgGraphNode node = scope->order[i];
        sg_solve_node(s, node);
        if (node.part == SG_PART_LIGHT) paths += s->thing[node.symbol].nmany;
        if (paths <= SG_MAX_PATHS) continue;
        sg_wrong(s, SG_MSG_limit, sg_statement_of(s, node.symbol)->head_at, "with this the figure has more than %d rays; make it fewer, or two figures of it", SG_MAX_PATHS);
        return;
    }
    sg_worked_out(s, s->figure->at);
}

void sg_solve_file_node(SgSolved *s, uint32_t symbol)
{
    const SgSymbol *sym = &s->model->file.symbol[symbol];
    if (sym->kind == SG_KIND_let) evaluate(s, &s->file_thing[symbol], s->model->file.statement[sym->statement].definition);
}

SgSolved *sg_solve_set(SgCompile *c, const SgModel *m, const SgFigure *figure, const SgBinding *with, uint32_t nwith, const SgSet *set)
{
    SgSolved *s = SG_NEW(c->arena, SgSolved);
    *s = (SgSolved){ .c = c, .model = m, .figure = figure, .set = *set, .with = with, .nwith = nwith, .broken = figure->scope->circle };
    s->file_thing = SG_ARRAY(c->arena, SgThing, m->file.nsymbols + 1);
    s->thing = SG_ARRAY(c->arena, SgThing, figure->scope->nsymbols + 1);
    if (!s->set.name.n && figure->name != SG_NO_SYM) s->set.name = sg_names_str(&c->names, figure->name);
    if (s->set.versions <= s->set.version) s->set.versions = s->set.version + 1;
    sg_read_settings(s);
    for (uint32_t i = 0; i < m->file.nsymbols; i++) s->file_thing[i].state = SG_POISON;
    for (uint32_t i = 0; i < figure->scope->nsymbols; i++) s->thing[i].state = SG_POISON;
    sg_solve_picks(s);
    for (uint32_t i = 0; i < m->file.norder; i++) sg_solve_file_node(s, m->file.order[i].symbol);
    solve_nodes(s);
    sg_check_demands(s);
    return s;
}

SgSolved *sg_solve(SgCompile *c, const SgModel *m, const SgFigure *figure, const SgBinding *with, uint32_t nwith)
{
    return sg_solve_set(c, m, figure, with, nwith, &(SgSet){ .versions = 1 });
}
