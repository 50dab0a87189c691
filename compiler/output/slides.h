/* Part of output: figures as one HTML page of slides that needs no network: stepped by its own script, finished figures with
   their captions where scripts are off, and on paper. */
#ifndef SG_SLIDES_H
#define SG_SLIDES_H
#include "layout/slide.h"

enum { SG_SLIDES_LIMIT = 64 * 1024 * 1024 };       /* bytes; what is longer ends early, and the caller says so */
/* page: laid out by sg_slide for the ratio; ground: what each is drawn on. */
typedef struct { const SgPage *const *page; const SgGround *ground; uint32_t npages; SgSlideRatio ratio; } SgSlides;
void sg_output_slides(const SgSlides *slides, SgBuf *out);
#endif
