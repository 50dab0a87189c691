/* layout: every look and place decided; outputs only write.
   needs  a scene.
   gives  a page of primitive items in drawing order: strokes, arcs, discs, filled shapes, words.
   never  moves a point that the optics decided. */
#ifndef SG_LAYOUT_H
#define SG_LAYOUT_H
#include "layout/shape.h"
#include "layout/style.h"
#include "scene/scene.h"

typedef enum { SG_ITEM_STROKE, SG_ITEM_ARC, SG_ITEM_DISC, SG_ITEM_FILL, SG_ITEM_WORDS } SgItemShape;
typedef struct {
    SgItemShape shape;
    SgRole role; SgStr name;           /* of the mark it draws */
    SgSpan at;
    int step;                          /* items come sorted by step, and by layer within one */
    uint32_t rgb;
    double line_mm; double dash_mm[4]; uint8_t ndash;
    const SgPoint *xy; uint32_t nxy;   /* page millimetres, y down, origin top left. ARC, DISC: the centre. WORDS: start of the baseline */
    double radius_mm, from_deg, sweep_deg;     /* ARC: counter-clockwise as seen on the page */
    bool closed;
    const SgWords *words;
    const SgCue *cue; uint32_t ncues;          /* how it changes at later steps */
    uint32_t light; double light_from_mm;      /* 0: stands at once; else drawn when the light of this ray gets there */
} SgItem;
typedef struct {
    SgStr id, plain, told;             /* plain: caption for accessible text; told: all that the step brings, at length */
    SgStr say, ask;                    /* plain; empty none */
    SgWords *ask_line; uint32_t nask;  /* the question as laid out for the strip */
    SgWords *line; uint32_t nlines;    /* caption as laid out for the strip below the figure */
} SgPageStep;
typedef struct { uint32_t first, end; SgStr told; } SgPicture;      /* items first to end - 1 show what `told`, plain, says */
typedef struct {
    SgStr id, title;                   /* plain */
    SgStr describe, given, brief, brief_given; /* plain; see SgScene. brief: alternative text for where it is short */
    const SgWording *wording;          /* of what an output writes of itself */
    double w_mm, h_mm;                 /* the frame: the same at every step */
    SgPoint origin;                    /* where the scene's (0, 0) stands */
    double strip_mm;                   /* height of the caption strip below the frame, shown only while stepping */
    double caption_size_mm, caption_lead_mm;   /* em and line pitch of captions */
    uint32_t paper_rgb, caption_rgb;
    bool transparent;                  /* the paper is not painted */
    double faded;                      /* opacity of what a step fades */
    SgItem *item; uint32_t nitems;
    const SgPicture *picture; uint32_t npictures;      /* of a page of text, in the order of its items */
    SgPageStep *step; uint32_t nsteps;
} SgPage;

/* A figure in words: its description once it is finished; after an earlier step what is given and its steps so far, for it must not tell more
   than it shows. Empty where there is nothing to tell. */
SgStr sg_page_told(SgArena *a, const SgPage *page, int step);

/* In the scene's own style. */
SgPage *sg_layout(SgCompile *c, const SgScene *scene);

/* The frame of that size around the middle of what is given. */
SgBox sg_layout_frame(SgCompile *c, const SgScene *given, double w_mm, double h_mm);
/* For paper: what is given, laid out as if there were no answer, and the same with the answer around it, so that nothing of a
   sheet moves in its key. whole: the scene that holds given's marks and more. frame: in the scene's millimetres on paper, the
   size of both pages; the axis runs to its edges. Items of step 0 are given, those of step 1 are the answer. */
void sg_layout_apart(SgCompile *c, const SgScene *given, const SgScene *whole, SgBox frame, SgPage **sheet, SgPage **key);
/* In another: a projector's, say, made from sg_style_of(&scene->style) by whoever knows the screen. */
SgPage *sg_layout_in(SgCompile *c, const SgScene *scene, const SgStyle *style);
#endif
