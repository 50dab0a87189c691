/* Plane geometry and trigonometry in degrees, from + - * / sqrt floor fabs fmod only.
   in: millimetres and degrees. out: the same bits on every machine with IEEE doubles and no contraction. */
#include "base/geom.h"

#include <float.h>
#include <math.h>

_Static_assert(FLT_EVAL_METHOD == 0, "doubles must be evaluated as doubles, or drawings differ between machines");

/* Lines whose directions differ by less than this sine count as parallel. */
static const double PARALLEL_SINE = 1e-12;

/* a b - p exactly, where p is a b rounded: Dekker's product, 1971 (Numerische Mathematik 18). */
static double product_error(double a, double b, double p)
{
    const double split = 134217729.0;     /* 2^27 + 1 */
    double a_high = a * split;
    a_high = a_high - (a_high - a);
    double b_high = b * split;
    b_high = b_high - (b_high - b);
    double a_low = a - a_high, b_low = b - b_high;
    return ((a_high * b_high - p) + a_high * b_low + a_low * b_high) + a_low * b_low;
}

/* A value in two parts: high, and what its rounding left out. */
typedef struct { double high, low; } Pair;

/* Sine and cosine of -45..45 degrees by their power series, the angle in radians carried in two parts. */
static void sincos_small(double deg, Pair *sine, Pair *cosine)
{
    const double high = 0.017453292519943295, low = 2.9486522708701687e-19;      /* pi / 180 */
    double t = deg * high, rest = product_error(deg, high, t) + deg * low, z = t * t;
    double s = z * (-1.0 / 6 + z * (1.0 / 120 + z * (-1.0 / 5040 + z * (1.0 / 362880 + z * (-1.0 / 39916800
             + z * (1.0 / 6227020800.0 - z * (1.0 / 1307674368000.0)))))));
    double c = z * (-0.5 + z * (1.0 / 24 + z * (-1.0 / 720 + z * (1.0 / 40320 + z * (-1.0 / 3628800
             + z * (1.0 / 479001600.0 + z * (-1.0 / 87178291200.0 + z * (1.0 / 20922789888000.0))))))));
    double s_tail = t * s + rest, c_tail = c - t * rest;
    sine->high = t + s_tail;
    sine->low = (t - sine->high) + s_tail;
    cosine->high = 1.0 + c_tail;
    cosine->low = (1.0 - cosine->high) + c_tail;
}

void sg_sincos_deg(double deg, double *sine, double *cosine)
{
    const double half_root_2 = 0.70710678118654752440, half_root_3 = 0.86602540378443864676;
    double turn = fmod(deg, 360.0), s, c;
    if (!(turn > -360.0 && turn < 360.0)) turn = 0;      /* not a number */
    int quarter = (int)floor((turn + 45.0) / 90.0);
    double rest = turn - 90.0 * quarter;                 /* exact: the two are within a factor of two, or quarter is 0 */
    if (rest == 30.0 || rest == -30.0) {
        s = rest / 60.0;
        c = half_root_3;
    } else if (rest == 45.0 || rest == -45.0) {
        s = rest < 0 ? -half_root_2 : half_root_2;
        c = half_root_2;
    } else {
        Pair sine_pair, cosine_pair;
        sincos_small(rest, &sine_pair, &cosine_pair);
        s = sine_pair.high;
        c = cosine_pair.high;
    }
    switch ((quarter % 4 + 4) % 4) {
    case 0: *sine = s; *cosine = c; break;
    case 1: *sine = c; *cosine = -s; break;
    case 2: *sine = -s; *cosine = -c; break;
    default: *sine = -c; *cosine = s;
    }
    *sine += 0.0;       /* -0 becomes 0 */
    *cosine += 0.0;
}

/* One step of refinement: the angle between the direction a and the point (most, least), by the series of the arc tangent. */
static double refined(double a, double least, double most)
{
    Pair s, c;
    sincos_small(a, &s, &c);
    double up = least * c.high, down = most * s.high;
    double cross = (up - down) + (product_error(least, c.high, up) - product_error(most, s.high, down)) + (least * c.low - most * s.low);
    double d = cross / (most * c.high + least * s.high), z = d * d;
    return a + (d - d * z * (1.0 / 3 - z * (0.2 - z / 7))) * 57.295779513082320877;
}

double sg_atan2_deg(double y, double x)
{
    if (y == 0) return x < 0 ? 180.0 : 0.0;
    if (x == 0) return y > 0 ? 90.0 : -90.0;
    double across = fabs(x), up = fabs(y), larger = across > up ? across : up;
    double scale = larger > 0x1p400 ? 0x1p-600 : larger < 0x1p-400 ? 0x1p600 : 1;    /* products must neither overflow nor vanish */
    across *= scale;
    up *= scale;
    double least = up < across ? up : across, most = up < across ? across : up, a = 45.0;
    if (across != up) {
        double ratio = least / most;
        a = ratio * (45.0 + 15.642 * (1.0 - ratio));     /* within a quarter of a degree */
        if (ratio > 0x1p-30) a = refined(refined(a, least, most), least, most);
        else a = ratio * 57.295779513082320877;          /* the arc tangent is its argument */
    }
    if (up > across) a = 90.0 - a;
    if (x < 0) a = 180.0 - a;
    return y < 0 ? -a : a;
}

double sg_pt_length(SgPoint a) { return sqrt(sg_pt_dot(a, a)); }
double sg_pt_distance(SgPoint a, SgPoint b) { return sg_pt_length(sg_pt_sub(a, b)); }

SgPoint sg_pt_mid(SgPoint a, SgPoint b)
{
    return (SgPoint){ (a.x_mm + b.x_mm) / 2, (a.y_mm + b.y_mm) / 2 };
}

SgPoint sg_pt_unit(SgPoint a)
{
    double length = sg_pt_length(a);
    return length > 0 ? (SgPoint){ a.x_mm / length, a.y_mm / length } : (SgPoint){ 0, 0 };
}

bool sg_line_cross(SgPoint p, SgPoint dp, SgPoint q, SgPoint dq, double *t, double *u)
{
    double cross = sg_pt_cross(dp, dq);
    if (fabs(cross) <= PARALLEL_SINE * sg_pt_length(dp) * sg_pt_length(dq)) return false;
    SgPoint between = sg_pt_sub(q, p);
    *t = sg_pt_cross(between, dq) / cross;
    *u = sg_pt_cross(between, dp) / cross;
    return true;
}

double sg_segment_distance(SgPoint a, SgPoint b, SgPoint p)
{
    SgPoint along = sg_pt_sub(b, a);
    double square = sg_pt_dot(along, along), t = square > 0 ? sg_pt_dot(sg_pt_sub(p, a), along) / square : 0;
    t = t < 0 ? 0 : t > 1 ? 1 : t;
    return sg_pt_distance(p, sg_pt_along(a, along, t));
}

SgBox sg_box_empty(void)
{
    return (SgBox){ DBL_MAX, DBL_MAX, -DBL_MAX, -DBL_MAX };
}

static bool is_empty(SgBox box)
{
    return box.x0_mm > box.x1_mm || box.y0_mm > box.y1_mm;
}

SgBox sg_box_add(SgBox box, SgPoint p)
{
    return sg_box_join(box, (SgBox){ p.x_mm, p.y_mm, p.x_mm, p.y_mm });
}

SgBox sg_box_join(SgBox a, SgBox b)
{
    if (is_empty(a)) return b;
    if (is_empty(b)) return a;
    return (SgBox){ a.x0_mm < b.x0_mm ? a.x0_mm : b.x0_mm, a.y0_mm < b.y0_mm ? a.y0_mm : b.y0_mm,
                    a.x1_mm > b.x1_mm ? a.x1_mm : b.x1_mm, a.y1_mm > b.y1_mm ? a.y1_mm : b.y1_mm };
}

SgBox sg_box_pad(SgBox box, double by_mm)
{
    if (is_empty(box)) return box;
    return (SgBox){ box.x0_mm - by_mm, box.y0_mm - by_mm, box.x1_mm + by_mm, box.y1_mm + by_mm };
}

bool sg_box_meets(SgBox a, SgBox b)
{
    return !is_empty(a) && !is_empty(b) && a.x0_mm <= b.x1_mm && b.x0_mm <= a.x1_mm && a.y0_mm <= b.y1_mm && b.y0_mm <= a.y1_mm;
}

/* Narrows [*from, *to] to the part of a + t d that lies between low and high; false when none does. */
static bool clip(double a, double d, double low, double high, double *from, double *to)
{
    if (d == 0) return a >= low && a <= high;
    double t0 = (low - a) / d, t1 = (high - a) / d;
    if (t0 > t1) {
        double swap = t0;
        t0 = t1;
        t1 = swap;
    }
    if (t0 > *from) *from = t0;
    if (t1 < *to) *to = t1;
    return *from <= *to;
}

bool sg_box_meets_segment(SgBox box, SgPoint a, SgPoint b)
{
    double from = 0, to = 1;
    return !is_empty(box) && clip(a.x_mm, b.x_mm - a.x_mm, box.x0_mm, box.x1_mm, &from, &to)
        && clip(a.y_mm, b.y_mm - a.y_mm, box.y0_mm, box.y1_mm, &from, &to);
}
