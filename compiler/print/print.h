/* print: pages to PDF and PNG, through cairo. Nothing else of the compiler needs cairo: the driver is handed an
   SgPrinter, and a program that never names sg_printer links without it.
   needs  pages as layout made them.
   gives  bytes in a buffer, the same for the same build and input; no memory of its own is left after a jump of the arena.
   never  asks a font server, reads the clock or the environment, or adds geometry. */
#ifndef SG_PRINT_H
#define SG_PRINT_H
#include "layout/layout.h"

enum {
    SG_PRINT_DPI = 150, SG_PRINT_LEAST_DPI = 18, SG_PRINT_MOST_DPI = 2400,     /* PNG: pixels an inch */
    SG_PRINT_MOST_SIDE = 32767, SG_PRINT_MOST_PIXELS = 64 * 1024 * 1024,       /* PNG: the first is cairo's own limit */
    SG_PRINT_MOST_BYTES = 64 * 1024 * 1024
};
typedef enum {
    SG_PRINT_DONE,
    SG_PRINT_NO_MEMORY,
    SG_PRINT_LARGE,            /* more than the limits above */
    SG_PRINT_FAILED            /* `why` says what cairo or libpng found wrong */
} SgPrintState;
typedef struct { SgPrintState state; const char *why; } SgPrinted;

typedef struct {
    SgStr title, creator;      /* of the document */
    int64_t made_s;            /* its date, seconds from the start of 1970, UTC */
    int step;                  /* steps 0..step only; -1 all */
    bool final;                /* one page a figure, as it stands after the last step, without captions */
} SgPdfOptions;
typedef struct {
    uint32_t dpi;
    int step;                  /* as it stands after that step; -1 the last */
} SgPngOptions;

typedef struct SgPrinter SgPrinter;
struct SgPrinter {
    /* All figures in order: a page a step at true size with its caption below, a question as a page of its own before its step. */
    SgPrinted (*pdf)(const SgPage *const *page, uint32_t npages, const SgPdfOptions *options, SgBuf *out);
    SgPrinted (*png)(const SgPage *page, const SgPngOptions *options, SgBuf *out);
};
extern const SgPrinter sg_printer;
/* Pixels along w_mm or h_mm of a page. */
uint32_t sg_print_pixels(double mm, uint32_t dpi);
#endif
