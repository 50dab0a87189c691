/* What a construction figure must show, checked on its SVG alone.
   in: a drawing as svgread gives it, and where light must go by the mirror and lens equation, worked out here.
   out: the number of faults, each in words. never: asks the compiler for a place. */
#ifndef TEST_FIGURE_H
#define TEST_FIGURE_H
#include "svgread.h"

typedef enum { CONCAVE, CONVEX, PLANE, CONVERGING, DIVERGING } Element;
typedef struct {
    const char *name;
    Element element;
    double f, u, h;                /* mm; sizes, f unused for a plane mirror */
    const char *rays;              /* p parallel, f through the focal point, c through the centre, v to the vertex */
    double aperture;               /* mm */
} Facts;
typedef struct { char text[4000]; unsigned count; } Faults;

/* The signed power times u tells all: image distance v (real +), magnification m; false when the image is at infinity. */
bool figure_image(const Facts *facts, double *v, double *m);
/* Everything figures of one mirror or lens owe: axis, object, dots, the rays' rules, the image, heads. */
void figure_check(const Facts *facts, const SvgDrawing *drawing, Faults *faults);
/* Only what every figure owes, whatever it shows: heads on light and nowhere else. Returns the number of legs that carry one. */
unsigned figure_check_heads(const SvgDrawing *drawing, Faults *faults);
#endif
