/* output/svg: one page to one SVG 1.1 file that stands finished, is stepped by a script, and plays by a style sheet.
   in     a page: items in drawing order, captions, sizes in millimetres.
   out    a viewBox in millimetres; every look an attribute, so that script and style may be missing anywhere.
   never  adds geometry; never gives an id that does not begin with the figure's, but for the public fragments. */
#include "output/output.h"

#include <math.h>

#include "base/num.h"
#include "output/order.h"
#include "output/player.h"

enum { SG_MOST_MOVING = 20 };      /* rays of one step that draw themselves; browsers stay smooth up to about here */
/* Pace of the drawing, seconds: a ray takes 0.6 to 1.2 (common practice for a class that follows with the eye). */
#define SG_PACE_MM_PER_S 150.0
#define SG_DRAW_LEAST_S 0.6
#define SG_DRAW_MOST_S 1.2
#define SG_PLAY_GIVEN_S 1.2        /* #play: how long the givens stand alone, and each step once it is drawn */
#define SG_PLAY_REST_S 1.6
#define SG_CLIP_MARGIN_MM 0.2      /* beyond the stroke's edge, for smoothed pixels */

typedef struct {
    uint32_t first, end;           /* its items */
    bool moves;                    /* its light draws itself */
    double speed_mm_per_s;         /* one for all its rays, so that parallel rays stay abreast */
    double draw_s, begin_s;        /* how long its light takes; when it begins under #play */
} Step;

typedef struct {
    const SgPage *page;
    SgBuf *out;
    bool stepped, slide;
    int last;                      /* last step that is shown */
    Step *step;                    /* 0..last */
    SgChains chain;                /* which items of a ray go together */
    uint32_t nclips;
    SgStr id;                      /* the figure's, as it stands in attributes */
    SgStr use;                     /* how every use of a glyph begins */
    const char *face_letter;       /* of each face, for the ids of glyphs */
} Svg;

/* ---- small writers ---- */

static void put_text(SgBuf *b, SgStr s, bool in_attribute)
{
    uint32_t from = 0;
    for (uint32_t i = 0; i < s.n; i++) {
        const char *as = s.s[i] == '&' ? "&amp;" : s.s[i] == '<' ? "&lt;" : s.s[i] == '>' ? "&gt;"
                       : in_attribute && s.s[i] == '"' ? "&quot;" : NULL;
        if (!as) continue;
        sg_put(b, s.s + from, i - from);
        sg_puts(b, as);
        from = i + 1;
    }
    sg_put(b, s.s + from, s.n - from);
}

static void put_whole(SgBuf *b, int64_t n)
{
    char digits[24];
    size_t at = sizeof digits;
    uint64_t left = n < 0 ? (uint64_t)-n : (uint64_t)n;
    do digits[--at] = (char)('0' + left % 10); while (left /= 10);
    if (n < 0) digits[--at] = '-';
    sg_put(b, digits + at, sizeof digits - at);
}

/* x of less than a thousand to at most `decimals` (up to 9) places, for turns and scales, which need more than a millimetre does. */
static void put_fine(SgBuf *b, double x, int decimals)
{
    char digits[24];
    size_t at = sizeof digits;
    uint64_t power = 1;
    for (int i = 0; i < decimals; i++) power *= 10;
    uint64_t left = (uint64_t)(fabs(x) * (double)power + 0.5), below = left % power;
    if (x < 0 && left) sg_put_char(b, '-');
    put_whole(b, (int64_t)(left / power));
    if (!below) return;
    for (int i = 0; i < decimals; i++, below /= 10)
        if (at < sizeof digits || below % 10) digits[--at] = (char)('0' + below % 10);
    sg_put_char(b, '.');
    sg_put(b, digits + at, sizeof digits - at);
}

static void put_pair(SgBuf *b, double x, double y)
{
    sg_put_mm3(b, x);
    sg_put_char(b, ' ');
    sg_put_mm3(b, y);
}

/* ` name="value"` in millimetres; name comes with its space, sign and quote. */
static void put_mm(SgBuf *b, const char *opening, double mm)
{
    sg_puts(b, opening);
    sg_put_mm3(b, mm);
    sg_put_char(b, '"');
}

static void put_colour(SgBuf *b, const char *opening, uint32_t rgb)
{
    static const char hex[] = "0123456789abcdef";
    sg_puts(b, opening);
    sg_put_char(b, '#');
    for (int shift = 20; shift >= 0; shift -= 4) sg_put_char(b, hex[rgb >> shift & 15]);
}

static void put_rgb(SgBuf *b, const char *opening, uint32_t rgb)
{
    put_colour(b, opening, rgb);
    sg_put_char(b, '"');
}

static void put_id(Svg *v) { sg_put_str(v->out, v->id); }

/* ` id="FIGURE-word` and a number, when it is not negative. */
static void put_id_attribute(Svg *v, const char *word, int64_t number)
{
    sg_puts(v->out, " id=\"");
    put_id(v);
    sg_put_char(v->out, '-');
    sg_puts(v->out, word);
    if (number >= 0) put_whole(v->out, number);
    sg_put_char(v->out, '"');
}

/* ---- words: shared outlines to be seen, transparent text to be marked, copied and read out ---- */

static void put_run(Svg *v, const SgRun *run, double x_mm, double y_mm)
{
    SgBuf *b = v->out;
    double scale = run->size_mm / SG_UNITS_PER_EM;
    sg_puts(b, "<g transform=\"translate(");
    put_pair(b, x_mm + run->x_mm, y_mm - run->rise_mm);
    sg_puts(b, ")scale(");
    put_fine(b, scale, 7);
    sg_put_char(b, ' ');
    put_fine(b, -scale, 7);
    sg_puts(b, ")\">");
    for (uint32_t i = 0; i < run->nglyphs; i++) {
        const SgGlyphAt *g = &run->glyph[i];
        if (!sg_glyph_path(run->face, g->glyph)[0]) continue;
        sg_put_str(b, v->use);
        sg_put_char(b, v->face_letter[run->face]);
        put_whole(b, g->glyph);
        sg_puts(b, "\" x=\"");
        put_whole(b, g->x);
        sg_puts(b, "\"/>");
    }
    sg_puts(b, "</g>");
}

static void put_words(Svg *v, const SgWords *w, double x_mm, double y_mm, uint32_t rgb)
{
    SgBuf *b = v->out;
    double size_mm = 0;
    put_rgb(b, "<g fill=\"", rgb);
    sg_put_char(b, '>');
    for (uint32_t i = 0; i < w->nruns; i++) {
        put_run(v, &w->run[i], x_mm, y_mm);
        if (w->run[i].size_mm > size_mm) size_mm = w->run[i].size_mm;
    }
    if (w->plain.n && w->width_mm > 0) {
        put_mm(b, "<text x=\"", x_mm);
        put_mm(b, " y=\"", y_mm);
        put_mm(b, " font-size=\"", size_mm);
        put_mm(b, " textLength=\"", w->width_mm);
        sg_puts(b, " lengthAdjust=\"spacingAndGlyphs\" fill-opacity=\"0\">");
        put_text(b, w->plain, false);
        sg_puts(b, "</text>");
    }
    sg_puts(b, "</g>\n");
}

/* ---- shapes ---- */

static void put_stroke_look(SgBuf *b, const SgItem *it)
{
    put_rgb(b, " stroke=\"", it->rgb);
    put_mm(b, " stroke-width=\"", it->line_mm);
    if (!it->ndash) return;
    sg_puts(b, " stroke-dasharray=\"");
    for (uint8_t i = 0; i < it->ndash; i++) {
        if (i) sg_put_char(b, ' ');
        sg_put_mm3(b, it->dash_mm[i]);
    }
    sg_put_char(b, '"');
}

static void put_points(SgBuf *b, const SgItem *it)
{
    sg_puts(b, "<path d=\"");
    for (uint32_t i = 0; i < it->nxy; i++) {
        sg_put_char(b, i ? 'L' : 'M');
        put_pair(b, it->xy[i].x_mm, it->xy[i].y_mm);
    }
    if (it->closed) sg_put_char(b, 'Z');
    sg_put_char(b, '"');
}

static void put_circle(SgBuf *b, const SgItem *it)
{
    put_mm(b, "<circle cx=\"", it->xy[0].x_mm);
    put_mm(b, " cy=\"", it->xy[0].y_mm);
    put_mm(b, " r=\"", it->radius_mm);
}

/* One elliptical-arc command; the page's y runs down, so counter-clockwise as seen is the negative sweep. */
static void put_arc(SgBuf *b, const SgItem *it)
{
    double r = it->radius_mm, sweep = it->sweep_deg, s0, c0, s1, c1;
    if (sweep >= 360 || sweep <= -360) {
        put_circle(b, it);
        return;
    }
    sg_sincos_deg(it->from_deg, &s0, &c0);
    sg_sincos_deg(it->from_deg + sweep, &s1, &c1);
    sg_puts(b, "<path d=\"M");
    put_pair(b, it->xy[0].x_mm + r * c0, it->xy[0].y_mm - r * s0);
    sg_put_char(b, 'A');
    put_pair(b, r, r);
    sg_puts(b, sweep > 180 || sweep < -180 ? " 0 1 " : " 0 0 ");
    sg_puts(b, sweep > 0 ? "0 " : "1 ");
    put_pair(b, it->xy[0].x_mm + r * c1, it->xy[0].y_mm - r * s1);
    sg_put_char(b, '"');
}

static void put_shape(Svg *v, const SgItem *it)
{
    SgBuf *b = v->out;
    switch (it->shape) {
    case SG_ITEM_STROKE:
        put_points(b, it);
        put_stroke_look(b, it);
        break;
    case SG_ITEM_ARC:
        put_arc(b, it);
        put_stroke_look(b, it);
        break;
    case SG_ITEM_DISC:
        put_circle(b, it);
        put_rgb(b, " fill=\"", it->rgb);
        break;
    case SG_ITEM_FILL:
        put_points(b, it);
        put_rgb(b, " fill=\"", it->rgb);
        break;
    case SG_ITEM_WORDS:
        put_words(v, it->words, it->xy[0].x_mm, it->xy[0].y_mm, it->rgb);
        return;
    }
    sg_puts(b, "/>\n");
}

/* ---- light that draws itself ---- */

static double stroke_mm(const SgItem *it)
{
    double sum = 0;
    if (it->shape != SG_ITEM_STROKE) return 0;
    for (uint32_t i = 1; i < it->nxy; i++) sum += sg_pt_distance(it->xy[i - 1], it->xy[i]);
    return sum;
}

/* From when to when, in millimetres of light, the chain of a ray's items that begins at `first` is drawn. */
static void ray_reach(const Svg *v, uint32_t first, double *from_mm, double *to_mm)
{
    *from_mm = *to_mm = v->page->item[first].light_from_mm;
    for (uint32_t i = first; i != SG_NONE; i = v->chain.next[i]) {
        const SgItem *it = &v->page->item[i];
        double end = it->light_from_mm + stroke_mm(it);
        if (it->light_from_mm < *from_mm) *from_mm = it->light_from_mm;
        if (end > *to_mm) *to_mm = end;
    }
}

static void put_time(SgBuf *b, const char *opening, double s)
{
    sg_puts(b, opening);
    sg_put_mm3(b, s);
    sg_put_char(b, 's');
}

/* One bar of the clip, for the straight part a to b, reached after wait_s. Lies along x and is turned into place by --way, so
   that growing is one scale; as wide as the stroke, so that it uncovers nothing of another part of the ray. */
static void put_bar(SgBuf *b, SgPoint a, SgPoint c, double half_mm, double wait_s, double for_s)
{
    double length = sg_pt_distance(a, c);
    SgPoint u = sg_pt_unit(sg_pt_sub(c, a));
    put_mm(b, "<rect class=\"run\" x=\"", -half_mm);
    put_mm(b, " y=\"", -half_mm);
    put_mm(b, " width=\"", length + 2 * half_mm);
    put_mm(b, " height=\"", 2 * half_mm);
    put_time(b, " style=\"--wait:", wait_s);
    put_time(b, ";--for:", for_s > 0.001 ? for_s : 0.001);
    sg_puts(b, ";--way:matrix(");
    const double turn[4] = { u.x_mm, u.y_mm, -u.y_mm, u.x_mm };
    for (int i = 0; i < 4; i++) {
        put_fine(b, turn[i], 6);
        sg_put_char(b, ',');
    }
    sg_put_mm3(b, a.x_mm);
    sg_put_char(b, ',');
    sg_put_mm3(b, a.y_mm);
    sg_puts(b, ")\"/>");
}

/* A stroke with its clip, which only the style sheet applies. The empty rectangle widens the group's box: one engine
   crops a clip to the box of the fill, which of a level line is nothing. */
static void put_lit_stroke(Svg *v, const SgItem *it, double start_mm, double speed)
{
    SgBuf *b = v->out;
    double half = it->line_mm / 2 + SG_CLIP_MARGIN_MM, run = it->light_from_mm - start_mm;
    uint32_t clip = v->nclips++;
    SgBox box = sg_box_empty();
    sg_puts(b, "<clipPath");
    put_id_attribute(v, "clip", clip);
    sg_put_char(b, '>');
    for (uint32_t i = 0; i < it->nxy; i++) box = sg_box_add(box, it->xy[i]);
    for (uint32_t i = 1; i < it->nxy; i++) {
        double length = sg_pt_distance(it->xy[i - 1], it->xy[i]);
        put_bar(b, it->xy[i - 1], it->xy[i], half, run / speed, length / speed);
        run += length;
    }
    box = sg_box_pad(box, half);
    sg_puts(b, "</clipPath><g class=\"lit\" style=\"--clip:url(#");
    put_id(v);
    sg_puts(b, "-clip");
    put_whole(b, clip);
    put_mm(b, ")\"><rect stroke=\"none\" x=\"", box.x0_mm);
    put_mm(b, " y=\"", box.y0_mm);
    put_mm(b, " width=\"", box.x1_mm - box.x0_mm);
    put_mm(b, " height=\"", box.y1_mm - box.y0_mm);
    sg_puts(b, "/>");
    put_shape(v, it);
    sg_puts(b, "</g>\n");
}

/* Heads, and all of a ray that is no open stroke, appear whole when the light is there. */
static void put_lit(Svg *v, const SgItem *it, double start_mm, double speed)
{
    if (it->shape == SG_ITEM_STROKE && !it->closed && it->nxy > 1) {
        put_lit_stroke(v, it, start_mm, speed);
        return;
    }
    put_time(v->out, "<g class=\"pop\" style=\"--wait:", (it->light_from_mm - start_mm) / speed);
    sg_puts(v->out, "\">");
    put_shape(v, it);
    sg_puts(v->out, "</g>\n");
}

/* ---- what is where, before anything is written ---- */

static void time_step(Svg *v, Step *step)
{
    double longest = 0;
    uint32_t rays = 0;
    for (uint32_t i = step->first; i < step->end; i++) {
        double from, to;
        if (!v->page->item[i].light || v->chain.follows[i]) continue;
        ray_reach(v, i, &from, &to);
        if (to - from > longest) longest = to - from;
        rays++;
    }
    step->moves = longest > 0 && rays <= SG_MOST_MOVING;
    if (!step->moves) return;
    step->draw_s = longest / SG_PACE_MM_PER_S;
    if (step->draw_s < SG_DRAW_LEAST_S) step->draw_s = SG_DRAW_LEAST_S;
    if (step->draw_s > SG_DRAW_MOST_S) step->draw_s = SG_DRAW_MOST_S;
    step->speed_mm_per_s = longest / step->draw_s;
}

static void plan(Svg *v, SgSvgOptions options)
{
    const SgPage *p = v->page;
    uint32_t at = 0;
    double clock = SG_PLAY_GIVEN_S;
    v->last = (int)p->nsteps;
    if (options.step >= 0 && options.step < v->last) v->last = options.step;
    v->stepped = !options.still && (v->last > 0 || options.slide);
    v->slide = options.slide;
    v->step = SG_ARRAY(v->out->arena, Step, (size_t)v->last + 1);
    v->chain = sg_output_chains(v->out->arena, p);
    for (int k = 0; k <= v->last; k++) {
        Step *step = &v->step[k];
        step->first = at;
        while (at < p->nitems && p->item[at].step <= k) at++;
        step->end = at;
        if (!v->stepped || k == 0) continue;      /* what is given stands there, and never moves */
        time_step(v, step);
        step->begin_s = clock;
        clock += step->draw_s + SG_PLAY_REST_S;
    }
}

/* ---- the parts of the file, from its top ---- */

static void mark_glyphs(const SgWords *w, uint8_t *used, uint32_t nglyphs)
{
    for (uint32_t r = 0; r < w->nruns; r++)
        for (uint32_t i = 0; i < w->run[r].nglyphs; i++)
            used[(uint32_t)w->run[r].face * nglyphs + w->run[r].glyph[i].glyph] = 1;
}

static uint32_t most_glyph(const SgWords *w, uint32_t most)
{
    for (uint32_t r = 0; r < w->nruns; r++)
        for (uint32_t i = 0; i < w->run[r].nglyphs; i++)
            if (w->run[r].glyph[i].glyph > most) most = w->run[r].glyph[i].glyph;
    return most;
}

/* Calls for all words that will be written: those of shown items, and the captions when the file is stepped. */
static const SgWords *words_at(const Svg *v, uint32_t *item, uint32_t *step, uint32_t *line)
{
    uint32_t nitems = v->step[v->last].end, nsteps = v->stepped ? (uint32_t)v->last : 0;
    while (*item < nitems) {
        const SgItem *it = &v->page->item[(*item)++];
        if (it->shape == SG_ITEM_WORDS) return it->words;
    }
    for (; *step < nsteps; ++*step, *line = 0)
    {
        const SgPageStep *s = &v->page->step[*step];
        if (*line < s->nlines) return &s->line[(*line)++];
        if (*line < s->nlines + s->nask) return &s->ask_line[(*line)++ - s->nlines];
    }
    return NULL;
}

static void put_glyphs(Svg *v)
{
    uint32_t item = 0, step = 0, line = 0, n = 0;
    const SgWords *w;
    bool any = false;
    while ((w = words_at(v, &item, &step, &line))) {
        n = most_glyph(w, n);
        any = true;
    }
    if (!any) return;
    n++;
    uint8_t *used = SG_ARRAY(v->out->arena, uint8_t, (size_t)n * SG_FACE_COUNT);
    item = step = line = 0;
    while ((w = words_at(v, &item, &step, &line))) mark_glyphs(w, used, n);
    sg_puts(v->out, "<defs>\n");
    for (uint32_t f = 0; f < SG_FACE_COUNT; f++)
        for (uint32_t g = 0; g < n; g++) {
            const char *path = used[f * n + g] ? sg_glyph_path((SgFace)f, (uint16_t)g) : "";
            if (!path[0]) continue;
            const char letter[2] = { v->face_letter[f], 0 };
            sg_puts(v->out, "<path");
            put_id_attribute(v, letter, g);
            sg_puts(v->out, " d=\"");
            sg_puts(v->out, path);
            sg_puts(v->out, "\"/>\n");
        }
    sg_puts(v->out, "</defs>\n");
}

static void put_description(Svg *v)
{
    SgBuf *b = v->out;
    bool whole = v->last == (int)v->page->nsteps;
    if ((whole ? v->page->describe : v->page->given).n == 0) return;
    sg_puts(b, "<desc");
    put_id_attribute(v, "desc", -1);
    sg_put_char(b, '>');
    put_text(b, sg_page_told(b->arena, v->page, v->last), false);
    sg_puts(b, "</desc>\n");
}

/* In a page of slides the style sheet gives the size. */
static void put_size(Svg *v)
{
    SgBuf *b = v->out;
    const SgPage *p = v->page;
    if (v->slide) {
        sg_puts(b, " class=\"drawing\"");
    } else {
        sg_puts(b, " width=\"");
        sg_put_mm3(b, p->w_mm);
        sg_puts(b, "mm\" height=\"");
        sg_put_mm3(b, p->h_mm);
        sg_puts(b, "mm\"");
    }
    sg_puts(b, " viewBox=\"0 0 ");
    put_pair(b, p->w_mm, p->h_mm + (v->slide ? p->strip_mm : 0));
}

/* What the player says at each step, in the page's language; a page of slides has its own but for the first. */
static void put_told(Svg *v)
{
    static const struct { const char *opening; SgTextId id; } told[] = {
        { " data-step=\"", SG_TEXT_player_step }, { " data-step-of=\"", SG_TEXT_player_step_of }, { " data-told=\"", SG_TEXT_player_told },
        { " data-question=\"", SG_TEXT_player_question },
    };
    for (size_t i = 0; i < (v->slide ? 1 : sizeof told / sizeof *told); i++) {
        sg_puts(v->out, told[i].opening);
        put_text(v->out, v->page->wording->text[told[i].id], true);
        sg_put_char(v->out, '"');
    }
}

static void put_head(Svg *v)
{
    SgBuf *b = v->out;
    const SgPage *p = v->page;
    bool whole = v->last == (int)p->nsteps;
    sg_puts(b, "<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:xlink=\"http://www.w3.org/1999/xlink\"");
    sg_puts(b, v->slide ? " lang=\"" : " xml:lang=\"");
    put_text(b, p->wording->text[SG_TEXT_language], true);
    sg_put_char(b, '"');
    put_id_attribute(v, "figure", -1);
    put_size(v);
    sg_puts(b, "\" role=\"img\" aria-labelledby=\"");
    put_id(v);
    sg_puts(b, "-title");
    if ((whole ? p->describe : p->given).n > 0) {
        sg_put_char(b, ' ');
        put_id(v);
        sg_puts(b, "-desc");
    }
    sg_put_char(b, '"');
    if (v->stepped && !v->slide) {
        put_mm(b, " data-strip=\"", p->strip_mm);
        if (p->transparent) sg_puts(b, " style=\"--paper:none");
        else put_colour(b, " style=\"--paper:", p->paper_rgb);
        put_colour(b, ";--ink:", p->caption_rgb);
        sg_put_char(b, '"');
    }
    if (v->stepped) put_told(v);
    if (v->stepped && p->given.n > 0) {                /* what is told until the end is there */
        sg_puts(b, " data-given=\"");
        put_text(b, p->given, true);
        sg_putf(b, "\"");
    }
    sg_puts(b, " fill=\"none\" stroke-linejoin=\"round\" font-family=\"Liberation Sans, Arial, Helvetica, sans-serif\">\n<title");
    put_id_attribute(v, "title", -1);
    sg_put_char(b, '>');
    put_text(b, p->title.n ? p->title : p->id, false);
    sg_puts(b, "</title>\n");
    put_description(v);
    if (!v->stepped || v->slide) return;
    sg_puts(b, "<style type=\"text/css\"><![CDATA[\n");
    sg_put(b, (const char *)sg_player_css, sg_player_css_bytes);
    sg_puts(b, "]]></style>\n");
}

static void put_paper(Svg *v)
{
    if (v->page->transparent) return;
    put_mm(v->out, "<rect width=\"", v->page->w_mm);
    put_mm(v->out, " height=\"", v->page->h_mm);
    put_rgb(v->out, " fill=\"", v->page->paper_rgb);
    sg_puts(v->out, "/>\n");
}

/* What steps change about a thing: its last look as attributes, so that it stands finished; all looks for the player. */
static bool open_cues(Svg *v, const SgItem *it)
{
    char look = sg_output_look(it, v->last);
    if (it->ncues == 0) return false;
    if (!v->stepped && look == 's') return false;
    sg_puts(v->out, "<g class=\"cued\"");
    if (look == 'f' && v->page->faded < 1) put_mm(v->out, " opacity=\"", v->page->faded);
    if (look == 'h') sg_puts(v->out, " display=\"none\"");
    if (v->stepped) {
        sg_puts(v->out, " data-look=\"");
        for (uint32_t i = 0; i < it->ncues; i++) {
            if (i) sg_put_char(v->out, ' ');
            put_whole(v->out, it->cue[i].step);
            sg_put_char(v->out, it->cue[i].look);
        }
        sg_put_char(v->out, '"');
    }
    sg_puts(v->out, ">\n");
    return true;
}

static void open_group(Svg *v, SgStr name)
{
    sg_puts(v->out, "<g data-name=\"");
    put_text(v->out, name, true);
    sg_puts(v->out, "\">\n");
}

/* A ray's items of one step, wherever they stand in it, go together: the clips and the name are of the ray. */
static void put_ray(Svg *v, const Step *step, uint32_t first)
{
    double from, to;
    ray_reach(v, first, &from, &to);
    open_group(v, v->page->item[first].name);
    for (uint32_t i = first; i != SG_NONE; i = v->chain.next[i]) {
        const SgItem *it = &v->page->item[i];
        if (step->moves) put_lit(v, it, from, step->speed_mm_per_s);
        else put_shape(v, it);
    }
    sg_puts(v->out, "</g>\n");
}

static void put_items(Svg *v, const Step *step)
{
    const SgItem *item = v->page->item;
    for (uint32_t i = step->first; i < step->end; i++) {
        if (item[i].light) {
            if (v->chain.follows[i]) continue;
            bool cued = open_cues(v, &item[i]);
            put_ray(v, step, i);
            if (cued) sg_puts(v->out, "</g>\n");
            continue;
        }
        uint32_t end = sg_output_group_end(v->page, i);
        bool cued = open_cues(v, &item[i]);
        if (end - i > 1) open_group(v, item[i].name);
        for (uint32_t j = i; j < end; j++) put_shape(v, &item[j]);
        if (end - i > 1) sg_puts(v->out, "</g>\n");
        if (cued) sg_puts(v->out, "</g>\n");
        i = end - 1;
    }
}

/* Captions are <desc>, not <title>: a title inside a drawing is a bubble under a resting pointer, over the very thing shown. */
static void put_step(Svg *v, int k)
{
    SgBuf *b = v->out;
    sg_puts(b, "<g class=\"step\"");
    put_id_attribute(v, "step", k);
    if (v->stepped && !v->slide && k > 0) {
        put_time(b, " style=\"--begin:", v->step[k].begin_s);
        sg_put_char(b, '"');
    }
    sg_puts(b, ">\n");
    if (k > 0 && v->page->step[k - 1].plain.n) {
        sg_puts(b, "<desc>");
        put_text(b, v->page->step[k - 1].plain, false);
        sg_puts(b, "</desc>\n");
    }
    put_items(v, &v->step[k]);
    sg_puts(b, "</g>\n");
    if (!v->stepped || v->slide) return;
    /* A public fragment, the same in every figure: FILE.svg#step2. */
    sg_puts(b, "<g class=\"here\" id=\"step");
    put_whole(b, k);
    sg_puts(b, "\"/>\n");
}

/* Below the frame, so outside what a still view shows, and hidden besides. */
static void put_captions(Svg *v)
{
    const SgPage *p = v->page;
    const SgPoint at = sg_output_caption_at(p, v->last);
    for (int k = 0; k < v->last; k++) {
        sg_puts(v->out, "<g class=\"caption\"");
        put_id_attribute(v, "caption", k + 1);
        sg_puts(v->out, " display=\"none\">\n");
        for (uint32_t i = 0; i < p->step[k].nlines; i++)
            put_words(v, &p->step[k].line[i], at.x_mm, at.y_mm + i * p->caption_lead_mm, p->caption_rgb);
        sg_puts(v->out, "</g>\n");
        if (!p->step[k].nask) continue;
        sg_puts(v->out, "<g class=\"question\" data-step=\"");
        put_whole(v->out, k + 1);
        sg_puts(v->out, "\" display=\"none\">\n<desc>");
        put_text(v->out, p->step[k].ask, false);
        sg_puts(v->out, "</desc>\n");
        for (uint32_t i = 0; i < p->step[k].nask; i++)
            put_words(v, &p->step[k].ask_line[i], at.x_mm, at.y_mm + i * p->caption_lead_mm, p->caption_rgb);
        sg_puts(v->out, "</g>\n");
    }
}

static void prepare_ids(Svg *v)
{
    SgBuf id = { .arena = v->out->arena }, use = { .arena = v->out->arena };
    put_text(&id, v->page->id, true);
    v->id = id.n ? sg_buf_str(&id) : SG_LIT("figure");
    sg_puts(&use, "<use xlink:href=\"#");
    sg_put_str(&use, v->id);
    sg_put_char(&use, '-');
    v->use = sg_buf_str(&use);
}

void sg_output_svg(const SgPage *page, SgSvgOptions options, SgBuf *out)
{
    Svg v = { .page = page, .out = out, .face_letter = "uib" };
    _Static_assert(SG_FACE_COUNT == 3, "every face needs its letter");
    prepare_ids(&v);
    plan(&v, options);
    put_head(&v);
    put_glyphs(&v);
    if (!v.slide) put_paper(&v);
    if (v.stepped && !v.slide) sg_puts(out, "<g class=\"play\" id=\"play\"/>\n");
    for (int k = 0; k <= v.last; k++) put_step(&v, k);
    if (v.stepped) put_captions(&v);
    if (v.stepped && !v.slide) {
        sg_puts(out, "<script type=\"text/javascript\"><![CDATA[\n");
        sg_put(out, (const char *)sg_player_js, sg_player_js_bytes);
        sg_puts(out, "]]></script>\n");
    }
    sg_puts(out, "</svg>\n");
}
