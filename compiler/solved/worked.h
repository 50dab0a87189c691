/* Part of solved: an image worked out on paper, as the figure's convention does it.
   needs  a solved figure.
   gives  lines of markup: what is given, the equation, its numbers with their signs, the results.
   never  works anything out anew: every number is the solver's. */
#ifndef SG_WORKED_H
#define SG_WORKED_H
#include "solved/solved.h"

enum { SG_WORKED_LINES = 60 };
/* Lines for an image of a near object by mirrors, lenses in air and spherical boundaries, one or several in turn, on one axis, to
   `figures` significant figures; returns their number, 0 for any other image. Mirror and lens equations: Hecht, Optics, 5th ed., ch. 5 (from memory), in the signs of the
   conventions that solved/convention.c names with their sources. */
uint32_t sg_worked(SgSolved *s, uint32_t image, uint32_t figures, SgStr line[SG_WORKED_LINES]);
/* How the convention of the figure has a property of an image: its letter, and by what the geometrical value is multiplied; 0: as
   a size. False where no convention is set, or it has no letter for it. */
bool sg_in_convention(const SgSolved *s, uint32_t image, const char *property, SgStr *letter, int *sign);
#endif
