/* Surfaces taken together: power, focal and principal points, by tracing two rays in reduced distances.
   In: surfaces in the order light meets them. Out: cardinal points from the first vertex and the last exit.
   Law: y' = y + (t/n) nu, nu' = nu - P y, with nu = n m (paraxial ray-transfer, any optics text). */
#include "optics/optics.h"
#include <math.h>

typedef struct { double y, nu, largest; } Traced;      /* largest: the largest term met, for telling cancellation */

static SgPoint entry(const SgSurface *s, double sense) { return sense > 0 ? s->vertex : s->exit; }
static SgPoint leaving(const SgSurface *s, double sense) { return (sense > 0) == (s->acts != SG_ACTS_REFLECT) ? s->exit : s->vertex; }
static double index_in(const SgSurface *s, double sense) { return sense > 0 ? s->n_before : s->n_after; }
static double index_out(const SgSurface *s, double sense) { return (sense > 0) == (s->acts != SG_ACTS_REFLECT) ? s->n_after : s->n_before; }

static double gap_mm(const SgSurface *a, double sense_a, const SgSurface *b, double sense_b)
{
    return sense_b * sg_pt_dot(sg_pt_sub(entry(b, sense_b), leaving(a, sense_a)), b->along);
}

static void bend(Traced *r, const SgSurface *s)
{
    double term = s->acts == SG_ACTS_PASS || s->acts == SG_ACTS_ABSORB ? 0 : s->power_per_mm * r->y;
    r->nu -= term;
    if (fabs(term) > r->largest) r->largest = fabs(term);
}

static Traced forward(const SgSurface *const *s, const double *sense, uint32_t n, double y, double nu)
{
    Traced r = { y, nu, fabs(nu) };
    for (uint32_t i = 0; i < n; i++) {
        bend(&r, s[i]);
        if (i + 1 < n) r.y += gap_mm(s[i], sense[i], s[i + 1], sense[i + 1]) / index_out(s[i], sense[i]) * r.nu;
    }
    return r;
}

static Traced backward(const SgSurface *const *s, const double *sense, uint32_t n, double y, double nu)
{
    Traced r = { y, nu, fabs(nu) };
    for (uint32_t i = n; i-- > 0;) {
        bend(&r, s[i]);
        if (i > 0) r.y += gap_mm(s[i - 1], sense[i - 1], s[i], sense[i]) / index_out(s[i - 1], sense[i - 1]) * r.nu;
    }
    return r;
}

SgSystemMatrix sg_system(const SgSurface *const *s, const double *sense, uint32_t n)
{
    SgSystemMatrix m = { .n_first = index_in(s[0], sense[0]), .n_last = index_out(s[n - 1], sense[n - 1]) };
    Traced on = forward(s, sense, n, 1, 0), back = backward(s, sense, n, 1, 0), chief = forward(s, sense, n, 0, 1);
    m.power_per_mm = -on.nu;
    m.far = fabs(on.nu) <= 1e-9 * on.largest || on.largest == 0 ? SG_AT_INFINITY : SG_FINITE;
    if (m.far == SG_AT_INFINITY) {
        m.angular = chief.nu * m.n_first / m.n_last;
        return m;
    }
    m.back_focal_mm = -on.y * m.n_last / on.nu;
    m.front_focal_mm = -back.y * m.n_first / back.nu;
    m.back_principal_mm = m.back_focal_mm - m.n_last / m.power_per_mm;
    m.front_principal_mm = m.n_first / m.power_per_mm - m.front_focal_mm;
    return m;
}

bool sg_thick_lens(double n1, double n, double n2, double curvature1, double curvature2, double t_mm,
                   double *power_per_mm, double *front_principal_mm, double *back_principal_mm)
{
    double p1 = (n - n1) * curvature1, p2 = (n - n2) * curvature2, both = p1 * p2 * t_mm / n;
    double p = p1 + p2 - both, largest = fabs(p1) > fabs(p2) ? fabs(p1) : fabs(p2);
    *power_per_mm = p;
    if (fabs(p) <= 1e-9 * largest || largest == 0) return false;
    *front_principal_mm = n1 * t_mm * p2 / (n * p);
    *back_principal_mm = -n2 * t_mm * p1 / (n * p);
    return true;
}
