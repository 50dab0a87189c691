/* Part of the driver: one job under way, and what its files share.
   needs  a job.
   gives  products and faults gathered.
   never  outlives its result. */
#ifndef SG_RUN_H
#define SG_RUN_H
#include "sagitta.h"

#include "layout/slide.h"
#include "output/notes.h"
#include "print/print.h"
#include "sheet/sheet.h"

enum { SG_OUTPUT_LIMIT = 64 * 1024 * 1024 };

typedef struct {
    const SgJob *job;
    SgCompile c;
    SgTagged tagged;
    const SgModel *model;
    uint32_t nscripts;             /* sources that are scripts; behind them stand expressions of the command line */
    const SgNode **with;           /* the job's settings, parsed */
    const SgNode *expression;
    bool written_out;              /* its figures were: sheets are done, each version from the author's script */
    SgBuf said; uint32_t nsaid;    /* warnings about its sheets, and how many: said of the author's script, before its figures were written out */
    SgBuf faults;                  /* what no place in the script can be shown for, a line each */
    SgStatus fault;                /* of the first of them */
    SgSolved **solved;             /* one a figure of the model, NULL where it was not wanted */
    SG_VEC(SgProduct) products;
    SG_VEC(const SgPage *) pages;  /* of a PDF, printed last */
    size_t product_bytes;
    SG_VEC(SgNotesFigure) notes;   /* of each figure, for the job NOTES */
    SG_VEC(const SgPage *) slides; /* the same, for the jobs SLIDES and PRESENTATION */
    SG_VEC(SgGround) grounds;      /* what each of them is drawn on */
} Run;

void sg_run_start(Run *r, const SgJob *job, SgArena *arena);
bool sg_run_read(Run *r);                              /* the script to a model; false after a message */
/* Begins a line of faults: the caller puts the rest of it into what this returns. */
SgBuf *sg_run_fault(Run *r, SgStatus status);
void sg_run_list(SgBuf *b, SgStr name, uint32_t *n);   /* a name more of a list */
uint32_t sg_run_figures(const SgModel *m);             /* all, with those of used files and of problems */

/* ---- run_products.c ---- */
void sg_run_product(Run *r, SgStr figure, const SgBuf *b);
void sg_run_page(Run *r, const SgPage *page);          /* drawn as the job says, or gathered for a PDF */
void sg_run_png(Run *r, const SgPage *page);
void sg_run_pdf(Run *r);                               /* of the pages gathered */
void sg_run_notes(Run *r);                             /* of the figures gathered */
void sg_run_slides(Run *r);
void sg_run_presentation(Run *r);
SgSlideRatio sg_run_ratio(const Run *r);

/* ---- run_sheet.c ---- */
bool sg_run_draws_sheet(const Run *r);                 /* whether the job's drawing is a sheet and no figure */
void sg_run_sheet(Run *r);
void sg_run_answers(Run *r);
void sg_run_keep_said(Run *r);                         /* before a script is written out: what was said of its sheets */
SgSheetForm *sg_run_work_out(Run *r, uint32_t index);  /* all versions; NULL after a message */
#endif
