/* Part of output: the speaker's notes of figures as one HTML page for A4 paper: a small picture of each step beside what it
   says, asks and what to say, the numbers beside what is given. Valid without a network, a script or a colour. */
#ifndef SG_NOTES_H
#define SG_NOTES_H
#include "layout/layout.h"
#include "output/numbers.h"

enum { SG_NOTES_LIMIT = 64 * 1024 * 1024 };        /* bytes; what is longer ends early, and the caller says so */
/* What a picture is laid out for, and how much smaller it stands on the paper, so that its letters stay readable there. */
#define SG_NOTES_ROOM_W_MM 124.0
#define SG_NOTES_ROOM_H_MM 68.0
#define SG_NOTES_SCALE 0.74
typedef struct { const SgPage *page; const SgNumberRow *number; uint32_t nnumbers; } SgNotesFigure;
void sg_output_notes(const SgNotesFigure *figure, uint32_t nfigures, SgBuf *out);
#endif
