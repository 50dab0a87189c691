/* Part of paper: the speaker's notes of figures on pages of A4: a small picture of each step beside what it says, asks and what
   to say, the numbers beside what is given. */
#ifndef SG_PAPER_NOTES_H
#define SG_PAPER_NOTES_H
#include "paper/paper.h"

typedef struct { SgStr name, values; } SgPaperRow;     /* plain */
/* figure: laid out small; it stands `scale` times as large. */
typedef struct { const SgPage *figure; const SgPaperRow *row; uint32_t nrows; double scale; } SgPaperNotes;
/* A figure begins a page; a step is never split, unless it alone is longer than a page. *npages told. */
const SgPage *const *sg_paper_notes(SgCompile *c, const SgPaperNotes *notes, uint32_t n, uint32_t *npages);
#endif
