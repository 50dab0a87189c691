/* One problem in one version. In: its phrases and its solved figure. Out: texts, marks, room, choices, the values asked for. */
#include "sheet/build.h"

static bool wrong(SgSolved *s, SgSpan at, const char *what)
{
    sg_wrong(s, SG_MSG_problem_form, at, "%s", what);
    return false;
}

static bool read_room(SgSolved *s, const SgStatement *st, SgSheetProblem *p)
{
    enum { MOST_LINES = 60, MOST_MM = 400 };
    if (!sg_sheet_count(s, st, SG_PHRASE_problem_lines, SG_MSG_problem_form, 0, MOST_LINES, &p->lines)
        || !sg_sheet_length(s, st, SG_PHRASE_problem_box, SG_MSG_problem_form, MOST_MM, &p->room_mm)
        || !sg_sheet_length(s, st, SG_PHRASE_problem_squared, SG_MSG_problem_form, MOST_MM, &p->room_mm)) return false;
    if (p->lines) p->room = SG_ROOM_LINES;
    else if (p->room_mm > 0) p->room = sg_phrase(st, SG_PHRASE_problem_box) ? SG_ROOM_BOX : SG_ROOM_SQUARED;
    return true;
}

/* The right one stands first in the script; each version has an order of its own, by the hash of each text. */
static bool read_choices(SgSolved *s, const SgSheetForm *form, const SgStatement *st, SgSheetProblem *p)
{
    const SgPhrase *c = sg_phrase(st, SG_PHRASE_problem_choose);
    if (!c || !c->n) return true;
    char letter = (char)('A' + s->set.version);
    SgStr *text = SG_ARRAY(s->c->arena, SgStr, c->n);
    uint64_t *hash = SG_ARRAY(s->c->arena, uint64_t, c->n);
    for (uint32_t i = 0; i < c->n; i++) {
        SgValue v = sg_eval_as(s, c->value[i], SG_TYPE_TEXT, SG_DIM_NUMBER, "choose");
        if (v.state != SG_VALID) return false;
        SgStr part[] = { form->seed, form->name, { &letter, 1 }, p->name, v.text };
        uint64_t h = sg_pick_hash(part, 5);
        for (uint32_t k = 0; k < i; k++)
            if (sg_str_same(text[k], v.text)) {
                sg_wrong(s, SG_MSG_choice_twice, c->value[i]->at, "in version %c this reads as another choice does: %.*s; make them differ in every version", letter, (int)v.text.n, v.text.s);
                return false;
            }
        uint32_t k = i;
        for (; k && hash[k - 1] > h; k--) { hash[k] = hash[k - 1]; text[k] = text[k - 1]; }
        hash[k] = h;
        text[k] = v.text;
        if (i == 0) p->right = 0;
        else if (k <= p->right) p->right++;
    }
    p->choice = text;
    p->nchoices = c->n;
    return true;
}

static bool read_asked(SgSolved *s, const SgStatement *st, SgSheetProblem *p)
{
    const SgPhrase *asks = sg_phrase(st, SG_PHRASE_problem_asks);
    if (!asks) return true;
    p->asked = SG_ARRAY(s->c->arena, SgAsked, asks->n + 1);
    for (uint32_t i = 0; i < asks->n; i++) {
        const SgExpr *e = asks->value[i];
        SgValue v = sg_eval(s, e);
        if (v.state == SG_POISON) return false;
        if (v.type != SG_TYPE_NUMBER && v.type != SG_TYPE_TRUTH && v.type != SG_TYPE_TEXT) return wrong(s, e->at, "`asks` takes values: lengths, angles, numbers, yes or no, or words, such as flame.distance or flame.nature");
        if (v.state == SG_UNDEFINED) {
            sg_wrong(s, SG_MSG_value_undefined, e->at, "in version %c this has no value: %s", (char)('A' + s->set.version), v.why);
            return false;
        }
        p->asked[p->nasked++] = (SgAsked){ .expression = e, .words = sg_source_words(s->c, e->at), .value = v };
    }
    return true;
}

static bool is_mistake(SgSolved *s, const SgExpr *e)
{
    if (e->op == SG_E_SYMBOL && !e->in_file && s->figure->scope->symbol[e->symbol].kind == SG_KIND_mistake) return true;
    return e->op == SG_E_POISON ? false : wrong(s, e->at, "here stand names of mistakes of the figure, declared there as: mistake m of a wrong_side");
}

static SgSolved *with_mistakes(SgSolved *s, const uint32_t *symbol, uint32_t n)
{
    SgSet set = s->set;
    set.mistake = symbol;
    set.nmistakes = n;
    return sg_solve_set(s->c, s->model, s->figure, NULL, 0, &set);
}

/* The figure once more, with the mistakes that the problem shows. */
static bool read_shown(SgSolved *s, const SgStatement *st, SgSheetProblem *p)
{
    const SgPhrase *shows = sg_phrase(st, SG_PHRASE_problem_shows);
    if (!shows || !shows->n) return true;
    if (!p->solved) return wrong(s, shows->at, "`shows` names mistakes of a figure, and this problem has none");
    uint32_t *symbol = SG_ARRAY(s->c->arena, uint32_t, shows->n);
    SgStr *words = SG_ARRAY(s->c->arena, SgStr, shows->n);
    for (uint32_t i = 0; i < shows->n; i++) {
        if (!is_mistake(s, shows->value[i])) return false;
        symbol[i] = shows->value[i]->symbol;
        words[i] = sg_mistake_words(s, symbol[i]);
    }
    p->shown = with_mistakes(s, symbol, shows->n);
    p->mistake = words;
    p->nmistakes = shows->n;
    return !p->shown->broken;
}

/* The right drawing and one with each mistake, by the hash of its name (the right one's is empty). */
static bool read_among(SgSolved *s, const SgSheetForm *form, const SgStatement *st, SgSheetProblem *p)
{
    const SgPhrase *among = sg_phrase(st, SG_PHRASE_problem_among);
    char letter = (char)('A' + s->set.version);
    if (!among || !among->n) return true;
    if (!p->solved || p->shown) return wrong(s, among->at, "`among` takes a figure's right drawing and its mistakes; give the problem a figure, and take `shows` away");
    SgDrawing *drawing = SG_ARRAY(s->c->arena, SgDrawing, among->n + 1);
    uint64_t hash[8];
    for (uint32_t i = 0; i <= among->n && i < 8; i++) {
        const SgExpr *e = i ? among->value[i - 1] : NULL;
        if (e && !is_mistake(s, e)) return false;
        uint32_t *symbol = SG_NEW(s->c->arena, uint32_t);
        if (e) *symbol = e->symbol;
        SgStr part[] = { form->seed, form->name, { &letter, 1 }, p->name, e ? sg_name_of(s, e->symbol) : SG_LIT("") };
        SgDrawing one = { e ? with_mistakes(s, symbol, 1) : p->solved, e ? sg_mistake_words(s, e->symbol) : SG_LIT("") };
        uint64_t h = sg_pick_hash(part, 5);
        uint32_t k = i;
        if (one.solved->broken) return false;
        for (; k && hash[k - 1] > h; k--) { hash[k] = hash[k - 1]; drawing[k] = drawing[k - 1]; }
        hash[k] = h;
        drawing[k] = one;
    }
    p->drawing = drawing;
    p->ndrawings = among->n + 1;
    while (drawing[p->right_drawing].mistake.n) p->right_drawing++;
    return true;
}

bool sg_sheet_problem(SgSolved *s, const SgSheetForm *form, const SgProblem *from, SgSheetProblem *p)
{
    const SgStatement *st = &from->statement;
    const SgPhrase *answer = sg_phrase(st, SG_PHRASE_problem_model_answer), *given = sg_phrase(st, SG_PHRASE_problem_given_up_to);
    uint32_t most = p->solved ? p->solved->figure->nsteps : 0, before = sg_errors(s->c);
    p->name = st->name == SG_NO_SYM ? SG_LIT("") : sg_names_str(&s->c->names, st->name);
    p->question = st->caption ? sg_eval_text(s, st->caption) : SG_LIT("");
    p->model_answer = answer && answer->n ? sg_eval_text(s, answer->value[0]) : SG_LIT("");
    p->new_page = sg_phrase(st, SG_PHRASE_problem_new_page) != NULL;
    p->figures = 2;
    p->ground = s;
    if (given && !p->solved) return wrong(s, given->at, "`given_up_to` counts the steps of a figure, and this problem has none");
    bool sound = sg_sheet_count(s, st, SG_PHRASE_problem_marks, SG_MSG_problem_form, 0, 100, &p->marks)
        && sg_sheet_count(s, st, SG_PHRASE_problem_figures, SG_MSG_problem_form, 1, 6, &p->figures)
        && sg_sheet_count(s, st, SG_PHRASE_problem_given_up_to, SG_MSG_problem_form, 0, most, &p->given_up_to)
        && read_room(s, st, p) && read_choices(s, form, st, p) && read_shown(s, st, p) && read_among(s, form, st, p) && read_asked(s, st, p) && sg_errors(s->c) == before;
    if (sound && p->solved) sg_sheet_told(s, st, p);
    if (sound) sg_sheet_accept(s, form, p);
    if (sound && p->solved) sg_sheet_work(s, p);
    return sound;
}
