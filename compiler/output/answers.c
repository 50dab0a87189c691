/* output: the answers of a sheet.
   in     a sheet worked out in all its versions.
   out    a table for people and CSV for a mark book, both in the language of the sheet, JSON for programs; all in the order of the
          sheet.
   never  says a message or lays out a page. */
#include "output/answers.h"
#include "base/num.h"
#include "layout/shape.h"

/* What a number is told in: the figure's unit of length, degrees, dioptres; SG_UNIT_COUNT for a plain number. */
static SgUnit unit_of(const SgSolved *s, SgDim dim)
{
    if (dim.length == 1 && dim.angle == 0) return sg_figure_length_unit(s);
    if (dim.length == 0 && dim.angle == 1) return SG_UNIT_deg;
    if (dim.length == -1 && dim.angle == 0) return SG_UNIT_D;
    return SG_UNIT_COUNT;
}

static double in_unit(double canonical, SgUnit unit) { return unit == SG_UNIT_COUNT ? canonical : canonical / sg_unit_factor(unit); }
static const char *spelling(SgUnit unit) { return unit == SG_UNIT_COUNT ? "" : sg_unit_info(unit)->spelling; }

/* One answer: a value asked for, or a choice, or words. */
typedef struct {
    const SgSheetVersion *version; const SgSheetProblem *problem;
    const SgAsked *asked;          /* NULL: a choice, mistakes or words */
    bool choice, mistake;
} Answer;
typedef struct { SgArena *arena; SG_VEC(Answer) v; } Answers;

/* shown: with the signs of the convention, else geometry. */
static Answers answers_of(const SgSheetForm *form, bool shown)
{
    Answers all = { .arena = form->version[0].c->arena };
    for (uint32_t k = 0; k < form->nversions; k++)
        for (uint32_t i = 0; i < form->version[k].nproblems; i++) {
            const SgSheetProblem *p = &form->version[k].problem[i];
            for (uint32_t a = 0; a < p->nasked; a++) {
                SgAsked *asked = SG_NEW(all.arena, SgAsked);
                *asked = shown && p->solved != NULL ? sg_sheet_shown(p->solved, &p->asked[a]) : p->asked[a];
                Answer one = { &form->version[k], p, asked, false, false };
                SG_PUSH(all.arena, &all.v, one);
            }
            Answer one = { &form->version[k], p, NULL, true, false };
            if (p->nchoices > 0 || p->ndrawings > 0) SG_PUSH(all.arena, &all.v, one);
            one.choice = false;
            one.mistake = true;
            if (p->nmistakes > 0) SG_PUSH(all.arena, &all.v, one);
            one.mistake = false;
            if (p->model_answer.n > 0) SG_PUSH(all.arena, &all.v, one);
        }
    return all;
}

static bool is_number(const Answer *a) { return a->asked != NULL && a->asked->value.state == SG_VALID && a->asked->value.type == SG_TYPE_NUMBER; }

/* How a list writes: the words of the language, or English for programs; what parts the cells of CSV. */
typedef struct { SgArena *arena; const SgWording *w; char between; } Form;

/* With the decimal mark of the language, and a plain minus, which terminals and spreadsheets take. */
static SgStr number_text(const Form *f, const SgBuf *number)
{
    SgBuf b = { .arena = f->arena };
    for (uint32_t i = 0; i < number->n; i++) {
        if (number->v[i] == '.') sg_put_str(&b, f->w->text[SG_TEXT_decimal_mark]);
        else sg_put_char(&b, number->v[i]);
    }
    return sg_buf_str(&b);
}

/* The answer without its unit. */
static SgStr value_text(const Form *f, const Answer *a)
{
    const SgSheetProblem *p = a->problem;
    SgBuf b = { .arena = f->arena };
    if (a->asked == NULL && a->choice) return sg_format(f->arena, "%c", (char)('A' + (p->ndrawings > 0 ? p->right_drawing : p->right)));
    if (a->mistake) {
        SgStr all = SG_LIT("");
        for (uint32_t i = 0; i < p->nmistakes; i++) all = sg_joined(f->arena, f->w, all, sg_plain(f->arena, p->mistake[i]));
        return all;
    }
    if (a->asked == NULL) return sg_plain(f->arena, p->model_answer);
    SgValue v = a->asked->value;
    if (v.state == SG_INFINITE) return f->w->text[SG_TEXT_at_infinity];
    if (v.type == SG_TYPE_TRUTH) return f->w->text[v.truth ? SG_TEXT_yes : SG_TEXT_no];
    if (v.type == SG_TYPE_TEXT) return sg_plain(f->arena, v.text);
    sg_put_full(&b, in_unit(v.number, unit_of(p->ground, v.dim)));
    return number_text(f, &b);
}

/* From and to of an interval in the value's unit, to three decimals; false when there is none. */
static bool interval(const Form *f, const Answer *a, const SgAccept *accept, SgStr *from, SgStr *to)
{
    SgUnit unit = unit_of(a->problem->ground, a->asked->value.dim);
    SgBuf low = { .arena = f->arena }, high = { .arena = f->arena };
    if (!accept->told) return false;
    sg_put_mm3(&low, in_unit(accept->from, unit));
    sg_put_mm3(&high, in_unit(accept->to, unit));
    *from = number_text(f, &low);
    *to = number_text(f, &high);
    return true;
}

static SgStr asked_text(const Form *f, const Answer *a)
{
    return a->asked != NULL ? a->asked->words : f->w->text[a->choice ? SG_TEXT_answers_choice : a->mistake ? SG_TEXT_answers_mistake : SG_TEXT_answers_words];
}

/* ---- for people ---- */

static void put_row(SgBuf *out, const Form *f, const Answer *a)
{
    static const SgTextId how[] = { SG_TEXT_sheet_drawn, SG_TEXT_sheet_calculated };
    SgStr asked = asked_text(f, a), value = value_text(f, a), from, to;
    sg_putf(out, "  %u %.*s  %.*s  %.*s", (unsigned)a->problem->number, (int)a->problem->name.n, a->problem->name.s, (int)asked.n, asked.s, (int)value.n, value.s);
    if (is_number(a) && unit_of(a->problem->ground, a->asked->value.dim) != SG_UNIT_COUNT) sg_putf(out, " %s", spelling(unit_of(a->problem->ground, a->asked->value.dim)));
    for (int k = 0; is_number(a) && k < 2; k++) {
        if (!interval(f, a, k == 0 ? &a->asked->drawn : &a->asked->calculated, &from, &to)) continue;
        sg_puts(out, "  ");
        SG_PUT_FILLED(out, f->w, how[k], { "from", from }, { "to", to });
    }
    sg_put_char(out, '\n');
}

void sg_output_answers(const SgSheetForm *form, SgBuf *out)
{
    Answers all = answers_of(form, true);
    Form f = { .arena = all.arena, .w = form->wording };
    const SgSheetVersion *last = NULL;
    for (uint32_t i = 0; i < all.v.n; i++) {
        const Answer *a = &all.v.v[i];
        if (a->version != last) {
            SgStr title = sg_plain(all.arena, a->version->title);
            if (last != NULL) sg_put_char(out, '\n');
            SG_PUT_FILLED(out, f.w, SG_TEXT_answers_version, { "set", sg_format(all.arena, "%c", a->version->letter) });
            sg_putf(out, "%s%.*s\n", title.n > 0 ? ": " : "", (int)title.n, title.s);
            last = a->version;
        }
        put_row(out, &f, a);
    }
}

/* ---- CSV ---- */

/* A cell and what parts it from the next. */
static void put_cell(SgBuf *out, const Form *f, SgStr text, bool last)
{
    bool plain = true;
    for (uint32_t i = 0; i < text.n; i++) plain = plain && text.s[i] != f->between && text.s[i] != '"' && text.s[i] != '\n' && text.s[i] != '\r';
    if (!plain) sg_put_char(out, '"');
    for (uint32_t i = 0; i < text.n; i++) {
        if (text.s[i] == '"') sg_put_char(out, '"');
        sg_put_char(out, text.s[i]);
    }
    if (!plain) sg_put_char(out, '"');
    if (last) sg_puts(out, "\r\n");
    else sg_put_char(out, f->between);
}

static void put_intervals(SgBuf *out, const Form *f, const Answer *a)
{
    for (int k = 0; k < 2; k++) {
        SgStr from = SG_LIT(""), to = SG_LIT("");
        if (is_number(a)) interval(f, a, k == 0 ? &a->asked->drawn : &a->asked->calculated, &from, &to);
        put_cell(out, f, from, false);
        put_cell(out, f, to, k == 1);
    }
}

/* Where the decimal mark is a comma, semicolons part the cells, as spreadsheets of those languages expect. */
void sg_output_answers_csv(const SgSheetForm *form, SgBuf *out)
{
    Answers all = answers_of(form, true);
    Form f = { .arena = all.arena, .w = form->wording, .between = sg_str_is(form->wording->text[SG_TEXT_decimal_mark], ",") ? ';' : ',' };
    for (int i = SG_TEXT_answers_head_version; i <= SG_TEXT_answers_head_calculated_to; i++)
        put_cell(out, &f, f.w->text[i], i == SG_TEXT_answers_head_calculated_to);
    for (uint32_t i = 0; i < all.v.n; i++) {
        const Answer *a = &all.v.v[i];
        put_cell(out, &f, sg_format(all.arena, "%c", a->version->letter), false);
        put_cell(out, &f, sg_format(all.arena, "%u", (unsigned)a->problem->number), false);
        put_cell(out, &f, a->problem->name, false);
        put_cell(out, &f, a->problem->marks > 0 ? sg_format(all.arena, "%u", (unsigned)a->problem->marks) : SG_LIT(""), false);
        put_cell(out, &f, asked_text(&f, a), false);
        put_cell(out, &f, value_text(&f, a), false);
        put_cell(out, &f, sg_str(is_number(a) ? spelling(unit_of(a->problem->ground, a->asked->value.dim)) : ""), false);
        put_intervals(out, &f, a);
    }
}

/* ---- JSON ---- */
static void put_text(SgBuf *out, const char *key, SgStr text)
{
    sg_putf(out, "\"%s\": ", key);
    sg_put_json_text(out, text);
}

static void put_answer(SgBuf *out, SgArena *arena, const Answer *a)
{
    Form f = { .arena = arena, .w = &sg_wording_english };         /* what programs read is the same in every language */
    SgStr from, to;
    put_text(out, "asked", asked_text(&f, a));
    sg_puts(out, ", \"value\": ");
    if (is_number(a)) sg_put_full(out, in_unit(a->asked->value.number, unit_of(a->problem->ground, a->asked->value.dim)));
    else sg_put_json_text(out, value_text(&f, a));
    if (is_number(a)) sg_putf(out, ", \"unit\": \"%s\"", spelling(unit_of(a->problem->ground, a->asked->value.dim)));
    static const char *const key[] = { "drawn", "calculated" };
    for (int k = 0; is_number(a) && k < 2; k++) {
        const SgAccept *accept = k == 0 ? &a->asked->drawn : &a->asked->calculated;
        if (interval(&f, a, accept, &from, &to)) sg_putf(out, ", \"%s\": [%.*s, %.*s]", key[k], (int)from.n, from.s, (int)to.n, to.s);
    }
    for (uint32_t i = 0; a->choice && i < a->problem->nchoices; i++) {
        sg_puts(out, i == 0 ? ", \"choices\": [" : ", ");
        sg_put_json_text(out, sg_plain(arena, a->problem->choice[i]));
    }
    if (a->choice && a->problem->nchoices > 0) sg_put_char(out, ']');
    for (uint32_t i = 0; a->choice && i < a->problem->ndrawings; i++) {
        sg_puts(out, i == 0 ? ", \"mistakes\": [" : ", ");
        if (a->problem->drawing[i].mistake.n > 0) sg_put_json_text(out, sg_plain(arena, a->problem->drawing[i].mistake));
        else sg_puts(out, "null");
    }
    if (a->choice && a->problem->ndrawings > 0) sg_put_char(out, ']');
}

static void put_problem_head(SgBuf *out, SgArena *arena, const Answer *a)
{
    sg_putf(out, "{ \"number\": %u, ", (unsigned)a->problem->number);
    put_text(out, "problem", a->problem->name);
    sg_puts(out, ", ");
    put_text(out, "question", sg_plain(arena, a->problem->question));
    if (a->problem->marks > 0) sg_putf(out, ", \"marks\": %u", (unsigned)a->problem->marks);
    sg_puts(out, ", \"answers\": [");
}

/* Ends a problem. */
static void put_worked(SgBuf *out, SgArena *arena, const SgSheetProblem *p)
{
    sg_puts(out, "\n      ]");
    for (uint32_t i = 0; i < p->nworked; i++) {
        sg_puts(out, i == 0 ? ", \"worked\": [\n        " : ",\n        ");
        sg_put_json_text(out, sg_plain(arena, p->worked[i]));
    }
    sg_puts(out, p->nworked > 0 ? "\n      ] }" : " }");
}

void sg_output_answers_json(const SgSheetForm *form, const char *version, SgBuf *out)
{
    Answers all = answers_of(form, false);
    sg_putf(out, "{\n  \"sagitta\": \"%s\",\n  ", version);
    put_text(out, "sheet", form->name);
    sg_puts(out, ",\n  ");
    put_text(out, "seed", form->seed);
    sg_puts(out, ",\n  \"versions\": [");
    for (uint32_t i = 0; i < all.v.n; i++) {
        const Answer *a = &all.v.v[i], *before = i > 0 ? a - 1 : NULL, *after = i + 1 < all.v.n ? a + 1 : NULL;
        bool opens = before == NULL || before->version != a->version, first = opens || before->problem != a->problem;
        bool closes = after == NULL || after->version != a->version, last = closes || after->problem != a->problem;
        if (opens) sg_putf(out, "%s\n    { \"version\": \"%c\", \"problems\": [", before != NULL ? "," : "", a->version->letter);
        if (first) sg_puts(out, opens ? "\n      " : ",\n      ");
        if (first) put_problem_head(out, all.arena, a);
        sg_puts(out, first ? "\n        { " : ",\n        { ");
        put_answer(out, all.arena, a);
        sg_puts(out, " }");
        if (last) put_worked(out, all.arena, a->problem);
        if (closes) sg_puts(out, "\n    ] }");
    }
    sg_puts(out, all.v.n > 0 ? "\n  ]\n}\n" : "]\n}\n");
}
