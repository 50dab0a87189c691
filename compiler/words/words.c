/* Tags every word by the statement it stands in and by where in it; places statement ends; mends brackets and braces.
   In: raw tokens, the catalogue. Out: the grammar's tokens. One pass, one look at the catalogue a word, at most two tokens
   ahead; never asks the parser, so that any tool can run it alone. */
#include "words/words.h"

#include "words/reader.h"

#include "catalogue/catalogue.h"
#include "script.h"

SgToken *sg_words_emit(Reader *r, const SgToken *t, int tag)
{
    SgToken out = *t;
    out.tag = (uint16_t)tag;
    out.kind = (uint16_t)(r->kind < SG_KIND_COUNT ? (int)r->kind + 1 : 0);
    out.governor = r->governor;
    out.open = r->brackets ? r->bracket[r->brackets] : 0;
    out.statement = r->c->statement;
    SG_PUSH(r->c->arena, &r->out.tokens, out);
    return &r->out.tokens.v[r->out.tokens.n - 1];
}

static uint32_t last_index(const Reader *r)
{
    return r->out.tokens.n - 1;
}

static void emit_empty(Reader *r, const SgToken *before, int tag)
{
    SgToken empty = *before;
    empty.at.end = empty.at.start;
    sg_words_emit(r, &empty, tag);
}

static SgStr word_of(const Reader *r, const SgToken *t)
{
    return sg_names_str(&r->c->names, t->sym);
}

/* ---- what a raw token could be ---- */
static bool is_op(const SgToken *t, char c)
{
    return t->raw == SG_RAW_OP && t->sym == (uint8_t)c;
}

static bool is_text(const SgToken *t)
{
    return t->raw == SG_RAW_TEXT || t->raw == SG_RAW_HEAD;
}

static int infix_tag(const Reader *r, SgSym sym)
{
    return sym == r->sym_and ? SG_T_AND : sym == r->sym_or ? SG_T_OR : sym == r->sym_before ? SG_T_BEFORE : sym == r->sym_beyond ? SG_T_BEYOND : 0;
}

SgForm sg_words_form(const Reader *r, SgKind kind, const SgToken *t)
{
    if (kind >= SG_KIND_COUNT || t->raw != SG_RAW_WORD) return SG_FORM_NONE;
    SgPhraseId id = sg_phrase_of(kind, word_of(r, t));
    return id < SG_PHRASE_COUNT ? sg_phrase_info(id)->form : SG_FORM_NONE;
}

static SgKind kind_of(const Reader *r, const SgToken *t)
{
    return t->raw == SG_RAW_WORD ? sg_kind_of(word_of(r, t)) : SG_KIND_COUNT;
}

/* A word that could be a value here: no operator, and no word of the statement's kind. */
static bool is_free_word(const Reader *r, const SgToken *t)
{
    return t->raw == SG_RAW_WORD && !infix_tag(r, t->sym) && sg_words_form(r, r->kind, t) == SG_FORM_NONE;
}

bool sg_words_begins_value(const Reader *r, const SgToken *t)
{
    return t->raw == SG_RAW_NUMBER || is_text(t) || is_op(t, '(') || is_op(t, '-') || is_free_word(r, t);
}

/* A kind with a word, number or text behind it that is no phrase of the statement being read. */
static bool starts_statement(const Reader *r, const SgToken *t)
{
    SgKind kind = kind_of(r, t);
    if (kind == SG_KIND_COUNT) return false;
    SgSlot slot = sg_kind_info(kind)->slot;
    bool takes_number = slot == SG_SLOT_BARE || slot == SG_SLOT_CONDITION;
    return (takes_number && t[1].raw == SG_RAW_NUMBER) || is_text(t + 1) || is_free_word(r, t + 1);
}

/* ---- statements and blocks ---- */
static void end_statement(Reader *r, const SgToken *t)
{
    if (r->state != AT_START) emit_empty(r, t, SG_T_END);
    r->state = AT_START;
    r->brackets = r->dropped_brackets = r->governor = 0;
    r->dropping = r->after_operator = false;
    r->c->statement++;
}

/* Closes blocks that were left open; the message points at the statement that opens the outermost of them. */
static void close_blocks(Reader *r, const SgToken *t, uint32_t to)
{
    r->governor = 0;
    while (r->depth > to) {
        r->depth--;
        if (r->depth == to && !r->cut_off) {
            SgStr head = sg_source_words(r->c, r->opened[r->depth]);
            sg_say_ranked(r->c, SG_BRACE, SG_MSG_block_open, r->opened[r->depth], "the block of this `%.*s` is not closed; a } is missing",
                (int)head.n, head.s);
        }
        emit_empty(r, t, SG_T_RBRACE);
    }
    r->out.braces_damaged = true;
}

static void open_block(Reader *r, const SgToken *t)
{
    if (r->depth == SG_MAX_BLOCKS) {
        sg_say(r->c, SG_MSG_limit, t->at, "blocks stand in one another at most %d deep", SG_MAX_BLOCKS);
        end_statement(r, t);
        r->out.braces_damaged = true;
        r->dropped_blocks = 1;
        return;
    }
    bool alone = r->state == AT_START;
    r->brackets = r->dropped_brackets = r->governor = 0;
    r->dropping = false;
    sg_words_emit(r, t, SG_T_LBRACE);
    r->holder[r->depth] = alone ? SG_KIND_COUNT : r->kind;
    r->opened[r->depth] = alone || r->kind == SG_KIND_COUNT ? t->at : r->head;
    r->depth++;
    r->state = AT_START;
    r->c->statement++;
}

static void close_block(Reader *r, const SgToken *t)
{
    end_statement(r, t);
    if (r->depth) {
        sg_words_emit(r, t, SG_T_RBRACE);
        r->depth--;
        return;
    }
    sg_say_ranked(r->c, SG_BRACE, SG_MSG_block_extra, t->at, "this } closes nothing; take it away, or put in the { that it should close");
    r->out.braces_damaged = true;
}

/* The rest of the file is left out: what stands in it cannot be told apart from what follows of the first mistake. */
static void cut_off(Reader *r)
{
    r->cut_off = true;
    r->i = r->raw->n - 2;
}

static bool counts_too_many(Reader *r, const SgToken *t, SgKind kind)
{
    if (sg_kind_info(kind)->holds == SG_HOLDS_FIGURE) { r->statements = 0; return false; }
    if (++r->statements <= SG_MAX_STATEMENTS) return false;
    sg_say(r->c, SG_MSG_limit, t->at, "a figure holds at most %d statements; make two figures of it", SG_MAX_STATEMENTS);
    cut_off(r);
    return true;
}

/* Blocks that cannot hold this kind lack their closing brace. */
static void leave_blocks(Reader *r, const SgToken *t, SgKind kind)
{
    SgHolds holds = sg_kind_info(kind)->holds;
    if (holds == SG_HOLDS_FIGURE) {
        SG_PUSH(r->c->arena, &r->out.tops, t->at.start);
        if (r->depth) close_blocks(r, t, 0);
    }
    while (r->depth) {
        SgKind holder = r->holder[r->depth - 1];
        if (holder == SG_KIND_COUNT) break;
        SgHolds room = sg_kind_info(holder)->holds;
        if (room == SG_HOLDS_FIGURE || (room == SG_HOLDS_STATEMENTS && holds != SG_HOLDS_STATEMENTS)) break;
        close_blocks(r, t, r->depth - 1);
    }
}

static void start_kind(Reader *r, const SgToken *t, SgKind kind)
{
    if (counts_too_many(r, t, kind)) return;
    leave_blocks(r, t, kind);
    const SgToken *next = &r->raw->v[r->i + 1];
    SgSlot slot = sg_kind_info(kind)->slot;
    r->kind = kind;
    r->head = t->at;
    bool values = slot == SG_SLOT_CONDITION
        || (slot == SG_SLOT_BARE && sg_words_form(r, kind, next) == SG_FORM_NONE && !is_text(next) && !is_op(next, '{'));
    r->governor = 0;
    if (values) {
        sg_words_emit(r, t, slot == SG_SLOT_CONDITION ? SG_T_KINDCOND : SG_T_KINDBARE);
        r->governor = last_index(r);
        r->state = AT_OPERAND;
        return;
    }
    sg_words_emit(r, t, SG_T_KIND);
    r->state = slot == SG_SLOT_MUST || slot == SG_SLOT_MAY ? AT_NAME : AT_PHRASE;
}

/* `sagitta 1`: which version of the language the script was written for. It leaves no token behind. */
static bool version_line(Reader *r, const SgToken *t)
{
    if (r->depth || t->sym != r->sym_sagitta || t[1].raw != SG_RAW_NUMBER) return false;
    if (r->out.tokens.n > 1 || r->versioned) {
        sg_say(r->c, SG_MSG_language_version, t->at, "the language version stands before everything else");
    } else if (t[1].value != SG_LANGUAGE_VERSION || t[1].unit != SG_NO_UNIT) {
        SgStr number = sg_source_words(r->c, t[1].at);
        sg_say(r->c, SG_MSG_language_version, t[1].at, "version %.*s of the language is not known; this compiler knows version %d",
            (int)number.n, number.s, SG_LANGUAGE_VERSION);
    }
    r->versioned = true;
    const SgToken *next = t + 2;
    if (next->raw != SG_RAW_LINE_END && next->raw != SG_RAW_COMMENT && next->raw != SG_RAW_EOF && !is_op(next, ';'))
        sg_say_ranked(r->c, SG_GUESS, SG_MSG_unexpected, next->at, "the language version stands on a line of its own");
    r->i++;
    return true;
}

/* The kind whose word this is, the last statement's if it has it; SG_KIND_COUNT when no kind has it. */
static SgKind owner_of(const Reader *r, const SgToken *t)
{
    SgKind last = r->kind < SG_KIND_COUNT ? r->kind : r->astray;
    if (sg_words_form(r, last, t) != SG_FORM_NONE) return last;
    for (int k = 0; k < SG_KIND_COUNT; k++) if (sg_words_form(r, (SgKind)k, t) != SG_FORM_NONE) return (SgKind)k;
    return SG_KIND_COUNT;
}

/* The rest of the line says nothing that could be told apart. */
static void drop_line(Reader *r, const SgToken *t)
{
    r->kind = SG_KIND_COUNT;
    sg_words_emit(r, t, SG_T_BADKIND);
    r->state = AT_PHRASE;
    r->dropping = true;
}

static void unknown_kind(Reader *r, const SgToken *t)
{
    SgStr word = sg_source_words(r->c, t->at);
    const char *near = sg_near_kind(word_of(r, t));
    if (near) {
        sg_say_ranked(r->c, SG_GUESS, SG_MSG_kind_unknown, t->at, "no kind of thing is called `%.*s`; did you mean `%s`?", (int)word.n, word.s, near);
        SgToken mended = *t;
        mended.sym = sg_names_sym(&r->c->names, near, sg_str(near).n);
        start_kind(r, &mended, sg_kind_of(sg_str(near)));
        return;
    }
    SgKind owner = owner_of(r, t);
    if (owner < SG_KIND_COUNT && owner == r->astray) {
        /* one line more of the same lost block */
    } else if (owner < SG_KIND_COUNT)
        sg_say_ranked(r->c, SG_GUESS, SG_MSG_statement_start, t->at,
                "`%.*s` is a word of `%s` and begins no statement; write it on the line of its %s, or in its block", (int)word.n, word.s,
                      sg_kind_info(owner)->word, sg_kind_info(owner)->word);
    else
        sg_say_ranked(r->c, SG_GUESS, SG_MSG_kind_unknown, t->at,
                "no kind of thing is called `%.*s`; a statement begins with a kind, such as mirror, object or ray", (int)word.n, word.s);
    drop_line(r, t);
    r->astray = owner;
}

static SgKind block_kind(const Reader *r)
{
    return r->depth ? r->holder[r->depth - 1] : SG_KIND_COUNT;
}

static void word_at_start(Reader *r, const SgToken *t)
{
    SgKind block = block_kind(r), kind;
    SgForm form = sg_words_form(r, block, t);
    if (version_line(r, t)) return;
    r->governor = 0;
    if (form != SG_FORM_NONE) {
        r->kind = block;
        sg_words_take(r, t, form);
    } else if (r->depth && block == SG_KIND_COUNT && !starts_statement(r, t)) {      /* in the block of an unknown kind: silent */
        drop_line(r, t);
    } else if ((kind = kind_of(r, t)) < SG_KIND_COUNT) {
        r->astray = SG_KIND_COUNT;
        start_kind(r, t, kind);
    } else if (block < SG_KIND_COUNT && sg_kind_info(block)->holds == SG_HOLDS_WORDS) {
        r->kind = block;
        sg_words_unknown(r, t);
    } else {
        unknown_kind(r, t);
    }
}

/* ---- words inside a statement ---- */
void sg_words_take(Reader *r, const SgToken *t, SgForm form)
{
    static const int tag[] = { SG_T_BADWORD, SG_T_FLAG, SG_T_WORD, SG_T_WHERE };
    r->governor = 0;
    sg_words_emit(r, t, tag[form]);
    r->governor = form == SG_FORM_FLAG ? 0 : last_index(r);
    r->state = form == SG_FORM_FLAG ? AT_PHRASE : AT_OPERAND;
}

/* `ray angle from A`: read as a phrase it could not go on, so the word was meant as the name. */
static bool name_was_meant(const Reader *r, const SgToken *t)
{
    if (sg_words_form(r, r->kind, t + 1) <= SG_FORM_FLAG) return false;
    return t[2].raw == SG_RAW_NUMBER || is_op(t + 2, '(') || is_free_word(r, t + 2);
}

static void word_in_name_slot(Reader *r, const SgToken *t)
{
    const SgKindInfo *info = sg_kind_info(r->kind);
    SgForm form = sg_words_form(r, r->kind, t);
    SgStr word = sg_source_words(r->c, t->at);
    if (info->slot == SG_SLOT_MUST && form > SG_FORM_FLAG && (t[1].raw == SG_RAW_NUMBER || is_free_word(r, t + 1))) {      /* the model asks for the name */
        emit_empty(r, t, SG_T_NAME);
        r->out.tokens.v[last_index(r)].sym = SG_NO_SYM;
        sg_words_take(r, t, form);
        return;
    }
    if (form != SG_FORM_NONE && info->slot == SG_SLOT_MAY) {
        if (form == SG_FORM_FLAG || !name_was_meant(r, t)) {
            sg_words_take(r, t, form);
            return;
        }
        sg_say(r->c, SG_MSG_word_as_name, t->at, "`%.*s` is a word of `%s`, so it cannot be its name; choose another", (int)word.n, word.s,
            info->word);
    } else if (t->sym == r->sym_not) {
        sg_say(r->c, SG_MSG_word_as_name, t->at, "`not` is the one word that cannot be a name; choose another");
    }
    sg_words_emit(r, t, SG_T_NAME);
    r->state = AT_PHRASE;
    r->named = last_index(r);
}

static void word_after_value(Reader *r, const SgToken *t)
{
    int tag = infix_tag(r, t->sym);
    SgForm form = sg_words_form(r, r->kind, t);
    if (tag) {
        sg_words_emit(r, t, tag);
        r->state = AT_OPERAND;
        r->after_operator = true;
    } else if (r->in_hole) {
        sg_words_emit(r, t, SG_T_NAME);
    } else if (form != SG_FORM_NONE) {
        r->brackets = 0;          /* a bracket was forgotten; the parser says so */
        sg_words_take(r, t, form);
    } else if (r->brackets) {
        sg_words_emit(r, t, SG_T_NAME);
        r->brackets = 0;
    } else if (starts_statement(r, t)) {
        SgStr word = sg_source_words(r->c, t->at);
        sg_say_ranked(r->c, SG_GUESS, SG_MSG_statement_start, t->at, "`%.*s` begins a statement and needs a line of its own, or a ; before it",
            (int)word.n, word.s);
        end_statement(r, t);
        start_kind(r, t, kind_of(r, t));
    } else {
        sg_words_unknown(r, t);
    }
}

/* `focal at 16 cm`: a word of the kind with a value directly behind it is no value itself; the parser asks for the one before. */
static bool skips_a_value(const Reader *r, const SgToken *t)
{
    if (r->in_hole || r->brackets || sg_words_form(r, r->kind, t) <= SG_FORM_FLAG) return false;
    return t[1].raw == SG_RAW_NUMBER || is_free_word(r, t + 1);
}

static void take_word(Reader *r, const SgToken *t)
{
    switch (r->state) {
    case AT_START: word_at_start(r, t); break;
    case AT_NAME: word_in_name_slot(r, t); break;
    case AT_PHRASE: word_after_value(r, t); break;
    case AT_OPERAND:
        if (t->sym == r->sym_not) {
            sg_words_emit(r, t, SG_T_NOT);
            break;
        }
        if (skips_a_value(r, t)) {
            sg_words_take(r, t, sg_words_form(r, r->kind, t));
            break;
        }
        sg_words_emit(r, t, SG_T_NAME);
        r->state = AT_PHRASE;
        break;
    case AT_PROPERTY:
        sg_words_emit(r, t, SG_T_NAME);
        r->state = AT_PHRASE;
    }
}

/* ---- signs ---- */
static int op_tag(uint32_t c)
{
    switch (c) {
    case '+': return SG_T_PLUS;
    case '-': return SG_T_MINUS;
    case '*': return SG_T_STAR;
    case '/': return SG_T_SLASH;
    case '^': return SG_T_CARET;
    case ',': return SG_T_COMMA;
    case ':': return SG_T_COLON;
    default: return 0;
    }
}

static void open_bracket(Reader *r, const SgToken *t)
{
    if (r->brackets >= SG_MAX_BRACKETS) {
        if (!r->dropped_brackets++) sg_say(r->c, SG_MSG_limit, t->at, "brackets stand in one another at most %d deep; name a part of it with `let`",
                SG_MAX_BRACKETS);
        return;
    }
    bool parameters = r->named && r->named == last_index(r);
    if (parameters && r->kind < SG_KIND_COUNT && sg_kind_info(r->kind)->holds != SG_HOLDS_FIGURE)
        sg_say_ranked(r->c, SG_GUESS, SG_MSG_unexpected, t->at, "`(` does not belong here; only a figure has values in brackets after its name");
    sg_words_emit(r, t, SG_T_LPAR);
    r->bracket[++r->brackets] = last_index(r);
    r->state = AT_OPERAND;
}

static void close_bracket(Reader *r, const SgToken *t)
{
    if (r->dropped_brackets) {
        r->dropped_brackets--;
        return;
    }
    if (r->brackets > (r->in_hole ? r->hole_brackets : 0)) r->brackets--;
    sg_words_emit(r, t, SG_T_RPAR);
    r->state = AT_PHRASE;
}

/* A ; or } where the statement cannot end and its line plainly goes on. */
static bool is_junk(Reader *r, const SgToken *t)
{
    const SgToken *next = t + 1;
    if (!(r->state == AT_OPERAND || r->brackets) || r->was_after_operator) return false;
    if (next->raw == SG_RAW_LINE_END || next->raw == SG_RAW_EOF || next->raw == SG_RAW_COMMENT) return false;
    if (is_op(next, '}') || is_op(next, ';') || is_op(next, '{') || kind_of(r, next) < SG_KIND_COUNT) return false;
    sg_say_ranked(r->c, SG_GUESS, SG_MSG_unexpected, t->at, "`%c` does not belong here; take it away, or write the value it cuts off", (char)t->sym);
    return true;
}

static void take_op(Reader *r, const SgToken *t)
{
    bool ends = t->sym == ';' || t->sym == '}';
    if (r->state == AT_START && !ends && t->sym != '{') {
        sg_say_ranked(r->c, SG_GUESS, SG_MSG_statement_start, t->at, "a statement cannot begin with `%c`; take it away, or write a kind before it", (char)t->sym);
        return;
    }
    if (ends && !r->in_hole && is_junk(r, t)) return;
    if (t->sym == '{' && r->in_hole) {
        sg_say_ranked(r->c, SG_GUESS, SG_MSG_unexpected, t->at, "`{` does not belong here; a value in a text holds no braces");
        return;
    }
    switch (t->sym) {
    case ';':
        if (r->in_hole) sg_words_emit(r, t, SG_T_END);
        else end_statement(r, t);
        return;
    case '{': open_block(r, t); return;
    case '}': close_block(r, t); return;
    case '(': open_bracket(r, t); return;
    case ')': close_bracket(r, t); return;
    case '.':
        sg_words_emit(r, t, SG_T_DOT);
        r->state = AT_PROPERTY;
        return;
    case ',':
        if (sg_words_decimal_comma(r, t)) return;
    }
    sg_words_emit(r, t, op_tag(t->sym));
    r->state = AT_OPERAND;
    r->after_operator = t->sym != ':';
}

static void take_relation(Reader *r, const SgToken *t)
{
    if (r->state == AT_START) {
        sg_say_ranked(r->c, SG_GUESS, SG_MSG_statement_start, t->at, "a statement cannot begin with a comparison; write a kind before it, such as let");
        return;
    }
    bool nameless = r->state == AT_NAME && t->sym == '=' && sg_kind_info(r->kind)->slot == SG_SLOT_MUST;
    if (nameless) {
        emit_empty(r, t, SG_T_NAME);      /* the model asks for the name */
        r->out.tokens.v[last_index(r)].sym = SG_NO_SYM;
    }
    sg_words_emit(r, t, t->sym == '=' ? SG_T_EQ : SG_T_REL);
    r->state = AT_OPERAND;
    r->after_operator = true;
}

/* ---- line ends ---- */
/* The next line begins with what no statement begins with: an operator, a comma, a closing bracket, an opening brace. */
static bool next_line_continues(const Reader *r, const SgToken *next)
{
    bool block = r->kind < SG_KIND_COUNT && sg_kind_info(r->kind)->holds != SG_HOLDS_WORDS;
    if (block && is_op(next, '{')) return true;
    bool operator = (next->raw == SG_RAW_OP && next->sym != '}' && next->sym != ';' && next->sym != '(') || next->raw == SG_RAW_RELATION
        || (next->raw == SG_RAW_WORD && infix_tag(r, next->sym));
    return operator && !starts_statement(r, next + 1);
}

/* This line lacks something that the next begins with. */
static bool line_goes_on(const Reader *r, const SgToken *next)
{
    if (next->raw == SG_RAW_EOF || is_op(next, '}')) return false;
    bool statement = starts_statement(r, next), word = next->raw == SG_RAW_WORD;
    if (r->dropping) return (r->after_operator || r->dropped_brackets) && !statement;
    if (r->brackets) return r->state == AT_OPERAND || !word ? !statement : is_free_word(r, next) && kind_of(r, next) == SG_KIND_COUNT;
    if (r->after_operator) return !statement;
    if (r->state == AT_OPERAND)
        return next->raw == SG_RAW_NUMBER || is_text(next) || (is_free_word(r, next) && kind_of(r, next) == SG_KIND_COUNT);
    bool name_follows = r->state == AT_PROPERTY || (r->state == AT_NAME && sg_kind_info(r->kind)->slot == SG_SLOT_MUST);
    return name_follows && word && !statement;
}

static void take_line_end(Reader *r, const SgToken *t)
{
    if (r->state == AT_START) return;
    const SgToken *next = &r->raw->v[r->raw->v[r->i].next];
    if (!next_line_continues(r, next) && !line_goes_on(r, next)) end_statement(r, t);
}

/* ---- texts and numbers ---- */
/* The message about a text without its end explains what else goes wrong in its statement, and a bad word marks the statement
   as one that cannot be whole: the text has swallowed some of it. */
static void tie_open_text(Reader *r, const SgToken *t)
{
    for (uint32_t i = 0; i < r->c->diags.n; i++) {
        SgDiag *d = &r->c->diags.v[i];
        bool here = d->rank == SG_TEXT_OPEN && d->at.file == t->at.file && d->at.start >= r->text_start && d->at.start <= t->at.end;
        if (here && !d->statement) d->statement = r->c->statement;
    }
    SgToken swallowed = *t;
    swallowed.at.start = swallowed.at.end;
    swallowed.sym = SG_NO_SYM;
    sg_words_emit(r, &swallowed, SG_T_BADWORD);
}

static void take_text(Reader *r, const SgToken *t)
{
    if (r->state == AT_START && !r->depth)
        sg_say_ranked(r->c, SG_GUESS, SG_MSG_statement_start, t->at,
                "a text belongs to a statement, such as figure, step or note; it cannot begin one");
    if (t->raw == SG_RAW_TEXT || t->raw == SG_RAW_HEAD) r->text_start = t->at.start;
    switch (t->raw) {
    case SG_RAW_TEXT: case SG_RAW_HEAD:
        if (r->state == AT_START) r->kind = block_kind(r);
        sg_words_emit(r, t, t->raw == SG_RAW_TEXT ? SG_T_TEXT : SG_T_HEAD);
        r->state = AT_PHRASE;
        if (t->raw == SG_RAW_TEXT) {
            if (t->decimals == 0) tie_open_text(r, t);
            break;
        }
        r->hole_brackets = r->brackets + 1;
        r->bracket[++r->brackets] = last_index(r);
        r->in_hole = true;
        r->state = AT_OPERAND;
        break;
    case SG_RAW_MID:
        sg_words_emit(r, t, SG_T_MID);
        r->brackets = r->hole_brackets;
        r->state = AT_OPERAND;
        break;
    case SG_RAW_TAIL:
        sg_words_emit(r, t, SG_T_TAIL);
        r->brackets = r->hole_brackets ? r->hole_brackets - 1 : 0;
        r->in_hole = false;
        r->state = AT_PHRASE;
        if (t->decimals == 0) tie_open_text(r, t);
        break;
    case SG_RAW_EOF: case SG_RAW_WORD: case SG_RAW_NUMBER: case SG_RAW_OP: case SG_RAW_RELATION: case SG_RAW_LINE_END: case SG_RAW_COMMENT:
        break;
    }
}

static void take_number(Reader *r, const SgToken *t)
{
    if (r->state == AT_START) {
        sg_say_ranked(r->c, SG_GUESS, SG_MSG_statement_start, t->at, "a statement cannot begin with a number; write a kind before it, or end the line above in a comma or an operator");
        return;
    }
    sg_words_emit(r, t, SG_T_NUMBER);
    r->state = AT_PHRASE;
}

static void take(Reader *r, const SgToken *t)
{
    switch (t->raw) {
    case SG_RAW_COMMENT: break;
    case SG_RAW_LINE_END: take_line_end(r, t); break;
    case SG_RAW_WORD: take_word(r, t); break;
    case SG_RAW_NUMBER: take_number(r, t); break;
    case SG_RAW_TEXT: case SG_RAW_HEAD: case SG_RAW_MID: case SG_RAW_TAIL: take_text(r, t); break;
    case SG_RAW_RELATION: take_relation(r, t); break;
    case SG_RAW_OP: take_op(r, t); break;
    case SG_RAW_EOF:
        end_statement(r, t);
        if (r->depth) close_blocks(r, t, 0);
    }
}

/* Whether the token lies in what is left out: a block too deep, or the rest of a line whose kind is unknown. */
static bool is_dropped(Reader *r, const SgToken *t)
{
    if (r->dropped_blocks) {
        if (t->raw == SG_RAW_EOF) {
            r->dropped_blocks = 0;
            r->cut_off = true;
            return false;
        }
        if (is_op(t, '{')) r->dropped_blocks++;
        if (is_op(t, '}')) r->dropped_blocks--;
        return true;
    }
    bool stays = t->raw == SG_RAW_LINE_END || t->raw == SG_RAW_EOF || is_op(t, '{') || is_op(t, '}') || is_op(t, ';');
    if (!r->dropping || stays) return false;
    if (is_op(t, '(')) r->dropped_brackets++;
    if (is_op(t, ')') && r->dropped_brackets) r->dropped_brackets--;
    r->after_operator = t->raw == SG_RAW_RELATION || (t->raw == SG_RAW_OP && t->sym != ')' && t->sym != '(') || (t->raw == SG_RAW_WORD && infix_tag(r, t->sym));
    return true;
}

SgTagged sg_words(SgCompile *c, const SgTokens *raw)
{
    Reader r = { .c = c, .raw = raw, .kind = SG_KIND_COUNT, .astray = SG_KIND_COUNT, .state = AT_START };
    r.sym_and = sg_names_sym(&c->names, "and", 3);
    r.sym_or = sg_names_sym(&c->names, "or", 2);
    r.sym_not = sg_names_sym(&c->names, "not", 3);
    r.sym_before = sg_names_sym(&c->names, "before", 6);
    r.sym_beyond = sg_names_sym(&c->names, "beyond", 6);
    r.sym_sagitta = sg_names_sym(&c->names, "sagitta", 7);
    r.out.tokens.cap = raw->n + raw->n / 8 + 16;
    r.out.tokens.v = SG_ARRAY(c->arena, SgToken, r.out.tokens.cap);
    c->statement++;
    sg_words_emit(&r, &raw->v[0], 0);
    for (r.i = 1; r.i < raw->n; r.i++) {
        const SgToken *t = &raw->v[r.i];
        if (t->raw == SG_RAW_COMMENT || is_dropped(&r, t)) continue;
        r.was_after_operator = r.after_operator;
        if (t->raw != SG_RAW_LINE_END) r.after_operator = false;
        take(&r, t);
    }
    return r.out;
}
