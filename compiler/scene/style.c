/* Which style a figure has. In: `style` and `background` of the figure, else of its file; the file's own styles and those of the
   files it uses. Out: a built-in style with changes. Knows no look: what the numbers mean is the layout's. */
#include "scene/build.h"
#include "base/num.h"

enum { DEEPEST = 8 };                  /* styles like styles like styles */
typedef struct { SgCompile *c; SgSolved *s; SG_VEC(SgStyleChange) change; SgStyleId base; bool circle; } Reading;

static bool defines(const SgStatement *st) { return st->kind == SG_KIND_style && st->nphrases > 0; }

/* The statement that sets `kind` for the figure: its own, else its file's. */
static const SgStatement *setting(const SgSolved *s, SgKind kind)
{
    const SgScope *scopes[] = { s->figure->scope, &s->model->file };
    for (int k = 0; k < 2; k++)
        for (uint32_t i = 0; i < scopes[k]->nstatements; i++) {
            const SgStatement *st = &scopes[k]->statement[i];
            if (st->kind == kind && !defines(st) && st->head_at.file == s->figure->home) return st;
        }
    return NULL;
}

static const SgStatement *in_file(const SgModel *m, SgSym name, uint16_t file)
{
    for (uint32_t i = 0; i < m->file.nstatements; i++) {
        const SgStatement *st = &m->file.statement[i];
        if (defines(st) && st->name == name && st->head_at.file == file) return st;
    }
    return NULL;
}

/* An author's style as seen from a file: its own, else that of a file it uses. */
static const SgStatement *own_style(const SgModel *m, SgSym name, uint16_t home)
{
    const SgStatement *found = in_file(m, name, home);
    for (uint32_t i = 0; !found && home < m->nsources && i < m->source[home].nuses; i++) found = in_file(m, name, m->source[home].uses[i]);
    return found;
}

static void say_unknown(Reading *r, SgSym name, SgSpan at)
{
    const SgModel *m = r->s->model;
    const char **names = SG_ARRAY(r->c->arena, const char *, SG_STYLE_COUNT + m->file.nstatements);
    uint32_t n = 0;
    SgBuf list = { .arena = r->c->arena };
    for (int i = 0; i < SG_STYLE_COUNT; i++) names[n++] = sg_style_info((SgStyleId)i)->word;
    for (uint32_t i = 0; i < m->file.nstatements; i++) {
        const SgStatement *st = &m->file.statement[i];
        if (!defines(st) || own_style(m, st->name, at.file) != st) continue;
        SgStr own = sg_names_str(&r->c->names, st->name);
        names[n++] = sg_str_keep(r->c->arena, own.s, own.n).s;
    }
    for (uint32_t i = 0; i < n; i++) sg_putf(&list, "%s%s", i ? ", " : "", names[i]);
    SgStr word = sg_names_str(&r->c->names, name), all = sg_buf_str(&list);
    const char *near = sg_nearest(word, names, n);
    if (near) sg_wrong(r->s, SG_MSG_style_unknown, at, "no style is called `%.*s`; did you mean `%s`?", (int)word.n, word.s, near);
    else sg_wrong(r->s, SG_MSG_style_unknown, at, "no style is called `%.*s`; there are %.*s, and your own, written at file level: style %.*s { like light }",
                  (int)word.n, word.s, (int)all.n, all.s, (int)word.n, word.s);
}

static bool colour(Reading *r, const SgExpr *e, SgStr *out)
{
    *out = e->op == SG_E_WORD ? sg_names_str(&r->c->names, e->sym) : sg_eval_text(r->s, e);
    uint32_t rgb;
    if (sg_colour_id(*out) < SG_COLOUR_COUNT || sg_read_rgb(*out, &rgb)) return true;
    sg_wrong(r->s, SG_MSG_colour_unknown, e->at, "no colour is called `%.*s`; write blue, coral, purple, green, ink, cyan, mauve, olive, or a text such as \"#c00000\"", (int)out->n, out->s);
    return false;
}

static bool size(Reading *r, const SgPhrase *p, double *mm)
{
    enum { LEAST_PT = 3, MOST_PT = 72 };
    const char *word = sg_phrase_info(p->id)->word;
    bool width = p->id >= SG_PHRASE_style_arrow_width;
    double pt = 25.4 / 72, least = width ? 0.25 * pt : LEAST_PT * pt, most = width ? 12 * pt : MOST_PT * pt;
    SgValue v = sg_eval_as(r->s, p->value[0], SG_TYPE_NUMBER, SG_DIM_LENGTH, word);
    if (v.state != SG_VALID) return false;
    *mm = v.number;
    if (v.number >= least * (1 - 1e-9) && v.number <= most * (1 + 1e-9)) return true;
    sg_wrong(r->s, SG_MSG_style_size, p->value[0]->at, width ? "%s lies between 0.25 pt and 12 pt" : "%s lies between 3 pt and 72 pt", word);
    return false;
}

static bool change(Reading *r, const SgPhrase *p)
{
    SgStyleChange new = { .id = p->id, .at = p->at };
    if (p->n == 0) return true;
    if (sg_phrase_info(p->id)->type == SG_TYPE_COLOUR) {
        for (; new.ncolours < p->n && new.ncolours < 8; new.ncolours++) {
            new.colour_at[new.ncolours] = p->value[new.ncolours]->at;
            if (!colour(r, p->value[new.ncolours], &new.colour[new.ncolours])) return false;
        }
    } else if (!size(r, p, &new.mm)) return false;
    SG_PUSH(r->c->arena, &r->change, new);
    return true;
}

/* Changes of the style it is like come first. */
static bool read_own(Reading *r, const SgStatement *st, int depth);

static bool read_named(Reading *r, SgSym name, SgSpan at, uint16_t home, int depth)
{
    SgStyleId base = sg_style_id(sg_names_str(&r->c->names, name));
    if (base < SG_STYLE_COUNT) { r->base = base; return true; }
    const SgStatement *own = own_style(r->s->model, name, home);
    if (!own) { say_unknown(r, name, at); return false; }
    return read_own(r, own, depth);
}

static bool read_own(Reading *r, const SgStatement *st, int depth)
{
    const SgPhrase *like = sg_phrase(st, SG_PHRASE_style_like);
    bool good = true;
    if (depth == DEEPEST) {
        r->circle = true;
        sg_wrong(r->s, SG_MSG_circle, st->head_at, "these styles are like each other all the way round; one of them must be like light, dark, copier, large or tactile");
        return false;
    }
    if (like && like->n && like->value[0]->op != SG_E_WORD) {
        sg_wrong(r->s, SG_MSG_type_wrong, like->value[0]->at, "`like` is followed by the name of a style: like light");
        return false;
    }
    if (like && like->n && !read_named(r, like->value[0]->sym, like->value[0]->at, st->head_at.file, depth + 1)) return false;
    for (uint32_t i = 0; i < st->nphrases; i++)
        if (st->phrase[i].id != SG_PHRASE_style_like) good = change(r, &st->phrase[i]) && good;
    return good;
}

/* What is wrong with a style is said though no figure has it: who uses this file would meet it. */
static bool check_all(Reading *r)
{
    const SgModel *m = r->s->model;
    bool good = true;
    for (uint32_t i = 0; i < m->file.nstatements; i++) {
        const SgStatement *st = &m->file.statement[i];
        SgStr name = st->name == SG_NO_SYM ? SG_LIT("") : sg_names_str(&r->c->names, st->name);
        Reading alone = { .c = r->c, .s = r->s };
        if (!defines(st) || st->damaged) continue;
        if (sg_style_id(name) < SG_STYLE_COUNT)
            sg_wrong(r->s, SG_MSG_name_taken, st->name_at, "`%.*s` comes with the compiler; choose another name, and write `like %.*s` in it", (int)name.n, name.s, (int)name.n, name.s);
        else if (in_file(m, st->name, st->head_at.file) != st)
            sg_wrong(r->s, SG_MSG_name_taken, st->name_at, "`%.*s` is already a style of this file; choose another name", (int)name.n, name.s);
        else if (read_own(&alone, st, 0)) continue;
        good = false;
        if (alone.circle) return false;                /* the others on it would say the same */
    }
    const SgScope *scope = r->s->figure->scope;
    for (uint32_t i = 0; i < scope->nstatements; i++) {
        if (!defines(&scope->statement[i])) continue;
        sg_wrong(r->s, SG_MSG_kind_misplaced, scope->statement[i].head_at, "a style is made outside a figure, at file level; here stands only its name");
        good = false;
    }
    return good;
}

bool sg_scene_style(SgCompile *c, SgSolved *s, SgStr asked, SgSceneStyle *out)
{
    Reading r = { .c = c, .s = s };
    const SgStatement *set = setting(s, SG_KIND_style), *background = setting(s, SG_KIND_background);
    *out = (SgSceneStyle){ .base = SG_STYLE_light, .transparent = background != NULL };
    if (!check_all(&r)) return false;
    SgSym name = asked.n ? sg_names_find(&c->names, asked) : set ? set->name : SG_NO_SYM;
    if (asked.n && sg_style_id(asked) < SG_STYLE_COUNT) { out->base = sg_style_id(asked); return true; }
    if (asked.n && (name == SG_NO_SYM || !own_style(s->model, name, s->figure->home))) return false;
    if (name == SG_NO_SYM) return !asked.n;
    if (!read_named(&r, name, asked.n || !set ? s->figure->at : set->name_at, s->figure->home, 0)) return false;
    out->base = r.base;
    out->change = r.change.v;
    out->nchanges = r.change.n;
    return true;
}
