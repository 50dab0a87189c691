/* panel: figures put together as lettered parts of one page, or the steps of one figure as a strip.
   needs  a panel of the model, or a scene.
   gives  one still page: the parts in rows, their axes level, a letter and words beneath each.
   never  changes a part: its scale, its widths and its letters are those of the figure alone. But what all parts say alike
          stands once: the axis is named in the first, and one scale stands beneath them all. */
#ifndef SG_PANEL_H
#define SG_PANEL_H
#include "layout/layout.h"
#include "solved/solved.h"

/* Told of each part's scene before it is laid out, to change its style; false: leave the panel. */
typedef bool SgRestyle(void *with, SgSolved *solved, SgScene *scene);
/* NULL after a message. set: which version's numbers. */
SgPage *sg_panel(SgCompile *c, const SgModel *m, const SgPanel *panel, const SgSet *set, SgRestyle *restyle, void *with);
/* What is given and each step of a figure, beside each other; columns 0: as many as are nearest to a square, 4 at most. */
SgPage *sg_strip(SgCompile *c, const SgScene *scene, uint32_t columns);
#endif
