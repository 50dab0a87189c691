/* Part of words: where in a statement the pass stands, shared by the pass and what it does about wrong words. */
#ifndef SG_READER_H
#define SG_READER_H
#include "catalogue/catalogue.h"
#include "words/words.h"

enum { SG_LANGUAGE_VERSION = 1 };

typedef enum {
    AT_START,          /* a statement may begin */
    AT_NAME,           /* behind a kind that takes a name */
    AT_PHRASE,         /* behind a whole value: a phrase, an operator or an end */
    AT_OPERAND,        /* a value must come: every word is a name, whatever it spells */
    AT_PROPERTY        /* behind a dot */
} State;

typedef struct {
    SgCompile *c;
    const SgTokens *raw;
    SgTagged out;
    uint32_t i;                        /* raw token being read */
    State state;
    SgKind kind;                       /* of the statement being read, SG_KIND_COUNT unknown */
    SgSpan head;                       /* its kind */
    SgKind astray;                     /* kind whose words begin lines outside its block, SG_KIND_COUNT none */
    uint32_t text_start;               /* of the text being read */
    uint32_t named;                    /* index of its name, where the last token is it */
    uint32_t governor;                 /* index of the phrase word whose value is being read */
    SgKind holder[SG_MAX_BLOCKS];      /* of each open block */
    SgSpan opened[SG_MAX_BLOCKS];
    uint32_t depth, dropped_blocks;
    uint32_t bracket[SG_MAX_BRACKETS + 3], brackets, dropped_brackets;      /* [1..brackets]: indices of open brackets and holes */
    uint32_t hole_brackets;            /* brackets open at the hole's own start, itself included */
    bool in_hole, dropping, cut_off, versioned;
    bool after_operator, was_after_operator;      /* the last token was an operator or a comma; the one before it */
    uint32_t statements;               /* of this figure */
    SgSym sym_and, sym_or, sym_not, sym_before, sym_beyond, sym_sagitta;
} Reader;

SgToken *sg_words_emit(Reader *r, const SgToken *t, int tag);
SgForm sg_words_form(const Reader *r, SgKind kind, const SgToken *t);      /* SG_FORM_NONE when it is no word of the kind */
bool sg_words_begins_value(const Reader *r, const SgToken *t);
void sg_words_take(Reader *r, const SgToken *t, SgForm form);             /* as a phrase word */
void sg_words_unknown(Reader *r, const SgToken *t);                       /* a word in phrase position that is no phrase */
bool sg_words_decimal_comma(Reader *r, const SgToken *t);                 /* 2,5 read as 2.5, with its message */
#endif
