/* Text: the tables against the font files themselves, read by FreeType; markup; lines. */
#include "layout/faces.h"
#include "layout/shape.h"
#include "text/text.h"
#include <criterion/criterion.h>
#include <ft2build.h>
#include FT_FREETYPE_H
#include FT_OUTLINE_H
#include FT_BBOX_H
#include <math.h>
#include <stdlib.h>
#include <string.h>

#define FONTS "/usr/share/fonts/truetype/liberation2/LiberationSans-"
static const char *const face_path[SG_FACE_COUNT] = { FONTS "Regular.ttf", FONTS "Italic.ttf", FONTS "Bold.ttf" };
typedef struct { FT_Library library; FT_Face face[SG_FACE_COUNT]; } Fonts;

static Fonts open_fonts(void)
{
    Fonts f;
    cr_assert(FT_Init_FreeType(&f.library) == 0);
    for (int k = 0; k < SG_FACE_COUNT; k++) cr_assert(FT_New_Face(f.library, face_path[k], 0, &f.face[k]) == 0, "%s", face_path[k]);
    return f;
}
static void in_arena(void (*run)(SgArena *))
{
    jmp_buf jump;
    SgArena a = { .out = &jump };
    if (setjmp(jump) != 0) { cr_expect(false, "out of memory"); return; }
    run(&a);
    sg_arena_free(&a);
}
static bool near(double a, double b) { return fabs(a - b) < 1e-9; }

/* ---- the tables against the files ---- */
/* Twice the area inside an outline: the same in whatever form the outline is written. */
typedef struct { double area, x, y, sx, sy; } Trace;
static void trace_to(Trace *t, double bx, double by, double x, double y, bool bent)
{
    /* a quadratic arc encloses with its chord two thirds of the triangle of its control point */
    t->area += t->x * y - x * t->y;
    if (bent) t->area += 2.0 / 3 * ((bx - t->x) * (y - t->y) - (x - t->x) * (by - t->y));
    t->x = x;
    t->y = y;
}
static void trace_close(Trace *t) { t->area += t->x * t->sy - t->sx * t->y; }
static int file_move(const FT_Vector *to, void *u)
{
    Trace *t = u;
    trace_close(t);
    t->x = t->sx = (double)to->x;
    t->y = t->sy = (double)to->y;
    return 0;
}
static int file_line(const FT_Vector *to, void *u) { trace_to(u, 0, 0, (double)to->x, (double)to->y, false); return 0; }
static int file_bend(const FT_Vector *b, const FT_Vector *to, void *u)
{
    trace_to(u, (double)b->x, (double)b->y, (double)to->x, (double)to->y, true);
    return 0;
}
static int file_cubic(const FT_Vector *a, const FT_Vector *b, const FT_Vector *c, void *u) { (void)a; (void)b; (void)c; (void)u; return 1; }
static double area_in_file(FT_Face face)
{
    static const FT_Outline_Funcs moves = { file_move, file_line, file_bend, file_cubic, 0, 0 };
    Trace t = { 0 };
    cr_assert(FT_Outline_Decompose(&face->glyph->outline, &moves, &t) == 0);
    trace_close(&t);
    return t.area;
}
static double next_number(const char **s)
{
    char *end;
    while (**s == ' ') (*s)++;
    long v = strtol(*s, &end, 10);
    cr_assert(end != *s, "no number at \"%.20s\"", *s);
    *s = end;
    return (double)v;
}
/* Reads M l h v q z path data; anything else fails. */
static double area_of_path(const char *s)
{
    Trace t = { 0 };
    char command = 0;
    while (*s != 0) {
        if (strchr("Mlhvqz", *s) != NULL) command = *s++;
        if (command == 'z') { trace_close(&t); t.x = t.sx; t.y = t.sy; command = 0; continue; }
        if (command == 'M') { t.x = t.sx = next_number(&s); t.y = t.sy = next_number(&s); continue; }
        cr_assert(command != 0, "bad path data at \"%.20s\"", s);
        double bx = 0, by = 0, x = t.x, y = t.y;
        if (command == 'q') { bx = t.x + next_number(&s); by = t.y + next_number(&s); }
        if (command != 'v') x = t.x + next_number(&s);
        if (command != 'h') y = t.y + next_number(&s);
        trace_to(&t, bx, by, x, y, command == 'q');
    }
    return t.area;
}
static bool is_own(uint32_t code) { return code == 0x2220 || code == 0x22A5 || code == 0x2225 || code == 0x25B3; }
static uint32_t code_in_file(FT_Face face, uint32_t code)
{
    if (code == 0x2011 && FT_Get_Char_Index(face, code) == 0) return 0x2010;
    return code == 0x2219 && FT_Get_Char_Index(face, code) == 0 ? 0xB7 : code;
}
static void check_glyph(FT_Face face, SgFace f, uint16_t g)
{
    uint32_t code = sg_face_code[g], there = g == 0 ? 0 : FT_Get_Char_Index(face, code_in_file(face, code));
    const SgGlyph *glyph = sg_glyph(f, g);
    double area = area_of_path(sg_glyph_path(f, g));
    if (is_own(code)) {
        cr_expect(there == 0, "U+%04X is in the file after all", code);
        cr_expect(area != 0 && glyph->advance > glyph->x1 && glyph->x0 > 0 && glyph->x1 > glyph->x0, "U+%04X", code);
        return;
    }
    cr_assert(g == 0 || there != 0, "U+%04X is not in the file", code);
    cr_assert(FT_Load_Glyph(face, there, FT_LOAD_NO_SCALE) == 0);
    const FT_Glyph_Metrics *m = &face->glyph->metrics;
    cr_expect(glyph->advance == m->horiAdvance, "U+%04X: advance %d, not %ld", code, glyph->advance, m->horiAdvance);
    cr_expect(area == area_in_file(face) || fabs(area - area_in_file(face)) < 0.5, "U+%04X: area %f, not %f", code, area, area_in_file(face));
    FT_BBox box = { 0, 0, 0, 0 };
    if (glyph->path != 0) cr_assert(FT_Outline_Get_BBox(&face->glyph->outline, &box) == 0);
    cr_expect(glyph->x0 == box.xMin && glyph->y0 == box.yMin && glyph->x1 == box.xMax && glyph->y1 == box.yMax, "U+%04X: its box", code);
    cr_expect((glyph->path == 0) == (face->glyph->outline.n_points == 0), "U+%04X: ink", code);
}
Test(shape, tables)
{
    Fonts f = open_fonts();
    for (int k = 0; k < SG_FACE_COUNT; k++)
        for (uint16_t g = 0; g < sg_face_nglyphs; g++) {
            cr_expect(g < 2 || sg_face_code[g - 1] < sg_face_code[g], "code points ascend");
            check_glyph(f.face[k], (SgFace)k, g);
        }
    FT_Done_FreeType(f.library);
}

/* ---- widths ---- */
static const char *const sample[] = {
    "Shaving mirror, candle at 12 cm", "AVATAR To We Yo Ty LT P. F, W. 11 7.", "principal axis", "As far beyond F as F is from the mirror:",
    "Łódź Žižka Šárka Ångström naïve œuvre", "αβγδ θ λ = 589 nm Ω µ", "f = −4.0 cm ± 0.5 mm × 2 ÷ 3 ≈ ≠ ≤ ≥ ∞ √", "“L’eau” – ‘vite’ — ok… f′ f″ 12°",
    "e", "", "  two  spaces ", "Lamp room (1), keeper's quarters [2]", "VAVAVA.Te.r,r.", "½ ¼ € § © → ← ↑ ↓ ↔",
};
/* Width in font units by FreeType alone: advances, kerning, and the last letter's ink where it reaches farther; and the same at
   the start. */
static long width_in_file(FT_Face face, const char *text)
{
    SgStr s = sg_str(text);
    long x = 0, right = 0, left = 0;
    FT_UInt before = 0;
    for (uint32_t i = 0; i < s.n;) {
        uint32_t code;
        FT_Vector kern = { 0, 0 };
        i = sg_utf8_next(s, i, &code);
        FT_UInt g = FT_Get_Char_Index(face, code);
        cr_assert(g != 0 && FT_Load_Glyph(face, g, FT_LOAD_NO_SCALE) == 0, "U+%04X", code);
        if (before != 0) FT_Get_Kerning(face, before, g, FT_KERNING_UNSCALED, &kern);
        const FT_Glyph_Metrics *m = &face->glyph->metrics;
        FT_BBox box = { 0, 0, 0, 0 };
        if (face->glyph->outline.n_points > 0) FT_Outline_Get_BBox(&face->glyph->outline, &box);
        if (before == 0 && box.xMin < 0) left = -box.xMin;
        x += kern.x;
        right = x + (box.xMax > m->horiAdvance ? box.xMax : m->horiAdvance);
        x += m->horiAdvance;
        before = g;
    }
    return left + right;
}
static void run_widths(SgArena *a)
{
    Fonts f = open_fonts();
    unsigned kerned = 0;
    for (unsigned k = 0; k < sizeof sample / sizeof sample[0]; k++)
        for (int face = 0; face < SG_FACE_COUNT; face++) {
            SgWords w = sg_shape(a, sg_str(sample[k]), (SgFace)face, 9);
            double want = (double)width_in_file(f.face[face], sample[k]) * 9 * 25.4 / 72 / 2048;
            cr_expect(near(w.width_mm, want), "face %d, \"%s\": %f mm, not %f", face, sample[k], w.width_mm, want);
            cr_expect(w.missing == 0 && w.nruns == (sample[k][0] != 0), "\"%s\"", sample[k]);
            cr_expect(sg_str_is(w.plain, sample[k]), "\"%s\"", sample[k]);
            long sum = 0;
            for (uint32_t g = 0; w.nruns > 0 && g < w.run[0].nglyphs; g++) sum += sg_glyph((SgFace)face, w.run[0].glyph[g].glyph)->advance;
            kerned += w.nruns > 0 && !near((double)sum * 9 * 25.4 / 72 / 2048, w.run[0].width_mm);
        }
    cr_expect(kerned >= 10, "kerning in only %u samples", kerned);
    FT_Done_FreeType(f.library);
}
Test(shape, widths) { in_arena(run_widths); }

/* ---- markup ---- */
/* Runs as text: face (u i b), level (- subscript, + superscript), characters, a stroke between runs. */
static const struct { const char *markup; SgFace face; const char *runs, *plain; } cases[] = {
    { "plain text", SG_FACE_UPRIGHT, "u plain text", "plain text" },
    { "d_o", SG_FACE_UPRIGHT, "u d|u-o", "dₒ" },
    { "*d*_o", SG_FACE_UPRIGHT, "i d|i-o", "dₒ" },
    { "*d_o* is", SG_FACE_UPRIGHT, "i d|i-o|u  is", "dₒ is" },
    { "d_out, x", SG_FACE_ITALIC, "i d|u-out|i , x", "d out, x" },
    { "d_1", SG_FACE_ITALIC, "i d|u-1", "d₁" },
    { "F_1 F_2", SG_FACE_BOLD, "b F|b-1|b  F|b-2", "F₁ F₂" },
    { "x^2", SG_FACE_ITALIC, "i x|u+2", "x²" },
    { "x^n", SG_FACE_ITALIC, "i x|i+n", "xⁿ" },
    { "x^m", SG_FACE_UPRIGHT, "u x|u+m", "x^m" },
    { "10^-3 m", SG_FACE_UPRIGHT, "u 10|u+−3|u  m", "10⁻³ m" },
    { "10^−3 m", SG_FACE_UPRIGHT, "u 10|u+−3|u  m", "10⁻³ m" },
    { "Na^+", SG_FACE_UPRIGHT, "u Na|u++", "Na⁺" },
    { "(a+b)^2 [c]_1", SG_FACE_UPRIGHT, "u (a+b)|u+2|u  [c]|u-1", "(a+b)² [c]₁" },
    { "x_1^2", SG_FACE_UPRIGHT, "u x|u-1|u+2", "x₁²" },
    { "*s*′_i", SG_FACE_UPRIGHT, "i s|u ′|i-i", "s′ᵢ" },
    { "f′_2", SG_FACE_UPRIGHT, "u f′|u-2", "f′₂" },
    { "θ_r", SG_FACE_ITALIC, "i θ|i-r", "θᵣ" },
    { "_a ^2 a_ a^ x_-1", SG_FACE_UPRIGHT, "u _a ^2 a_ a^ x_-1", "_a ^2 a_ a^ x_-1" },
    { "a\\_b \\*c\\* \\^2 \\\\ \\{ \\\"", SG_FACE_UPRIGHT, "u a_b *c* ^2 \\ { \"", "a_b *c* ^2 \\ { \"" },
    { "2 * 3 * 4", SG_FACE_UPRIGHT, "u 2 * 3 * 4", "2 * 3 * 4" },
    { "*alone and 3*", SG_FACE_UPRIGHT, "i alone and 3", "alone and 3" },
    { "*never closed", SG_FACE_UPRIGHT, "u *never closed", "*never closed" },
    { "** *", SG_FACE_UPRIGHT, "u ** *", "** *" },
    { "*a\\*b* c", SG_FACE_UPRIGHT, "i a*b|u  c", "a*b c" },
    { "an *f* in italic", SG_FACE_ITALIC, "i an |u f|i  in italic", "an f in italic" },
    { "title *f*", SG_FACE_BOLD, "b title |i f", "title f" },
    { "x² F₁ 10⁻³ ⁿ", SG_FACE_UPRIGHT, "u x|u+2|u  F|u-1|u  10|u+−3|u  |u+n", "x² F₁ 10⁻³ ⁿ" },
    { "one\\ntwo", SG_FACE_UPRIGHT, "u one two", "one two" },
    { "end\\", SG_FACE_UPRIGHT, "u end\\", "end\\" },
    { "", SG_FACE_UPRIGHT, "", "" },
};
static SgStr runs_of(SgArena *a, const SgWords *w)
{
    SgBuf b = { .arena = a };
    for (uint32_t r = 0; r < w->nruns; r++) {
        if (r > 0) sg_put_char(&b, '|');
        sg_put_char(&b, "uib"[w->run[r].face]);
        sg_put_char(&b, w->run[r].rise_mm > 0 ? '+' : w->run[r].rise_mm < 0 ? '-' : ' ');
        sg_put_str(&b, w->run[r].chars);
    }
    return sg_buf_str(&b);
}
static void run_markup(SgArena *a)
{
    for (unsigned k = 0; k < sizeof cases / sizeof cases[0]; k++) {
        SgWords w = sg_shape(a, sg_str(cases[k].markup), cases[k].face, 10);
        SgStr runs = runs_of(a, &w), plain = sg_plain(a, sg_str(cases[k].markup));
        cr_expect(sg_str_is(runs, cases[k].runs), "\"%s\": %.*s, not %s", cases[k].markup, (int)runs.n, runs.s, cases[k].runs);
        cr_expect(sg_str_is(w.plain, cases[k].plain) && sg_str_is(plain, cases[k].plain), "\"%s\": %.*s", cases[k].markup, (int)plain.n, plain.s);
        double em = 10 * 25.4 / 72;
        for (uint32_t r = 0; r < w.nruns; r++) {
            const SgRun *run = &w.run[r];
            double rise = run->rise_mm / em, size = run->size_mm / em;
            cr_expect(near(size, rise == 0 ? 1 : 0.7) && (rise == 0 || near(rise, -0.2) || near(rise, 0.35)), "\"%s\": %f %f", cases[k].markup, size, rise);
            cr_expect(sg_utf8_count(run->chars) == run->nglyphs, "\"%s\": a character a glyph", cases[k].markup);
            if (r > 0) cr_expect(run->x_mm >= w.run[r - 1].x_mm + w.run[r - 1].width_mm - 1e-9, "\"%s\": runs overlap", cases[k].markup);
        }
    }
    /* a slanted f leans over a bracket and keeps clear of it; a subscript tucks in below */
    const SgGlyph *slanted = sg_glyph(SG_FACE_ITALIC, 'f' - 31);
    cr_assert(sg_face_code['f' - 31] == 'f' && slanted->x1 > slanted->advance);
    SgWords leans = sg_shape(a, sg_str("*f*)"), SG_FACE_UPRIGHT, 10), tucks = sg_shape(a, sg_str("*f*_o"), SG_FACE_UPRIGHT, 10);
    cr_expect(near((leans.run[1].x_mm - leans.run[0].x_mm) * 2048 / leans.run[0].size_mm, slanted->x1));
    cr_expect(near((tucks.run[1].x_mm - tucks.run[0].x_mm) * 2048 / tucks.run[0].size_mm, slanted->advance));
    SgWords w = sg_shape(a, sg_str("水 é 光"), SG_FACE_UPRIGHT, 10);
    cr_expect(w.missing == 0x6C34 && w.run[0].glyph[0].glyph == 0 && w.run[0].nglyphs == 5, "missing U+%04X", w.missing);
}
Test(shape, markup) { in_arena(run_markup); }

/* All ink lies in the box that is told, and touches its top and foot. */
static void check_ink(const SgWords *w, const char *what)
{
    double top = 0, foot = 0;
    for (uint32_t r = 0; r < w->nruns; r++)
        for (uint32_t g = 0; g < w->run[r].nglyphs; g++) {
            const SgRun *run = &w->run[r];
            const SgGlyph *glyph = sg_glyph(run->face, run->glyph[g].glyph);
            double k = run->size_mm / 2048, x = run->x_mm + run->glyph[g].x * k;
            if (glyph->path == 0) continue;
            if (g == 0 && r == 0) cr_expect(x + glyph->x0 * k >= -1e-9, "%s: left", what);
            if (r + 1 == w->nruns) cr_expect(x + glyph->x1 * k <= w->width_mm + 1e-9, "%s: right", what);
            top = fmax(top, run->rise_mm + glyph->y1 * k);
            foot = fmax(foot, -run->rise_mm - glyph->y0 * k);
        }
    cr_expect(near(top, w->ascent_mm) && near(foot, w->descent_mm), "%s: height %f %f, not %f %f", what, w->ascent_mm, w->descent_mm, top, foot);
}
/* Lines: none wider than asked, no word lost, as few words a line as must be, none empty unless asked for. */
static void run_lines(SgArena *a)
{
    static const char *const text[] = {
        "As far beyond *F* as *F* is from the mirror: the centre of curvature, 8 cm from *P*.",
        "In through the centre of curvature, and back the way it came.\\nTo the vertex: *i* = *r*, so d_o/d_i = 2^1.",
        "Unbrokenwordthatiswiderthananyline and jfj", "one", "a  b   c ", "*f* ΩΩΩ f_out AVAVAV x^2 W.", "\\n\\nlast",
    };
    static const double width[] = { 0, 15, 24.5, 40, 61, 120 };
    for (unsigned k = 0; k < sizeof text / sizeof text[0]; k++) {
        SgWords whole = sg_shape(a, sg_str(text[k]), SG_FACE_UPRIGHT, 11);
        check_ink(&whole, text[k]);
        for (unsigned v = 0; v < sizeof width / sizeof width[0]; v++) {
            uint32_t n;
            SgWords *line = sg_shape_lines(a, sg_str(text[k]), SG_FACE_UPRIGHT, 11, width[v], &n);
            SgBuf all = { .arena = a }, want = { .arena = a };
            for (uint32_t i = 0; i < n; i++) {
                cr_expect(width[v] == 0 || line[i].width_mm <= width[v] + 1e-6, "\"%s\" line %u: %f over %f", text[k], i, line[i].width_mm, width[v]);
                check_ink(&line[i], text[k]);
                for (uint32_t c = 0; c < line[i].plain.n; c++)
                    if (line[i].plain.s[c] != ' ') sg_put_char(&all, line[i].plain.s[c]);
            }
            for (uint32_t c = 0; c < whole.plain.n; c++)
                if (whole.plain.s[c] != ' ') sg_put_char(&want, whole.plain.s[c]);
            cr_expect(sg_str_same(sg_buf_str(&all), sg_buf_str(&want)), "\"%s\" at %f: words lost", text[k], width[v]);
        }
    }
    uint32_t n;
    SgWords *line = sg_shape_lines(a, sg_str("one\\ntwo\\n\\nfour"), SG_FACE_UPRIGHT, 11, 0, &n);
    cr_assert(n == 4);
    cr_expect(sg_str_is(line[1].plain, "two") && sg_str_is(line[2].plain, "") && sg_str_is(line[3].plain, "four"));
    SgWords to_12 = sg_shape(a, sg_str("the mirror is at 12"), SG_FACE_UPRIGHT, 11);
    line = sg_shape_lines(a, sg_str("the mirror is at 12 cm from it"), SG_FACE_UPRIGHT, 11, to_12.width_mm + 1, &n);
    cr_expect(n == 2 && sg_str_is(line[0].plain, "the mirror is at") && sg_str_is(line[1].plain, "12 cm from it"), "a unit stays with its number");
    line = sg_shape_lines(a, sg_str("the mirror is at 12 places on it"), SG_FACE_UPRIGHT, 11, to_12.width_mm + 1, &n);
    cr_expect(n == 2 && sg_str_is(line[0].plain, "the mirror is at 12"), "other words do not");
    line = sg_shape_lines(a, sg_str(""), SG_FACE_UPRIGHT, 11, 50, &n);
    cr_expect(n == 1 && line[0].nruns == 0 && line[0].width_mm == 0);
}
Test(shape, lines) { in_arena(run_lines); }
