/* base and text: numbers, trigonometry, geometry, arena, names, characters. Few fat tests, since each costs a process. */
#include <criterion/criterion.h>
#include <math.h>
#include <setjmp.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/base.h"
#include "base/geom.h"
#include "base/num.h"
#include "catalogue/catalogue.h"
#include "text/text.h"

static jmp_buf out;
static SgArena arena;

static void setup(void)
{
    arena = (SgArena){ .out = &out };
}

static void teardown(void)
{
    sg_arena_free(&arena);
}

TestSuite(base, .init = setup, .fini = teardown);

static const char *shown(void (*put)(SgBuf *, double), double x)
{
    SgBuf b = { .arena = &arena };
    put(&b, x);
    sg_put_char(&b, '\0');
    return b.v;
}

static const char *fixed(double x, int decimals)
{
    SgBuf b = { .arena = &arena };
    sg_put_fixed(&b, x, decimals);
    sg_put_char(&b, '\0');
    return b.v;
}

static uint64_t seed = 88172645463325252u;

static uint64_t next_random(void)
{
    seed ^= seed << 13;
    seed ^= seed >> 7;
    seed ^= seed << 17;
    return seed;
}

Test(base, numbers_read_as_written)
{
    static const struct { const char *text; SgNumFault fault; double value; } row[] = {
        { "0", SG_NUM_OK, 0 }, { "4", SG_NUM_OK, 4 }, { "2.50", SG_NUM_OK, 2.5 }, { "0.1", SG_NUM_OK, 0.1 }, { "1e3", SG_NUM_OK, 1000 },
        { "1E-3", SG_NUM_OK, 0.001 }, { "12e+2", SG_NUM_OK, 1200 }, { "000123", SG_NUM_OK, 123 }, { "0.000000000000000000001", SG_NUM_OK, 1e-21 },
        { "123456789012345", SG_NUM_OK, 123456789012345.0 }, { "1234567890123456", SG_NUM_DIGITS, 123456789012345e1 },
        { "1e22", SG_NUM_OK, 1e22 }, { "1e23", SG_NUM_RANGE, 0 }, { "1e-22", SG_NUM_OK, 1e-22 }, { "1e-23", SG_NUM_RANGE, 0 },
        { "1e99999999999", SG_NUM_RANGE, 0 }, { "0e999", SG_NUM_OK, 0 }, { "9.99999999999999e22", SG_NUM_OK, 9.99999999999999e22 },
    };
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        double value = -1;
        SgNumFault fault = sg_num_read(row[i].text, (uint32_t)strlen(row[i].text), &value);
        cr_expect(fault == row[i].fault, "%s: fault %d", row[i].text, (int)fault);
        cr_expect(value == row[i].value, "%s read as %.17g", row[i].text, value);
    }
}

/* Decimals of up to 15 digits come back digit for digit; the C library, which rounds exactly, is the judge of the reading. */
Test(base, numbers_survive_the_round_trip)
{
    int wrong_read = 0, wrong_back = 0;
    for (int i = 0; i < 200000; i++) {
        char text[64], plain[64];
        uint64_t whole = next_random() % 1000000000000000u;
        int power = (int)(next_random() % 30) - 22;
        snprintf(text, sizeof text, "%llue%d", (unsigned long long)(whole ? whole : 1), power);
        double value, expected = strtod(text, NULL), again;
        if (sg_num_read(text, (uint32_t)strlen(text), &value) != SG_NUM_OK) continue;
        wrong_read += power >= -22 && value != expected;
        const char *back = shown(sg_put_full, value);
        again = strtod(back, NULL);
        snprintf(plain, sizeof plain, "%.15g", value);
        wrong_back += again != expected || strlen(back) == 0 || strtod(plain, NULL) != again;
        if (i % 1000 == 0) sg_arena_free(&arena);
    }
    cr_expect(wrong_read == 0, "%d read wrongly", wrong_read);
    cr_expect(wrong_back == 0, "%d did not come back", wrong_back);
}

Test(base, numbers_shown)
{
    static const struct { double x; const char *text; } full[] = {
        { 0, "0" }, { -0.0, "0" }, { 60, "60" }, { -2.5, "-2.5" }, { 0.1, "0.1" }, { 1.0 / 3, "0.333333333333333" }, { 1e-7, "0.0000001" },
        { 1e23, "1e23" }, { 1e20, "100000000000000000000" }, { 1e21, "1e21" }, { 1.5e-11, "1.5e-11" }, { 999999999999999.9, "1000000000000000" },
        { 5e-324, "4.94065645841247e-324" }, { 1.7976931348623157e308, "1.79769313486232e308" }, { NAN, "?" }, { INFINITY, "?" },
    };
    static const struct { double x; const char *text; } mm[] = {
        { 0, "0" }, { -0.0001, "0" }, { 12.3456, "12.346" }, { -0.5, "-0.5" }, { 0.0005, "0.001" }, { 100, "100" }, { 7.05, "7.05" },
        { 0.001, "0.001" }, { -1234567.891, "-1234567.891" }, { 1e15, "1000000000000000" },
    };
    static const struct { double x; int decimals; const char *text; } ties[] = {
        { 0.5, 0, "1" }, { 1.5, 0, "2" }, { 2.5, 0, "3" }, { -2.5, 0, "-3" }, { -0.4, 0, "0" }, { 0.125, 2, "0.13" }, { 0.375, 2, "0.38" },
        { 99.995, 2, "100.00" }, { 2.675, 2, "2.67" }, { 12, 3, "12.000" }, { 0.0004, 3, "0.000" }, { 1e22, 1, "10000000000000000000000.0" },
    };
    static const struct { double x, step, want; } rounded[] = {
        { 2.25, 0.5, 2.5 }, { -2.25, 0.5, -2.5 }, { 0.15, 0.1, 0.2 }, { 10.049999999999999, 0.1, 10.1 }, { 0.2, 1, 0 }, { -0.2, 1, 0 }, { 7, 0, 7 },
    };
    for (size_t i = 0; i < sizeof full / sizeof *full; i++)
        cr_expect_str_eq(shown(sg_put_full, full[i].x), full[i].text, "%s shown as %s", full[i].text, shown(sg_put_full, full[i].x));
    for (size_t i = 0; i < sizeof mm / sizeof *mm; i++)
        cr_expect_str_eq(shown(sg_put_mm3, mm[i].x), mm[i].text, "%s shown as %s", mm[i].text, shown(sg_put_mm3, mm[i].x));
    for (size_t i = 0; i < sizeof ties / sizeof *ties; i++)
        cr_expect_str_eq(fixed(ties[i].x, ties[i].decimals), ties[i].text, "%s shown as %s", ties[i].text, fixed(ties[i].x, ties[i].decimals));
    for (size_t i = 0; i < sizeof rounded / sizeof *rounded; i++) {
        double got = sg_round_to(rounded[i].x, rounded[i].step);
        cr_expect(fabs(got - rounded[i].want) < 1e-12 && !(got == 0 && signbit(got)), "%.17g to %.17g gave %.17g", rounded[i].x, rounded[i].step, got);
    }
}

static double ulps(double got, long double want)
{
    double size = fabs((double)want);
    return (double)fabsl(got - want) / (nextafter(size, INFINITY) - size);
}

/* The judge is the long double library, after an exact reduction to -45..45 degrees. */
Test(base, trigonometry_is_within_two_units_of_the_last_place)
{
    const long double radian = 3.14159265358979323846264338327950288L / 180;
    double worst_sine = 0, worst_angle = 0;
    for (int i = 0; i < 400000; i++) {
        double deg = (double)(int64_t)(next_random() >> 11) / 9007199254740992.0 * 1440 - 720, s, c;
        if (i % 4 == 0) deg = floor(deg * 100) / 100;
        sg_sincos_deg(deg, &s, &c);
        double turn = fmod(deg, 360), quarter = floor((turn + 45) / 90);
        long double rest = (long double)(turn - 90 * quarter) * radian, sine = sinl(rest), cosine = cosl(rest);
        int q = ((int)quarter % 4 + 4) % 4;
        long double want_s = q == 0 ? sine : q == 1 ? cosine : q == 2 ? -sine : -cosine;
        long double want_c = q == 0 ? cosine : q == 1 ? -sine : q == 2 ? -cosine : sine;
        worst_sine = fmax(worst_sine, want_s == 0 ? 0 : ulps(s, want_s));
        worst_sine = fmax(worst_sine, want_c == 0 ? 0 : ulps(c, want_c));
        double stretch = (double)(next_random() % 1000) + 0.001, x = c * stretch, y = s / stretch;
        if (y != 0) worst_angle = fmax(worst_angle, ulps(sg_atan2_deg(y, x), atan2l(y, x) / radian));
    }
    cr_expect(worst_sine <= 2, "sine and cosine: %.3f", worst_sine);
    cr_expect(worst_angle <= 2, "arc tangent: %.3f", worst_angle);
}

Test(base, trigonometry_is_exact_where_it_can_be)
{
    const double half_root_3 = 0.86602540378443864676, half_root_2 = 0.70710678118654752440;
    for (int turn = -720; turn <= 720; turn += 15) {
        double s, c;
        if (turn % 30 != 0 && turn % 45 != 0) continue;
        sg_sincos_deg(turn, &s, &c);
        int in = ((turn % 360) + 360) % 360;
        double size_s = in % 180 == 0 ? 0 : in % 180 == 90 ? 1 : in % 90 == 45 ? half_root_2 : in % 180 == 30 || in % 180 == 150 ? 0.5 : half_root_3;
        double size_c = in % 180 == 0 ? 1 : in % 180 == 90 ? 0 : in % 90 == 45 ? half_root_2 : in % 180 == 30 || in % 180 == 150 ? half_root_3 : 0.5;
        double want_s = in < 180 ? size_s : -size_s, want_c = in < 90 || in > 270 ? size_c : -size_c;
        cr_expect(s == want_s && c == want_c, "at %d: %.17g %.17g", turn, s, c);
        cr_expect(!(s == 0 && signbit(s)) && !(c == 0 && signbit(c)), "minus nought at %d", turn);
    }
    static const struct { double y, x, deg; } row[] = {
        { 0, 1, 0 }, { 0, -1, 180 }, { 1, 0, 90 }, { -1, 0, -90 }, { 1, 1, 45 }, { -1, 1, -45 }, { 1, -1, 135 }, { -1, -1, -135 },
        { 1e300, 1e300, 45 }, { 1e-300, 1e-300, 45 }, { 0, 0, 0 }, { 1e-320, -1, 180 },
    };
    for (size_t i = 0; i < sizeof row / sizeof *row; i++)
        cr_expect(sg_atan2_deg(row[i].y, row[i].x) == row[i].deg, "%g over %g: %.17g", row[i].y, row[i].x, sg_atan2_deg(row[i].y, row[i].x));
}

Test(base, geometry)
{
    double t, u;
    cr_expect(sg_line_cross(sg_pt(0, 0), sg_pt(1, 1), sg_pt(4, 0), sg_pt(0, 2), &t, &u) && t == 4 && u == 2);
    cr_expect(!sg_line_cross(sg_pt(0, 0), sg_pt(1, 1), sg_pt(0, 1), sg_pt(-3, -3), &t, &u), "parallel lines do not cross");
    cr_expect(sg_segment_distance(sg_pt(0, 0), sg_pt(10, 0), sg_pt(5, 3)) == 3);
    cr_expect(sg_segment_distance(sg_pt(0, 0), sg_pt(10, 0), sg_pt(13, 4)) == 5);
    cr_expect(sg_segment_distance(sg_pt(2, 2), sg_pt(2, 2), sg_pt(2, 3)) == 1, "a segment of no length is a point");
    SgPoint none = sg_pt_unit(sg_pt(0, 0)), left = sg_pt_left(sg_pt(1, 0));
    cr_expect(none.x_mm == 0 && none.y_mm == 0);
    cr_expect(left.x_mm == 0 && left.y_mm == 1);
    SgBox box = sg_box_empty();
    cr_expect(!sg_box_meets(box, (SgBox){ -1, -1, 1, 1 }), "an empty box meets nothing");
    cr_expect(sg_box_pad(box, 5).x0_mm > sg_box_pad(box, 5).x1_mm, "an empty box stays empty");
    box = sg_box_add(sg_box_add(box, sg_pt(0, 0)), sg_pt(4, 2));
    cr_expect(box.x0_mm == 0 && box.x1_mm == 4 && box.y1_mm == 2);
    cr_expect(sg_box_meets_segment(box, sg_pt(-1, -1), sg_pt(5, 3)), "through the box");
    cr_expect(!sg_box_meets_segment(box, sg_pt(-1, 2), sg_pt(1, 4)), "past its corner");
    cr_expect(sg_box_meets_segment(box, sg_pt(1, 1), sg_pt(1, 1)), "a point inside");
}

Test(base, arena_names_and_strings)
{
    SG_VEC(uint32_t) numbers = { 0 };
    SgNames names;
    sg_names_init(&names, &arena);
    for (uint32_t i = 0; i < 100000; i++) SG_PUSH(&arena, &numbers, i);
    bool kept = true;
    for (uint32_t i = 0; i < numbers.n; i++) kept &= numbers.v[i] == i;
    cr_expect(kept && numbers.n == 100000, "a growing array keeps what is in it");
    for (uint32_t i = 0; i < 5000; i++) {
        SgStr s = sg_format(&arena, "name%u", i);
        cr_assert(sg_names_sym(&names, s.s, s.n) == i, "symbols count from nought");
    }
    cr_expect(sg_names_find(&names, SG_LIT("name4321")) == 4321);
    cr_expect(sg_names_find(&names, SG_LIT("nobody")) == SG_NO_SYM);
    cr_expect(sg_str_is(sg_names_str(&names, 17), "name17"));
    char *zeroed = sg_arena_get(&arena, 100000);
    bool clean = true;
    for (int i = 0; i < 100000; i++) clean &= zeroed[i] == 0;
    cr_expect(clean, "memory comes zeroed");
    SgBuf b = { .arena = &arena };
    char line[600];
    memset(line, 'x', sizeof line - 1);
    line[sizeof line - 1] = '\0';
    sg_putf(&b, "%s%d", line, 7);
    cr_expect(b.n == 600 && b.v[599] == '7', "long formatted text is not cut");
}

static jmp_buf full;

Test(base, memory_that_runs_out_jumps)
{
    SgArena a = { .out = &full };
    volatile bool jumped = false;
    if (setjmp(full) == 0) sg_arena_get(&a, SIZE_MAX / 2 + 1000);
    else jumped = true;
    cr_expect(jumped);
    cr_expect_null(sg_arena_try(&a, SIZE_MAX / 2 + 1000));
    sg_arena_free(&a);
}

Test(base, text)
{
    static const struct { const char *bytes; uint32_t n, bad; const char *what; } row[] = {
        { "plain\ttext\r\n", 12, 12, "" }, { "\xC2\xB0 \xE2\x88\x92 \xF0\x9F\x98\x80", 11, 11, "" }, { "a\0b", 3, 1, "a NUL byte" },
        { "\x1B[2J", 4, 0, "a control character" }, { "ab\x7F", 3, 2, "a control character" }, { "\xC2\x85", 2, 0, "a control character" },
        { "x\xE2\x80\xAEy", 5, 1, "a character that turns the writing direction" }, { "\xE2\x81\xA6", 3, 0, "a character that turns the writing direction" },
        { "\xC0\x80", 2, 0, "a byte that is not UTF-8" }, { "\xED\xA0\x80", 3, 0, "a byte that is not UTF-8" }, { "\xE2\x82", 2, 0, "a byte that is not UTF-8" },
        { "\xF4\x90\x80\x80", 4, 0, "a byte that is not UTF-8" }, { "caf\xE9 ", 5, 3, "a byte that is not UTF-8" }, { "a\rb", 3, 1, "a carriage return without a line feed" },
        { "\xEF\xBF\xBD", 3, 3, "" },
    };
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        const char *what = "";
        uint32_t at = sg_text_bad_byte((SgStr){ row[i].bytes, row[i].n }, &what);
        cr_expect(at == row[i].bad && strcmp(what ? what : "", row[i].what) == 0, "row %zu: %u %s", i, at, what ? what : "");
    }
    SgSource source = sg_text_source(&arena, SG_LIT("x.sag"), SG_LIT("\xEF\xBB\xBF" "a\r\n\xC3\xA9\xC3\xA9x\n\nend"));
    SgPlace place = sg_text_place(&source, 7);
    cr_expect(source.nlines == 4, "%u lines", source.nlines);
    cr_expect(place.line == 2 && place.column == 3 && sg_str_is(place.text, "\xC3\xA9\xC3\xA9x"), "column counts characters: %u:%u", place.line, place.column);
    place = sg_text_place(&source, 0);
    cr_expect(place.line == 1 && place.column == 1 && sg_str_is(place.text, "a"), "without its line end");
    place = sg_text_place(&source, 999);
    cr_expect(place.line == 4 && place.column == 4, "behind the end is the end");
    SgSource nothing = sg_text_source(&arena, SG_LIT("-"), (SgStr){ "", 0 });
    cr_expect(nothing.nlines == 1 && sg_text_place(&nothing, 0).column == 1);
    cr_expect(sg_utf8_cut(SG_LIT("ab\xC3\xA9"), 3) == 2, "no character is cut in two");
}

Test(base, catalogue)
{
    SgBuf b = { .arena = &arena };
    uint32_t broken = sg_catalogue_lint(&b);
    cr_expect(broken == 0, "%.*s", (int)b.n, b.v ? b.v : "");
    cr_expect(sg_kind_of(SG_LIT("mirror")) == SG_KIND_mirror && sg_kind_of(SG_LIT("mirrors")) == SG_KIND_COUNT && sg_kind_of(SG_LIT("")) == SG_KIND_COUNT);
    cr_expect(sg_phrase_of(SG_KIND_mirror, SG_LIT("focal")) == SG_PHRASE_mirror_focal);
    cr_expect(sg_phrase_of(SG_KIND_mirror, SG_LIT("colour")) == SG_PHRASE_common_colour, "a drawn kind has the common words");
    cr_expect(sg_phrase_of(SG_KIND_let, SG_LIT("colour")) == SG_PHRASE_COUNT, "another has not");
    cr_expect(sg_property_of(SG_KIND_image, SG_LIT("nature")) == SG_PROPERTY_image_nature);
    cr_expect(sg_unit_of(SG_LIT("cm")) == SG_UNIT_cm && sg_unit_of(SG_LIT("c")) == SG_UNIT_COUNT && sg_unit_of(SG_LIT("\xC2\xB0")) == SG_UNIT_degree);
    cr_expect(sg_unit_factor(SG_UNIT_inch) == 25.4, "international inch");
    cr_expect(sg_unit_factor(SG_UNIT_D) == 0.001 && sg_unit_factor(SG_UNIT_nm) == 1e-6);
    cr_expect(72 * sg_unit_factor(SG_UNIT_pt) == 25.4);
    cr_expect(fabs(sg_unit_factor(SG_UNIT_rad) - 57.29577951308232) < 1e-13);
    static const struct { const char *word, *near; } row[] = {
        { "apeture", "aperture" }, { "focla", "focal" }, { "xyzzy", NULL }, { "a", NULL }, { "concaves", "concave" }, { "clour", "colour" },
    };
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        const char *near = sg_near_phrase(SG_KIND_mirror, sg_str(row[i].word));
        cr_expect((near == NULL) == (row[i].near == NULL) && (!near || strcmp(near, row[i].near) == 0), "%s: %s", row[i].word, near ? near : "none");
    }
}

/* Small and large blocks in many orders, from an empty arena, a full chunk and one whose head is a large block. */
Test(base, arena_goes_back_to_a_mark)
{
    for (int start = 0; start < 4; start++) {
        SgArena a = { .out = NULL };       /* memory enough: nothing jumps */
        if (start == 1) memset(sg_arena_get(&a, 1000), 1, 1000);
        if (start == 2) memset(sg_arena_get(&a, 50000), 1, 50000);
        if (start == 3) for (int i = 0; i < 40; i++) memset(sg_arena_get(&a, 5000), 1, 5000);
        SgArenaMark mark = sg_arena_mark(&a);
        for (int round = 0; round < 3; round++) {
            for (int i = 0; i < 60; i++) {
                size_t n = (size_t)(i * 7919 % 40000) + 1;
                unsigned char *p = sg_arena_get(&a, n);
                for (size_t k = 0; k < n; k++) cr_assert_eq(p[k], 0, "a block that is not clean");
                memset(p, 2, n);
            }
            sg_arena_reset(&a, mark);
            cr_assert_eq(a.total, mark.total);
            cr_assert_eq(a.used, mark.used);
        }
        memset(sg_arena_get(&a, 3000), 3, 3000);
        sg_arena_free(&a);
    }
}
