/* Part of cli: what makes PDF, PNG and presentations. Two programs are built of one source: sagitta, which needs no library, and
   sagitta-print, which has cairo and minizip. The first hands what it cannot make to the second.
   needs  argv as it came.
   gives  the printer and the packer of this program; NULL: there is none.
   never  returns from a hand-over that worked. */
#ifndef SG_CLI_PRINTER_H
#define SG_CLI_PRINTER_H
#include "sagitta.h"

/* The parts of a presentation as one file; *bytes to be freed. False when memory ran out. */
typedef bool SgPacker(const SgProduct *part, uint32_t nparts, char **bytes, size_t *length);
extern const struct SgPrinter *const sg_cli_printer;
extern SgPacker *const sg_cli_packer;
/* Becomes sagitta-print, with the same arguments: beside this program, or in ../libexec/sagitta. Returns only when that failed;
   `fault` (of `size` bytes) says why. */
void sg_cli_hand_over(char *fault, size_t size);
#endif
