/* What a figure in print owes, as rules that can be checked on what is drawn.
   in: a scene, the page the layout made of it, and the page's SVG as the independent reader sees it. out: faults in words, by rule.
   never: reads the compiler's table of styles: every number here is the one the figure must show. Values: common practice of the
   trade. */
#ifndef TEST_FIGURE_RULES_H
#define TEST_FIGURE_RULES_H
#include "layout/layout.h"
#include "support/figure.h"

typedef struct { SgPoint a, b; double half; uint32_t item; } Ink;                        /* a == b: a disc */
typedef struct { double x0, y0, x1, y1; uint32_t item; } Box;
typedef struct {
    const char *who;
    const SgScene *scene;
    const SgPage *page;
    const SvgDrawing *svg;
    bool plain;                /* in the usual widths, sizes and colours; other styles owe only what holds in all */
    bool nearly;               /* drawn by pencil and ruler: its rays meet only nearly */
    bool demo;                 /* of the demos: owes a page's width */
    bool part;                 /* of a script that sets its figures beside each other: may be as narrow as a column */
    Ink *ink; uint32_t nink;
    Box *words; uint32_t nwords;
    const char *rule;          /* the one being checked */
    unsigned faults;
    bool quiet;
} Figure;
typedef struct { const char *id, *says; void (*check)(Figure *); } Rule;
extern const Rule light_rules[], page_rules[];         /* of light, things and words; of measures and the page */
extern const unsigned nlight_rules, npage_rules;

void figure_open(Figure *f);                   /* fills ink and words from page */
void figure_close(Figure *f);
void figure_fault(Figure *f, const char *format, ...) __attribute__((format(printf, 2, 3)));
unsigned figure_rule(Figure *f, const Rule *rule);     /* its faults */

double gap_of_points(SgPoint a, SgPoint b);
double gap_of_point(SgPoint a, SgPoint b, SgPoint p);                  /* to the piece ab */
double gap_of_pieces(SgPoint a, SgPoint b, SgPoint p, SgPoint q);      /* 0 where they cross */
double gap_of_box(const Box *box, SgPoint a, SgPoint b);               /* 0 where they meet */
double gap_of_boxes(const Box *a, const Box *b);                       /* across or along, the larger; negative when they overlap */
SgPoint figure_at(const Figure *f, SgPoint scene);                     /* on the page */
bool figure_is_leader(const Figure *f, const Box *words, const SgItem *it);
/* Words and strokes too near each other, as the rules on words count them: those that touch, and those under `clear_mm`. */
void figure_crowding(const Figure *f, double clear_mm, unsigned *touch, unsigned *close);
#endif
