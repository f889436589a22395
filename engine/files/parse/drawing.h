/* files/parse/drawing.h: the inserts of a drawing (DXF, ASCII) as the rows of a table. */
#ifndef GRADIN_FILES_DRAWING_H
#define GRADIN_FILES_DRAWING_H

#include "files/parse/cells.h"

enum { DRAWING_NO_UNIT = -1, DRAWING_OTHER_UNIT = -2 };

/* Columns of which the rows are made; an insert that has every one of the first n_needed is a
 * seat. */
typedef struct drawing_use {
    const char *const *name; /* [n] */
    int n, n_needed;
} drawing_use;

/* Opens the drawing that `at` names. A row per insert that is a seat, with the columns used: x, y,
 * z, turn (degrees against the clock), faces_up and faces_down (bearing of a block that faces so at
 * no turn), part (the name of its block), layer, and the tags of attributes. When one is missing
 * there are no rows, but every name. An insert of a part of which others are seats is complained
 * of. *unit gets 0 m, 1 cm, 2 mm, 3 ft, 4 in as the header says. False after a complaint. */
bool drawing_open(reader *r, const node *at, const char *path, const drawing_use *use,
                  cell_file *out, int *unit);
/* A column that holds numbers of the drawing itself, which have a decimal point. */
bool drawing_measures(const char *column);
bool is_drawing(const char *path);

#endif
