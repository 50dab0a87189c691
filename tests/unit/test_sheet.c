/* Sheets: what the answers say, against closed forms, and that each version keeps its promises.
   The lens: v = u f/(u - f), m = -v/u. */
#include <criterion/criterion.h>
#include <criterion/new/assert.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "support/files.h"

#define LAMP "figure lamp(wide = 6 cm) \"Lamp at {u}\" {\n pick u from 2 cm to 12 cm step 0.5 cm\n pick f from 3 cm, 4 cm\n lens L converging focal f aperture wide at 14 cm\n" \
    " object o height 1 cm at u before L\n require u != f and u != 2 * f\n require abs(i.distance) <= 15 cm\n" \
    " require not i.real at_least 2\n differ i.distance\n construct i of o by L\n}\n"
#define ASKS " marks 3 asks u, f, i.distance, i.magnification, i.real figures 2"
#define SHEET LAMP "sheet s \"Lamps, {version}\" {\n versions 5\n %s\n problem q = lamp \"At {u}: {i.nature}?\"" ASKS "\n problem r = lamp(wide = 8 cm) \"Again.\"" ASKS " choose \"right\", \"w1\", \"w2\", \"w3\"\n%s}\n"

typedef struct { double u, f, v, m; bool real; } Row;

static char *answers(const char *settings, const char *more, bool json)
{
    char script[3000];
    SgResult r;
    snprintf(script, sizeof script, SHEET, settings, more);
    SgJob job = { .kind = SG_JOB_ANSWERS, .path = "sheet.sag", .script = script, .script_length = strlen(script), .csv = !json, .json = json };
    cr_assert(sg_compile(&job, &r) == SG_DONE && r.nproducts == 1, "%s", r.messages);
    char *text = calloc(r.product[0].length + 1, 1);
    if (text) memcpy(text, r.product[0].bytes, r.product[0].length);
    sg_result_free(&r);
    cr_assert_not_null(text);
    return text;
}

/* The cell behind "A,1,q,3,u," */
static double cell(const char *csv, char version, int number, const char *problem, const char *asked)
{
    char head[80];
    double value = NAN;
    const char *end;
    snprintf(head, sizeof head, "\n%c,%d,%s,3,%s,", version, number, problem, asked);
    const char *at = strstr(csv, head);
    if (!at || !test_number(at + strlen(head), &value, &end)) cr_expect(false, "no number after%s in %s", head, csv);
    return value;
}

static Row row(const char *csv, char version, const char *problem)
{
    int n = problem[0] == 'q' ? 1 : 2;
    char yes[40];
    snprintf(yes, sizeof yes, "\n%c,%d,%s,3,i.real,yes", version, n, problem);
    return (Row){ cell(csv, version, n, problem, "u"), cell(csv, version, n, problem, "f"), cell(csv, version, n, problem, "i.distance"), cell(csv, version, n, problem, "i.magnification"), strstr(csv, yes) != NULL };
}

Test(sheet, answers_are_the_equation_and_versions_differ)
{
    char *csv = answers("seed \"spring\"", "", false);
    static const char *const problem[] = { "q", "r" };
    unsigned alike = 0;
    for (int k = 0; k < 2; k++) {
        unsigned virtual_ones = 0;
        double seen[5];
        for (int v = 0; v < 5; v++) {
            Row a = row(csv, (char)('A' + v), problem[k]);
            seen[v] = a.v;
            virtual_ones += !a.real;
            cr_expect(fabs(a.v - a.u * a.f / (a.u - a.f)) < 1e-9 * fabs(a.v) && fabs(a.m + a.v / a.u) < 1e-9 * fabs(a.m) && a.real == (a.v > 0), "%s %c: u %g f %g v %g m %g", problem[k], 'A' + v, a.u, a.f, a.v, a.m);
            cr_expect(fabs(a.u * 2 - floor(a.u * 2 + 0.5)) < 1e-12, "u %.17g is no half centimetre", a.u);
            for (int w = 0; w < v; w++) cr_expect(fabs(seen[w] - seen[v]) > 1e-6);
            if (k) alike += fabs(a.u - row(csv, (char)('A' + v), "q").u) < 1e-9;
        }
        cr_expect(virtual_ones >= 2, "%s: %u of 5 versions are virtual", problem[k], virtual_ones);
    }
    cr_expect(alike < 5, "two problems of one figure choose alike");
    free(csv);
}

/* Another problem, another setting of the page: the same numbers. Another seed: others. */
Test(sheet, numbers_stay_and_seeds_change_them)
{
    char *first = answers("seed \"spring\"", "", false), *more = answers("seed \"spring\" paper letter landscape", " problem t \"Why?\" lines 3 model_answer \"So, \\\"because\\\".\"\n", false), *other = answers("seed \"autumn\"", "", false);
    unsigned changed = 0;
    for (int v = 0; v < 5; v++) {
        Row a = row(first, (char)('A' + v), "q"), b = row(more, (char)('A' + v), "q"), c = row(other, (char)('A' + v), "q");
        cr_expect(fabs(a.u - b.u) < 1e-12 && fabs(a.f - b.f) < 1e-12);
        changed += fabs(a.u - c.u) > 1e-12 || fabs(a.f - c.f) > 1e-12;
    }
    cr_expect(changed >= 3, "another seed changes %u of 5 versions", changed);
    cr_expect_not_null(strstr(more, "A,3,t,,words,\"So, \"\"because\"\".\",,,,,\r\n"), "%s", more);
    free(first);
    free(more);
    free(other);
}

/* Questions are told with the values of their own version, and the letter of the choice is that of the right text. */
Test(sheet, questions_and_choices)
{
    char *json = answers("", "", true);
    unsigned places = 0, found = 0;
    for (const char *at = json; (at = strstr(at, "\"asked\": \"choice\", \"value\": \"")) != NULL; at++) {
        char letter = at[strlen("\"asked\": \"choice\", \"value\": \"")];
        const char *list = strstr(at, "\"choices\": [");
        for (int k = 'A'; list && k < letter; k++) list = strchr(list, ',') ? strchr(list, ',') + 1 : NULL;
        const char *quoted = list ? strchr(list, '[') && strchr(list, '[') < strchr(list, ']') ? strchr(list, '[') : list : NULL;
        cr_expect(quoted && strstr(quoted, "\"right\"") && strstr(quoted, "\"right\"") - quoted <= 2, "letter %c of %.80s", letter, at);
        places |= 1u << (letter - 'A');
        found++;
    }
    cr_expect(eq(u32, found, 5));
    bool moves = (places & (places - 1)) != 0;
    cr_expect(moves, "the right choice stands at the same place in all versions");
    unsigned told = 0;
    for (const char *at = json; (at = strstr(at, "\"question\": \"At ")) != NULL; at++) {
        double u = NAN, is = NAN;
        const char *end, *asked = strstr(at, "\"asked\": \"u\", \"value\": ");
        told += test_number(at + strlen("\"question\": \"At "), &u, &end) && asked && test_number(asked + strlen("\"asked\": \"u\", \"value\": "), &is, &end) && fabs(u - is) < 1e-12;
    }
    cr_expect(eq(u32, told, 5));
    free(json);
}

/* Drawings to choose from: the letter is that of the one without a mistake, and versions print them in different orders. */
Test(sheet, drawings_to_choose_from)
{
    static const char script[] = "figure m {\n mirror M concave focal 2 cm aperture 4 cm at 7 cm\n object o height 1 cm at 5.5 cm before M\n"
        " step \"a\" { ray a from o.tip parallel }\n step \"b\" { ray b from o.tip toward M.vertex }\n step \"i\" { image i of o by M }\n"
        " mistake x of b wrong_side\n mistake y of a through_centre\n mistake z of i other_way_up\n}\nsheet s \"Which?\" {\n versions 8\n problem q = m \"Which is right?\" among x, y, z\n}\n";
    SgResult r;
    SgJob job = { .kind = SG_JOB_ANSWERS, .path = "which.sag", .script = script, .script_length = sizeof script - 1, .json = true };
    cr_assert(sg_compile(&job, &r) == SG_DONE && r.nproducts == 1, "%s", r.messages);
    char text[12000];
    snprintf(text, sizeof text, "%.*s", (int)r.product[0].length, r.product[0].bytes);
    unsigned found = 0, places = 0;
    for (const char *at = text; (at = strstr(at, "\"asked\": \"choice\", \"value\": \"")) != NULL; at++) {
        int letter = at[strlen("\"asked\": \"choice\", \"value\": \"")] - 'A', place = 0, nulls = 0;
        const char *list = strstr(at, "\"mistakes\": ["), *end = list ? strchr(list, ']') : NULL;
        cr_assert(list && end, "%s", at);
        for (const char *p = list + strlen("\"mistakes\": ["); p < end; place++) {
            bool right = !strncmp(p, "null", 4);
            nulls += right;
            cr_expect(right == (place == letter), "drawing %c of %.200s", 'A' + place, list);
            if (right) p += 4;
            else p = strchr(p + 1, '"') + 1;
            if (p < end) p += 2;
        }
        cr_expect(place == 4 && nulls == 1, "%d drawings, %d right", place, nulls);
        places |= 1u << letter;
        found++;
    }
    bool moves = (places & (places - 1)) != 0;
    cr_expect(found == 8 && moves, "%u versions, places %u", found, places);
    sg_result_free(&r);
}
