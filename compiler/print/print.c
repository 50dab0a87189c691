/* print: pages to PDF and PNG with cairo. In: pages. Out: bytes, or what cairo or libpng found wrong.
   Never lets a jump of the arena pass through cairo: what it writes is gathered outside the arena and copied last. */
#include "print/print.h"

#include <cairo-pdf.h>
#include <math.h>
#include <png.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "print/ink.h"
#include "print/reading.h"

#define SG_MM_PT (72.0 / 25.4)

/* ---- bytes outside the arena ---- */
typedef struct { unsigned char *v; size_t n, cap; bool too_many, no_memory; } Bytes;

static bool take(Bytes *b, const unsigned char *data, size_t n)
{
    if (n > SG_PRINT_MOST_BYTES - b->n) {
        b->too_many = true;
        return false;
    }
    if (b->n + n > b->cap) {
        size_t cap = (b->n + n) * 2;
        unsigned char *v = realloc(b->v, cap);
        if (v == NULL) {
            b->no_memory = true;
            return false;
        }
        b->v = v;
        b->cap = cap;
    }
    memcpy(b->v + b->n, data, n);
    b->n += n;
    return true;
}

static bool take_anew(void *bytes, const unsigned char *data, size_t n) { return take(bytes, data, n); }

static cairo_status_t take_from_cairo(void *bytes, const unsigned char *data, unsigned int n)
{
    return take(bytes, data, n) ? CAIRO_STATUS_SUCCESS : CAIRO_STATUS_WRITE_ERROR;
}

/* `cairo` as its status tells; the bytes go to the arena only when all is well and cairo holds nothing any more. */
static SgPrinted finish(Bytes *b, cairo_status_t cairo, const char *trouble, SgBuf *out)
{
    SgPrinted done = { SG_PRINT_DONE, NULL };
    if (b->too_many) done.state = SG_PRINT_LARGE;
    else if (b->no_memory || cairo == CAIRO_STATUS_NO_MEMORY) done.state = SG_PRINT_NO_MEMORY;
    else if (trouble != NULL || cairo != CAIRO_STATUS_SUCCESS) done = (SgPrinted){ SG_PRINT_FAILED, trouble != NULL ? trouble : cairo_status_to_string(cairo) };
    if (done.state != SG_PRINT_DONE) {
        free(b->v);
        return done;
    }
    char *room = sg_arena_try(out->arena, b->n + 1);       /* tried: a jump would lose what stands outside */
    if (room != NULL) {
        memcpy(room, b->v, b->n);
        *out = (SgBuf){ .arena = out->arena, .v = room, .n = (uint32_t)b->n, .cap = (uint32_t)b->n + 1 };
    }
    free(b->v);
    if (room == NULL) done.state = SG_PRINT_NO_MEMORY;
    return done;
}

/* ---- PDF ---- */
/* A page that nothing describes is one of text: its words are read out, and its pictures told. */
static bool has_figure(const SgPage *page) { return page->describe.n > 0 || page->nsteps > 0; }

static void caption(SgPen *pen, const SgPage *page, const SgWords *line, uint32_t n)
{
    SgPoint at = sg_output_caption_at(page, (int)page->nsteps);
    for (uint32_t i = 0; i < n; i++) sg_ink_words(pen, &line[i], sg_pt(at.x_mm, at.y_mm + i * page->caption_lead_mm), page->caption_rgb);
}

/* One page of paper: a figure after `step`, with a strip below it and perhaps a caption in it. */
typedef struct {
    const SgPage *page;
    const SgChains *chain;
    int step;
    bool strip;
    const SgWords *line; uint32_t nlines;
} Leaf;
typedef struct { SgArena *arena; const SgPdfOptions *options; SG_VEC(Leaf) leaf; SG_VEC(SgTold) told; } Plan;

static const char *language_of(SgArena *a, const SgPage *page)
{
    SgStr language = page->wording->text[SG_TEXT_language];
    return sg_str_keep(a, language.s, language.n).s;
}

static void add_leaf(Plan *p, Leaf leaf)
{
    SG_PUSH(p->arena, &p->leaf, leaf);
    for (uint32_t i = 0; i < leaf.page->npictures && !has_figure(leaf.page); i++) {
        SgStr picture = leaf.page->picture[i].told;
        SgTold one = { sg_str_keep(p->arena, picture.s, picture.n).s, language_of(p->arena, leaf.page), p->leaf.n - 1 };
        SG_PUSH(p->arena, &p->told, one);
    }
    if (!has_figure(leaf.page)) return;
    SgBuf told = { .arena = p->arena };
    SgStr more = sg_page_told(p->arena, leaf.page, leaf.step);
    sg_put_str(&told, leaf.page->title);
    char end = told.n > 0 ? told.v[told.n - 1] : ' ';
    if (told.n > 0 && more.n > 0) sg_puts(&told, end == '.' || end == '?' || end == '!' ? " " : ". ");
    sg_put_str(&told, more);
    sg_put_char(&told, '\0');
    SgTold in_words = { told.v, language_of(p->arena, leaf.page), p->leaf.n - 1 };
    SG_PUSH(p->arena, &p->told, in_words);
}

static void plan_page(Plan *p, const SgPage *page)
{
    SgChains *chain = SG_NEW(p->arena, SgChains);
    int last = (int)page->nsteps;
    *chain = sg_output_chains(p->arena, page);
    if (p->options->step >= 0 && p->options->step < last) last = p->options->step;
    if (p->options->final || page->nsteps == 0) {
        add_leaf(p, (Leaf){ .page = page, .chain = chain, .step = last });
        return;
    }
    add_leaf(p, (Leaf){ .page = page, .chain = chain, .strip = true });
    for (int k = 1; k <= last; k++) {
        const SgPageStep *step = &page->step[k - 1];
        Leaf leaf = { .page = page, .chain = chain, .strip = true, .step = k - 1, .line = step->ask_line, .nlines = step->nask };
        if (step->nask > 0) add_leaf(p, leaf);
        leaf.step = k;
        leaf.line = step->line;
        leaf.nlines = step->nlines;
        add_leaf(p, leaf);
    }
}

/* A page of text: its words are paragraphs, its pictures figures. */
static void draw_text(SgPen *pen, const Leaf *l)
{
    const SgPage *page = l->page;
    uint32_t at = 0;
    for (uint32_t k = 0; k <= page->npictures; k++) {
        const SgPicture *picture = k < page->npictures ? &page->picture[k] : NULL;
        pen->paragraphs = true;
        sg_ink_items(pen, page, l->chain, l->step, at, picture != NULL ? picture->first : page->nitems);
        pen->paragraphs = false;
        if (picture == NULL) return;
        cairo_tag_begin(pen->cr, "Figure", NULL);
        sg_ink_items(pen, page, l->chain, l->step, picture->first, picture->end);
        cairo_tag_end(pen->cr, "Figure");
        at = picture->end;
    }
}

static void draw_leaf(SgPen *pen, cairo_surface_t *surface, const Leaf *l)
{
    const SgPage *page = l->page;
    cairo_pdf_surface_set_size(surface, page->w_mm * SG_MM_PT, (page->h_mm + (l->strip ? page->strip_mm : 0)) * SG_MM_PT);
    cairo_save(pen->cr);
    if (page->paper_rgb != 0xFFFFFF) sg_ink_paper(pen, page);
    cairo_scale(pen->cr, SG_MM_PT, SG_MM_PT);
    cairo_save(pen->cr);
    cairo_rectangle(pen->cr, 0, 0, page->w_mm, page->h_mm);        /* rays end at the frame */
    cairo_clip(pen->cr);
    if (has_figure(page)) {
        cairo_tag_begin(pen->cr, "Figure", NULL);
        sg_ink_items(pen, page, l->chain, l->step, 0, page->nitems);
        cairo_tag_end(pen->cr, "Figure");
    } else {
        draw_text(pen, l);
    }
    cairo_restore(pen->cr);
    if (l->nlines > 0) {
        cairo_tag_begin(pen->cr, "P", NULL);
        caption(pen, page, l->line, l->nlines);
        cairo_tag_end(pen->cr, "P");
    }
    cairo_restore(pen->cr);
    cairo_show_page(pen->cr);
}

/* In the outline stands each figure once, at its first page. */
static void draw_leaves(SgPen *pen, cairo_surface_t *surface, const Leaf *leaf, uint32_t n, const char *const *name)
{
    for (uint32_t i = 0; i < n; i++) {
        char at[32];
        snprintf(at, sizeof at, "page=%u", (unsigned)i + 1);
        if (i == 0 || (leaf[i].page != leaf[i - 1].page && strcmp(name[i], name[i - 1]) != 0))
            cairo_pdf_surface_add_outline(surface, CAIRO_PDF_OUTLINE_ROOT, name[i], at, CAIRO_PDF_OUTLINE_FLAG_OPEN);
        draw_leaf(pen, surface, &leaf[i]);
    }
}

static void put_date(SgBuf *b, int64_t made_s)
{
    /* Days to a date: the civil calendar counted from 1 March, in eras of 400 years of 146097 days. */
    int64_t days = made_s / 86400, s = made_s % 86400, z = days + 719468, era = z / 146097, of_era = z - era * 146097;
    int64_t year = (of_era - of_era / 1460 + of_era / 36524 - of_era / 146096) / 365, of_year = of_era - (365 * year + year / 4 - year / 100);
    int64_t month = (5 * of_year + 2) / 153, day = of_year - (153 * month + 2) / 5 + 1;
    month = month < 10 ? month + 3 : month - 9;
    year += era * 400 + (month <= 2);
    sg_putf(b, "%04d-%02d-%02dT%02d:%02d:%02dZ", (int)year, (int)month, (int)day, (int)(s / 3600), (int)(s / 60 % 60), (int)(s % 60));
    sg_put_char(b, '\0');
}

static SgPrinted print_pdf(const SgPage *const *page, uint32_t npages, const SgPdfOptions *o, SgBuf *out)
{
    /* All the arena gives is taken first. */
    SgArena *a = out->arena;
    SgBuf date = { .arena = a };
    Plan plan = { .arena = a, .options = o };
    const char *title = sg_str_keep(a, o->title.s, o->title.n).s, *creator = sg_str_keep(a, o->creator.s, o->creator.n).s;
    const char *language = language_of(a, page[0]);
    put_date(&date, o->made_s);
    for (uint32_t i = 0; i < npages; i++) plan_page(&plan, page[i]);
    const char **name = SG_ARRAY(a, const char *, plan.leaf.n);
    for (uint32_t i = 0; i < plan.leaf.n; i++) name[i] = sg_str_keep(a, plan.leaf.v[i].page->title.s, plan.leaf.v[i].page->title.n).s;
    Bytes bytes = { 0 }, whole = { 0 };
    cairo_surface_t *surface = cairo_pdf_surface_create_for_stream(take_from_cairo, &bytes, 72, 72);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE, title);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATOR, creator);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, date.v);
    SgPen pen = { .cr = cairo_create(surface) };
    draw_leaves(&pen, surface, plan.leaf.v, plan.leaf.n, name);
    cairo_status_t status = cairo_status(pen.cr);
    cairo_destroy(pen.cr);
    cairo_surface_finish(surface);
    if (status == CAIRO_STATUS_SUCCESS) status = cairo_surface_status(surface);
    cairo_surface_destroy(surface);
    sg_ink_end(&pen);
    if (status != CAIRO_STATUS_SUCCESS || pen.trouble != NULL || bytes.no_memory) return finish(&bytes, status, pen.trouble, out);
    SgAloud reading = { language, plan.told.v, plan.told.n };
    const char *trouble = sg_print_reading(bytes.v, bytes.n, &reading, take_anew, &whole);
    free(bytes.v);
    return finish(&whole, status, trouble, out);
}

/* ---- PNG ---- */
uint32_t sg_print_pixels(double mm, uint32_t dpi)
{
    double px = floor(mm * dpi / 25.4 + 0.5);
    return px < 1 ? 1 : px > SG_PRINT_MOST_SIDE + 1 ? SG_PRINT_MOST_SIDE + 1 : (uint32_t)px;
}

static void png_take(png_structp png, png_bytep data, size_t n)
{
    if (!take(png_get_io_ptr(png), data, n)) png_error(png, "it could not be kept");
}

static void png_settle(png_structp png) { (void)png; }

/* cairo's pixels are native words with colours multiplied by their opacity; a PNG has bytes R G B A that are not. */
static void unpremultiply(unsigned char *row, const unsigned char *from, uint32_t w, bool transparent)
{
    for (uint32_t x = 0; x < w; x++) {
        uint32_t p;
        memcpy(&p, from + 4 * x, 4);
        uint32_t a = transparent ? p >> 24 : 255, c[3] = { p >> 16 & 255, p >> 8 & 255, p & 255 };
        for (int i = 0; i < 3; i++) *row++ = (unsigned char)(a == 255 ? c[i] : a == 0 ? 0 : (c[i] * 255 + a / 2) / a);
        if (transparent) *row++ = (unsigned char)a;
    }
}

/* Not inlined: the function that calls setjmp holds nothing that the jump could spoil. */
__attribute__((noinline))
static bool encode(png_structp png, png_infop info, Bytes *bytes, cairo_surface_t *image, unsigned char *row, bool transparent, uint32_t dpi)
{
    if (setjmp(png_jmpbuf(png))) return false;
    uint32_t w = (uint32_t)cairo_image_surface_get_width(image), h = (uint32_t)cairo_image_surface_get_height(image);
    uint32_t per_m = (uint32_t)(dpi / 0.0254 + 0.5);
    const unsigned char *data = cairo_image_surface_get_data(image);
    size_t stride = (size_t)cairo_image_surface_get_stride(image);
    png_set_write_fn(png, bytes, png_take, png_settle);
    png_set_IHDR(png, info, w, h, 8, transparent ? PNG_COLOR_TYPE_RGB_ALPHA : PNG_COLOR_TYPE_RGB, PNG_INTERLACE_NONE, PNG_COMPRESSION_TYPE_DEFAULT, PNG_FILTER_TYPE_DEFAULT);
    png_set_sRGB(png, info, PNG_sRGB_INTENT_PERCEPTUAL);
    png_set_pHYs(png, info, per_m, per_m, PNG_RESOLUTION_METER);
    png_set_compression_level(png, 6);
    png_set_filter(png, 0, PNG_FILTER_NONE | PNG_FILTER_UP);
    png_write_info(png, info);
    for (uint32_t y = 0; y < h; y++) {
        unpremultiply(row, data + y * stride, w, transparent);
        png_write_row(png, row);
    }
    png_write_end(png, info);
    return true;
}

static const char *write_png(Bytes *bytes, cairo_surface_t *image, bool transparent, uint32_t dpi)
{
    unsigned char *row = malloc((size_t)cairo_image_surface_get_width(image) * 4);
    png_structp png = png_create_write_struct(PNG_LIBPNG_VER_STRING, NULL, NULL, NULL);
    png_infop info = png != NULL ? png_create_info_struct(png) : NULL;
    bool ready = row != NULL && info != NULL, done = ready && encode(png, info, bytes, image, row, transparent, dpi);
    png_destroy_write_struct(&png, &info);
    free(row);
    if (!ready) bytes->no_memory = true;
    return done || !ready ? NULL : "libpng could not write the picture";
}

static SgPrinted print_png(const SgPage *page, const SgPngOptions *o, SgBuf *out)
{
    uint32_t w = sg_print_pixels(page->w_mm, o->dpi), h = sg_print_pixels(page->h_mm, o->dpi);
    if (w > SG_PRINT_MOST_SIDE || h > SG_PRINT_MOST_SIDE || (uint64_t)w * h > SG_PRINT_MOST_PIXELS) return (SgPrinted){ SG_PRINT_LARGE, NULL };
    SgChains chain = sg_output_chains(out->arena, page);
    int last = o->step >= 0 && o->step < (int)page->nsteps ? o->step : (int)page->nsteps;
    Bytes bytes = { 0 };
    cairo_surface_t *image = cairo_image_surface_create(page->transparent ? CAIRO_FORMAT_ARGB32 : CAIRO_FORMAT_RGB24, (int)w, (int)h);
    SgPen pen = { .cr = cairo_create(image), .outlines = true };
    sg_ink_paper(&pen, page);
    cairo_scale(pen.cr, o->dpi / 25.4, o->dpi / 25.4);
    sg_ink_items(&pen, page, &chain, last, 0, page->nitems);
    cairo_surface_flush(image);
    cairo_status_t status = cairo_status(pen.cr);
    const char *trouble = status == CAIRO_STATUS_SUCCESS ? write_png(&bytes, image, page->transparent, o->dpi) : NULL;
    cairo_destroy(pen.cr);
    cairo_surface_destroy(image);
    sg_ink_end(&pen);
    return finish(&bytes, status, trouble, out);
}

const SgPrinter sg_printer = { print_pdf, print_png };
