/* driver: what the stages made, as products. In: pages and slides of a run. Out: products, each whole, or a fault.
   Never solves or lays out. */
#include "run.h"

#include "output/facts.h"
#include "output/numbers.h"
#include "output/odp.h"
#include "output/output.h"
#include "output/slides.h"
#include "paper/notes.h"

void sg_run_product(Run *r, SgStr figure, const SgBuf *b)
{
    SgProduct p = { .figure = sg_str_keep(r->c.arena, figure.s, figure.n).s, .bytes = b->n > 0 ? b->v : "", .length = b->n, .title = "", .brief = "", .describe = "" };
    r->product_bytes += b->n;
    SG_PUSH(r->c.arena, &r->products, p);
}

static bool is_still(const Run *r) { return r->job->still || r->job->frames; }

/* In short as far as it is shown: what is given, then each step by its caption, the whole at last. */
static SgStr brief_at(SgArena *a, const SgPage *page, int step)
{
    enum { BRIEF_MOST = 150 };
    if (step < 0 || step >= (int)page->nsteps) return page->brief;
    if (step == 0) return page->brief_given;
    const SgPageStep *k = &page->step[step - 1];
    SgStr number = sg_format(a, "%d", step), last = sg_format(a, "%u", page->nsteps);
    SgStr told = SG_FILLED(a, page->wording, SG_TEXT_player_told, { "step", number }, { "last", last }, { "caption", k->plain });
    bool fits = k->plain.n > 0 && sg_utf8_count(told) <= BRIEF_MOST;
    return fits ? told : SG_FILLED(a, page->wording, SG_TEXT_player_step_of, { "step", number }, { "last", last });
}

/* What lists of outputs tell of the drawing that was added last; step: the last one it shows, -1 all. */
static void add_facts(Run *r, const SgPage *page, int step)
{
    SgProduct *p = &r->products.v[r->products.n - 1];
    SgPageFacts facts = sg_output_facts(r->c.arena, page, !is_still(r) && !r->job->final);
    p->title = sg_str_keep(r->c.arena, page->title.s, page->title.n).s;
    SgStr brief = brief_at(r->c.arena, page, step), told = sg_page_told(r->c.arena, page, step < 0 ? (int)page->nsteps : step);
    p->brief = sg_str_keep(r->c.arena, brief.s, brief.n).s;
    p->describe = sg_str_keep(r->c.arena, told.s, told.n).s;
    p->width_mm = page->w_mm;
    p->height_mm = page->h_mm;
    p->steps = page->nsteps;
    p->face = facts.face;
    p->nfaces = facts.nfaces;
    p->rgb = facts.rgb;
    p->nrgb = facts.nrgb;
}

/* ---- drawings ---- */
static bool printed(Run *r, SgPrinted done)
{
    switch (done.state) {
    case SG_PRINT_DONE: return true;
    case SG_PRINT_NO_MEMORY: sg_puts(sg_run_fault(r, SG_MACHINE_FAILED), "memory ran out; nothing was made\n"); return false;
    case SG_PRINT_FAILED: sg_putf(sg_run_fault(r, SG_MACHINE_FAILED), "it could not be printed: %s\n", done.why); return false;
    case SG_PRINT_LARGE: break;
    }
    if (r->job->form == SG_FORM_PNG) sg_puts(sg_run_fault(r, SG_COMMAND_WRONG), "this picture would pass 32767 pixels a side or 64 million in all; take a smaller --dpi\n");
    else sg_puts(sg_run_fault(r, SG_SCRIPT_WRONG), "this PDF would pass 64 MiB; choose with --figure NAME\n");
    return false;
}

/* As it stands after `step`, -1 at last. */
static void print_png(Run *r, const SgPage *page, int step)
{
    const SgJob *job = r->job;
    SgPngOptions o = { .dpi = job->dpi ? job->dpi : SG_PRINT_DPI, .step = step };
    SgBuf b = { .arena = r->c.arena };
    if (r->faults.n > 0 || !printed(r, job->printer->png(page, &o, &b))) return;
    sg_run_product(r, page->id, &b);
    add_facts(r, page, step);
}

void sg_run_png(Run *r, const SgPage *page) { print_png(r, page, r->job->stop_at_step ? (int)r->job->step : -1); }

static bool print_pdf(Run *r, const SgPage *const *page, uint32_t npages, SgStr name)
{
    const SgJob *job = r->job;
    SgPdfOptions o = { .title = page[0]->title, .creator = SG_LIT("sagitta " SG_VERSION), .made_s = job->made_s,
        .step = job->stop_at_step ? (int)job->step : -1, .final = job->final };
    SgBuf b = { .arena = r->c.arena };
    if (!printed(r, job->printer->pdf(page, npages, &o, &b))) return false;
    sg_run_product(r, name, &b);
    return true;
}

void sg_run_pdf(Run *r)
{
    if (!r->job->each) print_pdf(r, r->pages.v, r->pages.n, SG_LIT(""));
    for (uint32_t i = 0; r->job->each && i < r->pages.n && r->product_bytes <= SG_OUTPUT_LIMIT; i++) {
        if (!print_pdf(r, &r->pages.v[i], 1, r->pages.v[i]->id)) return;
        add_facts(r, r->pages.v[i], -1);
    }
}

static void draw_view(Run *r, SgStr name, const SgPage *page, int step)
{
    if (r->job->form == SG_FORM_PNG) {
        print_png(r, page, step);
        return;
    }
    SgSvgOptions options = { .still = is_still(r), .step = step };
    SgBuf b = { .arena = r->c.arena };
    sg_output_svg(page, options, &b);
    sg_run_product(r, name, &b);
    add_facts(r, page, step);
}

/* A figure's one view, or one for what is given and one for each step. */
static void draw_views(Run *r, SgStr name, const SgPage *page)
{
    uint32_t last = r->job->stop_at_step && r->job->step < page->nsteps ? r->job->step : page->nsteps;
    if (!r->job->frames) draw_view(r, name, page, last < page->nsteps ? (int)last : -1);
    for (uint32_t k = 0; r->job->frames && k <= last && r->product_bytes <= SG_OUTPUT_LIMIT; k++) {
        uint32_t before = r->products.n;
        draw_view(r, name, page, k < page->nsteps ? (int)k : -1);
        if (r->products.n == before) return;
        SgStr frame = sg_format(r->c.arena, "-%u", (unsigned)k);
        r->products.v[before].frame = sg_str_keep(r->c.arena, frame.s, frame.n).s;
    }
}

void sg_run_page(Run *r, const SgPage *page)
{
    if (r->job->kind != SG_JOB_DRAW || sg_errors(&r->c) > 0 || r->product_bytes > SG_OUTPUT_LIMIT) return;
    if (r->job->form == SG_FORM_PDF) SG_PUSH(r->c.arena, &r->pages, page);
    else draw_views(r, page->id, page);
}

/* ---- notes and slides ---- */
SgSlideRatio sg_run_ratio(const Run *r) { return r->job->narrow ? SG_SLIDE_4_3 : SG_SLIDE_16_9; }

/* On paper: the same texts, printed. */
static void print_notes(Run *r)
{
    SgArena *a = r->c.arena;
    SgPaperNotes *notes = SG_ARRAY(a, SgPaperNotes, r->notes.n + 1);
    for (uint32_t i = 0; i < r->notes.n; i++) {
        const SgNotesFigure *f = &r->notes.v[i];
        SgPaperRow *row = SG_ARRAY(a, SgPaperRow, f->nnumbers + 1);
        for (uint32_t k = 0; k < f->nnumbers; k++) row[k] = (SgPaperRow){ f->number[k].name, f->number[k].values };
        notes[i] = (SgPaperNotes){ f->page, row, f->nnumbers, SG_NOTES_SCALE };
    }
    uint32_t n;
    const SgPage *const *page = sg_paper_notes(&r->c, notes, r->notes.n, &n);
    SgStr title = SG_FILLED(a, r->notes.v[0].page->wording, SG_TEXT_notes_title_of, { "figure", r->notes.v[0].page->title });
    SgPdfOptions o = { .title = title, .creator = SG_LIT("sagitta " SG_VERSION), .made_s = r->job->made_s, .step = -1, .final = true };
    SgBuf b = { .arena = a };
    if (printed(r, r->job->printer->pdf(page, n, &o, &b))) sg_run_product(r, SG_LIT(""), &b);
}

void sg_run_notes(Run *r)
{
    if (r->job->form == SG_FORM_PDF && r->notes.n > 0) { print_notes(r); return; }
    SgBuf b = { .arena = r->c.arena };
    sg_output_notes(r->notes.v, r->notes.n, &b);
    if (b.n > SG_NOTES_LIMIT) sg_puts(sg_run_fault(r, SG_SCRIPT_WRONG), "the notes pass 64 MiB; choose with --figure NAME\n");
    else sg_run_product(r, SG_LIT(""), &b);
}

static bool put_slides(Run *r, uint32_t first, uint32_t n, SgStr name)
{
    SgBuf b = { .arena = r->c.arena };
    sg_output_slides(&(SgSlides){ r->slides.v + first, r->grounds.v + first, n, sg_run_ratio(r) }, &b);
    if (b.n > SG_SLIDES_LIMIT) sg_puts(sg_run_fault(r, SG_SCRIPT_WRONG), "the slides pass 64 MiB; choose with --figure NAME\n");
    else sg_run_product(r, name, &b);
    return b.n <= SG_SLIDES_LIMIT;
}

void sg_run_slides(Run *r)
{
    if (!r->job->each) put_slides(r, 0, r->slides.n, SG_LIT(""));
    for (uint32_t i = 0; r->job->each && i < r->slides.n && r->product_bytes <= SG_OUTPUT_LIMIT; i++) {
        if (!put_slides(r, i, 1, r->slides.v[i]->id)) return;
        add_facts(r, r->slides.v[i], -1);
    }
}

static void put_presentation(Run *r, const SgPage *const *slide, uint32_t n, SgStr name)
{
    SgOdpPart part[SG_ODP_PARTS];
    sg_output_odp(r->c.arena, slide, n, SG_VERSION, part);
    for (uint32_t i = 0; i < SG_ODP_PARTS; i++) {
        SgBuf b = { .arena = r->c.arena };
        sg_put_str(&b, part[i].bytes);
        sg_run_product(r, name, &b);
        r->products.v[r->products.n - 1].part = part[i].name;
    }
}

void sg_run_presentation(Run *r)
{
    if (!r->job->each) put_presentation(r, r->slides.v, r->slides.n, SG_LIT(""));
    for (uint32_t i = 0; r->job->each && i < r->slides.n && r->product_bytes <= SG_OUTPUT_LIMIT; i++) {
        put_presentation(r, &r->slides.v[i], 1, r->slides.v[i]->id);
        add_facts(r, r->slides.v[i], -1);                  /* with the last of its parts */
    }
}
