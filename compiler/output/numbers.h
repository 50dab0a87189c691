/* Part of output: the numbers behind the figures, as a table to read and as JSON. The one output that reads solved values. */
#ifndef SG_NUMBERS_H
#define SG_NUMBERS_H
#include "solved/solved.h"

/* Every quantity of the figures, in the order of the script: values, then things with each property of the catalogue,
   then the path of each ray. Table: 15 significant digits, lengths in the figure's own unit (a let or parameter in the
   unit it was written with), angles in degrees, powers in dioptres. A value without a number says its state.
   Every figure must have been solved without an error. */
void sg_output_table(SgSolved *const *solved, uint32_t nsolved, SgBuf *out);
/* The same as JSON: lengths in mm, angles in deg, powers in D, each named in `unit`; `state` is "known", "at infinity"
   or "undefined" (then `reason` says why). */
void sg_output_json(SgSolved *const *solved, uint32_t nsolved, const char *version, SgBuf *out);
/* One value as the table shows it, without a line end. */
void sg_output_value(const SgSolved *s, SgValue v, SgBuf *out);
#endif
