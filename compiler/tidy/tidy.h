/* tidy: the one layout of a script.
   needs  tokens with their comments, the same tokens tagged, and the tree of a script in which nothing was found wrong.
   gives  the script as text: a statement a line, phrases in the catalogue's order, comments kept, numbers and texts as written.
   never  knows what a phrase means; changes what the script says. */
#ifndef SG_TIDY_H
#define SG_TIDY_H
#include "tree/tree.h"

/* Puts each statement's text first and its phrases in the order of the catalogue, equal ones as they stood. */
void sg_tidy_order(const SgCompile *c, SgNode *tree);
/* tree: ordered. Lines are broken after a comma or before an operator to end by column 100, where they can be. */
void sg_tidy(SgCompile *c, const SgTokens *raw, const SgTagged *tagged, const SgNode *tree, SgBuf *out);
/* Whether n is one of what is put in order: a phrase, or the text standing alone. */
bool sg_tidy_phrase(const SgNode *n);
/* Whether two trees of one compile say the same; both ordered. */
bool sg_tidy_same(const SgCompile *c, const SgNode *a, const SgNode *b);
#endif
