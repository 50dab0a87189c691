/* The settings of a sheet and its versions. In: a model's sheet. Out: its form, and each version worked out. */
#include "sheet/build.h"
#include <math.h>

/* ISO 216 and, for letter, ANSI/ASME Y14.1 (8.5 by 11 inches). */
static const struct { const char *word; double w_mm, h_mm; } papers[] = { { "a4", 210, 297 }, { "a5", 148, 210 }, { "a3", 297, 420 }, { "letter", 215.9, 279.4 } };

SgSolved *sg_sheet_ground(SgCompile *c, const SgModel *m, const SgSheetForm *form, uint32_t version)
{
    SgScope *nothing = SG_NEW(c->arena, SgScope);
    SgFigure *figure = SG_NEW(c->arena, SgFigure);
    *figure = (SgFigure){ .name = SG_NO_SYM, .scope = nothing };
    SgSet set = { .seed = form->seed, .version = version, .versions = form->nversions, .whole = true, .file_chosen = form->file_chosen };
    return sg_solve_set(c, m, figure, NULL, 0, &set);
}

bool sg_sheet_count(SgSolved *s, const SgStatement *st, SgPhraseId id, SgCode code, uint32_t least, uint32_t most, uint32_t *n)
{
    const SgPhrase *p = sg_phrase(st, id);
    const char *word = sg_phrase_info(id)->word;
    if (!p || !p->n) return true;
    SgValue v = sg_eval_as(s, p->value[0], SG_TYPE_NUMBER, SG_DIM_NUMBER, word);
    if (v.state != SG_VALID) return false;
    if (!(v.number >= least) || v.number > most || v.number > floor(v.number)) {
        sg_wrong(s, code, p->value[0]->at, "`%s` is a whole number from %u to %u", word, least, most);
        return false;
    }
    *n = (uint32_t)v.number;
    return true;
}

bool sg_sheet_length(SgSolved *s, const SgStatement *st, SgPhraseId id, SgCode code, double most_mm, double *mm)
{
    const SgPhrase *p = sg_phrase(st, id);
    const char *word = sg_phrase_info(id)->word;
    if (!p || !p->n) return true;
    SgValue v = sg_eval_as(s, p->value[0], SG_TYPE_NUMBER, SG_DIM_LENGTH, word);
    if (v.state != SG_VALID) return false;
    if (!(v.number >= 0) || v.number > most_mm) {
        SgStr most = sg_show_length(s, most_mm);
        sg_wrong(s, code, p->value[0]->at, "`%s` is a length on paper from 0 to %.*s", word, (int)most.n, most.s);
        return false;
    }
    *mm = v.number;
    return true;
}

static bool read_paper(SgSolved *s, const SgStatement *st, SgSheetForm *form)
{
    const SgPhrase *p = sg_phrase(st, SG_PHRASE_sheet_paper);
    uint32_t k = 0;
    while (p && p->n && k < 4 && !sg_word_is(s, p->value[0], papers[k].word)) k++;
    if (k == 4) { sg_wrong(s, SG_MSG_sheet_form, p->value[0]->at, "`paper` takes one of the words a4, a5, a3, letter"); return false; }
    bool lying = sg_phrase(st, SG_PHRASE_sheet_landscape) != NULL;
    form->width_mm = lying ? papers[k].h_mm : papers[k].w_mm;
    form->height_mm = lying ? papers[k].w_mm : papers[k].h_mm;
    double shorter = lying ? form->height_mm : form->width_mm;
    form->margin_mm = 15;
    form->check_bar_mm = 100;
    return sg_sheet_length(s, st, SG_PHRASE_sheet_margin, SG_MSG_sheet_form, shorter / 4, &form->margin_mm)
        && sg_sheet_length(s, st, SG_PHRASE_sheet_check_bar, SG_MSG_sheet_form, shorter / 2, &form->check_bar_mm);
}

static bool read_rulers(SgSolved *s, const SgStatement *st, SgSheetForm *form)
{
    static const char *const word[] = { "none", "cm", "inch" };
    const SgPhrase *p = sg_phrase(st, SG_PHRASE_sheet_rulers);
    if (!p || !p->n) return true;
    for (int k = 0; k < 3; k++) if (sg_word_is(s, p->value[0], word[k])) { form->rulers = (SgRulers)k; return true; }
    sg_wrong(s, SG_MSG_sheet_form, p->value[0]->at, "`rulers` takes one of the words cm, inch, none");
    return false;
}

static bool read_heading(SgSolved *s, const SgStatement *st, SgSheetForm *form)
{
    static const struct { const char *word; SgTextId text; } field[] = { { "name", SG_TEXT_sheet_name }, { "class", SG_TEXT_sheet_class }, { "date", SG_TEXT_sheet_date } };
    const SgPhrase *p = sg_phrase(st, SG_PHRASE_sheet_heading);
    SgStr *heading = SG_ARRAY(s->c->arena, SgStr, (p ? p->n : 0) + 1);
    for (uint32_t i = 0; p && i < p->n; i++) {
        int k = 0;
        while (k < 3 && !sg_word_is(s, p->value[i], field[k].word)) k++;
        if (k < 3) heading[i] = s->wording->text[field[k].text];
        else if (p->value[i]->op == SG_E_TEXT) heading[i] = sg_eval_text(s, p->value[i]);
        else { sg_wrong(s, SG_MSG_sheet_form, p->value[i]->at, "`heading` takes the words name, class, date, or texts in quotes"); return false; }
    }
    form->heading = heading;
    form->nheading = p ? p->n : 0;
    return true;
}

static bool read_seed(SgSolved *s, const SgStatement *st, SgSheetForm *form, const char *seed)
{
    const SgPhrase *p = sg_phrase(st, SG_PHRASE_sheet_seed);
    form->seed = seed ? sg_str(seed) : SG_LIT("");
    if (seed || !p || !p->n) return true;
    SgValue v = sg_eval_as(s, p->value[0], SG_TYPE_TEXT, SG_DIM_NUMBER, "seed");
    if (v.state != SG_VALID) return false;
    form->seed = v.text;
    return true;
}

static bool read_angle(SgSolved *s, const SgStatement *st, SgPhraseId id, double *deg)
{
    const SgPhrase *p = sg_phrase(st, id);
    const char *word = sg_phrase_info(id)->word;
    if (!p || !p->n) return true;
    SgValue v = sg_eval_as(s, p->value[0], SG_TYPE_NUMBER, SG_DIM_ANGLE, word);
    if (v.state != SG_VALID) return false;
    *deg = v.number;
    if (v.number >= 0 && v.number <= 20) return true;
    sg_wrong(s, SG_MSG_sheet_form, p->value[0]->at, "`%s` is an angle from 0 to 20 deg", word);
    return false;
}

/* What a hand may be off by (common practice of marking; no single source). */
static bool read_hand(SgSolved *s, const SgStatement *st, SgSheetForm *form)
{
    enum { MOST_MM = 20 };
    form->laid_mm = 0.25;
    form->read_mm = form->least_length_mm = form->turned_deg = form->least_angle_deg = 1;
    return sg_sheet_length(s, st, SG_PHRASE_sheet_laid_within, SG_MSG_sheet_form, MOST_MM, &form->laid_mm)
        && sg_sheet_length(s, st, SG_PHRASE_sheet_read_within, SG_MSG_sheet_form, MOST_MM, &form->read_mm)
        && sg_sheet_length(s, st, SG_PHRASE_sheet_least_length, SG_MSG_sheet_form, MOST_MM, &form->least_length_mm)
        && read_angle(s, st, SG_PHRASE_sheet_turned_within, &form->turned_deg) && read_angle(s, st, SG_PHRASE_sheet_least_angle, &form->least_angle_deg);
}

SgSheetForm *sg_sheet_form(SgCompile *c, const SgModel *m, const SgSheet *sheet, const char *seed)
{
    SgSheetForm *form = SG_NEW(c->arena, SgSheetForm);
    const SgStatement *st = &sheet->statement;
    *form = (SgSheetForm){ .seed = SG_LIT(""), .columns = 1, .nversions = 1 };
    if (st->name != SG_NO_SYM) form->name = sg_names_str(&c->names, st->name);
    uint32_t before = sg_errors(c);
    SgSolved *s = sg_sheet_ground(c, m, form, 0);
    form->wording = s->wording;
    form->experiment = sg_phrase(st, SG_PHRASE_sheet_experiment) != NULL;
    bool sound = !s->broken && sg_errors(c) == before
        && sg_sheet_count(s, st, SG_PHRASE_sheet_versions, SG_MSG_sheet_form, 1, SG_MAX_VERSIONS, &form->nversions)
        && sg_sheet_count(s, st, SG_PHRASE_sheet_columns, SG_MSG_sheet_form, 1, 3, &form->columns)
        && read_seed(s, st, form, seed) && read_paper(s, st, form) && read_hand(s, st, form) && read_rulers(s, st, form) && read_heading(s, st, form);
    form->version = SG_ARRAY(c->arena, SgSheetVersion, SG_MAX_VERSIONS);
    form->chosen = SG_ARRAY(c->arena, const double *, sheet->nproblems + 1);
    return sound ? form : NULL;
}

SgSolved *sg_sheet_solve(SgCompile *c, const SgModel *m, const SgSheet *sheet, SgSheetForm *form, uint32_t problem, uint32_t version)
{
    const SgProblem *p = &sheet->problem[problem];
    SgStr name = p->statement.name == SG_NO_SYM ? SG_LIT("") : sg_names_str(&c->names, p->statement.name);
    SgSet set = { .seed = form->seed, .version = version, .versions = form->nversions, .whole = true, .chosen = form->chosen[problem], .file_chosen = form->file_chosen };
    set.convention = sheet->convention;
    set.name = sg_format(c->arena, "%.*s.%.*s", (int)form->name.n, form->name.s, (int)name.n, name.s);
    if (p->figure == SG_NO_FIGURE) return NULL;
    SgSolved *s = sg_solve_set(c, m, &m->figure[p->figure], NULL, 0, &set);
    form->chosen[problem] = s->set.chosen;
    form->file_chosen = s->set.file_chosen;
    return s;
}

static SgStr text_of(SgSolved *s, const SgExpr *e) { return e ? sg_eval_text(s, e) : SG_LIT(""); }

bool sg_sheet_version(SgCompile *c, const SgModel *m, const SgSheet *sheet, SgSheetForm *form, uint32_t version)
{
    SgSheetVersion *v = &form->version[version];
    SgSolved *ground = sg_sheet_ground(c, m, form, version);
    const SgPhrase *footer = sg_phrase(&sheet->statement, SG_PHRASE_sheet_footer);
    form->file_chosen = ground->set.file_chosen;
    *v = (SgSheetVersion){ .c = c, .sheet = sheet, .letter = (char)('A' + version), .nproblems = sheet->nproblems };
    v->problem = SG_ARRAY(c->arena, SgSheetProblem, sheet->nproblems + 1);
    v->title = text_of(ground, sheet->statement.caption);
    v->footer = text_of(ground, footer && footer->n ? footer->value[0] : NULL);
    bool sound = !ground->broken;
    form->marks = 0;
    for (uint32_t i = 0; i < sheet->nproblems && sound; i++) {
        SgSheetProblem *p = &v->problem[i];
        *p = (SgSheetProblem){ .number = i + 1, .solved = sg_sheet_solve(c, m, sheet, form, i, version) };
        sound = (!p->solved || !p->solved->broken) && sg_sheet_problem(p->solved ? p->solved : ground, form, &sheet->problem[i], p);
        form->marks += p->marks;
    }
    return sound && sg_errors(c) == 0;
}
