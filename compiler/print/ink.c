/* print/ink: items and words drawn with cairo, as svg.c writes them.
   in     a page and the order of its items; a context in millimetres, y down.
   out    strokes, fills and glyphs on the context. Text keeps its characters where the surface can hold them.
   never  allocates of the arena (a jump would pass through cairo), or moves what layout placed. */
#include "print/ink.h"

#include <cairo-ft.h>
#include <ft2build.h>
#include FT_FREETYPE_H

#include "layout/faces.h"
#include "print/fonts.h"

#define SG_DEG (3.14159265358979323846 / 180)
enum { SG_GLYPHS_AT_ONCE = 64 };

/* ---- shapes ---- */
static void set_colour(cairo_t *cr, uint32_t rgb)
{
    cairo_set_source_rgb(cr, (rgb >> 16 & 255) / 255.0, (rgb >> 8 & 255) / 255.0, (rgb & 255) / 255.0);
}

static void stroke(cairo_t *cr, const SgItem *it)
{
    cairo_set_line_width(cr, it->line_mm);
    cairo_set_dash(cr, it->dash_mm, it->ndash, 0);
    cairo_stroke(cr);
}

static void trace_points(cairo_t *cr, const SgItem *it)
{
    for (uint32_t i = 0; i < it->nxy; i++) {
        if (i) cairo_line_to(cr, it->xy[i].x_mm, it->xy[i].y_mm);
        else cairo_move_to(cr, it->xy[i].x_mm, it->xy[i].y_mm);
    }
}

static void trace_circle(cairo_t *cr, const SgItem *it)
{
    cairo_arc(cr, it->xy[0].x_mm, it->xy[0].y_mm, it->radius_mm, 0, 360 * SG_DEG);
    cairo_close_path(cr);
}

/* y runs down here, so counter-clockwise as seen is the way of falling angles. */
static void trace_arc(cairo_t *cr, const SgItem *it)
{
    double from = -it->from_deg * SG_DEG, to = -(it->from_deg + it->sweep_deg) * SG_DEG;
    if (it->sweep_deg >= 360 || it->sweep_deg <= -360) trace_circle(cr, it);
    else if (it->sweep_deg > 0) cairo_arc_negative(cr, it->xy[0].x_mm, it->xy[0].y_mm, it->radius_mm, from, to);
    else cairo_arc(cr, it->xy[0].x_mm, it->xy[0].y_mm, it->radius_mm, from, to);
}

static void ink_item(SgPen *pen, const SgItem *it)
{
    cairo_t *cr = pen->cr;
    if (it->shape != SG_ITEM_WORDS) {
        set_colour(cr, it->rgb);
        cairo_new_path(cr);
    }
    switch (it->shape) {
    case SG_ITEM_STROKE:
        trace_points(cr, it);
        if (it->closed) cairo_close_path(cr);
        stroke(cr, it);
        break;
    case SG_ITEM_ARC:
        trace_arc(cr, it);
        stroke(cr, it);
        break;
    case SG_ITEM_DISC:
        trace_circle(cr, it);
        cairo_fill(cr);
        break;
    case SG_ITEM_FILL:
        trace_points(cr, it);
        cairo_fill(cr);
        break;
    case SG_ITEM_WORDS:
        if (pen->paragraphs) cairo_tag_begin(cr, "P", NULL);
        sg_ink_words(pen, it->words, it->xy[0], it->rgb);
        if (pen->paragraphs) cairo_tag_end(cr, "P");
        break;
    }
}

/* ---- the outlines of glyphs: the letters of sg_glyph_path ---- */
/* Reads `n` whole numbers; the path goes on behind them. */
static const char *read_numbers(const char *s, double *v, int n)
{
    for (int i = 0; i < n; i++) {
        bool minus = false;
        int value = 0;
        while (*s == ' ') s++;
        if (*s == '-') { minus = true; s++; }
        for (; *s >= '0' && *s <= '9'; s++) value = value * 10 + (*s - '0');
        v[i] = minus ? -value : value;
    }
    return s;
}

static void trace_bend(cairo_t *cr, const double *v)
{
    /* A curve of the second degree as one of the third. */
    cairo_rel_curve_to(cr, v[0] * 2 / 3, v[1] * 2 / 3, v[2] + (v[0] - v[2]) * 2 / 3, v[3] + (v[1] - v[3]) * 2 / 3, v[2], v[3]);
}

static void trace_outline(cairo_t *cr, const char *s)
{
    char letter = 0;
    double v[4];
    while (*s) {
        if ((*s >= 'a' && *s <= 'z') || *s == 'M') letter = *s++;
        switch (letter) {
        case 'M': s = read_numbers(s, v, 2); cairo_move_to(cr, v[0], v[1]); break;
        case 'l': s = read_numbers(s, v, 2); cairo_rel_line_to(cr, v[0], v[1]); break;
        case 'h': s = read_numbers(s, v, 1); cairo_rel_line_to(cr, v[0], 0); break;
        case 'v': s = read_numbers(s, v, 1); cairo_rel_line_to(cr, 0, v[0]); break;
        case 'q': s = read_numbers(s, v, 4); trace_bend(cr, v); break;
        case 'z': cairo_close_path(cr); letter = 0; break;
        default: return;
        }
    }
}

/* ---- fonts ---- */
static const cairo_user_data_key_t owned_face;

/* cairo may keep a font beyond its last use here, so each takes its face and its library along. */
static void end_face(void *data)
{
    FT_Face face = data;
    FT_Library library = face->generic.data;
    FT_Done_Face(face);
    FT_Done_FreeType(library);
}

static bool open_font(SgPen *pen, SgFace which)
{
    static const unsigned char *const bytes[] = { sg_ttf_upright, sg_ttf_italic, sg_ttf_bold };
    static const unsigned char *const ends[] = { sg_ttf_upright_end, sg_ttf_italic_end, sg_ttf_bold_end };
    _Static_assert(sizeof bytes / sizeof *bytes == SG_FACE_COUNT, "every face needs its font");
    FT_Library library;
    FT_Face face;
    if (pen->font[which] != NULL) return true;
    pen->trouble = "the built-in font cannot be opened";
    if (FT_Init_FreeType(&library) != 0) return false;
    if (FT_New_Memory_Face(library, bytes[which], (FT_Long)(ends[which] - bytes[which]), 0, &face) != 0) {
        FT_Done_FreeType(library);
        return false;
    }
    face->generic.data = library;
    pen->font[which] = cairo_ft_font_face_create_for_ft_face(face, FT_LOAD_NO_HINTING | FT_LOAD_NO_BITMAP);
    if (cairo_font_face_status(pen->font[which]) != CAIRO_STATUS_SUCCESS
        || cairo_font_face_set_user_data(pen->font[which], &owned_face, face, end_face) != CAIRO_STATUS_SUCCESS) {
        cairo_font_face_destroy(pen->font[which]);
        pen->font[which] = NULL;
        end_face(face);
        return false;
    }
    pen->face[which] = face;
    pen->trouble = NULL;
    return true;
}

void sg_ink_end(SgPen *pen)
{
    for (int f = 0; f < SG_FACE_COUNT; f++) cairo_font_face_destroy(pen->font[f]);
}

/* ---- words ---- */
static void fill_outline(SgPen *pen, const SgRun *run, const SgGlyphAt *g, SgPoint origin)
{
    double scale = run->size_mm / SG_UNITS_PER_EM;
    cairo_save(pen->cr);
    cairo_translate(pen->cr, origin.x_mm + g->x * scale, origin.y_mm);
    cairo_scale(pen->cr, scale, -scale);
    cairo_new_path(pen->cr);
    trace_outline(pen->cr, sg_glyph_path(run->face, g->glyph));
    cairo_restore(pen->cr);
    cairo_fill(pen->cr);
}

static int bytes_of_character(char lead)
{
    unsigned char c = (unsigned char)lead;
    return c < 0x80 ? 1 : c < 0xE0 ? 2 : c < 0xF0 ? 3 : 4;
}

/* A character that the font lacks (some signs are our own) is filled as an outline, and a space that stands for it holds
   its character, so that it is found and copied like the others. */
static void show_run(SgPen *pen, const SgRun *run, SgPoint origin)
{
    cairo_glyph_t glyph[SG_GLYPHS_AT_ONCE];
    cairo_text_cluster_t cluster[SG_GLYPHS_AT_ONCE];
    FT_Face face = pen->face[run->face];
    const char *text = run->chars.s, *end = run->chars.s + run->chars.n;
    cairo_set_font_face(pen->cr, pen->font[run->face]);
    cairo_set_font_size(pen->cr, run->size_mm);
    for (uint32_t i = 0; i < run->nglyphs;) {
        const char *from = text;
        int n = 0;
        for (; i < run->nglyphs && n < SG_GLYPHS_AT_ONCE; i++, n++) {
            const SgGlyphAt *g = &run->glyph[i];
            int bytes = text < end ? bytes_of_character(*text) : 0;
            FT_UInt index = g->glyph == 0 ? 0 : FT_Get_Char_Index(face, sg_face_code[g->glyph]);
            if (index == 0 && g->glyph != 0) {
                fill_outline(pen, run, g, origin);
                index = FT_Get_Char_Index(face, ' ');
            }
            glyph[n] = (cairo_glyph_t){ index, origin.x_mm + g->x * run->size_mm / SG_UNITS_PER_EM, origin.y_mm };
            cluster[n] = (cairo_text_cluster_t){ bytes, 1 };
            text += bytes;
        }
        cairo_show_text_glyphs(pen->cr, from, (int)(text - from), glyph, n, cluster, n, 0);
    }
}

void sg_ink_words(SgPen *pen, const SgWords *w, SgPoint at, uint32_t rgb)
{
    set_colour(pen->cr, rgb);
    for (uint32_t r = 0; r < w->nruns; r++) {
        const SgRun *run = &w->run[r];
        SgPoint origin = sg_pt(at.x_mm + run->x_mm, at.y_mm - run->rise_mm);
        if (pen->outlines) {
            for (uint32_t i = 0; i < run->nglyphs; i++) fill_outline(pen, run, &run->glyph[i], origin);
        } else if (run->nglyphs > 0 && open_font(pen, run->face)) {
            show_run(pen, run, origin);
        }
    }
}

/* ---- pages ---- */
/* What is faded is faded as a whole, so that its own parts do not show through each other. */
static bool begin_look(cairo_t *cr, char look)
{
    if (look == 'f') cairo_push_group(cr);
    return look != 'h';
}

static void end_look(cairo_t *cr, char look, double faded)
{
    if (look != 'f') return;
    cairo_pop_group_to_source(cr);
    cairo_paint_with_alpha(cr, faded);
}

void sg_ink_paper(SgPen *pen, const SgPage *page)
{
    if (page->transparent) return;
    set_colour(pen->cr, page->paper_rgb);
    cairo_paint(pen->cr);
}

void sg_ink_items(SgPen *pen, const SgPage *page, const SgChains *chain, int step, uint32_t from, uint32_t to)
{
    const SgItem *item = page->item;
    uint32_t end = 0;
    for (uint32_t i = from; i < to && item[i].step <= step; i = end) {
        char look = sg_output_look(&item[i], step);
        end = i + 1;
        if (item[i].light && chain->follows[i]) continue;
        if (!item[i].light) end = sg_output_group_end(page, i);
        if (end > to) end = to;
        if (!begin_look(pen->cr, look)) continue;
        if (item[i].light) for (uint32_t j = i; j != SG_NONE; j = chain->next[j]) ink_item(pen, &item[j]);
        else for (uint32_t j = i; j < end; j++) ink_item(pen, &item[j]);
        end_look(pen->cr, look, page->faded);
    }
}
