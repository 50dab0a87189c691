/* What words does about a wrong word or number: says what was most likely meant, and reads it so.
   In: the raw token and where it stands. Out: a message, and tokens as if the mistake were mended. */
#include "words/reader.h"

#include "base/num.h"
#include "script.h"

#include <string.h>

enum { LONGEST_NUMBER = 64 };

static bool touches(const SgToken *a, const SgToken *b)
{
    return a->at.end == b->at.start && a->at.file == b->at.file;
}

static SgToken *last_token(Reader *r)
{
    return &r->out.tokens.v[r->out.tokens.n - 1];
}

/* ---- 2,5 ---- */
/* A phrase that takes several plain numbers may have them without blanks between. */
static bool takes_several(const Reader *r)
{
    const SgToken *governor = &r->out.tokens.v[r->governor];
    if (!r->governor || governor->tag != SG_T_WORD) return false;
    SgPhraseId id = sg_phrase_of(r->kind, sg_names_str(&r->c->names, governor->sym));
    return id < SG_PHRASE_COUNT && sg_phrase_info(id)->most > 1;
}

bool sg_words_decimal_comma(Reader *r, const SgToken *t)
{
    SgToken *whole = last_token(r);
    const SgToken *part = t + 1;
    bool numbers = whole->tag == SG_T_NUMBER && whole->unit == SG_NO_UNIT && part->raw == SG_RAW_NUMBER && touches(whole, t) && touches(t, part);
    bool plain = r->brackets == (r->in_hole ? r->hole_brackets : 0);
    if (!numbers || !plain || takes_several(r)) return false;
    SgStr bytes = r->c->source[t->at.file].bytes;
    char text[LONGEST_NUMBER];
    uint32_t n = part->at.end - whole->at.start, digits = t->at.end - whole->at.start;
    if (n >= LONGEST_NUMBER) return false;
    memcpy(text, bytes.s + whole->at.start, n);
    text[t->at.start - whole->at.start] = '.';
    while (digits < n && ((text[digits] >= '0' && text[digits] <= '9'))) digits++;
    double value;
    if (memchr(text, '.', t->at.start - whole->at.start) || sg_num_read(text, digits, &value) != SG_NUM_OK) return false;
    SgSpan at = { whole->at.start, part->at.end, t->at.file };
    sg_say(r->c, SG_MSG_decimal_comma, at, "decimal point, not comma, in scripts: %.*s", (int)n, text);
    whole->at = at;
    whole->value = value;
    whole->decimals = (uint8_t)(digits - (t->at.end - whole->at.start));
    whole->unit = part->unit;
    if (part->unit != SG_NO_UNIT) whole->value *= sg_unit_factor((SgUnit)part->unit);
    r->state = AT_PHRASE;
    r->i++;
    return true;
}

/* ---- 4 cn ---- */
static const char *near_unit(SgStr word)
{
    const char *all[SG_UNIT_COUNT];
    uint32_t n = 0;
    for (int i = 0; i < SG_UNIT_COUNT; i++) if (i != SG_UNIT_sf) all[n++] = sg_unit_info((SgUnit)i)->spelling;
    const char *near = sg_nearest(word, all, n);
    bool short_guess = near && word.n <= 2 && near[0] != word.s[0];      /* a foot is no point */
    return short_guess ? NULL : near;
}

/* The unit to go on with, so that no later stage asks for one. */
static SgUnit likely_unit(const Reader *r, const char *near)
{
    if (near) return sg_unit_of(sg_str(near));
    SgDim dim = { 1, 0 };
    const SgToken *governor = &r->out.tokens.v[r->governor];
    if (r->governor && governor->tag == SG_T_WORD) {
        SgPhraseId id = sg_phrase_of(r->kind, sg_names_str(&r->c->names, governor->sym));
        if (id < SG_PHRASE_COUNT) dim = sg_phrase_info(id)->dim;
    }
    return dim.angle ? SG_UNIT_deg : dim.length < 0 ? SG_UNIT_D : SG_UNIT_cm;
}

static bool wrong_unit(Reader *r, const SgToken *t, SgStr word, bool touching_only)
{
    SgToken *number = last_token(r);
    if (number->tag != SG_T_NUMBER || number->unit != SG_NO_UNIT || (touching_only && !touches(number, t))) return false;
    SgUnit known = sg_unit_of(word);
    if (known < SG_UNIT_COUNT) sg_say_ranked(r->c, SG_GUESS, SG_MSG_unit_unknown, t->at, "the unit `%.*s` must stand directly after its number",
            (int)word.n, word.s);
    const char *near = known < SG_UNIT_COUNT ? sg_unit_info(known)->spelling : near_unit(word);
    if (known < SG_UNIT_COUNT) {
        /* told above */
    } else if (near) sg_say(r->c, SG_MSG_unit_unknown, t->at, "`%.*s` is no unit; did you mean `%s`?", (int)word.n, word.s, near);
    else sg_say(r->c, SG_MSG_unit_unknown, t->at, "`%.*s` is no unit; there are mm cm m km um nm inch pt deg rad D and the degree sign",
            (int)word.n, word.s);
    SgUnit unit = likely_unit(r, near);
    number->unit = (uint8_t)unit;
    number->value *= sg_unit_factor(unit);
    return true;
}

/* ---- apeture ---- */
static void say_unknown(Reader *r, const SgToken *t, SgStr word)
{
    if (sg_unit_of(word) < SG_UNIT_COUNT) {
        sg_say_ranked(r->c, SG_GUESS, SG_MSG_unit_unknown, t->at, "`%.*s` is a unit and stands directly after a number; here write * 1 %.*s",
            (int)word.n, word.s,
                      (int)word.n, word.s);
        return;
    }
    if (r->kind == SG_KIND_COUNT) {
        sg_say_ranked(r->c, SG_GUESS, SG_MSG_unexpected, t->at, "`%.*s` does not belong here; take it away, or write the word it belongs to before it", (int)word.n, word.s);
        return;
    }
    SgBuf list = { .arena = r->c->arena };
    for (int i = 0; i < SG_PHRASE_COUNT; i++)
        if (sg_phrase_info((SgPhraseId)i)->kind == r->kind) sg_putf(&list, "%s%s", list.n ? " " : "", sg_phrase_info((SgPhraseId)i)->word);
    SgStr all = sg_buf_str(&list);
    const char *kind = sg_kind_info(r->kind)->word;
    if (all.n) sg_say_ranked(r->c, SG_GUESS, SG_MSG_word_unknown, t->at, "%s has no `%.*s`; its words are %.*s",
            kind, (int)word.n, word.s, (int)all.n, all.s);
    else sg_say_ranked(r->c, SG_GUESS, SG_MSG_word_unknown, t->at, "`%.*s` does not belong here; %s has no words of its own",
            (int)word.n, word.s, kind);
}

void sg_words_unknown(Reader *r, const SgToken *t)
{
    SgStr word = sg_source_words(r->c, t->at), whole = sg_names_str(&r->c->names, t->sym);
    const SgToken *next = t + 1;
    bool value = sg_words_begins_value(r, next);
    if (wrong_unit(r, t, word, true)) return;
    const char *near = sg_near_phrase(r->kind, whole);
    if (near) {
        SgForm form = sg_phrase_info(sg_phrase_of(r->kind, sg_str(near)))->form;
        bool plainly_value = next->raw == SG_RAW_NUMBER || (next->raw == SG_RAW_OP && (next->sym == '(' || next->sym == '-'));
        bool mends = form == SG_FORM_FLAG ? !plainly_value : value;
        if (!mends && wrong_unit(r, t, word, false)) return;      /* `focal 4 ft at 16 cm` */
        sg_say_ranked(r->c, mends ? SG_SURE : SG_GUESS, SG_MSG_word_unknown, t->at, "%s has no `%.*s`; did you mean `%s`?",
            sg_kind_info(r->kind)->word,
                      (int)word.n, word.s, near);
        if (mends) {
            SgToken mended = *t;
            mended.sym = sg_names_sym(&r->c->names, near, sg_str(near).n);
            sg_words_take(r, &mended, form);
            return;
        }
    } else if (wrong_unit(r, t, word, false)) {
        return;
    } else {
        say_unknown(r, t, word);
    }
    r->governor = 0;
    sg_words_emit(r, t, value ? SG_T_BADWORDV : SG_T_BADWORD);
    r->governor = value ? r->out.tokens.n - 1 : 0;
    r->state = value ? AT_OPERAND : AT_PHRASE;
}
