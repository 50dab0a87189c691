/* output: pages to bytes.
   needs  a page (or solved values).
   gives  bytes in a buffer; the caller writes them whole or not at all.
   never  adds geometry. */
#ifndef SG_OUTPUT_H
#define SG_OUTPUT_H
#include "layout/layout.h"

typedef struct {
    bool still;        /* no script, style or motion */
    int step;          /* show steps 0..step only; -1 all */
    bool slide;        /* inside a page that has the player: no script, style or size, the strip below the frame seen */
} SgSvgOptions;
void sg_output_svg(const SgPage *page, SgSvgOptions options, SgBuf *out);
#endif
