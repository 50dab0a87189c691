/* Part of layout: finds a free place for every label, once over all steps. Integers inside (1/1000 mm), fixed order, no random
   numbers, no time limit: the same places on every machine. */
#ifndef SG_PLACE_H
#define SG_PLACE_H
#include "base/base.h"
#include "base/geom.h"

/* What a label must keep clear of. Arcs are given as short segments, discs and filled shapes as boxes or segments. */
typedef struct { SgPoint a, b; double half_width_mm; int first_step; bool light; } SgObstacle;     /* a stroke; a == b: a dot */
typedef struct {
    SgPoint xy;                /* centre of the box */
    int cost;                  /* 0 best; the label's own order of preference, in thousandths */
} SgCandidate;
typedef struct {
    double w_mm, h_mm;         /* of its box */
    SgPoint anchor;            /* what it belongs to: leaders go here, and distance is measured from here */
    int first_step;
    SgCandidate *candidate; uint32_t ncandidates;     /* in order of preference */
    bool may_lead;             /* a leader line may join it from farther away */
} SgLabelAsk;
typedef struct { SgPoint centre; bool leader; SgPoint leader_from, leader_to; int trouble; } SgLabelPlace;   /* trouble 0: clear of all */

enum { SG_LABEL_CLEAR_UM = 1000 };     /* 1 mm from every stroke */
/* frame: labels stay inside when it is not empty. Candidate generators below. */
void sg_place(SgArena *a, const SgObstacle *obstacle, uint32_t nobstacles, const SgLabelAsk *ask, uint32_t nasks,
              SgBox frame, SgLabelPlace *out);
/* Around a point: eight directions at three distances, `prefer_deg` first (0 right, 90 up). gap: from the anchor's edge to the box. */
uint32_t sg_candidates_around(SgArena *a, SgPoint anchor, double gap_mm, double w_mm, double h_mm, double prefer_deg, SgCandidate **out);
/* Beside a segment: both sides, positions from `near` towards `far` (fractions of its length). */
uint32_t sg_candidates_beside(SgArena *a, SgPoint from, SgPoint to, double gap_mm, double w_mm, double h_mm, double near, double far, SgCandidate **out);
#endif
