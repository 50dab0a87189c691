/* place: a free place for every label among its candidates, once over all steps.
   needs  strokes, labels with candidates, perhaps a frame.
   gives  a place each, with a leader line where nothing near is free, and a count of what it is not clear of.
   never  drops a label; draws a random number; looks at a clock. Costs and places are integers, in 1/1000 mm. */
#include "layout/place.h"
#include <math.h>

typedef struct { int32_t x, y; } Spot;
typedef struct { int32_t x0, y0, x1, y1; } Box;
typedef struct { Spot a, b; Box box; int64_t dx, dy, length; } Line;         /* dx, dy without sign; length rounded up */
typedef struct { Line line; int32_t half; bool light; } Stroke;
typedef struct {
    Box box;
    int64_t own;               /* cost among strokes alone */
    int64_t total;             /* with all labels placed so far */
    uint16_t leader;           /* index + 1 of its leader, 0 none */
    bool free;                 /* clear of all strokes and of the frame */
} Option;
typedef struct {
    const SgLabelAsk *ask;
    SG_VEC(Option) option;     /* weighed so far: candidates by cost, then rings of far places */
    SG_VEC(Line) leader;
    uint32_t *order, taken;    /* candidates by cost; how many of them are options already */
    uint32_t rings;            /* how many rings are options already */
    uint32_t now;              /* chosen option, NONE before */
    uint32_t nfree;
    Box hull;                  /* of all options */
    int64_t least;             /* smallest own cost */
    Spot anchor; int32_t w, h; /* w, h: even, so that the centre is whole */
} Label;
typedef struct {
    SgArena *a;
    Stroke *stroke; uint32_t nstrokes;
    Label *label; uint32_t n;
    bool framed; Box frame;
    Stroke **near;             /* strokes about the label in hand */
    int64_t *rest; bool *wants;      /* room for one search each */
    int64_t work;              /* options looked at */
    int32_t reach;             /* labels farther apart than this cost each other nothing */
} Place;

static const uint32_t NONE = UINT32_MAX;
enum { GAP = SG_LABEL_CLEAR_UM, LEADER_HALF = 90, SHORT_OF_ANCHOR = 600, MAX_SWEEPS = 8, MAX_ROUNDS = 4, NRINGS = 7, NWAYS = 16,
       CHUNK = 6, ENOUGH = 3, MAX_WORK = 3000000 };     /* options are weighed by the chunk until ENOUGH more are free */
/* What it costs. Any number of leaders is better than one fault; a ray crossed is worse than another stroke. */
static const int32_t cost_touch = 1000000, cost_light = 500000, cost_close = 500000, cost_tight = 300000,
                     cost_frame = 5000000, cost_overlap = 4000000, cost_crowd = 400000, cost_led = 2000000, cost_hopeless = 2000000, cost_run_on = 3000,
                     cost_leader = 30000, cost_leader_mm = 1000, cost_leader_cross = 20000, most_over = 10000000;

/* ---- integer plane ---- */
static int32_t in_um(double mm)
{
    const double most = 5e8;
    double um = floor(mm * 1000 + 0.5);
    return um > most ? (int32_t)most : um > -most ? (int32_t)um : um <= -most ? (int32_t)-most : 0;
}
/* Sizes are rounded up, so that what counts as clear is clear. */
static int32_t up_um(double mm) { return in_um(mm + 0.000499); }
static Spot spot_of(SgPoint p) { return (Spot){ in_um(p.x_mm), in_um(p.y_mm) }; }
static SgPoint point_of(Spot s) { return sg_pt(s.x / 1000.0, s.y / 1000.0); }
static Box box_of(Spot a, Spot b)
{
    return (Box){ a.x < b.x ? a.x : b.x, a.y < b.y ? a.y : b.y, a.x > b.x ? a.x : b.x, a.y > b.y ? a.y : b.y };
}
static Box join(Box a, Box b)
{
    return (Box){ a.x0 < b.x0 ? a.x0 : b.x0, a.y0 < b.y0 ? a.y0 : b.y0, a.x1 > b.x1 ? a.x1 : b.x1, a.y1 > b.y1 ? a.y1 : b.y1 };
}
/* Whether less than `gap` parts them both across and along; touching counts when gap is positive. */
static bool closer(Box a, Box b, int32_t gap)
{
    return b.x0 - a.x1 < gap && a.x0 - b.x1 < gap && b.y0 - a.y1 < gap && a.y0 - b.y1 < gap;
}
static int64_t side(Spot a, Spot b, Spot p)
{
    return (int64_t)(b.x - a.x) * (p.y - a.y) - (int64_t)(b.y - a.y) * (p.x - a.x);
}
static Spot nearest_in(Box box, Spot p)
{
    Spot q = { p.x < box.x0 ? box.x0 : p.x > box.x1 ? box.x1 : p.x, p.y < box.y0 ? box.y0 : p.y > box.y1 ? box.y1 : p.y };
    return q;
}
static int64_t square(Spot a, Spot b)
{
    int64_t dx = b.x - a.x, dy = b.y - a.y;
    return dx * dx + dy * dy;
}
static bool spot_near_line(Spot a, Spot b, Spot p, int32_t gap)
{
    int64_t length2 = square(a, b);
    int64_t along = (int64_t)(b.x - a.x) * (p.x - a.x) + (int64_t)(b.y - a.y) * (p.y - a.y);
    if (along <= 0 || along >= length2) return square(along <= 0 ? a : b, p) < (int64_t)gap * gap;
    double off = (double)side(a, b, p);
    return off * off < (double)gap * (double)gap * (double)length2;
}
static Spot centre_of(Box box) { return (Spot){ box.x0 + (box.x1 - box.x0) / 2, box.y0 + (box.y1 - box.y0) / 2 }; }
static Line line_of(Spot a, Spot b)
{
    Line l = { .a = a, .b = b, .box = box_of(a, b) };
    l.dx = l.box.x1 - l.box.x0;
    l.dy = l.box.y1 - l.box.y0;
    l.length = l.dx == 0 ? l.dy : l.dy == 0 ? l.dx : (int64_t)sqrt((double)(l.dx * l.dx + l.dy * l.dy)) + 1;
    return l;
}
/* The last word when no axis parts them: they meet, or an end and a corner may still be far enough apart. */
static bool corner_near(const Line *l, Box box, int32_t gap)
{
    Spot corner[4] = { { box.x0, box.y0 }, { box.x1, box.y0 }, { box.x1, box.y1 }, { box.x0, box.y1 } };
    if (closer(l->box, box, 1)) {
        int left = 0, right = 0;
        for (int i = 0; i < 4; i++) {
            int64_t s = side(l->a, l->b, corner[i]);
            left += s > 0;
            right += s < 0;
        }
        if (left < 4 && right < 4) return true;
    }
    int64_t gap2 = (int64_t)gap * gap;
    if (square(l->a, nearest_in(box, l->a)) < gap2 || square(l->b, nearest_in(box, l->b)) < gap2) return true;
    for (int i = 0; i < 4; i++)
        if (spot_near_line(l->a, l->b, corner[i], gap)) return true;
    return false;
}
/* Whether the distance from the line to the box is less than gap, or they meet. */
static bool line_near_box(const Line *l, Box box, int32_t gap)
{
    if (!closer(l->box, box, gap > 0 ? gap : 1)) return false;
    Spot centre = centre_of(box);
    int64_t off = side(l->a, l->b, centre), hw = box.x1 - centre.x, hh = box.y1 - centre.y;
    if ((off < 0 ? -off : off) >= l->dy * hw + l->dx * hh + gap * l->length && l->length > 0) return false;
    return corner_near(l, box, gap);
}
static bool lines_cross(const Line *l, const Line *m)
{
    if (!closer(l->box, m->box, 1)) return false;
    int64_t s = side(l->a, l->b, m->a), t = side(l->a, l->b, m->b);
    if ((s > 0 && t > 0) || (s < 0 && t < 0)) return false;
    int64_t u = side(m->a, m->b, l->a), v = side(m->a, m->b, l->b);
    return !((u > 0 && v > 0) || (u < 0 && v < 0));
}

/* ---- one option among the strokes ---- */
static bool stroke_near(const Stroke *s, Box box, int32_t gap) { return line_near_box(&s->line, box, s->half + gap); }
static int32_t stroke_cost(const Stroke *s, Box box)
{
    if (!closer(s->line.box, box, s->half + GAP) || !stroke_near(s, box, GAP)) return 0;
    if (stroke_near(s, box, 0)) return cost_touch + (s->light ? cost_light : 0);
    return stroke_near(s, box, GAP / 2) ? cost_close : cost_tight;
}
static int32_t leader_cross_cost(const Line *leader, const Stroke *s, Spot anchor)
{
    if (s->line.length > 0) return lines_cross(leader, &s->line) ? cost_leader_cross + s->light : 0;
    bool own_dot = square(s->line.a, anchor) < (int64_t)SHORT_OF_ANCHOR * SHORT_OF_ANCHOR;
    return !own_dot && spot_near_line(leader->a, leader->b, s->line.a, s->half) ? cost_leader_cross : 0;
}
static int32_t outside_cost(const Place *p, Box reach)
{
    if (!p->framed) return 0;
    Box all = join(reach, p->frame);
    int64_t over = (int64_t)p->frame.x0 - all.x0 + all.x1 - p->frame.x1 + p->frame.y0 - all.y0 + all.y1 - p->frame.y1;
    return over <= 0 ? 0 : cost_frame + (over < most_over ? (int32_t)over : most_over);
}
static const Line *leader_of(const Label *l, const Option *o) { return o->leader > 0 ? &l->leader.v[o->leader - 1] : NULL; }
static Box reach_of(const Label *l, const Option *o) { return o->leader > 0 ? join(o->box, leader_of(l, o)->box) : o->box; }
static void weigh(const Place *p, const Label *l, Option *o, uint32_t nnear)
{
    const Line *leader = leader_of(l, o);
    int64_t outside = outside_cost(p, reach_of(l, o)), faults = 0, crossed = 0;
    for (uint32_t i = 0; i < nnear && faults < cost_hopeless; i++) {
        faults += stroke_cost(p->near[i], o->box);
        if (leader != NULL && !l->ask->always_lead) crossed += leader_cross_cost(leader, p->near[i], l->anchor);
    }
    o->free = faults == 0 && outside == 0;
    /* the same wherever it was cut off, so that nothing hangs on which stroke came first */
    o->own += outside + (faults < cost_hopeless ? faults + crossed : cost_hopeless);
    o->total = o->own;
}
/* Weighs options from `first` on, looking only at the strokes about them. */
static void weigh_from(Place *p, Label *l, uint32_t first)
{
    Box hull = reach_of(l, &l->option.v[first]);
    for (uint32_t k = first + 1; k < l->option.n; k++) hull = join(hull, reach_of(l, &l->option.v[k]));
    uint32_t nnear = 0;
    for (uint32_t i = 0; i < p->nstrokes; i++)
        if (closer(p->stroke[i].line.box, hull, p->stroke[i].half + GAP)) p->near[nnear++] = &p->stroke[i];
    l->hull = first == 0 ? hull : join(l->hull, hull);
    if (first == 0) l->least = INT64_MAX;
    for (uint32_t k = first; k < l->option.n; k++) {
        Option *o = &l->option.v[k];
        weigh(p, l, o, nnear);
        l->nfree += o->free;
        if (o->own < l->least) l->least = o->own;
    }
}

/* ---- the options of a label ---- */
static Option option_at(const Label *l, Spot centre, int32_t own)
{
    Box box = { centre.x - l->w / 2, centre.y - l->h / 2, centre.x + l->w / 2, centre.y + l->h / 2 };
    return (Option){ .box = box, .own = own };
}
/* The centre of a w by h box seen from the anchor towards (c, s), its nearest point gap_mm away: corners on the diagonals.
   row: up to 45 degrees from upright the box keeps on one line with those straight above or below. */
static SgPoint centre_around(SgPoint anchor, double gap_mm, double w_mm, double h_mm, double s, double c, bool row)
{
    double d = 0, gap = gap_mm;
    SgPoint off = { 0, 0 };
    double across = c * 1.5, up = s * 1.5;
    across = across > 1 ? 1 : across < -1 ? -1 : across;
    up = up > 1 ? 1 : up < -1 ? -1 : up;
    for (int i = 0; i < 2 && d < gap_mm; i++) {     /* between the eight ways the first guess comes too near */
        off = sg_pt(c * gap + across * w_mm / 2, s * gap + up * h_mm / 2);
        double dx = fabs(off.x_mm) - w_mm / 2, dy = fabs(off.y_mm) - h_mm / 2;
        d = sg_pt_length(sg_pt(dx > 0 ? dx : 0, dy > 0 ? dy : 0));
        if (d > 0 && d < gap_mm) gap = gap * gap_mm / d;
    }
    if (row && fabs(s) > 0.7) off.y_mm = (s < 0 ? -1 : 1) * (gap_mm + h_mm / 2);
    return sg_pt_add(anchor, off);
}
static void add_leader(Place *p, Label *l, Option *o)
{
    Spot from = nearest_in(o->box, l->anchor);
    double length = sqrt((double)square(from, l->anchor));
    if (length <= 2 * SHORT_OF_ANCHOR) return;
    double k = SHORT_OF_ANCHOR / length;
    Spot to = { l->anchor.x + (int32_t)floor((from.x - l->anchor.x) * k + 0.5), l->anchor.y + (int32_t)floor((from.y - l->anchor.y) * k + 0.5) };
    SG_PUSH(p->a, &l->leader, line_of(from, to));
    o->leader = (uint16_t)l->leader.n;
    o->own += cost_leader + (int32_t)(length * cost_leader_mm / 1000);
}
/* Far places all around, each joined to the anchor by a leader. */
static void add_ring(Place *p, Label *l)
{
    static const double ring_mm[NRINGS] = { 6.5, 9, 12, 16, 21, 27, 35 };
    for (int way = 0; way < NWAYS; way++) {
        double s, c;
        sg_sincos_deg(way * (360.0 / NWAYS), &s, &c);
        SgPoint centre = centre_around(l->ask->anchor, ring_mm[l->rings], l->ask->w_mm, l->ask->h_mm, s, c, false);
        Option o = option_at(l, spot_of(centre), 0);
        add_leader(p, l, &o);
        SG_PUSH(p->a, &l->option, o);
    }
    l->rings++;
}
static bool may_grow_near(const Label *l) { return l->taken < l->ask->ncandidates; }
static bool may_grow_far(const Label *l) { return l->ask->may_lead && l->rings < NRINGS; }
/* Weighs more options, nearest first, until ENOUGH more are free. Far ones only when asked for: they cost more than any near one. */
static void grow(Place *p, Label *l, bool far)
{
    uint32_t want = l->nfree + ENOUGH;
    while (l->nfree < want && (may_grow_near(l) || (far && may_grow_far(l)))) {
        uint32_t first = l->option.n;
        if (!may_grow_near(l)) add_ring(p, l);
        for (int k = 0; l->rings == 0 && k < CHUNK && may_grow_near(l); k++) {
            const SgCandidate *c = &l->ask->candidate[l->order[l->taken++]];
            Option o = option_at(l, spot_of(c->xy), c->cost);
            if (l->ask->always_lead) {
                add_leader(p, l, &o);
                o.own = c->cost;       /* all of them have one: it tells none from another */
            }
            SG_PUSH(p->a, &l->option, o);
        }
        weigh_from(p, l, first);
    }
}
/* A merge sort, the earlier first where two cost the same; room: as many again. */
static void sort_by_cost(uint32_t *order, uint32_t *room, const SgCandidate *c, uint32_t n)
{
    for (uint32_t i = 0; i < n; i++) order[i] = i;
    for (uint32_t width = 1; width < n; width *= 2) {
        for (uint32_t low = 0; low < n; low += 2 * width) {
            uint32_t middle = low + width < n ? low + width : n, high = middle + width < n ? middle + width : n, i = low, k = middle;
            if (middle >= high || c[order[middle - 1]].cost <= c[order[middle]].cost) continue;       /* in order already */
            for (uint32_t out = low; out < high; out++)
                room[out] = k >= high || (i < middle && c[order[i]].cost <= c[order[k]].cost) ? order[i++] : order[k++];
            for (uint32_t out = low; out < high; out++) order[out] = room[out];
        }
    }
}
static void start_label(Place *p, Label *l, const SgLabelAsk *ask)
{
    *l = (Label){ .ask = ask, .anchor = spot_of(ask->anchor), .w = 2 * up_um(ask->w_mm / 2), .h = 2 * up_um(ask->h_mm / 2) };
    l->order = SG_ARRAY(p->a, uint32_t, 2 * ask->ncandidates);
    sort_by_cost(l->order, l->order + ask->ncandidates, ask->candidate, ask->ncandidates);
    grow(p, l, ask->ncandidates == 0);
    if (l->option.n > 0) return;
    SG_PUSH(p->a, &l->option, option_at(l, l->anchor, 0));       /* nowhere to go: upon its anchor, and told */
    weigh_from(p, l, 0);
}

/* ---- labels among each other ---- */
typedef struct { Box box, reach; const Line *leader; Spot anchor; } Stand;     /* an option as others see it */
static Stand stand_of(const Label *l, const Option *o) { return (Stand){ o->box, reach_of(l, o), leader_of(l, o), l->anchor }; }
static int32_t height(Box b) { return b.y1 - b.y0; }
/* How near two words in one line read as one: the higher one's height, well over the space between two words of a text. One over
   the other they read as two lines of one text when half as near. */
static int32_t one_word(Box a, Box b) { return height(a) > height(b) ? height(a) : height(b); }
static bool run_on(Box a, Box b, int32_t near)
{
    int32_t top = a.y1 < b.y1 ? a.y1 : b.y1, bottom = a.y0 > b.y0 ? a.y0 : b.y0, lower = height(a) < height(b) ? height(a) : height(b);
    if (2 * (top - bottom) > lower) return b.x0 - a.x1 < near && a.x0 - b.x1 < near;
    int32_t right = a.x1 < b.x1 ? a.x1 : b.x1, left = a.x0 > b.x0 ? a.x0 : b.x0, shorter = a.x1 - a.x0 < b.x1 - b.x0 ? a.x1 - a.x0 : b.x1 - b.x0;
    return 2 * (right - left) > shorter && bottom - top < near / 2;
}
static int32_t pair_cost(const Label *l, const Option *o, const Stand *b)
{
    const Line *leader = leader_of(l, o);
    int32_t near = one_word(o->box, b->box);
    if (!closer(leader != NULL ? join(o->box, leader->box) : o->box, b->reach, near > GAP ? near : GAP)) return 0;
    bool of_one = l->anchor.x == b->anchor.x && l->anchor.y == b->anchor.y;        /* two names of one point */
    int32_t cost = !of_one && run_on(o->box, b->box, near) ? cost_run_on : 0;
    if (closer(o->box, b->box, GAP)) cost += closer(o->box, b->box, 0) ? cost_overlap : cost_crowd;
    if (leader != NULL && line_near_box(leader, b->box, GAP + LEADER_HALF)) cost += cost_led;
    if (b->leader != NULL && line_near_box(b->leader, o->box, GAP + LEADER_HALF)) cost += cost_led;
    if (leader != NULL && b->leader != NULL && lines_cross(leader, b->leader)) cost += cost_led;
    return cost;
}
static Option *now(const Label *l) { return &l->option.v[l->now]; }
static Stand stand_now(const Label *l) { return stand_of(l, now(l)); }
static void add_to_others(Place *p, uint32_t j, int sign)
{
    Stand at = stand_now(&p->label[j]);
    for (uint32_t i = 0; i < p->n; i++) {
        Label *l = &p->label[i];
        if (i == j || !closer(l->hull, at.reach, p->reach)) continue;
        p->work += l->option.n;
        for (uint32_t k = 0; k < l->option.n; k++) l->option.v[k].total += sign * pair_cost(l, &l->option.v[k], &at);
    }
}
static void choose(Place *p, uint32_t j, uint32_t k)
{
    if (p->label[j].now != NONE) add_to_others(p, j, -1);
    p->label[j].now = k;
    add_to_others(p, j, 1);
}
static uint32_t best_of(const Label *l)
{
    uint32_t best = 0;
    for (uint32_t k = 1; k < l->option.n; k++)
        if (l->option.v[k].total < l->option.v[best].total) best = k;
    return best;
}
/* The label with the fewest free places first; the earlier one where two have as many. */
static void place_in_turn(Place *p)
{
    for (uint32_t i = 0; i < p->n; i++) {
        p->label[i].now = NONE;
        for (uint32_t k = 0; k < p->label[i].option.n; k++) p->label[i].option.v[k].total = p->label[i].option.v[k].own;
    }
    for (uint32_t done = 0; done < p->n; done++) {
        uint32_t next = NONE;
        for (uint32_t i = 0; i < p->n; i++) {
            const Label *l = &p->label[i];
            if (l->now == NONE && (next == NONE || l->nfree < p->label[next].nfree)) next = i;
        }
        choose(p, next, best_of(&p->label[next]));
    }
}
static bool sweep(Place *p)
{
    bool moved = false;
    for (uint32_t i = 0; i < p->n; i++) {
        const Label *l = &p->label[i];
        uint32_t best = best_of(l);
        if (l->option.v[best].total >= now(l)->total) continue;
        choose(p, i, best);
        moved = true;
    }
    return moved;
}
/* Moves i and j together where that is cheaper than any move of one. */
static bool move_pair(Place *p, uint32_t i, uint32_t j)
{
    const Label *a = &p->label[i], *b = &p->label[j];
    Stand at_a = stand_now(a), at_b = stand_now(b);
    int64_t best = now(a)->total + now(b)->total - pair_cost(a, now(a), &at_b);
    if (!closer(a->hull, b->hull, p->reach) || a->least + b->least >= best) return false;
    int64_t *rest = p->rest, least = INT64_MAX;
    for (uint32_t q = 0; q < b->option.n; q++) {
        rest[q] = b->option.v[q].total - pair_cost(b, &b->option.v[q], &at_a);
        if (rest[q] < least) least = rest[q];
    }
    p->work += a->option.n + b->option.n;
    uint32_t best_a = a->now, best_b = b->now;
    for (uint32_t k = 0; k < a->option.n; k++) {
        const Option *o = &a->option.v[k];
        if (o->own + least >= best) continue;
        int64_t alone = o->total - pair_cost(a, o, &at_b);
        Stand there = stand_of(a, o);
        for (uint32_t q = 0; q < b->option.n && alone + least < best; q++) {
            if (alone + rest[q] >= best) continue;
            int64_t sum = alone + rest[q] + pair_cost(b, &b->option.v[q], &there);
            if (sum < best) { best = sum; best_a = k; best_b = q; }
        }
    }
    if (best_a == a->now && best_b == b->now) return false;
    choose(p, i, best_a);
    choose(p, j, best_b);
    return true;
}
static bool move_pairs(Place *p)
{
    bool moved = false;
    for (uint32_t i = 0; i < p->n; i++)
        for (uint32_t j = 0; j < p->n && now(&p->label[i])->total > p->label[i].least && p->work < MAX_WORK; j++)
            if (i != j && move_pair(p, i, j)) moved = true;
    return moved;
}
static bool in_trouble(const Label *l) { return now(l)->total >= cost_tight; }
static void settle(Place *p)
{
    place_in_turn(p);
    for (int round = 0; round < MAX_ROUNDS; round++) {
        for (int k = 0; k < MAX_SWEEPS && sweep(p); k++) {}
        if (!move_pairs(p)) return;
    }
}

/* ---- all of it ---- */
static int trouble_of(const Place *p, uint32_t i)
{
    const Label *l = &p->label[i];
    int trouble = outside_cost(p, reach_of(l, now(l))) > 0;
    for (uint32_t s = 0; s < p->nstrokes && !now(l)->free; s++) trouble += stroke_near(&p->stroke[s], now(l)->box, GAP);
    for (uint32_t j = 0; j < p->n; j++) {
        Stand other = stand_now(&p->label[j]);
        trouble += j != i && pair_cost(l, now(l), &other) >= cost_tight;
    }
    return trouble;
}
/* Whether a label in trouble that can itself do no more might be helped by this one's going away. */
static bool blocks_another(const Place *p, const Label *l)
{
    for (uint32_t j = 0; j < p->n; j++) {
        const Label *other = &p->label[j];
        if (other != l && in_trouble(other) && !may_grow_near(other) && !may_grow_far(other)
            && closer(other->hull, reach_of(l, now(l)), GAP)) return true;
    }
    return false;
}
/* Gives more places to labels that may gain by them. far: where nothing nearer is left, for those in trouble. */
static bool grow_where_needed(Place *p, bool far)
{
    bool grown = false, *wants = p->wants;
    for (uint32_t i = 0; i < p->n; i++) {
        const Label *l = &p->label[i];
        if (may_grow_near(l)) wants[i] = now(l)->total > l->ask->candidate[l->order[l->taken]].cost || (far && blocks_another(p, l));
        else wants[i] = far && may_grow_far(l) && (in_trouble(l) || blocks_another(p, l));
    }
    for (uint32_t i = 0; i < p->n; i++) {
        if (!wants[i]) continue;
        grow(p, &p->label[i], far);
        grown = true;
    }
    return grown;
}
/* ---- a knot of labels, searched whole ---- */
enum { KNOT = 6, MAX_TRIALS = 200000 };
typedef struct {
    Place *p;
    uint32_t n, label[KNOT], trial[KNOT], best_of[KNOT], trials;
    uint32_t *open[KNOT], nopen[KNOT];                     /* options that may be in something better */
    int64_t *alone[KNOT], least_after[KNOT + 1], best;     /* alone: each option's cost among all that are not in the knot */
} Knot;
static void try_knot(Knot *k, uint32_t depth, int64_t sum)
{
    if (depth == k->n) {
        k->best = sum;
        for (uint32_t i = 0; i < k->n; i++) k->best_of[i] = k->trial[i];
        return;
    }
    const Label *l = &k->p->label[k->label[depth]];
    for (uint32_t at = 0; at < k->nopen[depth] && k->trials < MAX_TRIALS; at++) {
        uint32_t o = k->open[depth][at];
        int64_t cost = sum + k->alone[depth][o];
        k->trials++;
        for (uint32_t i = 0; i < depth && cost + k->least_after[depth + 1] < k->best; i++) {
            const Label *other = &k->p->label[k->label[i]];
            Stand there = stand_of(other, &other->option.v[k->trial[i]]);
            cost += pair_cost(l, &l->option.v[o], &there);
        }
        if (cost + k->least_after[depth + 1] >= k->best) continue;
        k->trial[depth] = o;
        try_knot(k, depth + 1, cost);
    }
}
/* The least each label can cost; with it, options that even at best are no better than what is there drop out. */
static void bound(Knot *k, int64_t now_sum)
{
    int64_t least[KNOT];
    k->best = now_sum;
    for (uint32_t i = k->n; i-- > 0;) {
        least[i] = INT64_MAX;
        for (uint32_t o = 0; o < k->p->label[k->label[i]].option.n; o++) if (k->alone[i][o] < least[i]) least[i] = k->alone[i][o];
        k->least_after[i] = k->least_after[i + 1] + least[i];
    }
    for (uint32_t i = 0; i < k->n; i++) {
        uint32_t n = k->p->label[k->label[i]].option.n;
        k->open[i] = SG_ARRAY(k->p->a, uint32_t, n);
        for (uint32_t o = 0; o < n; o++)
            if (k->least_after[0] - least[i] + k->alone[i][o] < now_sum) k->open[i][k->nopen[i]++] = o;
    }
}
/* The label in trouble, and those it can get into each other's way with, the first of them. */
static void gather(Knot *k, uint32_t first)
{
    k->label[k->n++] = first;
    for (uint32_t j = 0; j < k->p->n && k->n < KNOT; j++)
        if (j != first && closer(k->p->label[j].hull, k->p->label[first].hull, k->p->reach)) k->label[k->n++] = j;
}
/* More places for a label of a knot: all that cost less than what it costs now and what the knot may gain by its moving. */
static void grow_in_knot(Place *p, uint32_t i, int64_t gain)
{
    Label *l = &p->label[i];
    uint32_t first = l->option.n;
    while (may_grow_near(l) && l->ask->candidate[l->order[l->taken]].cost < now(l)->total + gain) {
        uint32_t had = l->option.n;
        grow(p, l, false);
        if (l->option.n == had) return;
    }
    for (uint32_t j = 0; j < p->n; j++) {
        Stand at = stand_now(&p->label[j]);
        if (j == i || !closer(l->hull, at.reach, p->reach)) continue;
        for (uint32_t k = first; k < l->option.n; k++) l->option.v[k].total += pair_cost(l, &l->option.v[k], &at);
    }
}
/* Moves a whole knot where that is cheaper: branch and bound over all options of its labels, the rest standing still. */
static void untie(Place *p, uint32_t first)
{
    Knot k = { .p = p };
    int64_t now_sum = 0;
    gather(&k, first);
    for (uint32_t i = 0; i < k.n; i++) grow_in_knot(p, k.label[i], now(&p->label[first])->total - p->label[first].least);
    for (uint32_t i = 0; i < k.n; i++) {
        const Label *l = &p->label[k.label[i]];
        k.alone[i] = SG_ARRAY(p->a, int64_t, l->option.n);
        for (uint32_t o = 0; o < l->option.n; o++) k.alone[i][o] = l->option.v[o].total;
        for (uint32_t j = 0; j < k.n; j++) {
            Stand at = stand_now(&p->label[k.label[j]]);
            if (j == i || !closer(l->hull, at.reach, p->reach)) continue;
            for (uint32_t o = 0; o < l->option.n; o++) k.alone[i][o] -= pair_cost(l, &l->option.v[o], &at);
        }
        now_sum += k.alone[i][l->now];
        for (uint32_t j = 0; j < i; j++) {
            Stand at = stand_now(&p->label[k.label[j]]);
            now_sum += pair_cost(l, now(l), &at);
        }
        k.best_of[i] = l->now;
    }
    bound(&k, now_sum);
    try_knot(&k, 0, 0);
    p->work += k.trials;
    for (uint32_t i = 0; i < k.n; i++)
        if (k.best_of[i] != p->label[k.label[i]].now) choose(p, k.label[i], k.best_of[i]);
}
static void place_all(Place *p)
{
    do {                       /* options only grow, and are limited; a crowd of labels gets what MAX_WORK allows */
        do settle(p); while (p->work < MAX_WORK && grow_where_needed(p, false));
    } while (p->work < MAX_WORK && grow_where_needed(p, true));
    for (uint32_t i = 0; i < p->n && p->work < MAX_WORK; i++)
        if (now(&p->label[i])->total > p->label[i].least + 800) untie(p, i);
}
static void start_strokes(Place *p, const SgObstacle *obstacle, uint32_t n)
{
    p->stroke = SG_ARRAY(p->a, Stroke, n);
    p->near = SG_ARRAY(p->a, Stroke *, n);
    for (uint32_t i = 0; i < n; i++)
        p->stroke[i] = (Stroke){ line_of(spot_of(obstacle[i].a), spot_of(obstacle[i].b)), up_um(obstacle[i].half_width_mm), obstacle[i].light };
    p->nstrokes = n;
}
static void start_labels(Place *p, const SgLabelAsk *ask, uint32_t n)
{
    uint32_t most = 0;
    p->label = SG_ARRAY(p->a, Label, n);
    p->wants = SG_ARRAY(p->a, bool, n);
    p->n = n;
    p->reach = GAP;
    for (uint32_t i = 0; i < n; i++) {
        start_label(p, &p->label[i], &ask[i]);
        if (ask[i].ncandidates > most) most = ask[i].ncandidates;
        if (p->label[i].h > p->reach) p->reach = p->label[i].h;
    }
    p->rest = SG_ARRAY(p->a, int64_t, most + 1 + NRINGS * NWAYS);
}
void sg_place(SgArena *a, const SgObstacle *obstacle, uint32_t nobstacles, const SgLabelAsk *ask, uint32_t nasks,
              SgBox frame, SgLabelPlace *out)
{
    Place p = { .a = a, .framed = frame.x0_mm <= frame.x1_mm && frame.y0_mm <= frame.y1_mm };
    if (nasks == 0) return;
    if (p.framed) p.frame = box_of(spot_of(sg_pt(frame.x0_mm, frame.y0_mm)), spot_of(sg_pt(frame.x1_mm, frame.y1_mm)));
    start_strokes(&p, obstacle, nobstacles);
    start_labels(&p, ask, nasks);
    place_all(&p);
    for (uint32_t i = 0; i < nasks; i++) {
        const Label *l = &p.label[i];
        const Line *leader = leader_of(l, now(l));
        out[i] = (SgLabelPlace){ .centre = point_of(centre_of(now(l)->box)), .trouble = trouble_of(&p, i) };
        if (leader == NULL) continue;
        out[i].leader = true;
        out[i].leader_from = point_of(leader->a);
        out[i].leader_to = point_of(leader->b);
    }
}

/* ---- candidates ---- */
/* What rounding to 1/1000 mm may take off a gap asked for. */
static const double rounding_mm = 0.004;

uint32_t sg_candidates_around(SgArena *a, SgPoint anchor, double gap_mm, double w_mm, double h_mm, double prefer_deg, SgCandidate **out)
{
    static const double farther_mm[4] = { 0, 1.5, 3, 3.6 };           /* with the gap of any mark at most 6 mm: beyond that a leader is owed */
    SgCandidate *c = SG_ARRAY(a, SgCandidate, 64);
    for (int k = 0; k < 16; k++) {
        double turned = (k + 1) / 2 * (k % 2 ? 22.5 : -22.5), sine, cosine;         /* 0, 22.5, -22.5, 45, ... */
        sg_sincos_deg(prefer_deg + turned, &sine, &cosine);
        for (int ring = 0; ring < 4; ring++) {
            SgPoint centre = centre_around(anchor, gap_mm + rounding_mm + farther_mm[ring], w_mm, h_mm, sine, cosine, ring == 0);
            c[16 * ring + k] = (SgCandidate){ centre, 2000 * ring + 100 * k };
        }
    }
    *out = c;
    return 64;
}
uint32_t sg_candidates_beside(SgArena *a, SgPoint from, SgPoint to, double gap_mm, double w_mm, double h_mm, double near, double far, SgCandidate **out)
{
    SgCandidate *c = SG_ARRAY(a, SgCandidate, 20);
    SgPoint along = sg_pt_sub(to, from), left = sg_pt_left(sg_pt_unit(along));
    double half = fabs(left.x_mm) * w_mm / 2 + fabs(left.y_mm) * h_mm / 2;     /* of the box, across the segment */
    uint32_t n = 0;
    for (int ring = 0; ring < 2; ring++)
        for (int k = 0; k < 5; k++)
            for (int other = 0; other < 2; other++) {
                SgPoint at = sg_pt_along(from, along, near + (far - near) * k / 4);
                double off = gap_mm + rounding_mm + SG_BESIDE_RING_MM * ring + half;
                c[n++] = (SgCandidate){ sg_pt_along(at, left, other ? -off : off), 2000 * ring + 300 * k + 150 * other };
            }
    *out = c;
    return n;
}
