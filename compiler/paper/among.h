/* Part of paper: several drawings of one figure to choose from, lettered, as one figure of a problem. */
#ifndef SG_AMONG_H
#define SG_AMONG_H
#include "paper/paper.h"
#include "sheet/sheet.h"

/* As many side by side as a column holds, each in a frame of the same size; all of it is given. NULL after a message. */
const SgPage *sg_among(SgCompile *c, const SgSheetProblem *p, double column_mm);
/* What must be seen of a mark: light and the axis may run out of a frame. */
SgBox sg_paper_core(SgCompile *c, const SgScene *scene, const SgMark *m);
#endif
