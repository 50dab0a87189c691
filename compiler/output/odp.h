/* Part of output: figures as an OpenDocument presentation (ISO/IEC 26300, ODF 1.3), as the parts of its package.
   needs  pages laid out for slides of one size.
   gives  a slide a figure, its shapes native, named and grouped; each step is revealed on a click, a question on one of its own
          before it; speaker's notes on the notes page. The caller packs the parts.
   never  adds geometry, compresses, or reads the clock. */
#ifndef SG_ODP_H
#define SG_ODP_H
#include "layout/layout.h"

typedef struct { const char *name; SgStr bytes; } SgOdpPart;
enum { SG_ODP_PARTS = 5 };     /* `mimetype` first: the standard wants it there, and stored as it is */
/* Fills part[0..SG_ODP_PARTS-1]; version: of the compiler, for the file's own description. */
void sg_output_odp(SgArena *a, const SgPage *const *page, uint32_t npages, const char *version, SgOdpPart *part);
#endif
