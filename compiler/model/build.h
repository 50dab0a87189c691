/* Inside the model stage: what its files share. */
#ifndef SG_MODEL_BUILD_H
#define SG_MODEL_BUILD_H
#include "model/model.h"

typedef struct {
    SgCompile *c;
    SgModel *model;
    const SgScope *figure;         /* scope being read, NULL at file level */
    bool sheet;                    /* a text of a sheet is read: `version` is a word there */
    SgPhraseId phrase;             /* phrase whose value is read, SG_PHRASE_COUNT none: words of its own count there */
} SgReading;

SgExpr *sg_model_express(SgReading *r, const SgNode *n);
/* Phrases of a statement: known, once each, groups and compulsory ones as the catalogue says, in its order. */
void sg_model_phrases(SgReading *r, SgStatement *s, const SgNode *n);
bool sg_model_stands(SgReading *r, const SgNode *n, SgKind kind, uint8_t where);      /* false after a message */
SgStatement sg_model_head(SgReading *r, const SgNode *n, SgKind kind, int step);
const SgNode *sg_model_definition(const SgNode *n);
/* Makes f a copy of what the definition names, with its values. False: that figure is a copy itself and not read yet. */
bool sg_model_copy(SgReading *r, SgFigure *f, const SgNode *definition);
uint32_t sg_model_problems(const SgReading *r, const SgNode *sheet);                  /* how many figures its problems have */
uint32_t sg_model_parts(const SgNode *panel, const SgReading *r);                      /* how many parts a panel has */
void sg_model_panels(SgReading *r, const SgNode *const *panel, uint32_t n);
void sg_model_sheets(SgReading *r, const SgNode *const *sheet, uint32_t n);
void sg_model_symbols(SgReading *r, SgScope *scope);
/* Nodes of a graph are numbered symbol * SG_PARTS + part. need: of each node what it needs. */
enum { SG_PARTS = 3 };
typedef struct { const uint32_t *v; uint32_t n; } SgNeeds;
/* Fills scope->find from the needs of a first order. before: of each symbol that is a find, what must come before it. False: none. */
bool sg_model_finds(SgCompile *c, SgScope *scope, const SgNeeds *need, SgNeeds *before);
/* Fills scope->group from the needs of the last order. */
void sg_model_picks(SgCompile *c, SgScope *scope, const SgNeeds *need, bool in_file);
SgNeeds sg_model_needs_of(SgCompile *c, const SgScope *scope, const SgExpr *e, bool in_file);
void sg_model_order(SgCompile *c, SgScope *scope, bool in_file, const SgScope *file);     /* file: the file's scope, NULL for itself */
const SgSymbol *sg_model_symbol_of(const SgScope *scope, SgSym name, uint16_t file, uint32_t *index);     /* declared in that file */
/* What a name at file level is, seen from file `home`: its own, else that of a file it uses. *also: another of them declares it too. */
const SgSymbol *sg_model_seen(const SgModel *m, SgSym name, uint16_t home, uint32_t *index, const SgSymbol **also);
const SgSymbol *sg_model_symbol(const SgScope *scope, SgSym name, uint32_t *index);
void sg_model_uses(SgCompile *c, const SgScope *scope, const SgExpr *e, int step, const SgStep *steps);
#endif
