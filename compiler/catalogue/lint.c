/* Rules the catalogue must keep so that the grammar stays free of its words. In: the tables. Out: one line a broken rule.
   A broken rule stops the build; it never depends on a script. */
#include "catalogue/catalogue.h"

#include "base/num.h"

#include <string.h>

static bool is_operator_word(const char *word)
{
    for (uint32_t i = 0; sg_operator_word(i); i++) if (strcmp(sg_operator_word(i), word) == 0) return true;
    return false;
}

static uint32_t broken(SgBuf *out, const char *of, const char *word, const char *rule)
{
    sg_putf(out, "catalogue: %s%s%s: %s\n", of, *of ? " " : "", word, rule);
    return 1;
}

/* One sentence: it begins with no small letter, ends with its only full stop, and is not empty. */
static uint32_t check_doc(SgBuf *out, const char *of, const char *word, const char *doc)
{
    size_t n = strlen(doc);
    if (n < 2) return broken(out, of, word, "has no documentation");
    if (doc[n - 1] != '.' || (doc[0] >= 'a' && doc[0] <= 'z')) return broken(out, of, word, "its documentation is no sentence");
    return 0;
}

static uint32_t check_word(SgBuf *out, const char *of, const char *word)
{
    uint32_t n = 0;
    if (is_operator_word(word)) n += broken(out, of, word, "is an operator word");
    if (sg_unit_of(sg_str(word)) < SG_UNIT_COUNT) n += broken(out, of, word, "is a unit");
    return n;
}

static uint32_t check_kinds(SgBuf *out)
{
    uint32_t n = sg_group_before((SgKind)0) ? 0 : broken(out, "kind", sg_kind_info((SgKind)0)->word, "stands in no group");
    for (int i = 0; i < SG_KIND_COUNT; i++) {
        const SgKindInfo *k = sg_kind_info((SgKind)i);
        n += check_word(out, "kind", k->word) + check_doc(out, "kind", k->word, k->doc);
        if (sg_kind_of(sg_str(k->word)) != (SgKind)i) n += broken(out, "kind", k->word, "stands twice");
        if (!k->stands) n += broken(out, "kind", k->word, "stands nowhere");
        if (strncmp(k->name_text, "a ", 2) != 0 && strncmp(k->name_text, "an ", 3) != 0 && strncmp(k->name_text, "the ", 4) != 0)
            n += broken(out, "kind", k->word, "its name in messages has no article");
    }
    return n;
}

/* A preset is a word, a text, or a number with perhaps a unit, of the phrase's dimension. */
static bool preset_readable(const SgPhraseInfo *p)
{
    const char *s = p->preset;
    uint32_t digits = 0;
    double value;
    if (p->type == SG_TYPE_TEXT) return s[0] == '"' && strlen(s) > 1 && s[strlen(s) - 1] == '"';
    if (s[0] == '-') s++;
    if (s[0] < '0' || s[0] > '9') {
        if (p->type != SG_TYPE_WORD && p->type != SG_TYPE_COLOUR && p->type != SG_TYPE_MEDIUM && p->type != SG_TYPE_ANY && p->type != SG_TYPE_THING) return false;
        for (; *s; s++) if (!((*s >= 'a' && *s <= 'z') || (*s >= 'A' && *s <= 'Z') || *s == '_' || (s != p->preset && *s >= '0' && *s <= '9'))) return false;
        return s != p->preset;
    }
    while ((s[digits] >= '0' && s[digits] <= '9') || s[digits] == '.') digits++;
    if (sg_num_read(s, digits, &value) != SG_NUM_OK) return false;
    s += digits;
    while (*s == ' ') s++;
    SgDim plain = { 0, 0 };
    if (!*s) return value == 0 || sg_same_dim(p->dim, plain);
    SgUnit unit = sg_unit_of(sg_str(s));
    return unit < SG_UNIT_COUNT && sg_same_dim(sg_unit_info(unit)->dim, p->dim);
}

static uint32_t check_phrases(SgBuf *out)
{
    uint32_t n = 0;
    for (int i = 0; i < SG_PHRASE_COUNT; i++) {
        const SgPhraseInfo *p = sg_phrase_info((SgPhraseId)i);
        const char *of = p->kind < SG_KIND_COUNT ? sg_kind_info(p->kind)->word : "common";
        n += check_word(out, of, p->word) + check_doc(out, of, p->word, p->doc);
        if (p->kind < SG_KIND_COUNT && sg_phrase_of(p->kind, sg_str(p->word)) != (SgPhraseId)i)
            n += broken(out, of, p->word, "stands twice, or away from its kind");
        if (p->kind < SG_KIND_COUNT && sg_kind_info(p->kind)->holds != SG_HOLDS_WORDS && sg_kind_of(sg_str(p->word)) < SG_KIND_COUNT)
            n += broken(out, of, p->word, "is a kind too, and the block holds statements");
        for (int k = 0; p->kind == SG_KIND_COUNT && k < SG_KIND_COUNT; k++)
            if (sg_kind_info((SgKind)k)->drawn && sg_phrase_of((SgKind)k, sg_str(p->word)) != (SgPhraseId)i)
                n += broken(out, of, p->word, "is also a word of a drawn kind, or stands twice");
        if ((p->form == SG_FORM_FLAG) != (p->most == 0) || p->least > p->most) n += broken(out, of, p->word,
                "its count of values does not fit its form");
        if (p->group > 1 && (p->group < 'A' || p->group > 'Z')) n += broken(out, of, p->word, "its group is no letter");
        if (p->preset && !preset_readable(p)) n += broken(out, of, p->word, "its default cannot be read, or has another dimension");
    }
    return n;
}

static uint32_t check_rest(SgBuf *out)
{
    uint32_t n = 0;
    for (int i = 0; i < SG_PROPERTY_COUNT; i++) {
        const SgPropertyInfo *p = sg_property_info((SgPropertyId)i);
        const char *of = sg_kind_info(p->kind)->word;
        n += check_doc(out, of, p->word, p->doc);
        if (sg_property_of(p->kind, sg_str(p->word)) != (SgPropertyId)i) n += broken(out, of, p->word, "stands twice, or away from its kind");
    }
    for (int i = 0; i < SG_FUNCTION_COUNT; i++) {
        const SgFunctionInfo *f = sg_function_info((SgFunction)i);
        n += check_doc(out, "function", f->word, f->doc);
        if (sg_function_of(sg_str(f->word)) != (SgFunction)i || f->least > f->most) n += broken(out, "function",
                f->word, "stands twice, or its counts are wrong");
    }
    for (int i = 0; i < SG_UNIT_COUNT; i++) {
        const SgUnitInfo *u = sg_unit_info((SgUnit)i);
        if (sg_unit_of(sg_str(u->spelling)) != (SgUnit)i || !*u->doc) n += broken(out, "unit", u->spelling, "stands twice, or has no documentation");
    }
    return n;
}

uint32_t sg_catalogue_lint(SgBuf *out)
{
    return check_kinds(out) + check_phrases(out) + check_rest(out);
}
