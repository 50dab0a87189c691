/* layout/slide: one figure to one slide. In: a scene in millimetres of paper. Out: a page of the slide's size.
   Never enlarges a drawing: the scene grows, and the layout draws it anew. */
#include "layout/slide.h"

#include "layout/draw.h"

#define SG_SLIDE_MARGIN_MM 3.0
#define SG_CAPTION_MARGIN_MM 6.0
#define SG_PX_MM(px) ((px) * SG_SLIDE_HIGH_MM / 1080)
#define SG_MOST_ENLARGED 4.0
#define SG_FILLED_WELL 0.985
#define SG_LEAST_SHARE 0.02            /* of a scene of no height */
enum { SG_TRIES = 6 };

double sg_slide_wide_mm(SgSlideRatio ratio) { return ratio == SG_SLIDE_4_3 ? SG_SLIDE_HIGH_MM * 4 / 3 : SG_SLIDE_HIGH_MM * 16 / 9; }

SgGround sg_slide_ground(const SgScene *scene)
{
    for (uint32_t i = 0; i < scene->style.nchanges; i++)
        if (scene->style.change[i].ncolours > 0) return SG_GROUND_OWN;
    return scene->style.base == SG_STYLE_dark ? SG_GROUND_DARK : SG_GROUND_LIGHT;
}

void sg_slide_colours(SgColourPair pair[SG_COLOUR_PAIRS])
{
    SgStyle light = sg_style_of(&(SgSceneStyle){ .base = SG_STYLE_light }), dark = sg_style_of(&(SgSceneStyle){ .base = SG_STYLE_dark });
    uint32_t n = 0;
    pair[n++] = (SgColourPair){ light.ink_rgb, dark.ink_rgb };
    pair[n++] = (SgColourPair){ light.caption_rgb, dark.caption_rgb };
    pair[n++] = (SgColourPair){ light.paper_rgb, dark.paper_rgb };
    pair[n++] = (SgColourPair){ light.grid_rgb, dark.grid_rgb };
    pair[n++] = (SgColourPair){ light.glass_rgb, dark.glass_rgb };
    for (int i = 0; i < SG_COLOURS; i++) pair[n++] = (SgColourPair){ light.colour_rgb[i], dark.colour_rgb[i] };
}

/* All lengths of the scene k times; directions, angles and words stay, but for what is said of the scale on paper. */
static SgScene *enlarged(SgArena *a, const SgScene *scene, double k)
{
    SgScene *to = SG_NEW(a, SgScene);
    *to = *scene;
    to->enlarged = scene->enlarged * k;
    to->scale_told = scene->slide_scale_told;
    to->frame_w_mm *= k;
    to->frame_h_mm *= k;
    to->mark = SG_ARRAY(a, SgMark, scene->nmarks);
    to->nmarks = 0;
    for (uint32_t i = 0; i < scene->nmarks; i++) {
        SgMark *m = &to->mark[to->nmarks];
        *m = scene->mark[i];
        if (m->of_scale && m->slide_words.n == 0) continue;
        if (m->of_scale) m->words = m->slide_words;
        to->nmarks++;
        SgPoint *xy = SG_ARRAY(a, SgPoint, m->nxy);
        for (uint32_t p = 0; p < m->nxy; p++) xy[p] = sg_pt_scale(m->xy[p], k);
        m->xy = xy;
        m->radius_mm *= k;
        m->half_mm *= k;
        m->hole_mm *= k;
        m->light_from_mm *= k;
        m->pitch_mm *= k;
    }
    return to;
}

typedef struct { SgCompile *c; const SgScene *scene; SgStyle style; double w_mm, h_mm; } Room;
typedef struct { double across, up; } Share;                      /* of the room */
typedef struct { double k; SgPage *page; Share full; } Try;

static double larger(Share s) { return s.across > s.up ? s.across : s.up; }

/* What of the room the scene's points alone take on paper: by about so much `full` grows with k, since words do not grow. */
static Share share_of_points(const Room *room)
{
    const SgScene *scene = room->scene;
    SgBox box = sg_box_empty();
    for (uint32_t i = 0; i < scene->nmarks; i++) {
        const SgMark *m = &scene->mark[i];
        bool upright = m->direction.x_mm > 0.7 || m->direction.x_mm < -0.7;
        double across = m->half_mm * !upright + m->radius_mm * (m->role == SG_ROLE_CIRCLE), up = m->half_mm * upright + m->radius_mm * (m->role == SG_ROLE_CIRCLE);
        for (uint32_t p = 0; p < m->nxy; p++) {
            box = sg_box_add(box, sg_pt(m->xy[p].x_mm - across, m->xy[p].y_mm - up));
            box = sg_box_add(box, sg_pt(m->xy[p].x_mm + across, m->xy[p].y_mm + up));
        }
    }
    Share s = { (box.x1_mm - box.x0_mm) / room->w_mm, (box.y1_mm - box.y0_mm) / room->h_mm };
    if (scene->frame_w_mm > 0) s.across = scene->frame_w_mm / room->w_mm;
    if (scene->frame_h_mm > 0) s.up = scene->frame_h_mm / room->h_mm;
    return (Share){ s.across > SG_LEAST_SHARE ? s.across : SG_LEAST_SHARE, s.up > SG_LEAST_SHARE ? s.up : SG_LEAST_SHARE };
}

/* How much larger k may be until the room is just filled; less where it is overfull. */
static double more(Share full, Share points)
{
    double across = (SG_FILLED_WELL - full.across) / points.across, up = (SG_FILLED_WELL - full.up) / points.up;
    return across < up ? across : up;
}

static Try lay_out(const Room *room, double k)
{
    Try t = { k, sg_layout_in(room->c, enlarged(room->c->arena, room->scene, k), &room->style), { 0, 0 } };
    t.full = (Share){ t.page->w_mm / room->w_mm, t.page->h_mm / room->h_mm };
    return t;
}

/* The first try allows a fifth of the room for words, which is seldom far off; each further one mends what the last one missed. */
static Try fit(const Room *room)
{
    Share points = share_of_points(room), words = { room->scene->frame_w_mm > 0 ? 0 : 0.2, room->scene->frame_h_mm > 0 ? 0 : 0.2 };
    double k = more(words, points);
    Try best = { 0, NULL, { 0, 0 } };
    for (int i = 0; i < SG_TRIES && (best.page == NULL || larger(best.full) > 1 || larger(best.full) < 0.97); i++) {
        if (k > SG_MOST_ENLARGED) k = SG_MOST_ENLARGED;
        if (i > 0 && k == best.k) break;
        Try now = lay_out(room, k);
        double full = larger(now.full), was = larger(best.full);
        if (best.page == NULL || (was > 1 ? full < was : full <= 1 && full > was)) best = now;
        k = i + 3 < SG_TRIES ? now.k + more(now.full, points) : now.k * 0.95 / full;
        if (k < now.k / 4) k = now.k / 4;
    }
    return best;
}

/* Into the middle of a page of that size. */
static void centre(SgPage *page, SgArena *a, double w_mm, double h_mm)
{
    SgPoint by = sg_pt((w_mm - page->w_mm) / 2, (h_mm - page->h_mm) / 2);
    for (uint32_t i = 0; i < page->nitems; i++) {
        SgItem *item = &page->item[i];
        SgPoint *xy = SG_ARRAY(a, SgPoint, item->nxy);
        for (uint32_t p = 0; p < item->nxy; p++) xy[p] = sg_pt_add(item->xy[p], by);
        item->xy = xy;
    }
    page->origin = sg_pt_add(page->origin, by);
    page->w_mm = w_mm;
    page->h_mm = h_mm;
}

static void at_least(double *mm, double least) { if (*mm < least) *mm = least; }

#define SG_LEAST_PT (SG_PX_MM(28) / SG_PT_MM(1))
enum { SG_LETTERS = 6, SG_SHRINKS = 4 };
/* All letters of the drawing k times as large, but none below what can be read. */
static void letters(SgStyle *s, double k)
{
    double *letter[SG_LETTERS] = { &s->label_pt, &s->value_pt, &s->number_pt, &s->axis_pt, &s->note_pt, &s->tool_pt };
    for (int i = 0; i < SG_LETTERS; i++) {
        *letter[i] *= k;
        at_least(letter[i], SG_LEAST_PT);
    }
}
/* A note that is wider than the room at any scale is set smaller, with all other letters. */
static SgPage *fit_words(Room *room)
{
    Try t = fit(room);
    for (int i = 0; i < SG_SHRINKS && larger(t.full) > 1 && room->style.note_pt > SG_LEAST_PT; i++) {
        letters(&room->style, 0.85);
        t = fit(room);
    }
    return t.page;
}

/* What an author's own style makes thinner or smaller than a projector shows is brought up to the least. */
static SgStyle for_projector(const SgScene *scene)
{
    SgStyle s = sg_style_on_slide(&scene->style);
    s.margin_mm = SG_SLIDE_MARGIN_MM;
    s.transparent = false;
    at_least(&s.arrow_line_mm, SG_PX_MM(4));
    at_least(&s.light_line_mm, SG_PX_MM(4));
    at_least(&s.produced_line_mm, SG_PX_MM(3));
    at_least(&s.thin_line_mm, SG_PX_MM(2));
    at_least(&s.dot_mm, SG_PX_MM(12));
    at_least(&s.ray_head_mm, SG_PX_MM(22));
    letters(&s, 1);
    at_least(&s.caption_pt, SG_PX_MM(36) / SG_PT_MM(1));
    return s;
}

SgPage *sg_slide(SgCompile *c, const SgScene *scene, SgSlideRatio ratio)
{
    Room room = { c, scene, for_projector(scene), sg_slide_wide_mm(ratio), SG_SLIDE_HIGH_MM - SG_SLIDE_HEADING_MM };
    SgPage strip = { .w_mm = room.w_mm };
    c->muted++;
    SgStyle words = room.style;
    words.margin_mm = SG_CAPTION_MARGIN_MM;
    sg_page_captions(&strip, c, scene, &words);
    room.h_mm -= strip.strip_mm;
    SgPage *page = fit_words(&room);
    centre(page, c->arena, room.w_mm, room.h_mm);
    c->muted--;
    page->step = strip.step;
    page->strip_mm = strip.strip_mm;
    return page;
}

SgPage *sg_slide_small(SgCompile *c, const SgScene *scene, double w_mm, double h_mm)
{
    Room room = { c, scene, sg_style_of(&scene->style), w_mm, h_mm };
    room.style.margin_mm = SG_SLIDE_MARGIN_MM;
    c->muted++;
    SgPage *page = fit(&room).page;
    c->muted--;
    return page;
}
