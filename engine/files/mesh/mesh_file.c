/* A model file: STL by mesh_stl.c, OBJ by the Open Asset Import Library (Assimp). It gets the bytes
 * from memory and no other file, whatever the model names: materials and textures hide nothing.
 * Faces of more than three corners are cut into triangles; loose points and lines are left out.
 * Assimp keeps coordinates in single precision: 2 micrometres at 30 m. */
#include "base/arena.h"
#include "files/mesh/mesh.h"

#include <assimp/cfileio.h>
#include <assimp/cimport.h>
#include <assimp/postprocess.h>
#include <assimp/scene.h>
#include <string.h>
#include <strings.h>

/* A binary STL of the most triangles has 250 MB. */
enum { MAX_MESH_BYTES = 256 * 1024 * 1024, MAX_NODE_DEPTH = 64 };

typedef struct source {
    gradin_arena *arena;
    const char *name; /* the one that can be opened */
    char *bytes;
    size_t size;
    bool ran_out; /* of memory */
} source;

typedef struct view {
    struct aiFile file;
    source *from;
    size_t at;
} view;

static view *view_of(struct aiFile *file) {
    return (void *)file->UserData;
}

static size_t read_items(struct aiFile *file, char *out, size_t size, size_t count) {
    view *v = view_of(file);
    size_t left = size > 0 ? (v->from->size - v->at) / size : 0;
    size_t n = count < left ? count : left;
    memcpy(out, v->from->bytes + v->at, n * size);
    v->at += n * size;
    return n;
}

static size_t write_nothing(struct aiFile *file, const char *bytes, size_t size, size_t count) {
    (void)file, (void)bytes, (void)size, (void)count;
    return 0;
}

static size_t tell(struct aiFile *file) {
    return view_of(file)->at;
}

static size_t file_size(struct aiFile *file) {
    return view_of(file)->from->size;
}

static enum aiReturn seek(struct aiFile *file, size_t offset, enum aiOrigin origin) {
    view *v = view_of(file);
    size_t base = origin == aiOrigin_SET ? 0 : origin == aiOrigin_CUR ? v->at : v->from->size;
    if (offset > v->from->size - base) return aiReturn_FAILURE;
    v->at = base + offset;
    return aiReturn_SUCCESS;
}

static void flush_nothing(struct aiFile *file) {
    (void)file;
}

static struct aiFile *open_view(struct aiFileIO *io, const char *name, const char *mode) {
    source *from = (void *)io->UserData;
    if (strcmp(name, from->name) != 0 || mode[0] != 'r') return NULL;
    view *v = gradin_arena_alloc(from->arena, 1, sizeof *v);
    if (!v) from->ran_out = true;
    if (!v) return NULL;
    *v = (view){.from = from,
                .file = {.ReadProc = read_items,
                         .WriteProc = write_nothing,
                         .TellProc = tell,
                         .FileSizeProc = file_size,
                         .SeekProc = seek,
                         .FlushProc = flush_nothing,
                         .UserData = (void *)v}};
    return &v->file;
}

static void close_view(struct aiFileIO *io, struct aiFile *file) {
    (void)io, (void)file; /* the arena owns it */
}

/* Rows of a node's transform into the model's frame. */
typedef struct transform {
    double row[3][4];
} transform;

static transform below(const transform *t, const struct aiMatrix4x4 *m) {
    const double own[4][4] = {{(double)m->a1, (double)m->a2, (double)m->a3, (double)m->a4},
                              {(double)m->b1, (double)m->b2, (double)m->b3, (double)m->b4},
                              {(double)m->c1, (double)m->c2, (double)m->c3, (double)m->c4},
                              {0.0, 0.0, 0.0, 1.0}};
    transform product = {0};
    for (int i = 0; i < 3; i++)
        for (int j = 0; j < 4; j++)
            for (int k = 0; k < 4; k++) product.row[i][j] += t->row[i][k] * own[k][j];
    return product;
}

static double along(const double row[4], const struct aiVector3D *p) {
    return row[0] * (double)p->x + row[1] * (double)p->y + row[2] * (double)p->z + row[3];
}

typedef struct collector {
    const struct aiScene *scene;
    mesh *out;          /* corner NULL while counting */
    int64_t n_triangle; /* counted */
    const char *wrong;  /* NULL while all is well */
} collector;

static void take_face(collector *c, const struct aiMesh *m, const struct aiFace *face,
                      const transform *t) {
    gradin_vec3 *corner = c->out->corner[c->out->n_triangle++];
    for (int i = 0; i < 3; i++) {
        if (face->mIndices[i] >= m->mNumVertices) {
            c->wrong = "has a face with a corner that is not there";
            return;
        }
        const struct aiVector3D *p = &m->mVertices[face->mIndices[i]];
        corner[i] = (gradin_vec3){along(t->row[0], p), along(t->row[1], p), along(t->row[2], p)};
        if (!isfinite(corner[i].x) || !isfinite(corner[i].y) || !isfinite(corner[i].z))
            c->wrong = "has a coordinate that is no finite number";
    }
}

static void take_mesh(collector *c, const struct aiMesh *m, const transform *t) {
    for (unsigned k = 0; k < m->mNumFaces && !c->wrong; k++) {
        if (m->mFaces[k].mNumIndices != 3) continue;
        if (c->out->corner)
            take_face(c, m, &m->mFaces[k], t);
        else
            c->n_triangle++;
    }
}

static void take_node(collector *c, const struct aiNode *at, const transform *above, int depth) {
    transform here = below(above, &at->mTransformation);
    if (depth > MAX_NODE_DEPTH) c->wrong = "nests its parts too deeply";
    for (unsigned k = 0; k < at->mNumMeshes && !c->wrong; k++)
        if (at->mMeshes[k] < c->scene->mNumMeshes)
            take_mesh(c, c->scene->mMeshes[at->mMeshes[k]], &here);
    for (unsigned k = 0; k < at->mNumChildren && !c->wrong; k++)
        take_node(c, at->mChildren[k], &here, depth + 1);
}

bool mesh_take_scene(reader *r, const node *at, const char *path, const struct aiScene *scene,
                     mesh *out) {
    static const transform none = {{{1.0}, {0.0, 1.0}, {0.0, 0.0, 1.0}}};
    collector c = {.scene = scene, .out = out};
    *out = (mesh){0};
    if (scene->mRootNode) take_node(&c, scene->mRootNode, &none, 0);
    if (!c.wrong && !mesh_check_count(r, at, path, c.n_triangle)) return false;
    if (!c.wrong) {
        out->corner = alloc(&r->c, (int)c.n_triangle, sizeof *out->corner);
        if (!out->corner) return false;
        take_node(&c, scene->mRootNode, &none, 0);
    }
    if (c.wrong) complain(r, at, "%s %s", path, c.wrong);
    r->n_triangle += out->n_triangle;
    return !c.wrong;
}

/* The name under which Assimp finds the bytes: its ending tells the format. NULL: none of ours. */
static const char *inner_name(const char *path) {
    static const char *const name[] = {"model.obj", "model.stl"};
    const char *dot = strrchr(path, '.');
    for (size_t i = 0; dot && i < sizeof name / sizeof name[0]; i++)
        if (strcasecmp(dot, strchr(name[i], '.')) == 0) return name[i];
    return NULL;
}

static bool has_its_corners(const struct aiMesh *m) {
    for (unsigned k = 0; k < m->mNumFaces; k++)
        for (unsigned i = 0; i < m->mFaces[k].mNumIndices; i++)
            if (m->mFaces[k].mIndices[i] >= m->mNumVertices) return false;
    return true;
}

/* Faces are cut only once they are known to be whole: Assimp itself does not ask. */
static const struct aiScene *import_scene(source *from) {
    struct aiFileIO io = {open_view, close_view, (void *)from};
    const struct aiScene *scene = aiImportFileEx(from->name, 0, &io);
    for (unsigned k = 0; scene && k < scene->mNumMeshes; k++) {
        if (has_its_corners(scene->mMeshes[k])) continue;
        aiReleaseImport(scene);
        return NULL;
    }
    return scene ? aiApplyPostProcessing(scene, aiProcess_Triangulate) : NULL;
}

static bool import(reader *r, const node *at, const char *path, source *from, mesh *out) {
    const struct aiScene *scene = import_scene(from);
    bool good = false;
    if (from->ran_out)
        note_failure(&r->c, NULL);
    else if (!scene)
        complain(r, at, "%s cannot be read as a model of triangles (obj)", path);
    else
        good = mesh_take_scene(r, at, path, scene, out);
    aiReleaseImport(scene);
    return good;
}

static bool take_bytes(reader *r, const node *at, const char *path, source *from, mesh *out) {
    if (from->size == 0) {
        complain(r, at, "%s is empty", path);
        return false;
    }
    reader_digest(r, from->bytes, from->size);
    if (!arena_note_input(r->c.arena, path, from->bytes, from->size))
        return note_failure(&r->c, NULL) != NULL;
    if (strcmp(from->name, "model.stl") == 0)
        return mesh_take_stl(r, at, path, from->bytes, from->size, out);
    return mesh_clean_obj(r, path, from->bytes, from->size) && import(r, at, path, from, out);
}

bool mesh_read_file(reader *r, const node *at, const char *path, mesh *out) {
    source from = {.arena = gradin_arena_create(), .name = inner_name(path)};
    gradin_error reason = {0};
    bool good = false;
    if (!note_failure(&r->c, from.arena)) return false;
    gradin_status status = from.name ? gradin_read_bytes(from.arena, path, MAX_MESH_BYTES,
                                                         &from.bytes, &from.size, &reason)
                                     : GRADIN_BAD_USE;
    if (!from.name)
        complain(r, at, "is '%s'; an .obj or .stl file is needed", at->text);
    else if (was_read(r, at, path, status, &reason))
        good = take_bytes(r, at, path, &from, out);
    gradin_arena_destroy(from.arena);
    return good;
}
