/* The catalogue as const tables and look-up by spelling. In: catalogue.def and units.def. Out: what a word means.
   Builds nothing at start-up and changes nothing at run time. */
#include "catalogue/catalogue.h"

#include "base/num.h"

#include <string.h>

#define DIM_NUMBER { 0, 0 }
#define DIM_LENGTH { 1, 0 }
#define DIM_ANGLE  { 0, 1 }
#define DIM_POWER  { -1, 0 }

/* The kind's first phrase, read off the order of the table: each kind's name shares its number with the phrase after it. */
enum {
#define KIND(word, slot, holds, stands, drawn, name_text, doc) FIRST_PHRASE_##word, BEFORE_##word = FIRST_PHRASE_##word - 1,
#define PHRASE(kind, word, form, type, dim, space, least, most, part, group, preset, doc) PHRASE_##kind##_##word,
#include "catalogue/catalogue.def"
    FIRST_COMMON
};
enum {
#define KIND(word, slot, holds, stands, drawn, name_text, doc) FIRST_PROPERTY_##word, BEFORE_PROPERTY_##word = FIRST_PROPERTY_##word - 1,
#define PROPERTY(kind, word, type, dim, part, sign, doc) PROPERTY_##kind##_##word,
#include "catalogue/catalogue.def"
    AFTER_PROPERTIES
};
_Static_assert((int)AFTER_PROPERTIES == (int)SG_PROPERTY_COUNT, "both count the lines of one table");

static const uint16_t FIRST_PHRASE[] = {
#define KIND(word, slot, holds, stands, drawn, name_text, doc) FIRST_PHRASE_##word,
#include "catalogue/catalogue.def"
    FIRST_COMMON
};
static const uint16_t FIRST_PROPERTY[] = {
#define KIND(word, slot, holds, stands, drawn, name_text, doc) FIRST_PROPERTY_##word,
#include "catalogue/catalogue.def"
    AFTER_PROPERTIES
};
/* A group shares its number with the kind after it. */
enum {
#define GROUP(id, title) FIRST_KIND_##id, BEFORE_KIND_##id = FIRST_KIND_##id - 1,
#define KIND(word, slot, holds, stands, drawn, name_text, doc) AT_KIND_##word,
#include "catalogue/catalogue.def"
};
static const struct { uint16_t first; const char *title; } GROUPS[] = {
#define GROUP(id, title) { FIRST_KIND_##id, title },
#include "catalogue/catalogue.def"
};
static const SgKindInfo KINDS[] = {
#define KIND(word, slot, holds, stands, drawn, name_text, doc) { #word, name_text, doc, SG_SLOT_##slot, SG_HOLDS_##holds, stands, drawn },
#include "catalogue/catalogue.def"
};
static const SgPhraseInfo PHRASES[] = {
#define PHRASE(kind, word, form, type, dim, space, least, most, part, group, preset, doc) \
    { SG_KIND_##kind, #word, preset, doc, SG_FORM_##form, SG_TYPE_##type, DIM_##dim, space, least, most, part, group },
#define COMMON(word, form, type, dim, space, least, most, part, group, preset, doc) \
    { SG_KIND_COUNT, #word, preset, doc, SG_FORM_##form, SG_TYPE_##type, DIM_##dim, space, least, most, part, group },
#include "catalogue/catalogue.def"
};
static const SgPropertyInfo PROPERTIES[] = {
#define PROPERTY(kind, word, type, dim, part, sign, doc) { SG_KIND_##kind, #word, doc, SG_TYPE_##type, DIM_##dim, part, sign },
#include "catalogue/catalogue.def"
};
static const SgFunctionInfo FUNCTIONS[] = {
#define FUNCTION(word, least, most, doc) { #word, doc, least, most },
#include "catalogue/catalogue.def"
};
static const SgUnitInfo UNITS[] = {
#define UNIT(id, spelling, dim, multiplier, power, doc) { spelling, doc, DIM_##dim, multiplier, power },
#include "catalogue/units.def"
};

const SgKindInfo *sg_kind_info(SgKind kind) { return &KINDS[kind]; }
const SgPhraseInfo *sg_phrase_info(SgPhraseId id) { return &PHRASES[id]; }
const SgPropertyInfo *sg_property_info(SgPropertyId id) { return &PROPERTIES[id]; }
const SgUnitInfo *sg_unit_info(SgUnit unit) { return &UNITS[unit]; }
const SgFunctionInfo *sg_function_info(SgFunction f) { return &FUNCTIONS[f]; }

SgRange sg_phrases_of(SgKind kind) { return (SgRange){ FIRST_PHRASE[kind], FIRST_PHRASE[kind + 1] }; }
SgRange sg_phrases_common(void) { return (SgRange){ FIRST_COMMON, SG_PHRASE_COUNT }; }
SgRange sg_properties_of(SgKind kind) { return (SgRange){ FIRST_PROPERTY[kind], FIRST_PROPERTY[kind + 1] }; }

const char *sg_operator_word(uint32_t i)
{
    static const char *const words[] = { "and", "or", "not", "before", "beyond" };
    return i < sizeof words / sizeof *words ? words[i] : NULL;
}

const char *sg_group_before(SgKind kind)
{
    for (size_t i = 0; i < sizeof GROUPS / sizeof *GROUPS; i++) if (GROUPS[i].first == (uint16_t)kind) return GROUPS[i].title;
    return NULL;
}

/* The first letters differ for nearly every pair of words, so that a scan costs little more than its loop. */
static inline bool is_word(const char *word, SgStr s)
{
    return word[0] == s.s[0] && strncmp(word, s.s, s.n) == 0 && word[s.n] == '\0';
}

SgKind sg_kind_of(SgStr word)
{
    int i = 0;
    if (word.n) while (i < SG_KIND_COUNT && !is_word(KINDS[i].word, word)) i++;
    return word.n ? (SgKind)i : SG_KIND_COUNT;
}

SgPhraseId sg_phrase_of(SgKind kind, SgStr word)
{
    if (kind >= SG_KIND_COUNT || !word.n) return SG_PHRASE_COUNT;
    for (int i = FIRST_PHRASE[kind]; i < FIRST_PHRASE[kind + 1]; i++) if (is_word(PHRASES[i].word, word)) return (SgPhraseId)i;
    for (int i = FIRST_COMMON; KINDS[kind].drawn && i < SG_PHRASE_COUNT; i++) if (is_word(PHRASES[i].word, word)) return (SgPhraseId)i;
    return SG_PHRASE_COUNT;
}

SgPropertyId sg_property_of(SgKind kind, SgStr word)
{
    if (kind >= SG_KIND_COUNT || !word.n) return SG_PROPERTY_COUNT;
    for (int i = FIRST_PROPERTY[kind]; i < FIRST_PROPERTY[kind + 1]; i++) if (is_word(PROPERTIES[i].word, word)) return (SgPropertyId)i;
    return SG_PROPERTY_COUNT;
}

SgUnit sg_unit_of(SgStr spelling)
{
    for (int i = 0; spelling.n && i < SG_UNIT_COUNT; i++) if (is_word(UNITS[i].spelling, spelling)) return (SgUnit)i;
    return SG_UNIT_COUNT;
}

SgFunction sg_function_of(SgStr word)
{
    for (int i = 0; word.n && i < SG_FUNCTION_COUNT; i++) if (is_word(FUNCTIONS[i].word, word)) return (SgFunction)i;
    return SG_FUNCTION_COUNT;
}

static const SgStyleInfo STYLES[] = {
#define STYLE(word, doc) { #word, doc },
#include "catalogue/catalogue.def"
};

const SgStyleInfo *sg_style_info(SgStyleId style) { return &STYLES[style]; }

SgStyleId sg_style_id(SgStr word)
{
    for (int i = 0; word.n && i < SG_STYLE_COUNT; i++) if (is_word(STYLES[i].word, word)) return (SgStyleId)i;
    return SG_STYLE_COUNT;
}

SgColourId sg_colour_id(SgStr word)
{
    static const char *const words[] = {
#define COLOUR(word) #word,
#include "catalogue/catalogue.def"
    };
    for (int i = 0; word.n && i < SG_COLOUR_COUNT; i++) if (is_word(words[i], word)) return (SgColourId)i;
    return SG_COLOUR_COUNT;
}

double sg_medium_index(SgStr word)
{
    static const struct { const char *word; double index; } media[] = {
#define MEDIUM(word, index, doc) { #word, index },
#include "catalogue/catalogue.def"
    };
    for (size_t i = 0; i < sizeof media / sizeof *media; i++) if (is_word(media[i].word, word)) return media[i].index;
    return 0;
}

double sg_unit_factor(SgUnit unit)
{
    static const double ten[] = { 1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9 };
    const SgUnitInfo *u = &UNITS[unit];
    if (unit == SG_UNIT_pt) return 25.4 / 72;                                  /* 1/72 inch */
    if (unit == SG_UNIT_rad) return 180 / 3.14159265358979323846;
    return u->power < 0 ? u->multiplier / ten[-u->power] : u->multiplier * ten[u->power];
}

const char *sg_near_kind(SgStr word)
{
    if (word.n <= 2)                                   /* `at` is a word of its own, and no slip of alt */
        for (int p = 0; p < SG_PHRASE_COUNT; p++) if (sg_str_is(word, sg_phrase_info((SgPhraseId)p)->word)) return NULL;
    const char *all[SG_KIND_COUNT];
    for (int i = 0; i < SG_KIND_COUNT; i++) all[i] = KINDS[i].word;
    return sg_nearest(word, all, SG_KIND_COUNT);
}

const char *sg_near_phrase(SgKind kind, SgStr word)
{
    const char *all[SG_PHRASE_COUNT];
    uint32_t n = 0;
    if (kind >= SG_KIND_COUNT) return NULL;
    for (int i = FIRST_PHRASE[kind]; i < FIRST_PHRASE[kind + 1]; i++) all[n++] = PHRASES[i].word;
    for (int i = FIRST_COMMON; KINDS[kind].drawn && i < SG_PHRASE_COUNT; i++) all[n++] = PHRASES[i].word;
    return sg_nearest(word, all, n);
}

const char *sg_near_property(SgKind kind, SgStr word)
{
    const char *all[SG_PROPERTY_COUNT];
    uint32_t n = 0;
    if (kind >= SG_KIND_COUNT) return NULL;
    for (int i = FIRST_PROPERTY[kind]; i < FIRST_PROPERTY[kind + 1]; i++) all[n++] = PROPERTIES[i].word;
    return sg_nearest(word, all, n);
}

bool sg_same_dim(SgDim a, SgDim b)
{
    return a.length == b.length && a.angle == b.angle;
}

const char *sg_dim_name(SgDim dim)
{
    static const struct { SgDim dim; const char *name; } named[] = {
        { DIM_NUMBER, "a plain number" }, { DIM_LENGTH, "a length" }, { DIM_ANGLE, "an angle" }, { DIM_POWER, "a power" },
        { { 2, 0 }, "an area" }, { { 3, 0 }, "a volume" },
    };
    for (size_t i = 0; i < sizeof named / sizeof *named; i++) if (sg_same_dim(named[i].dim, dim)) return named[i].name;
    return dim.angle == 0 ? "a power of a length" : "a mixture of lengths and angles";
}
