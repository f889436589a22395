/* JSON Schemas, draft-07. A map has one definition, or two where lengths stand in it: their limits
 * differ between metres and feet. The file's own `units` choose. */
#include "keys.h"

#include <jansson.h>
#include <string.h>

/* For whom a definition is: files in metres or feet; whole maps, or those whose kind has the rest.
 */
typedef struct units {
    const char *suffix, *name;
    double unit_m;
    bool is_part;
} units;

static const units metres = {"", "m", 1.0, false}, feet = {" (ft)", "ft", GRADIN_FOOT_M, false};

static void definition_name(char out[100], const schema_table *table, const units *u) {
    snprintf(out, 100, "%s%s%s", table->name, u->is_part && !table->partial_of ? " in part" : "",
             has_length(table) ? u->suffix : "");
}

static json_t *reference(const schema_table *table, const units *u) {
    char name[100], escaped[200];
    definition_name(name, table, u);
    size_t n = 0;
    for (const char *c = name; *c; c++) /* a URI fragment has no spaces or brackets */
        n += (size_t)snprintf(escaped + n, sizeof escaped - n,
                              *c == ' ' || *c == '(' || *c == ')' ? "%%%02X" : "%c", *c);
    return json_pack("{s:o}", "$ref", json_sprintf("#/definitions/%s", escaped));
}

/* With a kind, an entry may be a part. */
static json_t *item_of(const schema_table *table, const units *u) {
    units part = *u, whole = *u;
    part.is_part = true;
    whole.is_part = false;
    if (table->partial_of) /* a kind has no kind */
        return json_pack("{s:[o], s:{s:[s]}}", "allOf", reference(table, u), "not", "required",
                         "kind");
    if (!table->of_kind) return reference(table, &whole);
    return json_pack("{s:{s:[s]}, s:o, s:o}", "if", "required", "kind", "then",
                     reference(table->of_kind, &part), "else", reference(table, &whole));
}

static json_t *number(double value) {
    return value == (double)(json_int_t)value ? json_integer((json_int_t)value) : json_real(value);
}

/* As the file says it. */
static double in_file(const schema_key *key, const units *u, double value) {
    return key->unit == UNIT_LENGTH ? value / u->unit_m : value;
}

static json_t *limited(const schema_key *key, const units *u, const char *type) {
    json_t *made = json_pack("{s:s}", "type", type);
    if (key->least == 0.0 && key->most == 0.0) return made;
    json_object_set_new(made, "minimum", number(in_file(key, u, key->least)));
    if (isfinite(key->most))
        json_object_set_new(made, "maximum", number(in_file(key, u, key->most)));
    return made;
}

static json_t *array(json_t *items, int least, int most) {
    json_t *made = json_pack("{s:s, s:o}", "type", "array", "items", items);
    if (least > 0) json_object_set_new(made, "minItems", json_integer(least));
    if (most > 0) json_object_set_new(made, "maxItems", json_integer(most));
    return made;
}

static json_t *words(const char *const *word) {
    json_t *list = json_array();
    for (int i = 0; word[i]; i++) json_array_append_new(list, json_string(word[i]));
    return json_pack("{s:o}", "enum", list);
}

static json_t *just(int n) {
    return json_pack("{s:i, s:i}", "minItems", n, "maxItems", n);
}

static json_t *spectrum(const schema_key *key, const units *u) {
    json_t *made = array(limited(key, u, "number"), 0, 0);
    json_object_set_new(made, "oneOf",
                        json_pack("[o, o*, o]", just(6),
                                  key->takes_rated ? just(GRADIN_N_RATED_BAND) : NULL,
                                  just(GRADIN_N_BAND)));
    return made;
}

/* A name may look like a number. */
static json_t *text(void) {
    return json_pack("{s:[s, s]}", "type", "string", "number");
}

static json_t *value_of(const schema_key *key, const units *u) {
    switch (key->kind) {
    case SCHEMA_NUMBER:
        return limited(key, u, "number");
    case SCHEMA_INTEGER:
        if (!key->word) return limited(key, u, "integer");
        return json_pack("{s:[o, {s:s}]}", "anyOf", limited(key, u, "integer"), "const", key->word);
    case SCHEMA_TEXT:
    case SCHEMA_NAME:
    case SCHEMA_FILE:
        return text();
    case SCHEMA_NAMES:
        return array(text(), key->n_least, key->n_most);
    case SCHEMA_CLOCK:
        return json_pack("{s:s, s:s}", "type", "string", "pattern",
                         "^([01][0-9]|2[0-3]):[0-5][0-9]$");
    case SCHEMA_FLAG:
        return json_pack("{s:[b, b, s, s]}", "enum", 1, 0, "yes", "no");
    case SCHEMA_CHOICE:
        return words(key->choice);
    case SCHEMA_CHOICES:
        return array(words(key->choice), key->n_least, key->n_most);
    case SCHEMA_POINT:
    case SCHEMA_RANGE:
        return array(limited(key, u, "number"), 2, 2);
    case SCHEMA_POLYGON:
        return array(array(limited(key, u, "number"), 2, 2), 3, 0);
    case SCHEMA_POINTS:
        return array(array(limited(key, u, "number"), 2, 2), key->n_least, key->n_most);
    case SCHEMA_ROW:
    case SCHEMA_NUMBERS:
        return array(limited(key, u, "number"), key->n_least, key->n_most);
    case SCHEMA_SPECTRUM:
        return spectrum(key, u);
    case SCHEMA_MAP:
    case SCHEMA_MAP_PTR:
        return json_pack("{s:[o]}", "allOf", reference(key->below, u));
    case SCHEMA_LIST:
        return array(item_of(key->below, u), key->n_least, key->n_most);
    case SCHEMA_FORMAT:
        return json_pack("{s:s}", "const", key->choice[0]);
    case SCHEMA_UNITS:
        return json_pack("{s:[s, s]}", "enum", "m", "ft");
    }
    return NULL;
}

static const char *unit_name(const schema_key *key, const units *u) {
    if (key->unit == UNIT_LENGTH) return u->name;
    if (key->unit == UNIT_AREA) return u->unit_m == 1.0 ? "m2" : "ft2";
    return schema_unit_name(key->unit);
}

static json_t *description(const schema_key *key, const units *u) {
    char unit[60] = "", otherwise[200] = "";
    if (unit_name(key, u)[0]) snprintf(unit, sizeof unit, " [%s]", unit_name(key, u));
    if (key->preset_note && !key->is_required)
        snprintf(otherwise, sizeof otherwise, ". Without it: %s", key->preset_note);
    return json_sprintf("%s%s%s", key->meaning, unit, otherwise);
}

static void add_default(json_t *to, const schema_key *key, const units *u) {
    if (key->is_required || key->preset_note || isnan(key->preset) || isinf(key->preset)) return;
    if (key->kind == SCHEMA_NUMBER || key->kind == SCHEMA_INTEGER)
        json_object_set_new(to, "default", number(in_file(key, u, key->preset)));
    else if (key->kind == SCHEMA_FLAG)
        json_object_set_new(to, "default", json_boolean(key->preset != 0.0));
    else if (key->kind == SCHEMA_CHOICE)
        json_object_set_new(to, "default", json_string(key->choice[(int)key->preset]));
    else if (key->kind == SCHEMA_ROW && key->preset_row) {
        json_t *row = json_array();
        for (int i = 0; i < key->n_most; i++)
            json_array_append_new(row, number(in_file(key, u, key->preset_row[i])));
        json_object_set_new(to, "default", row);
    }
}

/* Rows of one key are alternatives. */
static json_t *property(const schema_key *key, int n, const units *u) {
    json_t *made = n == 1 ? value_of(key, u) : json_object();
    if (n > 1) {
        json_t *list = json_array();
        for (int i = 0; i < n; i++) json_array_append_new(list, value_of(&key[i], u));
        json_object_set_new(made, "anyOf", list);
    }
    json_object_set_new(made, "description", description(key, u));
    add_default(made, key, u);
    return made;
}

static json_t *required_one(const char *key) {
    return json_pack("{s:[s]}", "required", key);
}

/* Two spectra of the same bands. */
static json_t *as_many(const schema_rule *rule) {
    const int n[] = {6, GRADIN_N_RATED_BAND, GRADIN_N_BAND};
    json_t *list = json_array();
    for (int i = 0; i < 3; i++)
        json_array_append_new(list, json_pack("{s:{s:o, s:o}}", "properties", rule->key[0],
                                              just(n[i]), rule->key[1], just(n[i])));
    return json_pack("{s:o}", "anyOf", list);
}

static json_t *rule_of(const schema_rule *rule) {
    if (rule->kind == RULE_NEEDS)
        return json_pack("{s:{s:[s]}}", "dependencies", rule->key[0], rule->key[1]);
    if (rule->kind == RULE_CLASH)
        return json_pack("{s:{s:[s, s]}}", "not", "required", rule->key[0], rule->key[1]);
    if (rule->kind == RULE_AS_MANY) return as_many(rule);
    json_t *list = json_array();
    for (int i = 0; i < MAX_RULE_KEY && rule->key[i]; i++)
        json_array_append_new(list, required_one(rule->key[i]));
    return json_pack("{s:o}", rule->kind == RULE_ONE_OF ? "oneOf" : "anyOf", list);
}

/* Of the words of a form's own key, those that say this form. */
static json_t *form_words(const schema_key *key, const schema_table *table,
                          const schema_table *parent) {
    json_t *list = json_array();
    for (int i = 0; key->choice[i]; i++) {
        const char *says = NULL;
        for (int f = 0; parent->form[f]; f++) {
            const char *value = parent->form[f]->form_value;
            if (value && strcmp(value, key->choice[i]) == 0) says = value;
        }
        bool is_own = table->form_value ? strcmp(table->form_value, key->choice[i]) == 0 : !says;
        if (is_own) json_array_append_new(list, json_string(key->choice[i]));
    }
    return list;
}

/* parent: the table that this one is a form of, or NULL. */
static json_t *keys_of(const schema_table *table, const schema_table *parent, const units *u) {
    json_t *properties = json_object(), *required = json_array(), *rules = json_array();
    units below = *u;
    below.is_part |= table->partial_of != NULL;
    for (int i = 0, next; i < table->n_key; i = next) {
        const schema_key *key = &table->key[i];
        next = schema_next_key(table, i);
        if (key->refused) continue;
        json_t *made = property(key, next - i, &below);
        if (parent && parent->form_key && strcmp(key->key, parent->form_key) == 0)
            json_object_set_new(made, "enum", form_words(key, table, parent));
        json_object_set_new(properties, key->key, made);
        bool is_needed = table->partial_of ? i == 0 : key->is_required && !u->is_part;
        if (is_needed) json_array_append_new(required, json_string(key->key));
    }
    for (int i = 0; i < table->n_rule; i++) json_array_append_new(rules, rule_of(&table->rule[i]));
    json_t *made = json_pack("{s:s, s:s, s:b, s:o}", "type", "object", "description",
                             table->meaning, "additionalProperties", 0, "properties", properties);
    if (json_array_size(required) > 0) json_object_set(made, "required", required);
    if (json_array_size(rules) > 0) json_object_set(made, "allOf", rules);
    json_decref(required);
    json_decref(rules);
    return made;
}

static json_t *forms_of(const schema_table *table, const units *u) {
    json_t *list = json_array();
    for (int i = 0; table->form[i]; i++) json_array_append_new(list, reference(table->form[i], u));
    return json_pack("{s:s, s:o}", "description", table->meaning, "anyOf", list);
}

static const schema_table *parent_of(const schema_table *form, const schema_table *const *table,
                                     int n) {
    for (int i = 0; i < n; i++)
        for (int f = 0; table[i]->form && table[i]->form[f]; f++)
            if (table[i]->form[f] == form) return table[i];
    return NULL;
}

static void define(json_t *to, const schema_table *table, const schema_table *parent,
                   const units *u) {
    char name[100];
    definition_name(name, table, u);
    if (json_object_get(to, name)) return;
    json_object_set_new(to, name, table->form ? forms_of(table, u) : keys_of(table, parent, u));
}

/* The maps below a partial table are parts, too. */
static void define_parts(json_t *to, const schema_table *table, const units *u) {
    units part = *u;
    part.is_part = true;
    define(to, table, NULL, &part);
    for (int i = 0; i < table->n_key; i++) {
        schema_kind kind = table->key[i].kind;
        if (kind == SCHEMA_MAP || kind == SCHEMA_MAP_PTR) define_parts(to, table->key[i].below, u);
    }
}

static json_t *definitions(const schema_file *file) {
    const schema_table *table[MOST_TABLES];
    int n = list_tables(file->root, table, 0, MOST_TABLES);
    json_t *made = json_object();
    for (int i = 0; i < n; i++)
        for (int k = 0; k < 2; k++) {
            const units *u = k == 0 ? &metres : &feet;
            if (table[i]->partial_of)
                define_parts(made, table[i], u);
            else
                define(made, table[i], parent_of(table[i], table, n), u);
        }
    return made;
}

bool write_json_schema(FILE *out, const schema_file *file) {
    json_t *root =
        json_pack("{s:s, s:s, s:s, s:s, s:{s:{s:{s:s}}, s:[s]}, s:o, s:o, s:o}", "$schema",
                  "http://json-schema.org/draft-07/schema#", "title", file->format, "description",
                  file->meaning, "type", "object", "if", "properties", "units", "const", "ft",
                  "required", "units", "then", reference(file->root, &feet), "else",
                  reference(file->root, &metres), "definitions", definitions(file));
    bool good = root && json_dumpf(root, out, JSON_INDENT(1) | JSON_REAL_PRECISION(10)) == 0 &&
                fputc('\n', out) != EOF;
    json_decref(root);
    return good;
}
