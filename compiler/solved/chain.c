/* The way of light from an object to an image, element by element. In: solved images, each of an object or of another image.
   Out: what light meets, in order. */
#include "solved/build.h"

bool sg_image_chain(const SgSolved *s, uint32_t image, SgChain *chain)
{
    *chain = (SgChain){ .object = image };
    while (s->figure->scope->symbol[chain->object].kind == SG_KIND_image) {
        const SgImage *im = &s->thing[chain->object].image;
        if (s->thing[chain->object].state != SG_VALID || chain->n + im->nby > SG_CHAIN) return false;
        for (uint32_t i = chain->n; i--;) chain->by[i + im->nby] = chain->by[i];
        for (uint32_t i = 0; i < im->nby; i++) chain->by[i] = im->by[i];
        chain->n += im->nby;
        chain->object = im->of;
    }
    return true;
}

bool sg_chain_begins(const SgChain *whole, const SgChain *part)
{
    if (part->object != whole->object || part->n > whole->n) return false;
    for (uint32_t i = 0; i < part->n; i++) if (part->by[i] != whole->by[i]) return false;
    return true;
}

SgStr sg_plain_name(const SgSolved *s, uint32_t symbol)
{
    SgStr name = sg_name_of(s, symbol);
    SgBuf b = { .arena = s->c->arena };
    for (uint32_t i = 0; i < name.n; i++) {
        if (name.s[i] == '_') sg_put_char(&b, '\\');
        sg_put_char(&b, name.s[i]);
    }
    return sg_buf_str(&b);
}
