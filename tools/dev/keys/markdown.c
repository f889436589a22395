/* The key reference: a chapter per kind of file, a table per map. */
#include "keys.h"

#include "files/stated/files.h"

#include <ctype.h>
#include <string.h>

static void put_link(FILE *out, const schema_table *table) {
    fprintf(out, "[%s](#", table->name);
    for (const char *c = table->name; *c; c++) fputc(*c == ' ' ? '-' : tolower(*c), out);
    fprintf(out, ")");
}

static void put_words(FILE *out, const char *const *word) {
    for (int i = 0; word[i]; i++) fprintf(out, "%s`%s`", i > 0 ? ", " : "", word[i]);
}

static void put_items(FILE *out, const schema_key *key, const char *noun) {
    if (key->n_most > 0 && key->n_least == key->n_most)
        fprintf(out, "%d %s", key->n_most, noun);
    else if (key->n_most > 0 && key->n_least > 0)
        fprintf(out, "%d to %d %s", key->n_least, key->n_most, noun);
    else
        fprintf(out, "list of %s", noun);
}

static void put_value(FILE *out, const schema_key *key) {
    switch (key->kind) {
    case SCHEMA_NUMBER:
        fprintf(out, "number");
        return;
    case SCHEMA_INTEGER:
        fprintf(out, "whole number");
        if (key->word) fprintf(out, " or `%s`", key->word);
        return;
    case SCHEMA_TEXT:
        fprintf(out, "text");
        return;
    case SCHEMA_NAME:
        fprintf(out, "name: %s", key->names);
        return;
    case SCHEMA_NAMES:
        fprintf(out, "list of names: %s", key->names);
        return;
    case SCHEMA_FILE:
        fprintf(out, "file name");
        return;
    case SCHEMA_CLOCK:
        fprintf(out, "\"hh:mm\"");
        return;
    case SCHEMA_FLAG:
        fprintf(out, "`yes`, `no`");
        return;
    case SCHEMA_CHOICE:
    case SCHEMA_FORMAT:
        put_words(out, key->choice);
        return;
    case SCHEMA_CHOICES:
        fprintf(out, "list of ");
        put_words(out, key->choice);
        return;
    case SCHEMA_POINT:
        fprintf(out, "[x, y]");
        return;
    case SCHEMA_POLYGON:
        fprintf(out, "[[x, y], ...], 3 corners and more");
        return;
    case SCHEMA_POINTS:
        put_items(out, key, key->noun && strcmp(key->noun, "terms") == 0 ? "pairs" : "points");
        return;
    case SCHEMA_RANGE:
        fprintf(out, "[least, most]");
        return;
    case SCHEMA_ROW:
    case SCHEMA_NUMBERS:
        put_items(out, key, "numbers");
        return;
    case SCHEMA_SPECTRUM:
        fprintf(out, "%s", key->takes_rated ? SPECTRUM_RATED_TEXT : SPECTRUM_TEXT);
        return;
    case SCHEMA_MAP:
    case SCHEMA_MAP_PTR:
        put_link(out, key->below);
        return;
    case SCHEMA_LIST:
        fprintf(out, "list of ");
        put_link(out, key->below);
        return;
    case SCHEMA_UNITS:
        fprintf(out, "`m`, `ft`");
        return;
    }
}

static void put_unit(FILE *out, schema_unit unit) {
    if (unit == UNIT_LENGTH)
        fprintf(out, "m or ft");
    else if (unit == UNIT_AREA)
        fprintf(out, "m2 or ft2");
    else if (unit == UNIT_MACHINE)
        fprintf(out, "m or ft, or a share");
    else
        fprintf(out, "%s", schema_unit_name(unit));
}

static void put_range(FILE *out, const schema_key *key) {
    char low[32], high[32];
    if (key->least == 0.0 && key->most == 0.0) return;
    fprintf(out, "%s to %s%s", plain_number(low, key->least), plain_number(high, key->most),
            key->unit == UNIT_LENGTH ? " m" : "");
}

static void put_numbers(FILE *out, const schema_key *key) {
    char text[32];
    int n = key->preset_row ? key->n_most : 1;
    fprintf(out, n > 1 ? "[" : "");
    for (int i = 0; i < n; i++)
        fprintf(out, "%s%s", i > 0 ? ", " : "",
                plain_number(text, key->preset_row ? key->preset_row[i] : key->preset));
    fprintf(out, n > 1 ? "]" : "");
    if (key->unit == UNIT_LENGTH && key->preset != 0.0) fprintf(out, " m");
}

static void put_default(FILE *out, const schema_key *key) {
    if (key->is_required)
        fprintf(out, "**required**");
    else if (key->preset_note)
        fprintf(out, "%s", key->preset_note);
    else if (key->kind == SCHEMA_NUMBER || key->kind == SCHEMA_ROW || key->kind == SCHEMA_INTEGER)
        put_numbers(out, key);
    else if (key->kind == SCHEMA_FLAG)
        fprintf(out, key->preset != 0.0 ? "`yes`" : "`no`");
    else if (key->kind == SCHEMA_CHOICE)
        fprintf(out, "`%s`", key->choice[(int)key->preset]);
    else if (key->kind == SCHEMA_RANGE || key->kind == SCHEMA_POINT)
        fprintf(out, "[0, 0]");
}

static void put_key(FILE *out, const schema_key *key) {
    fprintf(out, "| `%s` | ", key->key);
    put_value(out, key);
    fprintf(out, " | ");
    put_unit(out, key->unit);
    fprintf(out, " | ");
    put_range(out, key);
    fprintf(out, " | ");
    put_default(out, key);
    fprintf(out, " | %s |\n", key->meaning);
}

static void put_forms(FILE *out, const schema_table *table) {
    fprintf(out, "One of ");
    for (int i = 0; table->form[i]; i++) {
        if (i > 0) fprintf(out, ", ");
        put_link(out, table->form[i]);
    }
    fprintf(out, ".\n\n");
}

static void put_rule(FILE *out, const schema_rule *rule) {
    static const char *const lead[] = {[RULE_ONE_OF] = "Exactly one of ",
                                       [RULE_ANY_OF] = "At least one of ",
                                       [RULE_NEEDS] = "",
                                       [RULE_CLASH] = "",
                                       [RULE_AS_MANY] = ""};
    fprintf(out, "* %s", lead[rule->kind]);
    if (rule->kind == RULE_NEEDS)
        fprintf(out, "`%s` only beside `%s`", rule->key[0], rule->key[1]);
    else if (rule->kind == RULE_CLASH)
        fprintf(out, "`%s` not beside `%s`", rule->key[0], rule->key[1]);
    else if (rule->kind == RULE_AS_MANY)
        fprintf(out, "`%s` has as many values as `%s`", rule->key[0], rule->key[1]);
    for (int i = 0; lead[rule->kind][0] && i < MAX_RULE_KEY && rule->key[i]; i++)
        fprintf(out, "%s`%s`", i > 0 ? ", " : "", rule->key[i]);
    fprintf(out, ".\n");
}

static void put_table(FILE *out, const schema_table *table) {
    fprintf(out, "### %s\n\n%c%s.\n\n", table->name, toupper(table->meaning[0]),
            table->meaning + 1);
    if (table->form) {
        put_forms(out, table);
        return;
    }
    if (table->partial_of) {
        fprintf(out, "Keys as in ");
        put_link(out, table->partial_of);
        fprintf(out, "; only `%s` must be there, and none has a `kind` of its own.\n\n",
                table->key[0].key);
        return;
    }
    fprintf(out, "| key | value | unit | range | default | meaning |\n|---|---|---|---|---|---|\n");
    for (int i = 0; i < table->n_key; i++)
        if (!table->key[i].refused) put_key(out, &table->key[i]);
    fprintf(out, "\n");
    if (table->of_kind)
        fprintf(out, "* With `kind`, what is required may stand in [kinds](#kinds).\n\n");
    for (int i = 0; i < table->n_rule; i++) put_rule(out, &table->rule[i]);
    if (table->n_rule > 0) fprintf(out, "\n");
}

static const char head[] =
    "# Keys of the input files\n\n"
    "Made by `gradin_keys` from the tables that read the files; change `engine/files/stated` "
    "instead.\nThe folder `schemas` has the same as JSON Schemas (draft-07) for editors.\n\n"
    "* Files are YAML. Lengths are plain numbers in the file's own `units`, m or ft. Ranges and "
    "defaults of lengths\n  are given in metres here. A unit in a key's name (`_ms`, `_kg`, "
    "`_mm`) holds in every file.\n"
    "* x runs east, y north, z up, from the plan origin of the venue. Bearings run clockwise from "
    "north.\n"
    "* Flags are `yes` and `no`, or `true` and `false`. Names of files are seen from the file "
    "that names them.\n"
    "* A key that is not in its table is an error, so is a key that stands twice.\n\n";

void write_markdown(FILE *out) {
    const schema_table *table[MOST_TABLES];
    int n = 0;
    fputs(head, out);
    for (int f = 0; schema_files[f]; f++) {
        int from = n;
        n = list_tables(schema_files[f]->root, table, n, MOST_TABLES);
        fprintf(out, "## File of kind %s\n\n%s `format: %s`\n\n", schema_files[f]->kind,
                schema_files[f]->meaning, schema_files[f]->format);
        for (int i = from; i < n; i++) put_table(out, table[i]);
    }
}
