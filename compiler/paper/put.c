/* put: primitives of a page of paper. In: places in page millimetres. Out: items in the order they are put.
   Never decides where anything stands. */
#include "paper/put.h"
#include "layout/style.h"

static SgItem *push(SgSheaf *p, SgItemShape shape, const SgPoint *xy, uint32_t n, uint32_t rgb)
{
    SgPoint *copy = SG_ARRAY(p->c->arena, SgPoint, n);
    for (uint32_t i = 0; i < n; i++) copy[i] = xy[i];
    SgItem item = { .shape = shape, .role = SG_ROLE_NOTE, .name = SG_LIT(""), .rgb = rgb, .xy = copy, .nxy = n };
    SG_PUSH(p->c->arena, &p->item, item);
    return &p->item.v[p->item.n - 1];
}

void sg_put_rule(SgSheaf *p, SgPoint a, SgPoint b, double line_mm, uint32_t rgb)
{
    push(p, SG_ITEM_STROKE, (SgPoint[]){ a, b }, 2, rgb)->line_mm = line_mm;
}

void sg_put_frame(SgSheaf *p, SgPoint corner, double w_mm, double h_mm, double line_mm, uint32_t rgb)
{
    double x = corner.x_mm, y = corner.y_mm;
    SgItem *item = push(p, SG_ITEM_STROKE, (SgPoint[]){ { x, y }, { x + w_mm, y }, { x + w_mm, y + h_mm }, { x, y + h_mm } }, 4, rgb);
    item->line_mm = line_mm;
    item->closed = true;
}

void sg_put_words_at(SgSheaf *p, SgPoint baseline, const SgWords *words, uint32_t rgb)
{
    push(p, SG_ITEM_WORDS, &baseline, 1, rgb)->words = words;
}

double sg_put_text(SgSheaf *p, SgPoint baseline, SgStr markup, SgFace face, double size_pt, uint32_t rgb)
{
    SgWords *words = SG_NEW(p->c->arena, SgWords);
    *words = sg_shape(p->c->arena, markup, face, size_pt);
    sg_put_words_at(p, baseline, words, rgb);
    return words->width_mm;
}

uint32_t sg_put_lines(SgSheaf *p, SgPoint at, SgStr markup, SgFace face, double size_pt, double width_mm, double lead_mm, uint32_t rgb, bool draw)
{
    uint32_t n;
    SgWords *line = sg_shape_lines(p->c->arena, markup, face, size_pt, width_mm, &n);
    for (uint32_t i = 0; draw && i < n; i++) sg_put_words_at(p, sg_pt(at.x_mm, at.y_mm + i * lead_mm), &line[i], rgb);
    return n;
}

void sg_put_figure(SgSheaf *p, SgPoint corner, const SgPage *figure, int step, uint32_t rgb)
{
    for (uint32_t i = 0; i < figure->nitems; i++) {
        SgItem item = figure->item[i];
        if (step >= 0 && item.step != step) continue;
        SgPoint *xy = SG_ARRAY(p->c->arena, SgPoint, item.nxy);
        for (uint32_t k = 0; k < item.nxy; k++) xy[k] = sg_pt_add(item.xy[k], corner);
        item.xy = xy;
        item.step = 0;
        item.light = 0;
        item.light_from_mm = 0;
        item.cue = NULL;
        item.ncues = 0;
        bool tint = item.role == SG_ROLE_GLASS || item.role == SG_ROLE_GRID || item.rgb == 0xFFFFFF;
        if (!tint) item.rgb = rgb;
        SG_PUSH(p->c->arena, &p->item, item);
    }
}

void sg_put_ellipse(SgSheaf *p, SgPoint centre, double half_w_mm, double half_h_mm, double line_mm, uint32_t rgb)
{
    enum { PIECES = 48 };
    SgPoint xy[PIECES];
    for (int i = 0; i < PIECES; i++) {
        double sine, cosine;
        sg_sincos_deg(i * (360.0 / PIECES), &sine, &cosine);
        xy[i] = sg_pt(centre.x_mm + half_w_mm * cosine, centre.y_mm + half_h_mm * sine);
    }
    SgItem *item = push(p, SG_ITEM_STROKE, xy, PIECES, rgb);
    item->line_mm = line_mm;
    item->closed = true;
}

void sg_put_told(SgSheaf *p, uint32_t first, SgStr told)
{
    SgPicture picture = { first, p->item.n, told };
    if (picture.end > first) SG_PUSH(p->c->arena, &p->picture, picture);
}

void sg_end_page(SgSheaf *p)
{
    SgPage *page = SG_NEW(p->c->arena, SgPage);
    *page = (SgPage){ .id = sg_format(p->c->arena, "%.*s-%u", (int)p->id.n, p->id.s, (unsigned)p->page.n + 1), .title = p->title, .describe = SG_LIT(""), .wording = p->wording ? p->wording : &sg_wording_english, .w_mm = p->w_mm, .h_mm = p->h_mm, .paper_rgb = 0xFFFFFF, .caption_rgb = SG_INK_RGB, .faded = 1 };
    page->item = SG_ARRAY(p->c->arena, SgItem, p->item.n);
    page->nitems = p->item.n;
    for (uint32_t i = 0; i < p->item.n; i++) page->item[i] = p->item.v[i];
    SgPicture *picture = SG_ARRAY(p->c->arena, SgPicture, p->picture.n + 1);
    for (uint32_t i = 0; i < p->picture.n; i++) picture[i] = p->picture.v[i];
    page->picture = picture;
    page->npictures = p->picture.n;
    p->item.n = p->picture.n = 0;
    SG_PUSH(p->c->arena, &p->page, page);
}
