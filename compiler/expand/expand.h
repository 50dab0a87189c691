/* expand: constructions written out as steps.
   needs  a model and its solved figures, for which rays exist depends on where things stand.
   gives  the script with every `construct` written out, ready to edit: a copy of a figure that has one is written out whole,
          since another value may be another case.
   never  draws. */
#ifndef SG_EXPAND_H
#define SG_EXPAND_H
#include "solved/solved.h"

bool sg_expand_needed(const SgModel *m);                               /* for the figures of the script */
bool sg_expand_sheet_needed(const SgModel *m, const SgSheet *sheet);   /* for the problems of a sheet */
/* solved: one a figure of the model, those of problems too, none broken; NULL: its constructions are left as they are.
   Appends the whole script to out, the figures of problems behind it; false after a message. */
bool sg_expand(SgCompile *c, const SgModel *m, SgSolved *const *solved, SgBuf *out);
#endif
