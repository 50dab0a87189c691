/* cli: the program that hands PDF, PNG and presentations over. In: this process's own arguments. Out: another program in its place.
   Never looks along PATH: the two programs are of one build. */
#define _XOPEN_SOURCE 700
#include "cli/printer.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

const struct SgPrinter *const sg_cli_printer = NULL;
SgPacker *const sg_cli_packer = NULL;

/* The arguments as the kernel keeps them. NULL when they cannot be read. */
static char **own_arguments(char **bytes)
{
    size_t n = 0, cap = 4096, args = 1;
    char *v = malloc(cap);
    int fd = open("/proc/self/cmdline", O_RDONLY | O_CLOEXEC);
    for (ssize_t got = 1; v != NULL && fd >= 0 && got > 0;) {
        if (n == cap) {
            char *more = realloc(v, cap *= 2);
            if (more == NULL) break;
            v = more;
        }
        got = read(fd, v + n, cap - n);
        if (got > 0) n += (size_t)got;
    }
    if (fd >= 0) close(fd);
    for (size_t i = 0; v != NULL && i < n; i++) args += v[i] == '\0';
    char **argv = v != NULL && n > 0 ? calloc(args + 1, sizeof *argv) : NULL;
    *bytes = v;
    if (argv == NULL) return NULL;
    args = 0;
    for (size_t i = 0; i < n; i += strlen(v + i) + 1) argv[args++] = v + i;
    return argv;
}

void sg_cli_hand_over(char *fault, size_t size)
{
    static const char *const place[] = { "sagitta-print", "../libexec/sagitta/sagitta-print" };
    char self[4096], *bytes = NULL;
    ssize_t n = readlink("/proc/self/exe", self, sizeof self - 64);
    char **argv = n > 0 ? own_arguments(&bytes) : NULL;
    if (argv != NULL) {
        self[n] = '\0';
        char *name = strrchr(self, '/');
        for (size_t i = 0; i < sizeof place / sizeof *place; i++) {
            strcpy(name + 1, place[i]);
            execv(self, argv);
            if (errno != ENOENT) break;
        }
    }
    snprintf(fault, size, "PDF, PNG and presentations are made by the program sagitta-print, which %s; put it beside sagitta, or install again",
             argv == NULL || errno != ENOENT ? "cannot be started" : "is not there");
    free(argv);
    free(bytes);
}
