/* Part of layout: the tables of the built-in faces, written at build time by tools/make_faces.c.
   needs  nothing.
   gives  one character map for all faces, and of each face its glyphs, outlines and kerning. No pointers, so nothing to relocate.
   never  changes at run time. */
#ifndef SG_FACES_H
#define SG_FACES_H
#include "layout/shape.h"

typedef struct { uint16_t right; int16_t by; } SgKern;        /* by: font units, added to the left glyph's advance */

/* Glyph 0 is the empty box; glyph g > 0 draws code point sg_face_code[g]. Code points ascend. */
extern const uint16_t sg_face_nglyphs;
extern const uint16_t sg_face_code[];
/* Face f's glyph g stands at f * sg_face_nglyphs + g. */
extern const SgGlyph sg_face_glyph[];
extern const char sg_face_outlines[];
/* Kerning of that glyph as left one: sg_face_kern[start[k]] up to, not including, sg_face_kern[start[k + 1]], `right` ascending. */
extern const uint16_t sg_face_kern_start[];
extern const SgKern sg_face_kern[];
#endif
