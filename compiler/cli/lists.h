/* Part of cli: what is told of a call that drew: which files it made, from what.
   needs  drawings that are done.
   gives  bytes in a buffer, the same for the same call and files.
   never  opens a file; tells a time, a machine or a path that was not given. */
#ifndef SG_LISTS_H
#define SG_LISTS_H
#include "cli/batch.h"

/* JSON: each output with its figure, size, faces, colours and digest, and the files it was made from with theirs. */
void sg_cli_manifest(const SgDrawing *drawing, uint32_t n, SgBuf *out);
/* CSV (RFC 4180) for a manuscript: a line a figure, with its title, its alternative text short and long, and its size. */
void sg_cli_texts(const SgDrawing *drawing, uint32_t n, SgBuf *out);
/* One HTML page of all figures, small, that needs no other file. */
void sg_cli_contact_sheet(const SgDrawing *drawing, uint32_t n, SgBuf *out);
/* Rules for make and ninja: outputs and lists (a name each, or NULL) from scripts and what they use. False with a fault where
   a path holds a sign that the two read differently. */
bool sg_cli_dependencies(const SgDrawing *drawing, uint32_t n, const char *const *list, uint32_t nlists, SgBuf *out, SgFault *fault);
#endif
