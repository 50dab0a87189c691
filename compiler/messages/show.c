/* Messages as text with the line and a caret, and as JSON. In: settled messages. Out: bytes, their number bounded.
   Never shows a byte that could turn or clear the reader's screen. */
#include "messages/messages.h"

#include <string.h>

enum { WIDEST = 100, BEFORE_CARET = 60 };      /* characters of a source line shown, and of them before the caret */
static const char CUT[] = "...";

static void put_code(SgBuf *out, SgCode code)
{
    for (const char *id = sg_code_info(code)->id; *id; id++) sg_put_char(out, *id == '_' ? '-' : *id);
}

static SgStr path_of(const SgSource *source)
{
    return sg_str_is(source->path, "-") ? SG_LIT("standard input") : source->path;
}

static bool is_shown(uint32_t code)
{
    return code >= 0x20 && !(code >= 0x7F && code < 0xA0) && !(code >= 0x202A && code <= 0x202E) && !(code >= 0x2066 && code <= 0x2069);
}

/* One character of a source line; what must not reach a screen is shown as the replacement character. */
static void put_character(SgBuf *out, const char *s, uint32_t n, uint32_t code)
{
    if (code == 0xFFFD || !is_shown(code)) sg_puts(out, "\xEF\xBF\xBD");
    else sg_put(out, s, n);
}

/* The line and, below it, ^ under the first character of the span and ~ under the rest of it. Tabs stay tabs in both. */
static void put_line(SgBuf *out, SgPlace place, uint32_t marked)
{
    SgStr line = place.text;
    uint32_t code, at = 0, column = 1, first = place.column > BEFORE_CARET ? place.column - BEFORE_CARET : 1;
    for (; column < first; column++) at = sg_utf8_next(line, at, &code);
    SgBuf under = { .arena = out->arena };
    sg_puts(out, "    ");
    sg_puts(&under, "    ");
    if (first > 1) {
        sg_puts(out, CUT);
        sg_puts(&under, "   ");
    }
    for (; at < line.n && column < first + WIDEST; column++) {
        uint32_t next = sg_utf8_next(line, at, &code);
        if (code == '\t') sg_put_char(out, '\t');
        else put_character(out, line.s + at, next - at, code);
        if (column < place.column) sg_put_char(&under, code == '\t' ? '\t' : ' ');
        else if (column == place.column) sg_put_char(&under, '^');
        else if (column < place.column + marked) sg_put_char(&under, '~');
        at = next;
    }
    if (at < line.n) sg_puts(out, CUT);
    if (column <= place.column) sg_put_char(&under, '^');
    sg_put_char(out, '\n');
    sg_put_str(out, sg_buf_str(&under));
    sg_put_char(out, '\n');
}

static void put_one(const SgCompile *c, SgBuf *out, SgSpan at, const char *severity, SgStr text, const SgCode *code)
{
    if (at.file >= c->nsources) return;
    const SgSource *source = &c->source[at.file];
    SgPlace place = sg_text_place(source, at.start);
    uint32_t end = at.end > source->bytes.n ? source->bytes.n : at.end, marked = 1;
    if (end > at.start) {
        uint32_t from = (uint32_t)(source->bytes.s + at.start - place.text.s), most = place.text.n > from ? place.text.n - from : 0;
        uint32_t bytes = end - at.start < most ? end - at.start : most;
        if (bytes > WIDEST * 4) bytes = WIDEST * 4;
        marked = sg_utf8_count((SgStr){ source->bytes.s + at.start, bytes });
    }
    sg_put_str(out, path_of(source));
    sg_putf(out, ":%u:%u: %s: ", place.line, place.column, severity);
    sg_put_str(out, text);
    if (code) {
        sg_puts(out, " [");
        put_code(out, *code);
        sg_put_char(out, ']');
    }
    sg_put_char(out, '\n');
    put_line(out, place, marked);
}

void sg_messages_text(const SgCompile *c, SgBuf *out)
{
    for (uint32_t i = 0; i < c->diags.n; i++) {
        const SgDiag *d = &c->diags.v[i];
        put_one(c, out, d->at, sg_code_info(d->code)->severity == SG_ERROR ? "error" : "warning", d->text, &d->code);
        for (const SgNote *n = d->notes; n; n = n->next) put_one(c, out, n->at, "note", n->text, NULL);
    }
    if (c->untold) sg_putf(out, "and %u more message%s; mend these first\n", c->untold, c->untold == 1 ? "" : "s");
}

static void put_json_place(const SgCompile *c, SgBuf *out, SgSpan at)
{
    if (at.file >= c->nsources) {
        sg_puts(out, "\"file\": null");
        return;
    }
    const SgSource *source = &c->source[at.file];
    SgPlace from = sg_text_place(source, at.start), to = sg_text_place(source, at.end);
    sg_puts(out, "\"file\": ");
    sg_put_json_text(out, path_of(source));
    sg_putf(out, ", \"line\": %u, \"column\": %u, \"end_line\": %u, \"end_column\": %u", from.line, from.column, to.line, to.column);
}

void sg_messages_json(const SgCompile *c, SgBuf *out)
{
    sg_puts(out, "{\n  \"messages\": [");
    for (uint32_t i = 0; i < c->diags.n; i++) {
        const SgDiag *d = &c->diags.v[i];
        sg_puts(out, i ? ",\n    { " : "\n    { ");
        put_json_place(c, out, d->at);
        sg_putf(out, ", \"severity\": \"%s\", \"code\": \"", sg_code_info(d->code)->severity == SG_ERROR ? "error" : "warning");
        put_code(out, d->code);
        sg_puts(out, "\", \"text\": ");
        sg_put_json_text(out, d->text);
        sg_puts(out, ", \"notes\": [");
        for (const SgNote *n = d->notes; n; n = n->next) {
            sg_puts(out, n == d->notes ? "{ " : ", { ");
            put_json_place(c, out, n->at);
            sg_puts(out, ", \"text\": ");
            sg_put_json_text(out, n->text);
            sg_puts(out, " }");
        }
        sg_puts(out, "] }");
    }
    sg_putf(out, "%s],\n  \"untold\": %u\n}\n", c->diags.n ? "\n  " : "", c->untold);
}
