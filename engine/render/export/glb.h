/* render/export/glb.h: a scene of named parts on its way into a file. */
#ifndef GRADIN_RENDER_GLB_H
#define GRADIN_RENDER_GLB_H

#include "render/export/solids.h"
#include "render/maps/quantity.h"

typedef enum glb_group {
    GLB_ROOM,
    GLB_LIFTS,
    GLB_TOWERS,
    GLB_STRUCTURE,
    GLB_ARCH,
    GLB_RAILS,
    GLB_GLAZING,
    GLB_DOORS,
    GLB_FOCUS,
    GLB_SEATS,
    N_GLB_GROUP
} glb_group;

/* Triangles first .. first+n-1 of the scene's vertices. */
typedef struct glb_form {
    int first, n;
} glb_form;

typedef struct glb_node {
    const char *name;
    const char *extras; /* members of a JSON object; NULL without */
    glb_group group;
    int form, paint;
    bool is_placed; /* turned by its bearing and moved; otherwise where its corners are */
    gradin_vec3 at_m;
    double facing_deg;
} glb_node;

typedef struct glb_paint {
    colour ink;
    double alpha;
    bool is_one_sided;
} glb_paint;

typedef struct glb_scene {
    gradin_arena *arena;
    solids all;
    glb_form *form;   /* [n_form] */
    glb_node *node;   /* [n_node] */
    glb_paint *paint; /* [n_paint] each once */
    int n_form, n_node, n_paint, form_capacity, node_capacity, paint_capacity;
    bool failed;
} glb_scene;

/* What was added to scene->all since vertex `first` as a form; -1 when nothing was. */
int glb_add_form(glb_scene *scene, int first);
int glb_find_paint(glb_scene *scene, glb_paint paint);
void glb_add_node(glb_scene *scene, glb_node node);

/* hall.c: all that a model has, and the seats by their figure. */
void glb_add_hall(glb_scene *scene, const quantity *q, const gradin_assessment *assessment);

/* glb_write.c: the file's bytes. */
gradin_status glb_encode(gradin_arena *arena, const glb_scene *scene, const char *extras,
                         unsigned char **bytes, size_t *size, gradin_error *error);
/* Text as a JSON string in the arena; NULL when out of memory. */
const char *glb_quoted(gradin_arena *arena, const char *text);

#endif
