/* Which picks some demand ties together, and what changes with them. In: the needs of all nodes of a scope. Out: groups of
   picks, each with what is to be tried again. Iterative: a chain of any length uses no stack. */
#include "model/build.h"
#include <string.h>

typedef struct {
    SgCompile *c; SgScope *scope;
    const SgNeeds *need;
    bool in_file;
    uint32_t nnodes;
    uint8_t *reached;            /* a node each */
    uint32_t *stack;
    uint32_t *pick; uint32_t npicks;       /* symbols by name */
    uint32_t *root;              /* of each pick: an earlier one it is tied to, itself for the first */
    uint32_t *tied;              /* of each statement: the first pick its demand reaches, npicks none */
} Picks;

static bool is_demand(const SgStatement *s) { return s->kind == SG_KIND_require || s->kind == SG_KIND_differ; }

static void reach(Picks *p, SgNeeds from)
{
    uint32_t depth = 0;
    SgNeeds next = from;
    for (;;) {
        for (uint32_t i = 0; i < next.n; i++)
            if (!p->reached[next.v[i]]) {
                p->reached[next.v[i]] = 1;
                p->stack[depth++] = next.v[i];
            }
        if (!depth) return;
        next = p->need[p->stack[--depth]];
    }
}

static void reach_demand(Picks *p, const SgStatement *s)
{
    if (s->definition) reach(p, sg_model_needs_of(p->c, p->scope, s->definition, p->in_file));
    for (uint32_t k = 1; k < s->nlist; k++) reach(p, sg_model_needs_of(p->c, p->scope, s->list[k], p->in_file));
}

static int by_name(const Picks *p, uint32_t a, uint32_t b)
{
    SgStr x = sg_names_str(&p->c->names, p->scope->symbol[a].name), y = sg_names_str(&p->c->names, p->scope->symbol[b].name);
    int d = memcmp(x.s, y.s, x.n < y.n ? x.n : y.n);
    return d ? d : x.n < y.n ? -1 : x.n > y.n;
}

static void list_picks(Picks *p)
{
    for (uint32_t i = 0; i < p->scope->nsymbols; i++) {
        if (p->scope->symbol[i].kind != SG_KIND_pick) continue;
        uint32_t k = p->npicks++;
        for (; k && by_name(p, i, p->pick[k - 1]) < 0; k--) p->pick[k] = p->pick[k - 1];
        p->pick[k] = i;
    }
}

/* The values to choose from may hang on lets only: so each group knows them before anything is tried. */
static void check_ranges(Picks *p)
{
    for (uint32_t k = 0; k < p->npicks; k++) {
        memset(p->reached, 0, p->nnodes);
        reach(p, p->need[p->pick[k] * SG_PARTS]);
        for (uint32_t i = 0; i < p->scope->nsymbols; i++) {
            bool used = p->reached[i * SG_PARTS] || p->reached[i * SG_PARTS + 1] || p->reached[i * SG_PARTS + 2];
            if (!used || p->scope->symbol[i].kind == SG_KIND_let) continue;
            const SgSymbol *s = &p->scope->symbol[p->pick[k]];
            SgStr name = sg_names_str(&p->c->names, p->scope->symbol[i].name == SG_NO_SYM ? s->name : p->scope->symbol[i].name);
            sg_say(p->c, SG_MSG_pick_form, s->at, "what a pick chooses from hangs on numbers and `let`s only, and this one hangs on `%.*s`; write numbers here and put the condition into `require`", (int)name.n, name.s);
            break;
        }
    }
}

static uint32_t root_of(const Picks *p, uint32_t k)
{
    while (p->root[k] != k) k = p->root[k];
    return k;
}

static void tie(Picks *p)
{
    for (uint32_t k = 0; k < p->npicks; k++) p->root[k] = k;
    for (uint32_t i = 0; i < p->scope->nstatements; i++) {
        p->tied[i] = p->npicks;
        if (!is_demand(&p->scope->statement[i])) continue;
        memset(p->reached, 0, p->nnodes);
        reach_demand(p, &p->scope->statement[i]);
        for (uint32_t k = 0; k < p->npicks; k++) {
            if (!p->reached[p->pick[k] * SG_PARTS]) continue;
            if (p->tied[i] == p->npicks) { p->tied[i] = k; continue; }
            uint32_t a = root_of(p, p->tied[i]), b = root_of(p, k);
            p->root[a < b ? b : a] = a < b ? a : b;
        }
    }
}

/* What the demands of a group need: before its picks, and after them. */
static void part_nodes(Picks *p, SgPickGroup *g)
{
    uint8_t *moved = SG_ARRAY(p->c->arena, uint8_t, p->nnodes + 1);
    SgGraphNode *once = SG_ARRAY(p->c->arena, SgGraphNode, p->scope->norder + 1), *trial = SG_ARRAY(p->c->arena, SgGraphNode, p->scope->norder + 1);
    memset(p->reached, 0, p->nnodes);
    for (uint32_t k = 0; k < g->npicks; k++) {
        p->reached[g->pick[k] * SG_PARTS] = moved[g->pick[k] * SG_PARTS] = 1;
        reach(p, p->need[g->pick[k] * SG_PARTS]);
    }
    for (uint32_t i = 0; i < g->ndemands; i++) reach_demand(p, &p->scope->statement[g->demand[i]]);
    for (uint32_t i = 0; i < p->scope->norder; i++) {
        SgGraphNode o = p->scope->order[i];
        uint32_t node = o.symbol * SG_PARTS + (uint32_t)o.part;
        if (!p->reached[node] || p->scope->symbol[o.symbol].kind == SG_KIND_pick) continue;
        for (uint32_t k = 0; k < p->need[node].n; k++) if (moved[p->need[node].v[k]]) moved[node] = 1;
        if (moved[node]) trial[g->ntrial++] = o;
        else once[g->nonce++] = o;
    }
    g->once = once;
    g->trial = trial;
}

void sg_model_picks(SgCompile *c, SgScope *scope, const SgNeeds *need, bool in_file)
{
    Picks p = { .c = c, .scope = scope, .need = need, .in_file = in_file, .nnodes = scope->nsymbols * SG_PARTS };
    p.pick = SG_ARRAY(c->arena, uint32_t, scope->nsymbols + 1);
    list_picks(&p);
    if (!p.npicks) return;
    p.reached = SG_ARRAY(c->arena, uint8_t, p.nnodes + 1);
    p.stack = SG_ARRAY(c->arena, uint32_t, p.nnodes + 1);
    p.root = SG_ARRAY(c->arena, uint32_t, p.npicks + 1);
    p.tied = SG_ARRAY(c->arena, uint32_t, scope->nstatements + 1);
    check_ranges(&p);
    tie(&p);
    SgPickGroup *group = SG_ARRAY(c->arena, SgPickGroup, p.npicks);
    for (uint32_t k = 0; k < p.npicks; k++) {
        if (root_of(&p, k) != k) continue;
        SgPickGroup *g = &group[scope->ngroups++];
        uint32_t *pick = SG_ARRAY(c->arena, uint32_t, p.npicks), *demand = SG_ARRAY(c->arena, uint32_t, scope->nstatements + 1);
        for (uint32_t i = k; i < p.npicks; i++) if (root_of(&p, i) == k) pick[g->npicks++] = p.pick[i];
        for (uint32_t i = 0; i < scope->nstatements; i++) if (p.tied[i] < p.npicks && root_of(&p, p.tied[i]) == k) demand[g->ndemands++] = i;
        g->pick = pick;
        g->demand = demand;
        part_nodes(&p, g);
    }
    scope->group = group;
}
