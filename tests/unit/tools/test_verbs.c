/* The definitions of gradin's own verbs keep to the form. */
#include "command.h"

#include <criterion/criterion.h>
#include <ctype.h>
#include <string.h>

static void expect_phrase(const char *owner, const char *text) {
    size_t n = strlen(text);
    cr_expect(n > 0 && !isupper((unsigned char)text[0]), "%s: '%s'", owner, text);
    cr_expect(strchr(".;:, ", text[n - 1]) == NULL, "%s: '%s'", owner, text);
}

static void expect_sentences(const char *owner, const char *text) {
    size_t n = strlen(text);
    cr_expect(n > 0 && text[n - 1] == '.', "%s: '%s'", owner, text);
}

static void check_number(const char *verb, const option_form *form) {
    cr_expect(form->least < form->most, "%s %s", verb, form->name);
    if (form->is_preset_shown)
        cr_expect(form->preset >= form->least && form->preset <= form->most, "%s %s", verb,
                  form->name);
    /* what it is when not given is said, or it must be given, or its absence says it */
    cr_expect(!(form->is_required && (form->is_preset_shown || form->absent)), "%s %s", verb,
              form->name);
}

static void check_option(const verb_form *verb, const option_form *form) {
    char text[800];
    cr_expect_eq(strncmp(form->name, "--", 2), 0, "%s", form->name);
    for (const char *c = form->name; *c; c++)
        cr_expect(islower((unsigned char)*c) || *c == '-', "%s", form->name);
    expect_phrase(form->name, form->meaning);
    cr_expect_eq(form->value == NULL, form->kind == OPTION_FLAG, "%s %s", verb->name, form->name);
    cr_expect_lt(form->offset, verb->options_size, "%s %s", verb->name, form->name);
    cr_expect_lt(strlen(option_text(form, text, sizeof text)), sizeof text - 1);
    if (form->kind == OPTION_INTEGER || form->kind == OPTION_NUMBER) check_number(verb->name, form);
    if (form->kind == OPTION_CHOICE) cr_expect_not_null(form->choice);
    if (form->kind == OPTION_TEXTS)
        cr_expect(form->most_times >= 1 && form->most_times <= MOST_TEXTS, "%s", form->name);
}

Test(verbs, options) {
    for (int v = 0; v < gradin_command.n_verb; v++) {
        const verb_form *verb = gradin_command.verb[v];
        for (int i = 0; i < verb->n_option; i++) {
            check_option(verb, &verb->option[i]);
            for (int k = 0; k < i; k++) {
                cr_expect_str_neq(verb->option[i].name, verb->option[k].name, "%s", verb->name);
                cr_expect_neq(verb->option[i].offset, verb->option[k].offset, "%s %s", verb->name,
                              verb->option[i].name);
            }
        }
    }
}

static bool has_option(const verb_form *verb, const char *name) {
    for (int i = 0; i < verb->n_option; i++)
        if (strcmp(verb->option[i].name, name) == 0) return true;
    return false;
}

Test(verbs, texts_and_usages) {
    for (int v = 0; v < gradin_command.n_verb; v++) {
        const verb_form *verb = gradin_command.verb[v];
        expect_phrase(verb->name, verb->summary);
        cr_expect_leq(text_columns(verb->summary), 60, "%s", verb->name);
        expect_sentences(verb->name, verb->description);
        if (verb->limit) expect_phrase(verb->name, verb->limit);
        cr_expect_not_null(verb->run, "%s", verb->name);
        cr_assert_geq(verb->n_usage, 1, "%s", verb->name);
        cr_expect_null(verb->usage[0].selector, "%s", verb->name);
        for (int u = 1; u < verb->n_usage; u++)
            cr_expect(has_option(verb, verb->usage[u].selector), "%s", verb->usage[u].selector);
        for (int i = 0; i < verb->n_example; i++) {
            expect_phrase(verb->name, verb->example[i].meaning);
            cr_expect_eq(strncmp(verb->example[i].command, "gradin ", 7), 0);
        }
    }
    expect_sentences("gradin", gradin_command.description);
    expect_sentences("gradin", gradin_command.caution);
}
