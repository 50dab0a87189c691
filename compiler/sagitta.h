/* Sagitta: the whole compiler behind one call. One job in, one result out.
   No state outlives a result; nothing here prints, exits, opens a file, or reads the clock, the locale or the environment,
   so it may be called from any number of threads at once. */
#ifndef SAGITTA_H
#define SAGITTA_H
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#define SG_VERSION "0.1.0"

typedef enum {
    SG_DONE = 0,
    SG_SCRIPT_WRONG = 1,       /* the messages say where and how to mend it */
    SG_COMMAND_WRONG = 2,      /* the job asks for what the script has not got: a figure, a parameter, a step */
    SG_MACHINE_FAILED = 3      /* memory ran out */
} SgStatus;

typedef enum {
    SG_JOB_CHECK,              /* messages only; every figure is solved and laid out */
    SG_JOB_DRAW,               /* one product a figure, as `form` says */
    SG_JOB_SOLVE,              /* one product: the solved quantities of the figures, as a table or JSON */
    SG_JOB_ASK,                /* one product: the value of `expression` and a line end */
    SG_JOB_ANSWERS,            /* one product: the answers of a sheet, all versions, as a table, CSV or JSON */
    SG_JOB_TIDY,               /* one product: the script in its one layout; for a script whose syntax is right */
    SG_JOB_EXPAND,             /* one product: the script with every `construct` written out as steps */
    SG_JOB_NOTES,              /* one product: the speaker's notes of the figures, an HTML page to be printed */
    SG_JOB_SLIDES,             /* one product: the figures as one HTML page of slides */
    SG_JOB_PRESENTATION,       /* an OpenDocument presentation of the figures, a product a part of its package, to be packed in this order */
    SG_JOB_WORDS,              /* one product: the language's words, as `words` says; takes no script */
    SG_JOB_COUNT
} SgJobKind;
typedef enum { SG_SHEET_GIVEN, SG_SHEET_KEY, SG_SHEET_OVERLAY } SgSheetPart;
typedef enum { SG_FORM_SVG, SG_FORM_PDF, SG_FORM_PNG } SgDrawForm;
typedef enum { SG_WORDS_TEXT, SG_WORDS_JSON, SG_WORDS_MARKDOWN, SG_WORDS_DICTIONARY, SG_WORDS_MESSAGES } SgWordsForm;

/* A value given to a figure's parameter: any expression of the language. */
typedef struct { const char *name, *value; } SgSetting;

/* How a script's `use` reaches other files; the compiler itself opens none. path: below the root folder, with / between its
   parts and no part "." or "..". The bytes stay until sg_compile returns; device and number tell whether two are one file. */
typedef enum { SG_READ_DONE, SG_READ_ABSENT, SG_READ_FORBIDDEN, SG_READ_FAILED } SgRead;     /* FORBIDDEN: a link, or no regular file */
typedef struct { const char *bytes; size_t length; uint64_t device, number; } SgFile;
typedef SgRead SgReader(void *with, const char *path, SgFile *file);

/* All texts are UTF-8 and zero-ended unless a length stands beside them; they need to live only as long as the call. */
typedef struct {
    SgJobKind kind;
    const char *path;          /* what messages call the script; "-" reads as standard input */
    const char *script;        /* its bytes, checked here: at most SG_SCRIPT_LIMIT of them */
    size_t script_length;
    SgReader *read; void *read_with;   /* NULL: the script can use no other file */
    const char *root;          /* put before the paths of used files in messages: "" or "scripts/"; NULL as "" */
    const char *place;         /* the script's own path below the root; NULL: it lies in the root itself */
    const SgFile *self;        /* the script's device and number, for circles; NULL unknown */
    const char *figure;        /* the one wanted; NULL: the only one there is, or every one where `every` says so */
    bool every;                /* DRAW: with no figure named, draw all (CHECK and SOLVE always take all) */
    const SgSetting *with; uint32_t nwith;
    uint32_t set;              /* DRAW, SOLVE, ASK, CHECK, EXPAND: the version whose numbers picks take; 0 is A */
    const char *sheet;         /* ANSWERS, DRAW: the one wanted; NULL: the only one there is. A PDF of a script with a sheet is the sheet */
    SgSheetPart part;          /* DRAW of a sheet */
    bool one_set;              /* DRAW of a sheet: only the version `set`; else all */
    bool csv;                  /* ANSWERS; json likewise */
    const char *mistake;       /* DRAW: a mistake of the figure that is drawn into it; NULL: none */
    const char *seed;          /* any text, for other numbers; NULL: none */
    const char *expression;    /* ASK */
    bool stop_at_step;         /* DRAW: show the givens and steps 1..step only */
    uint32_t step;
    const char *style;         /* DRAW: the style to draw in, whatever the script sets; NULL its own */
    bool strip;                /* DRAW: the steps of a figure beside each other, as one still picture */
    bool transparent;          /* DRAW: nothing is painted behind figures */
    bool frames;               /* DRAW of SVG or PNG: a still product of each figure for what is given and for each step */
    bool still;                /* DRAW: no script, style or motion in the SVG */
    bool narrow;               /* SLIDES, PRESENTATION: 4:3, else 16:9 */
    SgDrawForm form;               /* DRAW: PDF is one product, all figures with a page a step; the others are one a figure */
    const struct SgPrinter *printer;   /* DRAW of PDF or PNG: what makes them (print/print.h); NULL otherwise */
    bool each;                 /* DRAW of PDF, SLIDES, PRESENTATION: a product (or its parts) a figure, and never a sheet nobody asked for */
    bool final;                /* PDF: a page a figure, as it stands at last, without captions */
    int64_t made_s;            /* PDF: its date, in seconds from the start of 1970 */
    uint32_t dpi;              /* PNG: pixels an inch, 0 for 150 */
    bool json;                 /* SOLVE */
    SgWordsForm words;         /* WORDS */
    bool strict;               /* warnings count as mistakes: status 1 and no product */
} SgJob;

enum { SG_SCRIPT_LIMIT = 8 * 1024 * 1024 };

typedef struct {
    const char *figure;        /* its name; "" of all figures, and for SOLVE, NOTES, TIDY, EXPAND and WORDS */
    const char *bytes; size_t length;
    /* Of a figure that was drawn: */
    const char *part;                  /* of PRESENTATION: its part's name; NULL else. Of `each` figure the last part has the facts */
    const char *frame;                 /* of `frames`: "-0", "-1" and so on, what stands behind a file's name; NULL else */
    const char *title, *brief, *describe;      /* plain text, as far as the drawing is shown; "" none. brief: at most 150 characters */
    double width_mm, height_mm;
    uint32_t steps;
    const char *const *face; uint32_t nfaces;      /* names of the faces its words are set in */
    const uint32_t *rgb; uint32_t nrgb;            /* its colours, ascending */
} SgProduct;

typedef struct {
    SgStatus status;
    const char *messages; size_t messages_length;      /* for standard error; 0 bytes when there is nothing to say */
    uint32_t errors, warnings;
    const SgProduct *product; uint32_t nproducts;       /* none unless status is SG_DONE; figures in the script's order */
    void *memory;                                       /* owns all of the above */
} SgResult;

/* Runs a job. Fills *result, which the caller gives to sg_result_free whatever the status, and returns its status. */
SgStatus sg_compile(const SgJob *job, SgResult *result);
void sg_result_free(SgResult *result);
#endif
