/* load: a script and the files it uses, read into trees. Part of the driver.
   needs  the script as source 0 and the job's reader.
   gives  a tree a file, and which files each of them uses.
   never  opens a file; leaves the folder tree of the root. */
#ifndef SG_LOAD_H
#define SG_LOAD_H
#include "model/model.h"
#include "sagitta.h"

enum { SG_MAX_FILES = 64, SG_MAX_USE_DEPTH = 16, SG_MAX_ALL_BYTES = 32 * 1024 * 1024 };

/* One source to its tree, and its tags; NULL when its braces are damaged. */
const SgNode *sg_load_source(SgCompile *c, uint16_t file, SgTagged *tagged);
/* All files below `tree`, the script's own. c->source has room for SG_MAX_FILES. NULL after a message that leaves no tree to go on
   with; *n is the number of files, the script's own first. */
const SgModelFile *sg_load_used(SgCompile *c, const SgJob *job, const SgNode *tree, uint32_t *n);
#endif
