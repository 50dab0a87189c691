/* output/order: see order.h. In: a page. Out: the order of drawing and the places of captions. Never writes a byte. */
#include "output/order.h"

#define SG_CAPTION_LEFT_MM 6.0         /* the margin of figures */

SgChains sg_output_chains(SgArena *a, const SgPage *p)
{
    uint32_t most = 0;
    for (uint32_t i = 0; i < p->nitems; i++) if (p->item[i].light > most) most = p->item[i].light;
    uint32_t *nearest = SG_ARRAY(a, uint32_t, (size_t)most + 1);
    SgChains c = { SG_ARRAY(a, uint32_t, p->nitems + 1), SG_ARRAY(a, bool, p->nitems + 1) };
    for (uint32_t l = 0; l <= most; l++) nearest[l] = SG_NONE;
    for (uint32_t i = p->nitems; i-- > 0;) {
        uint32_t *seen = &nearest[p->item[i].light];
        c.next[i] = SG_NONE;
        if (!p->item[i].light) continue;
        if (*seen != SG_NONE && p->item[*seen].step == p->item[i].step) {
            c.next[i] = *seen;
            c.follows[*seen] = true;
        }
        *seen = i;
    }
    return c;
}

static bool same_cues(const SgItem *a, const SgItem *b)
{
    if (a->ncues != b->ncues) return false;
    for (uint32_t i = 0; i < a->ncues; i++) if (a->cue[i].step != b->cue[i].step || a->cue[i].look != b->cue[i].look) return false;
    return true;
}

uint32_t sg_output_group_end(const SgPage *page, uint32_t first)
{
    const SgItem *head = &page->item[first], *end = page->item + page->nitems, *it = head + 1;
    while (head->name.n && it < end && it->step == head->step && !it->light && sg_str_same(it->name, head->name) && same_cues(it, head)) it++;
    return (uint32_t)(it - page->item);
}

char sg_output_look(const SgItem *item, int step)
{
    char look = 's';
    for (uint32_t i = 0; i < item->ncues && item->cue[i].step <= step; i++) look = item->cue[i].look;
    return look;
}

/* All begin at one left edge. The tallest caption stands in the middle of the strip; 0.75 em is about the height of its
   capitals and marks. */
SgPoint sg_output_caption_at(const SgPage *p, int last)
{
    double widest = 0, left = SG_CAPTION_LEFT_MM;
    uint32_t most = 0;
    for (int k = 0; k < last; k++) {
        for (uint32_t i = 0; i < p->step[k].nlines; i++)
            if (p->step[k].line[i].width_mm > widest) widest = p->step[k].line[i].width_mm;
        if (p->step[k].nlines > most) most = p->step[k].nlines;
        if (p->step[k].nask > most) most = p->step[k].nask;
    }
    if (left > (p->w_mm - widest) / 2) left = (p->w_mm - widest) / 2;
    if (left < 0) left = 0;
    double block = (most ? most - 1 : 0) * p->caption_lead_mm + 0.75 * p->caption_size_mm;
    double top = p->h_mm + (p->strip_mm > block ? (p->strip_mm - block) / 2 : 0) + 0.75 * p->caption_size_mm;
    return sg_pt(left, top);
}
