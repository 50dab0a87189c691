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
/* The numbers a class works out, rounded as figures show them: values and parameters, then what each mirror, lens, system,
   object and image measures, one row each. What has no value here is left out. *n told. */
typedef struct { SgStr name, values; } SgNumberRow;     /* "flame (image)"; "real, inverted, reduced, distance 6 cm, ..." */
SgNumberRow *sg_output_worked(SgSolved *s, uint32_t *n);
#endif
