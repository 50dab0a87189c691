/* Scripts made up from the catalogue, with right syntax and no more sense than chance gives.
   in: two seeds: one for what is said, one for how it is laid out. out: text.
   never: the same content for two layouts differs in more than blanks, line ends, `;` and the order of phrases. */
#ifndef TEST_GEN_H
#define TEST_GEN_H
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

typedef struct { char *v; size_t n, cap; } GenText;
typedef struct { uint64_t content, layout; bool messy; GenText out; } Gen;

void gen_begin(Gen *g, uint64_t content, uint64_t layout);     /* layout 0: neat */
uint32_t gen_below(uint64_t *state, uint32_t n);               /* 0 .. n-1; advances the state */
void gen_script(Gen *g);                                       /* comments, lets, figures */
void gen_statement(Gen *g);                                    /* one of those that stand in a figure, with its line end */
void gen_phrase(Gen *g);                                       /* a phrase of any kind and its value */
void gen_value(Gen *g);                                        /* an expression of any sort */
void gen_free(Gen *g);
#endif
