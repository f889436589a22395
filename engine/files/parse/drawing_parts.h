/* files/parse/drawing_parts.h: what was read of a drawing, before it becomes rows. */
#ifndef GRADIN_FILES_DRAWING_PARTS_H
#define GRADIN_FILES_DRAWING_PARTS_H

#include "files/parse/drawing.h"

/* Columns that a drawing has itself, in the order of their names. */
enum { OWN_X, OWN_Y, OWN_Z, OWN_TURN, OWN_UP, OWN_DOWN, OWN_PART, OWN_LAYER, N_OWN };

typedef struct attribute {
    const char *tag, *value;
    int line;
} attribute;

typedef struct insert {
    const char *own[N_OWN];
    int line, first, n; /* attributes first .. first+n-1 */
    bool is_flipped, is_copied, is_below, is_on_sheet;
} insert;

typedef struct drawing {
    reader *r;
    const char *path;
    insert *insert;       /* [n_insert] */
    attribute *attribute; /* [n_attribute] */
    int n_insert, n_attribute, unit;
    bool is_old_code; /* letters beyond ASCII are in a code that is not stated */
} drawing;

/* The seats among the inserts as rows; false after a complaint. */
bool drawing_rows(drawing *d, const drawing_use *use, cell_file *out);

#endif
