/* colour: contrast and difference of colours. In: 0xRRGGBB. Out: numbers. From + - * / sqrt fabs and the geometry's sines only. */
#include "layout/colour.h"
#include "base/geom.h"
#include <math.h>

typedef struct { double r, g, b; } Linear;         /* 0 to 1 */
typedef struct { double l, a, b; } Lab;

/* The n-th root of x, not negative, by Newton's method from above, which only ever falls. */
static double root(double x, int n)
{
    double y = x > 1 ? x : 1;
    if (x <= 0) return 0;
    for (int i = 0; i < 100; i++) {
        double power = 1;
        for (int k = 1; k < n; k++) power *= y;
        double next = y - (power * y - x) / (n * power);
        if (!(next < y)) break;
        y = next;
    }
    return y;
}

/* e to the power -x, x not negative: the series for a small part of x, squared up. */
static double decay(double x)
{
    double small = x / 1024, sum = 1, term = 1;
    for (int i = 1; i < 12; i++) { term *= -small / i; sum += term; }
    for (int i = 0; i < 10; i++) sum *= sum;
    return sum;
}

static double linear_part(uint32_t byte)
{
    double c = byte / 255.0;
    if (c <= 0.04045) return c / 12.92;
    double x = (c + 0.055) / 1.055, fifth = root(x, 5);
    return x * x * fifth * fifth;                      /* to the power 2.4 */
}

static Linear linear_of(uint32_t rgb) { return (Linear){ linear_part(rgb >> 16 & 255), linear_part(rgb >> 8 & 255), linear_part(rgb & 255) }; }

static double luminance(Linear c) { return 0.2126 * c.r + 0.7152 * c.g + 0.0722 * c.b; }

double sg_colour_contrast(uint32_t a, uint32_t b)
{
    double x = luminance(linear_of(a)) + 0.05, y = luminance(linear_of(b)) + 0.05;
    return x > y ? x / y : y / x;
}

/* Table 1 of Machado and others, severity 1; rows give red, green, blue of linear light. */
static const double SEEN[SG_SIGHT_COUNT][3][3] = {
    [SG_SIGHT_NORMAL] = { { 1, 0, 0 }, { 0, 1, 0 }, { 0, 0, 1 } },
    [SG_SIGHT_PROTAN] = { { 0.152286, 1.052583, -0.204868 }, { 0.114503, 0.786281, 0.099216 }, { -0.003882, -0.048116, 1.051998 } },
    [SG_SIGHT_DEUTAN] = { { 0.367322, 0.860646, -0.227968 }, { 0.280085, 0.672501, 0.047413 }, { -0.011820, 0.042940, 0.968881 } },
    [SG_SIGHT_TRITAN] = { { 1.255528, -0.076749, -0.178779 }, { -0.078411, 0.930809, 0.147602 }, { 0.004733, 0.691367, 0.303900 } },
};

static double mixed(const double row[3], Linear c)
{
    double x = row[0] * c.r + row[1] * c.g + row[2] * c.b;
    return x < 0 ? 0 : x > 1 ? 1 : x;
}

static double lab_part(double t) { return t > 216.0 / 24389 ? root(t, 3) : (t * 24389 / 27 + 16) / 116; }

/* White is that of sRGB, D65. */
static Lab lab_of(uint32_t rgb, SgSight sight)
{
    Linear in = linear_of(rgb), c = { mixed(SEEN[sight][0], in), mixed(SEEN[sight][1], in), mixed(SEEN[sight][2], in) };
    double x = lab_part((0.4124564 * c.r + 0.3575761 * c.g + 0.1804375 * c.b) / 0.95047);
    double y = lab_part(0.2126729 * c.r + 0.7151522 * c.g + 0.0721750 * c.b);
    double z = lab_part((0.0193339 * c.r + 0.1191920 * c.g + 0.9503041 * c.b) / 1.08883);
    return (Lab){ 116 * y - 16, 500 * (x - y), 200 * (y - z) };
}

double sg_colour_lightness(uint32_t rgb) { return lab_of(rgb, SG_SIGHT_NORMAL).l; }

static double hue_deg(double a, double b)
{
    if (fabs(a) + fabs(b) < 1e-12) return 0;
    double h = sg_atan2_deg(b, a);
    return h < 0 ? h + 360 : h;
}

static double cos_deg(double deg)
{
    double sine, cosine;
    sg_sincos_deg(deg, &sine, &cosine);
    return cosine;
}

static double sin_deg(double deg)
{
    double sine, cosine;
    sg_sincos_deg(deg, &sine, &cosine);
    return sine;
}

/* c to the 7th over itself and 25 to the 7th, the root of it. */
static double chroma_share(double c)
{
    double c7 = c * c * c * c * c * c * c;
    return sqrt(c7 / (c7 + 6103515625.0));
}

/* ISO/CIE 11664-6, names as there: L C h with primes, k all 1. */
static double difference(Lab p, Lab q)
{
    double g = 0.5 * (1 - chroma_share((sqrt(p.a * p.a + p.b * p.b) + sqrt(q.a * q.a + q.b * q.b)) / 2));
    double a1 = (1 + g) * p.a, a2 = (1 + g) * q.a, c1 = sqrt(a1 * a1 + p.b * p.b), c2 = sqrt(a2 * a2 + q.b * q.b);
    double h1 = hue_deg(a1, p.b), h2 = hue_deg(a2, q.b), turn = h2 - h1, h = h1 + h2;
    bool grey = c1 * c2 <= 0;
    if (grey) turn = 0;
    else if (turn > 180) turn -= 360;
    else if (turn < -180) turn += 360;
    if (!grey) h = fabs(h1 - h2) <= 180 ? h / 2 : h < 360 ? (h + 360) / 2 : (h - 360) / 2;
    double dl = q.l - p.l, dc = c2 - c1, dh = 2 * sqrt(c1 * c2) * sin_deg(turn / 2), l = (p.l + q.l) / 2 - 50, c = (c1 + c2) / 2;
    double t = 1 - 0.17 * cos_deg(h - 30) + 0.24 * cos_deg(2 * h) + 0.32 * cos_deg(3 * h + 6) - 0.20 * cos_deg(4 * h - 63);
    double off = (h - 275) / 25, lean = 30 * decay(off * off);
    double sl = 1 + 0.015 * l * l / sqrt(20 + l * l), sc = 1 + 0.045 * c, sh = 1 + 0.015 * c * t;
    double rt = -2 * chroma_share(c) * sin_deg(2 * lean);
    double x = dl / sl, y = dc / sc, z = dh / sh;
    return sqrt(x * x + y * y + z * z + rt * y * z);
}

double sg_colour_distance(uint32_t a, uint32_t b, SgSight sight) { return difference(lab_of(a, sight), lab_of(b, sight)); }
