/* Part of cli: scripts drawn in one call, in one form or several, and what can be told of that call: a manifest, a contact sheet, a file of
   dependencies for make and ninja.
   needs  the command line, a job with what is wanted of every script.
   gives  the figures of every script that is right, written whole or not at all, and the lists where all scripts are right.
   never  lets one output take the name of another, or of a script. */
#ifndef SG_BATCH_H
#define SG_BATCH_H
#include "base/base.h"
#include "cli/files.h"
#include "cli/forms.h"
#include "cli/options.h"
#include "cli/used.h"

typedef struct {
    const char *path;
    SgAs as;
    const SgProduct *product;          /* whose drawing it is, with what is told of it; of a presentation its last part */
    const char *bytes; size_t length;
    char *packed;                      /* ours to free; NULL where the product holds the bytes */
} SgOutput;
typedef struct {
    const char *path;                  /* as the command line gives it */
    SgScriptFile script;
    SgUsed *used;
    SgStatus status;                   /* of reading and drawing it; only DONE has outputs */
    SgResult drawn[SG_AS_COUNT];       /* in the order of the forms asked for */
    SgResult still;                    /* the figures for a contact sheet; nothing unless one is wanted */
    const char *folder;                /* where its outputs go, with a / at its end, when they go into a folder */
    SgOutput *output; uint32_t noutputs;
} SgDrawing;

/* Draws every operand in every form, and says on standard error what is wrong. into_folder: --output is a folder for FIGURE.svg
   and the like of each figure; else it is the file of the one figure of the one script, in one form. Returns the worst status. */
SgStatus sg_cli_batch(const SgCommandLine *line, const SgJob *job, const SgForms *forms, bool into_folder);
#endif
