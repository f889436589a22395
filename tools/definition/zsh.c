/* Completion for zsh, as a function of its own system of completion. */
#include "definition/form.h"

#include <string.h>

/* Text inside single quotes; signs in `special` get a backslash. */
static void write_quoted(FILE *out, const char *text, const char *special) {
    for (; *text; text++) {
        if (strchr(special, *text)) fputc('\\', out);
        if (*text == '\'')
            fputs("'\\''", out);
        else
            fputc(*text, out);
    }
}

static void write_verbs(FILE *out, const command_form *command) {
    for (int i = 0; i < command->n_verb; i++) {
        fprintf(out, "    '%s:", command->verb[i]->name);
        write_quoted(out, command->verb[i]->summary, "\\:");
        fputs("'\n", out);
    }
}

static void write_action(FILE *out, const option_form *form) {
    if (form->kind == OPTION_FILE) fputs("_files", out);
    if (form->kind == OPTION_FOLDER) fputs("_files -/", out);
    if (!form->choice) return;
    fputc('(', out);
    for (int i = 0; form->choice[i]; i++) fprintf(out, "%s%s", i ? " " : "", form->choice[i]);
    fputc(')', out);
}

static void write_option(FILE *out, const option_form *form) {
    fprintf(out, "        '%s%s%s[", form->kind == OPTION_TEXTS ? "*" : "", form->name,
            form->value ? "=" : "");
    write_quoted(out, form->meaning, "\\[]");
    fputc(']', out);
    if (form->value) {
        fprintf(out, ":%s:", form->value);
        write_action(out, form);
    }
    fputs("' \\\n", out);
}

static void write_operand(FILE *out, const command_form *command, const operand_form *operand) {
    static const char *const action[] = {[OPERAND_YAML] = "_files -g \"*.(yaml|yml)\"",
                                         [OPERAND_FILE] = "_files",
                                         [OPERAND_NAME] = "",
                                         [OPERAND_VERB] = "("};
    fprintf(out, "        '%s:%s:%s", operand->most > 1 ? "*" : "", operand->name,
            action[operand->kind]);
    for (int i = 0; operand->kind == OPERAND_VERB && i < command->n_verb; i++)
        fprintf(out, "%s%s", command->verb[i]->name, i + 1 < command->n_verb ? " " : ")");
    fputs("' \\\n", out);
}

/* The operands of the first usage; of others what more they take. */
static void write_operands(FILE *out, const command_form *command, const verb_form *verb) {
    for (int u = 0; u < verb->n_usage; u++)
        for (int i = 0; i < MOST_OPERANDS && verb->usage[u].operand[i].name; i++)
            if (u == 0 || verb->usage[u].operand[i].most > 1)
                write_operand(out, command, &verb->usage[u].operand[i]);
}

static void write_verb(FILE *out, const command_form *command, const verb_form *verb) {
    fprintf(out, "    %s) _arguments \\\n", verb->name);
    for (int i = 0; i < verb->n_option; i++) write_option(out, &verb->option[i]);
    write_operands(out, command, verb);
    fputs("        '(- *)--help[print the help of the verb]' ;;\n", out);
}

void write_zsh_completion(FILE *out, const command_form *command) {
    fprintf(out,
            "#compdef %s\n# Completion of %s for zsh.\n\n_%s() {\n"
            "    local -a verbs\n    verbs=(\n",
            command->name, command->name, command->name);
    write_verbs(out, command);
    fprintf(
        out,
        "    )\n    if ((CURRENT == 2)); then\n"
        "        if [[ $words[2] == -* ]]; then\n"
        "            _arguments {-h,--help}'[print the help]' {-V,--version}'[print the version]'\n"
        "        else\n            _describe -t verbs '%s verb' verbs\n        fi\n"
        "        return\n    fi\n"
        "    shift words\n    ((CURRENT--))\n    case $words[1] in\n",
        command->name);
    for (int i = 0; i < command->n_verb; i++) write_verb(out, command, command->verb[i]);
    fprintf(out, "    esac\n}\n\n_%s \"$@\"\n", command->name);
}
