/* print/reading: language, alternative texts and viewer preferences of a PDF (ISO 32000-1: 14.9.2, 14.9.3, 12.2, 14.7.2).
   In: cairo's bytes, objects with a cross-reference table behind them (7.5.4). Out: the same objects, a few of them with more
   said, and a table anew. Never changes a page, and gives nothing of a document it does not understand. */
#include "print/reading.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef struct { size_t from, to; } Span;                      /* of the document's bytes; empty: not there */
typedef struct { size_t at; uint32_t number; } Place;
typedef struct {
    const char *pdf; size_t n;
    const SgAloud *reading; uint32_t told;
    size_t *at, *now; uint32_t nobjects;                        /* where each object stands, and where it is written; 0: nowhere */
    Place *place; uint32_t nplaces;                             /* the same, in the order of the bytes */
    size_t table;                                               /* where the objects end */
    uint32_t catalogue, information, document;                  /* numbers of objects; document: ours */
    uint32_t structure;                                         /* 0: nothing is tagged */
    Span pages;                                                 /* the list of them */
    bool strange;
    SgTakeBytes *take; void *with;
    size_t written;
    uint64_t digest[2];
} Pass;

/* ---- reading ---- */
static bool is_space(char c) { return c == ' ' || c == '\n' || c == '\r' || c == '\t'; }

static bool begins(const Pass *p, size_t i, const char *word) { return i <= p->n && p->n - i >= strlen(word) && memcmp(p->pdf + i, word, strlen(word)) == 0; }

static size_t behind_space(const Pass *p, size_t i)
{
    while (i < p->n && is_space(p->pdf[i])) i++;
    return i;
}

static bool number_at(const Pass *p, size_t *i, size_t *value)
{
    size_t at = behind_space(p, *i), from = at;
    for (*value = 0; at < p->n && p->pdf[at] >= '0' && p->pdf[at] <= '9' && at - from < 15; at++) *value = *value * 10 + (size_t)(p->pdf[at] - '0');
    *i = at;
    return at > from;
}

/* `12 0 R`: another object. */
static bool object_named(const Pass *p, size_t *i, uint32_t *number)
{
    size_t value, generation;
    if (!number_at(p, i, &value) || !number_at(p, i, &generation)) return false;
    *i = behind_space(p, *i);
    if (generation != 0 || value >= p->nobjects || p->at[value] == 0 || !begins(p, *i, "R")) return false;
    *i += 1;
    *number = (uint32_t)value;
    return true;
}

/* Behind the text in round or pointed brackets that begins at i. */
static size_t behind_text(const Pass *p, size_t i)
{
    int depth = 0;
    if (p->pdf[i] == '<') {
        while (i < p->n && p->pdf[i] != '>') i++;
        return i + 1;
    }
    for (; i < p->n; i++) {
        if (p->pdf[i] == '\\') i++;
        else if (p->pdf[i] == '(') depth++;
        else if (p->pdf[i] == ')' && --depth == 0) return i + 1;
    }
    return i;
}

/* The next key of a dictionary and its value, from *i on, which goes behind them. False at the dictionary's end. */
static bool next_entry(const Pass *p, size_t *i, Span *key, Span *value)
{
    int depth = 0;
    size_t at = behind_space(p, *i);
    if (at >= p->n || p->pdf[at] != '/') return false;
    key->from = at++;
    while (at < p->n && !is_space(p->pdf[at]) && strchr("/[]()<>", p->pdf[at]) == NULL) at++;
    key->to = at;
    value->from = at = behind_space(p, at);
    if (at < p->n && p->pdf[at] == '/') at++;                    /* a name */
    while (at < p->n) {
        bool opens = begins(p, at, "<<"), closes = begins(p, at, ">>");
        if (depth == 0 && (p->pdf[at] == '/' || closes)) break;
        if (opens || p->pdf[at] == '[') depth++;
        if (closes || p->pdf[at] == ']') depth--;
        if (p->pdf[at] == '(' || (p->pdf[at] == '<' && !opens)) at = behind_text(p, at);
        else at += opens || closes ? 2 : 1;
    }
    value->to = *i = at < p->n ? at : p->n;
    while (value->to > value->from && is_space(p->pdf[value->to - 1])) value->to--;
    return true;
}

static bool is(const Pass *p, Span s, const char *word) { return s.to - s.from == strlen(word) && memcmp(p->pdf + s.from, word, s.to - s.from) == 0; }

/* Where the entries of the dictionary at i begin; 0 when there is none. */
static size_t entries_at(const Pass *p, size_t i)
{
    i = behind_space(p, i);
    return i < p->n && begins(p, i, "<<") ? i + 2 : 0;
}

static size_t entries_of(const Pass *p, uint32_t object)
{
    size_t i = p->at[object], number, generation;
    if (!number_at(p, &i, &number) || !number_at(p, &i, &generation) || number != object) return 0;
    i = behind_space(p, i);
    return begins(p, i, "obj") ? entries_at(p, i + 3) : 0;
}

static Span value_of(const Pass *p, size_t entries, const char *word)
{
    Span key, value;
    while (entries != 0 && next_entry(p, &entries, &key, &value))
        if (is(p, key, word)) return value;
    return (Span){ 0, 0 };
}

static bool object_of(const Pass *p, size_t entries, const char *word, uint32_t *number)
{
    Span v = value_of(p, entries, word);
    return v.to > v.from && object_named(p, &v.from, number);
}

static int by_place(const void *a, const void *b)
{
    const Place *x = a, *y = b;
    return (x->at > y->at) - (x->at < y->at);
}

/* Room for `n` objects and ours; false when memory ran out. */
static bool make_room(Pass *p, size_t n)
{
    p->nobjects = p->document = (uint32_t)n;
    p->at = calloc(n + 1, sizeof *p->at);
    p->now = calloc(n + 1, sizeof *p->now);
    p->place = calloc(n + 1, sizeof *p->place);
    return p->at != NULL && p->now != NULL && p->place != NULL;
}

/* The table, and what its trailer names. NULL, or what is wrong. */
static const char *read_table(Pass *p)
{
    static const char WORD[] = "startxref", STRANGE[] = "cairo's document is not understood";
    size_t i = p->n, first, n, at, generation;
    while (i > 0 && !begins(p, i, WORD)) i--;
    i += sizeof WORD - 1;
    if (!number_at(p, &i, &p->table) || p->table >= p->n || !begins(p, p->table, "xref")) return STRANGE;
    i = p->table + 4;
    if (!number_at(p, &i, &first) || !number_at(p, &i, &n) || first != 0 || n > p->n / 20) return STRANGE;
    if (!make_room(p, n)) return "memory ran out";
    for (uint32_t k = 0; k < n; k++) {
        if (!number_at(p, &i, &at) || !number_at(p, &i, &generation) || at > p->table) return STRANGE;
        i = behind_space(p, i);
        if (begins(p, i, "n")) p->place[p->nplaces++] = (Place){ p->at[k] = at, k };
        i++;
    }
    qsort(p->place, p->nplaces, sizeof *p->place, by_place);
    i = behind_space(p, i);
    size_t trailer = begins(p, i, "trailer") ? entries_at(p, i + 7) : 0;
    uint32_t pages;
    bool known = p->nplaces > 0 && object_of(p, trailer, "/Root", &p->catalogue) && object_of(p, trailer, "/Info", &p->information)
        && object_of(p, entries_of(p, p->catalogue), "/Pages", &pages);
    if (!known) return STRANGE;
    p->pages = value_of(p, entries_of(p, pages), "/Kids");
    object_of(p, entries_of(p, p->catalogue), "/StructTreeRoot", &p->structure);
    return p->pages.to > p->pages.from ? NULL : STRANGE;
}

/* ---- writing ---- */
/* The digest tells documents from each other (14.4): FNV-1a of 64 bits, twice, from two starts. */
static void put(Pass *p, const char *s, size_t n)
{
    const uint64_t prime = 1099511628211u;
    for (size_t i = 0; i < n; i++) {
        p->digest[0] = (p->digest[0] ^ (unsigned char)s[i]) * prime;
        p->digest[1] = (p->digest[1] ^ (unsigned char)s[i]) * prime;
    }
    p->written += n;
    p->take(p->with, (const unsigned char *)s, n);
}

static void put_words(Pass *p, const char *s) { put(p, s, strlen(s)); }
static void put_span(Pass *p, Span s) { put(p, p->pdf + s.from, s.to - s.from); }

static void put_number(Pass *p, const char *before, unsigned long n, const char *after)
{
    char text[64];
    put(p, text, (size_t)snprintf(text, sizeof text, "%s%lu%s", before, n, after));
}

static uint32_t next_character(const unsigned char **s)
{
    uint32_t lead = *(*s)++, more = lead < 0xC0 ? 0 : lead < 0xE0 ? 1 : lead < 0xF0 ? 2 : 3;
    uint32_t c = more == 0 ? lead : lead & (0x3Fu >> more);
    for (; more > 0 && **s != '\0'; more--) c = c << 6 | (*(*s)++ & 0x3F);
    return c;
}

/* Whether a text can stand in PDFDocEncoding (D.2), of which what is the same in Latin-1 is used. */
static bool is_latin(const char *text)
{
    for (const unsigned char *s = (const unsigned char *)text; *s != '\0';) {
        uint32_t c = next_character(&s);
        if (c < 0x20 || (c > 0x7E && c < 0xA1) || c == 0xAD || c > 0xFF) return false;
    }
    return true;
}

/* A byte of a text in round brackets (7.3.4.2). */
static void put_byte(Pass *p, uint32_t byte)
{
    char c[2] = { '\\', (char)byte };
    if (byte == '\r' || byte == '\n') c[1] = byte == '\r' ? 'r' : 'n';
    bool escaped = c[1] != (char)byte || byte == '(' || byte == ')' || byte == '\\';
    put(p, escaped ? c : c + 1, escaped ? 2 : 1);
}

static void put_two_bytes(Pass *p, uint32_t two)
{
    put_byte(p, two >> 8);
    put_byte(p, two & 255);
}

/* A text string (7.9.2.2): in UTF-16 where Latin-1 does not do. */
static void put_text(Pass *p, const char *text)
{
    bool latin = is_latin(text);
    put_words(p, "(");
    if (!latin) put_two_bytes(p, 0xFEFF);
    for (const unsigned char *s = (const unsigned char *)text; *s != '\0';) {
        uint32_t c = next_character(&s);
        if (latin) put_byte(p, c);
        else if (c < 0x10000) put_two_bytes(p, c);
        else {
            put_two_bytes(p, 0xD800 + ((c - 0x10000) >> 10));
            put_two_bytes(p, 0xDC00 + ((c - 0x10000) & 0x3FF));
        }
    }
    put_words(p, ")");
}

/* An object anew, up to the end of its dictionary, without the key `less`. */
static void begin_again(Pass *p, uint32_t object, const char *less)
{
    Span key, value;
    size_t i = entries_of(p, object);
    p->now[object] = p->written;
    put_number(p, "", object, " 0 obj\n<<");
    while (next_entry(p, &i, &key, &value)) {
        if (is(p, key, less)) continue;
        put_words(p, " ");
        put_span(p, key);
        put_words(p, " ");
        put_span(p, value);
    }
}

static void end_object(Pass *p) { put_words(p, " >>\nendobj\n"); }

/* Which page an element stands on, counted from 0; their number when none is known. */
static uint32_t page_of(const Pass *p, uint32_t element)
{
    uint32_t wanted = 0, page, n = 0;
    object_of(p, entries_of(p, element), "/Pg", &wanted);
    for (size_t i = p->pages.from + 1; i < p->pages.to && object_named(p, &i, &page); n++)
        if (page == wanted) break;
    return n;
}

/* The next text for a figure of that page; NULL when there is none. */
static const SgTold *next_told(Pass *p, uint32_t page)
{
    while (p->told < p->reading->ntold && p->reading->told[p->told].page < page) p->told++;
    bool found = p->told < p->reading->ntold && p->reading->told[p->told].page == page;
    if (!found) p->strange = true;
    return found ? &p->reading->told[p->told++] : NULL;
}

static void put_element(Pass *p, uint32_t object)
{
    bool figure = is(p, value_of(p, entries_of(p, object), "/S"), "/Figure");
    begin_again(p, object, "/P");
    put_number(p, " /P ", p->document, " 0 R");
    const SgTold *told = figure ? next_told(p, page_of(p, object)) : NULL;
    if (told != NULL) {
        put_words(p, " /Alt ");
        put_text(p, told->text);
        if (strcmp(told->language, p->reading->language) != 0) {
            put_words(p, " /Lang (");
            put_words(p, told->language);
            put_words(p, ")");
        }
    }
    end_object(p);
}

/* Everything tagged becomes part of one document; cairo leaves it lying side by side. Figures are told in the order of its list,
   which is that in which they were drawn. */
static bool put_structure(Pass *p)
{
    Span kids = value_of(p, entries_of(p, p->structure), "/K");
    size_t i = kids.from + (kids.to > kids.from && p->pdf[kids.from] == '[');
    for (uint32_t object; i < kids.to && object_named(p, &i, &object);) put_element(p, object);
    begin_again(p, p->structure, "/K");
    put_number(p, " /K ", p->document, " 0 R");
    end_object(p);
    p->now[p->document] = p->written;
    put_number(p, "", p->document, " 0 obj\n<< /Type /StructElem /S /Document");
    put_number(p, " /P ", p->structure, " 0 R /K ");
    put_span(p, kids);
    end_object(p);
    return behind_space(p, i) + 1 >= kids.to && !p->strange;
}

static void put_catalogue(Pass *p)
{
    begin_again(p, p->catalogue, "/Lang");
    put_words(p, " /Lang (");
    put_words(p, p->reading->language);
    put_words(p, p->structure != 0 ? ") /MarkInfo << /Marked true >>" : ")");
    put_words(p, " /ViewerPreferences << /DisplayDocTitle true /PrintScaling /None >>");
    end_object(p);
}

static void put_others(Pass *p)
{
    for (uint32_t k = 0; k < p->nplaces; k++) {
        const Place *o = &p->place[k];
        if (p->now[o->number] != 0) continue;
        p->now[o->number] = p->written;
        put_span(p, (Span){ o->at, k + 1 < p->nplaces ? o[1].at : p->table });
    }
}

static void put_table(Pass *p)
{
    char line[96];
    size_t at = p->written;
    uint64_t digest[2] = { p->digest[0], p->digest[1] };
    put_number(p, "xref\n0 ", p->document + 1ul, "\n");
    for (uint32_t k = 0; k <= p->document; k++) {
        bool there = p->now[k] != 0;
        put(p, line, (size_t)snprintf(line, sizeof line, "%010lu %s \n", (unsigned long)p->now[k], there ? "00000 n" : "65535 f"));
    }
    put_number(p, "trailer\n<< /Size ", p->document + 1ul, "");
    put_number(p, " /Root ", p->catalogue, " 0 R");
    put_number(p, " /Info ", p->information, " 0 R /ID [");
    for (int k = 0; k < 2; k++)
        put(p, line, (size_t)snprintf(line, sizeof line, "<%016llX%016llX>", (unsigned long long)digest[0], (unsigned long long)digest[1]));
    put_number(p, "] >>\nstartxref\n", at, "\n%%EOF\n");
}

const char *sg_print_reading(const unsigned char *pdf, size_t n, const SgAloud *reading, SgTakeBytes *take, void *with)
{
    Pass p = { .pdf = (const char *)pdf, .n = n, .reading = reading, .take = take, .with = with, .digest = { 14695981039346656037u, 1469598103934665603u } };
    const char *trouble = read_table(&p);
    if (trouble == NULL) {
        put_span(&p, (Span){ 0, p.place[0].at });
        if (p.structure != 0 && !put_structure(&p)) trouble = "the document has not the figures that were drawn";
        put_catalogue(&p);
        put_others(&p);
        put_table(&p);
    }
    free(p.at);
    free(p.now);
    free(p.place);
    return trouble;
}
