/* Inside the sheet stage: what its files share. */
#ifndef SG_SHEET_BUILD_H
#define SG_SHEET_BUILD_H
#include "sheet/sheet.h"
#include "solved/build.h"

/* A solved figure without anything in it, for texts and numbers of the sheet itself. */
SgSolved *sg_sheet_ground(SgCompile *c, const SgModel *m, const SgSheetForm *form, uint32_t version);
/* A whole number from least to most; *n stays as it is when the phrase is not written. False after a message. */
bool sg_sheet_count(SgSolved *s, const SgStatement *st, SgPhraseId id, SgCode code, uint32_t least, uint32_t most, uint32_t *n);
bool sg_sheet_length(SgSolved *s, const SgStatement *st, SgPhraseId id, SgCode code, double most_mm, double *mm);
bool sg_sheet_problem(SgSolved *s, const SgSheetForm *form, const SgProblem *from, SgSheetProblem *p);
/* Warns of texts that give away what the problem asks for. */
void sg_sheet_told(SgSolved *s, const SgStatement *problem, const SgSheetProblem *p);
void sg_sheet_work(SgSolved *s, SgSheetProblem *p);            /* its worked solution */
void sg_sheet_accept(SgSolved *s, const SgSheetForm *form, SgSheetProblem *p);      /* fills what to accept of each value asked for */
#endif
