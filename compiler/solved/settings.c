/* Settings and demands: which model, which way light runs, how large on paper; what must hold when all is solved.
   In: statements of the figure, else of the file. Out: fields of the solved figure, messages. */
#include "solved/value.h"
#include "base/num.h"
#include <math.h>

/* A setting of the figure, or of the file it is written in; NULL when neither has it. */
const SgStatement *sg_setting(const SgSolved *s, SgKind kind)
{
    const SgScope *scopes[] = { s->figure->scope, &s->model->file };
    for (int k = 0; k < 2; k++)
        for (uint32_t i = 0; i < scopes[k]->nstatements; i++)
            if (scopes[k]->statement[i].kind == kind && scopes[k]->statement[i].head_at.file == s->figure->home) return &scopes[k]->statement[i];
    return NULL;
}

static bool plain(SgSolved *s, const SgExpr *e, double *x)
{
    SgValue v = sg_eval(s, e);
    if (v.state == SG_POISON) return false;
    *x = v.number;
    return v.state == SG_VALID && v.type == SG_TYPE_NUMBER && sg_same_dim(v.dim, SG_DIM_NUMBER) && v.number > 0;
}

/* "1:10" as paper over scene; *words told as it is printed. */
static bool ratio(SgSolved *s, const SgExpr *e, double *k, SgStr *words)
{
    double paper, scene;
    if (e->op == SG_E_RATIO && e->nargs == 2 && plain(s, e->arg[0], &paper) && plain(s, e->arg[1], &scene) && paper / scene > 1e-9 && paper / scene < 1e9) {
        SgBuf b = { .arena = s->c->arena };
        sg_put_full(&b, paper);
        sg_puts(&b, "\xE2\x80\x89:\xE2\x80\x89");
        sg_put_full(&b, scene);
        *k = paper / scene;
        *words = sg_shown_number(s->c->arena, s->wording, sg_buf_str(&b));
        return true;
    }
    sg_wrong(s, SG_MSG_scale_form, e->at, "a scale is paper to scene; write 1:10 for ten times smaller, or 3:1 for three times larger");
    return false;
}

static void read_scale(SgSolved *s, const SgStatement *st)
{
    const SgPhrase *along = sg_phrase(st, SG_PHRASE_scale_along), *up = sg_phrase(st, SG_PHRASE_scale_up);
    SgStr a, b;
    if (sg_phrase(st, SG_PHRASE_scale_none)) {
        s->to_scale = false;
        s->scale_words = s->wording->text[SG_TEXT_not_to_scale];
        return;
    }
    if (st->definition && ratio(s, st->definition, &s->along, &a)) {
        s->up = s->along;
        if (s->along < 1 || s->along > 1) s->scale_words = SG_FILLED(s->c->arena, s->wording, SG_TEXT_scale, { "ratio", a });
    } else if (along && up && along->n && up->n) {
        if (!ratio(s, along->value[0], &s->along, &a) || !ratio(s, up->value[0], &s->up, &b)) return;
        s->scale_words = SG_FILLED(s->c->arena, s->wording, SG_TEXT_scale_two, { "along", a }, { "up", b });
    } else if (!st->definition && !st->damaged)
        sg_wrong(s, SG_MSG_scale_form, st->head_at, "write `scale 1:10`, or both `along 1:10` and `up 1:2`, or `scale none`");
}

static void read_exaggeration(SgSolved *s, const SgStatement *st)
{
    double times;
    if (!st->definition) {
        if (!st->damaged) sg_wrong(s, SG_MSG_scale_form, st->head_at, "write how many times larger heights are drawn: exaggerated 6");
        return;
    }
    if (!plain(s, st->definition, &times) || times > 1e6) {
        sg_wrong(s, SG_MSG_scale_form, st->definition->at, "an exaggeration is a plain number, such as exaggerated 6");
        return;
    }
    s->up *= times;
    SgStr n = sg_show_figure(s, sg_value_number(times, SG_DIM_NUMBER), NULL);
    SgStr heights = SG_FILLED(s->c->arena, s->wording, SG_TEXT_heights_drawn, { "times", n });
    s->scale_words = s->scale_words.n ? SG_FILLED(s->c->arena, s->wording, SG_TEXT_scale_and_heights, { "scale", s->scale_words }, { "heights", heights }) : heights;
}

static const SgWording *wording_of(SgSolved *s)
{
    static const struct { SgPhraseId id; const SgWording *texts; } built_in[] = {
        { SG_PHRASE_wording_english, &sg_wording_english }, { SG_PHRASE_wording_german, &sg_wording_german },
        { SG_PHRASE_wording_french, &sg_wording_french }, { SG_PHRASE_wording_spanish, &sg_wording_spanish },
    };
    const SgStatement *st = s->model->english ? NULL : sg_setting(s, SG_KIND_wording);
    if (!st) return &sg_wording_english;
    for (size_t i = 0; i < sizeof built_in / sizeof *built_in; i++)
        if (sg_phrase(st, built_in[i].id) && !st->caption) return built_in[i].texts;
    const SgModelFile *file = &s->model->source[st->at.file];
    for (uint32_t i = 0; i < file->nwordings; i++) if (file->wording[i].at.start == st->at.start && !st->nphrases) return file->wording[i].texts;
    if (!st->damaged && (!st->caption || st->nphrases))
        sg_wrong(s, SG_MSG_wording_form, st->head_at, "write one language, such as `wording german`, or one file in quotes");
    return &sg_wording_english;
}

void sg_read_settings(SgSolved *s)
{
    const SgStatement *m = sg_setting(s, SG_KIND_model), *light = sg_setting(s, SG_KIND_light), *scale = sg_setting(s, SG_KIND_scale);
    const SgStatement *exaggerated = sg_setting(s, SG_KIND_exaggerated);
    s->light = sg_pt(light && sg_phrase(light, SG_PHRASE_light_leftward) ? -1 : 1, 0);
    s->by_rule = m && sg_phrase(m, SG_PHRASE_model_by_rule);
    s->wording = wording_of(s);
    sg_read_convention(s);
    sg_read_caution(s);
    s->along = s->up = 1;
    s->to_scale = true;
    s->scale_words = SG_LIT("");
    if (scale) read_scale(s, scale);
    if (exaggerated) read_exaggeration(s, exaggerated);
    const SgPhrase *exact = m ? sg_phrase(m, SG_PHRASE_model_exact) : NULL;
    if (exact) sg_wrong(s, SG_MSG_model_missing, exact->at, "`model exact` is not there yet; take the line away, or write `model paraxial`");
    if (s->by_rule && (s->along < s->up || s->along > s->up))
        sg_wrong(s, SG_MSG_scale_unequal, m->head_at, "rules on the drawn arc need equal scales along and up; write one scale, or `model paraxial`");
}

/* ---- demands ---- */

/* Both sides of a simple comparison, in words; empty for anything longer. */
static SgStr sides(SgSolved *s, const SgExpr *e)
{
    if (e->op == SG_E_CALL && e->function == SG_FUNCTION_inside) return SG_LIT(": it reaches out of the frame");
    if (e->op != SG_E_CHAIN || e->nargs != 2) return SG_LIT("");
    SgStr a = sg_show(s, sg_eval(s, e->arg[0]), SG_UNIT_COUNT, -1), b = sg_show(s, sg_eval(s, e->arg[1]), SG_UNIT_COUNT, -1);
    return sg_format(s->c->arena, ": on its left is %.*s, on its right %.*s", (int)a.n, a.s, (int)b.n, b.s);
}

bool sg_demand_holds(SgSolved *s, const SgStatement *st)
{
    SgValue v = sg_eval(s, st->definition);
    if (v.state == SG_VALID && v.type != SG_TYPE_TRUTH) {
        SgStr told = sg_value_told(s, v);
        sg_wrong(s, SG_MSG_type_wrong, st->definition->at, "`require` needs a condition, such as flame.real or u > 2 cm, and this is %.*s", (int)told.n, told.s);
        return false;
    }
    return v.state == SG_VALID && v.truth;
}

static void demand(SgSolved *s, const SgStatement *st)
{
    if (!st->definition || sg_demand_holds(s, st) || sg_phrase(st, SG_PHRASE_require_at_least) || sg_phrase(st, SG_PHRASE_require_at_most)) return;
    SgValue v = sg_eval(s, st->definition);
    if (v.state == SG_POISON || (v.state == SG_VALID && v.type != SG_TYPE_TRUTH)) return;
    SgStr reason = st->caption ? sg_eval_text(s, st->caption) : SG_LIT(""), both = sides(s, st->definition);
    if (v.state == SG_UNDEFINED) sg_wrong(s, SG_MSG_require_unmet, st->definition->at, "%.*s%sthis cannot be told: %s", (int)reason.n, reason.s, reason.n ? "; " : "", v.why);
    else if (reason.n) sg_wrong(s, SG_MSG_require_unmet, st->definition->at, "%.*s%.*s", (int)reason.n, reason.s, (int)both.n, both.s);
    else sg_wrong(s, SG_MSG_require_unmet, st->definition->at, "this does not hold%.*s; change what it depends on, or the demand", (int)both.n, both.s);
}

static void expectation(SgSolved *s, const SgStatement *st)
{
    const SgExpr *e = st->definition;
    if (!e) return;
    if (e->op != SG_E_CHAIN || e->nargs != 2 || e->relation[1] != '=') {
        sg_wrong(s, SG_MSG_type_wrong, e->at, "`expect` needs one value and one = sign: expect flame.distance = 6 cm; a condition stands after `require`");
        return;
    }
    SgValue a = sg_eval(s, e->arg[0]), b = sg_eval(s, e->arg[1]), same = sg_value_compare(s, e->at, '=', a, b);
    const SgPhrase *within = sg_phrase(st, SG_PHRASE_expect_within);
    if (same.state == SG_POISON || (same.state == SG_VALID && same.truth)) return;
    SgValue slack = within && within->n ? sg_eval(s, within->value[0]) : sg_value_number(0, a.dim);
    bool numbers = a.state == SG_VALID && b.state == SG_VALID && a.type == SG_TYPE_NUMBER && b.type == SG_TYPE_NUMBER;
    if (slack.state == SG_POISON) return;
    if (numbers && within && (slack.type != SG_TYPE_NUMBER || slack.state != SG_VALID || !sg_same_dim(slack.dim, a.dim))) {
        sg_wrong(s, SG_MSG_type_wrong, within->value[0]->at, "`within` needs %s, as on both sides of the = sign", sg_dim_name(a.dim));
        return;
    }
    if (numbers && fabs(a.number - b.number) <= slack.number * (1 + 1e-9)) return;
    SgStr x = sg_show(s, a, SG_UNIT_COUNT, -7), y = sg_show(s, b, SG_UNIT_COUNT, -7);
    sg_wrong(s, SG_MSG_expect_unmet, e->at, "this is %.*s, and %.*s was expected; change one of them, or allow more with `within`", (int)x.n, x.s, (int)y.n, y.s);
}

void sg_check_demands(SgSolved *s)
{
    const SgScope *scopes[] = { s->figure->scope, &s->model->file };
    if (s->broken || sg_errors(s->c) || s->set.nmistakes) return;         /* an earlier mistake may be why */
    for (int k = 0; k < 2; k++)
        for (uint32_t i = 0; i < scopes[k]->nstatements; i++) {
            const SgStatement *st = &scopes[k]->statement[i];
            if (st->kind == SG_KIND_require) demand(s, st);
            if (st->kind == SG_KIND_expect) expectation(s, st);
        }
}
