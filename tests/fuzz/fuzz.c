/* The fuzzer: random jobs on scripts that stay close to the language. Built by `make fuzz` only.
   in: bytes from libFuzzer. out: an abort with the broken rule's name where one does not hold (see support/fuzzjob.h).
   The mutator puts in statements, phrases and values made from the catalogue, and moves lines about. */
#include "fuzzjob.h"
#include "gen.h"
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t n);
size_t LLVMFuzzerMutate(uint8_t *data, size_t n, size_t most);
size_t LLVMFuzzerCustomMutator(uint8_t *data, size_t n, size_t most, unsigned seed);

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t n)
{
    const char *fault = fuzz_fault(data, n);
    if (!fault) return 0;
    fprintf(stderr, "broken rule: %s\n", fault);
    abort();
}

typedef struct { size_t start, end; } Part;

static Part line_at(const uint8_t *s, size_t n, size_t at)
{
    Part p = { at, at };
    while (p.start > FUZZ_HEAD && s[p.start - 1] != '\n') p.start--;
    while (p.end < n && s[p.end] != '\n') p.end++;
    if (p.end < n) p.end++;
    return p;
}

static bool is_wordy(uint8_t c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' || c == '.'; }

static Part word_at(const uint8_t *s, size_t n, size_t at)
{
    Part p = { at, at };
    while (p.start > FUZZ_HEAD && is_wordy(s[p.start - 1])) p.start--;
    while (p.end < n && is_wordy(s[p.end])) p.end++;
    return p;
}

/* Puts `with` in place of a part, as far as there is room. */
static size_t put(uint8_t *data, size_t n, size_t most, Part p, const char *with, size_t length)
{
    if (n - (p.end - p.start) + length > most) return n;
    memmove(data + p.start + length, data + p.end, n - p.end);
    memcpy(data + p.start, with, length);
    return n - (p.end - p.start) + length;
}

static size_t put_made(uint8_t *data, size_t n, size_t most, uint64_t *dice)
{
    Gen g;
    size_t at = FUZZ_HEAD + gen_below(dice, (uint32_t)(n - FUZZ_HEAD + 1));
    Part line = line_at(data, n, at), word = word_at(data, n, at), here = { word.end, word.end };
    gen_begin(&g, *dice, gen_below(dice, 4) ? 0 : 1 + gen_below(dice, 1000));
    switch (gen_below(dice, 4)) {
    case 0: gen_statement(&g); line.end = line.start; n = put(data, n, most, line, g.out.v, g.out.n); break;
    case 1: gen_phrase(&g); n = put(data, n, most, here, " ", 1); here.start = here.end = here.end + 1; if (here.end <= n) n = put(data, n, most, here, g.out.v, g.out.n); break;
    case 2: gen_value(&g); if (g.out.n) n = put(data, n, most, word, g.out.v, g.out.n); break;
    default: gen_script(&g); line.end = line.start; n = put(data, n, most, line, g.out.v, g.out.n); break;
    }
    gen_free(&g);
    return n;
}

/* A line left out, said twice, or put elsewhere. */
static size_t move_line(uint8_t *data, size_t n, size_t most, uint64_t *dice)
{
    Part p = line_at(data, n, FUZZ_HEAD + gen_below(dice, (uint32_t)(n - FUZZ_HEAD + 1)));
    size_t length = p.end - p.start;
    char *copy = malloc(length + 1);
    memcpy(copy, data + p.start, length);
    uint32_t how = gen_below(dice, 3);
    if (how != 1) n = put(data, n, most, p, "", 0);
    if (how != 0) {
        Part to = line_at(data, n, FUZZ_HEAD + gen_below(dice, (uint32_t)(n - FUZZ_HEAD + 1)));
        to.end = to.start;
        n = put(data, n, most, to, copy, length);
    }
    free(copy);
    return n;
}

size_t LLVMFuzzerCustomMutator(uint8_t *data, size_t n, size_t most, unsigned seed)
{
    uint64_t dice = seed;
    if (most < 64) return LLVMFuzzerMutate(data, n, most);
    while (n < FUZZ_HEAD) data[n++] = '0';
    if (gen_below(&dice, 4) == 0) data[0] = (uint8_t)('0' + gen_below(&dice, FUZZ_JOBS));
    if (gen_below(&dice, 8) == 0) data[1] = (uint8_t)('0' + gen_below(&dice, 16));
    for (uint32_t times = 1 + gen_below(&dice, 3); times > 0; times--) {
        uint32_t how = gen_below(&dice, 10);
        if (how < 5) n = put_made(data, n, most, &dice);
        else if (how < 7) n = move_line(data, n, most, &dice);
        else n = FUZZ_HEAD + LLVMFuzzerMutate(data + FUZZ_HEAD, n - FUZZ_HEAD, most - FUZZ_HEAD);
    }
    return n;
}
