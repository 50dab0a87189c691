/* Part of cli: the command line read by one table, options.def.
   needs  argv.
   gives  a command, its operands and the values of its options; help texts.
   never  opens a file or knows what a command does. */
#ifndef SG_OPTIONS_H
#define SG_OPTIONS_H
#include "sagitta.h"

typedef enum {
#define COMMAND(word, ...) SG_COMMAND_##word,
#include "cli/options.def"
    SG_COMMAND_COUNT
} SgCommand;
typedef enum {
#define OPTION(word, ...) SG_OPTION_##word,
#include "cli/options.def"
    SG_OPTION_COUNT
} SgOption;

typedef struct {
    SgCommand command;                     /* SG_COMMAND_COUNT: none was given (only --help or --version may be) */
    bool given[SG_OPTION_COUNT];
    const char *value[SG_OPTION_COUNT];    /* the last one given; "" for flags */
    const char **operand; uint32_t noperands;
    SgSetting *with; uint32_t nwith;       /* --with, cut at its = */
    char fault[512];                       /* what is wrong with the command line; "" when nothing is */
} SgCommandLine;

/* Reads argv and leaves it as it is. False with `fault` filled; sg_cli_free in either case. */
bool sg_cli_parse(int argc, char **argv, SgCommandLine *line);
void sg_cli_free(SgCommandLine *line);
/* Sets line->command to the command spelled `word`; false with `fault` filled when there is none. */
bool sg_cli_command(SgCommandLine *line, const char *word);
/* How an option is spelled, without its two strokes. */
const char *sg_cli_option_word(SgOption option);
/* The help of a command, or of the whole for SG_COMMAND_COUNT; at most 79 columns. Returns its length, cut to `size`. */
size_t sg_cli_help(SgCommand command, char *text, size_t size);
#endif
