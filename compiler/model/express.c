/* Expressions: names resolved in the figure, then the file, then what is built in. In: a tree. Out: typed operations.
   Computes nothing; a name that nothing answers to is reported once and becomes poison. */
#include "model/build.h"
#include <string.h>

static SgStr name_of(const SgReading *r, SgSym sym) { return sg_names_str(&r->c->names, sym); }

static SgExpr *make(SgReading *r, SgExprOp op, const SgNode *n)
{
    SgExpr *e = SG_NEW(r->c->arena, SgExpr);
    e->op = op;
    e->at = n->at;
    e->unit = SG_UNIT_COUNT;
    e->sym = SG_NO_SYM;
    e->sym_at = n->sym_at;
    e->function = SG_FUNCTION_COUNT;
    return e;
}

static uint32_t count(const SgNode *first)
{
    uint32_t k = 0;
    for (; first; first = first->next) k++;
    return k;
}

static void read_args(SgReading *r, SgExpr *e, const SgNode *first)
{
    e->nargs = count(first);
    e->arg = SG_ARRAY(r->c->arena, SgExpr *, e->nargs + 1);
    uint32_t k = 0;
    for (; first; first = first->next) e->arg[k++] = sg_model_express(r, first);
}

static void unknown_name(SgReading *r, const SgNode *n)
{
    uint32_t nfig = r->figure ? r->figure->nsymbols : 0, k = 0, total = nfig + r->model->file.nsymbols;
    const char **names = SG_ARRAY(r->c->arena, const char *, total + 1);
    for (uint32_t i = 0; i < total; i++) {
        SgSym sym = i < nfig ? r->figure->symbol[i].name : r->model->file.symbol[i - nfig].name;
        bool seen = i < nfig || sg_model_seen(r->model, sym, n->at.file, &(uint32_t){ 0 }, &(const SgSymbol *){ NULL });
        if (sym != SG_NO_SYM && seen) { SgStr s = name_of(r, sym); names[k++] = sg_str_keep(r->c->arena, s.s, s.n).s; }
    }
    SgStr word = name_of(r, n->sym);
    const char *near = sg_nearest(word, names, k);
    if (near) sg_say(r->c, SG_MSG_name_unknown, n->at, "nothing here is called `%.*s`; did you mean `%s`?", (int)word.n, word.s, near);
    else if (!r->figure) sg_say(r->c, SG_MSG_name_unknown, n->at, "nothing at file level is called `%.*s`; declare it with `let %.*s = ...`", (int)word.n, word.s, (int)word.n, word.s);
    else sg_say(r->c, SG_MSG_name_unknown, n->at, "nothing here is called `%.*s`; declare it, or write the name of something in this figure", (int)word.n, word.s);
}

static SgExpr *read_name(SgReading *r, const SgNode *n)
{
    const SgPhraseInfo *p = r->phrase < SG_PHRASE_COUNT ? sg_phrase_info(r->phrase) : NULL;
    if (p && (p->type == SG_TYPE_WORD || p->type == SG_TYPE_COLOUR)) {
        SgExpr *e = make(r, SG_E_WORD, n);
        e->sym = n->sym;
        return e;
    }
    uint32_t index;
    if (r->figure && sg_model_symbol(r->figure, n->sym, &index)) {
        SgExpr *e = make(r, SG_E_SYMBOL, n);
        e->symbol = index;
        return e;
    }
    const SgSymbol *also, *seen = sg_model_seen(r->model, n->sym, n->at.file, &index, &also);
    if (also) {
        SgStr name = name_of(r, n->sym), a = r->c->source[seen->at.file].path, b = r->c->source[also->at.file].path;
        SgDiag *d = sg_say(r->c, SG_MSG_name_ambiguous, n->at, "`%.*s` is declared in both %.*s and %.*s; declare it in this file, or use one of them only", (int)name.n, name.s, (int)a.n, a.s, (int)b.n, b.s);
        sg_note(r->c, d, seen->at, "here");
        sg_note(r->c, d, also->at, "and here");
        return make(r, SG_E_POISON, n);
    }
    if (seen) {
        SgExpr *e = make(r, SG_E_SYMBOL, n);
        e->symbol = index;
        e->in_file = true;
        return e;
    }
    SgStr word = name_of(r, n->sym);
    if (p && p->type == SG_TYPE_MEDIUM) {              /* after the author's own names: a growing list of media breaks no script */
        SgExpr *e = make(r, SG_E_WORD, n);
        e->sym = n->sym;
        return e;
    }
    if (p && p->kind == SG_KIND_lens && sg_str_is(word, "flat")) return make(r, SG_E_INFINITY, n);
    if (r->sheet && sg_str_is(word, "version")) return make(r, SG_E_VERSION, n);
    if (sg_str_is(word, "axis")) return make(r, SG_E_AXIS, n);
    if (sg_str_is(word, "infinity")) return make(r, SG_E_INFINITY, n);
    if (sg_str_is(word, "pi")) return make(r, SG_E_PI, n);
    unknown_name(r, n);
    return make(r, SG_E_POISON, n);
}

/* A property asked of a thing whose kind is known is checked at once. */
static bool property_fits(SgReading *r, const SgExpr *e, const SgNode *n)
{
    const SgExpr *of = e->arg[0];
    if (of->op != SG_E_SYMBOL) return true;
    const SgScope *scope = of->in_file ? &r->model->file : r->figure;
    const SgSymbol *sym = &scope->symbol[of->symbol];
    if (sym->kind == SG_KIND_let) return true;
    SgStr word = name_of(r, n->sym), name = name_of(r, sym->name);
    if (sg_property_of(sym->kind, word) < SG_PROPERTY_COUNT) {
        if (e->nargs > 1) {
            sg_say(r->c, SG_MSG_property_arguments, n->at, "`.%.*s` takes nothing in brackets; write %.*s.%.*s", (int)word.n, word.s, (int)name.n, name.s, (int)word.n, word.s);
            return false;
        }
        return true;
    }
    const char *a = sg_kind_info(sym->kind)->name_text;
    if (sym->kind == SG_KIND_lens && sg_str_is(word, "focus")) {
        sg_say(r->c, SG_MSG_property_unknown, n->sym_at, "a lens has two: %.*s.back_focus, where parallel light passes or seems to come from, and %.*s.front_focus, where light must pass or be aimed at to leave parallel",
               (int)name.n, name.s, (int)name.n, name.s);
        return false;
    }
    const char *near = sg_near_property(sym->kind, word);
    SgBuf list = { .arena = r->c->arena };
    for (int i = 0; i < SG_PROPERTY_COUNT; i++) {
        const SgPropertyInfo *p = sg_property_info((SgPropertyId)i);
        if (p->kind == sym->kind) sg_putf(&list, "%s.%s", list.n ? " " : "", p->word);
    }
    SgStr all = sg_buf_str(&list);
    if (near) sg_say(r->c, SG_MSG_property_unknown, n->sym_at, "%s has no `.%.*s`; did you mean `.%s`?", a, (int)word.n, word.s, near);
    else if (!all.n) sg_say(r->c, SG_MSG_property_unknown, n->sym_at, "%s has no properties to ask for", a);
    else sg_say(r->c, SG_MSG_property_unknown, n->sym_at, "%s has no `.%.*s`; it has %.*s", a, (int)word.n, word.s, (int)all.n, all.s);
    return false;
}

static SgExpr *read_property(SgReading *r, const SgNode *n)
{
    SgExpr *e = make(r, SG_E_PROPERTY, n);
    e->sym = n->sym;
    read_args(r, e, n->first);
    if (e->nargs == 0 || !property_fits(r, e, n)) e->op = SG_E_POISON;
    return e;
}

static SgExpr *read_call(SgReading *r, const SgNode *n)
{
    SgExpr *e = make(r, SG_E_CALL, n);
    SgStr word = name_of(r, n->sym);
    e->function = sg_function_of(word);
    if (e->function == SG_FUNCTION_COUNT) {
        const char *all[SG_FUNCTION_COUNT];
        for (int i = 0; i < SG_FUNCTION_COUNT; i++) all[i] = sg_function_info((SgFunction)i)->word;
        const char *near = sg_nearest(word, all, SG_FUNCTION_COUNT);
        if (near) sg_say(r->c, SG_MSG_function_unknown, n->sym_at, "no function is called `%.*s`; did you mean `%s`?", (int)word.n, word.s, near);
        else {
            SgBuf list = { .arena = r->c->arena };
            for (int i = 0; i < SG_FUNCTION_COUNT; i++) sg_putf(&list, "%s%s", i ? ", " : "", all[i]);
            SgStr told = sg_buf_str(&list);
            sg_say(r->c, SG_MSG_function_unknown, n->sym_at, "no function is called `%.*s`; there are %.*s", (int)word.n, word.s, (int)told.n, told.s);
        }
        e->op = SG_E_POISON;
        return e;
    }
    read_args(r, e, n->first);
    const SgFunctionInfo *f = sg_function_info(e->function);
    if (e->nargs < f->least || e->nargs > f->most) {
        sg_say(r->c, SG_MSG_function_arguments, n->at, "`%s` takes %u value%s in its brackets, and here %s %u; %s", f->word, e->nargs < f->least ? f->least : f->most,
               (e->nargs < f->least ? f->least : f->most) == 1 ? "" : "s", e->nargs == 1 ? "is" : "are", e->nargs, e->nargs < f->least ? "add what is missing" : "take the rest away");
        e->op = SG_E_POISON;
    }
    return e;
}

/* \" \{ \} stand for themselves and \n for a line end; the marks of layout (_ ^ * \) keep their backslash. */
static SgStr piece(SgReading *r, SgSpan at)
{
    SgStr src = r->c->source[at.file].bytes;
    SgBuf b = { .arena = r->c->arena };
    for (uint32_t i = at.start; i < at.end; i++) {
        char ch = src.s[i];
        if (ch == '\\' && i + 1 < at.end) {
            char next = src.s[++i];
            if (next == 'n') { sg_put_char(&b, '\n'); continue; }
            if (next != '"' && next != '{' && next != '}') sg_put_char(&b, '\\');
            sg_put_char(&b, next);
            continue;
        }
        sg_put_char(&b, ch);
    }
    return sg_buf_str(&b);
}

static SgHoleFormat hole_format(SgReading *r, const SgNode *step)
{
    SgHoleFormat f = { .unit = SG_UNIT_COUNT };
    if (!step) return f;
    f.given = true;
    f.step = step->value;
    f.decimals = step->decimals;
    if (step->unit != SG_NO_UNIT) f.unit = (SgUnit)step->unit;
    f.figures = f.unit == SG_UNIT_sf;
    if (f.figures) {
        const SgNode *unit = step->next;
        f.unit = unit && unit->kind == SG_N_NAME ? sg_unit_of(name_of(r, unit->sym)) : SG_UNIT_COUNT;
        if (unit && f.unit == SG_UNIT_COUNT) sg_say(r->c, SG_MSG_unit_unknown, unit->at, "significant figures are followed by a unit, such as {x : 3 sf cm}, or by nothing");
    }
    if (!(f.step > 0)) {
        sg_say(r->c, SG_MSG_step_not_positive, step->at, "a rounding step must be more than nought, such as 0.1 cm");
        f.step = 1;
        f.given = false;
    }
    return f;
}

static SgExpr *read_text(SgReading *r, const SgNode *n)
{
    SgExpr *e = make(r, SG_E_TEXT, n);
    if (n->kind == SG_N_PIECE) {
        e->piece = SG_NEW(r->c->arena, SgStr);
        e->piece[0] = piece(r, n->at);
        return e;
    }
    uint32_t k = count(n->first);
    e->piece = SG_ARRAY(r->c->arena, SgStr, k + 1);
    e->arg = SG_ARRAY(r->c->arena, SgExpr *, k + 1);
    e->format = SG_ARRAY(r->c->arena, SgHoleFormat, k + 1);
    for (const SgNode *x = n->first; x; x = x->next) {
        if (x->kind == SG_N_PIECE) { e->piece[e->nargs] = piece(r, x->at); continue; }
        bool whole = x->kind == SG_N_HOLE && x->first;
        e->arg[e->nargs] = whole ? sg_model_express(r, x->first) : make(r, SG_E_POISON, x);
        if (whole) e->format[e->nargs] = hole_format(r, x->first->next);
        e->nargs++;
    }
    return e;
}

static SgExpr *read_operator(SgReading *r, const SgNode *n, SgExprOp op)
{
    SgExpr *e = make(r, op, n);
    e->sign = n->op;
    read_args(r, e, n->first);
    if (op == SG_E_CHAIN) {
        uint8_t *relation = SG_ARRAY(r->c->arena, uint8_t, e->nargs + 1);
        uint32_t k = 0;
        for (const SgNode *x = n->first; x; x = x->next) relation[k++] = x->relation;
        e->relation = relation;
    }
    for (uint32_t i = 0; i < e->nargs; i++)
        if (e->arg[i]->op == SG_E_POISON && op != SG_E_CHAIN && op != SG_E_BINARY) e->op = SG_E_POISON;
    return e;
}

SgExpr *sg_model_express(SgReading *r, const SgNode *n)
{
    switch ((SgNodeKind)n->kind) {
    case SG_N_NUMBER: {
        SgExpr *e = make(r, SG_E_NUMBER, n);
        e->value = n->value;
        e->nought = n->value == 0;
        if (n->unit != SG_NO_UNIT) { e->unit = (SgUnit)n->unit; e->dim = sg_unit_info(e->unit)->dim; }
        return e;
    }
    case SG_N_NAME: return read_name(r, n);
    case SG_N_PROPERTY: return read_property(r, n);
    case SG_N_CALL: return read_call(r, n);
    case SG_N_TEXT: case SG_N_PIECE: return read_text(r, n);
    case SG_N_POINT: return read_operator(r, n, SG_E_POINT);
    case SG_N_BINARY: return read_operator(r, n, SG_E_BINARY);
    case SG_N_NEGATE: return read_operator(r, n, SG_E_NEGATE);
    case SG_N_NOT: return read_operator(r, n, SG_E_NOT);
    case SG_N_CHAIN: return read_operator(r, n, SG_E_CHAIN);
    case SG_N_PLACE: return read_operator(r, n, SG_E_PLACE);
    case SG_N_RATIO: return read_operator(r, n, SG_E_RATIO);
    case SG_N_FILE: case SG_N_STATEMENT: case SG_N_LINE: case SG_N_PARAMETERS: case SG_N_DEFINITION: case SG_N_FLAG:
    case SG_N_WORD: case SG_N_WHERE: case SG_N_CAPTION: case SG_N_BADWORD: case SG_N_HOLE: case SG_N_BAD: break;
    }
    return make(r, SG_E_POISON, n);
}
