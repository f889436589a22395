/* files/mesh/scan.h: the text of a model file, line by line and word by word. */
#ifndef GRADIN_FILES_MESH_SCAN_H
#define GRADIN_FILES_MESH_SCAN_H

#include "files/mesh/mesh.h"

typedef struct scan {
    reader *r;
    const char *path, *at, *end;
    int line, n_part;
    double many; /* corners squared, over the faces of five and more */
} scan;

/* Complains of the line; false. */
bool scan_refuse(const scan *s, const char *text);
/* The next word from *at on; its length, 0 at the end. */
size_t scan_word(const char **at, const char *end, const char **word);
bool scan_is(const char *word, size_t length, const char *expected);
/* Three coordinates, plain decimal numbers; false after a complaint. */
bool scan_corner(const scan *s, const char *at, const char *end, gradin_vec3 *corner);
/* The next line; false at the end. */
bool scan_line(scan *s, const char **at, const char **end);

#endif
