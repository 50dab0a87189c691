/* The list of messages of one compile. In: codes, places, words. Out: one message a mistake, in the order of the script.
   Keeps at most SG_MAX_MESSAGES, counts the rest. */
#include "messages/messages.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { LONGEST_MESSAGE = 1000, MOST_QUOTED = 40 };
#define OUTSIDE UINT32_MAX      /* of every figure */

static const SgCodeInfo CODES[SG_MSG_COUNT + 1] = {      /* one more, so that the table is never empty */
#define MESSAGE(id, severity, title, explanation) { #id, title, explanation, severity },
#include "messages/messages.def"
#undef MESSAGE
};

const SgCodeInfo *sg_code_info(SgCode code)
{
    return &CODES[code];
}

static bool is_error(SgCode code)
{
    return CODES[code].severity == SG_ERROR;
}

static bool said_before(const SgCompile *c, SgCode code, SgSpan at)
{
    for (uint32_t i = c->diags.n; i-- > 0;) {
        const SgDiag *d = &c->diags.v[i];
        if (d->code == code && d->at.start == at.start && d->at.end == at.end && d->at.file == at.file) return true;
    }
    return false;
}

/* A statement that is damaged already brings guess after guess; settling would keep the first only. */
static bool guessed_before(const SgCompile *c, SgRank rank, SgSpan at)
{
    for (uint32_t i = 0; rank == SG_GUESS && c->statement && i < c->diags.n; i++) {
        const SgDiag *d = &c->diags.v[i];
        if (d->rank == SG_GUESS && d->statement == c->statement && d->at.file == at.file && d->at.start <= at.start) return true;
    }
    return false;
}

static SgStr words_of(SgCompile *c, const char *fmt, va_list list)
{
    char words[LONGEST_MESSAGE];
    int n = vsnprintf(words, sizeof words, fmt, list);
    if (n < 0) n = 0;
    SgStr whole = { words, n < LONGEST_MESSAGE ? (uint32_t)n : LONGEST_MESSAGE - 1 };
    bool cut = n >= LONGEST_MESSAGE;
    if (cut) whole.n = sg_utf8_cut(whole, LONGEST_MESSAGE - 4);
    return sg_format(c->arena, "%.*s%s", (int)whole.n, whole.s, cut ? "..." : "");
}

static SgDiag *say(SgCompile *c, SgRank rank, SgCode code, SgSpan at, const char *fmt, va_list list)
{
    if (c->muted) return NULL;
    if (c->diags.n >= SG_MAX_MESSAGES) {
        if (rank == SG_GUESS && c->statement && c->statement == c->untold_statement) return NULL;
        c->untold++;
        c->untold_statement = c->statement;
        if (is_error(code)) c->untold_errors++;
        return NULL;
    }
    if (said_before(c, code, at) || guessed_before(c, rank, at)) return NULL;
    if (!c->diags.v) {           /* all the room at once: pointers to messages stay good */
        c->diags.v = SG_ARRAY(c->arena, SgDiag, SG_MAX_MESSAGES);
        c->diags.cap = SG_MAX_MESSAGES;
    }
    SgDiag *d = &c->diags.v[c->diags.n];
    *d = (SgDiag){ .code = code, .rank = rank, .at = at, .statement = c->statement, .order = c->said++ };
    d->text = words_of(c, fmt, list);
    c->diags.n++;
    return d;
}

SgDiag *sg_say(SgCompile *c, SgCode code, SgSpan at, const char *fmt, ...)
{
    va_list list;
    va_start(list, fmt);
    SgDiag *d = say(c, SG_SURE, code, at, fmt, list);
    va_end(list);
    return d;
}

SgDiag *sg_say_ranked(SgCompile *c, SgRank rank, SgCode code, SgSpan at, const char *fmt, ...)
{
    va_list list;
    va_start(list, fmt);
    SgDiag *d = say(c, rank, code, at, fmt, list);
    va_end(list);
    return d;
}

void sg_note(SgCompile *c, SgDiag *said, SgSpan at, const char *fmt, ...)
{
    if (!said) return;
    va_list list;
    va_start(list, fmt);
    SgNote *note = SG_NEW(c->arena, SgNote);
    note->at = at;
    note->text = words_of(c, fmt, list);
    va_end(list);
    SgNote **end = &said->notes;
    while (*end) end = &(*end)->next;
    *end = note;
}

SgStr sg_source_words(const SgCompile *c, SgSpan at)
{
    if (at.file >= c->nsources) return (SgStr){ "", 0 };
    SgStr bytes = c->source[at.file].bytes;
    uint32_t end = at.end > bytes.n ? bytes.n : at.end, start = at.start > end ? end : at.start;
    SgStr words = { bytes.s + start, end - start };
    words.n = sg_utf8_cut(words, MOST_QUOTED);
    for (uint32_t i = 0; i < words.n; i++) if (words.s[i] == '\n' || words.s[i] == '\r') words.n = i;
    return words;
}

uint32_t sg_errors(const SgCompile *c)
{
    uint32_t n = c->untold_errors;
    for (uint32_t i = 0; i < c->diags.n; i++) n += is_error(c->diags.v[i].code);
    return n;
}

/* ---- one mistake, one message ---- */
typedef struct { uint32_t line, top; bool head; } Where;      /* head: on the line where its figure begins */

static int by_place(const void *a, const void *b)
{
    const SgDiag *x = a, *y = b;
    if (x->at.file != y->at.file) return x->at.file < y->at.file ? -1 : 1;
    if (x->at.start != y->at.start) return x->at.start < y->at.start ? -1 : 1;
    if (x->rank != y->rank) return x->rank < y->rank ? -1 : 1;
    return x->order < y->order ? -1 : x->order > y->order;
}

static Where where(const SgCompile *c, SgSpan at, const uint32_t *tops, uint32_t ntops)
{
    Where w = { 0, OUTSIDE, false };
    if (at.file < c->nsources) w.line = sg_text_line(&c->source[at.file], at.start);
    for (uint32_t low = 0, high = at.file == 0 ? ntops : 0; low < high;) {
        uint32_t middle = low + (high - low) / 2;
        if (tops[middle] <= at.start) {
            w.top = middle;
            low = middle + 1;
        } else {
            high = middle;
        }
    }
    w.head = w.top != OUTSIDE && sg_text_line(&c->source[0], tops[w.top]) == w.line;
    return w;
}

/* ---- what follows from damage ---- */
static bool is_syntax(const SgDiag *d) { return d->rank != SG_SURE; }

/* Said by the model or a later stage, of a script that words and tree could read. */
static bool is_later(const SgDiag *d) { return d->rank == SG_SURE && d->code >= SG_MSG_name_unknown; }

static bool letter(char ch)
{
    return (ch >= 'a' && ch <= 'z') || (ch >= 'A' && ch <= 'Z') || (ch >= '0' && ch <= '9') || ch == '_';
}

/* Whether the line of `at` holds the word: what could not be read there may have declared it. */
static bool line_holds(const SgCompile *c, SgSpan at, SgStr word)
{
    enum { LONGEST_LINE = 2000 };
    SgStr line = sg_text_place(&c->source[at.file], at.start).text;
    uint32_t n = line.n < LONGEST_LINE ? line.n : LONGEST_LINE;
    for (uint32_t i = 0; word.n && i + word.n <= n; i++) {
        if (memcmp(line.s + i, word.s, word.n) != 0) continue;
        if ((i == 0 || !letter(line.s[i - 1])) && (i + word.n == line.n || !letter(line.s[i + word.n]))) return true;
    }
    return false;
}

/* d: of a later stage. e: any other. One mistake in the syntax brings what is missing after it, and one name many uses. */
static bool follows(const SgCompile *c, const SgDiag *d, const SgDiag *e, Where wd, Where we, bool earlier)
{
    bool figures = d->code == SG_MSG_figure_unknown || d->code == SG_MSG_parameter_unknown;
    bool names = d->code == SG_MSG_name_unknown || figures;
    bool odd_name = e->code == SG_MSG_name_unknown || e->code == SG_MSG_property_unknown || e->code == SG_MSG_word_as_name;
    bool begins_badly = e->code == SG_MSG_kind_unknown || e->code == SG_MSG_statement_start;
    SgStr word = sg_source_words(c, d->at);
    if (is_syntax(e) && (wd.line == we.line || (names && line_holds(c, e->at, word)) || (figures && we.head))) return true;
    if (names && e->code == SG_MSG_name_missing && (we.top == wd.top || we.top == OUTSIDE)) return true;
    if (names && earlier && e->code == d->code && sg_str_same(word, sg_source_words(c, e->at))) return true;
    if (d->code == SG_MSG_kind_misplaced) return earlier && (is_syntax(e) || (e->code == d->code && we.top == wd.top));
    if (d->code == SG_MSG_phrase_missing && begins_badly && wd.line + 1 == we.line) return true;      /* cut in two */
    bool swallowed = d->code == SG_MSG_phrase_missing || d->code == SG_MSG_phrase_twice || d->code == SG_MSG_text_twice;
    return (swallowed && odd_name && wd.line == we.line)
        || (d->code == SG_MSG_circle && (e->code == SG_MSG_copy_form || (odd_name && we.top == wd.top)));
}

/* Whether another message tells of the same mistake. v is sorted by place. */
static bool is_explained(const SgCompile *c, const SgDiag *v, const Where *w, uint32_t n, uint32_t i)
{
    const SgDiag *d = &v[i];
    for (uint32_t j = 0; j < n; j++) {
        const SgDiag *e = &v[j];
        if (j == i || e->at.file != d->at.file || d->at.file >= c->nsources) continue;
        bool same_line = w[j].line == w[i].line, earlier = j < i;
        bool same_statement = d->statement && e->statement == d->statement;
        if (is_later(d) && is_error(d->code) && is_error(e->code) && follows(c, d, e, w[i], w[j], earlier)) return true;
        if (earlier && d->rank == SG_GUESS && e->rank == SG_GUESS && (same_statement || same_line)) return true;
        if (e->rank == SG_TEXT_OPEN && d->rank == SG_GUESS && same_statement) return true;
        if (e->rank == SG_TEXT_OPEN && d->follows && w[j].line + 1 == w[i].line) return true;
        if (e->rank == SG_TEXT_OPEN && same_line && (earlier || d->rank != SG_TEXT_OPEN)) return true;
        if (d->rank == SG_BRACE && w[j].top == w[i].top
            && ((earlier && e->rank == SG_BRACE) || e->rank == SG_GUESS || e->rank == SG_TEXT_OPEN)) return true;
    }
    return false;
}

void sg_messages_settle(SgCompile *c, const uint32_t *tops, uint32_t ntops)
{
    Where w[SG_MAX_MESSAGES];
    bool drop[SG_MAX_MESSAGES];
    uint32_t n = c->diags.n, kept = 0;
    SgDiag *v = c->diags.v;
    if (!n) return;
    qsort(v, n, sizeof *v, by_place);
    for (uint32_t i = 0; i < n; i++) w[i] = where(c, v[i].at, tops, ntops);
    for (uint32_t i = 0; i < n; i++) drop[i] = is_explained(c, v, w, n, i);
    for (uint32_t i = 0; i < n; i++) if (!drop[i]) v[kept++] = v[i];
    c->diags.n = kept;
}
