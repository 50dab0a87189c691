/* solved: the values of one figure: numbers, places, paths of light, images.
   needs  a model's figure and the values of its parameters.
   gives  every symbol's value in graph order; texts filled in on demand.
   never  knows paper, steps, colour or layout. */
#ifndef SG_SOLVED_H
#define SG_SOLVED_H
#include "model/model.h"
#include "optics/optics.h"

enum { SG_MAX_PATHS = 5000 };      /* of a figure */
typedef enum { SG_VALID, SG_INFINITE, SG_UNDEFINED, SG_POISON } SgState;   /* poison: already reported, stay silent */
/* direction unit, the way light goes. half: which half bounds an angle at a meeting: -1 where the light comes from (ray.in),
   +1 where it goes (ray.out), 0 either (the axis). */
typedef struct { SgPoint through, direction; int half; } SgLineValue;
typedef struct {
    SgType type;               /* NUMBER TRUTH TEXT POINT LINE THING */
    SgState state;
    SgDim dim;                 /* numbers: mm^length degree^angle */
    bool nought;               /* a literal 0 */
    SgUnit unit;               /* numbers: the unit its literal had, as a hint for showing; SG_UNIT_COUNT none */
    const char *why;           /* undefined: the reason, as a clause */
    double number; bool truth; SgStr text; SgPoint point; SgLineValue line; uint32_t thing;
} SgValue;

typedef struct {
    SgSurface surface;
    bool converging, plane, edge_passes, edge_meant;
    double focal_mm;           /* in one medium; n behind over power otherwise */
    /* faces of glass: a thick lens has two, a boundary one (the front). Curvature 1/r, positive where the face bulges
       out of the glass; for a boundary towards the light. */
    bool thick;
    SgPoint face_front, face_back;
    double curvature_front, curvature_back, thickness_mm;
    double front_principal_mm, back_principal_mm;       /* of a thick lens: H from the first face, H' from the last, along the light */
} SgElement;
typedef enum { SG_SHAPE_ARROW, SG_SHAPE_CANDLE, SG_SHAPE_BULB, SG_SHAPE_TREE, SG_SHAPE_PERSON, SG_SHAPE_BOTTLE, SG_SHAPE_KEY, SG_SHAPE_FISH,
    SG_SHAPE_FLOWER, SG_SHAPE_LETTER, SG_SHAPE_COUNT } SgShape;
typedef struct { SgShape shape; SgPoint foot, tip; double height_mm; bool far; double angle_deg; bool is_virtual; } SgObject;   /* far: at infinity; angle above the axis */
typedef struct { SgSystemMatrix matrix; SgPoint first, last, along_first, along_last; double magnifying_power; bool powerless; const char *why; } SgSystem;
typedef struct {
    uint32_t of; const uint32_t *by; uint32_t nby;      /* symbols, in the order light meets them */
    SgConjugate last;          /* at the last element */
    SgHomogeneous foot_far, tip_far;                    /* as they are; for an image at infinity the directions light leaves in */
    SgPoint foot, tip;         /* the same, finite */
    SgPoint travel;            /* unit: the way light goes after the last element */
    double height_mm, magnification, total_magnification;
    bool unmagnified;          /* an object at infinity has no height to compare with */
    double spread_mm, shift_mm;                         /* by rule */
    bool mistaken;             /* drawn wrongly on purpose: no line is produced to it */
    bool upright, would_be;    /* would_be: real, but an element stands in the way of the light */
} SgImage;
typedef struct {
    SgPoint start;             /* where it begins */
    SgRayLine *leg; SgHit *hit; uint32_t nhits;         /* nhits + 1 legs; leg k begins at hit k */
    const uint32_t *met;       /* symbol of the element met at each hit */
    SgPoint aim; bool aimed;   /* through or toward a point */
    bool through;
    bool mistaken;             /* drawn wrongly on purpose: no line is produced from it */
    bool ends;                 /* caught by a stop or screen, or asked to end, at `end`; else it leaves the figure */
    SgPoint end;
} SgPath;
typedef struct {
    SgState state;             /* POISON when it could not be solved */
    SgValue value;             /* lets and parameters */
    SgElement element; SgObject object; SgImage image; SgSystem system; SgPoint place, looks;     /* looks: of an eye, unit */
   
    SgPath path;               /* of a ray; the middle one of a beam or fan */
    SgPath *many; uint32_t nmany;              /* of a beam or fan, from below up; of a ray, its one */
} SgThing;
/* Which numbers picks take. The same set of a script that does not change takes the same ones for ever. */
typedef struct {
    SgStr seed;                /* any text; empty without one */
    SgStr name;                /* of the figure or problem, so that two of one kind choose each for itself; empty: the figure's own */
    uint32_t version;          /* 0 is A */
    uint32_t versions;         /* chosen together: at least version + 1 */
    bool whole;                /* these are all the versions there are, so that at_least and at_most count */
    const SgStatement *convention;     /* of the sheet, between the figure's own and the file's; NULL none */
    const uint32_t *mistake; uint32_t nmistakes;       /* symbols: what is drawn wrongly; then demands are not checked */
    const double *chosen, *file_chosen;        /* what was chosen for another version of the same set, NULL: choose now */
} SgSet;
/* How numbers are shown and worked; what they are is the same in every convention. Letters are markup. */
typedef struct {
    const char *name;          /* of a ready-made one, "its own words" for an author's; NULL: none is set */
    bool cartesian;            /* distances are positive along the arriving light; else where object and image are real */
    bool sizes;                /* magnification without sign */
    SgStr object, image, focal;
    SgStr vertex, focus, centre;       /* of points; vertex empty: not drawn */
} SgConvention;
typedef struct {
    SgCompile *c;
    const SgModel *model; const SgFigure *figure;
    SgSet set;                 /* chosen, file_chosen: a row of values a version, in the order of the groups' picks */
    SgThing *thing;            /* a symbol of the figure's scope each */
    SgThing *file_thing;       /* a symbol of the file's scope each */
    SgPoint light;             /* unit: the way light goes, (1, 0) or (-1, 0) */
    double along, up;          /* paper millimetres for one of the scene: along and across the axis */
    bool to_scale;             /* false: `scale none` */
    SgStr scale_words;         /* what is printed on the figure; empty at 1:1 */
    const SgWording *wording;  /* language of the texts that are written of themselves */
    SgConvention convention;
    SgStr caution;             /* printed on the figure; empty: its light hurts nobody */
    bool by_rule;              /* the model of light: else paraxial */
    const SgBinding *with; uint32_t nwith;     /* parameters from the command line */
    bool broken;               /* an error was said about this figure */
} SgSolved;

typedef struct { SgStr name; SgStr value; } SgWith;                       /* --with u=6cm */
/* Solves one figure. with: values from the command line, already checked to name a parameter. Messages go to c. */
SgSolved *sg_solve(SgCompile *c, const SgModel *m, const SgFigure *figure, const SgBinding *with, uint32_t nwith);     /* version A, no seed */
SgSolved *sg_solve_set(SgCompile *c, const SgModel *m, const SgFigure *figure, const SgBinding *with, uint32_t nwith, const SgSet *set);
enum { SG_MAX_VERSIONS = 26, SG_MAX_CANDIDATES = 1000, SG_MAX_COMBINATIONS = 100000 };

SgValue sg_eval(SgSolved *s, const SgExpr *e);
/* A text with its holes filled: markup kept, values' own markup signs escaped. Says an error for an undefined hole. */
SgStr sg_eval_text(SgSolved *s, const SgExpr *e);
/* Reads a phrase's value of the type its catalogue line asks for; says what is wrong and returns poison otherwise. */
SgValue sg_eval_as(SgSolved *s, const SgExpr *e, SgType want, SgDim dim, const char *whose);
SgValue sg_property(SgSolved *s, uint32_t symbol, SgPropertyId property, SgSpan at);
/* "4 cm", "at infinity", "4.76 deg": for messages and tables. decimals -1: the usual rounding, without trailing noughts;
   -1 - k: at most k decimals, without trailing noughts. */
SgStr sg_show(SgSolved *s, SgValue v, SgUnit unit, int decimals);
/* What a mistake is, as a clause about its ray or image, such as "ray 2 leaves on the wrong side of the normal"; the author's own text if
   there is one. */
SgStr sg_mistake_words(SgSolved *s, uint32_t mistake);
SgStr sg_image_nature(SgSolved *s, const SgImage *image);
SgUnit sg_figure_length_unit(const SgSolved *s);
#endif
