/* cli: files read whole, and written whole or not at all.
   in     paths and bytes.
   out    bytes; files under their names, all of a set or none of it.
   never  prints, or touches the script it was told of. */
#define _XOPEN_SOURCE 700
#include "cli/files.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* A path that is not there is a mistake of the command line; a disk that does not answer is not. */
static SgStatus failed(SgFault *fault, const char *doing, const char *path)
{
    bool absent = errno == ENOENT || errno == ENOTDIR || errno == EISDIR || errno == ELOOP || errno == ENAMETOOLONG;
    snprintf(fault->text, sizeof fault->text, "cannot %s %.300s: %s", doing, path, strerror(errno));
    return absent ? SG_COMMAND_WRONG : SG_MACHINE_FAILED;
}

/* Descriptors 0 to 2 stay what they are even where they were closed: a file must not become someone's standard output. */
static int open_above(const char *path, int flags, mode_t mode)
{
    int fd = open(path, flags | O_CLOEXEC, mode);
    if (fd < 0 || fd > 2) return fd;
    int high = fcntl(fd, F_DUPFD_CLOEXEC, 3);
    int saved = errno;
    close(fd);
    errno = saved;
    return high;
}

/* ---- reading ---- */
static SgStatus read_all(int fd, const char *path, SgScriptFile *script, SgFault *fault)
{
    enum { LIMIT = SG_SCRIPT_LIMIT + 1 };
    struct stat st;
    if (fstat(fd, &st) != 0) return failed(fault, "read", path);
    if (S_ISDIR(st.st_mode)) {
        errno = EISDIR;
        return failed(fault, "read", path);
    }
    script->known = true;
    script->device = st.st_dev;
    script->inode = st.st_ino;
    size_t room = S_ISREG(st.st_mode) && st.st_size < LIMIT ? (size_t)st.st_size + 1 : 4096;
    for (;;) {
        if (script->bytes == NULL || script->length == room) {
            if (script->bytes != NULL) room = room * 2 < LIMIT ? room * 2 : LIMIT;
            char *more = realloc(script->bytes, room);
            if (more == NULL) return failed(fault, "read", path);
            script->bytes = more;
        }
        ssize_t n = read(fd, script->bytes + script->length, room - script->length);
        if (n < 0 && errno == EINTR) continue;
        if (n < 0) return failed(fault, "read", path);
        script->length += (size_t)n;
        if (n == 0 || script->length == LIMIT) return SG_DONE;
    }
}

SgStatus sg_cli_read(const char *path, SgScriptFile *script, SgFault *fault)
{
    bool standard = strcmp(path, "-") == 0;
    *script = (SgScriptFile){ 0 };
    int fd = standard ? STDIN_FILENO : open_above(path, O_RDONLY, 0);
    if (fd < 0) return failed(fault, "read", path);
    SgStatus status = read_all(fd, standard ? "standard input" : path, script, fault);
    if (!standard) close(fd);
    return status;
}

/* ---- writing ---- */
SgStatus sg_cli_write_open(int fd, const char *name, const char *bytes, size_t length, SgFault *fault)
{
    while (length > 0) {
        ssize_t n = write(fd, bytes, length);
        if (n < 0 && errno == EINTR) continue;
        if (n < 0) {
            failed(fault, "write", name);
            return SG_MACHINE_FAILED;
        }
        bytes += n;
        length -= (size_t)n;
    }
    return SG_DONE;
}

static SgStatus write_and_close(int fd, const SgTarget *t, SgFault *fault)
{
    SgStatus status = sg_cli_write_open(fd, t->path, t->bytes, t->length, fault);
    bool kept = status != SG_DONE || !t->settled || fsync(fd) == 0 || errno == EINVAL || errno == ENOSYS;      /* not every disk knows how */
    int saved = errno;
    if (close(fd) == 0) {
        if (kept) return status;
        errno = saved;
    }
    if (status != SG_DONE) return status;
    failed(fault, "write", t->path);
    return SG_MACHINE_FAILED;
}

/* What stands at the target now: a fault for the script itself or a folder. *straight: no plain file, so no temporary. */
static SgStatus look_at(const SgTarget *t, const SgScriptFile *script, bool *straight, mode_t *mode, SgFault *fault)
{
    struct stat st;
    *straight = false;
    *mode = 0;
    if (stat(t->path, &st) != 0) return SG_DONE;
    if (script->known && st.st_dev == script->device && st.st_ino == script->inode && S_ISREG(st.st_mode)) {
        snprintf(fault->text, sizeof fault->text, "%.300s is the script itself; give the drawing another name", t->path);
        return SG_COMMAND_WRONG;
    }
    if (S_ISDIR(st.st_mode)) {
        errno = EISDIR;
        return failed(fault, "write", t->path);
    }
    *straight = !S_ISREG(st.st_mode);
    *mode = st.st_mode & 0777;
    return SG_DONE;
}

/* A new file beside the target, with a name of its own, from the target's number on; -1 with errno. */
static int open_temporary(SgTarget *t, uint32_t number)
{
    enum { TRIES = 100 };
    size_t size = strlen(t->real) + 48;
    const char *slash = strrchr(t->real, '/');
    int folder = slash != NULL ? (int)(slash - t->real) + 1 : 0;
    t->temporary = malloc(size);
    if (t->temporary == NULL) return -1;
    for (uint32_t k = number; k < number + TRIES; k++) {
        snprintf(t->temporary, size, "%.*s.sagitta-%ld-%u", folder, t->real, (long)getpid(), k);
        int fd = open_above(t->temporary, O_WRONLY | O_CREAT | O_EXCL, 0666);
        if (fd >= 0) return fd;
        if (errno != EEXIST) break;
    }
    int saved = errno;
    free(t->temporary);
    t->temporary = NULL;
    errno = saved;
    return -1;
}

/* Where a link that leads to nothing yet would have it made; another path stays what it is. To be freed; NULL with errno. */
static char *led_to(const char *path)
{
    enum { MOST_LINKS = 40 };
    char link[4096], *at = strdup(path);
    for (int i = 0; at != NULL && i < MOST_LINKS; i++) {
        ssize_t n = readlink(at, link, sizeof link - 1);
        if (n < 0) return at;
        const char *slash = link[0] == '/' ? NULL : strrchr(at, '/');
        size_t folder = slash != NULL ? (size_t)(slash - at) + 1 : 0;
        char *next = malloc(folder + (size_t)n + 1);
        if (next != NULL) {
            memcpy(next, at, folder);
            memcpy(next + folder, link, (size_t)n);
            next[folder + (size_t)n] = '\0';
        }
        free(at);
        at = next;
    }
    if (at != NULL) errno = ELOOP;
    free(at);
    return NULL;
}

static SgStatus write_temporary(SgTarget *t, uint32_t number, const SgScriptFile *script, SgFault *fault)
{
    bool straight;
    mode_t mode;
    SgStatus status = look_at(t, script, &straight, &mode, fault);
    if (status != SG_DONE || straight) return status;
    t->real = realpath(t->path, NULL);                   /* a link stays a link, and what it leads to is replaced */
    if (t->real == NULL) t->real = led_to(t->path);
    if (t->real == NULL) return failed(fault, "write", t->path);
    int fd = open_temporary(t, number);
    if (fd < 0) return failed(fault, "write", t->path);
    if (mode != 0 && fchmod(fd, mode) != 0) errno = 0;   /* some disks keep no modes: the drawing matters more */
    return write_and_close(fd, t, fault);
}

/* A device or a pipe. A pipe that nobody reads would hold the program up for ever, without a word. */
static SgStatus write_straight(const SgTarget *t, SgFault *fault)
{
    int fd = open_above(t->path, O_WRONLY | O_NONBLOCK, 0);
    if (fd < 0 && errno == ENXIO) {
        snprintf(fault->text, sizeof fault->text, "cannot write %.300s: it is a pipe, and nobody reads it; begin to read it first, or write -o - and lead standard output into it", t->path);
        return SG_COMMAND_WRONG;
    }
    if (fd < 0 || fcntl(fd, F_SETFL, fcntl(fd, F_GETFL) & ~O_NONBLOCK) < 0) {
        SgStatus status = failed(fault, "write", t->path);
        if (fd >= 0) close(fd);
        return status;
    }
    return write_and_close(fd, t, fault);
}

static SgStatus give_name(SgTarget *t, SgFault *fault)
{
    if (t->temporary != NULL) {
        if (rename(t->temporary, t->real) != 0) return failed(fault, "write", t->path);
        free(t->temporary);
        t->temporary = NULL;
        return SG_DONE;
    }
    return write_straight(t, fault);
}

SgStatus sg_cli_write(SgTarget *target, uint32_t ntargets, const SgScriptFile *script, SgFault *fault)
{
    SgStatus status = SG_DONE;
    for (uint32_t i = 0; i < ntargets && status == SG_DONE; i++) status = write_temporary(&target[i], i, script, fault);
    /* Devices first, since only they can still fail for want of room. */
    for (int named = 0; named < 2; named++)
        for (uint32_t i = 0; i < ntargets && status == SG_DONE; i++)
            if ((target[i].temporary != NULL) == named) status = give_name(&target[i], fault);
    for (uint32_t i = 0; i < ntargets; i++) {
        if (target[i].temporary != NULL) unlink(target[i].temporary);
        free(target[i].temporary);
        free(target[i].real);
        target[i].temporary = target[i].real = NULL;
    }
    return status;
}

/* ---- folders ---- */
bool sg_cli_is_folder(const char *path)
{
    struct stat st;
    return stat(path, &st) == 0 && S_ISDIR(st.st_mode);
}

SgStatus sg_cli_folder(const char *path, bool *made, SgFault *fault)
{
    *made = false;
    if (sg_cli_is_folder(path)) return SG_DONE;
    if (mkdir(path, 0777) != 0) return failed(fault, "make the folder", path);
    *made = true;
    return SG_DONE;
}

void sg_cli_remove_folder(const char *path) { rmdir(path); }
