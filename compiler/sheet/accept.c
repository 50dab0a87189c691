/* What to accept of an answer. In: a problem worked out, the values it asks for. Out: an interval for a drawn answer and one for a
   calculated one.
   Drawn: the construction as a student makes it on the printed surface; each error of the hand alone at its limit either way; the
   squares of the rises and of the falls added apart; the roots times 2/sqrt(3), for errors that are as likely anywhere within
   their limits (standard deviation limit/sqrt(3)), so that two standard deviations are held. Common practice of error analysis;
   the limits are settings of the sheet. */
#include "sheet/build.h"
#include <math.h>

#define HOLD 1.1547005383792515          /* 2 / sqrt(3) */
#define LOOSE 0.15                       /* of a position: more than that and the rays fix it badly */
#define SHALLOW_DEG 10

/* follow: by the rays that the figure draws through all elements. */
typedef struct { SgSolved *s; const SgSheetForm *form; SgSheetProblem *p; SgPaperCase paper; bool reached, follow; SgSought sought; const SgHand *hand; } Case;

/* ---- intervals ---- */

/* What is drawn, once: the number of errors there are, 0 without a value. Without an expression, the last image's distance on paper. */
static uint32_t draw(const Case *k, const SgExpr *e, const double *error, double *value, double *widest_deg)
{
    SgPencilDrawing d;
    if (k->sought.sort != SG_SOUGHT_NOTHING) return sg_sheet_find(k->s, &k->sought, e, k->hand, error, value);
    uint32_t n = (k->follow ? sg_pencil_follow : sg_pencil_draw)(&k->paper.pencil, k->hand, error, &d);
    if (!n) return 0;
    *widest_deg = d.widest_deg;
    *value = d.image[k->paper.pencil.nstages - 1].distance_mm;
    if (!e) return n;
    SgValue v = sg_sheet_read(k->s, &k->paper, e, &d);
    *value = v.number;
    return v.state == SG_VALID && v.type == SG_TYPE_NUMBER ? n : 0;
}

static SgAccept interval(const Case *k, const SgExpr *e, double *widest_deg)
{
    double error[SG_PENCIL_ERRORS] = { 0 }, nominal, rise = 0, fall = 0, any;
    SgAccept none = { 0 };
    uint32_t n = draw(k, e, NULL, &nominal, widest_deg);
    for (uint32_t i = 0; i < n; i++) {
        double up = 0, down = 0;
        for (int side = -1; side <= 1; side += 2) {
            double value;
            error[i] = side;
            if (!draw(k, e, error, &value, &any)) return none;
            if (value - nominal > up) up = value - nominal;
            if (nominal - value > down) down = nominal - value;
        }
        error[i] = 0;
        rise += up * up;
        fall += down * down;
    }
    return n ? (SgAccept){ true, nominal - HOLD * sqrt(fall), nominal + HOLD * sqrt(rise) } : none;
}

/* Through several elements a student may construct image after image, or follow the rays that the figure draws to their end. */
static SgAccept either_way(Case *k, const SgExpr *e, double *widest_deg)
{
    double any;
    SgAccept a = interval(k, e, widest_deg), b;
    if (k->paper.pencil.through.n < 2) return a;
    k->follow = true;
    b = interval(k, e, &any);
    k->follow = false;
    if (!a.told || !b.told) return a.told ? a : b;
    return (SgAccept){ true, a.from < b.from ? a.from : b.from, a.to > b.to ? a.to : b.to };
}

static void widen(SgAccept *a, double middle, double least)
{
    if (a->from > middle - least) a->from = middle - least;
    if (a->to < middle + least) a->to = middle + least;
}

/* A length measured on what is printed is read once; an angle of a ray that is to be drawn is off in more. */
static SgAccept measured(double value, double by) { return (SgAccept){ true, value - HOLD * by, value + HOLD * by }; }

static double on_paper(const Case *k, double paper_mm) { return paper_mm / k->s->along; }

static void warn(Case *k, SgCode code, uint32_t asked, SgStr text)
{
    SgSheetWarning w = { code, asked, text };
    SG_PUSH(k->s->c->arena, &k->p->warnings, w);
}

/* Of a length that is found backwards: lines that leave it uncertain. */
static void warn_sought(Case *k, const SgAsked *a)
{
    double half = (a->drawn.to - a->drawn.from) / 2, whole = fabs(a->value.number);
    SgStr slack = sg_show_length(k->s, half), of = sg_show_length(k->s, whole);
    if (!sg_same_dim(a->value.dim, SG_DIM_LENGTH) || half <= LOOSE * whole || half * k->s->along <= 2 * k->hand->read_mm) return;
    warn(k, SG_MSG_rays_shallow, (uint32_t)(a - k->p->asked), sg_format(k->s->c->arena, "in version %c pencil and ruler fix %.*s only to about %.*s of %.*s; make object and image taller, or more unlike, so that the lines cross at a wider angle",
         (char)('A' + k->s->set.version), (int)a->words.n, a->words.s, (int)slack.n, slack.s, (int)of.n, of.s));
}

/* Of what is no image: found backwards, or measured on what is printed. */
static void accept_measured(Case *k, SgAsked *a, bool length, bool angle)
{
    double any;
    if (k->s->to_scale) k->sought = sg_sheet_sought(k->s, k->p->given_up_to, a->expression);
    if (k->sought.sort != SG_SOUGHT_NOTHING) a->drawn = interval(k, a->expression, &any);
    if (a->drawn.told) { warn_sought(k, a); return; }
    if (length && k->s->to_scale) a->drawn = measured(a->value.number, on_paper(k, k->hand->read_mm));
    else if (angle) a->drawn = measured(a->value.number, k->hand->turned_deg * sqrt(sg_sheet_turned(k->s, k->p->given_up_to, a->expression)));
}

static void accept_drawn(Case *k, SgAsked *a)
{
    const SgSheetForm *f = k->form;
    SgDim dim = a->value.dim;
    bool length = sg_same_dim(dim, SG_DIM_LENGTH), angle = sg_same_dim(dim, SG_DIM_ANGLE);
    double widest_deg;
    SgImagesRead images = sg_sheet_images(k->s, a->expression);
    k->reached = false;
    k->sought = (SgSought){ .sort = SG_SOUGHT_NOTHING };
    if (images.last == UINT32_MAX) accept_measured(k, a, length, angle);
    else if (!images.apart && sg_sheet_case(k->s, k->p->given_up_to, images.last, &k->paper)) {
        k->reached = true;
        a->drawn = either_way(k, a->expression, &widest_deg);
    }
    if (!a->drawn.told) return;
    if (length) widen(&a->drawn, a->value.number, on_paper(k, f->least_length_mm));
    if (angle) widen(&a->drawn, a->value.number, f->least_angle_deg);
}

/* Once a problem: rays that leave the image's place uncertain. Whether they do. */
static bool warn_shallow(Case *k, uint32_t asked)
{
    double widest_deg = 90;
    SgSolved *s = k->s;
    SgArena *arena = s->c->arena;
    SgAccept d = either_way(k, NULL, &widest_deg);
    double half = (d.to - d.from) / 2, whole = fabs(s->thing[k->paper.image].image.last.distance_mm) * s->along;
    char letter = (char)('A' + s->set.version);
    SgStr name = sg_name_of(s, k->paper.image), slack = sg_show_length(s, half / s->along), of = sg_show_length(s, whole / s->along);
    static const char mend[] = "ask for rays that cross at a wider angle, such as the parallel one and the one by way of the focal point";
    if (!d.told)
        warn(k, SG_MSG_rays_shallow, asked, sg_format(arena, "in version %c pencil and ruler do not fix the place of %.*s at all; %s", letter, (int)name.n, name.s, mend));
    else if (half > LOOSE * whole)
        warn(k, SG_MSG_rays_shallow, asked, sg_format(arena, "in version %c pencil and ruler fix the place of %.*s only to about %.*s of %.*s; %s", letter, (int)name.n, name.s, (int)slack.n, slack.s, (int)of.n, of.s, mend));
    else if (widest_deg < SHALLOW_DEG)
        warn(k, SG_MSG_rays_shallow, asked, sg_format(arena, "in version %c the rays to %.*s cross at no more than %ld\xC2\xB0; %s", letter, (int)name.n, name.s, (long)(widest_deg + 0.5), mend));
    else return false;
    return true;
}

/* Once a problem: mistakes that its answers do not show. */
static void warn_hidden(Case *k, uint32_t asked, bool silent)
{
    SgStr what = sg_sheet_hidden(k->s, &k->paper, k->p);
    if (what.n > 0 && !silent)
        warn(k, SG_MSG_mistake_hidden, asked, sg_format(k->s->c->arena, "in version %c what the key accepts does not tell apart a right drawing from %.*s; have the rays marked too, ask for more of the image, or take other numbers", (char)('A' + k->s->set.version), (int)what.n, what.s));
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
    Case deepest = k;
    uint32_t about = UINT32_MAX;
    for (uint32_t i = 0; i < p->nasked; i++) {
        SgAsked *a = &p->asked[i];
        if (a->value.state != SG_VALID || a->value.type != SG_TYPE_NUMBER) continue;
        SgUnit unit = sg_same_dim(a->value.dim, SG_DIM_LENGTH) ? sg_figure_length_unit(s) : SG_UNIT_COUNT;
        a->calculated = calculated(a->value.number, unit == SG_UNIT_COUNT ? 1 : sg_unit_factor(unit), p->figures);
        if (p->solved) accept_drawn(&k, a);            /* else there is nothing to draw on */
        if (!k.reached || (about < UINT32_MAX && deepest.paper.chain.n >= k.paper.chain.n)) continue;
        deepest = k;
        about = i;
    }
    if (about == UINT32_MAX || !deepest.paper.drawn) return;               /* what is only worked out needs no ruler */
    warn_hidden(&deepest, about, warn_shallow(&deepest, about));           /* rays that fix nothing hide everything: one message */
}
