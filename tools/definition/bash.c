/* Completion for bash. It needs nothing beyond bash itself. */
#include "definition/form.h"

#include <string.h>

static const char functions[] =
    "_%1$s_files() { mapfile -t COMPREPLY < <(compgen -f -- \"$1\"); compopt -o filenames "
    "2>/dev/null; }\n"
    "_%1$s_folders() { mapfile -t COMPREPLY < <(compgen -d -- \"$1\"); compopt -o filenames "
    "2>/dev/null; }\n"
    "_%1$s_yaml() {\n"
    "    mapfile -t COMPREPLY < <(compgen -f -X '!*.y*ml' -- \"$1\"; compgen -d -- \"$1\")\n"
    "    compopt -o filenames 2>/dev/null\n"
    "}\n"
    "_%1$s_words() { mapfile -t COMPREPLY < <(compgen -W \"$1\" -- \"$2\"); }\n"
    "\n"
    "_%1$s() {\n"
    "    local cur=${COMP_WORDS[COMP_CWORD]} prev=${COMP_WORDS[COMP_CWORD-1]}\n"
    "    local verb=${COMP_WORDS[1]}\n"
    "    COMPREPLY=()\n"
    "    # readline makes three words of --name=value\n"
    "    if [[ $cur == = ]]; then\n"
    "        cur=\n"
    "    elif [[ $prev == = ]]; then\n"
    "        prev=${COMP_WORDS[COMP_CWORD-2]}\n"
    "    fi\n";

static void write_verbs(FILE *out, const command_form *command) {
    for (int i = 0; i < command->n_verb; i++)
        fprintf(out, "%s%s", i ? " " : "", command->verb[i]->name);
}

static void write_choices(FILE *out, const option_form *form) {
    for (int i = 0; form->choice && form->choice[i]; i++)
        fprintf(out, "%s%s", i ? " " : "", form->choice[i]);
}

/* What may follow an option that takes a value. */
static void write_value(FILE *out, const command_form *command, const verb_form *verb,
                        const option_form *form) {
    if (form->kind == OPTION_FLAG) return;
    fprintf(out, "    %s:%s) ", verb->name, form->name);
    if (form->kind == OPTION_FILE)
        fprintf(out, "_%s_files \"$cur\"", command->name);
    else if (form->kind == OPTION_FOLDER)
        fprintf(out, "_%s_folders \"$cur\"", command->name);
    else if (form->choice) {
        fprintf(out, "_%s_words '", command->name);
        write_choices(out, form);
        fputs("' \"$cur\"", out);
    } else
        fputs(":", out);
    fputs("; return ;;\n", out);
}

static void write_operands(FILE *out, const command_form *command, const verb_form *verb) {
    const operand_form *first = &verb->usage[0].operand[0];
    if (!first->name || first->kind == OPERAND_NAME) return;
    fprintf(out, "    %s) ", verb->name);
    if (first->kind == OPERAND_VERB) {
        fprintf(out, "_%s_words '", command->name);
        write_verbs(out, command);
        fputs("' \"$cur\"", out);
    } else
        fprintf(out, "_%s_%s \"$cur\"", command->name,
                first->kind == OPERAND_YAML ? "yaml" : "files");
    fputs(" ;;\n", out);
}

static void write_options(FILE *out, const command_form *command, const verb_form *verb) {
    fprintf(out, "        %s) _%s_words '", verb->name, command->name);
    for (int i = 0; i < verb->n_option; i++) fprintf(out, "%s ", verb->option[i].name);
    fputs("--help' \"$cur\" ;;\n", out);
}

void write_bash_completion(FILE *out, const command_form *command) {
    fprintf(out, "# Completion of %s for bash.\n\n", command->name);
    for (const char *c = functions; *c; c++) {
        if (strncmp(c, "%1$s", 4) == 0) {
            fputs(command->name, out);
            c += 3;
        } else
            fputc(*c, out);
    }
    fprintf(out, "    if ((COMP_CWORD == 1)); then\n        _%s_words '", command->name);
    write_verbs(out, command);
    fputs(" --help --version' \"$cur\"\n        return\n    fi\n", out);
    fputs("    case $verb:$prev in\n", out);
    for (int i = 0; i < command->n_verb; i++)
        for (int k = 0; k < command->verb[i]->n_option; k++)
            write_value(out, command, command->verb[i], &command->verb[i]->option[k]);
    fputs("    esac\n    if [[ $cur == -* ]]; then\n        case $verb in\n", out);
    for (int i = 0; i < command->n_verb; i++) write_options(out, command, command->verb[i]);
    fputs("        esac\n        return\n    fi\n    case $verb in\n", out);
    for (int i = 0; i < command->n_verb; i++) write_operands(out, command, command->verb[i]);
    fprintf(out, "    esac\n}\ncomplete -F _%s %s\n", command->name, command->name);
}
