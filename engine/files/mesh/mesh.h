/* files/mesh/mesh.h: solids whose shape is a model file of triangles. */
#ifndef GRADIN_FILES_MESH_H
#define GRADIN_FILES_MESH_H

#include "files/stated/venue.h"

struct aiScene;

/* Triangles as the file has them: in its own unit and axes. */
typedef struct mesh {
    gradin_vec3 (*corner)[3]; /* [n_triangle] */
    int n_triangle;
} mesh;

/* Reads the model file at `path`, which `at` names. False after a complaint. */
bool mesh_read_file(reader *r, const node *at, const char *path, mesh *out);
/* scan.c: false after a complaint: none, or more than a layout may have. */
bool mesh_check_count(reader *r, const node *at, const char *path, int64_t n);
/* mesh_text.c: whether the numbers of an OBJ file are what they seem, before the library that takes
 * what it can reads them; what has nothing to do with corners and faces is made empty. False after
 * a complaint that names the line. */
bool mesh_clean_obj(reader *r, const char *path, char *bytes, size_t size);
/* mesh_stl.c: an STL file. False after a complaint. */
bool mesh_take_stl(reader *r, const node *at, const char *path, const char *bytes, size_t size,
                   mesh *out);
/* All triangles of an imported scene through the transforms of their nodes. */
bool mesh_take_scene(reader *r, const node *at, const char *path, const struct aiScene *scene,
                     mesh *out);

/* A solid of kind mesh: reads its file and puts it in its place. */
void fill_mesh_solid(reader *r, const stated_solid *s, gradin_solid *solid);

#endif
