/* files/parse/drawing.h: the inserts of a drawing (DXF, ASCII) as the rows of a table. */
#ifndef GRADIN_FILES_DRAWING_H
#define GRADIN_FILES_DRAWING_H

#include "files/parse/cells.h"

enum { DRAWING_NO_UNIT = -1, DRAWING_OTHER_UNIT = -2 };

/* Opens the drawing that `at` names. A row per insert that has every attribute of needed[n_needed];
 * columns x, y, z, turn (degrees against the clock), faces_up and faces_down (bearing of a block
 * that faces so at no turn), part (the name of its block), layer, then every tag. An insert of a
 * part of which others have them is complained of. *unit gets 0 m, 1 cm, 2 mm, 3 ft, 4 in as the
 * header says. False after a complaint. */
bool drawing_open(reader *r, const node *at, const char *path, const char *const *needed,
                  int n_needed, cell_file *out, int *unit);
bool is_drawing(const char *path);

#endif
