/* text: the bytes of a script and where its lines are.
   needs  bytes.
   gives  checked UTF-8 (no NUL, control or bidi control characters), a line table, line and column of any byte.
   never  opens a file, knows a word of the language. */
#ifndef SG_TEXT_H
#define SG_TEXT_H
#include "base/base.h"

typedef struct {
    SgStr path;            /* as the author gave it; "-" reads as "standard input" in messages */
    SgStr bytes;
    uint32_t *line;        /* offset of each line's first byte */
    uint32_t nlines;
} SgSource;
typedef struct { uint32_t line, column; SgStr text; } SgPlace;       /* from 1; column counts characters; the whole line without its end */

SgSource sg_text_source(SgArena *a, SgStr path, SgStr bytes);        /* skips a BOM; takes CRLF as it comes */
uint32_t sg_text_line(const SgSource *source, uint32_t offset);      /* index of the line that holds the byte, from 0 */
SgPlace sg_text_place(const SgSource *source, uint32_t offset);
/* The first byte that may not stand in a script, or bytes.n when all may; *what names it ("a NUL byte", "not UTF-8", ...). */
uint32_t sg_text_bad_byte(SgStr bytes, const char **what);
uint32_t sg_utf8_next(SgStr s, uint32_t at, uint32_t *code_point);   /* offset of the next character; U+FFFD for a broken one */
uint32_t sg_utf8_count(SgStr s);
uint32_t sg_utf8_cut(SgStr s, uint32_t most);                        /* bytes of its start, at most so many, no character cut in two */
void sg_put_json_text(SgBuf *out, SgStr s);                          /* in quotes; a broken character becomes U+FFFD */
#endif
