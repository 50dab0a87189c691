/* Part of output: in which order the items of a page are drawn, what steps do to them, and where captions stand. One answer
   for every output, so that a figure overlaps itself alike in all of them. */
#ifndef SG_ORDER_H
#define SG_ORDER_H
#include "layout/layout.h"

#define SG_NONE UINT32_MAX
/* A ray's items of one step, wherever they stand in it, are drawn together where the first of them stands. */
typedef struct {
    uint32_t *next;            /* of an item: the next one of its ray in its step; SG_NONE */
    bool *follows;             /* of an item: an earlier one of its ray stands in its step */
} SgChains;
SgChains sg_output_chains(SgArena *a, const SgPage *page);
/* The item behind the last of those from `first` on that form one group with it: same step, no light, same name, same looks. */
uint32_t sg_output_group_end(const SgPage *page, uint32_t first);
/* How an item looks once `step` is done: s shown, f faded, h hidden. */
char sg_output_look(const SgItem *item, int step);
/* Where the baseline of a caption's first line starts in the strip below the frame, for the steps 1..last. */
SgPoint sg_output_caption_at(const SgPage *page, int last);
#endif
