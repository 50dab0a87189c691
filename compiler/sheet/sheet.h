/* sheet: everything that stands on a printed sheet and its key, version by version, before it is laid out on pages.
   needs  a model's sheets and the solver.
   gives  for each version and problem: the solved figure, the question, marks, room for the answer, what is given and what is
          answer, the values asked for with what is to be accepted of them.
   never  lays out or draws: the frame of a problem's figure, its place on the page and its key are for who prints it. */
#ifndef SG_SHEET_H
#define SG_SHEET_H
#include "solved/solved.h"

typedef enum { SG_ROOM_NONE, SG_ROOM_LINES, SG_ROOM_BOX, SG_ROOM_SQUARED } SgRoom;
typedef enum { SG_RULERS_NONE, SG_RULERS_CM, SG_RULERS_INCH } SgRulers;

/* From and to, in canonical units; told false: the method does not reach this value. */
typedef struct { bool told; double from, to; } SgAccept;
/* A value the question asks for, worked out. drawn: what to accept of a construction with pencil, ruler and protractor on the
   printed figure, as DEVELOPERS.md tells; calculated: of an answer worked out to so many figures. */
typedef struct {
    const SgExpr *expression;
    SgStr words;               /* as the script has it: "flame.distance" */
    SgValue value;
    SgAccept drawn, calculated;
} SgAsked;

/* One of several drawings to choose from. mistake: markup; empty: the right one. */
typedef struct { SgSolved *solved; SgStr mistake; } SgDrawing;
/* What the author should hear about a value that a problem asks for, said at its place by whoever runs the sheet. */
typedef struct { SgCode code; uint32_t asked; SgStr text; } SgSheetWarning;
typedef struct {
    uint32_t number;           /* from 1, in the order of the script */
    SgStr name;
    SgStr question;            /* markup */
    SgSolved *solved;          /* NULL: it has no figure. Marks whose step is above given_up_to are answer, the others given */
    SgSolved *ground;          /* what its numbers are told in: its figure, or the sheet's own where it has none */
    uint32_t given_up_to;
    SgSolved *shown;           /* NULL, or the figure with mistakes to be found: all its steps are given */
    const SgStr *mistake; uint32_t nmistakes;           /* markup: what each of them is */
    const SgDrawing *drawing; uint32_t ndrawings, right_drawing;       /* in this version's order; all steps of each are given */
    bool new_page;
    uint32_t marks;            /* 0: none are said */
    SgRoom room; uint32_t lines; double room_mm;        /* on paper */
    const SgStr *choice; uint32_t nchoices, right;      /* markup, in this version's order; right: index of the right one */
    SgAsked *asked; uint32_t nasked;
    const SgStr *worked; uint32_t nworked;              /* markup, a line each: the images asked about, worked out as their figure's convention does it */
    uint32_t figures;          /* significant figures of a calculated answer */
    SgStr model_answer;        /* markup; empty: none */
    SgStr hidden;              /* markup, for the key: mistakes that what it accepts does not show; empty: none */
    SG_VEC(SgSheetWarning) warnings;
} SgSheetProblem;
typedef struct {
    SgCompile *c;              /* its figures belong to this compile: a script with constructions is written out for each version */
    const SgSheet *sheet;      /* its statements, in that compile */
    char letter;               /* 'A' .. */
    SgStr title, footer;       /* markup; empty: none */
    SgSheetProblem *problem; uint32_t nproblems;
} SgSheetVersion;

/* A sheet's settings, the same for all versions, and its versions. Lengths are on paper. */
typedef struct {
    SgStr name, seed;
    double width_mm, height_mm, margin_mm, check_bar_mm;        /* as the paper lies; check_bar_mm 0: none */
    double laid_mm, read_mm, turned_deg;         /* how far off a hand may be: a ruler on a point, a length, an angle */
    double least_length_mm, least_angle_deg;     /* no drawn answer is held to less, either way */
    uint32_t columns;
    const SgWording *wording;                    /* of what the pages write of themselves */
    bool experiment;                             /* who must be asked before stands in its head */
    SgRulers rulers;
    const SgStr *heading; uint32_t nheading;     /* markup: fields to be filled in */
    uint32_t marks;                              /* of all problems together */
    SgSheetVersion *version; uint32_t nversions;
    const double **chosen, *file_chosen;         /* of each problem and of the file: what picks took, for all versions */
} SgSheetForm;

/* Reads the settings; `seed` in place of the sheet's own when not NULL. Versions are not worked out yet. NULL after a message. */
SgSheetForm *sg_sheet_form(SgCompile *c, const SgModel *m, const SgSheet *sheet, const char *seed);
/* Works out one version into form->version[version]; in order, A first. m: the script, or the script written out for this
   version, with its compile. False after a message. */
bool sg_sheet_version(SgCompile *c, const SgModel *m, const SgSheet *sheet, SgSheetForm *form, uint32_t version);
/* A value asked for with the signs that the figure's convention shows, its intervals too. */
SgAsked sg_sheet_shown(const SgSolved *s, const SgAsked *asked);
/* One problem's figure solved for a version, for a construction to be written out before the whole is worked out. */
SgSolved *sg_sheet_solve(SgCompile *c, const SgModel *m, const SgSheet *sheet, SgSheetForm *form, uint32_t problem, uint32_t version);
#endif
