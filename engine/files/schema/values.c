/* Single values: text, flags, choices, numbers within their limits. */
#include "files/schema/values.h"
#include "base/steering.h"
#include "files/parse/date.h"

#include <stdio.h>
#include <string.h>

const node *map_get(const node *map, const char *key) {
    for (int i = 0; map->kind == NODE_MAP && i < map->n_child; i++)
        if (strcmp(map->key[i], key) == 0) return map->child[i];
    return NULL;
}

static const char *kind_name(node_kind kind) {
    return kind == NODE_TEXT ? "a single value" : kind == NODE_LIST ? "a list" : "a map";
}

bool value_is_kind(reader *r, const node *at, node_kind kind) {
    if (at->kind == kind) return true;
    complain(r, at, "must be %s, not %s", kind_name(kind), kind_name(at->kind));
    return false;
}

void complain_unknown(reader *r, const node *at, const char *what, const char *name,
                      const char *const *names, int n_name) {
    int near = gradin_nearest_name(name, names, n_name);
    if (near >= 0)
        complain(r, at, "unknown %s '%s'; did you mean '%s'?", what, name, names[near]);
    else if (n_name == 0)
        complain(r, at, "unknown %s '%s'; there is none", what, name);
    else {
        char list[GRADIN_TEXT_CHARS / 2] = "";
        size_t used = 0;
        for (int i = 0; i < n_name && used < sizeof list - 40; i++)
            used +=
                (size_t)snprintf(list + used, sizeof list - used, "%s%s", i ? ", " : "", names[i]);
        complain(r, at, "unknown %s '%s'; allowed: %s%s", what, name, list,
                 used < sizeof list - 40 ? "" : ", ...");
    }
}

static char *show(char *out, size_t size, double value) {
    gradin_format_fixed(out, size, value, 4);
    size_t n = strlen(out);
    if (strchr(out, '.'))
        while (n > 1 && (out[n - 1] == '0' || out[n - 1] == '.')) {
            bool is_point = out[--n] == '.';
            out[n] = '\0';
            if (is_point) break;
        }
    return out;
}

/* Limits of lengths are in metres, all others in what the file says. */
static bool within(reader *r, const node *at, const schema_key *key, double written) {
    double unit = key->unit == UNIT_LENGTH ? r->unit_m : 1.0, value = written * unit;
    if ((key->least == 0.0 && key->most == 0.0) || (value >= key->least && value <= key->most))
        return true;
    char low[64], high[64];
    if (isinf(key->most))
        complain(r, at, "is %s; at least %s is allowed", at->text,
                 show(low, 64, key->least / unit));
    else
        complain(r, at, "is %s; allowed: %s to %s", at->text, show(low, 64, key->least / unit),
                 show(high, 64, key->most / unit));
    return false;
}

bool value_number(reader *r, const node *at, const schema_key *key, double *out) {
    double written;
    if (!value_is_kind(r, at, NODE_TEXT)) return false;
    if (at->is_quoted || !gradin_parse_number(at->text, &written)) {
        complain(r, at, "is '%s'; a plain finite number is needed", at->text);
        return false;
    }
    if (!within(r, at, key, written)) return false;
    *out = schema_from_file(key->unit, r->unit_m, written);
    return true;
}

/* A number up to `most`, or the key's word. */
static bool number_or_word(reader *r, const node *at, const schema_key *key, int *out) {
    double value;
    if (at->kind == NODE_TEXT && strcmp(at->text, key->word) == 0)
        *out = key->word_value;
    else if (at->kind == NODE_TEXT && gradin_parse_number(at->text, &value) &&
             value == floor(value) && value >= key->least && value <= key->most)
        *out = (int)value;
    else {
        complain(r, at, "must be a whole number up to %.0f, or '%s'", key->most, key->word);
        return false;
    }
    return true;
}

bool value_integer(reader *r, const node *at, const schema_key *key, int *out) {
    double value;
    if (key->word) return number_or_word(r, at, key, out);
    if (!value_number(r, at, key, &value)) return false;
    if (value != floor(value) || fabs(value) > 1e9) {
        complain(r, at, "is %s; a whole number is needed", at->text);
        return false;
    }
    *out = (int)value;
    return true;
}

bool value_text(reader *r, const node *at, const char **out) {
    if (!value_is_kind(r, at, NODE_TEXT)) return false;
    if (at->text[0] == '\0' || strlen(at->text) > 200) {
        complain(r, at, "is empty or longer than 200 characters");
        return false;
    }
    for (const char *c = at->text; *c; c++)
        if (steering_bytes(c) > 0) {
            complain(r, at,
                     "holds a control character, a mark of direction or a character that does not "
                     "show; one line of plain text is needed");
            return false;
        }
    *out = at->text;
    return true;
}

bool value_flag(reader *r, const node *at, const schema_key *key, bool *out) {
    bool is_text = at->kind == NODE_TEXT;
    bool is_yes = is_text && (!strcmp(at->text, "yes") || !strcmp(at->text, "true"));
    bool is_no = is_text && (!strcmp(at->text, "no") || !strcmp(at->text, "false"));
    if (is_yes || is_no)
        *out = is_yes;
    else if (key->needs)
        complain(r, at, "%s", key->needs);
    else if (value_is_kind(r, at, NODE_TEXT))
        complain(r, at, "is '%s'; allowed: yes, no", at->text);
    return is_yes || is_no;
}

void note_old_word(reader *r, const char *what, const char *old, const char *now) {
    char *text = print_text(&r->c, "%s: %s '%s' is now '%s'; the old word is still read", r->c.file,
                            what, old, now);
    for (int i = 0; text && i < r->c.n_note; i++)
        if (strcmp(r->c.note[i], text) == 0) return;
    add_note(&r->c, text);
}

bool value_choice(reader *r, const node *at, const schema_key *key, int *out) {
    if (!value_is_kind(r, at, NODE_TEXT)) return false;
    for (int i = 0; key->old_words && key->old_words[i]; i++)
        if (key->old_words[i][0] && strcmp(at->text, key->old_words[i]) == 0) {
            note_old_word(r, key->key, key->old_words[i], key->choice[i]);
            *out = i;
            return true;
        }
    int n = 0;
    for (; key->choice[n]; n++)
        if (strcmp(at->text, key->choice[n]) == 0) {
            *out = n;
            return true;
        }
    complain_unknown(r, at, "value", at->text, key->choice, n);
    return false;
}

bool value_name(reader *r, const node *at, const char **out) {
    if (!value_is_kind(r, at, NODE_TEXT)) return false;
    *out = at->text;
    return true;
}

bool value_file(reader *r, const node *at, const schema_key *key, const char **out) {
    if (at->kind == NODE_TEXT) {
        *out = at->text;
        return true;
    }
    complain(r, at, "%s", key->needs ? key->needs : "must be the name of a file");
    return false;
}

/* hh:mm */
bool value_clock(reader *r, const node *at, const char **out) {
    const char *text = at->text;
    if (!value_text(r, at, out)) return false;
    bool good = strlen(text) == 5 && text[2] == ':';
    for (int i = 0; i < 5 && good; i++) good = i == 2 || (text[i] >= '0' && text[i] <= '9');
    int hour = good ? (text[0] - '0') * 10 + text[1] - '0' : 24;
    if (good && hour < 24 && text[3] < '6') return true;
    complain(r, at, "must be a time of day, \"hh:mm\"");
    return false;
}

int clock_s(const char *text) {
    int hour = (text[0] - '0') * 10 + text[1] - '0', minute = (text[3] - '0') * 10 + text[4] - '0';
    return hour * 3600 + minute * 60;
}

int64_t day_under(reader *r, const node *map, const char *key, const char *text) {
    int64_t day_s = 0;
    if (text && !gradin_day_parse(text, &day_s))
        complain(r, map_get(map, key), "is '%s'; a day YYYY-MM-DD is needed", text);
    return day_s;
}
