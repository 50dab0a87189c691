/* Part of tree: the parser's state and the constructors its rules call, one call a rule.
   Constructors never return NULL; memory that runs out jumps by the arena, and the parser holds none of its own. */
#ifndef SG_PARSE_H
#define SG_PARSE_H
#include "tree/tree.h"

typedef struct {
    SgCompile *c;
    const SgToken *token; uint32_t ntokens;
    uint32_t at;               /* index of the token read last */
    uint32_t too_tall;         /* statement whose expression was cut off, told once */
    SgNode *tree;
} SgParse;

int sg_scriptparse(SgParse *p);                                         /* bison's: 0, 1, or 2 when its stack is full */
/* What one syntax error is, from what could have stood there. */
typedef struct { bool value, closing, end; } SgExpected;
void sg_parse_error(SgParse *p, SgExpected expected);
void sg_parse_alone(SgParse *p, SgSpan at);                             /* a block without a statement */
void sg_parse_stray(SgParse *p, SgSpan at);                             /* a } that the parser was left with after an error */
void sg_parse_too_deep(SgParse *p, SgSpan at);

SgNode *sg_node(SgParse *p, SgNodeKind kind, SgSpan at);
SgNode *sg_node_add(SgNode *list, SgNode *child);                       /* a node, or the children of a bare list (SG_N_FILE) */
SgNode *sg_node_front(SgNode *list, SgNode *child);                     /* the same, before what is there */
SgNode *sg_node_of(SgParse *p, SgNodeKind kind, SgNode *child, SgSpan at);
SgNode *sg_node_pair(SgParse *p, SgNodeKind kind, int op, SgNode *a, SgNode *b, SgSpan at);
SgNode *sg_node_chain(SgParse *p, SgNode *first, const SgToken *relation, SgNode *operand, SgSpan at);
SgNode *sg_node_chain_on(SgParse *p, SgNode *chain, const SgToken *relation, SgNode *operand, SgSpan at);   /* one operand more */
SgNode *sg_node_statement(SgParse *p, const SgToken *kind, const SgToken *name, SgNode *head, SgNode *phrases, SgSpan at);
SgNode *sg_node_block(SgNode *statement, SgNode *items, SgSpan at);
SgNode *sg_node_alone(SgParse *p, SgNode *list, SgNode *items, SgSpan at);      /* a block without a statement: says so */
SgNode *sg_node_word(SgParse *p, SgNodeKind kind, const SgToken *word, SgNode *values, SgSpan at);
SgNode *sg_node_bad(SgParse *p, SgSpan at);
SgNode *sg_node_number(SgParse *p, const SgToken *t);
SgNode *sg_node_step(SgParse *p, const SgToken *t);                     /* of a hole */
SgNode *sg_node_name(SgParse *p, const SgToken *t);
SgNode *sg_node_property(SgParse *p, SgNode *of, const SgToken *name, SgNode *args, SgSpan at);
SgNode *sg_node_call(SgParse *p, const SgToken *name, SgNode *args, SgSpan at);
SgNode *sg_node_piece(SgParse *p, const SgToken *t);
SgNode *sg_node_text(SgParse *p, const SgToken *head, SgNode *holes, const SgToken *tail, SgSpan at);
#endif
