/* driver: the jobs of sheets. In: a script that was read. Out: pages or answers of one of its sheets, all versions.
   Never draws a figure by itself. */
#include "run.h"

#include <stddef.h>

#include "expand/expand.h"
#include "output/answers.h"
#include "output/output.h"
#include "paper/handout.h"

/* The script with the constructions of a sheet's problems written out for one version, read anew; NULL after a message. */
static Run *written_out_for(Run *r, const SgSheet *sheet, SgSheetForm *form, uint32_t version)
{
    SgArena *arena = r->c.arena;
    SgSolved **solved = SG_ARRAY(arena, SgSolved *, sg_run_figures(r->model) + 1);
    SgBuf b = { .arena = arena };
    for (uint32_t i = 0; i < sheet->nproblems; i++) {
        SgSolved *s = sg_sheet_solve(&r->c, r->model, sheet, form, i, version);
        if (s != NULL && s->broken) return NULL;
        if (s != NULL) solved[sheet->problem[i].figure] = s;
    }
    if (sg_errors(&r->c) > 0 || !sg_expand(&r->c, r->model, solved, &b)) return NULL;
    SgJob *job = SG_NEW(arena, SgJob);
    *job = *r->job;
    job->script = b.v;
    job->script_length = b.n;
    SgStr path = sg_format(arena, "%s, written out for version %c", r->job->path, (char)('A' + version));
    job->path = sg_str_keep(arena, path.s, path.n).s;
    Run *out = SG_NEW(arena, Run);
    sg_run_start(out, job, arena);
    if (sg_run_read(out) && sg_errors(&out->c) == 0) return out;
    *r = *out;
    return NULL;
}

/* What is to be heard of a version, said where the author's script asks for the value; once, for the first version it holds of. */
static void say_warnings(Run *r, const SgSheet *sheet, const SgSheetVersion *v)
{
    for (uint32_t i = 0; i < v->nproblems; i++) {
        const SgPhrase *asks = sg_phrase(&sheet->problem[i].statement, SG_PHRASE_problem_asks);
        for (uint32_t k = 0; k < v->problem[i].warnings.n; k++) {
            const SgSheetWarning *w = &v->problem[i].warnings.v[k];
            sg_say(&r->c, w->code, asks->value[w->asked]->at, "%.*s", (int)w->text.n, w->text.s);
        }
    }
}

/* All versions of a sheet; NULL after a message. */
SgSheetForm *sg_run_work_out(Run *r, uint32_t index)
{
    const SgSheet *sheet = &r->model->sheet[index];
    SgSheetForm *form = sg_sheet_form(&r->c, r->model, sheet, r->job->seed);
    for (uint32_t v = 0; form != NULL && v < form->nversions; v++) {
        Run *own = r;
        if (sg_expand_sheet_needed(r->model, sheet)) own = written_out_for(r, sheet, form, v);
        if (own == NULL) return NULL;
        if (sg_sheet_version(&own->c, own->model, &own->model->sheet[index], form, v)) { say_warnings(r, sheet, &form->version[v]); continue; }
        if (own != r) *r = *own;
        return NULL;
    }
    return form;
}

/* Warnings about sheets, which the written-out script does not work out again. */
void sg_run_keep_said(Run *r)
{
    SgCompile own = r->c;
    own.diags.n = own.untold = 0;
    for (uint32_t i = 0; i < r->c.diags.n; i++)
        if (r->c.diags.v[i].code == SG_MSG_rays_shallow || r->c.diags.v[i].code == SG_MSG_mistake_hidden) own.diags.v[own.diags.n++] = r->c.diags.v[i];
    r->said = (SgBuf){ .arena = r->c.arena };
    r->nsaid = own.diags.n;
    if (own.diags.n > 0) sg_messages_text(&own, &r->said);
}

static void fault_sheet(Run *r)
{
    const SgModel *m = r->model;
    uint32_t n = 0;
    if (m->nsheets == 0) {
        sg_puts(sg_run_fault(r, SG_SCRIPT_WRONG), "the script has no sheet; one begins with sheet name {\n");
        return;
    }
    if (r->job->sheet != NULL) sg_putf(sg_run_fault(r, SG_COMMAND_WRONG), "the script has no sheet `%s`; it has ", r->job->sheet);
    else sg_puts(sg_run_fault(r, SG_COMMAND_WRONG), "the script has several sheets; choose one with --sheet NAME: ");
    for (uint32_t i = 0; i < m->nsheets; i++) sg_run_list(&r->faults, sg_names_str(&r->c.names, m->sheet[i].statement.name), &n);
    sg_put_char(&r->faults, '\n');
}

/* Which sheet the job is about; false after a fault. */
static bool choose_sheet(Run *r, uint32_t *index)
{
    const SgModel *m = r->model;
    uint32_t n = 0;
    for (uint32_t i = 0; i < m->nsheets; i++) {
        SgSym name = m->sheet[i].statement.name;
        if (r->job->sheet != NULL && (name == SG_NO_SYM || !sg_str_is(sg_names_str(&r->c.names, name), r->job->sheet))) continue;
        *index = i;
        n++;
    }
    if (n != 1) fault_sheet(r);
    return n == 1;
}

void sg_run_answers(Run *r)
{
    uint32_t index;
    if (!choose_sheet(r, &index)) return;
    SgSheetForm *form = sg_run_work_out(r, index);
    if (form == NULL) return;
    SgBuf b = { .arena = r->c.arena };
    if (r->job->csv) sg_output_answers_csv(form, &b);
    else if (r->job->json) sg_output_answers_json(form, SG_VERSION, &b);
    else sg_output_answers(form, &b);
    sg_run_product(r, SG_LIT(""), &b);
}

bool sg_run_draws_sheet(const Run *r)
{
    const SgJob *job = r->job;
    bool asked = job->sheet != NULL || job->part != SG_SHEET_GIVEN || (job->form == SG_FORM_PDF && !job->each && job->figure == NULL && r->model->nsheets > 0);
    return job->kind == SG_JOB_DRAW && asked;
}

static void put_page(Run *r, const SgPage *page)
{
    SgBuf b = { .arena = r->c.arena };
    if (r->job->form == SG_FORM_PDF) SG_PUSH(r->c.arena, &r->pages, page);
    if (r->job->form == SG_FORM_PNG) sg_run_png(r, page);
    if (r->job->form != SG_FORM_SVG || r->product_bytes > SG_OUTPUT_LIMIT) return;
    sg_output_svg(page, (SgSvgOptions){ .still = true, .step = -1 }, &b);
    sg_run_product(r, page->id, &b);
}

/* What was said about a version stands in the compile of its own script. */
static void take_messages_of(Run *r, const SgSheetForm *form)
{
    for (uint32_t v = 0; v < form->nversions; v++) {
        SgCompile *c = form->version[v].c;
        if (c == &r->c || sg_errors(c) == 0) continue;
        *r = *(Run *)(void *)((char *)c - offsetof(Run, c));
        return;
    }
}

void sg_run_sheet(Run *r)
{
    const SgJob *job = r->job;
    static const SgPaperKind kind[] = { SG_PAPER_SHEET, SG_PAPER_KEY, SG_PAPER_OVERLAY };
    uint32_t index, n, strip = 0;
    if (!choose_sheet(r, &index)) return;
    SgSheetForm *form = sg_run_work_out(r, index);
    if (form == NULL) return;
    if (job->one_set && job->set >= form->nversions) {
        sg_putf(sg_run_fault(r, SG_COMMAND_WRONG), "--set %c: the sheet has the versions A to %c\n", (char)('A' + job->set), (char)('A' + form->nversions - 1));
        return;
    }
    const SgPage *const *page = sg_handout(form, job->one_set ? (int)job->set : -1, kind[job->part], &n), *const *answers = NULL;
    if (page == NULL) { take_messages_of(r, form); return; }
    if (job->part == SG_SHEET_KEY && form->nversions > 1 && !job->one_set) answers = sg_handout_strip(form, &strip);
    if (n + strip > 1 && job->form != SG_FORM_PDF && !job->every) {
        sg_putf(sg_run_fault(r, SG_COMMAND_WRONG), "these are %u pages; draw them as PDF, or into a folder with -o FOLDER/\n", (unsigned)(n + strip));
        return;
    }
    for (uint32_t i = 0; i < n; i++) put_page(r, page[i]);
    for (uint32_t i = 0; i < strip; i++) put_page(r, answers[i]);
    if (r->pages.n > 0 && r->faults.n == 0) sg_run_pdf(r);
}
