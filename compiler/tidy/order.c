/* The order of phrases in a tidied script, and whether two trees say the same. In: trees. Out: the same nodes, linked anew. */
#include "tidy/tidy.h"

#include <string.h>

#include "catalogue/catalogue.h"

typedef struct { SgNode *first, *last; } List;

bool sg_tidy_phrase(const SgNode *n)
{
    bool word = n->kind == SG_N_FLAG || n->kind == SG_N_WORD || n->kind == SG_N_WHERE;
    return n->kind == SG_N_CAPTION || (word && n->sym != SG_NO_SYM);      /* a condition behind its kind has no word */
}

static void append(List *list, SgNode *n)
{
    if (list->last) list->last->next = n;
    else list->first = n;
    list->last = n;
    n->next = NULL;
}

static void join(List *list, List more)
{
    if (!more.first) return;
    if (list->last) list->last->next = more.first;
    else list->first = more.first;
    list->last = more.last;
}

/* A caption first, then the kind's own phrases, then those of everything drawn: the numbers of the catalogue. */
static size_t rank_of(const SgCompile *c, SgKind kind, const SgNode *n)
{
    return n->kind == SG_N_CAPTION ? 0 : 1 + (size_t)sg_phrase_of(kind, sg_names_str(&c->names, n->sym));
}

static void order_phrases(const SgCompile *c, SgKind kind, SgNode *holder)
{
    enum { RANKS = SG_PHRASE_COUNT + 2 };
    List rank[RANKS], head = { 0 }, rest = { 0 };
    memset(rank, 0, sizeof rank);
    for (SgNode *n = holder->first, *next; n; n = next) {
        next = n->next;
        if (sg_tidy_phrase(n)) append(&rank[rank_of(c, kind, n)], n);
        else append(n->kind == SG_N_STATEMENT || n->kind == SG_N_LINE ? &rest : &head, n);
    }
    for (size_t i = 0; i < RANKS; i++) join(&head, rank[i]);
    join(&head, rest);
    holder->first = head.first;
    holder->last = head.last;
}

static void order_all(const SgCompile *c, SgNode *holder, SgKind kind)
{
    if (holder->kind == SG_N_STATEMENT || holder->kind == SG_N_LINE) order_phrases(c, kind, holder);
    for (SgNode *n = holder->first; n; n = n->next) {
        if (n->kind == SG_N_STATEMENT) order_all(c, n, sg_kind_of(sg_names_str(&c->names, n->sym)));
        else if (n->kind == SG_N_LINE) order_all(c, n, kind);
    }
}

void sg_tidy_order(const SgCompile *c, SgNode *tree)
{
    order_all(c, tree, SG_KIND_COUNT);
}

static SgStr bytes_of(const SgCompile *c, const SgNode *n)
{
    return (SgStr){ c->source[n->at.file].bytes.s + n->at.start, n->at.end - n->at.start };
}

/* Without recursion along a list; expressions and blocks are of bounded height. */
bool sg_tidy_same(const SgCompile *c, const SgNode *a, const SgNode *b)
{
    for (; a && b; a = a->next, b = b->next) {
        if (a->kind != b->kind || a->op != b->op || a->relation != b->relation || a->called != b->called) return false;
        if (a->unit != b->unit || a->decimals != b->decimals || a->sym != b->sym || a->name != b->name) return false;
        if (a->damaged || b->damaged || memcmp(&a->value, &b->value, sizeof a->value) != 0) return false;
        if (a->kind == SG_N_PIECE && !sg_str_same(bytes_of(c, a), bytes_of(c, b))) return false;
        if (!sg_tidy_same(c, a->first, b->first)) return false;
    }
    return a == b;
}
