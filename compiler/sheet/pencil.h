/* Inside the sheet stage: a construction as a student makes it, on paper, with pencil, ruler and protractor.
   needs  one mirror or thin lens, an object's tip, the rays that are asked for, what the hand may be off by.
   gives  what is read off the drawing.
   never  knows a script. All lengths are millimetres on paper; x is counted from the vertex or centre towards the light that
          arrives, y up from the axis; f is positive where light is gathered. */
#ifndef SG_PENCIL_H
#define SG_PENCIL_H
#include "base/geom.h"
#include <stdint.h>

typedef enum { SG_PENCIL_PARALLEL, SG_PENCIL_FOCUS, SG_PENCIL_CENTRE, SG_PENCIL_VERTEX } SgPencilRay;
/* How far off a hand may be, each way. laid: a ruler on a point, across the line; read: a length marked off or read; turned: an
   angle set or read. */
typedef struct { double laid_mm, read_mm, turned_deg; } SgHand;
enum { SG_PENCIL_RAYS = 8, SG_PENCIL_ERRORS = 80 };
typedef struct {
    bool mirror, plane;
    bool arc;                  /* the mirror is printed as its arc of radius 2f, not as the line at its vertex */
    bool focus_made, centre_made;      /* F, C are not printed but marked off */
    double u_mm, h_mm, f_mm;   /* f unused for a plane mirror */
    double end_mm;             /* how far out rays are ruled */
    SgPencilRay ray[SG_PENCIL_RAYS];
    bool printed[SG_PENCIL_RAYS];      /* the ray is given: exact */
    uint32_t nrays;
} SgPencilCase;
/* distance: positive where the image is real; widest_deg: the widest angle two rays cross at, 90 for a plane mirror. */
typedef struct { double distance_mm, height_mm, widest_deg; } SgPencilReading;

/* error: one of -1..1 for each thing the hand may be off in, in the order they are done; NULL: none is off. Returns how many
   there are, 0 when the rays do not meet, or too many are asked for. */
uint32_t sg_pencil_draw(const SgPencilCase *k, const SgHand *hand, const double *error, SgPencilReading *reading);
#endif
