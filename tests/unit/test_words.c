/* The catalogue written out: nothing of the tables is missing from any form, and each form keeps its own rules.
   in: the tables and the job WORDS. out: the word that is missing is named. */
#include "catalogue/catalogue.h"
#include "support/files.h"
#include <criterion/criterion.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static char *written(SgWordsForm form)
{
    SgJob job = { .kind = SG_JOB_WORDS, .path = "-", .words = form };
    SgResult r;
    cr_assert_eq(sg_compile(&job, &r), SG_DONE);
    cr_assert(r.nproducts == 1 && r.messages_length == 0);
    char *text = malloc(r.product[0].length + 1);
    memcpy(text, r.product[0].bytes, r.product[0].length);
    text[r.product[0].length] = 0;
    cr_expect_eq(strlen(text), r.product[0].length, "form %d holds a NUL", (int)form);
    sg_result_free(&r);
    return text;
}

/* `word` with neither letters nor digits at its sides. */
static bool holds(const char *text, const char *word)
{
    for (const char *at = text; (at = strstr(at, word)) != NULL; at++) {
        char before = at == text ? ' ' : at[-1], after = at[strlen(word)];
        bool joined = (before >= 'a' && before <= 'z') || (after >= 'a' && after <= 'z') || after == '_' || before == '_';
        if (!joined) return true;
    }
    return false;
}

Test(catalogue, every_form_holds_every_word)
{
    static const SgWordsForm forms[] = { SG_WORDS_TEXT, SG_WORDS_JSON, SG_WORDS_MARKDOWN, SG_WORDS_DICTIONARY };
    for (size_t f = 0; f < sizeof forms / sizeof *forms; f++) {
        char *text = written(forms[f]);
        for (int i = 0; i < SG_KIND_COUNT; i++) cr_expect(holds(text, sg_kind_info((SgKind)i)->word), "form %zu: %s", f, sg_kind_info((SgKind)i)->word);
        for (int i = 0; i < SG_PHRASE_COUNT; i++) cr_expect(holds(text, sg_phrase_info((SgPhraseId)i)->word), "form %zu: %s", f, sg_phrase_info((SgPhraseId)i)->word);
        for (int i = 0; i < SG_PROPERTY_COUNT; i++) cr_expect(holds(text, sg_property_info((SgPropertyId)i)->word), "form %zu: %s", f, sg_property_info((SgPropertyId)i)->word);
        for (int i = 0; i < SG_FUNCTION_COUNT; i++) cr_expect(holds(text, sg_function_info((SgFunction)i)->word), "form %zu: %s", f, sg_function_info((SgFunction)i)->word);
        for (int i = 0; i < SG_UNIT_COUNT; i++) {
            const char *unit = sg_unit_info((SgUnit)i)->spelling;
            bool ascii = (signed char)unit[0] > 0;
            if (ascii || forms[f] != SG_WORDS_DICTIONARY) cr_expect(strstr(text, unit), "form %zu: %s", f, unit);
        }
        free(text);
    }
}

Test(catalogue, documentation_and_defaults_are_whole)
{
    char *json = written(SG_WORDS_JSON), *messages = written(SG_WORDS_MESSAGES);
    for (int i = 0; i < SG_PHRASE_COUNT; i++) {
        const SgPhraseInfo *p = sg_phrase_info((SgPhraseId)i);
        if (!strchr(p->doc, '"')) cr_expect(strstr(json, p->doc), "%s: its documentation is not in the JSON", p->word);
        char want[200];
        if (p->preset && !strchr(p->preset, '"')) {
            snprintf(want, sizeof want, "\"default\": \"%s\"", p->preset);
            cr_expect(strstr(json, want), "%s: its default is not in the JSON", p->word);
        }
    }
    for (int i = 0; i < SG_MSG_COUNT; i++) {
        char id[100];
        snprintf(id, sizeof id, "%s (", sg_code_info((SgCode)i)->id);
        for (char *c = id; *c; c++) if (*c == '_') *c = '-';
        cr_expect(strstr(messages, id), "%s is not told", id);
        cr_expect(strstr(messages, sg_code_info((SgCode)i)->title), "%s: its title is not told", id);
    }
    free(json);
    free(messages);
}

static size_t columns(const char *line, size_t n)
{
    size_t count = 0;
    for (size_t i = 0; i < n; i++) count += ((unsigned char)line[i] & 0xC0) != 0x80;
    return count;
}

Test(catalogue, forms_keep_their_rules)
{
    char *text = written(SG_WORDS_TEXT), *dictionary = written(SG_WORDS_DICTIONARY), *md = written(SG_WORDS_MARKDOWN);
    for (const char *at = text, *end; (end = strchr(at, '\n')) != NULL; at = end + 1)
        cr_expect_leq(columns(at, (size_t)(end - at)), 79, "%.*s", (int)(end - at), at);
    size_t entries = 0;
    for (const char *at = dictionary, *end; (end = strchr(at, '\n')) != NULL; at = end + 1, entries++) {
        size_t n = (size_t)(end - at) + 1;
        cr_expect(n > 3 && at[0] == '"' && end[-1] == '"', "%.*s is not quoted", (int)n, at);
        for (const char *other = end + 1; *other; other = strchr(other, '\n') + 1)
            cr_expect(strncmp(other, at, n), "%.*s stands twice", (int)n - 1, at);
        for (size_t i = 0; i < n; i++) cr_expect((signed char)at[i] > 0, "a byte that wants writing as \\xNN");
    }
    cr_expect_gt(entries, 100);
    unsigned bars = 0;
    for (const char *at = md, *end; (end = strchr(at, '\n')) != NULL; at = end + 1) {
        unsigned here = 0;
        for (const char *c = at; c < end; c++) here += *c == '|' && (c == at || c[-1] != '\\');
        bool table = at[0] == '|', goes_on = table && bars > 0;
        cr_expect(!goes_on || here == bars, "a row of another width: %.*s", (int)(end - at), at);
        bars = table ? here : 0;
    }
    free(text);
    free(dictionary);
    free(md);
}

/* Names that the written forms call built in are there for scripts. */
Test(catalogue, built_in_names_are_there)
{
    static const char *const name[] = { "axis", "infinity", "pi" };
    char *text = written(SG_WORDS_TEXT);
    for (size_t i = 0; i < sizeof name / sizeof *name; i++) {
        char script[100];
        SgResult r;
        snprintf(script, sizeof script, "figure f {\n    let it = %s\n}\n", name[i]);
        cr_expect(strstr(text, name[i]));
        cr_expect_eq(test_run(SG_JOB_CHECK, "x.sag", script, strlen(script), NULL, NULL, &r), SG_DONE, "%s", r.messages);
        sg_result_free(&r);
    }
    free(text);
}
