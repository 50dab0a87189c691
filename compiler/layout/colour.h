/* Part of layout: how far apart two colours are to the eye.
   needs  colours as 0xRRGGBB of sRGB (IEC 61966-2-1).
   gives  contrast, lightness and difference, for normal sight and three kinds of colour-deficient sight.
   never  chooses a colour. */
#ifndef SG_COLOUR_H
#define SG_COLOUR_H
#include <stdint.h>

/* Full deficiency of one kind of cone: long waves (protan), middle (deutan), short (tritan). */
typedef enum { SG_SIGHT_NORMAL, SG_SIGHT_PROTAN, SG_SIGHT_DEUTAN, SG_SIGHT_TRITAN, SG_SIGHT_COUNT } SgSight;

/* Contrast ratio, 1 to 21: Web Content Accessibility Guidelines 2.2, definitions of contrast ratio and relative luminance. */
double sg_colour_contrast(uint32_t a, uint32_t b);
/* Lightness L* of CIE 1976, 0 to 100: the grey a copier makes of it. */
double sg_colour_lightness(uint32_t rgb);
/* Colour difference CIEDE2000 (ISO/CIE 11664-6) as that sight sees the two: simulated after G. M. Machado, M. M. Oliveira and
   L. A. F. Fernandes, A physiologically-based model for simulation of color vision deficiency, IEEE Transactions on
   Visualization and Computer Graphics 15 (2009) 1291, severity 1. */
double sg_colour_distance(uint32_t a, uint32_t b, SgSight sight);
#endif
