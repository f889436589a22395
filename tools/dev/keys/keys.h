/* tools/dev/keys: writes the key reference and the JSON Schemas of the input files from the tables
 * that read them. A program for developers; the results are kept in reference/. */
#ifndef GRADIN_KEYS_H
#define GRADIN_KEYS_H

#include "files/schema/schema.h"

#include <stdio.h>

enum { MOST_TABLES = 256 };

void write_markdown(FILE *out);
/* False when out of memory. */
bool write_json_schema(FILE *out, const schema_file *file);

/* Tables that root names, itself first, each once: those with forms before their forms. The count;
 * at most `most` are kept. */
int list_tables(const schema_table *root, const schema_table **found, int n, int most);
/* Does this table or one below it hold a length? */
bool has_length(const schema_table *table);
/* A number with the digits it needs. */
const char *plain_number(char out[32], double value);

#endif
