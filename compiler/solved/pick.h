/* Inside the solved stage: what the search of picks and its account of a failure share. */
#ifndef SG_PICK_H
#define SG_PICK_H
#include "solved/value.h"

enum { UNTRIED, FITS, UNFIT };
typedef struct {
    uint32_t symbol, n;
    double *value;             /* candidates, canonical */
    SgStr *text;               /* "6.5 cm": what is hashed, in the unit the pick is written in */
    uint16_t *order;           /* of each version: its candidates by hash */
    SgDim dim; SgUnit unit;
} Pick;
typedef struct {
    const SgPickGroup *from;
    Pick *pick; uint32_t npicks;
    uint32_t total;            /* combinations, the first pick the most significant */
    const SgStatement **demand;
    uint32_t *bound;           /* of each demand: least and most versions */
    uint32_t ndiffer;          /* values told to differ, of all demands */
    uint8_t *known;            /* of each combination (and version, where the file's values change): UNTRIED, FITS, UNFIT */
    uint8_t *holds;            /* of each: every demand, and behind them whether the figure has no error */
    double *told;
    SgThing *kept;
    uint32_t ready;            /* version + 1 for which `once` is worked out; 0 none */
} Group;
typedef struct {
    SgSolved *s;
    const SgScope *scope; bool in_file;
    uint32_t versions;
    SgThing **file_thing;      /* of each version, when they differ; NULL else */
    Group *group; uint32_t ngroups;
    uint32_t *taken;           /* of each version and group: its combination */
} Choice;

void sg_pick_set(Choice *ch, const Group *g, uint32_t combination);
void sg_pick_try(Choice *ch, Group *g, uint32_t version, uint32_t combination);
bool sg_pick_holds(const Choice *ch, const Group *g, uint32_t version, uint32_t combination, uint32_t demand);
bool sg_pick_alike(double a, double b);      /* as `differ` sees it */
void sg_pick_explain(Choice *ch);      /* says why the search found nothing */
#endif
