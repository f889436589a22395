/* files/schema/write.h: structs as YAML text, by the tables that read it. A key at its default is
 * left out; a number has the fewest decimals that read back as the same double. */
#ifndef GRADIN_FILES_SCHEMA_WRITE_H
#define GRADIN_FILES_SCHEMA_WRITE_H

#include "files/schema/schema.h"

/* Text that grows in an arena. */
typedef struct schema_text {
    gradin_arena *arena;
    double unit_m; /* metres in one unit of length of the text */
    const char *unit_name;
    int decimals; /* most that a number gets; below 0: as many as it takes */
    char *bytes;  /* ends with NUL once anything was put */
    size_t size, capacity;
    bool has_failed;     /* out of memory */
    const char *missing; /* key whose value is not there or is no finite number; NULL: none */
} schema_text;

void schema_put(schema_text *out, const char *format, ...) __attribute__((format(printf, 2, 3)));
/* A number as it stands in the file. */
void schema_put_number(schema_text *out, const schema_key *key, double value);
/* What the number must read as in a file, so that it becomes this value again. */
double schema_written(schema_unit unit, double unit_m, double value);
/* Plain where every YAML reader takes it for text, quoted otherwise. */
void schema_put_text(schema_text *out, const char *text);

/* Does every key of the table stand at its default, so that no line would be written? */
bool schema_says_nothing(const schema_table *table, const void *item);

/* All keys of the table, indented. */
#define SCHEMA_WRITE(out, table, item, indent)                                                     \
    schema_write(out, table, item, sizeof *(item), indent)
void schema_write(schema_text *out, const schema_table *table, const void *item, size_t size,
                  int indent);
/* One item of a list, "- ..." on lines of its own. */
#define SCHEMA_WRITE_ITEM(out, table, item, indent)                                                \
    schema_write_item(out, table, item, sizeof *(item), indent)
void schema_write_item(schema_text *out, const schema_table *table, const void *item, size_t size,
                       int indent);

#endif
