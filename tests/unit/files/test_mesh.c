/* Solids of kind mesh: transforms, the limit of triangles, outlines, memory that runs out. */
#include "base/faults.h"
#include "files/mesh/mesh.h"
#include "files/venue/read.h"

#include <assimp/scene.h>
#include <criterion/criterion.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

typedef struct desk {
    char folder[64], yaml[128], model[128];
    gradin_error error;
    reader r;
    const gradin_solid *solid;
    int n_solid;
} desk;

static void put(const char *path, const char *text) {
    FILE *out = fopen(path, "w");
    cr_assert(out);
    fputs(text, out);
    fclose(out);
}

/* A list of one solid with this model, read after n triangles. */
static desk *open_desk(const char *model) {
    static const char list[] = "- {name: box, kind: mesh, file: a.obj, unit: m}\n";
    desk *d = calloc(1, sizeof *d);
    strcpy(d->folder, "/tmp/gradin-mesh-XXXXXX");
    cr_assert(mkdtemp(d->folder));
    snprintf(d->yaml, sizeof d->yaml, "%s/list.yaml", d->folder);
    snprintf(d->model, sizeof d->model, "%s/a.obj", d->folder);
    put(d->yaml, list);
    put(d->model, model);
    return d;
}

static void read_list(desk *d, const node *list) {
    stated_solid stated[8] = {{0}};
    int n = list->n_child;
    cr_assert_leq(n, 8);
    for (int i = 0; i < n; i++) SCHEMA_READ(&d->r, list->child[i], &solid_table, &stated[i]);
    fill_solids(&d->r, stated, n, &d->solid, &d->n_solid);
}

static void read_desk(desk *d, int n_before) {
    gradin_error_clear(&d->error);
    if (d->r.c.arena) gradin_arena_destroy(d->r.c.arena);
    d->r = (reader){.c = {.arena = gradin_arena_create(), .error = &d->error},
                    .unit_m = 1.0,
                    .n_triangle = n_before};
    cr_assert(d->r.c.arena);
    const node *list = node_read(&d->r, d->yaml);
    if (list) read_list(d, list);
}

static void close_desk(desk *d) {
    gradin_arena_destroy(d->r.c.arena);
    unlink(d->yaml);
    unlink(d->model);
    rmdir(d->folder);
    free(d);
}

static const char box[] = "v 0 0 0\nv 2 0 0\nv 2 3 0\nv 0 3 0\nv 0 0 4\nv 2 0 4\nv 2 3 4\nv 0 3 4\n"
                          "f 1 2 3 4\nf 5 6 7 8\nf 1 2 6 5\nf 2 3 7 6\nf 3 4 8 7\nf 4 1 5 8\n";

Test(mesh, the_limit_counts_all_meshes) {
    desk *d = open_desk(box);
    read_desk(d, GRADIN_MAX_TRIANGLE - 12);
    cr_expect(complaints_status(&d->r.c) == GRADIN_OK);
    cr_expect(d->r.n_triangle == GRADIN_MAX_TRIANGLE);
    read_desk(d, GRADIN_MAX_TRIANGLE - 11);
    cr_expect(complaints_status(&d->r.c) == GRADIN_BAD_INPUT);
    cr_expect(strstr(d->error.diagnostic[0].text,
                     "a.obj brings the layout to 5000001 triangles; at most 5000000 are allowed"));
    close_desk(d);
}

Test(mesh, outline_and_heights_of_a_box) {
    desk *d = open_desk(box);
    read_desk(d, 0);
    cr_assert(d->n_solid == 1 && complaints_status(&d->r.c) == GRADIN_OK);
    cr_expect(d->solid->n_triangle == 12 && d->solid->polygon.n_corner == 4);
    cr_expect_float_eq(gradin_polygon_area_m2(d->solid->polygon), 6.0, 1e-12);
    cr_expect(d->solid->bottom_m == 0.0 && d->solid->top_m == 4.0);
    close_desk(d);
}

/* A cloth that hangs askew, without thickness, and one that lies. */
Test(mesh, sheets_get_a_thickness) {
    desk *d = open_desk("v 1 1 0\nv 4 5 0\nv 4 5 3\nv 1 1 3\nf 1 2 3 4\n");
    read_desk(d, 0);
    cr_assert(d->n_solid == 1 && complaints_status(&d->r.c) == GRADIN_OK);
    cr_expect(gradin_polygon_is_simple(d->solid->polygon));
    cr_expect_float_eq(gradin_polygon_area_m2(d->solid->polygon), 5.0 * 0.01, 1e-9);
    cr_expect(gradin_polygon_contains(d->solid->polygon, (gradin_vec2){2.5, 3.0}));
    put(d->model, "v 0 0 1\nv 2 0 1\nv 0 2 1\nf 1 2 3\nf 1 1 2\n");
    read_desk(d, 0);
    cr_assert(complaints_status(&d->r.c) == GRADIN_OK);
    cr_expect(d->solid->n_triangle == 1, "the face without an area is dropped");
    cr_expect(d->solid->bottom_m == 1.0);
    cr_expect_float_eq(d->solid->top_m, 1.01, 1e-12);
    close_desk(d);
}

/* A fan of many corners on a circle: the hull has all of them, and the area of the polygon. */
Test(mesh, outline_of_many_corners) {
    enum { N = 9000 };
    char *text = malloc(64 * N * 2), *at = text;
    at += sprintf(at, "v 0 0 2\n");
    for (int i = 0; i < N; i++)
        at += sprintf(at, "v %.9f %.9f 0\n", 20.0 * cos(2.0 * GRADIN_PI * i / N),
                      20.0 * sin(2.0 * GRADIN_PI * i / N));
    for (int i = 0; i < N; i++) at += sprintf(at, "f 1 %d %d\n", i + 2, (i + 1) % N + 2);
    desk *d = open_desk(text);
    free(text);
    read_desk(d, 0);
    cr_assert(d->n_solid == 1 && complaints_status(&d->r.c) == GRADIN_OK);
    cr_expect(d->solid->n_triangle == N && d->solid->polygon.n_corner > N / 2);
    cr_expect_float_eq(gradin_polygon_area_m2(d->solid->polygon), GRADIN_PI * 400.0, 0.01);
    close_desk(d);
}

/* Two nodes, the lower one moved by 10 in x within an upper one that swaps x and y and doubles. */
Test(mesh, transforms_of_nodes_multiply) {
    struct aiVector3D vertex[3] = {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}};
    unsigned index[3] = {0, 1, 2}, which[1] = {0};
    struct aiFace face = {3, index};
    struct aiMesh shape = {.mNumVertices = 3, .mVertices = vertex, .mNumFaces = 1, .mFaces = &face};
    struct aiMesh *shapes[1] = {&shape};
    struct aiNode lower = {.mTransformation = {1, 0, 0, 10, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1},
                           .mNumMeshes = 1,
                           .mMeshes = which};
    struct aiNode *children[1] = {&lower};
    struct aiNode upper = {.mTransformation = {0, 2, 0, 0, 2, 0, 0, 0, 0, 0, 2, 0, 0, 0, 0, 1},
                           .mNumChildren = 1,
                           .mChildren = children};
    struct aiScene scene = {.mRootNode = &upper, .mNumMeshes = 1, .mMeshes = shapes};
    reader r = {.c = {.arena = gradin_arena_create()}};
    mesh m;
    cr_assert(mesh_take_scene(&r, NULL, "a.obj", &scene, &m) && m.n_triangle == 1);
    const gradin_vec3 wanted[3] = {{0, 22, 0}, {2, 20, 0}, {0, 20, 2}};
    cr_expect_arr_eq(m.corner[0], wanted, sizeof wanted);
    index[2] = 3;
    cr_expect(!mesh_take_scene(&r, NULL, "a.obj", &scene, &m), "a corner that is not there");
    gradin_arena_destroy(r.c.arena);
}

Test(mesh, memory_that_runs_out_is_told) {
    desk *d = open_desk(box);
    int n_failed = 0;
    for (long n = 2; n < 1000; n++) {
        gradin_alloc_fail_at(n); /* the first is the arena of the desk */
        read_desk(d, 0);
        gradin_alloc_fail_at(0);
        if (complaints_status(&d->r.c) == GRADIN_OK) break;
        cr_expect(complaints_status(&d->r.c) == GRADIN_NO_MEMORY, "allocation %ld: %s", n,
                  d->error.diagnostic[0].text);
        n_failed++;
    }
    cr_expect(n_failed > 20 && complaints_status(&d->r.c) == GRADIN_OK);
    close_desk(d);
}
