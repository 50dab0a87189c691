/* output/odp_shape: a figure's items as native shapes of a slide.
   in     items in page millimetres; where the figure stands on the slide and how large.
   out    lines, polygons, circles and text frames, named and grouped by what they draw; the styles they share.
   never  moves or bends anything: a ray that turns back is only cut where it turns, so that each part can be wiped in. */
#include <math.h>

#include "base/num.h"
#include "output/odp_build.h"
#include "output/xml.h"

#define SG_MM_PER_UNIT 0.001           /* points of polylines are whole numbers in the standard */
#define SG_FACE_LINE 1.15              /* height of a line of it, in em */
enum { SG_MOST_MOVING = 20 };          /* rays of one step that draw themselves; with more they appear */

/* Some points of an item: the whole of one that is no open stroke. */
typedef struct { uint32_t item, first, end; } Bit;
/* What of a ray goes one way across the slide. */
typedef struct { char from; double from_mm, to_mm; bool dashed; SG_VEC(Bit) bit; } Flight;
typedef SG_VEC(Flight) Flights;

/* ---- lengths and styles ---- */
void sg_odp_length(SgBuf *b, const char *opening, double mm)
{
    sg_puts(b, opening);
    sg_put_mm3(b, mm);
    sg_puts(b, "mm\"");
}

static SgPoint place(const SgOdp *o, SgPoint p) { return sg_pt(p.x_mm * o->scale, o->top_mm + p.y_mm * o->scale); }

static uint32_t dash_of(SgOdp *o, const SgItem *it)
{
    if (it->ndash < 2) return 0;
    SgOdpDash d = { .n = it->ndash };
    for (uint8_t i = 0; i < d.n; i++) d.length_mm[i] = floor(it->dash_mm[i] * o->scale * 1000 + 0.5) / 1000;
    for (uint32_t i = 0; i < o->dash.n; i++) {
        bool same = o->dash.v[i].n == d.n;
        for (uint8_t k = 0; same && k < d.n; k++) same = fabs(o->dash.v[i].length_mm[k] - d.length_mm[k]) < 5e-4;
        if (same) return i + 1;
    }
    SG_PUSH(o->a, &o->dash, d);
    return o->dash.n;
}

static uint32_t look_of(SgOdp *o, const SgItem *it)
{
    bool stroke = it->shape == SG_ITEM_STROKE || it->shape == SG_ITEM_ARC;
    SgOdpLook l = { stroke ? SG_ODP_STROKE : SG_ODP_FILL, it->rgb, 0, 0, false };
    if (stroke) l.line_mm = it->line_mm * o->scale;
    if (stroke) l.dash = dash_of(o, it);
    l.round = stroke && it->light && !l.dash;          /* its parts must join as one line */
    for (uint32_t i = 0; i < o->look.n; i++) {
        const SgOdpLook *k = &o->look.v[i];
        if (k->paint == l.paint && k->rgb == l.rgb && fabs(k->line_mm - l.line_mm) < 5e-4 && k->dash == l.dash && k->round == l.round) return i + 1;
    }
    SG_PUSH(o->a, &o->look, l);
    return o->look.n;
}

uint32_t sg_odp_letters(SgOdp *o, SgOdpLetters l)
{
    for (uint32_t i = 0; i < o->letters.n; i++) {
        const SgOdpLetters *k = &o->letters.v[i];
        if (k->face == l.face && k->rgb == l.rgb && fabs(k->em_mm - l.em_mm) < 5e-4 && k->rise == l.rise && k->size == l.size) return i + 1;
    }
    SG_PUSH(o->a, &o->letters, l);
    return o->letters.n;
}

/* ---- words ---- */
void sg_odp_paragraph(SgOdp *o, double em_mm)
{
    uint32_t i = 0;
    while (i < o->em.n && fabs(o->em.v[i] - em_mm) >= 5e-4) i++;
    if (i == o->em.n) SG_PUSH(o->a, &o->em, em_mm);
    sg_putf(&o->body, "<text:p text:style-name=\"w%u\">", (unsigned)i + 1);
}

static double line_em_mm(const SgWords *w)
{
    double em = 0;
    for (uint32_t i = 0; i < w->nruns; i++)
        if (w->run[i].size_mm > em) em = w->run[i].size_mm;
    return em;
}

static int per_cent(double x) { return (int)floor(x * 100 + 0.5); }

/* Spaces that readers of XML would join are written as signs of their own. */
static void put_characters(SgBuf *b, SgStr s, bool *blank)
{
    for (uint32_t i = 0; i < s.n; i++) {
        bool space = s.s[i] == ' ';
        if (space && *blank) sg_puts(b, "<text:s/>");
        else sg_put_xml(b, (SgStr){ s.s + i, 1 });
        *blank = space;
    }
}

void sg_odp_spans(SgOdp *o, const SgWords *w, double scale, uint32_t rgb)
{
    double em = line_em_mm(w);
    bool blank = true;
    for (uint32_t i = 0; i < w->nruns; i++) {
        const SgRun *run = &w->run[i];
        SgOdpLetters l = { run->face, rgb, em * scale, per_cent(run->rise_mm / em), per_cent(run->size_mm / em) };
        sg_putf(&o->body, "<text:span text:style-name=\"t%u\">", (unsigned)sg_odp_letters(o, l));
        put_characters(&o->body, run->chars, &blank);
        sg_puts(&o->body, "</text:span>");
    }
}

/* A frame begins as far above its baseline as its highest letters' ascent. */
static void put_words(SgOdp *o, const SgItem *it, SgStr extra)
{
    SgBuf *b = &o->body;
    const SgWords *w = it->words;
    SgPoint p = place(o, it->xy[0]);
    double em = line_em_mm(w), ascent = 0;
    for (uint32_t i = 0; i < w->nruns; i++) {
        double top = w->run[i].rise_mm + SG_FACE_ASCENT * w->run[i].size_mm;
        if (top > ascent) ascent = top;
    }
    if (ascent < SG_FACE_ASCENT * em) ascent = SG_FACE_ASCENT * em;
    sg_puts(b, "<draw:frame draw:style-name=\"words\"");
    sg_put_str(b, extra);
    sg_odp_length(b, " svg:x=\"", p.x_mm);
    sg_odp_length(b, " svg:y=\"", p.y_mm - ascent * o->scale);
    sg_odp_length(b, " svg:width=\"", w->width_mm * o->scale + 0.1);
    sg_odp_length(b, " svg:height=\"", em * SG_FACE_LINE * o->scale);
    sg_puts(b, "><draw:text-box>");
    sg_odp_paragraph(o, em * o->scale);
    sg_odp_spans(o, w, o->scale, it->rgb);
    sg_puts(b, "</text:p></draw:text-box></draw:frame>\n");
}

/* ---- shapes ---- */
static int64_t units(double mm) { return (int64_t)floor(mm / SG_MM_PER_UNIT + 0.5); }

static void put_points(SgOdp *o, const SgItem *it, uint32_t first, uint32_t end, bool closed, SgStr extra)
{
    SgBuf *b = &o->body;
    SgBox box = sg_box_empty();
    for (uint32_t i = first; i < end; i++) box = sg_box_add(box, place(o, it->xy[i]));
    double w = box.x1_mm - box.x0_mm, h = box.y1_mm - box.y0_mm;
    if (w < SG_MM_PER_UNIT) w = SG_MM_PER_UNIT;
    if (h < SG_MM_PER_UNIT) h = SG_MM_PER_UNIT;
    sg_putf(b, "<draw:%s draw:style-name=\"g%u\"", closed ? "polygon" : "polyline", (unsigned)look_of(o, it));
    sg_put_str(b, extra);
    sg_odp_length(b, " svg:x=\"", box.x0_mm);
    sg_odp_length(b, " svg:y=\"", box.y0_mm);
    sg_odp_length(b, " svg:width=\"", w);
    sg_odp_length(b, " svg:height=\"", h);
    sg_putf(b, " svg:viewBox=\"0 0 %lld %lld\" draw:points=\"", (long long)units(w), (long long)units(h));
    for (uint32_t i = first; i < end; i++) {
        SgPoint p = place(o, it->xy[i]);
        sg_putf(b, "%s%lld,%lld", i > first ? " " : "", (long long)units(p.x_mm - box.x0_mm), (long long)units(p.y_mm - box.y0_mm));
    }
    sg_puts(b, "\"/>\n");
}

static void put_line(SgOdp *o, const SgItem *it, uint32_t first, SgStr extra)
{
    SgBuf *b = &o->body;
    SgPoint p = place(o, it->xy[first]), q = place(o, it->xy[first + 1]);
    sg_putf(b, "<draw:line draw:style-name=\"g%u\"", (unsigned)look_of(o, it));
    sg_put_str(b, extra);
    sg_odp_length(b, " svg:x1=\"", p.x_mm);
    sg_odp_length(b, " svg:y1=\"", p.y_mm);
    sg_odp_length(b, " svg:x2=\"", q.x_mm);
    sg_odp_length(b, " svg:y2=\"", q.y_mm);
    sg_puts(b, "/>\n");
}

static void put_circle(SgOdp *o, const SgItem *it, SgStr extra)
{
    SgBuf *b = &o->body;
    SgPoint c = place(o, it->xy[0]);
    double r = it->radius_mm * o->scale, from = it->from_deg, sweep = it->sweep_deg;
    sg_putf(b, "<draw:circle draw:style-name=\"g%u\"", (unsigned)look_of(o, it));
    sg_put_str(b, extra);
    sg_odp_length(b, " svg:x=\"", c.x_mm - r);
    sg_odp_length(b, " svg:y=\"", c.y_mm - r);
    sg_odp_length(b, " svg:width=\"", 2 * r);
    sg_odp_length(b, " svg:height=\"", 2 * r);
    if (it->shape == SG_ITEM_ARC && sweep < 360 && sweep > -360) {
        double to = from + sweep, start = sweep < 0 ? to : from, end = sweep < 0 ? from : to;
        sg_puts(b, " draw:kind=\"arc\" draw:start-angle=\"");
        sg_put_mm3(b, start - 360 * floor(start / 360));
        sg_puts(b, "\" draw:end-angle=\"");
        sg_put_mm3(b, end - 360 * floor(end / 360));
        sg_put_char(b, '"');
    }
    sg_puts(b, "/>\n");
}

/* One shape; extra: more attributes, each with its space. */
static void put_bit(SgOdp *o, Bit bit, SgStr extra)
{
    const SgItem *it = &o->page->item[bit.item];
    switch (it->shape) {
    case SG_ITEM_STROKE:
        if (bit.end - bit.first == 2 && !it->closed) put_line(o, it, bit.first, extra);
        else put_points(o, it, bit.first, bit.end, it->closed, extra);
        return;
    case SG_ITEM_FILL: put_points(o, it, bit.first, bit.end, true, extra); return;
    case SG_ITEM_ARC: case SG_ITEM_DISC: put_circle(o, it, extra); return;
    case SG_ITEM_WORDS: put_words(o, it, extra); return;
    }
}

static Bit whole(const SgOdp *o, uint32_t item) { return (Bit){ item, 0, o->page->item[item].nxy }; }

/* ---- names ---- */
/* What a role is called in the reader's language, with its name in the hole; empty names leave the word alone. */
static SgTextId role_text(SgRole role)
{
    switch (role) {
    case SG_ROLE_AXIS: case SG_ROLE_CROSS_AXIS: case SG_ROLE_BREAK: return SG_TEXT_shape_axis;
    case SG_ROLE_MIRROR: return SG_TEXT_shape_mirror;
    case SG_ROLE_LENS: return SG_TEXT_shape_lens;
    case SG_ROLE_SURFACE: return SG_TEXT_shape_boundary;
    case SG_ROLE_GLASS: return SG_TEXT_shape_glass;
    case SG_ROLE_STOP: return SG_TEXT_shape_stop;
    case SG_ROLE_SCREEN: return SG_TEXT_shape_screen;
    case SG_ROLE_EYE: return SG_TEXT_shape_eye;
    case SG_ROLE_OBJECT: return SG_TEXT_shape_object;
    case SG_ROLE_REAL_IMAGE: case SG_ROLE_VIRTUAL_IMAGE: return SG_TEXT_shape_image;
    case SG_ROLE_RAY: return SG_TEXT_shape_ray;
    case SG_ROLE_PRODUCED: return SG_TEXT_shape_produced;
    case SG_ROLE_AID: case SG_ROLE_LINE: return SG_TEXT_shape_line;
    case SG_ROLE_POINT: case SG_ROLE_TICK: return SG_TEXT_shape_point;
    case SG_ROLE_DIMENSION: return SG_TEXT_shape_dimension;
    case SG_ROLE_ANGLE: return SG_TEXT_shape_angle;
    case SG_ROLE_NORMAL: return SG_TEXT_shape_normal;
    case SG_ROLE_CIRCLE: return SG_TEXT_shape_circle;
    case SG_ROLE_PROTRACTOR: return SG_TEXT_shape_protractor;
    case SG_ROLE_RULER: return SG_TEXT_shape_ruler;
    case SG_ROLE_GRID: return SG_TEXT_shape_grid;
    case SG_ROLE_LABEL: case SG_ROLE_NOTE: return SG_TEXT_shape_words;
    }
    return SG_TEXT_shape_words;
}

/* ` draw:name="ray a"`, and ` xml:id="p7"` for a piece (id 0: none). */
static SgStr attributes(SgOdp *o, const SgItem *it, uint32_t id)
{
    SgBuf b = { .arena = o->a };
    bool words = it->shape == SG_ITEM_WORDS, axis = it->role == SG_ROLE_AXIS;      /* an axis has a name only inside the compiler */
    SgStr own = words ? it->words->plain : axis ? SG_LIT("") : it->name;
    if ((it->role == SG_ROLE_RAY || it->role == SG_ROLE_PRODUCED) && !words && it->light > 0) own = sg_format(o->a, "%u", (unsigned)it->light);       /* as the figure numbers it */
    SgStr name = sg_filled(o->a, o->page->wording, words ? SG_TEXT_shape_words : role_text(it->role), &(SgHole){ "name", own }, 1);
    while (name.n && name.s[name.n - 1] == ' ') name.n--;
    sg_put_xml_attribute(&b, " draw:name=\"", name);
    if (id) sg_putf(&b, " xml:id=\"p%u\"", (unsigned)id);
    return sg_buf_str(&b);
}

static void open_group(SgOdp *o, SgStr extra)
{
    sg_puts(&o->body, "<draw:g");
    sg_put_str(&o->body, extra);
    sg_puts(&o->body, ">\n");
}

static void put_bits(SgOdp *o, const Bit *bit, uint32_t n, SgStr extra)
{
    if (n == 1) { put_bit(o, bit[0], extra); return; }
    open_group(o, extra);
    for (uint32_t i = 0; i < n; i++) put_bit(o, bit[i], SG_LIT(""));
    sg_puts(&o->body, "</draw:g>\n");
}

/* ---- light ---- */
/* The side of the slide that light going from a to b comes from. */
static char side_from(SgPoint a, SgPoint b)
{
    double x = b.x_mm - a.x_mm, y = b.y_mm - a.y_mm;
    if (fabs(x) >= fabs(y)) return x >= 0 ? 'l' : 'r';
    return y >= 0 ? 't' : 'b';
}

static void add_stroke(SgOdp *o, Flights *flights, uint32_t item, double start_mm, bool cut)
{
    const SgItem *it = &o->page->item[item];
    double at = it->light_from_mm - start_mm;
    Flight *now = NULL;
    for (uint32_t k = 0; k + 1 < it->nxy; k++) {
        char from = side_from(it->xy[k], it->xy[k + 1]);
        if (now == NULL || (cut && from != now->from)) {
            SG_PUSH(o->a, flights, ((Flight){ .from = from, .from_mm = at, .dashed = it->ndash > 0 }));
            now = &flights->v[flights->n - 1];
            SG_PUSH(o->a, &now->bit, ((Bit){ item, k, k + 1 }));
        }
        at += sg_pt_distance(it->xy[k], it->xy[k + 1]);
        now->to_mm = at;
        now->bit.v[0].end = k + 2;
    }
}

/* Heads go with the part of the light they stand on. */
static Flight *flight_at(Flights *flights, double at_mm)
{
    for (uint32_t i = 0; i < flights->n; i++) {
        Flight *f = &flights->v[i];
        if (!f->dashed && at_mm >= f->from_mm - 1e-6 && at_mm <= f->to_mm + 1e-6) return f;
    }
    return flights->n ? &flights->v[0] : NULL;
}

static Flights flights_of(SgOdp *o, uint32_t first, bool cut)
{
    Flights flights = { 0 };
    double start = o->page->item[first].light_from_mm;
    for (uint32_t i = first; i != SG_NONE; i = o->chain.next[i])
        if (o->page->item[i].light_from_mm < start) start = o->page->item[i].light_from_mm;
    for (uint32_t i = first; i != SG_NONE; i = o->chain.next[i])
        if (o->page->item[i].shape == SG_ITEM_STROKE && !o->page->item[i].closed && o->page->item[i].nxy > 1) add_stroke(o, &flights, i, start, cut);
    for (uint32_t i = first; i != SG_NONE; i = o->chain.next[i]) {
        const SgItem *it = &o->page->item[i];
        if (it->shape == SG_ITEM_STROKE && !it->closed && it->nxy > 1) continue;
        Flight *f = flight_at(&flights, it->light_from_mm - start);
        if (f == NULL) {
            SG_PUSH(o->a, &flights, ((Flight){ .from = 0 }));
            f = &flights.v[flights.n - 1];
        }
        SG_PUSH(o->a, &f->bit, whole(o, i));
    }
    return flights;
}

static uint32_t add_piece(SgOdp *o, const SgItem *it, const Flight *f)
{
    SgOdpPiece p = { .id = ++o->ids, .step = it->step, .cue = it->cue, .ncues = it->ncues };
    if (f != NULL) { p.from = f->from; p.from_mm = f->from_mm; p.to_mm = f->to_mm; }
    SG_PUSH(o->a, &o->piece, p);
    return p.id;
}

static void put_ray(SgOdp *o, uint32_t first, bool moves)
{
    const SgItem *it = &o->page->item[first];
    Flights flights = flights_of(o, first, moves);
    if (moves) {
        for (uint32_t i = 0; i < flights.n; i++) {
            Flight *f = &flights.v[i];
            put_bits(o, f->bit.v, f->bit.n, attributes(o, it, add_piece(o, it, f)));
        }
        return;
    }
    SG_VEC(Bit) all = { 0 };
    for (uint32_t i = 0; i < flights.n; i++)
        for (uint32_t k = 0; k < flights.v[i].bit.n; k++) SG_PUSH(o->a, &all, flights.v[i].bit.v[k]);
    put_bits(o, all.v, all.n, attributes(o, it, it->step > 0 || it->ncues ? add_piece(o, it, NULL) : 0));
}

/* ---- all of a figure ---- */
/* Which steps have no more rays than can be followed: of these light draws itself. */
static bool *moving_steps(SgOdp *o)
{
    const SgPage *p = o->page;
    bool *moves = SG_ARRAY(o->a, bool, (size_t)p->nsteps + 1);
    uint32_t *rays = SG_ARRAY(o->a, uint32_t, (size_t)p->nsteps + 1);
    for (uint32_t i = 0; i < p->nitems; i++)
        if (p->item[i].light && !o->chain.follows[i]) rays[p->item[i].step]++;
    for (uint32_t k = 1; k <= p->nsteps; k++) moves[k] = rays[k] > 0 && rays[k] <= SG_MOST_MOVING;
    return moves;
}

static uint32_t put_together(SgOdp *o, uint32_t first)
{
    const SgItem *it = &o->page->item[first];
    uint32_t end = sg_output_group_end(o->page, first);
    Bit *bit = SG_ARRAY(o->a, Bit, end - first);
    for (uint32_t i = first; i < end; i++) bit[i - first] = whole(o, i);
    put_bits(o, bit, end - first, attributes(o, it, it->step > 0 || it->ncues ? add_piece(o, it, NULL) : 0));
    return end;
}

/* What is given, as one group that carries the figure's title and description for those who cannot see it; where steps follow,
   what is given alone, for each step tells of itself. */
static uint32_t put_given(SgOdp *o)
{
    const SgPage *p = o->page;
    uint32_t i = 0;
    if (p->nitems == 0 || p->item[0].step > 0 || p->item[0].ncues) return 0;
    SgBuf name = { .arena = o->a };
    sg_put_xml_attribute(&name, " draw:name=\"", p->wording->text[SG_TEXT_notes_given]);
    open_group(o, sg_buf_str(&name));
    sg_puts(&o->body, "<svg:title>");
    sg_put_xml(&o->body, p->title.n ? p->title : p->id);
    sg_puts(&o->body, "</svg:title>\n<svg:desc>");
    sg_put_xml(&o->body, p->nsteps > 0 ? p->given : p->describe);
    sg_puts(&o->body, "</svg:desc>\n");
    while (i < p->nitems && p->item[i].step == 0 && p->item[i].ncues == 0) {
        if (!p->item[i].light) { i = put_together(o, i); continue; }
        if (!o->chain.follows[i]) put_ray(o, i, false);
        i++;
    }
    sg_puts(&o->body, "</draw:g>\n");
    return i;
}

void sg_odp_items(SgOdp *o)
{
    const SgPage *p = o->page;
    o->piece.n = 0;
    bool *moves = moving_steps(o);
    for (uint32_t i = put_given(o); i < p->nitems;) {
        if (!p->item[i].light) { i = put_together(o, i); continue; }
        if (!o->chain.follows[i]) put_ray(o, i, moves[p->item[i].step]);
        i++;
    }
}

/* ---- the styles ---- */
static void put_rgb(SgBuf *b, const char *opening, uint32_t rgb) { sg_putf(b, "%s#%06x\"", opening, (unsigned)rgb); }

static void put_look(const SgOdpLook *l, uint32_t number, SgBuf *b)
{
    sg_putf(b, "<style:style style:name=\"g%u\" style:family=\"graphic\"><style:graphic-properties", (unsigned)number);
    if (l->paint == SG_ODP_FILL) {
        put_rgb(b, " draw:stroke=\"none\" draw:fill=\"solid\" draw:fill-color=\"", l->rgb);
    } else {
        if (l->dash) sg_putf(b, " draw:stroke=\"dash\" draw:stroke-dash=\"d%u\"", (unsigned)l->dash);
        else sg_puts(b, " draw:stroke=\"solid\"");
        sg_odp_length(b, " svg:stroke-width=\"", l->line_mm);
        put_rgb(b, " svg:stroke-color=\"", l->rgb);
        sg_putf(b, " draw:stroke-linejoin=\"round\" svg:stroke-linecap=\"%s\" draw:fill=\"none\"", l->round ? "round" : "butt");
    }
    sg_puts(b, "/></style:style>\n");
}

static void put_letters(const SgOdpLetters *l, uint32_t number, SgBuf *b)
{
    sg_putf(b, "<style:style style:name=\"t%u\" style:family=\"text\"><style:text-properties fo:font-size=\"", (unsigned)number);
    sg_put_mm3(b, l->em_mm * 72 / 25.4);
    put_rgb(b, "pt\" fo:color=\"", l->rgb);
    if (l->face == SG_FACE_ITALIC) sg_puts(b, " fo:font-style=\"italic\"");
    if (l->face == SG_FACE_BOLD) sg_puts(b, " fo:font-weight=\"bold\"");
    if (l->rise || l->size != 100) sg_putf(b, " style:text-position=\"%d%% %d%%\"", l->rise, l->size);
    sg_puts(b, "/></style:style>\n");
}

void sg_odp_put_styles(const SgOdp *o, SgBuf *out)
{
    for (uint32_t i = 0; i < o->look.n; i++) put_look(&o->look.v[i], i + 1, out);
    for (uint32_t i = 0; i < o->letters.n; i++) put_letters(&o->letters.v[i], i + 1, out);
    for (uint32_t i = 0; i < o->em.n; i++) {
        sg_putf(out, "<style:style style:name=\"w%u\" style:family=\"paragraph\"><style:text-properties fo:font-size=\"", (unsigned)i + 1);
        sg_put_mm3(out, o->em.v[i] * 72 / 25.4);
        sg_puts(out, "pt\"/></style:style>\n");
    }
}

void sg_odp_put_dashes(const SgOdp *o, SgBuf *out)
{
    for (uint32_t i = 0; i < o->dash.n; i++) {
        const SgOdpDash *d = &o->dash.v[i];
        sg_putf(out, "<draw:stroke-dash draw:name=\"d%u\" draw:style=\"rect\" draw:dots1=\"1\"", (unsigned)i + 1);
        sg_odp_length(out, " draw:dots1-length=\"", d->length_mm[0]);
        if (d->n == 4) sg_puts(out, " draw:dots2=\"1\"");
        if (d->n == 4) sg_odp_length(out, " draw:dots2-length=\"", d->length_mm[2]);
        sg_odp_length(out, " draw:distance=\"", d->length_mm[1]);
        sg_puts(out, "/>\n");
    }
}
