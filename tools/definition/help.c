/* The help on the terminal, of the whole command and of one verb, in 80 columns. */
#include "definition/form.h"

#include <string.h>

enum { NAME_COLUMNS = 14, MARGIN = 2, TEXT_INDENT = 24, LINE_CHARS = 800 };

static void write_paragraphs(FILE *out, const char *text) {
    write_wrapped(out, text, 0, 0, TEXT_COLUMNS);
}

static void write_status(FILE *out, const command_form *command, const verb_form *verb) {
    fputs("\nexit status:\n", out);
    for (int i = 0; i < 4; i++) {
        if (verb && i == 1 && !verb->limit) continue;
        fprintf(out, "  %d  ", i);
        write_wrapped(out, verb && i == 1 ? verb->limit : command->status[i], 5, 5, TEXT_COLUMNS);
    }
}

void write_overview(FILE *out, const command_form *command) {
    fprintf(out, "usage: %s VERB ...\n\n", command->name);
    write_paragraphs(out, command->description);
    fputs("\nverbs:\n", out);
    for (int i = 0; i < command->n_verb; i++) {
        const verb_form *verb = command->verb[i];
        fprintf(out, "  %-*s", NAME_COLUMNS - MARGIN, verb->name);
        write_wrapped(out, verb->summary, NAME_COLUMNS, NAME_COLUMNS, TEXT_COLUMNS);
    }
    fputc('\n', out);
    char more[120];
    snprintf(more, sizeof more, "'%s help VERB' and '%s VERB --help' say what a verb takes.",
             command->name, command->name);
    write_paragraphs(out, more);
    write_status(out, command, NULL);
    fputc('\n', out);
    write_paragraphs(out, command->caution);
}

/* One word of a synopsis, which never breaks inside. */
typedef struct synopsis {
    FILE *out;
    int at, indent;
} synopsis;

static void add_word(synopsis *s, const char *word) {
    int width = text_columns(word);
    if (s->at + 1 + width > TEXT_COLUMNS) {
        fprintf(s->out, "\n%*s", s->indent, "");
        s->at = s->indent;
    }
    fprintf(s->out, " %s", word);
    s->at += 1 + width;
}

static void add_operand(synopsis *s, const operand_form *operand) {
    char word[80];
    const char *more = operand->most > 1 ? "..." : "";
    snprintf(word, sizeof word, operand->least > 0 ? "%s%s" : "[%s%s]", operand->name, more);
    add_word(s, word);
}

static void add_option(synopsis *s, const option_form *form) {
    char word[80];
    const char *value = form->value ? form->value : "", *gap = form->value ? " " : "";
    const char *more = form->kind == OPTION_TEXTS ? "..." : "";
    snprintf(word, sizeof word, form->is_required ? "%s%s%s%s" : "[%s%s%s]%s", form->name, gap,
             value, more);
    add_word(s, word);
}

/* The flag that chooses the usage stands first. */
static bool is_selector(const usage_form *usage, const option_form *form) {
    return usage->selector && strcmp(usage->selector, form->name) == 0;
}

static void write_synopsis(FILE *out, const command_form *command, const verb_form *verb, int u) {
    const usage_form *usage = &verb->usage[u];
    char start[80];
    snprintf(start, sizeof start, "%s %s %s", u == 0 ? "usage:" : "      ", command->name,
             verb->name);
    fputs(start, out);
    synopsis s = {.out = out, .at = text_columns(start), .indent = text_columns(start)};
    if (usage->selector) add_word(&s, usage->selector);
    for (int i = 0; i < MOST_OPERANDS && usage->operand[i].name; i++)
        add_operand(&s, &usage->operand[i]);
    for (int i = 0; i < verb->n_option; i++)
        if (is_option_of(&verb->option[i], u) && !is_selector(usage, &verb->option[i]))
            add_option(&s, &verb->option[i]);
    fputc('\n', out);
}

static void write_option(FILE *out, const char *name, const char *value, const char *text) {
    int at = fprintf(out, "  %s%s%s", name, value ? " " : "", value ? value : "");
    if (at + 2 > TEXT_INDENT) {
        fputc('\n', out);
        at = 0;
    }
    fprintf(out, "%*s", TEXT_INDENT - at, "");
    write_wrapped(out, text, TEXT_INDENT, TEXT_INDENT, TEXT_COLUMNS);
}

static void write_options(FILE *out, const verb_form *verb) {
    char text[LINE_CHARS];
    fputs("\noptions:\n", out);
    for (int i = 0; i < verb->n_option; i++) {
        const option_form *form = &verb->option[i];
        write_option(out, form->name, form->value, option_text(form, text, sizeof text));
    }
    write_option(out, "--help", NULL, "print this help");
}

static void write_examples(FILE *out, const verb_form *verb) {
    if (verb->n_example > 0) fputs("\nexamples:\n", out);
    for (int i = 0; i < verb->n_example; i++) {
        fprintf(out, "  %s\n      ", verb->example[i].command);
        write_wrapped(out, verb->example[i].meaning, 6, 6, TEXT_COLUMNS);
    }
}

void write_verb_help(FILE *out, const command_form *command, const verb_form *verb) {
    for (int u = 0; u < verb->n_usage; u++) write_synopsis(out, command, verb, u);
    fputc('\n', out);
    write_paragraphs(out, verb->description);
    write_options(out, verb);
    write_status(out, command, verb);
    write_examples(out, verb);
}
