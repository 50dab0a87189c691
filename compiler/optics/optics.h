/* optics: pure light. Surfaces, rays and images; no script, no drawing, no text.
   needs  geometry in millimetres and degrees.
   gives  where light goes on a surface, and where images lie.
   never  knows a name, a step, a paper or a colour.
   Definitions: paraxial here is linear in height and slope (tangents), so all rays from a point meet in one point. */
#ifndef SG_OPTICS_H
#define SG_OPTICS_H
#include "base/geom.h"
#include <stdint.h>

typedef enum { SG_PROFILE_PLANE, SG_PROFILE_SPHERE } SgProfile;
typedef enum { SG_ACTS_REFLECT, SG_ACTS_REFRACT } SgActs;
typedef struct {
    SgProfile profile;
    SgActs acts;
    SgPoint vertex;
    SgPoint along;             /* unit: the way light arrives, from the front through the vertex */
    double radius_mm;          /* SPHERE: R, positive when hollow towards the light; unused for a plane */
    double power_per_mm;       /* 1/f: positive gathers light; 0 for a plane mirror */
    double half_aperture_mm;
} SgSurface;

/* A state of a number, not IEEE infinity. */
typedef enum { SG_FINITE, SG_AT_INFINITY } SgFar;

/* One meeting of a ray with a surface in the paraxial model. */
typedef struct {
    uint32_t surface;
    SgPoint at;                /* on the vertex plane */
    double height_mm;          /* across the surface's own axis, to the left of `along` when it points right: up */
    bool outside;              /* beyond the half aperture */
} SgHit;
typedef struct { SgPoint start; SgPoint direction; } SgRayLine;       /* direction unit */
enum { SG_MAX_HITS = 200 };

/* How far along `ray` its meeting with the surface's vertex plane lies; false when it runs along the plane or away from it. */
bool sg_paraxial_meet(const SgSurface *s, SgRayLine ray, double *t_mm, SgHit *hit);
/* The ray after the meeting: y' = y, m' = m - P y in the surface's own frame, turned back by a mirror. */
SgRayLine sg_paraxial_leave(const SgSurface *s, SgRayLine in, const SgHit *hit);

/* Image of a point. The object may be at infinity (w = 0: direction). Homogeneous, so nothing overflows. */
typedef struct { double x_mm, y_mm, w; } SgHomogeneous;               /* w 1: a place; 0: the unit direction light travels in */
typedef struct {
    SgFar far;
    double object_distance_mm; /* + before, - behind (virtual object), along the arriving light */
    double distance_mm;        /* + real, - virtual, along the leaving light; undefined at infinity */
    double vergence_per_mm;    /* of the leaving light at the surface, 1/distance; 0 at infinity */
    double magnification;      /* 1/(1 - P u), so it exists for height 0; undefined at infinity */
    bool real;
} SgConjugate;
/* Gaussian imaging by a thin element of power P: n/u + n/v = P with real-positive signs (derivation: linear slopes as above). */
SgConjugate sg_conjugate(const SgSurface *s, SgPoint object_foot);
SgHomogeneous sg_image_point(const SgSurface *s, SgPoint object_point);

/* surface auto: the distance along the drawn arc between the cut of the arriving and the cut of the leaving leg,
   each on its exact paraxial line. 0 for planes and thin lenses. False when a leg misses the sphere. */
bool sg_arc_cuts(const SgSurface *s, SgRayLine in, SgRayLine out, SgPoint *cut_in, SgPoint *cut_out, double *step_mm);
#endif
