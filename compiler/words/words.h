/* words: tags every word from the catalogue by where it stands, places statement ends, mends damage to brackets and braces.
   needs  raw tokens, the catalogue.
   gives  the same tokens tagged for the grammar, in order, with ends and missing braces put in.
   never  asks the parser. */
#ifndef SG_WORDS_H
#define SG_WORDS_H
#include "tokens/tokens.h"

typedef struct {
    SgTokens tokens;
    SG_VEC(uint32_t) tops;         /* where each file-level figure or sheet starts */
    bool braces_damaged;           /* the structure is a guess: later stages must not run */
} SgTagged;
enum { SG_MAX_BLOCKS = 16, SG_MAX_BRACKETS = 60, SG_MAX_STATEMENTS = 50000 };   /* statements: of one figure, or of the file outside figures */

SgTagged sg_words(SgCompile *c, const SgTokens *raw);
#endif
