/* Part of output: what a drawn page holds, for lists of outputs: its size, faces and colours. */
#ifndef SG_FACTS_H
#define SG_FACTS_H
#include "layout/layout.h"

typedef struct {
    const char *const *face; uint32_t nfaces;      /* names of the faces its words are set in, in the order of SgFace */
    const uint32_t *rgb; uint32_t nrgb;            /* its colours, ascending, each once */
} SgPageFacts;
/* captions: the captions and questions of the steps are part of it (in a drawing that steps). */
SgPageFacts sg_output_facts(SgArena *a, const SgPage *page, bool captions);
#endif
