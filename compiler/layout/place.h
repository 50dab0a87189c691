/* Part of layout: finds a free place for every label, once over all steps. Integers inside (1/1000 mm), fixed order, no random
   numbers, no time limit: the same places on every machine. */
#ifndef SG_PLACE_H
#define SG_PLACE_H
#include "base/base.h"
#include "base/geom.h"

/* All places: millimetres, y up, within 500 m of the origin. */
/* What a label must keep clear of. Arcs are given as short segments, discs and filled shapes as boxes or segments. */
typedef struct { SgPoint a, b; double half_width_mm; int first_step; bool light; } SgObstacle;     /* a stroke; a == b: a dot */
typedef struct {
    SgPoint xy;                /* centre of the box */
    int cost;                  /* 0 best; the label's own order of preference, in thousandths; keep it below 30 000, the cost of a leader */
} SgCandidate;
typedef struct {
    double w_mm, h_mm;         /* of its box */
    SgPoint anchor;            /* what it belongs to: leaders go here, and distance is measured from here */
    int first_step;
    SgCandidate *candidate; uint32_t ncandidates;     /* in order of preference; none: only the far places with a leader */
    bool may_lead;             /* a leader line may join it from farther away */
    bool always_lead;          /* a leader joins it wherever it stands, if only 1.2 mm long */
} SgLabelAsk;
typedef struct { SgPoint centre; bool leader; SgPoint leader_from, leader_to; int trouble; } SgLabelPlace;   /* trouble 0: clear of all */

/* 1 mm from every stroke's edge, from every other label and its leader. */
enum { SG_LABEL_CLEAR_UM = 1000 };
/* Places every label. A label must be clear of every stroke of all steps, since nothing ever moves: first_step does not count.
   frame: labels stay inside when it is not empty. A leader starts at the box and ends 0.6 mm short of the anchor; it meets no
   other label and no other leader, and crosses as few strokes as can be. out: nasks places; trouble counts the strokes, labels,
   leaders and frame edges a label is not clear of: it stands at its least bad place, never dropped. */
void sg_place(SgArena *a, const SgObstacle *obstacle, uint32_t nobstacles, const SgLabelAsk *ask, uint32_t nasks,
              SgBox frame, SgLabelPlace *out);
/* The generators add 4/1000 mm to the gap for rounding, so that a gap of 1 mm and the anchor's half width is clear of the anchor. */
/* Around a point: sixteen directions at four distances (gap, 1.5, 3 and 3.6 mm more), `prefer_deg` first (0 right, 90 up), then
   22.5 degrees to its left and right and so on. gap: from the anchor to the box; at
   the least, those up to 45 degrees from upright stand in one row, so that words beside each other share their line. Costs 0 to 1 500 by direction, 2 000 more at each
   distance. Returns their number, 64. */
uint32_t sg_candidates_around(SgArena *a, SgPoint anchor, double gap_mm, double w_mm, double h_mm, double prefer_deg, SgCandidate **out);
/* Beside a segment: both sides, positions from `near` towards `far` (fractions of its length); left of from -> to first.
   Five positions, 300 each; the other side 150; 1.5 mm farther out 2 000. Returns their number, 20, the near ones first. */
#define SG_BESIDE_RING_MM 1.5
uint32_t sg_candidates_beside(SgArena *a, SgPoint from, SgPoint to, double gap_mm, double w_mm, double h_mm, double near, double far, SgCandidate **out);
#endif
