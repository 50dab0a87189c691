/* Part of paper: sheets as the sheet stage worked them out.
   needs  a sheet with all its versions worked out.
   gives  pages of one version, or of all of them in turn.
   never  solves, or tells on a sheet what only its key may. */
#ifndef SG_HANDOUT_H
#define SG_HANDOUT_H
#include "paper/paper.h"

/* version -1: all. NULL after a message in the compile of a version. */
const SgPage *const *sg_handout(const SgSheetForm *form, int version, SgPaperKind kind, uint32_t *npages);
/* The answers of all versions side by side. */
const SgPage *const *sg_handout_strip(const SgSheetForm *form, uint32_t *npages);
#endif
