/* Plane geometry in millimetres and degrees, from + - * / sqrt floor fabs fmod only: the same bits on every machine. */
#ifndef SG_GEOM_H
#define SG_GEOM_H
#include <stdbool.h>

typedef struct { double x_mm, y_mm; } SgPoint;
typedef struct { double x0_mm, y0_mm, x1_mm, y1_mm; } SgBox;          /* x0 <= x1, y0 <= y1; empty when x0 > x1 */

void sg_sincos_deg(double deg, double *sine, double *cosine);         /* exact at multiples of 30 and 45 degrees */
double sg_atan2_deg(double y, double x);                              /* -180 < result <= 180 */

/* Inline, for a figure's layout calls them thousands of times. */
static inline SgPoint sg_pt(double x_mm, double y_mm) { return (SgPoint){ x_mm, y_mm }; }
static inline SgPoint sg_pt_add(SgPoint a, SgPoint b) { return (SgPoint){ a.x_mm + b.x_mm, a.y_mm + b.y_mm }; }
static inline SgPoint sg_pt_sub(SgPoint a, SgPoint b) { return (SgPoint){ a.x_mm - b.x_mm, a.y_mm - b.y_mm }; }
static inline SgPoint sg_pt_scale(SgPoint a, double k) { return (SgPoint){ a.x_mm * k, a.y_mm * k }; }
static inline SgPoint sg_pt_along(SgPoint from, SgPoint direction, double t)
{
    return (SgPoint){ from.x_mm + t * direction.x_mm, from.y_mm + t * direction.y_mm };
}
SgPoint sg_pt_mid(SgPoint a, SgPoint b);
SgPoint sg_pt_unit(SgPoint a);                                        /* (0,0) stays (0,0) */
static inline SgPoint sg_pt_left(SgPoint a) { return (SgPoint){ -a.y_mm, a.x_mm }; }       /* turned 90 degrees counter-clockwise */
static inline double sg_pt_dot(SgPoint a, SgPoint b) { return a.x_mm * b.x_mm + a.y_mm * b.y_mm; }
static inline double sg_pt_cross(SgPoint a, SgPoint b) { return a.x_mm * b.y_mm - a.y_mm * b.x_mm; }
double sg_pt_length(SgPoint a);
double sg_pt_distance(SgPoint a, SgPoint b);
bool sg_line_cross(SgPoint p, SgPoint dp, SgPoint q, SgPoint dq, double *t, double *u);   /* p + t dp = q + u dq; false when parallel */
double sg_segment_distance(SgPoint a, SgPoint b, SgPoint p);          /* from p to the segment ab */

SgBox sg_box_empty(void);
SgBox sg_box_add(SgBox box, SgPoint p);
SgBox sg_box_join(SgBox a, SgBox b);
SgBox sg_box_pad(SgBox box, double by_mm);
bool sg_box_meets(SgBox a, SgBox b);
bool sg_box_meets_segment(SgBox box, SgPoint a, SgPoint b);
#endif
