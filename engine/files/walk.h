/* files/walk.h: typed fields of a YAML map. One table a map says which keys it may have;
 * everything else is an error at its place, with the nearest known key as a suggestion. */
#ifndef GRADIN_FILES_WALK_H
#define GRADIN_FILES_WALK_H

#include "files/node.h"
#include "gradin/geometry.h"

typedef enum field_kind {
    FIELD_LENGTH,  /* double in metres; limits in metres */
    FIELD_NUMBER,  /* double as written */
    FIELD_INTEGER, /* int */
    FIELD_TEXT,    /* const char* */
    FIELD_FLAG,    /* bool: yes, no, true, false */
    FIELD_CHOICE,  /* int: index into .choice */
    FIELD_POINT,   /* gradin_vec2 in metres */
    FIELD_POLYGON, /* gradin_polygon in metres, simple */
    FIELD_RANGE,   /* double[2] in metres, ascending */
    FIELD_LIST,    /* node* */
    FIELD_MAP,     /* node* */
    FIELD_NAME,    /* node* of a single value, to be looked up */
    FIELD_ANY      /* node* */
} field_kind;

typedef struct field {
    const char *key;
    field_kind kind;
    bool is_required;
    double least, most;        /* both 0: no limits */
    void *out;                 /* keeps its value when the key is absent */
    const char *const *choice; /* NULL-ended, FIELD_CHOICE */
} field;

/* Reads all fields of the map and complains of unknown and missing keys. False after any complaint.
 */
bool read_fields(reader *r, const node *map, const field *fields, int n_field);
#define READ(r, map, ...)                                                                          \
    read_fields(r, map, (const field[]){__VA_ARGS__},                                              \
                (int)(sizeof((const field[]){__VA_ARGS__}) / sizeof(field)))

/* Child by key, or NULL. */
const node *map_get(const node *map, const char *key);

/* A list of n numbers (n between n_least and n_most; limits as in field) scaled by unit; *n_out may
 * be NULL when n_least == n_most. */
bool read_numbers(reader *r, const node *list, int n_least, int n_most, double least, double most,
                  double unit, double *out, int *n_out);
/* Lists of points [[x, y], ...] in metres, at least n_least. */
bool read_points(reader *r, const node *list, int n_least, gradin_vec2 **point_m, int *n_point);
/* One number of the node with limits. */
bool read_number(reader *r, const node *at, double least, double most, double unit, double *out);

/* `format` and `units` at the root of each file; sets r->unit_m. False when the format is not this.
 */
bool read_head(reader *r, const node *root, const char *format);

/* Complains that a name is unknown, with the nearest of names[n] as a suggestion. */
void complain_unknown(reader *r, const node *at, const char *what, const char *name,
                      const char *const *names, int n_name);

#endif
