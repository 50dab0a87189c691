/* Inside the sheet stage: what its files share. */
#ifndef SG_SHEET_BUILD_H
#define SG_SHEET_BUILD_H
#include "sheet/pencil.h"
#include "sheet/sheet.h"
#include "solved/build.h"

/* An image to be constructed on paper. The pencil's first stage is the element number `first` of the chain: what comes before it is
   printed as an image. object_mm: height of the object on paper, up the page. drawn: the figure shows a construction, if only by one ray. */
typedef struct { uint32_t image; SgChain chain; uint32_t first; double object_mm; bool drawn; SgPencilCase pencil; } SgPaperCase;

/* A solved figure without anything in it, for texts and numbers of the sheet itself. */
SgSolved *sg_sheet_ground(SgCompile *c, const SgModel *m, const SgSheetForm *form, uint32_t version);
/* A whole number from least to most; *n stays as it is when the phrase is not written. False after a message. */
bool sg_sheet_count(SgSolved *s, const SgStatement *st, SgPhraseId id, SgCode code, uint32_t least, uint32_t most, uint32_t *n);
bool sg_sheet_length(SgSolved *s, const SgStatement *st, SgPhraseId id, SgCode code, double most_mm, double *mm);
bool sg_sheet_problem(SgSolved *s, const SgSheetForm *form, const SgProblem *from, SgSheetProblem *p);
/* Warns of texts that give away what the problem asks for. */
void sg_sheet_told(SgSolved *s, const SgStatement *problem, const SgSheetProblem *p);
void sg_sheet_work(SgSolved *s, SgSheetProblem *p);            /* its worked solution */
/* False where the method does not reach: something at infinity, a point, unequal scales or none. */
/* Whether a point that comes with an element is printed, being used in what is given. */
bool sg_sheet_printed(const SgSolved *s, uint32_t given_up_to, uint32_t element, const char *word);
bool sg_sheet_case(SgSolved *s, uint32_t given_up_to, uint32_t image, SgPaperCase *k);
typedef struct { uint32_t last; SgChain chain; bool apart; } SgImagesRead;        /* the last image an expression reads, UINT32_MAX none; apart: others are not on the way to it */
SgImagesRead sg_sheet_images(const SgSolved *s, const SgExpr *e);
/* What a problem asks for besides images: an object left out, or a focal length (found: of an element that is left out), where the
   image is given. paper: of an object, its case with the light turned round. */
typedef enum { SG_SOUGHT_NOTHING, SG_SOUGHT_OBJECT, SG_SOUGHT_FOCAL } SgSoughtSort;
typedef struct { SgSoughtSort sort; uint32_t symbol; bool found; SgPaperCase paper; SgPoint image_tip; } SgSought;
SgSought sg_sheet_sought(SgSolved *s, uint32_t given_up_to, const SgExpr *e);
/* Draws it once, as sg_pencil_draw does, and tells the expression from that. 0: no value. */
uint32_t sg_sheet_find(SgSolved *s, const SgSought *k, const SgExpr *e, const SgHand *hand, const double *error, double *value);
/* Whether an expression reads the images on the way to the case's, and no other; what it is when they are as drawn. */
bool sg_sheet_reads(const SgSolved *s, const SgExpr *e, const SgPaperCase *k);
SgValue sg_sheet_read(SgSolved *s, const SgPaperCase *k, const SgExpr *e, const SgPencilDrawing *d);
/* Mistakes that are accepted by what is read, for a message; empty: none. Tells the problem's key of them too. */
SgStr sg_sheet_hidden(SgSolved *s, const SgPaperCase *paper, SgSheetProblem *p);
/* The square of how far an angle asked for may be off, in errors of one angle set or read; 1: it is only read. */
double sg_sheet_turned(const SgSolved *s, uint32_t given_up_to, const SgExpr *e);
void sg_sheet_accept(SgSolved *s, const SgSheetForm *form, SgSheetProblem *p);      /* fills what to accept of each value asked for */
#endif
