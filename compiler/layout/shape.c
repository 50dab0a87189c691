/* shape: markup to glyph runs on one or more lines.
   needs  a text with markup, a face and a size.
   gives  runs of glyphs with places, the width and the ink's height, and the text without its markup.
   never  asks the machine for a font; joins letters; turns writing right to left. */
#include "layout/shape.h"
#include "layout/faces.h"
#include "text/text.h"

/* One character of a text, with its look decided and its place on an endless line. */
typedef struct {
    uint32_t code;             /* '\n' ends a line */
    uint16_t glyph;            /* 0: the face lacks it */
    uint8_t face;
    int8_t level;              /* -1 subscript, 0, 1 superscript */
    int32_t kern;              /* font units, to the next */
    double x_mm;
} Char;
typedef struct { Char *v; uint32_t n, cap; } Chars;
typedef struct {
    SgArena *a;
    SgStr markup;
    SgFace face, base;         /* base: of the last character on the line itself, primes left out */
    bool slanted;              /* inside *...* */
    Chars out;
} Reader;

static const uint32_t no_break_space = 0xA0, minus_sign = 0x2212;

/* ---- characters ---- */
/* Characters that are set small by their nature; 0 where Unicode has none. */
static const struct { uint16_t base, raised, lowered; } small_form[] = {
    { '0', 0x2070, 0x2080 }, { '1', 0x00B9, 0x2081 }, { '2', 0x00B2, 0x2082 }, { '3', 0x00B3, 0x2083 }, { '4', 0x2074, 0x2084 },
    { '5', 0x2075, 0x2085 }, { '6', 0x2076, 0x2086 }, { '7', 0x2077, 0x2087 }, { '8', 0x2078, 0x2088 }, { '9', 0x2079, 0x2089 },
    { '+', 0x207A, 0x208A }, { 0x2212, 0x207B, 0x208B }, { '=', 0x207C, 0x208C }, { '(', 0x207D, 0x208D }, { ')', 0x207E, 0x208E },
    { 'n', 0x207F, 0x2099 }, { 'i', 0x2071, 0x1D62 }, { 'a', 0, 0x2090 }, { 'e', 0, 0x2091 }, { 'o', 0, 0x2092 }, { 'x', 0, 0x2093 },
    { 'h', 0, 0x2095 }, { 'k', 0, 0x2096 }, { 'l', 0, 0x2097 }, { 'm', 0, 0x2098 }, { 'p', 0, 0x209A }, { 's', 0, 0x209B },
    { 't', 0, 0x209C }, { 'r', 0, 0x1D63 }, { 'u', 0, 0x1D64 }, { 'v', 0, 0x1D65 },
};
enum { NSMALL = sizeof small_form / sizeof small_form[0] };

static uint32_t form_at_level(uint32_t code, int level)
{
    for (uint32_t i = 0; i < NSMALL; i++)
        if (small_form[i].base == code) return level > 0 ? small_form[i].raised : small_form[i].lowered;
    return 0;
}
/* The level a character has by its nature; *base is what is set there. */
static int level_by_nature(uint32_t code, uint32_t *base)
{
    *base = code;
    if (code < 0xB2) return 0;
    for (uint32_t i = 0; i < NSMALL; i++) {
        if (small_form[i].raised == code) { *base = small_form[i].base; return 1; }
        if (small_form[i].lowered == code) { *base = small_form[i].base; return -1; }
    }
    return 0;
}
static bool is_digit(uint32_t c) { return c >= '0' && c <= '9'; }
static bool is_letter(uint32_t c)
{
    if (c < 0x80) return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
    if (c == 0xAA || c == 0xB5 || c == 0xBA) return true;
    if (c >= 0xC0 && c < 0x2000) return c != 0xD7 && c != 0xF7;
    return c == 0x2113 || c == 0x2126 || (c >= 0x2C00 && c < 0x2E00) || c >= 0x3040;
}
static bool is_prime(uint32_t c) { return c == '\'' || (c >= 0x2032 && c <= 0x2034); }
static bool may_carry_script(uint32_t c) { return is_letter(c) || is_digit(c) || is_prime(c) || c == ')' || c == ']'; }
static bool is_blank(uint32_t c) { return c == ' ' || c == '\n'; }
static uint16_t glyph_of(uint32_t code)
{
    uint32_t low = 1, high = sg_face_nglyphs, plain = code - ' ' + 1;         /* in a face with all of ASCII */
    if (code >= ' ' && plain < high && sg_face_code[plain] == code) return (uint16_t)plain;
    while (low < high) {
        uint32_t mid = low + (high - low) / 2;
        if (sg_face_code[mid] < code) low = mid + 1; else high = mid;
    }
    return low < sg_face_nglyphs && sg_face_code[low] == code ? (uint16_t)low : 0;
}
const SgGlyph *sg_glyph(SgFace face, uint16_t glyph)
{
    return &sg_face_glyph[(uint32_t)face * sg_face_nglyphs + glyph];
}
const char *sg_glyph_path(SgFace face, uint16_t glyph)
{
    return sg_face_outlines + sg_glyph(face, glyph)->path;
}
static int32_t kern_between(SgFace face, uint16_t left, uint16_t right)
{
    uint32_t k = (uint32_t)face * sg_face_nglyphs + left;
    uint32_t low = sg_face_kern_start[k], end = sg_face_kern_start[k + 1], high = end;
    while (low < high) {
        uint32_t mid = low + (high - low) / 2;
        if (sg_face_kern[mid].right < right) low = mid + 1; else high = mid;
    }
    return low < end && sg_face_kern[low].right == right ? sg_face_kern[low].by : 0;
}

/* ---- markup ---- */
static SgFace face_now(const Reader *r)
{
    if (!r->slanted) return r->face;
    return r->face == SG_FACE_ITALIC ? SG_FACE_UPRIGHT : SG_FACE_ITALIC;
}
static uint32_t code_before(const Reader *r) { return r->out.n > 0 ? r->out.v[r->out.n - 1].code : ' '; }
static void add_char(Reader *r, uint32_t code, SgFace face, int level)
{
    if (code < 0x20 && code != '\n') code = ' ';
    Char c = { .code = code, .glyph = code == '\n' ? glyph_of(' ') : glyph_of(code), .face = (uint8_t)face, .level = (int8_t)level };
    SG_PUSH(r->a, &r->out, c);
    if (level == 0 && !is_prime(code)) r->base = face;
}
/* Letters stay italic beside an italic quantity only when they stand alone: numbers and words name, they do not vary. */
static void settle_script_face(Reader *r, uint32_t from)
{
    if (r->base != SG_FACE_ITALIC) return;
    uint32_t n = r->out.n - from;
    bool alone = n == 1 && is_letter(r->out.v[from].code);
    for (uint32_t i = from; i < r->out.n; i++) r->out.v[i].face = alone ? SG_FACE_ITALIC : SG_FACE_UPRIGHT;
}
/* What follows a _ or ^ at `at`; returns where it ends, or `at` when nothing does, so that the mark stands for itself. */
static uint32_t read_script(Reader *r, uint32_t at, int level)
{
    uint32_t from = r->out.n, code, next;
    uint32_t i = at;
    if (level > 0 && i < r->markup.n) {
        next = sg_utf8_next(r->markup, i, &code);
        if (code == '+' || code == '-' || code == minus_sign) {
            add_char(r, code == '-' ? minus_sign : code, r->base, level);
            i = next;
        }
    }
    while (i < r->markup.n) {
        uint32_t base;
        next = sg_utf8_next(r->markup, i, &code);
        if ((!is_letter(code) && !is_digit(code)) || level_by_nature(code, &base) != 0) break;
        add_char(r, code, r->base, level);
        i = next;
    }
    settle_script_face(r, from);
    return i;
}
static uint32_t read_natural_script(Reader *r, uint32_t at, int level)
{
    uint32_t from = r->out.n;
    while (at < r->markup.n) {
        uint32_t code, base, next = sg_utf8_next(r->markup, at, &code);
        if (level_by_nature(code, &base) != level) break;
        add_char(r, base, r->base, level);
        at = next;
    }
    settle_script_face(r, from);
    return at;
}
/* Whether an asterisk before `at` opens: it touches what follows, and another closes. */
static bool opens_italic(const Reader *r, uint32_t at)
{
    SgStr m = r->markup;
    if (at >= m.n || m.s[at] == ' ' || m.s[at] == '*' || m.s[at] == '\n') return false;
    for (uint32_t i = at; i < m.n; i++) {
        if (m.s[i] == '\\') { i++; continue; }
        if (m.s[i] == '*' && m.s[i - 1] != ' ' && m.s[i - 1] != '\n') return true;
    }
    return false;
}
/* Reads what stands at `at` and returns what comes next. */
static uint32_t read_one(Reader *r, uint32_t at)
{
    uint32_t code, base, next = sg_utf8_next(r->markup, at, &code);
    if (code == '\\' && next < r->markup.n) {
        next = sg_utf8_next(r->markup, next, &code);
        add_char(r, code == 'n' ? '\n' : code, face_now(r), 0);
        return next;
    }
    if (code == '*' && (r->slanted ? !is_blank(code_before(r)) : opens_italic(r, next))) {
        r->slanted = !r->slanted;
        return next;
    }
    if ((code == '_' || code == '^') && may_carry_script(code_before(r))) {
        uint32_t end = read_script(r, next, code == '^' ? 1 : -1);
        if (end > next) return end;
    }
    int level = level_by_nature(code, &base);
    if (level != 0) {
        if (r->out.n == 0) r->base = face_now(r);
        return read_natural_script(r, at, level);
    }
    add_char(r, code, face_now(r), 0);
    return next;
}
static Chars read_markup(SgArena *a, SgStr markup, SgFace face)
{
    Reader r = { .a = a, .markup = markup, .face = face, .base = face };
    for (uint32_t i = 0; i < markup.n;) i = read_one(&r, i);
    return r.out;
}

/* ---- without markup ---- */
static void put_utf8(SgBuf *b, uint32_t c)
{
    if (c < 0x80) { sg_put_char(b, (char)c); return; }
    if (c < 0x800) {
        sg_put_char(b, (char)(0xC0 | (c >> 6)));
    } else {
        if (c < 0x10000) {
            sg_put_char(b, (char)(0xE0 | (c >> 12)));
        } else {
            sg_put_char(b, (char)(0xF0 | (c >> 18)));
            sg_put_char(b, (char)(0x80 | ((c >> 12) & 0x3F)));
        }
        sg_put_char(b, (char)(0x80 | ((c >> 6) & 0x3F)));
    }
    sg_put_char(b, (char)(0x80 | (c & 0x3F)));
}
static uint32_t script_end(const Char *c, uint32_t i, uint32_t end)
{
    uint32_t e = i;
    while (e < end && c[e].level == c[i].level) e++;
    return e;
}
/* Numbers, signs and single letters have small characters that a voice reads well; a word of them it would spell. */
static bool has_small_forms(const Char *c, uint32_t n)
{
    bool all = true, letters = false;
    for (uint32_t i = 0; i < n; i++) {
        all = all && form_at_level(c[i].code, c[i].level) != 0;
        letters = letters || is_letter(c[i].code);
    }
    return all && (n == 1 || !letters);
}
static SgStr plain_of(SgArena *a, const Char *c, uint32_t from, uint32_t end)
{
    SgBuf b = { .arena = a };
    for (uint32_t i = from; i < end;) {
        if (c[i].level == 0) {
            put_utf8(&b, c[i].code == '\n' ? ' ' : c[i].code);
            i++;
            continue;
        }
        uint32_t e = script_end(c, i, end);
        bool small = has_small_forms(&c[i], e - i);
        if (!small && i > from) sg_put_char(&b, c[i].level > 0 ? '^' : ' ');
        for (; i < e; i++) put_utf8(&b, small ? form_at_level(c[i].code, c[i].level) : c[i].code);
    }
    return sg_buf_str(&b);
}
/* How far text has no markup, up to the word that has: most descriptions have none, and they are long. */
static uint32_t plain_until(SgStr s)
{
    uint32_t word = 0, code, base, next;
    for (uint32_t i = 0; i < s.n; i = next) {
        unsigned char ch = (unsigned char)s.s[i];
        if (ch == ' ') word = i;
        next = i + 1;
        if (ch < 0x20 || ch == '_' || ch == '^' || ch == '*' || ch == '\\') return word;
        if (ch < 0x80) continue;
        next = sg_utf8_next(s, i, &code);
        if (level_by_nature(code, &base) != 0) return word;
    }
    return s.n;
}
SgStr sg_plain(SgArena *a, SgStr markup)
{
    uint32_t n = plain_until(markup);
    if (n == markup.n) return markup;
    Chars c = read_markup(a, (SgStr){ markup.s + n, markup.n - n }, SG_FACE_UPRIGHT);
    SgStr rest = plain_of(a, c.v, 0, c.n);
    return n == 0 ? rest : sg_format(a, "%.*s%.*s", (int)n, markup.s, (int)rest.n, rest.s);
}

/* ---- places ---- */
static double size_at_level(double size_mm, int level) { return level == 0 ? size_mm : size_mm * 7 / 10; }
static double rise_at_level(double size_mm, int level)
{
    if (level == 0) return 0;
    return level > 0 ? size_mm * 35 / 100 : -size_mm * 20 / 100;
}
static double in_mm(int32_t units, double size_mm) { return units * size_mm / SG_UNITS_PER_EM; }
static double char_mm(const Char *c, int32_t units, double size_mm) { return in_mm(units, size_at_level(size_mm, c->level)); }
static const SgGlyph *look(const Char *c) { return sg_glyph((SgFace)c->face, c->glyph); }
static bool same_look(const Char *a, const Char *b) { return a->face == b->face && a->level == b->level; }

static void set_places(Chars *chars, double size_mm)
{
    double x = 0;
    for (uint32_t i = 0; i < chars->n; i++) {
        Char *c = &chars->v[i], *next = i + 1 < chars->n ? c + 1 : NULL;
        const SgGlyph *g = look(c);
        int32_t advance = g->advance;
        if (next != NULL && same_look(c, next)) c->kern = kern_between((SgFace)c->face, c->glyph, next->glyph);
        /* a slanted letter leans over what follows; a subscript tucks in below it */
        else if (next != NULL && c->face == SG_FACE_ITALIC && next->level >= c->level && g->x1 > advance) advance = g->x1;
        c->x_mm = x;
        x += char_mm(c, advance + c->kern, size_mm);
    }
}
/* Room for ink that reaches out before the start of the line. */
static double start_mm(const Char *c, double size_mm)
{
    const SgGlyph *g = look(c);
    return g->x0 < 0 ? char_mm(c, -g->x0, size_mm) : 0;
}
static double line_mm(const Char *c, uint32_t from, uint32_t end, double size_mm)
{
    if (from >= end) return 0;
    const Char *last = &c[end - 1];
    const SgGlyph *g = look(last);
    double width = last->x_mm - c[from].x_mm + start_mm(&c[from], size_mm);
    return width + char_mm(last, g->x1 > g->advance ? g->x1 : g->advance, size_mm);
}

/* ---- runs ---- */
static SgRun make_run(SgArena *a, const Char *c, uint32_t n, double size_mm)
{
    SgGlyphAt *glyph = SG_ARRAY(a, SgGlyphAt, n);
    SgBuf chars = { .arena = a };
    int32_t x = 0;
    for (uint32_t i = 0; i < n; i++) {
        glyph[i] = (SgGlyphAt){ c[i].glyph, x };
        x += look(&c[i])->advance + (i + 1 < n ? c[i].kern : 0);
        put_utf8(&chars, c[i].code == '\n' ? ' ' : c[i].code);
    }
    double size = size_at_level(size_mm, c->level);
    return (SgRun){ .face = (SgFace)c->face, .size_mm = size, .rise_mm = rise_at_level(size_mm, c->level), .width_mm = in_mm(x, size),
                    .chars = sg_buf_str(&chars), .glyph = glyph, .nglyphs = n };
}
static void take_ink(SgWords *w, const Char *c, double size_mm)
{
    const SgGlyph *g = look(c);
    if (g->path == 0) return;
    double rise = rise_at_level(size_mm, c->level);
    double top = rise + char_mm(c, g->y1, size_mm), foot = -rise - char_mm(c, g->y0, size_mm);
    if (top > w->ascent_mm) w->ascent_mm = top;
    if (foot > w->descent_mm) w->descent_mm = foot;
}
static SgWords make_line(SgArena *a, const Chars *chars, uint32_t from, uint32_t end, double size_mm)
{
    const Char *c = chars->v;
    SgWords w = { .width_mm = line_mm(c, from, end, size_mm), .plain = plain_of(a, c, from, end) };
    uint32_t nruns = 0;
    for (uint32_t i = from; i < end; i++) {
        nruns += i == from || !same_look(&c[i - 1], &c[i]);
        take_ink(&w, &c[i], size_mm);
        if (c[i].glyph == 0 && w.missing == 0) w.missing = c[i].code;
    }
    w.run = SG_ARRAY(a, SgRun, nruns);
    for (uint32_t i = from; i < end;) {
        uint32_t e = i + 1;
        while (e < end && same_look(&c[i], &c[e])) e++;
        SgRun run = make_run(a, &c[i], e - i, size_mm);
        run.x_mm = c[i].x_mm - c[from].x_mm + start_mm(&c[from], size_mm);
        w.run[w.nruns++] = run;
        i = e;
    }
    return w;
}
static double em_mm(double size_pt) { return size_pt * 25.4 / 72; }

SgWords sg_shape(SgArena *a, SgStr markup, SgFace face, double size_pt)
{
    Chars chars = read_markup(a, markup, face);
    set_places(&chars, em_mm(size_pt));
    return make_line(a, &chars, 0, chars.n, em_mm(size_pt));
}

/* ---- lines ---- */
/* A space a line may end at: not the one between a number and what looks like its unit. */
static bool may_break(const Chars *chars, uint32_t i)
{
    const Char *c = chars->v;
    if (c[i].code != ' ') return false;
    if (i == 0 || !is_digit(c[i - 1].code)) return true;
    uint32_t e = i + 1;
    while (e < chars->n && c[e].code != no_break_space && (is_letter(c[e].code) || c[e].code == 0xB0)) e++;
    return e - i - 1 == 0 || e - i - 1 > 3;
}
static uint32_t trimmed(const Chars *chars, uint32_t from, uint32_t end)
{
    while (end > from && is_blank(chars->v[end - 1].code)) end--;
    return end;
}
/* Where the line from `from` ends; *next: where the one after it begins. */
static uint32_t line_end(const Chars *chars, uint32_t from, double size_mm, double width_mm, uint32_t *next)
{
    uint32_t fits = 0;         /* just after the last space the line may end at */
    for (uint32_t i = from; i < chars->n; i++) {
        if (chars->v[i].code == '\n') { *next = i + 1; return trimmed(chars, from, i); }
        if (chars->v[i].code == ' ') { if (may_break(chars, i)) fits = i + 1; continue; }
        /* the last digits of a sum must not push a word that fits to the next line */
        if (width_mm <= 0 || line_mm(chars->v, from, i + 1, size_mm) <= width_mm + 1e-9) continue;
        *next = fits > from ? fits : i > from ? i : i + 1;
        return trimmed(chars, from, *next);
    }
    *next = chars->n;
    return trimmed(chars, from, chars->n);
}
static uint32_t skip_spaces(const Chars *chars, uint32_t i)
{
    while (i < chars->n && chars->v[i].code == ' ') i++;
    return i;
}
SgWords *sg_shape_lines(SgArena *a, SgStr markup, SgFace face, double size_pt, double width_mm, uint32_t *nlines)
{
    Chars chars = read_markup(a, markup, face);
    SG_VEC(SgWords) lines = { 0 };
    double size_mm = em_mm(size_pt);
    set_places(&chars, size_mm);
    uint32_t i = skip_spaces(&chars, 0);
    do {
        uint32_t next, end = line_end(&chars, i, size_mm, width_mm, &next);
        SgWords w = make_line(a, &chars, i, end, size_mm);
        SG_PUSH(a, &lines, w);
        i = skip_spaces(&chars, next);
    } while (i < chars.n);
    *nlines = lines.n;
    return lines.v;
}
