/* optics: pure light. Surfaces, rays and images; no script, no drawing, no text.
   needs  geometry in millimetres and degrees.
   gives  where light goes on a surface, and where images lie.
   never  knows a name, a step, a paper or a colour.
   Paraxial here is linear in height and slope (tangents), so all rays from a point meet in one point, however steep. */
#ifndef SG_OPTICS_H
#define SG_OPTICS_H
#include "base/geom.h"
#include <stdint.h>

typedef enum { SG_PROFILE_PLANE, SG_PROFILE_SPHERE } SgProfile;
typedef enum { SG_ACTS_REFLECT, SG_ACTS_REFRACT, SG_ACTS_PASS, SG_ACTS_ABSORB } SgActs;
/* One thing that light meets: a mirror, a thin lens, a spherical boundary, a thick lens by its principal planes, a stop, a screen. */
typedef struct {
    SgProfile profile;
    SgActs acts;
    SgPoint vertex;            /* where its axis meets it; of a thick lens the first principal point H */
    SgPoint exit;              /* the second principal point H'; the vertex for everything thin */
    SgPoint along;             /* unit: the way light arrives, from the front through the vertex */
    double radius_mm;          /* SPHERE: R, positive when hollow towards the light; unused for a plane */
    double power_per_mm;       /* P: positive gathers light; 0 for a plane mirror */
    double half_aperture_mm;
    double hole_mm;            /* PASS: half of the opening; light between it and the half aperture ends there */
    double n_before, n_after;  /* index in front and behind; equal for a mirror */
} SgSurface;

/* A state of a number, not IEEE infinity. */
typedef enum { SG_FINITE, SG_AT_INFINITY } SgFar;

/* One meeting of a ray with a surface. */
typedef struct {
    uint32_t surface;
    SgPoint at;                /* on the plane of the vertex (of the exit, for light from behind); by rule: on the arc */
    double height_mm;          /* across the surface's own axis; up when `along` points right */
    double sense;              /* +1 from the front, -1 from behind */
    bool outside;              /* beyond the half aperture */
} SgHit;
typedef struct { SgPoint start; SgPoint direction; } SgRayLine;       /* direction unit */
enum { SG_MAX_HITS = 200 };

/* How far along `ray` its meeting with the surface's plane lies; false when it runs along the plane or away from it. */
bool sg_paraxial_meet(const SgSurface *s, SgRayLine ray, double *t_mm, SgHit *hit);
/* The ray after the meeting: y' = y, n' m' = n m - P y in the surface's own frame, turned back by a mirror; it starts on the
   exit plane. Law: paraxial refraction and reflection, any optics text (e.g. OpenStax University Physics 3, ch. 2). */
SgRayLine sg_paraxial_leave(const SgSurface *s, SgRayLine in, const SgHit *hit);

/* A point of the plane, or a direction of light. w 1: a place; 0: the unit direction light travels in, at infinity. */
typedef struct { double x_mm, y_mm, w; } SgHomogeneous;
SgHomogeneous sg_homogeneous(SgPoint p);
typedef struct {
    SgFar object_far, far;
    double object_distance_mm; /* + before, - behind (virtual object), along the arriving light; undefined for an object at infinity */
    double distance_mm;        /* + real, - virtual, along the leaving light, from the exit; undefined at infinity */
    double magnification;      /* n1/(n1 - P u), so it exists for height 0; undefined at infinity, and for an object there */
    bool real;
} SgConjugate;
/* Gaussian imaging, n1/u + n2/v = P. sense +1: light comes from the front. The image is at infinity when its vergence has
   cancelled in nine digits: |L'| <= 1e-9 max(|L|, |P|). */
SgConjugate sg_conjugate(const SgSurface *s, double sense, SgHomogeneous object_foot);
SgHomogeneous sg_image_point(const SgSurface *s, double sense, SgHomogeneous object_point);
/* The way light goes after the surface, when it came along `travel`. */
SgPoint sg_travel_after(const SgSurface *s, SgPoint travel);

/* Several surfaces taken together, in the order light meets them. Reduced distances, two traced rays. */
typedef struct {
    double power_per_mm;
    SgFar far;                 /* no power within nine cancelled digits: afocal */
    double n_first, n_last;
    double front_focal_mm;     /* from the first vertex back against the light to F; positive: F lies before it */
    double back_focal_mm;      /* from the last exit on to F'; positive: beyond it */
    double front_principal_mm; /* from the first vertex on to H */
    double back_principal_mm;  /* from the last exit on to H' */
    double angular;            /* afocal: leaving slope over arriving slope of a ray bundle */
} SgSystemMatrix;
SgSystemMatrix sg_system(const SgSurface *const *surface, const double *sense, uint32_t n);
/* The two refracting faces of a lens of index n and thickness t, between media n1 and n2, as one surface by its principal
   planes: P = P1 + P2 - P1 P2 t/n (Gullstrand's equation). curvatures 1/r positive where the face bulges out of the glass.
   false when the power cancels, for then there are no principal planes. */
bool sg_thick_lens(double n1, double n, double n2, double curvature1, double curvature2, double thickness_mm,
                   double *power_per_mm, double *front_principal_mm, double *back_principal_mm);

/* surface auto: the distance along the drawn arc between the cut of the arriving and the cut of the leaving leg,
   each on its exact paraxial line. 0 for planes and thin lenses. False when a leg misses the sphere. */
bool sg_arc_cuts(const SgSurface *s, SgRayLine in, SgRayLine out, SgPoint *cut_in, SgPoint *cut_out, double *step_mm);

/* by_rule: rays meet the drawn arc and leave by the pencil-and-ruler rule: parallel -> through F; along a line through F ->
   parallel; along a line through C -> back; at the vertex -> equal angles; any other through the point where the parallel to it
   through C meets the focal plane. Planes and thin lenses: as paraxial. */
bool sg_rule_meet(const SgSurface *s, SgRayLine ray, double *t_mm, SgHit *hit);
SgRayLine sg_rule_leave(const SgSurface *s, SgRayLine in, const SgHit *hit);
#endif
