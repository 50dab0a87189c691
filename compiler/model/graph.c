/* The order of evaluation of one scope. Three nodes a thing: its shape, where it stands, what light does there; a let has one.
   In: statements with resolved expressions. Out: every node after all it needs, ties by place in the script; circles reported.
   Iterative, so that a chain of any length uses no stack. */
#include "model/build.h"

enum { PARTS = SG_PARTS };
typedef struct {
    SgCompile *c; const SgScope *scope; bool in_file, by_rule;
    SG_VEC(uint32_t) needs;                              /* of the node being walked */
    SgNeeds *need;                                       /* of each node */
    const SgNeeds *before;                               /* of each find, in the second order */
    uint8_t *colour;                                     /* 0 new, 1 on the path, 2 done, 3 in a circle */
} Graph;

/* Which parts a kind has, as bits. */
static unsigned parts(SgKind kind)
{
    unsigned bits = kind == SG_KIND_let ? 1u << SG_PART_SHAPE : 0;
    SgRange phrases = sg_phrases_of(kind), properties = sg_properties_of(kind);
    for (int i = phrases.first; i < phrases.end; i++) {
        SgPart part = sg_phrase_info((SgPhraseId)i)->part;
        if (part != SG_PART_MARK) bits |= 1u << part;
    }
    for (int i = properties.first; i < properties.end; i++) bits |= 1u << sg_property_info((SgPropertyId)i)->part;
    return bits;
}

static void need(Graph *g, uint32_t symbol, SgPart part)
{
    if (parts(g->scope->symbol[symbol].kind) >> part & 1) SG_PUSH(g->c->arena, &g->needs, symbol * PARTS + (uint32_t)part);
}
static void need_all(Graph *g, uint32_t symbol)
{
    for (int p = 0; p < PARTS; p++) need(g, symbol, (SgPart)p);
}

static void walk(Graph *g, const SgExpr *e)
{
    if (e->op == SG_E_CALL && e->function == SG_FUNCTION_inside)        /* the frame lies around all there is */
        for (uint32_t i = 0; i < g->scope->nsymbols && !g->in_file; i++) if (sg_kind_info(g->scope->symbol[i].kind)->drawn) need_all(g, i);
    bool ours = e->op == SG_E_SYMBOL && e->in_file == g->in_file;
    if (ours) { need_all(g, e->symbol); return; }
    uint32_t first = 0;
    const SgExpr *of = e->nargs ? e->arg[0] : NULL;
    if (e->op == SG_E_PROPERTY && of->op == SG_E_SYMBOL && of->in_file == g->in_file) {
        SgKind kind = g->scope->symbol[of->symbol].kind;
        SgPropertyId id = sg_property_of(kind, sg_names_str(&g->c->names, e->sym));
        if (id < SG_PROPERTY_COUNT) { need(g, of->symbol, sg_property_info(id)->part); first = 1; }
    }
    if (e->op == SG_E_PLACE && e->nargs > 1 && e->arg[1]->op == SG_E_SYMBOL && e->arg[1]->in_file == g->in_file
        && !sg_is_value_kind(g->scope->symbol[e->arg[1]->symbol].kind)) {
        walk(g, e->arg[0]);
        need(g, e->arg[1]->symbol, SG_PART_STAND);
        return;
    }
    for (uint32_t i = first; i < e->nargs; i++) walk(g, e->arg[i]);
}

static bool meets_light(SgKind kind)
{
    return kind == SG_KIND_mirror || kind == SG_KIND_lens || kind == SG_KIND_boundary || kind == SG_KIND_stop || kind == SG_KIND_screen;
}
static bool is_light(SgKind kind) { return kind == SG_KIND_ray || kind == SG_KIND_beam || kind == SG_KIND_fan; }

static uint32_t root_symbol(const SgExpr *e)
{
    while (e->op == SG_E_PROPERTY) e = e->arg[0];
    return e->op == SG_E_SYMBOL && !e->in_file ? e->symbol : UINT32_MAX;
}

/* By rule an image stands where the drawn rays of its object cross. */
static void need_rays_of(Graph *g, const SgStatement *image)
{
    const SgPhrase *of = sg_phrase(image, SG_PHRASE_image_of);
    if (!of || !of->n) return;
    for (uint32_t i = 0; i < g->scope->nsymbols; i++) {
        if (g->scope->symbol[i].kind != SG_KIND_ray) continue;
        const SgPhrase *from = sg_phrase(&g->scope->statement[g->scope->symbol[i].statement], SG_PHRASE_ray_from);
        if (from && from->n && root_symbol(from->value[0]) == root_symbol(of->value[0])) need(g, i, SG_PART_LIGHT);
    }
}

static bool says_by_rule(const SgScope *scope, uint16_t home)
{
    for (uint32_t i = 0; i < scope->nstatements; i++)
        if (scope->statement[i].head_at.file == home && scope->statement[i].kind == SG_KIND_model && sg_phrase(&scope->statement[i], SG_PHRASE_model_by_rule)) return true;
    return false;
}

static void find_needs(Graph *g, uint32_t node)
{
    uint32_t symbol = node / PARTS;
    SgPart part = (SgPart)(node % PARTS);
    const SgSymbol *sym = &g->scope->symbol[symbol];
    const SgStatement *s = &g->scope->statement[sym->statement];
    g->needs.n = 0;
    if (sym->kind == SG_KIND_let) { if (s->definition) walk(g, s->definition); return; }
    for (uint32_t i = 0; g->before && i < g->before[symbol].n; i++) SG_PUSH(g->c->arena, &g->needs, g->before[symbol].v[i]);
    if (part > SG_PART_SHAPE) need(g, symbol, SG_PART_SHAPE);
    if (part > SG_PART_STAND) need(g, symbol, SG_PART_STAND);
    for (uint32_t i = 0; i < s->nphrases; i++)
        if (sg_phrase_info(s->phrase[i].id)->part == part)
            for (uint32_t k = 0; k < s->phrase[i].n; k++) walk(g, s->phrase[i].value[k]);
    bool light = is_light(sym->kind) && part == SG_PART_LIGHT;       /* a ray may meet every element of its figure; */
    if (g->by_rule && sym->kind == SG_KIND_image && part == SG_PART_LIGHT) need_rays_of(g, s);
    bool aimed = (sym->kind == SG_KIND_beam || sym->kind == SG_KIND_fan) && part == SG_PART_STAND;   /* so may what fills the first */
    for (uint32_t i = 0; (light || aimed) && i < g->scope->nsymbols; i++)
        if (meets_light(g->scope->symbol[i].kind)) need_all(g, i);
}

static const char *const part_word[] = { "shape", "stand", "light" };

static void say_circle(Graph *g, const uint32_t *path, uint32_t from, uint32_t n)
{
    SgBuf b = { .arena = g->c->arena };
    for (uint32_t i = from; i <= n; i++) {
        uint32_t node = path[i == n ? from : i];
        const SgSymbol *sym = &g->scope->symbol[node / PARTS];
        SgStr name = sym->name == SG_NO_SYM ? sg_str(sg_kind_info(sym->kind)->name_text) : sg_names_str(&g->c->names, sym->name);
        sg_putf(&b, "%s%.*s", i == from ? "" : " needs ", (int)name.n, name.s);
        if (!sg_is_value_kind(sym->kind)) sg_putf(&b, ".%s", part_word[node % PARTS]);
    }
    SgStr text = sg_buf_str(&b);
    sg_say(g->c, SG_MSG_circle, g->scope->symbol[path[from] / PARTS].at, "these define each other in a circle: %.*s; give one of them a value of its own", (int)text.n, text.s);
}

typedef struct { uint32_t node, next, n; const uint32_t *need; } Frame;

static void push(Graph *g, Frame *stack, uint32_t *depth, uint32_t node)
{
    find_needs(g, node);
    uint32_t *copy = SG_ARRAY(g->c->arena, uint32_t, g->needs.n + 1);
    for (uint32_t i = 0; i < g->needs.n; i++) copy[i] = g->needs.v[i];
    stack[(*depth)++] = (Frame){ node, 0, g->needs.n, copy };
    g->need[node] = (SgNeeds){ copy, g->needs.n };
    g->colour[node] = 1;
}

static void visit(Graph *g, SgScope *scope, Frame *stack, uint32_t *path, uint32_t root)
{
    uint32_t depth = 0;
    push(g, stack, &depth, root);
    while (depth) {
        Frame *f = &stack[depth - 1];
        if (f->next == f->n) {
            if (g->colour[f->node] == 1) {
                g->colour[f->node] = 2;
                scope->order[scope->norder++] = (SgGraphNode){ f->node / PARTS, (SgPart)(f->node % PARTS) };
            }
            depth--;
            continue;
        }
        uint32_t to = f->need[f->next++];
        if (g->colour[to] == 0) { push(g, stack, &depth, to); continue; }
        if (g->colour[to] != 1) continue;
        uint32_t from = depth;
        while (from > 0 && stack[from - 1].node != to) from--;
        for (uint32_t i = from - 1; i < depth; i++) { path[i - (from - 1)] = stack[i].node; }
        scope->circle = true;
        say_circle(g, path, 0, depth - (from - 1));
        for (uint32_t i = from - 1; i < depth; i++) g->colour[stack[i].node] = 3;
    }
}

bool sg_is_value_kind(SgKind kind) { return kind == SG_KIND_let || kind == SG_KIND_find || kind == SG_KIND_pick; }

SgNeeds sg_model_needs_of(SgCompile *c, const SgScope *scope, const SgExpr *e, bool in_file)
{
    Graph g = { .c = c, .scope = scope, .in_file = in_file };
    walk(&g, e);
    return (SgNeeds){ g.needs.v, g.needs.n };
}

static void put_in_order(Graph *g, SgScope *scope)
{
    uint32_t n = scope->nsymbols * PARTS;
    g->colour = SG_ARRAY(g->c->arena, uint8_t, n + 1);
    scope->order = SG_ARRAY(g->c->arena, SgGraphNode, n + 1);
    scope->norder = 0;
    Frame *stack = SG_ARRAY(g->c->arena, Frame, n + 1);
    uint32_t *path = SG_ARRAY(g->c->arena, uint32_t, n + 2);
    for (uint32_t node = 0; node < n; node++)
        if (g->colour[node] == 0 && parts(scope->symbol[node / PARTS].kind) >> (node % PARTS) & 1)
            visit(g, scope, stack, path, node);
}

/* The unknown of a find is bound inside its own condition, which is no circle; so a first order knows only the ranges of finds,
   and where there are finds, a second puts before each what its condition needs and the unknown does not change. */
void sg_model_order(SgCompile *c, SgScope *scope, bool in_file, const SgScope *file)
{
    uint16_t home = scope->nstatements ? scope->statement[0].head_at.file : 0;
    Graph g = { .c = c, .scope = scope, .in_file = in_file, .by_rule = says_by_rule(scope, home) || (file && says_by_rule(file, home)) };
    g.need = SG_ARRAY(c->arena, SgNeeds, scope->nsymbols * PARTS + 1);
    put_in_order(&g, scope);
    SgNeeds *before = SG_ARRAY(c->arena, SgNeeds, scope->nsymbols + 1);
    if (sg_model_finds(c, scope, g.need, before)) {
        g.before = before;
        c->muted++;              /* its circles are told */
        put_in_order(&g, scope);
        c->muted--;
    }
    sg_model_picks(c, scope, g.need, in_file);
}
