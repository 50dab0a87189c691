/* print: makes the command the program that prints. In: nothing. Out: its printer and its packer. Never hands anything over. */
#include <stdio.h>
#include <stdlib.h>

#include "cli/printer.h"
#include "print/pack.h"
#include "print/print.h"

static bool pack(const SgProduct *product, uint32_t nproducts, char **bytes, size_t *length)
{
    SgPackPart *part = calloc(nproducts + 1u, sizeof *part);
    if (part == NULL) return false;
    for (uint32_t i = 0; i < nproducts; i++) part[i] = (SgPackPart){ product[i].part, product[i].bytes, product[i].length };
    bool packed = sg_pack(part, nproducts, bytes, length);
    free(part);
    return packed;
}

const struct SgPrinter *const sg_cli_printer = &sg_printer;
SgPacker *const sg_cli_packer = pack;

void sg_cli_hand_over(char *fault, size_t size) { snprintf(fault, size, "sagitta-print makes PDF, PNG and presentations itself"); }
