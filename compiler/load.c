/* load: what a script uses, file by file; the wordings of its own.
   in     trees with `use` statements, the job's reader.
   out    a tree a file, each read once; messages at the `use` that names what cannot be had.
   never  opens a file, or lets a path out of the root. */
#include "load.h"

#include <string.h>

enum { MOST_PARTS = 64 };
typedef struct {
    SgCompile *c;
    const SgJob *job;
    SgModelFile file[SG_MAX_FILES];
    SgStr place[SG_MAX_FILES];         /* below the root */
    uint64_t device[SG_MAX_FILES], number[SG_MAX_FILES];
    bool known[SG_MAX_FILES];          /* device and number are */
    bool open[SG_MAX_FILES];           /* it is being read, so that using it is a circle */
    uint16_t chain[SG_MAX_FILES];      /* those that are open, from the script down */
    const SgWording *texts[SG_MAX_FILES];      /* of a file that is a wording, once it is read */
    uint32_t n, bytes;
    bool damaged;
} Load;

const SgNode *sg_load_source(SgCompile *c, uint16_t file, SgTagged *tagged)
{
    SgTokens raw = sg_tokens(c, file);
    *tagged = sg_words(c, &raw);
    const SgNode *tree = sg_tree(c, tagged);
    return tagged->braces_damaged ? NULL : tree;
}

/* ---- paths ---- */

static bool names_parent(SgStr part) { return part.n == 2 && part.s[0] == '.' && part.s[1] == '.'; }

static const SgNode *path_node(const SgNode *use)
{
    const SgNode *text = NULL, *at = use->first;
    while (at && at->kind == SG_N_LINE) at = at->first;
    if (at && at->kind == SG_N_CAPTION) text = at->first;
    return text && text->first && text->first->kind == SG_N_PIECE && text->first == text->last ? text->first : NULL;
}

static bool plain(SgStr path)
{
    if (!path.n || path.s[0] == '/' || path.s[path.n - 1] == '/') return false;
    for (uint32_t i = 0; i < path.n; i++)
        if (path.s[i] == '\\' || (path.s[i] == '/' && path.s[i + 1] == '/')) return false;
    return true;
}

/* Takes a path's parts onto a list; false when they climb above its first. */
static bool climb(SgStr path, SgStr *part, uint32_t *n)
{
    for (uint32_t from = 0; from < path.n;) {
        uint32_t to = from;
        while (to < path.n && path.s[to] != '/') to++;
        SgStr one = { path.s + from, to - from };
        from = to + 1;
        if (one.n == 0 || (one.n == 1 && one.s[0] == '.')) continue;
        if (names_parent(one)) {
            if (*n == 0) return false;
            *n -= 1;
        } else {
            if (*n == MOST_PARTS) return false;
            part[(*n)++] = one;
        }
    }
    return true;
}

static bool below_root(SgCompile *c, SgStr user, SgStr path, SgStr *place)
{
    SgStr part[MOST_PARTS];
    uint32_t n = 0;
    SgBuf b = { .arena = c->arena };
    if (!climb(user, part, &n)) return false;
    if (n > 0) n--;                                /* the folder it lies in */
    if (!climb(path, part, &n) || n == 0) return false;
    for (uint32_t i = 0; i < n; i++) {
        if (i) sg_put_char(&b, '/');
        sg_put_str(&b, part[i]);
    }
    sg_put_char(&b, '\0');
    *place = (SgStr){ b.v, b.n - 1 };
    return true;
}

/* ---- one use ---- */

static bool refuse(Load *l, SgSpan at, SgStr path, SgRead why)
{
    int n = (int)path.n;
    if (why == SG_READ_ABSENT) sg_say(l->c, SG_MSG_use_unreadable, at, "there is no file `%.*s`; look at its spelling, and at the folder this file lies in", n, path.s);
    else if (why == SG_READ_FORBIDDEN) sg_say(l->c, SG_MSG_use_unreadable, at, "`%.*s` is no regular file, or a link stands in its way; put the file itself there", n, path.s);
    else sg_say(l->c, SG_MSG_use_unreadable, at, "`%.*s` cannot be read; look at its permissions", n, path.s);
    return false;
}

static bool fetch(Load *l, SgSpan at, SgStr path, SgStr place, SgFile *file)
{
    *file = (SgFile){ .bytes = "" };
    if (!l->job->read) {
        sg_say(l->c, SG_MSG_use_unreadable, at, "this script can use no other files here; write what it needs into it");
        return false;
    }
    SgRead why = l->job->read(l->job->read_with, place.s, file);
    return why == SG_READ_DONE || refuse(l, at, path, why);
}

static void say_circle(Load *l, SgSpan at, uint32_t depth, uint16_t to)
{
    SgBuf b = { .arena = l->c->arena };
    uint32_t from = 0;
    while (l->chain[from] != to) from++;
    for (uint32_t i = from; i < depth; i++) {
        SgStr path = l->c->source[l->chain[i]].path;
        sg_putf(&b, "%.*s uses ", (int)path.n, path.s);
    }
    sg_put_str(&b, l->c->source[to].path);
    SgStr told = sg_buf_str(&b);
    sg_say(l->c, SG_MSG_use_circle, at, "files use each other in a circle: %.*s; take one of these lines away", (int)told.n, told.s);
}

/* The number of a file that is there already, or l->n. */
static uint32_t known_as(const Load *l, const SgFile *file)
{
    uint32_t k = 0;
    while (k < l->n && !(l->known[k] && l->device[k] == file->device && l->number[k] == file->number)) k++;
    return k;
}

static bool fits(Load *l, SgSpan at, const SgFile *file, uint32_t depth)
{
    if (file->length > SG_SCRIPT_LIMIT) sg_say(l->c, SG_MSG_file_too_large, at, "this file is larger than 8 MiB; split it");
    else if (l->n == SG_MAX_FILES) sg_say(l->c, SG_MSG_limit, at, "a script and what it uses are at most %d files; join some of them", SG_MAX_FILES);
    else if (depth > SG_MAX_USE_DEPTH) sg_say(l->c, SG_MSG_limit, at, "files use files at most %d deep; use this one further up", SG_MAX_USE_DEPTH);
    else if (file->length > SG_MAX_ALL_BYTES - l->bytes) sg_say(l->c, SG_MSG_limit, at, "a script and what it uses are at most 32 MiB together; use fewer files");
    else return true;
    return false;
}

static uint16_t begin(Load *l, SgStr place, const SgFile *file)
{
    SgCompile *c = l->c;
    SgStr path = sg_format(c->arena, "%s%.*s", l->job->root ? l->job->root : "", (int)place.n, place.s);
    uint16_t k = (uint16_t)l->n++;
    c->source[c->nsources++] = sg_text_source(c->arena, path, (SgStr){ file->length ? file->bytes : "", (uint32_t)file->length });
    l->place[k] = place;
    l->known[k] = true;
    l->device[k] = file->device;
    l->number[k] = file->number;
    l->bytes += (uint32_t)file->length;
    return k;
}

static void load_uses(Load *l, uint16_t user, const SgNode *tree, uint32_t depth);

static void read_one(Load *l, uint16_t k, uint32_t depth)
{
    SgTagged tagged;
    const SgNode *tree = sg_text_check(l->c, k) ? sg_load_source(l->c, k, &tagged) : NULL;
    l->damaged = l->damaged || !tree;
    l->file[k].tree = tree;
    if (tree) load_uses(l, k, tree, depth);
}

/* The file that a `use` or a `wording` names; false after a message. */
static bool find_file(Load *l, uint16_t user, const SgNode *use, const char *form, SgStr *place, SgFile *file)
{
    const SgNode *node = path_node(use);
    if (use->damaged) return false;
    SgStr bytes = l->c->source[user].bytes;
    SgStr path = node ? (SgStr){ bytes.s + node->at.start, node->at.end - node->at.start } : SG_LIT("");
    if (!node || !plain(path)) {
        SgStr kind = sg_names_str(&l->c->names, use->sym);
        sg_say(l->c, SG_MSG_use_path, node ? node->at : use->at, "`%.*s` takes a plain path in quotes, relative to this file, such as %s", (int)kind.n, kind.s, form);
        return false;
    }
    if (!below_root(l->c, l->place[user], path, place)) {
        sg_say(l->c, SG_MSG_use_outside, node->at, "`%.*s` lies outside the folder of the main script; move it in, or allow a folder further up with --root", (int)path.n, path.s);
        return false;
    }
    return fetch(l, node->at, path, *place, file);
}

/* The number of the used file, or -1 after a message. depth: how many files stand between it and the script. */
static int load_use(Load *l, uint16_t user, const SgNode *use, uint32_t depth)
{
    SgStr place;
    SgFile file;
    if (!find_file(l, user, use, "use \"parts/lamps.sag\"", &place, &file)) return -1;
    const SgNode *node = path_node(use);
    uint32_t k = known_as(l, &file);
    if (k < l->n) {
        if (!l->open[k]) return (int)k;
        say_circle(l, node->at, depth, (uint16_t)k);
        return -1;
    }
    if (!fits(l, node->at, &file, depth)) return -1;
    k = begin(l, place, &file);
    read_one(l, (uint16_t)k, depth);
    return (int)k;
}

static void load_uses(Load *l, uint16_t user, const SgNode *tree, uint32_t depth)
{
    SG_VEC(uint16_t) uses = { 0 };
    l->open[user] = true;
    l->chain[depth] = user;
    for (const SgNode *x = tree->first; x; x = x->next) {
        if (x->kind != SG_N_STATEMENT || sg_kind_of(sg_names_str(&l->c->names, x->sym)) != SG_KIND_use) continue;
        int k = load_use(l, user, x, depth + 1);
        bool again = k < 0;
        for (uint32_t i = 0; i < uses.n; i++) again = again || uses.v[i] == k;
        if (!again) SG_PUSH(l->c->arena, &uses, (uint16_t)k);
    }
    l->open[user] = false;
    l->file[user].uses = uses.v;
    l->file[user].nuses = uses.n;
}

/* ---- wordings ---- */

typedef SG_VEC(SgOwnWording) OwnWordings;

static bool has_caption(const SgNode *statement)
{
    const SgNode *at = statement->first;
    while (at && at->kind == SG_N_LINE) at = at->first;
    return at && at->kind == SG_N_CAPTION;
}

/* A file of texts is a source with no statements. */
static void load_wording(Load *l, uint16_t user, const SgNode *statement, OwnWordings *own)
{
    static const SgNode nothing = { .kind = SG_N_FILE };
    SgStr place;
    SgFile file;
    if (!find_file(l, user, statement, "wording \"texts.txt\"", &place, &file)) return;
    uint32_t k = known_as(l, &file);
    if (k == l->n) {
        if (!fits(l, path_node(statement)->at, &file, 0)) return;
        k = begin(l, place, &file);
        l->file[k].tree = &nothing;
    }
    if (!l->texts[k] && sg_text_check(l->c, (uint16_t)k)) l->texts[k] = sg_wording_read(l->c, (uint16_t)k);
    if (l->texts[k]) SG_PUSH(l->c->arena, own, ((SgOwnWording){ statement->at, l->texts[k] }));
}

static void load_wordings(Load *l, uint16_t user, const SgNode *list, OwnWordings *own)
{
    for (const SgNode *x = list ? list->first : NULL; x; x = x->next) {
        if (x->kind != SG_N_STATEMENT) continue;
        SgKind kind = sg_kind_of(sg_names_str(&l->c->names, x->sym));
        if (kind == SG_KIND_wording && has_caption(x)) load_wording(l, user, x, own);
        if (kind == SG_KIND_figure) load_wordings(l, user, x, own);
    }
}

const SgModelFile *sg_load_used(SgCompile *c, const SgJob *job, const SgNode *tree, uint32_t *n)
{
    Load *l = SG_NEW(c->arena, Load);
    *l = (Load){ .c = c, .job = job, .n = 1, .bytes = c->source[0].bytes.n };
    l->file[0].tree = tree;
    l->place[0] = sg_str(job->place ? job->place : "script");
    l->known[0] = job->self != NULL;
    if (job->self) {
        l->device[0] = job->self->device;
        l->number[0] = job->self->number;
    }
    load_uses(l, 0, tree, 0);
    for (uint32_t k = 0, scripts = l->n; k < scripts; k++) {
        OwnWordings own = { 0 };
        load_wordings(l, (uint16_t)k, l->file[k].tree, &own);
        l->file[k].wording = own.v;
        l->file[k].nwordings = own.n;
    }
    *n = l->n;
    return l->damaged ? NULL : l->file;
}
