/* Part of print: the parts of a document packed into one file, through minizip.
   needs  names and bytes, the type of the document first.
   gives  the bytes of a zip archive: the first part stored as it is, the others compressed, all of one fixed time; the same on
          the same build.
   never  opens a file. */
#ifndef SG_PACK_H
#define SG_PACK_H
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

typedef struct { const char *name, *bytes; size_t length; } SgPackPart;
/* *bytes: to be freed. False when memory ran out. */
bool sg_pack(const SgPackPart *part, uint32_t nparts, char **bytes, size_t *length);
#endif
