/* pick against a search of another kind: every combination listed, sorted by the hashes of its values, the first that fits and is
   not taken. The hash is worked out here a second way, from its description: FNV-1a of 64 bits over the parts with 0x1F behind
   each, then xor-shifts by 33 and two multiplications. The demands are closed forms of a concave mirror: v = u f/(u - f). */
#include <criterion/criterion.h>
#include <criterion/new/assert.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "support/files.h"

/* Multiplied a bit of the factor at a time. */
static uint64_t times(uint64_t a, uint64_t factor)
{
    uint64_t sum = 0;
    for (int bit = 0; bit < 64; bit++) if (factor >> bit & 1) sum += a << bit;
    return sum;
}

static uint64_t fnv(uint64_t h, const char *s, size_t n)
{
    for (size_t i = 0; i < n; i++) h = times(h ^ (unsigned char)s[i], ((uint64_t)1 << 40) + 0x1B3);
    return h;
}

static uint64_t hash(const char *seed, const char *figure, char version, const char *pick, const char *text)
{
    uint64_t h = 14695981039346656037u;
    const char *part[] = { seed, figure, (char[]){ version, 0 }, pick, text };
    for (int k = 0; k < 5; k++) h = fnv(fnv(h, part[k], strlen(part[k])), "\x1f", 1);
    h = times(h ^ h >> 33, 18397679294719823053u);
    h = times(h ^ h >> 33, 14181476777654086739u);
    return h ^ h >> 33;
}

/* Known values of FNV-1a (the authors' test vectors, from memory): the reference here must meet them. */
Test(pick, the_reference_hash_is_fnv)
{
    cr_expect(eq(u64, fnv(14695981039346656037u, "a", 1), 0xAF63DC4C8601EC8Cu));
    cr_expect(eq(u64, fnv(14695981039346656037u, "foobar", 6), 0x85944171F73967E8u));
}

typedef struct { double f, u; uint64_t by_f, by_u; bool taken; } Pair;

static int first(const void *a, const void *b)
{
    const Pair *x = a, *y = b;
    if (x->by_f != y->by_f) return x->by_f < y->by_f ? -1 : 1;
    return x->by_u < y->by_u ? -1 : x->by_u > y->by_u;
}

static const char *const focal[] = { "2 cm", "2.5 cm", "3 cm", "4 cm" };
#define SCRIPT "figure lamp {\n pick u from 4.5 cm to 12 cm step 0.5 cm\n pick f from 2 cm, 2.5 cm, 3 cm, 4 cm\n" \
    " pick free from 1 to 3 step 0.1\n mirror M concave focal f at 20 cm\n object o height 1 cm at u before M\n image i of o by M\n" \
    " require i.distance < 6 cm\n require abs(i.distance - u) >= 2 cm\n}\n"

static double ask(const char *script, const char *expression, const char *seed, unsigned version)
{
    SgResult r;
    double value = NAN;
    const char *end;
    SgJob job = { .kind = SG_JOB_ASK, .path = "pick.sag", .script = script, .script_length = strlen(script), .expression = expression, .set = version, .seed = seed };
    if (sg_compile(&job, &r) != SG_DONE || !r.nproducts || !test_number(r.product[0].bytes, &value, &end))
        cr_expect(false, "%s: %s", expression, r.messages_length ? r.messages : "no number");
    sg_result_free(&r);
    return value;
}

static Pair expected(const char *seed, char version, const Pair *taken, size_t ntaken)
{
    Pair all[4 * 16];
    for (int i = 0; i < 4; i++)
        for (int k = 0; k < 16; k++) {
            char u[20];
            snprintf(u, sizeof u, k % 2 ? "%d cm" : "%d.5 cm", 4 + (k + 1) / 2);
            all[16 * i + k] = (Pair){ i < 2 ? 2 + 0.5 * i : i + 1, 4.5 + 0.5 * k, hash(seed, "lamp", version, "f", focal[i]), hash(seed, "lamp", version, "u", u), false };
        }
    qsort(all, 64, sizeof *all, first);
    for (int i = 0; i < 64; i++) {
        double v = all[i].u * all[i].f / (all[i].u - all[i].f);
        if (!(v < 6) || !(fabs(v - all[i].u) >= 2 - 1e-6)) continue;
        for (size_t k = 0; k < ntaken; k++) all[i].taken = all[i].taken || (fabs(taken[k].f - all[i].f) < 1e-9 && fabs(taken[k].u - all[i].u) < 1e-9);
        if (!all[i].taken) return all[i];
    }
    return (Pair){ NAN, NAN, 0, 0, true };
}

Test(pick, versions_are_the_first_by_hash_that_fit)
{
    static const char *const seeds[] = { "", "spring" };
    for (int s = 0; s < 2; s++)
        for (unsigned version = 0; version < 4; version++) {
            Pair want = expected(seeds[s], (char)('A' + version), NULL, 0);      /* `free` makes each version new of itself */
            double f = ask(SCRIPT, "f / (1 cm)", seeds[s], version), u = ask(SCRIPT, "u / (1 cm)", seeds[s], version), free = ask(SCRIPT, "free", seeds[s], version);
            cr_expect(fabs(f - want.f) < 1e-9 && fabs(u - want.u) < 1e-9, "seed %s version %c: f %g u %g, wanted %g %g", seeds[s], 'A' + version, f, u, want.f, want.u);
            cr_expect(free * 10 == floor(free * 10 + 0.5) && free >= 1 && free <= 3, "a candidate of whole tenths is %.17g", free);
        }
}

/* Without the free pick, and only six combinations, a version must pass over what is taken. */
Test(pick, no_two_versions_alike)
{
    static const char script[] = "figure lamp {\n pick f from 2 cm, 3 cm\n pick u from 7 cm to 9 cm step 1 cm\n require u > f\n}\n";
    double seen[6];
    for (unsigned version = 0; version < 6; version++) {
        seen[version] = 10 * ask(script, "f / (1 cm)", "", version) + ask(script, "u / (1 cm)", "", version);
        for (unsigned k = 0; k < version; k++) cr_expect(fabs(seen[k] - seen[version]) > 0.5, "versions %c and %c are alike", 'A' + k, 'A' + version);
    }
    SgResult r;
    SgJob job = { .kind = SG_JOB_SOLVE, .path = "pick.sag", .script = script, .script_length = strlen(script), .set = 6 };
    cr_expect(eq(int, (int)sg_compile(&job, &r), SG_SCRIPT_WRONG));
    cr_expect_not_null(strstr(r.messages, "7 versions need as many combinations, and only 6"), "%s", r.messages);
    sg_result_free(&r);
}

/* A condition on one pick leaves the other picks where they are; so does another pick that nothing ties to them. */
Test(pick, edits_leave_the_rest_alone)
{
    static const char *const scripts[] = {
        "figure lamp {\n pick a from 1 to 50 step 1\n pick b from 1 to 50 step 1\n}\n",
        "figure lamp {\n pick b from 1 to 50 step 1\n pick a from 1 to 50 step 1\n require a > 25\n}\n",
        "figure lamp {\n pick b from 1 to 50 step 1\n pick a from 1 to 50 step 1\n pick c from 7, 8\n}\n",
    };
    for (unsigned version = 0; version < 5; version++) {
        double b = ask(scripts[0], "b", "", version);
        for (int k = 1; k < 3; k++) cr_expect(fabs(ask(scripts[k], "b", "", version) - b) < 1e-9, "script %d changes b of version %c", k, 'A' + version);
        cr_expect(ask(scripts[1], "a", "", version) > 25);
    }
}

/* A pick of the file is one value for all its figures; differ keeps versions apart; a find is worked out for each combination. */
Test(pick, file_differ_and_find)
{
    static const char script[] = "pick f from 2 cm, 3 cm, 4 cm\ndiffer f\nfigure one {\n pick u from 5 cm to 9 cm step 1 cm\n"
        " lens L converging focal f at 20 cm\n find d from 1 cm to 30 cm where d + f = u + 1 cm\n require d > 3 cm\n}\n";
    double f[3];
    for (unsigned version = 0; version < 3; version++) {
        f[version] = ask(script, "f / (1 cm)", "", version);
        for (unsigned k = 0; k < version; k++) cr_expect(fabs(f[k] - f[version]) > 0.5);
        double u = ask(script, "u / (1 cm)", "", version), d = ask(script, "d / (1 cm)", "", version);
        cr_expect(fabs(d - (u + 1 - f[version])) < 1e-6 && d > 3);
    }
}
