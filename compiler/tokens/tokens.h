/* tokens: bytes to raw tokens, comments and line ends kept.
   needs  a source.
   gives  an array of tokens with spans, numbers in millimetres and degrees.
   never  knows a kind or phrase; only units, since a unit belongs to its number. */
#ifndef SG_TOKENS_H
#define SG_TOKENS_H
#include "messages/messages.h"

typedef enum { SG_RAW_EOF, SG_RAW_WORD, SG_RAW_NUMBER, SG_RAW_TEXT, SG_RAW_HEAD, SG_RAW_MID, SG_RAW_TAIL,
    SG_RAW_OP, SG_RAW_RELATION, SG_RAW_LINE_END, SG_RAW_COMMENT } SgRaw;
enum { SG_NO_UNIT = 255 };
typedef struct {
    SgSpan at;
    SgRaw raw;
    uint16_t tag;          /* the grammar's token, given by words; 0 = dropped */
    uint8_t unit;          /* numbers: index in the table of units, SG_NO_UNIT none; texts: bytes of the mark that opens the piece */
    uint8_t decimals;      /* of the number as written; texts: bytes of the mark that closes the piece */
    SgSym sym;             /* words: their name; operators: their character */
    double value;          /* numbers: in the canonical unit (mm, degree, 1/mm) */
    uint32_t next;         /* index of the next token that is no comment and no line end */
    uint16_t kind;         /* words: kind + 1 of the statement it stands in, 0 unknown */
    uint32_t governor;     /* words: index of the phrase word it is a value of, 0 none */
    uint32_t open;         /* words: index of the innermost open bracket, 0 none */
    uint32_t statement;    /* words: number of its statement */
} SgToken;
typedef struct { SgToken *v; uint32_t n, cap; } SgTokens;      /* v[0] stands for "none"; the last is SG_RAW_EOF */

enum { SG_MAX_SCRIPT = 8 * 1024 * 1024, SG_MAX_NAME = 64, SG_MAX_TEXT = 4096 };      /* bytes */

/* Whether the source may be read at all: its size, UTF-8, no NUL, control or bidi control character. Says the one message. */
bool sg_text_check(SgCompile *c, uint16_t file);
SgTokens sg_tokens(SgCompile *c, uint16_t file);
#endif
