/* Inside the sheet stage: a construction as a student makes it, on paper, with pencil, ruler and protractor.
   needs  mirrors, lenses and spherical boundaries in the order light meets them, an object's tip and foot, the rays that are asked
          for, what the hand may be off by.
   gives  what is read off the drawing, image by image.
   never  knows a script. All is millimetres on paper. At an element x is counted from where light meets its axis back towards
          the light that arrives, y across, to the left of the way light goes; focal lengths are positive where light is gathered. */
#ifndef SG_PENCIL_H
#define SG_PENCIL_H
#include "base/geom.h"
#include <stdint.h>

typedef enum { SG_PENCIL_PARALLEL, SG_PENCIL_FOCUS, SG_PENCIL_CENTRE, SG_PENCIL_VERTEX } SgPencilRay;
/* How far off a hand may be, each way. laid: a ruler on a point, across the line; read: a length marked off or read; turned: an
   angle set or read. */
typedef struct { double laid_mm, read_mm, turned_deg; } SgHand;
enum { SG_PENCIL_RAYS = 8, SG_PENCIL_STAGES = 8, SG_PENCIL_ERRORS = 400 };
typedef struct {
    SgPencilRay ray[SG_PENCIL_RAYS];
    bool printed[SG_PENCIL_RAYS];      /* the ray is given: exact */
    uint32_t n;
} SgPencilRays;
/* One element, as light meets it this time. */
typedef struct {
    bool mirror, plane;
    bool arc;                  /* printed as its arc, not as the line at its vertex */
    bool focus_made, centre_made;      /* its focal points, its centre are not printed but marked off */
    bool foot_off;             /* what it images stands not square on its axis, so that its foot is constructed too */
    SgPoint vertex, along;     /* on the page: vertex or first principal point; along unit, the way light arrives on its axis */
    double gap_mm;             /* from the first principal plane on to the second; 0 of all that is thin */
    double front_mm, back_mm;  /* focal lengths: F from the vertex against the light, F' from the second principal point on; of a mirror both f; unused for a plane one */
    double end_mm;             /* how far out rays are ruled */
    SgPencilRays tip, foot;
} SgPencilStage;
/* through: rays from the tip that the figure draws on through all elements, as they are at the first. */
typedef struct { SgPoint tip, foot; SgPencilStage stage[SG_PENCIL_STAGES]; uint32_t nstages; SgPencilRays through; } SgPencilCase;
/* One image. distance: from the second principal point along the light that leaves, positive where it is real; height: up the page. */
typedef struct { double distance_mm, height_mm; SgPoint tip, foot; } SgPencilReading;
typedef struct {
    SgPencilReading image[SG_PENCIL_STAGES];
    double widest_deg;         /* the widest angle two rays cross at, at the element where it is least; 90 for plane mirrors */
} SgPencilDrawing;

/* error: one of -1..1 for each thing the hand may be off in, in the order they are done; NULL: none is off. Returns how many
   there are, 0 when rays do not meet, or too many are asked for. */
uint32_t sg_pencil_draw(const SgPencilCase *k, const SgHand *hand, const double *error, SgPencilDrawing *drawing);

/* The same by the rays of `through`, each followed to the end: at a later element by the line parallel to it through the centre, which
   meets it in the focal plane. For elements on one axis. */
uint32_t sg_pencil_follow(const SgPencilCase *k, const SgHand *hand, const double *error, SgPencilDrawing *drawing);
/* Object and image are given, the focal length of a thin lens or mirror is to be found; with found, where it stands too. The line from
   tip to tip crosses the axis in the middle of a lens (a mirror's vertex: to the tip of the image turned over); the parallel ray
   leaves to the image's tip and crosses the axis at the focal point. focal_mm: signed. Returns as sg_pencil_draw. */
uint32_t sg_pencil_focal(const SgPencilStage *e, SgPoint tip, SgPoint image, bool found, const SgHand *hand, const double *error, double *focal_mm);
/* The mistakes that students make (common practice; the same sorts as solved/mistake.c draws). */
typedef enum { SG_PENCIL_WRONG_SIDE, SG_PENCIL_THROUGH_CENTRE, SG_PENCIL_AWAY, SG_PENCIL_AS_IF, SG_PENCIL_UNBENT,
    SG_PENCIL_OTHER_WAY_UP, SG_PENCIL_AT_FOCUS, SG_PENCIL_OTHER_SIDE, SG_PENCIL_WRONGS } SgPencilWrong;
/* A hand that is never off and makes one mistake at one element: with its `ray`-th ray, which is then crossed with the right
   `other`-th one alone, for a third ray would show it; or, from OTHER_WAY_UP on, with the image itself. False where there is no such
   mistake, where it changes nothing, or where the rays then do not meet. */
bool sg_pencil_wrong(const SgPencilCase *k, uint32_t stage, SgPencilWrong wrong, uint32_t ray, uint32_t other, SgPencilDrawing *drawing);
#endif
