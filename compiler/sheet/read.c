/* What is read off a drawing. In: the images as drawn, an expression. Out: its value, had the figure's images stood there. */
#include "sheet/build.h"

static void find_images(const SgSolved *s, const SgExpr *e, SgImagesRead *found)
{
    if (e->op == SG_E_SYMBOL && !e->in_file) {
        const SgSymbol *sym = &s->figure->scope->symbol[e->symbol];
        const SgExpr *value = sym->kind == SG_KIND_let ? s->figure->scope->statement[sym->statement].definition : NULL;
        SgChain chain;
        if (sym->kind == SG_KIND_image && !sg_image_chain(s, e->symbol, &chain)) found->apart = true;
        else if (sym->kind == SG_KIND_image && (found->last == UINT32_MAX || sg_chain_begins(&chain, &found->chain))) {
            found->last = e->symbol;
            found->chain = chain;
        } else if (sym->kind == SG_KIND_image && !sg_chain_begins(&found->chain, &chain)) found->apart = true;
        if (value && !sym->parameter) find_images(s, value, found);
    }
    for (uint32_t i = 0; i < e->nargs; i++) find_images(s, e->arg[i], found);
}

SgImagesRead sg_sheet_images(const SgSolved *s, const SgExpr *e)
{
    SgImagesRead found = { .last = UINT32_MAX };
    find_images(s, e, &found);
    return found;
}

bool sg_sheet_reads(const SgSolved *s, const SgExpr *e, const SgPaperCase *k)
{
    SgImagesRead found = sg_sheet_images(s, e);
    return found.last != UINT32_MAX && !found.apart && sg_chain_begins(&k->chain, &found.chain);
}

/* An image as it is read off the drawing; before: what it is compared with, in its height on paper. */
static void read_image(const SgSolved *s, const SgPaperCase *k, SgImage *im, const SgPencilReading *r, double before_mm)
{
    im->last.distance_mm = r->distance_mm / s->along;
    im->last.real = r->distance_mm > 0;
    im->height_mm = r->height_mm / s->up;
    im->magnification = r->height_mm / before_mm;
    im->total_magnification = r->height_mm / k->object_mm;
    im->upright = im->total_magnification > 0;
    im->tip = sg_pt(r->tip.x_mm / s->along, r->tip.y_mm / s->up);
    im->foot = sg_pt(r->foot.x_mm / s->along, r->foot.y_mm / s->up);
}

static double height_of(const SgSolved *s, const SgPaperCase *k, const SgPencilDrawing *d, const SgImage *im)
{
    SgChain before;
    if (im->of == k->chain.object || !sg_image_chain(s, im->of, &before)) return k->object_mm;
    return before.n > k->first ? d->image[before.n - k->first - 1].height_mm : s->thing[im->of].image.height_mm * s->up;
}

/* The expression, told from what is read off the drawing of its images. */
SgValue sg_sheet_read(SgSolved *s, const SgPaperCase *k, const SgExpr *e, const SgPencilDrawing *d)
{
    SgArenaMark mark = sg_arena_mark(s->c->arena);
    uint32_t n = s->figure->scope->nsymbols;
    SgImage *kept = SG_ARRAY(s->c->arena, SgImage, n);
    for (uint32_t i = 0; i < n; i++) kept[i] = s->thing[i].image;
    for (uint32_t i = 0; i < n; i++) {
        SgChain part;
        if (s->figure->scope->symbol[i].kind != SG_KIND_image || s->thing[i].state != SG_VALID || !sg_image_chain(s, i, &part)) continue;
        if (part.n <= k->first || !sg_chain_begins(&k->chain, &part)) continue;
        read_image(s, k, &s->thing[i].image, &d->image[part.n - k->first - 1], height_of(s, k, d, &kept[i]));
    }
    SgValue v = sg_eval(s, e);
    for (uint32_t i = 0; i < n; i++) s->thing[i].image = kept[i];
    if (v.type != SG_TYPE_TEXT) sg_arena_reset(s->c->arena, mark);
    return v;
}
