/* Part of cli: the files a script uses.
   needs  POSIX.
   gives  a reader for the compiler that walks down from one root folder and follows no link; the list of what it read.
   never  prints; reads what is no regular file. */
#ifndef SG_USED_H
#define SG_USED_H
#include "cli/files.h"

typedef struct SgUsed SgUsed;
/* Sets up a job's reader, root and place. root: NULL for the folder of the script (of "-": the working folder).
   Fails when the root is no folder, or the script does not lie in it. The caller ends it with sg_cli_used_end, whatever came. */
SgStatus sg_cli_used(SgUsed **used, const char *root, const SgScriptFile *script, SgJob *job, SgFault *fault);
void sg_cli_used_end(SgUsed *used);
/* The files that were read so far, each once, in the order they were first asked for. They stay until sg_cli_used_end. */
typedef struct SgUsedFile { const struct SgUsedFile *next; const char *path; const char *bytes; size_t length; dev_t device; ino_t inode; } SgUsedFile;
const SgUsedFile *sg_cli_used_files(const SgUsed *used);
#endif
