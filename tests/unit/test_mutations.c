/* Recovery: one mistake gives one message at its place with its mend; two do not hide each other; names may be any word.
   in: every demo, hurt at one token by chance from a fixed seed. out: shares, and the mutants that break the rule, by name.
   never: asks a stage what it meant; reads the messages as an author would. MUTATIONS=N tries N seeds instead of one. */
#define _GNU_SOURCE            /* memmem */
#include "catalogue/catalogue.h"
#include "support/files.h"
#include "support/gen.h"
#include "tokens/tokens.h"
#include <criterion/criterion.h>
#include <setjmp.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef struct { uint32_t start, end; } Piece;
typedef struct { Piece *v; size_t n; } Pieces;
typedef struct { char *v; size_t n; } Script;
typedef struct { unsigned messages; uint32_t at[8]; bool mend[8]; char first[400]; } Told;

/* ---- tokens of a script, whatever its mistakes ---- */
__attribute__((noinline))
static void read_pieces(const char *s, size_t n, SgArena *arena, Pieces *out)
{
    SgCompile c = { .arena = arena };
    sg_names_init(&c.names, arena);
    SgSource source = sg_text_source(arena, SG_LIT("x"), (SgStr){ s, (uint32_t)n });
    c.source = &source;
    c.nsources = 1;
    SgTokens raw = sg_tokens(&c, 0);
    out->v = malloc((raw.n + 1) * sizeof *out->v);
    for (uint32_t i = 1; i < raw.n; i++) {
        bool said = raw.v[i].raw != SG_RAW_LINE_END && raw.v[i].raw != SG_RAW_COMMENT && raw.v[i].at.end > raw.v[i].at.start;
        if (said) out->v[out->n++] = (Piece){ raw.v[i].at.start, raw.v[i].at.end };
    }
}

static Pieces pieces_of(const char *s, size_t n)
{
    Pieces out = { 0 };
    SgArena arena = { 0 };
    jmp_buf jump;
    arena.out = &jump;
    if (setjmp(jump) == 0) read_pieces(s, n, &arena, &out);
    sg_arena_free(&arena);
    return out;
}

/* ---- what the author is told ---- */
/* A mend says what to write, take away or choose: a clause after `;`, a word in place of another, what is needed or missing. */
static bool has_mend(const char *text, size_t n)
{
    static const char *const sign[] = { "; ", "did you mean", "write ", "Write ", " needs ", " is missing", "must ", "take it away", " not comma", " is written ", " names a figure and its values: " };
    char line[1200];
    snprintf(line, sizeof line, "%.*s", (int)(n < 1100 ? n : 1100), text);
    for (size_t i = 0; i < sizeof sign / sizeof *sign; i++) if (strstr(line, sign[i])) return true;
    return false;
}

static uint32_t offset_of(const Script *s, unsigned line, unsigned column)
{
    size_t i = 0;
    while (line > 1 && i < s->n) if (s->v[i++] == '\n') line--;
    while (column > 1 && i < s->n) {
        i++;
        while (i < s->n && ((unsigned char)s->v[i] & 0xC0) == 0x80) i++;
        column--;
    }
    return (uint32_t)i;
}

static Told told_of(const Script *s)
{
    Told told = { 0 };
    SgResult r;
    SgStatus status = test_run(SG_JOB_CHECK, "x", s->v, s->n, NULL, NULL, &r);
    cr_assert(status == SG_DONE || status == SG_SCRIPT_WRONG, "status %d on\n%s", (int)status, s->v);
    for (const char *at = r.messages; at && *at; at = strchr(at, '\n') + 1) {
        unsigned line, column;
        int used = 0;
        if (sscanf(at, "x:%u:%u: error: %n", &line, &column, &used) < 2 || !used) continue;
        size_t n = strcspn(at, "\n");
        if (!told.messages) snprintf(told.first, sizeof told.first, "%.*s", (int)(n < 390 ? n : 390), at);
        if (told.messages < 8) {
            told.at[told.messages] = offset_of(s, line, column);
            told.mend[told.messages] = has_mend(at + used, n - (size_t)used);
        }
        if (told.messages && strlen(told.first) < 300) snprintf(told.first + strlen(told.first), 90, " || %.*s", (int)(n < 80 ? n : 80), at);
        told.messages++;
    }
    sg_result_free(&r);
    return told;
}

/* ---- mutants ---- */
static Script spliced(const Script *s, uint32_t start, uint32_t end, const char *with)
{
    size_t m = strlen(with);
    Script out = { malloc(s->n + m + 1), s->n - (end - start) + m };
    memcpy(out.v, s->v, start);
    memcpy(out.v + start, with, m);
    memcpy(out.v + start + m, s->v + end, s->n - end);
    out.v[out.n] = 0;
    return out;
}

typedef enum { DELETED, DOUBLED, INSERTED, MISSPELT, MUTATIONS } Mutation;
static const char *const MUTATION[] = { "deleted", "doubled", "inserted", "misspelt" };

static bool is_word(const char *s, uint32_t n)
{
    for (uint32_t i = 0; i < n; i++) if (!((s[i] >= 'a' && s[i] <= 'z') || s[i] == '_')) return false;
    return n >= 4;
}

/* A cut of a text with holes would leave two damaged texts, which are two mistakes. */
static bool is_part_of_text(const char *s, uint32_t n)
{
    bool quoted = s[0] == '"' || s[n - 1] == '"';
    return (quoted && !(n > 1 && s[0] == '"' && s[n - 1] == '"')) || (s[0] == '}' && n > 1);
}

static bool mutant(const Script *s, Piece p, Mutation how, uint64_t *seed, Script *out)
{
    static const char *const more[] = { ") ", "( ", ", ", "+ ", "} ", "{ ", "\" ", "3 cm ", "foo ", ". ", "= ", "; ", "and ", ": ", "\n ", "* " };
    char text[SG_MAX_TEXT + 200];
    const char *w = s->v + p.start;
    uint32_t n = p.end - p.start, cut;
    switch (how) {
    case DELETED: *out = spliced(s, p.start, p.end, ""); return true;
    case DOUBLED:
        snprintf(text, sizeof text, " %.*s", (int)n, w);
        *out = spliced(s, p.end, p.end, text);
        return true;
    case INSERTED: *out = spliced(s, p.start, p.start, more[gen_below(seed, 16)]); return true;
    case MISSPELT:
        if (!is_word(w, n)) return false;
        cut = 1 + gen_below(seed, n - 1);
        *out = spliced(s, p.start + cut, p.start + cut + 1, "");
        return true;
    case MUTATIONS: break;
    }
    return false;
}

static unsigned line_of(const Script *s, uint32_t at)
{
    unsigned line = 1;
    for (uint32_t i = 0; i < at; i++) line += s->v[i] == '\n';
    return line;
}

/* How many tokens lie between the place of the message and that of the mutation. */
static unsigned tokens_away(const Script *s, uint32_t message, uint32_t mutation)
{
    Pieces p = pieces_of(s->v, s->n);
    size_t a = 0, b = 0;
    while (a < p.n && p.v[a].end <= message) a++;
    while (b < p.n && p.v[b].end <= mutation) b++;
    free(p.v);
    return (unsigned)(a > b ? a - b : b - a);
}

/* Where a mistake can be seen. A brace too many or too few shows only where blocks stop fitting, and a bracket or a quote on
   its line; a name that is gone shows where it is used. Everything else shows where it is, give or take a token. */
static bool is_at_its_place(const Script *m, const Told *told, uint32_t at, char touched)
{
    uint32_t message = told->at[0];
    if (tokens_away(m, message, at) <= 1) return true;
    if (touched == '{' || touched == '}') return strstr(told->first, "[block-") || line_of(m, message) == line_of(m, at);
    if (strchr("()\"\n", touched)) return line_of(m, message) == line_of(m, at);
    return strstr(told->first, "[name-unknown]") || strstr(told->first, "[figure-unknown]");
}

typedef struct { unsigned tried, caught, one, near, mended; } Shares;

static void count_mutant(const Script *m, const char *name, Mutation how, uint32_t at, char touched, Shares *shares)
{
    Told told = told_of(m);
    bool show = getenv("MUTATIONS") != NULL;
    shares->tried++;
    if (!told.messages) return;
    shares->caught++;
    unsigned line = line_of(m, at);
    if (told.messages == 1) {
        shares->one++;
        bool close = is_at_its_place(m, &told, at, touched);
        shares->near += close;
        shares->mended += told.mend[0];
        if (show && !close) printf("FAR %s:%u %s: %s\n", name, line, MUTATION[how], told.first);
        if (show && !told.mend[0]) printf("NO MEND %s:%u %s: %s\n", name, line, MUTATION[how], told.first);
    } else if (show) {
        printf("%u MESSAGES %s:%u %s: %s\n", told.messages, name, line, MUTATION[how], told.first);
    }
}

/* ---- the demos ---- */
typedef struct { Script *v; char **name; size_t n; } Demos;
static Demos demos(void)
{
    Demos d = { 0 };
    char **list = test_list("../scripts-demo", ".sag", &d.n);
    cr_assert(list && d.n >= 5, "the demos cannot be read");
    d.v = calloc(d.n, sizeof *d.v);
    d.name = list;
    for (size_t i = 0; i < d.n; i++) {
        char path[300];
        snprintf(path, sizeof path, "../scripts-demo/%s", list[i]);
        d.v[i].v = test_read(path, &d.v[i].n);
    }
    return d;
}

static void free_demos(Demos *d)
{
    for (size_t i = 0; i < d->n; i++) {
        free(d->v[i].v);
        free(d->name[i]);
    }
    free(d->v);
    free(d->name);
}

static uint64_t seeds(void)
{
    const char *said = getenv("MUTATIONS");
    return said ? (uint64_t)strtoul(said, NULL, 10) : 1;
}

static double share(unsigned part, unsigned whole) { return whole ? 100.0 * part / whole : 0; }

Test(mutations, one_mistake_one_message, .timeout = 600)
{
    enum { TOKENS_OF_A_DEMO = 60 };
    Demos d = demos();
    Shares all = { 0 }, each[MUTATIONS] = { { 0 } };
    for (uint64_t seed = 1; seed <= seeds(); seed++) {
        uint64_t dice = seed;
        for (size_t i = 0; i < d.n; i++) {
            Pieces p = pieces_of(d.v[i].v, d.v[i].n);
            for (size_t k = 0; k < p.n; k++) {
                bool picked = gen_below(&dice, (uint32_t)p.n) < TOKENS_OF_A_DEMO;
                if (!picked || is_part_of_text(d.v[i].v + p.v[k].start, p.v[k].end - p.v[k].start)) continue;
                for (int how = 0; how < MUTATIONS; how++) {
                    Script m;
                    if (!mutant(&d.v[i], p.v[k], (Mutation)how, &dice, &m)) continue;
                    uint32_t at = how == DOUBLED ? p.v[k].end + 1 : p.v[k].start;
                    char touched = how == INSERTED ? m.v[at] : d.v[i].v[p.v[k].start];
                    count_mutant(&m, d.name[i], (Mutation)how, at, touched, &each[how]);
                    free(m.v);
                }
            }
            free(p.v);
        }
    }
    free_demos(&d);
    for (int how = 0; how < MUTATIONS; how++) {
        printf("%-9s tried %5u caught %5u one %.1f %% near %.1f %% mend %.1f %%\n", MUTATION[how], each[how].tried, each[how].caught,
               share(each[how].one, each[how].caught), share(each[how].near, each[how].one), share(each[how].mended, each[how].one));
        all.tried += each[how].tried;
        all.caught += each[how].caught;
        all.one += each[how].one;
        all.near += each[how].near;
        all.mended += each[how].mended;
    }
    printf("together  tried %5u caught %5u one %.1f %% near %.1f %% mend %.1f %%\n", all.tried, all.caught, share(all.one, all.caught),
           share(all.near, all.one), share(all.mended, all.one));
    cr_expect_gt(all.caught, 500, "only %u mutants were caught", all.caught);
    cr_expect_geq(share(all.one, all.caught), 99.0, "%.2f %% give one message", share(all.one, all.caught));
    cr_expect_geq(share(all.near, all.one), 98.0, "%.2f %% at their place", share(all.near, all.one));
    cr_expect_geq(share(all.mended, all.one), 95.0, "%.2f %% with a mend", share(all.mended, all.one));
}

/* ---- two mistakes ---- */
static const char *hurt(uint64_t *dice) { static const char *const how[] = { "", " + +", " , ," }; return how[gen_below(dice, 3)]; }

/* One script hurt at a token: deleted, or an operator too many behind it. */
static Script hurt_at(const Script *s, Piece p, const char *how) { return spliced(s, *how ? p.end : p.start, p.end, how); }

Test(mutations, two_mistakes_are_both_told, .timeout = 600)
{
    enum { PAIRS = 60 };
    Demos d = demos();
    unsigned both = 0, pairs = 0;
    for (uint64_t seed = 1; seed <= seeds(); seed++) {
        uint64_t dice = seed * 7919;
        for (size_t i = 0; i < d.n; i++) {
            const Script *s = &d.v[i];
            Pieces p = pieces_of(s->v, s->n);
            for (int k = 0; k < PAIRS; k++) {
                Piece a = p.v[gen_below(&dice, (uint32_t)p.n)], b = p.v[gen_below(&dice, (uint32_t)p.n)];
                const char *ha = hurt(&dice), *hb = hurt(&dice);
                if (a.start > b.start) { Piece swap = a; a = b; b = swap; }
                bool text = strpbrk("\"{}", (char[]){ s->v[a.start], 0 }) || strpbrk("\"{}", (char[]){ s->v[b.start], 0 })
                    || is_part_of_text(s->v + a.start, a.end - a.start) || is_part_of_text(s->v + b.start, b.end - b.start);
                if (line_of(s, a.start) == line_of(s, b.start) || text) continue;
                Script one = hurt_at(s, a, ha), two = hurt_at(s, b, hb), three = hurt_at(&two, a, ha);
                if (told_of(&one).messages == 1 && told_of(&two).messages == 1) {
                    unsigned n = told_of(&three).messages;
                    pairs++;
                    both += n >= 2;
                    if (n < 2 && getenv("MUTATIONS")) printf("HIDDEN %s:%u and %u: %s\n", d.name[i], line_of(s, a.start), line_of(s, b.start), told_of(&three).first);
                }
                free(one.v);
                free(two.v);
                free(three.v);
            }
            free(p.v);
        }
    }
    free_demos(&d);
    printf("pairs %u, both told %.1f %%\n", pairs, share(both, pairs));
    cr_expect_gt(pairs, 100);
    cr_expect_geq(share(both, pairs), 96.0, "%.2f %% of %u pairs", share(both, pairs), pairs);
}

/* ---- names ---- */
/* Every name a demo declares, in place of every word of the language: the same messages (none), and the same tree but for
   the name. Two words are refused, each with one message: a mark's own words, and `not`. */
typedef struct { const char *word; SgKind kind; } Declared;

static const char *const *language_words(size_t *n)
{
    static const char *word[2000];
    static const char *const more[] = { "and", "or", "not", "before", "beyond", "axis", "infinity", "pi", "sagitta" };
    size_t k = 0;
    for (int i = 0; i < SG_KIND_COUNT; i++) word[k++] = sg_kind_info((SgKind)i)->word;
    for (int i = 0; i < SG_PHRASE_COUNT; i++) word[k++] = sg_phrase_info((SgPhraseId)i)->word;
    for (int i = 0; i < SG_PROPERTY_COUNT; i++) word[k++] = sg_property_info((SgPropertyId)i)->word;
    for (int i = 0; i < SG_FUNCTION_COUNT; i++) word[k++] = sg_function_info((SgFunction)i)->word;
    for (int i = 0; i < SG_UNIT_COUNT; i++) if ((signed char)sg_unit_info((SgUnit)i)->spelling[0] > 0) word[k++] = sg_unit_info((SgUnit)i)->spelling;
    for (size_t i = 0; i < sizeof more / sizeof *more; i++) word[k++] = more[i];
    *n = 0;
    for (size_t i = 0; i < k; i++) {
        size_t same = 0;
        while (same < *n && strcmp(word[same], word[i])) same++;
        if (same == *n) word[(*n)++] = word[i];
    }
    return word;
}

static bool same_piece(const Script *s, Piece p, const char *word)
{
    return p.end - p.start == strlen(word) && !memcmp(s->v + p.start, word, p.end - p.start);
}

/* Where a piece stands as a name: not behind a dot, and no number. */
static bool is_name_here(const Script *s, const Pieces *p, size_t i, const char *name)
{
    return same_piece(s, p->v[i], name) && (i == 0 || s->v[p->v[i - 1].start] != '.' || p->v[i - 1].end - p->v[i - 1].start != 1);
}

static Script renamed(const Script *s, const Pieces *p, const char *name, const char *word)
{
    size_t room = s->n + (p->n + 1) * (strlen(word) + 1), from = 0;
    Script out = { malloc(room), 0 };
    for (size_t i = 0; i < p->n; i++) {
        if (!is_name_here(s, p, i, name)) continue;
        memcpy(out.v + out.n, s->v + from, p->v[i].start - from);
        out.n += p->v[i].start - from;
        memcpy(out.v + out.n, word, strlen(word));
        out.n += strlen(word);
        from = p->v[i].end;
    }
    memcpy(out.v + out.n, s->v + from, s->n - from);
    out.n += s->n - from;
    out.v[out.n] = 0;
    return out;
}

static bool script_has(const Script *s, const Pieces *p, const char *word)
{
    for (size_t i = 0; i < p->n; i++) if (is_name_here(s, p, i, word)) return true;
    return false;
}

/* Every piece behind a kind that takes a name, and every parameter. */
static size_t declared_of(const Script *s, const Pieces *p, Declared *out, char (*text)[SG_MAX_NAME + 1], size_t most)
{
    size_t n = 0;
    for (size_t i = 1; i < p->n && n < most; i++) {
        SgStr before = { s->v + p->v[i - 1].start, p->v[i - 1].end - p->v[i - 1].start }, here = { s->v + p->v[i].start, p->v[i].end - p->v[i].start };
        SgKind kind = sg_kind_of(before);
        bool starts = i < 2 || memchr(s->v + p->v[i - 2].end, '\n', p->v[i - 1].start - p->v[i - 2].end);
        bool named = starts && kind < SG_KIND_COUNT && (sg_kind_info(kind)->slot == SG_SLOT_MUST || (sg_kind_info(kind)->slot == SG_SLOT_MAY && here.s[0] != '"'
            && sg_phrase_of(kind, here) == SG_PHRASE_COUNT));
        bool parameter = before.n == 1 && *before.s == '(' && i > 3 && same_piece(s, p->v[i - 3], "figure");
        if (!(named || parameter) || here.n > SG_MAX_NAME || here.s[0] == '"') continue;
        memcpy(text[n], here.s, here.n);
        text[n][here.n] = 0;
        out[n] = (Declared){ text[n], parameter ? SG_KIND_let : kind };
        n++;
    }
    return n;
}

/* The kind whose own word it would be, where that is a mark: `ray from ...` could not be told from a ray called from. */
static bool is_own_word(const Declared *d, size_t n, const char *name, const char *word)
{
    for (size_t i = 0; i < n; i++)
        if (!strcmp(d[i].word, name) && sg_kind_info(d[i].kind)->slot == SG_SLOT_MAY && sg_phrase_of(d[i].kind, sg_str(word)) < SG_PHRASE_COUNT) return true;
    return false;
}

/* `shape candle` is a choice of words, and renaming would change it with the thing of that name. */
static bool says_shape(const Script *s, const char *name)
{
    char choice[SG_MAX_NAME + 8];
    snprintf(choice, sizeof choice, "shape %s", name);
    return memmem(s->v, s->n, choice, strlen(choice)) != NULL;
}

Test(mutations, names_may_be_any_word, .timeout = 600)
{
    enum { MOST = 60 };
    Demos d = demos();
    size_t nwords;
    const char *const *words = language_words(&nwords);
    unsigned good = 0, own = 0, refused = 0, odd = 0;
    for (size_t i = 0; i < d.n; i++) {
        const Script *s = &d.v[i];
        Declared declared[MOST];
        char text[MOST][SG_MAX_NAME + 1];
        Pieces p = pieces_of(s->v, s->n);
        size_t n = declared_of(s, &p, declared, text, MOST);
        cr_expect_gt(n, 3, "%s declares nothing", d.name[i]);
        for (size_t k = 0; k < n; k++)
            for (size_t w = 0; w < nwords && declared[k].kind != SG_KIND_style && !says_shape(s, declared[k].word); w++) {
                if (seeds() == 1 && (i * 5 + k * 3 + w) % 8 != 0) continue;       /* the long form (make fuzz) takes all */
                if (script_has(s, &p, words[w]) && sg_kind_of(sg_str(words[w])) == SG_KIND_COUNT && sg_phrase_of(declared[k].kind, sg_str(words[w])) == SG_PHRASE_COUNT) continue;
                bool taken = false;
                for (size_t j = 0; j < n; j++) taken = taken || !strcmp(declared[j].word, words[w]);
                if (taken || !strcmp(words[w], "axis")) continue;      /* a thing called axis hides the axis that the demo measures from */
                Script m = renamed(s, &p, declared[k].word, words[w]);
                Told told = told_of(&m);
                if (told.messages == 0) good++;
                else if (!strcmp(words[w], "not")) refused++;
                else if (is_own_word(declared, n, declared[k].word, words[w])) own++;
                else {
                    odd++;
                    cr_expect(odd > 5, "%s: %s called %s: %s", d.name[i], declared[k].word, words[w], told.first);
                }
                free(m.v);
            }
        free(p.v);
    }
    free_demos(&d);
    printf("names good %u, a mark's own words %u, not %u, others %u\n", good, own, refused, odd);
    cr_expect_gt(good, 2000);
    cr_expect_eq(odd, 0, "%u names were refused", odd);
}
