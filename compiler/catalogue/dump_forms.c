/* The catalogue for programs and for the manual: JSON, Markdown, a dictionary of words. In: the tables. Out: bytes.
   Says nothing that the tables do not say. */
#include "catalogue/dump.h"

#include <string.h>

/* ---- JSON ---- */
static void put_text(SgBuf *out, const char *key, const char *text)
{
    sg_putf(out, "\"%s\": ", key);
    if (text) sg_put_json_text(out, sg_str(text));
    else sg_puts(out, "null");
}

static const char *dimension(SgType type, SgDim dim)
{
    bool measured = type == SG_TYPE_NUMBER || type == SG_TYPE_PLACE || type == SG_TYPE_POINT || type == SG_TYPE_LINE
        || (type == SG_TYPE_WORD && dim.angle);
    if (!measured || (dim.length == 0 && dim.angle == 0)) return NULL;
    return dim.angle ? "angle" : dim.length > 0 ? "length" : "power";
}

static const char *need(uint8_t group)
{
    return group == 0 ? "free" : group == 1 ? "needed" : group < 'N' ? "at most one" : "exactly one";
}

static void put_json_phrase(SgBuf *out, SgPhraseId id)
{
    static const char *const form[] = { "none", "flag", "value", "condition" };
    const SgPhraseInfo *p = sg_phrase_info(id);
    sg_puts(out, "        { ");
    put_text(out, "word", p->word);
    sg_putf(out, ", \"form\": \"%s\", \"takes\": \"%s\", ", form[p->form], sg_dump_takes(p->type, p->dim));
    put_text(out, "dimension", p->form == SG_FORM_FLAG ? NULL : dimension(p->type, p->dim));
    sg_putf(out, ", \"measured\": \"%s\", \"least\": %u, \"most\": %u, \"need\": \"%s\", \"of\": [", p->space == SG_PAPER ? "on paper" : "in the scene",
        (unsigned)p->least, (unsigned)p->most, need(p->group));
    bool any = false;
    for (int i = 0; p->group > 1 && i < SG_PHRASE_COUNT; i++) {
        const SgPhraseInfo *q = sg_phrase_info((SgPhraseId)i);
        if (q->kind != p->kind || q->group != p->group) continue;
        sg_putf(out, "%s\"%s\"", any ? ", " : "", q->word);
        any = true;
    }
    sg_puts(out, "], ");
    put_text(out, "default", p->preset);
    sg_puts(out, ", ");
    put_text(out, "doc", p->doc);
    sg_puts(out, " }");
}

static void put_json_phrases(SgBuf *out, SgKind kind)
{
    bool any = false;
    for (int i = 0; i < SG_PHRASE_COUNT; i++) {
        if (sg_phrase_info((SgPhraseId)i)->kind != kind) continue;
        sg_puts(out, any ? ",\n" : "\n");
        put_json_phrase(out, (SgPhraseId)i);
        any = true;
    }
}

static void put_json_properties(SgBuf *out, SgKind kind)
{
    bool any = false;
    for (int i = 0; i < SG_PROPERTY_COUNT; i++) {
        const SgPropertyInfo *p = sg_property_info((SgPropertyId)i);
        if (p->kind != kind) continue;
        sg_puts(out, any ? ",\n        { " : "\n        { ");
        put_text(out, "word", p->word);
        sg_putf(out, ", \"is\": \"%s\", ", sg_dump_takes(p->type, p->dim));
        put_text(out, "dimension", dimension(p->type, p->dim));
        sg_putf(out, ", \"signed\": %s, ", p->sign == SG_SIGNED ? "true" : "false");
        put_text(out, "doc", p->doc);
        sg_puts(out, " }");
        any = true;
    }
}

static void put_json_kind(SgBuf *out, SgKind kind, const char *group)
{
    static const char *const slot[] = { "must", "may", "values", "condition", "none" };
    static const char *const holds[] = { "phrases", "statements", "figure" };
    static const struct { int where; const char *word; } places[] = {
        { SG_IN_FILE, "file" }, { SG_IN_FIGURE, "figure" }, { SG_IN_STEP, "step" }, { SG_IN_SHEET, "sheet" }, { SG_IN_PANEL, "panel" },
    };
    const SgKindInfo *k = sg_kind_info(kind);
    bool any = false;
    sg_puts(out, "    { ");
    put_text(out, "word", k->word);
    sg_puts(out, ", ");
    put_text(out, "group", group);
    sg_putf(out, ", \"name\": \"%s\", \"block\": \"%s\", \"stands\": [", slot[k->slot], holds[k->holds]);
    for (size_t i = 0; i < sizeof places / sizeof *places; i++) {
        if (!(k->stands & places[i].where)) continue;
        sg_putf(out, "%s\"%s\"", any ? ", " : "", places[i].word);
        any = true;
    }
    sg_putf(out, "], \"drawn\": %s, ", k->drawn ? "true" : "false");
    put_text(out, "doc", k->doc);
    sg_puts(out, ",\n      \"phrases\": [");
    put_json_phrases(out, kind);
    sg_puts(out, "],\n      \"properties\": [");
    put_json_properties(out, kind);
    sg_puts(out, "] }");
}

static void put_json_lists(SgBuf *out)
{
    const char *word, *doc;
    sg_puts(out, "  \"functions\": [");
    for (int i = 0; i < SG_FUNCTION_COUNT; i++) {
        const SgFunctionInfo *f = sg_function_info((SgFunction)i);
        sg_puts(out, i ? ",\n    { " : "\n    { ");
        put_text(out, "word", f->word);
        sg_putf(out, ", \"least\": %u, \"most\": %u, ", (unsigned)f->least, (unsigned)f->most);
        put_text(out, "doc", f->doc);
        sg_puts(out, " }");
    }
    sg_puts(out, "],\n  \"names\": [");
    for (uint32_t i = 0; (word = sg_dump_built_in(i, &doc)) != NULL; i++) {
        sg_puts(out, i ? ",\n    { " : "\n    { ");
        put_text(out, "word", word);
        sg_puts(out, ", ");
        put_text(out, "doc", doc);
        sg_puts(out, " }");
    }
    sg_puts(out, "],\n  \"operators\": [");
    for (uint32_t i = 0; sg_operator_word(i); i++) sg_putf(out, "%s\"%s\"", i ? ", " : "", sg_operator_word(i));
    sg_puts(out, "],\n  \"units\": [");
    for (int i = 0; i < SG_UNIT_COUNT; i++) {
        const SgUnitInfo *u = sg_unit_info((SgUnit)i);
        sg_puts(out, i ? ",\n    { " : "\n    { ");
        put_text(out, "spelling", u->spelling);
        sg_puts(out, ", ");
        put_text(out, "dimension", dimension(SG_TYPE_NUMBER, u->dim));
        sg_puts(out, ", ");
        put_text(out, "doc", u->doc);
        sg_puts(out, " }");
    }
    sg_puts(out, "],\n  \"values\": [");
    for (uint32_t i = 0; (doc = sg_dump_type_doc(i, &word)) != NULL; i++) {
        sg_puts(out, i ? ",\n    { " : "\n    { ");
        put_text(out, "takes", word);
        sg_puts(out, ", ");
        put_text(out, "doc", doc);
        sg_puts(out, " }");
    }
}

static void put_json_messages(SgBuf *out)
{
    sg_puts(out, "],\n  \"messages\": [");
    for (int i = 0; i < SG_MSG_COUNT; i++) {
        const SgCodeInfo *code = sg_code_info((SgCode)i);
        sg_puts(out, i ? ",\n    { \"code\": \"" : "\n    { \"code\": \"");
        sg_dump_code(out, (SgCode)i);
        sg_putf(out, "\", \"severity\": \"%s\", ", code->severity == SG_ERROR ? "error" : "warning");
        put_text(out, "title", code->title);
        sg_puts(out, ", ");
        put_text(out, "explanation", code->explanation);
        sg_puts(out, " }");
    }
    sg_puts(out, "]\n}\n");
}

void sg_dump_json(SgBuf *out, const char *version)
{
    const char *group = NULL;
    sg_puts(out, "{\n  ");
    put_text(out, "version", version);
    sg_puts(out, ",\n  \"kinds\": [\n");
    for (int k = 0; k < SG_KIND_COUNT; k++) {
        if (sg_group_before((SgKind)k)) group = sg_group_before((SgKind)k);
        if (k) sg_puts(out, ",\n");
        put_json_kind(out, (SgKind)k, group);
    }
    sg_puts(out, "],\n  \"common\": [");
    put_json_phrases(out, SG_KIND_COUNT);
    sg_puts(out, "],\n");
    put_json_lists(out);
    put_json_messages(out);
}

/* ---- Markdown ---- */
/* A bar would end the cell, and < and * would be read as marks. */
static void put_cell(SgBuf *out, const char *text)
{
    for (; *text; text++) {
        if (strchr("|<*_`\\", *text)) sg_put_char(out, '\\');
        sg_put_char(out, *text);
    }
}

static void put_code(SgBuf *out, const char *text)
{
    sg_put_char(out, '`');
    for (; *text; text++) sg_puts(out, *text == '|' ? "\\|" : (const char[]){ *text, '\0' });
    sg_put_char(out, '`');
}

static void put_phrase_rows(SgBuf *out, SgKind kind)
{
    bool any = false;
    for (int i = 0; i < SG_PHRASE_COUNT; i++) {
        const SgPhraseInfo *p = sg_phrase_info((SgPhraseId)i);
        if (p->kind != kind) continue;
        if (!any) sg_puts(out, "\n| phrase | without it | meaning |\n| --- | --- | --- |\n");
        any = true;
        SgStr head = sg_format(out->arena, "%s%s%s%s", p->word, p->form == SG_FORM_FLAG ? "" : " ", sg_dump_takes(p->type, p->dim), p->most > 1 ? ", ..." : "");
        sg_puts(out, "| ");
        put_code(out, head.s);
        sg_puts(out, " | ");
        SgBuf choice = { .arena = out->arena };
        if (p->preset) put_code(out, p->preset);
        else if (p->group == 1) sg_puts(out, "an error");
        else if (p->group > 1) {
            SgPhraseId first = (SgPhraseId)i;
            while (!sg_dump_choice(&choice, first)) {
                choice.n = 0;
                first = (SgPhraseId)(first - 1);
            }
            sg_putf(out, "%s one of %.*s", p->group < 'N' ? "at most" : "exactly", (int)choice.n, choice.v);
        }
        sg_puts(out, " | ");
        put_cell(out, p->doc);
        sg_puts(out, " |\n");
    }
}

static void put_property_rows(SgBuf *out, SgKind kind)
{
    bool any = false;
    for (int i = 0; i < SG_PROPERTY_COUNT; i++) {
        const SgPropertyInfo *p = sg_property_info((SgPropertyId)i);
        if (p->kind != kind) continue;
        if (!any) sg_puts(out, "\n| property | is | meaning |\n| --- | --- | --- |\n");
        any = true;
        sg_putf(out, "| `.%s` | %s | ", p->word, sg_dump_takes(p->type, p->dim));
        put_cell(out, p->doc);
        sg_puts(out, " |\n");
    }
}

static void put_pair(SgBuf *out, const char *word, const char *doc)
{
    sg_puts(out, "| ");
    put_code(out, word);
    sg_puts(out, " | ");
    put_cell(out, doc);
    sg_puts(out, " |\n");
}

void sg_dump_markdown(SgBuf *out)
{
    const char *word, *doc;
    for (int k = 0; k < SG_KIND_COUNT; k++) {
        const char *group = sg_group_before((SgKind)k);
        if (group) sg_putf(out, "%s# %s\n", k ? "\n" : "", group);
        sg_putf(out, "\n## %s\n\n", sg_kind_info((SgKind)k)->word);
        put_cell(out, sg_kind_info((SgKind)k)->doc);
        sg_puts(out, " Written `");
        sg_dump_usage(out, (SgKind)k);
        sg_puts(out, "`, ");
        sg_dump_stands(out, (SgKind)k);
        sg_puts(out, sg_kind_info((SgKind)k)->drawn ? "; it takes also [what everything drawn takes](#everything-drawn).\n" : ".\n");
        put_phrase_rows(out, (SgKind)k);
        put_property_rows(out, (SgKind)k);
    }
    sg_puts(out, "\n# Everything drawn\n");
    put_phrase_rows(out, SG_KIND_COUNT);
    sg_puts(out, "\n# Functions\n\n| function | gives |\n| --- | --- |\n");
    for (int i = 0; i < SG_FUNCTION_COUNT; i++) put_pair(out, sg_function_info((SgFunction)i)->word, sg_function_info((SgFunction)i)->doc);
    sg_puts(out, "\n# Names that are there\n\n| name | is |\n| --- | --- |\n");
    for (uint32_t i = 0; (word = sg_dump_built_in(i, &doc)) != NULL; i++) put_pair(out, word, doc);
    sg_puts(out, "\n# Units\n\n| unit | is |\n| --- | --- |\n");
    for (int i = 0; i < SG_UNIT_COUNT; i++) put_pair(out, sg_unit_info((SgUnit)i)->spelling, sg_unit_info((SgUnit)i)->doc);
    sg_puts(out, "\n# What values are\n\n| value | is |\n| --- | --- |\n");
    for (uint32_t i = 0; (doc = sg_dump_type_doc(i, &word)) != NULL; i++) put_pair(out, word, doc);
}

/* ---- dictionary ---- */
/* Each entry once: a fuzzer draws them all alike. */
static void put_entry(SgBuf *out, const char *word)
{
    SgBuf entry = { .arena = out->arena };
    sg_put_char(&entry, '"');
    for (; *word; word++) {
        unsigned char byte = (unsigned char)*word;
        if (byte >= 0x7F || byte < ' ') sg_putf(&entry, "\\x%02X", byte);
        else sg_putf(&entry, "%s%c", byte == '"' || byte == '\\' ? "\\" : "", byte);
    }
    sg_puts(&entry, "\"\n");
    for (uint32_t i = 0; i + entry.n <= out->n; i++)
        if ((i == 0 || out->v[i - 1] == '\n') && memcmp(out->v + i, entry.v, entry.n) == 0) return;
    sg_put_str(out, sg_buf_str(&entry));
}

void sg_dump_dictionary(SgBuf *out)
{
    static const char *const signs[] = { "{", "}", "(", ")", "=", "!=", "<", "<=", ">", ">=", "+", "-", "*", "/", "^", ",", ".", ":", ";", "\"", "#", "\\", "\n" };
    const char *word, *doc;
    for (int i = 0; i < SG_KIND_COUNT; i++) put_entry(out, sg_kind_info((SgKind)i)->word);
    for (int i = 0; i < SG_PHRASE_COUNT; i++) put_entry(out, sg_phrase_info((SgPhraseId)i)->word);
    for (int i = 0; i < SG_PROPERTY_COUNT; i++) put_entry(out, sg_property_info((SgPropertyId)i)->word);
    for (int i = 0; i < SG_FUNCTION_COUNT; i++) put_entry(out, sg_function_info((SgFunction)i)->word);
    for (uint32_t i = 0; (word = sg_dump_built_in(i, &doc)) != NULL; i++) put_entry(out, word);
    for (uint32_t i = 0; sg_operator_word(i); i++) put_entry(out, sg_operator_word(i));
    for (int i = 0; i < SG_UNIT_COUNT; i++) put_entry(out, sg_unit_info((SgUnit)i)->spelling);
    for (size_t i = 0; i < sizeof signs / sizeof *signs; i++) put_entry(out, signs[i]);
}
