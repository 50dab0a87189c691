/* Texts by key, with their holes filled. In: a wording, values. Out: text. */
#include "wordings/wordings.h"

#include <string.h>

static const char *const key_name[SG_TEXT_COUNT] = {
#define TEXT(id) #id,
#include "wordings/keys.def"
};

/* The hole that begins at text.s[at]; false when none does. */
static bool hole_at(SgStr text, uint32_t at, SgStr *name)
{
    if (text.s[at] != '{') return false;
    uint32_t end = at + 1;
    while (end < text.n && text.s[end] != '}') end++;
    *name = (SgStr){ text.s + at + 1, end - at - 1 };
    return end < text.n;
}

void sg_put_filled(SgBuf *b, const SgWording *w, SgTextId id, const SgHole *hole, uint32_t n)
{
    SgStr text = w->text[id], name;
    uint32_t from = 0;
    for (uint32_t i = 0; i < text.n; i++) {
        if (!hole_at(text, i, &name)) continue;
        sg_put(b, text.s + from, i - from);
        for (uint32_t k = 0; k < n; k++) if (sg_str_is(name, hole[k].name)) sg_put_str(b, hole[k].value);
        i += name.n + 1;
        from = i + 1;
    }
    sg_put(b, text.s + from, text.n - from);
}

SgStr sg_filled(SgArena *a, const SgWording *w, SgTextId id, const SgHole *hole, uint32_t n)
{
    SgBuf b = { .arena = a };
    sg_put_filled(&b, w, id, hole, n);
    return b.n ? sg_buf_str(&b) : SG_LIT("");
}

SgStr sg_joined(SgArena *a, const SgWording *w, SgStr one, SgStr other)
{
    return !one.n ? other : !other.n ? one : SG_FILLED(a, w, SG_TEXT_list_two, { "a", one }, { "b", other });
}

SgStr sg_shown_number(SgArena *a, const SgWording *w, SgStr number)
{
    SgBuf b = { .arena = a };
    for (uint32_t i = 0; i < number.n; i++) {
        if (number.s[i] == '-') sg_puts(&b, "\xE2\x88\x92");
        else if (number.s[i] == '.') sg_put_str(&b, w->text[SG_TEXT_decimal_mark]);
        else sg_put_char(&b, number.s[i]);
    }
    return b.n ? sg_buf_str(&b) : SG_LIT("");
}

/* ---- an author's own ---- */

static bool has_hole(SgStr text, SgStr wanted)
{
    SgStr name;
    for (uint32_t i = 0; i < text.n; i++) if (hole_at(text, i, &name) && sg_str_same(name, wanted)) return true;
    return false;
}

/* The first hole of a that b lacks; empty when there is none. */
static SgStr hole_lacking(SgStr a, SgStr b)
{
    SgStr name;
    for (uint32_t i = 0; i < a.n; i++) if (hole_at(a, i, &name) && !has_hole(b, name)) return name;
    return SG_LIT("");
}

static bool is_tag(SgStr s)
{
    for (uint32_t i = 0; i < s.n; i++) {
        char ch = s.s[i];
        if (!((ch >= 'a' && ch <= 'z') || (ch >= 'A' && ch <= 'Z') || (ch >= '0' && ch <= '9') || ch == '-')) return false;
    }
    return s.n > 1 && s.n < 36;
}

/* A brace that is of no hole. */
static bool stray_brace(SgStr text)
{
    SgStr name;
    for (uint32_t i = 0; i < text.n; i++) {
        if (hole_at(text, i, &name)) i += name.n + 1;
        else if (text.s[i] == '{' || text.s[i] == '}') return true;
    }
    return false;
}

static void check_text(SgCompile *c, SgSpan at, SgTextId id, SgStr text)
{
    SgStr usual = sg_wording_english.text[id], lacks = hole_lacking(usual, text), odd = hole_lacking(text, usual);
    if (lacks.n) sg_say(c, SG_MSG_wording_hole, at, "the text of `%s` needs {%.*s} somewhere; put it where the value belongs", key_name[id], (int)lacks.n, lacks.s);
    else if (odd.n) sg_say(c, SG_MSG_wording_hole, at, "nothing fills {%.*s} in `%s`; take it away", (int)odd.n, odd.s, key_name[id]);
    else if (stray_brace(text)) sg_say(c, SG_MSG_wording_hole, at, "a brace stands alone in `%s`; braces hold the name of a value", key_name[id]);
    else if (id == SG_TEXT_language && !is_tag(text)) sg_say(c, SG_MSG_wording_line, at, "a language is a short tag, such as de or pt-BR");
    else if (id == SG_TEXT_decimal_mark && !sg_str_is(text, ".") && !sg_str_is(text, ",")) sg_say(c, SG_MSG_wording_line, at, "a decimal mark is a point or a comma");
}

static void read_line(SgCompile *c, SgWording *w, uint16_t file, uint32_t from, uint32_t to)
{
    const char *s = c->source[file].bytes.s;
    while (to > from && (s[to - 1] == '\r' || s[to - 1] == ' ')) to--;
    while (from < to && s[from] == ' ') from++;
    if (from == to || s[from] == '#') return;
    uint32_t end = from, text;
    while (end < to && s[end] != '=' && s[end] != ' ') end++;
    text = end;
    while (text < to && s[text] == ' ') text++;
    SgSpan at = { from, to, file }, key_at = { from, end, file };
    SgStr key = { s + from, end - from };
    if (text == to || s[text] != '=' || end == from) {
        sg_say(c, SG_MSG_wording_line, at, "a line of a wording is a key, = and its text: principal_axis = optical axis");
        return;
    }
    do text++; while (text < to && s[text] == ' ');
    for (uint32_t i = 0; i < SG_TEXT_COUNT; i++) {
        if (!sg_str_is(key, key_name[i])) continue;
        w->text[i] = (SgStr){ s + text, to - text };
        check_text(c, at, (SgTextId)i, w->text[i]);
        return;
    }
    const char *near = sg_nearest(key, key_name, SG_TEXT_COUNT);
    if (near) sg_say(c, SG_MSG_wording_line, key_at, "no text is called `%.*s`; did you mean `%s`?", (int)key.n, key.s, near);
    else sg_say(c, SG_MSG_wording_line, key_at, "no text is called `%.*s`; take the line away", (int)key.n, key.s);
}

const SgWording *sg_wording_read(SgCompile *c, uint16_t file)
{
    SgWording *w = SG_NEW(c->arena, SgWording);
    *w = sg_wording_english;
    const SgSource *source = &c->source[file];
    for (uint32_t i = 0; i < source->nlines; i++) {
        uint32_t to = i + 1 < source->nlines ? source->line[i + 1] - 1 : source->bytes.n;
        if (source->line[i] < to) read_line(c, w, file, source->line[i], to);
    }
    return w;
}
