/* Inside worked: what its two files share. */
#ifndef SG_WORKING_H
#define SG_WORKING_H
#include "solved/worked.h"

/* As sg_worked, for images by several elements, by a boundary, by a thick lens. */
uint32_t sg_worked_chain(SgSolved *s, uint32_t image, uint32_t figures, SgStr *line);
#endif
