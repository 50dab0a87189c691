/* Part of tokens: what the scanner's rules call, one call a rule. s points at the matched bytes, n counts them. */
#ifndef SG_LEX_H
#define SG_LEX_H
#include "tokens/tokens.h"

typedef struct SgLex {
    SgCompile *c;
    SgTokens out;
    uint16_t file;
    uint32_t at;               /* of the token being read */
    uint32_t text, piece;      /* where the text being read begins, and its piece */
    uint32_t open_end;         /* the line end where the last text without its end stopped, UINT32_MAX none */
    uint32_t odd_end;          /* behind the odd characters last told of */
    bool parts, hole;          /* the text has holes; one of them is open */
} SgLex;

void sg_lex_scan(SgLex *x);                               /* all of the file; stands in the grammar's file */
void sg_lex_fatal(SgLex *x);                              /* does not return: jumps by the arena */
void sg_lex_skip(SgLex *x, int n);
void sg_lex_comment(SgLex *x, int n);
bool sg_lex_line_end(SgLex *x);                           /* true: it ended a hole, and with it its text */
void sg_lex_word(SgLex *x, int n);
void sg_lex_foreign(SgLex *x, int n);                     /* a word with letters outside ASCII */
int sg_lex_number(SgLex *x, const char *s, int n);        /* a number and perhaps a word: bytes used, less than n when that is no unit */
int sg_lex_bare(SgLex *x, const char *s, int n);          /* .5 */
void sg_lex_relation(SgLex *x, const char *s, int n);
void sg_lex_op(SgLex *x, char c);
bool sg_lex_close(SgLex *x);                              /* true: the brace ended a hole, text goes on */
bool sg_lex_quote(SgLex *x);                              /* true: text begins */
void sg_lex_odd(SgLex *x, int n);
void sg_lex_typeset_text(SgLex *x, int n);                /* a whole text in quotes that are not the script's */
void sg_lex_hole(SgLex *x);
void sg_lex_text_end(SgLex *x);
void sg_lex_text_open(SgLex *x);                          /* at a line end, inside a text or a hole */
void sg_lex_file_end(SgLex *x, bool in_text);
#endif
