/* files/schema/read.h: maps of a file into structs, as a table says. Complaints come in the order
 * of the table, each where its value stands; everything that is no key of the table is one, with
 * the nearest known key as a suggestion. */
#ifndef GRADIN_FILES_SCHEMA_READ_H
#define GRADIN_FILES_SCHEMA_READ_H

#include "files/schema/schema.h"

/* Fills *item, whose type is the table's. Members without a key in the map get their defaults.
 * False after any complaint. A member `at` of a struct below takes its map, or NULL where
 * something in that map itself was complained of. */
#define SCHEMA_READ(r, map, table, item) schema_read(r, map, table, item, sizeof *(item))
bool schema_read(reader *r, const node *map, const schema_table *table, void *item, size_t size);

/* Reads the file's head, then all of it. */
#define SCHEMA_READ_FILE(r, path, file, item) schema_read_file(r, path, file, item, sizeof *(item))
const node *schema_read_file(reader *r, const char *path, const schema_file *file, void *item,
                             size_t size);

/* `format` and `units` at the root of each file; sets r->unit_m. False when the format is not
 * this. */
bool schema_read_head(reader *r, const node *root, const char *format);

#endif
