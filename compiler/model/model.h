/* model: names resolved, phrases checked against the catalogue, the order of evaluation. Nothing is computed.
   needs  a tree, the catalogue.
   gives  figures of statements with typed phrases, and for each scope its dependency graph in an order to evaluate it.
   never  knows optics. */
#ifndef SG_MODEL_H
#define SG_MODEL_H
#include "catalogue/catalogue.h"
#include "tree/tree.h"
#include "wordings/wordings.h"

typedef struct SgExpr SgExpr;
typedef enum {
    SG_E_NUMBER,       /* value, dim */
    SG_E_TEXT,         /* piece[], hole between: arg[i] follows piece[i]; format[i] */
    SG_E_SYMBOL,       /* symbol of scope (file or figure) */
    SG_E_AXIS, SG_E_INFINITY, SG_E_PI,
    SG_E_VERSION,      /* on a sheet: the letter of its version */
    SG_E_WORD,         /* a word of a phrase that takes words: sym */
    SG_E_PROPERTY,     /* sym of arg[0]; arg[1..] arguments */
    SG_E_CALL,         /* function, arguments */
    SG_E_POINT,        /* (x, y) */
    SG_E_BINARY, SG_E_NEGATE, SG_E_NOT, SG_E_CHAIN,      /* op as in the tree */
    SG_E_PLACE,        /* op b or y: distance arg[0], thing arg[1] */
    SG_E_RATIO,
    SG_E_POISON        /* already reported */
} SgExprOp;
typedef struct { double step; int decimals; SgUnit unit; bool given, figures; } SgHoleFormat;   /* step in canonical units; figures: step counts significant figures */
struct SgExpr {
    SgExprOp op;
    uint8_t sign;              /* BINARY, PLACE: the tree's op */
    const uint8_t *relation;   /* CHAIN: the relation before arg[i], i >= 1 */
    SgSpan at;
    double value; SgDim dim; bool nought;      /* nought: a literal 0, which fits any dimension */
    SgUnit unit;               /* of a literal as written, SG_UNIT_COUNT none */
    SgSym sym; SgSpan sym_at;  /* PROPERTY, WORD */
    bool in_file;              /* SYMBOL: of the file's scope, else of the figure's */
    uint32_t symbol;
    SgFunction function;
    SgExpr **arg; uint32_t nargs;
    SgStr *piece; SgHoleFormat *format;        /* TEXT: nargs + 1 pieces, markup kept */
};

typedef struct { SgPhraseId id; SgSpan at; SgExpr **value; uint32_t n; } SgPhrase;
typedef struct {
    SgKind kind;
    SgSym name; SgSpan name_at, at;            /* name SG_NO_SYM: none */
    SgSpan head_at;                            /* kind and name, where a message about the whole points */
    int step;                                  /* 0: stands outside the steps, so it is given; k: inside step k */
    SgPhrase *phrase; uint32_t nphrases;       /* in canonical order, one of each; presets are filled in by the solver's reader */
    SgExpr *definition;                        /* let: its value. BARE kinds: the first value */
    SgExpr **list; uint32_t nlist;             /* BARE kinds: all values before the first phrase */
    SgExpr *caption;                           /* the text standing alone, NULL none */
    bool damaged, parameter, nameless;                 /* parameter: of the figure, read as a let. nameless: one of its own
                                                  words stands where its name should, and is reported */
} SgStatement;
const SgPhrase *sg_phrase(const SgStatement *s, SgPhraseId id);       /* NULL when not written */

/* One symbol a name (and one for each unnamed ray): lets, parameters and things. */
typedef struct { SgSym name; SgSpan at; SgKind kind; uint32_t statement; bool parameter; } SgSymbol;
typedef struct { uint32_t symbol; SgPart part; } SgGraphNode;         /* lets have SG_PART_SHAPE only */
/* A find: what is worked out again for each value that is tried, in an order to do so; all else its condition needs stands
   before it in the scope's order. */
typedef struct { uint32_t symbol; const SgGraphNode *trial; uint32_t ntrial; } SgFind;
/* Picks that some demand ties together (or one that none does). once: what the demands need and no pick changes;
   trial: what is worked out again for each combination. */
typedef struct {
    const uint32_t *pick; uint32_t npicks;         /* symbols, by name */
    const uint32_t *demand; uint32_t ndemands;     /* statements: require and differ */
    const SgGraphNode *once, *trial; uint32_t nonce, ntrial;
} SgPickGroup;
typedef struct {
    SgSymbol *symbol; uint32_t nsymbols;
    uint32_t *slot; uint32_t nslots;           /* look-up by name */
    SgStatement *statement; uint32_t nstatements;
    const SgFind *find; uint32_t nfinds;
    const SgPickGroup *group; uint32_t ngroups;    /* of picks, by the name of their first */
    SgGraphNode *order; uint32_t norder;       /* every node after all it needs; nodes of a circle are left out (and reported) */
    bool circle;                               /* such nodes there are: its things are not whole */
} SgScope;

typedef struct { SgExpr *caption; SgSpan at; SgSym name; } SgStep;
typedef struct { uint32_t symbol; SgExpr *value; SgSpan at; } SgBinding;   /* a parameter's value, told in the file's scope */
typedef struct {
    SgSym name; SgSpan at;
    SgSpan whole;                              /* from its first word to its end */
    SgExpr *title;                             /* NULL none */
    const SgScope *scope;                      /* shared by copies */
    SgStep *step; uint32_t nsteps;             /* shared by copies */
    SgBinding *binding; uint32_t nbindings;    /* of a copy, on top of the original's parameters */
    uint16_t home;                             /* file its statements stand in: its names and settings count */
    uint32_t original;                         /* index of the figure it copies, itself otherwise */
    SgStatement *model, *frame;                /* settings, NULL none */
    bool on_sheet;                             /* of a problem: students construct on it */
} SgFigure;
enum { SG_NO_FIGURE = -1 };
typedef struct {
    SgStatement statement;                     /* its phrases; caption: the question, told in the figure's scope */
    int figure;                                /* a copy behind the figures of the model, or SG_NO_FIGURE */
    SgSpan figure_at;                          /* what stands behind its = sign */
} SgProblem;
typedef struct {
    SgStatement statement;                     /* its phrases; caption: the title */
    SgProblem *problem; uint32_t nproblems;
    const SgStatement *convention;             /* NULL none */
} SgSheet;
typedef struct { SgStatement statement; uint32_t figure; } SgPanelPart;        /* figure: a copy behind those of problems; caption: told in its scope */
typedef struct { SgStatement statement; SgPanelPart *part; uint32_t nparts; } SgPanel;     /* caption: the title */
typedef struct { SgSpan at; const SgWording *texts; } SgOwnWording;       /* at: of the statement that names the file */
/* uses: numbers of the files it uses. wording: the author's own that it names, read. */
typedef struct { const SgNode *tree; const uint16_t *uses; uint32_t nuses; const SgOwnWording *wording; uint32_t nwordings; } SgModelFile;
typedef struct {
    SgScope file;                              /* of all files; a symbol's place tells which */
    SgFigure *figure; uint32_t nfigures;       /* of the script itself */
    uint32_t nforeign;                         /* behind them: figures of used files, to be copied and not to be drawn */
    uint32_t nproblems;                        /* and behind those: the figures of problems, copies each of one before */
    uint32_t nparts;                           /* and behind those: the figures of the parts of panels, copies too */
    SgSheet *sheet; uint32_t nsheets;          /* of the script itself */
    SgPanel *panel; uint32_t npanels;          /* of the script itself */
    const SgModelFile *source; uint32_t nsources;
    bool english;              /* whatever its wording says: for what programs read */
} SgModel;

bool sg_is_value_kind(SgKind kind);                                    /* let, find and pick: a name for a value */

SgModel *sg_model(SgCompile *c, const SgNode *tree);                   /* of a script that uses no other */
/* file[0] is the script itself; file k has the spans of source k. */
SgModel *sg_model_files(SgCompile *c, const SgModelFile *file, uint32_t nfiles);
/* An expression typed on the command line, resolved in a figure: for ask and --with. NULL after a message. */
SgExpr *sg_model_expression(SgCompile *c, const SgModel *m, const SgFigure *figure, const SgNode *expression);
enum { SG_MAX_FIGURES = 2000, SG_MAX_STEPS = 200, SG_MAX_FINDS = 64, SG_MAX_PROBLEMS = 200, SG_MAX_PARTS = 60 };      /* SG_MAX_STATEMENTS stands in words.h */
#endif
