/* cli: the files a script uses, read below one root folder.
   in     paths below the root, as the compiler makes them.
   out    bytes that stay until the job is over.
   never  follows a link below the root, or reads a device, pipe or folder. */
#define _XOPEN_SOURCE 700
#include "cli/used.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

struct SgUsed {
    int root;
    SgUsedFile *first, *last;
    char *shown, *place;       /* the job's root and place */
    SgFile self;
};

/* ---- reading ---- */

/* The folder that holds the path's last part, which *last points to; -1 with errno. */
static int walk_down(const SgUsed *u, const char *path, const char **last)
{
    int folder = fcntl(u->root, F_DUPFD_CLOEXEC, 3);
    for (const char *slash; folder >= 0 && (slash = strchr(path, '/')) != NULL; path = slash + 1) {
        char part[256];
        size_t n = (size_t)(slash - path);
        int below = -1;
        if (n < sizeof part) {
            memcpy(part, path, n);
            part[n] = '\0';
            below = openat(folder, part, O_RDONLY | O_DIRECTORY | O_NOFOLLOW | O_CLOEXEC);
            struct stat st;
            if (below < 0 && fstatat(folder, part, &st, AT_SYMLINK_NOFOLLOW) == 0 && S_ISLNK(st.st_mode)) errno = ELOOP;
        } else {
            errno = ENAMETOOLONG;
        }
        int saved = errno;
        close(folder);
        errno = saved;
        folder = below;
    }
    *last = path;
    return folder;
}

static SgRead why(void)
{
    if (errno == ENOENT || errno == ENOTDIR || errno == ENAMETOOLONG) return SG_READ_ABSENT;
    return errno == ELOOP || errno == ENXIO ? SG_READ_FORBIDDEN : SG_READ_FAILED;
}

static char *copy(const char *s, size_t n, const char *end)
{
    char *c = malloc(n + strlen(end) + 1);
    if (c == NULL) return NULL;
    memcpy(c, s, n);
    strcpy(c + n, end);
    return c;
}

static bool keep(SgUsed *u, SgUsedFile file)
{
    SgUsedFile *kept = malloc(sizeof *kept);
    if (kept == NULL) return false;
    *kept = file;
    if (u->last != NULL) u->last->next = kept;
    else u->first = kept;
    u->last = kept;
    return true;
}

/* What was read before is the same file again, though its job may run several times. */
static bool kept_before(const SgUsed *u, const struct stat *st, SgFile *file)
{
    const SgUsedFile *f = u->first;
    while (f != NULL && (f->device != st->st_dev || f->inode != st->st_ino)) f = f->next;
    if (f != NULL) *file = (SgFile){ f->bytes, f->length, (uint64_t)f->device, (uint64_t)f->inode };
    return f != NULL;
}

static SgRead read_open(SgUsed *u, const char *path, int fd, SgFile *file)
{
    enum { LIMIT = SG_SCRIPT_LIMIT + 1 };
    struct stat st;
    if (fstat(fd, &st) != 0) return SG_READ_FAILED;
    if (!S_ISREG(st.st_mode)) return SG_READ_FORBIDDEN;
    if (kept_before(u, &st, file)) return SG_READ_DONE;
    size_t room = st.st_size < LIMIT ? (size_t)st.st_size + 1 : LIMIT, length = 0;
    char *bytes = malloc(room), *shown = copy(u->shown, strlen(u->shown), path);
    bool sound = bytes != NULL && shown != NULL;
    while (sound && length < room) {
        ssize_t n = read(fd, bytes + length, room - length);
        if (n < 0 && errno == EINTR) continue;
        sound = n >= 0;
        if (n <= 0) break;
        length += (size_t)n;
    }
    if (!sound || !keep(u, (SgUsedFile){ NULL, shown, bytes, length, st.st_dev, st.st_ino })) {
        free(bytes);
        free(shown);
        return SG_READ_FAILED;
    }
    *file = (SgFile){ bytes, length, (uint64_t)st.st_dev, (uint64_t)st.st_ino };
    return SG_READ_DONE;
}

/* A pipe would keep an open waiting for its writer, hence O_NONBLOCK. */
static SgRead read_used(void *with, const char *path, SgFile *file)
{
    SgUsed *u = with;
    const char *last;
    int folder = walk_down(u, path, &last);
    if (folder < 0) return why();
    int fd = openat(folder, last, O_RDONLY | O_NOFOLLOW | O_NONBLOCK | O_NOCTTY | O_CLOEXEC);
    SgRead result = fd < 0 ? why() : SG_READ_DONE;
    close(folder);
    if (fd < 0) return result;
    result = read_open(u, path, fd, file);
    close(fd);
    return result;
}

/* ---- the root ---- */

/* Where the script lies below a root the author names, as the file system sees both; NULL when it does not. */
static char *place_below(const char *root, const char *folder, const char *name)
{
    char *above = realpath(root, NULL), *here = realpath(folder, NULL), *place = NULL;
    size_t n = above != NULL ? strlen(above) : 0;
    if (n == 1) n = 0;                             /* the root of the file system */
    if (above != NULL && here != NULL && strncmp(above, here, n) == 0 && (here[n] == '/' || here[n] == '\0')) {
        const char *rest = here[n] == '/' ? here + n + 1 : here + n;
        size_t m = strlen(rest);
        char *prefix = copy(rest, m, m > 0 ? "/" : "");
        if (prefix != NULL) place = copy(prefix, strlen(prefix), name);
        free(prefix);
    }
    free(above);
    free(here);
    return place;
}

SgStatus sg_cli_used(SgUsed **used, const char *root, const SgScriptFile *script, SgJob *job, SgFault *fault)
{
    bool standard = strcmp(job->path, "-") == 0;
    const char *slash = standard ? NULL : strrchr(job->path, '/');
    const char *name = standard ? "script" : slash != NULL ? slash + 1 : job->path;
    size_t n = slash != NULL ? (size_t)(slash - job->path) + 1 : 0;
    SgUsed *u = *used = calloc(1, sizeof *u);
    char *folder = copy(n > 0 ? job->path : ".", n > 0 ? n : 1, "");
    const char *top = root != NULL ? root : folder;
    snprintf(fault->text, sizeof fault->text, "memory ran out");
    if (u != NULL) u->root = -1;
    if (u != NULL && folder != NULL) {
        if (root == NULL) u->shown = copy(job->path, n, "");
        else u->shown = copy(root, strlen(root), root[0] != '\0' && root[strlen(root) - 1] == '/' ? "" : "/");
        u->place = root == NULL ? copy(name, strlen(name), "") : place_below(root, folder, name);
        u->root = open(top, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    }
    bool absent = errno == ENOENT || errno == ENOTDIR || errno == ELOOP;           /* a folder mistyped */
    bool there = u != NULL && u->root >= 0, placed = there && u->place != NULL;
    if (u != NULL && folder != NULL && !there) snprintf(fault->text, sizeof fault->text, "cannot open the folder %.300s: %s", top, strerror(errno));
    else if (there && !placed) snprintf(fault->text, sizeof fault->text, "--root %.300s: the script does not lie in it or below", root != NULL ? root : "");
    free(folder);
    if (!placed) return u != NULL && (there || (u->root < 0 && absent)) ? SG_COMMAND_WRONG : SG_MACHINE_FAILED;
    u->self = (SgFile){ NULL, 0, (uint64_t)script->device, (uint64_t)script->inode };
    job->read = read_used;
    job->read_with = u;
    job->root = u->shown;
    job->place = u->place;
    job->self = script->known ? &u->self : NULL;
    return u->shown != NULL ? SG_DONE : SG_MACHINE_FAILED;
}

void sg_cli_used_end(SgUsed *u)
{
    if (u == NULL) return;
    for (const SgUsedFile *f = u->first; f != NULL;) {
        const SgUsedFile *next = f->next;
        free((void *)(uintptr_t)f->path);
        free((void *)(uintptr_t)f->bytes);
        free((void *)(uintptr_t)f);
        f = next;
    }
    if (u->root >= 0) close(u->root);
    free(u->shown);
    free(u->place);
    free(u);
}

const SgUsedFile *sg_cli_used_files(const SgUsed *u) { return u->first; }
