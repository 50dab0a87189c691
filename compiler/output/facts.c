/* output/facts: what a drawn page holds. In: a page. Out: faces and colours, each once, in an order of their own.
   Never looks at how an output writes them. */
#include "output/facts.h"

static const char *const FACE[SG_FACE_COUNT] = { "Liberation Sans", "Liberation Sans Italic", "Liberation Sans Bold" };

static void see_words(const SgWords *w, bool *face)
{
    for (uint32_t i = 0; w != NULL && i < w->nruns; i++)
        if (w->run[i].nglyphs > 0) face[w->run[i].face] = true;
}

static void see_captions(const SgPage *page, bool *face)
{
    for (uint32_t k = 0; k < page->nsteps; k++) {
        for (uint32_t i = 0; i < page->step[k].nlines; i++) see_words(&page->step[k].line[i], face);
        for (uint32_t i = 0; i < page->step[k].nask; i++) see_words(&page->step[k].ask_line[i], face);
    }
}

typedef SG_VEC(uint32_t) Colours;
static void see_rgb(SgArena *a, Colours *rgb, uint32_t one)
{
    uint32_t at = 0;
    while (at < rgb->n && rgb->v[at] < one) at++;
    if (at < rgb->n && rgb->v[at] == one) return;
    SG_PUSH(a, rgb, one);
    for (uint32_t k = rgb->n - 1; k > at; k--) rgb->v[k] = rgb->v[k - 1];
    rgb->v[at] = one;
}

SgPageFacts sg_output_facts(SgArena *a, const SgPage *page, bool captions)
{
    bool seen[SG_FACE_COUNT] = { false };
    Colours rgb = { 0 };
    const char **face = SG_ARRAY(a, const char *, SG_FACE_COUNT);
    uint32_t nfaces = 0;
    if (!page->transparent) see_rgb(a, &rgb, page->paper_rgb);
    for (uint32_t i = 0; i < page->nitems; i++) {
        if (page->item[i].shape == SG_ITEM_WORDS) see_words(page->item[i].words, seen);
        see_rgb(a, &rgb, page->item[i].rgb);
    }
    if (captions && page->nsteps > 0) see_rgb(a, &rgb, page->caption_rgb);
    if (captions) see_captions(page, seen);
    for (int f = 0; f < SG_FACE_COUNT; f++)
        if (seen[f]) face[nfaces++] = FACE[f];
    return (SgPageFacts){ face, nfaces, rgb.v, rgb.n };
}
