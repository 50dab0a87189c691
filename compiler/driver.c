/* driver: the stages in order, for one job.
   in     a job: a script's bytes and what is wanted of it.
   out    a result: products whole or none, and every message as text.
   never  opens a file, prints, or lets a product out of a script that has a mistake. */
#include "run.h"

#include <stddef.h>
#include <string.h>

#include "catalogue/dump.h"
#include "expand/expand.h"
#include "layout/slide.h"
#include "load.h"
#include "output/notes.h"
#include "output/numbers.h"
#include "panel/panel.h"
#include "print/print.h"
#include "sheet/sheet.h"
#include "tidy/tidy.h"

static const char EXPRESSION_HEAD[] = "let it = ";     /* what turns an expression into a script of its own */
enum { HEAD_BYTES = sizeof EXPRESSION_HEAD - 1 };
_Static_assert((int)SG_SCRIPT_LIMIT == (int)SG_MAX_SCRIPT, "the public limit is the one that is checked");


/* Begins a line of faults: the caller puts the rest of it into what this returns. */
SgBuf *sg_run_fault(Run *r, SgStatus status)
{
    if (r->faults.n == 0) r->fault = status;
    if (status == SG_SCRIPT_WRONG) sg_putf(&r->faults, "%s: error: ", strcmp(r->job->path, "-") == 0 ? "standard input" : r->job->path);
    else sg_puts(&r->faults, "sagitta: ");
    return &r->faults;
}

uint32_t sg_run_figures(const SgModel *m) { return m->nfigures + m->nforeign + m->nproblems + m->nparts; }

/* ---- names, for faults ---- */
static SgStr figure_name(const Run *r, const SgFigure *f) { return sg_names_str(&r->c.names, f->name); }

static bool is_parameter_of(const Run *r, const SgFigure *f, const char *name, uint32_t *symbol)
{
    for (uint32_t i = 0; i < f->scope->nsymbols; i++) {
        if (!f->scope->symbol[i].parameter || !sg_str_is(sg_names_str(&r->c.names, f->scope->symbol[i].name), name)) continue;
        *symbol = i;
        return true;
    }
    return false;
}

void sg_run_list(SgBuf *b, SgStr name, uint32_t *n)
{
    enum { NAMES_SHOWN = 12 };
    if (*n < NAMES_SHOWN) {
        sg_puts(b, *n == 0 ? "" : ", ");
        sg_put_str(b, name);
    } else if (*n == NAMES_SHOWN) {
        sg_puts(b, " and more");
    }
    *n += 1;
}

/* Panels are drawn and checked; nothing else is asked of them. */
static bool takes_panels(const Run *r) { return r->job->kind == SG_JOB_DRAW || r->job->kind == SG_JOB_CHECK; }

static bool names_panel(const Run *r)
{
    for (uint32_t i = 0; i < r->model->npanels; i++)
        if (sg_str_is(sg_names_str(&r->c.names, r->model->panel[i].statement.name), r->job->figure)) return true;
    return false;
}

static void put_figures(Run *r)
{
    uint32_t n = 0;
    for (uint32_t i = 0; i < r->model->nfigures; i++) sg_run_list(&r->faults, figure_name(r, &r->model->figure[i]), &n);
    for (uint32_t i = 0; i < r->model->npanels && takes_panels(r); i++) sg_run_list(&r->faults, sg_names_str(&r->c.names, r->model->panel[i].statement.name), &n);
}

static void fault_figure_unknown(Run *r)
{
    if (!takes_panels(r) && names_panel(r)) {
        sg_putf(sg_run_fault(r, SG_COMMAND_WRONG), "`%s` is a panel, a still picture, drawn as .svg, .pdf or .png only; name one of the figures here: ", r->job->figure);
        put_figures(r);
        sg_puts(&r->faults, "\n");
        return;
    }
    const char **names = SG_ARRAY(r->c.arena, const char *, r->model->nfigures);
    for (uint32_t i = 0; i < r->model->nfigures; i++) {
        SgStr name = figure_name(r, &r->model->figure[i]);
        names[i] = sg_str_keep(r->c.arena, name.s, name.n).s;
    }
    const char *near = sg_nearest(sg_str(r->job->figure), names, r->model->nfigures);
    sg_putf(sg_run_fault(r, SG_COMMAND_WRONG), "the script has no figure `%s`", r->job->figure);
    if (near != NULL) {
        sg_putf(&r->faults, "; did you mean `%s`?\n", near);
        return;
    }
    sg_puts(&r->faults, "; it has ");
    put_figures(r);
    sg_put_char(&r->faults, '\n');
}

static void fault_parameter_unknown(Run *r, const char *name, const SgFigure *const *wanted, uint32_t nwanted)
{
    bool any = false;
    sg_putf(sg_run_fault(r, SG_COMMAND_WRONG), "no parameter `%s`", name);
    for (uint32_t k = 0; k < nwanted; k++) {
        SgStr figure = figure_name(r, wanted[k]);
        uint32_t n = 0;
        for (uint32_t i = 0; i < wanted[k]->scope->nsymbols; i++) {
            if (!wanted[k]->scope->symbol[i].parameter) continue;
            if (n == 0) sg_putf(&r->faults, "; figure %.*s has ", (int)figure.n, figure.s);
            sg_run_list(&r->faults, sg_names_str(&r->c.names, wanted[k]->scope->symbol[i].name), &n);
        }
        any = any || n > 0;
    }
    SgStr first = figure_name(r, wanted[0]);
    if (!any) sg_putf(&r->faults, ": there are none; the script may give one, as in figure %.*s(%s = 12 cm)", (int)first.n, first.s, name);
    sg_put_char(&r->faults, '\n');
}

/* ---- reading the script ---- */
static uint16_t add_source(Run *r, const char *path, SgStr bytes)
{
    r->c.source[r->c.nsources] = sg_text_source(r->c.arena, sg_str(path), bytes);
    return (uint16_t)r->c.nsources++;
}

bool sg_run_read(Run *r)
{
    const SgJob *job = r->job;
    /* One byte too many is enough for the message, and lengths inside are of 32 bits. */
    size_t n = job->script_length > SG_SCRIPT_LIMIT ? SG_SCRIPT_LIMIT + 1 : job->script_length;
    SgStr bytes = { n > 0 ? job->script : "", (uint32_t)n };
    add_source(r, job->path, bytes);
    if (!sg_text_check(&r->c, 0)) return false;
    const SgNode *tree = sg_load_source(&r->c, 0, &r->tagged);
    const SgModelFile *files = tree != NULL ? sg_load_used(&r->c, job, tree, &r->nscripts) : NULL;
    sg_messages_settle(&r->c, r->tagged.tops.v, r->tagged.tops.n);
    if (files == NULL) return false;
    SgModel *model = sg_model_files(&r->c, files, r->nscripts);
    model->english = job->kind == SG_JOB_SOLVE || job->kind == SG_JOB_ASK;
    r->model = model;
    return true;
}

/* An expression of the command line, read as the value of a let; NULL after a message or fault. */
static const SgNode *read_expression(Run *r, const char *path, const char *text)
{
    size_t n = strlen(text);
    if (n > SG_SCRIPT_LIMIT) n = SG_SCRIPT_LIMIT;
    SgBuf b = { .arena = r->c.arena };
    sg_puts(&b, EXPRESSION_HEAD);
    sg_put(&b, text, n);
    uint16_t file = add_source(r, path, sg_buf_str(&b));
    uint32_t before = sg_errors(&r->c);
    SgTagged tagged;
    if (!sg_text_check(&r->c, file)) return NULL;
    const SgNode *tree = sg_load_source(&r->c, file, &tagged);
    if (tree == NULL || sg_errors(&r->c) > before) return NULL;
    const SgNode *statement = tree->first;
    bool alone = statement != NULL && statement->next == NULL && statement->kind == SG_N_STATEMENT
        && statement->first != NULL && statement->first->next == NULL && statement->first->kind == SG_N_DEFINITION;
    if (alone && statement->first->first != NULL) return statement->first->first;
    sg_putf(sg_run_fault(r, SG_COMMAND_WRONG), "%s: one expression is wanted, such as 6 cm or M.focal\n", path);
    return NULL;
}

static void read_command_line(Run *r)
{
    const SgJob *job = r->job;
    for (uint32_t i = 0; i < job->nwith; i++) {
        SgStr path = sg_format(r->c.arena, "--with %s", job->with[i].name);
        r->with[i] = read_expression(r, sg_str_keep(r->c.arena, path.s, path.n).s, job->with[i].value);
    }
    if (job->kind == SG_JOB_ASK) r->expression = read_expression(r, "expression", job->expression);
}

static void shift(const Run *r, SgSpan *at)
{
    if (at->file < r->nscripts) return;
    at->start -= at->start < HEAD_BYTES ? at->start : HEAD_BYTES;
    at->end -= at->end < HEAD_BYTES ? at->end : HEAD_BYTES;
}

/* Messages about an expression must neither count nor show the words that were put before it. */
static void take_heads_off(Run *r)
{
    for (uint32_t i = 0; i < r->c.diags.n; i++) {
        shift(r, &r->c.diags.v[i].at);
        for (SgNote *n = r->c.diags.v[i].notes; n != NULL; n = n->next) shift(r, &n->at);
    }
    for (uint32_t k = r->nscripts; k < r->c.nsources; k++) {
        SgSource *s = &r->c.source[k];
        SgStr rest = { s->bytes.s + HEAD_BYTES, s->bytes.n - HEAD_BYTES };
        *s = sg_text_source(r->c.arena, s->path, rest);
    }
}

/* ---- which figures ---- */
static bool panel_wanted(const Run *r, uint32_t i)
{
    SgStr name = sg_names_str(&r->c.names, r->model->panel[i].statement.name);
    return takes_panels(r) && r->model->panel[i].statement.name != SG_NO_SYM && (r->job->figure == NULL || sg_str_is(name, r->job->figure));
}

static uint32_t panels_wanted(const Run *r)
{
    uint32_t n = 0;
    for (uint32_t i = 0; i < r->model->npanels; i++) n += panel_wanted(r, i);
    return n;
}

/* Fills `wanted` (room for all); 0 after a fault, or when a panel is wanted. */
static uint32_t choose_figures(Run *r, const SgFigure **wanted)
{
    const SgJob *job = r->job;
    const SgModel *m = r->model;
    bool every = job->every || job->kind == SG_JOB_CHECK || job->kind == SG_JOB_SOLVE || job->kind == SG_JOB_NOTES
        || job->kind == SG_JOB_SLIDES || job->kind == SG_JOB_PRESENTATION || job->kind == SG_JOB_EXPAND;
    uint32_t n = 0;
    for (uint32_t i = 0; i < m->nfigures; i++)
        if (job->figure == NULL || sg_str_is(figure_name(r, &m->figure[i]), job->figure)) wanted[n++] = &m->figure[i];
    if (sg_errors(&r->c) > 0 || job->kind == SG_JOB_CHECK) return n;
    if (m->nfigures == 0) {
        sg_puts(sg_run_fault(r, SG_SCRIPT_WRONG), "the script has no figure; one begins with figure name {\n");
    } else if (n + panels_wanted(r) == 0) {
        fault_figure_unknown(r);
    } else if (n + panels_wanted(r) > 1 && !every) {
        sg_puts(sg_run_fault(r, SG_COMMAND_WRONG), "the script has several figures: ");
        put_figures(r);
        sg_puts(&r->faults, job->kind == SG_JOB_DRAW ? "; choose one with --figure NAME, or draw all into a folder with -o FOLDER/\n"
                                                     : "; choose one with --figure NAME\n");
        return 0;
    }
    return n;
}

static void check_settings(Run *r, const SgFigure *const *wanted, uint32_t nwanted)
{
    uint32_t symbol;
    for (uint32_t i = 0; i < r->job->nwith; i++) {
        bool known = false;
        for (uint32_t k = 0; k < nwanted && !known; k++) known = is_parameter_of(r, wanted[k], r->job->with[i].name, &symbol);
        if (!known) fault_parameter_unknown(r, r->job->with[i].name, wanted, nwanted);
    }
}

static void check_step(Run *r, const SgFigure *const *wanted, uint32_t nwanted)
{
    uint32_t most = 0;
    for (uint32_t k = 0; k < nwanted; k++)
        if (wanted[k]->nsteps > most) most = wanted[k]->nsteps;
    if (r->job->kind != SG_JOB_DRAW || !r->job->stop_at_step || r->job->step <= most) return;
    sg_putf(sg_run_fault(r, SG_COMMAND_WRONG), "--step %u: ", (unsigned)r->job->step);
    if (nwanted == 1) sg_putf(&r->faults, "the figure has %u steps; 0 shows the givens only\n", (unsigned)most);
    else sg_putf(&r->faults, "no figure has more than %u steps; 0 shows the givens only\n", (unsigned)most);
}

/* The solved figures that share this one's statements: whether a mirror is drawn as its arc is decided over all of them. */
static uint32_t uses_of(const Run *r, const SgFigure *figure, SgSolved **uses)
{
    uint32_t n = 0;
    for (uint32_t i = 0; i < r->model->nfigures; i++) {
        SgSolved *s = r->solved[i];
        if (s != NULL && !s->broken && s->figure->original == figure->original) uses[n++] = s;
    }
    return n;
}

/* The command line's word on the look of a figure. */
static bool set_style(Run *r, SgSolved *solved, SgScene *scene)
{
    const char *asked = r->job->style == NULL && r->job->kind == SG_JOB_NOTES ? "copier" : r->job->style;       /* black ink on paper */
    bool known = asked == NULL || sg_scene_style(&r->c, solved, sg_str(asked), &scene->style);
    if (r->job->transparent) scene->style.transparent = true;
    if (known || r->faults.n > 0) return known;
    sg_putf(sg_run_fault(r, SG_COMMAND_WRONG), "no style is called `%s`; there are ", r->job->style);
    for (int i = 0; i < SG_STYLE_COUNT; i++) sg_putf(&r->faults, "%s%s", i > 0 ? ", " : "", sg_style_info((SgStyleId)i)->word);
    sg_puts(&r->faults, ", and those the script makes\n");
    return false;
}

static void draw_figure(Run *r, SgSolved *solved)
{
    SgSolved **uses = SG_ARRAY(r->c.arena, SgSolved *, r->model->nfigures);
    uint32_t before = sg_errors(&r->c);
    SgScene *scene = sg_scene(&r->c, solved, uses, uses_of(r, solved->figure, uses));
    if (scene == NULL || sg_errors(&r->c) > before || !set_style(r, solved, scene)) return;
    SgPage *page = sg_layout(&r->c, scene);
    if (r->job->kind == SG_JOB_NOTES) {
        SgNotesFigure figure = { .page = sg_slide_small(&r->c, scene, SG_NOTES_ROOM_W_MM, SG_NOTES_ROOM_H_MM) };
        figure.number = sg_output_worked(solved, &figure.nnumbers);
        SG_PUSH(r->c.arena, &r->notes, figure);
    }
    if (r->job->kind == SG_JOB_SLIDES || r->job->kind == SG_JOB_PRESENTATION) {
        const SgPage *slide = sg_slide(&r->c, scene, sg_run_ratio(r));
        SG_PUSH(r->c.arena, &r->slides, slide);
        SG_PUSH(r->c.arena, &r->grounds, sg_slide_ground(scene));
    }
    sg_run_page(r, r->job->strip ? sg_strip(&r->c, scene, 0) : page);
}

/* The command line's style holds for the parts of a panel too. */
static bool restyle(void *run, SgSolved *solved, SgScene *scene) { return set_style(run, solved, scene); }

static void draw_panels(Run *r)
{
    SgSet set = { .seed = sg_str(r->job->seed != NULL ? r->job->seed : ""), .version = r->job->set };
    for (uint32_t i = 0; i < r->model->npanels; i++) {
        if (!panel_wanted(r, i)) continue;
        const SgPage *page = sg_panel(&r->c, r->model, &r->model->panel[i], &set, restyle, r);
        if (page != NULL) sg_run_page(r, page);
    }
}

static void answer(Run *r, SgSolved *solved)
{
    const SgExpr *e = sg_model_expression(&r->c, r->model, solved->figure, r->expression);
    if (e == NULL) return;
    SgValue v = sg_eval(solved, e);
    if (v.state == SG_UNDEFINED) sg_say(&r->c, SG_MSG_value_undefined, e->at, "no value: %s", v.why != NULL ? v.why : "it does not exist here");
    if (v.state != SG_VALID && v.state != SG_INFINITE) return;
    if (v.state == SG_VALID && v.type == SG_TYPE_THING) {
        const SgSymbol *s = &solved->figure->scope->symbol[v.thing];
        SgStr name = sg_names_str(&r->c.names, s->name);
        sg_putf(sg_run_fault(r, SG_COMMAND_WRONG), "%.*s is %s; ask for one of its properties: ", (int)name.n, name.s, sg_kind_info(s->kind)->name_text);
        uint32_t n = 0;
        for (int p = 0; p < SG_PROPERTY_COUNT; p++)
            if (sg_property_info((SgPropertyId)p)->kind == s->kind) sg_run_list(&r->faults, sg_str(sg_property_info((SgPropertyId)p)->word), &n);
        sg_put_char(&r->faults, '\n');
        return;
    }
    SgBuf b = { .arena = r->c.arena };
    sg_output_value(solved, v, &b);
    sg_put_char(&b, '\n');
    sg_run_product(r, figure_name(r, solved->figure), &b);
}

static void put_numbers(Run *r, const SgFigure *const *wanted, uint32_t nwanted)
{
    SgSolved **solved = SG_ARRAY(r->c.arena, SgSolved *, nwanted + 1);
    for (uint32_t k = 0; k < nwanted; k++) solved[k] = r->solved[wanted[k] - r->model->figure];
    SgBuf b = { .arena = r->c.arena };
    if (r->job->json) sg_output_json(solved, nwanted, SG_VERSION, &b);
    else sg_output_table(solved, nwanted, &b);
    sg_run_product(r, SG_LIT(""), &b);
}

/* ---- solving ---- */
/* A plain slip, `--with u=6` for 6 cm, is told where it was made and not where the script uses u. Only literals are
   compared: the sort of other values shows when they are worked out. */
static bool fits(Run *r, const SgFigure *figure, uint32_t symbol, const SgExpr *value)
{
    const SgSymbol *parameter = &figure->scope->symbol[symbol];
    const SgExpr *usual = figure->scope->statement[parameter->statement].definition;
    bool literals = usual != NULL && usual->op == SG_E_NUMBER && value->op == SG_E_NUMBER;
    if (!literals || value->nought || sg_same_dim(usual->dim, value->dim)) return true;
    SgStr name = sg_names_str(&r->c.names, parameter->name);
    const SgSource *source = &r->c.source[value->at.file];
    const char *written = source->bytes.s + value->at.start;
    int n = (int)(value->at.end - value->at.start);
    if (value->dim.length == 0 && value->dim.angle == 0 && usual->unit < SG_UNIT_COUNT)
        sg_say(&r->c, SG_MSG_unit_missing, value->at, "%.*s needs %s: %.*s what? Write %.*s %s", (int)name.n, name.s, sg_dim_name(usual->dim),
            n, written, n, written, sg_unit_info(usual->unit)->spelling);
    else
        sg_say(&r->c, SG_MSG_type_wrong, value->at, "%.*s needs %s, and this is %s", (int)name.n, name.s, sg_dim_name(usual->dim), sg_dim_name(value->dim));
    return false;
}

static bool is_mistake_of(const Run *r, const SgFigure *figure, uint32_t *symbol)
{
    for (uint32_t i = 0; r->job->mistake != NULL && i < figure->scope->nsymbols; i++) {
        const SgSymbol *s = &figure->scope->symbol[i];
        if (s->kind != SG_KIND_mistake || s->name == SG_NO_SYM || !sg_str_is(sg_names_str(&r->c.names, s->name), r->job->mistake)) continue;
        *symbol = i;
        return true;
    }
    return false;
}

/* A mistake that no wanted figure has. */
static void check_mistake(Run *r, const SgFigure *const *wanted, uint32_t nwanted)
{
    uint32_t symbol;
    if (r->job->mistake == NULL) return;
    for (uint32_t k = 0; k < nwanted; k++) if (is_mistake_of(r, wanted[k], &symbol)) return;
    sg_putf(sg_run_fault(r, SG_COMMAND_WRONG), "no mistake `%s` is declared in the figure; one is declared with mistake %s of a wrong_side\n", r->job->mistake, r->job->mistake);
}

static SgSolved *solve_version(Run *r, const SgFigure *figure, const SgBinding *with, uint32_t nwith)
{
    SgSet set = { .seed = sg_str(r->job->seed != NULL ? r->job->seed : ""), .version = r->job->set };
    uint32_t *mistake = SG_NEW(r->c.arena, uint32_t);
    if (is_mistake_of(r, figure, mistake)) {
        set.mistake = mistake;
        set.nmistakes = 1;
    }
    return sg_solve_set(&r->c, r->model, figure, with, nwith, &set);
}

static SgSolved *solve_with(Run *r, const SgFigure *figure)
{
    const SgJob *job = r->job;
    SgBinding *with = SG_ARRAY(r->c.arena, SgBinding, job->nwith + 1);
    uint32_t n = 0, symbol;
    for (uint32_t i = 0; i < job->nwith; i++) {
        if (!is_parameter_of(r, figure, job->with[i].name, &symbol)) continue;
        SgExpr *value = sg_model_expression(&r->c, r->model, NULL, r->with[i]);
        if (value == NULL || !fits(r, figure, symbol, value)) return NULL;
        with[n++] = (SgBinding){ symbol, value, value->at };
    }
    return solve_version(r, figure, with, n);
}

static bool lays_out(const Run *r)
{
    SgJobKind kind = r->job->kind;
    return kind == SG_JOB_DRAW || kind == SG_JOB_CHECK || kind == SG_JOB_NOTES || kind == SG_JOB_SLIDES || kind == SG_JOB_PRESENTATION;
}

static void solve_all(Run *r, const SgFigure *const *wanted, uint32_t nwanted)
{
    const SgModel *m = r->model;
    bool *shared = SG_ARRAY(r->c.arena, bool, m->nfigures + m->nforeign + 1);
    for (uint32_t k = 0; k < nwanted; k++) {
        r->solved[wanted[k] - m->figure] = solve_with(r, wanted[k]);
        shared[wanted[k]->original] = true;
    }
    if (!lays_out(r)) return;
    for (uint32_t i = 0; i < m->nfigures; i++)
        if (r->solved[i] == NULL && shared[m->figure[i].original]) r->solved[i] = solve_version(r, &m->figure[i], NULL, 0);
}

/* ---- jobs that need no optics ---- */
static SgNode *read_whole(Run *r, uint16_t file, SgTokens *raw, SgTagged *tagged)
{
    *raw = sg_tokens(&r->c, file);
    *tagged = sg_words(&r->c, raw);
    SgNode *tree = sg_tree(&r->c, tagged);
    sg_tidy_order(&r->c, tree);
    return tree;
}

/* The tidied text is read again, and given out only when it says the same: an author's file is about to be replaced. */
static void tidy(Run *r)
{
    SgTokens raw, again;
    SgTagged tagged;
    SgBuf b = { .arena = r->c.arena };
    size_t n = r->job->script_length > SG_SCRIPT_LIMIT ? SG_SCRIPT_LIMIT + 1 : r->job->script_length;
    add_source(r, r->job->path, (SgStr){ n > 0 ? r->job->script : "", (uint32_t)n });
    if (!sg_text_check(&r->c, 0)) return;
    const SgNode *tree = read_whole(r, 0, &raw, &r->tagged);
    if (sg_errors(&r->c) > 0) return;
    sg_tidy(&r->c, &raw, &r->tagged, tree, &b);
    if (b.n > SG_SCRIPT_LIMIT) {
        sg_puts(sg_run_fault(r, SG_SCRIPT_WRONG), "tidied, it would be larger than 8 MiB; split it into several files\n");
        return;
    }
    const SgNode *told = read_whole(r, add_source(r, r->job->path, sg_buf_str(&b)), &again, &tagged);
    bool same = sg_errors(&r->c) == 0 && sg_tidy_same(&r->c, tree, told);
    r->c.diags.n = 0;
    r->c.nsources = 1;
    if (same) sg_run_product(r, SG_LIT(""), &b);
    else sg_puts(sg_run_fault(r, SG_MACHINE_FAILED), "tidying would change what the script says, which is a fault of sagitta; the script stays as it is\n");
}

static void put_words(Run *r)
{
    SgBuf b = { .arena = r->c.arena };
    switch (r->job->words) {
    case SG_WORDS_TEXT: sg_dump_text(&b); break;
    case SG_WORDS_JSON: sg_dump_json(&b, SG_VERSION); break;
    case SG_WORDS_MARKDOWN: sg_dump_markdown(&b); break;
    case SG_WORDS_DICTIONARY: sg_dump_dictionary(&b); break;
    case SG_WORDS_MESSAGES: sg_dump_messages(&b); break;
    }
    sg_run_product(r, SG_LIT(""), &b);
}

/* ---- the stages in order ---- */
void sg_run_start(Run *r, const SgJob *job, SgArena *arena)
{
    r->job = job;
    r->c.arena = r->faults.arena = arena;
    sg_names_init(&r->c.names, arena);
    r->nscripts = 1;
    r->c.source = SG_ARRAY(arena, SgSource, job->nwith + 2 + SG_MAX_FILES);
    r->with = SG_ARRAY(arena, const SgNode *, job->nwith + 1);
}

static void run_stages(Run *r);

/* A script with constructions is solved once to know which rays exist, written out, and run again. */
static void run_written_out(Run *r)
{
    const SgModel *m = r->model;
    SgBuf b = { .arena = r->c.arena };
    for (uint32_t i = 0; i < m->nfigures; i++) {
        if (r->solved[i] == NULL) r->solved[i] = solve_version(r, &m->figure[i], NULL, 0);
        if (r->solved[i]->broken) return;
    }
    if (sg_errors(&r->c) > 0 || r->faults.n > 0 || !sg_expand(&r->c, m, r->solved, &b)) return;
    if (r->job->kind == SG_JOB_EXPAND) { sg_run_product(r, SG_LIT(""), &b); return; }
    SgJob *job = SG_NEW(r->c.arena, SgJob);
    *job = *r->job;
    job->script = b.v;
    job->script_length = b.n;
    SgStr path = sg_format(r->c.arena, "%s, constructions written out", r->job->path);
    job->path = sg_str_keep(r->c.arena, path.s, path.n).s;
    SgArena *arena = r->c.arena;
    sg_run_keep_said(r);
    *r = (Run){ .fault = SG_DONE, .written_out = true, .said = r->said, .nsaid = r->nsaid };
    sg_run_start(r, job, arena);
    run_stages(r);
}

static void run_stages(Run *r)
{
    if (r->job->kind == SG_JOB_TIDY) tidy(r);
    if (r->job->kind == SG_JOB_WORDS) put_words(r);
    if (r->job->kind == SG_JOB_TIDY || r->job->kind == SG_JOB_WORDS || !sg_run_read(r)) return;
    if (r->job->kind == SG_JOB_ANSWERS) {
        if (sg_errors(&r->c) == 0) sg_run_answers(r);
        return;
    }
    if (sg_run_draws_sheet(r)) {
        if (sg_errors(&r->c) == 0) sg_run_sheet(r);
        return;
    }
    r->solved = SG_ARRAY(r->c.arena, SgSolved *, sg_run_figures(r->model) + 1);
    const SgFigure **wanted = SG_ARRAY(r->c.arena, const SgFigure *, r->model->nfigures + 1);
    uint32_t nwanted = choose_figures(r, wanted);
    bool sound = sg_errors(&r->c) == 0;
    if (sound && nwanted > 0) {
        check_settings(r, wanted, nwanted);
        check_step(r, wanted, nwanted);
        check_mistake(r, wanted, nwanted);
        read_command_line(r);
    }
    /* Under a damaged script values of the command line are unread, and defaults in their place could mislead. */
    if (r->faults.n > 0 || (!sound && r->job->nwith > 0) || (sound && sg_errors(&r->c) > 0)) return;
    solve_all(r, wanted, nwanted);
    if (r->model->nfigures == 0 && sound) {                    /* the values of a file without figures are worked out too */
        SgScope nothing = { .nsymbols = 0 };
        SgFigure file_alone = { .name = SG_NO_SYM, .scope = &nothing };
        solve_version(r, &file_alone, NULL, 0);
    }
    if (r->job->kind == SG_JOB_CHECK && sound && !r->written_out)
        for (uint32_t i = 0; i < r->model->nsheets && sg_errors(&r->c) == 0; i++) sg_run_work_out(r, i);
    if (sg_expand_needed(r->model) && sound && sg_errors(&r->c) == 0) { run_written_out(r); return; }
    if (r->job->kind == SG_JOB_EXPAND && sound) {
        SgBuf b = { .arena = r->c.arena };
        sg_put_str(&b, r->c.source[0].bytes);
        sg_run_product(r, SG_LIT(""), &b);
    }
    for (uint32_t k = 0; k < nwanted; k++) {
        SgSolved *solved = r->solved[wanted[k] - r->model->figure];
        if (solved == NULL || solved->broken) continue;
        if (r->expression != NULL) answer(r, solved);
        else if (lays_out(r)) draw_figure(r, solved);
    }
    if (sound && r->faults.n == 0) draw_panels(r);
    bool sound_still = sg_errors(&r->c) == 0 && r->faults.n == 0;
    if (r->job->kind == SG_JOB_NOTES && sound_still) sg_run_notes(r);
    if (r->job->kind == SG_JOB_PRESENTATION && sound_still) sg_run_presentation(r);
    if (r->job->kind == SG_JOB_SLIDES && sound_still) sg_run_slides(r);
    if (r->job->kind == SG_JOB_DRAW && r->pages.n > 0 && sound_still) sg_run_pdf(r);
    if (r->product_bytes > SG_OUTPUT_LIMIT)
        sg_puts(sg_run_fault(r, SG_SCRIPT_WRONG), "the drawings together pass 64 MiB; choose with --figure NAME\n");
    if (r->job->kind == SG_JOB_SOLVE && sg_errors(&r->c) == 0 && r->faults.n == 0) put_numbers(r, wanted, nwanted);
}

/* ---- the result ---- */
static SgStatus status_of(const Run *r, uint32_t warnings)
{
    bool script = false, command = false;
    for (uint32_t i = 0; i < r->c.diags.n; i++) {
        if (sg_code_info(r->c.diags.v[i].code)->severity != SG_ERROR) continue;
        if (r->c.diags.v[i].at.file >= r->nscripts && r->c.diags.v[i].code != SG_MSG_value_undefined) command = true;
        else script = true;
    }
    if (script || (!command && sg_errors(&r->c) > 0)) return SG_SCRIPT_WRONG;
    if (command) return SG_COMMAND_WRONG;
    if (r->faults.n > 0) return r->fault;
    return r->job->strict && warnings > 0 ? SG_SCRIPT_WRONG : SG_DONE;
}

static void finish(Run *r, SgResult *result)
{
    sg_messages_settle(&r->c, r->tagged.tops.v, r->tagged.tops.n);
    take_heads_off(r);
    result->errors = sg_errors(&r->c);
    for (uint32_t i = 0; i < r->c.diags.n; i++) result->warnings += sg_code_info(r->c.diags.v[i].code)->severity == SG_WARNING;
    result->warnings += r->nsaid;
    result->status = status_of(r, result->warnings);
    SgBuf b = { .arena = r->c.arena };
    sg_put(&b, r->said.v, r->said.n);
    sg_messages_text(&r->c, &b);
    sg_put(&b, r->faults.v, r->faults.n);
    result->messages_length = b.n;
    sg_put_char(&b, '\0');
    result->messages = b.v;
    if (result->status != SG_DONE) return;
    result->product = r->products.v;
    result->nproducts = r->products.n;
}

/* Not inlined, so that the function that calls setjmp has nothing of its own for the jump to spoil. */
__attribute__((noinline))
static void run(const SgJob *job, SgArena *arena, SgResult *result)
{
    Run *r = SG_NEW(arena, Run);
    sg_run_start(r, job, arena);
    run_stages(r);
    finish(r, result);
}

static bool guarded(const SgJob *job, SgArena *arena, jmp_buf *out, SgResult *result)
{
    if (setjmp(*out) != 0) return false;
    arena->out = out;
    run(job, arena, result);
    return true;
}

SgStatus sg_compile(const SgJob *job, SgResult *result)
{
    static const char NO_MEMORY[] = "sagitta: memory ran out; nothing was made\n";
    SgArena arena = { 0 };
    jmp_buf out;
    *result = (SgResult){ 0 };
    if (!guarded(job, &arena, &out, result)) {
        sg_arena_free(&arena);
        *result = (SgResult){ .status = SG_MACHINE_FAILED, .messages = NO_MEMORY, .messages_length = sizeof NO_MEMORY - 1 };
        return result->status;
    }
    result->memory = arena.head;
    return result->status;
}

void sg_result_free(SgResult *result)
{
    SgArena arena = { .head = result->memory };
    sg_arena_free(&arena);
    *result = (SgResult){ 0 };
}
