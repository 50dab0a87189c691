/* catalogue: what exists. One table (catalogue.def, units.def), read by every stage that needs a word of the language.
   needs  nothing.
   gives  kinds, phrases, properties, units and functions as const tables, and look-up by name.
   never  changes at run time. */
#ifndef SG_CATALOGUE_H
#define SG_CATALOGUE_H
#include "messages/messages.h"

/* Name slot: what may follow the kind. MUST a name, whatever it is; MAY a name, unless it is one of the kind's own words;
   BARE values; CONDITION a condition; NONE phrases at once. */
typedef enum { SG_SLOT_MUST, SG_SLOT_MAY, SG_SLOT_BARE, SG_SLOT_CONDITION, SG_SLOT_NONE } SgSlot;
/* What its block holds: WORDS its own phrases; STATEMENTS statements too; FIGURE statements, and it stands at file level only. */
typedef enum { SG_HOLDS_WORDS, SG_HOLDS_STATEMENTS, SG_HOLDS_FIGURE } SgHolds;
enum { SG_IN_FILE = 1, SG_IN_FIGURE = 2, SG_IN_STEP = 4, SG_IN_SHEET = 8, SG_IN_PANEL = 16 };

typedef enum { SG_FORM_NONE, SG_FORM_FLAG, SG_FORM_VALUE, SG_FORM_WHERE } SgForm;
/* What a value must be. PLACE takes a point, a thing with a place, or a length (on the axis); POINT the same without the length.
   MEDIUM takes a word of the media or a refractive index. */
typedef enum { SG_TYPE_NONE, SG_TYPE_NUMBER, SG_TYPE_TRUTH, SG_TYPE_TEXT, SG_TYPE_PLACE, SG_TYPE_POINT, SG_TYPE_LINE,
    SG_TYPE_THING, SG_TYPE_WORD, SG_TYPE_COLOUR, SG_TYPE_MEDIUM, SG_TYPE_ANY } SgType;
typedef struct { int8_t length, angle; } SgDim;                     /* exponents; a power (dioptre) is length -1 */
typedef enum { SG_SCENE, SG_PAPER } SgSpace;                        /* where a length is measured */
/* Part of a thing that a phrase sets or a property reads: its own numbers, where it stands, what light does there.
   MARK: only how it is drawn. */
typedef enum { SG_PART_SHAPE, SG_PART_STAND, SG_PART_LIGHT, SG_PART_MARK } SgPart;

typedef enum {
#define KIND(word, slot, holds, stands, drawn, name_text, doc) SG_KIND_##word,
#include "catalogue/catalogue.def"
    SG_KIND_COUNT
} SgKind;
typedef enum {
#define PHRASE(kind, word, form, type, dim, space, least, most, part, group, preset, doc) SG_PHRASE_##kind##_##word,
#define COMMON(word, ...) SG_PHRASE_common_##word,
#include "catalogue/catalogue.def"
    SG_PHRASE_COUNT
} SgPhraseId;
typedef enum {
#define PROPERTY(kind, word, type, dim, part, sign, doc) SG_PROPERTY_##kind##_##word,
#include "catalogue/catalogue.def"
    SG_PROPERTY_COUNT
} SgPropertyId;
typedef enum {
#define UNIT(id, spelling, dim, multiplier, power, doc) SG_UNIT_##id,
#include "catalogue/units.def"
    SG_UNIT_COUNT
} SgUnit;
typedef enum {
#define FUNCTION(word, least, most, doc) SG_FUNCTION_##word,
#include "catalogue/catalogue.def"
    SG_FUNCTION_COUNT
} SgFunction;
typedef enum {
#define STYLE(word, doc) SG_STYLE_##word,
#include "catalogue/catalogue.def"
    SG_STYLE_COUNT
} SgStyleId;
typedef enum {
#define COLOUR(word) SG_COLOUR_##word,
#include "catalogue/catalogue.def"
    SG_COLOUR_COUNT
} SgColourId;

typedef struct {
    const char *word, *name_text, *doc;     /* name_text: what it is in a message, with article: "a mirror" */
    SgSlot slot; SgHolds holds; uint8_t stands;
    bool drawn;                             /* takes the phrases common to all that is drawn */
} SgKindInfo;
typedef struct {
    SgKind kind;                            /* SG_KIND_COUNT: common to all drawn kinds */
    const char *word, *preset, *doc;        /* preset: default as a script would write it, NULL none */
    SgForm form; SgType type; SgDim dim; SgSpace space;
    uint8_t least, most;                    /* number of values */
    SgPart part;
    uint8_t group;                          /* 0 free; 1 compulsory; others: letters A.. are exclusive groups of the kind,
                                               'A'..'M' one at most, 'N'..'Z' exactly one */
} SgPhraseInfo;
typedef enum { SG_UNSIGNED, SG_SIGNED } SgSign;
typedef struct { SgKind kind; const char *word, *doc; SgType type; SgDim dim; SgPart part; SgSign sign; } SgPropertyInfo;
typedef struct { const char *spelling, *doc; SgDim dim; int multiplier, power; } SgUnitInfo;   /* power 99: not decimal, see unit_factor */
typedef struct { const char *word, *doc; uint8_t least, most; } SgFunctionInfo;
typedef struct { const char *word, *doc; } SgStyleInfo;

const SgKindInfo *sg_kind_info(SgKind kind);
const SgPhraseInfo *sg_phrase_info(SgPhraseId id);
const SgPropertyInfo *sg_property_info(SgPropertyId id);
const SgUnitInfo *sg_unit_info(SgUnit unit);
const SgFunctionInfo *sg_function_info(SgFunction f);
const SgStyleInfo *sg_style_info(SgStyleId style);
const char *sg_operator_word(uint32_t i);                           /* and or not before beyond; NULL past the last */
const char *sg_group_before(SgKind kind);                           /* title of the group that begins with this kind, or NULL */

/* The entries of a kind: from first up to, not including, end. */
typedef struct { int first, end; } SgRange;
SgRange sg_phrases_of(SgKind kind);                                 /* its own */
SgRange sg_phrases_common(void);                                    /* of everything drawn */
SgRange sg_properties_of(SgKind kind);

/* Look-up by spelling; each returns its COUNT when there is none. */
SgKind sg_kind_of(SgStr word);
SgPhraseId sg_phrase_of(SgKind kind, SgStr word);                   /* the kind's own phrases, then the common ones if it is drawn */
SgPropertyId sg_property_of(SgKind kind, SgStr word);
SgUnit sg_unit_of(SgStr spelling);
SgFunction sg_function_of(SgStr word);
SgStyleId sg_style_id(SgStr word);
SgColourId sg_colour_id(SgStr word);
double sg_unit_factor(SgUnit unit);                                 /* canonical units (mm, degree, 1/mm) in one such unit */
double sg_medium_index(SgStr word);                                   /* refractive index; 0 for a word that names no medium */
/* The nearest word an author may have meant, or NULL. */
const char *sg_near_kind(SgStr word);
const char *sg_near_phrase(SgKind kind, SgStr word);
const char *sg_near_property(SgKind kind, SgStr word);
bool sg_same_dim(SgDim a, SgDim b);
const char *sg_dim_name(SgDim dim);                                 /* "a length", "an angle", "a plain number", "a power", ... */
uint32_t sg_catalogue_lint(SgBuf *out);                             /* number of broken rules, one line each */
#endif
