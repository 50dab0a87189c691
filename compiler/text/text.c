/* The bytes of a script: what may stand in it, where its lines are, its characters.
   in: bytes. out: a line table, places, characters. Never opens a file. */
#include "text/text.h"

#include <string.h>

static const char BOM[] = "\xEF\xBB\xBF";
enum { BROKEN = 0xFFFD };

SgSource sg_text_source(SgArena *a, SgStr path, SgStr bytes)
{
    SgSource source = { .path = path, .bytes = bytes };
    if (bytes.n >= 3 && memcmp(bytes.s, BOM, 3) == 0) source.bytes = (SgStr){ bytes.s + 3, bytes.n - 3 };
    const char *s = source.bytes.s, *end = s + source.bytes.n;
    uint32_t lines = 1;
    for (const char *p = s; source.bytes.n && (p = memchr(p, '\n', (size_t)(end - p))) != NULL; p++) lines++;
    source.line = SG_ARRAY(a, uint32_t, lines);
    for (const char *p = s; source.bytes.n && (p = memchr(p, '\n', (size_t)(end - p))) != NULL; p++)
        source.line[++source.nlines] = (uint32_t)(p - s) + 1;
    source.nlines++;
    return source;
}

uint32_t sg_text_line(const SgSource *source, uint32_t offset)
{
    uint32_t low = 0, high = source->nlines;
    while (high - low > 1) {
        uint32_t middle = low + (high - low) / 2;
        if (source->line[middle] <= offset) low = middle;
        else high = middle;
    }
    return low;
}

SgPlace sg_text_place(const SgSource *source, uint32_t offset)
{
    if (offset > source->bytes.n) offset = source->bytes.n;
    uint32_t line = sg_text_line(source, offset), start = source->line[line];
    uint32_t end = line + 1 < source->nlines ? source->line[line + 1] - 1 : source->bytes.n;
    const char *s = source->bytes.s;
    if (end > start && s[end - 1] == '\r') end--;
    uint32_t column = 1 + sg_utf8_count((SgStr){ s + start, offset - start });
    return (SgPlace){ line + 1, column, { s + start, end - start } };
}

uint32_t sg_utf8_next(SgStr s, uint32_t at, uint32_t *code_point)
{
    static const uint32_t least[] = { 0, 0x80, 0x800, 0x10000 };
    uint8_t c = (uint8_t)s.s[at];
    uint32_t more = c < 0x80 ? 0 : c < 0xC2 ? 4 : c < 0xE0 ? 1 : c < 0xF0 ? 2 : c < 0xF5 ? 3 : 4;
    *code_point = BROKEN;
    if (more == 4 || s.n - at <= more) return at + 1;
    uint32_t code = more == 0 ? c : c & (0x3Fu >> more);
    for (uint32_t i = 1; i <= more; i++) {
        uint8_t next = (uint8_t)s.s[at + i];
        if ((next & 0xC0) != 0x80) return at + 1;
        code = code << 6 | (next & 0x3F);
    }
    if (code < least[more] || code > 0x10FFFF || (code >= 0xD800 && code <= 0xDFFF)) return at + 1;
    *code_point = code;
    return at + more + 1;
}

uint32_t sg_utf8_count(SgStr s)
{
    uint32_t count = 0, code;
    for (uint32_t at = 0; at < s.n; count++) at = sg_utf8_next(s, at, &code);
    return count;
}

uint32_t sg_utf8_cut(SgStr s, uint32_t most)
{
    if (s.n <= most) return s.n;
    while (most > 0 && ((uint8_t)s.s[most] & 0xC0) == 0x80) most--;
    return most;
}

static const char *forbidden(uint32_t code, bool broken, bool line_feed_next)
{
    if (broken) return "a byte that is not UTF-8";
    if (code == 0) return "a NUL byte";
    if (code == '\r') return line_feed_next ? NULL : "a carriage return without a line feed";
    if (code == '\t' || code == '\n') return NULL;
    if (code < 0x20 || (code >= 0x7F && code < 0xA0)) return "a control character";
    if ((code >= 0x202A && code <= 0x202E) || (code >= 0x2066 && code <= 0x2069)) return "a character that turns the writing direction";
    return NULL;
}

uint32_t sg_text_bad_byte(SgStr bytes, const char **what)
{
    for (uint32_t at = 0, next; at < bytes.n; at = next) {
        uint32_t code;
        if ((uint8_t)bytes.s[at] >= 0x20 && (uint8_t)bytes.s[at] < 0x7F) {
            next = at + 1;
            continue;
        }
        next = sg_utf8_next(bytes, at, &code);
        *what = forbidden(code, code == BROKEN && next == at + 1, next < bytes.n && bytes.s[next] == '\n');
        if (*what) return at;
    }
    return bytes.n;
}

void sg_put_json_text(SgBuf *out, SgStr s)
{
    uint32_t code, next;
    sg_put_char(out, '"');
    for (uint32_t at = 0; at < s.n; at = next) {
        next = sg_utf8_next(s, at, &code);
        if (code == '"' || code == '\\') {
            sg_put_char(out, '\\');
            sg_put_char(out, (char)code);
        } else if (code < 0x20 || code == 0x7F) {
            sg_putf(out, "\\u%04x", code);
        } else if (code == 0xFFFD) {
            sg_puts(out, "\xEF\xBF\xBD");
        } else {
            sg_put(out, s.s + at, next - at);
        }
    }
    sg_put_char(out, '"');
}
