/* What the scanner's rules do: one token, or one message, a call. In: matched bytes. Out: raw tokens.
   Wrong characters are told of once and read as what was meant, so that one mistake stays one message. */
#include "tokens/lex.h"

#include "base/num.h"
#include "catalogue/catalogue.h"

#include <string.h>

static SgSpan span(const SgLex *x, uint32_t start, uint32_t end)
{
    return (SgSpan){ start, end, x->file };
}

static SgSpan matched(const SgLex *x, int n)
{
    return span(x, x->at, x->at + (uint32_t)n);
}

static SgToken *put(SgLex *x, SgRaw raw, uint32_t start, uint32_t end)
{
    SgToken token = { .at = span(x, start, end), .raw = raw, .unit = SG_NO_UNIT, .sym = SG_NO_SYM };
    SG_PUSH(x->c->arena, &x->out, token);
    return &x->out.v[x->out.n - 1];
}

static SgStr bytes_of(const SgLex *x)
{
    return x->c->source[x->file].bytes;
}

void sg_lex_fatal(SgLex *x)
{
    longjmp(*x->c->arena->out, 1);
}

void sg_lex_skip(SgLex *x, int n)
{
    x->at += (uint32_t)n;
}

void sg_lex_comment(SgLex *x, int n)
{
    put(x, SG_RAW_COMMENT, x->at, x->at + (uint32_t)n);
    sg_lex_skip(x, n);
}

bool sg_lex_line_end(SgLex *x)
{
    if (x->hole) {
        sg_lex_text_open(x);
        return true;
    }
    put(x, SG_RAW_LINE_END, x->at, x->at + 1);
    sg_lex_skip(x, 1);
    return false;
}

void sg_lex_word(SgLex *x, int n)
{
    if (n > SG_MAX_NAME) sg_say(x->c, SG_MSG_limit, matched(x, n), "a name has at most %d letters, and this has %d", SG_MAX_NAME, n);
    put(x, SG_RAW_WORD, x->at, x->at + (uint32_t)n)->sym = sg_names_sym(&x->c->names, bytes_of(x).s + x->at, (uint32_t)n);
    sg_lex_skip(x, n);
}

void sg_lex_foreign(SgLex *x, int n)
{
    SgStr word = sg_source_words(x->c, matched(x, n));
    sg_say_ranked(x->c, SG_GUESS, SG_MSG_character_odd, matched(x, n),
            "`%.*s` may stand in a text only; names are made of the letters a to z, digits and _", (int)word.n, word.s);
    sg_lex_word(x, n);
}

/* ---- numbers ---- */
static void say_number(SgLex *x, SgNumFault fault, SgSpan at)
{
    switch (fault) {
    case SG_NUM_OK: break;
    case SG_NUM_DIGITS: sg_say(x->c, SG_MSG_number_digits, at, "a number has at most 15 digits; round this one"); break;
    case SG_NUM_RANGE: sg_say(x->c, SG_MSG_number_range, at, "a number lies between 1e-22 and 1e22; choose another unit"); break;
    }
}

static uint32_t number_bytes(const char *s, uint32_t n)
{
    uint32_t i = 0;
    while (i < n && ((s[i] >= '0' && s[i] <= '9') || s[i] == '.')) i++;
    if (i < n && (s[i] == 'e' || s[i] == 'E')) {
        uint32_t k = i + 1;
        if (k < n && (s[k] == '+' || s[k] == '-')) k++;
        uint32_t digits = k;
        while (k < n && s[k] >= '0' && s[k] <= '9') k++;
        if (k > digits) i = k;
    }
    return i;
}

static uint8_t decimals_of(const char *s, uint32_t n)
{
    const char *point = memchr(s, '.', n);
    uint32_t count = 0;
    while (point && point + 1 + count < s + n && point[1 + count] >= '0' && point[1 + count] <= '9' && count < 255) count++;
    return (uint8_t)count;
}

/* The unit behind the number's own bytes and any blanks; SG_UNIT_COUNT when what stands there is none. */
static SgUnit unit_behind(const char *s, uint32_t n, uint32_t from)
{
    SgStr all = { s, n };
    uint32_t code, at = from;
    while (at < n) {
        uint32_t next = sg_utf8_next(all, at, &code);
        bool blank = code == ' ' || code == '\t' || code == 0xA0 || code == 0x202F || (code >= 0x2000 && code <= 0x200B) || code == 0xFEFF;
        if (!blank) break;
        at = next;
    }
    return sg_unit_of((SgStr){ s + at, n - at });
}

int sg_lex_number(SgLex *x, const char *s, int n)
{
    uint32_t digits = number_bytes(s, (uint32_t)n);
    SgUnit unit = digits < (uint32_t)n ? unit_behind(s, (uint32_t)n, digits) : SG_UNIT_COUNT;
    int used = unit < SG_UNIT_COUNT ? n : (int)digits;
    double value;
    SgNumFault fault = sg_num_read(s, digits, &value);
    SgSpan at = span(x, x->at, x->at + digits);
    const char *point = memchr(s, '.', digits);
    bool bare = point && (point + 1 == s + digits || point[1] < '0' || point[1] > '9');
    if (fault != SG_NUM_OK) say_number(x, fault, at);
    else if (bare) sg_say(x->c, SG_MSG_decimal_bare, at, "a digit must follow the decimal point: %.*s or %.*s.0",
            (int)(point - s), s, (int)(point - s), s);
    SgToken *token = put(x, SG_RAW_NUMBER, x->at, x->at + (uint32_t)used);
    token->value = value;
    token->decimals = decimals_of(s, digits);
    if (unit < SG_UNIT_COUNT) {
        token->unit = (uint8_t)unit;
        token->value = value * sg_unit_factor(unit);
    }
    sg_lex_skip(x, used);
    return used;
}

int sg_lex_bare(SgLex *x, const char *s, int n)
{
    SgStr bytes = bytes_of(x);
    char before = x->at ? bytes.s[x->at - 1] : ' ';
    bool operand = before == ')' || before == '_' || (before >= '0' && before <= '9') || (before >= 'a' && before <= 'z') || (before >= 'A' && before <= 'Z');
    if (operand) {
        sg_lex_op(x, '.');
        return 1;
    }
    uint32_t digits = number_bytes(s, (uint32_t)n);
    sg_say(x->c, SG_MSG_decimal_bare, span(x, x->at, x->at + digits), "a number begins with a digit: 0%.*s", (int)digits, s);
    return sg_lex_number(x, s, n);
}

/* ---- signs ---- */
void sg_lex_relation(SgLex *x, const char *s, int n)
{
    put(x, SG_RAW_RELATION, x->at, x->at + (uint32_t)n)->sym = (uint8_t)(n == 1 ? s[0] : s[0] == '<' ? 'l' : s[0] == '>' ? 'g' : '!');
    sg_lex_skip(x, n);
}

void sg_lex_op(SgLex *x, char c)
{
    put(x, SG_RAW_OP, x->at, x->at + 1)->sym = (uint8_t)c;
    sg_lex_skip(x, 1);
}

typedef struct { uint16_t code; const char *plain; } Typeset;

/* What a word processor puts, and what a script has in its place. */
static const Typeset TYPESET[] = {
    { 0x2212, "-" }, { 0x2010, "-" }, { 0x2011, "-" }, { 0x2013, "-" }, { 0x2014, "-" }, { 0xD7, "*" }, { 0xB7, "*" }, { 0x22C5, "*" },
    { 0xF7, "/" }, { 0x2215, "/" }, { 0x2044, "/" }, { 0x2264, "<=" }, { 0x2265, ">=" }, { 0x2260, "!=" }, { 0xB2, "^2" }, { 0xB3, "^3" },
};

static void put_typeset(SgLex *x, int n, const char *plain)
{
    uint32_t start = x->at, end = x->at + (uint32_t)n;
    if (plain[0] == '<' || plain[0] == '>' || plain[0] == '!') {
        put(x, SG_RAW_RELATION, start, end)->sym = (uint8_t)(plain[0] == '<' ? 'l' : plain[0] == '>' ? 'g' : '!');
    } else {
        put(x, SG_RAW_OP, start, end)->sym = (uint8_t)plain[0];
        if (plain[1]) put(x, SG_RAW_NUMBER, start, end)->value = plain[1] - '0';
    }
}

void sg_lex_odd(SgLex *x, int n)
{
    SgStr bytes = bytes_of(x);
    SgSpan at = matched(x, n);
    uint32_t code;
    sg_utf8_next((SgStr){ bytes.s + x->at, (uint32_t)n }, 0, &code);
    for (size_t i = 0; i < sizeof TYPESET / sizeof *TYPESET; i++) {
        if (TYPESET[i].code != code) continue;
        sg_say(x->c, SG_MSG_character_typeset, at, "this is U+%04X; scripts use the plain %s", code, TYPESET[i].plain);
        put_typeset(x, n, TYPESET[i].plain);
        sg_lex_skip(x, n);
        return;
    }
    bool quote = code == '\'' || (code >= 0x2018 && code <= 0x201F) || code == 0xAB || code == 0xBB;
    if (x->at != x->odd_end) {
        if (quote && code == '\'') sg_say(x->c, SG_MSG_character_typeset, at, "texts stand in double quotes; write \"");
        else if (quote) sg_say(x->c, SG_MSG_character_typeset, at, "this is U+%04X; scripts use a straight quote; write \"", code);
        else if (code < 0x80) sg_say_ranked(x->c, SG_GUESS, SG_MSG_character_odd, at, "`%c` means nothing outside a text", (char)code);
        else sg_say_ranked(x->c, SG_GUESS, SG_MSG_character_odd, at, "this is U+%04X, which means nothing outside a text", code);
    }
    sg_lex_skip(x, n);
    x->odd_end = x->at;
}

/* ---- texts ---- */
static void put_text(SgLex *x, SgRaw raw, uint32_t start, uint32_t end, uint32_t opening, uint32_t closing)
{
    SgToken *token = put(x, raw, start, end);
    token->unit = (uint8_t)opening;
    token->decimals = (uint8_t)closing;
}

static void check_text(SgLex *x, uint32_t end)
{
    if (end - x->text > SG_MAX_TEXT)
        sg_say(x->c, SG_MSG_limit, span(x, x->text, x->text + 1), "a text has at most %d bytes, and this has %u; make two of it",
            SG_MAX_TEXT, end - x->text);
}

void sg_lex_typeset_text(SgLex *x, int n)
{
    SgStr bytes = bytes_of(x), text = { bytes.s + x->at, (uint32_t)n };
    uint32_t code, opening = sg_utf8_next(text, 0, &code), closing = 1;
    while (((uint8_t)text.s[text.n - closing] & 0xC0) == 0x80) closing++;
    if (code == '\'') sg_say(x->c, SG_MSG_character_typeset, matched(x, 1), "texts stand in double quotes; write \"");
    else sg_say(x->c, SG_MSG_character_typeset, matched(x, (int)opening), "this is U+%04X; scripts use a straight quote; write \"", code);
    x->text = x->at;
    check_text(x, x->at + text.n);
    put_text(x, SG_RAW_TEXT, x->at, x->at + text.n, opening, closing);
    sg_lex_skip(x, n);
}

bool sg_lex_close(SgLex *x)
{
    if (!x->hole) {
        sg_lex_op(x, '}');
        return false;
    }
    x->hole = false;
    x->piece = x->at;
    sg_lex_skip(x, 1);
    return true;
}

bool sg_lex_quote(SgLex *x)
{
    if (x->hole) {      /* the hole was not closed; the quote ends the text */
        sg_say_ranked(x->c, SG_TEXT_OPEN, SG_MSG_hole_open, matched(x, 1), "the text ends inside {...}; a } is missing before this quote");
        put_text(x, SG_RAW_TAIL, x->at, x->at + 1, 0, 1);
        sg_lex_skip(x, 1);
        x->hole = x->parts = false;
        return false;
    }
    x->text = x->piece = x->at;
    x->parts = false;
    sg_lex_skip(x, 1);
    return true;
}

void sg_lex_hole(SgLex *x)
{
    put_text(x, x->parts ? SG_RAW_MID : SG_RAW_HEAD, x->piece, x->at + 1, 1, 1);
    sg_lex_skip(x, 1);
    x->parts = x->hole = true;
}

void sg_lex_text_end(SgLex *x)
{
    check_text(x, x->at + 1);
    put_text(x, x->parts ? SG_RAW_TAIL : SG_RAW_TEXT, x->piece, x->at + 1, 1, 1);
    sg_lex_skip(x, 1);
    x->parts = false;
}

/* A curly quote in a text that has no end is most likely meant as its end. */
static bool curly_end(const SgLex *x, uint32_t *at, uint32_t *code)
{
    SgStr bytes = bytes_of(x);
    for (uint32_t i = x->at; i > x->text + 3;) {
        i--;
        if ((uint8_t)bytes.s[i] != 0xE2) continue;
        sg_utf8_next(bytes, i, code);
        *at = i;
        if (*code == 0x201C || *code == 0x201D || *code == 0x201E) return true;
    }
    return false;
}

/* A quote behind a letter on the line after a text without its end is most likely that text's end. */
static bool follows_open_text(const SgLex *x)
{
    SgStr bytes = bytes_of(x);
    if (!x->text || x->open_end == UINT32_MAX) return false;
    char before = bytes.s[x->text - 1];
    const char *line_end = memchr(bytes.s + x->open_end + 1, '\n', x->text > x->open_end ? x->text - x->open_end - 1 : 0);
    return before != ' ' && before != '\t' && before != '\n' && !line_end;
}

void sg_lex_text_open(SgLex *x)
{
    uint32_t curly, code, told = x->c->diags.n;
    if (curly_end(x, &curly, &code))
        sg_say_ranked(x->c, SG_TEXT_OPEN, SG_MSG_text_open, span(x, curly, curly + 3), "this is U+%04X; a text ends with a straight quote; write \"",
            code);
    else
        sg_say_ranked(x->c, SG_TEXT_OPEN, SG_MSG_text_open, span(x, x->text, x->text + 1), "this text has no closing quote on its line; write \" at its end");
    if (x->c->diags.n > told && follows_open_text(x)) x->c->diags.v[told].follows = true;
    x->open_end = x->at;
    SgToken *last = &x->out.v[x->out.n - 1];
    if (x->hole && (last->raw == SG_RAW_HEAD || last->raw == SG_RAW_MID)) {      /* `step "abc {`: the brace opens the block */
        uint32_t brace = last->at.end - 1;
        last->raw = last->raw == SG_RAW_HEAD ? SG_RAW_TEXT : SG_RAW_TAIL;
        last->at.end = brace;
        last->decimals = 0;
        put(x, SG_RAW_OP, brace, brace + 1)->sym = '{';
    } else if (x->hole) {
        put_text(x, SG_RAW_TAIL, x->at, x->at, 0, 0);
    } else {
        put_text(x, x->parts ? SG_RAW_TAIL : SG_RAW_TEXT, x->piece, x->at, 1, 0);
    }
    x->hole = x->parts = false;
    if (x->at < bytes_of(x).n) sg_lex_line_end(x);
}

void sg_lex_file_end(SgLex *x, bool in_text)
{
    if (in_text || x->hole) sg_lex_text_open(x);
    put(x, SG_RAW_LINE_END, x->at, x->at);
    put(x, SG_RAW_EOF, x->at, x->at);
}
