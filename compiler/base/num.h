/* Reading and showing numbers: own routines, so that no locale and no C library changes a byte. */
#ifndef SG_NUM_H
#define SG_NUM_H
#include "base/base.h"

typedef enum { SG_NUM_OK, SG_NUM_DIGITS, SG_NUM_RANGE } SgNumFault;   /* more than 15 digits; exponent beyond +-22 */
SgNumFault sg_num_read(const char *s, uint32_t n, double *value);     /* digits[.digits][e[+-]digits], the whole of s */

void sg_put_full(SgBuf *b, double x);                  /* shortest up to 15 significant digits that stands for x; never "-0"; 1e-7 as 0.0000001, huge as 1e23 */
void sg_put_mm3(SgBuf *b, double mm);                  /* at most 3 decimals, trailing noughts trimmed, never "-0"; for drawings */
void sg_put_fixed(SgBuf *b, double x, int decimals);   /* exactly so many decimals, half away from nought */

/* x rounded to whole steps, half away from nought, the boundary moved below the tie by 1e-7 step
   (floor(|x|/step + 1/2 + 1e-7)), so that a value a rounding error under a tie prints as pupils work it out. */
double sg_round_to(double x, double step);
/* "#rrggbb" as a number; false for anything else. */
bool sg_read_rgb(SgStr s, uint32_t *rgb);
#endif
