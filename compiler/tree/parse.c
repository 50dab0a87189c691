/* Runs the parser over tagged tokens, and says what a syntax error is. In: tagged tokens. Out: a tree, always; one message a
   mistake, in words of the script and never in names of tokens. */
#include "tree/parse.h"

#include "script.h"

/* "`focal`", or "the end of the line" */
static SgStr what_is(SgParse *p, const SgToken *t)
{
    if (t->tag == SG_T_END || t->tag == 0 || t->at.end == t->at.start) return SG_LIT("the end of the line");
    if (t->tag == SG_T_MID || t->tag == SG_T_TAIL) return SG_LIT("`}`");
    SgStr words = sg_source_words(p->c, t->at);
    return sg_format(p->c->arena, "`%.*s`", (int)words.n, words.s);
}

static void say_value_missing(SgParse *p, const SgToken *t, SgStr what)
{
    const SgToken *before = &p->token[p->at - 1];
    SgStr sign = sg_source_words(p->c, before->at);
    bool line_end = t->tag == SG_T_END;
    if (before->tag == SG_T_HEAD || before->tag == SG_T_MID)
        sg_say_ranked(p->c, SG_GUESS, SG_MSG_value_missing, t->at, "a value is missing between { and %.*s; a { that is to be printed is written \\{", (int)what.n, what.s);
    else if (before->tag == SG_T_END || before->tag == SG_T_LBRACE || before->tag == 0 || !sign.n)
        sg_say_ranked(p->c, SG_GUESS, SG_MSG_value_missing, t->at, "a value is missing before %.*s", (int)what.n, what.s);
    else
        sg_say_ranked(p->c, SG_GUESS, SG_MSG_value_missing, t->at, "`%.*s` needs a value after it, but here %s %.*s", (int)sign.n, sign.s,
                      line_end ? "comes" : "stands", (int)what.n, what.s);
}

static bool begins_value(const SgToken *t)
{
    return t->tag == SG_T_NUMBER || t->tag == SG_T_NAME || t->tag == SG_T_TEXT || t->tag == SG_T_HEAD || t->tag == SG_T_LPAR;
}

void sg_parse_error(SgParse *p, SgExpected expected)
{
    const SgToken *t = &p->token[p->at], *before = &p->token[p->at - 1];
    SgStr what = what_is(p, t), word = sg_source_words(p->c, before->at);
    bool outside = t->tag == SG_T_END || t->tag == SG_T_FLAG || t->tag == SG_T_WORD || t->tag == SG_T_WHERE || t->tag == SG_T_LBRACE;
    p->c->statement = t->statement;
    if (expected.value)
        say_value_missing(p, t, what);
    else if (t->tag == SG_T_RPAR)
        sg_say_ranked(p->c, SG_GUESS, SG_MSG_bracket_extra, t->at, "this ) closes nothing; take it away, or put in the ( that it should close");
    else if (expected.closing && outside)
        sg_say_ranked(p->c, SG_GUESS, SG_MSG_bracket_missing, t->at, "a ) is missing before %.*s", (int)what.n, what.s);
    else if (before->tag == SG_T_FLAG && begins_value(t))
        sg_say_ranked(p->c, SG_GUESS, SG_MSG_word_needs_no_value, t->at, "`%.*s` takes no value; take %.*s away, or write its word before it", (int)word.n, word.s, (int)what.n, what.s);
    else if (t->tag == SG_T_END)
        sg_say_ranked(p->c, SG_GUESS, SG_MSG_unexpected, t->at, "something is missing after `%.*s`; the line ends here", (int)word.n, word.s);
    else
        sg_say_ranked(p->c, SG_GUESS, SG_MSG_unexpected, t->at, "%.*s does not belong here; take it away, or write %s before it", (int)what.n, what.s,
                      begins_value(t) ? "the word or sign it belongs to" : "the value it needs");
}

void sg_parse_alone(SgParse *p, SgSpan at)
{
    const SgToken *t = &p->token[p->at];
    p->c->statement = 0;
    sg_say_ranked(p->c, SG_GUESS, SG_MSG_block_alone, (SgSpan){ at.start, at.start + 1, at.file }, "a block needs a statement before it; write one, or take the { and its } away");
    p->c->statement = t->statement;
}

void sg_parse_stray(SgParse *p, SgSpan at)
{
    p->c->statement = 0;
    sg_say_ranked(p->c, SG_BRACE, SG_MSG_block_extra, at, "this } closes nothing; take it away, or put in the { that it should close");
}

void sg_parse_too_deep(SgParse *p, SgSpan at)
{
    p->c->statement = 0;
    sg_say(p->c, SG_MSG_limit, at, "this is nested too deeply; name a part of it with `let`");
}

SgNode *sg_tree(SgCompile *c, const SgTagged *tagged)
{
    uint32_t statement = c->statement;
    SgParse p = { .c = c, .token = tagged->tokens.v, .ntokens = tagged->tokens.n, .too_tall = UINT32_MAX };
    if (sg_scriptparse(&p) != 0 || !p.tree) {
        p.tree = sg_node(&p, SG_N_FILE, p.token[0].at);
        p.tree->damaged = true;
    }
    c->statement = statement;
    return p.tree;
}
