/* Published values of mirrors and thin lenses, asked of the compiler one by one.
   in: tests/values/cases.tsv and the scripts it names. out: a failed row is named by file, figure and expression.
   never: takes a value from the compiler itself. */
#include "support/files.h"
#include <criterion/criterion.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { FILE_NAME, FIGURE, EXPRESSION, UNIT, VALUE, PRINTED, HALF_UNIT, SOURCE, COLUMNS };
typedef struct { const char *spelling; double size; char dimension; } Unit;     /* in mm, degrees, 1/mm */
static const Unit UNITS[] = { { "mm", 1, 'l' }, { "cm", 10, 'l' }, { "m", 1e3, 'l' }, { "km", 1e6, 'l' }, { "um", 1e-3, 'l' },
    { "\xC2\xB5m", 1e-3, 'l' }, { "nm", 1e-6, 'l' }, { "deg", 1, 'a' }, { "\xC2\xB0", 1, 'a' }, { "D", 1e-3, 'p' },
    { "/mm", 1, 'p' }, { "-", 1, 'n' }, { "", 1, 'n' }, { "truth", 1, 't' } };

static const Unit *unit_of(const char *s)
{
    for (size_t i = 0; i < sizeof UNITS / sizeof *UNITS; i++)
        if (!strcmp(UNITS[i].spelling, s)) return &UNITS[i];
    return NULL;
}

static bool split(char *line, char *column[COLUMNS])
{
    for (int i = 0; i < COLUMNS; i++) {
        column[i] = line;
        char *tab = strchr(line, '\t');
        if (i + 1 == COLUMNS) return !tab && *line;
        if (!tab) return false;
        *tab = 0;
        line = tab + 1;
    }
    return true;
}

/* A value as it was answered, in `want`'s unit; the name of the fault in *why otherwise. */
static bool answered(char *answer, const Unit *want, double *value, const char **why)
{
    const char *end;
    if (!test_number(answer, value, &end)) { *why = "no number was answered"; return false; }
    while (*end == ' ') end++;
    const Unit *unit = unit_of(end);
    if (!unit) { *why = "the unit answered is unknown here"; return false; }
    if (unit->dimension != want->dimension) { *why = "the dimension is another"; return false; }
    *value = *value * unit->size / want->size;
    return true;
}

/* Checks one row against what was answered; the reason it fails, or NULL. */
static const char *row_fault(char *column[COLUMNS], char *answer)
{
    if (!strcmp(column[VALUE], "at infinity") || !strcmp(column[VALUE], "true"))
        return strcmp(answer, column[VALUE]) ? "another answer" : NULL;
    const Unit *unit = unit_of(column[UNIT]);
    double want, got, printed, half;
    const char *why;
    if (!unit || !test_number(column[VALUE], &want, NULL)) return "the table's own row is wrong";
    if (!answered(answer, unit, &got, &why)) return why;
    if (fabs(got - want) > 1e-12 * fabs(want)) return "not the recomputed value";
    if (!strcmp(column[PRINTED], "-")) return NULL;
    if (!test_number(column[PRINTED], &printed, NULL) || !test_number(column[HALF_UNIT], &half, NULL))
        return "the table's own row is wrong";
    return fabs(got - printed) > half * (1 + 1e-9) ? "outside the half unit of the printed value" : NULL;
}

static bool check_row(char *column[COLUMNS])
{
    char path[160], answer[200] = "";
    size_t length;
    snprintf(path, sizeof path, "values/%s.sag", column[FILE_NAME]);
    char *script = test_read(path, &length);
    cr_assert_not_null(script, "%s cannot be read", path);
    SgResult result;
    SgStatus status = test_run(SG_JOB_ASK, path, script, length, column[FIGURE], column[EXPRESSION], &result);
    const char *fault = "no answer";
    if (status == SG_DONE && result.nproducts == 1 && result.product[0].length < sizeof answer) {
        memcpy(answer, result.product[0].bytes, result.product[0].length);
        answer[strcspn(answer, "\n")] = 0;
        fault = row_fault(column, answer);
    }
    cr_expect_null(fault, "%s %s: %s: %s (answered \"%s\", want %s %s, printed %s) [%s]\n%.*s", column[FILE_NAME], column[FIGURE],
                   column[EXPRESSION], fault, answer, column[VALUE], column[UNIT], column[PRINTED], column[SOURCE],
                   (int)result.messages_length, result.messages ? result.messages : "");
    sg_result_free(&result);
    free(script);
    return !fault;
}

Test(values, published)
{
    char *table = test_read("values/cases.tsv", NULL), *column[COLUMNS];
    cr_assert_not_null(table, "values/cases.tsv cannot be read");
    unsigned rows = 0, figures = 0;
    char last[200] = "", now[200];
    for (char *line = strtok(table, "\n"), *next; line; line = next) {
        next = strtok(NULL, "\n");
        if (*line == '#') continue;
        cr_assert(split(line, column), "a row of cases.tsv has not %d columns: %s", COLUMNS, line);
        snprintf(now, sizeof now, "%s/%s", column[FILE_NAME], column[FIGURE]);
        if (strcmp(now, last)) figures++;
        strcpy(last, now);
        rows++;
        check_row(column);
    }
    cr_expect_geq(figures, 60, "only %u figures in the table", figures);
    cr_expect_geq(rows, 140, "only %u rows in the table", rows);
    free(table);
}

/* The comparison itself can fail: near misses of every kind are caught. */
Test(values, near_misses_are_caught)
{
    struct { const char *unit, *value, *printed, *half, *answer; bool right; } row[] = {
        { "cm", "300/11", "27.3", "0.05", "272.727272727273 mm", true },
        { "cm", "300/11", "27.3", "0.05", "272.727272728 mm", false },
        { "cm", "300/11", "27.4", "0.05", "272.727272727273 mm", false },
        { "cm", "12", "-", "-", "12 mm", false },
        { "cm", "12", "-", "-", "12", false },
        { "cm", "12", "-", "-", "120 deg", false },
        { "cm", "12", "-", "-", "-12 cm", false },
        { "D", "12.5", "12.5", "0.05", "0.0125 /mm", true },
        { "-", "-1/2", "-", "-", "-0.5", true },
        { "-", "-1/2", "-", "-", "at infinity", false },
        { "cm", "at infinity", "-", "-", "4000000 mm", false },
        { "truth", "true", "-", "-", "false", false },
    };
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        char *column[COLUMNS] = { [UNIT] = (char *)row[i].unit, [VALUE] = (char *)row[i].value,
                                  [PRINTED] = (char *)row[i].printed, [HALF_UNIT] = (char *)row[i].half };
        cr_expect_eq(row_fault(column, (char *)row[i].answer) == NULL, row[i].right, "row %zu: %s for %s", i, row[i].answer, row[i].value);
    }
}
