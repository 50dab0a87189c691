/* Part of cli: files read whole, and written whole or not at all.
   needs  paths; POSIX.
   gives  bytes in; all of a set of files written, or none and a fault.
   never  prints; overwrites the script it was told of. */
#ifndef SG_FILES_H
#define SG_FILES_H
#include "sagitta.h"

#include <sys/types.h>

typedef struct { char text[512]; } SgFault;            /* one line without its end */

typedef struct {
    char *bytes; size_t length;
    bool known; dev_t device; ino_t inode;             /* the file it came from */
} SgScriptFile;
/* Reads all of `path` ("-": standard input), at most SG_SCRIPT_LIMIT + 1 bytes, so that one too many shows.
   SG_COMMAND_WRONG where there is no such file, SG_MACHINE_FAILED where it cannot be read. The caller frees bytes. */
SgStatus sg_cli_read(const char *path, SgScriptFile *script, SgFault *fault);

typedef struct {
    const char *path;
    const char *bytes; size_t length;
    char *real, *temporary;                            /* NULL; ours */
    bool settled;                                      /* on the disk before it takes its name: for what nobody could draw again */
} SgTarget;
/* Writes every target through a temporary file in its own folder, then gives all of them their names, so that a fault
   leaves what was there before, even where the machine stops. Devices and pipes are written straight; a pipe that nobody
   reads is a fault. */
SgStatus sg_cli_write(SgTarget *target, uint32_t ntargets, const SgScriptFile *script, SgFault *fault);
/* Writes to an open descriptor; `name` for the fault. */
SgStatus sg_cli_write_open(int fd, const char *name, const char *bytes, size_t length, SgFault *fault);
/* Makes the folder unless it is there (its parent must be); *made tells which. */
SgStatus sg_cli_folder(const char *path, bool *made, SgFault *fault);
void sg_cli_remove_folder(const char *path);           /* when empty */
bool sg_cli_is_folder(const char *path);
#endif
