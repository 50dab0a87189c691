/* Phrases of one statement against the catalogue. In: its tree. Out: phrases in canonical order, one of each.
   A damaged statement is never asked for what is missing. */
#include "model/build.h"

static const char *word_of(SgPhraseId id) { return sg_phrase_info(id)->word; }

/* A place for each phrase the kind may have: its own, then those of everything drawn. */
enum { MOST_PHRASES = 64 };
typedef struct { SgRange own, common; SgPhrase v[MOST_PHRASES]; } Slots;

static uint32_t slots_used(const Slots *s) { return (uint32_t)(s->own.end - s->own.first + s->common.end - s->common.first); }
static SgPhraseId id_at(const Slots *s, uint32_t i)
{
    int own = s->own.end - s->own.first;
    return (SgPhraseId)((int)i < own ? s->own.first + (int)i : s->common.first + (int)i - own);
}
static SgPhrase *slot_of(Slots *s, SgPhraseId id)
{
    bool own = (int)id >= s->own.first && (int)id < s->own.end;
    return &s->v[own ? (int)id - s->own.first : s->own.end - s->own.first + (int)id - s->common.first];
}

static void take(SgReading *r, SgStatement *s, Slots *slots, const SgNode *n)
{
    SgStr word = sg_names_str(&r->c->names, n->sym);
    SgPhraseId id = sg_phrase_of(s->kind, word);
    if (id == SG_PHRASE_COUNT) { s->damaged = true; return; }          /* a word of another kind that came in by repair */
    SgPhrase *slot = slot_of(slots, id);
    if (slot->at.end) {
        SgDiag *d = sg_say(r->c, SG_MSG_phrase_twice, n->at, "`%s` is given twice; keep one of them", word_of(id));
        sg_note(r->c, d, slot->at, "it is first given here");
        return;
    }
    SgPhrase p = { .id = id, .at = n->at };
    r->phrase = id;
    for (const SgNode *v = n->first; v; v = v->next) p.n++;
    p.value = SG_ARRAY(r->c->arena, SgExpr *, p.n + 1);
    uint32_t k = 0;
    for (const SgNode *v = n->first; v; v = v->next) p.value[k++] = sg_model_express(r, v);
    r->phrase = SG_PHRASE_COUNT;
    const SgPhraseInfo *info = sg_phrase_info(id);
    if (info->form == SG_FORM_VALUE && p.n > info->most)
        sg_say(r->c, SG_MSG_values_too_many, p.value[info->most]->at, "`%s` takes %s%u value%s; take this one away", info->word, info->most > info->least ? "at most " : "", info->most, info->most == 1 ? "" : "s");
    if (info->form == SG_FORM_VALUE && p.n < info->least) s->damaged = true;      /* the parser has said so */
    *slot = p;
}

static void take_value(SgReading *r, SgStatement *s, SgExpr *value)
{
    SgExpr **list = SG_ARRAY(r->c->arena, SgExpr *, s->nlist + 1);
    for (uint32_t i = 0; i < s->nlist; i++) list[i] = s->list[i];
    list[s->nlist++] = value;
    s->list = list;
    if (!s->definition) s->definition = value;
}

static void walk(SgReading *r, SgStatement *s, Slots *slots, const SgNode *n)
{
    for (const SgNode *x = n->first; x; x = x->next)
        switch ((SgNodeKind)x->kind) {
        case SG_N_WHERE:
            if (x->sym == SG_NO_SYM) { if (x->first && !s->definition) s->definition = sg_model_express(r, x->first); break; }
            take(r, s, slots, x);
            break;
        case SG_N_FLAG: case SG_N_WORD: take(r, s, slots, x); break;
        case SG_N_LINE: walk(r, s, slots, x); break;
        case SG_N_BADWORD: case SG_N_BAD: s->damaged = true; break;
        case SG_N_CAPTION:
            if (s->caption) sg_say(r->c, SG_MSG_text_twice, x->at, "%s takes one text; this is the second", sg_kind_info(s->kind)->name_text);
            else if (x->first) s->caption = sg_model_express(r, x->first);
            break;
        case SG_N_DEFINITION:
            if (x->first && s->kind != SG_KIND_problem && s->kind != SG_KIND_part) s->definition = sg_model_express(r, x->first);      /* these name a figure there */
            break;
        case SG_N_NUMBER: case SG_N_NAME: case SG_N_PROPERTY: case SG_N_CALL: case SG_N_POINT: case SG_N_BINARY: case SG_N_NEGATE:
        case SG_N_NOT: case SG_N_CHAIN: case SG_N_PLACE: case SG_N_RATIO: case SG_N_TEXT: case SG_N_PIECE:
            take_value(r, s, sg_model_express(r, x));
            break;
        case SG_N_FILE: case SG_N_STATEMENT: case SG_N_PARAMETERS: case SG_N_HOLE: break;
        }
}

/* The words of a group as an author would list them: `a`, `b` or `c`. */
static SgStr group_words(SgReading *r, const Slots *slots, uint8_t group)
{
    SgBuf b = { .arena = r->c->arena };
    uint32_t n = 0, k = 0;
    for (uint32_t i = 0; i < slots_used(slots); i++) n += sg_phrase_info(id_at(slots, i))->group == group;
    for (uint32_t i = 0; i < slots_used(slots); i++)
        if (sg_phrase_info(id_at(slots, i))->group == group) {
            sg_putf(&b, "%s`%s`", k == 0 ? "" : k + 1 == n ? " or " : ", ", word_of(id_at(slots, i)));
            k++;
        }
    return sg_buf_str(&b);
}

/* "a mirror needs `at`: where its vertex is" */
static void missing(SgReading *r, const SgStatement *s, const char *a, SgPhraseId id)
{
    SgStr doc = sg_str(sg_phrase_info(id)->doc);
    SgStr said = sg_str_keep(r->c->arena, doc.s, doc.n && doc.s[doc.n - 1] == '.' ? doc.n - 1 : doc.n);
    char first = said.n && said.s[0] >= 'A' && said.s[0] <= 'Z' ? (char)(said.s[0] + 32) : said.n ? said.s[0] : ' ';
    sg_say(r->c, SG_MSG_phrase_missing, s->head_at, "%s needs `%s`: %c%s", a, word_of(id), first, said.n ? said.s + 1 : "");
}

static void check_groups(SgReading *r, SgStatement *s, const Slots *slots)
{
    const char *a = sg_kind_info(s->kind)->name_text;
    const SgPhrase *seen[128] = { 0 };
    unsigned due = 0;                                     /* groups 'N'..'Z' the kind has, as bits */
    for (uint32_t i = 0; i < slots_used(slots); i++) {
        uint8_t group = sg_phrase_info(id_at(slots, i))->group;
        const SgPhrase *p = &slots->v[i];
        if (group == 1 && !p->at.end && !s->damaged) missing(r, s, a, id_at(slots, i));
        if (group >= 'N') due |= 1u << (group - 'N');
        if (group < 'A' || !p->at.end) continue;
        if (seen[group]) {
            SgDiag *d = sg_say(r->c, SG_MSG_phrases_exclude, p->at, "%s cannot have both `%s` and `%s`; take one away", a, word_of(seen[group]->id), word_of(p->id));
            sg_note(r->c, d, seen[group]->at, "`%s` is given here", word_of(seen[group]->id));
            s->damaged = true;
        } else seen[group] = p;
    }
    for (uint8_t g = 'N'; g <= 'Z' && !s->damaged; g++) {
        if (!(due >> (g - 'N') & 1) || seen[g]) continue;
        SgStr words = group_words(r, slots, g);
        sg_say(r->c, SG_MSG_phrase_missing, s->head_at, "%s needs %.*s", a, (int)words.n, words.s);
    }
}

void sg_model_phrases(SgReading *r, SgStatement *s, const SgNode *n)
{
    Slots slots;
    slots.own = sg_phrases_of(s->kind);
    slots.common = sg_kind_info(s->kind)->drawn ? sg_phrases_common() : (SgRange){ 0, 0 };
    for (uint32_t i = 0; i < slots_used(&slots); i++) slots.v[i] = (SgPhrase){ .id = SG_PHRASE_COUNT };
    s->damaged = n->damaged || s->nameless;
    walk(r, s, &slots, n);
    check_groups(r, s, &slots);
    for (uint32_t i = 0; i < slots_used(&slots); i++) s->nphrases += slots.v[i].at.end != 0;
    s->phrase = SG_ARRAY(r->c->arena, SgPhrase, s->nphrases + 1);
    uint32_t k = 0;
    for (uint32_t i = 0; i < slots_used(&slots); i++) if (slots.v[i].at.end) s->phrase[k++] = slots.v[i];
}

const SgPhrase *sg_phrase(const SgStatement *s, SgPhraseId id)
{
    for (uint32_t i = 0; i < s->nphrases; i++) if (s->phrase[i].id == id) return &s->phrase[i];
    return NULL;
}
