/* What to accept of an answer. In: a problem worked out, the values it asks for. Out: an interval for a drawn answer and one for a
   calculated one.
   Drawn: the construction as a student makes it on the printed surface; each error of the hand alone at its limit either way; the
   squares of the rises and of the falls added apart; the roots times 2/sqrt(3), for errors that are as likely anywhere within
   their limits (standard deviation limit/sqrt(3)), so that two standard deviations are held. Common practice of error analysis;
   the limits are settings of the sheet. */
#include "sheet/build.h"
#include "sheet/pencil.h"
#include <math.h>

#define HOLD 1.1547005383792515          /* 2 / sqrt(3) */
#define LOOSE 0.15                       /* of a position: more than that and the rays fix it badly */
#define SHALLOW_DEG 10

typedef struct { SgSolved *s; const SgSheetForm *form; SgSheetProblem *p; uint32_t image; SgPencilCase pencil; const SgHand *hand; } Case;

/* ---- which image an expression reads ---- */

/* UINT32_MAX none, UINT32_MAX - 1 several. */
static void find_image(const SgSolved *s, const SgExpr *e, uint32_t *image)
{
    if (e->op == SG_E_SYMBOL && !e->in_file) {
        const SgSymbol *sym = &s->figure->scope->symbol[e->symbol];
        if (sym->kind == SG_KIND_image) *image = *image == UINT32_MAX || *image == e->symbol ? e->symbol : UINT32_MAX - 1;
        const SgExpr *value = sym->kind == SG_KIND_let ? s->figure->scope->statement[sym->statement].definition : NULL;
        if (value && !sym->parameter) find_image(s, value, image);
    }
    for (uint32_t i = 0; i < e->nargs; i++) find_image(s, e->arg[i], image);
}

/* ---- the case on paper ---- */

static SgPoint seen(const Case *k, const SgSurface *f, SgPoint p)
{
    SgPoint d = sg_pt_sub(p, f->vertex);
    return sg_pt(-sg_pt_dot(d, f->along) * k->s->along, d.y_mm * k->s->up);
}

static bool uses(const Case *k, const SgExpr *e, uint32_t symbol, const char *word)
{
    if (e->op == SG_E_PROPERTY && e->arg[0]->op == SG_E_SYMBOL && !e->arg[0]->in_file && e->arg[0]->symbol == symbol
        && sg_str_is(sg_names_str(&k->s->c->names, e->sym), word)) return true;
    for (uint32_t i = 0; i < e->nargs; i++) if (uses(k, e->arg[i], symbol, word)) return true;
    return false;
}

/* A point that comes with an element is printed when it is used in what is given. */
static bool printed_point(const Case *k, uint32_t element, const char *word)
{
    const SgScope *scope = k->s->figure->scope;
    for (uint32_t i = 0; i < scope->nstatements; i++) {
        const SgStatement *st = &scope->statement[i];
        for (uint32_t j = 0; j < st->nphrases && st->step <= (int)k->p->given_up_to; j++)
            for (uint32_t n = 0; n < st->phrase[j].n; n++) if (uses(k, st->phrase[j].value[n], element, word)) return true;
    }
    return false;
}

static void add_ray(Case *k, SgPencilRay ray, bool printed)
{
    SgPencilCase *c = &k->pencil;
    if (c->nrays == SG_PENCIL_RAYS) return;
    c->printed[c->nrays] = printed;
    c->ray[c->nrays++] = ray;
}

static bool near(SgPoint a, SgPoint b) { return sg_pt_distance(a, b) < 1e-4; }

/* One of the rays of a construction, by where it is aimed; any other is not a pencil's. */
static void take_ray(Case *k, const SgStatement *st, const SgPath *path, const SgSurface *f)
{
    const SgPencilCase *c = &k->pencil;
    bool printed = st->step <= (int)k->p->given_up_to;
    if (sg_phrase(st, SG_PHRASE_ray_parallel)) { add_ray(k, SG_PENCIL_PARALLEL, printed); return; }
    if (!path->aimed) return;
    SgPoint aim = seen(k, f, path->aim);
    if (near(aim, sg_pt(0, 0))) add_ray(k, c->mirror ? SG_PENCIL_VERTEX : SG_PENCIL_CENTRE, printed);
    else if (near(aim, sg_pt(c->f_mm, 0))) add_ray(k, SG_PENCIL_FOCUS, printed);
    else if (c->mirror && near(aim, sg_pt(2 * c->f_mm, 0))) add_ray(k, SG_PENCIL_CENTRE, printed);
}

static void take_rays(Case *k, SgPoint tip, const SgSurface *f)
{
    const SgScope *scope = k->s->figure->scope;
    for (uint32_t i = 0; i < scope->nsymbols; i++) {
        const SgThing *t = &k->s->thing[i];
        const SgStatement *st = &scope->statement[scope->symbol[i].statement];
        if (scope->symbol[i].kind != SG_KIND_ray || t->state != SG_VALID || sg_phrase(st, SG_PHRASE_common_hidden)) continue;
        if (sg_pt_distance(t->path.start, tip) < 1e-6) take_ray(k, st, &t->path, f);
    }
    if (k->pencil.nrays >= 2 || k->pencil.plane) return;
    double half = f->half_aperture_mm * k->s->up;
    const SgPencilCase *c = &k->pencil;
    k->pencil.nrays = 0;
    if (fabs(c->h_mm) <= half) add_ray(k, SG_PENCIL_PARALLEL, false);
    if (fabs(c->u_mm - c->f_mm) > 1e-6 && fabs(c->h_mm * c->f_mm / (c->f_mm - c->u_mm)) <= half) add_ray(k, SG_PENCIL_FOCUS, false);
    add_ray(k, c->mirror ? SG_PENCIL_VERTEX : SG_PENCIL_CENTRE, false);
}

/* False where the method does not reach: several elements, a tilted axis, thick glass, something far away, unequal scales. */
static bool read_case(Case *k)
{
    SgSolved *s = k->s;
    const SgImage *im = &s->thing[k->image].image;
    if (im->nby != 1 || s->figure->scope->symbol[im->of].kind != SG_KIND_object || im->last.far == SG_AT_INFINITY) return false;
    const SgObject *o = &s->thing[im->of].object;
    const SgElement *e = &s->thing[im->by[0]].element;
    const SgSurface *f = &e->surface;
    SgKind kind = s->figure->scope->symbol[im->by[0]].kind;
    const SgStatement *st = sg_statement_of(s, im->by[0]);
    if ((kind != SG_KIND_mirror && kind != SG_KIND_lens) || e->thick || o->far || o->is_virtual || !s->to_scale || s->along < s->up || s->along > s->up) return false;
    if (fabs(f->along.y_mm) > 1e-9 || f->n_before < f->n_after || f->n_before > f->n_after) return false;
    SgPoint tip = seen(k, f, o->tip), foot = seen(k, f, o->foot);
    if (fabs(foot.y_mm) > 1e-6 || fabs(tip.y_mm) < 1e-6 || !(tip.x_mm > 0)) return false;
    SgPencilCase *c = &k->pencil;
    *c = (SgPencilCase){ .mirror = kind == SG_KIND_mirror, .plane = e->plane, .u_mm = tip.x_mm, .h_mm = tip.y_mm, .f_mm = e->focal_mm * s->along };
    const SgPhrase *surface = c->mirror ? sg_phrase(st, SG_PHRASE_mirror_surface) : NULL;
    c->arc = s->by_rule || (surface && surface->n && sg_word_is(s, surface->value[0], "arc"));
    bool by_focal = c->mirror && sg_phrase(st, SG_PHRASE_mirror_focal) != NULL;
    c->centre_made = by_focal && !sg_phrase(st, SG_PHRASE_mirror_centre_named) && !printed_point(k, im->by[0], "centre");
    c->focus_made = c->mirror && !by_focal && !sg_phrase(st, SG_PHRASE_mirror_focus_named) && !printed_point(k, im->by[0], "focus");
    double far = fabs(im->last.distance_mm) * s->along + 12;
    c->end_mm = im->last.real && far > 40 ? far : 40;
    take_rays(k, o->tip, f);
    return c->plane || c->nrays >= 2;
}

/* ---- intervals ---- */

/* The expression, told from what is read off the drawing; without one, the image's distance on paper. */
static bool told(const Case *k, const SgExpr *e, const SgPencilReading *r, double *value)
{
    *value = r->distance_mm;
    if (!e) return true;
    SgSolved *s = k->s;
    SgImage kept = s->thing[k->image].image, *im = &s->thing[k->image].image;
    const SgSurface *f = &s->thing[im->by[0]].element.surface;
    bool mirror = k->pencil.mirror;
    im->last.distance_mm = r->distance_mm / s->along;
    im->height_mm = r->height_mm / s->up;
    im->magnification = im->total_magnification = r->height_mm / k->pencil.h_mm;
    im->foot = sg_pt_along(f->vertex, f->along, mirror ? -im->last.distance_mm : im->last.distance_mm);
    im->tip = sg_pt_add(im->foot, sg_pt(0, im->height_mm));
    SgValue v = sg_eval(s, e);
    s->thing[k->image].image = kept;
    *value = v.number;
    return v.state == SG_VALID && v.type == SG_TYPE_NUMBER;
}

static SgAccept interval(const Case *k, const SgExpr *e, double *widest_deg)
{
    double error[SG_PENCIL_ERRORS] = { 0 }, nominal, rise = 0, fall = 0;
    SgPencilReading r;
    SgAccept none = { 0 };
    uint32_t n = sg_pencil_draw(&k->pencil, k->hand, NULL, &r);
    if (!n || !told(k, e, &r, &nominal)) return none;
    *widest_deg = r.widest_deg;
    for (uint32_t i = 0; i < n; i++) {
        double up = 0, down = 0;
        for (int side = -1; side <= 1; side += 2) {
            double value;
            error[i] = side;
            if (!sg_pencil_draw(&k->pencil, k->hand, error, &r) || !told(k, e, &r, &value)) return none;
            if (value - nominal > up) up = value - nominal;
            if (nominal - value > down) down = nominal - value;
        }
        error[i] = 0;
        rise += up * up;
        fall += down * down;
    }
    return (SgAccept){ true, nominal - HOLD * sqrt(fall), nominal + HOLD * sqrt(rise) };
}

static void widen(SgAccept *a, double middle, double least)
{
    if (a->from > middle - least) a->from = middle - least;
    if (a->to < middle + least) a->to = middle + least;
}

/* A length or angle measured on what is printed: read once. */
static SgAccept measured(double value, double by) { return (SgAccept){ true, value - HOLD * by, value + HOLD * by }; }

static double on_paper(const Case *k, double paper_mm) { return paper_mm / k->s->along; }

static void accept_drawn(Case *k, SgAsked *a)
{
    const SgSheetForm *f = k->form;
    SgDim dim = a->value.dim;
    bool length = sg_same_dim(dim, SG_DIM_LENGTH), angle = sg_same_dim(dim, SG_DIM_ANGLE);
    double widest_deg;
    k->image = UINT32_MAX;
    k->pencil = (SgPencilCase){ 0 };
    find_image(k->s, a->expression, &k->image);
    if (k->image == UINT32_MAX && length && k->s->to_scale) a->drawn = measured(a->value.number, on_paper(k, k->hand->read_mm));
    else if (k->image == UINT32_MAX && angle) a->drawn = measured(a->value.number, k->hand->turned_deg);
    else if (k->image < UINT32_MAX - 1 && read_case(k)) a->drawn = interval(k, a->expression, &widest_deg);
    if (!a->drawn.told) return;
    if (length) widen(&a->drawn, a->value.number, on_paper(k, f->least_length_mm));
    if (angle) widen(&a->drawn, a->value.number, f->least_angle_deg);
}

/* Once a problem: rays that leave the image's place uncertain. */
static void warn(Case *k, const SgAsked *a)
{
    double widest_deg = 90;
    SgSolved *s = k->s;
    SgAccept d = interval(k, NULL, &widest_deg);
    double half = (d.to - d.from) / 2, whole = fabs(s->thing[k->image].image.last.distance_mm) * s->along;
    char letter = (char)('A' + s->set.version);
    SgStr name = sg_name_of(s, k->image), slack = sg_show_length(s, half / s->along), of = sg_show_length(s, whole / s->along);
    static const char mend[] = "ask for rays that cross at a wider angle, such as the parallel one and the one by way of the focal point";
    if (!d.told)
        sg_say(s->c, SG_MSG_rays_shallow, a->expression->at, "in version %c pencil and ruler do not fix the place of %.*s at all; %s", letter, (int)name.n, name.s, mend);
    else if (half > LOOSE * whole)
        sg_say(s->c, SG_MSG_rays_shallow, a->expression->at, "in version %c pencil and ruler fix the place of %.*s only to about %.*s of %.*s; %s", letter, (int)name.n, name.s, (int)slack.n, slack.s, (int)of.n, of.s, mend);
    else if (widest_deg < SHALLOW_DEG)
        sg_say(s->c, SG_MSG_rays_shallow, a->expression->at, "in version %c the rays to %.*s cross at no more than %ld\xC2\xB0; %s", letter, (int)name.n, name.s, (long)(widest_deg + 0.5), mend);
}

/* Half a unit of the last figure asked for, either way. */
static SgAccept calculated(double value, double unit, uint32_t figures)
{
    double size = fabs(value / unit), step = 1;
    if (!(size > 0)) return (SgAccept){ true, value, value };
    while (size >= 10 * step) step *= 10;
    while (size < step) step /= 10;
    for (uint32_t i = 1; i < figures; i++) step /= 10;
    return (SgAccept){ true, value - step * unit / 2, value + step * unit / 2 };
}

void sg_sheet_accept(SgSolved *s, const SgSheetForm *form, SgSheetProblem *p)
{
    SgHand hand = { form->laid_mm, form->read_mm, form->turned_deg };
    Case k = { .s = s, .form = form, .p = p, .hand = &hand };
    bool warned = false;
    for (uint32_t i = 0; i < p->nasked; i++) {
        SgAsked *a = &p->asked[i];
        if (a->value.state != SG_VALID || a->value.type != SG_TYPE_NUMBER) continue;
        SgUnit unit = sg_same_dim(a->value.dim, SG_DIM_LENGTH) ? sg_figure_length_unit(s) : SG_UNIT_COUNT;
        a->calculated = calculated(a->value.number, unit == SG_UNIT_COUNT ? 1 : sg_unit_factor(unit), p->figures);
        accept_drawn(&k, a);
        if (!warned && k.image < UINT32_MAX - 1 && (k.pencil.plane || k.pencil.nrays >= 2)) {
            warn(&k, a);
            warned = true;
        }
    }
}
