/* A command with one verb that has an option of every kind. */
#ifndef GRADIN_TEST_SAMPLE_H
#define GRADIN_TEST_SAMPLE_H

#include "definition/form.h"

typedef struct sample_options {
    bool is_flag, is_pair;
    int integer, choice;
    double number;
    const char *text, *list, *file, *folder;
    option_texts texts;
} sample_options;

extern const verb_form sample_verb;
extern const command_form sample_command;

/* What a writer writes, to be freed. */
char *written(void (*write)(FILE *out, const command_form *command));
char *written_of_verb(void (*write)(FILE *out, const command_form *command, const verb_form *verb));

#endif
