/* Help for the suites: files and jobs. See files.h. */
#include "files.h"
#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#ifndef TESTS_FOLDER
#define TESTS_FOLDER "tests"
#endif

static const char *folder(void)
{
    const char *said = getenv("TESTS_FOLDER");
    return said && *said ? said : TESTS_FOLDER;
}

char *test_read(const char *path, size_t *length)
{
    char full[1024];
    snprintf(full, sizeof full, "%s/%s", folder(), path);
    FILE *f = fopen(full, "rb");
    if (!f) return NULL;
    size_t n = 0, cap = 1 << 16;
    char *bytes = malloc(cap + 1);
    for (size_t got; bytes && (got = fread(bytes + n, 1, cap - n, f)) > 0;) {
        n += got;
        if (n == cap) bytes = realloc(bytes, (cap *= 2) + 1);
    }
    fclose(f);
    if (!bytes) return NULL;
    bytes[n] = 0;
    if (length) *length = n;
    return bytes;
}

static int by_name(const void *a, const void *b) { return strcmp(*(char *const *)a, *(char *const *)b); }

char **test_list(const char *sub, const char *ending, size_t *count)
{
    char full[1024];
    snprintf(full, sizeof full, "%s/%s", folder(), sub);
    *count = 0;
    DIR *d = opendir(full);
    if (!d) return NULL;
    char **list = NULL;
    for (struct dirent *e; (e = readdir(d));) {
        size_t n = strlen(e->d_name), m = strlen(ending);
        if (n <= m || strcmp(e->d_name + n - m, ending)) continue;
        list = realloc(list, (*count + 1) * sizeof *list);
        list[*count] = malloc(n + 1);
        memcpy(list[(*count)++], e->d_name, n + 1);
    }
    closedir(d);
    if (list) qsort(list, *count, sizeof *list, by_name);
    return list;
}

SgStatus test_run(SgJobKind kind, const char *path, const char *script, size_t length, const char *figure,
                  const char *expression, SgResult *result)
{
    SgJob job = { .kind = kind, .path = path, .script = script, .script_length = length, .figure = figure,
                  .every = true, .expression = expression, .still = true };
    return sg_compile(&job, result);
}

static bool plain_number(const char *s, double *value, const char **end)
{
    bool minus = *s == '-';
    if (*s == '-' || *s == '+') s++;
    if (*s < '0' || *s > '9') return false;
    long double v = 0;
    int power = 0;
    for (; *s >= '0' && *s <= '9'; s++) v = v * 10 + (*s - '0');
    if (*s == '.')
        for (s++; *s >= '0' && *s <= '9'; s++, power--) v = v * 10 + (*s - '0');
    if ((*s == 'e' || *s == 'E') && (s[1] == '-' || s[1] == '+' || (s[1] >= '0' && s[1] <= '9'))) {
        bool down = *++s == '-';
        if (*s == '-' || *s == '+') s++;
        int e = 0;
        for (; *s >= '0' && *s <= '9' && e < 400; s++) e = e * 10 + (*s - '0');
        power += down ? -e : e;
    }
    for (; power > 0; power--) v *= 10;
    long double under = 1;
    for (; power < 0; power++) under *= 10;
    *value = (double)((minus ? -v : v) / under);
    *end = s;
    return true;
}

bool test_number(const char *s, double *value, const char **end)
{
    const char *stop;
    if (!plain_number(s, value, &stop)) return false;
    double under;
    if (*stop == '/' && plain_number(stop + 1, &under, &stop)) *value /= under;
    if (end) *end = stop;
    return true;
}
