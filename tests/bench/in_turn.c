/* in_turn ROUNDS COMMAND... , COMMAND... , ...: runs the commands in turn, ROUNDS times round, so that a busy moment of the
   machine falls on all of them, and writes for each: median and least wall time in microseconds, minor page faults. */
#define _DEFAULT_SOURCE
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

enum { MOST_COMMANDS = 8, MOST_ROUNDS = 1000 };

static int by_size(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

static double run_once(char **argv, long *faults)
{
    struct timespec from, to;
    struct rusage usage;
    int status;
    clock_gettime(CLOCK_MONOTONIC, &from);
    pid_t pid = fork();
    if (pid == 0) {
        execv(argv[0], argv);
        _exit(127);
    }
    if (pid < 0 || wait4(pid, &status, 0, &usage) != pid || status != 0) {
        fprintf(stderr, "in_turn: %s failed\n", argv[0]);
        exit(1);
    }
    clock_gettime(CLOCK_MONOTONIC, &to);
    *faults = usage.ru_minflt;
    return (double)(to.tv_sec - from.tv_sec) * 1e6 + (double)(to.tv_nsec - from.tv_nsec) / 1e3;
}

int main(int argc, char **argv)
{
    static double us[MOST_COMMANDS][MOST_ROUNDS];
    long faults[MOST_COMMANDS];
    char **command[MOST_COMMANDS];
    int ncommands = 0, rounds = argc > 2 ? atoi(argv[1]) : 0;
    if (rounds < 1 || rounds > MOST_ROUNDS) return 2;
    for (int i = 2; i < argc; i++) {
        if (ncommands == MOST_COMMANDS) return 2;
        command[ncommands++] = &argv[i];
        while (i < argc && strcmp(argv[i], ",") != 0) i++;
        if (i < argc) argv[i] = NULL;
    }
    for (int r = 0; r < rounds; r++)
        for (int c = 0; c < ncommands; c++) us[c][r] = run_once(command[c], &faults[c]);
    for (int c = 0; c < ncommands; c++) {
        qsort(us[c], (size_t)rounds, sizeof us[c][0], by_size);
        printf("%.0f %.0f %ld\n", us[c][rounds / 2], us[c][0], faults[c]);
    }
    return 0;
}
