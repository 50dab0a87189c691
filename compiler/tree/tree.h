/* tree: tagged tokens to a syntax tree.
   needs  tagged tokens.
   gives  a tree, and one message a mistake; a statement with a syntax error is marked damaged.
   never  knows a kind or a phrase. */
#ifndef SG_TREE_H
#define SG_TREE_H
#include "words/words.h"

typedef enum {
    SG_N_FILE,         /* list of statements and blocks (also any bare list) */
    SG_N_STATEMENT,    /* sym kind, name; children: parameters, definition, phrases, statements */
    SG_N_LINE,         /* phrases standing on a line of their own inside a block */
    SG_N_PARAMETERS,   /* figure f(u = 12 cm): children are chains `name = value` */
    SG_N_DEFINITION,   /* = condition */
    SG_N_FLAG, SG_N_WORD, SG_N_WHERE,    /* phrases: sym; WORD has values as children, WHERE one condition */
    SG_N_CAPTION,      /* a text standing alone */
    SG_N_BADWORD,      /* a word that is no phrase here; already reported */
    SG_N_TEXT,         /* pieces and holes */
    SG_N_PIECE,        /* text between holes, as its bytes: span without quotes and braces */
    SG_N_HOLE,         /* child 1 the expression; child 2 the step, a NUMBER; child 3 a unit's NAME after a step in sf */
    SG_N_NUMBER, SG_N_NAME, SG_N_PROPERTY, SG_N_CALL, SG_N_POINT,
    SG_N_BINARY,       /* op + - * / ^ and a(nd) o(r) */
    SG_N_NEGATE, SG_N_NOT,
    SG_N_CHAIN,        /* a < b <= c: children the operands, each but the first with the relation before it:
                          = ! < > l(<=) g(>=) */
    SG_N_PLACE,        /* op b(efore) or y (beyond): distance, thing */
    SG_N_RATIO,        /* 1:2 */
    SG_N_BAD
} SgNodeKind;
typedef struct SgNode SgNode;
struct SgNode {
    uint8_t kind, op, unit, decimals;
    uint8_t relation;          /* of an operand of a chain, beside its own op; 0 of the first */
    uint16_t height;
    bool damaged;              /* a syntax error was reported inside this statement (of a figure: a line of it could not be read) */
    bool called;               /* property with arguments */
    SgSym sym, name;           /* name: of a statement, SG_NO_SYM none */
    SgSpan at, name_at, sym_at;
    double value;              /* numbers: canonical */
    SgNode *first, *last, *next;
};
enum { SG_MAX_HEIGHT = 256 };

SgNode *sg_tree(SgCompile *c, const SgTagged *tagged);     /* SG_N_FILE */
void sg_tree_dump(const SgCompile *c, const SgNode *n, SgBuf *out);
#endif
