/* figures demos SCRIPT... : every rule of rules.h over every figure the scripts draw, and proof that each rule sees a damaged page.
   figures made [COUNT]: teacher's figures made up from a seed, counted: words that touch, words led from afar.
   The layout of each figure is caught on its way to the output: linked with --wrap=sg_layout. Last line: "N passed, N failed". */
#define _GNU_SOURCE    /* memmem */
#include "damage.h"
#include "cli/used.h"
#include "output/output.h"
#include "sagitta.h"
#include "teacher.h"
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef struct {
    const char *script; bool nearly;
    unsigned figures, faulty, seen[DAMAGES];
    unsigned made, words, touch, close, led, small;
    void (*each)(SgCompile *, const SgScene *, const SgPage *);
} Watch;
static Watch watch;

SgPage *__real_sg_layout(SgCompile *c, const SgScene *scene);
SgPage *__wrap_sg_layout(SgCompile *c, const SgScene *scene);
SgPage *__wrap_sg_layout(SgCompile *c, const SgScene *scene)
{
    SgPage *page = __real_sg_layout(c, scene);
    if (!sg_errors(c)) watch.each(c, scene, page);
    return page;
}

static Figure open_figure(SgCompile *c, const char *who, const SgScene *scene, const SgPage *page, SvgDrawing *svg)
{
    SgBuf b = { .arena = c->arena };
    sg_output_svg(page, (SgSvgOptions){ .still = true, .step = -1 }, &b);
    *svg = svg_read(b.v, b.n);
    Figure f = { .who = who, .scene = scene, .page = page, .svg = svg, .plain = (scene->style.base == SG_STYLE_light || scene->style.base == SG_STYLE_dark) && !scene->style.nchanges,
                 .nearly = watch.nearly };
    figure_open(&f);
    return f;
}

static unsigned check_all(Figure *f)
{
    unsigned faults = 0;
    for (unsigned i = 0; i < nlight_rules; i++) faults += figure_rule(f, &light_rules[i]);
    for (unsigned i = 0; i < npage_rules; i++) faults += figure_rule(f, &page_rules[i]);
    return faults;
}

static const Rule *rule_called(const char *id)
{
    for (unsigned i = 0; i < nlight_rules; i++) if (!strcmp(light_rules[i].id, id)) return &light_rules[i];
    for (unsigned i = 0; i < npage_rules; i++) if (!strcmp(page_rules[i].id, id)) return &page_rules[i];
    return NULL;
}

/* ---- the demos ---- */
static bool beside_each_other(const SgCompile *c)
{
    SgStr script = c->source[0].bytes;
    return memmem(script.s, script.n, "\npanel ", 7) != NULL || memmem(script.s, script.n, " among ", 7) != NULL;
}

static void check_demo(SgCompile *c, const SgScene *scene, const SgPage *page)
{
    char who[200];
    SvgDrawing svg;
    snprintf(who, sizeof who, "%s: %.*s", watch.script, (int)scene->id.n, scene->id.s);
    Figure f = open_figure(c, who, scene, page, &svg);
    f.demo = true;
    f.part = beside_each_other(c);
    if (!svg.well_formed) printf("%s: no sound SVG\n", who);
    unsigned faults = check_all(&f) + !svg.well_formed;
    watch.figures++;
    watch.faulty += faults > 0;
    figure_close(&f);
    svg_free(&svg);
    for (unsigned k = 0; k < DAMAGES && !faults && f.plain; k++) {     /* each damage a few times, on the first figures that can take it */
        if (watch.seen[k] >= 3 || (f.nearly && k == RAY_SHIFTED)) continue;
        SgPage bad = page_copy(c->arena, page);
        if (!page_damage(c->arena, scene, &bad, (Damage)k)) continue;
        Figure g = open_figure(c, who, scene, &bad, &svg);
        g.demo = g.quiet = true;
        g.part = f.part;
        if (!figure_rule(&g, rule_called(damages[k].rule))) printf("%s: %s is not seen by the rule %s\n", who, damages[k].says, damages[k].rule);
        else watch.seen[k]++;
        figure_close(&g);
        svg_free(&svg);
    }
}

static int demos(int n, char **path)
{
    unsigned failed = 0, unproved = 0;
    watch.each = check_demo;
    for (int i = 0; i < n; i++) {
        SgFault fault = { 0 };
        SgScriptFile script;
        SgUsed *used = NULL;
        SgResult result;
        if (sg_cli_read(path[i], &script, &fault) != SG_DONE) { printf("%s cannot be read\n", path[i]); failed++; continue; }
        watch.script = path[i];
        watch.nearly = memmem(script.bytes, script.length, "model by_rule", 13) != NULL;
        SgJob job = { .kind = SG_JOB_DRAW, .path = path[i], .script = script.bytes, .script_length = script.length, .every = true };
        if (sg_cli_used(&used, NULL, &script, &job, &fault) != SG_DONE || sg_compile(&job, &result) != SG_DONE) { printf("%s is not drawn\n", path[i]); failed++; }
        sg_result_free(&result);
        sg_cli_used_end(used);
        free(script.bytes);
    }
    for (unsigned k = 0; k < DAMAGES; k++)
        if (!watch.seen[k]) { printf("nothing to damage: %s, for the rule %s\n", damages[k].says, damages[k].rule); unproved++; }
    for (unsigned i = 0; i < nlight_rules + npage_rules; i++) {
        const Rule *r = i < nlight_rules ? &light_rules[i] : &page_rules[i - nlight_rules];
        bool proved = false;
        for (unsigned k = 0; k < DAMAGES; k++) proved = proved || !strcmp(damages[k].rule, r->id);
        if (!proved) { printf("no damage proves the rule %s\n", r->id); unproved++; }
    }
    printf("%u figures, %u rules, %u damages\n", watch.figures, nlight_rules + npage_rules, (unsigned)DAMAGES);
    printf("%u passed, %u failed\n", watch.figures - watch.faulty + (unsigned)DAMAGES - unproved, watch.faulty + failed + unproved);
    return watch.faulty + failed + unproved > 0 || !watch.figures;
}

/* ---- made-up figures ---- */
static void count_words(SgCompile *c, const SgScene *scene, const SgPage *page)
{
    unsigned touch, close;
    SvgDrawing svg;
    Figure f = open_figure(c, "made up", scene, page, &svg);
    figure_crowding(&f, 0.99, &touch, &close);
    watch.made++;
    watch.words += f.nwords;
    watch.touch += touch;
    watch.close += close;
    f.quiet = true;
    watch.faulty += figure_rule(&f, rule_called("whole")) > 0;
    for (uint32_t i = 0; i < f.nwords; i++)
        for (uint32_t k = 0; k < page->nitems; k++) {
            if (!figure_is_leader(&f, &f.words[i], &page->item[k])) continue;
            if (page->item[k].role == SG_ROLE_ANGLE) watch.small++;
            else watch.led++;
        }
    if (touch || close) printf("%s: %u touch, %u close\n", watch.script, touch, close);
    figure_close(&f);
    svg_free(&svg);
}

static int made(unsigned count)
{
    unsigned undrawn = 0;
    watch.each = count_words;
    for (unsigned i = 0; i < count; i++) {
        char script[4000], name[40];
        SgResult result;
        snprintf(name, sizeof name, "figure %u", i);
        teacher_script(script, sizeof script, i + 1);
        watch.script = name;
        SgJob job = { .kind = SG_JOB_DRAW, .path = name, .script = script, .script_length = strlen(script), .every = true };
        if (sg_compile(&job, &result) != SG_DONE) { undrawn++; printf("%s%s\n", script, result.messages); }
        sg_result_free(&result);
    }
    printf("%u figures, %u words: %u touch something, %u come nearer than 1 mm; %u led (and %u of small angles, which always are); %u undrawn\n",
           watch.made, watch.words, watch.touch, watch.close, watch.led, watch.small, undrawn);
    bool good = watch.made + undrawn == count && undrawn * 50 <= count && !watch.touch && !watch.close && !watch.faulty && watch.led * 100 <= watch.words;
    printf("%d passed, %d failed\n", good, !good);
    return !good;
}

int main(int argc, char **argv)
{
    if (argc > 2 && !strcmp(argv[1], "demos")) return demos(argc - 2, argv + 2);
    if (argc > 1 && !strcmp(argv[1], "made")) return made(argc > 2 ? (unsigned)atoi(argv[2]) : 1000);
    if (argc > 2 && !strcmp(argv[1], "script")) {
        char script[4000];
        teacher_script(script, sizeof script, (uint64_t)atoi(argv[2]) + 1);
        fputs(script, stdout);
        return 0;
    }
    for (unsigned i = 0; i < nlight_rules; i++) printf("%-10s %s\n", light_rules[i].id, light_rules[i].says);
    for (unsigned i = 0; i < npage_rules; i++) printf("%-10s %s\n", page_rules[i].id, page_rules[i].says);
    return 0;
}
