/* scene: what is to be seen and when. Roles, not looks.
   needs  a solved figure.
   gives  marks with roles and the step each appears with, captions, title and description.
   never  solves, never styles, never moves a point that the optics decided. */
#ifndef SG_SCENE_H
#define SG_SCENE_H
#include "solved/solved.h"

/* All points: millimetres on paper, y up, origin where the axis starts. */
typedef enum {
    SG_ROLE_AXIS,          /* xy[0..1]: as far as things reach; the layout adds its overhang. words: its name */
    SG_ROLE_MIRROR,        /* xy[0] vertex; direction: the way light arrives; radius_mm (0 flat), half_mm; drawn as its arc when curved */
    SG_ROLE_LENS,          /* xy[0] centre; direction; half_mm; converging */
    SG_ROLE_SURFACE,       /* a boundary between media: as a mirror, without a back */
    SG_ROLE_GLASS,         /* xy[]: the outline of a piece of glass, closed */
    SG_ROLE_STOP,          /* xy[0] middle of the opening; half_mm of the plate; hole_mm half of the opening */
    SG_ROLE_SCREEN,        /* xy[0] middle; half_mm */
    SG_ROLE_EYE,           /* xy[0] pupil; direction: the way light arrives */
    SG_ROLE_OBJECT, SG_ROLE_REAL_IMAGE, SG_ROLE_VIRTUAL_IMAGE,   /* xy[0] foot, xy[1] tip */
    SG_ROLE_RAY,           /* xy[]: the light itself, in its order; light: number of the ray from 1 */
    SG_ROLE_PRODUCED,      /* xy[0..1]: a line produced where there is no light, from the surface away */
    SG_ROLE_AID,           /* xy[0..1]: a surface drawn on beyond its edge, thin dashed */
    SG_ROLE_POINT,         /* xy[0]: a dot with words */
    SG_ROLE_TICK,          /* xy[0]: a short mark across the axis with words (2F) */
    SG_ROLE_DIMENSION,     /* xy[0], xy[1]: measured; words: the length */
    SG_ROLE_ANGLE,         /* xy[0] vertex; from_deg, sweep_deg; words; equal: number of its equal group, 0 none */
    SG_ROLE_LABEL,         /* xy[0]: words beside it */
    SG_ROLE_NORMAL,        /* xy[0..1]: short dashes */
    SG_ROLE_LINE,          /* xy[0..1]: a construction line, dotted; with arrow drawn through, a head at xy[1]; ticks across its middle */
    SG_ROLE_CIRCLE,        /* xy[0] centre; radius_mm, from_deg, sweep_deg: a construction circle or arc, dotted; arrow: a head at its end */
    SG_ROLE_PROTRACTOR,    /* xy[0] centre; direction: its 0 */
    SG_ROLE_RULER,         /* xy[0] its 0, xy[1] where it reaches at least; over: on the left of that way, else on the right */
    SG_ROLE_GRID,          /* no points; pitch_mm */
    SG_ROLE_CROSS_AXIS,    /* xy[0..1]: an upright axis; words: its name; fixed: the layout adds no overhang */
    SG_ROLE_BREAK,         /* xy[0]: two short slanted strokes on the axis */
    SG_ROLE_NOTE           /* xy[0]: words, beginning there, may have lines */
} SgRole;
typedef struct { int step; char look; } SgCue;                           /* from that step on: s shown, f faded, h hidden */
typedef struct {
    SgRole role;
    int step;              /* 0 given; k appears with step k */
    SgSpan at;
    SgStr name;            /* the script's name of it, for ids and descriptions; empty none */
    SgStr words;           /* markup; empty: nothing stands beside it */
    const SgPoint *xy; uint32_t nxy;
    SgPoint direction;     /* unit */
    double radius_mm, half_mm, hole_mm, from_deg, sweep_deg;
    bool converging, curved;
    uint32_t light;        /* rays and what is produced from them */
    double light_from_mm;  /* path length of light before xy[0], so that all of a ray draws itself in order */
    uint32_t equal;
    uint32_t sister;       /* 0: the ray that carries the number of its light; others of a beam, and later parts of a ray, count on */
    uint32_t ticks;        /* short strokes across the middle of a length or an arc, 0 none */
    bool arrow, right, over, fixed;        /* right: a right angle, marked by a square; fixed: of an axis, drawn from xy[0] to xy[1] */
    double pitch_mm;       /* on paper */
    bool asked_side; double side_deg;      /* the side its words should stand on: 0 right, 90 up */
    SgPoint shift_mm;      /* a nudge for its words, on paper */
    bool mistaken;         /* drawn wrongly on purpose */
    bool retraced;         /* a ray whose light comes back along the same line */
    SgShape shape; bool reversed;          /* of an object and its images; reversed: left and right change places */
    bool of_scale; SgStr slide_words;      /* the note of the scale, which no slide has: what is true there as well; empty nothing */
    const SgCue *cue; uint32_t ncues;      /* by step */
    SgStr colour;          /* as asked by the author: a word or "#rrggbb"; empty: by role */
} SgMark;
typedef struct { SgStr caption, say, ask; SgStr id; SgSpan at; SgStr told; } SgSceneStep;       /* markup; say: a speaker's note; ask: a question before it; told: the step at length */
/* A style as asked for: a built-in one and what the author's own styles change about it, later changes on top. */
typedef struct { SgPhraseId id; SgStr colour[8]; SgSpan colour_at[8]; uint32_t ncolours; double mm; SgSpan at; } SgStyleChange;
typedef struct { SgStyleId base; const SgStyleChange *change; uint32_t nchanges; bool transparent; } SgSceneStyle;
typedef struct {
    SgStr id, title;                   /* markup */
    /* For those who cannot see it, from the solved geometry, markup: describe the whole at length, given what stands outside the
       steps and nothing that was worked out; brief and brief_given the same in at most 150 characters. */
    SgStr describe, given, brief, brief_given;
    SgStr scale_told, slide_scale_told, caution_told;        /* what a description ends with: its scale, on paper or on a slide; the caution */
    const SgWording *wording;          /* of the texts written of themselves; NULL: English */
    SgMark *mark; uint32_t nmarks;
    SgSceneStep *step; uint32_t nsteps;
    SgSceneStyle style;
    double enlarged;                   /* 1 on paper; on a slide so many times as large: a ruler's millimetre is as long as the figure's */
    double frame_w_mm, frame_h_mm;     /* 0: the box of the finished figure and 6 mm around it; only the height 0: as high as it needs */
    SgSpan frame_at;
    double along;                      /* paper millimetres for one of the scene, along the axis */
} SgScene;

/* For paper: what is given alone, as if nothing else were in the script, or all of it. Either way a mirror is a straight line
   unless its arc is asked for, and given light is counted first. */
typedef struct { bool paper; int upto; bool whole; } SgScenePart;        /* given: what stands in steps 0..upto */
/* uses: every solved figure that shares this one's statements (the original and its copies, this one too): whether a mirror is
   drawn as its arc is decided once over all of them. NULL after an error. */
SgScene *sg_scene(SgCompile *c, SgSolved *solved, SgSolved *const *uses, uint32_t nuses);
SgScene *sg_scene_part(SgCompile *c, SgSolved *solved, SgSolved *const *uses, uint32_t nuses, SgScenePart part);
/* The style of a figure: the one asked for by name, else the one its script sets, else light. asked: empty, or a name from the
   command line. Messages go to c; false after one, or when no style is called as asked, and then nothing is said. */
bool sg_scene_style(SgCompile *c, SgSolved *solved, SgStr asked, SgSceneStyle *out);
#endif
