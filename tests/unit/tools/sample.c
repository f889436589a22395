#include "sample.h"

#include <stdlib.h>

enum { ONE, PAIR };
static const usage_form usages[] = {
    [ONE] = {.need = "one file is needed",
             .operand = {{"FILE", OPERAND_YAML, 1, 1}, {"NAME", OPERAND_NAME, 0, 2}}},
    [PAIR] = {.selector = "--pair",
              .need = "--pair takes two files",
              .operand = {{"FILE", OPERAND_FILE, 2, 2}}}};

static const char *const colours[] = {"red", "green", "blue", NULL};

static const option_form options[] = {
    {.name = "--flag", AS_FLAG(sample_options, is_flag), .meaning = "raise the flag"},
    {.name = "--integer",
     .value = "N",
     AS_INTEGER(sample_options, integer),
     .least = -3,
     .most = 40,
     .preset = 7,
     .is_preset_shown = true,
     .meaning = "how many"},
    {.name = "--number",
     .value = "H",
     AS_NUMBER(sample_options, number),
     .unit = "hours",
     .least = 0,
     .is_above_least = true,
     .most = 2.5,
     .usages = 1u << ONE,
     .meaning = "how long"},
    {.name = "--choice",
     .value = "COLOUR",
     AS_CHOICE(sample_options, choice),
     .choice = colours,
     .preset = 1,
     .is_preset_shown = true,
     .meaning = "which [one]"},
    {.name = "--text",
     .value = "T",
     AS_TEXT(sample_options, text),
     .is_required = true,
     .meaning = "a text"},
    {.name = "--texts",
     .value = "T",
     AS_TEXTS(sample_options, texts),
     .most_times = 2,
     .meaning = "the user's texts"},
    {.name = "--list", .value = "L", AS_LIST(sample_options, list), .meaning = "a list"},
    {.name = "--file", .value = "F", AS_FILE(sample_options, file), .meaning = "a file"},
    {.name = "--folder",
     .value = "DIR",
     AS_FOLDER(sample_options, folder),
     .absent = "none at all",
     .meaning = "a folder"},
    {.name = "--pair",
     AS_FLAG(sample_options, is_pair),
     .usages = 1u << PAIR,
     .meaning = "take two files"}};

static const example_form examples[] = {{"tool paint a.yaml --text x", "is it dry?"}};

const verb_form sample_verb = {.name = "paint",
                               .summary = "paint things",
                               .description = "Paints. Twice -- 100 \xC2\xB0"
                                              "C.\n\n.Not a macro.",
                               .limit = "the paint is wet",
                               COUNTED(usage, usages),
                               COUNTED(option, options),
                               COUNTED(example, examples),
                               .options_size = sizeof(sample_options)};

static const verb_form *const verbs[] = {&sample_verb};
static const char *const status[] = {"done", "not so good", "bad use", "the machine failed"};
const command_form sample_command = {.name = "tool",
                                     .version = "9.8.7",
                                     .date = "May 5, 2025",
                                     .summary = "a tool",
                                     .description = "It paints.",
                                     .caution = "Mind the step.",
                                     .status = status,
                                     COUNTED(verb, verbs)};

char *written(void (*write)(FILE *out, const command_form *command)) {
    char *text = NULL;
    size_t size = 0;
    FILE *out = open_memstream(&text, &size);
    if (!out) abort();
    write(out, &sample_command);
    fclose(out);
    return text;
}

char *written_of_verb(void (*write)(FILE *out, const command_form *command,
                                    const verb_form *verb)) {
    char *text = NULL;
    size_t size = 0;
    FILE *out = open_memstream(&text, &size);
    if (!out) abort();
    write(out, &sample_command, &sample_verb);
    fclose(out);
    return text;
}
