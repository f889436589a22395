/* Options of a verb, from one table a verb. */
#include "command.h"

#include <string.h>

static const option_form *find(const option_form *form, int n_form, const char *name,
                               size_t length) {
    for (int i = 0; i < n_form; i++)
        if (strlen(form[i].name) == length && strncmp(form[i].name, name, length) == 0)
            return &form[i];
    return NULL;
}

static bool unknown(const char *verb, const option_form *form, int n_form, const char *name) {
    const char *best = NULL;
    int best_distance = 4;
    for (int i = 0; i < n_form; i++) {
        int distance = gradin_edit_distance(name, form[i].name);
        if (distance < best_distance) {
            best_distance = distance;
            best = form[i].name;
        }
    }
    if (best)
        say("%s: unknown option '%s'; did you mean '%s'?", verb, name, best);
    else
        say("%s: unknown option '%s'; 'gradin help' lists them", verb, name);
    return false;
}

static bool take_count(const char *verb, const option_form *form, const char *value) {
    double number;
    if (gradin_parse_number(value, &number) && number == floor(number) && number >= form->least &&
        number <= form->most) {
        *(int *)form->out = (int)number;
        return true;
    }
    say("%s: %s is '%s'; a whole number from %d to %d is needed", verb, form->name, value,
        form->least, form->most);
    return false;
}

static bool take_text(const char *verb, const option_form *form, const char *value) {
    option_texts *texts = form->out;
    if (texts->n == (int)(sizeof texts->text / sizeof texts->text[0])) {
        say("%s: too many of %s", verb, form->name);
        return false;
    }
    texts->text[texts->n++] = value;
    return true;
}

static bool take_value(const char *verb, const option_form *form, const char *value) {
    if (form->kind == OPTION_COUNT) return take_count(verb, form, value);
    if (value[0] == '\0') {
        say("%s: %s is empty", verb, form->name);
        return false;
    }
    if (form->kind == OPTION_TEXTS) return take_text(verb, form, value);
    *(const char **)form->out = value;
    return true;
}

/* One option at argument[*at], with its value as --name=value or in the next argument. */
static bool take_option(const char *verb, int n_argument, char **argument, int *at,
                        const option_form *forms, int n_form) {
    const char *text = argument[*at], *equals = strchr(text, '=');
    const option_form *form =
        find(forms, n_form, text, equals ? (size_t)(equals - text) : strlen(text));
    if (!form) return unknown(verb, forms, n_form, text);
    if (form->kind == OPTION_FLAG) {
        if (equals) say("%s: %s takes no value", verb, form->name);
        *(bool *)form->out = true;
        return !equals;
    }
    if (equals) return take_value(verb, form, equals + 1);
    if (*at + 1 >= n_argument) {
        say("%s: %s needs a value", verb, form->name);
        return false;
    }
    return take_value(verb, form, argument[++*at]);
}

bool parse_options(const char *verb, int n_argument, char **argument, const option_form *form,
                   int n_form, const char **file, int *n_file) {
    bool only_files = false;
    *n_file = 0;
    for (int i = 0; i < n_argument; i++) {
        if (!only_files && strcmp(argument[i], "--") == 0)
            only_files = true;
        else if (only_files || argument[i][0] != '-' || argument[i][1] == '\0')
            file[(*n_file)++] = argument[i];
        else if (!take_option(verb, n_argument, argument, &i, form, n_form))
            return false;
    }
    return true;
}
