/* make_faces [FOLDER]: writes the tables of layout/faces.h as C to standard output. Runs while building, never afterwards.
   needs  LiberationSans-{Regular,Italic,Bold}.ttf in FOLDER (package fonts-liberation2), FreeType.
   gives  one character map, and of each face advances, ink boxes, outlines and kerning, in font units as the files have them.
   never  hints, scales or rounds. Four signs the faces lack are drawn here. */
#include <ft2build.h>
#include FT_FREETYPE_H
#include FT_OUTLINE_H
#include FT_BBOX_H
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { NFACES = 3, MAX_CODES = 1024, MAX_PATH = 8192, UNITS_PER_EM = 2048 };
/* Version 1 of these faces is under another licence: take the folder of version 2 (OFL 1.1). */
#define DEFAULT_FOLDER "/usr/share/fonts/truetype/liberation2"
static const char *const face_file[NFACES] = { "LiberationSans-Regular.ttf", "LiberationSans-Italic.ttf", "LiberationSans-Bold.ttf" };

/* What authors may write: taken as far as all three faces have it. */
static const struct { uint16_t first, last; } wanted[] = {
    { 0x0020, 0x007E }, { 0x00A0, 0x00AC }, { 0x00AE, 0x017F },     /* ASCII, Latin-1 without the soft hyphen, Latin Extended-A */
    { 0x0386, 0x03CE }, { 0x03D1, 0x03D1 }, { 0x03D5, 0x03D6 }, { 0x03F1, 0x03F1 }, { 0x03F5, 0x03F5 },     /* Greek and its variants */
    { 0x2002, 0x200A }, { 0x2010, 0x2015 }, { 0x2018, 0x201E }, { 0x2020, 0x2022 }, { 0x2026, 0x2026 }, { 0x202F, 0x2030 },
    { 0x2032, 0x2034 }, { 0x2039, 0x203A }, { 0x2044, 0x2044 },     /* spaces, dashes, quotes, primes */
    { 0x2070, 0x209C }, { 0x20AC, 0x20AC }, { 0x2113, 0x2113 }, { 0x2126, 0x2126 },
    { 0x2190, 0x2195 }, { 0x21D4, 0x21D4 },                         /* arrows */
    { 0x2202, 0x22A5 },                                             /* mathematical signs */
    { 0x25A0, 0x25A1 }, { 0x25B2, 0x25B3 }, { 0x25BC, 0x25BC }, { 0x25CA, 0x25CA }, { 0x25CB, 0x25CB }, { 0x25CF, 0x25CF },
};
/* What a code point without an outline of its own is drawn with. */
static const struct { uint16_t code, as; } same_as[] = { { 0x2011, 0x2010 }, { 0x2219, 0x00B7 } };

typedef struct { long x, y; } Corner;
typedef struct {
    char path[MAX_PATH]; size_t n;
    char last;                 /* command letter in force; 0 none */
    bool open;
    Corner at, low, high;      /* low, high: box of the ends of its lines */
    bool too_long;
} Pen;
typedef struct { long advance, x0, y0, x1, y1; char *path; } Glyph;
typedef struct { FT_Face font[NFACES]; uint16_t code[MAX_CODES]; size_t n; Glyph *glyph[NFACES]; } Job;

/* ---- outlines ---- */
static void put_text(Pen *pen, const char *s)
{
    size_t n = strlen(s);
    if (pen->n + n >= MAX_PATH) { pen->too_long = true; return; }
    memcpy(pen->path + pen->n, s, n + 1);
    pen->n += n;
}
static void put_command(Pen *pen, char letter)
{
    if (pen->last == letter) return;
    put_text(pen, (char[]){ letter, 0 });
    pen->last = letter;
}
/* A minus sign parts two numbers by itself. */
static void put_number(Pen *pen, long v)
{
    char text[32];
    char before = pen->n > 0 ? pen->path[pen->n - 1] : 'M';
    snprintf(text, sizeof text, "%s%ld", v >= 0 && before >= '0' && before <= '9' ? " " : "", v);
    put_text(pen, text);
}
static void close_contour(Pen *pen)
{
    if (pen->open) put_text(pen, "z");
    pen->open = false;
    pen->last = 0;
}
static void see(Pen *pen, Corner c)
{
    if (pen->n == 0) pen->low = pen->high = c;
    if (c.x < pen->low.x) pen->low.x = c.x;
    if (c.y < pen->low.y) pen->low.y = c.y;
    if (c.x > pen->high.x) pen->high.x = c.x;
    if (c.y > pen->high.y) pen->high.y = c.y;
}
static void move_pen(Pen *pen, Corner to)
{
    close_contour(pen);
    see(pen, to);
    put_command(pen, 'M');
    put_number(pen, to.x);
    put_number(pen, to.y);
    pen->last = 'M';
    pen->open = true;
    pen->at = to;
}
static void line_pen(Pen *pen, Corner to)
{
    long dx = to.x - pen->at.x, dy = to.y - pen->at.y;
    if (dx == 0 && dy == 0) return;
    see(pen, to);
    if (dy == 0) { put_command(pen, 'h'); put_number(pen, dx); }
    else if (dx == 0) { put_command(pen, 'v'); put_number(pen, dy); }
    else { put_command(pen, 'l'); put_number(pen, dx); put_number(pen, dy); }
    pen->at = to;
}
static void bend_pen(Pen *pen, Corner by, Corner to)
{
    put_command(pen, 'q');
    put_number(pen, by.x - pen->at.x);
    put_number(pen, by.y - pen->at.y);
    put_number(pen, to.x - pen->at.x);
    put_number(pen, to.y - pen->at.y);
    pen->at = to;
}
static Corner corner_of(const FT_Vector *v) { return (Corner){ v->x, v->y }; }
static int on_move(const FT_Vector *to, void *pen) { move_pen(pen, corner_of(to)); return 0; }
static int on_line(const FT_Vector *to, void *pen) { line_pen(pen, corner_of(to)); return 0; }
static int on_bend(const FT_Vector *by, const FT_Vector *to, void *pen) { bend_pen(pen, corner_of(by), corner_of(to)); return 0; }
static int on_cubic(const FT_Vector *a, const FT_Vector *b, const FT_Vector *to, void *pen)
{
    (void)a; (void)b; (void)to; (void)pen;
    return 1;                  /* TrueType has none; a face that does is refused */
}

/* ---- signs of our own ---- */
static void polygon(Pen *pen, const Corner *corner, size_t n)
{
    move_pen(pen, corner[0]);
    for (size_t i = 1; i < n; i++) line_pen(pen, corner[i]);
}
/* t: weight of the strokes, that of the face's minus sign, so that the four look of one family with it. */
static long draw_own(Pen *pen, uint16_t code, long t)
{
    if (code == 0x2220) {      /* angle: a foot, and a leg that leans by 900 in 1300 */
        long across = t * 1581 / 1300, lean = t * 900 / 1300;
        polygon(pen, (Corner[]){ { 70, 0 }, { 970, 1300 }, { 970 + across, 1300 }, { 70 + across + lean, t }, { 1270, t }, { 1270, 0 } }, 6);
        return 1340;
    }
    if (code == 0x22A5) {      /* perpendicular */
        polygon(pen, (Corner[]){ { 100, 0 }, { 100, t }, { 650 - t / 2, t }, { 650 - t / 2, 1300 }, { 650 - t / 2 + t, 1300 },
                                 { 650 - t / 2 + t, t }, { 1200, t }, { 1200, 0 } }, 8);
        return 1300;
    }
    if (code == 0x2225) {      /* parallel */
        for (long x = 230; x <= 590; x += 360)
            polygon(pen, (Corner[]){ { x, -180 }, { x, 1420 }, { x + t, 1420 }, { x + t, -180 } }, 4);
        return 820 + t;
    }
    if (code == 0x25B3) {      /* triangle of sides 1400: its in-circle, centre (760, 404), has radius 404 */
        Corner outer[3] = { { 60, 0 }, { 760, 1212 }, { 1460, 0 } }, inner[3];
        for (int i = 0; i < 3; i++) {
            Corner c = outer[2 - i];
            inner[i] = (Corner){ 760 + (c.x - 760) * (404 - t) / 404, 404 + (c.y - 404) * (404 - t) / 404 };
        }
        polygon(pen, outer, 3);
        polygon(pen, inner, 3);
        return 1520;
    }
    return 0;
}
static bool is_own(uint16_t code) { return code == 0x2220 || code == 0x22A5 || code == 0x2225 || code == 0x25B3; }

/* ---- reading ---- */
static void die(const char *what, const char *which)
{
    fprintf(stderr, "make_faces: %s: %s\n", which, what);
    exit(1);
}
static FT_UInt index_of(FT_Face font, uint16_t code)
{
    FT_UInt index = FT_Get_Char_Index(font, code);
    for (size_t i = 0; index == 0 && i < sizeof same_as / sizeof same_as[0]; i++)
        if (same_as[i].code == code) index = FT_Get_Char_Index(font, same_as[i].as);
    return index;
}
static void take_box(Glyph *g, FT_Outline *outline, const char *which)
{
    FT_BBox box;
    if (FT_Outline_Get_BBox(outline, &box) != 0) die("an outline has no box", which);
    g->x0 = box.xMin; g->y0 = box.yMin; g->x1 = box.xMax; g->y1 = box.yMax;
}
static char *kept(Pen *pen, const char *which)
{
    close_contour(pen);
    char *copy = malloc(pen->n + 1);
    if (pen->too_long || copy == NULL) die("an outline is too long", which);
    memcpy(copy, pen->path, pen->n + 1);
    return copy;
}
static const FT_Outline_Funcs pen_moves = { on_move, on_line, on_bend, on_cubic, 0, 0 };
static Glyph read_glyph(FT_Face font, FT_UInt index, const char *which)
{
    if (FT_Load_Glyph(font, index, FT_LOAD_NO_SCALE) != 0) die("a glyph cannot be loaded", which);
    FT_GlyphSlot slot = font->glyph;
    Glyph g = { .advance = slot->metrics.horiAdvance };
    Pen pen = { .n = 0 };
    if (slot->outline.n_points > 0) {
        take_box(&g, &slot->outline, which);
        if (FT_Outline_Decompose(&slot->outline, &pen_moves, &pen) != 0) die("an outline is not of lines and quadratic curves", which);
    }
    g.path = kept(&pen, which);
    return g;
}
static Glyph own_glyph(FT_Face font, uint16_t code, const char *which)
{
    if (FT_Load_Glyph(font, FT_Get_Char_Index(font, 0x2212), FT_LOAD_NO_SCALE) != 0) die("no minus sign", which);
    long t = font->glyph->metrics.height;
    Pen pen = { .n = 0 };
    Glyph g = { .advance = draw_own(&pen, code, t) };
    g.path = kept(&pen, which);
    g.x0 = pen.low.x; g.y0 = pen.low.y; g.x1 = pen.high.x; g.y1 = pen.high.y;
    return g;
}
static void choose_codes(Job *job)
{
    for (size_t r = 0; r < sizeof wanted / sizeof wanted[0]; r++)
        for (uint16_t code = wanted[r].first; code <= wanted[r].last; code++) {
            bool all = true;
            for (int f = 0; f < NFACES; f++) all = all && (index_of(job->font[f], code) != 0 || is_own(code));
            if (!all) continue;
            if (job->n == MAX_CODES) die("too many characters", "tables");
            job->code[job->n++] = code;
        }
}
static void read_faces(Job *job)
{
    for (int f = 0; f < NFACES; f++) {
        job->glyph[f] = calloc(job->n, sizeof(Glyph));
        if (job->glyph[f] == NULL) die("out of memory", face_file[f]);
        for (size_t g = 0; g < job->n; g++) {
            FT_UInt index = g == 0 ? 0 : index_of(job->font[f], job->code[g]);
            job->glyph[f][g] = g > 0 && index == 0 ? own_glyph(job->font[f], job->code[g], face_file[f])
                                                   : read_glyph(job->font[f], index, face_file[f]);
        }
    }
}

/* ---- writing ---- */
static void write_glyphs(const Job *job)
{
    unsigned long at = 1;      /* 0: the empty outline */
    printf("const SgGlyph sg_face_glyph[] = {\n");
    for (int f = 0; f < NFACES; f++)
        for (size_t i = 0; i < job->n; i++) {
            const Glyph *g = &job->glyph[f][i];
            size_t n = strlen(g->path);
            printf("    { %ld, %ld, %ld, %ld, %ld, %lu },\n", g->advance, g->x0, g->y0, g->x1, g->y1, n > 0 ? at : 0);
            if (n > 0) at += n + 1;
        }
    printf("};\n\n#pragma GCC diagnostic ignored \"-Woverlength-strings\"\nconst char sg_face_outlines[] = \"\\0\"\n");
    for (int f = 0; f < NFACES; f++)
        for (size_t i = 0; i < job->n; i++)
            if (job->glyph[f][i].path[0] != 0) printf("    \"%s\\0\"\n", job->glyph[f][i].path);
    printf(";\n\n");
}
static void write_kerning(const Job *job)
{
    unsigned n = 0;
    unsigned *start = calloc(NFACES * job->n + 1, sizeof *start);
    if (start == NULL) die("out of memory", "kerning");
    printf("const SgKern sg_face_kern[] = {\n");
    for (int f = 0; f < NFACES; f++)
        for (size_t l = 0; l < job->n; l++) {
            start[(size_t)f * job->n + l] = n;
            for (size_t r = 1; l > 0 && r < job->n; r++) {
                FT_Vector by;
                FT_UInt left = index_of(job->font[f], job->code[l]), right = index_of(job->font[f], job->code[r]);
                if (left == 0 || right == 0 || FT_Get_Kerning(job->font[f], left, right, FT_KERNING_UNSCALED, &by) != 0 || by.x == 0) continue;
                printf("    { %zu, %ld },\n", r, by.x);
                n++;
            }
        }
    start[NFACES * job->n] = n;
    if (n == 0 || n > UINT16_MAX) die("no kerning, or too much", "kerning");
    printf("};\nconst uint16_t sg_face_kern_start[] = {");
    for (size_t k = 0; k <= NFACES * job->n; k++) printf("%s%u,", k % 16 == 0 ? "\n    " : " ", start[k]);
    printf("\n};\n");
    free(start);
}
static void write_tables(const Job *job)
{
    printf("/* Written by tools/make_faces.c: do not edit. Metrics and outlines are taken from Liberation Sans 2,\n"
           "   digitized data copyright (c) 2010 Google Corporation, copyright (c) 2012 Red Hat, Inc. with Reserved Font Name\n"
           "   Liberation, under the SIL Open Font License, Version 1.1. This table is a modified version, under the same licence. */\n"
           "#include \"layout/faces.h\"\n\nconst uint16_t sg_face_nglyphs = %zu;\nconst uint16_t sg_face_code[] = {", job->n);
    for (size_t i = 0; i < job->n; i++) printf("%s0x%04X,", i % 12 == 0 ? "\n    " : " ", job->code[i]);
    printf("\n};\n");
    write_glyphs(job);
    write_kerning(job);
}

int main(int argc, char **argv)
{
    Job job = { .n = 1 };      /* glyph 0 is the empty box */
    FT_Library library;
    const char *folder = argc > 1 ? argv[1] : DEFAULT_FOLDER;
    if (FT_Init_FreeType(&library) != 0) die("FreeType does not start", folder);
    for (int f = 0; f < NFACES; f++) {
        char path[4096];
        snprintf(path, sizeof path, "%s/%s", folder, face_file[f]);
        if (FT_New_Face(library, path, 0, &job.font[f]) != 0) die("cannot be opened", path);
        if (job.font[f]->units_per_EM != UNITS_PER_EM) die("its em is not 2048 units", path);
    }
    choose_codes(&job);
    read_faces(&job);
    write_tables(&job);
    for (int f = 0; f < NFACES; f++) {
        for (size_t g = 0; g < job.n; g++) free(job.glyph[f][g].path);
        free(job.glyph[f]);
    }
    FT_Done_FreeType(library);
    if (ferror(stdout) || fclose(stdout) != 0) die("cannot be written", "tables");
    return 0;
}
