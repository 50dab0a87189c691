/* caution: what the light of a figure can do, in the words that are printed. In: the setting, and the names of light and objects.
   Out: a text, empty for harmless light. Never leaves out the deference to local rules and the school's safety officer. */
#include "solved/build.h"

/* Whether `word` is the name, or one of its parts between underscores. */
static bool named(SgStr name, const char *word)
{
    SgStr want = sg_str(word);
    for (uint32_t i = 0; i + want.n <= name.n; i++) {
        bool begins = i == 0 || name.s[i - 1] == '_', ends = i + want.n == name.n || name.s[i + want.n] == '_';
        bool same = begins && ends;
        for (uint32_t k = 0; same && k < want.n; k++) same = (name.s[i + k] | 0x20) == want.s[k];
        if (same) return true;
    }
    return false;
}

static bool any_named(const SgSolved *s, const char *a, const char *b)
{
    const SgScope *scope = s->figure->scope;
    for (uint32_t i = 0; i < scope->nsymbols; i++) {
        SgKind kind = scope->symbol[i].kind;
        bool light = kind == SG_KIND_object || kind == SG_KIND_ray || kind == SG_KIND_beam || kind == SG_KIND_fan;
        if (!light || scope->symbol[i].name == SG_NO_SYM) continue;
        SgStr name = sg_names_str(&s->c->names, scope->symbol[i].name);
        if (named(name, a) || named(name, b)) return true;
    }
    return false;
}

static void put(SgSolved *s, SgBuf *b, bool is, SgTextId id)
{
    if (!is) return;
    if (b->n) sg_put_char(b, ' ');
    sg_put_str(b, s->wording->text[id]);
}

void sg_read_caution(SgSolved *s)
{
    const SgStatement *st = sg_setting(s, SG_KIND_caution);
    SgBuf b = { .arena = s->c->arena };
    s->caution = SG_LIT("");
    if (st && st->nphrases == 0 && !st->damaged) sg_wrong(s, SG_MSG_caution_form, st->head_at, "write of what: caution sunlight, laser or burning");
    put(s, &b, (st && sg_phrase(st, SG_PHRASE_caution_sunlight)) || any_named(s, "sun", "sunlight"), SG_TEXT_caution_sunlight);
    put(s, &b, (st && sg_phrase(st, SG_PHRASE_caution_laser)) || any_named(s, "laser", "lasers"), SG_TEXT_caution_laser);
    put(s, &b, st && sg_phrase(st, SG_PHRASE_caution_burning), SG_TEXT_caution_burning);
    put(s, &b, b.n > 0, SG_TEXT_caution_rules);        /* once for all of them */
    if (b.n) s->caution = sg_buf_str(&b);
}
