/* Bytes to raw tokens: calls the scanner and links each token to the next that is no comment and no line end.
   In: a checked source. Out: tokens with spans. Knows no word of the language but units. */
#include "tokens/lex.h"

bool sg_text_check(SgCompile *c, uint16_t file)
{
    SgStr bytes = c->source[file].bytes;
    const char *what = "";
    if (bytes.n > SG_MAX_SCRIPT) {
        sg_say(c, SG_MSG_file_too_large, (SgSpan){ 0, 0, file }, "the script is larger than 8 MiB, the most that is read; divide it");
        return false;
    }
    uint32_t at = sg_text_bad_byte(bytes, &what);
    if (at == bytes.n) return true;
    sg_say(c, SG_MSG_byte_forbidden, (SgSpan){ at, at + 1, file }, "here is %s (%02X hexadecimal); save the script as plain UTF-8 text", what,
           (unsigned)(uint8_t)bytes.s[at]);
    return false;
}

SgTokens sg_tokens(SgCompile *c, uint16_t file)
{
    SgLex x = { .c = c, .file = file, .odd_end = UINT32_MAX, .open_end = UINT32_MAX };
    uint32_t statement = c->statement;
    c->statement = 0;      /* which statement a token belongs to is not known yet */
    x.out.cap = c->source[file].bytes.n / 4 + 16;
    x.out.v = SG_ARRAY(c->arena, SgToken, x.out.cap);
    x.out.v[0] = (SgToken){ .raw = SG_RAW_COMMENT, .unit = SG_NO_UNIT, .at = { 0, 0, file } };
    x.out.n = 1;
    sg_lex_scan(&x);
    uint32_t next = x.out.n - 1;
    for (uint32_t i = x.out.n; i-- > 0;) {
        SgToken *t = &x.out.v[i];
        t->next = next;
        if (t->raw != SG_RAW_COMMENT && t->raw != SG_RAW_LINE_END) next = i;
    }
    c->statement = statement;
    return x.out;
}
