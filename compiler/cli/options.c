/* cli: the command line read by one table.
   in     argv and options.def.
   out    command, operands and option values; help texts.
   never  opens a file, prints or knows what a command does. */
#include "cli/options.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "messages/messages.h"

typedef struct { const char *word, *operands; uint32_t least, most; const char *doc; } CommandInfo;
typedef struct { const char *word; char letter; const char *value; uint32_t commands; bool many; const char *doc; } OptionInfo;

#define IN(command) (1u << SG_COMMAND_##command)
#define EVERYWHERE (~0u)
static const CommandInfo COMMANDS[] = {
#define COMMAND(word, operands, least, most, doc) { #word, operands, least, most, doc },
#include "cli/options.def"
};
static const OptionInfo OPTIONS[] = {
#define OPTION(word, letter, value, commands, many, doc) { #word, letter, value, commands, many, doc },
#include "cli/options.def"
};

/* ---- faults ---- */
__attribute__((format(printf, 2, 3)))
static bool fault(SgCommandLine *line, const char *fmt, ...)
{
    va_list args;
    va_start(args, fmt);
    vsnprintf(line->fault, sizeof line->fault, fmt, args);
    va_end(args);
    return false;
}

static void add(char *text, size_t size, const char *more)
{
    size_t n = strlen(text);
    snprintf(text + n, size - n, "%s", more);
}

static bool takes(SgCommand command, SgOption option)
{
    return command == SG_COMMAND_COUNT ? OPTIONS[option].commands == EVERYWHERE
                                       : (OPTIONS[option].commands & (1u << command)) != 0;
}

static bool fault_command(SgCommandLine *line, const char *word)
{
    const char *words[SG_COMMAND_COUNT];
    for (int i = 0; i < SG_COMMAND_COUNT; i++) words[i] = COMMANDS[i].word;
    const char *near = sg_nearest(sg_str(word), words, SG_COMMAND_COUNT);
    fault(line, "there is no command `%.60s`", word);
    if (near != NULL) {
        add(line->fault, sizeof line->fault, "; did you mean ");
        add(line->fault, sizeof line->fault, near);
        add(line->fault, sizeof line->fault, "?");
    }
    add(line->fault, sizeof line->fault, near != NULL ? " The commands are " : "; the commands are ");
    for (int i = 0; i < SG_COMMAND_COUNT; i++) {
        add(line->fault, sizeof line->fault, i == 0 ? "" : ", ");
        add(line->fault, sizeof line->fault, words[i]);
    }
    return false;
}

/* Names the nearest option, the commands that would take it, or all that this command takes. */
static bool fault_option(SgCommandLine *line, const char *typed, SgOption known)
{
    const char *whose = line->command == SG_COMMAND_COUNT ? "sagitta" : COMMANDS[line->command].word;
    fault(line, "%s takes no %.60s", whose, typed);
    if (known != SG_OPTION_COUNT) {
        add(line->fault, sizeof line->fault, "; it belongs to");
        for (int c = 0; c < SG_COMMAND_COUNT; c++) {
            if (!takes((SgCommand)c, known)) continue;
            add(line->fault, sizeof line->fault, " ");
            add(line->fault, sizeof line->fault, COMMANDS[c].word);
        }
        return false;
    }
    const char *words[SG_OPTION_COUNT];
    uint32_t n = 0;
    for (int i = 0; i < SG_OPTION_COUNT; i++)
        if (takes(line->command, (SgOption)i)) words[n++] = OPTIONS[i].word;
    const char *near = strncmp(typed, "--", 2) == 0 ? sg_nearest(sg_str(typed + 2), words, n) : NULL;
    add(line->fault, sizeof line->fault, near != NULL ? "; did you mean --" : "; it takes");
    if (near != NULL) {
        add(line->fault, sizeof line->fault, near);
        add(line->fault, sizeof line->fault, "?");
    }
    for (uint32_t i = 0; near == NULL && i < n; i++) {
        add(line->fault, sizeof line->fault, " --");
        add(line->fault, sizeof line->fault, words[i]);
    }
    return false;
}

/* ---- reading ---- */
static bool is_name(const char *s, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        bool letter = (s[i] >= 'a' && s[i] <= 'z') || (s[i] >= 'A' && s[i] <= 'Z');
        if (!letter && (i == 0 || !((s[i] >= '0' && s[i] <= '9') || s[i] == '_'))) return false;
    }
    return n > 0;
}

static bool take_setting(SgCommandLine *line, const char *text)
{
    const char *equals = strchr(text, '=');
    size_t n = equals != NULL ? (size_t)(equals - text) : 0;
    while (n > 0 && text[n - 1] == ' ') n--;
    if (equals == NULL || !is_name(text, n) || equals[1] == '\0')
        return fault(line, "--with %.60s: a parameter and its value are wanted, such as --with u=6cm", text);
    for (uint32_t i = 0; i < line->nwith; i++)
        if (strlen(line->with[i].name) == n && strncmp(line->with[i].name, text, n) == 0)
            return fault(line, "--with %.60s stands twice; once is enough", line->with[i].name);
    char *name = malloc(n + 1);        /* argv stays as it is: another program may be handed it */
    if (name == NULL) return fault(line, "memory ran out");
    memcpy(name, text, n);
    name[n] = '\0';
    line->with[line->nwith++] = (SgSetting){ name, equals + 1 };
    return true;
}

static bool take_value(SgCommandLine *line, SgOption option, char *value)
{
    if (line->given[option] && !OPTIONS[option].many) return fault(line, "--%s stands twice; once is enough", OPTIONS[option].word);
    line->given[option] = true;
    line->value[option] = value;
    return option == SG_OPTION_with ? take_setting(line, value) : true;
}

/* The option that `arg` spells, and where its attached value begins (NULL: none attached). */
static SgOption option_of(char *arg, char **attached)
{
    *attached = NULL;
    for (int i = 0; i < SG_OPTION_COUNT; i++) {
        const OptionInfo *o = &OPTIONS[i];
        size_t n = strlen(o->word);
        if (arg[1] == '-' && strncmp(arg + 2, o->word, n) == 0 && (arg[2 + n] == '\0' || arg[2 + n] == '=')) {
            if (arg[2 + n] == '=') *attached = arg + 3 + n;
            return (SgOption)i;
        }
        if (arg[1] != '-' && arg[1] == o->letter) {
            if (arg[2] != '\0') *attached = arg + 2;
            return (SgOption)i;
        }
    }
    return SG_OPTION_COUNT;
}

static bool take_option(SgCommandLine *line, int argc, char **argv, int *i)
{
    char *attached;
    SgOption option = option_of(argv[*i], &attached);
    if (option == SG_OPTION_COUNT || !takes(line->command, option)) return fault_option(line, argv[*i], option);
    if (OPTIONS[option].value[0] == '\0') {
        if (attached != NULL) return fault(line, "--%s takes no value", OPTIONS[option].word);
        return take_value(line, option, argv[*i] + strlen(argv[*i]));
    }
    if (attached == NULL) {
        if (*i + 1 >= argc) return fault(line, "--%s wants %s after it", OPTIONS[option].word, OPTIONS[option].value);
        attached = argv[++*i];
    }
    if (attached[0] == '\0') return fault(line, "--%s wants %s after it", OPTIONS[option].word, OPTIONS[option].value);
    return take_value(line, option, attached);
}

bool sg_cli_command(SgCommandLine *line, const char *word)
{
    for (int c = 0; c < SG_COMMAND_COUNT; c++)
        if (strcmp(word, COMMANDS[c].word) == 0) line->command = (SgCommand)c;
    return line->command != SG_COMMAND_COUNT ? true : fault_command(line, word);
}

static bool check_operands(SgCommandLine *line)
{
    const CommandInfo *c = &COMMANDS[line->command];
    if (line->given[SG_OPTION_help] || line->given[SG_OPTION_version]) return true;
    if (line->noperands < c->least) return fault(line, "too little: write sagitta %s %s", c->word, c->operands);
    if (c->most > 0 && line->noperands > c->most)
        return fault(line, "%s takes no `%.60s` there: write sagitta %s %s", c->word, line->operand[c->most], c->word, c->operands);
    return true;
}

bool sg_cli_parse(int argc, char **argv, SgCommandLine *line)
{
    *line = (SgCommandLine){ .command = SG_COMMAND_COUNT };
    line->operand = calloc((size_t)argc + 1, sizeof *line->operand);
    line->with = calloc((size_t)argc + 1, sizeof *line->with);
    if (line->operand == NULL || line->with == NULL) return fault(line, "memory ran out");
    bool options = true;
    for (int i = 1; i < argc; i++) {
        char *arg = argv[i];
        if (options && strcmp(arg, "--") == 0) options = false;
        else if (options && arg[0] == '-' && arg[1] != '\0') {
            if (!take_option(line, argc, argv, &i)) return false;
        } else if (line->command == SG_COMMAND_COUNT) {
            if (!sg_cli_command(line, arg)) return false;
        } else {
            line->operand[line->noperands++] = arg;
        }
    }
    return line->command == SG_COMMAND_COUNT || check_operands(line);
}

void sg_cli_free(SgCommandLine *line)
{
    for (uint32_t i = 0; i < line->nwith; i++) free((void *)(uintptr_t)line->with[i].name);
    free(line->operand);
    free(line->with);
}

const char *sg_cli_option_word(SgOption option) { return OPTIONS[option].word; }

/* ---- help ---- */
typedef struct { char *text; size_t size, n; } Page;

static void put(Page *p, const char *s, size_t n)
{
    for (size_t i = 0; i < n && p->n + 1 < p->size; i++) p->text[p->n++] = s[i];
    p->text[p->n] = '\0';
}

static void put_text(Page *p, const char *s) { put(p, s, strlen(s)); }

static void spaces(Page *p, size_t n)
{
    while (n-- > 0) put(p, " ", 1);
}

/* `doc` broken at spaces to end by column 79, each further line indented to column `at`, where the first begins. */
static void wrap(Page *p, const char *doc, size_t at)
{
    enum { WIDTH = 79 };
    size_t column = at;
    while (*doc != '\0') {
        size_t word = strcspn(doc, " ");
        if (column > at && column + 1 + word > WIDTH) {
            put_text(p, "\n");
            spaces(p, at);
            column = at;
        } else if (column > at) {
            put_text(p, " ");
            column++;
        }
        put(p, doc, word);
        column += word;
        doc += word + (doc[word] == ' ');
    }
    put_text(p, "\n");
}

static void put_row(Page *p, const char *head, const char *doc, size_t at)
{
    size_t n = strlen(head);
    put_text(p, head);
    if (n + 2 > at) {
        put_text(p, "\n");
        n = 0;
    }
    spaces(p, at - n);
    wrap(p, doc, at);
}

static void put_options(Page *p, SgCommand command)
{
    for (int i = 0; i < SG_OPTION_COUNT; i++) {
        const OptionInfo *o = &OPTIONS[i];
        if (!takes(command, (SgOption)i)) continue;
        char head[64];
        char letter[8] = "    ";
        if (o->letter != '\0') snprintf(letter, sizeof letter, "-%c, ", o->letter);
        snprintf(head, sizeof head, "  %s--%s%s%s", letter, o->word, o->value[0] != '\0' ? " " : "", o->value);
        put_row(p, head, o->doc, 27);
    }
}

size_t sg_cli_help(SgCommand command, char *text, size_t size)
{
    Page p = { text, size, 0 };
    char head[80];
    if (command != SG_COMMAND_COUNT) {
        snprintf(head, sizeof head, "sagitta %s %s", COMMANDS[command].word, COMMANDS[command].operands);
        put_text(&p, head);
        put_text(&p, "\n\n");
        wrap(&p, COMMANDS[command].doc, 0);
        put_text(&p, "\n");
        put_options(&p, command);
    } else {
        put_text(&p, "Sagitta solves and draws the constructions of optics from a script.\n\n");
        for (int c = 0; c < SG_COMMAND_COUNT; c++) {
            snprintf(head, sizeof head, "  sagitta %s %s", COMMANDS[c].word, COMMANDS[c].operands);
            put_row(&p, head, COMMANDS[c].doc, 32);
        }
        put_text(&p, "\n");
        put_options(&p, command);
        put_text(&p, "\nsagitta COMMAND --help tells the options of a command. A FILE that is - is\nstandard input.\n");
    }
    put_text(&p, "Exit status: 0 done, 1 the script is wrong, 2 the command line is wrong,\n3 the machine failed.\n");
    return p.n;
}
