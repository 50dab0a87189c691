/* Part of print: what a PDF tells those who have it read aloud, and how viewers show and print it. cairo cannot say these.
   needs  a PDF with tags, whole in memory; the text of each figure in their order.
   gives  the same PDF with its language and those texts, its title shown, printed at its own size unless told otherwise.
   never  touches what is drawn, prints, or allocates of the arena. */
#ifndef SG_READING_H
#define SG_READING_H
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* Languages are tags of BCP 47; texts are UTF-8. */
typedef struct { const char *text, *language; uint32_t page; } SgTold;         /* page: counted from 0 */
/* told: one for each tag Figure, in the order drawn. cairo leaves out one that nothing was drawn in; a page has no other then. */
typedef struct { const char *language; const SgTold *told; uint32_t ntold; } SgAloud;
typedef bool SgTakeBytes(void *with, const unsigned char *bytes, size_t n);
/* Gives the finished bytes to `take` bit by bit; they are worth nothing when it went wrong. NULL when all is well, else what did. */
const char *sg_print_reading(const unsigned char *pdf, size_t n, const SgAloud *reading, SgTakeBytes *take, void *with);
#endif
