/* Part of layout: the drawing under way. Everything here is in the scene's millimetres, y up; layout.c turns it into a page.
   needs  marks.
   gives  primitives with their layer, what words must keep clear of, and the words that still want a place.
   never  moves a point that the optics decided. */
#ifndef SG_DRAW_H
#define SG_DRAW_H
#include "layout/layout.h"
#include "layout/place.h"
#include "layout/style.h"
#include "messages/messages.h"

typedef enum {
    SG_LAYER_GRID, SG_LAYER_FILL, SG_LAYER_AXIS, SG_LAYER_HATCH, SG_LAYER_AID, SG_LAYER_ELEMENT, SG_LAYER_PRODUCED, SG_LAYER_RAY, SG_LAYER_HEAD,
    SG_LAYER_ARROW, SG_LAYER_DOT, SG_LAYER_MEASURE, SG_LAYER_WORDS
} SgLayer;
typedef struct { SgItem item; SgLayer layer; uint32_t order; } SgDrawn;

/* What measures, heads and words keep clear of. */
typedef enum {
    SG_KEEP_AXIS, SG_KEEP_SOLID, SG_KEEP_HATCH, SG_KEEP_ARROW, SG_KEEP_LIGHT, SG_KEEP_PRODUCED, SG_KEEP_DOT, SG_KEEP_MEASURE,
    SG_KEEP_HEAD, SG_KEEP_WORDS
} SgKeepKind;
typedef struct { SgPoint a, b; double half_mm; SgKeepKind kind; uint32_t mark, leg; } SgKeep;      /* a == b: a dot; leg of a ray */

typedef struct { SgLabelAsk ask; SgWords words; uint32_t mark; bool of_place; } SgWanted;   /* of_place: names a point */

/* One straight piece of a ray as it is seen: what heads stand on. */
typedef struct { SgPoint a, b; double length_mm, from_mm; uint32_t mark, k, rgb; bool headed; } SgLeg;   /* from_mm: light's way to a */

typedef struct {
    SgCompile *c;
    SgArena *a;
    const SgScene *scene;
    uint32_t first, end;               /* the marks being drawn; those before stand already */
    const SgStyle *style;              /* the look of this figure */
    uint32_t now;                      /* the mark being drawn */
    SG_VEC(SgDrawn) drawn;
    SG_VEC(SgKeep) keep;
    SG_VEC(SgWanted) wanted;
    SG_VEC(SgLeg) leg;
    SgBox box;                         /* ink of all that is drawn */
    bool axis; SgPoint axis_a, axis_b; /* as drawn, a on the left */
    SgBox frame;                       /* empty while nobody has fixed it */
} SgDraw;

/* Says which colours the author chose are too near to the paper or to each other, and which are none. */
void sg_check_colours(SgCompile *c, const SgScene *scene, const SgStyle *style);

/* Primitives of the mark `now`. Each copies the points, adds to the box and returns the item for last touches (valid until the next). */
SgItem *sg_draw_stroke(SgDraw *d, SgLayer layer, const SgPoint *xy, uint32_t n, double line_mm, uint32_t rgb);
SgItem *sg_draw_line(SgDraw *d, SgLayer layer, SgPoint a, SgPoint b, double line_mm, uint32_t rgb);
SgItem *sg_draw_fill(SgDraw *d, SgLayer layer, const SgPoint *xy, uint32_t n, uint32_t rgb);
SgItem *sg_draw_disc(SgDraw *d, SgLayer layer, SgPoint centre, double radius_mm, uint32_t rgb);
SgItem *sg_draw_arc(SgDraw *d, SgLayer layer, SgPoint centre, double radius_mm, double from_deg, double sweep_deg, double line_mm, uint32_t rgb);
SgItem *sg_draw_words(SgDraw *d, SgPoint baseline, const SgWords *words);
/* A closed head: tip, unit direction it points, length and width. */
double sg_draw_under_head(const SgDraw *d, double length_mm);    /* how far short of such a head's tip its line ends */
SgItem *sg_draw_head(SgDraw *d, SgLayer layer, SgPoint tip, SgPoint direction, double length_mm, double width_mm, uint32_t rgb);

/* Cuts ab to the author's frame, if there is one; false when nothing of it is inside. */
bool sg_draw_clip(const SgDraw *d, SgPoint *a, SgPoint *b);

void sg_keep(SgDraw *d, SgKeepKind kind, SgPoint a, SgPoint b, double half_mm, uint32_t leg);
void sg_keep_arc(SgDraw *d, SgKeepKind kind, SgPoint centre, double radius_mm, double from_deg, double sweep_deg, double half_mm);
double sg_segments_distance(SgPoint a, SgPoint b, SgPoint p, SgPoint q);               /* 0 where they cross */
/* Whether they are farther apart than far_mm across or up alone: quick, and false tells nothing. */
bool sg_segments_apart(SgPoint a, SgPoint b, SgPoint p, SgPoint q, double far_mm);
/* Whether the edge of anything of a kind in `kinds` (1 << kind) comes nearer to segment ab than distance_mm; mark `skip` left out. */
bool sg_keep_within(const SgDraw *d, SgPoint a, SgPoint b, unsigned kinds, uint32_t skip, double distance_mm);

SgWords sg_draw_shape(SgDraw *d, SgStr markup, double size_pt);        /* with a warning for a missing glyph */
/* The name of a point or thing in its size; its box is as high as the tallest letters, so that names in a row share their line. */
SgWords sg_draw_name(SgDraw *d, SgStr markup);
double sg_draw_row_mm(const SgDraw *d);                /* from the axis to that row, of dots, ticks and arrows alike */
/* Asks for a place; NULL when there is nothing to place. */
SgWanted *sg_want(SgDraw *d, SgWords words, SgPoint anchor, SgCandidate *candidate, uint32_t n, bool may_lead);
/* Joins two lists of candidates; those of b cost `more` beyond their own. */
uint32_t sg_candidates_join(SgArena *a, SgCandidate *first, uint32_t nfirst, SgCandidate *second, uint32_t nsecond, int more, SgCandidate **out);

/* The roles. Called for the marks in this order, all of one before the next. */
void sg_draw_axis(SgDraw *d, const SgMark *m);
void sg_draw_mirror(SgDraw *d, const SgMark *m);
void sg_draw_lens(SgDraw *d, const SgMark *m);
void sg_draw_glass(SgDraw *d, const SgMark *m);
void sg_draw_plate(SgDraw *d, const SgMark *m);
void sg_draw_eye(SgDraw *d, const SgMark *m);
void sg_draw_name_at_ends(SgDraw *d, const SgMark *m, SgPoint end, SgPoint other);     /* above the upper end, else below the lower */
void sg_draw_aid(SgDraw *d, const SgMark *m);
void sg_draw_object(SgDraw *d, const SgMark *m);
/* A name nearer to another object or image than to its own would be read as that one's. */
void sg_draw_prefer_own_arrow(const SgDraw *d, const SgMark *m, SgCandidate *candidate, uint32_t n);
void sg_draw_shaped(SgDraw *d, const SgMark *m);       /* an object or image that is no arrow */
void sg_draw_ray(SgDraw *d, const SgMark *m);
void sg_draw_produced(SgDraw *d, const SgMark *m);
void sg_draw_point(SgDraw *d, const SgMark *m);
void sg_draw_tick(SgDraw *d, const SgMark *m);
void sg_draw_label(SgDraw *d, const SgMark *m);
void sg_draw_note(SgDraw *d, const SgMark *m);
void sg_draw_normal(SgDraw *d, const SgMark *m);
void sg_draw_line_mark(SgDraw *d, const SgMark *m);
void sg_draw_circle(SgDraw *d, const SgMark *m);
void sg_draw_cross_axis(SgDraw *d, const SgMark *m);
void sg_draw_break(SgDraw *d, const SgMark *m);
void sg_draw_grid(SgDraw *d, const SgMark *m, SgBox box);      /* behind everything, over all of the frame */
/* n short strokes across a line at `middle`, whose unit direction is `way`. */
void sg_draw_ticks_across(SgDraw *d, SgPoint middle, SgPoint way, uint32_t n, uint32_t rgb);
/* All marks from `first` on, in an order that lets words come last; the grids, which want the frame; a warning for what stands
   outside it; and all that is drawn as a page. */
void sg_draw_marks(SgDraw *d);
void sg_draw_grids(SgDraw *d, SgBox frame);
void sg_draw_outside(SgDraw *d, SgBox frame);
SgPage *sg_page_of(SgDraw *d, const SgScene *scene, SgBox frame);
void sg_page_captions(SgPage *page, SgCompile *c, const SgScene *scene, const SgStyle *style);      /* laid out for its width; sets the height of its strip */
/* These look at all marks of their role together. */
void sg_draw_tools(SgDraw *d);         /* rulers, protractors */
void sg_draw_angles(SgDraw *d);
void sg_draw_dimensions(SgDraw *d);
void sg_draw_ray_heads(SgDraw *d);
void sg_draw_ray_numbers(SgDraw *d);
void sg_draw_axis_name(SgDraw *d);
void sg_draw_wanted(SgDraw *d);        /* places all words that want a place */
#endif
