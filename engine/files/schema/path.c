/* Paths of keys held against the tables of keys. */
#include "files/schema/path.h"

#include "files/parse/changes.h"

#include <string.h>

enum { MOST_WORDS = 200 };

typedef enum leads_to { TO_VALUE, TO_MAP, TO_ENTRIES, TO_NOTHING } leads_to;

static leads_to leads(const schema_key *key) {
    switch (key->kind) {
    case SCHEMA_MAP:
    case SCHEMA_MAP_PTR:
        return TO_MAP;
    case SCHEMA_LIST:
    case SCHEMA_NUMBERS:
    case SCHEMA_POINT:
    case SCHEMA_RANGE:
    case SCHEMA_ROW:
    case SCHEMA_SPECTRUM:
    case SCHEMA_NAMES:
    case SCHEMA_CHOICES:
        return TO_ENTRIES;
    case SCHEMA_POLYGON:
    case SCHEMA_POINTS:
    case SCHEMA_FORMAT:
    case SCHEMA_UNITS:
        return TO_NOTHING;
    default:
        return TO_VALUE;
    }
}

static const char *what_leads(leads_to to) {
    static const char *const text[] = {"a single value", "a map: go on with .key",
                                       "a list: go on with [entry]", "nothing that can be varied"};
    return text[to];
}

typedef struct search {
    const char *word[MOST_WORDS]; /* [n] all that there are */
    int n;
    const schema_key *found[MOST_WORDS]; /* [n_found] rows of the word, of any form */
    int n_found;
} search;

static void look_in(search *s, const schema_table *table, const char *word) {
    for (int i = 0; i < table->n_key; i++) {
        const schema_key *key = &table->key[i];
        if (key->refused) continue;
        if (s->n < MOST_WORDS) s->word[s->n++] = key->key;
        if (strcmp(key->key, word) == 0 && s->n_found < MOST_WORDS) s->found[s->n_found++] = key;
    }
    for (int i = 0; table->form && table->form[i]; i++) look_in(s, table->form[i], word);
}

static bool refuse_word(reader *r, const gradin_place *at, const char *path, const search *s,
                        const char *word) {
    int near = gradin_nearest_name(word, s->word, s->n);
    if (near >= 0)
        refuse(&r->c, at, "%s: unknown key '%s'; did you mean '%s'?", path, word, s->word[near]);
    else
        refuse(&r->c, at, "%s: unknown key '%s'", path, word);
    return false;
}

/* Of alternative rows the one that leads where the path goes. */
static const schema_key *row_that_leads(const search *s, leads_to to) {
    for (int i = 0; i < s->n_found; i++)
        if (leads(s->found[i]) == to) return s->found[i];
    return NULL;
}

/* Of numbers or names: it may be replaced as a whole. */
static const schema_key *row_of_list(const search *s) {
    const schema_key *key = row_that_leads(s, TO_ENTRIES);
    return key && key->kind != SCHEMA_LIST ? key : NULL;
}

bool path_check(reader *r, const gradin_place *at, const schema_file *file, const char *path) {
    path_step step[MOST_PATH_STEPS];
    const schema_table *table = file->root;
    int n = path_steps(r, at, path, step);
    for (int i = 0; i < n; i++) {
        search s = {.n = 0};
        if (!table || step[i].is_entry) {
            refuse(&r->c, at, "%s: '%s' has no place here; before it stands %s", path, step[i].text,
                   table ? "a map" : "a single value");
            return false;
        }
        look_in(&s, table, step[i].text);
        if (s.n_found == 0) return refuse_word(r, at, path, &s, step[i].text);
        leads_to to = i + 1 == n ? TO_VALUE : step[i + 1].is_entry ? TO_ENTRIES : TO_MAP;
        const schema_key *key = row_that_leads(&s, to);
        if (!key && i + 1 == n) key = row_of_list(&s);
        if (!key || (to == TO_ENTRIES && i + 2 == n && key->kind == SCHEMA_LIST)) {
            refuse(&r->c, at, "%s: '%s' is %s", path, step[i].text,
                   key ? "a list of maps: go on with .key" : what_leads(leads(s.found[0])));
            return false;
        }
        table = key->below;
        if (to == TO_ENTRIES) i++;
    }
    return n > 0;
}
