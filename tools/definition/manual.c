/* Manual pages in mdoc, the macros of the system's own pages: one of the command and one a verb. */
#include "definition/form.h"

#include <string.h>

enum { LINE_CHARS = 800 };

/* Text as mdoc takes it: signs that it would read as its own are written by name. */
static void write_escaped(FILE *out, const char *text, size_t length) {
    for (size_t i = 0; i < length; i++) {
        unsigned char c = (unsigned char)text[i];
        if (c == '\\')
            fputs("\\e", out);
        else if (c == '-')
            fputs("\\-", out);
        else if (i == 0 && (c == '.' || c == '\''))
            fprintf(out, "\\&%c", c);
        else if (c >= 0xC0 && i + 1 < length) { /* two or three bytes of UTF-8 */
            int n_more = c >= 0xE0 ? 2 : 1;
            unsigned code = c & (c >= 0xE0 ? 0x0Fu : 0x1Fu);
            while (n_more-- > 0 && i + 1 < length)
                code = code << 6 | ((unsigned char)text[++i] & 0x3Fu);
            fprintf(out, "\\[u%04X]", code);
        } else
            fputc(c, out);
    }
}

static void write_line(FILE *out, const char *text) {
    write_escaped(out, text, strlen(text));
    fputc('\n', out);
}

/* A phrase as a sentence that ends with `end`, unless it is a question. */
static void write_sentence(FILE *out, const char *phrase, char end) {
    size_t length = strlen(phrase);
    bool is_lower = phrase[0] >= 'a' && phrase[0] <= 'z';
    if (is_lower) fputc(phrase[0] - 'a' + 'A', out);
    write_escaped(out, phrase + is_lower, length - is_lower);
    if (phrase[length - 1] != '?') fputc(end, out);
    fputc('\n', out);
}

/* A sentence a line, as mdoc wants it. */
static void write_sentences(FILE *out, const char *text, size_t length) {
    while (length > 0) {
        const char *end = memmem(text, length, ". ", 2);
        size_t n = end ? (size_t)(end - text) + 1 : length;
        write_escaped(out, text, n);
        fputc('\n', out);
        if (!end) return;
        text += n + 1;
        length -= n + 1;
    }
}

static void write_paragraphs(FILE *out, const char *text) {
    for (const char *end; text; text = end ? end + 2 : NULL) {
        end = strstr(text, "\n\n");
        write_sentences(out, text, end ? (size_t)(end - text) : strlen(text));
        if (end) fputs(".Pp\n", out);
    }
}

static void begin(FILE *out, const command_form *command, const verb_form *verb) {
    char title[80];
    snprintf(title, sizeof title, "%s%s%s", command->name, verb ? "-" : "", verb ? verb->name : "");
    for (char *c = title; *c; c++)
        if (*c >= 'a' && *c <= 'z') *c = (char)(*c - 'a' + 'A');
    fprintf(out, ".Dd %s\n.Dt %s 1\n.Os %s %s\n.Sh NAME\n", command->date, title, command->name,
            command->version);
    fprintf(out, ".Nm %s%s%s\n.Nd ", command->name, verb ? "-" : "", verb ? verb->name : "");
    write_line(out, verb ? verb->summary : command->summary);
}

static void write_operand(FILE *out, const operand_form *operand) {
    fprintf(out, "%s %s%s\n", operand->least > 0 ? ".Ar" : ".Op Ar", operand->name,
            operand->most > 1 ? " ..." : "");
}

static void write_option_name(FILE *out, const char *macro, const option_form *form) {
    fprintf(out, "%sFl \\-%s", macro, form->name + 2);
    if (form->value) fprintf(out, " Ar %s", form->value);
    fputc('\n', out);
}

static void write_synopsis(FILE *out, const command_form *command, const verb_form *verb, int u) {
    const usage_form *usage = &verb->usage[u];
    fprintf(out, ".Nm %s\n.Cm %s\n", command->name, verb->name);
    if (usage->selector) fprintf(out, ".Fl \\-%s\n", usage->selector + 2);
    for (int i = 0; i < MOST_OPERANDS && usage->operand[i].name; i++)
        write_operand(out, &usage->operand[i]);
    for (int i = 0; i < verb->n_option; i++) {
        const option_form *form = &verb->option[i];
        bool is_selector = usage->selector && strcmp(usage->selector, form->name) == 0;
        if (is_option_of(form, u) && !is_selector)
            write_option_name(out, form->is_required ? "." : ".Op ", form);
    }
}

static void write_options(FILE *out, const verb_form *verb) {
    char text[LINE_CHARS];
    fputs(".Pp\nThe options are as follows:\n.Bl -tag -width Ds\n", out);
    for (int i = 0; i < verb->n_option; i++) {
        const option_form *form = &verb->option[i];
        write_option_name(out, ".It ", form);
        write_sentence(out, option_text(form, text, sizeof text), '.');
    }
    fputs(".It Fl \\-help\nPrint the help of the verb.\n.El\n", out);
}

static void write_status(FILE *out, const command_form *command, const verb_form *verb) {
    fputs(".Sh EXIT STATUS\n.Bl -tag -width Ds\n", out);
    for (int i = 0; i < 4; i++) {
        if (verb && i == 1 && !verb->limit) continue;
        fprintf(out, ".It %d\n", i);
        write_sentence(out, verb && i == 1 ? verb->limit : command->status[i], '.');
    }
    fputs(".El\n", out);
}

static void write_examples(FILE *out, const verb_form *verb) {
    if (verb->n_example > 0) fputs(".Sh EXAMPLES\n", out);
    for (int i = 0; i < verb->n_example; i++) {
        if (i > 0) fputs(".Pp\n", out);
        write_sentence(out, verb->example[i].meaning, ':');
        fputs(".Pp\n.Dl ", out);
        write_line(out, verb->example[i].command);
    }
}

void write_verb_manual(FILE *out, const command_form *command, const verb_form *verb) {
    begin(out, command, verb);
    fputs(".Sh SYNOPSIS\n", out);
    for (int u = 0; u < verb->n_usage; u++) write_synopsis(out, command, verb, u);
    fputs(".Sh DESCRIPTION\n", out);
    write_paragraphs(out, verb->description);
    write_options(out, verb);
    write_status(out, command, verb);
    write_examples(out, verb);
    fprintf(out, ".Sh SEE ALSO\n.Xr %s 1\n.Sh CAUTION\n", command->name);
    write_paragraphs(out, command->caution);
}

/* The pages of the verbs in the order of their names. */
static void write_pages(FILE *out, const command_form *command) {
    const char *last = "";
    fputs(".Sh SEE ALSO\n", out);
    for (int n = 0; n < command->n_verb; n++) {
        const char *next = NULL;
        for (int i = 0; i < command->n_verb; i++) {
            const char *name = command->verb[i]->name;
            if (strcmp(name, last) > 0 && (!next || strcmp(name, next) < 0)) next = name;
        }
        if (!next) break;
        fprintf(out, ".Xr %s-%s 1%s\n", command->name, next, n + 1 < command->n_verb ? " ," : "");
        last = next;
    }
}

void write_manual(FILE *out, const command_form *command) {
    begin(out, command, NULL);
    fprintf(out, ".Sh SYNOPSIS\n.Nm\n.Ar verb\n.Op Ar argument ...\n.Sh DESCRIPTION\n");
    write_paragraphs(out, command->description);
    fputs(
        ".Pp\nThe verbs are as follows; each has a page of its own:\n.Bl -tag -width overflight\n",
        out);
    for (int i = 0; i < command->n_verb; i++) {
        fprintf(out, ".It Cm %s\n", command->verb[i]->name);
        write_sentence(out, command->verb[i]->summary, '.');
    }
    fputs(".El\n", out);
    write_status(out, command, NULL);
    write_pages(out, command);
    fputs(".Sh CAUTION\n", out);
    write_paragraphs(out, command->caution);
}
