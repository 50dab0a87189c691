/* Styles: their colours against each other and the paper, their letters and lines. Measured here by other code than the
   compiler's: the maths library, straight from the definitions. */
#include "layout/colour.h"
#include "layout/draw.h"
#include <criterion/criterion.h>
#include <math.h>
#include <string.h>

typedef struct { double l, a, b; } Lab;

/* Web Content Accessibility Guidelines 2.2, definition of relative luminance (sRGB, IEC 61966-2-1). */
static void linear_of(uint32_t rgb, double out[3])
{
    for (int i = 0; i < 3; i++) {
        double c = (rgb >> (16 - 8 * i) & 255) / 255.0;
        out[i] = c <= 0.04045 ? c / 12.92 : pow((c + 0.055) / 1.055, 2.4);
    }
}

static double contrast(uint32_t p, uint32_t q)
{
    double a[3], b[3];
    linear_of(p, a);
    linear_of(q, b);
    double x = 0.2126 * a[0] + 0.7152 * a[1] + 0.0722 * a[2] + 0.05, y = 0.2126 * b[0] + 0.7152 * b[1] + 0.0722 * b[2] + 0.05;
    return fmax(x, y) / fmin(x, y);
}

/* Machado, Oliveira and Fernandes, IEEE Transactions on Visualization and Computer Graphics 15 (2009) 1291, severity 1: no sight
   but the normal one keeps a column apart; each row sums to 1, so white stays white. */
static const double SEEN[4][9] = {
    { 1, 0, 0, 0, 1, 0, 0, 0, 1 },
    { 0.152286, 1.052583, -0.204868, 0.114503, 0.786281, 0.099216, -0.003882, -0.048116, 1.051998 },
    { 0.367322, 0.860646, -0.227968, 0.280085, 0.672501, 0.047413, -0.011820, 0.042940, 0.968881 },
    { 1.255528, -0.076749, -0.178779, -0.078411, 0.930809, 0.147602, 0.004733, 0.691367, 0.303900 },
};

static double f(double t) { return t > pow(6 / 29.0, 3) ? cbrt(t) : t / (3 * pow(6 / 29.0, 2)) + 4 / 29.0; }

static Lab lab_of(uint32_t rgb, int sight)
{
    double in[3], c[3];
    linear_of(rgb, in);
    for (int i = 0; i < 3; i++)
        c[i] = fmin(1, fmax(0, SEEN[sight][3 * i] * in[0] + SEEN[sight][3 * i + 1] * in[1] + SEEN[sight][3 * i + 2] * in[2]));
    double x = f((0.4124564 * c[0] + 0.3575761 * c[1] + 0.1804375 * c[2]) / 0.95047);
    double y = f(0.2126729 * c[0] + 0.7151522 * c[1] + 0.0721750 * c[2]);
    double z = f((0.0193339 * c[0] + 0.1191920 * c[1] + 0.9503041 * c[2]) / 1.08883);
    return (Lab){ 116 * y - 16, 500 * (x - y), 200 * (y - z) };
}

/* CIEDE2000, ISO/CIE 11664-6, in radians. */
static double difference(Lab p, Lab q)
{
    const double turn = 2 * acos(-1.0), deg = turn / 360;
    double mean = (hypot(p.a, p.b) + hypot(q.a, q.b)) / 2, g = 0.5 * (1 - sqrt(pow(mean, 7) / (pow(mean, 7) + pow(25, 7))));
    double c1 = hypot((1 + g) * p.a, p.b), c2 = hypot((1 + g) * q.a, q.b), h1 = atan2(p.b, (1 + g) * p.a), h2 = atan2(q.b, (1 + g) * q.a);
    if (h1 < 0) h1 += turn;
    if (h2 < 0) h2 += turn;
    double dh = c1 * c2 == 0 ? 0 : remainder(h2 - h1, turn), h = h1 + h2;
    if (c1 * c2 > 0) h = fabs(h1 - h2) <= turn / 2 ? h / 2 : h < turn ? (h + turn) / 2 : (h - turn) / 2;
    double t = 1 - 0.17 * cos(h - 30 * deg) + 0.24 * cos(2 * h) + 0.32 * cos(3 * h + 6 * deg) - 0.2 * cos(4 * h - 63 * deg);
    double l = (p.l + q.l) / 2, c = (c1 + c2) / 2, lean = 30 * deg * exp(-pow((h / deg - 275) / 25, 2));
    double x = (q.l - p.l) / (1 + 0.015 * pow(l - 50, 2) / sqrt(20 + pow(l - 50, 2))), y = (c2 - c1) / (1 + 0.045 * c);
    double z = 2 * sqrt(c1 * c2) * sin(dh / 2) / (1 + 0.015 * c * t);
    return sqrt(x * x + y * y + z * z - sin(2 * lean) * 2 * sqrt(pow(c, 7) / (pow(c, 7) + pow(25, 7))) * y * z);
}

/* Pairs of G. Sharma, W. Wu and E. N. Dalal, Color Research and Application 30 (2005) 21, table 1 (values from memory). */
Test(style, the_yardstick_is_right)
{
    static const double pair[][7] = {
        { 50, 2.6772, -79.7751, 50, 0, -82.7485, 2.0425 }, { 50, 3.1571, -77.2803, 50, 0, -82.7485, 2.8615 }, { 50, 0, 0, 50, -1, 2, 2.3669 },
        { 50, 2.49, -0.001, 50, -2.49, 0.0009, 7.1792 }, { 50, 2.5, 0, 73, 25, -18, 27.1492 }, { 50, 2.5, 0, 61, -5, 29, 22.8977 },
        { 50, 2.5, 0, 56, -27, -3, 31.9030 }, { 50, 2.5, 0, 58, 24, 15, 19.4535 }, { 60.2574, -34.0099, 36.2677, 60.4626, -34.1751, 39.4387, 1.2644 },
    };
    for (size_t i = 0; i < sizeof pair / sizeof *pair; i++) {
        const double *v = pair[i];
        cr_expect_float_eq(difference((Lab){ v[0], v[1], v[2] }, (Lab){ v[3], v[4], v[5] }), v[6], 5e-5, "pair %zu", i);
    }
    cr_expect_float_eq(contrast(0x000000, 0xFFFFFF), 21, 1e-9);
    cr_expect_float_eq(contrast(0x767676, 0xFFFFFF), 4.54, 0.005);       /* the greys at the limits of WCAG: 4.54 : 1 and 4.48 : 1 (common practice) */
    cr_expect_float_eq(contrast(0x777777, 0xFFFFFF), 4.48, 0.005);
}

/* The compiler's own arithmetic, which may not use the maths library, against it; colours in steps through the whole cube. */
Test(style, the_compiler_measures_the_same)
{
    uint32_t before = 0x3A7F11;
    for (uint32_t r = 0; r < 256; r += 51)
        for (uint32_t g = 0; g < 256; g += 51)
            for (uint32_t b = 0; b < 256; b += 15) {
                uint32_t rgb = r << 16 | g << 8 | b;
                cr_assert_float_eq(sg_colour_contrast(rgb, before), contrast(rgb, before), 1e-9, "contrast of %06x and %06x", rgb, before);
                cr_assert_float_eq(sg_colour_lightness(rgb), lab_of(rgb, 0).l, 1e-9, "lightness of %06x", rgb);
                for (int s = 0; s < 4; s++)
                    cr_assert_float_eq(sg_colour_distance(rgb, before, (SgSight)s), difference(lab_of(rgb, s), lab_of(before, s)), 1e-7, "%06x and %06x, sight %d", rgb, before, s);
                before = rgb;
            }
}

static SgStyle built_in(SgStyleId id) { return sg_style_of(&(SgSceneStyle){ .base = id }); }

/* Lines 3 : 1 and words 4.5 : 1 with the paper (WCAG 2.2, 1.4.11 and 1.4.3); any two rays of eight 12 apart for each of four sights, of
   the first four 16; greys of eight 4 apart in L*, of four 9.5: what a search reached for eight colours at 3 : 1, no published limit. */
Test(style, colours_can_be_told_apart)
{
    unsigned pairs = 0;
    for (int id = 0; id < SG_STYLE_COUNT; id++) {
        SgStyle s = built_in((SgStyleId)id);
        const char *name = sg_style_info((SgStyleId)id)->word;
        cr_expect(contrast(s.ink_rgb, s.paper_rgb) >= 4.5 && contrast(s.caption_rgb, s.paper_rgb) >= 4.5, "ink of %s", name);
        cr_expect(s.one_ink || (contrast(s.glass_rgb, s.paper_rgb) < 1.5 && contrast(s.ink_rgb, s.glass_rgb) >= 4.5), "words on the glass of %s", name);
        for (uint32_t i = 0; i < s.nrays; i++) {
            cr_expect(contrast(s.ray_rgb[i], s.paper_rgb) >= 3, "ray %u of %s: %.2f", i + 1, name, contrast(s.ray_rgb[i], s.paper_rgb));
            for (uint32_t k = 0; k < i; k++, pairs++) {
                bool first = i < 4;
                for (int sight = 0; sight < 4; sight++) {
                    double d = difference(lab_of(s.ray_rgb[i], sight), lab_of(s.ray_rgb[k], sight));
                    cr_expect(d >= (first ? 16 : 12), "rays %u and %u of %s, sight %d: %.1f", k + 1, i + 1, name, sight, d);
                }
                double grey = fabs(lab_of(s.ray_rgb[i], 0).l - lab_of(s.ray_rgb[k], 0).l);
                cr_expect(grey >= (first ? 9.5 : 4), "rays %u and %u of %s are greys %.1f apart", k + 1, i + 1, name, grey);
            }
        }
    }
    cr_expect_eq(pairs, 3 * 28);
}

/* Common practice: print has labels of 7 to 9 pt and no line under 0.5 pt; large print 14 to 18 pt; dashes of produced lines are twice
   as long as their gaps, and words stand clear of the line they are asked for beside. */
Test(style, letters_and_lines)
{
    for (int id = 0; id < SG_STYLE_COUNT; id++) {
        SgStyle s = built_in((SgStyleId)id);
        const char *name = sg_style_info((SgStyleId)id)->word;
        double least = fmin(fmin(s.label_pt, s.number_pt), fmin(s.axis_pt, s.tool_pt)), most = fmax(s.label_pt, s.caption_pt), pt = SG_PT_MM(1);
        cr_expect(s.thin_line_mm >= 0.5 * pt - 1e-12 && s.thin_line_mm < s.produced_line_mm && s.produced_line_mm < s.light_line_mm && s.light_line_mm < s.arrow_line_mm, "lines of %s", name);
        cr_expect_float_eq(s.produced_dash_mm[0], 2 * s.produced_dash_mm[1], 1e-12, "dashes of %s", name);
        cr_expect_gt(s.label_gap_mm, s.words_clear_mm + s.thin_line_mm / 2, "words of %s", name);
        cr_expect_geq(least, id == SG_STYLE_large || id == SG_STYLE_tactile ? 14 : 7, "letters of %s", name);
        cr_expect_leq(most, id == SG_STYLE_large ? 18 : id == SG_STYLE_tactile ? 20 : 11, "letters of %s", name);
    }
    SgStyle tactile = built_in(SG_STYLE_tactile);
    for (uint32_t id = 0; id < SG_STYLE_COUNT; id++)
        cr_expect(!built_in((SgStyleId)id).one_ink || built_in((SgStyleId)id).grid_dash_mm[0] > 0, "one ink and a grid drawn through");
    cr_expect(tactile.line_only && tactile.one_ink && tactile.words_clear_mm >= 2 && tactile.light_line_mm >= 2 * built_in(SG_STYLE_light).light_line_mm);
}

/* One ink is one ink: whatever colours the script asks for. */
Test(style, one_ink)
{
    static const SgStyleId ids[] = { SG_STYLE_copier, SG_STYLE_tactile };
    for (int i = 0; i < 2; i++) {
        SgStyle s = built_in(ids[i]);
        for (uint32_t light = 0; light < 20; light++) cr_expect_eq(sg_style_ray_rgb(&s, light), s.ink_rgb);
        cr_expect(sg_style_rgb(&s, SG_LIT("blue"), 1) == s.ink_rgb && sg_style_rgb(&s, SG_LIT("#c00000"), 1) == s.ink_rgb && s.faded == 1);
    }
}
