/* Writes a script in its one layout. In: raw tokens, their tags, an ordered tree. Out: text.
   Walks the statements by the tree and their tokens by the scanner's list, so that comments keep their places. */
#include "tidy/tidy.h"

#include <string.h>

#include "catalogue/catalogue.h"
#include "script.h"

enum { INDENT = 4, CONTINUED = 8, WIDEST = 100 };

/* A token, or a whole text with its holes, as it goes onto a line. */
typedef struct { SgStr bytes; uint32_t raw; uint16_t tag; uint8_t before; bool breaks, comment, own_line; } Item;

typedef struct {
    SgCompile *c;
    const SgTokens *raw;
    uint16_t *tag;                 /* of each raw token; 0 for what leaves none */
    SgBuf *out;
    uint32_t column, depth;        /* characters on the line; open blocks */
    uint32_t i;                    /* raw token to be written next */
    uint32_t line_ends;            /* passed since the last thing written */
    bool some, opened, commented;  /* anything is written; it opened a block; it was a comment, which its line must end with */
    SG_VEC(Item) item;             /* of the statement being written */
    SG_VEC(uint32_t) late;         /* its comments that stood between its phrases */
} Tidy;

/* ---- tokens ---- */
static SgStr bytes_between(const Tidy *t, uint32_t start, uint32_t end)
{
    return (SgStr){ t->c->source[t->raw->v[1].at.file].bytes.s + start, end - start };
}

static bool is_op(const SgToken *token, char c)
{
    return token->raw == SG_RAW_OP && token->sym == (uint8_t)c;
}

static bool is_kind(const Tidy *t, const SgToken *token)
{
    return token->raw == SG_RAW_WORD && sg_kind_of(sg_names_str(&t->c->names, token->sym)) < SG_KIND_COUNT;
}

static uint32_t raw_at(const Tidy *t, uint32_t start)
{
    uint32_t low = 1, high = t->raw->n - 1;
    while (low < high) {
        uint32_t middle = low + (high - low) / 2;
        if (t->raw->v[middle].at.start < start) low = middle + 1;
        else high = middle;
    }
    return low;
}

static void read_tags(Tidy *t, const SgTagged *tagged)
{
    t->tag = SG_ARRAY(t->c->arena, uint16_t, t->raw->n);
    for (uint32_t k = 1, i = 1; k < tagged->tokens.n; k++) {
        const SgToken *token = &tagged->tokens.v[k];
        if (token->at.end == token->at.start) continue;          /* ends, put in by words */
        while (i < t->raw->n && (t->raw->v[i].at.start < token->at.start || t->raw->v[i].at.end == t->raw->v[i].at.start)) i++;
        if (i < t->raw->n) t->tag[i] = token->tag;
    }
}

static SgStr comment_of(const Tidy *t, uint32_t i)
{
    SgSpan at = t->raw->v[i].at;
    SgStr s = bytes_between(t, at.start, at.end);
    while (s.n && (s.s[s.n - 1] == ' ' || s.s[s.n - 1] == '\t' || s.s[s.n - 1] == '\r')) s.n--;
    return s;
}

/* A number as it was written, one blank, its unit; the degree sign without the blank. */
static SgStr number_of(Tidy *t, const SgToken *token)
{
    SgStr s = bytes_between(t, token->at.start, token->at.end);
    if (token->unit == SG_NO_UNIT) return s;
    const char *unit = sg_unit_info((SgUnit)token->unit)->spelling;
    s.n -= sg_str(unit).n;
    while (s.n && (s.s[s.n - 1] < '0' || s.s[s.n - 1] > '9')) s.n--;
    return sg_format(t->c->arena, "%.*s%s%s", (int)s.n, s.s, token->unit == SG_UNIT_degree ? "" : " ", unit);
}

/* ---- lines ---- */
static void put_blanks(Tidy *t, uint32_t n)
{
    t->column += n;
    while (n-- > 0) sg_put_char(t->out, ' ');
}

static void put_bytes(Tidy *t, SgStr s)
{
    sg_put_str(t->out, s);
    t->column += sg_utf8_count(s);
}

static void break_line(Tidy *t, uint32_t indent)
{
    sg_put_char(t->out, '\n');
    t->column = 0;
    put_blanks(t, indent);
}

/* Of several empty lines one stays, none at the beginning of a block. */
static void start_line(Tidy *t)
{
    if (t->some && t->line_ends >= 2 && !t->opened) sg_put_char(t->out, '\n');
    t->column = 0;
    if (t->some) break_line(t, t->depth * INDENT);
    t->some = true;
    t->opened = t->commented = false;
    t->line_ends = 0;
}

static void put_comment(Tidy *t, uint32_t i)
{
    bool beside = t->some && t->line_ends == 0 && !t->commented;
    if (beside) put_blanks(t, 2);
    else start_line(t);
    put_bytes(t, comment_of(t, i));
    t->commented = true;
    t->opened = false;
    t->line_ends = 0;
}

/* ---- one statement ---- */
static bool ends_operand(uint16_t tag)
{
    return tag == SG_T_NUMBER || tag == SG_T_NAME || tag == SG_T_RPAR || tag == SG_T_TEXT || tag == SG_T_HEAD;
}

/* Blanks between two neighbours. A sign of its operand stands against it. */
static uint8_t blanks_between(const Item *a, uint16_t before_a, const Item *b)
{
    bool sign = a->tag == SG_T_MINUS && !ends_operand(before_a);
    if (sign || a->tag == SG_T_LPAR || a->tag == SG_T_DOT || a->tag == SG_T_CARET || a->tag == SG_T_COLON) return 0;
    if (b->tag == SG_T_COMMA || b->tag == SG_T_RPAR || b->tag == SG_T_CARET || b->tag == SG_T_COLON) return 0;
    if (b->tag == SG_T_LPAR) return a->tag == SG_T_NAME ? 0 : 1;
    if (b->tag == SG_T_DOT) return a->tag == SG_T_NUMBER ? 1 : 0;      /* 4.x would be a number without its digits */
    return 1;
}

/* Adds raw tokens [from, to) to the statement, comments among them where they stand. */
static void take(Tidy *t, uint32_t from, uint32_t to)
{
    for (uint32_t i = from; i < to; i++) {
        const SgToken *token = &t->raw->v[i];
        Item item = { .raw = i, .tag = t->tag[i], .bytes = bytes_between(t, token->at.start, token->at.end) };
        if (token->raw == SG_RAW_LINE_END) continue;
        if (token->raw == SG_RAW_COMMENT) {
            item.comment = true;
            item.own_line = t->raw->v[i - 1].raw == SG_RAW_LINE_END;
            item.bytes = comment_of(t, i);
        } else if (token->raw == SG_RAW_NUMBER) {
            item.bytes = number_of(t, token);
        } else if (token->raw == SG_RAW_HEAD) {
            while (t->raw->v[i].raw != SG_RAW_TAIL) i++;
            item.bytes = bytes_between(t, token->at.start, t->raw->v[i].at.end);
        }
        SG_PUSH(t->c->arena, &t->item, item);
    }
}

/* Comments at the end of a range stand between phrases, and must not come between others. */
static uint32_t put_off_comments(Tidy *t, uint32_t from, uint32_t to)
{
    uint32_t end = to;
    while (end > from && (t->raw->v[end - 1].raw == SG_RAW_COMMENT || t->raw->v[end - 1].raw == SG_RAW_LINE_END)) end--;
    for (uint32_t i = end; i < to; i++)
        if (t->raw->v[i].raw == SG_RAW_COMMENT) SG_PUSH(t->c->arena, &t->late, i);
    return end;
}

/* Where the next phrase in the script's own order, or the end, is. */
static uint32_t phrase_end(const Tidy *t, const SgNode *n, uint32_t end)
{
    uint32_t i = raw_at(t, n->at.start);
    while (i < end && t->raw->v[i].at.start < n->at.end) i++;
    return i;
}

static void gather(Tidy *t, const SgNode *statement, uint32_t end)
{
    uint32_t first = end;
    t->item.n = t->late.n = 0;
    for (const SgNode *n = statement->first; n; n = n->next) {
        if (!sg_tidy_phrase(n)) continue;
        uint32_t at = raw_at(t, n->at.start);
        if (at < first) first = at;
    }
    take(t, t->i, put_off_comments(t, t->i, first));
    for (const SgNode *n = statement->first; n; n = n->next) {
        if (!sg_tidy_phrase(n)) continue;
        uint32_t to = phrase_end(t, n, end), next = to;
        take(t, raw_at(t, n->at.start), put_off_comments(t, raw_at(t, n->at.start), to));
        while (next < end && (t->raw->v[next].raw == SG_RAW_COMMENT || t->raw->v[next].raw == SG_RAW_LINE_END)) next++;
        put_off_comments(t, to, next);
    }
}

/* Where a line may be broken: never inside the brackets of a point, and never so that the next line could begin a statement. */
static void find_breaks(Tidy *t)
{
    uint32_t brackets = 0;
    bool call[SG_MAX_BRACKETS + 1] = { false };
    uint32_t points = 0;
    uint16_t before = 0;
    const Item *last = NULL;
    for (uint32_t k = 0; k < t->item.n; k++) {
        Item *x = &t->item.v[k];
        if (x->comment) continue;
        const SgToken *token = &t->raw->v[x->raw], *next = &t->raw->v[t->raw->v[x->raw].next];
        x->before = last ? blanks_between(last, before, x) : 0;
        bool operator = x->tag == SG_T_AND || x->tag == SG_T_OR || x->tag == SG_T_PLUS || x->tag == SG_T_MINUS;
        if (last && points == 0)
            x->breaks = last->tag == SG_T_COMMA ? !is_kind(t, token) : operator && ends_operand(last->tag) && !is_kind(t, next);
        if (x->tag == SG_T_LPAR && brackets < SG_MAX_BRACKETS) {
            call[++brackets] = last && last->tag == SG_T_NAME;
            points += !call[brackets];
        } else if (x->tag == SG_T_RPAR && brackets) {
            points -= !call[brackets--];
        }
        before = last ? last->tag : 0;
        last = x;
    }
}

/* Characters from item k to the next place where a line may end. */
static uint32_t width_from(const Tidy *t, uint32_t k, uint32_t behind)
{
    uint32_t width = 0, first = k;
    for (; k < t->item.n; k++) {
        const Item *x = &t->item.v[k];
        if (x->comment || (k > first && x->breaks)) return width;
        width += x->before + sg_utf8_count(x->bytes);
    }
    return width + behind;
}

/* behind: characters that follow on the last line. */
static void put_items(Tidy *t, uint32_t behind)
{
    uint32_t indent = t->depth * INDENT + CONTINUED;
    bool fresh = true;
    find_breaks(t);
    start_line(t);
    for (uint32_t k = 0; k < t->item.n; k++) {
        const Item *x = &t->item.v[k];
        if (x->comment) {
            if (x->own_line || t->commented) break_line(t, indent);
            else put_blanks(t, 2);
        } else if (t->commented) {
            break_line(t, indent);
        } else if (!fresh && x->breaks && t->column + width_from(t, k, behind) > WIDEST) {
            break_line(t, indent);
        } else {
            put_blanks(t, x->before);
        }
        put_bytes(t, x->bytes);
        t->commented = x->comment;
        fresh = false;
    }
}

/* ---- blocks ---- */
static void put_list(Tidy *t, const SgNode *first);

/* What stands between statements, up to raw token `end`: comments, empty lines, and the version of the language. */
static void put_between(Tidy *t, uint32_t end)
{
    bool line = false;
    for (; t->i < end; t->i++) {
        const SgToken *token = &t->raw->v[t->i];
        bool ends = token->raw == SG_RAW_LINE_END || token->raw == SG_RAW_COMMENT || is_op(token, ';');
        if (token->raw == SG_RAW_LINE_END) t->line_ends++;
        if (token->raw == SG_RAW_COMMENT) put_comment(t, t->i);
        if (!ends && !line) start_line(t);
        else if (!ends) put_blanks(t, 1);
        if (!ends) put_bytes(t, bytes_between(t, token->at.start, token->at.end));
        line = !ends;
    }
}

static void put_block(Tidy *t, const SgNode *statement)
{
    const SgNode *items = statement->first;
    while (items && items->kind != SG_N_STATEMENT && items->kind != SG_N_LINE) items = items->next;
    if (t->commented) start_line(t);
    else put_blanks(t, 1);
    put_bytes(t, SG_LIT("{"));
    uint32_t start = t->out->n;
    t->depth++;
    t->i++;
    t->opened = true;
    t->line_ends = 0;
    for (uint32_t k = 0; k < t->late.n; k++) put_comment(t, t->late.v[k]);
    put_list(t, items);
    put_between(t, raw_at(t, statement->at.end - 1));
    t->depth--;
    t->opened = true;      /* no empty line before the end of a block */
    if (t->out->n == start) put_blanks(t, 1);
    else start_line(t);
    put_bytes(t, SG_LIT("}"));
    t->opened = false;
    t->line_ends = 0;
    t->i++;
}

static void put_statement(Tidy *t, const SgNode *n)
{
    uint32_t end = t->i;
    while (t->raw->v[end].raw != SG_RAW_EOF && t->raw->v[end].at.start < n->at.end && !is_op(&t->raw->v[end], '{')) end++;
    bool block = is_op(&t->raw->v[end], '{') && t->raw->v[end].at.start < n->at.end;
    gather(t, n, end);
    put_items(t, block ? 2 : 0);
    t->i = end;
    t->line_ends = 0;
    if (block) put_block(t, n);
    else for (uint32_t k = 0; k < t->late.n; k++) put_comment(t, t->late.v[k]);
}

static void put_list(Tidy *t, const SgNode *first)
{
    for (const SgNode *n = first; n; n = n->next) {
        put_between(t, raw_at(t, n->at.start));
        put_statement(t, n);
    }
}

void sg_tidy(SgCompile *c, const SgTokens *raw, const SgTagged *tagged, const SgNode *tree, SgBuf *out)
{
    Tidy t = { .c = c, .raw = raw, .out = out, .i = 1 };
    read_tags(&t, tagged);
    put_list(&t, tree->first);
    put_between(&t, raw->n - 1);
    if (t.some) sg_put_char(out, '\n');
}
