/* cli: scripts drawn in one call.
   in     the command line.
   out    all outputs of the scripts that are right, written in one go; the lists of the call where all scripts are right.
   never  writes where two outputs, or an output and a script, would share a name. */
#define _XOPEN_SOURCE 700
#include "cli/batch.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "cli/lists.h"
#include "cli/printer.h"

enum { MANIFEST, CONTACT_SHEET, TEXTS, DEPFILE, LISTS };
static const SgOption LIST_OPTION[LISTS] = { SG_OPTION_manifest, SG_OPTION_contact, SG_OPTION_texts, SG_OPTION_depfile };
/* Asked for, so that `--manifest a.sag`, a name forgotten, costs no script. */
static const char LIST_ENDING[LISTS][8] = { ".json", ".html", ".csv", ".d" };

typedef struct {
    const SgCommandLine *line;
    const SgJob *job;
    const SgForms *forms;
    bool into_folder;
    SgDrawing *drawing; uint32_t n;
    SgArena arena;
    SgTarget *target; uint32_t ntargets;
    SgStatus status;
} Batch;

__attribute__((format(printf, 2, 3)))
static SgStatus tell(SgStatus status, const char *fmt, ...)
{
    SgFault lost;
    char text[2048] = "sagitta: ";
    va_list args;
    va_start(args, fmt);
    vsnprintf(text + 9, sizeof text - 10, fmt, args);
    va_end(args);
    strcat(text, "\n");
    sg_cli_write_open(STDERR_FILENO, "standard error", text, strlen(text), &lost);
    return status;
}

/* ---- drawing ---- */
static const char *kept(SgArena *a, const char *text) { return text != NULL ? sg_str_keep(a, text, strlen(text)).s : NULL; }

/* What a compile made, without all that it took to make it, where more compiles follow. */
static void keep(SgArena *a, SgResult *result)
{
    SgResult own = { .status = result->status, .nproducts = result->nproducts, .messages_length = result->messages_length };
    SgProduct *product = SG_ARRAY(a, SgProduct, result->nproducts + 1);
    for (uint32_t i = 0; i < result->nproducts; i++) {
        SgProduct *p = &product[i];
        *p = result->product[i];
        p->bytes = sg_str_keep(a, p->bytes, p->length).s;
        p->figure = kept(a, p->figure);
        p->part = kept(a, p->part);
        p->frame = kept(a, p->frame);
        p->title = kept(a, p->title);
        p->brief = kept(a, p->brief);
        p->describe = kept(a, p->describe);
        const char **face = SG_ARRAY(a, const char *, p->nfaces + 1);
        for (uint32_t k = 0; k < p->nfaces; k++) face[k] = kept(a, p->face[k]);
        uint32_t *rgb = SG_ARRAY(a, uint32_t, p->nrgb + 1);
        for (uint32_t k = 0; k < p->nrgb; k++) rgb[k] = p->rgb[k];
        p->face = face;
        p->rgb = rgb;
    }
    own.product = product;
    own.messages = sg_str_keep(a, result->messages, result->messages_length).s;
    sg_result_free(result);
    *result = own;
}

/* Each form is a compile of its own; what an earlier one said is not said again. */
static SgStatus draw_form(Batch *b, SgDrawing *d, SgJob job, uint32_t k)
{
    SgFault lost;
    const SgForm *form = sg_cli_form(b->forms->as[k]);
    SgResult *result = &d->drawn[k];
    job.kind = form->kind;
    job.form = form->form;
    job.frames = job.frames && (b->forms->as[k] == SG_AS_SVG || b->forms->as[k] == SG_AS_PNG);
    sg_compile(&job, result);
    const char *says = result->messages;
    size_t n = result->messages_length, before = k > 0 ? d->drawn[k - 1].messages_length : 0;
    if (before <= n && before > 0 && memcmp(says, d->drawn[k - 1].messages, before) == 0) {
        says += before;
        n -= before;
    }
    sg_cli_write_open(STDERR_FILENO, "standard error", says, n, &lost);
    SgStatus status = result->status;
    if (b->n > 1 || b->forms->n > 1 || b->line->given[SG_OPTION_contact]) keep(&b->arena, result);
    return status;
}

static void draw_one(Batch *b, SgDrawing *d)
{
    SgFault fault;
    SgJob job = *b->job;
    job.path = d->path;
    d->status = sg_cli_read(d->path, &d->script, &fault);
    if (d->status == SG_DONE) d->status = sg_cli_used(&d->used, b->line->value[SG_OPTION_root], &d->script, &job, &fault);
    if (d->status != SG_DONE) {
        tell(d->status, "%s", fault.text);
        return;
    }
    job.script = d->script.bytes;
    job.script_length = d->script.length;
    for (uint32_t k = 0; k < b->forms->n && d->status == SG_DONE; k++) d->status = draw_form(b, d, job, k);
    if (d->status != SG_DONE || !b->line->given[SG_OPTION_contact]) return;
    job.still = true;
    job.kind = SG_JOB_DRAW;
    job.form = SG_FORM_SVG;
    d->status = sg_compile(&job, &d->still);
    if (b->n > 1) keep(&b->arena, &d->still);
}

/* ---- names ---- */
/* A script's name without its folder and ending, for the folder that --apart gives it. */
static SgStr script_name(const char *path)
{
    static const char ENDING[] = ".sag";
    const char *slash = strrchr(path, '/'), *name = slash != NULL ? slash + 1 : path;
    size_t n = strlen(name), m = sizeof ENDING - 1;
    if (strcmp(path, "-") == 0) return SG_LIT("script");
    return (SgStr){ name, (uint32_t)(n > m && strcmp(name + n - m, ENDING) == 0 ? n - m : n) };
}

/* `to`, with a frame's number before its ending. */
static const char *frame_name(SgArena *a, const char *to, const char *frame)
{
    const char *dot = strrchr(to, '.');
    if (frame == NULL || dot == NULL) return to;
    return sg_format(a, "%.*s%s%s", (int)(dot - to), to, frame, dot).s;
}

static const char *output_path(Batch *b, const SgDrawing *d, const SgProduct *p, SgAs as)
{
    const char *name = b->line->value[SG_OPTION_output];
    if (b->into_folder) name = sg_format(&b->arena, "%s%s.%s", d->folder, p->figure, sg_cli_form(as)->word).s;
    return frame_name(&b->arena, name, p->frame);
}

/* False when memory ran out. */
static bool add_outputs(Batch *b, SgDrawing *d, const SgResult *drawn, SgAs as)
{
    for (uint32_t k = 0, parts = 0; k < drawn->nproducts; k += parts) {
        const SgProduct *p = &drawn->product[k];
        for (parts = 1; p->part != NULL && k + parts < drawn->nproducts && strcmp(p[parts].part, p->part) != 0;) parts++;
        SgOutput *o = &d->output[d->noutputs++];
        *o = (SgOutput){ .as = as, .product = &p[parts - 1], .bytes = p->bytes, .length = p->length };
        o->path = output_path(b, d, p, as);
        if (p->part == NULL) continue;
        if (!sg_cli_packer(p, parts, &o->packed, &o->length)) return false;
        o->bytes = o->packed;
    }
    return true;
}

static void name_outputs(Batch *b, SgDrawing *d)
{
    const char *to = b->line->value[SG_OPTION_output];
    SgStr own = script_name(d->path);
    uint32_t n = 0;
    d->folder = to[strlen(to) - 1] == '/' ? to : sg_format(&b->arena, "%s/", to).s;
    if (b->line->given[SG_OPTION_apart]) d->folder = sg_format(&b->arena, "%s%.*s/", d->folder, (int)own.n, own.s).s;
    for (uint32_t k = 0; k < b->forms->n; k++) n += d->drawn[k].nproducts;
    d->output = SG_ARRAY(&b->arena, SgOutput, n + 1);
    for (uint32_t k = 0; k < b->forms->n && d->status == SG_DONE; k++)
        if (!add_outputs(b, d, &d->drawn[k], b->forms->as[k])) d->status = tell(SG_MACHINE_FAILED, "memory ran out; nothing of %.300s was made", d->path);
}

static void add_target(Batch *b, const char *path, const char *bytes, size_t length)
{
    b->target[b->ntargets++] = (SgTarget){ path, bytes, length, NULL, NULL, false };
}

/* Capitals do not tell names apart on many disks. */
static SgStr folded(SgArena *a, const char *path)
{
    SgStr s = sg_str_keep(a, path, strlen(path));
    char *c = (char *)(uintptr_t)s.s;
    for (uint32_t i = 0; i < s.n; i++)
        if (c[i] >= 'A' && c[i] <= 'Z') c[i] = (char)(c[i] - 'A' + 'a');
    return s;
}

/* Each name is claimed once; who says who claims it. False after a message. */
typedef struct { SgNames names; SG_VEC(const char *) who; SG_VEC(const char *) path; } Claims;
static bool claim(Batch *b, Claims *c, const char *path, const char *who)
{
    SgStr name = folded(&b->arena, path);
    uint32_t before = c->names.n;
    SgSym sym = sg_names_sym(&c->names, name.s, name.n);
    if (sym < before) {
        bool same = strcmp(c->path.v[sym], path) == 0;
        tell(SG_COMMAND_WRONG, "%.400s and %.400s would both write %.400s%s; nothing was written: rename one, or give each script a folder of its own with --apart",
            c->who.v[sym], who, path, same ? "" : ", which many disks take for one name whatever its capitals");
        return false;
    }
    SG_PUSH(&b->arena, &c->who, who);
    SG_PUSH(&b->arena, &c->path, path);
    return true;
}

static bool claim_all(Batch *b)
{
    Claims c = { .who = { 0 }, .path = { 0 } };
    sg_names_init(&c.names, &b->arena);
    for (uint32_t i = 0; i < b->n; i++) {
        const SgDrawing *d = &b->drawing[i];
        for (uint32_t k = 0; d->status == SG_DONE && k < d->noutputs; k++) {
            const char *who = sg_format(&b->arena, "figure %s of %s", d->output[k].product->figure, d->path).s;
            if (!claim(b, &c, d->output[k].path, who)) return false;
        }
    }
    for (int l = 0; l < LISTS; l++) {
        const char *path = b->line->value[LIST_OPTION[l]];
        if (path != NULL && !claim(b, &c, path, sg_cli_option_word(LIST_OPTION[l]))) return false;
    }
    return true;
}

/* True after a message: an output would take the place of a script, or of a file that one uses. */
static bool is_input(const Batch *b, const char *path)
{
    struct stat st;
    if (stat(path, &st) != 0 || !S_ISREG(st.st_mode)) return false;
    for (uint32_t i = 0; i < b->n; i++) {
        const SgDrawing *d = &b->drawing[i];
        bool same = d->script.known && d->script.device == st.st_dev && d->script.inode == st.st_ino;
        const SgUsedFile *f = d->used != NULL ? sg_cli_used_files(d->used) : NULL;
        for (; !same && f != NULL; f = f->next) same = f->device == st.st_dev && f->inode == st.st_ino;
        if (!same) continue;
        tell(SG_COMMAND_WRONG, "%.300s is the script itself; give the drawing another name", path);
        return true;
    }
    return false;
}

/* ---- writing ---- */
typedef SG_VEC(const char *) Folders;      /* made by this call, the upper one first */
static SgStatus make_folder(Batch *b, const char *path, Folders *made, SgFault *fault)
{
    bool new;
    SgStatus status = sg_cli_folder(path, &new, fault);
    if (status == SG_DONE && new) SG_PUSH(&b->arena, made, path);
    return status;
}

static SgStatus make_folders(Batch *b, Folders *made, SgFault *fault)
{
    if (!b->into_folder) return SG_DONE;
    SgStatus status = make_folder(b, b->line->value[SG_OPTION_output], made, fault);
    for (uint32_t i = 0; i < b->n && status == SG_DONE; i++)
        if (b->drawing[i].status == SG_DONE && b->line->given[SG_OPTION_apart]) status = make_folder(b, b->drawing[i].folder, made, fault);
    return status;
}

static SgStatus write_all(Batch *b)
{
    static const SgScriptFile none;
    SgFault fault;
    Folders made = { 0 };
    for (uint32_t i = 0; i < b->ntargets; i++)
        if (is_input(b, b->target[i].path)) return SG_COMMAND_WRONG;
    if (b->ntargets == 0) return SG_DONE;
    SgStatus status = make_folders(b, &made, &fault);
    if (status == SG_DONE) status = sg_cli_write(b->target, b->ntargets, &none, &fault);
    if (status == SG_DONE) return status;
    while (made.n > 0) sg_cli_remove_folder(made.v[--made.n]);
    return tell(status, "%s", fault.text);
}

/* The lists tell of the whole call, so they are made only where all of it is done. */
static SgStatus add_lists(Batch *b)
{
    const char *path[LISTS];
    for (int l = 0; l < LISTS; l++) path[l] = b->line->value[LIST_OPTION[l]];
    for (int l = 0; l < LISTS; l++) {
        SgFault fault;
        SgBuf out = { .arena = &b->arena };
        if (path[l] == NULL) continue;
        if (l == MANIFEST) sg_cli_manifest(b->drawing, b->n, &out);
        if (l == CONTACT_SHEET) sg_cli_contact_sheet(b->drawing, b->n, &out);
        if (l == TEXTS) sg_cli_texts(b->drawing, b->n, &out);
        if (l == DEPFILE && !sg_cli_dependencies(b->drawing, b->n, path, DEPFILE, &out, &fault)) return tell(SG_COMMAND_WRONG, "%s", fault.text);
        add_target(b, path[l], out.v, out.n);
    }
    return SG_DONE;
}

static void run(Batch *b)
{
    uint32_t outputs = 0;
    for (uint32_t i = 0; i < b->n; i++) {
        SgDrawing *d = &b->drawing[i];
        draw_one(b, d);
        if (d->status == SG_DONE) name_outputs(b, d);
        if (d->status > b->status) b->status = d->status;
        outputs += d->noutputs;
    }
    if (!claim_all(b)) {
        b->status = SG_COMMAND_WRONG;
        return;
    }
    b->target = SG_ARRAY(&b->arena, SgTarget, outputs + LISTS);
    for (uint32_t i = 0; i < b->n; i++) {
        const SgDrawing *d = &b->drawing[i];
        for (uint32_t k = 0; d->status == SG_DONE && k < d->noutputs; k++)
            add_target(b, d->output[k].path, d->output[k].bytes, d->output[k].length);
    }
    SgStatus status = b->status == SG_DONE ? add_lists(b) : SG_DONE;
    if (status == SG_DONE) status = write_all(b);
    if (status > b->status) b->status = status;
}

static bool guarded(Batch *b, jmp_buf *out)
{
    if (setjmp(*out) != 0) return false;
    b->arena.out = out;
    run(b);
    return true;
}

/* What the command line asks for and no script could change. */
static SgStatus check(const SgCommandLine *line, bool into_folder)
{
    if (line->given[SG_OPTION_apart] && !into_folder) return tell(SG_COMMAND_WRONG, "--apart wants a folder to draw into: -o FOLDER/");
    for (int l = 0; l < LISTS; l++) {
        const char *path = line->value[LIST_OPTION[l]], *ending = LIST_ENDING[l];
        size_t n = path != NULL ? strlen(path) : 0, m = strlen(ending);
        if (path != NULL && (n <= m || strcmp(path + n - m, ending) != 0) && strncmp(path, "/dev/", 5) != 0)
            return tell(SG_COMMAND_WRONG, "--%s %.300s: it wants a file name ending in %s", sg_cli_option_word(LIST_OPTION[l]), path, ending);
    }
    uint32_t standard = 0;
    for (uint32_t i = 0; i < line->noperands; i++) standard += strcmp(line->operand[i], "-") == 0;
    if (standard > 1) return tell(SG_COMMAND_WRONG, "standard input, -, stands twice; once is all there is");
    if (standard > 0 && line->given[SG_OPTION_depfile]) return tell(SG_COMMAND_WRONG, "--depfile wants scripts that are files, and one is standard input");
    return SG_DONE;
}

static void end_drawing(SgDrawing *d)
{
    for (uint32_t k = 0; k < d->noutputs; k++) free(d->output[k].packed);
    for (int k = 0; k < SG_AS_COUNT; k++) sg_result_free(&d->drawn[k]);
    sg_result_free(&d->still);
    sg_cli_used_end(d->used);
    free(d->script.bytes);
}

SgStatus sg_cli_batch(const SgCommandLine *line, const SgJob *job, const SgForms *forms, bool into_folder)
{
    jmp_buf out;
    Batch b = { .line = line, .job = job, .forms = forms, .into_folder = into_folder, .n = line->noperands };
    SgStatus status = check(line, into_folder);
    if (status != SG_DONE) return status;
    b.drawing = calloc((size_t)b.n + 1, sizeof *b.drawing);
    if (b.drawing == NULL) return tell(SG_MACHINE_FAILED, "memory ran out");
    for (uint32_t i = 0; i < b.n; i++) b.drawing[i].path = line->operand[i];
    if (!guarded(&b, &out)) b.status = tell(SG_MACHINE_FAILED, "memory ran out; nothing was written");
    for (uint32_t i = 0; i < b.n; i++) end_drawing(&b.drawing[i]);
    free(b.drawing);
    sg_arena_free(&b.arena);
    return b.status;
}
