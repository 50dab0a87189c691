/* Values in words: for texts on the figure, for messages and tables. In: a value. Out: UTF-8.
   On figures: thin space before a unit, true minus sign. In messages: plain spaces and hyphen-minus. */
#include "solved/build.h"
#include "base/num.h"
#include <math.h>

static bool length_unit(SgUnit u) { return u == SG_UNIT_mm || u == SG_UNIT_cm || u == SG_UNIT_m || u == SG_UNIT_km || u == SG_UNIT_inch; }

static SgUnit first_length_unit(const SgExpr *e)
{
    if (!e) return SG_UNIT_COUNT;
    if (e->op == SG_E_NUMBER && length_unit(e->unit)) return e->unit;
    if (e->op == SG_E_TEXT) return SG_UNIT_COUNT;
    for (uint32_t i = 0; i < e->nargs; i++) {
        SgUnit u = first_length_unit(e->arg[i]);
        if (u != SG_UNIT_COUNT) return u;
    }
    return SG_UNIT_COUNT;
}

static SgUnit scope_unit(const SgScope *scope, uint16_t home)
{
    for (uint32_t i = 0; i < scope->nstatements; i++) {
        const SgStatement *st = &scope->statement[i];
        if (st->head_at.file != home) continue;
        SgUnit u = first_length_unit(st->definition);
        for (uint32_t k = 0; k < st->nphrases && u == SG_UNIT_COUNT; k++)
            for (uint32_t j = 0; j < st->phrase[k].n && u == SG_UNIT_COUNT; j++) u = first_length_unit(st->phrase[k].value[j]);
        if (u != SG_UNIT_COUNT) return u;
    }
    return SG_UNIT_COUNT;
}

SgUnit sg_figure_length_unit(const SgSolved *s)
{
    SgUnit u = scope_unit(s->figure->scope, s->figure->home);
    if (u == SG_UNIT_COUNT) u = scope_unit(&s->model->file, s->figure->home);
    return u == SG_UNIT_COUNT ? SG_UNIT_cm : u;
}

/* 0.1 cm and its like in other units; 1 degree; 0.01 for plain numbers. */
static int usual_decimals(SgUnit unit)
{
    switch (unit) {
    case SG_UNIT_mm: case SG_UNIT_deg: case SG_UNIT_degree: return 0;
    case SG_UNIT_m: return 3;
    case SG_UNIT_km: return 6;
    case SG_UNIT_COUNT: case SG_UNIT_um: case SG_UNIT_micro: case SG_UNIT_mu: case SG_UNIT_nm: case SG_UNIT_pt: case SG_UNIT_rad: case SG_UNIT_sf: return 2;
    case SG_UNIT_cm: case SG_UNIT_inch: case SG_UNIT_D: return 1;
    }
    return 2;
}

static void trim(SgBuf *b, uint32_t from)
{
    bool point = false;
    for (uint32_t i = from; i < b->n; i++) point |= b->v[i] == '.';
    while (point && b->n > from && b->v[b->n - 1] == '0') b->n--;
    if (point && b->n > from && b->v[b->n - 1] == '.') b->n--;
}

static void put_figures(SgBuf *b, double x, int figures)
{
    double size = fabs(x), step = 1;
    int decimals = figures - 1;
    while (size >= 10 * step && decimals > -300) { step *= 10; decimals--; }
    while (size > 0 && size < step && decimals < 300) { step /= 10; decimals++; }
    double unit = 1;
    for (int i = 0; i < decimals; i++) unit /= 10;
    for (int i = 0; i > decimals; i--) unit *= 10;
    double rounded = sg_round_to(x, unit);
    if (fabs(rounded) >= 10 * step * (1 - 1e-12) && decimals > 0) decimals--;
    sg_put_fixed(b, rounded, decimals > 0 ? decimals : 0);
}

static SgUnit unit_for(const SgSolved *s, SgValue v)
{
    if (sg_same_dim(v.dim, SG_DIM_LENGTH)) return sg_figure_length_unit(s);
    if (sg_same_dim(v.dim, SG_DIM_ANGLE)) return SG_UNIT_degree;
    if (sg_same_dim(v.dim, SG_DIM_POWER)) return SG_UNIT_D;
    return SG_UNIT_COUNT;
}

static bool is_nought(SgStr s)
{
    for (uint32_t i = 0; i < s.n; i++) if (s.s[i] >= '1' && s.s[i] <= '9') return false;
    return true;
}

/* A half is one though arithmetic left it a little short: 0.75 is 0.8, from whatever it was worked out. */
static void put_decimals(SgBuf *b, double x, int decimals)
{
    double unit = 1;
    for (int i = 0; i < decimals; i++) unit /= 10;
    sg_put_fixed(b, fabs(x) < 1e12 * unit ? sg_round_to(x, unit) : x, decimals);
}

static SgStr number_text(SgSolved *s, SgValue v, SgUnit unit, int decimals, bool trimmed, bool figures)
{
    SgBuf b = { .arena = s->c->arena };
    double factor = unit == SG_UNIT_COUNT || unit == SG_UNIT_sf ? 1 : sg_unit_factor(unit), x = v.number / factor;
    if (figures) put_figures(&b, x, decimals);
    else put_decimals(&b, x, decimals);
    if (trimmed) trim(&b, 0);
    SgStr t = sg_buf_str(&b);
    if (t.n && t.s[0] == '-' && is_nought(t)) { t.s++; t.n--; }
    return t;
}

static bool bare_degree(SgUnit u) { return u == SG_UNIT_deg || u == SG_UNIT_degree; }

static SgStr unit_text(SgSolved *s, SgStr number, SgUnit unit, const char *space)
{
    if (unit == SG_UNIT_COUNT || unit == SG_UNIT_sf) return number;
    const char *spelling = bare_degree(unit) ? "\xC2\xB0" : sg_unit_info(unit)->spelling;
    return sg_format(s->c->arena, "%.*s%s%s", (int)number.n, number.s, bare_degree(unit) ? "" : space, spelling);
}

static SgStr not_a_number(SgSolved *s, SgValue v, const SgWording *w)
{
    if (v.state == SG_INFINITE) return w->text[SG_TEXT_at_infinity];
    if (v.state == SG_UNDEFINED) return sg_format(s->c->arena, "undefined: %s", v.why);
    if (v.state == SG_POISON) return SG_LIT("unknown");
    if (v.type == SG_TYPE_TRUTH) return w->text[v.truth ? SG_TEXT_yes : SG_TEXT_no];
    if (v.type == SG_TYPE_TEXT) return v.text;
    if (v.type == SG_TYPE_THING) return sg_name_of(s, v.thing);
    if (v.type == SG_TYPE_POINT) {
        SgStr x = sg_show(s, sg_value_number(v.point.x_mm, SG_DIM_LENGTH), SG_UNIT_COUNT, -1);
        SgStr y = sg_show(s, sg_value_number(v.point.y_mm, SG_DIM_LENGTH), SG_UNIT_COUNT, -1);
        if (!sg_str_is(w->text[SG_TEXT_decimal_mark], ",")) return sg_format(s->c->arena, "(%.*s, %.*s)", (int)x.n, x.s, (int)y.n, y.s);
        x = sg_shown_number(s->c->arena, w, x);        /* a comma cannot also part the two */
        y = sg_shown_number(s->c->arena, w, y);
        return sg_format(s->c->arena, "(%.*s; %.*s)", (int)x.n, x.s, (int)y.n, y.s);
    }
    return SG_LIT("a line");
}

/* Dimensions without a unit of their own (an area, say) are shown in the powers of mm and degree. */
static SgStr odd_unit(SgSolved *s, SgDim d)
{
    SgBuf b = { .arena = s->c->arena };
    if (d.length) sg_putf(&b, d.length == 1 ? " mm" : " mm^%d", d.length);
    if (d.angle) sg_putf(&b, d.angle == 1 ? " deg" : " deg^%d", d.angle);
    return b.n ? sg_buf_str(&b) : SG_LIT("");
}

SgStr sg_show(SgSolved *s, SgValue v, SgUnit unit, int decimals)
{
    if (v.state != SG_VALID || v.type != SG_TYPE_NUMBER) return not_a_number(s, v, &sg_wording_english);
    if (unit == SG_UNIT_COUNT) unit = unit_for(s, v);
    bool usual = decimals < 0;
    int most = decimals == -1 ? usual_decimals(unit) : usual ? -decimals - 1 : decimals;
    SgStr n = number_text(s, v, unit, most, usual, false);
    if (unit != SG_UNIT_COUNT) return unit_text(s, n, unit, " ");
    SgStr odd = odd_unit(s, v.dim);
    return sg_format(s->c->arena, "%.*s%.*s", (int)n.n, n.s, (int)odd.n, odd.s);
}

SgStr sg_show_length(SgSolved *s, double mm) { return sg_show(s, sg_value_number(mm, SG_DIM_LENGTH), SG_UNIT_COUNT, -1); }

SgStr sg_show_figure(SgSolved *s, SgValue v, const SgHoleFormat *f)
{
    if (v.state != SG_VALID || v.type != SG_TYPE_NUMBER) return not_a_number(s, v, s->wording);
    SgUnit unit = f && f->given && (!f->figures || f->unit != SG_UNIT_COUNT) ? f->unit : unit_for(s, v);
    SgStr n;
    if (f && f->given && f->figures) n = number_text(s, v, unit, (int)f->step, false, true);
    else if (f && f->given) {
        v.number = sg_round_to(v.number, f->step);
        n = number_text(s, v, unit, f->decimals, false, false);
    } else n = number_text(s, v, unit, usual_decimals(unit), true, false);
    return unit_text(s, sg_shown_number(s->c->arena, s->wording, n), unit, "\xE2\x80\x89");
}

static SgStr hole(SgSolved *s, const SgExpr *e, const SgHoleFormat *f)
{
    SgValue v = sg_eval(s, e);
    if (v.state == SG_POISON) return SG_LIT("");
    if (v.state == SG_UNDEFINED) {
        sg_wrong(s, SG_MSG_value_undefined, e->at, "this has no value: %s", v.why);
        return SG_LIT("");
    }
    if (f->given && v.state == SG_VALID) {
        SgDim step = f->unit == SG_UNIT_COUNT ? SG_DIM_NUMBER : sg_unit_info(f->unit)->dim;
        bool any = f->figures && f->unit == SG_UNIT_COUNT;
        if (v.type != SG_TYPE_NUMBER || (!any && !sg_same_dim(v.dim, step))) {
            SgStr told = v.type == SG_TYPE_NUMBER ? sg_str(sg_dim_name(v.dim)) : SG_LIT("no number");
            sg_wrong(s, SG_MSG_step_mismatch, e->at, "this is %.*s, and the rounding step after : is %s", (int)told.n, told.s, sg_dim_name(step));
            return SG_LIT("");
        }
    }
    return sg_show_figure(s, v, f);
}

SgStr sg_eval_text(SgSolved *s, const SgExpr *e)
{
    if (e->op != SG_E_TEXT) {
        SgValue v = sg_eval_as(s, e, SG_TYPE_TEXT, SG_DIM_NUMBER, "this");
        return v.state == SG_VALID ? v.text : SG_LIT("");
    }
    SgBuf b = { .arena = s->c->arena };
    sg_put_str(&b, e->piece[0]);
    for (uint32_t i = 0; i < e->nargs; i++) {
        sg_put_str(&b, hole(s, e->arg[i], &e->format[i]));
        sg_put_str(&b, e->piece[i + 1]);
    }
    return sg_buf_str(&b);
}
