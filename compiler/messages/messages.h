/* messages: what is said to the author. Collected in order, shown only by the caller.
   needs  sources and spans.
   gives  place, reason and mend of every mistake, once; as text with a caret, or as JSON.
   never  prints; knows no stage. */
#ifndef SG_MESSAGES_H
#define SG_MESSAGES_H
#include "base/base.h"
#include "text/text.h"

typedef enum { SG_WARNING, SG_ERROR } SgSeverity;
typedef enum {
#define MESSAGE(id, severity, title, explanation) SG_MSG_##id,
#include "messages/messages.def"
#undef MESSAGE
    SG_MSG_COUNT
} SgCode;
typedef struct { const char *id, *title, *explanation; SgSeverity severity; } SgCodeInfo;   /* id is the word shown, `-` for `_` */
const SgCodeInfo *sg_code_info(SgCode code);

/* How sure a message is. Guesses follow from damage: one a statement and line. A text without its end hides the rest of its
   line; a brace message is kept only when nothing else in its figure may explain it. */
typedef enum { SG_SURE, SG_GUESS, SG_TEXT_OPEN, SG_BRACE } SgRank;

typedef struct SgNote { SgSpan at; SgStr text; struct SgNote *next; } SgNote;
typedef struct {
    SgCode code; SgRank rank; SgSpan at;
    uint32_t statement;    /* number of the statement it belongs to, for the one-a-statement rule; 0 unknown */
    uint32_t order;        /* of being said */
    bool follows;          /* TEXT_OPEN: most likely the end of a text that began on the line before */
    SgStr text;
    SgNote *notes;
} SgDiag;

enum { SG_MAX_MESSAGES = 100, SG_MAX_WORK = 20000000 };
typedef struct SgCompile {
    SgArena *arena;
    SgNames names;
    SgSource *source; uint32_t nsources;
    SG_VEC(SgDiag) diags;
    uint32_t untold;       /* messages over SG_MAX_MESSAGES, counted only */
    uint32_t untold_errors;    /* of them errors */
    uint32_t untold_statement; /* statement of the last of them */
    uint32_t said;         /* messages said so far: their order */
    uint32_t statement;    /* while words and tree run: the statement being read */
    uint64_t work;         /* property and hit steps done, against SG_MAX_WORK */
    uint32_t muted;        /* while above 0 nothing is said: a find tries values of which most are wrong */
} SgCompile;

/* Each returns the message said, to hang notes on, or NULL when it was said before (same code and place) or is one too many. */
SgDiag *sg_say(SgCompile *c, SgCode code, SgSpan at, const char *fmt, ...) __attribute__((format(printf, 4, 5)));
SgDiag *sg_say_ranked(SgCompile *c, SgRank rank, SgCode code, SgSpan at, const char *fmt, ...) __attribute__((format(printf, 5, 6)));
void sg_note(SgCompile *c, SgDiag *said, SgSpan at, const char *fmt, ...) __attribute__((format(printf, 4, 5)));   /* said may be NULL */
SgStr sg_source_words(const SgCompile *c, SgSpan at);      /* the bytes of a span for quoting in a message: cut after 40, at a line end too */
uint32_t sg_errors(const SgCompile *c);            /* errors said so far */
/* Sorts by place and applies the ranks. tops: where each file-level figure or sheet starts, ascending. */
void sg_messages_settle(SgCompile *c, const uint32_t *tops, uint32_t ntops);
void sg_messages_text(const SgCompile *c, SgBuf *out);             /* file:line:column: error: ... + line + caret */
void sg_messages_json(const SgCompile *c, SgBuf *out);

/* The candidate nearest to `word` (swaps count one), NULL when none is near or two are equally near:
   one edit up to 7 letters, two above; none for words of one letter. */
const char *sg_nearest(SgStr word, const char *const *candidates, uint32_t n);
#endif
