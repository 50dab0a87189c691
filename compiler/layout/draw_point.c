/* draw_point: dots, ticks, labels, notes and all words beside them. In: marks. Out: dots, and words with their places.
   Never lets a label that found no free place pass in silence. */
#include "layout/draw.h"
#include <math.h>

SgWords sg_draw_shape(SgDraw *d, SgStr markup, double size_pt)
{
    SgWords words = sg_shape(d->a, markup, SG_FACE_UPRIGHT, size_pt);
    if (words.missing != 0)
        sg_say(d->c, SG_MSG_glyph_missing, d->scene->mark[d->now].at,
               "the built-in face has no sign for U+%04X in \"%.*s\"; write it another way", (unsigned)words.missing,
               (int)words.plain.n, words.plain.s);
    return words;
}

SgWords sg_draw_name(SgDraw *d, SgStr markup)
{
    static const double tall_em = 0.725;       /* of b, d, l in the built-in face, and more than its capitals */
    SgWords words = sg_draw_shape(d, markup, d->style->label_pt);
    double tall = tall_em * SG_PT_MM(d->style->label_pt);
    if (words.ascent_mm < tall) words.ascent_mm = tall;
    return words;
}

double sg_draw_row_mm(const SgDraw *d)
{
    double dot = d->style->dot_mm / 2 + d->style->point_gap_mm;
    double tick = d->style->tick_mm / 2 + d->style->produced_line_mm / 2 + d->style->label_gap_mm;
    return dot > tick ? dot : tick;
}

SgWanted *sg_want(SgDraw *d, SgWords words, SgPoint anchor, SgCandidate *candidate, uint32_t n, bool may_lead)
{
    SgWanted want = { .words = words, .mark = d->now };
    want.ask = (SgLabelAsk){ .w_mm = words.width_mm, .h_mm = words.ascent_mm + words.descent_mm, .anchor = anchor,
                             .first_step = d->scene->mark[d->now].step, .candidate = candidate, .ncandidates = n, .may_lead = may_lead };
    if (words.nruns == 0) return NULL;
    SG_PUSH(d->a, &d->wanted, want);
    return &d->wanted.v[d->wanted.n - 1];
}

uint32_t sg_candidates_join(SgArena *a, SgCandidate *first, uint32_t nfirst, SgCandidate *second, uint32_t nsecond, int more, SgCandidate **out)
{
    SgCandidate *all = SG_ARRAY(a, SgCandidate, nfirst + nsecond);
    for (uint32_t i = 0; i < nfirst; i++) all[i] = first[i];
    for (uint32_t i = 0; i < nsecond; i++) {
        all[nfirst + i] = second[i];
        all[nfirst + i].cost += more;
    }
    *out = all;
    return nfirst + nsecond;
}

static bool is_place(const SgMark *m) { return (m->role == SG_ROLE_POINT || m->role == SG_ROLE_TICK) && m->words.n > 0; }

/* A letter nearer to another lettered point than to its own would be read as that one's. */
static void prefer_own_point(const SgDraw *d, const SgMark *m, SgCandidate *candidate, uint32_t n)
{
    enum { MISTAKEN = 3000 };
    for (uint32_t k = 0; k < d->end && is_place(m); k++) {
        const SgMark *other = &d->scene->mark[k];
        if (!is_place(other)) continue;
        /* nearer to it: beyond the middle between the two, by a little */
        SgPoint way = sg_pt_sub(other->xy[0], m->xy[0]), middle = sg_pt_mid(m->xy[0], other->xy[0]);
        for (uint32_t i = 0; i < n; i++)
            if (sg_pt_dot(way, sg_pt_sub(candidate[i].xy, middle)) > 0.05) candidate[i].cost += MISTAKEN;
    }
}

static void want_around(SgDraw *d, const SgMark *m, double gap_mm, double prefer_deg)
{
    if (m->words.n == 0) return;
    SgWords words = sg_draw_name(d, m->words);
    SgCandidate *candidate;
    uint32_t n = sg_candidates_around(d->a, m->xy[0], gap_mm, words.width_mm, words.ascent_mm + words.descent_mm, prefer_deg, &candidate);
    prefer_own_point(d, m, candidate, n);
    SgWanted *want = sg_want(d, words, m->xy[0], candidate, n, true);
    if (want != NULL) want->of_place = true;
}

void sg_draw_point(SgDraw *d, const SgMark *m)
{
    double r = d->style->dot_mm / 2;
    sg_draw_disc(d, SG_LAYER_DOT, m->xy[0], r, sg_style_rgb(d->style, m->colour, d->style->ink_rgb));
    sg_keep(d, SG_KEEP_DOT, m->xy[0], m->xy[0], r, 0);
    want_around(d, m, sg_draw_row_mm(d), 270);
}

void sg_draw_tick(SgDraw *d, const SgMark *m)
{
    SgPoint along = m->direction;
    if (sg_pt_length(along) < 0.5) along = d->axis ? sg_pt_unit(sg_pt_sub(d->axis_b, d->axis_a)) : sg_pt(1, 0);
    double half = d->style->tick_mm / 2;
    SgPoint a = sg_pt_along(m->xy[0], sg_pt_left(along), half), b = sg_pt_along(m->xy[0], sg_pt_left(along), -half);
    sg_draw_line(d, SG_LAYER_DOT, a, b, d->style->produced_line_mm, sg_style_rgb(d->style, m->colour, d->style->ink_rgb));
    sg_keep(d, SG_KEEP_DOT, a, b, d->style->produced_line_mm / 2, 0);
    want_around(d, m, sg_draw_row_mm(d), 270);
}

void sg_draw_label(SgDraw *d, const SgMark *m)
{
    double axis_y = d->axis ? d->axis_a.y_mm : 0;
    if (m->asked_side) want_around(d, m, sg_draw_row_mm(d), m->side_deg);
    else want_around(d, m, sg_draw_row_mm(d), m->xy[0].y_mm > axis_y + 0.5 ? 90 : 270);
}

void sg_draw_note(SgDraw *d, const SgMark *m)
{
    uint32_t n = 0;
    SgWords *line = sg_shape_lines(d->a, m->words, SG_FACE_UPRIGHT, d->style->note_pt, 0, &n);
    double lead = SG_PT_MM(d->style->note_pt) * d->style->note_lead;
    for (uint32_t i = 0; i < n; i++) {
        SgPoint base = sg_pt(m->xy[0].x_mm + m->shift_mm.x_mm, m->xy[0].y_mm + m->shift_mm.y_mm - lead * i);
        if (line[i].missing != 0)
            sg_say(d->c, SG_MSG_glyph_missing, m->at, "the built-in face has no sign for U+%04X in this note; write it another way",
                   (unsigned)line[i].missing);
        if (line[i].nruns == 0) continue;
        sg_draw_words(d, base, &line[i]);
        double half = (line[i].ascent_mm + line[i].descent_mm) / 2;
        double middle = base.y_mm + (line[i].ascent_mm - line[i].descent_mm) / 2;
        sg_keep(d, SG_KEEP_WORDS, sg_pt(base.x_mm + half, middle), sg_pt(base.x_mm + line[i].width_mm - half, middle), half, 0);
    }
}

/* The axis' name stands by the end it runs to, above, below or beyond it; farther off, or by the other end, only where nothing
   else is free. */
void sg_draw_axis_name(SgDraw *d)
{
    enum { SLIDES = 30, BEYOND = 900, FARTHER = 6000, OTHER_END = 9000 };
    const SgMark *m = &d->scene->mark[d->now];
    if (!d->axis || m->words.n == 0) return;
    SgWords words = sg_draw_shape(d, m->words, d->style->axis_pt);
    double w = words.width_mm, h = words.ascent_mm + words.descent_mm, gap = h / 2 + d->style->label_gap_mm;
    double length = sg_pt_distance(d->axis_a, d->axis_b);
    SgPoint along = sg_pt_unit(sg_pt_sub(d->axis_b, d->axis_a)), up = sg_pt_left(along);
    SG_VEC(SgCandidate) list = { 0 };
    bool framed = d->frame.x0_mm < d->frame.x1_mm;     /* there is no room to be made beyond the end */
    for (int far = 0; far < (framed ? 3 : 1); far++)
        for (int slide = 0; slide < SLIDES; slide += far ? 3 : 1)
            for (int place = 0; place < 4; place++) {
                double in = w / 2 + 2 * slide, rise = gap + fabs(along.y_mm) * w / 2 + h * far;
                if (in > length - w / 2) continue;
                SgPoint at = sg_pt_along(place < 2 ? d->axis_b : d->axis_a, along, place < 2 ? -in : in);
                SgCandidate c = { .xy = sg_pt_along(at, up, place % 2 == 0 ? -rise : rise),
                                  .cost = 150 * slide + 90 * (place % 2) + (place < 2 ? 0 : OTHER_END) + FARTHER * far };
                SG_PUSH(d->a, &list, c);
            }
    double beyond = fabs(along.x_mm) * w / 2 + fabs(along.y_mm) * h / 2 + 2.5 * d->style->label_gap_mm;
    SgCandidate end = { .xy = sg_pt_along(d->axis_b, along, beyond), .cost = BEYOND };
    SG_PUSH(d->a, &list, end);
    /* Kept well apart from letters beside it, or the two would read as one. */
    SgWanted *want = sg_want(d, words, d->axis_b, list.v, list.n, framed);
    if (want != NULL) want->ask.w_mm += 3 * d->style->label_gap_mm;
}

static void say_crowded(SgDraw *d, const SgWanted *want)
{
    const SgMark *m = &d->scene->mark[want->mark];
    SgPoint at = want->ask.anchor;
    if (d->frame.x0_mm < d->frame.x1_mm && (at.x_mm < d->frame.x0_mm || at.x_mm > d->frame.x1_mm || at.y_mm < d->frame.y0_mm || at.y_mm > d->frame.y1_mm))
        return;                                        /* cut off by the frame, which is told of itself */
    sg_say(d->c, SG_MSG_label_crowded, m->at,
           "there is no free place for \"%.*s\", so it touches something; leave it out with `unnamed`, shorten it, or give the figure more room",
           (int)want->words.plain.n, want->words.plain.s);
}

/* From the box's nearest point to just short of what it names. */
static void lead(const SgLabelAsk *ask, SgLabelPlace *place)
{
    double dx = ask->anchor.x_mm - place->centre.x_mm, dy = ask->anchor.y_mm - place->centre.y_mm;
    double w = ask->w_mm / 2 + 0.4, h = ask->h_mm / 2 + 0.4, short_mm = 0.3;
    double x = dx > w ? w : dx < -w ? -w : dx, y = dy > h ? h : dy < -h ? -h : dy;
    SgPoint from = sg_pt(place->centre.x_mm + x, place->centre.y_mm + y);
    double length = sg_pt_distance(from, ask->anchor);
    if (length < 1.0) return;
    place->leader = true;
    place->leader_from = from;
    place->leader_to = sg_pt_along(ask->anchor, sg_pt_unit(sg_pt_sub(from, ask->anchor)), short_mm);
}

static const unsigned PARTING = 1u << SG_KEEP_LIGHT | 1u << SG_KEEP_PRODUCED;

static SgPoint off_dot(const SgDraw *d, SgPoint anchor, SgPoint centre)
{
    return sg_pt_along(anchor, sg_pt_unit(sg_pt_sub(centre, anchor)), d->style->dot_mm / 2 + 0.1);
}

/* Light, and the outline of glass. */
static bool parts(const SgDraw *d, const SgKeep *k) { return (PARTING & 1u << k->kind) || d->scene->mark[k->mark].role == SG_ROLE_GLASS; }

/* Whether light or a face of glass stands between words and what they name. */
static bool parted(const SgDraw *d, SgPoint anchor, SgPoint centre)
{
    SgPoint from = off_dot(d, anchor, centre);
    if (sg_keep_within(d, from, centre, PARTING, UINT32_MAX, 0)) return true;
    for (uint32_t i = 0; i < d->keep.n; i++) {
        const SgKeep *k = &d->keep.v[i];
        if (parts(d, k) && !sg_segments_apart(from, centre, k->a, k->b, 0) && sg_segments_distance(from, centre, k->a, k->b) <= 0) return true;
    }
    return false;
}

/* A letter on the other side of a ray reads as the ray's, one on the other side of the glass it names a point in as the air's: last
   choice. */
static void prefer_near_side(const SgDraw *d, SgWanted *want)
{
    SgLabelAsk *ask = &want->ask;
    SG_VEC(const SgKeep *) near = { 0 };
    double farthest = 0;
    if (!want->of_place) return;
    for (uint32_t i = 0; i < ask->ncandidates; i++) {
        double far = sg_pt_distance(ask->anchor, ask->candidate[i].xy);
        if (far > farthest) farthest = far;
    }
    for (uint32_t i = 0; i < d->keep.n; i++) {
        const SgKeep *k = &d->keep.v[i];
        double reach = farthest + k->half_mm;
        if (parts(d, k) && !sg_segments_apart(ask->anchor, ask->anchor, k->a, k->b, reach) && sg_segment_distance(k->a, k->b, ask->anchor) < reach) SG_PUSH(d->a, &near, k);
    }
    for (uint32_t i = 0; i < ask->ncandidates && near.n > 0; i++) {
        SgPoint to = ask->candidate[i].xy, from = off_dot(d, ask->anchor, to);
        bool other_side = false;
        for (uint32_t k = 0; k < near.n && !other_side; k++) {
            const SgKeep *line = near.v[k];
            other_side = !sg_segments_apart(from, to, line->a, line->b, line->half_mm) && sg_segments_distance(from, to, line->a, line->b) < line->half_mm;
        }
        if (other_side) ask->candidate[i].cost += 5000;
    }
}

void sg_draw_wanted(SgDraw *d)
{
    uint32_t n = d->wanted.n;
    if (n == 0) return;
    SgObstacle *obstacle = SG_ARRAY(d->a, SgObstacle, d->keep.n);
    for (uint32_t i = 0; i < d->keep.n; i++) {
        const SgKeep *k = &d->keep.v[i];
        /* A head asks for more room than a stroke. */
        double room = k->kind == SG_KEEP_HEAD ? d->style->head_clear_mm : d->style->words_clear_mm, half = k->half_mm + (room - SG_LABEL_CLEAR_UM / 1000.0);
        obstacle[i] = (SgObstacle){ .a = k->a, .b = k->b, .half_width_mm = half, .first_step = d->scene->mark[k->mark].step,
                                    .light = k->kind == SG_KEEP_LIGHT || k->kind == SG_KEEP_PRODUCED };
    }
    SgLabelAsk *ask = SG_ARRAY(d->a, SgLabelAsk, n);
    SgLabelPlace *place = SG_ARRAY(d->a, SgLabelPlace, n);
    for (uint32_t i = 0; i < n; i++) {
        prefer_near_side(d, &d->wanted.v[i]);
        ask[i] = d->wanted.v[i].ask;
    }
    sg_place(d->a, obstacle, d->keep.n, ask, n, d->frame, place);
    for (uint32_t i = 0; i < n; i++) {
        SgWanted *want = &d->wanted.v[i];
        d->now = want->mark;
        if (place[i].trouble != 0) say_crowded(d, want);
        SgPoint shift = d->scene->mark[want->mark].shift_mm;
        place[i].centre = sg_pt_add(place[i].centre, shift);
        if (place[i].leader && sg_pt_length(shift) > 0) { place[i].leader = false; lead(&ask[i], &place[i]); }
        bool far_side = want->of_place && parted(d, ask[i].anchor, place[i].centre);
        if (far_side && !place[i].leader) lead(&ask[i], &place[i]);
        if (place[i].leader)
            sg_draw_line(d, SG_LAYER_MEASURE, place[i].leader_from, place[i].leader_to, d->style->thin_line_mm, d->style->ink_rgb);
        double x = place[i].centre.x_mm - want->words.width_mm / 2;
        double y = place[i].centre.y_mm + ask[i].h_mm / 2 - want->words.ascent_mm;
        sg_draw_words(d, sg_pt(x, y), &want->words);
    }
}
