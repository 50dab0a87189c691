/* Part of output: the answers of a sheet, version by version: for people, as CSV (RFC 4180) and as JSON. Reads sheets. */
#ifndef SG_ANSWERS_H
#define SG_ANSWERS_H
#include "sheet/sheet.h"

void sg_output_answers(const SgSheetForm *form, SgBuf *out);
void sg_output_answers_csv(const SgSheetForm *form, SgBuf *out);
void sg_output_answers_json(const SgSheetForm *form, const char *version, SgBuf *out);
#endif
