/* Figures of a script: statements, symbols, steps, parameters, copies. In: the tree. Out: the model.
   Checks words against the catalogue and names against each other; computes nothing. */
#include "model/build.h"

static SgStr name_of(const SgReading *r, SgSym sym) { return sg_names_str(&r->c->names, sym); }

/* ---- symbols ---- */

/* Open addressing by the interned number, so that a figure of 50 000 names stays linear. */
const SgSymbol *sg_model_symbol(const SgScope *scope, SgSym name, uint32_t *index)
{
    if (!scope->nslots) return NULL;
    for (uint32_t h = name * 2654435761u & (scope->nslots - 1); scope->slot[h]; h = (h + 1) & (scope->nslots - 1))
        if (scope->symbol[scope->slot[h] - 1].name == name) { *index = scope->slot[h] - 1; return &scope->symbol[*index]; }
    return NULL;
}

const SgSymbol *sg_model_symbol_of(const SgScope *scope, SgSym name, uint16_t file, uint32_t *index)
{
    if (!scope->nslots) return NULL;
    for (uint32_t h = name * 2654435761u & (scope->nslots - 1); scope->slot[h]; h = (h + 1) & (scope->nslots - 1)) {
        const SgSymbol *s = &scope->symbol[scope->slot[h] - 1];
        if (s->name == name && s->at.file == file) { *index = scope->slot[h] - 1; return s; }
    }
    return NULL;
}

const SgSymbol *sg_model_seen(const SgModel *m, SgSym name, uint16_t home, uint32_t *index, const SgSymbol **also)
{
    if (home >= m->nsources) home = 0;                     /* of the command line */
    const SgSymbol *found = sg_model_symbol_of(&m->file, name, home, index);
    *also = NULL;
    for (uint32_t i = 0; !found && i < m->source[home].nuses; i++) {
        uint32_t other;
        found = sg_model_symbol_of(&m->file, name, m->source[home].uses[i], index);
        for (uint32_t k = i + 1; found && !*also && k < m->source[home].nuses; k++) *also = sg_model_symbol_of(&m->file, name, m->source[home].uses[k], &other);
    }
    return found;
}

static void remember(SgScope *scope, uint32_t index)
{
    uint32_t h = scope->symbol[index].name * 2654435761u & (scope->nslots - 1);
    while (scope->slot[h]) h = (h + 1) & (scope->nslots - 1);
    scope->slot[h] = index + 1;
}

static uint32_t line_of(const SgReading *r, SgSpan at) { return sg_text_place(&r->c->source[at.file], at.start).line; }

void sg_model_symbols(SgReading *r, SgScope *scope)
{
    scope->symbol = SG_ARRAY(r->c->arena, SgSymbol, scope->nstatements + 1);
    scope->nslots = 8;
    while (scope->nslots < 2 * scope->nstatements + 2) scope->nslots *= 2;
    scope->slot = SG_ARRAY(r->c->arena, uint32_t, scope->nslots);
    for (uint32_t i = 0; i < scope->nstatements; i++) {
        const SgStatement *s = &scope->statement[i];
        if (s->kind == SG_KIND_style) continue;                       /* looks are called by names of their own */
        bool thing = sg_kind_info(s->kind)->slot == SG_SLOT_MUST || s->kind == SG_KIND_ray || s->kind == SG_KIND_beam || s->kind == SG_KIND_fan;
        if (s->name == SG_NO_SYM && !thing) continue;
        uint32_t old;
        const SgSymbol *first = s->name == SG_NO_SYM ? NULL : sg_model_symbol_of(scope, s->name, s->name_at.file, &old);
        if (first) {
            SgStr name = name_of(r, s->name);
            SgDiag *d = sg_say(r->c, SG_MSG_name_taken, s->name_at, "`%.*s` is already the %s on line %u; choose another name", (int)name.n, name.s,
                               sg_kind_info(first->kind)->word, line_of(r, first->at));
            sg_note(r->c, d, first->at, "it is first declared here");
            continue;
        }
        SgKind kind = s->kind == SG_KIND_construct ? SG_KIND_image : s->kind;          /* what it makes is an image */
        scope->symbol[scope->nsymbols] = (SgSymbol){ s->name, s->name == SG_NO_SYM ? s->head_at : s->name_at, kind, i, s->parameter };
        if (s->name != SG_NO_SYM) remember(scope, scope->nsymbols);
        scope->nsymbols++;
    }
}

/* ---- statements: first their heads, so that every name is known; then their phrases ---- */

typedef SG_VEC(SgStatement) Statements;
typedef SG_VEC(const SgNode *) Nodes;

bool sg_model_stands(SgReading *r, const SgNode *n, SgKind kind, uint8_t where)
{
    const SgKindInfo *k = sg_kind_info(kind);
    if (k->stands & where) return true;
    const char *place = where == SG_IN_FILE ? "outside a figure" : where == SG_IN_STEP ? "inside a step" : where == SG_IN_SHEET ? "on a sheet" : where == SG_IN_PANEL ? "in a panel" : "inside a figure";
    const char *mend = k->stands & SG_IN_FIGURE ? (where == SG_IN_STEP ? "put it in the figure, before the steps" : "put it between the { and } of a figure")
                     : k->stands & SG_IN_FILE ? "put it outside, at file level" : k->stands & SG_IN_SHEET ? "put it between the { and } of a sheet" : k->stands & SG_IN_PANEL ? "put it between the { and } of a panel" : "move it";
    sg_say(r->c, SG_MSG_kind_misplaced, n->sym_at, "%s cannot stand %s; %s", k->name_text, place, mend);
    return false;
}

/* Whether a flag of the group is among the phrases, so that the word in the name slot was meant as a name. */
static bool choice_made(const SgReading *r, const SgNode *n, SgKind kind, uint8_t group)
{
    for (const SgNode *x = n->first; x; x = x->next) {
        if (x->kind == SG_N_LINE && choice_made(r, x, kind, group)) return true;
        if (x->kind != SG_N_FLAG) continue;
        SgPhraseId id = sg_phrase_of(kind, name_of(r, x->sym));
        if (id < SG_PHRASE_COUNT && sg_phrase_info(id)->group == group) return true;
    }
    return false;
}

static bool has_word(const SgReading *r, const SgNode *n, const char *word)
{
    for (const SgNode *x = n->first; x; x = x->next) {
        if (x->kind == SG_N_LINE && has_word(r, x, word)) return true;
        if (x->kind == SG_N_WORD && sg_str_is(name_of(r, x->sym), word)) return true;
    }
    return false;
}

/* A choice the statement cannot do without, and has not made; radii make it for a lens. */
static bool choice_due(const SgReading *r, const SgNode *n, SgKind kind, uint8_t group)
{
    bool compulsory = group >= 'N' || (kind == SG_KIND_lens && group == 'C' && !has_word(r, n, "radii"));
    return compulsory && !choice_made(r, n, kind, group);
}

SgStatement sg_model_head(SgReading *r, const SgNode *n, SgKind kind, int step)
{
    SgStatement s = { .kind = kind, .name = n->name, .name_at = n->name_at, .at = n->at, .step = step };
    s.head_at = n->sym_at;
    if (n->name != SG_NO_SYM) s.head_at.end = n->name_at.end;
    SgPhraseId own = n->name == SG_NO_SYM ? SG_PHRASE_COUNT : sg_phrase_of(kind, name_of(r, n->name));
    if (own < SG_PHRASE_COUNT && sg_phrase_info(own)->form == SG_FORM_FLAG && choice_due(r, n, kind, sg_phrase_info(own)->group)) {
        const char *word = sg_phrase_info(own)->word;
        sg_say(r->c, SG_MSG_name_missing, n->name_at, "%s needs a name before `%s`: write %s A %s", sg_kind_info(kind)->name_text, word, sg_kind_info(kind)->word, word);
        s.nameless = true;
    }
    if (n->name == SG_NO_SYM && sg_kind_info(kind)->slot == SG_SLOT_MUST && !n->damaged) {
        const char *a = sg_kind_info(kind)->name_text;
        sg_say(r->c, SG_MSG_name_missing, n->sym_at, "%s needs a name after the word `%s`, such as `%s A`", a, sg_kind_info(kind)->word, sg_kind_info(kind)->word);
    }
    return s;
}

static void parameters(SgReading *r, const SgNode *n, Statements *out, Nodes *nodes)
{
    for (const SgNode *p = n->first; p; p = p->next) {
        const SgNode *name = p->first, *value = name ? name->next : NULL;
        if (p->kind == SG_N_BAD) continue;
        if (p->kind != SG_N_CHAIN || name->kind != SG_N_NAME || !value || value->relation != '=' || value->next) {
            sg_say(r->c, SG_MSG_parameter_form, p->at, "a parameter is a name and its usual value: u = 12 cm");
            continue;
        }
        SgStatement s = { .kind = SG_KIND_let, .name = name->sym, .name_at = name->at, .at = p->at, .head_at = name->at, .parameter = true };
        SG_PUSH(r->c->arena, out, s);
        SG_PUSH(r->c->arena, nodes, value);
    }
}

static void gather(SgReading *r, SgFigure *f, const SgNode *n, int step, Statements *out, Nodes *nodes, const SgNode **stepnode)
{
    for (const SgNode *x = n->first; x; x = x->next) {
        if (x->kind == SG_N_PARAMETERS && step == 0) { parameters(r, x, out, nodes); continue; }
        if (x->kind != SG_N_STATEMENT) continue;
        SgKind kind = sg_kind_of(name_of(r, x->sym));
        if (kind == SG_KIND_COUNT || !sg_model_stands(r, x, kind, step ? SG_IN_STEP : SG_IN_FIGURE)) continue;
        if (out->n >= SG_MAX_STATEMENTS) {
            sg_say(r->c, SG_MSG_limit, x->sym_at, "a figure holds at most %d statements; make two figures of it", SG_MAX_STATEMENTS);
            return;
        }
        if (kind == SG_KIND_step) {
            if (f->nsteps == SG_MAX_STEPS) { sg_say(r->c, SG_MSG_limit, x->sym_at, "a figure has at most %d steps; make two figures of it", SG_MAX_STEPS); continue; }
            stepnode[f->nsteps++] = x;
            gather(r, f, x, (int)f->nsteps, out, nodes, stepnode);
            continue;
        }
        SG_PUSH(r->c->arena, out, sg_model_head(r, x, kind, step));
        SG_PUSH(r->c->arena, nodes, x);
    }
}

static void read_statements(SgReading *r, SgScope *scope, const Nodes *nodes)
{
    for (uint32_t i = 0; i < scope->nstatements; i++) {
        SgStatement *s = &scope->statement[i];
        if (s->parameter) s->definition = sg_model_express(r, nodes->v[i]);
        else sg_model_phrases(r, s, nodes->v[i]);
        if (s->kind == SG_KIND_let && !s->definition && !s->damaged && s->name != SG_NO_SYM) {
            SgStr name = name_of(r, s->name);
            sg_say(r->c, SG_MSG_definition_missing, s->head_at, "`let %.*s` needs its value: let %.*s = 4 cm", (int)name.n, name.s, (int)name.n, name.s);
        }
    }
}

/* ---- figures ---- */

static void caption(SgReading *r, const SgNode *n, SgExpr **out)
{
    for (const SgNode *x = n->first; x; x = x->next) {
        if (x->kind == SG_N_LINE) caption(r, x, out);
        if (x->kind != SG_N_CAPTION || !x->first) continue;
        if (*out) sg_say(r->c, SG_MSG_text_twice, x->at, "one text is enough here; this is the second");
        else *out = sg_model_express(r, x->first);
    }
}

/* A caption may not name what is shown only later. */
void sg_model_uses(SgCompile *c, const SgScope *scope, const SgExpr *e, int step, const SgStep *steps)
{
    if (e->op == SG_E_SYMBOL && !e->in_file) {
        const SgSymbol *sym = &scope->symbol[e->symbol];
        int shown = scope->statement[sym->statement].step;
        if (shown > step) {
            SgStr name = sg_names_str(&c->names, sym->name);
            SgDiag *d = sg_say(c, SG_MSG_shown_later, e->at, "`%.*s` is first shown in step %d; this is step %d. Say it in step %d, or move `%.*s` up", (int)name.n, name.s, shown, step, shown, (int)name.n, name.s);
            sg_note(c, d, steps[shown - 1].at, "step %d begins here", shown);
        }
    }
    for (uint32_t i = 0; i < e->nargs; i++) sg_model_uses(c, scope, e->arg[i], step, steps);
}

/* What stands outside the steps is given, what stands inside one is answer; two words say otherwise. An answer in a figure
   without steps gets one of its own. */
static void given_or_answer(SgFigure *f, SgScope *scope)
{
    for (uint32_t i = 0; i < scope->nstatements; i++) {
        SgStatement *s = &scope->statement[i];
        if (sg_phrase(s, SG_PHRASE_common_given)) s->step = 0;
        if (!sg_phrase(s, SG_PHRASE_common_answer) || s->step) continue;
        if (!f->nsteps) f->step[f->nsteps++] = (SgStep){ .at = f->at, .name = SG_NO_SYM };
        s->step = 1;
    }
}

static void read_figure(SgReading *r, SgFigure *f, const SgNode *n)
{
    Statements statements = { 0 };
    Nodes nodes = { 0 };
    const SgNode *stepnode[SG_MAX_STEPS];
    SgScope *scope = SG_NEW(r->c->arena, SgScope);
    gather(r, f, n, 0, &statements, &nodes, stepnode);
    scope->statement = statements.v;
    scope->nstatements = statements.n;
    sg_model_symbols(r, scope);
    r->figure = scope;
    read_statements(r, scope, &nodes);
    uint32_t written = f->nsteps;
    f->step = SG_ARRAY(r->c->arena, SgStep, f->nsteps + 1);
    given_or_answer(f, scope);
    for (uint32_t i = 0; i < written; i++) {
        SgSpan at = stepnode[i]->sym_at;
        f->step[i] = (SgStep){ .at = at, .name = stepnode[i]->name };
    }
    for (uint32_t i = 0; i < written; i++) {
        caption(r, stepnode[i], &f->step[i].caption);
        if (f->step[i].caption) sg_model_uses(r->c, scope, f->step[i].caption, (int)i + 1, f->step);
    }
    for (uint32_t i = 0; i < scope->nstatements; i++)               /* nor may show, fade, hide and emphasise */
        for (uint32_t k = 0; k < scope->statement[i].nlist && scope->statement[i].step; k++)
            sg_model_uses(r->c, scope, scope->statement[i].list[k], scope->statement[i].step, f->step);
    caption(r, n, &f->title);
    sg_model_order(r->c, scope, false, &r->model->file);
    for (uint32_t i = 0; i < scope->nstatements; i++) {
        if (scope->statement[i].kind == SG_KIND_model) f->model = &scope->statement[i];
        if (scope->statement[i].kind == SG_KIND_frame) f->frame = &scope->statement[i];
    }
    r->figure = NULL;
    f->scope = scope;
}

const SgNode *sg_model_definition(const SgNode *n)
{
    for (const SgNode *x = n->first; x; x = x->next)
        if (x->kind == SG_N_DEFINITION) return x->first;
    return NULL;
}

static SgFigure *figure_in(SgModel *m, SgSym name, uint16_t file)
{
    for (uint32_t i = 0; i < m->nfigures + m->nforeign; i++) if (m->figure[i].name == name && m->figure[i].at.file == file) return &m->figure[i];
    return NULL;
}

static void ambiguous(SgReading *r, SgSpan at, SgStr name, SgSpan first, SgSpan second)
{
    SgStr a = r->c->source[first.file].path, b = r->c->source[second.file].path;
    SgDiag *d = sg_say(r->c, SG_MSG_name_ambiguous, at, "`%.*s` is declared in both %.*s and %.*s; declare it in this file, or use one of them only", (int)name.n, name.s, (int)a.n, a.s, (int)b.n, b.s);
    sg_note(r->c, d, first, "here");
    sg_note(r->c, d, second, "and here");
}

/* Its own figure of that name, else one of the files it uses. */
static SgFigure *figure_named(SgReading *r, SgSym name, SgSpan at)
{
    SgModel *m = r->model;
    SgFigure *found = figure_in(m, name, at.file);
    for (uint32_t i = 0; !found && i < m->source[at.file].nuses; i++) {
        found = figure_in(m, name, m->source[at.file].uses[i]);
        for (uint32_t k = i + 1; found && k < m->source[at.file].nuses; k++) {
            const SgFigure *also = figure_in(m, name, m->source[at.file].uses[k]);
            if (also) { ambiguous(r, at, name_of(r, name), found->at, also->at); return found; }
        }
    }
    return found;
}

static void unknown_parameter(SgReading *r, const SgFigure *of, const SgNode *name)
{
    SgBuf b = { .arena = r->c->arena };
    for (uint32_t i = 0; i < of->scope->nsymbols; i++)
        if (of->scope->symbol[i].parameter) {
            SgStr p = name_of(r, of->scope->symbol[i].name);
            sg_putf(&b, "%s`%.*s`", b.n ? ", " : "", (int)p.n, p.s);
        }
    SgStr all = b.n ? sg_buf_str(&b) : SG_LIT("none");
    SgStr word = name_of(r, name->sym), fig = name_of(r, of->name);
    sg_say(r->c, SG_MSG_parameter_unknown, name->at, "figure `%.*s` has no parameter `%.*s`; its parameters: %.*s", (int)fig.n, fig.s, (int)word.n, word.s, (int)all.n, all.s);
}

static void bind(SgReading *r, SgFigure *f, const SgFigure *of, const SgNode *p)
{
    const SgNode *name = p->first, *value = name ? name->next : NULL;
    if (p->kind == SG_N_BAD) return;
    if (p->kind != SG_N_CHAIN || name->kind != SG_N_NAME || !value || value->relation != '=' || value->next) {
        sg_say(r->c, SG_MSG_parameter_form, p->at, "a value for a parameter is written name = value: u = 8 cm");
        return;
    }
    uint32_t index;
    const SgSymbol *sym = sg_model_symbol(of->scope, name->sym, &index);
    if (!sym || !sym->parameter) { unknown_parameter(r, of, name); return; }
    SgBinding b = { index, sg_model_express(r, value), p->at };
    for (uint32_t i = 0; i < f->nbindings; i++)
        if (f->binding[i].symbol == index) { f->binding[i] = b; return; }
    f->binding[f->nbindings++] = b;
}

static void unknown_figure(SgReading *r, const SgFigure *copy_of, SgSpan at, SgStr word)
{
    uint32_t all_figures = r->model->nfigures + r->model->nforeign;
    const char **names = SG_ARRAY(r->c->arena, const char *, all_figures + 1);
    uint32_t n = 0;
    SgBuf list = { .arena = r->c->arena };
    for (uint32_t i = 0; i < all_figures; i++) {
        const SgFigure *f = &r->model->figure[i];
        if (f == copy_of || f->name == SG_NO_SYM) continue;
        SgStr name = name_of(r, f->name);
        names[n] = sg_str_keep(r->c->arena, name.s, name.n).s;
        if (n < 8) sg_putf(&list, "%s%s", n ? ", " : "", names[n]);
        n++;
    }
    const char *near = sg_nearest(word, names, n);
    SgStr all = sg_buf_str(&list);
    if (near) sg_say(r->c, SG_MSG_figure_unknown, at, "no figure is called `%.*s`; did you mean `%s`?", (int)word.n, word.s, near);
    else if (n) sg_say(r->c, SG_MSG_figure_unknown, at, "no figure is called `%.*s`; copy one of: %.*s", (int)word.n, word.s, (int)all.n, all.s);
    else sg_say(r->c, SG_MSG_figure_unknown, at, "no figure is called `%.*s`, and there is no other to copy; write its body between { and }", (int)word.n, word.s);
}

/* figure at_c = shaving_mirror(u = 8 cm): the original's scope with other values. Copies of copies start from theirs. */
bool sg_model_copy(SgReading *r, SgFigure *f, const SgNode *d)
{
    if (d->kind == SG_N_BAD) return true;
    if (d->kind != SG_N_CALL && d->kind != SG_N_NAME) {
        if (f->on_sheet) sg_say(r->c, SG_MSG_copy_form, d->at, "a problem names a figure and its values: problem q = lamp(u = 20 cm)");
        else sg_say(r->c, SG_MSG_copy_form, d->at, "a copy names a figure and its values: figure far = near(u = 20 cm)");
        return true;
    }
    SgFigure *of = figure_named(r, d->sym, d->sym_at.end ? d->sym_at : d->at);
    SgStr word = name_of(r, d->sym);
    if (!of) { unknown_figure(r, f, d->sym_at.end ? d->sym_at : d->at, word); return true; }
    if (!of->scope) return false;
    f->scope = of->scope;
    f->step = of->step;
    f->nsteps = of->nsteps;
    f->model = of->model;
    f->frame = of->frame;
    f->original = of->original;
    f->home = of->home;
    f->binding = SG_ARRAY(r->c->arena, SgBinding, of->scope->nsymbols + 1);
    for (uint32_t i = 0; i < of->nbindings; i++) f->binding[f->nbindings++] = of->binding[i];
    for (const SgNode *p = d->kind == SG_N_CALL ? d->first : NULL; p; p = p->next) bind(r, f, of, p);
    f->title = of->title;
    return true;
}

static bool copy(SgReading *r, SgFigure *f, const SgNode *n)
{
    SgExpr *title = NULL;
    if (!sg_model_copy(r, f, sg_model_definition(n))) return false;
    if (!f->scope) return true;
    r->figure = f->scope;
    caption(r, n, &title);
    r->figure = NULL;
    if (title) f->title = title;
    return true;
}

static void copies(SgReading *r, const SgNode **node)
{
    SgModel *m = r->model;
    for (bool more = true; more;) {
        more = false;
        for (uint32_t i = 0; i < m->nfigures + m->nforeign; i++)
            if (!m->figure[i].scope && node[i] && copy(r, &m->figure[i], node[i])) { node[i] = NULL; more = true; }
    }
    for (uint32_t i = 0; i < m->nfigures + m->nforeign; i++) {
        if (node[i] && !m->figure[i].scope)
            sg_say(r->c, SG_MSG_circle, m->figure[i].at, "these figures are copies of each other; one of them needs a body between { and }");
        if (!m->figure[i].scope) m->figure[i].scope = SG_NEW(r->c->arena, SgScope);
    }
}

static void read_files(SgReading *r, Nodes *figures, Nodes *sheets, Nodes *panels)
{
    Statements statements = { 0 };
    Nodes nodes = { 0 };
    for (uint32_t f = 0; f < r->model->nsources; f++)
        for (const SgNode *x = r->model->source[f].tree->first; x; x = x->next) {
            if (x->kind != SG_N_STATEMENT) continue;
            SgKind kind = sg_kind_of(name_of(r, x->sym));
            if (kind == SG_KIND_COUNT || !sg_model_stands(r, x, kind, SG_IN_FILE)) continue;
            if (kind == SG_KIND_figure) { SG_PUSH(r->c->arena, figures, x); continue; }
            if (kind == SG_KIND_sheet) { if (f == 0) SG_PUSH(r->c->arena, sheets, x); continue; }
            if (kind == SG_KIND_panel) { if (f == 0) SG_PUSH(r->c->arena, panels, x); continue; }
            SG_PUSH(r->c->arena, &statements, sg_model_head(r, x, kind, 0));
            SG_PUSH(r->c->arena, &nodes, x);
        }
    SgScope *file = &r->model->file;
    file->statement = statements.v;
    file->nstatements = statements.n;
    sg_model_symbols(r, file);
    read_statements(r, file, &nodes);
    sg_model_order(r->c, file, true, NULL);
}

/* One more figure of a file, or NULL after a message. */
static SgFigure *begin_figure(SgReading *r, const SgNode *n)
{
    SgModel *m = r->model;
    SgFigure *old = n->name == SG_NO_SYM ? NULL : figure_in(m, n->name, n->at.file);
    if (old) {
        SgStr name = sg_names_str(&r->c->names, n->name);
        SgDiag *d = sg_say(r->c, SG_MSG_name_taken, n->name_at, "`%.*s` is already the figure on line %u; choose another name", (int)name.n, name.s, line_of(r, old->at));
        sg_note(r->c, d, old->at, "it is first declared here");
        return NULL;
    }
    (void)sg_model_head(r, n, SG_KIND_figure, 0);
    uint32_t index = m->nfigures + m->nforeign;
    if (n->at.file) m->nforeign++;
    else m->nfigures++;
    SgFigure *f = &m->figure[index];
    *f = (SgFigure){ .name = n->name, .at = n->name == SG_NO_SYM ? n->sym_at : n->name_at, .original = index, .whole = n->at, .home = n->at.file };
    return f;
}

SgModel *sg_model_files(SgCompile *c, const SgModelFile *file, uint32_t nfiles)
{
    SgModel *m = SG_NEW(c->arena, SgModel);
    SgReading r = { .c = c, .model = m, .phrase = SG_PHRASE_COUNT };
    Nodes figures = { 0 }, sheets = { 0 }, panels = { 0 };
    uint32_t problems = 0;
    m->source = file;
    m->nsources = nfiles;
    read_files(&r, &figures, &sheets, &panels);
    for (uint32_t i = 0; i < sheets.n; i++) problems += sg_model_problems(&r, sheets.v[i]);
    for (uint32_t i = 0; i < panels.n; i++) problems += sg_model_parts(panels.v[i], &r);
    m->figure = SG_ARRAY(c->arena, SgFigure, figures.n + problems + 1);
    const SgNode **node = SG_ARRAY(c->arena, const SgNode *, figures.n + 1);
    for (uint32_t i = 0; i < figures.n; i++) {
        const SgNode *n = figures.v[i];
        if (m->nfigures + m->nforeign == SG_MAX_FIGURES) { sg_say(c, SG_MSG_limit, n->sym_at, "a file holds at most %d figures, with those of the files it uses; make two of it", SG_MAX_FIGURES); break; }
        SgFigure *f = begin_figure(&r, n);
        if (!f) continue;
        if (sg_model_definition(n)) node[f - m->figure] = n;
        else read_figure(&r, f, n);
    }
    copies(&r, node);
    sg_model_sheets(&r, sheets.v, sheets.n);
    sg_model_panels(&r, panels.v, panels.n);
    return m;
}

SgModel *sg_model(SgCompile *c, const SgNode *tree)
{
    SgModelFile *file = SG_NEW(c->arena, SgModelFile);
    file->tree = tree;
    return sg_model_files(c, file, 1);
}

SgExpr *sg_model_expression(SgCompile *c, const SgModel *m, const SgFigure *figure, const SgNode *expression)
{
    SgModel view = *m;
    SgReading r = { .c = c, .model = &view, .figure = figure ? figure->scope : NULL, .phrase = SG_PHRASE_COUNT };
    uint32_t before = sg_errors(c);
    SgExpr *e = sg_model_express(&r, expression);
    return sg_errors(c) > before ? NULL : e;
}
