/* handout: a worked-out sheet as pages. In: the solved problems of a version. Out: what is given, and the answer around it, on
   paper. Never lets the frame of a problem tell one version's answer: it is the author's, or holds those of all versions. */
#include "paper/handout.h"
#include "paper/among.h"
#include "solved/worked.h"
#include "solved/build.h"
#include <math.h>

#define PAST_ANSWER_MM 15.0        /* free around all that is drawn, for construction */
#define STEP_MM 20.0               /* frames of no author's grow by this */

typedef struct { const SgScene *given, *whole; SgBox ink; } Drawn;     /* ink: what must be seen of the whole, in the scene's millimetres on paper */

/* The axis and the ends of light may run out of a frame; everything else has to be seen. */
SgBox sg_paper_core(SgCompile *c, const SgScene *scene, const SgMark *m)
{
    SgBox box = sg_box_empty();
    if (m->role == SG_ROLE_AXIS || m->role == SG_ROLE_GRID) return box;
    for (uint32_t k = 1; m->role == SG_ROLE_RAY && k + 1 < m->nxy; k++) box = sg_box_add(box, m->xy[k]);      /* where it strikes */
    if (m->role == SG_ROLE_RAY) return box;
    for (uint32_t k = 0; k < m->nxy; k++) box = sg_box_add(box, m->xy[k]);
    const SgStyle style = sg_style_of(&scene->style);
    uint32_t lines = 0;
    SgWords *line = m->role == SG_ROLE_NOTE ? sg_shape_lines(c->arena, m->words, SG_FACE_UPRIGHT, style.note_pt, 0, &lines) : NULL;
    for (uint32_t i = 0; i < lines; i++) box = sg_box_add(box, sg_pt(m->xy[0].x_mm + line[i].width_mm, m->xy[0].y_mm - i * SG_PT_MM(style.note_pt) * style.note_lead));
    if (m->half_mm > 0) for (int side = -1; side <= 1; side += 2) box = sg_box_add(box, sg_pt_along(m->xy[0], sg_pt_left(m->direction), side * m->half_mm));
    return box;
}

static bool draw_problem(SgCompile *c, const SgSheetProblem *p, Drawn *d)
{
    SgSolved *s = p->solved;
    int upto = p->shown ? (int)s->figure->nsteps : (int)p->given_up_to;
    SgScenePart given = { .paper = true, .upto = upto }, whole = { .paper = true, .upto = upto, .whole = true };
    SgSolved *first = p->shown ? p->shown : s;
    d->given = sg_scene_part(c, first, &first, 1, given);
    d->whole = d->given ? sg_scene_part(c, s, &s, 1, whole) : NULL;
    if (!d->whole) return false;
    d->ink = sg_box_empty();
    for (uint32_t i = 0; i < d->whole->nmarks; i++) d->ink = sg_box_join(d->ink, sg_paper_core(c, d->whole, &d->whole->mark[i]));
    for (uint32_t i = 0; p->shown && i < d->given->nmarks; i++) d->ink = sg_box_join(d->ink, sg_paper_core(c, d->given, &d->given->mark[i]));
    return !sg_errors(c);
}

static double up_to_step(double mm) { return ceil(mm / STEP_MM - 1e-9) * STEP_MM; }

/* Around the ink of all versions, in whole steps each way; no wider than a column while the ink itself is not. width_mm: the
   author's own, 0 none. */
static SgBox frame_of(SgBox ink, double column_mm, double width_mm)
{
    double w = up_to_step(ink.x1_mm - ink.x0_mm + 2 * PAST_ANSWER_MM), h = up_to_step(ink.y1_mm - ink.y0_mm + 2 * PAST_ANSWER_MM);
    if (w > column_mm && ink.x1_mm - ink.x0_mm + 4 <= column_mm) w = floor(column_mm);
    if (width_mm > 0) w = width_mm;
    double x = floor((ink.x0_mm + ink.x1_mm) / 2), y = floor((ink.y0_mm + ink.y1_mm) / 2);
    return (SgBox){ x - w / 2, y - h / 2, x + w / 2, y + h / 2 };
}

static bool outside(SgBox frame, SgPoint q) { return q.x_mm <= frame.x0_mm || q.x_mm >= frame.x1_mm || q.y_mm <= frame.y0_mm || q.y_mm >= frame.y1_mm; }

/* Which of a mark's points have to be on the paper that the student has: all of objects, images and the middles of what light meets;
   of a ray where it strikes; of what the student is to draw its ends. */
static bool needed(const SgMark *m, uint32_t k, bool answer)
{
    switch (m->role) {
    case SG_ROLE_OBJECT: case SG_ROLE_REAL_IMAGE: case SG_ROLE_VIRTUAL_IMAGE: case SG_ROLE_LENS: case SG_ROLE_MIRROR: case SG_ROLE_SURFACE: case SG_ROLE_SCREEN: case SG_ROLE_STOP:
        return true;
    case SG_ROLE_RAY:
        return k > 0 && k + 1 < m->nxy;
    case SG_ROLE_PRODUCED: case SG_ROLE_POINT: case SG_ROLE_DIMENSION: case SG_ROLE_ANGLE: case SG_ROLE_LINE: case SG_ROLE_EYE:
        return answer;
    case SG_ROLE_AXIS: case SG_ROLE_GLASS: case SG_ROLE_AID: case SG_ROLE_TICK: case SG_ROLE_LABEL: case SG_ROLE_NORMAL: case SG_ROLE_CIRCLE: case SG_ROLE_PROTRACTOR:
    case SG_ROLE_RULER: case SG_ROLE_GRID: case SG_ROLE_CROSS_AXIS: case SG_ROLE_BREAK: case SG_ROLE_NOTE: default:
        return false;
    }
}

static SgStr what(SgArena *a, const SgMark *m)
{
    if (m->role == SG_ROLE_RAY) return sg_format(a, "a place that ray %u strikes", (unsigned)m->light);
    if (m->role == SG_ROLE_PRODUCED) return SG_LIT("the end of a produced line");
    if (m->name.n > 0) return m->name;
    return m->role == SG_ROLE_DIMENSION || m->role == SG_ROLE_LINE ? SG_LIT("the end of a line") : m->role == SG_ROLE_ANGLE ? SG_LIT("an angle") : SG_LIT("a point");
}

static bool on_paper(SgCompile *c, const SgSheetProblem *p, const SgScene *whole, SgBox frame)
{
    for (uint32_t i = 0; i < whole->nmarks; i++) {
        const SgMark *m = &whole->mark[i];
        for (uint32_t k = 0; k < m->nxy; k++) {
            if (!needed(m, k, m->step > (int)p->given_up_to) || !outside(frame, m->xy[k])) continue;
            SgStr name = what(c->arena, m);
            sg_say(c, SG_MSG_sheet_off_paper, m->at, "%.*s stands outside problem %.*s's frame of %d mm by %d mm; write a larger `frame` in the figure, or leave it out",
                   (int)name.n, name.s, (int)p->name.n, p->name.s, (int)(frame.x1_mm - frame.x0_mm), (int)(frame.y1_mm - frame.y0_mm));
            return false;
        }
    }
    return true;
}

static SgStr shown(const SgSheetForm *form, const SgSheetProblem *p, SgValue v)
{
    if (v.state == SG_INFINITE) return form->wording->text[SG_TEXT_at_infinity];
    if (v.type == SG_TYPE_TRUTH) return form->wording->text[v.truth ? SG_TEXT_yes : SG_TEXT_no];
    if (v.type == SG_TYPE_TEXT) return v.text;
    return v.type == SG_TYPE_NUMBER ? sg_show_figure(p->ground, v, NULL) : SG_LIT("");
}

static SgStr number_text(const SgSheetProblem *p, double value, SgDim dim, int decimals)
{
    SgValue v = { .type = SG_TYPE_NUMBER, .state = SG_VALID, .dim = dim, .number = value, .unit = SG_UNIT_COUNT };
    SgHoleFormat fine = { .step = 1, .decimals = decimals, .unit = SG_UNIT_COUNT, .given = true };
    if (dim.length == 1) fine.unit = sg_figure_length_unit(p->ground);
    if (dim.angle == 1) fine.unit = SG_UNIT_deg;
    if (fine.unit != SG_UNIT_COUNT) fine.step = sg_unit_factor(fine.unit);
    for (int i = 0; i < decimals; i++) fine.step /= 10;
    return sg_show_figure(p->ground, v, &fine);
}

/* sign: as in sg_in_convention. */
static double turned(double value, int sign) { return sign == 0 ? fabs(value) : sign * value; }

static void put_accepted(SgBuf *b, const SgSheetForm *form, const SgSheetProblem *p, SgDim dim, SgTextId how, SgAccept range, int sign, int decimals)
{
    if (!range.told) return;
    double from = turned(range.from, sign), to = turned(range.to, sign);
    if (from > to) { double swap = from; from = to; to = swap; }
    SgStr low = number_text(p, from, dim, decimals), high = number_text(p, to, dim, decimals);
    SgStr told = SG_FILLED(b->arena, form->wording, how, { "from", low }, { "to", high }), before = sg_buf_str(b);
    *b = (SgBuf){ .arena = b->arena };
    sg_put_str(b, sg_joined(b->arena, form->wording, before, told));
}

/* "flame.distance" as "flame: distance 6 cm", in the language of the sheet; other expressions as they are. */
static void put_asked(SgBuf *b, const SgSheetForm *form, SgStr words, SgStr value)
{
    static const struct { const char *word; SgTextId text; } known[] = {
        { "distance", SG_TEXT_worked_distance }, { "height", SG_TEXT_worked_height }, { "magnification", SG_TEXT_worked_magnification },
        { "nature", SG_TEXT_worked_nature }, { "focal", SG_TEXT_worked_focal }, { "radius", SG_TEXT_worked_radius }, { "power", SG_TEXT_worked_power },
    };
    uint32_t dot = 0;
    while (dot < words.n && words.s[dot] != '.') dot++;
    SgStr property = { words.s + dot + 1, dot < words.n ? words.n - dot - 1 : 0 }, whose = words, is = value;
    for (size_t i = 0; i < sizeof known / sizeof *known; i++) {
        if (!sg_str_is(property, known[i].word)) continue;
        whose.n = dot;
        is = SG_FILLED(b->arena, form->wording, known[i].text, { "value", value });
    }
    SG_PUT_FILLED(b, form->wording, SG_TEXT_list_named, { "a", whose }, { "b", is });
}

/* What is asked for, in the letters and signs of the figure's convention when it has one. */
static SgStr asked_line(SgCompile *c, const SgSheetForm *form, const SgSheetProblem *p, const SgAsked *asked)
{
    const SgExpr *e = asked->expression;
    SgBuf b = { .arena = c->arena };
    SgValue v = asked->value;
    SgStr letter;
    int sign = 1;
    bool of_image = p->solved && e->op == SG_E_PROPERTY && e->arg[0]->op == SG_E_SYMBOL && !e->arg[0]->in_file
        && p->solved->figure->scope->symbol[e->arg[0]->symbol].kind == SG_KIND_image;
    SgStr property = e->op == SG_E_PROPERTY ? sg_names_str(&c->names, e->sym) : SG_LIT("");
    bool lettered = of_image && sg_in_convention(p->solved, e->arg[0]->symbol, sg_str_keep(c->arena, property.s, property.n).s, &letter, &sign);
    if (v.type == SG_TYPE_NUMBER && v.state == SG_VALID) v.number = turned(v.number, sign);
    SgStr value = shown(form, p, v);
    if (lettered) sg_putf(&b, "%.*s (%.*s) = %.*s", (int)letter.n, letter.s, (int)(asked->words.n - property.n - 1), asked->words.s, (int)value.n, value.s);
    else put_asked(&b, form, asked->words, value);
    put_accepted(&b, form, p, v.dim, SG_TEXT_sheet_drawn, asked->drawn, sign, v.dim.angle == 1 ? 1 : 2);
    put_accepted(&b, form, p, v.dim, SG_TEXT_sheet_calculated, asked->calculated, sign, 3);
    return sg_buf_str(&b);
}

/* A line for each value asked for, with what is to be accepted of it drawn and calculated. */
static void answers_of(SgCompile *c, const SgSheetForm *form, const SgSheetProblem *p, SgPaperProblem *q)
{
    SgStr *line = SG_ARRAY(c->arena, SgStr, p->nasked + p->nmistakes + p->ndrawings + 3);
    uint32_t n = 0;
    if (p->nchoices) line[n++] = sg_format(c->arena, "%c", (char)('A' + p->right));
    for (uint32_t i = 0; i < p->nmistakes; i++) line[n++] = p->mistake[i];
    if (p->ndrawings) line[n++] = sg_format(c->arena, "%c", (char)('A' + p->right_drawing));
    for (uint32_t i = 0; i < p->ndrawings; i++)
        if (i != p->right_drawing) line[n++] = SG_FILLED(c->arena, form->wording, SG_TEXT_list_named, { "a", sg_format(c->arena, "%c", (char)('A' + i)) }, { "b", p->drawing[i].mistake });
    for (uint32_t i = 0; i < p->nasked; i++) line[n++] = asked_line(c, form, p, &p->asked[i]);
    if (p->hidden.n) line[n++] = p->hidden;
    if (p->model_answer.n) line[n++] = p->model_answer;
    q->answer = line;
    q->nanswers = n;
}

/* How far off in `property` of an image may be: the middle of what is accepted, from its value, and half of its width. */
static bool accepted_of(const SgSheetProblem *p, uint32_t image, const char *property, double *middle, double *half)
{
    const SgSolved *s = p->solved;
    for (uint32_t i = 0; i < p->nasked; i++) {
        const SgExpr *e = p->asked[i].expression;
        if (!p->asked[i].drawn.told || e->op != SG_E_PROPERTY || e->arg[0]->op != SG_E_SYMBOL || e->arg[0]->in_file || e->arg[0]->symbol != image) continue;
        if (!sg_str_is(sg_names_str(&s->c->names, e->sym), property)) continue;
        *middle = (p->asked[i].drawn.from + p->asked[i].drawn.to) / 2 - p->asked[i].value.number;
        *half = (p->asked[i].drawn.to - p->asked[i].drawn.from) / 2;
        return true;
    }
    return false;
}

/* Where the tip of each image asked for may stand, on the figure's page. */
static void zones_of(SgCompile *c, const SgSheetForm *form, const SgSheetProblem *p, SgPaperProblem *q)
{
    const SgSolved *s = p->solved;
    SgPaperZone *zone = SG_ARRAY(c->arena, SgPaperZone, s->figure->scope->nsymbols + 1);
    q->zone = zone;
    for (uint32_t i = 0; i < s->figure->scope->nsymbols; i++) {
        double along = 0, wide = 0, up = 0, high = form->least_length_mm / s->up;
        const SgImage *im = &s->thing[i].image;
        if (s->figure->scope->symbol[i].kind != SG_KIND_image || s->thing[i].state != SG_VALID || im->last.far != SG_FINITE) continue;
        bool by_distance = accepted_of(p, i, "distance", &along, &wide), by_height = accepted_of(p, i, "height", &up, &high);
        if (!by_distance && !by_height) continue;
        if (!by_distance) wide = form->least_length_mm / s->along;
        SgPoint tip = sg_pt(im->tip.x_mm + im->travel.x_mm * along, im->tip.y_mm + up);
        zone[q->nzones++] = (SgPaperZone){ sg_pt(q->key->origin.x_mm + tip.x_mm * s->along, q->key->origin.y_mm - tip.y_mm * s->up), wide * s->along, high * s->up };
    }
}

/* The problem's marks over the steps of its answer, the last ones first where they do not go round: the image is there. Then
   the images, worked out. */
static void worked_of(SgCompile *c, const SgSheetProblem *p, SgPaperProblem *q)
{
    SgSolved *s = p->solved;
    uint32_t steps = s && s->figure->nsteps > p->given_up_to ? s->figure->nsteps - p->given_up_to : 0, n = 0;
    SgStr *line = SG_ARRAY(c->arena, SgStr, steps + p->nworked + 1);
    for (uint32_t i = 0; i < steps && p->marks; i++) {
        const SgStep *step = &s->figure->step[p->given_up_to + i];
        uint32_t marks = p->marks / steps + (i >= steps - p->marks % steps);
        if (!marks || !step->caption) continue;
        SgStr caption = sg_eval_text(s, step->caption);
        if (caption.n) line[n++] = sg_format(c->arena, "[%u] %.*s", (unsigned)marks, (int)caption.n, caption.s);
    }
    for (uint32_t i = 0; i < p->nworked; i++) line[n++] = p->worked[i];
    q->worked = line;
    q->nworked = n;
}

static SgPaperProblem problem_of(SgCompile *c, const SgSheetForm *form, const SgSheetProblem *p, const SgStatement *st)
{
    SgPaperProblem q = { .at = st->head_at, .name = p->name, .question = p->question, .marks = p->marks, .breaks = p->new_page, .choice = p->choice, .nchoices = p->nchoices };
    if (p->room == SG_ROOM_LINES) q.lines = p->lines;
    if (p->room == SG_ROOM_BOX || p->room == SG_ROOM_SQUARED) q.box_mm = p->room_mm;
    q.squared = p->room == SG_ROOM_SQUARED;
    answers_of(c, form, p, &q);
    q.right = p->right;
    worked_of(c, p, &q);
    return q;
}

/* The ink of one problem over all versions. A box that is empty: no version has a figure. */
static bool ink_of_all(const SgSheetForm *form, uint32_t problem, Drawn *drawn, SgBox *ink)
{
    *ink = sg_box_empty();
    for (uint32_t v = 0; v < form->nversions; v++) {
        const SgSheetProblem *p = &form->version[v].problem[problem];
        if (!p->solved || p->ndrawings) continue;
        if (!draw_problem(form->version[v].c, p, &drawn[v])) return false;
        *ink = sg_box_join(*ink, drawn[v].ink);
    }
    return true;
}

static bool figure_of(SgCompile *c, const SgSheetForm *form, const SgSheetProblem *p, const Drawn *d, SgBox ink, double column_mm, SgPaperProblem *q)
{
    if (p->ndrawings) {
        q->given = q->key = sg_among(c, p, column_mm);
        return q->given && !sg_errors(c);
    }
    bool own = d->given->frame_w_mm > 0 && d->given->frame_h_mm > 0;
    SgBox frame = own ? sg_layout_frame(c, d->given, d->given->frame_w_mm, d->given->frame_h_mm) : frame_of(ink, column_mm, d->given->frame_w_mm);
    if (!on_paper(c, p, d->whole, frame)) return false;
    SgPage *sheet, *key;
    sg_layout_apart(c, d->given, d->whole, frame, &sheet, &key);
    q->given = sheet;
    q->key = key;
    zones_of(c, form, p, q);
    return !sg_errors(c);
}

/* Each caution of its figures once, and who must be asked before an experiment. */
static SgStr caution_of(const SgSheetForm *form, const SgSheetVersion *v)
{
    SgBuf b = { .arena = v->c->arena };
    for (uint32_t i = 0; i < v->nproblems; i++) {
        const SgSolved *s = v->problem[i].solved;
        bool told = !s || s->caution.n == 0;
        for (uint32_t k = 0; k < i && !told; k++) told = v->problem[k].solved && sg_str_same(v->problem[k].solved->caution, s->caution);
        if (told) continue;
        sg_puts(&b, b.n ? " " : "");
        sg_put_str(&b, s->caution);
    }
    if (form->experiment) {
        sg_puts(&b, b.n ? " " : "");
        sg_put_str(&b, form->wording->text[SG_TEXT_caution_ask]);
    }
    return b.n ? sg_buf_str(&b) : SG_LIT("");
}

static SgPaperSheet paper_of(const SgSheetForm *form, const SgSheetVersion *v)
{
    SgPaperSheet s = { .id = form->name, .title = v->title, .wording = form->wording, .caution = caution_of(form, v), .w_mm = form->width_mm, .h_mm = form->height_mm, .margin_mm = form->margin_mm, .check_bar_mm = form->check_bar_mm,
        .rulers = form->rulers, .columns = form->columns, .field = form->heading, .nfields = form->nheading, .seed = form->seed, .footer = v->footer };
    if (form->nversions == 1) return s;
    s.set = sg_format(v->c->arena, "%c", v->letter);
    s.id = sg_format(v->c->arena, "%.*s-%c", (int)form->name.n, form->name.s, v->letter);
    return s;
}

const SgPage *const *sg_handout(const SgSheetForm *form, int version, SgPaperKind kind, uint32_t *npages)
{
    SgArena *a = form->version[0].c->arena;
    uint32_t n = form->version[0].nproblems;
    Drawn *drawn = SG_ARRAY(a, Drawn, (size_t)n * form->nversions + 1);
    SgBox *ink = SG_ARRAY(a, SgBox, n + 1);
    SG_VEC(const SgPage *) pages = { 0 };
    for (uint32_t i = 0; i < n; i++) if (!ink_of_all(form, i, drawn + (size_t)i * form->nversions, &ink[i])) return NULL;
    for (uint32_t v = 0; v < form->nversions; v++) {
        const SgSheetVersion *one = &form->version[v];
        if (version >= 0 && (uint32_t)version != v) continue;
        SgPaperSheet s = paper_of(form, one);
        SgPaperProblem *q = SG_ARRAY(a, SgPaperProblem, n + 1);
        double column_mm = sg_paper_column_mm(s.w_mm, s.margin_mm, s.columns);
        for (uint32_t i = 0; i < n; i++) {
            q[i] = problem_of(one->c, form, &one->problem[i], &one->sheet->problem[i].statement);
            if (one->problem[i].solved && !figure_of(one->c, form, &one->problem[i], &drawn[(size_t)i * form->nversions + v], ink[i], column_mm, &q[i])) return NULL;
        }
        s.problem = q;
        s.nproblems = n;
        uint32_t made;
        const SgPage *const *page = sg_paper(one->c, &s, kind, &made);
        if (!page) return NULL;
        for (uint32_t i = 0; i < made; i++) SG_PUSH(a, &pages, page[i]);
    }
    *npages = pages.n;
    return pages.v;
}

/* The answers of a problem in a few words. */
static SgStr cell_of(SgArena *a, const SgSheetForm *form, const SgSheetProblem *p)
{
    SgStr all = p->nchoices ? sg_format(a, "%c", (char)('A' + p->right)) : SG_LIT("");
    for (uint32_t i = 0; i < p->nasked + (p->ndrawings > 0) + p->nmistakes; i++) {
        SgStr one = i < p->nasked ? shown(form, p, p->asked[i].value) : i == p->nasked && p->ndrawings > 0 ? sg_format(a, "%c", (char)('A' + p->right_drawing))
                  : p->mistake[i - p->nasked - (p->ndrawings > 0)];
        all = sg_joined(a, form->wording, all, one);
    }
    if (all.n == 0) all = p->model_answer;
    return all.n ? all : SG_LIT("-");
}

const SgPage *const *sg_handout_strip(const SgSheetForm *form, uint32_t *npages)
{
    SgCompile *c = form->version[0].c;
    uint32_t rows = form->version[0].nproblems, columns = form->nversions;
    SgStr *row = SG_ARRAY(c->arena, SgStr, rows + 1), *column = SG_ARRAY(c->arena, SgStr, columns + 1), *cell = SG_ARRAY(c->arena, SgStr, (size_t)rows * columns + 1);
    for (uint32_t i = 0; i < rows; i++) row[i] = sg_format(c->arena, "%u", (unsigned)i + 1);
    for (uint32_t v = 0; v < columns; v++) column[v] = sg_format(c->arena, "%c", form->version[v].letter);
    for (uint32_t i = 0; i < rows; i++)
        for (uint32_t v = 0; v < columns; v++) cell[i * columns + v] = cell_of(c->arena, form, &form->version[v].problem[i]);
    SgPaperStrip s = { .id = sg_format(c->arena, "%.*s-answers", (int)form->name.n, form->name.s), .title = form->wording->text[SG_TEXT_sheet_answers], .wording = form->wording, .w_mm = form->width_mm, .h_mm = form->height_mm, .margin_mm = form->margin_mm,
        .row = row, .nrows = rows, .column = column, .ncolumns = columns, .cell = cell };
    return sg_paper_strip(c, &s, npages);
}
