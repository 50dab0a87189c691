/* layout: the pass in order. In: a scene in millimetres, y up. Out: a page of items in drawing order, y down, with its frame,
   captions and caption strip. Never moves a point that the optics decided. */
#include "layout/draw.h"
#include "base/num.h"
#include <math.h>

typedef void (*Drawer)(SgDraw *, const SgMark *);

/* Everything words keep clear of comes before the words; these two loops see each mark once. */
static Drawer drawer_of(SgRole role)
{
    switch (role) {
    case SG_ROLE_AXIS: return sg_draw_axis;
    case SG_ROLE_MIRROR: case SG_ROLE_SURFACE: return sg_draw_mirror;
    case SG_ROLE_GLASS: return sg_draw_glass;
    case SG_ROLE_STOP: case SG_ROLE_SCREEN: return sg_draw_plate;
    case SG_ROLE_EYE: return sg_draw_eye;
    case SG_ROLE_LENS: return sg_draw_lens;
    case SG_ROLE_OBJECT: case SG_ROLE_REAL_IMAGE: case SG_ROLE_VIRTUAL_IMAGE: return sg_draw_object;
    case SG_ROLE_RAY: return sg_draw_ray;
    case SG_ROLE_PRODUCED: return sg_draw_produced;
    case SG_ROLE_AID: return sg_draw_aid;
    case SG_ROLE_POINT: return sg_draw_point;
    case SG_ROLE_TICK: return sg_draw_tick;
    case SG_ROLE_LABEL: return sg_draw_label;
    case SG_ROLE_NOTE: return sg_draw_note;
    case SG_ROLE_NORMAL: return sg_draw_normal;
    case SG_ROLE_LINE: return sg_draw_line_mark;
    case SG_ROLE_CIRCLE: return sg_draw_circle;
    case SG_ROLE_CROSS_AXIS: return sg_draw_cross_axis;
    case SG_ROLE_BREAK: return sg_draw_break;
    case SG_ROLE_RULER: case SG_ROLE_PROTRACTOR: case SG_ROLE_GRID: case SG_ROLE_DIMENSION: case SG_ROLE_ANGLE: return NULL;           /* drawn together, see below */
    }
    return NULL;
}

void sg_draw_marks(SgDraw *d)
{
    const SgScene *scene = d->scene;
    for (uint32_t i = d->first; i < d->end; i++) {                     /* the axis first: ticks and labels ask for it */
        d->now = i;
        if (scene->mark[i].role == SG_ROLE_AXIS) sg_draw_axis(d, &scene->mark[i]);
    }
    for (uint32_t i = d->first; i < d->end; i++) {
        Drawer draw = drawer_of(scene->mark[i].role);
        d->now = i;
        if (draw != NULL && draw != sg_draw_axis) draw(d, &scene->mark[i]);
    }
    sg_draw_tools(d);
    sg_draw_angles(d);
    sg_draw_dimensions(d);
    sg_draw_ray_heads(d);
    sg_draw_ray_numbers(d);
    for (uint32_t i = d->first; i < d->end; i++) {
        d->now = i;
        if (scene->mark[i].role == SG_ROLE_AXIS) sg_draw_axis_name(d);
    }
    sg_draw_wanted(d);
}

static SgDraw start(SgCompile *c, const SgScene *scene, const SgStyle *style, SgBox frame)
{
    return (SgDraw){ .c = c, .a = c->arena, .scene = scene, .style = style, .end = scene->nmarks, .box = sg_box_empty(), .frame = frame };
}

#define ANY_HEIGHT_MM 1e5

/* The author's frame stands around the middle of what must be seen; light and axis may run out of it. */
static SgBox author_frame(SgCompile *c, const SgScene *scene, const SgStyle *style)
{
    SgBox all = sg_box_empty(), core = sg_box_empty();
    SgDraw trial = start(c, scene, style, sg_box_empty());
    for (uint32_t i = 0; i < scene->nmarks; i++) {
        const SgMark *m = &scene->mark[i];
        Drawer draw = drawer_of(m->role);
        trial.now = i;
        trial.box = sg_box_empty();
        bool light = m->role == SG_ROLE_RAY || m->role == SG_ROLE_PRODUCED || m->role == SG_ROLE_AXIS;
        if (draw != NULL) draw(&trial, m);
        if (trial.box.x0_mm > trial.box.x1_mm) continue;
        all = sg_box_join(all, trial.box);
        if (!light) core = sg_box_join(core, trial.box);
    }
    if (core.x0_mm > core.x1_mm) core = all;
    double w = scene->frame_w_mm, h = scene->frame_h_mm > 0 ? scene->frame_h_mm : ANY_HEIGHT_MM;
    SgBox across = all.x1_mm - all.x0_mm <= w - style->margin_mm ? all : core;
    SgBox up = all.y1_mm - all.y0_mm <= h - style->margin_mm ? all : core;
    double x = (across.x0_mm + across.x1_mm) / 2, y = (up.y0_mm + up.y1_mm) / 2;
    return (SgBox){ x - w / 2, y - h / 2, x + w / 2, y + h / 2 };
}

void sg_draw_outside(SgDraw *d, SgBox frame)
{
    const double out[4] = { frame.x0_mm - d->box.x0_mm, d->box.x1_mm - frame.x1_mm, frame.y0_mm - d->box.y0_mm, d->box.y1_mm - frame.y1_mm };
    double across = out[0] > out[1] ? out[0] : out[1], up = out[2] > out[3] ? out[2] : out[3];
    if (across <= d->style->arrow_line_mm && up <= d->style->arrow_line_mm) return;          /* half a line cut at the edge is no loss */
    /* Whole millimetres that hold it, on both sides, for the frame stays around the same middle. */
    double w = frame.x1_mm - frame.x0_mm + (across > 0 ? 2 * floor(across + 1) : 0);
    double h = frame.y1_mm - frame.y0_mm + (up > 0 ? 2 * floor(up + 1) : 0);
    SgBuf text = { .arena = d->a };
    sg_put_mm3(&text, floor((across > up ? across : up) * 10 + 0.5) / 10);
    SgBuf mend = { .arena = d->a };
    sg_put_mm3(&mend, w);
    sg_puts(&mend, " mm by ");
    sg_put_mm3(&mend, h);
    SgStr by = sg_buf_str(&text), size = sg_buf_str(&mend);
    const SgMark *m = d->scene->nmarks > 0 ? &d->scene->mark[0] : NULL;
    for (uint32_t i = 0; i < d->drawn.n; i++) {
        const SgItem *item = &d->drawn.v[i].item;
        if (item->shape != SG_ITEM_WORDS || !sg_str_is(item->name, "caution")) continue;
        double right = item->xy[0].x_mm + item->words->width_mm, low = item->xy[0].y_mm - item->words->descent_mm;
        if (item->xy[0].x_mm >= frame.x0_mm && right <= frame.x1_mm && low >= frame.y0_mm) continue;
        sg_say(d->c, SG_MSG_caution_lost, item->at, "the frame cuts the figure's caution off; write `frame %.*s mm` or leave the frame out", (int)size.n, size.s);
        return;
    }
    for (uint32_t i = 0; i < d->drawn.n; i++) {        /* the first thing that stands out is named */
        const SgItem *item = &d->drawn.v[i].item;
        bool outside = false;
        for (uint32_t k = 0; k < item->nxy; k++) {
            SgPoint p = item->xy[k];
            outside = outside || p.x_mm < frame.x0_mm || p.x_mm > frame.x1_mm || p.y_mm < frame.y0_mm || p.y_mm > frame.y1_mm;
        }
        if (!outside) continue;
        sg_say(d->c, SG_MSG_frame_small, item->at, "%.*s stands up to %.*s mm outside the frame; write `frame %.*s mm` or leave the frame out",
               item->name.n > 0 ? (int)item->name.n : 4, item->name.n > 0 ? item->name.s : "this", (int)by.n, by.s, (int)size.n, size.s);
        return;
    }
    if (m != NULL)
        sg_say(d->c, SG_MSG_frame_small, m->at, "the figure stands up to %.*s mm outside the frame; write `frame %.*s mm` or leave the frame out",
               (int)by.n, by.s, (int)size.n, size.s);
}

/* By step, then layer, then the order of drawing: a merge sort, since a figure may have tens of thousands. */
static bool before(const SgDrawn *a, const SgDrawn *b)
{
    if (a->item.step != b->item.step) return a->item.step < b->item.step;
    if (a->layer != b->layer) return a->layer < b->layer;
    return a->order < b->order;
}

static void sort(SgDrawn *v, SgDrawn *room, uint32_t n)
{
    for (uint32_t width = 1; width < n; width *= 2) {
        for (uint32_t low = 0; low < n; low += 2 * width) {
            uint32_t middle = low + width < n ? low + width : n, high = middle + width < n ? middle + width : n;
            uint32_t i = low, k = middle;
            for (uint32_t out = low; out < high; out++)
                room[out] = k >= high || (i < middle && !before(&v[k], &v[i])) ? v[i++] : v[k++];
        }
        for (uint32_t i = 0; i < n; i++) v[i] = room[i];
    }
}

static void to_page(SgPage *page, SgDraw *d, SgBox frame)
{
    uint32_t n = d->drawn.n;
    page->origin = sg_pt(-frame.x0_mm, frame.y1_mm);
    page->w_mm = frame.x1_mm - frame.x0_mm;
    page->h_mm = frame.y1_mm - frame.y0_mm;
    sort(d->drawn.v, SG_ARRAY(d->a, SgDrawn, n), n);
    page->item = SG_ARRAY(d->a, SgItem, n);
    page->nitems = n;
    for (uint32_t i = 0; i < n; i++) {
        SgItem *item = &page->item[i];
        *item = d->drawn.v[i].item;
        SgPoint *xy = SG_ARRAY(d->a, SgPoint, item->nxy);
        for (uint32_t k = 0; k < item->nxy; k++)
            xy[k] = sg_pt(item->xy[k].x_mm - frame.x0_mm, frame.y1_mm - item->xy[k].y_mm);
        item->xy = xy;
    }
}

void sg_page_captions(SgPage *page, SgCompile *c, const SgScene *scene, const SgStyle *style)
{
    /* A strip of words has the margin of the figure; a narrow figure still has room for a few words a line. */
    uint32_t most = 1;
    double width = page->w_mm - 2 * style->margin_mm > 40 ? page->w_mm - 2 * style->margin_mm : page->w_mm;
    page->caption_size_mm = SG_PT_MM(style->caption_pt);
    page->caption_lead_mm = page->caption_size_mm * style->caption_lead;
    page->step = SG_ARRAY(c->arena, SgPageStep, scene->nsteps);
    page->nsteps = scene->nsteps;
    for (uint32_t i = 0; i < scene->nsteps; i++) {
        const SgSceneStep *from = &scene->step[i];
        SgPageStep *to = &page->step[i];
        to->id = from->id;
        to->plain = sg_plain(c->arena, from->caption);
        to->told = from->told.n ? sg_plain(c->arena, from->told) : to->plain;
        to->line = sg_shape_lines(c->arena, from->caption, SG_FACE_UPRIGHT, style->caption_pt, width, &to->nlines);
        to->say = sg_plain(c->arena, from->say);
        to->ask = sg_plain(c->arena, from->ask);
        if (from->ask.n) to->ask_line = sg_shape_lines(c->arena, from->ask, SG_FACE_ITALIC, style->caption_pt, width, &to->nask);
        if (to->nlines > most) most = to->nlines;
        if (to->nask > most) most = to->nask;
        for (uint32_t k = 0; k < to->nlines; k++)
            if (to->line[k].missing != 0)
                sg_say(c, SG_MSG_glyph_missing, from->at, "the built-in face has no sign for U+%04X in this caption; write it another way",
                       (unsigned)to->line[k].missing);
    }
    if (scene->nsteps > 0) page->strip_mm = most * page->caption_lead_mm + style->strip_pad_mm;
}

/* The largest scale of a short list that is `ratio` of the present one or less. */
static SgStr smaller_scale(SgArena *a, double along, double ratio)
{
    static const int scales[][2] = { { 5, 1 }, { 4, 1 }, { 3, 1 }, { 2, 1 }, { 3, 2 }, { 1, 1 }, { 4, 5 }, { 3, 4 }, { 2, 3 }, { 1, 2 }, { 2, 5 }, { 1, 3 },
        { 1, 4 }, { 1, 5 }, { 1, 10 }, { 1, 20 }, { 1, 25 }, { 1, 50 }, { 1, 100 }, { 1, 200 }, { 1, 500 }, { 1, 1000 } };
    size_t n = sizeof scales / sizeof *scales, i = 0;
    while (i + 1 < n && (double)scales[i][0] / scales[i][1] > along * ratio) i++;
    return sg_format(a, "%d:%d", scales[i][0], scales[i][1]);
}

/* A frame of the author's width, as high as the figure. That it is too narrow is said: the scale stays as it is. */
static SgBox as_high_as_needed(SgDraw *d, SgBox frame)
{
    const SgScene *scene = d->scene;
    double left = frame.x0_mm - d->box.x0_mm, right = d->box.x1_mm - frame.x1_mm, over = left > right ? left : right, w = frame.x1_mm - frame.x0_mm;
    frame.y0_mm = d->box.y0_mm - d->style->margin_mm;
    frame.y1_mm = d->box.y1_mm + d->style->margin_mm;
    if (d->drawn.n == 0) frame.y0_mm = -(frame.y1_mm = d->style->margin_mm);
    if (d->drawn.n == 0 || over <= d->style->arrow_line_mm) return frame;
    SgBuf needs = { .arena = d->a }, has = { .arena = d->a };
    sg_put_mm3(&needs, floor(w + 2 * over + 1));
    sg_put_mm3(&has, w);
    SgStr scale = smaller_scale(d->a, scene->along, w / (w + 2 * over)), need = sg_buf_str(&needs), is = sg_buf_str(&has);
    sg_say(d->c, SG_MSG_frame_small, scene->frame_at, "the figure needs %.*s mm across and is %.*s mm wide, so that some of it is cut; write `width %.*s mm`, or a smaller scale such as `scale %.*s`",
           (int)need.n, need.s, (int)is.n, is.s, (int)need.n, need.s, (int)scale.n, scale.s);
    return frame;
}

void sg_draw_grids(SgDraw *d, SgBox frame)
{
    for (uint32_t i = d->first; i < d->end; i++) {
        d->now = i;
        if (d->scene->mark[i].role == SG_ROLE_GRID) sg_draw_grid(d, &d->scene->mark[i], frame);
    }
}

/* A description with what it ends with. */
static SgStr told(SgDraw *d, const SgScene *scene, SgStr text)
{
    const SgStr end[] = { scene->scale_told, scene->caution_told };
    SgBuf b = { .arena = d->a };
    sg_put_str(&b, sg_plain(d->a, text));
    for (int i = 0; i < 2; i++) {
        if (end[i].n && b.n) sg_put_char(&b, ' ');
        sg_put_str(&b, sg_plain(d->a, end[i]));
    }
    return b.n ? sg_buf_str(&b) : SG_LIT("");
}

SgPage *sg_page_of(SgDraw *d, const SgScene *scene, SgBox frame)
{
    SgPage *page = SG_NEW(d->a, SgPage);
    *page = (SgPage){ .id = scene->id, .title = sg_plain(d->a, scene->title), .describe = told(d, scene, scene->describe), .given = told(d, scene, scene->given),
                      .brief = sg_plain(d->a, scene->brief), .brief_given = sg_plain(d->a, scene->brief_given),
                      .wording = scene->wording ? scene->wording : &sg_wording_english, .paper_rgb = d->style->paper_rgb,
                      .caption_rgb = d->style->caption_rgb, .transparent = d->style->transparent, .faded = d->style->faded };
    to_page(page, d, frame);
    sg_page_captions(page, d->c, scene, d->style);
    return page;
}

SgPage *sg_layout(SgCompile *c, const SgScene *scene)
{
    SgStyle style = sg_style_of(&scene->style);
    return sg_layout_in(c, scene, &style);
}

SgPage *sg_layout_in(SgCompile *c, const SgScene *scene, const SgStyle *style)
{
    sg_check_colours(c, scene, style);
    bool wide = scene->frame_w_mm > 0, fixed = wide && scene->frame_h_mm > 0;
    SgBox frame = wide ? author_frame(c, scene, style) : sg_box_empty();
    SgDraw d = start(c, scene, style, frame);
    sg_draw_marks(&d);
    if (fixed) sg_draw_outside(&d, frame);
    else if (wide) frame = as_high_as_needed(&d, frame);
    else if (d.drawn.n == 0) frame = (SgBox){ 0, 0, 2 * style->margin_mm, 2 * style->margin_mm };
    else frame = sg_box_pad(d.box, style->margin_mm);
    sg_draw_grids(&d, frame);
    return sg_page_of(&d, scene, frame);
}

SgBox sg_layout_frame(SgCompile *c, const SgScene *given, double w_mm, double h_mm)
{
    SgScene scene = *given;
    SgStyle style = sg_style_of(&given->style);
    scene.frame_w_mm = w_mm;
    scene.frame_h_mm = h_mm;
    return author_frame(c, &scene, &style);
}

SgStr sg_page_told(SgArena *a, const SgPage *page, int step)
{
    SgBuf b = { .arena = a };
    if (step >= (int)page->nsteps) return page->describe;
    sg_put_str(&b, page->given);
    for (int k = 0; k < step; k++) {
        if (b.n) sg_put_char(&b, ' ');
        sg_put_str(&b, page->step[k].told);
    }
    return sg_buf_str(&b);
}
