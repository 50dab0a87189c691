/* output/odp_step: the clicks of a slide.
   in     its pieces with the step each appears with, how steps change them, the frames of captions and questions.
   out    one sequence of clicks; what a click does begins together, light as soon as it gets there.
   never  names an effect by a preset of some program: each is written as what the standard lets it be. */
#include <math.h>

#include "base/num.h"
#include "output/odp_build.h"

/* Pace of the light, as in stepped SVG: a ray takes 0.6 to 1.2 s (common practice for a class that follows with the eye). */
#define SG_PACE_MM_PER_S 150.0
#define SG_DRAW_LEAST_S 0.6
#define SG_DRAW_MOST_S 1.2
#define SG_CHANGE_S 0.3                /* a change of look */

typedef struct { SgOdp *o; SgBuf *b; bool begun; } Click;

static void put_seconds(SgBuf *b, const char *opening, double s)
{
    sg_puts(b, opening);
    sg_put_mm3(b, s);
    sg_puts(b, "s\"");
}

/* Begins one effect; the first of a click waits for it, the others go with it. */
static void open_effect(Click *c, const char *class, double begin_s)
{
    if (!c->begun) sg_puts(c->b, "<anim:par smil:begin=\"next\"><anim:par smil:begin=\"0s\">\n");
    put_seconds(c->b, "<anim:par smil:begin=\"", begin_s);
    sg_putf(c->b, " smil:fill=\"hold\" presentation:node-type=\"%s\" presentation:preset-class=\"%s\">", c->begun ? "with-previous" : "on-click", class);
    c->begun = true;
}

static void close_effect(Click *c) { sg_puts(c->b, "</anim:par>\n"); }

static void close_click(Click *c)
{
    if (c->begun) sg_puts(c->b, "</anim:par></anim:par>\n");
    c->begun = false;
}

static void put_set(Click *c, uint32_t id, const char *attribute, const char *to)
{
    sg_putf(c->b, "<anim:set smil:begin=\"0s\" smil:dur=\"0.001s\" smil:fill=\"hold\" smil:targetElement=\"p%u\" smil:attributeName=\"%s\" smil:to=\"%s\"/>",
        (unsigned)id, attribute, to);
}

static void appear(Click *c, uint32_t id)
{
    open_effect(c, "entrance", 0);
    put_set(c, id, "visibility", "visible");
    close_effect(c);
}

/* speed 0: nothing of this step moves. */
static void appear_piece(Click *c, const SgOdpPiece *p, double speed)
{
    double length = p->to_mm - p->from_mm;
    bool level = p->from == 'l' || p->from == 'r';
    if (!p->from || speed <= 0 || length <= 0) { appear(c, p->id); return; }
    open_effect(c, "entrance", p->from_mm / speed);
    put_set(c, p->id, "visibility", "visible");
    put_seconds(c->b, "<anim:transitionFilter smil:begin=\"0s\" smil:dur=\"", length / speed);
    sg_putf(c->b, " smil:fill=\"hold\" smil:targetElement=\"p%u\" smil:type=\"barWipe\" smil:subtype=\"%s\" smil:direction=\"%s\"/>",
        (unsigned)p->id, level ? "leftToRight" : "topToBottom", p->from == 'l' || p->from == 't' ? "forward" : "reverse");
    close_effect(c);
}

static void put_opacity(Click *c, uint32_t id, double from, double to)
{
    open_effect(c, "emphasis", 0);
    put_seconds(c->b, "<anim:animate smil:begin=\"0s\" smil:dur=\"", SG_CHANGE_S);
    sg_putf(c->b, " smil:fill=\"hold\" smil:targetElement=\"p%u\" smil:attributeName=\"opacity\" smil:from=\"", (unsigned)id);
    sg_put_mm3(c->b, from);
    sg_puts(c->b, "\" smil:to=\"");
    sg_put_mm3(c->b, to);
    sg_puts(c->b, "\"/>");
    close_effect(c);
}

static void change(Click *c, const SgOdpPiece *p, int step)
{
    char before = 's';
    for (uint32_t i = 0; i < p->ncues && p->cue[i].step <= step; before = p->cue[i++].look) {
        char look = p->cue[i].look;
        if (p->cue[i].step < step || look == before) continue;
        if (look == 'h') {
            open_effect(c, "exit", 0);
            put_set(c, p->id, "visibility", "hidden");
            close_effect(c);
            continue;
        }
        if (before == 'h') appear(c, p->id);
        if (look == 'f') put_opacity(c, p->id, 1, c->o->page->faded);
        if (look == 's' && p->cue[i].step > p->step) put_opacity(c, p->id, c->o->page->faded, 1);
    }
}

static double speed_of(const SgOdp *o, uint32_t first, int step)
{
    double longest = 0;
    for (uint32_t i = first; i < o->piece.n && o->piece.v[i].step == step; i++)
        if (o->piece.v[i].from && o->piece.v[i].to_mm > longest) longest = o->piece.v[i].to_mm;
    if (longest <= 0) return 0;
    double s = longest / SG_PACE_MM_PER_S;
    if (s < SG_DRAW_LEAST_S) s = SG_DRAW_LEAST_S;
    if (s > SG_DRAW_MOST_S) s = SG_DRAW_MOST_S;
    return longest / s;
}

/* Pieces come sorted by step. */
static void put_step(Click *c, uint32_t *first, int step)
{
    const SgOdp *o = c->o;
    double speed = speed_of(o, *first, step);
    if (o->question[step - 1]) {
        appear(c, o->question[step - 1]);
        close_click(c);
    }
    if (o->caption[step - 1]) appear(c, o->caption[step - 1]);
    for (; *first < o->piece.n && o->piece.v[*first].step == step; ++*first) appear_piece(c, &o->piece.v[*first], speed);
    for (uint32_t i = 0; i < *first; i++)
        if (o->piece.v[i].ncues) change(c, &o->piece.v[i], step);
    close_click(c);
}

void sg_odp_timeline(SgOdp *o)
{
    Click c = { o, &o->body, false };
    uint32_t first = 0;
    if (o->page->nsteps == 0) return;
    while (first < o->piece.n && o->piece.v[first].step == 0) first++;
    sg_puts(c.b, "<anim:par presentation:node-type=\"timing-root\"><anim:seq presentation:node-type=\"main-sequence\">\n");
    for (uint32_t k = 1; k <= o->page->nsteps; k++) put_step(&c, &first, (int)k);
    sg_puts(c.b, "</anim:seq></anim:par>\n");
}
