/* What each find of a figure tries again for every value, and what it needs only once. In: the needs of all nodes, with the
   condition of no find among them. Out: the two lists of each find; finds that define each other reported.
   Iterative: a chain of any length uses no stack. */
#include "model/build.h"

enum { DEEPEST = 2 };
typedef struct {
    SgCompile *c; SgScope *scope;
    const SgNeeds *need;
    SgNeeds *root;               /* of each symbol that is a find: what its condition needs */
    uint32_t nnodes;
    uint8_t *reached;            /* a node each: by the find being read */
    uint8_t *moved;              /* a node each: its value changes with the unknown */
    uint32_t *stack;
} Finds;

static const SgExpr *condition_of(const SgScope *scope, uint32_t symbol)
{
    const SgPhrase *p = sg_phrase(&scope->statement[scope->symbol[symbol].statement], SG_PHRASE_find_where);
    return p && p->n ? p->value[0] : NULL;
}

static bool is_find(const Finds *f, uint32_t node) { return f->scope->symbol[node / SG_PARTS].kind == SG_KIND_find; }

static void push(Finds *f, uint32_t *depth, SgNeeds needs)
{
    for (uint32_t i = 0; i < needs.n; i++)
        if (!f->reached[needs.v[i]]) {
            f->reached[needs.v[i]] = 1;
            f->stack[(*depth)++] = needs.v[i];
        }
}

/* All that the condition of this find needs, through the conditions of other finds too; the find itself only where it is named. */
static void reach(Finds *f, uint32_t symbol)
{
    uint32_t depth = 0;
    for (uint32_t i = 0; i < f->nnodes; i++) f->reached[i] = f->moved[i] = 0;
    push(f, &depth, f->root[symbol]);
    while (depth) {
        uint32_t node = f->stack[--depth];
        if (node / SG_PARTS == symbol) continue;
        push(f, &depth, f->need[node]);
        if (is_find(f, node)) push(f, &depth, f->root[node / SG_PARTS]);
    }
}

static bool any_moved(const Finds *f, SgNeeds needs)
{
    for (uint32_t i = 0; i < needs.n; i++) if (f->moved[needs.v[i]]) return true;
    return false;
}

/* A find whose condition needs this one's unknown, while this one's condition needs it: neither can be solved first. */
static bool circle(Finds *f, uint32_t symbol)
{
    const SgSymbol *sym = f->scope->symbol;
    for (uint32_t node = 0; node < f->nnodes; node += SG_PARTS) {
        uint32_t other = node / SG_PARTS;
        if (other == symbol || !f->reached[node] || !is_find(f, node)) continue;
        uint8_t own = f->moved[node];
        f->moved[node] = 0;                    /* its own unknown is bound in its condition */
        bool both = any_moved(f, f->root[other]);
        f->moved[node] = own;
        if (!both) continue;
        SgStr a = sg_names_str(&f->c->names, sym[symbol].name), b = sg_names_str(&f->c->names, sym[other].name);
        uint32_t first = sym[symbol].at.start < sym[other].at.start ? symbol : other;
        sg_say(f->c, SG_MSG_circle, sym[first].at, "these define each other in a circle: %.*s needs %.*s needs %.*s; give one of them a value of its own", (int)a.n, a.s, (int)b.n, b.s, (int)a.n, a.s);
        return true;
    }
    return false;
}

static void keep(Finds *f, SgFind *find, SgNeeds *before)
{
    SgGraphNode *trial = SG_ARRAY(f->c->arena, SgGraphNode, f->scope->norder + 1);
    uint32_t *once = SG_ARRAY(f->c->arena, uint32_t, f->scope->norder + 1), n = 0;
    for (uint32_t i = 0; i < f->scope->norder; i++) {
        SgGraphNode o = f->scope->order[i];
        uint32_t node = o.symbol * SG_PARTS + (uint32_t)o.part;
        if (o.symbol == find->symbol || !f->reached[node]) continue;
        if (f->moved[node]) trial[find->ntrial++] = o;
        else once[n++] = node;
    }
    find->trial = trial;
    before[find->symbol] = (SgNeeds){ once, n };
}

static bool read_find(Finds *f, SgFind *find, SgNeeds *before)
{
    reach(f, find->symbol);
    f->moved[find->symbol * SG_PARTS] = 1;
    bool named = f->reached[find->symbol * SG_PARTS];
    for (uint32_t i = 0; i < f->scope->norder; i++) {
        uint32_t node = f->scope->order[i].symbol * SG_PARTS + (uint32_t)f->scope->order[i].part;
        if (f->reached[node] && any_moved(f, f->need[node])) f->moved[node] = 1;
    }
    if (circle(f, find->symbol)) return false;
    keep(f, find, before);
    if (named || find->ntrial || !condition_of(f->scope, find->symbol)) return true;
    SgStr name = sg_names_str(&f->c->names, f->scope->symbol[find->symbol].name);
    if (sg_errors(f->c)) return false;         /* an earlier mistake may be why */
    sg_say(f->c, SG_MSG_find_form, condition_of(f->scope, find->symbol)->at, "nothing here changes with `%.*s`; use it in the figure, or write `let %.*s = ...`", (int)name.n, name.s, (int)name.n, name.s);
    return true;
}

/* How deep finds are tried inside one another, from the innermost out. */
static void check_depth(Finds *f, SgFind *find, uint32_t n)
{
    uint32_t *deep = SG_ARRAY(f->c->arena, uint32_t, f->scope->nsymbols + 1);
    for (uint32_t round = 0; round <= DEEPEST; round++)
        for (uint32_t k = 0; k < n; k++) {
            uint32_t most = 0;
            for (uint32_t i = 0; i < find[k].ntrial; i++)
                if (deep[find[k].trial[i].symbol] > most) most = deep[find[k].trial[i].symbol];
            deep[find[k].symbol] = most + 1;
        }
    for (uint32_t k = 0; k < n; k++)
        if (deep[find[k].symbol] > DEEPEST) {
            sg_say(f->c, SG_MSG_limit, f->scope->symbol[find[k].symbol].at, "finds stand in one another at most %d deep; give one of them a value of its own", DEEPEST);
            return;
        }
}

bool sg_model_finds(SgCompile *c, SgScope *scope, const SgNeeds *need, SgNeeds *before)
{
    uint32_t n = 0, k = 0;
    for (uint32_t i = 0; i < scope->nsymbols; i++) n += scope->symbol[i].kind == SG_KIND_find;
    if (!n) return false;
    Finds f = { .c = c, .scope = scope, .need = need, .nnodes = scope->nsymbols * SG_PARTS };
    f.root = SG_ARRAY(c->arena, SgNeeds, scope->nsymbols + 1);
    f.reached = SG_ARRAY(c->arena, uint8_t, f.nnodes + 1);
    f.moved = SG_ARRAY(c->arena, uint8_t, f.nnodes + 1);
    f.stack = SG_ARRAY(c->arena, uint32_t, f.nnodes + 1);
    SgFind *find = SG_ARRAY(c->arena, SgFind, n);
    for (uint32_t i = 0; i < scope->nsymbols; i++) {
        const SgExpr *e = scope->symbol[i].kind == SG_KIND_find ? condition_of(scope, i) : NULL;
        if (e) f.root[i] = sg_model_needs_of(c, scope, e, false);
        if (scope->symbol[i].kind != SG_KIND_find) continue;
        if (k == SG_MAX_FINDS) {
            sg_say(c, SG_MSG_limit, scope->symbol[i].at, "a figure holds at most %d finds; make two figures of it", SG_MAX_FINDS);
            break;
        }
        find[k++].symbol = i;
    }
    bool sound = true;
    for (uint32_t i = 0; i < k && sound; i++) sound = read_find(&f, &find[i], before);
    if (sound) check_depth(&f, find, k);
    scope->find = find;
    scope->nfinds = k;
    return true;
}
