/* usage: gradin_keys FOLDER
 * writes FOLDER/keys.md and FOLDER/schemas/KIND.json */
#include "keys.h"

#include "files/stated/files.h"

#include <stdlib.h>
#include <string.h>

const char *plain_number(char out[32], double value) {
    snprintf(out, 32, "%.10g", value);
    return out;
}

static int list_one(const schema_table *table, const schema_table **found, int n, int most) {
    for (int i = 0; i < n; i++)
        if (found[i] == table) return n;
    if (n == most) {
        fprintf(stderr, "gradin_keys: more tables than %d: raise MOST_TABLES\n", most);
        exit(3);
    }
    found[n++] = table;
    for (int f = 0; table->form && table->form[f]; f++)
        n = list_one(table->form[f], found, n, most);
    for (int i = 0; i < table->n_key; i++)
        if (table->key[i].below) n = list_one(table->key[i].below, found, n, most);
    return n;
}

int list_tables(const schema_table *root, const schema_table **found, int n, int most) {
    return list_one(root, found, n, most);
}

bool has_length(const schema_table *table) {
    const schema_table *below[128];
    int n = list_tables(table, below, 0, 128);
    for (int t = 0; t < n; t++)
        for (int i = 0; i < below[t]->n_key; i++) {
            schema_unit unit = below[t]->key[i].unit;
            if (unit == UNIT_LENGTH || unit == UNIT_AREA || unit == UNIT_MACHINE) return true;
        }
    return false;
}

static FILE *open_file(const char *folder, const char *name) {
    char path[1000];
    snprintf(path, sizeof path, "%s/%s", folder, name);
    FILE *out = fopen(path, "w");
    if (!out) fprintf(stderr, "gradin_keys: %s cannot be written\n", path);
    return out;
}

static bool write_schema(const char *folder, const schema_file *file) {
    char name[100];
    snprintf(name, sizeof name, "schemas/%s.json", file->kind);
    FILE *out = open_file(folder, name);
    bool good = out && write_json_schema(out, file);
    return out && fclose(out) == 0 && good;
}

int main(int argc, char **argv) {
    if (argc != 2) {
        fprintf(stderr, "usage: gradin_keys FOLDER\n");
        return 2;
    }
    FILE *out = open_file(argv[1], "keys.md");
    if (!out) return 3;
    write_markdown(out);
    bool good = fclose(out) == 0;
    for (int i = 0; schema_files[i]; i++) good &= write_schema(argv[1], schema_files[i]);
    return good ? 0 : 3;
}
