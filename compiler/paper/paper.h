/* paper: sheets, keys and overlays composed on pages of paper at true scale.
   needs  the problems' figures as layout left them, their texts as markup.
   gives  pages of primitive items, one a side of paper; those of a key hold all of its sheet, unmoved.
   never  draws optics, changes the scale of a figure, or splits a problem over two pages. */
#ifndef SG_PAPER_H
#define SG_PAPER_H
#include "layout/layout.h"
#include "messages/messages.h"
#include "sheet/sheet.h"

typedef enum { SG_PAPER_SHEET, SG_PAPER_KEY, SG_PAPER_OVERLAY } SgPaperKind;

/* Where a drawn answer is taken as right, in millimetres of its figure's page. */
typedef struct { SgPoint centre; double half_w_mm, half_h_mm; } SgPaperZone;

typedef struct {
    SgSpan at;
    SgStr name;
    SgStr question;            /* markup */
    uint32_t marks;            /* 0: none are shown */
    const SgPage *given, *key; /* of the same size; NULL: a problem without a figure. Items of step 0 are given, others answer */
    const SgPaperZone *zone; uint32_t nzones;
    uint32_t lines;            /* to write on */
    double box_mm;             /* height of an empty box; 0 none */
    bool squared;              /* it has squares of 5 mm */
    const SgStr *choice; uint32_t nchoices, right;     /* right: ringed in the key */
    const SgStr *answer; uint32_t nanswers;    /* of the key, a line each: on the writing lines, else below the figure's frame */
    const SgStr *worked; uint32_t nworked;     /* of the key's last pages, a line each */
    bool breaks;               /* begins a page */
} SgPaperProblem;

typedef struct {
    SgSpan at;
    SgStr id, title;           /* title: markup */
    const SgWording *wording;
    double w_mm, h_mm, margin_mm;              /* of the paper as it lies */
    double check_bar_mm;       /* one along the foot, one up the side; 0 none */
    SgRulers rulers;           /* along the foot */
    uint32_t columns;
    const SgStr *field; uint32_t nfields;      /* headings of what the student fills in */
    SgStr set, seed;           /* empty: not shown */
    SgStr caution;             /* markup; empty: none. Stands in the heading of every page */
    SgStr footer;              /* markup; empty: none */
    const SgPaperProblem *problem; uint32_t nproblems;
} SgPaperSheet;

/* How wide a problem may be. */
double sg_paper_column_mm(double w_mm, double margin_mm, uint32_t columns);
/* The pages of one version; *npages told. NULL after a message: a problem that no page or column can hold. */
const SgPage *const *sg_paper(SgCompile *c, const SgPaperSheet *sheet, SgPaperKind kind, uint32_t *npages);

/* Answers of all versions side by side: a row a problem, a column a version. cell: nrows * ncolumns markup texts, row by row. */
typedef struct {
    SgStr id, title;
    const SgWording *wording;
    double w_mm, h_mm, margin_mm;
    const SgStr *row; uint32_t nrows;
    const SgStr *column; uint32_t ncolumns;
    const SgStr *cell;
} SgPaperStrip;
const SgPage *const *sg_paper_strip(SgCompile *c, const SgPaperStrip *strip, uint32_t *npages);
#endif
