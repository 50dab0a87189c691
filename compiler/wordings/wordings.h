/* wordings: every text that the compiler writes of itself into figures and pages, in the language of the reader.
   needs  base, messages.
   gives  a text by its key, with its holes filled; the wordings that are built in (runtime/wordings/), and an author's own.
   never  speaks to the author: messages and `sagitta words` are English. */
#ifndef SG_WORDINGS_H
#define SG_WORDINGS_H
#include "messages/messages.h"

typedef enum {
#define TEXT(id) SG_TEXT_##id,
#include "wordings/keys.def"
    SG_TEXT_COUNT
} SgTextId;
typedef struct { const char *name; SgStr text[SG_TEXT_COUNT]; } SgWording;
extern const SgWording sg_wording_english, sg_wording_german, sg_wording_french, sg_wording_spanish;

/* A hole's name and what goes into it. */
typedef struct { const char *name; SgStr value; } SgHole;
void sg_put_filled(SgBuf *b, const SgWording *w, SgTextId id, const SgHole *hole, uint32_t n);
SgStr sg_filled(SgArena *a, const SgWording *w, SgTextId id, const SgHole *hole, uint32_t n);
/* SG_FILLED(arena, wording, SG_TEXT_key, { "f", text }, ...) */
#define SG_HOLES(...) (const SgHole[]){ __VA_ARGS__ }, (uint32_t)(sizeof((const SgHole[]){ __VA_ARGS__ }) / sizeof(SgHole))
#define SG_FILLED(arena, w, id, ...) sg_filled((arena), (w), (id), SG_HOLES(__VA_ARGS__))
#define SG_PUT_FILLED(b, w, id, ...) sg_put_filled((b), (w), (id), SG_HOLES(__VA_ARGS__))

/* Both, parted as the language parts members of a list that hold commas themselves; the other one where one is empty. */
SgStr sg_joined(SgArena *a, const SgWording *w, SgStr one, SgStr other);

/* A number as sg_put_fixed and its like write it, as the language shows it: its decimal mark, a true minus. */
SgStr sg_shown_number(SgArena *a, const SgWording *w, SgStr number);

/* An author's own wording: lines KEY = text, # for comments, in a source that is checked UTF-8. What it leaves out is English.
   A wrong line is told at its place. */
const SgWording *sg_wording_read(SgCompile *c, uint16_t file);
#endif
