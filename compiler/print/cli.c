/* print: makes the command the program that prints. In: nothing. Out: its printer. Never hands anything over. */
#include <stdio.h>

#include "cli/printer.h"
#include "print/print.h"

const struct SgPrinter *const sg_cli_printer = &sg_printer;

void sg_cli_hand_over(char *fault, size_t size) { snprintf(fault, size, "sagitta-print makes PDF and PNG itself"); }
