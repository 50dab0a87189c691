/* Part of cli: scripts drawn in one call, and what can be told of that call: a manifest, a contact sheet, a file of
   dependencies for make and ninja.
   needs  the command line, a job with what is wanted of every script.
   gives  the figures of every script that is right, written whole or not at all, and the lists where all scripts are right.
   never  lets one output take the name of another, or of a script. */
#ifndef SG_BATCH_H
#define SG_BATCH_H
#include "base/base.h"
#include "cli/files.h"
#include "cli/options.h"
#include "cli/used.h"

typedef struct {
    const char *path;                  /* as the command line gives it */
    SgScriptFile script;
    SgUsed *used;
    SgStatus status;                   /* of reading and drawing it; only DONE has outputs */
    SgResult drawn, still;             /* still: the figures for a contact sheet; nothing unless one is wanted */
    const char *folder;                /* where its outputs go, with a / at its end, when they go into a folder */
    const char **output;               /* where each product of `drawn` goes */
} SgDrawing;

/* Draws every operand, and says on standard error what is wrong. into_folder: --output is a folder for FIGURE.svg of each figure;
   else it is the file of the one figure of the one script. Returns the worst status. */
SgStatus sg_cli_batch(const SgCommandLine *line, const SgJob *job, bool into_folder);
#endif
