/* find: the value of one unknown for which one equation holds. In: a range, an equation, what is to be tried again. Out: a value,
   or a message with what was nearest, the answers there are, or the range over which all fit.
   513 samples of a bounded residual, sign changes halved 60 times, dips narrowed 60 times; never looks outside the range. */
#include "solved/value.h"
#include "base/num.h"
#include <math.h>

enum { SAMPLES = 513, HALVINGS = 60, MOST_TOLD = 6 };
#define GOLDEN 0.61803398874989485      /* (sqrt(5) - 1) / 2 */
#define ROOT_RESIDUAL 1e-7              /* at a jump the residual stays of order 1; touching answers give 1e-14 and less */
#define TOUCH_RESIDUAL 1e-9
#define ROUNDING 1e-13
#define SAME_ANSWER 1e-7                /* of the range: touching answers are known to 1e-8 */

typedef struct { double residual, left, right; bool there, far; } Sample;      /* far: left is at infinity */
typedef struct {
    SgSolved *s;
    uint32_t symbol;
    const SgFind *find;
    const SgExpr *left, *right;
    bool to_infinity;                   /* the equation asks for infinity: 1/left is to vanish */
    SgThing *kept;                      /* of what is tried again: how it stood before */
    double from, to, size;              /* size: the median of the two sides */
    SgDim dim; SgUnit unit;
    SgDim side;                         /* dimension of the left side, for telling it */
    Sample sample[SAMPLES];
    double answer[SAMPLES], jump[SAMPLES];
    uint32_t nanswers, njumps;
} Search;

static double place(const Search *f, uint32_t i) { return f->from + (f->to - f->from) * i / (SAMPLES - 1); }

/* ---- one trial ---- */

static void set_unknown(Search *f, double x)
{
    SgThing *t = &f->s->thing[f->symbol];
    t->state = SG_VALID;
    t->value = sg_value_number(x, f->dim);
    t->value.unit = f->unit;
}

static void restore(Search *f)
{
    for (uint32_t i = 0; i < f->find->ntrial; i++) f->s->thing[f->find->trial[i].symbol] = f->kept[i];
}

static void residual(const Search *f, Sample *y)
{
    double l = y->left / f->size, r = y->right / f->size;
    if (f->to_infinity) {
        y->residual = y->far ? 0 : 1 / l;
        y->there = y->far || y->left != 0;
        return;
    }
    if (y->far) { y->there = false; return; }
    y->residual = (l - r) / sqrt((1 + l * l) * (1 + r * r));
    if (fabs(y->residual) < ROUNDING) y->residual = 0;
}

/* The two sides with the unknown at x; what was got for it is given back, so nothing may be said in it. */
static Sample attempt(Search *f, double x)
{
    Sample y = { 0, 0, 0, false, false };
    SgSolved *s = f->s;
    if (s->c->work > SG_MAX_WORK) return y;
    bool broken = s->broken;
    SgArenaMark mark = sg_arena_mark(s->c->arena);
    restore(f);
    set_unknown(f, x);
    for (uint32_t i = 0; i < f->find->ntrial; i++) sg_solve_node(s, f->find->trial[i]);
    SgValue l = sg_eval(s, f->left), r = f->to_infinity ? sg_value_number(0, l.dim) : sg_eval(s, f->right);
    bool numbers = l.type == SG_TYPE_NUMBER && r.type == SG_TYPE_NUMBER && (f->to_infinity || sg_same_dim(l.dim, r.dim) || l.nought || r.nought);
    y.far = numbers && l.state == SG_INFINITE;
    y.there = numbers && (l.state == SG_VALID || y.far) && r.state == SG_VALID;
    y.left = l.number;
    y.right = r.number;
    if (y.there) f->side = l.dim;
    s->broken = broken;
    restore(f);
    sg_arena_reset(s->c->arena, mark);
    if (y.there) residual(f, &y);
    return y;
}

/* ---- the search ---- */

static void sort(double *v, uint32_t n)
{
    for (uint32_t i = 1; i < n; i++) {
        double x = v[i];
        uint32_t k = i;
        for (; k && v[k - 1] > x; k--) v[k] = v[k - 1];
        v[k] = x;
    }
}

static double median_size(const Search *f, bool left)
{
    double v[SAMPLES];
    uint32_t n = 0;
    for (uint32_t i = 0; i < SAMPLES; i++)
        if (f->sample[i].there && (!left || !f->sample[i].far)) v[n++] = fabs(left ? f->sample[i].left : f->sample[i].right);
    sort(v, n);
    return n ? v[n / 2] : 0;
}

static void take_samples(Search *f)
{
    f->size = 1;
    for (uint32_t i = 0; i < SAMPLES; i++) f->sample[i] = attempt(f, place(f, i));
    double l = median_size(f, true), r = median_size(f, false);
    f->size = l > r ? l : r;
    if (!(f->size > 0)) f->size = 1;
    for (uint32_t i = 0; i < SAMPLES; i++) if (f->sample[i].there) residual(f, &f->sample[i]);
}

/* A value a person would write, when it fits as well: 120, not 119.999999999. */
static double plain(Search *f, double x)
{
    double here = fabs(attempt(f, x).residual), step = 1;
    while (step > f->to - f->from) step /= 10;
    for (int i = 0; i < 9; i++, step /= 10) {
        double near = sg_round_to(x, step);
        if (fabs(near - x) > SAME_ANSWER * (f->to - f->from) || near < f->from || near > f->to) continue;
        Sample y = attempt(f, near);
        if (y.there && fabs(y.residual) <= here) return near;
    }
    return x;
}

static void add_answer(Search *f, double x)
{
    x = plain(f, x);
    for (uint32_t i = 0; i < f->nanswers; i++) if (fabs(f->answer[i] - x) <= SAME_ANSWER * (f->to - f->from)) return;
    if (f->nanswers < SAMPLES) f->answer[f->nanswers++] = x;
}

static void halve(Search *f, uint32_t i)
{
    double x0 = place(f, i), x1 = place(f, i + 1);
    Sample y0 = f->sample[i], y1 = f->sample[i + 1];
    for (int k = 0; k < HALVINGS; k++) {
        double middle = (x0 + x1) / 2;
        Sample y = attempt(f, middle);
        if (!y.there) return;                         /* a bracket never spans a value that is not there */
        if (y.residual == 0) { add_answer(f, middle); return; }
        if ((y.residual > 0) == (y0.residual > 0)) { x0 = middle; y0 = y; }
        else { x1 = middle; y1 = y; }
    }
    bool first = fabs(y0.residual) < fabs(y1.residual);
    if (fabs(first ? y0.residual : y1.residual) < ROOT_RESIDUAL) add_answer(f, first ? x0 : x1);
    else if (f->njumps < SAMPLES) f->jump[f->njumps++] = (x0 + x1) / 2;
}

/* An answer that touches without crossing: the least of the residual between three samples. */
static void narrow(Search *f, uint32_t i)
{
    const Sample *y = &f->sample[i];
    if (!y[-1].there || !y[0].there || !y[1].there || y[0].residual == 0) return;
    if (!(fabs(y[0].residual) < fabs(y[-1].residual) && fabs(y[0].residual) < fabs(y[1].residual))) return;
    if ((y[-1].residual > 0) != (y[0].residual > 0) || (y[1].residual > 0) != (y[0].residual > 0)) return;
    double low = place(f, i - 1), high = place(f, i + 1);
    for (int k = 0; k < HALVINGS; k++) {
        double p = high - GOLDEN * (high - low), q = low + GOLDEN * (high - low);
        Sample a = attempt(f, p), b = attempt(f, q);
        if (!a.there || !b.there) return;
        if (fabs(a.residual) < fabs(b.residual)) high = q;
        else low = p;
    }
    Sample at = attempt(f, (low + high) / 2);
    if (at.there && fabs(at.residual) < TOUCH_RESIDUAL) add_answer(f, (low + high) / 2);
}

static void search(Search *f)
{
    for (uint32_t i = 0; i < SAMPLES; i++) {
        const Sample *y = &f->sample[i];
        if (y->there && y->residual == 0) add_answer(f, place(f, i));
        if (i + 1 == SAMPLES || !y[0].there || !y[1].there || y[0].residual == 0 || y[1].residual == 0) continue;
        if ((y[0].residual > 0) != (y[1].residual > 0)) halve(f, i);
    }
    for (uint32_t i = 1; i + 1 < SAMPLES; i++) narrow(f, i);
    sort(f->answer, f->nanswers);
}

/* ---- what it comes to ---- */

static SgStr told(Search *f, double x)
{
    SgValue v = sg_value_number(x, f->dim);
    return sg_show(f->s, v, f->unit, -1);
}

static SgSpan where_at(const Search *f) { return sg_phrase(sg_statement_of(f->s, f->symbol), SG_PHRASE_find_where)->value[0]->at; }

/* Every sample was wrong in some way: the middle one is tried aloud, so that its own message says why. */
static void nowhere(Search *f)
{
    SgSolved *s = f->s;
    if (s->c->muted || s->broken) return;
    restore(f);                                       /* no attempt: what is said must not be given back with it */
    set_unknown(f, (f->from + f->to) / 2);
    for (uint32_t i = 0; i < f->find->ntrial; i++) sg_solve_node(s, f->find->trial[i]);
    SgValue v = sg_value_compare(s, where_at(f), '=', sg_eval(s, f->left), f->to_infinity ? sg_value_infinite(SG_DIM_NUMBER) : sg_eval(s, f->right));
    SgStr name = sg_name_of(s, f->symbol), a = told(f, f->from), b = told(f, f->to);
    if (!s->broken) sg_wrong(s, SG_MSG_find_none, where_at(f), "this has no value for any %.*s from %.*s to %.*s%s%s; try another range", (int)name.n, name.s,
                             (int)a.n, a.s, (int)b.n, b.s, v.why ? ": " : "", v.why ? v.why : "");
}

static void put_jumps(Search *f, SgBuf *b)
{
    for (uint32_t i = 0; i < f->njumps && i < MOST_TOLD; i++) {
        SgStr x = told(f, f->jump[i]);
        sg_putf(b, "%s%.*s", i ? " and " : "; it jumps, without passing it, at ", (int)x.n, x.s);
    }
}

static void none(Search *f)
{
    uint32_t best = SAMPLES;
    for (uint32_t i = 0; i < SAMPLES; i++)
        if (f->sample[i].there && (best == SAMPLES || fabs(f->sample[i].residual) < fabs(f->sample[best].residual))) best = i;
    if (best == SAMPLES) { nowhere(f); return; }
    SgBuf jumps = { .arena = f->s->c->arena };
    put_jumps(f, &jumps);
    SgStr name = sg_name_of(f->s, f->symbol), a = told(f, f->from), b = told(f, f->to), x = told(f, place(f, best)), j = sg_buf_str(&jumps);
    SgStr left = sg_source_words(f->s->c, f->left->at), whole = sg_source_words(f->s->c, where_at(f));
    SgValue v = sg_value_number(f->sample[best].left, f->side);
    SgStr value = sg_show(f->s, f->sample[best].far ? sg_value_infinite(f->side) : v, SG_UNIT_COUNT, -1);
    sg_wrong(f->s, SG_MSG_find_none, where_at(f), "no %.*s from %.*s to %.*s gives %.*s: the nearest is %.*s, with %.*s %.*s%.*s; widen the range or ask for another value", (int)name.n, name.s,
             (int)a.n, a.s, (int)b.n, b.s, (int)whole.n, whole.s, (int)x.n, x.s, (int)left.n, left.s, (int)value.n, value.s, (int)j.n, j.s);
}

static void several(Search *f)
{
    SgBuf list = { .arena = f->s->c->arena };
    for (uint32_t i = 0; i < f->nanswers && i < MOST_TOLD; i++) {
        SgStr x = told(f, f->answer[i]);
        sg_putf(&list, "%s%.*s", i ? i + 1 == f->nanswers ? " and " : ", " : "", (int)x.n, x.s);
    }
    if (f->nanswers > MOST_TOLD) sg_putf(&list, " and %u more", f->nanswers - MOST_TOLD);
    SgStr all = sg_buf_str(&list), last = told(f, f->answer[f->nanswers - 1]), name = sg_name_of(f->s, f->symbol);
    sg_wrong(f->s, SG_MSG_find_several, sg_statement_of(f->s, f->symbol)->head_at, "several %.*s fit: %.*s; add `smallest`, `largest` or `nearest %.*s`, or narrow the range", (int)name.n, name.s,
             (int)all.n, all.s, (int)last.n, last.s);
}

/* Two neighbouring samples that both fit: an interval of answers. */
static bool flat(Search *f)
{
    for (uint32_t i = 0; i + 1 < SAMPLES; i++) {
        const Sample *y = &f->sample[i];
        if (!y[0].there || !y[1].there || y[0].residual != 0 || y[1].residual != 0) continue;
        uint32_t end = i + 1;
        while (end + 1 < SAMPLES && f->sample[end + 1].there && f->sample[end + 1].residual == 0) end++;
        SgStr name = sg_name_of(f->s, f->symbol), a = told(f, place(f, i)), b = told(f, place(f, end));
        sg_wrong(f->s, SG_MSG_find_any, where_at(f), "every %.*s from %.*s to %.*s fits, so this does not settle it; ask for something that changes with %.*s", (int)name.n, name.s,
                 (int)a.n, a.s, (int)b.n, b.s, (int)name.n, name.s);
        return true;
    }
    return false;
}

static bool choose(Search *f, double *x)
{
    bool near;
    const SgStatement *st = sg_statement_of(f->s, f->symbol);
    SgValue to = sg_read(f->s, f->symbol, SG_PHRASE_find_nearest, &near);
    if (f->nanswers == 0) { none(f); return false; }
    *x = f->answer[0];
    if (sg_phrase(st, SG_PHRASE_find_smallest)) return true;
    if (sg_phrase(st, SG_PHRASE_find_largest)) { *x = f->answer[f->nanswers - 1]; return true; }
    if (near && (to.state != SG_VALID || to.type != SG_TYPE_NUMBER || !sg_same_dim(to.dim, f->dim))) {
        SgStr is = sg_value_told(f->s, to);
        if (to.state != SG_POISON) sg_wrong(f->s, SG_MSG_find_range, sg_phrase(st, SG_PHRASE_find_nearest)->at, "`nearest` needs %s, like the range, and this is %.*s", sg_dim_name(f->dim), (int)is.n, is.s);
        return false;
    }
    for (uint32_t i = 1; near && i < f->nanswers; i++) if (fabs(f->answer[i] - to.number) < fabs(*x - to.number)) *x = f->answer[i];
    if (!near && f->nanswers > 1) { several(f); return false; }
    return true;
}

/* ---- reading it ---- */

static bool read_range(Search *f)
{
    bool a_given, b_given;
    const SgStatement *st = sg_statement_of(f->s, f->symbol);
    SgValue a = sg_read(f->s, f->symbol, SG_PHRASE_find_from, &a_given), b = sg_read(f->s, f->symbol, SG_PHRASE_find_to, &b_given);
    if (!a_given || !b_given || a.state != SG_VALID || b.state != SG_VALID) return false;
    bool same = a.type == SG_TYPE_NUMBER && b.type == SG_TYPE_NUMBER && (sg_same_dim(a.dim, b.dim) || a.nought || b.nought);
    if (!same || !(a.number < b.number)) {
        SgStr x = sg_value_told(f->s, a), y = sg_value_told(f->s, b);
        sg_wrong(f->s, SG_MSG_find_range, st->head_at, "a range goes from a smaller value to a greater one of the same sort, and here `from` is %.*s and `to` is %.*s%s", (int)x.n, x.s, (int)y.n, y.s,
                 same ? "; exchange them" : "; give both the same sort");
        return false;
    }
    f->from = a.number;
    f->to = b.number;
    f->dim = a.nought ? b.dim : a.dim;
    f->unit = a.unit != SG_UNIT_COUNT ? a.unit : b.unit;
    return true;
}

static bool read_equation(Search *f)
{
    const SgPhrase *p = sg_phrase(sg_statement_of(f->s, f->symbol), SG_PHRASE_find_where);
    if (!p || !p->n) return false;
    const SgExpr *e = p->value[0];
    if (e->op == SG_E_POISON) return false;
    if (e->op != SG_E_CHAIN || e->nargs != 2 || e->relation[1] != '=') {
        SgStr name = sg_name_of(f->s, f->symbol);
        sg_wrong(f->s, SG_MSG_find_form, e->at, "`where` takes one equation with one = sign, such as `%.*s = 12 cm`; put other conditions into `require`", (int)name.n, name.s);
        return false;
    }
    bool swapped = e->arg[0]->op == SG_E_INFINITY;
    f->left = e->arg[swapped];
    f->right = e->arg[!swapped];
    f->to_infinity = f->right->op == SG_E_INFINITY;
    return f->left->op != SG_E_POISON && f->right->op != SG_E_POISON;
}

static void try_all(Search *f)
{
    SgSolved *s = f->s;
    f->kept = SG_ARRAY(s->c->arena, SgThing, f->find->ntrial + 1);
    for (uint32_t i = 0; i < f->find->ntrial; i++) f->kept[i] = s->thing[f->find->trial[i].symbol];
    s->c->muted++;
    take_samples(f);
    search(f);
    restore(f);
    s->c->muted--;
}

void sg_solve_find(SgSolved *s, uint32_t symbol)
{
    const SgScope *scope = s->figure->scope;
    Search *f = SG_NEW(s->c->arena, Search);
    double x = 0;
    s->thing[symbol].state = SG_POISON;
    *f = (Search){ .s = s, .symbol = symbol };
    for (uint32_t i = 0; i < scope->nfinds; i++) if (scope->find[i].symbol == symbol) f->find = &scope->find[i];
    if (!f->find || sg_errors(s->c) || s->c->work > SG_MAX_WORK || !read_range(f) || !read_equation(f)) return;
    try_all(f);
    bool sound = !sg_worked_out(s, sg_statement_of(s, symbol)->head_at) && !flat(f) && choose(f, &x);
    restore(f);
    s->thing[symbol].state = SG_POISON;
    if (sound) set_unknown(f, x);
}
