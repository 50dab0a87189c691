/* The command sagitta: command line and files round the compiler.
   in     argv, script files.
   out    products written whole or not at all, messages on standard error, an exit status (see SgStatus).
   never  knows a stage of the compiler. */
#define _XOPEN_SOURCE 700
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "cli/batch.h"
#include "cli/files.h"
#include "cli/forms.h"
#include "cli/options.h"
#include "cli/printer.h"
#include "cli/used.h"

static SgStatus tell(SgStatus status, const char *text)
{
    SgFault lost;
    char line[600];
    int n = snprintf(line, sizeof line, "sagitta: %s\n", text);
    sg_cli_write_open(STDERR_FILENO, "standard error", line, (size_t)n, &lost);
    return status;
}

static SgStatus print(const char *bytes, size_t length)
{
    SgFault fault;
    SgStatus status = sg_cli_write_open(STDOUT_FILENO, "to standard output", bytes, length, &fault);
    return status == SG_DONE ? status : tell(status, fault.text);
}

/* ---- where a drawing goes ---- */
typedef enum { TO_FILE, TO_FOLDER, TO_STANDARD_OUTPUT } Destination;

static bool ends_in(const char *s, const char *end)
{
    size_t n = strlen(s), m = strlen(end);
    return n >= m && strcmp(s + n - m, end) == 0;
}

static SgStatus destination_of_notes(const char *output, Destination *to)
{
    char text[512];
    *to = strcmp(output, "-") == 0 ? TO_STANDARD_OUTPUT : TO_FILE;
    if (*to != TO_FILE || strncmp(output, "/dev/", 5) == 0 || ((ends_in(output, ".html") || ends_in(output, ".pdf")) && !sg_cli_is_folder(output))) return SG_DONE;
    snprintf(text, sizeof text, "-o %.300s: the notes of all figures are one file; write a name ending in .html or .pdf", output);
    return tell(SG_COMMAND_WRONG, text);
}

static SgDrawForm form_of(const char *output)
{
    return ends_in(output, ".pdf") ? SG_FORM_PDF : ends_in(output, ".png") ? SG_FORM_PNG : SG_FORM_SVG;
}

static SgStatus destination_of(const char *output, Destination *to)
{
    char text[512];
    *to = strcmp(output, "-") == 0 ? TO_STANDARD_OUTPUT
        : ends_in(output, "/") || sg_cli_is_folder(output) ? TO_FOLDER : TO_FILE;
    if (*to != TO_FILE || form_of(output) != SG_FORM_SVG || ends_in(output, ".svg") || strncmp(output, "/dev/", 5) == 0) return SG_DONE;
    snprintf(text, sizeof text, "-o %.300s: draw makes SVG, PDF, PNG, ODP and slides; write a name ending in .svg, .pdf, .png, .odp or .html, or a folder ending in /", output);
    return tell(SG_COMMAND_WRONG, text);
}

/* A presentation's parts, as the one file they are. */
static SgStatus deliver_packed(const char *output, const SgResult *result, const SgScriptFile *script)
{
    SgFault fault;
    char *bytes;
    size_t length;
    if (!sg_cli_packer(result->product, result->nproducts, &bytes, &length)) return tell(SG_MACHINE_FAILED, "memory ran out; nothing was made");
    SgTarget target = { output, bytes, length, NULL, NULL, false };
    SgStatus status = sg_cli_write(&target, 1, script, &fault);
    free(bytes);
    return status == SG_DONE ? status : tell(status, fault.text);
}

static SgStatus deliver(const char *output, Destination to, const SgResult *result, const SgScriptFile *script)
{
    SgFault fault;
    if (result->nproducts == 0) return SG_DONE;
    const SgProduct *p = &result->product[0];
    if (to == TO_STANDARD_OUTPUT) return print(p->bytes, p->length);
    SgTarget target = { output, p->bytes, p->length, NULL, NULL, false };
    SgStatus status = sg_cli_write(&target, 1, script, &fault);
    return status == SG_DONE ? status : tell(status, fault.text);
}

/* ---- one script ---- */
static SgStatus run_job(SgJob *job, const char *root, const char *output, Destination to)
{
    SgScriptFile script;
    SgUsed *used = NULL;
    SgFault fault;
    SgResult result;
    SgStatus status = sg_cli_read(job->path, &script, &fault);
    if (status == SG_DONE) status = sg_cli_used(&used, root, &script, job, &fault);
    if (status != SG_DONE) {
        sg_cli_used_end(used);
        free(script.bytes);
        return tell(status, fault.text);
    }
    job->script = script.bytes;
    job->script_length = script.length;
    status = sg_compile(job, &result);
    sg_cli_write_open(STDERR_FILENO, "standard error", result.messages, result.messages_length, &fault);
    if (status == SG_DONE) status = job->kind == SG_JOB_PRESENTATION ? deliver_packed(output, &result, &script) : deliver(output, to, &result, &script);
    sg_result_free(&result);
    sg_cli_used_end(used);
    free(script.bytes);
    return status;
}

/* ---- commands ---- */
static bool whole_number(const char *s, uint32_t *value)
{
    *value = 0;
    for (size_t i = 0; s[i] != '\0'; i++) {
        if (s[i] < '0' || s[i] > '9' || i >= 6) return false;
        *value = *value * 10 + (uint32_t)(s[i] - '0');
    }
    return s[0] != '\0';
}

/* What a file of all figures with all their steps does not take; SG_DONE, or a fault told. */
static SgStatus only_plain(const SgCommandLine *line, const char *what)
{
    static const SgOption not[] = { SG_OPTION_step, SG_OPTION_frames, SG_OPTION_still, SG_OPTION_final, SG_OPTION_dpi, SG_OPTION_transparent,
                                    SG_OPTION_manifest, SG_OPTION_contact, SG_OPTION_texts, SG_OPTION_depfile, SG_OPTION_apart,
                                    SG_OPTION_sheet, SG_OPTION_key, SG_OPTION_overlay, SG_OPTION_strip, SG_OPTION_as };
    static const char *const word[] = { "step", "frames", "still", "final", "dpi", "transparent", "manifest", "contact", "texts", "depfile", "apart",
                                        "sheet", "key", "overlay", "strip", "as" };
    _Static_assert(sizeof not / sizeof *not == sizeof word / sizeof *word, "every option has its word");
    char text[200];
    for (size_t i = 0; i < sizeof not / sizeof *not; i++) {
        if (!line->given[not[i]]) continue;
        snprintf(text, sizeof text, "%s one file of all figures and all their steps; take --%s away", what, word[i]);
        return tell(SG_COMMAND_WRONG, text);
    }
    snprintf(text, sizeof text, "%s one file of one script", what);
    return line->noperands > 1 ? tell(SG_COMMAND_WRONG, text) : SG_DONE;
}

static bool read_ratio(const SgCommandLine *line, SgJob *job)
{
    const char *ratio = line->value[SG_OPTION_ratio];
    job->narrow = ratio != NULL && strcmp(ratio, "4:3") == 0;
    return ratio == NULL || job->narrow || strcmp(ratio, "16:9") == 0;
}

/* Handed over to the program that packs where this one has not. */
static SgStatus present(const SgCommandLine *line, SgJob *job)
{
    char text[300];
    SgStatus status = only_plain(line, "a presentation is");
    if (status != SG_DONE) return status;
    if (!read_ratio(line, job)) return tell(SG_COMMAND_WRONG, "--ratio wants 16:9 or 4:3");
    if (sg_cli_packer == NULL) {
        sg_cli_hand_over(text, sizeof text);
        return tell(SG_MACHINE_FAILED, text);
    }
    job->kind = SG_JOB_PRESENTATION;
    return run_job(job, line->value[SG_OPTION_root], line->value[SG_OPTION_output], TO_FILE);
}

/* The date that reproducible builds give their documents (reproducible-builds.org, SOURCE_DATE_EPOCH); no clock is read. 0 without
   one; false when it is no whole number of seconds before the year 10000, which a PDF's dates cannot tell. */
static bool made(int64_t *seconds)
{
    const int64_t year_10000 = 253402300800;
    const char *s = getenv("SOURCE_DATE_EPOCH");
    *seconds = 0;
    for (; s != NULL && *s >= '0' && *s <= '9' && *seconds < year_10000; s++) *seconds = *seconds * 10 + (*s - '0');
    return s == NULL || (*s == '\0' && *seconds < year_10000);
}

/* What only printing takes; SG_DONE, or a fault told. Hands over to the program that prints where this one cannot. */
static SgStatus ready_to_print(const SgCommandLine *line, SgJob *job, const SgForms *forms)
{
    char text[300];
    bool pdf = sg_cli_has_form(forms, SG_AS_PDF), png = sg_cli_has_form(forms, SG_AS_PNG), several = line->given[SG_OPTION_as];
    if (line->given[SG_OPTION_final] && !pdf)
        return tell(SG_COMMAND_WRONG, several ? "--final is for PDF; add pdf to --as, or take --final away" : "--final is for PDF; write a name ending in .pdf");
    if (line->given[SG_OPTION_dpi] && !png)
        return tell(SG_COMMAND_WRONG, several ? "--dpi is for PNG; add png to --as, or take --dpi away" : "--dpi is for PNG; write a name ending in .png");
    if (line->given[SG_OPTION_dpi] && (!whole_number(line->value[SG_OPTION_dpi], &job->dpi) || job->dpi < 18 || job->dpi > 2400))
        return tell(SG_COMMAND_WRONG, "--dpi wants a whole number from 18 to 2400");
    job->final = line->given[SG_OPTION_final];
    job->printer = sg_cli_printer;
    if (!made(&job->made_s) && pdf)
        return tell(SG_COMMAND_WRONG, "SOURCE_DATE_EPOCH gives a PDF its date, in whole seconds since 1970 and before the year 10000; mend it, or unset it");
    if (!sg_cli_forms_print(forms) || job->printer != NULL) return SG_DONE;
    sg_cli_hand_over(text, sizeof text);
    return tell(SG_MACHINE_FAILED, text);
}

/* The forms that --as asks for, and the options that not all of them take: what one form alone takes is for that one. */
static SgStatus read_forms(const SgCommandLine *line, SgJob *job, bool into_folder, SgForms *forms)
{
    SgFault fault;
    if (!into_folder) return tell(SG_COMMAND_WRONG, "--as gives the forms of figures drawn into a folder; write -o FOLDER/");
    if (!sg_cli_forms(line->value[SG_OPTION_as], forms, &fault)) return tell(SG_COMMAND_WRONG, fault.text);
    bool drawn = sg_cli_has_form(forms, SG_AS_SVG) || sg_cli_has_form(forms, SG_AS_PNG);
    bool slides = sg_cli_has_form(forms, SG_AS_HTML) || sg_cli_has_form(forms, SG_AS_ODP);
    if (line->given[SG_OPTION_frames] && !drawn)
        return tell(SG_COMMAND_WRONG, "--frames makes a file a step of SVG and PNG, and the other forms have all steps in one; add svg or png to --as, or take --frames away");
    if (slides && (line->given[SG_OPTION_step] || line->given[SG_OPTION_strip]))
        return tell(SG_COMMAND_WRONG, line->given[SG_OPTION_step] ? "slides show every step; take --step away, or html and odp out of --as"
                                                                 : "slides show a step at a time; take --strip away, or html and odp out of --as");
    if (line->given[SG_OPTION_ratio] && !slides) return tell(SG_COMMAND_WRONG, "--ratio is for slides; add html or odp to --as, or take --ratio away");
    if (!read_ratio(line, job)) return tell(SG_COMMAND_WRONG, "--ratio wants 16:9 or 4:3");
    bool sheet = line->given[SG_OPTION_sheet] || line->given[SG_OPTION_key] || line->given[SG_OPTION_overlay];
    if (sheet && (slides || sg_cli_has_form(forms, SG_AS_PDF)))
        return tell(SG_COMMAND_WRONG, "of sheets, --as takes svg and png, a file a page; a PDF of all pages is made by -o NAME.pdf");
    return SG_DONE;
}

static SgStatus slides(const SgCommandLine *line, SgJob *job)
{
    SgStatus plain = only_plain(line, "a page of slides is");
    if (plain != SG_DONE) return plain;
    if (!read_ratio(line, job)) return tell(SG_COMMAND_WRONG, "--ratio wants 16:9 or 4:3");
    job->kind = SG_JOB_SLIDES;
    job->style = line->value[SG_OPTION_style];
    return run_job(job, line->value[SG_OPTION_root], line->value[SG_OPTION_output], TO_FILE);
}

static SgStatus notes(const SgCommandLine *line, SgJob *job)
{
    Destination to;
    SgStatus plain = only_plain(line, "--notes makes");
    if (plain != SG_DONE) return plain;
    if (line->given[SG_OPTION_ratio]) return tell(SG_COMMAND_WRONG, "--notes makes a page for paper; take --ratio away");
    SgStatus status = destination_of_notes(line->value[SG_OPTION_output], &to);
    if (status != SG_DONE) return status;
    job->kind = SG_JOB_NOTES;
    job->form = to == TO_FILE && form_of(line->value[SG_OPTION_output]) == SG_FORM_PDF ? SG_FORM_PDF : SG_FORM_SVG;
    status = ready_to_print(line, job, &(SgForms){ { job->form == SG_FORM_PDF ? SG_AS_PDF : SG_AS_SVG }, 1 });
    if (status != SG_DONE) return status;
    return run_job(job, line->value[SG_OPTION_root], line->value[SG_OPTION_output], to);
}

static bool version_letter(const char *s, uint32_t *version)
{
    if (s[0] == '\0' || s[1] != '\0') return false;
    *version = (uint32_t)((s[0] | 0x20) - 'a');
    return *version < 26;
}

static SgStatus draw(const SgCommandLine *line, SgJob *job)
{
    const char *output = line->value[SG_OPTION_output];
    Destination to;
    if (!line->given[SG_OPTION_output]) return tell(SG_COMMAND_WRONG, "draw wants -o OUT: a name ending in .svg, .pdf, .png or .odp, a folder ending in /, or -");
    job->style = line->given[SG_OPTION_style] ? line->value[SG_OPTION_style] : NULL;
    if (line->given[SG_OPTION_notes]) return notes(line, job);
    if (ends_in(output, ".odp") && !sg_cli_is_folder(output)) return present(line, job);
    if (ends_in(output, ".html") && !sg_cli_is_folder(output)) return slides(line, job);
    if (line->given[SG_OPTION_ratio] && !line->given[SG_OPTION_as]) return tell(SG_COMMAND_WRONG, "--ratio is for slides; write -o with a name ending in .html or .odp");
    SgStatus status = destination_of(output, &to);
    if (status != SG_DONE) return status;
    job->kind = SG_JOB_DRAW;
    bool lists = line->given[SG_OPTION_manifest] || line->given[SG_OPTION_contact] || line->given[SG_OPTION_texts] || line->given[SG_OPTION_depfile];
    if (to != TO_FOLDER && line->noperands > 1) return tell(SG_COMMAND_WRONG, "several scripts want a folder to draw into: -o FOLDER/");
    if (to == TO_STANDARD_OUTPUT && lists) return tell(SG_COMMAND_WRONG, "--manifest, --contact, --texts and --depfile want outputs that are files, and -o - is none");
    job->form = to == TO_FILE ? form_of(output) : SG_FORM_SVG;
    SgForms forms = { { job->form == SG_FORM_PDF ? SG_AS_PDF : job->form == SG_FORM_PNG ? SG_AS_PNG : SG_AS_SVG }, 1 };
    if (line->given[SG_OPTION_as]) status = read_forms(line, job, to == TO_FOLDER, &forms);
    if (status != SG_DONE) return status;
    job->frames = line->given[SG_OPTION_frames];
    if (job->frames && job->form == SG_FORM_PDF) return tell(SG_COMMAND_WRONG, "a PDF has a page a step already; take --frames away");
    if (job->frames && to == TO_STANDARD_OUTPUT) return tell(SG_COMMAND_WRONG, "--frames makes a file a step, and -o - is one; give a name or a folder");
    job->every = to == TO_FOLDER || job->form == SG_FORM_PDF;
    job->each = to == TO_FOLDER;
    if (job->form == SG_FORM_PDF && (line->given[SG_OPTION_manifest] || line->given[SG_OPTION_contact] || line->given[SG_OPTION_texts]))
        return tell(SG_COMMAND_WRONG, "--manifest, --contact and --texts list figures, and a PDF holds all of a script; write a name ending in .svg or .png, or a folder ending in / and --as pdf");
    if (line->given[SG_OPTION_key] && line->given[SG_OPTION_overlay]) return tell(SG_COMMAND_WRONG, "draw makes one of --key and --overlay at a time");
    job->sheet = line->value[SG_OPTION_sheet];
    job->part = line->given[SG_OPTION_key] ? SG_SHEET_KEY : line->given[SG_OPTION_overlay] ? SG_SHEET_OVERLAY : SG_SHEET_GIVEN;
    job->one_set = line->given[SG_OPTION_set];
    status = ready_to_print(line, job, &forms);
    if (status != SG_DONE) return status;
    job->still = line->given[SG_OPTION_still];
    job->strip = line->given[SG_OPTION_strip];
    if (job->strip && (line->given[SG_OPTION_step] || job->frames || line->given[SG_OPTION_sheet]))
        return tell(SG_COMMAND_WRONG, "--strip shows all steps of a figure in one still picture; take --step, --frames or --sheet away");
    job->transparent = line->given[SG_OPTION_transparent];
    job->stop_at_step = line->given[SG_OPTION_step];
    if (job->stop_at_step && !whole_number(line->value[SG_OPTION_step], &job->step))
        return tell(SG_COMMAND_WRONG, "--step wants a whole number: 0 for the givens only, 1 for the first step with them");
    if (to == TO_FOLDER || lists || job->frames || line->given[SG_OPTION_apart]) return sg_cli_batch(line, job, &forms, to == TO_FOLDER);
    return run_job(job, line->value[SG_OPTION_root], output, to);
}

static SgStatus check(const SgCommandLine *line, SgJob *job)
{
    SgStatus worst = SG_DONE;
    job->kind = SG_JOB_CHECK;
    for (uint32_t i = 0; i < line->noperands; i++) {
        job->path = line->operand[i];
        SgStatus status = run_job(job, line->value[SG_OPTION_root], "-", TO_STANDARD_OUTPUT);
        if (status > worst) worst = status;
    }
    return worst;
}

/* The tidied form goes to the file, to standard output, or is only compared. */
static SgStatus deliver_tidied(const SgJob *job, const SgProduct *p, bool only_name)
{
    static const SgScriptFile none;      /* the script itself is what may be replaced */
    SgFault fault;
    char name[600];
    bool standard = strcmp(job->path, "-") == 0;
    bool same = p->length == job->script_length && (p->length == 0 || memcmp(p->bytes, job->script, p->length) == 0);
    if (only_name) {
        if (same) return SG_DONE;
        int n = snprintf(name, sizeof name, "%.500s\n", standard ? "standard input" : job->path);
        SgStatus status = print(name, (size_t)n);
        return status == SG_DONE ? SG_SCRIPT_WRONG : status;
    }
    if (standard) return print(p->bytes, p->length);
    if (same) return SG_DONE;
    SgTarget target = { job->path, p->bytes, p->length, NULL, NULL, true };
    SgStatus status = sg_cli_write(&target, 1, &none, &fault);
    return status == SG_DONE ? status : tell(status, fault.text);
}

static SgStatus tidy_one(SgJob *job, bool only_name)
{
    SgScriptFile script;
    SgFault fault;
    SgResult result;
    SgStatus status = sg_cli_read(job->path, &script, &fault);
    if (status != SG_DONE) {
        free(script.bytes);
        return tell(status, fault.text);
    }
    job->script = script.bytes;
    job->script_length = script.length;
    status = sg_compile(job, &result);
    sg_cli_write_open(STDERR_FILENO, "standard error", result.messages, result.messages_length, &fault);
    if (status == SG_DONE) status = deliver_tidied(job, &result.product[0], only_name);
    sg_result_free(&result);
    free(script.bytes);
    return status;
}

static SgStatus tidy(const SgCommandLine *line, SgJob *job)
{
    SgStatus worst = SG_DONE;
    job->kind = SG_JOB_TIDY;
    for (uint32_t i = 0; i < line->noperands; i++) {
        job->path = line->operand[i];
        SgStatus status = tidy_one(job, line->given[SG_OPTION_check]);
        if (status > worst) worst = status;
    }
    return worst;
}

static SgStatus words(const SgCommandLine *line, SgJob *job)
{
    static const struct { SgOption option; SgWordsForm form; } forms[] = {
        { SG_OPTION_json, SG_WORDS_JSON }, { SG_OPTION_md, SG_WORDS_MARKDOWN },
        { SG_OPTION_dict, SG_WORDS_DICTIONARY }, { SG_OPTION_messages, SG_WORDS_MESSAGES },
    };
    SgResult result;
    uint32_t given = 0;
    if (line->noperands > 0) return tell(SG_COMMAND_WRONG, "words takes no file: write sagitta words");
    job->kind = SG_JOB_WORDS;
    for (size_t i = 0; i < sizeof forms / sizeof *forms; i++) {
        if (!line->given[forms[i].option]) continue;
        job->words = forms[i].form;
        given++;
    }
    if (given > 1) return tell(SG_COMMAND_WRONG, "words takes one of --json, --md, --dict and --messages");
    SgStatus status = sg_compile(job, &result);
    sg_cli_write_open(STDERR_FILENO, "standard error", result.messages, result.messages_length, &(SgFault){ "" });
    if (status == SG_DONE) status = print(result.product[0].bytes, result.product[0].length);
    sg_result_free(&result);
    return status;
}

static SgStatus help(SgCommand command)
{
    char text[8192];
    return print(text, sg_cli_help(command, text, sizeof text));
}

static SgStatus help_with(const char *word)
{
    SgCommandLine line = { .command = SG_COMMAND_COUNT };
    if (!sg_cli_command(&line, word)) return tell(SG_COMMAND_WRONG, line.fault);
    return help(line.command);
}

static SgStatus run_command(const SgCommandLine *line)
{
    static const char VERSION[] = "sagitta " SG_VERSION "\n";
    SgJob job = {
        .path = line->noperands > 0 ? line->operand[0] : NULL,
        .figure = line->value[SG_OPTION_figure],
        .mistake = line->value[SG_OPTION_mistake],
        .with = line->with, .nwith = line->nwith,
        .seed = line->value[SG_OPTION_seed],
        .strict = line->given[SG_OPTION_strict],
    };
    if (line->given[SG_OPTION_set] && !version_letter(line->value[SG_OPTION_set], &job.set)) return tell(SG_COMMAND_WRONG, "--set wants one letter, A to Z");
    if (line->given[SG_OPTION_version]) return print(VERSION, sizeof VERSION - 1);
    if (line->given[SG_OPTION_help]) return help(line->command);
    switch (line->command) {
    case SG_COMMAND_draw: return draw(line, &job);
    case SG_COMMAND_solve:
        job.kind = SG_JOB_SOLVE;
        job.json = line->given[SG_OPTION_json];
        return run_job(&job, line->value[SG_OPTION_root], "-", TO_STANDARD_OUTPUT);
    case SG_COMMAND_ask:
        job.kind = SG_JOB_ASK;
        job.expression = line->operand[1];
        return run_job(&job, line->value[SG_OPTION_root], "-", TO_STANDARD_OUTPUT);
    case SG_COMMAND_answers:
        job.kind = SG_JOB_ANSWERS;
        job.sheet = line->value[SG_OPTION_sheet];
        job.csv = line->given[SG_OPTION_csv];
        job.json = line->given[SG_OPTION_json];
        if (job.csv && job.json) return tell(SG_COMMAND_WRONG, "answers takes one of --csv and --json");
        return run_job(&job, line->value[SG_OPTION_root], "-", TO_STANDARD_OUTPUT);
    case SG_COMMAND_check: return check(line, &job);
    case SG_COMMAND_expand:
        job.kind = SG_JOB_EXPAND;
        return run_job(&job, line->value[SG_OPTION_root], "-", TO_STANDARD_OUTPUT);
    case SG_COMMAND_tidy: return tidy(line, &job);
    case SG_COMMAND_words: return words(line, &job);
    case SG_COMMAND_help: return line->noperands > 0 ? help_with(line->operand[0]) : help(SG_COMMAND_COUNT);
    case SG_COMMAND_COUNT: break;
    }
    return tell(SG_COMMAND_WRONG, "a command is wanted: draw, solve, ask, answers, check, tidy, expand or words; sagitta --help tells more");
}

int main(int argc, char **argv)
{
    SgCommandLine line;
    signal(SIGPIPE, SIG_IGN);      /* so that a reader who leaves is a failed write like any other, */
    signal(SIGXFSZ, SIG_IGN);      /* and so is a limit on the size of files */
    SgStatus status = sg_cli_parse(argc, argv, &line) ? run_command(&line) : tell(SG_COMMAND_WRONG, line.fault);
    sg_cli_free(&line);
    return (int)status;
}
