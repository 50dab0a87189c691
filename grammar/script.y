/* Statements, phrases, expressions. Knows no kind and no phrase: the words stage has tagged every word.
   Each rule calls one constructor; what they do stands in compiler/tree. The stack is fixed and lies on the C stack. */
%require "3.8"
%header
%define api.pure full
%define api.prefix {sg_script}
%define api.token.prefix {SG_T_}
%define api.token.raw
%define api.location.type {SgSpan}
%define api.header.include {"script.h"}
%define parse.error custom
%define parse.lac full
%locations
%expect 0
%param {SgParse *p}
%code requires { #include "tree/parse.h" }
%code {
#define YYINITDEPTH 2000
#define YYMAXDEPTH YYINITDEPTH
/* The look-ahead check keeps a short stack of its own; it must not reach for the heap, so a longer one is refused. */
#define YYMALLOC(bytes) NULL
#define YYFREE(block) ((void)(block))
#define YYLLOC_DEFAULT(Cur, Rhs, N) \
    ((Cur) = (N) ? (SgSpan){ YYRHSLOC(Rhs, 1).start, YYRHSLOC(Rhs, N).end, YYRHSLOC(Rhs, N).file } \
                 : (SgSpan){ YYRHSLOC(Rhs, 0).end, YYRHSLOC(Rhs, 0).end, YYRHSLOC(Rhs, 0).file })
static int sg_scriptlex(YYSTYPE *value, YYLTYPE *at, SgParse *p);
static void sg_scripterror(YYLTYPE *at, SgParse *p, const char *message);
}
%union { SgNode *n; const SgToken *t; }
%token <t> KIND KINDBARE KINDCOND BADKIND NAME FLAG WORD WHERE BADWORD BADWORDV NUMBER TEXT HEAD MID TAIL REL EQ "="
%token AND OR NOT BEFORE BEYOND END
       PLUS "+" MINUS "-" STAR "*" SLASH "/" CARET "^" LPAR "(" RPAR ")" COMMA "," DOT "." COLON ":" LBRACE "{" RBRACE "}"
%nterm <n> items item line block head parameters phrases some phrase badphrase values value
           condition conj neg rel chain place sum term unary power postfix atom args text holes hole
%nterm <t> relation
%%
file:     items                                   { p->tree = $1; }
        | file stray items                        { p->tree = sg_node_add(p->tree, $3); }
stray:    "}"                                     { sg_parse_stray(p, @1); yyerrok; }

items:    %empty                                  { $$ = sg_node(p, SG_N_FILE, @$); }
        | items item                              { $$ = sg_node_add($1, $2); yyerrok; }

item:     head END
        | head block                              { $$ = sg_node_block($1, $2, @$); }
        | line END
        | line block                              { $$ = sg_node_alone(p, $1, $2, @2); }
        | block                                   { $$ = sg_node_alone(p, $1, NULL, @1); }
        | error END                               { $$ = sg_node_bad(p, @$); }
        | error block                             { $$ = sg_node_front($2, sg_node_bad(p, @1)); }

line:     phrase                                  { $$ = sg_node_of(p, SG_N_LINE, $1, @$); yyerrok; }
        | badphrase                               { $$ = sg_node_of(p, SG_N_LINE, $1, @$); }
        | line phrase                             { $$ = sg_node_add($1, $2); yyerrok; }
        | line badphrase                          { $$ = sg_node_add($1, $2); }
        | line error                              { $$ = sg_node_add($1, sg_node_bad(p, @2)); }

block:    "{" items "}"                           { $$ = $2; yyerrok; }

head:     KIND phrases                            { $$ = sg_node_statement(p, $1, NULL, NULL, $2, @$); }
        | KIND NAME phrases                       { $$ = sg_node_statement(p, $1, $2, NULL, $3, @$); }
        | KIND NAME parameters phrases            { $$ = sg_node_statement(p, $1, $2, $3, $4, @$); }
        | KIND NAME "=" condition phrases         { $$ = sg_node_statement(p, $1, $2, sg_node_of(p, SG_N_DEFINITION, $4, @4), $5, @$); }
        | KIND NAME "=" error phrases             { $$ = sg_node_statement(p, $1, $2, sg_node_bad(p, @4), $5, @$); }
        | KINDBARE values phrases                 { $$ = sg_node_statement(p, $1, NULL, $2, $3, @$); }
        | KINDBARE error phrases                  { $$ = sg_node_statement(p, $1, NULL, sg_node_bad(p, @2), $3, @$); }
        | KINDCOND condition phrases              { $$ = sg_node_statement(p, $1, NULL, sg_node_of(p, SG_N_WHERE, $2, @2), $3, @$); }
        | KINDCOND error phrases                  { $$ = sg_node_statement(p, $1, NULL, sg_node_bad(p, @2), $3, @$); }
        | BADKIND                                 { $$ = sg_node_bad(p, @$); }

parameters: "(" args ")"                          { $$ = sg_node_of(p, SG_N_PARAMETERS, $2, @$); }
        | "(" error                               { $$ = sg_node_bad(p, @$); }

phrases:  %empty                                  { $$ = sg_node(p, SG_N_FILE, @$); }
        | some
some:     phrase                                  { $$ = sg_node_of(p, SG_N_FILE, $1, @$); yyerrok; }
        | badphrase                               { $$ = sg_node_of(p, SG_N_FILE, $1, @$); }
        | error                                   { $$ = sg_node_of(p, SG_N_FILE, sg_node_bad(p, @1), @$); }
        | some phrase                             { $$ = sg_node_add($1, $2); yyerrok; }
        | some badphrase                          { $$ = sg_node_add($1, $2); }
        | some error                              { $$ = sg_node_add($1, sg_node_bad(p, @2)); }

phrase:   FLAG                                    { $$ = sg_node_word(p, SG_N_FLAG, $1, NULL, @$); }
        | WORD values                             { $$ = sg_node_word(p, SG_N_WORD, $1, $2, @$); }
        | WHERE condition                         { $$ = sg_node_word(p, SG_N_WHERE, $1, $2, @$); }
        | text                                    { $$ = sg_node_of(p, SG_N_CAPTION, $1, @$); }
        | BADWORD                                 { $$ = sg_node_word(p, SG_N_BADWORD, $1, NULL, @$); }
        | BADWORDV values                         { $$ = sg_node_word(p, SG_N_BADWORD, $1, $2, @$); }

badphrase: WORD error                             { $$ = sg_node_word(p, SG_N_BAD, $1, NULL, @$); }
        | WHERE error                             { $$ = sg_node_word(p, SG_N_BAD, $1, NULL, @$); }
        | BADWORDV error                          { $$ = sg_node_word(p, SG_N_BAD, $1, NULL, @$); }

values:   value                                   { $$ = sg_node_of(p, SG_N_FILE, $1, @$); }
        | values "," value                        { $$ = sg_node_add($1, $3); }
value:    place
        | sum ":" sum                             { $$ = sg_node_pair(p, SG_N_RATIO, ':', $1, $3, @$); }

condition: conj
        | condition OR conj                       { $$ = sg_node_pair(p, SG_N_BINARY, 'o', $1, $3, @$); }
conj:     neg
        | conj AND neg                            { $$ = sg_node_pair(p, SG_N_BINARY, 'a', $1, $3, @$); }
neg:      rel
        | NOT neg                                 { $$ = sg_node_of(p, SG_N_NOT, $2, @$); }
rel:      place
        | chain
chain:    place relation place                    { $$ = sg_node_chain(p, $1, $2, $3, @$); }
        | chain relation place                    { $$ = sg_node_chain_on(p, $1, $2, $3, @$); }
relation: REL
        | "="

place:    sum
        | sum BEFORE postfix                      { $$ = sg_node_pair(p, SG_N_PLACE, 'b', $1, $3, @$); }
        | sum BEYOND postfix                      { $$ = sg_node_pair(p, SG_N_PLACE, 'y', $1, $3, @$); }
sum:      term
        | sum "+" term                            { $$ = sg_node_pair(p, SG_N_BINARY, '+', $1, $3, @$); }
        | sum "-" term                            { $$ = sg_node_pair(p, SG_N_BINARY, '-', $1, $3, @$); }
term:     unary
        | term "*" unary                          { $$ = sg_node_pair(p, SG_N_BINARY, '*', $1, $3, @$); }
        | term "/" unary                          { $$ = sg_node_pair(p, SG_N_BINARY, '/', $1, $3, @$); }
unary:    power
        | "-" unary                               { $$ = sg_node_of(p, SG_N_NEGATE, $2, @$); }
power:    postfix
        | postfix "^" unary                       { $$ = sg_node_pair(p, SG_N_BINARY, '^', $1, $3, @$); }
postfix:  atom
        | postfix "." NAME                        { $$ = sg_node_property(p, $1, $3, NULL, @$); }
        | postfix "." NAME "(" args ")"           { $$ = sg_node_property(p, $1, $3, $5, @$); }
atom:     NUMBER                                  { $$ = sg_node_number(p, $1); }
        | NAME                                    { $$ = sg_node_name(p, $1); }
        | NAME "(" args ")"                       { $$ = sg_node_call(p, $1, $3, @$); }
        | "(" condition ")"                       { $$ = $2; }
        | "(" condition "," condition ")"         { $$ = sg_node_pair(p, SG_N_POINT, ',', $2, $4, @$); }
        | text
args:     condition                               { $$ = sg_node_of(p, SG_N_FILE, $1, @$); }
        | args "," condition                      { $$ = sg_node_add($1, $3); }

text:     TEXT                                    { $$ = sg_node_text(p, $1, NULL, NULL, @$); }
        | HEAD holes TAIL                         { $$ = sg_node_text(p, $1, $2, $3, @$); }
holes:    hole                                    { $$ = sg_node_of(p, SG_N_FILE, $1, @$); }
        | holes MID hole                          { $$ = sg_node_add(sg_node_add($1, sg_node_piece(p, $2)), $3); }
hole:     condition                               { $$ = sg_node_of(p, SG_N_HOLE, $1, @$); }
        | condition ":" NUMBER                    { $$ = sg_node_add(sg_node_of(p, SG_N_HOLE, $1, @$), sg_node_step(p, $3)); }
        | condition ":" NUMBER NAME               { $$ = sg_node_add(sg_node_add(sg_node_of(p, SG_N_HOLE, $1, @$), sg_node_step(p, $3)), sg_node_name(p, $4)); }
        | error                                   { $$ = sg_node_bad(p, @$); }
%%
static int sg_scriptlex(YYSTYPE *value, YYLTYPE *at, SgParse *p)
{
    while (p->at + 1 < p->ntokens && p->token[p->at + 1].tag == 0) p->at++;
    if (p->at + 1 == p->ntokens) return SG_T_YYEOF;
    value->t = &p->token[++p->at];
    *at = value->t->at;
    return value->t->tag;
}

static int yyreport_syntax_error(const yypcontext_t *context, SgParse *p)
{
    SgExpected expected = { false, false, false };
    yysymbol_kind_t symbol[YYNTOKENS];
    int n = yypcontext_expected_tokens(context, symbol, YYNTOKENS);
    for (int i = 0; i < n; i++) {
        expected.value |= symbol[i] == YYSYMBOL_NUMBER;
        expected.closing |= symbol[i] == YYSYMBOL_RPAR;
        expected.end |= symbol[i] == YYSYMBOL_END;
    }
    sg_parse_error(p, expected);
    return 0;
}

static void sg_scripterror(YYLTYPE *at, SgParse *p, const char *message)
{
    (void)message;      /* only said when the stack is full */
    sg_parse_too_deep(p, *at);
}
