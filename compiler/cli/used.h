/* Part of cli: the files a script uses.
   needs  POSIX.
   gives  a reader for the compiler that walks down from one root folder and follows no link.
   never  prints; reads what is no regular file. */
#ifndef SG_USED_H
#define SG_USED_H
#include "cli/files.h"

typedef struct SgUsed SgUsed;
/* Sets up a job's reader, root and place. root: NULL for the folder of the script (of "-": the working folder).
   Fails when the root is no folder, or the script does not lie in it. The caller ends it with sg_cli_used_end, whatever came. */
SgStatus sg_cli_used(SgUsed **used, const char *root, const SgScriptFile *script, SgJob *job, SgFault *fault);
void sg_cli_used_end(SgUsed *used);
#endif
