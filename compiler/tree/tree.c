/* Nodes of the tree. In: tagged tokens and smaller nodes. Out: nodes with spans and heights; taller ones than the limit are
   cut off with one message. Knows no kind and no phrase. */
#include "tree/parse.h"

#include "base/num.h"
#include "catalogue/catalogue.h"

SgNode *sg_node(SgParse *p, SgNodeKind kind, SgSpan at)
{
    SgNode *n = SG_NEW(p->c->arena, SgNode);
    n->kind = (uint8_t)kind;
    n->at = n->sym_at = n->name_at = at;
    n->unit = SG_NO_UNIT;
    n->sym = n->name = SG_NO_SYM;
    return n;
}

static bool is_damage(const SgNode *n)
{
    return n->kind == SG_N_BAD || n->kind == SG_N_BADWORD || (n->damaged && n->kind != SG_N_STATEMENT);
}

static SgSpan joined(SgSpan a, SgSpan b)
{
    return (SgSpan){ a.start < b.start ? a.start : b.start, a.end > b.end ? a.end : b.end, a.file };
}

SgNode *sg_node_add(SgNode *list, SgNode *child)
{
    SgNode *first = child, *last = child;
    if (!child) return list;
    if (child->kind == SG_N_FILE) {
        list->damaged |= child->damaged;
        first = child->first;
        last = child->last;
        if (!first) return list;
    }
    if (list->last) list->last->next = first;
    else list->first = first;
    list->last = last;
    if (list->kind == SG_N_FILE || list->kind == SG_N_LINE) list->at = joined(list->at, (SgSpan){ first->at.start, last->at.end, first->at.file });
    bool expression = list->kind != SG_N_FILE && list->kind != SG_N_STATEMENT;
    for (const SgNode *x = first; x; x = x->next) {
        list->damaged |= is_damage(x);
        if (expression && x->height >= list->height) list->height = (uint16_t)(x->height + 1);
    }
    return list;
}

SgNode *sg_node_front(SgNode *list, SgNode *child)
{
    SgNode *first = child->kind == SG_N_FILE ? child->first : child, *last = child->kind == SG_N_FILE ? child->last : child;
    list->damaged |= is_damage(child);
    if (!first) return list;
    last->next = list->first;
    list->first = first;
    if (!list->last) list->last = last;
    return list;
}

/* An expression taller than the limit is cut off: later stages may walk what is left by recursion. */
static SgNode *limited(SgParse *p, SgNode *n)
{
    if (n->height <= SG_MAX_HEIGHT) return n;
    uint32_t statement = p->token[p->at].statement;
    if (p->too_tall != statement) {
        p->too_tall = p->c->statement = statement;
        sg_say_ranked(p->c, SG_GUESS, SG_MSG_limit, (SgSpan){ n->at.start, n->at.start + 1, n->at.file },
                      "this expression is nested more than %d deep; name a part of it with `let`", SG_MAX_HEIGHT);
    }
    return sg_node_bad(p, n->at);
}

SgNode *sg_node_of(SgParse *p, SgNodeKind kind, SgNode *child, SgSpan at)
{
    SgNode *n = sg_node_add(sg_node(p, kind, at), child);
    return kind == SG_N_NEGATE || kind == SG_N_NOT ? limited(p, n) : n;      /* the others hold an expression, and are none */
}

SgNode *sg_node_pair(SgParse *p, SgNodeKind kind, int op, SgNode *a, SgNode *b, SgSpan at)
{
    SgNode *n = sg_node(p, kind, at);
    n->op = (uint8_t)op;
    return limited(p, sg_node_add(sg_node_add(n, a), b));
}

SgNode *sg_node_chain(SgParse *p, SgNode *first, const SgToken *relation, SgNode *operand, SgSpan at)
{
    operand->relation = (uint8_t)relation->sym;
    return sg_node_pair(p, SG_N_CHAIN, 0, first, operand, at);
}

SgNode *sg_node_chain_on(SgParse *p, SgNode *chain, const SgToken *relation, SgNode *operand, SgSpan at)
{
    operand->relation = (uint8_t)relation->sym;
    chain->at = at;
    return limited(p, sg_node_add(chain, operand));
}

SgNode *sg_node_statement(SgParse *p, const SgToken *kind, const SgToken *name, SgNode *head, SgNode *phrases, SgSpan at)
{
    SgNode *n = sg_node(p, SG_N_STATEMENT, at);
    n->sym = kind->sym;
    n->sym_at = n->name_at = kind->at;
    if (name) {
        n->name = name->sym;
        n->name_at = name->at;
    }
    return sg_node_add(sg_node_add(n, head), phrases);
}

SgNode *sg_node_block(SgNode *statement, SgNode *items, SgSpan at)
{
    statement->at = at;
    return sg_node_add(statement, items);
}

SgNode *sg_node_alone(SgParse *p, SgNode *list, SgNode *items, SgSpan at)
{
    sg_parse_alone(p, at);
    return sg_node_add(sg_node_add(sg_node_of(p, SG_N_FILE, sg_node_bad(p, at), at), list), items);
}

SgNode *sg_node_word(SgParse *p, SgNodeKind kind, const SgToken *word, SgNode *values, SgSpan at)
{
    SgNode *n = sg_node(p, kind, at);
    n->sym = word->sym;
    n->sym_at = word->at;
    return sg_node_add(n, values);
}

SgNode *sg_node_bad(SgParse *p, SgSpan at)
{
    SgNode *n = sg_node(p, SG_N_BAD, at);
    n->damaged = true;
    return n;
}

static SgNode *number(SgParse *p, const SgToken *t)
{
    SgNode *n = sg_node(p, SG_N_NUMBER, t->at);
    n->value = t->value;
    n->unit = t->unit;
    n->decimals = t->decimals;
    return n;
}

SgNode *sg_node_number(SgParse *p, const SgToken *t)
{
    if (t->unit == SG_UNIT_sf) sg_say(p->c, SG_MSG_unit_figures, t->at, "`sf` counts significant figures and stands only after : in a text, as in {x : 3 sf}");
    return number(p, t);
}

SgNode *sg_node_step(SgParse *p, const SgToken *t)
{
    return number(p, t);
}

SgNode *sg_node_name(SgParse *p, const SgToken *t)
{
    SgNode *n = sg_node(p, SG_N_NAME, t->at);
    n->sym = t->sym;
    return n;
}

SgNode *sg_node_property(SgParse *p, SgNode *of, const SgToken *name, SgNode *args, SgSpan at)
{
    SgNode *n = sg_node(p, SG_N_PROPERTY, at);
    n->sym = name->sym;
    n->sym_at = name->at;
    n->called = args != NULL;
    return limited(p, sg_node_add(sg_node_add(n, of), args));
}

SgNode *sg_node_call(SgParse *p, const SgToken *name, SgNode *args, SgSpan at)
{
    SgNode *n = sg_node(p, SG_N_CALL, at);
    n->sym = name->sym;
    n->sym_at = name->at;
    n->called = true;
    return limited(p, sg_node_add(n, args));
}

SgNode *sg_node_piece(SgParse *p, const SgToken *t)
{
    SgSpan at = t->at;
    at.start += t->unit;
    at.end -= t->decimals;
    if (at.end < at.start) at.end = at.start;
    return sg_node(p, SG_N_PIECE, at);
}

SgNode *sg_node_text(SgParse *p, const SgToken *head, SgNode *holes, const SgToken *tail, SgSpan at)
{
    SgNode *n = sg_node_add(sg_node(p, SG_N_TEXT, at), sg_node_piece(p, head));
    if (!holes) return n;
    return sg_node_add(sg_node_add(n, holes), sg_node_piece(p, tail));
}

/* ---- the tree as text, for tests and tools ---- */
static void put_node(const SgCompile *c, const SgNode *n, SgBuf *out, uint32_t depth)
{
    static const char *const name[] = { "file", "statement", "line", "parameters", "definition", "flag", "word", "where", "caption", "badword",
        "text", "piece", "hole", "number", "name", "property", "call", "point", "binary", "negate", "not", "chain", "place", "ratio", "bad" };
    for (uint32_t i = 0; i < depth; i++) sg_puts(out, "  ");
    sg_putf(out, "(%s", name[n->kind]);
    if (n->relation) sg_putf(out, " after %c", n->relation);
    if (n->op) sg_putf(out, " %c", n->op);
    SgStr sym = sg_names_str(&c->names, n->sym), own = sg_names_str(&c->names, n->name);
    if (sym.n) sg_putf(out, " %.*s", (int)sym.n, sym.s);
    if (own.n) sg_putf(out, " named %.*s", (int)own.n, own.s);
    if (n->kind == SG_N_NUMBER) {
        sg_put_char(out, ' ');
        sg_put_full(out, n->value);
        if (n->unit != SG_NO_UNIT) sg_putf(out, " written in %s", sg_unit_info((SgUnit)n->unit)->spelling);
    }
    if (n->kind == SG_N_PIECE) sg_putf(out, " %.*s", (int)(n->at.end - n->at.start), c->source[n->at.file].bytes.s + n->at.start);
    if (n->damaged) sg_puts(out, " damaged");
    if (n->first) sg_put_char(out, '\n');
    for (const SgNode *child = n->first; child; child = child->next) put_node(c, child, out, depth + 1);
    for (uint32_t i = 0; n->first && i < depth; i++) sg_puts(out, "  ");
    sg_puts(out, ")\n");
}

void sg_tree_dump(const SgCompile *c, const SgNode *n, SgBuf *out)
{
    put_node(c, n, out, 0);
}
