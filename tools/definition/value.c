/* Values of options: what is allowed, in words, and reading them. */
#include "definition/form.h"

#include <string.h>

static const char *show(double value, char *out, size_t size) {
    gradin_format_fixed(out, size, value, 3);
    size_t n = strlen(out);
    while (n > 1 && out[n - 1] == '0') out[--n] = '\0';
    if (n > 0 && out[n - 1] == '.') out[n - 1] = '\0';
    return out;
}

static const char *number_range(const option_form *form, char *out, size_t size) {
    char least[40], most[40];
    show(form->least, least, sizeof least);
    show(form->most, most, sizeof most);
    snprintf(out, size, form->is_above_least ? "above %s up to %s" : "%s to %s", least, most);
    return out;
}

/* "a, b or c" */
static const char *choices(const option_form *form, char *out, size_t size) {
    size_t used = 0;
    out[0] = '\0';
    for (int i = 0; form->choice[i] && used < size; i++) {
        const char *before = i == 0 ? "" : form->choice[i + 1] ? ", " : " or ";
        used += (size_t)snprintf(out + used, size - used, "%s%s", before, form->choice[i]);
    }
    return out;
}

const char *option_range(const option_form *form, char *out, size_t size) {
    char range[120];
    out[0] = '\0';
    if (form->kind == OPTION_INTEGER || form->kind == OPTION_NUMBER)
        snprintf(out, size, "%s%s%s", number_range(form, range, sizeof range),
                 form->unit ? " " : "", form->unit ? form->unit : "");
    if (form->kind == OPTION_CHOICE) choices(form, out, size);
    if (form->kind == OPTION_TEXTS) snprintf(out, size, "up to %d times", form->most_times);
    return out;
}

const char *option_default(const option_form *form, char *out, size_t size) {
    out[0] = '\0';
    if (form->absent)
        snprintf(out, size, "%s", form->absent);
    else if (form->is_preset_shown && form->kind == OPTION_CHOICE)
        snprintf(out, size, "%s", form->choice[(int)form->preset]);
    else if (form->is_preset_shown)
        show(form->preset, out, size);
    return out;
}

static void add(char *out, size_t size, const char *before, const char *text) {
    size_t used = strlen(out);
    if (text[0] != '\0') snprintf(out + used, size - used, "%s%s", before, text);
}

const char *option_text(const option_form *form, char *out, size_t size) {
    char range[200], preset[120], notes[360] = "";
    option_range(form, range, sizeof range);
    option_default(form, preset, sizeof preset);
    add(notes, sizeof notes, "", form->is_required ? "required" : "");
    add(notes, sizeof notes, notes[0] ? "; " : "", range);
    if (preset[0] != '\0') add(notes, sizeof notes, notes[0] ? "; default: " : "default: ", preset);
    snprintf(out, size, notes[0] ? "%s (%s)" : "%s%s", form->meaning, notes);
    return out;
}

static bool refuse(const option_form *form, const char *value, complaint *wrong) {
    char range[120], allowed[200];
    if (form->kind == OPTION_CHOICE)
        snprintf(allowed, sizeof allowed, "%s is", choices(form, range, sizeof range));
    else if (form->kind == OPTION_INTEGER)
        snprintf(allowed, sizeof allowed, "a whole number from %s is",
                 number_range(form, range, sizeof range));
    else
        snprintf(allowed, sizeof allowed, "%s %s%s are", form->unit ? form->unit : "numbers",
                 form->is_above_least ? "" : "from ", number_range(form, range, sizeof range));
    snprintf(wrong->text, sizeof wrong->text, "%s is '%.60s'; %s needed", form->name, value,
             allowed);
    return false;
}

static bool take_number(const option_form *form, const char *value, void *target,
                        complaint *wrong) {
    double number;
    if (!gradin_parse_number(value, &number) || number > form->most || number < form->least ||
        (form->is_above_least && number <= form->least) ||
        (form->kind == OPTION_INTEGER && number != floor(number)))
        return refuse(form, value, wrong);
    if (form->kind == OPTION_INTEGER)
        *(int *)target = (int)number;
    else
        *(double *)target = number;
    return true;
}

static bool take_choice(const option_form *form, const char *value, int *target, complaint *wrong) {
    for (int i = 0; form->choice[i]; i++) {
        if (strcmp(form->choice[i], value) != 0) continue;
        *target = i;
        return true;
    }
    return refuse(form, value, wrong);
}

static bool take_one_more(const option_form *form, const char *value, option_texts *texts,
                          complaint *wrong) {
    if (texts->n < form->most_times) {
        texts->text[texts->n++] = value;
        return true;
    }
    snprintf(wrong->text, sizeof wrong->text, "%s is given more than %d times", form->name,
             form->most_times);
    return false;
}

bool take_value(const option_form *form, const char *value, void *options, complaint *wrong) {
    void *target = (char *)options + form->offset;
    if (form->kind == OPTION_INTEGER || form->kind == OPTION_NUMBER)
        return take_number(form, value, target, wrong);
    if (value[0] == '\0') {
        snprintf(wrong->text, sizeof wrong->text, "%s is empty", form->name);
        return false;
    }
    if (form->kind == OPTION_CHOICE) return take_choice(form, value, target, wrong);
    if (form->kind == OPTION_TEXTS) return take_one_more(form, value, target, wrong);
    *(const char **)target = value;
    return true;
}
