/* contrast: colours an author chose, against the paper and against each other. In: a scene and its style. Out: messages that name
   the colours and the mend. Colours that come with the compiler were measured when they were chosen. */
#include "layout/colour.h"
#include "layout/draw.h"
#include "base/num.h"

#define SG_LINE_CONTRAST 3.0       /* Web Content Accessibility Guidelines 2.2, 1.4.11 */
#define SG_WORDS_CONTRAST 4.5      /* the same, 1.4.3 */
#define SG_LEAST_DISTANCE 10.0     /* CIEDE2000; a figure's own eight colours keep 12.5 and more */
enum { MOST_RAYS = SG_COLOURS };

/* A ray's colour, where the author chose it, and whether he did. */
typedef struct { uint32_t light, rgb; SgSpan at; bool own; } Ray;
typedef struct { SgCompile *c; const SgScene *scene; const SgStyle *style; Ray ray[MOST_RAYS]; uint32_t n; } Check;

static const SgStyleChange *change_of(const SgScene *scene, SgPhraseId id)
{
    const SgStyleChange *found = NULL;
    for (uint32_t i = 0; i < scene->style.nchanges; i++) if (scene->style.change[i].id == id) found = &scene->style.change[i];
    return found;
}

/* One decimal, rounded down, so that nothing under a limit shows as the limit. */
static SgStr short_number(SgArena *a, double x)
{
    SgBuf b = { .arena = a };
    sg_put_fixed(&b, (double)(int)(x * 10) / 10, 1);
    return sg_buf_str(&b);
}

static void check_pale(const Check *k, const char *what, uint32_t rgb, double least, SgSpan at)
{
    double contrast = sg_colour_contrast(rgb, k->style->paper_rgb);
    if (contrast >= least) return;
    SgStr is = short_number(k->c->arena, contrast), wanted = short_number(k->c->arena, least);
    const char *mend = sg_colour_lightness(k->style->paper_rgb) > 50 ? "darker" : "lighter";
    sg_say(k->c, SG_MSG_colour_pale, at, "%s #%06x has a contrast of %.*s : 1 with the paper #%06x, and needs %.*s : 1; take a %s one", what, (unsigned)rgb,
           (int)is.n, is.s, (unsigned)k->style->paper_rgb, (int)wanted.n, wanted.s, mend);
}

static void check_alike(const Check *k, const Ray *a, const Ray *b)
{
    static const char *const readers[SG_SIGHT_COUNT] = { "for every reader", "for readers who do not see red (protan)", "for readers who do not see green (deutan)",
                                                         "for readers who do not see blue (tritan)" };
    if (a->rgb == b->rgb || !(a->own || b->own)) return;       /* the same colour was meant */
    SgSight worst = SG_SIGHT_NORMAL;
    double least = sg_colour_distance(a->rgb, b->rgb, SG_SIGHT_NORMAL);
    for (int s = 1; s < SG_SIGHT_COUNT && least >= SG_LEAST_DISTANCE; s++) {
        double d = sg_colour_distance(a->rgb, b->rgb, (SgSight)s);
        if (d < least) { least = d; worst = (SgSight)s; }
    }
    if (least >= SG_LEAST_DISTANCE) return;
    SgStr is = short_number(k->c->arena, least);
    sg_say(k->c, SG_MSG_colours_alike, b->own ? b->at : a->at, "rays %u and %u, #%06x and #%06x, are hard to tell apart %s: they differ by %.*s, and 10 is the least; take another colour for one of them",
           (unsigned)a->light, (unsigned)b->light, (unsigned)a->rgb, (unsigned)b->rgb, readers[worst], (int)is.n, is.s);
}

static void gather_rays(Check *k)
{
    const SgStyleChange *rays = change_of(k->scene, SG_PHRASE_style_ray_colours);
    for (uint32_t i = 0; i < k->scene->nmarks && k->n < MOST_RAYS; i++) {
        const SgMark *m = &k->scene->mark[i];
        bool known = false;
        if (m->role != SG_ROLE_RAY || m->light == 0) continue;
        for (uint32_t j = 0; j < k->n; j++) known = known || k->ray[j].light == m->light;
        if (known) continue;
        Ray *r = &k->ray[k->n++];
        *r = (Ray){ .light = m->light, .rgb = sg_style_rgb(k->style, m->colour, sg_style_ray_rgb(k->style, m->light)), .at = m->at };
        r->own = m->colour.n ? sg_colour_id(m->colour) == SG_COLOUR_COUNT : rays != NULL;
        if (!m->colour.n && rays) r->at = rays->colour_at[(m->light - 1) % rays->ncolours];
    }
}

void sg_check_colours(SgCompile *c, const SgScene *scene, const SgStyle *style)
{
    const SgStyleChange *paper = change_of(scene, SG_PHRASE_style_paper_colour), *ink = change_of(scene, SG_PHRASE_style_ink_colour);
    Check *k = SG_NEW(c->arena, Check);
    *k = (Check){ .c = c, .scene = scene, .style = style };
    for (uint32_t i = 0; i < scene->nmarks; i++) {
        SgStr asked = scene->mark[i].colour;
        uint32_t rgb;
        if (!asked.n || sg_colour_id(asked) < SG_COLOUR_COUNT) continue;
        if (!sg_read_rgb(asked, &rgb))
            sg_say(c, SG_MSG_colour_unknown, scene->mark[i].at, "no colour is called `%.*s`; write blue, coral, purple, green, ink, cyan, mauve, olive, or a text such as \"#c00000\"", (int)asked.n, asked.s);
        else if (!style->one_ink) check_pale(k, "this colour", rgb, SG_LINE_CONTRAST, scene->mark[i].at);
    }
    if (paper || ink) check_pale(k, "the ink", style->ink_rgb, SG_WORDS_CONTRAST, ink ? ink->colour_at[0] : paper->colour_at[0]);
    if (style->one_ink) return;
    gather_rays(k);
    for (uint32_t i = 0; i < k->n; i++) {
        bool named = k->ray[i].own && !change_of(scene, SG_PHRASE_style_ray_colours);      /* told above */
        if ((k->ray[i].own || paper) && !named) check_pale(k, "the colour of a ray", k->ray[i].rgb, SG_LINE_CONTRAST, paper && !k->ray[i].own ? paper->colour_at[0] : k->ray[i].at);
        for (uint32_t j = 0; j < i; j++) check_alike(k, &k->ray[j], &k->ray[i]);
    }
}
