/* Scripts made up from the catalogue. See gen.h. */
#include "gen.h"
#include "catalogue/catalogue.h"
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* splitmix64 (Steele, Lea, Flood 2014, "Fast splittable pseudorandom number generators"): constants from memory. */
static uint64_t next_of(uint64_t *state)
{
    uint64_t z = (*state += 0x9E3779B97F4A7C15u);
    z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9u;
    z = (z ^ (z >> 27)) * 0x94D049BB133111EBu;
    return z ^ (z >> 31);
}

uint32_t gen_below(uint64_t *state, uint32_t n) { return (uint32_t)((next_of(state) >> 32) % n); }

void gen_begin(Gen *g, uint64_t content, uint64_t layout)
{
    *g = (Gen){ .content = content, .layout = layout, .messy = layout != 0 };
}

void gen_free(Gen *g)
{
    free(g->out.v);
    g->out = (GenText){ 0 };
}

static void add_bytes(GenText *t, const char *s, size_t n)
{
    if (t->n + n + 1 > t->cap) t->v = realloc(t->v, t->cap = (t->n + n + 1) * 2);
    memcpy(t->v + t->n, s, n);
    t->n += n;
    t->v[t->n] = 0;
}

static void add(Gen *g, const char *s) { add_bytes(&g->out, s, strlen(s)); }

/* ---- layout ---- */
static void gap(Gen *g)
{
    static const char *const some[] = { " ", "  ", "\t", " \t ", "\xC2\xA0" };
    add(g, g->messy ? some[gen_below(&g->layout, 5)] : " ");
}
static void maybe(Gen *g) { if (g->messy && gen_below(&g->layout, 3) == 0) gap(g); }
/* Where a line may go on: after a comma or an operator. */
static void turn(Gen *g)
{
    if (g->messy && gen_below(&g->layout, 4) == 0) add(g, gen_below(&g->layout, 2) ? "\n" : " \r\n\t");
    else gap(g);
}
static void around(Gen *g, const char *op)
{
    if (g->messy && gen_below(&g->layout, 6) == 0) add(g, "\n");
    if (g->messy && gen_below(&g->layout, 2)) gap(g);
    else if (!g->messy) gap(g);
    add(g, op);
    if (g->messy && gen_below(&g->layout, 3)) maybe(g);
    else turn(g);
}

/* ---- values ---- */
static uint32_t roll(Gen *g, uint32_t n) { return gen_below(&g->content, n); }
static const char *pick(Gen *g, const char *const *words, uint32_t n) { return words[roll(g, n)]; }
#define PICK(g, ...) pick(g, (const char *const[]){ __VA_ARGS__ }, sizeof((const char *const[]){ __VA_ARGS__ }) / sizeof(const char *))

static void value_of(Gen *g, SgType type, SgDim dim, int depth);

static void number(Gen *g)
{
    char text[40];
    snprintf(text, sizeof text, "%u", roll(g, 30));
    add(g, text);
    if (roll(g, 3)) return;
    snprintf(text, sizeof text, ".%0*u", (int)(1 + roll(g, 3)), roll(g, 1000));
    add(g, text);
}

static void measure(Gen *g, const char *unit)
{
    number(g);
    if (g->messy ? gen_below(&g->layout, 2) : strcmp(unit, "\xC2\xB0") != 0) gap(g);
    add(g, unit);
}

static void bracketed(Gen *g, SgDim dim, int depth)
{
    add(g, "(");
    maybe(g);
    value_of(g, SG_TYPE_NUMBER, dim, depth + 1);
    maybe(g);
    add(g, ")");
}

static void quantity(Gen *g, SgDim dim, int depth)
{
    SgDim plain = { 0, 0 };
    switch (roll(g, depth < 3 ? 9 : 4)) {
    /* The kind in brackets: after an operator at the start of a line, and before a text, it would begin a statement. */
    case 0: add(g, PICK(g, "f", "u", "k", "height", "at", "(lens)")); break;
    case 1: add(g, PICK(g, "M", "L", "o", "i", "mirror")); add(g, "."); add(g, PICK(g, "focal", "height", "distance", "size", "power")); break;
    case 2: case 3:
        if (dim.angle) measure(g, PICK(g, "deg", "\xC2\xB0", "rad"));
        else if (dim.length > 0) measure(g, PICK(g, "cm", "mm", "m", "inch", "pt", "\xC2\xB5m"));
        else if (dim.length < 0) measure(g, "D");
        else number(g);
        break;
    case 4: value_of(g, SG_TYPE_NUMBER, dim, depth + 1); around(g, PICK(g, "+", "-")); value_of(g, SG_TYPE_NUMBER, dim, depth + 1); break;
    case 5: value_of(g, SG_TYPE_NUMBER, plain, depth + 2); around(g, PICK(g, "*", "/")); value_of(g, SG_TYPE_NUMBER, dim, depth + 2); break;
    case 6: bracketed(g, dim, depth); break;
    case 7: add(g, "-"); maybe(g); bracketed(g, dim, depth); break;
    case 8: add(g, PICK(g, "max", "abs", "round", "f")); maybe(g); bracketed(g, dim, depth); add(g, "^"); add(g, PICK(g, "2", "-1")); break;
    }
}

static void point(Gen *g, int depth)
{
    SgDim length = { 1, 0 };
    add(g, "(");
    maybe(g);
    value_of(g, SG_TYPE_NUMBER, length, depth + 1);
    maybe(g);
    add(g, ",");
    turn(g);
    value_of(g, SG_TYPE_NUMBER, length, depth + 1);
    maybe(g);
    add(g, ")");
}

static void value_of(Gen *g, SgType type, SgDim dim, int depth)
{
    SgDim length = { 1, 0 };
    switch (type) {
    case SG_TYPE_NONE: break;
    case SG_TYPE_NUMBER: quantity(g, dim, depth); break;
    case SG_TYPE_TRUTH:
        quantity(g, length, 2);
        around(g, PICK(g, "<", "<=", "=", "!="));
        quantity(g, length, 2);
        if (depth < 2 && roll(g, 2)) {
            gap(g); add(g, PICK(g, "and", "or")); turn(g);
            if (roll(g, 3) == 0) { add(g, "not"); gap(g); }
            value_of(g, type, dim, depth + 1);
        }
        break;
    case SG_TYPE_TEXT: add(g, PICK(g, "\"the lamp\"", "\"\"", "\"it is {i.nature}\"", "\"{f : 0.1 cm}, d_o = {u}\"", "\"a \\\"word\\\" # no comment\"", "\"\xC3\xA9tag\xC3\xA8re\"")); break;
    case SG_TYPE_PLACE:
        switch (roll(g, 3)) {
        case 0: quantity(g, length, 1); break;
        case 1: point(g, depth); break;
        default: quantity(g, length, 2); gap(g); add(g, PICK(g, "before", "beyond")); gap(g); add(g, PICK(g, "M", "L", "focal"));
        }
        break;
    case SG_TYPE_POINT:
        if (roll(g, 3) == 0) point(g, depth);
        else { add(g, PICK(g, "o", "M", "i", "P")); add(g, "."); add(g, PICK(g, "tip", "focus", "vertex", "foot", "centre")); }
        break;
    case SG_TYPE_LINE: add(g, PICK(g, "axis", "a.in", "a.out", "r.out")); break;
    case SG_TYPE_THING: add(g, PICK(g, "M", "L", "o", "i")); break;
    case SG_TYPE_WORD:
        if (dim.angle && roll(g, 2)) quantity(g, dim, 2);
        else add(g, PICK(g, "left", "right", "up", "down", "auto", "straight", "arc", "warn", "produced", "passes"));
        break;
    case SG_TYPE_COLOUR: add(g, PICK(g, "blue", "coral", "green", "\"#0364f0\"")); break;
    default:        /* a medium, or anything */
        if (roll(g, 2)) add(g, PICK(g, "glass", "water"));
        else quantity(g, dim, depth);
    }
}

void gen_value(Gen *g)
{
    static const SgDim dims[] = { { 0, 0 }, { 1, 0 }, { 0, 1 }, { -1, 0 } };
    value_of(g, (SgType)roll(g, SG_TYPE_ANY + 1), dims[roll(g, 4)], 0);
}

/* ---- phrases and statements ---- */
static void phrase(Gen *g, SgPhraseId id)
{
    const SgPhraseInfo *p = sg_phrase_info(id);
    add(g, p->word);
    if (p->form == SG_FORM_FLAG) return;
    gap(g);
    value_of(g, p->form == SG_FORM_WHERE ? SG_TYPE_TRUTH : p->type, p->dim, 0);
    for (uint32_t n = p->most > 1 ? roll(g, 3) : 0; n > 0; n--) {
        add(g, ",");
        turn(g);
        value_of(g, p->type, p->dim, 0);
    }
}

void gen_phrase(Gen *g) { phrase(g, (SgPhraseId)roll(g, SG_PHRASE_COUNT)); }

static bool wanted(Gen *g, const SgPhraseInfo *p, bool *group)
{
    uint32_t dice = roll(g, 100);
    if (p->group <= 1) return dice < (p->group ? 95u : p->kind == SG_KIND_COUNT ? 8u : 30u);
    if (group[p->group] || dice >= 45) return false;
    return group[p->group] = true;
}

/* The phrases of a statement, each made in the catalogue's order and then put in the layout's. */
static void phrases(Gen *g, SgKind kind, bool caption)
{
    enum { MOST = 40 };
    GenText whole = g->out, part[MOST];
    bool group[256] = { false };
    uint32_t n = 0;
    if (caption) {
        g->out = (GenText){ 0 };
        value_of(g, SG_TYPE_TEXT, (SgDim){ 0, 0 }, 0);
        part[n++] = g->out;
    }
    for (int i = 0; i < SG_PHRASE_COUNT && n < MOST; i++) {
        const SgPhraseInfo *p = sg_phrase_info((SgPhraseId)i);
        bool has = p->kind == kind || (p->kind == SG_KIND_COUNT && sg_kind_info(kind)->drawn);
        if (!has || !wanted(g, p, group)) continue;
        g->out = (GenText){ 0 };
        phrase(g, (SgPhraseId)i);
        part[n++] = g->out;
    }
    g->out = whole;
    for (uint32_t i = n; g->messy && i > 1; i--) {
        uint32_t k = gen_below(&g->layout, i);
        GenText swap = part[i - 1];
        part[i - 1] = part[k];
        part[k] = swap;
    }
    for (uint32_t i = 0; i < n; i++) {
        gap(g);
        if (part[i].n) add_bytes(&g->out, part[i].v, part[i].n);
        free(part[i].v);
    }
}

static void indent(Gen *g, int depth)
{
    uint32_t n = g->messy ? gen_below(&g->layout, 9) : (uint32_t)depth * 4;
    while (n-- > 0) add(g, " ");
}

static void comment(Gen *g) { add(g, PICK(g, "# the lamp room", "#", "# \"{ not a text", "#\xC3\xA9")); }

/* The end of a statement: a comment and an empty line are content; `;` in place of a line end is layout. */
static void line_end(Gen *g, int depth)
{
    bool said = roll(g, 8) == 0, empty = roll(g, 6) == 0, below = roll(g, 12) == 0;
    if (said) { gap(g); comment(g); }
    if (g->messy && !said && !empty && !below && gen_below(&g->layout, 5) == 0) {
        add(g, gen_below(&g->layout, 2) ? ";" : " ;; ");
        return;
    }
    if (g->messy && gen_below(&g->layout, 3) == 0) add(g, " \t");
    add(g, g->messy && gen_below(&g->layout, 3) == 0 ? "\r\n" : "\n");
    if (empty) add(g, g->messy ? " \n\n" : "\n");
    if (!below) return;
    indent(g, depth);
    comment(g);
    add(g, "\n");
}

static void statement(Gen *g, int depth, bool in_step);

static void block(Gen *g, int depth, bool in_step, uint32_t most)
{
    if (g->messy && gen_below(&g->layout, 6) == 0) add(g, "\n");
    else gap(g);
    add(g, "{");
    add(g, g->messy && gen_below(&g->layout, 4) == 0 ? " " : "\n");
    for (uint32_t n = roll(g, most); n > 0; n--) statement(g, depth + 1, in_step);
    indent(g, depth);
    add(g, "}");
}

static void statement(Gen *g, int depth, bool in_step)
{
    SgKind kind;
    do kind = (SgKind)roll(g, SG_KIND_COUNT);
    while (!(sg_kind_info(kind)->stands & (in_step ? SG_IN_STEP : SG_IN_FIGURE)));
    const SgKindInfo *k = sg_kind_info(kind);
    bool has_name = k->slot == SG_SLOT_MUST || (k->slot == SG_SLOT_MAY && roll(g, 2)), own = false;
    SgDim length = { 1, 0 };
    indent(g, depth);
    add(g, k->word);
    if (has_name) {
        gap(g);
        add(g, PICK(g, "M", "L", "o", "i", "a", "r", "P", "f", "u", "k_1"));
    }
    if (kind == SG_KIND_let) {
        around(g, "=");
        quantity(g, length, 0);
    }
    if (k->slot == SG_SLOT_CONDITION) { gap(g); value_of(g, SG_TYPE_TRUTH, length, 0); }
    if (k->slot == SG_SLOT_BARE) { gap(g); quantity(g, length, 0); }
    phrases(g, kind, k->slot == SG_SLOT_MAY && roll(g, 3) == 0);
    own = k->holds == SG_HOLDS_STATEMENTS;
    if (own) block(g, depth, true, 4);
    line_end(g, depth);
}

void gen_statement(Gen *g) { statement(g, 1, roll(g, 2)); }

static void parameters(Gen *g)
{
    SgDim length = { 1, 0 };
    uint32_t n = roll(g, 4);
    if (n == 0) return;
    maybe(g);
    add(g, "(");
    for (uint32_t i = 0; i < n; i++) {
        if (i) { maybe(g); add(g, ","); turn(g); }
        add(g, PICK(g, "u", "v", "f", "h"));
        around(g, "=");
        quantity(g, length, 1);
    }
    add(g, ")");
}

static void figure(Gen *g)
{
    add(g, "figure");
    gap(g);
    add(g, PICK(g, "lamp", "shell", "beacon", "step"));
    bool copy = roll(g, 4) == 0;
    if (copy) { around(g, "="); add(g, PICK(g, "lamp", "shell")); }
    parameters(g);
    if (roll(g, 2)) { gap(g); value_of(g, SG_TYPE_TEXT, (SgDim){ 0, 0 }, 0); }
    if (!copy) block(g, 0, false, 9);
    line_end(g, 0);
}

void gen_script(Gen *g)
{
    if (roll(g, 6) == 0) { add(g, "sagitta"); gap(g); add(g, "1\n"); }
    if (roll(g, 3) == 0) { comment(g); add(g, "\n"); }
    for (uint32_t n = roll(g, 3); n > 0; n--) {
        add(g, "let");
        gap(g);
        add(g, PICK(g, "f", "u", "height"));
        around(g, "=");
        quantity(g, (SgDim){ 1, 0 }, 0);
        line_end(g, 0);
    }
    for (uint32_t n = 1 + roll(g, 2); n > 0; n--) figure(g);
}
