/* The catalogue as text for a terminal, and what all written forms have in common. In: the tables. Out: lines in a buffer.
   Adds no word of its own to the language. */
#include "catalogue/dump.h"

#include <string.h>

enum { WIDTH = 79, DOC_AT = 26 };

/* ---- common to all forms ---- */
static const struct { const char *name, *doc; } TYPES[] = {
    { "LENGTH", "A number with a unit of length." },
    { "ANGLE", "A number with a unit of angle." },
    { "POWER", "A number with the unit D." },
    { "NUMBER", "A plain number." },
    { "CONDITION", "Something true or false: a comparison, perhaps with and, or, not." },
    { "TEXT", "A text in double quotes, with values in braces." },
    { "PLACE", "A point, a thing that has a place, or a length along the axis." },
    { "POINT", "A point (x, y), a property that is one, or a thing that has a place." },
    { "LINE", "The axis, or the line of a ray." },
    { "THING", "The name of a thing." },
    { "WORD", "One of a few words." },
    { "WORD|ANGLE", "One of a few words, or an angle." },
    { "COLOUR", "A word, or a text such as \"#c00000\"." },
    { "VALUE", "Any value." },
};

const char *sg_dump_type_doc(uint32_t i, const char **name)
{
    if (i >= sizeof TYPES / sizeof *TYPES) return NULL;
    *name = TYPES[i].name;
    return TYPES[i].doc;
}

const char *sg_dump_takes(SgType type, SgDim dim)
{
    switch (type) {
    case SG_TYPE_NONE: return "";
    case SG_TYPE_NUMBER: return dim.angle ? "ANGLE" : dim.length > 0 ? "LENGTH" : dim.length < 0 ? "POWER" : "NUMBER";
    case SG_TYPE_TRUTH: return "CONDITION";
    case SG_TYPE_TEXT: return "TEXT";
    case SG_TYPE_PLACE: return "PLACE";
    case SG_TYPE_POINT: return "POINT";
    case SG_TYPE_LINE: return "LINE";
    case SG_TYPE_THING: return "THING";
    case SG_TYPE_WORD: return dim.angle ? "WORD|ANGLE" : "WORD";
    case SG_TYPE_COLOUR: return "COLOUR";
    case SG_TYPE_MEDIUM: return "MEDIUM";
    case SG_TYPE_ANY: return "VALUE";
    }
    return "";
}

const char *sg_dump_built_in(uint32_t i, const char **doc)
{
    static const struct { const char *word, *doc; } names[] = {
        { "axis", "The principal axis." },
        { "infinity", "What a value at infinity equals." },
        { "pi", "The circumference of a circle over its diameter." },
    };
    if (i >= sizeof names / sizeof *names) return NULL;
    *doc = names[i].doc;
    return names[i].word;
}

void sg_dump_usage(SgBuf *out, SgKind kind)
{
    static const char *const slot[] = { " NAME", " [NAME]", " VALUE", " CONDITION", "" };
    sg_putf(out, "%s%s", sg_kind_info(kind)->word, slot[sg_kind_info(kind)->slot]);
}

bool sg_dump_choice(SgBuf *out, SgPhraseId id)
{
    const SgPhraseInfo *p = sg_phrase_info(id);
    bool first = true;
    for (int i = 0; i < SG_PHRASE_COUNT; i++) {
        const SgPhraseInfo *q = sg_phrase_info((SgPhraseId)i);
        if (q->kind != p->kind || q->group != p->group) continue;
        if (first && i != (int)id) return false;
        sg_putf(out, "%s%s", first ? "" : ", ", q->word);
        first = false;
    }
    return true;
}

void sg_dump_stands(SgBuf *out, SgKind kind)
{
    static const struct { int where; const char *text; } places[] = {
        { SG_IN_FILE, "in the file" }, { SG_IN_FIGURE, "in a figure" }, { SG_IN_STEP, "in a step" }, { SG_IN_SHEET, "on a sheet" }, { SG_IN_PANEL, "in a panel" },
    };
    bool any = false;
    for (size_t i = 0; i < sizeof places / sizeof *places; i++) {
        if (!(sg_kind_info(kind)->stands & places[i].where)) continue;
        sg_putf(out, "%s%s", any ? " or " : "", places[i].text);
        any = true;
    }
}

void sg_dump_code(SgBuf *out, SgCode code)
{
    for (const char *id = sg_code_info(code)->id; *id; id++) sg_put_char(out, *id == '_' ? '-' : *id);
}

/* ---- text ---- */
static void spaces(SgBuf *out, size_t n)
{
    while (n-- > 0) sg_put_char(out, ' ');
}

/* `doc` broken at blanks to end by the last column; the first line goes on at column `at`, where the others begin. */
static void wrap(SgBuf *out, SgStr doc, size_t at)
{
    size_t column = at;
    for (uint32_t i = 0; i < doc.n;) {
        uint32_t end = i;
        while (end < doc.n && doc.s[end] != ' ') end++;
        if (column > at && column + 1 + (end - i) > WIDTH) {
            sg_put_char(out, '\n');
            spaces(out, at);
            column = at;
        } else if (column > at) {
            sg_put_char(out, ' ');
            column++;
        }
        sg_put(out, doc.s + i, end - i);
        column += end - i;
        i = end + 1;
    }
    sg_put_char(out, '\n');
}

static void row(SgBuf *out, const char *mark, const char *word, const char *takes, SgStr doc)
{
    size_t n = 4 + strlen(mark) + strlen(word) + (*takes ? 1 + strlen(takes) : 0);
    sg_putf(out, "    %s%s%s%s", mark, word, *takes ? " " : "", takes);
    if (n + 2 > DOC_AT) {
        sg_put_char(out, '\n');
        n = 0;
    }
    spaces(out, DOC_AT - n);
    wrap(out, doc, DOC_AT);
}

static void put_phrase(SgBuf *out, const SgPhraseInfo *p)
{
    SgStr takes = sg_format(out->arena, "%s%s", sg_dump_takes(p->type, p->dim), p->most > 1 ? ", ..." : "");
    SgStr doc = sg_str(p->doc);
    if (p->preset) doc = sg_format(out->arena, "%s Without it, %s.", p->doc, p->preset);
    row(out, "", p->word, takes.s, doc);
}

/* "Needed: at; one of concave, convex, plane. At most one of: aperture, length." */
static void put_needs(SgBuf *out, SgKind kind)
{
    SgBuf text = { .arena = out->arena }, choice = { .arena = out->arena };
    for (int most = 0; most < 2; most++) {
        bool any = false;
        for (int i = 0; i < SG_PHRASE_COUNT; i++) {
            const SgPhraseInfo *p = sg_phrase_info((SgPhraseId)i);
            bool wanted = most ? p->group >= 'A' && p->group < 'N' : p->group == 1 || p->group >= 'N';
            choice.n = 0;
            if (p->kind != kind || !wanted || !sg_dump_choice(&choice, (SgPhraseId)i)) continue;
            sg_puts(&text, any ? "; " : most ? "At most one of: " : "Needed: ");
            if (p->group >= 'N') sg_puts(&text, "one of ");
            sg_put_str(&text, sg_buf_str(&choice));
            any = true;
        }
        if (any) sg_puts(&text, ". ");
    }
    if (text.n == 0) return;
    spaces(out, 2);
    wrap(out, (SgStr){ text.v, text.n - 1 }, 2);
}

static void put_kind(SgBuf *out, SgKind kind)
{
    SgBuf doc = { .arena = out->arena };
    sg_dump_usage(out, kind);
    sg_puts(out, "\n  ");
    sg_putf(&doc, "%s It stands ", sg_kind_info(kind)->doc);
    sg_dump_stands(&doc, kind);
    sg_put_char(&doc, '.');
    wrap(out, sg_buf_str(&doc), 2);
    put_needs(out, kind);
    for (int i = 0; i < SG_PHRASE_COUNT; i++)
        if (sg_phrase_info((SgPhraseId)i)->kind == kind) put_phrase(out, sg_phrase_info((SgPhraseId)i));
    if (sg_kind_info(kind)->drawn) sg_puts(out, "    and what everything drawn takes\n");
    for (int i = 0; i < SG_PROPERTY_COUNT; i++) {
        const SgPropertyInfo *p = sg_property_info((SgPropertyId)i);
        if (p->kind == kind) row(out, ".", p->word, sg_dump_takes(p->type, p->dim), sg_str(p->doc));
    }
    sg_put_char(out, '\n');
}

static void heading(SgBuf *out, const char *title)
{
    sg_putf(out, "%s\n", title);
    for (size_t i = strlen(title); i > 0; i--) sg_put_char(out, '-');
    sg_puts(out, "\n\n");
}

static void put_lists(SgBuf *out)
{
    const char *name, *doc;
    heading(out, "Functions");
    for (int i = 0; i < SG_FUNCTION_COUNT; i++) {
        const SgFunctionInfo *f = sg_function_info((SgFunction)i);
        row(out, "", f->word, f->most == 1 ? "(a)" : f->least == f->most ? "(a, b)" : f->most == 2 ? "(a) or (a, b)" : "(a, ...)", sg_str(f->doc));
    }
    sg_put_char(out, '\n');
    heading(out, "Names that are there");
    for (uint32_t i = 0; (name = sg_dump_built_in(i, &doc)) != NULL; i++) row(out, "", name, "", sg_str(doc));
    sg_put_char(out, '\n');
    heading(out, "Units");
    for (int i = 0; i < SG_UNIT_COUNT; i++) {
        const SgUnitInfo *u = sg_unit_info((SgUnit)i);
        /* Columns count characters, and these few are no letters of one byte. */
        size_t columns = sg_utf8_count(sg_str(u->spelling));
        sg_putf(out, "    %s", u->spelling);
        spaces(out, DOC_AT - 4 - columns);
        sg_putf(out, "%s\n", u->doc);
    }
    sg_put_char(out, '\n');
    heading(out, "What values are");
    for (uint32_t i = 0; (doc = sg_dump_type_doc(i, &name)) != NULL; i++) row(out, "", name, "", sg_str(doc));
}

void sg_dump_text(SgBuf *out)
{
    for (int k = 0; k < SG_KIND_COUNT; k++) {
        const char *group = sg_group_before((SgKind)k);
        if (group) heading(out, group);
        put_kind(out, (SgKind)k);
    }
    heading(out, "Everything drawn takes");
    for (int i = 0; i < SG_PHRASE_COUNT; i++)
        if (sg_phrase_info((SgPhraseId)i)->kind == SG_KIND_COUNT) put_phrase(out, sg_phrase_info((SgPhraseId)i));
    sg_put_char(out, '\n');
    put_lists(out);
}

void sg_dump_messages(SgBuf *out)
{
    for (int i = 0; i < SG_MSG_COUNT; i++) {
        const SgCodeInfo *code = sg_code_info((SgCode)i);
        sg_dump_code(out, (SgCode)i);
        sg_putf(out, " (%s): %s\n  ", code->severity == SG_ERROR ? "error" : "warning", code->title);
        wrap(out, sg_str(code->explanation), 2);
        if (i + 1 < SG_MSG_COUNT) sg_put_char(out, '\n');
    }
}
