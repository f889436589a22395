/* Arguments of a verb against its definition. */
#include "definition/form.h"

#include <stdarg.h>
#include <string.h>

enum { MOST_OPTIONS = 32 };

typedef struct parser {
    const verb_form *verb;
    void *options;
    complaint *wrong;
    bool is_given[MOST_OPTIONS];
} parser;

__attribute__((format(printf, 2, 3))) static bool refuse(parser *p, const char *format, ...) {
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(p->wrong->text, sizeof p->wrong->text, format, arguments);
    va_end(arguments);
    return false;
}

bool is_option_of(const option_form *form, int usage) {
    return form->usages == 0 || (form->usages >> usage & 1u) != 0;
}

static int find_option(const verb_form *verb, const char *name, size_t length) {
    for (int i = 0; i < verb->n_option; i++)
        if (strlen(verb->option[i].name) == length &&
            strncmp(verb->option[i].name, name, length) == 0)
            return i;
    return -1;
}

static bool refuse_unknown(parser *p, const char *text, size_t length) {
    const char *names[MOST_OPTIONS + 1];
    char name[64];
    int n = p->verb->n_option;
    snprintf(name, sizeof name, "%.*s", (int)(length < sizeof name ? length : sizeof name), text);
    for (int i = 0; i < n; i++) names[i] = p->verb->option[i].name + 2;
    names[n] = "help";
    int near = gradin_nearest_name(name + strspn(name, "-"), names, n + 1);
    if (near >= 0) return refuse(p, "unknown option '%s'; did you mean '--%s'?", name, names[near]);
    return refuse(p, "unknown option '%s'; 'gradin help %s' lists them", name, p->verb->name);
}

/* One option at argument[*at], with its value as --name=value or in the next argument. */
static bool take_option(parser *p, int n_argument, char **argument, int *at) {
    const char *text = argument[*at], *equals = strchr(text, '=');
    size_t length = equals ? (size_t)(equals - text) : strlen(text);
    int found = find_option(p->verb, text, length);
    if (found < 0) return refuse_unknown(p, text, length);
    const option_form *form = &p->verb->option[found];
    if (p->is_given[found] && form->kind != OPTION_TEXTS)
        return refuse(p, "%s is given twice", form->name);
    p->is_given[found] = true;
    if (form->kind == OPTION_FLAG) {
        *(bool *)((char *)p->options + form->offset) = true;
        return !equals || refuse(p, "%s takes no value", form->name);
    }
    if (equals) return take_value(form, equals + 1, p->options, p->wrong);
    if (*at + 1 >= n_argument) return refuse(p, "%s needs a value", form->name);
    return take_value(form, argument[++*at], p->options, p->wrong);
}

static void set_presets(parser *p) {
    memset(p->options, 0, p->verb->options_size);
    for (int i = 0; i < p->verb->n_option; i++) {
        const option_form *form = &p->verb->option[i];
        char *target = (char *)p->options + form->offset;
        if (form->kind == OPTION_INTEGER || form->kind == OPTION_CHOICE)
            *(int *)(void *)target = (int)form->preset;
        if (form->kind == OPTION_NUMBER) *(double *)(void *)target = form->preset;
    }
}

static bool split(parser *p, int n_argument, char **argument, const char **operand, int *n) {
    bool only_operands = false;
    *n = 0;
    for (int i = 0; i < n_argument; i++) {
        if (!only_operands && strcmp(argument[i], "--") == 0)
            only_operands = true;
        else if (only_operands || argument[i][0] != '-' || argument[i][1] == '\0')
            operand[(*n)++] = argument[i];
        else if (!take_option(p, n_argument, argument, &i))
            return false;
    }
    return true;
}

static int chosen_usage(const parser *p) {
    for (int u = 1; u < p->verb->n_usage; u++) {
        const char *selector = p->verb->usage[u].selector;
        if (p->is_given[find_option(p->verb, selector, strlen(selector))]) return u;
    }
    return 0;
}

static bool check_operands(parser *p, const operands *given) {
    const usage_form *usage = &p->verb->usage[given->usage];
    int least = 0, most = 0;
    for (int i = 0; i < MOST_OPERANDS && usage->operand[i].name; i++) {
        least += usage->operand[i].least;
        most += usage->operand[i].most;
    }
    if (given->n >= least && given->n <= most) return true;
    if (most == 0 || most >= ANY_NUMBER) return refuse(p, "%s", usage->need);
    return refuse(p, "%s, not %d", usage->need, given->n);
}

static bool check_options(parser *p, int usage) {
    for (int i = 0; i < p->verb->n_option; i++) {
        const option_form *form = &p->verb->option[i];
        if (!p->is_given[i] && form->is_required && is_option_of(form, usage))
            return refuse(p, "%s %s is needed", form->name, form->value);
        if (!p->is_given[i] || is_option_of(form, usage)) continue;
        if (usage == 0) return refuse(p, "%s is of no use here", form->name);
        return refuse(p, "%s does not go with %s", form->name, p->verb->usage[usage].selector);
    }
    return true;
}

bool parse_arguments(const verb_form *verb, int n_argument, char **argument, void *options,
                     const char **operand, operands *given, complaint *wrong) {
    parser p = {.verb = verb, .options = options, .wrong = wrong};
    if (verb->n_option > MOST_OPTIONS) return refuse(&p, "has too many options");
    set_presets(&p);
    *given = (operands){.text = operand};
    if (!split(&p, n_argument, argument, operand, &given->n)) return false;
    given->usage = chosen_usage(&p);
    return check_operands(&p, given) && check_options(&p, given->usage);
}

bool asks_help(int n_argument, char **argument) {
    for (int i = 0; i < n_argument && strcmp(argument[i], "--") != 0; i++)
        if (strcmp(argument[i], "--help") == 0 || strcmp(argument[i], "-h") == 0) return true;
    return false;
}

const verb_form *find_verb(const command_form *command, const char *name) {
    for (int i = 0; i < command->n_verb; i++)
        if (strcmp(command->verb[i]->name, name) == 0) return command->verb[i];
    return NULL;
}

const verb_form *nearest_verb(const command_form *command, const char *name) {
    enum { MOST_VERBS = 64 };
    const char *names[MOST_VERBS];
    int n = command->n_verb < MOST_VERBS ? command->n_verb : MOST_VERBS;
    for (int i = 0; i < n; i++) names[i] = command->verb[i]->name;
    int near = gradin_nearest_name(name, names, n);
    return near >= 0 ? command->verb[near] : NULL;
}
