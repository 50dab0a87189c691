/* Inside the solved stage: arithmetic on values. Each says what is wrong and returns poison. */
#ifndef SG_VALUE_H
#define SG_VALUE_H
#include "solved/build.h"

SgValue sg_value_binary(SgSolved *s, SgSpan at, char op, SgValue a, SgValue b);       /* + - * / ^ a(nd) o(r) */
SgValue sg_value_negate(SgSolved *s, SgSpan at, SgValue a);
SgValue sg_value_not(SgSolved *s, SgSpan at, SgValue a);
SgValue sg_value_compare(SgSolved *s, SgSpan at, char op, SgValue a, SgValue b);      /* = ! < > l g */
bool sg_near_equal(double a, double b, SgDim dim);
const char *sg_value_kind(SgSolved *s, SgValue v);                                    /* "a length" */
SgStr sg_value_told(SgSolved *s, SgValue v);                                          /* "a length (4 cm)" */
SgValue sg_value_inside(SgSolved *s, const SgExpr *e);
SgValue sg_value_function(SgSolved *s, const SgExpr *e);
#endif
