/* Part of output: figures as one HTML page of slides that needs no network: stepped by its own script, finished figures with
   their captions where scripts are off, and on paper. */
#ifndef SG_SLIDES_H
#define SG_SLIDES_H
#include "layout/layout.h"

enum { SG_SLIDES_LIMIT = 64 * 1024 * 1024 };       /* bytes; what is longer ends early, and the caller says so */
/* page: laid out for slides of wide by high parts (16 by 9, 4 by 3); heading_part: how much of the height is the heading's. */
typedef struct { const SgPage *const *page; uint32_t npages; uint32_t wide, high; double heading_part; } SgSlides;
void sg_output_slides(const SgSlides *slides, SgBuf *out);
#endif
